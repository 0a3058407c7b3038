#include "tierproof/app/permissions.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "app/app_for_tests.h"
#include "tierproof/app/adopting.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/precautions.h"
#include "tierproof/app/recalling.h"

namespace tierproof {
namespace {

/// Every kind of note that the program knows, as the source lists them.
std::vector<std::string> kinds_that_are_booked() {
  const std::string text = load_file(TIERPROOF_SOURCE_DIR "/include/tierproof/kitchen/bodies.h");
  std::vector<std::string> kinds;
  for (std::size_t at = 0; (at = text.find("\nTIERPROOF_KIND(", at)) != std::string::npos; ++at) {
    const std::size_t first = text.find('"', at) + 1;
    kinds.push_back(text.substr(first, text.find('"', first) - first));
  }
  return kinds;
}

/// A kitchen where ada is the owner and ben a helper; ben records from here on.
class HelpersKitchen : public TestKitchen {
 public:
  HelpersKitchen() {
    done([](Session& s) { return add_person(s, "ben", "Ben Sample", "helper"); });
    person = "ben";
  }
  /// What `act` is told when it is not permitted; empty, and a failure, when it is.
  template <class Act>
  std::string not_permitted(const Act& act) {
    Session session = open();
    const auto before = session.head();
    std::string told;
    try {
      const auto done = act(session);
      ADD_FAILURE() << "nobody minded" << (done ? "" : ": " + describe(done.error().front()));
    } catch (const NotPermitted& refused) {
      EXPECT_EQ(refused.exit_status(), exit_status::not_permitted);
      EXPECT_EQ(describe(refused.why()), refused.what());
      told = refused.what();
    }
    EXPECT_EQ(open(true).head(), before) << "nothing is booked";
    return told;
  }
  template <class Act>
  Booked by_ada(const Act& act) {
    person = "ada";
    const Booked booked = done(act);
    person = "ben";
    return booked;
  }
};

Draft draft_of(const std::string& kind, bool changes) {
  Draft draft;
  draft.kind = kind;
  draft.subject = "thing";
  draft.body = Json{Json::Object{}};
  if (changes) draft.supersedes = 1;
  return draft;
}

// 1. The table.

TEST(Permissions, HaveARowForEveryKindOfNoteAndNoOther) {
  std::vector<std::string> rows;
  for (const auto& row : kind_permissions()) {
    rows.emplace_back(row.kind);
    EXPECT_NE(row.books, Authority::officer) << row.kind;
    EXPECT_NE(row.books, Authority::sensor) << row.kind;
    EXPECT_TRUE(row.changes == Authority::owner || row.books == Authority::helper)
        << row.kind << ": what only an owner books, only an owner changes";
  }
  auto kinds = kinds_that_are_booked();
  EXPECT_GT(kinds.size(), 50u);
  std::sort(rows.begin(), rows.end());
  std::sort(kinds.begin(), kinds.end());
  EXPECT_EQ(rows, kinds) << "say in src/app/permissions.cpp who may book it";
  EXPECT_THROW(permission_of("invented/1"), Fault);
}

TEST(Permissions, LeaveToAnOwnerWhatOthersGoByAndWhatLiftsAStop) {
  const std::set<std::string> books{"kitchen/1", "person/1",     "regular/1", "recall-closed/1",  "plan/1",    "plan-review/1",
                                    "adopted/1", "validation/1", "keeping/1", "kit-validation/1", "erasure/1", "rule-confirmed/1"};
  std::set<std::string> changes{"probe/1",      "accepted/1",    "release/1",   "hand-over/1", "paper/1", "precaution/1",
                                "withdrawal/1", "kit-changed/1", "deviation/1", "complaint/1", "recall/1"};
  changes.insert(books.begin(), books.end());
  HelpersKitchen kitchen;
  const Session session = kitchen.open(true);
  for (const auto& kind : kinds_that_are_booked()) {
    const auto permitted = [&](bool changing) {
      // What these may say decides as well: see below.
      if (!changing && (kind == "release/1" || kind == "precaution/1")) return true;
      if (changing && kind == "allergy/1") return true;
      try {
        require_may_book(session, {draft_of(kind, changing)}, {});
        return true;
      } catch (const NotPermitted&) {
        return false;
      }
    };
    EXPECT_EQ(!permitted(false), books.contains(kind)) << kind;
    EXPECT_EQ(!permitted(true), changes.contains(kind)) << kind << ", corrected";
  }
}

TEST(Permissions, LetAnOwnerBookEveryKind) {
  HelpersKitchen kitchen;
  kitchen.person = "ada";
  const Session session = kitchen.open(true);
  for (const auto& kind : kinds_that_are_booked()) {
    EXPECT_NO_THROW(require_may_book(session, {draft_of(kind, false), draft_of(kind, true)}, {})) << kind;
  }
}

TEST(Permissions, AreAskedOfEveryNoteOfAnAppend) {
  HelpersKitchen kitchen;
  const Session session = kitchen.open(true);
  EXPECT_NO_THROW(require_may_book(session, {draft_of("lot/1", false), draft_of("stay/1", false)}, {}));
  EXPECT_THROW(require_may_book(session, {draft_of("lot/1", false), draft_of("person/1", false)}, {}), NotPermitted);
}

TEST(Permissions, LetNobodyBookAsSomebodyWhoIsNotKnown) {
  HelpersKitchen kitchen;
  for (const char* who : {"", "nobody", "ad"}) {
    kitchen.person = who;
    const Session session = kitchen.open(true);
    EXPECT_EQ(authority_of(session), std::nullopt);
    EXPECT_THROW(require_may_book(session, {draft_of("lot/1", false)}, {}), NotPermitted) << who;
    EXPECT_THROW(require_authority(session, Deed::let_in_device), NotPermitted) << who;
    Draft missed = draft_of("missed/1", false);
    missed.how = Arrival::scheduled;
    EXPECT_NO_THROW(require_may_book(session, {missed}, {})) << "what follows from the records and the day needs nobody";
  }
}

TEST(Permissions, OfDeedsAreAnOwners) {
  HelpersKitchen kitchen;
  const Session bens = kitchen.open(true);
  kitchen.person = "ada";
  const Session adas = kitchen.open(true);
  std::set<std::string> told;
  for (const Deed deed : {Deed::release_against, Deed::lessen_allergy, Deed::spare_precaution, Deed::correct_two_point, Deed::let_in_device,
                          Deed::shut_out_device, Deed::set_pin_of_another, Deed::unlock_person, Deed::add_sensor, Deed::revoke_sensor,
                          Deed::open_for_officer, Deed::see_the_door}) {
    EXPECT_NO_THROW(require_authority(adas, deed));
    try {
      require_authority(bens, deed);
      ADD_FAILURE();
    } catch (const NotPermitted& refused) {
      EXPECT_THAT(refused.what(), HasSubstr("ben is a helper; let ada do it"));
      EXPECT_TRUE(told.insert(refused.what()).second) << refused.what();
    }
  }
}

// 2. What a helper does.

TEST(AHelper, DoesTheDaysWorkFromThePackToTheCakeThatLeaves) {
  HelpersKitchen kitchen;
  EXPECT_EQ(kitchen.pack("flour", "2026-06-30"), "pack-6");
  kitchen.done([](Session& s) { return clean(s, {"whisk", "washed, looked clean", "", {}, "", ""}); });
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.put_in(icing, "fridge");
  kitchen.done([](Session& s) { return check_probe(s, {"fork", "ice", Degrees{0, Scale::celsius}, ""}); });
  kitchen.readings("logger", "fridge", "2026-05-01T07:00+01:00", "2026-05-01T08:00+01:00", "4.0");
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  EXPECT_EQ(release_of(kitchen, cake), "");
  EXPECT_EQ(hand_over_of(kitchen, cake), "");
  const State state = kitchen.open(true).state();
  EXPECT_EQ(state.release(CakeId{cake})->person, PersonId{"ben"});
}

TEST(AHelper, TellsWhatWentWrongAndSeesToIt) {
  HelpersKitchen kitchen;
  const auto wrong = kitchen.done([](Session& s) { return tell_went_wrong(s, {{"fridge"}, "person", "", "the door stood open", ""}); });
  kitchen.done([&](Session& s) { return put_right(s, {wrong.subjects.front(), "no food touched", "not latched", "latch mended", ""}); });
  kitchen.done([](Session& s) { return withdraw(s, "pack-1", "the mill rang"); });
  kitchen.done([](Session& s) { return begin_recall(s, {{"pack-1"}}, "the mill rang", ""); });
}

TEST(AHelper, CorrectsAndTakesBackTheirOwnWork) {
  HelpersKitchen kitchen;
  kitchen.pack("flour", "2026-06-30");
  const std::uint64_t lot = kitchen.open(true).state().lots.at(LotId{"pack-6"}).sequence;
  const auto corrected = correct_note(kitchen, lot, {{"code", Json{"B72"}}});
  kitchen.done([&](Session& s) { return void_note(s, corrected.sequences.front(), "typed twice"); });
}

// 3. What a helper leaves to an owner.

TEST(AHelper, DoesNotReleaseAgainstAFinding) {
  HelpersKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.put_in(icing, "fridge");
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  kitchen.at("2026-05-01T12:00+01:00");  // and nobody read the fridge since
  ASSERT_THAT(release_of(kitchen, cake), HasSubstr("cold-hold"));
  const std::vector<AgainstReason> reason{{"cold-hold", "the fridge was shut all the time"}};
  const auto told = kitchen.not_permitted([&](Session& s) { return release_cake(s, cake, reason); });
  EXPECT_EQ(told, "only an owner may release a cake against what stops it; ben is a helper; let ada do it");
  kitchen.person = "ada";
  EXPECT_EQ(release_of(kitchen, cake, reason), "");
}

TEST(AHelper, AddsToAnAllergyAnswerAndTakesNothingBack) {
  struct Row {
    const char* before;
    std::vector<std::string> named;
    const char* after;
    std::vector<std::string> then;
    bool permitted;
    const char* why;
  };
  const Row rows[] = {
      {"none", {}, "named", {"milk"}, true, "the customer rang: it concerns more now"},
      {"not asked", {}, "none", {}, true, "the question was asked at last"},
      {"named", {"milk"}, "named", {"milk", "eggs"}, true, "one more"},
      {"named", {"milk", "eggs"}, "named", {"eggs"}, false, "milk is taken back"},
      {"named", {"milk"}, "named", {"eggs"}, false, "another one instead"},
      {"named", {"milk"}, "none", {}, false, "all of it is taken back"},
      {"named", {"milk"}, "not asked", {}, false, "as if nobody had asked"},
  };
  for (const auto& row : rows) {
    HelpersKitchen kitchen;
    const std::string cake = kitchen
                                 .done([](Session& s) {
                                   return order_cake(s, {"Plain cake", parse_date("2026-05-02"), "", "before it was chosen", "the maker",
                                                         "face to face", 1, 900});
                                 })
                                 .subjects.front();
    kitchen.done([&](Session& s) { return answer_allergy(s, {cake, row.before, row.named, "the customer", "", ""}); });
    const auto again = [&](Session& s) { return answer_allergy(s, {cake, row.after, row.then, "the customer", "", "they rang"}); };
    if (row.permitted) {
      kitchen.done(again);
    } else {
      EXPECT_THAT(kitchen.not_permitted(again), HasSubstr("only an owner may take back an allergy that a customer named")) << row.why;
      kitchen.by_ada(again);
    }
    const auto booked = kitchen.open(true).state().answer(CakeId{cake})->sequence;
    kitchen.not_permitted([&](Session& s) { return void_note(s, booked, "no answer at all"); });
  }
}

TEST(AHelper, TakesNoStopBack) {
  HelpersKitchen kitchen;
  const auto take_back = [&](const Booked& booked) {
    const auto told = kitchen.not_permitted([&](Session& s) { return void_note(s, booked.sequences.front(), "it was nothing"); });
    EXPECT_THAT(told, HasSubstr("only an owner may correct or take back"));
    EXPECT_THAT(told, HasSubstr("let ada do it"));
    kitchen.by_ada([&](Session& s) { return void_note(s, booked.sequences.front(), "it was nothing"); });
  };
  take_back(kitchen.done([](Session& s) { return withdraw(s, "pack-1", "the mill rang"); }));
  take_back(kitchen.done([](Session& s) { return tell_went_wrong(s, {{"fridge"}, "person", "", "the door stood open", ""}); }));
  take_back(kitchen.done([](Session& s) {
    return decide_precaution(s, {"nuts:hazelnut", "kitchen", false, "hazelnuts are ground in the same room"});
  }));
  const std::string cake = kitchen.cake();
  const auto answer = kitchen.open(true).state().answer(CakeId{cake})->sequence;
  EXPECT_GT(answer, 0u);
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"milk"}, "the customer", "", "they rang"}); });
  take_back(kitchen.done([&](Session& s) { return accept_in_writing(s, cake, {"milk"}, "a message of today"); }));
}

