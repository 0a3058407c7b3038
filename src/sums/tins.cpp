#include "tierproof/sums/tins.h"

#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace tierproof {
namespace {

constexpr double millilitres_per_cubic_inch = 2.54 * 2.54 * 2.54;
constexpr double eaten = 0.88, white_of_eaten = 0.66;

/// Of all its tins together, in units of a square or a cube of the length.
Share content_of(const ExactTins& tins, bool with_depth) {
  if (tins.across <= 0 || tins.depth <= 0 || tins.count <= 0) throw std::invalid_argument{"tins have a size and a number"};
  Share content = Share{tins.across} * tins.across * tins.count;
  if (with_depth) content *= tins.depth;
  if (tins.round) content *= share_of(3'141'592'653'589'793, 4'000'000'000'000'000);
  return content;
}

Share ratio_of(const ExactTins& from, std::span<const ExactTins> to, bool with_depth) {
  Share all = 0;
  for (const auto& tins : to) all += content_of(tins, with_depth);
  return Share{all / content_of(from, with_depth)};
}

}  // namespace

double area_of(const Tin& tin) {
  if (!(tin.across > 0)) throw std::invalid_argument{"a tin is so many inches across"};
  return tin.across * tin.across * (tin.round ? std::numbers::pi / 4 : 1);
}

double volume_of(const Tin& tin) {
  if (!(tin.depth > 0)) throw std::invalid_argument{"a tin is so many inches deep"};
  return area_of(tin) * tin.depth * millilitres_per_cubic_inch;
}

double tin_factor(const Tin& from, const Tin& to) { return volume_of(to) / volume_of(from); }

Share volume_factor(const ExactTins& from, std::span<const ExactTins> to) { return ratio_of(from, to, true); }

Share area_factor(const ExactTins& from, std::span<const ExactTins> to) { return ratio_of(from, to, false); }

int portions_of(double area, bool small, double across_in, double along_in) {
  if (!(area > 0) || !(across_in > 0) || !(along_in > 0)) throw std::invalid_argument{"cake and portion have a size"};
  return static_cast<int>(std::floor(area * (small ? 0.85 : 0.90) / (across_in * along_in)));
}

std::span<const KitchenMeasure> kitchen_measures() {
  static constexpr std::array<KitchenMeasure, 11> measures{{{"cup-250", millilitres_per_metric_cup},
                                                            {"cup-236.6", millilitres_per_us_cup},
                                                            {"tbsp-20", 20},
                                                            {"tbsp-15", 15},
                                                            {"tbsp-14.8", millilitres_per_us_cup / 16},
                                                            {"tsp-5", 5},
                                                            {"tsp-4.9", millilitres_per_us_cup / 48},
                                                            {"floz-28.4", 28.4130625},
                                                            {"floz-29.6", millilitres_per_us_cup / 8},
                                                            {"pint-568", 568.26125},
                                                            {"ml", 1}}};
  return measures;
}

std::span<const EggClass> egg_classes() {
  static constexpr std::array<EggClass, 9> classes{{{"S", 48},
                                                    {"M", 58},
                                                    {"L", 68},
                                                    {"XL", 76},
                                                    {"small", 42.5},
                                                    {"medium", 49.6},
                                                    {"large", 56.7},
                                                    {"extra large", 63.8},
                                                    {"jumbo", 70.9}}};
  return classes;
}

EggParts parts_of_eggs(int eggs, double in_shell_g) {
  const double edible = eggs * in_shell_g * eaten;
  return {edible * white_of_eaten, edible * (1 - white_of_eaten)};
}

int eggs_for_white(double white_g, double white_each_g) {
  if (!(white_g > 0) || !(white_each_g > 0)) throw std::invalid_argument{"white is so many grams"};
  return static_cast<int>(std::ceil(white_g / white_each_g));
}

}  // namespace tierproof
