#include "tierproof/sums/time_out.h"

#include <gmock/gmock.h>

#include "readings.h"
#include "tierproof/sums/stay.h"

namespace tierproof::time_out_tests {
namespace {

using test::minute;
using testing::HasSubstr;

constexpr const char* service = "service or display";
constexpr const char* by_time = "time as the control";

/// SI 2013/2996 schedule 4 paragraph 5(1): under 4 h, once, for service or display.
TemperatureTerms england() {
  TemperatureTerms terms;
  terms.allowances = {{{"warm-service", "sch. 4 para. 5(1)", false}, service, std::chrono::hours{4}, true}};
  return terms;
}
/// The 2-hour/4-hour rule of FSANZ: all the time between 5 and 60 °C adds up.
TemperatureTerms australia() {
  TemperatureTerms terms;
  terms.warm_total = WarmTotal{
      {"warm-total", "total time between 5 and 60 °C", false}, celsius(5), celsius(60), std::chrono::hours{2}, std::chrono::hours{4}};
  return terms;
}
/// FDA Food Code 3-501.19(B): 4 h from 5 °C or below.
TemperatureTerms four_hours() {
  TemperatureTerms terms;
  terms.gaps = {{{}, "chilled hold", std::chrono::minutes{30}}};
  terms.time_controls = {{{"time-control-4h", "3-501.19(B)", false}, by_time, celsius(5), {}, std::chrono::hours{4}}};
  return terms;
}
/// 3-501.19(C): 6 h, never above 21 °C.
TemperatureTerms six_hours() {
  TemperatureTerms terms = four_hours();
  terms.time_controls = {{{"time-control-6h", "3-501.19(C)", false}, by_time, celsius(5), celsius(21), std::chrono::hours{6}}};
  return terms;
}

TimeOut out(double from, double to, const std::string& use = "") { return {minute(from), minute(to), "shop", use, {}, ""}; }
TimeOut timed(double to, double marked) {
  TimeOut stretch = out(0, to, by_time);
  stretch.marked = minute(marked);
  stretch.procedure = "blue folder, sheet 4";
  return stretch;
}
FoodLife cold_before() {
  FoodLife life;
  life.cold_at_removal = "in the fridge until then, as recorded";
  return life;
}
Finding judged(const TemperatureTerms& terms, const std::vector<TimeOut>& stretches, const FoodLife& life = {}) {
  const auto f = judge_time_out("cake-1", stretches, terms, Offset{}, &life);
  EXPECT_TRUE(f.has_value());
  return f.value_or(Finding{});
}
Verdict verdict(const TemperatureTerms& terms, const std::vector<TimeOut>& stretches, const FoodLife& life = {}) {
  return judged(terms, stretches, life).verdict;
}

TEST(TimeOutForHandling, IsAllowedAtATimeForLessThanTheRowsTime) {
  TemperatureTerms terms;
  terms.allowances = {{{"handling-30", "a row made for this test", false}, "handling", std::chrono::minutes{30}, false}};
  EXPECT_EQ(verdict(terms, {out(0, 29.9, "handling"), out(60, 89.9)}), Verdict::shown)
      << "each by itself, and one that nobody said what for";
  EXPECT_EQ(verdict(terms, {out(0, 30, "handling")}), Verdict::not_shown);
  EXPECT_EQ(verdict(terms, {out(0, 10, "handling"), out(60, 70, service)}), Verdict::not_shown) << "service is no handling";
  EXPECT_EQ(judge_time_out("cake-1", {{out(0, 29.9, "handling")}}, terms, {})->verdict, Verdict::shown) << "whatever its life was";
}

TEST(TimeOutForService, MayComeAgainWhereTheRowDoesNotSayOnce) {
  TemperatureTerms terms = england();
  terms.allowances[0].once = false;
  FoodLife life;
  life.served_before = true;
  EXPECT_EQ(verdict(terms, {out(0, 30, service)}, life), Verdict::shown);
  life.perhaps_served_before = true;
  EXPECT_EQ(verdict(terms, {out(0, 30, service)}, life), Verdict::shown);
}

TEST(TimeOutForService, IsAllowedOnceForLessThanTheRowsTime) {
  const Finding f = judged(england(), {out(0, 239.9, service)});
  EXPECT_EQ(f.verdict, Verdict::shown);
  EXPECT_EQ(f.stop, Stop::none);
  EXPECT_THAT(f.limit, HasSubstr("less than 4 h once for service or display"));
  EXPECT_THAT(f.source, HasSubstr("para. 5(1)"));
  const Finding long_out = judged(england(), {out(0, 240, service)});
  EXPECT_EQ(long_out.verdict, Verdict::not_shown) << "four hours are not less than four hours";
  EXPECT_THAT(long_out.message, HasSubstr("4 h is not less than 4 h"));
  EXPECT_EQ(long_out.limit, f.limit);
  EXPECT_EQ(long_out.source, f.source);
}

TEST(TimeOutForService, IsNeverSplitNorLentToSomethingElse) {
  EXPECT_EQ(verdict(england(), {out(0, 60, service), out(90, 120, service)}), Verdict::not_shown) << "once is once";
  EXPECT_EQ(verdict(england(), {out(0, 10, "handling"), out(60, 90, service)}), Verdict::not_shown) << "handling has no number";
  EXPECT_EQ(verdict(england(), {out(0, 30)}), Verdict::not_shown) << "nobody said what for";
  EXPECT_THAT(judged(england(), {out(0, 30)}).remedy, HasSubstr("say what it was out for"));
  EXPECT_EQ(verdict(england(), {out(0, 30, "transfer")}), Verdict::not_shown);
  EXPECT_EQ(judge_time_out("cake-1", {{out(0, 30, service)}}, england(), {})->verdict, Verdict::not_shown) << "nothing known of its life";
}

TEST(TimeOutForService, IsSpentByWhatCameBefore) {
  FoodLife life;
  life.served_before = true;
  EXPECT_THAT(judged(england(), {out(0, 30, service)}, life).message, HasSubstr("it was kept for service or display before"));
  EXPECT_EQ(verdict(england(), {out(0, 30, service)}, life), Verdict::not_shown);
  life = {};
  life.perhaps_served_before = true;
  EXPECT_EQ(verdict(england(), {out(0, 30, service)}, life), Verdict::not_shown);
  life = {};
  life.warm_before = std::chrono::hours{9};
  EXPECT_EQ(verdict(england(), {out(0, 30, service)}, life), Verdict::shown) << "handling before is judged by itself, never added to it";
}

TEST(TimeOutInAll, AddsUpWhateverItWasFor) {
  EXPECT_EQ(verdict(australia(), {out(0, 60), out(100, 159.9, service)}), Verdict::shown);
  EXPECT_EQ(verdict(australia(), {out(0, 60), out(100, 160, service)}), Verdict::not_shown) << "two hours are not under two";
  FoodLife life;
  life.warm_before = std::chrono::minutes{30};
  EXPECT_EQ(verdict(australia(), {out(0, 89.9)}, life), Verdict::shown);
  const Finding f = judged(australia(), {out(0, 90)}, life);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.message, HasSubstr("for 2 h in all, counted over its whole life (30 min of it before, of what went into it)"));
  EXPECT_THAT(f.message, HasSubstr("it may not go back into the cold, and has to be eaten before 4 h in all"));
}

TEST(TimeOutInAll, OfFourHoursIsToBeThrownAway) {
  EXPECT_THAT(judged(australia(), {out(0, 239.9)}).message, HasSubstr("has to be eaten before 4 h"));
  EXPECT_THAT(judged(australia(), {out(0, 240)}).message,
              HasSubstr("has to be thrown away unless it is shown to have been at 5 °C or below"));
}

TEST(TimeOutInAll, CountsTheTimeThatItMayHaveBeenTooWarmInTheCold) {
  FoodLife life;
  life.warm_in_cold = std::chrono::minutes{60};
  EXPECT_EQ(verdict(australia(), {out(0, 59.9)}, life), Verdict::shown);
  const Finding f = judged(australia(), {out(0, 60)}, life);
  EXPECT_EQ(f.verdict, Verdict::not_shown) << "an hour out and at most an hour in a warm fridge are not under two";
  EXPECT_THAT(f.message,
              HasSubstr("for 2 h in all, counted over its whole life (at most 1 h of it in the cold itself, by readings with the "
                        "error added)"));
  life.warm_before = std::chrono::minutes{30};
  EXPECT_THAT(judged(australia(), {out(0, 10)}, life).message, HasSubstr("for 1 h 40 min in all, counted over its whole life (30 min of it "
                                                                         "before, of what went into it; at most 1 h"));
  life.warm_in_cold = std::chrono::minutes{230};
  EXPECT_THAT(judged(australia(), {out(0, 10)}, life).message, HasSubstr("has to be thrown away"));
}

TEST(TimeOutInAll, IsNotShownWhereTimeThatNobodyReadWouldBreakIt) {
  FoodLife life;
  life.unread = std::chrono::minutes{60};
  EXPECT_EQ(verdict(australia(), {out(0, 59.9)}, life), Verdict::shown) << "even if all of that was warm";
  const Finding f = judged(australia(), {out(0, 60)}, life);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.message, HasSubstr("for 1 h in all, counted over its whole life, but no reading shows that it was cold for 1 h more, which "
                                   "would count too"));
  EXPECT_EQ(verdict(england(), {out(0, 60, service)}, life), Verdict::shown) << "no other row adds it up";
}

