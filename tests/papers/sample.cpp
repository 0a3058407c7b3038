#include "sample.h"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <stdlib.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>

namespace tierproof::testdata {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

Instant at(int day, int hour, int minute) {
  return std::chrono::sys_days{std::chrono::year{2031} / 5 / day} + hours{hour} + minutes{minute};
}

constexpr Offset summer{60};

std::vector<std::vector<Run>> a_list() {
  return {{{"sugar", false}},
          {{"butter (", false}, {"MILK", true}, {")", false}},
          {{"WHEAT", true}, {" flour (", false}, {"WHEAT", true}, {" flour, calcium carbonate, iron, niacin, thiamin)", false}},
          {{"pasteurised ", false}, {"EGG", true}, {" white", false}},
          {{"EGG", true}},
          {{"raspberry purée 6 % (raspberries, sugar)", false}},
          {{"ground ", false}, {"ALMONDS", true}, {" 4 %", false}},
          {{"glucose syrup", false}},
          {{"white chocolate (sugar, cocoa butter, whole ", false},
           {"MILK", true},
           {" powder, emulsifier: lecithins (", false},
           {"SOYA", true},
           {"), vanilla flavouring)", false}},
          {{"elderflower cordial (sugar, water, acid: citric acid, preservative: E202)", false}},
          {{"raising agents: diphosphates, sodium carbonates", false}},
          {{"salt", false}},
          {{"colours: E162, E170", false}}};
}

AllergenLine line(std::string name, std::string word, std::string why = "") { return {std::move(name), std::move(word), std::move(why)}; }

Finding finding(std::string control, Verdict verdict, std::string subject, std::string message, std::string limit, std::string result,
                std::string evidence, std::string source, std::string remedy = "") {
  Finding made;
  made.control = std::move(control);
  made.verdict = verdict;
  made.stop = verdict == Verdict::shown ? Stop::none : Stop::needs_person;
  made.subject = std::move(subject);
  made.message = std::move(message);
  made.limit = std::move(limit);
  made.result = std::move(result);
  made.evidence = std::move(evidence);
  made.source = std::move(source);
  made.remedy = std::move(remedy);
  return made;
}

}  // namespace

const Fonts& fonts() {
  static const Fonts loaded = Fonts::load(TIERPROOF_SOURCE_DIR "/reports/fonts");
  return loaded;
}

LabelContent a_label() {
  LabelContent label;
  label.name = "Three-tier almond sponge with raspberry filling and elderflower buttercream";
  label.heading = {{"Ingredients:", false}};
  label.ingredients = a_list();
  label.may_contain = {"May contain hazelnuts and pistachios."};
  label.storage = "Keep in the fridge at 5 °C or colder. Take out 2 hours before serving and eat the same day.";
  label.date = "Use by 4 May 2031";
  label.quantity = "1 cake, 3 tiers";
  label.remove = "Remove before eating: 6 dowels (bottom, middle), 3 boards, 1 wire flower (top).";
  label.box = "Box 1 of 2";
  label.business = {"Test Data Cakes", "1 Invented Row, Nowhereton", "ZZ99 9ZZ"};
  label.reference = "cake-1";
  label.head = "41:5dc9a1e0";
  label.cautions = {"Local law prevails over what this label says."};
  label.heights = {{"text", "x-height", 1200, "test rule 1"}};
  return label;
}

LabelContent a_short_label() {
  LabelContent label = a_label();
  label.name = "Lemon sponge (test)";
  label.ingredients.resize(5);
  label.may_contain.clear();
  label.remove.clear();
  label.box.clear();
  label.quantity = "1 cake";
  return label;
}

Stock a_sheet_label() { return {"sheet-99x139", "label 99.1 × 139 mm", 991, 1390, 40, 300, false}; }
Stock a_die_cut_label() { return {"die-62x100", "die-cut label 62 × 100 mm", 620, 1000, 30, 300, false}; }
Stock a_roll() { return {"roll-62", "roll 62 mm wide", 620, 3000, 30, 300, true}; }

