// A graph drawn in layers: nothing overlaps, lines lead onwards, and cross no more than they must.
#include "tierproof/sums/layers.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

namespace tierproof {
namespace {

constexpr LayerMeasures measures{50, 3, 2, 4, 6, 10, 40};

TraceGraph a_graph(std::size_t things, const std::vector<std::pair<std::size_t, std::size_t>>& edges) {
  TraceGraph graph;
  for (std::size_t i = 0; i < things; ++i) graph.things.push_back({std::to_string(i)});
  for (const auto& [from, to] : edges) graph.edges.push_back({from, to});
  return graph;
}
LayeredDrawing drawn(const TraceGraph& graph) {
  const std::vector<std::int64_t> heights(graph.things.size(), 12);
  return drawn_in_layers(graph, heights, measures);
}
std::vector<std::size_t> layers_of(const LayeredDrawing& drawing) {
  std::vector<std::size_t> layers;
  for (const DrawnBox& box : drawing.boxes) layers.push_back(box.layer);
  return layers;
}

/// Whether the straight line between two points has one within the box. Lines run from left to right.
bool runs_through(const DrawnPoint& a, const DrawnPoint& b, const DrawnBox& box) {
  if (b.x <= box.x || a.x >= box.x + box.width) return false;
  if (a.x < box.x || b.x > box.x + box.width) return true;  // lines cross the columns of boxes straight, from edge to edge
  return std::max(a.y, b.y) > box.y && std::min(a.y, b.y) < box.y + box.height;
}

/// What every drawing promises; a sentence for the first promise that is broken.
std::string broken(const TraceGraph& graph, const LayeredDrawing& drawing) {
  for (std::size_t a = 0; a < drawing.boxes.size(); ++a) {
    const DrawnBox& one = drawing.boxes[a];
    if (one.x < 0 || one.y < 0 || one.x + one.width > drawing.width || one.y + one.height > drawing.height) return "a box outside";
    for (std::size_t b = 0; b < a; ++b) {
      const DrawnBox& other = drawing.boxes[b];
      const bool apart = one.x + one.width <= other.x || other.x + other.width <= one.x || one.y + one.height <= other.y ||
                         other.y + other.height <= one.y;
      if (!apart) return "two boxes overlap";
    }
  }
  for (std::size_t i = 0; i < graph.edges.size(); ++i) {
    const DrawnRoute& route = drawing.routes[i];
    std::size_t from = graph.edges[i].from, to = graph.edges[i].to;
    if (from == to) {
      if (!route.closes_loop || !route.points.empty()) return "a line into the thing itself";
      continue;
    }
    if (route.closes_loop) std::swap(from, to);
    const DrawnBox& first = drawing.boxes[from];
    const DrawnBox& last = drawing.boxes[to];
    if (first.layer >= last.layer) return "an edge that leads to no later layer";
    if (route.points.size() < 2) return "no line";
    if (route.points.front().x != first.x + first.width || route.points.back().x != last.x)
      return "a line that begins or ends beside its box";
    if (route.points.front().y <= first.y || route.points.front().y >= first.y + first.height) return "a line that begins above or below";
    if (route.points.back().y <= last.y || route.points.back().y >= last.y + last.height) return "a line that ends above or below";
    for (std::size_t point = 0; point + 1 < route.points.size(); ++point) {
      if (route.points[point].x > route.points[point + 1].x) return "a line that turns back";
      for (const DrawnBox& box : drawing.boxes) {
        // Where a line passes a column of boxes, it does so in a lane of its own.
        const bool in_column = route.points[point].x == box.x && route.points[point + 1].x == box.x + box.width;
        const bool clear = in_column && route.points[point].y == route.points[point + 1].y &&
                           (route.points[point].y < box.y || route.points[point].y > box.y + box.height);
        if (!clear && runs_through(route.points[point], route.points[point + 1], box)) return "a line through a box";
      }
    }
  }
  return "";
}

TEST(Layers, AThingStandsAfterTheLastOfWhatWentIntoIt) {
  // flour → sponge → cake, flour → cake; sugar, which went into the cake alone, stands just before it.
  const TraceGraph graph = a_graph(4, {{0, 1}, {1, 2}, {0, 2}, {3, 2}});
  const auto drawing = drawn(graph);
  EXPECT_EQ(layers_of(drawing), (std::vector<std::size_t>{0, 1, 2, 1}));
  EXPECT_EQ(broken(graph, drawing), "");
  EXPECT_EQ(drawing.crossings, 0U);
}

TEST(Layers, OneThingAndNoneAreDrawnToo) {
  const auto one = drawn(a_graph(1, {}));
  EXPECT_EQ(one.boxes, (std::vector<DrawnBox>{{0, 0, 50, 12, 0}}));
  EXPECT_EQ(one.width, 50);
  EXPECT_EQ(one.height, 12);
  EXPECT_TRUE(drawn(a_graph(0, {})).boxes.empty());
}

/// The fewest crossings that there can be: none for trees and for what can be untwisted; of all with all, two and two once, three and
/// three nine times (one for each pair on the left with each pair on the right).
TEST(Layers, LinesCrossNoMoreThanTheyMust) {
  EXPECT_EQ(drawn(a_graph(4, {{0, 1}, {0, 2}, {1, 3}, {2, 3}})).crossings, 0U);                  // a diamond
  EXPECT_EQ(drawn(a_graph(6, {{0, 5}, {1, 4}, {2, 3}})).crossings, 0U);                          // twisted as it is written
  EXPECT_EQ(drawn(a_graph(7, {{0, 1}, {0, 2}, {1, 3}, {2, 4}, {1, 5}, {2, 6}})).crossings, 0U);  // a tree, its leaves mixed
  EXPECT_EQ(drawn(a_graph(4, {{0, 2}, {0, 3}, {1, 2}, {1, 3}})).crossings, 1U);                  // two and two, all with all
  EXPECT_EQ(drawn(a_graph(6, {{0, 3}, {0, 4}, {0, 5}, {1, 3}, {1, 4}, {1, 5}, {2, 3}, {2, 4}, {2, 5}})).crossings, 9U);
  EXPECT_EQ(drawn(a_graph(8, {{0, 4}, {1, 5}, {2, 6}, {3, 7}, {0, 7}, {1, 4}, {2, 5}, {3, 6}})).crossings, 3U);  // a ring of eight
}

/// Their fewest crossings were counted over every order of every layer. The first needs the means, the second the exchanges as well.
TEST(Layers, MeansAndExchangesBothSaveCrossings) {
  EXPECT_EQ(drawn(a_graph(9, {{0, 7}, {0, 8}, {1, 4}, {1, 8}, {2, 5}, {2, 7}, {3, 5}, {3, 6}, {3, 7}})).crossings, 1U);
  EXPECT_EQ(
      drawn(a_graph(11, {{0, 3}, {0, 5}, {0, 6}, {1, 6}, {2, 3}, {2, 4}, {2, 5}, {3, 10}, {4, 7}, {4, 8}, {5, 8}, {5, 9}, {6, 9}, {6, 10}}))
          .crossings,
      2U);
}

TEST(Layers, ALoopIsDrawnWithTheLineThatClosesItTold) {
  const TraceGraph graph = a_graph(4, {{0, 1}, {1, 2}, {2, 0}, {3, 3}});
  const auto drawing = drawn(graph);
  EXPECT_EQ(broken(graph, drawing), "");
  EXPECT_EQ(layers_of(drawing), (std::vector<std::size_t>{0, 1, 2, 0}));
  std::vector<bool> closing;
  for (const DrawnRoute& route : drawing.routes) closing.push_back(route.closes_loop);
  EXPECT_EQ(closing, (std::vector<bool>{false, false, true, true}));
}

TEST(Layers, ABoxIsAsHighAsItsLinesNeed) {
  std::vector<std::pair<std::size_t, std::size_t>> edges;
  for (std::size_t i = 1; i < 20; ++i) edges.emplace_back(i, 0);
  const auto drawing = drawn(a_graph(20, edges));
  EXPECT_EQ(drawing.boxes.front().height, 40);
  std::vector<std::int64_t> ends;
  for (const DrawnRoute& route : drawing.routes) ends.push_back(route.points.back().y);
  std::sort(ends.begin(), ends.end());
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) EXPECT_GE(ends[i + 1] - ends[i], measures.pitch);
}

TEST(Layers, WhatNamesNoThingIsOurBug) {
  EXPECT_THROW(drawn(a_graph(1, {{0, 1}})), std::out_of_range);
  EXPECT_THROW(drawn_in_layers(a_graph(1, {}), {}, measures), std::out_of_range);
}

RC_GTEST_PROP(Layers, KeepTheirPromisesForAnyGraph, ()) {
  const auto things = *rc::gen::inRange<std::size_t>(1, 25);
  const auto edges = *rc::gen::container<std::vector<std::pair<std::size_t, std::size_t>>>(
      rc::gen::pair(rc::gen::inRange<std::size_t>(0, things), rc::gen::inRange<std::size_t>(0, things)));
  const TraceGraph graph = a_graph(things, edges);
  const auto drawing = drawn(graph);
  RC_ASSERT(broken(graph, drawing) == "");
  // Without the edges that are told as closing one, there is no loop: layers are one witness of it, and a graph without loops closes none.
  const bool onwards = std::all_of(edges.begin(), edges.end(), [](const auto& edge) { return edge.first < edge.second; });
  if (onwards) RC_ASSERT(std::none_of(drawing.routes.begin(), drawing.routes.end(), [](const auto& one) { return one.closes_loop; }));
  const auto again = drawn(graph);
  RC_ASSERT(again.boxes == drawing.boxes && again.routes == drawing.routes);
}

}  // namespace
}  // namespace tierproof
