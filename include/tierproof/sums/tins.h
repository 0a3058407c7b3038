#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "tierproof/units/share.h"

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

/// Tins in whole units of one length, so that their ratios are exact.
struct ExactTins {
  bool round = true;
  std::int64_t across = 0;
  std::int64_t depth = 0;
  std::int64_t count = 1;
};
/// `tin_factor` of several tins, exact where all are of one shape; else with pi to 15 places. @throws std::invalid_argument for a length or
/// count not above 0
Share volume_factor(const ExactTins& from, std::span<const ExactTins> to);
/// The ratio of their areas alone: of what is spread or cut, such as portions.
Share area_factor(const ExactTins& from, std::span<const ExactTins> to);

/// Portions of `across_in` by `along_in` inches that a cake of `area` square inches is cut into. Bakers' guides put 85 % of a cake of up to
/// 6 inches into portions and 90 % of larger ones, more or less (derived from guides that do not agree; no standard).
/// @throws std::invalid_argument for a length or area not above 0
int portions_of(double area, bool small, double across_in, double along_in);

inline constexpr double millilitres_per_us_cup = 236.5882365;  // 231 cubic inches are a US gallon of 16 cups
inline constexpr double millilitres_per_metric_cup = 250;

/// A cup or spoon, with its size in its name, since one word stands for several sizes: `cup-250`, `tbsp-14.8`.
struct KitchenMeasure {
  std::string_view name;
  double millilitres = 0;
};
/// The measures that recipes are written in (from memory).
std::span<const KitchenMeasure> kitchen_measures();

/// A weight class of hens' eggs and what an egg of it is taken to weigh in its shell, in grams. `S` (below 53 g), `M` (53 to 63), `L` (63
/// to 73) and `XL` (73 and more) by Reg. 2023/2465 with about their middle; `small`, `medium`, `large`, `extra large` and `jumbo` by the
/// least average of a dozen of 18, 21, 24, 27 and 30 oz.
struct EggClass {
  std::string_view name;
  double in_shell_g = 0;
};
std::span<const EggClass> egg_classes();

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
