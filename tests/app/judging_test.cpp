#include <rapidcheck.h>

#include "app/app_for_tests.h"
#include "app/life.h"

namespace tierproof {
namespace {

constexpr const char* heated_egg = R"(, "heated_together": ["eggs"], "heat_food": "core of a cooked food")";

/// Readings of the fork in a batch every 30 s from 08:01 on.
void heat(TestKitchen& kitchen, const std::string& probe, const std::string& batch, const std::vector<std::string>& degrees) {
  std::string csv;
  Instant at = parse_zoned("2026-05-01T08:01+01:00")->at;
  for (const auto& one : degrees) {
    csv += format_zoned(at, Offset{60}) + "," + one + "\n";
    at += std::chrono::seconds{30};
  }
  kitchen.done([&](Session& s) { return import_csv(s, probe, batch, "heat step", csv); });
}

const std::vector<std::string> enough_heat{"20", "66", "72", "72",
                                           "72", "72", "72", "60"};  // 2 min at 72 °C, the table asks 2 min at 70 °C

class HeatedEgg {
 public:
  HeatedEgg() {
    kitchen.recipe("custard", R"([{"of": "eggs", "mass": "100 g"}, {"of": "butter", "mass": "100 g"}])", "195 g", "bowl",
                   "raw, heated here", "room", heated_egg);
    batch = kitchen.make("custard", grams(195));
    kitchen.at("2026-05-01T09:00+01:00");
  }
  std::string verdict() {
    if (cake.empty()) cake = cake_of(kitchen, {{batch, grams(195)}});
    return std::string{term_of(the_finding(kitchen, cake, "egg-heat").verdict)};
  }
  TestKitchen kitchen;
  std::string batch;
  std::string cake;
};

TEST(EggStep, IsShownByReadingsOfATrustedThermometer) {
  HeatedEgg egg;
  heat(egg.kitchen, "fork", egg.batch, enough_heat);
  EXPECT_EQ(egg.verdict(), "shown");
}

TEST(EggStep, WithoutReadingsIsNotShown) { EXPECT_EQ(HeatedEgg{}.verdict(), "not shown"); }

TEST(EggStep, IsNotShownByOneThermometerWhileAnotherSaysOtherwise) {
  HeatedEgg egg;
  egg.kitchen.done([](Session& s) { return add_probe(s, "second", Probe{"second thermometer", Scale::celsius, 50, 10, "food", {}}); });
  heat(egg.kitchen, "fork", egg.batch, enough_heat);
  heat(egg.kitchen, "second", egg.batch, {"20", "40", "55", "55", "55", "55", "55", "50"});
  EXPECT_NE(egg.verdict(), "shown");
}

TEST(EggStep, IsNotShownByReadingsFromAfterTheMixWasUsed) {
  HeatedEgg egg;
  egg.kitchen.at("2026-05-01T08:00:30+01:00");
  egg.cake = cake_of(egg.kitchen, {{egg.batch, grams(195)}});
  egg.kitchen.at("2026-05-01T09:00+01:00");
  heat(egg.kitchen, "fork", egg.batch, enough_heat);
  EXPECT_EQ(egg.verdict(), "not shown") << "the readings begin at 08:01, the mix went into the cake before";
}

TEST(EggStep, IsNotShownByAThermometerThatWasVoided) {
  HeatedEgg egg;
  heat(egg.kitchen, "fork", egg.batch, enough_heat);
  const std::uint64_t fork = egg.kitchen.open(true).state().probes.at(ProbeId{"fork"}).sequence;
  egg.kitchen.done([&](Session& s) { return void_note(s, fork, "there was no such thermometer"); });
  EXPECT_EQ(egg.verdict(), "not shown") << "nobody knows its error";
}

TEST(EggStep, IsNotShownWhenTheThermometerFailsItsNextCheckAndWasShownBefore) {
  HeatedEgg egg;
  heat(egg.kitchen, "fork", egg.batch, enough_heat);
  EXPECT_EQ(egg.verdict(), "shown");
  const std::uint64_t before = egg.kitchen.open(true).head().size;
  egg.kitchen.check_thermometers(150);
  EXPECT_EQ(egg.verdict(), "not shown");
  egg.kitchen.as_of = before;
  EXPECT_EQ(egg.verdict(), "shown") << "as the records said then";
}

TEST(EggStep, IsNotShownWhenTheSamePackTurnsOutToBeShellEgg) {
  TestKitchen kitchen;
  kitchen.food("white", "pasteurised", {"eggs"});
  kitchen.pack("white", "2026-06-30");
  kitchen.recipe("icing-sugar-white", R"([{"of": "white", "mass": "100 g"}])", "100 g", "bowl", "pasteurised", "room");
  const std::string cake = cake_of(kitchen, {{kitchen.make("icing-sugar-white", grams(100)), grams(100)}});
  EXPECT_EQ(the_finding(kitchen, cake, "egg-heat").verdict, Verdict::shown);
  correct_note(kitchen, kitchen.open(true).state().ingredients.at(IngredientId{"white"}).sequence, {{"egg", Json{"shell"}}});
  EXPECT_EQ(the_finding(kitchen, cake, "egg-heat").verdict, Verdict::not_shown);
}

TEST(EggStep, IsAskedForWhereARecipeWithoutEggTookAPackOfEggs) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  EXPECT_EQ(kitchen.verdicts(cake, "egg-heat"), Strings{});
  const Session session = kitchen.open(true);
  const auto& batch = session.state().batches.at(BatchId{icing});
  Json uses = body_of(batch.value)["uses"];
  uses.array().front()["of"] = Json{"pack-4"};  // eggs
  correct_note(kitchen, batch.sequence, {{"uses", uses}});
  EXPECT_EQ(the_finding(kitchen, cake, "egg-heat").verdict, Verdict::not_shown);
}

TEST(EggStep, OfPasteurisedEggIsNotMetWhenThePackWasPastItsDateWhereTheKitchenIs) {
  TestKitchen kitchen;
  kitchen.food("white", "pasteurised", {"eggs"});
  kitchen.pack("white", "2026-05-01");
  kitchen.recipe("glaze", R"([{"of": "white", "mass": "100 g"}])", "100 g", "bowl", "pasteurised", "room");
  kitchen.at("2026-05-01T22:59+00:00");  // 23:59 in the kitchen
  Making making;
  making.recipe = "glaze";
  making.yield = grams(100);
  const std::string in_time = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  EXPECT_EQ(the_finding(kitchen, cake_of(kitchen, {{in_time, grams(100)}}), "egg-heat").verdict, Verdict::shown);
  kitchen.at("2026-05-01T23:01+00:00");  // 00:01 of the next day in the kitchen
  EXPECT_THAT(kitchen.refused([&](Session& s) { return make_batch(s, making); }), HasSubstr("white"));
}

TEST(Validation, NoLongerVouchesOnceTheRecipeIsCorrected) {
  TestKitchen kitchen;
  kitchen.recipe("meringue", R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "150 g"}])", "249 g", "whisk", "raw, heated here",
                 "room", R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food")");
  const Validation validation{RecipeId{"meringue"},     0, Degrees{7100, Scale::celsius}, 60'000, "a laboratory", "blue folder",
                              *parse_date("2026-04-01")};
  kitchen.done([&](Session& s) { return file_validation(s, validation); });
  const std::string batch = kitchen.make("meringue", grams(249));
  kitchen.at("2026-05-01T09:00+01:00");
  heat(kitchen, "fork", batch, enough_heat);
  const std::string cake = cake_of(kitchen, {{batch, grams(249)}});
  EXPECT_EQ(the_finding(kitchen, cake, "egg-heat").verdict, Verdict::shown);
  const auto recipe = kitchen.open(true).state().recipes.at(RecipeId{"meringue"});
  Json items = body_of(recipe.value)["items"];
  items.array().back()["mass_mg"] = Json{200'000};
  correct_note(kitchen, recipe.sequence, {{"items", items}});
  EXPECT_EQ(the_finding(kitchen, cake, "egg-heat").verdict, Verdict::outside_model) << "filed for less sugar than the recipe says now";
}

