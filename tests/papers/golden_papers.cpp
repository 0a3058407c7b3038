#include "golden_papers.h"

#include "sample.h"
#include "stock_files.h"
#include "tierproof/papers/allergen_sheet.h"
#include "tierproof/papers/cake_record.h"
#include "tierproof/papers/inspection_record.h"
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

InspectionContent an_inspection() {
  InspectionContent content;
  content.business = {"Test Data Cakes", "1 Nowhere Lane, Nowhereton"};
  content.reference = "inspection-record";
  content.period = "4 to 31 May 2031, 28 days";
  content.wanting = {"cake fridge: no temperature on 2 days on which somebody worked; too warm on 1 day",
                     "1 thermometer check failed (note 41)", "2 regular records missed or overdue"};
  content.kitchen = {{"Who works here", "Ada Test (owner), Bob Test (helper)"},
                     {"What is made", "6 cakes, and 21 batches by 9 recipes"},
                     {"Who eats it", "families; no hospital, nursery or home is among them"}};
  content.matters = {{"What went wrong", "1, of them 0 open (note 50); the food: 1 binned"}, {"Complaints", "none"}};
  content.cold = {{"Fridge or freezer", "Days worked", "Recorded", "Missing", "Time too warm"},
                  {{{"cake fridge", "24", "22", "2 days", "air: above 8 °C for at least 30 min, about 47 min, at most 1 h 15 min"}, true},
                   {{"chest freezer", "24", "24", "0 days", "no limit for chilled food applies"}, false}},
                  ""};
  content.controls = {{"Thermometer checks", "8, of them 1 failed (note 41)"}, {"Egg steps", "6 limit met as recorded"}};
  content.keeping = {{"Training", "1 record in this period"}, {"Regular records", "70 done, 1 done late, 2 missed, 0 overdue"}};
  InspectionSection cold{"cake fridge, day by day", {}, {{"fridge logger", "air: none read above 8 °C"}}, {}, {}, {"place-days"}};
  cold.tables = {{{"Day", "Readings", "Read above the limit", "Notes"},
                  {{{"4 May 2031", "96", "no", "12"}, false}, {{"5 May 2031", "0", "not known", ""}, true}},
                  "Not told one by one, since nothing in them is marked: May 2031 26. Each stands in place-days.csv."}};
  content.sections = {{"Egg steps", {"No cake of this period has a part with an egg step to judge."}, {}, {}, {}, {"egg-steps"}}, cold};
  content.cautions = {"This is the business's own record of what was noted down. What nobody recorded cannot show here."};
  content.head = "90:5dc9da79";
  content.full_head = "90:5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328";
  content.program = "tierproof; rules of the test";
  content.drawn = "drawn 1 June 2031, 09:00 from 90 notes";
  return content;
}

InspectionContent a_review() {
  InspectionContent content = an_inspection();
  content.reference = "records-review";
  content.wanting.insert(content.wanting.begin(),
                         "Note 71 says that somebody else made the records; by the log, who looked recorded 4 of them");
  InspectionReview review;
  review.says = {"As recorded since the first day of this period. A look covers what stood in the records when it was made."};
  review.looked.heads = {"When", "Who looked", "All of it", "Whose records", "What was found, and what is done about it"};
  review.looked.rows = {{{"31 May 2031, 18:00 (note 71)", "Bob Test", "yes",
                          "not their own, they say; they recorded 4 of the 69 notes of this period: a second look by the same person",
                          "the door seal of the cake fridge is worn, which is why it was too warm; ordered"},
                         true}};
  review.reasons = {{"Times", "Released against", "Reason given"},
                    {{{"3", "Use-by dates, Kit recorded", "the owner looked at it and it was as it should be"}, true},
                     {{"1", "Thermometer", "checked again at noon"}, false}},
                    ""};
  content.review = std::move(review);
  return content;
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
          {"inspection-1", of_page, 1, [] { return lay_out_inspection_record(an_inspection(), fonts()); }},
          {"inspection-2", of_page, 2, [] { return lay_out_inspection_record(an_inspection(), fonts()); }},
          {"records-review", of_page, 1, [] { return lay_out_inspection_record(a_review(), fonts()); }},
          {"specimens", of_page, 1, some_specimens}};
}

}  // namespace tierproof
