#include "app/app_for_tests.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/precautions.h"

namespace tierproof {
namespace {

TEST(Delivery, IsRefusedWithEverythingThatIsMissingAtOnce) {
  TestKitchen kitchen;
  const std::string why = kitchen.refused([](Session& s) { return receive(s, {"cream", "nobody", "", "", {}, {}, {}, {}, ""}); });
  for (const char* field : {"ingredient", "--from", "--code", "--mass"}) EXPECT_NE(why.find(field), std::string::npos) << why;
}

TEST(Delivery, OfAnimalFoodNeedsItsDispatchDate) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_ingredient(s, "cream", Ingredient{"cream", false, false, true, "none"}); });
  kitchen.specification("cream", {"milk"});
  Delivery delivery{"cream", "shop", "C1", "", grams(500), {}, parse_date("2026-05-20"), {}, ""};
  EXPECT_NE(kitchen.refused([&](Session& s) { return receive(s, delivery); }).find("--dispatched"), std::string::npos);
  delivery.dispatched = parse_date("2026-04-30");
  EXPECT_EQ(kitchen.done([&](Session& s) { return receive(s, delivery); }).subjects.front(), "pack-6");
}

TEST(Batch, IsProposedPacksEarliestDateFirstAndSplitBetweenThem) {
  TestKitchen kitchen;
  const std::string sooner = kitchen.pack("flour", "2026-05-10");
  Making making;
  making.recipe = "sponge";
  making.times = 21;  // 2,100 g of flour: all of the sooner pack and some of the later one
  making.yield = grams(5600);
  for (const char* food : {"sugar", "eggs"}) kitchen.pack(food, "2026-06-30");
  kitchen.done([&](Session& s) { return make_batch(s, making); });
  const Session session = kitchen.open(true);
  const auto& batch = session.state().batches.at(BatchId{"batch-1"});
  ASSERT_GE(batch.value.uses.size(), 2u);
  EXPECT_EQ(batch.value.uses[0].of, sooner);
  EXPECT_EQ(batch.value.uses[0].mass, grams(2000));
  EXPECT_EQ(batch.value.uses[1].of, "pack-1");
  EXPECT_EQ(batch.value.uses[1].mass, grams(100));
  EXPECT_EQ(batch.how, "suggested_accepted");
  EXPECT_EQ(remaining_mg(session.state(), sooner), 0);
}

TEST(WhatIsLeft, IsTheSameOfAllAtOnceAsOfEachByItself) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  cake_of(kitchen, {{sponge, grams(200)}});
  kitchen.done([&](Session& s) {
    ThrowingAway away;
    away.what = sponge;
    away.mass = grams(30);
    away.why = "it fell";
    return throw_away(s, away);
  });
  const Session session = kitchen.open(true);
  const auto all = remaining_of_all(session.state());
  EXPECT_EQ(all.size(), session.state().lots.size() + session.state().batches.size());
  for (const auto& [subject, left] : all) EXPECT_EQ(left, remaining_mg(session.state(), subject)) << subject;
  EXPECT_EQ(all.at(sponge), 40'000);
}

TEST(Batch, IsNotProposedPacksThatAreWithdrawnOrPastTheirDateAndStopsTheCakeWhenTheyWentIn) {
  TestKitchen kitchen;
  kitchen.pack("flour", "2026-05-03");
  kitchen.done([](Session& s) { return withdraw(s, "pack-1", "moth found"); });
  kitchen.at("2026-05-04T09:00+01:00");
  Making making;
  making.recipe = "sponge";
  making.yield = grams(270);
  EXPECT_NE(kitchen.refused([&](Session& s) { return make_batch(s, making); }).find("flour"), std::string::npos);
  making.use = {{"flour", "pack-6"}};
  const std::string late = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  making.use = {{"flour", "pack-1"}};
  const std::string withdrawn = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{late, grams(100)}, {withdrawn, grams(100)}});
  const auto stops = kitchen.stops(cake);
  EXPECT_NE(std::find(stops.begin(), stops.end(), "lot-withdrawn"), stops.end());
  EXPECT_NE(std::find(stops.begin(), stops.end(), "use-by"), stops.end());
}

