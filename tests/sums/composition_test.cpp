#include "tierproof/sums/composition.h"

#include <gtest/gtest.h>

#include <chrono>
#include <random>

#include "cake_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;

const AllergenTrace& traced(const Composition& made, const std::string& key) {
  for (const AllergenTrace& trace : made.allergens) {
    if (trace.allergen == key) return trace;
  }
  throw std::runtime_error("not traced: " + key);
}

std::string messages(const Refusals& refusals) {
  std::string all;
  for (const Refusal& refusal : refusals) all += describe(refusal) + "\n";
  return all;
}

TEST(Composition, FollowsAMassThroughBatchesOfBatches) {
  Baking baking;
  const std::size_t almonds = baking.pack(food("ground almonds", {"nuts:almond"}), "A7");
  const std::size_t sugar = baking.pack(food("sugar"));
  const std::size_t shells = baking.batch("almond shells", {of_pack(almonds, grams(300)), of_pack(sugar, grams(100))}, grams(350));
  const std::size_t filling = baking.batch("filling", {of_batch(shells, grams(70)), of_pack(sugar, grams(30))}, grams(90));
  baking.place("top", filling, grams(45));
  const Result<Composition> made = compose(baking.parts, {"nuts:almond"});
  ASSERT_TRUE(made);
  // 45/90 of 70 g of shells is 35 g; 35/350 of 300 g is 30 g
  ASSERT_EQ(made->lots.size(), 2U);
  EXPECT_EQ(made->lots[0].lot, almonds);
  EXPECT_EQ(made->lots[0].ingoing_mg, 30'000);
  EXPECT_EQ(made->lots[1].ingoing_mg, 10'000 + 15'000);
  EXPECT_EQ(made->finished_mg, 45'000);
  EXPECT_EQ(made->ingoing_mg, 55'000);
  EXPECT_EQ(made->lost_mg, 10'000);
}

TEST(Composition, KeepsTheKitchensOwnPrecautionApartFromWhatPacksSay) {
  const auto made_with = [](const IngredientFacts& facts) {
    Baking baking;
    baking.place("top", baking.batch("sponge", {of_pack(baking.pack(facts, "A7"), grams(100))}, grams(90)), grams(90));
    baking.parts.precautions = {{"nuts:hazelnut", "decided by ada"}};
    return compose(baking.parts, {"nuts:hazelnut", "milk"}).value();
  };
  const auto plain = made_with(food("sugar"));
  EXPECT_EQ(traced(plain, "nuts:hazelnut").presence, Presence::may_contain);
  EXPECT_EQ(traced(plain, "nuts:hazelnut").precaution, (std::vector<std::string>{"cake-1 → decided by ada"}));
  EXPECT_TRUE(traced(plain, "nuts:hazelnut").may_contain.empty());
  EXPECT_TRUE(traced(plain, "nuts:hazelnut").absent_evidence.empty());
  EXPECT_EQ(traced(plain, "milk").presence, Presence::absent) << "of that allergen alone";
  EXPECT_EQ(traced(made_with(food("paste", {"nuts:hazelnut"})), "nuts:hazelnut").presence, Presence::contains);
  IngredientFacts silent = food("paste");
  silent.allergens.clear();
  EXPECT_EQ(traced(made_with(silent), "nuts:hazelnut").presence, Presence::unknown) << "it makes nothing known";
}

TEST(Composition, KeepsThirdsExact) {
  Baking baking;
  const std::size_t flour = baking.pack(food("flour"));
  const std::size_t sponge = baking.batch("sponge", {of_pack(flour, grams(100))}, Mass::milligrams(90'001));
  baking.place("top", sponge, Mass::milligrams(30'000));
  const Result<Composition> made = compose(baking.parts, {});
  ASSERT_TRUE(made);
  EXPECT_EQ(made->lots[0].ingoing_mg, share_of(30'000LL * 100'000LL, 90'001));
}

TEST(Composition, CarriesAnAllergenUpFromACompoundIngredient) {
  Baking baking;
  const std::size_t shells =
      baking.batch("almond shells", {of_pack(baking.pack(food("ground almonds", {"nuts:almond"}), "A7"), grams(100))}, grams(90));
  const std::size_t filling = baking.batch("filling", {of_batch(shells, grams(40))}, grams(40));
  baking.place("top", filling, grams(40));
  const Result<Composition> made = compose(baking.parts, {"milk", "nuts:almond"});
  ASSERT_TRUE(made);
  ASSERT_EQ(made->allergens.size(), 2U);
  EXPECT_EQ(made->allergens[0].presence, Presence::absent);
  EXPECT_EQ(made->allergens[0].absent_evidence, std::vector<std::string>{"pack-1 (ground almonds, code A7): supplier's sheet"});
  EXPECT_EQ(made->allergens[1].presence, Presence::contains);
  EXPECT_EQ(made->allergens[1].contains,
            std::vector<std::string>{"cake-1 → batch-2 (filling) → batch-1 (almond shells) → pack-1 (ground almonds, code A7)"});
  EXPECT_TRUE(made->allergens[1].absent_evidence.empty());
}

TEST(Composition, TellsAnAllergenOfEveryTierItIsIn) {
  Baking baking;
  const std::size_t plain = baking.batch("plain sponge", {of_pack(baking.pack(food("flour", {"gluten:wheat"})), grams(100))}, grams(90));
  const std::size_t nutty =
      baking.batch("nut sponge", {of_pack(baking.pack(food("ground almonds", {"nuts:almond"})), grams(100))}, grams(90));
  baking.place("bottom", plain, grams(50));
  baking.place("top", plain, grams(20));
  baking.place("top", baking.batch("nut crumbs", {of_batch(nutty, grams(20))}, grams(20)), grams(10));
  const Result<Composition> made = compose(baking.parts, {"nuts:almond", "gluten:wheat"});
  ASSERT_TRUE(made);
  ASSERT_EQ(made->tiers.size(), 2U);
  EXPECT_EQ(made->tiers[0].tier, "bottom");
  EXPECT_EQ(made->tiers[0].allergens, std::vector<std::string>{"gluten:wheat"});
  EXPECT_EQ(made->tiers[1].finished_mg, 30'000);
  EXPECT_EQ(made->tiers[1].allergens, (std::vector<std::string>{"gluten:wheat", "nuts:almond"}));
}

TEST(Composition, TakesTheGravestOverAllPacks) {
  const auto presence_of = [](std::vector<std::pair<Presence, std::string>> packs) {
    Baking baking;
    std::vector<Use> uses;
    for (const auto& [presence, evidence] : packs) {
      IngredientFacts facts = food("sugar");
      says(facts, "milk", presence, evidence);
      uses.push_back(of_pack(baking.pack(facts), grams(10)));
    }
    const std::size_t batch = baking.batch("icing", uses, grams(10));
    baking.place("top", batch, grams(10));
    return compose(baking.parts, {"milk"})->allergens[0].presence;
  };
  EXPECT_EQ(presence_of({{Presence::absent, "sheet"}, {Presence::absent, "sheet"}}), Presence::absent);
  EXPECT_EQ(presence_of({{Presence::absent, "sheet"}, {Presence::may_contain, ""}}), Presence::may_contain);
  EXPECT_EQ(presence_of({{Presence::unknown, ""}, {Presence::may_contain, ""}}), Presence::unknown);
  EXPECT_EQ(presence_of({{Presence::unknown, ""}, {Presence::contains, ""}}), Presence::contains);
}

TEST(PackStatement, TakesAnAbsenceWithoutEvidenceForUnknown) {
  IngredientFacts facts;
  facts.allergens = {{"milk", Presence::absent, "  "}};
  EXPECT_EQ(pack_statement(facts, "milk").presence, Presence::unknown);
  facts.allergens = {{"milk", Presence::absent, "supplier's sheet"}};
  EXPECT_EQ(pack_statement(facts, "milk").presence, Presence::absent);
  EXPECT_EQ(pack_statement(facts, "milk").why, "supplier's sheet");
}

TEST(PackStatement, TakesSilenceForUnknown) {
  IngredientFacts facts;
  EXPECT_EQ(pack_statement(facts, "milk").presence, Presence::unknown);
  EXPECT_EQ(pack_statement(facts, "milk").why, "its specification does not mention it");
}

TEST(PackStatement, LetsTheGraverOfTwoStatementsCount) {
  IngredientFacts facts;
  facts.allergens = {{"milk", Presence::absent, "sheet"}, {"milk", Presence::contains, ""}};
  EXPECT_EQ(pack_statement(facts, "milk").presence, Presence::contains);
  facts.allergens = {{"milk", Presence::unknown, ""}, {"milk", Presence::may_contain, ""}};
  EXPECT_EQ(pack_statement(facts, "milk").presence, Presence::unknown);
}

TEST(PackStatement, DoesNotGuessWhichNutAGroupMeans) {
  IngredientFacts facts;
  facts.allergens = {{"nuts", Presence::contains, ""}};
  EXPECT_EQ(pack_statement(facts, "nuts:almond").presence, Presence::unknown);
  facts.allergens.push_back({"nuts:hazelnut", Presence::absent, "sheet"});
  EXPECT_EQ(pack_statement(facts, "nuts:hazelnut").presence, Presence::unknown) << "some nut is in it, and none is named";
  facts.allergens.push_back({"nuts:almond", Presence::contains, ""});
  EXPECT_EQ(pack_statement(facts, "nuts:almond").presence, Presence::contains);
  EXPECT_EQ(pack_statement(facts, "nuts:hazelnut").presence, Presence::absent);
  EXPECT_EQ(pack_statement(facts, "nuts:pecan").presence, Presence::unknown);
}

TEST(PackStatement, HoldsAGroupsAbsenceForEachMember) {
  IngredientFacts facts;
  facts.allergens = {{"nuts", Presence::absent, "nut statement of 2026"}};
  EXPECT_EQ(pack_statement(facts, "nuts:almond").presence, Presence::absent);
  facts.allergens.push_back({"nuts:almond", Presence::may_contain, ""});
  EXPECT_EQ(pack_statement(facts, "nuts:almond").presence, Presence::may_contain);
  EXPECT_EQ(pack_statement(facts, "nuts").presence, Presence::absent);
  facts.allergens.push_back({"nuts:pecan", Presence::contains, ""});
  EXPECT_EQ(pack_statement(facts, "nuts").presence, Presence::contains);
}

TEST(PackStatement, DoesNotRuleOutAGroupByOneMember) {
  IngredientFacts facts;
  facts.allergens = {{"nuts:almond", Presence::absent, "sheet"}};
  EXPECT_EQ(pack_statement(facts, "nuts").presence, Presence::unknown);
}

TEST(PackStatement, BelievesAPartThatBringsIt) {
  IngredientFacts facts = food("biscuit");
  facts.parts = {part("filling")};
  facts.parts[0].parts = {part("butter")};
  facts.parts[0].parts[0].allergens = {"milk"};
  EXPECT_EQ(pack_statement(facts, "milk").presence, Presence::contains);
  EXPECT_EQ(pack_statement(facts, "eggs").presence, Presence::absent);
}

TEST(Composition, SaysOfEachPackWhyNobodyKnows) {
  Baking baking;
  IngredientFacts silent;
  silent.id = IngredientId{"pearls"};
  silent.label_name = "sugar pearls";
  IngredientFacts unproved = food("fudge");
  says(unproved, "milk", Presence::absent);
  const std::size_t batch = baking.batch("decor",
                                         {of_pack(baking.pack(silent, "P1"), grams(5)), of_pack(baking.pack(unproved), grams(5)),
                                          of_pack(baking.pack(food("sugar")), grams(5))},
                                         grams(15));
  baking.place("top", batch, grams(15));
  const Result<Composition> made = compose(baking.parts, {"milk"});
  ASSERT_TRUE(made);
  EXPECT_EQ(made->allergens[0].unknown,
            (std::vector<std::string>{"cake-1 → batch-1 (decor) → pack-1 (sugar pearls, code P1): its specification does not mention it",
                                      "cake-1 → batch-1 (decor) → pack-2 (fudge, code L2): its absence rests on no evidence"}));
  EXPECT_TRUE(made->allergens[0].absent_evidence.empty());
}

TEST(Composition, KeepsCrossContactApart) {
  Baking baking;
  const std::size_t cream = baking.batch("buttercream", {of_pack(baking.pack(food("sugar")), grams(100))}, grams(100));
  baking.parts.batches[cream].cross_contact = {"nuts:almond"};
  const std::size_t filling = baking.batch("filling", {of_batch(cream, grams(50))}, grams(50));
  baking.place("top", filling, grams(50));
  const Result<Composition> made = compose(baking.parts, {"nuts:almond", "milk"});
  ASSERT_TRUE(made);
  EXPECT_EQ(made->allergens[0].presence, Presence::absent) << "presence is what the packs say";
  EXPECT_EQ(made->allergens[0].cross_contact, std::vector<std::string>{"cake-1 → batch-2 (filling) → batch-1 (buttercream)"});
  EXPECT_TRUE(made->allergens[0].may_contain.empty());
  EXPECT_TRUE(made->allergens[1].cross_contact.empty());
}

TEST(Composition, LeavesOutPacksThatDoNotReachTheCake) {
  Baking baking;
  const std::size_t used = baking.batch("icing", {of_pack(baking.pack(food("sugar")), grams(10))}, grams(10));
  baking.batch("other icing", {of_pack(baking.pack(food("butter", {"milk"})), grams(10))}, grams(10));
  baking.place("top", used, grams(10));
  const Result<Composition> made = compose(baking.parts, {"milk"});
  ASSERT_TRUE(made);
  EXPECT_EQ(made->lots.size(), 1U);
  EXPECT_EQ(made->allergens[0].presence, Presence::absent);
}

TEST(Composition, TellsAWayOnceThoughAPackWentInTwice) {
  Baking baking;
  const std::size_t sugar = baking.pack(food("sugar"));
  const std::size_t batch = baking.batch("meringue", {of_pack(sugar, grams(10)), of_pack(sugar, grams(20))}, grams(30));
  baking.place("top", batch, grams(10));
  baking.place("bottom", batch, grams(20));
  const Result<Composition> made = compose(baking.parts, {});
  ASSERT_TRUE(made);
  EXPECT_EQ(made->lots[0].ingoing_mg, 30'000);
  EXPECT_EQ(made->lots[0].paths, std::vector<std::string>{"cake-1 → batch-1 (meringue) → pack-1"});
}

TEST(Composition, SortsPacksByMassThenIngredientThenLot) {
  const CakeParts parts =
      one_batch({{food("b"), grams(10)}, {food("a"), grams(10)}, {food("a"), grams(10)}, {food("c"), grams(20)}}, grams(40));
  const Result<Composition> made = compose(parts, {});
  ASSERT_TRUE(made);
  std::vector<std::string> order;
  for (const LotAmount& amount : made->lots) order.push_back(parts.lots[amount.lot].id.text());
  EXPECT_EQ(order, (std::vector<std::string>{"pack-4", "pack-2", "pack-3", "pack-1"}));
}

TEST(Composition, SaysWhichMassesAreEstimated) {
  Baking baking;
  const std::size_t sponge = baking.batch("sponge", {of_pack(baking.pack(food("flour")), grams(100))}, grams(90), false);
  baking.place("top", sponge, grams(40), false);
  const std::size_t other = baking.batch("spare", {of_pack(0, grams(10))}, grams(10), false);
  EXPECT_EQ(other, 1U);
  const Result<Composition> made = compose(baking.parts, {});
  ASSERT_TRUE(made);
  EXPECT_FALSE(made->weighed);
  EXPECT_EQ(estimated_masses(baking.parts),
            (std::vector<std::string>{"batch-1 (sponge) in the top tier", "batch-1 (sponge), what it weighed when finished"}));
  baking.parts.batches[0].weighed = true;
  EXPECT_FALSE(compose(baking.parts, {})->weighed) << "its mass in the tier is still estimated";
  baking.parts.placed[0].weighed = true;
  EXPECT_TRUE(compose(baking.parts, {})->weighed) << "the spare batch is not in the cake";
}

// ---- refusals -------------------------------------------------------------------------------------------------------------

TEST(Composition, RefusesABatchThatContainsItself) {
  Baking baking;
  const std::size_t flour = baking.pack(food("flour"));
  baking.batch("crumbs", {of_pack(flour, grams(10)), of_batch(1, grams(5))}, grams(10));
  baking.batch("truffles", {of_batch(0, grams(10))}, grams(10));
  baking.place("top", 1, grams(10));
  const Result<Composition> made = compose(baking.parts, {});
  ASSERT_FALSE(made);
  EXPECT_NE(messages(made.error()).find("batch-1 (crumbs) → batch-2 (truffles) → batch-1 (crumbs)"), std::string::npos)
      << messages(made.error());

  Baking alone;
  alone.batch("dough", {of_pack(alone.pack(food("flour")), grams(10)), of_batch(0, grams(1))}, grams(10));
  alone.place("top", 0, grams(1));
  EXPECT_FALSE(compose(alone.parts, {}));
}

TEST(Composition, TellsEveryReasonAtOnce) {
  CakeParts parts;
  parts.cake = CakeId{"cake-1"};
  parts.lots.push_back({LotId{"pack-1"}, "L1", food("sugar")});
  parts.batches.push_back({BatchId{"batch-1"}, "a", {of_pack(1, grams(1)), of_batch(3, grams(1)), of_pack(0, Mass{})}, Mass{}, true, {}});
  parts.batches.push_back({BatchId{"batch-2"}, "b", {}, grams(1), true, {}});
  parts.batches.push_back({BatchId{"batch-3"}, "c", {of_batch(2, grams(1))}, grams(1), true, {}});
  parts.placed.push_back({"top", 3, grams(1), true});
  parts.placed.push_back({"top", 0, Mass{}, true});
  const Result<Composition> made = compose(parts, {});
  ASSERT_FALSE(made);
  std::vector<std::string> fields;
  for (const Refusal& refusal : made.error()) fields.push_back(refusal.field);
  EXPECT_EQ(fields, (std::vector<std::string>{"placed[0].batch", "placed[1].mass", "batches[0].yield", "batches[0].uses[0].index",
                                              "batches[0].uses[1].index", "batches[0].uses[2].mass", "batches[1].uses", "batches[2].uses"}))
      << messages(made.error());
  for (const Refusal& refusal : made.error()) EXPECT_FALSE(refusal.remedy.empty()) << refusal.message;
}

TEST(Composition, RefusesACakeWithNothingInIt) {
  CakeParts parts;
  parts.cake = CakeId{"cake-1"};
  const Result<Composition> made = compose(parts, {});
  ASSERT_FALSE(made);
  EXPECT_EQ(made.error().front().message, "cake-1 has nothing in it");
}

TEST(Composition, RefusesACakeThatWeighsMoreThanWhatWentIn) {
  const CakeParts parts = one_batch({{food("sugar"), grams(100)}}, grams(101));
  const Result<Composition> made = compose(parts, {});
  ASSERT_FALSE(made);
  EXPECT_NE(made.error().front().message.find("batch-1 (sponge) weighs 1.0 g more than what went in"), std::string::npos);
  EXPECT_TRUE(compose(one_batch({{food("sugar"), grams(100)}}, grams(100)), {}));
}

// ---- depth and breadth ------------------------------------------------------------------------------------------------------

/// Twenty stacked diamonds: a0 -> {b0, c0} -> a1 ... a20; two to the twentieth ways, sixty-one batches.
Baking stacked_diamonds() {
  Baking baking;
  const std::size_t almonds = baking.pack(food("ground almonds", {"nuts:almond"}), "A7");
  std::size_t below = baking.batch("a20", {of_pack(almonds, grams(100))}, grams(90));
  for (int level = 19; level >= 0; --level) {
    const std::size_t b = baking.batch("b" + std::to_string(level), {of_batch(below, grams(30))}, grams(30));
    const std::size_t c = baking.batch("c" + std::to_string(level), {of_batch(below, grams(20))}, grams(19));
    below = baking.batch("a" + std::to_string(level), {of_batch(b, grams(7)), of_batch(c, grams(3))}, grams(10));
  }
  baking.place("top", below, grams(10));
  return baking;
}

TEST(Composition, SurvivesTwentyStackedDiamonds) {
  const Baking baking = stacked_diamonds();
  ASSERT_EQ(baking.parts.batches.size(), 61U);
  const auto start = std::chrono::steady_clock::now();
  const Result<Composition> made = compose(baking.parts, {"nuts:almond", "milk"});
  const auto took = std::chrono::steady_clock::now() - start;
  ASSERT_TRUE(made);
  EXPECT_LT(took, std::chrono::seconds{2});
  // each level: 7 g of b are 7 g of the next a, 3 g of c are 3 * 20/19 of it: 10 g need 7 + 60/19 = 193/19 g
  Share a = 10'000;
  for (int level = 0; level < 20; ++level) a *= share_of(193, 190);
  EXPECT_EQ(made->lots[0].ingoing_mg, a * share_of(10, 9));
  ASSERT_EQ(made->lots[0].paths.size(), most_ways + 1);
  EXPECT_EQ(made->lots[0].paths.back(), "and 1048564 more ways");
  EXPECT_TRUE(std::is_sorted(made->lots[0].paths.begin(), made->lots[0].paths.end() - 1));
  EXPECT_EQ(traced(*made, "nuts:almond").contains.size(), most_ways + 1);
  EXPECT_EQ(traced(*made, "nuts:almond").contains.back(), "pack-1 (ground almonds, code A7): and 1048564 more ways");
}

TEST(Composition, RefusesStackedDiamondsThatCloseIntoALoop) {
  Baking baking = stacked_diamonds();
  baking.parts.batches[0].uses.push_back(of_batch(baking.parts.batches.size() - 1, grams(1)));
  EXPECT_FALSE(compose(baking.parts, {}));
}

TEST(Composition, GoesDownAThousandBatches) {
  Baking baking;
  std::size_t below = baking.batch("b", {of_pack(baking.pack(food("butter", {"milk"})), grams(10))}, grams(9));
  for (int i = 0; i < 1000; ++i) below = baking.batch("b", {of_batch(below, grams(10))}, grams(10));
  baking.place("top", below, grams(9));
  const Result<Composition> made = compose(baking.parts, {"milk"});
  ASSERT_TRUE(made);
  EXPECT_EQ(made->lots[0].ingoing_mg, 10'000);
  EXPECT_EQ(made->allergens[0].presence, Presence::contains);
}

TEST(Composition, FollowsWhatRemainsThroughEveryBatch) {
  Baking baking;
  const std::size_t rum = baking.pack(food("rum"));
  Use first = of_pack(rum, grams(100));
  first.remains = share_of(1, 3);
  Use second = of_batch(baking.batch("syrup", {first}, grams(100)), grams(60));
  second.remains = share_of(1, 2);
  const std::size_t soaked = baking.batch("soaked", {second, of_pack(rum, grams(40))}, grams(100));
  baking.place("only", soaked, grams(50));
  const Result<Composition> made = compose(baking.parts, {});
  ASSERT_EQ(made->lots.size(), 1U);
  EXPECT_EQ(made->lots[0].ingoing_mg, 50'000) << "what was put in is what it was";
  EXPECT_EQ(made->lots[0].remaining_mg, 25'000) << "half of 60 g × 1/3 × 1/2, and half of 40 g";
  EXPECT_EQ(made->lots[0].reconstituted_mg, 0);
}

TEST(Composition, FollowsWhatWasReconstituted) {
  Baking baking;
  const std::size_t egg = baking.pack(food("dried egg white", {"eggs"}));
  Use mixed = of_pack(egg, grams(10));
  mixed.reconstituted = true;
  const std::size_t white = baking.batch("egg white", {mixed, of_pack(baking.pack(water()), grams(70))}, grams(80));
  const std::size_t icing = baking.batch("icing", {of_batch(white, grams(40)), of_pack(egg, grams(3))}, grams(43));
  baking.place("only", icing, grams(43));
  const Result<Composition> made = compose(baking.parts, {});
  const auto found = std::find_if(made->lots.begin(), made->lots.end(), [&](const LotAmount& amount) { return amount.lot == egg; });
  ASSERT_NE(found, made->lots.end());
  EXPECT_EQ(found->ingoing_mg, 8'000);
  EXPECT_EQ(found->reconstituted_mg, 5'000) << "the 3 g went in dry";
  EXPECT_EQ(found->remaining_mg, 8'000);
}

TEST(Composition, TellsWhatOfEachPackIsInEachTier) {
  Baking baking;
  const std::size_t sugar = baking.pack(food("sugar"));
  const std::size_t flour = baking.pack(food("flour", {"gluten:wheat"}));
  const std::size_t sponge = baking.batch("sponge", {of_pack(sugar, grams(30)), of_pack(flour, grams(70))}, grams(90));
  const std::size_t icing = baking.batch("icing", {of_pack(sugar, grams(20))}, grams(20));
  baking.place("bottom", sponge, grams(60));
  baking.place("bottom", icing, grams(10));
  baking.place("top", sponge, grams(30));
  const Result<Composition> made = compose(baking.parts, {});
  ASSERT_EQ(made->tiers.size(), 2U);
  EXPECT_EQ(made->tiers[0].lots, (std::vector<std::pair<std::size_t, Share>>{{sugar, 30'000}, {flour, share_of(140'000, 3)}}));
  EXPECT_EQ(made->tiers[1].lots, (std::vector<std::pair<std::size_t, Share>>{{sugar, 10'000}, {flour, share_of(70'000, 3)}}));
}

TEST(Composition, TellsAllWaysWhenTheyAreFew) {
  Baking baking;
  const std::size_t flour = baking.pack(food("flour", {"gluten:wheat"}), "F1");
  std::vector<Use> uses;
  for (std::size_t i = 0; i < most_ways + 1; ++i)
    uses.push_back(of_batch(baking.batch("part", {of_pack(flour, grams(10))}, grams(10)), grams(10)));
  CakeParts twelve = baking.parts;
  twelve.batches.push_back({BatchId{"batch-99"}, "all", {uses.begin(), uses.end() - 1}, grams(120), true, {}});
  twelve.placed.push_back({"top", twelve.batches.size() - 1, grams(120), true});
  EXPECT_EQ(compose(twelve, {})->lots[0].paths.size(), most_ways);
  CakeParts thirteen = baking.parts;
  thirteen.batches.push_back({BatchId{"batch-99"}, "all", uses, grams(130), true, {}});
  thirteen.placed.push_back({"top", thirteen.batches.size() - 1, grams(130), true});
  EXPECT_EQ(compose(thirteen, {})->lots[0].paths.back(), "and 1 more way");
}

}  // namespace
}  // namespace tierproof
