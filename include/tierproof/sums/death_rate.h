#pragma once

#include <span>

namespace tierproof {

/// A measured D value: how many minutes at a temperature (°C) leave a tenth alive.
struct DValue {
  double celsius = 0;
  double minutes = 0;
};

/// z from two D values, or from two times that are worth the same: `(T2 - T1) / log10(D1 / D2)`, in the degrees of the two.
/// @throws std::invalid_argument unless both times are above 0 and differ
double z_from(const DValue& one, const DValue& other);

/// D at a temperature: `D(Tref) 10^((Tref - T) / z)`. Only within the temperatures that the reference was measured at.
/// @throws std::invalid_argument unless z and D are above 0
double d_at(double celsius, const DValue& reference, double z);

/// A straight line through log10 D over temperature, by least squares.
struct DeathLine {
  double z = 0;
  double log10_at_zero = 0;  ///< log10 D of the line at 0 °C
  double r2 = 0;
  double d_at(double celsius) const;
};
/// @throws std::invalid_argument for fewer than two temperatures, a D not above 0, or a line that does not fall
DeathLine death_line(std::span<const DValue> measured);

}  // namespace tierproof
