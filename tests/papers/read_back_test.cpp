// What other programs read in our PDFs: poppler and mupdf see the words, faces, sizes and places that the pages have.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <functional>
#include <sstream>

#include "sample.h"
#include "tierproof/papers/allergen_sheet.h"
#include "tierproof/papers/cake_record.h"
#include "tierproof/papers/document.h"
#include "tierproof/papers/label.h"
#include "tierproof/papers/pdf.h"

namespace tierproof {
namespace {

using testdata::fonts;
using testdata::kept;
using testdata::output_of;

constexpr double a_hair = 0.1;  // points, 0.035 mm: coordinates are micrometres written with five figures

double in_points(Micrometres length) { return static_cast<double>(length) * 72.0 / 25400.0; }

// --- what the other programs print ---

std::string without_entities(std::string_view xml) {
  std::string out;
  for (std::size_t i = 0; i < xml.size(); ++i) {
    const std::size_t end = xml[i] == '&' ? xml.find(';', i) : xml.npos;
    if (end == xml.npos) {
      out += xml[i];
      continue;
    }
    const std::string_view name = xml.substr(i + 1, end - i - 1);
    i = end;
    if (name.starts_with("#x")) {
      std::uint32_t number = 0;
      std::from_chars(name.data() + 2, name.data() + name.size(), number, 16);
      out += utf8_of(std::u32string{static_cast<char32_t>(number)});
    } else {
      out += name == "amp" ? "&" : name == "lt" ? "<" : name == "gt" ? ">" : name == "quot" ? "\"" : "'";
    }
  }
  return out;
}

/// The value of an attribute in a line of XML, or nothing.
std::string attribute(std::string_view line, const std::string& name) {
  const std::string before = " " + name + "=\"";
  const std::size_t at = line.find(before);
  if (at == line.npos) return {};
  const std::size_t start = at + before.size();
  return without_entities(line.substr(start, line.find('"', start) - start));
}

double number_in(std::string_view line, const std::string& name) {
  const std::string text = attribute(line, name);
  double value = std::nan("");
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

/// A word as poppler reads it, in points from the top left corner.
struct ReadWord {
  std::size_t page = 0;
  double left = 0;
  double top = 0;
  double right = 0;
  double bottom = 0;
  std::string text;
};

std::vector<ReadWord> words_of_poppler(const std::string& path) {
  std::vector<ReadWord> words;
  std::size_t pages = 0;
  std::istringstream in{output_of("pdftotext -bbox " + path + " - 2>&1")};
  for (std::string line; std::getline(in, line);) {
    if (line.find("<page ") != line.npos) ++pages;
    const std::size_t word = line.find("<word ");
    if (word == line.npos) continue;
    const std::size_t start = line.find('>', word) + 1;
    words.push_back({pages - 1, number_in(line, "xMin"), number_in(line, "yMin"), number_in(line, "xMax"), number_in(line, "yMax"),
                     without_entities(std::string_view{line}.substr(start, line.rfind("</word>") - start))});
  }
  return words;
}

/// A character as mupdf reads it.
struct ReadCharacter {
  std::size_t page = 0;
  double x = 0;
  double baseline = 0;
  std::string character;
  std::string font;
  double size = 0;
};

std::vector<ReadCharacter> characters_of_mupdf(const std::string& path) {
  std::vector<ReadCharacter> read;
  std::size_t pages = 0;
  std::string font;
  double size = 0;
  std::istringstream in{output_of("mutool draw -q -F stext -o - " + path + " 2>&1")};
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with("<page ")) ++pages;
    if (line.starts_with("<font ")) {
      font = attribute(line, "name");
      size = number_in(line, "size");
    }
    if (line.starts_with("<char ")) {
      read.push_back({pages - 1, number_in(line, "x"), number_in(line, "y"), attribute(line, "c"), font, size});
    }
  }
  return read;
}

/// Links as mupdf reads them: the page they are on, their box, and where they lead.
std::vector<std::string> links_of_mupdf(const std::string& path) {
  const std::string script = kept("links.js",
                                  "var paper = new Document(scriptArgs[0]);\n"
                                  "for (var i = 0; i < paper.countPages(); ++i) {\n"
                                  "  var links = paper.loadPage(i).getLinks();\n"
                                  "  for (var k = 0; k < links.length; ++k) {\n"
                                  "    var box = links[k].bounds.map(function (n) { return Math.round(n); });\n"
                                  "    print(i + ' ' + box + ' ' + links[k].uri.replace(/\\.[0-9]+$/, ''));\n"
                                  "  }\n"
                                  "}\n");
  std::vector<std::string> links;
  std::istringstream in{output_of("mutool run " + script + " " + path + " 2>&1")};
  for (std::string line; std::getline(in, line);) links.push_back(line);
  return links;
}

// --- papers ---

Pages the_pages(Result<Pages> pages) {
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {{Page{}}};
  }
  return std::move(*pages);
}

