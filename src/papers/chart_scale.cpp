#include "chart_scale.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "tierproof/units/share.h"

namespace tierproof::papers {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

double degrees_of(Temperature value, Scale scale) { return scale == Scale::celsius ? value.to_celsius() : value.to_fahrenheit(); }

/// The first of the usual clock steps that gives at most nine marks.
Span clock_step(Span span) {
  constexpr std::array<Span, 21> steps{std::chrono::seconds{15},
                                       std::chrono::seconds{30},
                                       minutes{1},
                                       minutes{2},
                                       minutes{5},
                                       minutes{10},
                                       minutes{15},
                                       minutes{30},
                                       hours{1},
                                       hours{2},
                                       hours{3},
                                       hours{6},
                                       hours{12},
                                       hours{24},
                                       hours{48},
                                       hours{96},
                                       hours{168},
                                       hours{336},
                                       hours{672},
                                       hours{2016},
                                       hours{8064}};
  for (const Span step : steps) {
    if (span / step <= 8) return step;
  }
  return span / 8 + Span{1};
}

}  // namespace

Micrometres Axes::x(Instant at) const {
  const Instant held = std::clamp(at, from, to);
  return left + (held - from).count() * (right - left) / (to - from).count();
}
Micrometres Axes::y(Temperature value) const { return bottom - (value - low).to_parts() * (bottom - top) / (high - low).to_parts(); }

Temperature on_scale(int degrees, Scale scale) { return Degrees{std::int64_t{degrees} * 100, scale}.temperature(); }

DegreeTicks degree_ticks(const Chart& chart) {
  std::vector<double> values;
  for (const Reading& reading : chart.readings) {
    if (reading.temperature) values.push_back(degrees_of(*reading.temperature, chart.scale));
  }
  if (chart.limit) values.push_back(degrees_of(*chart.limit, chart.scale));
  if (chart.allowance && chart.allowance->up_to) values.push_back(degrees_of(*chart.allowance->up_to, chart.scale));
  if (values.empty()) values = {0.0, 10.0};
  const double least = *std::min_element(values.begin(), values.end());
  const double most = *std::max_element(values.begin(), values.end());
  DegreeTicks ticks;
  for (const int step : {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}) {
    ticks.step = step;
    ticks.low = static_cast<int>(std::floor((least - 0.1 * step) / step)) * step;
    ticks.high = static_cast<int>(std::ceil((most + 0.1 * step) / step)) * step;
    if ((ticks.high - ticks.low) / step <= 6) break;
  }
  return ticks;
}

std::string degrees_words(Temperature value, Scale scale) {
  const auto hundredths = static_cast<std::int64_t>(std::llround(degrees_of(value, scale) * 100.0));
  const std::int64_t size = hundredths < 0 ? -hundredths : hundredths;
  const std::string text = fmt::format("{}{}.{:02}", hundredths < 0 ? "−" : "", size / 100, size % 100);
  return short_decimal(text) + (scale == Scale::celsius ? " °C" : " °F");
}

MinuteTicks minute_ticks(const ChartBound& bound) {
  Minutes most = Minutes{bound.wanted};
  for (const ShownSoFar& shown : bound.shown) most = std::max(most, shown.lower);
  // More than twice what is wanted is cut off, so that what is wanted stays to be seen.
  const double top = std::min(most, 2 * Minutes{bound.wanted}).count() * 60.0 * 1.1;
  MinuteTicks ticks;
  for (const std::int64_t step : {1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 43200, 86400}) {
    ticks.step_s = step;
    ticks.top_s = (static_cast<std::int64_t>(top) / step + 1) * step;
    if (ticks.top_s / step <= 4) break;
  }
  return ticks;
}

std::vector<ClockTick> clock_ticks(const Chart& chart, Instant from, Instant to) {
  const Span step = clock_step(to - from);
  std::vector<ClockTick> ticks;
  const auto add = [&](Instant begin, Instant end, bool with_end, Offset offset) {
    const Span shift = minutes{offset.minutes};
    const Span first = begin.time_since_epoch() + shift;
    Span local = first / step * step;
    if (local < first) local += step;
    for (; Instant{local - shift} < end || (with_end && Instant{local - shift} == end); local += step)
      ticks.push_back({Instant{local - shift}, offset, step >= Span{hours{24}}});
  };
  Instant begin = from;
  for (const ShownClockChange& change : clock_changes_in(chart, from, to)) {
    add(begin, change.at, false, change.before);
    begin = change.at;
  }
  add(begin, to, true, offset_of(chart, to));
  return ticks;
}

Offset offset_of(const Chart& chart, Instant at) {
  Offset offset = chart.offset;
  for (const ClockChange& change : chart.clock_changes) {
    if (change.at <= at) offset = change.offset;
  }
  return offset;
}

std::string offset_words(Offset offset) {
  const int size = offset.minutes < 0 ? -offset.minutes : offset.minutes;
  if (size == 0) return "UTC";
  return fmt::format("UTC{}{}{}", offset.minutes < 0 ? "−" : "+", size / 60, size % 60 == 0 ? "" : fmt::format(":{:02}", size % 60));
}

std::vector<ShownClockChange> clock_changes_in(const Chart& chart, Instant from, Instant to) {
  std::vector<ShownClockChange> shown;
  Offset before = chart.offset;
  for (const ClockChange& change : chart.clock_changes) {
    if (change.at > from && change.at <= to && change.offset != before) shown.push_back({change.at, before, change.offset});
    before = change.offset;
  }
  return shown;
}

std::string clock_change_words(const ShownClockChange& change) {
  const int by = change.after.minutes - change.before.minutes;
  return fmt::format("{} {}", by < 0 ? "back" : "forward", format_span(minutes{by < 0 ? -by : by}));
}

std::string day_and_month(Date date) {
  const std::string whole = format_date_long(date);
  return whole.substr(0, whole.rfind(' '));
}

std::string minutes_words(Minutes value) { return format_span(std::chrono::duration_cast<Span>(value)); }

}  // namespace tierproof::papers
