#include "tierproof/sums/named_quantities.h"

#include <gtest/gtest.h>

#include "cake_for_tests.h"
#include "quid_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;
using Texts = std::vector<std::string>;

LabelTerms terms_with_quid() {
  LabelTerms terms = label_terms();
  terms.named_quantities = quid();
  return terms;
}

struct Named {
  Labelled cake;
  NamedQuantities found;
};
Named named(const CakeParts& parts, const std::string& name, const Texts& shows = {}, const LabelTerms& terms = terms_with_quid()) {
  Labelled cake = label(parts, terms);
  const Result<NamedQuantities> found = named_quantities(cake.parts, cake.made, cake.declared, cake.terms, name, shows);
  return {std::move(cake), found.value()};
}
Texts lines(const NamedQuantities& all) {
  Texts found;
  for (const NamedQuantity& one : all.shown) found.push_back(one.name + " " + one.text);
  return found;
}

IngredientFacts named_of_kind(const std::string& name, const std::string& kind) {
  IngredientFacts made = food(name);
  made.kind = kind;
  return made;
}

/// The cake of case L04: 1280 g finished.
CakeParts chocolate_orange() {
  return one_batch({{food("sugar"), grams(1100)},
                    {food("dark chocolate"), grams(150)},
                    {food("orange juice"), grams(90)},
                    {food("orange zest"), grams(20)}},
                   grams(1280));
}