Pages label_on(const LabelContent& content, const Stock& stock) {
  auto pages = lay_out_label(content, stock, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {{Page{}}};
  }
  return static_cast<const Pages&>(*pages);
}

TextRun booked(std::string text, Face face = Face::condensed, std::string link = "") {
  return {std::move(text), face, PointSize::hundredths(1000), 0, std::move(link)};
}

Paragraph of_runs(std::vector<TextRun> runs) {
  Paragraph made;
  made.runs = std::move(runs);
  made.field = "text";
  made.after = 1000;
  return made;
}

Paragraph chapter(const std::string& words, int level, const std::string& anchor = "") {
  Paragraph made = of_runs({{words, Face::bold, PointSize::hundredths(1400), 0}});
  made.bookmark = level;
  made.anchor = anchor;
  made.keep_with_next = true;
  return made;
}

/// A paper with one of everything that the layout knows, in three alphabets.
Document a_book() {
  Document book;
  book.width = 148000;
  book.height = 105000;
  book.left = book.right = book.top = book.bottom = 8000;
  book.footer = {booked("A book of test data", Face::regular)};
  book.numbered = true;
  Code code{"QR Code", "pattern", 21, 21, std::vector<bool>(441, true), 4};
  for (std::size_t i = 0; i < 441; i += 2) code.dark[i] = false;
  Beside beside;
  beside.blocks = {of_runs({booked("Words beside a code, with "), booked("EMPHASIS", Face::condensed_bold), booked(" in them.")})};
  beside.code = {code, 300, 330, Align::left, "code"};
  Columns columns;
  columns.columns = {{of_runs({booked("Left column")})}, {of_runs({booked("Right column & <more>")})}};
  Table table;
  table.columns = {Column{}, Column{0, true}};
  table.head = {Row{{Cell{{of_runs({booked("pack", Face::bold)})}, 1}, Cell{{of_runs({booked("supplier", Face::bold)})}, 1}}}};
  for (int i = 0; i < 30; ++i) {
    table.rows.push_back(
        Row{{Cell{{of_runs({booked(fmt::format("L{}", 1000 + i))})}, 1}, Cell{{of_runs({booked("Μύλος Άλεσμα", Face::regular)})}, 1}}});
  }
  book.blocks = {chapter("Crème brûlée", 1, "first"),
                 of_runs({booked("Straße, crème fraîche, Łódź, мука, 412.5 g at 8 °C. "), booked("To the table", Face::condensed, "#table"),
                          booked(" or "), booked("to the web", Face::condensed, "https://example.org/rules?id=1&part=2"), booked(".")}),
                 Contents{booked(""), 2, "contents"},
                 PageBreak{},
                 chapter("Beside (and columns)", 2),
                 std::move(beside),
                 std::move(columns),
                 Barred{{of_runs({booked("Behind a bar")})}},
                 Blanks{{booked("name"), booked("date")}, 9000, "blanks"},
                 chapter("Мука: packs", 1, "table"),
                 std::move(table),
                 of_runs({booked("Back to the start", Face::condensed, "#first")})};
  return book;
}

struct PaperCase {
  std::string name;
  std::function<Pages()> pages;
};