TEST(TimeOut, SaysWhetherTheFoodWasRead) {
  EXPECT_THAT(judged(england(), {out(0, 300)}).message, HasSubstr("no reading says how warm it became"));
  FoodLife life;
  life.food = test::readings({{0, 4.0}, {200, 9.0}});
  EXPECT_THAT(judged(england(), {out(0, 300)}, life).message, HasSubstr("its readings do not show that it stayed cold"));
  EXPECT_THAT(judged(england(), {out(0, 300)}, life).evidence, HasSubstr("readings of the food"));
}

TEST(TimeAsTheControl, IsShownOnlyWithEverythingThatTheRowAsks) {
  const Finding f = judged(four_hours(), {timed(180, 240)}, cold_before());
  EXPECT_EQ(f.verdict, Verdict::shown) << f.message;
  EXPECT_THAT(f.message, HasSubstr("used or thrown away by 12:00, as marked"));
  EXPECT_THAT(f.message, HasSubstr("blue folder, sheet 4"));
  EXPECT_EQ(verdict(four_hours(), {timed(240, 240)}, cold_before()), Verdict::shown) << "within four hours";
  const auto missing = [&](TimeOut stretch, FoodLife life) {
    const Finding found = judged(four_hours(), {std::move(stretch)}, life);
    EXPECT_EQ(found.verdict, Verdict::not_shown);
    return found.message;
  };
  EXPECT_THAT(missing(timed(180, 240), {}), HasSubstr("nothing shows that it was at 5 °C or below"));
  EXPECT_THAT(missing(timed(180, 241), cold_before()), HasSubstr("the time marked, 12:01, is not within 4 h"));
  EXPECT_THAT(missing(timed(181, 180), cold_before()), HasSubstr("longer than the time marked, 11:00"));
  EXPECT_THAT(missing(timed(241, 240), cold_before()), HasSubstr("4 h 01 min is more than 4 h"));
  EXPECT_THAT(missing(timed(0, -1), cold_before()), HasSubstr("the time marked, 07:59, is not within 4 h")) << "before it was taken out";
  TimeOut bare = out(0, 60, by_time);
  EXPECT_THAT(missing(bare, cold_before()), HasSubstr("no time is recorded that was marked on it, the written procedure is not named"));
  FoodLife back = cold_before();
  back.cold_after = true;
  EXPECT_THAT(missing(timed(60, 240), back), HasSubstr("put back into the cold"));
  EXPECT_EQ(verdict(four_hours(), {timed(60, 240), out(90, 100, by_time)}, cold_before()), Verdict::not_shown) << "more than once";
  EXPECT_EQ(verdict(four_hours(), {out(0, 30)}, cold_before()), Verdict::not_shown) << "nobody said what for";
}

