#include "tierproof/sums/heat.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <stdexcept>

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

const TemperatureSpan no_error{};
const HeatTerms at_70{celsius(70), kelvins(7.5), celsius(-100), celsius(300), minutes_long(1), no_error};

EggStep raw_heated(std::optional<Share> sugar = share_of(5, 100)) {
  EggStep step;
  step.subject = "batch-4";
  step.egg = "raw, heated here";
  step.sugar_of_mix = std::move(sugar);
  return step;
}
/// Up from and back to 40 °C, `count` readings of `degrees` half a minute apart between.
std::vector<Reading> heated_to(double degrees, int count) {
  return readings({{0.5, 40.0}, {1.5, 40.0}}) + steady(degrees, count, 0.5, 2) + readings({{2 + count * 0.5, 40.0}});
}
Finding judged(const EggStep& step, const std::vector<Reading>& series, TemperatureSpan error = {}, bool reliable = true,
               const TemperatureTerms& terms = terms_for_tests()) {
  const auto found = judge_egg_step(step, series, error, reliable, "probe 1, checked in ice", terms);
  if (!found) throw std::runtime_error{"no finding"};
  return *found;
}

TEST(DemonstratedTime, CountsAHoldAtTheReferenceMinuteForMinute) {
  const auto time = demonstrated_time(steady(70, 25, 1.0 / 12), at_70);  // 5 s apart
  EXPECT_EQ(time.lower.count(), 2.0);
  EXPECT_EQ(time.estimate.count(), 2.0);
  EXPECT_EQ(time.upper.count(), 2.0);
  EXPECT_TRUE(time.gaps.empty());
}

TEST(DemonstratedTime, CountsNothingAcrossAGapAndNamesIt) {
  const auto time = demonstrated_time(readings({{0, 70.0}, {1, 70.0}, {2.5, 70.0}, {3, 70.0}}), at_70);
  EXPECT_EQ(time.upper.count(), 1.5);
  ASSERT_EQ(time.gaps.size(), 1u);
  EXPECT_EQ(time.gaps[0].from, minute(1));
  EXPECT_EQ(time.gaps[0].to, minute(2.5));
  EXPECT_EQ(time.gaps[0].why, "no reading for 1 min 30 s");
}

TEST(DemonstratedTime, CountsAStepThatIsExactlyAsLongAsAllowed) {
  EXPECT_EQ(demonstrated_time(readings({{0, 70.0}, {1, 70.0}}), at_70).lower.count(), 1.0);
  std::vector<Reading> longer = readings({{0, 70.0}, {1, 70.0}});
  longer[1].at += Span{1};
  EXPECT_EQ(demonstrated_time(longer, at_70).lower.count(), 0.0);
}

TEST(DemonstratedTime, CountsNothingIntoOrOutOfAFault) {
  const auto time = demonstrated_time(readings({{0, 70.0}, {0.5, 70.0}, {0.6, std::nullopt}, {0.7, 70.0}, {1, 70.0}}), at_70);
  EXPECT_NEAR(time.upper.count(), 0.8, 1e-9);
  ASSERT_EQ(time.gaps.size(), 1u);
  EXPECT_EQ(time.gaps[0].why, "thermometer fault");
  EXPECT_EQ(time.gaps[0].from, minute(0.5));
  EXPECT_EQ(time.gaps[0].to, minute(0.7));
}

TEST(DemonstratedTime, TakesNoNumberFromTwoDifferentReadingsOfOneInstant) {
  const auto series = readings({{0, 70.0}, {0.5, 70.0}, {0.5, 72.0}, {1, 70.0}});
  const auto time = demonstrated_time(series, at_70);
  EXPECT_EQ(time.upper.count(), 0.0);
  ASSERT_EQ(time.gaps.size(), 1u);
  EXPECT_EQ(time.gaps[0].why, "two different readings of one time");
  EXPECT_EQ(demonstrated_time(readings({{0, 70.0}, {0.5, std::nullopt}, {0.5, 70.0}, {1, 70.0}}), at_70).upper.count(), 0.0);
  EXPECT_EQ(demonstrated_time(readings({{0, 70.0}, {0.5, 70.0}, {0.5, 70.0}, {1, 70.0}}), at_70).lower.count(), 1.0);  // one, twice
}