void PrintTo(const PaperCase& paper, std::ostream* out) { *out << paper.name; }

class ReadBack : public testing::TestWithParam<PaperCase> {
 protected:
  void SetUp() override {
    pages_ = GetParam().pages();
    path_ = kept(GetParam().name + ".pdf", write_pdf(pages_, fonts(), {"Read back", Instant{}}));
  }
  Pages pages_;
  std::string path_;
};

LabelContent a_demo_label() {
  LabelContent label = testdata::a_short_label();
  label.demo = true;
  label.stop = "DO NOT HAND OVER: sulphites are not known.";
  return label;
}

INSTANTIATE_TEST_SUITE_P(
    Papers, ReadBack,
    testing::Values(PaperCase{"label_sheet", [] { return label_on(testdata::a_label(), testdata::a_sheet_label()); }},
                    PaperCase{"label_die_cut", [] { return label_on(testdata::a_short_label(), testdata::a_die_cut_label()); }},
                    PaperCase{"label_roll", [] { return label_on(testdata::a_label(), testdata::a_roll()); }},
                    PaperCase{"label_demo", [] { return label_on(a_demo_label(), testdata::a_roll()); }},
                    PaperCase{"record", [] { return the_pages(lay_out_cake_record(testdata::a_record(), fonts())); }},
                    PaperCase{"record_held", [] { return the_pages(lay_out_cake_record(testdata::a_held_record(), fonts())); }},
                    PaperCase{"allergen_sheet", [] { return the_pages(lay_out_allergen_sheet(testdata::an_allergen_sheet(), fonts())); }},
                    PaperCase{"book", [] { return the_pages(lay_out(a_book(), fonts())); }}),
    [](const auto& paper) { return paper.param.name; });

std::vector<std::string> sorted_words(const std::string& text) {
  std::vector<std::string> words;
  std::istringstream in{text};
  for (std::string word; in >> word;) words.push_back(word);
  std::sort(words.begin(), words.end());
  return words;
}

TEST_P(ReadBack, SaysTheWordsOfThePagesAndNoOthers) {
  const auto read = words_of_poppler(path_);
  for (std::size_t i = 0; i < pages_.pages.size(); ++i) {
    std::string words;
    for (const ReadWord& word : read) {
      if (word.page == i) words += word.text + " ";
    }
    EXPECT_EQ(sorted_words(words), sorted_words(testdata::words_of_text(text_of(pages_.pages[i])))) << "page " << i + 1;
  }
}

TEST_P(ReadBack, HasEveryCharacterInItsFaceAndSizeAtItsPlace) {
  std::vector<ReadCharacter> read = characters_of_mupdf(path_);
  std::erase_if(read, [](const ReadCharacter& each) { return each.character == " " || each.character == "\u00a0"; });
  std::size_t expected = 0;
  std::vector<bool> matched(read.size());
  for (std::size_t i = 0; i < pages_.pages.size(); ++i) {
    for (const PlacedText& text : pages_.pages[i].marks.texts) {
      const bool condensed = text.face == Face::condensed || text.face == Face::condensed_bold;
      const std::u32string characters = characters_of(text.text);
      std::int64_t along = 0;
      for (std::size_t k = 0; k < characters.size(); ++k) {
        const double x = in_points(text.x) + static_cast<double>(along) * 72.0 / 25400000.0;
        along += fonts().advance_nanometres(characters[k], text.face, text.size);
        if (characters[k] == U' ' || characters[k] == U'\u00a0') continue;
        ++expected;
        // A PDF has its widths in whole thousandths of an em, ours are never narrower.
        const double drift = a_hair + static_cast<double>(k) * text.size.to_points() / 1000;
        const std::string character = utf8_of(characters.substr(k, 1));
        std::size_t at = 0;
        while (at < read.size() && (matched[at] || read[at].page != i || read[at].character != character ||
                                    std::abs(read[at].x - x) > drift || std::abs(read[at].baseline - in_points(text.baseline)) > a_hair)) {
          ++at;
        }
        ASSERT_LT(at, read.size()) << character << ", character " << k + 1 << " of `" << text.text << "`, is not at its place";
        matched[at] = true;
        EXPECT_NEAR(read[at].size, text.size.to_points(), 0.005) << text.text;
        EXPECT_EQ(read[at].font.find("Bold") != std::string::npos, is_bold(text.face)) << text.text << " in " << read[at].font;
        EXPECT_EQ(read[at].font.find("Condensed") != std::string::npos, condensed) << text.text << " in " << read[at].font;
      }
    }
  }
  EXPECT_GT(expected, 100U);
  EXPECT_EQ(read.size(), expected) << "characters that the pages do not have";
}