Chart a_chart_with_a_gap() {
  Chart chart;
  chart.title = "Cake fridge, air, 2 May 2031 (test data)";
  chart.from = at(2, 6, 0);
  chart.to = at(2, 12, 0);
  chart.offset = summer;
  chart.limit = celsius(8.0);
  chart.limit_words = "limit 8 °C (food)";
  chart.note = "Thermometer probe-2, read to 0.1 °C, may be wrong by 0.5 °C; last check in ice 28 April 2031: good.";
  for (int minute = 0; minute <= 360; minute += 5) {
    if (minute > 120 && minute < 200) continue;
    const double degrees = 4.2 + (minute % 60) * 0.03 + (minute >= 240 && minute < 270 ? 2.5 : 0.0);
    chart.readings.push_back({at(2, 6, 0) + minutes{minute}, celsius(degrees)});
  }
  chart.readings[5].temperature = std::nullopt;
  chart.gaps = {{at(2, 6, 20), at(2, 6, 30), "thermometer fault"}, {at(2, 8, 0), at(2, 9, 20), "no reading for 80 min"}};
  return chart;
}

Chart a_chart_of_the_night_the_clocks_went_back() {
  const Instant evening = std::chrono::sys_days{std::chrono::year{2031} / 10 / 25} + hours{19};  // 20:00 by the clock
  Chart chart;
  chart.title = "Cake fridge, air, 25 October 2031 to 26 October 2031 (test data)";
  chart.from = evening;
  chart.to = evening + hours{15};
  chart.offset = summer;
  chart.clock_changes = {{evening + hours{6}, Offset{0}}};
  chart.limit = celsius(8.0);
  chart.limit_words = "limit 8 °C (food)";
  chart.allowance = ChartAllowance{"up to 10 °C for less than 2 h, once (test rule cold-2)", celsius(10.0)};
  chart.note = "Thermometer probe-2, read to 0.1 °C, may be wrong by 0.5 °C; last check in ice 24 October 2031: good.";
  for (int minute = -5; minute <= 905; minute += 5) {
    if (minute > 200 && minute < 265) continue;
    const double door = minute >= 620 && minute < 690 ? 4.4 - std::abs(minute - 650) * 0.06 : 0.0;
    chart.readings.push_back({evening + minutes{minute}, celsius(4.1 + (minute + 5) % 45 * 0.04 + door)});
  }
  for (std::size_t i = 0; i < chart.readings.size(); ++i) {
    if (chart.readings[i].at == evening + minutes{480}) chart.readings[i].temperature = std::nullopt;
  }
  chart.gaps = {{evening + minutes{200}, evening + minutes{265}, "no reading for 1 h 05 min"},
                {evening + minutes{475}, evening + minutes{485}, "thermometer fault"}};
  chart.stays = {{"cake-1 Three-tier almond sponge", evening + minutes{90}, evening + hours{20}},
                 {"batch-6 raspberry filling", evening - hours{5}, evening + minutes{95}},
                 {"batch-3 meringue buttercream", evening + minutes{20}, evening + minutes{80}},
                 {"cake-2 Lemon sponge", evening + minutes{610}, evening + minutes{800}}};
  return chart;
}

Chart a_chart_of_a_heat_step() {
  const Instant begin = at(1, 9, 2);
  Chart chart;
  chart.title = "batch-3 (meringue buttercream), heat step (test data)";
  chart.offset = summer;
  chart.limit = celsius(70.0);
  chart.limit_words = "wanted 70 °C";
  chart.limit_is_ceiling = false;
  chart.note = "Thermometer probe-1, read to 0.1 °C, may be wrong by 0.5 °C; last check in ice 28 April 2031: good.";
  for (int step = 0; step <= 42; ++step) {
    double degrees = step <= 20 ? 38.0 + step * 1.75 : 72.6 - std::abs(step - 30) * 0.15;
    if (step == 24) degrees = 69.4;  // stirred with a cold spoon
    if (step > 36) degrees = 71.7 - (step - 36) * 3.1;
    chart.readings.push_back({begin + std::chrono::seconds{15 * step}, celsius(degrees)});
  }
  chart.from = chart.readings.front().at;
  chart.to = chart.readings.back().at;
  ChartBound bound;
  bound.unit_words = "time without a break at or above 70 °C, at least";
  bound.shown = held_so_far(chart.readings, celsius(70.0), kelvins(0.5), minutes{1});
  bound.wanted = minutes{2};
  bound.wanted_words = "2 min wanted";
  bound.told = "held at or above 70 °C for 2 min 45 s (needs 2 min), thermometer error ±0.5 °C taken off";
  chart.bound = std::move(bound);
  return chart;
}

