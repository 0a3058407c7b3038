// Where a pack went, what a cake is made of, and what several things have in common.
#include "tierproof/app/tracing.h"

#include <fmt/format.h>

#include "app/app_for_tests.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/stores.h"

namespace tierproof {
namespace {

Result<TraceTold> trace_of(TestKitchen& kitchen, const std::string& thing, std::optional<Mass> counted = {}) {
  const Session session = kitchen.open(true);
  return trace(session, thing, counted, {session.now(), Offset{60}});
}
/// `id` of each that is certain, `? id` of each that is not, with the grams.
Strings short_of(const std::vector<TracedTold>& all) {
  Strings found;
  for (const auto& one : all)
    found.push_back((one.certain ? "" : "? ") + one.id + (one.mg ? " " + format_decimal(*one.mg / 1000, 1) + " g" : ""));
  return found;
}
std::string refused_trace(TestKitchen& kitchen, const std::string& thing, std::optional<Mass> counted = {}) {
  const auto told = trace_of(kitchen, thing, counted);
  EXPECT_FALSE(told.has_value());
  return told ? "" : describe(told.error().front());
}

class Traceable {
 public:
  Traceable() {
    sponge = kitchen.make("sponge", grams(270));
    icing = kitchen.make("icing", grams(298));
    kitchen.at("2026-05-01T10:00+01:00");
    cake = cake_of(kitchen, {{sponge, grams(135)}, {icing, grams(149)}});
  }
  TestKitchen kitchen;
  std::string sponge, icing, cake;
};

TEST(Tracing, APackGoesForwardToEveryCakeWithItsAmount) {
  Traceable t;
  const auto told = trace_of(t.kitchen, "pack-2");  // sugar: 100 g in the sponge, 200 g in the icing
  ASSERT_TRUE(told.has_value());
  EXPECT_EQ(told->words, "pack-2 (sugar, code code of sugar)");
  EXPECT_THAT(short_of(told->into), testing::UnorderedElementsAre("batch-1 100.0 g", "batch-2 200.0 g", "cake-1 150.0 g"));
  EXPECT_TRUE(told->from.empty());
  EXPECT_EQ(told->into.back().way, "pack-2 → batch-1 → cake-1");
  EXPECT_EQ(told->into.back().words, "cake-1 (Plain cake)");
  EXPECT_THAT(told->into.back().where, HasSubstr("in the kitchen"));
  ASSERT_TRUE(told->balance.has_value());
  EXPECT_EQ(told->balance->had, grams(2000));
  EXPECT_EQ(told->balance->used, grams(300));
  EXPECT_EQ(told->balance->left(), grams(1700));
}

TEST(Tracing, ACakeGoesBackToEveryPackWithWhoBroughtIt) {
  Traceable t;
  const auto told = trace_of(t.kitchen, t.cake);
  ASSERT_TRUE(told.has_value());
  EXPECT_TRUE(told->into.empty());
  EXPECT_FALSE(told->balance.has_value());
  EXPECT_THAT(short_of(told->from), testing::UnorderedElementsAre("batch-1 135.0 g", "batch-2 149.0 g", "pack-1 50.0 g", "pack-2 150.0 g",
                                                                  "pack-3 50.0 g", "pack-4 50.0 g"));
  for (const auto& one : told->from) {
    if (one.id != "pack-1") continue;
    EXPECT_EQ(one.where, "from Example Shop, received 1 May 2026");
  }
}

TEST(Tracing, WhatStayedBehindInTheBowlTookItsShareAlong) {
  TestKitchen kitchen;
  Making making;
  making.recipe = "icing";
  making.yield = grams(198);
  making.left_behind = grams(100);
  const std::string icing = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  const std::string cake = cake_of(kitchen, {{icing, grams(149)}});
  const auto told = trace_of(kitchen, "pack-2");
  EXPECT_THAT(short_of(told->into), testing::ElementsAre(icing + " 200.0 g", cake + " 100.0 g")) << "149 g of 298 g hold half of it";
  EXPECT_EQ(trace_of(kitchen, icing)->balance->left(), grams(49)) << "what stayed behind is not left over";
}

TEST(Tracing, CountsWhatIsNotAccountedForAndKnowsWhatWasThrownAway) {
  Traceable t;
  t.kitchen.done([](Session& s) { return throw_away(s, {"pack-2", grams(100), "spilled", ""}); });
  const auto told = trace_of(t.kitchen, "pack-2", grams(1560));
  EXPECT_EQ(told->balance->thrown_away, grams(100));
  EXPECT_EQ(told->balance->used, grams(300));
  EXPECT_EQ(*told->balance->unaccounted(), grams(40));
  EXPECT_THAT(refused_trace(t.kitchen, t.cake, grams(1)), HasSubstr("--counted: only what is left of a pack or a batch is weighed"));
}

TEST(Tracing, OfATubOnlyWhatIsPossible) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_tub(s, "sugar-tub", Tub{"sugar tub", IngredientId{"sugar"}}); });
  kitchen.done([](Session& s) { return top_up(s, "sugar-tub", "pack-2", ""); });
  const std::string second = kitchen.pack("sugar", "2026-07-30");
  kitchen.done([&](Session& s) { return top_up(s, "sugar-tub", second, ""); });
  const std::string icing = kitchen.make("icing", grams(298));
  const auto first_pack = trace_of(kitchen, "pack-2");
  const auto second_pack = trace_of(kitchen, second);
  ASSERT_TRUE(first_pack.has_value() && second_pack.has_value());
  EXPECT_THAT(short_of(first_pack->into), testing::ElementsAre("? " + icing)) << "which of the two it was is an estimate";
  EXPECT_THAT(short_of(second_pack->into), testing::ElementsAre("? " + icing));
  EXPECT_EQ(second_pack->into.front().way, second + " → ? " + icing);
}

