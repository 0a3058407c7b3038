#include "app/app_for_tests.h"

namespace tierproof {
namespace {

/// A chilled cake whose fridge has no readings: one finding, `cold-hold`, that a person may release against.
class UnreadFridge {
 public:
  UnreadFridge() {
    kitchen.at("2026-05-01T09:00+01:00");
    icing = kitchen.make("icing", grams(298));
    cake = cake_of(kitchen, {{icing, grams(200)}});
    kitchen.put_in(cake, "fridge");
    kitchen.at("2026-05-01T11:00+01:00");
  }
  const std::vector<AgainstReason> reason{{"cold-hold", "the logger's battery was flat, and the fridge was shut all the time"}};
  TestKitchen kitchen;
  std::string icing;
  std::string cake;
};

TEST(Release, NeedsAReasonForEachFindingAndNoneForWhatDoesNotStop) {
  UnreadFridge unread;
  EXPECT_THAT(release_of(unread.kitchen, unread.cake), HasSubstr("--against cold-hold"));
  EXPECT_THAT(release_of(unread.kitchen, unread.cake, {{"cold-hold", ""}}), HasSubstr("no reason is given"));
  EXPECT_THAT(release_of(unread.kitchen, unread.cake, {unread.reason[0], {"egg-heat", "to be sure"}}),
              HasSubstr("does not stop this cake"));
  EXPECT_THAT(release_of(unread.kitchen, unread.cake, {{"cold-hold", "it is safe"}}), HasSubstr("claim"));
  EXPECT_EQ(release_of(unread.kitchen, unread.cake, unread.reason), "");
  EXPECT_EQ(hand_over_of(unread.kitchen, unread.cake), "");
}

TEST(Release, PrintsItsReasonOnTheRecordAndErasedOnceItIsErased) {
  UnreadFridge unread;
  EXPECT_EQ(release_of(unread.kitchen, unread.cake, unread.reason), "");
  const auto content = [&] {
    const Session session = unread.kitchen.open(true);
    return record_content(session, unread.kitchen.judged(unread.cake), "test");
  };
  ASSERT_EQ(content().overrides.size(), 1u);
  EXPECT_EQ(content().overrides[0].reason, unread.reason[0].reason);
  EXPECT_THAT(content().outcome, HasSubstr("Released against 1 finding"));
  Session session = unread.kitchen.open();
  const ToErase erase{{session.state().releases.front().value.against.front().reason.ref}, {}};
  session.book({session.draft(Erasure{CakeId{unread.cake}, "the customer asked", 1, {}}, unread.cake, {session.now(), Offset{60}})}, {},
               erase);
  EXPECT_THAT(content().overrides[0].reason, HasSubstr("erased"));
  EXPECT_TRUE(unread.kitchen.open(true).store().verify(std::nullopt).complaints.empty());
}

TEST(Release, IsNotOfACakeThatWasBuiltUponSince) {
  UnreadFridge unread;
  const std::string praline = unread.kitchen.make("praline", grams(198));
  EXPECT_EQ(release_of(unread.kitchen, unread.cake, unread.reason), "");
  unread.kitchen.tier(unread.cake, "top", {{praline, grams(100)}});
  EXPECT_THAT(hand_over_of(unread.kitchen, unread.cake), HasSubstr("changed what is recorded of it"));
  const Session session = unread.kitchen.open(true);
  const auto content = record_content(session, unread.kitchen.judged(unread.cake), "test");
  EXPECT_FALSE(content.released);
  EXPECT_THAT(content.outcome, Not(HasSubstr("OK to leave")));
  EXPECT_EQ(release_of(unread.kitchen, unread.cake, unread.reason), "");
  EXPECT_EQ(hand_over_of(unread.kitchen, unread.cake), "");
}

TEST(Release, IsNotOfACakeWhosePackWasReadOtherwiseSince) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(270)}});
  EXPECT_EQ(release_of(kitchen, cake), "");
  Json allergens = body_of(kitchen.open(true).state().specifications.begin()->second.value)["allergens"];
  for (auto& one : allergens.array()) {
    if (one["allergen"].text() == "lupin") one["presence"] = Json{"contains"};
  }
  correct_note(kitchen, kitchen.open(true).state().specifications.begin()->second.sequence, {{"allergens", allergens}});
  EXPECT_EQ(kitchen.stops(cake), Strings{}) << "every finding is still shown: the label just says lupin";
  EXPECT_THAT(hand_over_of(kitchen, cake), HasSubstr("changed what is recorded of it"));
}

