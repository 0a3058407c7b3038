#include "tierproof/app/going_wrong.h"

#include <set>

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

std::string trouble(TestKitchen& kitchen, const std::vector<std::string>& about, const std::string& at = "") {
  return kitchen.done([&](Session& s) { return tell_went_wrong(s, {about, "person", "", "it is not right", at}); }).subjects.front();
}
Booked close(TestKitchen& kitchen, const std::string& trouble, const std::string& food) {
  return kitchen.done([&](Session& s) { return put_right(s, {trouble, food, "the cause", "what was done", ""}); });
}
/// The findings of `control` about `cake`, each as `stop: message`.
std::string told(TestKitchen& kitchen, const std::string& cake, const std::string& control) {
  std::string all;
  for (const auto& f : kitchen.judged(cake).findings) {
    if (f.control != control) continue;
    all += (f.stop == Stop::no_override ? "never: " : f.stop == Stop::needs_person ? "person: " : "none: ") + f.message;
    for (const auto& path : f.paths) all += " | " + path;
    all += '\n';
  }
  return all;
}

/// Releases `cake` against whatever needs a person.
void release(TestKitchen& kitchen, const std::string& cake) {
  std::vector<AgainstReason> reasons;
  const Strings stops = kitchen.stops(cake);
  for (const auto& control : std::set<std::string>(stops.begin(), stops.end())) reasons.push_back({control, "looked at"});
  EXPECT_EQ(release_of(kitchen, cake, reasons), "");
}

/// A cake of icing made at 08:30 on the whisk and put into the fridge, and another of praline.
class TwoCakes {
 public:
  TwoCakes() {
    kitchen.done([](Session& s) { return add_place(s, "freezer", Place{"chest freezer", "freezer"}); });
    kitchen.at("2026-05-01T08:30+01:00");
    icing = kitchen.make("icing", grams(298));
    kitchen.put_in(icing, "fridge");
    praline = kitchen.make("praline", grams(198));
    kitchen.at("2026-05-01T09:00+01:00");
    cake = cake_of(kitchen, {{icing, grams(200)}});
    kitchen.put_in(cake, "fridge");
    other = cake_of(kitchen, {{praline, grams(100)}});
    kitchen.at("2026-05-01T12:00+01:00");
  }
  TestKitchen kitchen;
  std::string icing, praline, cake, other;
};

TEST(WentWrong, StopsWhatHoldsThePackBatchOrCakeThatItNames) {
  for (const char* about : {"pack-3", "batch-1", "cake-1"}) {  // butter
    TwoCakes two;
    EXPECT_EQ(told(two.kitchen, two.cake, "went-wrong"), "") << "nothing is said where nothing went wrong";
    trouble(two.kitchen, {about});
    EXPECT_THAT(told(two.kitchen, two.cake, "went-wrong"), HasSubstr("never: trouble-1 is open since 1 May 2026, 12:00")) << about;
    EXPECT_EQ(told(two.kitchen, two.other, "went-wrong"), "") << about;
    EXPECT_THAT(release_of(two.kitchen, two.cake),
                HasSubstr("went-wrong: trouble-1 is open since 1 May 2026, 12:00 and touches this cake: nobody can release against this"));
  }
}

TEST(WentWrong, StopsACakeByABatchWithinABatch) {
  TwoCakes two;
  two.kitchen.recipe("filling", R"([{"of": "icing", "recipe": true, "mass": "50 g"}, {"of": "sugar", "mass": "50 g"}])", "100 g", "bowl",
                     "none", "fridge");
  const std::string cake = cake_of(two.kitchen, {{two.kitchen.make("filling", grams(100)), grams(90)}});
  trouble(two.kitchen, {two.icing});
  EXPECT_THAT(told(two.kitchen, cake, "went-wrong"), HasSubstr("it is about batch-1 (icing)"));
}

