#include "tierproof/sums/due.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "tierproof/sums/date_mark.h"

namespace tierproof {
namespace {

using std::chrono::days;
using std::chrono::sys_days;

constexpr std::array<const char*, 7> weekday_names{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};

std::chrono::year_month month_of(Date day) { return {day.year(), day.month()}; }

int months_between(std::chrono::year_month from, std::chrono::year_month to) { return static_cast<int>((to - from).count()); }

/// How many months lie between two days of a rule by months or years.
int months_in(const DueRule& rule) {
  return rule.every == DueEvery::month ? 1 : rule.every == DueEvery::months ? rule.count : rule.count * 12;
}

/// A day of such a rule from which the others are counted. January has every day that a month may have.
Date counted_from(const DueRule& rule, Date about) {
  if (rule.every != DueEvery::month) return rule.counted_from;
  return Date{about.year(), std::chrono::January, std::chrono::day{static_cast<unsigned>(rule.on_day)}};
}

/// The days that the rule alone gives in `first`..`last`.
std::vector<Date> by_rule(const DueRule& rule, Date first, Date last, const ClosingDays& closing) {
  std::vector<Date> found;
  const auto add = [&](Date day) {
    if (day >= first && day <= last) found.push_back(day);
  };
  switch (rule.every) {
    case DueEvery::when_it_happens:
      break;
    case DueEvery::working_day:
    case DueEvery::working_days: {
      const int step = rule.every == DueEvery::working_day ? 1 : rule.count;
      int worked = 0;
      for (Date day = first; day <= last; day = add_days(day, 1)) {
        if (!closing.closed(day) && worked++ % step == 0) found.push_back(day);
      }
      break;
    }
    case DueEvery::week: {
      const auto ahead = rule.on - std::chrono::weekday{sys_days{first}};
      for (Date day = add_days(first, static_cast<int>(ahead.count())); day <= last; day = add_days(day, 7)) found.push_back(day);
      break;
    }
    case DueEvery::month:
    case DueEvery::months:
    case DueEvery::years: {
      const int step = months_in(rule);
      const Date from = counted_from(rule, first);
      int ahead = std::max(0, months_between(month_of(from), month_of(first)) / step * step);
      for (Date day = add_months(from, ahead); day <= last; day = add_months(from, ahead += step)) add(day);
      break;
    }
  }
  return found;
}

bool moves(const DueRule& rule) { return rule.every != DueEvery::working_day && rule.every != DueEvery::working_days; }

/// The day by the rule after `day`, or before it but not before `first`.
std::optional<Date> neighbour(const DueRule& rule, Date day, bool after, Date first, const ClosingDays& closing) {
  const int far = rule.every == DueEvery::week ? 7 : 31 * months_in(rule);  // no two days of the rule are further apart
  const auto found = after ? by_rule(rule, add_days(day, 1), add_days(day, far), closing)
                           : by_rule(rule, std::max(first, add_days(day, -far)), add_days(day, -1), closing);
  if (found.empty()) return std::nullopt;
  return after ? found.front() : found.back();
}

/// The next working day after `day` and before `wall`.
std::optional<Date> forward(Date day, std::optional<Date> wall, const ClosingDays& closing) {
  for (Date other = add_days(day, 1); !wall || other < *wall; other = add_days(other, 1)) {
    if (!closing.closed(other)) return other;
    if (!wall && (sys_days{other} - sys_days{day} > days{1000})) return std::nullopt;
  }
  return std::nullopt;
}

std::optional<Date> moved(const DueRule& rule, Date day, Date first, const ClosingDays& closing) {
  if (!closing.closed(day)) return day;
  if (rule.closed == OnClosedDay::falls_away) return std::nullopt;
  const auto wall_after = neighbour(rule, day, true, first, closing);
  if (rule.closed == OnClosedDay::next) return forward(day, wall_after, closing);
  const auto wall = neighbour(rule, day, false, first, closing);
  for (Date other = add_days(day, -1); !wall || other > *wall; other = add_days(other, -1)) {
    if (other < first) {
      // Nothing was asked for so early: the period is kept by going forward, unless the next one is moved back to the same day.
      const auto later = forward(day, wall_after, closing);
      return later && wall_after && moved(rule, *wall_after, first, closing) == later ? std::nullopt : later;
    }
    if (!closing.closed(other)) return other;
  }
  return std::nullopt;
}

}  // namespace

void ClosingDays::each_week(Date from, std::array<bool, 7> closed) {
  const auto after = std::upper_bound(weekly_.begin(), weekly_.end(), from, [](Date day, const auto& one) { return day < one.first; });
  weekly_.insert(after, {from, closed});
}

void ClosingDays::range(Date from, Date until) { ranges_.emplace_back(from, until); }

bool ClosingDays::closed(Date day) const {
  if (worked_.contains(day)) return false;
  if (std::any_of(ranges_.begin(), ranges_.end(), [&](const auto& range) { return range.first <= day && day <= range.second; }))
    return true;
  const auto after = std::upper_bound(weekly_.begin(), weekly_.end(), day, [](Date d, const auto& one) { return d < one.first; });
  if (after == weekly_.begin()) return false;
  return std::prev(after)->second.at(std::chrono::weekday{sys_days{day}}.c_encoding());
}

std::vector<DueDay> due_days(const DueRule& rule, Date first, Date last, const ClosingDays& closing) {
  std::vector<DueDay> found;
  for (const Date day : by_rule(rule, first, last, closing))
    found.push_back({day, moves(rule) ? moved(rule, day, first, closing) : std::optional{day}});
  return found;
}

Refusals check_due_rule(const DueRule& rule) {
  Refusals refusals;
  const auto refuse = [&](const char* field, const char* message, const char* remedy) {
    refusals.push_back({"", 0, field, message, remedy});
  };
  const bool counted = rule.every == DueEvery::working_days || rule.every == DueEvery::months || rule.every == DueEvery::years;
  if (counted && (rule.count < 1 || rule.count > 1000))
    refuse("due.count", "is no count from 1 to 1000", "write how many go by, such as 6");
  if (rule.every == DueEvery::week && !rule.on.ok()) refuse("due.on", "is no day of the week", "write one such as monday");
  if (rule.every == DueEvery::month && (rule.on_day < 1 || rule.on_day > 31))
    refuse("due.day", "is no day of a month", "write 1 to 31; 31 is the last day of every month");
  if ((rule.every == DueEvery::months || rule.every == DueEvery::years) && !rule.counted_from.ok())
    refuse("due.counted_from", "is no day to count from", "write it as 2026-05-01");
  if (rule.early_days < 0 || rule.early_days > 366) refuse("due.early_days", "is no number of days from 0 to 366", "write such as 7");
  return refusals;
}

std::string words_of(const DueRule& rule) {
  const auto every = [&](const char* one, const char* many) {
    return rule.count == 1 ? fmt::format("every {}", one) : fmt::format("every {} {}", rule.count, many);
  };
  switch (rule.every) {
    case DueEvery::working_day:
      return "each working day";
    case DueEvery::working_days:
      return every("working day", "working days");
    case DueEvery::week:
      return fmt::format("each week on {}", weekday_names.at(rule.on.c_encoding()));
    case DueEvery::month:
      return rule.on_day == 31  ? std::string{"each month on its last day"}
             : rule.on_day > 28 ? fmt::format("each month on day {}, or its last day", rule.on_day)
                                : fmt::format("each month on day {}", rule.on_day);
    case DueEvery::months:
      return fmt::format("{} from {}", every("month", "months"), format_date_long(rule.counted_from));
    case DueEvery::years:
      return fmt::format("{} from {}", every("year", "years"), format_date_long(rule.counted_from));
    case DueEvery::when_it_happens:
      return "when it happens";
  }
  throw Fault{exit_status::our_bug, "a due rule without words"};
}

namespace {

struct StateSaid {
  DueState state;
  std::string_view words, term;
};
constexpr std::array states_said{StateSaid{DueState::to_come, "to come", "to_come"},
                                 StateSaid{DueState::today, "due today", "due_today"},
                                 StateSaid{DueState::overdue, "overdue", "overdue"},
                                 StateSaid{DueState::missed, "missed", "missed"},
                                 StateSaid{DueState::done, "done", "done"},
                                 StateSaid{DueState::done_late, "done late", "done_late"},
                                 StateSaid{DueState::fallen_away, "not due, nobody worked", "not_due"}};

const StateSaid& said_of(DueState state) {
  const auto found = std::find_if(states_said.begin(), states_said.end(), [&](const StateSaid& said) { return said.state == state; });
  if (found == states_said.end()) throw Fault{exit_status::our_bug, "a state of a due day without words"};
  return *found;
}

}  // namespace

std::string_view words_of(DueState state) { return said_of(state).words; }
std::string_view term_of(DueState state) { return said_of(state).term; }

std::vector<std::optional<std::size_t>> counts_for(const DueRule& rule, const std::vector<DueDay>& days, const std::vector<DoneOn>& done) {
  std::vector<std::size_t> asked;  // those that did not fall away, by the day they are due
  for (std::size_t i = 0; i < days.size(); ++i) {
    if (days[i].due) asked.push_back(i);
  }
  const auto at_or_after = [&](Date day) {
    return std::partition_point(asked.begin(), asked.end(), [&](std::size_t i) { return *days[i].due < day; });
  };
  std::vector<bool> taken(days.size(), false);
  std::vector<std::optional<std::size_t>> counted(done.size());
  const auto take = [&](std::size_t record, std::size_t day) {
    counted[record] = day;
    taken[day] = true;
  };
  // Those that name their day come first: what they were made for must not be given to another.
  for (std::size_t i = 0; i < done.size(); ++i) {
    if (!done[i].due) continue;
    const auto named = at_or_after(*done[i].due);
    if (named != asked.end() && *days[*named].due == *done[i].due && !taken[*named]) take(i, *named);
  }
  for (std::size_t i = 0; i < done.size(); ++i) {
    if (counted[i]) continue;
    if (done[i].due) {  // for a day that is due, with a record already: one record more
      const auto named = at_or_after(*done[i].due);
      if (named != asked.end() && *days[*named].due == *done[i].due) continue;
    }
    const auto after = at_or_after(done[i].day);
    if (after != asked.end() && *days[*after].due == done[i].day) {
      if (!taken[*after]) take(i, *after);
      continue;
    }
    if (rule.every == DueEvery::working_day) continue;
    if (after != asked.begin() && !taken[*std::prev(after)]) {
      take(i, *std::prev(after));
    } else if (after != asked.end() && !taken[*after] && add_days(*days[*after].due, -rule.early_days) <= done[i].day) {
      take(i, *after);
    }
  }
  return counted;
}

DueState state_of(const DueDay& day, std::optional<Date> done_on, bool missed, Date today) {
  if (!day.due) return DueState::fallen_away;
  if (done_on) return *done_on <= *day.due ? DueState::done : DueState::done_late;
  if (*day.due > today) return DueState::to_come;
  if (*day.due == today) return DueState::today;
  return missed ? DueState::missed : DueState::overdue;
}

}  // namespace tierproof
