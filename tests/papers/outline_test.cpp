#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "sample.h"
#include "tierproof/papers/document.h"

namespace tierproof {
namespace {

using testdata::fonts;

constexpr PointSize led_size = PointSize::hundredths(1000);

Paragraph said(std::string text, std::string link = "") {
  Paragraph made;
  made.runs = {{std::move(text), Face::condensed, led_size, 0, std::move(link)}};
  made.field = "text";
  return made;
}

Paragraph headed(std::string text, int level = 1, std::string anchor = "") {
  Paragraph made = said(std::move(text));
  made.bookmark = level;
  made.anchor = std::move(anchor);
  return made;
}

Document book(std::vector<Block> blocks) {
  Document made;
  made.width = 90000;
  made.height = 60000;
  made.left = made.right = made.top = made.bottom = 5000;
  made.blocks = std::move(blocks);
  return made;
}

Contents contents_to(int levels) { return {{"", Face::condensed, led_size, 0}, levels, "contents"}; }

Pages bound(const Document& document) {
  auto pages = lay_out(document, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {{Page{}}};
  }
  return std::move(*pages);
}

const PlacedText& text_on(const Page& page, std::string_view words) {
  const auto found =
      std::find_if(page.marks.texts.begin(), page.marks.texts.end(), [&](const PlacedText& text) { return text.text == words; });
  if (found == page.marks.texts.end()) throw std::runtime_error{"not on the page: " + std::string{words}};
  return *found;
}

/// Whether the link's box holds the whole text.
bool holds(const Link& link, const PlacedText& text) {
  return link.x <= text.x && link.x + link.width >= text.x + text.width &&
         link.y <= text.baseline - fonts().capital_height(text.face, text.size) && link.y + link.height >= text.baseline;
}

TEST(Links, LeadToTheParagraphOnItsPage) {
  const Pages pages = bound(book({said("see below", "#below"), PageBreak{}, said("first"), headed("below", 0, "below")}));
  ASSERT_EQ(pages.pages[0].links.size(), 1U);
  const Link& link = pages.pages[0].links[0];
  EXPECT_TRUE(holds(link, text_on(pages.pages[0], "see below")));
  EXPECT_EQ(link.address, "");
  EXPECT_EQ(link.page, 1U);
  const PlacedText& below = text_on(pages.pages[1], "below");
  EXPECT_GT(link.to, text_on(pages.pages[1], "first").baseline);
  EXPECT_LT(link.to, below.baseline - fonts().capital_height(below.face, below.size));
  EXPECT_TRUE(pages.bookmarks.empty()) << "an anchor alone is no bookmark";
}

TEST(Links, CoverTheirWordsAndNoOthers) {
  Paragraph mixed = said("plain ");
  mixed.runs.push_back({"linked", Face::condensed, led_size, 0, "https://example.org/a?b=1#c"});
  mixed.runs.push_back({" plain", Face::condensed, led_size, 0});
  for (const Align align : {Align::left, Align::centre, Align::right}) {
    mixed.align = align;
    const Page page = bound(book({mixed})).pages[0];
    ASSERT_EQ(page.links.size(), 1U);
    const PlacedText& linked = text_on(page, "linked");
    EXPECT_EQ(page.links[0].address, "https://example.org/a?b=1#c");
    EXPECT_TRUE(holds(page.links[0], linked));
    EXPECT_EQ(page.links[0].x, linked.x);
    EXPECT_EQ(page.links[0].width, linked.width);
  }
}

TEST(Links, AreOnEveryLineOfTheirWords) {
  const Page page =
      bound(book({said("a link of so many words that it takes two lines to say all of them", "https://example.org/")})).pages[0];
  ASSERT_EQ(page.marks.texts.size(), 2U);
  ASSERT_EQ(page.links.size(), 2U);
  for (std::size_t i = 0; i < 2; ++i) EXPECT_TRUE(holds(page.links[i], page.marks.texts[i]));
}

TEST(Links, WorkInTablesColumnsBarsAndFooters) {
  Table table;
  table.columns = {Column{}, Column{0, true}};
  table.rows = {Row{{Cell{{said("left")}, 1}, Cell{{said("in a table", "#end")}, 1}}}};
  Columns columns;
  columns.columns = {{said("left")}, {said("in a column", "#end")}};
  Document document = book({table, columns, Barred{{said("in a bar", "#end")}}, headed("end", 0, "end")});
  document.footer = {{"foot", Face::condensed, led_size, 0, "#end"}};
  const Page page = bound(document).pages[0];
  ASSERT_EQ(page.links.size(), 4U);
  for (const char* words : {"in a table", "in a column", "in a bar", "foot"}) {
    EXPECT_TRUE(std::any_of(page.links.begin(), page.links.end(), [&](const Link& link) { return holds(link, text_on(page, words)); }))
        << words;
  }
}

TEST(Links, ThatRunSomethingOrAreNoAddressAreRefused) {
  for (const char* address :
       {"javascript:alert(1)", "file:///etc/passwd", "https://example.org/a b", "example.org", "https://b\"c", "HTTPS://x\n"}) {
    const auto pages = lay_out(book({said("link", address)}), fonts());
    ASSERT_FALSE(pages) << address;
    EXPECT_EQ(pages.error().front().field, "text");
    EXPECT_NE(pages.error().front().message.find("is not an address of the web"), std::string::npos);
  }
}

TEST(Links, ToNowhereOrToTwoPlacesAreOurBug) {
  for (const Document& document : {book({said("link", "#nowhere")}), book({headed("one", 0, "same"), headed("two", 0, "same")})}) {
    try {
      lay_out(document, fonts());
      FAIL() << "a reader would be led nowhere, or astray";
    } catch (const Fault& fault) {
      EXPECT_EQ(fault.exit_status(), exit_status::our_bug);
    }
  }
}

TEST(Links, MayLeadOutOfWhatIsOnlyMeasured) { EXPECT_TRUE(height_needed(book({said("link", "#elsewhere")}), fonts()).has_value()); }

TEST(Bookmarks, LeadToTheirParagraphsInOrder) {
  const Pages pages = bound(book({headed("One"), headed("One\none", 2), PageBreak{}, said("words"), headed("Two")}));
  ASSERT_EQ(pages.bookmarks.size(), 3U);
  EXPECT_EQ(pages.bookmarks[0], (Bookmark{"One", 1, 0, 5000}));
  EXPECT_EQ(pages.bookmarks[1].words, "One one");
  EXPECT_EQ(pages.bookmarks[1].level, 2);
  EXPECT_EQ(pages.bookmarks[2].page, 1U);
  EXPECT_GT(pages.bookmarks[2].y, text_on(pages.pages[1], "words").baseline);
}

TEST(Bookmarks, ShowARepeatedHeadOnce) {
  Table table;
  table.columns = {Column{0, true}};
  table.head = {Row{{Cell{{headed("Packs")}, 1}}}};
  for (int i = 0; i < 30; ++i) table.rows.push_back(Row{{Cell{{said(fmt::format("pack {}", i))}, 1}}});
  const Pages pages = bound(book({table}));
  ASSERT_GT(pages.pages.size(), 2U);
  ASSERT_EQ(pages.bookmarks.size(), 1U);
  EXPECT_EQ(pages.bookmarks[0].page, 0U);
}

TEST(Contents, GivePageAndLinkOfEveryBookmark) {
  const Pages pages =
      bound(book({contents_to(1), PageBreak{}, headed("Alpha"), headed("not listed", 2), PageBreak{}, PageBreak{}, headed("Beta")}));
  ASSERT_EQ(pages.pages.size(), 4U);
  const Page& first = pages.pages[0];
  EXPECT_EQ(text_of(first), "Alpha 2\nBeta 4");
  ASSERT_EQ(first.links.size(), 2U);
  EXPECT_TRUE(holds(first.links[0], text_on(first, "Alpha")));
  EXPECT_TRUE(holds(first.links[0], text_on(first, "2")));
  EXPECT_EQ(first.links[0].page, 1U);
  EXPECT_EQ(first.links[1].page, 3U);
  EXPECT_EQ(first.links[1].to, 5000);
}

TEST(Contents, SetTheirNumbersToTheRightAndTheirLevelsInFromTheLeft) {
  std::vector<Block> blocks{contents_to(2), PageBreak{}};
  for (int i = 0; i < 11; ++i) {
    blocks.emplace_back(headed(fmt::format("Chapter {}", i), i == 5 ? 2 : 1));
    blocks.emplace_back(PageBreak{});
  }
  blocks.pop_back();
  Document document = book(std::move(blocks));
  document.height = 90000;
  const Pages pages = bound(document);
  const Page& first = pages.pages[0];
  for (int i = 0; i < 11; ++i) {
    const PlacedText& number = text_on(first, std::to_string(i + 2));
    EXPECT_EQ(number.x + number.width, first.width - first.right);
    const PlacedText& words = text_on(first, fmt::format("Chapter {}", i));
    EXPECT_EQ(words.baseline, number.baseline);
    EXPECT_EQ(words.x, i == 5 ? 5000 + 4000 : 5000);
  }
}

TEST(Contents, CountTheirOwnPagesAndWrapLongWords) {
  std::vector<Block> blocks{contents_to(1)};
  const std::string long_words = "a heading of so many words that one line of the contents has no room for all of them";
  blocks.emplace_back(PageBreak{});
  for (int i = 0; i < 25; ++i) blocks.emplace_back(headed(fmt::format("Section {}", i)));
  blocks.emplace_back(headed(long_words));
  const Pages pages = bound(book(std::move(blocks)));
  ASSERT_GT(pages.bookmarks.front().page, 1U) << "the contents alone take more than a page";
  std::string all;
  for (std::size_t i = 0; i < pages.bookmarks.front().page; ++i) all += text_of(pages.pages[i]) + "\n";
  for (int i = 0; i < 25; ++i) {
    const Bookmark& bookmark = pages.bookmarks[static_cast<std::size_t>(i)];
    EXPECT_NE(all.find(fmt::format("Section {} {}\n", i, bookmark.page + 1)), std::string::npos) << all;
    EXPECT_NO_THROW(text_on(pages.pages[bookmark.page], bookmark.words));
  }
  EXPECT_NE(testdata::words_of_text(all).find(fmt::format("{} {}", long_words, pages.bookmarks.back().page + 1)), std::string::npos) << all;
}

TEST(Contents, TakeTheHeightThatIsMeasured) {
  Document document = book({contents_to(1), headed("Alpha"), headed("Beta")});
  document.height = 300000;
  document.cut_to_length = true;
  const auto needed = height_needed(document, fonts());
  ASSERT_TRUE(needed.has_value());
  EXPECT_EQ(bound(document).pages[0].height, (*needed + 999) / 1000 * 1000);
}

}  // namespace
}  // namespace tierproof
