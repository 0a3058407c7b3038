#include <fmt/format.h>
#include <gtest/gtest.h>

#include <map>
#include <regex>

#include "label_checks.h"
#include "sample.h"
#include "stock_files.h"

namespace tierproof {
namespace {

using testdata::fonts;

/// One place's least heights for one size of box, in millimetres, as published; what is sized by them is drawn and measured again.
struct PublishedHeights {
  std::string place;
  std::vector<LeastHeight> rows;        ///< as the program gets them: micrometres, rounded up
  std::map<std::string, double> exact;  ///< of each kind of words, mm
  std::string net;
  std::string source;
};

LeastHeight row(const char* what, const char* measured, std::int64_t micrometres) { return {what, measured, micrometres, "published"}; }

const std::vector<PublishedHeights>& published() {
  static const std::vector<PublishedHeights> all{
      {"EU and Great Britain, largest face of 80 cm2 exactly",
       {row("text", "x-height", 1200)},
       {{"text", 1.2}},
       "1.28 kg",
       "Regulation (EU) No 1169/2011 art. 13(2)"},
      {"EU and Great Britain, below 80 cm2",
       {row("text", "x-height", 900)},
       {{"text", 0.9}},
       "90 g",
       "Regulation (EU) No 1169/2011 art. 13(3)"},
      {"United States, 96 square inches",
       {row("text", "x-height", 1588), row("net quantity", "letter height", 4763), row("contains statement", "x-height", 1588)},
       {{"text", 25.4 / 16}, {"net quantity", 25.4 * 3 / 16}},
       "NET WT 24 OZ (1 LB 8 OZ) 680 g",
       "21 CFR 101.2(c), 101.7(i)"},
      {"United States, 100.5 square inches",
       {row("text", "x-height", 1588), row("net quantity", "letter height", 6350)},
       {{"text", 25.4 / 16}, {"net quantity", 25.4 / 4}},
       "NET WT 24 OZ (1 LB 8 OZ) 680 g",
       "21 CFR 101.2(c), 101.7(i)"},
      {"Texas, home kitchen",
       {row("text", "x-height", 1588), {"storage chilled", "letter height", 4234, "published", "Storewarm storeword."}},
       {{"text", 25.4 / 16}, {"storage", 12 * 25.4 / 72}},
       "680 g",
       "Health and Safety Code 437.0193: 12-point type, taken as the height of its letters"},
      {"Canada, display of 600 cm2",
       {row("text", "x-height", 1600), row("ingredient list", "x-height", 1100), row("net quantity", "letter height", 6400)},
       {{"text", 1.6}, {"net quantity", 6.4}},
       "1.28 kg",
       "FDR A.01.016, B.01.008.2(2); CPLR s. 14(2)"},
      {"Australia and New Zealand",
       {row("text", "x-height", 1200), row("net quantity", "figure height", 4800), row("warning statement", "letter height", 3000)},
       {{"text", 1.2}, {"net quantity", 4.8}, {"warning", 3.0}},
       "1.28 kg",
       "Std 1.2.1-25; National Trade Measurement Regulations 2009"},
  };
  return all;
}

/// Every field in words of its own, so that each word on the paper shows which field it is of.
LabelContent tagged(const PublishedHeights& heights) {
  LabelContent label;
  label.name = "Nameone nametwo";
  label.heading = {{"Listed:", false}};
  label.ingredients = {{{"listsugar", false}}, {{"LISTWHEAT", true}, {" listflour", false}}, {{"listbutter ", false}, {"LISTMILK", true}}};
  label.summary = {{"Holdsthese: ", false}, {"HOLDSWHEAT", true}};
  label.statements = {"Warnfirst warnsecond."};
  label.may_contain = {"Maybenuts."};
  label.storage = "Storewarm storeword.";
  label.date = "Usethis 4 May 2031";
  label.quantity = "1 cake, 1 tier, " + heights.net;
  label.net_quantity = heights.net;
  label.lot = "Lotted L1";
  label.business = {"Bakingplace", "Streetname"};
  label.reference = "Refcake";
  label.cautions = {"Caution carefully."};
  label.head = "41:5dc9a1e0";
  label.heights = heights.rows;
  return label;
}

std::string field_of(const std::string& word, const std::string& net) {
  static const std::vector<std::pair<const char*, std::regex>> tags{{"list", std::regex{"list|LIST|Listed"}},
                                                                    {"contains", std::regex{"Holds|HOLDS"}},
                                                                    {"warning", std::regex{"[Ww]arn"}},
                                                                    {"storage", std::regex{"[Ss]tore"}}};
  for (const auto& [field, tag] : tags) {
    if (std::regex_search(word, tag)) return field;
  }
  return net.find(word) != std::string::npos && word.size() > 1 ? "net quantity" : "text";
}

/// Millimetres from the baseline to the top of a glyph of `units`, as the size says: exact, not rounded.
double drawn(const PlacedText& text, int units) {
  return static_cast<double>(units) / fonts().of(text.face).em * text.size.to_points() * 25.4 / 72;
}

class LabelHeights : public testing::TestWithParam<PublishedHeights> {};

TEST_P(LabelHeights, AreKeptByEveryWordOnEveryStockThatHoldsThem) {
  const PublishedHeights& heights = GetParam();
  const LabelContent label = tagged(heights);
  int labels = 0;
  for (const Stock& stock : testdata::stocks_as_shipped()) {
    const auto pages = lay_out_label(label, stock, fonts());
    if (!pages) continue;
    ++labels;
    std::map<std::string, int> seen;
    for (const PlacedText& text : pages->pages.front().marks.texts) {
      const FaceMeasures& face = fonts().of(text.face);
      // The x is the lowest that any rule measures by: what passes by it passes by capitals and figures.
      EXPECT_GE(drawn(text, face.x_height), heights.exact.at("text")) << stock.id << ": " << text.text << "; " << heights.source;
      std::string word = testdata::words_of_text(text.text);
      const std::string field = field_of(word.substr(0, word.find_last_not_of(",. ") + 1), heights.net);
      ++seen[field];
      const auto asked = heights.exact.find(field);
      if (asked == heights.exact.end()) continue;
      const bool by_figure = field == "net quantity" && heights.place.starts_with("Australia");
      EXPECT_GE(drawn(text, by_figure ? face.figure_height : face.x_height), asked->second)
          << stock.id << ", " << field << ": " << text.text << "; " << heights.source;
    }
    for (const char* field : {"list", "contains", "warning", "storage", "net quantity", "text"})
      EXPECT_GT(seen[field], 0) << stock.id << field;
  }
  EXPECT_GE(labels, 5) << heights.place;
}

// The least that the law asks for is what the label takes where it has no room for more, and not a step less.
TEST_P(LabelHeights, AreTheLeastThatAreTakenAndNoMoreIsNeeded) {
  const PublishedHeights& heights = GetParam();
  const LabelContent label = tagged(heights);
  Stock stock{"roll", "roll", 620, 20000, 30, 203, true};
  const auto pages = lay_out_label(label, stock, fonts());
  ASSERT_TRUE(pages) << describe(pages.error().front());
  Stock tight{"tight", "tight", 620, 100, 30, 203, false};
  while (!lay_out_label(label, tight, fonts())) {
    tight.height += 10;
    ASSERT_LT(tight.height, 3000);
  }
  double least = 1000;
  const auto squeezed = lay_out_label(label, tight, fonts());
  for (const PlacedText& text : squeezed->pages.front().marks.texts) least = std::min(least, drawn(text, fonts().of(text.face).x_height));
  EXPECT_GE(least, heights.exact.at("text"));
  EXPECT_LT(least, heights.exact.at("text") * 1.01) << heights.place;
}

INSTANTIATE_TEST_SUITE_P(Published, LabelHeights, testing::ValuesIn(published()),
                         [](const auto& row_of) { return std::regex_replace(row_of.param.place, std::regex{"[^A-Za-z0-9]+"}, ""); });

TEST(LabelSizes, OfLettersAreTakenByTheSmallOUnlessAllAreCapitals) {
  const auto size_of = [](const std::string& net) {
    LabelContent label = testdata::a_short_label();
    label.quantity = label.net_quantity = net;
    label.heights.push_back({"net quantity", "letter height", 6350, "published"});
    const auto pages = lay_out_label(label, testdata::a_sheet_label(), fonts());
    if (!pages) throw std::runtime_error{describe(pages.error().front())};
    for (const PlacedText& text : pages->pages.front().marks.texts) {
      if (text.text.starts_with("NET")) return text;
    }
    throw std::runtime_error{"no net quantity"};
  };
  const PlacedText mixed = size_of("NET WT 24 OZ 680 g");
  EXPECT_GE(drawn(mixed, fonts().of(mixed.face).x_height), 6.35);
  const PlacedText capitals = size_of("NET WT 24 OZ");
  EXPECT_GE(drawn(capitals, fonts().of(capitals.face).capital_height), 6.35);
  EXPECT_LT(drawn(capitals, fonts().of(capitals.face).x_height), 6.35);
}

TEST(LabelSizes, OfARowOfOneSentenceHoldForThatSentenceOnly) {
  LabelContent label = testdata::a_short_label();
  label.statements = {"MADE IN A HOME KITCHEN", "With sweeteners."};
  label.heights.push_back({"home kitchen", "letter height", 4234, "published", "MADE IN A HOME KITCHEN"});
  const auto pages = lay_out_label(label, testdata::a_sheet_label(), fonts());
  ASSERT_TRUE(pages);
  PointSize home;
  PointSize sweet;
  for (const PlacedText& text : pages->pages.front().marks.texts) {
    if (text.text.starts_with("MADE IN")) home = text.size;
    if (text.text.starts_with("With sweeteners")) sweet = text.size;
  }
  EXPECT_GE(fonts().capital_height(Face::condensed, home), 4234);
  EXPECT_GT(home, sweet);
  EXPECT_GT(sweet, PointSize{});
}

// The line of allergens is never smaller than the list that it stands beside (FD&C Act 403(w)(1)(A); Standard 1.2.3).
TEST(LabelSizes, OfTheListHoldForTheLineOfAllergensToo) {
  for (const auto& [what, list_follows] : {std::pair{"ingredient list", true}, {"contains statement", false}}) {
    LabelContent label = testdata::a_short_label();
    label.summary = {{"Contains: ", true}, {"Wheat, Milk", true}};
    label.heights.push_back({what, "x-height", 2500, "published"});
    const auto pages = lay_out_label(label, testdata::a_sheet_label(), fonts());
    ASSERT_TRUE(pages);
    PointSize list;
    PointSize line;
    for (const PlacedText& text : pages->pages.front().marks.texts) {
      if (text.text.starts_with("Ingredients:")) list = text.size;
      if (text.text.starts_with("Contains:")) line = text.size;
    }
    EXPECT_GE(fonts().x_height(Face::condensed_bold, line), 2500) << what;
    EXPECT_GE(line, list) << what;
    EXPECT_EQ(fonts().x_height(Face::condensed, list) >= 2500, list_follows) << what;
  }
}

TEST(LabelSizes, OfARefusalNameEveryHeightThatIsMoreThanTheTexts) {
  LabelContent label = testdata::a_label();
  label.quantity = label.net_quantity = "1.28 kg";
  label.heights.push_back({"ingredient list", "x-height", 1100, "test rule 2"});
  label.heights.push_back({"net quantity", "figure height", 4800, "test rule 3"});
  const Stock small{"die-50x30", "die-cut label 50 × 30 mm", 500, 300, 20, 203, false};
  const auto pages = lay_out_label(label, small, fonts());
  ASSERT_FALSE(pages);
  const std::string& message = pages.error().front().message;
  EXPECT_NE(message.find("1.20 mm for an x (test rule 1), of the net quantity 4.80 mm for a figure (test rule 3)"), std::string::npos)
      << message;
  EXPECT_EQ(message.find("test rule 2"), std::string::npos) << message;
}

}  // namespace
}  // namespace tierproof
