#include <gtest/gtest.h>

#include "cake_for_tests.h"
#include "tierproof/sums/declaration.h"

namespace tierproof {
namespace {

using namespace for_tests;

std::vector<Finding> judged(const CakeParts& parts, const std::string& control, const LabelTerms& terms = label_terms()) {
  const Labelled cake = label(parts, terms);
  return of_control(check(cake.parts, cake.made, cake.declared, cake.terms), control);
}

IngredientFacts with_additive(const std::string& number, const std::string& title, const std::string& name = "") {
  IngredientFacts made = food("sprinkles");
  made.parts = {part("sugar"), additive_part(name.empty() ? number : name, number, title)};
  return made;
}
CakeParts cake_with(const IngredientFacts& facts) { return one_batch({{food("sugar"), grams(900)}, {facts, grams(100)}}, grams(1000)); }

TEST(Check, ReportsEveryControlOfAPlainCake) {
  const Labelled cake = label(cake_with(food("butter", {"milk"})));
  const std::vector<Finding> findings = check(cake.parts, cake.made, cake.declared, cake.terms);
  std::vector<std::string> controls;
  for (const Finding& finding : findings) {
    controls.push_back(finding.control);
    EXPECT_EQ(finding.verdict, Verdict::shown) << finding.message;
    EXPECT_EQ(finding.stop, Stop::none);
    EXPECT_EQ(finding.subject, "cake-1");
    EXPECT_TRUE(finding.remedy.empty());
    EXPECT_FALSE(finding.message.empty());
    EXPECT_FALSE(finding.limit.empty()) << finding.control;
    EXPECT_FALSE(finding.result.empty()) << finding.control;
  }
  EXPECT_EQ(controls, (std::vector<std::string>{"allergens-known", "additives-permitted", "sold-as", "sulphites", "masses-weighed"}));
}

TEST(CheckAllergens, StopsForEachUnknownWithoutOverride) {
  IngredientFacts pearls = food("sugar pearls");
  says(pearls, "milk", Presence::unknown);
  says(pearls, "sesame", Presence::absent);  // no evidence
  const std::vector<Finding> found = judged(cake_with(pearls), "allergens-known");
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(found[0].subject, "milk");
  EXPECT_EQ(found[1].subject, "sesame");
  for (const Finding& finding : found) {
    EXPECT_EQ(finding.verdict, Verdict::not_shown);
    EXPECT_EQ(finding.stop, Stop::no_override);
    EXPECT_FALSE(finding.remedy.empty());
  }
  EXPECT_EQ(found[0].message, "nobody can rule out milk: 1 of the 2 packs in it does not say");
  EXPECT_EQ(found[0].paths,
            std::vector<std::string>{"cake-1 → batch-1 (sponge) → pack-2 (sugar pearls, code L2): its specification does not know"});
  EXPECT_NE(found[0].source.find("Annex II 7"), std::string::npos);
}

TEST(CheckAllergens, StopsForAKeyThatWasNotAsked) {
  const LabelTerms terms = label_terms();
  const CakeParts parts = cake_with(food("butter", {"milk"}));
  std::vector<std::string> keys = keys_of(terms);
  std::erase(keys, "lupin");
  const Composition made = *compose(parts, keys);
  const std::vector<Finding> found =
      of_control(check(parts, made, declare(parts, made, terms, "ingredient list"), terms), "allergens-known");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].subject, "lupin");
  EXPECT_EQ(found[0].stop, Stop::no_override);
}

TEST(CheckAllergens, StopsWhenTheRulesNameNoAllergen) {
  LabelTerms terms = label_terms();
  terms.allergens.clear();
  const std::vector<Finding> found = judged(cake_with(food("butter", {"milk"})), "allergens-known", terms);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].stop, Stop::no_override);
}

TEST(CheckAllergens, NeverSaysFree) {
  const Labelled cake = label(cake_with(food("butter", {"milk"})));
  for (const Finding& finding : check(cake.parts, cake.made, cake.declared, cake.terms)) {
    for (const std::string& text : {finding.message, finding.limit, finding.result})
      EXPECT_EQ(text.find("free"), std::string::npos) << text;
  }
}

TEST(CheckAdditives, PassesWhatTheTablePermits) {
  const std::vector<Finding> found = judged(cake_with(with_additive("E471", "emulsifier")), "additives-permitted");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::shown);
  EXPECT_EQ(found[0].subject, "cake-1");
}

