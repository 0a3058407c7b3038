#pragma once

#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/sums/probe.h"

namespace tierproof {

/// Judges where the cake and those of its batches that need the fridge were kept, up to `judgement.at` or the hand-over.
/// Adds findings, the series they rest on, and the thermometers used. Needs `judgement.life`.
void judge_cold(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used);

}  // namespace tierproof
