#include "tierproof/sums/quantity.h"

#include <gtest/gtest.h>

namespace tierproof {
namespace {

TEST(Quantities, TurnIntoWeightsPerHundredGramsAboveTheWhole) {
  const std::vector<UsedAmount> one = {{"strawberries", 1'100'000}};
  const Result<ShownQuantities> shown = show_quantities(one, 1'500'000, 1'000'000, true);
  ASSERT_TRUE(shown);
  EXPECT_TRUE(shown->per_100g);
  EXPECT_EQ(shown->shown[0].text, "110 g per 100 g");
}

TEST(Quantities, TurnIntoWeightsWhenOnlyTheirTotalPassesTheWhole) {
  const std::vector<UsedAmount> two = {{"apples", 600'000}, {"pears", 500'000}};
  const Result<ShownQuantities> shown = show_quantities(two, 1'500'000, 1'000'000, true);
  ASSERT_TRUE(shown);
  EXPECT_EQ(shown->shown[0].text, "60 g per 100 g");
  EXPECT_EQ(shown->shown[1].text, "50 g per 100 g");
  const std::vector<UsedAmount> whole = {{"apples", 600'000}, {"pears", 400'000}};
  EXPECT_FALSE(show_quantities(whole, 1'500'000, 1'000'000, true)->per_100g) << "exactly 100 % is a percentage";
}

TEST(Quantities, KeepOneDecimalUnderFive) {
  const auto text = [](std::int64_t mg) {
    const std::vector<UsedAmount> used = {{"cocoa", mg}};
    return show_quantities(used, 1'000'000, 1'000'000, false)->shown[0].text;
  };
  EXPECT_EQ(text(49'400), "4.9 %");
  EXPECT_EQ(text(50'000), "5 %");
  EXPECT_EQ(text(54'999), "5 %");
  EXPECT_EQ(text(55'000), "6 %") << "half up";
}

TEST(Quantities, RefuseWhatCannotBe) {
  const std::vector<UsedAmount> used = {{"cocoa", -1}};
  const Result<ShownQuantities> shown = show_quantities(used, 10, 20, true);
  ASSERT_FALSE(shown);
  EXPECT_EQ(shown.error().size(), 2U);
  EXPECT_FALSE(show_quantities({}, 0, 0, true));
}

TEST(NamedIngredient, MisleadsWhenNothingBringsIt) {
  const NameAdvice advice = judge_named_ingredient({"lemon", {}, {}});
  EXPECT_FALSE(advice.quantity_needed);
  EXPECT_NE(advice.caution.find("misleads"), std::string::npos);
}

}  // namespace
}  // namespace tierproof
