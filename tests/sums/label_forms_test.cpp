#include <gtest/gtest.h>

#include "cake_for_tests.h"
#include "tierproof/sums/declaration.h"
#include "tierproof/sums/name_hints.h"

// How allergens, additives and marks are shown, by the form that the rules ask for.

namespace tierproof {
namespace {

using namespace for_tests;
using Words = std::vector<std::string>;

AllergenTerm& term_of(LabelTerms& terms, const std::string& key) {
  for (AllergenTerm& term : terms.allergens) {
    if (term.key == key) return term;
  }
  throw std::runtime_error("no allergen " + key);
}

Words contains_of(const CakeParts& parts, const LabelTerms& terms) { return label(parts, terms).declared.contains; }
/// A cake of nothing else.
Declaration of_one(const IngredientFacts& facts, const LabelTerms& terms, std::string_view kind = "ingredient list") {
  return label(one_batch({{facts, grams(100)}}, grams(100)), terms, kind).declared;
}

const CakeParts& butter_flour_almonds() {
  static const CakeParts parts = one_batch({{food("butter", {"milk"}), grams(50)},
                                            {food("flour", {"gluten:wheat"}), grams(40)},
                                            {food("cream", {"milk"}), grams(30)},
                                            {food("ground almonds", {"nuts:almond"}), grams(20)}},
                                           grams(140));
  return parts;
}
LabelTerms with_form(std::string in_list, std::string summary, std::string emphasis) {
  LabelTerms terms = label_terms();
  terms.form.cited = {"form", "how allergens are shown", false};
  terms.form.in_list = std::move(in_list);
  terms.form.summary = std::move(summary);
  terms.emphasis = std::move(emphasis);
  return terms;
}

// ---- in the list --------------------------------------------------------------------------------------------------------------

TEST(AllergenForm, ShowsEachIngredientThatBringsIt) {  // FIC art. 21(1)
  EXPECT_EQ(marked(label(butter_flour_almonds(), with_form("each", "forbidden", "bold capitals")).declared),
            "butter (*MILK*), flour (*WHEAT*), cream (*MILK*), ground *ALMONDS*");
}

TEST(AllergenForm, ShowsItsFoodSourceOnceAtTheFirstUse) {  // FD&C Act 403(w)(1)(A)
  EXPECT_EQ(marked(label(butter_flour_almonds(), with_form("first", "allowed", "none")).declared),
            "butter (milk), flour (wheat), cream, ground almonds");
}

TEST(AllergenForm, NeedsNoFoodSourceWhereAnotherNameShowsIt) {  // FD&C Act 403(w)(1)(B)
  const CakeParts parts = one_batch({{food("butter", {"milk"}), grams(50)}, {food("whole milk powder", {"milk"}), grams(10)}}, grams(60));
  EXPECT_EQ(marked(label(parts, with_form("first", "allowed", "none")).declared), "butter, whole milk powder");
}

TEST(AllergenForm, LeavesTheListAloneWhereTheSummarySaysIt) {  // FDR B.01.010.1(2)
  EXPECT_EQ(marked(label(butter_flour_almonds(), with_form("none", "allowed", "none")).declared), "butter, flour, cream, ground almonds");
}

TEST(AllergenForm, ShowsInTheListWhatNoSummarySays) {
  LabelTerms terms = with_form("none", "allowed", "none");
  term_of(terms, "sulphites").in_summary = false;
  const CakeParts parts = one_batch({{food("dried fruit", {"milk", "sulphites"}), grams(10)}}, grams(10));
  EXPECT_EQ(marked(label(parts, terms).declared), "dried fruit (sulphites)");
  EXPECT_EQ(marked(label(parts, terms).declared.summary), "Contains: milk");
  terms.form.summary = "forbidden";
  EXPECT_EQ(marked(label(parts, terms).declared), "dried fruit (milk, sulphites)");
}

// ---- the summary --------------------------------------------------------------------------------------------------------------

TEST(Summary, IsForbiddenBesideAListWhereTheRulesSaySo) {  // Commission Notice 2017/C 428/01, 3.5
  EXPECT_TRUE(label(butter_flour_almonds(), with_form("each", "forbidden", "bold")).declared.summary.empty());
}

TEST(Summary, StandsOutAsItsFormSays) {
  LabelTerms terms = with_form("each", "required", "bold");
  EXPECT_EQ(marked(label(butter_flour_almonds(), terms).declared.summary), "Contains: wheat, milk, almonds");
  terms.form.title_emphasised = true;  // FDR B.01.010.4(1)
  EXPECT_EQ(marked(label(butter_flour_almonds(), terms).declared.summary), "*Contains:* wheat, milk, almonds");
  terms.form.summary_emphasised = true;  // FSANZ Std 1.2.3 Div 3
  EXPECT_EQ(marked(label(butter_flour_almonds(), terms).declared.summary), "*Contains: wheat, milk, almonds*");
  terms.form.title_emphasised = false;
  EXPECT_EQ(marked(label(butter_flour_almonds(), terms).declared.summary), "*Contains: wheat, milk, almonds*") << "the whole of it";
}

TEST(Summary, IsTheLineWhereNoListIsPrinted) {
  LabelTerms terms = with_form("each", "required", "bold");
  terms.form.summary_emphasised = true;
  const Declaration declared = label(butter_flour_almonds(), terms, "allergens").declared;
  EXPECT_EQ(marked(declared.allergen_line), "*Contains: wheat, milk, almonds*");
  EXPECT_TRUE(declared.summary.empty());
}

TEST(Summary, UsesItsOwnWordsEachOnce) {  // FSANZ Schedule 9
  LabelTerms terms = with_form("each", "required", "none");
  term_of(terms, "gluten:wheat").summary_words = {"wheat", "gluten"};
  term_of(terms, "gluten:barley").summary_words = {"gluten"};
  term_of(terms, "gluten:oats").summary_words = {"gluten"};
  EXPECT_EQ(marked(of_one(food("malt", {"gluten:barley"}), terms).summary), "Contains: gluten");
  EXPECT_EQ(marked(of_one(food("muesli", {"gluten:wheat", "gluten:barley", "gluten:oats", "milk"}), terms).summary),
            "Contains: wheat, gluten, milk");
}

TEST(Summary, LeavesOutWhatTheLawKeepsOutOfIt) {  // FDA edition 5: no sulfites in a Contains statement
  LabelTerms terms = with_form("first", "allowed", "none");
  term_of(terms, "sulphites").in_summary = false;
  const Declaration declared = of_one(food("dried fruit", {"milk", "sulphites"}), terms);
  EXPECT_EQ(marked(declared.summary), "Contains: milk");
  EXPECT_EQ(marked(declared), "dried fruit (milk, sulphites)");
  EXPECT_TRUE(of_one(food("dried fruit", {"sulphites"}), terms).summary.empty());
}

TEST(Summary, LeavesNothingOutWhereNoListIsPrinted) {
  LabelTerms terms = with_form("first", "allowed", "none");
  term_of(terms, "sulphites").in_summary = false;
  EXPECT_EQ(marked(of_one(food("dried fruit", {"milk", "sulphites"}), terms, "allergens").allergen_line), "Contains: milk, sulphites")
      << "there is no list that would show it";
}

TEST(Summary, IsAbsentWhereNothingIsDeclared) { EXPECT_TRUE(of_one(food("sugar"), with_form("each", "required", "bold")).summary.empty()); }

// ---- species --------------------------------------------------------------------------------------------------------------------

LabelTerms with_species() {  // FD&C Act 403(w)(2)
  LabelTerms terms = with_form("first", "allowed", "none");
  term_of(terms, "fish").name_species = true;
  term_of(terms, "fish").names = {"cod", "tilapia"};
  return terms;
}
IngredientFacts gelatine(const std::string& name, const Words& species) {
  IngredientFacts made = food(name);
  std::erase_if(made.allergens, [](const AllergenStatement& said) { return said.allergen == "fish"; });
  for (const std::string& one : species) made.allergens.push_back({"fish", Presence::contains, "", "", one});
  return made;
}

TEST(Species, IsNamedWhereTheLawAsksForIt) {
  const Declaration declared = of_one(gelatine("fish gelatine", {"cod"}), with_species());
  EXPECT_EQ(marked(declared), "fish gelatine (cod)");
  EXPECT_EQ(marked(declared.summary), "Contains: cod");
  EXPECT_EQ(marked(of_one(gelatine("fish gelatine", {"cod"}), label_terms())), "*FISH* gelatine") << "elsewhere the group's word is enough";
}

TEST(Species, AreAllNamed) {
  const Declaration declared = of_one(gelatine("fish gelatine", {"tilapia", "cod"}), with_species());
  EXPECT_EQ(marked(declared), "fish gelatine (cod, tilapia)");
  EXPECT_EQ(marked(declared.summary), "Contains: cod, tilapia");
  EXPECT_EQ(marked(of_one(gelatine("cod gelatine", {"tilapia", "cod"}), with_species())), "cod gelatine (tilapia)");
}

TEST(Species, OfPacksThatPrintAlikeAreAllNamed) {
  const CakeParts parts =
      one_batch({{gelatine("fish gelatine", {"cod"}), grams(10)}, {gelatine("fish gelatine", {"tilapia"}), grams(5)}}, grams(15));
  EXPECT_EQ(marked(label(parts, with_species()).declared), "fish gelatine (cod, tilapia)");
}

TEST(Species, AreEachNamedAtTheirFirstUse) {
  const CakeParts parts = one_batch({{gelatine("fish gelatine", {"cod"}), grams(10)},
                                     {gelatine("fish oil", {"cod"}), grams(8)},
                                     {gelatine("fish sauce", {"anchovy"}), grams(5)}},
                                    grams(23));
  EXPECT_EQ(marked(label(parts, with_species()).declared), "fish gelatine (cod), fish oil, fish sauce (anchovy)");
}

TEST(Species, StandsOnceWhenAPartBringsOrShowsIt) {
  IngredientFacts sweets = gelatine("jelly sweets", {"cod"});
  sweets.parts = {part("sugar"), part("gelatine")};
  EXPECT_EQ(marked(of_one(sweets, with_species())), "jelly sweets (sugar, gelatine) (cod)");
  sweets.parts[1].allergens = {"fish"};
  EXPECT_EQ(marked(of_one(sweets, with_species())), "jelly sweets (sugar, gelatine (cod))");
  sweets.parts[1] = part("cod gelatine");
  EXPECT_EQ(marked(of_one(sweets, with_species())), "jelly sweets (sugar, cod gelatine)");
}

TEST(Species, FallsBackToTheGroupWhenThePackDoesNotSay) {
  EXPECT_EQ(marked(of_one(gelatine("gelatine", {""}), with_species())), "gelatine (fish)");
}

// ---- exemptions -------------------------------------------------------------------------------------------------------------------

LabelTerms with_exemption(bool from_memory = false, std::string confirmed = "") {  // FIC Annex II 1(a)
  LabelTerms terms = label_terms();
  terms.exemptions = {{{"wheat-syrup", "Annex II 1(a)", from_memory, std::move(confirmed)},
                       "gluten:wheat",
                       "wheat glucose syrup",
                       "wheat based glucose syrups including dextrose"}};
  return terms;
}
IngredientFacts syrup_from_wheat(const std::string& process) {
  IngredientFacts made = food("glucose syrup");
  for (AllergenStatement& said : made.allergens) {
    if (said.allergen == "gluten:wheat") said = {"gluten:wheat", Presence::contains, "", process, ""};
  }
  return made;
}

TEST(Exemption, KeepsTheSourceWithoutDeclaringIt) {
  const Labelled cake = label(one_batch({{syrup_from_wheat("Wheat glucose syrup"), grams(100)}}, grams(100)), with_exemption());
  EXPECT_TRUE(cake.declared.contains.empty());
  EXPECT_TRUE(cake.declared.unknown.empty());
  EXPECT_EQ(cake.declared.exempt, Words{"gluten:wheat"});
  EXPECT_EQ(marked(cake.declared), "glucose syrup");
  ASSERT_EQ(cake.declared.ingredients.front().rules.size(), 1U);
  EXPECT_EQ(cake.declared.ingredients.front().rules.front().row, "wheat-syrup");
  const Composition told = with_exemptions(cake.made, cake.parts, cake.terms);
  const AllergenTrace& wheat = told.allergens.front();
  EXPECT_EQ(wheat.presence, Presence::contains) << "it is there, and a customer who asks is told";
  EXPECT_EQ(wheat.contains.size(), 1U);
  EXPECT_EQ(wheat.exempt, Words{"cake-1 → batch-1 (sponge) → pack-1 (glucose syrup): wheat glucose syrup"});
  EXPECT_TRUE(told.allergens[1].exempt.empty());
}

TEST(Exemption, NeedsItsProcess) {
  for (const char* process : {"", "wheat starch", "wheat"}) {
    const Labelled cake = label(one_batch({{syrup_from_wheat(process), grams(100)}}, grams(100)), with_exemption());
    EXPECT_EQ(cake.declared.contains, Words{"gluten:wheat"}) << process;
    EXPECT_EQ(marked(cake.declared), "glucose syrup (*WHEAT*)") << process;
    EXPECT_TRUE(with_exemptions(cake.made, cake.parts, cake.terms).allergens.front().exempt.empty());
  }
}

TEST(Exemption, HelpsOnlyWhereItIsTheLaw) {
  EXPECT_EQ(marked(of_one(syrup_from_wheat("wheat glucose syrup"), label_terms())), "glucose syrup (*WHEAT*)");
}

TEST(Exemption, FromMemoryHelpsOnlyOnceSomebodyConfirmedIt) {
  EXPECT_EQ(marked(of_one(syrup_from_wheat("wheat glucose syrup"), with_exemption(true))), "glucose syrup (*WHEAT*)");
  EXPECT_EQ(marked(of_one(syrup_from_wheat("wheat glucose syrup"), with_exemption(true, "by the kitchen"))), "glucose syrup");
}

TEST(Exemption, IsLostToOneStatementThatIsNotExempt) {
  for (const char* other : {"", "wheat flour"}) {
    IngredientFacts mix = syrup_from_wheat("wheat glucose syrup");
    mix.allergens.push_back({"gluten:wheat", Presence::contains, "", other, ""});
    EXPECT_EQ(marked(of_one(mix, with_exemption())), "glucose syrup (*WHEAT*)") << other;
  }
}

/// A vocabulary of a few words, with the exemption of wheat glucose syrup.
LabelTerms with_words() {
  static const NameHints hints = name_hints_of({{"glucose syrup", NameMeaning::exempts, {"gluten:wheat"}, "{} glucose syrup", "a:1"},
                                                {"dextrose", NameMeaning::exempts, {"gluten:wheat"}, "{} glucose syrup", "a:2"},
                                                {"flour", NameMeaning::contains, {"gluten:wheat"}, "", "a:3"},
                                                {"wheat", NameMeaning::contains, {"gluten:wheat"}, "", "a:4"},
                                                {"starch", NameMeaning::source, {"gluten"}, "", "a:5"},
                                                {"sugar", NameMeaning::harmless, {}, "", "a:6"},
                                                {"plain", NameMeaning::neutral, {}, "", "a:7"}},
                                               {})
                                     .value();
  LabelTerms terms = with_exemption();
  terms.vocabulary = &hints;
  return terms;
}

std::string mix_of(std::vector<DeclaredPart> parts, const LabelTerms& terms) {
  IngredientFacts mix = syrup_from_wheat("wheat glucose syrup");
  mix.label_name = "mix";
  mix.parts = std::move(parts);
  return marked(of_one(mix, terms));
}
DeclaredPart from_wheat(std::string name) {
  DeclaredPart made = part(std::move(name));
  made.allergens = {"gluten:wheat"};
  return made;
}

TEST(Exemption, IsOfAFoodThatIsMadeByTheProcess) {
  IngredientFacts food = syrup_from_wheat("wheat glucose syrup");
  const auto named = [&](const char* name, const LabelTerms& terms) {
    food.label_name = name;
    return marked(of_one(food, terms));
  };
  EXPECT_EQ(named("plain flour", with_words()), "plain flour (*WHEAT*)");
  EXPECT_EQ(named("glucose flour", with_words()), "glucose flour (*WHEAT*)") << "a word of the process, and one of the allergen";
  EXPECT_EQ(named("wheat biscuits", with_words()), "*WHEAT* biscuits");
  EXPECT_EQ(named("wheat biscuits", with_exemption()), "*WHEAT* biscuits");
  EXPECT_EQ(named("dextrose", with_words()), "dextrose") << "the vocabulary knows what is made so";
  EXPECT_EQ(named("dextrose", with_exemption()), "dextrose (*WHEAT*)") << "without it nobody knows";
}

TEST(Exemption, IsLostToAPartThatBringsItInAnotherWay) {
  EXPECT_EQ(mix_of({part("sugar"), part("glucose syrup")}, with_words()), "mix (sugar, glucose syrup)");
  EXPECT_EQ(mix_of({part("sugar"), part("wheat glucose syrup")}, with_words()), "mix (sugar, wheat glucose syrup)");
  EXPECT_EQ(mix_of({part("wheat flour"), part("glucose syrup")}, with_words()), "mix (*WHEAT* flour, glucose syrup)")
      << "one statement for the pack, and only the syrup is made in that way";
  DeclaredPart inner = part("biscuit");
  inner.parts = {part("wheat flour")};
  EXPECT_EQ(mix_of({inner, part("glucose syrup")}, with_words()), "mix (biscuit (*WHEAT* flour), glucose syrup)");
  for (const LabelTerms& terms : {with_words(), with_exemption()}) {
    EXPECT_EQ(mix_of({from_wheat("glucose syrup")}, terms), "mix (glucose syrup)") << "the part that brings it is the exempt one";
    EXPECT_EQ(mix_of({from_wheat("rusk crumb"), from_wheat("glucose syrup")}, terms),
              "mix (rusk crumb (*WHEAT*), glucose syrup (*WHEAT*))");
    EXPECT_EQ(mix_of({part("glucose syrup"), from_wheat("rusk crumb")}, terms), "mix (glucose syrup, rusk crumb (*WHEAT*))")
        << "the one part that brings it is not made in that way";
  }
}

TEST(Exemption, IsLostToAPartThatIsOrMayBeTheAllergenByItsName) {
  EXPECT_EQ(mix_of({part("flour"), part("sugar"), part("glucose syrup")}, with_words()), "mix (flour, sugar, glucose syrup) (*WHEAT*)");
  EXPECT_EQ(mix_of({part("flour"), from_wheat("glucose syrup")}, with_words()), "mix (flour, glucose syrup (*WHEAT*))");
  EXPECT_EQ(mix_of({part("starch"), part("glucose syrup")}, with_words()), "mix (starch, glucose syrup) (*WHEAT*)");
  EXPECT_EQ(mix_of({part("starch"), from_wheat("glucose syrup")}, with_words()), "mix (starch, glucose syrup)")
      << "the pack says which part brings it, and starch is only asked about";
  EXPECT_EQ(mix_of({part("crumb"), part("glucose syrup")}, with_words()), "mix (crumb, glucose syrup) (*WHEAT*)")
      << "nobody knows what crumb is";
  EXPECT_EQ(mix_of({part("sugar"), part("glucose syrup")}, with_exemption()), "mix (sugar, glucose syrup) (*WHEAT*)")
      << "without a vocabulary nothing is known of sugar";
  EXPECT_EQ(mix_of({part("sugar")}, with_words()), "mix (sugar) (*WHEAT*)") << "no part is made in that way";
}

TEST(Exemption, LeavesAnotherPacksDoubtAlone) {
  IngredientFacts doubtful = food("sprinkles");
  says(doubtful, "gluten:wheat", Presence::unknown);
  const Labelled cake =
      label(one_batch({{syrup_from_wheat("wheat glucose syrup"), grams(60)}, {doubtful, grams(40)}}, grams(100)), with_exemption());
  EXPECT_EQ(cake.declared.exempt, Words{"gluten:wheat"});
  EXPECT_EQ(cake.declared.unknown, Words{"gluten:wheat"}) << "unknown is never free";
}

TEST(Exemption, OfOnePackLeavesAnotherDeclared) {
  const Labelled cake =
      label(one_batch({{syrup_from_wheat("wheat glucose syrup"), grams(60)}, {food("flour", {"gluten:wheat"}), grams(40)}}, grams(100)),
            with_exemption());
  EXPECT_EQ(marked(cake.declared), "glucose syrup, flour (*WHEAT*)");
  EXPECT_TRUE(cake.declared.exempt.empty()) << "it is declared";
  EXPECT_EQ(with_exemptions(cake.made, cake.parts, cake.terms).allergens.front().exempt.size(), 1U);
}

// ---- the same facts, five lists ----------------------------------------------------------------------------------------------------

struct Column {
  LabelTerms terms;
  const char* name;
};

AllergenTerm short_term(const std::string& key, const std::string& word, Words summary = {}) {
  AllergenTerm term = allergen(key, word, {word}, "");
  term.summary_words = std::move(summary);
  return term;
}

/// The lists of section 1 of the five laws, in short: which keys each names, and by which summary words.
/// Sources: FIC Annex II (EU; GB as assimilated); FD&C Act 201(qq) with the tree nuts of FDA guidance edition 5; FDR B.01.010.1;
/// FSANZ Std 1.2.3 and Schedule 9.
std::vector<Column> five_lists() {
  const auto milk_and_more = [] {
    return std::vector<AllergenTerm>{short_term("eggs", "egg"),           short_term("milk", "milk"),
                                     short_term("peanuts", "peanut"),     short_term("soybeans", "soy"),
                                     short_term("sesame", "sesame"),      short_term("fish", "fish"),
                                     short_term("nuts:almond", "almond"), short_term("nuts:hazelnut", "hazelnut"),
                                     short_term("gluten:wheat", "wheat")};
  };
  const auto add = [](LabelTerms& terms, std::initializer_list<const char*> keys) {
    for (const char* key : keys) terms.allergens.push_back(short_term(key, std::string{key}.substr(std::string{key}.find(':') + 1)));
  };
  const auto sulphites = [](bool at_threshold, bool in_summary) {
    AllergenTerm term = short_term("sulphites", "sulphites");
    term.above_mg_per_kg = 10;
    term.at_threshold = at_threshold;
    term.in_summary = in_summary;
    return term;
  };
  const auto exempt = [](LabelTerms& terms, const char* key, const char* process) {
    terms.exemptions.push_back({{process, "the law's exemptions", false}, key, process, process});
  };
  LabelTerms eu;
  eu.allergens = milk_and_more();
  add(eu, {"gluten:rye", "gluten:barley", "gluten:oats", "celery", "mustard", "lupin", "molluscs", "crustaceans"});
  eu.allergens.push_back(sulphites(false, true));
  exempt(eu, "gluten:wheat", "wheat glucose syrup");
  exempt(eu, "soybeans", "fully refined soybean oil");
  LabelTerms gb = eu;
  exempt(eu, "mustard", "behenic acid for E471");
  LabelTerms us;
  us.allergens = milk_and_more();
  add(us, {"nuts:pine", "crustaceans"});
  us.allergens.push_back(sulphites(true, false));
  exempt(us, "peanuts", "highly refined oil");
  exempt(us, "soybeans", "fully refined soybean oil");
  LabelTerms ca;
  ca.allergens = milk_and_more();
  add(ca, {"gluten:rye", "gluten:barley", "gluten:oats", "mustard", "molluscs", "crustaceans", "nuts:pine"});
  ca.allergens.push_back(sulphites(true, true));
  LabelTerms anz;
  anz.allergens = milk_and_more();
  for (AllergenTerm& term : anz.allergens) {
    if (term.key == "gluten:wheat") term.summary_words = {"wheat", "gluten"};
  }
  for (const char* key : {"gluten:rye", "gluten:barley", "gluten:oats"}) anz.allergens.push_back(short_term(key, key, {"gluten"}));
  add(anz, {"lupin", "molluscs", "crustaceans", "nuts:pine"});
  anz.allergens.push_back(sulphites(true, true));
  exempt(anz, "gluten:wheat", "refined wheat glucose syrup with 20 mg/kg of gluten or less");
  exempt(anz, "soybeans", "fully refined soybean oil");
  std::vector<Column> columns = {{eu, "EU"}, {gb, "GB"}, {us, "US"}, {ca, "CA"}, {anz, "AU/NZ"}};
  for (Column& column : columns) column.terms.form.summary = "required";
  return columns;
}

struct MatrixRow {
  const char* food;
  const char* key;
  const char* process;
  std::array<const char*, 5> says;  ///< EU, GB, US, CA, AU/NZ: words of a summary; empty: nothing is declared
};

TEST(FiveLists, SayOfTheSameFactsWhatEachLawDoes) {
  const MatrixRow rows[] = {
      {"wheat flour", "gluten:wheat", "", {"wheat", "wheat", "wheat", "wheat", "wheat, gluten"}},
      {"rye flour", "gluten:rye", "", {"rye", "rye", "", "rye", "gluten"}},
      {"oats", "gluten:oats", "", {"oats", "oats", "", "oats", "gluten"}},
      {"barley malt extract", "gluten:barley", "", {"barley", "barley", "", "barley", "gluten"}},
      {"glucose syrup", "gluten:wheat", "wheat glucose syrup", {"", "", "wheat", "wheat", "wheat, gluten"}},
      {"glucose syrup",
       "gluten:wheat",
       "refined wheat glucose syrup with 20 mg/kg of gluten or less",
       {"wheat", "wheat", "wheat", "wheat", ""}},
      {"maize starch", "", "", {"", "", "", "", ""}},
      {"butter", "milk", "", {"milk", "milk", "milk", "milk", "milk"}},
      {"egg white", "eggs", "", {"egg", "egg", "egg", "egg", "egg"}},
      {"marzipan", "nuts:almond", "", {"almond", "almond", "almond", "almond", "almond"}},
      {"praline", "nuts:hazelnut", "", {"hazelnut", "hazelnut", "hazelnut", "hazelnut", "hazelnut"}},
      {"pine nuts", "nuts:pine", "", {"", "", "pine", "pine", "pine"}},
      {"coconut", "", "", {"", "", "", "", ""}},
      {"chestnut puree", "", "", {"", "", "", "", ""}},
      {"peanut butter", "peanuts", "", {"peanut", "peanut", "peanut", "peanut", "peanut"}},
      {"peanut oil", "peanuts", "highly refined oil", {"peanut", "peanut", "", "peanut", "peanut"}},
      {"soy lecithin", "soybeans", "", {"soy", "soy", "soy", "soy", "soy"}},
      {"soybean oil", "soybeans", "fully refined soybean oil", {"", "", "", "soy", ""}},
      {"tahini", "sesame", "", {"sesame", "sesame", "sesame", "sesame", "sesame"}},
      {"mustard", "mustard", "", {"mustard", "mustard", "", "mustard", ""}},
      {"E471", "mustard", "behenic acid for E471", {"", "mustard", "", "mustard", ""}},
      {"lupin flour", "lupin", "", {"lupin", "lupin", "", "", "lupin"}},
      {"celery", "celery", "", {"celery", "celery", "", "", ""}},
      {"buckwheat", "", "", {"", "", "", "", ""}},
      {"squid ink", "molluscs", "", {"molluscs", "molluscs", "", "molluscs", "molluscs"}},
      {"fish gelatine", "fish", "", {"fish", "fish", "fish", "fish", "fish"}},
      {"bovine gelatine", "", "", {"", "", "", "", ""}},
  };
  for (const MatrixRow& row : rows) {
    std::size_t at = 0;
    for (const Column& column : five_lists()) {
      IngredientFacts facts;
      facts.id = IngredientId{row.food};
      facts.label_name = row.food;
      for (const AllergenTerm& term : column.terms.allergens) {
        if (term.key == row.key)
          facts.allergens.push_back({term.key, Presence::contains, "", row.process, ""});
        else
          facts.allergens.push_back({term.key, Presence::absent, "supplier's sheet", "", ""});
      }
      const Declaration declared = of_one(facts, column.terms);
      const std::string says = row.says[at++];
      EXPECT_EQ(text_of(declared.summary), says.empty() ? "" : "Contains: " + says) << row.food << " in " << column.name;
      EXPECT_TRUE(declared.unknown.empty()) << row.food << " in " << column.name;
    }
  }
}

TEST(FiveLists, PartAtExactlyTenMilligramsOfSulphites) {  // Annex II 12: more than 10; FDA, FDR, FSANZ: 10 or more
  IngredientFacts fruit;
  fruit.id = IngredientId{"dried fruit"};
  fruit.label_name = "dried fruit";
  const auto declared_at = [&](const Share& mg_per_kg) {
    std::vector<bool> declared;
    fruit.sulphites_mg_per_kg = mg_per_kg;
    for (const Column& column : five_lists())
      declared.push_back(holds(contains_of(one_batch({{fruit, grams(100)}}, grams(100)), column.terms), "sulphites"));
    return declared;
  };
  EXPECT_EQ(declared_at(share_of(99, 10)), (std::vector<bool>{false, false, false, false, false}));
  EXPECT_EQ(declared_at(10), (std::vector<bool>{false, false, true, true, true}));
  EXPECT_EQ(declared_at(share_of(101, 10)), (std::vector<bool>{true, true, true, true, true}));
}

// ---- additives ----------------------------------------------------------------------------------------------------------------------

LabelTerms by_name() {  // 21 CFR 101.4, 101.22(j) and (k)
  LabelTerms terms = label_terms();
  terms.additive_form = {{"additive-form", "101.22", false}, "name", {"Preservative"}};
  for (AdditiveTerm& row : terms.additives) {
    if (row.number == "E102") row.print = "Yellow 5";
    if (row.number == "E322") row.print = "lecithin";
  }
  return terms;
}
IngredientFacts paste_with(const std::vector<DeclaredPart>& parts) {
  IngredientFacts paste = food("paste");
  paste.parts = parts;
  return paste;
}

TEST(AdditiveForm, PrintsNamesWithoutClasses) {
  const IngredientFacts paste =
      paste_with({part("sugar"), additive_part("glycerol", "E422", "humectant"), additive_part("E471", "E471", "emulsifier")});
  EXPECT_EQ(marked(of_one(paste, by_name())), "paste (sugar, glycerol, mono- and diglycerides of fatty acids)")
      << "a number is no name: that of the table is taken";
  EXPECT_EQ(marked(of_one(paste, label_terms())), "paste (sugar, humectant: glycerol; emulsifier: E471)");
}

TEST(AdditiveForm, PrintsTheClassBehindWhereTheLawWantsIt) {
  EXPECT_EQ(marked(of_one(paste_with({part("sugar"), additive_part("sulphur dioxide", "E220", "preservative")}), by_name())),
            "paste (sugar, sulphur dioxide (preservative))");
  IngredientFacts alone = food("sulphur dioxide");
  alone.additive = "E220";
  EXPECT_EQ(marked(of_one(alone, by_name())), "sulphur dioxide (preservative)") << "the usual class, when the pack gives none";
}

TEST(AdditiveForm, PrintsTheNameOfTheLaw) {
  EXPECT_EQ(marked(of_one(paste_with({part("sugar"), additive_part("tartrazine", "E102", "colour")}), by_name())),
            "paste (sugar, Yellow 5)");
}

TEST(AdditiveForm, KeepsANameThatShowsAnAllergen) {
  IngredientFacts paste = paste_with({part("sugar"), additive_part("soya lecithins", "E322", "emulsifier")});
  says(paste, "soybeans", Presence::contains);
  EXPECT_EQ(marked(of_one(paste, by_name())), "paste (sugar, *SOYA* lecithins)");
  says(paste, "soybeans", Presence::absent, "sheet");
  EXPECT_EQ(marked(of_one(paste, by_name())), "paste (sugar, lecithin)");
}

TEST(AdditiveForm, ReadsNumbersAsPacksPrintThem) {
  for (const char* number : {"E 102", "e102", "INS 102", "E-102"}) {
    EXPECT_EQ(marked(of_one(paste_with({part("sugar"), additive_part("tartrazine", number, "")}), by_name())), "paste (sugar, Yellow 5)")
        << number;
    EXPECT_EQ(marked(of_one(paste_with({part("sugar"), additive_part("tartrazine", number, "")}), label_terms())),
              "paste (sugar, colour: tartrazine)")
        << number;
  }
}

// ---- marks --------------------------------------------------------------------------------------------------------------------------

TEST(Marks, StandBehindWhatIsMarked) {  // FIC art. 18(3), Annex VI A 3, Annex VII A 8
  LabelTerms terms = label_terms();
  terms.mark_wordings = {{fic("nano", "art. 18(3)"), "nano", "(nano)", "ingredient"},
                         {fic("hydrogenated", "Annex VII A 8", true), "partly hydrogenated", "partly hydrogenated", "ingredient"}};
  IngredientFacts fat = food("palm fat");
  fat.marks = {"partly hydrogenated"};
  EXPECT_EQ(marked(of_one(fat, terms)), "palm fat (partly hydrogenated)");
  IngredientFacts dust = food("lustre", {"milk"});
  dust.parts = {part("sugar"), additive_part("silica", "E551", "anti-caking agent")};
  dust.parts[1].marks = {"nano"};
  const Declaration declared = of_one(dust, terms);
  EXPECT_EQ(marked(declared), "lustre (sugar, anti-caking agent: silica (nano)) (*MILK*)");
  const std::vector<Cited>& rules = declared.ingredients[0].rules;
  EXPECT_TRUE(std::any_of(rules.begin(), rules.end(), [](const Cited& cited) { return cited.row == "nano"; }));
  EXPECT_EQ(marked(of_one(dust, label_terms())), "lustre (sugar, anti-caking agent: silica) (*MILK*)");
}

TEST(Marks, KeepPacksApartThatDifferInThem) {
  LabelTerms terms = label_terms();
  terms.mark_wordings = {{fic("irradiated", "Annex VI A 3"), "irradiated", "irradiated", "ingredient"}};
  IngredientFacts treated = food("cinnamon");
  treated.marks = {"irradiated"};
  EXPECT_EQ(marked(label(one_batch({{treated, grams(60)}, {food("cinnamon"), grams(40)}}, grams(100)), terms).declared),
            "cinnamon (irradiated), cinnamon");
}

}  // namespace
}  // namespace tierproof
