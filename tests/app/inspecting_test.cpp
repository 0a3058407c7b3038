// The inspection record: days of a fridge, what belongs to a period, and that every figure can be counted again.
#include "tierproof/app/inspecting.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <map>

#include "app/app_for_tests.h"
#include "demo/recount.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/regular.h"
#include "tierproof/papers/font.h"

namespace tierproof {
namespace {

class Inspecting : public testing::Test {
 public:
  Inspection look(const char* from, const char* until) {
    const Session session = kitchen.open(true);
    auto found = inspect(session, {parse_date(from), parse_date(until)}, {session.now(), session.offset_at(session.now())});
    if (!found) {
      for (const auto& refusal : found.error()) ADD_FAILURE() << describe(refusal);
      return {};
    }
    return std::move(found).value();
  }
  std::string refused(std::optional<Date> from, std::optional<Date> until) {
    const Session session = kitchen.open(true);
    const auto found = inspect(session, {from, until}, {session.now(), session.offset_at(session.now())});
    return found ? "" : describe(found.error().front());
  }
  static const DataTable& table(const Inspection& inspection, const std::string& name) {
    for (const auto& one : inspection.tables) {
      if (one.name == name) return one;
    }
    throw std::out_of_range{name};
  }
  /// What stands under `heading`, a text a row.
  static Strings column(const Inspection& inspection, const std::string& name, const std::string& heading) {
    const DataTable& from = table(inspection, name);
    const auto at = static_cast<std::size_t>(std::find(from.headings.begin(), from.headings.end(), heading) - from.headings.begin());
    Strings texts;
    for (const auto& row : from.rows) texts.push_back(text_of(row.at(at)));
    return texts;
  }
  /// A cake of the icing that left on the day of `at`, with what stops it answered for.
  std::string left_cake(const std::string& day) {
    kitchen.at(day + "T09:00+01:00");
    const std::string icing = kitchen.make("icing", grams(298));
    const std::string cake = kitchen.cake();
    kitchen.tier(cake, "only", {{icing, grams(200)}});
    return cake;
  }
  TestKitchen kitchen;
};

TEST_F(Inspecting, TellsOfEachDayOfAFridgeWhatWasRecorded) {
  kitchen.at("2026-05-04T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T18:00+01:00", "4.0");
  kitchen.readings("logger", "fridge", "2026-05-03T09:00+01:00", "2026-05-03T18:00+01:00", "9.0");
  kitchen.done([](Session& s) { return check_probe(s, {"logger", "ice", Degrees{0, Scale::celsius}, ""}); });
  const Inspection found = look("2026-05-01", "2026-05-04");
  EXPECT_EQ(column(found, "place-days", "day"), (Strings{"2026-05-01", "2026-05-02", "2026-05-03", "2026-05-04"}));
  EXPECT_EQ(column(found, "place-days", "readings"), (Strings{"37", "0", "37", "0"}));
  EXPECT_EQ(column(found, "place-days", "missing"), (Strings{"no", "yes", "no", "yes"}));
  EXPECT_EQ(column(found, "place-days", "above_limit"), (Strings{"no", "not known", "yes", "not known"}));
  EXPECT_EQ(column(found, "place-days", "highest_c"), (Strings{"4", "", "9", ""}));
  EXPECT_EQ(column(found, "place-days", "longest_unread_min")[1], "1440");
  EXPECT_EQ(column(found, "warm-times", "at_least_s"), Strings{"32400"}) << "nine hours between its first and last reading";
  EXPECT_EQ(column(found, "warm-times", "open"), Strings{"yes"}) << "nothing was read before and after";
  EXPECT_THAT(found.content.wanting, testing::Contains(HasSubstr("fridge: no temperature on 2 days")));
  EXPECT_THAT(found.content.wanting, testing::Contains(HasSubstr("; too warm on 1 day")));
}

TEST_F(Inspecting, TakesAReadingAtTheLimitAsWithinItOnlyWithTheError) {
  kitchen.at("2026-05-02T10:00+01:00");
  // 8 °C is the limit; the logger may be off by 0.55 °C
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T18:00+01:00", "7.4");
  kitchen.readings("logger", "fridge", "2026-05-02T00:00+01:00", "2026-05-02T09:45+01:00", "7.6");
  kitchen.done([](Session& s) { return check_probe(s, {"logger", "ice", Degrees{0, Scale::celsius}, ""}); });
  EXPECT_EQ(column(look("2026-05-01", "2026-05-02"), "place-days", "above_limit"), (Strings{"no", "perhaps"}));
}

TEST_F(Inspecting, TakesOneReadingAloneThatIsTooWarmAsTooWarm) {
  kitchen.at("2026-05-02T10:00+01:00");
  kitchen.done([](Session& s) {
    return type_reading(s, {"logger", Degrees{910, Scale::celsius}, "fridge", "chilled", "2026-05-02T10:00", ""});
  });
  EXPECT_EQ(column(look("2026-05-02", "2026-05-02"), "place-days", "above_limit"), Strings{"yes"}) << "9.1 °C, and 8.55 °C at the least";
}

TEST_F(Inspecting, TellsNoDayAsColdByAThermometerThatCannotBeReliedOn) {
  kitchen.at("2026-05-02T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T18:00+01:00", "4.0");
  EXPECT_EQ(column(look("2026-05-01", "2026-05-01"), "place-days", "above_limit"), Strings{"no"});
  kitchen.done([](Session& s) { return check_probe(s, {"logger", "ice", Degrees{200, Scale::celsius}, ""}); });
  const Inspection found = look("2026-05-01", "2026-05-01");
  EXPECT_EQ(column(found, "place-days", "above_limit"), Strings{"not known"});
  EXPECT_EQ(column(found, "place-days", "unreliable"), Strings{"yes"});
  EXPECT_THAT(found.content.wanting, testing::Contains(HasSubstr("could not be relied on then")));
  EXPECT_THAT(found.content.cold.rows.at(0).cells.back(), HasSubstr("by a thermometer not to be relied on"));
}

TEST_F(Inspecting, TellsADoubtfulThermometerOfAWarmDayToo) {
  kitchen.at("2026-05-02T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T18:00+01:00", "14.0");
  kitchen.done([](Session& s) { return check_probe(s, {"logger", "ice", Degrees{200, Scale::celsius}, ""}); });
  const Inspection found = look("2026-05-01", "2026-05-01");
  EXPECT_EQ(column(found, "place-days", "above_limit"), Strings{"yes"});
  EXPECT_EQ(column(found, "place-days", "unreliable"), Strings{"yes"});
}

TEST_F(Inspecting, TellsHowLongNobodyReadOnADay) {
  kitchen.at("2026-05-02T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T18:00+01:00", "4.0");
  const Inspection found = look("2026-05-01", "2026-05-01");
  EXPECT_EQ(column(found, "place-days", "longest_unread_min"), Strings{"540"}) << "from midnight to nine";
  EXPECT_EQ(column(found, "place-days", "unread_too_long"), Strings{"yes"});
  EXPECT_EQ(found.content.cold.rows.at(0).cells.at(5), "1 day");
}

TEST_F(Inspecting, TakesHalfAnHourUnreadAsShortEnough) {
  kitchen.at("2026-05-04T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-02T00:00+01:00", "2026-05-02T12:00+01:00", "4.0");
  kitchen.readings("logger", "fridge", "2026-05-02T12:30+01:00", "2026-05-03T12:00+01:00", "4.0");
  kitchen.readings("logger", "fridge", "2026-05-03T12:31+01:00", "2026-05-04T00:00+01:00", "4.0");
  const Inspection found = look("2026-05-02", "2026-05-03");
  EXPECT_EQ(column(found, "place-days", "longest_unread_min"), (Strings{"30", "31"}));
  EXPECT_EQ(column(found, "place-days", "unread_too_long"), (Strings{"no", "yes"}));
}

TEST_F(Inspecting, GivesTheTemperaturesThatWereReadInThePeriodWheneverTheyWereRecorded) {
  kitchen.at("2026-05-04T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-03T09:00+01:00", "4.0");
  EXPECT_EQ(table(look("2026-05-02", "2026-05-02"), "temperatures").rows.size(), 96u) << "a quarter of an hour each";
  EXPECT_EQ(table(look("2026-05-04", "2026-05-04"), "temperatures").rows.size(), 0u);
}

TEST_F(Inspecting, GivesAReadingOfMidnightToTheDayThatBegins) {
  kitchen.at("2026-05-04T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T23:45+01:00", "2026-05-02T00:00+01:00", "4.0");
  kitchen.readings("logger", "fridge", "2026-05-03T00:00+01:00", "2026-05-03T00:15+01:00", "4.0");
  EXPECT_EQ(column(look("2026-05-01", "2026-05-01"), "temperatures", "at_local"), Strings{"2026-05-01T23:45:00+01:00"});
  EXPECT_EQ(column(look("2026-05-02", "2026-05-02"), "temperatures", "at_local"), Strings{"2026-05-02T00:00:00+01:00"});
  EXPECT_EQ(table(look("2026-05-03", "2026-05-03"), "temperatures").rows.size(), 2u);
}

TEST_F(Inspecting, TellsEveryNoteThatStandsInThePlaceOfAnother) {
  kitchen.at("2026-05-02T10:00+01:00");
  const auto bowl = kitchen.open(true).state().equipment.at(EquipmentId{"bowl"}).sequence;
  const auto first = correct_note(kitchen, bowl, {{"name", Json{"big bowl"}}}).sequences.front();
  const auto whisk = kitchen.open(true).state().equipment.at(EquipmentId{"whisk"}).sequence;
  const auto other = correct_note(kitchen, whisk, {{"name", Json{"wire whisk"}}}).sequences.front();
  const auto second = correct_note(kitchen, first, {{"name", Json{"steel bowl"}}}).sequences.front();
  const auto voided = kitchen.done([&](Session& s) { return void_note(s, second, "it was never there"); }).sequences.front();
  const auto texts = [](std::initializer_list<std::uint64_t> numbers) {
    Strings all;
    for (const auto number : numbers) all.push_back(std::to_string(number));
    return all;
  };
  const Inspection found = look("2026-05-02", "2026-05-02");
  EXPECT_EQ(column(found, "taken-back", "note"), texts({first, other, second, voided}));
  EXPECT_EQ(column(found, "taken-back", "corrects_note"), texts({bowl, whisk, first, second}));
  EXPECT_EQ(column(found, "taken-back", "what"), (Strings{"corrected", "corrected", "corrected", "taken back"}));
  kitchen.as_of = other;
  EXPECT_EQ(column(look("2026-05-02", "2026-05-02"), "taken-back", "note"), texts({first, other}));
}

TEST_F(Inspecting, TellsWhatLeftAndWouldNotLeaveNow) {
  kitchen.at("2026-05-01T08:30+01:00");
  kitchen.recipe("plain", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "298 g", "bowl", "none", "room");
  kitchen.keeps_without_a_fridge("plain");
  kitchen.make("praline", grams(198));
  kitchen.at("2026-05-01T08:40+01:00");
  const auto cleaning = kitchen.done([](Session& s) {
    return clean(s, {"bowl", "washed and tested", "protein swab", {"protein"}, "nothing", ""});
  });
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string plain = kitchen.make("plain", grams(298));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{plain, grams(298)}});
  ASSERT_EQ(release_of(kitchen, cake, {}), "");
  kitchen.at("2026-05-02T10:00+01:00");
  ASSERT_EQ(hand_over_of(kitchen, cake), "");
  EXPECT_EQ(column(look("2026-05-01", "2026-05-02"), "cakes", "left_unanswered"), Strings{"no"});
  kitchen.at("2026-05-03T10:00+01:00");
  kitchen.done([&](Session& s) { return void_note(s, cleaning.sequences.front(), "that was the other bowl"); });
  const Inspection found = look("2026-05-01", "2026-05-03");
  EXPECT_EQ(column(found, "cakes", "left_unanswered"), Strings{"yes"});
  EXPECT_THAT(found.content.wanting, testing::Contains(HasSubstr("1 cake left of which the records now show something")));
  EXPECT_EQ(column(found, "taken-back", "corrects_note"), Strings{std::to_string(cleaning.sequences.front())});
}

