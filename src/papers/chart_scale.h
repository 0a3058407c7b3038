#pragma once

#include <string>
#include <vector>

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof::papers {

/// The axes: instants and temperatures to micrometres within the plot.
struct Axes {
  Instant from{};
  Instant to{};
  Temperature low;
  Temperature high;
  Micrometres left = 0;
  Micrometres right = 0;
  Micrometres top = 0;
  Micrometres bottom = 0;

  Micrometres x(Instant at) const;  ///< held within the axis
  Micrometres y(Temperature value) const;
};

/// Whole degrees around all that is drawn, in steps that give at most six of them.
struct DegreeTicks {
  int low = 0;
  int high = 0;
  int step = 1;
};
DegreeTicks degree_ticks(const Chart& chart);
Temperature on_scale(int degrees, Scale scale);
/// `4.45 °C`, `−18 °C`: to the hundredth, no zeros at the end.
std::string degrees_words(Temperature value, Scale scale);

/// Steps of the lower plot of a heat step, in whole seconds, from nothing up.
struct MinuteTicks {
  std::int64_t step_s = 1;
  std::int64_t top_s = 1;  ///< a multiple of the step; more than what is wanted, and of what was reached at most twice what is wanted
};
MinuteTicks minute_ticks(const ChartBound& bound);

/// A clock time to be marked.
struct ClockTick {
  Instant at{};
  Offset offset;
  bool whole_day = false;  ///< the ticks are days apart: the clock is not told
};
/// Marks at whole local times, at most ten of them: they begin anew at every change of the clocks.
std::vector<ClockTick> clock_ticks(const Chart& chart, Instant from, Instant to);

/// The offset that holds at `at`.
Offset offset_of(const Chart& chart, Instant at);
/// `UTC`, `UTC+1`, `UTC−3:30`
std::string offset_words(Offset offset);
/// The changes of the clocks within `from`..`to`, with the offset from before each.
struct ShownClockChange {
  Instant at{};
  Offset before;
  Offset after;
};
std::vector<ShownClockChange> clock_changes_in(const Chart& chart, Instant from, Instant to);
/// `forward 1 h`, `back 30 min`
std::string clock_change_words(const ShownClockChange& change);

/// `2 May`
std::string day_and_month(Date date);

/// `2 min 10 s`: whole seconds, rounded down, as findings tell it.
std::string minutes_words(Minutes minutes);

}  // namespace tierproof::papers
