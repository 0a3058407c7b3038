// When regular records are due: the closed list of rules, closing days, and which due day a record counts for.
#include "tierproof/sums/due.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

namespace tierproof {
namespace {

using std::chrono::sys_days;
using std::chrono::weekday;

Date on(const char* text) { return *parse_date(text); }

std::string told(const std::vector<DueDay>& days) {
  std::string all;
  for (const auto& day : days) {
    all += (all.empty() ? "" : " ") + format_date(day.by_rule);
    if (!day.due) all += "(away)";
    if (day.due && *day.due != day.by_rule) all += ">" + format_date(*day.due);
  }
  return all;
}

DueRule weekly(unsigned day, OnClosedDay closed) {
  DueRule rule{DueEvery::week};
  rule.on = weekday{day};
  rule.closed = closed;
  return rule;
}
DueRule monthly(int day) {
  DueRule rule{DueEvery::month};
  rule.on_day = day;
  return rule;
}
DueRule counted(DueEvery every, int count, const char* from) {
  DueRule rule{every, count};
  rule.counted_from = on(from);
  return rule;
}
ClosingDays closed_on_sundays() {
  ClosingDays closing;
  closing.each_week(on("2026-01-01"), {true, false, false, false, false, false, false});
  return closing;
}

TEST(DueDays, OfEachWorkingDayAreTheDaysOnWhichSomebodyWorks) {
  const DueRule rule{DueEvery::working_day};
  EXPECT_EQ(told(due_days(rule, on("2026-05-01"), on("2026-05-05"), closed_on_sundays())), "2026-05-01 2026-05-02 2026-05-04 2026-05-05");
}

TEST(DueDays, OfEveryThirdWorkingDayCountFromTheFirstWorkingDay) {
  DueRule rule{DueEvery::working_days, 3};
  // 3 May 2026 is a Sunday: 4, 5, 6 | 7, 8, 9 | 11 ...
  EXPECT_EQ(told(due_days(rule, on("2026-05-03"), on("2026-05-14"), closed_on_sundays())), "2026-05-04 2026-05-07 2026-05-11 2026-05-14");
}

TEST(DueDays, OfAWeekdayOnAClosedDayMoveAsTheRuleSays) {
  const Date first = on("2026-05-01"), last = on("2026-05-10");
  const auto closing = closed_on_sundays();
  EXPECT_EQ(told(due_days(weekly(0, OnClosedDay::next), first, last, closing)), "2026-05-03>2026-05-04 2026-05-10>2026-05-11");
  EXPECT_EQ(told(due_days(weekly(0, OnClosedDay::previous), first, last, closing)), "2026-05-03>2026-05-02 2026-05-10>2026-05-09");
  EXPECT_EQ(told(due_days(weekly(0, OnClosedDay::falls_away), first, last, closing)), "2026-05-03(away) 2026-05-10(away)");
}

TEST(DueDays, ThatWouldMoveBeforeTheFirstDayGoForward) {
  // 3 May 2026 is a Sunday, and the first day: there is no working day before it on which anybody was asked.
  DueRule rule = counted(DueEvery::years, 1, "2026-05-03");
  rule.closed = OnClosedDay::previous;
  EXPECT_EQ(told(due_days(rule, on("2026-05-03"), on("2027-12-31"), closed_on_sundays())), "2026-05-03>2026-05-04 2027-05-03");
  DueRule month = monthly(3);
  month.closed = OnClosedDay::previous;
  EXPECT_EQ(told(due_days(month, on("2026-05-03"), on("2026-06-30"), closed_on_sundays())), "2026-05-03>2026-05-04 2026-06-03");
  EXPECT_EQ(told(due_days(month, on("2026-05-02"), on("2026-06-30"), closed_on_sundays())), "2026-05-03>2026-05-02 2026-06-03");
  // One working day between two due days is asked for once.
  ClosingDays closing;
  closing.range(on("2026-05-04"), on("2026-05-09"));
  closing.range(on("2026-05-11"), on("2026-05-11"));
  EXPECT_EQ(told(due_days(weekly(1, OnClosedDay::previous), on("2026-05-04"), on("2026-05-18"), closing)),
            "2026-05-04(away) 2026-05-11>2026-05-10 2026-05-18");
}

TEST(DueDays, NeverPileUpBehindAHoliday) {
  ClosingDays closing;
  closing.range(on("2026-08-01"), on("2026-08-19"));
  // Mondays: 3, 10 and 17 August lie in it; 17 August is made up on the 20th, the others would be on top of the next.
  EXPECT_EQ(told(due_days(weekly(1, OnClosedDay::next), on("2026-08-01"), on("2026-08-31"), closing)),
            "2026-08-03(away) 2026-08-10(away) 2026-08-17>2026-08-20 2026-08-24 2026-08-31");
  EXPECT_EQ(told(due_days(weekly(1, OnClosedDay::previous), on("2026-07-27"), on("2026-08-24"), closing)),
            "2026-07-27 2026-08-03>2026-07-31 2026-08-10(away) 2026-08-17(away) 2026-08-24");
}

TEST(DueDays, AreNeverBeforeTheFirstDay) {
  EXPECT_EQ(told(due_days(weekly(0, OnClosedDay::previous), on("2026-05-03"), on("2026-05-10"), closed_on_sundays())),
            "2026-05-03>2026-05-04 2026-05-10>2026-05-09");
}

TEST(DueDays, OfADayPastTheEndOfAMonthAreItsLastDay) {
  EXPECT_EQ(told(due_days(monthly(31), on("2028-01-01"), on("2028-04-30"), {})), "2028-01-31 2028-02-29 2028-03-31 2028-04-30");
  EXPECT_EQ(told(due_days(monthly(30), on("2026-02-01"), on("2026-03-31"), {})), "2026-02-28 2026-03-30");
}

TEST(DueDays, CountedFromTheTwentyNinthOfFebruaryAreTheTwentyEighthInACommonYear) {
  EXPECT_EQ(told(due_days(counted(DueEvery::years, 1, "2028-02-29"), on("2028-01-01"), on("2032-12-31"), {})),
            "2028-02-29 2029-02-28 2030-02-28 2031-02-28 2032-02-29");
  EXPECT_EQ(told(due_days(counted(DueEvery::years, 4, "2096-02-29"), on("2096-01-01"), on("2104-12-31"), {})),
            "2096-02-29 2100-02-28 2104-02-29")
      << "2100 is no leap year";
}

TEST(DueDays, OfMonthsComeBackToTheirOwnDayAfterAShortMonth) {
  EXPECT_EQ(told(due_days(counted(DueEvery::months, 1, "2026-01-31"), on("2026-01-31"), on("2026-04-30"), {})),
            "2026-01-31 2026-02-28 2026-03-31 2026-04-30");
  EXPECT_EQ(told(due_days(counted(DueEvery::months, 6, "2026-03-15"), on("2026-05-01"), on("2027-12-31"), {})),
            "2026-09-15 2027-03-15 2027-09-15");
}

TEST(DueDays, OfWhatIsRecordedWhenItHappensAreNone) {
  EXPECT_TRUE(due_days(DueRule{DueEvery::when_it_happens}, on("2026-01-01"), on("2036-01-01"), {}).empty());
}

TEST(ClosingDays, ChangeFromTheDayOnThatTheyAreToldFor) {
  ClosingDays closing = closed_on_sundays();
  closing.each_week(on("2026-06-01"), {false, true, false, false, false, false, false});
  EXPECT_TRUE(closing.closed(on("2026-05-31")));
  EXPECT_FALSE(closing.closed(on("2026-06-07"))) << "a Sunday after the change";
  EXPECT_TRUE(closing.closed(on("2026-06-01")));
  EXPECT_FALSE(closing.closed(on("2025-12-28"))) << "before anybody said so";
}

TEST(ClosingDays, AreNoneWhereSomebodyWorked) {
  ClosingDays closing = closed_on_sundays();
  closing.worked(on("2026-05-03"));
  EXPECT_FALSE(closing.closed(on("2026-05-03")));
  EXPECT_TRUE(closing.closed(on("2026-05-10")));
}

TEST(DueRules, WithoutTheirParametersAreRefused) {
  EXPECT_EQ(check_due_rule(DueRule{DueEvery::working_days, 0}).front().field, "due.count");
  EXPECT_EQ(check_due_rule(monthly(32)).front().field, "due.day");
  EXPECT_EQ(check_due_rule(monthly(0)).front().field, "due.day");
  EXPECT_EQ(check_due_rule(DueRule{DueEvery::years}).front().field, "due.counted_from");
  EXPECT_TRUE(check_due_rule(monthly(31)).empty());
}

TEST(DueRules, AreToldInWords) {
  EXPECT_EQ(words_of(weekly(5, OnClosedDay::next)), "each week on Friday");
  EXPECT_EQ(words_of(monthly(31)), "each month on its last day");
  EXPECT_EQ(words_of(monthly(29)), "each month on day 29, or its last day");
  EXPECT_EQ(words_of(counted(DueEvery::years, 1, "2026-05-01")), "every year from 1 May 2026");
  EXPECT_EQ(words_of(DueRule{DueEvery::working_days, 10}), "every 10 working days");
}

TEST(DueState, IsOverdueOnceItsLocalDayHasEnded) {
  const DueDay day{on("2026-05-01"), on("2026-05-01")};
  EXPECT_EQ(state_of(day, {}, false, on("2026-04-30")), DueState::to_come);
  EXPECT_EQ(state_of(day, {}, false, on("2026-05-01")), DueState::today);
  EXPECT_EQ(state_of(day, {}, false, on("2026-05-02")), DueState::overdue);
  EXPECT_EQ(state_of(day, {}, true, on("2026-05-02")), DueState::missed);
  EXPECT_EQ(state_of(day, on("2026-05-01"), false, on("2026-05-02")), DueState::done);
  EXPECT_EQ(state_of(day, on("2026-05-02"), true, on("2026-05-02")), DueState::done_late) << "the note that it was missed stays a note";
  EXPECT_EQ(state_of({on("2026-05-01"), {}}, {}, false, on("2026-05-02")), DueState::fallen_away);
}

std::vector<std::optional<std::size_t>> counted_for(DueRule rule, int early, const std::vector<DoneOn>& done,
                                                    const char* last = "2026-06-30") {
  rule.early_days = early;
  return counts_for(rule, due_days(rule, on("2026-05-01"), on(last), {}), done);
}
using Counted = std::vector<std::optional<std::size_t>>;

TEST(Records, CountForTheDueDayTheyWereMadeOn) {
  EXPECT_EQ(counted_for(DueRule{DueEvery::working_day}, 0, {{on("2026-05-02"), {}}, {on("2026-05-02"), {}}}), (Counted{1, std::nullopt}))
      << "a second look on the same day is no look of another day";
}

TEST(Records, OfADailyCheckNeverCountForYesterdayUnlessTheySaySo) {
  DueRule rule{DueEvery::working_day};
  ClosingDays closing;
  closing.range(on("2026-05-03"), on("2026-05-03"));
  const auto days = due_days(rule, on("2026-05-01"), on("2026-05-10"), closing);
  EXPECT_EQ(counts_for(rule, days, {{on("2026-05-03"), {}}}), (Counted{std::nullopt})) << "on a day off, and 2 May stays open";
  EXPECT_EQ(counted_for(DueRule{DueEvery::working_day}, 0, {{on("2026-05-02"), on("2026-05-01")}}), (Counted{0}));
}

TEST(Records, MadeAfterTheDueDayAreLateForIt) {
  EXPECT_EQ(counted_for(monthly(10), 0, {{on("2026-05-20"), {}}}), (Counted{0}));
  EXPECT_EQ(counted_for(monthly(10), 7, {{on("2026-06-09"), {}}}), (Counted{0})) << "what is open from before comes first";
}

TEST(Records, MadeEarlyCountOnlyAsFarAheadAsTheRuleSays) {
  const std::vector<DoneOn> twice{{on("2026-05-10"), {}}, {on("2026-06-05"), {}}};
  EXPECT_EQ(counted_for(monthly(10), 5, twice), (Counted{0, 1}));
  EXPECT_EQ(counted_for(monthly(10), 4, twice), (Counted{0, std::nullopt}));
}

TEST(Records, ThatNameTheirDayAreNotTakenByAnother) {
  EXPECT_EQ(counted_for(monthly(10), 0, {{on("2026-05-20"), {}}, {on("2026-05-21"), on("2026-05-10")}}), (Counted{std::nullopt, 0}));
}

TEST(Records, ThatNameADayThatIsNotDueAnyMoreCountByTheDayTheyWereMade) {
  EXPECT_EQ(counted_for(monthly(10), 0, {{on("2026-05-10"), on("2026-05-09")}}), (Counted{0}));
}

// What any rule keeps to, whatever its parameters and the closing days.
Date some_day() { return add_days(on("2019-01-01"), *rc::gen::inRange(0, 9000)); }
DueRule some_rule() {
  DueRule rule{
      *rc::gen::element(DueEvery::working_day, DueEvery::working_days, DueEvery::week, DueEvery::month, DueEvery::months, DueEvery::years)};
  rule.count = *rc::gen::inRange(1, 15);
  rule.on = weekday{static_cast<unsigned>(*rc::gen::inRange(0, 7))};
  rule.on_day = *rc::gen::inRange(1, 32);
  rule.counted_from = some_day();
  rule.closed = *rc::gen::element(OnClosedDay::next, OnClosedDay::previous, OnClosedDay::falls_away);
  rule.early_days = *rc::gen::inRange(0, 10);
  return rule;
}
ClosingDays some_closing(Date near) {
  ClosingDays closing;
  std::array<bool, 7> week{};
  for (auto& day : week) day = *rc::gen::weightedElement<bool>({{1, true}, {4, false}});
  closing.each_week(*rc::gen::element(near, add_days(near, 40), on("2000-01-01")), week);
  for (int i = *rc::gen::inRange(0, 4); i > 0; --i) {
    const Date from = add_days(near, *rc::gen::inRange(-20, 400));
    closing.range(from, add_days(from, *rc::gen::inRange(0, 60)));
  }
  return closing;
}

RC_GTEST_PROP(DueDays, AreInOrderEachOnceAndNeverOnAClosedDay, ()) {
  const DueRule rule = some_rule();
  const Date first = some_day();
  const auto closing = some_closing(first);
  const auto days = due_days(rule, first, add_days(first, *rc::gen::inRange(0, 1500)), closing);
  std::optional<Date> before, due_before;
  for (const auto& day : days) {
    if (before) RC_ASSERT(*before < day.by_rule);
    before = day.by_rule;
    if (!day.due) continue;
    RC_ASSERT(!closing.closed(*day.due));
    RC_ASSERT(*day.due >= first);
    if (due_before) RC_ASSERT(*due_before < *day.due);
    due_before = day.due;
  }
}

RC_GTEST_PROP(DueDays, AreTheSameHoweverTheTimeIsCut, ()) {
  const DueRule rule = some_rule();
  const Date first = some_day();
  const auto closing = some_closing(first);
  const int length = *rc::gen::inRange(1, 800);
  const auto whole = due_days(rule, first, add_days(first, length), closing);
  const auto part = due_days(rule, first, add_days(first, *rc::gen::inRange(0, length)), closing);
  RC_ASSERT(part.size() <= whole.size());
  RC_ASSERT(std::equal(part.begin(), part.end(), whole.begin()));
}

RC_GTEST_PROP(DueDays, GiveEachPeriodOfTheCalendarExactlyOne, ()) {
  DueRule rule = some_rule();
  const Date first = some_day();
  const Date last = add_days(first, *rc::gen::inRange(400, 3000));
  const auto days = due_days(rule, first, last, {});
  const auto month_number = [](Date day) {
    return static_cast<int>(day.year()) * 12 + static_cast<int>(static_cast<unsigned>(day.month()));
  };
  for (std::size_t i = 0; i < days.size(); ++i) {
    RC_ASSERT(days[i].due == days[i].by_rule);
    if (i == 0) continue;
    const auto gap = (sys_days{days[i].by_rule} - sys_days{days[i - 1].by_rule}).count();
    const int months = month_number(days[i].by_rule) - month_number(days[i - 1].by_rule);
    switch (rule.every) {
      case DueEvery::working_day:
        RC_ASSERT(gap == 1);
        break;
      case DueEvery::working_days:
        RC_ASSERT(gap == rule.count);
        break;
      case DueEvery::week:
        RC_ASSERT(gap == 7);
        break;
      case DueEvery::month:
        RC_ASSERT(months == 1);
        break;
      case DueEvery::months:
        RC_ASSERT(months == rule.count);
        break;
      case DueEvery::years:
        RC_ASSERT(months == 12 * rule.count);
        break;
      case DueEvery::when_it_happens:
        RC_FAIL("has no days");
    }
  }
  if (rule.every == DueEvery::month)  // every whole month within has its day, and no other has one
    RC_ASSERT(static_cast<int>(days.size()) >= month_number(last) - month_number(first) - 1);
}

RC_GTEST_PROP(DueDays, ThatMoveStayBetweenTheirNeighbours, ()) {
  DueRule rule = some_rule();
  if (rule.every == DueEvery::working_day || rule.every == DueEvery::working_days) rule.every = DueEvery::month;
  const Date first = some_day();
  const auto closing = some_closing(first);
  const auto days = due_days(rule, first, add_days(first, 2000), closing);
  for (std::size_t i = 0; i < days.size(); ++i) {
    if (!closing.closed(days[i].by_rule)) {
      RC_ASSERT(days[i].due == days[i].by_rule);
    } else if (days[i].due) {
      RC_ASSERT(rule.closed != OnClosedDay::falls_away);
      bool asked_before = false;  // on a working day before it, since the first
      for (Date day = first; day < days[i].by_rule; day = add_days(day, 1)) asked_before = asked_before || !closing.closed(day);
      RC_ASSERT((*days[i].due > days[i].by_rule) == (rule.closed == OnClosedDay::next || !asked_before));
      if (i > 0) RC_ASSERT(*days[i].due > days[i - 1].by_rule);
      if (i + 1 < days.size()) RC_ASSERT(*days[i].due < days[i + 1].by_rule);
    }
  }
}

RC_GTEST_PROP(Records, GiveEachDueDayAtMostOneAndNothingIsDoneByNobody, ()) {
  const DueRule rule = some_rule();
  const Date first = some_day();
  const auto days = due_days(rule, first, add_days(first, 500), some_closing(first));
  std::vector<Date> made;
  for (int i = *rc::gen::inRange(0, 30); i > 0; --i) made.push_back(add_days(first, *rc::gen::inRange(0, 500)));
  std::sort(made.begin(), made.end());
  std::vector<DoneOn> done;
  for (const Date day : made) {
    const bool names = !days.empty() && *rc::gen::weightedElement<bool>({{1, true}, {3, false}});
    done.push_back(
        {day, names ? days.at(static_cast<std::size_t>(*rc::gen::inRange<int>(0, static_cast<int>(days.size())))).due : std::nullopt});
  }
  const auto counted = counts_for(rule, days, done);
  std::set<std::size_t> taken;
  for (std::size_t i = 0; i < done.size(); ++i) {
    if (!counted[i]) continue;
    const auto& due = days.at(*counted[i]).due;
    RC_ASSERT(due.has_value());
    RC_ASSERT(taken.insert(*counted[i]).second);
    if (done[i].due == due) continue;
    RC_ASSERT(*due <= add_days(done[i].day, rule.early_days));
    if (rule.every == DueEvery::working_day) RC_ASSERT(*due == done[i].day);
  }
}

}  // namespace
}  // namespace tierproof
