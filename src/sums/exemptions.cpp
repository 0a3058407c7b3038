#include "exemptions.h"

#include <algorithm>

#include "label_runs.h"
#include "label_shares.h"
#include "words.h"

namespace tierproof {

namespace {

/// Whether `name` has a word of `process` beside those for the allergen itself: `glucose syrup (wheat)` of `wheat glucose syrup`.
bool made_by(std::string_view name, const std::string& process, const AllergenTerm& allergen) {
  constexpr std::size_t too_short = 4;  // `of`, `in`, `and`
  const std::vector<std::string> here = words_of_name(name);
  for (const std::string& word : words_of_name(process)) {
    const bool says_nothing = word.size() < too_short || word == "from" || word == "with" || clear_reference(word, allergen);
    if (!says_nothing && find_phrase(here, {word}) < here.size()) return true;
  }
  return false;
}

/// How the parts of a food stand to the one process that its statement names.
struct PartsBeside {
  int bring = 0;       ///< parts of which the pack says that they bring it
  bool other = false;  ///< one of those has no word of the process
  bool named = false;  ///< a part names the allergen and nothing of the process: `wheat flour`
};
void look(const std::vector<DeclaredPart>& parts, const std::string& process, const AllergenTerm& allergen, PartsBeside& beside) {
  for (const DeclaredPart& part : parts) {
    const bool by_process = made_by(part.name, process, allergen);
    if (std::find(part.allergens.begin(), part.allergens.end(), allergen.key) != part.allergens.end()) {
      ++beside.bring;
      beside.other = beside.other || !by_process;
    }
    beside.named = beside.named || (!by_process && clear_reference(part.name, allergen));
    look(part.parts, process, allergen, beside);
  }
}
/// One statement speaks for the whole food: a part that brings the allergen in another way is not exempt by it.
bool comes_in_otherwise(const IngredientFacts& food, const std::string& process, const AllergenTerm& allergen) {
  PartsBeside beside;
  look(food.parts, process, allergen, beside);
  return beside.named || (beside.bring > 1 && beside.other);
}

}  // namespace

const ExemptionTerm* exemption_of(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms) {
  const ExemptionTerm* first = nullptr;
  for (const AllergenStatement& said : food.allergens) {
    if (said.allergen != allergen.key || said.presence != Presence::contains) continue;
    const auto row = std::find_if(terms.exemptions.begin(), terms.exemptions.end(), [&](const ExemptionTerm& term) {
      return term.allergen == allergen.key && !said.process.empty() && same_words(term.process, said.process) && term.cited.firm();
    });
    if (row == terms.exemptions.end() || comes_in_otherwise(food, said.process, allergen))
      return nullptr;  // one that is not exempted is enough: it is there as itself too
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
