// What every engine promises, written against the interface alone. A new engine adds a row to `engines()` and changes nothing here.

#include "engines.h"

namespace tierproof {
namespace {

using namespace store_tests;

class RecordStoreContract : public testing::TestWithParam<Engine> {
 protected:
  std::unique_ptr<RecordStore> create() const { return GetParam().create(folder_); }
  std::unique_ptr<RecordStore> open(bool read_only) const { return GetParam().open(folder_, read_only); }

 private:
  Folder folder_;
};

Append a_tree() {
  Append append;
  append.entries.push_back(entry(1, "lot/1", "pack-1", json(R"({"ingredient": "flour", "code": "L77"})")));
  append.entries.push_back(entry(2, "lot/1", "pack-2", json(R"({"ingredient": "sugar", "code": "L77"})")));
  append.entries.push_back(entry(3, "lot/1", "pack-10", json(R"({"ingredient": "salt", "code": "batch-1"})")));
  append.entries.push_back(entry(4, "batch/1", "batch-1", json(R"({"recipe": "sponge", "uses": [{"of": "pack-1"}, {"of": "pack-2"}]})")));
  append.entries.push_back(entry(5, "batch/1", "batch-2", json(R"({"recipe": "crumb", "uses": [{"of": "batch-1"}, {"of": "pack-10"}]})")));
  append.entries.push_back(entry(6, "cake/1", "cake-1", json(R"({"name": "Lemon cake"})")));
  append.entries.push_back(
      entry(7, "tier/1", "cake-1", json(R"({"cake": "cake-1", "parts": [{"batch": "batch-1"}, {"batch": "batch-2"}]})")));
  append.entries.push_back(entry(8, "lot/1", "pack-3", json(R"({"ingredient": "yeast", "code": "Y1"})")));
  return append;
}

std::vector<std::string> names_of(const std::vector<StoredThing>& things) {
  std::vector<std::string> names;
  for (const auto& thing : things) names.push_back((thing.certain ? "" : "? ") + thing.name);
  return names;
}

TEST_P(RecordStoreContract, TellsWhatANameOrACodeMeans) {
  const auto store = create();
  book(*store, a_tree());
  EXPECT_EQ(store->things("cake-1"), (std::vector<StoredThing>{{"cake-1", "Lemon cake"}}));
  EXPECT_EQ(store->things("L77"), (std::vector<StoredThing>{{"pack-1", "flour, code L77"}, {"pack-2", "sugar, code L77"}}));
  EXPECT_EQ(names_of(store->things("batch-1")), std::vector<std::string>{"batch-1"});  // a name before a code
  EXPECT_TRUE(store->things("l77").empty());
  EXPECT_TRUE(store->things("").empty());
  book(*store, only(entry(9, "lot/1", "pack-2", Json{}, 2)));
  EXPECT_EQ(names_of(store->things("L77")), std::vector<std::string>{"pack-1"});
  EXPECT_EQ(store->things("pack-2"), (std::vector<StoredThing>{{"pack-2", ""}}));
}

TEST_P(RecordStoreContract, WalksToEverythingThatAThingWentInto) {
  const auto store = create();
  book(*store, a_tree());
  using Strings = std::vector<std::string>;
  EXPECT_EQ(names_of(store->reached({"pack-1"}, Reach::into)), (Strings{"pack-1", "batch-1", "batch-2", "cake-1"}));
  EXPECT_EQ(names_of(store->reached({"cake-1"}, Reach::from)), (Strings{"pack-1", "pack-2", "pack-10", "batch-1", "batch-2", "cake-1"}));
  EXPECT_EQ(names_of(store->reached({"pack-3"}, Reach::into)), Strings{"pack-3"});
  EXPECT_EQ(names_of(store->reached({"pack-10", "pack-3", "pack-99"}, Reach::into)), (Strings{"pack-3", "pack-10", "batch-2", "cake-1"}));
  EXPECT_TRUE(store->reached({}, Reach::into).empty());
}

TEST_P(RecordStoreContract, CallsPossibleWhatNoCertainWayLeadsTo) {
  const auto store = create();
  book(*store, a_tree());
  book(*store, only(entry(9, "batch/1", "batch-2", Json{}, 5)));  // it may have been made all the same
  using Strings = std::vector<std::string>;
  EXPECT_EQ(names_of(store->reached({"pack-10"}, Reach::into)), (Strings{"pack-10", "? batch-2", "? cake-1"}));
  EXPECT_EQ(names_of(store->reached({"pack-1"}, Reach::into)), (Strings{"pack-1", "batch-1", "? batch-2", "cake-1"}));
  EXPECT_EQ(names_of(store->reached({"cake-1"}, Reach::from)), (Strings{"pack-1", "pack-2", "? pack-10", "batch-1", "batch-2", "cake-1"}));
}

TEST_P(RecordStoreContract, FollowsALoopOnceAndManyWaysOnce) {
  // 20 stacked diamonds have 2^20 ways and 61 things; the last leads back to the first.
  const auto store = create();
  Append append;
  const auto batch = [&](int number, const std::string& uses) {
    const auto sequence = append.entries.size() + 1;
    append.entries.push_back(entry(sequence, "batch/1", fmt::format("batch-{}", number), json(fmt::format(R"({{"uses": [{}]}})", uses))));
  };
  const auto of = [](int number) { return fmt::format(R"({{"of": "batch-{}"}})", number); };
  batch(1, of(61));
  for (int i = 0; i < 20; ++i) {
    batch(3 * i + 2, of(3 * i + 1));
    batch(3 * i + 3, of(3 * i + 1));
    batch(3 * i + 4, of(3 * i + 2) + "," + of(3 * i + 3));
  }
  book(*store, append);
  EXPECT_EQ(store->reached({"batch-1"}, Reach::into).size(), 61u);
  EXPECT_EQ(store->reached({"batch-30"}, Reach::from).size(), 61u);
}

INSTANTIATE_TEST_SUITE_P(Engines, RecordStoreContract, testing::ValuesIn(engines()), [](const auto& row) { return row.param.name; });

Frontier frontier_of(const Append& append) {
  Frontier frontier;
  for (const auto& one : append.entries) frontier.add(leaf_hash(leaf_text(one)));
  return frontier;
}

TEST_P(RecordStoreContract, BeginsWithAnEmptyLogThatHolds) {
  const auto store = create();
  EXPECT_EQ(store->head(), Frontier{}.head());
  EXPECT_EQ(store->head_at(0), Frontier{}.head());
  EXPECT_EQ(store->head_at(1), std::nullopt);
  EXPECT_TRUE(store->entries(1, 10).empty());
  EXPECT_TRUE(store->notes().empty());
  EXPECT_TRUE(store->verify(Frontier{}.head()).complaints.empty());
}

TEST_P(RecordStoreContract, GivesBackWhatWasAppended) {
  const auto store = create();
  const auto morning = a_morning();
  const auto appended = store->append(store->head(), morning);
  ASSERT_TRUE(std::holds_alternative<Head>(appended));
  EXPECT_EQ(std::get<Head>(appended), frontier_of(morning).head());
  EXPECT_EQ(store->head(), frontier_of(morning).head());
  EXPECT_EQ(store->entries(1, 7), morning.entries);
  EXPECT_EQ(store->entries(3, 4), (std::vector<Entry>{morning.entries[2], morning.entries[3]}));
  EXPECT_EQ(store->entries(6, UINT64_MAX).size(), 2u);
  EXPECT_TRUE(store->entries(8, 9).empty());
  EXPECT_TRUE(store->entries(4, 3).empty());
  EXPECT_EQ(store->block(4), a_block().bytes);
  EXPECT_EQ(store->block(5), std::nullopt);
  EXPECT_EQ(store->sealed("w-1"), "Ada Example");
  EXPECT_EQ(store->sealed("w-2"), std::nullopt);
  const auto paper = store->paper(a_paper().digest);
  ASSERT_TRUE(paper.has_value());
  EXPECT_EQ(paper->bytes, a_paper().bytes);
  EXPECT_EQ(paper->media_type, "application/pdf");
  EXPECT_FALSE(store->paper(sha256("another")).has_value());
  EXPECT_EQ(store->booked_under("key-5"), 5u);
  EXPECT_EQ(store->booked_under("key-8"), std::nullopt);
}

TEST_P(RecordStoreContract, KeepsTheHeadOfEverySize) {
  const auto store = create();
  book(*store, a_morning());
  Frontier frontier;
  for (const auto& one : store->entries(1, 7)) {
    frontier.add(leaf_hash(leaf_text(one)));
    EXPECT_EQ(store->head_at(frontier.head().size), frontier.head());
  }
  EXPECT_EQ(store->head_at(8), std::nullopt);
}

TEST_P(RecordStoreContract, AnswersAMovedHeadWithAConflictAndBooksNothing) {
  const auto store = create();
  const auto before = store->head();
  const auto head = book(*store, a_morning());
  const auto appended = store->append(before, only(entry(1, "lot/1", "pack-9", json("{}"))));
  EXPECT_EQ(std::get<AlreadyBooked>(appended).sequence, 1u);  // its client key is key-1
  auto late = entry(1, "lot/1", "pack-9", json("{}"));
  late.client_key = "key of its own";
  const auto conflict = store->append(before, only(late));
  ASSERT_TRUE(std::holds_alternative<Conflict>(conflict));
  EXPECT_EQ(std::get<Conflict>(conflict).head, head);
  const auto same_size = store->append({head.size, before.root}, only(late));
  EXPECT_TRUE(std::holds_alternative<Conflict>(same_size));
  EXPECT_EQ(store->head(), head);
  EXPECT_TRUE(store->verify(head).complaints.empty());
}

TEST_P(RecordStoreContract, BooksARetryUnderItsClientKeyOnce) {
  const auto store = create();
  const auto before = store->head();
  const auto head = book(*store, a_morning());
  const auto again = store->append(before, a_morning());
  ASSERT_TRUE(std::holds_alternative<AlreadyBooked>(again));
  EXPECT_EQ(std::get<AlreadyBooked>(again).sequence, 1u);
  EXPECT_EQ(store->head(), head);
}

TEST_P(RecordStoreContract, BooksAllOrNothing) {
  const auto store = create();
  const auto before = store->head();
  auto broken = a_morning();
  broken.blocks[0].bytes += "x";
  EXPECT_EQ(fault_of([&] { store->append(before, broken); }), exit_status::our_bug);
  broken = a_morning();
  broken.entries.back().written = Instant{std::chrono::milliseconds{-1}};  // seen only when it is read back
  EXPECT_EQ(fault_of([&] { store->append(before, broken); }), exit_status::our_bug);
  EXPECT_EQ(store->head(), before);
  EXPECT_TRUE(store->notes().empty());
  EXPECT_EQ(store->block(4), std::nullopt);
  EXPECT_EQ(store->sealed("w-1"), std::nullopt);
  EXPECT_FALSE(store->paper(a_paper().digest).has_value());
  book(*store, a_morning());
  EXPECT_EQ(joined(store->verify(std::nullopt)), "");
}

TEST_P(RecordStoreContract, RefusesAsOurBugWhatWouldNotHold) {
  const auto store = create();
  const auto refused = [&](auto change) {
    auto append = a_morning();
    change(append);
    return fault_of([&] { store->append(store->head(), append); }) == exit_status::our_bug;
  };
  EXPECT_TRUE(refused([](Append& a) { a.entries.clear(); }));
  EXPECT_TRUE(refused([](Append& a) { a.entries.erase(a.entries.begin()); }));
  EXPECT_TRUE(refused([](Append& a) { std::swap(a.entries[1], a.entries[2]); }));
  EXPECT_TRUE(refused([](Append& a) { a.entries[2].kitchen = "another"; }));
  EXPECT_TRUE(refused([](Append& a) { a.entries[2].client_key = a.entries[1].client_key; }));
  EXPECT_TRUE(refused([](Append& a) { a.entries[2].supersedes = 3; }));
  EXPECT_TRUE(refused([](Append& a) { a.entries[2].body = Json{}; }));
  EXPECT_TRUE(refused([](Append& a) { a.blocks[0].sequence = 5; }));
  EXPECT_TRUE(refused([](Append& a) { a.sealed[0].text = "Somebody Else"; }));
  EXPECT_TRUE(refused([](Append& a) { a.sealed[0].ref = "w-2"; }));
  EXPECT_TRUE(refused([](Append& a) { a.papers[0].bytes += "x"; }));
  EXPECT_TRUE(refused([](Append& a) { a.papers[0] = {sha256("other"), "text/plain", "other"}; }));
  EXPECT_EQ(store->head().size, 0u);
}

TEST_P(RecordStoreContract, ShowsTheNotesInForceAsTheFoldOfItsEntries) {
  const auto store = create();
  book(*store, a_morning());
  book(*store, only(entry(8, "batch/1", "batch-1", json(R"({"uses": [{"of": "pack-2"}]})"), 5)));
  book(*store, only(entry(9, "lot/1", "pack-1", Json{}, 2)));
  book(*store, only(entry(10, "batch/1", "batch-1", json(R"({"uses": []})"), 8)));
  book(*store, only(entry(11, "batch/1", "batch-1", json(R"({"uses": [{"of": "pack-1"}]})"), 5)));  // names the first of its chain
  std::vector<Note> all;
  for (const auto& one : store->entries(1, 11)) all.push_back(note_of(one));
  EXPECT_EQ(store->notes(), in_force(all));
  EXPECT_EQ(store->notes_at_head().notes, in_force(all));
  EXPECT_EQ(store->notes_at_head().head, store->head());
  EXPECT_EQ(tip_of(store->notes(), 8)->sequence, 11u);
  EXPECT_EQ(joined(store->verify(std::nullopt)), "");
}

TEST_P(RecordStoreContract, TellsWhatTheRecordsSaidThen) {
  const auto store = create();
  const auto then = book(*store, a_morning());
  book(*store, only(entry(8, "batch/1", "batch-1", json(R"({"uses": [{"of": "pack-2"}]})"), 5)));
  EXPECT_EQ(store->head_at(7), then);
  std::vector<Note> as_of;
  for (const auto& one : store->entries(1, 7)) as_of.push_back(note_of(one));
  EXPECT_EQ(tip_of(in_force(as_of), 5)->sequence, 5u);
  EXPECT_EQ(tip_of(store->notes(), 5)->sequence, 8u);
  EXPECT_EQ(joined(store->verify(then)), "");
}

TEST_P(RecordStoreContract, ErasesASealedTextWithoutAHole) {
  const auto store = create();
  const auto head = book(*store, a_morning());
  book(*store, an_erasure(8, {{"w-1"}, {}}));
  EXPECT_EQ(store->sealed("w-1"), std::nullopt);
  EXPECT_EQ(store->head().size, 8u);
  EXPECT_EQ(store->entries(1, 7), a_morning().entries);
  EXPECT_TRUE(store->paper(a_paper().digest).has_value());
  EXPECT_EQ(joined(store->verify(head)), "");
  store->scrub();
  EXPECT_EQ(store->head().size, 8u);
  EXPECT_EQ(joined(store->verify(head)), "");
}

TEST_P(RecordStoreContract, ErasesAKeptPaperWithoutAHole) {
  const auto store = create();
  const auto head = book(*store, a_morning());
  const auto erased = book(*store, an_erasure(8, {{"w-1"}, {a_paper().digest}}));
  EXPECT_FALSE(store->paper(a_paper().digest).has_value());
  EXPECT_EQ(store->block(4), a_block().bytes);
  EXPECT_EQ(joined(store->verify(head)), "");
  store->scrub();
  EXPECT_EQ(joined(store->verify(erased)), "");
  store->rebuild();
  EXPECT_EQ(joined(store->verify(erased)), "");
}

TEST_P(RecordStoreContract, ErasesAtOnceWhatSeveralNewEntriesTellOfEachOfItsOwn) {
  const auto store = create();
  const auto head = book(*store, a_morning());
  const auto both = [](ToErase first, ToErase second) {
    Append append = an_erasure(8, std::move(first));
    Append other = an_erasure(9, std::move(second));
    append.entries.push_back(std::move(other.entries.front()));
    append.erase.texts.insert(append.erase.texts.end(), other.erase.texts.begin(), other.erase.texts.end());
    append.erase.papers.insert(append.erase.papers.end(), other.erase.papers.begin(), other.erase.papers.end());
    return append;
  };
  const Digest paper = a_paper().digest;
  EXPECT_EQ(fault_of([&] {
              store->append(store->head(), both({{"w-1"}, {paper}}, {{}, {paper}}));
            }),
            exit_status::our_bug)
      << "a paper is told of once";
  EXPECT_EQ(fault_of([&] {
              store->append(store->head(), both({{"w-1"}, {}}, {{"w-1"}, {paper}}));
            }),
            exit_status::our_bug)
      << "a text is told of once";
  EXPECT_EQ(store->head(), head);
  book(*store, both({{"w-1"}, {}}, {{}, {paper}}));
  EXPECT_EQ(store->sealed("w-1"), std::nullopt);
  EXPECT_FALSE(store->paper(paper).has_value());
  EXPECT_EQ(joined(store->verify(head)), "");
}

TEST_P(RecordStoreContract, ErasesOnlyWhatNewEntriesTellOf) {
  const auto store = create();
  const auto head = book(*store, a_morning());
  const auto refused = [&](auto change) {
    auto append = an_erasure(8, {{"w-1"}, {a_paper().digest}});
    change(append);
    const int status = fault_of([&] { store->append(store->head(), append); });
    return status == exit_status::our_bug && store->head() == head && store->sealed("w-1") && store->paper(a_paper().digest);
  };
  EXPECT_TRUE(refused([](Append& a) { a.entries = {entry(8, "lot/1", "pack-9", json("{}"))}; }));
  EXPECT_TRUE(refused([](Append& a) { a.entries.push_back(an_erasure(9, {}).entries.front()); }));
  EXPECT_TRUE(refused([](Append& a) { a.entries[0].body["texts"] = Json{2}; }));
  EXPECT_TRUE(refused([](Append& a) { a.entries[0].body["papers"] = Json{Json::Array{}}; }));
  EXPECT_TRUE(refused([](Append& a) { a.erase.papers.clear(); }));
  EXPECT_TRUE(refused([](Append& a) { a.erase.texts = {"w-unknown"}; }));
  EXPECT_TRUE(refused([](Append& a) {
    a.erase.papers = {sha256("another")};
    a.entries[0].body["papers"] = Json{Json::Array{Json{to_hex(sha256("another"))}}};
  }));
  EXPECT_EQ(joined(store->verify(head)), "");
}

TEST_P(RecordStoreContract, GivesTheWholeLogSoThatItCanBeAppendedElsewhere) {
  const auto store = create();
  book(*store, a_morning());
  book(*store, only(entry(8, "batch/1", "batch-1", json(R"({"uses": [{"of": "pack-2"}]})"), 5)));
  const auto whole = store->whole();
  EXPECT_EQ(whole.entries, store->entries(1, 8));
  ASSERT_EQ(whole.blocks.size(), 1u);
  EXPECT_EQ(whole.blocks[0].bytes, a_block().bytes);
  ASSERT_EQ(whole.sealed.size(), 1u);
  EXPECT_EQ(whole.sealed[0].key, a_name().key);
  EXPECT_EQ(whole.sealed[0].text, "Ada Example");
  ASSERT_EQ(whole.papers.size(), 1u);
  EXPECT_EQ(whole.papers[0].bytes, a_paper().bytes);
  EXPECT_TRUE(whole.erase.empty());
  Folder elsewhere;
  const auto other = GetParam().create(elsewhere);
  EXPECT_EQ(book(*other, whole), store->head());
  EXPECT_EQ(other->notes(), store->notes());
  EXPECT_EQ(joined(other->verify(store->head())), "");
}

TEST_P(RecordStoreContract, MakesTheSameViewsWhenTheyAreBuiltAgain) {
  const auto store = create();
  book(*store, a_morning());
  book(*store, only(entry(8, "batch/1", "batch-1", json(R"({"uses": [{"of": "pack-2"}]})"), 5)));
  const auto before = store->notes();
  store->rebuild();
  EXPECT_EQ(store->notes(), before);
  EXPECT_EQ(joined(store->verify(std::nullopt)), "");
}

TEST_P(RecordStoreContract, HoldsAgainstEveryEarlierHeadAndNoOther) {
  const auto store = create();
  book(*store, a_morning());
  for (std::uint64_t size = 0; size <= 7; ++size) {
    const auto head = store->head_at(size).value();
    EXPECT_EQ(joined(store->verify(head)), "") << size;
    auto other = head;
    other.root[0] ^= 1;
    EXPECT_NE(joined(store->verify(other)).find("was rewritten"), std::string::npos) << size;
  }
  const auto ahead = store->verify(Head{8, sha256("x")});
  EXPECT_NE(joined(ahead).find("the log was cut short"), std::string::npos);
  EXPECT_EQ(ahead.head, store->head());
}

TEST_P(RecordStoreContract, KeepsOnePaperForTwoIssuesOfTheSameBytes) {
  const auto store = create();
  book(*store, a_morning());
  auto again = only(entry(8, "paper/1", "cake-1", digest_body(a_paper().bytes)));
  again.papers.push_back(a_paper());
  book(*store, again);
  EXPECT_EQ(store->paper(a_paper().digest)->bytes, a_paper().bytes);
  EXPECT_EQ(joined(store->verify(std::nullopt)), "");
}

TEST_P(RecordStoreContract, KeepsThreeBlocksApart) {
  const auto store = create();
  Append append;
  for (std::uint64_t i = 1; i <= 3; ++i) {
    const auto bytes = std::string(i * 1000, static_cast<char>('a' + i));
    append.entries.push_back(entry(i, "readings/1", "probe-1", digest_body(bytes)));
    append.blocks.push_back({i, bytes});
  }
  book(*store, append);
  for (const auto& block : append.blocks) EXPECT_EQ(store->block(block.sequence), block.bytes);
}

TEST_P(RecordStoreContract, LetsTwoHandlesShareTheRecordsWithoutLosingAnEntry) {
  const auto first = create();
  const auto second = open(false);
  std::uint64_t conflicts = 0;
  auto known = second->head();
  for (std::uint64_t i = 1; i <= 20; ++i) {
    auto& store = i % 2 == 0 ? *second : *first;
    auto one = entry(i, "lot/1", fmt::format("pack-{}", i), json("{}"));
    auto appended = store.append(known, only(one));
    if (std::holds_alternative<Conflict>(appended)) {
      ++conflicts;
      appended = store.append(std::get<Conflict>(appended).head, only(one));
    }
    ASSERT_TRUE(std::holds_alternative<Head>(appended)) << i;
    if (i % 2 == 0) known = std::get<Head>(appended);
  }
  EXPECT_EQ(conflicts, 10u);  // `known` is a head behind at every second append
  EXPECT_EQ(first->head(), second->head());
  EXPECT_EQ(first->entries(1, 20), second->entries(1, 20));
  EXPECT_EQ(joined(first->verify(std::nullopt)), "");
}

TEST_P(RecordStoreContract, LetsAReaderSeeWhatWasBookedButNotWrite) {
  const auto writer = create();
  const auto reader = open(true);
  book(*writer, a_morning());
  EXPECT_EQ(reader->head(), writer->head());
  EXPECT_EQ(reader->entries(1, 7), writer->entries(1, 7));
  EXPECT_EQ(reader->notes(), writer->notes());
  EXPECT_EQ(joined(reader->verify(writer->head())), "");
  EXPECT_EQ(fault_of([&] { reader->append(reader->head(), only(entry(8, "lot/1", "pack-9", json("{}")))); }), exit_status::not_permitted);
  EXPECT_EQ(fault_of([&] { reader->append(reader->head(), an_erasure(8, {{"w-1"}, {}})); }), exit_status::not_permitted);
  EXPECT_EQ(fault_of([&] { reader->scrub(); }), exit_status::not_permitted);
  EXPECT_EQ(fault_of([&] { reader->rebuild(); }), exit_status::not_permitted);
  EXPECT_EQ(writer->sealed("w-1"), "Ada Example");
}

TEST_P(RecordStoreContract, KeepsItsRecordsWhenItIsOpenedAgain) {
  auto store = create();
  const auto head = book(*store, a_morning());
  store.reset();
  const auto again = open(false);
  EXPECT_EQ(again->head(), head);
  EXPECT_EQ(again->notes().size(), 7u);
  EXPECT_EQ(joined(again->verify(head)), "");
}

TEST_P(RecordStoreContract, AppendsToALongLog) {
  const auto store = create();
  std::uint64_t sequence = 0;
  for (int part = 0; part < 4; ++part) {
    Append append;
    for (int i = 0; i < 500; ++i) {
      ++sequence;
      append.entries.push_back(entry(sequence, "lot/1", fmt::format("pack-{}", sequence), json("{}")));
    }
    book(*store, append);
  }
  EXPECT_EQ(store->head().size, 2000u);
  EXPECT_EQ(store->notes().size(), 2000u);
  EXPECT_EQ(joined(store->verify(store->head_at(1234))), "");
}

}  // namespace
}  // namespace tierproof
