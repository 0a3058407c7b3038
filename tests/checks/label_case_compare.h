#pragma once

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <optional>
#include <string>
#include <vector>

#include "label_case.h"
#include "tierproof/sums/declaration.h"

namespace tierproof::label_cases {

/// `sugar, butter (*MILK*)`: emphasis between asterisks.
inline std::string with_asterisks(const std::vector<Run>& runs) {
  std::string text;
  for (const Run& run : runs) text += run.emphasised ? "*" + run.text + "*" : run.text;
  return text;
}
inline std::string list_with_asterisks(const Declaration& declared) {
  std::string text;
  for (const ListedIngredient& entry : declared.ingredients) text += (text.empty() ? "" : ", ") + with_asterisks(entry.runs);
  return text;
}
inline std::string without_asterisks(std::string text) {
  std::erase(text, '*');
  return text;
}

inline void expect(Judged& judged, const std::string& what, const std::optional<std::string>& wanted, const std::string& got) {
  if (wanted && *wanted != got) judged.wrong.push_back(fmt::format("{}: expected \"{}\", got \"{}\"", what, *wanted, got));
}
inline void expect(Judged& judged, const std::string& what, const std::optional<std::vector<std::string>>& wanted,
                   const std::vector<std::string>& got) {
  if (wanted && *wanted != got)
    judged.wrong.push_back(
        fmt::format("{}: expected [\"{}\"], got [\"{}\"]", what, fmt::join(*wanted, "\", \""), fmt::join(got, "\", \"")));
}
inline void expect(Judged& judged, const std::string& what, const std::optional<bool>& wanted, bool got) {
  if (wanted && *wanted != got) judged.wrong.push_back(fmt::format("{}: expected {}, got {}", what, *wanted, got));
}

inline std::optional<std::vector<std::string>> maybe_texts(Fields& fields, std::string_view key) {
  const bool there = fields.has(key);
  auto texts = fields.texts(key);
  return there ? std::optional{std::move(texts)} : std::nullopt;
}
inline std::optional<bool> maybe_flag(Fields& fields, std::string_view key) {
  const bool there = fields.has(key);
  const bool value = fields.flag(key, false);
  return there ? std::optional{value} : std::nullopt;
}
inline std::optional<std::int64_t> maybe_count(Fields& fields, std::string_view key) { return fields.maybe_integer(key, 0, 1'000'000'000); }

/// Reads each object of `rows` by `read(Fields&)`.
template <class Read>
auto read_rows(Fields& fields, Refusals& refusals, Read read) {
  std::vector<decltype(read(fields))> rows;
  const auto& list = fields.list("rows");
  if (list.empty()) fields.refuse("rows", "has nothing in it", "write at least one row");
  for (std::size_t i = 0; i < list.size(); ++i) {
    Fields row{list[i], fields.file(), fields.path_of("rows", i), refusals};
    rows.push_back(read(row));
    row.done();
  }
  return rows;
}

using Judge = std::function<Judged(const LabelTerms&)>;

Judge cake_kind(Fields& fields, const Pantry& pantry, Refusals& refusals);
Judge one_food_kind(Fields& fields, const Pantry& pantry, Refusals& refusals);
Judge additives_kind(Fields& fields, const Pantry& pantry, Refusals& refusals);
Judge classes_kind(Fields& fields, const Pantry& pantry, Refusals& refusals);
Judge levels_kind(Fields& fields, const Pantry& pantry, Refusals& refusals);

}  // namespace tierproof::label_cases
