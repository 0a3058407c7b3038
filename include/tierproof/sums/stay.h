#pragma once

#include "tierproof/sums/heat.h"
#include "tierproof/sums/warm_times.h"

namespace tierproof {

/// One time above a limit: three durations, since readings are instants.
struct Excursion {
  Instant first_above{};
  Instant last_above{};
  Span minimum{};               ///< last reading above − first reading above
  Minutes estimate{};           ///< between interpolated crossings; to the reading itself at an open end
  std::optional<Span> maximum;  ///< first reading back − last reading before; nothing while it is open at an end
  Temperature peak;
  double area_kelvin_minutes = 0;  ///< over the limit, from the interpolated crossings
};

/// The excursions above `limit` (a reading equal to it is within it), in time order. Nothing is bridged across `longest_step`:
/// an excursion that meets a gap, a fault or an end of the series is open there, and another begins after it.
/// @throws std::invalid_argument for a negative step
std::vector<Excursion> excursions_above(std::span<const Reading> series, Temperature limit, Span longest_step);

/// A chilled hold: what was kept, where, from when to when.
struct ChilledStay {
  std::string subject;  ///< `cake-1`
  std::string where;    ///< `cake fridge`
  Instant from{};
  Instant to{};
  bool measured_food = false;  ///< false: the thermometer hangs in the air
  Offset offset;               ///< for clock times in the message
  /// What it was kept for, in the words of a `WarmAllowance`'s `use` (`service or display`). An allowance helps towards `shown` only
  /// a stay of its own use. Empty: not known; then no allowance helps towards `shown`, and each holds back `not met`.
  std::string use;
  bool allowance_spent = false;  ///< the food used the allowance in an earlier stay: one that applies `once` no longer does
  bool perhaps_spent = false;    ///< it may have, as nobody recorded what for it was out: one that applies `once` does not help to `shown`
};

/// Judges one chilled stay (control `cold-hold`) against the strictest limit of the law, or of advice (and says so) where the law
/// gives no temperature.
///
/// `shown`: readings cover the whole stay without a gap and T + error never exceeds the limit, or the maximum of all time above it
/// keeps an allowance of the law strictly. `not met`: T − error exceeds the limit (measured in food, or in air where the limit is
/// on air), beyond any allowance, on the minimum. Otherwise `not shown`, naming the gaps. Air is not food, and the message says
/// which was measured: a limit on food is never *not met* on air readings alone.
/// The law's allowance applies once and to one stretch; two stretches never add up to one allowance, nor share one.
/// The readings nearest before and after the stay count as the ends of its first and last step. `reliable` false never supports
/// `shown`; it does not lift `not met`.
/// Each time that it was or may have been too warm stands in `paths`, with its bounds. What a row of growth warns of is told at the end of
/// the evidence; it changes no verdict. Stops: `shown` none; `not met` of a limit of the law no override; the others need a person.
/// @param series  of the thermometer that vouches for the stay; may reach beyond it
/// @throws std::invalid_argument for a negative error, or a stay that ends before it begins
Finding judge_chilled_stay(const ChilledStay& stay, std::span<const Reading> series, TemperatureSpan error, bool reliable,
                           const std::string& evidence, const TemperatureTerms& terms);

/// The same stay in numbers, against the limit that is looked at first. `thermometer` is left empty.
StayTold stay_told(const ChilledStay& stay, std::span<const Reading> series, TemperatureSpan error, bool reliable,
                   const TemperatureTerms& terms);

/// What a thermometer in the food itself says of a stay, and whether some reading of it plus its error is above the limit.
struct FoodFinding {
  Finding finding;
  bool too_warm = false;
};
/// Whether a reading within the stay plus the error is above the strictest limit of `terms`.
bool found_too_warm(const ChilledStay& stay, std::span<const Reading> series, TemperatureSpan error, const TemperatureTerms& terms);

/// The finding that stands for one stay which several thermometers watched. Food found too warm decides, the gravest first. Else
/// food that is *shown* for the whole stay; else the gravest of those that read the air; else the food's. Readings of the food
/// that only leave gaps take nothing away from what the air shows.
/// @pre one of them is not empty
Finding gravest_of_stay(std::span<const Finding> of_air, std::span<const FoodFinding> of_food);

/// Share of `from`..`to` that `gaps_in` leaves, 0..1; of no time at all 1 with a reading that vouches for it, 0 without.
double coverage(std::span<const Reading> series, Instant from, Instant to, Span longest_step);

}  // namespace tierproof
