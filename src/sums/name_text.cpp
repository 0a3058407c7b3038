#include "name_text.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
#include <utility>

#include "tierproof/sums/additive_text.h"

namespace tierproof {
namespace {

constexpr std::size_t deepest = 40;  // brackets in brackets: deeper ones are read as if they stood here

/// Plain small letters for the letters of the Latin alphabet that carry marks, by their code point.
std::string_view plain_letter(unsigned point) {
  struct Range {
    unsigned first, last;
    std::string_view plain;
  };
  constexpr std::array ranges{
      Range{0xC0, 0xC5, "a"},   Range{0xC6, 0xC6, "ae"},  Range{0xC7, 0xC7, "c"},   Range{0xC8, 0xCB, "e"},    Range{0xCC, 0xCF, "i"},
      Range{0xD0, 0xD0, "d"},   Range{0xD1, 0xD1, "n"},   Range{0xD2, 0xD6, "o"},   Range{0xD8, 0xD8, "o"},    Range{0xD9, 0xDC, "u"},
      Range{0xDD, 0xDD, "y"},   Range{0xDF, 0xDF, "ss"},  Range{0xE0, 0xE5, "a"},   Range{0xE6, 0xE6, "ae"},   Range{0xE7, 0xE7, "c"},
      Range{0xE8, 0xEB, "e"},   Range{0xEC, 0xEF, "i"},   Range{0xF0, 0xF0, "d"},   Range{0xF1, 0xF1, "n"},    Range{0xF2, 0xF6, "o"},
      Range{0xF8, 0xF8, "o"},   Range{0xF9, 0xFC, "u"},   Range{0xFD, 0xFD, "y"},   Range{0xFF, 0xFF, "y"},    Range{0x100, 0x105, "a"},
      Range{0x106, 0x10D, "c"}, Range{0x10E, 0x111, "d"}, Range{0x112, 0x11B, "e"}, Range{0x11C, 0x123, "g"},  Range{0x128, 0x131, "i"},
      Range{0x139, 0x142, "l"}, Range{0x143, 0x148, "n"}, Range{0x14C, 0x151, "o"}, Range{0x152, 0x153, "oe"}, Range{0x154, 0x159, "r"},
      Range{0x15A, 0x161, "s"}, Range{0x162, 0x167, "t"}, Range{0x168, 0x173, "u"}, Range{0x179, 0x17E, "z"}};
  const auto found =
      std::find_if(ranges.begin(), ranges.end(), [&](const Range& range) { return point >= range.first && point <= range.last; });
  return found == ranges.end() ? std::string_view{} : found->plain;
}

/// `text` in small ASCII letters: marks off letters, apostrophes and combining marks left out, other signs of print as blanks.
std::string plain_text(std::string_view text) {
  std::string plain;
  for (std::size_t i = 0; i < text.size();) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if (byte < 0x80) {
      if (byte != '\'' && byte != '`' && byte != '*' && byte != '"') plain += static_cast<char>(std::tolower(byte));
      if (byte == '*' || byte == '"') plain += ' ';
      ++i;
      continue;
    }
    const std::size_t length = byte >= 0xF0 ? 4 : byte >= 0xE0 ? 3 : 2;
    unsigned point = byte & (0xFFU >> (length + 1));
    std::size_t used = 1;
    while (used < length && i + used < text.size() && (static_cast<unsigned char>(text[i + used]) & 0xC0U) == 0x80) {
      point = point << 6U | (static_cast<unsigned char>(text[i + used]) & 0x3FU);
      ++used;
    }
    i += used;
    const bool left_out = point == 0x2018 || point == 0x2019 || point == 0x00AD || (point >= 0x300 && point <= 0x36F);
    if (left_out) continue;
    const bool sign = point < 0x180 || (point >= 0x2000 && point < 0x2E80);
    const auto letter = plain_letter(point);
    plain += !letter.empty() ? letter : sign ? " " : "?";  // a letter of another alphabet makes a word that nobody knows
  }
  return plain;
}

/// One form for singular and plural, whether or not it is a word.
std::string singular(std::string word) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 5> odd{
      {{"leaves", "leaf"}, {"loaves", "loaf"}, {"halves", "half"}, {"anchovies", "anchovy"}, {"knives", "knife"}}};
  for (const auto& [plural, one] : odd) {
    if (word == plural) return std::string{one};
  }
  const auto ends = [&](std::string_view end) { return word.size() > end.size() + 1 && word.ends_with(end); };
  const auto cut = [&](std::size_t letters) { word.resize(word.size() - letters); };
  if (ends("ies")) {
    cut(3);
    word += 'y';
  } else if (ends("ie")) {
    cut(2);
    word += 'y';
  } else if (ends("ches") || ends("shes") || ends("xes") || ends("sses") || ends("oes")) {
    cut(2);
  } else if (ends("che") || ends("xe") || ends("oe")) {
    cut(1);
  } else if (word.size() > 3 && word.ends_with('s') && !ends("ss") && !ends("us") && !ends("is")) {
    cut(1);
  }
  return word;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || c == '?'; }

