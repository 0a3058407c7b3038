#include "tierproof/sums/layers.h"

#include <algorithm>
#include <numeric>
#include <optional>
#include <stdexcept>
#include <utility>

namespace tierproof {
namespace {

/// A thing in its layer, or the lane of a line that passes it.
struct LayerSlot {
  std::size_t layer = 0;
  std::optional<std::size_t> thing{};  ///< nothing: a lane
  std::int64_t height = 0;
  std::int64_t y = 0;              ///< its top
  std::vector<std::size_t> left;   ///< segments that end here
  std::vector<std::size_t> right;  ///< segments that begin here
  std::int64_t middle() const { return y + height / 2; }
};

/// The part of a line between two neighbouring layers.
struct LayerSegment {
  std::size_t from = 0;  ///< a slot
  std::size_t to = 0;    ///< a slot of the next layer
  std::int64_t from_y = 0;
  std::int64_t to_y = 0;
};

class LayerSetter {
 public:
  LayerSetter(const TraceGraph& graph, std::span<const std::int64_t> least_heights, const LayerMeasures& measures)
      : graph_{graph}, heights_{least_heights}, measures_{measures}, closes_(graph.edges.size(), false) {
    if (heights_.size() != graph_.things.size()) throw std::out_of_range{"a drawing in layers: one height for each thing"};
    for (const TraceEdge& edge : graph_.edges) {
      if (std::max(edge.from, edge.to) >= graph_.things.size()) throw std::out_of_range{"a drawing in layers: an edge names no thing"};
    }
  }

  LayeredDrawing run() {
    find_loops();
    set_layers();
    make_slots();
    order();
    place();
    return draw();
  }

 private:
  std::size_t begin_of(std::size_t edge) const { return closes_[edge] ? graph_.edges[edge].to : graph_.edges[edge].from; }
  std::size_t end_of(std::size_t edge) const { return closes_[edge] ? graph_.edges[edge].from : graph_.edges[edge].to; }
  bool into_itself(std::size_t edge) const { return graph_.edges[edge].from == graph_.edges[edge].to; }

  /// Depth first, from what nothing went into and then by the order of the things: an edge to a thing whose walk is not over closes a loop.
  void find_loops() {
    const std::size_t count = graph_.things.size();
    std::vector<std::vector<std::size_t>> out(count);
    std::vector<std::size_t> into(count, 0);
    for (std::size_t i = 0; i < graph_.edges.size(); ++i) {
      out[graph_.edges[i].from].push_back(i);
      ++into[graph_.edges[i].to];
    }
    enum class Seen { no, open, over };
    std::vector<Seen> seen(count, Seen::no);
    const auto walk = [&](std::size_t start) {
      std::vector<std::pair<std::size_t, std::size_t>> way{{start, 0}};  // a thing, and which of its edges comes next
      seen[start] = Seen::open;
      while (!way.empty()) {
        const std::size_t here = way.back().first;
        if (way.back().second == out[here].size()) {
          seen[here] = Seen::over;
          topological_.push_back(here);
          way.pop_back();
          continue;
        }
        const std::size_t edge = out[here][way.back().second++];
        const std::size_t there = graph_.edges[edge].to;
        if (seen[there] == Seen::open) closes_[edge] = true;
        if (seen[there] != Seen::no) continue;
        seen[there] = Seen::open;
        way.emplace_back(there, 0);
      }
    };
    for (const bool sources : {true, false}) {
      for (std::size_t thing = 0; thing < count; ++thing) {
        if (seen[thing] == Seen::no && (into[thing] == 0) == sources) walk(thing);
      }
    }
    std::reverse(topological_.begin(), topological_.end());
  }

  void set_layers() {
    const std::size_t count = graph_.things.size();
    layer_of_.assign(count, 0);
    std::vector<std::vector<std::size_t>> next(count);
    std::vector<bool> has_before(count, false);
    for (std::size_t i = 0; i < graph_.edges.size(); ++i) {
      if (into_itself(i)) continue;
      next[begin_of(i)].push_back(end_of(i));
      has_before[end_of(i)] = true;
    }
    // An edge that was turned round leads from an earlier thing of this order to a later one too: the later was reached from it.
    for (const std::size_t thing : topological_) {
      for (const std::size_t after : next[thing]) layer_of_[after] = std::max(layer_of_[after], layer_of_[thing] + 1);
    }
    for (std::size_t thing = 0; thing < count; ++thing) {
      if (has_before[thing] || next[thing].empty()) continue;
      std::size_t nearest = layer_of_[next[thing].front()];
      for (const std::size_t after : next[thing]) nearest = std::min(nearest, layer_of_[after]);
      layer_of_[thing] = nearest - 1;
    }
    const std::size_t first = count == 0 ? 0 : *std::min_element(layer_of_.begin(), layer_of_.end());
    for (std::size_t& layer : layer_of_) layer -= first;
  }

