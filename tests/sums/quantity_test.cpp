#include "tierproof/sums/quantity.h"

#include <gtest/gtest.h>

#include "quid_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;

TEST(Quantities, TurnIntoWeightsPerHundredGramsAboveTheWhole) {
  const std::vector<UsedAmount> one = {{"strawberries", 1'100'000}};
  const Result<ShownQuantities> shown = show_quantities(one, 1'500'000, 1'000'000, true, quid());
  ASSERT_TRUE(shown);
  EXPECT_TRUE(shown->per_100g);
  EXPECT_EQ(shown->shown[0].text, "110 g per 100 g");
}

TEST(Quantities, TurnIntoWeightsWhenOnlyTheirTotalPassesTheWhole) {
  const std::vector<UsedAmount> two = {{"apples", 600'000}, {"pears", 500'000}};
  const Result<ShownQuantities> shown = show_quantities(two, 1'500'000, 1'000'000, true, quid());
  ASSERT_TRUE(shown);
  EXPECT_EQ(shown->shown[0].text, "60 g per 100 g");
  EXPECT_EQ(shown->shown[1].text, "50 g per 100 g");
  const std::vector<UsedAmount> whole = {{"apples", 600'000}, {"pears", 400'000}};
  EXPECT_FALSE(show_quantities(whole, 1'500'000, 1'000'000, true, quid())->per_100g) << "exactly 100 % is a percentage";
}

TEST(Quantities, KeepOneDecimalUnderFive) {
  const auto text = [](std::int64_t mg) {
    const std::vector<UsedAmount> used = {{"cocoa", mg}};
    return show_quantities(used, 1'000'000, 1'000'000, false, quid())->shown[0].text;
  };
  EXPECT_EQ(text(49'400), "4.9 %");
  EXPECT_EQ(text(49'500), "5 %") << "what rounds up to five is written whole";
  EXPECT_EQ(text(50'000), "5 %");
  EXPECT_EQ(text(54'999), "5 %");
  EXPECT_EQ(text(55'000), "6 %") << "half up";
}

TEST(Quantities, GoByTheLimitsOfTheirRow) {
  NamedQuantityTerm term = quid();
  term.per_100g_above = share_of(1, 2);
  term.one_decimal_below = share_of(10, 100);
  const auto text = [&](std::int64_t mg) {
    const std::vector<UsedAmount> used = {{"cocoa", mg}};
    return show_quantities(used, 1'000'000, 1'000'000, false, term)->shown[0].text;
  };
  EXPECT_EQ(text(500'000), "50 %");
  EXPECT_EQ(text(500'001), "50 g per 100 g");
  EXPECT_EQ(text(94'000), "9.4 %");
}

TEST(Quantities, RefuseWhatCannotBe) {
  const std::vector<UsedAmount> used = {{"cocoa", -1}};
  const Result<ShownQuantities> shown = show_quantities(used, 10, 20, true, quid());
  ASSERT_FALSE(shown);
  EXPECT_EQ(shown.error().size(), 2U);
  EXPECT_FALSE(show_quantities({}, 0, 0, true, quid()));
}

TEST(NamedIngredient, MisleadsWhenNothingBringsIt) {
  const NameAdvice advice = judge_named_ingredient({"lemon", {}, {}});
  EXPECT_FALSE(advice.quantity_needed);
  EXPECT_NE(advice.caution.find("misleads"), std::string::npos);
}

}  // namespace
}  // namespace tierproof
