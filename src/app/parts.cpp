#include "parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "tierproof/app/stores.h"

namespace tierproof {
namespace {

Presence presence_of(const std::string& term) {
  if (term == "contains") return Presence::contains;
  if (term == "may contain") return Presence::may_contain;
  if (term == "absent") return Presence::absent;
  return Presence::unknown;
}

DeclaredPart declared_part(const SpecifiedPart& part) {
  DeclaredPart declared;
  declared.name = part.name;
  declared.additive = part.additive;
  declared.additive_class = part.additive_class;
  declared.works_in_cake = part.works_in_cake;
  declared.allergens = part.brings;
  if (part.share_ppm) declared.share = share_of(*part.share_ppm, 1'000'000);
  declared.marks = part.marks;
  declared.why_idle = part.why_idle;
  declared.processing_aid = part.processing_aid;
  if (part.ug_per_kg) declared.mg_per_kg = share_of(*part.ug_per_kg, 1000);
  for (const auto& inner : part.parts) declared.parts.push_back(declared_part(inner));
  return declared;
}

/// Collects the packs and batches below a cake, each once.
class Gathering {
 public:
  explicit Gathering(const State& state) : state_{state} {}

  std::size_t batch(const BatchId& id, Mass stand_in) {
    const auto found = batch_at_.find(id.text());
    if (found != batch_at_.end()) return found->second;
    const std::size_t at = parts.batches.size();
    batch_at_[id.text()] = at;
    parts.batches.emplace_back();
    BatchFacts facts;
    facts.id = id;
    const auto recorded = state_.batches.find(id);
    if (recorded == state_.batches.end()) {
      facts.name = "voided";
      facts.yield = stand_in;
      facts.uses.push_back({Use::Of::lot, unknown_lot(id.text()), stand_in});
    } else {
      const Batch& batch = recorded->second.value;
      const auto recipe = state_.recipe_versions.find(batch.recipe_version);
      facts.name = recipe == state_.recipe_versions.end() ? batch.recipe.text() : recipe->second.value.name;
      if (recipe != state_.recipe_versions.end()) {
        facts.label_name = recipe->second.value.label_name;
        facts.varying = recipe->second.value.varying;
        for (const auto& name : recipe->second.value.other_names) facts.other_names.emplace_back(name.language, name.name);
      }
      facts.yield = batch.yield;
      facts.weighed = batch.weighed;
      // What may be in it from a tub counts as a trace: its allergens are in the cake, its mass decides nothing.
      for (const auto& possible : possible_in(state_, recorded->second))
        facts.uses.push_back({Use::Of::lot, lot(possible.lot), Mass::milligrams(1)});
      for (const auto& use : batch.uses) {
        Use used{use.batch ? Use::Of::batch : Use::Of::lot, 0, use.mass};
        used.index = use.batch ? this->batch(BatchId{use.of}, use.mass) : lot(LotId{use.of});
        if (use.remains_ppm) used.remains = share_of(*use.remains_ppm, 1'000'000);
        used.reconstituted = use.reconstituted;
        facts.uses.push_back(used);
      }
    }
    parts.batches[at] = std::move(facts);
    return at;
  }

  CakeParts parts;

 private:
  std::size_t lot(const LotId& id) {
    const auto found = lot_at_.find(id.text());
    if (found != lot_at_.end()) return found->second;
    const auto recorded = state_.lots.find(id);
    if (recorded == state_.lots.end()) return unknown_lot(id.text());
    const Lot& lot = recorded->second.value;
    const auto specification = state_.specifications.find(lot.specification);
    const auto ingredient = state_.ingredients.find(lot.ingredient);
    if (specification == state_.specifications.end() || ingredient == state_.ingredients.end()) return unknown_lot(id.text());
    return add_lot({id, lot.code, ingredient_facts(ingredient->second.value, lot.ingredient, specification->second.value)});
  }

  std::size_t unknown_lot(const std::string& subject) {
    LotFacts facts;
    facts.id = LotId{subject};
    facts.code = "voided";
    facts.ingredient.id = IngredientId{subject};
    facts.ingredient.label_name = fmt::format("{}, of which the records no longer say anything", subject);
    return add_lot(std::move(facts));
  }

  std::size_t add_lot(LotFacts facts) {
    lot_at_[facts.id.text()] = parts.lots.size();
    parts.lots.push_back(std::move(facts));
    return parts.lots.size() - 1;
  }

