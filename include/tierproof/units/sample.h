#pragma once

#include <chrono>
#include <compare>
#include <cstdint>
#include <optional>

namespace tierproof {

/// A temperature of a log, or a difference of two, in whole billionths of a degree Celsius: what a log writes with up to nine decimals
/// compares without rounding, so that a reading equal to its limit is equal.
class FineCelsius {
 public:
  constexpr FineCelsius() = default;
  static constexpr FineCelsius billionths(std::int64_t n) { return FineCelsius{n}; }
  constexpr double to_celsius() const { return static_cast<double>(billionths_) / 1e9; }
  constexpr double to_kelvins() const { return to_celsius(); }  ///< of a difference
  friend constexpr FineCelsius operator+(FineCelsius a, FineCelsius b) { return FineCelsius{a.billionths_ + b.billionths_}; }
  friend constexpr FineCelsius operator-(FineCelsius a, FineCelsius b) { return FineCelsius{a.billionths_ - b.billionths_}; }
  friend constexpr auto operator<=>(FineCelsius, FineCelsius) = default;

 private:
  constexpr explicit FineCelsius(std::int64_t n) : billionths_{n} {}
  std::int64_t billionths_ = 0;
};

/// The nearest billionth to `degrees`. @pre finite, within ±1,000,000
constexpr FineCelsius fine_celsius(double degrees) {
  const double billionths = degrees * 1e9;
  return FineCelsius::billionths(static_cast<std::int64_t>(billionths < 0 ? billionths - 0.5 : billionths + 0.5));
}

/// A time of a log, from whatever the log counts from (1970 where it writes instants).
using LogTime = std::chrono::microseconds;

/// One row of a log.
struct Sample {
  LogTime at{};
  std::optional<FineCelsius> read;  ///< nothing: the thermometer reported a fault
};

}  // namespace tierproof
