// Regular records: sorts taken over and of one's own, records, days off, and what a scheduler books.
#include "tierproof/app/regular.h"

#include <thread>

#include "app/app_for_tests.h"
#include "tierproof/app/going_wrong.h"

namespace tierproof {
namespace {

std::string beehive(const std::string& more = "") {
  return R"({"id": "beehive", "name": "Beehive near the door looked at", "what": "Bees at the door or in the kitchen.",
    "fields": [{"id": "bees", "words": "Bees in the kitchen?", "type": "yes or no", "needed": true, "fine": "no"},
               {"id": "hives", "words": "How many hives", "type": "number", "unit": "hives"},
               {"id": "who", "words": "Who was told", "type": "person"}],
    "due": {"every": "week", "on": "wednesday", "closed": "next working day"}, "who": "whoever opens the kitchen",
    "source": "common practice, no source")" +
         more + "}";
}

class Regular : public testing::Test {
 public:
  /// 1 May 2026 is a Friday.
  void add(const std::string& text) {
    kitchen.done([&](Session& s) { return add_sorts(s, {{"sort.json", text}}); });
  }
  std::string add_refused(const std::string& text) {
    return kitchen.refused([&](Session& s) { return add_sorts(s, {{"sort.json", text}}); });
  }
  void daily(const std::string& id) {
    add(R"({"id": ")" + id +
        R"(", "name": "Daily look", "fields": [
      {"id": "ok", "words": "All as it should be?", "type": "yes or no", "needed": true, "fine": "yes"}],
      "due": {"every": "working day"}, "source": "choice"})");
  }
  Booked made(const RegularMade& one) {
    return kitchen.done([&](Session& s) { return record_regular(s, one); });
  }
  std::string refused(const RegularMade& one) {
    return kitchen.refused([&](Session& s) { return record_regular(s, one); });
  }
  void off(const DayOffTold& told) {
    kitchen.done([&](Session& s) { return tell_day_off(s, told); });
  }
  std::vector<std::uint64_t> scheduler() {
    return kitchen.done([](Session& s) { return book_missed(s); }).sequences;
  }
  /// `2026-05-06 overdue`, in order.
  Strings states(const std::string& sort, const char* from = "2026-05-01", const char* until = "2026-05-31") {
    const Session session = kitchen.open(true);
    Strings all;
    for (const auto& item : due_between(session, *parse_date(from), *parse_date(until))) {
      if (item.sort == sort) all.push_back(format_date(item.day.due.value_or(item.day.by_rule)) + " " + std::string{words_of(item.state)});
    }
    return all;
  }
  DueView view() { return due_on(kitchen.open(true), kitchen.open(true).today()); }
  TestKitchen kitchen;
};

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

TEST_F(Regular, OfferAStartingSetThatAKitchenCanTakeOverWhole) {
  const auto offered = load_regular_sorts(DataRoot{TIERPROOF_SOURCE_DIR});
  EXPECT_GE(offered.size(), 12u);
  for (const auto& one : offered) {
    EXPECT_FALSE(one.sort.source.empty()) << one.id;
    EXPECT_TRUE(one.sort.plan.empty() || rule_packs()->starting_plan().row(one.sort.plan) != nullptr) << one.id << ": " << one.sort.plan;
    const bool fillable = std::any_of(one.sort.fields.begin(), one.sort.fields.end(), [](const auto& field) { return field.needed; });
    EXPECT_TRUE(fillable || !one.sort.counts.empty()) << one.id << " asks for nothing";
  }
  kitchen.done([&](Session& s) { return take_over_sorts(s, offered, {"all"}, {}); });
  EXPECT_EQ(kitchen.open(true).state().regular_sorts.size(), offered.size());
  EXPECT_TRUE(holds(kitchen.refused([&](Session& s) { return take_over_sorts(s, offered, {"all"}, {}); }), "all of them are here already"));
  EXPECT_TRUE(
      holds(kitchen.refused([&](Session& s) { return take_over_sorts(s, offered, {"unicorns"}, {}); }), "is not one of the answers"));
}

