// Allergens published for the United States with two states, Canada, and Australia and New Zealand against the rows of reference/us*, ca
// and anz. The source stands beside the figure; what was recalled and not read says "from memory".
#include <map>
#include <set>

#include "abroad.h"

namespace tierproof::abroad {
namespace {

/// A food whose supplier's sheet answers for every allergen that any shipped pack knows.
IngredientFacts answered(const std::string& name) {
  IngredientFacts made;
  made.id = IngredientId{name};
  made.label_name = name;
  for (const auto& known : packs().known_allergens()) says(made, known.key, Presence::absent, "supplier's sheet");
  return made;
}

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
    {"Macadamia", "macadamias", "nuts:macadamia", "", "", "Contains macadamia nuts", "Contains: macadamia nuts", "Contains macadamia",
     fdca},
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
  const std::map<std::string, std::string> table{{"almond", "nuts:almond"},          {"black walnut", "nuts:walnut"},
                                                 {"Brazil nut", "nuts:brazil"},      {"California walnut", "nuts:walnut"},
                                                 {"cashew", "nuts:cashew"},          {"hazelnut", "nuts:hazelnut"},
                                                 {"filbert", "nuts:hazelnut"},       {"heartnut", "nuts:walnut"},
                                                 {"Japanese walnut", "nuts:walnut"}, {"macadamia", "nuts:macadamia"},
                                                 {"bush nut", "nuts:macadamia"},     {"pecan", "nuts:pecan"},
                                                 {"pine nut", "nuts:pine"},          {"pinon", "nuts:pine"},
                                                 {"pistachio", "nuts:pistachio"},    {"English walnut", "nuts:walnut"},
                                                 {"Persian walnut", "nuts:walnut"}};
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

}  // namespace
}  // namespace tierproof::abroad
