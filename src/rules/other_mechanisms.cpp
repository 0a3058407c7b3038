// Heat, cold and time, and how long records are kept.
#include <fmt/format.h>

#include <array>

#include "parameters.h"

namespace tierproof {
namespace {

using namespace parameter;

// ---- temperature --------------------------------------------------------------------------------------------------------------

RowSays read_heat_hold(Fields& row, const RowContext&) {
  HeatRow term;
  term.food = needed_text(row, "food");
  const auto at = two_columns(row, "at", "also", Stricter::higher);
  term.at = at.limit;
  term.words = at.words;
  term.hold = seconds(row, "hold_seconds");
  return term;
}

/// The terms of an integral, of a row that is law or of a reference.
template <class Term>
void read_integral(Fields& row, Term& term) {
  term.reference = temperature(row, "reference");
  term.z = difference(row, "z");
  term.required = std::chrono::seconds{row.integer("required_seconds", 1, many)};
  term.floor = temperature(row, "floor");
  term.ceiling = temperature(row, "ceiling");
  term.longest_step = std::chrono::seconds{row.integer("longest_step_seconds", 1, many)};
  if (term.floor > term.ceiling) row.refuse("floor", "lies above the ceiling", "write the lower end of the tested range as the floor");
}

RowSays read_heat_equivalence(Fields& row, const RowContext&) {
  HeatEquivalence term;
  term.food = needed_text(row, "food");
  read_integral(row, term);
  return term;
}

/// A share from one parameter to another, both ends counted.
std::pair<Share, Share> from_to(Fields& row, std::string_view from, std::string_view to, Share (*read)(Fields&, std::string_view)) {
  const std::pair<Share, Share> range{read(row, from), read(row, to)};
  if (range.first > range.second) row.refuse(from, fmt::format("lies above \"{}\"", to), "write the lower end of the tested range here");
  return range;
}

RowSays read_heat_reference(Fields& row, const RowContext&) {
  HeatReference term;
  read_integral(row, term);
  std::tie(term.activity_from, term.activity_to) = from_to(row, "water_activity_from", "water_activity_to", decimal);
  std::tie(term.sugar_from, term.sugar_to) = from_to(row, "sugar_from", "sugar_to", percent);
  term.worth = needed_text(row, "worth");
  return term;
}

RowSays read_chill(Fields& row, const RowContext&) {
  ChillTerm term;
  const auto limit = two_columns(row, "limit", "also", Stricter::lower);
  term.limit = limit.limit;
  term.words = limit.words;
  term.measured_in = row.choice("measured_in", {"food", "air"});
  term.advice = row.flag("advice", false);
  return term;
}

RowSays read_hot_hold(Fields& row, const RowContext&) {
  HotHoldTerm term;
  term.limit = two_columns(row, "limit", "also", Stricter::higher).limit;
  return term;
}

RowSays read_hot_allowance(Fields& row, const RowContext&) {
  HotAllowance term;
  term.less_than = std::chrono::minutes{row.integer("less_than_minutes", 1, 10'000)};
  term.once = row.flag("once", true);
  return term;
}

RowSays read_reheat(Fields& row, const RowContext&) {
  ReheatTerm term;
  const auto at = two_columns(row, "at", "also", Stricter::higher);
  term.at = at.limit;
  term.words = at.words;
  term.hold = seconds(row, "hold_seconds");
  const auto within = row.maybe_integer("within_minutes", 1, 10'000);
  if (within) term.within = std::chrono::minutes{*within};
  if (row.has("out_of")) {
    const auto out_of = two_columns(row, "out_of", "out_of_also", Stricter::lower);
    term.out_of = out_of.limit;
    term.out_of_words = out_of.words;
    if (*term.out_of >= term.at) row.refuse("out_of", "does not lie under \"at\"", "write the cold end here");
  } else {
    row.any("out_of"), row.any("out_of_also");
  }
  if (term.within.has_value() != term.out_of.has_value())
    row.refuse("within_minutes", "and \"out_of\" belong together", "give both, or neither");
  return term;
}

RowSays read_cooling_advice(Fields& row, const RowContext&) {
  CoolingAdvice term;
  term.within = std::chrono::minutes{row.integer("within_minutes", 1, 10'000)};
  return term;
}

RowSays read_cold_days(Fields& row, const RowContext&) {
  ColdDays term;
  term.days = static_cast<int>(row.integer("days", 1, 3660));
  return term;
}

RowSays read_no_number(Fields& row, const RowContext&) {
  NoNumberTerm term;
  term.about = row.choice("about", {"cooling", "heating", "time out of the cold"});
  term.words = needed_text(row, "words");
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

Span minutes(Fields& row, std::string_view key) { return std::chrono::minutes{row.integer(key, 1, 10'000)}; }

std::optional<Span> maybe_minutes(Fields& row, std::string_view key) {
  const auto read = row.maybe_integer(key, 1, 10'000);
  return read ? std::optional<Span>{std::chrono::minutes{*read}} : std::nullopt;
}

RowSays read_warm_total(Fields& row, const RowContext&) {
  WarmTotal term;
  term.above = temperature(row, "above");
  term.below = temperature(row, "below");
  term.back_before = minutes(row, "back_before_minutes");
  term.discard_from = minutes(row, "discard_from_minutes");
  if (term.above >= term.below) row.refuse("above", "does not lie under \"below\"", "write the colder end of the band here");
  if (term.back_before > term.discard_from)
    row.refuse("back_before_minutes", "is more than \"discard_from_minutes\"", "write the shorter time here");
  return term;
}

RowSays read_time_control(Fields& row, const RowContext&) {
  TimeControl term;
  term.use = needed_text(row, "use");
  term.start_up_to = two_columns(row, "start_up_to", "start_also", Stricter::lower).limit;
  if (row.has("ceiling")) {
    term.ceiling = two_columns(row, "ceiling", "ceiling_also", Stricter::lower).limit;
  } else {
    row.any("ceiling"), row.any("ceiling_also");
  }
  term.within = minutes(row, "within_minutes");
  return term;
}

RowSays read_cooling(Fields& row, const RowContext&) {
  CoolingTerm term;
  const auto from = two_columns(row, "from_temperature", "from_also", Stricter::higher);
  const auto to = two_columns(row, "to_temperature", "to_also", Stricter::lower);
  term.from = from.limit;
  term.to = to.limit;
  term.from_words = from.words;
  term.to_words = to.words;
  term.first = maybe_minutes(row, "first_minutes");
  term.second = maybe_minutes(row, "second_minutes");
  term.total = maybe_minutes(row, "total_minutes");
  if (row.has("via_temperature")) {
    const auto via = two_columns(row, "via_temperature", "via_also", Stricter::lower);
    term.via = via.limit;
    term.via_words = via.words;
    if (*term.via >= term.from || *term.via <= term.to)
      row.refuse("via_temperature", "does not lie between the two ends", "write the temperature between the stages");
    if (!term.first) row.refuse("first_minutes", "is missing", "write how long the first stage may take");
  } else {
    row.any("via_temperature"), row.any("via_also");
    if (term.first || term.second)
      row.refuse("via_temperature", "is missing", "write the temperature between the stages, or \"total_minutes\" alone");
  }
  if (term.second.has_value() == term.total.has_value())
    row.refuse("total_minutes", "has to be given, or \"second_minutes\", one of the two", "keep the one that the rule has");
  if (term.from <= term.to) row.refuse("from_temperature", "does not lie above \"to_temperature\"", "write the hot end here");
  if (term.first && term.total && *term.first > *term.total)
    row.refuse("first_minutes", "is more than \"total_minutes\"", "write the time of both stages together there");
  term.strictly = row.flag("strictly", false);
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

RowSays read_growth(Fields& row, const RowContext&) {
  GrowthTerm term;
  term.of = needed_text(row, "of");
  term.b = decimal(row, "b").convert_to<double>();
  term.t_min_c = decimal(row, "t_min_c").convert_to<double>();
  const Share warn_from = decimal(row, "warn_from");
  if (warn_from == 0) row.refuse("warn_from", "is 0, which would warn of every stay", "write the log10 in one stay from which to warn");
  term.warn_from = warn_from.convert_to<double>();
  return term;
}

// ---- retention ------------------------------------------------------------------------------------------------------------------

RowSays read_keep(Fields& row, const RowContext&) {
  RetentionTerm term;
  term.what = maybe_choice(row, "what", kinds_kept(), term.what);
  term.counts_from = row.choice("counts_from", kept_from(term.what));
  const auto days = row.maybe_integer("days", 1, 36'500);
  if (!days) {
    term.months = static_cast<int>(row.integer("months", 1, 1200));
  } else if (row.maybe_integer("months", 1, 1200)) {
    row.refuse("days", "is given beside months", "keep the one that the rule has");
  }
  term.days = static_cast<int>(days.value_or(0));
  return term;
}

constexpr std::array<Mechanism, 20> mechanisms{{
    {"temperature", "chill", read_chill},
    {"temperature", "cold-days", read_cold_days},
    {"temperature", "cold-place", read_cold_place},
    {"temperature", "cooling", read_cooling},
    {"temperature", "cooling-advice", read_cooling_advice},
    {"temperature", "egg-mix", read_egg_mix},
    {"temperature", "gap", read_gap},
    {"temperature", "growth-screening", read_growth},
    {"temperature", "heat-equivalence", read_heat_equivalence},
    {"temperature", "heat-hold", read_heat_hold},
    {"temperature", "heat-reference", read_heat_reference},
    {"temperature", "hot-allowance", read_hot_allowance},
    {"temperature", "hot-hold", read_hot_hold},
    {"temperature", "no-number", read_no_number},
    {"temperature", "probe-check", read_probe_check},
    {"temperature", "reheat", read_reheat},
    {"temperature", "time-control", read_time_control},
    {"temperature", "warm-allowance", read_warm_allowance},
    {"temperature", "warm-total", read_warm_total},
    {"retention", "keep", read_keep},
}};

}  // namespace

std::span<const Mechanism> other_mechanisms() { return mechanisms; }

}  // namespace tierproof