TEST_F(Inspecting, TellsThatTheRecordsBeginLater) {
  kitchen.at("2026-05-03T10:00+01:00");
  EXPECT_THAT(look("2026-04-30", "2026-05-03").content.wanting, testing::Contains(HasSubstr("The records begin on 1 May 2026")));
  EXPECT_THAT(look("2026-05-01", "2026-05-03").content.wanting, Not(testing::Contains(HasSubstr("The records begin"))));
}

TEST_F(Inspecting, KeepsHealthApartAndTellsWhatIsNotAsItShouldBe) {
  kitchen.done([](Session& s) {
    return take_over_sorts(s, load_regular_sorts(DataRoot{TIERPROOF_SOURCE_DIR}), {"illness", "fit-to-work", "kit-fault"}, {});
  });
  kitchen.done([](Session& s) { return record_regular(s, {"illness", {{"who", "ada"}, {"from", "2026-05-01"}}, {}, "Ada had vomiting"}); });
  kitchen.done([](Session& s) { return record_regular(s, {"fit-to-work", {{"fit", "no"}}, {}, "somebody was sent home"}); });
  kitchen.done([](Session& s) {
    return record_regular(s, {"kit-fault", {{"what", "a whisk wire broke off"}, {"out-of-use", "yes"}}, {}, ""});
  });
  const Inspection found = look("2026-05-01", "2026-05-01");
  const std::string all = write_pretty(json_of(found)) + inspection_text(found.content, true, 100);
  for (const char* apart : {"vomiting", "sent home", "who = ada"}) EXPECT_THAT(all, Not(HasSubstr(apart)));
  EXPECT_THAT(all, HasSubstr("a whisk wire broke off"));
  EXPECT_EQ(column(found, "regular-records", "open"), (Strings{"no", "yes", "no"}));
  EXPECT_THAT(found.content.wanting, testing::Contains(HasSubstr("1 regular record of something not as it should be is still open")));
}

