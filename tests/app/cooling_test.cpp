#include <fmt/format.h>

#include "app/app_for_tests.h"
#include "tierproof/app/stores.h"
#include "tierproof/sums/cooling_step.h"

namespace tierproof {
namespace {

constexpr const char* two_things = R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])";

/// A kitchen by the rules of `rules`, with a custard that is heated and kept in the fridge, made at 08:00.
class Cooled {
 public:
  explicit Cooled(const std::string& rules = "us", const std::string& more = R"(, "heated": "heated")") {
    if (rules != "gb-eng") correct_note(kitchen, 1, {{"temperature_rules", Json{rules}}});
    kitchen.recipe("custard", two_things, "195 g", "bowl", "none", "fridge", more);
    batch = kitchen.make("custard", grams(195));
    kitchen.at("2026-05-01T18:00+01:00");
  }
  /// Readings as `08:05 71`.
  void read(const std::vector<std::string>& lines, const std::string& purpose = "cooling", const std::string& probe = "fork") {
    std::string csv;
    for (const auto& line : lines) csv += fmt::format("2026-05-01T{}:00+01:00,{}\n", line.substr(0, 5), line.substr(6));
    kitchen.done([&](Session& s) { return import_csv(s, probe, batch, purpose, csv); });
  }
  const std::string& built() {
    if (cake.empty()) cake = cake_of(kitchen, {{batch, grams(195)}});
    return cake;
  }
  Finding finding() { return the_finding(kitchen, built(), "cooling"); }
  std::string verdict() { return std::string{term_of(finding().verdict)}; }
  Strings found() { return kitchen.verdicts(built(), "cooling"); }

  TestKitchen kitchen;
  std::string batch, cake;
};
/// 57 to 21 °C in 1 h 30 min, to 5 °C in 4 h 45 min, with the fork's ±0.5 °C (and half a step) on the safe side.
const Strings quick{"08:15 71", "08:30 60", "09:00 35", "10:00 20", "12:00 9", "13:15 4"};
const Strings slow{"08:15 71", "08:20 50", "09:00 40", "11:00 22", "13:00 9", "13:15 4"};

TEST(CoolingOfABatch, IsShownByReadingsOfItInTheRulesOfTheKitchen) {
  Cooled custard;
  custard.read(quick);
  const Finding f = custard.finding();
  EXPECT_EQ(f.verdict, Verdict::shown) << f.message;
  EXPECT_EQ(f.subject, "batch-1 (custard)");
  EXPECT_THAT(f.limit, HasSubstr("within 6 h in all"));
  EXPECT_THAT(f.evidence, HasSubstr("fork thermometer, by logger"));
  EXPECT_THAT(f.source, HasSubstr("3-501.14(A)"));
}

TEST(CoolingOfABatch, ThatWasTooSlowStopsTheCakeForGood) {
  Cooled custard;
  custard.read(slow);
  EXPECT_EQ(custard.finding().verdict, Verdict::not_met);
  EXPECT_THAT(release_of(custard.kitchen, custard.built(), {{"cooling", "it looked well"}}), HasSubstr("cooling"));
}

TEST(CoolingOfABatch, WithoutReadingsIsNotShownAndAPersonMayAnswerForIt) {
  Cooled custard;
  const Finding f = custard.finding();
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.stop, Stop::needs_person);
  EXPECT_THAT(f.message, HasSubstr("its recipe says that it is heated, and it is kept cold; no temperature of its cooling is recorded"));
}

TEST(CoolingOfABatch, IsAskedOfWhatTheRecipeOrAReadingSaysWasHeated) {
  EXPECT_EQ(Cooled("us", R"(, "heated": "not heated")").found(), Strings{});
  EXPECT_THAT(Cooled("us", "").finding().message, HasSubstr("nothing recorded says whether it was heated"));
  EXPECT_THAT(Cooled("us", R"(, "syrup_target": "118 C")").finding().message, HasSubstr("a boiled syrup goes into it"));
  EXPECT_EQ(Cooled("us", R"(, "syrup_target": "118 C", "heated": "not heated")").found(), Strings{});
  Cooled read_hot("us", R"(, "heated": "not heated")");
  read_hot.read({"08:15 56.4"}, "heat step");
  EXPECT_EQ(read_hot.found(), Strings{}) << "56.4 is not 57.22, not even with the error";
  read_hot.read({"08:20 56.8"}, "heat step");
  EXPECT_THAT(read_hot.finding().message, HasSubstr("the fork thermometer read it hot"));
}

