// Whom to tell and what to set aside when a pack is recalled.
#include "tierproof/app/recalling.h"

#include <set>

#include "app/app_for_tests.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/stores.h"

namespace tierproof {
namespace {

Result<RecallTold> recall_of(TestKitchen& kitchen, const std::vector<std::string>& things, bool drill = false) {
  const Session session = kitchen.open(true);
  RecallAsked asked{things};
  asked.drill = drill;
  return recall(session, asked, {session.now(), Offset{60}});
}
std::string refused_recall(TestKitchen& kitchen, const std::vector<std::string>& things, bool drill = false) {
  const auto told = recall_of(kitchen, things, drill);
  EXPECT_FALSE(told.has_value());
  return told ? "" : describe(told.error().front());
}
Strings ids_of(const std::vector<RecallStep>& steps, bool done) {
  Strings ids;
  for (const auto& step : steps) {
    if (step.done == done) ids.push_back((step.food.certain ? "" : "? ") + step.food.id);
  }
  return ids;
}

/// Praline in two cakes: one left, one is here; some praline is left.
class Recalled {
 public:
  Recalled() {
    praline = kitchen.make("praline", grams(198));
    left = cake_of(kitchen, {{praline, grams(50)}});
    here = cake_of(kitchen, {{praline, grams(60)}});
    const Strings stops = kitchen.stops(left);
    std::vector<AgainstReason> reasons;
    for (const auto& control : std::set<std::string>(stops.begin(), stops.end())) reasons.push_back({control, "to see whom to tell"});
    EXPECT_EQ(release_of(kitchen, left, reasons), "");
    EXPECT_EQ(hand_over_of(kitchen, left), "");
    kitchen.at("2026-05-01T12:00+01:00");
  }
  void withdraw_almonds() {
    kitchen.done([](Session& s) { return withdraw(s, "pack-5", "the shop calls it back"); });
    kitchen.at("2026-05-01T12:30+01:00");
  }
  void tell() {
    kitchen.done([&](Session& s) {
      return tell_customer(s, {left, "after it was handed over", "the customer, by telephone", "do not eat any more of it", ""});
    });
  }
  TestKitchen kitchen;
  std::string praline, left, here;
};

TEST(Recall, TellsWhomToTellAndWhatToSetAside) {
  Recalled r;
  r.withdraw_almonds();
  const auto told = recall_of(r.kitchen, {"pack-5"});
  ASSERT_TRUE(told.has_value());
  EXPECT_TRUE(told->open());
  EXPECT_THAT(ids_of(told->contact, false), testing::ElementsAre(r.left));
  EXPECT_THAT(ids_of(told->hold, false), testing::UnorderedElementsAre("pack-5", r.praline, r.here));
  EXPECT_TRUE(told->gone.empty());
  ASSERT_EQ(told->because.size(), 1u);
  EXPECT_THAT(told->because.front(), HasSubstr("withdrawn 1 May 2026, 12:00, by ada"));
  EXPECT_THAT(told->because.front(), HasSubstr("the shop calls it back"));
  EXPECT_THAT(told->contact.front().customer, HasSubstr("no telephone or address recorded"));
  EXPECT_THAT(told->contact.front().food.where, HasSubstr("handed over 1 May 2026"));
  EXPECT_EQ(format_decimal(*told->contact.front().food.mg, 0), "25253") << "50 g of 198 g hold 50/198 of 100 g almonds";
}

TEST(Recall, IsDoneOnceEverybodyWasToldAndEverythingIsGone) {
  Recalled r;
  r.tell();  // of something else: before the recall
  r.withdraw_almonds();
  EXPECT_THAT(ids_of(recall_of(r.kitchen, {"pack-5"})->contact, true), testing::IsEmpty()) << "told before it was recalled";
  r.tell();
  for (const auto& what : {std::string{"pack-5"}, r.praline, r.here})
    r.kitchen.done([&](Session& s) { return throw_away(s, {what, {}, "recalled", ""}); });
  const auto told = recall_of(r.kitchen, {"pack-5"});
  EXPECT_FALSE(told->open());
  EXPECT_THAT(ids_of(told->contact, true), testing::ElementsAre(r.left));
  EXPECT_THAT(told->contact.front().done_words, HasSubstr("told 1 May 2026, 12:30, by ada"));
  EXPECT_THAT(ids_of(told->gone, true), testing::UnorderedElementsAre("pack-5", r.praline, r.here));
  for (const auto& step : told->gone) EXPECT_THAT(step.done_words, HasSubstr("thrown away")) << step.food.id;
}

TEST(Recall, NeedsAWithdrawalOrAnExercise) {
  Recalled r;
  EXPECT_THAT(refused_recall(r.kitchen, {"pack-5"}), HasSubstr("is not withdrawn by the records"));
  EXPECT_THAT(refused_recall(r.kitchen, {r.left}), HasSubstr("not known to be wrong"));
  EXPECT_THAT(refused_recall(r.kitchen, {}, true), HasSubstr("what is recalled is missing"));
  r.tell();
  const auto drill = recall_of(r.kitchen, {"pack-5"}, true);
  ASSERT_TRUE(drill.has_value());
  EXPECT_TRUE(drill->drill);
  EXPECT_THAT(ids_of(drill->contact, false), testing::ElementsAre(r.left)) << "nothing counts as done in an exercise";
  EXPECT_TRUE(drill->because.empty());
}

TEST(Recall, OfABatchGoesByWhatWentWrongWithIt) {
  Recalled r;
  EXPECT_THAT(refused_recall(r.kitchen, {r.praline}), HasSubstr("not known to be wrong"));
  r.kitchen.done([&](Session& s) { return tell_went_wrong(s, {{r.praline}, "person", "", "glass in the bowl", ""}); });
  const auto told = recall_of(r.kitchen, {r.praline});
  ASSERT_TRUE(told.has_value());
  EXPECT_THAT(told->because.front(), HasSubstr("glass in the bowl"));
  EXPECT_THAT(ids_of(told->contact, false), testing::ElementsAre(r.left));
  EXPECT_THAT(ids_of(told->hold, false), testing::UnorderedElementsAre(r.praline, r.here));
}

TEST(Recall, SetsATubAsideAndWhatMayHoldIt) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_tub(s, "sugar-tub", Tub{"sugar tub", IngredientId{"sugar"}}); });
  kitchen.done([](Session& s) { return top_up(s, "sugar-tub", "pack-2", ""); });
  const std::string second = kitchen.pack("sugar", "2026-07-30");
  kitchen.done([&](Session& s) { return top_up(s, "sugar-tub", second, ""); });
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.done([&](Session& s) { return withdraw(s, second, "the shop calls it back"); });
  const auto told = recall_of(kitchen, {second});
  ASSERT_TRUE(told.has_value());
  EXPECT_THAT(ids_of(told->hold, false), testing::ElementsAre(second, "? " + icing));
  EXPECT_THAT(told->hold.front().food.where, HasSubstr("poured into sugar-tub: empty it, wash it"));
  kitchen.at("2026-05-01T08:20+01:00");
  kitchen.done([](Session& s) { return empty_tub(s, "sugar-tub", ""); });
  EXPECT_THAT(recall_of(kitchen, {second})->hold.front().food.where, HasSubstr("left by the records"));
}

