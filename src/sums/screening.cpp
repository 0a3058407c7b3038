#include "tierproof/sums/screening.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "series.h"

namespace tierproof {
namespace {

constexpr double kelvin_of_zero = 273.15;
constexpr double activation = 10'000;  // K: 83.144 kJ/mol over 8.3144e-3 kJ/(mol K)

/// Of the Arrhenius law, without its constant.
double ageing(double celsius) { return std::exp(-activation / (celsius + kelvin_of_zero)); }
double kinetic_celsius(double sum, double whole) { return activation / -std::log(sum / whole) - kelvin_of_zero; }

bool counts(const std::optional<Sample>& last, const Sample& now, LogTime longest_step) {
  return last && last->read && now.read && now.at - last->at <= longest_step;
}
void require_length(bool holds) {
  if (!holds) throw std::invalid_argument{"step and time constant must be above 0"};
}

double squared(double x) { return x * x; }
double cubed(double x) { return x * x * x; }

}  // namespace

double SquareRootGrowth::rate_at(double celsius) const { return celsius > t_min_c ? squared(b * (celsius - t_min_c)) : 0.0; }

double growth_over(std::span<const Reading> readings, const SquareRootGrowth& growth, Span longest_step) {
  series::require_sensible({}, longest_step);
  const auto points = series::in_order(readings);
  double grown = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (!series::joined(points[i - 1], points[i], longest_step)) continue;
    const double hours = std::chrono::duration<double, std::ratio<3600>>{points[i].at - points[i - 1].at}.count();
    const double a = points[i - 1].t.to_celsius();
    const double b = points[i].t.to_celsius();
    if (a == b) {
      grown += hours * growth.rate_at(a);
      continue;
    }
    // (T - Tmin)^2 is above 0 below Tmin too: what lies there is cut off first.
    const double from = std::max(std::min(a, b) - growth.t_min_c, 0.0);
    const double to = std::max(std::max(a, b) - growth.t_min_c, 0.0);
    grown += hours / std::abs(b - a) * squared(growth.b) * (cubed(to) - cubed(from)) / 3;
  }
  return grown;
}

double CardinalGrowth::rate_at(double t) const {
  if (t <= t_min_c || t >= t_max_c) return 0;
  const double span = t_opt_c - t_min_c;
  return rate_at_optimum * (t - t_max_c) * squared(t - t_min_c) /
         (span * (span * (t - t_opt_c) - (t_opt_c - t_max_c) * (t_opt_c + t_min_c - 2 * t)));
}

double rate_moved(double rate, double from_c, double to_c, double t_min_c) { return rate * squared((to_c - t_min_c) / (from_c - t_min_c)); }

double mean_kinetic_c(std::span<const std::pair<double, double>> celsius_and_weight) {
  double whole = 0, sum = 0;
  for (const auto& [celsius, weight] : celsius_and_weight) {
    if (weight < 0) throw std::invalid_argument{"no weight is below 0"};
    whole += weight;
    sum += weight * ageing(celsius);
  }
  if (!(whole > 0)) throw std::invalid_argument{"a mean needs something to weigh"};
  return kinetic_celsius(sum, whole);
}

MeanKineticOfLog::MeanKineticOfLog(LogTime longest_step) : longest_step_{longest_step} { require_length(longest_step > LogTime{}); }

void MeanKineticOfLog::take(const Sample& now) {
  if (counts(last_, now, longest_step_)) {
    const auto step = static_cast<double>((now.at - last_->at).count());
    whole_ += step;
    sum_ += step * (ageing(last_->read->to_celsius()) + ageing(now.read->to_celsius())) / 2;
  }
  last_ = now;
}

std::optional<double> MeanKineticOfLog::celsius() const { return whole_ > 0 ? std::optional{kinetic_celsius(sum_, whole_)} : std::nullopt; }

BufferOfLog::BufferOfLog(Minutes tau, LogTime longest_step) : tau_{tau}, longest_step_{longest_step} {
  require_length(tau > Minutes{} && longest_step > LogTime{});
}

void BufferOfLog::take(const Sample& now) {
  if (now.read) {
    const double air = now.read->to_celsius();
    if (counts(last_, now, longest_step_)) {
      now_ += (air - now_) * -std::expm1(-Minutes{now.at - last_->at} / tau_);
    } else {
      now_ = air;
    }
    warmest_ = std::max(warmest_.value_or(now_), now_);
  }
  last_ = now;
}

std::vector<double> buffered(std::span<const double> air_c, double start_c, Minutes step, Minutes tau) {
  require_length(step > Minutes{} && tau > Minutes{});
  std::vector<double> buffer;
  double now = start_c;
  for (const double air : air_c) {
    if (!buffer.empty()) now += (air - now) * -std::expm1(-step / tau);
    buffer.push_back(now);
  }
  return buffer;
}

}  // namespace tierproof
