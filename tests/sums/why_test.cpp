#include "tierproof/sums/why.h"

#include <gtest/gtest.h>

#include "cake_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;

std::string told_why(const std::vector<WordWhy>& all) {
  std::string text;
  for (const WordWhy& one : all) {
    text += one.what + " | " + one.words + " |";
    for (const Cited& cited : one.rules) text += " " + cited.row;
    text += " |";
    for (const std::size_t lot : one.lots) text += " " + std::to_string(lot);
    text += " | " + std::to_string(one.ways.size()) + "\n";
  }
  return text;
}

LabelTerms with_a_form(std::string summary) {
  LabelTerms terms = label_terms();
  terms.form.cited = fic("form", "art. 21(1)");
  terms.form.summary = std::move(summary);
  terms.any_order_below.wording = "Less than 2 percent of {names}";
  return terms;
}

/// Butter by two ways, flour, and sprinkles with a colour that is warned of.
CakeParts butter_by_two_ways() {
  Baking baking;
  const std::size_t butter = baking.pack(food("butter", {"milk"}));
  const std::size_t flour = baking.pack(food("flour", {"gluten:wheat"}));
  IngredientFacts sprinkles = food("sprinkles");
  sprinkles.parts = {part("sugar"), additive_part("tartrazine", "E102", "colour")};
  const std::size_t dots = baking.pack(sprinkles);
  const std::size_t sponge = baking.batch("sponge", {of_pack(butter, grams(40)), of_pack(flour, grams(60))}, grams(100));
  const std::size_t cream = baking.batch("cream", {of_pack(butter, grams(99)), of_pack(dots, grams(1))}, grams(100));
  baking.place("only", sponge, grams(100));
  baking.place("only", cream, grams(100));
  return baking.parts;
}

TEST(WhyWords, CoverEveryPieceOfALabelInItsOrder) {
  const Labelled cake = label(butter_by_two_ways(), with_a_form("required"));
  EXPECT_EQ(told_why(why_words(cake.parts, cake.made, cake.declared, cake.terms)),
            "heading | Ingredients: | heading | | 0\n"
            "ingredient | butter (MILK) | milk form emphasis | 0 | 2\n"
            "ingredient | flour (WHEAT) | gluten:wheat form emphasis | 1 | 1\n"
            "words before small amounts | Less than 2 percent of {names} | any-order | | 0\n"
            "ingredient | Less than 2 percent of sprinkles (sugar, colour: tartrazine) | any-order additive-E102 | 2 | 1\n"
            "allergen | wheat | gluten:wheat form | 1 | 1\n"
            "allergen | milk | milk form | 0 | 2\n"
            "summary | Contains: wheat, milk | contains form | 0 1 | 3\n"
            "statement | tartrazine: may have an adverse effect on activity and attention in children. | colour-warning | 2 | 1\n");
}

TEST(WhyWords, TellEachWayByName) {
  const Labelled cake = label(butter_by_two_ways(), with_a_form("forbidden"));
  const std::vector<WordWhy> all = why_words(cake.parts, cake.made, cake.declared, cake.terms);
  EXPECT_EQ(all[1].ways, (std::vector<std::string>{"cake-1 → batch-1 (sponge) → pack-1", "cake-1 → batch-2 (cream) → pack-1"}));
  EXPECT_TRUE(std::none_of(all.begin(), all.end(), [](const WordWhy& one) { return one.what == "summary"; }));
}

TEST(WhyWords, CoverTheLineWhereNoListIsPrinted) {
  const Labelled cake = label(butter_by_two_ways(), with_a_form("forbidden"), "allergens");
  EXPECT_EQ(told_why(why_words(cake.parts, cake.made, cake.declared, cake.terms)),
            "allergen | wheat | gluten:wheat form | 1 | 1\n"
            "allergen | milk | milk form | 0 | 2\n"
            "line of allergens | Contains: WHEAT, MILK | contains form | 0 1 | 3\n"
            "statement | tartrazine: may have an adverse effect on activity and attention in children. | colour-warning | 2 | 1\n");
}

TEST(WhyWords, NameTheSpeciesOfAnAllergen) {
  LabelTerms terms = with_a_form("required");
  IngredientFacts gelatine = food("gelatine");
  for (AllergenTerm& term : terms.allergens) term.name_species = term.name_species || term.key == "fish";
  for (AllergenStatement& said : gelatine.allergens) {
    if (said.allergen == "fish") said = {"fish", Presence::contains, "", "", "cod"};
  }
  const Labelled cake = label(one_batch({{gelatine, grams(100)}}, grams(100)), terms);
  const std::vector<WordWhy> all = why_words(cake.parts, cake.made, cake.declared, cake.terms);
  ASSERT_EQ(all.size(), 4U);
  EXPECT_EQ(all[2].what + " " + all[2].words, "allergen cod");
}

}  // namespace
}  // namespace tierproof