  std::size_t add_slot(std::size_t layer, std::optional<std::size_t> thing) {
    LayerSlot made;
    made.layer = layer;
    made.thing = thing;
    slots_.push_back(std::move(made));
    layers_[layer].push_back(slots_.size() - 1);
    return slots_.size() - 1;
  }

  void make_slots() {
    const std::size_t count = layer_of_.empty() ? 0 : *std::max_element(layer_of_.begin(), layer_of_.end()) + 1;
    layers_.assign(count, {});
    for (std::size_t thing = 0; thing < graph_.things.size(); ++thing) add_slot(layer_of_[thing], thing);  // the slot has its number
    chains_.assign(graph_.edges.size(), {});
    for (std::size_t edge = 0; edge < graph_.edges.size(); ++edge) {
      if (into_itself(edge)) continue;
      std::size_t before = begin_of(edge);
      for (std::size_t layer = layer_of_[before] + 1; layer <= layer_of_[end_of(edge)]; ++layer) {
        const std::size_t here = layer == layer_of_[end_of(edge)] ? end_of(edge) : add_slot(layer, std::nullopt);
        segments_.push_back({before, here});
        slots_[before].right.push_back(segments_.size() - 1);
        slots_[here].left.push_back(segments_.size() - 1);
        chains_[edge].push_back(segments_.size() - 1);
        before = here;
      }
    }
    for (LayerSlot& slot : slots_) {
      const auto lines = static_cast<std::int64_t>(std::max(slot.left.size(), slot.right.size()));
      slot.height = slot.thing ? std::max(heights_[*slot.thing], (lines + 1) * measures_.pitch) : measures_.pitch;
    }
    rank_.assign(slots_.size(), 0);
  }

  void rank(const std::vector<std::size_t>& layer) {
    for (std::size_t i = 0; i < layer.size(); ++i) rank_[layer[i]] = i;
  }

  /// Of the lines between `layer` and the next one: pairs that stand in one order on the left and in the other on the right.
  std::size_t crossings_after(std::size_t layer) const {
    std::vector<std::size_t> ends;
    for (const std::size_t slot : layers_[layer]) {
      const std::size_t first = ends.size();
      for (const std::size_t segment : slots_[slot].right) ends.push_back(rank_[segments_[segment].to]);
      std::sort(ends.begin() + static_cast<std::ptrdiff_t>(first), ends.end());
    }
    std::vector<std::size_t> seen(layers_[layer + 1].size() + 1, 0);  // a binary indexed tree of how many ended where
    std::size_t found = 0;
    for (std::size_t i = 0; i < ends.size(); ++i) {
      std::size_t not_below = 0;
      for (std::size_t at = ends[i] + 1; at > 0; at &= at - 1) not_below += seen[at];
      found += i - not_below;
      for (std::size_t at = ends[i] + 1; at < seen.size(); at += at & (~at + 1)) ++seen[at];
    }
    return found;
  }
  std::size_t crossings() const {
    std::size_t all = 0;
    for (std::size_t layer = 0; layer + 1 < layers_.size(); ++layer) all += crossings_after(layer);
    return all;
  }
  std::size_t crossings_beside(std::size_t layer) const {
    return (layer > 0 ? crossings_after(layer - 1) : 0) + (layer + 1 < layers_.size() ? crossings_after(layer) : 0);
  }

