#include "tierproof/sums/languages.h"

#include <gtest/gtest.h>

#include "cake_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;
using Missing = std::vector<std::string>;

LabelTerms in_two_languages() {  // FDR B.01.012: English and French
  LabelTerms terms = label_terms();
  terms.language.languages = {"en", "fr"};
  for (AllergenTerm& term : terms.allergens) {
    if (term.key == "milk") term.other_words = {{"fr", "lait"}}, term.other_names = {{"fr", {"lait"}}};
    if (term.key == "gluten:wheat") term.other_words = {{"fr", "blé"}}, term.summary_words = {"wheat", "gluten"};
  }
  for (Wording& wording : terms.wordings) {
    if (wording.key == "ingredients heading") wording.other_texts = {{"fr", "Ingrédients :"}};
    if (wording.key == "contains") wording.other_texts = {{"fr", "Contient"}};
  }
  return terms;
}

IngredientFacts named_in_french(IngredientFacts facts, const std::string& name, std::vector<DeclaredPart> parts = {}) {
  facts.other_languages.push_back({"fr", name, std::move(parts)});
  return facts;
}
IngredientFacts farine() { return named_in_french(food("flour", {"gluten:wheat"}), "farine"); }
IngredientFacts poudre() { return named_in_french(food("milk powder", {"milk"}), "poudre de lait"); }

struct Told {
  Labelled own;
  Declaration declared;
};
Told in_french(const CakeParts& parts, const LabelTerms& terms, const std::string& list = "merged",
               std::string_view kind = "ingredient list") {
  Labelled own = label(parts, terms, kind);
  DeclareAs as;
  as.list = list;
  own.declared = declare(parts, own.made, terms, kind, as);
  Declaration declared = declare(in_language(parts, "fr"), own.made, in_language(terms, "fr"), kind, as);
  return {std::move(own), std::move(declared)};
}
Missing missing(const Told& told) { return missing_in_language(told.own.parts, told.own.made, told.own.declared, told.own.terms, "fr"); }

TEST(Language, ChangesTheWordsAndNothingElse) {
  const Told told = in_french(one_batch({{farine(), grams(60)}, {poudre(), grams(40)}}, grams(100)), in_two_languages());
  EXPECT_EQ(marked(told.declared), "farine (*BLÉ*), poudre de *LAIT*");
  EXPECT_EQ(text_of(told.declared.heading), "Ingrédients :");
  EXPECT_EQ(told.declared.contains, told.own.declared.contains);
  EXPECT_EQ(told.declared.ingredients[0].ingoing_mg, told.own.declared.ingredients[0].ingoing_mg);
  EXPECT_EQ(told.declared.ingredients[0].lots, told.own.declared.ingredients[0].lots);
  EXPECT_TRUE(missing(told).empty());
}

TEST(Language, HasASummaryOfItsOwn) {  // FDR B.01.010.3: Contains, Contient
  LabelTerms terms = in_two_languages();
  terms.form.summary = "allowed";
  const Told told = in_french(one_batch({{farine(), grams(60)}, {poudre(), grams(40)}}, grams(100)), terms);
  EXPECT_EQ(text_of(told.own.declared.summary), "Contains: wheat, gluten, milk");
  EXPECT_EQ(text_of(told.declared.summary), "Contient: blé, lait");
}

TEST(Language, MissesAWordOfTheSummaryThatHasNoTwin) {
  LabelTerms terms = in_two_languages();
  terms.form.summary = "allowed";
  const CakeParts cake = one_batch({{farine(), grams(60)}, {poudre(), grams(40)}}, grams(100));
  EXPECT_EQ(missing(in_french(cake, terms)), Missing{"the word \"gluten\" of the summary"});
  for (AllergenTerm& term : terms.allergens) term.summary_words.clear();
  EXPECT_TRUE(missing(in_french(cake, terms)).empty());
}

TEST(Language, KnowsANameOfAnAllergenWithoutAWordForIt) {
  LabelTerms terms = in_two_languages();
  for (AllergenTerm& term : terms.allergens) {
    if (term.key == "eggs") term.other_names = {{"fr", {"oeuf", "oeufs"}}};
  }
  const CakeParts cake = one_batch({{named_in_french(food("egg white", {"eggs"}), "blanc d'oeuf"), grams(10)}}, grams(10));
  const Told told = in_french(cake, terms);
  EXPECT_EQ(marked(told.declared), "blanc d'*OEUF*");
  EXPECT_EQ(missing(told), Missing{"the allergen egg"});
}

