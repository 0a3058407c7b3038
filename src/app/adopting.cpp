#include "tierproof/app/adopting.h"

#include <algorithm>

#include "checking.h"
#include "tierproof/log/hash.h"

namespace tierproof {
namespace {

constexpr std::int64_t millionths_of_one = 1'000'000;

std::optional<RowTold> reference_told(const Session& session, const std::string& row, Date on) {
  const auto rows = session.packs().rows_told(session.kitchen().temperature_rules, "temperature", on);
  if (!rows) return std::nullopt;
  const auto found =
      std::find_if(rows->begin(), rows->end(), [&](const RowTold& told) { return told.id == row && told.mechanism == "heat-reference"; });
  return found == rows->end() ? std::nullopt : std::optional{*found};
}

bool is_egg_or_sugar(const Session& session, const IngredientId& id) {
  const auto ingredient = session.state().ingredients.find(id);
  return ingredient != session.state().ingredients.end() && (ingredient->second.value.sugar || ingredient->second.value.egg == "shell");
}

}  // namespace

Result<Booked> adopt_reference(Session& session, const Adopting& adopting) {
  Checking checking{session};
  checking.person();
  const auto* recipe = checking.known("recipe", session.state().recipes, adopting.recipe, "recipe");
  const auto row = reference_told(session, adopting.row, session.today());
  if (!row) {
    checking.refuse("row", fmt::format("no reference \"{}\" is in force in these rules today", adopting.row),
                    "`tierproof rules` with the code of your temperature rules lists them, as heat-reference");
  }
  checking.words("--why", adopting.why);
  Adopted adopted;
  if (adopting.water_activity) {
    const Share millionths = *adopting.water_activity * millionths_of_one;
    if (millionths <= 0 || millionths > millionths_of_one || denominator(millionths) != 1) {
      checking.refuse("--water-activity", "is no water activity", "write it as it was measured, above 0 and up to 1, such as 0.85");
    } else {
      adopted.water_activity_millionths = static_cast<std::int64_t>(numerator(millionths));
    }
    checking.words("--measured", adopting.measured);
  } else {
    if (!adopting.measured.empty())
      checking.refuse("--measured", "is given without what was measured", "write the water activity too, or leave it out");
    const auto& heated = recipe == nullptr ? std::vector<IngredientId>{} : recipe->value.heated_together;
    if (recipe != nullptr &&
        (heated.empty() || !std::all_of(heated.begin(), heated.end(), [&](const auto& id) { return is_egg_or_sugar(session, id); }))) {
      checking.refuse("--water-activity", "is missing: by the recipe, more than egg and sugar is heated together, or it does not say what",
                      "have the water activity of the mix measured, and write it with --measured");
    }
  }
  if (!checking.good()) return checking.refusals();
  adopted.recipe = RecipeId{adopting.recipe};
  adopted.recipe_version = recipe->place;
  adopted.row = row->id;
  adopted.clause = row->clause;
  adopted.says_sha256 = to_hex(sha256(row->says));
  adopted.measured = adopting.measured;
  adopted.why = adopting.why;
  return book_one(session, checking, adopted, adopting.recipe, checking.moment("now"));
}

const Recorded<Adopted>* adoption_in_force(const Session& session, std::uint64_t recipe_version, Instant at,
                                           const TemperatureTerms& terms) {
  const State& state = session.state();
  const auto recipe = state.recipe_versions.find(recipe_version);
  if (recipe == state.recipe_versions.end()) return nullptr;
  const Recorded<Adopted>* newest = nullptr;
  for (const auto& adopted : state.adopted) {
    const bool of_it = adopted.value.recipe_version == recipe_version && adopted.sequence > recipe->second.sequence;
    if (of_it && adopted.happened <= at) newest = &adopted;
  }
  if (newest == nullptr) return nullptr;
  const auto told = reference_told(session, newest->value.row, terms.on);
  const bool there = std::any_of(terms.references.begin(), terms.references.end(),
                                 [&](const HeatReference& reference) { return reference.cited.row == newest->value.row; });
  const bool as_it_was = told && told->clause == newest->value.clause && to_hex(sha256(told->says)) == newest->value.says_sha256;
  return there && as_it_was ? newest : nullptr;
}

std::optional<AdoptedHere> adopted_for(const Session& session, const Recorded<Batch>& batch, const TemperatureTerms& terms) {
  const auto* adopted = adoption_in_force(session, batch.value.recipe_version, batch.happened, terms);
  if (adopted == nullptr) return std::nullopt;
  const auto row = std::find_if(terms.references.begin(), terms.references.end(),
                                [&](const HeatReference& reference) { return reference.cited.row == adopted->value.row; });
  AdoptedHere here{{*row, fmt::format("{}, {}, note {}", adopted->person.text(),
                                      format_date_long(day_of(adopted->happened, adopted->offset)), adopted->sequence)},
                   std::nullopt};
  if (adopted->value.water_activity_millionths) here.water_activity = Share{*adopted->value.water_activity_millionths, millionths_of_one};
  return here;
}

bool only_egg_and_sugar(const Session& session, const Batch& batch, const Recipe& recipe) {
  return std::all_of(batch.uses.begin(), batch.uses.end(), [&](const BatchUse& use) {
    const auto heated = [&](const std::string& of) {
      return std::find(recipe.heated_together.begin(), recipe.heated_together.end(), IngredientId{of}) != recipe.heated_together.end();
    };
    if (use.batch) {
      const auto inner = session.state().batches.find(BatchId{use.of});
      return inner != session.state().batches.end() && !heated(inner->second.value.recipe.text());
    }
    const auto lot = session.state().lots.find(LotId{use.of});
    if (lot == session.state().lots.end()) return false;
    const IngredientId& ingredient = lot->second.value.ingredient;
    return !heated(ingredient.text()) || is_egg_or_sugar(session, ingredient);
  });
}

}  // namespace tierproof