/// The rows of the table as if the law had been read.
LabelTerms read_terms() {
  LabelTerms terms = label_terms();
  for (AdditiveTerm& row : terms.additives) row.cited.from_memory = false;
  return terms;
}

TEST(CheckAdditives, StopsForOneThatIsNotPermitted) {
  const std::vector<Finding> found =
      judged(cake_with(with_additive("E105", "colour", "fast yellow AB")), "additives-permitted", read_terms());
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::not_met);
  EXPECT_EQ(found[0].stop, Stop::no_override);
  EXPECT_EQ(found[0].subject, "E105");
  EXPECT_EQ(found[0].message, "fast yellow AB (E105) is not permitted here: not on the list");
  EXPECT_EQ(found[0].paths, std::vector<std::string>{"cake-1 → batch-1 (sponge) → pack-2"});
}

TEST(CheckAdditives, StopsThoughTheAdditiveDoesNothingInTheCake) {
  IngredientFacts sprinkles = with_additive("E105", "colour");
  sprinkles.parts.back().works_in_cake = false;
  EXPECT_EQ(judged(cake_with(sprinkles), "additives-permitted", read_terms())[0].stop, Stop::no_override);
}

TEST(CheckAdditives, AsksAPersonWhereTheRowIsKnownFromMemoryOnly) {
  const CakeParts parts = cake_with(with_additive("E105", "colour", "fast yellow AB"));
  const std::vector<Finding> found = judged(parts, "additives-permitted");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::not_shown);
  EXPECT_EQ(found[0].stop, Stop::needs_person);
  EXPECT_EQ(found[0].message,
            "fast yellow AB (E105) is not permitted here: not on the list (from memory: confirm it with the food authority)");
  LabelTerms confirmed = label_terms();
  for (AdditiveTerm& row : confirmed.additives) row.cited.confirmed = "A, 1 May 2026, told by the food authority";
  EXPECT_EQ(judged(parts, "additives-permitted", confirmed)[0].stop, Stop::no_override);
}

TEST(CheckAdditives, FindsOneThatIsGivenByItsNameAlone) {
  const auto by_name = [](const char* name) {
    IngredientFacts made = food("sprinkles");
    made.parts = {part("sugar"), part(name)};
    return judged(cake_with(made), "additives-permitted", read_terms());
  };
  EXPECT_EQ(by_name("fast yellow AB")[0].stop, Stop::no_override);
  EXPECT_EQ(by_name("INS 105")[0].stop, Stop::no_override);
  EXPECT_EQ(by_name("erythrosine")[0].verdict, Verdict::not_shown);
  const std::vector<Finding> food_too = by_name("pectins");
  ASSERT_EQ(food_too.size(), 1U);
  EXPECT_EQ(food_too[0].verdict, Verdict::shown) << "permitted, and it may be a food as well";
  EXPECT_EQ(food_too[0].result, "0 additives");
}

TEST(CheckAdditives, SuggestsWhatAMisspeltOneMayMean) {
  const std::vector<Finding> found = judged(cake_with(with_additive("E4711", "emulsifier")), "additives-permitted");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NE(found[0].message.find("perhaps E471 (mono- and diglycerides of fatty acids)"), std::string::npos) << found[0].message;
}

TEST(CheckAdditives, AsksAPersonAboutEverythingElse) {
  const std::vector<std::pair<IngredientFacts, std::string>> cases = {
      {with_additive("E127", "colour"), "permitted in some foods only: only in cocktail and candied cherries"},
      {with_additive("E174", "colour"), "permitted for outside decoration only: only on the outside of confectionery"},
      {with_additive("E999", "emulsifier"), "not in the table"},
      {with_additive("", "emulsifier", "mystery"), "without its number"},
      {with_additive("E471", ""), "its usual class, emulsifier, is printed"},
      {with_additive("E471", "goodness"), "no class title of the law's list"},
      {with_additive("E471", "colour"), "is used as colour, and the table knows it as emulsifier alone"},
  };
  for (const auto& [facts, words] : cases) {
    const std::vector<Finding> found = judged(cake_with(facts), "additives-permitted");
    ASSERT_EQ(found.size(), 1U) << words;
    EXPECT_NE(found[0].message.find(words), std::string::npos) << found[0].message;
    EXPECT_EQ(found[0].verdict, Verdict::not_shown);
    EXPECT_EQ(found[0].stop, Stop::needs_person);
    EXPECT_FALSE(found[0].remedy.empty());
    EXPECT_FALSE(found[0].paths.empty());
  }
}

