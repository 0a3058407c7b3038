#pragma once

#include <string>

#include "tierproof/kitchen/state.h"

namespace tierproof {

/// Name of the recipe that `batch` was made by.
std::string name_of_batch(const State& state, const BatchId& batch);

/// When the last of a batch was used or thrown away by the records; `otherwise` while something is left of it.
Instant gone_by(const State& state, const BatchId& batch, Instant otherwise);

/// `in cake fridge, 300 g left`, `300 g left, and nobody recorded where it is`, `used up`
std::string where_now(const State& state, const BatchId& batch, Instant at);
/// `handed over 2 May 2026, 10:00, to the customer`, `thrown away`, `in cake fridge`, `not built yet`
std::string where_now(const State& state, const CakeId& cake, Instant at);

}  // namespace tierproof