TEST_F(Inspecting, TellsAnEggStepThatNoJudgedCakeHolds) {
  kitchen.recipe("meringue", R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "290 g", "whisk", "raw, not heated",
                 "fridge");
  const std::string batch = kitchen.make("meringue", grams(290));
  const Inspection found = look("2026-05-01", "2026-05-01");
  EXPECT_EQ(column(found, "egg-steps", "verdict"), Strings{"not judged"});
  EXPECT_EQ(found.content.controls.at(1).text, "1 in no cake that was judged");
}

TEST_F(Inspecting, CountsWhatWasTypedLateAndADayOffAsSuch) {
  kitchen.done([](Session& s) { return tell_day_off(s, {parse_date("2026-05-03"), {}, {}}); });
  kitchen.at("2026-05-05T10:00+01:00");
  kitchen.done([](Session& s) {
    return type_reading(s, {"logger", Degrees{400, Scale::celsius}, "fridge", "chilled", "2026-05-02T10:00", ""});
  });
  const Inspection found = look("2026-05-02", "2026-05-03");
  EXPECT_EQ(column(found, "place-days", "typed_late"), (Strings{"1", "0"}));
  EXPECT_EQ(column(found, "place-days", "worked"), (Strings{"yes", "no"}));
  EXPECT_EQ(column(found, "place-days", "missing"), (Strings{"no", "no"})) << "nobody worked";
}

