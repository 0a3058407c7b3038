#pragma once

#include <cstdint>
#include <span>
#include <string>

#include "tierproof/sums/terms.h"
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

/// How a line of the nutrition table is rounded: from `large_from` grams on to `large_places` decimals; above `small_above` to
/// `small_places`; at or under it `small_words` stands instead.
struct LineRoundingTerm {
  Cited cited;
  std::string nutrient;  ///< `fat`, `salt`
  Share large_from;
  int large_places = 0;
  Share small_above;
  int small_places = 1;
  std::string small_words;  ///< `<0.5 g`
};

/// `22 g`, `5.2 g` or the small words; half up. A value that rounds up to `large_from` is written with `large_places`.
std::string round_line(const Share& grams, const LineRoundingTerm& term);

}  // namespace tierproof