/// The number of an additive that begins at `at`, and where it ends.
std::optional<std::pair<std::string, std::size_t>> additive_at(std::string_view text, std::size_t at) {
  const std::string_view rest = text.substr(at);
  std::size_t end = rest.starts_with("ins") ? 3 : rest.starts_with("e") ? 1 : 0;
  if (end == 0) return std::nullopt;
  while (end < rest.size() && (rest[end] == ' ' || rest[end] == '-')) ++end;
  const std::size_t digits = end;
  while (end < rest.size() && is_digit(rest[end])) ++end;
  if (end == digits) return std::nullopt;
  std::size_t letter = end;
  if (letter < rest.size() && rest[letter] == ' ') ++letter;
  if (letter < rest.size() && is_letter(rest[letter]) && (letter + 1 == rest.size() || !is_letter(rest[letter + 1]))) end = letter + 1;
  auto number = additive_number(rest.substr(0, end));
  if (!number && end == letter + 1) number = additive_number(rest.substr(0, end = letter - (rest[letter - 1] == ' ' ? 1 : 0)));
  if (!number || (end < rest.size() && (is_letter(rest[end]) || is_digit(rest[end])))) return std::nullopt;
  if (const auto close = rest.find(')', end); close != std::string_view::npos) {  // its roman number
    if (additive_number(rest.substr(0, close + 1))) end = close + 1;
  }
  std::string word = *number;
  word.front() = 'e';
  return std::pair{word, at + end};
}

class Taker {
 public:
  explicit Taker(std::string text) : text_{std::move(text)} {}
  std::vector<NamePart> take(std::size_t depth) {
    std::vector<NamePart> parts(1);
    const auto next = [&] {
      if (!parts.back().words.empty() || !parts.back().brackets.empty()) parts.emplace_back();
    };
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '(' || c == '[' || c == '{') {
        ++at_;
        if (depth >= deepest) continue;
        auto inside = take(depth + 1);
        if (!inside.empty()) parts.back().brackets.push_back({parts.back().words.size(), std::move(inside)});
      } else if (c == ')' || c == ']' || c == '}') {
        ++at_;
        if (depth > 0 && depth < deepest) break;
      } else if (is_letter(c)) {
        word(parts.back());
      } else if (is_digit(c)) {
        number();
      } else {
        if (c == ',' || c == ';' || c == ':' || c == '/' || c == '+' || c == '\n' || c == '|') next();
        if (c == '&') add(parts.back(), "and", "and");
        ++at_;
      }
    }
    if (parts.back().words.empty() && parts.back().brackets.empty()) parts.pop_back();
    return parts;
  }

 private:
  static void add(NamePart& part, std::string folded, std::string said) {
    part.words.push_back(std::move(folded));
    part.said.push_back(std::move(said));
  }
  void word(NamePart& part) {
    if (auto additive = additive_at(text_, at_)) {
      at_ = additive->second;
      std::string said = additive->first;
      said.front() = 'E';
      return add(part, std::move(additive->first), std::move(said));
    }
    const std::size_t from = at_;
    while (at_ < text_.size() && is_letter(text_[at_])) ++at_;
    std::string said = text_.substr(from, at_ - from);
    if (said.size() > 1 || said == "?") add(part, singular(said), said);
  }
  /// Passes over a number, with its decimals and its sign of percentage; a comma between digits parts nothing.
  void number() {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      const bool inside = (c == ',' || c == '.') && at_ + 1 < text_.size() && is_digit(text_[at_ + 1]);
      if (!is_digit(c) && c != '%' && !inside) return;
      ++at_;
    }
  }
  std::string text_;
  std::size_t at_ = 0;
};

}  // namespace

std::vector<NamePart> name_parts(std::string_view name) { return Taker{plain_text(name)}.take(0); }

bool joins_foods(std::string_view word) {
  return word == "and" || word == "with" || word == "or" || word == "plu" || word == "plus" || word == "in" || word == "containing";
}

}  // namespace tierproof