TEST_F(Inspecting, TakesLocalDaysAcrossAClockChange) {
  kitchen.at("2026-10-27T10:00+00:00");
  const Inspection found = look("2026-10-24", "2026-10-26");
  EXPECT_EQ(column(found, "place-days", "longest_unread_min"), (Strings{"1440", "1500", "1440"}))
      << "25 October 2026 has 25 hours in London";
}

TEST_F(Inspecting, TakesACakeByItsEventOrTheDayItLeft) {
  const std::string cake = left_cake("2026-05-01");  // its event is 2 May 2026
  kitchen.at("2026-05-10T10:00+01:00");
  EXPECT_EQ(column(look("2026-05-02", "2026-05-02"), "cakes", "cake"), Strings{cake});
  EXPECT_EQ(column(look("2026-05-01", "2026-05-01"), "cakes", "cake"), Strings{});
  EXPECT_EQ(column(look("2026-05-03", "2026-05-09"), "cakes", "cake"), Strings{});
  EXPECT_EQ(column(look("2026-05-02", "2026-05-02"), "cakes", "state"), Strings{"not released"});
}

TEST_F(Inspecting, RefusesAPeriodThatCannotBe) {
  kitchen.at("2026-05-10T10:00+01:00");
  EXPECT_THAT(refused(parse_date("2026-05-11"), {}), HasSubstr("later than today"));
  EXPECT_THAT(refused(parse_date("2026-05-09"), parse_date("2026-05-08")), HasSubstr("is before"));
  EXPECT_THAT(refused(parse_date("2025-05-09"), parse_date("2026-05-10")), HasSubstr("longer than a year"));
  EXPECT_EQ(refused(parse_date("2025-05-10"), parse_date("2026-05-10")), "") << "366 days";
  const Inspection usual = [&] {
    const Session session = kitchen.open(true);
    return inspect(session, {}, {session.now(), Offset{60}}).value();
  }();
  EXPECT_EQ(format_date(usual.from), "2026-04-13") << "four weeks, today among them";
  EXPECT_EQ(format_date(usual.until), "2026-05-10");
  EXPECT_EQ(format_date(look("2026-05-01", "2027-01-01").until), "2026-05-10") << "no day is told that has not been";
}

