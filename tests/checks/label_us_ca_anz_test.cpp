// Figures, words and standings of published texts against the rows of reference/us*, ca and anz, each with its source. The source
// stands beside the figure; what was recalled and not read says "from memory".
#include <map>
#include <set>

#include "../rules/reference_files.h"
#include "../sums/cake_for_tests.h"
#include "tierproof/sums/date_mark.h"
#include "tierproof/sums/net_quantity.h"
#include "tierproof/sums/nutrition_need.h"
#include "tierproof/sums/nutrition_rounding.h"
#include "tierproof/sums/reference_dose.h"
#include "tierproof/sums/type_size.h"

namespace tierproof {
namespace {

using namespace for_tests;

const Date look = day(2026, 12, 1);

const RulePacks& packs() {
  static const RulePacks read = shipped_packs();
  return read;
}

LabelTerms terms_of(const std::string& code, Date on = look) {
  auto terms = packs().label_terms(code, on);
  if (!terms) throw std::runtime_error{told(terms.error())};
  return std::move(terms).value();
}

/// A food whose supplier's sheet answers for every allergen that any shipped pack knows.
IngredientFacts answered(const std::string& name) {
  IngredientFacts made;
  made.id = IngredientId{name};
  made.label_name = name;
  for (const auto& known : packs().known_allergens()) says(made, known.key, Presence::absent, "supplier's sheet");
  return made;
}

// ---- allergens -----------------------------------------------------------------------------------------------------------------

struct Brought {
  const char* id;
  const char* ingredient;
  const char* key;      ///< empty: brings nothing that any of these lists names
  const char* process;  ///< of it, as the specification gives it
  const char* species;
  const char* us;  ///< the Contains statement; empty: none
  const char* ca;
  const char* anz;
  const char* source;
};

const char* fdca = "FD&C Act 201(qq), 403(w); FDR B.01.010.1; FSANZ Schedule 9";
const Brought matrix[] = {
    {"WheatFlour", "wheat flour", "gluten:wheat", "", "", "Contains wheat", "Contains: wheat", "Contains wheat, gluten", fdca},
    {"SpeltFlour", "spelt flour", "gluten:wheat", "", "", "Contains wheat", "Contains: wheat", "Contains wheat, gluten", fdca},
    {"RyeFlour", "rye flour", "gluten:rye", "", "", "", "Contains: rye", "Contains gluten", fdca},
    {"Oats", "rolled oats", "gluten:oats", "", "", "", "Contains: oats", "Contains gluten", fdca},
    {"BarleyMalt", "malt extract", "gluten:barley", "", "", "", "Contains: barley", "Contains gluten", fdca},
    {"Triticale", "triticale flour", "gluten:triticale", "", "", "Contains wheat", "Contains: triticale", "Contains wheat, gluten",
     "FDR B.01.010.1(1)(d); US and FSANZ: from memory"},
    {"WheatGlucoseSyrup", "glucose syrup", "gluten:wheat", "wheat glucose syrup", "", "Contains wheat", "Contains: wheat",
     "Contains wheat, gluten", "no exemption in the US, protein test in Canada, FSANZ only at 20 mg/kg of gluten or less"},
    {"RefinedWheatGlucoseSyrup", "glucose syrup", "gluten:wheat", "refined wheat glucose syrup with 20 mg/kg of gluten or less", "",
     "Contains wheat", "Contains: wheat", "", "FSANZ Schedule 9"},
    {"MaizeStarch", "maize starch", "", "", "", "", "", "", "in none of the lists, from memory"},
    {"Butter", "butter", "milk", "", "", "Contains milk", "Contains: milk", "Contains milk", fdca},
    {"GoatMilk", "goat milk", "milk", "", "", "Contains milk", "Contains: milk", "Contains milk", "FDA edition 5: milk of other ruminants"},
    {"Albumen", "albumen powder", "eggs", "", "", "Contains egg", "Contains: eggs", "Contains egg", fdca},
    {"DuckEgg", "duck egg", "eggs", "", "", "Contains egg", "Contains: eggs", "Contains egg", "FDA edition 5: eggs of other birds"},
    {"Marzipan", "marzipan", "nuts:almond", "", "", "Contains almonds", "Contains: almonds", "Contains almond", fdca},
    {"Praline", "praline", "nuts:hazelnut", "", "", "Contains hazelnuts", "Contains: hazelnuts", "Contains hazelnut", fdca},
    {"Walnut", "walnut halves", "nuts:walnut", "", "", "Contains walnuts", "Contains: walnuts", "Contains walnut", fdca},
    {"Pecan", "pecan halves", "nuts:pecan", "", "", "Contains pecans", "Contains: pecans", "Contains pecan", fdca},
    {"Pistachio", "pistachio paste", "nuts:pistachio", "", "", "Contains pistachios", "Contains: pistachios", "Contains pistachio", fdca},
    {"Cashew", "cashew butter", "nuts:cashew", "", "", "Contains cashews", "Contains: cashews", "Contains cashew", fdca},
    {"Brazil", "Brazil nuts", "nuts:brazil", "", "", "Contains Brazil nuts", "Contains: Brazil nuts", "Contains Brazil nut", fdca},
    {"Macadamia", "macadamias", "nuts:macadamia", "", "", "Contains macadamia nuts", "Contains: macadamia nuts", "Contains macadamia", fdca},
    {"PineNut", "pine nuts", "nuts:pine", "", "", "Contains pine nuts", "Contains: pine nuts", "Contains pine nut",
     "FDA edition 5 table 1; FDR B.01.010.1(1)(a); FSANZ Schedule 9"},
    {"Coconut", "desiccated coconut", "", "", "", "", "", "", "delisted by FDA edition 5; in none of the other lists"},
    {"Chestnut", "chestnut puree", "", "", "", "", "", "", "delisted by FDA edition 5; in none of the other lists"},
    {"Persipan", "persipan", "", "", "", "", "", "", "apricot kernels are no almonds, from memory"},
    {"Peanut", "peanut brittle", "peanuts", "", "", "Contains peanuts", "Contains: peanuts", "Contains peanut", fdca},
    {"PeanutOil", "refined peanut oil", "peanuts", "fully refined peanut oil", "", "", "Contains: peanuts", "Contains peanut",
     "FD&C Act 201(qq)(2)(A): highly refined oil; no exemption in Canada (protein test) and FSANZ"},
    {"SoyLecithin", "lecithin", "soybeans", "", "", "Contains soy", "Contains: soy", "Contains soy", fdca},
    {"SoyOil", "vegetable oil", "soybeans", "fully refined soybean oil", "", "", "Contains: soy", "Contains soy",
     "FD&C Act 201(qq)(2)(A); FSANZ asks for degumming, neutralising, bleaching and deodorising"},
    {"DeodorisedSoyOil", "vegetable oil", "soybeans", "degummed, neutralised, bleached and deodorised soybean oil", "", "Contains soy",
     "Contains: soy", "", "FSANZ Schedule 9"},
    {"Tahini", "tahini", "sesame", "", "", "Contains sesame", "Contains: sesame", "Contains sesame", fdca},
    {"Mustard", "mustard flour", "mustard", "", "", "", "Contains: mustard", "", "FDR B.01.010.1(1)(k)"},
    {"Lupin", "lupin flour", "lupin", "", "", "", "", "Contains lupin", "FSANZ Schedule 9"},
    {"Celery", "celery salt", "celery", "", "", "", "", "", "in none of these lists"},
    {"Buckwheat", "buckwheat flour", "", "", "", "", "", "", "in none of these lists"},
    {"FishGelatine", "gelatin", "fish", "", "cod", "Contains cod", "Contains: cod", "Contains fish",
     "FD&C Act 403(w): the species; FDR B.01.010.1(1)(j), how to name it: from memory; FSANZ Schedule 9: fish"},
    {"BeefGelatine", "beef gelatin", "", "", "", "", "", "", "in none of these lists"},
    {"Prawn", "prawn powder", "crustaceans", "", "prawn", "Contains prawn", "Contains: prawn", "Contains crustacean", fdca},
    {"Squid", "squid ink", "molluscs", "", "squid", "", "Contains: squid", "Contains mollusc",
     "not in the US list, from memory; FDR B.01.010.1(1)(i); FSANZ Schedule 9"},
};

class AllergenMatrix : public testing::TestWithParam<Brought> {};
TEST_P(AllergenMatrix, GivesTheContainsStatementOfEachPlace) {
  const Brought& row = GetParam();
  IngredientFacts food = answered(row.ingredient);
  if (*row.key != '\0') {
    says(food, row.key, Presence::contains);
    for (AllergenStatement& said : food.allergens) {
      if (said.allergen != row.key) continue;
      said.process = row.process;
      said.species = row.species;
    }
  }
  const CakeParts parts = one_batch({{answered("sugar"), grams(100)}, {food, grams(100)}}, grams(200));
  for (const auto& [code, expected] : {std::pair{"us", row.us}, {"us-ca", row.us}, {"us-tx", row.us}, {"ca", row.ca}, {"anz", row.anz}}) {
    const Labelled cake = label(parts, terms_of(code));
    EXPECT_EQ(text_of(cake.declared.summary), expected) << code << ": " << row.source;
    EXPECT_TRUE(cake.declared.unknown.empty()) << code;
    EXPECT_TRUE(cake.declared.allergen_line.empty()) << code << ": a list was asked for";
  }
}
INSTANTIATE_TEST_SUITE_P(Checks, AllergenMatrix, testing::ValuesIn(matrix), [](const auto& check) { return std::string{check.param.id}; });

/// Dried fruit at 2000 mg/kg, so that `fruit` grams of it in 2000 g come to `fruit` mg/kg.
Labelled with_sulphites(std::int64_t fruit_mg, const std::string& code) {
  IngredientFacts fruit = answered("dried apricots");
  says(fruit, "sulphites", Presence::contains);
  fruit.sulphites_mg_per_kg = 2000;
  return label(one_batch({{answered("sugar"), Mass::milligrams(2'000'000 - fruit_mg)}, {fruit, Mass::milligrams(fruit_mg)}}, grams(2000)),
               terms_of(code));
}

TEST(SulphitesAbroad, AreDeclaredAtTenExactlyAndNotJustUnder) {
  for (const char* code : {"us", "ca", "anz"}) {
    EXPECT_TRUE(holds(with_sulphites(10'000, code).declared.contains, "sulphites"))
        << code << ": 10 or more (21 CFR 101.100(a)(4); FDR B.01.010.2; FSANZ Schedule 9)";
    EXPECT_FALSE(holds(with_sulphites(9'999, code).declared.contains, "sulphites")) << code << ": 9.999 mg/kg";
  }
}

TEST(SulphitesAbroad, StandInTheAmericanListAndNeverInItsStatement) {
  const Labelled us = with_sulphites(10'000, "us");
  EXPECT_NE(marked(us.declared).find("sulfites"), std::string::npos) << "21 CFR 101.100(a)(4): " << marked(us.declared);
  EXPECT_TRUE(us.declared.summary.empty()) << "FDA edition 5: only major allergens";
  EXPECT_EQ(text_of(with_sulphites(10'000, "ca").declared.summary), "Contains: sulphites") << "FDR B.01.010.3(1)(b)(iii)";
  EXPECT_EQ(text_of(with_sulphites(10'000, "anz").declared.summary), "Contains sulphites") << "FSANZ Schedule 9";
}

TEST(SesameInTheStates, IsAnAllergenSince2023) {
  EXPECT_EQ(terms_of("us", day(2022, 12, 31)).allergen("sesame"), nullptr) << "FASTER Act of 2021: from 1 January 2023";
  EXPECT_NE(terms_of("us", day(2023, 1, 1)).allergen("sesame"), nullptr);
}

TEST(TreeNutsInTheStates, AreTheTwelveNamesOfTheTable) {
  const auto terms = terms_of("us");
  const std::map<std::string, std::string> table{
      {"almond", "nuts:almond"},        {"black walnut", "nuts:walnut"}, {"Brazil nut", "nuts:brazil"},
      {"California walnut", "nuts:walnut"}, {"cashew", "nuts:cashew"},   {"hazelnut", "nuts:hazelnut"},
      {"filbert", "nuts:hazelnut"},     {"heartnut", "nuts:walnut"},     {"Japanese walnut", "nuts:walnut"},
      {"macadamia", "nuts:macadamia"},  {"bush nut", "nuts:macadamia"},  {"pecan", "nuts:pecan"},
      {"pine nut", "nuts:pine"},        {"pinon", "nuts:pine"},          {"pistachio", "nuts:pistachio"},
      {"English walnut", "nuts:walnut"}, {"Persian walnut", "nuts:walnut"}};
  std::set<std::string> keys;
  for (const auto& [name, key] : table) {
    keys.insert(key);
    IngredientFacts nut = answered(name);
    says(nut, key, Presence::contains);
    const Labelled cake = label(one_batch({{nut, grams(10)}}, grams(10)), terms);
    EXPECT_EQ(marked(cake.declared), name) << "FDA edition 5 table 1: its own name is clear, nothing is added";
  }
  std::set<std::string> listed;
  for (const auto& allergen : terms.allergens) {
    if (allergen.group == "tree nuts") listed.insert(allergen.key);
  }
  EXPECT_EQ(listed, keys);
}

TEST(ListsAbroad, ShowAllergensInTheFormOfEachPlace) {
  IngredientFacts butter = answered("butter");
  says(butter, "milk", Presence::contains);
  IngredientFacts cream = answered("cream");
  says(cream, "milk", Presence::contains);
  IngredientFacts flour = answered("wheat flour");
  says(flour, "gluten:wheat", Presence::contains);
  const CakeParts parts = one_batch({{flour, grams(300)}, {butter, grams(200)}, {cream, grams(100)}}, grams(600));

  const Labelled us = label(parts, terms_of("us"));
  EXPECT_EQ(marked(us.declared), "wheat flour, butter (milk), cream") << "FD&C Act 403(w)(1)(B): at its first use";
  EXPECT_EQ(marked(us.declared.summary), "Contains milk, wheat") << "403(w)(1)(A); no bold";

  const Labelled ca = label(parts, terms_of("ca"));
  EXPECT_EQ(marked(ca.declared), "wheat flour, butter, cream") << "FDR B.01.010.1(2): list or statement";
  EXPECT_EQ(marked(ca.declared.summary), "*Contains:* wheat, milk") << "FDR B.01.010.3(1): the title in bold";

  const Labelled anz = label(parts, terms_of("anz"));
  EXPECT_EQ(marked(anz.declared), "*wheat* flour, butter (*milk*), cream (*milk*)") << "FSANZ 1.2.3: for each ingredient, in bold";
  EXPECT_EQ(marked(anz.declared.summary), "*Contains wheat, gluten, milk*") << "FSANZ 1.2.3: the same bold";
}

TEST(BlocksAbroad, StandInTheOrderOfTheLaw) {
  EXPECT_EQ(terms_of("ca").form.after_list, (std::vector<std::string>{"statements", "summary", "may contain"}))
      << "FDR B.01.010.3(1), .4(1): list, sweetener statement, Contains, may contain";
  EXPECT_EQ(terms_of("us").form.after_list.front(), "summary") << "FD&C Act 403(w)(1)(A): right after or next to the list";
  EXPECT_EQ(terms_of("anz").form.after_list.front(), "summary") << "FSANZ 1.2.3: next to the list";
  EXPECT_EQ(terms_of("anz").form.summary, "required");
  EXPECT_EQ(terms_of("ca").language.languages, (std::vector<std::string>{"en", "fr"})) << "FDR B.01.012";
}

TEST(GroupAnswersAbroad, NeverSettleWhatTheListDoesNotName) {
  const auto us = terms_of("us");
  for (const char* word : {"gluten", "shellfish", "seafood", "seeds", "nuts"}) {
    const auto* answer = us.group_answer(word);
    ASSERT_NE(answer, nullptr) << word;
    EXPECT_TRUE(answer->ask_which) << word << ": barley, rye, oats, molluscs and most seeds have no key there";
  }
  const auto ca = terms_of("ca");
  EXPECT_EQ(ca.keys_of(*ca.group_answer("coeliac")),
            (std::vector<std::string>{"gluten:wheat", "gluten:triticale", "gluten:rye", "gluten:barley", "gluten:oats"}))
      << "FDR B.01.010.1(1) \"gluten\"";
  const auto anz = terms_of("anz");
  EXPECT_EQ(anz.keys_of(*anz.group_answer("gluten")).size(), 5u);
  EXPECT_EQ(anz.keys_of(*anz.group_answer("nuts")).size(), 10u) << "nine tree nuts and peanuts";
}

// ---- prescribed words ----------------------------------------------------------------------------------------------------------

struct Prescribed {
  const char* id;
  const char* code;
  const char* key;
  const char* text;
  const char* source;
};
class PrescribedWordsAbroad : public testing::TestWithParam<Prescribed> {};
TEST_P(PrescribedWordsAbroad, AreThoseOfTheLawToTheByte) {
  const Prescribed& row = GetParam();
  const auto terms = terms_of(row.code);
  const auto* wording = terms.wording(row.key);
  ASSERT_NE(wording, nullptr) << row.key;
  EXPECT_EQ(wording->text, row.text) << row.source;
}
INSTANTIATE_TEST_SUITE_P(
    Checks, PrescribedWordsAbroad,
    testing::Values(
        Prescribed{"UsContains", "us", "contains", "Contains {names}", "FD&C Act 403(w)(1)(A): Contains, then the food sources"},
        Prescribed{"UsManufacturedFor", "us", "manufactured for", "Manufactured for", "21 CFR 101.5(c), from memory"},
        Prescribed{"UsDistributedBy", "us", "distributed by", "Distributed by", "21 CFR 101.5(c), from memory"},
        Prescribed{"California", "us-ca", "home kitchen", "Made in a Home Kitchen", "Cal. HSC 114365.2; a county's guidance"},
        Prescribed{"CaliforniaQuality", "us-ca", "best before", "BEST if Used by", "AB 660, from memory; its date read"},
        Prescribed{"CaliforniaSafety", "us-ca", "use by", "USE by", "AB 660, from memory; its date read"},
        Prescribed{"Texas", "us-tx", "home kitchen",
                   "THIS PRODUCT WAS PRODUCED IN A PRIVATE RESIDENCE THAT IS NOT SUBJECT TO GOVERNMENTAL LICENSING OR INSPECTION.",
                   "Tex. SB 541 (2025)"},
        Prescribed{"TexasCold", "us-tx", "storage chilled",
                   "SAFE HANDLING INSTRUCTIONS: To prevent illness from bacteria, keep this food refrigerated or frozen until the food is "
                   "prepared for consumption.",
                   "Tex. SB 541 (2025)"},
        Prescribed{"CaContains", "ca", "contains", "Contains: {names}", "FDR B.01.010.3(1)"},
        Prescribed{"CaBestBefore", "ca", "best before", "Best before", "FDR B.01.007, from memory"},
        Prescribed{"AnzContains", "anz", "contains", "Contains {names}", "FSANZ 1.2.3-6"},
        Prescribed{"AnzBestBefore", "anz", "best before", "Best Before", "FSANZ 1.2.5, from memory"},
        Prescribed{"AnzUseBy", "anz", "use by", "Use By", "FSANZ 1.2.5, from memory"}),
    [](const auto& check) { return std::string{check.param.id}; });

TEST(PrescribedWordsOfCanada, HaveTheirFrenchTwins) {
  const auto terms = terms_of("ca");
  EXPECT_EQ(terms.wording("contains")->other_texts.at("fr"), "Contient : {names}") << "FDR B.01.010.3(1)";
  EXPECT_EQ(terms.wording("best before")->other_texts.at("fr"), "Meilleur avant") << "FDR B.01.007, from memory";
  for (const auto& wording : terms.wordings) EXPECT_TRUE(wording.other_texts.contains("fr")) << wording.key << ": FDR B.01.012";
  for (const auto& allergen : terms.allergens) EXPECT_TRUE(allergen.other_words.contains("fr")) << allergen.key << ": FDR B.01.012";
}

TEST(PrescribedWordsOfTheStates, OpenTheTailGroup) {
  EXPECT_EQ(terms_of("us").any_order_below.wording, "Contains 2 percent or less of {names}") << "21 CFR 101.4(a)(2)";
  EXPECT_EQ(terms_of("us").any_order_below.limit, share_of(2, 100)) << "21 CFR 101.4(a)(2)";
  EXPECT_TRUE(terms_of("us").any_order_below.inclusive) << "2 percent or less";
}

TEST(PrescribedWordsOfAustralia, WarnOfRoyalJelly) {
  const auto terms = terms_of("anz");
  const auto found = std::find_if(terms.mark_wordings.begin(), terms.mark_wordings.end(),
                                  [](const MarkWording& row) { return row.mark == "royal jelly"; });
  ASSERT_NE(found, terms.mark_wordings.end());
  EXPECT_EQ(found->wording,
            "This product contains royal jelly which has been reported to cause severe allergic reactions and in rare cases, fatalities, "
            "especially in asthma and allergy sufferers")
      << "FSANZ 1.2.3-3, from memory";
}

TEST(HomeKitchensAbroad, SayOnEveryRouteThatTheyAreOne) {
  for (const char* code : {"us-ca", "us-tx"}) {
    const auto terms = terms_of(code);
    for (const auto& route : terms.routes) {
      EXPECT_EQ(route.statements, std::vector<std::string>{"home kitchen"}) << code << ": " << route.cited.row;
      EXPECT_EQ(route.declaration, "ingredient list") << code << ": " << route.cited.row;
    }
  }
  for (const auto& route : terms_of("us").routes) EXPECT_TRUE(route.statements.empty()) << route.cited.row;
}

TEST(TexasWarning, IsNotPrintedWhileACourtHoldsItBack) {
  const auto terms = terms_of("us-tx", day(2027, 1, 2));
  for (const auto& wording : terms.wordings) EXPECT_EQ(wording.text.find("not recommended for human consumption"), std::string::npos);
  for (const auto& wording : terms.additive_wordings)
    EXPECT_EQ(wording.wording.find("not recommended for human consumption"), std::string::npos) << "Tex. SB 25: enjoined 11 February 2026";
}

TEST(CaliforniaDateWords, HoldFromJuly2026) {
  EXPECT_EQ(terms_of("us-ca", day(2026, 6, 30)).wording("use by")->text, "Use by") << "AB 660: from 1 July 2026";
  EXPECT_EQ(terms_of("us-ca", day(2026, 7, 1)).wording("use by")->text, "USE by");
}

// ---- additives -----------------------------------------------------------------------------------------------------------------

TEST(ColorsInTheStates, HaveTheNamesThatMayStandInAList) {
  const auto terms = terms_of("us");
  const std::map<std::string, std::string> names{{"E102", "Yellow 5"}, {"E110", "Yellow 6"}, {"E127", "Red 3"}, {"E129", "Red 40"},
                                                 {"E132", "Blue 2"},   {"E133", "Blue 1"},   {"E143", "Green 3"}, {"E120", "carmine"}};
  for (const auto& [number, name] : names)
    EXPECT_EQ(terms.additive(number)->print, name) << "21 CFR 101.22(k)(1), 73.100(d); pairs but E120 from memory";
  EXPECT_EQ(terms.additive("E160b")->print, "annatto color") << "21 CFR 101.22(k)(2): [x] color";
  EXPECT_EQ(terms.additive_form.form, "name");
}

TEST(ColorsInTheStates, AreNotAllThatOthersPermit) {
  const auto terms = terms_of("us");
  for (const char* number : {"E104", "E122", "E124", "E131", "E142", "E151", "E153", "E155", "E173"})
    EXPECT_EQ(terms.additive(number)->status, "not permitted") << number << ": not listed in 21 CFR 73 and 74, from memory";
  for (const char* number : {"E174", "E175"})
    EXPECT_EQ(terms.additive(number)->status, "restricted") << number << ": no listing found; a caution, not a stop";
  EXPECT_EQ(terms.additive("E952")->status, "not permitted") << "cyclamates, from memory";
}

TEST(RedThree, EndsOnTheFifteenthOfJanuary2027) {
  EXPECT_EQ(terms_of("us", day(2027, 1, 14)).additive("E127")->status, "permitted") << "order of 15 January 2025";
  EXPECT_EQ(terms_of("us", day(2027, 1, 15)).additive("E127")->status, "not permitted") << "order of 15 January 2025";
  EXPECT_EQ(terms_of("us-ca", day(2026, 12, 31)).additive("E127")->status, "permitted") << "AB 418: from 1 January 2027, from memory";
  EXPECT_EQ(terms_of("us-ca", day(2027, 1, 1)).additive("E127")->status, "not permitted") << "AB 418, from memory";
  EXPECT_EQ(terms_of("us-tx", day(2027, 1, 1)).additive("E127")->status, "permitted") << "the federal day counts there";
  for (const char* number : {"E216", "E924"}) {
    EXPECT_EQ(terms_of("us-ca", day(2026, 12, 31)).additive(number)->status, "permitted") << number;
    EXPECT_EQ(terms_of("us-ca", day(2027, 1, 1)).additive(number)->status, "not permitted") << number << ": AB 418, from memory";
  }
}

TEST(AdditivesAbroad, AreAllInTheTableOrGoToAPerson) {
  for (const char* code : {"us", "ca", "anz"}) {
    const auto terms = terms_of(code);
    EXPECT_EQ(terms.additives.size(), 318u) << code << ": the numbers of the list that the European table was written from";
    for (const auto& additive : terms.additives) EXPECT_TRUE(additive.cited.from_memory || !additive.cited.clause.empty());
  }
  EXPECT_EQ(terms_of("ca").additive("E123")->status, "permitted") << "amaranth, from memory";
  EXPECT_EQ(terms_of("anz").additive("E127")->status, "restricted") << "erythrosine: preserved cherries only, from memory";
}

TEST(TitaniumDioxideInTheStates, MayBeOnePercent) {
  const auto terms = terms_of("us");
  ASSERT_EQ(terms.level_limits.size(), 1u);
  EXPECT_EQ(terms.level_limits[0].up_to_mg_per_kg, 10'000) << "21 CFR 73.575(c), from memory: 1 percent by weight";
  EXPECT_EQ(terms.level_limits[0].food, "cake");
}

// ---- how it is sold ------------------------------------------------------------------------------------------------------------

TEST(RoutesAbroad, AnswerEverySaleExactlyOnce) {
  for (const char* code : {"us", "us-ca", "us-tx", "ca", "anz"}) {
    for (const auto on : {day(2025, 9, 1), look, day(2027, 2, 1)}) {
      const auto terms = terms_of(code, on);
      for (const char* boxed : {"before it was chosen", "after it was ordered", "not boxed"}) {
        for (const char* seller : {"the maker", "another business"}) {
          for (const char* ordered : {"face to face", "at a distance"}) {
            for (const char* where : {"where it is made", "somewhere else", "delivered"}) {
              const auto fits = [&](const RouteTerm& r) {
                return (r.boxed.empty() || r.boxed == boxed) && (r.seller.empty() || r.seller == seller) &&
                       (r.ordered.empty() || r.ordered == ordered) && (r.where.empty() || r.where == where);
              };
              EXPECT_EQ(std::count_if(terms.routes.begin(), terms.routes.end(), fits), 1)
                  << code << ": " << boxed << ", " << seller << ", " << ordered << ", " << where << " on " << format_date(on);
            }
          }
        }
      }
    }
  }
}

const RouteTerm& route_by_id(const LabelTerms& terms, const std::string& id) {
  const auto found = std::find_if(terms.routes.begin(), terms.routes.end(), [&](const RouteTerm& r) { return r.cited.row == id; });
  if (found == terms.routes.end()) throw std::runtime_error{"no route " + id};
  return *found;
}

/// L19, Std 1.2.1-6, -9.
TEST(RoutesAbroad, L19FreeTheDeliveredOrderOfItsLabelAndNotOfTheAllergens) {
  const auto terms = terms_of("anz");
  const RouteTerm& delivered = route_by_id(terms, "route-boxed-after-delivered");
  EXPECT_EQ(delivered.declaration, "allergens");
  EXPECT_TRUE(delivered.on_pack.empty());
  EXPECT_FALSE(delivered.told.empty()) << "1.2.1-9: the allergens are due all the same";
  const RouteTerm& resold = route_by_id(terms, "route-other-business");
  EXPECT_EQ(resold.declaration, "ingredient list");
  for (const char* particular : {"name", "ingredients", "allergens", "date", "lot", "business"})
    EXPECT_TRUE(holds(resold.on_pack, particular)) << particular << ": 1.2.1-8";
}

TEST(RoutesAbroad, GiveCanadaNoListForWhatIsMadeAndPackedOnThePremises) {
  const auto terms = terms_of("ca");
  const RouteTerm& here = route_by_id(terms, "route-boxed-before-here");
  EXPECT_EQ(here.declaration, "allergens") << "FDR B.01.008(2)(a); allergens taken as required";
  EXPECT_FALSE(holds(here.on_pack, "ingredients"));
  EXPECT_TRUE(holds(here.on_pack, "allergens"));
  EXPECT_EQ(route_by_id(terms, "route-boxed-before-elsewhere").declaration, "ingredient list");
}

// ---- heights of type -----------------------------------------------------------------------------------------------------------

struct Height {
  const char* id;
  const char* code;
  const char* what;
  std::int64_t face_mm2;
  std::int64_t expected_um;
  const char* source;
};
class HeightAbroad : public testing::TestWithParam<Height> {};
TEST_P(HeightAbroad, IsWhatTheRowsGive) {
  const Height& row = GetParam();
  const auto terms = terms_of(row.code);
  const auto height = minimum_height(terms.type_sizes, row.what, row.face_mm2, {});
  ASSERT_TRUE(height.has_value());
  EXPECT_EQ(height->micrometres, row.expected_um) << row.source;
}
// A square inch is 645.16 mm² exactly: 5 are 3225.8, 25 are 16129, 96 are 61935.36, 100 are 64516, 100.5 are 64838.58, 400 are 258064.
INSTANTIATE_TEST_SUITE_P(
    Checks, HeightAbroad,
    testing::Values(Height{"UsText", "us", "text", 60'000, 1588, "21 CFR 101.2(c), from memory: 1/16 inch, 1587.5 micrometres"},
                    Height{"Us5", "us", "net quantity", 3'225, 1588, "21 CFR 101.7(i), from memory: up to 5 square inches"},
                    Height{"Us5over", "us", "net quantity", 3'226, 3175, "21 CFR 101.7(i), from memory: over 5 square inches"},
                    Height{"Us25", "us", "net quantity", 16'129, 3175, "21 CFR 101.7(i), from memory: 25 square inches"},
                    Height{"Us25over", "us", "net quantity", 16'130, 4763, "21 CFR 101.7(i), from memory: over 25 square inches"},
                    Height{"UsL10", "us", "net quantity", 61'936, 4763, "21 CFR 101.7(i): 12 by 8 inches, 3/16 inch"},
                    Height{"Us100", "us", "net quantity", 64'516, 4763, "21 CFR 101.7(i), from memory: 100 square inches"},
                    Height{"UsL10over", "us", "net quantity", 64'839, 6350, "21 CFR 101.7(i): 100.5 square inches, 1/4 inch"},
                    Height{"Us400", "us", "net quantity", 258'064, 6350, "21 CFR 101.7(i), from memory: 400 square inches"},
                    Height{"Us400over", "us", "net quantity", 258'065, 12700, "21 CFR 101.7(i), from memory: over 400 square inches"},
                    Height{"UsContains", "us", "contains statement", 60'000, 1588, "FD&C Act 403(w)(1)(A): not smaller than the list"},
                    Height{"California", "us-ca", "home kitchen", 60'000, 4234, "county guidance: 12-point, 4233.3 micrometres"},
                    Height{"TexasCold", "us-tx", "storage chilled", 60'000, 4234, "Tex. SB 541: 12-point, 4233.3 micrometres"},
                    Height{"CaText", "ca", "text", 60'000, 1600, "FDR A.01.016, from memory"},
                    Height{"CaTextAtTen", "ca", "text", 1'000, 1600, "FDR A.01.016, from memory: 10 cm2 is not under 10 cm2"},
                    Height{"CaTextSmall", "ca", "text", 999, 800, "FDR A.01.016, from memory"},
                    Height{"CaList", "ca", "ingredient list", 60'000, 1100, "FDR B.01.008.2(2), from memory"},
                    Height{"CaListSmall", "ca", "ingredient list", 999, 800, "FDR B.01.008.2(2), from memory"},
                    Height{"Ca32", "ca", "net quantity", 3'200, 1600, "CPLR s. 14(2): up to 32 cm2"},
                    Height{"Ca32over", "ca", "net quantity", 3'201, 3200, "CPLR s. 14(2)"},
                    Height{"Ca258", "ca", "net quantity", 25'800, 3200, "CPLR s. 14(2)"},
                    Height{"Ca258over", "ca", "net quantity", 25'801, 6400, "CPLR s. 14(2)"},
                    Height{"Ca645", "ca", "net quantity", 64'500, 6400, "CPLR s. 14(2)"},
                    Height{"Ca645over", "ca", "net quantity", 64'501, 9500, "CPLR s. 14(2)"},
                    Height{"Ca2580", "ca", "net quantity", 258'000, 9500, "CPLR s. 14(2)"},
                    Height{"Ca2580over", "ca", "net quantity", 258'001, 12700, "CPLR s. 14(2)"},
                    Height{"AnzWarning", "anz", "warning statement", 10'000, 3000, "FSANZ 1.2.1-25, from memory: 100 cm2 is not under it"},
                    Height{"AnzWarningSmall", "anz", "warning statement", 9'999, 1500, "FSANZ 1.2.1-25, from memory"},
                    Height{"AnzNet", "anz", "net quantity", 60'000, 4800, "NTMR 2009, from memory: the highest of four"},
                    Height{"AnzText", "anz", "text", 60'000, 1200, "a choice of this project: the Code gives none"}),
    [](const auto& check) { return std::string{check.param.id}; });

// ---- quantity, dates, nutrition ------------------------------------------------------------------------------------------------

struct Weighed {
  const char* id;
  const char* code;
  std::int64_t grams_in_it;
  const char* text;
  const char* source;
};
class NetQuantityAbroad : public testing::TestWithParam<Weighed> {};
TEST_P(NetQuantityAbroad, IsWrittenInTheFormOfThePlace) {
  const Weighed& row = GetParam();
  const auto written = net_quantity(grams(row.grams_in_it), {}, terms_of(row.code));
  ASSERT_TRUE(written.has_value()) << told(written.error());
  EXPECT_EQ(written->text, row.text) << row.source;
  EXPECT_EQ(written->instead, "") << "none of these laws was read to let a number stand for the weight";
}
INSTANTIATE_TEST_SUITE_P(Checks, NetQuantityAbroad,
                         testing::Values(Weighed{"UsL10", "us", 680, "NET WT 24 OZ (1 LB 8 OZ) 680 g", "21 CFR 101.7, worked: 23.99 oz"},
                                         Weighed{"UsLight", "us", 340, "NET WT 12 OZ 340 g", "21 CFR 101.7, from memory: under 1 lb"},
                                         Weighed{"Ca", "ca", 1283, "1.28 kg", "CPLR s. 25, 26: three figures"},
                                         Weighed{"CaLight", "ca", 950, "950 g", "CPLR s. 25, 26: under 1000 g in grams"},
                                         Weighed{"Anz", "anz", 950, "950 g", "trade measurement law, from memory"}),
                         [](const auto& check) { return std::string{check.param.id}; });

struct Rounded {
  const char* nutrient;
  Share amount;
  const char* text;
};
/// L17, 21 CFR 101.9(c); a half rounds up by common reading, from memory.
TEST(RoundingInTheStates, L17FollowsTheBands) {
  const auto terms = terms_of("us");
  const Rounded rows[] = {{"calories", share_of(49, 10), "0 cal"},
                          {"calories", 47, "45 cal"},
                          {"calories", 53, "50 cal"},
                          {"calories", 55, "60 cal"},
                          {"calories", 50, "50 cal"},
                          {"total fat", share_of(49, 100), "0 g"},
                          {"total fat", share_of(48, 10), "5 g"},
                          {"total fat", share_of(54, 10), "5 g"},
                          {"total fat", share_of(5, 10), "0.5 g"},
                          {"saturated fat", share_of(26, 10), "2.5 g"},
                          {"trans fat", share_of(4, 10), "0 g"},
                          {"polyunsaturated fat", share_of(12, 10), "1 g"},
                          {"monounsaturated fat", share_of(66, 10), "7 g"},
                          {"sodium", 3, "0 mg"},
                          {"sodium", 137, "135 mg"},
                          {"sodium", 140, "140 mg"},
                          {"sodium", 142, "140 mg"},
                          {"sodium", 146, "150 mg"},
                          {"cholesterol", share_of(19, 10), "0 mg"},
                          {"cholesterol", 3, "less than 5 mg"},
                          {"cholesterol", 5, "less than 5 mg"},
                          {"cholesterol", 7, "5 mg"},
                          {"cholesterol", 8, "10 mg"},
                          {"sugar alcohol", share_of(4, 10), "0 g"},
                          {"sugar alcohol", share_of(7, 10), "less than 1 g"},
                          {"total carbohydrate", share_of(315, 10), "32 g"},
                          {"dietary fiber", share_of(9, 10), "less than 1 g"},
                          {"total sugars", share_of(3, 10), "0 g"},
                          {"added sugars", share_of(5, 10), "less than 1 g"},
                          {"protein", share_of(34, 10), "3 g"},
                          {"percent of the daily value", share_of(124, 10), "12 %"}};
  for (const Rounded& row : rows) {
    const auto rounded = round_band(row.nutrient, row.amount, terms.rounding);
    ASSERT_TRUE(rounded.has_value()) << row.nutrient << ": " << told(rounded.error());
    EXPECT_EQ(rounded->text, row.text) << row.nutrient << " " << format_decimal(row.amount, 2) << ": 21 CFR 101.9(c)";
  }
}

/// L18(d), 21 CFR 101.9(j)(18): fewer than 10 people and 10 000 units, no notice.
TEST(NutritionInTheStates, L18SparesTheSmallMaker) {
  const auto terms = terms_of("us");
  NutritionAsk ask;
  ask.staff = 6;
  ask.units_a_year = 8000;
  ask.claim_made = false;
  const auto small = judge_nutrition_need(ask, terms.nutrition_exemptions);
  EXPECT_FALSE(small.needed) << small.why;
  EXPECT_NE(small.source.find("101.9(j)(18)(iv)"), std::string::npos) << "no notice: " << small.source;

  ask.staff = 10;
  const auto ten = judge_nutrition_need(ask, terms.nutrition_exemptions);
  EXPECT_FALSE(ten.needed) << "101.9(j)(18)(i): fewer than 100 and 100 000";
  EXPECT_NE(ten.source.find("notice"), std::string::npos) << ten.source;

  ask.units_a_year = 100'000;
  EXPECT_TRUE(judge_nutrition_need(ask, terms.nutrition_exemptions).needed) << "100 000 is not under 100 000";
  ask.turnover = 500'000;
  ask.all_direct_or_local = true;
  EXPECT_FALSE(judge_nutrition_need(ask, terms.nutrition_exemptions).needed) << "101.9(j)(1): a retailer up to 500 000 dollars";
  ask.turnover = 500'001;
  EXPECT_TRUE(judge_nutrition_need(ask, terms.nutrition_exemptions).needed);
  ask.turnover = 1;
  ask.claim_made = true;
  EXPECT_TRUE(judge_nutrition_need(ask, terms.nutrition_exemptions).needed) << "a claim ends every exemption";
}

TEST(NutritionAbroad, IsSparedNobodyByNumbersInCanadaAndAustralia) {
  for (const char* code : {"ca", "anz"}) EXPECT_TRUE(terms_of(code).nutrition_exemptions.empty()) << code;
}

/// L13: the sum is advice in every place.
TEST(ReferenceDosesAbroad, L13IndicateAPrecautionAtTheActionLevel) {
  for (const char* code : {"us", "ca", "anz"}) {
    const auto doses = terms_of(code).reference_doses;
    const auto hazelnut = judge_precaution({"nuts:hazelnut", "ground hazelnuts", 150, share_of(14, 100), false}, grams(2000), grams(125), doses);
    ASSERT_TRUE(hazelnut.has_value()) << code;
    EXPECT_EQ(hazelnut->action_level_mg_per_kg, Share{24}) << "FAO/WHO part 2 (2022): 3 mg over 125 g";
    EXPECT_FALSE(hazelnut->indicated) << "10.5 mg/kg";
    const auto almond = judge_precaution({"nuts:almond", "almond flour", 150, share_of(21, 100), false}, grams(2000), grams(125), doses);
    ASSERT_TRUE(almond.has_value()) << code;
    EXPECT_EQ(almond->action_level_mg_per_kg, Share{8}) << "FAO/WHO part 2 (2022), provisional: 1 mg over 125 g";
    EXPECT_TRUE(almond->indicated) << "15.75 mg/kg";
    EXPECT_NE(almond->message.find("advice, not law"), std::string::npos) << almond->message;
  }
}

TEST(DatesOfCanada, BeginWithTheYearAndNameTheMonthInTwoLetters) {
  const auto terms = terms_of("ca");
  const std::vector<std::string> symbols{"JA", "FE", "MR", "AL", "MA", "JN", "JL", "AU", "SE", "OC", "NO", "DE"};
  ASSERT_FALSE(terms.date_marks.empty());
  for (const auto& mark : terms.date_marks) {
    EXPECT_EQ(mark.months, symbols) << "FDR B.01.007(4), from memory";
    EXPECT_TRUE(mark.year_first) << "FDR B.01.007, from memory";
  }
  const auto marks = date_marks(day(2027, 5, 3), {0, 10}, false, terms.date_marks);
  ASSERT_TRUE(marks.has_value());
  EXPECT_EQ(marks->allowed.front().text, "Best before / Meilleur avant 2027 MA 13");
}

}  // namespace
}  // namespace tierproof
