#include <fmt/format.h>

#include <algorithm>

#include "heat_measures.h"
#include "series.h"
#include "tierproof/sums/heat.h"

namespace tierproof {
namespace {

using heat::all_limits;
using heat::Measure;
using heat::measure;
using heat::measures_of;
using series::in_celsius;
using series::in_percent;

std::string use_pasteurised(Span longest_step) {
  return fmt::format(
      "use pasteurised egg white, or heat the mix to the limit with a reading of it at least every {}; on this record a named "
      "person must answer for it",
      longest_step > Span{} ? format_span(longest_step) : "minute");
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
  for (Measure& m : measures_of(step.food, readings, error, terms)) {
    if (mix == Mix::not_known && m.met) {
      m.met = false;  // the row is met, but nobody knows that it may be used on this mix
      m.told += ", but how much sugar is in the mix is not known, and sugar protects bacteria";
    }
    measures.push_back(std::move(m));
  }
  return measures;
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
  const heat::Words words{"egg-heat", step.subject, use_pasteurised(longest_step), remake, Stop::no_override};
  return heat::judge(words, measures, readings, error, reliable, evidence, longest_step);
}

Finding judge_heated(const EggStep& step, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                     const std::string& evidence, const TemperatureTerms& terms) {
  const EggMixTerm* strictest = strictest_of(terms.egg_mix);
  const Mix mix = mix_of(step, strictest);
  const Span longest_step = terms.longest_step("heat step");
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
  if (!heat::has_temperature(readings)) {
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
    const auto rows = measures_of(step.food, {}, error, terms);
    if (!rows.empty()) {
      f.limit = all_limits(rows);
      f.source = rows.front().source;
    }
    return f;
  }
  if (step.egg == "baked through" || step.egg == "baked") {
    const Span longest_step = terms.longest_step("heat step");
    const auto rows = measures_of(step.food, readings, error, terms);
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
  const Span longest_step = terms.longest_step("heat step");
  std::vector<Measure> measures;
  if (step.egg == "raw, heated here") {
    measures = measures_of_mix(step, mix_of(step, strictest_of(terms.egg_mix)), readings, error, longest_step, terms);
  } else if (step.egg == "baked through" || step.egg == "baked") {
    measures = measures_of(step.food, readings, error, terms);
  }
  if (measures.empty() || !heat::has_temperature(readings)) return std::nullopt;
  return heat::build_up(measures, readings, error, longest_step);
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
