#include "tierproof/sums/stay.h"

#include <gmock/gmock.h>
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

/// Two hours in the cake fridge, or as many minutes as asked.
ChilledStay in_the_fridge(bool food = true, double minutes = 120) {
  ChilledStay stay;
  stay.subject = "cake-1";
  stay.where = "cake fridge";
  stay.from = minute(0);
  stay.to = minute(minutes);
  stay.measured_food = food;
  return stay;
}
ChilledStay on_display(double minutes = 240) {
  ChilledStay stay = in_the_fridge(true, minutes);
  stay.where = "counter";
  stay.use = "service or display";
  return stay;
}
Finding judged(const ChilledStay& stay, const std::vector<Reading>& series, TemperatureSpan error = {}, bool reliable = true,
               const TemperatureTerms& terms = terms_for_tests()) {
  return judge_chilled_stay(stay, series, error, reliable, "probe 3, checked in ice", terms);
}
/// Five hours at 4 °C but for `count` quarter-hourly readings of `degrees` from minute 30 on.
std::vector<Reading> warmed(double degrees, int count) {
  std::vector<Reading> series = steady(4, 21, 15);
  for (int i = 0; i < count; ++i) series[static_cast<std::size_t>(2 + i)].temperature = celsius(degrees);
  return series;
}

TEST(Excursions, LeaveAReadingEqualToTheLimitWithinIt) {
  EXPECT_TRUE(excursions_above(readings({{0, 7.9}, {15, 8.0}, {30, 8.0}, {45, 7.8}}), celsius(8), minutes_long(30)).empty());
  EXPECT_EQ(excursions_above(readings({{0, 7.9}, {15, 8.01}, {30, 8.0}}), celsius(8), minutes_long(30)).size(), 1u);
}

TEST(Excursions, AreOpenAtAnEndAGapAndAFault) {
  const auto end = excursions_above(readings({{0, 7.0}, {15, 9.0}}), celsius(8), minutes_long(30));
  ASSERT_EQ(end.size(), 1u);
  EXPECT_FALSE(end[0].maximum);
  EXPECT_NEAR(end[0].estimate.count(), 7.5, 1e-9);
  const auto gap = excursions_above(readings({{0, 7.0}, {15, 9.0}, {60, 9.0}, {75, 7.0}}), celsius(8), minutes_long(30));
  ASSERT_EQ(gap.size(), 2u);
  EXPECT_FALSE(gap[0].maximum);
  EXPECT_FALSE(gap[1].maximum);
  const auto fault =
      excursions_above(readings({{0, 7.0}, {15, 9.0}, {20, std::nullopt}, {30, 9.0}, {45, 7.0}}), celsius(8), minutes_long(30));
  ASSERT_EQ(fault.size(), 2u);
  EXPECT_EQ(fault[0].minimum + fault[1].minimum, Span{});
}

TEST(Coverage, IsTheShareWithoutGaps) {
  const auto series = steady(4, 5, 15) + steady(4, 1, 0, 120);  // 0..60, then nothing until 120
  EXPECT_DOUBLE_EQ(coverage(series, minute(0), minute(120), minutes_long(30)), 0.5);
  EXPECT_DOUBLE_EQ(coverage(series, minute(0), minute(60), minutes_long(30)), 1.0);
  EXPECT_DOUBLE_EQ(coverage({}, minute(0), minute(60), minutes_long(30)), 0.0);
  EXPECT_DOUBLE_EQ(coverage(series, minute(30), minute(30), minutes_long(30)), 1.0);
  EXPECT_DOUBLE_EQ(coverage({}, minute(30), minute(30), minutes_long(30)), 0.0);
}

TEST(ChilledStay, IsShownAtTheLimitWithTheErrorAddedAndNotAHundredthAbove) {
  const Finding f = judged(in_the_fridge(), steady(7.5, 9, 15), kelvins(0.5));
  EXPECT_EQ(f.verdict, Verdict::shown) << f.message;
  EXPECT_EQ(f.stop, Stop::none);
  EXPECT_EQ(f.control, "cold-hold");
  EXPECT_EQ(f.message, "cake fridge for 2 h: the food stayed at or below 8 °C, warmest 7.5 °C, thermometer error ±0.5 °C added");
  EXPECT_EQ(f.limit, "8 °C or below in the food");
  EXPECT_EQ(f.result, "warmest 7.5 °C in the food");
  EXPECT_EQ(f.source, "[chill-8: a row made for this test]");
  EXPECT_EQ(f.evidence, "probe 3, checked in ice");
  EXPECT_EQ(f.remedy, "");
  EXPECT_EQ(judged(in_the_fridge(), steady(7.51, 9, 15), kelvins(0.5)).verdict, Verdict::not_shown);
}

