#pragma once

#include "tierproof/sums/composition.h"
#include "tierproof/sums/terms.h"

namespace tierproof {

/// The row that exempts what `food` contains of `allergen`; nothing when none does. Each statement that it contains the allergen has to
/// name an exempted process; a row from memory that nobody confirmed exempts nothing. Of several rows the first.
const ExemptionTerm* exemption_of(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms);
/// Whether a pack brings an allergen so that it counts: an exempt product of it does not.
bool pack_brings(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms);

}  // namespace tierproof