TEST(DemonstratedTime, TakesReadingsInAnyOrder) {
  EXPECT_EQ(demonstrated_time(readings({{1, 70.0}, {0, 70.0}, {0.5, 70.0}}), at_70).lower.count(), 1.0);
}

TEST(DemonstratedTime, CountsAtTheFloorAndNothingAHundredthBelow) {
  HeatTerms terms = at_70;
  terms.floor = celsius(70);
  EXPECT_EQ(demonstrated_time(steady(70.00, 2, 1), terms).lower.count(), 1.0);
  EXPECT_EQ(demonstrated_time(steady(69.99, 2, 1), terms).lower.count(), 0.0);
}

TEST(DemonstratedTime, CountsAboveTheCeilingAsTheCeiling) {
  HeatTerms terms = at_70;
  terms.ceiling = celsius(70);
  EXPECT_EQ(demonstrated_time(readings({{0, 70.0}, {1, 90.0}}), terms).upper.count(), 1.0);
  EXPECT_NEAR(demonstrated_time(readings({{0, 60.0}, {1, 80.0}}), terms).estimate.count(),
              0.5 + 0.5 * 7.5 / 10 / std::log(10) * (1 - std::pow(10, -10 / 7.5)), 1e-9);
}

TEST(DemonstratedTime, RefusesTermsThatMeanNothing) {
  for (const auto& spoil : std::vector<void (*)(HeatTerms&)>{
           [](HeatTerms& t) { t.z = kelvins(0); }, [](HeatTerms& t) { t.error = kelvins(-1); },
           [](HeatTerms& t) { t.ceiling = celsius(-200); }, [](HeatTerms& t) { t.longest_step = Span{-1}; }}) {
    HeatTerms terms = at_70;
    spoil(terms);
    EXPECT_THROW(demonstrated_time(steady(70, 3, 0.5), terms), std::invalid_argument);
  }
}

TEST(HeldTime, IsMetByAReadingEqualToTheLimitAndNotAHundredthBelow) {
  EXPECT_EQ(held_at_or_above(steady(70.00, 5, 0.5), celsius(70), no_error, minutes_long(1)).minimum, minutes_long(2));
  EXPECT_EQ(held_at_or_above(steady(69.99, 5, 0.5), celsius(70), no_error, minutes_long(1)).minimum, Span{});
  EXPECT_FALSE(held_at_or_above(steady(69.99, 5, 0.5), celsius(70), no_error, minutes_long(1)).reached);
  EXPECT_TRUE(held_at_or_above(steady(70.50, 5, 0.5), celsius(70), kelvins(0.5), minutes_long(1)).reached);
  EXPECT_FALSE(held_at_or_above(steady(70.49, 5, 0.5), celsius(70), kelvins(0.5), minutes_long(1)).reached);
  EXPECT_TRUE(held_at_or_above(steady(69.50, 5, 0.5), celsius(70), kelvins(0.5), minutes_long(1)).may_reach);
  EXPECT_FALSE(held_at_or_above(steady(69.49, 5, 0.5), celsius(70), kelvins(0.5), minutes_long(1)).may_reach);
}

TEST(HeldTime, IsTheLongestUnbrokenOneAndNeverTheirSum) {
  const auto held = held_at_or_above(readings({{0, 71.0}, {1, 71.0}, {1.5, 60.0}, {2, 71.0}, {3, 71.0}, {3.5, 71.0}, {4, 60.0}}),
                                     celsius(70), no_error, minutes_long(1));
  EXPECT_EQ(held.minimum, minutes_long(1.5));
  EXPECT_EQ(held.maximum, minutes_long(2.5));
  EXPECT_TRUE(held.open);  // it starts above
}

