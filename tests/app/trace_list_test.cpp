// The graph that the store keeps beside the records, against the one that is made of the records in memory: two programs, one answer.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <map>

#include "app/app_for_tests.h"
#include "tierproof/app/tracing.h"

namespace tierproof {
namespace {

using Reached = std::map<std::string, bool>;  // name → certain

Reached by_name(const std::vector<TracedTold>& all) {
  Reached found;
  for (const auto& one : all) found[one.id] = one.certain;
  return found;
}
Reached by_name(const std::vector<StoredThing>& all) {
  Reached found;
  for (const auto& one : all) found[one.name] = one.certain;
  return found;
}

/// Books notes at random: batches of packs and batches, some from tubs, tiers, pourings and emptyings told late, corrections and voids of
/// all of them; loops included, as an import may bring them.
class RandomKitchen {
 public:
  explicit RandomKitchen(TestKitchen& kitchen) : kitchen_{kitchen} {
    const Session session = kitchen.open();
    for (const auto& [id, lot] : session.state().lots) packs_.push_back(id.text());
    at_ = session.now();
  }

  void book_some(int many) {
    for (int i = 0; i < many; ++i) book_one_more();
  }

  std::vector<std::string> things() const {
    auto all = packs_;
    all.insert(all.end(), batches_.begin(), batches_.end());
    all.insert(all.end(), cakes_.begin(), cakes_.end());
    return all;
  }

 private:
  struct Chain {
    std::uint64_t tip = 0;
    std::string kind, subject;
  };

  static int below(std::size_t most) { return *rc::gen::inRange(0, static_cast<int>(most)); }
  static const std::string& one_of(const std::vector<std::string>& all) { return all[static_cast<std::size_t>(below(all.size()))]; }
  TubId a_tub() const { return TubId{below(2) == 0 ? "tub-1" : "tub-2"}; }
  ZonedInstant a_moment() const { return {at_ - std::chrono::minutes{below(600)}, Offset{60}}; }

  Json a_body(const std::string& kind, const std::string& subject) const {
    if (kind == "top-up/1") return body_of(TopUp{TubId{subject}, LotId{one_of(packs_)}});
    if (kind == "emptied/1") return body_of(Emptied{TubId{subject}});
    if (kind == "tier/1") {
      Tier tier;
      tier.cake = CakeId{subject};
      tier.tier = "only";
      for (int i = 0; i <= below(2); ++i) tier.parts.push_back({BatchId{one_of(batches_)}, grams(10), true});
      return body_of(tier);
    }
    Batch batch;
    batch.recipe = RecipeId{"sponge"};
    batch.yield = grams(100);
    batch.recipe_version = 1;
    for (int i = 0; i <= below(3); ++i) {
      const bool of_batch = !batches_.empty() && below(2) == 0;
      BatchUse use{of_batch ? one_of(batches_) : one_of(packs_), of_batch, grams(10), true};
      if (!of_batch && below(3) == 0) use.tub = a_tub();
      batch.uses.push_back(use);
    }
    return body_of(batch);
  }

  void book_one_more() {
    Session session = kitchen_.open();
    Draft draft;
    const ZonedInstant at = a_moment();
    draft.happened = at.at;
    draft.offset = at.offset;
    const int what = below(10);
    Chain* chain = nullptr;
    if (what < 3 && !chains_.empty()) {
      chain = &chains_[static_cast<std::size_t>(below(chains_.size()))];
      draft.supersedes = chain->tip;
      draft.kind = chain->kind;
      draft.subject = chain->subject;
      draft.body = below(2) == 0 ? Json{} : a_body(chain->kind, chain->subject);
    } else {
      draft.kind = what < 5 || batches_.empty() ? "batch/1" : what < 7 ? "top-up/1" : what == 7 ? "emptied/1" : "tier/1";
      if (draft.kind == "batch/1") {
        draft.subject = session.next<Batch>("batch");
        draft.body = a_body(draft.kind, draft.subject);
        batches_.push_back(draft.subject);
      } else if (draft.kind == "tier/1") {
        draft.subject = below(2) == 0 ? "cake-1" : "cake-2";
        if (std::find(cakes_.begin(), cakes_.end(), draft.subject) == cakes_.end()) cakes_.push_back(draft.subject);
        draft.body = a_body(draft.kind, draft.subject);
      } else {
        draft.subject = a_tub().text();
        draft.body = a_body(draft.kind, draft.subject);
      }
      chains_.push_back({0, draft.kind, draft.subject});
      chain = &chains_.back();
    }
    chain->tip = session.book({draft}).sequences.front();
  }

  TestKitchen& kitchen_;
  Instant at_{};
  std::vector<std::string> packs_, batches_, cakes_;
  std::vector<Chain> chains_;
};

RC_GTEST_PROP(TraceList, TellsWhatTheRecordsInMemoryTellHoweverTheyCameAbout, ()) {
  TestKitchen kitchen;
  RandomKitchen random{kitchen};
  random.book_some(*rc::gen::inRange(1, 20));
  const Session session = kitchen.open(true);
  RC_ASSERT(session.store().verify(std::nullopt).complaints.empty());
  std::vector<std::vector<StoredThing>> lists;
  for (const auto& name : random.things()) {
    const auto told = trace(session, name, {}, {session.now(), Offset{60}});
    const auto list = trace_list(session.store(), name);
    RC_ASSERT(told.has_value() && list.has_value());
    RC_ASSERT(by_name(list->into) == by_name(told->into));
    RC_ASSERT(by_name(list->from) == by_name(told->from));
    lists.push_back(list->into);
  }
  // As of an earlier note the records tell what a file tells that holds no more than that.
  const std::uint64_t as_of = *rc::gen::inRange<std::uint64_t>(1, session.head().size + 1);
  Append shorter;
  shorter.entries = session.store().entries(1, as_of);
  const std::string path = kitchen.entrance().kitchen_file + ".shorter";
  std::filesystem::remove(path);
  const auto then = create_sqlite(path, shorter.entries.front().kitchen);
  RC_ASSERT(std::holds_alternative<Head>(then->append(then->head(), shorter)));
  kitchen.as_of = as_of;
  const Session earlier = kitchen.open(true);
  for (const auto& name : random.things()) {
    const auto told = trace(earlier, name, {}, {session.now(), Offset{60}});
    const auto list = trace_list(*then, name);
    RC_ASSERT(told.has_value() == list.has_value());
    if (!told) continue;
    RC_ASSERT(by_name(list->into) == by_name(told->into));
    RC_ASSERT(by_name(list->from) == by_name(told->from));
  }
  kitchen.as_of.reset();
  // The views made again from the log tell the same.
  kitchen.open().store().rebuild();
  std::size_t at = 0;
  for (const auto& name : random.things()) RC_ASSERT(trace_list(session.store(), name)->into == lists[at++]);
}

TEST(TraceList, AsksWhichPackOfACodeIsMeant) {
  TestKitchen kitchen;
  const Session session = kitchen.open(true);
  const auto unknown = trace_list(session.store(), "pack-99");
  ASSERT_FALSE(unknown.has_value());
  EXPECT_THAT(describe(unknown.error().front()), HasSubstr("no pack, batch or cake called \"pack-99\""));
  const auto one = trace_list(session.store(), "code of sugar");
  ASSERT_TRUE(one.has_value());
  EXPECT_EQ(one->thing.words, "sugar, code code of sugar");
  EXPECT_EQ(one->head, session.head());
}

}  // namespace
}  // namespace tierproof
