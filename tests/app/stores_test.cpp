#include "tierproof/app/stores.h"

#include "app/app_for_tests.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

Strings lots_in(TestKitchen& kitchen, const std::string& batch) {
  Strings lots;
  const Session session = kitchen.open(true);
  for (const auto& use : session.state().batches.at(BatchId{batch}).value.uses) lots.push_back(use.of + " " + format_mass(use.mass));
  for (const auto& possible : possible_in(session.state(), session.state().batches.at(BatchId{batch})))
    lots.push_back(possible.lot.text() + " perhaps");
  return lots;
}

/// A tub that pack-1 (flour) was poured into at eight; pack-6 came at ten.
struct FlourTub {
  FlourTub() {
    kitchen.done([](Session& s) { return add_tub(s, "flour-tub", {"flour tub", IngredientId{"flour"}}); });
    kitchen.done([](Session& s) { return top_up(s, "flour-tub", "pack-1", ""); });
    kitchen.at("2026-05-01T10:00+01:00");
    EXPECT_EQ(kitchen.pack("flour", "2026-07-31"), "pack-6");
  }
  std::string sponge(const std::string& at) {
    kitchen.at(at);
    return kitchen.make("sponge", grams(270));
  }
  TestKitchen kitchen;
};

TEST(Tub, GivesItsPacksFirstInFirstOutAndTellsWhatMayBeInTheBatch) {
  FlourTub tub;
  tub.kitchen.done([](Session& s) { return top_up(s, "flour-tub", "pack-6", ""); });
  const std::string batch = tub.sponge("2026-05-01T11:00+01:00");
  EXPECT_THAT(lots_in(tub.kitchen, batch), testing::ElementsAre("pack-1 100 g", "pack-2 100 g", "pack-4 100 g", "pack-6 perhaps"));
  const Session session = tub.kitchen.open(true);
  EXPECT_EQ(session.state().batches.at(BatchId{batch}).value.uses.front().tub.text(), "flour-tub");
}

TEST(Tub, CarriesAnAllergenOfAPackThatMayBeInItToTheCake) {
  FlourTub tub;
  tub.kitchen.specification("flour", {"soybeans"});
  const std::string soya = tub.kitchen.pack("flour", "2026-08-31");
  tub.kitchen.done([&](Session& s) { return top_up(s, "flour-tub", soya, ""); });
  const std::string cake = cake_of(tub.kitchen, {{tub.sponge("2026-05-01T11:00+01:00"), grams(270)}});
  const auto judged = tub.kitchen.judged(cake);
  const auto found = std::find_if(judged.made->allergens.begin(), judged.made->allergens.end(),
                                  [](const auto& trace) { return trace.allergen == "soybeans"; });
  EXPECT_EQ(found->presence, Presence::contains);
  EXPECT_THAT(found->contains.front(), HasSubstr(soya));
  tub.kitchen.done([&](Session& s) { return withdraw(s, soya, "recalled by the mill"); });
  EXPECT_THAT(tub.kitchen.verdicts(cake, "lot-withdrawn"), testing::ElementsAre(cake + ": not met")) << "a recall reaches it too";
}

TEST(Tub, ThatWasEmptiedAndWashedStartsAnew) {
  FlourTub tub;
  tub.kitchen.done([](Session& s) { return empty_tub(s, "flour-tub", ""); });  // and filled in the same minute
  tub.kitchen.done([](Session& s) { return top_up(s, "flour-tub", "pack-6", ""); });
  const Session session = tub.kitchen.open(true);
  EXPECT_EQ(packs_in_tub(session.state(), TubId{"flour-tub"}, session.now()), std::vector<LotId>{LotId{"pack-6"}});
  EXPECT_TRUE(poured(session.state(), LotId{"pack-1"}, session.now())->gone);
  Making making;
  making.recipe = "sponge";
  making.use = {{"flour", "pack-1"}};
  EXPECT_THAT(tub.kitchen.refused([&](Session& s) { return make_batch(s, making); }), HasSubstr("name one of pack-6"));
}

TEST(Tub, ToppedUpEarlierThanWasWrittenDownMayBeInTheBatchesSince) {
  FlourTub tub;
  const std::string batch = tub.sponge("2026-05-01T11:00+01:00");
  EXPECT_THAT(lots_in(tub.kitchen, batch), testing::ElementsAre("pack-1 100 g", "pack-2 100 g", "pack-4 100 g"));
  tub.kitchen.at("2026-05-01T15:00+01:00");
  tub.kitchen.done([](Session& s) { return top_up(s, "flour-tub", "pack-6", "2026-05-01T10:30"); });
  EXPECT_THAT(lots_in(tub.kitchen, batch), testing::Contains("pack-6 perhaps"));
}

