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
  std::vector<Reading> readings;  ///< in time order, corrected where the owner chose it; an instant with two values has none
  std::string how;                ///< `logger`, `typed then`, `typed late`; of corrected readings by which checks, and the highest as read
  bool typed_late = false;
  bool corrected = false;                 ///< some of the readings
  std::vector<std::uint64_t> taken_back;  ///< notes of readings that were voided; their instants are faults
};

/// One series a thermometer, from every block about `about` for `purpose`. It stands as long as `Session::worked_out` keeps it.
const std::vector<Series>& series_of(const Session& session, const std::string& about, std::string_view purpose);

/// The readings of `series` in `from`..`to`, with the last one before and the first one after.
std::vector<Reading> around(const std::vector<Reading>& readings, Instant from, Instant to);

/// The thermometer's error: its accuracy and half a step, in its own scale.
TemperatureSpan error_of(const Probe& probe);

/// The pressure that water boils under in this kitchen, kPa: that read with `check`, else the kitchen's, else by the altitude; nothing
/// where none of them is known.
std::optional<double> pressure_for(const Kitchen& kitchen, const ProbeCheckMade& check);

/// `terms` as they hold for `probe`: the kitchen may want it checked more often than the rules.
ProbeTerm term_for(const State& state, const ProbeId& probe, const ProbeTerm& terms);

/// What a syrup is boiled to here.
struct SyrupTarget {
  Temperature at;
  bool lowered = false;  ///< for the altitude
  bool known = true;     ///< false: it has to be lowered, and nobody knows where water boils here
  std::string told;      ///< after the evidence: `; the target of 118 °C at sea level is lowered for ...`, or empty
};
/// The target of a recipe that has one, lowered where it stands as at sea level (see `syrup_target_under`) and rounded up to the hundredth.
SyrupTarget syrup_target_of(const Kitchen& kitchen, const Recipe& recipe);

/// The checks of one thermometer in time order, each with what it should have read at the pressure of the moment or the place.
std::vector<ProbeCheck> checks_of(const State& state, const ProbeId& probe);

/// Whether the readings of `series` between two moments can be trusted by the rules.
Trust trust_of(const Session& session, const Series& series, Instant from, Instant to, const TemperatureTerms& terms, Offset offset);

}  // namespace tierproof
