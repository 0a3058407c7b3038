#include "tierproof/sums/warm_times.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <stdexcept>

#include "readings.h"
#include "tierproof/sums/stay.h"

namespace tierproof {
namespace {

using test::cited;
using test::minute;
using test::minutes_long;
using test::readings;
using test::steady;
using test::operator+;

const Span longest_of_fridge = minutes_long(30);

/// The fridge of case T13: quarter-hourly, above 8 °C from minute 33.3 to 80.3.
std::vector<Reading> fridge_of_t13() {
  return readings({{0, 4.2}, {15, 5.0}, {30, 7.6}, {45, 9.4}, {60, 10.1}, {75, 8.6}, {90, 6.9}, {105, 5.2}});
}
std::vector<WarmTime> of_fridge(double error, double from = 0, double to = 105) {
  return warm_times(fridge_of_t13(), minute(from), minute(to), celsius(8), kelvins(error), longest_of_fridge);
}

TEST(WarmTimes, AreThoseOfTheReadingsAsTheyStandWithoutAnError) {
  const auto times = of_fridge(0);
  ASSERT_EQ(times.size(), 1u);
  // Closed form of the straight lines between the readings, worked out apart from this program (case T13).
  EXPECT_EQ(times[0].least, minutes_long(30));
  EXPECT_NEAR(times[0].estimate.count(), 46.960784, 1e-6);
  EXPECT_EQ(times[0].most, minutes_long(60));
  EXPECT_EQ(times[0].peak, celsius(10.1));
  EXPECT_NEAR(times[0].estimated_over, 56.254902, 1e-6);
  EXPECT_DOUBLE_EQ(times[0].least_over, times[0].estimated_over);
  EXPECT_DOUBLE_EQ(times[0].most_over, times[0].estimated_over);
}

TEST(WarmTimes, AreShorterAndLongerWithTheError) {
  const auto times = of_fridge(0.5);
  ASSERT_EQ(times.size(), 1u);
  EXPECT_EQ(times[0].from, minute(30));
  EXPECT_EQ(times[0].to, minute(75));
  EXPECT_EQ(times[0].least, minutes_long(30));
  EXPECT_NEAR(times[0].estimate.count(), 46.960784, 1e-6) << "the estimate is of the readings as read";
  EXPECT_EQ(times[0].most, minutes_long(75));
  // Midpoint quadrature of the same lines half a degree lower and higher.
  EXPECT_NEAR(times[0].least_over, 34.919118, 1e-6);
  EXPECT_NEAR(times[0].estimated_over, 56.254902, 1e-6);
  EXPECT_NEAR(times[0].most_over, 81.867081, 1e-6);
}

TEST(WarmTimes, MayHaveBeenNoneAtAll) {
  const auto times =
      warm_times(steady(7, 2, 15) + readings({{30, 7.9}, {45, 7.0}}), minute(0), minute(45), celsius(8), kelvins(0.5), longest_of_fridge);
  ASSERT_EQ(times.size(), 1u);
  EXPECT_EQ(times[0].least, Span{});
  EXPECT_EQ(times[0].estimate, Minutes{});
  EXPECT_EQ(times[0].most, minutes_long(30));
  EXPECT_EQ(times[0].least_over, 0);
  EXPECT_EQ(times[0].estimated_over, 0);
  EXPECT_GT(times[0].most_over, 0);
  EXPECT_TRUE(warm_times(steady(7.5, 4, 15), minute(0), minute(45), celsius(8), kelvins(0.5), longest_of_fridge).empty()) << "at the limit";
}

TEST(WarmTimes, AreSureOnlyWhereAReadingIsAboveWithTheErrorTakenOff) {
  WarmTime time;
  time.peak = celsius(8.5);
  EXPECT_FALSE(surely_above(time, celsius(8), kelvins(0.5))) << "8 °C is within the limit";
  time.peak = celsius(8.51);
  EXPECT_TRUE(surely_above(time, celsius(8), kelvins(0.5)));
}

TEST(WarmTimes, CountNothingOutsideButTheEndsOfTheirSteps) {
  const auto times = of_fridge(0, 50, 70);
  ASSERT_EQ(times.size(), 1u);
  EXPECT_EQ(times[0].least, Span{}) << "one reading lies inside";
  EXPECT_NEAR(times[0].estimate.count(), 20, 1e-6);
  EXPECT_EQ(times[0].most, minutes_long(60));
  EXPECT_TRUE(of_fridge(0, 150, 170).empty());
}

TEST(WarmTimes, HaveNoMaximumBesideAGapAndAreTwoAcrossIt) {
  const auto times =
      warm_times(readings({{0, 7.0}, {15, 9.0}, {60, 9.0}, {75, 7.0}}), minute(0), minute(75), celsius(8), {}, longest_of_fridge);
  ASSERT_EQ(times.size(), 2u);
  EXPECT_FALSE(times[0].most);
  EXPECT_FALSE(times[1].most);
  EXPECT_NEAR(times[0].estimate.count() + times[1].estimate.count(), 15, 1e-9);
  WarmTime closed = times[1];
  closed.most = minutes_long(30);
  EXPECT_FALSE(together(std::vector<WarmTime>{times[0], closed}).most);
  EXPECT_FALSE(together(std::vector<WarmTime>{closed, times[0]}).most);
  EXPECT_EQ(together(std::vector<WarmTime>{closed, closed}).most, minutes_long(60));
  const auto both = together(times);
  EXPECT_FALSE(both.most);
  EXPECT_NEAR(both.estimate.count(), 15, 1e-9);
}

TEST(WarmTimes, AreToldWithEveryBound) {
  const auto times = of_fridge(0.5);
  EXPECT_EQ(
      in_words(times.at(0), "8 °C", kelvins(0.5), Offset{60}),
      "1 May 2026, 09:30 to 10:15: above 8 °C for at least 30 min, about 47 min, at most 1 h 15 min; warmest 10.1 °C (9.6 °C to 10.6 °C "
      "with the error); over it 56 °C·min, at least 35, at most 82");
}

TEST(WarmTimes, RefuseANegativeErrorAndStep) {
  EXPECT_THROW(warm_times({}, minute(0), minute(1), celsius(8), kelvins(-0.1), longest_of_fridge), std::invalid_argument);
  EXPECT_THROW(warm_times({}, minute(0), minute(1), celsius(8), {}, Span{-1}), std::invalid_argument);
}

std::vector<Reading> any_fridge() {
  std::vector<Reading> series;
  Instant at = minute(0);
  const auto count = *rc::gen::inRange(2, 14);
  for (int i = 0; i < count; ++i) {
    const bool fault = *rc::gen::weightedElement<bool>({{12, false}, {1, true}});
    series.push_back(
        {at, fault ? std::nullopt : std::optional{Temperature::hundredths_celsius(*rc::gen::inRange<std::int64_t>(600, 1000))}});
    at += *rc::gen::element(Span{900'000}, Span{900'000}, Span{1'800'000}, Span{1'801'000});
  }
  return series;
}

RC_GTEST_PROP(WarmTimes, HaveTheirBoundsInOrder, ()) {
  const auto series = any_fridge();
  const auto error = TemperatureSpan::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 150));
  for (const auto& time : warm_times(series, series.front().at, series.back().at, celsius(8), error, longest_of_fridge)) {
    RC_ASSERT(Minutes{time.least} <= time.estimate + Minutes{1e-9});
    if (time.most) RC_ASSERT(time.estimate <= Minutes{*time.most} + Minutes{1e-9});
    RC_ASSERT(time.least_over <= time.estimated_over + 1e-9);
    RC_ASSERT(time.estimated_over <= time.most_over + 1e-9);
    RC_ASSERT(time.peak + error > celsius(8));
  }
}

