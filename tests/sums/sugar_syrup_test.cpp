#include "tierproof/sums/sugar_syrup.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <stdexcept>

#include "tierproof/sums/meringue.h"
#include "tierproof/sums/probe.h"

namespace tierproof {
namespace {

double between(int low, int high, double divided_by) { return *rc::gen::inRange(low, high + 1) / divided_by; }

RC_GTEST_PROP(BoilingSyrup, HoldsMoreTheHotterItIsAndLessUnderMorePressure, ()) {
  const double pressure = between(700, 1050, 10);
  const double celsius = between(10200, 12500, 100);
  const double hotter = celsius + between(1, 300, 100);
  const double more = pressure + between(1, 30, 10);
  const auto solids = solids_boiling_at(celsius, pressure);
  RC_ASSERT(solids.has_value());
  RC_ASSERT(solids_boiling_at(hotter, pressure)->share > solids->share);
  const auto pressed = solids_boiling_at(celsius, more);
  RC_ASSERT(!pressed || pressed->share < solids->share);
}

RC_GTEST_PROP(BoilingSyrup, BoilsWhereItsSolidsSay, ()) {
  const double pressure = between(600, 1050, 10);
  const double solids = between(0, 920, 1000);
  const double boils = syrup_boiling_point(solids, pressure);
  RC_ASSERT(boils >= boiling_point(pressure) - 1e-9);
  RC_ASSERT(std::abs(solids_boiling_at(boils + 1e-9, pressure)->share - solids) < 1e-6);
}

TEST(BoilingSyrup, IsWaterWhereWaterBoils) {
  EXPECT_FALSE(solids_boiling_at(boiling_point(101.325) - 0.001, 101.325)) << "colder than boiling water, nothing boils";
  ASSERT_TRUE(solids_boiling_at(boiling_point(101.325), 101.325));
  EXPECT_NEAR(solids_boiling_at(boiling_point(101.325), 101.325)->share, 0, 1e-6);
  EXPECT_NEAR(syrup_boiling_point(0, 89.875), boiling_point(89.875), 1e-9);
}

TEST(BoilingSyrup, IsRefusedOutsideWhatTheEquationsSpeakOf) {
  EXPECT_NO_THROW(syrup_boiling_point(0.92, 101.325));
  EXPECT_THROW(syrup_boiling_point(0.9201, 101.325), std::invalid_argument);
  EXPECT_THROW(syrup_boiling_point(-0.01, 101.325), std::invalid_argument);
  EXPECT_THROW(syrup_boiling_point(0.5, 40), std::invalid_argument);
  EXPECT_THROW(solids_boiling_at(201, 101.325), std::invalid_argument);
  EXPECT_THROW(sucrose_activity(1, 25), std::invalid_argument);
  EXPECT_EQ(sucrose_activity(0, 25), 1);
}

TEST(SyrupElsewhere, IsByEqualSolidsAndBySubtractionPastTheModel) {
  // Computed apart from this program: 87.79 % boil at 114.38 °C at 1000 m and at 112.56 °C at 1500 m.
  const SyrupElsewhere there = syrup_target_under(118, isa_pressure(1500));
  EXPECT_NEAR(there.celsius, 112.56, 0.02);
  EXPECT_NEAR(there.by_subtraction, 113.01, 0.01);
  EXPECT_NEAR(*there.solids, 0.8779, 1e-4);
  for (const double target : {145.0, 210.0, 90.0}) {
    const SyrupElsewhere past = syrup_target_under(target, isa_pressure(1500));
    EXPECT_FALSE(past.solids) << target;
    EXPECT_EQ(past.celsius, past.by_subtraction) << target;
    EXPECT_NEAR(past.celsius, target - 4.99, 0.01) << target;
  }
}

TEST(BoiledDown, LosesWaterAlone) {
  EXPECT_THROW(boiled_down(160, 20, 0.8779), std::invalid_argument) << "there were never 22 g of water in it";
  EXPECT_THROW(boiled_down(160, 60, 0), std::invalid_argument);
  EXPECT_THROW(boiled_down(-1, 60, 0.9), std::invalid_argument);
  const BoiledDown nothing_lost = boiled_down(160, 40, 0.8);
  EXPECT_NEAR(nothing_lost.lost_g, 0, 1e-9);
}

TEST(SugarStages, HaveGapsThatAreNoStage) {
  const auto name = [](double celsius) { return stage_at(celsius) == nullptr ? "none" : std::string{stage_at(celsius)->name}; };
  EXPECT_EQ(name(118), "firm ball") << "the first degree of a stage belongs to it";
  EXPECT_EQ(name(120), "firm ball") << "and the last";
  EXPECT_EQ(name(117), "none");
  EXPECT_EQ(name(120.5), "none");
  EXPECT_EQ(name(131), "none");
  EXPECT_EQ(name(144), "none");
  EXPECT_EQ(name(155), "none");
  EXPECT_EQ(name(109.9), "none");
  EXPECT_EQ(name(112), "soft ball") << "where one ends and the next begins, the next is told";
  EXPECT_EQ(name(177), "dark caramel");
  EXPECT_EQ(name(200), "none");
}

TEST(SolidsByTable, AreNothingOutsideItsRows) {
  EXPECT_FALSE(solids_by_table(browne_table(), 0.39));
  EXPECT_NEAR(*solids_by_table(browne_table(), 0.4), 0.10, 1e-12);
  EXPECT_NEAR(*solids_by_table(browne_table(), 27.8), 0.90, 1e-12);
  EXPECT_FALSE(solids_by_table(browne_table(), 27.81));
  EXPECT_FALSE(solids_by_table({}, 1));
}

// ---- Italian meringue -------------------------------------------------------------------------------------------------------

MeringuePlan some_plan() {
  MeringuePlan plan;
  plan.white_g = between(20, 800, 1);
  plan.sugar_g = plan.white_g * between(50, 300, 100);
  plan.pour_c = between(10500, 12700, 100);
  plan.white_c = between(0, 40, 1);
  plan.bowl_g = between(0, 2000, 1);
  plan.bowl_c = between(0, 40, 1);
  return plan;
}

RC_GTEST_PROP(Meringue, HasItsBoundsInOrder, ()) {
  const auto heat = meringue_heat(some_plan());
  RC_ASSERT(heat.has_value());
  RC_ASSERT(heat->lower <= heat->central);
  RC_ASSERT(heat->central <= heat->upper);
  RC_ASSERT(heat->upper + 2 <= heat->ceiling + 1e-9);
}

RC_GTEST_PROP(Meringue, IsNeverHotterThanThePourAndColderWithAHeavierBowl, ()) {
  MeringuePlan plan = some_plan();
  const auto heat = meringue_heat(plan);
  RC_ASSERT(heat->upper < plan.pour_c);
  plan.bowl_g += between(1, 500, 1);
  const auto heavier = meringue_heat(plan);
  RC_ASSERT(plan.bowl_c > heat->lower || heavier->lower < heat->lower);
  RC_ASSERT(plan.bowl_c > heat->central || heavier->central < heat->central);
  RC_ASSERT(plan.bowl_c > heat->upper || heavier->upper < heat->upper);
  RC_ASSERT(heavier->ceiling <= heat->ceiling + 1e-9);
}

TEST(Meringue, HasACeilingThatAWarmBowlLifts) {
  const MeringuePlan plan{80, 80, 118, 20, 3000, 90};
  const auto heat = meringue_heat(plan);
  ASSERT_TRUE(heat);
  EXPECT_NEAR(heat->ceiling, heat->upper + 2, 1e-9) << "a bowl warmer than the mix gives heat: without it the mix would be colder";
  EXPECT_GT(heat->ceiling, 70);
}

TEST(Meringue, IsOutsideTheModelWithASyrupThatIs) {
  EXPECT_TRUE(meringue_heat({80, 160, 127.7, 20}));
  EXPECT_FALSE(meringue_heat({80, 160, 128.0, 20})) << "above 92 % solids";
  EXPECT_FALSE(meringue_heat({80, 160, 99, 20})) << "no syrup boils there";
}

TEST(Meringue, IsRefusedWithoutItsParts) {
  EXPECT_THROW(meringue_heat({0, 160, 118, 20}), std::invalid_argument);
  EXPECT_THROW(meringue_heat({80, 0, 118, 20}), std::invalid_argument);
  EXPECT_THROW(meringue_heat({80, 160, 118, 20, -1, 20}), std::invalid_argument);
  EXPECT_THROW(meringue_heat({80, 160, 118, 101}), std::invalid_argument);
  EXPECT_THROW(meringue_heat({80, 160, 118, 20, 500, 20, 0}), std::invalid_argument);
}

// What has been measured and published of it, far apart as the bowls were: McGee, On Food and Cooking, 2004 (a foam of 55 to 58 °C), and a
// flour maker's advice of 2018 (72.8 to 75.6 °C for larger batches).
TEST(Meringue, AgreesWithWhatWasMeasured) {
  EXPECT_NEAR(meringue_heat({80, 160, 118, 20, 1000, 20})->central, 56.5, 1.5);
  for (const double white : {400.0, 480.0}) EXPECT_NEAR(meringue_heat({white, 2 * white, 118, 20, 800, 20})->central, 74.2, 1.5) << white;
}

}  // namespace
}  // namespace tierproof
