#pragma once

#include <string>
#include <utility>
#include <vector>

#include "tierproof/app/recording.h"
#include "tierproof/sums/composition.h"
#include "tierproof/sums/cross_contact.h"
#include "tierproof/sums/label_terms.h"

namespace tierproof {

/// The making of one cake as plain values for the sums. A pack, batch or specification that was voided stands in as a pack of
/// which nothing is known.
CakeParts parts_of(const State& state, const CakeId& cake);
/// The same tier by tier, each as if it were the whole cake; in the order that they were built.
std::vector<std::pair<std::string, CakeParts>> parts_of_tiers(const State& state, const CakeId& cake);
/// The same for one batch alone, as if it were the whole cake.
CakeParts parts_of_batch(const State& state, const BatchId& batch);

/// What a pack says, as the sums need it.
IngredientFacts ingredient_facts(const Ingredient& ingredient, const IngredientId& id, const Specification& specification);

/// Ids of every batch in `parts`.
std::vector<std::string> batch_ids(const CakeParts& parts);

/// `4 × dowel (bottom tier)`, one line for each part of the cake that is not food.
std::vector<std::string> inedible_lines(const State& state, const CakeId& cake);

}  // namespace tierproof
