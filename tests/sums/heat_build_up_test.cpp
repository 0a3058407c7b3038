#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

#include "readings.h"
#include "tierproof/sums/heat.h"

// How the bound of a heat step builds up, against what the whole of it demonstrates.

namespace tierproof {
namespace {

using test::cited;
using test::minute;
using test::minutes_long;
using test::readings;
using test::steady;
using test::terms_for_tests;
using test::operator+;

HeatTerms worth_at_70(TemperatureSpan error) { return {celsius(70), kelvins(7.5), celsius(68), celsius(76), minutes_long(1), error}; }

EggStep heated_here() {
  EggStep step;
  step.subject = "batch-4";
  step.egg = "raw, heated here";
  step.sugar_of_mix = share_of(5, 100);
  return step;
}

/// Up to forty readings half a minute or a little more than a minute apart, now and then a fault, now and then an instant told twice.
std::vector<Reading> any_heat_step() {
  std::vector<Reading> series;
  Instant at = minute(0);
  const auto count = *rc::gen::inRange(0, 40);
  for (int i = 0; i < count; ++i) {
    at += *rc::gen::element(Span{30'000}, Span{30'000}, Span{30'000}, Span{60'000}, Span{61'000}, Span{0});
    const bool fault = *rc::gen::weightedElement<bool>({{12, false}, {1, true}});
    series.push_back(
        {at, fault ? std::nullopt : std::optional{Temperature::hundredths_celsius(*rc::gen::inRange<std::int64_t>(6700, 7800))}});
  }
  return series;
}

std::vector<Reading> up_to(const std::vector<Reading>& series, Instant last) {
  std::vector<Reading> part;
  std::copy_if(series.begin(), series.end(), std::back_inserter(part), [&](const Reading& reading) { return reading.at <= last; });
  return part;
}

TemperatureSpan any_error() { return TemperatureSpan::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 150)); }

RC_GTEST_PROP(DemonstratedSoFar, IsAtEveryInstantWhatTheReadingsUpToItDemonstrate, ()) {
  const auto series = any_heat_step();
  const HeatTerms terms = worth_at_70(any_error());
  const auto shown = demonstrated_so_far(series, terms);
  RC_ASSERT(shown.empty() == series.empty());
  for (std::size_t i = 0; i < shown.size(); ++i) {
    RC_ASSERT(shown[i].lower == demonstrated_time(up_to(series, shown[i].at), terms).lower);
    const bool goes_on = i == 0 || (shown[i].at > shown[i - 1].at && shown[i].lower >= shown[i - 1].lower);
    RC_ASSERT(goes_on);
  }
}

RC_GTEST_PROP(HeldSoFar, ReachesAtEveryInstantTheLongestHoldOfTheReadingsUpToIt, ()) {
  const auto series = any_heat_step();
  const auto error = any_error();
  const auto shown = held_so_far(series, celsius(70), error, minutes_long(1));
  RC_ASSERT(shown.empty() == series.empty());
  Minutes longest{};
  for (const ShownSoFar& point : shown) {
    longest = std::max(longest, point.lower);
    RC_ASSERT(longest == Minutes{held_at_or_above(up_to(series, point.at), celsius(70), error, minutes_long(1)).minimum});
  }
}

TEST(HeldSoFar, BeginsAnewAfterADipAFaultAndAGap) {
  const auto shown = held_so_far(
      readings({{0, 71.0}, {1, 71.0}, {2, 69.9}, {3, 71.0}, {4, 71.0}, {4.5, std::nullopt}, {5, 71.0}, {5.5, 71.0}, {8, 71.0}, {9, 71.0}}),
      celsius(70), {}, minutes_long(1));
  std::vector<double> minutes;
  for (const ShownSoFar& point : shown) minutes.push_back(point.lower.count());
  EXPECT_EQ(minutes, (std::vector<double>{0, 1, 0, 0, 1, 0, 0, 0.5, 0, 1}));
}

TEST(DemonstratedSoFar, StandsStillAcrossAGap) {
  const auto shown = demonstrated_so_far(readings({{0, 70.0}, {1, 70.0}, {4, 70.0}, {5, 70.0}}), worth_at_70({}));
  ASSERT_EQ(shown.size(), 4U);
  EXPECT_EQ(shown[1].lower.count(), 1.0);
  EXPECT_EQ(shown[2].lower.count(), 1.0);
  EXPECT_EQ(shown[3].lower.count(), 2.0);
}

TEST(HeatBuildUp, IsOfTheRowThatTheFindingTells) {
  const auto series = readings({{0, 40.0}}) + steady(71, 5, 0.5, 0.5) + readings({{3, 40.0}});
  const auto built = heat_build_up(heated_here(), series, {}, terms_for_tests());
  const auto finding = judge_egg_step(heated_here(), series, {}, true, "", terms_for_tests());
  ASSERT_TRUE(built && finding);
  EXPECT_EQ(finding->verdict, Verdict::shown);
  EXPECT_EQ(built->told, finding->message);
  EXPECT_EQ(built->limit, finding->limit);
  EXPECT_EQ(built->at, celsius(70));
  EXPECT_TRUE(built->held);
  EXPECT_EQ(built->wanted, minutes_long(2));
  ASSERT_EQ(built->shown.size(), series.size());
  EXPECT_EQ(built->shown[5].lower.count(), 2.0);  // 71 °C from 30 s to 2 min 30 s
  EXPECT_EQ(built->shown[6].lower.count(), 0.0);
}

TEST(HeatBuildUp, CountsWhatTheTimeIsWorthWhereTheRowGrantsIt) {
  TemperatureTerms terms = terms_for_tests();
  terms.heat_rows.clear();
  terms.equivalences = {
      {cited("equal"), "core of a cooked food", celsius(70), kelvins(7.5), minutes_long(2), celsius(60), celsius(85), minutes_long(1)}};
  const auto series = steady(77.5, 4, 0.5);  // one z above: ten minutes a minute
  const auto built = heat_build_up(heated_here(), series, {}, terms);
  ASSERT_TRUE(built);
  EXPECT_FALSE(built->held);
  EXPECT_EQ(built->at, celsius(70));
  EXPECT_NEAR(built->shown.back().lower.count(), 15.0, 1e-9);
  EXPECT_EQ(built->told, judge_egg_step(heated_here(), series, {}, true, "", terms)->message);
}

TEST(HeatBuildUp, GivesNothingWhereNoRowVouchesForTheMix) {
  EggStep sweet = heated_here();
  sweet.sugar_of_mix = share_of(60, 100);
  EXPECT_FALSE(heat_build_up(sweet, steady(75, 5, 0.5), {}, terms_for_tests()));
  EggStep bought = heated_here();
  bought.egg = "pasteurised";
  EXPECT_FALSE(heat_build_up(bought, steady(75, 5, 0.5), {}, terms_for_tests()));
  EXPECT_FALSE(heat_build_up(heated_here(), readings({{0, std::nullopt}}), {}, terms_for_tests()));
  EXPECT_FALSE(heat_build_up(heated_here(), {}, {}, terms_for_tests()));
}

TEST(HeatBuildUp, SaysThatNobodyKnowsWhetherTheRowMayBeUsed) {
  EggStep unknown = heated_here();
  unknown.sugar_of_mix.reset();
  const auto built = heat_build_up(unknown, steady(71, 6, 0.5), {}, terms_for_tests());
  ASSERT_TRUE(built);
  EXPECT_NE(built->told.find("how much sugar is in the mix is not known"), std::string::npos);
}

TEST(Extremes, AreTheColdestAndWarmestWithinTheTimeAndLeaveFaultsAndDisputesOut) {
  const auto series = readings({{0, 9.0}, {5, 4.0}, {10, 6.5}, {15, std::nullopt}, {20, 3.0}, {20, 8.0}, {25, 6.5}, {30, 1.0}});
  const Extremes found = extremes_in(series, minute(5), minute(25));
  ASSERT_TRUE(found.coldest && found.warmest);
  EXPECT_EQ(found.coldest->at, minute(5));
  EXPECT_EQ(*found.coldest->temperature, celsius(4.0));
  EXPECT_EQ(found.warmest->at, minute(10));  // the first of two
  EXPECT_EQ(*found.warmest->temperature, celsius(6.5));
  EXPECT_FALSE(extremes_in(series, minute(11), minute(20)).coldest);
}

}  // namespace
}  // namespace tierproof
