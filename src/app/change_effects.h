#pragma once

#include <map>
#include <set>

#include "tierproof/app/changing.h"

namespace tierproof {

/// A pack of `ingredient` from `supplier` that may already be what the new reading says: one that stands under `compared`, or of which
/// something is left.
std::vector<LotId> packs_in_question(const State& state, const IngredientId& ingredient, const SupplierId& supplier,
                                     std::uint64_t compared);
/// Of these, those that are still in the house: something is left of them, or they are in a batch that has something left, or in a cake
/// that has not left.
std::vector<LotId> in_house(const State& state, const std::vector<LotId>& packs);

/// The state as it would be with these readings on file under their places, and with these packs standing under them.
State with_readings(const Session& session, const std::map<std::uint64_t, Specification>& readings,
                    const std::map<LotId, std::uint64_t>& packs);

/// The gravest of what packs of every supplier say of an allergen of the foods in a recipe, by what is on file on `on`; nothing on file is
/// unknown.
Presence presence_in_recipe(const State& state, Date on, const RecipeId& recipe, const std::string& allergen);

/// Recipes that take `ingredient` as they are now, with what changes of them from one state to the other.
std::vector<RecipeChange> recipes_changed(const State& before, const State& after, const IngredientId& ingredient, const LabelTerms& terms,
                                          Date on);
/// Batches with something left that one of `packs` went into.
std::vector<BatchTouched> batches_touched(const State& state, const std::set<LotId>& packs);

/// Every cake with one of `packs` in it that is otherwise when the records say `after`, judged at `at`; the session is left as it was.
std::vector<CakeChange> cakes_changed(Session& session, const State& after, const std::set<LotId>& packs, ZonedInstant at);

}  // namespace tierproof
