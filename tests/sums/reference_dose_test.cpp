#include "tierproof/sums/reference_dose.h"

#include <gtest/gtest.h>

#include "terms_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;

TEST(Precaution, IsIndicatedExactlyAtTheActionLevel) {
  // 3 mg in a slice of 125 g are 24 mg/kg; 48 mg of protein in 2 kg are 24 mg/kg
  const auto judged = [](std::int64_t mg) {
    return judge_precaution({"nuts:hazelnut", "hazelnut", mg, 1, false}, grams(2000), grams(125), reference_doses());
  };
  EXPECT_TRUE(judged(48)->indicated);
  EXPECT_FALSE(judged(47)->indicated);
}

TEST(Precaution, IsIndicatedForPiecesWhateverTheirAmount) {
  EXPECT_TRUE(
      judge_precaution({"nuts:hazelnut", "chopped hazelnuts", 1, share_of(14, 100), true}, grams(2000), grams(125), reference_doses())
          ->indicated);
}

TEST(Precaution, IsIndicatedWhereNoDoseIsSet) {
  const Result<Precaution> oats =
      judge_precaution({"gluten:oats", "oats", 1, share_of(1, 10), false}, grams(2000), grams(125), reference_doses());
  EXPECT_TRUE(oats->indicated);
  EXPECT_FALSE(oats->action_level_mg_per_kg);
  EXPECT_TRUE(oats->message.ends_with("advice, not law"));
  EXPECT_TRUE(judge_precaution({"gluten:rye", "rye", 1, share_of(1, 10), false}, grams(2000), grams(125), reference_doses())->indicated);
}

TEST(Precaution, NeverSaysThatSomethingIsAbsent) {
  const Result<Precaution> below =
      judge_precaution({"nuts:hazelnut", "hazelnut", 0, share_of(14, 100), false}, grams(2000), grams(125), reference_doses());
  EXPECT_FALSE(below->indicated);
  EXPECT_NE(below->message.find("proves nothing absent"), std::string::npos);
}

TEST(Precaution, RefusesWhatCannotBe) {
  EXPECT_EQ(judge_precaution({"nuts:hazelnut", "hazelnut", -1, 2, false}, Mass{}, Mass{}, reference_doses()).error().size(), 4U);
  EXPECT_FALSE(judge_precaution({"nuts:hazelnut", "hazelnut", 1, 1, false}, grams(100), grams(125), reference_doses()));
}

}  // namespace
}  // namespace tierproof