TEST(Batch, NeverTakesMoreThanThereIsNorWeighsMoreThanWentIn) {
  TestKitchen kitchen;
  Making making;
  making.recipe = "sponge";
  making.times = 50;
  EXPECT_NE(kitchen.refused([&](Session& s) { return make_batch(s, making); }).find("5 kg are needed"), std::string::npos);
  making.times = 1;
  making.yield = grams(301);
  EXPECT_NE(kitchen.refused([&](Session& s) { return make_batch(s, making); }).find("--yield"), std::string::npos);
}

TEST(Recipe, CannotCallAShellEggPasteurised) {
  TestKitchen kitchen;
  const std::string text =
      R"({"recipe": "mousse", "name": "mousse", "part": "filling", "items": [{"of": "eggs", "mass": "100 g"}], "yield": "90 g", "egg": "pasteurised",)"
      R"( "storage": "fridge", "life_days": 1, "life_reason": "decided"})";
  EXPECT_NE(kitchen.refused([&](Session& s) { return add_recipes(s, {{"mousse.json", text}}); }).find("egg"), std::string::npos);
}

TEST(Words, ThatClaimSomethingNeverGetIn) {
  TestKitchen kitchen;
  Ordering ordering{"Gluten-free lemon cake", parse_date("2026-05-02"), "", "not boxed", "the maker", "face to face", 1, 900};
  EXPECT_NE(kitchen.refused([&](Session& s) { return order_cake(s, ordering); }).find("claim"), std::string::npos);
  EXPECT_NE(kitchen.refused([](Session& s) {
                     return add_place(s, "safe", Place{"allergen free cupboard", "room"});
                   })
                .find("claim"),
            std::string::npos);
}

TEST(Correction, CannotClaimNorTurnADemoIntoARealKitchen) {
  TestKitchen kitchen;
  const auto change = [&](std::uint64_t note, const char* member, Json to) {
    Json body = kitchen.open(true).notes().at(note - 1).body;
    body[member] = std::move(to);
    return kitchen.refused([&](Session& s) { return correct(s, note, {"new.json", write_pretty(body)}, "try"); });
  };
  EXPECT_NE(change(1, "name", Json{"Nut free kitchen"}).find("claim"), std::string::npos);
  EXPECT_NE(change(1, "demo", Json{false}).find("demo"), std::string::npos);
  EXPECT_NE(change(2, "name", Json{Json::Object{{"sealed", Json{"w-0"}}, {"hmac", Json{std::string(64, '0')}}}}).find("sealed"),
            std::string::npos);
}

TEST(Time, ThatTheClocksSkippedOrRepeatedIsAskedFor) {
  TestKitchen kitchen;
  kitchen.at("2026-11-01T12:00+00:00");
  const Session session = kitchen.open(true);
  EXPECT_FALSE(session.moment("2026-03-29T01:30", "--at").has_value());
  EXPECT_FALSE(session.moment("2026-10-25T01:30", "--at").has_value());
  const auto named = session.moment("2026-10-25T01:30+01:00", "--at");
  ASSERT_TRUE(named.has_value());
  EXPECT_EQ(format_zoned(named->at, Offset{}), "2026-10-25T00:30:00+00:00");
  EXPECT_FALSE(session.moment("2026-11-01T12:03", "--at").has_value()) << "three minutes ahead";
  EXPECT_TRUE(session.moment("2026-11-01T12:02", "--at").has_value());
}

TEST(Time, MarksANoteLateAfterAQuarterOfAnHour) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T12:00+01:00");
  kitchen.done([](Session& s) { return clean(s, {"whisk", "wiped", "", {}, "", "2026-05-01T11:45"}); });
  kitchen.done([](Session& s) { return clean(s, {"whisk", "wiped", "", {}, "", "2026-05-01T11:44"}); });
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.state().cleanings[0].how, "typed_then");
  EXPECT_EQ(session.state().cleanings[1].how, "typed_late");
}

TEST(Cake, WhoseRecordsShowEverythingIsReleasedAndHandedOver) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  EXPECT_EQ(kitchen.stops(cake), Strings{});
  const HandingOver handing{cake, "the customer", "It contains wheat and eggs.", {}, ""};
  Session early = kitchen.open();
  const auto too_soon = hand_over_cake(early, handing);
  ASSERT_TRUE(too_soon.has_value());
  EXPECT_FALSE(too_soon->booked.has_value()) << "not released yet";
  Session session = kitchen.open();
  ASSERT_TRUE(release_cake(session, cake, {})->booked.has_value());
  Session out = kitchen.open();
  EXPECT_TRUE(hand_over_cake(out, handing)->booked.has_value());
}