TEST(Recall, StillTellsOfWhatAVoidedNoteSaid) {
  Recalled r;
  const std::uint64_t sequence = r.kitchen.open(true).state().batches.at(BatchId{r.praline}).sequence;
  r.kitchen.done([&](Session& s) { return void_note(s, sequence, "it was written twice"); });
  r.withdraw_almonds();
  const auto told = recall_of(r.kitchen, {"pack-5"});
  ASSERT_TRUE(told.has_value());
  EXPECT_THAT(ids_of(told->contact, false), testing::ElementsAre("? " + r.left)) << "food does not vanish with its record";
  EXPECT_THAT(ids_of(told->hold, false), testing::IsSupersetOf({"? " + r.praline, "? " + r.here}));
  EXPECT_TRUE(told->open());
}

TEST(Recall, IsNotDoneByAMessageAboutSomethingElse) {
  Recalled r;
  r.withdraw_almonds();
  r.kitchen.done([&](Session& s) {
    return tell_customer(s, {r.left, "after it was handed over", "the customer, by message", "your answer has changed", "changed"});
  });
  EXPECT_THAT(ids_of(recall_of(r.kitchen, {"pack-5"})->contact, false), testing::ElementsAre(r.left));
  r.tell();
  const auto told = recall_of(r.kitchen, {"pack-5"});
  EXPECT_THAT(ids_of(told->contact, true), testing::ElementsAre(r.left));
  EXPECT_THAT(told->contact.front().done_words, HasSubstr("do not eat any more of it")) << "so that a person can see what was said";
}

