#include "heat_measures.h"

#include <fmt/format.h>

#include <algorithm>

#include "series.h"

namespace tierproof::heat {
namespace {

using series::in_celsius;

std::string taken_off(TemperatureSpan error) { return fmt::format("thermometer error ±{} taken off", in_celsius(error)); }

/// @param row  `HeatEquivalence` or `HeatReference`
template <class Row>
Measure measure_integral(const Row& row, std::span<const Reading> readings, TemperatureSpan error) {
  const HeatTerms terms{row.reference, row.z, row.floor, row.ceiling, row.longest_step, error};
  const DemonstratedTime time = demonstrated_time(readings, terms);
  const HeldTime above_floor = held_at_or_above(readings, row.floor, error, row.longest_step);
  const auto whole = [](Minutes m) { return format_span(std::chrono::duration_cast<Span>(m)); };
  const std::string at = in_celsius(row.reference);
  Measure m;
  m.source = cite(row.cited);
  m.at = at;
  m.needs = row.reference;
  m.wanted = row.required;
  m.worth = terms;
  m.limit = fmt::format("the equal of {} at {}, z {}", format_span(row.required), at, in_celsius(row.z));
  m.met = time.lower > Minutes{} && time.lower >= Minutes{row.required};
  m.missed = above_floor.hottest && !above_floor.open && time.gaps.empty() && time.upper < Minutes{row.required};
  m.reached = above_floor.reached;
  m.share = row.required > Span{} ? time.lower / Minutes{row.required} : m.met ? 1.0 : 0.0;
  m.told = m.missed ? fmt::format("worth at most {} at {} (needs {}), even with the thermometer error ±{} added", whole(time.upper), at,
                                  format_span(row.required), in_celsius(error))
                    : fmt::format("worth at least {} at {} (needs {}), estimated {}, {}", whole(time.lower), at, format_span(row.required),
                                  whole(time.estimate), taken_off(error));
  m.result = m.missed ? fmt::format("worth at most {} at {}", whole(time.upper), at) : fmt::format("worth {} at {}", whole(time.lower), at);
  return m;
}

/// The measure to speak of when none is met: the one most nearly demonstrated; else, of those whose temperature was reached, the one
/// that is held shortest; else the one that needs least heat.
const Measure& nearest(const std::vector<Measure>& measures) {
  return *std::max_element(measures.begin(), measures.end(), [](const Measure& a, const Measure& b) {
    if (a.share != b.share) return a.share < b.share;
    if (a.reached != b.reached) return b.reached;
    return a.reached ? a.wanted > b.wanted : a.needs > b.needs;
  });
}

bool met_for(const std::string& food, const std::vector<Measure>& measures) {
  return std::any_of(measures.begin(), measures.end(), [&](const Measure& m) { return m.food == food && m.met; });
}

/// What a thermometer that shows tenths has to read so that it counts as `at`.
std::string reading_for(Temperature at, TemperatureSpan error) {
  constexpr std::int64_t tenth = 90;  // parts: thermometers show no more
  const std::int64_t parts = (at + error - Temperature{}).to_parts();
  return in_celsius(Temperature{} + TemperatureSpan::parts((parts + tenth - 1) / tenth * tenth));
}

/// What readings by this thermometer would have shown, `; readings of 71 °C or more ... would have shown it`; empty where heat is not
/// what is missing.
std::string would_have_shown(const Measure& m, TemperatureSpan error, Span longest_step) {
  if (m.share >= 1 || longest_step == Span{}) return {};
  const std::string reading = reading_for(m.needs, error);
  if (m.wanted == Span{}) return fmt::format("; a reading of {} or more by this thermometer would have shown it", reading);
  if (!m.worth) {
    return fmt::format("; readings of {} or more by this thermometer for {} without a break, one at least every {}, would have shown it",
                       reading, format_span(m.wanted), format_span(longest_step));
  }
  const auto more = std::chrono::ceil<std::chrono::seconds>(Minutes{m.wanted} * (1 - m.share));
  return fmt::format("; {} more with readings of {} or more by this thermometer, one at least every {}, would have shown it",
                     format_span(more), reading, format_span(std::min(longest_step, m.worth->longest_step)));
}

}  // namespace

Measure measure(const HeatRow& row, std::span<const Reading> readings, TemperatureSpan error, Span longest_step) {
  const HeldTime held = held_at_or_above(readings, row.at, error, longest_step);
  Measure m;
  const std::string at = row.words.empty() ? in_celsius(row.at) : row.words;
  m.source = cite(row.cited);
  m.food = row.food;
  m.at = at;
  m.needs = row.at;
  m.wanted = row.hold;
  m.limit = row.hold > Span{} ? fmt::format("{} for {}, unbroken", at, format_span(row.hold)) : fmt::format("{} reached", at);
  if (!row.own.empty()) m.limit += fmt::format(" ({})", row.own);
  m.met = held.reached && held.minimum >= row.hold;
  m.missed = held.hottest && !held.open && held.gaps.empty() && (!held.may_reach || held.maximum < row.hold);
  m.reached = held.reached;
  if (held.reached) m.share = row.hold > Span{} ? static_cast<double>(held.minimum.count()) / static_cast<double>(row.hold.count()) : 1.0;
  const std::string needs = row.hold > Span{} ? format_span(row.hold) : "only to reach it";
  if (m.missed && held.may_reach) {
    m.told = fmt::format("held at or above {} for at most {} (needs {}), even with the thermometer error ±{} added", at,
                         format_span(held.maximum), needs, in_celsius(error));
    m.result = fmt::format("at most {} at or above {}", format_span(held.maximum), at);
  } else if (!held.reached && held.hottest) {
    m.told =
        fmt::format("hottest recorded {}, not shown to reach {} (needs {}), {}", in_celsius(*held.hottest), at, needs, taken_off(error));
    if (m.missed) {
      m.told = fmt::format("hottest recorded {}, below {} (needs {}) even with the thermometer error ±{} added", in_celsius(*held.hottest),
                           at, needs, in_celsius(error));
    }
    m.result = fmt::format("hottest {}", in_celsius(*held.hottest));
  } else {
    m.told = fmt::format("held at or above {} for {} (needs {}), {}", at, format_span(held.minimum), needs, taken_off(error));
    m.result = fmt::format("{} at or above {}", format_span(held.minimum), at);
  }
  return m;
}

Measure measure(const HeatEquivalence& row, std::span<const Reading> readings, TemperatureSpan error) {
  Measure m = measure_integral(row, readings, error);
  m.food = row.food;
  return m;
}

Measure measure(const AdoptedReference& adopted, std::span<const Reading> readings, TemperatureSpan error) {
  Measure m = measure_integral(adopted.row, readings, error);
  m.limit += fmt::format(": {}, by a published reference that is not law", adopted.row.worth);
  m.told += fmt::format("; judged against a published reference for {}, which is not law and which the plan adopts ({})", adopted.row.worth,
                        adopted.by);
  return m;
}

const Measure& told_of(const std::vector<Measure>& measures) {
  const auto met = std::find_if(measures.begin(), measures.end(), [](const Measure& m) { return m.met; });
  return met != measures.end() ? *met : nearest(measures);
}

std::string all_limits(const std::vector<Measure>& measures) {
  std::string text;
  for (const Measure& m : measures) text += (text.empty() ? "" : ", or ") + m.limit;
  return text;
}

std::vector<Measure> measures_of(const std::string& food, std::span<const Reading> readings, TemperatureSpan error,
                                 const TemperatureTerms& terms) {
  const Span longest_step = terms.longest_step("heat step");
  std::vector<Measure> measures;
  const auto applies = [&](const auto& row) { return food.empty() || row.food == food; };
  for (const HeatRow& row : terms.heat_rows) {
    if (applies(row)) measures.push_back(measure(row, readings, error, longest_step));
  }
  for (const HeatEquivalence& row : terms.equivalences) {
    if (applies(row)) measures.push_back(measure(row, readings, error));
  }
  // Which food it is was not recorded: then a row of one food vouches only while every other food has a row that is met too.
  for (Measure& m : measures) {
    const auto other = [&](const Measure& with) { return with.food != m.food && !met_for(with.food, measures); };
    if (m.met && std::any_of(measures.begin(), measures.end(), other)) m.of_one_food = true;
  }
  for (Measure& m : measures) {
    if (!m.of_one_food) continue;
    m.met = false;
    m.told += fmt::format(", which is for {}, and what food this is is not recorded", m.food);
  }
  return measures;
}

bool has_temperature(std::span<const Reading> readings) {
  return std::any_of(readings.begin(), readings.end(), [](const Reading& r) { return r.temperature.has_value(); });
}

Finding judge(const Words& words, const std::vector<Measure>& measures, std::span<const Reading> readings, TemperatureSpan error,
              bool reliable, const std::string& evidence, Span longest_step) {
  const bool missed = std::all_of(measures.begin(), measures.end(), [](const Measure& m) { return m.missed; });
  const Measure& told = told_of(measures);
  Finding f;
  f.control = words.control;
  f.subject = words.subject;
  f.evidence = evidence;
  f.message = told.told;
  f.limit = told.met ? told.limit : all_limits(measures);
  f.result = told.result;
  f.source = told.source;
  if (told.met && reliable) {
    f.verdict = Verdict::shown;
    f.stop = Stop::none;
  } else if (told.met) {
    f.verdict = Verdict::not_shown;
    f.stop = Stop::needs_person;
    f.message += ", but by a thermometer without good checks before and after";
    f.remedy = "check the thermometer in ice or boiling water; " + words.remedy;
  } else if (missed) {
    f.verdict = Verdict::not_met;
    f.stop = words.missed;
    f.remedy = words.remake;
  } else {
    f.verdict = Verdict::not_shown;
    f.stop = Stop::needs_person;
    const auto gaps = held_at_or_above(readings, told.needs, {}, longest_step).gaps;
    if (!gaps.empty()) f.message += fmt::format("; the record has a gap: {}", series::tell(gaps));
    f.remedy = words.remedy + would_have_shown(told, error, longest_step);
  }
  return f;
}

HeatBuildUp build_up(const std::vector<Measure>& measures, std::span<const Reading> readings, TemperatureSpan error, Span longest_step) {
  const Measure& told = told_of(measures);
  return {told.needs,  !told.worth,
          told.wanted, told.limit,
          told.told,   told.worth ? demonstrated_so_far(readings, *told.worth) : held_so_far(readings, told.needs, error, longest_step),
          told.at,     reading_for(told.needs, error)};
}

}  // namespace tierproof::heat
