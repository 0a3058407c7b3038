#include "series.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

namespace tierproof {

namespace {

std::string how_of(const std::string& how) { return how == "logger" ? "by logger" : how == "typed_late" ? "typed late" : "typed then"; }

/// A block of readings that was taken back: the instants stay, as faults, so that taking a reading back never helps. Typed anew for the
/// same instant, the new reading counts.
void keep_taken_back(const Session& session, const std::string& about, std::string_view purpose, std::map<ProbeId, Series>& found,
                     std::map<ProbeId, std::map<Instant, std::optional<Temperature>>>& values) {
  for (const Note& note : session.notes()) {
    if (note.kind != KindOf<ReadingsBlock>::kind || !note.body.is_null()) continue;
    const auto entries = session.store().entries(note.place, note.place);
    const auto block = entries.empty() ? Result<ReadingsBlock>{Refusal{}} : read_body<ReadingsBlock>(entries.front().body, "readings");
    if (!block || block->about != about || block->purpose != purpose) continue;
    Recorded<ReadingsBlock> taken_back;
    taken_back.value = *block;
    taken_back.sequence = note.place;
    bool any = false;
    for (const auto& reading : session.readings(taken_back)) any = values[block->probe].emplace(reading.at, std::nullopt).second || any;
    if (!any) continue;
    Series& series = found[block->probe];
    series.probe = block->probe;
    series.taken_back.push_back(note.place);
  }
}

}  // namespace

std::vector<Series> series_of(const Session& session, const std::string& about, std::string_view purpose) {
  std::map<ProbeId, Series> found;
  std::map<ProbeId, std::map<Instant, std::optional<Temperature>>> values;
  for (const auto& block : session.state().readings) {
    if (block.value.about != about || block.value.purpose != purpose) continue;
    Series& series = found[block.value.probe];
    series.probe = block.value.probe;
    if (series.how.empty()) series.how = how_of(block.how);
    series.typed_late = series.typed_late || block.how == "typed_late";
    auto& at = values[block.value.probe];
    for (const auto& reading : session.readings(block)) {
      const std::optional<Temperature> temperature = reading.degrees ? std::optional{reading.degrees->temperature()} : std::nullopt;
      const auto [place, fresh] = at.emplace(reading.at, temperature);
      if (!fresh && place->second != temperature) place->second.reset();  // two values at one instant: neither counts
    }
  }
  keep_taken_back(session, about, purpose, found, values);
  std::vector<Series> all;
  for (auto& [id, series] : found) {
    const auto probe = session.state().probes.find(id);
    if (probe == session.state().probes.end()) {
      series.name = fmt::format("{} (voided)", id.text());
    } else {
      const Probe& value = probe->second.value;
      series.name = value.name;
      series.measures_food = value.measures == "food";
      series.error = value.scale == Scale::celsius ? TemperatureSpan::hundredths_celsius(value.accuracy_hundredths)
                                                   : TemperatureSpan::hundredths_fahrenheit(value.accuracy_hundredths);
    }
    for (const auto& [at, temperature] : values[id]) series.readings.push_back({at, temperature});
    if (series.typed_late) series.how = "typed late";
    if (!series.taken_back.empty()) series.how += fmt::format(", readings of note {} taken back", fmt::join(series.taken_back, ", "));
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
  const bool known = kitchen.pressure_pa || kitchen.altitude_m;  // without either nobody knows where water boils here
  const double pressure = kitchen.pressure_pa ? static_cast<double>(*kitchen.pressure_pa) / 1000.0
                                              : isa_pressure(static_cast<double>(kitchen.altitude_m.value_or(0)));
  for (const auto& check : state.checks) {
    if (check.value.probe != probe || (check.value.method == "boiling" && !known)) continue;
    const Temperature expected = check.value.method == "ice" ? celsius(0) : celsius(boiling_point(pressure));
    checks.push_back({check.happened, check.value.method, check.value.read.temperature(), expected});
  }
  std::stable_sort(checks.begin(), checks.end(), [](const ProbeCheck& a, const ProbeCheck& b) { return a.at < b.at; });
  return checks;
}

Trust trust_of(const Session& session, const Series& series, Instant from, Instant to, const TemperatureTerms& terms, Offset offset) {
  if (!terms.probe) return {false, "the rules in force say nothing of thermometer checks"};
  if (!session.state().probes.contains(series.probe)) return {false, "the records no longer say which thermometer it was, nor its error"};
  return trust_between(from, to, checks_of(session.state(), series.probe), *terms.probe, offset);
}

Span longest_gap(const TemperatureTerms& terms, std::string_view use) {
  for (const auto& gap : terms.gaps) {
    if (gap.use == use) return gap.longest;
  }
  return Span{};  // no row: nothing is bridged
}

}  // namespace tierproof
