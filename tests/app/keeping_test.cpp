// Whether a cake may stand without a fridge, from what was measured or written to the verdict, the date and the answer.
#include "tierproof/app/keeping.h"

#include <fmt/format.h>

#include "app/app_for_tests.h"
#include "app/label_contents.h"
#include "app/life.h"
#include "tierproof/app/stores.h"

namespace tierproof {
namespace {

constexpr const char* flour_and_sugar = R"([{"of": "flour", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])";

KeepingMeasured measured_dry(const std::string& of) {
  return {of, "0.84", "0.01", "6.5", "0.1", "2026-05-01", "dew point", "a laboratory", "blue folder"};
}
KeepingAdvised letter(const std::string& of, const std::string& place = "room", const std::string& days = "") {
  return {of, place, days, "2026-05-01", "the food authority", "blue folder", "it may stand in a cool room", false};
}

/// A kitchen with two recipes for room temperature of which nothing is on file.
class KeepingKitchen : public TestKitchen {
 public:
  KeepingKitchen() {
    recipe("biscuit", flour_and_sugar, "180 g", "tin", "none", "room");
    recipe("jam", R"([{"of": "sugar", "mass": "100 g"}, {"of": "butter", "mass": "100 g"}])", "200 g", "bowl", "none", "room");
  }
  std::uint64_t measure(const KeepingMeasured& what) {
    return done([&](Session& s) { return record_measured(s, what); }).sequences.front();
  }
  std::uint64_t advise(const KeepingAdvised& what) {
    return done([&](Session& s) { return record_advice(s, what); }).sequences.front();
  }
  std::string cake_of_biscuit(Mass yield = grams(180)) { return cake_of(*this, {{make("biscuit", yield), yield}}); }
  /// A cake of so much biscuit and jam.
  std::string cake_of_both(Mass biscuit, Mass jam) {
    const std::string one = make("biscuit", grams(180)), other = make("jam", grams(200));
    return cake_of(*this, {{one, biscuit}, {other, jam}});
  }
  Finding standing(const std::string& cake) { return the_finding(*this, cake, "out-of-fridge"); }
  HowItKeeps keeps(const std::string& of) {
    const Session session = open(true);
    auto told = how_it_keeps(session, of, {session.now(), Offset{60}});
    EXPECT_TRUE(told.has_value());
    return told ? std::move(told).value() : HowItKeeps{};
  }
  std::string keeps_in_words(const std::string& of) {
    std::string all;
    for (const auto& line : keeps(of).lines) all += fmt::format("{}: {} <- {}\n", line.about, line.says, line.rests_on);
    return all;
  }
  std::string made_of(const std::string& recipe_id, const std::vector<std::pair<std::string, Mass>>& weighed, Mass yield) {
    Making making;
    making.recipe = recipe_id;
    making.yield = yield;
    making.weighed = weighed;
    return done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  }
};

TEST(Standing, IsNotShownWhileNothingIsOnFileAndAPersonAnswersForIt) {
  KeepingKitchen kitchen;
  const std::string cake = kitchen.cake_of_biscuit();
  const Finding finding = kitchen.standing(cake);
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_EQ(finding.stop, Stop::needs_person);
  EXPECT_THAT(finding.message, HasSubstr("biscuit (batch-1): nothing was measured and nobody advised"));
  EXPECT_THAT(release_of(kitchen, cake), HasSubstr("out-of-fridge"));
  EXPECT_EQ(release_of(kitchen, cake, {{"out-of-fridge", "a dry biscuit, as we have always kept it"}}), "");
}

TEST(Standing, TellsTheBoxThatItNeedsTheFridgeUntilAPersonAnswersForIt) {
  KeepingKitchen kitchen;
  const std::string cake = kitchen.cake_of_biscuit();
  const auto told = [&] {
    const Session session = kitchen.open(true);
    const Judgement judgement = kitchen.judged(cake);
    return std::pair{label_content(session, judgement, 1).storage, says_of(session.state(), judgement)};
  };
  const auto before = told();
  EXPECT_EQ(before.first, "Keep in the fridge, at 5 °C or below.") << "unknown counts as needing it";
  ASSERT_EQ(release_of(kitchen, cake, {{"out-of-fridge", "a dry biscuit, as we have always kept it"}}), "");
  const auto after = told();
  EXPECT_EQ(after.first, "Keep in a cool, dry place.");
  EXPECT_NE(before.second, after.second) << "a label that was printed before says something else";
  kitchen.measure(measured_dry("biscuit"));
  EXPECT_EQ(told().first, "Keep in a cool, dry place.");
}

TEST(Standing, ThatIsKnownToNeedTheFridgeIsToldSoWhoeverAnswersForIt) {
  KeepingKitchen kitchen;
  kitchen.advise(letter("biscuit", "fridge"));
  const std::string cake = kitchen.cake_of_biscuit();
  ASSERT_EQ(kitchen.standing(cake).verdict, Verdict::not_met);
  ASSERT_EQ(release_of(kitchen, cake, {{"out-of-fridge", "to see what the box says"}}), "");
  EXPECT_EQ(label_content(kitchen.open(true), kitchen.judged(cake), 1).storage, "Keep in the fridge, at 5 °C or below.");
}

TEST(Standing, IsToldForACoolPlaceOnceSomethingShowsIt) {
  KeepingKitchen kitchen;
  kitchen.measure(measured_dry("biscuit"));
  const std::string cake = kitchen.cake_of_biscuit();
  EXPECT_EQ(label_content(kitchen.open(true), kitchen.judged(cake), 1).storage, "Keep in a cool, dry place.");
}

TEST(Standing, IsNotAskedOfACakeThatIsKeptInTheFridge) {
  KeepingKitchen kitchen;
  const std::string biscuit = kitchen.make("biscuit", grams(180)), icing = kitchen.make("icing", grams(298));
  const std::string cake = cake_of(kitchen, {{biscuit, grams(180)}, {icing, grams(298)}});
  EXPECT_EQ(kitchen.verdicts(cake, "out-of-fridge"), Strings{});
  const std::string told = kitchen.keeps_in_words(cake);
  EXPECT_THAT(told, HasSubstr("where: in the fridge <- icing (batch-2) needs the fridge"));
  EXPECT_THAT(told,
              HasSubstr("biscuit (batch-1) is for room temperature by its recipe; in this cake it goes where the strictest part has to"));
  EXPECT_THAT(told, HasSubstr("out of the fridge: once, for service or display: less than 4 h"));
}

TEST(Standing, IsShownByWhatWasMeasuredOfTheOnlyPart) {
  KeepingKitchen kitchen;
  const std::string cake = kitchen.cake_of_biscuit();
  const auto note = kitchen.measure(measured_dry("biscuit"));
  const Finding finding = kitchen.standing(cake);
  EXPECT_EQ(finding.verdict, Verdict::shown) << finding.message;
  EXPECT_EQ(finding.message,
            fmt::format("biscuit (batch-1): water activity 0.84 ± 0.01 and pH 6.5 ± 0.1 (dew point), measured by a laboratory, 1 May 2026, "
                        "kept: blue folder, note {}: the table asks for no control",
                        note));
  EXPECT_THAT(finding.source, HasSubstr("activity-open-food"));
}

TEST(Standing, AddsTheErrorOfTheMeter) {
  KeepingKitchen kitchen;
  const std::string cake = kitchen.cake_of_biscuit();
  KeepingMeasured wet = measured_dry("biscuit");
  wet.activity = "0.87";
  wet.activity_error = "0.0099";
  const auto first = kitchen.measure(wet);
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::shown);
  kitchen.done([&](Session& s) { return void_note(s, first, "typed wrong"); });
  wet.activity_error = "0.01";
  kitchen.measure(wet);
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::not_met) << "0.88 itself is to be assessed at pH 6.6";
  EXPECT_EQ(kitchen.standing(cake).stop, Stop::needs_person);
}

