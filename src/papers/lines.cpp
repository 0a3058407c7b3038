#include "lines.h"

#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <string_view>

namespace tierproof::papers {
namespace {

/// A character with the run it comes from, what it advances, and what all before it and it do.
struct Glyph {
  char32_t character = 0;
  std::size_t run = 0;
  std::int64_t nanometres = 0;
  std::int64_t along = 0;
};

/// What cannot be broken: glyphs [first, last) and the spaces that follow up to `next`.
struct Atom {
  std::size_t first = 0;
  std::size_t last = 0;
  std::size_t next = 0;
  bool ends_line = false;  ///< a line feed follows
};

bool is_digit(char32_t c) { return (c >= U'0' && c <= U'9') || c == U'½' || c == U'¼' || c == U'¾'; }

bool is_letter(char32_t c) {
  switch (utf8proc_category(static_cast<utf8proc_int32_t>(c))) {
    case UTF8PROC_CATEGORY_LU:
    case UTF8PROC_CATEGORY_LL:
    case UTF8PROC_CATEGORY_LT:
    case UTF8PROC_CATEGORY_LM:
    case UTF8PROC_CATEGORY_LO:
      return true;
    default:
      return false;
  }
}

constexpr std::array<std::u32string_view, 24> months{
    U"January", U"February", U"March", U"April", U"May", U"June", U"July", U"August", U"September", U"October", U"November", U"December",
    U"Jan",     U"Feb",      U"Mar",   U"Apr",   U"Jun", U"Jul",  U"Aug",  U"Sep",    U"Sept",      U"Oct",     U"Nov",      U"Dec"};

constexpr std::array<std::u32string_view, 84> units{
    U"g",     U"kg",     U"mg",    U"µg",     U"ml",    U"cl",     U"dl",     U"l",       U"L",      U"mL",      U"°C",   U"°F",
    U"°",     U"℃",      U"℉",     U"K",      U"%",     U"mm",     U"cm",     U"m",       U"cm²",    U"m²",      U"in",   U"oz",
    U"lb",    U"fl",     U"cup",   U"cups",   U"s",     U"min",    U"h",      U"ms",      U"day",    U"days",    U"week", U"weeks",
    U"month", U"months", U"year",  U"years",  U"hour",  U"hours",  U"minute", U"minutes", U"second", U"seconds", U"kJ",   U"kcal",
    U"Pa",    U"hPa",    U"kPa",   U"ppm",    U"mg/kg", U"g/kg",   U"€",      U"°Bx",     U"piece",  U"pieces",  U"tier", U"tiers",
    U"gram",  U"grams",  U"litre", U"litres", U"liter", U"liters", U"lbs",    U"gal",     U"pt",     U"qt",      U"tsp",  U"tbsp",
    U"‰",     U"°C/min", U"g/l",   U"g/L",    U"ml/l",  U"kg/m³",  U"£",      U"$",       U"g/100",  U"FL",      U"OZ",   U"LB"};

constexpr std::u32string_view signs_before_numbers = U"≤≥<>≈±×−–=~£€$";

template <std::size_t N>
bool among(std::u32string_view word, const std::array<std::u32string_view, N>& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

std::u32string_view without_marks(std::u32string_view word) {
  constexpr std::u32string_view opening = U"([{“‘\"'";
  constexpr std::u32string_view closing = U")]}”’\"'.,;:!?";
  while (!word.empty() && opening.find(word.front()) != opening.npos) word.remove_prefix(1);
  while (!word.empty() && closing.find(word.back()) != closing.npos) word.remove_suffix(1);
  return word;
}

/// Figures with what stands within a number: `412.5`, `1,5`, `2½`.
bool is_number(std::u32string_view word) {
  return !word.empty() && is_digit(word.front()) && is_digit(word.back()) &&
         std::all_of(word.begin(), word.end(), [](char32_t c) { return is_digit(c) || c == U'.' || c == U','; });
}

bool are_figures(std::u32string_view word, std::size_t least, std::size_t most) {
  return word.size() >= least && word.size() <= most && std::all_of(word.begin(), word.end(), is_digit);
}

/// Whether the space between two words may not be broken.
bool bound(std::u32string_view before, std::u32string_view after) {
  if (before.empty() || after.empty()) return false;
  const auto next = without_marks(after);
  const auto last = without_marks(before);
  if (next.empty() || last.empty()) return false;
  if (last == U"×") return true;  // `4 × dowel` counts dowels
  if (last.size() == 1 && signs_before_numbers.find(last.front()) != signs_before_numbers.npos && is_digit(next.front())) return true;
  const bool whole = before.back() == last.back();  // no comma or full stop behind it
  // A year is no count.
  const bool counts = whole && is_number(last) && !are_figures(last, 4, 4);
  if (counts && utf8proc_category(static_cast<utf8proc_int32_t>(next.front())) == UTF8PROC_CATEGORY_LL) return true;
  if (is_digit(before.back())) {
    if (among(next, units) || among(next, months)) return true;
    if (next.size() == 1 && (next.front() == U'×' || next.front() == U'±' || next.front() == U'–')) return true;
  }
  if (are_figures(last, 1, 3) && whole && are_figures(next, 3, 3)) return true;  // 1 250
  if (whole && (last == U"fl" || last == U"FL") && (next == U"oz" || next == U"OZ")) return true;
  return whole && among(last, months) && (are_figures(next, 1, 2) || are_figures(next, 4, 4));
}

// The classes of Unicode Standard Annex 14 (version 15) that our faces have characters of, by the rules that need them.
constexpr std::u32string_view never_first = U")]}!?,.:;/";    // CL CP EX IS SY: LB 13, even after spaces
constexpr std::u32string_view never_last = U"([{¡¿‚„";        // OP: LB 14, even before spaces
constexpr std::u32string_view quotations = U"\"'“”‘’«»‹›‛‟";  // QU: LB 15, before an opening bracket
constexpr std::u32string_view joints = U"-/\u2010\u2012–—";   // HY SY BA B2: a break after them, here only between whole words

bool in_class(char32_t c, std::u32string_view characters) { return characters.find(c) != characters.npos; }

/// Whether spaces between two characters may not be broken, whatever the words say.
bool held_together(char32_t before, char32_t after) {
  if (in_class(after, never_first) || in_class(before, never_last)) return true;
  if (in_class(before, quotations) && in_class(after, never_last)) return true;
  return before == U'—' && after == U'—';  // LB 17
}

std::vector<Glyph> glyphs_of(const Paragraph& paragraph, const Fonts& fonts) {
  std::vector<Glyph> glyphs;
  std::int64_t along = 0;
  for (std::size_t run = 0; run < paragraph.runs.size(); ++run) {
    const TextRun& words = paragraph.runs[run];
    for (const char32_t character : characters_of(words.text)) {
      const bool feed = character == U'\n';
      const std::int64_t nanometres = feed ? 0 : fonts.advance_nanometres(character, words.face, words.size);
      glyphs.push_back({character, run, nanometres, along += nanometres});
    }
  }
  return glyphs;
}

bool is_space(char32_t c) { return c == U' ' || c == U'\n'; }

std::vector<Atom> atoms_of(const std::vector<Glyph>& glyphs) {
  std::u32string all;
  for (const Glyph& glyph : glyphs) all.push_back(glyph.character);
  const std::u32string_view text = all;
  const auto word_before = [&](std::size_t end) {
    std::size_t start = end;
    while (start > 0 && !is_space(text[start - 1])) --start;
    return text.substr(start, end - start);
  };
  const auto word_after = [&](std::size_t start) {
    std::size_t end = start;
    while (end < text.size() && !is_space(text[end])) ++end;
    return text.substr(start, end - start);
  };

  // One letter does not stand alone at the end or beginning of a line.
  const auto letters_before = [&](std::size_t end) { return end >= 2 && is_letter(text[end - 1]) && is_letter(text[end - 2]); };
  const auto letters_after = [&](std::size_t start) {
    return start + 1 < text.size() && is_letter(text[start]) && is_letter(text[start + 1]);
  };
  const auto whole_word = [&](std::size_t within) {
    const std::size_t start = within - word_before(within).size();
    return text.substr(start, within - start + word_after(within).size());
  };

  std::vector<Atom> atoms;
  std::size_t first = 0;
  for (std::size_t i = 0; i < text.size();) {
    if (is_space(text[i])) {
      std::size_t next = i;
      while (next < text.size() && is_space(text[next]) && text[next] != U'\n') ++next;
      const bool feed = next < text.size() && text[next] == U'\n';
      if (!feed && i == first) {  // spaces that open a line
        first = i = next;
        continue;
      }
      if (feed) ++next;
      if (feed || next == text.size() || !(held_together(text[i - 1], text[next]) || bound(word_before(i), word_after(next)))) {
        atoms.push_back({first, i, next, feed});
        first = next;
      }
      i = next;
      continue;
    }
    const bool joint =
        in_class(text[i], joints) && i > first && letters_before(i) && letters_after(i + 1) && !among(without_marks(whole_word(i)), units);
    ++i;
    if (joint) {
      atoms.push_back({first, i, i, false});
      first = i;
    }
  }
  if (first < text.size()) atoms.push_back({first, text.size(), text.size(), false});
  return atoms;
}

std::int64_t advance(const std::vector<Glyph>& glyphs, std::size_t first, std::size_t last) {
  if (first == last) return 0;
  return glyphs[last - 1].along - glyphs[first].along + glyphs[first].nanometres;
}

/// Only what leads to a page of the web; a reader must never be made to run anything.
bool is_web_address(std::string_view address) {
  // RFC 3986, section 2: these and letters and figures are all that an address is written with.
  constexpr std::string_view marks = "-._~:/?#[]@!$&'()*+,;=%";
  return (address.starts_with("https://") || address.starts_with("http://")) && std::all_of(address.begin(), address.end(), [&](char c) {
           return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || marks.find(c) != marks.npos;
         });
}

Micrometres up(std::int64_t nanometres) { return (nanometres + 999) / 1000; }

bool same_type(const TextRun& a, const TextRun& b) { return a.face == b.face && a.size == b.size && a.ink == b.ink && a.link == b.link; }

Line line_of(const Paragraph& paragraph, const std::vector<Glyph>& glyphs, std::size_t first, std::size_t last) {
  Line line;
  std::int64_t at = 0;
  for (std::size_t i = first; i < last;) {
    const TextRun& type = paragraph.runs[glyphs[i].run];
    std::u32string characters;
    std::int64_t wide = 0;
    bool was_space = false;
    for (; i < last && same_type(paragraph.runs[glyphs[i].run], type); ++i) {
      const bool space = glyphs[i].character == U' ';
      if (space && was_space) continue;  // typed twice
      was_space = space;
      characters.push_back(glyphs[i].character);
      wide += glyphs[i].nanometres;
    }
    line.texts.push_back({at / 1000, 0, up(wide), utf8_of(characters), type.face, type.size, type.ink});
    if (!type.link.empty()) line.jumps.push_back({at / 1000, 0, up(wide), 0, type.link});
    at += wide;
  }
  line.width = up(at);
  return line;
}

}  // namespace

namespace {

/// A paragraph broken into lines: glyphs [first, last) of each.
struct Broken {
  std::vector<Glyph> glyphs;
  std::vector<std::pair<std::size_t, std::size_t>> lines;
};

Micrometres indent_of(const Paragraph& paragraph, std::size_t line) { return line == 0 ? 0 : paragraph.indent; }

Result<Broken> broken(const Paragraph& paragraph, Micrometres width, const Fonts& fonts) {
  Broken made{glyphs_of(paragraph, fonts), {}};
  const std::vector<Glyph>& glyphs = made.glyphs;
  const std::vector<Atom> atoms = atoms_of(glyphs);
  Refusals refusals;
  for (std::size_t i = 0; i < atoms.size(); ++i) {
    const Micrometres room = width - indent_of(paragraph, made.lines.size());
    const std::size_t first = atoms[i].first;
    std::size_t last = atoms[i].last;
    if (up(advance(glyphs, first, last)) > room) {
      std::u32string word;
      for (std::size_t g = first; g < last; ++g) word.push_back(glyphs[g].character);
      refusals.push_back(
          Refusal{"", 0, paragraph.field,
                  fmt::format("`{}` is {:.1f} mm wide and its line {:.1f} mm", utf8_of(word),
                              static_cast<double>(up(advance(glyphs, first, last))) / 1000.0, static_cast<double>(room) / 1000.0),
                  "write it shorter, put a space or a hyphen in it, or take a wider paper"});
    }
    while (!atoms[i].ends_line && i + 1 < atoms.size() && up(advance(glyphs, first, atoms[i + 1].last)) <= room) last = atoms[++i].last;
    made.lines.emplace_back(first, last);
  }
  if (!refusals.empty()) return refusals;
  return made;
}

PointSize largest_of(const Paragraph& paragraph, const Broken& broken, std::size_t line) {
  const auto [first, last] = broken.lines[line];
  if (first == last && !paragraph.runs.empty()) return paragraph.runs.front().size;
  PointSize largest;
  for (std::size_t i = first; i < last; ++i) largest = std::max(largest, paragraph.runs[broken.glyphs[i].run].size);
  return largest;
}

}  // namespace

Result<std::vector<Line>> break_lines(const Paragraph& paragraph, Micrometres width, const Fonts& fonts) {
  const auto made = broken(paragraph, width, fonts);
  if (!made) return made.error();
  std::vector<Line> lines;
  for (std::size_t i = 0; i < made->lines.size(); ++i) {
    const auto [first, last] = made->lines[i];
    const Micrometres indent = indent_of(paragraph, i);
    Line line = line_of(paragraph, made->glyphs, first, last);
    line.largest = largest_of(paragraph, *made, i);
    const Micrometres room = width - indent;
    const Micrometres shift = paragraph.align == Align::left     ? indent
                              : paragraph.align == Align::centre ? indent + (room - line.width) / 2
                                                                 : indent + room - line.width;
    for (PlacedText& text : line.texts) text.x += shift;
    for (Jump& jump : line.jumps) jump.x += shift;
    lines.push_back(std::move(line));
  }
  return lines;
}

Result<std::vector<PointSize>> sizes_of_lines(const Paragraph& paragraph, Micrometres width, const Fonts& fonts) {
  const auto made = broken(paragraph, width, fonts);
  if (!made) return made.error();
  std::vector<PointSize> sizes;
  for (std::size_t i = 0; i < made->lines.size(); ++i) sizes.push_back(largest_of(paragraph, *made, i));
  return sizes;
}

Extent extent_of(const Paragraph& paragraph, const Fonts& fonts) {
  const std::vector<Glyph> glyphs = glyphs_of(paragraph, fonts);
  Extent extent;
  std::size_t start = 0;
  for (const Atom& atom : atoms_of(glyphs)) {
    extent.least = std::max(extent.least, paragraph.indent + up(advance(glyphs, atom.first, atom.last)));
    extent.whole = std::max(extent.whole, up(advance(glyphs, start, atom.last)));
    if (atom.ends_line) start = atom.next;
  }
  return extent;
}

Refusals check_paragraph(const Paragraph& paragraph, const Fonts& fonts) {
  Refusals all;
  for (const TextRun& run : paragraph.runs) {
    Refusals found = check_text(run.text, run.face, fonts, paragraph.field);
    all.insert(all.end(), std::make_move_iterator(found.begin()), std::make_move_iterator(found.end()));
    if (!run.link.empty() && !run.link.starts_with('#') && !is_web_address(run.link)) {
      all.push_back(Refusal{"", 0, paragraph.field, fmt::format("`{}` is not an address of the web", run.link),
                            "begin it with https:// and write it without spaces"});
    }
  }
  // A character outside NFC may straddle two runs only as a combining accent, which is refused by itself.
  return all;
}

}  // namespace tierproof::papers
