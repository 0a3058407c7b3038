#pragma once

#include <cstdint>
#include <vector>

#include "tierproof/app/judging.h"

namespace tierproof {

/// The stopping findings that nobody answered for in `release`: a reason answers for one finding of its control, subject and verdict.
std::vector<Finding> unanswered(const Release& release, const std::vector<Finding>& findings);

/// Notes written since the cake was released of what it is made of, of its order and of the allergy answer, in order.
std::vector<std::uint64_t> made_otherwise_since(const Session& session, const Judgement& judgement, const Release& release);

}  // namespace tierproof
