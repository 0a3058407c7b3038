#include "label_shares.h"

#include <algorithm>
#include <map>

#include "label_runs.h"

namespace tierproof {
namespace {

const IngredientFacts& food_of(const CakeParts& parts, const LotAmount& amount) { return parts.lots[amount.lot].ingredient; }

}  // namespace

bool counts_as_water(const IngredientFacts& food) {
  const bool allergen = std::any_of(food.allergens.begin(), food.allergens.end(),
                                    [](const AllergenStatement& said) { return said.presence == Presence::contains; });
  return food.added_water && food.parts.empty() && food.additive.empty() && food.additive_class.empty() && !allergen &&
         food.sulphites_mg_per_kg.value_or(0) == 0;
}

namespace {

/// Water that went into dried and concentrated foods again.
Share water_given_back(const CakeParts& parts, const LotAmount& amount) {
  const auto& times = food_of(parts, amount).dried_times;
  return times && *times > 1 ? amount.reconstituted_mg * (*times - 1) : Share{0};
}

}  // namespace

Share ranking_mg(const CakeParts& parts, const LotAmount& amount) {
  return std::min(amount.ingoing_mg, amount.remaining_mg) + water_given_back(parts, amount);
}

AddedWater added_water(const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  AddedWater water;
  std::map<std::string, Share> by_name;
  Share others = 0;
  Share put_in = 0;
  Share given_back = 0;
  for (const LotAmount& amount : made.lots) {
    const IngredientFacts& food = food_of(parts, amount);
    if (!counts_as_water(food)) {
      others += std::min(amount.ingoing_mg, amount.remaining_mg);
      given_back += water_given_back(parts, amount);
      continue;
    }
    water.used = true;
    water.lots.push_back(amount.lot);
    put_in += amount.ingoing_mg;
    by_name[printed_name(food)] += amount.ingoing_mg;
  }
  if (!water.used) return water;
  std::sort(water.lots.begin(), water.lots.end());
  water.name = std::max_element(by_name.begin(), by_name.end(), [](const auto& a, const auto& b) { return a.second < b.second; })->first;
  const Share left = (terms.water_ranked_as_used ? put_in : made.finished_mg - others) - given_back;
  if (left > 0) water.remains_mg = left;
  water.of_finished = water.remains_mg / made.finished_mg;
  return water;
}

Share sulphites_in_finished(const CakeParts& parts, const Composition& made) {
  Share sum = 0;
  for (const LotAmount& amount : made.lots) sum += amount.ingoing_mg * food_of(parts, amount).sulphites_mg_per_kg.value_or(0);
  return sum / made.finished_mg;
}

namespace {

template <typename Fits>
std::vector<std::size_t> without_figure(const CakeParts& parts, const Composition& made, const Fits& fits) {
  std::vector<std::size_t> silent;
  for (std::size_t i = 0; i < made.lots.size(); ++i) {
    const IngredientFacts& food = food_of(parts, made.lots[i]);
    if (!food.sulphites_mg_per_kg && fits(pack_statement(food, std::string{sulphites_key}).presence)) silent.push_back(i);
  }
  return silent;
}

}  // namespace

std::vector<std::size_t> sulphites_without_figure(const CakeParts& parts, const Composition& made) {
  return without_figure(parts, made, [](Presence presence) { return presence == Presence::contains; });
}

std::vector<std::size_t> sulphites_in_doubt(const CakeParts& parts, const Composition& made) {
  return without_figure(parts, made, [](Presence presence) { return presence == Presence::unknown || presence == Presence::may_contain; });
}

bool above_threshold(const Share& mg_per_kg, const AllergenTerm& term) {
  if (!term.above_mg_per_kg) return mg_per_kg > 0;
  return mg_per_kg > *term.above_mg_per_kg || (term.at_threshold && mg_per_kg == *term.above_mg_per_kg);
}

Share share_of_name(const Declaration& declared, const std::string& name) {
  Share sum = 0;
  for (const ListedIngredient& entry : declared.ingredients) {
    if (entry.name == name) sum += entry.of_finished;
  }
  return sum;
}

const AllergenTrace* find_trace(const Composition& made, const std::string& key) {
  const auto found =
      std::find_if(made.allergens.begin(), made.allergens.end(), [&](const AllergenTrace& trace) { return trace.allergen == key; });
  return found == made.allergens.end() ? nullptr : &*found;
}

}  // namespace tierproof
