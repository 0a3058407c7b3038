#include "tierproof/sums/warm_times.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "series.h"
#include "tierproof/sums/screening.h"

namespace tierproof {
namespace {

using series::Mark;
using series::Point;

struct Over {
  double milliseconds = 0;
  double kelvin_milliseconds = 0;
};

/// Time and area of one straight line that lie above 0. @param a, b  kelvins over the limit at its ends
Over over_of(double length, double a, double b) {
  if (a <= 0 && b <= 0) return {};
  if (a > 0 && b > 0) return {length, length * (a + b) / 2};
  const double above = length * std::max(a, b) / (std::max(a, b) - std::min(a, b));
  return {above, above * std::max(a, b) / 2};
}

/// Over `limit`, of points from `from` to `to` and the steps that lead into and out of them, with `shift` added to each.
Over over_between(std::span<const Point> points, Instant from, Instant to, Temperature limit, TemperatureSpan shift, Span longest_step) {
  Over sum;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].at < from || points[i - 1].at > to || !series::joined(points[i - 1], points[i], longest_step)) continue;
    const auto length = static_cast<double>((points[i].at - points[i - 1].at).count());
    const Over step = over_of(length, (points[i - 1].t + shift - limit).to_kelvins(), (points[i].t + shift - limit).to_kelvins());
    sum.milliseconds += step.milliseconds;
    sum.kelvin_milliseconds += step.kelvin_milliseconds;
  }
  return sum;
}

constexpr double of_a_minute = 60'000;  // milliseconds

enum class Told { nothing, cold, warm };

/// What one thermometer says of one time.
struct Says {
  Instant from{};
  Instant to{};
  Told told = Told::nothing;
};

/// In time order. The reading nearest to an end of `from`..`to` speaks for the time up to it, if that is no gap.
std::vector<Says> said_by(const Watch& watch, Instant from, Instant to, const WarmTotal& row, Span longest_step) {
  const auto points = series::in_order(watch.readings);
  const auto may_be_warm = [&](const Point& p) { return p.t + watch.error > row.above && p.t - watch.error < row.below; };
  const auto say = [&](bool warm) { return warm ? Told::warm : watch.reliable ? Told::cold : Told::nothing; };
  std::vector<Says> all;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (points[i].mark != Mark::reading) continue;
    // From above the band to below it the line runs through it.
    const auto passes = [&](const Point& p, const Point& q) {
      return std::max(p.t, q.t) - watch.error >= row.below && std::min(p.t, q.t) + watch.error <= row.above;
    };
    if (series::joined_before(points, i, longest_step)) {
      const bool warm = may_be_warm(points[i - 1]) || may_be_warm(points[i]) || passes(points[i - 1], points[i]);
      all.push_back({points[i - 1].at, points[i].at, say(warm)});
    } else if (i == 0 && points[i].at > from && points[i].at - from <= longest_step) {
      all.push_back({from, points[i].at, say(may_be_warm(points[i]))});
    }
    if (i + 1 == points.size() && points[i].at < to && to - points[i].at <= longest_step)
      all.push_back({points[i].at, to, say(may_be_warm(points[i]))});
  }
  return all;
}

}  // namespace

std::vector<WarmTime> warm_times(std::span<const Reading> readings, Instant from, Instant to, Temperature limit, TemperatureSpan error,
                                 Span longest_step) {
  series::require_sensible(error, longest_step);
  const auto points = series::in_order(readings);
  const auto inside = series::clipped(points, from, to, longest_step);
  const auto surely =
      series::runs_of(points, longest_step, [&](const Point& p) { return p.at >= from && p.at <= to && p.t - error > limit; });
  std::vector<WarmTime> all;
  for (const auto& [first, last] : series::runs_of(points, longest_step, [&](const Point& p) { return p.t + error > limit; })) {
    const bool begins = series::joined_before(points, first, longest_step);
    const bool ends = series::joined_after(points, last, longest_step);
    const Instant begin = begins ? points[first - 1].at : points[first].at;
    const Instant end = ends ? points[last + 1].at : points[last].at;
    if (end + longest_step < from || begin - longest_step > to) continue;
    WarmTime time;
    time.from = points[first].at;
    time.to = points[last].at;
    time.peak = points[first].t;
    for (std::size_t i = first; i <= last; ++i) time.peak = std::max(time.peak, points[i].t);
    for (const auto& [a, b] : surely) {
      if (a >= first && b <= last) time.least += points[b].at - points[a].at;
    }
    if (begins && ends) time.most = end - begin;
    const Over as_read = over_between(inside, time.from, time.to, limit, TemperatureSpan{}, longest_step);
    time.estimate = Minutes{as_read.milliseconds / of_a_minute};
    time.estimated_over = as_read.kelvin_milliseconds / of_a_minute;
    time.least_over = over_between(inside, time.from, time.to, limit, -error, longest_step).kelvin_milliseconds / of_a_minute;
    time.most_over = over_between(inside, time.from, time.to, limit, error, longest_step).kelvin_milliseconds / of_a_minute;
    all.push_back(time);
  }
  return all;
}

bool surely_above(const WarmTime& time, Temperature limit, TemperatureSpan error) { return time.peak - error > limit; }

