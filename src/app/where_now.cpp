#include "where_now.h"

#include <fmt/format.h>

#include "cold.h"
#include "tierproof/app/recording.h"
#include "troubles.h"

namespace tierproof {
namespace {

/// The name of the place where `what` was last put, or nothing.
std::optional<std::string> place_now(const State& state, const std::string& what, Instant from, Instant at) {
  const auto stretches = whereabouts(state, what, from, at + Span{1});  // a move at this very moment has happened
  if (stretches.empty() || stretches.back().place.empty()) return std::nullopt;
  const auto place = state.places.find(stretches.back().place);
  return place == state.places.end() ? stretches.back().place.text() : place->second.value.name;
}

}  // namespace

std::string name_of_batch(const State& state, const BatchId& batch) {
  const auto found = state.batches.find(batch);
  if (found == state.batches.end()) return batch.text();
  const auto recipe = state.recipe_versions.find(found->second.value.recipe_version);
  return recipe == state.recipe_versions.end() ? found->second.value.recipe.text() : recipe->second.value.name;
}

Instant gone_by(const State& state, const BatchId& id, Instant otherwise) {
  if (remaining_mg(state, id.text()) > 0) return otherwise;
  Instant last = Instant::min();
  for (const auto& [other, batch] : state.batches) {
    for (const auto& use : batch.value.uses) {
      if (use.of == id.text()) last = std::max(last, batch.happened);
    }
  }
  for (const auto& tier : state.tiers) {
    for (const auto& part : tier.value.parts) {
      if (part.batch == id) last = std::max(last, tier.happened);
    }
  }
  for (const auto& disposal : state.disposals) {
    if (disposal.value.what == id.text()) last = std::max(last, disposal.happened);
  }
  return last == Instant::min() ? otherwise : last;
}

std::string where_now(const State& state, const BatchId& id, Instant at) {
  const std::int64_t left = remaining_mg(state, id.text());
  const auto batch = state.batches.find(id);
  if (left <= 0 || batch == state.batches.end()) return "used up";
  const std::string mass = format_mass(Mass::milligrams(left));
  const auto place = place_now(state, id.text(), batch->second.happened, at);
  return place ? fmt::format("in {}, {} left", *place, mass) : fmt::format("{} left, and nobody recorded where it is", mass);
}

std::string where_now(const State& state, const CakeId& id, Instant at) {
  if (const auto* handed = state.hand_over(id)) {
    return fmt::format("handed over {}, to {}", format_moment(handed->happened, handed->offset),
                       handed->value.to.text.value_or("(erased)"));
  }
  if (thrown_away(state, id)) return "thrown away";
  std::optional<Instant> built;
  for (const auto& tier : state.tiers) {
    if (tier.value.cake == id) built = std::min(built.value_or(tier.happened), tier.happened);
  }
  if (!built) return "not built yet";
  const auto place = place_now(state, id.text(), *built, at);
  return place ? "in " + *place : "in the kitchen, and nobody recorded where";
}

}  // namespace tierproof