TEST(ChilledStay, IsNotMetOnlyAboveTheLimitWithTheErrorTakenOff) {
  ChilledStay stay = in_the_fridge();
  stay.use = "storage";  // no allowance is for it
  EXPECT_EQ(judged(stay, steady(8.5, 9, 15), kelvins(0.5)).verdict, Verdict::not_shown);
  const Finding f = judged(stay, steady(8.51, 9, 15), kelvins(0.5));
  EXPECT_EQ(f.verdict, Verdict::not_met) << f.message;
  EXPECT_EQ(f.stop, Stop::no_override);
  EXPECT_EQ(f.remedy, "do not hand over; remake it or refuse the order");
}

TEST(ChilledStay, SaysThatTheAirWasMeasuredAndNeverMissesAFoodLimitOnIt) {
  const Finding good = judged(in_the_fridge(false), steady(4, 9, 15));
  EXPECT_EQ(good.verdict, Verdict::shown);
  EXPECT_NE(good.message.find("the air, not the food, stayed at or below 8 °C"), std::string::npos) << good.message;
  ChilledStay stay = in_the_fridge(false);
  stay.use = "storage";
  const Finding warm = judged(stay, steady(20, 9, 15));
  EXPECT_EQ(warm.verdict, Verdict::not_shown);
  EXPECT_EQ(warm.stop, Stop::needs_person);
}

TEST(ChilledStay, NamesEveryGapByTheKitchensClock) {
  ChilledStay stay = in_the_fridge();
  stay.offset = Offset{60};
  const Finding f = judged(stay, steady(4, 3, 15) + steady(4, 4, 15, 75));  // 08:30 to 09:15 UTC is missing
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_NE(f.message.find("no reading for 45 min, from 1 May 2026, 09:30 to 10:15"), std::string::npos) << f.message;
}

TEST(ChilledStay, CountsAStepOfExactlyTheLongestAllowedAsNoGap) {
  EXPECT_EQ(judged(in_the_fridge(), steady(4, 5, 30)).verdict, Verdict::shown);
  auto late = steady(4, 5, 30);
  late[2].at += Span{1};
  EXPECT_EQ(judged(in_the_fridge(), late).verdict, Verdict::not_shown);
}

TEST(ChilledStay, IsNotShownWithoutItsStartItsEndOrAnyReading) {
  EXPECT_EQ(judged(in_the_fridge(), steady(4, 6, 15, 31)).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(in_the_fridge(), steady(4, 6, 15)).verdict, Verdict::not_shown);  // the last is 45 min before the end
  EXPECT_EQ(judged(in_the_fridge(), {}).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(in_the_fridge(), steady(4, 9, 15, 500)).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(in_the_fridge(true, 10), {}).verdict, Verdict::not_shown);  // however short
}

TEST(ChilledStay, CountsTheReadingsThatEndItsFirstAndLastStep) {
  EXPECT_EQ(judged(in_the_fridge(true, 10), readings({{-5, 4.0}, {15, 4.0}})).verdict, Verdict::shown);
  EXPECT_EQ(judged(in_the_fridge(true, 10), readings({{-5, 9.0}, {15, 4.0}})).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(in_the_fridge(true, 10), readings({{-5, 4.0}, {15, 9.0}})).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(in_the_fridge(true, 10), readings({{-5, 9.0}, {500, 4.0}})).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(in_the_fridge(true, 10), readings({{0, 4.0}, {-5, 9.0}, {10, 4.0}, {15, 9.0}})).verdict, Verdict::shown);
}

