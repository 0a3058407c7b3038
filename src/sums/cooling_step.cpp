#include "tierproof/sums/cooling_step.h"

#include <fmt/format.h>

#include <algorithm>

#include "series.h"

namespace tierproof {
namespace {

using series::in_celsius;

std::string or_celsius(const std::string& words, Temperature t) { return words.empty() ? in_celsius(t) : words; }

/// With its seconds, so that a time just over a limit does not look as if it kept it.
std::string span_of(LogTime time) {
  const auto span = std::chrono::duration_cast<Span>(time);
  const auto seconds = span.count() / 1000 % 60;
  return format_span(span) + (span >= std::chrono::hours{1} && seconds > 0 ? fmt::format(" {} s", seconds) : "");
}

/// `in at most 1 h 50 min`, `in at least 2 h 40 min`, `in 1 h to 3 h`, or that its end or start is not recorded.
std::string bounds_of(const CoolingStage& stage) {
  if (stage.verdict == Verdict::not_met) return fmt::format("in at least {}", span_of(*stage.shortest));
  if (!stage.longest) return "in a time that the readings leave open";
  if (stage.verdict == Verdict::shown || !stage.shortest || *stage.shortest <= LogTime{})
    return fmt::format("in at most {}", span_of(*stage.longest));
  return fmt::format("in {} to {}", span_of(*stage.shortest), span_of(*stage.longest));
}

std::string about(const CoolingStage& stage) {
  if (!stage.estimate_us || *stage.estimate_us < 0) return "";
  return fmt::format(" (about {}, by straight lines between the readings)",
                     format_span(std::chrono::minutes{static_cast<std::int64_t>(*stage.estimate_us / 60e6 + 0.5)}));
}

std::string told_of(const CoolingTold& told, const CoolingTerm& rule) {
  const std::string from = or_celsius(rule.from_words, rule.from);
  const std::string to = or_celsius(rule.to_words, rule.to);
  if (!rule.via) return fmt::format("cooled from {} to {} {}{}", from, to, bounds_of(told.total), about(told.total));
  const std::string via = or_celsius(rule.via_words, *rule.via);
  if (rule.second) {
    const bool together = rule.whole || (told.total.verdict == Verdict::not_met && told.first.verdict != Verdict::not_met &&
                                         told.second->verdict != Verdict::not_met);
    return fmt::format("cooled from {} to {} {}{}, then to {} {}{}{}", from, via, bounds_of(told.first), about(told.first), to,
                       bounds_of(*told.second), about(*told.second), together ? fmt::format(", {} in all", bounds_of(told.total)) : "");
  }
  return fmt::format("cooled from {} to {} {}{}, and to {} {} in all{}", from, via, bounds_of(told.first), about(told.first), to,
                     bounds_of(told.total), about(told.total));
}

/// The first and the last temperature that were read, with their times.
std::string span_read(std::span<const Reading> readings, Offset offset) {
  const auto points = series::in_order(readings);
  const auto read = [](const series::Point& point) { return point.mark == series::Mark::reading; };
  const auto first = std::find_if(points.begin(), points.end(), read);
  if (first == points.end()) return "no temperature of its cooling is recorded";
  const auto last = std::find_if(points.rbegin(), points.rend(), read);
  return fmt::format("recorded {} at {} and {} at {}, {} later", in_celsius(first->t), format_clock(first->at, offset), in_celsius(last->t),
                     format_clock(last->at, offset), format_span(last->at - first->at));
}

std::string read_next_time(const CoolingTerm& rule) {
  const std::string first = rule.via ? fmt::format("before {} and ", format_span(*rule.first)) : "";
  const Span whole = rule.total ? *rule.total : rule.whole.value_or(*rule.first + *rule.second);
  return fmt::format(
      "next time read it in the middle as it comes off the heat, at {} or above, and again {}before {} are over; a named person must "
      "answer "
      "for this one",
      or_celsius(rule.from_words, rule.from), first, format_span(whole));
}

}  // namespace

std::string in_words(const CoolingTerm& rule) {
  const std::string own = rule.own.empty() ? "" : fmt::format(" ({})", rule.own);
  const std::string_view within = rule.strictly ? "in less than" : "within";
  const std::string from = or_celsius(rule.from_words, rule.from);
  const std::string to = (rule.strictly ? "below " : "") + or_celsius(rule.to_words, rule.to);
  if (!rule.via) return fmt::format("{} to {} {} {}{}", from, to, within, format_span(*rule.total), own);
  const std::string first = fmt::format("{} to {} {} {}", from, or_celsius(rule.via_words, *rule.via), within, format_span(*rule.first));
  if (rule.total) return fmt::format("{}, and to {} {} {} in all{}", first, to, within, format_span(*rule.total), own);
  const std::string in_all = rule.whole ? fmt::format(", {} in all", format_span(*rule.whole)) : "";
  return fmt::format("{}, and to {} {} a further {}{}{}", first, to, within, format_span(*rule.second), in_all, own);
}

bool was_hot(std::span<const Reading> readings, TemperatureSpan error, const TemperatureTerms& terms) {
  return terms.cooling && std::any_of(readings.begin(), readings.end(), [&](const Reading& reading) {
           return reading.temperature && *reading.temperature + error >= terms.cooling->from;
         });
}

std::optional<Finding> judge_cooling(const CooledPart& part, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                                     const std::string& evidence, const TemperatureTerms& terms) {
  series::require_sensible(error, Span{});
  const NoNumberTerm* none = terms.no_number("cooling");
  if (part.heated.has_value() && !*part.heated) return std::nullopt;
  if (!terms.cooling && (none == nullptr || !part.heated)) return std::nullopt;
  Finding f;
  f.control = "cooling";
  f.subject = part.subject;
  f.evidence = evidence;
  f.verdict = Verdict::not_shown;
  f.stop = Stop::needs_person;
  const std::string why = part.heated ? fmt::format("{}, and it is kept cold", part.heated_because) : "";
  const std::string read = span_read(readings, part.offset);
  if (!terms.cooling) {
    f.message = fmt::format("{}; {}; the law here gives no number for cooling: {}", why, read, none->words);
    f.remedy = "compare it with the time of your own plan, or ask an adviser for one; a named person must answer for it";
    f.source = cite(none->cited);
    return f;
  }
  const CoolingTerm& rule = *terms.cooling;
  f.limit = in_words(rule);
  f.source = cite(rule.cited);
  if (!part.heated) {
    f.message = "it is kept cold, and nothing recorded says whether it was heated";
    f.remedy =
        "say in its recipe whether the part is heated (\"heated\": \"heated\" or \"not heated\"); if it was, a named person must answer "
        "for it";
    return f;
  }
  const bool any = std::any_of(readings.begin(), readings.end(), [](const Reading& r) { return r.temperature.has_value(); });
  if (!any) {
    f.message = fmt::format("{}; {}", why, read);
    f.remedy = read_next_time(rule);
    return f;
  }
  f.result = read;
  if (!part.measured_food) {
    f.message = fmt::format("{}; only the air was measured, not the food; {}", why, read);
    f.remedy = read_next_time(rule);
    return f;
  }
  const CoolingTold told = cooling_of(readings, rule, error);
  const bool missed = told.first.verdict == Verdict::not_met || told.total.verdict == Verdict::not_met;
  const std::string against = fmt::format("thermometer error ±{} counted against it", in_celsius(error));
  if (missed) {
    f.verdict = Verdict::not_met;
    f.stop = rule.cited.firm() ? Stop::no_override : Stop::needs_person;
    f.message = fmt::format("{}, even with the thermometer error ±{} counted in its favour", told_of(told, rule), in_celsius(error));
    f.remedy = rule.cited.firm() ? "do not hand over; remake it or refuse the order" : "remake it, or have a named person answer for it";
    return f;
  }
  if (!told.began) {
    f.message = fmt::format("{}; it is not recorded at {} or above, where cooling begins, so nobody can say how long it took, {}", read,
                            or_celsius(rule.from_words, rule.from), against);
    f.remedy = read_next_time(rule);
    return f;
  }
  f.message = fmt::format("{}, {}", told_of(told, rule), against);
  if (told.warmed_again) f.message += "; it was warm again in between, and counts from its first fall";
  if (!told.ended) f.message += fmt::format("; it is not recorded at {} or below to the end", or_celsius(rule.to_words, rule.to));
  if (!told.shown()) {
    f.remedy = read_next_time(rule);
    return f;
  }
  if (!reliable) {
    f.message += "; the thermometer has no good checks before and after";
    f.remedy = "check the thermometer in ice or boiling water; until it is good a named person must answer for it";
    return f;
  }
  f.verdict = Verdict::shown;
  f.stop = Stop::none;
  return f;
}

}  // namespace tierproof
