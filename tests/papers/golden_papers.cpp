#include "golden_papers.h"

#include "sample.h"
#include "stock_files.h"
#include "tierproof/papers/allergen_sheet.h"
#include "tierproof/papers/cake_record.h"
#include "tierproof/papers/label_sheets.h"
#include "tierproof/papers/sheet.h"
#include "tierproof/papers/specimens.h"

namespace tierproof {
namespace {

using namespace testdata;

Result<Pages> golden_label(const LabelContent& content, const Stock& stock) {
  auto label = lay_out_label(content, stock, fonts());
  if (!label) return label.error();
  return static_cast<Pages&>(*label);
}

LabelContent a_stopped_label() {
  LabelContent content = a_label();
  content.demo = true;
  content.stop = "DO NOT HAND OVER: sulphites are not known.";
  return content;
}

Result<Pages> tub_labels_on_a_sheet() {
  const Stock stock = stock_as_shipped("sheet-63x72");
  const auto label = lay_out_small_label(a_tub(), stock, fonts());
  if (!label) return label.error();
  return fill_sheets(*label, stock, {5, 3, 0, 0});
}

Result<Pages> an_empty_form() {
  const std::string name = "fridge-freezer.json";
  const auto forms = read_sheets(std::vector<SheetFile>{{name, text_of_file(TIERPROOF_SOURCE_DIR "/reports/sheets/" + name)}});
  if (!forms) return forms.error();
  return lay_out_sheet(forms->front(), {"Test Data Cakes, Nowhereton", true, {}, {}}, SheetPaper::a4, 1, fonts());
}

Result<Pages> some_specimens() {
  std::vector<Specimen> specimens;
  for (const Stock& stock : {a_sheet_label(), a_die_cut_label()}) {
    auto label = golden_label(a_short_label(), stock);
    if (!label) return label.error();
    specimens.push_back({"cake-1 by invented rules, on " + stock.words, std::move(label->pages.front())});
  }
  return lay_out_specimens(specimens, "Test Data Cakes, 1 May 2031", fonts());
}

}  // namespace

std::vector<GoldenPaper> golden_papers() {
  constexpr int of_label = 90;  // dots an inch: the least at which its small words can be read
  constexpr int of_page = 60;
  return {{"label", of_label, 1, [] { return golden_label(a_label(), a_sheet_label()); }},
          {"label-stopped", of_label, 1, [] { return golden_label(a_stopped_label(), a_sheet_label()); }},
          {"label-of-roll", of_label, 1, [] { return golden_label(a_label(), a_roll()); }},
          {"tub-label", of_label, 1, [] { return lay_out_small_label(a_tub(), stock_as_shipped("die-62x100"), fonts()); }},
          {"tub-labels-on-sheet", of_page, 1, tub_labels_on_a_sheet},
          {"ruler-page", of_page, 1, [] { return lay_out_ruler_page(stock_as_shipped("sheet-63x72"), 0, 0, fonts()); }},
          {"record-1", of_page, 1, [] { return lay_out_cake_record(a_record(), fonts()); }},
          {"record-2", of_page, 2, [] { return lay_out_cake_record(a_record(), fonts()); }},
          {"record-charts", of_page, 4, [] { return lay_out_cake_record(a_record(), fonts()); }},
          {"record-held", of_page, 1, [] { return lay_out_cake_record(a_held_record(), fonts()); }},
          {"allergen-sheet", of_page, 1, [] { return lay_out_allergen_sheet(an_allergen_sheet(), fonts()); }},
          {"venue-card", of_page, 1, [] { return lay_out_venue_card(a_venue_card(), CardPaper::a5, fonts()); }},
          {"hand-over-note", of_page, 1, [] { return lay_out_hand_over_note(a_hand_over_note(), SheetPaper::a4, fonts()); }},
          {"counter-list", of_page, 1, [] { return lay_out_counter_list(a_counter_list(5), SheetPaper::a4, fonts()); }},
          {"empty-form", of_page, 1, an_empty_form},
          {"specimens", of_page, 1, some_specimens}};
}

}  // namespace tierproof
