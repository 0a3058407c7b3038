#include "pack_letters.h"

#include <algorithm>
#include <cctype>

#include "tierproof/text/number.h"

namespace tierproof {
namespace {

bool is_upper(char c) { return c >= 'A' && c <= 'Z'; }
bool is_lower(char c) { return c >= 'a' && c <= 'z'; }
bool in_word(char c) { return is_upper(c) || is_lower(c) || static_cast<unsigned char>(c) >= 0x80; }
char small(char c) { return is_upper(c) ? static_cast<char>(c - 'A' + 'a') : c; }
bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }

/// Whether a sentence of a pack begins with one of `starts` here, with a capital.
bool starts_sentence(std::string_view rest, const std::vector<std::string>& starts) {
  if (rest.empty() || !is_upper(rest.front())) return false;
  return std::any_of(starts.begin(), starts.end(),
                     [&](const std::string& start) { return ascii_lower(rest.substr(0, start.size())) == start; });
}

/// Whether a hyphen before a line break parts one word: the next line goes on in small letters, and not with a word that joins two.
bool goes_on(std::string_view rest) {
  if (rest.empty() || !is_lower(rest.front())) return false;
  return !rest.starts_with("and ") && !rest.starts_with("or ");
}

}  // namespace

PackLetters PackLetters::of(std::string_view text, const std::vector<std::string>& starts) {
  PackLetters letters;
  int line = 1;
  bool open = false;  // between asterisks
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '\n') {
      ++line;
      std::size_t next = i + 1;
      while (next < text.size() && (is_blank(text[next]) || text[next] == '\n')) ++next;
      std::string_view rest = text.substr(next);
      while (rest.starts_with('*')) rest.remove_prefix(1);
      letters.trim();
      const std::size_t end = letters.size();
      if (end > 1 && letters[end - 1] == '-' && in_word(letters[end - 2]) && goes_on(rest)) {
        letters.cut(end - 1, end);
        while (i + 1 < next) {
          if (text[++i] == '\n') ++line;
        }
        continue;
      }
      const char last = end > 0 ? letters[end - 1] : '\0';
      if (end > 0 && last != '.' && last != ',' && last != ':' && last != ';' && last != '(' && starts_sentence(rest, starts))
        letters.put('.', line, false);
      if (end > 0) letters.put(' ', line, false);
      continue;
    }
    if (c == '*') {
      std::size_t after = i;
      while (after < text.size() && text[after] == '*') ++after;
      const bool before_word = after < text.size() && (in_word(text[after]) || std::isdigit(static_cast<unsigned char>(text[after])) != 0);
      if (open) {
        open = false;
      } else if (before_word) {
        open = true;
      } else {  // behind a word: the word stands out
        for (std::size_t at = letters.size(); at > 0 && in_word(letters[at - 1]); --at) letters.marked_[at - 1] = true;
      }
      i = after - 1;
      continue;
    }
    if (c == ',' || c == ';' || c == '(' || c == ')' || c == '[' || c == ']') open = false;
    if (text.substr(i).starts_with("\xC2\xA0")) {  // no-break space
      letters.put(' ', line, open);
      ++i;
    } else if (text.substr(i).starts_with("\xC2\xAD")) {  // soft hyphen
      ++i;
      std::size_t next = i + 1;
      while (next < text.size() && is_blank(text[next])) ++next;
      if (next < text.size() && text[next] == '\n') letters.put('-', line, open);
    } else {
      letters.put(is_blank(c) ? ' ' : c, line, open);
    }
  }
  letters.trim();
  return letters;
}

bool PackLetters::all_capitals() const {
  return std::any_of(text_.begin(), text_.end(), is_upper) && std::none_of(text_.begin(), text_.end(), is_lower);
}

std::string PackLetters::whole_characters(std::size_t from, std::size_t to) const {
  const auto inside = [&](std::size_t at) { return at < text_.size() && (static_cast<unsigned char>(text_[at]) & 0xC0U) == 0x80; };
  while (inside(from)) ++from;
  while (inside(to)) ++to;
  return from < to ? text_.substr(from, to - from) : "";
}

void PackLetters::put(char c, int line, bool marked) {
  text_ += c;
  lines_.push_back(line);
  marked_.push_back(marked);
}
void PackLetters::take(const PackLetters& other, std::size_t at) { put(other.text_[at], other.lines_[at], other.marked_[at]); }
void PackLetters::add(std::string_view text, int line) {
  for (const char c : text) put(c, line, false);
}
void PackLetters::cut(std::size_t from, std::size_t to) {
  const auto erase = [&](auto& all) {
    all.erase(all.begin() + static_cast<std::ptrdiff_t>(from), all.begin() + static_cast<std::ptrdiff_t>(to));
  };
  text_.erase(from, to - from);
  erase(lines_);
  erase(marked_);
}
void PackLetters::trim() {
  while (!text_.empty() && text_.back() == ' ') cut(text_.size() - 1, text_.size());
  while (!text_.empty() && text_.front() == ' ') cut(0, 1);
}
void PackLetters::squeeze() {
  trim();
  for (std::size_t i = 1; i < text_.size();) {
    if (text_[i] == ' ' && text_[i - 1] == ' ') {
      cut(i, i + 1);
    } else {
      ++i;
    }
  }
}
void PackLetters::small_first() {
  if (text_.size() > 1 && is_upper(text_[0]) && is_lower(text_[1])) text_[0] = small(text_[0]);
}

std::vector<std::string> PackLetters::take_marks(bool capitals_mean_nothing) {
  std::vector<std::string> marks;
  bool together = false;
  for (std::size_t i = 0; i < text_.size();) {
    if (!in_word(text_[i])) {
      if (text_[i] != ' ') together = false;
      ++i;
      continue;
    }
    const std::size_t from = i;
    while (i < text_.size() && in_word(text_[i])) ++i;
    std::size_t after = i;
    while (after < text_.size() && (text_[after] == ' ' || text_[after] == '-')) ++after;
    const bool number = after < text_.size() && std::isdigit(static_cast<unsigned char>(text_[after])) != 0;  // INS 471
    const bool capitals =
        !capitals_mean_nothing && !number && i - from > 2 &&
        std::none_of(text_.begin() + static_cast<std::ptrdiff_t>(from), text_.begin() + static_cast<std::ptrdiff_t>(i), is_lower);
    const bool starred = marked_[from] && marked_[i - 1];
    if (!capitals && !starred) {
      together = false;
      continue;
    }
    if (capitals)
      std::transform(text_.begin() + static_cast<std::ptrdiff_t>(from), text_.begin() + static_cast<std::ptrdiff_t>(i),
                     text_.begin() + static_cast<std::ptrdiff_t>(from), small);
    const std::string word = text_.substr(from, i - from);
    if (together) {
      marks.back() += " " + word;
    } else {
      marks.push_back(word);
    }
    together = true;
  }
  return marks;
}

}  // namespace tierproof