TEST(Standing, GoesByThePhAloneWhereTheWaterWasNotMeasured) {
  KeepingKitchen kitchen;
  const std::string cake = kitchen.cake_of_biscuit();
  KeepingMeasured sour{"biscuit", "", "", "4.05", "0.14", "2026-05-01", "meter", "a laboratory", ""};
  const auto note = kitchen.measure(sour);
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::shown) << "below 4.2 at any water activity";
  kitchen.done([&](Session& s) { return void_note(s, note, "typed wrong"); });
  sour.ph_error = "0.15";
  kitchen.measure(sour);
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::not_met);
}

TEST(Standing, EndsWhereTheRecipeChangesOrIsCorrected) {
  KeepingKitchen kitchen;
  kitchen.measure(measured_dry("biscuit"));
  const std::string before = kitchen.cake_of_biscuit();
  kitchen.at("2026-05-01T09:00+01:00");
  kitchen.recipe("biscuit", R"([{"of": "flour", "mass": "100 g"}, {"of": "sugar", "mass": "90 g"}])", "171 g", "tin", "none", "room");
  const std::string after = cake_of(kitchen, {{kitchen.make("biscuit", grams(171)), grams(171)}});
  EXPECT_EQ(kitchen.standing(before).verdict, Verdict::shown) << "it was made by the recipe that was measured";
  const Finding changed = kitchen.standing(after);
  EXPECT_EQ(changed.verdict, Verdict::not_shown);
  EXPECT_THAT(changed.message, HasSubstr("is of the recipe as it stood then"));
  const auto first = kitchen.open(true).state().batches.at(BatchId{"batch-1"}).value.recipe_version;
  correct_note(kitchen, first, {{"life_reason", Json{"another reason"}}});
  EXPECT_EQ(kitchen.standing(before).verdict, Verdict::not_shown) << "nobody knows whether it was measured as corrected";
}