TEST(ChilledStay, IsNotShownAcrossAFaultOrADispute) {
  auto series = steady(4, 9, 15);
  series[4].temperature.reset();
  EXPECT_NE(judged(in_the_fridge(), series).message.find("thermometer fault"), std::string::npos);
  EXPECT_EQ(judged(in_the_fridge(), series).verdict, Verdict::not_shown);
  const auto disputed = steady(4, 9, 15) + readings({{60, 4.5}});
  EXPECT_EQ(judged(in_the_fridge(), disputed).verdict, Verdict::not_shown);
}

TEST(ChilledStay, IsNeverShownByAThermometerThatCannotBeReliedOn) {
  EXPECT_EQ(judged(in_the_fridge(), steady(4, 9, 15), {}, false).verdict, Verdict::not_shown);
  ChilledStay stay = in_the_fridge();
  stay.use = "storage";
  EXPECT_EQ(judged(stay, steady(20, 9, 15), {}, false).verdict, Verdict::not_met);
}

TEST(ChilledStay, IsWithinAnAllowanceOnlyStrictlyAndOnItsMaximum) {
  // case T15: half-hourly, 7 °C, seven readings of 9 °C, 7 °C: at most 240 min, and 240 is not less than 240
  const auto four_hours = readings({{0, 7.0}}) + steady(9, 7, 30, 30) + readings({{240, 7.0}});
  EXPECT_EQ(judged(on_display(), four_hours).verdict, Verdict::not_shown) << "NISR 2006/3 Sch. 4 para 5(1): less than 4 h";
  auto a_little_less = four_hours;
  a_little_less.back().at -= Span{1};
  const Finding f = judged(on_display(), a_little_less);
  EXPECT_EQ(f.verdict, Verdict::shown) << f.message;
  EXPECT_NE(f.message.find("the law allows it for less than 4 h once for service or display"), std::string::npos) << f.message;
  EXPECT_EQ(f.source, "[chill-8: a row made for this test] [warm-4h: a row made for this test]");
}

TEST(ChilledStay, IsNotMetOnceTheMinimumReachesTheAllowance) {
  const auto above = [](double last) { return readings({{0, 7.0}}) + steady(9, 8, 30, 30) + readings({{last, 9.0}, {last + 30, 7.0}}); };
  EXPECT_EQ(judged(on_display(300), above(270)).verdict, Verdict::not_met);  // surely above from 30 to 270
  EXPECT_EQ(judged(on_display(300), above(269)).verdict, Verdict::not_shown);
}

TEST(ChilledStay, NeverSharesAnAllowanceBetweenTwoStretches) {
  auto twice = warmed(9, 2);
  twice[10].temperature = celsius(9);
  EXPECT_EQ(judged(on_display(300), warmed(9, 2)).verdict, Verdict::shown);
  EXPECT_EQ(judged(on_display(300), twice).verdict, Verdict::not_met);  // the second stretch has no allowance left
  TemperatureTerms terms = terms_for_tests();
  terms.allowances[0].once = false;
  EXPECT_EQ(judged(on_display(300), twice, {}, true, terms).verdict, Verdict::shown);
  auto hidden = twice;
  for (std::size_t i = 4; i < 10; ++i) hidden[i].temperature.reset();  // it may have been warm all along
  EXPECT_EQ(judged(on_display(300), hidden).verdict, Verdict::not_shown);
}

TEST(ChilledStay, IsNotShownByAnAllowanceForTwoStretchesThatMayHaveBeenAbove) {
  auto twice = warmed(8.3, 2);
  EXPECT_EQ(judged(on_display(300), twice, kelvins(0.5)).verdict, Verdict::shown);
  ChilledStay spent = on_display(300);
  spent.allowance_spent = true;
  EXPECT_EQ(judged(spent, twice, kelvins(0.5)).verdict, Verdict::not_shown);
  twice[10].temperature = celsius(8.3);
  EXPECT_EQ(judged(on_display(300), twice, kelvins(0.5)).verdict, Verdict::not_shown);
}

