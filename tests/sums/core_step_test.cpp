#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sums/readings.h"

namespace tierproof {
namespace {

using test::cited;
using test::minutes_long;
using test::steady;
using testing::HasSubstr;

const CoreStep caramel{"batch-4 (caramel)", "core of a cooked food"};

Finding judged(const std::vector<Reading>& readings, bool reliable = true, const TemperatureTerms& terms = test::terms_for_tests()) {
  return judge_core_step(caramel, readings, kelvins(0.5), reliable, "fork", terms);
}

TEST(CoreStep, IsShownByARowThatIsMetLessTheErrorAndByNothingLess) {
  const Finding f = judged(steady(70.5, 3, 1));
  EXPECT_EQ(f.verdict, Verdict::shown) << f.message;
  EXPECT_EQ(f.control, "core-heat");
  EXPECT_EQ(f.subject, "batch-4 (caramel)");
  EXPECT_EQ(f.stop, Stop::none);
  EXPECT_THAT(f.limit, HasSubstr("70 °C for 2 min, unbroken"));
  EXPECT_THAT(f.source, HasSubstr("core-70"));
  EXPECT_NE(judged(steady(70.4, 3, 1)).verdict, Verdict::shown) << "the error is taken off";
  EXPECT_EQ(judged(steady(70.5, 2, 1)).verdict, Verdict::not_shown) << "held for a minute of two";
  EXPECT_EQ(judged(steady(70.5, 2, 2)).verdict, Verdict::not_shown) << "no reading for 2 min is a gap";
}

TEST(CoreStep, ThatSurelyStayedTooColdIsNotMetAndNeedsAPerson) {
  const Finding f = judged(steady(60, 5, 1));
  EXPECT_EQ(f.verdict, Verdict::not_met) << f.message;
  EXPECT_EQ(f.stop, Stop::needs_person);
  EXPECT_THAT(f.remedy, HasSubstr("remake it"));
  EXPECT_THAT(f.remedy, testing::Not(HasSubstr("egg")));
}

TEST(CoreStep, ByAThermometerWithoutGoodChecksIsNotShown) {
  const Finding f = judged(steady(72, 3, 1), false);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.stop, Stop::needs_person);
  EXPECT_THAT(f.message, HasSubstr("without good checks"));
}

TEST(CoreStep, WithoutATemperatureIsNotShownAndTellsTheLimit) {
  EXPECT_EQ(judged({}).verdict, Verdict::not_shown);
  EXPECT_EQ(judged({}).message, "no temperature of its middle is recorded");
  EXPECT_THAT(judged({}).limit, HasSubstr("75 °C for 30 s"));
  EXPECT_THAT(judged(test::readings({{0, std::nullopt}})).message, HasSubstr("faults only"));
}

TEST(CoreStep, WhereTheRulesHaveNoRowForItIsNotShown) {
  TemperatureTerms terms = test::terms_for_tests();
  for (auto& row : terms.heat_rows) row.food = "raw egg that is pooled or held";
  terms.no_numbers = {{cited("no-heat"), "heating", "the law gives no number"}};
  const Finding f = judged(steady(90, 10, 1), true, terms);
  EXPECT_EQ(f.verdict, Verdict::not_shown) << "rows for egg say nothing of a caramel";
  EXPECT_THAT(f.message, HasSubstr("no row for heating it (core of a cooked food): the law gives no number"));
  EXPECT_THAT(f.source, HasSubstr("no-heat"));
  EXPECT_FALSE(core_build_up(caramel, steady(90, 10, 1), {}, terms).has_value());
}

TEST(CoreStep, WithoutALongestStepCountsNoTimeBetweenReadings) {
  TemperatureTerms terms = test::terms_for_tests();
  terms.gaps.clear();
  const Finding f = judged(steady(72, 10, 1), true, terms);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.message, HasSubstr("no longest time between readings"));
}

TEST(CoreStep, BuildsUpOnTheRowThatItsFindingTells) {
  const auto built = core_build_up(caramel, steady(72, 3, 1), kelvins(0.5), test::terms_for_tests());
  ASSERT_TRUE(built.has_value());
  EXPECT_EQ(built->at, celsius(70));
  EXPECT_EQ(built->wanted, minutes_long(2));
  EXPECT_THAT(judged(steady(72, 3, 1)).limit, HasSubstr(built->limit));
}

TEST(LongestStep, IsTheShortestOfItsRowsAndNothingWithoutOne) {
  TemperatureTerms terms = test::terms_for_tests();
  terms.gaps.push_back({cited("gap-short"), "heat step", minutes_long(0.5)});
  EXPECT_EQ(terms.longest_step("heat step"), minutes_long(0.5));
  EXPECT_EQ(terms.longest_step("chilled hold"), minutes_long(30));
  EXPECT_EQ(terms.longest_step("cooling"), Span{});
}

}  // namespace
}  // namespace tierproof