WarmTime together(std::span<const WarmTime> times) {
  WarmTime all = times.front();
  for (const WarmTime& time : times.subspan(1)) {
    all.to = time.to;
    all.least += time.least;
    all.estimate += time.estimate;
    all.most = all.most && time.most ? std::optional{*all.most + *time.most} : std::nullopt;
    all.peak = std::max(all.peak, time.peak);
    all.least_over += time.least_over;
    all.estimated_over += time.estimated_over;
    all.most_over += time.most_over;
  }
  return all;
}

std::string bounds_in_words(const WarmTime& time) {
  Span about = std::chrono::duration_cast<Span>(time.estimate);
  if (about >= std::chrono::minutes{1}) about = std::chrono::round<std::chrono::minutes>(about);
  if (time.most) about = std::min(about, *time.most);
  if (!time.most && time.least == Span{} && about == Span{}) return "for a time that is not known";
  std::string words = "for ";
  if (time.least > Span{}) words += fmt::format("at least {}, ", format_span(time.least));
  if (about > Span{}) words += fmt::format("about {}, ", format_span(std::max(about, time.least)));
  return words + (time.most ? "at most " + format_span(*time.most) : "at most not known");
}

std::string in_words(const WarmTime& time, const std::string& limit, TemperatureSpan error, Offset offset) {
  const bool same_day = day_of(time.from, offset) == day_of(time.to, offset);
  const std::string until =
      time.from == time.to ? "" : " to " + (same_day ? format_clock(time.to, offset) : format_moment(time.to, offset));
  const std::string peak = error == TemperatureSpan{}
                               ? series::in_celsius(time.peak)
                               : fmt::format("{} ({} to {} with the error)", series::in_celsius(time.peak),
                                             series::in_celsius(time.peak - error), series::in_celsius(time.peak + error));
  return fmt::format("{}{}: above {} {}; warmest {}; over it {:.0f} °C·min, at least {:.0f}, at most {:.0f}",
                     format_moment(time.from, offset), until, limit, bounds_in_words(time), peak, time.estimated_over, time.least_over,
                     time.most_over);
}

std::vector<GrowthTold> growth_told(std::span<const Reading> readings, Instant from, Instant to, TemperatureSpan error,
                                    std::span<const GrowthTerm> rows, Span longest_step) {
  series::require_sensible(error, longest_step);
  std::vector<Reading> as_read, warmest;
  for (const Point& p : series::clipped(series::in_order(readings), from, to, longest_step)) {
    const bool read = p.mark == Mark::reading;
    as_read.push_back({p.at, read ? std::optional{p.t} : std::nullopt});
    warmest.push_back({p.at, read ? std::optional{p.t + error} : std::nullopt});
  }
  std::vector<GrowthTold> all;
  for (const GrowthTerm& row : rows) {
    const SquareRootGrowth growth{row.b, row.t_min_c};
    GrowthTold told{row, growth_over(as_read, growth, longest_step), growth_over(warmest, growth, longest_step), false};
    told.warns = told.at_most >= row.warn_from;
    all.push_back(std::move(told));
  }
  return all;
}

std::string warning_of_growth(std::span<const GrowthTold> all, bool measured_food) {
  std::string words;
  for (const GrowthTold& told : all) {
    if (!told.warns) continue;
    words += fmt::format(
        "{}warning: {} may have grown by {:.1f} log in that time ({:.1f} log with the thermometer error added), by {}; a screening "
        "estimate, "
        "which lifts no limit {}",
        words.empty() ? "" : "; ", told.by.of, told.estimate, told.at_most,
        measured_food ? "the readings of the food" : "the readings of the air, not of the food", cite(told.by.cited));
  }
  return words;
}

CountedWarm counted_warm(std::span<const Watch> watches, Instant from, Instant to, const WarmTotal& row, Span longest_step) {
  std::vector<Instant> edges{from, to};
  std::vector<std::vector<Says>> of_food, of_air;
  for (const Watch& watch : watches) {
    series::require_sensible(watch.error, longest_step);
    auto& all = watch.food ? of_food : of_air;
    all.push_back(said_by(watch, from, to, row, longest_step));
    for (const Says& says : all.back()) {
      for (const Instant edge : {says.from, says.to}) {
        if (edge > from && edge < to) edges.push_back(edge);
      }
    }
  }
  std::sort(edges.begin(), edges.end());
  edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
  const auto told = [](const std::vector<std::vector<Says>>& all, Instant begin) {
    Told best = Told::nothing;
    for (const auto& says : all) {
      const auto after = std::upper_bound(says.begin(), says.end(), begin, [](Instant at, const Says& s) { return at < s.to; });
      if (after != says.end() && after->from <= begin) best = std::max(best, after->told);
    }
    return best;
  };
  CountedWarm counted;
  for (std::size_t i = 1; i < edges.size(); ++i) {
    Told says = told(of_food, edges[i - 1]);
    if (says == Told::nothing) says = told(of_air, edges[i - 1]);
    if (says == Told::warm) counted.warm += edges[i] - edges[i - 1];
    if (says == Told::nothing) counted.unread += edges[i] - edges[i - 1];
  }
  return counted;
}

}  // namespace tierproof
