#include <gtest/gtest.h>

#include "cake_for_tests.h"
#include "tierproof/sums/declaration.h"

// A list by part (FIC Annex VII E 1): each part of the cake by its customary name at its total weight, its own list at once behind it.

namespace tierproof {
namespace {

using namespace for_tests;

std::size_t named_batch(Baking& baking, const std::string& name, std::vector<Use> uses, Mass yield) {
  const std::size_t made = baking.batch(name, std::move(uses), yield);
  baking.parts.batches[made].label_name = name;
  return made;
}
Declaration by_part(const CakeParts& parts, const LabelTerms& terms = label_terms()) {
  const Labelled cake = label(parts, terms);
  DeclareAs as;
  as.list = "by part";
  return declare(parts, cake.made, terms, "ingredient list", as);
}

/// 600 g of sponge, 300 g of buttercream with 50 g of jam in it.
Baking sponge_and_cream() {
  Baking baking;
  const std::size_t flour = baking.pack(food("flour", {"gluten:wheat"}));
  const std::size_t butter = baking.pack(food("butter", {"milk"}));
  const std::size_t sugar = baking.pack(food("sugar"));
  const std::size_t fruit = baking.pack(food("apricots"));
  const std::size_t sponge =
      named_batch(baking, "sponge", {of_pack(flour, grams(350)), of_pack(butter, grams(150)), of_pack(sugar, grams(150))}, grams(600));
  const std::size_t jam = baking.batch("jam", {of_pack(fruit, grams(30)), of_pack(sugar, grams(30))}, grams(50));
  const std::size_t cream =
      named_batch(baking, "buttercream", {of_pack(butter, grams(150)), of_pack(sugar, grams(100)), of_batch(jam, grams(50))}, grams(300));
  baking.place("only", sponge, grams(600));
  baking.place("only", cream, grams(300));
  return baking;
}

TEST(ByPart, ListsEachPartWithItsOwnListBehindIt) {
  const Baking baking = sponge_and_cream();
  const Declaration declared = by_part(baking.parts);
  EXPECT_EQ(declared.list, "by part");
  EXPECT_EQ(marked(declared), "sponge (flour (*WHEAT*), butter (*MILK*), sugar), buttercream (butter (*MILK*), sugar, apricots)")
      << "the jam has no name of its own, so that it is merged";
  ASSERT_EQ(declared.ingredients.size(), 2U);
  EXPECT_EQ(declared.ingredients[0].ingoing_mg, 600'000);
  EXPECT_EQ(declared.ingredients[0].of_finished, share_of(2, 3));
  EXPECT_EQ(declared.ingredients[1].lots, (std::vector<std::size_t>{1, 2, 3}));
}

TEST(ByPart, ListsAPartWithinAPartByItsNameAtItsMass) {
  Baking baking = sponge_and_cream();
  baking.parts.batches[1].label_name = "apricot jam";
  const Declaration declared = by_part(baking.parts);
  EXPECT_EQ(marked(declared),
            "sponge (flour (*WHEAT*), butter (*MILK*), sugar), buttercream (butter (*MILK*), sugar, "
            "apricot jam (apricots, sugar))");
  EXPECT_EQ(declared.ingredients[1].lots, (std::vector<std::size_t>{1, 2, 3})) << "packs of the jam too";
}

TEST(ByPart, RanksAPartWithinAPartByItsFinishedMass) {
  Baking baking;
  const std::size_t sugar = baking.pack(food("sugar"));
  const std::size_t fruit = baking.pack(food("apricots"));
  const std::size_t jam = named_batch(baking, "jam", {of_pack(fruit, grams(80)), of_pack(sugar, grams(80))}, grams(100));
  const std::size_t filling = named_batch(baking, "filling", {of_batch(jam, grams(100)), of_pack(sugar, grams(120))}, grams(220));
  baking.place("only", filling, grams(220));
  EXPECT_EQ(marked(by_part(baking.parts)), "filling (sugar, jam (apricots, sugar))") << "100 g of jam, though 160 g went into it";
}

TEST(ByPart, PutsBatchesOfOneNameTogether) {
  Baking baking;
  const std::size_t flour = baking.pack(food("flour", {"gluten:wheat"}));
  const std::size_t cocoa = baking.pack(food("cocoa"));
  const std::size_t one = named_batch(baking, "sponge", {of_pack(flour, grams(100))}, grams(100));
  const std::size_t other = named_batch(baking, "sponge", {of_pack(flour, grams(60)), of_pack(cocoa, grams(40))}, grams(100));
  baking.place("bottom", one, grams(100));
  baking.place("top", other, grams(50));
  const Declaration declared = by_part(baking.parts);
  EXPECT_EQ(marked(declared), "sponge (flour (*WHEAT*), cocoa)");
  EXPECT_EQ(declared.ingredients[0].ingoing_mg, 150'000);
}

TEST(ByPart, MergesALeftOverIntoTheBatchOfItsName) {
  Baking baking;
  const std::size_t first = named_batch(baking, "sponge", {of_pack(baking.pack(food("flour", {"gluten:wheat"})), grams(100))}, grams(100));
  const std::size_t second =
      named_batch(baking, "sponge", {of_batch(first, grams(50)), of_pack(baking.pack(food("sugar")), grams(50))}, grams(100));
  baking.place("only", second, grams(100));
  EXPECT_EQ(marked(by_part(baking.parts)), "sponge (flour (*WHEAT*), sugar)");
}

TEST(ByPart, NeverMergesAPartWithABoughtPackOfItsName) {
  Baking baking;
  const std::size_t cream = named_batch(baking, "buttercream", {of_pack(baking.pack(food("butter", {"milk"})), grams(100))}, grams(100));
  const std::size_t cake = named_batch(
      baking, "filling", {of_batch(cream, grams(60)), of_pack(baking.pack(food("buttercream", {"soybeans"})), grams(40))}, grams(100));
  baking.place("only", cake, grams(100));
  EXPECT_EQ(marked(by_part(baking.parts)), "filling (buttercream (butter (*MILK*)), buttercream (*SOYA*))");
}

TEST(ByPart, ListsAPartThatWeighsMoreThanWhatIsRecorded) {
  Baking baking;
  const std::size_t light = named_batch(baking, "glaze", {of_pack(baking.pack(food("milk powder", {"milk"})), grams(90))}, grams(100));
  const std::size_t heavy = named_batch(baking, "sponge", {of_pack(baking.pack(food("flour", {"gluten:wheat"})), grams(150))}, grams(120));
  baking.place("only", light, grams(100));
  baking.place("only", heavy, grams(120));
  EXPECT_EQ(marked(by_part(baking.parts)), "sponge (flour (*WHEAT*)), glaze (*MILK* powder)") << "no allergen is lost by it";
}

TEST(ByPart, TakesLimitsOverTheWholeCake) {  // FIC Annex VII E 2(a): less than 2 % of the finished product
  const auto list = [](std::int64_t jam_mg) {
    IngredientFacts bought = food("jam");
    bought.parts = {part("apricots"), part("sugar")};
    bought.fixed_by_law = "jam";
    Baking baking;
    const std::size_t jam = baking.pack(bought);
    const std::size_t flour = baking.pack(food("flour", {"gluten:wheat"}));
    const auto half = [&](const std::string& name) {
      const std::size_t made = named_batch(
          baking, name, {of_pack(flour, Mass::milligrams(500'000 - jam_mg)), of_pack(jam, Mass::milligrams(jam_mg))}, grams(500));
      baking.place("only", made, grams(500));
    };
    half("layer one");
    half("layer two");
    return marked(by_part(baking.parts));
  };
  EXPECT_EQ(list(9'999), "layer one (flour (*WHEAT*), jam), layer two (flour (*WHEAT*), jam)");
  EXPECT_EQ(list(10'000), "layer one (flour (*WHEAT*), jam (apricots, sugar)), layer two (flour (*WHEAT*), jam (apricots, sugar))")
      << "2 % of the cake, though only 1 % of it in each part";
}

TEST(ByPart, LeavesWaterOutOnlyWhereItIsLittleInThePartAndInAll) {  // FIC Annex VII A 1
  const auto list = [](std::int64_t in_syrup, std::int64_t in_glaze) {
    Baking baking;
    const std::size_t tap = baking.pack(water());
    const std::size_t sugar = baking.pack(food("sugar"));
    const auto half = [&](const std::string& name, std::int64_t mg) {
      const std::size_t made =
          named_batch(baking, name, {of_pack(sugar, Mass::milligrams(500'000 - mg)), of_pack(tap, Mass::milligrams(mg))}, grams(500));
      baking.place("only", made, grams(500));
    };
    half("syrup", in_syrup);
    half("glaze", in_glaze);
    const Declaration declared = by_part(baking.parts);
    return std::pair{marked(declared), declared.water_left_out};
  };
  EXPECT_EQ(list(25'000, 25'000), (std::pair{std::string{"glaze (sugar), syrup (sugar)"}, true})) << "exactly 5 % together";
  EXPECT_EQ(list(25'000, 25'001), (std::pair{std::string{"glaze (sugar, water), syrup (sugar, water)"}, false}));
  EXPECT_EQ(list(0 + 1, 60'000).second, false);
}

TEST(ByPart, IsNotLawfulWithoutNames) {
  Baking baking = sponge_and_cream();
  EXPECT_EQ(why_not_by_part(baking.parts), "");
  baking.parts.batches[2].label_name.clear();
  EXPECT_EQ(why_not_by_part(baking.parts), "batch-3 (buttercream) has no customary name to stand in a list by");
  EXPECT_EQ(by_part(baking.parts).list, "merged");
  EXPECT_EQ(marked(by_part(baking.parts)), marked(label(baking.parts).declared));
}

TEST(ShorterList, IsTheShorterInLettersAndMergedWhenTheyAreEqual) {
  const auto chosen = [](const std::string& part_name, const std::string& pack_name) {
    Baking baking;
    const std::size_t only = named_batch(baking, part_name, {of_pack(baking.pack(food(pack_name)), grams(10))}, grams(10));
    baking.place("only", only, grams(10));
    const Labelled cake = label(baking.parts);
    return shorter_list(baking.parts, cake.made, cake.terms, "ingredient list").list;
  };
  EXPECT_EQ(chosen("a", "b"), "merged") << "a name in front only makes it longer";

  Baking baking;  // one pack of a long sub-list in two parts: merged it stands once
  IngredientFacts mix = food("mix");
  mix.parts = {part("a long part of it"), part("another long part of it")};
  const std::size_t pack = baking.pack(mix);
  for (const char* name : {"one", "two"}) baking.place("only", named_batch(baking, name, {of_pack(pack, grams(10))}, grams(10)), grams(10));
  const Labelled cake = label(baking.parts);
  const Declaration shorter = shorter_list(baking.parts, cake.made, cake.terms, "ingredient list");
  EXPECT_EQ(shorter.list, "merged");
  EXPECT_EQ(marked(shorter), "mix (a long part of it, another long part of it)");
}

TEST(ShorterList, GoesByPartWhereThatSavesLetters) {
  // In each part the relief by name is the same; the small words for a share stand in the merged list alone.
  LabelTerms terms = label_terms();
  terms.any_order_below.wording = "Contains less than 2 percent of {names}";
  Baking baking;
  const std::size_t part_of_it =
      named_batch(baking, "é", {of_pack(baking.pack(food("sugar")), grams(99)), of_pack(baking.pack(food("salt")), grams(1))}, grams(100));
  baking.place("only", part_of_it, grams(100));
  const Labelled cake = label(baking.parts, terms);
  EXPECT_EQ(marked(cake.declared), "sugar, Contains less than 2 percent of salt");
  EXPECT_EQ(marked(shorter_list(baking.parts, cake.made, terms, "ingredient list")), "é (sugar, salt)");
  baking.parts.batches[0].label_name.clear();
  EXPECT_EQ(shorter_list(baking.parts, cake.made, terms, "ingredient list").list, "merged") << "not lawful by part";
}

TEST(ShorterList, CountsLettersAndNotBytes) {
  LabelTerms terms = label_terms();
  terms.any_order_below.wording = "12345 {names}";  // six letters more than without it
  const auto chosen = [&](const std::string& name) {
    Baking baking;
    const std::size_t made = named_batch(
        baking, name, {of_pack(baking.pack(food("sugar")), grams(99)), of_pack(baking.pack(food("salt")), grams(1))}, grams(100));
    baking.place("only", made, grams(100));
    const Labelled cake = label(baking.parts, terms);
    return shorter_list(baking.parts, cake.made, terms, "ingredient list").list;
  };
  // "sugar, 12345 salt", 17 letters, against "name (sugar, salt)", 14 and the name
  EXPECT_EQ(chosen("éé"), "by part") << "two letters, four bytes";
  EXPECT_EQ(chosen("ééé"), "merged") << "equal";
}

}  // namespace
}  // namespace tierproof