TEST(Tub, IsWorkedOutAnewFromWhatIsRecordedLater) {
  FlourTub tub;
  const std::string batch = tub.sponge("2026-05-01T11:00+01:00");  // of pack-1, from the tub
  Making making;
  making.recipe = "sponge";
  making.use = {{"flour", "pack-6"}};
  const std::string direct = tub.kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  tub.kitchen.at("2026-05-01T15:00+01:00");
  tub.kitchen.done([](Session& s) { return top_up(s, "flour-tub", "pack-6", "2026-05-01T10:30"); });
  const Session session = tub.kitchen.open(true);
  const auto possible = possible_in(session.state(), session.state().batches.at(BatchId{direct}));
  ASSERT_EQ(possible.size(), 1u) << "pack-6 had been in the tub, on top of pack-1";
  EXPECT_EQ(possible.front().lot.text(), "pack-1");
  EXPECT_EQ(possible_in(session.state(), session.state().batches.at(BatchId{batch})).size(), 1u);
}

TEST(Tub, WithAPackPastItsDateStopsWhatIsTakenFromIt) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_tub(s, "butter-tub", {"butter tub", IngredientId{"butter"}}); });
  const std::string old = kitchen.pack("butter", "2026-05-02");
  kitchen.done([&](Session& s) { return top_up(s, "butter-tub", old, ""); });
  kitchen.done([](Session& s) { return top_up(s, "butter-tub", "pack-3", ""); });
  kitchen.at("2026-05-04T09:00+01:00");
  const std::string icing = kitchen.make("icing", grams(298));
  EXPECT_THAT(lots_in(kitchen, icing), testing::Contains(old + " perhaps"));
  EXPECT_THAT(kitchen.stops(cake_of(kitchen, {{icing, grams(298)}})), testing::Contains("use-by"));
}

TEST(Tub, RefusesAnotherFoodAPackTwiceAndOneThatWasWithdrawn) {
  FlourTub tub;
  const auto refused = [&](const std::string& lot) {
    return tub.kitchen.refused([&](Session& s) { return top_up(s, "flour-tub", lot, ""); });
  };
  EXPECT_THAT(refused("pack-2"), HasSubstr("pack-2 is sugar, and flour-tub holds flour"));
  EXPECT_THAT(refused("pack-1"), HasSubstr("was poured into flour-tub already"));
  tub.kitchen.done([](Session& s) { return withdraw(s, "pack-6", "recalled"); });
  EXPECT_THAT(refused("pack-6"), HasSubstr("was withdrawn"));
  tub.sponge("2026-05-01T11:00+01:00");
  EXPECT_THAT(tub.kitchen.refused([](Session& s) { return empty_tub(s, "flour-tub", "2026-05-01T10:30"); }),
              HasSubstr("was made from it after this"));
}

TEST(Tub, IsNamedLikeAPackWhenAnotherIsToBeUsed) {
  FlourTub tub;
  Making making;
  making.recipe = "sponge";
  making.use = {{"flour", "pack-6"}};
  const auto outside = tub.kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  EXPECT_EQ(lots_in(tub.kitchen, outside).front(), "pack-6 100 g");
  making.use = {{"flour", "flour-tub"}};
  const auto inside = tub.kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  EXPECT_EQ(lots_in(tub.kitchen, inside).front(), "pack-1 100 g");
}

TEST(OpenedPack, CountsItsUseWithinFromTheDayItWasOpened) {
  TestKitchen kitchen;
  Json document{Json::Object{{"ingredient", Json{"butter"}},
                             {"supplier", Json{"shop"}},
                             {"label_name", Json{"butter"}},
                             {"checked", Json{"2026-04-30"}},
                             {"checked_against", Json{"the pack"}},
                             {"storage", Json{"fridge"}},
                             {"use_within_days", Json{3}},
                             {"contains", Json{Json::Array{Json{"milk"}}}},
                             {"absent", Json{Json::Object{{"all_others", Json{true}}, {"evidence", Json{"sheet"}}}}}}};
  kitchen.done([&](Session& s) { return add_specifications(s, {{"butter.json", write_pretty(document)}}); });
  const std::string butter = kitchen.pack("butter", "2026-06-30");
  kitchen.done([&](Session& s) { return open_pack(s, butter, ""); });
  kitchen.at("2026-05-03T09:00+01:00");
  Making making;
  making.recipe = "icing";
  making.use = {{"butter", butter}};
  const auto icing = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  const auto judged = kitchen.judged(cake_of(kitchen, {{icing, grams(298)}}));
  EXPECT_EQ(format_date(*judged.life->date), "2026-05-04") << "opened on the 1st, to be used within 3 days, not counted from its first use";
  EXPECT_THAT(kitchen.refused([&](Session& s) { return open_pack(s, butter, ""); }), HasSubstr("was opened on 1 May 2026 already"));
}

