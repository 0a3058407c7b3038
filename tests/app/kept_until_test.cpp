// Until when everything is kept, what holds it longer, and what goes of customers at once.
#include "tierproof/app/kept_until.h"

#include <fstream>

#include "app/album_for_tests.h"
#include "app/app_for_tests.h"
#include "tierproof/app/attaching.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/recalling.h"
#include "tierproof/app/regular.h"

namespace tierproof {
namespace {

/// Two cakes of one sponge for 2 May 2026, handed over on the 1st; the sponge keeps until 5 May, so their customers until 4 June.
class KeptUntil : public testing::Test {
 public:
  KeptUntil() {
    sponge = kitchen.make("sponge", grams(270));
    first = delivered("Cora Example");
    second = delivered("Dora Example");
  }
  std::string ordered(const std::string& customer) {
    Ordering ordering{"Plain cake", parse_date("2026-05-02"), customer, "before it was chosen", "the maker", "face to face", 1, 900};
    const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
    kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "none", {}, customer, "", ""}); });
    return cake;
  }
  std::string delivered(const std::string& customer) {
    const std::string cake = ordered(customer);
    kitchen.tier(cake, "only", {{sponge, grams(100)}});
    EXPECT_EQ(release_of(kitchen, cake), "");
    EXPECT_EQ(hand_over_of(kitchen, cake), "");
    return cake;
  }
  KeptView view(const char* on = nullptr) {
    const Session session = kitchen.open(true);
    auto kept = kept_until(session, on == nullptr ? session.today() : *parse_date(on));
    EXPECT_TRUE(kept.has_value());
    return kept ? *kept : KeptView{};
  }
  KeptLine line(const std::string& kind, const std::string& thing, const char* on = nullptr) {
    for (const auto& one : view(on).lines) {
      if (one.kind == kind && one.thing == thing) return one;
    }
    ADD_FAILURE() << "no line for " << kind << " of " << thing;
    return {};
  }
  KeptState customer(const std::string& cake, const char* on = nullptr) { return line("personal data", cake, on).state; }
  Result<ErasedAll> erase_all(std::size_t confirmed) {
    Session session = kitchen.open();
    return erase_old_customers(session, confirmed);
  }
  bool is_kept(const std::string& cake) { return kitchen.open(true).state().cakes.at(CakeId{cake}).value.customer.text.has_value(); }
  void trouble(const std::string& about) {
    kitchen.done([&](Session& s) { return tell_went_wrong(s, {{about}, "person", "", "glass broke nearby", ""}); });
  }
  TestKitchen kitchen;
  std::string sponge, first, second;
};

TEST_F(KeptUntil, NamesTheLastDayAndTheRowThatSetsIt) {
  const KeptLine record = line("record", first);
  EXPECT_EQ(record.state, KeptState::must_stay);
  ASSERT_TRUE(record.kept.has_value());
  EXPECT_EQ(record.kept->cited.row, "keep-best-before");
  EXPECT_EQ(record.last, parse_date("2027-05-05")) << format_date(*record.last);
  EXPECT_THAT(record.why, HasSubstr("counted from its best before on 5 May 2026 [keep-best-before: retaining records]"));
  const KeptLine customer = line("personal data", first);
  EXPECT_EQ(customer.last, parse_date("2026-06-04"));
  EXPECT_EQ(customer.kept->cited.row, "keep-personal-best-before");
}

TEST_F(KeptUntil, TheLastDayBelongsToTheTime) {
  EXPECT_EQ(customer(first, "2026-06-04"), KeptState::must_stay);
  EXPECT_EQ(customer(first, "2026-06-05"), KeptState::may_go);
  EXPECT_EQ(line("record", first, "2027-05-05").state, KeptState::must_stay);
  EXPECT_EQ(line("record", first, "2027-05-06").state, KeptState::stays) << "its time is over, and no note is deleted";
  // What it says is what erasing does.
  kitchen.at("2026-06-04T23:30+01:00");
  Session session = kitchen.open();
  EXPECT_FALSE(erase_customer(session, {first, "not needed any more"}).has_value());
  EXPECT_FALSE(erase_all(2).has_value());
  kitchen.at("2026-06-05T00:10+01:00");
  EXPECT_EQ(view().customers_that_may_go(), (Strings{first, second}));
  EXPECT_TRUE(erase_all(2).has_value());
}