TEST_P(ReadBack, HasEveryWordWithinTheMargins) {
  for (const ReadWord& word : words_of_poppler(path_)) {
    const Page& page = pages_.pages[word.page];
    EXPECT_GE(word.left, in_points(page.left) - a_hair) << word.text;
    EXPECT_LE(word.right, in_points(page.width - page.right) + a_hair) << word.text;
    // The box goes from the highest to the lowest reach of the face, which letters hardly ever have.
    EXPECT_GE(word.top, in_points(page.top) - 1) << word.text;
    EXPECT_LE(word.bottom, in_points(page.height - page.bottom) + 1) << word.text;
  }
}

TEST_P(ReadBack, HasNoWordOverAnother) {
  auto words = words_of_poppler(path_);
  for (ReadWord& word : words) {  // from the highest reach of the face to the top of a capital, and from the lowest to a letter's tail
    const double high = word.bottom - word.top;
    word.top += high * 0.16;
    word.bottom -= high * 0.06;
  }
  for (std::size_t i = 0; i < words.size(); ++i) {
    for (std::size_t k = i + 1; k < words.size() && words[k].page == words[i].page; ++k) {
      const double across = std::min(words[i].right, words[k].right) - std::max(words[i].left, words[k].left);
      const double down = std::min(words[i].bottom, words[k].bottom) - std::max(words[i].top, words[k].top);
      EXPECT_FALSE(across > a_hair && down > a_hair) << words[i].text << " and " << words[k].text << " on page " << words[i].page + 1;
    }
  }
}

TEST_P(ReadBack, IsSoundByQpdfAndQuietInPoppler) {
  EXPECT_NE(output_of("qpdf --check " + path_ + " 2>&1").find("No syntax or stream encoding errors found"), std::string::npos);
  EXPECT_EQ(output_of("pdftotext " + path_ + " /dev/null 2>&1"), "");
}

TEST_P(ReadBack, LeadsWhereThePagesLead) {
  std::vector<std::string> expected;
  for (std::size_t i = 0; i < pages_.pages.size(); ++i) {
    for (const Link& link : pages_.pages[i].links) {
      const auto whole = [](Micrometres length) { return std::lround(in_points(length)); };
      const std::string to =
          link.address.empty() ? fmt::format("#page={}&zoom=100,0,{}", link.page + 1, std::floor(in_points(link.to))) : link.address;
      expected.push_back(
          fmt::format("{} {},{},{},{} {}", i, whole(link.x), whole(link.y), whole(link.x + link.width), whole(link.y + link.height), to));
    }
  }
  EXPECT_EQ(links_of_mupdf(path_), expected);
}

TEST_P(ReadBack, HasTheBookmarksOfThePages) {
  std::string expected;
  for (const Bookmark& bookmark : pages_.bookmarks) {
    expected += fmt::format("{}\"{}\" #page={}\n", std::string(static_cast<std::size_t>(bookmark.level - 1), '\t'), bookmark.words,
                            bookmark.page + 1);
  }
  std::string read;
  std::istringstream in{output_of("mutool show " + path_ + " outline 2>&1")};
  for (std::string line; std::getline(in, line);) {
    const std::size_t quote = line.find('"');
    ASSERT_NE(quote, line.npos) << line;
    // mupdf writes one mark and a tab, then a tab a level.
    std::string to = line.substr(line.rfind('#'));
    read +=
        std::string(static_cast<std::size_t>(std::count(line.begin(), line.begin() + static_cast<std::ptrdiff_t>(quote), '\t') - 1), '\t') +
        line.substr(quote, line.rfind('"') - quote + 1) + " " + to.substr(0, to.find('&')) + "\n";
  }
  EXPECT_EQ(read, expected);
}

