#pragma once

#include <string>
#include <vector>

#include "tierproof/papers/font.h"

namespace tierproof {

struct Point {
  Micrometres x = 0;
  Micrometres y = 0;  ///< downwards from the top edge
  friend bool operator==(const Point&, const Point&) = default;
};

/// A grey: 0 is black, 255 is paper.
using Ink = int;

/// Text in one face at one place. Every character is known to have a glyph.
struct PlacedText {
  Micrometres x = 0;
  Micrometres baseline = 0;
  Micrometres width = 0;  ///< what it advances, rounded up
  std::string text;
  Face face = Face::condensed;
  PointSize size;
  Ink ink = 0;
  friend bool operator==(const PlacedText&, const PlacedText&) = default;
};

/// A line through `points`, with round joins.
struct Stroke {
  std::vector<Point> points;
  Micrometres width = 0;
  Ink ink = 0;
  Micrometres dash = 0;  ///< length of dashes and of the spaces between; 0 for an unbroken line
  std::string role;      ///< what it stands for: `rule`, `axis`, `grid`, `readings`, `limit`, `allowance`, `gap`,
                         ///< `fault`, `stay`, `clocks` (they changed), `shown` and `wanted` of a heat step, `leader` from words to a line,
                         ///< `specimen` through a label that is not for use; of a trace `frame`,
                         ///< `went`, `may` (have gone), `head` (of an arrow)
  friend bool operator==(const Stroke&, const Stroke&) = default;
};

/// A filled rectangle.
struct Fill {
  Micrometres x = 0;
  Micrometres y = 0;  ///< its top
  Micrometres width = 0;
  Micrometres height = 0;
  Ink ink = 0;
  friend bool operator==(const Fill&, const Fill&) = default;
};

/// A filled disc: one reading on a chart.
struct Dot {
  Point centre;
  Micrometres radius = 0;
  Ink ink = 0;
  friend bool operator==(const Dot&, const Dot&) = default;
};

/// Marks that belong together, painted in this order: fills, strokes, dots, texts.
struct Marks {
  std::vector<Fill> fills;
  std::vector<Stroke> strokes;
  std::vector<Dot> dots;
  std::vector<PlacedText> texts;
  friend bool operator==(const Marks&, const Marks&) = default;
};

/// A place that leads elsewhere when a reader touches it.
struct Link {
  Micrometres x = 0;
  Micrometres y = 0;  ///< its top
  Micrometres width = 0;
  Micrometres height = 0;
  std::string address;   ///< of the web; empty: a place of this paper
  std::size_t page = 0;  ///< from 0; where there is no address
  Micrometres to = 0;    ///< how far down that page
  friend bool operator==(const Link&, const Link&) = default;
};

/// Moves every mark, then adds it to `marks`.
void add_moved(Marks& marks, const Marks& more, Micrometres right, Micrometres down);

/// One page: its edge and what is on it. Nothing lies nearer to an edge than the margins.
struct Page {
  Micrometres width = 0;
  Micrometres height = 0;
  Micrometres left = 0;  ///< margins
  Micrometres top = 0;
  Micrometres right = 0;
  Micrometres bottom = 0;
  Marks marks;
  std::vector<Link> links{};
  friend bool operator==(const Page&, const Page&) = default;
};

/// A reader's bookmark.
struct Bookmark {
  std::string words;
  int level = 1;
  std::size_t page = 0;  ///< from 0
  Micrometres y = 0;     ///< how far down that page
  friend bool operator==(const Bookmark&, const Bookmark&) = default;
};

/// A laid-out paper. The writers only paint it.
struct Pages {
  std::vector<Page> pages;
  std::vector<Bookmark> bookmarks{};  ///< in the order of the paper
  friend bool operator==(const Pages&, const Pages&) = default;
};

/// The words of one page in reading order (top to bottom, then left to right), one line of the page a line: for tests and searches.
std::string text_of(const Page& page);

}  // namespace tierproof
