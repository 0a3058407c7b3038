#include "tierproof/sums/additive_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

#include "words.h"

namespace tierproof {
namespace {

constexpr int first_number = 100;
constexpr int last_number = 1599;
constexpr std::array<std::string_view, 12> roman = {"i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"};

/// Takes a blank or a hyphen, as they stand between the parts of a number.
void skip(std::string_view& text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '-')) text.remove_prefix(1);
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// The names that a row answers to, plain.
///
/// Several names of one additive stand behind each other with commas; a name that enumerates (`white and yellow`) is one name. What
/// stands in brackets at the end is another.
std::vector<std::string> names_of(const AdditiveTerm& row) {
  std::vector<std::string> names;
  const auto add = [&](std::string_view name) {
    if (std::string plain = plain_words(name); !plain.empty()) names.push_back(std::move(plain));
  };
  for (const std::string* name : {&row.name, &row.print}) {
    add(*name);
    const std::size_t open = name->rfind('(');
    if (open != std::string::npos && open > 0 && name->ends_with(")")) {
      add(std::string_view{*name}.substr(0, open));
      add(std::string_view{*name}.substr(open + 1, name->size() - open - 2));
    }
    if (name->find(" and ") != std::string::npos) continue;
    std::size_t from = 0;
    for (std::size_t at = name->find(", "); at != std::string::npos; at = name->find(", ", from)) {
      add(std::string_view{*name}.substr(from, at - from));
      from = at + 2;
    }
    if (from > 0) add(std::string_view{*name}.substr(from));
  }
  return names;
}

}  // namespace

std::optional<AdditiveNumber> read_additive_number(std::string_view text) {
  const std::string plain = plain_words(text);
  std::string_view rest{plain};
  if (rest.starts_with("ins")) {
    rest.remove_prefix(3);
  } else if (rest.starts_with("e")) {
    rest.remove_prefix(1);
  } else {
    return std::nullopt;
  }
  skip(rest);
  std::size_t digits = 0;
  int number = 0;
  while (digits < rest.size() && digits < 5 && is_digit(rest[digits])) number = number * 10 + (rest[digits++] - '0');
  if (digits < 3 || digits > 4 || rest.front() == '0' || number < first_number || number > last_number) return std::nullopt;
  AdditiveNumber read{fmt::format("E{}", number), ""};
  rest.remove_prefix(digits);
  skip(rest);
  if (!rest.empty() && rest.front() >= 'a' && rest.front() <= 'k') {
    read.number += rest.front();
    rest.remove_prefix(1);
    skip(rest);
  }
  if (rest.empty()) return read;
  if (rest.front() != '(' || rest.back() != ')') return std::nullopt;
  const std::string_view inside = rest.substr(1, rest.size() - 2);
  if (std::find(roman.begin(), roman.end(), inside) == roman.end()) return std::nullopt;
  read.suffix = rest;
  return read;
}

std::optional<std::string> additive_number(std::string_view text) {
  const std::optional<AdditiveNumber> read = read_additive_number(text);
  return read ? std::optional{read->number} : std::nullopt;
}

const AdditiveTerm* find_additive_by_text(const LabelTerms& terms, std::string_view text) {
  if (const std::optional<AdditiveNumber> read = read_additive_number(text)) {
    if (const AdditiveTerm* row = terms.additive(read->number + read->suffix)) return row;
    return terms.additive(read->number);
  }
  const std::string plain = plain_words(text);
  if (plain.empty()) return nullptr;
  const AdditiveTerm* but_for_number = nullptr;  // `sodium carbonate` is a row of its own beside `sodium carbonates`
  for (const AdditiveTerm& row : terms.additives) {
    for (const std::string& name : names_of(row)) {
      if (name == plain) return &row;
      if (but_for_number == nullptr && same_but_for_number(plain, name)) but_for_number = &row;
    }
  }
  return but_for_number;
}

std::vector<std::string> near_additives(const LabelTerms& terms, std::string_view text) {
  constexpr std::size_t most_shown = 3;
  const std::string plain = plain_words(text);
  if (plain.empty()) return {};
  // A number allows one slip, a name one in five letters: more would suggest what nobody meant.
  const bool numeric = std::any_of(plain.begin(), plain.end(), is_digit) && plain.size() <= 9;
  const std::size_t most = numeric ? 1 : std::max<std::size_t>(1, plain.size() / 5);
  std::string digits = plain;
  std::erase_if(digits, [](char c) { return c == ' ' || c == '-'; });
  std::vector<std::pair<std::size_t, std::string>> near;
  for (const AdditiveTerm& row : terms.additives) {
    std::size_t edits = most + 1;
    const std::string number = plain_words(row.number);
    if (numeric) edits = std::min(edits, digits == number.substr(1) ? 0 : edits_between(digits, number, most));
    for (const std::string& name : names_of(row)) {
      if (!numeric) edits = std::min(edits, edits_between(plain, name, most));
    }
    if (edits <= most) near.emplace_back(edits, fmt::format("{} ({})", row.number, row.name));
  }
  std::sort(near.begin(), near.end());
  std::vector<std::string> shown;
  for (const auto& [edits, words] : near) {
    if (shown.size() < most_shown) shown.push_back(words);
  }
  return shown;
}

}  // namespace tierproof
