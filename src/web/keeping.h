#pragma once

#include <string>

#include "tierproof/app/keeping.h"
#include "visit.h"

namespace tierproof::web {

/// Folded away: where something must be kept, for how long and why, and what nobody has answered yet.
/// @param keeps    of a recipe, a batch or a cake
/// @param evident  the recipe or cake that measurements and writings about it are filed under
Html how_it_keeps_here(Visit& visit, const Result<HowItKeeps>& keeps, const std::string& evident);

}  // namespace tierproof::web
