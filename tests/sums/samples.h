#pragma once

#include <rapidcheck.h>

#include <cmath>
#include <utility>
#include <vector>

#include "readings.h"
#include "tierproof/sums/log_sums.h"

namespace tierproof::test {

/// Rows at minutes, in °C; NaN is a fault.
inline std::vector<Sample> samples(const std::vector<std::pair<double, double>>& rows) {
  std::vector<Sample> log;
  for (const auto& [at, degrees] : rows) {
    log.push_back({LogTime{std::llround(at * 60e6)}, std::isnan(degrees) ? std::nullopt : std::optional{fine_celsius(degrees)}});
  }
  return log;
}

/// The rows of a series that is in order, each instant once.
inline std::vector<Sample> samples_of(const std::vector<Reading>& series) {
  std::vector<Sample> log;
  for (const Reading& r : series) {
    const auto read = r.temperature ? std::optional{fine_celsius(r.temperature->to_celsius())} : std::nullopt;
    log.push_back({r.at.time_since_epoch(), read});
  }
  return log;
}

/// Up to 40 readings of 40 to 90 °C, steps of up to 80 s, some of them faults; in order, each instant once.
inline rc::Gen<std::vector<Reading>> a_series(bool with_faults = true) {
  return rc::gen::map(
      rc::gen::nonEmpty(rc::gen::container<std::vector<std::pair<int, int>>>(
          rc::gen::pair(rc::gen::inRange(1, 80), rc::gen::inRange(0, with_faults ? 5300 : 5000)))),
      [](const std::vector<std::pair<int, int>>& drawn) {
        std::vector<Reading> series;
        Instant at = minute(0);
        for (const auto& [seconds, hundredths] : drawn) {
          if (series.size() == 40) break;
          at += std::chrono::seconds{seconds};
          series.push_back({at, hundredths < 5000 ? std::optional{Temperature::hundredths_celsius(4000 + hundredths)} : std::nullopt});
        }
        return series;
      });
}

inline const LogHeatTerms log_at_70{fine_celsius(70), fine_celsius(7.5), std::nullopt, std::nullopt, {}, LogTime{60'000'000}, Minutes{2}};

inline LogHeat heat_of(const std::vector<Sample>& log, const LogHeatTerms& terms) {
  HeatOfLog sum{terms};
  for (const Sample& sample : log) sum.take(sample);
  return sum.told();
}
inline LogStay stay_of(const std::vector<Sample>& log, double limit, double error = 0, int longest_s = 1800) {
  StayOfLog sum{{fine_celsius(limit), fine_celsius(error), LogTime{std::chrono::seconds{longest_s}}}};
  for (const Sample& sample : log) sum.take(sample);
  return sum.told();
}

}  // namespace tierproof::test
