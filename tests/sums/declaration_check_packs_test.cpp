#include <gtest/gtest.h>

#include "cake_for_tests.h"
#include "tierproof/sums/declaration.h"
#include "tierproof/sums/levels.h"

namespace tierproof {
namespace {

using namespace for_tests;
using Texts = std::vector<std::string>;

std::vector<Finding> judged_packs(const CakeParts& parts, const std::string& control, const LabelTerms& terms = label_terms()) {
  const Labelled cake = label(parts, terms);
  return of_control(check(cake.parts, cake.made, cake.declared, cake.terms), control);
}
CakeParts cake_of_pack(const IngredientFacts& facts) { return one_batch({{food("sugar"), grams(900)}, {facts, grams(100)}}, grams(1000)); }

const Texts path_to_two = {"cake-1 → batch-1 (sponge) → pack-2"};

// ---- sold as --------------------------------------------------------------------------------------------------------------

IngredientFacts glitter(std::string sold_as) {
  IngredientFacts made = food("gold glitter");
  made.sold_as = std::move(sold_as);
  return made;
}

TEST(CheckSoldAs, StopsWithoutOverrideForWhatIsNotFood) {
  const std::vector<Finding> found = judged_packs(cake_of_pack(glitter("not for food")), "sold-as");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::not_met);
  EXPECT_EQ(found[0].stop, Stop::no_override);
  EXPECT_EQ(found[0].subject, "pack-2");
  EXPECT_EQ(found[0].message, "gold glitter (pack-2) is not for food, and it is in the food");
  EXPECT_EQ(found[0].paths, path_to_two);
}

TEST(CheckSoldAs, AsksAPersonAboutWhatIsOnlyForPartsThatComeOffAndAboutWhatDoesNotSay) {
  for (const char* sold : {"for parts removed before eating", "not said", "craft"}) {
    const std::vector<Finding> found = judged_packs(cake_of_pack(glitter(sold)), "sold-as");
    ASSERT_EQ(found.size(), 1U) << sold;
    EXPECT_EQ(found[0].verdict, Verdict::not_shown) << sold;
    EXPECT_EQ(found[0].stop, Stop::needs_person) << sold;
    EXPECT_EQ(found[0].result, sold);
    EXPECT_FALSE(found[0].remedy.empty()) << sold;
  }
}

TEST(CheckSoldAs, PassesFoodAndAsksAboutWhatNobodyRecorded) {
  const std::vector<Finding> food = judged_packs(cake_of_pack(glitter("food")), "sold-as");
  ASSERT_EQ(food.size(), 1U);
  EXPECT_EQ(food[0].verdict, Verdict::shown);
  const std::vector<Finding> open = judged_packs(cake_of_pack(glitter("")), "sold-as");
  ASSERT_EQ(open.size(), 1U);
  EXPECT_EQ(open[0].verdict, Verdict::not_shown);
  EXPECT_EQ(open[0].result, "not recorded");
  IngredientFacts listed = glitter("");
  listed.parts = {part("gum arabic")};
  const std::vector<Finding> by_list = judged_packs(cake_of_pack(listed), "sold-as");
  ASSERT_EQ(by_list.size(), 1U);
  EXPECT_EQ(by_list[0].verdict, Verdict::shown);
  EXPECT_EQ(by_list[0].message, "1 pack recorded as sold as food; 1 pack known as food by list, kind, number or name");
}

// ---- additions by law -----------------------------------------------------------------------------------------------------

/// Bread and Flour Regulations 1998 as amended: additions to flour.
LabelTerms flour_terms(bool folic_acid = false) {
  LabelTerms terms = label_terms();
  terms.statutory_parts = {{{"flour", "Bread and Flour Regulations 1998", false},
                            "flour",
                            {"calcium carbonate", "iron", "niacin", "thiamin"},
                            "wholemeal flour"}};
  if (folic_acid)
    terms.statutory_parts.push_back(
        {{"flour-folic-acid", "Bread and Flour Regulations 1998", true}, "flour", {"folic acid"}, "small mills"});
  return terms;
}
IngredientFacts flour(const Texts& parts) {
  IngredientFacts made = food("wheat flour", {"gluten:wheat"});
  made.fixed_by_law = "flour";
  for (const std::string& name : parts) made.parts.push_back(part(name));
  return made;
}
const Texts whole_list = {"wheat flour", "calcium carbonate", "iron", "niacin (B3)", "thiamine"};

TEST(CheckStatutoryParts, SendsAPersonToTheSackForWhatIsMissing) {
  const std::vector<Finding> found =
      judged_packs(cake_of_pack(flour({"wheat flour", "calcium carbonate", "niacin"})), "statutory-parts", flour_terms());
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::not_shown);
  EXPECT_EQ(found[0].stop, Stop::needs_person);
  EXPECT_EQ(found[0].subject, "pack-2");
  EXPECT_EQ(found[0].message, "wheat flour (pack-2) is recorded without iron, thiamin");
  EXPECT_NE(found[0].remedy.find("look at the sack"), std::string::npos);
  EXPECT_NE(found[0].remedy.find("wholemeal flour"), std::string::npos);
  EXPECT_EQ(judged_packs(cake_of_pack(flour({})), "statutory-parts", flour_terms())[0].result, "4 of 4 missing");
}

