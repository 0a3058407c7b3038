#include "tierproof/sums/water_activity.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <stdexcept>

namespace tierproof {
namespace {

double drawn(int low, int high, double divided_by) { return *rc::gen::inRange(low, high + 1) / divided_by; }

ActivityEstimate of(const std::vector<ActivityPart>& parts, double celsius = 20) { return estimate_activity(parts, celsius).value(); }
ActivityPart water(double grams) { return {grams, 1, {}}; }
ActivityPart pure(std::string_view name, double grams) { return {grams, 0, {{name, 1}}}; }

RC_GTEST_PROP(ActivityCap, IsNeverBelowTheSaturatedOneOfTheSugar, ()) {
  const double celsius = drawn(0, 400, 10);
  const double sugar = drawn(1, 100000, 10), with = drawn(10, 10000, 10);
  const auto estimate = of({water(with), pure("sucrose", sugar)}, celsius);
  const double saturated = activity_alone(*solute("sucrose"), sucrose_solubility(celsius));
  RC_ASSERT(estimate.activity >= saturated - 1e-9);
  RC_ASSERT(estimate.activity >= estimate.clear);
  RC_ASSERT(estimate.with_margin >= estimate.activity);
}

RC_GTEST_PROP(Activity, FallsWithMoreDissolvedAndRisesWithMoreWater, ()) {
  const Solute& what = *solute(*rc::gen::elementOf(std::vector<std::string_view>{"sucrose", "glucose", "NaCl", "glycerol"}));
  const double grams = drawn(1, 250, 10);  // of salt too all of it dissolves
  const auto some = of({water(100), pure(what.name, grams)});
  RC_ASSERT(of({water(100), pure(what.name, grams + 5)}).activity < some.activity);
  RC_ASSERT(of({water(105), pure(what.name, grams)}).activity > some.activity);
  RC_ASSERT(some.activity > 0 && some.activity < 1);
}

RC_GTEST_PROP(Activity, IsNotLoweredByWhatIsNoSolute, ()) {
  const double sugar = drawn(0, 1000, 10), fat = drawn(0, 1000, 10);
  RC_ASSERT(of({water(100), pure("sucrose", sugar), {fat, 0, {}}}).activity == of({water(100), pure("sucrose", sugar)}).activity);
}

// Icing-sugar buttercream: twice as much sugar as its water can take. All of it in the equation would give 0.47.
TEST(ActivityEstimate, CountsOnlyWhatDissolves) {
  const auto cream = of({{250, .1794, {}}, {500, .0023, {{"sucrose", .9781}}}, {30, .8813, {}}});
  EXPECT_EQ(cream.capped, std::vector<std::string>{"sucrose"});
  EXPECT_LT(cream.clear, 0.5);
  EXPECT_NEAR(cream.activity, 0.8537, 1e-3);
  EXPECT_NEAR(cream.with_margin, 0.8737, 1e-3);
  EXPECT_TRUE(of({water(100), pure("sucrose", 150)}).capped.empty());
}

TEST(ActivityEstimate, CapsEverySolidOfItsOwn) {
  const auto both = of({water(100), pure("sucrose", 300), pure("lactose", 100), pure("NaCl", 60), pure("glycerol", 500)});
  EXPECT_EQ(both.capped, (std::vector<std::string>{"NaCl", "lactose", "sucrose"})) << "glycerol mixes with water";
  EXPECT_GT(of({water(100), pure("lactose", 100)}, 5).activity, of({water(100), pure("lactose", 100)}, 20).activity)
      << "less dissolves in the cold";
  EXPECT_EQ(of({water(100), pure("lactose", 100)}, 30).activity, of({water(100), pure("lactose", 100)}, 20).activity);
}

TEST(ActivityEstimate, IsAtMostOneWithItsMargin) {
  EXPECT_EQ(of({water(100)}).activity, 1);
  EXPECT_EQ(of({water(100)}).with_margin, 1);
  EXPECT_EQ(of({water(1000), pure("sucrose", 1)}).with_margin, 1);
}

TEST(ActivityEstimate, NeedsWaterAndKnownShares) {
  EXPECT_FALSE(estimate_activity(std::vector{pure("sucrose", 100)}, 20)) << "without water there is no solution";
  EXPECT_FALSE(estimate_activity({}, 20));
  EXPECT_THROW(of({{100, .5, {{"sucrose", .6}}}}), std::invalid_argument) << "more than the whole";
  EXPECT_THROW(of({{100, .5, {{"sand", .1}}}}), std::invalid_argument);
  EXPECT_THROW(of({{-1, .5, {}}}), std::invalid_argument);
  EXPECT_THROW(of({{1, -.5, {}}}), std::invalid_argument);
  EXPECT_THROW(activity_alone(*solute("sucrose"), 1), std::invalid_argument);
}

TEST(ActivityOfMixtures, GivesNothingWhereItsRuleDoesNotSpeak) {
  const Dissolved salted{100, {{"sucrose", 50}, {"NaCl", 2}}};
  EXPECT_FALSE(norrish_mixture_activity(salted));
  EXPECT_FALSE(ferro_fontan_activity(salted));
  EXPECT_FALSE(norrish_mixture_activity({100, {{"glycine", 5}}})) << "a constant below 0 has no root";
  EXPECT_TRUE(ferro_fontan_activity({100, {{"glycine", 5}}}));
  EXPECT_EQ(ferro_fontan_activity({100, {}}), 1);
  EXPECT_EQ(ross_activity({0, {{"sucrose", 5}}}), 0);
}

RC_GTEST_PROP(ActivityOfMixtures, OfOneSugarAreAllNorrish, ()) {
  const double grams = drawn(1, 1500, 10);
  const Dissolved one{100, {{"sucrose", grams}}};
  const double alone = activity_alone(*solute("sucrose"), grams / (100 + grams));
  RC_ASSERT(std::abs(ross_activity(one) - alone) < 1e-12);
  RC_ASSERT(std::abs(*norrish_mixture_activity(one) - alone) < 1e-12);
  RC_ASSERT(std::abs(*ferro_fontan_activity(one) - alone) < 1e-12);
}

TEST(SucroseSolubility, IsThatOfTheNearerEndOutsideItsRange) {
  EXPECT_EQ(sucrose_solubility(-18), sucrose_solubility(0));
  EXPECT_EQ(sucrose_solubility(110), sucrose_solubility(100));
}

}  // namespace
}  // namespace tierproof
