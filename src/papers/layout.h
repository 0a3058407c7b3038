#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "lines.h"
#include "tierproof/papers/document.h"

namespace tierproof::papers {

/// An upright bar beside a slab; `joined` to the slab above it over the space between.
struct Bar {
  Micrometres thickness = 0;
  bool joined = false;
};

/// A line that links, bookmarks or the contents lead to.
struct Target {
  Micrometres y = 0;   ///< its top
  std::string anchor;  ///< what links call it; empty: none
  int level = 0;       ///< of its bookmark; 0: it has none
  std::string words;   ///< of its bookmark
};

/// A line of the contents that waits for the page of its bookmark.
struct ContentsLine {
  Micrometres x = 0;
  Micrometres y = 0;  ///< its top
  Micrometres width = 0;
  Micrometres height = 0;
  Micrometres baseline = 0;  ///< of the page number, which ends where the line does
  std::size_t bookmark = 0;  ///< its place among the bookmarks of the document
  TextRun type;
};

/// A printed code that waits for its place on the page, so that its modules can start on whole dots of the printer.
struct WaitingCode {
  Micrometres x = 0;  ///< of its quiet zone
  Micrometres y = 0;
  std::shared_ptr<const CodeBlock> block;
};

/// What lies on a piece of paper whose page is not known yet.
struct Layer {
  Marks marks;
  std::vector<Jump> jumps;
  std::vector<Target> targets;
  std::vector<ContentsLine> contents;
  std::vector<WaitingCode> codes;
};

/// Moves all that is on `more`, then adds it to `layer`.
void add_moved(Layer& layer, const Layer& more, Micrometres right, Micrometres down);

/// A strip of paper across the column that is never split: a line of text, a row of a table, a rule, a chart. What is on it is
/// relative to its top left corner.
struct Slab : Layer {
  Micrometres before = 0;  ///< space; of this and the one above's `after` the larger counts
  Micrometres after = 0;
  Micrometres height = 0;
  bool keep_with_next = false;
  bool spring = false;
  bool page_break = false;
  std::optional<Bar> bar;
  std::string field;
  std::shared_ptr<const std::vector<Slab>> head;  ///< put on top when this slab opens a page
};

/// One bookmark of a document, before it has a page.
struct Heading {
  std::string words;
  int level = 1;
};

/// The slabs of a document so far, and why it cannot be laid out.
struct Laid {
  std::vector<Slab> slabs;
  Refusals refusals;
  std::vector<Heading> headings{};  ///< every bookmark of the document, for its contents
  bool has_contents = false;
  bool only_heights = false;  ///< a paragraph in it gets one slab of the right height with nothing on it
};

/// Adds the slabs of `block`, set `width` wide.
void lay_block(const Block& block, Micrometres width, TypeCase& type, Laid& laid);

/// One line as a slab of its own height.
Slab slab_of(Line line, int leading, const Fonts& fonts);
/// How far below its top the baseline of such a slab lies.
Micrometres baseline_in(PointSize size, int leading, const Fonts& fonts);

/// The slabs under each other as one that is never split, their springs closed.
Slab stacked(const std::vector<Slab>& slabs);
/// The upright bar beside a slab that stands at `y`, under one that ends at `above`.
Fill fill_of(const Bar& bar, Micrometres y, Micrometres height, Micrometres above);

void lay_table(const Table& table, Micrometres width, TypeCase& type, Laid& laid);
void lay_chart(const ChartBlock& block, Micrometres width, TypeCase& type, Laid& laid);
void lay_code(const CodeBlock& block, Micrometres width, Laid& laid);
void lay_beside(const Beside& beside, Micrometres width, TypeCase& type, Laid& laid);
void lay_columns(const Columns& columns, Micrometres width, TypeCase& type, Laid& laid);
void lay_contents(const Contents& contents, Micrometres width, TypeCase& type, Laid& laid);

/// Paints a code whose place on the page is known: its first module starts on the next whole dot from the page's edges.
void paint(const WaitingCode& code, Marks& marks);
/// Every bookmark among the slabs, in their order.
std::vector<Heading> headings_of(const std::vector<Slab>& slabs);
/// Gives links, bookmarks and contents their pages. `layers` are what lies on each page, from its own corner.
/// @throws Fault (70) if a link leads to an anchor that no paragraph has, or two have the same
void resolve(std::vector<Layer> layers, Pages& pages, const Fonts& fonts);

void add(Refusals& all, const Refusals& more);

/// As the public ones, with what `type` remembers of the words by now.
Result<Pages> lay_out(const Document& document, TypeCase& type);
Result<Micrometres> height_needed(const Document& document, TypeCase& type);

}  // namespace tierproof::papers
