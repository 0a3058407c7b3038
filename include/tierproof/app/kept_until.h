#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/sums/retention.h"

namespace tierproof {

/// What may be done about something that is kept.
enum class KeptState {
  must_stay,  ///< its time is not over
  held,       ///< its time is over, and something holds it
  not_known,  ///< nothing says from when its time counts, or no row is about it: it stays
  may_go,     ///< its time is over, nothing holds it, and it can be erased
  stays,      ///< its time is over, and it stays all the same: no note is ever deleted
  gone,       ///< nothing is left of it
};
std::string_view words_of(KeptState state);
std::string_view term_of(KeptState state);

/// One kind of what is kept of one thing.
struct KeptLine {
  std::string kind;   ///< of `kinds_kept()`
  std::string thing;  ///< `cake-1`; a thermometer, sort, supplier or person
  std::string name;   ///< in plain words; of persons nothing
  KeptState state = KeptState::not_known;
  std::optional<Date> last;          ///< the last day; the day after it may go
  std::optional<KeepUntil> kept;     ///< the row that sets it; nothing: no row does
  std::string why;                   ///< what it is counted from and by which row; or why that is not known
  std::vector<std::string> held_by;  ///< in words, whether its time is over or not; papers that hold a name only once it is
  std::size_t notes = 0;             ///< of readings and regular records: how many there are
  std::size_t past = 0;              ///< of these: how many are past their own time
  std::size_t words_may_go = 0;      ///< of regular records: of how many what they keep apart may go; whatever `state` says of the newest
};

struct KeptView {
  Date on{};
  std::string rules;            ///< of how long: `gb`
  std::vector<KeptLine> lines;  ///< each cake in order of the log, its record and its customer; then the other kinds
  /// The cakes of which the customer may go, in order.
  std::vector<std::string> customers_that_may_go() const;
  /// Of how many people the name may go, and of how many regular records what they keep apart.
  std::size_t names_that_may_go() const;
  std::size_t records_that_may_go() const;
};

/// Until when everything has to be kept, by the rows of retention in force on `on`; of several that apply the latest day counts. A hold
/// beats every date: the name of somebody who left, and what regular records keep apart, stay while any matter is open; a name while the
/// kept record of a cake tells it whose own time is not over; a record of something not as it should be until something answers for it.
/// Orders that were taken back have no record of food, and their customer may go.
/// @param on  the day that is asked about; what holds is what is open in the records as they are read
/// Refused: no rules of retention in force that day.
Result<KeptView> kept_until(const Session& session, Date on);

}  // namespace tierproof
