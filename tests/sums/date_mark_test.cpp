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

TEST(DateMarks, RefuseALifeOfNothingAndTermsWithoutARow) {
  EXPECT_FALSE(date_marks(2027y / May / 3, {0, 0}, false, label_terms().date_marks));
  EXPECT_FALSE(date_marks(2027y / May / 3, {0, -1}, false, label_terms().date_marks));
  EXPECT_FALSE(date_marks(2027y / May / 3, {0, 3}, true, {}));
}

}  // namespace
}  // namespace tierproof