TEST(Standing, GivesTheVerdictBackWhenItsNoteIsVoidedAndKeepsItAsOfThen) {
  KeepingKitchen kitchen;
  const std::string cake = kitchen.cake_of_biscuit();
  const auto note = kitchen.measure(measured_dry("biscuit"));
  kitchen.done([&](Session& s) { return void_note(s, note, "of another biscuit"); });
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::not_shown);
  kitchen.as_of = note;
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::shown);
  kitchen.as_of = note - 1;
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::not_shown);
}

TEST(Standing, HoldsForBatchesMadeByTheFiguresOfTheRecipe) {
  KeepingKitchen kitchen;
  kitchen.measure(measured_dry("biscuit"));
  const auto verdict = [&](Mass sugar, Mass yield) {
    return kitchen.standing(cake_of(kitchen, {{kitchen.made_of("biscuit", {{"sugar", sugar}}, yield), grams(100)}})).verdict;
  };
  EXPECT_EQ(verdict(grams(102), grams(180)), Verdict::shown) << "50.495 % instead of 50";
  EXPECT_EQ(verdict(grams(103), grams(180)), Verdict::not_shown) << "50.74 %";
  EXPECT_EQ(verdict(grams(97), grams(170)), Verdict::not_shown);
  EXPECT_EQ(verdict(grams(100), grams(184)), Verdict::shown) << "92 % of what went in remains, 90 by the recipe";
  EXPECT_EQ(verdict(grams(100), Mass::milligrams(184'001)), Verdict::not_shown) << "less water was baked away";
  EXPECT_EQ(verdict(grams(100), grams(160)), Verdict::shown) << "drier";
}

TEST(Standing, IsNotThatOfABatchWithoutItsAcid) {
  KeepingKitchen kitchen;
  kitchen.food("acid", "none", {});
  kitchen.pack("acid", "2026-12-31");
  kitchen.recipe("jelly", R"([{"of": "sugar", "mass": "1000 g"}, {"of": "acid", "mass": "4 g"}])", "1000 g", "bowl", "none", "room");
  kitchen.measure(measured_dry("jelly"));
  const auto verdict = [&](Mass acid) {
    const std::string batch = kitchen.made_of("jelly", {{"sugar", grams(500)}, {"acid", acid}}, grams(499));
    return kitchen.standing(cake_of(kitchen, {{batch, grams(100)}})).verdict;
  };
  EXPECT_EQ(verdict(grams(2)), Verdict::shown);
  EXPECT_EQ(verdict(grams(1)), Verdict::not_shown) << "half of the acid is another food, however little it is";
}

TEST(Standing, GoesByWhatWentIntoAPartToo) {
  KeepingKitchen kitchen;
  kitchen.recipe("filled", R"([{"of": "biscuit", "recipe": true, "mass": "90 g"}, {"of": "sugar", "mass": "10 g"}])", "100 g", "tin",
                 "none", "room");
  kitchen.make("biscuit", grams(180));
  kitchen.measure(measured_dry("filled"));
  EXPECT_EQ(kitchen.standing(cake_of(kitchen, {{kitchen.make("filled", grams(100)), grams(100)}})).verdict, Verdict::shown);
  kitchen.at("2026-05-01T09:00+01:00");
  kitchen.recipe("biscuit", R"([{"of": "flour", "mass": "50 g"}, {"of": "butter", "mass": "100 g"}])", "149 g", "tin", "none", "room");
  kitchen.make("biscuit", grams(149));
  Making making;
  making.recipe = "filled";
  making.yield = grams(100);
  making.use = {{"biscuit", "batch-3"}};
  const std::string filled = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  EXPECT_EQ(kitchen.standing(cake_of(kitchen, {{filled, grams(100)}})).verdict, Verdict::not_shown) << "filled with another biscuit";
  EXPECT_THAT(kitchen.keeps_in_words("filled"), HasSubstr("what is on file is of the recipe as it stood before"));
}

TEST(Standing, OfALeftOverIsThatOfWhatItWasKeptFrom) {
  KeepingKitchen kitchen;
  kitchen.measure(measured_dry("biscuit"));
  const auto kept_of = [&](const std::string& batch) {
    return kitchen.done([&](Session& s) { return keep_left_over(s, {batch, grams(50), false, {}, ""}); }).subjects.front();
  };
  const std::string good = kept_of(kitchen.make("biscuit", grams(180)));
  EXPECT_EQ(kitchen.standing(cake_of(kitchen, {{good, grams(50)}})).verdict, Verdict::shown);
  const std::string wet = kept_of(kitchen.make("biscuit", grams(200)));
  EXPECT_EQ(kitchen.standing(cake_of(kitchen, {{wet, grams(50)}})).verdict, Verdict::not_shown);
}

TEST(Standing, OfPartsThatTouchIsJudgedTogether) {
  KeepingKitchen kitchen;
  kitchen.measure(measured_dry("biscuit"));
  kitchen.measure({"jam", "0.93", "0.01", "3.5", "0.1", "2026-05-01", "dew point", "a laboratory", ""});
  const std::string cake = kitchen.cake_of_both(grams(100), grams(100));
  const Finding finding = kitchen.standing(cake);
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_THAT(finding.message, HasSubstr("water moves where they touch"));
  kitchen.measure(measured_dry(cake));
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::shown) << "the finished cake was measured";
  EXPECT_EQ(kitchen.standing(kitchen.cake_of_both(grams(110), grams(90))).verdict, Verdict::shown) << "55 % instead of 50";
  EXPECT_EQ(kitchen.standing(kitchen.cake_of_both(grams(112), grams(88))).verdict, Verdict::not_shown) << "another cake";
  EXPECT_EQ(kitchen.standing(cake_of(kitchen, {{kitchen.make("biscuit", grams(180)), grams(100)}})).verdict, Verdict::shown)
      << "by its own measurement";
}

TEST(Standing, OfAMeasuredCakeEndsWhenItsTiersAreBuiltOn) {
  KeepingKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("biscuit", grams(200)), grams(100)}});
  kitchen.measure(measured_dry(cake));
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::shown) << "it is this cake, however it was made";
  kitchen.tier(cake, "more", {{kitchen.make("biscuit", grams(200)), grams(100)}});
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::not_shown) << "what came later was not measured, nor made by the figures";
}

