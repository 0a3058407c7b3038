#pragma once

#include <optional>
#include <string_view>

namespace tierproof {

inline constexpr double water_of_egg_white = 0.8757;  ///< share by mass (USDA SR26 01124)

/// An Italian meringue before anybody cooks it: egg white that boiled syrup is poured on, all into one bowl.
struct MeringuePlan {
  double white_g = 0;
  double sugar_g = 0;
  double pour_c = 0;   ///< the syrup when it is poured: the highest that it may have
  double white_c = 0;  ///< the egg white in the bowl
  double bowl_g = 0;   ///< 0: the bowl takes no heat
  double bowl_c = 0;
  double bowl_heat = 0.50;  ///< kJ/(kg K)
  double kilopascals = 101.325;
};

/// How hot the mix may get, °C: an energy balance of syrup, egg white and bowl. It never shows that anything was heated; readings in the
/// mix do.
struct MeringueHeat {
  double lower = 0;    ///< syrup by Choi and Okos, without the heat of dilution
  double central = 0;  ///< syrup as a sucrose solution, without it
  double upper = 0;    ///< with it
  double ceiling = 0;  ///< `upper` of the bowl or of none, whichever is hotter, and 2 K for the work of the whisk: hotter it cannot be
                       ///< without heat from outside. The 2 K are an estimate (10 W for 2 minutes give 1.6 K; from memory)
  double solids = 0;   ///< of the syrup, as a share
  double syrup_g = 0;
  double dilution_kj = 0;    ///< set free when the syrup mixes with the water of the egg white
  double solids_of_mix = 0;  ///< sugar over sugar and all water
};
/// The balance; nothing where the syrup is outside the model (above 92 % solids, about 128 °C at sea level) or `pour_c` is below the
/// boiling point of water. Egg white is 87.57 % water (USDA SR26 01124).
/// @throws std::invalid_argument for a mass not above 0 (a bowl of 0 g is none), a specific heat not above 0, a temperature of white or
/// bowl outside 0..100 °C, or a pressure outside 50..150 kPa
std::optional<MeringueHeat> meringue_heat(const MeringuePlan& plan);

/// All that the balance may say of a temperature that is wanted, °C; it never says more.
/// @param heat    nothing: outside the model
/// @param wanted  nothing: no temperature is asked for
/// @return `cannot reach`, `not shown without a reading in the mix` or `outside the model`
std::string_view reach_in_words(const std::optional<MeringueHeat>& heat, std::optional<double> wanted);

/// What a food is in a pan of boiling sugar, by its name: `glucose`, `invert sugar` or `acid`, or empty where no such word stands in it.
/// The words are English; a kitchen that calls it otherwise says so with the ingredient.
std::string_view boiled_as_by_name(std::string_view name);

}  // namespace tierproof