TEST(Tracing, FollowsALeftOverIntoWhatItWasUsedFor) {
  Traceable t;
  const auto kept = t.kitchen.done([&](Session& s) { return keep_left_over(s, {t.sponge, grams(100), false, {}, ""}); }).subjects.front();
  const std::string other = cake_of(t.kitchen, {{kept, grams(100)}});
  const auto told = trace_of(t.kitchen, "pack-1");
  Strings ids;
  for (const auto& one : told->into) ids.push_back(one.id);
  EXPECT_THAT(ids, testing::UnorderedElementsAre(t.sponge, t.cake, kept, other));
}

TEST(Tracing, ACodeThatTwoPacksHaveIsAsked) {
  Traceable t;
  EXPECT_EQ(trace_of(t.kitchen, "code of sugar")->id, "pack-2");
  const std::string second = t.kitchen.pack("sugar", "2026-07-30");
  const std::string words = refused_trace(t.kitchen, "code of sugar");
  EXPECT_THAT(words, HasSubstr("2 packs have the code \"code of sugar\""));
  EXPECT_THAT(words, HasSubstr("pack-2"));
  EXPECT_THAT(words, HasSubstr(second));
  EXPECT_THAT(refused_trace(t.kitchen, "L99"), HasSubstr("no pack, batch or cake called \"L99\""));
}

// Worked case C09: a correction takes a pack out of a batch; the earlier link is still told, and so it was as of then.
TEST(Tracing, TellsWhatWasTakenBack) {
  TestKitchen kitchen;
  const std::string other = kitchen.pack("sugar", "2026-07-30");
  const auto made = kitchen.done([](Session& s) {
    Making making;
    making.recipe = "icing";
    making.yield = grams(298);
    return make_batch(s, making);
  });
  const std::uint64_t said = made.sequences.front();
  Json body = tip_of(kitchen.open(true).notes(), said)->body;
  Json uses = body["uses"];
  for (auto& use : uses.array()) {
    if (use["of"] == Json{"pack-2"}) use["of"] = Json{other};
  }
  const auto corrected = correct_note(kitchen, said, {{"uses", uses}});
  const auto first = trace_of(kitchen, "pack-2");
  EXPECT_TRUE(first->into.empty());
  ASSERT_EQ(first->taken_back.size(), 1u);
  EXPECT_EQ(first->taken_back.front().into, "batch-1 (icing)");
  EXPECT_EQ(first->taken_back.front().said, said);
  EXPECT_EQ(first->taken_back.front().corrected_by, corrected.sequences.front());
  EXPECT_THAT(short_of(trace_of(kitchen, other)->into), testing::ElementsAre("batch-1 200.0 g"));
  kitchen.as_of = said;
  EXPECT_THAT(short_of(trace_of(kitchen, "pack-2")->into), testing::ElementsAre("batch-1 200.0 g"));
}

