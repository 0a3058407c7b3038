#include "tierproof/papers/inspection_record.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "record_type.h"

namespace tierproof {
namespace {

using namespace papers;

constexpr const char* wanting_mark = "▲";

/// A table of texts; the last column takes what the others leave, and what is wanting is marked by shape and bold.
Table table_of(const InspectionTable& told, const RecordType& type) {
  std::vector<std::string> heads{""};
  heads.insert(heads.end(), told.heads.begin(), told.heads.end());
  Table made = type.table(heads, true);
  made.gap = 2200;
  const Micrometres most = made.columns.size() > 6 ? 27000 : 45000;  // the last column has the long texts
  for (std::size_t i = 0; i + 1 < made.columns.size(); ++i) made.columns[i].most = most;
  for (const auto& row : told.rows) {
    Row set;
    set.cells.push_back(type.cell({type.tiny_bold(row.wanting ? wanting_mark : "")}, "mark"));
    for (const auto& text : row.cells) set.cells.push_back(type.cell({row.wanting ? type.tiny_bold(text) : type.tiny(text)}, "cell"));
    made.rows.push_back(std::move(set));
  }
  return made;
}

void add_table(std::vector<Block>& blocks, const InspectionTable& told, const RecordType& type) {
  if (!told.rows.empty()) {
    Table table = table_of(told, type);
    table.before = 1200;
    blocks.emplace_back(std::move(table));
  }
  if (told.left_out.empty()) return;
  Paragraph words = type.paragraph({type.tiny(told.left_out)}, "left_out");
  words.before = 800;
  blocks.emplace_back(std::move(words));
}

/// What is wanting, a line each.
void add_wanting(std::vector<Block>& blocks, const InspectionContent& content, const RecordType& type) {
  append(blocks, type.section_head("What is open, late, missed or in doubt", 2));
  for (const auto& line : content.wanting)
    blocks.emplace_back(type.paragraph({type.bold(fmt::format("{} {}", wanting_mark, line))}, "wanting"));
  if (content.wanting.empty())
    blocks.emplace_back(
        type.paragraph({type.bold("Nothing of that is recorded in this period. What nobody recorded cannot show here.")}, "wanting"));
}

void add_head(std::vector<Block>& blocks, const InspectionContent& content, const std::string& title, const RecordType& type) {
  append(blocks, paper_head({content.business, title, content.reference}, 800, type));
  Paragraph period = type.paragraph({{content.period, Face::condensed_bold, PointSize::hundredths(1500), 0}}, "period");
  period.bookmark = 1;
  blocks.emplace_back(std::move(period));
}

void add_signing(std::vector<Block>& blocks, const InspectionContent& content, const char* first, const char* second,
                 const RecordType& type) {
  Together signing;
  signing.blocks.emplace_back(Blanks{{type.tiny(first), type.tiny(second)}, 8000, "signed"});
  signing.blocks.emplace_back(type.paragraph({type.tiny(fmt::format("{}", fmt::join(content.cautions, " ")))}, "cautions"));
  blocks.emplace_back(std::move(signing));
}

void add_page_one_of_review(std::vector<Block>& blocks, const InspectionContent& content, const RecordType& type) {
  add_head(blocks, content, "Review of the records", type);
  append(blocks, type.section_head("Who looked through these records", 2));
  for (const auto& words : content.review->says) blocks.emplace_back(type.paragraph({type.plain(words)}, "says"));
  add_table(blocks, content.review->looked, type);
  add_wanting(blocks, content, type);
  append(blocks, type.section_head("Cold", 2));
  add_table(blocks, content.cold, type);
  if (!content.review->reasons.rows.empty()) {
    append(blocks, type.section_head("Reasons given to release against a control", 2));
    add_table(blocks, content.review->reasons, type);
  }
  add_signing(blocks, content, "looked through by: name, signature, day", "for the business: name, signature, day", type);
}

void add_page_one(std::vector<Block>& blocks, const InspectionContent& content, const RecordType& type) {
  add_head(blocks, content, "Inspection record", type);
  blocks.emplace_back(type.label_table(content.kitchen, "kitchen"));
  add_wanting(blocks, content, type);
  append(blocks, type.section_head("What went wrong", 2));
  blocks.emplace_back(type.label_table(content.matters, "matters"));
  append(blocks, type.section_head("Cold", 2));
  add_table(blocks, content.cold, type);
  append(blocks, type.section_head("Thermometers, egg, allergies", 2));
  blocks.emplace_back(type.label_table(content.controls, "controls"));
  append(blocks, type.section_head("Pack details, plan, training", 2));
  blocks.emplace_back(type.label_table(content.keeping, "keeping"));
  add_signing(blocks, content, "for the business: name, signature, day", "seen by: name, signature, day", type);
}

void add_section(std::vector<Block>& blocks, const InspectionSection& section, const RecordType& type) {
  append(blocks, type.section_head(section.name));
  for (const auto& words : section.says) blocks.emplace_back(type.paragraph({type.plain(words)}, "says"));
  if (!section.facts.empty()) blocks.emplace_back(type.label_table(section.facts, "facts"));
  for (const auto& chart : section.charts) {
    Together drawn;
    Paragraph title = type.paragraph({type.bold(chart.title)}, "chart");
    title.before = 2000;
    title.keep_with_next = true;
    drawn.blocks.emplace_back(std::move(title));
    drawn.blocks.emplace_back(ChartBlock{chart, 48000, type.tiny(""), "chart"});
    drawn.blocks.emplace_back(type.paragraph({type.tiny(chart.note)}, "chart"));
    blocks.emplace_back(std::move(drawn));
  }
  for (const auto& table : section.tables) add_table(blocks, table, type);
  if (section.data.empty()) return;
  Paragraph data = type.paragraph({type.tiny(fmt::format("In full: {}.csv", fmt::join(section.data, ".csv, ")))}, "data");
  data.before = 800;
  blocks.emplace_back(std::move(data));
}

}  // namespace

Result<Pages> lay_out_inspection_record(const InspectionContent& content, const Fonts& fonts) {
  const RecordType type;
  Document paper = record_paper(content.demo, fmt::format("{} · {} · {}", content.reference, content.head, content.drawn), type);
  RecordType close;  // one page is to hold all of it
  close.section = 1700;
  close.padding = 350;
  if (content.review)
    add_page_one_of_review(paper.blocks, content, close);
  else
    add_page_one(paper.blocks, content, close);
  paper.blocks.emplace_back(PageBreak{});
  append(paper.blocks, type.section_head("Contents"));
  paper.blocks.emplace_back(Contents{type.plain(""), 1, "contents", 2});
  for (const auto& section : content.sections) add_section(paper.blocks, section, type);
  Paragraph program = type.paragraph({type.tiny(content.program)}, "program");
  program.before = type.section;
  paper.blocks.emplace_back(std::move(program));
  return lay_out(paper, fonts);
}

}  // namespace tierproof
