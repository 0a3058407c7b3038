#include "record_type.h"

#include <iterator>

namespace tierproof::papers {

Paragraph RecordType::paragraph(std::vector<TextRun> runs, std::string field) const {
  Paragraph made;
  made.runs = std::move(runs);
  made.field = std::move(field);
  made.leading = leading;
  return made;
}

Cell RecordType::cell(std::vector<TextRun> runs, std::string field) const {
  return Cell{{paragraph(std::move(runs), std::move(field))}, 1};
}

Paragraph RecordType::section_name(const std::string& words, int level) const {
  Paragraph head = paragraph({{words, Face::condensed_bold, PointSize::hundredths(body.to_hundredths() + 100), 0}}, "heading");
  head.keep_with_next = true;
  head.before = section / 5;
  head.after = section / 8;
  head.bookmark = level;
  return head;
}

std::vector<Block> RecordType::section_head(const std::string& words, int level) const {
  return {Rule{250, section, 0, 0, true}, section_name(words, level)};
}

Table RecordType::label_table(const std::vector<LabelledText>& rows, const std::string& field) const {
  Table made;
  made.columns = {Column{label_column, false}, Column{0, true, 0}};
  made.padding = padding / 2;
  made.rules = false;
  for (const LabelledText& row : rows)
    made.rows.push_back(Row{{cell({tiny_bold(row.label)}, field), cell({plain(row.text)}, field)}, false, false});
  if (rows.empty()) made.rows.push_back(Row{{Cell{{paragraph({plain("nothing recorded")}, field)}, 2}}, false, false});
  return made;
}

Table RecordType::table(const std::vector<std::string>& heads, bool last_fills) const {
  Table made;
  made.padding = padding;
  Row head;
  for (std::size_t i = 0; i < heads.size(); ++i) {
    made.columns.push_back(Column{0, last_fills && i + 1 == heads.size(), 0});
    head.cells.push_back(cell({tiny_bold(heads[i])}, "heading"));
  }
  made.head = {std::move(head)};
  return made;
}

std::vector<Block> paper_head(const PaperHead& head, Micrometres space, const RecordType& type) {
  Table table;
  table.columns = {Column{0, true, 0}, Column{0, false, 0}};
  table.rules = false;
  table.padding = 0;
  Cell business;
  for (std::size_t i = 0; i < head.business.size(); ++i)
    business.paragraphs.push_back(type.paragraph({i == 0 ? type.bold(head.business[i]) : type.tiny(head.business[i])}, "business"));
  if (business.paragraphs.empty()) business.paragraphs.push_back(type.paragraph({type.plain("")}, "business"));
  Paragraph title = type.paragraph({type.bold(head.title)}, "title");
  Paragraph reference = type.paragraph({type.plain(head.reference)}, "reference");
  title.align = reference.align = Align::right;
  table.rows = {Row{{std::move(business), Cell{{std::move(title), std::move(reference)}, 1}}, false, true}};
  return {std::move(table), Rule{250, space, space, 0, true}};
}

std::vector<Block> stop_block(const std::string& stop, PointSize size, Micrometres thick, Micrometres space, const RecordType& type) {
  if (stop.empty()) return {};
  return {Rule{thick, 2 * space, space, 0, true}, type.paragraph({{stop, Face::condensed_bold, size, 0}}, "stop"),
          Rule{thick, space, 0, 0, false}};
}

Document record_paper(bool demo, const std::string& footer, const RecordType& type) {
  Document paper;
  paper.width = 210000;
  paper.height = 297000;
  paper.left = 19000;  // room to punch
  paper.right = 15000;
  paper.top = 13000;
  paper.bottom = 11000;
  if (demo) paper.demo = "DEMO – not a record of real food";
  paper.demo_type = {"", Face::condensed_bold, PointSize::hundredths(1100), 0};
  paper.footer = {type.tiny(footer)};
  paper.numbered = true;
  return paper;
}

void append(std::vector<Block>& blocks, std::vector<Block> more) {
  blocks.insert(blocks.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

std::string mark_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::shown:
      return "●";
    case Verdict::not_shown:
      return "○";
    case Verdict::not_met:
      return "▲";
    case Verdict::outside_model:
      return "◇";
  }
  return "○";
}

std::string mark_of_allergen(const std::string& word) {
  if (word.starts_with("contains")) return "■";
  if (word.starts_with("may contain")) return "◧";
  if (word == "not an ingredient") return "–";
  if (word.starts_with("exempt")) return "◇";
  return "?";
}

bool stands_out(const std::string& word) { return word != "not an ingredient"; }

}  // namespace tierproof::papers
