#include "app/app_for_tests.h"
#include "app/checking.h"
#include "tierproof/app/tracing.h"

namespace tierproof {
namespace {

TEST(Correction, IsOfTheNewestNoteOfItsChainAndChangesSomething) {
  TestKitchen kitchen;
  const std::uint64_t note = kitchen.open(true).state().places.at(PlaceId{"fridge"}).sequence;
  const std::string same = corrected_body(kitchen, note, {});
  EXPECT_THAT(kitchen.refused([&](Session& s) { return correct(s, note, {"new.json", same}, "why"); }), HasSubstr("says the same"));
  EXPECT_THAT(kitchen.refused([&](Session& s) {
    return correct(s, note, {"new.json", R"({"name": "larder", "kind": "attic"})"}, "");
  }),
              testing::AllOf(HasSubstr("--why"), HasSubstr("kind")));
  const std::uint64_t second = correct_note(kitchen, note, {{"name", Json{"cake fridge"}}}).sequences.front();
  EXPECT_THAT(correction_refused(kitchen, note, {{"name", Json{"third"}}}), HasSubstr(fmt::format("correct note {}", second)));
  const auto gone = kitchen.done([&](Session& s) { return void_note(s, second, "there is no such fridge"); });
  EXPECT_THAT(kitchen.refused([&](Session& s) { return void_note(s, gone.sequences.front(), "again"); }), HasSubstr("is void"));
  EXPECT_THAT(kitchen.refused([&](Session& s) { return void_note(s, 9999, "why"); }), HasSubstr("no note 9999"));
}

TEST(Correction, IsNeverOfTheKitchenItselfNorOfADecisionNorOfReadings) {
  TestKitchen kitchen;
  EXPECT_FALSE(kitchen.refused([](Session& s) { return void_note(s, 1, "why"); }).empty());
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(270)}});
  EXPECT_EQ(release_of(kitchen, cake), "");
  const std::uint64_t release = kitchen.open(true).state().releases.front().sequence;
  EXPECT_THAT(kitchen.refused([&](Session& s) { return void_note(s, release, "why"); }), HasSubstr("decision"));
  kitchen.done([](Session& s) { return type_reading(s, {"logger", Degrees{400, Scale::celsius}, "fridge", "", ""}); });
  const std::uint64_t block = kitchen.open(true).state().readings.front().sequence;
  EXPECT_THAT(correction_refused(kitchen, block, {{"count", Json{2}}}), HasSubstr("sealed as it came"));
}

TEST(Correction, OfABatchChangesTheCakeAndTheRecordsStillSayWhatTheySaid) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  const std::uint64_t before = kitchen.open(true).head().size;
  const auto contains = [&] {
    Strings keys;
    const auto judged = kitchen.judged(cake);
    for (const auto& trace : judged.made->allergens) {
      if (trace.presence == Presence::contains) keys.push_back(trace.allergen);
    }
    return keys;
  };
  EXPECT_EQ(contains(), Strings{"milk"});
  const auto batch = kitchen.open(true).state().batches.at(BatchId{icing});
  Json uses = body_of(batch.value)["uses"];
  uses.array().front()["of"] = Json{"pack-5"};  // almonds
  correct_note(kitchen, batch.sequence, {{"uses", uses}});
  EXPECT_EQ(contains(), Strings{"nuts:almond"});
  kitchen.as_of = before;
  EXPECT_EQ(contains(), Strings{"milk"});
}

TEST(Correction, IntoACircleIsRefused) {
  TestKitchen kitchen;
  kitchen.recipe("cream", R"([{"of": "icing", "recipe": true, "mass": "200 g"}])", "199 g", "bowl", "none", "room");
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cream = kitchen.make("cream", grams(199));
  const auto batch = kitchen.open(true).state().batches.at(BatchId{icing});
  Json uses = body_of(batch.value)["uses"];
  uses.array().front()["of"] = Json{cream};
  uses.array().front()["batch"] = Json{true};
  EXPECT_THAT(correction_refused(kitchen, batch.sequence, {{"uses", uses}}), HasSubstr("batch-1 is made of batch-2 by this"));
}