TEST_F(Regular, AreOfASortOfOnesOwnWithoutAnyCode) {
  add(beehive());
  EXPECT_EQ(states("beehive"), (Strings{"2026-05-06 to come", "2026-05-13 to come", "2026-05-20 to come", "2026-05-27 to come"}));
  kitchen.at("2026-05-06T09:00+01:00");
  EXPECT_EQ(states("beehive").front(), "2026-05-06 due today");
  made({"beehive", {{"bees", "no"}, {"hives", "2 hives"}, {"who", "ada"}}});
  EXPECT_EQ(states("beehive").front(), "2026-05-06 done");
  const Session session = kitchen.open(true);
  const RegularDone& done = session.state().regular_done.front().value;
  ASSERT_EQ(done.values.size(), 3u);
  EXPECT_EQ(done.values[1].value, "2");
  EXPECT_EQ(done.values[2].value, "") << "a person is kept apart";
  EXPECT_EQ(done.values[2].words.text, "ada");
}

TEST_F(Regular, OfASortThatNobodyCouldKeepAreRefused) {
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A", "due": {"every": "month"}, "source": "choice"})"), "due.day: is missing"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A", "due": {"every": "working day", "day": 3}})"), "does not go with every"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A", "due": {"every": "fortnight"}})"), "due.every"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "fork", "name": "A", "due": {"every": "working day"}})"),
                    "is a place, thermometer, piece of kit or tub"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "Ada Sample looks", "due": {"every": "working day"}})"), "\"ada\" is part of"));
  EXPECT_TRUE(
      holds(add_refused(R"({"id": "a", "name": "A", "due": {"every": "working day"}, "counts": ["probe-chek/1"]})"), "no kind of note"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A", "due": {"every": "working day"}, "from": "2026-04-30"})"), "is past"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A", "due": {"every": "working day"}, "plam": "x"})"), "plam"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A", "due": {"every": "working day"}, "plan": "unicorns"})"),
                    "there is no row \"unicorns\" in the plan"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A", "due": {"every": "working day"}, "fields": [
    {"id": "n", "words": "N", "type": "number", "fine": "3"}]})"),
                    "cannot be told beforehand"));
  add(beehive());
  EXPECT_TRUE(holds(add_refused(beehive()), "is the same already"));
}

TEST_F(Regular, AreRefusedWhereAnAnswerIsMissingOrDoesNotFit) {
  add(beehive());
  EXPECT_TRUE(holds(refused({"beehive", {}}), "bees: is missing: Bees in the kitchen?; write bees=…"));
  EXPECT_TRUE(holds(refused({"beehive", {{"bees", "maybe"}}}), "is not one of the answers"));
  EXPECT_TRUE(holds(refused({"beehive", {{"bees", "no"}, {"hives", "two"}}}), "is not a number of hives"));
  EXPECT_TRUE(holds(refused({"beehive", {{"bees", "no"}, {"who", "eve"}}}), "there is no person called \"eve\""));
  EXPECT_TRUE(holds(refused({"beehive", {{"bees", "no"}, {"wasps", "no"}}}), "wasps: is no field of this sort"));
  EXPECT_TRUE(holds(refused({"beehive", {{"bees", "no"}, {"bees", "yes"}}}), "answered twice"));
  EXPECT_TRUE(holds(refused({"wasps", {}}), "there is no sort of regular record called \"wasps\""));
}

TEST_F(Regular, ThatAreNotAsTheyShouldBeSayWhatWasDone) {
  add(beehive());
  EXPECT_TRUE(holds(refused({"beehive", {{"bees", "yes"}}}), "--note: is missing, and \"Bees in the kitchen?\" is not as it should be"));
  kitchen.at("2026-05-06T09:00+01:00");
  made({"beehive", {{"bees", "yes"}}, {}, "door closed, sugar covered"});
  const auto due = view().due;
  ASSERT_EQ(due.size(), 1u);
  EXPECT_EQ(due[0].wanting, (Strings{"Bees in the kitchen?: yes"}));
}

TEST_F(Regular, AreLateForTheirDayOnceItHasEnded) {
  add(beehive());
  kitchen.at("2026-05-07T09:00+01:00");
  EXPECT_EQ(states("beehive").front(), "2026-05-06 overdue");
  made({"beehive", {{"bees", "no"}}});
  EXPECT_EQ(states("beehive").front(), "2026-05-06 done late");
}

