#include "life.h"

#include <fmt/format.h>

#include <algorithm>

#include "freezing.h"
#include "out_of_fridge.h"
#include "tierproof/app/stores.h"
#include "tierproof/sums/plain_checks.h"

namespace tierproof {

std::optional<Date> day_opened(const State& state, const LotId& id, const Lot& lot) {
  std::optional<Date> first = lot.opened;
  const auto on = [&](const auto& note) {
    const Date day = day_of(note.happened, note.offset);
    first = first ? std::min(*first, day) : day;
  };
  for (const auto& opening : state.opened) {
    if (opening.value.lot == id) on(opening);
  }
  for (const auto& top_up : state.top_ups) {
    if (top_up.value.lot == id) on(top_up);
  }
  for (const auto& disposal : state.disposals) {
    if (disposal.value.what == id.text()) on(disposal);
  }
  for (const auto& [batch_id, batch] : state.batches) {
    for (const auto& use : batch.value.uses) {
      if (use.batch || use.of != id.text()) continue;
      const Date day = day_of(batch.happened, batch.offset);
      first = first ? std::min(*first, day) : day;
    }
  }
  return first;
}

LotLife lot_life(const State& state, const LotId& id, const Recorded<Lot>& lot) {
  LotLife life;
  const auto ingredient = state.ingredients.find(lot.value.ingredient);
  life.name = fmt::format("{} ({})", ingredient == state.ingredients.end() ? lot.value.ingredient.text() : ingredient->second.value.name,
                          id.text());
  life.code = lot.value.code;
  life.use_by = lot.value.use_by;
  life.best_before = lot.value.best_before;
  life.opened_on = day_opened(state, id, lot.value);
  const auto specification = state.specifications.find(lot.value.specification);
  if (specification != state.specifications.end() && specification->second.value.use_within_days) {
    life.use_within_days = static_cast<int>(*specification->second.value.use_within_days);
  }
  return life;
}

std::vector<LotId> packs_in(const State& state, const Recorded<Batch>& batch) {
  std::vector<LotId> packs;
  for (const auto& use : batch.value.uses) {
    if (!use.batch) packs.emplace_back(use.of);
  }
  for (const auto& use : possible_in(state, batch)) packs.push_back(use.lot);
  return packs;
}

namespace {

std::vector<std::vector<FrozenDays>> in_days(const std::set<std::vector<FrozenTime>>& ways, Offset offset) {
  std::vector<std::vector<FrozenDays>> all;
  for (const auto& way : ways) {
    all.emplace_back();
    for (const auto& time : way) {
      all.back().push_back({day_of(time.frozen, offset), time.thawed ? std::optional{day_of(*time.thawed, offset)} : std::nullopt});
    }
  }
  return all;
}

/// Every part of something and the packs in it whose own dates still count.
struct Lives {
  std::vector<PartLife> parts;
  std::vector<LotLife> lots;
};

/// @param frozen     its freezings, batch by batch
/// @param cold_days  what the rules let a ready food be kept cold
Lives lives_of(const State& state, const CakeParts& made_of, const std::map<BatchId, std::set<std::vector<FrozenTime>>>& frozen,
               const std::optional<ColdDays>& cold_days, ZonedInstant at) {
  Lives lives;
  for (const auto& facts : made_of.batches) {
    const auto batch = state.batches.find(facts.id);
    PartLife part;
    part.name = fmt::format("{} ({})", facts.name, facts.id.text());
    if (batch == state.batches.end()) {
      lives.parts.push_back(std::move(part));
      continue;
    }
    part.made = day_of(batch->second.happened, batch->second.offset);
    const auto recipe = state.recipe_versions.find(batch->second.value.recipe_version);
    bool heated_through = false;
    if (recipe != state.recipe_versions.end()) {
      part.storage = recipe->second.value.storage;
      part.life_days = static_cast<int>(recipe->second.value.life_days);
      part.reason = recipe->second.value.life_reason;
      if (const auto& days = recipe->second.value.frozen_days) part.frozen_days = static_cast<int>(*days);
      if (const auto& days = recipe->second.value.thawed_days) part.thawed_days = static_cast<int>(*days);
      heated_through = recipe->second.value.egg == "baked through" || recipe->second.value.syrup_target.has_value();
    }
    part.judged = day_of(at.at, at.offset);
    if (part.storage != "room") part.cold_days = cold_days;
    if (const auto advised = advised_days(on_file_of(state, facts.id));
        part.storage == "room" && advised && advised->days < part.life_days) {
      part.life_days = advised->days;
      part.reason = advised->by;
    }
    if (const auto ways = frozen.find(facts.id); ways != frozen.end()) part.ways = in_days(ways->second, batch->second.offset);
    lives.parts.push_back(part);
    if (heated_through) continue;
    for (const auto& id : packs_in(state, batch->second)) {
      const auto lot = state.lots.find(id);
      if (lot != state.lots.end()) add_lot(lives.lots, lot_within(lot_life(state, lot->first, lot->second), part));
    }
  }
  return lives;
}

/// The days that advice on file gives the cake as it was put together, from the day of its first tier.
std::optional<PartLife> life_put_together(const State& state, const CakeId& cake) {
  const auto advised = advised_days(on_file_of(state, cake));
  if (!advised) return std::nullopt;
  PartLife life;
  life.name = fmt::format("{}, put together", cake.text());
  life.storage = "room";
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != cake) continue;
    const Date built = day_of(tier.happened, tier.offset);
    life.made = life.made ? std::min(*life.made, built) : built;
  }
  life.life_days = advised->days;
  life.reason = advised->by;
  return life;
}

}  // namespace