TEST(AHelper, DecidesThatMayContainIsToldAndNotThatItIsNot) {
  HelpersKitchen kitchen;
  const auto told = kitchen.not_permitted([](Session& s) {
    return decide_precaution(s, {"nuts:hazelnut", "kitchen", true, "there are none in the house"});
  });
  EXPECT_THAT(told, HasSubstr("decide that \"may contain\" is not needed"));
}

TEST(AHelper, SettlesNothingThatOthersGoBy) {
  HelpersKitchen kitchen;
  const auto refused = [&](const char* what, const auto& act) { EXPECT_THAT(kitchen.not_permitted(act), HasSubstr(what)); };
  refused("record \"person of the kitchen\"", [](Session& s) { return add_person(s, "eve", "Eve Sample", "owner"); });
  refused("\"person of the kitchen\"", [](Session& s) { return person_left(s, "ada", {}); });
  refused("\"how it keeps, measured or advised\"", [](Session& s) {
    return record_measured(s, {"icing", "0.8", "0.01", "", "", "2026-05-01", "dew point", "a laboratory", ""});
  });
  const auto body = corrected_body(kitchen, 1, {{"altitude_m", Json{2000}}});
  refused("\"particulars of the kitchen\"", [&](Session& s) { return correct(s, 1, {"new.json", body}, "we moved"); });
  const auto fork = kitchen.open(true).state().probes.at(ProbeId{"fork"}).sequence;
  const auto exact = corrected_body(kitchen, fork, {{"accuracy_hundredths", Json{1}}});
  refused("correct or take back \"thermometer\"", [&](Session& s) { return correct(s, fork, {"new.json", exact}, "it is exact"); });
  refused("\"recall closed\"", [&](Session& s) {
    s.book({draft_of("recall-closed/1", false)});
    return Result<Booked>{Booked{}};
  });
}

