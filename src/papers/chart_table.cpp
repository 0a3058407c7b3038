#include <algorithm>
#include <cassert>
#include <cmath>

#include "chart_samples.h"
#include "tierproof/papers/chart.h"

namespace tierproof {
namespace papers {
namespace {

std::int64_t parts_of(Temperature value) { return (value - Temperature{}).to_parts(); }

/// Tells whether a gap lies between two instants; asked in time order.
class GapsBetween {
 public:
  explicit GapsBetween(const std::vector<Gap>& gaps) : gaps_{gaps} {
    std::sort(gaps_.begin(), gaps_.end(), [](const Gap& a, const Gap& b) { return a.from < b.from; });
  }
  bool any(Instant from, Instant to) {
    while (next_ < gaps_.size() && gaps_[next_].to <= from) ++next_;
    return next_ < gaps_.size() && gaps_[next_].from < to;
  }

 private:
  std::vector<Gap> gaps_;
  std::size_t next_ = 0;
};

/// The reading by which most had been shown.
std::optional<Instant> most_shown(const Chart& chart) {
  if (!chart.bound || chart.bound->shown.empty()) return std::nullopt;
  return std::max_element(chart.bound->shown.begin(), chart.bound->shown.end(),
                          [](const ShownSoFar& a, const ShownSoFar& b) { return a.lower < b.lower; })
      ->at;
}

/// Places in `Chart::readings`, in order.
std::vector<std::size_t> told_readings(const Chart& chart, std::size_t most) {
  std::vector<std::size_t> told;
  if (chart.readings.size() <= most) {
    for (std::size_t i = 0; i < chart.readings.size(); ++i) told.push_back(i);
    return told;
  }
  Axes axes;
  axes.right = 1'000'000;
  set_times(chart, axes);
  const std::vector<Sample> samples = samples_of(chart, axes);
  const std::vector<std::int64_t> levels = levels_of(chart);
  assert(most > most_kept(levels.size()));
  std::vector<KeptSample> kept;
  for (auto parts = static_cast<Micrometres>(most); parts > 0; parts = parts * 2 / 3) {
    kept = decimate(samples, axes.right / parts + 1, levels);
    if (kept.size() < most) break;  // one is left for what was shown
  }
  for (const KeptSample& sample : kept) told.push_back(sample.index);
  if (const auto at = most_shown(chart)) {
    const auto found =
        std::find_if(chart.readings.begin(), chart.readings.end(), [&](const Reading& reading) { return reading.at == *at; });
    const auto index = static_cast<std::size_t>(found - chart.readings.begin());
    const auto place = std::lower_bound(told.begin(), told.end(), index);
    if (found != chart.readings.end() && (place == told.end() || *place != index)) told.insert(place, index);
  }
  return told;
}

}  // namespace

void set_times(const Chart& chart, Axes& axes) {
  axes.from = chart.from;
  axes.to = chart.to;
  if (!chart.readings.empty()) {
    axes.from = std::min(axes.from, chart.readings.front().at);
    axes.to = std::max(axes.to, chart.readings.back().at);
  }
  if (axes.to <= axes.from) axes.to = axes.from + Span{std::chrono::minutes{1}};
}

std::vector<Sample> samples_of(const Chart& chart, const Axes& axes) {
  assert(std::is_sorted(chart.readings.begin(), chart.readings.end(), [](const Reading& a, const Reading& b) { return a.at < b.at; }));
  GapsBetween gaps{chart.gaps};
  std::vector<Sample> samples;
  samples.reserve(chart.readings.size());
  const Reading* before = nullptr;
  for (const Reading& reading : chart.readings) {
    Sample sample;
    sample.x = axes.x(reading.at) - axes.left;
    if (reading.temperature) sample.value = parts_of(*reading.temperature);
    sample.joined = before != nullptr && before->temperature && reading.temperature && !gaps.any(before->at, reading.at);
    samples.push_back(sample);
    before = &reading;
  }
  return samples;
}

std::vector<Sample> bound_samples_of(const Chart& chart, const Axes& axes) {
  GapsBetween gaps{chart.gaps};
  std::vector<Sample> samples;
  const ShownSoFar* before = nullptr;
  for (const ShownSoFar& shown : chart.bound->shown) {
    samples.push_back(
        {axes.x(shown.at) - axes.left, std::llround(shown.lower.count() * 60'000.0), before != nullptr && !gaps.any(before->at, shown.at)});
    before = &shown;
  }
  return samples;
}

std::vector<std::int64_t> levels_of(const Chart& chart) {
  std::vector<std::int64_t> levels;
  if (chart.limit) levels.push_back(parts_of(*chart.limit));
  if (chart.allowance && chart.allowance->up_to) levels.push_back(parts_of(*chart.allowance->up_to));
  return levels;
}

}  // namespace papers

ChartTable chart_table(const Chart& chart, std::size_t most) {
  ChartTable table;
  std::size_t next = 0;  // in what a heat step had shown
  for (const std::size_t index : papers::told_readings(chart, most)) {
    const Reading& reading = chart.readings[index];
    ChartRow row{index, reading.at, papers::offset_of(chart, reading.at), reading.temperature, std::nullopt};
    if (chart.bound) {
      const auto& shown = chart.bound->shown;
      while (next < shown.size() && shown[next].at < reading.at) ++next;
      if (next < shown.size() && shown[next].at == reading.at) row.shown = shown[next].lower;
    }
    table.readings.push_back(row);
  }
  for (const ChartStay& stay : chart.stays) table.stays.push_back({stay, extremes_in(chart.readings, stay.from, stay.to)});
  return table;
}

}  // namespace tierproof
