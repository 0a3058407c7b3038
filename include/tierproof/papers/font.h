#pragma once

#include <array>
#include <cassert>
#include <compare>
#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/units/result.h"

namespace tierproof {

/// A length on paper.
using Micrometres = std::int64_t;

/// The four faces that papers are set in.
enum class Face { regular, bold, condensed, condensed_bold };
inline constexpr std::array<Face, 4> all_faces{Face::regular, Face::bold, Face::condensed, Face::condensed_bold};

/// The bold face of the same width.
constexpr Face bold_of(Face face) { return face == Face::regular || face == Face::bold ? Face::bold : Face::condensed_bold; }
constexpr bool is_bold(Face face) { return face == Face::bold || face == Face::condensed_bold; }

/// A type size, in whole hundredths of a point (1 pt = 1/72 inch).
class PointSize {
 public:
  constexpr PointSize() = default;
  static constexpr PointSize hundredths(int n) { return PointSize{n}; }
  constexpr int to_hundredths() const { return hundredths_; }
  constexpr double to_points() const { return hundredths_ / 100.0; }
  /// The em, rounded down.
  constexpr Micrometres to_micrometres() const { return Micrometres{hundredths_} * 25400 / 7200; }
  friend constexpr auto operator<=>(PointSize, PointSize) = default;

 private:
  constexpr explicit PointSize(int n) : hundredths_{n} {}
  int hundredths_ = 0;
};

/// The least type size, to 0.01 pt, whose letter `x` is `height` high: `height × 72 / 25.4 mm / (x / em)`, rounded up.
/// @param height    micrometres, not negative
/// @param x_units   height of the glyph `x` in font units, above 0
/// @param em_units  font units an em
PointSize points_for_x_height(Micrometres height, int x_units, int em_units);

/// What the papers know of one face, read from the outlines themselves: no table of the font is believed where a glyph can be measured.
struct FaceMeasures {
  std::string path;           ///< the TrueType file
  std::string name;           ///< `DejaVu Sans Condensed Bold`
  int em = 0;                 ///< font units an em
  int x_height = 0;           ///< top of the glyph `x`
  int figure_height = 0;      ///< top of the lowest of the glyphs `0` to `9`
  int capital_height = 0;     ///< top of the glyph `H`
  std::vector<int> advances;  ///< by character, of every one up to the last that has a glyph; below 0: it has none
};

/// The faces of one folder, measured once. Plain values: may be copied and shared between threads.
class Fonts {
 public:
  /// Reads `DejaVuSans.ttf`, `DejaVuSans-Bold.ttf`, `DejaVuSansCondensed.ttf` and `DejaVuSansCondensed-Bold.ttf`.
  /// @throws Fault (78) if a file is missing or is no TrueType font
  static Fonts load(const std::filesystem::path& folder);

  const FaceMeasures& of(Face face) const { return faces_[static_cast<std::size_t>(face)]; }
  bool covers(Face face, char32_t character) const {
    const std::vector<int>& advances = of(face).advances;
    return character < advances.size() && advances[character] >= 0;
  }

  /// How far `text` (checked UTF-8) advances in nanometres; each glyph is rounded up, there is no kerning.
  /// A character without a glyph is our bug: `check_text` comes first.
  std::int64_t advance_nanometres(std::string_view text, Face face, PointSize size) const;
  std::int64_t advance_nanometres(char32_t character, Face face, PointSize size) const;
  /// The same in micrometres, rounded up.
  Micrometres width(std::string_view text, Face face, PointSize size) const;

  /// Height of the letter x, rounded down: what is compared with a legal minimum.
  Micrometres x_height(Face face, PointSize size) const;
  Micrometres figure_height(Face face, PointSize size) const;
  Micrometres capital_height(Face face, PointSize size) const;
  /// The least size whose x is at least `height` high.
  PointSize size_for_x_height(Face face, Micrometres height) const;

 private:
  std::array<FaceMeasures, 4> faces_;
};

/// How far the characters of one face advance at one size: many of them, without asking for both at each.
class Advances {
 public:
  Advances(const Fonts& fonts, Face face, PointSize size);

  /// Rounded up. A character without a glyph is our bug.
  std::int64_t nanometres(char32_t character) const {
    const bool covered = character < units_.size() && units_[character] >= 0;
    assert(covered);
    return covered ? (units_[character] * over_ + under_ - 1) / under_ : 0;
  }

 private:
  std::span<const int> units_;
  std::int64_t over_;  ///< nanometres a unit of the font: `over_ / under_`
  std::int64_t under_;
};

/// Why `text` cannot be set in `face`: not UTF-8, not in NFC, a control or invisible character, a character without a glyph. A line
/// feed is allowed: it ends a line. Each kind of character is refused once, by its number (`U+1F370`), with what to do instead.
/// @param field  what the refusals call the text, `ingredients[2]`
Refusals check_text(std::string_view text, Face face, const Fonts& fonts, std::string_view field);

/// The characters of `text`, which must be UTF-8.
std::u32string characters_of(std::string_view text);
/// The UTF-8 of `characters`.
std::string utf8_of(std::u32string_view characters);

}  // namespace tierproof
