#pragma once

#include <string>
#include <vector>

#include "tierproof/app/planning.h"

namespace tierproof {

/// Where the program's starting plan is graver than `version`, which was taken over before it: rows of controls that the version lacks, and
/// stops that nobody may release against by now. They count, whatever the version says.
std::vector<std::string> graver_in_starting(const Session& session, const PlanVersion& version);

/// What is not known of a recipe, for which it counts as made on shared kit: `kit not recorded`, `an allergen of what goes in`.
/// @pre the recipe is recorded
std::vector<std::string> not_known_of(const Session& session, const RecipeId& recipe);

/// The kinds of notes that make a review due, in words.
std::vector<std::string> plan_review_looks_at();

}  // namespace tierproof
