#include "tierproof/sums/cooling.h"

#include <algorithm>
#include <stdexcept>

#include "series.h"

namespace tierproof {
namespace {

Verdict by_bounds(bool within, bool beyond) { return within ? Verdict::shown : beyond ? Verdict::not_met : Verdict::not_shown; }

CoolingTold told_by(std::span<const Reading> readings, Temperature from, Temperature via, Temperature to, TemperatureSpan error,
                    const CoolingLimits& limits) {
  RunningCooling cooling{limits};
  for (const series::Point& point : series::in_order(readings)) {
    const bool read = point.mark == series::Mark::reading;
    cooling.take(point.at.time_since_epoch(), read ? cooling_reading(point.t, error, from, via, to) : CoolingReading{});
  }
  return cooling.told();
}

LogTime time_after(LogTime earlier, std::optional<LogTime> later) { return later ? std::max(LogTime{}, *later - earlier) : LogTime{}; }

}  // namespace

RunningCooling::RunningCooling(const CoolingLimits& limits) : limits_{limits} {
  if (limits.total.has_value() == limits.second.has_value()) throw std::invalid_argument{"either the whole or the second stage is limited"};
  if (limits.first <= LogTime{} || limits.second.value_or(LogTime{1}) <= LogTime{}) throw std::invalid_argument{"a limit must be above 0"};
  if (limits.whole && !limits.second) throw std::invalid_argument{"the whole is limited twice"};
  if (limits.total.value_or(limits.whole.value_or(limits.first)) < limits.first)
    throw std::invalid_argument{"the whole must not be shorter than its first stage"};
}

void RunningCooling::take(LogTime at, const CoolingReading& reading) {
  const CoolingMarks& marks = reading.marks;
  if (marks.from_surely) {
    start_ = at;
    warmed_again_ = warmed_again_ || fell_;
    if (!fell_) first_start_ = at;
  } else {
    fell_ = fell_ || start_;
  }
  if (marks.from_perhaps) {
    started_perhaps_ = true;
    below_.reset();
  } else if (!below_) {
    below_ = at;
  }
  const auto follow = [at](End& end, bool surely, bool perhaps) {
    if (surely) end.last_above = at;
    if (perhaps) {
      end.at_or_below.reset();
    } else if (!end.at_or_below) {
      end.at_or_below = at;
    }
  };
  follow(via_, marks.via_surely, marks.via_perhaps);
  follow(to_, marks.to_surely, marks.to_perhaps);
  if (last_ && reading.above) {
    const auto cross = [&](std::optional<double>& crossed, double before, double now, bool was_above, bool is_above) {
      if (is_above) crossed.reset();
      if (!was_above || is_above) return;
      crossed = static_cast<double>(last_at_.count()) + before / (before - now) * static_cast<double>((at - last_at_).count());
    };
    const auto& a = *last_;
    const auto& b = *reading.above;
    cross(crossed_from_us_, a.from, b.from, a.from >= 0, b.from >= 0);
    cross(via_.crossed_us, a.via, b.via, a.via > 0, b.via > 0);
    cross(to_.crossed_us, a.to, b.to, a.to > 0, b.to > 0);
  } else {
    crossed_from_us_ = via_.crossed_us = to_.crossed_us = std::nullopt;
  }
  last_ = reading.above;
  last_at_ = at;
}

CoolingStage RunningCooling::stage(const End& end) const {
  CoolingStage told;
  if (started_perhaps_) told.shortest = below_ ? time_after(*below_, end.last_above) : LogTime{};
  if (start_ && end.at_or_below) told.longest = *end.at_or_below - *start_;
  if (end.crossed_us && crossed_from_us_) told.estimate_us = *end.crossed_us - *crossed_from_us_;
  return told;
}

CoolingTold RunningCooling::told() const {
  CoolingTold told;
  told.first = stage(via_);
  told.total = stage(to_);
  told.warmed_again = warmed_again_;
  told.began = first_start_;
  told.ended = to_.at_or_below;
  const auto within = [&](const End& end, LogTime limit) {
    return first_start_ && end.at_or_below && *end.at_or_below - *first_start_ <= limit;
  };
  if (limits_.second) {
    told.second = CoolingStage{};
    told.second->shortest = via_.at_or_below ? time_after(*via_.at_or_below, to_.last_above) : LogTime{};
    if (via_.crossed_us && to_.crossed_us) told.second->estimate_us = *to_.crossed_us - *via_.crossed_us;
    if (via_.last_above && to_.at_or_below) told.second->longest = time_after(*via_.last_above, to_.at_or_below);
  }
  if (!start_) return told;
  told.first.verdict = by_bounds(within(via_, limits_.first), *told.first.shortest > limits_.first);
  if (!told.second) {
    told.total.verdict = by_bounds(within(to_, *limits_.total), *told.total.shortest > *limits_.total);
    return told;
  }
  const LogTime together = std::min(limits_.whole.value_or(LogTime::max()), limits_.first + *limits_.second);
  const CoolingStage& second = *told.second;
  told.second->verdict = by_bounds(second.longest && *second.longest <= *limits_.second, *second.shortest > *limits_.second);
  told.total.verdict = by_bounds(second.verdict == Verdict::shown && within(to_, together),
                                 second.verdict == Verdict::not_met || *told.total.shortest > together);
  return told;
}

CoolingTold cooling_of(std::span<const Reading> readings, Temperature from, Temperature via, Temperature to, TemperatureSpan error,
                       const CoolingLimits& limits) {
  series::require_sensible(error, Span{});
  if (from <= via || via <= to) throw std::invalid_argument{"a cooling rule goes from warm to cold"};
  return told_by(readings, from, via, to, error, limits);
}

CoolingTold cooling_of(std::span<const Reading> readings, const CoolingTerm& rule, TemperatureSpan error) {
  series::require_sensible(error, Span{});
  const Span less = Span{rule.strictly ? 1 : 0};  // readings are whole milliseconds, temperatures whole parts
  const Temperature to = rule.strictly ? rule.to - TemperatureSpan::parts(1) : rule.to;
  const auto limited = [&](const std::optional<Span>& span) { return span ? std::optional<LogTime>{*span - less} : std::nullopt; };
  const CoolingLimits limits{*limited(rule.first ? rule.first : rule.total), limited(rule.total), limited(rule.second),
                             limited(rule.whole)};
  return told_by(readings, rule.from, rule.via.value_or(to), to, error, limits);
}

}  // namespace tierproof
