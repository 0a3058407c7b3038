#include "app/app_for_tests.h"

namespace tierproof {
namespace {

TEST(Delivery, PastItsUseByOnTheDayItCameIsRefused) {
  TestKitchen kitchen;
  Delivery delivery{"butter", "shop", "B2", "", grams(500), {}, parse_date("2026-04-30"), {}, ""};
  EXPECT_THAT(kitchen.refused([&](Session& s) { return receive(s, delivery); }), HasSubstr("--use-by"));
  delivery.use_by = parse_date("2026-05-01");
  EXPECT_EQ(kitchen.done([&](Session& s) { return receive(s, delivery); }).subjects.size(), 1u) << "its last day is still in time";
}

TEST(Delivery, StandsUnderWhatThePackWasReadToSayByThatDay) {
  TestKitchen kitchen;
  kitchen.at("2026-05-03T08:00+01:00");
  const std::uint64_t first = kitchen.open(true).state().lots.at(LotId{"pack-3"}).value.specification;
  Json document{Json::Object{{"ingredient", Json{"butter"}},
                             {"supplier", Json{"shop"}},
                             {"label_name", Json{"salted butter"}},
                             {"checked", Json{"2026-05-03"}},
                             {"checked_against", Json{"the pack"}},
                             {"storage", Json{"fridge"}}}};
  const auto read = kitchen.done([&](Session& s) { return add_specifications(s, {{"butter.json", write_pretty(document)}}); });
  const auto received = [&](const std::string& at) {
    const Delivery delivery{"butter", "shop", "B2", "", grams(500), {}, parse_date("2026-06-30"), {}, at};
    const std::string pack = kitchen.done([&](Session& s) { return receive(s, delivery); }).subjects.front();
    return kitchen.open(true).state().lots.at(LotId{pack}).value.specification;
  };
  EXPECT_EQ(received("2026-05-02T08:00"), first) << "the pack came the day before it was read anew";
  EXPECT_EQ(received("2026-05-03T07:00"), read.sequences.front());
}

TEST(Batch, TakesAPackOnlyOnceForAFoodThatItsRecipeNamesTwice) {
  TestKitchen kitchen;
  const auto recipe = kitchen.open(true).state().recipes.at(RecipeId{"icing"});
  Json items = body_of(recipe.value)["items"];
  items.array().push_back(items.array().front());  // butter, listed twice
  for (auto* butter : {&items.array().front(), &items.array().back()}) (*butter)["mass_mg"] = Json{1'200'000};
  correct_note(kitchen, recipe.sequence, {{"items", items}});
  Making making;
  making.recipe = "icing";
  EXPECT_THAT(kitchen.refused([&](Session& s) { return make_batch(s, making); }), HasSubstr("1.2 kg are needed and 800 g"))
      << "the only pack holds 2 kg";
}

TEST(Batch, IsNotMadeOfPacksThatCameLater) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T12:00+01:00");
  Making making;
  making.recipe = "sponge";
  making.at = "2026-05-01T07:59";
  EXPECT_THAT(kitchen.refused([&](Session& s) { return make_batch(s, making); }), HasSubstr("flour"));
}

TEST(Recipe, CannotLeaveTheRawEggOutOfWhatIsHeated) {
  TestKitchen kitchen;
  const std::string text =
      R"({"recipe": "curd", "name": "curd", "part": "filling", "items": [{"of": "eggs", "mass": "100 g"}, {"of": "butter", "mass": "100 g"}],)"
      R"( "yield": "190 g", "egg": "raw, heated here", "heated_together": ["butter"], "heat_food": "core of a cooked food",)"
      R"( "storage": "fridge", "life_days": 1, "life_reason": "decided"})";
  EXPECT_THAT(kitchen.refused([&](Session& s) { return add_recipes(s, {{"curd.json", text}}); }), HasSubstr("leaves out eggs"));
}

TEST(Recipe, CannotBeCorrectedIntoCallingAShellEggPasteurised) {
  TestKitchen kitchen;
  const std::uint64_t note = kitchen.open(true).state().recipes.at(RecipeId{"sponge"}).sequence;
  for (const char* egg : {"pasteurised", "none"}) {
    EXPECT_THAT(correction_refused(kitchen, note, {{"egg", Json{egg}}}), HasSubstr("eggs is shell egg")) << egg;
  }
}

TEST(Kitchen, CannotBeCorrectedToAZoneOrRulesThatAreNotThere) {
  TestKitchen kitchen;
  EXPECT_THAT(correction_refused(kitchen, 1, {{"zone", Json{"Europe/Londn"}}}), HasSubstr("time zone"));
  EXPECT_THAT(correction_refused(kitchen, 1, {{"label_rules", Json{"nowhere"}}}), HasSubstr("no rules called"));
  correct_note(kitchen, 1, {{"altitude_m", Json{55}}});
  EXPECT_EQ(kitchen.open(true).kitchen().altitude_m, 55);
}

TEST(Kitchen, IsNotBegunOnAMountainThatIsNotThere) {
  TestKitchen kitchen;
  Entrance entrance = kitchen.entrance();
  entrance.kitchen_file += ".second";
  NewKitchen begun{kitchen.open(true).kitchen(), "ada", "Ada Sample"};
  begun.kitchen.altitude_m = 9000;
  const auto booked = begin_kitchen(entrance, begun, rule_packs());
  ASSERT_FALSE(booked.has_value());
  EXPECT_EQ(booked.error().front().field, "altitude_m");
  EXPECT_FALSE(std::filesystem::exists(entrance.kitchen_file)) << "nothing was made";
}

TEST(Thermometer, WithAnErrorThatNoThermometerHasIsRefused) {
  TestKitchen kitchen;
  const std::string why = kitchen.refused([](Session& s) {
    return add_probe(s, "old", Probe{"old thermometer", Scale::celsius, 3000, 10, "food", {}});
  });
  EXPECT_THAT(why, HasSubstr("accuracy_hundredths"));
}

TEST(Thermometer, IsReadInItsOwnScale) {
  TestKitchen kitchen;
  const Degrees fahrenheit{3210, Scale::fahrenheit};
  EXPECT_THAT(kitchen.refused([&](Session& s) { return check_probe(s, {"fork", "ice", fahrenheit, ""}); }), HasSubstr("another scale"));
  EXPECT_THAT(kitchen.refused([&](Session& s) {
    return type_reading(s, {"fork", fahrenheit, "fridge", "", ""});
  }),
              HasSubstr("another scale"));
}

TEST(Words, ThatAreNotInTheUsualFormAreRefused) {
  TestKitchen kitchen;
  for (const char* name : {"Cre\xCC\x80me", "two\nlines", "\xFF"}) {  // a letter and its accent apart; a line break; not UTF-8
    EXPECT_FALSE(kitchen.refused([&](Session& s) { return add_equipment(s, "pan", name); }).empty()) << name;
  }
  kitchen.done([](Session& s) { return add_equipment(s, "pan", "Cr\xC3\xA8me pan"); });
}

TEST(Words, OfAPartInsideAPartCannotClaimEither) {
  TestKitchen kitchen;
  const std::string text =
      R"({"ingredient": "flour", "supplier": "shop", "label_name": "flour", "checked": "2026-04-30", "checked_against": "the sack",)"
      R"( "storage": "room", "parts": [{"name": "mix", "parts": [{"name": "gluten free starch"}]}]})";
  EXPECT_THAT(kitchen.refused([&](Session& s) { return add_specifications(s, {{"flour.json", text}}); }), HasSubstr("claim"));
}

TEST(Readings, ImportedTwiceAddNothingAndNeitherDoesADisputedOne) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T10:00+01:00");
  const std::string csv = "2026-05-01T09:00:00+01:00,4.0\n2026-05-01T09:15:00+01:00,4.1\n";
  kitchen.done([&](Session& s) { return import_csv(s, "logger", "fridge", "chilled", csv); });
  EXPECT_THAT(kitchen.refused([&](Session& s) { return import_csv(s, "logger", "fridge", "chilled", csv); }),
              HasSubstr("no reading that is not recorded already"));
  const std::string other = "2026-05-01T09:15:00+01:00,5.1\n";
  kitchen.done([&](Session& s) { return import_csv(s, "logger", "fridge", "chilled", csv + other); });
  ASSERT_EQ(kitchen.open(true).state().readings.size(), 2u);
  EXPECT_EQ(kitchen.open(true).state().readings.back().value.count, 1) << "only the reading that differs is new";
  EXPECT_THAT(kitchen.refused([&](Session& s) { return import_csv(s, "logger", "fridge", "chilled", other + csv); }),
              HasSubstr("no reading that is not recorded already"));
}

