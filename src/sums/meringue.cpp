#include "tierproof/sums/meringue.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>

#include "molar.h"
#include "tierproof/sums/specific_heat.h"
#include "tierproof/sums/sugar_syrup.h"

namespace tierproof {
namespace {

constexpr double work_of_whisk = 2.0;  // K

void need(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument{what};
}

/// Heat in kJ/kg that a syrup holds at `t` above 0 °C, by the form that `of_dry_solids` chooses: `cp` summed up over the degrees.
double heat_of_syrup(double solids, double t, bool of_dry_solids) {
  // Both forms are of the second degree in T at the most: Simpson's rule is exact.
  const auto cp = [&](double at) {
    return of_dry_solids ? choi_okos_heat({1 - solids, 0, 0, solids, 0, 0}, at) : sucrose_solution_heat(solids, at);
  };
  return t / 6 * (cp(0) + 4 * cp(t / 2) + cp(t));
}

/// Heat in kJ set free when `moles` of sucrose go from mole fraction x1 to x2: the excess enthalpy of the activity equation.
double dilution_heat(double moles, double x1, double x2) {
  constexpr double q = -17638, a = -1.0038, b = -0.24653;
  const auto phi = [](double x) { return x + a * x * x / 2 + b * x * x * x / 3; };
  return -q * moles * (phi(x1) - phi(x2)) / 1000;
}

struct Balance {
  const MeringuePlan& plan;
  double solids;
  double syrup_g;

  double settles_at(bool of_dry_solids, double extra_kj, double bowl_g) const {
    const double poured = heat_of_syrup(solids, plan.pour_c, of_dry_solids);
    const auto left_over = [&](double t) {
      const double given = syrup_g * (poured - heat_of_syrup(solids, t, of_dry_solids)) / 1000 + extra_kj;
      const double taken = (plan.white_g * egg_white_heat * (t - plan.white_c) + bowl_g * plan.bowl_heat * (t - plan.bowl_c)) / 1000;
      return given - taken;
    };
    double low = 0, high = plan.pour_c + 100;  // the heat of dilution may lift it above the pour
    for (int halvings = 0; halvings < 60; ++halvings) {
      const double middle = (low + high) / 2;
      (left_over(middle) > 0 ? low : high) = middle;
    }
    return (low + high) / 2;
  }
};

}  // namespace

std::optional<MeringueHeat> meringue_heat(const MeringuePlan& plan) {
  need(plan.white_g > 0 && plan.sugar_g > 0 && plan.bowl_g >= 0, "a meringue has egg white and sugar");
  need(plan.bowl_heat > 0, "a bowl takes heat");
  const auto is_kitchen = [](double t) { return t >= 0 && t <= 100; };
  need(is_kitchen(plan.white_c) && (plan.bowl_g == 0 || is_kitchen(plan.bowl_c)), "egg white and bowl are at 0 to 100 °C");
  const auto boiled = solids_boiling_at(plan.pour_c, plan.kilopascals);
  if (!boiled || !boiled->modelled || boiled->share <= 0) return std::nullopt;

  MeringueHeat heat;
  heat.solids = boiled->share;
  heat.syrup_g = plan.sugar_g / boiled->share;
  const double all_water = heat.syrup_g - plan.sugar_g + plan.white_g * water_of_egg_white;
  heat.solids_of_mix = plan.sugar_g / (plan.sugar_g + all_water);
  heat.dilution_kj =
      dilution_heat(plan.sugar_g / molar::sucrose, molar::fraction_of_sucrose(heat.solids), molar::fraction_of_sucrose(heat.solids_of_mix));
  const Balance balance{plan, heat.solids, heat.syrup_g};
  heat.lower = balance.settles_at(true, 0, plan.bowl_g);
  heat.central = balance.settles_at(false, 0, plan.bowl_g);
  heat.upper = balance.settles_at(false, heat.dilution_kj, plan.bowl_g);
  heat.ceiling = std::max(heat.upper, balance.settles_at(false, heat.dilution_kj, 0)) + work_of_whisk;
  return heat;
}

std::string_view reach_in_words(const std::optional<MeringueHeat>& heat, std::optional<double> wanted) {
  if (!heat) return "outside the model";
  return wanted && heat->ceiling < *wanted ? "cannot reach" : "not shown without a reading in the mix";
}

std::string_view boiled_as_by_name(std::string_view name) {
  // A glucose-fructose syrup is rather called by its first word: whichever it is, the curve of pure sucrose does not hold.
  constexpr std::array<std::pair<std::string_view, std::string_view>, 16> words{{{"glucose", "glucose"},
                                                                                 {"dextrose", "glucose"},
                                                                                 {"corn syrup", "glucose"},
                                                                                 {"maltose", "glucose"},
                                                                                 {"isomalt", "glucose"},
                                                                                 {"invert", "invert sugar"},
                                                                                 {"fructose", "invert sugar"},
                                                                                 {"honey", "invert sugar"},
                                                                                 {"golden syrup", "invert sugar"},
                                                                                 {"treacle", "invert sugar"},
                                                                                 {"molasses", "invert sugar"},
                                                                                 {"agave", "invert sugar"},
                                                                                 {"tartar", "acid"},
                                                                                 {"acid", "acid"},
                                                                                 {"lemon", "acid"},
                                                                                 {"vinegar", "acid"}}};
  std::string lower{name};
  for (char& c : lower) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  for (const auto& [word, kind] : words) {
    if (lower.find(word) != std::string::npos) return kind;
  }
  return {};
}

}  // namespace tierproof
