#pragma once

#include <optional>

#include "tierproof/app/session.h"
#include "tierproof/sums/heat.h"

namespace tierproof {

/// The first pack of shell egg that went straight into `batch`.
std::optional<LotId> raw_egg_in(const State& state, const Batch& batch);

/// The core of a batch without raw egg, where its recipe names by which heat rows it is judged; else nothing.
std::optional<CoreStep> core_step_of(const Recorded<Batch>& batch, const Recipe& recipe);

/// What is known of the egg step of `batch` beside its temperatures: the sugar of the mix, the packs, and what may vouch for it.
/// @pre the recipe is that which the batch was made by, and has egg in it
EggStep egg_step_of(const Session& session, const Recorded<Batch>& batch, const Recipe& recipe, const TemperatureTerms& terms);

}  // namespace tierproof
