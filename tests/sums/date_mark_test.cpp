#include "tierproof/sums/date_mark.h"

#include <gtest/gtest.h>

#include "terms_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;
using namespace std::chrono;

std::vector<std::string> forms(Date made, Life life) {
  std::vector<std::string> all;
  const Result<DateMarks> marks = date_marks(made, life, false, label_terms().date_marks);
  for (const DateMark& mark : marks->allowed) all.push_back(mark.form);
  return all;
}

TEST(AddMonths, EndsWithTheMonthWhenTheDayIsMissing) {
  EXPECT_EQ(add_months(2027y / January / 31, 1), Date{2027y / February / 28});
  EXPECT_EQ(add_months(2028y / January / 31, 1), Date{2028y / February / 29});
  EXPECT_EQ(add_months(2027y / November / 15, 3), Date{2028y / February / 15});
}

TEST(DateMarks, ChangeFormTheDayAfterTheLimit) {
  EXPECT_EQ(forms(2027y / May / 3, {3, 0}), (std::vector<std::string>{"day month year", "day month"}));
  EXPECT_EQ(forms(2027y / May / 3, {3, 1}), (std::vector<std::string>{"day month year", "month year"}));
  EXPECT_EQ(forms(2027y / May / 3, {18, 0}), (std::vector<std::string>{"day month year", "month year"}));
  EXPECT_EQ(forms(2027y / May / 3, {18, 1}), (std::vector<std::string>{"day month year", "month year", "year"}));
}

TEST(DateMarks, NeverGrantADayBeyondTheLifeInTheFullestForm) {
  for (const Life life : {Life{0, 1}, Life{3, 0}, Life{5, 0}, Life{20, 0}}) {
    const Result<DateMarks> marks = date_marks(2027y / May / 3, life, false, label_terms().date_marks);
    EXPECT_EQ(marks->allowed.front().days_past_life, 0);
    EXPECT_EQ(marks->allowed.front().reaches, marks->last);
  }
}

TEST(DateMarks, SayHowFarAMonthReachesBeyondTheLife) {
  const Result<DateMarks> marks = date_marks(2027y / May / 3, {5, 0}, false, label_terms().date_marks);
  EXPECT_EQ(marks->allowed.back().days_past_life, 28);
  EXPECT_EQ(date_marks(2027y / May / 31, {5, 0}, false, label_terms().date_marks)->allowed.back().days_past_life, 0);
}

TEST(DateMarks, GrantAYearThatEndsOnTheLastDay) {
  const Result<DateMarks> marks = date_marks(2027y / March / 31, {21, 0}, false, label_terms().date_marks);
  EXPECT_EQ(marks->last, Date{2028y / December / 31});
  EXPECT_EQ(marks->allowed.back().text, "Best before end 2028");
}

TEST(DateMarks, NameTheDayOfAUseBy) {
  const Result<DateMarks> marks = date_marks(2027y / December / 30, {0, 3}, true, label_terms().date_marks);
  ASSERT_TRUE(marks);
  EXPECT_EQ(marks->kind, "use by");
  EXPECT_EQ(marks->allowed.front().text, "Use by 2 January 2028");
  EXPECT_TRUE(marks->storage_needed);
  EXPECT_FALSE(date_marks(2027y / May / 3, {0, 3}, false, label_terms().date_marks)->storage_needed);
}

/// FDR B.01.007 (from memory): year, month by its symbol, day in two figures.
TEST(DateMarks, StandYearFirstWithTheMonthsOfTheirRow) {
  DateMarkTerm row{{"best-before", "FDR B.01.007", true}, "best before", 3, "day month", "Best before"};
  row.months = {"JA", "FE", "MR", "AL", "MA", "JN", "JL", "AU", "SE", "OC", "NO", "DE"};
  row.year_first = true;
  const std::vector<DateMarkTerm> rows = {row};
  const Result<DateMarks> marks = date_marks(2027y / April / 27, {0, 10}, false, rows);
  ASSERT_EQ(marks->allowed.size(), 2U);
  EXPECT_EQ(marks->allowed[0].text, "Best before 2027 MA 07");
  EXPECT_EQ(marks->allowed[1].text, "Best before MA 07");
}

TEST(DateMarks, FallBackToBestBeforeWhereTheRulesKnowNoUseBy) {
  std::vector<DateMarkTerm> rows = label_terms().date_marks;
  std::erase_if(rows, [](const DateMarkTerm& row) { return row.kind == "use by"; });
  const Result<DateMarks> marks = date_marks(2027y / May / 3, {0, 3}, true, rows);
  ASSERT_TRUE(marks);
  EXPECT_EQ(marks->kind, "best before");
  EXPECT_TRUE(marks->storage_needed);
}

LabelTerms with_day_foods(bool from_memory) {
  LabelTerms terms = label_terms();
  terms.date_exemptions = {{fic("day-foods", "Annex X 1(d)", from_memory), "best before", 24, "pastry eaten within a day of its making"}};
  return terms;
}

