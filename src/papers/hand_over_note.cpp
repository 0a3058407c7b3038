#include "tierproof/papers/hand_over_note.h"

#include <fmt/format.h>

#include "record_type.h"

namespace tierproof {
namespace {

using namespace papers;

RecordType note_type() {
  RecordType type;  // read at arm's length, by somebody who holds a cake
  type.body = PointSize::hundredths(1000);
  type.small = PointSize::hundredths(800);
  type.section = 3000;
  type.leading = 125;
  type.label_column = 38000;
  return type;
}

void add_note_head(std::vector<Block>& blocks, const HandOverNoteContent& content, const RecordType& type) {
  append(blocks, paper_head({content.business, "To go with the cake", content.reference}, 1000, type));
  Paragraph name = type.paragraph({{content.name, Face::condensed_bold, PointSize::hundredths(1800), 0}}, "name");
  name.leading = 116;
  blocks.emplace_back(std::move(name));
  blocks.emplace_back(type.paragraph({type.plain(content.event)}, "event"));
  append(blocks, stop_block(content.stop, PointSize::hundredths(1400), 900, 900, type));
  if (content.outcome.empty()) return;
  Paragraph outcome = type.paragraph({content.released ? type.plain(content.outcome) : type.bold(content.outcome)}, "outcome");
  outcome.before = 1200;
  blocks.emplace_back(std::move(outcome));
}

}  // namespace

Result<Pages> lay_out_hand_over_note(const HandOverNoteContent& content, SheetPaper paper, const Fonts& fonts) {
  const RecordType type = note_type();
  Document note = record_paper(content.demo, fmt::format("{} · {} · {}", content.reference, content.head, content.drawn), type);
  if (paper == SheetPaper::letter) {
    note.width = 215900;
    note.height = 279400;
  }
  std::vector<Block>& blocks = note.blocks;
  add_note_head(blocks, content, type);
  append(blocks, type.section_head("Before it is cut"));
  blocks.emplace_back(type.paragraph({{content.take_out, Face::condensed_bold, PointSize::hundredths(1300), 0}}, "take_out"));
  append(blocks, type.section_head("Keep and eat by"));
  blocks.emplace_back(type.label_table(content.keep, "keep"));
  if (!content.eggs.empty()) {
    append(blocks, type.section_head("Egg"));
    for (const std::string& words : content.eggs) blocks.emplace_back(type.paragraph({type.bold(words)}, "eggs"));
  }
  append(blocks, type.section_head("Allergens"));
  if (!content.together.empty()) blocks.emplace_back(type.paragraph({type.bold(content.together)}, "together"));
  Table allergens = type.label_table(content.allergens, "allergens");
  for (Row& row : allergens.rows) {
    for (TextRun& run : row.cells.back().paragraphs.front().runs) run = type.bold(run.text);
  }
  blocks.emplace_back(std::move(allergens));
  append(blocks, type.section_head("What was asked and told about allergies"));
  blocks.emplace_back(type.label_table(content.told, "told"));
  if (!content.overrides.empty()) {
    append(blocks, type.section_head("Released against"));
    for (const Override& one : content.overrides) {
      blocks.emplace_back(type.paragraph(
          {type.tiny_bold(one.control + ": "), type.tiny(fmt::format("{}. Reason: {} ({})", one.finding, one.reason, one.by))},
          "overrides"));
    }
  }
  append(blocks, type.section_head("On the way (common practice, no source)"));
  blocks.emplace_back(type.paragraph({type.plain(fmt::format("{}", fmt::join(content.transport, " ")))}, "transport"));
  Together signing;
  signing.blocks = type.section_head("Taken over");
  signing.blocks.emplace_back(Blanks{{type.tiny("handed over by"), type.tiny("taken by"), type.tiny("day and time")}, 9500, "signed"});
  blocks.emplace_back(std::move(signing));
  Paragraph cautions = type.paragraph({type.tiny(fmt::format("{}", fmt::join(content.cautions, " ")))}, "cautions");
  cautions.before = type.section;
  blocks.emplace_back(std::move(cautions));
  return lay_out(note, fonts);
}

}  // namespace tierproof
