#pragma once

#include <optional>
#include <span>
#include <string>

#include "tierproof/sums/cooling.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// A part that is kept cold, and what is known of whether it was heated.
struct CooledPart {
  std::string subject;           ///< `batch-3 (custard)`
  std::optional<bool> heated;    ///< nothing: nothing recorded says
  std::string heated_because{};  ///< how it is known to have been heated: `it is baked through`
  bool measured_food = true;     ///< false: the thermometer hangs in the air
  Offset offset{};               ///< for clock times in the message
};

/// Whether a reading may have been at or above the temperature from which the rules count cooling.
bool was_hot(std::span<const Reading> series, TemperatureSpan error, const TemperatureTerms& terms);

/// Judges how fast a heated part got cold (control `cooling`) by the row of the rules, on bounds alone (`cooling_of`).
///
/// `shown`: a thermometer in the food, good before and after, shows that even the longest time of each stage is within its limit.
/// `not met`: even the shortest is beyond it. Else `not shown`: no reading at the first temperature, an end that is not recorded, a time
/// that the readings leave open, air instead of food. Where nothing says whether the part was heated: `not shown`. Where the rules have no
/// row and say that they give no number, `not shown` too, with their words and what was recorded: a person has to compare it with the plan
/// or an adviser's time. Stops: `shown` none; `not met` of a row that may be said as law no override; the others need a person.
/// @param series  of one thermometer in this part, its heat step included; empty: none
/// @return nothing for a part that is not heated, and where the rules say nothing at all of cooling
/// @throws std::invalid_argument for a negative error
std::optional<Finding> judge_cooling(const CooledPart& part, std::span<const Reading> series, TemperatureSpan error, bool reliable,
                                     const std::string& evidence, const TemperatureTerms& terms);

/// The row in words: `57 °C to 21 °C within 2 h, and to 5 °C within 6 h in all`.
std::string in_words(const CoolingTerm& rule);

}  // namespace tierproof
