#pragma once

#include <optional>
#include <span>
#include <utility>

#include "tierproof/sums/heat.h"

namespace tierproof {

/// Newton's cooling, `T = Ta + (T0 - Ta) exp(-k t)`. An estimate to warn by, never to judge by: real cakes and custards are not lumped,
/// and their cores lag.
struct CoolingCurve {
  double around_c = 0;  ///< Ta, of the air or water around it
  double start_c = 0;   ///< T0, at minute 0
  double k_per_minute = 0;
  /// When it reaches `celsius`; nothing where it never does, since that is at or beyond what is around it, or before minute 0.
  std::optional<Minutes> reaches(double celsius) const;
};

/// The curve by least squares on `ln(T - Ta)`, through two points exactly. @param readings  minute and °C
/// @throws std::invalid_argument for fewer than two times, or a reading not above `around_c`
CoolingCurve cooling_curve(std::span<const std::pair<double, double>> readings, double around_c);

}  // namespace tierproof