TEST(TimeAsTheControl, WithACeilingNeedsReadingsOfTheFoodThatKeepIt) {
  FoodLife life = cold_before();
  life.reliable = true;
  const TimeOut stretch = timed(120, 360);
  EXPECT_EQ(verdict(six_hours(), {stretch}, life), Verdict::not_shown) << "no readings";
  life.food = test::readings({{0, 4.8}, {30, 9.0}, {60, 14.0}, {90, 18.0}, {120, 21.0}});
  EXPECT_EQ(verdict(six_hours(), {stretch}, life), Verdict::shown);
  life.food.push_back({minute(150), celsius(30)});
  life.food.insert(life.food.begin(), {minute(-30), celsius(30)});
  EXPECT_EQ(verdict(six_hours(), {stretch}, life), Verdict::shown) << "what was read before and after is none of it";
  life.food = test::readings({{0, 4.8}, {30, 9.0}, {60, 14.0}, {90, 18.0}, {120, 21.0}});
  TemperatureTerms heat = six_hours();
  heat.gaps.push_back({{}, "heat step", std::chrono::minutes{1}});
  EXPECT_EQ(verdict(heat, {stretch}, life), Verdict::shown) << "the longest step of a heat step is not asked for";
  life.error = kelvins(0.1);
  EXPECT_EQ(verdict(six_hours(), {stretch}, life), Verdict::not_shown) << "21.0 may be 21.1";
  life.error = {};
  life.food[2].temperature.reset();
  EXPECT_EQ(verdict(six_hours(), {stretch}, life), Verdict::not_shown) << "a fault says nothing";
  life.food = test::readings({{0, 4.8}, {30, 9.0}, {90, 18.0}, {120, 20.0}});
  EXPECT_EQ(verdict(six_hours(), {stretch}, life), Verdict::not_shown) << "a gap of an hour";
  life.food = test::readings({{0, 4.8}, {30, 9.0}, {60, 14.0}, {90, 18.0}, {120, 20.0}});
  life.reliable = false;
  EXPECT_EQ(verdict(six_hours(), {stretch}, life), Verdict::not_shown);
  EXPECT_EQ(verdict(six_hours(), {timed(361, 360)}, cold_before()), Verdict::not_shown);
}

