#include "chart_strip.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof::papers {
namespace {

constexpr Micrometres inside_bar = 600;  ///< between the end of a bar and its words
constexpr Micrometres clear = 1200;      ///< between neighbours in one strip

struct Extents {
  Micrometres left = 0;
  Micrometres right = 0;
};

}  // namespace

StayBars stay_bars(const Chart& chart, const Axes& axes, const std::function<Micrometres(const std::string&)>& width_of) {
  StayBars placed;
  std::vector<std::vector<Extents>> taken;
  for (std::size_t i = 0; i < chart.stays.size(); ++i) {
    const ChartStay& stay = chart.stays[i];
    if (stay.to < axes.from || stay.from > axes.to) continue;
    StayBar bar;
    bar.left = axes.x(stay.from);
    bar.right = axes.x(stay.to);
    bar.begins = stay.from >= axes.from;
    bar.ends = stay.to <= axes.to;
    Extents all;
    for (const std::string& words : {stay.name, fmt::format("{}", i + 1)}) {
      const Micrometres wide = width_of(words);
      bar.words = words;
      if (wide + 2 * inside_bar <= bar.right - bar.left) {
        bar.words_left = bar.left + inside_bar;
      } else if (bar.right + inside_bar + wide <= axes.right) {
        bar.words_left = bar.right + inside_bar;
      } else if (bar.left - inside_bar - wide >= axes.left) {
        bar.words_left = bar.left - inside_bar - wide;
      } else {
        continue;
      }
      all = {std::min(bar.left, bar.words_left), std::max(bar.right, bar.words_left + wide)};
      break;
    }
    const auto free = [&](const std::vector<Extents>& lane) {
      return std::all_of(lane.begin(), lane.end(),
                         [&](const Extents& other) { return other.right + clear <= all.left || all.right + clear <= other.left; });
    };
    const auto lane = std::find_if(taken.begin(), taken.end(), free);
    if (lane == taken.end() && taken.size() == most_lanes) {
      ++placed.left_out;
      continue;
    }
    bar.lane = static_cast<std::size_t>(lane - taken.begin());
    if (lane == taken.end()) taken.emplace_back();
    taken[bar.lane].push_back(all);
    placed.bars.push_back(std::move(bar));
  }
  placed.lanes = taken.size();
  return placed;
}

std::vector<Micrometres> spread_out(std::vector<Micrometres> wanted, const std::vector<Micrometres>& heights, Micrometres lowest) {
  Micrometres end = 0;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    wanted[i] = std::max(wanted[i], end);
    end = wanted[i] + heights[i];
  }
  Micrometres begin = lowest;
  for (std::size_t i = wanted.size(); i-- > 0;) {
    wanted[i] = std::min(wanted[i], begin - heights[i]);
    begin = wanted[i];
  }
  return wanted;
}

}  // namespace tierproof::papers