TEST_F(KeptUntil, ErasesAllThatMayGoAtOnceOrNothing) {
  const std::string later = ordered("Nora Example");
  kitchen.at("2026-06-05T08:00+01:00");
  EXPECT_EQ(view().customers_that_may_go(), (Strings{first, second, later})) << "the third was never made";
  const auto before = kitchen.open(true).head();
  const auto wrong = erase_all(2);
  ASSERT_FALSE(wrong.has_value());
  EXPECT_THAT(describe(wrong.error().front()), HasSubstr("--confirm: 3 customers may go today (cake-1, cake-2, cake-3), not 2"));
  EXPECT_EQ(kitchen.open(true).head(), before);
  EXPECT_TRUE(is_kept(first));
  const auto edges = [&] { return kitchen.judged(first).declared->contains; };
  const auto contains = edges();
  const auto all = erase_all(3);
  ASSERT_TRUE(all.has_value());
  ASSERT_EQ(all->cakes.size(), 3u);
  EXPECT_EQ(all->booked.sequences.size(), 3u) << "a note for each";
  EXPECT_GT(all->cakes[0].erased.texts, 0);
  const Session session = kitchen.open(true);
  ASSERT_EQ(session.state().erasures.size(), 3u);
  for (std::size_t i = 0; i < 3; ++i) {
    const auto& note = session.state().erasures[i];
    EXPECT_EQ(note.value.cake.text(), all->cakes[i].cake);
    EXPECT_EQ(note.value.texts, all->cakes[i].erased.texts);
    EXPECT_EQ(note.value.because, "not needed any more");
    EXPECT_FALSE(is_kept(note.value.cake.text()));
  }
  EXPECT_EQ(session.store().verify(before).complaints, Strings{});
  EXPECT_EQ(edges(), contains) << "what went into it stays";
  EXPECT_TRUE(session.state().batches.contains(BatchId{sponge}));
  EXPECT_EQ(customer(first), KeptState::gone);
  EXPECT_THAT(line("personal data", first).why, HasSubstr("erased on 5 June 2026, note "));
  EXPECT_EQ(line("record", first).state, KeptState::must_stay);
  EXPECT_THAT(describe(erase_all(1).error().front()), HasSubstr("no customer may go today"));
}

TEST_F(KeptUntil, ErasesWhatIsAttachedToTheCakesToo) {
  const std::string picture = kitchen.entrance().kitchen_file + ".png";
  std::ofstream{picture, std::ios::binary} << files_for_tests::png();
  for (const auto& cake : {first, second})
    kitchen.done([&](Session& s) { return attach_files(s, {cake, {picture}, "the order as it was sent"}); });
  kitchen.at("2026-06-05T08:00+01:00");
  const auto all = erase_all(2);
  ASSERT_TRUE(all.has_value());
  EXPECT_EQ(all->cakes[0].erased.files_of_others.size(), 1u) << "the other cake had it too when it was looked at";
  EXPECT_EQ(view().customers_that_may_go(), (Strings{first, second})) << "and so it says, until nothing is left";
  ASSERT_TRUE(erase_all(2).has_value() || erase_all(1).has_value());
  const Session session = kitchen.open(true);
  const auto whole = verify_kitchen(session.store(), kitchen.entrance().kitchen_file, std::nullopt);
  EXPECT_EQ(whole.files_wrong, Strings{});
  EXPECT_EQ(whole.files, 0) << "no file is left";
  EXPECT_EQ(customer(first), KeptState::gone);
  EXPECT_EQ(customer(second), KeptState::gone);
}

TEST_F(KeptUntil, UnderAKeyIsBookedOnce) {
  kitchen.at("2026-06-05T08:00+01:00");
  kitchen.key = "once a month";
  const auto once = erase_all(2);
  const auto again = erase_all(2);
  ASSERT_TRUE(once && again);
  EXPECT_TRUE(again->booked.already);
  EXPECT_EQ(again->booked.sequences.front(), once->booked.sequences.front());
  EXPECT_EQ(kitchen.open(true).state().erasures.size(), 2u);
}

TEST_F(KeptUntil, AnOpenComplaintBeatsEveryDate) {
  kitchen.done([&](Session& s) -> Result<Booked> {
    const auto told = complain(s, {first, "spoiled", "Cora", "it smelled", ""});
    if (!told) return told.error();
    return told->booked;
  });
  kitchen.at("2036-01-01T08:00+00:00");
  const KeptLine held = line("personal data", first);
  EXPECT_EQ(held.state, KeptState::held);
  EXPECT_EQ(held.held_by, Strings{"complaint-1 about cake-1 is open"});
  EXPECT_EQ(line("record", first).state, KeptState::held);
  EXPECT_EQ(customer(second), KeptState::may_go);
  ASSERT_TRUE(erase_all(1).has_value());
  EXPECT_TRUE(is_kept(first));
  EXPECT_FALSE(is_kept(second));
  kitchen.done([&](Session& s) { return settle_complaint(s, "complaint-1", "spoke to her", ""); });
  EXPECT_EQ(customer(first), KeptState::may_go);
}