TEST(CoolingOfABatch, IsAskedOfBakedPartsThatAreKeptColdAlone) {
  Cooled custard("us", R"(, "heated": "not heated")");
  TestKitchen& kitchen = custard.kitchen;
  kitchen.recipe("cheesecake", R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "180 g", "tin", "baked through",
                 "fridge");
  const auto baked = kitchen.make("cheesecake", grams(180));
  const auto sponge = kitchen.make("sponge", grams(270));
  const auto cake = cake_of(kitchen, {{baked, grams(180)}, {sponge, grams(270)}, {custard.batch, grams(195)}});
  EXPECT_EQ(kitchen.verdicts(cake, "cooling"), (Strings{baked + " (cheesecake): not shown"}));
  EXPECT_THAT(the_finding(kitchen, cake, "cooling").message, HasSubstr("it is baked through"));
}

TEST(CoolingOfABatch, FollowsTheRowOfEachPlace) {
  const auto by = [](const std::string& rules, const Strings& lines) {
    Cooled custard{rules};
    custard.read(lines);
    return custard.verdict() + ", " + custard.finding().limit;
  };
  EXPECT_EQ(by("eu-fr", {"08:15 71", "08:30 64", "10:25 9"}), "shown, 63 °C to below 10 °C in less than 2 h");
  EXPECT_EQ(by("eu-fr", {"08:15 71", "08:30 64", "10:30 9"}), "not shown, 63 °C to below 10 °C in less than 2 h");
  EXPECT_EQ(by("eu-fr", {"08:15 71", "08:30 62", "10:31 11"}), "not met, 63 °C to below 10 °C in less than 2 h");
  EXPECT_EQ(by("anz", {"08:30 61", "09:30 22", "10:30 20", "13:30 4"}),
            "shown, 60 °C to 21 °C within 2 h, and to 5 °C within a further 4 h");
  EXPECT_EQ(by("anz", {"08:30 61", "09:30 22", "10:30 20", "13:31 4"}),
            "not shown, 60 °C to 21 °C within 2 h, and to 5 °C within a further 4 h");
  EXPECT_EQ(by("ca-on", {"08:30 61", "09:30 21", "10:30 19", "13:30 3"}),
            "shown, 60 °C to 20 °C within 2 h, and to 4 °C within a further 4 h");
  EXPECT_EQ(by("eu", quick), "not shown, ") << "no number";
  Cooled england{"gb-eng"};
  EXPECT_EQ(england.found(), Strings{}) << "its rules say nothing of cooling, and the record says so";
}

TEST(CoolingOfABatch, BeginsWithTheHeatStepOfTheSameThermometer) {
  Cooled custard;
  custard.read({"08:15 71", "08:30 60"}, "heat step");
  custard.read({"09:00 35", "10:00 20", "12:00 9", "13:15 4"});
  EXPECT_EQ(custard.verdict(), "shown");
  Cooled other;
  other.kitchen.done([](Session& s) { return add_probe(s, "second", Probe{"second thermometer", Scale::celsius, 50, 10, "food", {}}); });
  other.read({"08:15 71", "08:30 60"}, "heat step", "second");
  other.read({"09:00 35", "10:00 20", "12:00 9", "13:15 4"});
  EXPECT_EQ(other.verdict(), "not shown") << "two thermometers are not one";
}

TEST(CoolingOfABatch, TakesTheGravestOfSeveralThermometers) {
  Cooled custard;
  custard.kitchen.done([](Session& s) { return add_probe(s, "second", Probe{"second thermometer", Scale::celsius, 50, 10, "food", {}}); });
  custard.kitchen.done([](Session& s) { return check_probe(s, {"second", "ice", Degrees{0, Scale::celsius}, ""}); });
  custard.read(quick);
  custard.read(slow, "cooling", "second");
  EXPECT_EQ(custard.verdict(), "not met");
}

