#pragma once

#include <cstddef>
#include <string>

#include "tierproof/papers/pages.h"

namespace tierproof {

/// One page as an SVG in millimetres. Text stays text: the faces are named, not embedded, and each run is held to its measured width,
/// so that a reader without them still sees the layout. Links are `<a>`; one to a page of the same paper leads to `#page-3`, which is the
/// id of that page's `<svg>`.
/// @pre page < pages.pages.size()
std::string write_svg(const Pages& pages, std::size_t page);

}  // namespace tierproof
