// Names of people who left and what regular records keep apart: when they go, what holds them, and what stays. By the rows of
// reference/gb/retention.json, both 24 months (a choice).
#include <fmt/format.h>

#include "app/app_for_tests.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/inspecting.h"
#include "tierproof/app/kept_until.h"
#include "tierproof/app/lists.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/regular.h"
#include "tierproof/rules/plan_file.h"

namespace tierproof {
namespace {

const DataRoot shipped{TIERPROOF_SOURCE_DIR};

/// A kitchen where ben, who is called Bénédict Sample, works until 1 May 2026, and where somebody looks at the fridge door.
class OldWordsOf : public testing::Test {
 public:
  OldWordsOf() {
    kitchen.done([](Session& s) { return add_person(s, "ben", "Bénédict Sample", "owner"); });
    kitchen.done([](Session& s) {
      return add_sorts(s, {{"door.json", R"({"id": "door", "name": "Door", "fields": [
        {"id": "ok", "words": "All well?", "type": "yes or no", "needed": true, "fine": "yes"},
        {"id": "what", "words": "What was seen", "type": "text", "needed": true}],
        "due": {"every": "working day"}, "source": "choice"})"}});
    });
  }
  void leaves() {
    kitchen.done([](Session& s) { return person_left(s, "ben", parse_date("2026-05-01")); });
  }
  std::uint64_t looked(const std::string& at, const std::string& ok, const std::string& what) {
    kitchen.at(at);
    const auto booked = kitchen.done([&](Session& s) {
      return record_regular(s, {"door", {{"ok", ok}, {"what", what}}, {}, ok == "yes" ? "" : what});
    });
    return booked.sequences.front();
  }
  KeptLine line(const std::string& thing, const char* on = nullptr) {
    const Session session = kitchen.open(true);
    const auto kept = kept_until(session, on == nullptr ? session.today() : *parse_date(on));
    for (const auto& one : kept->lines) {
      if (one.thing == thing && (one.kind == "people who work here" || one.kind == "regular records")) return one;
    }
    ADD_FAILURE() << thing;
    return {};
  }
  std::size_t may_go() {
    const Session session = kitchen.open(true);
    const auto kept = kept_until(session, session.today());
    return kept->names_that_may_go() + kept->records_that_may_go();
  }
  Result<ErasedOld> erase(std::size_t confirmed) {
    Session session = kitchen.open();
    return erase_old_words(session, confirmed);
  }
  std::string erase_refused(std::size_t confirmed) {
    const auto before = kitchen.open(true).head();
    const auto erased = erase(confirmed);
    EXPECT_FALSE(erased.has_value());
    EXPECT_EQ(kitchen.open(true).head(), before) << "nothing, or all of it";
    return erased ? "" : describe(erased.error().front());
  }
  /// Whether a text stands in the file of the records, in whatever page.
  bool in_file(const std::string& text) { return load_file(kitchen.entrance().kitchen_file).find(text) != std::string::npos; }
  Strings complaints() { return kitchen.open(true).store().verify(std::nullopt).complaints; }
  std::vector<PaperBytes> inspection(const char* from, const char* until) {
    Session session = kitchen.open();
    auto issued = issue_inspection(session, {parse_date(from), parse_date(until)}, shipped);
    EXPECT_TRUE(issued.has_value());
    return issued ? issued->issued.papers : std::vector<PaperBytes>{};
  }
  std::vector<PaperBytes> record(const std::string& cake) {
    Session session = kitchen.open();
    auto issued = issue_record(session, cake, shipped);
    EXPECT_TRUE(issued.has_value());
    return issued ? issued->papers : std::vector<PaperBytes>{};
  }
  TestKitchen kitchen;
};

TEST_F(OldWordsOf, WhoLeftGoesOnTheDayAfterTheirTimeAndNotBefore) {
  leaves();
  kitchen.at("2028-05-01T23:00+01:00");
  EXPECT_EQ(line("ben").state, KeptState::must_stay);
  EXPECT_THAT(erase_refused(1), HasSubstr("no name of anybody who left, and no words of a regular record, may go today"));
  EXPECT_TRUE(in_file("Bénédict"));
  kitchen.at("2028-05-02T00:10+01:00");
  EXPECT_EQ(line("ben").state, KeptState::may_go);
  EXPECT_THAT(erase_refused(2), HasSubstr("1 may go today, names of people who left and regular records together, not 2"));
  const auto before = kitchen.open(true).head();
  const auto erased = erase(1);
  ASSERT_TRUE(erased.has_value());
  ASSERT_EQ(erased->erased.size(), 1u);
  EXPECT_EQ(erased->erased.front().thing, "ben");
  EXPECT_FALSE(in_file("Bénédict")) << "the note that told it first, and the one that says they left";
  const Session session = kitchen.open(true);
  ASSERT_EQ(session.state().erasures.size(), 1u);
  const auto& note = session.state().erasures.front();
  EXPECT_EQ(note.value.what, "people who work here");
  EXPECT_EQ(note.subject, "ben");
  EXPECT_TRUE(note.value.cake.empty());
  EXPECT_EQ(note.value.texts, erased->erased.front().texts);
  EXPECT_EQ(session.store().verify(before).complaints, Strings{});
  EXPECT_EQ(session.state().people.at(PersonId{"ben"}).value.role, "owner") << "the notes stay";
  EXPECT_EQ(line("ben").state, KeptState::gone);
  EXPECT_THAT(line("ben").why, HasSubstr("the name was erased on 2 May 2028, note"));
  EXPECT_EQ(may_go(), 0u);
}

TEST_F(OldWordsOf, WhoWorksHereStayWhateverTheDay) {
  kitchen.at("2040-01-01T08:00+00:00");
  EXPECT_EQ(line("ben").state, KeptState::not_known);
  EXPECT_EQ(may_go(), 0u);
}

TEST_F(OldWordsOf, WhoLeftTakeTheirNameUnderReviewsOfThePlanWithThem) {
  kitchen.done([](Session& s) -> Result<Booked> {
    auto taken = take_plan(s, {"plan.json", write_plan_document(rule_packs()->starting_plan())});
    if (!taken) return taken.error();
    return taken->booked;
  });
  kitchen.person = "ben";
  kitchen.done([](Session& s) { return review_plan(s, {"nothing", "", "Bénédict Sample", ""}); });
  kitchen.person = "ada";
  leaves();
  kitchen.at("2028-05-02T08:00+01:00");
  ASSERT_TRUE(erase(1).has_value());
  EXPECT_FALSE(in_file("Bénédict"));
  EXPECT_EQ(kitchen.open(true).state().plan_reviews.front().value.signed_by.text, std::nullopt);
  EXPECT_EQ(complaints(), Strings{});
}

TEST_F(OldWordsOf, WhoLeftGoWithTheKeptPapersThatTellTheirNameAndNoOthers) {
  kitchen.person = "ben";
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", {{sponge, grams(100)}});
  kitchen.person = "ada";
  const auto told = record(cake);
  const auto period = inspection("2026-05-01", "2026-05-01");
  leaves();
  kitchen.at("2028-05-01T08:00+01:00");
  const std::string by_ada = kitchen.cake();
  const auto others = record(by_ada);
  const auto json = std::find_if(told.begin(), told.end(), [](const auto& paper) { return paper.form == "json"; });
  ASSERT_THAT(json->bytes, HasSubstr("Bénédict Sample")) << "or a paper could tell the name and its JSON not";
  kitchen.at("2028-05-02T08:00+01:00");
  const auto erased = erase(1);
  ASSERT_TRUE(erased.has_value()) << describe(erased.error().front());
  EXPECT_EQ(erased->erased.front().papers.size(), 2u) << "the record of the cake, whose own time is over, and that of the period";
  const Session session = kitchen.open(true);
  for (const auto& papers : {told, period}) {
    for (const auto& paper : papers) EXPECT_FALSE(session.store().paper(sha256(paper.bytes)).has_value()) << paper.form;
  }
  for (const auto& paper : others) EXPECT_TRUE(session.store().paper(sha256(paper.bytes)).has_value()) << paper.form;
  EXPECT_EQ(complaints(), Strings{});
  const auto anew = record(cake);
  const auto drawn = std::find_if(anew.begin(), anew.end(), [](const auto& paper) { return paper.form == "json"; });
  EXPECT_THAT(drawn->bytes, HasSubstr("ben (name erased)"));
}

TEST_F(OldWordsOf, WhoLeftGoWithPapersThatTellTheNameThatWasTypedFirst) {
  kitchen.done([](Session& s) { return add_person(s, "cat", "Zäzilie Tippfehler", "helper"); });
  const auto first = inspection("2026-05-01", "2026-05-01");
  const auto wrong = kitchen.open(true).state().people.at(PersonId{"cat"}).sequence;
  kitchen.done([&](Session& s) { return void_note(s, wrong, "Tippfehler"); });
  kitchen.done([](Session& s) { return add_person(s, "cat", "Cäcilie Sample", "helper"); });
  kitchen.done([](Session& s) { return person_left(s, "cat", parse_date("2026-05-01")); });
  ASSERT_EQ(kitchen.open(true).state().people.at(PersonId{"cat"}).value.name.text, "Cäcilie Sample");
  kitchen.at("2028-05-02T08:00+01:00");
  ASSERT_TRUE(erase(1).has_value());
  for (const char* name : {"Zäzilie", "Tippfehler", "Cäcilie"}) EXPECT_FALSE(in_file(name)) << name;
  const Session session = kitchen.open(true);
  for (const auto& paper : first) EXPECT_FALSE(session.store().paper(sha256(paper.bytes)).has_value()) << paper.form;
  EXPECT_EQ(complaints(), Strings{});
}

TEST_F(OldWordsOf, SomebodyWhoseNoteWasTakenBackGoAsIfTheyHadLeftThatDay) {
  const auto note = kitchen.open(true).state().people.at(PersonId{"ben"}).sequence;
  kitchen.done([&](Session& s) { return void_note(s, note, "never came"); });
  EXPECT_EQ(line("ben").last, parse_date("2028-05-01"));
  EXPECT_EQ(line("ben").state, KeptState::must_stay);
  kitchen.at("2028-05-02T08:00+01:00");
  EXPECT_EQ(line("ben").state, KeptState::may_go);
  ASSERT_TRUE(erase(1).has_value());
  EXPECT_FALSE(in_file("Bénédict"));
  EXPECT_EQ(line("ben").state, KeptState::gone);
  EXPECT_EQ(complaints(), Strings{});
}

TEST_F(OldWordsOf, NamesThatAreOnlyPartOfAnotherWordHoldNothing) {
  kitchen.done([](Session& s) { return add_person(s, "pla", "Pla", "helper"); });
  record(kitchen.cake());  // a plain cake
  kitchen.done([](Session& s) { return person_left(s, "pla", parse_date("2026-05-01")); });
  kitchen.at("2028-05-02T08:00+01:00");
  EXPECT_EQ(line("pla").held_by, Strings{});
  EXPECT_EQ(line("pla").state, KeptState::may_go);
}

TEST_F(OldWordsOf, WhoLeftAreHeldByTheKeptRecordOfACakeWhoseTimeIsNotOver) {
  kitchen.person = "ben";
  const std::string cake = kitchen.cake();  // never built: nothing says how long its record is kept, so it stays
  kitchen.person = "ada";
  record(cake);
  leaves();
  kitchen.at("2028-05-02T08:00+01:00");
  const KeptLine held = line("ben");
  EXPECT_EQ(held.state, KeptState::held);
  EXPECT_EQ(held.held_by, Strings{"the kept record of " + cake + " tells the name, and must stay"});
  EXPECT_EQ(may_go(), 0u);
  erase_refused(1);
  EXPECT_TRUE(in_file("Bénédict"));
}

TEST_F(OldWordsOf, RecordsGoOneByOneWhenTheirOwnTimeIsOver) {
  looked("2026-05-01T09:00+01:00", "yes", "a Gasket that fits");
  looked("2026-05-02T09:00+01:00", "yes", "a Hinge that holds");
  kitchen.at("2028-05-01T09:00+01:00");
  EXPECT_EQ(line("door").words_may_go, 0u) << "the last day belongs to the time";
  kitchen.at("2028-05-02T09:00+01:00");
  EXPECT_EQ(line("door").words_may_go, 1u);
  EXPECT_EQ(line("door").state, KeptState::must_stay) << "by the newest of them";
  const auto erased = erase(1);
  ASSERT_TRUE(erased.has_value()) << describe(erased.error().front());
  EXPECT_EQ(erased->erased.front().what, "regular records");
  EXPECT_EQ(erased->erased.front().thing, "door");
  EXPECT_EQ(erased->erased.front().records, 1u);
  EXPECT_EQ(erased->erased.front().texts, 1);
  EXPECT_FALSE(in_file("a Gasket that fits"));
  EXPECT_TRUE(in_file("a Hinge that holds"));
  EXPECT_EQ(complaints(), Strings{});
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.state().regular_done.front().value.values.front().value, "yes") << "what is no words stays";
  const DataTable told = table_of(*find_list("regular-records"), session);
  std::string all;
  for (const auto& row : told.rows) {
    for (const auto& cell : row) all += text_of(cell) + "|";
  }
  EXPECT_THAT(all, HasSubstr("(erased)"));
  kitchen.at("2028-05-03T09:00+01:00");
  EXPECT_EQ(line("door").state, KeptState::may_go) << "then the newest too";
}

TEST_F(OldWordsOf, RecordsThatWereCorrectedGoWithEveryNoteOfThem) {
  const auto note = looked("2026-05-01T09:00+01:00", "yes", "a Gasket that fits");
  const auto body = kitchen.open(true).store().entries(note, note).front().body;
  kitchen.done([&](Session& s) { return void_note(s, note, "Quincey stood elsewhere"); });
  kitchen.at("2028-05-02T09:00+01:00");
  looked("2028-05-02T09:00+01:00", "yes", "a Hinge that holds");
  EXPECT_EQ(line("door").words_may_go, 1u) << "taken back, and still told by the log";
  ASSERT_TRUE(erase(1).has_value());
  EXPECT_FALSE(in_file("a Gasket that fits"));
  EXPECT_FALSE(in_file("Quincey"));
  EXPECT_EQ(complaints(), Strings{});
}

TEST_F(OldWordsOf, RecordsOfSomethingNotAsItShouldBeStayUntilSomethingAnswers) {
  const auto wrong = looked("2026-05-01T09:00+01:00", "no", "a Gasket that leaks");
  kitchen.at("2028-05-02T09:00+01:00");
  EXPECT_EQ(line("door").state, KeptState::held);
  EXPECT_THAT(line("door").held_by, testing::ElementsAre(fmt::format("nothing answers yet for what note {} tells", wrong)));
  EXPECT_EQ(may_go(), 0u);
  looked("2028-05-02T09:00+01:00", "yes", "a new Gasket");
  EXPECT_EQ(may_go(), 1u);
  ASSERT_TRUE(erase(1).has_value());
  for (const auto& record : records_not_fine(kitchen.open(true))) EXPECT_NE(record.answered, "") << "erasing opens nothing again";
}

TEST_F(OldWordsOf, RecordsWhoseSealedAnswerIsGoneAreNotKnownAndNeverOpenAgain) {
  kitchen.done([](Session& s) { return take_over_sorts(s, load_regular_sorts(shipped), {"fit-to-work"}, {}); });
  kitchen.done([](Session& s) { return record_regular(s, {"fit-to-work", {{"fit", "yes"}}, {}, ""}); });
  kitchen.at("2028-05-02T09:00+01:00");
  ASSERT_EQ(may_go(), 1u);
  ASSERT_TRUE(erase(1).has_value());
  const Session session = kitchen.open(true);
  const auto wrong = records_not_fine(session);
  ASSERT_EQ(wrong.size(), 1u);
  EXPECT_TRUE(wrong.front().not_known);
  EXPECT_THAT(wrong.front().answered, HasSubstr("its words were erased on 2 May 2028, note "));
  const auto found =
      inspect(session, {parse_date("2026-05-01"), parse_date("2026-05-01")}, {session.now(), session.offset_at(session.now())});
  ASSERT_TRUE(found.has_value());
  const auto records = std::find_if(found->tables.begin(), found->tables.end(), [](const auto& t) { return t.name == "regular-records"; });
  const auto at = static_cast<std::size_t>(std::find(records->headings.begin(), records->headings.end(), "as_it_should_be") -
                                           records->headings.begin());
  EXPECT_EQ(text_of(records->rows.front().at(at)), "not known");
}

TEST_F(OldWordsOf, AnythingStayWhileSomeMatterIsOpen) {
  leaves();
  looked("2026-05-01T09:00+01:00", "yes", "a Gasket that fits");
  kitchen.at("2028-05-02T09:00+01:00");
  EXPECT_EQ(may_go(), 2u);
  kitchen.done([](Session& s) { return tell_went_wrong(s, {{"fridge"}, "person", "", "it was warm", ""}); });
  EXPECT_EQ(may_go(), 0u);
  for (const char* thing : {"ben", "door"}) {
    EXPECT_EQ(line(thing).state, KeptState::held) << thing;
    EXPECT_EQ(line(thing).held_by, Strings{"trouble-1 is open"});
  }
  erase_refused(2);
  kitchen.done([](Session& s) { return put_right(s, {"trouble-1", "used", "the door", "a seal", ""}); });
  EXPECT_EQ(may_go(), 2u);
  const auto both = erase(2);
  ASSERT_TRUE(both.has_value());
  EXPECT_EQ(both->booked.sequences.size(), 2u) << "a note for each, in one append";
  EXPECT_EQ(complaints(), Strings{});
}

TEST_F(OldWordsOf, RecordsGoWithThePapersOfAPeriodThatTellThem) {
  looked("2026-05-01T09:00+01:00", "yes", "a Gasket that fits");
  const auto tells = inspection("2026-05-01", "2026-05-01");
  kitchen.at("2026-06-20T09:00+01:00");
  const auto later = inspection("2026-06-10", "2026-06-20");
  kitchen.at("2028-05-02T09:00+01:00");
  const auto erased = erase(1);
  ASSERT_TRUE(erased.has_value());
  EXPECT_EQ(erased->erased.front().papers.size(), 1u);
  const Session session = kitchen.open(true);
  for (const auto& paper : tells) EXPECT_FALSE(session.store().paper(sha256(paper.bytes)).has_value()) << paper.form;
  for (const auto& paper : later) EXPECT_TRUE(session.store().paper(sha256(paper.bytes)).has_value()) << paper.form;
  EXPECT_EQ(complaints(), Strings{});
}

TEST_F(OldWordsOf, UnderAKeyAreErasedOnce) {
  leaves();
  kitchen.at("2028-05-02T09:00+01:00");
  kitchen.key = "once a year";
  const auto once = erase(1);
  const auto again = erase(1);
  ASSERT_TRUE(once && again);
  EXPECT_TRUE(again->booked.already);
  EXPECT_EQ(again->booked.sequences.front(), once->booked.sequences.front());
}

}  // namespace
}  // namespace tierproof
