#pragma once

#include <cstddef>
#include <string>

#include "tierproof/papers/pages.h"

namespace tierproof {

/// One page as an SVG in millimetres. Text stays text: the faces are named, not embedded, and each run is held to its measured width,
/// so that a reader without them still sees the layout.
/// @pre page < pages.pages.size()
std::string write_svg(const Pages& pages, std::size_t page);

}  // namespace tierproof
