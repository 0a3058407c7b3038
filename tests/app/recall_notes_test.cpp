// The notes of a recall: begun, its steps, closed, its report.
#include <set>

#include "app/app_for_tests.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/recalling.h"

namespace tierproof {
namespace {

/// Praline in two cakes, recalled: one cake left, one is here.
class Begun {
 public:
  explicit Begun(bool drill = false) {
    praline = kitchen.make("praline", grams(198));
    left = cake_of(kitchen, {{praline, grams(50)}});
    here = cake_of(kitchen, {{praline, grams(60)}});
    const Strings stops = kitchen.stops(left);
    std::vector<AgainstReason> reasons;
    for (const auto& control : std::set<std::string>(stops.begin(), stops.end())) reasons.push_back({control, "to see whom to tell"});
    EXPECT_EQ(release_of(kitchen, left, reasons), "");
    EXPECT_EQ(hand_over_of(kitchen, left), "");
    kitchen.at("2026-05-01T12:00+01:00");
    if (!drill) kitchen.done([](Session& s) { return withdraw(s, "pack-5", "the shop calls it back"); });
    RecallAsked asked{{"pack-5"}};
    asked.drill = drill;
    kitchen.done([&](Session& s) { return begin_recall(s, asked, "the shop rang", ""); });
    kitchen.at("2026-05-01T12:30+01:00");
  }
  Booked tick(const std::string& what, const std::string& did, const std::string& note = "by telephone", std::optional<Mass> weighed = {}) {
    return kitchen.done([&](Session& s) { return tick_recall(s, {"recall-1", what, did, note, weighed, ""}); });
  }
  std::string refused(const std::string& what, const std::string& did, const std::string& note = "by telephone") {
    return kitchen.refused([&](Session& s) { return tick_recall(s, {"recall-1", what, did, note, {}, ""}); });
  }
  std::string close_refused(const std::string& cause = "bad almonds") {
    return kitchen.refused([&](Session& s) { return close_recall(s, {"recall-1", cause, "ask first", ""}); });
  }
  RecallTold told() {
    const Session session = kitchen.open(true);
    return recall_of(session, "recall-1", {session.now(), Offset{60}}).value();
  }
  /// The praline was made of another pack, as somebody writes afterwards.
  void correct_the_pack() {
    const std::string other = kitchen.pack("almonds", "2026-06-30");
    const Session session = kitchen.open(true);
    const std::uint64_t sequence = session.state().batches.at(BatchId{praline}).sequence;
    Json uses = *tip_of(session.notes(), sequence)->body.find("uses");
    Json::Array changed;
    for (const Json& use : uses.array()) {
      Json one = use;
      if (one.find("of")->text() == "pack-5") one["of"] = Json{other};
      changed.push_back(one);
    }
    correct_note(kitchen, sequence, {{"uses", Json{changed}}});
  }
  TestKitchen kitchen;
  std::string praline, left, here;
};

TEST(RecallNotes, KeepWhoDidWhatAndWhen) {
  Begun b;
  EXPECT_THAT(b.told().begun, HasSubstr("1 May 2026, 12:00, by ada"));
  EXPECT_THAT(b.told().begun, HasSubstr("the shop rang"));
  b.tick(b.left, "not reached", "nobody answered");
  EXPECT_FALSE(b.told().contact.front().done);
  b.kitchen.at("2026-05-01T13:15+01:00");
  b.tick(b.left, "told", "by telephone, do not eat any more of it");
  for (const auto& what : {std::string{"pack-5"}, b.praline, b.here}) b.tick(what, "set aside", "");
  EXPECT_TRUE(b.told().open()) << "nobody wrote whether the food authority was told";
  b.tick("authority", "told");
  const RecallTold told = b.told();
  ASSERT_EQ(told.contact.size(), 1u);
  EXPECT_THAT(told.contact.front().tries,
              testing::ElementsAre(HasSubstr("not reached 1 May 2026, 12:30, by ada"), HasSubstr("told 1 May 2026, 13:15, by ada")));
  EXPECT_FALSE(told.open());
  ASSERT_TRUE(told.took.has_value());
  EXPECT_EQ(*told.took, std::chrono::minutes{75});
}

TEST(RecallNotes, TakeTheLastStepThatWasMade) {
  Begun b;
  b.tick("pack-5", "set aside", "");
  b.tick("pack-5", "not found", "it is not on the shelf any more");
  for (const auto& step : b.told().hold) EXPECT_FALSE(step.done) << step.food.id;
}

TEST(RecallNotes, GoByWhenAStepWasMadeAndNotByWhenItWasWrittenDown) {
  Begun b;
  b.kitchen.at("2026-05-01T15:00+01:00");
  const auto at = [&](const std::string& did, const std::string& when) {
    b.kitchen.done([&](Session& s) { return tick_recall(s, {"recall-1", "pack-5", did, "on the shelf", {}, when}); });
  };
  at("not found", "2026-05-01T14:00+01:00");
  at("set aside", "2026-05-01T13:00+01:00");
  for (const auto& step : b.told().hold) EXPECT_FALSE(step.done) << step.food.id;
}

TEST(RecallNotes, TakeFoodThatWasSetAsideAndThenLeftForToldToNobody) {
  Begun b;
  const std::string batch = b.kitchen.make("sponge", grams(270));
  const std::string cake = cake_of(b.kitchen, {{batch, grams(50)}});
  b.kitchen.done([&](Session& s) { return tell_went_wrong(s, {{batch}, "person", "", "a hair", ""}); });
  b.kitchen.done([](Session& s) { return begin_recall(s, {{"trouble-1"}}, "a hair", ""); });
  b.kitchen.done([&](Session& s) { return tick_recall(s, {"recall-2", cake, "set aside", "", {}, ""}); });
  b.kitchen.done([](Session& s) { return put_right(s, {"trouble-1", "used", "it was a thread", "hair nets", ""}); });
  const Strings stops = b.kitchen.stops(cake);
  std::vector<AgainstReason> reasons;
  for (const auto& control : std::set<std::string>(stops.begin(), stops.end())) reasons.push_back({control, "to see"});
  EXPECT_EQ(release_of(b.kitchen, cake, reasons), "");
  EXPECT_EQ(hand_over_of(b.kitchen, cake), "");
  const Session session = b.kitchen.open(true);
  const auto told = recall_of(session, "recall-2", {session.now(), Offset{60}});
  ASSERT_TRUE(told.has_value());
  ASSERT_EQ(told->contact.size(), 1u);
  EXPECT_FALSE(told->contact.front().done) << "nobody rang";
}

TEST(RecallNotes, AreNeitherVoidedNorRewritten) {
  Begun b;
  const Session session = b.kitchen.open(true);
  const std::uint64_t note = session.state().recalls.at(RecallId{"recall-1"}).sequence;
  EXPECT_THAT(b.kitchen.refused([&](Session& s) { return void_note(s, note, "never mind"); }), HasSubstr("is part of a recall"));
  EXPECT_THAT(correction_refused(b.kitchen, note, {{"drill", Json{true}}}), HasSubstr("is part of a recall"));
}

TEST(RecallNotes, LoseNothingThatCameIntoTheRecordsLater) {
  Begun b;
  const std::string late = cake_of(b.kitchen, {{b.praline, grams(20)}});
  Strings held;
  for (const auto& step : b.told().hold) held.push_back(step.food.id);
  EXPECT_THAT(held, testing::Contains(late));
  const std::string other = b.kitchen.make("sponge", grams(270));
  const Session session = b.kitchen.open(true);
  for (const auto& tier : session.state().tiers) {
    if (tier.value.cake.text() != late) continue;
    Json part = tip_of(session.notes(), tier.sequence)->body.find("parts")->array().front();
    part["batch"] = Json{other};
    correct_note(b.kitchen, tier.sequence, {{"parts", Json{Json::Array{part}}}});
    break;
  }
  Strings out;
  for (const auto& one : b.told().taken_out) out.push_back(one.id);
  EXPECT_THAT(out, testing::ElementsAre(late));
}

TEST(RecallNotes, OfATroubleOutliveItsNote) {
  Begun b;
  b.kitchen.done([&](Session& s) { return tell_went_wrong(s, {{b.praline}, "person", "", "glass", ""}); });
  b.kitchen.done([](Session& s) { return begin_recall(s, {{"trouble-1"}}, "glass", ""); });
  const std::uint64_t note = b.kitchen.open(true).state().deviations.at(DeviationId{"trouble-1"}).sequence;
  b.kitchen.done([&](Session& s) { return void_note(s, note, "it was sugar"); });
  const Session session = b.kitchen.open(true);
  const auto told = recall_of(session, "recall-2", {session.now(), Offset{60}});
  ASSERT_TRUE(told.has_value());
  EXPECT_TRUE(told->open());
  Strings out;
  for (const auto& one : told->taken_out) out.push_back(one.id);
  EXPECT_THAT(out, testing::IsSupersetOf({b.praline, b.left, b.here}));
}

TEST(RecallNotes, RefuseAStepThatDoesNotFit) {
  Begun b;
  EXPECT_THAT(b.refused("pack-1", "set aside"), HasSubstr("has nothing to do about"));
  EXPECT_THAT(b.refused(b.left, "set aside"), HasSubstr("not one of the answers"));
  EXPECT_THAT(b.refused(b.here, "told"), HasSubstr("not one of the answers"));
  EXPECT_THAT(b.refused(b.left, "told", ""), HasSubstr("--note"));
  EXPECT_THAT(b.refused(b.left, "taken out"), HasSubstr("not one of the answers"));
  EXPECT_THAT(b.kitchen.refused([&](Session& s) {
    return tick_recall(s, {"recall-1", b.here, "set aside", "", grams(3), ""});
  }),
              HasSubstr("--weighed"));
  EXPECT_THAT(b.kitchen.refused([&](Session& s) {
    return tick_recall(s, {"recall-2", b.here, "set aside", "", {}, ""});
  }),
              HasSubstr("there is no recall"));
}

TEST(RecallNotes, AreClosedOnlyOnceEverythingWasDoneOrTried) {
  Begun b;
  const std::string all = b.close_refused();
  for (const auto& what : {b.left, std::string{"pack-5"}, b.praline, b.here, std::string{"authority"}})
    EXPECT_THAT(all, HasSubstr(what + ":"));
  b.tick(b.left, "not reached", "three calls, no answer");
  for (const auto& what : {std::string{"pack-5"}, b.praline, b.here}) b.tick(what, "set aside", "");
  EXPECT_THAT(b.close_refused(), HasSubstr("food authority"));
  b.tick("authority", "told", "by telephone, they ask for the list");
  EXPECT_THAT(b.close_refused(""), HasSubstr("--cause"));
  b.kitchen.done([](Session& s) { return close_recall(s, {"recall-1", "bad almonds", "ask first", ""}); });
  EXPECT_FALSE(b.told().closed.empty());
  EXPECT_TRUE(b.told().open()) << "somebody was not reached";
  EXPECT_THAT(b.close_refused(), HasSubstr("closed already"));
  EXPECT_THAT(b.refused(b.left, "told"), HasSubstr("is closed"));
}

TEST(RecallNotes, OfAClosedRecallTellWhatCameToLightSince) {
  Begun b;
  b.tick(b.left, "not reached", "three calls, no answer");
  for (const auto& what : {std::string{"pack-5"}, b.praline, b.here}) b.tick(what, "set aside", "");
  b.tick("authority", "told", "by telephone");
  b.kitchen.done([](Session& s) { return close_recall(s, {"recall-1", "bad almonds", "ask first", ""}); });
  EXPECT_TRUE(b.told().since_closed().empty());
  const std::string third = cake_of(b.kitchen, {{b.praline, grams(20)}});
  EXPECT_THAT(b.told().since_closed(), testing::ElementsAre(HasSubstr(third)));
  EXPECT_THAT(b.refused(third, "set aside"), HasSubstr("begin another"));
  b.correct_the_pack();
  EXPECT_THAT(b.told().since_closed(), testing::Each(HasSubstr("taken out")));
}

TEST(RecallNotes, OfAnOpenRecallHoldWhatIsKeptOfACustomer) {
  Begun b;
  b.tick(b.left, "told", "by telephone");
  for (const auto& what : {std::string{"pack-5"}, b.praline, b.here}) b.tick(what, "set aside", "");
  b.tick("authority", "told", "by telephone");
  b.kitchen.at("2027-06-01T12:00+01:00");  // long after every date
  const auto erase = [&](Session& s) -> Result<Booked> {
    auto erased = erase_customer(s, {b.left, "not needed any more"});
    if (!erased) return erased.error();
    return erased->booked;
  };
  EXPECT_THAT(b.kitchen.refused(erase), HasSubstr("recall-1 reaches " + b.left + " and is open"));
  b.kitchen.done([](Session& s) { return close_recall(s, {"recall-1", "bad almonds", "ask first", ""}); });
  b.kitchen.done(erase);
}

TEST(RecallNotes, OfAnExerciseTellNobodyAndSayHowLongItTook) {
  Begun b{true};
  EXPECT_TRUE(b.told().drill);
  EXPECT_THAT(b.refused(b.left, "told"), HasSubstr("not one of the answers"));
  EXPECT_THAT(b.close_refused(), HasSubstr("nobody looked for it"));
  for (const auto& what : {b.left, std::string{"pack-5"}, b.praline, b.here}) b.tick(what, "found", "");
  EXPECT_EQ(b.told().took, std::optional<Span>{std::chrono::minutes{30}});
  b.kitchen.done([](Session& s) { return close_recall(s, {"recall-1", "", "telephone numbers are asked for", ""}); });
  EXPECT_FALSE(b.told().closed.empty());
}

TEST(RecallNotes, LetNothingOutByACorrectionUnlessASecondPersonLooked) {
  Begun b;
  EXPECT_TRUE(b.told().taken_out.empty());
  b.correct_the_pack();
  const RecallTold told = b.told();
  EXPECT_TRUE(told.contact.empty()) << "by the records the cake is made of another pack";
  Strings out;
  for (const auto& one : told.taken_out) {
    out.push_back(one.id);
    EXPECT_FALSE(one.done);
    EXPECT_THAT(one.corrected, testing::ElementsAre(HasSubstr("by ada, 1 May 2026, 12:30")));
  }
  EXPECT_THAT(out, testing::UnorderedElementsAre(b.praline, b.left, b.here));
  EXPECT_TRUE(told.open());
  EXPECT_THAT(b.close_refused(), HasSubstr("nobody has looked at that again"));
  EXPECT_THAT(b.refused(b.left, "taken out"), HasSubstr("too soon after the correction"));
  b.kitchen.done([](Session& s) { return add_person(s, "ben", "Ben Sample", "helper"); });
  b.kitchen.at("2026-05-01T14:00+01:00");
  EXPECT_THAT(b.refused(b.left, "taken out"), HasSubstr("somebody else has to look at it"));
  b.kitchen.person = "ben";
  b.tick(b.left, "taken out", "the bag in the bin is of the other pack");
  for (const auto& one : b.told().taken_out) EXPECT_EQ(one.done, one.id == b.left);
}

TEST(RecallNotes, SayWhenTheSamePersonLookedAgain) {
  Begun b;
  b.correct_the_pack();
  b.kitchen.at("2026-05-01T13:29:59+01:00");
  EXPECT_THAT(b.refused(b.left, "taken out"), HasSubstr("too soon"));
  b.kitchen.at("2026-05-01T13:30+01:00");
  b.tick(b.left, "taken out", "the bag in the bin is of the other pack");
  for (const auto& one : b.told().taken_out) {
    EXPECT_EQ(one.done_words.find("by the same person as the correction") != std::string::npos, one.id == b.left);
  }
}

TEST(RecallNotes, OfATroubleReachWhatStoodInAWarmFridge) {
  TestKitchen kitchen;
  const std::string cold = kitchen.make("icing", grams(298));
  const std::string elsewhere = kitchen.make("icing", grams(298));
  kitchen.put_in(cold, "fridge");
  kitchen.put_in(elsewhere, "worktop");
  const std::string cake = cake_of(kitchen, {{cold, grams(50)}});
  kitchen.at("2026-05-01T20:00+01:00");
  kitchen.done([](Session& s) {
    return tell_went_wrong(s, {{"fridge"}, "temperature", "", "it stood at 15 °C", "2026-05-01T09:00+01:00"});
  });
  kitchen.done([](Session& s) { return begin_recall(s, {{"trouble-1"}}, "the fridge was off", ""); });
  const Session session = kitchen.open(true);
  const auto told = recall_of(session, "recall-1", {session.now(), Offset{60}});
  ASSERT_TRUE(told.has_value());
  Strings held;
  for (const auto& step : told->hold) held.push_back(step.food.id);
  EXPECT_THAT(held, testing::IsSupersetOf({cold, cake}));
  EXPECT_THAT(told->because, testing::ElementsAre(HasSubstr("it stood at 15 °C")));
}

TEST(RecallNotes, GoByWhatThePackDetailsSaid) {
  Begun b;
  const Session session = b.kitchen.open(true);
  const std::uint64_t details = session.state().lots.at(LotId{"pack-5"}).value.specification;
  RecallAsked asked;
  asked.details = details;
  const auto told = recall(session, asked, {session.now(), Offset{60}});
  ASSERT_TRUE(told.has_value());
  ASSERT_EQ(told->of.size(), 1u);
  EXPECT_EQ(told->of.front().id, "pack-5");
  asked.details = 1;
  EXPECT_FALSE(recall(session, asked, {session.now(), Offset{60}}).has_value());
}

TEST(RecallReport, TellsWhereAllOfItWentAndNamesNoCustomer) {
  Begun b;
  b.tick(b.left, "told", "Ms Example on the telephone");
  b.tick("pack-5", "set aside", "", grams(1890));
  b.kitchen.at("2026-05-01T13:00+01:00");
  Session session = b.kitchen.open();
  const auto issued = issue_recall_report(session, "recall-1", DataRoot{TIERPROOF_SOURCE_DIR});
  ASSERT_TRUE(issued.has_value());
  ASSERT_EQ(issued->papers.size(), 3u);
  const std::string& json = issued->papers.back().bytes;
  for (const char* words : {"in batch-1", "100 g", "1890 g", "not accounted for", "10 g", "told 1 May 2026, 12:30, by ada", "OPEN"})
    EXPECT_THAT(json, HasSubstr(words));
  EXPECT_THAT(json, Not(HasSubstr("Ms Example")));
  EXPECT_THAT(json, Not(HasSubstr("the customer\""))) << "to whom it was handed over";
  EXPECT_FALSE(issue_recall_report(session, "recall-7", DataRoot{TIERPROOF_SOURCE_DIR}).has_value());
}

}  // namespace
}  // namespace tierproof