/// FIC art. 24(1), Annex X 1(d).
TEST(DateNeed, IsSparedByALifeOfADayAtMost) {
  const auto need = [](std::optional<std::int64_t> hours, bool dangerous = false, bool memory = false) {
    return judge_date_need(dangerous, hours, 2027y / May / 3, std::nullopt, with_day_foods(memory));
  };
  EXPECT_FALSE(need(24).needed);
  EXPECT_NE(need(24).why.find("pastry eaten within a day"), std::string::npos);
  EXPECT_NE(need(24).source.find("Annex X 1(d)"), std::string::npos);
  EXPECT_TRUE(need(25).needed);
  EXPECT_EQ(need(25).kind, "best before");
  EXPECT_TRUE(need(std::nullopt).needed) << "a life that is not known";
  EXPECT_TRUE(need(24, true).needed) << "a use-by date is never spared";
  EXPECT_EQ(need(24, true).kind, "use by");
  EXPECT_TRUE(need(24, false, true).needed) << "from memory, and nobody confirmed it";
  EXPECT_NE(need(24, false, true).confirm.find("confirm it with the food authority"), std::string::npos);
  EXPECT_TRUE(need(25).confirm.empty());
}

TEST(DateNeed, EndsWhereTheLongestRowEnds) {
  LabelTerms terms;
  terms.date_marks = {{fic("short", "none"), "best before", 3, "day month", "Best before"}};
  const auto needed = [&](Life life) { return judge_date_need(false, std::nullopt, 2027y / May / 3, life, terms).needed; };
  EXPECT_TRUE(needed({3, 0}));
  EXPECT_FALSE(needed({3, 1}));
  EXPECT_TRUE(needed({0, 92}));  // 3 August
  EXPECT_FALSE(needed({0, 93}));
  EXPECT_TRUE(judge_date_need(false, std::nullopt, 2027y / May / 3, std::nullopt, terms).needed);
  terms.date_marks[0].cited.from_memory = true;
  EXPECT_TRUE(needed({3, 1}));
  EXPECT_TRUE(judge_date_need(false, std::nullopt, 2027y / May / 3, Life{40, 0}, label_terms()).needed) << "a row without an end";
}

TEST(DateNeed, IsNoneWhereTheRulesHaveNoDates) {
  const DateNeed none = judge_date_need(true, 1, 2027y / May / 3, Life{0, 1}, {});
  EXPECT_FALSE(none.needed);
  EXPECT_EQ(none.kind, "");
}

LabelTerms with_lot_mark() {
  LabelTerms terms = label_terms();
  terms.lot_mark = LotMarkTerm{{"lot", "Dir 2011/91/EU art. 2 to 5", false}, "L", true, 10};
  return terms;
}
RouteTerm selling(std::vector<std::string> on_pack) {
  RouteTerm route{};
  route.on_pack = std::move(on_pack);
  return route;
}

/// Dir 2011/91/EU art. 2, 3 and 5.
TEST(LotMark, IsDueUnlessADayAndMonthStandForIt) {
  const auto due = [](std::string_view form, std::optional<std::int64_t> face = 40'000, bool year_first = false) {
    return judge_lot_mark(with_lot_mark(), selling({"name", "lot"}), face, form, "7", year_first).due;
  };
  EXPECT_TRUE(due(""));
  EXPECT_TRUE(due("month year"));
  EXPECT_TRUE(due("year"));
  EXPECT_FALSE(due("day month"));
  EXPECT_FALSE(due("day month year"));
  EXPECT_TRUE(due("day month year", 40'000, true)) << "not in that order";
  EXPECT_TRUE(due("", 1000)) << "10 cm² is not less than 10 cm²";
  EXPECT_FALSE(due("", 999));
  EXPECT_TRUE(due("", std::nullopt)) << "a face that is not known spares nothing";
}

TEST(LotMark, HasItsPrefixAndAReason) {
  const LotMark mark = judge_lot_mark(with_lot_mark(), selling({"lot"}), std::nullopt, "", "7");
  EXPECT_EQ(mark.text, "L7");
  EXPECT_EQ(mark.why, "no date stands on the pack");
  EXPECT_NE(mark.source.find("2011/91"), std::string::npos);
  LabelTerms always = with_lot_mark();
  always.lot_mark->not_with_day_and_month = false;
  EXPECT_TRUE(judge_lot_mark(always, selling({"lot"}), std::nullopt, "day month", "7").due);
}

TEST(LotMark, IsNotAskedOfEveryWayOfSelling) {
  EXPECT_FALSE(judge_lot_mark(with_lot_mark(), selling({"name"}), std::nullopt, "", "7").due);
  EXPECT_TRUE(judge_lot_mark(with_lot_mark(), std::nullopt, std::nullopt, "", "7").due) << "a way that is not known";
  EXPECT_FALSE(judge_lot_mark(label_terms(), selling({"lot"}), std::nullopt, "", "7").due) << "rules without a row";
  EXPECT_EQ(judge_lot_mark(label_terms(), selling({"lot"}), std::nullopt, "", "7").text, "7");
}

TEST(DateMarks, RefuseALifeOfNothingAndTermsWithoutARow) {
  EXPECT_FALSE(date_marks(2027y / May / 3, {0, 0}, false, label_terms().date_marks));
  EXPECT_FALSE(date_marks(2027y / May / 3, {0, -1}, false, label_terms().date_marks));
  EXPECT_FALSE(date_marks(2027y / May / 3, {0, 3}, true, {}));
}

}  // namespace
}  // namespace tierproof
