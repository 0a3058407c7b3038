#include "tierproof/sums/energy.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace tierproof {
Result<Energy> energy_per_100g(const Nutrients& food, std::span<const EnergyFactorTerm> factors) {
  const std::array<std::pair<const char*, Share>, 9> counted = {{{"fat", food.fat - food.salatrims},
                                                                 {"salatrims", food.salatrims},
                                                                 {"carbohydrate except polyols", food.carbohydrate - food.polyols},
                                                                 {"polyols", food.polyols - food.erythritol},
                                                                 {"erythritol", food.erythritol},
                                                                 {"protein", food.protein},
                                                                 {"fibre", food.fibre},
                                                                 {"alcohol", food.alcohol},
                                                                 {"organic acids", food.organic_acids}}};
  Refusals refusals;
  Energy energy{0, 0, "", ""};
  Share total = 0;
  for (const auto& [component, grams] : counted) {
    const std::string name = component;
    total += grams;
    if (grams < 0) {
      refusals.push_back({"", 0, name, fmt::format("{} comes to {} g in 100 g", name, format_decimal(grams, 2)),
                          "give amounts that are not below zero, and no part above its whole"});
    }
    if (grams == 0) continue;
    const auto is_it = [&](const EnergyFactorTerm& factor) { return factor.component == name; };
    const auto rows = std::count_if(factors.begin(), factors.end(), is_it);
    if (rows != 1) {
      refusals.push_back({"", 0, name, fmt::format("the factors have {} for {}", rows == 0 ? "no row" : "several rows", name),
                          "give one row for every component in the food"});
      continue;
    }
    const auto row = std::find_if(factors.begin(), factors.end(), is_it);
    energy.kj += grams * row->kj_per_g;
    energy.kcal += grams * row->kcal_per_g;
  }
  if (total > 100)
    refusals.push_back({"", 0, "food", fmt::format("{} g in 100 g", format_decimal(total, 2)), "give grams in 100 g of food"});
  if (!refusals.empty()) return refusals;
  energy.kj_text = format_decimal(energy.kj, 0) + " kJ";
  energy.kcal_text = format_decimal(energy.kcal, 0) + " kcal";
  return energy;
}

}  // namespace tierproof
