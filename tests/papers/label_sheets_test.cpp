#include "tierproof/papers/label_sheets.h"

#include <fmt/format.h>

#include <cmath>
#include <map>

#include "stock_files.h"
#include "tierproof/papers/pdf.h"

namespace tierproof {
namespace {

using testdata::fonts;
using testdata::page_as_drawn;
using testdata::stock_as_shipped;
using testdata::stocks_as_shipped;

constexpr Micrometres half_a_dot = 43;  // of a printer of 300 dots an inch

/// A page of the size of `stock` with a black square of 6 mm in the corner that its margins leave.
Page a_marked_label(const Stock& stock) {
  Page page;
  page.width = Micrometres{stock.width} * 100;
  page.height = Micrometres{stock.height} * 100;
  page.left = page.top = page.right = page.bottom = Micrometres{stock.margin} * 100;
  page.marks.fills.push_back({page.left, page.top, 6000, 6000, 0});
  return page;
}

/// The same with its number, set as wide as it is.
Page a_numbered_label(const Stock& stock, int number) {
  Page page = a_marked_label(stock);
  const PointSize size = fonts().size_for_x_height(Face::condensed, 2000);
  const std::string text = fmt::format("n{}", number);
  page.marks.texts.push_back({page.left, page.top + 12000, fonts().width(text, Face::condensed, size), text, Face::condensed, size, 0});
  return page;
}

Pages labels_of(const Stock& stock, int count) {
  Pages pages;
  for (int i = 1; i <= count; ++i) pages.pages.push_back(a_numbered_label(stock, i));
  return pages;
}

Pages filled(const Pages& labels, const Stock& stock, const LabelPlacing& placing) {
  auto pages = fill_sheets(labels, stock, placing);
  if (!pages) {
    ADD_FAILURE() << stock.id << ": " << describe(pages.error().front());
    return {};
  }
  return std::move(*pages);
}

std::string refusals_of(const Pages& labels, const Stock& stock, const LabelPlacing& placing) {
  const auto pages = fill_sheets(labels, stock, placing);
  EXPECT_FALSE(pages.has_value());
  std::string all;
  if (!pages) {
    for (const Refusal& refusal : pages.error()) all += describe(refusal) + "\n";
  }
  return all;
}

std::vector<Stock> sheet_stocks() {
  std::vector<Stock> sheets = stocks_as_shipped();
  std::erase_if(sheets, [](const Stock& stock) { return !stock.grid; });
  EXPECT_GE(sheets.size(), 10U);
  return sheets;
}

TEST(LabelSheets, FillEveryPlaceFromTheLeftAndFromTheTop) {
  for (const Stock& stock : sheet_stocks()) {
    const int places = places_on_sheet(stock);
    const Pages sheets = filled(labels_of(stock, places), stock, {});
    ASSERT_EQ(sheets.pages.size(), 1U) << stock.id;
    const Page& page = sheets.pages[0];
    ASSERT_EQ(page.marks.fills.size(), static_cast<std::size_t>(places));
    for (int n = 0; n < places; ++n) {
      const Fill& fill = page.marks.fills[static_cast<std::size_t>(n)];
      const int left = stock.grid->left + n % stock.grid->columns * stock.grid->across + stock.margin;
      const int top = stock.grid->top + n / stock.grid->columns * stock.grid->down + stock.margin;
      EXPECT_NEAR(static_cast<double>(fill.x), left * 100, half_a_dot) << stock.id << " label " << n + 1;
      EXPECT_NEAR(static_cast<double>(fill.y), top * 100, half_a_dot) << stock.id << " label " << n + 1;
      EXPECT_EQ(page.marks.texts[static_cast<std::size_t>(n)].text, fmt::format("n{}", n + 1));
    }
  }
}

// Measured on the picture that a printer of 300 dots an inch would print, first ink of each label.
TEST(LabelSheets, StartEachLabelOnPaperWithinATenthOfAMillimetre) {
  for (const Stock& stock : sheet_stocks()) {
    Pages label;
    label.pages.push_back(a_marked_label(stock));
    const Pages sheets = filled(label, stock, {1, places_on_sheet(stock), 0, 0});
    const auto picture = page_as_drawn("filled-" + stock.id, write_pdf(sheets, fonts(), {"Labels", {}}), 300);
    const StockGrid& grid = *stock.grid;
    EXPECT_NEAR(picture.mm_of(picture.width), grid.paper_width / 10.0, 0.1) << stock.id;
    EXPECT_NEAR(picture.mm_of(picture.height), grid.paper_height / 10.0, 0.1) << stock.id;
    for (int row = 0; row < grid.rows; ++row) {
      for (int column = 0; column < grid.columns; ++column) {
        const double left = (grid.left + column * grid.across) / 10.0;
        const double top = (grid.top + row * grid.down) / 10.0;
        int first_x = picture.width;
        int first_y = picture.height;
        const double far = stock.margin / 10.0 + 7;  // past the square
        for (int y = picture.dots_of(top); y < picture.dots_of(top + far); ++y) {
          for (int x = picture.dots_of(left); x < picture.dots_of(left + far); ++x) {
            if (!picture.ink(x, y)) continue;
            first_x = std::min(first_x, x);
            first_y = std::min(first_y, y);
          }
        }
        EXPECT_NEAR(picture.mm_of(first_x), left + stock.margin / 10.0, 0.1) << stock.id << " column " << column << " row " << row;
        EXPECT_NEAR(picture.mm_of(first_y), top + stock.margin / 10.0, 0.1) << stock.id << " column " << column << " row " << row;
      }
    }
  }
}

TEST(LabelSheets, BeginAtThePlaceThatIsStillFreeAndGoOnOnTheNextSheet) {
  const Stock stock = stock_as_shipped("sheet-99x57");
  const Pages sheets = filled(labels_of(stock, 3), stock, {9, 1, 0, 0});
  ASSERT_EQ(sheets.pages.size(), 2U);
  ASSERT_EQ(sheets.pages[0].marks.fills.size(), 2U);
  ASSERT_EQ(sheets.pages[1].marks.fills.size(), 1U);
  // 9 is the left one of the last of five rows.
  EXPECT_NEAR(static_cast<double>(sheets.pages[0].marks.fills[0].x), 4700 + 4000, half_a_dot);
  EXPECT_NEAR(static_cast<double>(sheets.pages[0].marks.fills[0].y), 6000 + 4 * 57000 + 4000, half_a_dot);
  EXPECT_EQ(text_of(sheets.pages[1]), "n3");
  EXPECT_NEAR(static_cast<double>(sheets.pages[1].marks.fills[0].y), 6000 + 4000, half_a_dot);
}

TEST(LabelSheets, PrintEveryCopyOfALabelBeforeTheNextLabel) {
  const Stock stock = stock_as_shipped("sheet-63x72");
  const Pages sheets = filled(labels_of(stock, 2), stock, {2, 3, 0, 0});
  std::vector<std::string> words;
  for (const PlacedText& text : sheets.pages.at(0).marks.texts) words.push_back(text.text);
  EXPECT_EQ(words, (std::vector<std::string>{"n1", "n1", "n1", "n2", "n2", "n2"}));
}

TEST(LabelSheets, ScaleNothingAndAreExactlyAsLargeAsTheirPaper) {
  for (const Stock& stock : sheet_stocks()) {
    const Pages labels = labels_of(stock, 1);
    const Page page = filled(labels, stock, {}).pages.at(0);
    EXPECT_EQ(page.width, stock.grid->paper_width * 100);
    EXPECT_EQ(page.height, stock.grid->paper_height * 100);
    EXPECT_EQ(page.marks.texts[0].size, labels.pages[0].marks.texts[0].size);
    EXPECT_EQ(page.marks.texts[0].width, labels.pages[0].marks.texts[0].width);
    EXPECT_EQ(page.marks.fills[0].width, 6000);
    EXPECT_EQ(page.marks.texts[0].baseline - page.marks.fills[0].y, 12000);
  }
}

// US Letter is 215.9 × 279.4 mm, 612 × 792 pt.
TEST(LabelSheets, OfUsLetterAreUsLetter) {
  const Stock stock = stock_as_shipped("sheet-102x85");
  const std::string path = testdata::kept("letter.pdf", write_pdf(filled(labels_of(stock, 1), stock, {}), fonts(), {"Labels", {}}));
  EXPECT_NE(testdata::output_of("pdfinfo " + path + " 2>&1").find("612 x 792 pts (letter)"), std::string::npos);
}

TEST(LabelSheets, StayOnWholeDotsOfThePrinter) {
  for (const Stock& stock : sheet_stocks()) {
    Pages labels;
    labels.pages.push_back(a_marked_label(stock));
    labels.pages[0].marks.fills[0].x = labels.pages[0].marks.fills[0].y = 0;
    const Pages sheets = filled(labels, stock, {1, places_on_sheet(stock), 3, 7});
    for (const Fill& fill : sheets.pages.at(0).marks.fills) {
      for (const Micrometres at : {fill.x, fill.y}) {
        const double dots = static_cast<double>(at) * stock.dots_per_inch / 25400;
        EXPECT_NEAR(dots, std::round(dots), 0.01) << stock.id;
      }
    }
  }
}

TEST(LabelSheets, AreMovedByThePrintOffset) {
  const Stock stock = stock_as_shipped("sheet-99x68");
  const Pages labels = labels_of(stock, 8);
  const Page straight = filled(labels, stock, {}).pages.at(0);
  for (const auto& [right, down] : {std::pair{15, -25}, std::pair{-8, 4}}) {
    const Page moved = filled(labels, stock, {1, 1, right, down}).pages.at(0);
    for (std::size_t i = 0; i < 8; ++i) {
      EXPECT_NEAR(static_cast<double>(moved.marks.fills[i].x - straight.marks.fills[i].x), right * 100, 2 * half_a_dot);
      EXPECT_NEAR(static_cast<double>(moved.marks.fills[i].y - straight.marks.fills[i].y), down * 100, 2 * half_a_dot);
    }
    EXPECT_EQ(moved.width, straight.width);
  }
}

TEST(LabelSheets, RefuseAnOffsetThatPushesSomethingOverTheEdge) {
  const Stock stock = stock_as_shipped("sheet-70x37");  // reaches to the sides of the paper; its margin is 5 mm
  Pages labels;
  labels.pages.push_back(a_marked_label(stock));
  EXPECT_TRUE(fill_sheets(labels, stock, {1, 1, -50, -54}).has_value());
  const std::string over = refusals_of(labels, stock, {1, 1, -53, -57});
  EXPECT_NE(over.find("--right: −5.3 mm would push what is printed over the edge"), std::string::npos) << over;
  EXPECT_NE(over.find("--down: −5.7 mm would push what is printed over the edge"), std::string::npos) << over;
  // The square is far from the right edge; words that reach over the label's middle are not.
  PlacedText& text = labels.pages[0].marks.texts.emplace_back(labels_of(stock, 1).pages[0].marks.texts[0]);
  text.x = 66000 - text.width;
  EXPECT_TRUE(fill_sheets(labels, stock, {3, 1, 39, 0}).has_value());
  EXPECT_NE(refusals_of(labels, stock, {3, 1, 42, 0}).find("--right: 4.2 mm"), std::string::npos);
}

TEST(LabelSheets, RefuseWhatTheSheetDoesNotHaveAllTogether) {
  const Stock stock = stock_as_shipped("sheet-99x57");
  const std::string all = refusals_of(labels_of(stock, 1), stock, {11, 0, 201, -201});
  EXPECT_NE(all.find("--begin-at: there is no place 11 on a sheet of label 99.1 × 57 mm"), std::string::npos) << all;
  EXPECT_NE(all.find("write a number from 1 to 10"), std::string::npos) << all;
  EXPECT_NE(all.find("--copies: 0 copies are none"), std::string::npos) << all;
  EXPECT_NE(all.find("--right: 20.1 mm"), std::string::npos) << all;
  EXPECT_NE(all.find("--down: −20.1 mm"), std::string::npos) << all;
  EXPECT_NE(refusals_of(labels_of(stock, 1), stock, {0, 1, 0, 0}).find("there is no place 0"), std::string::npos);
}

TEST(LabelSheets, OfARollAreAPageALabelAndCopy) {
  const Stock stock = stock_as_shipped("die-62x100");
  const Pages labels = labels_of(stock, 2);
  const Pages pages = filled(labels, stock, {1, 2, 0, 0});
  ASSERT_EQ(pages.pages.size(), 4U);
  EXPECT_EQ(pages.pages[0], labels.pages[0]);
  EXPECT_EQ(pages.pages[1], labels.pages[0]);
  EXPECT_EQ(pages.pages[3], labels.pages[1]);
  EXPECT_NE(refusals_of(labels, stock, {2, 1, 0, 0}).find("leave --begin-at out"), std::string::npos);
  // Its margin is 3 mm.
  EXPECT_NEAR(static_cast<double>(filled(labels, stock, {1, 1, -20, 0}).pages[0].marks.fills[0].x), 1000, half_a_dot);
  EXPECT_NE(refusals_of(labels, stock, {1, 1, -31, 0}).find("--right"), std::string::npos);
}

TEST(LabelSheets, TakeLinksAlong) {
  const Stock stock = stock_as_shipped("sheet-99x139");
  Pages labels = labels_of(stock, 1);
  labels.pages[0].links.push_back({5000, 6000, 10000, 3000, "https://example.test/cake-1", 0, 0});
  const Page page = filled(labels, stock, {4, 1, 0, 0}).pages.at(0);
  ASSERT_EQ(page.links.size(), 1U);
  EXPECT_NEAR(static_cast<double>(page.links[0].x), 4700 + 101600 + 5000, half_a_dot);
  EXPECT_NEAR(static_cast<double>(page.links[0].y), 9500 + 139000 + 6000, half_a_dot);
}

// ---- the ruler page -----------------------------------------------------------------------------------------------------------

Page ruler_of(const Stock& stock, int right = 0, int down = 0) {
  const auto pages = lay_out_ruler_page(stock, right, down, fonts());
  if (!pages) {
    ADD_FAILURE() << stock.id << ": " << describe(pages.error().front());
    return {};
  }
  EXPECT_EQ(pages->pages.size(), 1U);
  return pages->pages.front();
}

bool has_stroke(const Page& page, const std::string& role, Point from, Point to) {
  return std::ranges::any_of(page.marks.strokes, [&](const Stroke& stroke) {
    const auto near = [](Point a, Point b) { return std::abs(a.x - b.x) <= half_a_dot && std::abs(a.y - b.y) <= half_a_dot; };
    return stroke.role == role && stroke.points.size() == 2 && near(stroke.points[0], from) && near(stroke.points[1], to);
  });
}

TEST(RulerPage, IsThereForEveryStockThatIsShipped) {
  for (const Stock& stock : stocks_as_shipped()) {
    const Page page = ruler_of(stock);
    EXPECT_EQ(page.width, 100 * (stock.grid ? stock.grid->paper_width : stock.width)) << stock.id;
    if (!stock.roll) {
      EXPECT_EQ(page.height, 100 * (stock.grid ? stock.grid->paper_height : stock.height)) << stock.id;
    } else {
      EXPECT_LE(page.height, 100 * stock.height) << stock.id;
    }
    const std::string words = testdata::words_of_text(text_of(page));
    EXPECT_NE(words.find("--right"), std::string::npos) << stock.id;
    EXPECT_NE(words.find("--down"), std::string::npos) << stock.id;
    EXPECT_NE(words.find(stock.grid ? "this line: 100 mm" : "The frame is"), std::string::npos) << stock.id << ": " << words;
  }
}

TEST(RulerPage, SetsNothingSmallAndNoTwoTextsOverEachOtherOrOverTheEdge) {
  for (const Stock& stock : stocks_as_shipped()) {
    const Page page = ruler_of(stock);
    const auto& texts = page.marks.texts;
    for (std::size_t i = 0; i < texts.size(); ++i) {
      EXPECT_GE(fonts().x_height(texts[i].face, texts[i].size), 1200) << stock.id << ": " << texts[i].text;
      EXPECT_GE(texts[i].x, 0);
      EXPECT_LE(texts[i].x + texts[i].width, page.width) << stock.id << ": " << texts[i].text;
      EXPECT_LE(texts[i].baseline, page.height) << stock.id << ": " << texts[i].text;
      for (std::size_t j = i + 1; j < texts.size(); ++j) {
        const bool beside = texts[i].x + texts[i].width <= texts[j].x + 1 || texts[j].x + texts[j].width <= texts[i].x + 1;
        const auto top = [](const PlacedText& text) { return text.baseline - fonts().capital_height(text.face, text.size); };
        const bool below = texts[i].baseline <= top(texts[j]) || texts[j].baseline <= top(texts[i]);
        EXPECT_TRUE(beside || below) << stock.id << ": " << texts[i].text << " | " << texts[j].text;
      }
    }
  }
}

TEST(RulerPage, DrawsTheFirstAndTheLastLabelWhereTheyAreAndNumbersThem) {
  for (const Stock& stock : sheet_stocks()) {
    if (stock.grid->left == 0) continue;  // a printer cannot draw the edge of the paper
    const Page page = ruler_of(stock);
    const StockGrid& grid = *stock.grid;
    const Micrometres corner = stock.corner * 100;
    for (const int n : {0, grid.columns - 1, (grid.rows - 1) * grid.columns}) {
      const Micrometres left = (grid.left + n % grid.columns * grid.across) * 100;
      const Micrometres top = (grid.top + n / grid.columns * grid.down) * 100;
      const Micrometres right = left + stock.width * 100;
      const Micrometres bottom = top + stock.height * 100;
      EXPECT_TRUE(has_stroke(page, "label", {left + corner, top}, {right - corner, top})) << stock.id << " label " << n + 1;
      EXPECT_TRUE(has_stroke(page, "label", {left, bottom - corner}, {left, top + corner})) << stock.id << " label " << n + 1;
      EXPECT_TRUE(std::ranges::any_of(page.marks.texts,
                                      [&](const PlacedText& text) {
                                        return text.text == fmt::format("{}", n + 1) && text.x > left && text.x + text.width < right &&
                                               text.baseline > top && text.baseline < top + 5000;
                                      }))
          << stock.id << " label " << n + 1;
    }
  }
}

TEST(RulerPage, HasALineOfAHundredMillimetresOnPaper) {
  const Stock stock = stock_as_shipped("sheet-63x72");
  const auto pages = lay_out_ruler_page(stock, 0, 0, fonts());
  ASSERT_TRUE(pages);
  const auto picture = page_as_drawn("ruler", write_pdf(*pages, fonts(), {"Ruler page", {}}), 600);
  int longest = 0;
  for (int y = picture.dots_of(9); y < picture.dots_of(12.5); ++y) {  // between the top of the first label and the ruler
    int run = 0;
    for (int x = 0; x < picture.width; ++x) {
      run = picture.ink(x, y) ? run + 1 : 0;
      longest = std::max(longest, run);
    }
  }
  EXPECT_NEAR(picture.mm_of(longest), 100.2, 0.1);  // its ends are as thick as the line, 0.1 mm to each side
}

TEST(RulerPage, CountsMillimetresFromTheEdgesOfThePaper) {
  for (const char* id : {"sheet-63x72", "sheet-102x51", "die-62x100"}) {
    const Page page = ruler_of(stock_as_shipped(id));
    std::map<std::int64_t, int> across;
    std::map<std::int64_t, int> down;
    for (const Stroke& stroke : page.marks.strokes) {
      if (stroke.role != "ruler" || stroke.points.size() != 2) continue;
      const Point a = stroke.points[0];
      const Point b = stroke.points[1];
      if (b.y - a.y == 3000) across[a.x]++;  // the long marks of the tens
      if (b.x - a.x == 3000) down[a.y]++;
    }
    EXPECT_GE(across.size(), 4U) << id;
    EXPECT_GE(down.size(), 5U) << id;
    for (const auto& marks : {across, down}) {
      for (const auto& [at, count] : marks) EXPECT_EQ(at % 10000, 0) << id;
    }
  }
}

TEST(RulerPage, DrawsNoOutlineThroughAFigureOfARuler) {
  for (const Stock& stock : sheet_stocks()) {
    const Page page = ruler_of(stock);
    for (const PlacedText& text : page.marks.texts) {
      if (text.text.empty() || text.text.find_first_not_of("0123456789") != std::string::npos) continue;
      const Micrometres top = text.baseline - fonts().figure_height(text.face, text.size);
      for (const Stroke& stroke : page.marks.strokes) {
        if (stroke.role != "label" || stroke.points.size() != 2) continue;
        const auto [left, right] = std::minmax(stroke.points[0].x, stroke.points[1].x);
        const auto [upper, lower] = std::minmax(stroke.points[0].y, stroke.points[1].y);
        const bool through = left < text.x + text.width && right > text.x && upper < text.baseline && lower > top;
        EXPECT_FALSE(through) << stock.id << ": " << text.text;
      }
    }
  }
}

TEST(RulerPage, MovesWithTheOffsetAndTellsIt) {
  const Stock stock = stock_as_shipped("sheet-99x139");
  const Page straight = ruler_of(stock);
  const Page moved = ruler_of(stock, 15, -20);
  EXPECT_NE(testdata::words_of_text(text_of(moved)).find("Printed with --right 1.5 mm --down -2 mm."), std::string::npos);
  EXPECT_TRUE(has_stroke(straight, "label", {4700 + 1500, 9500}, {4700 + 99100 - 1500, 9500}));
  EXPECT_TRUE(has_stroke(moved, "label", {6200 + 1500, 7500}, {6200 + 99100 - 1500, 7500}));
  EXPECT_FALSE(lay_out_ruler_page(stock, 201, 0, fonts()).has_value());
}

TEST(RulerPage, IsRefusedWhereItsWordsHaveNoRoom) {
  const auto pages = lay_out_ruler_page({"die-15x15", "die-cut label 15 × 15 mm", 150, 150, 10, 203, false}, 0, 0, fonts());
  ASSERT_FALSE(pages);
  EXPECT_EQ(pages.error().front().field, "stock");
}

}  // namespace
}  // namespace tierproof