TEST_F(Inspecting, EveryFigureCanBeCountedAgain) {
  left_cake("2026-05-01");
  kitchen.at("2026-05-03T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T18:00+01:00", "9.0");
  kitchen.done([](Session& s) { return tell_went_wrong(s, {{"fridge"}, "person", "", "the door stood open", ""}); });
  kitchen.done([](Session& s) { return check_probe(s, {"logger", "ice", Degrees{0, Scale::celsius}, ""}); });
  const Inspection found = look("2026-04-28", "2026-05-03");
  const auto record = parse_json(write_pretty(json_of(found)), "record");
  ASSERT_TRUE(record);
  std::map<std::string, std::int64_t> values;
  for (const Json& figure : record->find("figures")->array()) {
    const std::string id = figure.find("figure")->text();
    const Json& rule = *figure.find("counted");
    const auto& lists = record->find("tables")->array();
    const auto list =
        std::find_if(lists.begin(), lists.end(), [&](const Json& one) { return one.find("list")->text() == rule.find("table")->text(); });
    ASSERT_NE(list, lists.end()) << id;
    EXPECT_EQ(figure.find("value")->integer(), demo::counted_again(demo::plain_list(*list), rule)) << id;
    values[id] += figure.find("value")->integer();
  }
  EXPECT_EQ(values["days-recorded"], 1);
  EXPECT_EQ(values["days-missing"], 2) << "of 2 and 3 May; the fridge is on record since 1 May";
  EXPECT_EQ(values["troubles-open"], 1);
  EXPECT_EQ(values["cakes"], 2) << "told in two places, one cake each";
  EXPECT_EQ(values["thermometer-checks"], 3);
  EXPECT_GT(values["packs-received"], 0);
}

TEST_F(Inspecting, TellsNothingOfWhichAllergyACustomerNamed) {
  const std::string cake = left_cake("2026-05-01");
  kitchen.done([&](Session& s) {
    return answer_allergy(s, {cake, "named", {"sesame"}, "Customer Quince", "It may hold traces of sesame.", "asked again"});
  });
  kitchen.at("2026-05-03T10:00+01:00");
  const Inspection found = look("2026-05-01", "2026-05-03");
  EXPECT_EQ(column(found, "cakes", "allergy"), Strings{"named"});
  for (const auto& row : table(found, "controls").rows) {
    for (const auto& cell : row) EXPECT_THAT(text_of(cell), Not(HasSubstr("sesame")));
  }
  const std::string all = write_pretty(json_of(found));
  EXPECT_THAT(all, Not(HasSubstr("Quince")));
  EXPECT_THAT(all, Not(HasSubstr("It may hold traces of sesame")));
}

