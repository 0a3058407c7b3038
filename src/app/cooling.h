#pragma once

#include <map>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/sums/probe.h"

namespace tierproof {

/// When a batch cooled as its rule asks: from its last reading at the hot end to the first at the cold end that stayed so.
struct CooledBetween {
  Instant from{};
  Instant to{};
};

/// Judges how fast each heated batch of the cake that is kept cold got cold, up to when it went into something. Adds findings, the series
/// they rest on, and the thermometers used.
/// @return the time of cooling of each batch whose cooling is *shown*
std::map<BatchId, CooledBetween> judge_coolings(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used);

/// How a recipe says that its part is heated, as a clause: `it is baked through`; empty when it does not say so.
std::string heated_by_recipe(const Recipe& recipe);

}  // namespace tierproof