CakeRecordContent a_record() {
  CakeRecordContent record;
  record.business = {"Test Data Cakes", "1 Invented Row, Nowhereton ZZ99 9ZZ", "Registered with the Invented Authority as TEST-0"};
  record.title = "Cake record";
  record.reference = "cake-1";
  record.name = "Three-tier almond sponge with raspberry filling";
  record.event = "For 3 May 2031, collected 2 May 2031";
  record.sold = "To order, boxed before it is handed over, from the place it was made";
  record.sold_why = "test rule 5(2): packed before the offer, sold by the maker: full ingredient list with emphasis";
  record.outcome = "OK to leave: 4 controls met as recorded, 2 released against by a named person.";
  record.released = true;
  record.overrides = {
      {"Cooled fast enough", "From 60 °C to 8 °C took between 1 h 35 min and 2 h 20 min; 80 min have no reading.",
       "The logger was unplugged while the caramel cooled in an ice bath; it was at 4.8 °C when it was plugged in again.",
       "A. Tester, 2 May 2031, 07:58"},
      {"Shared kit",
       "The mixer met almonds in batch-4 at 10:05 and was washed and looked clean before batch-6 at 12:40; no test shows it clean.",
       "The whole cake contains almonds by design and is declared so; the customer was told in writing on 28 April 2031.",
       "A. Tester, 2 May 2031, 07:59"}};
  record.allergy = {{"Asked", "12 April 2031, of the person who ordered, by message"},
                    {"Answer", "one guest avoids peanuts; no other allergy stated"},
                    {"Words told", "“Peanut is not an ingredient. We work with almonds and other nuts on the same kit.”"}};
  record.allergens = {line("wheat", "contains", "sponge batch-2 ← plain flour, pack 7A"),
                      line("rye", "not an ingredient", "no specification names it"),
                      line("barley", "not an ingredient"),
                      line("oats", "not an ingredient"),
                      line("spelt", "not an ingredient"),
                      line("crustaceans", "not an ingredient"),
                      line("eggs", "contains", "sponge batch-2, meringue buttercream batch-3"),
                      line("fish", "not an ingredient"),
                      line("peanuts", "not an ingredient"),
                      line("soybeans", "contains", "white chocolate, pack L2209: lecithins"),
                      line("milk", "contains", "butter, white chocolate"),
                      line("almonds", "contains", "shell batch-4 ← ground almonds, pack A7"),
                      line("hazelnuts", "may contain", "ground almonds, pack A7: supplier says so"),
                      line("walnuts", "not an ingredient"),
                      line("cashews", "not an ingredient"),
                      line("pecan nuts", "not an ingredient"),
                      line("Brazil nuts", "not an ingredient"),
                      line("pistachio nuts", "may contain", "shared mixer after batch-1"),
                      line("macadamia or Queensland nuts", "not an ingredient"),
                      line("celery", "not an ingredient"),
                      line("mustard", "not an ingredient"),
                      line("sesame seeds", "not an ingredient"),
                      line("sulphur dioxide and sulphites", "not an ingredient", "all 14 specifications say so"),
                      line("lupin", "not an ingredient"),
                      line("molluscs", "not an ingredient"),
                      line("khorasan wheat", "not an ingredient")};
  record.findings = {
      finding("egg-heat", Verdict::shown, "batch-3", "The buttercream is made with pasteurised egg white, pack E4, in date on the day.",
              "pasteurised pack in date", "pack E4, use by 20 May 2031", "pack scanned 1 May 2031, 08:12", "test rule egg-1"),
      finding("bake", Verdict::shown, "batch-2", "The middle of the sponge reached 96.2 °C.", "75 °C or hotter in the middle",
              "96.2 °C ± 0.5 °C", "typed then; probe-1, ice check 28 April 2031: good", "test rule heat-2"),
      finding("cold", Verdict::shown, "cake-1", "Air of the cake fridge stayed at or below 7.6 °C for all of 21 h 40 min recorded.",
              "8 °C or colder (food)", "warmest 7.6 °C, of the air", "logger, every 5 min; probe-2, ice check 28 April 2031: good",
              "test rule cold-1"),
      finding("cooling", Verdict::not_shown, "batch-5", record.overrides.front().finding, "below 8 °C within 90 min",
              "1 h 35 min to 2 h 20 min", "logger; one gap of 80 min", "test rule cool-1",
              "Have a named person judge it, or make the caramel again and record its cooling."),
      finding("cross-contact", Verdict::not_shown, "mixer-1", record.overrides.back().finding, "washed and tested between",
              "washed and looked clean", "typed late, 2 May 2031, 07:40", "test rule kit-3", "Test the mixer, or use another."),
      finding("thermometer", Verdict::shown, "probe-1, probe-2", "Both thermometers were checked in ice within 30 days.",
              "checked within 30 days", "4 days before", "ice point 0.1 °C and −0.2 °C", "test rule probe-1")};
  record.finding_words = {"Egg heated or pasteurised", "Baked through", "Kept cold", "Cooled fast enough", "Shared kit", "Thermometers"};
  record.keep = {
      {"Keep", "in the fridge at 5 °C or colder, in its box"},
      {"Use by", "4 May 2031, the earliest of its parts: raspberry filling batch-6, made 1 May 2031, 3 days by the maker's plan"}};
  record.handed_over = {
      {"To", "customer-1 (name kept apart)"}, {"When", "2 May 2031, 09:30, at the kitchen"}, {"How warm", "5.1 °C between tiers, probe-1"}};
  record.after_hand_over = {"note 52, 2 May 2031, 18:04: batch-5 cooling corrected (typed late)"};
  record.own_record =
      "This is the business's own record of what was written down. It is not a certificate and does not say that the cake is safe. Local "
      "law prevails.";
  record.head = "53:5dc9a1e0";
  record.ingredients = a_list();
  record.statements = {"May contain hazelnuts and pistachios."};
  record.packs = {{"plain flour", "7A", "Invented Mill", "best before 1 Nov 2031", "412.5 g", "weighed"},
                  {"ground almonds", "A7", "Nowhere Nuts", "best before 9 Sep 2031", "180 g", "weighed"},
                  {"pasteurised egg white", "E4", "Invented Eggs", "use by 20 May 2031", "240 g", "estimated, from the recipe"},
                  {"white chocolate", "L2209-0031-B", "Nowhere Cocoa", "best before 1 Mar 2032", "150 g", "suggested and accepted"},
                  {"dried raspberries", "R1", "Invented Fruit", "best before 3 Jan 2032", "12 g", "weighed"}};
  record.batches = {{"batch-2", "vanilla sponge", "1 May 2031, 08:30, A. Tester", "980 g", "bottom, middle", "weighed"},
                    {"batch-3", "meringue buttercream", "1 May 2031, 11:15, A. Tester", "760 g", "all", "weighed"},
                    {"batch-4", "almond shell", "1 May 2031, 10:05, B. Tester", "210 g", "top", "estimated"}};
  record.eggs = {{"batch-3 (meringue buttercream)", "pack-5 (pasteurised egg white, code W31), pasteurised egg", "",
                  "use by 9 May 2031, in date when it was used", "",
                  "opened 30 April 2031; keeps 3 days once opened, to 3 May 2031; 2 days left when it was used",
                  "bought in pasteurised, not heated here", "limit met as recorded: the egg was bought in pasteurised and in date"},
                 {"batch-1 (sponge)", "pack-8 (eggs, code E12), shell egg", "own hens",
                  "laid 24 April 2031, 7 days before it was used; no date recorded",
                  "1 May 2031, 08:10; kept in cake fridge, at 4.2 °C when it was used; used 50 min later", "", "baked through",
                  "baked through by a person's check in the oven; no temperature of its core is recorded"}};
  record.inedible = {{"dowels, wood", "6, bottom and middle"}, {"wire flower", "1, top"}};
  record.timeline = {
      {"1 May 2031, 11:15", "batch-3 (meringue buttercream): made"},
      {"1 May 2031, 11:15 to 11:50", "batch-3 (meringue buttercream): no place recorded"},
      {"1 May 2031, 11:50 to 18:30", "batch-3 (meringue buttercream): cake fridge; warmest 4.6 °C in the air, by fridge logger"},
      {"1 May 2031, 18:30", "cake-1: first tier built"},
      {"1 May 2031, 18:30 to 2 May 2031, 10:00", "cake-1: cake fridge; warmest 7.9 °C in the air, by fridge logger"}};
  record.charts = {a_chart_with_a_gap(), a_chart_of_the_night_the_clocks_went_back(), a_chart_of_a_heat_step()};
  record.paths = {{"almonds", "cake-1 → batch-4 almond shell → ground almonds, pack A7"},
                  {"milk", "cake-1 → batch-3 buttercream → butter, pack B2"}};
  record.sums = {{"almonds 4 %", "180 g of 4 500 g in the mixing bowl = 4.0 %, rounded by test rule 22"}};
  record.entries = {{"note 31", "batch-2 baked, 96.2 °C, typed then"}, {"note 44", "cake-1 put into the cake fridge, 1 May 2031, 11:50"}};
  record.sources = {{"test rule cold-1", "Invented Regulation 2030, clause 4"}, {"test rule 5(2)", "Invented Labelling Order, article 5"}};
  record.cautions = {"Local law and the advice of your authority prevail over this paper."};
  record.full_head = "53:5dc9a1e0b6c35b1f8f4be1b1c39b5b7de0f9a7c2d4e6f8091a2b3c4d5e6f7081";
  record.program = "tierproof test; rules test-pack sha256 0f1e2d3c";
  record.drawn = "2 May 2031, 10:00, as of note 53";
  return record;
}

