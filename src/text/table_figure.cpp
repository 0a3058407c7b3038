#include "tierproof/text/table_figure.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <stdexcept>

namespace tierproof {
namespace {

std::size_t column_of(const DataTable& table, const std::string& heading) {
  const auto found = std::find(table.headings.begin(), table.headings.end(), heading);
  if (found == table.headings.end()) throw std::invalid_argument{fmt::format("table {} has no heading {}", table.name, heading)};
  return static_cast<std::size_t>(found - table.headings.begin());
}

Json json_of(const DataCell& cell) {
  if (std::holds_alternative<std::monostate>(cell)) return nullptr;
  if (std::holds_alternative<std::int64_t>(cell)) return std::get<std::int64_t>(cell);
  return text_of(cell);
}

}  // namespace

std::int64_t figure_by(const DataTable& table, const FigureRule& rule) {
  if (!rule.sum.empty() && !rule.distinct.empty()) throw std::invalid_argument{"a figure either adds up or counts different texts"};
  std::vector<std::pair<std::size_t, const std::string*>> conditions;
  for (const auto& [heading, says] : rule.where) conditions.emplace_back(column_of(table, heading), &says);
  std::int64_t rows = 0, sum = 0;
  std::set<std::string> different;
  for (const DataRow& row : table.rows) {
    const auto holds = [&](const auto& condition) { return text_of(row[condition.first]) == *condition.second; };
    if (!std::all_of(conditions.begin(), conditions.end(), holds)) continue;
    ++rows;
    if (!rule.distinct.empty()) different.insert(text_of(row[column_of(table, rule.distinct)]));
    if (rule.sum.empty()) continue;
    const DataCell& cell = row[column_of(table, rule.sum)];
    if (std::holds_alternative<std::monostate>(cell)) continue;
    const auto* number = std::get_if<std::int64_t>(&cell);
    if (number == nullptr) throw std::invalid_argument{fmt::format("under {} of {} stands no whole number", rule.sum, table.name)};
    sum += *number;
  }
  if (!rule.distinct.empty()) return static_cast<std::int64_t>(different.size());
  return rule.sum.empty() ? rows : sum;
}

std::int64_t percent_of(std::int64_t part, std::int64_t whole) { return (200 * part + whole) / (2 * whole); }

std::string percent_in_words(std::int64_t part, std::int64_t whole) {
  const std::int64_t percent = percent_of(part, whole);
  if (percent == 0 && part > 0) return "under 1 %";
  if (percent == 100 && part < whole) return "over 99 %";
  return fmt::format("{} %", percent);
}

Json json_of(const FigureRule& rule) {
  Json::Object where;
  for (const auto& [heading, says] : rule.where) where.emplace(heading, Json{says});
  Json json{Json::Object{{"table", Json{rule.table}}, {"where", Json{std::move(where)}}}};
  if (!rule.sum.empty()) json["sum"] = Json{rule.sum};
  if (!rule.distinct.empty()) json["distinct"] = Json{rule.distinct};
  return json;
}

Json json_of(const DataTable& table) {
  Json::Array headings;
  for (const auto& heading : table.headings) headings.emplace_back(heading);
  Json::Array rows;
  for (const auto& row : table.rows) {
    Json::Object members;
    for (std::size_t i = 0; i < row.size(); ++i) members.emplace(table.headings[i], json_of(row[i]));
    rows.emplace_back(std::move(members));
  }
  return Json{Json::Object{{"list", Json{table.name}}, {"headings", Json{std::move(headings)}}, {"rows", Json{std::move(rows)}}}};
}

}  // namespace tierproof