TEST(WentWrong, OfAFridgeStopsWhatStoodInItSinceItWasLastReadCold) {
  TwoCakes two;
  two.kitchen.readings("logger", "fridge", "2026-05-01T08:00+01:00", "2026-05-01T09:30+01:00", "4.0");
  two.kitchen.at("2026-05-01T12:30+01:00");
  two.kitchen.put_in(two.cake, "worktop");
  trouble(two.kitchen, {"fridge"});
  const std::string all = told(two.kitchen, two.cake, "went-wrong");
  EXPECT_THAT(all, HasSubstr("cake-1 stood in fridge from 1 May 2026, 09:00"))
      << "until half an hour before, with no cold reading since 09:30";
  EXPECT_THAT(all, Not(HasSubstr("batch-1"))) << "the batch was built in at 09:00, and 09:30 was still cold";
  EXPECT_EQ(told(two.kitchen, two.other, "went-wrong"), "") << "keeps in the room and never was in the fridge";
}

TEST(WentWrong, OfAChilledDisplayOrVanStopsWhatStoodThereBeforeToo) {
  for (const char* kind : {"display", "van"}) {
    TwoCakes two;
    two.kitchen.done([&](Session& s) { return add_place(s, "cold-shelf", Place{"cold shelf", kind}); });
    two.kitchen.put_in(two.cake, "cold-shelf");
    two.kitchen.at("2026-05-01T12:30+01:00");
    two.kitchen.put_in(two.cake, "worktop");
    two.kitchen.at("2026-05-01T13:00+01:00");
    trouble(two.kitchen, {"cold-shelf"});
    EXPECT_THAT(told(two.kitchen, two.cake, "went-wrong"), HasSubstr("cake-1 stood in cold shelf from 1 May 2026, 12:00")) << kind;
  }
}

TEST(WentWrong, OfAFridgeReadWarmGoesBackBeforeThatReading) {
  TwoCakes two;
  two.kitchen.readings("logger", "fridge", "2026-05-01T08:45+01:00", "2026-05-01T11:45+01:00", "7.6");
  trouble(two.kitchen, {"fridge"});
  EXPECT_THAT(told(two.kitchen, two.cake, "went-wrong"), HasSubstr("batch-1 (icing) stood in fridge"))
      << "7.6 °C and 0.5 °C of error do not keep 8 °C, so nothing ever vouched for it";
}

TEST(WentWrong, OfAFridgeDoesNotTouchWhatCameAfterItWasClosed) {
  TwoCakes two;
  const std::string id = trouble(two.kitchen, {"fridge"});
  close(two.kitchen, id, "used");
  two.kitchen.at("2026-05-01T13:00+01:00");
  const std::string late = two.kitchen.make("icing", grams(298));
  two.kitchen.put_in(late, "fridge");
  const std::string cake = cake_of(two.kitchen, {{late, grams(200)}});
  two.kitchen.put_in(cake, "fridge");
  two.kitchen.at("2026-05-01T14:00+01:00");
  EXPECT_EQ(told(two.kitchen, cake, "went-wrong"), "");
  EXPECT_THAT(told(two.kitchen, two.cake, "went-wrong"), HasSubstr("person: trouble-1"));
}

TEST(WentWrong, OfAFridgeTouchesWhatNeedsTheColdAndWasNeverPutAnywhere) {
  TwoCakes two;
  const std::string lost = two.kitchen.make("icing", grams(298));
  const std::string cake = cake_of(two.kitchen, {{lost, grams(200)}});
  two.kitchen.at("2026-05-01T13:00+01:00");
  trouble(two.kitchen, {"fridge"});
  EXPECT_THAT(told(two.kitchen, cake, "went-wrong"), HasSubstr("nobody recorded where"));
}