TEST(Release, AnswersForOneStayAndNotForTheNextOne) {
  UnreadFridge unread;
  EXPECT_EQ(release_of(unread.kitchen, unread.cake, unread.reason), "");
  unread.kitchen.done([](Session& s) { return add_place(s, "van", Place{"cool van", "fridge"}); });
  unread.kitchen.at("2026-05-01T11:10+01:00");
  unread.kitchen.put_in(unread.cake, "van");
  unread.kitchen.at("2026-05-01T13:00+01:00");
  EXPECT_THAT(hand_over_of(unread.kitchen, unread.cake), HasSubstr("since it was released"));
}

TEST(Release, DoesNotHoldForWhatTheRecordsTellOtherwiseAfterwards) {
  UnreadFridge unread;
  EXPECT_EQ(release_of(unread.kitchen, unread.cake, unread.reason), "");
  unread.kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T11:00+01:00", "14.0");
  EXPECT_THAT(hand_over_of(unread.kitchen, unread.cake), HasSubstr("the records now say"));
}

TEST(Release, StandsWhileOnlyTimeGoesBy) {
  UnreadFridge unread;
  EXPECT_EQ(release_of(unread.kitchen, unread.cake, unread.reason), "");
  unread.kitchen.at("2026-05-01T16:00+01:00");
  EXPECT_EQ(hand_over_of(unread.kitchen, unread.cake), "");
}

TEST(HandOver, IsNeitherBeforeTheReleaseNorTwice) {
  UnreadFridge unread;
  EXPECT_THAT(hand_over_of(unread.kitchen, unread.cake), HasSubstr("has not been released"));
  EXPECT_EQ(release_of(unread.kitchen, unread.cake, unread.reason), "");
  unread.kitchen.at("2026-05-01T12:00+01:00");
  EXPECT_THAT(hand_over_of(unread.kitchen, unread.cake, "2026-05-01T10:59"), HasSubstr("before the cake was released"));
  EXPECT_EQ(hand_over_of(unread.kitchen, unread.cake, "2026-05-01T11:30"), "");
  EXPECT_THAT(hand_over_of(unread.kitchen, unread.cake), HasSubstr("handed over already"));
  EXPECT_THAT(release_of(unread.kitchen, unread.cake, unread.reason), HasSubstr("handed over already"));
}

TEST(HandOver, IsStoppedWhenAPackIsWithdrawnAfterTheRelease) {
  UnreadFridge unread;
  EXPECT_EQ(release_of(unread.kitchen, unread.cake, unread.reason), "");
  unread.kitchen.done([](Session& s) { return withdraw(s, "pack-3", "the dairy recalled it"); });
  EXPECT_THAT(hand_over_of(unread.kitchen, unread.cake), HasSubstr("nobody can release against this"));
}

class AllergyOrder {
 public:
  AllergyOrder() {
    kitchen.specification("flour", {"gluten:wheat"});
    Json document{Json::Object{
        {"ingredient", Json{"nougat"}},
        {"supplier", Json{"shop"}},
        {"label_name", Json{"nougat"}},
        {"checked", Json{"2026-04-30"}},
        {"checked_against", Json{"the pack"}},
        {"storage", Json{"room"}},
        {"contains", Json{Json::Array{Json{"eggs"}}}},
        {"may_contain", Json{Json::Array{Json{"peanuts"}}}},
        {"absent", Json{Json::Array{Json{Json::Object{{"all_others", Json{true}}, {"evidence", Json{"sheet"}}}},
                                    Json{Json::Object{{"keys", Json{Json::Array{Json{"nuts"}}}},
                                                      {"evidence", Json{"the maker's table of May 2026 marks nuts as absent"}}}}}}}}};
    kitchen.done([](Session& s) { return add_ingredient(s, "nougat", Ingredient{"nougat", false, false, false, "none"}); });
    kitchen.done([&](Session& s) { return add_specifications(s, {{"nougat.json", write_pretty(document)}}); });
    kitchen.pack("nougat", "2026-06-30");
    kitchen.recipe("bar", R"([{"of": "nougat", "mass": "100 g"}])", "100 g", "bowl", "none", "room");
    kitchen.keeps_without_a_fridge("bar");
    cake = cake_of(kitchen, {{kitchen.make("bar", grams(100)), grams(100)}});
  }
  void named(const std::vector<std::string>& allergens) {
    kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", allergens, "the customer", "", "asked again"}); });
  }
  void accepted(const std::string& allergen) {
    kitchen.done([&](Session& s) { return accept_in_writing(s, cake, {allergen}, "letter in the blue folder"); });
  }
  TestKitchen kitchen;
  std::string cake;
};

TEST(AllergyOrder, OfWhatTheCakeContainsHasNoOverrideNotEvenInWriting) {
  AllergyOrder order;
  order.named({"eggs"});
  order.accepted("eggs");
  const Finding finding = the_finding(order.kitchen, order.cake, "allergy-answer");
  EXPECT_EQ(finding.verdict, Verdict::not_met);
  EXPECT_EQ(finding.stop, Stop::no_override);
  EXPECT_THAT(release_of(order.kitchen, order.cake), HasSubstr("nobody can release against this"));
}

