#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/temperature_terms.h"
#include "tierproof/units/finding.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// The days on which a part was frozen and thawed.
struct FrozenDays {
  Date frozen{};
  std::optional<Date> thawed;  ///< nothing: still frozen
  friend auto operator<=>(const FrozenDays&, const FrozenDays&) = default;
};

/// A part of a cake (a batch, at whatever depth) and how long it keeps.
struct PartLife {
  std::string name;     ///< `buttercream (batch-5)`
  std::string storage;  ///< `room`, `fridge`, `freezer`; anything else: not known
  std::optional<Date> made;
  std::optional<int> life_days;      ///< the last day is `made` + this many; nothing: not known
  std::string reason;                ///< where the life comes from: `measured`, `an officer's word`, `the maker's decision`
  /// How many days the rules let it be kept cold, the day it was made being the first; nothing: they set none, or it is not kept cold.
  std::optional<ColdDays> cold_days{};
  std::optional<int> frozen_days{};  ///< how long it keeps frozen: until the day it was frozen + this many
  std::optional<int> thawed_days{};  ///< how long it keeps once thawed, the day of thawing included
  Date judged{};                     ///< the day to count from while it is still frozen
  /// Each way that some of it went into the cake, with every freezing on that way; a way without one was never frozen. Empty: never.
  std::vector<std::vector<FrozenDays>> ways{};
};

/// A bought-in pack in the cake whose own date still counts. What was baked or boiled through goes by the life of its part:
/// the caller leaves its pack out.
struct LotLife {
  std::string name;  ///< `whipping cream`
  std::string code;
  std::optional<Date> use_by;
  std::optional<Date> best_before;
  std::optional<Date> opened_on;
  std::optional<int> use_within_days;  ///< once opened, as the pack says; the last day is `opened_on` + this many
};

struct ShelfLife {
  std::optional<Date> date;  ///< the last day; nothing when no part and no pack gives one
  std::string kind;          ///< `use by`, `best before`
  std::string why;           ///< which part or pack decided, in words
  std::string storage;       ///< `freezer`, `fridge`, `cool dry place`
  std::string storage_why;
  std::vector<std::string> storage_for{};  ///< names of the parts that need `freezer` or `fridge`, as given
  std::vector<std::string> not_known;  ///< what would be needed to be sure of the date, in words
  bool by_firm_rule = true;            ///< false: a row from memory that nobody confirmed decided the date
  std::optional<Date> at_latest{};     ///< where something is still frozen: the last day if it stays so until it is eaten; else `date`
};

/// Whether being frozen gives `part` time, on every way that it went into the cake.
///
/// Only where it is known how long the part keeps frozen and how long once thawed; it was frozen once, at the latest on the last
/// day that it would have kept unfrozen; and it was not thawed again on the same day. Where not, its life runs as if never frozen.
bool freezing_counts(const PartLife& part);

/// `pack` as its dates still count within `part`: where freezing counts, a use-by that had not passed when the part was frozen, and
/// a life once opened that had not, no longer do (frozen on its last day is in time: common practice, no source).
LotLife lot_within(LotLife pack, const PartLife& part);
/// Adds `pack` to `packs`; one that is there already under its name keeps every date that counts in either.
void add_lot(std::vector<LotLife>& packs, LotLife pack);

/// How long a cake keeps and where: the earliest day that any part or pack gives, and the strictest place that any part needs.
///
/// Where freezing counts for a part (`freezing_counts`), it keeps until the day of thawing and as many days more as `thawed_days`
/// says, the day of thawing included, and never more days than it keeps when made; thawed after the end of its frozen days, only
/// until that end. While it is still frozen, the date is as if it were thawed on the day judged, within its frozen days, and
/// `not_known` names the thawing. Of several ways the earliest counts.
///
/// Where the rules set `cold_days`, a part keeps no longer than these, whatever its own life; a freezing stops their count and does not
/// begin it anew: they end later by as many days as it was frozen, if it was frozen once and before their end.
///
/// Counted are each part's life, each pack's use-by, and the life of a pack once opened. A best-before is not a use-by: it never
/// shortens a `use by`, and it counts only where the cake keeps in a cool dry place and has a `best before` itself. A part whose
/// place is not known counts as needing the fridge. Freezer is stricter than fridge, fridge than room. The kind is `use by` when
/// any part needs the fridge, or not known, or keeps by having been frozen; else, when a pack has a use-by or opened life, also `use by`;
/// else `best before`. `not_known` names each part without a day made or a life, and each pack to be used within days of an opening not
/// recorded.
ShelfLife shelf_life(std::span<const PartLife> parts, std::span<const LotLife> lots);

/// Judges the date (control `use-by`) on the day `on`; the date itself is still in time.
/// A use-by passed is `not met` without override, but by a row from memory that nobody confirmed it needs a person; a best-before passed is
/// `not met` and needs a person; else, with no date or with anything not known, `not shown` (needs a person).
Finding judge_use_by(const std::string& subject, const ShelfLife& life, Date on);

}  // namespace tierproof
