#pragma once

#include <optional>

#include "tierproof/app/session.h"
#include "tierproof/sums/heat.h"

namespace tierproof {

/// The first pack of shell egg that went straight into `batch`.
std::optional<LotId> raw_egg_in(const State& state, const Batch& batch);

/// Sugar's share of what is heated together by the recipe's own figures; nothing where a sub-batch is heated with it, whose own yield
/// decides.
std::optional<Share> sugar_of_recipe(const State& state, const Recipe& recipe);
/// Sugar's share of what is heated together, sub-batches included; nothing when some of it is not known, or raw egg is not part of it.
std::optional<Share> sugar_of_mix_in(const State& state, const Batch& batch, const Recipe& recipe);

/// The core of a batch without raw egg, where its recipe names by which heat rows it is judged; else nothing.
std::optional<CoreStep> core_step_of(const State& state, const Recorded<Batch>& batch, const Recipe& recipe);

/// What is known of the egg step of `batch` beside its temperatures: the sugar of the mix, the packs, and what may vouch for it.
/// @pre the recipe is that which the batch was made by, and has egg in it
EggStep egg_step_of(const Session& session, const Recorded<Batch>& batch, const Recipe& recipe, const TemperatureTerms& terms);

}  // namespace tierproof
