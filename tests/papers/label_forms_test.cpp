#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <map>
#include <regex>

#include "label_checks.h"
#include "sample.h"
#include "stock_files.h"

namespace tierproof {
namespace {

using testdata::a_label;
using testdata::faults_of;
using testdata::fonts;

Stock a_card() { return {"sheet-a5", "A5 card, 148 × 210 mm", 1480, 2100, 80, 300, false}; }

LabelPages set_on(const LabelContent& content, const Stock& stock) {
  auto pages = lay_out_label(content, stock, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {{{Page{}}}, {}};
  }
  return std::move(*pages);
}

/// How often each letter stands on a page; blanks do not count.
std::map<char, int> letters_on(const Page& page) {
  std::map<char, int> count;
  for (const PlacedText& text : page.marks.texts) {
    for (const char c : testdata::letters_of(text.text)) ++count[c];
  }
  return count;
}

/// What of `content` has no room on `page`: a letter that stands there less often than it should.
std::string missing_on(const Page& page, const LabelContent& content) {
  std::map<char, int> wanted;
  for (const std::string& text : testdata::printed_texts(content)) {
    for (const char c : testdata::letters_of(text)) ++wanted[c];
  }
  const auto there = letters_on(page);
  for (const auto& [letter, count] : wanted) {
    const auto found = there.find(letter);
    if (found == there.end() || found->second < count) return std::string{"the letter "} + letter;
  }
  return "";
}

const PlacedText& text_that_starts(const Page& page, std::string_view words) {
  const auto& texts = page.marks.texts;
  const auto found = std::find_if(texts.begin(), texts.end(), [&](const PlacedText& text) { return text.text.starts_with(words); });
  if (found == texts.end()) throw std::runtime_error{"no text starts with " + std::string{words}};
  return *found;
}

// --- columns ---

TEST(LabelColumns, AreTwoOnAWideStockWithNameAndNetQuantityAtTheHeadOfTheFirst) {
  LabelContent content = a_label();
  content.net_quantity = "4.2 kg";
  content.quantity += ", 4.2 kg";
  const LabelPages label = set_on(content, a_card());
  const Page& page = label.pages.front();
  const PlacedText& name = text_that_starts(page, "Three-tier");
  const PlacedText& net = text_that_starts(page, "4.2");
  const PlacedText& storage = text_that_starts(page, "Keep");
  EXPECT_EQ(name.x, 8000);
  EXPECT_LT(net.x, page.width / 2);
  EXPECT_LT(net.baseline, text_that_starts(page, "Ingredients").baseline);
  EXPECT_GT(storage.x, page.width / 2);
  for (const PlacedText& text : page.marks.texts) {
    if (text.x > page.width / 2) continue;
    EXPECT_LE(text.x + text.width, text.text.starts_with("Local law") ? page.width - 8000 : page.width / 2) << text.text;
  }
  EXPECT_EQ(missing_on(page, content), "");
}

TEST(LabelColumns, LeaveNothingBetweenAListAndWhatTheLawWantsNextToIt) {
  const LabelContent content = testdata::twelve_labels()[4];
  const LabelPages label = set_on(content, a_card());
  const Page& page = label.pages.front();
  const PlacedText& list = text_that_starts(page, "Ingredients:");
  for (const char* next : {"Contains:", "May contain"}) EXPECT_EQ(text_that_starts(page, next).x, list.x) << next;
  const PlacedText& french = text_that_starts(page, "Ingrédients");
  for (const char* next : {"Gâteau", "Contient", "Peut"}) EXPECT_EQ(text_that_starts(page, next).x, french.x) << next;
  EXPECT_GT(french.x, list.x);
}

TEST(LabelColumns, LeaveStopAndBusinessTheFullWidth) {
  LabelContent content = a_label();
  content.stop = "DO NOT HAND OVER: nobody can rule out sesame, since one of the nine packs in it does not say whether it holds any.";
  content.demo = true;
  const Page page = set_on(content, a_card()).pages.front();
  const PlacedText& stop = text_that_starts(page, "DO NOT HAND OVER");
  EXPECT_GT(stop.x + stop.width, page.width / 2);
  EXPECT_LT(stop.baseline, text_that_starts(page, "Three-tier").baseline);
  EXPECT_LT(text_that_starts(page, "DEMO").baseline, stop.baseline);
  Micrometres lowest = 0;
  for (const PlacedText& text : page.marks.texts) {
    if (!text.text.starts_with("Test Data") && !text.text.starts_with("1 Invented") && !text.text.starts_with("ZZ99") &&
        !text.text.starts_with("cake-1") && !text.text.starts_with("Local"))
      lowest = std::max(lowest, text.baseline);
  }
  EXPECT_GT(text_that_starts(page, "Test Data Cakes").baseline, lowest);
}

// --- corners ---

TEST(LabelCorners, AreKeptClearByEveryText) {
  for (const int corner : {0, 20, 60, 150}) {
    Stock stock = testdata::a_sheet_label();
    stock.corner = corner;
    const Page page = set_on(a_label(), stock).pages.front();
    for (const std::string& fault : faults_of(page, stock)) ADD_FAILURE() << corner << ": " << fault;
  }
  // The oracle sees it where they are not: the same page on a rounder stock.
  Stock rounder = testdata::a_sheet_label();
  const Page page = set_on(a_label(), rounder).pages.front();
  rounder.corner = 300;
  EXPECT_FALSE(faults_of(page, rounder).empty());
}

// --- codes ---

TEST(LabelCodes, StandAtTheFootOnTheRightInWholeDots) {
  LabelContent content = a_label();
  content.code = "cake-1 41:5dc9a1e0";
  for (const Stock& stock : {testdata::a_sheet_label(), testdata::a_die_cut_label(), testdata::a_roll(), a_card()}) {
    const LabelPages label = set_on(content, stock);
    EXPECT_TRUE(label.codes_left_out.empty()) << stock.id;
    const Page& page = label.pages.front();
    ASSERT_FALSE(page.marks.fills.empty()) << stock.id;
    Micrometres left = page.width;
    Micrometres right = 0;
    Micrometres top = page.height;
    for (const Fill& fill : page.marks.fills) {
      left = std::min(left, fill.x);
      right = std::max(right, fill.x + fill.width);
      top = std::min(top, fill.y);
    }
    EXPECT_GT(left, page.width / 2) << stock.id;
    EXPECT_GE(right, page.width - page.right - 2500) << stock.id;  // four modules of quiet, and less than one
    EXPECT_GE(top, page.height / 2) << stock.id;
    EXPECT_GE(right - left, 330 * 21) << stock.id;
    for (const std::string& fault : faults_of(page, stock)) ADD_FAILURE() << stock.id << ": " << fault;
  }
}

TEST(LabelCodes, AreLeftOutAndSaidSoWhereTheWordsNeedTheRoom) {
  LabelContent content = testdata::a_short_label();
  content.code = "cake-1 41:5dc9a1e0";
  Stock stock{"die", "die-cut label", 620, 300, 30, 203, false};
  while (!lay_out_label(content, stock, fonts())) stock.height += 5;
  const LabelPages bare = set_on(content, stock);
  EXPECT_EQ(bare.codes_left_out, (std::vector<std::string>{"QR Code"}));
  EXPECT_TRUE(bare.pages.front().marks.fills.empty());
  EXPECT_EQ(missing_on(bare.pages.front(), content), "");
  stock.height += 120;
  const LabelPages coded = set_on(content, stock);
  EXPECT_TRUE(coded.codes_left_out.empty());
  EXPECT_FALSE(coded.pages.front().marks.fills.empty());
}

TEST(LabelReason, IsPrintedWhereItHasRoomAndLeftOutBeforeACode) {
  LabelContent content = testdata::a_short_label();
  content.code = "cake-1 41:5dc9a1e0";
  content.storage_reason = "Because of: pastry cream, buttercream.";
  const auto reason_on = [](const Page& page) {
    const auto& texts = page.marks.texts;
    return std::any_of(texts.begin(), texts.end(), [](const PlacedText& text) { return text.text.starts_with("Because of:"); });
  };
  Stock stock{"die", "die-cut label", 620, 300, 30, 203, false};
  std::vector<std::pair<bool, bool>> ways;  // with the reason, with the code
  for (; stock.height < 1600; stock.height += 5) {
    const auto label = lay_out_label(content, stock, fonts());
    if (!label) continue;
    const std::pair<bool, bool> way{reason_on(label->pages.front()), label->codes_left_out.empty()};
    if (ways.empty() || ways.back() != way) ways.push_back(way);
    if (way.first) {
      EXPECT_EQ(missing_on(label->pages.front(), content), "");
    }
  }
  ASSERT_FALSE(ways.empty());
  EXPECT_EQ(ways.back(), (std::pair{true, true}));
  EXPECT_NE(std::find(ways.begin(), ways.end(), std::pair{false, true}), ways.end()) << "the code has its room first";
  LabelContent bare = content;
  bare.storage_reason.clear();
  stock.height = 300;
  while (!lay_out_label(bare, stock, fonts())) stock.height += 5;
  EXPECT_TRUE(lay_out_label(content, stock, fonts()).has_value()) << "a reason never keeps a label from being printed";
}

TEST(LabelCodes, OfTwoKeepTheOneThatOthersRead) {
  LabelContent content = testdata::a_short_label();
  content.code = "cake-1 41:5dc9a1e0";
  content.gs1_elements = "[01]09521234543213[10]cake-1";
  Stock stock{"die", "die-cut label", 500, 300, 30, 203, false};
  std::vector<std::vector<std::string>> ways;
  for (; stock.height < 1600; stock.height += 5) {
    const auto label = lay_out_label(content, stock, fonts());
    if (label && (ways.empty() || ways.back() != label->codes_left_out)) ways.push_back(label->codes_left_out);
  }
  EXPECT_EQ(ways, (std::vector<std::vector<std::string>>{{"QR Code", "GS1 DataMatrix"}, {"QR Code"}, {}}));
}

TEST(LabelCodes, ThatCannotBeEncodedRefuseTheLabel) {
  LabelContent content = a_label();
  content.gs1_elements = "[01]09521234543214";  // its check digit is 3
  const auto label = lay_out_label(content, testdata::a_sheet_label(), fonts());
  ASSERT_FALSE(label);
  EXPECT_EQ(label.error().front().field, "gs1_elements");
}

// --- what cannot be set ---

Stock smallest_stock() {
  const auto stocks = testdata::stocks_as_shipped();
  return *std::min_element(stocks.begin(), stocks.end(), [](const Stock& a, const Stock& b) {
    return std::int64_t{a.width} * a.height < std::int64_t{b.width} * b.height;
  });
}

TEST(LabelRefusal, OfAWordOfEightyLettersNamesTheWidthItNeeds) {
  LabelContent content = testdata::a_short_label();
  const std::string word(80, 'n');
  content.ingredients = {{{word, false}}};
  const auto label = lay_out_label(content, smallest_stock(), fonts(), testdata::stocks_as_shipped());
  ASSERT_FALSE(label);
  ASSERT_EQ(label.error().size(), 1U);
  const Refusal& refusal = label.error().front();
  EXPECT_EQ(refusal.field, "stock");
  std::smatch wide;
  ASSERT_TRUE(std::regex_search(refusal.message, wide, std::regex{"`n{80}\\.` is ([0-9.]+) mm wide"})) << refusal.message;
  const double width = std::stod(wide[1]);
  const double drawn =
      static_cast<double>(fonts().width(word + ".", Face::condensed, fonts().size_for_x_height(Face::condensed, 1200))) / 1000;
  EXPECT_NEAR(width, drawn, 0.06);
  // The remedy holds, and on a stock as wide as said it does fit.
  Stock enough{"enough", "enough", 0, 3000, 30, 203, false};
  enough.width = static_cast<int>(width * 10 + 61);
  EXPECT_TRUE(lay_out_label(content, enough, fonts()).has_value());
  enough.width -= 10;
  EXPECT_FALSE(lay_out_label(content, enough, fonts()).has_value());
}

TEST(LabelRefusal, OfACharacterNamesItAndItsField) {
  for (const auto& [text, number] : {std::pair{"Kuchen 蛋糕", "U+86CB"}, {"Cake 🎂", "U+1F382"}}) {
    LabelContent content = testdata::a_short_label();
    content.may_contain = {text};
    for (const Stock& stock : {smallest_stock(), a_card()}) {
      const auto label = lay_out_label(content, stock, fonts(), testdata::stocks_as_shipped());
      ASSERT_FALSE(label);
      EXPECT_EQ(label.error().front().field, "may_contain") << stock.id;
      EXPECT_NE(label.error().front().message.find(number), std::string::npos) << label.error().front().message;
    }
  }
}

TEST(LabelRefusal, NamesTheLengthThatARollNeedsAndItIsEnough) {
  const Stock small{"die-50x30", "die-cut label 50 × 30 mm", 500, 300, 20, 203, false};
  const std::vector<Stock> others{testdata::a_sheet_label(), testdata::a_roll()};
  const auto label = lay_out_label(a_label(), small, fonts(), others);
  ASSERT_FALSE(label);
  std::smatch length;
  const std::string& remedy = label.error().front().remedy;
  ASSERT_TRUE(std::regex_search(remedy, length, std::regex{R"(use roll 62 mm wide \(roll-62\), at a length of ([0-9]+) mm)"})) << remedy;
  Stock cut = testdata::a_roll();
  cut.height = std::stoi(length[1]) * 10;
  EXPECT_TRUE(lay_out_label(a_label(), cut, fonts()).has_value());
  cut.height -= 10;
  EXPECT_FALSE(lay_out_label(a_label(), cut, fonts()).has_value());
}

// --- properties ---

RC_GTEST_PROP(LabelProperty, IsRefusedOrStandsWholeWithinItsMargins, ()) {
  static const std::vector<LabelContent> labels = testdata::twelve_labels();
  const LabelContent& content = labels[*rc::gen::inRange<std::size_t>(0, labels.size())];
  Stock stock{"any", "any stock", 0, 0, 0, 0, false};
  stock.width = *rc::gen::inRange(250, 2200);
  stock.height = *rc::gen::inRange(250, 3000);
  stock.margin = *rc::gen::inRange(0, 81);
  stock.corner = *rc::gen::inRange(0, 101);
  stock.roll = *rc::gen::arbitrary<bool>();
  stock.dots_per_inch = *rc::gen::element(203, 300, 600);
  const auto label = lay_out_label(content, stock, fonts());
  RC_CLASSIFY(label.has_value(), "fits");
  if (!label) {
    RC_ASSERT(label.error().front().field == "stock");
    return;
  }
  RC_ASSERT(label->pages.size() == 1U);
  const Page& page = label->pages.front();
  RC_ASSERT(missing_on(page, content) == "");
  const auto faults = faults_of(page, stock);
  RC_ASSERT((faults.empty() ? "" : faults.front()) == "");
}

TEST(LabelStocks, EveryOneShippedHoldsEachOfTwelveLabelsWholeOrRefusesIt) {
  const auto labels = testdata::twelve_labels();
  std::map<std::string, int> held;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    for (const Stock& stock : testdata::stocks_as_shipped()) {
      const auto label = lay_out_label(labels[i], stock, fonts());
      if (!label) continue;
      ++held[stock.id];
      EXPECT_EQ(missing_on(label->pages.front(), labels[i]), "") << stock.id << ", label " << i;
      for (const std::string& fault : faults_of(label->pages.front(), stock)) ADD_FAILURE() << stock.id << ", label " << i << ": " << fault;
    }
  }
  for (const char* id : {"sheet-a5", "roll-104", "roll-62", "die-102x152"}) EXPECT_EQ(held[id], 12) << id;
}

}  // namespace
}  // namespace tierproof
