#pragma once

#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/papers/content.h"

namespace tierproof {

/// Where a cake and every batch in it were, as one line of time: each batch from its making until it was used up, then the cake from its
/// first tier until it was handed over, or until now. In order of time; the place, what for, and the warmest that each thermometer of a
/// cold place showed. A time that nobody recorded a place for is told as such.
std::vector<LabelledText> timeline_of(const Session& session, const Judgement& judgement);

}  // namespace tierproof