TEST(CoolingOfABatch, IsNotShownByAThermometerInTheAirOrOneWithoutGoodChecks) {
  Cooled custard;
  custard.read(quick, "cooling", "logger");
  EXPECT_THAT(custard.finding().message, HasSubstr("only the air was measured"));
  Cooled doubted;
  doubted.read(quick);
  doubted.kitchen.check_thermometers(300);
  EXPECT_EQ(doubted.verdict(), "not shown");
}

TEST(CoolingOfABatch, CountsNoReadingFromAfterItWasUsed) {
  Cooled custard;
  custard.kitchen.at("2026-05-01T11:00+01:00");
  custard.built();
  custard.kitchen.at("2026-05-01T18:00+01:00");
  custard.read(quick);
  const Finding f = custard.finding();
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.message, HasSubstr("not recorded at 5 °C (41 °F) or below to the end"));
}

TEST(CoolingOfABatch, TakenBackIsLikeAFault) {
  Cooled custard;
  custard.read({"08:30 60", "10:00 20", "13:15 4"});
  custard.read({"13:30 8"});
  const auto note = custard.kitchen.open(true).head().size;
  EXPECT_EQ(custard.verdict(), "not shown");
  custard.kitchen.done([&](Session& s) { return void_note(s, note, "the wrong bowl"); });
  EXPECT_EQ(custard.verdict(), "not shown");
}

TEST(CoolingOfABatch, ShownIsNoTimeOutOfTheFridge) {
  Cooled custard;
  custard.kitchen.done([&](Session& s) { return put(s, custard.batch, "fridge", "2026-05-01T12:30+01:00"); });
  const auto out = [&] {
    Strings found;
    for (const auto& finding : custard.kitchen.judged(custard.built()).findings) {
      if (finding.subject == "batch-1 (custard), out of the fridge") found.insert(found.end(), finding.paths.begin(), finding.paths.end());
    }
    return found;
  };
  EXPECT_EQ(out(), Strings{"1 May 2026, 08:00 to 12:30: no place recorded"});
  custard.read(quick);
  EXPECT_EQ(out(), Strings{"1 May 2026, 08:00 to 08:30: no place recorded"}) << "from 08:30 it cooled as the rule asks, until 13:15";
  Cooled missed;
  missed.read(slow);
  missed.kitchen.done([&](Session& s) { return put(s, missed.batch, "fridge", "2026-05-01T12:30+01:00"); });
  Strings whole;
  for (const auto& finding : missed.kitchen.judged(missed.built()).findings) {
    if (finding.subject.ends_with("out of the fridge")) whole = finding.paths;
  }
  EXPECT_EQ(whole, Strings{"1 May 2026, 08:00 to 12:30: no place recorded"}) << "only cooling that is shown explains the time";
}

/// Where the batch is told to have been out of the fridge.
Strings told_as_out(Cooled& custard) {
  Strings found;
  for (const auto& finding : custard.kitchen.judged(custard.built()).findings) {
    if (finding.subject == "batch-1 (custard), out of the fridge") found.insert(found.end(), finding.paths.begin(), finding.paths.end());
  }
  return found;
}

TEST(CoolingOfABatch, LeavesTheTimeBeforeItsHotReadingAsTimeOut) {
  Cooled custard;
  custard.kitchen.done([&](Session& s) { return put(s, custard.batch, "fridge", "2026-05-01T12:30+01:00"); });
  custard.read({"08:10 20", "09:30 30", "10:00 71", "10:15 60", "10:45 35", "11:45 20", "13:45 9", "15:00 4"});
  EXPECT_EQ(custard.verdict(), "shown");
  EXPECT_EQ(told_as_out(custard), Strings{"1 May 2026, 08:00 to 10:15: no place recorded"})
      << "its cooling explains nothing of the two hours before it was hot";
}

TEST(CoolingOfABatch, ThatWasWarmAgainCountsFromItsFirstFallAsTimeOutToo) {
  Cooled custard;
  custard.kitchen.done([&](Session& s) { return put(s, custard.batch, "fridge", "2026-05-01T12:30+01:00"); });
  custard.read({"08:15 71", "08:30 60", "08:40 50", "08:50 60", "09:00 35", "10:00 20", "12:00 9", "13:15 4"});
  EXPECT_EQ(custard.verdict(), "shown");
  EXPECT_EQ(told_as_out(custard), Strings{"1 May 2026, 08:00 to 08:30: no place recorded"}) << "not to 08:50";
}

