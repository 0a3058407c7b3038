#pragma once

#include <chrono>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "tierproof/sums/heat.h"

namespace tierproof::test {

/// 1 May 2026, 08:00 UTC, and so many minutes after it.
inline Instant minute(double after) {
  using namespace std::chrono;
  return sys_days{year{2026} / 5 / 1} + hours{8} + milliseconds{static_cast<std::int64_t>(std::llround(after * 60'000))};
}
inline Span minutes_long(double length) { return minute(length) - minute(0); }

/// Readings at minutes, in °C; nothing is a fault.
using Shown = std::vector<std::pair<double, std::optional<double>>>;
inline std::vector<Reading> readings(const Shown& shown) {
  std::vector<Reading> series;
  for (const auto& [at, degrees] : shown) {
    series.push_back({minute(at), degrees ? std::optional{celsius(*degrees)} : std::nullopt});
  }
  return series;
}
/// `count` readings of one temperature, `step` minutes apart, from minute `from` on.
inline std::vector<Reading> steady(double degrees, int count, double step, double from = 0) {
  std::vector<Reading> series;
  for (int i = 0; i < count; ++i) series.push_back({minute(from + i * step), celsius(degrees)});
  return series;
}
inline std::vector<Reading> operator+(std::vector<Reading> a, const std::vector<Reading>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

inline Cited cited(const char* row) { return {row, "a row made for this test", false}; }

/// Rows of the shape of a real table, at most a minute between readings of a heat step and half an hour in the fridge.
inline TemperatureTerms terms_for_tests() {
  TemperatureTerms terms;
  terms.jurisdiction = "test";
  terms.heat_rows = {{cited("core-70"), "core of a cooked food", celsius(70), minutes_long(2)},
                     {cited("core-75"), "core of a cooked food", celsius(75), minutes_long(0.5)}};
  terms.egg_mix = {{cited("egg-mix"), share_of(12, 100)}};
  terms.chill = {{cited("chill-8"), celsius(8), "food", false}, {cited("chill-5"), celsius(5), "air", true}};
  terms.allowances = {{cited("warm-4h"), "service or display", minutes_long(240), true}};
  terms.gaps = {{cited("gap-heat"), "heat step", minutes_long(1)}, {cited("gap-cold"), "chilled hold", minutes_long(30)}};
  terms.probe = ProbeTerm{cited("probe"), kelvins(1), 7};
  return terms;
}

}  // namespace tierproof::test