TEST(Recall, CountsFromTheLastOfItsReasons) {
  Recalled r;
  r.kitchen.done([](Session& s) { return tell_went_wrong(s, {{"pack-5"}, "person", "", "it came dented", ""}); });
  r.kitchen.at("2026-05-01T12:10+01:00");
  r.tell();
  r.kitchen.at("2026-05-01T12:20+01:00");
  r.withdraw_almonds();
  const auto told = recall_of(r.kitchen, {"pack-5"});
  EXPECT_EQ(told->because.size(), 2u);
  EXPECT_THAT(ids_of(told->contact, false), testing::ElementsAre(r.left)) << "told of the dent, and not of the recall";
}

TEST(Recall, NamesEveryTubThatAPackWasPouredInto) {
  TestKitchen kitchen;
  for (const char* tub : {"tub-a", "tub-b"}) {
    kitchen.done([&](Session& s) { return add_tub(s, tub, Tub{tub, IngredientId{"sugar"}}); });
    kitchen.done([&](Session& s) { return top_up(s, tub, "pack-2", ""); });
  }
  kitchen.done([](Session& s) { return withdraw(s, "pack-2", "the shop calls it back"); });
  kitchen.at("2026-05-01T09:00+01:00");
  EXPECT_THAT(recall_of(kitchen, {"pack-2"})->hold.front().food.where, HasSubstr("poured into tub-a, and into tub-b"));
  kitchen.done([](Session& s) { return empty_tub(s, "tub-b", ""); });
  EXPECT_THAT(recall_of(kitchen, {"pack-2"})->hold.front().food.where, HasSubstr("poured into tub-a: empty it"));
}

TEST(Recall, OfSeveralPacksListsEachFoodOnce) {
  Recalled r;
  r.withdraw_almonds();
  r.kitchen.done([](Session& s) { return withdraw(s, "pack-2", "the same"); });
  const auto told = recall_of(r.kitchen, {"pack-5", "pack-2"});
  ASSERT_TRUE(told.has_value());
  EXPECT_THAT(ids_of(told->contact, false), testing::ElementsAre(r.left));
  EXPECT_FALSE(told->contact.front().food.mg.has_value());
  EXPECT_EQ(told->because.size(), 2u);
}

TEST(Recall, SaysWhereTheBoxesOfACakeCannotBeToldApart) {
  Recalled r;
  const Session before = r.kitchen.open(true);
  correct_note(r.kitchen, before.state().cakes.at(CakeId{r.here}).sequence, {{"boxes", Json{std::int64_t{3}}}});
  r.withdraw_almonds();
  const auto told = recall_of(r.kitchen, {"pack-5"});
  ASSERT_TRUE(told.has_value());
  for (const auto& step : told->hold) EXPECT_EQ(step.food.where.find("in 3 boxes") != std::string::npos, step.food.id == r.here);
}

TEST(PacksFrom, AreThoseOfASupplierAndDays) {
  TestKitchen kitchen;
  const Session session = kitchen.open(true);
  const Date day = *parse_date("2026-05-01");
  EXPECT_EQ(packs_from(session, "shop", day, day)->size(), 5u);
  EXPECT_FALSE(packs_from(session, "shop", add_days(day, 1), add_days(day, 2)).has_value());
  EXPECT_FALSE(packs_from(session, "shop", day, add_days(day, -1)).has_value());
  EXPECT_FALSE(packs_from(session, "mill", day, day).has_value());
}

}  // namespace
}  // namespace tierproof
