#include "tierproof/sums/probe.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <stdexcept>

#include "readings.h"

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

TEST(BoilingPoint, IsRefusedOutsideItsRange) {
  EXPECT_NO_THROW(boiling_point(50));
  EXPECT_NO_THROW(boiling_point(150));
  for (const double pressure : {49.9, 150.1, std::nan("")}) EXPECT_THROW(boiling_point(pressure), std::invalid_argument);
  for (const double metres : {-501.0, 5001.0, std::nan("")}) EXPECT_THROW(isa_pressure(metres), std::invalid_argument);
  EXPECT_THROW(two_point_corrected(20, 0, 0, 100), std::invalid_argument);
}

}  // namespace
}  // namespace tierproof
