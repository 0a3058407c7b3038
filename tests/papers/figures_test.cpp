#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "sample.h"
#include "tierproof/papers/document.h"

namespace tierproof {
namespace {

using testdata::fonts;

Paragraph words_of_ten_points(std::string text, std::string field = "text") {
  Paragraph made;
  made.runs = {{std::move(text), Face::condensed, PointSize::hundredths(1000), 0}};
  made.field = std::move(field);
  return made;
}

Document a_page(std::vector<Block> blocks, Micrometres width = 80000, Micrometres height = 120000) {
  Document made;
  made.width = width;
  made.height = height;
  made.left = made.right = made.top = made.bottom = 5000;
  made.blocks = std::move(blocks);
  return made;
}

/// An invented pattern, 21 modules square: dark where the product of the places leaves 1 or 2 of 3. Not a code that means anything.
Code a_pattern(int side = 21, int quiet = 4) {
  Code code{"QR Code", "pattern", side, side, {}, quiet};
  for (int y = 0; y < side; ++y) {
    for (int x = 0; x < side; ++x) code.dark.push_back(x == 0 || y == 0 || x == side - 1 || y == side - 1 || x * y % 3 != 0);
  }
  return code;
}

CodeBlock a_code(int dots_per_inch = 300, Micrometres least_module = 330) {
  return {a_pattern(), dots_per_inch, least_module, Align::left, "code"};
}

Pages set(const Document& document) {
  auto pages = lay_out(document, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {{Page{}}};
  }
  return std::move(*pages);
}

/// Whether the middle of a module is covered by a fill.
bool is_inked(const Page& page, Micrometres x, Micrometres y) {
  return std::any_of(page.marks.fills.begin(), page.marks.fills.end(),
                     [&](const Fill& fill) { return x >= fill.x && x < fill.x + fill.width && y >= fill.y && y < fill.y + fill.height; });
}

struct PrinterCase {
  int dots_per_inch;
  Micrometres least_module;
  int dots;  ///< a module
};

// The fewest whole dots that reach the least module: ceil(least × dpi / 25.4 mm), worked out by hand.
class CodeOnAPrinter : public testing::TestWithParam<PrinterCase> {};
INSTANTIATE_TEST_SUITE_P(Printers, CodeOnAPrinter,
                         testing::Values(PrinterCase{203, 330, 3}, PrinterCase{300, 330, 4}, PrinterCase{600, 330, 8},
                                         PrinterCase{203, 500, 4}, PrinterCase{203, 376, 4}, PrinterCase{254, 300, 3},
                                         PrinterCase{254, 301, 4}),
                         [](const auto& row) { return fmt::format("{}dpi{}um", row.param.dots_per_inch, row.param.least_module); });

TEST_P(CodeOnAPrinter, HasEveryModuleAsManyWholeDotsWide) {
  const auto [per_inch, least, dots] = GetParam();
  const Page page = set(a_page({words_of_ten_points("above"), a_code(per_inch, least)})).pages.front();
  ASSERT_FALSE(page.marks.fills.empty());
  const double dot = 25400.0 / per_inch;
  for (const Fill& fill : page.marks.fills) {
    for (const Micrometres edge : {fill.x, fill.y, fill.x + fill.width, fill.y + fill.height}) {
      const double at = static_cast<double>(edge) / dot;
      EXPECT_NEAR(at, std::round(at), 0.01) << "an edge between two dots";
    }
    const double modules = static_cast<double>(fill.width) / (dots * dot);
    EXPECT_NEAR(modules, std::round(modules), 0.01);
    EXPECT_NEAR(static_cast<double>(fill.height), dots * dot, 1.0);
  }
}

TEST_P(CodeOnAPrinter, IsDarkWhereTheCodeIsAndNowhereElse) {
  const auto [per_inch, least, dots] = GetParam();
  const Page page = set(a_page({a_code(per_inch, least)})).pages.front();
  const Code code = a_pattern();
  const double module = dots * 25400.0 / per_inch;
  const Micrometres left = page.marks.fills.front().x;  // the pattern's first row is dark from end to end
  const Micrometres top = page.marks.fills.front().y;
  for (int y = -code.quiet; y < code.down + code.quiet; ++y) {
    for (int x = -code.quiet; x < code.across + code.quiet; ++x) {
      const bool inside = x >= 0 && y >= 0 && x < code.across && y < code.down;
      EXPECT_EQ(is_inked(page, left + static_cast<Micrometres>((x + 0.5) * module), top + static_cast<Micrometres>((y + 0.5) * module)),
                inside && code.is_dark(x, y))
          << x << ", " << y;
    }
  }
}

TEST(CodeBlock, JoinsDarkNeighboursIntoOneFill) {
  const Page page = set(a_page({a_code()})).pages.front();
  const Code code = a_pattern();
  std::size_t runs = 0;
  for (int y = 0; y < code.down; ++y) {
    for (int x = 0; x < code.across; ++x) runs += code.is_dark(x, y) && (x == 0 || !code.is_dark(x - 1, y)) ? 1 : 0;
  }
  EXPECT_EQ(page.marks.fills.size(), runs);
}

// 4 modules of 4 dots at 300 dpi on each side: 1.35 mm.
TEST(CodeBlock, KeepsItsQuietZoneFree) {
  for (const Align align : {Align::left, Align::centre, Align::right}) {
    CodeBlock block = a_code();
    block.align = align;
    const Page page = set(a_page({words_of_ten_points("above"), block, words_of_ten_points("below")})).pages.front();
    Micrometres left = page.width;
    Micrometres right = 0;
    Micrometres top = page.height;
    Micrometres bottom = 0;
    for (const Fill& fill : page.marks.fills) {
      left = std::min(left, fill.x);
      right = std::max(right, fill.x + fill.width);
      top = std::min(top, fill.y);
      bottom = std::max(bottom, fill.y + fill.height);
    }
    constexpr Micrometres quiet = 1354;
    EXPECT_GE(left - quiet, page.left);
    EXPECT_LE(right + quiet, page.width - page.right);
    ASSERT_EQ(page.marks.texts.size(), 2U);
    EXPECT_LT(page.marks.texts[0].baseline, top - quiet);
    EXPECT_GT(page.marks.texts[1].baseline - fonts().capital_height(Face::condensed, PointSize::hundredths(1000)), bottom + quiet);
  }
}

// 29 modules of 4 dots at 300 dpi and one dot to spare: 117 × 25.4 / 300 = 9.9 mm.
TEST(CodeBlock, IsRefusedWithTheWidthItNeedsWhereItDoesNotFit) {
  const auto pages = lay_out(a_page({a_code()}, 10000 + 9800), fonts());
  ASSERT_FALSE(pages);
  ASSERT_EQ(pages.error().size(), 1U);
  EXPECT_EQ(pages.error().front().field, "code");
  EXPECT_NE(pages.error().front().message.find("QR Code needs 9.9 mm"), std::string::npos) << pages.error().front().message;
  EXPECT_NE(pages.error().front().message.find("there are 9.8 mm"), std::string::npos) << pages.error().front().message;
  EXPECT_TRUE(lay_out(a_page({a_code()}, 10000 + 10000), fonts()).has_value());
}

TEST(CodeBlock, GoesToTheNextPageWhole) {
  std::vector<Block> blocks;
  for (int i = 0; i < 6; ++i) blocks.emplace_back(words_of_ten_points("line"));
  blocks.emplace_back(a_code());
  const Pages pages = set(a_page(std::move(blocks), 80000, 45000));
  ASSERT_EQ(pages.pages.size(), 2U);
  EXPECT_TRUE(pages.pages[0].marks.fills.empty());
  EXPECT_FALSE(pages.pages[1].marks.fills.empty());
}

TEST(CodeBlock, IsOurBugWithoutModules) {
  CodeBlock empty = a_code();
  empty.code.dark.pop_back();
  EXPECT_THROW(lay_out(a_page({empty}), fonts()), Fault);
}

TEST(Beside, SetsWordsBesideTheCodeAndNotInItsQuietZone) {
  Beside both;
  both.blocks = {words_of_ten_points("one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen")};
  both.code = a_code();
  both.gap = 1500;
  const Page page = set(a_page({both, words_of_ten_points("below")}, 60000)).pages.front();
  Micrometres left = page.width;
  Micrometres bottom = 0;
  for (const Fill& fill : page.marks.fills) {
    left = std::min(left, fill.x);
    bottom = std::max(bottom, fill.y + fill.height);
  }
  ASSERT_GT(page.marks.texts.size(), 2U) << "the words have to wrap";
  for (const PlacedText& text : page.marks.texts) {
    if (text.text == "below") {
      EXPECT_GT(text.baseline, bottom + 1354);
    } else {
      EXPECT_LE(text.x + text.width, left - 1354 - both.gap) << text.text;
    }
  }
  EXPECT_NEAR(static_cast<double>(page.marks.fills.front().y), 5000 + 1354, 90.0) << "level with the top";
}

TEST(Beside, StaysOnOnePage) {
  std::vector<Block> blocks;
  for (int i = 0; i < 6; ++i) blocks.emplace_back(words_of_ten_points("x"));
  Beside both;
  both.code = a_code();
  for (int i = 0; i < 4; ++i) both.blocks.emplace_back(words_of_ten_points(fmt::format("beside {}", i)));
  blocks.emplace_back(both);
  const Pages pages = set(a_page(std::move(blocks), 80000, 45000));
  ASSERT_EQ(pages.pages.size(), 2U);
  EXPECT_EQ(text_of(pages.pages[1]), "beside 0\nbeside 1\nbeside 2\nbeside 3");
}

TEST(Beside, IsRefusedByTheCodesFieldWhereThatIsTooWide) {
  Beside both;
  both.blocks = {words_of_ten_points("words")};
  both.code = a_code();
  const auto pages = lay_out(a_page({both}, 15000), fonts());
  ASSERT_FALSE(pages);
  EXPECT_EQ(pages.error().front().field, "code");
}

TEST(Columns, AreEquallyWideAndLevel) {
  Columns columns;
  columns.gap = 4000;
  columns.columns = {{words_of_ten_points("left left left left left left left left left left left left")},
                     {words_of_ten_points("right"), Rule{}},
                     {words_of_ten_points("last")}};
  const Page page = set(a_page({columns, words_of_ten_points("below")}, 100000)).pages.front();
  // 90 mm less two gaps of 4 mm, by three: 27.3 mm.
  const auto find = [&](const std::string& word) {
    return *std::find_if(page.marks.texts.begin(), page.marks.texts.end(),
                         [&](const PlacedText& text) { return text.text.starts_with(word); });
  };
  EXPECT_EQ(find("left").x, 5000);
  EXPECT_EQ(find("right").x, 5000 + 27333 + 4000);
  EXPECT_EQ(find("last").x, 5000 + 2 * (27333 + 4000));
  EXPECT_EQ(find("left").baseline, find("right").baseline);
  EXPECT_EQ(find("left").baseline, find("last").baseline);
  for (const PlacedText& text : page.marks.texts) {
    if (text.text.starts_with("left")) {
      EXPECT_LE(text.x + text.width, 5000 + 27333) << text.text;
      EXPECT_LT(text.baseline, find("below").baseline);
    }
  }
  ASSERT_EQ(page.marks.strokes.size(), 1U);
  EXPECT_EQ(page.marks.strokes[0].points[1].x - page.marks.strokes[0].points[0].x, 27333);
}

TEST(Columns, StayOnOnePageAndAreRefusedWhereTheyAreHigherThanOne) {
  Columns columns;
  columns.columns.resize(2);
  for (int i = 0; i < 5; ++i) columns.columns[0].emplace_back(words_of_ten_points(fmt::format("row {}", i)));
  columns.columns[1].emplace_back(words_of_ten_points("other"));
  std::vector<Block> blocks;
  for (int i = 0; i < 5; ++i) blocks.emplace_back(words_of_ten_points("x"));
  blocks.emplace_back(columns);
  const Pages pages = set(a_page(blocks, 80000, 45000));
  ASSERT_EQ(pages.pages.size(), 2U);
  EXPECT_EQ(text_of(pages.pages[1]), "row 0 other\nrow 1\nrow 2\nrow 3\nrow 4");
  for (int i = 0; i < 20; ++i) columns.columns[0].emplace_back(words_of_ten_points("more", "long column"));
  const auto too_high = lay_out(a_page({columns}, 80000, 45000), fonts());
  ASSERT_FALSE(too_high);
  EXPECT_NE(too_high.error().front().message.find("mm high"), std::string::npos);
}

TEST(Columns, CarryABarAndACode) {
  Columns columns;
  columns.columns = {{Barred{{words_of_ten_points("first"), words_of_ten_points("second")}}}, {a_code()}};
  const Page page = set(a_page({columns})).pages.front();
  const auto bars = std::count_if(page.marks.fills.begin(), page.marks.fills.end(), [](const Fill& fill) { return fill.width == 900; });
  EXPECT_EQ(bars, 2) << "one a line, joined";
  EXPECT_TRUE(std::any_of(page.marks.fills.begin(), page.marks.fills.end(), [](const Fill& fill) { return fill.x > 40000; }));
}

TEST(Columns, HoldNoPageBreak) {
  Columns columns;
  columns.columns = {{words_of_ten_points("one"), PageBreak{}, words_of_ten_points("two")}};
  EXPECT_THROW(lay_out(a_page({columns}), fonts()), Fault);
}

TEST(Columns, RefuseTheWordsOfEveryColumn) {
  Columns columns;
  columns.columns = {{words_of_ten_points("蛋", "one")}, {words_of_ten_points("糕", "two")}};
  const auto pages = lay_out(a_page({columns}), fonts());
  ASSERT_FALSE(pages);
  ASSERT_EQ(pages.error().size(), 2U);
  EXPECT_EQ(pages.error()[0].field, "one");
  EXPECT_EQ(pages.error()[1].field, "two");
}

}  // namespace
}  // namespace tierproof