TEST_F(Regular, ForAChosenDayCountForThatAlone) {
  daily("look");
  kitchen.at("2026-05-02T09:00+01:00");
  made({"look", {{"ok", "yes"}}, parse_date("2026-05-01"), "", "2026-05-01T18:00"});
  EXPECT_EQ(states("look", "2026-05-01", "2026-05-02"), (Strings{"2026-05-01 done", "2026-05-02 due today"}));
  EXPECT_TRUE(due_between(kitchen.open(true), *parse_date("2026-05-01"), *parse_date("2026-05-01")).front().typed_late);
  EXPECT_TRUE(holds(refused({"look", {{"ok", "yes"}}, parse_date("2026-05-01")}), "is recorded already, as note"));
  EXPECT_TRUE(holds(refused({"look", {{"ok", "yes"}}, parse_date("2026-04-30")}), "is not due on 30 April 2026"));
  EXPECT_TRUE(holds(refused({"look", {{"ok", "yes"}}, parse_date("2026-05-03")}), "is too far ahead"));
}

TEST_F(Regular, AllFineIsOneCommandAndTellsWhatItCannotSay) {
  daily("look");
  add(R"({"id": "count", "name": "Counted", "fields": [{"id": "n", "words": "How many", "type": "number", "needed": true}],
    "due": {"every": "working day"}, "source": "choice"})");
  add(R"({"id": "probes", "name": "Thermometers", "due": {"every": "month", "day": 1, "closed": "next working day"},
    "counts": ["probe-check/1"], "each": "thermometer", "source": "choice"})");
  kitchen.at("2026-05-02T08:00+01:00");
  const auto run = [&](const Strings& except) {
    Session session = kitchen.open();
    return record_all_fine(session, except, "").value();
  };
  EXPECT_TRUE(run({"look"}).booked.sequences.empty());
  const AllFine told = run({});
  EXPECT_EQ(told.booked.subjects, (Strings{"look"}));
  EXPECT_EQ(told.left, (Strings{"count"}));
  EXPECT_EQ(states("look", "2026-05-02", "2026-05-02"), (Strings{"2026-05-02 done"}));
  EXPECT_TRUE(run({}).booked.sequences.empty()) << "a second time books nothing more";
}

TEST_F(Regular, OfTheEndOfWorkAreNotTickedInTheMorning) {
  daily("look");  // one without the member, as older records have it: at any time of the day
  const auto of_part = [&](const std::string& id, const std::string& part) {
    add(R"({"id": ")" + id + R"(", "name": "Looked at", "part_of_day": ")" + part + R"(", "fields": [
      {"id": "ok", "words": "All as it should be?", "type": "yes or no", "needed": true, "fine": "yes"}],
      "due": {"every": "working day"}, "source": "choice"})");
  };
  of_part("open-up", "start of work");
  of_part("lock-up", "end of work");
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A", "part_of_day": "noon", "due": {"every": "working day"}})"), "part_of_day"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A", "part_of_day": "end of work", "due": {"every": "when it happens"}})"),
                    "part_of_day: goes with what is due"));
  const auto run = [&](bool end) {
    Session session = kitchen.open();
    return record_all_fine(session, {}, "", end).value();
  };
  kitchen.at("2026-05-02T08:00+01:00");
  const AllFine morning = run(false);
  EXPECT_EQ(morning.booked.subjects, (Strings{"look", "open-up"}));
  EXPECT_EQ(morning.left, (Strings{"lock-up"}));
  EXPECT_TRUE(holds(morning.left_words.front(), "all-fine --end")) << morning.left_words.front();
  EXPECT_EQ(states("lock-up", "2026-05-02", "2026-05-02"), (Strings{"2026-05-02 due today"}));
  kitchen.at("2026-05-03T18:00+01:00");
  const AllFine evening = run(true);
  EXPECT_EQ(evening.booked.subjects, (Strings{"lock-up"}));
  EXPECT_EQ(evening.left, (Strings{"look", "open-up"}));
  EXPECT_TRUE(holds(evening.left_words.front(), "`tierproof all-fine`")) << evening.left_words.front();
}

TEST_F(Regular, OfferedAsAStartingSetSayWhatIsDoneAtTheEndOfWork) {
  for (const auto& one : load_regular_sorts(DataRoot{TIERPROOF_SOURCE_DIR})) {
    EXPECT_EQ(one.sort.part_of_day == "end of work", one.sort.who == "whoever works last") << one.id;
    EXPECT_EQ(one.sort.part_of_day == "start of work", one.sort.who == "whoever works first") << one.id;
  }
}

