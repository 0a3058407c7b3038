#include "app/answers.h"
#include "app/app_for_tests.h"
#include "tierproof/app/issuing.h"
#include "tierproof/sums/allergy.h"

namespace tierproof {
namespace {

Ordering an_order() { return {"Plain cake", parse_date("2026-05-02"), "", "before it was chosen", "the maker", "face to face", 1, 900}; }

/// The planned findings of a new order for `recipes` whose customer named `allergens`.
std::vector<Finding> planned(TestKitchen& kitchen, const Strings& recipes, const Strings& allergens) {
  Ordering ordering = an_order();
  ordering.planned = recipes;
  Answering allergy;
  allergy.answer = "named";
  allergy.allergens = allergens;
  allergy.of_whom = "the customer";
  ordering.allergy = allergy;
  const auto booked = kitchen.done([&](Session& s) { return order_cake(s, ordering); });
  EXPECT_EQ(booked.sequences.size(), 2u) << "the order and the answer";
  const Session session = kitchen.open(true);
  return judge_planned(session, CakeId{booked.subjects.front()}, session.today());
}

TEST(Order, IsComparedWithWhatIsPlannedBeforeAnythingIsMade) {
  TestKitchen kitchen;
  const auto findings = planned(kitchen, {"icing", "praline"}, {"milk", "nuts:almond", "eggs"});
  ASSERT_EQ(findings.size(), 3u);
  EXPECT_THAT(findings[0].message, HasSubstr("named milk, and what is planned contains it"));
  EXPECT_EQ(findings[0].paths, Strings{"contains: butter of Example Shop, in icing"});
  EXPECT_EQ(findings[1].verdict, Verdict::not_met);
  EXPECT_EQ(findings[1].stop, Stop::no_override);
  EXPECT_EQ(findings[2].verdict, Verdict::not_shown) << "nothing is made yet: never a pass";
  EXPECT_THAT(findings[2].message, HasSubstr("not in what is planned"));
}

TEST(Order, TellsOfPacksThatDoNotSayAndOfKitThatMetTheAllergen) {
  TestKitchen kitchen;
  kitchen.food("sprinkles", "none", {}, {"sesame"});
  kitchen.recipe("topping", R"([{"of": "sprinkles", "mass": "10 g"}])", "10 g", "bowl", "none", "room");
  const auto unknown = planned(kitchen, {"topping"}, {"sesame"});
  ASSERT_EQ(unknown.size(), 1u);
  EXPECT_EQ(unknown[0].stop, Stop::needs_person);
  EXPECT_EQ(unknown[0].paths, Strings{"its pack does not say: sprinkles of Example Shop, in topping"});
  kitchen.make("praline", grams(198));
  const auto shared = planned(kitchen, {"topping"}, {"nuts:almond"});
  ASSERT_EQ(shared.size(), 1u);
  EXPECT_EQ(shared[0].paths, Strings{"shared kit: bowl, for topping: praline was made with it"});
}

TEST(Order, BooksNothingWhenItsAnswerIsRefused) {
  TestKitchen kitchen;
  Ordering ordering = an_order();
  ordering.allergy.emplace();
  ordering.allergy->answer = "named";
  EXPECT_THAT(kitchen.refused([&](Session& s) { return order_cake(s, ordering); }), HasSubstr("named but not which"));
  ordering.allergy.reset();
  ordering.planned = {"trifle"};
  EXPECT_THAT(kitchen.refused([&](Session& s) { return order_cake(s, ordering); }), HasSubstr("there is no recipe called \"trifle\""));
}

/// A cake of almonds whose customer said `said`, before it was made.
struct NutOrder {
  explicit NutOrder(const std::string& recipe, const Strings& said) {
    cake = kitchen.done([&](Session& s) { return order_cake(s, an_order()); }).subjects.front();
    answer(said, "");
    kitchen.tier(cake, "only", {{kitchen.make(recipe, grams(198)), grams(198)}});
  }
  void answer(const Strings& said, const std::string& why) {
    kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", said, "the customer", "", why}); });
  }
  TestKitchen kitchen;
  std::string cake;
};

TEST(VagueAnswer, StopsTheOrderAndCountsAsEveryTreeNutAndPeanuts) {
  NutOrder order{"praline", {"Nut"}};
  const Finding finding = the_finding(order.kitchen, order.cake, "allergy-answer");
  EXPECT_EQ(finding.verdict, Verdict::not_met);
  EXPECT_EQ(finding.stop, Stop::no_override);
  for (const char* word :
       {"almonds", "hazelnuts", "walnuts", "cashews", "pecan nuts", "Brazil nuts", "pistachio nuts", "macadamia", "peanuts"})
    EXPECT_THAT(finding.message, HasSubstr(word));
  EXPECT_THAT(finding.message, HasSubstr("cannot rule out almonds"));
  EXPECT_THAT(release_of(order.kitchen, order.cake), HasSubstr("nobody can release against this"));
}

TEST(VagueAnswer, StopsAnOrderThatHoldsNoneOfThemToo) {
  NutOrder order{"icing", {"nuts"}};
  const Finding finding = the_finding(order.kitchen, order.cake, "allergy-answer");
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_EQ(finding.stop, Stop::no_override);
  const Session session = order.kitchen.open(true);
  EXPECT_EQ(vague_words(session, CakeId{order.cake}), Strings{"nuts"});
}

TEST(VagueAnswer, ThatWasAskedAgainIsJudgedByWhatWasMeant) {
  NutOrder order{"icing", {"nuts"}};
  order.answer({"nuts:walnut"}, "asked which: walnuts alone");
  EXPECT_EQ(the_finding(order.kitchen, order.cake, "allergy-answer").verdict, Verdict::shown);
}

TEST(VagueAnswer, GlutenMeansEveryCerealOfTheList) {
  NutOrder order{"icing", {"gluten"}};
  const Session session = order.kitchen.open(true);
  EXPECT_EQ(session.state().answer(CakeId{order.cake})->value.allergens.text, "gluten:wheat,gluten:rye,gluten:barley,gluten:oats");
}

TEST(UnlistedAllergy, IsLookedForInTheNamesOfPacksAndNeverPasses) {
  NutOrder named{"icing", {"other:sugars"}};
  const Finding met = the_finding(named.kitchen, named.cake, "allergy-answer");
  EXPECT_EQ(met.verdict, Verdict::not_met);
  EXPECT_EQ(met.stop, Stop::no_override);
  EXPECT_THAT(met.paths, testing::ElementsAre(HasSubstr("(sugar")));
  NutOrder other{"icing", {"other:kiwi", "celery"}};
  const auto verdicts = other.kitchen.verdicts(other.cake, "allergy-answer");
  EXPECT_THAT(verdicts, testing::UnorderedElementsAre(other.cake + ": not shown", other.cake + ": shown"));
  EXPECT_THAT(other.kitchen.refused([&](Session& s) {
    return answer_allergy(s, {other.cake, "named", {"other:nuts"}, "her", "", "again"});
  }),
              HasSubstr("is on the list"));
}

TEST(UnlistedAllergy, IsRefusedForWhatTheListKnowsByAnotherName) {
  TestKitchen kitchen;
  const std::string cake = kitchen.cake();
  for (const char* food : {"other:wheat", "other:Almonds", "other:tree nuts", "other:gluten "}) {
    EXPECT_THAT(kitchen.refused([&](Session& s) {
      return answer_allergy(s, {cake, "named", {food}, "her", "", "again"});
    }),
                HasSubstr("is on the list"))
        << food;
  }
}

TEST(Acceptance, CountsOnlyForTheAnswerThatItWasGivenFor) {
  NutOrder order{"praline", {"nuts:hazelnut"}};
  order.kitchen.done([&](Session& s) { return accept_in_writing(s, order.cake, {"nuts:hazelnut"}, "message of 1 May"); });
  const auto accepted = [&] { return accepted_allergens(order.kitchen.open(true).state(), CakeId{order.cake}).size(); };
  EXPECT_EQ(accepted(), 1u);
  order.answer({"nuts:hazelnut", "celery"}, "a guest wrote, not the customer");
  EXPECT_EQ(accepted(), 0u);
}

TEST(ChangedAnswer, ThatWasVoidedAndGivenAnewIsAChangeToo) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(270)}});
  kitchen.at("2026-05-01T09:00+01:00");
  const std::uint64_t first = kitchen.open(true).state().answers.front().sequence;
  kitchen.done([&](Session& s) { return void_note(s, first, "typed for the wrong cake"); });
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"celery"}, "a guest", "", ""}); });
  EXPECT_EQ(kitchen.verdicts(cake, "answer-changed"), Strings{cake + ": not shown"});
}

