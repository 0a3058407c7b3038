#include "tierproof/app/precautions.h"

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

const std::string hazelnut = "nuts:hazelnut";

DecidingPrecaution telling(const std::string& about) { return {hazelnut, about, false, "hazelnuts are ground in the same room"}; }
DecidingPrecaution with_estimate(bool not_needed, std::int64_t mg) {
  DecidingPrecaution deciding{hazelnut, "cake-1", not_needed, "the mill was moved out"};
  deciding.what = "ground hazelnuts";
  deciding.amount = Mass::milligrams(mg);
  deciding.protein = share_of(14, 100);
  deciding.slice = grams(50);
  return deciding;
}

class OneCake {
 public:
  OneCake() { cake = cake_of(kitchen, {{kitchen.make("icing", grams(298)), grams(200)}}); }
  void decide(const DecidingPrecaution& deciding) {
    kitchen.done([&](Session& s) { return decide_precaution(s, deciding); });
  }
  Strings may_contain() { return kitchen.judged(cake).declared->may_contain; }
  /// The finding of the control, `verdict: message`; empty: none.
  std::string told() {
    for (const auto& finding : kitchen.judged(cake).findings) {
      if (finding.control == "precautions") return std::string{term_of(finding.verdict)} + ": " + finding.message;
    }
    return "";
  }
  TestKitchen kitchen;
  std::string cake;
};

TEST(Precautions, OfTheKitchenTheRecipeOrTheCakeAreToldOfTheCake) {
  for (const char* about : {"kitchen", "icing", "cake-1"}) {
    OneCake one;
    EXPECT_THAT(one.may_contain(), testing::IsEmpty());
    EXPECT_EQ(one.told(), "");
    one.decide(telling(about));
    EXPECT_THAT(one.may_contain(), testing::ElementsAre(hazelnut)) << about;
    EXPECT_THAT(one.told(), HasSubstr("shown: hazelnuts: decided by ada on")) << about;
    EXPECT_THAT(one.told(), HasSubstr("hazelnuts are ground in the same room"));
  }
}

TEST(Precautions, OfAnotherRecipeAreNotToldOfIt) {
  OneCake one;
  one.decide(telling("praline"));
  EXPECT_THAT(one.may_contain(), testing::IsEmpty());
  EXPECT_EQ(one.told(), "");
}

TEST(Precautions, OfHalfOfWhatIsNotInItAreABlanketAnswer) {
  OneCake one;
  const Session session = one.kitchen.open(true);
  const auto terms = session.label_terms(session.today());
  ASSERT_TRUE(terms.has_value());
  std::size_t could = 0;
  const Judgement judged = one.kitchen.judged(one.cake);
  for (const auto& trace : judged.made->allergens) could += trace.presence != Presence::contains;
  std::size_t told = 0;
  for (const auto& term : terms->allergens) {
    if (term.key == "milk") continue;
    if (2 * (told + 1) >= could) break;
    one.decide({term.key, "kitchen", false, "we have everything here"});
    ++told;
  }
  EXPECT_THAT(one.told(), testing::StartsWith("shown: "));
  one.decide({terms->allergens.back().key, "kitchen", false, "we have everything here"});
  EXPECT_THAT(one.told(), HasSubstr("not shown: "));
  EXPECT_THAT(one.told(), HasSubstr("a blanket answer"));
}

TEST(Precautions, AreReplacedByTheNewestOfTheirScopeAlone) {
  OneCake one;
  one.decide(telling("kitchen"));
  auto not_here = telling("cake-1");
  not_here.not_needed = true;
  one.decide(not_here);
  EXPECT_THAT(one.may_contain(), testing::ElementsAre(hazelnut)) << "what holds for the kitchen stays";
  auto not_anywhere = telling("kitchen");
  not_anywhere.not_needed = true;
  one.decide(not_anywhere);
  EXPECT_THAT(one.may_contain(), testing::IsEmpty());
  EXPECT_THAT(one.told(), HasSubstr("judged not to be needed by ada"));
}

TEST(Precautions, ShowTheSumOfAnEstimateAndNeverGoAgainstItUnseen) {
  // FAO/WHO 2022: 3 mg of hazelnut protein over a slice of 50 g is 60 mg/kg; the cake weighs 200 g.
  OneCake one;
  one.decide(with_estimate(true, 85));  // 11.9 mg of protein in 200 g: 59.5 mg/kg
  EXPECT_THAT(one.told(), HasSubstr("shown: "));
  EXPECT_THAT(one.told(), HasSubstr("below the action level of 60"));
  one.decide(with_estimate(true, 86));  // 12.04 mg: 60.2 mg/kg
  EXPECT_THAT(one.told(), HasSubstr("not shown: hazelnuts was judged not to be needed, and by its sum it is indicated"));
  one.decide(with_estimate(false, 86));
  EXPECT_THAT(one.told(), HasSubstr("advice, not law"));
  EXPECT_THAT(one.may_contain(), testing::ElementsAre(hazelnut));
}

TEST(Precautions, AreRefusedWithEveryReasonAtOnce) {
  OneCake one;
  DecidingPrecaution wrong{"nuts", "cake-9", false, ""};
  wrong.what = "ground nuts";
  const auto why = one.kitchen.refused([&](Session& s) { return decide_precaution(s, wrong); });
  EXPECT_THAT(why, HasSubstr("\"nuts\" is no allergen that rules know by itself"));
  EXPECT_THAT(why, HasSubstr("there is no recipe or cake called \"cake-9\""));
  EXPECT_THAT(why, HasSubstr("--why: is missing"));
  EXPECT_THAT(why, HasSubstr("--amount: is half an estimate"));
}

}  // namespace
}  // namespace tierproof
