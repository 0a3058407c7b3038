#include "tierproof/sums/heat.h"

#include <algorithm>
#include <stdexcept>

#include "heat_rate.h"
#include "series.h"

namespace tierproof {
namespace {

using series::Point;

/// The rate of a temperature: minutes at the reference for each minute.
class Rate {
 public:
  explicit Rate(const HeatTerms& terms) : reference_{terms.reference} {
    series::require_sensible(terms.error, terms.longest_step);
    if (terms.z <= TemperatureSpan{}) throw std::invalid_argument{"z must be above 0"};
    if (terms.ceiling < terms.floor) throw std::invalid_argument{"the ceiling must not be under the floor"};
    rate_ = {terms.z.to_kelvins(), above(terms.floor), above(terms.ceiling)};
  }
  double at(Temperature t) const { return rate_.at(above(t)); }
  /// Mean rate along the straight line between two temperatures.
  double mean(Temperature one, Temperature other) const { return rate_.mean(above(one), above(other)); }

 private:
  double above(Temperature t) const { return (t - reference_).to_kelvins(); }

  Temperature reference_;
  HeatRate rate_;
};

}  // namespace

Span longest_unread(std::span<const Instant> read_at, Instant from, Instant to) {
  Span longest{};
  Instant last = from;
  for (auto at = std::lower_bound(read_at.begin(), read_at.end(), from); at != read_at.end() && *at <= to; ++at) {
    longest = std::max(longest, *at - last);
    last = *at;
  }
  return std::max(longest, to - last);
}

std::vector<Gap> gaps_in(std::span<const Reading> series, Instant from, Instant to, Span longest_step) {
  if (to < from) throw std::invalid_argument{"a stretch of time must not end before it begins"};
  series::require_sensible({}, longest_step);
  return series::gaps_between(series::in_order(series), from, to, longest_step);
}

DemonstratedTime demonstrated_time(std::span<const Reading> series, const HeatTerms& terms) {
  const Rate rate{terms};
  const auto points = series::in_order(series);
  double lower = 0, estimate = 0, trapezoid = 0, upper = 0;  // milliseconds at the reference: whole ones stay exact
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Point& a = points[i - 1];
    const Point& b = points[i];
    if (!series::joined(a, b, terms.longest_step)) continue;
    const auto step = static_cast<double>((b.at - a.at).count());
    const double least = rate.at(std::min(a.t, b.t) - terms.error);
    const double most = rate.at(std::max(a.t, b.t) + terms.error);
    lower += step * least;
    estimate += step * std::clamp(rate.mean(a.t, b.t), least, most);
    trapezoid += step * (rate.at(a.t) + rate.at(b.t)) / 2.0;
    upper += step * most;
  }
  const auto minutes = [](double milliseconds) { return Minutes{milliseconds / 60'000.0}; };
  return {minutes(lower), minutes(estimate), minutes(trapezoid), minutes(upper), series::gaps_of(points, terms.longest_step)};
}

std::vector<ShownSoFar> demonstrated_so_far(std::span<const Reading> series, const HeatTerms& terms) {
  const Rate rate{terms};
  const auto points = series::in_order(series);
  std::vector<ShownSoFar> shown;
  shown.reserve(points.size());
  double lower = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (i > 0 && series::joined(points[i - 1], points[i], terms.longest_step)) {
      const auto step = static_cast<double>((points[i].at - points[i - 1].at).count());
      lower += step * rate.at(std::min(points[i - 1].t, points[i].t) - terms.error);
    }
    shown.push_back({points[i].at, Minutes{lower / 60'000.0}});
  }
  return shown;
}

std::vector<ShownSoFar> held_so_far(std::span<const Reading> series, Temperature at, TemperatureSpan error, Span longest_step) {
  series::require_sensible(error, longest_step);
  const auto points = series::in_order(series);
  std::vector<ShownSoFar> shown;
  shown.reserve(points.size());
  for (const Point& point : points) shown.push_back({point.at, Minutes{}});
  for (const auto& [first, last] : series::runs_of(points, longest_step, [&](const Point& p) { return p.t - error >= at; })) {
    for (std::size_t i = first; i <= last; ++i) shown[i].lower = points[i].at - points[first].at;
  }
  return shown;
}

Extremes extremes_in(std::span<const Reading> series, Instant from, Instant to) {
  Extremes found;
  for (const Point& point : series::in_order(series)) {
    if (point.mark != series::Mark::reading || point.at < from || point.at > to) continue;
    if (!found.coldest || point.t < *found.coldest->temperature) found.coldest = Reading{point.at, point.t};
    if (!found.warmest || point.t > *found.warmest->temperature) found.warmest = Reading{point.at, point.t};
  }
  return found;
}

HeldTime held_at_or_above(std::span<const Reading> series, Temperature at, TemperatureSpan error, Span longest_step) {
  series::require_sensible(error, longest_step);
  const auto points = series::in_order(series);
  HeldTime held;
  held.gaps = series::gaps_of(points, longest_step);
  for (const Point& p : points) {
    if (p.mark == series::Mark::reading) held.hottest = std::max(held.hottest.value_or(p.t), p.t);
  }
  for (const auto& [first, last] : series::runs_of(points, longest_step, [&](const Point& p) { return p.t - error >= at; })) {
    held.reached = true;
    held.minimum = std::max(held.minimum, points[last].at - points[first].at);
  }
  for (const auto& [first, last] : series::runs_of(points, longest_step, [&](const Point& p) { return p.t >= at; })) {
    auto length = static_cast<double>((points[last].at - points[first].at).count());
    if (series::joined_before(points, first, longest_step)) {
      const Point& below = points[first - 1];
      length += static_cast<double>((points[first].at - below.at).count()) - series::crossing(below, points[first], at);
    }
    if (series::joined_after(points, last, longest_step)) length += series::crossing(points[last], points[last + 1], at);
    held.estimate = std::max(held.estimate, Minutes{length / 60'000.0});
  }
  for (const auto& [first, last] : series::runs_of(points, longest_step, [&](const Point& p) { return p.t + error >= at; })) {
    held.may_reach = true;
    const bool begins = series::joined_before(points, first, longest_step);
    const bool ends = series::joined_after(points, last, longest_step);
    held.open = held.open || !begins || !ends;
    held.maximum = std::max(held.maximum, points[ends ? last + 1 : last].at - points[begins ? first - 1 : first].at);
  }
  return held;
}

}  // namespace tierproof
