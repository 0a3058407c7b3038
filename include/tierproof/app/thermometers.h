#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/sums/probe.h"

namespace tierproof {

/// A batch or cake that a doubtful reading vouched for, and where it is now.
struct DoubtfulFood {
  std::string id;                 ///< `batch-2`, `cake-1`
  std::string name;               ///< of the recipe, or of the cake
  std::vector<std::string> ways;  ///< `fork thermometer measured it`
  std::string where;  ///< `in cake fridge, 300 g left`, `used up`, `handed over 2 May 2026, 10:00, to the customer`, `thrown away`
};

/// A check that failed, with what it makes doubtful.
struct FailedCheck {
  std::uint64_t note = 0;
  std::string thermometer;         ///< short name
  std::string name;                ///< what the kitchen calls it
  std::string made;                ///< `8 May 2026, 08:00`
  std::string words;               ///< `read 2.4 °C in ice, should be 0 °C ± 1 °C`
  std::string from;                ///< the moment of the last good check before; empty: there is none
  std::string until;               ///< when it was good again; empty: not yet
  std::vector<DoubtfulFood> food;  ///< batches, then cakes
};
/// Every failed check in force as of `at`, in the order that they were made, with the batches and cakes that rest on what the thermometer
/// read since its last good check and until it was good again (see `doubted_by`). Readings of a batch or cake itself count, those of the
/// places where it or a batch in it stood at that time, and between two readings of a series.
/// @param thermometer  short name; empty: all
/// @return             refused: no such thermometer, no rules in force that day
Result<std::vector<FailedCheck>> failed_checks(const Session& session, const std::string& thermometer, ZonedInstant at);

/// What a check came to, for whoever made it.
struct CheckTold {
  std::string name;  ///< of the thermometer
  bool good = false;
  std::string words;             ///< `read 0.2 °C in ice, should be 0 °C ± 1 °C`
  std::string pressure;          ///< in boiling water: which pressure that rests on; else empty
  std::string correction;        ///< how readings are corrected from here on, or empty
  std::optional<Date> next_due;  ///< of a good one
};
/// Of the note `sequence`; nothing if that is no check in force, or the rules say nothing of checks.
std::optional<CheckTold> check_told(const Session& session, std::uint64_t sequence);

/// Food that stands out of the cold now, although it has to be kept cold.
struct OutNow {
  std::string id;     ///< `batch-2`, `cake-1`
  std::string name;   ///< of the recipe, or of the cake
  std::string where;  ///< name of the place, or `nobody recorded where`
  Instant since{};
  Span out{};                           ///< in one stretch, until now
  std::vector<std::string> allowances;  ///< what the law allows, and what is left of it
};

/// A chilled place with something in it that nobody measures, or not any more.
struct SilentNow {
  std::string place;              ///< short name
  std::string thermometer;        ///< short name of the one that hangs there or was read last; empty: none ever was
  std::string words;              ///< `cake fridge logger in cake fridge`
  std::optional<Instant> last{};  ///< its last temperature
  std::optional<Span> silent{};   ///< since then
  std::vector<std::string> kept;  ///< batches and cakes that are there
};

/// What a thermometer's checks come to now.
struct CheckNow {
  std::string thermometer;  ///< short name
  std::string name;
  CheckStanding standing;
};

/// Of every thermometer; none where the rules say nothing of checks.
std::vector<CheckNow> thermometers_now(const Session& session, const TemperatureTerms& terms, ZonedInstant at);

/// A batch of which something is left, or a cake that is built and still here, and where it is.
struct KeptNow {
  std::string id;
  std::string name;     ///< of the recipe, or of the cake
  std::string storage;  ///< `fridge`, `freezer`, `room`: how it has to be kept
  PlaceId place;        ///< empty: nobody recorded where
  Instant since{};
};
std::vector<KeptNow> kept_now(const Session& session, Instant at);

/// A last temperature of a place.
struct LastRead {
  ProbeId probe;
  std::string thermometer;  ///< its name
  Instant at{};
  Temperature read;
  TemperatureSpan error;  ///< the thermometer's
};
/// Of every thermometer's last temperature of `place` up to `at`: the warmest, its error added, of those that are no older than `within`;
/// where all are older, the newest.
std::optional<LastRead> last_read_in(const Session& session, const PlaceId& place, Instant at, Span within);

/// What needs somebody now.
struct RoundNow {
  std::vector<OutNow> out;
  std::vector<SilentNow> silent;
  Span longest_gap{};            ///< allowed between two readings of a chilled place
  std::vector<CheckNow> checks;  ///< of every thermometer
  /// Whether anything has to be done: something is out, silent, or a check is due, overdue, failed or was never made.
  bool wanting() const;
};
/// Looks round the kitchen as of `at`. Food that has to be kept cold: a batch of which something is left and whose recipe says so, a cake
/// that is built with such a batch, not thrown away and not handed over. Refused: no rules in force that day.
Result<RoundNow> look_round(const Session& session, ZonedInstant at);

}  // namespace tierproof