// --- what only some papers have ---

/// The words of every run of a document, in order.
std::string words_of_blocks(const std::vector<Block>& blocks);

struct WordsOfBlock {
  std::string operator()(const Paragraph& paragraph) const {
    std::string words;
    for (const TextRun& run : paragraph.runs) words += run.text;
    return words;
  }
  std::string operator()(const Table& table) const {
    std::string words;
    for (const auto* rows : {&table.head, &table.rows}) {
      for (const Row& row : *rows) {
        for (const Cell& cell : row.cells) {
          for (const Paragraph& paragraph : cell.paragraphs) words += (*this)(paragraph) + " ";
        }
      }
    }
    return words;
  }
  std::string operator()(const Blanks& blanks) const {
    std::string words;
    for (const TextRun& label : blanks.labels) words += label.text + " ";
    return words;
  }
  std::string operator()(const Together& together) const { return words_of_blocks(together.blocks); }
  std::string operator()(const Barred& barred) const { return words_of_blocks(barred.blocks); }
  std::string operator()(const Beside& beside) const { return words_of_blocks(beside.blocks); }
  std::string operator()(const Columns& columns) const {
    std::string words;
    for (const auto& blocks : columns.columns) words += words_of_blocks(blocks);
    return words;
  }
  template <class T>
  std::string operator()(const T&) const {
    return {};
  }
};

std::string words_of_blocks(const std::vector<Block>& blocks) {
  std::string words;
  for (const Block& block : blocks) words += std::visit(WordsOfBlock{}, block.held) + " ";
  return words;
}

TEST(ReadBackBook, SaysTheWordsOfTheDocument) {
  const Document book = a_book();
  const Pages pages = the_pages(lay_out(book, fonts()));
  std::string expected = words_of_blocks(book.blocks);
  for (const Bookmark& bookmark : pages.bookmarks) expected += fmt::format(" {} {}", bookmark.words, bookmark.page + 1);  // the contents
  std::size_t heads = 0;
  for (std::size_t i = 0; i < pages.pages.size(); ++i) {
    expected += fmt::format(" A book of test data page {} of {}", i + 1, pages.pages.size());
    heads += text_of(pages.pages[i]).find("pack supplier") != std::string::npos ? 1 : 0;
  }
  ASSERT_GT(heads, 2U) << "the table has to go over three pages";
  for (std::size_t i = 1; i < heads; ++i) expected += " pack supplier";
  std::string read;
  for (const ReadWord& word : words_of_poppler(kept("whole_book.pdf", write_pdf(pages, fonts(), {"Book", Instant{}}))))
    read += word.text + " ";
  EXPECT_EQ(sorted_words(read), sorted_words(expected));
}

/// The characters of the list without spaces, each with whether it is to stand out.
std::vector<std::pair<std::string, bool>> emphasis_of(const LabelContent& content) {
  std::vector<std::pair<std::string, bool>> characters;
  const auto add_all = [&](const std::string& text, bool emphasised) {
    for (const char32_t character : characters_of(text)) {
      if (character != U' ') characters.emplace_back(utf8_of(std::u32string{character}), emphasised);
    }
  };
  for (std::size_t i = 0; i < content.ingredients.size(); ++i) {
    for (const Run& run : content.ingredients[i]) add_all(run.text, run.emphasised);
    add_all(i + 1 < content.ingredients.size() ? "," : ".", false);
  }
  return characters;
}

