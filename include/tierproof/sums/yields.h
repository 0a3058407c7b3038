#pragma once

#include <optional>
#include <span>

namespace tierproof {

/// What baking or drying did, where nothing but water leaves. Masses in one unit, grams say.
struct Drying {
  double loss = 0;   ///< share of what went in, 0..1
  double water = 0;  ///< share of water in what came out, 0..1
};
/// The balance of `in` with a share `water_in` of water which came out as `out`: `w_out = 1 - (1 - w_in) in / out`. Nothing where that
/// cannot be: it weighs less than its dry matter, or more than went in, so something was added or a weight is wrong.
/// @throws std::invalid_argument for a mass not above 0 or a share outside 0..1
std::optional<Drying> drying(double in, double water_in, double out);

/// What is left of `in` with a share `water_in` of water once it holds a share `water_out`: `out = in (1 - w_in) / (1 - w_out)`. More than
/// `in` where it would have to take up water.
/// @throws std::invalid_argument for a mass not above 0 or a share outside 0..1, `water_out` of 1
double mass_at_water(double in, double water_in, double water_out);

/// What weighings of one recipe say of its loss, each a share.
struct LossSpread {
  int weighings = 0;
  double least = 0;
  double middle = 0;  ///< the median
  double most = 0;
};
/// @return nothing for none @pre each lies in 0..1
std::optional<LossSpread> loss_spread(std::span<const double> losses);

}  // namespace tierproof