RC_GTEST_PROP(WarmTimes, AreTheExcursionsWithoutAnError, ()) {
  const auto series = any_fridge();
  const auto excursions = excursions_above(series, celsius(8), longest_of_fridge);
  const auto times = warm_times(series, series.front().at, series.back().at, celsius(8), {}, longest_of_fridge);
  RC_ASSERT(times.size() == excursions.size());
  for (std::size_t i = 0; i < times.size(); ++i) {
    RC_ASSERT(times[i].least == excursions[i].minimum);
    RC_ASSERT(times[i].most == excursions[i].maximum);
    RC_ASSERT(times[i].peak == excursions[i].peak);
    RC_ASSERT(std::abs(times[i].estimate.count() - excursions[i].estimate.count()) < 1e-6);
    RC_ASSERT(std::abs(times[i].estimated_over - excursions[i].area_kelvin_minutes) < 1e-6);
  }
}

// ---- growth ---------------------------------------------------------------------------------------------------------------------

const std::vector<GrowthTerm> growth_in_egg{{cited("growth"), "Salmonella in egg", 0.0214, 5.30841, 1}};

TEST(GrowthTold, IsTheIntegralOfTheRowAndWithTheErrorAdded) {
  // Case T29: 5 to 22 °C in 2 h, 4 h at 22 °C, back to 5 °C in 2 h; Oh et al. 2023, J Anim Sci Technol 65:1024 Table 2.
  const auto ramp = readings({{0, 5.0}, {120, 22.0}, {360, 22.0}, {480, 5.0}});
  const auto told = growth_told(ramp, minute(0), minute(480), kelvins(1), growth_in_egg, minutes_long(240));
  ASSERT_EQ(told.size(), 1u);
  EXPECT_NEAR(told[0].estimate, 0.677404, 1e-6);
  EXPECT_GT(told[0].at_most, told[0].estimate);
  EXPECT_FALSE(told[0].warns);
  EXPECT_NEAR(growth_told(ramp, minute(120), minute(360), {}, growth_in_egg, minutes_long(240))[0].estimate, 4 * 0.12759, 5e-5)
      << "4 h at 22 °C";
  EXPECT_NEAR(growth_told(ramp, minute(180), minute(240), {}, growth_in_egg, minutes_long(240))[0].estimate, 0.12759, 5e-6)
      << "an hour of them";
}