TEST(CheckStatutoryParts, PassesAListThatNamesThemInItsOwnWords) {
  const std::vector<Finding> found = judged_packs(cake_of_pack(flour(whole_list)), "statutory-parts", flour_terms());
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::shown);
}

TEST(CheckStatutoryParts, AsksForMoreOnceAnotherRowIsInForce) {
  const std::vector<Finding> found = judged_packs(cake_of_pack(flour(whole_list)), "statutory-parts", flour_terms(true));
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].message, "wheat flour (pack-2) is recorded without folic acid (from memory: confirm it with the food authority)");
}

TEST(CheckStatutoryParts, SaysNothingOfOtherFoods) {
  EXPECT_TRUE(judged_packs(cake_of_pack(food("cornflour")), "statutory-parts", flour_terms()).empty());
  EXPECT_TRUE(judged_packs(cake_of_pack(flour({})), "statutory-parts").empty()) << "rules without a row";
}

// ---- levels ---------------------------------------------------------------------------------------------------------------

/// Reg (EC) 1333/2008 Annex II: sulphites in dried apricots up to 2000 mg/kg; Group III colours together up to 200 mg/kg in fine bakery
/// wares and 500 mg/kg in decorations (all from memory, here as if read).
LabelTerms level_terms(bool from_memory = false) {
  LabelTerms terms = label_terms();
  const Texts colours = {"E102", "E110", "E129"};
  terms.level_limits = {
      {{"apricots", "Reg (EC) 1333/2008 Annex II 04.2.1", from_memory}, "sulphites", {}, "dried apricots", 2000},
      {{"wares", "Reg (EC) 1333/2008 Annex II 07.2", from_memory}, "colours of group III", colours, "cake", 200},
      {{"decorations", "Reg (EC) 1333/2008 Annex II 05.4", from_memory}, "colours of group III", colours, "decorations", 500}};
  return terms;
}
IngredientFacts apricots(std::optional<Share> sulphites) {
  IngredientFacts made = food("apricots", {"sulphites"});
  made.limit_food = "dried apricots";
  made.sulphites_mg_per_kg = std::move(sulphites);
  return made;
}
DeclaredPart colour(const std::string& number, std::optional<Share> mg_per_kg) {
  DeclaredPart made = additive_part(number, number, "colour");
  made.mg_per_kg = std::move(mg_per_kg);
  return made;
}
IngredientFacts sprinkles(std::optional<Share> first, std::optional<Share> second, std::string limit_food = "decorations") {
  IngredientFacts made = food("sprinkles");
  made.parts = {part("sugar"), colour("E102", std::move(first)), colour("E129", std::move(second))};
  made.limit_food = std::move(limit_food);
  return made;
}

