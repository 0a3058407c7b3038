#pragma once

#include <string>
#include <string_view>
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
/// Title of the law or guidance that a row of the rules this cake was judged by cites; empty when it is a line of a table.
std::string source_title_of(const Session& session, const Judgement& judgement, std::string_view row, std::string_view clause);

}  // namespace tierproof