TEST_F(Regular, NameNobodyByAnyWholeWord) {
  kitchen.done([](Session& s) { return add_person(s, "lee", "Lee Waste", "helper"); });
  const auto with_who = [](const std::string& id, const std::string& who) {
    return R"({"id": ")" + id + R"(", "name": "A look", "due": {"every": "working day"}, "who": ")" + who + R"("})";
  };
  EXPECT_TRUE(holds(add_refused(with_who("a", "Ada, or whoever is there")), "who: \"ada\" is part of the name of a recorded person"));
  EXPECT_TRUE(holds(add_refused(with_who("a", "LEE")), "\"lee\" is part of"));
  EXPECT_TRUE(holds(add_refused(with_who("sample-look", "owner")), "id: \"sample\" is part of"));
  EXPECT_TRUE(holds(add_refused(R"({"id": "a", "name": "A look", "due": {"every": "working day"}, "fields": [
    {"id": "by", "words": "Who looked", "type": "one of", "choices": ["Lee", "owner"]}]})"),
                    "fields[0].choices: \"lee\" is part of"));
  add(with_who("b", "whoever sees to the fleece adapter"));
  // What the starting set says word for word names nobody, taken over or in a file.
  const auto offered = load_regular_sorts(DataRoot{TIERPROOF_SOURCE_DIR});
  kitchen.done([&](Session& s) { return take_over_sorts(s, offered, {"waste"}, {}); });
  const std::string waste = R"({"id": "waste", "name": "Waste", "due": {"every": "working day"}, "who": "owner"})";
  EXPECT_TRUE(holds(add_refused(waste), "\"waste\" is part of"));
  kitchen.done([&](Session& s) { return add_sorts(s, {{"waste.json", waste}}, offered); });
}

TEST_F(Regular, NameNobodyByACorrectionEither) {
  daily("look");
  const auto note = kitchen.open(true).state().regular_sorts.begin()->second.sequence;
  EXPECT_TRUE(holds(correction_refused(kitchen, note, {{"who", Json{"Ada"}}}), "\"ada\" is part of the name of a recorded person"));
  correct_note(kitchen, note, {{"who", Json{"owner"}}});
}

TEST_F(Regular, ShareTheirShortNameWithNothingThatIsChecked) {
  for (const char* id : {"fridge", "fork", "batch-9", "cake-1", "trouble-2"})
    EXPECT_TRUE(
        holds(add_refused(R"({"id": ")" + std::string{id} + R"(", "name": "A", "due": {"every": "working day"}})"), "choose another"))
        << id;
  add(R"({"id": "batch-look", "name": "A", "due": {"every": "working day"}})");
  daily("cellar");
  EXPECT_TRUE(holds(kitchen.refused([](Session& s) {
    return add_place(s, "cellar", {"the cellar", "room"});
  }),
                    "place: \"cellar\" is a sort of regular record"));
  EXPECT_TRUE(holds(kitchen.refused([](Session& s) { return add_equipment(s, "cellar", "the rack"); }), "is a sort of regular record"));
  Probe probe;
  probe.name = "cellar logger";
  probe.measures = "air";
  probe.accuracy_hundredths = 50;
  probe.resolution_hundredths = 10;
  EXPECT_TRUE(holds(kitchen.refused([&](Session& s) { return add_probe(s, "cellar", probe); }), "is a sort of regular record"));
}

TEST_F(Regular, OfAnOlderKitchenAreToldFromAPlaceOfTheSameName) {
  daily("look");
  // Booked as a program did that did not refuse it.
  kitchen.done([](Session& s) -> Result<Booked> {
    return s.book({s.draft(s.state().regular_sorts.begin()->second.value, "fridge", ZonedInstant{s.now(), s.offset_at(s.now())})});
  });
  kitchen.at("2026-05-02T08:00+01:00");
  const auto tell = [&](const std::string& of) { return MissedCheck{"fridge", parse_date("2026-05-01"), "forgotten", "", of}; };
  EXPECT_TRUE(holds(kitchen.refused([&](Session& s) { return tell_missed(s, tell("")); }), "--of: \"fridge\" is a sort of regular record"));
  EXPECT_TRUE(holds(kitchen.refused([&](Session& s) { return tell_missed(s, tell("both")); }), "is not one of the answers"));
  kitchen.done([&](Session& s) { return tell_missed(s, tell("thing")); });
  EXPECT_EQ(states("fridge", "2026-05-01", "2026-05-01"), (Strings{"2026-05-01 overdue"})) << "the fridge was told as missed";
  kitchen.done([&](Session& s) { return tell_missed(s, tell("regular record")); });
  EXPECT_EQ(states("fridge", "2026-05-01", "2026-05-01"), (Strings{"2026-05-01 missed"}));
  const Session session = kitchen.open(true);
  ASSERT_EQ(session.state().missed.size(), 2u);
  EXPECT_EQ(session.state().missed[0].value.of, "");
  EXPECT_EQ(session.state().missed[1].value.of, "regular record");
}

