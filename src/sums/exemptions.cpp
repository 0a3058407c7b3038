#include "exemptions.h"

#include <algorithm>

#include "label_runs.h"
#include "label_shares.h"

namespace tierproof {

const ExemptionTerm* exemption_of(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms) {
  const ExemptionTerm* first = nullptr;
  for (const AllergenStatement& said : food.allergens) {
    if (said.allergen != allergen.key || said.presence != Presence::contains) continue;
    const auto row = std::find_if(terms.exemptions.begin(), terms.exemptions.end(), [&](const ExemptionTerm& term) {
      return term.allergen == allergen.key && !said.process.empty() && same_words(term.process, said.process) && term.cited.firm();
    });
    if (row == terms.exemptions.end()) return nullptr;  // one that is not exempted is enough: it is there as itself too
    if (first == nullptr) first = &*row;
  }
  return first;
}

bool pack_brings(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms) {
  if (allergen.key == sulphites_key && food.sulphites_mg_per_kg.value_or(0) > 0) return true;
  if (pack_statement(food, allergen.key).presence != Presence::contains) return false;
  return exemption_of(food, allergen, terms) == nullptr;
}

Composition with_exemptions(Composition made, const CakeParts& parts, const LabelTerms& terms) {
  for (AllergenTrace& trace : made.allergens) {
    trace.exempt.clear();
    const AllergenTerm* term = terms.allergen(trace.allergen);
    if (term == nullptr) continue;
    for (const LotAmount& amount : made.lots) {
      const LotFacts& lot = parts.lots[amount.lot];
      const ExemptionTerm* row = pack_brings(lot.ingredient, *term, terms) ? nullptr : exemption_of(lot.ingredient, *term, terms);
      if (row == nullptr) continue;
      for (const std::string& path : amount.paths)
        trace.exempt.push_back(path + " (" + printed_name(lot.ingredient) + "): " + row->process);
    }
    std::sort(trace.exempt.begin(), trace.exempt.end());
  }
  return made;
}

}  // namespace tierproof
