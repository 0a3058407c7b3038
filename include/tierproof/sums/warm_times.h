#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/heat.h"

namespace tierproof {

/// One time in which something was, or with the thermometer's error may have been, above a limit. Readings are instants, so each time has
/// three lengths; nothing is known of what lay between two readings.
struct WarmTime {
  Instant from{};             ///< first reading that may be above
  Instant to{};               ///< and the last one
  Span least{};               ///< T − error: from the first to the last reading of each stretch that is above without a doubt
  Minutes estimate{};         ///< T as read, between the crossings of the straight lines
  std::optional<Span> most;   ///< T + error: last reading before to first reading back; nothing while it is open at a gap or an end
  Temperature peak;           ///< as read; `peak` − error and `peak` + error are its lowest and highest
  double least_over = 0;      ///< kelvin minutes over the limit: T − error, ...
  double estimated_over = 0;  ///< ... T as read, ...
  double most_over = 0;       ///< ... T + error; each between the crossings of its straight lines
};

/// The times above `limit` (a reading equal to it is within it) of `from`..`to`, and not further than `longest_step` from it, in time
/// order: each stretch of readings that T + error takes above it, with what T and T − error make of it. Nothing is bridged across
/// `longest_step`. Of readings outside `from`..`to` those beside it still end a step of `most`; nothing else counts them.
/// @throws std::invalid_argument for a negative error or step
std::vector<WarmTime> warm_times(std::span<const Reading> series, Instant from, Instant to, Temperature limit, TemperatureSpan error,
                                 Span longest_step);

/// Whether some reading of it is above `limit` even with the error taken off: one that stands alone has no length, and is above all the
/// same.
bool surely_above(const WarmTime& time, Temperature limit, TemperatureSpan error);

/// Several as one: lengths and areas added up, the highest peak; `most` only if each has one. @pre not empty
WarmTime together(std::span<const WarmTime> times);

/// `for at least 30 min, about 47 min, at most 1 h 15 min`; the estimate to the minute; what is 0 is left out; `for a time that is not
/// known` where nothing is left
std::string bounds_in_words(const WarmTime& time);
/// `1 May 2026, 10:30 to 11:15: above 8 °C for at least 30 min, about 47 min, at most 1 h 15 min; warmest 10.1 °C (9.6 °C to 10.6 °C with
/// the error); over it 56 °C·min, at least 35, at most 82`
/// @param limit  in words
std::string in_words(const WarmTime& time, const std::string& limit, TemperatureSpan error, Offset offset);

/// Growth over one series by one row of the rules.
struct GrowthTold {
  GrowthTerm by;
  double estimate = 0;  ///< log10, of T as read
  double at_most = 0;   ///< log10, of T + error
  bool warns = false;   ///< `at_most` reaches what the row warns from
};
/// What the rows of growth say of readings from `from` to `to`, without a lag and by the straight lines between them; a gap adds nothing.
std::vector<GrowthTold> growth_told(std::span<const Reading> series, Instant from, Instant to, TemperatureSpan error,
                                    std::span<const GrowthTerm> rows, Span longest_step);

/// `warning: Salmonella in shell egg may have grown by 1.2 log in that time (...), by the readings of the food; a screening estimate, which
/// lifts no limit`, of each that warns; empty where none does.
std::string warning_of_growth(std::span<const GrowthTold> all, bool measured_food);

/// One stay in numbers, by one thermometer.
struct StayTold {
  std::string subject;      ///< `batch-4 (buttercream)`
  std::string where;        ///< `cake fridge`
  std::string thermometer;  ///< in words
  bool measured_food = false;
  bool reliable = false;  ///< good checks before and after
  Instant from{};
  Instant to{};
  Offset offset;
  TemperatureSpan error;
  std::optional<Temperature> limit;  ///< that `warm` counts from
  std::string limit_words;
  std::optional<Temperature> coldest, warmest;  ///< as read
  std::vector<WarmTime> warm;
  std::vector<Gap> gaps;
  std::vector<GrowthTold> growth;
};

/// What one thermometer tells of a time, for a sum over the whole life.
struct Watch {
  std::vector<Reading> readings;
  TemperatureSpan error;
  bool reliable = false;  ///< only then its readings may tell that it was cold
  bool food = false;      ///< what it reads is the food: it counts before the air
};
/// How much of a time counts as warm, at the most.
struct CountedWarm {
  Span warm{};    ///< between two readings of which one is in the band of the row with the error, however it was between them
  Span unread{};  ///< that no thermometer vouches for
};
/// How much of `from`..`to` lies, by readings with the error added, above `row.above` and below `row.below`. Of what reads the food, any
/// that says warm counts, then any reliable one that says cold; else the same of what reads the air. The first and the
/// last reading speak for the time up to an end of `from`..`to` that is not further off than `longest_step`.
CountedWarm counted_warm(std::span<const Watch> watches, Instant from, Instant to, const WarmTotal& row, Span longest_step);

}  // namespace tierproof