TEST(HeldTime, IsBrokenByAFaultAndOpenBesideIt) {
  const auto held =
      held_at_or_above(readings({{0, 60.0}, {1, 71.0}, {1.5, std::nullopt}, {2, 71.0}, {3, 60.0}}), celsius(70), no_error, minutes_long(1));
  EXPECT_EQ(held.minimum, Span{});
  EXPECT_TRUE(held.reached);
  EXPECT_TRUE(held.open);
  EXPECT_EQ(held.gaps.size(), 1u);
}

TEST(HeldTime, IsClosedBetweenReadingsBelow) {
  const auto held = held_at_or_above(readings({{0, 60.0}, {1, 71.0}, {2, 71.0}, {3, 60.0}}), celsius(70), no_error, minutes_long(1));
  EXPECT_EQ(held.minimum, minutes_long(1));
  EXPECT_EQ(held.maximum, minutes_long(3));
  EXPECT_FALSE(held.open);
  EXPECT_EQ(held.hottest, celsius(71));
}

TEST(GapsIn, SeesAMissingStartAMissingEndAndNothingAtAll) {
  const auto series = steady(4, 3, 15, 60);  // minutes 60, 75, 90
  EXPECT_TRUE(gaps_in(series, minute(30), minute(120), minutes_long(30)).empty());
  const auto late = gaps_in(series, minute(29), minute(121), minutes_long(30));
  ASSERT_EQ(late.size(), 2u);
  EXPECT_EQ(late[0].to, minute(60));
  EXPECT_EQ(late[1].from, minute(90));
  ASSERT_EQ(gaps_in({}, minute(0), minute(1), minutes_long(30)).size(), 1u);
  EXPECT_EQ(gaps_in(readings({{0, 4.0}, {100, 4.0}}), minute(45), minute(55), minutes_long(30)).size(), 1u);
  EXPECT_TRUE(gaps_in(readings({{40, 4.0}, {100, 4.0}}), minute(45), minute(55), minutes_long(30)).empty());
  EXPECT_THROW(gaps_in(series, minute(2), minute(1), minutes_long(30)), std::invalid_argument);
}

TEST(EggStep, IsShownWhenHeldForExactlyTheRow) {
  const Finding f = judged(raw_heated(), heated_to(70, 5));
  EXPECT_EQ(f.verdict, Verdict::shown) << f.message;
  EXPECT_EQ(f.stop, Stop::none);
  EXPECT_EQ(f.control, "egg-heat");
  EXPECT_EQ(f.subject, "batch-4");
  EXPECT_EQ(f.message, "held at or above 70 °C for 2 min (needs 2 min), thermometer error ±0 °C taken off");
  EXPECT_EQ(f.limit, "70 °C for 2 min, unbroken");
  EXPECT_EQ(f.result, "2 min at or above 70 °C");
  EXPECT_EQ(f.evidence, "probe 1, checked in ice");
  EXPECT_EQ(f.source, "[core-70: a row made for this test]");
  EXPECT_EQ(f.remedy, "");
}

TEST(EggStep, SaysInOneSentenceWhatWasHeld) {
  auto series = heated_to(70.5, 6);
  series[series.size() - 2].at -= minutes_long(20.0 / 60);
  EXPECT_EQ(judged(raw_heated(), series, kelvins(0.5)).message,
            "held at or above 70 °C for 2 min 10 s (needs 2 min), thermometer error ±0.5 °C taken off");
}

TEST(EggStep, IsNotShownAMillisecondShortOrAHundredthCold) {
  auto series = heated_to(70, 5);
  series[series.size() - 2].at -= Span{1};
  EXPECT_EQ(judged(raw_heated(), series).verdict, Verdict::not_shown);
  series = heated_to(70, 5);
  series[3].temperature = celsius(69.99);
  EXPECT_EQ(judged(raw_heated(), series).verdict, Verdict::not_shown);
}

