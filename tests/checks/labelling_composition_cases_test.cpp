#include <gtest/gtest.h>

#include <set>

#include "sums/cake_for_tests.h"
#include "tierproof/sums/composition.h"

// Worked cases of tracing, as shapes of composition: what went into a cake, by which ways, in what mass. They are this project's own
// worked examples ("common practice, no source"); the ways onward to customers and the balance of a pack belong to the trace.

namespace tierproof {
namespace {

using namespace for_tests;

std::set<std::string> packs_of(const CakeParts& parts) {
  const Result<Composition> made = compose(parts, {});
  std::set<std::string> packs;
  for (const LotAmount& amount : made->lots) packs.insert(parts.lots[amount.lot].id.text());
  return packs;
}

TEST(TraceCases, C01ChainLeadsFromTheCakeToTheFlourAndTheOtherInputs) {
  Baking baking;
  const std::size_t flour = baking.pack(food("flour"));
  const std::size_t eggs = baking.pack(food("eggs"));
  const std::size_t sponge = baking.batch("sponge", {of_pack(flour, grams(500)), of_pack(eggs, grams(200))}, grams(600));
  baking.place("top", sponge, grams(300));
  EXPECT_EQ(packs_of(baking.parts), (std::set<std::string>{"pack-1", "pack-2"}));
}

TEST(TraceCases, C02SplitGivesEachCakeItsPartAndTheRestStays) {
  const auto ingoing_in = [](std::int64_t placed) {
    Baking baking;
    const std::size_t sponge = baking.batch("sponge", {of_pack(baking.pack(food("flour")), grams(4000))}, grams(3600));
    baking.place("only", sponge, grams(placed));
    return compose(baking.parts, {})->ingoing_mg;
  };
  const Share cakes = ingoing_in(1200) + ingoing_in(1200) + ingoing_in(900);
  const Share rest = ingoing_in(250) + ingoing_in(50);  // frozen, waste
  EXPECT_EQ(cakes + rest, 4'000'000) << "3600 - 3300 - 250 - 50 = 0";
}

TEST(TraceCases, C03MergeLeavesNoPartOfTheSpongeOutOfEitherEggPack) {
  Baking baking;
  const std::size_t first = baking.pack(food("egg"), "E1");
  const std::size_t second = baking.pack(food("egg"), "E2");
  const std::size_t sponge = baking.batch("sponge", {of_pack(first, grams(400)), of_pack(second, grams(200))}, grams(550));
  baking.place("only", sponge, grams(55));
  const Result<Composition> made = compose(baking.parts, {});
  ASSERT_TRUE(made);
  ASSERT_EQ(made->lots.size(), 2U);
  EXPECT_EQ(made->lots[0].ingoing_mg, 40'000);
  EXPECT_EQ(made->lots[1].ingoing_mg, 20'000);
}

TEST(TraceCases, C04DiamondListsThePackOnceWithBothWays) {
  Baking baking;
  const std::size_t flour = baking.pack(food("flour", {"gluten:wheat"}), "F1");
  const std::size_t sponge = baking.batch("sponge", {of_pack(flour, grams(100))}, grams(90));
  const std::size_t biscuit = baking.batch("biscuit", {of_pack(flour, grams(50))}, grams(40));
  baking.place("only", sponge, grams(45));
  baking.place("only", biscuit, grams(8));
  const Result<Composition> made = compose(baking.parts, {"gluten:wheat"});
  ASSERT_TRUE(made);
  ASSERT_EQ(made->lots.size(), 1U);
  EXPECT_EQ(made->lots[0].ingoing_mg, 50'000 + 10'000);
  EXPECT_EQ(made->lots[0].paths, (std::vector<std::string>{"cake-1 → batch-1 (sponge) → pack-1", "cake-1 → batch-2 (biscuit) → pack-1"}));
  EXPECT_EQ(made->allergens[0].contains.size(), 2U);
}

TEST(TraceCases, C05ReworkCarriesWhatTheCrumbsBring) {
  Baking baking;
  const std::size_t sponge = baking.batch("sponge, Monday", {of_pack(baking.pack(food("flour", {"gluten:wheat"})), grams(100))}, grams(90));
  const std::size_t truffles =
      baking.batch("truffles, Tuesday", {of_batch(sponge, grams(30)), of_pack(baking.pack(food("cream", {"milk"})), grams(30))}, grams(60));
  baking.place("box", truffles, grams(60));
  const Result<Composition> made = compose(baking.parts, {"gluten:wheat", "milk"});
  ASSERT_TRUE(made);
  EXPECT_EQ(made->allergens[0].contains,
            std::vector<std::string>{"cake-1 → batch-2 (truffles, Tuesday) → batch-1 (sponge, Monday) → pack-1 (flour, code L1)"});
  EXPECT_EQ(made->allergens[1].presence, Presence::contains);
}

TEST(TraceCases, C06BalanceOfWhatWentIntoTheCakesIsExact) {
  Share used = 0;
  for (const std::int64_t mass : {4500, 3750, 2250, 1800}) {
    Baking baking;
    const std::size_t sponge = baking.batch("sponge", {of_pack(baking.pack(food("flour")), grams(mass))}, grams(mass - 100));
    baking.place("only", sponge, grams(mass - 100));
    used += compose(baking.parts, {})->ingoing_mg;
  }
  EXPECT_EQ(used, 12'300'000);
  EXPECT_EQ(16'000'000 - used - 300'000 - 3'260'000, 140'000) << "unaccounted 140 g";
}

}  // namespace
}  // namespace tierproof
