#pragma once

namespace tierproof {

/// A cake tin, in inches: round by its diameter, square by its side.
struct Tin {
  bool round = true;
  double across = 0;
  double depth = 0;
};
/// Inside area in square inches and volume in millilitres. @throws std::invalid_argument for a length not above 0
double area_of(const Tin& tin);
double volume_of(const Tin& tin);
/// What every ingredient is multiplied by so that `to` is filled as high as `from`: the ratio of the volumes. Bake time and loss do not
/// follow it.
double tin_factor(const Tin& from, const Tin& to);

inline constexpr double millilitres_per_us_cup = 236.5882365;  // 231 cubic inches are a US gallon of 16 cups
inline constexpr double millilitres_per_metric_cup = 250;

/// Egg white and yolk of eggs of `in_shell_g` grams each, in grams: 88 % of an egg is eaten, 66 % of that is white (USDA: 33 : 17). An
/// estimate: weigh what is cracked.
struct EggParts {
  double white_g = 0;
  double yolk_g = 0;
};
EggParts parts_of_eggs(int eggs, double in_shell_g);
/// How many eggs of `white_each_g` grams of white hold `white_g`, rounded up. @throws std::invalid_argument unless both are above 0
int eggs_for_white(double white_g, double white_each_g);

}  // namespace tierproof