TEST(Validation, DoesNotVouchForABatchWithMoreSugarThanItsRecipe) {
  TestKitchen kitchen;
  kitchen.recipe("meringue", R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "150 g"}])", "249 g", "whisk", "raw, heated here",
                 "room", R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food")");
  const Validation validation{RecipeId{"meringue"},     0, Degrees{7100, Scale::celsius}, 60'000, "a laboratory", "blue folder",
                              *parse_date("2026-04-01")};
  kitchen.done([&](Session& s) { return file_validation(s, validation); });
  const auto verdict_with = [&](Mass sugar) {
    Making making;
    making.recipe = "meringue";
    making.yield = grams(240);
    making.weighed = {{"sugar", sugar}};
    const std::string batch = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
    return the_finding(kitchen, cake_of(kitchen, {{batch, grams(240)}}), "egg-heat").verdict;
  };
  EXPECT_EQ(verdict_with(grams(150)), Verdict::not_shown) << "judged by the validation, without readings";
  EXPECT_EQ(verdict_with(grams(151)), Verdict::outside_model);
}

TEST(Cold, FollowsWhereItWasByTheClockAndNotByTheOrderOfTheNotes) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.at("2026-05-01T12:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T08:45+01:00", "2026-05-01T12:00+01:00", "4.0");
  const std::string cake = kitchen.cake();
  Tiering tiering{cake, "only", {{icing, grams(298)}}, false, {}, "2026-05-01T11:00"};
  kitchen.done([&](Session& s) { return build_tier(s, tiering); });
  kitchen.done([&](Session& s) { return put(s, icing, "fridge", "2026-05-01T09:00"); });
  // It was put on the worktop at 10:30, and nobody wrote that it went back; the note of 10:00 came in last.
  kitchen.done([&](Session& s) { return put(s, cake, "worktop", "2026-05-01T10:30"); });
  kitchen.done([&](Session& s) { return put(s, cake, "fridge", "2026-05-01T10:00"); });
  EXPECT_THAT(kitchen.verdicts(cake, "cold-hold"), testing::Contains(cake + ", out of the fridge: not shown"));
}

