#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/heat.h"
#include "tierproof/sums/temperature_terms.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// A stretch that something which needs the fridge spent elsewhere.
struct TimeOut {
  Instant from{};
  Instant to{};
  std::string where;                ///< `worktop`, `no place recorded`
  std::string use{};                ///< what for, as `Stay::use`; empty: not recorded
  std::optional<Instant> marked{};  ///< by when it is used or thrown away, as marked on the food
  std::string procedure{};          ///< where the procedure stands that was written before
};

/// What is known of the rest of a food's life: of all that went into it, and of where it was besides.
struct FoodLife {
  Span warm_before{};                  ///< longest time that anything which went into it was out of the cold before
  Span warm_in_cold{};                 ///< longest time that it may have been too warm in places that are cold, by readings there
  Span unread{};                       ///< time in such places, of it and of what went into it, that no reading vouches for
  bool served_before = false;          ///< it, or something in it, was kept for service or display before
  bool perhaps_served_before = false;  ///< or was out of the cold and nobody recorded what for
  bool cold_after = false;             ///< it was put back into the cold after it was out
  std::string cold_at_removal{};       ///< what shows that it was cold enough when it was taken out; empty: nothing does
  std::vector<Reading> food{};         ///< readings of the food itself while it was out
  TemperatureSpan error{};             ///< of their thermometer
  bool reliable = false;               ///< its good checks before and after
};

/// Judges the time out of the cold (control `cold-hold`) by what the place allows; each allowance by itself, none ever joined to another:
/// - `handling`: each stretch alone strictly under the row's time;
/// - once for service or display: one stretch recorded for it, strictly under the row's time, and none before it;
/// - a total over the whole life: all stretches, what went into it, and how long it may have been too warm in the cold, whatever they were
///   for, strictly under the time to go back into the cold, even if everything that no reading vouches for is added. Longer, a person has
///   to answer for it being eaten at once;
/// - time as the control: one stretch recorded for it, cold when it was taken out, with the time marked and the procedure named, not longer
///   than the row's time nor than was marked, not put back; where the row has a ceiling, readings of the food without a gap that never
///   exceed it with the error added.
/// Anything else is `not shown`, naming what is missing. Where a row says that the law has no number, its words are told.
/// @param life  nothing: not known, and then only the row for handling helps
/// @return nothing when there is no stretch
std::optional<Finding> judge_time_out(const std::string& subject, std::span<const TimeOut> stretches, const TemperatureTerms& terms,
                                      Offset offset, const FoodLife* life = nullptr);

}  // namespace tierproof
