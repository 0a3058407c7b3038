#include "tierproof/papers/allergen_sheet.h"

#include <fmt/format.h>

#include "layout.h"
#include "record_type.h"

namespace tierproof {
namespace {

using namespace papers;

constexpr PointSize name_size = PointSize::hundredths(1700);
constexpr PointSize stop_size = PointSize::hundredths(1250);

void add_title(std::vector<Block>& blocks, const AllergenSheetContent& content, const RecordType& type) {
  append(blocks, paper_head({content.business, "Allergen sheet", content.reference}, type.section / 4, type));
  Paragraph name = type.paragraph({{content.name, Face::condensed_bold, name_size, 0}}, "name");
  name.leading = 118;
  blocks.emplace_back(std::move(name));
  blocks.emplace_back(type.paragraph({type.plain(content.event)}, "event"));
  append(blocks, stop_block(content.stop, stop_size, 700, type.section / 4, type));
}

Table allergens(const AllergenSheetContent& content, const RecordType& type) {
  Table made = type.table({"Allergen", "In this cake", "Tier", "By the records"}, true);
  for (std::size_t i = 0; i < content.lines.size(); ++i) {
    const AllergenSheetLine& each = content.lines[i];
    const std::string field = fmt::format("lines[{}]", i);
    const auto words = [&](const std::string& text) { return stands_out(each.line.word) ? type.bold(text) : type.plain(text); };
    made.rows.push_back(
        Row{{type.cell({words(each.line.name)}, field), type.cell({words(mark_of_allergen(each.line.word) + " " + each.line.word)}, field),
             type.cell({type.plain(each.tiers)}, field), type.cell({type.tiny(each.line.why)}, field)},
            true,
            false});
  }
  return made;
}

/// How closely the sheet is set: 0 is airy, `closest_sheet` tight.
constexpr int closest_sheet = 8;

RecordType sheet_type(int closeness) {
  const auto between = [&](auto airy, auto tight) { return airy + (tight - airy) * closeness / closest_sheet; };
  RecordType type;
  type.leading = between(130, 120);
  type.padding = between(Micrometres{650}, Micrometres{150});
  type.section = between(Micrometres{4200}, Micrometres{2000});
  return type;
}

std::vector<Block> listed(const std::vector<std::string>& texts, const char* field, const RecordType& type) {
  std::vector<Block> blocks;
  for (const std::string& words : texts) blocks.emplace_back(type.paragraph({type.plain(words)}, field));
  return blocks;
}

Document sheet_of(const AllergenSheetContent& content, const RecordType& type) {
  Document paper = record_paper(content.demo, fmt::format("{} · {} · {}", content.reference, content.head, content.drawn), type);
  add_title(paper.blocks, content, type);
  append(paper.blocks, type.section_head("How it is sold"));
  paper.blocks.emplace_back(type.paragraph({type.plain(content.sold)}, "sold"));
  append(paper.blocks, type.section_head("Allergens"));
  paper.blocks.emplace_back(allergens(content, type));
  Paragraph together = type.paragraph({type.bold(content.together)}, "together");
  together.before = type.section / 4;
  paper.blocks.emplace_back(std::move(together));
  if (!content.traces.empty()) {
    append(paper.blocks, type.section_head("Traces"));
    append(paper.blocks, listed(content.traces, "traces", type));
  }
  if (!content.statements.empty()) {
    append(paper.blocks, type.section_head("Also to be told"));
    append(paper.blocks, listed(content.statements, "statements", type));
  }
  // Whom it was told to stands on the sheet that was told from, with what it does not promise: never alone on a page.
  Together end;
  end.blocks = type.section_head("Told");
  end.blocks.emplace_back(Blanks{{type.tiny("to whom"), type.tiny("when"), type.tiny("by whom")}, 5000 + type.section, "told"});
  append(end.blocks, type.section_head("Please note"));
  for (const std::string& words : content.cautions) end.blocks.emplace_back(type.paragraph({type.tiny(words)}, "cautions"));
  paper.blocks.emplace_back(std::move(end));
  return paper;
}

}  // namespace

Result<Pages> lay_out_allergen_sheet(const AllergenSheetContent& content, const Fonts& fonts) {
  TypeCase words{fonts};
  for (int closeness = 0; closeness <= closest_sheet; ++closeness) {
    const Document paper = sheet_of(content, sheet_type(closeness));
    const auto needed = height_needed(paper, words);
    if (!needed) return needed.error();
    if (*needed <= paper.height) return lay_out(paper, words);
  }
  return lay_out(sheet_of(content, RecordType{}), words);  // to be read: it takes more pages anyway
}

}  // namespace tierproof
