#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <sstream>

#include "sample.h"
#include "tierproof/papers/cake_record.h"
#include "tierproof/papers/label.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/papers/png.h"
#include "tierproof/papers/svg.h"

namespace tierproof {
namespace {

using testdata::fonts;
using testdata::kept;
using testdata::output_of;

constexpr Instant moment = std::chrono::sys_days{std::chrono::year{2031} / 5 / 2} + std::chrono::hours{8} + std::chrono::minutes{59};

Pages a_label_page() {
  auto pages = lay_out_label(testdata::a_label(), testdata::a_die_cut_label(), fonts());
  EXPECT_TRUE(pages.has_value());
  return std::move(*pages);
}

Pages record_pages() {
  auto pages = lay_out_cake_record(testdata::a_record(), fonts());
  EXPECT_TRUE(pages.has_value());
  return std::move(*pages);
}

int times_in(const std::string& text, const std::string& part) {
  int count = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

TEST(Pdf, IsTheSameBytesForTheSamePages) {
  const std::string once = write_pdf(record_pages(), fonts(), {"Cake record cake-1", moment});
  EXPECT_EQ(once, write_pdf(record_pages(), fonts(), {"Cake record cake-1", moment}));
  EXPECT_NE(once, write_pdf(record_pages(), fonts(), {"Cake record cake-1", moment + std::chrono::seconds{1}}));
}

Pages page_of(const std::string& word, Face face) {
  Page page{100000, 100000, 0, 0, 0, 0, {}, {}};
  const PointSize size = PointSize::hundredths(800);
  page.marks.texts.push_back({1000, 10000, fonts().width(word, face, size), word, face, size, 0});
  return Pages{{page}, {}};
}
// Found by trying: cut to these characters, the face has a table that the library cannot save.
TEST(Pdf, IsWrittenWhereTheLibraryCannotCutAFont) {
  const std::string word = R"(#$&'()-.456;<BEFGHILMOPQTUWZ[_aceghlmnopqrvz{|}~)";
  const std::string path = kept("cut.pdf", write_pdf(page_of(word, Face::condensed), fonts(), {"A face that is cut", moment}));
  EXPECT_NE(output_of("qpdf --check " + path + " 2>&1").find("No syntax or stream encoding errors found"), std::string::npos);
  EXPECT_EQ(output_of("pdftotext -layout " + path + " - | head -n 1 | tr -d ' '"), word + "\n");
}

TEST(Pdf, EmbedsEveryFont) {
  const std::string path = kept("fonts.pdf", write_pdf(record_pages(), fonts(), {"Cake record", moment}));
  std::istringstream lines{output_of("pdffonts " + path + " 2>&1")};
  int faces = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.find("DejaVu") == std::string::npos) continue;
    ++faces;
    EXPECT_NE(line.find("yes yes yes"), std::string::npos) << line;  // embedded, cut, with a character map
  }
  EXPECT_EQ(faces, 2);
}

TEST(Pdf, IsSoundByQpdf) {
  const std::string path = kept("sound.pdf", write_pdf(record_pages(), fonts(), {"Cake record", moment}));
  EXPECT_NE(output_of("qpdf --check " + path + " 2>&1").find("No syntax or stream encoding errors found"), std::string::npos);
}

TEST(Pdf, GivesReadersNothingToComplainOf) {
  const std::string path = kept("quiet.pdf", write_pdf(record_pages(), fonts(), {"Cake record", moment}));
  EXPECT_EQ(output_of("pdftotext " + path + " /dev/null 2>&1"), "");
}

TEST(Pdf, StatesItsTitleAndTheMomentItWasGiven) {
  const std::string path = kept("info.pdf", write_pdf(a_label_page(), fonts(), {"Étiquette de gâteau", moment}));
  const std::string info = output_of("TZ=UTC pdfinfo -isodates " + path + " 2>&1");
  EXPECT_NE(info.find("Étiquette de gâteau"), std::string::npos) << info;
  EXPECT_NE(info.find("2031-05-02T08:59:00Z"), std::string::npos) << info;
}

TEST(Pdf, IsOurBugWhereTextCameUnchecked) {
  Pages pages;
  pages.pages.push_back(Page{62000, 100000, 0, 0, 0, 0, {}});
  pages.pages[0].marks.texts.push_back({3000, 9000, 10000, "cake 🎂", Face::condensed, PointSize::hundredths(900), 0});
  try {
    write_pdf(pages, fonts(), {"x", moment});
    FAIL() << "drew a box for a character without a glyph";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::our_bug);
  }
}

TEST(Pdf, IsAFaultWhereAFontFileIsGone) {
  const std::string folder = testdata::own_folder() + "gone-fonts";
  std::filesystem::create_directories(folder);
  for (const Face face : all_faces) {
    const std::filesystem::path source = fonts().of(face).path;
    std::filesystem::copy_file(source, std::filesystem::path{folder} / source.filename(),
                               std::filesystem::copy_options::overwrite_existing);
  }
  const Fonts moved = Fonts::load(folder);
  std::filesystem::remove_all(folder);
  try {
    write_pdf(a_label_page(), moved, {"x", moment});
    FAIL() << "wrote a PDF without its fonts";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::cannot_create);
  }
}

TEST(Svg, PaintsEveryMarkOnce) {
  const Pages pages = record_pages();
  for (std::size_t i = 0; i < pages.pages.size(); ++i) {
    const std::string svg = write_svg(pages, i);
    const Marks& marks = pages.pages[i].marks;
    EXPECT_EQ(times_in(svg, "<text "), static_cast<int>(marks.texts.size()));
    EXPECT_EQ(times_in(svg, "<polyline "), static_cast<int>(marks.strokes.size()));
    EXPECT_EQ(times_in(svg, "<circle "), static_cast<int>(marks.dots.size()));
    EXPECT_EQ(times_in(svg, "zM") + times_in(svg, "z\"/>"), static_cast<int>(marks.fills.size()));
    EXPECT_EQ(times_in(svg, "<rect "), static_cast<int>(pages.pages[i].links.size()) + 1);  // and the paper
    EXPECT_EQ(svg.find("<script"), std::string::npos);
  }
}

