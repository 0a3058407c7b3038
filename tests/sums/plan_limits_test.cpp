// A hazard plan's own numbers beside the rules: the stricter counts, and equal is as strict. All rows are invented.
#include "tierproof/sums/plan_limits.h"

#include <gmock/gmock.h>

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

}  // namespace
}  // namespace tierproof
