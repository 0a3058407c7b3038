#include "tierproof/papers/counter_list.h"

#include <fmt/format.h>

#include <algorithm>

#include "record_type.h"

namespace tierproof {
namespace {

using namespace papers;

constexpr std::size_t cakes_a_page = 7;  // a column is then as wide as `? not known` and a name in two or three lines need
constexpr Micrometres allergen_column = 34000;

RecordType list_type() {
  RecordType type;
  type.body = PointSize::hundredths(850);  // a capital is 2.18 mm high
  type.small = PointSize::hundredths(800);
  type.leading = 120;
  type.padding = 450;
  type.section = 3000;
  return type;
}

/// What stands in a cell; the dash is told by the legend, so that what matters stands out.
std::string cell_words(const std::string& word) {
  const std::string mark = mark_of_allergen(word);
  return stands_out(word) ? fmt::format("{} {}", mark, word) : mark;
}

Paragraph legend(const RecordType& type) {
  std::string words;
  for (const char* word : {"contains", "may contain", "not known", "exempt product of it", "not an ingredient"})
    words += fmt::format("{}{} {}", words.empty() ? "" : "  ·  ", mark_of_allergen(word), word);
  Paragraph line = type.paragraph({type.bold(words + ". "), type.plain("Not known: treat as contained.")}, "legend");
  line.keep_with_next = true;
  return line;
}

Paragraph head_of_cake(const CounterCake& cake, const RecordType& type) {
  std::vector<TextRun> runs{type.bold(cake.name), type.plain(fmt::format("\n{}, {}", cake.reference, cake.event))};
  if (cake.handed_over) runs.push_back(type.plain("\nhanded over"));
  if (cake.stopped) runs.push_back(type.bold(cake.handed_over ? "\nSTOPPED: see its record" : "\nDO NOT SELL OR HAND OVER"));
  return type.paragraph(std::move(runs), "cakes");
}

Table matrix(const CounterGroup& group, std::size_t first, std::size_t last, Micrometres column, const RecordType& type) {
  Table table;
  table.padding = type.padding;
  table.gap = 2000;
  table.grid = true;
  table.before = 1000;
  Row head;
  table.columns.push_back(Column{allergen_column, false, 0});
  head.cells.push_back(type.cell({type.bold("Allergen")}, "heading"));
  for (std::size_t i = first; i < last; ++i) {
    table.columns.push_back(Column{column, true, column});
    head.cells.push_back(Cell{{head_of_cake(group.cakes[i], type)}, 1});
  }
  table.head = {std::move(head)};
  for (std::size_t line = 0; line < group.allergens.size(); ++line) {
    Row row{{type.cell({type.bold(group.allergens[line])}, "allergens")}, true, false};
    for (std::size_t i = first; i < last; ++i) {
      const std::string& word = group.cakes[i].words[line];
      row.cells.push_back(type.cell({stands_out(word) ? type.bold(cell_words(word)) : type.plain(cell_words(word))}, "words"));
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

void add_list_head(std::vector<Block>& blocks, const CounterListContent& content, const std::string& rules, const RecordType& type) {
  std::vector<TextRun> runs{{"Allergens in our cakes", Face::condensed_bold, PointSize::hundredths(1500), 0}};
  runs.push_back(type.plain(fmt::format("   {}", fmt::join(content.business, ", "))));
  Paragraph title = type.paragraph(std::move(runs), "title");
  title.leading = 115;
  title.keep_with_next = true;
  blocks.emplace_back(std::move(title));
  Paragraph which = type.paragraph(
      {type.bold(content.which + ". "), type.plain(content.valid + " "), type.plain(fmt::format("Rules: {}.", rules))}, "which");
  which.keep_with_next = true;
  which.after = 700;
  blocks.emplace_back(std::move(which));
  blocks.emplace_back(legend(type));
}

}  // namespace

Result<Pages> lay_out_counter_list(const CounterListContent& content, SheetPaper paper, const Fonts& fonts) {
  const RecordType type = list_type();
  Document list = record_paper(content.demo, fmt::format("counter list · {} · {}", content.head, content.drawn), type);
  list.width = paper == SheetPaper::a4 ? 297000 : 279400;
  list.height = paper == SheetPaper::a4 ? 210000 : 215900;
  list.left = list.right = 12000;
  list.top = list.bottom = 10000;
  const Micrometres room = list.width - list.left - list.right - allergen_column;
  bool first_page = true;
  for (const CounterGroup& group : content.groups) {
    for (std::size_t first = 0; first < group.cakes.size(); first += cakes_a_page) {
      if (!first_page) list.blocks.emplace_back(PageBreak{});
      first_page = false;
      const std::size_t last = std::min(group.cakes.size(), first + cakes_a_page);
      add_list_head(list.blocks, content, group.rules, type);
      list.blocks.emplace_back(matrix(group, first, last, room / static_cast<Micrometres>(last - first + 1) - 2000, type));
    }
  }
  if (first_page) return Refusal{"", 0, "cakes", "there is no cake to list", "record the tiers of a cake first"};
  Together end;
  for (const std::string& words : content.left_out)
    end.blocks.emplace_back(type.paragraph({type.bold("Not on this list: " + words + ".")}, "left_out"));
  for (const std::string& words : content.cautions) end.blocks.emplace_back(type.paragraph({type.tiny(words)}, "cautions"));
  list.blocks.emplace_back(Space{1500, false});
  list.blocks.emplace_back(std::move(end));
  return lay_out(list, fonts);
}

}  // namespace tierproof
