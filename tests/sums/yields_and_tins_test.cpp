#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <stdexcept>
#include <vector>

#include "tierproof/sums/tins.h"
#include "tierproof/sums/yields.h"

namespace tierproof {
namespace {

// A sponge of as much egg, flour, sugar and butter holds 26.5 % water: it can lose that much and no more.
TEST(DryMatter, RefusesWhatCannotBe) {
  EXPECT_TRUE(drying(800, 0.265, 588.0));
  EXPECT_NEAR(drying(800, 0.265, 588.0)->water, 0, 1e-9) << "bone dry";
  EXPECT_FALSE(drying(800, 0.265, 587.9)) << "lighter than its dry matter";
  EXPECT_TRUE(drying(800, 0.265, 800)) << "nothing lost";
  EXPECT_FALSE(drying(800, 0.265, 800.1)) << "heavier than what went in";
  EXPECT_THROW(drying(0, 0.2, 1), std::invalid_argument);
  EXPECT_THROW(drying(1, 1.1, 1), std::invalid_argument);
  EXPECT_THROW(drying(1, 0.2, 0), std::invalid_argument);
}

RC_GTEST_PROP(DryMatter, IsTheSameBeforeAndAfter, ()) {
  const double in = *rc::gen::inRange(1, 100000) / 10.0;
  const double water = *rc::gen::inRange(0, 1000) / 1000.0;
  const double left = *rc::gen::inRange(0, 1000) / 1000.0 * water;
  const double out = mass_at_water(in, water, left);
  const auto dried = drying(in, water, out * (1 - 1e-12));
  RC_PRE(dried.has_value());
  RC_ASSERT(std::abs(dried->water - left) < 1e-6);
  RC_ASSERT(std::abs(in * (1 - water) - out * (1 - left)) < 1e-6 * in);
}

TEST(DryMatter, TakesUpWaterWhereMoreIsAskedThanThereIs) {
  EXPECT_GT(mass_at_water(800, 0.265, 0.29), 800) << "such a sponge cannot finish at 29 % of water";
  EXPECT_THROW(mass_at_water(800, 0.265, 1), std::invalid_argument);
}

TEST(LossSpread, TellsLeastMiddleAndMost) {
  EXPECT_FALSE(loss_spread({}));
  const std::vector<double> three{0.12, 0.08, 0.09};
  EXPECT_EQ(loss_spread(three)->weighings, 3);
  EXPECT_EQ(loss_spread(three)->least, 0.08);
  EXPECT_EQ(loss_spread(three)->middle, 0.09);
  EXPECT_EQ(loss_spread(three)->most, 0.12);
  const std::vector<double> four{0.12, 0.08, 0.09, 0.10};
  EXPECT_NEAR(loss_spread(four)->middle, 0.095, 1e-12);
}

// Volumes of a 6 inch and an 8 inch tin of 3 inches, by geometry: 1390 and 2471 ml.
TEST(Tins, AreScaledByVolume) {
  EXPECT_NEAR(volume_of({true, 6, 3}), 1390, 0.5);
  EXPECT_NEAR(volume_of({true, 8, 3}), 2471, 0.5);
  EXPECT_NEAR(tin_factor({true, 6, 3}, {true, 8, 3}), 16.0 / 9, 1e-12) << "not 2, as kitchens often double";
  EXPECT_NEAR(tin_factor({true, 8, 3}, {true, 8, 2}), 2.0 / 3, 1e-12);
  EXPECT_NEAR(area_of({false, 8, 3}), 64, 1e-12);
  EXPECT_THROW(area_of({true, 0, 3}), std::invalid_argument);
  EXPECT_THROW(volume_of({true, 6, 0}), std::invalid_argument);
}

TEST(Tins, AreScaledExactlyWhereTheyHaveOneShape) {
  const ExactTins six{true, 1524, 762};
  const std::vector<ExactTins> eight{{true, 2032, 762}};
  EXPECT_EQ(volume_factor(six, eight), share_of(16, 9));
  EXPECT_EQ(area_factor(six, eight), share_of(16, 9));
  const std::vector<ExactTins> two_lower{{true, 2032, 381, 2}};
  EXPECT_EQ(volume_factor(six, two_lower), share_of(16, 9)) << "two of half the depth hold as much";
  EXPECT_EQ(area_factor(six, two_lower), share_of(32, 9)) << "and are twice as large to look at";
  const std::vector<ExactTins> six_and_eight{{true, 1524, 762}, {true, 2032, 762}};
  EXPECT_EQ(volume_factor(six, six_and_eight), share_of(25, 9));
  const std::vector<ExactTins> square{{false, 2032, 762}};
  // 8 inches round to 8 inches square of equal depth, by geometry: 1.2732.
  EXPECT_NEAR(to_double(volume_factor({true, 2032, 762}, square)), 1.2732, 5e-5);
  EXPECT_EQ(volume_factor({false, 1016, 762}, square), 4);
  EXPECT_THROW(volume_factor({true, 0, 762}, eight), std::invalid_argument);
  EXPECT_THROW(volume_factor({true, 1524, 0}, eight), std::invalid_argument);
  EXPECT_THROW(volume_factor({true, 1524, 762, 0}, eight), std::invalid_argument);
}

// Bakers' guides for round cakes, which differ (customary, no standard): 6 in 12 to 14 desserts of 1 by 2 in, 20 to 24 fingers, 6 of 2 by
// 2; 8 in 24, 40 to 48 and 12; 10 in 35 to 38, 64 to 76 and 19.
TEST(Portions, LieWhereBakersGuidesPutThem) {
  const double six = area_of({true, 6, 3}), eight = area_of({true, 8, 3}), ten = area_of({true, 10, 3});
  EXPECT_EQ(portions_of(six, true, 1, 2), 12);
  EXPECT_EQ(portions_of(six, true, 1, 1), 24);
  EXPECT_EQ(portions_of(six, true, 2, 2), 6);
  EXPECT_EQ(portions_of(eight, false, 1, 2), 22);
  EXPECT_EQ(portions_of(eight, false, 1, 1), 45);
  EXPECT_EQ(portions_of(ten, false, 1, 2), 35);
  EXPECT_EQ(portions_of(ten, false, 1, 1), 70);
  EXPECT_THROW(portions_of(0, true, 1, 2), std::invalid_argument);
}

TEST(Eggs, AreCountedUpToAWholeOne) {
  EXPECT_EQ(eggs_for_white(66, 33), 2);
  EXPECT_EQ(eggs_for_white(66.1, 33), 3);
  EXPECT_THROW(eggs_for_white(0, 33), std::invalid_argument);
  EXPECT_THROW(eggs_for_white(80, 0), std::invalid_argument);
}

}  // namespace
}  // namespace tierproof