TEST_F(KeptUntil, SomethingThatWentWrongHoldsWhatItTouchesUntilItIsClosed) {
  kitchen.at("2026-07-01T08:00+01:00");
  trouble("whisk");
  EXPECT_EQ(customer(first), KeptState::may_go) << "the whisk was not used for it";
  trouble(sponge);
  EXPECT_EQ(customer(first), KeptState::held);
  EXPECT_EQ(line("personal data", first).held_by, Strings{"trouble-2 touches cake-1 and is open"});
  Session session = kitchen.open();
  const auto refused = erase_customer(session, {first, "the customer asked"});
  ASSERT_FALSE(refused.has_value());
  EXPECT_THAT(describe(refused.error().front()), HasSubstr("trouble-2 touches cake-1 and is open"));
  EXPECT_FALSE(erase_all(1).has_value());
  kitchen.done([](Session& s) { return put_right(s, {"trouble-2", "used", "it was elsewhere", "a lid", ""}); });
  EXPECT_EQ(customer(first), KeptState::may_go);
}

TEST_F(KeptUntil, ARecallThatIsBegunLaterHoldsAgainWhatIsNotErasedYet) {
  kitchen.at("2026-07-01T08:00+01:00");
  EXPECT_EQ(view().customers_that_may_go(), (Strings{first, second}));
  Session session = kitchen.open();
  ASSERT_TRUE(erase_customer(session, {first, "not needed any more"}).has_value());
  kitchen.done([](Session& s) { return withdraw(s, "pack-1", "stones in the flour"); });
  kitchen.done([](Session& s) { return begin_recall(s, {{"pack-1"}}, "the mill rang", ""); });
  EXPECT_EQ(customer(first), KeptState::gone) << "what is gone does not come back";
  EXPECT_EQ(customer(second), KeptState::held);
  EXPECT_THAT(line("personal data", second).held_by, testing::Contains(HasSubstr("recall-1 reaches cake-2 and is open")));
  EXPECT_FALSE(erase_all(1).has_value());
  EXPECT_TRUE(is_kept(second));
}

TEST_F(KeptUntil, AnExerciseHoldsNothing) {
  kitchen.at("2026-07-01T08:00+01:00");
  RecallAsked asked{{"pack-1"}};
  asked.drill = true;
  kitchen.done([&](Session& s) { return begin_recall(s, asked, "to try it", ""); });
  EXPECT_EQ(view().customers_that_may_go(), (Strings{first, second}));
}

TEST_F(KeptUntil, WaitsForTheDayOfAnOrderThatIsStillHere) {
  const std::string here = ordered("Nora Example");
  EXPECT_EQ(customer(here, "2026-05-02"), KeptState::must_stay);
  EXPECT_EQ(line("personal data", here, "2026-05-02").why, "it has not been handed over");
  EXPECT_EQ(customer(here, "2026-05-03"), KeptState::may_go);
  EXPECT_EQ(line("record", here).state, KeptState::not_known);
}

TEST_F(KeptUntil, OfAnOrderThatWasTakenBackTheCustomerMayGo) {
  const std::string here = ordered("Nora Example");
  const auto note = kitchen.open(true).state().cakes.at(CakeId{here}).sequence;
  kitchen.done([&](Session& s) { return void_note(s, note, "no cake"); });
  EXPECT_EQ(view().customers_that_may_go(), Strings{here});
  EXPECT_TRUE(erase_all(1).has_value());
  EXPECT_EQ(customer(here), KeptState::gone);
}

TEST_F(KeptUntil, AsOfAnEarlierNoteTellsWhatWasOpenThen) {
  kitchen.at("2026-07-01T08:00+01:00");
  trouble(sponge);
  const auto size = kitchen.open(true).head().size;
  kitchen.done([](Session& s) { return put_right(s, {"trouble-1", "used", "it was elsewhere", "a lid", ""}); });
  EXPECT_EQ(customer(first), KeptState::may_go);
  kitchen.as_of = size;
  EXPECT_EQ(customer(first), KeptState::held);
  kitchen.as_of = size - 1;
  EXPECT_EQ(customer(first, "2026-07-01"), KeptState::may_go);
  EXPECT_EQ(customer(first, "2026-06-04"), KeptState::must_stay);
}

