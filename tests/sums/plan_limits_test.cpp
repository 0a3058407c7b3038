// A hazard plan's own numbers beside the rules: the stricter counts, and equal is as strict. All rows are invented.
#include "tierproof/sums/plan_limits.h"

#include <gmock/gmock.h>

#include "readings.h"
#include "tierproof/sums/cooling_step.h"
#include "tierproof/sums/heat.h"
#include "tierproof/sums/reheating.h"

namespace tierproof {
namespace {

using testing::HasSubstr;

Temperature degrees(int celsius) { return Degrees{celsius * 100, Scale::celsius}.temperature(); }

TemperatureTerms rules() {
  TemperatureTerms terms;
  ChillTerm law;
  law.limit = degrees(8);
  law.cited = {"chill", "clause 1"};
  ChillTerm advice;
  advice.limit = degrees(5);
  advice.advice = true;
  terms.chill = {law, advice};
  terms.cold_days = ColdDays{{"days", "clause 2"}, 7};
  return terms;
}

PlanNumbers own() {
  PlanNumbers numbers;
  numbers.version = "plan of today";
  return numbers;
}

TEST(PlanLimits, OfTheChillCountWhereTheyAreStricterThanTheLawAndNotThanAdvice) {
  PlanNumbers numbers = own();
  for (const int celsius : {9, 8}) {
    numbers.chilled = degrees(celsius);
    TemperatureTerms terms = rules();
    tighten(terms, numbers);
    EXPECT_EQ(terms.chill.size(), 2u) << celsius << ": laxer or equal changes nothing";
    EXPECT_EQ(not_stricter(terms, numbers).size(), celsius == 9 ? 1u : 0u);
  }
  numbers.chilled = degrees(7);
  numbers.chilled_words = "7.0 °C";
  TemperatureTerms terms = rules();
  tighten(terms, numbers);
  ASSERT_EQ(terms.chill.size(), 3u);
  EXPECT_EQ(terms.chill[1].limit, degrees(7));
  EXPECT_EQ(terms.chill[1].words, "7.0 °C (the plan's own limit; the rules have 8 °C)");
  EXPECT_THAT(terms.chill[1].cited.clause, HasSubstr("plan of today, stricter than chill: clause 1"));
}

TEST(PlanLimits, OfDaysInTheColdOnlyShorten) {
  PlanNumbers numbers = own();
  for (const int days : {8, 7, 6}) {
    numbers.cold_days = days;
    TemperatureTerms terms = rules();
    tighten(terms, numbers);
    EXPECT_EQ(terms.cold_days->days, std::min(days, 7));
    EXPECT_EQ(not_stricter(rules(), numbers).size(), days == 8 ? 1u : 0u);
  }
  TemperatureTerms without = rules();
  without.cold_days.reset();
  tighten(without, numbers);
  EXPECT_EQ(without.cold_days->days, 6);
}

TEST(PlanLimits, ThatTheRulesHaveNothingBesideAreNotStricterButForDays) {
  PlanNumbers numbers = own();
  numbers.chilled = degrees(3);
  numbers.out = std::chrono::minutes{30};
  numbers.cold_days = 2;
  const auto found = not_stricter(TemperatureTerms{}, numbers);
  ASSERT_EQ(found.size(), 2u);
  for (const auto& one : found) EXPECT_TRUE(one.rules.empty());
  TemperatureTerms none;
  tighten(none, numbers);
  EXPECT_TRUE(none.chill.empty());
}

/// A core held at `degrees` for two minutes, by the rows 70 °C for 2 min and 75 °C for 30 s and what the plan makes of them; no error.
Finding core_at(double degrees, const PlanNumbers& numbers) {
  TemperatureTerms terms = test::terms_for_tests();
  tighten(terms, numbers);
  return judge_core_step({"batch-1", "core of a cooked food"}, test::steady(degrees, 5, 0.5), {}, true, "", terms);
}
PlanNumbers heated_to(const std::string& row, double degrees, double minutes) {
  PlanNumbers numbers = own();
  numbers.heat = {{"middle heated to at least", row, celsius(degrees), "72.0 °C", test::minutes_long(minutes)}};
  return numbers;
}

TEST(PlanLimits, OfAHeatingAreMetAtTheirTemperatureAndNotAHundredthBelow) {
  EXPECT_EQ(core_at(71.99, own()).verdict, Verdict::shown) << "by the rules alone";
  const PlanNumbers numbers = heated_to("core-70", 72, 2);
  const Finding met = core_at(72, numbers);
  EXPECT_EQ(met.verdict, Verdict::shown) << met.message;
  EXPECT_EQ(met.limit, "72.0 °C for 2 min, unbroken (the plan's own limit; the rules have 70 °C for 2 min)");
  EXPECT_EQ(
      met.source,
      "[core-70: a row made for this test; 72.0 °C for 2 min by the kitchen's own plan of today, where the rules have 70 °C for 2 min]");
  EXPECT_NE(core_at(71.99, numbers).verdict, Verdict::shown);
}

TEST(PlanLimits, OfAHeatingAreMetAfterTheirTimeAndNotASecondBefore) {
  EXPECT_EQ(core_at(70, heated_to("core-70", 70, 2)).verdict, Verdict::shown);
  EXPECT_EQ(core_at(70, heated_to("core-70", 70, 2 + 1 / 60.0)).verdict, Verdict::not_shown) << "2 min were read";
}

TEST(PlanLimits, OfAHeatingStandAlone) {
  EXPECT_EQ(core_at(75, own()).verdict, Verdict::shown);
  EXPECT_EQ(core_at(75, own()).limit, "70 °C for 2 min, unbroken");
  const Finding found = core_at(75, heated_to("core-75", 76, 0.5));
  EXPECT_NE(found.verdict, Verdict::shown) << "two minutes at 75 °C are more than the other row asks, which the plan did not choose";
  TemperatureTerms terms = test::terms_for_tests();
  terms.equivalences = {{test::cited("core-equal"), "core of a cooked food", celsius(70), kelvins(7.5), test::minutes_long(2), celsius(60),
                         celsius(80), test::minutes_long(1)}};
  terms.heat_rows.push_back({test::cited("egg-63"), "egg eaten at once", celsius(63), test::minutes_long(0.25)});
  tighten(terms, heated_to("core-75", 75, 0.5));  // as strict as the row: chosen, and not changed
  ASSERT_EQ(terms.heat_rows.size(), 2u);
  EXPECT_EQ(terms.heat_rows[0].cited.row, "core-75");
  EXPECT_EQ(terms.heat_rows[0].own, "");
  EXPECT_THAT(terms.heat_rows[0].cited.clause, HasSubstr("the kitchen's own plan of today goes by this row of the table"));
  EXPECT_EQ(terms.heat_rows[1].cited.row, "egg-63") << "another food keeps its rows";
  EXPECT_TRUE(terms.equivalences.empty());
}

TEST(PlanLimits, OfAHeatingThatAreLaxerInOneNumberAreNotStricter) {
  const TemperatureTerms terms = test::terms_for_tests();
  EXPECT_TRUE(not_stricter(terms, heated_to("core-70", 70, 2)).empty());
  EXPECT_TRUE(not_stricter(terms, heated_to("core-70", 90, 5)).empty());
  for (const auto& [degrees, minutes] : {std::pair{69.99, 2.0}, std::pair{69.99, 60.0}, std::pair{80.0, 1.99}}) {
    const auto found = not_stricter(terms, heated_to("core-70", degrees, minutes));
    ASSERT_EQ(found.size(), 1u) << degrees;
    EXPECT_EQ(found.front().rules, "70 °C for 2 min");
    EXPECT_EQ(found.front().cited.row, "core-70");
  }
  const auto unknown = not_stricter(terms, heated_to("core-71", 90, 60));
  ASSERT_EQ(unknown.size(), 1u);
  EXPECT_EQ(unknown.front().rules, "");
  EXPECT_THAT(unknown.front().heat_rows, testing::ElementsAre("core-70", "core-75"));
  TemperatureTerms laxer = terms;
  tighten(laxer, heated_to("core-70", 60, 60));  // the rules became stricter since the plan was taken over
  EXPECT_EQ(laxer.heat_rows.front().at, celsius(70));
  EXPECT_EQ(laxer.heat_rows.front().hold, test::minutes_long(60));
}

/// From 60 °C at once to `cold` in the hours told, by a rule of 57 °C to 21 °C in 2 h and to 5 °C in 6 h in all or in a further 4 h.
Finding cooled(double cold, double hours, const PlanNumbers& numbers, bool further = false) {
  TemperatureTerms terms = test::terms_for_tests();
  terms.cooling = CoolingTerm{test::cited("cooling"), celsius(57), celsius(21), celsius(5)};
  terms.cooling->first = std::chrono::hours{2};
  (further ? terms.cooling->second : terms.cooling->total) = std::chrono::hours{further ? 4 : 6};
  tighten(terms, numbers);
  CooledPart part;
  part.subject = "batch-1";
  part.heated = true;
  part.heated_because = "its recipe says that it is heated";
  part.measured_food = true;
  const auto found = judge_cooling(part, test::readings({{0, 57.0}, {50, 20.0}, {hours * 60, cold}}), {}, true, "", terms);
  return found.value_or(Finding{});
}

TEST(PlanLimits, OfACoolingAreMetAtTheirTimeAndEndAndNotBeyond) {
  for (const bool further : {false, true}) {
    PlanNumbers numbers = own();
    numbers.cooled_within = test::minutes_long(180);
    numbers.cooled_to = celsius(4);
    numbers.cooled_to_words = "4.0 °C";
    EXPECT_EQ(cooled(5, 3.9, own(), further).verdict, Verdict::shown) << "by the rules alone";
    const Finding met = cooled(4, 3, numbers, further);
    EXPECT_EQ(met.verdict, Verdict::shown) << met.message;
    EXPECT_THAT(met.limit, HasSubstr("to 4.0 °C within"));
    EXPECT_THAT(met.limit, HasSubstr("3 h in all (the plan's own limit; the rules have 57 °C to 21 °C within 2 h, and to 5 °C within"));
    EXPECT_THAT(met.source, HasSubstr("by the kitchen's own plan of today, where the rules have 57 °C to 21 °C"));
    EXPECT_EQ(cooled(4, 3 + 1 / 3600.0, numbers, further).verdict, Verdict::not_shown) << "a second later";
    EXPECT_EQ(cooled(4.01, 3, numbers, further).verdict, Verdict::not_shown) << "a hundredth warmer";
  }
}

TEST(PlanLimits, OfACoolingHoldEveryStageOfTheRuleToo) {
  PlanNumbers numbers = own();
  numbers.cooled_within = test::minutes_long(300);
  TemperatureTerms terms;
  terms.cooling = CoolingTerm{test::cited("cooling"), celsius(60), celsius(21), celsius(5)};
  terms.cooling->first = std::chrono::hours{2};
  terms.cooling->second = std::chrono::hours{4};
  tighten(terms, numbers);
  EXPECT_EQ(in_words(*terms.cooling),
            "60 °C to 21 °C within 2 h, and to 5 °C within a further 4 h, 5 h in all (the plan's own limit; the rules have 60 °C to 21 °C "
            "within 2 h, and to 5 °C within a further 4 h)");
  numbers.cooled_within = test::minutes_long(60);
  tighten(terms, numbers);
  EXPECT_EQ(*terms.cooling->first, std::chrono::hours{1});
  EXPECT_EQ(*terms.cooling->second, std::chrono::hours{1});
  EXPECT_EQ(*terms.cooling->whole, std::chrono::hours{1});
}

TEST(PlanLimits, OfACoolingThatAreLaxerInOneNumberAreNotStricter) {
  TemperatureTerms terms = test::terms_for_tests();
  terms.cooling = CoolingTerm{test::cited("cooling"), celsius(63), {}, celsius(10)};
  terms.cooling->total = std::chrono::hours{2};
  const auto lax = [&](std::optional<double> minutes, std::optional<double> degrees) {
    PlanNumbers numbers = own();
    if (minutes) numbers.cooled_within = test::minutes_long(*minutes);
    if (degrees) numbers.cooled_to = celsius(*degrees);
    return not_stricter(terms, numbers).size();
  };
  EXPECT_EQ(lax(120, 10), 0u);
  EXPECT_EQ(lax(90, {}), 0u);
  EXPECT_EQ(lax({}, 4), 0u);
  EXPECT_EQ(lax(121, 4), 1u);
  EXPECT_EQ(lax(60, 10.01), 1u);
  terms.cooling.reset();
  EXPECT_EQ(lax(60, 4), 1u) << "there is no rule that it could make stricter";
}

TEST(PlanLimits, OfAReheatingAreMetAtTheirTemperatureAndNotAHundredthBelow) {
  TemperatureTerms terms = test::terms_for_tests();
  terms.reheat = ReheatTerm{test::cited("reheat"), celsius(74), std::chrono::seconds{15}};
  PlanNumbers numbers = own();
  numbers.reheated = OwnHeat{"heated again to at least", "", celsius(82), "82.0 °C", {}};
  EXPECT_EQ(not_stricter(terms, numbers).size(), 1u) << "hotter, and not held: laxer in one number";
  numbers.reheated->hold = std::chrono::seconds{15};
  EXPECT_TRUE(not_stricter(terms, numbers).empty());
  tighten(terms, numbers);
  EXPECT_EQ(in_words(*terms.reheat), "82.0 °C for 15 s, unbroken (the plan's own limit; the rules have 74 °C for 15 s, unbroken)");
  const auto at = [&](double degrees) {
    const auto read = test::readings({{0, 4.0}, {60, degrees}, {60.25, degrees}, {90, 40.0}});
    return judge_reheating({"batch-1", true}, read, {}, true, "", terms);
  };
  EXPECT_EQ(at(82).verdict, Verdict::shown) << at(82).message;
  EXPECT_THAT(at(82).source, HasSubstr("by the kitchen's own plan of today, where the rules have 74 °C for 15 s"));
  EXPECT_NE(at(81.99).verdict, Verdict::shown);
  EXPECT_EQ(not_stricter(TemperatureTerms{}, numbers).size(), 1u);
}

}  // namespace
}  // namespace tierproof