TEST(EggStep, TakesTheThermometersErrorOff) {
  EXPECT_EQ(judged(raw_heated(), heated_to(70.5, 5), kelvins(0.5)).verdict, Verdict::shown);
  EXPECT_EQ(judged(raw_heated(), heated_to(70.49, 5), kelvins(0.5)).verdict, Verdict::not_shown);
}

TEST(EggStep, NeverInterpolatesBetweenRowsOrAddsThemUp) {
  // 72.5 °C lies between the rows; 1 min at it meets neither 70 °C for 2 min nor 75 °C for 30 s
  EXPECT_EQ(judged(raw_heated(), heated_to(72.5, 3)).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(raw_heated(), heated_to(75, 2)).verdict, Verdict::shown);
  EXPECT_EQ(judged(raw_heated(), heated_to(74.99, 2)).verdict, Verdict::not_met);  // at 70 °C for at most 1 min 30 s
  EXPECT_EQ(judged(raw_heated(), heated_to(74.99, 2)).message,
            "held at or above 70 °C for at most 1 min 30 s (needs 2 min), even with the thermometer error ±0 °C added");
}

TEST(EggStep, IsNotMetWithoutOverrideWhenEvenTheFavourableBoundMisses) {
  const Finding f = judged(raw_heated(), heated_to(66, 8), kelvins(1));
  EXPECT_EQ(f.verdict, Verdict::not_met);
  EXPECT_EQ(f.stop, Stop::no_override);
  EXPECT_EQ(f.message, "hottest recorded 66 °C, below 70 °C (needs 2 min) even with the thermometer error ±1 °C added");
  EXPECT_NE(f.remedy.find("pasteurised egg white"), std::string::npos);
  EXPECT_EQ(judged(raw_heated(), heated_to(69, 8), kelvins(1)).verdict, Verdict::not_shown);  // 70 °C with the error added
  EXPECT_EQ(judged(raw_heated(), heated_to(68.99, 8), kelvins(1)).verdict, Verdict::not_met);
}

TEST(EggStep, IsNotShownRatherThanNotMetWhereTheRecordIsOpenOrBroken) {
  auto open = heated_to(71, 3);
  open.pop_back();
  EXPECT_EQ(judged(raw_heated(), open).verdict, Verdict::not_shown);
  auto broken = heated_to(66, 8);
  broken[4].temperature.reset();
  const Finding f = judged(raw_heated(), broken);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.stop, Stop::needs_person);
  EXPECT_NE(f.message.find("thermometer fault"), std::string::npos) << f.message;
}

TEST(EggStep, IsNotShownByASpotReadingHoweverHot) { EXPECT_EQ(judged(raw_heated(), readings({{0, 90.0}})).verdict, Verdict::not_shown); }

TEST(EggStep, MeetsARowWithoutAHoldOnlyIfItWasReached) {
  TemperatureTerms terms = terms_for_tests();
  terms.heat_rows = {{cited("at-once"), "egg", celsius(70), Span{}}};
  EXPECT_EQ(judged(raw_heated(), readings({{0, 70.0}}), {}, true, terms).verdict, Verdict::shown);
  EXPECT_EQ(judged(raw_heated(), readings({{0, 69.99}}), {}, true, terms).verdict, Verdict::not_met);
  EXPECT_EQ(judged(raw_heated(), {}, {}, true, terms).verdict, Verdict::not_shown);
}

TEST(EggStep, IsNotShownWithoutReadingsOrWithFaultsOnly) {
  EXPECT_EQ(judged(raw_heated(), {}).message, "no temperature of the egg mix is recorded");
  EXPECT_EQ(judged(raw_heated(), {}).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(raw_heated(), readings({{0, std::nullopt}, {1, std::nullopt}})).verdict, Verdict::not_shown);
}