TEST(Answer, ThatContradictsItselfStops) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(270)}});
  correct_note(kitchen, kitchen.open(true).state().answers.front().sequence, {{"answer", Json{"named"}}});
  const Finding finding = the_finding(kitchen, cake, "allergy-answer");
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_EQ(finding.stop, Stop::no_override);
}

TEST(UnlistedAllergy, IsAWordOfItsOwn) {
  EXPECT_TRUE(names_food("Strawberry pieces", "strawberry"));
  EXPECT_TRUE(names_food("dried STRAWBERRIES", "strawberry"));
  EXPECT_FALSE(names_food("veggie stock", "egg"));
  EXPECT_FALSE(names_food("flour", ""));
}

TEST(ChangedAnswer, AfterTheCakeWasMadeStopsItAndVoidsItsLabels) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(270)}});
  {
    Session session = kitchen.open();
    ASSERT_TRUE(issue_label(session, {cake, "sheet-99x139", 1}, DataRoot{TIERPROOF_SOURCE_DIR}).has_value());
  }
  EXPECT_EQ(kitchen.verdicts(cake, "answer-changed"), Strings{});
  kitchen.at("2026-05-01T09:00+01:00");
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"celery"}, "a guest", "", "a guest wrote"}); });
  const Finding changed = the_finding(kitchen, cake, "answer-changed");
  EXPECT_EQ(changed.stop, Stop::needs_person);
  EXPECT_THAT(changed.message, HasSubstr("1 May 2026"));
  EXPECT_THAT(the_finding(kitchen, cake, "mixed-records").message, HasSubstr("it is void"));
  Session session = kitchen.open();
  ASSERT_TRUE(issue_label(session, {cake, "sheet-99x139", 1}, DataRoot{TIERPROOF_SOURCE_DIR}).has_value());
  EXPECT_EQ(kitchen.verdicts(cake, "mixed-records"), Strings{}) << "printed again";
}

