#pragma once

#include <compare>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/stay.h"
#include "tierproof/units/finding.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// Something was put somewhere.
struct FreezerMove {
  Instant at{};
  bool freezer = false;  ///< into a freezer; else anywhere else
};

/// One time in a freezer.
struct FrozenTime {
  Instant frozen{};
  std::optional<Instant> thawed;  ///< nothing: still frozen
  friend auto operator<=>(const FrozenTime&, const FrozenTime&) = default;
};

/// When something was frozen and thawed, by where it was put from `from` to `to`, in time order.
///
/// It is frozen from the moment it is put into a freezer, and thawed from the moment it is put anywhere else; from one freezer to
/// another it stays frozen. Of the moves before `from` the last one counts, as of `from`; what is not there for any time does not.
/// @param moves      in any order
/// @param taken_out  at `to` it was taken to be used, so it counts as thawed then
std::vector<FrozenTime> frozen_times(std::span<const FreezerMove> moves, Instant from, Instant to, bool taken_out);

/// How a part of a cake went through freezers on one way into it, by itself and within what it went into.
struct FrozenWay {
  std::string part;  ///< `sponge (batch-1)`
  std::vector<FrozenTime> times;
  Offset offset;
};

/// Judges that nothing was frozen a second time (control `frozen-once`); nothing when no part was ever frozen.
/// A part that was thawed and frozen again, in itself or within something else, is `not met` without override. Else it is `shown`,
/// with the days of freezing and thawing.
std::optional<Finding> judge_frozen_once(const std::string& subject, std::span<const FrozenWay> ways);

/// `frozen 2 May 2026, thawed 4 May 2026; frozen 6 May 2026`
std::string frozen_in_words(std::span<const FrozenTime> times, Offset offset);

/// What a stay in a freezer shows (control `cold-hold`), from the finding `by_chill` of the same stay against the limit for chilled food.
///
/// Missing that limit stays missed. Everything else is `not shown` and needs a person: no rule in force sets a limit for a freezer,
/// so what was recorded is told and nothing is made of it.
/// @param readings  as given to `judge_chilled_stay`
Finding judge_freezer_stay(const ChilledStay& stay, std::span<const Reading> readings, Finding by_chill);

}  // namespace tierproof
