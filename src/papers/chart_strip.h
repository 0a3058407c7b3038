#pragma once

#include <functional>
#include <string>
#include <vector>

#include "chart_scale.h"

namespace tierproof::papers {

/// One stay on the strips above a plot: a bar with its words in it or beside it.
struct StayBar {
  std::size_t lane = 0;  ///< the strip, from the top
  Micrometres left = 0;
  Micrometres right = 0;
  bool begins = true;  ///< false: it began before the axis does
  bool ends = true;
  std::string words;  ///< its name, or where there is no room for that its number in the table
  Micrometres words_left = 0;
};

struct StayBars {
  std::vector<StayBar> bars;
  std::size_t lanes = 0;
  std::size_t left_out = 0;  ///< those that touch the axis and found no place
};

/// More strips would crowd the plot out.
constexpr std::size_t most_lanes = 6;

/// Gives every stay that touches the axis its place, clipped to the axis, each in the first strip where it and its words are clear of
/// those before it.
StayBars stay_bars(const Chart& chart, const Axes& axes, const std::function<Micrometres(const std::string&)>& width_of);

/// Tops of pieces of paper under each other, each as near to where it is wanted as the others allow, in their order.
/// @param wanted   tops, in order  @param heights  of each
std::vector<Micrometres> spread_out(std::vector<Micrometres> wanted, const std::vector<Micrometres>& heights, Micrometres lowest);

}  // namespace tierproof::papers
