#pragma once

#include <vector>

#include "cooling.h"

namespace tierproof {

/// A time that something was in one place.
struct Stretch {
  PlaceId place;  ///< empty: nobody recorded where it was
  Instant from{};
  Instant to{};
  std::string use{};                ///< what for, as `Stay::use`; empty: not said
  std::optional<Instant> marked{};  ///< as of `Stay`
  std::string procedure{};
};
/// Where `what` was from `from` to `to`, by the notes of where it was put: in the order in which it was moved, without a break.
std::vector<Stretch> whereabouts(const State& state, const std::string& what, Instant from, Instant to);

/// Whether it is a place to keep food cold in.
bool is_chilled(const Place& place);

/// Judges where the cake and those of its batches that need the fridge were kept, up to `judgement.at` or the hand-over.
/// Adds findings, the series they rest on, and the thermometers used. Needs `judgement.life`.
/// @param cooled  times in which a batch was cooling as its rule asks: it is not kept cold yet, and that time is not judged again
void judge_cold(const Session& session, Judgement& judgement, const std::map<BatchId, CooledBetween>& cooled,
                std::vector<ProbeTrust>& used);

/// When `batch` of the cake `parts` was last built into it or into another of its batches: until then it is kept by itself.
/// @param otherwise  for a batch that went nowhere yet
Instant used_up(const State& state, const CakeParts& parts, const BatchId& batch, Instant otherwise);

}  // namespace tierproof
