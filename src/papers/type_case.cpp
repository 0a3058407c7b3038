#include "type_case.h"

#include <utf8proc.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <string_view>

namespace tierproof::papers {
namespace {

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

/// Whether a character is one of `marks`. No letter or figure of ASCII is, and most characters are these.
bool in_class(char32_t c, std::u32string_view marks) {
  const bool plain = (c >= U'a' && c <= U'z') || (c >= U'A' && c <= U'Z') || (c >= U'0' && c <= U'9');
  return !plain && marks.find(c) != marks.npos;
}

std::u32string_view without_marks(std::u32string_view word) {
  constexpr std::u32string_view opening = U"([{“‘\"'";
  constexpr std::u32string_view closing = U")]}”’\"'.,;:!?";
  while (!word.empty() && in_class(word.front(), opening)) word.remove_prefix(1);
  while (!word.empty() && in_class(word.back(), closing)) word.remove_suffix(1);
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
  if (last.size() == 1 && in_class(last.front(), signs_before_numbers) && is_digit(next.front())) return true;
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

/// Whether spaces between two characters may not be broken, whatever the words say.
bool held_together(char32_t before, char32_t after) {
  if (in_class(after, never_first) || in_class(before, never_last)) return true;
  if (in_class(before, quotations) && in_class(after, never_last)) return true;
  return before == U'—' && after == U'—';  // LB 17
}

bool is_space(char32_t c) { return c == U' ' || c == U'\n'; }

std::vector<Atom> atoms_of(std::u32string_view text) {
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

}  // namespace

const Shape& TypeCase::shape_of(const Paragraph& paragraph) {
  key_.clear();
  for (const TextRun& run : paragraph.runs) {
    key_ += static_cast<char>(run.face);
    const std::size_t length = run.text.size();
    key_.append(reinterpret_cast<const char*>(&length), sizeof length);
    key_ += run.text;
  }
  const auto [found, is_new] = shapes_.try_emplace(key_);
  Shape& shape = found->second;
  if (!is_new) return shape;
  for (const TextRun& run : paragraph.runs) {
    if (!check_text(run.text, run.face, fonts_, "").empty()) return shape;
  }
  shape.settable = true;
  for (const TextRun& run : paragraph.runs) {
    shape.characters += characters_of(run.text);
    shape.ends.push_back(shape.characters.size());
  }
  shape.atoms = atoms_of(shape.characters);
  return shape;
}

}  // namespace tierproof::papers