TEST(Svg, IsInMillimetresAndNamesItsFonts) {
  const std::string svg = write_svg(a_label_page(), 0);
  EXPECT_TRUE(
      svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"page-1\" width=\"62mm\" height=\"100mm\" viewBox=\"0 0 62 100\">"))
      << svg.substr(0, 120);
  EXPECT_NE(svg.find("'DejaVu Sans Condensed'"), std::string::npos);
  EXPECT_NE(svg.find("font-weight=\"bold\""), std::string::npos);
}

TEST(Svg, EscapesWhatPeopleTyped) {
  Pages pages;
  pages.pages.push_back(Page{62000, 100000, 0, 0, 0, 0, {}});
  pages.pages[0].marks.texts.push_back({3500, 9001, 10000, "<script> & \"x\"", Face::condensed, PointSize::hundredths(900), 0});
  const std::string svg = write_svg(pages, 0);
  EXPECT_NE(svg.find("x=\"3.5\" y=\"9.001\""), std::string::npos) << svg;
  EXPECT_NE(svg.find("&lt;script&gt; &amp; &quot;x&quot;"), std::string::npos) << svg;
}

TEST(Svg, FillsNeighboursOfOneInkAsOnePath) {
  Pages pages;
  pages.pages.push_back(Page{62000, 100000, 0, 0, 0, 0, {}});
  pages.pages[0].marks.fills = {{1000, 2000, 500, 250, 0}, {1500, 2250, 500, 250, 0}, {9000, 9000, 100, 100, 200}};
  const std::string svg = write_svg(pages, 0);
  EXPECT_NE(svg.find("<path fill=\"#000000\" d=\"M1,2h0.5v0.25h-0.5zM1.5,2.25h0.5v0.25h-0.5z\"/>"), std::string::npos) << svg;
  EXPECT_NE(svg.find("<path fill=\"#c8c8c8\" d=\"M9,9h0.1v0.1h-0.1z\"/>"), std::string::npos) << svg;
}

TEST(Svg, LeadsWhereThePagesLead) {
  Pages pages;
  pages.pages.push_back(Page{62000, 100000, 0, 0, 0, 0, {}});
  pages.pages[0].links = {{1000, 2000, 3000, 4000, "https://example.org/?a=1&b=\"2\"", 0, 0}, {5000, 6000, 7000, 8000, "", 4, 0}};
  const std::string svg = write_svg(pages, 0);
  EXPECT_NE(svg.find("<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"page-1\""), std::string::npos) << svg;
  EXPECT_NE(svg.find("<a href=\"https://example.org/?a=1&amp;b=&quot;2&quot;\"><rect x=\"1\" y=\"2\" width=\"3\" height=\"4\""),
            std::string::npos)
      << svg;
  EXPECT_NE(svg.find("<a href=\"#page-5\"><rect x=\"5\" y=\"6\" width=\"7\" height=\"8\""), std::string::npos) << svg;
}

TEST(Svg, IsTheSameTextForTheSamePages) { EXPECT_EQ(write_svg(record_pages(), 0), write_svg(record_pages(), 0)); }

unsigned big_endian(const std::string& bytes, std::size_t at) {
  unsigned value = 0;
  for (std::size_t i = 0; i < 4; ++i) value = value << 8 | static_cast<unsigned char>(bytes[at + i]);
  return value;
}

TEST(Png, IsDrawnAtTheDotsAskedFor) {
  const std::string pdf = write_pdf(a_label_page(), fonts(), {"Label", moment});
  const std::string png = write_png(pdf, 203);
  ASSERT_GT(png.size(), 1000U);
  EXPECT_EQ(png.substr(0, 8), "\x89PNG\r\n\x1a\n");
  // 62 × 100 mm at 203 dots an inch of 25.4 mm: 495.5 × 799.2 dots; the program rounds up or to nearest.
  EXPECT_NEAR(big_endian(png, 16), 62 * 203 / 25.4, 1.0);
  EXPECT_NEAR(big_endian(png, 20), 100 * 203 / 25.4, 1.0);
}

TEST(Png, DrawsThePageAskedFor) {
  const std::string pdf = write_pdf(record_pages(), fonts(), {"Record", moment});
  EXPECT_NE(write_png(pdf, 40, 1), write_png(pdf, 40, 2));
}

TEST(Png, IsAFaultForWhatIsNoPdf) {
  try {
    write_png("no PDF at all", 72);
    FAIL() << "drew a picture of nothing";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::cannot_create);
  }
}

TEST(Png, IsAFaultOutsideTheDotsItCanDraw) {
  EXPECT_THROW(write_png("x", 0), Fault);
  EXPECT_THROW(write_png("x", 100000), Fault);
}

TEST(Png, SaysWhatToInstallWithoutPoppler) {
  const char* held = std::getenv("PATH");
  const std::string path = held == nullptr ? "" : held;
  const std::string pdf = write_pdf(a_label_page(), fonts(), {"Label", moment});
  setenv("PATH", "/nowhere", 1);
  try {
    write_png(pdf, 72);
    ADD_FAILURE() << "found pdftoppm nowhere";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::cannot_create);
    EXPECT_NE(std::string{fault.what()}.find("poppler-utils"), std::string::npos) << fault.what();
  }
  setenv("PATH", path.c_str(), 1);
}

}  // namespace
}  // namespace tierproof