  /// By the mean place of the neighbours on one side; what has none there keeps its place.
  void sort_by_mean(std::size_t layer, bool by_left) {
    struct Wanted {
      std::size_t slot = 0;
      double place = 0;
    };
    std::vector<Wanted> wanted;
    for (const std::size_t slot : layers_[layer]) {
      const auto& joined = by_left ? slots_[slot].left : slots_[slot].right;
      double sum = 0;
      for (const std::size_t segment : joined) sum += static_cast<double>(rank_[by_left ? segments_[segment].from : segments_[segment].to]);
      wanted.push_back({slot, joined.empty() ? static_cast<double>(rank_[slot]) : sum / static_cast<double>(joined.size())});
    }
    std::stable_sort(wanted.begin(), wanted.end(), [](const Wanted& a, const Wanted& b) { return a.place < b.place; });
    for (std::size_t i = 0; i < wanted.size(); ++i) layers_[layer][i] = wanted[i].slot;
    rank(layers_[layer]);
  }

  /// Exchanges neighbours of a layer where that saves a crossing.
  bool exchange(std::size_t layer) {
    bool better = false;
    auto& row = layers_[layer];
    for (std::size_t i = 0; i + 1 < row.size(); ++i) {
      const std::size_t before = crossings_beside(layer);
      if (before == 0) return better;
      const auto swap = [&] {
        std::swap(row[i], row[i + 1]);
        std::swap(rank_[row[i]], rank_[row[i + 1]]);
      };
      swap();
      if (crossings_beside(layer) < before) {
        better = true;
      } else {
        swap();
      }
    }
    return better;
  }

  void order() {
    constexpr int sweeps = 12;
    constexpr std::size_t most_exchanged = 600;  // slots; beyond them exchanging takes longer than it is worth
    for (const auto& layer : layers_) rank(layer);
    auto best = layers_;
    std::size_t fewest = crossings();
    const auto keep_best = [&] {
      const std::size_t now = crossings();
      if (now >= fewest) return;
      fewest = now;
      best = layers_;
    };
    for (int sweep = 0; sweep < sweeps && fewest > 0; ++sweep) {
      for (std::size_t layer = 1; layer < layers_.size(); ++layer) sort_by_mean(layer, true);
      keep_best();
      for (std::size_t layer = layers_.size() - 1; layer-- > 0;) sort_by_mean(layer, false);
      keep_best();
    }
    layers_ = best;
    for (const auto& layer : layers_) rank(layer);
    for (int round = 0; round < sweeps && fewest > 0 && slots_.size() <= most_exchanged; ++round) {
      bool better = false;
      for (std::size_t layer = 0; layer < layers_.size(); ++layer) better = exchange(layer) || better;
      if (!better) break;
      fewest = crossings();
    }
    crossings_ = fewest;
  }

  /// Each slot of a layer as near as its neighbours let it to the middle of what it is joined to (isotonic regression).
  void pull(std::size_t layer, bool by_left, bool by_right) {
    struct Run {
      std::int64_t sum = 0;
      std::int64_t count = 0;
      std::size_t slots = 0;
      std::int64_t mean() const { return sum >= 0 ? sum / count : -((-sum + count - 1) / count); }
    };
    std::vector<Run> runs;
    std::int64_t above = 0;
    std::vector<std::int64_t> offsets;
    for (const std::size_t slot : layers_[layer]) {
      const LayerSlot& here = slots_[slot];
      std::int64_t sum = 0, count = 0;
      for (const std::size_t segment : here.left) {
        if (by_left) sum += slots_[segments_[segment].from].middle(), ++count;
      }
      for (const std::size_t segment : here.right) {
        if (by_right) sum += slots_[segments_[segment].to].middle(), ++count;
      }
      const std::int64_t wanted = count > 0 ? sum / count - here.height / 2 : here.y;
      const std::int64_t weight = here.thing ? 1 : 4;  // lanes as straight as can be
      offsets.push_back(above);
      runs.push_back({(wanted - above) * weight, weight, 1});
      above += here.height + measures_.gap;
      while (runs.size() > 1 && runs[runs.size() - 2].mean() > runs.back().mean()) {
        const Run last = runs.back();
        runs.pop_back();
        runs.back() = {runs.back().sum + last.sum, runs.back().count + last.count, runs.back().slots + last.slots};
      }
    }
    std::size_t i = 0;
    for (const Run& run : runs) {
      for (std::size_t end = i + run.slots; i < end; ++i) slots_[layers_[layer][i]].y = run.mean() + offsets[i];
    }
  }

