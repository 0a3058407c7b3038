#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "tierproof/sums/composition.h"

namespace tierproof {

/// One amount compared with one level limit: in one pack of the food that the limit speaks of, or in the whole cake.
struct LevelReading {
  const LevelLimitTerm* term = nullptr;  ///< of the terms that were given
  std::string subject;                   ///< the pack or the cake: `pack-3`
  std::string words;                     ///< `dried apricots (pack-3)`, `the finished cake`
  Share mg_per_kg = 0;                   ///< of what has a figure
  std::vector<std::size_t> amounts;      ///< into `Composition::lots`: what brings it
  std::vector<std::string> silent;       ///< what brings it and has no figure: `tartrazine in sprinkles (pack-2)`
  bool above() const { return mg_per_kg > term->up_to_mg_per_kg; }
};

struct LevelReadings {
  std::vector<LevelReading> readings;    ///< by the order of the limits, then of the packs
  std::vector<std::string> not_checked;  ///< what no figure was given for, or no limit is known to speak of; sorted, each once
};

/// Compares every level limit with what the specifications give: sulphites by the pack's total, additives by the supplier's figure, or
/// by their share of the pack; a pack that is itself the additive is all of it. A limit for a food speaks of packs whose
/// `limit_food` it is, one for `cake` of the finished mass, without credit for losses. Figures count as they are: what has none can only
/// make it more.
LevelReadings level_readings(const CakeParts& parts, const Composition& made, const LabelTerms& terms);

}  // namespace tierproof