TEST(WentWrong, StillStopsWhenThePlaceOrKitIsVoided) {
  TwoCakes two;
  trouble(two.kitchen, {"fridge", "whisk"});
  const State state = two.kitchen.open(true).state();
  for (const auto note : {state.places.at(PlaceId{"fridge"}).sequence, state.equipment.at(EquipmentId{"whisk"}).sequence})
    two.kitchen.done([&](Session& s) { return void_note(s, note, "typed wrong"); });
  const std::string all = told(two.kitchen, two.cake, "went-wrong");
  EXPECT_THAT(all, HasSubstr("cake-1 stood in fridge"));
  EXPECT_THAT(all, HasSubstr("batch-1 (icing) was made on whisk"));
}

TEST(WentWrong, OfKitStopsWhatWasMadeOnItSinceItWasCleaned) {
  TwoCakes two;
  trouble(two.kitchen, {"whisk"});
  EXPECT_THAT(told(two.kitchen, two.cake, "went-wrong"), HasSubstr("batch-1 (icing) was made on whisk")) << "never cleaned, as recorded";
  EXPECT_EQ(told(two.kitchen, two.other, "went-wrong"), "");
  TwoCakes cleaned;
  cleaned.kitchen.done([](Session& s) {
    return clean(s, {"whisk", "washed and tested", "protein swab", {"protein"}, "nothing", "2026-05-01T10:00"});
  });
  trouble(cleaned.kitchen, {"whisk"});
  EXPECT_EQ(told(cleaned.kitchen, cleaned.cake, "went-wrong"), "");
}

TEST(WentWrong, OfAThermometerStopsWhatItMeasuredSinceItsLastGoodCheck) {
  TwoCakes two;
  two.kitchen.readings("logger", "fridge", "2026-05-01T08:30+01:00", "2026-05-01T11:45+01:00", "4.0");
  trouble(two.kitchen, {"logger"});
  EXPECT_THAT(told(two.kitchen, two.cake, "went-wrong"), HasSubstr("fridge logger measured fridge while cake-1 stood there"));
  EXPECT_EQ(told(two.kitchen, two.other, "went-wrong"), "");
  TwoCakes checked;
  checked.kitchen.readings("logger", "fridge", "2026-05-01T08:30+01:00", "2026-05-01T11:45+01:00", "4.0");
  checked.kitchen.check_thermometers();
  trouble(checked.kitchen, {"logger"});
  EXPECT_EQ(told(checked.kitchen, checked.cake, "went-wrong"), "") << "good at noon";
}

TEST(WentWrong, ClosedWithFoodBinnedKeepsItOutAndThrowsAwayWhatIsLeft) {
  TwoCakes two;
  const auto closed = close(two.kitchen, trouble(two.kitchen, {two.icing, "pack-5", two.other}), "binned");
  EXPECT_EQ(closed.subjects, (Strings{"trouble-1", "batch-1", "pack-5", "cake-2"}));
  EXPECT_THAT(told(two.kitchen, two.cake, "went-wrong"), HasSubstr("never: batch-1 was recorded as binned"));
  EXPECT_THAT(told(two.kitchen, two.other, "went-wrong"), HasSubstr("never: cake-2, pack-5 was recorded as binned"));
  EXPECT_THAT(told(two.kitchen, two.other, "binned"), HasSubstr("never: cake-2 was thrown away"));
  const Session session = two.kitchen.open(true);
  EXPECT_EQ(remaining_mg(session.state(), "batch-1"), 0);
  EXPECT_EQ(remaining_mg(session.state(), "pack-5"), 0);
}

TEST(WentWrong, ClosedWithFoodUsedNeedsAPersonAndIsReleasedAgainst) {
  TwoCakes two;
  close(two.kitchen, trouble(two.kitchen, {two.icing}), "used");
  EXPECT_THAT(told(two.kitchen, two.cake, "went-wrong"), HasSubstr("what became of the food: used"));
  EXPECT_THAT(release_of(two.kitchen, two.cake), HasSubstr("--against went-wrong"));
  EXPECT_THAT(release_of(two.kitchen, two.cake, {{"went-wrong", "tasted and looked at"}}), Not(HasSubstr("went-wrong")));
}

