#pragma once

#include <array>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "tierproof/units/result.h"
#include "tierproof/units/time.h"

namespace tierproof {

// When a regular record is due. All days are local dates of the kitchen: no clock and no time zone takes part, so that no clock change
// can skip or double one. The calendar is the Gregorian one, a week has no first day.

/// How often.
enum class DueEvery {
  working_day,      ///< each working day
  working_days,     ///< every `count` working days, the first working day of the record counted as the first due day
  week,             ///< each week on `on`
  month,            ///< each month on the day `on_day`; in a shorter month on its last day
  months,           ///< every `count` months, counted from `counted_from`, which is a due day itself
  years,            ///< every `count` years, likewise
  when_it_happens,  ///< no due day: recorded when there is something to record
};
/// What becomes of a due day on which nobody works. Working days by `working_day` and `working_days` never fall on one.
enum class OnClosedDay {
  next,        ///< the next working day, if that is still before the next due day; else it falls away
  previous,    ///< the working day before, if that is still after the due day before; else it falls away. Where the record was not asked
               ///< for so early, the next working day, as with `next`
  falls_away,  ///< nobody has to make it up
};

/// A due rule: one of a closed list, with its parameters. A day of the month past the end of a month stands for its last day, so 31 is
/// the last day of every month, and what is counted from 29 February is due on 28 February of a common year. It is worked out from
/// the day it is counted from each time, so 31 January, 28 February and 31 March follow each other.
struct DueRule {
  DueEvery every = DueEvery::working_day;
  int count = 1;                                      ///< of `working_days`, `months` and `years`: 1 and more
  std::chrono::weekday on = std::chrono::weekday{1};  ///< of `week`
  int on_day = 1;                                     ///< of `month`: 1 to 31
  Date counted_from{};                                ///< of `months` and `years`
  OnClosedDay closed = OnClosedDay::next;
  int early_days = 0;  ///< so many days before, at most, it may be done and still counts
};

/// Days on which nobody works.
class ClosingDays {
 public:
  /// From `from` on these days of the week are closed, until a later call says otherwise. Calls may come in any order of days; of two for
  /// one day the later call counts.
  void each_week(Date from, std::array<bool, 7> closed);  ///< by C encoding: Sunday is 0
  /// `from` to `until`, both included, are closed.
  void range(Date from, Date until);
  /// Somebody worked on `day`, whatever else was said: it is a working day.
  void worked(Date day) { worked_.insert(day); }
  bool closed(Date day) const;

 private:
  std::vector<std::pair<Date, std::array<bool, 7>>> weekly_;  ///< by day, a later call after an earlier one
  std::vector<std::pair<Date, Date>> ranges_;
  std::set<Date> worked_;
};

/// One period of a rule.
struct DueDay {
  Date by_rule{};           ///< the day that the rule alone gives
  std::optional<Date> due;  ///< the day it is due, after closing days; nothing: it falls away
  friend bool operator==(const DueDay&, const DueDay&) = default;
};

/// The periods whose day by the rule lies in `first`..`last`, both included, in order; none of `when_it_happens`, none where `last` is
/// before `first`. What is moved may be due outside; before `first` nothing is ever due.
/// @param first  the first day on which the record is asked for: working days are counted from it
/// @pre          `rule` is one that `check_due_rule` lets pass
std::vector<DueDay> due_days(const DueRule& rule, Date first, Date last, const ClosingDays& closing);

/// What is wrong with a rule: a count below 1 or above 1000, no such weekday or day of the month, no day to count from.
Refusals check_due_rule(const DueRule& rule);

/// `each working day`, `each month on day 31, else its last`, `every 6 months from 1 May 2026`.
std::string words_of(const DueRule& rule);

/// How a due day stands.
enum class DueState {
  to_come,      ///< later than today
  today,        ///< due today, not done yet
  overdue,      ///< its local day has ended, and it was not done
  missed,       ///< overdue, and a note says that it was missed
  done,         ///< done on its day, or early enough
  done_late,    ///< done, after its day had ended
  fallen_away,  ///< not due: nobody worked
};
std::string_view words_of(DueState state);
std::string_view term_of(DueState state);

/// A record that was made.
struct DoneOn {
  Date day{};               ///< local day on which it was done
  std::optional<Date> due;  ///< the due day that it names; nothing: the day tells
};

/// Which due day each record counts for; an index into `days`, or nothing.
///
/// A record that names a due day counts for that. Another one counts for the due day it was made on; else for the last due day before
/// it, if that has no record yet, but never for another day where it is due each working day; else for the next due day, if it was
/// made at most `early_days` before it and after the due day before. A due day takes its first record; a further one on its own day counts
/// for nothing.
/// @param days  of one rule, in order, those that fell away among them
/// @param done  in the order of time
std::vector<std::optional<std::size_t>> counts_for(const DueRule& rule, const std::vector<DueDay>& days, const std::vector<DoneOn>& done);

/// @param done_on  the day of the record that counts for it, or nothing
/// @param missed   whether a note says that it was missed
DueState state_of(const DueDay& day, std::optional<Date> done_on, bool missed, Date today);

}  // namespace tierproof