TEST_F(KeptUntil, TellsTheOtherKindsToo) {
  kitchen.done([](Session& s) {
    return add_sorts(s, {{"look.json", R"({"id": "look", "name": "Look", "fields": [
      {"id": "ok", "words": "All well?", "type": "yes or no", "needed": true, "fine": "yes"}],
      "due": {"every": "working day"}, "source": "choice"})"}});
  });
  kitchen.at("2028-02-29T08:00+00:00");
  kitchen.done([](Session& s) { return record_regular(s, {"look", {{"ok", "yes"}}}); });
  kitchen.at("2028-03-01T08:00+00:00");
  kitchen.done([](Session& s) { return record_regular(s, {"look", {{"ok", "yes"}}}); });
  const KeptLine look = line("regular records", "look", "2030-03-01");
  EXPECT_EQ(look.last, parse_date("2030-03-01")) << "the newest counts";
  EXPECT_EQ(look.state, KeptState::must_stay);
  EXPECT_EQ(look.notes, 2u);
  EXPECT_EQ(look.past, 1u) << "that of 29 February 2028 was kept until 28 February 2030";
  EXPECT_EQ(line("regular records", "look", "2030-03-02").state, KeptState::stays);
  EXPECT_EQ(line("regular records", "look", "2030-02-28").past, 0u);
  const KeptLine shop = line("supplier evidence", "shop");
  EXPECT_EQ(shop.kept->cited.row, "keep-supplier");
  EXPECT_EQ(shop.kept->from.event, "last delivery");
  EXPECT_EQ(line("people who work here", "ada").state, KeptState::not_known);
  EXPECT_EQ(line("people who work here", "ada").why, "nothing says that they left");
}

TEST_F(KeptUntil, CountsAPersonFromTheDayTheyLeft) {
  kitchen.done([](Session& s) { return add_person(s, "ben", "Ben Sample", "helper"); });
  EXPECT_THAT(kitchen.refused([](Session& s) { return person_left(s, "ben", parse_date("2026-05-02")); }), HasSubstr("has not come yet"));
  kitchen.done([](Session& s) { return person_left(s, "ben", {}); });
  const KeptLine ben = line("people who work here", "ben");
  EXPECT_EQ(ben.last, parse_date("2028-05-01"));
  EXPECT_EQ(ben.kept->cited.row, "keep-people-left");
  EXPECT_TRUE(ben.name.empty()) << "by the short name alone";
  kitchen.at("2028-05-01T08:00+01:00");
  EXPECT_EQ(line("people who work here", "ben").state, KeptState::must_stay);
  EXPECT_EQ(line("people who work here", "ben", "2028-05-02").state, KeptState::may_go);
  EXPECT_THAT(kitchen.refused([](Session& s) { return person_left(s, "ben", parse_date("2026-05-01")); }),
              HasSubstr("left on 1 May 2026 by note"));
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.state().people.at(PersonId{"ben"}).value.name.text, "Ben Sample") << "the name is kept";
  EXPECT_EQ(session.store().verify(std::nullopt).complaints, Strings{});
}

TEST_F(KeptUntil, WhoLeftRecordsNothingFromTheDayAfterOn) {
  kitchen.done([](Session& s) { return add_person(s, "ben", "Ben Sample", "helper"); });
  kitchen.done([](Session& s) { return person_left(s, "ben", {}); });
  kitchen.person = "ben";
  kitchen.done([](Session& s) { return clean(s, {"bowl", "wiped", "", {}, "", ""}); });
  kitchen.at("2026-05-02T08:00+01:00");
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return clean(s, {"bowl", "wiped", "", {}, "", ""});
  }),
              HasSubstr("ben works here no more since 1 May 2026"));
  kitchen.person = "ada";
  EXPECT_THAT(kitchen.refused([](Session& s) { return person_left(s, "ada", {}); }), HasSubstr("is the only person"))
      << "ben cannot record any more";
}

TEST_F(KeptUntil, TheOnlyPersonCannotLeave) {
  EXPECT_THAT(kitchen.refused([](Session& s) { return person_left(s, "ada", {}); }), HasSubstr("is the only person"));
}

}  // namespace
}  // namespace tierproof
