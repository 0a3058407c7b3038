#pragma once

#include <string>
#include <string_view>

#include "tierproof/sums/composition.h"
#include "tierproof/sums/label_terms.h"

namespace tierproof {

/// The row that exempts what `food` contains of `allergen`; nothing when none does. Each statement that it contains the allergen has to
/// name an exempted process; a row from memory that nobody confirmed exempts nothing. Of several rows the first.
///
/// The statement exempts only what its process makes. A food without parts has to be that by its name; of one with parts, each part that
/// the pack says brings the allergen, or, where it says it of none, one part or the food itself, with every other part known by its name
/// (`LabelTerms::vocabulary`) as no such thing. A name or part that is the allergen otherwise (`flour`) is never exempt.
const ExemptionTerm* exemption_of(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms);
/// Whether all of `words` stand in the name of the process.
bool is_of_process(std::string_view words, const std::string& process);
/// Whether a pack brings an allergen so that it counts: an exempt product of it does not.
bool pack_brings(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms);

}  // namespace tierproof