TEST(Cake, WithAnUnknownAllergenCannotBeReleasedForAnyReason) {
  TestKitchen kitchen;
  kitchen.food("sprinkles", "none", {}, {"sesame"});
  kitchen.pack("sprinkles", "2026-06-30");
  kitchen.recipe("topping", R"([{"of": "sprinkles", "mass": "50 g"}])", "50 g", "bowl", "none", "room");
  const std::string topping = kitchen.make("topping", grams(50));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{topping, grams(50)}});
  EXPECT_EQ(kitchen.verdicts(cake, "allergens-known"), Strings{"sesame: not shown"});
  Session session = kitchen.open();
  const auto decision = release_cake(session, cake, {{"allergens-known", "the supplier always says so"}});
  EXPECT_FALSE(decision.has_value() && decision->booked.has_value());
}

TEST(Cake, LosesItsReleaseWhenAPackItLeansOnIsVoided) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  const std::uint64_t before = kitchen.open(true).head().size;
  const std::uint64_t flour = kitchen.open(true).state().lots.at(LotId{"pack-1"}).sequence;
  kitchen.done([&](Session& s) { return void_note(s, flour, "it was another sack"); });
  EXPECT_FALSE(kitchen.verdicts(cake, "allergens-known").empty());
  EXPECT_EQ(gravest(kitchen.judged(cake).findings), Stop::no_override);
  kitchen.as_of = before;
  EXPECT_EQ(kitchen.stops(cake), Strings{}) << "as of note " << before << " nothing was wrong";
}

TEST(Cake, WhoseCustomerNamedAnAllergenThatItContainsStays) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  EXPECT_NE(kitchen.refused([&](Session& s) {
                     return answer_allergy(s, {cake, "named", {"eggs"}, "the customer", "", ""});
                   })
                .find("--why"),
            std::string::npos);
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"eggs"}, "the customer", "", "a guest told them"}); });
  EXPECT_EQ(kitchen.verdicts(cake, "allergy-answer"), Strings{cake + ": not met"});
  EXPECT_EQ(gravest(kitchen.judged(cake).findings), Stop::no_override);
}

TEST(Kit, ThatMetAlmondsAndWasNotWashedStopsACakeWithoutThem) {
  TestKitchen kitchen;
  kitchen.recipe("plain", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "298 g", "bowl", "none", "room");
  kitchen.make("praline", grams(198));
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string plain = kitchen.make("plain", grams(298));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{plain, grams(298)}});
  EXPECT_EQ(kitchen.verdicts(cake, "shared-kit"), Strings{"almonds: not shown"});
  EXPECT_EQ(gravest(kitchen.judged(cake).findings), Stop::no_override);
  kitchen.at("2026-05-01T09:10+01:00");
  kitchen.done([](Session& s) { return clean(s, {"bowl", "washed, looked clean", "", {}, "", "2026-05-01T08:30"}); });
  EXPECT_EQ(kitchen.verdicts(cake, "shared-kit"), Strings{"almonds: shown"}) << "told, for an order without an allergy";
  EXPECT_EQ(kitchen.verdicts(cake, "precautions"), Strings{cake + ": not shown"}) << "nobody decided whether the label tells it";
  EXPECT_EQ(the_finding(kitchen, cake, "precautions").stop, Stop::needs_person);
  kitchen.done([](Session& s) {
    return clean(s, {"bowl", "washed and tested", "protein swab", {"protein"}, "nothing", "2026-05-01T08:31"});
  });
  EXPECT_EQ(kitchen.verdicts(cake, "shared-kit"), Strings{cake + ": shown"});
  EXPECT_EQ(kitchen.verdicts(cake, "precautions"), Strings{}) << "a test that took it off leaves nothing to decide";
}

/// A batch without nuts that was made in a bowl after praline, which was washed between and looked clean.
std::string made_after_praline(TestKitchen& kitchen) {
  kitchen.recipe("plain", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "298 g", "bowl", "none", "room");
  kitchen.make("praline", grams(198));
  kitchen.at("2026-05-01T08:30+01:00");
  kitchen.done([](Session& s) { return clean(s, {"bowl", "washed, looked clean", "", {}, "", "2026-05-01T08:30"}); });
  kitchen.at("2026-05-01T09:00+01:00");
  return kitchen.make("plain", grams(298));
}

