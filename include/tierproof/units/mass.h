#pragma once

#include <compare>
#include <cstdint>

namespace tierproof {

/// A mass, held as whole milligrams so that the parts of a recipe add up to the batch exactly.
/// Range: any signed 64-bit count (a negative mass is a difference, never a quantity of food).
class Mass {
 public:
  constexpr Mass() = default;
  static constexpr Mass milligrams(std::int64_t n) { return Mass{n}; }
  constexpr std::int64_t to_milligrams() const { return mg_; }
  constexpr double to_grams() const { return static_cast<double>(mg_) / 1000.0; }
  friend constexpr Mass operator+(Mass a, Mass b) { return Mass{a.mg_ + b.mg_}; }
  friend constexpr Mass operator-(Mass a, Mass b) { return Mass{a.mg_ - b.mg_}; }
  constexpr Mass& operator+=(Mass other) {
    mg_ += other.mg_;
    return *this;
  }
  friend constexpr auto operator<=>(Mass, Mass) = default;

 private:
  constexpr explicit Mass(std::int64_t mg) : mg_{mg} {}
  std::int64_t mg_ = 0;
};

constexpr Mass grams(std::int64_t n) { return Mass::milligrams(n * 1000); }

}  // namespace tierproof