TEST(AHelper, MakesNobodyAnOwner) {
  HelpersKitchen kitchen;
  const auto ben = kitchen.open(true).state().people.at(PersonId{"ben"}).sequence;
  const auto body = corrected_body(kitchen, ben, {{"role", Json{"owner"}}});
  kitchen.not_permitted([&](Session& s) { return correct(s, ben, {"new.json", body}, "they promoted me"); });
  kitchen.by_ada([&](Session& s) { return correct(s, ben, {"new.json", body}, "they own half of it"); });
  EXPECT_EQ(authority_of(kitchen.open(true)), Authority::owner);
}

// 4. Whose role counts.

TEST(Authority, IsThatOfTheDayAndOldNotesAreNotJudgedAgain) {
  HelpersKitchen kitchen;
  kitchen.by_ada([](Session& s) { return add_person(s, "eve", "Eve Sample", "owner"); });
  const auto ada = kitchen.open(true).state().people.at(PersonId{"ada"}).sequence;
  const auto body = corrected_body(kitchen, ada, {{"role", Json{"helper"}}});
  kitchen.by_ada([&](Session& s) { return correct(s, ada, {"new.json", body}, "she wants less of it"); });
  kitchen.person = "ada";
  EXPECT_EQ(authority_of(kitchen.open(true)), Authority::helper);
  EXPECT_THAT(kitchen.not_permitted([](Session& s) { return add_person(s, "fay", "Fay Sample", "helper"); }),
              HasSubstr("ada is a helper; let eve do it"));
  EXPECT_TRUE(kitchen.open(true).store().verify(std::nullopt).complaints.empty());
  EXPECT_TRUE(kitchen.open(true).state().people.contains(PersonId{"ben"})) << "whom she took on when she was one";
}