TEST(Readings, FromAfterNowAreRefusedByLine) {
  TestKitchen kitchen;
  const std::string why = kitchen.refused([](Session& s) {
    return import_csv(s, "logger", "fridge", "chilled", "2026-05-01T07:00:00+01:00,4.0\n2026-05-01T09:00:00+01:00,4.0\n");
  });
  EXPECT_THAT(why, HasSubstr("log.csv:3"));
}

TEST(Readings, OfTheHourThatHappensTwiceFollowTheOneBefore) {
  TestKitchen kitchen;
  kitchen.at("2026-10-26T12:00+00:00");
  EXPECT_THAT(kitchen.refused([](Session& s) { return import_csv(s, "logger", "fridge", "chilled", "2026-10-25 01:30,4.0\n"); }),
              HasSubstr("came twice"))
      << "nothing before it says which of the two hours it was";
  EXPECT_THAT(kitchen.refused([](Session& s) { return import_csv(s, "logger", "fridge", "chilled", "2026-03-29 01:30,4.0\n"); }),
              HasSubstr("does not exist"));
  kitchen.done([](Session& s) {
    return import_csv(s, "logger", "fridge", "chilled",
                      "2026-10-25 00:45,4.0\n2026-10-25 01:15,4.0\n2026-10-25 01:45,4.0\n2026-10-25 01:15,4.0\n2026-10-25 01:45,4.0\n"
                      "2026-10-25 02:15,4.0\n");
  });
  const Session session = kitchen.open(true);
  std::string times;
  for (const auto& reading : session.readings(session.state().readings.front())) times += format_zoned(reading.at, Offset{}).substr(11, 6);
  EXPECT_EQ(times, "23:45:00:15:00:45:01:15:01:45:02:15:");
}

