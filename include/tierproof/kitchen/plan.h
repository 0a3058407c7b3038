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
  std::string what;        ///< what changed in the work or the plan; may be empty where nothing did
  Words signed_by;         ///< name of the person, as they wrote it
};

}  // namespace tierproof
