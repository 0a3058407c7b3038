#pragma once

#include <span>
#include <string>
#include <string_view>

#include "tierproof/sums/label_terms.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// One line of the nutrition table as it is printed.
struct RoundedAmount {
  Share value;       ///< rounded; the exact amount where words stand for it
  std::string text;  ///< `22 g`, `5.2 g`, `less than 5 mg`, `0 g`
  Cited cited;       ///< of the band
};

/// Rounds an amount by the band of its nutrient that holds it, a half up.
///
/// Decimals follow the band: `nearest` 0.1 prints one, a whole number none; a step that is no power of ten (0.5) prints a decimal only
/// where there is one. An amount that rounds up into the next band is written as that band writes it: 9.95 g by tenths is 10 g. Words
/// without a letter get the unit behind them.
/// @return refused: an amount below zero, no band for the nutrient or for this amount, several bands that hold it
Result<RoundedAmount> round_band(std::string_view nutrient, const Share& amount, std::span<const RoundingBandTerm> bands);

}  // namespace tierproof
