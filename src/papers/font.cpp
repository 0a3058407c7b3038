#include "tierproof/papers/font.h"

#include <ft2build.h>
#include FT_FREETYPE_H

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <memory>

namespace tierproof {
namespace {

struct LibraryCloser {
  void operator()(FT_Library library) const { FT_Done_FreeType(library); }
};
struct FaceCloser {
  void operator()(FT_Face face) const { FT_Done_Face(face); }
};
using Library = std::unique_ptr<std::remove_pointer_t<FT_Library>, LibraryCloser>;
using OpenFace = std::unique_ptr<std::remove_pointer_t<FT_Face>, FaceCloser>;

[[noreturn]] void unreadable(const std::string& path, const char* why) {
  throw Fault{exit_status::configuration, fmt::format("{}: {}; install the project's own fonts again (reports/fonts)", path, why)};
}

int top_of(FT_Face face, FT_ULong character, const std::string& path) {
  if (FT_Get_Char_Index(face, character) == 0 || FT_Load_Char(face, character, FT_LOAD_NO_SCALE) != 0) {
    unreadable(path, "a letter or figure that type is measured by is missing");
  }
  return static_cast<int>(face->glyph->metrics.horiBearingY);
}

FaceMeasures measure(FT_Library library, const std::string& path) {
  FT_Face raw = nullptr;
  if (FT_New_Face(library, path.c_str(), 0, &raw) != 0) unreadable(path, "cannot be read as a font");
  const OpenFace face{raw};
  if (!FT_IS_SCALABLE(raw) || !FT_IS_SFNT(raw) || raw->units_per_EM == 0) unreadable(path, "is not a TrueType font");

  FaceMeasures measures;
  measures.path = path;
  measures.name = raw->family_name == nullptr ? "" : raw->family_name;
  const std::string style = raw->style_name == nullptr ? "" : raw->style_name;
  if (!style.empty() && style != "Book" && style != "Regular") measures.name += " " + style;
  measures.em = raw->units_per_EM;
  measures.x_height = top_of(raw, 'x', path);
  measures.capital_height = top_of(raw, 'H', path);
  measures.figure_height = top_of(raw, '0', path);
  for (FT_ULong figure = '1'; figure <= '9'; ++figure) {
    measures.figure_height = std::min(measures.figure_height, top_of(raw, figure, path));
  }
  FT_UInt glyph = 0;
  for (FT_ULong character = FT_Get_First_Char(raw, &glyph); glyph != 0; character = FT_Get_Next_Char(raw, character, &glyph)) {
    if (FT_Load_Glyph(raw, glyph, FT_LOAD_NO_SCALE) != 0) unreadable(path, "a glyph cannot be read");
    measures.advances.resize(character + 1, -1);  // characters come in order
    measures.advances.back() = static_cast<int>(raw->glyph->metrics.horiAdvance);
  }
  return measures;
}

Micrometres micrometres_down(std::int64_t units, int em, PointSize size) {
  return units * size.to_hundredths() * 254 / (std::int64_t{em} * 72);
}

}  // namespace

PointSize points_for_x_height(Micrometres height, int x_units, int em_units) {
  assert(height >= 0 && x_units > 0 && em_units > 0);
  const std::int64_t over = height * 72 * em_units;  // in hundredths: µm × 72 × em / (254 × x)
  const std::int64_t under = std::int64_t{254} * x_units;
  return PointSize::hundredths(static_cast<int>((over + under - 1) / under));
}

Fonts Fonts::load(const std::filesystem::path& folder) {
  FT_Library raw = nullptr;
  if (FT_Init_FreeType(&raw) != 0) throw Fault{exit_status::configuration, "the font library FreeType does not start"};
  const Library library{raw};
  static constexpr std::array<const char*, 4> files{"DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSansCondensed.ttf",
                                                    "DejaVuSansCondensed-Bold.ttf"};
  Fonts fonts;
  for (std::size_t i = 0; i < files.size(); ++i) fonts.faces_[i] = measure(raw, (folder / files[i]).string());
  return fonts;
}

Advances::Advances(const Fonts& fonts, Face face, PointSize size)
    : units_{fonts.of(face).advances},
      over_{std::int64_t{size.to_hundredths()} * 254000},  // units / em × size in points × 25.4 mm / 72
      under_{std::int64_t{fonts.of(face).em} * 72} {}

std::int64_t Fonts::advance_nanometres(char32_t character, Face face, PointSize size) const {
  return Advances{*this, face, size}.nanometres(character);
}

std::int64_t Fonts::advance_nanometres(std::string_view text, Face face, PointSize size) const {
  const Advances advances{*this, face, size};
  std::int64_t sum = 0;
  for (const char32_t character : characters_of(text)) sum += advances.nanometres(character);
  return sum;
}

Micrometres Fonts::width(std::string_view text, Face face, PointSize size) const {
  return (advance_nanometres(text, face, size) + 999) / 1000;
}

Micrometres Fonts::x_height(Face face, PointSize size) const { return micrometres_down(of(face).x_height, of(face).em, size); }

Micrometres Fonts::figure_height(Face face, PointSize size) const { return micrometres_down(of(face).figure_height, of(face).em, size); }

Micrometres Fonts::capital_height(Face face, PointSize size) const { return micrometres_down(of(face).capital_height, of(face).em, size); }

PointSize Fonts::size_for_x_height(Face face, Micrometres height) const {
  return points_for_x_height(height, of(face).x_height, of(face).em);
}

}  // namespace tierproof
