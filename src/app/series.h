#pragma once

#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/sums/probe.h"

namespace tierproof {

/// All readings of one thermometer about one thing for one purpose, with what vouches for them.
struct Series {
  ProbeId probe;
  std::string name;  ///< thermometer in words
  bool measures_food = false;
  TemperatureSpan error;
  std::vector<Reading> readings;  ///< in time order; an instant with two values has none
  std::string how;                ///< `logger`, `typed then`, `typed late`
  bool typed_late = false;
  std::vector<std::uint64_t> taken_back;  ///< notes of readings that were voided; their instants are faults
};

/// One series a thermometer, from every block about `about` for `purpose`.
std::vector<Series> series_of(const Session& session, const std::string& about, std::string_view purpose);

/// The readings of `series` in `from`..`to`, with the last one before and the first one after.
std::vector<Reading> around(const std::vector<Reading>& readings, Instant from, Instant to);

/// The checks of one thermometer in time order, each with what it should have read at the kitchen's pressure.
std::vector<ProbeCheck> checks_of(const State& state, const ProbeId& probe);

/// Whether the readings of `series` between two moments can be trusted by the rules.
Trust trust_of(const Session& session, const Series& series, Instant from, Instant to, const TemperatureTerms& terms, Offset offset);

Span longest_gap(const TemperatureTerms& terms, std::string_view use);

}  // namespace tierproof