TEST(Cold, CountsFromTheFirstTierWhileTheOthersAreStillBuilt) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.put_in(icing, "fridge");
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "bottom", {{icing, grams(100)}});
  kitchen.at("2026-05-01T15:00+01:00");
  kitchen.tier(cake, "top", {{icing, grams(100)}});
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-05-01T15:15+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T15:15+01:00", "4.0");
  EXPECT_THAT(kitchen.verdicts(cake, "cold-hold"), testing::Contains(cake + ", out of the fridge: not shown"))
      << "nobody recorded where the bottom tier stood for six hours";
}

TEST(Cold, OfAPartForTheFreezerIsNotShownByAFridge) {
  TestKitchen kitchen;
  kitchen.recipe("ice", R"([{"of": "butter", "mass": "100 g"}])", "100 g", "bowl", "none", "freezer");
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string ice = kitchen.make("ice", grams(100));
  kitchen.put_in(ice, "fridge");
  kitchen.at("2026-05-01T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T10:00+01:00", "4.0");
  const std::string cake = cake_of(kitchen, {{ice, grams(100)}});
  for (const auto& verdict : kitchen.verdicts(cake, "cold-hold")) EXPECT_THAT(verdict, HasSubstr("not shown"));
}

TEST(Cold, IsNotShownWhereTwoReadingsOfOneMomentDiffer) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-05-01T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T10:00+01:00", "4.0");
  EXPECT_EQ(the_finding(kitchen, cake, "cold-hold").verdict, Verdict::shown);
  kitchen.done([](Session& s) { return import_csv(s, "logger", "fridge", "chilled", "2026-05-01T09:30:00+01:00,3.9\n"); });
  EXPECT_EQ(the_finding(kitchen, cake, "cold-hold").verdict, Verdict::not_shown);
}

TEST(Kit, IsNotCleanedByCleaningItsNamesake) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_equipment(s, "bowl-b", "bowl"); });
  kitchen.recipe("plain", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "298 g", "bowl", "none", "room");
  kitchen.make("praline", grams(198));
  kitchen.at("2026-05-01T08:10+01:00");
  kitchen.done([](Session& s) { return clean(s, {"bowl-b", "washed and tested", "protein swab", {"protein"}, "nothing", ""}); });
  kitchen.at("2026-05-01T08:20+01:00");
  const std::string cake = cake_of(kitchen, {{kitchen.make("plain", grams(298)), grams(298)}});
  EXPECT_EQ(kitchen.verdicts(cake, "shared-kit"), Strings{"almonds: not shown"});
}

