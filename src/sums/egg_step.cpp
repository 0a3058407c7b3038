#include <fmt/format.h>

#include <algorithm>

#include "series.h"
#include "tierproof/sums/heat.h"

namespace tierproof {
namespace {

using series::in_celsius;
using series::in_percent;

/// One row that may vouch for the step, and what the record says of it.
struct Measure {
  std::string limit;   ///< `70 °C for 2 min, unbroken`
  std::string told;    ///< `held at or above 70 °C for 2 min 10 s (needs 2 min)`
  std::string result;  ///< `2 min 10 s at or above 70 °C`
  std::string source;
  std::string food;  ///< that the row speaks of
  std::string at;    ///< its temperature as it is told
  bool met = false;
  bool of_one_food = false;          ///< met, but for one food of several that it may be
  bool missed = false;               ///< even by the favourable bound
  double share = 0;                  ///< how much of the row is demonstrated: 1 or more is all of it
  bool reached = false;              ///< it was as hot as the row begins to count
  Temperature needs;                 ///< its temperature, for telling the nearest row
  Span wanted{};                     ///< at it
  std::optional<HeatTerms> worth{};  ///< of a row that grants an equivalent; nothing: the time must be unbroken
};

std::string taken_off(TemperatureSpan error) { return fmt::format("thermometer error ±{} taken off", in_celsius(error)); }

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

/// The measure to speak of when none is met: the one most nearly demonstrated; else, of those whose temperature was reached, the one
/// that is held shortest; else the one that needs least heat.
const Measure& nearest(const std::vector<Measure>& measures) {
  return *std::max_element(measures.begin(), measures.end(), [](const Measure& a, const Measure& b) {
    if (a.share != b.share) return a.share < b.share;
    if (a.reached != b.reached) return b.reached;
    return a.reached ? a.wanted > b.wanted : a.needs > b.needs;
  });
}

/// The measure that the finding speaks of: the first that is met, else the nearest.
const Measure& told_of(const std::vector<Measure>& measures) {
  const auto met = std::find_if(measures.begin(), measures.end(), [](const Measure& m) { return m.met; });
  return met != measures.end() ? *met : nearest(measures);
}

std::string all_limits(const std::vector<Measure>& measures) {
  std::string text;
  for (const Measure& m : measures) text += (text.empty() ? "" : ", or ") + m.limit;
  return text;
}

std::string use_pasteurised(Span longest_step) {
  return fmt::format(
      "use pasteurised egg white, or heat the mix to the limit with a reading of it at least every {}; on this record a named "
      "person must answer for it",
      longest_step > Span{} ? format_span(longest_step) : "minute");
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

constexpr const char* remake = "do not hand over; remake it with pasteurised egg white, or refuse the order";

Finding found(const EggStep& step, Verdict verdict, std::string message, std::string remedy, const std::string& evidence) {
  Finding f;
  f.control = "egg-heat";
  f.verdict = verdict;
  f.stop = verdict == Verdict::shown ? Stop::none : verdict == Verdict::not_met ? Stop::no_override : Stop::needs_person;
  f.subject = step.subject;
  f.message = std::move(message);
  f.remedy = std::move(remedy);
  f.evidence = evidence;
  return f;
}

Finding judge_pasteurised(const EggStep& step) {
  const std::string evidence = "the pack, as it was received and used";
  Finding f;
  if (step.pack.empty()) {
    f = found(step, Verdict::not_shown, fmt::format("the egg is recorded as {}, but not which pack it came from", step.egg),
              "record the pack of pasteurised egg that was used, with its code and date", evidence);
  } else if (!step.pack_in_date) {
    f = found(step, Verdict::not_met, fmt::format("the {} egg was past its date when it was used: {}", step.egg, step.pack),
              "do not hand over; remake it with pasteurised egg that is in date, or refuse the order", evidence);
  } else {
    f = found(step, Verdict::shown, fmt::format("the egg was bought in {} and in date: {}", step.egg, step.pack), "", evidence);
  }
  f.limit = "pasteurised egg, in date";
  f.result = step.pack;
  return f;
}

/// Whether the egg tables may be used on this mix.
enum class Mix { inside, not_known, outside };

Mix mix_of(const EggStep& step, const EggMixTerm* strictest) {
  if (!step.sugar_of_mix) return Mix::not_known;
  return *step.sugar_of_mix <= (strictest ? strictest->sugar_up_to : Share{0}) ? Mix::inside : Mix::outside;
}

const EggMixTerm* strictest_of(const std::vector<EggMixTerm>& rows) {
  const auto found = std::min_element(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.sugar_up_to < b.sugar_up_to; });
  return found == rows.end() ? nullptr : &*found;
}

bool met_for(const std::string& food, const std::vector<Measure>& measures) {
  return std::any_of(measures.begin(), measures.end(), [&](const Measure& m) { return m.food == food && m.met; });
}

std::vector<Measure> table_of(const EggStep& step, std::span<const Reading> readings, TemperatureSpan error, Span longest_step,
                              const TemperatureTerms& terms) {
  std::vector<Measure> measures;
  const auto applies = [&](const auto& row) { return step.food.empty() || row.food == step.food; };
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

bool is_validated(const EggStep& step) { return step.validation && !step.validation_by.empty(); }

bool is_in_range(const HeatReference& row, const EggStep& step) {
  if (step.water_activity) return row.activity_from <= *step.water_activity && *step.water_activity <= row.activity_to;
  return step.only_egg_and_sugar && step.sugar_of_mix && row.sugar_from <= *step.sugar_of_mix && *step.sugar_of_mix <= row.sugar_to;
}

bool may_be_referred(const EggStep& step) { return step.adopted && is_in_range(step.adopted->row, step); }

/// What may vouch for egg that is heated in such a mix: the validation on file first, then the table, where it may be used, or for a mix
/// outside it the reference that the plan adopts.
std::vector<Measure> measures_of_mix(const EggStep& step, Mix mix, std::span<const Reading> readings, TemperatureSpan error,
                                     Span longest_step, const TemperatureTerms& terms) {
  std::vector<Measure> measures;
  if (is_validated(step)) {
    measures.push_back(measure(*step.validation, readings, error, longest_step));
    measures.back().limit += ", as validated for this recipe";
  }
  if (mix == Mix::outside) {
    if (may_be_referred(step)) measures.push_back(measure(*step.adopted, readings, error));
    return measures;
  }
  for (Measure& m : table_of(step, readings, error, longest_step, terms)) {
    if (mix == Mix::not_known && m.met) {
      m.met = false;  // the row is met, but nobody knows that it may be used on this mix
      m.told += ", but how much sugar is in the mix is not known, and sugar protects bacteria";
    }
    measures.push_back(std::move(m));
  }
  return measures;
}

Span longest_heat_step(const TemperatureTerms& terms) {
  std::optional<Span> longest;
  for (const GapTerm& gap : terms.gaps) {
    if (gap.use == "heat step") longest = std::min(longest.value_or(gap.longest), gap.longest);
  }
  return longest.value_or(Span{});
}

/// What a published reference that is not law would do for this mix: how the plan may adopt it, or why the adopted one does not hold.
std::string told_of_reference(const HeatReference& row, const EggStep& step) {
  const std::string range =
      fmt::format("water activity {} to {}, or egg white with {} to {} sugar and nothing else", format_decimal(row.activity_from, 2),
                  format_decimal(row.activity_to, 2), in_percent(row.sugar_from), in_percent(row.sugar_to));
  if (is_in_range(row, step))
    return fmt::format(", or let your plan adopt the published reference {} ({}; {}), which is not law: `tierproof adopt`", row.cited.row,
                       row.worth, range);
  return step.adopted ? fmt::format("; the reference {} that the plan adopts holds for {}, and not for this mix", row.cited.row, range)
                      : std::string{};
}

Finding outside_model(const EggStep& step, std::span<const Reading> readings, const std::string& evidence, const EggMixTerm* strictest,
                      const std::vector<HeatReference>& references) {
  const HeldTime held = held_at_or_above(readings, Temperature{}, {}, Span{});
  const std::string hottest = held.hottest ? fmt::format("hottest recorded {}", in_celsius(*held.hottest)) : "no temperature recorded";
  const std::string bound = strictest ? fmt::format("the tables for egg hold up to {} sugar", in_percent(strictest->sugar_up_to))
                                      : std::string{"no table here is known to hold for egg with sugar"};
  Finding f = found(step, Verdict::outside_model,
                    fmt::format("the heated mix is {} sugar and {}: sugar protects bacteria, so no table vouches for this mix ({})",
                                in_percent(*step.sugar_of_mix), bound, hottest),
                    "use pasteurised egg white, or put a validation of this recipe's heat step on file", evidence);
  if (step.adopted) {
    f.remedy += told_of_reference(step.adopted->row, step);
  } else {
    for (const HeatReference& row : references) f.remedy += told_of_reference(row, step);
  }
  f.result = hottest;
  if (strictest) {
    f.limit = fmt::format("sugar at or under {} of the mix for the egg tables", in_percent(strictest->sugar_up_to));
    f.source = cite(strictest->cited);
  }
  return f;
}

/// Judges by `measures`, of which the first is the validation when there is one on file.
Finding judge_measured(const EggStep& step, const std::vector<Measure>& measures, std::span<const Reading> readings, TemperatureSpan error,
                       bool reliable, const std::string& evidence, Span longest_step) {
  const std::string remedy = use_pasteurised(longest_step);
  const bool missed = std::all_of(measures.begin(), measures.end(), [](const Measure& m) { return m.missed; });
  const Measure& told = told_of(measures);
  Finding f;
  if (told.met && reliable) {
    f = found(step, Verdict::shown, told.told, "", evidence);
  } else if (told.met) {
    f = found(step, Verdict::not_shown, told.told + ", but by a thermometer without good checks before and after",
              "check the thermometer in ice or boiling water; " + remedy, evidence);
  } else if (missed) {
    f = found(step, Verdict::not_met, told.told, remake, evidence);
  } else {
    const auto gaps = held_at_or_above(readings, told.needs, {}, longest_step).gaps;
    f = found(step, Verdict::not_shown,
              gaps.empty() ? told.told : fmt::format("{}; the record has a gap: {}", told.told, series::tell(gaps)),
              remedy + would_have_shown(told, error, longest_step), evidence);
  }
  f.limit = told.met ? told.limit : all_limits(measures);
  f.result = told.result;
  f.source = told.source;
  return f;
}

Finding judge_heated(const EggStep& step, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                     const std::string& evidence, const TemperatureTerms& terms) {
  const EggMixTerm* strictest = strictest_of(terms.egg_mix);
  const Mix mix = mix_of(step, strictest);
  const Span longest_step = longest_heat_step(terms);
  if (mix == Mix::outside && !is_validated(step) && !may_be_referred(step))
    return outside_model(step, readings, evidence, strictest, terms.references);
  const std::vector<Measure> measures = measures_of_mix(step, mix, readings, error, longest_step, terms);
  std::string rests_on = evidence;
  if (is_validated(step)) rests_on += fmt::format("{}validation: {}", evidence.empty() ? "" : "; ", step.validation_by);
  if (measures.empty()) {
    const NoNumberTerm* none = terms.no_number("heating");
    Finding f = found(step, Verdict::not_shown,
                      "the rules chosen here have no row for heating this egg mix" + (none ? ": " + none->words : std::string{}),
                      use_pasteurised(longest_step), rests_on);
    if (none) f.source = cite(none->cited);
    return f;
  }
  if (std::none_of(readings.begin(), readings.end(), [](const Reading& r) { return r.temperature.has_value(); })) {
    Finding f = found(step, Verdict::not_shown,
                      readings.empty() ? "no temperature of the egg mix is recorded"
                                       : "the thermometer reported faults only, and no temperature of the egg mix",
                      use_pasteurised(longest_step), rests_on);
    f.limit = all_limits(measures);
    f.source = measures.front().source;
    return f;
  }
  Finding f = judge_measured(step, measures, readings, error, reliable, rests_on, longest_step);
  if (longest_step == Span{}) f.message += "; the rules chosen here give no longest time between readings, so no time between them counts";
  return f;
}

}  // namespace

std::optional<Finding> judge_egg_step(const EggStep& step, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                                      const std::string& evidence, const TemperatureTerms& terms) {
  series::require_sensible(error, Span{});
  if (step.egg == "none")
    return found(step, Verdict::shown, "no egg is recorded in this part, so there is no egg step to heat", "", evidence);
  if (step.egg == "pasteurised" || step.egg == "dried pasteurised") return judge_pasteurised(step);
  if (step.egg == "raw, heated here") return judge_heated(step, readings, error, reliable, evidence, terms);
  if (step.egg == "raw, not heated") {
    Finding f = found(step, Verdict::not_met, "the raw egg in this part was not heated", remake, evidence);
    f.result = "not heated";
    Span none{};
    const auto rows = table_of(step, {}, error, none, terms);
    if (!rows.empty()) {
      f.limit = all_limits(rows);
      f.source = rows.front().source;
    }
    return f;
  }
  if (step.egg == "baked through" || step.egg == "baked") {
    const Span longest_step = longest_heat_step(terms);
    const auto rows = table_of(step, readings, error, longest_step, terms);
    if (rows.empty() || readings.empty()) return std::nullopt;
    Finding f = judge_measured(step, rows, readings, error, reliable, evidence, longest_step);
    if (f.verdict == Verdict::shown || f.verdict == Verdict::not_met) return f;
    return std::nullopt;
  }
  return found(step, Verdict::not_shown, "what became of the egg in this part is not recorded",
               "record whether the egg was pasteurised, baked through, heated here or not heated", evidence);
}

std::optional<HeatBuildUp> heat_build_up(const EggStep& step, std::span<const Reading> readings, TemperatureSpan error,
                                         const TemperatureTerms& terms) {
  series::require_sensible(error, Span{});
  const Span longest_step = longest_heat_step(terms);
  std::vector<Measure> measures;
  if (step.egg == "raw, heated here") {
    measures = measures_of_mix(step, mix_of(step, strictest_of(terms.egg_mix)), readings, error, longest_step, terms);
  } else if (step.egg == "baked through" || step.egg == "baked") {
    measures = table_of(step, readings, error, longest_step, terms);
  }
  if (measures.empty() || std::none_of(readings.begin(), readings.end(), [](const Reading& r) { return r.temperature.has_value(); }))
    return std::nullopt;
  const Measure& told = told_of(measures);
  return HeatBuildUp{
      told.needs,  !told.worth,
      told.wanted, told.limit,
      told.told,   told.worth ? demonstrated_so_far(readings, *told.worth) : held_so_far(readings, told.needs, error, longest_step),
      told.at,     reading_for(told.needs, error)};
}

Finding judge_syrup(const std::string& subject, std::span<const Reading> readings, Temperature target, TemperatureSpan error, bool reliable,
                    const std::string& evidence) {
  const HeldTime held = held_at_or_above(readings, target, error, Span{});
  Finding f;
  f.control = "syrup-heat";
  f.subject = subject;
  f.limit = fmt::format("syrup at or above {}", in_celsius(target));
  f.evidence = evidence;
  if (held.reached && reliable) {
    f.verdict = Verdict::shown;
    f.stop = Stop::none;
  } else {
    f.verdict = Verdict::not_shown;
    f.stop = Stop::needs_person;
    f.remedy = fmt::format("record the syrup at {} or above with a checked thermometer before it is poured", in_celsius(target));
  }
  if (!held.hottest) {
    f.message = "no temperature of the syrup is recorded; a syrup's temperature would say nothing of the egg";
    return f;
  }
  f.result = fmt::format("hottest {}", in_celsius(*held.hottest));
  f.message = fmt::format(
      "the hottest recorded syrup temperature is {} (target {}), thermometer error ±{} taken off{}; it vouches for the syrup alone and "
      "says nothing of the egg",
      in_celsius(*held.hottest), in_celsius(target), in_celsius(error),
      reliable ? "" : ", by a thermometer without good checks before and after");
  return f;
}

}  // namespace tierproof