TEST(LeftOver, IsABatchOfItsOwnThatCarriesOnWhatTheFirstOneMet) {
  TestKitchen kitchen;
  const std::string praline = kitchen.make("praline", grams(198));
  kitchen.at("2026-05-02T09:00+01:00");
  const auto booked = kitchen.done([&](Session& s) { return keep_left_over(s, {praline, grams(50), true, {}, ""}); });
  const std::string kept = booked.subjects.front();
  EXPECT_EQ(remaining_mg(kitchen.open(true).state(), praline), 148'000);
  EXPECT_EQ(remaining_mg(kitchen.open(true).state(), kept), 50'000);
  const std::string cake = cake_of(kitchen, {{kept, grams(50)}});
  const auto judged = kitchen.judged(cake);
  EXPECT_THAT(judged.made->lots.front().paths.front(), HasSubstr(kept + " (praline) → " + praline + " (praline)"));
  EXPECT_EQ(format_date(*judged.life->date), "2026-05-05") << "four days after the day it was first made, not after it was kept";
}

TEST(LeftOver, OfARawEggStepIsJudgedByTheBatchItCameFrom) {
  TestKitchen kitchen;
  kitchen.recipe("curd", R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "190 g", "bowl", "raw, heated here",
                 "fridge", R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food")");
  const std::string curd = kitchen.make("curd", grams(190));
  const auto kept = kitchen.done([&](Session& s) { return keep_left_over(s, {curd, {}, false, {}, ""}); }).subjects.front();
  const std::string cake = cake_of(kitchen, {{kept, grams(190)}});
  EXPECT_THAT(kitchen.verdicts(cake, "egg-heat"), testing::ElementsAre(testing::AllOf(HasSubstr(curd), Not(HasSubstr(": shown")))));
}

TEST(LeftOver, OfMoreThanIsLeftIsRefused) {
  TestKitchen kitchen;
  const std::string praline = kitchen.make("praline", grams(198));
  EXPECT_THAT(kitchen.refused([&](Session& s) {
    return keep_left_over(s, {praline, grams(199), false, {}, ""});
  }),
              HasSubstr("more than the 198 g that is left"));
  cake_of(kitchen, {{praline, grams(198)}});
  EXPECT_THAT(kitchen.refused([&](Session& s) { return keep_left_over(s, {praline, {}, false, {}, ""}); }), HasSubstr("nothing is left"));
}

TEST(SameAsLastTime, FillsADeliveryAndABatchAndLeavesWhatIsGiven) {
  TestKitchen kitchen;
  Delivery delivery;
  delivery.ingredient = "butter";
  delivery.code = "B2";
  delivery.use_by = parse_date("2026-07-31");
  delivery.again = true;
  const auto pack = kitchen.done([&](Session& s) { return receive(s, delivery); }).subjects.front();
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.state().lots.at(LotId{pack}).value.supplier.text(), "shop");
  EXPECT_EQ(session.state().lots.at(LotId{pack}).value.mass, grams(2000));
  Making making;
  making.recipe = "icing";
  making.weighed = {{"butter", grams(120)}};
  making.yield = grams(310);
  kitchen.done([&](Session& s) { return make_batch(s, making); });
  Making again;
  again.recipe = "icing";
  again.again = true;
  const auto second = kitchen.done([&](Session& s) { return make_batch(s, again); }).subjects.front();
  const Session after = kitchen.open(true);
  const Batch& batch = after.state().batches.at(BatchId{second}).value;
  EXPECT_EQ(batch.yield, grams(310));
  EXPECT_FALSE(batch.weighed) << "what another batch weighed is an estimate of this one";
  EXPECT_EQ(batch.uses.front().mass, grams(120));
}

TEST(SameAsLastTime, IsRefusedTheFirstTime) {
  TestKitchen kitchen;
  kitchen.food("cream", "none", {"milk"});
  Delivery delivery;
  delivery.ingredient = "cream";
  delivery.again = true;
  EXPECT_THAT(kitchen.refused([&](Session& s) { return receive(s, delivery); }), HasSubstr("no earlier delivery of cream"));
  Making making;
  making.recipe = "icing";
  making.again = true;
  EXPECT_THAT(kitchen.refused([&](Session& s) { return make_batch(s, making); }), HasSubstr("no earlier batch of icing"));
}

TEST(Tier, OfABatchWithoutAMassTakesAllThatIsLeftAsAnEstimate) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = kitchen.cake();
  const Tiering tiering{cake, "only", {{sponge, std::nullopt}}, false, {}, ""};
  kitchen.done([&](Session& s) { return build_tier(s, tiering); });
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.state().tiers.front().value.parts.front().mass, grams(270));
  EXPECT_FALSE(session.state().tiers.front().value.parts.front().weighed);
  const Tiering second{cake, "top", {{sponge, std::nullopt}}, false, {}, ""};
  EXPECT_THAT(kitchen.refused([&](Session& s) { return build_tier(s, second); }), HasSubstr("nothing is left"));
}

}  // namespace
}  // namespace tierproof