TEST(Tracing, ACorrectionThatWouldRunInALoopIsRefused) {
  Traceable t;
  const auto kept = t.kitchen.done([&](Session& s) { return keep_left_over(s, {t.sponge, grams(100), false, {}, ""}); }).subjects.front();
  const std::uint64_t sequence = t.kitchen.open(true).state().batches.at(BatchId{t.sponge}).sequence;
  Json body = tip_of(t.kitchen.open(true).notes(), sequence)->body;
  for (const auto& into : {kept, t.sponge}) {
    Json uses = body["uses"];
    Json more = uses.array().front();
    more["of"] = Json{into};
    more["batch"] = Json{true};
    uses.array().push_back(more);
    EXPECT_THAT(correction_refused(t.kitchen, sequence, {{"uses", uses}}), HasSubstr("batch-1 is made of " + into + " by this"));
  }
}

TEST(Tracing, AVoidedBatchStaysKnownAsThat) {
  Traceable t;
  const std::uint64_t sequence = t.kitchen.open(true).state().batches.at(BatchId{t.sponge}).sequence;
  t.kitchen.done([&](Session& s) { return void_note(s, sequence, "it was another kitchen's"); });
  const auto told = trace_of(t.kitchen, t.cake);
  ASSERT_TRUE(told.has_value());
  bool found = false;
  for (const auto& one : told->from) {
    if (one.id != t.sponge) continue;
    found = true;
    EXPECT_THAT(one.words, HasSubstr("voided"));
  }
  EXPECT_TRUE(found);
  EXPECT_FALSE(told->amounts_known);
  EXPECT_EQ(trace_of(t.kitchen, "pack-1")->taken_back.size(), 1u);
}

TEST(Tracing, ReportsTheNextOnTheSameKitApart) {
  TestKitchen kitchen;
  const std::string first = kitchen.make("icing", grams(298));
  kitchen.at("2026-05-01T09:00+01:00");
  kitchen.done([](Session& s) { return clean(s, {"whisk", "wiped", "", {}, "", ""}); });
  kitchen.at("2026-05-01T09:10+01:00");
  kitchen.recipe("glaze", R"([{"of": "flour", "mass": "100 g"}])", "100 g", "whisk", "none", "room");
  const std::string next = kitchen.make("glaze", grams(100));
  const auto told = trace_of(kitchen, "pack-3");  // butter, in the icing alone
  ASSERT_EQ(told->kit.size(), 1u);
  EXPECT_EQ(told->kit.front().equipment, "whisk");
  EXPECT_EQ(told->kit.front().before, first + " (icing)");
  EXPECT_EQ(told->kit.front().after, next + " (glaze)");
  EXPECT_EQ(told->kit.front().cleaning, "wiped");
  EXPECT_TRUE(trace_of(kitchen, "pack-2")->kit.size() == 1u);
  EXPECT_TRUE(trace_of(kitchen, "pack-1")->kit.empty()) << "flour is in what came last";
}

TEST(Tracing, OfSeveralTellsWhatTheyHaveInCommon) {
  Traceable t;
  const std::string other_icing = t.kitchen.make("icing", grams(298));
  const std::string other = cake_of(t.kitchen, {{other_icing, grams(100)}});
  const Session session = t.kitchen.open(true);
  const std::vector<std::string> asked{t.cake, other};
  const auto shared = traced_to_all(session, asked, {session.now(), Offset{60}});
  ASSERT_TRUE(shared.has_value());
  EXPECT_THAT(short_of(*shared), testing::UnorderedElementsAre("pack-2", "pack-3")) << "sugar and butter";
  const std::vector<std::string> same{t.cake, t.cake};
  EXPECT_FALSE(traced_to_all(session, same, {session.now(), Offset{60}}).has_value());
}

}  // namespace
}  // namespace tierproof
