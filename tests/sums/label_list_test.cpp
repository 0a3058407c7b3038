#include <gtest/gtest.h>

#include "cake_for_tests.h"
#include "tierproof/sums/declaration.h"

// Order, small amounts, names for several, reliefs: what decides which entries a list has and where they stand.

namespace tierproof {
namespace {

using namespace for_tests;
using Names = std::vector<std::string>;

/// A kilogram, of which the foods are so many milligrams; filler makes up the rest.
CakeParts a_kilogram_with(const std::vector<std::pair<IngredientFacts, std::int64_t>>& foods) {
  std::vector<std::pair<IngredientFacts, Mass>> used;
  std::int64_t rest = 1'000'000;
  for (const auto& [facts, mg] : foods) {
    used.emplace_back(facts, Mass::milligrams(mg));
    rest -= mg;
  }
  used.emplace_back(food("filler"), Mass::milligrams(rest));
  return one_batch(used, grams(1000));
}
std::string list_of(const std::vector<std::pair<IngredientFacts, std::int64_t>>& foods, const LabelTerms& terms = label_terms()) {
  return marked(label(a_kilogram_with(foods), terms).declared);
}
IngredientFacts of_kind(std::string kind, const std::string& name, const Names& contains = {}) {
  IngredientFacts made = food(name, contains);
  made.kind = std::move(kind);
  return made;
}
Names rows_of(const ListedIngredient& one) {
  Names rows;
  for (const Cited& cited : one.rules) rows.push_back(cited.row);
  return rows;
}

// ---- order ------------------------------------------------------------------------------------------------------------------

TEST(RankedBy, WhatRemainsOfAVolatileFood) {  // FIC Annex VII A 1
  const auto list = [](const Share& remains) {
    Baking baking;
    const std::size_t rum = baking.pack(food("rum"));
    Use soaked = of_pack(rum, grams(100));
    soaked.remains = remains;
    const std::size_t syrup = baking.batch("syrup", {soaked, of_pack(baking.pack(food("honey")), grams(50))}, grams(100));
    baking.place("only", syrup, grams(100));
    const Labelled cake = label(baking.parts);
    return std::pair{marked(cake.declared), entry(cake.declared, "rum").ingoing_mg};
  };
  EXPECT_EQ(list(1), (std::pair{std::string{"rum, honey"}, Share{100'000}}));
  EXPECT_EQ(list(share_of(51, 100)), (std::pair{std::string{"rum, honey"}, Share{51'000}}));
  EXPECT_EQ(list(share_of(50, 100)).first, "honey, rum") << "equal masses go by name";
  EXPECT_EQ(list(share_of(49, 100)), (std::pair{std::string{"honey, rum"}, Share{49'000}}));
}

TEST(RankedBy, WhatRemainsThroughEveryBatchOnTheWay) {
  Baking baking;
  Use first = of_pack(baking.pack(food("rum")), grams(100));
  first.remains = share_of(1, 2);
  Use second = of_batch(baking.batch("syrup", {first}, grams(60)), grams(60));
  second.remains = share_of(1, 2);
  const std::size_t soaked = baking.batch("soaked", {second, of_pack(baking.pack(food("sponge crumb")), grams(30))}, grams(70));
  baking.place("only", soaked, grams(35));
  const Labelled cake = label(baking.parts);
  EXPECT_EQ(entry(cake.declared, "rum").ingoing_mg, 12'500) << "100 g × 1/2 × 1/2, of half the batch";
  EXPECT_EQ(marked(cake.declared), "sponge crumb, rum");
}

TEST(RankedBy, TheMassBeforeDryingOfWhatWasReconstituted) {  // FIC Annex VII A 2
  const auto cake = [](bool reconstituted) {
    IngredientFacts albumen = food("dried egg white", {"eggs"});
    albumen.dried_times = 8;
    Baking baking;
    Use egg = of_pack(baking.pack(albumen), grams(10));
    egg.reconstituted = reconstituted;
    const std::size_t meringue = baking.batch(
        "meringue", {egg, of_pack(baking.pack(water()), grams(70)), of_pack(baking.pack(food("sugar")), grams(60))}, grams(140));
    baking.place("only", meringue, grams(140));
    return label(baking.parts);
  };
  EXPECT_EQ(marked(cake(false).declared), "water, sugar, dried *EGG* white");
  const Labelled put_back = cake(true);
  EXPECT_EQ(marked(put_back.declared), "dried *EGG* white, sugar") << "10 g stand for 80 g, and 70 g of water went into them";
  EXPECT_EQ(entry(put_back.declared, "dried egg white").ingoing_mg, 80'000);
  EXPECT_EQ(put_back.declared.added_water_mg, 0);
  EXPECT_TRUE(put_back.declared.water_left_out);
}

TEST(RankedBy, NothingMoreForADriedFoodWithoutItsMultiple) {
  Baking baking;
  Use egg = of_pack(baking.pack(food("dried egg white", {"eggs"})), grams(10));
  egg.reconstituted = true;
  const std::size_t mix = baking.batch("mix", {egg, of_pack(baking.pack(food("sugar")), grams(60))}, grams(70));
  baking.place("only", mix, grams(70));
  EXPECT_EQ(marked(label(baking.parts).declared), "sugar, dried *EGG* white");
}

TEST(RankedBy, WhatWasReconstitutedIsSmallOnlyByItsMassBeforeDrying) {
  const auto small = [](std::int64_t mg) {
    IngredientFacts albumen = food("dried egg white", {"eggs"});
    albumen.dried_times = 8;
    Baking baking;
    Use egg = of_pack(baking.pack(albumen), Mass::milligrams(mg));
    egg.reconstituted = true;
    const std::size_t mix = baking.batch("mix", {egg, of_pack(baking.pack(food("sugar")), Mass::milligrams(1'000'000 - mg))}, grams(1000));
    baking.place("only", mix, grams(1000));
    return entry(label(baking.parts).declared, "dried egg white").any_order_at_end;
  };
  EXPECT_TRUE(small(2'499));
  EXPECT_FALSE(small(2'500)) << "20 g before drying are exactly 2 %";
}

TEST(AddedWater, RanksByWhatWasPutInWhereTheRulesSaySo) {  // FDA Food Labeling Guide, from memory
  LabelTerms terms = label_terms();
  terms.water_ranked_as_used = true;
  terms.water_ignored_up_to = {{"added-water", "by weight", true}, 0};
  const CakeParts parts = one_batch({{food("sugar"), grams(100)}, {water(), grams(50)}, {food("cocoa"), grams(20)}}, grams(125));
  EXPECT_EQ(marked(label(parts).declared), "sugar, cocoa") << "5 g of 125 g remain: 4 %";
  EXPECT_EQ(marked(label(parts, terms).declared), "sugar, water, cocoa");
  EXPECT_EQ(entry(label(parts, terms).declared, "water").ingoing_mg, 50'000);
}

TEST(AddedWater, IsWhatIsLeftBesideWhatRemainsOfVolatileFoods) {
  Baking baking;
  Use rum = of_pack(baking.pack(food("rum")), grams(100));
  rum.remains = share_of(1, 2);
  const std::size_t mix =
      baking.batch("mix", {of_pack(baking.pack(food("sugar")), grams(100)), rum, of_pack(baking.pack(water()), grams(50))}, grams(200));
  baking.place("only", mix, grams(200));
  EXPECT_EQ(label(baking.parts).declared.added_water_mg, 50'000) << "200 g less 100 g of sugar and 50 g of rum";
}

// ---- what prints alike ------------------------------------------------------------------------------------------------------

TEST(PrintedAlike, StandsAsOneEntryThoughSpecificationsDiffer) {
  const CakeParts parts =
      one_batch({{of_kind("sugar", "sugar"), grams(40)}, {food("cocoa"), grams(50)}, {food("sugar"), grams(30)}}, grams(120));
  const Labelled cake = label(parts);
  EXPECT_EQ(marked(cake.declared), "sugar, cocoa") << "70 g, though one of the two does not say that it is a sugar";
  EXPECT_EQ(entry(cake.declared, "sugar").ingoing_mg, 70'000);
  EXPECT_EQ(entry(cake.declared, "sugar").of_finished, share_of(7, 12));
  EXPECT_EQ(entry(cake.declared, "sugar").lots, (std::vector<std::size_t>{0, 2}));
}

TEST(PrintedAlike, KeepsTheAllergensOfBoth) {
  LabelTerms terms = label_terms();
  terms.emphasis = "none";
  terms.form.in_list = "first";
  terms.form.summary = "allowed";
  const CakeParts parts = one_batch({{of_kind("flour", "rusk", {"gluten:wheat"}), grams(40)},
                                     {food("butter", {"milk"}), grams(50)},
                                     {food("rusk", {"gluten:wheat"}), grams(30)}},
                                    grams(120));
  EXPECT_EQ(marked(label(parts, terms).declared), "rusk (wheat), butter (milk)");
  IngredientFacts jam = food("jam", {"sulphites"});
  jam.fixed_by_law = "jam";
  EXPECT_EQ(marked(label(one_batch({{jam, grams(40)}, {food("jam"), grams(30)}}, grams(70))).declared), "jam (*SULPHITES*), jam")
      << "what does not print alike stays apart";
}

TEST(PrintedAlike, CountsToAKindOnlyWhenAllOfItIs) {
  LabelTerms terms = label_terms();
  terms.collectives = {{fic("spices", "Annex VII B", true), "spice", "spices", "left out", share_of(2, 100)}};
  EXPECT_EQ(list_of({{of_kind("spice", "cinnamon"), 9'000}, {food("cinnamon"), 15'000}, {of_kind("spice", "mace"), 1'000}}, terms),
            "filler, cinnamon, mace")
      << "24 g of cinnamon are above the limit, though a pack of it does not say that it is a spice";
}

TEST(PrintedAlike, DoesNotDependOnTheOrderOfMarksOfAPack) {
  IngredientFacts one = food("dust");
  one.marks = {"nano", "irradiated"};
  IngredientFacts other = food("dust");
  other.marks = {"irradiated", "nano"};
  EXPECT_EQ(list_of({{one, 100'000}, {other, 100'000}}), "filler, dust");
}

// ---- small amounts ------------------------------------------------------------------------------------------------------------

LabelTerms two_percent_or_less() {  // 21 CFR 101.4(a)(2)
  LabelTerms terms = label_terms();
  terms.any_order_below = {{"small", "21 CFR 101.4(a)(2)", false}, share_of(2, 100), true, "Contains 2 percent or less of {names}", {}};
  return terms;
}

TEST(SmallAmounts, HoldTheLimitItselfWhereTheRulesSayOrLess) {
  const auto small = [](std::int64_t mg) {
    return entry(label(a_kilogram_with({{food("cocoa"), mg}}), two_percent_or_less()).declared, "cocoa").any_order_at_end;
  };
  EXPECT_TRUE(small(19'999));
  EXPECT_TRUE(small(20'000));
  EXPECT_FALSE(small(20'001));
}

TEST(SmallAmounts, StandBehindTheWordsOfTheRulesOnce) {
  EXPECT_EQ(list_of({{food("salt"), 3'000}, {food("cocoa"), 20'000}, {food("honey"), 20'001}}, two_percent_or_less()),
            "filler, honey, Contains 2 percent or less of cocoa, salt");
  LabelTerms terms = two_percent_or_less();
  terms.any_order_below.wording = "2 % or less: {names}.";
  EXPECT_EQ(list_of({{food("salt"), 3'000}, {food("cocoa"), 20'000}}, terms), "filler, 2 % or less: cocoa, salt.");
  EXPECT_EQ(list_of({{food("salt"), 3'000}}, terms), "filler, 2 % or less: salt.");
  EXPECT_EQ(list_of({{food("honey"), 500'000}}, terms), "filler, honey") << "no words without anything small";
}

TEST(SmallAmounts, OfSomeKindsComeLastWhateverTheirShare) {  // FDR B.01.008.2(4)
  LabelTerms terms = label_terms();
  terms.any_order_below = {{"small", "B.01.008.2(4)", false}, 0, false, "", {"spice", "additive"}};
  IngredientFacts gum = food("guar gum");
  gum.additive = "E412";
  gum.additive_class = "thickener";
  EXPECT_EQ(list_of({{of_kind("spice", "cinnamon"), 300'000}, {gum, 200'000}, {of_kind("salt", "salt"), 1'000}}, terms),
            "filler, salt, cinnamon, thickener: guar gum");
}

TEST(SmallAmounts, OfAKindNeverStandBehindWordsThatNameAShareTheyPass) {
  LabelTerms terms = two_percent_or_less();
  terms.any_order_below.kinds = {"spice"};
  EXPECT_EQ(list_of({{of_kind("spice", "cinnamon"), 300'000}, {food("salt"), 1'000}}, terms),
            "filler, cinnamon, Contains 2 percent or less of salt");
}

// ---- names for several ----------------------------------------------------------------------------------------------------------

LabelTerms with_collectives() {  // FIC Annex VII A 8 and B, FDR B.01.008.3(1)
  LabelTerms terms = label_terms();
  terms.collectives = {{fic("oils", "Annex VII A 8", true), "vegetable oil", "vegetable oils", "listed", std::nullopt},
                       {fic("spices", "Annex VII B", true), "spice", "spices", "left out", share_of(2, 100)},
                       {{"sugars", "B.01.008.3(1)", false}, "sugar", "Sugars", "listed", std::nullopt}};
  return terms;
}

TEST(Collectives, ListWhatStandsUnderOneNameRankedByTheTotal) {
  const auto list = list_of({{of_kind("sugar", "sugar"), 200'000}, {food("flour"), 250'000}, {of_kind("sugar", "molasses"), 100'000}},
                            with_collectives());
  EXPECT_EQ(list, "filler, Sugars (sugar, molasses), flour");
  EXPECT_EQ(list_of({{of_kind("vegetable oil", "sunflower oil"), 60'000}, {of_kind("vegetable oil", "rapeseed oil"), 80'000}},
                    with_collectives()),
            "filler, vegetable oils (rapeseed oil, sunflower oil)");
}

TEST(Collectives, NeedTwo) { EXPECT_EQ(list_of({{of_kind("sugar", "molasses"), 100'000}}, with_collectives()), "filler, molasses"); }

TEST(Collectives, KeepAnAllergenReadable) {
  EXPECT_EQ(list_of({{of_kind("vegetable oil", "sunflower oil"), 60'000}, {of_kind("vegetable oil", "nut oil", {"nuts:walnut"}), 50'000}},
                    with_collectives()),
            "filler, vegetable oils (sunflower oil, nut oil (*WALNUTS*))");
  EXPECT_EQ(list_of({{of_kind("spice", "cinnamon"), 3'000},
                     {of_kind("spice", "cloves"), 2'000},
                     {of_kind("spice", "celery salt", {"celery"}), 1'000}},
                    with_collectives()),
            "filler, spices, *CELERY* salt")
      << "apart, since the members of spices are not listed";
}

TEST(Collectives, KeepAMarkReadable) {  // FIC Annex VI A 3
  LabelTerms terms = with_collectives();
  terms.mark_wordings = {{fic("irradiated", "Annex VI A 3"), "irradiated", "irradiated", "ingredient"}};
  IngredientFacts treated = of_kind("spice", "mace");
  treated.marks = {"irradiated"};
  const auto spices = [&](const LabelTerms& by) {
    return list_of({{of_kind("spice", "cinnamon"), 3'000}, {of_kind("spice", "cloves"), 2'000}, {treated, 1'000}}, by);
  };
  EXPECT_EQ(spices(terms), "filler, spices, mace (irradiated)");
  EXPECT_EQ(spices(with_collectives()), "filler, spices") << "no word of the law stands behind it";
}

TEST(Collectives, EndAtTheirLimitOverAllOfTheKind) {  // Annex VII B: not exceeding 2 %
  const auto list = [](std::int64_t cinnamon, const IngredientFacts& other) {
    return list_of({{of_kind("spice", "cinnamon"), cinnamon}, {of_kind("spice", "cloves"), 5'000}, {other, 5'000}}, with_collectives());
  };
  EXPECT_EQ(list(9'999, of_kind("spice", "mace")), "filler, spices");
  EXPECT_EQ(list(10'000, of_kind("spice", "mace")), "filler, spices");
  EXPECT_EQ(list(10'001, of_kind("spice", "mace")), "filler, cinnamon, cloves, mace");
  EXPECT_EQ(list(10'001, of_kind("spice", "celery seed", {"celery"})), "filler, cinnamon, *CELERY* seed, cloves")
      << "one that stands apart counts to the limit";
}

TEST(Collectives, KnowASugarByItsSweetening) {
  IngredientFacts syrup = food("invert syrup");
  syrup.sweetening = "sugar";
  EXPECT_EQ(list_of({{of_kind("sugar", "sugar"), 100'000}, {syrup, 50'000}}, with_collectives()), "filler, Sugars (sugar, invert syrup)");
}

TEST(Collectives, AreSmallOnlyByTheirTotal) {
  const auto small = [](std::int64_t mg) {
    const Labelled cake =
        label(a_kilogram_with({{of_kind("sugar", "sugar"), 10'000}, {of_kind("sugar", "molasses"), mg}}), with_collectives());
    return entry(cake.declared, "Sugars").any_order_at_end;
  };
  EXPECT_TRUE(small(9'999));
  EXPECT_FALSE(small(10'000)) << "2 % together";
}

LabelTerms with_and_or() {  // FIC Annex VII A 7
  LabelTerms terms = label_terms();
  terms.and_or = AndOrTerm{fic("and-or", "Annex VII A 7", true), share_of(2, 100), "contains {names}", "and/or"};
  return terms;
}
IngredientFacts instead_of_each_other(const std::string& name, const Names& contains = {}) {
  IngredientFacts made = food(name, contains);
  made.substitutes = "oil";
  return made;
}

TEST(AndOr, IsForTwoAndNoMore) {  // FIC Annex VII A 7: no more than two ingredients (from memory)
  EXPECT_EQ(list_of({{instead_of_each_other("palm oil"), 3'000},
                     {instead_of_each_other("rapeseed oil"), 2'000},
                     {instead_of_each_other("sunflower oil"), 1'000}},
                    with_and_or()),
            "filler, palm oil, rapeseed oil, sunflower oil");
}

TEST(AndOr, IsSmallOnlyByItsTotal) {
  const auto small = [](std::int64_t mg) {
    const Labelled cake =
        label(a_kilogram_with({{instead_of_each_other("palm oil"), 10'000}, {instead_of_each_other("shea oil"), mg}}), with_and_or());
    return entry(cake.declared, "palm oil and/or shea oil").any_order_at_end;
  };
  EXPECT_TRUE(small(9'999));
  EXPECT_FALSE(small(10'000)) << "2 % together";
}

TEST(AndOr, JoinsWhatStandsInForEachOther) {
  const auto list = [](std::int64_t mg, const IngredientFacts& other) {
    return list_of({{instead_of_each_other("sunflower oil"), mg}, {other, 5'000}}, with_and_or());
  };
  EXPECT_EQ(list(19'999, instead_of_each_other("rapeseed oil")), "filler, contains sunflower oil and/or rapeseed oil");
  EXPECT_EQ(list(20'000, instead_of_each_other("rapeseed oil")), "filler, sunflower oil, rapeseed oil") << "less than 2 %";
  EXPECT_EQ(list(10'000, instead_of_each_other("nut oil", {"nuts:walnut"})), "filler, sunflower oil, nut oil (*WALNUTS*)")
      << "never an allergen";
  IngredientFacts additive = instead_of_each_other("lecithins");
  additive.additive = "E322";
  additive.additive_class = "emulsifier";
  EXPECT_EQ(list(10'000, additive), "filler, sunflower oil, emulsifier: lecithins") << "never an additive";
  EXPECT_EQ(list(10'000, food("rapeseed oil")), "filler, sunflower oil, rapeseed oil") << "only what the maker says";
}

// ---- reliefs --------------------------------------------------------------------------------------------------------------------

IngredientFacts compound(const std::string& name, std::string kind = "") {
  IngredientFacts made = of_kind(std::move(kind), name, {"milk"});
  made.parts = {part("base"), part("milk powder"), additive_part("E471", "E471", "emulsifier"),
                additive_part("E330", "E330", "acid", false)};
  return made;
}
const std::string in_full = " (base, *MILK* powder, emulsifier: E471)";
const std::string in_short = " (*MILK* powder, emulsifier: E471)";

TEST(Reliefs, OfEveryCompoundEndBelowTheirShare) {  // FSANZ Std 1.2.4-5(6), from memory
  LabelTerms terms = label_terms();
  terms.reliefs = {{{"relief", "1.2.4-5(6)", true}, share_of(5, 100), {"any"}}};
  EXPECT_EQ(list_of({{compound("icing"), 49'999}}, terms), "filler, icing" + in_short);
  EXPECT_EQ(list_of({{compound("icing"), 50'000}}, terms), "filler, icing" + in_full);
  EXPECT_EQ(list_of({{compound("icing"), 50'001}}, terms), "filler, icing" + in_full);
}

TEST(Reliefs, GoByKindAtAnyAmount) {  // FDR B.01.009(1)
  LabelTerms terms = label_terms();
  terms.reliefs = {{{"relief", "B.01.009(1)", false}, std::nullopt, {"leavening", "margarine"}}};
  EXPECT_EQ(list_of({{compound("baking powder", "leavening"), 400'000}}, terms), "filler, baking powder" + in_short);
  EXPECT_EQ(list_of({{compound("icing"), 400'000}}, terms), "filler, icing" + in_full);
  IngredientFacts margarine = compound("soft margarine");
  margarine.fixed_by_law = "Margarine";
  EXPECT_EQ(list_of({{margarine, 400'000}}, terms), "filler, soft margarine" + in_short);
}

TEST(Reliefs, TakeTheFirstThatHolds) {  // FDR B.01.009(1): cheese under 10 %
  LabelTerms terms = label_terms();
  terms.reliefs = {{{"cheese", "B.01.009(1)", false}, share_of(10, 100), {"cheese"}},
                   {{"butter", "B.01.009(1)", false}, std::nullopt, {"butter"}}};
  IngredientFacts cheese = compound("soft cheese");
  cheese.fixed_by_law = "cheese";
  EXPECT_EQ(list_of({{cheese, 99'999}}, terms), "filler, soft cheese" + in_short);
  EXPECT_EQ(list_of({{cheese, 100'000}}, terms), "filler, soft cheese" + in_full);
  const Labelled cake = label(a_kilogram_with({{cheese, 99'999}}), terms);
  EXPECT_TRUE(holds(rows_of(entry(cake.declared, "soft cheese")), "cheese"));
}

TEST(Reliefs, KeepAPartThatIsAnAdditiveByItsNameAlone) {
  IngredientFacts jam = food("jam");
  jam.fixed_by_law = "jam";
  jam.parts = {part("apricots"), part("e 440"), part("pectins"), part("sugar")};
  EXPECT_EQ(list_of({{jam, 10'000}}), "filler, jam (e 440, pectins)");
  jam.parts[1].works_in_cake = false;
  EXPECT_EQ(list_of({{jam, 10'000}}), "filler, jam (pectins)") << "somebody decided that it has no function";
  EXPECT_EQ(list_of({{jam, 20'000}}), "filler, jam (apricots, e 440, pectins, sugar)") << "no relief";
}

TEST(Reliefs, KeepAMarkedPart) {  // Dir 1999/2/EC art. 6(1), from memory: irradiated parts of a compound too
  LabelTerms terms = label_terms();
  terms.mark_wordings = {{fic("irradiated", "Annex VI A 3"), "irradiated", "irradiated", "ingredient"}};
  IngredientFacts jam = food("jam");
  jam.fixed_by_law = "jam";
  jam.parts = {part("apricots"), part("sugar")};
  jam.parts[0].marks = {"irradiated"};
  EXPECT_EQ(list_of({{jam, 10'000}}, terms), "filler, jam (apricots (irradiated))");
  EXPECT_EQ(list_of({{jam, 10'000}}), "filler, jam");
}

TEST(Reliefs, NeverHideSulphites) {  // FIC Annex II 12, Annex VII E 2
  const auto list = [](std::int64_t mg_per_kg) {
    IngredientFacts jam = food("jam", {"sulphites"});
    jam.fixed_by_law = "jam";
    jam.sulphites_mg_per_kg = mg_per_kg;
    jam.parts = {part("apricots"), part("sugar"), additive_part("E220", "E220", "preservative", false)};
    return list_of({{jam, 10'000}});
  };
  EXPECT_EQ(list(1'001), "filler, jam (*SULPHITES*)") << "10.01 mg/kg in the cake";
  EXPECT_EQ(list(1'000), "filler, jam") << "10 mg/kg";
}

TEST(ProcessingAids, StayOutUnlessTheyShowAnAllergen) {  // FIC art. 20(b), 9(1)(c)
  IngredientFacts juice = food("apple juice", {"fish"});
  juice.parts = {part("apples"), part("silica"), part("fish gelatine")};
  juice.parts[1].processing_aid = juice.parts[2].processing_aid = true;
  EXPECT_EQ(list_of({{juice, 300'000}}), "filler, apple juice (apples, *FISH* gelatine)");
}

// ---- starch ---------------------------------------------------------------------------------------------------------------------

TEST(Starch, NamesItsPlantWhereItMayBringGluten) {  // FIC Annex VII B 4, from memory
  LabelTerms terms = label_terms();
  terms.form.in_list = "none";
  terms.form.summary = "allowed";
  EXPECT_EQ(list_of({{of_kind("modified starch", "modified starch", {"gluten:wheat"}), 300'000}}, terms),
            "filler, modified starch (*WHEAT*)");
  EXPECT_EQ(list_of({{of_kind("starch", "wheat starch", {"gluten:wheat"}), 300'000}}, terms), "filler, *WHEAT* starch");
  EXPECT_EQ(list_of({{of_kind("starch", "starch"), 300'000}}, terms), "filler, starch");
  EXPECT_EQ(list_of({{food("flour", {"gluten:wheat"}), 300'000}}, terms), "filler, flour") << "another food goes by the form";
}

// ---- rows ---------------------------------------------------------------------------------------------------------------------------

TEST(ListedIngredient, CitesTheRowsThatMadeIt) {
  LabelTerms terms = with_collectives();
  terms.form.cited = fic("form", "art. 21(1)");
  terms.additive_form.cited = fic("additive-form", "Annex VII C");
  IngredientFacts jam = food("jam", {"nuts:almond"});
  jam.parts = {part("apricots"), additive_part("pectins", "E440", "gelling agent")};
  jam.fixed_by_law = "jam";
  const Labelled cake = label(
      a_kilogram_with({{jam, 10'000}, {of_kind("spice", "mace"), 1'000}, {of_kind("spice", "cloves"), 500}, {water(), 100'000}}), terms);
  EXPECT_EQ(rows_of(entry(cake.declared, "jam")),
            (Names{"any-order", "nuts:almond", "compound-relief", "form", "emphasis", "additive-E440", "additive-form"}));
  EXPECT_EQ(rows_of(entry(cake.declared, "spices")), (Names{"any-order", "spices"}));
  EXPECT_EQ(rows_of(entry(cake.declared, "water")), Names{"added-water"});
  EXPECT_TRUE(rows_of(entry(cake.declared, "filler")).empty());
}

}  // namespace
}  // namespace tierproof
