#include "series.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace tierproof {

std::vector<Series> series_of(const Session& session, const std::string& about, std::string_view purpose) {
  std::map<ProbeId, Series> found;
  std::map<ProbeId, std::map<Instant, std::optional<Temperature>>> values;
  for (const auto& block : session.state().readings) {
    if (block.value.about != about || block.value.purpose != purpose) continue;
    const auto probe = session.state().probes.find(block.value.probe);
    Series& series = found[block.value.probe];
    series.probe = block.value.probe;
    if (probe == session.state().probes.end()) {
      series.name = fmt::format("{} (voided)", block.value.probe.text());
    } else {
      const Probe& value = probe->second.value;
      series.name = value.name;
      series.measures_food = value.measures == "food";
      series.error = value.scale == Scale::celsius ? TemperatureSpan::hundredths_celsius(value.accuracy_hundredths)
                                                   : TemperatureSpan::hundredths_fahrenheit(value.accuracy_hundredths);
    }
    series.how = block.how == "logger" ? "by logger" : block.how == "typed_late" ? "typed late" : "typed then";
    series.typed_late = series.typed_late || block.how == "typed_late";
    auto& at = values[block.value.probe];
    for (const auto& reading : session.readings(block)) {
      const std::optional<Temperature> temperature = reading.degrees ? std::optional{reading.degrees->temperature()} : std::nullopt;
      const auto [place, fresh] = at.emplace(reading.at, temperature);
      if (!fresh && place->second != temperature) place->second.reset();  // two values at one instant: neither counts
    }
  }
  std::vector<Series> all;
  for (auto& [probe, series] : found) {
    for (const auto& [at, temperature] : values[probe]) series.readings.push_back({at, temperature});
    if (series.typed_late) series.how = "typed late";
    all.push_back(std::move(series));
  }
  return all;
}

std::vector<Reading> around(const std::vector<Reading>& readings, Instant from, Instant to) {
  const auto before = [](const Reading& reading, Instant at) { return reading.at < at; };
  auto first = std::lower_bound(readings.begin(), readings.end(), from, before);
  if (first != readings.begin() && (first == readings.end() || first->at > from)) --first;
  auto last = std::lower_bound(readings.begin(), readings.end(), to, before);
  if (last != readings.end()) ++last;
  return first < last ? std::vector<Reading>(first, last) : std::vector<Reading>{};
}

std::vector<ProbeCheck> checks_of(const State& state, const ProbeId& probe) {
  std::vector<ProbeCheck> checks;
  const Kitchen& kitchen = state.kitchen->value;
  const double pressure = kitchen.pressure_pa ? static_cast<double>(*kitchen.pressure_pa) / 1000.0 : isa_pressure(static_cast<double>(kitchen.altitude_m.value_or(0)));
  for (const auto& check : state.checks) {
    if (check.value.probe != probe) continue;
    const Temperature expected = check.value.method == "ice" ? celsius(0) : celsius(boiling_point(pressure));
    checks.push_back({check.happened, check.value.method, check.value.read.temperature(), expected});
  }
  std::stable_sort(checks.begin(), checks.end(), [](const ProbeCheck& a, const ProbeCheck& b) { return a.at < b.at; });
  return checks;
}

Trust trust_of(const Session& session, const Series& series, Instant from, Instant to, const TemperatureTerms& terms, Offset offset) {
  if (!terms.probe) return {false, "the rules in force say nothing of thermometer checks"};
  return trust_between(from, to, checks_of(session.state(), series.probe), *terms.probe, offset);
}

Span longest_gap(const TemperatureTerms& terms, std::string_view use) {
  for (const auto& gap : terms.gaps) {
    if (gap.use == use) return gap.longest;
  }
  return Span{};  // no row: nothing is bridged
}

}  // namespace tierproof
