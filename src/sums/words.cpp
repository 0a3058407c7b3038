#include "words.h"

#include <algorithm>
#include <cctype>

namespace tierproof {
namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
bool in_word(char c) { return static_cast<unsigned char>(c) >= 0x80 || std::isalnum(static_cast<unsigned char>(c)) != 0; }

/// The singular forms that `word` may have, itself among them.
std::vector<std::string> singulars(std::string_view word) {
  std::vector<std::string> forms{std::string{word}};
  if (word.size() > 3 && word.ends_with("s") && !word.ends_with("ss")) forms.emplace_back(word.substr(0, word.size() - 1));
  if (word.size() > 4 && word.ends_with("es")) forms.emplace_back(word.substr(0, word.size() - 2));
  if (word.size() > 4 && word.ends_with("ies")) forms.push_back(std::string{word.substr(0, word.size() - 3)} + "y");
  return forms;
}

}  // namespace

std::string plain_words(std::string_view text) {
  std::string plain;
  bool blank = false;
  const auto add = [&](char c) {
    if (blank && !plain.empty()) plain += ' ';
    blank = false;
    plain += c;
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::string_view rest = text.substr(i);
    if (rest.starts_with("\xC2\xA0")) {  // no-break space
      blank = true;
      ++i;
    } else if (rest.starts_with("\xE2\x80\x90") || rest.starts_with("\xE2\x80\x91") || rest.starts_with("\xE2\x80\x93")) {
      add('-');  // hyphen, no-break hyphen, dash
      i += 2;
    } else if (text[i] == ' ' || text[i] == '\t') {
      blank = true;
    } else {
      add(lower(text[i]));
    }
  }
  return plain;
}

std::vector<std::string> words_of_name(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : plain_words(text) + " ") {
    if (in_word(c)) {
      word += c;
    } else if (!word.empty()) {
      words.push_back(std::move(word));
      word.clear();
    }
  }
  return words;
}

bool same_but_for_number(std::string_view one, std::string_view other) {
  if (one == other) return true;
  constexpr std::size_t longest_ending = 2;  // of a plural over its singular
  const std::size_t longer = one.size() > other.size() ? one.size() - other.size() : other.size() - one.size();
  // A plural begins as its singular.
  if (one.empty() || other.empty() || longer > longest_ending || one.front() != other.front()) return false;
  const std::vector<std::string> here = singulars(one);
  const std::vector<std::string> there = singulars(other);
  // One of the two is the singular of the other: two plurals that only share a stem are two words.
  return std::find(here.begin(), here.end(), other) != here.end() || std::find(there.begin(), there.end(), one) != there.end();
}

std::size_t find_phrase(const std::vector<std::string>& words, const std::vector<std::string>& phrase) {
  if (phrase.empty() || phrase.size() > words.size()) return words.size();
  const auto found = std::search(words.begin(), words.end(), phrase.begin(), phrase.end(),
                                 [](const std::string& a, const std::string& b) { return same_but_for_number(a, b); });
  return static_cast<std::size_t>(found - words.begin());
}

bool has_words(std::string_view text, std::string_view phrase) {
  const std::vector<std::string> words = words_of_name(text);
  return find_phrase(words, words_of_name(phrase)) < words.size();
}

AroundNames around_names(std::string_view wording) {
  constexpr std::string_view mark = "{names}";
  const std::size_t at = wording.find(mark);
  if (at == std::string_view::npos) return {std::string{wording}, "", false};
  return {std::string{wording.substr(0, at)}, std::string{wording.substr(at + mark.size())}, true};
}

std::size_t edits_between(std::string_view one, std::string_view other, std::size_t most) {
  const std::size_t apart = one.size() > other.size() ? one.size() - other.size() : other.size() - one.size();
  if (apart > most) return most + 1;
  std::vector<std::size_t> before(other.size() + 1);
  std::vector<std::size_t> above(other.size() + 1);
  std::vector<std::size_t> row(other.size() + 1);
  for (std::size_t j = 0; j <= other.size(); ++j) above[j] = j;
  for (std::size_t i = 1; i <= one.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= other.size(); ++j) {
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + (one[i - 1] == other[j - 1] ? 0U : 1U)});
      if (i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1]) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    before.swap(above);
    above.swap(row);
  }
  return std::min(above[other.size()], most + 1);
}

}  // namespace tierproof
