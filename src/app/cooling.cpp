#include "cooling.h"

#include <fmt/format.h>

#include <algorithm>

#include "charts.h"
#include "cold.h"
#include "series.h"
#include "tierproof/sums/cooling_step.h"

namespace tierproof {
namespace {

/// The readings of a batch that tell how it cooled: of each thermometer that read it for `cooling`, with its heat step before.
std::vector<Series> cooling_series(const Session& session, const std::string& batch, Instant until) {
  std::vector<Series> all = series_of(session, batch, "cooling");
  for (const auto& heat : series_of(session, batch, "heat step")) {
    const auto same = std::find_if(all.begin(), all.end(), [&](const Series& series) { return series.probe == heat.probe; });
    if (same == all.end()) continue;
    same->readings.insert(same->readings.begin(), heat.readings.begin(), heat.readings.end());
    std::stable_sort(same->readings.begin(), same->readings.end(), [](const Reading& a, const Reading& b) { return a.at < b.at; });
  }
  for (auto& series : all) std::erase_if(series.readings, [&](const Reading& reading) { return reading.at > until; });
  std::erase_if(all, [](const Series& series) { return series.readings.empty(); });
  return all;
}

/// What is known of whether the batch was heated: its recipe, or a reading of it that was hot.
CooledPart part_of(const Session& session, const Recorded<Batch>& batch, const Recipe* recipe, const TemperatureTerms& terms) {
  CooledPart part;
  part.subject = fmt::format("{} ({})", batch.subject, recipe == nullptr ? batch.value.recipe.text() : recipe->name);
  part.offset = batch.offset;
  if (recipe != nullptr) {
    part.heated_because = heated_by_recipe(*recipe);
    if (!part.heated_because.empty()) part.heated = true;
    if (recipe->heated == "not heated") part.heated = false;
  }
  if (part.heated == true) return part;
  for (const char* purpose : {"heat step", "cooling"}) {
    for (const auto& series : series_of(session, batch.subject, purpose)) {
      if (!series.measures_food || !was_hot(series.readings, series.error, terms)) continue;
      part.heated = true;
      part.heated_because = fmt::format("the {} read it hot", series.name);
      return part;
    }
  }
  return part;
}

SeriesUsed drawn(const Series& series, const Trust& trust, const CooledPart& part, const TemperatureTerms& terms) {
  SeriesUsed used;
  used.title = fmt::format("{}, cooling", part.subject);
  used.probe = series.name;
  used.trust = trust.words;
  used.error = series.error;
  used.readings = series.readings;
  used.longest_step = terms.longest_step("chilled hold");
  if (terms.cooling) {
    used.limit = terms.cooling->to;
    used.limit_words = fmt::format("wanted: {}", in_words(*terms.cooling));
  }
  used.from = series.readings.front().at;
  used.to = series.readings.back().at;
  used.offset = part.offset;
  return used;
}

}  // namespace

std::string heated_by_recipe(const Recipe& recipe) {
  if (recipe.egg == "baked through") return "it is baked through";
  if (recipe.egg == "raw, heated here") return "its egg mix is heated";
  if (recipe.heated == "heated") return "its recipe says that it is heated";
  if (recipe.syrup_target && recipe.heated.empty()) return "a boiled syrup goes into it";
  return "";
}

std::map<BatchId, CooledBetween> judge_coolings(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used) {
  const State& state = session.state();
  const TemperatureTerms& terms = judgement.temperature;
  std::map<BatchId, CooledBetween> cooled;
  for (const auto& facts : judgement.parts.batches) {
    const auto batch = state.batches.find(facts.id);
    if (batch == state.batches.end() || !batch->second.value.left_over.empty()) continue;  // judged with what it was kept from
    const auto found = state.recipe_versions.find(batch->second.value.recipe_version);
    const Recipe* recipe = found == state.recipe_versions.end() ? nullptr : &found->second.value;
    if (recipe != nullptr && recipe->storage == "room") continue;
    CooledPart part = part_of(session, batch->second, recipe, terms);
    const auto all = cooling_series(session, facts.id.text(), used_up(state, judgement.parts, facts.id, Instant::max()));
    std::optional<Finding> gravest;
    std::optional<CooledBetween> between;
    if (all.empty()) gravest = judge_cooling(part, {}, TemperatureSpan{}, false, "no temperature recorded", terms);
    for (const auto& series : all) {
      const Trust trust = trust_of(session, series, series.readings.front().at, series.readings.back().at, terms, part.offset);
      part.measured_food = series.measures_food;
      auto finding = judge_cooling(part, series.readings, series.error, trust.good,
                                   fmt::format("{}, {}; {}", series.name, series.how, trust.words), terms);
      if (!finding) continue;
      used.push_back({series.name, trust});
      judgement.series.push_back(drawn(series, trust, part, terms));
      if (finding->verdict == Verdict::shown) {
        const CoolingTold told = cooling_of(series.readings, *terms.cooling, series.error);
        const CooledBetween one{Instant{std::chrono::duration_cast<Span>(*told.began)},
                                Instant{std::chrono::duration_cast<Span>(*told.ended)}};
        between = between ? CooledBetween{std::max(between->from, one.from), std::min(between->to, one.to)} : one;
      }
      if (!gravest || gravity(gravest->verdict) < gravity(finding->verdict)) gravest = std::move(finding);
    }
    if (!gravest) continue;
    if (gravest->verdict == Verdict::shown && between) cooled.emplace(facts.id, *between);
    judgement.findings.push_back(std::move(*gravest));
  }
  return cooled;
}

}  // namespace tierproof
