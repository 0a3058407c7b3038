#include "tierproof/sums/plain_checks.h"

#include <gtest/gtest.h>

#include "tierproof/sums/allergy.h"
#include "tierproof/sums/egg_mix.h"
#include "tierproof/sums/hand_over.h"
#include "tierproof/sums/time_out.h"

namespace tierproof {
namespace {

using Words = std::vector<std::pair<std::string, std::string>>;
const Words words{{"milk", "milk"}, {"nuts:almond", "almonds"}};

AllergyQuestion named(std::vector<std::string> keys) {
  AllergyQuestion question;
  question.cake = "cake-1";
  question.answer = "named";
  question.named = std::move(keys);
  return question;
}

TEST(AllergyAnswer, ThatWasNeverGivenOrAskedForIsNotShown) {
  AllergyQuestion question;
  for (const char* answer : {"", "not asked"}) {
    question.answer = answer;
    const auto findings = judge_allergy(question, words);
    ASSERT_EQ(findings.size(), 1u);
    EXPECT_EQ(findings.front().verdict, Verdict::not_shown);
    EXPECT_EQ(findings.front().stop, Stop::needs_person);
  }
}

TEST(AllergyAnswer, NamingWhatTheCakeContainsHasNoOverride) {
  AllergyQuestion question = named({"milk", "nuts:almond"});
  question.contains = {"milk"};
  const auto findings = judge_allergy(question, words);
  ASSERT_EQ(findings.size(), 2u);
  EXPECT_EQ(findings[0].stop, Stop::no_override);
  EXPECT_EQ(findings[0].verdict, Verdict::not_met);
  EXPECT_EQ(findings[1].verdict, Verdict::shown);
  EXPECT_NE(findings[1].message.find("almonds"), std::string::npos);
}

TEST(AllergyAnswer, NamingTracesIsStoppedUntilTheyAreAcceptedInWritingAndThenNeedsAPerson) {
  AllergyQuestion question = named({"nuts:almond"});
  question.may_contain = {"nuts:almond"};
  EXPECT_EQ(judge_allergy(question, words).front().stop, Stop::no_override);
  question.accepted = {"milk"};
  EXPECT_EQ(judge_allergy(question, words).front().stop, Stop::no_override);
  question.accepted = {"nuts:almond"};
  EXPECT_EQ(judge_allergy(question, words).front().stop, Stop::needs_person);
  EXPECT_NE(judge_allergy(question, words).front().verdict, Verdict::shown);
}

TEST(AllergyAnswer, IsNeverReleasedAgainstAnAllergenThatNobodyCanRuleOutEvenWhenAccepted) {
  AllergyQuestion question = named({"nuts:almond"});
  question.unknown = {"nuts:almond"};
  question.accepted = {"nuts:almond"};
  EXPECT_EQ(judge_allergy(question, words).front().stop, Stop::no_override);
}

TEST(AllergyAnswer, ThatWasErasedIsAskedForAgain) {
  AllergyQuestion question = named({});
  question.erased = true;
  ASSERT_EQ(judge_allergy(question, words).size(), 1u);
  EXPECT_EQ(judge_allergy(question, words).front().verdict, Verdict::not_shown);
}

TEST(Withdrawn, PackStopsTheCakeForGood) {
  const auto findings = judge_withdrawn("cake-1", {"pack-2 (butter, code B)"}, 5);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings.front().stop, Stop::no_override);
  EXPECT_EQ(judge_withdrawn("cake-1", {}, 5).front().verdict, Verdict::shown);
}

TEST(PackUsed, AfterItsUseByStopsAndOnTheDayItselfDoesNot) {
  const Date day = *parse_date("2026-05-10");
  EXPECT_FALSE(judge_shell_egg_used("pack-2", "eggs", "batch-1", day, day).has_value());
  EXPECT_FALSE(judge_shell_egg_used("pack-2", "eggs", "batch-1", day, {}).has_value());
  const auto old_eggs = judge_shell_egg_used("pack-2", "eggs", "batch-1", add_days(day, 1), day);
  ASSERT_TRUE(old_eggs.has_value());
  EXPECT_EQ(old_eggs->control, "use-by");
  EXPECT_EQ(old_eggs->verdict, Verdict::not_shown);
  EXPECT_EQ(old_eggs->stop, Stop::needs_person);
  EXPECT_FALSE(judge_pack_used("pack-1", "milk", "batch-1", day, day).has_value());
  EXPECT_FALSE(judge_pack_used("pack-1", "milk", "batch-1", day, {}).has_value());
  const auto late = judge_pack_used("pack-1", "milk", "batch-1", add_days(day, 1), day);
  ASSERT_TRUE(late.has_value());
  EXPECT_EQ(late->stop, Stop::no_override);
}

TEST(Particulars, ThatTheLabelDoesNotPrintAreNamed) {
  RouteTerm route;
  route.on_pack = {"name", "lot", "net quantity"};
  const Finding missing = judge_particulars("cake-1", route, {"name"});
  EXPECT_EQ(missing.verdict, Verdict::not_shown);
  EXPECT_NE(missing.message.find("lot, net quantity"), std::string::npos);
  EXPECT_EQ(judge_particulars("cake-1", route, {"name", "lot", "net quantity"}).verdict, Verdict::shown);
  EXPECT_EQ(judge_particulars("cake-1", {}, {"name"}).verdict, Verdict::not_shown);
}

TEST(NoContact, IsShownOnlyWhereTheKitOfEveryBatchIsRecorded) {
  Finding recorded;
  recorded.verdict = Verdict::not_shown;
  EXPECT_FALSE(judge_no_contact("cake-1", recorded).has_value());
  recorded.verdict = Verdict::shown;
  ASSERT_TRUE(judge_no_contact("cake-1", recorded).has_value());
  EXPECT_EQ(judge_no_contact("cake-1", recorded)->verdict, Verdict::shown);
}

TEST(LabelsIssued, ThatAreOutOfDateAreNamedByNote) {
  EXPECT_FALSE(judge_labels_issued("cake-1", {}).has_value());
  EXPECT_NE(judge_labels_issued("cake-1", {12, 15})->message.find("12, 15"), std::string::npos);
}

TemperatureTerms eight_degrees() {
  TemperatureTerms terms;
  ChillTerm row;
  row.cited = {"chill", "clause", false};
  row.limit = celsius(8);
  row.measured_in = "food";
  terms.chill = {row};
  return terms;
}

TEST(HandOver, IsJudgedInTheFoodAndTheLimitItselfIsWithin) {
  EXPECT_EQ(judge_hand_over("cake-1", celsius(8.0), eight_degrees()).verdict, Verdict::shown);
  const Finding warm = judge_hand_over("cake-1", celsius(8.01), eight_degrees());
  EXPECT_EQ(warm.verdict, Verdict::not_met);
  EXPECT_EQ(warm.stop, Stop::no_override);
  EXPECT_EQ(judge_hand_over("cake-1", celsius(4.0), {}).verdict, Verdict::not_shown) << "no limit in the rules";
}

TEST(TimeOut, IsNotShownUnlessARowForHandlingAllowsIt) {
  const std::vector<TimeOut> out{{Instant{}, Instant{std::chrono::minutes{30}}, "worktop"}};
  TemperatureTerms terms = eight_degrees();
  EXPECT_FALSE(judge_time_out("cake-1", {}, terms, {}).has_value());
  EXPECT_EQ(judge_time_out("cake-1", out, terms, {})->verdict, Verdict::not_shown);
  WarmAllowance service;
  service.use = "service or display";
  service.less_than = std::chrono::hours{4};
  terms.allowances = {service};
  EXPECT_EQ(judge_time_out("cake-1", out, terms, {})->verdict, Verdict::not_shown) << "the allowance for display is not lent to the bench";
  WarmAllowance handling;
  handling.use = "handling";
  handling.less_than = std::chrono::minutes{30};
  terms.allowances = {handling};
  EXPECT_EQ(judge_time_out("cake-1", out, terms, {})->verdict, Verdict::not_shown) << "30 min is not less than 30 min";
  terms.allowances.front().less_than += std::chrono::milliseconds{1};
  EXPECT_EQ(judge_time_out("cake-1", out, terms, {})->verdict, Verdict::shown);
}

TEST(EggMix, CountsSugarByMassExactly) {
  EXPECT_EQ(sugar_of_mix({}), std::nullopt);
  const std::vector<MixPart> mix{{grams(100), 0}, {grams(200), 1}};
  EXPECT_EQ(sugar_of_mix(mix), share_of(2, 3));
}

TEST(EggMix, KeepsTheSugarOfASyrupThatBoiledDown) {
  CakeParts syrup;
  syrup.cake = CakeId{"batch-1"};
  for (const char* name : {"sugar", "water"}) {
    LotFacts lot;
    lot.id = LotId{name};
    lot.ingredient.id = IngredientId{name};
    lot.ingredient.label_name = name;
    syrup.lots.push_back(lot);
  }
  BatchFacts batch;
  batch.id = BatchId{"batch-1"};
  batch.uses = {{Use::Of::lot, 0, grams(300)}, {Use::Of::lot, 1, grams(90)}};
  batch.yield = grams(340);
  syrup.batches = {batch};
  syrup.placed = {{"", 0, grams(340), true}};
  EXPECT_EQ(sugar_of_batch(syrup, {IngredientId{"sugar"}}), share_of(300, 340));
}

TEST(Gravity, RanksShownBelowEverythingElse) {
  EXPECT_LT(gravity(Verdict::shown), gravity(Verdict::outside_model));
  EXPECT_LT(gravity(Verdict::outside_model), gravity(Verdict::not_shown));
  EXPECT_LT(gravity(Verdict::not_shown), gravity(Verdict::not_met));
}

}  // namespace
}  // namespace tierproof
