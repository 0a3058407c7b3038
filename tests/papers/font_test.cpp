#include "tierproof/papers/font.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "sample.h"

namespace tierproof {
namespace {

using testdata::fonts;

// Regulation (EU) No 1169/2011 art. 13(2) and annex IV item 6: the x-height is at least 1.2 mm. A face whose x is 1062 of 2048 units
// high needs 1.2 mm × 72 / 25.4 / (1062 / 2048) = 6.5597 pt, rounded up (worked by hand from the definition of the point, 1/72 inch).
TEST(PointSize, IsRoundedUpForALegalXHeight) { EXPECT_EQ(points_for_x_height(1200, 1062, 2048), PointSize::hundredths(656)); }

// Art. 13(3): 0.9 mm; x of half an em: 2.5512 / 0.5 = 5.1024 pt. Art. 13(2), half an em: 3.4016 / 0.5 = 6.8031 pt.
TEST(PointSize, IsRoundedUpAndNotToNearest) {
  EXPECT_EQ(points_for_x_height(900, 1, 2), PointSize::hundredths(511));
  EXPECT_EQ(points_for_x_height(1200, 1, 2), PointSize::hundredths(681));
}

TEST(PointSize, StaysWhereItIsExact) {
  EXPECT_EQ(points_for_x_height(25400, 1, 1), PointSize::hundredths(7200));  // an inch is 72 points by definition
  EXPECT_EQ(points_for_x_height(0, 1, 2), PointSize::hundredths(0));
}

// The outline of `x` in DejaVu Sans 2.37 is 1120 of 2048 units high (its glyf table), 0.547 em; that of `H` 1493.
TEST(Fonts, MeasureTheLetterXOfEveryFace) {
  for (const Face face : all_faces) {
    const FaceMeasures& measures = fonts().of(face);
    EXPECT_EQ(measures.em, 2048) << measures.path;
    EXPECT_EQ(measures.x_height, 1120) << measures.path;
    EXPECT_NEAR(static_cast<double>(measures.x_height) / measures.em, 0.547, 0.0005) << measures.path;
    EXPECT_EQ(measures.capital_height, 1493) << measures.path;
  }
}

// The lowest figure of DejaVu Sans 2.37 is `1` (and others without overshoot), as high as a capital: 1493 units.
TEST(Fonts, MeasureTheLowestFigure) { EXPECT_EQ(fonts().of(Face::regular).figure_height, 1493); }

// Advances from the hmtx table of DejaVu Sans 2.37: `x` 1212, `M` 1767 units; 10 pt of `xM` is 2979/2048 × 10 pt = 14.546 pt = 5.1315 mm.
TEST(Fonts, AddUpAdvancesAsTheFontHasThem) {
  EXPECT_EQ(fonts().of(Face::regular).advances.at(U'x'), 1212);
  EXPECT_EQ(fonts().of(Face::regular).advances.at(U'M'), 1767);
  EXPECT_EQ(fonts().width("xM", Face::regular, PointSize::hundredths(1000)), 5132);
}

TEST(Fonts, SetCondensedNarrowerAndBoldWider) {
  const PointSize size = PointSize::hundredths(800);
  EXPECT_LT(fonts().width("flour", Face::condensed, size), fonts().width("flour", Face::regular, size));
  EXPECT_GT(fonts().width("flour", Face::condensed_bold, size), fonts().width("flour", Face::condensed, size));
}

TEST(Fonts, HaveEveryMarkThePapersUse) {
  const std::u32string marks = U"→←…—–−×≤≥°½€£•✓✗□■▲●◆○◇◐◧·“”‘’±\u00a0\u202f";
  for (const Face face : all_faces) {
    for (const char32_t mark : marks)
      EXPECT_TRUE(fonts().covers(face, mark)) << fonts().of(face).path << " U+" << std::hex << static_cast<unsigned>(mark);
  }
}

TEST(Fonts, AreAFaultWhereTheFolderHasNone) {
  try {
    Fonts::load(testdata::own_folder() + "no-such-folder");
    FAIL() << "loaded fonts from nowhere";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::configuration);
    EXPECT_NE(std::string{fault.what()}.find("DejaVuSans.ttf"), std::string::npos) << fault.what();
  }
}

TEST(Fonts, AreAFaultWhereAFileIsCutShort) {
  const std::string folder = testdata::own_folder() + "cut-fonts";
  std::filesystem::create_directories(folder);
  for (const Face face : all_faces) {
    const std::filesystem::path source = fonts().of(face).path;
    const auto target = std::filesystem::path{folder} / source.filename();
    std::filesystem::copy_file(source, target, std::filesystem::copy_options::overwrite_existing);
    if (face == Face::bold) std::filesystem::resize_file(target, 300);
  }
  EXPECT_THROW(Fonts::load(folder), Fault);
}

RC_GTEST_PROP(PointSizeProperty, IsTheLeastThatReachesTheHeight, ()) {
  const auto height = *rc::gen::inRange<Micrometres>(100, 20000);
  const Face face = *rc::gen::elementOf(std::vector<Face>(all_faces.begin(), all_faces.end()));
  const PointSize size = fonts().size_for_x_height(face, height);
  RC_ASSERT(fonts().x_height(face, size) >= height);
  RC_ASSERT(fonts().x_height(face, PointSize::hundredths(size.to_hundredths() - 1)) < height);
}

// --- text that cannot be set ---

Refusals check(std::string_view text) { return check_text(text, Face::condensed, fonts(), "name"); }

TEST(CheckText, LetsLatinGreekAndCyrillicThrough) {
  EXPECT_TRUE(check("Crème brûlée, žluťoučký, Šķīvis, γλυκό, торт, ½ × 4 °C ≤ 8 → 3 €").empty());
  EXPECT_TRUE(check("two\nlines").empty());
}

TEST(CheckText, NamesACharacterWithoutAGlyph) {
  const Refusals refusals = check("cake 🍰 and 🍰");
  ASSERT_EQ(refusals.size(), 1U);
  EXPECT_EQ(refusals[0].field, "name");
  EXPECT_NE(refusals[0].message.find("U+1F370"), std::string::npos) << refusals[0].message;
  EXPECT_NE(refusals[0].message.find("no glyph in DejaVu Sans Condensed"), std::string::npos) << refusals[0].message;
  EXPECT_FALSE(refusals[0].remedy.empty());
}

TEST(CheckText, NamesEachUnprintableCharacterOnce) { EXPECT_EQ(check("蛋糕蛋").size(), 2U); }

TEST(CheckText, RefusesWhatIsNotComposed) {
  const Refusals refusals = check("Cre\u0300me");
  ASSERT_EQ(refusals.size(), 2U);
  EXPECT_NE(refusals[0].message.find("U+0300"), std::string::npos);
  EXPECT_NE(refusals[1].message.find("NFC"), std::string::npos);
  // U+212A, the Kelvin sign, is K in NFC.
  const Refusals kelvin = check("277 \u212A");
  EXPECT_NE(kelvin.back().message.find("NFC"), std::string::npos);
}

TEST(CheckText, RefusesWhatWouldNotBeSeen) {
  EXPECT_EQ(check("but\u00adter").size(), 1U);    // soft hyphen
  EXPECT_EQ(check("milk\u200bfree").size(), 1U);  // zero-width space
  EXPECT_EQ(check("a\tb").size(), 1U);
  EXPECT_EQ(check(std::string_view{"a\0b", 3}).size(), 1U);
}

TEST(CheckText, RefusesBytesThatAreNotUtf8) {
  for (const std::string_view bytes : {"\xC3\x28", "\xFF", "\xED\xA0\x80", "\xC0\xAF", "\xE2\x82"}) {
    const Refusals refusals = check(bytes);
    ASSERT_EQ(refusals.size(), 1U);
    EXPECT_NE(refusals[0].message.find("not UTF-8"), std::string::npos);
  }
}

RC_GTEST_PROP(CheckTextProperty, NeverLetsThroughACharacterWithoutAGlyph, (const std::string& bytes)) {
  if (!check(bytes).empty()) return;
  for (const char32_t character : characters_of(bytes)) RC_ASSERT(character == U'\n' || fonts().covers(Face::condensed, character));
  RC_ASSERT(utf8_of(characters_of(bytes)) == bytes);
}

}  // namespace
}  // namespace tierproof
