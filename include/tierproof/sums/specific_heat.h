#pragma once

namespace tierproof {

/// What a food is made of, shares by mass that add up to about 1.
struct FoodShares {
  double water = 0;
  double protein = 0;
  double fat = 0;
  double carbohydrate = 0;
  double fibre = 0;
  double ash = 0;
};

/// Specific heat in kJ/(kg K) at `celsius`, `sum of x cp` by Choi and Okos 1986 (-40..150 °C, water 0..150 °C). Its carbohydrate is a dry
/// solid: of sugar in solution it gives too little.
double choi_okos_heat(const FoodShares& food, double celsius);
/// Density in kg/m3 at `celsius`, `1 / sum of x / rho` by the same; of food without air in it.
double choi_okos_density(const FoodShares& food, double celsius);

/// Specific heat of a solution of sucrose, `solids` as a share, kJ/(kg K): `4.1868 - 0.0251 DS + 7.5e-5 DS T` with DS in per cent (Bubník
/// and Kadlec; Sugar Technologists Manual eq. 341/3; 0..90 %, 20..120 °C: beyond that it is continued).
double sucrose_solution_heat(double solids, double celsius);

/// Specific heats that tables print, kJ/(kg K).
inline constexpr double egg_white_heat = 3.91;  ///< ASHRAE/WFLO commodity manual 2008, 87.81 % water
inline constexpr double steel_heat = 0.50;      ///< stainless steel 304, data sheets of metals
inline constexpr double glass_heat = 0.84;      ///< soda-lime glass (from memory)
inline constexpr double copper_heat = 0.385;    ///< (from memory)
inline constexpr double aluminium_heat = 0.90;  ///< (from memory)

}  // namespace tierproof