TEST(ReadBackLabel, HasEmphasisedWordsInAnotherFaceThanTheirNeighbours) {
  const LabelContent content = testdata::a_label();
  for (const Stock& stock : {testdata::a_sheet_label(), testdata::a_roll()}) {
    const std::string path = kept("emphasis.pdf", write_pdf(label_on(content, stock), fonts(), {"Label", Instant{}}));
    std::vector<ReadCharacter> read = characters_of_mupdf(path);
    std::erase_if(read, [](const ReadCharacter& each) { return each.character == " "; });
    const auto expected = emphasis_of(content);
    const auto list = std::search(read.begin(), read.end(), expected.begin(), expected.end(),
                                  [](const ReadCharacter& each, const auto& wanted) { return each.character == wanted.first; });
    ASSERT_NE(list, read.end()) << "the list is not read in its order on " << stock.id;
    for (std::size_t i = 0; i < expected.size(); ++i) {
      EXPECT_EQ((list + static_cast<std::ptrdiff_t>(i))->font.find("Bold") != std::string::npos, expected[i].second)
          << "character " << i << ", " << expected[i].first << ", on " << stock.id;
    }
  }
}

/// `Heading ... 3` on a page of the contents leads to page 3, where the heading stands in bold at the height that it leads to.
TEST(ReadBackRecord, LeadsFromEachLineOfTheContentsToItsSectionAndHasABookmarkForIt) {
  for (const auto& [name, content] :
       {std::pair{"record-of-contents", testdata::a_record()}, {"held-of-contents", testdata::a_held_record()}}) {
    const Pages pages = the_pages(lay_out_cake_record(content, fonts()));
    const std::string path = kept(std::string{name} + ".pdf", write_pdf(pages, fonts(), {"Record", Instant{}}));
    const std::vector<ReadWord> words = words_of_poppler(path);
    const std::vector<std::string> links = links_of_mupdf(path);
    const auto line_at = [&](std::size_t page, double left, double right, double least, double most) {
      std::string line;
      for (const ReadWord& word : words) {
        const double middle = (word.top + word.bottom) / 2;
        if (word.page == page && word.left >= left - 1 && word.right <= right + 1 && middle >= least && middle <= most)
          line += (line.empty() ? "" : " ") + word.text;
      }
      return line;
    };
    std::vector<std::string> marked;
    std::istringstream outline{output_of("mutool show " + path + " outline 2>&1")};
    for (std::string line; std::getline(outline, line);) {
      const std::size_t quote = line.find('"') + 1;
      if (std::count(line.begin(), line.begin() + static_cast<std::ptrdiff_t>(quote), '\t') == 1)  // sections, not what is in them
        marked.push_back(line.substr(quote, line.rfind('"') - quote));
    }
    std::vector<std::string> listed;
    for (const std::string& link : links) {
      std::istringstream in{link};
      std::size_t page = 0;
      double left = 0, top = 0, right = 0, bottom = 0;
      char comma = 0;
      std::string to;
      in >> page >> left >> comma >> top >> comma >> right >> comma >> bottom >> to;
      std::string line = line_at(page, left, right, top, bottom);
      const std::size_t last = line.rfind(' ');
      const std::size_t page_at = to.find("#page=");
      if (page != 1 || last == line.npos || page_at == to.npos) continue;  // the contents stand on page two
      const std::string heading = line.substr(0, last);
      listed.push_back(heading);
      const std::size_t led = static_cast<std::size_t>(std::stoul(to.substr(page_at + 6)));
      EXPECT_EQ(line.substr(last + 1), std::to_string(led)) << line;
      const double height = std::stod(to.substr(to.rfind(',') + 1));
      EXPECT_NE(line_at(led - 1, 0, 600, height, height + 30).find(heading), std::string::npos)
          << heading << " is not on page " << led << " at " << height;
    }
    EXPECT_GT(listed.size(), 5U) << name;
    EXPECT_EQ(listed, marked) << name;
  }
}

