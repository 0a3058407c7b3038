// Blocks that stand beside each other: printed codes, words beside a code, columns.
#include <fmt/format.h>

#include <algorithm>

#include "layout.h"

namespace tierproof::papers {
namespace {

/// The grid of a printed code in dots of its printer.
struct CodeGrid {
  std::int64_t per_inch = 300;
  std::int64_t module = 1;  ///< dots wide

  Micrometres length(std::int64_t dots) const { return (2 * dots * 25400 + per_inch) / (2 * per_inch); }  // to the nearest
  std::int64_t dots_to_reach(Micrometres at) const { return (at * per_inch + 25399) / 25400; }
  /// So many modules, with one dot to spare for moving to the next whole one.
  Micrometres room(int modules) const { return length(modules * module + 1) + 1; }
};

CodeGrid grid_of(const CodeBlock& block) {
  const Code& code = block.code;
  if (block.dots_per_inch < 1 || block.least_module < 1 || code.across < 1 || code.down < 1 ||
      code.dark.size() != static_cast<std::size_t>(code.across) * static_cast<std::size_t>(code.down)) {
    throw Fault{exit_status::our_bug, fmt::format("{}: a printed code without modules reached the layout", block.field)};
  }
  CodeGrid grid{block.dots_per_inch, 1};
  grid.module = grid.dots_to_reach(block.least_module);
  return grid;
}

/// A code at x = 0 on a slab of its own, or nothing and a refusal where it is wider than `width`.
Slab slab_of_code(const CodeBlock& block, Micrometres width, Refusals& refusals) {
  const CodeGrid grid = grid_of(block);
  const Micrometres wide = grid.room(block.code.across + 2 * block.code.quiet);
  if (wide > width) {
    refusals.push_back(Refusal{"", 0, block.field,
                               fmt::format("its {} needs {:.1f} mm of width with the empty edge around it, and there are {:.1f} mm",
                                           block.code.kind, static_cast<double>(wide) / 1000.0, static_cast<double>(width) / 1000.0),
                               "take a wider paper, or print no code: it is never printed smaller"});
  }
  Slab slab;
  slab.field = block.field;
  slab.height = grid.room(block.code.down + 2 * block.code.quiet);
  slab.codes.push_back({0, 0, std::make_shared<const CodeBlock>(block)});
  return slab;
}

Micrometres width_of(const CodeBlock& block) { return grid_of(block).room(block.code.across + 2 * block.code.quiet); }

/// One block's slabs that become part of a wider one.
std::vector<Slab> slabs_of(const std::vector<Block>& blocks, Micrometres width, TypeCase& type, Laid& laid) {
  Laid inner;
  inner.headings = laid.headings;
  inner.only_heights = laid.only_heights;
  for (const Block& block : blocks) lay_block(block, width, type, inner);
  add(laid.refusals, inner.refusals);
  laid.has_contents = laid.has_contents || inner.has_contents;
  return std::move(inner.slabs);
}

}  // namespace

Slab stacked(const std::vector<Slab>& slabs) {
  Slab all;
  Micrometres above = 0;
  for (std::size_t i = 0; i < slabs.size(); ++i) {
    const Slab& slab = slabs[i];
    if (slab.page_break) throw Fault{exit_status::our_bug, "a page break stands among blocks that stay on one page"};
    if (i > 0) all.height += std::max(slab.before, slabs[i - 1].after);
    add_moved(all, slab, 0, all.height);
    if (slab.bar) all.marks.fills.push_back(fill_of(*slab.bar, all.height, slab.height, i > 0 ? above : all.height));
    all.height += slab.height;
    above = all.height;
    if (all.field.empty()) all.field = slab.field;
  }
  if (!slabs.empty()) {
    all.before = slabs.front().before;
    all.after = slabs.back().after;
    all.keep_with_next = slabs.back().keep_with_next;
  }
  return all;
}

void lay_code(const CodeBlock& block, Micrometres width, Laid& laid) {
  Slab slab = slab_of_code(block, width, laid.refusals);
  const Micrometres spare = width - width_of(block);
  slab.codes.front().x = block.align == Align::left ? 0 : block.align == Align::centre ? spare / 2 : spare;
  laid.slabs.push_back(std::move(slab));
}

void lay_beside(const Beside& beside, Micrometres width, TypeCase& type, Laid& laid) {
  Refusals too_wide;
  const Slab code = slab_of_code(beside.code, width, too_wide);
  if (!too_wide.empty()) return add(laid.refusals, too_wide);
  const Micrometres wide = width_of(beside.code);
  Slab all = stacked(slabs_of(beside.blocks, width - wide - beside.gap, type, laid));
  add_moved(all, code, width - wide, 0);
  all.height = std::max(all.height, code.height);
  if (all.field.empty()) all.field = code.field;
  laid.slabs.push_back(std::move(all));
}

void lay_columns(const Columns& columns, Micrometres width, TypeCase& type, Laid& laid) {
  const auto count = static_cast<Micrometres>(columns.columns.size());
  if (count == 0) return;
  const Micrometres wide = (width - columns.gap * (count - 1)) / count;
  Slab all;
  Micrometres left = 0;
  for (const std::vector<Block>& blocks : columns.columns) {
    const Slab column = stacked(slabs_of(blocks, wide, type, laid));
    add_moved(all, column, left, 0);
    all.height = std::max(all.height, column.height);
    all.before = std::max(all.before, column.before);
    all.after = std::max(all.after, column.after);
    if (all.field.empty()) all.field = column.field;
    left += wide + columns.gap;
  }
  laid.slabs.push_back(std::move(all));
}

void paint(const WaitingCode& waiting, Marks& marks) {
  const CodeGrid grid = grid_of(*waiting.block);
  const Code& code = waiting.block->code;
  const std::int64_t left = grid.dots_to_reach(waiting.x) + code.quiet * grid.module;
  const std::int64_t top = grid.dots_to_reach(waiting.y) + code.quiet * grid.module;
  for (int y = 0; y < code.down; ++y) {
    const Micrometres from = grid.length(top + y * grid.module);
    const Micrometres to = grid.length(top + (y + 1) * grid.module);
    for (int x = 0; x < code.across;) {
      if (!code.is_dark(x, y)) {
        ++x;
        continue;
      }
      const int first = x;
      while (x < code.across && code.is_dark(x, y)) ++x;
      const Micrometres start = grid.length(left + first * grid.module);
      marks.fills.push_back({start, from, grid.length(left + x * grid.module) - start, to - from, 0});
    }
  }
}

}  // namespace tierproof::papers
