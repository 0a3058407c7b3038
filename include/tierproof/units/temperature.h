#pragma once

#include <compare>
#include <cstdint>

namespace tierproof {

/// A difference of two temperatures, held in whole 1/900 K so that hundredths of a degree Celsius (9/900) and of a degree
/// Fahrenheit (5/900) are both exact.
class TemperatureSpan {
 public:
  constexpr TemperatureSpan() = default;
  static constexpr TemperatureSpan parts(std::int64_t n) { return TemperatureSpan{n}; }
  static constexpr TemperatureSpan hundredths_celsius(std::int64_t n) { return TemperatureSpan{n * 9}; }
  static constexpr TemperatureSpan hundredths_fahrenheit(std::int64_t n) { return TemperatureSpan{n * 5}; }
  constexpr std::int64_t to_parts() const { return parts_; }
  constexpr double to_kelvins() const { return static_cast<double>(parts_) / 900.0; }
  friend constexpr TemperatureSpan operator+(TemperatureSpan a, TemperatureSpan b) { return TemperatureSpan{a.parts_ + b.parts_}; }
  friend constexpr TemperatureSpan operator-(TemperatureSpan a, TemperatureSpan b) { return TemperatureSpan{a.parts_ - b.parts_}; }
  friend constexpr TemperatureSpan operator-(TemperatureSpan a) { return TemperatureSpan{-a.parts_}; }
  friend constexpr auto operator<=>(TemperatureSpan, TemperatureSpan) = default;

 private:
  constexpr explicit TemperatureSpan(std::int64_t parts) : parts_{parts} {}
  std::int64_t parts_ = 0;
};

/// A temperature: a point, not a quantity. Two points subtract to a `TemperatureSpan`; they never add.
/// Held in whole 1/900 degrees above 0 degrees Celsius, so a reading in hundredths of C or F compares without rounding.
class Temperature {
 public:
  constexpr Temperature() = default;
  static constexpr Temperature hundredths_celsius(std::int64_t n) { return Temperature{n * 9}; }
  static constexpr Temperature hundredths_fahrenheit(std::int64_t n) { return Temperature{(n - 3200) * 5}; }
  constexpr double to_celsius() const { return static_cast<double>(parts_) / 900.0; }
  constexpr double to_fahrenheit() const { return static_cast<double>(parts_) / 500.0 + 32.0; }
  friend constexpr TemperatureSpan operator-(Temperature a, Temperature b) { return TemperatureSpan::parts(a.parts_ - b.parts_); }
  friend constexpr Temperature operator+(Temperature a, TemperatureSpan b) { return Temperature{a.parts_ + b.to_parts()}; }
  friend constexpr Temperature operator-(Temperature a, TemperatureSpan b) { return Temperature{a.parts_ - b.to_parts()}; }
  friend constexpr auto operator<=>(Temperature, Temperature) = default;

 private:
  constexpr explicit Temperature(std::int64_t parts) : parts_{parts} {}
  std::int64_t parts_ = 0;
};

/// `celsius(63.5)`: the nearest hundredth of a degree Celsius to `degrees`.
constexpr Temperature celsius(double degrees) {
  const double hundredths = degrees * 100.0;
  return Temperature::hundredths_celsius(static_cast<std::int64_t>(hundredths < 0 ? hundredths - 0.5 : hundredths + 0.5));
}
/// `kelvins(0.5)`: the nearest hundredth of a kelvin to `degrees`.
constexpr TemperatureSpan kelvins(double degrees) {
  const double hundredths = degrees * 100.0;
  return TemperatureSpan::hundredths_celsius(static_cast<std::int64_t>(hundredths < 0 ? hundredths - 0.5 : hundredths + 0.5));
}

/// The unit that a thermometer shows. A reading is kept in its own unit.
enum class Scale { celsius, fahrenheit };

/// What a thermometer showed: hundredths of a degree of its own scale, as read.
struct Degrees {
  std::int64_t hundredths = 0;
  Scale scale = Scale::celsius;
  constexpr Temperature temperature() const {
    return scale == Scale::celsius ? Temperature::hundredths_celsius(hundredths) : Temperature::hundredths_fahrenheit(hundredths);
  }
  friend constexpr bool operator==(Degrees, Degrees) = default;
};

}  // namespace tierproof
