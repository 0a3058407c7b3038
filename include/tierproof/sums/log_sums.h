#pragma once

#include <optional>
#include <vector>

#include "tierproof/sums/heat.h"
#include "tierproof/units/sample.h"

namespace tierproof {

/// A stretch between two rows of a log that nothing vouches for.
struct LogGap {
  LogTime from{};
  LogTime to{};
};

/// What a heat step has to show, and by which reference.
struct LogHeatTerms {
  FineCelsius reference;
  FineCelsius z;
  std::optional<FineCelsius> floor;    ///< lowest temperature that the reference was tested at: nothing counts below it
  std::optional<FineCelsius> ceiling;  ///< the highest: what is warmer counts as this
  FineCelsius error;                   ///< of the thermometer
  LogTime longest_step{};              ///< between two rows; a longer one is a gap
  Minutes need{};                      ///< at the reference
};

struct LogHeat {
  Minutes lower{};      ///< T less the error, colder end of each step
  Minutes exact{};      ///< integral of the straight line between rows
  Minutes trapezoid{};  ///< mean of the rates at both ends; over-credits a ramp, never judged on
  Minutes upper{};      ///< T with the error, warmer end of each step
  LogTime gap{};        ///< all gaps together; they add nothing to any of the four
  /// `shown`: lower >= need. `not met`: upper < need, over a log that has time in it and no gap. `outside the model`: that, but without
  /// floor and ceiling the upper bound would reach the need, so only the untested part of the range could meet it. Else `not shown`.
  Verdict verdict = Verdict::not_shown;
};

/// As `demonstrated_time`, of a log that is taken row by row and never held.
/// @source log-linear model (Bigelow 1921), as `demonstrated_time`
class HeatOfLog {
 public:
  /// @throws std::invalid_argument for terms that mean nothing: z, need or longest step not above 0, ceiling under floor, a negative error
  explicit HeatOfLog(const LogHeatTerms& terms);
  /// @pre later than the row before it
  void take(const Sample& sample);
  LogHeat told() const;

 private:
  LogHeatTerms terms_;
  std::optional<Sample> last_;
  bool timed_ = false;
  double lower_ = 0, exact_ = 0, trapezoid_ = 0, upper_ = 0;  // microseconds at the reference: whole ones stay exact
  double untested_ = 0;                                       // as `upper_`, without floor and ceiling
  LogTime gap_{};
};

/// One time above a limit, in a log. With an error of 0 as `Excursion`; with one, the stretch in which T with the error was above.
struct LogExcursion {
  double from_us = 0;              ///< where T with the error crosses the limit, by the straight line; the row itself at an open end
  double to_us = 0;                ///< where it comes back
  LogTime least{};                 ///< between rows that are above even less the error
  double estimate_us = 0;          ///< T itself, by the straight line
  std::optional<LogTime> longest;  ///< first row back − last row before; nothing while it is open at a gap or an end of the log
  FineCelsius peak;                ///< as read
  double area_us = 0;              ///< over the limit by the straight line, T itself, °C µs
};

struct LogStayTerms {
  FineCelsius limit;  ///< equal to it is within it
  FineCelsius error;
  LogTime longest_step{};
};

struct LogStay {
  std::vector<LogExcursion> excursions;
  std::vector<LogGap> gaps;
  double coverage = 0;  ///< share of the time from the first row to the last that no gap takes, 0..1; 0 of no time at all
  bool kept() const { return excursions.empty() && gaps.empty() && coverage > 0; }
};

/// As `excursions_above` and `gaps_in`, of a log that is taken row by row. Nothing is bridged: an excursion that meets a gap is open.
class StayOfLog {
 public:
  /// @throws std::invalid_argument for a negative error or a longest step that is not above 0
  explicit StayOfLog(const LogStayTerms& terms);
  /// @pre later than the row before it
  void take(const Sample& sample);
  LogStay told() const;

 private:
  bool maybe_above(const Sample& s) const { return s.read && *s.read + terms_.error > terms_.limit; }
  void begin(const Sample& now, bool joined);
  void add_step(const Sample& a, const Sample& b);
  void end(const Sample* back);

  LogStayTerms terms_;
  std::optional<Sample> first_, last_;
  std::optional<LogExcursion> open_;
  std::optional<LogTime> before_;  ///< last row before the open excursion, where its step counts
  std::vector<LogExcursion> excursions_;
  std::vector<LogGap> gaps_;
  LogTime uncovered_{};
};

}  // namespace tierproof
