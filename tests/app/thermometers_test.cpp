#include "tierproof/app/thermometers.h"

#include <fmt/format.h>

#include "app/app_for_tests.h"
#include "app/supposing.h"
#include "tierproof/app/going_wrong.h"

namespace tierproof {
namespace {

using Is = CheckStanding::Is;

Degrees c(std::int64_t hundredths) { return {hundredths, Scale::celsius}; }

/// A kitchen at 1000 m, where water boils at 96.65 °C in the standard atmosphere (case T26).
class HighKitchen : public TestKitchen {
 public:
  HighKitchen() {
    correct_note(*this, 1, {{"altitude_m", Json{1000}}});
    at("2026-05-01T08:10+01:00");
  }
  Booked boiled(Degrees read, std::optional<std::int64_t> pressure = {}, bool correct = false) {
    return done([&](Session& s) { return check_probe(s, {"fork", "boiling", read, "", pressure, correct}); });
  }
  CheckTold told(const Booked& booked) {
    const auto found = check_told(open(true), booked.sequences.front());
    EXPECT_TRUE(found);
    return found.value_or(CheckTold{});
  }
};

std::vector<FailedCheck> failures(TestKitchen& kitchen, const std::string& thermometer = "") {
  const Session session = kitchen.open(true);
  const auto found = failed_checks(session, thermometer, {session.now(), Offset{60}});
  EXPECT_TRUE(found);
  return found ? *found : std::vector<FailedCheck>{};
}
Strings food_of(const FailedCheck& failed) {
  Strings all;
  for (const auto& food : failed.food) all.push_back(food.id + ": " + food.where);
  return all;
}
RoundNow round_of(TestKitchen& kitchen) {
  const Session session = kitchen.open(true);
  const auto now = look_round(session, {session.now(), Offset{60}});
  EXPECT_TRUE(now);
  return now ? *now : RoundNow{};
}
Is standing_of(const RoundNow& now, const std::string& thermometer) {
  for (const auto& check : now.checks) {
    if (check.thermometer == thermometer) return check.standing.is;
  }
  ADD_FAILURE() << thermometer;
  return Is::good;
}

TEST(Corrections, KeepDaysThatSomethingWasSeenOnInThePast) {
  TestKitchen kitchen;
  const auto [place, says] = *kitchen.open(true).state().specifications.begin();
  EXPECT_THAT(correction_refused(kitchen, says.sequence, {{"checked", Json{"2062-06-01"}}}), HasSubstr("1 June 2062 has not come yet"));
}

TEST(ReadingsOfAPlace, AreThoseOfTheRecordsAsTheyStandThoughTheyAreWorkedOutOnce) {
  TestKitchen kitchen;
  Session session = kitchen.open();
  const auto warmest = [&]() -> std::string {
    const auto last = last_read_in(session, PlaceId{"fridge"}, session.now(), std::chrono::hours{1});
    return last ? fmt::format("{:.1f}", last->read.to_celsius()) : "nothing";
  };
  const auto minutes_ago = [&](int minutes) { return format_zoned(session.now() - std::chrono::minutes{minutes}, Offset{60}); };
  ASSERT_TRUE(type_reading(session, {"fork", c(300), "fridge", "", minutes_ago(3)}));
  EXPECT_EQ(warmest(), "3.0");
  const auto note = type_reading(session, {"fork", c(910), "fridge", "", minutes_ago(1)});
  ASSERT_TRUE(note);
  EXPECT_EQ(warmest(), "9.1");
  {
    const Supposing without{session, State{}};
    EXPECT_EQ(warmest(), "nothing");
  }
  EXPECT_EQ(warmest(), "9.1");
  {  // somebody else takes it back; a session that was opened before hears of it when it reads again
    Session other = kitchen.open();
    ASSERT_TRUE(void_note(other, note->sequences.front(), "another fridge"));
  }
  session.reload();
  EXPECT_EQ(warmest(), "3.0");
}

TEST(ThermometerCheck, InBoilingWaterGoesByTheAltitudeUnlessAStationPressureIsGiven) {
  HighKitchen kitchen;
  const auto by_altitude = kitchen.told(kitchen.boiled(c(9570)));
  EXPECT_TRUE(by_altitude.good) << by_altitude.words;
  EXPECT_EQ(by_altitude.words, "read 95.7 °C in boiling water, should be 96.65 °C ± 1 °C");
  EXPECT_THAT(by_altitude.pressure, HasSubstr("the pressure of 898.7 hPa that is usual at its altitude"));
  const auto by_pressure = kitchen.told(kitchen.boiled(c(9570), 90'500));  // 96.85 °C
  EXPECT_FALSE(by_pressure.good) << by_pressure.words;
  EXPECT_FALSE(by_pressure.next_due);
}

TEST(ThermometerCheck, RefusesAPressureThatIsNotOfThePlace) {
  HighKitchen kitchen;
  const auto refused = [&](const std::string& method, std::int64_t pressure) {
    return kitchen.refused([&](Session& s) { return check_probe(s, {"fork", method, c(9620), "", pressure}); });
  };
  EXPECT_THAT(refused("boiling", 101'325), HasSubstr("looks like the pressure of a forecast"));
  EXPECT_THAT(refused("boiling", 101'325), HasSubstr("contradicts the kitchen's altitude of 1000 m, where about 898.7 hPa is usual"));
  EXPECT_THAT(refused("boiling", 80'000), Not(HasSubstr("forecast")));
  EXPECT_THAT(refused("ice", 89'900), HasSubstr("says nothing of ice"));
  const auto note = kitchen.boiled(c(9620), 89'900).sequences.front();
  EXPECT_THAT(correction_refused(kitchen, note, {{"pressure_pa", Json{101'325}}}), HasSubstr("reduced to the sea"));
}

TEST(ThermometerCheck, NeedsAnAltitudeToBelieveAStationPressure) {
  TestKitchen kitchen;
  const std::string body = [&] {
    Json kept = tip_of(kitchen.open(true).notes(), 1)->body;
    Json::Object without = kept.object();
    without.erase("altitude_m");
    return write_pretty(Json{std::move(without)});
  }();
  kitchen.done([&](Session& s) { return correct(s, 1, {"new.json", body}, "nobody knows it"); });
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return check_probe(s, {"fork", "boiling", c(9990), "", 101'000});
  }),
              HasSubstr("cannot be told from a pressure reduced to the sea"));
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return check_probe(s, {"fork", "boiling", c(9990), ""});
  }),
              HasSubstr("where water boils here is not known"));
}

TEST(ThermometerCheck, IsDueAsOftenAsTheKitchenWantsAndNeverLessOftenThanTheRules) {
  TestKitchen kitchen;  // both were checked on 1 May
  const auto wanted = [&](std::int64_t days) {
    Probe probe{"display thermometer", Scale::celsius, 50, 10, "food", {}};
    probe.check_days = days;
    const std::string id = "every-" + std::to_string(days);
    kitchen.done([&](Session& s) { return add_probe(s, id, probe); });
    kitchen.done([&](Session& s) { return check_probe(s, {id, "ice", c(0), ""}); });
    return id;
  };
  const std::string often = wanted(2);
  const std::string seldom = wanted(30);
  kitchen.at("2026-05-03T08:00+01:00");
  EXPECT_EQ(standing_of(round_of(kitchen), often), Is::due);
  kitchen.at("2026-05-04T08:00+01:00");
  EXPECT_EQ(standing_of(round_of(kitchen), often), Is::overdue);
  kitchen.at("2026-05-08T08:00+01:00");
  EXPECT_EQ(standing_of(round_of(kitchen), seldom), Is::due);
  kitchen.at("2026-05-09T08:00+01:00");
  EXPECT_EQ(standing_of(round_of(kitchen), seldom), Is::overdue);
  // what it reads while its check is overdue never supports "shown"
  kitchen.recipe("syrup", R"([{"of": "sugar", "mass": "100 g"}])", "100 g", "bowl", "none", "room", R"(, "syrup_target": "70 C")");
  const std::string batch = kitchen.make("syrup", grams(100));
  kitchen.done([&](Session& s) { return type_reading(s, {seldom, c(7100), batch, "syrup", ""}); });
  const Finding finding = the_finding(kitchen, cake_of(kitchen, {{batch, grams(100)}}), "syrup-heat");
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_THAT(finding.evidence, HasSubstr("the last good check was on 1 May 2026, more than 7 days before"));
}

/// Icing that was made at 08:30 and kept in the fridge, of which a cake was built and handed over; the logger read the fridge.
class ChilledDay : public TestKitchen {
 public:
  ChilledDay() {
    at("2026-05-01T08:30+01:00");
    icing = make("icing", grams(298));
    put_in(icing, "fridge");
    at("2026-05-01T09:00+01:00");
    cake = cake_of(*this, {{icing, grams(198)}});
    put_in(cake, "fridge");
    at("2026-05-02T09:00+01:00");
    readings("logger", "fridge", "2026-05-01T08:30+01:00", "2026-05-02T09:00+01:00", "4.0");
  }
  std::uint64_t check_logger(std::int64_t hundredths) {
    return done([&](Session& s) { return check_probe(s, {"logger", "ice", c(hundredths), ""}); }).sequences.front();
  }
  Strings cold() { return verdicts(cake, "cold-hold"); }
  std::string icing, cake;
};

TEST(Doubtful, NamesTheBatchesAndCakesThatRestOnTheThermometerAndWhereTheyAreNow) {
  ChilledDay day;
  EXPECT_TRUE(failures(day).empty());
  std::vector<AgainstReason> reasons;
  for (const auto& stop : day.stops(day.cake)) reasons.push_back({stop, "looked at"});
  EXPECT_EQ(release_of(day, day.cake, reasons), "");
  EXPECT_EQ(hand_over_of(day, day.cake), "");
  day.at("2026-05-02T12:00+01:00");
  day.check_logger(240);
  const auto failed = failures(day, "logger");
  ASSERT_EQ(failed.size(), 1u);
  EXPECT_EQ(failed[0].words, "read 2.4 °C in ice, should be 0 °C ± 1 °C");
  EXPECT_EQ(failed[0].from, "1 May 2026, 08:00");
  EXPECT_EQ(failed[0].until, "");
  EXPECT_EQ(food_of(failed[0]), (Strings{"batch-1: in fridge, 100 g left", "cake-1: handed over 2 May 2026, 09:00, to the customer"}));
  EXPECT_EQ(failed[0].food[0].ways, Strings{"fridge logger measured fridge while it stood there"});
  EXPECT_EQ(failed[0].food[1].ways, (Strings{"fridge logger measured fridge while batch-1 (icing) stood there",
                                             "fridge logger measured fridge while it stood there"}));
  EXPECT_TRUE(failures(day, "fork").empty());
}

TEST(Doubtful, LeavesAloneWhatWasMeasuredBeforeTheLastGoodCheckAndAfterTheNext) {
  ChilledDay day;
  day.check_logger(10);  // good, after all of these readings
  day.at("2026-05-03T09:00+01:00");
  day.check_logger(240);
  // the icing still stands there, and was read for the last time at the moment of the good check
  ASSERT_EQ(failures(day).size(), 1u);
  EXPECT_EQ(food_of(failures(day)[0]), (Strings{"batch-1: in fridge, 100 g left", "cake-1: in fridge"}));
  day.at("2026-05-03T09:10+01:00");
  day.check_logger(0);
  day.at("2026-05-03T10:00+01:00");
  const std::string later = day.make("icing", grams(298));
  day.put_in(later, "fridge");
  day.at("2026-05-03T11:00+01:00");
  day.readings("logger", "fridge", "2026-05-03T10:00+01:00", "2026-05-03T11:00+01:00", "4.0");
  const auto failed = failures(day);
  ASSERT_EQ(failed.size(), 1u);
  EXPECT_EQ(failed[0].until, "3 May 2026, 09:10");
  for (const auto& food : failed[0].food) EXPECT_NE(food.id, later);
}

TEST(Doubtful, TakesVerdictsBackAndGivesThemBackWhenTheCheckIsCorrectedOrVoided) {
  ChilledDay day;
  const Strings before = day.cold();
  EXPECT_THAT(before, testing::Contains(day.cake + ": shown"));
  day.at("2026-05-02T09:05+01:00");
  const std::uint64_t first = day.check_logger(240);
  EXPECT_THAT(day.cold(), testing::Contains(day.cake + ": not shown"));
  const std::uint64_t then = day.open(true).head().size;
  const std::uint64_t corrected =
      correct_note(day, first, {{"read", Json{Json::Object{{"hundredths", Json{24}}, {"scale", Json{"C"}}}}}}).sequences.front();
  EXPECT_EQ(day.cold(), before);
  EXPECT_TRUE(failures(day).empty());
  day.as_of = then;
  EXPECT_THAT(day.cold(), testing::Contains(day.cake + ": not shown")) << "what the records said then";
  EXPECT_EQ(failures(day).size(), 1u);
  day.as_of.reset();
  correct_note(day, corrected, {{"read", Json{Json::Object{{"hundredths", Json{240}}, {"scale", Json{"C"}}}}}});
  EXPECT_THAT(day.cold(), testing::Contains(day.cake + ": not shown"));
  const std::uint64_t tip = tip_of(day.open(true).notes(), first)->sequence;
  const std::uint64_t doubted = day.open(true).head().size;
  day.done([&](Session& s) { return void_note(s, tip, "it was another thermometer"); });
  EXPECT_EQ(day.cold(), before);
  day.as_of = doubted;
  EXPECT_THAT(day.cold(), testing::Contains(day.cake + ": not shown"));
}

TEST(Doubtful, OfACheckThatWasGoodAndIsVoidedLeavesNothingToRestOn) {
  ChilledDay day;
  const std::uint64_t good = day.open(true).state().checks.back().sequence;  // of the logger, that morning
  EXPECT_THAT(day.cold(), testing::Contains(day.cake + ": shown"));
  day.done([&](Session& s) { return void_note(s, good, "nobody made it"); });
  EXPECT_THAT(day.cold(), testing::Contains(day.cake + ": not shown"));
}

/// What the fridge's logger of that error and step shows of a stay in which it read `readings` all the time, under `rules`.
std::string shown_at(const std::string& rules, const Probe& probe, const std::string& reading) {
  TestKitchen kitchen;
  if (rules != "gb-eng") correct_note(kitchen, 1, {{"temperature_rules", Json{rules}}});
  kitchen.done([&](Session& s) { return add_probe(s, "own", probe); });
  kitchen.done([&](Session& s) {
    return check_probe(s, {"own", "ice", probe.scale == Scale::celsius ? c(0) : Degrees{3200, Scale::fahrenheit}, ""});
  });
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string batch = kitchen.make("icing", grams(298));
  kitchen.put_in(batch, "fridge");
  kitchen.at("2026-05-01T09:30+01:00");
  std::string csv = "time,temperature\n";
  for (const char* minute : {"00", "10", "20", "30"}) csv += fmt::format("2026-05-01T09:{}:00+01:00,{}\n", minute, reading);
  const GivenDocument map{"map.tsv", std::string{"key\tvalue\ntime\ttime\ntemperature\ttemperature\nunit\t"} +
                                         (probe.scale == Scale::celsius ? "C" : "F") + "\n"};
  kitchen.done([&](Session& s) { return import_readings(s, "own", batch, "chilled", {"log.csv", csv}, map); });
  const std::string cake = cake_of(kitchen, {{batch, grams(298)}});
  for (const auto& verdict : kitchen.verdicts(cake, "cold-hold")) {
    if (verdict.starts_with(batch)) return verdict.substr(verdict.rfind(": ") + 2);
  }
  return "nothing";
}

// England: food above 8 °C (SI 2013/2996 Sch. 4). A reading of 0.1 °C steps by a thermometer of ±0.5 °C may be off by 0.55 °C.
TEST(ReadingError, CountsHalfAStepAtTheEdge) {
  const Probe tenths{"own", Scale::celsius, 50, 10, "food", {}};
  EXPECT_EQ(shown_at("gb-eng", tenths, "7.45"), "shown");
  EXPECT_EQ(shown_at("gb-eng", tenths, "7.46"), "not shown");
  const Probe whole{"own", Scale::celsius, 50, 100, "food", {}};
  EXPECT_EQ(shown_at("gb-eng", whole, "7.00"), "shown");
  EXPECT_EQ(shown_at("gb-eng", whole, "7.01"), "not shown");
}

// FDA Food Code 3-501.16 as states adopt it: 5 °C (41 °F) or less; the two columns are the same temperature there (case T27).
TEST(FahrenheitReading, IsComparedExactlyWithTheLimitInFahrenheit) {
  const Probe probe{"own", Scale::fahrenheit, 100, 20, "food", {}};
  EXPECT_EQ(shown_at("us", probe, "39.90"), "shown") << "39.9 + 1.0 + 0.1 is 41.0";
  EXPECT_EQ(shown_at("us", probe, "39.91"), "not shown") << "41.01 °F prints as 5.01 °C and is over";
  const Probe fine{"own", Scale::fahrenheit, 1, 1, "food", {}};
  EXPECT_EQ(shown_at("us", fine, "40.98"), "shown");
  EXPECT_EQ(shown_at("us", fine, "40.99"), "not shown") << "40.99 + 0.01 + 0.005 would print as 41.0 and is over";
}

TEST(TwoPointCorrection, IsJudgedByAndToldBesideWhatWasRead) {
  HighKitchen kitchen;  // case T26
  kitchen.done([](Session& s) { return check_probe(s, {"fork", "ice", c(40), ""}); });
  const auto told = kitchen.told(kitchen.boiled(c(9620), 89'875, true));
  EXPECT_THAT(told.correction, HasSubstr("through 0.4 °C in ice and 96.2 °C in boiling water; they are kept as read"));
  kitchen.recipe("syrup", R"([{"of": "sugar", "mass": "100 g"}])", "100 g", "bowl", "none", "room", R"(, "syrup_target": "70.6 C")");
  const std::string batch = kitchen.make("syrup", grams(100));
  kitchen.done([&](Session& s) { return type_reading(s, {"fork", c(7100), batch, "syrup", ""}); });
  const Finding finding = the_finding(kitchen, cake_of(kitchen, {{batch, grams(100)}}), "syrup-heat");
  EXPECT_EQ(finding.verdict, Verdict::shown) << "71.23 − 0.55 reaches it, 71 − 0.55 does not";
  EXPECT_EQ(finding.result, "hottest 71.23 °C");
  EXPECT_THAT(finding.evidence, HasSubstr("corrected by the two-point check of 1 May 2026 (the highest, read 71 °C, counts as 71.23 °C)"));
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.readings(session.state().readings.back()).front().degrees, c(7100)) << "kept as it was read";
}

TEST(TwoPointCorrection, EndsWithTheNextCheckAndIsDoubtedWithoutItsOtherHalf) {
  HighKitchen kitchen;
  kitchen.at("2026-05-02T08:00+01:00");
  const auto ice = kitchen.done([](Session& s) { return check_probe(s, {"fork", "ice", c(40), ""}); }).sequences.front();
  kitchen.boiled(c(9620), 89'875, true);
  kitchen.recipe("syrup", R"([{"of": "sugar", "mass": "100 g"}])", "100 g", "bowl", "none", "room", R"(, "syrup_target": "70.4 C")");
  const auto syrup_read = [&](const std::string& at) {
    kitchen.at(at);
    const std::string batch = kitchen.make("syrup", grams(100));
    kitchen.done([&](Session& s) { return type_reading(s, {"fork", c(7100), batch, "syrup", ""}); });
    return cake_of(kitchen, {{batch, grams(100)}});
  };
  const std::string between = syrup_read("2026-05-02T08:30+01:00");
  kitchen.at("2026-05-02T09:00+01:00");
  kitchen.done([](Session& s) { return check_probe(s, {"fork", "ice", c(40), ""}); });
  const std::string after = syrup_read("2026-05-02T09:30+01:00");
  EXPECT_EQ(the_finding(kitchen, between, "syrup-heat").result, "hottest 71.23 °C");
  EXPECT_EQ(the_finding(kitchen, after, "syrup-heat").result, "hottest 71 °C");
  kitchen.done([&](Session& s) { return void_note(s, ice, "it was not ice"); });
  const Finding doubted = the_finding(kitchen, between, "syrup-heat");
  EXPECT_EQ(doubted.result, "hottest 71 °C");
  EXPECT_EQ(doubted.verdict, Verdict::not_shown);
  EXPECT_THAT(doubted.evidence, HasSubstr("the correction chosen on 2 May 2026 has no check of the other method before it on that day"));
  EXPECT_EQ(the_finding(kitchen, after, "syrup-heat").verdict, Verdict::shown);
}

TEST(TwoPointCorrection, IsRefusedWhereItRestsOnLessThanTwoGoodChecksAndAStationPressure) {
  HighKitchen kitchen;
  const auto refused = [&](Degrees read, std::optional<std::int64_t> pressure) {
    return kitchen.refused([&](Session& s) { return check_probe(s, {"fork", "boiling", read, "", pressure, true}); });
  };
  EXPECT_THAT(refused(c(9620), std::nullopt), HasSubstr("goes by the altitude, and is not corrected for twice"));
  EXPECT_THAT(refused(c(9520), 89'875), HasSubstr("a correction makes no failed thermometer a good one"));
  kitchen.at("2026-05-02T08:00+01:00");  // the check in ice was yesterday
  EXPECT_THAT(refused(c(9620), 89'875), HasSubstr("none in ice was made before it that day"));
  kitchen.done([](Session& s) { return check_probe(s, {"fork", "ice", c(40), ""}); });
  kitchen.done([](Session& s) { return add_person(s, "ben", "Ben Sample", "helper"); });
  Entrance helper = kitchen.entrance();
  helper.person = "ben";
  Session session{helper, rule_packs(), open_sqlite(helper.kitchen_file, false)};
  const auto by_helper = check_probe(session, {"fork", "boiling", c(9620), "", 89'875, true});
  ASSERT_FALSE(by_helper);
  EXPECT_THAT(describe(by_helper.error().front()), HasSubstr("is for an owner to choose"));
}

// 118 °C at sea level is 112.68 °C at 1600 m by subtraction (T25) and 112.205 °C for the same solids, by Starzak and Peacock 1997: the
// curve of 87.79 % between 112.56 °C at 1500 m and 110.75 °C at 2000 m, computed apart from this program.
TEST(SyrupTarget, AtSeaLevelIsLoweredForTheAltitudeOrTheReadingsAreCorrectedAndNeverBoth) {
  TestKitchen kitchen;
  correct_note(kitchen, 1, {{"altitude_m", Json{1600}}});
  kitchen.at("2026-05-01T08:10+01:00");
  const auto syrup = [&](const std::string& id, const std::string& more) {
    kitchen.recipe(id, R"([{"of": "sugar", "mass": "100 g"}])", "100 g", "bowl", "none", "room", R"(, "syrup_target": "118 C")" + more);
    return kitchen.make(id, grams(100));
  };
  const auto read = [&](const std::string& batch, Degrees degrees) {
    kitchen.done([&](Session& s) { return type_reading(s, {"fork", degrees, batch, "syrup", ""}); });
    return the_finding(kitchen, cake_of(kitchen, {{batch, grams(100)}}), "syrup-heat");
  };
  EXPECT_EQ(read(syrup("as-it-stands", ""), c(11'323)).verdict, Verdict::not_shown);
  const std::string lowered = R"(, "syrup_target_at": "sea level")";
  const Finding shown = read(syrup("lowered", lowered), c(11'276));  // 112.76 − 0.55
  EXPECT_EQ(shown.verdict, Verdict::shown);
  EXPECT_EQ(shown.limit, "syrup at or above 112.21 °C");
  EXPECT_THAT(shown.evidence,
              HasSubstr("the target of 118 °C at sea level is lowered, since water boils at 94.65 °C here: 112.20 °C for the same "
                        "87.8 % of sugar, 112.68 °C by the rule of thumb"));
  EXPECT_EQ(read(syrup("colder", lowered), c(11'275)).verdict, Verdict::not_shown);

  const std::string batch = syrup("both", lowered);
  kitchen.done([&](Session& s) { return check_probe(s, {"fork", "ice", c(40), ""}); });
  kitchen.done([&](Session& s) { return check_probe(s, {"fork", "boiling", c(9420), "", 83'500, true}); });
  EXPECT_THAT(kitchen.refused([&](Session& s) {
    return type_reading(s, {"fork", c(11'400), batch, "syrup", ""});
  }),
              HasSubstr("lowered for the altitude already"));
  kitchen.done([&](Session& s) { return import_csv(s, "fork", batch, "syrup", "2026-05-01T08:10:00+01:00,114.0\n"); });
  const Finding both = the_finding(kitchen, cake_of(kitchen, {{batch, grams(100)}}), "syrup-heat");
  EXPECT_EQ(both.verdict, Verdict::not_shown);
  EXPECT_THAT(both.evidence, HasSubstr("one of the two may be done, never both"));
}

TEST(Round, TellsWhatIsOutOfTheColdForHowLongAndAgainstWhichAllowance) {
  ChilledDay day;
  EXPECT_TRUE(round_of(day).out.empty());
  EXPECT_FALSE(round_of(day).wanting());
  day.put_in(day.icing, "worktop");
  day.at("2026-05-02T10:00+01:00");
  day.put_in(day.icing, "worktop");  // told again: it is one stretch
  day.at("2026-05-02T10:20+01:00");
  const auto out = round_of(day).out;
  ASSERT_EQ(out.size(), 1u);
  EXPECT_EQ(out[0].id, day.icing);
  EXPECT_EQ(out[0].where, "worktop");
  EXPECT_EQ(out[0].out, Span{std::chrono::minutes{80}});
  EXPECT_THAT(out[0].allowances, testing::Contains(HasSubstr("service or display: less than 4 h")));
  EXPECT_THAT(out[0].allowances, testing::Contains(HasSubstr("2 h 40 min left")));
  // An allowance for the whole life of a food (FSANZ, 2 h and 4 h between 5 and 60 °C) counts every time out of the cold.
  day.put_in(day.icing, "fridge");
  day.at("2026-05-02T11:00+01:00");
  day.put_in(day.icing, "worktop");
  const auto back = correct_note(day, 1, {{"temperature_rules", Json{"anz"}}}).sequences.front();
  day.at("2026-05-02T11:30+01:00");
  EXPECT_EQ(round_of(day).out[0].out, Span{std::chrono::minutes{30}});
  EXPECT_THAT(round_of(day).out[0].allowances, testing::Contains(HasSubstr("in all its life, 1 h 50 min so far as recorded")));
  EXPECT_THAT(round_of(day).out[0].allowances, testing::Contains(HasSubstr("(10 min left)")));
  correct_note(day, back, {{"temperature_rules", Json{"gb-eng"}}});
  // What it was put out for decides which allowance is told.
  day.done([&](Session& s) { return put(s, day.icing, "worktop", "", PutFor{"handling"}); });
  EXPECT_THAT(round_of(day).out[0].allowances, testing::Each(Not(HasSubstr("service or display"))));
  day.done([&](Session& s) { return put(s, day.icing, "worktop", "", PutFor{"service or display"}); });
  EXPECT_THAT(round_of(day).out[0].allowances, testing::Contains(HasSubstr("service or display: less than 4 h")));
  day.at("2026-05-02T15:00+01:00");
  EXPECT_THAT(round_of(day).out[0].allowances, testing::Contains(HasSubstr("it is over"))) << "less than 4 h, and 4 h have gone";
  day.done([&](Session& s) { return throw_away(s, {day.icing, {}, "too long", ""}); });
  EXPECT_TRUE(round_of(day).out.empty());
}

TEST(Round, TellsWhereNobodyMeasuresWhatIsKept) {
  ChilledDay day;  // read until 2 May, 09:00; 30 min are allowed between readings
  day.at("2026-05-02T09:30+01:00");
  EXPECT_TRUE(round_of(day).silent.empty());
  day.at("2026-05-02T09:31+01:00");
  auto silent = round_of(day).silent;
  ASSERT_EQ(silent.size(), 1u);
  EXPECT_EQ(silent[0].thermometer, "logger");
  EXPECT_EQ(silent[0].silent, Span{std::chrono::minutes{31}});
  EXPECT_EQ(silent[0].kept, (Strings{day.icing, day.cake}));
  // a fault is no temperature
  day.done([](Session& s) { return import_csv(s, "logger", "fridge", "chilled", "2026-05-02T09:31:00+01:00,\n"); });
  EXPECT_EQ(round_of(day).silent.size(), 1u);
  day.done([](Session& s) { return add_place(s, "other", Place{"other fridge", "fridge"}); });
  EXPECT_EQ(round_of(day).silent.size(), 1u) << "nothing is kept in the other one";
  day.put_in(day.icing, "other");
  silent = round_of(day).silent;
  ASSERT_EQ(silent.size(), 2u);
  EXPECT_EQ(silent[1].words, "no thermometer in other fridge");
}

TEST(Round, TellsWhichChecksAreDueOverdueFailedOrWereNeverMade) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_probe(s, "new", Probe{"new thermometer", Scale::celsius, 50, 10, "food", {}}); });
  EXPECT_EQ(standing_of(round_of(kitchen), "new"), Is::never);
  EXPECT_EQ(standing_of(round_of(kitchen), "fork"), Is::good);
  EXPECT_TRUE(round_of(kitchen).wanting());
  kitchen.at("2026-05-08T20:00+01:00");
  EXPECT_EQ(standing_of(round_of(kitchen), "fork"), Is::due);
  kitchen.at("2026-05-09T00:30+01:00");
  EXPECT_EQ(standing_of(round_of(kitchen), "fork"), Is::overdue);
  kitchen.check_thermometers(150);
  EXPECT_EQ(standing_of(round_of(kitchen), "fork"), Is::failed);
  EXPECT_EQ(standing_of(round_of(kitchen), "logger"), Is::good);
}

}  // namespace
}  // namespace tierproof