TEST(Kit, TellsOfWheatFlourThoughTheBatchHoldsAnExemptProductOfWheat) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_ingredient(s, "syrup", Ingredient{"syrup", false, false, false, "none"}); });
  kitchen.done([](Session& s) {
    return add_specifications(s, {{"syrup.json", R"({"ingredient": "syrup", "supplier": "shop", "label_name": "wheat glucose syrup",
      "contains": [{"allergen": "gluten:wheat", "process": "wheat glucose syrup"}], "checked": "2026-04-30",
      "checked_against": "the pack", "storage": "room", "absent": {"all_others": true, "evidence": "sheet"}})"}});
  });
  kitchen.pack("syrup", "2026-06-30");
  kitchen.recipe("jelly", R"([{"of": "syrup", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "198 g", "tin", "none", "room");
  kitchen.make("sponge", grams(270));
  kitchen.at("2026-05-01T08:30+01:00");
  const std::string met = kitchen.make("jelly", grams(99));
  const std::string cake = cake_of(kitchen, {{met, grams(99)}});
  EXPECT_THAT(kitchen.verdicts(cake, "shared-kit"), testing::Contains("wheat: not shown"));
  EXPECT_THAT(kitchen.stops(cake), testing::Contains("shared-kit"));
}

TEST(WhatALabelTells, IsAnotherWhenAnEmphasisIsLost) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("icing", grams(298)), grams(298)}});
  const Session session = kitchen.open(true);
  const auto judged = judge_cake(session, CakeId{cake}, session.moment("now", "at").value());
  ASSERT_TRUE(judged);
  Judgement plain = *judged;
  for (auto& entry : plain.declared->ingredients) {
    for (auto& run : entry.runs) run.emphasised = false;
  }
  EXPECT_EQ(says_of(session.state(), *judged), says_of(session.state(), *judged));
  EXPECT_NE(says_of(session.state(), *judged), says_of(session.state(), plain));
}

TEST(Nutrition, IsAskedForOnceTheNameOfTheCakeMakesAClaim) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("icing", grams(298));
  for (const std::string name : {"Lemon cake", "Low fat lemon cake"}) {
    Ordering ordering{name, parse_date("2026-05-02"), "", "before it was chosen", "another business", "face to face", 1, 900};
    const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
    kitchen.tier(cake, "only", {{batch, grams(100)}});
    const std::string message = the_finding(kitchen, cake, "nutrition").message;
    EXPECT_EQ(message.find("claim is made") != std::string::npos, name.starts_with("Low fat")) << message;
  }
}

TEST(Pack, ThatWasWithdrawnStopsEveryCakeThatItIsIn) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(270)}});
  EXPECT_EQ(the_finding(kitchen, cake, "lot-withdrawn").verdict, Verdict::shown);
  kitchen.done([](Session& s) { return withdraw(s, "pack-4", "the farm recalled it"); });
  const Finding finding = the_finding(kitchen, cake, "lot-withdrawn");
  EXPECT_EQ(finding.verdict, Verdict::not_met);
  EXPECT_EQ(finding.stop, Stop::no_override);
  EXPECT_THAT(finding.message, HasSubstr("code of eggs"));
}

TEST(Pack, CannotBeCalledNotWithdrawnWhereABatchIsVoid) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = cake_of(kitchen, {{sponge, grams(270)}});
  kitchen.done([](Session& s) { return withdraw(s, "pack-4", "the farm recalled it"); });
  const std::uint64_t note = kitchen.open(true).state().batches.at(BatchId{sponge}).sequence;
  kitchen.done([&](Session& s) { return void_note(s, note, "another batch was meant"); });
  const Finding finding = the_finding(kitchen, cake, "lot-withdrawn");
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_EQ(finding.stop, Stop::no_override);
  EXPECT_THAT(kitchen.stops(cake), testing::Contains("allergens-known"));
}

TEST(Pack, ReadAnewByTheDayItCameIsNotJudgedByTheOlderReading) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(270)}});
  EXPECT_EQ(kitchen.stops(cake), Strings{});
  kitchen.specification("flour", {"gluten:wheat"}, {"sesame"});  // read on 30 April too; the pack came on 1 May
  EXPECT_THAT(kitchen.verdicts(cake, "allergens-known"), testing::Contains("pack-1: not shown"));
  EXPECT_EQ(gravest(kitchen.judged(cake).findings), Stop::no_override);
  const Session session = kitchen.open(true);
  const auto& pack = session.state().lots.at(LotId{"pack-1"});
  correct_note(kitchen, pack.sequence,
               {{"specification", Json{static_cast<std::int64_t>(session.state().specifications.rbegin()->first)}}});
  EXPECT_EQ(kitchen.verdicts(cake, "allergens-known"), Strings{"sesame: not shown"}) << "now it is known what is not known";
}

