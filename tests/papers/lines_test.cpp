#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "sample.h"
#include "tierproof/papers/document.h"

namespace tierproof {
namespace {

using Pieces = std::vector<std::string>;

/// What cannot be broken: on paper that is narrower than any letter each piece is refused by itself, and named.
Pieces pieces_of(const std::string& text) {
  Document narrow;
  narrow.width = 10100;
  narrow.height = 300000;
  narrow.left = narrow.right = 5000;
  Paragraph paragraph;
  paragraph.runs = {{text, Face::regular, PointSize::hundredths(1000), 0}};
  paragraph.field = "text";
  narrow.blocks = {paragraph};
  const auto pages = lay_out(narrow, testdata::fonts());
  Pieces pieces;
  if (pages) return pieces;
  for (const Refusal& refusal : pages.error()) {
    const std::size_t start = refusal.message.find('`') + 1;
    pieces.push_back(refusal.message.substr(start, refusal.message.rfind('`') - start));
  }
  return pieces;
}

struct BreakCase {
  std::string text;
  Pieces pieces;
  std::string rule;  ///< of Unicode Standard Annex 14, revision 51 (Unicode 15), or our own
};

class BreakRule : public testing::TestWithParam<BreakCase> {};

TEST_P(BreakRule, Holds) { EXPECT_EQ(pieces_of(GetParam().text), GetParam().pieces) << GetParam().rule; }

INSTANTIATE_TEST_SUITE_P(
    OfUnicode, BreakRule,
    testing::Values(BreakCase{"one two", {"one", "two"}, "LB 18: break after spaces"},
                    BreakCase{"one  two", {"one", "two"}, "LB 7: not before spaces"},
                    BreakCase{"to ZZ99\u00a09ZZ", {"to", "ZZ99\u00a09ZZ"}, "LB 12: not after a no-break space"},
                    BreakCase{"8\u202f°C", {"8\u202f°C"}, "LB 12: nor after a narrow one"},
                    BreakCase{"well\u2011known cake", {"well\u2011known", "cake"}, "LB 12: nor after a no-break hyphen"},
                    BreakCase{"Sucre : 12", {"Sucre :", "12"}, "LB 13: not before a colon, even after a space"},
                    BreakCase{"Fragile ! Store", {"Fragile !", "Store"}, "LB 13: nor before an exclamation mark"},
                    BreakCase{"Lait / Milk", {"Lait /", "Milk"}, "LB 13: nor before a slash"},
                    BreakCase{"flour ( WHEAT ) and", {"flour", "( WHEAT )", "and"}, "LB 13 and 14: brackets hold what is in them"},
                    BreakCase{"say ¿ who", {"say", "¿ who"}, "LB 14: not after an opening mark"},
                    BreakCase{"told “yes” ( twice )", {"told", "“yes” ( twice )"}, "LB 15: a quotation mark before a bracket"},
                    BreakCase{"so — — so", {"so", "— —", "so"}, "LB 17: not between two dashes"},
                    BreakCase{"it’s “Peanut is", {"it’s", "“Peanut", "is"}, "LB 19: not beside a quotation mark"},
                    BreakCase{"three-tier", {"three-", "tier"}, "LB 21: not before a hyphen; after it"},
                    BreakCase{"sponge—filling", {"sponge—", "filling"}, "class B2: after a dash"},
                    BreakCase{"Monday–Friday", {"Monday–", "Friday"}, "LB 21: class BA, after an en dash"},
                    BreakCase{"and so… on", {"and", "so…", "on"}, "LB 22: not before dots"},
                    BreakCase{"pack L2 A7", {"pack", "L2", "A7"}, "LB 23: letters and figures"},
                    BreakCase{"£4.50 €3 5%", {"£4.50", "€3", "5%"}, "LB 25: numbers with what belongs to them"},
                    BreakCase{"see batch-4 now", {"see", "batch-4", "now"}, "LB 25: not between a hyphen and a figure"},
                    BreakCase{"code(s) (s)he", {"code(s)", "(s)he"}, "LB 30: brackets within a word"},
                    BreakCase{"milk/cream", {"milk/", "cream"}, "LB 13: not before a slash; after it"}),
    [](const auto& row) { return "Row" + std::to_string(row.index); });

INSTANTIATE_TEST_SUITE_P(
    OfOurs, BreakRule,
    testing::Values(BreakCase{"flour 412.5 g net", {"flour", "412.5 g", "net"}, "a number and its unit"},
                    BreakCase{"1.5 litres of", {"1.5 litres", "of"}, "a number and what it counts"},
                    BreakCase{"4500 grams", {"4500 grams"}, "a unit in words, though four figures may be a year"},
                    BreakCase{"in 2031 we", {"in", "2031", "we"}, "a year counts nothing"},
                    BreakCase{"takes 2½ cups", {"takes", "2½ cups"}, "a fraction and its unit"},
                    BreakCase{"24 fl oz cream", {"24 fl oz", "cream"}, "a unit of two words"},
                    BreakCase{"NET WT 24 OZ", {"NET", "WT", "24 OZ"}, "a unit in capitals"},
                    BreakCase{"of 4 500 g", {"of", "4 500 g"}, "the thousands of a number"},
                    BreakCase{"10 mg/kg E202", {"10 mg/kg", "E202"}, "a unit is not broken at its slash"},
                    BreakCase{"by 4 May 2031 or", {"by", "4 May 2031", "or"}, "a day and its month and year"},
                    BreakCase{"by May 4, 2031", {"by", "May 4,", "2031"}, "a month and its day"},
                    BreakCase{"remove 4 × dowel now", {"remove", "4 × dowel", "now"}, "a multiplication sign ends no line, nor begins one"},
                    BreakCase{"a × b", {"a", "× b"}, "nor where no figure stands before it"},
                    BreakCase{"must be ≤ 8 °C", {"must", "be", "≤ 8 °C"}, "a sign and its number"},
                    BreakCase{"x-height 9-inch E-number", {"x-height", "9-inch", "E-number"}, "one letter never stands alone"},
                    BreakCase{"from 5–8 or 1/2", {"from", "5–8", "or", "1/2"}, "a range, a fraction"},
                    BreakCase{"6, dowels", {"6,", "dowels"}, "a comma parts a figure from what follows"}),
    [](const auto& row) { return "Row" + std::to_string(row.index); });

// --- the test file that Unicode publishes with the annex; Debian's unicode-data keeps it ---

constexpr const char* published_breaks = "/usr/share/unicode/auxiliary/LineBreakTest.txt";

/// One line of it: the characters, and the places where the annex allows a break.
struct PublishedLine {
  std::string source;
  std::string text;
  std::vector<std::size_t> breaks;  ///< bytes before them
};

std::vector<PublishedLine> published_lines() {
  std::vector<PublishedLine> lines;
  std::ifstream in{published_breaks};
  for (std::string line; std::getline(in, line);) {
    const std::string row = line.substr(0, line.find('#'));
    if (row.empty()) continue;
    PublishedLine made;
    made.source = row;
    std::istringstream tokens{row};
    for (std::string token; tokens >> token;) {
      if (token == "÷") {
        made.breaks.push_back(made.text.size());
      } else if (token != "×") {
        made.text += utf8_of(std::u32string{static_cast<char32_t>(std::stoul(token, nullptr, 16))});
      }
    }
    lines.push_back(std::move(made));
  }
  return lines;
}

/// White space that the setter does not keep: typed twice, or at the beginning of a line.
bool has_dropped_spaces(const std::string& text) {
  return text.front() == ' ' || text.find("  ") != text.npos || text.find("\n ") != text.npos;
}

/// The bytes before each break that we make: pieces are found again one after the other, spaces between them belong to the first.
std::vector<std::size_t> our_breaks(const std::string& text) {
  std::vector<std::size_t> breaks;
  std::size_t at = 0;
  for (const std::string& piece : pieces_of(text)) {
    const std::size_t found = text.find(piece, at);
    if (found == text.npos) {  // spaces typed twice are set once
      ADD_FAILURE() << "`" << piece << "` is not in `" << text << "`";
      return breaks;
    }
    if (found > 0) breaks.push_back(found);
    at = found + piece.size();
  }
  return breaks;
}

TEST(PublishedLines, AreBrokenNowhereElse) {
  const auto lines = published_lines();
  ASSERT_GT(lines.size(), 7000U) << published_breaks << " is not what it should be; install unicode-data";
  int compared = 0;
  int broken = 0;
  for (const PublishedLine& line : lines) {
    if (!check_text(line.text, Face::regular, testdata::fonts(), "").empty()) continue;  // refused before it is broken
    if (has_dropped_spaces(line.text)) continue;
    ++compared;
    for (const std::size_t at : our_breaks(line.text)) {
      ++broken;
      EXPECT_NE(std::find(line.breaks.begin(), line.breaks.end(), at), line.breaks.end())
          << line.source << ": `" << line.text << "` at " << at;
    }
  }
  EXPECT_GT(compared, 500) << "too few lines can be set to say anything";
  EXPECT_GT(broken, 100);
}

// Where words and spaces are all there is, we break wherever the annex does.
TEST(PublishedLines, AreBrokenAtEverySpaceBetweenWords) {
  int compared = 0;
  for (const PublishedLine& line : published_lines()) {
    if (!check_text(line.text, Face::regular, testdata::fonts(), "").empty()) continue;
    if (has_dropped_spaces(line.text)) continue;
    const auto ours = our_breaks(line.text);
    for (const std::size_t at : line.breaks) {
      if (at == line.text.size() || line.text[at - 1] != ' ') continue;
      const bool figures = line.text.find_first_of("0123456789") != line.text.npos;
      if (figures) continue;  // ours bind more: see above
      ++compared;
      EXPECT_NE(std::find(ours.begin(), ours.end(), at), ours.end()) << line.source << ": `" << line.text << "` at " << at;
    }
  }
  EXPECT_GT(compared, 100);
}

}  // namespace
}  // namespace tierproof
