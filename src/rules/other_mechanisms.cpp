// Heat, cold and time, and how long records are kept.
#include <array>

#include "parameters.h"

namespace tierproof {
namespace {

using namespace parameter;

// ---- temperature --------------------------------------------------------------------------------------------------------------

RowSays read_heat_hold(Fields& row, const RowContext&) {
  HeatRow term;
  term.food = needed_text(row, "food");
  term.at = temperature(row, "at");
  term.hold = seconds(row, "hold_seconds");
  return term;
}

RowSays read_heat_equivalence(Fields& row, const RowContext&) {
  HeatEquivalence term;
  term.food = needed_text(row, "food");
  term.reference = temperature(row, "reference");
  term.z = difference(row, "z");
  term.required = std::chrono::seconds{row.integer("required_seconds", 1, many)};
  term.floor = temperature(row, "floor");
  term.ceiling = temperature(row, "ceiling");
  term.longest_step = std::chrono::seconds{row.integer("longest_step_seconds", 1, many)};
  if (term.floor > term.ceiling) row.refuse("floor", "lies above the ceiling", "write the lower end of the tested range as the floor");
  return term;
}

RowSays read_chill(Fields& row, const RowContext&) {
  ChillTerm term;
  term.limit = temperature(row, "limit");
  term.measured_in = row.choice("measured_in", {"food", "air"});
  term.advice = row.flag("advice", false);
  return term;
}

RowSays read_cold_place(Fields& row, const RowContext&) {
  ColdPlaceTerm term;
  term.words = needed_text(row, "words");
  return term;
}

RowSays read_warm_allowance(Fields& row, const RowContext&) {
  WarmAllowance term;
  term.use = needed_text(row, "use");
  term.less_than = std::chrono::minutes{row.integer("less_than_minutes", 1, 10'000)};
  term.once = row.flag("once", true);
  return term;
}

RowSays read_egg_mix(Fields& row, const RowContext&) {
  EggMixTerm term;
  term.sugar_up_to = percent(row, "sugar_up_to");
  return term;
}

RowSays read_probe_check(Fields& row, const RowContext&) {
  ProbeTerm term{};
  term.band = difference(row, "band");
  term.days_between = static_cast<int>(row.integer("days_between", 1, 3660));
  return term;
}

RowSays read_gap(Fields& row, const RowContext&) {
  GapTerm term;
  term.use = row.choice("use", {"heat step", "chilled hold"});
  term.longest = std::chrono::seconds{row.integer("longest_seconds", 1, many)};
  return term;
}

// ---- retention ------------------------------------------------------------------------------------------------------------------

RowSays read_keep(Fields& row, const RowContext&) {
  RetentionTerm term;
  term.counts_from = row.choice("counts_from", {"use by", "best before", "hand over"});
  const auto days = row.maybe_integer("days", 1, 36'500);
  if (!days) {
    term.months = static_cast<int>(row.integer("months", 1, 1200));
  } else if (row.maybe_integer("months", 1, 1200)) {
    row.refuse("days", "is given beside months", "keep the one that the rule has");
  }
  term.days = static_cast<int>(days.value_or(0));
  term.what = maybe_choice(row, "what", {"record", "personal data"}, term.what);
  return term;
}

constexpr std::array<Mechanism, 9> mechanisms{{
    {"temperature", "chill", read_chill},
    {"temperature", "cold-place", read_cold_place},
    {"temperature", "egg-mix", read_egg_mix},
    {"temperature", "gap", read_gap},
    {"temperature", "heat-equivalence", read_heat_equivalence},
    {"temperature", "heat-hold", read_heat_hold},
    {"temperature", "probe-check", read_probe_check},
    {"temperature", "warm-allowance", read_warm_allowance},
    {"retention", "keep", read_keep},
}};

}  // namespace

std::span<const Mechanism> other_mechanisms() { return mechanisms; }

}  // namespace tierproof
