#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "terms_for_tests.h"
#include "tierproof/sums/declaration.h"

/// Cakes in the trade's words, for the tests of composition and declaration.
namespace tierproof::for_tests {

inline std::vector<std::string> keys_of(const LabelTerms& terms) {
  std::vector<std::string> keys;
  for (const AllergenTerm& term : terms.allergens) keys.push_back(term.key);
  return keys;
}

inline void says(IngredientFacts& food, const std::string& key, Presence presence, std::string evidence = "") {
  for (AllergenStatement& said : food.allergens) {
    if (said.allergen == key) {
      said = {key, presence, std::move(evidence)};
      return;
    }
  }
  food.allergens.push_back({key, presence, std::move(evidence)});
}

/// A food whose supplier's sheet answers for every allergen of Annex II: those of `contains` are in it, the others are not.
inline IngredientFacts food(const std::string& name, const std::vector<std::string>& contains = {}) {
  IngredientFacts made;
  made.id = IngredientId{name};
  made.label_name = name;
  made.sold_as = "food";
  for (const AllergenTerm& term : annex_ii()) says(made, term.key, Presence::absent, "supplier's sheet");
  for (const std::string& key : contains) says(made, key, Presence::contains);
  return made;
}

inline IngredientFacts water() {
  IngredientFacts made = food("water");
  made.added_water = true;
  return made;
}

inline DeclaredPart part(std::string name) {
  DeclaredPart made;
  made.name = std::move(name);
  return made;
}
inline DeclaredPart additive_part(std::string name, std::string number, std::string title, bool works = true) {
  DeclaredPart made = part(std::move(name));
  made.additive = std::move(number);
  made.additive_class = std::move(title);
  made.works_in_cake = works;
  return made;
}

/// Collects packs and batches by the words a baker would use.
class Baking {
 public:
  explicit Baking(std::string cake = "cake-1") { parts.cake = CakeId{std::move(cake)}; }

  std::size_t pack(IngredientFacts facts, std::string code = "") {
    const std::string id = "pack-" + std::to_string(parts.lots.size() + 1);
    parts.lots.push_back({LotId{id}, code.empty() ? "L" + std::to_string(parts.lots.size() + 1) : std::move(code), std::move(facts)});
    return parts.lots.size() - 1;
  }
  std::size_t batch(std::string name, std::vector<Use> uses, Mass yield, bool weighed = true) {
    const std::string id = "batch-" + std::to_string(parts.batches.size() + 1);
    parts.batches.push_back({BatchId{id}, std::move(name), std::move(uses), yield, weighed, {}});
    return parts.batches.size() - 1;
  }
  void place(std::string tier, std::size_t of, Mass mass, bool weighed = true) {
    parts.placed.push_back({std::move(tier), of, mass, weighed});
  }

  CakeParts parts;
};

inline Use of_pack(std::size_t lot, Mass mass) { return {Use::Of::lot, lot, mass}; }
inline Use of_batch(std::size_t batch, Mass mass) { return {Use::Of::batch, batch, mass}; }

/// One batch, all of it in one tier.
inline CakeParts one_batch(const std::vector<std::pair<IngredientFacts, Mass>>& used, Mass finished) {
  Baking baking;
  std::vector<Use> uses;
  for (const auto& [facts, mass] : used) uses.push_back(of_pack(baking.pack(facts), mass));
  baking.place("only", baking.batch("sponge", uses, finished), finished);
  return baking.parts;
}

struct Labelled {
  CakeParts parts;
  LabelTerms terms;
  Composition made;
  Declaration declared;
};
inline Labelled label(const CakeParts& parts, const LabelTerms& terms = label_terms(), std::string_view kind = "ingredient list") {
  const Result<Composition> made = compose(parts, keys_of(terms));
  if (!made) throw std::runtime_error(describe(made.error().front()));
  return {parts, terms, *made, declare(parts, *made, terms, kind)};
}

/// `sugar, butter (*MILK*)`: entries with commas, emphasis between asterisks.
inline std::string marked(const std::vector<Run>& runs) {
  std::string text;
  for (const Run& run : runs) text += run.emphasised ? "*" + run.text + "*" : run.text;
  return text;
}
inline std::string marked(const Declaration& declared) {
  std::string text;
  for (const ListedIngredient& entry : declared.ingredients) text += (text.empty() ? "" : ", ") + marked(entry.runs);
  return text;
}

/// The prescribed sentences of a declaration.
inline std::vector<std::string> sentences(const Declaration& declared) {
  std::vector<std::string> texts;
  for (const Statement& statement : declared.statements) texts.push_back(statement.text);
  return texts;
}

inline const ListedIngredient& entry(const Declaration& declared, const std::string& name) {
  const auto found =
      std::find_if(declared.ingredients.begin(), declared.ingredients.end(), [&](const ListedIngredient& e) { return e.name == name; });
  if (found == declared.ingredients.end()) throw std::runtime_error("no entry " + name);
  return *found;
}

inline std::vector<Finding> of_control(const std::vector<Finding>& findings, const std::string& control) {
  std::vector<Finding> found;
  for (const Finding& finding : findings) {
    if (finding.control == control) found.push_back(finding);
  }
  return found;
}

inline bool holds(const std::vector<std::string>& all, const std::string& one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

}  // namespace tierproof::for_tests
