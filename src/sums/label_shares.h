#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/sums/declaration.h"

namespace tierproof {

/// Whether the added-water rule applies to a food: marked so, and without an allergen, a sub-list or an additive.
bool counts_as_water(const IngredientFacts& food);

/// Added water in the cake.
struct AddedWater {
  bool used = false;
  Share remains_mg = 0;  ///< by which it ranks: what remains, or what was put in, as the rules say
  Share of_finished = 0;
  std::vector<std::size_t> lots;  ///< into `CakeParts::lots`, sorted
  std::string name;               ///< of the heaviest, equal ones the first by name
};
/// What remains is the finished mass less all other ingredients, volatile ones at what is left of them, never negative. Water that gave
/// a dried food its mass back stands with that food and is taken off: it can then be less than nothing, which is none.
AddedWater added_water(const CakeParts& parts, const Composition& made, const LabelTerms& terms);

/// By which mass an entry ranks: what was put in; of a volatile food what is left of it; of a dried food that was reconstituted, its mass
/// before drying.
Share ranking_mg(const CakeParts& parts, const LotAmount& amount);

/// The key whose amount is summed in the finished food.
inline constexpr std::string_view sulphites_key = "sulphites";
/// What the specifications that give a figure bring, mg SO2 per kg of finished cake, exact.
Share sulphites_in_finished(const CakeParts& parts, const Composition& made);
/// Packs that contain sulphites and give no figure, into `Composition::lots`.
std::vector<std::size_t> sulphites_without_figure(const CakeParts& parts, const Composition& made);
/// Packs of which nobody knows whether, or that may, contain sulphites, without a figure, into `Composition::lots`.
std::vector<std::size_t> sulphites_in_doubt(const CakeParts& parts, const Composition& made);
/// Whether sulphites are above what `term` leaves undeclared.
bool above_threshold(const Share& mg_per_kg, const AllergenTerm& term);

/// One additive wherever it stands in the cake.
struct AdditiveFound {
  std::string number;                ///< plain, `E471`; empty when the pack gives a class and no number
  std::string name;                  ///< as printed, the first by text
  std::string class_title;           ///< as the pack gives it; empty when it does not
  std::vector<std::size_t> amounts;  ///< into `Composition::lots`, each once
};

/// Share of the finished cake of all entries that share the name of `entry`.
Share share_of_name(const Declaration& declared, const std::string& name);

/// What `key` came to in `made`; nothing when it was not traced.
const AllergenTrace* find_trace(const Composition& made, const std::string& key);

}  // namespace tierproof