CakeRecordContent a_held_record() {
  CakeRecordContent record = a_record();
  record.released = false;
  record.overrides.clear();
  record.outcome = "Do not hand over: sulphites are not known, and cooling is not recorded well enough.";
  record.allergens[22].word = "not known";
  record.allergens[22].why = "dried raspberries, pack R1: specification out of date";
  record.findings.push_back(finding("allergens-known", Verdict::not_shown, "sulphites",
                                    "Nobody can rule out sulphites in dried raspberries, pack R1.", "every allergen known", "", "",
                                    "test rule all-1", "Ask the supplier, or leave the raspberries out."));
  record.findings.back().stop = Stop::no_override;
  record.finding_words.push_back("Allergens known");
  record.handed_over.clear();
  record.after_hand_over.clear();
  return record;
}

AllergenSheetContent an_allergen_sheet() {
  AllergenSheetContent sheet;
  sheet.business = {"Test Data Cakes", "1 Invented Row, Nowhereton"};
  sheet.reference = "cake-1";
  sheet.name = "Three-tier almond sponge";
  sheet.event = "For 3 May 2031";
  for (const AllergenLine& line : a_record().allergens) sheet.lines.push_back({line, "all"});
  sheet.sold = "To order, boxed before it is handed over, from the place it was made.";
  sheet.drawn = "drawn 2 May 2031, 10:00 from 53 notes";
  sheet.together = "The tiers are cut and served together.";
  sheet.cautions = {"Local law prevails."};
  sheet.head = "53:5dc9a1e0";
  return sheet;
}