TEST_F(Regular, CountNotesOfTheirOwnKindOfEachThermometer) {
  add(R"({"id": "probes", "name": "Thermometers", "due": {"every": "month", "day": 4, "closed": "next working day"},
    "counts": ["probe-check/1"], "each": "thermometer", "source": "choice"})");
  EXPECT_TRUE(holds(refused({"probes", {}}), "record it with `tierproof thermometer-check`: that counts"));
  kitchen.at("2026-05-04T08:00+01:00");
  EXPECT_EQ(view().due.front().waiting, (Strings{"fork", "logger"}));
  kitchen.done([](Session& s) { return check_probe(s, {"fork", "ice", Degrees{0, Scale::celsius}, ""}); });
  EXPECT_EQ(states("probes", "2026-05-04", "2026-05-04"), (Strings{"2026-05-04 due today"})) << "one of two is not all of them";
  EXPECT_EQ(view().due.front().waiting, (Strings{"logger"}));
  kitchen.at("2026-05-05T08:00+01:00");
  kitchen.done([](Session& s) { return check_probe(s, {"logger", "ice", Degrees{0, Scale::celsius}, ""}); });
  EXPECT_EQ(states("probes", "2026-05-04", "2026-05-04"), (Strings{"2026-05-04 done late"}));
}

TEST_F(Regular, AreNotAskedForOnDaysOff) {
  daily("look");
  off({parse_date("2026-05-02"), parse_date("2026-05-03"), {}});
  off({{}, {}, {"monday"}});
  kitchen.at("2026-05-05T08:00+01:00");
  EXPECT_EQ(states("look", "2026-05-01", "2026-05-05"), (Strings{"2026-05-01 overdue", "2026-05-05 due today"}));
  const DueView sunday = due_on(kitchen.open(true), *parse_date("2026-05-03"));
  EXPECT_FALSE(sunday.working);
  EXPECT_TRUE(sunday.not_working.starts_with("nobody works, note ")) << sunday.not_working;
  off({{}, {}, {"none"}});
  EXPECT_EQ(states("look", "2026-05-11", "2026-05-11"), (Strings{"2026-05-11 to come"})) << "open each day again";
}

TEST_F(Regular, ADayOffToldAfterwardsTakesNothingAway) {
  daily("look");
  kitchen.at("2026-05-04T08:00+01:00");
  EXPECT_EQ(scheduler().size(), 3u);
  kitchen.at("2026-05-05T08:00+01:00");
  off({parse_date("2026-05-02"), parse_date("2026-05-04"), {}});
  EXPECT_EQ(states("look", "2026-05-01", "2026-05-05"),
            (Strings{"2026-05-01 missed", "2026-05-02 missed", "2026-05-03 missed", "2026-05-04 overdue", "2026-05-05 due today"}));
  const DueView then = due_on(kitchen.open(true), *parse_date("2026-05-04"));
  EXPECT_TRUE(then.working);
  EXPECT_TRUE(holds(then.not_working, "told on 5 May 2026, afterwards")) << then.not_working;
  ASSERT_EQ(then.due.size(), 1u);
  EXPECT_TRUE(then.due.front().not_worked.has_value());
  EXPECT_TRUE(holds(kitchen.refused([](Session& s) { return tell_day_off(s, {parse_date("2026-05-02"), {}, {}}); }), "already"));
  EXPECT_EQ(scheduler().size(), 1u);
  EXPECT_EQ(kitchen.open(true).state().missed.back().value.because, "nobody worked");
  EXPECT_EQ(states("look", "2026-05-04", "2026-05-04"), (Strings{"2026-05-04 missed"}));
}

