#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/temperature_terms.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// One temperature at one time. A fault is a fault, never a number.
///
/// Every sum below takes a series in any order. The same reading given twice is one; two different readings of one instant (a
/// fault beside a number is one of these) are disputed: no number is taken from either, as from a fault, and the span is a gap.
/// No sum bridges a gap, and none sees a dip or a peak between two readings: that is what the longest step allowed is for. So a
/// log from which an awkward reading was left out can read better than the whole one; a reading that is taken back must therefore
/// stay in the series as a fault, never vanish from it.
struct Reading {
  Instant at{};
  std::optional<Temperature> temperature;  ///< nothing: the probe reported a fault, or the span is disputed
};

/// A stretch that no reading vouches for.
struct Gap {
  Instant from{};
  Instant to{};
  std::string why;  ///< `no reading for 45 min`, `thermometer fault`, `two different readings of one time`
};

/// The stretches of `from`..`to` that no reading vouches for, in time order: a step between two readings longer than
/// `longest_step`; a fault or dispute, from the reading before it to the reading after it whatever the step; and at either end
/// the time to the first and from the last reading, when that is longer than `longest_step` (a reading outside `from`..`to`
/// counts as the other end of its step). Without any reading the whole of it is one gap, however short.
/// @pre from <= to  @throws std::invalid_argument otherwise, and for a negative `longest_step`
std::vector<Gap> gaps_in(std::span<const Reading> series, Instant from, Instant to, Span longest_step);

/// The longest time of `from`..`to` in which nothing was read. @param read_at  in time order @pre from <= to
Span longest_unread(std::span<const Instant> read_at, Instant from, Instant to);

using Minutes = std::chrono::duration<double, std::ratio<60>>;

/// What a series demonstrates, in minutes at `terms.reference`.
struct DemonstratedTime {
  Minutes lower{};      ///< colder end of each step, T less the error
  Minutes estimate{};   ///< exact integral of the straight line between readings, T itself
  Minutes trapezoid{};  ///< mean of the rates at both ends; over-credits between floor and ceiling, never judged on
  Minutes upper{};      ///< warmer end of each step, T plus the error
  std::vector<Gap> gaps;
};

/// Adds up `10^((T - reference) / z)` over time. The lower bound takes the colder end of each step and T less the probe's error;
/// the upper the warmer end and T plus it; the estimate T itself, linear between readings. Above `terms.ceiling` T counts as the
/// ceiling, below `terms.floor` nothing is added (at it, it is), and nothing across a step over `terms.longest_step`: a gap is
/// never bridged.
/// @return        minutes, never negative, unrounded; lower <= estimate <= upper; the gaps that were left out are listed
/// @throws std::invalid_argument for terms that mean nothing: z not above 0, ceiling under floor, a negative error or step
DemonstratedTime demonstrated_time(std::span<const Reading> series, const HeatTerms& terms);

/// What a series had shown by one of its instants.
struct ShownSoFar {
  Instant at{};
  Minutes lower{};
  friend bool operator==(const ShownSoFar&, const ShownSoFar&) = default;
};

/// How the lower bound of `demonstrated_time` builds up: at each instant of the series, in time order, the `lower` of the readings up to
/// and at it, to the bit. Never falls; stands still across a gap and at a fault.
/// @throws std::invalid_argument as `demonstrated_time`
std::vector<ShownSoFar> demonstrated_so_far(std::span<const Reading> series, const HeatTerms& terms);

/// The longest unbroken time at or above `at`: minimum counts from the first reading at or above it (less the error) to the last;
/// estimate interpolates the crossings on T itself; maximum reaches to the readings before and after (T plus the error).
/// One reading at or above it holds for 0 s, so look at `reached` before comparing with a hold of 0 s.
struct HeldTime {
  Span minimum{};
  Minutes estimate{};
  Span maximum{};          ///< unbounded at an open end: then `open` is true
  bool open = false;       ///< the series starts or ends at or above the limit, or a gap adjoins
  bool reached = false;    ///< some reading, less the error, is at or above the limit
  bool may_reach = false;  ///< some reading, with the error added, is at or above the limit
  std::optional<Temperature> hottest;
  std::vector<Gap> gaps;
};
/// @throws std::invalid_argument for a negative error or step
HeldTime held_at_or_above(std::span<const Reading> series, Temperature at, TemperatureSpan error, Span longest_step);

/// How the unbroken time at or above `at` builds up: at each instant of the series, in time order, how long the readings up to it have
/// been at or above it less the error without a break; 0 where the reading is not, at a fault and at the first reading after a gap. The
/// most of it up to an instant is the `minimum` of `held_at_or_above` of the readings up to and at that instant.
/// @throws std::invalid_argument for a negative error or step
std::vector<ShownSoFar> held_so_far(std::span<const Reading> series, Temperature at, TemperatureSpan error, Span longest_step);

/// The coldest and the warmest reading of `series` in `from`..`to` (the first of equals), both ends counted; nothing where there is
/// none. A disputed instant gives none.
struct Extremes {
  std::optional<Reading> coldest;
  std::optional<Reading> warmest;
};
Extremes extremes_in(std::span<const Reading> series, Instant from, Instant to);

/// A published reference that the kitchen's plan adopts for a recipe.
struct AdoptedReference {
  HeatReference row;
  std::string by;  ///< who and when, in words
};