  const State& state_;
  std::map<std::string, std::size_t> lot_at_;
  std::map<std::string, std::size_t> batch_at_;
};

}  // namespace

IngredientFacts ingredient_facts(const Ingredient& ingredient, const IngredientId& id, const Specification& specification) {
  IngredientFacts facts;
  facts.id = id;
  facts.label_name = specification.label_name;
  for (const auto& part : specification.parts) facts.parts.push_back(declared_part(part));
  for (const auto& allergen : specification.allergens)
    facts.allergens.push_back(
        {allergen.allergen, presence_of(allergen.presence), allergen.evidence, allergen.process, allergen.species, allergen.by_itself});
  facts.additive = specification.additive;
  facts.additive_class = specification.additive_class;
  facts.added_water = ingredient.added_water;
  facts.fixed_by_law = specification.fixed_by_law;
  if (specification.sulphites_ug_per_kg) facts.sulphites_mg_per_kg = share_of(*specification.sulphites_ug_per_kg, 1000);
  facts.varying_group = specification.varying_group;
  if (specification.polyols_ppm) facts.polyols = share_of(*specification.polyols_ppm, 1'000'000);
  facts.sweetening = specification.sweetening;
  facts.kind = specification.kind;
  facts.marks = specification.marks;
  if (specification.glycyrrhizinic_ug_per_kg) facts.glycyrrhizinic_mg_per_kg = share_of(*specification.glycyrrhizinic_ug_per_kg, 1000);
  facts.limit_food = specification.limit_food;
  facts.substitutes = specification.substitutes;
  if (specification.dried_thousandths) facts.dried_times = share_of(*specification.dried_thousandths, 1000);
  facts.sold_as = specification.sold_as;
  for (const auto& in : specification.other_languages) {
    IngredientFacts::InLanguage& other = facts.other_languages.emplace_back();
    other.language = in.language;
    other.label_name = in.label_name;
    for (const auto& part : in.parts) other.parts.push_back(declared_part(part));
  }
  return facts;
}

CakeParts parts_of(const State& state, const CakeId& cake) {
  Gathering gathering{state};
  gathering.parts.cake = cake;
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != cake) continue;
    for (const auto& part : tier.value.parts) {
      gathering.parts.placed.push_back({tier.value.tier, gathering.batch(part.batch, part.mass), part.mass, part.weighed});
    }
  }
  return std::move(gathering.parts);
}

std::vector<std::pair<std::string, CakeParts>> parts_of_tiers(const State& state, const CakeId& cake) {
  std::vector<std::string> names;
  std::map<std::string, Gathering> gatherings;
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != cake) continue;
    const auto [at, begun] = gatherings.try_emplace(tier.value.tier, state);
    if (begun) names.push_back(tier.value.tier);
    at->second.parts.cake = cake;
    for (const auto& part : tier.value.parts)
      at->second.parts.placed.push_back({tier.value.tier, at->second.batch(part.batch, part.mass), part.mass, part.weighed});
  }
  std::vector<std::pair<std::string, CakeParts>> tiers;
  for (const auto& name : names) tiers.emplace_back(name, std::move(gatherings.at(name).parts));
  return tiers;
}

CakeParts parts_of_batch(const State& state, const BatchId& batch) {
  Gathering gathering{state};
  gathering.parts.cake = CakeId{batch.text()};
  const auto recorded = state.batches.find(batch);
  const Mass yield = recorded == state.batches.end() ? grams(1) : recorded->second.value.yield;
  gathering.parts.placed.push_back({"", gathering.batch(batch, yield), yield, true});
  return std::move(gathering.parts);
}

std::vector<std::string> batch_ids(const CakeParts& parts) {
  std::vector<std::string> ids;
  for (const auto& batch : parts.batches) ids.push_back(batch.id.text());
  return ids;
}

std::vector<std::string> inedible_lines(const State& state, const CakeId& cake) {
  std::vector<std::string> lines;
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != cake) continue;
    for (const auto& thing : tier.value.inedible)
      lines.push_back(fmt::format("{} × {} ({} tier)", thing.count, thing.what, tier.value.tier));
  }
  return lines;
}

std::string pack_in_words(const State& state, const LotId& id) {
  const auto lot = state.lots.find(id);
  if (lot == state.lots.end()) return id.text();
  const auto ingredient = state.ingredients.find(lot->second.value.ingredient);
  const std::string name = ingredient == state.ingredients.end() ? lot->second.value.ingredient.text() : ingredient->second.value.name;
  return fmt::format("{} ({}, code {})", id.text(), name, lot->second.value.code);
}

}  // namespace tierproof
