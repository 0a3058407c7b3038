#pragma once

#include <optional>
#include <string>

#include "tierproof/sums/label_terms.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// Control `business-address`: whether the business is where the rules want the name and address on the pack to be.
///
/// Nothing when the rules ask nothing of it, or the pack needs no name and address when sold in this way (a way that is not known asks).
/// *Shown* for a country of the row. Not recorded is *not shown*, naming what is asked for; so is another country by a row from memory
/// that nobody confirmed; another country is *not met*, for a named person.
/// @param country  ISO 3166 code of the kitchen, any case; empty: not recorded
std::optional<Finding> judge_address(const std::string& cake, const std::string& country, const std::optional<RouteTerm>& route,
                                     const LabelTerms& terms);

}  // namespace tierproof
