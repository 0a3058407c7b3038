#include "tierproof/sums/death_rate.h"

#include <cmath>
#include <stdexcept>

#include "fitted_line.h"

namespace tierproof {

double z_from(const DValue& one, const DValue& other) {
  if (!(one.minutes > 0 && other.minutes > 0) || one.minutes == other.minutes)
    throw std::invalid_argument{"a z value needs two different times above 0"};
  return (other.celsius - one.celsius) / std::log10(one.minutes / other.minutes);
}

double d_at(double celsius, const DValue& reference, double z) {
  if (!(z > 0 && reference.minutes > 0)) throw std::invalid_argument{"z and D must be above 0"};
  return reference.minutes * std::pow(10.0, (reference.celsius - celsius) / z);
}

double DeathLine::d_at(double celsius) const { return std::pow(10.0, log10_at_zero - celsius / z); }

DeathLine death_line(std::span<const DValue> measured) {
  std::vector<std::pair<double, double>> points;
  for (const DValue& d : measured) {
    if (!(d.minutes > 0)) throw std::invalid_argument{"D must be above 0"};
    points.emplace_back(d.celsius, std::log10(d.minutes));
  }
  const FittedLine line = fitted_line(points);
  if (!(line.slope < 0)) throw std::invalid_argument{"D must fall as it gets warmer"};
  return {-1 / line.slope, line.at_zero, line.r2};
}

}  // namespace tierproof