TEST(EggStep, IsNeverShownByAThermometerThatCannotBeReliedOn) {
  const Finding f = judged(raw_heated(), heated_to(80, 20), {}, false);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.stop, Stop::needs_person);
  EXPECT_EQ(judged(raw_heated(), heated_to(60, 20), {}, false).verdict, Verdict::not_met);  // doubt lifts nothing
}

TEST(EggStep, IsOutsideTheModelWithMoreSugarThanTheTablesHold) {
  EXPECT_EQ(judged(raw_heated(share_of(12, 100)), heated_to(80, 20)).verdict, Verdict::shown);
  const Finding f = judged(raw_heated(share_of(1201, 10000)), heated_to(80, 20));
  EXPECT_EQ(f.verdict, Verdict::outside_model);
  EXPECT_EQ(f.stop, Stop::needs_person);
  EXPECT_EQ(f.remedy.find("use pasteurised egg white"), 0u) << f.remedy;
  EXPECT_EQ(f.source, "[egg-mix: a row made for this test]");
  EXPECT_NE(f.message.find("12.01 % sugar"), std::string::npos) << f.message;
}

TEST(EggStep, IsNeverShownWhileTheSugarOfTheMixIsNotKnown) {
  const Finding f = judged(raw_heated(std::nullopt), heated_to(80, 20));
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_NE(f.message.find("not known"), std::string::npos) << f.message;
  EXPECT_EQ(judged(raw_heated(std::nullopt), heated_to(60, 20)).verdict, Verdict::not_met);  // sugar only protects
}

TEST(EggStep, TakesTheStrictestBoundOnSugarAndNoneAsNoSugar) {
  TemperatureTerms terms = terms_for_tests();
  terms.egg_mix.push_back({cited("stricter"), share_of(2, 100)});
  EXPECT_EQ(judged(raw_heated(share_of(3, 100)), heated_to(80, 20), {}, true, terms).verdict, Verdict::outside_model);
  terms.egg_mix.clear();
  EXPECT_EQ(judged(raw_heated(share_of(1, 1000)), heated_to(80, 20), {}, true, terms).verdict, Verdict::outside_model);
  EXPECT_EQ(judged(raw_heated(Share{0}), heated_to(80, 20), {}, true, terms).verdict, Verdict::shown);
}

TEST(EggStep, IsJudgedByAValidationOfItsOwnMixAlone) {
  EggStep step = raw_heated(share_of(60, 100));
  step.validation = HeatRow{cited("validation-1"), "meringue", celsius(71), minutes_long(3)};
  step.validation_by = "a laboratory, 3 March 2026, folder 2";
  const Finding f = judged(step, heated_to(71, 7));
  EXPECT_EQ(f.verdict, Verdict::shown);
  EXPECT_EQ(f.limit, "71 °C for 3 min, unbroken, as validated for this recipe");
  EXPECT_NE(f.evidence.find("a laboratory, 3 March 2026"), std::string::npos);
  EXPECT_EQ(judged(step, heated_to(71, 6)).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(step, heated_to(70.99, 7)).verdict, Verdict::not_met);  // the table's 70 °C for 2 min says nothing of this mix
  step.validation_by.clear();
  EXPECT_EQ(judged(step, heated_to(71, 7)).verdict, Verdict::outside_model);
}

