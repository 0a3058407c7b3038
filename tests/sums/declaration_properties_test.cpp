#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cctype>
#include <map>
#include <numeric>
#include <set>

#include "cake_for_tests.h"
#include "lawful_order.h"
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
  IngredientFacts sugar = food("sugar");
  sugar.kind = "sugar";
  IngredientFacts molasses = food("molasses");
  molasses.kind = "sugar";
  IngredientFacts spice = food("cinnamon");
  IngredientFacts other_spice = food("mace");
  spice.kind = other_spice.kind = "spice";
  IngredientFacts oil = food("sunflower oil");
  IngredientFacts other_oil = food("rapeseed oil");
  oil.substitutes = other_oil.substitutes = "oil";
  IngredientFacts egg = food("dried egg white", {"eggs"});
  egg.dried_times = 8;
  const std::vector<IngredientFacts> pantry = {sugar,
                                               food("butter", {"milk"}),
                                               food("wheat flour", {"gluten:wheat"}),
                                               water(),
                                               jam,
                                               biscuit,
                                               isomalt,
                                               doubtful,
                                               molasses,
                                               spice,
                                               other_spice,
                                               oil,
                                               other_oil,
                                               egg,
                                               food("rum")};
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
      if (below(4) == 0) uses.back().remains = share_of(1, 1 + below(4));
      uses.back().reconstituted = !sub && below(2) == 0;
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

/// Every way to say less, at once.
LabelTerms terms_that_say_less() {
  LabelTerms terms = label_terms();
  terms.collectives = {{fic("sugars", ""), "sugar", "Sugars", "listed", std::nullopt},
                       {fic("spices", ""), "spice", "spices", "left out", std::nullopt}};
  terms.and_or = AndOrTerm{fic("and-or", ""), share_of(2, 100), "contains {names}", "and/or"};
  terms.reliefs = {{fic("relief", ""), std::nullopt, {"any"}}};
  terms.any_order_below = {fic("small", ""), share_of(2, 100), true, "Contains 2 percent or less of {names}", {}};
  terms.additive_form.form = "name";
  return terms;
}
LabelTerms some_terms() { return below(2) == 0 ? label_terms() : terms_that_say_less(); }

RC_GTEST_PROP(DeclarationProperties, ShowAnAllergenThatIsAddedToAnyPack, ()) {
  CakeParts parts = some_cake();
  const LabelTerms terms = some_terms();
  const Result<Composition> before = compose(parts, {});
  const std::size_t lot = before->lots[static_cast<std::size_t>(below(static_cast<int>(before->lots.size())))].lot;
  const AllergenTerm& term = terms.allergens[static_cast<std::size_t>(below(static_cast<int>(terms.allergens.size())))];
  IngredientFacts& facts = parts.lots[lot].ingredient;
  says(facts, term.key, Presence::contains);
  facts.sulphites_mg_per_kg.reset();
  const Labelled cake = label(parts, terms);
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
  const LabelTerms terms = some_terms();
  const Labelled one = label(parts, terms);
  const Labelled other = label(moved, terms);
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
  const LabelTerms terms = some_terms();
  const Labelled one = label(parts, terms);
  const Labelled other = label(larger, terms);
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
  const Labelled cake = label(some_cake(), some_terms());
  std::vector<std::string> names;
  for (const ListedIngredient& one : cake.declared.ingredients) names.push_back(one.name);
  RC_ASSERT(why_unlawful_order(cake.declared, names).empty());
}

/// What a label says, packs and sources apart.
std::string printed_label(const Declaration& declared) {
  std::string text = marked(declared) + "\n" + marked(declared.summary) + "\n";
  for (const ListedIngredient& one : declared.ingredients) text += one.ingoing_mg.str() + (one.any_order_at_end ? "a " : " ");
  for (const auto* list : {&declared.contains, &declared.may_contain, &declared.unknown}) {
    text += "\n";
    for (const std::string& key : *list) text += key + ";";
  }
  return text;
}

