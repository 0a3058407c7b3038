#include "tierproof/papers/label.h"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <regex>
#include <set>

#include "papers/label_setting.h"
#include "sample.h"
#include "tierproof/papers/pdf.h"

namespace tierproof {
namespace {

using testdata::a_die_cut_label;
using testdata::a_label;
using testdata::a_roll;
using testdata::a_sheet_label;
using testdata::a_short_label;
using testdata::fonts;
using testdata::words_of_text;

std::vector<Stock> stocks() { return {a_sheet_label(), a_die_cut_label(), a_roll()}; }

Page laid_out(const LabelContent& content, const Stock& stock) {
  const auto pages = lay_out_label(content, stock, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {};
  }
  EXPECT_EQ(pages->pages.size(), 1U);
  return pages->pages.front();
}

Micrometres smallest_x(const Page& page) {
  Micrometres least = 1000000;
  for (const PlacedText& text : page.marks.texts) least = std::min(least, fonts().x_height(text.face, text.size));
  return least;
}

// Regulation (EU) No 1169/2011 art. 13(2): x-height at least 1.2 mm; 13(3): 0.9 mm.
TEST(Label, SetsNothingBelowTheLegalXHeight) {
  for (const Stock& stock : stocks()) {
    for (const Micrometres minimum : {900, 1200, 1588}) {
      for (LabelContent content : {a_label(), a_short_label()}) {
        content.heights = {{"text", "x-height", minimum, "test rule 1"}};
        const auto pages = lay_out_label(content, stock, fonts());
        if (pages) {
          EXPECT_GE(smallest_x(pages->pages[0]), minimum) << stock.id;
        }
      }
    }
  }
}

TEST(Label, IsSetLargerWhereThereIsRoom) {
  const Page small = laid_out(a_short_label(), a_die_cut_label());
  const Page large = laid_out(a_label(), a_sheet_label());
  EXPECT_GT(smallest_x(small), 1300);
  EXPECT_GT(smallest_x(large), 1300);
}

/// The height that a label of one column takes with its x so high.
Micrometres height_in(const LabelContent& content, const Stock& stock, Micrometres x_height) {
  papers::TypeCase type{fonts()};
  return height_needed(papers::document_of_label(content, stock, {x_height, false, 1}, {}, type), fonts()).value();
}

TEST(Label, IsSetInTheLargestLettersThatFit) {
  const LabelContent content = a_short_label();
  std::set<Micrometres> sizes;
  for (int height = 500; height <= 1500; height += 10) {
    Stock stock = a_die_cut_label();  // narrow: one column
    stock.height = height;
    const auto pages = lay_out_label(content, stock, fonts());
    if (!pages) continue;
    const auto& texts = pages->pages.front().marks.texts;
    const auto storage =
        std::find_if(texts.begin(), texts.end(), [](const auto& text) { return text.text.starts_with("Keep in the fridge"); });
    ASSERT_NE(storage, texts.end());
    Micrometres x = 1200;
    while (fonts().size_for_x_height(Face::condensed, x) < storage->size) x += 50;
    ASSERT_EQ(fonts().size_for_x_height(Face::condensed, x), storage->size) << height;
    sizes.insert(x);
    if (x > 1200) {
      EXPECT_LE(height_in(content, stock, x), height * 100) << height;
    }
    if (x < 2000) {
      EXPECT_GT(height_in(content, stock, x + 50), height * 100) << height;
    }
  }
  EXPECT_GT(sizes.size(), 8U);
  EXPECT_TRUE(sizes.contains(1200) && sizes.contains(2000));
}

TEST(Label, PutsNothingOutsideTheMargins) {
  for (const Stock& stock : stocks()) {
    const Page page = laid_out(a_label(), stock);
    const Micrometres margin = stock.margin * 100;
    for (const PlacedText& text : page.marks.texts) {
      EXPECT_GE(text.x, margin) << text.text;
      EXPECT_LE(text.x + text.width, page.width - margin) << text.text;
      EXPECT_GE(text.baseline - fonts().capital_height(text.face, text.size), margin) << text.text;
      EXPECT_LE(text.baseline + text.size.to_micrometres() / 4, page.height - margin) << text.text;
    }
    for (const Stroke& stroke : page.marks.strokes) {
      for (const Point& point : stroke.points) {
        EXPECT_GE(point.x, margin);
        EXPECT_LE(point.x, page.width - margin);
        EXPECT_GE(point.y, margin);
        EXPECT_LE(point.y, page.height - margin);
      }
    }
  }
}

TEST(Label, SetsNoTwoTextsOverEachOther) {
  LabelContent content = a_label();
  content.demo = true;
  for (const Stock& stock : stocks()) {
    const auto pages = lay_out_label(content, stock, fonts());
    if (!pages) continue;
    const auto& texts = pages->pages[0].marks.texts;
    for (std::size_t i = 0; i < texts.size(); ++i) {
      for (std::size_t j = i + 1; j < texts.size(); ++j) {
        const PlacedText& a = texts[i];
        const PlacedText& b = texts[j];
        const bool apart_across = a.x + a.width <= b.x + 1 || b.x + b.width <= a.x + 1;
        const auto top = [](const PlacedText& text) { return text.baseline - fonts().capital_height(text.face, text.size); };
        const auto foot = [](const PlacedText& text) {
          return text.baseline + text.size.to_micrometres() * 236 / 1000;
        };  // descender of DejaVu Sans 2.37, hhea -483/2048
        const bool apart_down = foot(a) <= top(b) || foot(b) <= top(a);
        EXPECT_TRUE(apart_across || apart_down) << stock.id << ": " << a.text << " | " << b.text;
      }
    }
  }
}

TEST(Label, SetsEmphasisedWordsBoldAndNothingElseOfTheList) {
  const LabelContent content = a_label();
  std::multiset<std::string> wanted;
  for (const auto& entry : content.ingredients) {
    for (const auto& run : entry) {
      if (run.emphasised) wanted.insert(run.text);
    }
  }
  ASSERT_EQ(wanted.size(), 8U);
  for (const Stock& stock : stocks()) {
    const Page page = laid_out(content, stock);
    // The list: everything from `Ingredients:` down to the line above `May contain`.
    Micrometres first = 0;
    Micrometres last = 0;
    for (const PlacedText& text : page.marks.texts) {
      if (text.text.starts_with("Ingredients:")) first = text.baseline;
      if (text.text.starts_with("May contain")) last = text.baseline;
    }
    ASSERT_LT(first, last);
    std::multiset<std::string> bold;
    for (const PlacedText& text : page.marks.texts) {
      if (text.baseline >= first && text.baseline < last && is_bold(text.face)) bold.insert(text.text);
    }
    EXPECT_EQ(bold, wanted) << stock.id;
  }
}

TEST(Label, SetsAllergenNamesNoSmallerThanTheRestOfTheList) {
  const Page page = laid_out(a_label(), a_die_cut_label());
  PointSize bold;
  PointSize plain;
  for (const PlacedText& text : page.marks.texts) {
    if (text.text == "MILK") bold = text.size;
    if (text.text.starts_with("Ingredients:")) plain = text.size;
  }
  EXPECT_EQ(bold, plain);
}

TEST(Label, SaysItsWordsInOrder) {
  LabelContent content = a_label();
  content.allergen_line = {{"Contains: ", false}, {"WHEAT", true}, {", ", false}, {"EGG", true}};
  content.statements = {"With sweeteners."};
  const std::string wanted =
      "Three-tier almond sponge with raspberry filling and elderflower buttercream "
      "Ingredients: sugar, butter (MILK), WHEAT flour (WHEAT flour, calcium carbonate, iron, niacin, thiamin), pasteurised EGG white, EGG, "
      "raspberry purée 6 % (raspberries, sugar), ground ALMONDS 4 %, glucose syrup, white chocolate (sugar, cocoa butter, whole MILK "
      "powder, "
      "emulsifier: lecithins (SOYA), vanilla flavouring), elderflower cordial (sugar, water, acid: citric acid, preservative: E202), "
      "raising agents: diphosphates, sodium carbonates, salt, colours: E162, E170. Contains: WHEAT, EGG With sweeteners. "
      "May contain hazelnuts and pistachios. Keep in the fridge at 5 °C or colder. Take out 2 hours before serving and eat the same day. "
      "Use by 4 May 2031 1 cake, 3 tiers Remove before eating: 6 dowels (bottom, middle), 3 boards, 1 wire flower (top). Box 1 of 2 "
      "Test Data Cakes 1 Invented Row, Nowhereton ZZ99 9ZZ cake-1 · 41:5dc9a1e0 Local law prevails over what this label says.";
  EXPECT_EQ(words_of_text(text_of(laid_out(content, a_sheet_label()))), wanted);
}

TEST(Label, SaysDemoOnceAndClearOfTheText) {
  LabelContent content = a_label();
  EXPECT_EQ(text_of(laid_out(content, a_sheet_label())).find("DEMO"), std::string::npos);
  content.demo = true;
  EXPECT_TRUE(text_of(laid_out(content, a_sheet_label())).starts_with("DEMO – not for sale\n"));
}

TEST(Label, HasTheSizeOfItsStock) {
  const Page page = laid_out(a_label(), a_sheet_label());
  EXPECT_EQ(page.width, 99100);
  EXPECT_EQ(page.height, 139000);
}

TEST(Label, IsCutToLengthOnARoll) {
  const Page longer = laid_out(a_label(), a_roll());
  const Page shorter = laid_out(a_short_label(), a_roll());
  EXPECT_EQ(longer.width, 62000);
  EXPECT_LT(shorter.height, longer.height);
  EXPECT_LE(longer.height, 300000);
  Micrometres lowest = 0;
  for (const PlacedText& text : shorter.marks.texts) lowest = std::max(lowest, text.baseline);
  EXPECT_LT(shorter.height - lowest, 3000 + 3000);  // the margin, and less than a line
}

TEST(Label, IsRefusedWhereItDoesNotFitAndNamesWhatWould) {
  const Stock small{"die-50x30", "die-cut label 50 × 30 mm", 500, 300, 20, 203, false};
  const std::vector<Stock> others{small, a_sheet_label(), a_die_cut_label()};
  const auto pages = lay_out_label(a_label(), small, fonts(), others);
  ASSERT_FALSE(pages);
  ASSERT_EQ(pages.error().size(), 1U);
  const Refusal& refusal = pages.error().front();
  EXPECT_EQ(refusal.field, "stock");
  EXPECT_NE(refusal.message.find("1.20 mm for an x (test rule 1)"), std::string::npos) << refusal.message;
  EXPECT_NE(refusal.remedy.find("die-62x100"), std::string::npos) << refusal.remedy;
  EXPECT_EQ(refusal.remedy.find("sheet-99x139"), std::string::npos) << refusal.remedy;

  // The height it names is enough, and a millimetre less is not.
  std::smatch height;
  ASSERT_TRUE(std::regex_search(refusal.message, height, std::regex{"needs ([0-9.]+) mm of height and has 30.0 mm"})) << refusal.message;
  Stock enough = small;
  enough.height = static_cast<int>(std::stod(height[1]) * 10 + 0.5);
  EXPECT_TRUE(lay_out_label(a_label(), enough, fonts()).has_value());
  enough.height -= 10;
  EXPECT_FALSE(lay_out_label(a_label(), enough, fonts()).has_value());
}

TEST(Label, IsRefusedWithoutAStockThatFits) {
  const Stock small{"die-50x30", "die-cut label 50 × 30 mm", 500, 300, 20, 203, false};
  const std::vector<Stock> others{small};
  const auto pages = lay_out_label(a_label(), small, fonts(), others);
  ASSERT_FALSE(pages);
  EXPECT_NE(pages.error().front().remedy.find("none of the stocks at hand"), std::string::npos) << pages.error().front().remedy;
}

TEST(Label, IsRefusedWhereAWordIsWiderThanTheStock) {
  const Stock narrow{"die-25x54", "die-cut label 25 × 54 mm", 250, 5400, 20, 203, false};
  LabelContent content = a_label();
  content.ingredients = {{{"Donaudampfschifffahrtsgesellschaftszucker", false}}};
  const auto pages = lay_out_label(content, narrow, fonts());
  ASSERT_FALSE(pages);
  EXPECT_NE(pages.error().front().message.find("too narrow"), std::string::npos) << pages.error().front().message;
}

TEST(Label, IsRefusedWhereACharacterHasNoGlyph) {
  LabelContent content = a_label();
  content.name = "Cake 🎂";
  content.storage = "冷蔵";
  const auto pages = lay_out_label(content, a_sheet_label(), fonts());
  ASSERT_FALSE(pages);
  ASSERT_EQ(pages.error().size(), 3U);
  EXPECT_EQ(pages.error()[0].field, "name");
  EXPECT_NE(pages.error()[0].message.find("U+1F382"), std::string::npos);
  EXPECT_EQ(pages.error()[1].field, "storage");
}

RC_GTEST_PROP(LabelProperty, IsNeverClippedNorTooSmall, ()) {
  LabelContent content = a_label();
  const auto entries = *rc::gen::inRange<std::size_t>(1, 40);
  const auto all = content.ingredients;
  content.ingredients.clear();
  for (std::size_t i = 0; i < entries; ++i) content.ingredients.push_back(all[i % all.size()]);
  const Micrometres least = *rc::gen::inRange(900, 1600);
  content.heights = {{"text", "x-height", least, "test rule 1"}};
  Stock stock = a_die_cut_label();
  stock.width = *rc::gen::inRange(400, 1100);
  stock.height = *rc::gen::inRange(400, 2000);
  stock.roll = *rc::gen::arbitrary<bool>();
  const auto pages = lay_out_label(content, stock, fonts());
  if (!pages) {
    RC_ASSERT(pages.error().front().field == "stock");
    return;
  }
  const Page& page = pages->pages.front();
  RC_ASSERT(pages->pages.size() == 1U);
  RC_ASSERT(smallest_x(page) >= least);
  for (const PlacedText& text : page.marks.texts) {
    RC_ASSERT(text.x + text.width <= page.width - 3000);
    RC_ASSERT(text.baseline + text.size.to_micrometres() / 4 <= page.height - 3000);
  }
  std::size_t milk = 0;
  for (const PlacedText& text : page.marks.texts) milk += text.text == "MILK" ? 1U : 0U;
  std::size_t wanted = 0;
  for (const auto& entry : content.ingredients) {
    wanted += static_cast<std::size_t>(std::count_if(entry.begin(), entry.end(), [](const auto& run) { return run.text == "MILK"; }));
  }
  RC_ASSERT(milk == wanted);
}

// --- the PDF of a label, read back by poppler and qpdf ---

std::string pdf_of(const LabelContent& content, const Stock& stock) {
  const auto pages = lay_out_label(content, stock, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {};
  }
  return write_pdf(*pages, fonts(), {"Label cake-1", Instant{}});
}

TEST(LabelPdf, SaysWhatWasMeant) {
  for (const Stock& stock : stocks()) {
    const Page page = laid_out(a_label(), stock);
    const std::string path = testdata::kept("label-" + stock.id + ".pdf", pdf_of(a_label(), stock));
    EXPECT_EQ(words_of_text(testdata::output_of("pdftotext -layout " + path + " - 2>&1")), words_of_text(text_of(page))) << stock.id;
  }
}

TEST(LabelPdf, HasTheSizeOfItsStock) {
  const std::string path = testdata::kept("size.pdf", pdf_of(a_label(), a_die_cut_label()));
  const std::string info = testdata::output_of("pdfinfo " + path);
  std::smatch size;
  ASSERT_TRUE(std::regex_search(info, size, std::regex{"Page size: +([0-9.]+) x ([0-9.]+) pts"})) << info;
  EXPECT_NEAR(std::stod(size[1]) * 25.4 / 72, 62.0, 0.1);
  EXPECT_NEAR(std::stod(size[2]) * 25.4 / 72, 100.0, 0.1);
}

TEST(LabelPdf, StatesTypeSizesNoSmallerThanTheLaw) {
  LabelContent content = a_label();
  const std::string path = testdata::kept("type.pdf", pdf_of(content, a_die_cut_label()));
  const std::string source = testdata::output_of("qpdf --qdf --object-streams=disable " + path + " -");
  const std::regex size{"/F[0-9]+ ([0-9.]+) Tf"};
  int count = 0;
  for (auto it = std::sregex_iterator(source.begin(), source.end(), size); it != std::sregex_iterator(); ++it, ++count) {
    // 1120/2048 em is the height of x; 1 pt = 25.4/72 mm.
    EXPECT_GE(std::stod((*it)[1]) * 25.4 / 72 * 1120 / 2048, 1.2) << (*it)[0];
  }
  EXPECT_GT(count, 10);
}

TEST(LabelPdf, ReachesNoEdge) {
  const std::string path = testdata::kept("bbox.pdf", pdf_of(a_label(), a_die_cut_label()));
  const std::string boxes = testdata::output_of("pdftotext -bbox " + path + " -");
  const std::regex word{"<word xMin=\"([0-9.-]+)\" yMin=\"([0-9.-]+)\" xMax=\"([0-9.-]+)\" yMax=\"([0-9.-]+)\">"};
  int count = 0;
  for (auto it = std::sregex_iterator(boxes.begin(), boxes.end(), word); it != std::sregex_iterator(); ++it, ++count) {
    EXPECT_GE(std::stod((*it)[1]) * 25.4 / 72, 2.99);
    EXPECT_LE(std::stod((*it)[3]) * 25.4 / 72, 62.0 - 2.99);
    EXPECT_LE(std::stod((*it)[4]) * 25.4 / 72, 100.0 - 2.99);
  }
  EXPECT_GT(count, 50);
}

}  // namespace
}  // namespace tierproof
