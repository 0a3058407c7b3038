#include "parameters.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "tierproof/text/number.h"
#include "tierproof/units/share.h"

namespace tierproof::parameter {
namespace {

std::optional<Degrees> degrees(Fields& row, std::string_view key, std::string_view example) {
  const auto text = row.text(key);
  if (text.empty()) return std::nullopt;
  const auto read = parse_degrees(text);
  if (!read) row.refuse(key, fmt::format("\"{}\" is not a temperature with its scale", text), fmt::format("write \"{}\"", example));
  return read;
}

/// `155 °F (68.33 °C)`: in the scale it is written in, then in the other; to the hundredth, no trailing zeros.
std::string in_both_scales(Degrees degrees) {
  const auto number = [](const Share& value) {
    auto text = format_decimal(value, 2);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
  };
  const Share parts = (degrees.temperature() - Temperature{}).to_parts();
  const auto celsius = number(parts / 900) + " °C";
  const auto fahrenheit = number(parts / 500 + 32) + " °F";
  return degrees.scale == Scale::celsius ? fmt::format("{} ({})", celsius, fahrenheit) : fmt::format("{} ({})", fahrenheit, celsius);
}

std::vector<std::string> all_kinds() { return {food_kinds.begin(), food_kinds.end()}; }

void check_lower(Fields& row, std::string_view key, const std::string& text) {
  if (text != ascii_lower(text)) row.refuse(key, fmt::format("\"{}\" has capitals", text), "write it in lower case");
}

void check_language(Fields& row, std::string_view key, const std::string& language) {
  if (is_language(language)) return;
  row.refuse(key, fmt::format("\"{}\" is not a language", language), "write its code of two small letters, \"fr\"");
}

void check_braces(Fields& row, std::string_view key, std::string_view text) {
  for (std::size_t at = text.find_first_of("{}"); at != std::string_view::npos; at = text.find_first_of("{}", at)) {
    const auto rest = text.substr(at);
    if (rest.starts_with("{names}") || rest.starts_with("{limit}")) {
      at += 7;
      continue;
    }
    row.refuse(key, fmt::format("\"{}\" has braces that stand for nothing", text), "of braces, write {names} and {limit} only");
    return;
  }
}

}  // namespace

std::string needed_text(Fields& row, std::string_view key) {
  auto text = row.text(key);
  if (text.empty() && row.has(key)) row.refuse(key, "is empty", "write what it says");
  return text;
}

std::string maybe_text(Fields& row, std::string_view key) {
  auto text = row.maybe_text(key);
  if (text && text->empty()) row.refuse(key, "is empty", "write what it says, or leave it out");
  return text.value_or("");
}

std::vector<std::string> needed_texts(Fields& row, std::string_view key) {
  auto texts = row.texts(key);
  if (texts.empty()) row.refuse(key, "has nothing in it", "write at least one text in the list");
  return texts;
}

std::vector<std::string> lower_texts(Fields& row, std::string_view key) {
  auto texts = row.texts(key);
  for (const auto& text : texts) check_lower(row, key, text);
  return texts;
}

std::vector<std::string> chosen_texts(Fields& row, std::string_view key, const std::vector<std::string>& choices) {
  auto texts = row.texts(key);
  for (std::size_t i = 0; i < texts.size(); ++i) {
    if (std::find(choices.begin(), choices.end(), texts[i]) == choices.end()) {
      row.refuse(key, fmt::format("\"{}\" is not one of the choices", texts[i]), fmt::format("write of: {}", fmt::join(choices, ", ")));
    } else if (std::find(texts.begin(), texts.begin() + static_cast<std::ptrdiff_t>(i), texts[i]) !=
               texts.begin() + static_cast<std::ptrdiff_t>(i)) {
      row.refuse(key, fmt::format("\"{}\" stands there twice", texts[i]), "keep one of the two");
    }
  }
  return texts;
}

std::string maybe_choice(Fields& row, std::string_view key, const std::vector<std::string>& choices, std::string otherwise) {
  if (row.has(key)) return row.choice(key, choices);
  row.any(key);
  return otherwise;
}

Share percent(Fields& row, std::string_view key) {
  const auto text = row.text(key);
  if (text.empty()) return 0;
  const auto share = parse_percent(text);
  if (!share) row.refuse(key, fmt::format("\"{}\" is not a share", text), "write it with the percent sign, \"2 %\"");
  return share.value_or(0);
}

std::optional<Share> maybe_percent(Fields& row, std::string_view key) {
  if (row.has(key)) return percent(row, key);
  row.any(key);
  return std::nullopt;
}

Share decimal(Fields& row, std::string_view key) {
  const auto text = row.text(key);
  if (text.empty()) return 0;
  const auto number = parse_decimal(text);
  if (!number || *number < 0 || *number > 1'000'000) {
    row.refuse(key, fmt::format("\"{}\" is not an amount", text), "write a number from 0 to 1000000 as a text, \"16.5\"");
    return 0;
  }
  return *number;
}

std::optional<Share> maybe_decimal(Fields& row, std::string_view key) {
  if (row.has(key)) return decimal(row, key);
  row.any(key);
  return std::nullopt;
}

Temperature temperature(Fields& row, std::string_view key) {
  const auto read = degrees(row, key, "8 C");
  return read ? read->temperature() : Temperature{};
}

TwoColumns two_columns(Fields& row, std::string_view key, std::string_view also, Stricter stricter) {
  const auto first = degrees(row, key, "8 C");
  std::optional<Degrees> second;
  if (row.has(also)) {
    second = degrees(row, also, "46.4 F");
  } else {
    row.any(also);
  }
  if (!first) return {};
  Degrees taken = *first;
  if (second) {
    const auto apart = second->temperature() - first->temperature();
    if (second->scale == first->scale)
      row.refuse(also, fmt::format("is in the scale of \"{}\"", key), "write the other column of the law, in its own scale");
    if (apart > kelvins(1) || -apart > kelvins(1))
      row.refuse(also, fmt::format("is another temperature than \"{}\"", key), "write both columns as the law prints them");
    if (stricter == Stricter::higher ? second->temperature() > first->temperature() : second->temperature() < first->temperature())
      taken = *second;
  }
  const bool celsius_alone = !second && first->scale == Scale::celsius;
  return {taken.temperature(), celsius_alone ? "" : in_both_scales(taken)};
}

TemperatureSpan difference(Fields& row, std::string_view key) {
  const auto read = degrees(row, key, "1 C");
  if (!read) return {};
  if (read->hundredths <= 0) row.refuse(key, "is not more than nothing", "write a difference, \"1 C\"");
  return read->scale == Scale::celsius ? TemperatureSpan::hundredths_celsius(read->hundredths)
                                       : TemperatureSpan::hundredths_fahrenheit(read->hundredths);
}

Span seconds(Fields& row, std::string_view key) { return std::chrono::seconds{row.integer(key, 0, many)}; }

std::string wording(Fields& row, std::string_view key) {
  auto text = needed_text(row, key);
  check_braces(row, key, text);
  return text;
}

std::string wording_of_names(Fields& row, std::string_view key) {
  auto text = wording(row, key);
  if (!text.empty() && text.find("{names}") == std::string::npos)
    row.refuse(key, fmt::format("\"{}\" has no place for the names", text), "write {names} where they stand");
  return text;
}

std::map<std::string, std::string> other_words(Fields& row, std::string_view key) {
  std::map<std::string, std::string> words;
  if (!row.has(key)) {
    row.any(key);
    return words;
  }
  const auto& members = row.object(key);
  if (!members.is_object()) return words;
  for (const auto& [language, text] : members.object()) {
    check_language(row, key, language);
    if (!text.is_text() || text.text().empty()) {
      row.refuse(key, fmt::format("\"{}\" has no text", language), "write the words of that language in double quotes");
      continue;
    }
    check_braces(row, key, text.text());
    words.emplace(language, text.text());
  }
  return words;
}

std::map<std::string, std::vector<std::string>> other_names(Fields& row, std::string_view key) {
  std::map<std::string, std::vector<std::string>> names;
  if (!row.has(key)) {
    row.any(key);
    return names;
  }
  const auto& members = row.object(key);
  if (!members.is_object()) return names;
  for (const auto& [language, list] : members.object()) {
    check_language(row, key, language);
    const auto wrong = [&, of = language] {
      row.refuse(key, fmt::format("\"{}\" has no list of texts", of), "write [\"blé\"] with the words of that language");
    };
    if (!list.is_array() || list.array().empty()) {
      wrong();
      continue;
    }
    for (const auto& name : list.array()) {
      if (!name.is_text() || name.text().empty()) {
        wrong();
        continue;
      }
      check_lower(row, key, name.text());
      names[language].push_back(name.text());
    }
  }
  return names;
}

bool is_language(std::string_view text) {
  return text.size() == 2 && std::all_of(text.begin(), text.end(), [](char c) { return c >= 'a' && c <= 'z'; });
}

bool is_capitals(std::string_view text, std::size_t count) {
  return text.size() == count && std::all_of(text.begin(), text.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
}

std::string food_kind(Fields& row, std::string_view key) { return row.choice(key, all_kinds()); }
std::vector<std::string> kinds(Fields& row, std::string_view key) { return chosen_texts(row, key, all_kinds()); }

bool is_additive_number(std::string_view text) {
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  if (text.size() < 4 || text[0] != 'E') return false;
  text.remove_prefix(1);
  if (text.back() >= 'a' && text.back() <= 'z') text.remove_suffix(1);
  return text.size() >= 3 && text.size() <= 4 && std::all_of(text.begin(), text.end(), digit);
}

bool is_number_of_additive_row(std::string_view text) {
  static const std::set<std::string_view> romans{"i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"};
  const auto open = text.find('(');
  if (open == std::string_view::npos) return is_additive_number(text);
  const bool closed = text.back() == ')' && romans.contains(text.substr(open + 1, text.size() - open - 2));
  return closed && is_additive_number(text.substr(0, open));
}

std::vector<std::string> numbers(Fields& row, std::string_view key) {
  auto texts = needed_texts(row, key);
  for (const auto& text : texts) {
    if (!is_additive_number(text)) row.refuse(key, fmt::format("\"{}\" is not an additive's number", text), "write \"E102\"");
  }
  return texts;
}

}  // namespace tierproof::parameter