TEST(EggStep, AcceptsAnEquivalentOnlyByItsLowerBoundAndOnlyWhereARowGrantsIt) {
  TemperatureTerms terms = terms_for_tests();
  terms.heat_rows = {{cited("core-75"), "core of a cooked food", celsius(75), minutes_long(20)}};
  EXPECT_EQ(judged(raw_heated(), heated_to(70, 5), {}, true, terms).verdict, Verdict::not_met);
  terms.equivalences = {
      {cited("equal"), "core of a cooked food", celsius(70), kelvins(7.5), minutes_long(2), celsius(60), celsius(75), minutes_long(1)}};
  EXPECT_EQ(judged(raw_heated(), heated_to(70, 5), {}, true, terms).verdict, Verdict::shown);
  EXPECT_EQ(judged(raw_heated(), heated_to(70, 5), kelvins(0.01), true, terms).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(raw_heated(), heated_to(62, 5), {}, true, terms).verdict, Verdict::not_met);
  auto open = heated_to(62, 5);
  open.pop_back();
  EXPECT_EQ(judged(raw_heated(), open, {}, true, terms).verdict, Verdict::not_shown);
}

TEST(EggStep, GoesByTheRowsOfItsFood) {
  EggStep step = raw_heated();
  step.food = "custard";
  EXPECT_EQ(judged(step, heated_to(80, 20)).verdict, Verdict::not_shown);
  step.food = "core of a cooked food";
  EXPECT_EQ(judged(step, heated_to(80, 20)).verdict, Verdict::shown);
}

TEST(EggStep, CountsNoStepWhereTheRulesGiveNoLongestOne) {
  TemperatureTerms terms = terms_for_tests();
  terms.gaps.clear();
  EXPECT_EQ(judged(raw_heated(), heated_to(80, 20), {}, true, terms).verdict, Verdict::not_shown);
}

TEST(EggStep, IsShownByPasteurisedEggInDateFromANamedPack) {
  EggStep step;
  step.egg = "pasteurised";
  step.pack = "pasteurised egg white PW-12, use by 9 May 2026";
  EXPECT_EQ(judged(step, {}).verdict, Verdict::shown);
  EXPECT_NE(judged(step, {}).message.find("PW-12"), std::string::npos);
  step.egg = "dried pasteurised";
  EXPECT_EQ(judged(step, {}).verdict, Verdict::shown);
  step.pack_in_date = false;
  EXPECT_EQ(judged(step, {}).verdict, Verdict::not_met);
  EXPECT_EQ(judged(step, {}).stop, Stop::no_override);
  step.pack.clear();
  step.pack_in_date = true;
  EXPECT_EQ(judged(step, {}).verdict, Verdict::not_shown);
}

TEST(EggStep, IsNotMetByRawEggThatWasNotHeated) {
  EggStep step;
  step.egg = "raw, not heated";
  const Finding f = judged(step, heated_to(80, 20));
  EXPECT_EQ(f.verdict, Verdict::not_met);
  EXPECT_EQ(f.stop, Stop::no_override);
  EXPECT_EQ(f.limit, "70 °C for 2 min, unbroken, or 75 °C for 30 s, unbroken");
}

TEST(EggStep, SaysThatThereIsNoneOrThatItIsNotRecorded) {
  EggStep step;
  step.egg = "none";
  EXPECT_EQ(judged(step, {}).verdict, Verdict::shown);
  step.egg = "";
  EXPECT_EQ(judged(step, {}).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(step, {}).stop, Stop::needs_person);
}

TEST(EggStep, AsksNothingOfASpongeBakedThroughUnlessItsCoreWasMeasured) {
  const TemperatureTerms terms = terms_for_tests();
  for (const char* word : {"baked through", "baked"}) {
    EggStep step;
    step.egg = word;
    EXPECT_FALSE(judge_egg_step(step, {}, {}, true, "", terms));
    EXPECT_FALSE(judge_egg_step(step, readings({{0, 96.0}}), {}, true, "", terms));  // a spot reading adds nothing to the check
    EXPECT_EQ(judged(step, heated_to(96, 20)).verdict, Verdict::shown);
    EXPECT_EQ(judged(step, heated_to(60, 20)).verdict, Verdict::not_met);
  }
}

