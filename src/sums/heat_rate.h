#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace tierproof {

/// The rate of a temperature, minutes at the reference for each minute: `10^(k / z)` of `k` kelvins above the reference, nothing below
/// `floor`, no more than at `ceiling` (both in kelvins above the reference). @pre z > 0, floor <= ceiling
struct HeatRate {
  double z = 0;
  double floor = -std::numeric_limits<double>::infinity();
  double ceiling = std::numeric_limits<double>::infinity();

  double at(double k) const { return k < floor ? 0.0 : std::pow(10.0, std::min(k, ceiling) / z); }

  /// Mean rate along the straight line between two temperatures.
  double mean(double one, double other) const {
    const double low = std::min(one, other);
    const double high = std::max(one, other);
    if (high < floor) return 0.0;
    if (low == high || low >= ceiling) return at(high);
    const double from = std::max(low, floor);
    const double to = std::min(high, ceiling);
    const double counted = to - from;
    const double steepness = std::numbers::ln10 * counted / z;
    const double along = counted > 0.0 ? at(from) * std::expm1(steepness) / steepness : 0.0;
    return (along * counted + at(to) * (high - to)) / (high - low);
  }
};

}  // namespace tierproof