TEST(ChilledStay, IsNotShownByAnAllowanceWhereOneReadingMayHaveBeenWithinTheLimitAgain) {
  auto series = warmed(9, 3);
  EXPECT_EQ(judged(on_display(300), series, kelvins(0.5)).verdict, Verdict::shown);
  series[3].temperature = celsius(8.5);
  EXPECT_EQ(judged(on_display(300), series, kelvins(0.5)).verdict, Verdict::not_shown) << "8.5 °C may be 8 °C: then it was twice";
  series[3].temperature = celsius(8.51);
  EXPECT_EQ(judged(on_display(300), series, kelvins(0.5)).verdict, Verdict::shown);
}

TEST(ChilledStay, IsTwiceTooWarmOnlyWithAReadingBetweenThatIsSurelyWithin) {
  auto series = warmed(9, 3);
  series[3].temperature = celsius(7.51);
  EXPECT_EQ(judged(on_display(300), series, kelvins(0.5)).verdict, Verdict::not_shown);
  series[3].temperature = celsius(7.5);
  EXPECT_EQ(judged(on_display(300), series, kelvins(0.5)).verdict, Verdict::not_met);
}

TEST(ChilledStay, IsNotMissedByAReadingOutsideIt) {
  ChilledStay stay = in_the_fridge(true, 60);
  stay.use = "storage";
  EXPECT_EQ(judged(stay, readings({{-5, 9.0}}) + steady(4, 4, 15, 10)).verdict, Verdict::not_shown);
  EXPECT_EQ(judged(stay, readings({{0, 9.0}}) + steady(4, 4, 15, 10)).verdict, Verdict::not_met);
  EXPECT_EQ(judged(stay, steady(4, 4, 15, 10) + readings({{65, 9.0}})).verdict, Verdict::not_shown);
}

TEST(ChilledStay, TakesNothingFromAReadingThatIsTooFarOff) {
  const auto unread = testing::HasSubstr("no temperature is recorded in that time");
  EXPECT_THAT(judged(in_the_fridge(true, 10), readings({{-20, 4.0}})).message, Not(unread)) << "half an hour before its end";
  EXPECT_THAT(judged(in_the_fridge(true, 10), readings({{-21, 4.0}})).message, unread);
  EXPECT_THAT(judged(in_the_fridge(true, 10), readings({{30, 4.0}})).message, Not(unread));
  EXPECT_THAT(judged(in_the_fridge(true, 10), readings({{31, 4.0}})).message, unread);
}

TEST(FoundTooWarm, IsAReadingOfTheStayThatMayBeAboveALimitOnFood) {
  const TemperatureTerms terms = terms_for_tests();  // 8 °C in the food, 5 °C in the air
  const auto found = [&](const std::vector<Reading>& series, double error) {
    return found_too_warm(in_the_fridge(true, 60), series, kelvins(error), terms);
  };
  EXPECT_FALSE(found(steady(7.5, 5, 15), 0.5)) << "no limit on air is one on food";
  EXPECT_TRUE(found(steady(7.51, 5, 15), 0.5));
  EXPECT_FALSE(found(steady(9, 5, 15, 61), 0));
  EXPECT_TRUE(found(steady(9, 1, 15, 60), 0));
}

Finding told_as(const char* message, Verdict verdict) {
  Finding f;
  f.message = message;
  f.verdict = verdict;
  return f;
}

TEST(FindingOfAStay, IsTheGravestOfTheAirUnlessTheFoodWasTooWarmOrIsShown) {
  const Finding air_shown = told_as("air", Verdict::shown);
  const Finding air_gap = told_as("air gap", Verdict::not_shown);
  const FoodFinding food_shown{told_as("food", Verdict::shown), false};
  const FoodFinding food_gap{told_as("food gap", Verdict::not_shown), false};
  const FoodFinding food_warm{told_as("food warm", Verdict::not_shown), true};
  const FoodFinding food_missed{told_as("food missed", Verdict::not_met), true};
  const auto stands = [](std::vector<Finding> air, std::vector<FoodFinding> food) { return gravest_of_stay(air, food).message; };
  EXPECT_EQ(stands({air_shown, air_gap}, {}), "air gap");
  EXPECT_EQ(stands({air_gap}, {food_shown}), "food") << "the food's own readings stand for the whole of it";
  EXPECT_EQ(stands({air_shown}, {food_gap}), "air") << "a gap takes nothing away from the air";
  EXPECT_EQ(stands({air_shown}, {food_shown, food_warm}), "food warm");
  EXPECT_EQ(stands({air_shown}, {food_warm, food_missed}), "food missed");
  EXPECT_EQ(stands({}, {food_gap}), "food gap");
}