TEST(CheckAdditives, DoesNotTakeAStrangeStatusForAPass) {
  LabelTerms terms = label_terms();
  for (AdditiveTerm& row : terms.additives) {
    if (row.number == "E471") row.status = "Permitted ";
  }
  EXPECT_EQ(judged(cake_with(with_additive("E471", "emulsifier")), "additives-permitted", terms)[0].verdict, Verdict::not_shown);
}

TEST(CheckAdditives, FindsANumberByItsNameOrWithItsSuffix) {
  EXPECT_EQ(judged(cake_with(with_additive("", "emulsifier", "Lecithins")), "additives-permitted")[0].verdict, Verdict::shown);
  EXPECT_EQ(judged(cake_with(with_additive("E 450(i)", "raising agent")), "additives-permitted")[0].verdict, Verdict::shown);
}

TEST(CheckAdditives, ReadsTheWordsOfAPackThatGivesNoNumber) {
  const auto finding = [](const std::string& name) {
    IngredientFacts sprinkles = food("sprinkles", {});
    sprinkles.parts = {part("sugar"), part(name)};
    return judged(cake_with(sprinkles), "additives-permitted", read_terms())[0];
  };
  EXPECT_EQ(finding("fast yellow AB (E105)").stop, Stop::no_override);
  EXPECT_EQ(finding("colour: E105").stop, Stop::no_override);
  EXPECT_EQ(finding("colours (E102, E105)").stop, Stop::no_override) << "one of a list";
  EXPECT_EQ(finding("colour: tartrazine (E102)").verdict, Verdict::shown);
  EXPECT_EQ(finding("colour").verdict, Verdict::not_shown);
  EXPECT_EQ(finding("colour").message, "colour speaks of an additive, and not which one");
  EXPECT_EQ(finding("colour: sunshine").verdict, Verdict::not_shown);
  EXPECT_EQ(finding("colour: sunshine").message, "colour: sunshine speaks of an additive, and sunshine is none that these rules know");
  EXPECT_EQ(finding("beetroot").verdict, Verdict::shown);
}

TEST(CheckSulphites, AsksAboutAPackThatDoesNotKnowUnlessTheyAreDeclaredAnyway) {
  for (const Presence presence : {Presence::unknown, Presence::may_contain}) {
    IngredientFacts jam = food("jam", {});
    says(jam, "sulphites", presence);
    const std::vector<Finding> found = judged(cake_with(jam), "sulphites");
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].verdict, Verdict::not_shown);
    EXPECT_EQ(found[0].stop, Stop::needs_person);
    EXPECT_EQ(found[0].result, "at least 0.0 mg/kg");
    EXPECT_EQ(found[0].paths, std::vector<std::string>{"cake-1 → batch-1 (sponge) → pack-2"});
    jam.sulphites_mg_per_kg = 5;
    EXPECT_EQ(judged(cake_with(jam), "sulphites")[0].verdict, Verdict::shown) << "a figure answers";
  }
  EXPECT_EQ(judged(cake_with(food("sugar", {})), "sulphites")[0].verdict, Verdict::shown);
}

TEST(CheckSulphites, AsksForTheFigureThatIsMissing) {
  const std::vector<Finding> found = judged(cake_with(food("dried fruit", {"sulphites"})), "sulphites");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].verdict, Verdict::not_shown);
  EXPECT_EQ(found[0].stop, Stop::needs_person);
  EXPECT_EQ(found[0].paths, std::vector<std::string>{"cake-1 → batch-1 (sponge) → pack-2"});
  EXPECT_EQ(found[0].result, "at least 0.0 mg/kg");
}

TEST(CheckSulphites, TellsTheSumAndWhetherItIsDeclared) {
  IngredientFacts fruit = food("dried fruit", {"sulphites"});
  fruit.sulphites_mg_per_kg = 100;
  const std::vector<Finding> within = judged(cake_with(fruit), "sulphites");
  EXPECT_EQ(within[0].message, "sulphites come to 10.0 mg/kg of the finished cake and are not declared");
  EXPECT_EQ(within[0].limit, "declared above 10 mg/kg as SO2 in the finished cake");
  fruit.sulphites_mg_per_kg = 200;
  EXPECT_EQ(judged(cake_with(fruit), "sulphites")[0].message, "sulphites come to 20.0 mg/kg of the finished cake and are declared");
}