TEST(WentWrong, AfterTheReleaseStopsTheHandOver) {
  TwoCakes two;
  release(two.kitchen, two.cake);
  trouble(two.kitchen, {two.icing});
  EXPECT_THAT(hand_over_of(two.kitchen, two.cake), HasSubstr("went-wrong: trouble-1 is open"));
}

TEST(WentWrong, OpensAgainWhenItsClosingIsVoided) {
  TwoCakes two;
  const auto closed = close(two.kitchen, trouble(two.kitchen, {two.icing}), "used");
  two.kitchen.done([&](Session& s) { return void_note(s, closed.sequences.front(), "not decided yet"); });
  EXPECT_THAT(told(two.kitchen, two.cake, "went-wrong"), HasSubstr("never: trouble-1 is open"));
}

TEST(WentWrong, IsRefusedWithEverythingThatIsWrongAtOnce) {
  TwoCakes two;
  const std::string why = two.kitchen.refused([](Session& s) {
    return tell_went_wrong(s, {{"nothing", "fridge", "fridge"}, "control", "no-row", "", ""});
  });
  for (const char* part : {"nothing is recorded under \"nothing\"", "fridge is named twice", "--control", "what: is missing"})
    EXPECT_THAT(why, HasSubstr(part));
  EXPECT_THAT(two.kitchen.refused([](Session& s) {
    return tell_went_wrong(s, {{"fridge"}, "person", "cold-hold", "allergen-free shelf", ""});
  }),
              testing::AllOf(HasSubstr("--control"), HasSubstr("claim")));
  const std::string id = trouble(two.kitchen, {"fridge"});
  EXPECT_THAT(two.kitchen.refused([&](Session& s) {
    return put_right(s, {id, "eaten", "", "", "2026-05-01T08:00"});
  }),
              testing::AllOf(HasSubstr("--food"), HasSubstr("--cause"), HasSubstr("--done"), HasSubstr("--at")));
  close(two.kitchen, id, "no food touched");
  EXPECT_THAT(two.kitchen.refused([&](Session& s) {
    return put_right(s, {id, "used", "again", "again", ""});
  }),
              HasSubstr("was closed already"));
}

TEST(WentWrong, IsBookedOnceUnderOneKey) {
  TwoCakes two;
  two.kitchen.key = "mine";
  trouble(two.kitchen, {"fridge"});
  trouble(two.kitchen, {"fridge"});
  EXPECT_EQ(two.kitchen.open(true).state().deviations.size(), 1u);
}

