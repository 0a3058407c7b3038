#pragma once

#include <string>

namespace tierproof {

/// One page of a PDF as a PNG picture, drawn by `pdftoppm` (poppler-utils) in a process of its own.
/// @param dots_per_inch  20 to 1200
/// @param page           from 1
/// @throws Fault (73) if `pdftoppm` is not installed or fails, saying what to do
std::string write_png(const std::string& pdf, int dots_per_inch, int page = 1);

}  // namespace tierproof