TEST(Precautions, AnswerForTracesByKitThatLookedClean) {
  for (const bool not_needed : {false, true}) {
    TestKitchen kitchen;
    const std::string plain = made_after_praline(kitchen);
    const std::string cake = kitchen.cake();
    kitchen.tier(cake, "only", {{plain, grams(298)}});
    EXPECT_EQ(kitchen.verdicts(cake, "precautions"), Strings{cake + ": not shown"});
    kitchen.done([&](Session& s) {
      return decide_precaution(s, {"nuts:almond", cake, not_needed, "one bowl for everything, rinsed and wiped dry"});
    });
    EXPECT_EQ(kitchen.verdicts(cake, "precautions"), Strings{cake + ": shown"});
    EXPECT_EQ(the_finding(kitchen, cake, "precautions").stop, Stop::none) << "a decision stops nothing";
    EXPECT_THAT(kitchen.judged(cake).declared->may_contain, not_needed ? Strings{} : Strings{"nuts:almond"});
  }
}

TEST(Precautions, OfOneRecipeAnswerForNoTraceInAnother) {
  TestKitchen kitchen;
  const std::string plain = made_after_praline(kitchen);
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{plain, grams(298)}, {sponge, grams(270)}});
  kitchen.done([&](Session& s) { return decide_precaution(s, {"nuts:almond", "sponge", true, "it is baked in a tin of its own"}); });
  EXPECT_EQ(kitchen.verdicts(cake, "precautions"), Strings{cake + ": not shown"}) << "the trace came to the other part";
  kitchen.done([&](Session& s) { return decide_precaution(s, {"nuts:almond", "plain", true, "the bowl is steel and was boiled"}); });
  EXPECT_EQ(kitchen.verdicts(cake, "precautions"), Strings{cake + ": shown"});
}

TEST(Cold, IsShownByAirOnlyWhileNoReadingOfTheFoodIsTooWarm) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{icing, grams(298)}});
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-05-01T14:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T08:30+01:00", "2026-05-01T14:00+01:00", "4.0");
  kitchen.check_thermometers();
  EXPECT_EQ(kitchen.verdicts(cake, "cold-hold"), Strings{cake + ": shown"});
  kitchen.at("2026-05-01T14:05+01:00");
  kitchen.done([&](Session& s) { return type_reading(s, {"fork", Degrees{1500, Scale::celsius}, cake, "chilled", "2026-05-01T13:00"}); });
  kitchen.check_thermometers();
  const auto warm = kitchen.verdicts(cake, "cold-hold");
  ASSERT_EQ(warm.size(), 1u);
  EXPECT_NE(warm.front(), cake + ": shown") << "the food read 15 °C";
}

TEST(Cold, IsNotShownWithoutAPlaceOrWithAGapOrAfterAFailedThermometerCheck) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{icing, grams(298)}});
  kitchen.at("2026-05-01T12:00+01:00");
  EXPECT_EQ(kitchen.verdicts(cake, "cold-hold"), Strings{cake + ", out of the fridge: not shown"});
  kitchen.done([&](Session& s) { return put(s, cake, "fridge", "2026-05-01T09:00"); });
  EXPECT_EQ(kitchen.verdicts(cake, "cold-hold"), Strings{cake + ": not shown"});
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T10:00+01:00", "4.0");
  EXPECT_EQ(kitchen.verdicts(cake, "cold-hold"), Strings{cake + ": not shown"}) << "nothing after ten";
  kitchen.readings("logger", "fridge", "2026-05-01T10:15+01:00", "2026-05-01T12:00+01:00", "4.0");
  EXPECT_EQ(kitchen.verdicts(cake, "cold-hold"), Strings{cake + ": shown"});
  const std::uint64_t good = kitchen.open(true).head().size;
  kitchen.done([](Session& s) { return check_probe(s, {"logger", "ice", Degrees{160, Scale::celsius}, ""}); });
  EXPECT_EQ(kitchen.verdicts(cake, "cold-hold"), Strings{cake + ": not shown"}) << "the next check failed";
  kitchen.as_of = good;
  EXPECT_EQ(kitchen.verdicts(cake, "cold-hold"), Strings{cake + ": shown"}) << "as of then";
}