TEST(Authority, OfAKitchenWithoutAWorkingOwnerIsEverybodysWhoWorksThere) {
  HelpersKitchen kitchen;
  kitchen.by_ada([](Session& s) { return person_left(s, "ada", parse_date("2026-05-01")); });
  EXPECT_EQ(authority_of(kitchen.open(true)), Authority::helper) << "it is still her last day";
  kitchen.at("2026-05-02T08:00+01:00");
  EXPECT_EQ(authority_of(kitchen.open(true)), Authority::owner) << "nobody is locked out of their own records";
  kitchen.done([](Session& s) { return add_person(s, "eve", "Eve Sample", "owner"); });
  EXPECT_EQ(authority_of(kitchen.open(true)), Authority::helper) << "and there is an owner again";
  kitchen.person = "ada";
  EXPECT_EQ(authority_of(kitchen.open(true)), std::nullopt);
}

TEST(Authority, ToCorrectATwoPointCheckIsAnOwnersToo) {
  HelpersKitchen kitchen;
  EXPECT_FALSE(may(Authority::helper, Deed::correct_two_point));
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return check_probe(s, {"fork", "ice", Degrees{0, Scale::celsius}, "", {}, true});
  }),
              HasSubstr("is for an owner to choose"));
}

// 5. Officers and sensors.