TEST(ChilledStay, GivesAnAllowanceToItsOwnUseOnly) {
  ChilledStay stay = on_display(300);
  stay.use = "storage";
  EXPECT_EQ(judged(stay, warmed(9, 2)).verdict, Verdict::not_met);
  stay.use = "";
  EXPECT_EQ(judged(stay, warmed(9, 2)).verdict, Verdict::not_shown);  // not known: it neither helps nor is it ruled out
  EXPECT_EQ(judged(stay, warmed(9, 18)).verdict, Verdict::not_met);
  stay.use = "service or display";
  stay.allowance_spent = true;
  EXPECT_EQ(judged(stay, warmed(9, 2)).verdict, Verdict::not_met);
}

TEST(ChilledStay, IsJudgedByTheStrictestLimitOfTheLaw) {
  TemperatureTerms terms = terms_for_tests();
  terms.allowances.clear();
  terms.chill = {{cited("food-8"), celsius(8), "food", false}, {cited("food-5"), celsius(5), "food", false}};
  EXPECT_EQ(judged(in_the_fridge(), steady(5, 9, 15), {}, true, terms).verdict, Verdict::shown);
  EXPECT_EQ(judged(in_the_fridge(), steady(5.01, 9, 15), {}, true, terms).verdict, Verdict::not_met);
  EXPECT_EQ(judged(in_the_fridge(), steady(4.8, 9, 15), kelvins(0.5), true, terms).verdict, Verdict::not_shown);
  terms.chill = {{cited("food-5"), celsius(5), "food", false}, {cited("air-4"), celsius(4), "air", false}};
  EXPECT_EQ(judged(in_the_fridge(true), steady(4.5, 9, 15), {}, true, terms).verdict, Verdict::shown);  // food by the row on food
  EXPECT_EQ(judged(in_the_fridge(true), steady(5.01, 9, 15), {}, true, terms).verdict, Verdict::not_met);
  EXPECT_EQ(judged(in_the_fridge(false), steady(4.01, 9, 15), {}, true, terms).verdict, Verdict::not_met);  // air by the row on air
}

TEST(ChilledStay, IsJudgedByAdviceWhereTheLawGivesNoTemperatureAndSaysSo) {
  TemperatureTerms terms = terms_for_tests();
  std::erase_if(terms.chill, [](const ChillTerm& row) { return !row.advice; });
  const Finding good = judged(in_the_fridge(false), steady(5, 9, 15), {}, true, terms);
  EXPECT_EQ(good.verdict, Verdict::shown);
  EXPECT_NE(good.message.find("advice; the law here gives no temperature"), std::string::npos) << good.message;
  EXPECT_EQ(good.limit, "5 °C or below in the air (advice, not law)");
  const Finding warm = judged(in_the_fridge(false), steady(5.01, 9, 15), {}, true, terms);
  EXPECT_EQ(warm.verdict, Verdict::not_met);
  EXPECT_EQ(warm.stop, Stop::needs_person);  // no limit of the law was missed
}

TEST(ChilledStay, IsNotShownWhereNothingGivesATemperature) {
  TemperatureTerms terms = terms_for_tests();
  terms.chill.clear();
  terms.cold_places = {{cited("place"), "in a refrigerator or a cool ventilated place"}};
  const Finding f = judged(in_the_fridge(), steady(4, 9, 15), {}, true, terms);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_NE(f.message.find("kept in a refrigerator or a cool ventilated place"), std::string::npos) << f.message;
}

TEST(ChilledStay, IsNotExcusedByATotalThatBeginsAboveItsLimit) {
  TemperatureTerms terms = terms_for_tests();
  terms.allowances.clear();
  terms.warm_total = WarmTotal{cited("total"), celsius(5), celsius(60), minutes_long(120), minutes_long(240)};
  terms.chill = {{cited("food-4"), celsius(4), "food", false}};
  EXPECT_EQ(judged(in_the_fridge(), steady(4.5, 9, 15), {}, true, terms).verdict, Verdict::not_met) << "no total is of 4.5 °C";
  terms.chill[0].limit = celsius(5);
  EXPECT_EQ(judged(in_the_fridge(), steady(5.5, 9, 15), {}, true, terms).verdict, Verdict::not_shown) << "two hours may be within it";
}

