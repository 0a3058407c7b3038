#include "tierproof/app/heating.h"

#include <fmt/format.h>

#include <algorithm>

#include "charts.h"
#include "egg.h"
#include "reheating.h"
#include "series.h"
#include "tierproof/app/planning.h"

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
                        held_so_far(series.readings, rule->at, series.error, terms.longest_step("heat step")),
                        rule->words.empty() ? in_celsius_words(rule->at) : rule->words};
  }
  return told_so_far(std::move(finding), std::move(built));
}

}  // namespace

std::optional<HeatSoFar> heat_so_far(const Session& session, const BatchId& id, const ProbeId& thermometer, std::string_view purpose) {
  const State& state = session.state();
  const auto batch = state.batches.find(id);
  if (batch == state.batches.end()) return std::nullopt;
  const auto version = state.recipe_versions.find(batch->second.value.recipe_version);
  const Recipe* recipe = version == state.recipe_versions.end() ? nullptr : &version->second.value;
  const std::optional<CoreStep> core = recipe == nullptr ? std::nullopt : core_step_of(state, batch->second, *recipe);
  const bool again = purpose == "reheating";
  if (!again && !core && (recipe == nullptr || recipe->egg != "raw, heated here")) return std::nullopt;
  const ZonedInstant made{batch->second.happened, batch->second.offset};
  const auto terms = temperature_terms_by(session, day_of(made.at, made.offset), plan_now(session));
  if (!terms) return std::nullopt;
  for (const auto& series : series_of(session, id.text(), purpose)) {
    if (series.probe != thermometer) continue;
    const Trust trust = trust_of(session, series, series.readings.front().at, series.readings.back().at, *terms, made.offset);
    if (again) return reheated_so_far(series, trust, reheated_part(state, batch->second, series.measures_food), *terms);
    const bool food = series.measures_food;
    const auto readings = food ? std::span<const Reading>{series.readings} : std::span<const Reading>{};
    HeatSoFar so_far;
    if (core) {
      so_far = told_so_far(judge_core_step(*core, readings, series.error, trust.good, trust.words, *terms),
                           core_build_up(*core, readings, series.error, *terms));
    } else {
      const EggStep step = egg_step_of(session, batch->second, *recipe, *terms);
      so_far = told_so_far(*judge_egg_step(step, readings, series.error, trust.good, trust.words, *terms),
                           heat_build_up(step, readings, series.error, *terms));
    }
    if (!food) so_far.short_words = fmt::format("{} measures the air, which says nothing of the food", series.name);
    return so_far;
  }
  return std::nullopt;
}

}  // namespace tierproof
