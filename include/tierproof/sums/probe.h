#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/terms.h"
#include "tierproof/units/finding.h"
#include "tierproof/units/temperature.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// A thermometer compared in melting ice or boiling water.
struct ProbeCheck {
  Instant at{};
  std::string method;  ///< `ice`, `boiling`
  Temperature read;
  Temperature expected;  ///< 0 °C in ice; the boiling point at the kitchen's pressure
};

/// Whether a check is within the band of `terms`, at its edge included.
bool is_good(const ProbeCheck& check, const ProbeTerm& terms);

/// Whether readings at `at` can be trusted, and why not.
///
/// Good needs a good check before `at` (or at it), no failed check since, the check not older than `days_between`, and a next check
/// after `at`, if there is one, that is good too: a failed check makes every reading since the last good one doubtful.
/// A failed check stands until the same method is good again: good in boiling water does not mend failed in ice. Age is counted in
/// days of the calendar at `offset`: with 7 days between, a check on a Monday is good through the next Monday. Of the day of the
/// next check the first check of each method counts, so that failed in boiling water right after good in ice is not passed over.
/// @param checks  of this thermometer, in any order
struct Trust {
  bool good = false;
  std::string words;  ///< `checked in ice on 2 May 2026, read 0.2 °C`, or the reason for doubt
};
Trust trust_at(Instant at, std::span<const ProbeCheck> checks, const ProbeTerm& terms, Offset offset);
/// The same for a stretch: every check from the last before it to the first after it counts, and none may be overdue within it.
/// @throws std::invalid_argument for a stretch that ends before it begins
Trust trust_between(Instant from, Instant to, std::span<const ProbeCheck> checks, const ProbeTerm& terms, Offset offset);

/// A thermometer that vouched for something, by its name in words.
struct ProbeTrust {
  std::string name;
  Trust trust;
};
/// Judges the thermometers that vouch for `subject` (control `thermometer`): `shown` only if there is one and every one can be
/// trusted, else `not shown` (needs a person). `paths` has a line for each.
Finding judge_thermometers(const std::string& subject, std::span<const ProbeTrust> used, const ProbeTerm& terms);

/// Saturation of water and steam by IAPWS R7-97 region 4 (273.15..647.096 K, 0.000611213..22.064 MPa).
/// @throws std::invalid_argument outside that range
double saturation_kelvin(double megapascals);
double saturation_megapascals(double kelvin);

/// The boiling point of water at `kilopascals` (IAPWS-IF97 region 4, 50..150 kPa), °C, unrounded.
/// @throws std::invalid_argument outside that range
double boiling_point(double kilopascals);
/// ISA pressure at `metres` of geopotential altitude (−500..5000), kPa.
/// @throws std::invalid_argument outside that range
double isa_pressure(double metres);
/// The geopotential altitude that has `kilopascals` in the ISA, m: `isa_pressure` the other way round.
/// @throws std::invalid_argument outside 50..110 kPa
double isa_altitude(double kilopascals);

/// A target for boiling sugar at sea level, lowered by as much as water boils lower: `target - (Tsat(101.325 kPa) - boils_at)`, °C.
/// Measured with the same thermometer in boiling water it takes that thermometer's error there along; correct for one of the two, never
/// both. A little too high for thick syrups, whose vapour pressure falls faster.
double sugar_target(double target, double boils_at);

/// A reading corrected in a straight line through an ice and a boiling check (°C in, °C out). Only where the owner chose it.
/// @throws std::invalid_argument unless the thermometer read more at the boil than in ice
double two_point_corrected(double reading, double read_in_ice, double read_at_boil, double boils_at);

}  // namespace tierproof
