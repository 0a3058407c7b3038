#include <fmt/format.h>

#include <algorithm>
#include <cassert>

#include "layout.h"

namespace tierproof::papers {
namespace {

constexpr Micrometres hairline = 90;
constexpr Micrometres head_rule = 180;
constexpr Ink rule_ink = 110;

/// Widths of one column: of its widest word, of its longest line, and of that line where heads count too.
struct Need {
  Micrometres least = 0;
  Micrometres whole = 0;
  Micrometres with_head = 0;
};

std::vector<Need> needs_of(const Table& table, TypeCase& type) {
  std::vector<Need> needs(table.columns.size());
  const auto add_rows = [&](const std::vector<Row>& rows, bool heads) {
    for (const Row& row : rows) {
      std::size_t column = 0;
      for (const Cell& cell : row.cells) {
        assert(column + static_cast<std::size_t>(cell.columns) <= needs.size());
        if (cell.columns == 1) {
          Need& need = needs[column];
          for (const Paragraph& paragraph : cell.paragraphs) {
            const Extent extent = extent_of(paragraph, type.shape_of(paragraph), type.fonts());
            need.least = std::max(need.least, extent.least);
            need.with_head = std::max(need.with_head, extent.whole);
            if (!heads) need.whole = std::max(need.whole, extent.whole);
          }
        }
        column += static_cast<std::size_t>(cell.columns);
      }
    }
  };
  add_rows(table.head, true);
  add_rows(table.rows, false);
  return needs;
}

/// Gives every column that wants more an equal share of `spare`, until it has what it wants.
void share_out(std::vector<Micrometres>& widths, Micrometres& spare, const std::vector<Micrometres>& wanted) {
  std::vector<std::size_t> hungry;
  for (std::size_t i = 0; i < widths.size(); ++i) {
    if (wanted[i] > widths[i]) hungry.push_back(i);
  }
  std::stable_sort(hungry.begin(), hungry.end(),
                   [&](std::size_t a, std::size_t b) { return wanted[a] - widths[a] < wanted[b] - widths[b]; });
  for (std::size_t i = 0; i < hungry.size(); ++i) {
    const Micrometres share = spare / static_cast<Micrometres>(hungry.size() - i);
    const Micrometres more = std::min(wanted[hungry[i]] - widths[hungry[i]], share);
    widths[hungry[i]] += more;
    spare -= more;
  }
}

/// Space between the edge of the paper and the first column.
Micrometres inset_of(const Table& table) { return table.grid ? table.gap / 2 : 0; }

/// Widths of the columns: first the widest word of each, then the longest lines of the rows, then those of the head.
Result<std::vector<Micrometres>> widths_of(const Table& table, Micrometres width, TypeCase& type) {
  const std::vector<Need> needs = needs_of(table, type);
  const std::size_t count = table.columns.size();
  std::vector<Micrometres> widths(count);
  std::vector<Micrometres> lines(count);
  std::vector<Micrometres> heads(count);
  Micrometres spare = width - table.gap * static_cast<Micrometres>(count - 1) - 2 * inset_of(table);
  for (std::size_t i = 0; i < count; ++i) {
    widths[i] = std::max(table.columns[i].least, needs[i].least);
    const Micrometres most = table.columns[i].most;
    lines[i] = most == 0 ? needs[i].whole : std::min(needs[i].whole, most);
    heads[i] = most == 0 ? needs[i].with_head : std::min(needs[i].with_head, most);
    spare -= widths[i];
  }
  if (spare < 0) {
    const std::string field = table.rows.empty() || table.rows.front().cells.empty() || table.rows.front().cells.front().paragraphs.empty()
                                  ? "table"
                                  : table.rows.front().cells.front().paragraphs.front().field;
    return Refusal{"", 0, field, fmt::format("the columns are {:.1f} mm too wide for the paper", static_cast<double>(-spare) / 1000.0),
                   "shorten its longest words, or put a space in them"};
  }
  share_out(widths, spare, lines);
  share_out(widths, spare, heads);
  const auto fills = std::count_if(table.columns.begin(), table.columns.end(), [](const Column& column) { return column.fill; });
  for (std::size_t i = 0; i < count && fills > 0; ++i) {
    if (table.columns[i].fill) widths[i] += spare / fills;
  }
  return widths;
}

/// A cell's lines under each other, from its own top.
struct SetCell {
  std::vector<Slab> slabs;
  std::vector<Micrometres> tops;
  Micrometres height = 0;
  Micrometres baseline = 0;  ///< of its first line
  Micrometres x = 0;
};

SetCell set_cell(const Cell& cell, Micrometres width, TypeCase& type, Refusals& refusals) {
  SetCell set;
  Laid laid;
  for (const Paragraph& paragraph : cell.paragraphs) lay_block(paragraph, width, type, laid);
  add(refusals, laid.refusals);
  for (std::size_t i = 0; i < laid.slabs.size(); ++i) {
    if (i > 0) set.height += std::max(laid.slabs[i].before, laid.slabs[i - 1].after);
    set.tops.push_back(set.height);
    set.height += laid.slabs[i].height;
  }
  set.slabs = std::move(laid.slabs);
  if (!set.slabs.empty() && !set.slabs.front().marks.texts.empty()) set.baseline = set.slabs.front().marks.texts.front().baseline;
  return set;
}

Slab lay_row(const Table& table, const Row& row, const std::vector<Micrometres>& widths, Micrometres width, bool is_head, TypeCase& type,
             Refusals& refusals) {
  std::vector<SetCell> cells;
  Micrometres x = inset_of(table);
  std::size_t column = 0;
  Micrometres baseline = 0;
  for (const Cell& cell : row.cells) {
    Micrometres wide = -table.gap;
    for (int i = 0; i < cell.columns; ++i) wide += widths[column++] + table.gap;
    cells.push_back(set_cell(cell, wide, type, refusals));
    cells.back().x = x;
    baseline = std::max(baseline, cells.back().baseline);
    x += wide + table.gap;
  }
  assert(column == table.columns.size());

  Slab slab;
  Micrometres height = 0;
  for (const SetCell& cell : cells) {
    const Micrometres drop = cell.slabs.empty() ? 0 : baseline - cell.baseline;  // first lines share a baseline
    for (std::size_t i = 0; i < cell.slabs.size(); ++i) {
      add_moved(slab, cell.slabs[i], cell.x, table.padding + drop + cell.tops[i]);
    }
    height = std::max(height, drop + cell.height);
  }
  slab.height = std::max(height + 2 * table.padding, row.least);
  if (table.grid) {
    const auto upright = [&](Micrometres at) {
      slab.marks.strokes.push_back({{{at, 0}, {at, slab.height}}, hairline, rule_ink, 0, "rule"});
    };
    for (const SetCell& cell : cells) upright(cell.x - inset_of(table));
    upright(width);
  }
  if (table.rules && row.rule_below) {
    const Micrometres thickness = is_head ? head_rule : hairline;
    slab.marks.strokes.push_back({{{0, slab.height}, {width, slab.height}}, thickness, is_head ? 0 : rule_ink, 0, "rule"});
    slab.height += thickness;
  }
  slab.keep_with_next = is_head || row.keep_with_next;
  if (!row.cells.empty() && !row.cells.front().paragraphs.empty()) slab.field = row.cells.front().paragraphs.front().field;
  return slab;
}

}  // namespace

void lay_table(const Table& table, Micrometres width, TypeCase& type, Laid& laid) {
  Refusals bad;
  const auto check_rows = [&](const std::vector<Row>& rows) {
    for (const Row& row : rows) {
      for (const Cell& cell : row.cells) {
        for (const Paragraph& paragraph : cell.paragraphs) add(bad, check_paragraph(paragraph, type.shape_of(paragraph), type.fonts()));
      }
    }
  };
  check_rows(table.head);
  check_rows(table.rows);
  if (!bad.empty()) return add(laid.refusals, bad);
  const auto widths = widths_of(table, width, type);
  if (!widths) return add(laid.refusals, widths.error());

  auto head = std::make_shared<std::vector<Slab>>();
  for (const Row& row : table.head) head->push_back(lay_row(table, row, *widths, width, true, type, laid.refusals));
  const std::size_t first = laid.slabs.size();
  laid.slabs.insert(laid.slabs.end(), head->begin(), head->end());
  for (Slab& slab : *head) slab.targets.clear();  // only the first head is led to
  for (const Row& row : table.rows) {
    Slab slab = lay_row(table, row, *widths, width, false, type, laid.refusals);
    if (!head->empty()) slab.head = head;
    laid.slabs.push_back(std::move(slab));
  }
  if (laid.slabs.size() == first) return;
  const std::size_t count = laid.slabs.size();
  if (table.rows.size() > 1) {  // no first or last row stands alone
    laid.slabs[first + table.head.size()].keep_with_next = true;
    laid.slabs[count - 2].keep_with_next = true;
  }
  if (table.grid) laid.slabs[first].marks.strokes.push_back({{{0, 0}, {width, 0}}, hairline, rule_ink, 0, "rule"});
  laid.slabs[first].before = table.before;
  laid.slabs.back().after = table.after;
}

}  // namespace tierproof::papers
