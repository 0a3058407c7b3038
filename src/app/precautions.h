#pragma once

#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/app/session.h"
#include "tierproof/sums/cross_contact.h"

namespace tierproof {

/// The decisions on `may contain` in force for a cake at `at`: the newest about each allergen and scope, scopes being the kitchen, the
/// recipes of its batches, and the cake itself; in the order of the notes.
std::vector<const Recorded<PrecautionDecided>*> precautions_of(const State& state, const CakeParts& parts, Instant at);

/// Puts those that are to be told into `parts`.
void add_precautions(const State& state, CakeParts& parts, Instant at);

/// Control `precautions`, one finding for the cake when there are decisions or one is wanted: what was decided, by whom and why, with the
/// sum of an estimate, which is advice and no law. *Not shown*, for a named person, when `may contain` was judged not to be needed and the
/// sum says that it is indicated, when the sum cannot be done, and when traces may have come by kit that was washed and looked clean and
/// nobody has decided whether the label tells them. It never takes away what packs or shared kit tell.
void judge_precautions(const State& state, Judgement& judgement, const std::vector<Contact>& met);

}  // namespace tierproof
