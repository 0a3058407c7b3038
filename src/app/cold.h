#pragma once

#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/sums/probe.h"

namespace tierproof {

/// Judges where the cake and those of its batches that need the fridge were kept, up to `judgement.at` or the hand-over.
/// Adds findings, the series they rest on, and the thermometers used. Needs `judgement.life`.
void judge_cold(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used);

/// When `batch` of the cake `parts` was last built into it or into another of its batches: until then it is kept by itself.
/// @param otherwise  for a batch that went nowhere yet
Instant used_up(const State& state, const CakeParts& parts, const BatchId& batch, Instant otherwise);

}  // namespace tierproof
