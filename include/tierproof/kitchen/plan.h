#pragma once

#include <cstdint>
#include <string>

#include "tierproof/kitchen/entities.h"
#include "tierproof/units/hazard_plan.h"

namespace tierproof {

/// `plan-review/1`: somebody went through the hazard plan, compared it with the work, and signed.
struct PlanReviewed {
  std::uint64_t plan = 0;  ///< place of the note of the version that was looked at
  std::string changed;     ///< `nothing`, or `something`: the plan was changed for it, or has to be
  Words what;              ///< what changed in the work or the plan; nothing where nothing did
  Words signed_by;         ///< name of the person, as they wrote it
};

/// `advice/1`: what an officer, or another competent person, said of the work or of a rule. Officers differ, so it stands as what one of
/// them said on one day; it changes no verdict.
struct Advice {
  Words said_by;       ///< name of the person
  std::string office;  ///< where they are from, `Example Council`
  Date on{};           ///< the day it was said
  std::string topic;   ///< in a word or two, `egg white`
  std::string about;   ///< row of the hazard plan or of the rules that it is about, or empty
  Words words;         ///< what was said
};

}  // namespace tierproof
