#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/units/finding.h"

namespace tierproof {

/// Something that went wrong and touches a cake, in words.
struct MetTrouble {
  std::string id;                       ///< `trouble-1`
  std::string since;                    ///< `1 May 2026, 09:00`
  std::vector<std::string> ways;        ///< how the cake met it: `batch-2 (icing) stood in the cake fridge`; not empty
  std::vector<std::string> named_food;  ///< packs and batches in the cake that it names
  bool names_cake = false;
  std::string told;    ///< what went wrong, as told
  std::string food;    ///< what became of the food; empty while it is open: `used`, `remade`, `binned`, `no food touched`
  std::string closed;  ///< `2 May 2026, 10:00 by ada`
  std::string action;  ///< cause and what was done
};

/// Judges everything that went wrong and touches `cake` (control `went-wrong`), a finding each, in the order given.
///
/// Open: `not shown` without override. Closed with food *binned*: `not met` without override where it names the cake, or a pack or
/// batch in it; *remade*: the same for a pack or batch (the old one is out), while a cake keeps its number. Otherwise a cake that
/// met it needs a person and says what became of the food, so that it stays to be seen; *no food touched* is said only where it
/// names food of this cake, and leaves no finding for a place, thermometer, tub or piece of kit.
std::vector<Finding> judge_went_wrong(const std::string& cake, std::span<const MetTrouble> met);

/// A cake that was thrown away (control `binned`): `not met` without override.
Finding judge_cake_binned(const std::string& cake, const std::string& when, std::uint64_t note);

/// More of a pack or batch in `cake` was used and thrown away than there was of it (control `binned`): nobody can say that what is
/// in the cake is not what was thrown away, so it is `not shown` without override.
/// @param what  `batch-1 (sponge)`
/// @param over  `120 g`
Finding judge_binned_and_used(const std::string& cake, const std::string& what, const std::string& over);

}  // namespace tierproof
