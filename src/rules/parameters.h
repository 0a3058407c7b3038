#pragma once

#include <array>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "packs.h"
#include "tierproof/text/fields.h"

namespace tierproof {

/// One mechanism of the closed list: which set it belongs to and how its parameters are read.
struct Mechanism {
  std::string_view set;
  std::string_view name;
  RowSays (*read)(Fields&, const RowContext&);
};
std::span<const Mechanism> allergen_mechanisms();
std::span<const Mechanism> additive_mechanisms();
std::span<const Mechanism> list_mechanisms();
std::span<const Mechanism> particular_mechanisms();
std::span<const Mechanism> other_mechanisms();
std::span<const Mechanism> activity_mechanisms();

/// Single parameters of a row. Each refuses what is missing, empty, without its unit or out of range, and names the remedy.
namespace parameter {

inline constexpr std::int64_t many = 1'000'000'000;

std::string needed_text(Fields& row, std::string_view key);
std::string maybe_text(Fields& row, std::string_view key);
std::vector<std::string> needed_texts(Fields& row, std::string_view key);
/// Texts in lower case, as names are looked for.
std::vector<std::string> lower_texts(Fields& row, std::string_view key);
/// Texts of a closed list, each once.
std::vector<std::string> chosen_texts(Fields& row, std::string_view key, const std::vector<std::string>& choices);
/// One of the choices; `otherwise` when the row does not say.
std::string maybe_choice(Fields& row, std::string_view key, const std::vector<std::string>& choices, std::string otherwise);

/// `"2 %"`
Share percent(Fields& row, std::string_view key);
std::optional<Share> maybe_percent(Fields& row, std::string_view key);
/// `"16.5"`, not negative, at most a million.
Share decimal(Fields& row, std::string_view key);
std::optional<Share> maybe_decimal(Fields& row, std::string_view key);
Temperature temperature(Fields& row, std::string_view key);
/// A temperature of a law that may print two columns: `key`, and `also` in the other scale.
struct TwoColumns {
  Temperature limit;  ///< the stricter of the two
  std::string words;  ///< how it is told, `155 °F (68.33 °C)`; empty: in Celsius alone
};
enum class Stricter { lower, higher };
/// Columns are rounded each by itself: they are refused further apart than a degree Celsius, or in one scale.
TwoColumns two_columns(Fields& row, std::string_view key, std::string_view also, Stricter stricter);
/// A difference of temperatures; must be more than nothing.
TemperatureSpan difference(Fields& row, std::string_view key);
Span seconds(Fields& row, std::string_view key);

/// A text that is printed: of braces it may hold `{names}` and `{limit}` only.
std::string wording(Fields& row, std::string_view key);
/// The same, with `{names}` in it.
std::string wording_of_names(Fields& row, std::string_view key);
/// Words by language: `{"fr": "blé"}`.
std::map<std::string, std::string> other_words(Fields& row, std::string_view key);
/// Lists of words by language, in lower case.
std::map<std::string, std::vector<std::string>> other_names(Fields& row, std::string_view key);
/// Whether `text` is a language as ISO 639-1 has it, two small letters.
bool is_language(std::string_view text);
/// Whether `text` is so many capitals: a country has two, a currency three.
bool is_capitals(std::string_view text, std::size_t count);

std::string food_kind(Fields& row, std::string_view key);
std::vector<std::string> kinds(Fields& row, std::string_view key);
/// `E471`, `E150a`
bool is_additive_number(std::string_view text);
/// One of those, or with the substance meant behind it, a roman number up to `(xii)`: `E500(ii)`
bool is_number_of_additive_row(std::string_view text);
std::vector<std::string> numbers(Fields& row, std::string_view key);

}  // namespace parameter
}  // namespace tierproof
