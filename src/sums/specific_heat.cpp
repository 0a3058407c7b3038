#include "tierproof/sums/specific_heat.h"

namespace tierproof {
namespace {

double square_in(double t, double a, double b, double c) { return a + b * t + c * t * t; }

}  // namespace

double choi_okos_heat(const FoodShares& food, double t) {
  return food.water * square_in(t, 4.1762, -9.0864e-5, 5.4731e-6) + food.protein * square_in(t, 2.0082, 1.2089e-3, -1.3129e-6) +
         food.fat * square_in(t, 1.9842, 1.4733e-3, -4.8008e-6) + food.carbohydrate * square_in(t, 1.5488, 1.9625e-3, -5.9399e-6) +
         food.fibre * square_in(t, 1.8459, 1.8306e-3, -4.6509e-6) + food.ash * square_in(t, 1.0926, 1.8896e-3, -3.6817e-6);
}

double choi_okos_density(const FoodShares& food, double t) {
  return 1 / (food.water / square_in(t, 997.18, 3.1439e-3, -3.7574e-3) + food.protein / square_in(t, 1329.9, -0.5184, 0) +
              food.fat / square_in(t, 925.59, -0.41757, 0) + food.carbohydrate / square_in(t, 1599.1, -0.31046, 0) +
              food.fibre / square_in(t, 1311.5, -0.36589, 0) + food.ash / square_in(t, 2423.8, -0.28063, 0));
}

double sucrose_solution_heat(double solids, double t) {
  const double per_cent = solids * 100;
  return 4.1868 - 0.0251 * per_cent + 7.5e-5 * per_cent * t;
}

}  // namespace tierproof
