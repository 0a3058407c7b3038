#include "tierproof/sums/declaration.h"

#include <gtest/gtest.h>

#include "cake_for_tests.h"
#include "lawful_order.h"

namespace tierproof {
namespace {

using namespace for_tests;

/// How one food is printed in a cake of 1 kg of which it is `mass` grams; sugar makes up the rest.
std::string printed(const IngredientFacts& facts, std::int64_t mass = 300, const LabelTerms& terms = label_terms()) {
  const Labelled cake = label(one_batch({{food("plain filler"), grams(1000 - mass)}, {facts, grams(mass)}}, grams(1000)), terms);
  return marked(entry(cake.declared, facts.label_name).runs);
}

// ---- order ------------------------------------------------------------------------------------------------------------------

TEST(Declaration, MergesAnIngredientOverPacksAndBatches) {
  Baking baking;
  const IngredientFacts sugar = food("sugar");
  const std::size_t first = baking.pack(sugar, "S1");
  const std::size_t second = baking.pack(sugar, "S2");
  const std::size_t butter = baking.pack(food("butter", {"milk"}));
  const std::size_t sponge = baking.batch("sponge", {of_pack(first, grams(60)), of_pack(butter, grams(80))}, grams(140));
  const std::size_t icing = baking.batch("icing", {of_pack(second, grams(50))}, grams(50));
  baking.place("bottom", sponge, grams(140));
  baking.place("bottom", icing, grams(50));
  const Labelled cake = label(baking.parts);
  EXPECT_EQ(marked(cake.declared), "sugar, butter (*MILK*)") << "110 g of sugar, in two packs of less than the butter";
  EXPECT_EQ(cake.declared.ingredients[0].ingoing_mg, 110'000);
  EXPECT_EQ(cake.declared.ingredients[0].of_finished, share_of(11, 19));
  EXPECT_EQ(cake.declared.ingredients[0].lots, (std::vector<std::size_t>{first, second}));
}

TEST(Declaration, KeepsPacksOfOneNameApartWhenTheirSubListsDiffer) {
  IngredientFacts one = food("sugar paste");
  one.parts = {part("sugar"), part("palm fat")};
  IngredientFacts other = food("sugar paste");
  other.parts = {part("sugar"), part("rapeseed oil")};
  const Labelled cake = label(one_batch({{one, grams(60)}, {other, grams(40)}}, grams(100)));
  EXPECT_EQ(marked(cake.declared), "sugar paste (sugar, palm fat), sugar paste (sugar, rapeseed oil)");
}

TEST(Declaration, UnitesTheAllergensOfPacksThatPrintAlike) {
  const Labelled cake = label(one_batch({{food("margarine"), grams(60)}, {food("margarine", {"milk"}), grams(40)}}, grams(100)));
  EXPECT_EQ(marked(cake.declared), "margarine (*MILK*)");
}

TEST(Declaration, BreaksATieByName) {
  const Labelled cake = label(one_batch({{food("pears"), grams(10)}, {food("apples"), grams(10)}}, grams(20)));
  EXPECT_EQ(marked(cake.declared), "apples, pears");
  EXPECT_EQ(why_unlawful_order(cake.declared, {"pears", "apples"}), "") << "equal masses may stand either way";
}

TEST(Declaration, CountsExactlyTwoPercentAsRanked) {  // FIC Annex VII A 6: less than 2 %
  const auto at = [](std::int64_t mg) {
    const Labelled cake =
        label(one_batch({{food("sugar"), Mass::milligrams(1'000'000 - mg)}, {food("cocoa"), Mass::milligrams(mg)}}, grams(1000)));
    return entry(cake.declared, "cocoa").any_order_at_end;
  };
  EXPECT_FALSE(at(20'001));
  EXPECT_FALSE(at(20'000));
  EXPECT_TRUE(at(19'999));
}

TEST(Declaration, TakesTheSmallShareOfTheFinishedCake) {
  // 21 g of 1100 g put in is under 2 %, of 1000 g finished it is not
  const Labelled cake = label(one_batch({{food("sugar"), grams(1079)}, {food("cocoa"), grams(21)}}, grams(1000)));
  EXPECT_FALSE(entry(cake.declared, "cocoa").any_order_at_end);
}

TEST(Declaration, TakesTheSmallShareOverAllEntriesOfOneName) {
  IngredientFacts one = food("sprinkles");
  one.parts = {part("sugar")};
  IngredientFacts other = food("sprinkles");
  other.parts = {part("starch")};
  const Labelled cake = label(one_batch({{food("sugar"), grams(970)}, {one, grams(15)}, {other, grams(15)}}, grams(1000)));
  EXPECT_FALSE(cake.declared.ingredients[1].any_order_at_end);
  EXPECT_FALSE(cake.declared.ingredients[2].any_order_at_end);
}

TEST(UnlawfulOrder, NamesWhatIsMissingDoubledOrStrange) {
  const Labelled cake = label(one_batch({{food("sugar"), grams(60)}, {food("butter", {"milk"}), grams(40)}}, grams(100)));
  EXPECT_EQ(why_unlawful_order(cake.declared, {"sugar"}), "butter is missing");
  EXPECT_EQ(why_unlawful_order(cake.declared, {"sugar", "sugar", "butter"}), "sugar stands twice");
  EXPECT_EQ(why_unlawful_order(cake.declared, {"sugar", "butter", "salt"}), "salt is not in the list");
  EXPECT_EQ(why_unlawful_order(cake.declared, {"butter", "sugar"}), "sugar (60.000 g) must stand before butter (40.000 g)");
}

// ---- water ------------------------------------------------------------------------------------------------------------------

TEST(AddedWater, MayBeLeftOutAtExactlyFivePercent) {  // FIC Annex VII A 1: does not exceed 5 %
  const auto left_out = [](std::int64_t water_mg) {
    return label(one_batch({{food("sugar"), Mass::milligrams(1'000'000 - water_mg)}, {water(), grams(100)}}, grams(1000)))
        .declared.water_left_out;
  };
  EXPECT_TRUE(left_out(49'999));
  EXPECT_TRUE(left_out(50'000));
  EXPECT_FALSE(left_out(50'001));
}

TEST(AddedWater, IsNeverNegative) {
  const Labelled cake = label(one_batch({{food("egg", {"eggs"}), grams(1000)}, {water(), grams(100)}}, grams(900)));
  EXPECT_EQ(cake.declared.added_water_mg, 0);
  EXPECT_TRUE(cake.declared.water_left_out);
}

TEST(AddedWater, IsTakenOverTheWholeCake) {
  Baking baking;
  const std::size_t tap = baking.pack(water());
  const std::size_t flour = baking.pack(food("flour", {"gluten:wheat"}));
  const std::size_t sponge =
      baking.batch("sponge", {of_pack(flour, grams(900)), of_pack(tap, grams(100))}, grams(850));  // lost more than its water
  const std::size_t syrup = baking.batch("syrup", {of_pack(baking.pack(food("sugar")), grams(100)), of_pack(tap, grams(100))}, grams(200));
  baking.place("only", sponge, grams(850));
  baking.place("only", syrup, grams(200));
  const Labelled cake = label(baking.parts);
  EXPECT_EQ(cake.declared.added_water_mg, 50'000) << "1050 g finished less 1000 g of others, though the syrup alone holds 100 g";
  EXPECT_TRUE(cake.declared.water_left_out) << "4.76 %";
}

TEST(AddedWater, IsNotSaidToBeLeftOutWhenThereWasNone) {
  EXPECT_FALSE(label(one_batch({{food("sugar"), grams(100)}}, grams(100))).declared.water_left_out);
}

TEST(AddedWater, IsNoFoodThatBringsAnAllergen) {
  IngredientFacts whey = food("whey", {"milk"});
  whey.added_water = true;
  const Labelled cake = label(one_batch({{food("sugar"), grams(1000)}, {whey, grams(20)}}, grams(1000)));
  EXPECT_EQ(marked(cake.declared), "sugar, whey (*MILK*)");
}

TEST(AddedWater, StandsAsOneEntry) {
  IngredientFacts ice = water();
  ice.label_name = "ice";
  const Labelled cake = label(one_batch({{food("sugar"), grams(700)}, {water(), grams(200)}, {ice, grams(100)}}, grams(1000)));
  EXPECT_EQ(marked(cake.declared), "sugar, water");
  EXPECT_EQ(entry(cake.declared, "water").ingoing_mg, 300'000);
  EXPECT_EQ(entry(cake.declared, "water").lots.size(), 2U);
}

// ---- emphasis ---------------------------------------------------------------------------------------------------------------

TEST(Emphasis, MarksTheAllergensWordAndNothingElse) {
  EXPECT_EQ(printed(food("wheat flour", {"gluten:wheat"})), "*WHEAT* flour");
  EXPECT_EQ(printed(food("Almond and almonds", {"nuts:almond"})), "*ALMOND* and *ALMONDS*");
  EXPECT_EQ(printed(food("chopped brazil nuts", {"nuts:brazil"})), "chopped *BRAZIL NUTS*");
  EXPECT_EQ(printed(food("milk-chocolate", {"milk"})), "*MILK*-chocolate");
}

TEST(Emphasis, NeedsAWholeWord) {
  EXPECT_EQ(printed(food("buckwheat mix", {"gluten:wheat"})), "buckwheat mix (*WHEAT*)");
  EXPECT_EQ(printed(food("fishcake crumbs", {"fish"})), "fishcake crumbs (*FISH*)");
  EXPECT_EQ(printed(food("éeggs", {"eggs"})), "éeggs (*EGG*)");
}

TEST(Emphasis, LeavesAWordOfAnAllergenThatIsNotInIt) { EXPECT_EQ(printed(food("coconut milk")), "coconut milk"); }

TEST(Emphasis, AddsWordsInTheLawsOrder) {
  EXPECT_EQ(printed(food("ready filling", {"nuts:hazelnut", "milk", "soybeans"})), "ready filling (*SOYA*, *MILK*, *HAZELNUTS*)");
}

TEST(Emphasis, KeepsSmallLettersWhenTheRulesAskForBoldOnly) {
  LabelTerms terms = label_terms();
  terms.emphasis = "bold";
  EXPECT_EQ(printed(food("Wheat flour", {"gluten:wheat"}), 300, terms), "*Wheat* flour");
  EXPECT_EQ(printed(food("butter", {"milk"}), 300, terms), "butter (*milk*)");
}

TEST(Emphasis, CapitalisesLettersWithAccents) {
  LabelTerms terms = label_terms();
  for (AllergenTerm& term : terms.allergens) {
    if (term.key == "celery") term.word = "céleri";
  }
  EXPECT_EQ(printed(food("stock", {"celery"}), 300, terms), "stock (*CÉLERI*)");
}

TEST(SubList, TiesTheAllergenToThePartThatShowsIt) {
  IngredientFacts biscuit = food("wheat biscuit", {"gluten:wheat", "milk"});
  biscuit.parts = {part("wheat flour"), part("sugar"), part("skimmed milk powder")};
  EXPECT_EQ(printed(biscuit), "wheat biscuit (*WHEAT* flour, sugar, skimmed *MILK* powder)");
}

TEST(SubList, TiesTheAllergenToTheWholeWhenNoPartShowsIt) {
  IngredientFacts shortbread = food("shortbread", {"gluten:wheat", "milk"});
  shortbread.parts = {part("wheat flour"), part("butter"), part("sugar")};
  EXPECT_EQ(printed(shortbread), "shortbread (*WHEAT* flour, butter, sugar) (*MILK*)");
}

TEST(SubList, TiesTheAllergenToThePartThatThePackNames) {
  IngredientFacts shortbread = food("shortbread", {"gluten:wheat"});
  shortbread.parts = {part("wheat flour"), part("butter"), part("milk powder")};
  shortbread.parts[1].allergens = {"milk"};
  EXPECT_EQ(printed(shortbread), "shortbread (*WHEAT* flour, butter (*MILK*), *MILK* powder)");
}

TEST(SubList, NestsPartsOfParts) {
  IngredientFacts cookie = food("cookie pieces", {"gluten:wheat", "milk"});
  DeclaredPart drops = part("chocolate drops");
  drops.parts = {part("sugar"), part("milk powder")};
  cookie.parts = {part("wheat flour"), drops};
  EXPECT_EQ(printed(cookie), "cookie pieces (*WHEAT* flour, chocolate drops (sugar, *MILK* powder))");
}

// ---- additives --------------------------------------------------------------------------------------------------------------

TEST(Additives, ShareATitleOnlyWithNeighboursOfTheirClass) {
  IngredientFacts paste = food("sugar paste");
  paste.parts = {part("sugar"),
                 additive_part("glycerol", "E422", "humectant"),
                 additive_part("", "E471", "emulsifier"),
                 additive_part("lecithins", "E322", "Emulsifier"),
                 part("starch"),
                 additive_part("E471", "E471", "emulsifier")};
  EXPECT_EQ(printed(paste), "sugar paste (sugar, humectant: glycerol; emulsifiers: E471, lecithins; starch, emulsifier: E471)");
}

TEST(Additives, OfOneClassStandUnderItsPluralInTheLanguageOfThePack) {
  IngredientFacts sweets = food("sweets");
  sweets.parts = {additive_part("E471", "E471", "Emulgator"), additive_part("E322", "E322", "Emulgator")};
  EXPECT_EQ(printed(sweets), "sweets (Emulgatoren: E471, E322)");
  sweets.parts.pop_back();
  EXPECT_EQ(printed(sweets), "sweets (Emulgator: E471)") << "as the rules write it";
  for (DeclaredPart& part : sweets.parts) part.additive_class = "agent";
  sweets.parts.push_back(additive_part("E322", "E322", "agent"));
  EXPECT_EQ(printed(sweets), "sweets (agent: E471, E322)") << "of a title that no rule knows nobody guesses the plural";
}

TEST(Additives, PrintTheirClassWhenTheyAreAnIngredientThemselves) {
  IngredientFacts gel = food("pectins");
  gel.additive = "E440";
  gel.additive_class = "gelling agent";
  EXPECT_EQ(printed(gel, 30), "gelling agent: pectins");
}

TEST(Additives, TakeTheUsualClassWhenThePackGivesNone) {
  IngredientFacts drops = food("drops");
  drops.parts = {part("sugar"), additive_part("E322", "e 322", "")};
  EXPECT_EQ(printed(drops), "drops (sugar, emulsifier: E322)");
}

TEST(Additives, GoWhenTheyWereCarriedOverAndDoNothing) {  // FIC art. 20
  IngredientFacts fruit = food("candied fruit", {"soybeans"});
  fruit.parts = {part("cherries"), additive_part("soya lecithins", "E322", "emulsifier", false),
                 additive_part("E471", "E471", "emulsifier", false)};
  EXPECT_EQ(printed(fruit), "candied fruit (cherries, emulsifier: *SOYA* lecithins)") << "never when it brings an allergen";
}

TEST(Additives, LeaveTheAllergenBehindWhenTheyGoWithoutShowingIt) {
  IngredientFacts fruit = food("candied fruit", {"soybeans"});
  fruit.parts = {part("cherries"), additive_part("lecithins", "E322", "emulsifier", false)};
  EXPECT_EQ(printed(fruit), "candied fruit (cherries) (*SOYA*)");
}

TEST(Additives, AreWarnedOfOnceThroughEveryPack) {  // Reg (EC) 1333/2008 art. 24, Annex V
  IngredientFacts sprinkles = food("sprinkles");
  sprinkles.parts = {part("sugar"), additive_part("tartrazine", "E102", "colour"), additive_part("E110", "E 110", "colour", false)};
  IngredientFacts paste = food("sugar paste");
  DeclaredPart coating = part("coating");
  coating.parts = {additive_part("tartrazine", "E102", "colour")};
  paste.parts = {part("sugar"), coating};
  const Labelled cake = label(one_batch({{sprinkles, grams(10)}, {paste, grams(90)}}, grams(100)));
  EXPECT_EQ(sentences(cake.declared),
            std::vector<std::string>{"tartrazine, E110: may have an adverse effect on activity and attention in children."});
}

TEST(Statements, SayWithSweetenersOnlyWithoutSugar) {  // FIC Annex III 2.1, 2.2
  IngredientFacts drops = food("drops");
  drops.parts = {additive_part("isomalt", "E953", "sweetener")};
  const Labelled alone = label(one_batch({{food("egg", {"eggs"}), grams(90)}, {drops, grams(10)}}, grams(100)));
  EXPECT_EQ(sentences(alone.declared), std::vector<std::string>{"with sweetener(s)"});
  IngredientFacts sugar = food("sugar");
  sugar.sweetening = "sugar";
  const Labelled sweet = label(one_batch({{sugar, grams(90)}, {drops, grams(10)}}, grams(100)));
  EXPECT_EQ(sentences(sweet.declared), std::vector<std::string>{"with sugar(s) and sweetener(s)"});
}

TEST(Statements, WarnOfPolyolsStrictlyAboveTheLimit) {  // FIC Annex III 2.4: more than 10 % added polyols
  const auto warned = [](std::int64_t mg) {
    IngredientFacts isomalt = food("isomalt");
    isomalt.polyols = share_of(1, 2);
    return holds(
        sentences(label(one_batch({{food("egg", {"eggs"}), Mass::milligrams(100'000 - mg)}, {isomalt, Mass::milligrams(mg)}}, grams(100)))
                      .declared),
        "excessive consumption may produce laxative effects");
  };
  EXPECT_FALSE(warned(19'999));
  EXPECT_FALSE(warned(20'000));
  EXPECT_TRUE(warned(20'001));
}

// ---- composition fixed by law -------------------------------------------------------------------------------------------------

TEST(FixedByLaw, NeedsItsPartsAtExactlyTwoPercent) {  // FIC Annex VII E 2(a): less than 2 %
  IngredientFacts chocolate = food("plain chocolate", {"soybeans"});
  chocolate.parts = {part("cocoa mass"), part("sugar"), additive_part("soya lecithins", "E322", "emulsifier", false)};
  chocolate.fixed_by_law = "Chocolate";
  EXPECT_EQ(printed(chocolate, 20), "plain chocolate (cocoa mass, sugar, emulsifier: *SOYA* lecithins)");
  EXPECT_EQ(printed(chocolate, 19), "plain chocolate (emulsifier: *SOYA* lecithins)");
}

TEST(FixedByLaw, KeepsAPartThatShowsAnAllergen) {
  IngredientFacts chocolate = food("milk chocolate", {"milk"});
  chocolate.parts = {part("sugar"), part("whole milk powder"), part("cocoa mass")};
  chocolate.fixed_by_law = "chocolate";
  EXPECT_EQ(printed(chocolate, 10), "milk chocolate (whole *MILK* powder)");
}

TEST(FixedByLaw, HelpsOnlyCompositionsThatTheLawKnows) {
  IngredientFacts paste = food("sugar paste");
  paste.parts = {part("sugar"), part("fat")};
  paste.fixed_by_law = "sugar paste";
  EXPECT_EQ(printed(paste, 10), "sugar paste (sugar, fat)");
}

TEST(FixedByLaw, KeepsAnAdditiveThatWorksInAPartOfAPart) {
  IngredientFacts jam = food("jam");
  DeclaredPart gel = part("gel");
  gel.parts = {part("water"), additive_part("pectins", "E440", "gelling agent")};
  jam.parts = {part("apricots"), gel};
  jam.fixed_by_law = "jam";
  EXPECT_EQ(printed(jam, 10), "jam (gelling agent: pectins)");
}

TEST(FixedByLaw, IsTakenOverAllEntriesOfOneName) {
  IngredientFacts one = food("jam");
  one.parts = {part("apricots")};
  one.fixed_by_law = "jam";
  IngredientFacts other = one;
  other.parts = {part("peaches")};
  const Labelled cake = label(one_batch({{food("sugar"), grams(970)}, {one, grams(16)}, {other, grams(14)}}, grams(1000)));
  EXPECT_EQ(marked(cake.declared), "sugar, jam (apricots), jam (peaches)");
}

// ---- allergens of the whole cake ------------------------------------------------------------------------------------------------

TEST(Declaration, SortsAllergensIntoDeclaredUnknownAndMayContain) {
  IngredientFacts one = food("drops", {"milk"});
  says(one, "nuts:almond", Presence::may_contain);
  says(one, "eggs", Presence::may_contain);
  IngredientFacts other = food("pearls", {"eggs"});
  says(other, "milk", Presence::unknown);
  says(other, "nuts:almond", Presence::absent);  // without evidence
  says(other, "sesame", Presence::may_contain);
  const Labelled cake = label(one_batch({{one, grams(50)}, {other, grams(50)}}, grams(100)));
  EXPECT_EQ(cake.declared.contains, (std::vector<std::string>{"eggs", "milk"}));
  EXPECT_EQ(cake.declared.unknown, std::vector<std::string>{"nuts:almond"}) << "unknown is graver than may contain";
  EXPECT_EQ(cake.declared.may_contain, std::vector<std::string>{"sesame"}) << "eggs are declared already";
}

TEST(Declaration, KeepsCrossContactOutOfMayContain) {
  CakeParts parts = one_batch({{food("sugar"), grams(100)}}, grams(100));
  parts.batches[0].cross_contact = {"nuts:almond"};
  EXPECT_TRUE(label(parts).declared.may_contain.empty());
}

TEST(Declaration, TakesAKeyThatWasNotTracedForUnknown) {
  const LabelTerms terms = label_terms();
  const CakeParts parts = one_batch({{food("sugar"), grams(100)}}, grams(100));
  const Declaration declared = declare(parts, *compose(parts, {"milk"}), terms, "ingredient list");
  EXPECT_EQ(declared.unknown.size(), terms.allergens.size() - 1);
  EXPECT_FALSE(holds(declared.unknown, "milk"));
}

TEST(Declaration, PrintsAContainsLineForRoutesWithoutAList) {  // FIC art. 21(1), 44
  const CakeParts parts =
      one_batch({{food("butter", {"milk"}), grams(50)}, {food("wheat flour", {"gluten:wheat"}), grams(50)}}, grams(100));
  const Labelled cake = label(parts, label_terms(), "allergens");
  EXPECT_EQ(marked(cake.declared.allergen_line), "Contains: *WHEAT*, *MILK*");
  EXPECT_TRUE(cake.declared.heading.empty());
  EXPECT_EQ(cake.declared.ingredients.size(), 2U) << "the cake record shows them";
}

TEST(Declaration, PutsTheNamesWhereTheWordingAsksForThem) {
  LabelTerms terms = label_terms();
  for (Wording& wording : terms.wordings) {
    if (wording.key == "contains") wording.text = "In this cake: {names}.";
  }
  EXPECT_EQ(marked(label(one_batch({{food("butter", {"milk"}), grams(50)}}, grams(50)), terms, "allergens").declared.allergen_line),
            "In this cake: *MILK*.");
}

TEST(Declaration, SaysNothingRatherThanFreeFrom) {
  const Labelled cake = label(one_batch({{food("sugar"), grams(100)}}, grams(100)), label_terms(), "allergens");
  EXPECT_TRUE(cake.declared.allergen_line.empty());
  EXPECT_TRUE(cake.declared.statements.empty());
}

// ---- sulphites --------------------------------------------------------------------------------------------------------------

Labelled with_sulphites(std::optional<Share> mg_per_kg, bool at_threshold = false) {
  IngredientFacts fruit = food("dried fruit", {"sulphites"});
  fruit.sulphites_mg_per_kg = std::move(mg_per_kg);
  LabelTerms terms = label_terms();
  for (AllergenTerm& term : terms.allergens) term.at_threshold = at_threshold;
  return label(one_batch({{food("sugar"), grams(900)}, {fruit, grams(100)}}, grams(1000)), terms);
}

TEST(Sulphites, AreDeclaredStrictlyAboveTheThreshold) {  // FIC Annex II 12: more than 10 mg/kg
  EXPECT_FALSE(holds(with_sulphites(100).declared.contains, "sulphites")) << "exactly 10 mg/kg";
  EXPECT_EQ(with_sulphites(100).declared.sulphites_mg_per_kg, 10);
  EXPECT_TRUE(holds(with_sulphites(share_of(1001, 10)).declared.contains, "sulphites"));
  EXPECT_TRUE(holds(with_sulphites(100, true).declared.contains, "sulphites")) << "where the law says 10 mg/kg or more";
  EXPECT_FALSE(holds(with_sulphites(99, true).declared.contains, "sulphites"));
}

TEST(Sulphites, AreDeclaredWhenNobodyGivesAFigure) {
  const Labelled cake = with_sulphites(std::nullopt);
  EXPECT_EQ(marked(cake.declared), "sugar, dried fruit (*SULPHITES*)");
}

TEST(Sulphites, StillStopForAPackThatDoesNotSay) {
  IngredientFacts fruit = food("dried fruit", {"sulphites"});
  fruit.sulphites_mg_per_kg = 10;
  IngredientFacts syrup = food("syrup");
  says(syrup, "sulphites", Presence::unknown);
  const Labelled cake = label(one_batch({{syrup, grams(900)}, {fruit, grams(100)}}, grams(1000)));
  EXPECT_FALSE(holds(cake.declared.contains, "sulphites"));
  EXPECT_TRUE(holds(cake.declared.unknown, "sulphites"));
}

TEST(Sulphites, ShowAtEveryIngredientThatBringsThem) {
  IngredientFacts apricots = food("apricots", {"sulphites"});
  apricots.sulphites_mg_per_kg = 2000;
  IngredientFacts syrup = food("syrup", {"sulphites"});
  syrup.sulphites_mg_per_kg = 5;
  syrup.parts = {part("glucose"), additive_part("sulphur dioxide", "E220", "preservative", false)};
  const Labelled cake = label(one_batch({{syrup, grams(900)}, {apricots, grams(100)}}, grams(1000)));
  EXPECT_EQ(marked(cake.declared), "syrup (glucose, preservative: *SULPHUR DIOXIDE*), apricots (*SULPHITES*)");
}

// ---- varying proportions ----------------------------------------------------------------------------------------------------

Labelled fruit_mix(std::int64_t strawberries, std::int64_t raspberries) {
  IngredientFacts one = food("strawberries");
  IngredientFacts other = food("raspberries");
  one.varying_group = other.varying_group = "fruit";
  return label(one_batch({{food("sugar"), grams(100)}, {one, grams(strawberries)}, {other, grams(raspberries)}},
                         grams(100 + strawberries + raspberries)));
}

TEST(VaryingProportions, RefuseAFruitThatPredominates) {
  const Labelled even = fruit_mix(75, 25);
  EXPECT_TRUE(why_not_varying(even.parts, even.declared, "fruit", even.terms).empty());
  const Labelled uneven = fruit_mix(76, 24);
  const Refusals refused = why_not_varying(uneven.parts, uneven.declared, "fruit", uneven.terms);
  ASSERT_EQ(refused.size(), 1U);
  EXPECT_EQ(refused.front().message, "strawberries predominates: 76.0 % of the fruit");
}

std::string listed(const CakeParts& parts, const LabelTerms& terms, std::vector<std::string> varying, const std::string& list = "merged") {
  const Labelled cake = label(parts, terms);
  return marked(declare(cake.parts, cake.made, terms, "ingredient list", {list, "", {}, std::move(varying)}));
}

TEST(VaryingProportions, StandAsOneOnlyWhereAPersonSaysThatTheyVary) {
  const LabelTerms terms = label_terms();
  const CakeParts even = fruit_mix(75, 25).parts;
  const std::string as_one = "fruit in varying proportions (strawberries, raspberries), sugar";
  EXPECT_EQ(listed(even, terms, {}), "sugar, strawberries, raspberries");
  EXPECT_EQ(listed(even, terms, {"fruit"}), as_one);
  EXPECT_EQ(listed(even, terms, {"vegetables"}), "sugar, strawberries, raspberries");
  EXPECT_EQ(listed(fruit_mix(76, 24).parts, terms, {"fruit"}), "sugar, strawberries, raspberries") << "one predominates";
  CakeParts by_recipe = even;
  by_recipe.batches[0].varying = {"fruit"};
  EXPECT_EQ(listed(by_recipe, terms, {}), as_one);
}

TEST(VaryingProportions, AreOfTheWholeListOnlyWhereEveryBatchWithTheFoodSaysSo) {
  const LabelTerms terms = label_terms();
  CakeParts parts = fruit_mix(75, 25).parts;
  BatchFacts other = parts.batches[0];
  parts.batches[0].varying = {"fruit"};
  other.id = BatchId{"batch-2"};
  other.uses = {parts.batches[0].uses[1]};
  other.yield = other.uses[0].mass;
  parts.batches.push_back(other);
  parts.placed.push_back({"top", 1, other.yield, true});
  const std::string apart = "strawberries, sugar, raspberries";
  EXPECT_EQ(listed(parts, terms, {}), apart);
  parts.batches[1].uses = {parts.batches[0].uses[0]};  // sugar: it has nothing to say of fruit
  parts.batches[1].yield = parts.placed[1].mass = parts.batches[0].uses[0].mass;
  EXPECT_EQ(listed(parts, terms, {}), "sugar, fruit in varying proportions (strawberries, raspberries)");
}

TEST(VaryingProportions, StandWithinTheirPartInAListByPart) {
  CakeParts parts = fruit_mix(75, 25).parts;
  parts.batches[0].label_name = "filling";
  EXPECT_EQ(listed(parts, label_terms(), {"fruit"}, "by part"),
            "filling (fruit in varying proportions (strawberries, raspberries), sugar)");
}

TEST(VaryingProportions, StandBehindTheWordsForSmallAmountsWhileTheirTotalIsSmall) {
  LabelTerms terms = label_terms();
  terms.any_order_below.wording = "Less than 2 percent of {names}.";
  const auto with = [&](std::int64_t each) {
    CakeParts parts = fruit_mix(each, each).parts;
    parts.batches[0].uses[0].mass = grams(1000 - 2 * each);  // the sugar
    parts.batches[0].yield = parts.placed[0].mass = grams(1000);
    return listed(parts, terms, {"fruit"});
  };
  EXPECT_EQ(with(9), "sugar, Less than 2 percent of fruit in varying proportions (raspberries, strawberries).");
  EXPECT_EQ(with(10), "sugar, fruit in varying proportions (raspberries, strawberries)") << "2 % together";
}

TEST(VaryingProportions, RefuseASingleFruit) {
  const Labelled cake = fruit_mix(50, 50);
  EXPECT_FALSE(why_not_varying(cake.parts, cake.declared, "mushrooms", cake.terms).empty());
  EXPECT_EQ(why_not_varying(cake.parts, cake.declared, "nuts", cake.terms).size(), 2U);
}

}  // namespace
}  // namespace tierproof
