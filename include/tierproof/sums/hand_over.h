#pragma once

#include <string>

#include "tierproof/sums/temperature_terms.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// Judges how warm a chilled cake was when it was handed over, as measured in the food (control `cold-hold`).
///
/// At or below the strictest limit of the law on food is `shown`; above it `not met` without override. Where the law gives no such
/// limit it is `not shown` and needs a person.
Finding judge_hand_over(const std::string& cake, Temperature measured, const TemperatureTerms& terms);

}  // namespace tierproof
