#pragma once

#include <vector>

#include "tierproof/app/kit_care.h"
#include "tierproof/text/json.h"

namespace tierproof::cli {

/// A line for each allergen that lies on the kit; nothing where there is none.
void say_lies_on_kit(const std::vector<LiesOnKit>& lies);
Json json_of(const std::vector<LiesOnKit>& lies);

}  // namespace tierproof::cli
