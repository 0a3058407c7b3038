#include "series.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "charts.h"
#include "tierproof/sums/sugar_syrup.h"

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

std::vector<TwoPoint> corrections_of_probe(const Session& session, const ProbeId& probe) {
  const auto checks = checks_of(session.state(), probe);
  return checks.empty() ? std::vector<TwoPoint>{} : corrections_of(checks, session.offset_at(checks.back().at));
}

/// Puts corrected readings in the place of those of `series` that a correction covers, and tells so.
void correct(const Session& session, Series& series) {
  const auto corrections = corrections_of_probe(session, series.probe);
  if (corrections.empty()) return;
  std::set<std::string> by;
  std::optional<Temperature> highest;
  std::string words;
  for (auto& reading : series.readings) {
    const auto* points = covering(corrections, reading.at);
    if (points == nullptr || !reading.temperature) continue;
    const Temperature read = *reading.temperature;
    reading.temperature = corrected(read, *points);
    by.insert(format_date_long(day_of(points->from, session.offset_at(points->from))));
    if (highest && *highest >= read) continue;
    highest = read;
    words = fmt::format("the highest, read {}, counts as {}", in_celsius_words(read), in_celsius_words(*reading.temperature));
  }
  series.corrected = !by.empty();
  if (!by.empty()) series.how += fmt::format(", corrected by the two-point check of {} ({})", fmt::join(by, " and "), words);
}

std::vector<Series> series_as_recorded(const Session& session, const std::string& about, std::string_view purpose) {
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
      series.error = error_of(value);
    }
    for (const auto& [at, temperature] : values[id]) series.readings.push_back({at, temperature});
    if (series.typed_late) series.how = "typed late";
    correct(session, series);
    if (!series.taken_back.empty()) series.how += fmt::format(", readings of note {} taken back", fmt::join(series.taken_back, ", "));
    all.push_back(std::move(series));
  }
  return all;
}

}  // namespace

TemperatureSpan error_of(const Probe& probe) {
  const auto span = [&](std::int64_t hundredths) {
    return probe.scale == Scale::celsius ? TemperatureSpan::hundredths_celsius(hundredths)
                                         : TemperatureSpan::hundredths_fahrenheit(hundredths);
  };
  return reading_error(span(probe.accuracy_hundredths), span(probe.resolution_hundredths));
}

std::optional<double> pressure_for(const Kitchen& kitchen, const ProbeCheckMade& check) {
  if (check.pressure_pa) return static_cast<double>(*check.pressure_pa) / 1000.0;
  if (kitchen.pressure_pa) return static_cast<double>(*kitchen.pressure_pa) / 1000.0;
  if (kitchen.altitude_m) return isa_pressure(static_cast<double>(*kitchen.altitude_m));
  return std::nullopt;
}

SyrupTarget syrup_target_of(const Kitchen& kitchen, const Recipe& recipe) {
  SyrupTarget target{recipe.syrup_target->temperature(), recipe.syrup_target_at == "sea level", true, ""};
  if (!target.lowered) return target;
  const auto pressure = pressure_for(kitchen, {});
  target.known = pressure.has_value();
  if (!pressure) {
    target.told = "; the target is that at sea level, and where water boils here is not known";
    return target;
  }
  const double boils = boiling_point(*pressure);
  const SyrupElsewhere here = syrup_target_under(target.at.to_celsius(), *pressure);
  target.told =
      fmt::format("; the target of {} at sea level is lowered, since water boils at {:.2f} °C here: {}", in_celsius_words(target.at), boils,
                  here.solids ? fmt::format("{:.2f} °C for the same {:.1f} % of sugar, {:.2f} °C by the rule of thumb", here.celsius,
                                            *here.solids * 100, here.by_subtraction)
                              : fmt::format("{:.2f} °C by the rule of thumb", here.by_subtraction));
  target.at = Temperature::hundredths_celsius(static_cast<std::int64_t>(std::ceil(here.celsius * 100)));
  return target;
}

ProbeTerm term_for(const State& state, const ProbeId& probe, const ProbeTerm& terms) {
  ProbeTerm own = terms;
  const auto found = state.probes.find(probe);
  if (found == state.probes.end() || !found->second.value.check_days) return own;
  own.days_between = static_cast<int>(std::min<std::int64_t>(own.days_between, *found->second.value.check_days));
  return own;
}

const std::vector<Series>& series_of(const Session& session, const std::string& about, std::string_view purpose) {
  return session.worked_out<std::vector<Series>>(fmt::format("series {} {}", about, purpose),
                                                 [&] { return series_as_recorded(session, about, purpose); });
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
  for (const auto& check : state.checks) {
    if (check.value.probe != probe) continue;
    const ProbeCheckMade& made = check.value;
    const auto pressure = pressure_for(state.kitchen->value, made);
    if (made.method == "boiling" && !pressure) continue;  // nobody knows where water boils here
    const Temperature expected = made.method == "ice" ? celsius(0) : celsius(boiling_point(*pressure));
    checks.push_back({check.happened, made.method, made.read.temperature(), expected, made.read.scale, !made.correction.empty()});
  }
  std::stable_sort(checks.begin(), checks.end(), [](const ProbeCheck& a, const ProbeCheck& b) { return a.at < b.at; });
  return checks;
}

Trust trust_of(const Session& session, const Series& series, Instant from, Instant to, const TemperatureTerms& terms, Offset offset) {
  if (!terms.probe) return {false, "the rules in force say nothing of thermometer checks"};
  if (!session.state().probes.contains(series.probe)) return {false, "the records no longer say which thermometer it was, nor its error"};
  const auto checks = checks_of(session.state(), series.probe);
  for (const auto& points : corrections_of(checks, offset)) {
    if (points.holds || points.from > to || points.until <= from) continue;
    return {false, fmt::format("the correction chosen on {} has no check of the other method before it on that day",
                               format_date_long(day_of(points.from, offset)))};
  }
  return trust_between(from, to, checks, term_for(session.state(), series.probe, *terms.probe), offset);
}

}  // namespace tierproof