  void place() {
    for (const auto& layer : layers_) {
      std::int64_t high = -measures_.gap;
      for (const std::size_t slot : layer) high += slots_[slot].height + measures_.gap;
      std::int64_t y = -high / 2;
      for (const std::size_t slot : layer) {
        slots_[slot].y = y;
        y += slots_[slot].height + measures_.gap;
      }
    }
    for (int round = 0; round < 6; ++round) {
      for (std::size_t layer = 1; layer < layers_.size(); ++layer) pull(layer, true, false);
      for (std::size_t layer = layers_.size(); layer-- > 0;) pull(layer, false, true);
    }
    for (std::size_t layer = 0; layer < layers_.size(); ++layer) pull(layer, true, true);
    std::int64_t top = slots_.empty() ? 0 : slots_.front().y;
    for (const LayerSlot& slot : slots_) top = std::min(top, slot.y);
    for (LayerSlot& slot : slots_) slot.y -= top;
    for (LayerSlot& slot : slots_) {
      const auto spread = [&](std::vector<std::size_t> ends, bool left) {
        std::stable_sort(ends.begin(), ends.end(), [&](std::size_t a, std::size_t b) {
          return left ? rank_[segments_[a].from] < rank_[segments_[b].from] : rank_[segments_[a].to] < rank_[segments_[b].to];
        });
        const auto count = static_cast<std::int64_t>(ends.size());
        for (std::int64_t i = 0; i < count; ++i) {
          LayerSegment& segment = segments_[ends[static_cast<std::size_t>(i)]];
          (left ? segment.to_y : segment.from_y) = slot.y + slot.height * (i + 1) / (count + 1);
        }
      };
      spread(slot.left, true);
      spread(slot.right, false);
    }
  }

  LayeredDrawing draw() const {
    LayeredDrawing drawing;
    drawing.crossings = crossings_;
    std::vector<std::int64_t> left(layers_.size(), 0);
    for (std::size_t layer = 0; layer + 1 < layers_.size(); ++layer) {
      std::int64_t steepest = 0;
      for (const std::size_t slot : layers_[layer]) {
        for (const std::size_t segment : slots_[slot].right)
          steepest = std::max(steepest, std::abs(segments_[segment].to_y - segments_[segment].from_y));
      }
      left[layer + 1] = left[layer] + measures_.box_width + measures_.lead + measures_.stub +
                        std::clamp(steepest / 2, measures_.least_turn, std::max(measures_.least_turn, measures_.most_turn));
    }
    for (std::size_t thing = 0; thing < graph_.things.size(); ++thing) {
      const LayerSlot& slot = slots_[thing];
      drawing.boxes.push_back({left[slot.layer], slot.y, measures_.box_width, slot.height, slot.layer});
    }
    for (const LayerSlot& slot : slots_) drawing.height = std::max(drawing.height, slot.y + slot.height);
    if (!layers_.empty()) drawing.width = left.back() + measures_.box_width;
    for (std::size_t edge = 0; edge < graph_.edges.size(); ++edge) {
      DrawnRoute route;
      route.closes_loop = closes_[edge];
      for (const std::size_t number : chains_[edge]) {
        const LayerSegment& segment = segments_[number];
        const std::int64_t begin = left[slots_[segment.from].layer] + measures_.box_width;
        const std::int64_t end = left[slots_[segment.to].layer];
        route.points.insert(
            route.points.end(),
            {{begin, segment.from_y}, {begin + measures_.lead, segment.from_y}, {end - measures_.stub, segment.to_y}, {end, segment.to_y}});
      }
      drawing.routes.push_back(std::move(route));
    }
    return drawing;
  }

  const TraceGraph& graph_;
  std::span<const std::int64_t> heights_;
  const LayerMeasures& measures_;
  std::vector<bool> closes_;              ///< by edge
  std::vector<std::size_t> topological_;  ///< things, each before what it went into
  std::vector<std::size_t> layer_of_;     ///< by thing
  std::vector<LayerSlot> slots_;          ///< the things first, by their numbers
  std::vector<std::vector<std::size_t>> layers_;
  std::vector<std::size_t> rank_;  ///< by slot: its place in its layer
  std::vector<LayerSegment> segments_;
  std::vector<std::vector<std::size_t>> chains_;  ///< by edge: its segments from left to right
  std::size_t crossings_ = 0;
};

}  // namespace

LayeredDrawing drawn_in_layers(const TraceGraph& graph, std::span<const std::int64_t> least_heights, const LayerMeasures& measures) {
  return LayerSetter{graph, least_heights, measures}.run();
}

}  // namespace tierproof
