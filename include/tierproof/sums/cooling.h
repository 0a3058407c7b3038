#pragma once

#include <optional>
#include <span>

#include "tierproof/sums/heat.h"
#include "tierproof/units/sample.h"

namespace tierproof {

/// What one reading says against the three temperatures of a cooling rule, `from` > `via` > `to` (57, 21 and 5 °C): surely, that is even
/// less the thermometer's error, and perhaps, that is with the error added. A fault says nothing: not surely, but perhaps.
struct CoolingMarks {
  bool from_surely = false;  ///< at or above `from`
  bool from_perhaps = true;
  bool via_surely = false;  ///< above `via`
  bool via_perhaps = true;
  bool to_surely = false;  ///< above `to`
  bool to_perhaps = true;
};
/// A reading with its marks, and how far it lies above each temperature, for the estimate.
struct CoolingReading {
  CoolingMarks marks;
  struct Above {
    double from = 0, via = 0, to = 0;  ///< kelvins
  };
  std::optional<Above> above;  ///< nothing: a fault
};
template <class Point, class Error>
CoolingReading cooling_reading(const Point& t, const Error& error, const Point& from, const Point& via, const Point& to) {
  return {{t - error >= from, t + error >= from, t - error > via, t + error > via, t - error > to, t + error > to},
          CoolingReading::Above{(t - from).to_kelvins(), (t - via).to_kelvins(), (t - to).to_kelvins()}};
}

/// How long the stages may take. Either `total` (from `from` to `to`, counted from the start) or `second` (from `via` to `to`, further).
struct CoolingLimits {
  LogTime first{};  ///< from `from` to `via`
  std::optional<LogTime> total;
  std::optional<LogTime> second;
  std::optional<LogTime> whole{};  ///< with `second`: less than `first` and `second` together, from the start to `to`
};

/// How long one stage took, by bounds, and what that says.
struct CoolingStage {
  std::optional<LogTime> shortest;  ///< nothing: no reading was even perhaps at `from`
  std::optional<LogTime> longest;   ///< nothing: its start or its end is not recorded
  /// Between the crossings of the straight lines between readings, never judged on; nothing where one of them is not recorded.
  std::optional<double> estimate_us;
  Verdict verdict = Verdict::not_shown;
};

struct CoolingTold {
  CoolingStage first;                  ///< from `from` to `via`
  std::optional<CoolingStage> second;  ///< from `via` to `to`; only where `second` is limited
  CoolingStage total;                  ///< from `from` to `to`
  bool warmed_again = false;           ///< it was at `from` again after a reading that may have been below
  std::optional<LogTime> began;        ///< last reading surely at or above `from` before the first that may have been below
  std::optional<LogTime> ended;        ///< first reading surely at or below `to` that none perhaps above it follows
  bool shown() const { return first.verdict == Verdict::shown && total.verdict == Verdict::shown; }
};

/// The two stages of cooling, from readings that may be sparse: nothing is assumed of the time between two readings but that a
/// crossing lies in it.
///
/// The start cannot be earlier than the last reading surely at or above `from`, nor later than the first reading below after the last
/// that perhaps was. A stage ends at the latest with the first reading surely at or below its temperature that no reading perhaps above
/// follows, at the earliest with the last reading surely above. `shown`: the longest is within the limit. `not met`: the shortest is
/// beyond it. Else `not shown`; and always `not shown` without a reading surely at or above `from`, whatever follows.
/// Food that was at `from` again after a reading that may have been below is `shown` only if the stage is within its limit counted from
/// the first fall too. With `second`, `total` tells the whole from the start; it is `shown` only if the second stage is within its limit
/// and the whole within both together (within `whole` where that is less), and `not met` if either is surely beyond.
/// @source FDA Food Code 3-501.14(A) (57, 21, 5 °C; 2 h and 6 h in all); FSANZ Standard 3.2.2 clause 7(3) (60, 21, 5 °C; 2 h and a further
/// 4 h)
class RunningCooling {
 public:
  /// @throws std::invalid_argument unless the limits are above 0, `total` and `whole` are not below `first`, exactly one of `total` and
  /// `second` is set, and `whole` only with `second`
  explicit RunningCooling(const CoolingLimits& limits);
  /// @pre later than the reading before it
  void take(LogTime at, const CoolingReading& reading);
  CoolingTold told() const;

 private:
  struct End {
    std::optional<LogTime> last_above;  ///< surely
    std::optional<LogTime> at_or_below;
    std::optional<double> crossed_us;  ///< by the straight line, the last time
  };
  CoolingStage stage(const End& end) const;

  CoolingLimits limits_;
  std::optional<LogTime> start_;        ///< last reading surely at or above `from`
  std::optional<LogTime> first_start_;  ///< the same, before the first that may have been below
  bool fell_ = false;
  bool warmed_again_ = false;
  bool started_perhaps_ = false;
  std::optional<LogTime> below_;  ///< first reading surely below `from` after the last that perhaps was not
  std::optional<double> crossed_from_us_;
  End via_, to_;
  LogTime last_at_{};
  std::optional<CoolingReading::Above> last_;
};

/// The same of a series, in any order. A fault or a disputed instant is a reading that says nothing.
/// @throws std::invalid_argument as `RunningCooling`, for a negative error, and unless from > via > to
CoolingTold cooling_of(std::span<const Reading> series, Temperature from, Temperature via, Temperature to, TemperatureSpan error,
                       const CoolingLimits& limits);
/// The same by a row of the rules. Of one stage both `first` and `total` tell the whole; `second` is set where the row limits it.
/// @throws std::invalid_argument for a negative error
CoolingTold cooling_of(std::span<const Reading> series, const CoolingTerm& rule, TemperatureSpan error);

}  // namespace tierproof
