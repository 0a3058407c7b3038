#include "tierproof/papers/small_labels.h"

#include <fmt/format.h>

#include <cctype>

#include "stock_files.h"

namespace tierproof {
namespace {

using testdata::a_tub;
using testdata::fonts;
using testdata::stock_as_shipped;
using testdata::stocks_as_shipped;

Page set(const SmallLabelContent& content, const Stock& stock) {
  const auto pages = lay_out_small_label(content, stock, fonts());
  if (!pages) {
    ADD_FAILURE() << stock.id << ": " << describe(pages.error().front());
    return {};
  }
  EXPECT_EQ(pages->pages.size(), 1U);
  return pages->pages.front();
}

/// The stocks that hold the tub.
std::vector<Stock> stocks_for_tubs() {
  std::vector<Stock> stocks = stocks_as_shipped();
  std::erase_if(stocks, [](const Stock& stock) { return stock.id == "sheet-67x25"; });
  return stocks;
}

Micrometres least_x_of(const Page& page) {
  Micrometres least = 1'000'000;
  for (const PlacedText& text : page.marks.texts) least = std::min(least, fonts().x_height(text.face, text.size));
  return least;
}

TEST(SmallLabel, SaysAllOfItInOrder) {
  EXPECT_EQ(testdata::words_of_text(text_of(set(a_tub(), stock_as_shipped("die-62x100")))),
            "vanilla buttercream Contains: MILK, EGGS, SOYA Not known: SESAME May contain: HAZELNUTS Use by 4 May 2031 Made 1 May 2031 "
            "Keep in the fridge Opened on batch-4");
}

TEST(SmallLabel, SaysAllOfItOnEveryStock) {
  for (const Stock& stock : stocks_for_tubs()) {
    const std::string words = testdata::words_of_text(text_of(set(a_tub(), stock)));
    for (const char* what : {"vanilla", "MILK", "EGGS", "SOYA", "Not known: SESAME", "HAZELNUTS", "4 May 2031", "Made", "1 May 2031",
                             "Opened on", "Keep", "batch-4"}) {
      EXPECT_NE(words.find(what), std::string::npos) << stock.id << ": " << what << " in " << words;
    }
  }
}

TEST(SmallLabel, SetsAllergensInBoldCapitalsAndNoOtherWordsOfTheirLine) {
  for (const Stock& stock : stocks_for_tubs()) {
    std::string bold;
    for (const PlacedText& text : set(a_tub(), stock).marks.texts) {
      if (is_bold(text.face)) bold += text.text + " ";
      for (const char* word : {"Contains", "Not known", "May contain"}) {
        if (text.text.find(word) != std::string::npos) {
          EXPECT_FALSE(is_bold(text.face)) << stock.id << ": " << text.text;
        }
      }
    }
    for (const char* word : {"MILK", "EGGS", "SOYA", "SESAME", "HAZELNUTS", "4 May 2031"}) {
      EXPECT_NE(testdata::words_of_text(bold).find(word), std::string::npos) << stock.id << ": " << word << " in " << bold;
    }
  }
  SmallLabelContent accented = a_tub();
  accented.contains = {"œufs à côte"};
  EXPECT_NE(testdata::words_of_text(text_of(set(accented, stock_as_shipped("die-62x100")))).find("ŒUFS À CÔTE"), std::string::npos);
}

TEST(SmallLabel, SetsNothingBelowTwelveTenthsOfAMillimetreAndLargerWhereThereIsRoom) {
  for (const Stock& stock : stocks_for_tubs()) EXPECT_GE(least_x_of(set(a_tub(), stock)), 1200) << stock.id;
  EXPECT_GE(least_x_of(set(a_tub(), stock_as_shipped("die-57x32"))), 1200);
  EXPECT_GE(least_x_of(set(a_tub(), stock_as_shipped("die-62x100"))), 2500);
  EXPECT_GE(least_x_of(set(a_tub(), stock_as_shipped("sheet-a5"))), 3000);
}

TEST(SmallLabel, KeepsWithinItsMarginsAndSetsNoTextOverAnother) {
  for (const Stock& stock : stocks_for_tubs()) {
    for (const bool demo : {false, true}) {
      SmallLabelContent content = a_tub();
      content.demo = demo;
      const auto pages = lay_out_small_label(content, stock, fonts());
      if (!pages) continue;
      const Page& page = pages->pages.front();
      const Micrometres margin = stock.margin * 100;
      const auto& texts = page.marks.texts;
      const auto top = [](const PlacedText& text) { return text.baseline - fonts().capital_height(text.face, text.size); };
      const auto foot = [](const PlacedText& text) { return text.baseline + text.size.to_micrometres() * 236 / 1000; };
      for (std::size_t i = 0; i < texts.size(); ++i) {
        EXPECT_GE(texts[i].x, margin) << stock.id;
        EXPECT_LE(texts[i].x + texts[i].width, page.width - margin) << stock.id << ": " << texts[i].text;
        EXPECT_GE(top(texts[i]), margin) << stock.id << ": " << texts[i].text;
        EXPECT_LE(foot(texts[i]), page.height - margin + 1) << stock.id << ": " << texts[i].text;
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
          const bool beside = texts[i].x + texts[i].width <= texts[j].x + 1 || texts[j].x + texts[j].width <= texts[i].x + 1;
          const bool below = foot(texts[i]) <= top(texts[j]) || foot(texts[j]) <= top(texts[i]);
          EXPECT_TRUE(beside || below) << stock.id << ": " << texts[i].text << " | " << texts[j].text;
        }
      }
    }
  }
}

TEST(SmallLabel, LeavesRoomForAPen) {
  for (const Stock& stock : stocks_for_tubs()) {
    const Page page = set(a_tub(), stock);
    const PlacedText* opened = nullptr;
    for (const PlacedText& text : page.marks.texts) {
      if (text.text == "Opened on") opened = &text;
    }
    ASSERT_NE(opened, nullptr) << stock.id;
    Micrometres line = 1'000'000;
    Micrometres above = 0;  // the lowest thing above the words
    for (const Stroke& stroke : page.marks.strokes) {
      if (stroke.points[0].y >= opened->baseline) line = std::min(line, stroke.points[0].y);
    }
    for (const PlacedText& text : page.marks.texts) {
      if (text.baseline < opened->baseline) above = std::max(above, text.baseline + text.size.to_micrometres() * 236 / 1000);
    }
    EXPECT_GE(line - above, 5500) << stock.id;
    EXPECT_GE(page.width - stock.margin * 100 - opened->x - opened->width, 9000) << stock.id << ": a date has to go there";
  }
}

TEST(SmallLabel, SaysDemoAndAStopBeforeEverything) {
  SmallLabelContent content = a_tub();
  content.demo = true;
  content.stop = "DO NOT USE: pack-3 (butter, code B71) is withdrawn.";
  const Page page = set(content, stock_as_shipped("die-62x100"));
  EXPECT_TRUE(testdata::words_of_text(text_of(page)).starts_with("DEMO DO NOT USE: pack-3 (butter, code B71) is withdrawn. vanilla"))
      << text_of(page);
  for (const PlacedText& text : page.marks.texts) {
    if (text.text.find("withdrawn") != std::string::npos) {
      EXPECT_TRUE(is_bold(text.face));
    }
  }
}

TEST(SmallLabel, HasNoThinLines) {
  for (const Stock& stock : stocks_for_tubs()) {
    for (const Stroke& stroke : set(a_tub(), stock).marks.strokes) {
      EXPECT_GE(stroke.width * stock.dots_per_inch, 25400 * 3 / 2) << stock.id;  // two dots of its printer, less what rounding takes
      EXPECT_EQ(stroke.ink, 0);
    }
  }
}

TEST(SmallLabel, IsAsLargeAsItsStockAndCutToLengthOnARoll) {
  const Page die = set(a_tub(), stock_as_shipped("die-57x32"));
  EXPECT_EQ(die.width, 57000);
  EXPECT_EQ(die.height, 32000);
  const Page roll = set(a_tub(), stock_as_shipped("roll-62"));
  EXPECT_EQ(roll.width, 62000);
  EXPECT_LE(roll.height, 93000);  // half as long again as it is wide
  EXPECT_EQ(roll.height % 1000, 0);
}

TEST(SmallLabel, KeepsADateOnOneLine) {
  for (const Stock& stock : stocks_for_tubs()) {
    const Page page = set(a_tub(), stock);
    for (const char* date : {"4\u00a0May\u00a02031", "1\u00a0May\u00a02031"}) {
      EXPECT_TRUE(std::ranges::any_of(page.marks.texts, [&](const PlacedText& t) { return t.text.find(date) != std::string::npos; }))
          << stock.id << ": " << date;
    }
  }
}

TEST(SmallLabel, IsRefusedWhereItDoesNotFitAndNamesWhatWould) {
  const auto stocks = stocks_as_shipped();
  SmallLabelContent content = a_tub();
  content.contains = {"wheat", "barley", "eggs", "milk", "almonds", "hazelnuts", "walnuts", "sesame", "soya", "sulphites"};
  const auto pages = lay_out_small_label(content, stock_as_shipped("die-50x30"), fonts(), stocks);
  ASSERT_FALSE(pages);
  const Refusal& refusal = pages.error().front();
  EXPECT_EQ(refusal.field, "stock");
  EXPECT_NE(refusal.message.find("die-cut label 50 × 30 mm with letters of 1.2 mm"), std::string::npos) << refusal.message;
  EXPECT_NE(refusal.remedy.find("the smallest of the stocks at hand that holds it"), std::string::npos) << refusal.remedy;
  const auto named =
      std::ranges::find_if(stocks, [&](const Stock& s) { return refusal.remedy.find("(" + s.id + ")") != std::string::npos; });
  ASSERT_NE(named, stocks.end()) << refusal.remedy;
  EXPECT_TRUE(lay_out_small_label(content, *named, fonts()).has_value());
  const std::vector<Stock> dies{stock_as_shipped("die-102x152"), stock_as_shipped("die-76x51"), stock_as_shipped("die-62x100")};
  const auto of_dies = lay_out_small_label(content, stock_as_shipped("die-50x30"), fonts(), dies);
  ASSERT_FALSE(of_dies);
  EXPECT_NE(of_dies.error().front().remedy.find("(die-76x51), the smallest"), std::string::npos) << of_dies.error().front().remedy;
  const auto bad = [&] {
    SmallLabelContent other = a_tub();
    other.name = "cake 🎂";
    return lay_out_small_label(other, stock_as_shipped("die-62x100"), fonts());
  }();
  ASSERT_FALSE(bad);
  EXPECT_EQ(bad.error().front().field, "name");
}

}  // namespace
}  // namespace tierproof
