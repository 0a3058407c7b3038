#include <gtest/gtest.h>

#include "sums/cake_for_tests.h"
#include "sums/lawful_order.h"

// Worked label cases L01..L08, L12, L20, L21: the list, its emphasis and what is prescribed beside it. FIC is Regulation (EU)
// No 1169/2011 and, as assimilated, the law of Great Britain. Masses in grams unless said.

namespace tierproof {
namespace {

std::vector<std::string> texts_of(const std::vector<Statement>& statements) {
  std::vector<std::string> texts;
  for (const Statement& statement : statements) texts.push_back(statement.text);
  return texts;
}

using namespace for_tests;

IngredientFacts baking_powder() {
  IngredientFacts powder = food("baking powder");
  powder.parts = {additive_part("E450", "E450", "raising agent"), additive_part("E500", "E500", "raising agent"), part("maize starch")};
  return powder;
}

/// L01, FIC art. 18(1), 21; Annex VII A 1, 6, C.
TEST(LabellingCases, L01KeepsTheOrderOfTheMixingBowl) {
  const Labelled cake = label(one_batch({{food("salt"), grams(3)},
                                         {food("sugar"), grams(400)},
                                         {food("wheat flour", {"gluten:wheat"}), grams(360)},
                                         {food("butter", {"milk"}), grams(380)},
                                         {food("egg", {"eggs"}), grams(350)},
                                         {food("ground almonds", {"nuts:almond"}), grams(120)},
                                         {baking_powder(), grams(12)}},
                                        grams(1500)));
  EXPECT_EQ(cake.made.ingoing_mg, 1'625'000);
  EXPECT_EQ(cake.made.lost_mg, 125'000);
  EXPECT_EQ(text_of(cake.declared.heading), "Ingredients:");
  EXPECT_EQ(
      marked(cake.declared),
      "sugar, butter (*MILK*), *WHEAT* flour, *EGG*, ground *ALMONDS*, baking powder (raising agents: E450, E500; maize starch), salt");
  EXPECT_TRUE(cake.declared.allergen_line.empty());
  EXPECT_EQ(cake.declared.contains, (std::vector<std::string>{"gluten:wheat", "eggs", "milk", "nuts:almond"}));
  EXPECT_EQ(format_decimal(entry(cake.declared, "baking powder").of_finished * 100, 1), "0.8");
  EXPECT_EQ(format_decimal(entry(cake.declared, "salt").of_finished * 100, 1), "0.2");

  // the last two may swap; nothing else may
  std::vector<std::string> names;
  for (const ListedIngredient& one : cake.declared.ingredients) names.push_back(one.name);
  EXPECT_EQ(why_unlawful_order(cake.declared, names), "");
  for (std::size_t i = 1; i < names.size(); ++i) {
    std::vector<std::string> swapped = names;
    std::swap(swapped[i - 1], swapped[i]);
    EXPECT_EQ(why_unlawful_order(cake.declared, swapped).empty(), i == names.size() - 1) << names[i];
  }
}

/// L02, FIC Annex VII A 1.
TEST(LabellingCases, L02CountsOnlyTheWaterThatIsLeft) {
  const auto with_finished = [](std::int64_t finished) {
    return label(
        one_batch({{food("sugar"), grams(900)}, {food("butter", {"milk"}), grams(520)}, {food("cocoa"), grams(80)}, {water(), grams(160)}},
                  grams(finished)));
  };
  const Labelled a = with_finished(1560);
  EXPECT_EQ(a.declared.added_water_mg, 60'000);
  EXPECT_EQ(format_decimal(a.declared.added_water_mg / a.made.finished_mg * 100, 2), "3.85");
  EXPECT_TRUE(a.declared.water_left_out);
  EXPECT_EQ(marked(a.declared), "sugar, butter (*MILK*), cocoa");

  const Labelled b = with_finished(1600);
  EXPECT_EQ(b.declared.added_water_mg, 100'000);
  EXPECT_EQ(format_decimal(entry(b.declared, "water").of_finished * 100, 2), "6.25");
  EXPECT_FALSE(b.declared.water_left_out);
  EXPECT_EQ(marked(b.declared), "sugar, butter (*MILK*), water, cocoa") << "ranked at 100 g, not at the 160 g used";
}

/// L03, FIC Annex VII A 6.
TEST(LabellingCases, L03LetsSmallAmountsFollowInAnyOrder) {
  const Labelled cake = label(one_batch({{food("sugar"), grams(948)},
                                         {food("glucose syrup"), grams(25)},
                                         {baking_powder(), grams(15)},
                                         {food("vanilla extract"), grams(8)},
                                         {food("salt"), grams(3)},
                                         {food("orange oil"), grams(1)}},
                                        grams(1000)));
  EXPECT_FALSE(entry(cake.declared, "glucose syrup").any_order_at_end);
  for (const char* name : {"baking powder", "vanilla extract", "salt", "orange oil"})
    EXPECT_TRUE(entry(cake.declared, name).any_order_at_end) << name;
  EXPECT_EQ(why_unlawful_order(cake.declared, {"sugar", "glucose syrup", "orange oil", "salt", "vanilla extract", "baking powder"}), "");
  EXPECT_NE(why_unlawful_order(cake.declared, {"sugar", "baking powder", "glucose syrup", "vanilla extract", "salt", "orange oil"}), "");
}

IngredientFacts apricot_jam() {
  IngredientFacts jam = food("apricot jam", {"sulphites"});
  jam.parts = {part("apricots"), part("sugar"), part("glucose syrup"), additive_part("pectins", "E440", "gelling agent", false)};
  jam.fixed_by_law = "jam";
  jam.sulphites_mg_per_kg = 50;
  return jam;
}

/// L06, FIC Annex VII E 2(a), art. 20, 21; composition fixed by Dir 2001/113.
TEST(LabellingCases, L06LetsALittleJamGoWithoutItsParts) {
  const Labelled a = label(one_batch({{food("sugar"), grams(1440)}, {apricot_jam(), grams(60)}}, grams(1500)));
  EXPECT_EQ(entry(a.declared, "apricot jam").of_finished, share_of(4, 100));
  EXPECT_EQ(marked(a.declared), "sugar, apricot jam (apricots, sugar, glucose syrup)") << "pectins without a function in the cake may go";

  const Labelled b = label(one_batch({{food("sugar"), grams(1472)}, {apricot_jam(), grams(28)}}, grams(1500)));
  EXPECT_EQ(format_decimal(entry(b.declared, "apricot jam").of_finished * 100, 2), "1.87");
  EXPECT_EQ(marked(b.declared), "sugar, apricot jam");
  EXPECT_FALSE(holds(b.declared.contains, "sulphites")) << "0.93 mg/kg in the cake";

  IngredientFacts sulphited = apricot_jam();
  sulphited.sulphites_mg_per_kg = 600;  // 28 g of it bring 16.8 mg, 11.2 mg/kg of the cake
  says(sulphited, "milk", Presence::contains);
  const Labelled c = label(one_batch({{food("sugar"), grams(1472)}, {sulphited, grams(28)}}, grams(1500)));
  EXPECT_EQ(marked(c.declared), "sugar, apricot jam (*MILK*, *SULPHITES*)");

  IngredientFacts working = apricot_jam();
  working.parts.back().works_in_cake = true;
  const Labelled d = label(one_batch({{food("sugar"), grams(1472)}, {working, grams(28)}}, grams(1500)));
  EXPECT_EQ(marked(d.declared), "sugar, apricot jam (gelling agent: pectins)");
}

/// L07, FIC Annex VII A 4: fruit, vegetables or mushrooms; nuts are not in the rule.
TEST(LabellingCases, L07GroupsFruitInVaryingProportionsAndNeverNuts) {
  const auto grouped_food = [](const std::string& name, const std::string& group, std::vector<std::string> contains = {}) {
    IngredientFacts made = food(name, contains);
    made.varying_group = group;
    return made;
  };
  const Labelled a = label(one_batch({{food("sugar"), grams(500)},
                                      {food("cream", {"milk"}), grams(250)},
                                      {grouped_food("strawberries", "fruit"), grams(100)},
                                      {grouped_food("raspberries", "fruit"), grams(100)},
                                      {grouped_food("blueberries", "fruit"), grams(100)}},
                                     grams(1050)));
  EXPECT_EQ(marked(declare(a.parts, a.made, a.terms, "ingredient list", {"merged", "", {}, {"fruit"}})),
            "sugar, fruit in varying proportions (blueberries, raspberries, strawberries), cream (*MILK*)")
      << "ranked by the total: before the cream";

  const Labelled b = label(one_batch({{food("sugar"), grams(500)},
                                      {grouped_food("almonds", "nuts", {"nuts:almond"}), grams(100)},
                                      {grouped_food("hazelnuts", "nuts", {"nuts:hazelnut"}), grams(100)},
                                      {grouped_food("pecans", "nuts", {"nuts:pecan"}), grams(100)}},
                                     grams(800)));
  EXPECT_FALSE(why_not_varying(b.parts, b.declared, "nuts", b.terms).empty());
  EXPECT_EQ(marked(declare(b.parts, b.made, b.terms, "ingredient list", {"merged", "", {}, {"nuts"}})),
            "sugar, *ALMONDS*, *HAZELNUTS*, *PECANS*");
}

/// L08, FIC art. 21(1) second sub-paragraph; Commission Notice 2017/C 428/01 s 3.3, 3.5.
TEST(LabellingCases, L08TiesEachIngredientToMilk) {
  const Labelled cake = label(one_batch({{food("butter", {"milk"}), grams(40)},
                                         {food("cream", {"milk"}), grams(30)},
                                         {food("whey powder", {"milk"}), grams(20)},
                                         {food("lactose", {"milk"}), grams(10)}},
                                        grams(100)));
  EXPECT_EQ(marked(cake.declared), "butter (*MILK*), cream (*MILK*), whey powder (*MILK*), lactose (*MILK*)");
  EXPECT_TRUE(cake.declared.allergen_line.empty()) << "a separate line beside a list is an error";
}

/// L12, FIC Annex III 2.2, 2.4.
TEST(LabellingCases, L12WarnsOfPolyolsStrictlyAboveATenth) {
  const auto with_isomalt = [](std::int64_t mass) {
    IngredientFacts isomalt = food("isomalt");
    isomalt.additive = "E953";
    isomalt.additive_class = "sweetener";
    isomalt.polyols = 1;
    isomalt.sweetening = "sweetener";
    IngredientFacts sugar = food("sugar");
    sugar.sweetening = "sugar";
    return label(one_batch({{sugar, grams(700)}, {food("butter", {"milk"}), grams(700 - mass)}, {isomalt, grams(mass)}}, grams(1400)));
  };
  const std::string laxative = "excessive consumption may produce laxative effects";
  const std::string both = "with sugar(s) and sweetener(s)";
  const Labelled a = with_isomalt(160);  // 11.4 %
  EXPECT_EQ(texts_of(a.declared.statements), (std::vector<std::string>{laxative, both}));
  const Labelled b = with_isomalt(140);  // exactly 10.0 %
  EXPECT_EQ(texts_of(b.declared.statements), std::vector<std::string>{both});
  for (const Labelled& cake :
       {a, b}) {  // caution, from memory: Reg 1333/2008 Annex II, Group IV only without added sugar or with less energy
    const std::vector<Finding> found = of_control(check(cake.parts, cake.made, cake.declared, cake.terms), "additives-permitted");
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].subject, "E953");
    EXPECT_EQ(found[0].verdict, Verdict::not_shown);
    EXPECT_EQ(found[0].stop, Stop::needs_person);
  }
}

/// L20, FIC Annex II 12: more than 10 mg/kg as total SO2; no credit for what baking is assumed to drive off.
TEST(LabellingCases, L20SumsSulphitesOverTheFinishedCake) {
  IngredientFacts apricots = food("dried apricots", {"sulphites"});
  apricots.sulphites_mg_per_kg = 1850;
  const Labelled cake = label(one_batch({{food("sugar"), grams(1600)}, {apricots, grams(90)}}, grams(1600)));
  EXPECT_EQ(cake.declared.sulphites_mg_per_kg, share_of(1665, 16)) << "166.5 mg in 1.6 kg";
  EXPECT_EQ(format_decimal(cake.declared.sulphites_mg_per_kg, 1), "104.1");
  EXPECT_EQ(cake.declared.contains, std::vector<std::string>{"sulphites"});
  EXPECT_EQ(marked(cake.declared), "sugar, dried apricots (*SULPHITES*)");
}

/// L21, FIC Annex VII E 1 and the Bread and Flour Regulations 1998 as amended in 2024: the statutory nutrients belong in the sub-list.
TEST(LabellingCases, L21ListsWhatIsAddedToTheFlour) {
  IngredientFacts flour = food("wheat flour", {"gluten:wheat"});
  for (const char* name : {"wheat flour", "calcium carbonate", "iron", "niacin", "thiamin"}) flour.parts.push_back(part(name));
  const Labelled cake = label(one_batch({{food("sugar"), grams(700)}, {flour, grams(300)}}, grams(1000)));
  EXPECT_EQ(marked(cake.declared), "sugar, wheat flour (*WHEAT* flour, calcium carbonate, iron, niacin, thiamin)");

  flour.parts.push_back(part("folic acid"));  // when the sack says so
  const Labelled later = label(one_batch({{food("sugar"), grams(700)}, {flour, grams(300)}}, grams(1000)));
  EXPECT_EQ(marked(later.declared), "sugar, wheat flour (*WHEAT* flour, calcium carbonate, iron, niacin, thiamin, folic acid)");
}

}  // namespace
}  // namespace tierproof
