#pragma once

#include <stdexcept>
#include <utility>
#include <vector>

namespace tierproof {

struct FittedLine {
  double slope = 0;
  double at_zero = 0;
  double r2 = 0;  ///< share of the spread that the line explains
};

/// The straight line by least squares. @throws std::invalid_argument for fewer than two different x
inline FittedLine fitted_line(const std::vector<std::pair<double, double>>& points) {
  const auto n = static_cast<double>(points.size());
  double x_mean = 0, y_mean = 0;
  for (const auto& [x, y] : points) x_mean += x / n, y_mean += y / n;
  double xx = 0, xy = 0, yy = 0;
  for (const auto& [x, y] : points) {
    xx += (x - x_mean) * (x - x_mean);
    xy += (x - x_mean) * (y - y_mean);
    yy += (y - y_mean) * (y - y_mean);
  }
  if (!(xx > 0)) throw std::invalid_argument{"a line needs two different points"};
  const double slope = xy / xx;
  return {slope, y_mean - slope * x_mean, yy > 0 ? xy * xy / (xx * yy) : 1};
}

}  // namespace tierproof
