#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "tierproof/app/session.h"
#include "tierproof/sums/heat.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// How far a heating is, while it happens.
struct HeatSoFar {
  Finding finding;                   ///< by all readings of this thermometer so far
  std::optional<HeatBuildUp> built;  ///< of the row that the finding tells; nothing where none can vouch
  /// Of the time that has to be without a break: how much there is at the last reading. Of the time that heat is worth: all of it.
  Span held{};
  Span missing{};           ///< that has still to come; 0 also where no row has a time
  std::string short_words;  ///< one line to be read at the stove: `1 min 20 s of 2 min at 70 °C or more, 40 s to go`
};

/// How far a heat step (or a `reheating`) is, while it happens: what `thermometer` shows of `batch` by all its readings for that purpose so
/// far. Nothing where there is nothing to tell: no such batch or readings; of a heat step, no egg that is heated here.
std::optional<HeatSoFar> heat_so_far(const Session& session, const BatchId& batch, const ProbeId& thermometer,
                                     std::string_view purpose = "heat step");

}  // namespace tierproof