TEST_F(Inspecting, GivesNoReasonThatTellsOfACustomer) {
  const std::string cake = left_cake("2026-05-01");
  kitchen.done([&](Session& s) {
    return answer_allergy(s, {cake, "named", {"sesame"}, "the customer", "It contains milk.", "they rang"});
  });
  kitchen.at("2026-05-01T10:00+01:00");
  std::vector<AgainstReason> against;
  for (const auto& finding : kitchen.judged(cake).findings) {
    if (finding.stop == Stop::needs_person)
      against.push_back({finding.control + ":" + finding.subject, "because of Quince, " + finding.control});
  }
  const std::string stops = release_of(kitchen, cake, against);
  const Inspection found = look("2026-05-01", "2026-05-02");
  ASSERT_FALSE(column(found, "overrides", "control").empty()) << stops;
  EXPECT_THAT(column(found, "overrides", "control"), testing::Contains("answer-changed"));
  const Strings controls = column(found, "overrides", "control"), reasons = column(found, "overrides", "reason");
  for (std::size_t i = 0; i < controls.size(); ++i)
    EXPECT_EQ(reasons[i], controls[i] == "answer-changed" ? "stands in the record of the cake" : "because of Quince, " + controls[i]);
}

TEST_F(Inspecting, OfTheSameRecordsGivesTheSameBytes) {
  left_cake("2026-05-01");
  kitchen.at("2026-05-03T10:00+01:00");
  EXPECT_EQ(write_pretty(json_of(look("2026-05-01", "2026-05-03"))), write_pretty(json_of(look("2026-05-01", "2026-05-03"))));
}

/// A kitchen that records when somebody looks through its records.
class Reviewing : public Inspecting {
 public:
  Reviewing() {
    kitchen.done([](Session& s) { return take_over_sorts(s, load_regular_sorts(DataRoot{TIERPROOF_SOURCE_DIR}), {"records-review"}, {}); });
    kitchen.done([](Session& s) { return add_person(s, "eva", "Eva Sample", "helper"); });
  }
  void looked(const std::string& by, const std::string& all_of_it, const std::string& alone) {
    kitchen.person = by;
    kitchen.done([&](Session& s) {
      return record_regular(s, {"records-review",
                                {{"looked", all_of_it}, {"found", "the door seal; ordered"}, {"signed", by}, {"alone", alone}},
                                {},
                                all_of_it == "yes" ? "" : "the readings of the van are left out"});
    });
    kitchen.person = "ada";
  }
  Inspection review(const char* from, const char* until) {
    const Session session = kitchen.open(true);
    auto found = review_records(session, {parse_date(from), parse_date(until), true}, {session.now(), session.offset_at(session.now())});
    if (!found) {
      ADD_FAILURE() << describe(found.error().front());
      return {};
    }
    return std::move(found).value();
  }
};

TEST_F(Reviewing, TellsWhoLookedWhenAndWhatWasFound) {
  kitchen.at("2026-05-03T10:00+01:00");
  looked("eva", "yes", "no");
  kitchen.at("2026-05-04T10:00+01:00");
  const Inspection found = review("2026-05-02", "2026-05-03");
  ASSERT_EQ(found.looks.size(), 1u);
  EXPECT_EQ(found.looks.front().made_by_them, 0) << "the look itself is no part of what is looked at";
  ASSERT_TRUE(found.content.review.has_value());
  const auto& row = found.content.review->looked.rows.at(0);
  EXPECT_EQ(row.cells, (Strings{fmt::format("3 May 2026, 10:00 (note {})", found.looks.front().note), "Eva Sample", "yes",
                                "not their own, they say; they recorded 0 of the 0 notes of this period", "the door seal; ordered"}));
  EXPECT_FALSE(row.wanting);
  const Json json = json_of(found);
  EXPECT_EQ(json.find("schema")->text(), "tierproof/records-review/1");
  EXPECT_EQ(json.find("looks")->array().at(0).find("found")->text(), "the door seal; ordered");
}