TEST(Language, NeverPrintsNothingForAName) {
  IngredientFacts paste = food("paste");
  paste.parts = {part("sugar"), part("starch")};
  const CakeParts nameless = one_batch({{named_in_french(paste, "", {part("sucre"), part("amidon")}), grams(10)}}, grams(10));
  EXPECT_EQ(marked(in_french(nameless, in_two_languages()).declared), "paste (sucre, amidon)");
  EXPECT_EQ(missing(in_french(nameless, in_two_languages())), Missing{"paste"});
  const CakeParts gap = one_batch({{named_in_french(paste, "pâte", {part("sucre"), part("")}), grams(10)}}, grams(10));
  EXPECT_EQ(marked(in_french(gap, in_two_languages()).declared), "pâte (sucre, starch)");
  EXPECT_EQ(missing(in_french(gap, in_two_languages())), Missing{"the name of starch in paste"});
}

TEST(Language, MissesTheNameOfAnAdditiveThatIsGivenByItsNumber) {
  IngredientFacts paste = food("paste");
  paste.parts = {additive_part("mono- and diglycerides", "E471", "emulsifier")};
  const CakeParts cake =
      one_batch({{named_in_french(paste, "pâte", {additive_part("E 471", "E471", "émulsifiant")}), grams(10)}}, grams(10));
  LabelTerms terms = in_two_languages();
  EXPECT_TRUE(missing(in_french(cake, terms)).empty()) << "a number is the same in every language";
  terms.additive_form.form = "name";
  EXPECT_EQ(missing(in_french(cake, terms)), Missing{"the name of mono- and diglycerides in paste"});
}

TEST(Language, KeepsTheOwnWordsWhereItHasNone) {
  const Told told =
      in_french(one_batch({{food("butter", {"milk", "eggs"}), grams(60)}, {farine(), grams(40)}}, grams(100)), in_two_languages());
  EXPECT_EQ(marked(told.declared), "butter (*EGG*, *LAIT*), farine (*BLÉ*)") << "nothing is dropped for want of a word";
  EXPECT_EQ(missing(told), (Missing{"butter", "the allergen egg"}));
}

TEST(Language, PutsNamesOnPartsAsDeepAsThePack) {
  IngredientFacts paste = food("paste", {"milk"});
  DeclaredPart drops = part("drops");
  drops.parts = {part("milk powder"), additive_part("lecithins", "E322", "emulsifier")};
  paste.parts = {part("sugar"), drops};
  DeclaredPart gouttes = part("gouttes");
  gouttes.parts = {part("poudre de lait"), additive_part("lécithines", "E322", "émulsifiant")};
  const Told told =
      in_french(one_batch({{named_in_french(paste, "pâte", {part("sucre"), gouttes}), grams(100)}}, grams(100)), in_two_languages());
  EXPECT_EQ(marked(told.declared), "pâte (sucre, gouttes (poudre de *LAIT*, émulsifiant: lécithines))");
  EXPECT_TRUE(missing(told).empty());
}

TEST(Language, MissesPartsOfAnotherShapeAndClasses) {
  IngredientFacts paste = food("paste");
  paste.parts = {part("sugar"), additive_part("lecithins", "E322", "emulsifier")};
  EXPECT_EQ(missing(in_french(one_batch({{named_in_french(paste, "pâte", {part("sucre")}), grams(100)}}, grams(100)), in_two_languages())),
            Missing{"the parts of paste"});
  IngredientFacts classless = named_in_french(paste, "pâte", {part("sucre"), part("lécithines")});
  const CakeParts cake = one_batch({{classless, grams(100)}}, grams(100));
  EXPECT_EQ(missing(in_french(cake, in_two_languages())), Missing{"the class of lecithins in paste"});
  LabelTerms by_name = in_two_languages();
  by_name.additive_form.form = "name";
  EXPECT_TRUE(missing(in_french(cake, by_name)).empty()) << "no class is printed";
}

TEST(Language, GoesByThePacksNameOfAnAdditiveWhereTheLawPrintsItsOwn) {
  LabelTerms terms = in_two_languages();
  terms.additive_form.form = "name";
  for (AdditiveTerm& row : terms.additives) {
    if (row.number == "E102") row.print = "Yellow 5";
  }
  terms.additive_wordings.clear();
  IngredientFacts paste = food("paste");
  paste.parts = {part("sugar"), additive_part("tartrazine", "E102", "colour")};
  const Told told =
      in_french(one_batch({{named_in_french(paste, "pâte", {part("sucre"), part("tartrazine pure")}), grams(100)}}, grams(100)), terms);
  EXPECT_EQ(marked(told.own.declared), "paste (sugar, Yellow 5)");
  EXPECT_EQ(marked(told.declared), "pâte (sucre, tartrazine pure)");
}

