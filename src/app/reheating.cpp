#include "reheating.h"

#include <fmt/format.h>

#include <algorithm>

#include "charts.h"
#include "cold.h"
#include "series.h"

namespace tierproof {
namespace {

SeriesUsed reheating_drawn(const Series& series, const Trust& trust, const std::string& subject, Offset offset,
                           const TemperatureTerms& terms) {
  SeriesUsed used;
  used.title = fmt::format("{}, reheating", subject);
  used.probe = series.name;
  used.trust = trust.words;
  used.error = series.error;
  used.readings = series.readings;
  used.longest_step = terms.longest_step("heat step");
  used.limit_is_ceiling = false;
  if (terms.reheat) {
    used.limit = terms.reheat->at;
    used.limit_words = fmt::format("wanted: {}", in_words(*terms.reheat));
  }
  used.from = series.readings.front().at;
  used.to = series.readings.back().at;
  used.offset = offset;
  return used;
}

}  // namespace

ReheatedPart reheated_part(const State& state, const Recorded<Batch>& batch, bool measured_food) {
  const auto recipe = state.recipe_versions.find(batch.value.recipe_version);
  const std::string& name = recipe == state.recipe_versions.end() ? batch.value.recipe.text() : recipe->second.value.name;
  return {fmt::format("{} ({})", batch.subject, name), measured_food};
}

void judge_reheatings(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used) {
  const State& state = session.state();
  for (const auto& facts : judgement.parts.batches) {
    const auto batch = state.batches.find(facts.id);
    if (batch == state.batches.end()) continue;
    const Instant last = used_up(state, judgement.parts, facts.id, Instant::max());
    std::optional<Finding> gravest;
    for (Series series : series_of(session, facts.id.text(), "reheating")) {
      std::erase_if(series.readings, [&](const Reading& reading) { return reading.at > last; });
      if (series.readings.empty()) continue;
      const ReheatedPart part = reheated_part(state, batch->second, series.measures_food);
      const Trust trust =
          trust_of(session, series, series.readings.front().at, series.readings.back().at, judgement.temperature, batch->second.offset);
      Finding finding = judge_reheating(part, series.readings, series.error, trust.good,
                                        fmt::format("{}, {}; {}", series.name, series.how, trust.words), judgement.temperature);
      used.push_back({series.name, trust});
      judgement.series.push_back(reheating_drawn(series, trust, part.subject, batch->second.offset, judgement.temperature));
      if (!gravest || gravity(gravest->verdict) < gravity(finding.verdict)) gravest = std::move(finding);
    }
    if (gravest) judgement.findings.push_back(std::move(*gravest));
  }
}

}  // namespace tierproof
