#pragma once

#include <vector>

#include "tierproof/sums/declaration.h"

namespace tierproof {

/// What a list is drawn up from beside the cake: the allergens that are declared, and of whose finished mass shares are taken.
struct ListAsk {
  const LabelTerms* terms = nullptr;
  std::vector<std::string> declared;  ///< keys, in the law's order
  Share finished_mg;                  ///< of the whole cake
  bool small_amounts_last = true;     ///< false: strictly by mass, as in a sub-list
};

/// The entries of `made` in the order of the list, printed.
std::vector<ListedIngredient> listed(const CakeParts& parts, const Composition& made, const ListAsk& ask);

/// Whether a pack brings an allergen so that it counts: an exempt product of it does not.
bool pack_brings(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms);
/// The row that exempts what `food` contains of `allergen`; nothing when none does, or the row is from memory and confirmed by nobody.
const ExemptionTerm* exemption_of(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms);

}  // namespace tierproof