RC_GTEST_PROP(DeclarationProperties, DoNotDependOnHowManyPacksAFoodCameIn, ()) {
  const CakeParts parts = some_cake();
  CakeParts split = parts;
  const std::size_t lot = static_cast<std::size_t>(below(static_cast<int>(parts.lots.size())));
  split.lots.push_back(parts.lots[lot]);
  split.lots.back().id = LotId{"pack-99"};
  for (BatchFacts& batch : split.batches) {
    std::vector<Use> uses;
    for (const Use& use : batch.uses) {
      uses.push_back(use);
      if (use.of != Use::Of::lot || use.index != lot || use.mass.to_milligrams() < 2) continue;
      const std::int64_t mg = *rc::gen::inRange<std::int64_t>(1, use.mass.to_milligrams());
      uses.back().mass = Mass::milligrams(mg);
      uses.push_back(use);
      uses.back().mass = Mass::milligrams(use.mass.to_milligrams() - mg);
      uses.back().index = split.lots.size() - 1;
    }
    batch.uses = std::move(uses);
  }
  const LabelTerms terms = some_terms();
  RC_ASSERT(printed_label(label(parts, terms).declared) == printed_label(label(split, terms).declared));
}

RC_GTEST_PROP(DeclarationProperties, ListEveryPackButWaterThatIsLeftOut, ()) {
  const Labelled cake = label(some_cake(), some_terms());
  std::map<std::size_t, int> listed;
  for (const ListedIngredient& one : cake.declared.ingredients) {
    for (const std::size_t lot : one.lots) ++listed[lot];
  }
  std::size_t due = 0;
  for (const LotAmount& amount : cake.made.lots) {
    const bool left_out = cake.parts.lots[amount.lot].ingredient.added_water && cake.declared.water_left_out;
    RC_ASSERT(listed[amount.lot] == (left_out ? 0 : 1));
    due += left_out ? 0U : 1U;
  }
  std::erase_if(listed, [](const auto& one) { return one.second == 0; });
  RC_ASSERT(listed.size() == due);
}

RC_GTEST_PROP(DeclarationProperties, NeverPrintOneEntryTwice, ()) {
  CakeParts parts = some_cake();
  for (LotFacts& lot : parts.lots) {
    if (below(2) == 0) lot.ingredient.kind.clear();
    if (below(2) == 0) lot.ingredient.substitutes.clear();
    if (below(2) == 0) lot.ingredient.fixed_by_law.clear();
  }
  std::set<std::string> printed;
  for (const ListedIngredient& one : label(parts).declared.ingredients) RC_ASSERT(printed.insert(marked(one.runs)).second);
}

RC_GTEST_PROP(DeclarationProperties, DoNotDependOnBatchesInBetween, ()) {
  const CakeParts parts = some_cake();
  CakeParts nested = parts;
  const std::size_t batches = parts.batches.size();
  for (std::size_t i = 0; i < batches; ++i) {
    for (std::size_t u = 0; u < parts.batches[i].uses.size(); ++u) {
      if (below(2) == 0) continue;
      const Use use = parts.batches[i].uses[u];
      nested.batches.push_back({BatchId{"batch-" + std::to_string(100 * i + u + 100)}, "weighed out", {use}, use.mass, true, {}});
      nested.batches[i].uses[u] = of_batch(nested.batches.size() - 1, use.mass);
    }
  }
  const LabelTerms terms = some_terms();
  RC_ASSERT(printed_label(label(parts, terms).declared) == printed_label(label(nested, terms).declared));
}

RC_GTEST_PROP(DeclarationProperties, DoNotDependOnWhetherPartsAreMergedFirst, ()) {
  const CakeParts parts = some_cake();  // all that is placed, stacked into one batch
  CakeParts stacked = parts;
  std::int64_t finished = 0;
  std::vector<Use> uses;
  for (const Placed& placed : parts.placed) {
    uses.push_back(of_batch(placed.batch, placed.mass));
    finished += placed.mass.to_milligrams();
  }
  stacked.batches.push_back({BatchId{"batch-99"}, "stacked", uses, Mass::milligrams(finished), true, {}});
  stacked.placed = {{"only", stacked.batches.size() - 1, Mass::milligrams(finished), true}};
  const LabelTerms terms = some_terms();
  RC_ASSERT(printed_label(label(parts, terms).declared) == printed_label(label(stacked, terms).declared));
}

