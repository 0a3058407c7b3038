#pragma once

#include <cstdint>

#include "visit.h"

namespace tierproof::web {

/// What is on file of a pack: who read it from what and when, and its allergens.
Html what_is_on_file(const Session& records, std::uint64_t place);
/// The form for somebody who compared it with the pack again and found it the same.
Html looked_again_form(Visit& visit, std::uint64_t place);
/// On the cupboard's page: how much on file is too old by now, and what comes next. Nothing where nothing is on file.
Html to_look_at_here(Visit& visit);

}  // namespace tierproof::web
