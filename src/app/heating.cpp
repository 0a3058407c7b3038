#include "tierproof/app/heating.h"

#include <fmt/format.h>

#include <algorithm>

#include "charts.h"
#include "egg.h"
#include "reheating.h"
#include "series.h"
#include "tierproof/app/confirming.h"

namespace tierproof {
namespace {

/// How much of the row there is: while it is not met, of an unbroken time what there is at the last reading.
Span held_of(const HeatBuildUp& built, Verdict verdict) {
  if (built.shown.empty()) return Span{};
  Minutes held = built.shown.back().lower;
  if (verdict == Verdict::shown) {
    for (const auto& so_far : built.shown) held = std::max(held, so_far.lower);
  }
  return std::chrono::floor<std::chrono::seconds>(held);
}

std::string short_words_of(const HeatSoFar& so_far) {
  const bool shown = so_far.finding.verdict == Verdict::shown;
  if (!so_far.built) {
    return so_far.finding.verdict == Verdict::outside_model ? "no table vouches for this mix" : "no row of the rules vouches for it";
  }
  const HeatBuildUp& built = *so_far.built;
  std::string words;
  if (built.wanted == Span{}) {
    words = fmt::format("{} {}", built.at_words, shown ? "reached" : "not reached yet");
  } else {
    words = fmt::format("{}{} of {} at {}{}", built.held ? "" : "worth ", format_span(so_far.held), format_span(built.wanted),
                        built.at_words, built.held ? " or more" : "");
  }
  if (shown) return words + ": enough";
  if (built.wanted > Span{} && so_far.missing == Span{}) return words + ", but it does not count";
  if (built.wanted > Span{}) words += fmt::format(", {} to go", format_span(so_far.missing));
  return words + (built.read_words.empty() ? "" : fmt::format(", readings of {} or more count", built.read_words));
}

HeatSoFar told_so_far(Finding finding, std::optional<HeatBuildUp> built) {
  HeatSoFar so_far{std::move(finding), std::move(built), {}, {}, {}};
  if (so_far.built) {
    so_far.held = held_of(*so_far.built, so_far.finding.verdict);
    so_far.missing = std::max(Span{}, so_far.built->wanted - so_far.held);
  }
  so_far.short_words = short_words_of(so_far);
  return so_far;
}

HeatSoFar reheated_so_far(const Series& series, const Trust& trust, const ReheatedPart& part, const TemperatureTerms& terms) {
  Finding finding = judge_reheating(part, series.readings, series.error, trust.good, trust.words, terms);
  std::optional<HeatBuildUp> built;
  if (const auto& rule = terms.reheat) {
    built = HeatBuildUp{rule->at,
                        true,
                        rule->hold,
                        in_words(*rule),
                        finding.message,
                        held_so_far(series.readings, rule->at, series.error, longest_gap(terms, "heat step")),
                        rule->words.empty() ? in_celsius_words(rule->at) : rule->words};
  }
  return told_so_far(std::move(finding), std::move(built));
}

}  // namespace

std::optional<HeatSoFar> heat_so_far(const Session& session, const BatchId& id, const ProbeId& thermometer, std::string_view purpose) {
  const State& state = session.state();
  const auto batch = state.batches.find(id);
  if (batch == state.batches.end()) return std::nullopt;
  const auto recipe = state.recipe_versions.find(batch->second.value.recipe_version);
  const bool again = purpose == "reheating";
  if (!again && (recipe == state.recipe_versions.end() || recipe->second.value.egg != "raw, heated here")) return std::nullopt;
  const ZonedInstant made{batch->second.happened, batch->second.offset};
  const auto terms =
      session.packs().temperature_terms(session.kitchen().temperature_rules, day_of(made.at, made.offset), confirmations_of(session));
  if (!terms) return std::nullopt;
  for (const auto& series : series_of(session, id.text(), purpose)) {
    if (series.probe != thermometer) continue;
    const Trust trust = trust_of(session, series, series.readings.front().at, series.readings.back().at, *terms, made.offset);
    if (again) return reheated_so_far(series, trust, reheated_part(state, batch->second, series.measures_food), *terms);
    const EggStep step = egg_step_of(session, batch->second, recipe->second.value, *terms);
    return told_so_far(*judge_egg_step(step, series.readings, series.error, trust.good, trust.words, *terms),
                       heat_build_up(step, series.readings, series.error, *terms));
  }
  return std::nullopt;
}

}  // namespace tierproof