TEST(ChilledStay, TellsEachTimeTooWarmWithItsBounds) {
  ChilledStay stay = in_the_fridge(true, 105);
  stay.use = "storage";
  // case T13
  const auto fridge = readings({{0, 4.2}, {15, 5.0}, {30, 7.6}, {45, 9.4}, {60, 10.1}, {75, 8.6}, {90, 6.9}, {105, 5.2}});
  const Finding f = judged(stay, fridge, kelvins(0.5));
  EXPECT_EQ(f.verdict, Verdict::not_met);
  EXPECT_EQ(
      f.message,
      "cake fridge for 1 h 45 min: the food was above 8 °C once, for at least 30 min, about 47 min, at most 1 h 15 min, warmest 10.1 °C, "
      "even with the thermometer error ±0.5 °C taken off");
  ASSERT_EQ(f.paths.size(), 1u);
  EXPECT_EQ(
      f.paths[0],
      "1 May 2026, 08:30 to 09:15: above 8 °C for at least 30 min, about 47 min, at most 1 h 15 min; warmest 10.1 °C (9.6 °C to 10.6 °C "
      "with the error); over it 56 °C·min, at least 35, at most 82");
  const StayTold told = stay_told(stay, fridge, kelvins(0.5), true, terms_for_tests());
  EXPECT_EQ(told.subject, "cake-1");
  EXPECT_EQ(told.limit, celsius(8));
  EXPECT_EQ(told.coldest, celsius(4.2));
  EXPECT_EQ(told.warmest, celsius(10.1));
  EXPECT_TRUE(told.gaps.empty());
  ASSERT_EQ(told.warm.size(), 1u);
  EXPECT_EQ(told.warm[0].most, minutes_long(75));
}

TEST(ChilledStay, TellsAtMostATimeThatMayNotHaveBeenTooWarmAtAll) {
  const Finding f = judged(in_the_fridge(true, 60), readings({{0, 7.0}, {15, 7.9}, {30, 7.0}, {45, 7.0}, {60, 7.0}}), kelvins(0.5));
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.message, testing::HasSubstr("the food may have been above 8 °C once, for at most 30 min"));
}

TEST(ChilledStay, TellsTwelveTimesOneByOneAndHowManyMore) {
  std::vector<Reading> series;
  for (int i = 0; i <= 28; ++i) series.push_back({minute(i * 15), celsius(i % 2 == 1 ? 9 : 7)});
  const Finding f = judged(in_the_fridge(true, 28 * 15), series);
  ASSERT_EQ(f.paths.size(), 13u);
  EXPECT_EQ(f.paths.back(), "and 2 more times");
  EXPECT_EQ(stay_told(in_the_fridge(true, 28 * 15), series, {}, true, terms_for_tests()).warm.size(), 14u);
}

TEST(ChilledStay, TellsAReadingJustBeforeItThatWasTooWarm) {
  const Finding f = judged(in_the_fridge(true, 10), readings({{-5, 9.0}}));  // nothing else: it stands for the stay
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.paths.size(), 1u);
}

TEST(ChilledStay, WarnsOfGrowthInItsEvidenceAndChangesNoVerdict) {
  TemperatureTerms terms = terms_for_tests();
  const ChilledStay stay = in_the_fridge(true, 15 * 24 * 60);
  const auto series = steady(7.5, 15 * 96 + 1, 15);  // 360 h at 0.0022 log an hour
  EXPECT_EQ(judged(stay, series, {}, true, terms).evidence, "probe 3, checked in ice");
  terms.growth = {{cited("growth"), "Salmonella in egg", 0.0214, 5.30841, 0.8}};
  EXPECT_EQ(judged(stay, series, {}, true, terms).evidence, "probe 3, checked in ice");
  terms.growth[0].warn_from = 0.79;
  const Finding f = judged(stay, series, {}, true, terms);
  EXPECT_EQ(f.verdict, Verdict::shown);
  EXPECT_EQ(
      f.evidence,
      "probe 3, checked in ice; warning: Salmonella in egg may have grown by 0.8 log in that time (0.8 log with the thermometer error "
      "added), by the readings of the food; a screening estimate, which lifts no limit [growth: a row made for this test]");
}

