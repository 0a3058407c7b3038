#include "tierproof/sums/probe.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <stdexcept>

#include "readings.h"
#include "tierproof/sums/heat.h"

namespace tierproof {
namespace {

using test::minute;

const ProbeTerm probe_term{test::cited("probe"), kelvins(1), 7};
const Offset zulu{0};

Instant day(int number, int hour = 8) { return minute(0) + std::chrono::days{number} + std::chrono::hours{hour - 8}; }
ProbeCheck in_ice(Instant at, double read = 0.2) { return {at, "ice", celsius(read), celsius(0)}; }
ProbeCheck at_boil(Instant at, double read = 99.9) { return {at, "boiling", celsius(read), celsius(99.97)}; }

TEST(ProbeCheck, IsGoodAtTheEdgeOfTheBandAndNotAHundredthBeyond) {
  for (const double read : {1.0, -1.0}) EXPECT_TRUE(is_good(in_ice(day(1), read), probe_term)) << read;
  for (const double read : {1.01, -1.01}) EXPECT_FALSE(is_good(in_ice(day(1), read), probe_term)) << read;
  EXPECT_TRUE(is_good({day(1), "boiling", celsius(95.65), celsius(96.65)}, probe_term));
  EXPECT_FALSE(is_good({day(1), "boiling", celsius(98), celsius(96.65)}, probe_term));
}

TEST(ProbeCheck, GoesByTheBoilingPointOfThePlace) {
  const double boils = boiling_point(isa_pressure(1000));  // 96.6488 °C, case T26
  EXPECT_TRUE(is_good({day(1), "boiling", celsius(96.2), celsius(boils)}, probe_term));
  EXPECT_FALSE(is_good({day(1), "boiling", celsius(96.2), celsius(99.97)}, probe_term));
}

TEST(Drift, IsToldByMethodWithTheFirstTheLastAndTheFarthest) {
  const auto check = [](int day, const char* method, double read, double expected) {
    return ProbeCheck{Instant{std::chrono::hours{24 * day}}, method, celsius(read), celsius(expected)};
  };
  const std::vector checks{check(1, "ice", 0.1, 0), check(2, "boiling", 99.5, 100), check(3, "ice", -0.4, 0), check(4, "ice", 0.3, 0)};
  const auto drift = drift_of(checks);
  ASSERT_EQ(drift.size(), 2u);
  EXPECT_EQ(drift[0].method, "ice");
  EXPECT_EQ(drift[0].checks, 3u);
  EXPECT_EQ(drift[0].first, kelvins(0.1));
  EXPECT_EQ(drift[0].last, kelvins(0.3));
  EXPECT_EQ(drift[0].most, kelvins(-0.4)) << "the farthest, whichever way";
  EXPECT_EQ(drift[1].most, kelvins(-0.5));
  EXPECT_TRUE(drift_of({}).empty());
}

TEST(LongestUnread, IsFromEndToEndWithTheReadingsBetween) {
  const auto at = [](int minute) { return Instant{std::chrono::minutes{minute}}; };
  const std::vector read_at{at(5), at(15), at(40), at(70)};
  EXPECT_EQ(longest_unread(read_at, at(0), at(60)), std::chrono::minutes{25});
  EXPECT_EQ(longest_unread(read_at, at(0), at(100)), std::chrono::minutes{30}) << "to the end";
  EXPECT_EQ(longest_unread(read_at, at(41), at(60)), std::chrono::minutes{19}) << "nothing was read";
  EXPECT_EQ(longest_unread({}, at(0), at(7)), std::chrono::minutes{7});
}

TEST(Trust, NeedsAGoodCheckBefore) {
  EXPECT_FALSE(trust_at(day(1), {}, probe_term, zulu).good);
  EXPECT_EQ(trust_at(day(1), {}, probe_term, zulu).words, "no check of the thermometer before");
  EXPECT_FALSE(trust_at(day(1), std::vector{in_ice(day(2))}, probe_term, zulu).good);
  const auto trusted = trust_at(day(2), std::vector{in_ice(day(1))}, probe_term, zulu);
  EXPECT_TRUE(trusted.good);
  EXPECT_EQ(trusted.words, "checked in ice on 2 May 2026, read 0.2 °C");
  EXPECT_TRUE(trust_at(day(1), std::vector{in_ice(day(1))}, probe_term, zulu).good);
}

TEST(Trust, EndsWithAFailedCheckBefore) {
  const auto doubted = trust_at(day(3), std::vector{in_ice(day(1)), in_ice(day(2), 1.8)}, probe_term, zulu);
  EXPECT_FALSE(doubted.good);
  EXPECT_EQ(doubted.words, "the check in ice on 3 May 2026 failed: read 1.8 °C, should be 0 °C ± 1 °C, and was not good again before");
  EXPECT_TRUE(trust_at(day(3), std::vector{in_ice(day(1), 1.8), in_ice(day(2))}, probe_term, zulu).good);
}

TEST(Trust, IsTakenBackByALaterFailedCheck) {
  std::vector<ProbeCheck> checks{in_ice(day(1))};
  EXPECT_TRUE(trust_at(day(2), checks, probe_term, zulu).good);
  checks.push_back(in_ice(day(5), -1.2));
  const auto doubted = trust_at(day(2), checks, probe_term, zulu);
  EXPECT_FALSE(doubted.good);
  EXPECT_NE(doubted.words.find("the next check was not good: the check in ice on 6 May 2026 failed: read -1.2 °C"), std::string::npos)
      << doubted.words;
}

TEST(Trust, IsKeptByAGoodNextCheckWhateverComesLater) {
  const std::vector<ProbeCheck> checks{in_ice(day(1)), in_ice(day(4)), in_ice(day(6), 3)};
  EXPECT_TRUE(trust_at(day(2), checks, probe_term, zulu).good);
  EXPECT_EQ(trust_at(day(2), checks, probe_term, zulu).words, "checked in ice on 2 May 2026, read 0.2 °C; good again in ice on 5 May 2026");
  EXPECT_FALSE(trust_at(day(5), checks, probe_term, zulu).good);
}

TEST(Trust, IsOverdueAfterTheDaysBetweenByTheCalendar) {
  const std::vector<ProbeCheck> checks{in_ice(day(1, 18))};
  EXPECT_TRUE(trust_at(day(8, 23), checks, probe_term, zulu).good);  // seven days later, whatever the hour
  EXPECT_FALSE(trust_at(day(9, 0), checks, probe_term, zulu).good);
  EXPECT_EQ(trust_at(day(9, 0), checks, probe_term, zulu).words, "the last good check was on 2 May 2026, more than 7 days before");
  EXPECT_FALSE(trust_at(day(8, 23), checks, probe_term, Offset{120}).good);  // 01:00 of the next day there
}

TEST(Trust, IsNotMendedByAnotherMethod) {
  EXPECT_FALSE(trust_at(day(3), std::vector{in_ice(day(1), 2), at_boil(day(2))}, probe_term, zulu).good);
  EXPECT_TRUE(trust_at(day(4), std::vector{in_ice(day(1), 2), at_boil(day(2)), in_ice(day(3))}, probe_term, zulu).good);
}

TEST(Trust, CountsEveryMethodOfTheDayOfTheNextCheck) {
  const std::vector<ProbeCheck> both{in_ice(day(1)), in_ice(day(5)), at_boil(day(5) + std::chrono::minutes{5}, 97)};
  EXPECT_FALSE(trust_at(day(2), both, probe_term, zulu).good);
  const std::vector<ProbeCheck> dropped{in_ice(day(1)), in_ice(day(5)), in_ice(day(5, 16), 4)};  // it was good that morning
  EXPECT_TRUE(trust_at(day(2), dropped, probe_term, zulu).good);
}

TEST(Trust, OfAStretchNeedsEveryCheckInItAndNoneOverdue) {
  const std::vector<ProbeCheck> good{in_ice(day(1)), in_ice(day(6)), in_ice(day(12))};
  EXPECT_TRUE(trust_between(day(2), day(14), good, probe_term, zulu).good);
  EXPECT_FALSE(trust_between(day(2), day(20), good, probe_term, zulu).good);
  EXPECT_FALSE(trust_between(day(0), day(3), good, probe_term, zulu).good);
  EXPECT_FALSE(trust_between(day(2), day(14), std::vector{in_ice(day(1)), in_ice(day(6), 2), in_ice(day(6, 9))}, probe_term, zulu).good);
  EXPECT_FALSE(trust_between(day(2), day(12), std::vector{in_ice(day(1)), in_ice(day(11))}, probe_term, zulu).good);  // ten days between
  EXPECT_THROW(trust_between(day(2), day(1), good, probe_term, zulu), std::invalid_argument);
}

RC_GTEST_PROP(Trust, IsNeverGainedByAFailedCheck, ()) {
  std::vector<ProbeCheck> checks;
  const auto count = *rc::gen::inRange(0, 6);
  for (int i = 0; i < count; ++i) {
    const auto at = day(*rc::gen::inRange(0, 20), *rc::gen::inRange(6, 20));
    const auto good = *rc::gen::weightedElement<bool>({{5, true}, {1, false}});
    checks.push_back(*rc::gen::arbitrary<bool>() ? in_ice(at, good ? 0.1 : 2) : at_boil(at, good ? 99.9 : 95));
  }
  const auto from = day(*rc::gen::inRange(0, 20), 12);
  const auto to = from + std::chrono::days{*rc::gen::inRange(0, 10)};
  const bool before = trust_between(from, to, checks, probe_term, zulu).good;
  checks.push_back(in_ice(day(*rc::gen::inRange(0, 20), *rc::gen::inRange(6, 20)), 5));
  RC_ASSERT(!trust_between(from, to, checks, probe_term, zulu).good || before);
}

TEST(Thermometers, AreShownOnlyWhenEachCanBeTrusted) {
  const Trust good{true, "checked in ice on 2 May 2026, read 0.2 °C"};
  const Trust bad{false, "no check of the thermometer before"};
  const Finding both = judge_thermometers("cake-1", std::vector<ProbeTrust>{{"fridge probe", good}, {"hand probe", bad}}, probe_term);
  EXPECT_EQ(both.control, "thermometer");
  EXPECT_EQ(both.verdict, Verdict::not_shown);
  EXPECT_EQ(both.stop, Stop::needs_person);
  EXPECT_EQ(both.message, "1 of 2 thermometers cannot be relied on: hand probe: no check of the thermometer before");
  EXPECT_EQ(both.paths.size(), 2u);
  EXPECT_EQ(judge_thermometers("cake-1", std::vector<ProbeTrust>{{"fridge probe", good}}, probe_term).verdict, Verdict::shown);
  EXPECT_EQ(judge_thermometers("cake-1", {}, probe_term).verdict, Verdict::not_shown);
}

// T12 and the facts of section 2.1 take off "probe tolerance"; a display adds half of its last digit (from memory, JCGM 100 F.2.2.1).
TEST(ReadingError, IsTheAccuracyAndHalfAStepAndNeverLess) {
  const auto c = [](std::int64_t n) { return TemperatureSpan::hundredths_celsius(n); };
  const auto f = [](std::int64_t n) { return TemperatureSpan::hundredths_fahrenheit(n); };
  EXPECT_EQ(reading_error(c(50), c(10)), c(55));
  EXPECT_EQ(reading_error(c(100), c(100)), c(150));
  EXPECT_EQ(reading_error(f(200), f(20)), f(210));
  EXPECT_EQ(reading_error(c(50), c(1)), c(50) + TemperatureSpan::parts(5));    // 4.5 parts, rounded up
  EXPECT_EQ(reading_error(f(100), f(1)), f(100) + TemperatureSpan::parts(3));  // 2.5 parts, rounded up
}

TEST(ProbeCheck, InFahrenheitIsComparedExactlyAndToldAsRead) {
  const auto check = [](std::int64_t hundredths) {
    return ProbeCheck{day(1), "ice", Temperature::hundredths_fahrenheit(hundredths), celsius(0), Scale::fahrenheit};
  };
  // 1 °C is 1.8 °F: 33.80 °F is at the edge, 33.81 °F reads 1.01 °C
  EXPECT_TRUE(is_good(check(3380), probe_term));
  EXPECT_FALSE(is_good(check(3381), probe_term));
  EXPECT_TRUE(is_good(check(3020), probe_term));
  EXPECT_FALSE(is_good(check(3019), probe_term));
  EXPECT_EQ(check_in_words(check(3380), probe_term), "read 33.8 °F (1 °C) in ice, should be 0 °C ± 1 °C");
  EXPECT_EQ(check_in_words(check(-5), probe_term), "read -0.05 °F (-17.81 °C) in ice, should be 0 °C ± 1 °C");
  const auto doubted = trust_at(
      day(2), std::vector{check(3380), ProbeCheck{day(2), "ice", Temperature::hundredths_fahrenheit(3400), celsius(0), Scale::fahrenheit}},
      probe_term, zulu);
  EXPECT_NE(doubted.words.find("read 34.0 °F (1.11 °C)"), std::string::npos) << doubted.words;
}

TEST(DoubtedBy, GoesFromTheLastGoodCheckToTheNextGoodOneOfItsMethod) {
  const std::vector<ProbeCheck> checks{in_ice(day(1)), in_ice(day(4)), in_ice(day(8), 2.4), at_boil(day(9)), in_ice(day(10))};
  const auto doubted = doubted_by(2, checks, probe_term, zulu);
  EXPECT_EQ(doubted.from, day(4));
  EXPECT_EQ(doubted.until, day(10));  // good in boiling water does not mend failed in ice
  const auto first = doubted_by(0, std::vector{in_ice(day(3), -2)}, probe_term, zulu);
  EXPECT_EQ(first.from, Instant::min());
  EXPECT_EQ(first.until, Instant::max());
}

TEST(DoubtedBy, PassesOverAGoodCheckOfAnotherMethodOnTheSameDay) {
  const std::vector<ProbeCheck> checks{in_ice(day(1)), in_ice(day(5)), at_boil(day(5) + std::chrono::minutes{5}, 97)};
  EXPECT_EQ(doubted_by(2, checks, probe_term, zulu).from, day(1));
  const std::vector<ProbeCheck> dropped{in_ice(day(1)), in_ice(day(5)), in_ice(day(5, 16), 4)};
  EXPECT_EQ(doubted_by(2, dropped, probe_term, zulu).from, day(5));
}

RC_GTEST_PROP(DoubtedBy, NamesEveryReadingThatTheFailedCheckTakesTrustFrom, ()) {
  std::vector<ProbeCheck> checks;
  const auto count = *rc::gen::inRange(0, 6);
  for (int i = 0; i < count; ++i) {
    const auto at = day(*rc::gen::inRange(0, 12), *rc::gen::inRange(6, 20));
    const auto good = *rc::gen::weightedElement<bool>({{5, true}, {1, false}});
    checks.push_back(*rc::gen::arbitrary<bool>() ? in_ice(at, good ? 0.1 : 2) : at_boil(at, good ? 99.9 : 95));
  }
  const auto failing = in_ice(day(*rc::gen::inRange(0, 12), *rc::gen::inRange(6, 20)) + std::chrono::minutes{30}, 5);
  const auto reading = day(*rc::gen::inRange(0, 12), *rc::gen::inRange(6, 20)) + std::chrono::minutes{1};
  const bool before = trust_at(reading, checks, probe_term, zulu).good;
  checks.push_back(failing);
  const auto doubted = doubted_by(checks.size() - 1, checks, probe_term, zulu);
  const bool inside = reading >= doubted.from && reading < doubted.until;
  if (before && !trust_at(reading, checks, probe_term, zulu).good) RC_ASSERT(inside);
  if (inside) RC_ASSERT(!trust_at(reading, checks, probe_term, zulu).good);
}

TEST(CheckStanding, CountsTheDayThatTheNextCheckIsDue) {
  const std::vector<ProbeCheck> checks{in_ice(day(0))};  // 1 May 2026, every 7 days
  EXPECT_EQ(standing_at(day(0) - std::chrono::hours{1}, checks, probe_term, zulu).is, CheckStanding::Is::never);
  const auto good = standing_at(day(6, 20), checks, probe_term, zulu);
  EXPECT_EQ(good.is, CheckStanding::Is::good);
  EXPECT_EQ(good.words, "checked in ice on 1 May 2026, read 0.2 °C; next due by 8 May 2026");
  EXPECT_EQ(standing_at(day(7), checks, probe_term, zulu).is, CheckStanding::Is::due);
  EXPECT_TRUE(trust_at(day(7), checks, probe_term, zulu).good);
  EXPECT_EQ(standing_at(day(8), checks, probe_term, zulu).is, CheckStanding::Is::overdue);
  EXPECT_FALSE(trust_at(day(8), checks, probe_term, zulu).good);
  const std::vector<ProbeCheck> out{in_ice(day(0)), at_boil(day(1), 97), in_ice(day(2))};
  EXPECT_EQ(standing_at(day(3), out, probe_term, zulu).is, CheckStanding::Is::failed);
}

// docs: ISA of ICAO Doc 7488 (1000 m: 898.746 hPa); weather at the sea between about 980 and 1040 hPa, see probe.h.
TEST(StationPressure, ReducedToTheSeaContradictsTheAltitude) {
  EXPECT_NEAR(sea_level_pressure(89.8746, 1000), 101.325, 1e-3);
  EXPECT_TRUE(is_station_pressure(89.9, 1000));
  EXPECT_FALSE(is_station_pressure(101.3, 1000));  // as a forecast tells it
  EXPECT_FALSE(is_station_pressure(101.3, 300));
  EXPECT_TRUE(is_station_pressure(101.3, 40));
  EXPECT_TRUE(is_station_pressure(97.2, 40));   // a storm
  EXPECT_FALSE(is_station_pressure(89.9, 40));  // the pressure of another place
  EXPECT_THROW(is_station_pressure(100, 6000), std::invalid_argument);
}

// T26: ice 0.4 °C and 96.2 °C where water boils at 96.6488 °C: reads 71.0, true 71.2255; 8.0, true 7.6673; 118, true 118.6419.
TEST(TwoPoint, CorrectsReadingsFromTheSecondCheckToTheNext) {
  ProbeCheck boil{day(1) + std::chrono::minutes{5}, "boiling", celsius(96.2), celsius(96.65)};
  boil.corrects = true;
  const std::vector<ProbeCheck> checks{in_ice(day(1), 0.4), boil, in_ice(day(8), 0.4)};
  const auto corrections = corrections_of(checks, zulu);
  ASSERT_EQ(corrections.size(), 1u);
  EXPECT_TRUE(corrections[0].holds);
  EXPECT_EQ(covering(corrections, day(1)), nullptr);
  EXPECT_EQ(covering(corrections, day(8)), nullptr);
  const auto* points = covering(corrections, day(3));
  ASSERT_NE(points, nullptr);
  EXPECT_NEAR(corrected(celsius(71), *points).to_celsius(), 71.2255, 2e-3);
  EXPECT_NEAR(corrected(celsius(8), *points).to_celsius(), 7.6673, 2e-3);
  EXPECT_NEAR(corrected(celsius(118), *points).to_celsius(), 118.6419, 3e-3);
}

TEST(TwoPoint, HoldsOnlyWithACheckOfTheOtherMethodOnTheSameDay) {
  ProbeCheck boil = at_boil(day(2));
  boil.corrects = true;
  EXPECT_FALSE(corrections_of(std::vector{boil}, zulu)[0].holds);
  EXPECT_FALSE(corrections_of(std::vector{in_ice(day(1)), boil}, zulu)[0].holds);
  EXPECT_FALSE(corrections_of(std::vector{boil, in_ice(day(2, 9))}, zulu)[0].holds);  // made after it
  EXPECT_TRUE(corrections_of(std::vector{in_ice(day(2, 7)), boil}, zulu)[0].holds);
}

TEST(BoilingPoint, IsRefusedOutsideItsRange) {
  EXPECT_NO_THROW(boiling_point(50));
  EXPECT_NO_THROW(boiling_point(150));
  for (const double pressure : {49.9, 150.1, std::nan("")}) EXPECT_THROW(boiling_point(pressure), std::invalid_argument);
  for (const double metres : {-501.0, 5001.0, std::nan("")}) EXPECT_THROW(isa_pressure(metres), std::invalid_argument);
  EXPECT_THROW(two_point_corrected(20, 0, 0, 100), std::invalid_argument);
}

}  // namespace
}  // namespace tierproof
