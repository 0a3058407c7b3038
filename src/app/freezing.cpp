#include "freezing.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "parts.h"

namespace tierproof {
namespace {

using Times = std::vector<FrozenTime>;

/// Walks from a thing down to every batch in it and puts the freezings of each way together.
class FreezerWalk {
 public:
  FreezerWalk(const State& state, Instant until) : state_{state}, until_{until} {}

  /// @param to      when it was taken to be used; nothing: it is followed to the end
  /// @param within  what it went through in what it was used for
  void batch(const BatchId& id, std::optional<Instant> to, const Times& within) {
    if (!seen_.insert({id, to.value_or(until_), within}).second) return;
    const auto found = state_.batches.find(id);
    if (found == state_.batches.end()) return;
    Times way = moved(id.text(), found->second.happened, to);
    way.insert(way.end(), within.begin(), within.end());
    ways[id].insert(way);
    for (const auto& use : found->second.value.uses) {
      if (use.batch) batch(BatchId{use.of}, found->second.happened, way);
    }
  }
  void cake(const CakeId& id) {
    for (const auto& tier : state_.tiers) {
      if (tier.value.cake != id) continue;
      const Times way = moved(id.text(), tier.happened, std::nullopt);
      for (const auto& part : tier.value.parts) batch(part.batch, tier.happened, way);
    }
  }

  std::map<BatchId, std::set<Times>> ways;

 private:
  Times moved(const std::string& what, Instant from, std::optional<Instant> to) const {
    std::vector<FreezerMove> moves;
    for (const auto& stay : state_.stays) {
      if (stay.value.what != what) continue;
      const auto place = state_.places.find(stay.value.place);
      moves.push_back({stay.happened, place != state_.places.end() && place->second.value.kind == "freezer"});
    }
    return frozen_times(moves, from, std::min(to.value_or(until_), until_), to.has_value());
  }

  const State& state_;
  Instant until_;
  std::set<std::tuple<BatchId, Instant, Times>> seen_;
};

}  // namespace

Instant followed_until(const State& state, const CakeId& cake, Instant at) {
  const auto* handed = state.hand_over(cake);
  return handed == nullptr ? at : std::min(handed->happened, at);
}

std::map<BatchId, std::set<Times>> freezings_of(const State& state, const std::string& thing, Instant until) {
  // What is put somewhere at this very moment is there.
  FreezerWalk walk{state, until + Span{1}};
  if (state.cakes.contains(CakeId{thing})) {
    walk.cake(CakeId{thing});
  } else {
    walk.batch(BatchId{thing}, std::nullopt, {});
  }
  return std::move(walk.ways);
}

std::vector<FrozenWay> frozen_ways(const State& state, const std::string& thing, Instant until) {
  std::vector<FrozenWay> all;
  for (const auto& [id, ways] : freezings_of(state, thing, until)) {
    const auto& batch = state.batches.at(id);
    const auto recipe = state.recipe_versions.find(batch.value.recipe_version);
    const std::string name = recipe == state.recipe_versions.end() ? batch.value.recipe.text() : recipe->second.value.name;
    for (const auto& way : ways) {
      if (!way.empty()) all.push_back({fmt::format("{} ({})", name, id.text()), way, batch.offset});
    }
  }
  return all;
}

}  // namespace tierproof
