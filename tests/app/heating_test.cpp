// What a heat step shows while it happens.
#include "tierproof/app/heating.h"

#include <fmt/format.h>

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

using testing::HasSubstr;

constexpr const char* heated_eggs = R"(, "heated_together": ["eggs"], "heat_food": "core of a cooked food")";

class Custard {
 public:
  Custard() {
    kitchen.recipe("custard", R"([{"of": "eggs", "mass": "100 g"}])", "95 g", "bowl", "raw, heated here", "room", heated_eggs);
    batch = kitchen.make("custard", grams(95));
  }
  /// Types a reading of the fork and tells how far the step is by then.
  std::optional<HeatSoFar> read(const std::string& at, std::int64_t degrees, const std::string& purpose = "heat step") {
    kitchen.at(at);
    ReadingTyped typed;
    typed.probe = "fork";
    typed.read = Degrees{degrees * 100, Scale::celsius};
    typed.about = batch;
    typed.purpose = purpose;
    typed.at = "now";
    kitchen.done([&](Session& s) { return type_reading(s, typed); });
    return heat_so_far(kitchen.open(true), BatchId{batch}, ProbeId{"fork"});
  }
  TestKitchen kitchen;
  std::string batch;
};

TEST(HeatSoFar, TellsHowLongItWasHeldOfHowLongItHasToBe) {
  Custard custard;
  auto so_far = custard.read("2026-05-01T08:01:00+01:00", 72);
  ASSERT_TRUE(so_far.has_value());
  EXPECT_EQ(so_far->finding.verdict, Verdict::not_shown);
  EXPECT_THAT(so_far->finding.message, HasSubstr("held at or above 70 °C for 0 s (needs 2 min)"));
  EXPECT_EQ(so_far->short_words, "0 s of 2 min at 70 °C or more, 2 min to go, readings of 70.6 °C or more count");
  so_far = custard.read("2026-05-01T08:02:00+01:00", 72);
  EXPECT_THAT(so_far->finding.message, HasSubstr("worth at least 1 min 33 s at 70 °C (needs 2 min)"));
  EXPECT_EQ(so_far->short_words, "worth 1 min 33 s of 2 min at 70 °C, 27 s to go, readings of 70.6 °C or more count");
  EXPECT_EQ(so_far->held, Span{93'000});
  EXPECT_EQ(so_far->missing, Span{27'000});
  so_far = custard.read("2026-05-01T08:03:00+01:00", 72);
  EXPECT_EQ(so_far->finding.verdict, Verdict::shown) << so_far->finding.message;
  EXPECT_EQ(so_far->short_words, "2 min of 2 min at 70 °C or more: enough");
  EXPECT_EQ(so_far->missing, Span{});
}

TEST(HeatSoFar, StaysEnoughWhenItGetsColderAfterwards) {
  Custard custard;
  for (const char* minute : {"01", "02", "03"}) custard.read(fmt::format("2026-05-01T08:{}:00+01:00", minute), 72);
  EXPECT_EQ(custard.read("2026-05-01T08:04:00+01:00", 50)->short_words, "2 min of 2 min at 70 °C or more: enough");
}

TEST(HeatSoFar, OfATimeWithoutABreakBeginsAnewWhenItIsBroken) {
  Custard custard;
  custard.read("2026-05-01T08:01:00+01:00", 66);  // 65 °C for 10 min is a row, and 70 °C is not reached
  custard.read("2026-05-01T08:02:00+01:00", 66);
  const auto held = custard.read("2026-05-01T08:03:00+01:00", 66);
  ASSERT_TRUE(held.has_value());
  EXPECT_EQ(held->held + held->missing, held->built->wanted) << held->short_words;
  const auto broken = custard.read("2026-05-01T08:03:30+01:00", 40);
  if (broken->built->held) {
    EXPECT_EQ(broken->held, Span{}) << broken->short_words;
  } else {
    EXPECT_EQ(broken->held, held->held) << broken->short_words;
  }
}

TEST(HeatSoFar, ByAThermometerWithoutAGoodCheckDoesNotCount) {
  Custard custard;
  custard.kitchen.check_thermometers(300);
  for (const char* minute : {"01", "02"}) custard.read(fmt::format("2026-05-01T08:{}:00+01:00", minute), 75);
  const auto so_far = custard.read("2026-05-01T08:03:00+01:00", 75);
  EXPECT_EQ(so_far->finding.verdict, Verdict::not_shown);
  EXPECT_THAT(so_far->short_words, testing::EndsWith(", but it does not count"));
}

TEST(HeatSoFar, OfAMixThatNoTableSpeaksOfSaysSo) {
  TestKitchen kitchen;
  kitchen.recipe("meringue", R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "290 g", "bowl", "raw, heated here",
                 "room", R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food")");
  const auto batch = kitchen.make("meringue", grams(290));
  kitchen.at("2026-05-01T08:10:00+01:00");
  kitchen.done([&](Session& s) { return type_reading(s, {"fork", Degrees{7500, Scale::celsius}, batch, "heat step", "now"}); });
  const auto so_far = heat_so_far(kitchen.open(true), BatchId{batch}, ProbeId{"fork"});
  EXPECT_EQ(so_far->short_words, "no table vouches for this mix");
  EXPECT_FALSE(so_far->built.has_value());
}

TEST(HeatSoFar, BeginsAnewAfterAReadingThatIsTooCold) {
  Custard custard;
  custard.read("2026-05-01T08:01:00+01:00", 72);
  custard.read("2026-05-01T08:02:00+01:00", 72);
  const auto so_far = custard.read("2026-05-01T08:02:30+01:00", 70);
  EXPECT_EQ(so_far->finding.verdict, Verdict::not_shown) << "70 °C less the error is under 70 °C";
  EXPECT_THAT(so_far->finding.remedy, HasSubstr("2 s more with readings of 70.6 °C or more by this thermometer, one at least every 1 min"));
}

TEST(HeatSoFar, SaysNothingOfWhatIsNoHeatStep) {
  Custard custard;
  EXPECT_FALSE(custard.read("2026-05-01T08:01:00+01:00", 4, "chilled").has_value());
  EXPECT_FALSE(heat_so_far(custard.kitchen.open(true), BatchId{"batch-99"}, ProbeId{"fork"}).has_value());
}

// ---- cores of what is cooked here ----------------------------------------------------------------------------------------------------

/// A custard in a kitchen of England, read by two thermometers at 08:01, 08:02 ... as given, and the finding of a cake of it.
Finding custard_read(const std::vector<std::string>& by_fork, const std::vector<std::string>& by_second) {
  Custard custard;
  TestKitchen& kitchen = custard.kitchen;
  kitchen.done([](Session& s) { return add_probe(s, "second", Probe{"second thermometer", Scale::celsius, 50, 10, "food", {}}); });
  kitchen.done([](Session& s) { return check_probe(s, {"second", "ice", Degrees{0, Scale::celsius}, ""}); });
  kitchen.at("2026-05-01T10:00+01:00");
  for (const auto& [probe, degrees] : {std::pair{"fork", &by_fork}, std::pair{"second", &by_second}}) {
    std::string csv;
    for (std::size_t i = 0; i < degrees->size(); ++i) csv += fmt::format("2026-05-01T08:{:02}:00+01:00,{}\n", i + 1, (*degrees)[i]);
    if (!csv.empty()) kitchen.done([&](Session& s) { return import_csv(s, probe, custard.batch, "heat step", csv); });
  }
  return the_finding(kitchen, cake_of(kitchen, {{custard.batch, grams(95)}}), "egg-heat");
}
const std::vector<std::string> hot_enough{"40", "71", "71", "71", "71", "60"};
const std::vector<std::string> too_cold{"40", "55", "58", "58", "57", "50"};
const std::vector<std::string> perhaps_hot{"40", "68.5", "69.5", "69", "60", "50"};

TEST(HeatStep, OfSeveralThermometersIsJudgedByTheColdest) {
  EXPECT_EQ(custard_read(hot_enough, {}).verdict, Verdict::shown);
  EXPECT_EQ(custard_read(hot_enough, hot_enough).verdict, Verdict::shown);
  EXPECT_EQ(custard_read(hot_enough, too_cold).verdict, Verdict::not_met);
  EXPECT_EQ(custard_read(too_cold, hot_enough).verdict, Verdict::not_met) << "whichever of the two it is";
  EXPECT_EQ(custard_read(hot_enough, perhaps_hot).verdict, Verdict::not_shown);
  EXPECT_EQ(custard_read(perhaps_hot, too_cold).verdict, Verdict::not_met);
  EXPECT_THAT(custard_read(hot_enough, too_cold).evidence, HasSubstr("second thermometer"));
}

/// Rows of the advice for the United Kingdom, as repeated in secondary pages: °C, minutes.
struct CoreRow {
  const char* at;
  int minutes;
};

TEST(HeatStep, OfACoreIsShownByEachPublishedRow) {
  for (const CoreRow row : {CoreRow{"60.6", 45}, CoreRow{"65.6", 10}, CoreRow{"70.6", 2}, CoreRow{"75.6", 1}, CoreRow{"80.6", 1}}) {
    std::vector<std::string> held(static_cast<std::size_t>(row.minutes) + 1, row.at);
    held.insert(held.begin(), "30");
    held.emplace_back("30");
    const Finding shown = custard_read(held, {});
    EXPECT_EQ(shown.verdict, Verdict::shown) << row.at << ": Food Standards Agency, core temperatures: " << shown.message;
    if (row.minutes < 10) continue;
    held.erase(held.begin() + 1, held.begin() + 1 + row.minutes / 10);  // 43 min at 60 °C are worth as much as 2 min at 70 °C
    EXPECT_NE(custard_read(held, {}).verdict, Verdict::shown) << row.at << " for a tenth less";
  }
}

// ---- heated again ----------------------------------------------------------------------------------------------------------------------

/// A part with nothing of egg in it that is kept in the fridge, in a kitchen by the rules of `rules`.
class HeatedAgain {
 public:
  explicit HeatedAgain(const std::string& rules) {
    if (rules != "gb-eng") correct_note(kitchen, 1, {{"temperature_rules", Json{rules}}});
    kitchen.recipe("ganache", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "195 g", "bowl", "none", "fridge",
                   R"(, "heated": "heated")");
    batch = kitchen.make("ganache", grams(195));
    kitchen.at("2026-05-01T18:00+01:00");
  }
  void read(const std::vector<std::string>& lines) {
    std::string csv;
    for (const auto& line : lines) csv += fmt::format("2026-05-01T{}+01:00,{}\n", line.substr(0, 8), line.substr(9));
    kitchen.done([&](Session& s) { return import_csv(s, "fork", batch, "reheating", csv); });
  }
  const std::string& built() {
    if (cake.empty()) cake = cake_of(kitchen, {{batch, grams(195)}});
    return cake;
  }
  Finding finding() { return the_finding(kitchen, built(), "reheating"); }
  TestKitchen kitchen;
  std::string batch, cake;
};
const std::vector<std::string> in_an_hour{"14:00:00 3", "15:00:00 75", "15:00:10 75", "15:00:20 75"};

TEST(ReheatedBatch, IsJudgedByTheRowOfThePlace) {
  HeatedAgain states{"us"};
  states.read(in_an_hour);
  EXPECT_EQ(states.finding().verdict, Verdict::shown) << states.finding().message;
  EXPECT_THAT(states.finding().source, HasSubstr("3-403.11(A)"));
  HeatedAgain scotland{"gb-sct"};
  scotland.read(in_an_hour);
  EXPECT_EQ(scotland.finding().verdict, Verdict::not_shown) << "82 °C, with a gap in which nobody read it";
  HeatedAgain england{"gb-eng"};
  england.read(in_an_hour);
  EXPECT_THAT(england.finding().message, HasSubstr("the rules chosen here give no number for reheating"));
  EXPECT_EQ(england.finding().stop, Stop::needs_person);
}

TEST(ReheatedBatch, IsAskedOfNothingThatNobodyReadForIt) {
  HeatedAgain states{"us"};
  const auto cake = cake_of(states.kitchen, {{states.batch, grams(195)}});
  EXPECT_EQ(states.kitchen.verdicts(cake, "reheating"), Strings{});
}

TEST(ReheatedBatch, CountsNoReadingFromAfterItWasUsed) {
  HeatedAgain states{"us"};
  states.kitchen.at("2026-05-01T14:30+01:00");
  const auto cake = cake_of(states.kitchen, {{states.batch, grams(195)}});
  states.kitchen.at("2026-05-01T18:00+01:00");
  states.read(in_an_hour);
  EXPECT_EQ(the_finding(states.kitchen, cake, "reheating").verdict, Verdict::not_shown);
}

TEST(ReheatedBatch, TakesTheGravestOfItsThermometersAndIsDrawn) {
  HeatedAgain states{"us"};
  states.read(in_an_hour);
  states.kitchen.done([](Session& s) { return add_probe(s, "second", Probe{"second thermometer", Scale::celsius, 50, 10, "food", {}}); });
  states.kitchen.done([&](Session& s) {
    return import_csv(s, "second", states.batch, "reheating", "2026-05-01T15:00:00+01:00,51\n2026-05-01T15:00:20+01:00,50\n");
  });
  EXPECT_EQ(states.finding().verdict, Verdict::not_met);
  const auto judgement = states.kitchen.judged(states.built());
  EXPECT_EQ(std::count_if(judgement.series.begin(), judgement.series.end(),
                          [](const SeriesUsed& used) { return used.title == "batch-1 (ganache), reheating"; }),
            2);
}

TEST(ReheatedBatch, IsToldWhileItHappens) {
  HeatedAgain states{"us"};
  states.read({"14:00:00 3", "14:30:00 75", "14:30:05 75"});
  const auto so_far = heat_so_far(states.kitchen.open(true), BatchId{states.batch}, ProbeId{"fork"}, "reheating");
  ASSERT_TRUE(so_far.has_value());
  EXPECT_EQ(so_far->short_words, "5 s of 15 s at 74 °C (165.2 °F) or more, 10 s to go");
}

TEST(ReheatingReadings, AreOfAPart) {
  HeatedAgain states{"us"};
  const auto cake = cake_of(states.kitchen, {{states.batch, grams(195)}});
  const auto refused = [&](const std::string& about) {
    return states.kitchen.refused([&](Session& s) { return import_csv(s, "fork", about, "reheating", "2026-05-01T15:00+01:00,75\n"); });
  };
  EXPECT_THAT(refused(cake), HasSubstr("only a part is heated again"));
  EXPECT_THAT(refused("fridge"), HasSubstr("a place is only kept cold"));
}

// ---- days in the cold ------------------------------------------------------------------------------------------------------------------

TEST(ColdDaysOfTheRules, EndTheLifeOfAPartThatIsNotKeptAtRoomTemperature) {
  const auto use_by = [](const std::string& rules, const std::string& storage) {
    TestKitchen kitchen;
    if (rules != "gb-eng") correct_note(kitchen, 1, {{"temperature_rules", Json{rules}}});
    const std::string text =
        R"({"recipe": "long", "name": "long", "part": "filling", "items": [{"of": "butter", "mass": "100 g"}], "yield": "100 g",
      "kit": ["bowl"], "egg": "none", "storage": ")" +
        storage + R"(", "life_days": 20, "life_reason": "the maker's decision"})";
    kitchen.done([&](Session& s) { return add_recipes(s, {{"long.json", text}}); });
    const auto batch = kitchen.make("long", grams(100));
    return format_date(kitchen.judged(cake_of(kitchen, {{batch, grams(100)}})).life->date.value());
  };
  EXPECT_EQ(use_by("us", "fridge"), "2026-05-07") << "Food Code 3-501.17: seven days, the day it was made the first";
  EXPECT_EQ(use_by("us", "room"), "2026-05-21");
  EXPECT_EQ(use_by("gb-eng", "fridge"), "2026-05-21") << "no such row was read";
}

}  // namespace
}  // namespace tierproof
