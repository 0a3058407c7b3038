#include "tierproof/papers/venue_card.h"

#include <fmt/format.h>

#include <array>

#include "record_type.h"

namespace tierproof {
namespace {

using namespace papers;

struct CardSheet {
  CardPaper paper;
  const char* words;
  Micrometres width;
  Micrometres height;
};
constexpr std::array<CardSheet, 4> card_sheets{{{CardPaper::a5, "A5", 148000, 210000},
                                                {CardPaper::half_letter, "half of a letter", 139700, 215900},
                                                {CardPaper::letter, "letter", 215900, 279400},
                                                {CardPaper::a4, "A4", 210000, 297000}}};

constexpr int largest_body = 1400;  // hundredths of a point
constexpr int least_body = 800;     // of which a capital is 2.05 mm high

/// The card's type for one body size; everything else goes with it.
struct CardType {
  explicit CardType(int body) : type{} {
    type.body = PointSize::hundredths(body);
    type.small = PointSize::hundredths(std::max(650, body * 3 / 4));
    type.leading = 122;
    type.padding = 450;
    type.label_column = 28000 * body / 1000;
  }
  TextRun large(std::string text, int share) const {
    return {std::move(text), Face::condensed_bold, PointSize::hundredths(type.body.to_hundredths() * share / 100), 0};
  }
  RecordType type;
};

std::string joined(const std::vector<std::string>& names) { return fmt::format("{}", fmt::join(names, ", ")); }

void add_name(std::vector<Block>& blocks, const VenueCardContent& content, const CardType& card) {
  Paragraph name = card.type.paragraph({card.large(content.name, 170)}, "name");
  name.leading = 112;
  blocks.emplace_back(std::move(name));
  blocks.emplace_back(card.type.paragraph({card.type.plain(fmt::format("{} · {}", content.event, content.reference))}, "event"));
  if (content.stop.empty()) return;
  blocks.emplace_back(Rule{900, 1500, 800, 0, true});
  blocks.emplace_back(card.type.paragraph({card.large(content.stop, 140)}, "stop"));
  blocks.emplace_back(Rule{900, 800, 500, 0, false});
}

/// What the whole cake counts as: the first thing that anybody who cuts it must read.
Barred together(const VenueCardContent& content, const CardType& card) {
  Barred bar;
  bar.thickness = 1600;
  bar.blocks.emplace_back(card.type.paragraph({card.large(content.together, 115)}, "together"));
  Paragraph all =
      card.type.paragraph({card.large(content.all.empty() ? "none of the law's list, by the records" : joined(content.all), 150)}, "all");
  all.before = 700;
  bar.blocks.emplace_back(std::move(all));
  if (!content.may_contain.empty()) {
    Paragraph more =
        card.type.paragraph({card.large("It may also contain: ", 115), card.large(joined(content.may_contain), 125)}, "may_contain");
    more.before = 900;
    bar.blocks.emplace_back(std::move(more));
  }
  return bar;
}

void add_tiers(std::vector<Block>& blocks, const VenueCardContent& content, const CardType& card) {
  if (!content.by_tier.empty()) {
    std::vector<std::string> heads{"By the records"};
    for (const std::string& tier : content.tiers)
      heads.push_back(content.tiers.size() == 1 && tier == "only" ? "the cake" : tier + " tier");
    Table table = card.type.table(heads);
    for (std::size_t i = 1; i < table.columns.size(); ++i) table.columns[i].fill = true;
    table.gap = 2200;
    table.before = 2200;
    for (std::size_t i = 0; i < content.by_tier.size(); ++i) {
      const VenueAllergen& line = content.by_tier[i];
      const std::string field = fmt::format("by_tier[{}]", i);
      Row row{{card.type.cell({card.type.bold(line.name)}, field)}, true, false};
      for (const std::string& word : line.words) {
        const std::string marked = fmt::format("{} {}", mark_of_allergen(word), word);
        row.cells.push_back(card.type.cell({stands_out(word) ? card.type.bold(marked) : card.type.plain(marked)}, field));
      }
      table.rows.push_back(std::move(row));
    }
    blocks.emplace_back(std::move(table));
  }
  if (content.not_an_ingredient.empty()) return;
  Paragraph others = card.type.paragraph(
      {card.type.tiny_bold("– not an ingredient of any tier: "), card.type.tiny(joined(content.not_an_ingredient) + ".")},
      "not_an_ingredient");
  others.before = 1200;
  blocks.emplace_back(std::move(others));
}

Document card_of(const VenueCardContent& content, const CardSheet& sheet, int body) {
  const CardType card{body};
  Document paper = record_paper(content.demo, fmt::format("{} · {}", content.head, content.drawn), card.type);
  paper.width = sheet.width;
  paper.height = sheet.height;
  paper.left = paper.right = 10000;
  paper.top = paper.bottom = 9000;
  paper.numbered = false;
  add_name(paper.blocks, content, card);
  Barred bar = together(content, card);
  paper.blocks.emplace_back(Space{2000, false});
  paper.blocks.emplace_back(std::move(bar));
  add_tiers(paper.blocks, content, card);
  Table service = card.type.label_table(content.service, "service");
  service.before = 2000;
  for (Row& row : service.rows) row.cells.front().paragraphs.front().runs.front().size = card.type.body;
  paper.blocks.emplace_back(Rule{250, 2000, 0, 0, true});
  paper.blocks.emplace_back(std::move(service));
  paper.blocks.emplace_back(Space{1200, true});
  for (std::size_t i = 0; i < content.cautions.size(); ++i)
    paper.blocks.emplace_back(card.type.paragraph({card.type.tiny(content.cautions[i])}, fmt::format("cautions[{}]", i)));
  return paper;
}

}  // namespace

Result<Pages> lay_out_venue_card(const VenueCardContent& content, CardPaper paper, const Fonts& fonts) {
  const CardSheet* sheet = card_sheets.data();
  while (sheet->paper != paper) ++sheet;
  for (int body = largest_body; body >= least_body; body -= 50) {
    auto pages = lay_out(card_of(content, *sheet, body), fonts);
    if (pages && pages->pages.size() == 1) return pages;
  }
  constexpr CardSheet boundless{CardPaper::a4, "", 3'000'000, 3'000'000};
  if (auto refused = lay_out(card_of(content, boundless, least_body), fonts); !refused) return refused;  // words that no paper holds
  const bool small = paper == CardPaper::a5 || paper == CardPaper::half_letter;
  return Refusal{"", 0, "--size", fmt::format("the card of {} does not fit on {} in letters of 2 mm", content.reference, sheet->words),
                 small ? "take the next larger paper: a4 or letter" : "print the allergen sheet instead, which may have several pages"};
}

}  // namespace tierproof