TEST(AllergyOrder, OfWhatItMayContainIsStoppedUntilAcceptedInWriting) {
  AllergyOrder order;
  order.named({"peanuts"});
  EXPECT_EQ(the_finding(order.kitchen, order.cake, "allergy-answer").stop, Stop::no_override);
  order.accepted("milk");
  EXPECT_EQ(the_finding(order.kitchen, order.cake, "allergy-answer").stop, Stop::no_override) << "a yes to something else";
  order.accepted("peanuts");
  EXPECT_EQ(the_finding(order.kitchen, order.cake, "allergy-answer").stop, Stop::needs_person);
  EXPECT_EQ(release_of(order.kitchen, order.cake,
                       {{"allergy-answer", "she wrote that traces never hurt her"},
                        {"answer-changed", "looked at again, with her list beside it"}}),
            "");
}

TEST(AllergyOrder, ThatWasNotAskedNeedsAPersonAndOneWithoutAnAnswerToo) {
  AllergyOrder order;
  order.kitchen.done([&](Session& s) { return answer_allergy(s, {order.cake, "not asked", {}, "", "", "nobody was in"}); });
  EXPECT_EQ(the_finding(order.kitchen, order.cake, "allergy-answer").stop, Stop::needs_person);
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "", "before it was chosen", "the maker", "face to face", 1, 900};
  const std::string other = order.kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  EXPECT_EQ(the_finding(order.kitchen, other, "allergy-answer").stop, Stop::needs_person);
}

TEST(AllergyOrder, MeetsTracesFromWashedKitOnlyWithAWrittenYes) {
  TestKitchen kitchen;
  kitchen.recipe("plain", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "298 g", "bowl", "none", "room");
  kitchen.make("praline", grams(198));
  kitchen.at("2026-05-01T08:10+01:00");
  kitchen.done([](Session& s) { return clean(s, {"bowl", "washed, looked clean", "", {}, "", ""}); });
  kitchen.at("2026-05-01T08:20+01:00");
  const std::string cake = cake_of(kitchen, {{kitchen.make("plain", grams(298)), grams(298)}});
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"nuts:almond"}, "the customer", "", "asked again"}); });
  EXPECT_EQ(the_finding(kitchen, cake, "shared-kit").stop, Stop::no_override);
  EXPECT_EQ(the_finding(kitchen, cake, "allergy-answer").stop, Stop::no_override);
  kitchen.done([&](Session& s) { return accept_in_writing(s, cake, {"nuts:almond"}, "message of 1 May"); });
  EXPECT_EQ(the_finding(kitchen, cake, "allergy-answer").stop, Stop::needs_person);
  EXPECT_EQ(the_finding(kitchen, cake, "shared-kit").verdict, Verdict::not_shown) << "a written yes is no washing";
  EXPECT_EQ(the_finding(kitchen, cake, "shared-kit").stop, Stop::needs_person);
}

TEST(Label, IsOutOfDateWhenAnythingThatItTellsIsCorrected) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  Tiering tiering{cake, "only", {{sponge, grams(270)}}, false, {{"dowel", 4}}, ""};
  kitchen.done([&](Session& s) { return build_tier(s, tiering); });
  const auto issue = [&] {
    Session session = kitchen.open();
    EXPECT_TRUE(issue_label(session, {cake, "sheet-99x139", 1}, DataRoot{TIERPROOF_SOURCE_DIR}).has_value());
    EXPECT_EQ(kitchen.verdicts(cake, "mixed-records"), Strings{});
  };
  const auto is_told = [&](const char* what) { EXPECT_EQ(kitchen.verdicts(cake, "mixed-records"), Strings{cake + ": not shown"}) << what; };
  issue();
  const std::uint64_t tier = kitchen.open(true).state().tiers.front().sequence;
  correct_note(kitchen, tier, {{"inedible", Json{Json::Array{Json{Json::Object{{"what", Json{"dowel"}}, {"count", Json{5}}}}}}}});
  is_told("parts to remove");
  issue();
  correct_note(kitchen, kitchen.open(true).state().cakes.at(CakeId{cake}).sequence, {{"name", Json{"Plain sponge cake"}}});
  is_told("the name");
  issue();
  correct_note(kitchen, 1, {{"address", Json{Json::Array{Json{"Unit 1, Example Yard"}}}}});
  is_told("the address");
  issue();
  kitchen.done([](Session& s) { return withdraw(s, "pack-1", "moth found"); });
  is_told("that it must not be handed over");
}

}  // namespace
}  // namespace tierproof