TEST(Language, NamesThePartsOfAListByPart) {
  Baking baking;
  const std::size_t filling = baking.batch("filling", {of_pack(baking.pack(poudre()), grams(50))}, grams(50));
  const std::size_t sponge = baking.batch("sponge", {of_pack(baking.pack(farine()), grams(50)), of_batch(filling, grams(50))}, grams(100));
  baking.place("only", sponge, grams(100));
  baking.parts.batches[filling].label_name = "filling";
  baking.parts.batches[sponge].label_name = "sponge";
  EXPECT_EQ(missing(in_french(baking.parts, in_two_languages(), "by part")), (Missing{"sponge", "filling"}));
  baking.parts.batches[filling].other_names = {{"fr", "garniture"}};
  baking.parts.batches[sponge].other_names = {{"fr", "génoise"}};
  const Told told = in_french(baking.parts, in_two_languages(), "by part");
  EXPECT_EQ(marked(told.declared), "génoise (farine (*BLÉ*), garniture (poudre de *LAIT*))");
  EXPECT_TRUE(missing(told).empty());
  baking.parts.batches[sponge].other_names.clear();
  EXPECT_TRUE(missing(in_french(baking.parts, in_two_languages())).empty()) << "a merged list names no part";
}

TEST(Language, MissesOnlyTheAllergensWhereNoListIsPrinted) {
  const CakeParts cake = one_batch({{food("butter", {"milk", "eggs"}), grams(60)}, {farine(), grams(40)}}, grams(100));
  EXPECT_EQ(missing(in_french(cake, in_two_languages(), "merged", "allergens")), Missing{"the allergen egg"});
  LabelTerms terms = in_two_languages();
  for (Wording& wording : terms.wordings) wording.other_texts.clear();
  EXPECT_EQ(missing(in_french(cake, terms, "merged", "allergens")), (Missing{"the allergen egg", "the words \"Contains\""}));
}

TEST(Language, MissesWordsOfTheListThatAreInUse) {
  LabelTerms terms = in_two_languages();
  terms.collectives = {{fic("sugars", "B.01.008.3(1)"), "sugar", "Sugars", "listed", std::nullopt}};
  terms.any_order_below.wording = "Less than 2 percent of {names}";
  IngredientFacts sugar = named_in_french(food("sugar"), "sucre");
  sugar.kind = "sugar";
  IngredientFacts syrup = named_in_french(food("molasses"), "mélasse");
  syrup.kind = "sugar";
  const IngredientFacts salt = named_in_french(food("salt"), "sel");
  const CakeParts large = one_batch({{sugar, grams(60)}, {farine(), grams(40)}}, grams(100));
  EXPECT_TRUE(missing(in_french(large, terms)).empty()) << "neither is in use";
  const CakeParts small = one_batch({{sugar, grams(60)}, {syrup, grams(39)}, {salt, grams(1)}}, grams(100));
  EXPECT_EQ(missing(in_french(small, terms)), (Missing{"the words \"Sugars\"", "the words \"Less than 2 percent of {names}\""}));
  terms.collectives[0].other_words = {{"fr", "Sucres"}};
  EXPECT_EQ(marked(in_french(small, terms).declared), "Sucres (sucre, mélasse), Less than 2 percent of sel");
}

TEST(Language, MissesPrescribedSentencesAndSpecies) {
  LabelTerms terms = in_two_languages();
  for (AllergenTerm& term : terms.allergens) {
    if (term.key == "fish") term.name_species = true, term.other_words = {{"fr", "poisson"}};
  }
  IngredientFacts sweets = named_in_french(food("sweets"), "bonbons", {additive_part("tartrazine", "E102", "colorant")});
  sweets.parts = {additive_part("tartrazine", "E102", "colour")};
  for (AllergenStatement& said : sweets.allergens) {
    if (said.allergen == "fish") said = {"fish", Presence::contains, "", "", "cod"};
  }
  EXPECT_EQ(missing(in_french(one_batch({{sweets, grams(100)}}, grams(100)), terms)),
            (Missing{"the words \"tartrazine: may have an adverse effect on activity and attention in children.\"", "the species cod"}));
}

}  // namespace
}  // namespace tierproof
