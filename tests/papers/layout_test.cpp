#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <map>
#include <sstream>

#include "sample.h"
#include "tierproof/papers/document.h"

namespace tierproof {
namespace {

using testdata::fonts;

constexpr PointSize ten = PointSize::hundredths(1000);

TextRun words(std::string text) { return {std::move(text), Face::condensed, ten, 0}; }

Paragraph paragraph(std::string text) {
  Paragraph made;
  made.runs = {words(std::move(text))};
  made.field = "text";
  return made;
}

Document paper(Micrometres width, Micrometres height) {
  Document made;
  made.width = width;
  made.height = height;
  made.left = made.right = made.top = made.bottom = 5000;
  return made;
}

Document paper_with(Block block, Micrometres width = 60000) {
  Document made = paper(width, 300000);
  made.blocks.push_back(std::move(block));
  return made;
}

std::vector<std::string> lines_of(const Page& page) {
  std::vector<std::string> lines;
  std::istringstream in{text_of(page)};
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::vector<std::string> lines_of(const std::string& text, Micrometres width) {
  const auto pages = lay_out(paper_with(paragraph(text), width + 10000), fonts());
  return pages ? lines_of(pages->pages.front()) : std::vector<std::string>{describe(pages.error().front())};
}

using Lines = std::vector<std::string>;

TEST(Lines, BreakAtSpaces) { EXPECT_EQ(lines_of("sugar, butter, flour", 26000), (Lines{"sugar, butter,", "flour"})); }

TEST(Lines, BreakAfterAHyphenOrSlashBetweenLetters) {
  EXPECT_EQ(lines_of("three-tier", 13000), (Lines{"three-", "tier"}));
  EXPECT_EQ(lines_of("milk/cream", 14000), (Lines{"milk/", "cream"}));
}

TEST(Lines, DoNotBreakAHyphenBeforeAFigure) {
  EXPECT_EQ(lines_of("see batch-4", fonts().width("see batch-", Face::condensed, ten)), (Lines{"see", "batch-4"}));
  EXPECT_EQ(lines_of("about 1/2", 15000), (Lines{"about", "1/2"}));
}

TEST(Lines, KeepANumberWithItsUnit) {
  // Each width holds everything but the unit.
  EXPECT_EQ(lines_of("flour 412.5 g", fonts().width("flour 412.5", Face::condensed, ten)), (Lines{"flour", "412.5 g"}));
  EXPECT_EQ(lines_of("below 8 °C", fonts().width("below 8", Face::condensed, ten)), (Lines{"below", "8 °C"}));
  EXPECT_EQ(lines_of("cooled 90 min.", fonts().width("cooled 90", Face::condensed, ten)), (Lines{"cooled", "90 min."}));
  EXPECT_EQ(lines_of("almonds 4 %,", fonts().width("almonds 4", Face::condensed, ten)), (Lines{"almonds", "4 %,"}));
}

TEST(Lines, KeepADateTogether) {
  EXPECT_EQ(lines_of("Use by 4 May 2026", fonts().width("Use by 4 May", Face::condensed, ten)), (Lines{"Use by", "4 May 2026"}));
}

TEST(Lines, KeepACountWithWhatItCounts) {
  EXPECT_EQ(lines_of("take out 6 dowels", fonts().width("take out 6", Face::condensed, ten)), (Lines{"take out", "6 dowels"}));
}

TEST(Lines, KeepASignWithItsNumber) {
  EXPECT_EQ(lines_of("must be ≤ 8 °C", fonts().width("must be ≤", Face::condensed, ten)), (Lines{"must be", "≤ 8 °C"}));
  EXPECT_EQ(lines_of("label 99 × 139", fonts().width("label 99 ×", Face::condensed, ten)), (Lines{"label", "99 × 139"}));
}

TEST(Lines, KeepNoBreakSpaces) { EXPECT_EQ(lines_of("to ZZ99\u00a09ZZ", 16000), (Lines{"to", "ZZ99\u00a09ZZ"})); }

TEST(Lines, EndAtALineFeed) { EXPECT_EQ(lines_of("one\ntwo three", 60000), (Lines{"one", "two three"})); }

TEST(Lines, RefuseAWordWiderThanTheLine) {
  const auto pages = lay_out(paper_with(paragraph("pneumonoultramicroscopic cake"), 30000), fonts());
  ASSERT_FALSE(pages);
  EXPECT_EQ(pages.error().front().field, "text");
  EXPECT_NE(pages.error().front().message.find("pneumonoultramicroscopic"), std::string::npos);
}

TEST(Lines, RunOnAcrossAChangeOfFace) {
  Paragraph list;
  list.runs = {words("butter ("), {"MILK", Face::condensed_bold, ten, 0}, words("), salt")};
  const auto pages = lay_out(paper_with(list), fonts());
  ASSERT_TRUE(pages);
  EXPECT_EQ(lines_of(pages->pages[0]), (Lines{"butter (MILK), salt"}));
  ASSERT_EQ(pages->pages[0].marks.texts.size(), 3U);
  const auto& texts = pages->pages[0].marks.texts;
  EXPECT_NEAR(static_cast<double>(texts[0].x + texts[0].width), static_cast<double>(texts[1].x), 1.0);
  EXPECT_EQ(texts[1].face, Face::condensed_bold);
}

int count_of(const std::string& text, const std::string& part) {
  int count = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

RC_GTEST_PROP(LinesProperty, HoldEveryWordWithinTheWidth, ()) {
  const auto list = *rc::gen::nonEmpty(rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
      "sugar,", "butter", "(MILK),", "412.5", "g", "4", "May", "2026", "three-tier", "≤", "8", "°C", "milk/cream", "EGG", "é")));
  const auto width = *rc::gen::inRange<Micrometres>(32000, 120000);
  std::string text;
  for (const std::string& word : list) text += (text.empty() ? "" : " ") + word;
  const auto pages = lay_out(paper_with(paragraph(text), width + 10000), fonts());
  if (!pages) {  // chains of bound words may be wider than any line; then they are refused, by name
    RC_ASSERT(pages.error().front().field == "text");
    return;
  }
  std::string back;
  std::map<std::string, int> together;  // what must be on one line, and how often it is in the text
  for (const char* bound : {"412.5 g", "4 May", "May 2026", "≤ 8", "8 °C"}) together[bound] = count_of(text, bound);
  for (const PlacedText& line : pages->pages.front().marks.texts) {
    RC_ASSERT(line.x >= 5000);
    RC_ASSERT(line.x + line.width <= width + 5000);
    RC_ASSERT(line.text.front() != ' ');
    RC_ASSERT(line.text.back() != ' ');
    for (auto& [bound, left] : together) left -= count_of(line.text, bound);
    const bool hyphen = !back.empty() && (back.ends_with("three-") || back.ends_with("milk/"));
    back += (back.empty() || hyphen ? "" : " ") + line.text;
  }
  RC_ASSERT(back == text);
  for (const auto& [bound, left] : together) RC_ASSERT(left == 0);
}

// --- pages ---

Table packs(int rows) {
  Table table;
  table.columns = {Column{}, Column{0, true}};
  table.head = {Row{{Cell{{paragraph("pack")}, 1}, Cell{{paragraph("supplier")}, 1}}, true, false}};
  for (int i = 0; i < rows; ++i) {
    table.rows.push_back(
        Row{{Cell{{paragraph(fmt::format("row{}a", i)), paragraph(fmt::format("row{}b", i))}, 1}, Cell{{paragraph("a mill")}, 1}},
            true,
            false});
  }
  return table;
}

TEST(Pages, RepeatTheHeadOfATableAndNeverSplitARow) {
  Document document = paper(80000, 60000);
  document.blocks = {packs(12)};
  const auto pages = lay_out(document, fonts());
  ASSERT_TRUE(pages);
  ASSERT_GT(pages->pages.size(), 2U);
  for (const Page& page : pages->pages) {
    const std::string text = text_of(page);
    EXPECT_TRUE(text.starts_with("pack supplier")) << text;
    for (int i = 0; i < 12; ++i) {
      EXPECT_EQ(text.find(fmt::format("row{}a", i)) != std::string::npos, text.find(fmt::format("row{}b", i)) != std::string::npos) << text;
    }
  }
}

TEST(Pages, LeaveNoRowOutAndShowNoneTwice) {
  Document document = paper(80000, 60000);
  document.blocks = {packs(12)};
  const auto pages = lay_out(document, fonts());
  ASSERT_TRUE(pages);
  std::map<std::string, int> seen;
  for (const Page& page : pages->pages) {
    for (const PlacedText& text : page.marks.texts) ++seen[text.text];
  }
  for (int i = 0; i < 12; ++i) EXPECT_EQ(seen[fmt::format("row{}a", i)], 1);
}

TEST(Pages, RefuseARowHigherThanThePage) {
  Document document = paper(80000, 40000);
  Table table = packs(1);
  for (int i = 0; i < 20; ++i) table.rows[0].cells[1].paragraphs.push_back(paragraph("more"));
  document.blocks = {std::move(table)};
  const auto pages = lay_out(document, fonts());
  ASSERT_FALSE(pages);
  EXPECT_NE(pages.error().front().message.find("mm high"), std::string::npos);
}

TEST(Pages, CountThemselves) {
  Document document = paper(80000, 60000);
  document.footer = {words("Record")};
  document.numbered = true;
  document.blocks = {packs(12)};
  const auto pages = lay_out(document, fonts());
  ASSERT_TRUE(pages);
  const std::size_t count = pages->pages.size();
  for (std::size_t i = 0; i < count; ++i) {
    EXPECT_TRUE(text_of(pages->pages[i]).ends_with(fmt::format("Record page {} of {}", i + 1, count))) << text_of(pages->pages[i]);
  }
}

TEST(Pages, SayDemoOnEveryPageClearOfTheText) {
  Document document = paper(80000, 60000);
  document.demo = "DEMO";
  document.demo_type = {"", Face::condensed_bold, PointSize::hundredths(1400), 0};
  document.blocks = {packs(12)};
  const auto pages = lay_out(document, fonts());
  ASSERT_TRUE(pages);
  for (const Page& page : pages->pages) {
    EXPECT_TRUE(text_of(page).starts_with("DEMO\n")) << text_of(page);
    const auto demo =
        std::find_if(page.marks.texts.begin(), page.marks.texts.end(), [](const PlacedText& text) { return text.text == "DEMO"; });
    ASSERT_NE(demo, page.marks.texts.end());
    for (const PlacedText& text : page.marks.texts) {
      if (text.text == "DEMO") continue;
      EXPECT_GT(text.baseline - fonts().capital_height(text.face, text.size), demo->baseline) << text.text;
    }
  }
}

TEST(Pages, KeepAHeadingWithWhatFollows) {
  for (int before = 1; before < 12; ++before) {
    Document document = paper(80000, 60000);
    for (int i = 0; i < before; ++i) document.blocks.push_back(paragraph(fmt::format("line {}", i)));
    Paragraph heading = paragraph("Heading");
    heading.keep_with_next = true;
    document.blocks.push_back(heading);
    document.blocks.push_back(paragraph("follows"));
    const auto pages = lay_out(document, fonts());
    ASSERT_TRUE(pages);
    for (const Page& page : pages->pages) {
      const std::string text = text_of(page);
      EXPECT_EQ(text.find("Heading") != std::string::npos, text.find("follows") != std::string::npos) << before;
    }
  }
}

TEST(Pages, LeaveNoLineOfAParagraphAlone) {
  for (int before = 0; before < 12; ++before) {
    Document document = paper(60000, 60000);
    for (int i = 0; i < before; ++i) document.blocks.push_back(paragraph("x"));
    document.blocks.push_back(paragraph("aaaaaaaaaaaaaaaaa bbbbbbbbbbbbbbbbbbb ccccccccccccccccccc ddddddddddddddddd eeeeeeeeeeeeeeeee"));
    const auto pages = lay_out(document, fonts());
    ASSERT_TRUE(pages);
    for (const Page& page : pages->pages) {
      const auto lines = lines_of(page);
      EXPECT_NE(std::count_if(lines.begin(), lines.end(), [](const std::string& line) { return line != "x"; }), 1) << before;
    }
  }
}

TEST(Pages, KeepTogetherWhatFitsOnOnePage) {
  Document document = paper(80000, 60000);
  for (int i = 0; i < 7; ++i) document.blocks.push_back(paragraph(fmt::format("line {}", i)));
  document.blocks.push_back(Together{{paragraph("first"), paragraph("second"), paragraph("third"), paragraph("fourth")}});
  const auto pages = lay_out(document, fonts());
  ASSERT_TRUE(pages);
  ASSERT_EQ(pages->pages.size(), 2U);
  EXPECT_EQ(text_of(pages->pages[1]), "first\nsecond\nthird\nfourth");
}

TEST(Pages, AreCutToLengthOnARoll) {
  Document document = paper(62000, 300000);
  document.cut_to_length = true;
  document.blocks = {paragraph("short")};
  const auto pages = lay_out(document, fonts());
  ASSERT_TRUE(pages);
  EXPECT_LT(pages->pages[0].height, 20000);
  EXPECT_EQ(pages->pages[0].height % 1000, 0);
}

TEST(Pages, RefuseARollThatIsTooLong) {
  Document document = paper(62000, 20000);
  document.cut_to_length = true;
  document.blocks = {paragraph("a\nb\nc\nd\ne\nf")};
  const auto pages = lay_out(document, fonts());
  ASSERT_FALSE(pages);
  EXPECT_NE(pages.error().front().message.find("longer than the 20.0 mm"), std::string::npos);
}

TEST(Pages, RefuseEveryTextThatCannotBeSet) {
  Document document = paper(80000, 60000);
  Paragraph one = paragraph("蛋");
  one.field = "one";
  Paragraph two = paragraph("糕");
  two.field = "two";
  document.blocks = {one, two};
  const auto pages = lay_out(document, fonts());
  ASSERT_FALSE(pages);
  ASSERT_EQ(pages.error().size(), 2U);
  EXPECT_EQ(pages.error()[1].field, "two");
}

}  // namespace
}  // namespace tierproof
