#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cctype>
#include <map>
#include <numeric>
#include <set>

#include "cake_for_tests.h"
#include "tierproof/sums/declaration.h"

// What must hold of every cake, checked on made-up ones: batches of batches with shared parts, several packs of one food.

namespace tierproof {
namespace {

using namespace for_tests;

int below(int limit) { return *rc::gen::inRange(0, limit); }
Mass some_mass(std::int64_t limit_mg = 900'000) { return Mass::milligrams(*rc::gen::inRange<std::int64_t>(1, limit_mg)); }

/// One of a small pantry: foods that differ in every way that a list treats apart.
IngredientFacts some_food() {
  IngredientFacts jam = food("apricot jam", {"sulphites"});
  jam.parts = {part("apricots"), part("sugar"), additive_part("pectins", "E440", "gelling agent", below(2) == 0)};
  jam.fixed_by_law = "jam";
  if (below(2) == 0) jam.sulphites_mg_per_kg = below(200);
  IngredientFacts biscuit = food("biscuit", {"gluten:wheat", "milk"});
  biscuit.parts = {part("wheat flour"), part("butter"), additive_part("soya lecithins", "E322", "emulsifier", false),
                   additive_part("E471", "E471", "emulsifier")};
  IngredientFacts isomalt = food("isomalt");
  isomalt.additive = "E953";
  isomalt.additive_class = "sweetener";
  isomalt.polyols = 1;
  IngredientFacts doubtful = food("sprinkles");
  says(doubtful, "nuts:hazelnut", Presence::may_contain);
  says(doubtful, "sesame", Presence::unknown);
  const std::vector<IngredientFacts> pantry = {
      food("sugar"), food("butter", {"milk"}), food("wheat flour", {"gluten:wheat"}), water(), jam, biscuit, isomalt, doubtful};
  return pantry[static_cast<std::size_t>(below(static_cast<int>(pantry.size())))];
}

/// A cake that can be composed: no loops, no batch heavier than what went in.
CakeParts some_cake() {
  Baking baking;
  const int packs = 1 + below(6);
  for (int i = 0; i < packs; ++i) baking.pack(some_food());
  const int batches = 1 + below(5);
  for (int b = 0; b < batches; ++b) {
    std::vector<Use> uses;
    std::int64_t put_in = 0;
    const int lines = 1 + below(4);
    for (int i = 0; i < lines; ++i) {
      const Mass mass = some_mass();
      put_in += mass.to_milligrams();
      const bool sub = b > 0 && below(2) == 0;
      uses.push_back(sub ? of_batch(static_cast<std::size_t>(below(b)), mass) : of_pack(static_cast<std::size_t>(below(packs)), mass));
    }
    const std::int64_t yield = put_in - put_in * below(40) / 100;
    baking.batch("part " + std::to_string(b), uses, Mass::milligrams(std::max<std::int64_t>(yield, 1)), below(4) != 0);
  }
  const int placed = 1 + below(3);
  for (int i = 0; i < placed; ++i) {
    baking.place(i % 2 == 0 ? "bottom" : "top", static_cast<std::size_t>(below(batches)), some_mass(), below(4) != 0);
  }
  return baking.parts;
}

/// Ingoing mass of a pack, by walking every path by itself.
Share walked(const CakeParts& parts, std::size_t lot, std::size_t batch, const Share& mass) {
  Share sum = 0;
  const BatchFacts& here = parts.batches[batch];
  for (const Use& use : here.uses) {
    const Share part = mass * share_of(use.mass.to_milligrams(), here.yield.to_milligrams());
    if (use.of == Use::Of::lot && use.index == lot) sum += part;
    if (use.of == Use::Of::batch) sum += walked(parts, lot, use.index, part);
  }
  return sum;
}

RC_GTEST_PROP(CompositionProperties, ConserveMassToTheLastFraction, ()) {
  const CakeParts parts = some_cake();
  const Result<Composition> made = compose(parts, {});
  RC_ASSERT(made.has_value());
  Share finished = 0;
  for (const Placed& placed : parts.placed) finished += placed.mass.to_milligrams();
  Share ingoing = 0;
  std::map<std::size_t, Share> by_lot;
  for (const LotAmount& amount : made->lots) {
    ingoing += amount.ingoing_mg;
    by_lot[amount.lot] = amount.ingoing_mg;
    RC_ASSERT(!amount.paths.empty());
  }
  RC_ASSERT(made->finished_mg == finished);
  RC_ASSERT(made->ingoing_mg == ingoing);
  RC_ASSERT(ingoing == made->finished_mg + made->lost_mg);
  Share tiers = 0;
  for (const TierAmount& tier : made->tiers) tiers += tier.finished_mg;
  RC_ASSERT(tiers == finished);
  for (std::size_t lot = 0; lot < parts.lots.size(); ++lot) {
    Share sum = 0;
    for (const Placed& placed : parts.placed) sum += walked(parts, lot, placed.batch, placed.mass.to_milligrams());
    const auto found = by_lot.find(lot);
    RC_ASSERT(sum == (found == by_lot.end() ? Share{0} : found->second));
  }
}

RC_GTEST_PROP(DeclarationProperties, ShowAnAllergenThatIsAddedToAnyPack, ()) {
  CakeParts parts = some_cake();
  const LabelTerms terms = label_terms();
  const Result<Composition> before = compose(parts, {});
  const std::size_t lot = before->lots[static_cast<std::size_t>(below(static_cast<int>(before->lots.size())))].lot;
  const AllergenTerm& term = terms.allergens[static_cast<std::size_t>(below(static_cast<int>(terms.allergens.size())))];
  IngredientFacts& facts = parts.lots[lot].ingredient;
  says(facts, term.key, Presence::contains);
  facts.sulphites_mg_per_kg.reset();
  const Labelled cake = label(parts);
  RC_ASSERT(holds(cake.declared.contains, term.key));
  RC_ASSERT(!holds(cake.declared.may_contain, term.key));
  RC_ASSERT(!holds(cake.declared.unknown, term.key));
  std::vector<std::string> words = term.names;
  words.push_back(term.word);
  for (std::string& word : words) {
    std::transform(word.begin(), word.end(), word.begin(),
                   [](char c) { return static_cast<char>(std::toupper(static_cast<unsigned char>(c))); });
  }
  const auto shows = [&](const std::vector<Run>& runs) {
    return std::any_of(runs.begin(), runs.end(), [&](const Run& run) { return run.emphasised && holds(words, run.text); });
  };
  bool listed = false;
  for (const ListedIngredient& one : cake.declared.ingredients) {
    if (std::find(one.lots.begin(), one.lots.end(), lot) != one.lots.end()) listed = shows(one.runs);
  }
  RC_ASSERT(listed);
  RC_ASSERT(shows(label(parts, terms, "allergens").declared.allergen_line));
}

/// What a declaration says, with packs by their ids.
std::string said(const Labelled& cake) {
  std::string text = cake.declared.kind + "\n" + text_of(cake.declared.heading) + "\n" + marked(cake.declared.allergen_line) + "\n";
  for (const ListedIngredient& one : cake.declared.ingredients) {
    std::set<std::string> lots;
    for (const std::size_t lot : one.lots) lots.insert(cake.parts.lots[lot].id.text());
    text += one.name + "|" + marked(one.runs) + "|" + one.ingoing_mg.str() + "|" + one.of_finished.str() +
            (one.any_order_at_end ? "|any" : "|ranked");
    for (const std::string& lot : lots) text += "|" + lot;
    text += "\n";
  }
  const std::vector<std::string> statements = sentences(cake.declared);
  for (const auto* list : {&cake.declared.contains, &cake.declared.may_contain, &cake.declared.unknown, &statements}) {
    for (const std::string& line : *list) text += line + ";";
    text += "\n";
  }
  text +=
      cake.declared.added_water_mg.str() + (cake.declared.water_left_out ? "|out" : "|in") + "|" + cake.declared.sulphites_mg_per_kg.str();
  return text;
}

template <class T>
std::vector<std::size_t> shuffled(std::vector<T>& items) {  // returns the new place of every old one
  std::vector<std::size_t> order(items.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[static_cast<std::size_t>(below(static_cast<int>(i)))]);
  std::vector<T> moved;
  std::vector<std::size_t> place(items.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    moved.push_back(items[order[i]]);
    place[order[i]] = i;
  }
  items = std::move(moved);
  return place;
}

RC_GTEST_PROP(DeclarationProperties, DoNotDependOnTheOrderOfTheRecords, ()) {
  const CakeParts parts = some_cake();
  CakeParts moved = parts;
  const std::vector<std::size_t> lots = shuffled(moved.lots);
  const std::vector<std::size_t> batches = shuffled(moved.batches);
  for (LotFacts& lot : moved.lots) shuffled(lot.ingredient.allergens);
  for (BatchFacts& batch : moved.batches) {
    shuffled(batch.uses);
    for (Use& use : batch.uses) use.index = use.of == Use::Of::lot ? lots[use.index] : batches[use.index];
  }
  shuffled(moved.placed);
  for (Placed& placed : moved.placed) placed.batch = batches[placed.batch];
  const Labelled one = label(parts);
  const Labelled other = label(moved);
  RC_ASSERT(said(one) == said(other));
  RC_ASSERT(check(one.parts, one.made, one.declared, one.terms) == check(other.parts, other.made, other.declared, other.terms));
  for (std::size_t i = 0; i < one.made.allergens.size(); ++i) {
    RC_ASSERT(one.made.allergens[i].contains == other.made.allergens[i].contains);
    RC_ASSERT(one.made.allergens[i].unknown == other.made.allergens[i].unknown);
  }
}

RC_GTEST_PROP(DeclarationProperties, DoNotDependOnTheScaleOfTheCake, ()) {
  const CakeParts parts = some_cake();
  const std::int64_t factor = *rc::gen::inRange<std::int64_t>(2, 1000);
  CakeParts larger = parts;
  for (BatchFacts& batch : larger.batches) {
    batch.yield = Mass::milligrams(batch.yield.to_milligrams() * factor);
    for (Use& use : batch.uses) use.mass = Mass::milligrams(use.mass.to_milligrams() * factor);
  }
  for (Placed& placed : larger.placed) placed.mass = Mass::milligrams(placed.mass.to_milligrams() * factor);
  const Labelled one = label(parts);
  const Labelled other = label(larger);
  RC_ASSERT(marked(one.declared) == marked(other.declared));
  RC_ASSERT(one.declared.contains == other.declared.contains);
  RC_ASSERT(one.declared.statements == other.declared.statements);
  RC_ASSERT(one.declared.water_left_out == other.declared.water_left_out);
  RC_ASSERT(one.declared.sulphites_mg_per_kg == other.declared.sulphites_mg_per_kg);
  for (std::size_t i = 0; i < one.declared.ingredients.size(); ++i) {
    RC_ASSERT(one.declared.ingredients[i].of_finished == other.declared.ingredients[i].of_finished);
    RC_ASSERT(one.declared.ingredients[i].any_order_at_end == other.declared.ingredients[i].any_order_at_end);
    RC_ASSERT(one.declared.ingredients[i].ingoing_mg * factor == other.declared.ingredients[i].ingoing_mg);
  }
}

/// How many findings stop the cake, and how many of those nobody may override.
std::pair<int, int> stops(const CakeParts& parts) {
  const Labelled cake = label(parts);
  std::pair<int, int> count{0, 0};
  for (const Finding& finding : check(cake.parts, cake.made, cake.declared, cake.terms)) {
    if (finding.stop != Stop::none) ++count.first;
    if (finding.stop == Stop::no_override) ++count.second;
  }
  return count;
}

RC_GTEST_PROP(DeclarationProperties, NeverStopLessWhenSomethingIsForgotten, ()) {
  CakeParts parts = some_cake();
  const auto before = stops(parts);
  std::vector<AllergenStatement>& statements =
      parts.lots[static_cast<std::size_t>(below(static_cast<int>(parts.lots.size())))].ingredient.allergens;
  const std::size_t at = static_cast<std::size_t>(below(static_cast<int>(statements.size())));
  const int how = below(3);
  if (how == 0) statements[at].presence = Presence::unknown;
  if (how == 1) statements[at].evidence.clear();
  if (how == 2) statements.erase(statements.begin() + static_cast<std::ptrdiff_t>(at));
  const auto after = stops(parts);
  RC_ASSERT(after.first >= before.first);
  RC_ASSERT(after.second >= before.second);
}

RC_GTEST_PROP(DeclarationProperties, ListAlwaysInALawfulOrder, ()) {
  const Labelled cake = label(some_cake());
  std::vector<std::string> names;
  for (const ListedIngredient& one : cake.declared.ingredients) names.push_back(one.name);
  RC_ASSERT(why_unlawful_order(cake.declared, names).empty());
}

}  // namespace
}  // namespace tierproof
