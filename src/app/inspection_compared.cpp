// What changed since the time before, of the same length.
#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "inspection_sections.h"

namespace tierproof {
namespace {

struct ComparedFigure {
  const char* id;
  const char* words;
};
/// What is worth a look beside the time before; in the order of page one.
constexpr ComparedFigure compared_figures[] = {
    {"cakes", "Cakes"},
    {"days-missing", "Days worked without a temperature"},
    {"days-above", "Days too warm"},
    {"days-perhaps-above", "Days perhaps too warm"},
    {"days-unreliable", "Days read only by a thermometer in doubt"},
    {"readings-typed-late", "Temperatures typed late"},
    {"thermometer-checks-failed", "Thermometer checks that failed"},
    {"egg-steps", "Egg steps"},
    {"overrides", "Released against a control"},
    {"cakes-with-a-limit-missed", "Cakes with a limit that was missed"},
    {"troubles", "Things that went wrong"},
    {"complaints", "Complaints"},
    {"regular-all-missed", "Regular records missed"},
    {"regular-all-overdue", "Regular records overdue"},
    {"regular-not-as-it-should-be", "Regular records of something not as it should be"},
};

std::optional<std::int64_t> value_of(const InspectionFigures& figures, const std::string& id, const std::string& of) {
  for (const auto& figure : figures.all()) {
    if (figure.id == id && figure.of == of) return figure.value;
  }
  return std::nullopt;
}

/// `Days too warm (cake-fridge)`
std::string told_as(const char* words, const std::string& of) { return of.empty() ? words : fmt::format("{} ({})", words, of); }

std::string in_words(std::optional<std::int64_t> value) { return value ? fmt::format("{}", *value) : std::string{"–"}; }

struct Rate {
  std::int64_t all = 0;
  std::int64_t wanting = 0;
};
Rate rate_of(const DataTable& controls, const std::string& control) {
  Rate rate;
  rate.all = figure_by(controls, {controls.name, {{"control", control}}});
  rate.wanting = rate.all - figure_by(controls, {controls.name, {{"control", control}, {"verdict", std::string{term_of(Verdict::shown)}}}});
  return rate;
}
std::string in_words(const Rate& rate) {
  return rate.all == 0 ? std::string{"–"} : fmt::format("{} of {}, {}", rate.wanting, rate.all, percent_in_words(rate.wanting, rate.all));
}

}  // namespace

InspectionSection compared_section(const InspectedPeriod& before, const InspectionFigures& then, const InspectionFigures& now) {
  InspectionSection section{"Compared with the time before", {}, {}, {}, {}, {}};
  InspectionTable figures{{"What", "Before", "Now"}, {}, ""};
  for (const auto& compared : compared_figures) {
    for (const auto& figure : now.all()) {
      if (figure.id != compared.id) continue;
      const auto was = value_of(then, figure.id, figure.of);
      const bool told = std::any_of(figures.rows.begin(), figures.rows.end(),
                                    [&](const InspectionRow& row) { return row.cells.front() == told_as(compared.words, figure.of); });
      if (told || (was.value_or(0) == 0 && figure.value == 0)) continue;
      figures.rows.push_back({{told_as(compared.words, figure.of), in_words(was), fmt::format("{}", figure.value)}, false});
    }
  }
  InspectionTable rates{{"Control, not met as recorded", "Before", "Now"}, {}, ""};
  std::vector<std::string> seen;
  for (const auto* figures_then : {&now, &then}) {
    const DataTable& controls = figures_then->table("controls");
    for (const auto& row : controls.rows) {
      const RowOf of{controls, row};
      const std::string control = of["control"];
      if (std::find(seen.begin(), seen.end(), control) != seen.end()) continue;
      seen.push_back(control);
      const Rate was = rate_of(then.table("controls"), control);
      const Rate is = rate_of(now.table("controls"), control);
      if (was.wanting + is.wanting == 0) continue;
      rates.rows.push_back({{of["words"], in_words(was), in_words(is)}, false});
    }
  }
  section.says.push_back(
      fmt::format("Before: {} to {}, as the records tell of it now. To count those figures again, print the inspection record "
                  "of that time.",
                  format_date_long(before.from), format_date_long(before.until)));
  if (figures.rows.empty() && rates.rows.empty()) section.says.emplace_back("Nothing to compare is recorded in either.");
  if (!figures.rows.empty()) section.tables.push_back(std::move(figures));
  if (!rates.rows.empty()) section.tables.push_back(std::move(rates));
  return section;
}

}  // namespace tierproof