TEST(ChangedAnswer, BeforeAnythingWasMadeIsNoMatter) {
  TestKitchen kitchen;
  const std::string cake = kitchen.cake();
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"celery"}, "a guest", "", "a guest wrote"}); });
  kitchen.at("2026-05-01T09:00+01:00");
  kitchen.tier(cake, "only", {{kitchen.make("sponge", grams(270)), grams(270)}});
  EXPECT_EQ(kitchen.verdicts(cake, "answer-changed"), Strings{});
}

TEST(ReadyText, IsFilledForTheCakeAndItsAnswer) {
  TestKitchen kitchen;
  const std::string cake = kitchen.cake();
  const Session session = kitchen.open(true);
  const auto texts = ready_texts(session, CakeId{cake}, load_texts(DataRoot{TIERPROOF_SOURCE_DIR}), {session.now(), Offset{60}});
  ASSERT_TRUE(texts.has_value());
  ASSERT_GE(texts->size(), 4u);
  for (const auto& text : *texts) {
    EXPECT_THAT(text.text, HasSubstr("1 May 2026")) << text.name << " is dated";
    EXPECT_THAT(text.text, HasSubstr("Plain cake")) << text.name;
    EXPECT_EQ(claim_in(text.text, session.packs().claim_words()), nullptr) << text.name;
  }
  const auto wrong = ready_texts(session, CakeId{cake}, {{"odd", "for a test\nDear {name}\n"}}, {session.now(), Offset{60}});
  ASSERT_FALSE(wrong.has_value());
  EXPECT_THAT(describe(wrong.error().front()), HasSubstr("odd.txt:2"));
}

TEST(Told, IsKeptInTheWordsToldAndRefusedWithAClaim) {
  TestKitchen kitchen;
  const std::string cake = kitchen.cake();
  kitchen.done([&](Session& s) { return tell_customer(s, {cake, "before the order", "the customer", "It holds wheat.", "", "now"}); });
  EXPECT_EQ(kitchen.open(true).state().told.front().value.words.text, "It holds wheat.");
  EXPECT_THAT(kitchen.refused([&](Session& s) {
    return tell_customer(s, {cake, "before the order", "her", "It is nut free.", "", "now"});
  }),
              HasSubstr("claim"));
  EXPECT_THAT(kitchen.refused([&](Session& s) {
    return tell_customer(s, {cake, "once", "", "", "", "now"});
  }),
              testing::AllOf(HasSubstr("--when"), HasSubstr("--to"), HasSubstr("--words")));
}

}  // namespace
}  // namespace tierproof