TEST(Readings, TakenBackNeverHelp) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{icing, grams(298)}});
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-05-01T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T10:00+01:00", "4.0");
  const auto warm = kitchen.done([](Session& s) {
    return type_reading(s, {"logger", Degrees{1400, Scale::celsius}, "fridge", "chilled", "2026-05-01T09:20"});
  });
  EXPECT_EQ(kitchen.verdicts(cake, "cold-hold"), Strings{cake + ": not shown"});
  kitchen.done([&](Session& s) { return void_note(s, warm.sequences.front(), "the door was open"); });
  EXPECT_EQ(kitchen.verdicts(cake, "cold-hold"), Strings{cake + ": not shown"}) << "the instant stays a fault";
}

TEST(EggMix, CountsTheSugarOfASyrupThatWentIn) {
  TestKitchen kitchen;
  kitchen.recipe("syrup", R"([{"of": "sugar", "mass": "200 g"}])", "190 g", "bowl", "none", "room");
  kitchen.recipe("meringue", R"([{"of": "eggs", "mass": "100 g"}, {"of": "syrup", "recipe": true, "mass": "190 g"}])", "288 g", "whisk",
                 "raw, heated here", "room", R"(, "heated_together": ["eggs", "syrup"], "heat_food": "core of a cooked food")");
  kitchen.make("syrup", grams(190));
  const std::string meringue = kitchen.make("meringue", grams(288));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{meringue, grams(288)}});
  const auto egg = kitchen.verdicts(cake, "egg-heat");
  ASSERT_EQ(egg.size(), 1u);
  EXPECT_NE(egg.front().find("outside the model"), std::string::npos) << egg.front();
}

TEST(Validation, VouchesForTheRecipeItWasMadeForAndNoLaterOne) {
  TestKitchen kitchen;
  const char* items = R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])";
  const char* heated = R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food")";
  kitchen.recipe("meringue", items, "298 g", "whisk", "raw, heated here", "room", heated);
  kitchen.done([](Session& s) {
    return file_validation(
        s, {RecipeId{"meringue"}, 0, Degrees{7100, Scale::celsius}, 60'000, "a laboratory", "blue folder", *parse_date("2026-04-01")});
  });
  const auto verdict = [&](const std::string& cake_of) {
    const std::string cake = kitchen.cake();
    kitchen.tier(cake, "only", {{cake_of, grams(298)}});
    return kitchen.verdicts(cake, "egg-heat").front();
  };
  EXPECT_EQ(verdict(kitchen.make("meringue", grams(298))).find("outside the model"), std::string::npos) << "judged by the validation";
  kitchen.recipe("meringue", items, "298 g", "whisk", "raw, heated here", "room", heated);
  EXPECT_NE(verdict(kitchen.make("meringue", grams(298))).find("outside the model"), std::string::npos) << "another version of the recipe";
}

TEST(Label, IsOutOfDateWhenTheRecordsChangeAfterwards) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  const DataRoot data{TIERPROOF_SOURCE_DIR};
  Session session = kitchen.open();
  const auto issued = issue_label(session, {cake, "sheet-99x139", 1}, data);
  ASSERT_TRUE(issued.has_value());
  EXPECT_EQ(kitchen.verdicts(cake, "mixed-records"), Strings{});
  const auto again = reprint(session, issued->booked.sequences.front());
  ASSERT_TRUE(again.has_value());
  EXPECT_EQ(again->bytes, issued->papers.front().bytes);

  Json body =
      session.state().specifications.begin()->second.sequence == 0 ? Json{} : body_of(session.state().specifications.begin()->second.value);
  body["label_name"] = Json{"strong flour"};
  const std::uint64_t note = session.state().specifications.begin()->second.sequence;
  kitchen.done([&](Session& s) { return correct(s, note, {"spec.json", write_pretty(body)}, "the sack says so"); });
  EXPECT_EQ(kitchen.verdicts(cake, "mixed-records"), Strings{cake + ": not shown"});
}

