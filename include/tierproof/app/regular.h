#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/app/recording.h"
#include "tierproof/app/session.h"
#include "tierproof/sums/due.h"

namespace tierproof {

// Regular records: sorts of them, what is due, what was done and what was missed. Use cases that record check everything first and book
// all or nothing; all throw Fault and HeadMoved as `Session::book` does.

/// A sort as a document or the starting set gives it.
struct SortOffered {
  std::string id;
  RegularSort sort;  ///< `from` may be the day 0 that no calendar has: it begins when it is taken over
};
/// The sorts of one document: an object, or a list `rows` of them with their `sources`. Refused: unknown members, words that are none.
Result<std::vector<SortOffered>> read_sorts(const GivenDocument& document);
/// The starting set, `reference/plan/regular-records.json` below `root`. @throws Fault 66, 78
std::vector<SortOffered> load_regular_sorts(const DataRoot& root);

/// Books sorts, or new versions of those that there are, from today or the day that each names. Refused: a rule without its parameters,
/// fields that nobody could fill, a first day before today, kinds of notes that there are not, a whole word of any text that is part of
/// the name of a recorded person, a short name that something else has or may get.
/// @param starting  the starting set: its texts, word for word, name nobody
Result<Booked> add_sorts(Session& session, const std::vector<GivenDocument>& documents, const std::vector<SortOffered>& starting = {});
/// Books those of `offered`, the starting set, that `names` says, or all that the kitchen has not got yet where it is `all`.
/// @param from  first day; nothing: today
Result<Booked> take_over_sorts(Session& session, const std::vector<SortOffered>& offered, const std::vector<std::string>& names,
                               std::optional<Date> from);

struct RegularMade {
  std::string sort;
  std::vector<std::pair<std::string, std::string>> values;  ///< field and answer
  std::optional<Date> due{};                                ///< the due day it is for
  std::string note{};
  std::string at{};
};
/// Books one regular record. Refused: a sort that notes of another kind are counted for, a needed field without an answer, an answer of
/// another type, one that is not as it should be without a word on what was done, a day that is not due or has its record already.
Result<Booked> record_regular(Session& session, const RegularMade& made);

/// What `all fine` booked, and what it cannot tell.
struct AllFine {
  Booked booked;                        ///< none: there was nothing to book
  std::vector<std::string> left;        ///< sorts due today that want an answer of their own, or a note of their own kind
  std::vector<std::string> left_words;  ///< what to do for each
};
/// Books every record that is due today, still to make, and whose needed fields have an answer for when all is well. What is done at the
/// end of work is not told of before, and what was not as it should be the last time is looked at by itself.
/// @param except       sorts to leave out
/// @param end_of_work  those that are done at the end of work; else those at its start or at any time of the day
Result<AllFine> record_all_fine(Session& session, const std::vector<std::string>& except, const std::string& at, bool end_of_work = false);

struct DayOffTold {
  std::optional<Date> from;  ///< nothing: today
  std::optional<Date> until;
  std::vector<std::string> weekdays;  ///< closed each week; `none`: open each day
};
/// Books that nobody works on a day, on some days, or on days of each week. Refused: a day on which somebody
/// worked by the records, as a batch, tier, receipt, cleaning, typed reading, check, hand-over or regular record of that day. What was due
/// on a day that had ended stays due.
Result<Booked> tell_day_off(Session& session, const DayOffTold& told);

/// Books, as a scheduler, every due day that ended without a record and without a word, each once, whoever else does the same now.
/// Nothing is booked, and `booked.sequences` empty, where nothing was missed.
Result<Booked> book_missed(Session& session);

/// One due day of one sort.
struct DueItem {
  std::string sort;
  std::string name;
  std::string rule;  ///< in words
  std::string who;
  DueDay day;
  DueState state = DueState::to_come;
  std::optional<std::uint64_t> note{};  ///< that it was done
  std::optional<Date> done_on{};
  bool typed_late = false;                ///< that note was written later than it was done
  std::vector<std::string> wanting{};     ///< answers that are not as they should be: `Signs of pests seen?: yes`
  std::string answered{};                 ///< of these, as in `NotFine`
  std::optional<std::uint64_t> missed{};  ///< note that it was missed
  std::string because{};                  ///< of that note
  std::vector<std::string> waiting{};     ///< thermometers that still have to have their note
  std::string told_by{};                  ///< kinds of notes that are counted, or empty
  bool last = false;                      ///< the last of its sort that is due before today
  /// The note that told afterwards that nobody worked on the due day; it takes nothing away.
  std::optional<std::uint64_t> not_worked{};
};
/// Every due day of every sort from `from` to `until`, by day and then by sort. One that fell away stands under the day that its rule gave.
/// @param until  may lie ahead
std::vector<DueItem> due_between(const Session& session, Date from, Date until);

/// A record with an answer that is not as it should be.
struct NotFine {
  std::string sort;
  std::string name;
  std::uint64_t note = 0;
  Date day{};
  std::vector<std::string> wanting;  ///< `Signs of pests seen?: yes`
  std::string answered{};            ///< what answers for it, `note 22 of 4 May 2026` or `trouble-1`; empty: it is open
  bool not_known = false;            ///< what it said was erased, so nobody knows whether it was as it should be
};
/// Every regular record that is not as it should be by its sort as it was that day, in order of the log. A later record of the sort answers
/// for it that says of all that was wanting that it is so again, and wants nothing itself; where the sort tells of kit, suppliers or
/// persons, one of the same. So does a trouble that names the sort, unless it was closed before. What
/// was erased is not fine and not open: only what was answered for is erased.
std::vector<NotFine> records_not_fine(const Session& session);

/// A sort that has no due day, and its last record.
struct WhenItHappens {
  std::string sort;
  std::string name;
  std::string told_by{};
  std::optional<std::uint64_t> note{};
  std::optional<Date> day{};
};
/// What a day asks for.
struct DueView {
  Date on{};
  bool working = true;
  std::string not_working{};            ///< which note says so; of a working day, one that was written afterwards
  std::vector<DueItem> due;             ///< on that day, done or not, and what fell away from it
  std::vector<DueItem> open;            ///< from days before: overdue; missed, where it can still be made up
  std::vector<NotFine> not_fine;        ///< made up to that day, open, and not among `due`
  std::vector<WhenItHappens> whenever;  ///< in order of names
  std::size_t missed_lately = 0;        ///< due days of the 28 days before that were missed
  /// Whether something is open: from before, or of that day itself and not as it should be.
  bool wanting() const;
};
DueView due_on(const Session& session, Date day);

/// What is due from today and not done yet as a calendar file (RFC 5545), for `months` months. It names nobody.
/// @param daily  also what is due each working day
std::string due_calendar(const Session& session, int months, bool daily);

}  // namespace tierproof
