#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/sums/heat.h"

namespace tierproof::series {

/// What stands at one instant of a series.
enum class Mark {
  reading,  ///< a temperature
  fault,    ///< the thermometer reported none
  disputed  ///< two readings of this instant differ
};

struct Point {
  Instant at{};
  Temperature t;  ///< means something only for `Mark::reading`
  Mark mark = Mark::reading;
};

/// The series in order of time, one point an instant. The same reading twice is one; different ones of one instant (a fault
/// beside a number is one of these) are disputed, and no number is taken from either.
std::vector<Point> in_order(std::span<const Reading> readings);

/// Whether `b`, the point after `a`, carries on from it: two readings, not further apart than `longest_step`.
bool joined(const Point& a, const Point& b, Span longest_step);

/// As `gaps_in`, of points in order.
std::vector<Gap> gaps_between(std::span<const Point> points, Instant from, Instant to, Span longest_step);
/// From the first point to the last; none of an empty series.
std::vector<Gap> gaps_of(std::span<const Point> points, Span longest_step);

/// The stretches `[first, last]` of joined points, by index, that are readings and satisfy `holds`.
template <class Holds>
std::vector<std::pair<std::size_t, std::size_t>> runs_of(std::span<const Point> points, Span longest_step, Holds holds) {
  std::vector<std::pair<std::size_t, std::size_t>> runs;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (points[i].mark != Mark::reading || !holds(points[i])) continue;
    if (!runs.empty() && runs.back().second + 1 == i && joined(points[i - 1], points[i], longest_step)) {
      runs.back().second = i;
    } else {
      runs.emplace_back(i, i);
    }
  }
  return runs;
}

/// Whether the point before (after) `index` is joined to it.
bool joined_before(std::span<const Point> points, std::size_t index, Span longest_step);
bool joined_after(std::span<const Point> points, std::size_t index, Span longest_step);

/// Milliseconds after `a` at which the straight line from `a` to `b` meets `limit`. @pre the two lie on different sides of it
double crossing(const Point& a, const Point& b, Temperature limit);

/// The points of `from`..`to`, with one on the straight line at an end that lies between two joined points.
std::vector<Point> clipped(std::span<const Point> points, Instant from, Instant to, Span longest_step);

/// @throws std::invalid_argument if `error` is negative or `longest_step` is
void require_sensible(TemperatureSpan error, Span longest_step);

// ---- words ------------------------------------------------------------------------------------------------------------------

/// `70 °C`, `62.78 °C`: to the hundredth, no trailing zeros.
std::string in_celsius(Temperature t);
/// `0.5 °C`
std::string in_celsius(TemperatureSpan span);
/// `12 %`
std::string in_percent(const Share& share);
/// `no reading for 45 min, from 1 May 2026, 10:15 to 11:00`; at most three gaps, the rest as a number.
std::string tell(std::span<const Gap> gaps, Offset offset);
/// Without a clock: the reason of the first gap, and how many more there are.
std::string tell(std::span<const Gap> gaps);

}  // namespace tierproof::series