/// What is known of an egg step beside its temperatures.
struct EggStep {
  std::string subject;  ///< `batch-4`
  /// `none`, `baked through` (or `baked`), `pasteurised`, `dried pasteurised`, `raw, heated here`, `raw, not heated`
  std::string egg;
  std::optional<Share> sugar_of_mix;  ///< sugar's share of the heated mix by mass; nothing: not known
  std::optional<HeatRow> validation;  ///< a validation on file for this recipe: its temperature and hold
  std::string validation_by;          ///< who, when, where it is kept; without it the validation supports nothing
  std::string pack;                   ///< the pasteurised pack, its code and date, in words; without it nothing is shown
  bool pack_in_date = true;
  std::string food;  ///< only the heat rows of this food count; empty: every row of the terms does
  std::optional<AdoptedReference> adopted{};
  std::optional<Share> water_activity{};  ///< of the mix that is heated, as it was measured for this recipe; nothing: not measured
  bool only_egg_and_sugar = false;        ///< nothing else is known to be in the mix
};

/// Judges one egg step (control `egg-heat`) by the rows in force.
///
/// `shown` only if a row's unbroken minimum is met on the reading less the error, or a row that grants equivalence is met by the
/// lower bound, or a validation on file for this mix is met, or the egg is pasteurised, its pack recorded and in date.
/// A raw mix with more sugar than `egg_mix` allows (the strictest of its rows; without one, with any sugar) is `outside the model`
/// unless a validation is on file, or the plan adopts a reference and the mix lies inside its range (by its measured water activity, or
/// else by its sugar where nothing but egg and sugar is in it): a table for plain egg says nothing of it. What is shown against a reference
/// names its yardstick and that it is not law. With its sugar not known it is never `shown`.
/// `not met` only if every row that applies is missed even by the favourable bound, over a record without a gap or an open end;
/// egg that was not heated, and a pack past its date, are `not met`. Without a `heat step` row in `gaps` no step between readings
/// counts. `reliable` false (no good thermometer check before, or a failed one after) never supports `shown`.
///
/// Egg `none` is `shown` with a sentence that says so. Egg baked through is a person's check in the oven, not a step with a
/// figure: nothing is returned unless core temperatures were recorded and show or miss the limit.
/// Stops: `shown` none; `not met` no override; the others need a person.
std::optional<Finding> judge_egg_step(const EggStep& step, std::span<const Reading> series, TemperatureSpan error, bool reliable,
                                      const std::string& evidence, const TemperatureTerms& terms);

/// How the row that `judge_egg_step` speaks of was reached, to be drawn.
struct HeatBuildUp {
  Temperature at;     ///< to be held, or the reference that minutes are worth
  bool held = true;   ///< unbroken time at or above `at`; false: minutes worth as much at `at`
  Span wanted{};      ///< of it; 0: `at` need only be reached
  std::string limit;  ///< `70 °C for 2 min, unbroken`, as the finding tells it
  std::string told;   ///< `held at or above 70 °C for 2 min 10 s (needs 2 min), ...`, as the finding tells it
  std::vector<ShownSoFar> shown;
  std::string at_words{};    ///< `at` as the row tells it, `155 °F (68.33 °C)`
  std::string read_words{};  ///< what a reading by this thermometer has to be to count as `at`, `70.6 °C`
};
/// Of the row that the finding of `judge_egg_step` on the same arguments tells. Nothing where no row of heating can vouch for the step: egg
/// that is not heated here, a mix that is outside the model, no row, no temperature.
/// @throws std::invalid_argument for a negative error
std::optional<HeatBuildUp> heat_build_up(const EggStep& step, std::span<const Reading> series, TemperatureSpan error,
                                         const TemperatureTerms& terms);

/// A part without raw egg that the recipe says is to be cooked through: caramel, custard of pasteurised egg.
struct CoreStep {
  std::string subject;  ///< `batch-4 (caramel)`
  std::string food;     ///< whose heat rows count; empty: every row of the terms does
};

/// Judges the core of such a part (control `core-heat`) by the rows in force, as `judge_egg_step` does: `shown` only by a row met on the
/// readings less the error, or by a row that grants equivalence; `not met` only where every row is missed even by the favourable bound.
/// Without a row, a temperature or a reliable thermometer it is `not shown`. Stops: `shown` none; the others need a person.
/// @throws std::invalid_argument for a negative error
Finding judge_core_step(const CoreStep& step, std::span<const Reading> series, TemperatureSpan error, bool reliable,
                        const std::string& evidence, const TemperatureTerms& terms);
/// How the row that `judge_core_step` speaks of was reached; nothing where there is no row or no temperature.
std::optional<HeatBuildUp> core_build_up(const CoreStep& step, std::span<const Reading> series, TemperatureSpan error,
                                         const TemperatureTerms& terms);

/// Judges a boiled syrup (control `syrup-heat`): `shown` if some reading less the error is at or above `target`, else
/// `not shown`. It vouches for the syrup alone, and its message says that it says nothing of the egg.
Finding judge_syrup(const std::string& subject, std::span<const Reading> series, Temperature target, TemperatureSpan error, bool reliable,
                    const std::string& evidence);

}  // namespace tierproof
