#include "tierproof/sums/statements.h"

#include <gtest/gtest.h>

#include "cake_for_tests.h"

// The wordings are those of FIC Annex III and of Reg (EC) 1333/2008 art. 24, except where a test says that it made one up.

namespace tierproof {
namespace {

using namespace for_tests;

struct Ask {
  DeclareAs as{};
  std::string kind = "ingredient list";
};

std::vector<Statement> stated(const CakeParts& parts, const LabelTerms& terms, const Ask& ask = {}) {
  const Labelled cake = label(parts, terms, ask.kind);
  return statements_of(cake.parts, cake.made, cake.terms, ask.as, cake.declared);
}
std::vector<std::string> texts(const std::vector<Statement>& all) {
  std::vector<std::string> found;
  for (const Statement& one : all) found.push_back(one.placed + ": " + one.text);
  return found;
}
using Texts = std::vector<std::string>;

IngredientFacts with_part(const std::string& name, DeclaredPart one) {
  IngredientFacts made = food(name);
  made.parts = {part("sugar"), std::move(one)};
  return made;
}
CakeParts with(const IngredientFacts& facts, std::int64_t mg = 100'000) {
  return one_batch({{food("flour", {"gluten:wheat"}), Mass::milligrams(1'000'000 - mg)}, {facts, Mass::milligrams(mg)}}, grams(1000));
}

TEST(AdditiveWordings, StandOnceAndNameTheColoursAsPrinted) {
  const IngredientFacts yellow = with_part("sprinkles", additive_part("tartrazine", "E 102", "colour"));
  const IngredientFacts red = with_part("sugar paste", additive_part("E129", "E129", "colour", false));
  const CakeParts parts =
      one_batch({{food("flour"), grams(800)}, {yellow, grams(100)}, {yellow, grams(50)}, {red, grams(50)}}, grams(1000));
  const std::vector<Statement> found = stated(parts, label_terms());
  ASSERT_EQ(found.size(), 1U) << "the sentence once, though two packs and two colours bring it";
  EXPECT_EQ(found[0].text, "tartrazine, E129: may have an adverse effect on activity and attention in children.");
  EXPECT_EQ(found[0].placed, "statement");
  EXPECT_EQ(found[0].cited.row, "colour-warning");
  EXPECT_EQ(found[0].lots, (std::vector<std::size_t>{1, 2, 3}));
}

TEST(AdditiveWordings, AreBroughtByEachOfTheSixColoursAndByNoOther) {
  for (const char* number : {"E102", "E104", "E110", "E122", "E124", "E129", "E129(i)", "e 129"})
    EXPECT_EQ(stated(with(with_part("sprinkles", additive_part(number, number, "colour"))), label_terms()).size(), 1U) << number;
  for (const char* number : {"E100", "E171", "E127", "E150a"})
    EXPECT_TRUE(stated(with(with_part("sprinkles", additive_part(number, number, "colour"))), label_terms()).empty()) << number;
}

TEST(AdditiveWordings, FindAColourThatIsGivenByItsNameAlone) {
  EXPECT_EQ(stated(with(with_part("sprinkles", part("Tartrazine"))), label_terms()).size(), 1U);
  EXPECT_EQ(stated(with(with_part("sprinkles", part("INS 110"))), label_terms()).size(), 1U);
  EXPECT_EQ(stated(with(with_part("sprinkles", additive_part("yellow", "INS 102", "colour"))), label_terms()).size(), 1U);
  EXPECT_TRUE(stated(with(with_part("sprinkles", part("plain caramel"))), label_terms()).empty());
}

LabelTerms aspartame_terms() {
  LabelTerms terms = label_terms();
  terms.additives.push_back(additive("E951", "aspartame", {"sweetener"}));
  terms.share_wordings.clear();
  terms.additive_wordings = {
      {fic("by-number", "Annex III 2.3"), {"E951", "E962"}, "contains aspartame (a source of phenylalanine)", "number"},
      {fic("by-name", "Annex III 2.3"), {"E951", "E962"}, "contains a source of phenylalanine", "name"}};
  return terms;
}

TEST(AdditiveWordings, GoByHowTheListShowsTheAdditive) {
  const CakeParts numbered = with(with_part("glaze", additive_part("E951", "E951", "sweetener")));
  const CakeParts named = with(with_part("glaze", additive_part("aspartame", "E951", "sweetener")));
  EXPECT_EQ(texts(stated(numbered, aspartame_terms())), (Texts{"statement: contains aspartame (a source of phenylalanine)"}));
  EXPECT_EQ(texts(stated(named, aspartame_terms())), (Texts{"statement: contains a source of phenylalanine"}));
  Ask loose;
  loose.kind = "allergens";
  EXPECT_EQ(texts(stated(named, aspartame_terms(), loose)), (Texts{"statement: contains aspartame (a source of phenylalanine)"}))
      << "no list names it";
  LabelTerms printed = aspartame_terms();
  for (AdditiveTerm& row : printed.additives)
    if (row.number == "E951") row.print = "aspartame";
  EXPECT_EQ(texts(stated(numbered, printed)), (Texts{"statement: contains a source of phenylalanine"})) << "the law prints the name";
}

IngredientFacts isomalt(Share polyols = 1) {
  IngredientFacts made = food("isomalt");
  made.additive = "E953";
  made.additive_class = "sweetener";
  made.polyols = std::move(polyols);
  return made;
}

/// FIC Annex III 2.4: more than 10 % added polyols.
TEST(ShareWordings, SpeakOfPolyolsStrictlyAboveTheirLimit) {
  const LabelTerms terms = label_terms();
  const std::string laxative = "statement: excessive consumption may produce laxative effects";
  EXPECT_TRUE(holds(texts(stated(with(isomalt(), 100'001), terms)), laxative));
  EXPECT_FALSE(holds(texts(stated(with(isomalt(), 100'000), terms)), laxative)) << "exactly 10.0 %";
}

TEST(ShareWordings, CountAPolyolWholeWhenItsPackSaysNothing) {
  LabelTerms terms = label_terms();
  for (AdditiveTerm& row : terms.additives)
    if (row.number == "E953") row.flags = {"polyol"};
  const auto share = [&](const IngredientFacts& facts) {
    const Labelled cake = label(with(facts), terms);
    return worded_share("polyols", cake.parts, cake.made, cake.terms);
  };
  EXPECT_EQ(share(isomalt(0))->share, share_of(10, 100));
  EXPECT_EQ(share(isomalt(share_of(1, 2)))->share, share_of(5, 100)) << "the pack's own figure";
  DeclaredPart one = additive_part("isomalt", "E953", "sweetener");
  EXPECT_FALSE(share(with_part("sweets", one))) << "no share given";
  one.share = share_of(3, 10);
  EXPECT_EQ(share(with_part("sweets", one))->share, share_of(3, 100));
  one.mg_per_kg = 400'000;
  EXPECT_EQ(share(with_part("sweets", one))->share, share_of(4, 100)) << "the supplier's figure before the share";
}

/// FIC Annex III 2.1 and 2.2.
TEST(ShareWordings, NameSugarsAndSweetenersInsteadOfSweetenersAlone) {
  LabelTerms terms = label_terms();
  for (ShareWording& row : terms.share_wordings)
    if (row.of != "polyols") row.placed = "name";
  IngredientFacts sugar = food("sugar");
  sugar.kind = "sugar";
  const CakeParts both = one_batch({{food("flour"), grams(900)}, {isomalt(), grams(50)}, {sugar, grams(50)}}, grams(1000));
  EXPECT_EQ(texts(stated(both, terms)), (Texts{"name: with sugar(s) and sweetener(s)"}));
  EXPECT_EQ(stated(both, terms)[0].lots, (std::vector<std::size_t>{1, 2}));
  EXPECT_EQ(texts(stated(with(isomalt(), 50'000), terms)), (Texts{"name: with sweetener(s)"}));
  EXPECT_TRUE(stated(with(sugar), terms).empty());
  std::erase_if(terms.share_wordings, [](const ShareWording& row) { return row.of == "sugars and sweeteners"; });
  EXPECT_EQ(texts(stated(both, terms)), (Texts{"name: with sweetener(s)"})) << "rules without the joint words";
}

TEST(ShareWordings, TakeWhatIsASweetenerFirstOfAllForOneWithoutAClass) {
  LabelTerms terms = label_terms();
  EXPECT_EQ(stated(with(with_part("glaze", additive_part("E953", "E953", ""))), terms).size(), 1U);
  EXPECT_TRUE(stated(with(with_part("glaze", additive_part("E953", "E953", "humectant"))), terms).empty());
}

MarkWording mark(std::string mark, std::string wording, std::string placed) {
  return {fic("mark-" + mark, "Annex VI A", true), std::move(mark), std::move(wording), std::move(placed)};
}

TEST(MarkWordings, StandWhereTheirRowPlacesThem) {
  LabelTerms terms = label_terms();
  terms.mark_wordings = {mark("raw milk", "made with raw milk", "statement"),
                         mark("nano", "(nano)", "ingredient"),
                         mark("defrosted", "defrosted", "name"),
                         mark("royal jelly", "This product contains royal jelly", "after list"),
                         mark("alcohol", "not to be sold to children", "told"),
                         mark("irradiated", "irradiated", "ingredient")};
  IngredientFacts cheese = food("cheese", {"milk"});
  cheese.marks = {"raw milk", "nano", "defrosted", "alcohol"};
  DeclaredPart jelly = part("royal jelly");
  jelly.marks = {"royal jelly"};
  const CakeParts parts = one_batch({{cheese, grams(900)}, {with_part("honey", jelly), grams(100)}}, grams(1000));
  EXPECT_EQ(texts(stated(parts, terms)), (Texts{"statement: made with raw milk", "after list: This product contains royal jelly"}))
      << "a thawed pack does not make the cake a thawed one";
  EXPECT_EQ(stated(parts, terms)[1].lots, std::vector<std::size_t>{1});

  Ask whole;
  whole.as.marks = {"defrosted", "irradiated"};
  EXPECT_EQ(texts(stated(parts, terms, whole)), (Texts{"statement: made with raw milk", "name: defrosted",
                                                       "after list: This product contains royal jelly", "name: irradiated"}));

  const Labelled cake = label(parts, terms);
  const std::vector<Statement> told = things_to_tell(cake.parts, cake.made, terms, {});
  EXPECT_EQ(texts(told), (Texts{"told: not to be sold to children"}));
  EXPECT_EQ(told[0].lots, std::vector<std::size_t>{0});
}

/// FIC Annex III 3.1 (read) and 3.2 (from memory): 100 mg/kg and 4 g/kg of glycyrrhizinic acid.
LabelTerms liquorice_terms() {
  LabelTerms terms = label_terms();
  terms.amount_wordings = {
      {fic("liquorice", "Annex III 3.1"), "glycyrrhizinic acid", 100, Share{4000}, "contains liquorice", "after list", "liquorice"},
      {fic("liquorice-much", "Annex III 3.2", true), "glycyrrhizinic acid", 4000, std::nullopt,
       "contains liquorice - people suffering from hypertension should avoid excessive consumption", "after list", ""}};
  return terms;
}
IngredientFacts black_drops(std::optional<Share> mg_per_kg) {
  IngredientFacts made = food("black drops");
  made.marks = {"liquorice"};
  made.glycyrrhizinic_mg_per_kg = std::move(mg_per_kg);
  return made;
}

TEST(AmountWordings, BeginAtTheirAmountAndEndBelowTheNext) {
  const auto at = [&](const Share& mg_per_kg) { return texts(stated(with(black_drops(mg_per_kg * 10)), liquorice_terms())); };
  const std::string some = "after list: contains liquorice";
  EXPECT_EQ(at(share_of(9999, 100)), Texts{});
  EXPECT_EQ(at(100), Texts{some});
  EXPECT_EQ(at(share_of(399'999, 100)), Texts{some});
  EXPECT_EQ(at(4000), Texts{some + " - people suffering from hypertension should avoid excessive consumption"});
}

TEST(AmountWordings, AreSparedByTheWordInListOrName) {
  IngredientFacts sweets = black_drops(Share{5000});
  sweets.label_name = "liquorice drops";
  EXPECT_TRUE(stated(with(sweets), liquorice_terms()).empty());
  Ask loose;
  loose.kind = "allergens";
  EXPECT_EQ(stated(with(sweets), liquorice_terms(), loose).size(), 1U) << "no list is printed that says it";
  loose.as.name = "Liquorice cake";
  EXPECT_TRUE(stated(with(sweets), liquorice_terms(), loose).empty());
  loose.as.name = "Liquoricey cake";
  EXPECT_EQ(stated(with(sweets), liquorice_terms(), loose).size(), 1U) << "a whole word only";
  sweets.glycyrrhizinic_mg_per_kg = 40'000;
  EXPECT_EQ(stated(with(sweets), liquorice_terms()).size(), 1U) << "the graver sentence is spared by nothing";
}

TEST(AmountWordings, TakeTheLowestRowWhereAMarkedPackGivesNoFigure) {
  EXPECT_EQ(texts(stated(with(black_drops(std::nullopt)), liquorice_terms())), Texts{"after list: contains liquorice"});
  EXPECT_EQ(texts(stated(with(black_drops(Share{0})), liquorice_terms())), Texts{});
  const Labelled cake = label(with(black_drops(std::nullopt)), liquorice_terms());
  EXPECT_EQ(worded_amount("glycyrrhizinic acid", cake.parts, cake.made, cake.terms)->silent, std::vector<std::size_t>{1});
  EXPECT_FALSE(worded_amount("caffeine", cake.parts, cake.made, cake.terms));
}

TEST(Statements, StandEachOnceInTheOrderOfTheRows) {
  LabelTerms terms = liquorice_terms();
  terms.mark_wordings = {mark("liquorice", "contains liquorice", "after list"), mark("raw milk", "made with raw milk", "statement")};
  IngredientFacts drops = black_drops(Share{1000});
  drops.marks.push_back("raw milk");
  drops.parts = {additive_part("E102", "E102", "colour")};
  EXPECT_EQ(texts(stated(with(drops), terms)), (Texts{"statement: E102: may have an adverse effect on activity and attention in children.",
                                                      "after list: contains liquorice", "statement: made with raw milk"}));
}

}  // namespace
}  // namespace tierproof