TEST(CheckLevels, StopsStrictlyAboveALimitThatIsLaw) {
  EXPECT_EQ(judged_packs(cake_of_pack(apricots(Share{2000})), "level-limits", level_terms())[0].verdict, Verdict::shown);
  const std::vector<Finding> found = judged_packs(cake_of_pack(apricots(share_of(20'001, 10))), "level-limits", level_terms());
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::not_met);
  EXPECT_EQ(found[0].stop, Stop::no_override);
  EXPECT_EQ(found[0].subject, "pack-2");
  EXPECT_EQ(found[0].message, "sulphites come to 2000.1 mg/kg in apricots (pack-2), and at most 2000 mg/kg are allowed there");
  EXPECT_EQ(found[0].paths, path_to_two);
}

TEST(CheckLevels, AsksAPersonAboveALimitFromMemory) {
  const std::vector<Finding> found = judged_packs(cake_of_pack(apricots(Share{2001})), "level-limits", level_terms(true));
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::not_shown);
  EXPECT_EQ(found[0].stop, Stop::needs_person);
  EXPECT_NE(found[0].message.find("from memory: confirm it with the food authority"), std::string::npos);
}

TEST(CheckLevels, AddUpWhatCountsTogether) {
  EXPECT_EQ(judged_packs(cake_of_pack(sprinkles(Share{250}, Share{250})), "level-limits", level_terms())[0].verdict, Verdict::shown);
  const std::vector<Finding> found = judged_packs(cake_of_pack(sprinkles(Share{250}, Share{251})), "level-limits", level_terms());
  ASSERT_EQ(found.size(), 1U) << "above in the sprinkles; 50.1 mg/kg in the cake are within";
  EXPECT_EQ(found[0].subject, "pack-2");
  const std::vector<Finding> both = judged_packs(cake_of_pack(sprinkles(Share{2000}, Share{1})), "level-limits", level_terms());
  ASSERT_EQ(both.size(), 2U);
  EXPECT_EQ(both[0].subject, "cake-1");
  EXPECT_EQ(both[0].result, "200.1 mg/kg");
}

TEST(CheckLevels, AreAboveThoughPartOfItHasNoFigure) {
  EXPECT_EQ(judged_packs(cake_of_pack(sprinkles(Share{501}, std::nullopt)), "level-limits", level_terms()).size(), 1U);
}

TEST(CheckLevels, TellWhatWasNotChecked) {
  const CakeParts parts = one_batch(
      {{food("sugar"), grams(900)}, {apricots(Share{500}), grams(50)}, {sprinkles(Share{1}, std::nullopt), grams(50)}}, grams(1000));
  const std::vector<Finding> found = judged_packs(parts, "level-limits", level_terms());
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::shown);
  EXPECT_NE(found[0].message.find("not checked, for want of a figure: E129 in sprinkles (pack-3)"), std::string::npos) << found[0].message;
}

TEST(CheckLevels, GiveNoVerdictWhereNothingCouldBeCompared) {
  const Labelled cake = label(cake_of_pack(apricots(std::nullopt)), level_terms());
  EXPECT_TRUE(of_control(check(cake.parts, cake.made, cake.declared, cake.terms), "level-limits").empty())
      << "neither a pass nor a finding";
  EXPECT_EQ(level_readings(cake.parts, cake.made, cake.terms).not_checked, Texts{"sulphites in apricots (pack-2)"});
  IngredientFacts peel = apricots(Share{50});
  peel.limit_food.clear();
  const Labelled other = label(cake_of_pack(peel), level_terms());
  EXPECT_EQ(level_readings(other.parts, other.made, other.terms).not_checked,
            Texts{"sulphites in apricots (pack-2), which no limit is known to speak of"});
  EXPECT_TRUE(judged_packs(cake_of_pack(food("butter", {"milk"})), "level-limits", level_terms()).empty());
}

TEST(CheckLevels, CountAPackThatIsTheAdditiveItselfWhole) {
  IngredientFacts powder = food("yellow powder");
  powder.additive = "E 102";
  const CakeParts parts = one_batch({{food("sugar"), Mass::milligrams(999'799)}, {powder, Mass::milligrams(201)}}, grams(1000));
  const std::vector<Finding> found = judged_packs(parts, "level-limits", level_terms());
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].result, "201.0 mg/kg");
}

/// FIC Annex III 3: the sentences go by 100 mg/kg and 4 g/kg.
TEST(CheckLevels, AskForTheAmountOfLiquoriceThatAPackDoesNotGive) {
  LabelTerms terms = label_terms();
  terms.amount_wordings = {
      {fic("liquorice", "Annex III 3.1"), "glycyrrhizinic acid", 100, Share{4000}, "contains liquorice", "after list", ""}};
  IngredientFacts drops = food("black drops");
  drops.marks = {"liquorice"};
  const std::vector<Finding> found = judged_packs(cake_of_pack(drops), "level-limits", terms);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::not_shown);
  EXPECT_EQ(found[0].subject, "glycyrrhizinic acid");
  EXPECT_EQ(found[0].paths, path_to_two);
  drops.glycyrrhizinic_mg_per_kg = 50;
  EXPECT_TRUE(judged_packs(cake_of_pack(drops), "level-limits", terms).empty());
}

// ---- kinds of fish and nuts -----------------------------------------------------------------------------------------------

LabelTerms naming_fish() {
  LabelTerms terms = label_terms();
  for (AllergenTerm& term : terms.allergens) term.name_species = term.key == "fish";  // FD&C Act 403(w)(2)
  return terms;
}

TEST(CheckSpecies, AsksWhichFishItIs) {
  IngredientFacts gelatine = food("gelatine", {"fish"});
  const std::vector<Finding> found = judged_packs(cake_of_pack(gelatine), "allergen-species", naming_fish());
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::not_shown);
  EXPECT_EQ(found[0].stop, Stop::needs_person);
  EXPECT_EQ(found[0].subject, "fish");
  EXPECT_EQ(found[0].message, "which kind of fish it is, is not recorded for gelatine (pack-2)");
  for (AllergenStatement& said : gelatine.allergens)
    if (said.allergen == "fish") said.species = "cod";
  EXPECT_EQ(judged_packs(cake_of_pack(gelatine), "allergen-species", naming_fish())[0].verdict, Verdict::shown);
}

TEST(CheckSpecies, IsSilentWhereTheLawDoesNotAsk) {
  EXPECT_TRUE(judged_packs(cake_of_pack(food("gelatine", {"fish"})), "allergen-species").empty());
  EXPECT_TRUE(judged_packs(cake_of_pack(food("butter", {"milk"})), "allergen-species", naming_fish()).empty());
}

// ---- natural flavouring ---------------------------------------------------------------------------------------------------

TEST(CheckFlavourWords, AskWhetherWhatIsCalledNaturalIsNatural) {
  for (const char* name : {"natural vanilla flavouring", "Natural lemon flavor", "natural flavourings"}) {
    IngredientFacts drops = food(name);
    for (const char* kind : {"", "flavouring"}) {
      drops.kind = kind;
      const std::vector<Finding> found = judged_packs(cake_of_pack(drops), "flavour-words");
      ASSERT_EQ(found.size(), 1U) << name;
      EXPECT_EQ(found[0].verdict, Verdict::not_shown) << name;
      EXPECT_EQ(found[0].subject, "pack-2");
    }
    drops.kind = "natural flavouring";
    EXPECT_EQ(judged_packs(cake_of_pack(drops), "flavour-words")[0].verdict, Verdict::shown) << name;
  }
}

TEST(CheckFlavourWords, SaysNothingOfOtherNames) {
  for (const char* name : {"vanilla flavouring", "natural yogurt", "naturally flavoured", "vanilla extract"})
    EXPECT_TRUE(judged_packs(cake_of_pack(food(name)), "flavour-words").empty()) << name;
}

// ---- sulphites in one part ------------------------------------------------------------------------------------------------

/// Three kilograms of sponge and a small top tier of which 100 g carry fruit.
CakeParts tiers(const Share& fruit_mg_per_kg, const std::string& kind = "") {
  IngredientFacts fruit = food("glace cherries", {"sulphites"});
  fruit.sulphites_mg_per_kg = fruit_mg_per_kg;
  fruit.kind = kind;
  Baking baking;
  const std::size_t sugar = baking.pack(food("sugar"));
  const std::size_t cherries = baking.pack(fruit);
  const std::size_t sponge = baking.batch("sponge", {of_pack(sugar, grams(3000))}, grams(3000));
  const std::size_t topping = baking.batch("topping", {of_pack(sugar, grams(100)), of_pack(cherries, grams(100))}, grams(200));
  baking.place("bottom", sponge, grams(2600));
  baking.place("top", sponge, grams(300));
  baking.place("top", topping, grams(100));
  return baking.parts;
}
Texts subjects(const std::vector<Finding>& findings) {
  Texts all;
  for (const Finding& finding : findings) all.push_back(finding.subject);
  return all;
}

/// FIC Annex II 12: more than 10 mg/kg in the food; which food a piece of a cake is, the law leaves open.
TEST(CheckSulphites, CautionsOfATierOrPartThatIsAboveByItself) {
  // 20 mg/kg in the fruit: 10 in the topping, 2.5 in the top tier, 0.33 in the cake
  EXPECT_EQ(subjects(judged_packs(tiers(20), "sulphites")), Texts{"cake-1"});
  EXPECT_EQ(subjects(judged_packs(tiers(share_of(2001, 100)), "sulphites")), (Texts{"cake-1", "batch-2"}));
  EXPECT_EQ(subjects(judged_packs(tiers(80), "sulphites")), (Texts{"cake-1", "batch-2"})) << "exactly 10 in the top tier";
  const std::vector<Finding> found = judged_packs(tiers(share_of(8001, 100)), "sulphites");
  ASSERT_EQ(subjects(found), (Texts{"cake-1", "top", "batch-2"}));
  EXPECT_EQ(found[0].verdict, Verdict::shown) << "the cake as a whole needs no declaration";
  EXPECT_EQ(found[1].verdict, Verdict::not_shown);
  EXPECT_EQ(found[1].stop, Stop::needs_person);
  EXPECT_EQ(found[1].message, "the top tier alone has 10.0 mg/kg of sulphites, though the whole cake needs no declaration");
  EXPECT_EQ(found[2].message, "topping (batch-2) alone has 40.0 mg/kg of sulphites, though the whole cake needs no declaration");
}

TEST(CheckSulphites, CautionsOfFruitThatStaysInPieces) {
  EXPECT_EQ(subjects(judged_packs(tiers(11, "fruit"), "sulphites")), (Texts{"cake-1", "pack-2"}));
  EXPECT_EQ(subjects(judged_packs(tiers(10, "fruit"), "sulphites")), Texts{"cake-1"});
}

TEST(CheckSulphites, NeedsNoCautionOnceTheyAreDeclared) {
  EXPECT_EQ(subjects(judged_packs(tiers(1000), "sulphites")), Texts{"cake-1"}) << "16.7 mg/kg in the cake";
}

}  // namespace
}  // namespace tierproof
