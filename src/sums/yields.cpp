#include "tierproof/sums/yields.h"

#include <algorithm>
#include <stdexcept>
#include <vector>

namespace tierproof {
namespace {

void require_balance(double in, double water_in) {
  if (!(in > 0)) throw std::invalid_argument{"something has to go in"};
  if (water_in < 0 || water_in > 1) throw std::invalid_argument{"water is a share of 0 to 1"};
}

}  // namespace

std::optional<Drying> drying(double in, double water_in, double out) {
  require_balance(in, water_in);
  if (!(out > 0)) throw std::invalid_argument{"something has to come out"};
  const double dry = in * (1 - water_in);
  if (out < dry || out > in) return std::nullopt;
  return Drying{1 - out / in, 1 - dry / out};
}

double mass_at_water(double in, double water_in, double water_out) {
  require_balance(in, water_in);
  if (water_out < 0 || water_out >= 1) throw std::invalid_argument{"water is a share of 0 to 1, and not all"};
  return in * (1 - water_in) / (1 - water_out);
}

std::optional<LossSpread> loss_spread(std::span<const double> losses) {
  if (losses.empty()) return std::nullopt;
  std::vector<double> sorted{losses.begin(), losses.end()};
  std::sort(sorted.begin(), sorted.end());
  const std::size_t half = sorted.size() / 2;
  const double middle = sorted.size() % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
  return LossSpread{static_cast<int>(sorted.size()), sorted.front(), middle, sorted.back()};
}

}  // namespace tierproof
