#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/papers/pages.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// A file that travels inside a PDF.
struct Attachment {
  std::string name;  ///< `cake-1-record.json`, ASCII
  std::string bytes;
};

/// What the file says of itself.
struct PdfInfo {
  std::string title;
  std::optional<Instant> moment{};        ///< its date of making, from the records; never the clock; none: it tells none
  std::string author{};                   ///< the business
  std::string language{};                 ///< BCP 47, `en-GB`; empty: not said
  std::vector<Attachment> attachments{};  ///< names differ
};

/// The pages as a PDF 1.4 with its fonts embedded, page sizes exact, with their links and bookmarks (a paper of several pages opens with
/// these beside it). Attachments lie inside under their names, without a date. Same pages, same info: same bytes. No claim of PDF/A.
/// @throws Fault (70) if a text has no glyph (a paper that was not laid out by `lay_out`) or two attachments have one name, (73) if the
///         PDF library fails
std::string write_pdf(const Pages& pages, const Fonts& fonts, const PdfInfo& info);

}  // namespace tierproof
