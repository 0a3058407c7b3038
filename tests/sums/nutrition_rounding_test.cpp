#include "tierproof/sums/nutrition_rounding.h"

#include <gtest/gtest.h>

#include "quid_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;

std::string eu_fat(const Share& grams) {
  return round_band("fat", grams, eu_bands("fat", 10, 1, share_of(5, 10), share_of(1, 10), "<0.5"))->text;
}

TEST(NutritionRounding, ChangesAtTheEdgesOfItsBands) {  // Commission guidance of December 2012, from memory
  EXPECT_EQ(eu_fat(0), "<0.5 g");
  EXPECT_EQ(eu_fat(share_of(5, 10)), "<0.5 g");
  EXPECT_EQ(eu_fat(share_of(51, 100)), "0.5 g");
  EXPECT_EQ(eu_fat(5), "5.0 g");
  EXPECT_EQ(eu_fat(share_of(994, 100)), "9.9 g");
  EXPECT_EQ(eu_fat(share_of(995, 100)), "10 g") << "as the next band writes it";
  EXPECT_EQ(eu_fat(10), "10 g");
  EXPECT_EQ(eu_fat(share_of(105, 10)), "11 g") << "half up";
  const std::vector<RoundingBandTerm> salt = eu_bands("salt", 1, share_of(1, 10), share_of(125, 10000), share_of(1, 100), "<0.01");
  EXPECT_EQ(round_band("salt", share_of(125, 10000), salt)->text, "<0.01 g");
  EXPECT_EQ(round_band("salt", share_of(126, 10000), salt)->text, "0.01 g");
  EXPECT_EQ(round_band("salt", share_of(995, 1000), salt)->text, "1.0 g");
  EXPECT_EQ(round_band("salt", share_of(1234, 1000), salt)->text, "1.2 g");
}

TEST(NutritionRounding, WritesHalvesOnlyWhereThereIsOne) {  // 21 CFR 101.9(c)
  const auto fat = [](const Share& grams) { return round_band("total fat", grams, us_bands())->text; };
  EXPECT_EQ(fat(share_of(5, 10)), "0.5 g");
  EXPECT_EQ(fat(share_of(124, 100)), "1 g");
  EXPECT_EQ(fat(share_of(125, 100)), "1.5 g") << "half up";
  EXPECT_EQ(fat(share_of(474, 100)), "4.5 g");
  EXPECT_EQ(fat(share_of(475, 100)), "5 g");
  EXPECT_EQ(round_band("calories", 50, us_bands())->text, "50 cal");
  EXPECT_EQ(round_band("calories", share_of(501, 10), us_bands())->value, 50);
}

TEST(NutritionRounding, NamesTheRowThatItGoesBy) {
  EXPECT_EQ(round_band("sodium", 142, us_bands())->cited.clause, "21 CFR 101.9(c)");
  EXPECT_EQ(round_band("cholesterol", 3, us_bands())->value, 3) << "exact where words stand for it";
}

TEST(NutritionRounding, RefusesWhatNoBandHolds) {
  EXPECT_FALSE(round_band("fat", -1, us_bands()));
  EXPECT_FALSE(round_band("fibre", 1, us_bands()));
  std::vector<RoundingBandTerm> twice = us_bands();
  twice.push_back(twice.front());
  EXPECT_FALSE(round_band("calories", 1, twice));
  EXPECT_TRUE(round_band("calories", 5, twice));
}

}  // namespace
}  // namespace tierproof