TEST(TimeOut, ByTheRulesOfOnePlaceBorrowsNothingFromAnother) {
  EXPECT_EQ(verdict(four_hours(), {out(0, 30, service)}, cold_before()), Verdict::not_shown);
  EXPECT_EQ(verdict(england(), {timed(60, 240)}, cold_before()), Verdict::not_shown);
}

/// A stay of `minutes` with the food at `degrees` all the time.
Verdict kept_at(double degrees, int minutes, TemperatureTerms terms, const std::string& use = "", bool perhaps_spent = false) {
  terms.chill = {{{"chill-food", "5 °C", false}, celsius(5), "food", false}};
  terms.gaps = {{{}, "chilled hold", std::chrono::minutes{30}}};
  ChilledStay stay;
  stay.from = minute(0);
  stay.to = minute(minutes + 20);
  stay.measured_food = true;
  stay.use = use;
  stay.perhaps_spent = perhaps_spent;
  auto readings = test::steady(degrees, minutes / 10 + 1, 10, 10);
  readings.push_back({minute(0), celsius(4)});
  readings.push_back({stay.to, celsius(4)});
  return judge_chilled_stay(stay, readings, {}, true, "", terms).verdict;
}

TEST(TooWarmInTheFridge, IsNotMissedWhileATotalOfTheLawMayStillHoldAndNeverShownByIt) {
  EXPECT_EQ(kept_at(6, 230, australia()), Verdict::not_shown);
  EXPECT_EQ(kept_at(6, 240, australia()), Verdict::not_met) << "four hours by themselves";
  EXPECT_EQ(kept_at(6, 10, australia()), Verdict::not_shown);
  EXPECT_EQ(kept_at(6, 10, TemperatureTerms{}), Verdict::not_met) << "no allowance at all";
  EXPECT_EQ(kept_at(5, 230, australia()), Verdict::shown);
}

TEST(TooWarmInTheFridge, IsShownByAnAllowanceOfItsUseThatIsSurelyNotSpent) {
  EXPECT_EQ(kept_at(9, 60, england(), service), Verdict::shown);
  EXPECT_EQ(kept_at(9, 60, england(), service, true), Verdict::not_shown) << "it may be spent, and may not";
  EXPECT_EQ(kept_at(9, 60, england(), ""), Verdict::not_shown);
  EXPECT_EQ(kept_at(9, 60, england(), "keeping"), Verdict::not_met) << "keeping is no service";
}

}  // namespace
}  // namespace tierproof::time_out_tests
