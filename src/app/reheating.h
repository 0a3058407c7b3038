#pragma once

#include <optional>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/sums/probe.h"
#include "tierproof/sums/reheating.h"

namespace tierproof {

/// Adds the finding on each part that was read while it was heated again, by the gravest of its thermometers, with what was drawn.
void judge_reheatings(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used);

/// What is known of a reheating of `batch` beside its temperatures.
ReheatedPart reheated_part(const State& state, const Recorded<Batch>& batch, bool measured_food);

}  // namespace tierproof
