#pragma once

#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/papers/content.h"

namespace tierproof {

/// The charts of the series that a judgement rests on, with the changes of the kitchen's clocks while they ran.
std::vector<Chart> charts_of(const Session& session, const Judgement& judgement);

/// Adds a stay to the series: to those of the same thermometer in the same place that it overlaps or shares its days with, else as one of
/// its own. What became of one keeps the place of the first.
void add_watched(std::vector<SeriesUsed>& all, SeriesUsed watched);

/// `70 °C`, `62.78 °C`
std::string in_celsius_words(Temperature temperature);

}  // namespace tierproof
