#include "tierproof/sums/energy.h"

#include <gtest/gtest.h>

#include "terms_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;

TEST(Energy, RoundsAHalfUp) {
  Nutrients food;
  food.protein = share_of(5, 10);  // 8.5 kJ, 2 kcal
  const Result<Energy> energy = energy_per_100g(food, annex_xiv());
  EXPECT_EQ(energy->kj_text, "9 kJ");
  EXPECT_EQ(energy->kcal_text, "2 kcal");
}

TEST(Energy, CountsErythritolAsNothing) {  // Annex XIV
  Nutrients food;
  food.carbohydrate = 10;
  food.polyols = 10;
  food.erythritol = 10;
  EXPECT_EQ(energy_per_100g(food, annex_xiv())->kj, 0);
  food.erythritol = 0;
  EXPECT_EQ(energy_per_100g(food, annex_xiv())->kj, 100);
}

TEST(Energy, TakesSalatrimsOutOfTheFat) {  // Annex XIV: 25 instead of 37 kJ/g
  Nutrients food;
  food.fat = 10;
  food.salatrims = 4;
  EXPECT_EQ(energy_per_100g(food, annex_xiv())->kj, 6 * 37 + 4 * 25);
  food.organic_acids = 1;
  EXPECT_EQ(energy_per_100g(food, annex_xiv())->kj, 6 * 37 + 4 * 25 + 13);
}

TEST(Energy, RefusesWhatCannotBe) {
  Nutrients food;
  food.carbohydrate = 5;
  food.polyols = 6;
  EXPECT_FALSE(energy_per_100g(food, annex_xiv())) << "a part above its whole";
  Nutrients heavy;
  heavy.fat = 60;
  heavy.protein = 41;
  EXPECT_FALSE(energy_per_100g(heavy, annex_xiv()));
  heavy.protein = 40;
  EXPECT_TRUE(energy_per_100g(heavy, annex_xiv()));
}

TEST(Energy, RefusesAComponentWithoutAFactor) {
  std::vector<EnergyFactorTerm> factors = annex_xiv();
  std::erase_if(factors, [](const EnergyFactorTerm& row) { return row.component == "fat"; });
  Nutrients food;
  food.protein = 5;
  EXPECT_TRUE(energy_per_100g(food, factors)) << "there is no fat in it";
  food.fat = 5;
  EXPECT_FALSE(energy_per_100g(food, factors));
  factors = annex_xiv();
  factors.push_back(factors.front());
  food.carbohydrate = 1;
  EXPECT_FALSE(energy_per_100g(food, factors)) << "two rows for one component";
}

}  // namespace
}  // namespace tierproof