TEST(Standing, GoesByWrittenAdviceWhichEndsTheLifeToo) {
  KeepingKitchen kitchen;
  const std::string cake = kitchen.cake_of_biscuit();
  EXPECT_EQ(kitchen.judged(cake).life->date, parse_date("2026-05-05")) << "4 days by its recipe";
  kitchen.advise(letter("biscuit", "room", "5"));
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::shown);
  EXPECT_EQ(kitchen.judged(cake).life->date, parse_date("2026-05-05")) << "advice gives no days";
  kitchen.advise(letter("biscuit", "room", "2"));
  EXPECT_EQ(kitchen.judged(cake).life->date, parse_date("2026-05-03"));
  EXPECT_EQ(kitchen.judged(cake).life->kind, "use by") << "as its packs are";
  EXPECT_THAT(kitchen.judged(cake).life->why,
              HasSubstr("written advice of the food authority (“it may stand in a cool room”), 1 May 2026"));
  kitchen.advise(letter("biscuit", "fridge"));
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::not_met);
  EXPECT_THAT(kitchen.standing(cake).message, HasSubstr("needs the fridge by what is on file: written advice of the food authority"));
}

TEST(Standing, CountsTheDaysOfAdviceForACakeFromItsFirstTier) {
  KeepingKitchen kitchen;
  const std::string biscuit = kitchen.make("biscuit", grams(180)), jam = kitchen.make("jam", grams(200));
  kitchen.at("2026-05-02T08:00+01:00");
  const std::string cake = cake_of(kitchen, {{biscuit, grams(100)}, {jam, grams(100)}});
  kitchen.advise(letter(cake, "room", "1"));
  EXPECT_EQ(kitchen.standing(cake).verdict, Verdict::shown);
  EXPECT_EQ(kitchen.judged(cake).life->date, parse_date("2026-05-03"));
  EXPECT_THAT(kitchen.judged(cake).life->why, HasSubstr(cake + ", put together"));
}

