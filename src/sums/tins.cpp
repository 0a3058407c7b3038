#include "tierproof/sums/tins.h"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace tierproof {
namespace {

constexpr double millilitres_per_cubic_inch = 2.54 * 2.54 * 2.54;
constexpr double eaten = 0.88, white_of_eaten = 0.66;

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

EggParts parts_of_eggs(int eggs, double in_shell_g) {
  const double edible = eggs * in_shell_g * eaten;
  return {edible * white_of_eaten, edible * (1 - white_of_eaten)};
}

int eggs_for_white(double white_g, double white_each_g) {
  if (!(white_g > 0) || !(white_each_g > 0)) throw std::invalid_argument{"white is so many grams"};
  return static_cast<int>(std::ceil(white_g / white_each_g));
}

}  // namespace tierproof
