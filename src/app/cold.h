#pragma once

#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/sums/probe.h"

namespace tierproof {

/// A time that something was in one place.
struct Stretch {
  PlaceId place;  ///< empty: nobody recorded where it was
  Instant from{};
  Instant to{};
};
/// Where `what` was from `from` to `to`, by the notes of where it was put: in the order in which it was moved, without a break.
std::vector<Stretch> whereabouts(const State& state, const std::string& what, Instant from, Instant to);

/// Judges where the cake and those of its batches that need the fridge were kept, up to `judgement.at` or the hand-over.
/// Adds findings, the series they rest on, and the thermometers used. Needs `judgement.life`.
void judge_cold(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used);

/// When `batch` of the cake `parts` was last built into it or into another of its batches: until then it is kept by itself.
/// @param otherwise  for a batch that went nowhere yet
Instant used_up(const State& state, const CakeParts& parts, const BatchId& batch, Instant otherwise);

}  // namespace tierproof