VenueCardContent a_venue_card(std::size_t tiers) {
  VenueCardContent card;
  card.business = {"Test Data Cakes", "1 Invented Row, Nowhereton"};
  card.reference = "cake-1";
  card.name = "Three-tier almond and raspberry cake";
  card.event = "For 3 May 2031";
  card.together = "Tiers are cut and served together: treat the whole cake as containing all of these:";
  card.all = {"wheat", "egg", "milk", "almonds", "sesame (not known: treat as contained)"};
  card.may_contain = {"hazelnuts"};
  for (std::size_t i = 0; i < tiers; ++i) card.tiers.push_back(i == 0 ? "bottom" : fmt::format("number {}", i));
  for (const char* name : {"wheat", "egg", "milk", "almonds", "sesame", "hazelnuts"}) {
    VenueAllergen line{name, std::vector<std::string>(tiers, "not an ingredient")};
    line.words.back() = std::string_view{name} == "sesame"      ? "not known"
                        : std::string_view{name} == "hazelnuts" ? "may contain"
                                                                : "contains";
    card.by_tier.push_back(std::move(line));
  }
  card.not_an_ingredient = {"celery", "crustaceans", "fish", "lupin", "molluscs", "mustard", "peanuts", "soya", "sulphites"};
  card.service = {{"Take out before cutting", "4 dowels (bottom tier) and 1 wire (top tier)"},
                  {"Keep", "Keep in the fridge, at 5 °C or below."},
                  {"Eat by", "use by 5 May 2031"},
                  {"Questions", "ask the maker: Test Data Cakes, 1 Invented Row, Nowhereton"}};
  card.cautions = {"This is no promise that the cake is without anything.", "Local law comes first."};
  card.head = "41:5dc9a1e0";
  card.drawn = "drawn 1 May 2031, 10:00 from 41 notes";
  return card;
}