TEST_F(Regular, ADayOffToldAfterwardsMovesNoLaterDueDay) {
  add(R"({"id": "third", "name": "Each third working day", "due": {"every": "working days", "count": 3}, "source": "choice"})");
  kitchen.at("2026-05-05T08:00+01:00");
  const Strings before{"2026-05-01 overdue", "2026-05-04 overdue", "2026-05-07 to come", "2026-05-10 to come"};
  EXPECT_EQ(states("third", "2026-05-01", "2026-05-10"), before);
  off({parse_date("2026-05-02"), parse_date("2026-05-03"), {}});
  EXPECT_EQ(states("third", "2026-05-01", "2026-05-10"), before);
  off({parse_date("2026-05-06"), {}, {}});
  EXPECT_EQ(states("third", "2026-05-01", "2026-05-10"), (Strings{"2026-05-01 overdue", "2026-05-04 overdue", "2026-05-08 to come"}))
      << "one told beforehand does";
}

TEST_F(Regular, ADayOffIsRefusedOnADayWithARegularRecord) {
  daily("look");
  made({"look", {{"ok", "yes"}}});
  for (const DayOffTold& told : {DayOffTold{{}, {}, {}}, DayOffTold{{}, {}, {"friday"}}}) {
    const std::string words = kitchen.refused([&](Session& s) { return tell_day_off(s, told); });
    EXPECT_TRUE(holds(words, "somebody worked on 1 May 2026: look")) << words;
  }
  off({parse_date("2026-05-02"), {}, {}});
  kitchen.at("2026-05-03T08:00+01:00");
  kitchen.done([](Session& s) { return check_probe(s, {"fork", "ice", Degrees{0, Scale::celsius}, ""}); });
  EXPECT_TRUE(holds(kitchen.refused([](Session& s) { return tell_day_off(s, {{}, {}, {}}); }), "somebody worked on 3 May 2026: fork"));
}

TEST_F(Regular, ADayOffIsRefusedWhereSomebodyWorked) {
  daily("look");
  kitchen.make("sponge", grams(270));
  const std::string told = kitchen.refused([](Session& s) { return tell_day_off(s, {parse_date("2026-05-01"), {}, {}}); });
  EXPECT_TRUE(holds(told, "somebody worked on 1 May 2026: batch-1")) << told;
  EXPECT_TRUE(holds(kitchen.refused([](Session& s) {
    return tell_day_off(s, {parse_date("2026-05-04"), parse_date("2026-05-03"), {}});
  }),
                    "is before the first day"));
  EXPECT_TRUE(holds(kitchen.refused([](Session& s) { return tell_day_off(s, {{}, {}, {"mayday"}}); }), "is not one of the answers"));
  // Told before, and worked all the same: it was a working day.
  off({parse_date("2026-05-02"), {}, {}});
  kitchen.at("2026-05-02T08:00+01:00");
  EXPECT_FALSE(view().working);
  kitchen.make("sponge", grams(270));
  EXPECT_TRUE(view().working);
  EXPECT_EQ(states("look", "2026-05-02", "2026-05-02"), (Strings{"2026-05-02 due today"}));
}

TEST_F(Regular, ThatWereMissedAreBookedByTheSchedulerOnceUpToYesterday) {
  daily("look");
  off({parse_date("2026-05-03"), {}, {}});
  EXPECT_TRUE(scheduler().empty()) << "today has not ended";
  kitchen.at("2026-05-04T00:00+01:00");
  EXPECT_EQ(scheduler().size(), 2u) << "1 and 2 May; the 3rd was a day off, the 4th has begun";
  EXPECT_TRUE(scheduler().empty());
  EXPECT_EQ(states("look", "2026-05-01", "2026-05-04"), (Strings{"2026-05-01 missed", "2026-05-02 missed", "2026-05-04 due today"}));
  const Session session = kitchen.open(true);
  const auto& missed = session.state().missed.front();
  EXPECT_EQ(missed.value.because, "nobody said");
  EXPECT_EQ(missed.how, "scheduled");
  EXPECT_TRUE(missed.person.empty()) << "nobody recorded it";
  EXPECT_EQ(session.store().entries(missed.sequence, missed.sequence).front().device, "scheduler");
  EXPECT_EQ(view().missed_lately, 2u);
}

TEST_F(Regular, ThatWereMissedAreNotBookedAgainOnceTakenBack) {
  daily("look");
  kitchen.at("2026-05-02T08:00+01:00");
  const auto booked = scheduler();
  ASSERT_EQ(booked.size(), 1u);
  kitchen.done([&](Session& s) { return void_note(s, booked.front(), "the sheet turned up"); });
  EXPECT_TRUE(scheduler().empty());
  EXPECT_EQ(states("look", "2026-05-01", "2026-05-01"), (Strings{"2026-05-01 overdue"})) << "taken back is not done";
}