/// FIC art. 22(1)(a), Annex VIII 3 and 4(a).
TEST(NamedQuantities, AddUpWhatOneWordOfTheNameBringsOut) {
  const Named cake = named(chocolate_orange(), "Chocolate orange cake");
  EXPECT_EQ(lines(cake.found), (Texts{"dark chocolate 12 %", "orange 9 %"}));
  EXPECT_TRUE(cake.found.of_finished);
  EXPECT_FALSE(cake.found.per_100g);
  EXPECT_TRUE(cake.found.cautions.empty());
  const NamedQuantity& orange = cake.found.shown[1];
  EXPECT_EQ(orange.percent, share_of(11000, 1280));
  ASSERT_EQ(orange.members.size(), 2U);
  EXPECT_EQ(orange.members[0].name, "orange juice");
  EXPECT_EQ(orange.members[1].used_mg, 20'000);
  EXPECT_EQ(orange.lots, (std::vector<std::size_t>{2, 3}));
  EXPECT_FALSE(orange.entry);
  ASSERT_TRUE(cake.found.shown[0].entry);
  EXPECT_EQ(cake.cake.declared.ingredients[*cake.found.shown[0].entry].name, "dark chocolate");
  EXPECT_EQ(cake.found.cited->row, "named-quantities");
}

TEST(NamedQuantities, AreAskedByNoRulesWithoutARow) {
  const Named cake = named(chocolate_orange(), "Chocolate orange cake", {"butter"}, label_terms());
  EXPECT_TRUE(cake.found.shown.empty());
  EXPECT_TRUE(cake.found.cautions.empty());
  EXPECT_FALSE(cake.found.cited);
}

TEST(NamedQuantities, AreOverTheMixWhereNothingWasLost) {
  const Named cake = named(one_batch({{food("almonds"), grams(250)}, {food("sugar"), grams(750)}}, grams(1000)), "Almond sweets");
  EXPECT_EQ(lines(cake.found), Texts{"almonds 25 %"}) << "singular and plural are one word";
  EXPECT_FALSE(cake.found.of_finished);
}

/// FIC Annex VIII 1(a): a small quantity used for flavour; art. 7 on what the name then says.
TEST(NamedQuantities, WarnOfANameThatOnlyAFlavouringBears) {
  const CakeParts parts =
      one_batch({{food("sugar"), grams(999)}, {named_of_kind("orange oil", "natural flavouring"), grams(1)}}, grams(1000));
  const Named cake = named(parts, "Orange cake");
  EXPECT_TRUE(cake.found.shown.empty());
  ASSERT_EQ(cake.found.cautions.size(), 1U);
  EXPECT_NE(cake.found.cautions[0].find("only a flavouring brings it (orange oil): it may mislead"), std::string::npos);
  EXPECT_TRUE(named(parts, "Orange flavoured cake").found.cautions.empty());
  EXPECT_TRUE(named(parts, "Birthday cake").found.cautions.empty()) << "a word that no ingredient answers to";
}

TEST(NamedQuantities, ShowTheFoodBesideItsFlavouring) {
  const CakeParts parts = one_batch(
      {{food("sugar"), grams(899)}, {food("orange juice"), grams(100)}, {named_of_kind("orange oil", "natural flavouring"), grams(1)}},
      grams(1000));
  const Named cake = named(parts, "Orange cake");
  EXPECT_EQ(lines(cake.found), Texts{"orange juice 10 %"});
  EXPECT_TRUE(cake.found.cautions.empty());
}

TEST(NamedQuantities, TakeWordsThatStandTogetherBeforeSingleOnes) {
  const CakeParts parts = one_batch({{food("sugar"), grams(600)},
                                     {food("raspberry jam"), grams(200)},
                                     {food("strawberry jam"), grams(150)},
                                     {food("raspberries"), grams(50)}},
                                    grams(1000));
  const Named cake = named(parts, "Cake with raspberry jam");
  EXPECT_EQ(lines(cake.found), (Texts{"raspberries 5 %", "raspberry jam 20 %"}));
  EXPECT_EQ(cake.found.cautions,
            Texts{"strawberry jam shares a word with the name and is not counted: look whether the name speaks of it"});
  EXPECT_EQ(lines(named(parts, "Jam cake").found), Texts{"jam 35 %"});
}

TEST(NamedQuantities, CountWhatIsInACompoundByItsShare) {
  IngredientFacts marzipan = food("marzipan", {"nuts:almond"});
  DeclaredPart almonds = part("almonds");
  almonds.share = share_of(50, 100);
  marzipan.parts = {part("sugar"), almonds};
  const auto cake = [&] {
    return named(one_batch({{food("flour"), grams(700)}, {marzipan, grams(200)}, {food("ground almonds", {"nuts:almond"}), grams(100)}},
                           grams(1000)),
                 "Almond cake");
  };
  EXPECT_EQ(lines(cake().found), Texts{"almond 20 %"});
  marzipan.parts[1].share.reset();
  EXPECT_EQ(lines(cake().found), Texts{"ground almonds 10 %"});
  EXPECT_EQ(cake().found.cautions, Texts{"almonds in marzipan: the pack gives no share, so it is not counted"});
}

/// FIC Annex VIII 4(a): above 100 %, or in total, weights per 100 g of finished food.
TEST(NamedQuantities, TurnIntoWeightsAboveTheWhole) {
  const auto of = [](std::int64_t strawberry, std::int64_t cream) {
    return named(one_batch({{food("strawberries"), grams(strawberry)}, {food("cream", {"milk"}), grams(cream)}}, grams(1000)),
                 "Strawberries and cream");
  };
  EXPECT_EQ(lines(of(600, 500).found), (Texts{"strawberries 60 g per 100 g", "cream 50 g per 100 g"})) << "the total";
  EXPECT_EQ(lines(of(1100, 1).found), (Texts{"strawberries 110 g per 100 g", "cream 0.1 g per 100 g"})) << "a single figure";
  EXPECT_EQ(lines(of(600, 400).found), (Texts{"strawberries 60 %", "cream 40 %"})) << "exactly 100 %";
}

/// FIC Annex VIII 4(b) (from memory): volatile ingredients by what is left; a local leaflet counts what was put in.
TEST(NamedQuantities, CountOfAVolatileFoodWhatRemains) {
  Baking baking;
  const std::size_t flour = baking.pack(food("flour", {"gluten:wheat"}));
  const std::size_t brandy = baking.pack(named_of_kind("brandy", "alcohol"));
  Use soaked = of_pack(brandy, grams(200));
  soaked.remains = share_of(1, 2);
  baking.place("only", baking.batch("soaked cake", {of_pack(flour, grams(900)), soaked}, grams(1000)), grams(1000));
  const Named cake = named(baking.parts, "Brandy cake");
  EXPECT_EQ(lines(cake.found), Texts{"brandy 10 %"});
  EXPECT_EQ(cake.found.cautions, Texts{"brandy: counted is what is left of it; some count what was put in"});
}

TEST(NamedQuantities, AreBroughtOutByWhatTheLabelShows) {
  const CakeParts parts = one_batch({{food("sugar"), grams(700)}, {food("butter", {"milk"}), grams(300)}}, grams(1000));
  EXPECT_EQ(lines(named(parts, "Birthday cake", {"butter"}).found), Texts{"butter 30 %"});
  EXPECT_EQ(lines(named(parts, "Butter cake", {"butter"}).found), Texts{"butter 30 %"}) << "once";
  const Named cow = named(parts, "Birthday cake", {"cream"});
  EXPECT_TRUE(cow.found.shown.empty());
  EXPECT_EQ(cow.found.cautions, Texts{"the label shows cream, and nothing in the cake brings it: it misleads; change what is shown"});
}

}  // namespace
}  // namespace tierproof