TEST(Readings, OfAPlaceAreOnlyOfItsCold) {
  TestKitchen kitchen;
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return type_reading(s, {"fork", Degrees{8000, Scale::celsius}, "fridge", "heat step", ""});
  }),
              HasSubstr("only kept cold"));
  EXPECT_THAT(kitchen.refused([](Session& s) { return type_reading(s, {"fork", {}, "attic", "", ""}); }), HasSubstr("attic"));
}

TEST(Tier, TakesNoMoreThanIsLeftOfABatchNorOneThatIsNotMadeYet) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "bottom", {{sponge, grams(200)}});
  Tiering tiering{cake, "top", {{sponge, grams(71)}}, false, {}, ""};
  EXPECT_THAT(kitchen.refused([&](Session& s) { return build_tier(s, tiering); }), HasSubstr("70 g"));
  tiering.parts = {{sponge, grams(70)}};
  tiering.at = "2026-05-01T08:59";
  EXPECT_THAT(kitchen.refused([&](Session& s) { return build_tier(s, tiering); }), HasSubstr("was made after this"));
  tiering.at = "";
  kitchen.done([&](Session& s) { return build_tier(s, tiering); });
  EXPECT_EQ(remaining_mg(kitchen.open(true).state(), sponge), 0);
}

TEST(Tier, CannotBeCorrectedAwayFromItsCake) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = cake_of(kitchen, {{sponge, grams(270)}});
  const std::uint64_t note = kitchen.open(true).state().tiers.front().sequence;
  const auto refused = [&](const char* without) {
    Json body = kitchen.open(true).notes().at(note - 1).body;
    body.object().erase(without);
    return kitchen.refused([&](Session& s) { return correct(s, note, {"new.json", write_pretty(body)}, "try"); });
  };
  for (const char* member : {"cake", "tier", "parts"}) EXPECT_THAT(refused(member), HasSubstr(member));
}

TEST(AllergyQuestion, RefusesAnAnswerThatDoesNotFit) {
  TestKitchen kitchen;
  const std::string cake = kitchen.cake();
  const auto refused = [&](const std::string& answer, const std::vector<std::string>& allergens, const std::string& of) {
    return kitchen.refused([&](Session& s) { return answer_allergy(s, {cake, answer, allergens, of, "", "asked again"}); });
  };
  EXPECT_THAT(refused("named", {"fruit"}, "the customer"), HasSubstr("not an allergen of the rules"));
  EXPECT_THAT(refused("named", {}, "the customer"), HasSubstr("but not which"));
  EXPECT_THAT(refused("none", {"milk"}, "the customer"), HasSubstr("--answer"));
  EXPECT_THAT(refused("none", {}, ""), HasSubstr("--of"));
  EXPECT_THAT(refused("maybe", {}, "the customer"), HasSubstr("none; named; not asked"));
}

}  // namespace
}  // namespace tierproof
