#pragma once

#include <optional>
#include <span>
#include <string>

#include "tierproof/sums/terms.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// A stretch that something which needs the fridge spent elsewhere.
struct TimeOut {
  Instant from{};
  Instant to{};
  std::string where;  ///< `worktop`, `no place recorded`
};

/// Judges the time out of the cold (control `cold-hold`) against the row for handling of `terms.allowances`, if there is one.
///
/// Each stretch is judged alone and strictly less than the row's span is `shown`; the law's allowance for service or display is
/// not used for it. Longer, or without such a row: `not shown`, since no reading says how warm the food became.
/// Allowances for the whole life of a food and for time as the control are told beside it and help nothing: these times are of one
/// place, and what a food was set out for is not recorded. Where a row says that the law has no number, its words are told.
/// @return nothing when there is no stretch
std::optional<Finding> judge_time_out(const std::string& subject, std::span<const TimeOut> stretches, const TemperatureTerms& terms,
                                      Offset offset);

}  // namespace tierproof