TEST(Pack, OpenedIsCountedFromItsFirstUseWhateverALaterNoteSays) {
  TestKitchen kitchen;
  Json document{Json::Object{{"ingredient", Json{"butter"}},
                             {"supplier", Json{"shop"}},
                             {"label_name", Json{"butter"}},
                             {"checked", Json{"2026-05-01"}},
                             {"checked_against", Json{"the pack"}},
                             {"storage", Json{"fridge"}},
                             {"use_within_days", Json{3}},
                             {"contains", Json{Json::Array{Json{"milk"}}}},
                             {"absent", Json{Json::Object{{"all_others", Json{true}}, {"evidence", Json{"sheet"}}}}}}};
  kitchen.done([](Session& s) { return withdraw(s, "pack-3", "to have only one"); });
  kitchen.done([&](Session& s) { return add_specifications(s, {{"butter.json", write_pretty(document)}}); });
  const std::string pack = kitchen.pack("butter", "2026-06-30");
  const std::string cake = cake_of(kitchen, {{kitchen.make("icing", grams(298)), grams(298)}});
  const auto date = [&] { return format_date(*kitchen.judged(cake).life->date); };
  EXPECT_EQ(date(), "2026-05-04");
  correct_note(kitchen, kitchen.open(true).state().lots.at(LotId{pack}).sequence, {{"opened", Json{"2026-05-03"}}});
  EXPECT_EQ(date(), "2026-05-04");
  correct_note(kitchen, kitchen.open(true).state().lots.at(LotId{pack}).sequence, {{"opened", Json{"2026-04-30"}}});
  EXPECT_EQ(date(), "2026-05-03");
}

TEST(Cake, OfWhichNothingIsRecordedHasNoShownAllergensAndNoShownPacks) {
  TestKitchen kitchen;
  const std::string cake = kitchen.cake();
  EXPECT_EQ(the_finding(kitchen, cake, "allergens-known").stop, Stop::no_override);
  EXPECT_EQ(the_finding(kitchen, cake, "lot-withdrawn").verdict, Verdict::not_shown);
  EXPECT_EQ(the_finding(kitchen, cake, "use-by").verdict, Verdict::not_shown);
}

TEST(Cake, ThatIsEatenAfterItsUseByIsNotMet) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));  // keeps 4 days: 5 May
  Ordering ordering{"Late cake", parse_date("2026-05-06"), "", "before it was chosen", "the maker", "face to face", 1, 900};
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  kitchen.tier(cake, "only", {{icing, grams(298)}});
  EXPECT_EQ(the_finding(kitchen, cake, "use-by").verdict, Verdict::not_met);
}

TEST(Findings, StopAtLeastAsMuchAsThePlanSays) {
  TestKitchen kitchen;
  kitchen.food("sprinkles", "none", {}, {"sesame"});
  kitchen.pack("sprinkles", "2026-06-30");
  kitchen.recipe("raw", R"([{"of": "eggs", "mass": "50 g"}, {"of": "sprinkles", "mass": "50 g"}])", "99 g", "bowl", "raw, not heated",
                 "fridge");
  kitchen.make("praline", grams(198));
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string raw = kitchen.make("raw", grams(99));
  const std::string cake = cake_of(kitchen, {{raw, grams(99)}});
  kitchen.put_in(cake, "fridge");
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"eggs", "nuts:almond"}, "a guest", "", "asked again"}); });
  kitchen.done([](Session& s) { return withdraw(s, "pack-4", "recalled"); });
  kitchen.at("2026-05-20T09:00+01:00");
  int not_shown = 0;
  for (const auto& finding : kitchen.judged(cake).findings) {
    if (finding.verdict == Verdict::shown) {
      EXPECT_EQ(finding.stop, Stop::none) << finding.control;
      continue;
    }
    ++not_shown;
    const auto* row = rule_packs()->plan_row(finding.control);
    ASSERT_NE(row, nullptr) << finding.control;
    const std::string& policy = finding.verdict == Verdict::not_met ? row->not_met : row->not_shown;
    EXPECT_GE(finding.stop, policy == "never" ? Stop::no_override : Stop::needs_person) << finding.control << ": " << finding.message;
    EXPECT_FALSE(finding.remedy.empty()) << finding.control;
  }
  EXPECT_GE(not_shown, 7);
}

std::string in_capitals(std::string text) {
  for (char& c : text) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  return text;
}

