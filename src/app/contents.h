#pragma once

#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/papers/content.h"

namespace tierproof {

/// Whether the cake may leave as it is recorded, in one sentence.
/// @param released  set: whether somebody decided so and nothing has come up since
std::string outcome_of(const Session& session, const Judgement& judgement, bool& released);
/// What is recorded of the allergy question, as a record prints it: asked when and of whom, the answer, the words told.
std::vector<LabelledText> allergy_lines(const State& state, const CakeId& cake, const LabelTerms& terms);
/// What the cake was released against, with the reasons in full; empty when it was not, or against nothing.
std::vector<Override> overrides_of(const Session& session, const CakeId& cake);

}  // namespace tierproof