TEST_F(Regular, AreBookedOnceByTwoSchedulersAtTheSameTime) {
  daily("look");
  kitchen.at("2026-05-20T08:00+01:00");
  // Both have read before either writes.
  Session one = kitchen.open(), other = kitchen.open();
  EXPECT_EQ(book_missed(one).value().sequences.size(), 19u);
  EXPECT_TRUE(book_missed(other).value().sequences.empty());
  EXPECT_EQ(kitchen.open(true).state().missed.size(), 19u);
  // And with real threads, again and again.
  for (int day = 21; day < 25; ++day) {
    kitchen.at("2026-05-" + std::to_string(day) + "T08:00+01:00");
    const auto run = [&] {
      for (;;) {
        try {
          Session session = kitchen.open();
          return book_missed(session).value().sequences.size();
        } catch (const HeadMoved&) {
        }
      }
    };
    std::size_t by_other = 0;
    std::thread second{[&] { by_other = run(); }};
    const std::size_t by_one = run();
    second.join();
    EXPECT_EQ(by_one + by_other, 1u);
  }
  EXPECT_EQ(kitchen.open(true).state().missed.size(), 23u);
  EXPECT_TRUE(kitchen.open(true).store().verify({}).complaints.empty());
}

TEST_F(Regular, ToldAsMissedByAPersonAreNotBookedAsWell) {
  daily("look");
  kitchen.at("2026-05-02T08:00+01:00");
  EXPECT_TRUE(holds(kitchen.refused([](Session& s) {
    return tell_missed(s, {"look", parse_date("2026-04-30"), "forgotten", ""});
  }),
                    "was not due"));
  kitchen.done([](Session& s) { return tell_missed(s, {"look", parse_date("2026-05-01"), "forgotten", ""}); });
  EXPECT_TRUE(scheduler().empty());
  EXPECT_EQ(states("look", "2026-05-01", "2026-05-01"), (Strings{"2026-05-01 missed"}));
}

TEST_F(Regular, TellHealthOnlyWhereItCanBeErased) {
  add(R"({"id": "fit", "name": "Fit to work", "fields": [
      {"id": "fit", "words": "Fit?", "type": "yes or no", "needed": true, "sealed": true, "fine": "yes"}],
    "due": {"every": "working day"}, "source": "choice"})");
  made({"fit", {{"fit", "no"}}, {}, "sent home"});
  const Session session = kitchen.open(true);
  const auto& record = session.state().regular_done.front();
  EXPECT_EQ(record.value.values.front().words.text, "no");
  EXPECT_EQ(record.value.note.text, "sent home");
  const std::string entry = leaf_text(session.store().entries(record.sequence, record.sequence).front());
  EXPECT_FALSE(holds(entry, "\"no\"") || holds(entry, "sent home")) << entry;
}

TEST_F(Regular, CanBeCorrectedAndTakenBack) {
  add(beehive());
  kitchen.at("2026-05-06T09:00+01:00");
  const auto booked = made({"beehive", {{"bees", "no"}}}).sequences.front();
  kitchen.done([&](Session& s) { return void_note(s, booked, "it was the wasps"); });
  EXPECT_EQ(states("beehive").front(), "2026-05-06 due today");
  const auto sort = kitchen.open(true).state().regular_sorts.at(RegularSortId{"beehive"}).sequence;
  kitchen.done([&](Session& s) { return void_note(s, sort, "the bees moved away"); });
  EXPECT_TRUE(states("beehive").empty());
  EXPECT_TRUE(view().due.empty());
  EXPECT_TRUE(scheduler().empty());
}

TEST_F(Regular, MadeForADayBeforeByOneCommandAreMarkedLate) {
  daily("look");
  kitchen.at("2026-05-02T08:00+01:00");
  Session session = kitchen.open();
  EXPECT_EQ(record_all_fine(session, {}, "2026-05-01T19:00").value().booked.subjects, (Strings{"look"}));
  EXPECT_EQ(states("look", "2026-05-01", "2026-05-02"), (Strings{"2026-05-01 done", "2026-05-02 due today"}));
  EXPECT_EQ(kitchen.open(true).state().regular_done.front().how, "typed_late");
}

