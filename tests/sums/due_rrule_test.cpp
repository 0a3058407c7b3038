// Due days beside the recurrence rules of RFC 5545 (3.3.10), as libical works them out, wherever both can say the same.
//
// "The last day of a shorter month" is said there by several BYMONTHDAY and the last of them (BYSETPOS=-1), since a BYMONTHDAY that a
// month does not have is passed over.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <libical/ical.h>
#include <rapidcheck/gtest.h>

#include "tierproof/sums/due.h"

namespace tierproof {
namespace {

std::vector<Date> by_libical(const std::string& rrule, Date start, Date first, Date last) {
  const auto rule = icalrecurrencetype_from_string(rrule.c_str());
  EXPECT_NE(rule.freq, ICAL_NO_RECURRENCE) << rrule;
  auto text = format_date(start);
  std::erase(text, '-');
  icalrecur_iterator* iterator = icalrecur_iterator_new(rule, icaltime_from_string(text.c_str()));
  EXPECT_NE(iterator, nullptr) << rrule;
  std::vector<Date> days;
  for (auto at = icalrecur_iterator_next(iterator); !icaltime_is_null_time(at); at = icalrecur_iterator_next(iterator)) {
    const Date day{std::chrono::year{at.year}, std::chrono::month{static_cast<unsigned>(at.month)},
                   std::chrono::day{static_cast<unsigned>(at.day)}};
    if (day > last) break;
    if (day >= first) days.push_back(day);
  }
  icalrecur_iterator_free(iterator);
  return days;
}

/// `BYMONTHDAY=28,29,30;BYSETPOS=-1` of 30: the last of these that a month has.
std::string day_or_last(unsigned day) {
  std::string list = fmt::format("BYMONTHDAY={}", std::min(day, 28u));
  for (unsigned more = 29; more <= day; ++more) list += fmt::format(",{}", more);
  return list + (day > 28 ? ";BYSETPOS=-1" : "");
}

std::vector<Date> ours(const DueRule& rule, Date first, Date last, const ClosingDays& closing = {}) {
  std::vector<Date> days;
  for (const auto& day : due_days(rule, first, last, closing)) days.push_back(*day.due);
  return days;
}

Date some_start() { return add_days(*parse_date("1999-11-01"), *rc::gen::inRange(0, 12000)); }

RC_GTEST_PROP(DueDays, OfAMonthAreThoseOfRfc5545, ()) {
  DueRule rule{DueEvery::month};
  rule.on_day = *rc::gen::inRange(1, 32);
  const Date first = some_start();
  const Date last = add_days(first, *rc::gen::inRange(0, 3000));
  const Date start{first.year(), std::chrono::month{1}, std::chrono::day{1}};  // counts by itself in libical only if the rule has it
  auto theirs = by_libical("FREQ=MONTHLY;" + day_or_last(static_cast<unsigned>(rule.on_day)), start, first, last);
  if (first == start && rule.on_day != 1 && !theirs.empty() && theirs.front() == start) theirs.erase(theirs.begin());
  RC_ASSERT(ours(rule, first, last) == theirs);
}

RC_GTEST_PROP(DueDays, OfMonthsCountedFromADayAreThoseOfRfc5545, ()) {
  DueRule rule{DueEvery::months, *rc::gen::inRange(1, 30)};
  rule.counted_from = *rc::gen::weightedOneOf<Date>(
      {{3, rc::gen::map(rc::gen::inRange(0, 12000), [](int n) { return add_days(*parse_date("1999-11-01"), n); })},
       {1, rc::gen::element(*parse_date("2000-02-29"), *parse_date("2024-02-29"), *parse_date("2023-01-31"), *parse_date("2023-08-30"))}});
  const Date first = add_days(rule.counted_from, *rc::gen::inRange(0, 2000));
  const Date last = add_days(first, *rc::gen::inRange(0, 4000));
  const auto day = static_cast<unsigned>(rule.counted_from.day());
  RC_ASSERT(ours(rule, first, last) ==
            by_libical(fmt::format("FREQ=MONTHLY;INTERVAL={};{}", rule.count, day_or_last(day)), rule.counted_from, first, last));
}

RC_GTEST_PROP(DueDays, OfYearsCountedFromADayAreThoseOfRfc5545, ()) {
  DueRule rule{DueEvery::years, *rc::gen::inRange(1, 9)};
  rule.counted_from = *rc::gen::element(*parse_date("2000-02-29"), *parse_date("2024-02-29"), *parse_date("2096-02-29"),
                                        *parse_date("2023-12-31"), *parse_date("2023-02-28"), some_start());
  const Date first = add_days(rule.counted_from, *rc::gen::inRange(0, 2000));
  const Date last = add_days(first, *rc::gen::inRange(0, 9000));
  const auto day = static_cast<unsigned>(rule.counted_from.day());
  const auto month = static_cast<unsigned>(rule.counted_from.month());
  RC_ASSERT(ours(rule, first, last) == by_libical(fmt::format("FREQ=YEARLY;INTERVAL={};BYMONTH={};{}", rule.count, month, day_or_last(day)),
                                                  rule.counted_from, first, last));
}

RC_GTEST_PROP(DueDays, OfAWeekdayAreThoseOfRfc5545, ()) {
  constexpr std::array<const char*, 7> names{"SU", "MO", "TU", "WE", "TH", "FR", "SA"};
  DueRule rule{DueEvery::week};
  rule.on = std::chrono::weekday{static_cast<unsigned>(*rc::gen::inRange(0, 7))};
  const Date first = some_start();
  const Date last = add_days(first, *rc::gen::inRange(0, 800));
  RC_ASSERT(ours(rule, first, last) == by_libical(fmt::format("FREQ=WEEKLY;BYDAY={}", names.at(rule.on.c_encoding())), first, first, last));
}

TEST(DueDays, OfEachWorkingDayAreThoseOfRfc5545) {
  ClosingDays closing;
  closing.each_week(*parse_date("2026-01-01"), {true, true, false, false, false, false, false});
  const Date first = *parse_date("2026-01-06"), last = *parse_date("2026-12-31");
  EXPECT_EQ(ours(DueRule{DueEvery::working_day}, first, last, closing), by_libical("FREQ=DAILY;BYDAY=TU,WE,TH,FR,SA", first, first, last));
  EXPECT_EQ(ours(DueRule{DueEvery::working_days, 10}, first, last), by_libical("FREQ=DAILY;INTERVAL=10", first, first, last));
}

}  // namespace
}  // namespace tierproof
