#include "tierproof/sums/water_activity.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "molar.h"

namespace tierproof {
namespace {

constexpr double margin = 0.02;
constexpr double hexose = 180.156, pentitol = 152.15, hexitol = 182.17;  // g/mol

// Solubilities but sucrose's and salt's are from memory, rounded down: less dissolved is a higher activity.
constexpr std::array known{Solute{"sucrose", molar::sucrose, 6.47, 0.666}, Solute{"maltose", molar::sucrose, 4.54, 0.44},
                           Solute{"glucose", hexose, 2.25, 0.47},          Solute{"fructose", hexose, 2.25, 0.78},
                           Solute{"lactose", molar::sucrose, 10.2, 0.16},  Solute{"invert sugar", hexose, 2.25, 0.62},
                           Solute{"galactose", hexose, 2.24, 0.40},        Solute{"xylose", 150.13, 1.54, 0.53},
                           Solute{"sorbitol", hexitol, 1.65, 0.68},        Solute{"D-mannitol", hexitol, 0.906, 0.17},
                           Solute{"erythritol", 122.12, 1.34, 0.36},       Solute{"xylitol", pentitol, 1.66, 0.62},
                           Solute{"D-arabitol", pentitol, 1.41, 0.60},     Solute{"L-arabitol", pentitol, 1.21, 0.60},
                           Solute{"ribitol", pentitol, 1.49, 0.60},        Solute{"glycerol", 92.094, 1.16},
                           Solute{"propylene glycol", 76.09, 4.04},        Solute{"ethanol", 46.07, 1.60},
                           Solute{"citric acid", 192.12, 6.17, 0.59},      Solute{"tartaric acid", 150.09, 4.68, 0.57},
                           Solute{"malic acid", 134.09, 1.82, 0.55},       Solute{"lactic acid", 90.08, -1.59},
                           Solute{"glycine", 75.07, -0.87, 0.18},          Solute{"NaCl", 58.443, 0, 0.264}};

void ask(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument{what};
}

double cap_of(const Solute& solute, double celsius) {
  if (solute.name == "sucrose") return sucrose_solubility(celsius);
  // Colder than 20 °C less dissolves: at 0 °C about two thirds of it (lactose 0.11 to 0.16; from memory).
  if (celsius >= 20 || solute.name == "NaCl") return solute.most_dissolved;
  return solute.most_dissolved * (2 + std::clamp(celsius / 20, 0.0, 1.0)) / 3;
}

/// Moles by solute and the mole fraction of water.
struct Moles {
  double water = 0;
  double all = 0;
};
Moles moles_of(const Dissolved& solution) {
  Moles moles;
  moles.water = solution.water_g / molar::water;
  moles.all = moles.water;
  for (const auto& [name, grams] : solution.grams) moles.all += grams / solute(name)->molar_mass;
  return moles;
}

}  // namespace

std::span<const Solute> solutes() { return known; }

const Solute* solute(std::string_view name) {
  const auto found = std::find_if(known.begin(), known.end(), [&](const Solute& s) { return s.name == name; });
  return found == known.end() ? nullptr : &*found;
}

double sucrose_solubility(double celsius) {
  const double t = std::clamp(celsius, 0.0, 100.0);
  return (64.397 + 0.07251 * t + 0.0020569 * t * t - 9.035e-6 * t * t * t) / 100;
}

double salt_osmotic_coefficient(double molality) {
  constexpr double debye_hueckel = 0.3915;  // from memory
  const double root = std::sqrt(molality);
  return 1 - debye_hueckel * root / (1 + 1.2 * root) + molality * (0.0765 + 0.2664 * std::exp(-2 * root)) + 0.00127 * molality * molality;
}

double activity_alone(const Solute& solute, double share) {
  ask(share >= 0 && share < 1, "a solution holds water");
  const double moles = share / solute.molar_mass;
  if (solute.name == "NaCl") {
    const double molality = moles / (1 - share) * 1000;
    return std::exp(-2 * molar::water / 1000 * salt_osmotic_coefficient(molality) * molality);
  }
  const double x = moles / (moles + (1 - share) / molar::water);
  return (1 - x) * std::exp(-solute.norrish_k * x * x);
}

double ross_activity(const Dissolved& solution) {
  if (!(solution.water_g > 0)) return 0;
  double product = 1;
  for (const auto& [name, grams] : solution.grams) product *= activity_alone(*solute(name), grams / (grams + solution.water_g));
  return product;
}

std::optional<double> norrish_mixture_activity(const Dissolved& solution) {
  const Moles moles = moles_of(solution);
  double root = 0;
  for (const auto& [name, grams] : solution.grams) {
    const Solute& one = *solute(name);
    if (one.name == "NaCl" || one.norrish_k < 0) return std::nullopt;
    root += std::sqrt(one.norrish_k) * grams / one.molar_mass / moles.all;
  }
  return moles.water / moles.all * std::exp(-root * root);
}

std::optional<double> ferro_fontan_activity(const Dissolved& solution) {
  const Moles moles = moles_of(solution);
  double grams_in_all = 0, moles_in_all = 0, weighed = 0;
  for (const auto& [name, grams] : solution.grams) {
    const Solute& one = *solute(name);
    if (one.name == "NaCl") return std::nullopt;
    grams_in_all += grams;
    moles_in_all += grams / one.molar_mass;
    weighed += one.norrish_k * grams / one.molar_mass;
  }
  if (!(grams_in_all > 0)) return 1;
  const double k = weighed / moles_in_all;  // sum of K C Mt / M, with Mt = grams over moles
  const double x = moles_in_all / moles.all;
  return (1 - x) * std::exp(-k * x * x);
}

std::optional<ActivityEstimate> estimate_activity(std::span<const ActivityPart> parts, double celsius) {
  ActivityEstimate estimate;
  Dissolved all;
  for (const ActivityPart& part : parts) {
    ask(part.grams >= 0 && part.water >= 0, "no mass or share is below 0");
    double shares = part.water;
    all.water_g += part.grams * part.water;
    for (const auto& [name, share] : part.solutes) {
      ask(share >= 0 && solute(name) != nullptr, "a solute is a known one, and its share not below 0");
      shares += share;
      all.grams[name] += part.grams * share;
    }
    ask(shares <= 1 + 1e-9, "shares of a food are no more than the whole");
  }
  if (!(all.water_g > 0)) return std::nullopt;
  estimate.water_g = all.water_g;
  Dissolved can = all;
  for (auto& [name, grams] : can.grams) {
    const double cap = cap_of(*solute(name), celsius);
    const double most = cap < 1 ? all.water_g * cap / (1 - cap) : grams;
    if (grams <= most) continue;
    grams = most;
    estimate.capped.emplace_back(name);
  }
  estimate.clear = ross_activity(all);
  estimate.activity = std::max(estimate.clear, ross_activity(can));
  estimate.with_margin = std::min(1.0, estimate.activity + margin);
  return estimate;
}

double mould_free_days(double humidity) { return std::pow(10.0, 7.91 - 0.081 * humidity); }

}  // namespace tierproof