TEST(CoolingOfABatch, ByTwoThermometersExplainsOnlyTheTimeThatBothShow) {
  Cooled custard;
  custard.kitchen.at("2026-05-01T08:05+01:00");
  custard.kitchen.done([](Session& s) { return add_probe(s, "second", Probe{"second thermometer", Scale::celsius, 50, 10, "food", {}}); });
  custard.kitchen.done([](Session& s) { return check_probe(s, {"second", "ice", Degrees{0, Scale::celsius}, ""}); });
  custard.kitchen.at("2026-05-01T18:00+01:00");
  custard.kitchen.done([&](Session& s) { return put(s, custard.batch, "fridge", "2026-05-01T14:00+01:00"); });
  custard.read(quick);
  custard.read({"08:30 71", "08:45 60", "09:15 35", "10:15 20", "12:00 9", "13:00 4"}, "cooling", "second");
  EXPECT_EQ(custard.verdict(), "shown");
  EXPECT_EQ(told_as_out(custard),
            (Strings{"1 May 2026, 08:00 to 08:45: no place recorded", "1 May 2026, 13:00 to 14:00: no place recorded"}));
}

TEST(CoolingOfABatch, OfEnglandIsToldWithTheAdviceThatIsNoLaw) {
  Cooled custard{"gb-eng"};
  const std::string cake = custard.built();
  const auto content = record_content(custard.kitchen.open(true), custard.kitchen.judged(cake), "test");
  const auto line = std::find_if(content.keep.begin(), content.keep.end(), [](const auto& one) { return one.label == "Cooling"; });
  ASSERT_NE(line, content.keep.end());
  EXPECT_EQ(
      line->text,
      "not judged: the rules in force give no time; advice, not law: into the fridge within 1 h 30 min [cooling-advice: hot food goes into "
      "the fridge within 90 minutes]; heated, then kept in the fridge: custard (batch-1)");
}

TEST(CoolingOfABatch, OfALeftOverIsJudgedWhereItWasMade) {
  Cooled custard;
  custard.read(quick);
  const auto kept = custard.kitchen.done([&](Session& s) { return keep_left_over(s, {custard.batch, grams(50), false, {}, ""}); });
  const auto cake = cake_of(custard.kitchen, {{kept.subjects.front(), grams(40)}});
  EXPECT_EQ(custard.kitchen.verdicts(cake, "cooling"), Strings{"batch-1 (custard): shown"});
}

TEST(CoolingOfABatch, IsDrawnAndToldOnTheRecord) {
  Cooled custard;
  custard.read(quick);
  const auto judgement = custard.kitchen.judged(custard.built());
  const auto series = std::find_if(judgement.series.begin(), judgement.series.end(),
                                   [](const SeriesUsed& used) { return used.title == "batch-1 (custard), cooling"; });
  ASSERT_NE(series, judgement.series.end());
  EXPECT_EQ(series->readings.size(), quick.size());
  EXPECT_THAT(series->limit_words, HasSubstr("within 6 h in all"));
}

TEST(CoolingReadings, AreOfAPart) {
  Cooled custard;
  custard.built();
  const auto refused = [&](const std::string& about) {
    return custard.kitchen.refused([&](Session& s) { return import_csv(s, "fork", about, "cooling", "2026-05-01T09:00+01:00,50\n"); });
  };
  EXPECT_THAT(refused(custard.cake), HasSubstr("only a part is cooled"));
  EXPECT_THAT(refused("fridge"), HasSubstr("a place is only kept cold"));
}

TEST(RecipeHeated, MustNotContradictItsEgg) {
  TestKitchen kitchen;
  const std::string text = R"({"recipe": "tart", "name": "tart", "part": "sponge", "items": [{"of": "eggs", "mass": "100 g"}],
    "yield": "90 g", "kit": [], "egg": "baked through", "heated": "not heated", "storage": "fridge", "life_days": 2, "life_reason": "x"})";
  EXPECT_THAT(kitchen.refused([&](Session& s) {
    return add_recipes(s, {{"tart.json", text}});
  }),
              HasSubstr("says that it is not heated, and its egg is \"baked through\""));
}

}  // namespace
}  // namespace tierproof
