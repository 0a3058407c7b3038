#pragma once

#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/heat.h"

namespace tierproof::heat {

/// One row that may vouch for a step, and what the record says of it.
struct Measure {
  std::string limit;   ///< `70 °C for 2 min, unbroken`
  std::string told;    ///< `held at or above 70 °C for 2 min 10 s (needs 2 min)`
  std::string result;  ///< `2 min 10 s at or above 70 °C`
  std::string source;
  std::string food;  ///< that the row speaks of
  std::string at;    ///< its temperature as it is told
  bool met = false;
  bool of_one_food = false;          ///< met, but for one food of several that it may be
  bool missed = false;               ///< even by the favourable bound
  double share = 0;                  ///< how much of the row is demonstrated: 1 or more is all of it
  bool reached = false;              ///< it was as hot as the row begins to count
  Temperature needs;                 ///< its temperature, for telling the nearest row
  Span wanted{};                     ///< at it
  std::optional<HeatTerms> worth{};  ///< of a row that grants an equivalent; nothing: the time must be unbroken
};

Measure measure(const HeatRow& row, std::span<const Reading> readings, TemperatureSpan error, Span longest_step);
Measure measure(const HeatEquivalence& row, std::span<const Reading> readings, TemperatureSpan error);
Measure measure(const AdoptedReference& adopted, std::span<const Reading> readings, TemperatureSpan error);

/// Every row and equivalence for `food`; for an unnamed one all of them, where a row of one food vouches only while every other food has
/// one that is met too.
std::vector<Measure> measures_of(const std::string& food, std::span<const Reading> readings, TemperatureSpan error,
                                 const TemperatureTerms& terms);

/// The measure that a finding speaks of: the first that is met; else the one most nearly demonstrated; else, of those whose temperature
/// was reached, the one that is held shortest; else the one that needs least heat. @pre not empty
const Measure& told_of(const std::vector<Measure>& measures);

std::string all_limits(const std::vector<Measure>& measures);

bool has_temperature(std::span<const Reading> readings);

/// What a finding of some heating is called, and what is to be done about it.
struct Words {
  std::string control;
  std::string subject;
  std::string remedy;  ///< where it is not shown
  std::string remake;  ///< where the limit was missed
  Stop missed = Stop::needs_person;
};

/// Judges by `measures`: `shown` where one is met by a reliable thermometer, `not met` where every one is missed. @pre not empty
Finding judge(const Words& words, const std::vector<Measure>& measures, std::span<const Reading> readings, TemperatureSpan error,
              bool reliable, const std::string& evidence, Span longest_step);

/// How the measure that `judge` speaks of builds up.
HeatBuildUp build_up(const std::vector<Measure>& measures, std::span<const Reading> readings, TemperatureSpan error, Span longest_step);

}  // namespace tierproof::heat