TEST(AnOfficer, BooksNothing) {
  HelpersKitchen kitchen;
  Entrance entrance = kitchen.entrance();
  entrance.person = "ada";  // whatever else is said
  entrance.reads_only = true;
  Session session{entrance, rule_packs(), open_sqlite(entrance.kitchen_file, false)};
  EXPECT_EQ(authority_of(session), Authority::officer);
  try {
    clean(session, {"whisk", "washed, looked clean", "", {}, "", ""});
    ADD_FAILURE();
  } catch (const NotPermitted& refused) {
    EXPECT_THAT(refused.what(), HasSubstr("only reads"));
  }
  for (const auto& kind : kinds_that_are_booked()) {
    Draft draft = draft_of(kind, false);
    EXPECT_THROW(require_may_book(session, {draft}, {}), NotPermitted) << kind;
    draft.how = Arrival::scheduled;
    EXPECT_THROW(require_may_book(session, {draft}, {}), NotPermitted) << kind;
  }
  EXPECT_THROW(require_authority(session, Deed::let_in_device), NotPermitted);
}

TEST(ASensor, BooksTheReadingsOfItsThermometerAndNothingElse) {
  TestKitchen kitchen;
  Entrance entrance = kitchen.entrance();
  entrance.person.clear();
  entrance.device = "sensor: fridge";
  entrance.sensor_of = "logger";
  Session session{entrance, rule_packs(), open_sqlite(entrance.kitchen_file, false)};
  EXPECT_EQ(authority_of(session), Authority::sensor);
  const auto booked = import_csv(session, "logger", "fridge", "chilled", "2026-05-01T07:00+01:00,4.0\n");
  ASSERT_TRUE(booked.has_value()) << describe(booked.error().front());
  const auto& block = session.state().readings.back();
  EXPECT_EQ(block.value.probe, ProbeId{"logger"});
  EXPECT_EQ(block.person, PersonId{""}) << "nobody says so";
  EXPECT_THROW(import_csv(session, "fork", "fridge", "chilled", "2026-05-01T07:00+01:00,4.0\n"), NotPermitted) << "another thermometer";
  EXPECT_THROW(clean(session, {"whisk", "washed, looked clean", "", {}, "", ""}), NotPermitted);
  EXPECT_THROW(void_note(session, booked->sequences.front(), "it was wrong"), NotPermitted) << "it takes nothing back";
  for (const auto& kind : kinds_that_are_booked())
    EXPECT_THROW(require_may_book(session, {draft_of(kind, false)}, {}), NotPermitted) << kind;
  EXPECT_THROW(require_authority(session, Deed::add_sensor), NotPermitted);
}

}  // namespace
}  // namespace tierproof
