#pragma once

#include <optional>
#include <span>
#include <string>

#include "tierproof/sums/heat.h"

namespace tierproof {

/// A part that was heated, got cold and is heated again to be served or used hot.
struct ReheatedPart {
  std::string subject;        ///< `batch-3 (custard)`
  bool measured_food = true;  ///< false: the thermometer hangs in the air
};

/// Judges a reheating (control `reheating`) by the row of the rules, on the readings of one thermometer.
///
/// `shown`: a thermometer in the food, good before and after, held it at or above the row's temperature on the reading less its error,
/// for the row's time without a break (`held_at_or_above`, with the longest step of a `heat step`); and where the row has a time to get
/// there, no more of it lies between the last reading that was surely as cold as the row begins and the first after it that surely reached.
/// `not met`: it surely stayed under the temperature or was held too short, over a record without a gap that ends colder than its hottest;
/// or more than that time lies between the first reading that was surely warmer than the row begins and the last before it may have
/// reached. Else `not shown`. Without a row it is `not shown`, says that the rules have none, and tells what was recorded. Stops: `shown`
/// none; `not met` by a row that may be said as law no override; the others need a person. What holds of it afterwards while it is kept hot
/// is told in `paths`.
/// Each time that it was heated again is judged by itself, and the gravest finding stands, the later of two alike: a good one vouches for
/// no other. Another time begins once it may have been at 40 °C, with a reading as cold as the row begins (or as food is kept cold) or one
/// more than 2 h after the last; and with one more than a day after it (40 °C and 2 h: choices of this project).
/// @param series  of one thermometer in this part, of its reheatings alone
/// @throws std::invalid_argument for a negative error
Finding judge_reheating(const ReheatedPart& part, std::span<const Reading> series, TemperatureSpan error, bool reliable,
                        const std::string& evidence, const TemperatureTerms& terms);

/// The row in words: `74 °C for 15 s, reached within 2 h of leaving 5 °C`.
std::string in_words(const ReheatTerm& rule);

}  // namespace tierproof