TEST_F(Regular, OfAChangedSortKeepTheDaysOfTheOldOne) {
  add(beehive());
  kitchen.at("2026-05-12T08:00+01:00");
  std::string friday = beehive();
  friday.replace(friday.find("wednesday"), 9, "friday");
  add(friday);
  EXPECT_EQ(states("beehive", "2026-05-01", "2026-05-22"), (Strings{"2026-05-06 overdue", "2026-05-15 to come", "2026-05-22 to come"}));
  kitchen.at("2026-05-16T08:00+01:00");
  made({"beehive", {{"bees", "no"}}});
  EXPECT_EQ(states("beehive", "2026-05-01", "2026-05-15"), (Strings{"2026-05-06 overdue", "2026-05-15 done late"}));
}

TEST_F(Regular, OfAChangedSortCountForOneDueDayAlone) {
  const auto weekly = [&](const std::string& on, const std::string& more = "") {
    add(R"({"id": "look", "name": "Weekly look", "fields": [
      {"id": "ok", "words": "All as it should be?", "type": "yes or no", "needed": true, "fine": "yes"}],
      "due": {"every": "week", "on": ")" +
        on + R"(", "closed": "next working day", "early_days": 2}, "source": "choice")" + more + "}");
  };
  weekly("saturday");
  weekly("monday", R"(, "from": "2026-05-03")");
  // Saturday the 2nd is of the old version, Monday the 4th of the new one; a record of Saturday is early enough for both.
  kitchen.at("2026-05-02T09:00+01:00");
  made({"look", {{"ok", "yes"}}});
  EXPECT_EQ(states("look", "2026-05-01", "2026-05-04"), (Strings{"2026-05-02 done", "2026-05-04 to come"}));
  kitchen.at("2026-05-03T09:00+01:00");
  made({"look", {{"ok", "yes"}}});
  EXPECT_EQ(states("look", "2026-05-01", "2026-05-04"), (Strings{"2026-05-02 done", "2026-05-04 done"}));
}

TEST_F(Regular, DueTwiceOnADayOfAChangedSortAreTwoRecords) {
  off({parse_date("2026-05-04"), {}, {}});
  add(R"({"id": "look", "name": "Look", "fields": [{"id": "ok", "words": "All well?", "type": "yes or no", "needed": true, "fine": "yes"}],
    "due": {"every": "week", "on": "monday", "closed": "next working day"}, "source": "choice"})");
  add(R"({"id": "look", "name": "Look", "fields": [{"id": "ok", "words": "All well?", "type": "yes or no", "needed": true, "fine": "yes"}],
    "due": {"every": "working day"}, "source": "choice", "from": "2026-05-05"})");
  kitchen.at("2026-05-05T09:00+01:00");
  EXPECT_EQ(states("look", "2026-05-05", "2026-05-05"), (Strings{"2026-05-05 due today", "2026-05-05 due today"}))
      << "Monday moved to it, and its own";
  made({"look", {{"ok", "yes"}}, parse_date("2026-05-05")});
  EXPECT_EQ(states("look", "2026-05-05", "2026-05-05"), (Strings{"2026-05-05 done", "2026-05-05 due today"}));
  made({"look", {{"ok", "yes"}}, parse_date("2026-05-05")});
  EXPECT_EQ(states("look", "2026-05-05", "2026-05-05"), (Strings{"2026-05-05 done", "2026-05-05 done"}));
  EXPECT_TRUE(holds(refused({"look", {{"ok", "yes"}}, parse_date("2026-05-05")}), "is recorded already"));
}

TEST_F(Regular, EndWithTheirLastDay) {
  add(beehive(R"(, "until": "2026-05-14")"));
  EXPECT_EQ(states("beehive"), (Strings{"2026-05-06 to come", "2026-05-13 to come"}));
}

TEST_F(Regular, OfWhatHappensHaveNoDueDay) {
  add(R"({"id": "refused", "name": "Refused", "fields": [{"id": "what", "words": "What", "type": "text", "needed": true}],
    "due": {"every": "when it happens"}, "source": "choice"})");
  EXPECT_TRUE(holds(refused({"refused", {{"what", "cream at 12 °C"}}, parse_date("2026-05-01")}), "is not due"));
  made({"refused", {{"what", "cream at 12 °C"}}});
  const auto whenever = view().whenever;
  ASSERT_EQ(whenever.size(), 1u);
  EXPECT_EQ(whenever[0].day, parse_date("2026-05-01"));
  EXPECT_FALSE(kitchen.open(true).store().entries(1, 1000).back().body.find("values")->array().front().find("value"))
      << "texts are kept apart";
}

}  // namespace
}  // namespace tierproof