std::vector<Finding> packs_used_late(const State& state, const CakeParts& parts) {
  std::vector<Finding> findings;
  for (const auto& facts : parts.batches) {
    const auto batch = state.batches.find(facts.id);
    if (batch == state.batches.end()) continue;
    const Date made = day_of(batch->second.happened, batch->second.offset);
    for (const auto& id : packs_in(state, batch->second)) {
      const auto lot = state.lots.find(id);
      if (lot == state.lots.end()) continue;
      const auto ingredient = state.ingredients.find(lot->second.value.ingredient);
      const std::string name = ingredient == state.ingredients.end() ? lot->second.value.ingredient.text() : ingredient->second.value.name;
      auto finding = judge_pack_used(lot->first.text(), name, batch->second.subject, made, lot->second.value.use_by);
      if (finding) findings.push_back(std::move(*finding));
    }
  }
  return findings;
}

namespace {

/// Shell eggs that were past their best-before on the day they went in; past a use-by they stand with all packs.
std::vector<Finding> shell_eggs_used_late(const State& state, const CakeParts& parts) {
  std::vector<Finding> findings;
  for (const auto& facts : parts.batches) {
    const auto batch = state.batches.find(facts.id);
    if (batch == state.batches.end()) continue;
    for (const auto& id : packs_in(state, batch->second)) {
      const auto lot = state.lots.find(id);
      const auto ingredient = lot == state.lots.end() ? state.ingredients.end() : state.ingredients.find(lot->second.value.ingredient);
      if (ingredient == state.ingredients.end() || ingredient->second.value.egg != "shell") continue;
      auto finding = judge_shell_egg_used(id.text(), ingredient->second.value.name, batch->second.subject,
                                          day_of(batch->second.happened, batch->second.offset), lot->second.value.best_before);
      if (finding) findings.push_back(std::move(*finding));
    }
  }
  return findings;
}

}  // namespace

void judge_life(const Session& session, Judgement& judgement) {
  const State& state = session.state();
  for (auto& finding : shell_eggs_used_late(state, judgement.parts)) judgement.findings.push_back(std::move(finding));
  for (auto& finding : packs_used_late(state, judgement.parts)) judgement.findings.push_back(std::move(finding));
  const auto frozen = freezings_of(state, judgement.cake.text(), followed_until(state, judgement.cake, judgement.at.at));
  Lives lives = lives_of(state, judgement.parts, frozen, judgement.temperature.cold_days, judgement.at);
  judgement.life = shelf_life(lives.parts, lives.lots);
  if (judgement.life->storage == "cool dry place") {
    if (const auto together = life_put_together(state, judgement.cake)) {
      lives.parts.push_back(*together);
      judgement.life = shelf_life(lives.parts, lives.lots);
    }
  }
  // It is eaten on the day of the event, so it must keep until then.
  const Date eaten = std::max(state.cakes.at(judgement.cake).value.event, day_of(judgement.at.at, judgement.at.offset));
  judgement.findings.push_back(judge_use_by(judgement.cake.text(), *judgement.life, eaten));
}

ShelfLife life_of_batch(const State& state, const BatchId& batch, const CakeParts& parts, const TemperatureTerms& terms, ZonedInstant at) {
  const Lives lives = lives_of(state, parts, freezings_of(state, batch.text(), at.at), terms.cold_days, at);
  return shelf_life(lives.parts, lives.lots);
}

std::string life_in_words(const ShelfLife& life) {
  return fmt::format("{} {}; {}", life.kind, life.date ? format_date_long(*life.date) : "not known", life.storage);
}

}  // namespace tierproof
