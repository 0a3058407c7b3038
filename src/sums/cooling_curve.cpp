#include "tierproof/sums/cooling_curve.h"

#include <cmath>
#include <stdexcept>
#include <vector>

#include "fitted_line.h"

namespace tierproof {

std::optional<Minutes> CoolingCurve::reaches(double celsius) const {
  if (!(k_per_minute > 0) || celsius <= around_c || celsius > start_c) return std::nullopt;
  return Minutes{std::log((start_c - around_c) / (celsius - around_c)) / k_per_minute};
}

CoolingCurve cooling_curve(std::span<const std::pair<double, double>> readings, double around_c) {
  std::vector<std::pair<double, double>> points;
  for (const auto& [minute, celsius] : readings) {
    if (!(celsius > around_c)) throw std::invalid_argument{"only what is warmer than its surroundings cools"};
    points.emplace_back(minute, std::log(celsius - around_c));
  }
  const FittedLine line = fitted_line(points);
  return {around_c, around_c + std::exp(line.at_zero), -line.slope};
}

}  // namespace tierproof
