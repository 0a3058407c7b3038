#pragma once

#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "tierproof/sums/heat.h"
#include "tierproof/units/sample.h"

namespace tierproof {

// Screening estimates: information that may add a warning and never lifts a limit. They know nothing of toxin that is formed already,
// of how dry or sour the food is, or of other bacteria.

/// Growth by the square root model: `sqrt(r) = b (T - Tmin)` above Tmin, nothing at or below it.
struct SquareRootGrowth {
  double b = 0;
  double t_min_c = 0;
  /// log10 an hour (or of whatever `b` is).
  double rate_at(double celsius) const;
};
/// The growth over a series without any lag, by the exact integral of the straight lines between readings, in log10. Nothing is bridged
/// over a step longer than `longest_step`, so a series with gaps gives less than there was.
/// @param series  in any order
double growth_over(std::span<const Reading> series, const SquareRootGrowth& growth, Span longest_step);

/// Growth by the cardinal temperature model (Rosso et al. 1993, form from memory); nothing outside Tmin..Tmax.
struct CardinalGrowth {
  double t_min_c = 0, t_opt_c = 0, t_max_c = 0;
  double rate_at_optimum = 0;
  double rate_at(double celsius) const;
};

/// A rate measured at one temperature as it would be at another by the square root model.
double rate_moved(double rate, double from_c, double to_c, double t_min_c);

/// The mean kinetic temperature in °C of temperatures (°C) with their weights; activation energy 83.144 kJ/mol, which is 10000 K
/// over the gas constant (USP general chapter 1160). For ageing by chemistry; it excuses no limit and says nothing of growth.
/// @throws std::invalid_argument where no weight is above 0 or one is below
double mean_kinetic_c(std::span<const std::pair<double, double>> celsius_and_weight);

/// The same of a log that is taken row by row: each end of a step that is no gap counts for half of it.
class MeanKineticOfLog {
 public:
  /// @throws std::invalid_argument unless the longest step is above 0
  explicit MeanKineticOfLog(LogTime longest_step);
  void take(const Sample& sample);
  std::optional<double> celsius() const;  ///< nothing without a step that counts

 private:
  LogTime longest_step_;
  std::optional<Sample> last_;
  double whole_ = 0, sum_ = 0;
};

/// What a thermometer in a buffer of time constant `tau` would have read at the most, of a log that is taken row by row: `buffered` over
/// steps of any length. It starts at the first reading, and again at the first one after a gap or a fault, since nothing is known of what
/// lay between.
class BufferOfLog {
 public:
  /// @throws std::invalid_argument unless tau and the longest step are above 0
  BufferOfLog(Minutes tau, LogTime longest_step);
  void take(const Sample& sample);
  std::optional<double> warmest() const { return warmest_; }  ///< °C; nothing without a reading

 private:
  Minutes tau_;
  LogTime longest_step_;
  std::optional<Sample> last_;
  double now_ = 0;
  std::optional<double> warmest_;
};

/// What a thermometer in a buffer of time constant `tau` would read, from readings of the air (°C) a fixed step apart; it starts at
/// `start_c`. An estimate: tau has to be measured. @throws std::invalid_argument unless step and tau are above 0
std::vector<double> buffered(std::span<const double> air_c, double start_c, Minutes step, Minutes tau);

}  // namespace tierproof
