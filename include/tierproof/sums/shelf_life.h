#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/units/finding.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// A part of a cake (a batch, at whatever depth) and how long it keeps.
struct PartLife {
  std::string name;     ///< `buttercream (batch-5)`
  std::string storage;  ///< `room`, `fridge`, `freezer`; anything else: not known
  std::optional<Date> made;
  std::optional<int> life_days;      ///< the last day is `made` + this many; nothing: not known
  std::string reason;                ///< where the life comes from: `measured`, `an officer's word`, `the maker's decision`
  bool made_day_is_day_one = false;  ///< the rules count the day it was made as day 1, so the last day is one earlier
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
  std::vector<std::string> not_known;  ///< what would be needed to be sure of the date, in words
};

/// How long a cake keeps and where: the earliest day that any part or pack gives, and the strictest place that any part needs.
///
/// Counted are each part's life, each pack's use-by, and the life of a pack once opened. A best-before is not a use-by: it never
/// shortens a `use by`, and it counts only where the cake keeps in a cool dry place and has a `best before` itself. A part whose
/// place is not known counts as needing the fridge. Freezer is stricter than fridge, fridge than room. The kind is `use by` when
/// any part needs the fridge, or not known; else, when a pack has a use-by or opened life, also `use by`; else `best before`.
/// `not_known` names each part without a day made or a life, and each pack to be used within days of an opening not recorded.
ShelfLife shelf_life(std::span<const PartLife> parts, std::span<const LotLife> lots);

/// Judges the date (control `use-by`) on the day `on`; the date itself is still in time.
/// A use-by passed is `not met` without override; a best-before passed is `not met` and needs a person; else, with no date or with
/// anything not known, `not shown` (needs a person).
Finding judge_use_by(const std::string& subject, const ShelfLife& life, Date on);

}  // namespace tierproof