RC_GTEST_PROP(DeclarationProperties, AddUpAndNeverIncrease, ()) {
  const Labelled cake = label(some_cake(), some_terms());
  Share listed = 0;
  for (std::size_t i = 0; i < cake.declared.ingredients.size(); ++i) {
    const ListedIngredient& one = cake.declared.ingredients[i];
    listed += one.ingoing_mg;
    if (i == 0 || one.any_order_at_end != cake.declared.ingredients[i - 1].any_order_at_end) continue;
    RC_ASSERT(cake.declared.ingredients[i - 1].ingoing_mg >= one.ingoing_mg);
  }
  Share others = 0;
  Share given_back = 0;
  bool watered = false;
  for (const LotAmount& amount : cake.made.lots) {
    const IngredientFacts& facts = cake.parts.lots[amount.lot].ingredient;
    RC_ASSERT(amount.remaining_mg <= amount.ingoing_mg);
    RC_ASSERT(amount.reconstituted_mg <= amount.ingoing_mg);
    watered = watered || facts.added_water;
    if (facts.added_water) continue;
    others += amount.remaining_mg;
    if (facts.dried_times) given_back += amount.reconstituted_mg * (*facts.dried_times - 1);
  }
  const Share water = cake.declared.water_left_out ? Share{0} : cake.declared.added_water_mg;
  RC_ASSERT(listed == others + given_back + water);
  if (cake.declared.added_water_mg > 0) RC_ASSERT(others + given_back + cake.declared.added_water_mg == cake.made.finished_mg);
  RC_ASSERT(watered || cake.declared.added_water_mg == 0);
}

/// Every text that stands out in a list.
std::set<std::string> stands_out(const Declaration& declared) {
  std::set<std::string> texts;
  for (const ListedIngredient& one : declared.ingredients) {
    for (const Run& run : one.runs) {
      if (run.emphasised) texts.insert(run.text);
    }
  }
  return texts;
}

RC_GTEST_PROP(DeclarationProperties, ByPartSayTheSameOfTheSameCake, ()) {
  CakeParts parts = some_cake();
  for (std::size_t i = 0; i < parts.batches.size(); ++i) {
    if (below(2) == 0) parts.batches[i].label_name = below(2) == 0 ? "cream" : "part " + std::to_string(i);
  }
  for (const Placed& placed : parts.placed) {
    if (parts.batches[placed.batch].label_name.empty()) parts.batches[placed.batch].label_name = "sponge";
  }
  const LabelTerms terms = label_terms();
  const Labelled cake = label(parts, terms);
  DeclareAs as;
  as.list = "by part";
  const Declaration declared = declare(parts, cake.made, terms, "ingredient list", as);
  RC_ASSERT(declared.list == "by part");
  RC_ASSERT(declared.contains == cake.declared.contains);
  RC_ASSERT(declared.unknown == cake.declared.unknown);
  RC_ASSERT(stands_out(declared) == stands_out(cake.declared));
  Share mass = 0;
  std::set<std::size_t> lots;
  for (std::size_t i = 0; i < declared.ingredients.size(); ++i) {
    const ListedIngredient& one = declared.ingredients[i];
    mass += one.ingoing_mg;
    lots.insert(one.lots.begin(), one.lots.end());
    if (i > 0) RC_ASSERT(declared.ingredients[i - 1].ingoing_mg >= one.ingoing_mg);
  }
  RC_ASSERT(mass == cake.made.finished_mg);
  for (const LotAmount& amount : cake.made.lots) RC_ASSERT(parts.lots[amount.lot].ingredient.added_water || lots.count(amount.lot) == 1);
  const Declaration shorter = shorter_list(parts, cake.made, terms, "ingredient list");
  RC_ASSERT(marked(shorter) == marked(cake.declared) || marked(shorter) == marked(declared));
}

}  // namespace
}  // namespace tierproof
