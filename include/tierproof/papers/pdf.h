#pragma once

#include <string>

#include "tierproof/papers/pages.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// What the file says of itself.
struct PdfInfo {
  std::string title;
  Instant moment{};  ///< its date of making, from the records; never the clock
};

/// The pages as a PDF with its fonts embedded, page sizes exact. Same pages, same info: same bytes.
/// @throws Fault (70) if a text has no glyph (a paper that was not laid out by `lay_out`), (73) if the PDF library fails
std::string write_pdf(const Pages& pages, const Fonts& fonts, const PdfInfo& info);

}  // namespace tierproof