TEST(ReadBackFiles, ComeOutByteForByte) {
  std::string nasty;
  for (std::uint64_t i = 0; i < 200000; ++i) nasty += static_cast<char>(i * i / 7 + i);
  const std::vector<Attachment> files{{"cake-1-record.json", "{\"name\": \"crème\"}\r\n"},
                                      {"all-bytes.bin", nasty},
                                      {"empty.txt", ""},
                                      {"blocks.txt", std::string(8192, 'b')}};  // two full blocks of the library
  const Pages pages = the_pages(lay_out(a_book(), fonts()));
  PdfInfo info{"Files", Instant{}};
  info.attachments = files;
  const std::string path = kept("files.pdf", write_pdf(pages, fonts(), info));
  EXPECT_NE(output_of("qpdf --check " + path + " 2>&1").find("No syntax or stream encoding errors found"), std::string::npos);
  const std::string list = output_of("pdfdetach -list " + path);
  EXPECT_EQ(list, "4 embedded files\n1: all-bytes.bin\n2: blocks.txt\n3: cake-1-record.json\n4: empty.txt\n");
  for (const Attachment& file : files) {
    EXPECT_TRUE(output_of("qpdf --show-attachment=" + file.name + " " + path) == file.bytes) << file.name;
    const std::string out = testdata::own_folder() + file.name;
    output_of("pdfdetach -savefile " + file.name + " -o " + out + " " + path);
    EXPECT_TRUE(output_of("cat " + out) == file.bytes) << file.name;
  }
}

TEST(ReadBackFiles, LeaveNoDateAndNoPathBehind) {
  const Pages pages = the_pages(lay_out(a_book(), fonts()));
  PdfInfo info{"Files", Instant{}};
  info.attachments = {{"b.json", "{}"}, {"a.json", "[]"}};
  const std::string bytes = write_pdf(pages, fonts(), info);
  std::swap(info.attachments[0], info.attachments[1]);
  EXPECT_TRUE(bytes == write_pdf(pages, fonts(), info)) << "the order in which files are given shows";
  const std::string plain = output_of("qpdf --qdf --object-streams=disable " + kept("dates.pdf", bytes) + " - 2>&1");
  for (const char* word : {"/ModDate", "/CreationDate (D:2", "/tmp/"}) EXPECT_EQ(plain.find(word), std::string::npos) << word;
  EXPECT_EQ(bytes.find("/ID"), std::string::npos);
  EXPECT_NE(plain.find("/CreationDate (D:19700101"), std::string::npos);
}

TEST(ReadBackFiles, OfOneNameAreOurBug) {
  const Pages pages = the_pages(lay_out(a_book(), fonts()));
  PdfInfo info{"Files", Instant{}};
  info.attachments = {{"a.json", "{}"}, {"b.json", ""}, {"a.json", "[]"}};
  EXPECT_THROW(write_pdf(pages, fonts(), info), Fault);
  info.attachments = {{"", "{}"}};
  EXPECT_THROW(write_pdf(pages, fonts(), info), Fault);
}

TEST(ReadBackInfo, NamesTitleAuthorAndLanguageAndClaimsNothingMore) {
  PdfInfo info{"Étiquette", Instant{}};
  info.author = "Gâteaux d’essai (Łódź)";
  info.language = "fr-BE";
  const std::string path = kept("author.pdf", write_pdf(the_pages(lay_out(a_book(), fonts())), fonts(), info));
  const std::string told = output_of("pdfinfo " + path + " 2>&1");
  EXPECT_NE(told.find("Title:           Étiquette\n"), std::string::npos) << told;
  EXPECT_NE(told.find("Author:          Gâteaux d’essai (Łódź)\n"), std::string::npos) << told;
  EXPECT_NE(told.find("PDF version:     1.4\n"), std::string::npos) << told;
  EXPECT_NE(told.find("Metadata Stream: no\n"), std::string::npos) << "a claim of PDF/A would stand there";
  EXPECT_NE(output_of("mutool show " + path + " trailer/Root/Lang 2>&1").find("fr-BE"), std::string::npos);
  const std::string without = kept("no-author.pdf", write_pdf(the_pages(lay_out(a_book(), fonts())), fonts(), {"x", Instant{}}));
  EXPECT_EQ(output_of("pdfinfo " + without).find("Author:"), std::string::npos);
  EXPECT_NE(output_of("mutool show " + without + " trailer/Root/Lang 2>&1").find("null"), std::string::npos);
}

}  // namespace
}  // namespace tierproof