TEST(ThrowingAway, LeavesWhatIsLeftAndNoMore) {
  TwoCakes two;  // 98 g of icing are left
  const auto away = [&](const std::string& what, std::optional<Mass> mass) {
    return [what, mass](Session& s) { return throw_away(s, {what, mass, "old", ""}); };
  };
  EXPECT_THAT(two.kitchen.refused(away(two.icing, grams(99))), HasSubstr("99 g of batch-1 is more than the 98 g that is left of it"));
  two.kitchen.done(away(two.icing, grams(18)));
  EXPECT_EQ(remaining_mg(two.kitchen.open(true).state(), two.icing), 80'000);
  two.kitchen.done(away(two.icing, {}));
  EXPECT_EQ(two.kitchen.open(true).state().disposals.back().value.mass, grams(80)) << "all that was left is booked as a mass";
  EXPECT_THAT(two.kitchen.refused(away(two.icing, {})), HasSubstr("nothing is left"));
  EXPECT_EQ(told(two.kitchen, two.cake, "binned"), "") << "what is in the cake was not thrown away";
  EXPECT_THAT(two.kitchen.refused([&](Session& s) {
    Tiering tiering;
    tiering.cake = two.other;
    tiering.tier = "top";
    tiering.parts = {{two.icing, grams(1)}};
    return build_tier(s, tiering);
  }),
              HasSubstr("more than the 0 g that is left"));
}

TEST(ThrowingAway, OfAPackKeepsItOutOfTheNextBatch) {
  TwoCakes two;
  two.kitchen.done([](Session& s) { return throw_away(s, {"pack-3", {}, "rancid", ""}); });  // the butter
  Making making;
  making.recipe = "icing";
  EXPECT_THAT(two.kitchen.refused([&](Session& s) { return make_batch(s, making); }), HasSubstr("butter"));
}

TEST(ThrowingAway, OfACakeStopsItForGood) {
  TwoCakes two;
  EXPECT_THAT(two.kitchen.refused([&](Session& s) { return throw_away(s, {two.cake, grams(1), "fell", ""}); }), HasSubstr("--mass"));
  release(two.kitchen, two.cake);
  two.kitchen.done([&](Session& s) { return throw_away(s, {two.cake, {}, "fell", ""}); });
  EXPECT_THAT(told(two.kitchen, two.cake, "binned"), HasSubstr("never: cake-1 was thrown away on 1 May 2026, 12:00"));
  EXPECT_THAT(hand_over_of(two.kitchen, two.cake), HasSubstr("binned: cake-1 was thrown away"));
  EXPECT_THAT(release_of(two.kitchen, two.cake), HasSubstr("binned: cake-1 was thrown away"));
  EXPECT_THAT(two.kitchen.refused([&](Session& s) { return throw_away(s, {two.cake, {}, "fell", ""}); }), HasSubstr("already"));
}

TEST(ThrowingAway, StopsACakeWhereMoreWasUsedAndThrownAwayThanThereWas) {
  TwoCakes two;
  two.kitchen.done([&](Session& s) { return throw_away(s, {two.icing, {}, "old", ""}); });
  const auto batch = two.kitchen.open(true).state().batches.at(BatchId{two.icing});
  correct_note(two.kitchen, batch.sequence, {{"yield_mg", Json{250'000}}});
  EXPECT_THAT(told(two.kitchen, two.cake, "binned"), HasSubstr("never: 48 g more of batch-1 (icing)"));
}

TEST(Complaint, KeepsTheFileOfTheCakeAsItIsUntilItIsSettled) {
  TwoCakes two;
  two.kitchen.readings("logger", "fridge", "2026-05-01T08:30+01:00", "2026-05-01T11:45+01:00", "4.0");
  Session session = two.kitchen.open();
  const auto complaint = complain(session, {two.cake, "illness", "the customer", "somebody was ill", ""});
  ASSERT_TRUE(complaint.has_value());
  EXPECT_TRUE(complaint->sharing.empty());
  const State state = two.kitchen.open(true).state();
  const std::vector<std::uint64_t> file{state.batches.at(BatchId{two.icing}).sequence,
                                        state.lots.at(LotId{"pack-3"}).sequence,
                                        state.tiers.front().sequence,
                                        state.stays.front().sequence,
                                        state.answers.front().sequence,
                                        state.readings.back().sequence,
                                        state.checks.back().sequence,
                                        state.recipes.at(RecipeId{"icing"}).sequence,
                                        complaint->booked.sequences.front()};
  for (const auto note : file) {
    EXPECT_THAT(two.kitchen.refused([&](Session& s) { return void_note(s, note, "never happened"); }), HasSubstr("complaint-1 is open"))
        << "note " << note;
  }
  EXPECT_THAT(correction_refused(two.kitchen, file.front(), {{"yield_mg", Json{299'000}}}), HasSubstr("add a note that tells"));
  EXPECT_THAT(two.kitchen.refused([&](Session& s) {
    return answer_allergy(s, {two.cake, "none", {}, "the customer", "", "so"});
  }),
              HasSubstr("complaint-1 is open"));
  two.kitchen.done([&](Session& s) { return void_note(s, state.tiers.back().sequence, "another cake's"); });
  two.kitchen.done([&](Session& s) { return settle_complaint(s, "complaint-1", "nothing found", ""); });
  two.kitchen.done([&](Session& s) { return void_note(s, file[3], "never happened"); });
  EXPECT_THAT(two.kitchen.refused([&](Session& s) { return settle_complaint(s, "complaint-1", "again", ""); }), HasSubstr("already"));
}

TEST(Complaint, NamesTheOtherCakesWithBatchesOfIt) {
  TwoCakes two;
  const std::string third = cake_of(two.kitchen, {{two.icing, grams(50)}});
  Session session = two.kitchen.open();
  const auto complaint = complain(session, {two.cake, "something in it", "the customer", "a hair", ""});
  ASSERT_TRUE(complaint.has_value());
  ASSERT_EQ(complaint->sharing.size(), 1u);
  EXPECT_EQ(complaint->sharing.front().cake, third);
  EXPECT_EQ(complaint->sharing.front().batches, Strings{"batch-1 (icing)"});
  EXPECT_EQ(complaint->sharing.front().handed_over, "");
}

TEST(OpenMatters, NameWhatEachTouches) {
  TwoCakes two;
  const auto open = [&] {
    const Session session = two.kitchen.open(true);
    return *open_matters(session, {session.now(), Offset{60}});
  };
  EXPECT_TRUE(open().empty());
  const std::string id = trouble(two.kitchen, {two.icing});
  const auto matters = open();
  ASSERT_EQ(matters.size(), 1u);
  EXPECT_EQ(matters.front().what, "batch-1: it is not right");
  EXPECT_EQ(matters.front().touches,
            (Strings{"batch-1 (icing): it is about batch-1 (icing)", "cake-1 (Plain cake): it is about batch-1 (icing)"}));
  close(two.kitchen, id, "used");
  EXPECT_TRUE(open().empty());
}

TEST(MissedCheck, IsNamedBesideTheGapAndHelpsNothing) {
  TwoCakes two;
  const auto cold = [&] {
    std::vector<Finding> found;
    for (const auto& f : two.kitchen.judged(two.cake).findings) {
      if (f.control == "cold-hold") found.push_back(f);
    }
    return found;
  };
  const auto before = cold();
  two.kitchen.done([](Session& s) { return tell_missed(s, {"fridge", parse_date("2026-05-01"), "forgotten", ""}); });
  two.kitchen.done([](Session& s) { return tell_missed(s, {"fridge", parse_date("2026-04-29"), "nobody worked", ""}); });
  const auto after = cold();
  ASSERT_EQ(after.size(), before.size());
  bool named = false;
  for (std::size_t i = 0; i < after.size(); ++i) {
    EXPECT_EQ(after[i].verdict, before[i].verdict);
    EXPECT_EQ(after[i].stop, before[i].stop);
    named = named || after[i].evidence.find("check of fridge told as missed on 1 May 2026: forgotten (note ") != std::string::npos;
    EXPECT_THAT(after[i].evidence, Not(HasSubstr("29 April"))) << "not a day of the stay";
  }
  EXPECT_TRUE(named);
  EXPECT_THAT(two.kitchen.refused([](Session& s) {
    return tell_missed(s, {"fridge", parse_date("2026-05-01"), "other", ""});
  }),
              testing::AllOf(HasSubstr("already"), HasSubstr("--note")));
  EXPECT_THAT(two.kitchen.refused([](Session& s) {
    return tell_missed(s, {"fridge", parse_date("2026-05-02"), "forgotten", ""});
  }),
              HasSubstr("has not come yet"));
}

constexpr const char* keeps_frozen = R"(, "frozen_days": 30, "thawed_days": 3)";

TEST(Frozen, CountsFromTheDayOfThawingWhereTheRecipeSaysHowLong) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_place(s, "freezer", Place{"chest freezer", "freezer"}); });
  kitchen.recipe("ice-icing", R"([{"of": "butter", "mass": "100 g"}])", "99 g", "whisk", "none", "fridge", keeps_frozen);
  kitchen.at("2026-05-02T09:00+01:00");
  const std::string known = kitchen.make("ice-icing", grams(99));
  const std::string unknown = kitchen.make("icing", grams(298));
  for (const auto& batch : {known, unknown}) kitchen.put_in(batch, "freezer");
  kitchen.at("2026-05-20T09:00+01:00");
  for (const auto& batch : {known, unknown}) kitchen.put_in(batch, "fridge");
  const std::string cake = cake_of(kitchen, {{known, grams(90)}});
  EXPECT_EQ(kitchen.judged(cake).life->date, parse_date("2026-05-22"));
  EXPECT_THAT(told(kitchen, cake, "frozen-once"), HasSubstr("none: ice-icing (batch-1): frozen 2 May 2026, thawed 20 May 2026"));
  EXPECT_THAT(told(kitchen, cake, "cold-hold"), HasSubstr("no rule in force sets a limit for a freezer"));
  EXPECT_EQ(kitchen.judged(cake_of(kitchen, {{unknown, grams(90)}})).life->date, parse_date("2026-05-06"))
      << "freezing gives no time where the recipe does not say how much";
}

TEST(Frozen, ASecondTimeStopsTheCakeAndIsSaidWhenItIsPut) {
  TwoCakes two;
  const auto again = [&](const std::string& what) {
    const Session session = two.kitchen.open(true);
    return frozen_again(session, what);
  };
  two.kitchen.put_in(two.cake, "freezer");
  EXPECT_TRUE(again(two.cake).empty());
  two.kitchen.at("2026-05-01T13:00+01:00");
  two.kitchen.put_in(two.cake, "fridge");
  EXPECT_THAT(told(two.kitchen, two.cake, "frozen-once"), HasSubstr("none: "));
  two.kitchen.at("2026-05-01T14:00+01:00");
  two.kitchen.put_in(two.cake, "freezer");
  EXPECT_EQ(again(two.cake), Strings{"icing (batch-1): frozen 1 May 2026, thawed 1 May 2026; frozen 1 May 2026"});
  EXPECT_THAT(told(two.kitchen, two.cake, "frozen-once"), HasSubstr("never: icing (batch-1) was thawed and frozen again"));
}

TEST(Frozen, WithinSomethingElseCountsToo) {
  TwoCakes two;
  two.kitchen.put_in(two.icing, "freezer");
  two.kitchen.at("2026-05-01T13:00+01:00");
  two.kitchen.recipe("filling", R"([{"of": "icing", "recipe": true, "mass": "50 g"}, {"of": "sugar", "mass": "50 g"}])", "100 g", "bowl",
                     "none", "fridge");
  const std::string filling = two.kitchen.make("filling", grams(100));
  two.kitchen.put_in(filling, "freezer");
  two.kitchen.at("2026-05-01T14:00+01:00");
  const std::string cake = cake_of(two.kitchen, {{filling, grams(90)}});
  EXPECT_THAT(told(two.kitchen, cake, "frozen-once"), HasSubstr("never: icing (batch-1) was thawed and frozen again"));
  EXPECT_EQ(told(two.kitchen, two.cake, "frozen-once"), "") << "its part of the icing went in before any freezing";
}

TEST(Recipe, NamesBothOrNeitherOfItsFrozenDays) {
  TestKitchen kitchen;
  const auto with = [](const std::string& more) {
    return read_recipe(
        {"r.json", R"({"recipe": "r", "name": "r", "part": "icing", "items": [{"of": "butter", "mass": "1 g"}], "yield": "1 g",
      "egg": "none", "storage": "fridge", "life_days": 4, "life_reason": "measured")" +
                       more + "}"});
  };
  EXPECT_EQ(with(keeps_frozen)->recipe.frozen_days, 30);
  EXPECT_EQ(with(keeps_frozen)->recipe.thawed_days, 3);
  EXPECT_FALSE(with("")->recipe.frozen_days);
  EXPECT_THAT(describe(with(R"(, "thawed_days": 3)").error().front()), HasSubstr("frozen_days: is missing"));
  EXPECT_FALSE(with(R"(, "frozen_days": 3, "thawed_days": 0)").has_value()) << "the day of thawing is counted";
}

}  // namespace
}  // namespace tierproof
