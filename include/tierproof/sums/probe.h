#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/temperature_terms.h"
#include "tierproof/units/finding.h"
#include "tierproof/units/temperature.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// A thermometer compared in melting ice or boiling water.
struct ProbeCheck {
  Instant at{};
  std::string method;  ///< `ice`, `boiling`
  Temperature read;
  Temperature expected;          ///< 0 °C in ice; the boiling point at the pressure of the moment or the place
  Scale scale = Scale::celsius;  ///< that it shows; what it read is told in it
  bool corrects = false;         ///< readings from here on are corrected by this check and that of the other method before it
};

/// How far off a reading may be: the thermometer's accuracy, and half of the smallest step that it shows, since it rounds to it. Half a
/// step is rounded up to the next 1/900 K.
TemperatureSpan reading_error(TemperatureSpan accuracy, TemperatureSpan step);

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

/// The readings that a failed check makes doubtful: from `from` on, and before `until`.
struct DoubtedReadings {
  Instant from = Instant::min();   ///< the last good check before; `Instant::min()` where there is none
  Instant until = Instant::max();  ///< the next good check of the same method; `Instant::max()` where it has not been good again
};
/// What the failed check `checks[failed]` makes doubtful, as `trust_between` goes by it. A check of another method on the same day vouches
/// for nothing before it, since the two belong to one look at the thermometer.
/// @pre `checks[failed]` is not good
DoubtedReadings doubted_by(std::size_t failed, std::span<const ProbeCheck> checks, const ProbeTerm& terms, Offset offset);

/// What a thermometer's checks come to at one moment.
struct CheckStanding {
  enum class Is {
    good,     ///< and the next one is due on a later day
    due,      ///< good, and the next one is due today
    overdue,  ///< what it reads now counts for nothing
    failed,   ///< and not good again
    never     ///< it was never checked
  };
  Is is = Is::never;
  std::optional<Instant> last_good;
  std::optional<Date> due;  ///< the last day on which it is still relied on
  std::string words;        ///< `checked in ice on 2 May 2026, read 0.2 °C; next due by 9 May 2026`
};
CheckStanding standing_at(Instant at, std::span<const ProbeCheck> checks, const ProbeTerm& terms, Offset offset);

/// `read 31.8 °F (-0.11 °C) in ice, should be 0 °C ± 1 °C`
std::string check_in_words(const ProbeCheck& check, const ProbeTerm& terms);

/// How far one thermometer was off over several checks by one method.
struct Drift {
  std::string method;
  std::size_t checks = 0;
  TemperatureSpan first, last;  ///< read less expected
  TemperatureSpan most;         ///< the farthest from none, of equals the first
};
/// Of `checks` of one thermometer in time order, a method each in the order of their first checks.
std::vector<Drift> drift_of(std::span<const ProbeCheck> checks);

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

/// What a barometer would show reduced to the sea by the ISA, which reads `kilopascals` at `metres`, kPa.
/// @throws std::invalid_argument outside −500..5000 m
double sea_level_pressure(double kilopascals, double metres);
/// Whether `kilopascals` can be the station pressure at `metres`: reduced to the sea it lies in 94..104 kPa. Weather moves it between about
/// 98 and 104 kPa; a deep storm may go lower, but a pressure that was reduced already is too high (from memory; a choice of this project).
bool is_station_pressure(double kilopascals, double metres);

/// A target for boiling sugar at sea level, lowered by as much as water boils lower: `target - (Tsat(101.325 kPa) - boils_at)`, °C.
/// Measured with the same thermometer in boiling water it takes that thermometer's error there along; correct for one of the two, never
/// both. A little too high for thick syrups, whose vapour pressure falls faster.
double sugar_target(double target, double boils_at);

/// A reading corrected in a straight line through an ice and a boiling check (°C in, °C out). Only where the owner chose it.
/// @throws std::invalid_argument unless the thermometer read more at the boil than in ice
double two_point_corrected(double reading, double read_in_ice, double read_at_boil, double boils_at);

/// The two checks that a correction rests on.
struct TwoPoint {
  Instant from{};                  ///< the second of the two: the correction holds from here on
  Instant until = Instant::max();  ///< the next check of this thermometer, whatever it showed
  std::optional<ProbeCheck> ice;
  std::optional<ProbeCheck> boiling;
  /// Whether there are both, made on one day, and more was read at the boil. Whether they were good is for `trust_between`: a correction
  /// makes no failed thermometer a good one.
  bool holds = false;
};
/// Every correction that was chosen, in time order. A correction whose other check is missing does not hold.
std::vector<TwoPoint> corrections_of(std::span<const ProbeCheck> checks, Offset offset);
/// The one of `corrections` that holds at `at`, or nothing.
const TwoPoint* covering(std::span<const TwoPoint> corrections, Instant at);
/// `read` corrected by `points`, to the nearest 1/900 K. @pre `points.holds`
Temperature corrected(Temperature read, const TwoPoint& points);

}  // namespace tierproof