TEST(GrowthTold, WarnsFromTheFigureOfTheRowOnByTheUpperOne) {
  const auto day = steady(15, 97, 15);  // 24 h at 0.04302 log an hour: 1.0324 log
  EXPECT_TRUE(growth_told(day, minute(0), minute(24 * 60), {}, growth_in_egg, longest_of_fridge)[0].warns);
  EXPECT_FALSE(growth_told(day, minute(0), minute(23 * 60), {}, growth_in_egg, longest_of_fridge)[0].warns);
  EXPECT_TRUE(growth_told(day, minute(0), minute(23 * 60), kelvins(0.5), growth_in_egg, longest_of_fridge)[0].warns);
  auto broken = day;
  broken[40].temperature.reset();
  EXPECT_LT(growth_told(broken, minute(0), minute(24 * 60), {}, growth_in_egg, longest_of_fridge)[0].estimate, 1.02)
      << "nothing is bridged";
}

// ---- a total over the whole life ------------------------------------------------------------------------------------------------

WarmTotal two_and_four_hours() { return {cited("total"), celsius(5), celsius(60), minutes_long(120), minutes_long(240)}; }
CountedWarm counted(const std::vector<Watch>& watches, double to = 120) {
  return counted_warm(watches, minute(0), minute(to), two_and_four_hours(), longest_of_fridge);
}
Watch read_in_air(std::vector<Reading> series, double error = 0) { return {std::move(series), kelvins(error), true, false}; }
Watch read_in_food(std::vector<Reading> series, double error = 0) { return {std::move(series), kelvins(error), true, true}; }

TEST(CountedWarm, IsFromTheLastColdReadingToTheFirstColdOne) {
  const auto once = counted({read_in_air(steady(5, 4, 15) + readings({{60, 5.01}}) + steady(5, 4, 15, 75))});
  EXPECT_EQ(once.warm, minutes_long(30));
  EXPECT_EQ(once.unread, Span{});
  EXPECT_EQ(counted({read_in_air(steady(5, 9, 15))}).warm, Span{}) << "at the limit it is cold";
  EXPECT_EQ(counted({read_in_air(steady(5, 9, 15), 0.1)}).warm, minutes_long(120)) << "with the error it may not be";
}

TEST(CountedWarm, IsUnreadWhereNoReliableReadingSaysThatItWasCold) {
  EXPECT_EQ(counted({}).unread, minutes_long(120));
  Watch doubted = read_in_air(steady(4, 9, 15));
  doubted.reliable = false;
  EXPECT_EQ(counted({doubted}).unread, minutes_long(120));
  EXPECT_EQ(counted({read_in_air(steady(4, 3, 15) + steady(4, 4, 15, 75))}).unread, minutes_long(45)) << "from minute 30 to 75";
  auto fault = steady(4, 9, 15);
  fault[4].temperature.reset();
  EXPECT_EQ(counted({read_in_air(fault)}).unread, minutes_long(30));
  EXPECT_EQ(counted({read_in_air(steady(4, 7, 15, 30))}).unread, Span{}) << "half an hour to the first reading is no gap";
  EXPECT_EQ(counted({read_in_air(steady(4, 6, 15, 31))}).unread, minutes_long(31)) << "a minute more is one, and 106 to 120 is none";
}

TEST(CountedWarm, TakesTheFoodsOwnReadingsBeforeTheAir) {
  const auto warm_air = steady(9, 9, 15);
  const auto cold_air = steady(3, 9, 15);
  EXPECT_EQ(counted({read_in_air(warm_air), read_in_food(steady(4, 5, 15))}).warm, minutes_long(60))
      << "its own readings end after an hour";
  EXPECT_EQ(counted({read_in_air(cold_air), read_in_food(steady(9, 5, 15))}).warm, minutes_long(60));
  Watch doubted = read_in_food(steady(4, 9, 15));
  doubted.reliable = false;
  EXPECT_EQ(counted({read_in_air(warm_air), doubted}).warm, minutes_long(120));
  doubted = read_in_food(steady(9, 9, 15));
  doubted.reliable = false;
  EXPECT_EQ(counted({read_in_air(cold_air), doubted}).warm, minutes_long(120)) << "a doubtful reading may still have been right";
  EXPECT_EQ(counted({read_in_air(cold_air), read_in_air(warm_air)}).warm, minutes_long(120)) << "of two in the air the warmer one counts";
}

TEST(CountedWarm, EndsWhereTheBandOfTheRowDoes) {
  EXPECT_EQ(counted({read_in_food(steady(60, 9, 15))}).warm, Span{});
  EXPECT_EQ(counted({read_in_food(steady(59.9, 9, 15))}).warm, minutes_long(120));
  EXPECT_EQ(counted({read_in_food(steady(60, 9, 15), 0.1)}).warm, minutes_long(120));
  EXPECT_EQ(counted({read_in_food(steady(65, 5, 15) + steady(4, 4, 15, 75))}).warm, minutes_long(15)) << "through the band in one step";
}

}  // namespace
}  // namespace tierproof