TEST(Label, TellsAnAllergenThatIsAddedToAnySpecificationAnywhere) {
  TestKitchen kitchen;
  kitchen.recipe("cream", R"([{"of": "icing", "recipe": true, "mass": "200 g"}, {"of": "sugar", "mass": "10 g"}])", "209 g", "bowl", "none",
                 "room");
  kitchen.make("icing", grams(298));
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cream = kitchen.make("cream", grams(209));
  const std::string cake = cake_of(kitchen, {{sponge, grams(270)}, {cream, grams(1)}});
  const auto label = [&] {
    const Session session = kitchen.open(true);
    LabelContent content = label_content(session, kitchen.judged(cake), 1);
    content.head = content.code = "";  // they tell of the records, not of the cake
    return write_pretty(json_of(content));
  };
  const auto terms = rule_packs()->label_terms("gb", *parse_date("2026-05-01"));
  const std::vector<std::string> foods{"flour", "sugar", "butter", "eggs"};
  for (int round = 0; round < 24; ++round) {
    const rc::Random random{static_cast<std::uint64_t>(round)};
    const auto [food, which] =
        rc::gen::pair(rc::gen::elementOf(foods), rc::gen::inRange<std::size_t>(0, terms->allergens.size()))(random, 100).value();
    const AllergenTerm& allergen = terms->allergens.at(which);
    const Session session = kitchen.open(true);
    const auto found = std::find_if(session.state().specifications.begin(), session.state().specifications.end(),
                                    [&, of = food](const auto& one) { return one.second.value.ingredient.text() == of; });
    ASSERT_NE(found, session.state().specifications.end());
    const Json before = body_of(found->second.value)["allergens"];
    Json after = before;
    for (auto& one : after.array()) {
      if (one["allergen"].text() == allergen.key) one["presence"] = Json{"contains"};
    }
    std::uint64_t note = found->second.sequence;
    if (after == before) continue;
    const std::string without = label();
    note = correct_note(kitchen, note, {{"allergens", after}}).sequences.front();
    const std::string with = label();
    EXPECT_NE(with, without) << allergen.key << " in " << food;
    if (!allergen.above_mg_per_kg) {
      EXPECT_THAT(in_capitals(with), HasSubstr(in_capitals(allergen.word))) << allergen.key << " in " << food;
    }
    correct_note(kitchen, note, {{"allergens", before}});
    EXPECT_EQ(label(), without) << "and back again";
  }
}

TEST(Verdict, NeverImprovesWhenAReadingIsTakenBack) {
  TestKitchen kitchen;
  for (int round = 0; round < 9; ++round) {  // as many as the sugar lasts for
    const rc::Random random{static_cast<std::uint64_t>(round)};
    const auto [degrees, which] =
        rc::gen::pair(rc::gen::container<std::vector<int>>(5, rc::gen::elementOf(std::vector<int>{300, 740, 760, 810, 860, 1500})),
                      rc::gen::inRange<std::size_t>(0, 5))(random, 100)
            .value();
    const std::string day = fmt::format("2026-05-{:02}", round + 1);
    const std::string fridge = fmt::format("fridge-{}", round);
    kitchen.at(day + "T09:00+01:00");
    kitchen.check_thermometers();
    kitchen.done([&](Session& s) { return add_place(s, fridge, Place{fridge, "fridge"}); });
    const std::string icing = kitchen.make("icing", grams(298));
    const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
    kitchen.put_in(cake, fridge);
    kitchen.at(day + "T10:00+01:00");
    std::vector<std::uint64_t> notes;
    for (std::size_t i = 0; i < degrees.size(); ++i) {
      const std::string at = fmt::format("{}T{:02}:{:02}", day, 9 + i * 15 / 60, i * 15 % 60);
      notes.push_back(
          kitchen.done([&](Session& s) {
                   return type_reading(s, {"logger", Degrees{degrees[i], Scale::celsius}, fridge, "", at});
                 })
              .sequences.front());
    }
    const auto before = the_finding(kitchen, cake, "cold-hold");
    kitchen.done([&, lost = notes[which]](Session& s) { return void_note(s, lost, "taken back"); });
    const auto after = the_finding(kitchen, cake, "cold-hold");
    EXPECT_GE(gravity(after.verdict), std::min(gravity(before.verdict), gravity(Verdict::not_shown))) << round << ": " << after.message;
    EXPECT_NE(after.verdict, Verdict::shown) << round << ": a reading that was taken back leaves a gap";
  }
}

}  // namespace
}  // namespace tierproof