TEST(Syrup, VouchesForItselfAloneByItsHottestReadingLessTheError) {
  const auto series = readings({{0, 100.0}, {5, 118.5}, {6, 117.0}});
  const Finding f = judge_syrup("batch-6", series, celsius(118), kelvins(0.5), true, "probe 2");
  EXPECT_EQ(f.control, "syrup-heat");
  EXPECT_EQ(f.verdict, Verdict::shown);
  EXPECT_NE(f.message.find("hottest recorded syrup temperature is 118.5 °C"), std::string::npos) << f.message;
  EXPECT_NE(f.message.find("says nothing of the egg"), std::string::npos);
  EXPECT_EQ(judge_syrup("batch-6", series, celsius(118.01), kelvins(0.5), true, "").verdict, Verdict::not_shown);
  EXPECT_EQ(judge_syrup("batch-6", series, celsius(118), kelvins(0.51), true, "").verdict, Verdict::not_shown);
  EXPECT_EQ(judge_syrup("batch-6", series, celsius(118), kelvins(0.5), false, "").verdict, Verdict::not_shown);
  EXPECT_EQ(judge_syrup("batch-6", {}, celsius(118), kelvins(0.5), true, "").verdict, Verdict::not_shown);
}

// ---- what must hold of every series ---------------------------------------------------------------------------------------------

/// Half-minute readings about the limits, some of them faults, some steps too long.
std::vector<Reading> any_series(int least = 0) {
  const auto count = *rc::gen::inRange(least, 40);
  std::vector<Reading> series;
  Instant at = minute(0);
  for (int i = 0; i < count; ++i) {
    at += *rc::gen::element(Span{30'000}, Span{30'000}, Span{30'000}, Span{60'000}, Span{61'000});
    const bool fault = *rc::gen::weightedElement<bool>({{15, false}, {1, true}});
    series.push_back(
        {at, fault ? std::nullopt : std::optional{Temperature::hundredths_celsius(*rc::gen::inRange<std::int64_t>(6800, 7700))}});
  }
  return series;
}

TemperatureTerms terms_with_an_equivalence() {
  TemperatureTerms terms = terms_for_tests();
  terms.equivalences = {
      {cited("equal"), "core of a cooked food", celsius(70), kelvins(7.5), minutes_long(2), celsius(69), celsius(75), minutes_long(1)}};
  return terms;
}

RC_GTEST_PROP(DemonstratedTime, OrdersItsBounds, ()) {
  const auto series = any_series();
  HeatTerms terms = at_70;
  terms.error = TemperatureSpan::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 200));
  terms.floor = celsius(69);
  terms.ceiling = celsius(75);
  const auto time = demonstrated_time(series, terms);
  RC_ASSERT(time.lower.count() >= 0.0);
  RC_ASSERT(time.lower <= time.estimate);
  RC_ASSERT(time.estimate <= time.upper);
}

RC_GTEST_PROP(DemonstratedTime, IsNoMoreThanTheTrapezoidBetweenFloorAndCeiling, ()) {
  const auto time = demonstrated_time(any_series(), at_70);
  RC_ASSERT(time.estimate.count() <= time.trapezoid.count() * (1 + 1e-12));
}

RC_GTEST_PROP(DemonstratedTime, IsTheSumOfWhatLiesOnEitherSideOfAGap, ()) {
  const auto before = any_series();
  auto after = any_series();
  for (Reading& r : after) r.at += minutes_long(60);
  const auto sum = demonstrated_time(before, at_70).upper + demonstrated_time(after, at_70).upper;
  RC_ASSERT(std::abs(demonstrated_time(before + after, at_70).upper.count() - sum.count()) < 1e-9);
}