TEST_F(Reviewing, IsNoneWhileNobodyLooked) {
  const Inspection found = review("2026-05-01", "2026-05-01");
  EXPECT_EQ(found.content.wanting.front(), "Nobody is recorded as having looked through the records since 1 May 2026");
  EXPECT_THAT(found.content.review->says, testing::ElementsAre(HasSubstr("this paper reviews nothing")));
  EXPECT_TRUE(found.content.review->looked.rows.empty());
}

TEST_F(Reviewing, TellsALookThatCameBeforeTheEndAndOneThatLeftSomethingOut) {
  kitchen.at("2026-05-03T10:00+01:00");
  looked("eva", "yes", "no");
  kitchen.at("2026-05-06T10:00+01:00");
  const auto note = fmt::format("{}", review("2026-05-01", "2026-05-03").looks.front().note);
  EXPECT_THAT(review("2026-05-01", "2026-05-03").content.wanting, Not(testing::Contains(HasSubstr("The last look"))));
  EXPECT_THAT(
      review("2026-05-01", "2026-05-04").content.wanting,
      testing::Contains("The last look, note " + note + ", was on 3 May 2026: nobody is recorded as having looked at what came after it"));
  looked("eva", "no", "no");  // after the period: it covers it, but for what was left out
  const Inspection found = review("2026-05-01", "2026-05-04");
  EXPECT_EQ(found.looks.size(), 2u);
  EXPECT_THAT(found.content.wanting, Not(testing::Contains(HasSubstr("The last look"))));
  EXPECT_THAT(found.content.wanting, testing::Contains(HasSubstr("does not say that all of the records were looked through")));
  EXPECT_TRUE(review("2026-05-04", "2026-05-05").looks.size() == 1u) << "a look before the first day is of another time";
}

TEST_F(Reviewing, TellsThatWhoLookedMadeTheRecordsWhateverTheySay) {
  looked("ada", "yes", "no");
  const Inspection found = review("2026-05-01", "2026-05-01");
  ASSERT_EQ(found.looks.size(), 1u);
  EXPECT_GT(found.looks.front().made_by_them, 0);
  EXPECT_EQ(found.looks.front().made_by_them, found.notes_of_period);
  EXPECT_TRUE(found.content.review->looked.rows.front().wanting);
  EXPECT_THAT(found.content.review->looked.rows.front().cells[3], HasSubstr("a second look by the same person"));
  EXPECT_THAT(found.content.wanting, testing::Contains(HasSubstr("says that somebody else made the records; by the log, who looked")));
}

TEST_F(Reviewing, HoldsWhatIsLookedAtAndNotTheRest) {
  kitchen.readings("logger", "fridge", "2026-05-01T07:00+01:00", "2026-05-01T08:00+01:00", "9.0");
  const Inspection found = review("2026-05-01", "2026-05-01");
  Strings sections;
  for (const auto& section : found.content.sections) sections.push_back(section.name);
  EXPECT_THAT(sections, testing::IsSupersetOf({"fridge, day by day", "Thermometers", "Regular records", "Controls of those cakes",
                                               "Compared with the time before", "The records themselves"}));
  for (const char* not_reviewed : {"Hazard plan", "Who works here", "Suppliers and deliveries", "Allergens of each cake"})
    EXPECT_THAT(sections, Not(testing::Contains(not_reviewed)));
  const std::string text = inspection_text(found.content, true, 100);
  EXPECT_THAT(text, testing::StartsWith("Review of the records of "));
  EXPECT_THAT(text, HasSubstr("REASONS GIVEN TO RELEASE AGAINST A CONTROL"));
}