TEST(Retry, UnderOneKeyBooksOnceAndGivesBackTheSamePaper) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  kitchen.key = "once";
  const DataRoot data{TIERPROOF_SOURCE_DIR};
  Session first = kitchen.open();
  const auto issued = issue_label(first, {cake, "sheet-99x139", 1}, data);
  ASSERT_TRUE(issued.has_value());
  const std::uint64_t size = kitchen.open(true).head().size;
  kitchen.at("2026-05-01T08:30+01:00");
  Session second = kitchen.open();
  const auto retried = issue_label(second, {cake, "sheet-99x139", 1}, data);
  ASSERT_TRUE(retried.has_value());
  EXPECT_TRUE(retried->booked.already);
  EXPECT_EQ(kitchen.open(true).head().size, size);
  ASSERT_EQ(retried->papers.size(), issued->papers.size());
  for (std::size_t i = 0; i < issued->papers.size(); ++i) EXPECT_EQ(retried->papers[i].bytes, issued->papers[i].bytes) << i;
}

TEST(Erasing, LeavesTheRecordsWholeAndPrintsErased) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  kitchen.done([&](Session& s) {
    return answer_allergy(s, {cake, "named", {"milk"}, "the customer", "It contains wheat and eggs.", "asked again"});
  });
  Session session = kitchen.open();
  const auto* answer = session.state().answer(CakeId{cake});
  const ToErase erase{{answer->value.allergens.ref, answer->value.told.ref}, {}};
  session.book({session.draft(Erasure{CakeId{cake}, "the customer asked", 2, {}}, cake, {session.now(), Offset{60}})}, {}, erase);
  EXPECT_TRUE(kitchen.open(true).store().verify(std::nullopt).complaints.empty());
  EXPECT_EQ(kitchen.verdicts(cake, "allergy-answer"), Strings{cake + ": not shown"}) << "an erased answer has to be asked for again";
  const Session after = kitchen.open(true);
  const auto content = record_content(after, kitchen.judged(cake), "test");
  bool told_erased = false;
  for (const auto& line : content.allergy) told_erased = told_erased || line.text.find("erased") != std::string::npos;
  EXPECT_TRUE(told_erased);
}

TEST(Record, CitesTheLawOfTheRulesInUseAndNotThatOfAnotherPlaceWithARowOfTheSameId) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  const auto content = record_content(kitchen.open(true), kitchen.judged(cake), "test");
  std::map<std::string, std::string> sources;
  for (const auto& source : content.sources) sources[source.label] = source.text;
  ASSERT_TRUE(sources.contains("emphasis"));  // an id that the rules of Australia and New Zealand have too
  EXPECT_TRUE(sources["emphasis"].starts_with("Regulation (EU) No 1169/2011")) << sources["emphasis"];
  for (const auto& [row, text] : sources) EXPECT_EQ(text.find("Australia"), std::string::npos) << row << ": " << text;
}

TEST(Clock, IsSetOnlyInADemo) {
  TestKitchen kitchen;
  Entrance entrance = kitchen.entrance();
  entrance.kitchen_file += ".real";
  entrance.now.reset();
  NewKitchen begun{kitchen.open(true).kitchen(), "ada", "Ada Sample"};
  begun.kitchen.demo = false;
  begun.kitchen.seed = "";
  ASSERT_TRUE(begin_kitchen(entrance, begun, rule_packs()).has_value());
  entrance.now = Instant{};
  EXPECT_THROW((Session{entrance, rule_packs(), open_sqlite(entrance.kitchen_file, true)}), Fault);
}

TEST(HandOver, OfAChilledCakeThatReadsTooWarmIsStopped) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{icing, grams(298)}});
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-05-01T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T08:45+01:00", "2026-05-01T10:00+01:00", "4.0");
  kitchen.check_thermometers();
  Session session = kitchen.open();
  ASSERT_TRUE(release_cake(session, cake, {})->booked.has_value());
  Session warm = kitchen.open();
  EXPECT_FALSE(hand_over_cake(warm, {cake, "the customer", "Contains milk.", Degrees{801, Scale::celsius}, ""})->booked.has_value());
  Session cold = kitchen.open();
  EXPECT_TRUE(hand_over_cake(cold, {cake, "the customer", "Contains milk.", Degrees{800, Scale::celsius}, ""})->booked.has_value())
      << "8 °C itself is within";
}

}  // namespace
}  // namespace tierproof
