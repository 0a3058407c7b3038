#pragma once

#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/papers/content.h"

namespace tierproof {

/// What is recorded of the egg in each batch of the cake, in the order of its batches. Nothing is taken for granted: what nobody recorded
/// is told as `not recorded`. Left-overs are passed over, since the batch that they were kept from is told.
std::vector<EggLine> egg_lines(const Session& session, const Judgement& judgement);

/// What is to be said of its egg to whoever eats it: steps that are not shown, and egg that was heated here or not at all instead of baked.
std::vector<std::string> egg_advice(const State& state, const Judgement& judgement);

/// `a, b and c`
std::string in_one_sentence(const std::vector<std::string>& things);

}  // namespace tierproof