TEST(ChilledStay, RefusesAStayThatEndsBeforeItBegins) { EXPECT_THROW(judged(in_the_fridge(true, -1), {}), std::invalid_argument); }

// ---- what must hold of every series ---------------------------------------------------------------------------------------------

std::vector<Reading> any_stay() {
  std::vector<Reading> series;
  Instant at = minute(0);
  const auto count = *rc::gen::inRange(2, 14);
  const auto calm = *rc::gen::arbitrary<bool>();  // half of them without a fault or a gap, so that some are shown
  for (int i = 0; i < count; ++i) {
    const bool fault = !calm && *rc::gen::weightedElement<bool>({{12, false}, {1, true}});
    const auto hundredths = *rc::gen::inRange<std::int64_t>(600, calm ? 840 : 1000);
    series.push_back({at, fault ? std::nullopt : std::optional{Temperature::hundredths_celsius(hundredths)}});
    at += calm ? Span{900'000} : *rc::gen::element(Span{900'000}, Span{900'000}, Span{1'800'000}, Span{1'801'000});
  }
  return series;
}
ChilledStay any_stay(const std::vector<Reading>& series) {
  ChilledStay stay = in_the_fridge();
  stay.to = series.back().at;
  stay.use = *rc::gen::element(std::string{}, std::string{"service or display"}, std::string{"storage"});
  return stay;
}

RC_GTEST_PROP(ChilledStay, GainsNothingFromALargerError, ()) {
  const auto series = any_stay();
  const auto stay = any_stay(series);
  const auto error = TemperatureSpan::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 150));
  const auto more = error + TemperatureSpan::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 150));
  const auto sure = judged(stay, series, error).verdict;
  const auto less_sure = judged(stay, series, more).verdict;
  RC_ASSERT(less_sure == sure || less_sure == Verdict::not_shown);
}

RC_GTEST_PROP(ChilledStay, GainsNothingFromAReadingThatBecameAFault, ()) {
  auto series = any_stay();
  const auto stay = any_stay(series);
  series[*rc::gen::inRange<std::size_t>(0, series.size())].temperature.reset();
  RC_ASSERT(judged(stay, series).verdict != Verdict::shown);
}

// Without an allowance, as the program judges every stay: under one that applies once, a cold reading between two warm ones is itself what
// tells two occasions from one, and the sum sees nothing between readings.
RC_GTEST_PROP(ChilledStay, GainsNothingFromLeavingOutAReadingThatWasCold, ()) {
  auto series = any_stay();
  auto stay = any_stay(series);
  stay.use.clear();
  const auto at = *rc::gen::inRange<std::size_t>(0, series.size());
  series[at].temperature = celsius(4);
  const auto before = judged(stay, series).verdict;
  series.erase(series.begin() + static_cast<std::ptrdiff_t>(at));
  RC_ASSERT(judged(stay, series).verdict != Verdict::shown || before == Verdict::shown);
}

RC_GTEST_PROP(Excursions, OrderTheirThreeDurations, ()) {
  for (const Excursion& e : excursions_above(any_stay(), celsius(8), minutes_long(30))) {
    RC_ASSERT(Minutes{e.minimum} <= e.estimate + Minutes{1e-9});
    RC_ASSERT(!e.maximum || e.estimate <= Minutes{*e.maximum} + Minutes{1e-9});
    RC_ASSERT(e.peak > celsius(8));
    RC_ASSERT(e.area_kelvin_minutes >= 0);
  }
}

RC_GTEST_PROP(Coverage, IsWhatTheGapsLeave, ()) {
  const auto series = any_stay();
  const double covered = coverage(series, series.front().at, series.back().at, minutes_long(30));
  RC_ASSERT(covered >= 0.0 && covered <= 1.0);
  RC_ASSERT((covered == 1.0) == gaps_in(series, series.front().at, series.back().at, minutes_long(30)).empty());
}

}  // namespace
}  // namespace tierproof
