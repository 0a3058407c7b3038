// A published reference for heating that is not law, where a kitchen's plan adopts it.
#include <gtest/gtest.h>

#include "readings.h"

namespace tierproof {
namespace {

using test::cited;
using test::minute;
using test::minutes_long;
using test::readings;
using test::steady;
using test::terms_for_tests;
using test::operator+;

HeatReference reference_row() {
  HeatReference row;
  row.cited = cited("low-activity");
  row.reference = celsius(65);
  row.z = kelvins(10);
  row.required = minutes_long(10);
  row.floor = celsius(65);
  row.ceiling = celsius(75);
  row.longest_step = minutes_long(1);
  row.activity_from = share_of(82, 100);
  row.activity_to = share_of(87, 100);
  row.sugar_from = share_of(62, 100);
  row.sugar_to = share_of(67, 100);
  row.worth = "3 log of a germ";
  return row;
}

EggStep meringue_mix(const Share& sugar = share_of(2, 3)) {
  EggStep step;
  step.subject = "batch-4";
  step.egg = "raw, heated here";
  step.sugar_of_mix = sugar;
  step.only_egg_and_sugar = true;
  step.adopted = AdoptedReference{reference_row(), "ada, 3 March 2026, note 9"};
  return step;
}

/// Up from and back to 40 °C, `minutes` of readings of `degrees` half a minute apart between.
std::vector<Reading> held_minutes_at(double degrees, double minutes) {
  const int count = static_cast<int>(minutes * 2) + 1;
  return readings({{0.5, 40.0}, {1.5, 40.0}}) + steady(degrees, count, 0.5, 2) + readings({{2 + count * 0.5, 40.0}});
}

Finding judged_by_reference(const EggStep& step, const std::vector<Reading>& series, TemperatureSpan error = {}, bool reliable = true) {
  TemperatureTerms terms = terms_for_tests();
  terms.references = {reference_row()};
  return judge_egg_step(step, series, error, reliable, "probe 1", terms).value();
}

TEST(AdoptedReference, ShowsAMixInsideItsRangeAndSaysThatItIsNoLaw) {
  const Finding f = judged_by_reference(meringue_mix(), held_minutes_at(75, 1));
  EXPECT_EQ(f.verdict, Verdict::shown);
  EXPECT_EQ(f.stop, Stop::none);
  EXPECT_NE(
      f.message.find("published reference for 3 log of a germ, which is not law and which the plan adopts (ada, 3 March 2026, note 9)"),
      std::string::npos)
      << f.message;
  EXPECT_EQ(f.limit, "the equal of 10 min at 65 °C, z 10 °C: 3 log of a germ, by a published reference that is not law");
  EXPECT_EQ(f.source, "[low-activity: a row made for this test]");
}

TEST(AdoptedReference, CountsNoMoreThanItsCeilingAndNothingBelowItsFloor) {
  for (const double degrees : {75.0, 85.0}) {
    const Finding half = judged_by_reference(meringue_mix(), held_minutes_at(degrees, 0.5));
    EXPECT_EQ(half.verdict, Verdict::not_shown);
    EXPECT_NE(half.message.find("worth at least 5 min at 65 °C (needs 10 min)"), std::string::npos) << half.message;
  }
  EXPECT_EQ(judged_by_reference(meringue_mix(), held_minutes_at(64.99, 60)).verdict, Verdict::not_met);
  EXPECT_EQ(judged_by_reference(meringue_mix(), held_minutes_at(65, 10)).verdict, Verdict::shown);
  const Finding f = judged_by_reference(meringue_mix(), held_minutes_at(65, 10), kelvins(0.5));
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_NE(
      f.remedy.find("10 min more with readings of 65.5 °C or more by this thermometer, one at least every 1 min, would have shown it"),
      std::string::npos)
      << f.remedy;
  EXPECT_EQ(judged_by_reference(meringue_mix(), held_minutes_at(75, 1), {}, false).verdict, Verdict::not_shown)
      << "by a thermometer that nobody checked";
}

TEST(AdoptedReference, HoldsFromEndToEndOfItsRangeOfSugarAndNoFurther) {
  const auto verdict = [](const Share& sugar) { return judged_by_reference(meringue_mix(sugar), held_minutes_at(75, 5)).verdict; };
  EXPECT_EQ(verdict(share_of(62, 100)), Verdict::shown);
  EXPECT_EQ(verdict(share_of(6199, 10'000)), Verdict::outside_model);
  EXPECT_EQ(verdict(share_of(67, 100)), Verdict::shown);
  EXPECT_EQ(verdict(share_of(6701, 10'000)), Verdict::outside_model);
  EggStep with_cream = meringue_mix();
  with_cream.only_egg_and_sugar = false;
  const Finding f = judged_by_reference(with_cream, held_minutes_at(75, 5));
  EXPECT_EQ(f.verdict, Verdict::outside_model);
  EXPECT_NE(
      f.remedy.find("the reference low-activity that the plan adopts holds for water activity 0.82 to 0.87, or egg white with 62 % to 67 % "
                    "sugar and nothing else, and not for this mix"),
      std::string::npos)
      << f.remedy;
}

TEST(AdoptedReference, GoesByTheMeasuredWaterActivityBeforeAnySugar) {
  const auto verdict = [](const Share& activity) {
    EggStep step = meringue_mix();
    step.water_activity = activity;
    return judged_by_reference(step, held_minutes_at(75, 5)).verdict;
  };
  EXPECT_EQ(verdict(share_of(82, 100)), Verdict::shown);
  EXPECT_EQ(verdict(share_of(8199, 10'000)), Verdict::outside_model);
  EXPECT_EQ(verdict(share_of(87, 100)), Verdict::shown);
  EXPECT_EQ(verdict(share_of(8701, 10'000)), Verdict::outside_model);
  EggStep measured = meringue_mix(share_of(1, 2));
  measured.only_egg_and_sugar = false;
  measured.water_activity = share_of(85, 100);
  EXPECT_EQ(judged_by_reference(measured, held_minutes_at(75, 5)).verdict, Verdict::shown) << "measured, whatever is in it";
}

TEST(AdoptedReference, VouchesForNothingUnlessAdoptedAndIsOfferedThen) {
  EggStep step = meringue_mix();
  step.adopted.reset();
  const Finding f = judged_by_reference(step, held_minutes_at(75, 60));
  EXPECT_EQ(f.verdict, Verdict::outside_model);
  EXPECT_EQ(f.remedy.find("use pasteurised egg white"), 0u) << f.remedy;
  EXPECT_NE(f.remedy.find("or let your plan adopt the published reference low-activity (3 log of a germ;"), std::string::npos) << f.remedy;
  EXPECT_NE(f.remedy.find("which is not law: `tierproof adopt`"), std::string::npos) << f.remedy;
  step.sugar_of_mix = share_of(1, 2);
  EXPECT_EQ(judged_by_reference(step, held_minutes_at(75, 60)).remedy.find("adopt"), std::string::npos) << "it would not hold for this mix";
}

TEST(AdoptedReference, LeavesPlainEggToTheLaw) {
  EggStep step = meringue_mix(share_of(5, 100));
  step.water_activity = share_of(85, 100);
  EXPECT_EQ(judged_by_reference(step, held_minutes_at(65, 60)).verdict, Verdict::not_met) << "70 °C for 2 min is wanted of such a mix";
  step.sugar_of_mix.reset();
  EXPECT_NE(judged_by_reference(step, held_minutes_at(75, 60)).verdict, Verdict::shown) << "with its sugar not known";
}

TEST(WhatWouldHaveShownIt, IsToldInReadingsOfThisThermometer) {
  EggStep step = meringue_mix(share_of(5, 100));
  step.adopted.reset();
  const Finding f = judged_by_reference(step, held_minutes_at(71, 1.5) + readings({{6, 71.0}}), kelvins(0.5));
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_NE(f.remedy.find("readings of 70.5 °C or more by this thermometer for 2 min without a break, one at least every 1 min, would have "
                          "shown it"),
            std::string::npos)
      << f.remedy;
  const Finding unchecked = judged_by_reference(step, held_minutes_at(71, 5), {}, false);
  EXPECT_EQ(unchecked.remedy.find("would have shown it"), std::string::npos) << "heat is not what was missing: " << unchecked.remedy;
}

}  // namespace
}  // namespace tierproof
