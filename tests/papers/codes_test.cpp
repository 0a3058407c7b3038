#include "tierproof/papers/codes.h"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <iterator>

#include "sample.h"
#include "tierproof/papers/document.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/sums/gs1.h"

namespace tierproof {
namespace {

const std::string cake_text = "cake-1 41:5dc9da79";
const std::string cake_elements = "[01]09521234543213[17]260504[10]cake-1";

Code the_code(const Result<Code>& code) {
  EXPECT_TRUE(code.has_value()) << (code ? "" : describe(code.error().front()));
  return code ? *code : Code{};
}
Code a_qr_code(std::string_view text = cake_text) { return the_code(qr_code(text, "code")); }
Code a_data_matrix(std::string_view elements = cake_elements) { return the_code(gs1_data_matrix(elements, "goods")); }

Refusal refusal_of_code(const Result<Code>& code) {
  EXPECT_FALSE(code.has_value()) << code->told;
  if (code.has_value()) return {};
  EXPECT_EQ(code.error().size(), 1u);
  EXPECT_FALSE(code.error().front().remedy.empty());
  return code.error().front();
}

// ISO/IEC 18004: a finder pattern in three corners (a dark ring of 7, a light one, 3 × 3 dark, with a light edge), timing patterns in row
// and column 6, one dark module beside the lower left finder pattern. 17 + 4 × version modules a side.
TEST(QrCode, HasThePatternsThatTheStandardDraws) {
  for (const std::size_t length : {1u, 14u, 15u, 26u, 200u}) {
    const Code code = a_qr_code(std::string(length, 'a'));
    ASSERT_EQ(code.across, code.down);
    ASSERT_EQ(code.dark.size(), static_cast<std::size_t>(code.across * code.across));
    ASSERT_EQ((code.across - 17) % 4, 0);
    const int last = code.across - 1;
    for (const auto& [left, top] : std::vector<std::pair<int, int>>{{0, 0}, {last - 6, 0}, {0, last - 6}}) {
      for (int y = -1; y <= 7; ++y) {
        for (int x = -1; x <= 7; ++x) {
          if (left + x < 0 || left + x > last || top + y < 0 || top + y > last) continue;
          const int ring = std::max(std::abs(x - 3), std::abs(y - 3));
          EXPECT_EQ(code.is_dark(left + x, top + y), ring == 3 || ring < 2) << length << " at " << left + x << ", " << top + y;
        }
      }
    }
    for (int i = 8; i < last - 7; ++i) {
      EXPECT_EQ(code.is_dark(i, 6), i % 2 == 0) << i;
      EXPECT_EQ(code.is_dark(6, i), i % 2 == 0) << i;
    }
    EXPECT_TRUE(code.is_dark(8, last - 7));
  }
}

// ISO/IEC 18004: versions 1, 2 and 40 hold 14, 26 and 2331 bytes at level M (table of capacities, from memory).
TEST(QrCode, IsTheSmallestThatHoldsItsText) {
  EXPECT_EQ(a_qr_code(std::string(14, 'a')).across, 21);
  EXPECT_EQ(a_qr_code(std::string(15, 'a')).across, 25);
  EXPECT_EQ(a_qr_code(std::string(26, 'a')).across, 25);
  EXPECT_EQ(a_qr_code(std::string(27, 'a')).across, 29);
  EXPECT_EQ(a_qr_code(std::string(2331, 'a')).across, 177);
  const Refusal too_long = refusal_of_code(qr_code(std::string(2332, 'a'), "code"));
  EXPECT_EQ(too_long.message.substr(0, 40), "is too long for a QR Code (2332 bytes): ") << too_long.message;
  EXPECT_EQ(too_long.field, "code");
  EXPECT_FALSE(qr_code(std::string(20'000, 'a'), "code").has_value());
}

TEST(QrCode, SaysWhatItTellsAndHowMuchStaysEmpty) {
  const Code code = a_qr_code();
  EXPECT_EQ(code.kind, "QR Code");
  EXPECT_EQ(code.told, cake_text);
  EXPECT_EQ(code.quiet, 4);
  EXPECT_EQ(code, a_qr_code()) << "the same modules every time";
}

TEST(QrCode, RefusesWhatIsNoText) {
  EXPECT_EQ(refusal_of_code(qr_code("", "code")).message, "says nothing that a QR Code could hold");
  EXPECT_EQ(refusal_of_code(qr_code("caf\xC3\x28", "code")).message, "is not plain text (UTF-8)");
  EXPECT_EQ(refusal_of_code(qr_code(std::string("a\0b", 3), "code")).message, "is not plain text (UTF-8)");
}

// ISO/IEC 16022: dark left and lower edge, alternating modules at the top and the right, the corner between them light.
TEST(Gs1DataMatrix, HasTheEdgesThatTheStandardDraws) {
  const Code code = a_data_matrix();
  ASSERT_EQ(code.across, code.down);
  EXPECT_EQ(code.across, 20);  // 22 codewords, the most of 20 × 20 (ISO/IEC 16022, table 7, from memory)
  for (int i = 0; i < code.across; ++i) {
    EXPECT_TRUE(code.is_dark(0, i)) << i;
    EXPECT_TRUE(code.is_dark(i, code.down - 1)) << i;
    EXPECT_EQ(code.is_dark(i, 0), i % 2 == 0) << i;
    EXPECT_EQ(code.is_dark(code.across - 1, i), i % 2 == 1) << i;
  }
}

// The encoder left alone takes 32 × 8 for a GTIN and 26 × 12 with a short lot, which need more of a label's width.
TEST(Gs1DataMatrix, IsAlwaysSquare) {
  for (std::size_t length = 0; length <= 20; ++length) {
    const Code code = a_data_matrix("[01]09521234543213" + (length == 0 ? "" : "[10]" + std::string(length, 'a')));
    EXPECT_EQ(code.across, code.down) << length;
  }
}

TEST(Gs1DataMatrix, SaysWhatItTellsAndHowMuchStaysEmpty) {
  const Code code = a_data_matrix();
  EXPECT_EQ(code.kind, "GS1 DataMatrix");
  EXPECT_EQ(code.told, "(01)09521234543213 (17)260504 (10)cake-1");
  EXPECT_EQ(code.quiet, 1);
  EXPECT_EQ(code, a_data_matrix()) << "the same modules every time";
}

// The encoder makes a code of the first four of these too, and only warns.
TEST(Gs1DataMatrix, RefusesWhatTheEncoderDoubts) {
  for (const char* doubtful :
       {"[01]09521234543214", "[01]09521234543213[17]261304", "[01]09521234543213[10]caf#", "[8006]095212345432130403", "[01]0952123454321",
        "[01]", "[01]09521234543213[10]123456789012345678901", "[9999999]1", "01", "", "09521234543213", "(01)09521234543213",
        "[01]09521234543213[10]gâteau", "[01]09521234543213["}) {
    const Refusal refused = refusal_of_code(gs1_data_matrix(doubtful, "goods"));
    EXPECT_EQ(refused.field, "goods");
    EXPECT_NE(refused.message.find("is no GS1 element string: "), std::string::npos) << refused.message;
    EXPECT_EQ(refused.message.find("Warning"), std::string::npos) << refused.message;
  }
}

/// The encoder knows check digits, dates, lengths and characters by itself: it must agree with what the sums allow and refuse.
RC_GTEST_PROP(Gs1DataMatrix, TakesEveryElementStringThatTheSumsGive, ()) {
  static const std::string in_set = "!\"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz";
  const auto text = [] {
    const auto length = *rc::gen::inRange<std::size_t>(0, 21);
    return *rc::gen::container<std::string>(length, rc::gen::elementOf(in_set));
  };
  const auto day = [] { return add_days(Date{std::chrono::year{2000} / 1 / 1}, *rc::gen::inRange(0, 36'525)); };
  Gs1Goods goods;
  goods.gtin = *rc::gen::container<std::string>(13, rc::gen::inRange('0', static_cast<char>('9' + 1)));
  RC_PRE(goods.gtin.find_first_not_of('0') != std::string::npos);
  goods.gtin += gs1_check_digit(goods.gtin);
  if (*rc::gen::arbitrary<bool>()) {
    goods.pieces = *rc::gen::inRange(1, 100);
    goods.piece = *rc::gen::inRange(1, goods.pieces + 1);
  }
  if (*rc::gen::arbitrary<bool>()) goods.made = day();
  if (*rc::gen::arbitrary<bool>()) goods.sell_by = day();
  (*rc::gen::arbitrary<bool>() ? goods.best_before : goods.use_by) = day();
  goods.lot = text();
  goods.serial = text();
  const auto elements = gs1_element_string(goods, "goods");
  RC_ASSERT(elements.has_value());
  const auto code = gs1_data_matrix(*elements, "goods");
  RC_LOG() << *elements;
  RC_ASSERT(code.has_value());
  std::string wrong = *elements;
  char& digit = wrong[wrong.find(']') + 1 + *rc::gen::inRange<std::size_t>(0, 14)];
  digit = digit == '9' ? '0' : static_cast<char>(digit + 1);
  RC_ASSERT(!gs1_data_matrix(wrong, "goods").has_value());
}

// Read back from paper.

/// A picture of a page in greys, as a printer draws it: 0 is black.
struct Scan {
  int width = 0;
  int height = 0;
  std::string greys;
  bool is_inked(int x, int y) const {
    return static_cast<unsigned char>(greys[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)]) <
           128;
  }
};

/// One page with words above a code, laid out for a printer of `dots_per_inch`.
Pages page_with(const Code& code, int dots_per_inch, Micrometres least_module = 330) {
  Document document;
  document.width = 62'000;
  document.height = 100'000;
  document.left = document.top = document.right = document.bottom = 3'000;
  Paragraph words;
  words.runs = {{"Lemon cake with a name that goes on for two lines of this label", Face::condensed, PointSize::hundredths(1000), 0}};
  words.field = "name";
  Paragraph below = words;
  below.runs.front().text = "Below it.";
  document.blocks = {words, CodeBlock{code, dots_per_inch, least_module, Align::centre, "code"}, below};
  auto pages = lay_out(document, testdata::fonts());
  EXPECT_TRUE(pages.has_value()) << (pages ? "" : describe(pages.error().front()));
  return pages ? *pages : Pages{};
}

/// The corners of everything that is filled on the page: here its code.
Fill code_on(const Page& page) {
  Fill all = page.marks.fills.empty() ? Fill{} : page.marks.fills.front();
  for (const Fill& fill : page.marks.fills) {
    const Micrometres right = std::max(all.x + all.width, fill.x + fill.width);
    const Micrometres low = std::max(all.y + all.height, fill.y + fill.height);
    all = {std::min(all.x, fill.x), std::min(all.y, fill.y), 0, 0, 0};
    all.width = right - all.x;
    all.height = low - all.y;
  }
  return all;
}

/// Draws what a reader sees that is held over the code, 8 mm around it, and gives the path of the picture.
std::string scanned(const Pages& pages, int dots_per_inch, const std::string& name) {
  if (pages.pages.empty()) return "";
  const std::string picture = testdata::own_folder() + name;
  const std::string pdf = picture + ".pdf";
  std::ofstream{pdf, std::ios::binary} << write_pdf(pages, testdata::fonts(), {"Code", Instant{}});
  const Fill code = code_on(pages.pages.front());
  const auto dots = [&](Micrometres length) { return length * dots_per_inch / 25400; };
  testdata::output_of(fmt::format("pdftoppm -r {} -gray -singlefile -x {} -y {} -W {} -H {} '{}' '{}' 2>&1", dots_per_inch,
                                  dots(code.x - 8000), dots(code.y - 8000), dots(code.width + 16000), dots(code.height + 16000), pdf,
                                  picture));
  return picture + ".pgm";
}

Scan scan_of(const std::string& path) {
  std::ifstream file{path, std::ios::binary};
  Scan picture;
  std::string form;
  int most = 0;
  file >> form >> picture.width >> picture.height >> most;
  file.get();
  picture.greys.assign(std::istreambuf_iterator<char>{file}, {});
  EXPECT_EQ(form, "P5");
  EXPECT_EQ(picture.greys.size(), static_cast<std::size_t>(picture.width * picture.height));
  return picture;
}

/// What a reader of codes prints; nothing when it finds no code, or one that is damaged.
std::string read_by(const std::string& command) {
  std::string out;
  FILE* pipe = popen((command + " 2>/dev/null").c_str(), "r");
  char buffer[4096];
  for (std::size_t n = fread(buffer, 1, sizeof buffer, pipe); n > 0; n = fread(buffer, 1, sizeof buffer, pipe)) out.append(buffer, n);
  pclose(pipe);
  return out;
}
std::string by_zbar(const std::string& picture) { return read_by("zbarimg --nodbus -q --raw '" + picture + "'"); }
std::string by_zxing(const std::string& picture) { return read_by("ZXingReader '" + picture + "'"); }

struct CodeRow {
  std::string name;
  bool goods = false;  ///< a GS1 DataMatrix; else a QR Code
  int dots_per_inch = 300;
  int dots = 1;  ///< a module: the fewest that are 0.33 mm wide
  friend std::ostream& operator<<(std::ostream& out, const CodeRow& row) { return out << row.name << " at " << row.dots_per_inch; }
};
std::string name_of_row(const testing::TestParamInfo<CodeRow>& info) {
  return fmt::format("{}{}dpi", info.param.name, info.param.dots_per_inch);
}

class PrintedCode : public testing::TestWithParam<CodeRow> {
 protected:
  Code code() const { return GetParam().goods ? a_data_matrix() : a_qr_code(); }
  Scan printed(std::string& path) const {
    path = scanned(page_with(code(), GetParam().dots_per_inch), GetParam().dots_per_inch,
                   fmt::format("printed-{}-{}", GetParam().name, GetParam().dots_per_inch));
    return scan_of(path);
  }
};
// 0.33 mm is 2.64 dots at 203, 3.90 at 300, 7.80 at 600 to the inch.
INSTANTIATE_TEST_SUITE_P(Printers, PrintedCode,
                         testing::Values(CodeRow{"Qr", false, 203, 3}, CodeRow{"Qr", false, 300, 4}, CodeRow{"Qr", false, 600, 8},
                                         CodeRow{"Gs1", true, 203, 3}, CodeRow{"Gs1", true, 300, 4}, CodeRow{"Gs1", true, 600, 8}),
                         name_of_row);

TEST_P(PrintedCode, IsReadBackAsItsText) {
  std::string path;
  printed(path);
  const std::string zxing = by_zxing(path);
  if (GetParam().goods) {
    EXPECT_NE(zxing.find("Text:       \"01095212345432131726050410cake-1\"\n"), std::string::npos) << zxing;
    EXPECT_NE(zxing.find("Content:    GS1\n"), std::string::npos) << zxing;
    EXPECT_NE(zxing.find("Identifier: ]d2\n"), std::string::npos) << zxing << "ECC 200 with FNC1 first, ISO/IEC 16022 annex N";
  } else {
    EXPECT_EQ(by_zbar(path), cake_text + "\n");
    EXPECT_NE(zxing.find("Text:       \"" + cake_text + "\"\n"), std::string::npos) << zxing;
    EXPECT_NE(zxing.find("EC Level:   M\n"), std::string::npos) << zxing;
    EXPECT_NE(zxing.find("HasECI:     false\n"), std::string::npos) << zxing;
  }
}

/// Whether the code stands here on the picture, every dot as it should be and no ink on the empty edge around it.
bool stands_at(const Scan& picture, const Code& code, int dots, int left, int top) {
  const int edge = code.quiet * dots;
  for (int y = -edge; y < code.down * dots + edge; ++y) {
    for (int x = -edge; x < code.across * dots + edge; ++x) {
      const bool in_code = x >= 0 && x < code.across * dots && y >= 0 && y < code.down * dots;
      if (picture.is_inked(left + x, top + y) != (in_code && code.is_dark(x / dots, y / dots))) return false;
    }
  }
  return true;
}
int times_on(const Scan& picture, const Code& code, int dots) {
  const int edge = code.quiet * dots;
  int times = 0;
  for (int top = edge; top + code.down * dots + edge <= picture.height; ++top) {
    for (int left = edge; left + code.across * dots + edge <= picture.width; ++left) {
      if (picture.is_inked(left, top) && stands_at(picture, code, dots, left, top)) ++times;  // the first module of both is dark
    }
  }
  return times;
}

// Every dot of the code and of the empty edge around it is as it should be, so every module is as many whole dots wide and high.
TEST_P(PrintedCode, IsWholeDotsAModuleAndItsEdgeHasNoInk) {
  std::string path;
  const Scan picture = printed(path);
  EXPECT_EQ(times_on(picture, code(), GetParam().dots), 1);
  EXPECT_EQ(times_on(picture, code(), GetParam().dots - 1), 0);
}

// What is missing is noticed: one row of a QR Code is enough for readers to find none. A GS1 DataMatrix mends one row by its error
// correction, so five are cut out of it.
TEST_P(PrintedCode, IsNoLongerReadWithRowsOfModulesCutOut) {
  const int rows = GetParam().goods ? 5 : 1;
  for (const int cut : {0, 8, 11}) {
    Code less = code();
    const auto row = less.dark.begin() + cut * less.across;
    less.dark.erase(row, row + rows * less.across);
    less.down -= rows;
    const std::string path = scanned(page_with(less, GetParam().dots_per_inch), GetParam().dots_per_inch,
                                     fmt::format("cut-{}-{}", GetParam().name, GetParam().dots_per_inch));
    EXPECT_EQ(by_zbar(path), "") << cut;
    EXPECT_EQ(by_zxing(path).substr(0, 16), "No barcode found") << cut;
  }
}

// A code that was laid out for one printer and came out of another is still read: the modules are then uneven by a dot.
TEST(CodeOfAnotherPrinter, IsStillRead) {
  for (const int laid_out : {203, 300, 600}) {
    for (const int printed : {203, 300, 600}) {
      const std::string qr = scanned(page_with(a_qr_code(), laid_out), printed, "other-qr");
      EXPECT_EQ(by_zbar(qr), cake_text + "\n") << laid_out << " on " << printed;
      EXPECT_NE(by_zxing(qr).find("\"" + cake_text + "\""), std::string::npos) << laid_out << " on " << printed;
      const std::string goods = scanned(page_with(a_data_matrix(), laid_out), printed, "other-gs1");
      EXPECT_NE(by_zxing(goods).find("\"01095212345432131726050410cake-1\""), std::string::npos) << laid_out << " on " << printed;
    }
  }
}

// Letters beyond ASCII come back as they were: the code names its character set.
TEST(QrCodeOnPaper, KeepsLettersOfEveryAlphabet) {
  for (const char* text : {"Gâteau d’été", "Μελομακάρονα", "torte ß œ", "Lebkuchen – 蛋糕"}) {
    Code code = a_qr_code(text);
    code.told = "letters";
    const std::string path = scanned(page_with(code, 300), 300, "letters");
    EXPECT_EQ(by_zbar(path), std::string{text} + "\n");
    EXPECT_NE(by_zxing(path).find("\"" + std::string{text} + "\""), std::string::npos) << by_zxing(path);
  }
}

/// Text as the bytes that a reader prints.
std::string as_bytes(const std::string& text) {
  std::string bytes;
  for (const char c : text) bytes += fmt::format(" {:02X}", static_cast<unsigned char>(c));
  return bytes;
}

// The separator (FNC1, read as the control character GS, 1D) stands behind a lot and a piece (8006) that another part follows: their
// lengths are not among those that GS1 General Specifications 7.8.5 fixes beforehand.
TEST(Gs1DataMatrixOnPaper, IsReadBackWithEveryPart) {
  for (const auto& [elements, read] : std::vector<std::pair<std::string, std::string>>{
           {"[01]09521234543213[10]A77-2[21]12/3",
            "010952123454321310A77-2\x1D"
            "2112/3"},
           {"[8006]095212345432130203[17]260504[10]cake-1",
            "8006095212345432130203\x1D"
            "1726050410cake-1"},
           {"[01]09521234543213[11]260501[15]260930[16]260903[10]L_4", "010952123454321311260501152609301626090310L_4"}}) {
    const std::string zxing = by_zxing(scanned(page_with(a_data_matrix(elements), 203), 203, "parts"));
    EXPECT_NE(zxing.find("Bytes:     " + as_bytes(read) + "\n"), std::string::npos) << zxing;
    EXPECT_NE(zxing.find("Content:    GS1\n"), std::string::npos) << zxing;
  }
}

}  // namespace
}  // namespace tierproof