/// Records that were made elsewhere and taken in may say it all the same.
TEST(Records, ThatRunInACircleStopTheCakeAndEndEverySearch) {
  TestKitchen kitchen;
  kitchen.recipe("cream", R"([{"of": "praline", "recipe": true, "mass": "100 g"}])", "99 g", "bowl", "none", "room");
  const std::string praline = kitchen.make("praline", grams(198));
  const std::string cream = kitchen.make("cream", grams(99));
  const std::string cake = cake_of(kitchen, {{cream, grams(99)}});
  kitchen.done([&](Session& s) {
    const auto batch = s.state().batches.at(BatchId{praline});
    Draft draft;
    draft.kind = KindOf<Batch>::kind;
    draft.subject = praline;
    draft.body = body_of(batch.value);
    draft.body["uses"].array().front()["of"] = Json{cream};
    draft.body["uses"].array().front()["batch"] = Json{true};
    draft.happened = batch.happened;
    draft.offset = batch.offset;
    draft.supersedes = batch.sequence;
    draft.why = sealed_json(s.seal("to see what becomes of it"));
    return Result<Booked>{s.book({draft})};
  });
  EXPECT_EQ(the_finding(kitchen, cake, "allergens-known").stop, Stop::no_override);
  const Session session = kitchen.open(true);
  const ZonedInstant now{session.now(), Offset{60}};
  for (const auto& thing : {praline, cream, cake, std::string{"pack-2"}}) {
    const auto told = trace(session, thing, {}, now);
    ASSERT_TRUE(told.has_value()) << thing;
    EXPECT_FALSE(told->amounts_known) << thing;
  }
}

TEST(AsOf, OnlyReadsAndOnlyWhatThereWas) {
  TestKitchen kitchen;
  kitchen.as_of = 5;
  Session then = kitchen.open();
  EXPECT_EQ(then.state().size, 5u);
  EXPECT_THROW(add_equipment(then, "spoon", "spoon"), Fault);
  for (const std::uint64_t size : {std::uint64_t{0}, std::uint64_t{9999}}) {
    kitchen.as_of = size;
    EXPECT_THROW(kitchen.open(), Fault) << size;
  }
}

TEST(Retry, OfAnyUseCaseUnderOneKeyBooksOnce) {
  TestKitchen kitchen;
  const std::uint64_t before = kitchen.open(true).head().size;
  kitchen.key = "key-1";
  const std::string pack = kitchen.pack("flour", "2026-06-30");
  EXPECT_EQ(kitchen.pack("flour", "2026-06-30"), pack);
  EXPECT_EQ(kitchen.open(true).head().size, before + 1);
  kitchen.key = "key-2";
  EXPECT_NE(kitchen.pack("flour", "2026-06-30"), pack);
}

TEST(TwoDoors, NeverBookUponWhatTheyHaveNotRead) {
  TestKitchen kitchen;
  Session one = kitchen.open();
  Session other = kitchen.open();
  ASSERT_TRUE(add_equipment(one, "spoon", "spoon").has_value());
  EXPECT_THROW(add_equipment(other, "ladle", "ladle"), HeadMoved);
  other.reload();
  EXPECT_TRUE(add_equipment(other, "ladle", "ladle").has_value());
  EXPECT_TRUE(other.store().verify(std::nullopt).complaints.empty());
}

TEST(Person, WhoIsNotRecordedRecordsNothing) {
  TestKitchen kitchen;
  Entrance entrance = kitchen.entrance();
  for (const char* person : {"", "nobody"}) {
    entrance.person = person;
    Session session{entrance, rule_packs(), open_sqlite(entrance.kitchen_file, false)};
    const auto booked = add_equipment(session, "spoon", "spoon");
    ASSERT_FALSE(booked.has_value()) << person;
    EXPECT_EQ(booked.error().front().field, "--by");
  }
}