// ---- masses ---------------------------------------------------------------------------------------------------------------

CakeParts estimated(CakeParts parts) {
  parts.batches[0].weighed = false;
  return parts;
}
CakeParts two(std::int64_t first, std::int64_t second) {
  return one_batch({{food("sugar"), Mass::milligrams(first)}, {food("butter", {"milk"}), Mass::milligrams(second)}},
                   Mass::milligrams(first + second));
}

TEST(CheckMasses, LetsAnEstimatePassThatChangesNothing) {
  const std::vector<Finding> found = judged(estimated(two(700'000, 300'000)), "masses-weighed");
  EXPECT_EQ(found[0].verdict, Verdict::shown);
  EXPECT_NE(found[0].message.find("batch-1 (sponge), what it weighed when finished"), std::string::npos)
      << "it still says what is estimated";
  EXPECT_EQ(found[0].result, "1 estimated");
}

TEST(CheckMasses, AsksWhenTwoNeighboursAreLessThanATenthApart) {
  EXPECT_EQ(judged(estimated(two(100'000, 90'001)), "masses-weighed")[0].verdict, Verdict::not_shown);
  EXPECT_EQ(judged(estimated(two(100'000, 90'000)), "masses-weighed")[0].verdict, Verdict::shown);
  const std::vector<Finding> found = judged(estimated(two(100'000, 95'000)), "masses-weighed");
  EXPECT_EQ(found[0].stop, Stop::needs_person);
  EXPECT_EQ(found[0].paths, std::vector<std::string>{"sugar (100.0 g) before butter (95.0 g)"});
  EXPECT_EQ(judged(two(100'000, 95'000), "masses-weighed")[0].verdict, Verdict::shown) << "weighed masses may be close";
}

TEST(CheckMasses, AsksWhenAShareIsNearItsLimit) {
  const auto verdict = [](std::int64_t small_mg) {
    return judged(estimated(two(1'000'000 - small_mg, small_mg)), "masses-weighed")[0].verdict;
  };
  EXPECT_EQ(verdict(22'000), Verdict::not_shown);  // 2.2 %, the limit is 2 %
  EXPECT_EQ(verdict(22'001), Verdict::shown);
  EXPECT_EQ(verdict(18'000), Verdict::not_shown);
  EXPECT_EQ(verdict(17'999), Verdict::shown);
}

TEST(CheckMasses, AsksWhenWaterSulphitesOrPolyolsAreNearTheirLimit) {
  const CakeParts wet = one_batch({{food("sugar"), grams(951)}, {water(), grams(60)}}, grams(1000));  // 4.9 % of 5 %
  EXPECT_EQ(judged(estimated(wet), "masses-weighed")[0].paths, std::vector<std::string>{"added water: 4.90 %, limit 5.00 %"});
  IngredientFacts fruit = food("dried fruit", {"sulphites"});
  fruit.sulphites_mg_per_kg = 95;
  EXPECT_EQ(judged(estimated(cake_with(fruit)), "masses-weighed")[0].paths,
            std::vector<std::string>{"sulphites: 9.5 mg/kg, limit 10 mg/kg"});
  IngredientFacts isomalt = food("isomalt");
  isomalt.polyols = share_of(95, 100);
  EXPECT_EQ(judged(estimated(cake_with(isomalt)), "masses-weighed")[0].paths, std::vector<std::string>{"polyols: 9.50 %, limit 10.00 %"});
}

TEST(CheckMasses, AsksWhenABatchWeighsMoreThanWhatWentIn) {
  Baking baking;
  const std::size_t sugar = baking.pack(food("sugar"));
  const std::size_t butter = baking.pack(food("butter", {"milk"}));
  baking.place("only", baking.batch("sponge", {of_pack(sugar, grams(600))}, grams(500)), grams(500));
  baking.place("only", baking.batch("icing", {of_pack(butter, grams(85))}, grams(100)), grams(100));
  const std::vector<Finding> found = judged(baking.parts, "masses-weighed");
  EXPECT_EQ(found[0].verdict, Verdict::not_shown);
  EXPECT_EQ(found[0].stop, Stop::needs_person);
  EXPECT_EQ(found[0].message, "batch-2 (icing) weighs 15.0 g more than what went in: something was not recorded, or a mass is wrong");
}

}  // namespace
}  // namespace tierproof