RC_GTEST_PROP(HeldTime, OrdersItsBoundsAndShrinksWithTheError, ()) {
  const auto series = any_series();
  const auto error = TemperatureSpan::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 200));
  const auto more = error + TemperatureSpan::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 200));
  const auto held = held_at_or_above(series, celsius(70), error, minutes_long(1));
  RC_ASSERT(Minutes{held.minimum} <= held.estimate + Minutes{1e-9});
  RC_ASSERT(held.open || held.estimate <= Minutes{held.maximum} + Minutes{1e-9});
  const auto less_sure = held_at_or_above(series, celsius(70), more, minutes_long(1));
  RC_ASSERT(less_sure.minimum <= held.minimum);
  RC_ASSERT(less_sure.maximum >= held.maximum || less_sure.open);
}

RC_GTEST_PROP(EggStep, GainsNothingFromALargerError, ()) {
  const auto series = any_series();
  const auto error = TemperatureSpan::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 200));
  const auto more = error + TemperatureSpan::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 200));
  const auto sure = judged(raw_heated(), series, error, true, terms_with_an_equivalence()).verdict;
  const auto less_sure = judged(raw_heated(), series, more, true, terms_with_an_equivalence()).verdict;
  RC_ASSERT(less_sure == sure || less_sure == Verdict::not_shown);  // only ever towards what is not known
}

RC_GTEST_PROP(EggStep, GainsNothingFromAReadingThatBecameAFault, ()) {
  auto series = any_series(1);
  const auto before = judged(raw_heated(), series, kelvins(0.5), true, terms_with_an_equivalence()).verdict;
  series[*rc::gen::inRange<std::size_t>(0, series.size())].temperature.reset();
  const auto after = judged(raw_heated(), series, kelvins(0.5), true, terms_with_an_equivalence()).verdict;
  RC_ASSERT(after != Verdict::shown || before == Verdict::shown);
}

RC_GTEST_PROP(EggStep, GainsNothingFromLeavingOutAReadingThatWasHotEnough, ()) {
  auto series = any_series(1);
  const auto at = *rc::gen::inRange<std::size_t>(0, series.size());
  series[at].temperature = celsius(75.5);  // less the error it still meets every row
  const auto before = judged(raw_heated(), series, kelvins(0.5), true, terms_with_an_equivalence()).verdict;
  series.erase(series.begin() + static_cast<std::ptrdiff_t>(at));
  const auto after = judged(raw_heated(), series, kelvins(0.5), true, terms_with_an_equivalence()).verdict;
  RC_ASSERT(after != Verdict::shown || before == Verdict::shown);
}

RC_GTEST_PROP(EggStep, GainsNothingFromLosingEitherEndOfTheRecord, ()) {
  auto series = any_series(1);
  const auto before = judged(raw_heated(), series, kelvins(0.5), true, terms_with_an_equivalence()).verdict;
  if (*rc::gen::arbitrary<bool>())
    series.erase(series.begin());
  else
    series.pop_back();
  const auto after = judged(raw_heated(), series, kelvins(0.5), true, terms_with_an_equivalence()).verdict;
  RC_ASSERT(after != Verdict::shown || before == Verdict::shown);
}

TEST(EggStep, OfAFoodThatIsNotRecordedIsShownOnlyByRowsOfEveryFood) {
  auto terms = test::terms_for_tests();
  terms.heat_rows.push_back({test::cited("eaten-at-once"), "egg eaten at once", celsius(63), test::minutes_long(0.25)});
  EggStep step;
  step.subject = "batch-1";
  step.egg = "baked through";
  const auto baked = [&](double degrees) { return judge_egg_step(step, test::steady(degrees, 5, 1), {}, true, "", terms); };
  EXPECT_FALSE(baked(64).has_value()) << "63 degrees are for egg that is eaten at once";
  ASSERT_TRUE(baked(71).has_value());
  EXPECT_EQ(baked(71)->verdict, Verdict::shown);
  step.food = "egg eaten at once";
  ASSERT_TRUE(baked(64).has_value());
  EXPECT_EQ(baked(64)->verdict, Verdict::shown);
}

}  // namespace
}  // namespace tierproof
