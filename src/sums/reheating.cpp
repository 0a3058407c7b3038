#include "tierproof/sums/reheating.h"

#include <fmt/format.h>

#include <algorithm>

#include "series.h"

namespace tierproof {
namespace {

using series::in_celsius;

std::string reached_words(const ReheatTerm& rule) { return rule.words.empty() ? in_celsius(rule.at) : rule.words; }
std::string cold_words(const ReheatTerm& rule) { return rule.out_of_words.empty() ? in_celsius(*rule.out_of) : rule.out_of_words; }

/// How long it took from the cold to the row's temperature.
struct WarmingUp {
  std::optional<Span> longest;   ///< nothing: no reading shows it cold before, or none shows that it got there
  std::optional<Span> shortest;  ///< nothing: no reading surely lies between the two
};

/// @pre `rule.out_of`
WarmingUp warming_up(std::span<const Reading> readings, const ReheatTerm& rule, TemperatureSpan error) {
  WarmingUp took;
  std::optional<Instant> cold, warm;  // the last that was surely cold, and the first after any that may have been
  bool may_be_there = false;
  for (const auto& point : series::in_order(readings)) {
    if (point.mark != series::Mark::reading) continue;
    may_be_there = may_be_there || point.t + error >= rule.at;
    if (!may_be_there && point.t - error <= *rule.out_of) warm.reset(), took.shortest.reset();
    if (!may_be_there && point.t - error > *rule.out_of) {
      if (!warm) warm = point.at;
      took.shortest = point.at - *warm;
    }
    if (point.t + error <= *rule.out_of) cold = point.at;
    if (point.t - error < rule.at) continue;
    if (cold) took.longest = point.at - *cold;
    break;
  }
  return took;
}

std::string time_told(const WarmingUp& took, const ReheatTerm& rule) {
  const std::string between = fmt::format("from {} to {}", cold_words(rule), reached_words(rule));
  if (took.longest) return fmt::format("{} in at most {} (allowed {})", between, format_span(*took.longest), format_span(*rule.within));
  return fmt::format("nothing shows how long it took {} (allowed {})", between, format_span(*rule.within));
}

/// Whether it was surely no hotter after the last reading than before: it was getting colder.
bool ends_under_its_hottest(std::span<const Reading> readings, Temperature hottest) {
  const auto points = series::in_order(readings);
  return !points.empty() && points.back().mark == series::Mark::reading && points.back().t < hottest;
}

/// What the rules say of it while it is then kept hot.
std::vector<std::string> kept_hot(const TemperatureTerms& terms) {
  if (!terms.hot_hold) return {};
  std::string words =
      fmt::format("kept hot until it is served: at {} or above {}", in_celsius(terms.hot_hold->limit), cite(terms.hot_hold->cited));
  if (const auto& allowance = terms.hot_allowance) {
    words += fmt::format("; below it for less than {}{} {}", format_span(allowance->less_than), allowance->once ? ", once" : "",
                         cite(allowance->cited));
  }
  return {std::move(words)};
}

/// The readings of each time that it was heated again; see `judge_reheating`.
std::vector<std::vector<Reading>> times_in(std::span<const Reading> readings, TemperatureSpan error, const TemperatureTerms& terms) {
  constexpr Span one_heating = std::chrono::hours{2}, a_day = std::chrono::hours{24};
  const auto is_cold = [&](Temperature t) {
    if (terms.reheat && terms.reheat->out_of) return t + error <= *terms.reheat->out_of;
    return !terms.chill.empty() && t + error <= terms.chill.front().limit;
  };
  std::vector<Reading> sorted{readings.begin(), readings.end()};
  std::stable_sort(sorted.begin(), sorted.end(), [](const Reading& a, const Reading& b) { return a.at < b.at; });
  std::vector<std::vector<Reading>> times;
  bool was_hot = false;
  Instant last = sorted.empty() ? Instant{} : sorted.front().at;
  for (const Reading& reading : sorted) {
    if (times.empty()) times.emplace_back();
    if (reading.temperature) {
      const Span since = reading.at - last;
      if ((was_hot && (is_cold(*reading.temperature) || since > one_heating)) || since > a_day) {
        times.emplace_back();
        was_hot = false;
      }
      was_hot = was_hot || *reading.temperature + error >= celsius(40);
      last = reading.at;
    }
    times.back().push_back(reading);
  }
  return times;
}

Finding judge_one(const ReheatedPart& part, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                  const std::string& evidence, const TemperatureTerms& terms) {
  const Span longest_step = terms.longest_step("heat step");
  const HeldTime any = held_at_or_above(readings, Temperature{}, {}, longest_step);
  Finding f;
  f.control = "reheating";
  f.subject = part.subject;
  f.verdict = Verdict::not_shown;
  f.stop = Stop::needs_person;
  f.evidence = evidence;
  f.paths = kept_hot(terms);
  f.result = any.hottest ? fmt::format("hottest {}", in_celsius(*any.hottest)) : "";
  const std::string hottest =
      any.hottest ? fmt::format("hottest recorded {}", in_celsius(*any.hottest)) : "no temperature of it is recorded";
  if (!terms.reheat) {
    f.message = fmt::format("it was heated again; {}; the rules chosen here give no number for reheating", hottest);
    f.remedy = "compare it with the temperature of your own plan, or ask an adviser for one; a named person must answer for it";
    return f;
  }
  const ReheatTerm& rule = *terms.reheat;
  f.limit = in_words(rule);
  f.source = cite(rule.cited);
  f.remedy = fmt::format(
      "read it in the middle {}until it has been at {} or above{}, less the thermometer’s error; a named person must answer for this one",
      rule.within ? "as it leaves the cold, and again " : "", reached_words(rule),
      rule.hold > Span{} ? " for " + format_span(rule.hold) : "");
  if (!any.hottest || !part.measured_food) {
    f.message = part.measured_food ? hottest : "only the air was measured, not the food; " + hottest;
    return f;
  }
  const HeldTime held = held_at_or_above(readings, rule.at, error, longest_step);
  const WarmingUp took = rule.within ? warming_up(readings, rule, error) : WarmingUp{};
  const bool ended = ends_under_its_hottest(readings, *any.hottest);
  const bool too_cold = ended && !held.open && held.gaps.empty() && (!held.may_reach || held.maximum < rule.hold);
  const bool too_slow = rule.within && took.shortest && *took.shortest > *rule.within;
  if (too_cold || too_slow) {
    f.verdict = Verdict::not_met;
    f.stop = rule.cited.firm() ? Stop::no_override : Stop::needs_person;
    f.message = too_slow
                    ? fmt::format(
                          "it was warmer than {} and under {} for at least {} (allowed {}), even with the thermometer error ±{} counted in "
                          "its favour",
                          cold_words(rule), reached_words(rule), format_span(*took.shortest), format_span(*rule.within), in_celsius(error))
                    : fmt::format("{}; it was not at {} or above{}, even with the thermometer error ±{} added", hottest,
                                  reached_words(rule), rule.hold > Span{} ? " for " + format_span(rule.hold) : "", in_celsius(error));
    f.remedy = rule.cited.firm() ? "do not hand over; remake it or refuse the order" : "remake it, or have a named person answer for it";
    return f;
  }
  const bool hot = held.reached && held.minimum >= rule.hold;
  f.message =
      held.reached
          ? fmt::format("at or above {} for {} (needs {}), thermometer error ±{} taken off", reached_words(rule), format_span(held.minimum),
                        rule.hold > Span{} ? format_span(rule.hold) : "only to reach it", in_celsius(error))
          : fmt::format("{}, not shown to reach {}, thermometer error ±{} taken off", hottest, reached_words(rule), in_celsius(error));
  if (rule.within) f.message += "; " + time_told(took, rule);
  if (!hot || (rule.within && (!took.longest || *took.longest > *rule.within))) return f;
  if (!reliable) {
    f.message += "; the thermometer has no good checks before and after";
    f.remedy = "check the thermometer in ice or boiling water; until it is good a named person must answer for it";
    return f;
  }
  f.verdict = Verdict::shown;
  f.stop = Stop::none;
  f.remedy.clear();
  return f;
}

}  // namespace

std::string in_words(const ReheatTerm& rule) {
  std::string words = reached_words(rule) + (rule.hold > Span{} ? fmt::format(" for {}, unbroken", format_span(rule.hold)) : " reached");
  if (rule.within) words += fmt::format(", within {} of leaving {}", format_span(*rule.within), cold_words(rule));
  if (!rule.own.empty()) words += fmt::format(" ({})", rule.own);
  return words;
}

Finding judge_reheating(const ReheatedPart& part, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                        const std::string& evidence, const TemperatureTerms& terms) {
  series::require_sensible(error, Span{});
  const auto times = times_in(readings, error, terms);
  std::optional<Finding> gravest;
  for (const auto& one : times) {
    Finding finding = judge_one(part, one, error, reliable, evidence, terms);
    if (!gravest || gravity(gravest->verdict) <= gravity(finding.verdict)) gravest = std::move(finding);
  }
  if (!gravest) return judge_one(part, readings, error, reliable, evidence, terms);
  if (times.size() > 1) gravest->message = fmt::format("of {} times that it was heated again: {}", times.size(), gravest->message);
  return *gravest;
}

}  // namespace tierproof
