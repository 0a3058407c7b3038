#include "tierproof/sums/meringue.h"

#include <gtest/gtest.h>

namespace tierproof {
namespace {

MeringueHeat never_hotter_than(double ceiling) {
  MeringueHeat heat;
  heat.ceiling = ceiling;
  return heat;
}

TEST(Reach, SaysThatItCannotOrThatItIsNotShownAndNothingElse) {
  EXPECT_EQ(reach_in_words(never_hotter_than(70.99), 71), "cannot reach");
  EXPECT_EQ(reach_in_words(never_hotter_than(71), 71), "not shown without a reading in the mix") << "at the ceiling it might";
  EXPECT_EQ(reach_in_words(never_hotter_than(95), 71), "not shown without a reading in the mix");
  EXPECT_EQ(reach_in_words(never_hotter_than(30), std::nullopt), "not shown without a reading in the mix");
  EXPECT_EQ(reach_in_words(std::nullopt, 71), "outside the model");
}

// What raises the boiling point more than sucrose does: common practice, no source.
TEST(Pan, KnowsGlucoseInvertSugarAndAcidByTheirNames) {
  EXPECT_EQ(boiled_as_by_name("Glucose syrup 43 DE"), "glucose");
  EXPECT_EQ(boiled_as_by_name("light corn syrup"), "glucose");
  EXPECT_EQ(boiled_as_by_name("INVERT sugar"), "invert sugar");
  EXPECT_EQ(boiled_as_by_name("clear honey"), "invert sugar");
  EXPECT_EQ(boiled_as_by_name("cream of tartar"), "acid");
  EXPECT_EQ(boiled_as_by_name("lemon juice"), "acid");
  EXPECT_EQ(boiled_as_by_name("caster sugar"), "");
  EXPECT_EQ(boiled_as_by_name("water"), "");
}

}  // namespace
}  // namespace tierproof
