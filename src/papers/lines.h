#pragma once

#include <string>
#include <vector>

#include "type_case.h"

namespace tierproof::papers {

/// A place that leads elsewhere, before what it leads to has a page.
struct Jump {
  Micrometres x = 0;
  Micrometres y = 0;  ///< its top
  Micrometres width = 0;
  Micrometres height = 0;
  std::string to;  ///< as in `TextRun::link`
};

/// One line of a paragraph: its texts from x = 0, baseline 0.
struct Line {
  std::vector<PlacedText> texts;
  std::vector<Jump> jumps;  ///< without height
  Micrometres width = 0;
  PointSize largest;
};

/// Every refusal for the text of a paragraph.
Refusals check_paragraph(const Paragraph& paragraph, const Shape& shape, const Fonts& fonts);

/// Breaks a paragraph whose text has been checked. Refuses a word wider than its line.
Result<std::vector<Line>> break_lines(const Paragraph& paragraph, const Shape& shape, Micrometres width, const Fonts& fonts);

/// The largest size on each line of `break_lines`, where only the height is wanted.
Result<std::vector<PointSize>> sizes_of_lines(const Paragraph& paragraph, const Shape& shape, Micrometres width, const Fonts& fonts);

/// How narrow a paragraph can be set (its widest word), and how wide it is on one line.
struct Extent {
  Micrometres least = 0;
  Micrometres whole = 0;
};
Extent extent_of(const Paragraph& paragraph, const Shape& shape, const Fonts& fonts);

}  // namespace tierproof::papers
