#pragma once

#include <cstdint>
#include <span>
#include <string>

#include "tierproof/sums/label_terms.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// Grams in 100 g of food.
struct Nutrients {
  Share fat = 0;           ///< salatrims included
  Share salatrims = 0;     ///< of the fat
  Share carbohydrate = 0;  ///< polyols included, fibre not
  Share polyols = 0;       ///< of the carbohydrate, erythritol included
  Share erythritol = 0;    ///< of the polyols
  Share protein = 0;
  Share fibre = 0;
  Share alcohol = 0;
  Share organic_acids = 0;
};

/// Energy of 100 g, exact, and to the nearest whole (half up). Each unit from its own factors, never one from the other.
struct Energy {
  Share kj;
  Share kcal;
  std::string kj_text;    ///< `1737 kJ`
  std::string kcal_text;  ///< `416 kcal`
};

/// @source Reg (EU) 1169/2011 Annex XIV
/// @return refused, all together: an amount below zero, a part above its whole, more than 100 g in 100 g, a component that is in
///         the food and has no factor or two
Result<Energy> energy_per_100g(const Nutrients& food, std::span<const EnergyFactorTerm> factors);

}  // namespace tierproof
