#include "tierproof/sums/sugar_syrup.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "molar.h"
#include "tierproof/sums/probe.h"

namespace tierproof {
namespace {

// As read: browne_table() says of what.
constexpr std::array browne_rows{ElevationRow{0.10, 0.4},  ElevationRow{0.20, 0.6},  ElevationRow{0.30, 1.0},  ElevationRow{0.40, 1.5},
                                 ElevationRow{0.50, 2.0},  ElevationRow{0.60, 3.0},  ElevationRow{0.62, 3.4},  ElevationRow{0.64, 4.0},
                                 ElevationRow{0.66, 4.8},  ElevationRow{0.68, 5.6},  ElevationRow{0.70, 6.5},  ElevationRow{0.72, 7.4},
                                 ElevationRow{0.74, 8.4},  ElevationRow{0.76, 9.4},  ElevationRow{0.78, 10.6}, ElevationRow{0.80, 12.0},
                                 ElevationRow{0.82, 13.9}, ElevationRow{0.84, 16.3}, ElevationRow{0.86, 19.3}, ElevationRow{0.88, 23.1},
                                 ElevationRow{0.90, 27.8}};
constexpr std::array thieme_rows{ElevationRow{0.10, 0.1}, ElevationRow{0.20, 0.3},  ElevationRow{0.30, 0.6},  ElevationRow{0.40, 1.0},
                                 ElevationRow{0.50, 1.8}, ElevationRow{0.60, 3.0},  ElevationRow{0.70, 5.1},  ElevationRow{0.75, 7.0},
                                 ElevationRow{0.80, 9.4}, ElevationRow{0.85, 13.0}, ElevationRow{0.90, 19.6}, ElevationRow{0.94, 30.5}};
constexpr std::array stages{SugarStage{"thread", 110, 112, "80 %"},     SugarStage{"soft ball", 112, 116, "85 %"},
                            SugarStage{"firm ball", 118, 120, "87 %"},  SugarStage{"hard ball", 121, 130, "90 to 92 %"},
                            SugarStage{"soft crack", 132, 143, "95 %"}, SugarStage{"hard crack", 146, 154, "99 %"},
                            SugarStage{"caramel", 160, 170, "100 %"},   SugarStage{"dark caramel", 177, 177, "100 %"}};

constexpr double sea_level_kpa = 101.325;

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument{what};
}

double vapour_kpa(double solids, double celsius) {
  return saturation_megapascals(celsius + molar::kelvin_of_zero) * 1000 * sucrose_activity(solids, celsius);
}

/// Where `rising` reaches `value` between `low` and `high`.
template <class Rising>
double where(const Rising& rising, double value, double low, double high) {
  for (int halvings = 0; halvings < 60; ++halvings) {
    const double middle = (low + high) / 2;
    (rising(middle) < value ? low : high) = middle;
  }
  return (low + high) / 2;
}

}  // namespace

double sucrose_activity(double solids, double celsius) {
  require(solids >= 0 && solids < 1, "solids are a share below 1");
  constexpr double q = -17638, a = -1.0038, b = -0.24653;
  const double x = molar::fraction_of_sucrose(solids);
  return (1 - x) * std::exp(q / (molar::gas_constant * (celsius + molar::kelvin_of_zero)) * x * x * (1 + a * x + b * x * x));
}

double syrup_boiling_point(double solids, double kilopascals) {
  require(solids >= 0 && solids <= most_modelled_solids, "solids lie outside the model");
  const double water = boiling_point(kilopascals);
  return where([&](double celsius) { return vapour_kpa(solids, celsius); }, kilopascals, water, hottest_syrup_c);
}

std::optional<BoiledSolids> solids_boiling_at(double celsius, double kilopascals) {
  require(celsius <= hottest_syrup_c, "no syrup of a kitchen is that hot");
  if (celsius < boiling_point(kilopascals)) return std::nullopt;
  const double share = where([&](double solids) { return -vapour_kpa(solids, celsius); }, -kilopascals, 0, 0.9999);
  return BoiledSolids{share, share <= most_modelled_solids};
}

SyrupElsewhere syrup_target_under(double target_c, double kilopascals) {
  SyrupElsewhere there;
  there.by_subtraction = sugar_target(target_c, boiling_point(kilopascals));
  const auto solids = target_c <= hottest_syrup_c ? solids_boiling_at(target_c, sea_level_kpa) : std::nullopt;
  if (solids && solids->modelled) there.solids = solids->share;
  there.celsius = there.solids ? syrup_boiling_point(*there.solids, kilopascals) : there.by_subtraction;
  return there;
}

BoiledDown boiled_down(double sugar_g, double water_g, double solids) {
  require(sugar_g >= 0 && water_g >= 0, "no mass is below 0");
  require(solids > 0 && solids <= 1, "a syrup holds some sugar, and no more than all");
  const double syrup = sugar_g / solids;
  const double left = syrup - sugar_g;
  require(left <= water_g, "boiling takes water away");
  return {syrup, left, water_g - left};
}

std::span<const ElevationRow> browne_table() { return browne_rows; }
std::span<const ElevationRow> thieme_table() { return thieme_rows; }

std::optional<double> solids_by_table(std::span<const ElevationRow> table, double kelvins) {
  if (table.empty() || kelvins < table.front().kelvins || kelvins > table.back().kelvins) return std::nullopt;
  const auto above = std::find_if(table.begin() + 1, table.end(), [&](const ElevationRow& row) { return row.kelvins >= kelvins; });
  const ElevationRow& below = *(above - 1);
  return below.solids + (above->solids - below.solids) * (kelvins - below.kelvins) / (above->kelvins - below.kelvins);
}

std::span<const SugarStage> sugar_stages() { return stages; }

const SugarStage* stage_at(double celsius) {
  // 112 °C ends one stage and begins the next: the hotter one is told.
  const auto found =
      std::find_if(stages.rbegin(), stages.rend(), [&](const SugarStage& s) { return celsius >= s.from_c && celsius <= s.to_c; });
  return found == stages.rend() ? nullptr : &*found;
}

}  // namespace tierproof
