#include <fmt/format.h>

#include "heat_measures.h"
#include "series.h"
#include "tierproof/sums/heat.h"

namespace tierproof {

Finding judge_core_step(const CoreStep& step, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                        const std::string& evidence, const TemperatureTerms& terms) {
  series::require_sensible(error, Span{});
  const Span longest_step = terms.longest_step("heat step");
  const heat::Words words{
      "core-heat", step.subject,
      fmt::format("heat it until its middle has been at the limit, with a reading of it at least every {}; a named person must answer for "
                  "this one",
                  longest_step > Span{} ? format_span(longest_step) : "minute"),
      "remake it, or have a named person answer for it"};
  const auto measures = heat::measures_of(step.food, readings, error, terms);
  if (!measures.empty() && heat::has_temperature(readings)) {
    Finding f = heat::judge(words, measures, readings, error, reliable, evidence, longest_step);
    if (longest_step == Span{})
      f.message += "; the rules chosen here give no longest time between readings, so no time between them counts";
    return f;
  }
  Finding f;
  f.control = words.control;
  f.subject = step.subject;
  f.verdict = Verdict::not_shown;
  f.stop = Stop::needs_person;
  f.evidence = evidence;
  f.remedy = words.remedy;
  if (measures.empty()) {
    const NoNumberTerm* none = terms.no_number("heating");
    f.message = fmt::format("the rules chosen here have no row for heating it ({}){}", step.food, none ? ": " + none->words : "");
    f.remedy = "compare it with the temperature of your own plan; a named person must answer for it";
    if (none) f.source = cite(none->cited);
    return f;
  }
  f.message = readings.empty() ? "no temperature of its middle is recorded"
                               : "the thermometer reported faults only, and no temperature of its middle";
  f.limit = heat::all_limits(measures);
  f.source = measures.front().source;
  return f;
}

std::optional<HeatBuildUp> core_build_up(const CoreStep& step, std::span<const Reading> readings, TemperatureSpan error,
                                         const TemperatureTerms& terms) {
  series::require_sensible(error, Span{});
  const auto measures = heat::measures_of(step.food, readings, error, terms);
  if (measures.empty() || !heat::has_temperature(readings)) return std::nullopt;
  return heat::build_up(measures, readings, error, terms.longest_step("heat step"));
}

}  // namespace tierproof