TEST(Standing, TellsAnEstimateAndTakesNothingFromIt) {
  KeepingKitchen kitchen;
  for (const char* food : {"flour", "sugar"}) {
    const auto specification =
        kitchen.open(true).state().lots.at(LotId{food == std::string{"flour"} ? "pack-1" : "pack-2"}).value.specification;
    correct_note(kitchen, specification, {{"water_ppm", Json{food == std::string{"flour"} ? 140'000 : 0}}});
  }
  const std::string wet = kitchen.cake_of_biscuit(grams(200));
  EXPECT_THAT(kitchen.standing(wet).message, HasSubstr("only an estimate of 0.8"));
  EXPECT_EQ(kitchen.standing(wet).verdict, Verdict::not_shown);
}

TEST(Standing, StandsOnTheRecordWithItsReason) {
  KeepingKitchen kitchen;
  const std::string cake = kitchen.cake_of_biscuit();
  const Session session = kitchen.open(true);
  std::string told;
  for (const auto& line : record_content(session, kitchen.judged(cake), "tierproof").keep) told += line.label + ": " + line.text + "\n";
  EXPECT_THAT(told, HasSubstr("Without a fridge: not recorded well enough: it is not known to keep without a fridge"));
}

TEST(Keeping, RefusesWhatCannotBeAllTogether) {
  KeepingKitchen kitchen;
  const std::string told = kitchen.refused([](Session& s) {
    return record_measured(s, {"biscuit", "1.01", "0", "15", "", "2026-05-02", "", "a safe laboratory", ""});
  });
  for (const char* field : {"--water-activity", "--error", "--ph:", "--ph-error", "--on", "--method", "--tested-by"})
    EXPECT_THAT(told, HasSubstr(field)) << told;
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return record_measured(s, {"biscuit", "", "", "", "", "2026-05-01", "x", "y", ""});
  }),
              HasSubstr("and so is the pH"));
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return record_measured(s, {"biscuit", "0", "0.1", "", "0.1", "2026-05-01", "x", "y", ""});
  }),
              testing::AllOf(HasSubstr("\"0\" cannot be"), HasSubstr("without what was measured")));
  EXPECT_THAT(kitchen.refused([](Session& s) { return record_measured(s, measured_dry("scone")); }), HasSubstr("scone"));
  const std::string empty = kitchen.cake();
  EXPECT_THAT(kitchen.refused([&](Session& s) { return record_measured(s, measured_dry(empty)); }), HasSubstr("nothing was put into"));
  const std::string advice = kitchen.refused([](Session& s) {
    return record_advice(s, {"biscuit", "fridge", "0", "", "", "", "it is safe", false});
  });
  for (const char* field : {"--days", "--on", "--written-by", "--kept", "--says"}) EXPECT_THAT(advice, HasSubstr(field)) << advice;
  EXPECT_THAT(kitchen.refused([](Session& s) { return record_advice(s, letter("biscuit", "shelf")); }), HasSubstr("--keep-in"));
}

TEST(Keeping, RefusesADayBeforeTheVersionThatIsMeasured) {
  KeepingKitchen kitchen;
  KeepingMeasured earlier = measured_dry("biscuit");
  earlier.on = "2026-04-20";
  kitchen.measure(earlier);
  kitchen.recipe("biscuit", R"([{"of": "flour", "mass": "100 g"}, {"of": "sugar", "mass": "90 g"}])", "171 g", "tin", "none", "room");
  EXPECT_THAT(kitchen.refused([&](Session& s) { return record_measured(s, earlier); }),
              HasSubstr("is before 1 May 2026, since when biscuit is made as it is now"));
  kitchen.measure(measured_dry("biscuit"));
}

TEST(Keeping, IsAnsweredOfARecipeABatchAndACake) {
  KeepingKitchen kitchen;
  EXPECT_FALSE(kitchen.keeps("biscuit").answered);
  EXPECT_THAT(kitchen.keeps_in_words("biscuit"), HasSubstr("nothing on file: the maker's decision alone"));
  kitchen.advise(letter("biscuit", "room", "2"));
  EXPECT_TRUE(kitchen.keeps("biscuit").answered);
  EXPECT_THAT(kitchen.keeps_in_words("biscuit"), HasSubstr("but 2 days by what is on file, which counts"));
  const std::string batch = kitchen.make("biscuit", grams(180));
  EXPECT_TRUE(kitchen.keeps(batch).answered);
  EXPECT_THAT(kitchen.keeps_in_words(batch), HasSubstr("until: use by 3 May 2026"));
  EXPECT_TRUE(kitchen.keeps(cake_of(kitchen, {{batch, grams(180)}})).answered);
  EXPECT_THAT(kitchen.keeps_in_words("icing"), HasSubstr("where: in the fridge <- its recipe"));
  const Session session = kitchen.open(true);
  EXPECT_FALSE(how_it_keeps(session, "scone", {session.now(), Offset{60}}).has_value());
}

}  // namespace
}  // namespace tierproof