TEST(Papers, OfADemoSayDemoAndNameNoCustomer) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "Customer Secret", "before it was chosen", "the maker", "face to face", 1, 900};
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "none", {}, "Guest Secret", "It contains wheat and eggs.", ""}); });
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  const Session session = kitchen.open(true);
  const Judgement judged = kitchen.judged(cake);
  const LabelContent label = label_content(session, judged, 1);
  const CakeRecordContent record = record_content(session, judged, "test");
  EXPECT_TRUE(label.demo);
  EXPECT_TRUE(record.demo);
  for (const std::string& text : {write_pretty(json_of(label)), write_pretty(json_of(record))}) {
    EXPECT_THAT(text, Not(HasSubstr("Secret")));
    EXPECT_EQ(claim_in(text, rule_packs()->claim_words()), nullptr) << claim_in(text, rule_packs()->claim_words())->pattern;
  }
}

TEST(Papers, NameEveryAllergenOfTheLawWithAWord) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(270)}});
  const Session session = kitchen.open(true);
  const auto content = record_content(session, kitchen.judged(cake), "test");
  const auto terms = rule_packs()->label_terms("gb", *parse_date("2026-05-01"));
  ASSERT_EQ(content.allergens.size(), terms->allergens.size());
  for (std::size_t i = 0; i < content.allergens.size(); ++i) {
    EXPECT_EQ(content.allergens[i].name, terms->allergens[i].word);
    EXPECT_FALSE(content.allergens[i].word.empty());
    EXPECT_FALSE(content.allergens[i].why.empty()) << content.allergens[i].name;
    if (content.allergens[i].word != "not an ingredient") continue;
    // An absence rests on every pack, and none of them speaks for the others.
    EXPECT_EQ(content.allergens[i].why, "each of its 3 packs says so") << content.allergens[i].name;
  }
}

TEST(Papers, ThatWereNeverIssuedCannotBeReprinted) {
  TestKitchen kitchen;
  const Session session = kitchen.open(true);
  const auto paper = reprint(session, 1);
  ASSERT_FALSE(paper.has_value());
  EXPECT_THAT(describe(paper.error().front()), HasSubstr("is not a paper"));
}

TEST(Voiding, OfACakeThatWasHandedOverIsRefused) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(270)}});
  EXPECT_EQ(release_of(kitchen, cake), "");
  EXPECT_EQ(hand_over_of(kitchen, cake), "");
  const std::uint64_t order = kitchen.open(true).state().cakes.at(CakeId{cake}).sequence;
  EXPECT_THAT(kitchen.refused([&](Session& s) { return void_note(s, order, "not wanted"); }), HasSubstr("was handed over"));
}

TEST(SealedWords, AreKeptInTheUsualFormAndRefusedWhenTheyAreNoText) {
  TestKitchen kitchen;
  const std::string apart = "e\xCC\x81";  // e and a combining accent
  const Ordering ordering{"Plain cake", parse_date("2026-05-02"), apart, "before it was chosen", "the maker", "face to face", 1, 900};
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  EXPECT_EQ(kitchen.open(true).state().cakes.at(CakeId{cake}).value.customer.text, "\xC3\xA9");
  Session session = kitchen.open();
  EXPECT_THROW(session.seal("\xff"), Fault);
}

TEST(PlainName, HoldsNoControlCharacterAndNoBrokenText) {
  EXPECT_EQ(plain_name("fridge box.csv"), "fridge box.csv");
  EXPECT_EQ(plain_name("a\x1b[31m\n.csv"), "a?[31m?.csv");
  EXPECT_EQ(plain_name("x\xff.csv"), "x?.csv");
}

}  // namespace
}  // namespace tierproof
