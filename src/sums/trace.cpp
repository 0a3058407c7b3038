#include "tierproof/sums/trace.h"

#include <algorithm>
#include <deque>

namespace tierproof {
namespace {

/// The edges that leave each thing, by index.
std::vector<std::vector<std::size_t>> edges_out_of(const TraceGraph& graph, TraceWay way) {
  std::vector<std::vector<std::size_t>> out(graph.things.size());
  for (std::size_t i = 0; i < graph.edges.size(); ++i) {
    const TraceEdge& edge = graph.edges[i];
    out.at(way == TraceWay::forward ? edge.from : edge.to).push_back(i);
  }
  return out;
}

/// Breadth first, along certain edges alone or along all of them.
std::vector<std::optional<TraceStep>> walk(const TraceGraph& graph, const std::vector<std::vector<std::size_t>>& out,
                                           std::span<const std::size_t> beginnings, TraceWay way, bool certain_only,
                                           std::vector<std::size_t>& order) {
  std::vector<std::optional<TraceStep>> seen(graph.things.size());
  std::deque<std::size_t> next;
  for (const std::size_t begin : beginnings) {
    if (seen.at(begin)) continue;
    seen[begin] = TraceStep{begin, true, 0, std::nullopt};
    next.push_back(begin);
  }
  while (!next.empty()) {
    const std::size_t here = next.front();
    next.pop_front();
    order.push_back(here);
    for (const std::size_t i : out[here]) {
      const TraceEdge& edge = graph.edges[i];
      const std::size_t there = way == TraceWay::forward ? edge.to : edge.from;
      if ((certain_only && !edge.certain) || seen.at(there)) continue;
      seen[there] = TraceStep{there, certain_only, seen[here]->steps + 1, i};
      next.push_back(there);
    }
  }
  return seen;
}

}  // namespace

std::vector<TraceStep> traced(const TraceGraph& graph, std::span<const std::size_t> beginnings, TraceWay way) {
  const auto out = edges_out_of(graph, way);
  std::vector<std::size_t> certain_order, order;
  const auto certain = walk(graph, out, beginnings, way, true, certain_order);
  const auto any = walk(graph, out, beginnings, way, false, order);
  std::vector<TraceStep> steps;
  steps.reserve(order.size());
  for (const std::size_t thing : order) {
    // The way that is told is the certain one where there is one, though another may be shorter.
    TraceStep step = certain[thing] ? *certain[thing] : *any[thing];
    step.steps = any[thing]->steps;
    steps.push_back(step);
  }
  return steps;
}

std::vector<TraceStep> common_sources(const TraceGraph& graph, std::span<const std::size_t> things) {
  std::vector<TraceStep> shared;
  bool first = true;
  for (const std::size_t thing : things) {
    const auto of_one = traced(graph, std::span{&thing, 1}, TraceWay::back);
    if (first) {
      shared = of_one;
      first = false;
      continue;
    }
    std::vector<std::optional<TraceStep>> by_thing(graph.things.size());
    for (const TraceStep& step : of_one) by_thing[step.thing] = step;
    std::erase_if(shared, [&](const TraceStep& step) { return !by_thing[step.thing]; });
    for (TraceStep& step : shared) {
      step.certain = step.certain && by_thing[step.thing]->certain;
      step.steps = std::max(step.steps, by_thing[step.thing]->steps);
      step.via.reset();
    }
  }
  return shared;
}

std::optional<std::vector<TracedAmount>> amounts_of(const TraceGraph& graph, std::size_t start) {
  if (!graph.things.at(start).whole) return std::nullopt;
  const auto out = edges_out_of(graph, TraceWay::forward);
  std::vector<std::size_t> order;
  const auto reached = walk(graph, out, std::span{&start, 1}, TraceWay::forward, true, order);
  std::vector<std::size_t> waiting(graph.things.size(), 0);  // edges that still bring something
  for (const std::size_t thing : order) {
    for (const std::size_t i : out[thing]) {
      if (graph.edges[i].certain) ++waiting[graph.edges[i].to];
    }
  }
  if (waiting[start] > 0) return std::nullopt;  // a loop
  std::vector<Share> mg(graph.things.size(), Share{0});
  mg[start] = graph.things[start].whole->to_milligrams();
  std::vector<std::size_t> ready{start};
  std::vector<TracedAmount> amounts;
  while (!ready.empty()) {
    const std::size_t here = ready.back();
    ready.pop_back();
    amounts.push_back({here, mg[here]});
    for (const std::size_t i : out[here]) {
      const TraceEdge& edge = graph.edges[i];
      if (!edge.certain) continue;
      const auto& whole = graph.things[here].whole;
      if (!edge.mass || !whole || *whole <= Mass{}) return std::nullopt;
      mg[edge.to] += mg[here] * share_of(edge.mass->to_milligrams(), whole->to_milligrams());
      if (--waiting[edge.to] == 0) ready.push_back(edge.to);
    }
  }
  if (amounts.size() != order.size()) return std::nullopt;  // a loop keeps some of them waiting
  std::sort(amounts.begin(), amounts.end(), [](const TracedAmount& a, const TracedAmount& b) { return a.thing < b.thing; });
  return amounts;
}

std::vector<std::int64_t> rounded_together(std::span<const std::int64_t> parts, std::int64_t unit) {
  const auto down = [](std::int64_t part, std::int64_t by) { return part / by - (part % by < 0 ? 1 : 0); };
  std::vector<std::int64_t> rounded;
  std::vector<std::size_t> by_remainder;
  std::int64_t sum = 0, missing = 0;
  for (const std::int64_t part : parts) {
    by_remainder.push_back(rounded.size());
    rounded.push_back(down(part, unit));
    sum += part;
    missing -= rounded.back();
  }
  missing += down(2 * sum + unit, 2 * unit);
  const auto remainder = [&](std::size_t i) { return parts[i] - rounded[i] * unit; };
  std::stable_sort(by_remainder.begin(), by_remainder.end(), [&](std::size_t a, std::size_t b) { return remainder(a) > remainder(b); });
  for (std::size_t i = 0; missing > 0; ++i, --missing) ++rounded[by_remainder[i]];
  return rounded;
}

}  // namespace tierproof
