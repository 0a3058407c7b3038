#include "tierproof/sums/cooling.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <stdexcept>

#include "readings.h"
#include "samples.h"

namespace tierproof {
namespace {

using test::minute;
using test::readings;

constexpr LogTime hour = std::chrono::hours{1};
const CoolingLimits in_all{2 * hour, 6 * hour, {}};
const CoolingLimits further{2 * hour, {}, 4 * hour};

CoolingTold cooled(const test::Shown& shown, double error = 0, const CoolingLimits& limits = in_all) {
  return cooling_of(readings(shown), celsius(57), celsius(21), celsius(5), kelvins(error), limits);
}
LogTime minutes(int n) { return std::chrono::minutes{n}; }

TEST(Cooling, CountsAReadingAtTheFirstTemperatureAsTheStartAndOneAtTheLastAsTheEnd) {
  const auto told = cooled({{0, 57.0}, {120, 21.0}, {360, 5.0}});
  EXPECT_EQ(told.first.longest, minutes(120));
  EXPECT_EQ(told.first.verdict, Verdict::shown) << "120 min are within 2 h";
  EXPECT_EQ(told.total.longest, minutes(360));
  EXPECT_TRUE(told.shown());
  EXPECT_EQ(cooled({{0, 57.0}, {120.1, 21.0}, {360, 5.0}}).first.verdict, Verdict::not_shown);
  EXPECT_EQ(cooled({{0, 56.99}, {60, 21.0}, {300, 5.0}}).first.verdict, Verdict::not_shown) << "its start is not recorded";
  EXPECT_EQ(cooled({{0, 57.0}, {60, 21.01}, {300, 5.01}}).first.longest, minutes(300)) << "21.01 is above 21";
  EXPECT_EQ(cooled({{0, 57.0}, {60, 21.01}, {300, 5.01}}).total.longest, std::nullopt) << "5.01 is above 5";
}

TEST(Cooling, IsNotShownWithoutAReadingAtTheStartWhateverFollows) {
  const auto told = cooled({{0, 56.0}, {10, 30.0}, {400, 30.0}, {900, 4.0}});
  EXPECT_EQ(told.first.verdict, Verdict::not_shown);
  EXPECT_EQ(told.total.verdict, Verdict::not_shown);
  EXPECT_EQ(told.first.shortest, std::nullopt);
  EXPECT_EQ(told.first.longest, std::nullopt);
}

TEST(Cooling, IsNeitherShownNorNotMetWhereTheErrorLeavesTheStartOpen) {
  const auto told = cooled({{0, 57.2}, {10, 50.0}, {200, 30.0}, {210, 20.0}, {400, 4.0}}, 0.5);
  EXPECT_EQ(told.first.shortest, minutes(190)) << "57.2 may be 57";
  EXPECT_EQ(told.first.longest, std::nullopt);
  EXPECT_EQ(told.first.verdict, Verdict::not_shown);
}

TEST(Cooling, IsNotMetOnlyWhereEvenTheShortestIsBeyond) {
  EXPECT_EQ(cooled({{0, 60.0}, {30, 50.0}, {150, 21.5}, {160, 20.0}, {300, 5.0}}).first.verdict, Verdict::not_shown) << "120 min exactly";
  EXPECT_EQ(cooled({{0, 60.0}, {30, 50.0}, {151, 21.5}, {160, 20.0}, {300, 5.0}}).first.verdict, Verdict::not_met);
  EXPECT_EQ(cooled({{0, 60.0}, {30, 50.0}, {151, 21.5}}).first.verdict, Verdict::not_met) << "though its end is not recorded";
}

TEST(Cooling, EndsAStageOnlyWithTheReadingThatNoneAboveFollows) {
  const auto told = cooled({{0, 60.0}, {10, 50.0}, {60, 20.0}, {90, 25.0}, {119, 20.0}, {240, 5.0}, {250, 5.5}, {300, 5.0}});
  EXPECT_EQ(told.first.longest, minutes(119));
  EXPECT_EQ(told.first.shortest, minutes(80)) << "from 10, the first reading below, to 90, the last above";
  EXPECT_EQ(told.total.longest, minutes(300));
}

TEST(Cooling, OfFoodThatWasWarmedAgainIsShownOnlyIfItIsSoFromTheFirstFallToo) {
  const auto slow = cooled({{0, 63.0}, {240, 30.0}, {245, 58.0}, {300, 20.0}, {350, 4.0}});
  EXPECT_TRUE(slow.warmed_again);
  EXPECT_EQ(slow.first.longest, minutes(55)) << "from the last reading at or above 57";
  EXPECT_EQ(slow.first.shortest, LogTime{}) << "it counts from the last fall";
  EXPECT_EQ(slow.first.verdict, Verdict::not_shown) << "four hours of cooling came before";
  EXPECT_EQ(slow.total.verdict, Verdict::shown) << "350 min, even from the first fall";
  const auto quick = cooled({{0, 63.0}, {10, 56.0}, {20, 57.0}, {110, 20.0}, {300, 4.0}});
  EXPECT_TRUE(quick.warmed_again);
  EXPECT_EQ(quick.first.verdict, Verdict::shown);
  EXPECT_FALSE(cooled({{0, 20.0}, {20, 63.0}, {110, 20.0}, {300, 4.0}}).warmed_again) << "heating it the first time is no warming again";
}

TEST(Cooling, BeginsWithTheLastHotReadingBeforeItFirstFellAndEndsWhereItStaysCold) {
  const auto told = cooled({{0, 20.0}, {20, 63.0}, {30, 60.0}, {40, 56.0}, {50, 58.0}, {110, 20.0}, {300, 4.0}, {310, 5.5}, {320, 5.0}});
  EXPECT_EQ(told.began, LogTime{test::minute(30).time_since_epoch()}) << "not 50, where it was warm again: what came before counts too";
  EXPECT_EQ(told.ended, LogTime{test::minute(320).time_since_epoch()}) << "not 300: it was above 5 °C again";
  EXPECT_EQ(cooled({{0, 56.0}, {110, 20.0}, {300, 4.0}}).began, std::nullopt);
  EXPECT_EQ(cooled({{0, 60.0}, {110, 20.0}, {300, 6.0}}).ended, std::nullopt);
}

TEST(Cooling, TakesTheErrorAgainstTheFoodForShownAndForItForNotMet) {
  const test::Shown shown{{0, 63.0}, {30, 57.4}, {60, 38.0}, {100, 21.4}, {110, 20.8}, {125, 20.0}, {320, 4.0}};
  const auto exact = cooled(shown);
  EXPECT_EQ(exact.first.longest, minutes(80));  // 30 to 110
  EXPECT_EQ(exact.first.shortest, minutes(40));
  const auto off = cooled(shown, 0.5);
  EXPECT_EQ(off.first.longest, minutes(125)) << "57.4 may be less than 57, 20.8 more than 21";
  EXPECT_EQ(off.first.shortest, LogTime{}) << "21.4 may be 20.9: the last surely above is 38 at 60, the first surely below 57 the same";
  EXPECT_EQ(off.first.verdict, Verdict::not_shown);
}

TEST(Cooling, GivesTheSecondStageItsOwnHoursWhereTheRuleDoes) {
  const auto good = cooled({{0, 60.0}, {10, 56.0}, {90, 22.0}, {110, 20.0}, {330, 5.0}}, 0, further);
  ASSERT_TRUE(good.second.has_value());
  EXPECT_EQ(good.second->longest, minutes(240));
  EXPECT_EQ(good.second->shortest, LogTime{});
  EXPECT_TRUE(good.shown());
  const auto late = cooled({{0, 60.0}, {10, 56.0}, {89, 22.0}, {110, 20.0}, {330, 5.0}}, 0, further);
  EXPECT_EQ(late.total.verdict, Verdict::not_shown) << "241 min at the longest, though 330 min are under 6 h";
  const auto missed = cooled({{0, 60.0}, {10, 56.0}, {20, 22.0}, {30, 20.0}, {271, 6.0}, {280, 5.0}}, 0, further);
  EXPECT_EQ(missed.second->shortest, minutes(241));
  EXPECT_EQ(missed.total.verdict, Verdict::not_met);
  EXPECT_EQ(missed.first.verdict, Verdict::shown);
  EXPECT_EQ(cooled({{0, 60.0}, {10, 56.0}, {89, 22.0}, {110, 20.0}, {330, 5.0}}).second, std::nullopt);
}

TEST(Cooling, OfAWholeThatIsBeyondBothStagesTogetherIsNeverShown) {
  // first stage 3 h, second 3 h 30 min: the second keeps its hours, the whole does not keep both
  const auto told = cooled({{0, 60.0}, {1, 56.0}, {180, 22.0}, {181, 20.0}, {388, 6.0}, {390, 5.0}}, 0, further);
  EXPECT_EQ(told.second->verdict, Verdict::shown);
  EXPECT_EQ(told.total.verdict, Verdict::not_met);
}

TEST(Cooling, TakesNothingFromAFault) {
  EXPECT_EQ(cooled({{0, 60.0}, {50, 30.0}, {100, 20.0}, {300, 5.0}, {310, std::nullopt}}).first.longest, std::nullopt)
      << "it may have been warm again";
  EXPECT_TRUE(cooled({{0, 60.0}, {50, 30.0}, {60, std::nullopt}, {100, 20.0}, {300, 5.0}}).shown());
}

TEST(Cooling, OfOneReadingOrNoneShowsNothing) {
  EXPECT_EQ(cooled({{0, 60.0}}).first.verdict, Verdict::not_shown);
  EXPECT_EQ(cooled({}).total.verdict, Verdict::not_shown);
}

TEST(Cooling, RefusesARuleThatMeansNothing) {
  EXPECT_THROW(RunningCooling({2 * hour, {}, {}}), std::invalid_argument);
  EXPECT_THROW(RunningCooling({2 * hour, 6 * hour, 4 * hour}), std::invalid_argument);
  EXPECT_THROW(RunningCooling({LogTime{}, 6 * hour, {}}), std::invalid_argument);
  EXPECT_THROW(RunningCooling({2 * hour, hour, {}}), std::invalid_argument);
  EXPECT_THROW(RunningCooling({2 * hour, {}, LogTime{}}), std::invalid_argument);
  EXPECT_THROW(cooling_of({}, celsius(57), celsius(57), celsius(5), {}, in_all), std::invalid_argument);
  EXPECT_THROW(cooling_of({}, celsius(57), celsius(21), celsius(5), kelvins(-1), in_all), std::invalid_argument);
}

/// Readings that only ever fall, 10 min apart or so.
rc::Gen<std::vector<Reading>> a_cooling() {
  return rc::gen::map(
      rc::gen::container<std::vector<std::pair<int, int>>>(rc::gen::pair(rc::gen::inRange(1, 60), rc::gen::inRange(0, 1500))),
      [](const std::vector<std::pair<int, int>>& drawn) {
        std::vector<Reading> series{{minute(0), celsius(65)}};
        for (const auto& [step, fall] : drawn) {
          const Reading& last = series.back();
          series.push_back({last.at + std::chrono::minutes{step}, *last.temperature - TemperatureSpan::hundredths_celsius(fall)});
        }
        return series;
      });
}
CoolingTold of(const std::vector<Reading>& series, int hundredths, const CoolingLimits& limits) {
  return cooling_of(series, celsius(57), celsius(21), celsius(5), TemperatureSpan::hundredths_celsius(hundredths), limits);
}

RC_GTEST_PROP(Cooling, NeverTurnsToShownByALargerErrorOrAReadingLess, ()) {
  const auto series = *a_cooling();
  const auto limits = *rc::gen::element(in_all, further);
  const int error = *rc::gen::inRange(0, 200);
  const auto told = of(series, error, limits);
  const auto worse = [&](const CoolingTold& less) {
    RC_ASSERT(told.first.verdict == Verdict::shown || less.first.verdict != Verdict::shown);
    RC_ASSERT(told.total.verdict == Verdict::shown || less.total.verdict != Verdict::shown);
  };
  worse(of(series, error + *rc::gen::inRange(0, 200), limits));
  auto without = series;
  without.erase(without.begin() + *rc::gen::inRange<std::ptrdiff_t>(0, static_cast<std::ptrdiff_t>(series.size())));
  worse(of(without, error, limits));
}

RC_GTEST_PROP(Cooling, OnlyTightensByAReadingOnTheLine, ()) {
  const auto series = *a_cooling();
  RC_PRE(series.size() > 1u);
  const auto at = *rc::gen::inRange<std::size_t>(1, series.size());
  const Reading& a = series[at - 1];
  const Reading& b = series[at];
  const Reading between{a.at + (b.at - a.at) / 2,
                        *a.temperature - TemperatureSpan::parts((*a.temperature - *b.temperature).to_parts() / 2)};
  auto more = series;
  more.insert(more.begin() + static_cast<std::ptrdiff_t>(at), between);
  const auto one = of(series, 30, in_all);
  const auto other = of(more, 30, in_all);
  for (const auto& [wide, narrow] : {std::pair{one.first, other.first}, std::pair{one.total, other.total}}) {
    if (wide.longest) RC_ASSERT(narrow.longest && *narrow.longest <= *wide.longest);
    if (wide.shortest) RC_ASSERT(narrow.shortest && *narrow.shortest >= *wide.shortest);
    if (narrow.longest && narrow.shortest) RC_ASSERT(*narrow.shortest <= *narrow.longest);
  }
}

RC_GTEST_PROP(Cooling, IsTheSameInAnyOrder, ()) {
  const auto series = *a_cooling();
  auto mixed = series;
  std::reverse(mixed.begin(), mixed.end());
  RC_ASSERT(of(series, 20, in_all).first.longest == of(mixed, 20, in_all).first.longest);
  RC_ASSERT(of(series, 20, in_all).total.shortest == of(mixed, 20, in_all).total.shortest);
}

}  // namespace
}  // namespace tierproof
