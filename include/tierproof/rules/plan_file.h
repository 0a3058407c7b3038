#pragma once

#include <string>
#include <string_view>

#include "tierproof/units/hazard_plan.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// Reads a hazard plan from its JSON document, the form of `reference/plan/cake-work.json` and `reference/schemas/plan.schema.json`.
///
/// Refuses, all together and with file, line, row and member: what is missing, empty or not a member, what is not one of a closed list, an
/// id that stands there twice, a source that the plan does not list, one of `not_met` and `not_shown` without the other, a limit without
/// its number, and one that another control's sums take. Rows come back by `order`, then id.
Result<HazardPlan> read_plan_document(std::string_view text, const std::string& file);

/// The same document, to be edited: a member a line, in the order in which a row is read. `read_plan_document` gives back the same plan.
std::string write_plan_document(const HazardPlan& plan);

/// The number of a limit with its unit, `5 °C`, `2 h`, `3 days`, `72 °C for 2 min (heat row core-70)`, `to 4 °C within 1 h 30 min`.
std::string number_in_words(const PlanLimit& limit);

}  // namespace tierproof
