#include "tierproof/papers/allergen_sheet.h"

#include <fmt/format.h>

#include "record_type.h"

namespace tierproof {
namespace {

using namespace papers;

constexpr PointSize name_size = PointSize::hundredths(1700);
constexpr PointSize stop_size = PointSize::hundredths(1250);

void add_title(std::vector<Block>& blocks, const AllergenSheetContent& content, const RecordType& type) {
  Table head;
  head.columns = {Column{0, true, 0}, Column{0, false, 0}};
  head.rules = false;
  head.padding = 0;
  Cell business;
  for (std::size_t i = 0; i < content.business.size(); ++i)
    business.paragraphs.push_back(type.paragraph({i == 0 ? type.bold(content.business[i]) : type.tiny(content.business[i])}, "business"));
  if (business.paragraphs.empty()) business.paragraphs.push_back(type.paragraph({type.plain("")}, "business"));
  Paragraph title = type.paragraph({type.bold("Allergen sheet")}, "title");
  Paragraph reference = type.paragraph({type.plain(content.reference)}, "reference");
  title.align = reference.align = Align::right;
  head.rows = {Row{{std::move(business), Cell{{std::move(title), std::move(reference)}, 1}}, false, true}};
  blocks.emplace_back(std::move(head));
  blocks.emplace_back(Rule{250, type.section / 4, type.section / 4, 0, true});
  Paragraph name = type.paragraph({{content.name, Face::condensed_bold, name_size, 0}}, "name");
  name.leading = 118;
  blocks.emplace_back(std::move(name));
  blocks.emplace_back(type.paragraph({type.plain(content.event)}, "event"));
  if (!content.stop.empty()) {
    blocks.emplace_back(Rule{700, type.section / 2, type.section / 4, 0, true});
    blocks.emplace_back(type.paragraph({{content.stop, Face::condensed_bold, stop_size, 0}}, "stop"));
    blocks.emplace_back(Rule{700, type.section / 4, 0, 0, false});
  }
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

}  // namespace

Result<Pages> lay_out_allergen_sheet(const AllergenSheetContent& content, const Fonts& fonts) {
  const RecordType type;
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
    for (const std::string& words : content.traces) paper.blocks.emplace_back(type.paragraph({type.plain(words)}, "traces"));
  }
  if (!content.statements.empty()) {
    append(paper.blocks, type.section_head("Also to be told"));
    for (const std::string& words : content.statements) paper.blocks.emplace_back(type.paragraph({type.plain(words)}, "statements"));
  }
  append(paper.blocks, type.section_head("Told"));
  paper.blocks.emplace_back(Blanks{{type.tiny("to whom"), type.tiny("when"), type.tiny("by whom")}, 9000, "told"});
  append(paper.blocks, type.section_head("Please note"));
  for (const std::string& words : content.cautions) paper.blocks.emplace_back(type.paragraph({type.tiny(words)}, "cautions"));
  return lay_out(paper, fonts);
}

}  // namespace tierproof