TEST_F(Reviewing, IsKeptAndGoesWithTheCustomerWhoseReasonsItGives) {
  const std::string cake = left_cake("2026-05-01");
  kitchen.at("2026-05-01T10:00+01:00");
  std::vector<AgainstReason> against;
  for (const auto& finding : kitchen.judged(cake).findings) {
    if (finding.stop == Stop::needs_person) against.push_back({finding.control + ":" + finding.subject, "because of Quince"});
  }
  release_of(kitchen, cake, against);
  Session session = kitchen.open();
  const auto issued = issue_inspection(session, {parse_date("2026-05-01"), parse_date("2026-05-02"), true}, DataRoot{TIERPROOF_SOURCE_DIR});
  ASSERT_TRUE(issued.has_value());
  const auto json =
      std::find_if(issued->issued.papers.begin(), issued->issued.papers.end(), [](const auto& p) { return p.form == "json"; });
  EXPECT_THAT(json->bytes, HasSubstr("because of Quince"));
  kitchen.at("2026-12-01T10:00+00:00");
  Session later = kitchen.open();
  const auto erased = erase_customer(later, {cake, "not needed any more"});
  ASSERT_TRUE(erased.has_value()) << describe(erased.error().front());
  EXPECT_EQ(erased->papers.size(), issued->issued.papers.size());
}

TEST_F(Inspecting, IsComparedWithAsManyDaysBefore) {
  kitchen.at("2026-05-04T23:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T18:00+01:00", "9.0");
  kitchen.readings("logger", "fridge", "2026-05-04T09:00+01:00", "2026-05-04T18:00+01:00", "4.0");
  const auto compared = [](const Inspection& inspection) {
    Strings rows;
    for (const auto& section : inspection.content.sections) {
      if (section.name != "Compared with the time before" || section.tables.empty()) continue;
      for (const auto& row : section.tables.at(0).rows) rows.push_back(fmt::format("{}", fmt::join(row.cells, " | ")));
    }
    return rows;
  };
  EXPECT_THAT(compared(look("2026-05-03", "2026-05-04")),
              testing::IsSupersetOf({"Days worked without a temperature (fridge) | 1 | 1", "Days too warm (fridge) | 1 | 0"}));
  EXPECT_EQ(compared(look("2026-05-01", "2026-05-02")), Strings{}) << "there was no kitchen before";
}

TEST_F(Inspecting, OfAYearStaysUnderSixtyPages) {
  for (int month = 5; month <= 12; ++month) {
    kitchen.at(fmt::format("2026-{:02}-28T20:00+01:00", month));
    for (int day = 1; day <= 28; ++day) {
      const std::string on = fmt::format("2026-{:02}-{:02}", month, day);
      kitchen.readings("logger", "fridge", on + "T09:00+01:00", on + "T12:00+01:00", day % 9 == 0 ? "8.9" : "4.0");
    }
    kitchen.done([](Session& s) { return check_probe(s, {"logger", "ice", Degrees{0, Scale::celsius}, ""}); });
  }
  kitchen.at("2027-04-30T20:00+01:00");
  const Inspection found = look("2026-05-01", "2027-04-30");
  EXPECT_EQ(table(found, "place-days").rows.size(), 365u);
  const auto pages = lay_out_inspection_record(found.content, Fonts::load(std::string{TIERPROOF_SOURCE_DIR} + "/reports/fonts"));
  ASSERT_TRUE(pages);
  EXPECT_LT(pages->pages.size(), 60u);
}

TEST(InspectionText, IsPageOneAloneUnlessAllIsAskedFor) {
  InspectionContent content;
  content.business = {"Example Kitchen"};
  content.period = "1 May 2026 to 3 May 2026, 3 days";
  content.wanting = {"cake fridge: too warm on 1 day, and this line is long enough to be broken"};
  content.sections.push_back({"Egg steps", {"No cake of this period has a part with an egg step to judge."}, {}, {}, {}, {}});
  const std::string page_one = inspection_text(content, false, 40);
  EXPECT_THAT(page_one, HasSubstr("! cake fridge: too warm on 1 day, and\n  this line"));
  EXPECT_THAT(page_one, Not(HasSubstr("Egg steps")));
  EXPECT_THAT(inspection_text(content, true, 40), HasSubstr("Egg steps"));
}

}  // namespace
}  // namespace tierproof
