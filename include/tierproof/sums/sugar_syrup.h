#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace tierproof {

// Boiling syrup of pure sucrose. Temperatures in °C, pressures in kPa, solids as shares by mass, 0..1. Glucose syrup, invert sugar or acid
// in the pan raises the boiling point more than sucrose does: these sums then give too many solids.

/// The most solids that the activity equation speaks of; what lies above is outside the model.
inline constexpr double most_modelled_solids = 0.92;

/// Water activity of a sucrose solution of `solids` at `celsius`: Starzak and Peacock 1997, `ln gamma = Q/(R T) x^2 (1 + a x + b x^2)` of
/// the mole fraction x of sucrose, with Q = -17638 J/mol, a = -1.0038, b = -0.24653.
/// @throws std::invalid_argument unless `solids` is in 0..1, 1 left out
double sucrose_activity(double solids, double celsius);

/// °C: syrups of the kitchen stay below, and nothing here holds above.
inline constexpr double hottest_syrup_c = 200;

/// When a syrup of `solids` boils at `kilopascals`: where its water's vapour pressure, IAPWS-IF97 times the activity, is that pressure.
/// @throws std::invalid_argument for solids outside 0..0.92 or a pressure outside 50..150 kPa
double syrup_boiling_point(double solids, double kilopascals);

/// What a syrup holds that boils at some temperature.
struct BoiledSolids {
  double share = 0;
  bool modelled = true;  ///< false: above `most_modelled_solids`, where the share is no more than a continuation of the curve
};
/// The solids of a syrup that boils at `celsius` under `kilopascals`; nothing below the boiling point of water there.
/// @throws std::invalid_argument for a pressure outside 50..150 kPa or a temperature above 200
std::optional<BoiledSolids> solids_boiling_at(double celsius, double kilopascals);

/// Where a syrup of the same solids boils elsewhere.
struct SyrupElsewhere {
  double celsius = 0;            ///< the target there: by equal solids, or by subtraction where those are outside the model
  std::optional<double> solids;  ///< that boil at the target at 101.325 kPa, as a share; nothing: outside the model
  double by_subtraction = 0;     ///< the target less what water boils lower there (`sugar_target`): a rule of thumb
};
/// A target for boiling sugar at sea level as it is under `kilopascals`.
/// @throws std::invalid_argument for a pressure outside 50..150 kPa
SyrupElsewhere syrup_target_under(double target_c, double kilopascals);

/// What is left in the pan of `sugar_g` grams of sugar in `water_g` grams of water.
struct BoiledDown {
  double syrup_g = 0;
  double water_g = 0;  ///< still in it
  double lost_g = 0;   ///< boiled away
};
/// @throws std::invalid_argument for a mass below 0, solids not above 0, or more water in the end than in the beginning
BoiledDown boiled_down(double sugar_g, double water_g, double solids);

/// One row of a table of boiling points: how much warmer than water a solution of `solids` boils at 101.325 kPa.
struct ElevationRow {
  double solids = 0;
  double kelvins = 0;
};
/// Browne, Handbook of Sugar Analysis, 1912, every tenth of a share up to 0.60 and every fiftieth above, as reprinted on public pages.
std::span<const ElevationRow> browne_table();
/// Thieme's figures of purity 100 as cane sugar handbooks print them (from memory).
std::span<const ElevationRow> thieme_table();
/// The solids at which `table` has an elevation of `kelvins`: a straight line between its rows. Nothing outside them.
std::optional<double> solids_by_table(std::span<const ElevationRow> table, double kelvins);

/// A stage of boiled sugar as trade charts name it: both ends belong to it, at sea level.
struct SugarStage {
  std::string_view name;
  double from_c = 0;
  double to_c = 0;
  std::string_view solids;  ///< as printed: `87 %`, `90 to 92 %`
};
/// The stages in order; charts leave gaps between them. Common practice: trade charts that agree, no standard.
std::span<const SugarStage> sugar_stages();
/// The stage of a syrup at `celsius` at sea level, or nothing: it lies between two, or before or after them all.
const SugarStage* stage_at(double celsius);

}  // namespace tierproof
