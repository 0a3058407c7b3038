#include "egg.h"

#include <algorithm>
#include <set>

#include "checking.h"
#include "life.h"
#include "parts.h"
#include "tierproof/app/adopting.h"
#include "tierproof/sums/egg_mix.h"

namespace tierproof {

std::optional<Share> sugar_of_recipe(const State& state, const Recipe& recipe) {
  std::vector<MixPart> mix;
  for (const auto& item : recipe.items) {
    if (std::find(recipe.heated_together.begin(), recipe.heated_together.end(), IngredientId{item.of}) == recipe.heated_together.end())
      continue;
    if (item.recipe) return std::nullopt;
    const auto ingredient = state.ingredients.find(IngredientId{item.of});
    if (ingredient == state.ingredients.end()) return std::nullopt;
    mix.push_back({item.mass, ingredient->second.value.sugar ? Share{1} : Share{0}});
  }
  return sugar_of_mix(mix);
}

std::optional<Share> sugar_of_mix_in(const State& state, const Batch& batch, const Recipe& recipe) {
  std::set<IngredientId> sugars;
  for (const auto& [id, ingredient] : state.ingredients) {
    if (ingredient.value.sugar) sugars.insert(id);
  }
  std::vector<MixPart> mix;
  for (const auto& use : batch.uses) {
    const auto heated = [&](const std::string& of) {
      return std::any_of(recipe.heated_together.begin(), recipe.heated_together.end(),
                         [&](const IngredientId& id) { return id.text() == of; });
    };
    if (use.batch) {
      const auto inner = state.batches.find(BatchId{use.of});
      if (inner == state.batches.end()) return std::nullopt;
      if (!heated(inner->second.value.recipe.text())) continue;
      const auto sugar = sugar_of_batch(parts_of_batch(state, inner->first), sugars);
      if (!sugar) return std::nullopt;
      mix.push_back({use.mass, *sugar});
    } else {
      const auto lot = state.lots.find(LotId{use.of});
      if (lot == state.lots.end()) return std::nullopt;
      if (!heated(lot->second.value.ingredient.text())) {
        const auto ingredient = state.ingredients.find(lot->second.value.ingredient);
        if (ingredient == state.ingredients.end() || ingredient->second.value.egg == "shell") return std::nullopt;
        continue;
      }
      mix.push_back({use.mass, sugars.contains(lot->second.value.ingredient) ? Share{1} : Share{0}});
    }
  }
  return sugar_of_mix(mix);
}

namespace {

/// The pasteurised packs of the batch, in words, and whether each was in date on the day it was used.
void egg_pack(const State& state, EggStep& step, const Recorded<Batch>& batch) {
  const Date made = day_of(batch.happened, batch.offset);
  for (const auto& use : batch.value.uses) {
    const auto lot = use.batch ? state.lots.end() : state.lots.find(LotId{use.of});
    if (lot == state.lots.end()) continue;
    const auto ingredient = state.ingredients.find(lot->second.value.ingredient);
    if (ingredient == state.ingredients.end() || !ingredient->second.value.egg.ends_with("pasteurised")) continue;
    const auto dated = lot->second.value.use_by ? lot->second.value.use_by : lot->second.value.best_before;
    if (!step.pack.empty()) step.pack += "; ";
    step.pack +=
        pack_in_words(state, lot->first) +
        (dated ? fmt::format(", {} {}", lot->second.value.use_by ? "use by" : "best before", format_date_long(*dated)) : ", no date");
    if (!dated || *dated < made) step.pack_in_date = false;
    const LotLife life = lot_life(state, lot->first, lot->second);
    if (life.opened_on && life.use_within_days && add_days(*life.opened_on, *life.use_within_days) < made) {
      step.pack += fmt::format(", opened {} and to be used within {} days", format_date_long(*life.opened_on), *life.use_within_days);
      step.pack_in_date = false;
    }
  }
}

/// The validation on file for the recipe as the batch was made by it: filed after the recipe's last correction, and with no more sugar
/// in the mix than the recipe has (a thousandth is left for rounding to milligrams; common practice, no source).
const Recorded<Validation>* validation_for(const State& state, const Batch& batch, const Recipe& recipe,
                                           const std::optional<Share>& sugar) {
  const auto written = state.recipe_versions.at(batch.recipe_version).sequence;
  const Recorded<Validation>* newest = nullptr;
  for (const auto& validation : state.validations) {
    if (validation.value.recipe_version == batch.recipe_version && validation.sequence > written) newest = &validation;
  }
  if (newest == nullptr) return nullptr;
  const auto validated = sugar_of_recipe(state, recipe);
  const bool holds = sugar && (!validated || *sugar <= *validated + Share{1, 1000});
  return holds ? newest : nullptr;
}

/// Whether the mix has as much sugar as the recipe has, within half a hundredth of the mix (common practice, no source): what was
/// measured of the recipe's mix holds for no other.
bool made_as_written(const State& state, const Recipe& recipe, const std::optional<Share>& sugar) {
  const auto written = sugar_of_recipe(state, recipe);
  return sugar && written && abs(*sugar - *written) <= Share{1, 200};
}

}  // namespace

std::optional<LotId> raw_egg_in(const State& state, const Batch& batch) {
  for (const auto& use : batch.uses) {
    const auto lot = use.batch ? state.lots.end() : state.lots.find(LotId{use.of});
    if (lot == state.lots.end()) continue;
    const auto ingredient = state.ingredients.find(lot->second.value.ingredient);
    if (ingredient != state.ingredients.end() && ingredient->second.value.egg == "shell") return lot->first;
  }
  return std::nullopt;
}

std::optional<CoreStep> core_step_of(const State& state, const Recorded<Batch>& batch, const Recipe& recipe) {
  const bool no_raw_egg = recipe.egg == "none" || recipe.egg.ends_with("pasteurised");
  if (!no_raw_egg || recipe.heat_food.empty() || raw_egg_in(state, batch.value)) return std::nullopt;
  return CoreStep{fmt::format("{} ({})", batch.subject, recipe.name), recipe.heat_food};
}

EggStep egg_step_of(const Session& session, const Recorded<Batch>& batch, const Recipe& recipe, const TemperatureTerms& terms) {
  const State& state = session.state();
  EggStep step;
  step.subject = fmt::format("{} ({})", batch.subject, recipe.name);
  step.egg = recipe.egg;
  step.food = recipe.heat_food;
  step.sugar_of_mix = sugar_of_mix_in(state, batch.value, recipe);
  egg_pack(state, step, batch);
  step.only_egg_and_sugar = only_egg_and_sugar(session, batch.value, recipe);
  if (const auto adopted = adopted_for(session, batch, terms)) {
    step.adopted = adopted->reference;
    if (made_as_written(state, recipe, step.sugar_of_mix)) step.water_activity = adopted->water_activity;
    if (adopted->water_activity) step.only_egg_and_sugar = false;  // what was measured counts, and of this mix alone
  }
  if (const auto* validation = validation_for(state, batch.value, recipe, step.sugar_of_mix)) {
    const Validation& value = validation->value;
    HeatRow row;
    row.cited = {fmt::format("note {}", validation->sequence), "validation on file", false};
    row.food = recipe.name;
    row.at = value.at.temperature();
    row.hold = Span{value.hold_ms};
    step.validation = row;
    step.validation_by = fmt::format("{}, {}, kept {}", value.by, format_date_long(value.made), value.kept);
  }
  return step;
}

}  // namespace tierproof