HandOverNoteContent a_hand_over_note() {
  HandOverNoteContent note;
  note.outcome = "OK to leave: every control met as recorded.";
  note.released = true;
  note.business = {"Test Data Cakes", "1 Invented Row, Nowhereton"};
  note.reference = "cake-1";
  note.name = "Three-tier almond and raspberry cake";
  note.event = "For 3 May 2031";
  note.take_out = "Remove 4 dowels (bottom tier) and 1 wire (top tier) before cutting, and count them.";
  note.keep = {{"Keep", "Keep in the fridge, at 5 °C or below. Why: buttercream (batch-4) needs the fridge"},
               {"Eat by", "use by 5 May 2031. Why: buttercream (batch-4), made 1 May 2031, keeps 4 days"}};
  note.eggs = {"The records do not show that the egg in it was heated enough: batch-4 (buttercream)."};
  note.allergens = {{"Contains", "wheat, egg, milk, almonds"}, {"May contain", "hazelnuts"}};
  note.together = "The tiers are cut and served together: treat the whole cake as containing all of these.";
  note.told = {{"Asked", "20 April 2031"}, {"Answer", "none named"}, {"Words told", "It contains wheat, egg, milk and almonds."}};
  note.overrides = {{"Masses", "some were estimated", "the scale was out", "Ada, 2 May 2031"}};
  note.transport = {"Stand the box on a level floor.", "Cool the car first."};
  note.cautions = {"It is for the person who takes the cake."};
  note.head = "41:5dc9a1e0";
  note.drawn = "drawn 1 May 2031, 10:00 from 41 notes";
  return note;
}

CounterListContent a_counter_list(std::size_t cakes) {
  CounterListContent list;
  list.business = {"Test Data Cakes", "1 Invented Row, Nowhereton"};
  list.which = "Cakes that are not handed over yet";
  list.valid = "Valid for the cakes named here only.";
  CounterGroup group{"Test rules", {"wheat", "egg", "milk", "almonds", "sesame"}, {}};
  for (std::size_t i = 1; i <= cakes; ++i) {
    CounterCake cake{fmt::format("cake-{}", i), fmt::format("Invented cake number {}", i), "for 3 May 2031", false, i == 2, {}};
    cake.words = {"contains", "may contain", "not known", "not an ingredient", "exempt product of it"};
    group.cakes.push_back(std::move(cake));
  }
  list.groups = {std::move(group)};
  list.cautions = {"This is no promise that a cake is without anything."};
  list.head = "41:5dc9a1e0";
  list.drawn = "drawn 1 May 2031, 10:00 from 41 notes";
  return list;
}

SmallLabelContent a_tub() {
  SmallLabelContent content;
  content.name = "vanilla buttercream";
  content.contains = {"milk", "eggs", "soya"};
  content.not_known = {"sesame"};
  content.may_contain = {"hazelnuts"};
  content.dates = {{"Use by", "4 May 2031"}};
  content.lines = {{"Made", "1 May 2031"}};
  content.to_write = {"Opened on"};
  content.keep = "Keep in the fridge";
  content.reference = "batch-4";
  content.head = "41:5dc9a1e0";
  return content;
}

std::string words_of_text(std::string_view text) {
  std::string out;
  bool space = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const bool no_break = byte == 0xC2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) == 0xA0;
    if (no_break) ++i;
    if (no_break || byte <= 0x20) {
      space = true;
      continue;
    }
    if (space && !out.empty()) out += ' ';
    space = false;
    out += text[i];
  }
  return out;
}

std::string output_of(const std::string& command) {
  std::string out;
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) {
    ADD_FAILURE() << command << " cannot be run";
    return out;
  }
  char buffer[4096];
  for (std::size_t n = fread(buffer, 1, sizeof buffer, pipe); n > 0; n = fread(buffer, 1, sizeof buffer, pipe)) out.append(buffer, n);
  EXPECT_EQ(pclose(pipe), 0) << command;
  return out;
}

void write_whole(const std::string& path, const std::string& bytes) {
  std::ofstream file{path, std::ios::binary};
  file << bytes;
  EXPECT_TRUE(file.good()) << path;
}

const std::string& own_folder() {
  struct Folder {
    std::string path = (std::filesystem::temp_directory_path() / "tierproof-papers-XXXXXX").string();
    Folder() {
      EXPECT_NE(::mkdtemp(path.data()), nullptr);
      path += '/';
    }
    ~Folder() { std::filesystem::remove_all(path); }
  };
  static const Folder folder;
  return folder.path;
}

std::string kept(const std::string& name, const std::string& bytes) {
  const std::string path = own_folder() + name;
  write_whole(path, bytes);
  return path;
}

}  // namespace tierproof::testdata
