#include "exemptions.h"

#include <algorithm>
#include <array>

#include "label_runs.h"
#include "label_shares.h"
#include "tierproof/sums/name_hints.h"
#include "words.h"

namespace tierproof {

namespace {

bool says_something(const std::string& word, const AllergenTerm& allergen) {
  constexpr std::array<std::string_view, 8> joints = {"and", "as", "for", "from", "in", "of", "or", "with"};
  return std::find(joints.begin(), joints.end(), word) == joints.end() && !clear_reference(word, allergen);
}

/// Whether two texts share a word beside those for the allergen itself.
bool share_a_word(std::string_view one, std::string_view other, const AllergenTerm& allergen) {
  const std::vector<std::string> here = words_of_name(one);
  const std::vector<std::string> there = words_of_name(other);
  return std::any_of(there.begin(), there.end(),
                     [&](const std::string& word) { return says_something(word, allergen) && find_phrase(here, {word}) < here.size(); });
}

/// Whether one of `hinted` speaks of the allergen, or of its heading or a member of it, by words that `fits` does not pass.
template <typename Fits>
bool speaks(const std::vector<Hinted>& hinted, const AllergenTerm& allergen, const Fits& fits) {
  return std::any_of(hinted.begin(), hinted.end(), [&](const Hinted& one) {
    return (is_within(allergen.key, one.allergen) || is_within(one.allergen, allergen.key)) && !fits(one);
  });
}

/// Whether a name tells that the food is the allergen in another way than by `process`.
bool is_the_allergen(std::string_view name, const std::string& process, const AllergenTerm& allergen, const NameHints& vocabulary) {
  return speaks(hint_of(name, vocabulary).contains, allergen, [&](const Hinted& one) { return is_of_process(one.words, process); });
}

/// Whether `name` is what `process` makes: `glucose syrup (wheat)` of `wheat glucose syrup`. It has a word of the process beside those for
/// the allergen, or made from the allergen it is that by the vocabulary (`dextrose`); and no word of it speaks of the allergen otherwise.
bool made_by(std::string_view name, const std::string& process, const AllergenTerm& allergen, const NameHints* vocabulary) {
  const bool shares = share_a_word(name, process, allergen);
  if (vocabulary == nullptr) return shares;
  const NameHint hint = hint_of(name, *vocabulary);
  const auto related = [&](const Hinted& one) { return share_a_word(one.words, process, allergen); };
  if (is_the_allergen(name, process, allergen, *vocabulary) || speaks(hint.ask, allergen, related)) return false;
  if (shares) return true;
  const NameHint made_from = hint_of(allergen.word + " " + std::string{name}, *vocabulary);
  return speaks(made_from.exempt, allergen, [&](const Hinted& one) { return !share_a_word(one.process, process, allergen); });
}

/// How the parts of a food stand to the one process that its statement names.
struct PartsBeside {
  bool brings = false;      ///< the pack says of a part that it brings the allergen
  bool other = false;       ///< of such a part, which is not made by the process
  bool by_process = false;  ///< a part is
  bool named = false;       ///< a part is the allergen by its name, and not made by the process: `wheat flour`, `flour`
  bool may_be = false;      ///< a part may be: nothing shows that it is not
};

/// Whether nothing in a name says that it is free of the allergen: it asks for it, for its whole specification, or is not known.
bool may_be_the_allergen(std::string_view name, const AllergenTerm& allergen, const NameHints* vocabulary) {
  if (vocabulary == nullptr) return true;
  const NameHint hint = hint_of(name, *vocabulary);
  const bool asks_all = std::any_of(hint.ask.begin(), hint.ask.end(), [](const Hinted& one) { return one.allergen.empty(); });
  return asks_all || !hint.unknown_words.empty() || speaks(hint.ask, allergen, [](const Hinted&) { return false; });
}

void look(const std::vector<DeclaredPart>& parts, const std::string& process, const AllergenTerm& allergen, const NameHints* vocabulary,
          PartsBeside& beside) {
  for (const DeclaredPart& part : parts) {
    const std::string name = part.additive.empty() ? part.name : part.name + " " + part.additive;
    const bool by_process = made_by(name, process, allergen, vocabulary);
    const bool brings = std::find(part.allergens.begin(), part.allergens.end(), allergen.key) != part.allergens.end();
    beside.brings = beside.brings || brings;
    beside.other = beside.other || (brings && !by_process);
    beside.by_process = beside.by_process || by_process;
    if (!by_process) {
      beside.named = beside.named || clear_reference(name, allergen) ||
                     (vocabulary != nullptr && is_the_allergen(name, process, allergen, *vocabulary));
      if (part.parts.empty()) beside.may_be = beside.may_be || may_be_the_allergen(name, allergen, vocabulary);
    }
    look(part.parts, process, allergen, vocabulary, beside);
  }
}

/// One statement speaks for the whole food: what is the allergen in another way, by what the pack says or by its name, is not exempt by it.
/// Where the pack does not say which part brings it, every other part has to be known as something else.
bool comes_in_otherwise(const IngredientFacts& food, const std::string& process, const AllergenTerm& allergen,
                        const NameHints* vocabulary) {
  const std::string name = food.additive.empty() ? printed_name(food) : printed_name(food) + " " + food.additive;
  const bool by_name = made_by(name, process, allergen, vocabulary);
  if (food.parts.empty()) return !by_name;
  if (!by_name && (clear_reference(name, allergen) || (vocabulary != nullptr && is_the_allergen(name, process, allergen, *vocabulary))))
    return true;
  PartsBeside beside;
  look(food.parts, process, allergen, vocabulary, beside);
  if (beside.named) return true;
  if (beside.brings) return beside.other;
  return beside.may_be || !(by_name || beside.by_process);
}

}  // namespace

bool is_of_process(std::string_view words, const std::string& process) {
  const std::vector<std::string> all = words_of_name(process);
  const std::vector<std::string> here = words_of_name(words);
  return !here.empty() &&
         std::all_of(here.begin(), here.end(), [&](const std::string& word) { return find_phrase(all, {word}) < all.size(); });
}

const ExemptionTerm* exemption_of(const IngredientFacts& food, const AllergenTerm& allergen, const LabelTerms& terms) {
  const ExemptionTerm* first = nullptr;
  for (const AllergenStatement& said : food.allergens) {
    if (said.allergen != allergen.key || said.presence != Presence::contains) continue;
    const auto row = std::find_if(terms.exemptions.begin(), terms.exemptions.end(), [&](const ExemptionTerm& term) {
      return term.allergen == allergen.key && !said.process.empty() && same_words(term.process, said.process) && term.cited.firm();
    });
    if (row == terms.exemptions.end() || comes_in_otherwise(food, said.process, allergen, terms.vocabulary))
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
