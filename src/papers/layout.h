#pragma once

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

/// A strip of paper across the column that is never split: a line of text, a row of a table, a rule, a chart.
struct Slab {
  Micrometres before = 0;  ///< space; of this and the one above's `after` the larger counts
  Micrometres after = 0;
  Micrometres height = 0;
  Marks marks;  ///< relative to the slab's top left corner
  bool keep_with_next = false;
  bool spring = false;
  bool page_break = false;
  std::optional<Bar> bar;
  std::string field;
  std::shared_ptr<const std::vector<Slab>> head;  ///< put on top when this slab opens a page
};

/// The slabs of a document so far, and why it cannot be laid out.
struct Laid {
  std::vector<Slab> slabs;
  Refusals refusals;
};

/// Adds the slabs of `block`, set `width` wide.
void lay_block(const Block& block, Micrometres width, const Fonts& fonts, Laid& laid);

/// One line as a slab of its own height.
Slab slab_of(const Line& line, int leading, const Fonts& fonts);
/// How far below its top the baseline of such a slab lies.
Micrometres baseline_in(PointSize size, int leading, const Fonts& fonts);

void lay_table(const Table& table, Micrometres width, const Fonts& fonts, Laid& laid);
void lay_chart(const ChartBlock& block, Micrometres width, const Fonts& fonts, Laid& laid);

void add(Refusals& all, const Refusals& more);

}  // namespace tierproof::papers
