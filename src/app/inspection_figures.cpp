// Figures of an inspection record, and how the cells they come from are told.
#include <fmt/format.h>

#include <algorithm>

#include "inspection_sections.h"

namespace tierproof {
namespace {

constexpr std::size_t notes_told = 10;  ///< one by one behind a figure (a choice)

}  // namespace

const DataTable& InspectionFigures::table(const std::string& name) const {
  const auto found = std::find_if(tables_.begin(), tables_.end(), [&](const DataTable& table) { return table.name == name; });
  if (found == tables_.end()) throw Fault{exit_status::our_bug, fmt::format("the inspection has no table {}", name)};
  return *found;
}

std::string InspectionFigures::noted(const std::string& name, const Where& where, const std::string& heading) const {
  const DataTable& from = table(name);
  std::vector<std::uint64_t> notes;
  for (const auto& row : from.rows) {
    const RowOf of{from, row};
    const auto says = [&](const auto& condition) { return text_of(of.cell(condition.first)) == condition.second; };
    if (!std::all_of(where.begin(), where.end(), says)) continue;
    if (const auto* note = std::get_if<std::int64_t>(&of.cell(heading))) notes.push_back(static_cast<std::uint64_t>(*note));
  }
  if (notes.empty()) return "";
  if (notes.size() > notes_told) {
    const auto [first, last] = std::minmax_element(notes.begin(), notes.end());
    return fmt::format(" (notes {} to {}, see {}.csv)", *first, *last, name);
  }
  const std::string words = notes_in_words(notes);
  return fmt::format(" ({} {})", words.find_first_of(", ") == std::string::npos ? "note" : "notes", words);
}

std::int64_t InspectionFigures::told(const std::string& id, const std::string& of, FigureRule rule) {
  const std::int64_t value = figure_by(table(rule.table), rule);
  all_.push_back({id, of, value, std::move(rule)});
  return value;
}

const DataCell& RowOf::cell(const std::string& heading) const {
  const auto found = std::find(table_.headings.begin(), table_.headings.end(), heading);
  if (found == table_.headings.end()) throw Fault{exit_status::our_bug, fmt::format("table {} has no heading {}", table_.name, heading)};
  return row_.at(static_cast<std::size_t>(found - table_.headings.begin()));
}

std::string RowOf::operator[](const std::string& heading) const {
  const DataCell& said = cell(heading);
  if (const auto* day = std::get_if<Date>(&said)) return format_date_long(*day);
  if (const auto* moment = std::get_if<ZonedInstant>(&said)) return format_moment(moment->at, moment->offset);
  if (const auto* number = std::get_if<std::int64_t>(&said)) {
    if (heading.ends_with("_s")) return format_span(std::chrono::seconds{*number});
    if (heading.ends_with("_min")) return format_span(std::chrono::minutes{*number});
  }
  if (heading == "at_most_s" && std::holds_alternative<std::monostate>(said)) return "not known";
  if (heading == "state") {
    std::string words = text_of(said);
    std::replace(words.begin(), words.end(), '_', ' ');
    return words;
  }
  if (heading == "verdict") {
    for (const Verdict verdict : {Verdict::shown, Verdict::not_shown, Verdict::not_met, Verdict::outside_model}) {
      if (text_of(said) == term_of(verdict)) return std::string{words_of(verdict)};
    }
  }
  return text_of(said);
}

std::string counted(std::int64_t count, const std::string& one, const std::string& more) {
  return fmt::format("{} {}", count, count == 1 ? one : more);
}

}  // namespace tierproof
