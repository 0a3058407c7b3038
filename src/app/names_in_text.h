#pragma once

#include <string>
#include <string_view>

#include "tierproof/kitchen/state.h"

namespace tierproof {

/// The first whole word of `text`, case folded, that is part of the name of a recorded person; empty if there is none. Parts of fewer than
/// three letters are passed over, since they are words of many texts. For what is kept in clear for good, which erasing cannot reach.
std::string part_of_a_name_in(const State& state, std::string_view text);

}  // namespace tierproof
