#pragma once

namespace tierproof::molar {

// Constants of chemistry (CODATA 2018 exact; molar masses in g/mol from the atomic weights, from memory).
inline constexpr double gas_constant = 8.314462618;  // J/(mol K)
inline constexpr double kelvin_of_zero = 273.15;
inline constexpr double water = 18.01528;
inline constexpr double sucrose = 342.2965;

/// Mole fraction of sucrose in water of `share` sucrose by mass.
constexpr double fraction_of_sucrose(double share) {
  const double of_sugar = share / sucrose;
  return of_sugar / (of_sugar + (1 - share) / water);
}

}  // namespace tierproof::molar
