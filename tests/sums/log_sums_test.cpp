#include "tierproof/sums/log_sums.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <limits>

#include "readings.h"
#include "samples.h"
#include "tierproof/sums/stay.h"

namespace tierproof {
namespace {

using test::a_series;
using test::heat_of;
using test::log_at_70;
using test::samples;
using test::samples_of;
using test::stay_of;

constexpr double none = std::numeric_limits<double>::quiet_NaN();  // a fault

TEST(HeatOfLog, IsShownFromTheNeedOnAndNotJustUnderIt) {
  const auto log = samples({{0, 70}, {1, 70}, {2, 70}});
  LogHeatTerms terms = log_at_70;
  terms.need = Minutes{2};
  EXPECT_EQ(heat_of(log, terms).verdict, Verdict::shown);
  terms.need = Minutes{2.0000001};
  EXPECT_EQ(heat_of(log, terms).verdict, Verdict::not_met) << "no reading is warmer";
  terms.error = fine_celsius(0.1);
  EXPECT_EQ(heat_of(log, terms).verdict, Verdict::not_shown) << "it may have been warmer";
  terms = log_at_70;
  terms.need = Minutes{1};
  EXPECT_EQ(heat_of(samples({{0, 69}, {1, 70}}), terms).verdict, Verdict::not_shown) << "the upper bound meets the need exactly";
}

TEST(HeatOfLog, CountsAStepOfTheLongestLengthAndNoMicrosecondMore) {
  auto log = samples({{0, 70}, {1, 70}});
  EXPECT_EQ(heat_of(log, log_at_70).lower.count(), 1.0);
  EXPECT_EQ(heat_of(log, log_at_70).gap, LogTime{});
  log[1].at += LogTime{1};
  EXPECT_EQ(heat_of(log, log_at_70).upper.count(), 0.0);
  EXPECT_EQ(heat_of(log, log_at_70).gap, LogTime{60'000'001});
}

TEST(HeatOfLog, IsNeverNotMetOverAGapSinceNobodyKnowsHowHotItWas) {
  LogHeatTerms terms = log_at_70;
  terms.need = Minutes{2};
  EXPECT_EQ(heat_of(samples({{0, 20}, {1, 20}}), terms).verdict, Verdict::not_met);
  EXPECT_EQ(heat_of(samples({{0, 20}, {1, 20}, {3, 20}}), terms).verdict, Verdict::not_shown);
  const auto faulty = heat_of(samples({{0, 20}, {1, none}, {2, 20}}), terms);
  EXPECT_EQ(faulty.verdict, Verdict::not_shown);
  EXPECT_EQ(faulty.gap, LogTime{120'000'000});
}

TEST(HeatOfLog, OfOneReadingOrNoneShowsNothing) {
  EXPECT_EQ(heat_of(samples({{0, 90}}), log_at_70).verdict, Verdict::not_shown);
  EXPECT_EQ(heat_of(samples({{0, 90}}), log_at_70).upper.count(), 0.0);
  EXPECT_EQ(heat_of({}, log_at_70).verdict, Verdict::not_shown);
}

TEST(HeatOfLog, TakesNothingBelowTheFloorAndTheCeilingForWhatIsWarmer) {
  LogHeatTerms terms = log_at_70;
  terms.floor = fine_celsius(65);
  terms.ceiling = fine_celsius(70);
  EXPECT_EQ(heat_of(samples({{0, 90}, {1, 90}}), terms).exact.count(), 1.0);
  EXPECT_EQ(heat_of(samples({{0, 64.999}, {1, 64.999}}), terms).upper.count(), 0.0);
  EXPECT_GT(heat_of(samples({{0, 65}, {1, 65}}), terms).lower.count(), 0.2);
  terms.error = fine_celsius(0.001);
  EXPECT_EQ(heat_of(samples({{0, 65}, {1, 65}}), terms).lower.count(), 0.0) << "65 less the error is below the floor";
}

TEST(HeatOfLog, IsOutsideTheModelWhereOnlyTheUntestedRangeCouldMeetTheNeed) {
  LogHeatTerms terms = log_at_70;
  terms.need = Minutes{5};
  terms.ceiling = fine_celsius(70);
  EXPECT_EQ(heat_of(samples({{0, 90}, {1, 90}}), terms).verdict, Verdict::outside_model);
  EXPECT_EQ(heat_of(samples({{0, 70}, {1, 70}}), terms).verdict, Verdict::not_met);
  terms.ceiling.reset();
  terms.floor = fine_celsius(69);
  terms.need = Minutes{0.5};
  EXPECT_EQ(heat_of(samples({{0, 68}, {1, 68}}), terms).verdict, Verdict::outside_model);
  EXPECT_EQ(heat_of(samples({{0, 60}, {1, 60}}), terms).verdict, Verdict::not_met);
}

TEST(HeatOfLog, RefusesTermsThatMeanNothing) {
  const auto with = [](auto change) {
    LogHeatTerms terms = log_at_70;
    change(terms);
    return terms;
  };
  EXPECT_THROW(HeatOfLog{with([](auto& t) { t.z = FineCelsius{}; })}, std::invalid_argument);
  EXPECT_THROW(HeatOfLog{with([](auto& t) { t.need = Minutes{}; })}, std::invalid_argument);
  EXPECT_THROW(HeatOfLog{with([](auto& t) { t.error = fine_celsius(-0.1); })}, std::invalid_argument);
  EXPECT_THROW(HeatOfLog{with([](auto& t) { t.longest_step = LogTime{}; })}, std::invalid_argument);
  EXPECT_THROW(HeatOfLog{with([](auto& t) { t.floor = fine_celsius(70), t.ceiling = fine_celsius(60); })}, std::invalid_argument);
}

RC_GTEST_PROP(HeatOfLog, IsTheSumThatTheKitchensRecordsAreJudgedBy, ()) {
  const auto series = *a_series();
  const auto error = *rc::gen::inRange(0, 200);
  const HeatTerms terms{celsius(70), kelvins(7.5),          celsius(55),
                        celsius(74), test::minutes_long(1), TemperatureSpan::hundredths_celsius(error)};
  LogHeatTerms log = log_at_70;
  log.floor = fine_celsius(55);
  log.ceiling = fine_celsius(74);
  log.error = fine_celsius(error / 100.0);
  const auto one = demonstrated_time(series, terms);
  const auto other = heat_of(samples_of(series), log);
  const auto near = [](Minutes a, Minutes b) { return std::abs(a.count() - b.count()) <= 1e-9 * (1 + std::abs(a.count())); };
  RC_ASSERT(near(one.lower, other.lower));
  RC_ASSERT(near(one.estimate, other.exact));
  RC_ASSERT(near(one.trapezoid, other.trapezoid));
  RC_ASSERT(near(one.upper, other.upper));
  Span gaps{};
  for (const Gap& gap : one.gaps) gaps += gap.to - gap.from;
  RC_ASSERT(LogTime{gaps} == other.gap);
}

TEST(StayOfLog, HoldsAReadingEqualToTheLimitForWithinIt) {
  EXPECT_TRUE(stay_of(samples({{0, 7.9}, {15, 8}, {30, 8}, {45, 7.8}}), 8).kept());
  EXPECT_FALSE(stay_of(samples({{0, 7.9}, {15, 8.000000001}, {30, 8}}), 8).kept());
  // 7.7 + 0.3 is more than 8 in binary fractions
  EXPECT_TRUE(stay_of(samples({{0, 7.7}, {15, 7.7}}), 8, 0.3).kept());
  EXPECT_FALSE(stay_of(samples({{0, 7.7}, {15, 7.7}}), 8, 0.300000001).kept());
}

TEST(StayOfLog, GivesEachExcursionItsThreeDurationsWithTheErrorOnBothSides) {
  const auto stay = stay_of(samples({{0, 4.2}, {15, 5.0}, {30, 7.6}, {45, 9.4}, {60, 10.1}, {75, 8.6}, {90, 6.9}, {105, 5.2}}), 8, 0.7);
  ASSERT_EQ(stay.excursions.size(), 1u);
  const auto& e = stay.excursions[0];
  EXPECT_EQ(e.least, LogTime{std::chrono::minutes{15}}) << "above even at 0.7 °C less: 45 and 60 min";
  EXPECT_EQ(e.longest, LogTime{std::chrono::minutes{75}}) << "perhaps above from 30 on: from 15 to 90 min";
  EXPECT_NEAR(e.estimate_us / 60e6, 46.960784, 1e-6) << "T itself, whatever the error";
  EXPECT_EQ(e.peak, fine_celsius(10.1));
  EXPECT_NEAR(e.from_us / 60e6, 15 + 15 * (7.3 - 5.0) / 2.6, 1e-9);
  EXPECT_NEAR(e.to_us / 60e6, 75 + 15 * (8.6 - 7.3) / 1.7, 1e-9);
}

TEST(StayOfLog, TellsATimeThatIsOnlyPerhapsAboveAsOneOfNoLeastLength) {
  const auto stay = stay_of(samples({{0, 5}, {15, 7.8}, {30, 7.8}, {45, 5}}), 8, 0.5);
  ASSERT_EQ(stay.excursions.size(), 1u);
  EXPECT_EQ(stay.excursions[0].least, LogTime{});
  EXPECT_EQ(stay.excursions[0].estimate_us, 0);
  EXPECT_EQ(stay.excursions[0].longest, LogTime{std::chrono::minutes{45}});
}

TEST(StayOfLog, CountsAsSureOnlyBetweenTwoRowsThatAreBothSurelyAbove) {
  const auto stay = stay_of(samples({{0, 5}, {15, 8.3}, {30, 9}, {45, 8.3}, {60, 5}}), 8, 0.5);
  ASSERT_EQ(stay.excursions.size(), 1u);
  EXPECT_EQ(stay.excursions[0].least, LogTime{});
}

TEST(StayOfLog, LeavesAnExcursionOpenAtAGapAtAFaultAndAtEitherEnd) {
  const auto stay = stay_of(samples({{0, 9}, {15, 9}, {50, 9}, {65, none}, {80, 9}, {95, 9}}), 8);
  ASSERT_EQ(stay.excursions.size(), 3u);
  for (const auto& e : stay.excursions) EXPECT_FALSE(e.longest.has_value());
  EXPECT_EQ(stay.excursions[0].least, LogTime{std::chrono::minutes{15}});
  EXPECT_EQ(stay.excursions[1].least, LogTime{});
  EXPECT_EQ(stay.excursions[2].to_us, 95 * 60e6);
  ASSERT_EQ(stay.gaps.size(), 2u);
  EXPECT_EQ(stay.gaps[1].from, LogTime{std::chrono::minutes{50}});
  EXPECT_EQ(stay.gaps[1].to, LogTime{std::chrono::minutes{80}}) << "a fault lies within one gap";
  EXPECT_NEAR(stay.coverage, 30.0 / 95, 1e-12);
}

TEST(StayOfLog, OfOneReadingCoversNoTime) {
  const auto stay = stay_of(samples({{0, 4}}), 8);
  EXPECT_EQ(stay.coverage, 0.0);
  EXPECT_FALSE(stay.kept());
}

RC_GTEST_PROP(StayOfLog, FindsWhatTheKitchensRecordsAreJudgedBy, ()) {
  const auto series = *a_series();
  const auto limit = *rc::gen::inRange(5000, 8000);
  const Span step = std::chrono::minutes{1};
  const auto one = excursions_above(series, Temperature::hundredths_celsius(limit), step);
  const auto other = stay_of(samples_of(series), limit / 100.0, 0, 60);
  RC_ASSERT(one.size() == other.excursions.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    const auto& e = other.excursions[i];
    RC_ASSERT(LogTime{one[i].minimum} == e.least);
    RC_ASSERT(one[i].maximum.has_value() == e.longest.has_value());
    if (e.longest) RC_ASSERT(LogTime{*one[i].maximum} == *e.longest);
    RC_ASSERT(std::abs(one[i].estimate.count() - e.estimate_us / 60e6) < 1e-6);
    RC_ASSERT(std::abs(one[i].estimate.count() - (e.to_us - e.from_us) / 60e6) < 1e-6);
    RC_ASSERT(std::abs(one[i].area_kelvin_minutes - e.area_us / 60e6) < 1e-6);
    RC_ASSERT(one[i].peak.to_celsius() == e.peak.to_celsius());
  }
  const auto gaps = gaps_in(series, series.front().at, series.back().at, step);
  RC_ASSERT(gaps.size() == other.gaps.size());
  for (std::size_t i = 0; i < gaps.size(); ++i) {
    RC_ASSERT(LogTime{gaps[i].from.time_since_epoch()} == other.gaps[i].from);
    RC_ASSERT(LogTime{gaps[i].to.time_since_epoch()} == other.gaps[i].to);
  }
  if (series.size() > 1) RC_ASSERT(std::abs(other.coverage - coverage(series, series.front().at, series.back().at, step)) < 1e-12);
}

RC_GTEST_PROP(StayOfLog, NeverBecomesKeptByALargerErrorAndItsBoundsOnlyWiden, ()) {
  const auto log = samples_of(*a_series());
  const auto error = *rc::gen::inRange(0, 300);
  const auto more = *rc::gen::inRange(0, 300);
  const auto narrow = stay_of(log, 65, error / 100.0, 60);
  const auto wide = stay_of(log, 65, (error + more) / 100.0, 60);
  RC_ASSERT(narrow.kept() || !wide.kept());
  const auto least = [](const LogStay& stay) {
    LogTime all{};
    for (const auto& e : stay.excursions) all += e.least;
    return all;
  };
  RC_ASSERT(least(wide) <= least(narrow));
  for (const auto& e : wide.excursions) RC_ASSERT(static_cast<double>(e.least.count()) <= e.estimate_us + 1e-3);
}

}  // namespace
}  // namespace tierproof
