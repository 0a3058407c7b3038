// The egg of a batch on the record, what is known before anybody cooks, and weighings.
#include "tierproof/app/before_cooking.h"

#include "app/app_for_tests.h"
#include "tierproof/app/stores.h"

namespace tierproof {
namespace {

constexpr const char* meringue_items = R"([{"of": "eggs", "mass": "80 g"}, {"of": "sugar", "mass": "160 g"}])";
constexpr const char* poured = R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food", "syrup_target": "118 C")";

std::string document_of_meringue(const std::string& items, const std::string& more) {
  return R"({"recipe": "meringue", "name": "meringue", "part": "icing", "items": )" + items +
         R"(, "yield": "225 g", "kit": ["whisk"], "egg": "raw, heated here", "storage": "room", "life_days": 4, "life_reason": "decided")" +
         poured + more + "}";
}

struct Told {
  EggBeforehand egg;
  std::string all;
};
Told told_of(TestKitchen& kitchen, const std::string& recipe = "meringue") {
  const auto told = before_cooking(kitchen.open(true), {recipe, {}});
  EXPECT_TRUE(told.has_value());
  Told found{told->egg, ""};
  for (const auto& line : told->egg.lines) found.all += line + "\n";
  return found;
}
Told told_of_meringue(const std::string& items, const std::string& more) {
  TestKitchen kitchen;
  kitchen.done([&](Session& s) { return add_recipes(s, {{"meringue.json", document_of_meringue(items, more)}}); });
  return told_of(kitchen);
}

// 80 g of white at 20 °C, 160 g of sugar, 118 °C, 500 g of steel at 20 °C, worked out apart from this program for the
// sea: 58.3, 64.7, 65.9. The kitchen of these tests lies 40 m higher.
TEST(BoiledMeringue, IsToldItsBalanceAndNeverThatItIsShown) {
  const Told told = told_of_meringue(meringue_items, R"(, "bowl": {"mass": "500 g", "of": "steel"}, "egg_white_at": "20 C")");
  ASSERT_TRUE(told.egg.heat.has_value());
  EXPECT_NEAR(told.egg.heat->lower, 58.3, 0.2);
  EXPECT_NEAR(told.egg.heat->central, 64.7, 0.2);
  EXPECT_NEAR(told.egg.heat->upper, 65.9, 0.2);
  EXPECT_NEAR(told.egg.heat->ceiling, 83.0, 0.2);
  EXPECT_EQ(told.egg.verdict, "not shown without a reading in the mix");
  EXPECT_THAT(told.egg.lines.front(), HasSubstr("pasteurised egg white")) << "the first advice";
  EXPECT_THAT(told.all, HasSubstr("500 g, at 20 °C"));
  EXPECT_THAT(told.all, HasSubstr("2.00 : 1"));
  EXPECT_THAT(told.all, HasSubstr("common practice, no source"));
  EXPECT_THAT(told.all, HasSubstr("80 °C: not shown without a reading in the mix."));
  EXPECT_THAT(told.all, Not(HasSubstr(": shown")));
}

// 1 : 1 with white from the fridge: 56.6 °C at the most, below every row of the rules.
TEST(BoiledMeringue, IsToldWhatItCannotReach) {
  const Told cold = told_of_meringue(R"([{"of": "eggs", "mass": "80 g"}, {"of": "sugar", "mass": "80 g"}])", R"(, "egg_white_at": "5 C")");
  ASSERT_TRUE(cold.egg.heat.has_value());
  EXPECT_NEAR(cold.egg.heat->ceiling, 56.6, 0.2);
  EXPECT_EQ(cold.egg.verdict, "cannot reach");
  EXPECT_THAT(cold.all, HasSubstr("60 °C: cannot reach."));
  EXPECT_THAT(cold.all, HasSubstr("no bowl recorded"));
  // At 20 °C it comes to 65.5 °C at the most: some rows can be reached, others not.
  const Told warm = told_of_meringue(R"([{"of": "eggs", "mass": "80 g"}, {"of": "sugar", "mass": "80 g"}])", R"(, "egg_white_at": "20 C")");
  EXPECT_EQ(warm.egg.verdict, "not shown without a reading in the mix");
  EXPECT_THAT(warm.all, HasSubstr("70 °C: cannot reach."));
  EXPECT_THAT(warm.all, HasSubstr("65 °C: not shown without a reading in the mix."));
}

TEST(BoiledMeringue, IsNotBalancedByWhatIsNotRecorded) {
  const Told told = told_of_meringue(meringue_items, "");
  EXPECT_FALSE(told.egg.heat.has_value());
  EXPECT_EQ(told.egg.verdict, "not shown without a reading in the mix");
  EXPECT_THAT(told.all, HasSubstr("egg_white_at"));
}

TEST(BoiledMeringue, IsNotBalancedWithGlucoseOrAcidInThePan) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_ingredient(s, "tartar", Ingredient{"cream of tartar", false, false, false, "none"}); });
  kitchen.done([](Session& s) { return add_ingredient(s, "secret", Ingredient{"our syrup", false, true, false, "none", "glucose"}); });
  const std::string with_tartar = R"([{"of": "eggs", "mass": "80 g"}, {"of": "sugar", "mass": "80 g"}, {"of": "tartar", "mass": "1 g"}])";
  const auto record = [&](const std::string& items, const std::string& more) {
    kitchen.done([&](Session& s) { return add_recipes(s, {{"meringue.json", document_of_meringue(items, more)}}); });
    return told_of(kitchen);
  };
  const Told perhaps = record(with_tartar, R"(, "egg_white_at": "5 C")");
  EXPECT_FALSE(perhaps.egg.heat.has_value());
  EXPECT_EQ(perhaps.egg.verdict, "not shown without a reading in the mix") << "it cannot be said that it cannot be reached";
  EXPECT_THAT(perhaps.all, HasSubstr("cream of tartar (acid) perhaps in the pan"));
  const Told in_the_white = record(with_tartar, R"(, "egg_white_at": "5 C", "boiled_together": ["sugar"])");
  EXPECT_EQ(in_the_white.egg.verdict, "cannot reach");
  const Told named = record(R"([{"of": "eggs", "mass": "80 g"}, {"of": "sugar", "mass": "80 g"}, {"of": "secret", "mass": "9 g"}])",
                            R"(, "egg_white_at": "5 C", "boiled_together": ["sugar", "secret"])");
  EXPECT_FALSE(named.egg.heat.has_value());
  EXPECT_THAT(named.all, HasSubstr("our syrup (glucose) in the pan"));
  // Sugar that its pack says has citric acid in it.
  const std::string jam_sugar =
      R"({"ingredient": "sugar", "supplier": "shop", "label_name": "jam sugar", "checked": "2026-05-01", "checked_against": "the pack",)"
      R"( "storage": "room", "parts": ["sugar 99 %", {"name": "E330", "additive": "E330", "class": "acid"}],)"
      R"( "absent": {"all_others": true, "evidence": "sheet"}})";
  kitchen.done([&](Session& s) { return add_specifications(s, {{"sugar.json", jam_sugar}}); });
  EXPECT_THAT(record(meringue_items, R"(, "egg_white_at": "5 C", "boiled_together": ["sugar"])").all, HasSubstr("sugar (acid) in the pan"));
}

TEST(BoiledMeringue, OfEggInAPartThatWasMadeBeforeIsNotPassedOver) {
  TestKitchen kitchen;
  kitchen.recipe("base", R"([{"of": "eggs", "mass": "80 g"}])", "80 g", "bowl", "raw, not heated", "fridge");
  kitchen.recipe(
      "bombe", R"([{"of": "base", "recipe": true, "mass": "80 g"}, {"of": "sugar", "mass": "80 g"}])", "150 g", "bowl", "raw, heated here",
      "fridge",
      R"(, "heated_together": ["base", "sugar"], "heat_food": "core of a cooked food", "syrup_target": "118 C", "egg_white_at": "5 C")");
  const Told told = told_of(kitchen, "bombe");
  EXPECT_EQ(told.egg.verdict, "not shown without a reading in the mix");
  EXPECT_FALSE(told.egg.heat.has_value()) << "what the part brings is not known here";
  EXPECT_THAT(told_of(kitchen, "base").all, HasSubstr("Raw egg that is not heated"));
}

TEST(BoiledMeringue, OfABatchGoesByWhatWentInAndTheHottestItsSyrupMayHaveBeen) {
  TestKitchen kitchen;
  kitchen.done([&](Session& s) {
    return add_recipes(s, {{"meringue.json", document_of_meringue(meringue_items, R"(, "egg_white_at": "5 C")")}});
  });
  Making making;
  making.recipe = "meringue";
  making.yield = grams(150);
  making.weighed = {{"eggs", grams(80)}, {"sugar", grams(80)}};
  const std::string batch = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  const std::string cake = cake_of(kitchen, {{batch, grams(100)}});
  const auto ceiling = [&] {
    std::string told;
    for (const auto& path : the_finding(kitchen, cake, "egg-heat").paths) told += path + "\n";
    return told;
  };
  EXPECT_THAT(ceiling(), HasSubstr("60 °C: cannot reach."));
  EXPECT_THAT(ceiling(), HasSubstr("boiled to 118 °C"));
  ReadingTyped typed;
  typed.probe = "fork";
  typed.read = Degrees{12150, Scale::celsius};
  typed.about = batch;
  typed.purpose = "syrup";
  typed.at = "now";
  kitchen.done([&](Session& s) { return type_reading(s, typed); });
  EXPECT_THAT(ceiling(), HasSubstr("boiled to 122.05 °C")) << "as read, with the thermometer's error of 0.5 and half a step of 0.1";
}

TEST(BoiledMeringue, OfASyrupHotterThanAnySyrupIsJudgedAllTheSame) {
  TestKitchen kitchen;
  kitchen.done([&](Session& s) {
    return add_recipes(s, {{"meringue.json", document_of_meringue(meringue_items, R"(, "egg_white_at": "20 C")")}});
  });
  const std::string batch = kitchen.make("meringue", grams(225));
  kitchen.at("2026-05-01T08:30+01:00");
  kitchen.done([&](Session& s) { return import_csv(s, "fork", batch, "syrup", "2026-05-01T08:20:00+01:00,244.0\n"); });
  const Finding egg = the_finding(kitchen, cake_of(kitchen, {{batch, grams(200)}}), "egg-heat");
  EXPECT_NE(egg.verdict, Verdict::shown);
  std::string all;
  for (const auto& path : egg.paths) all += path + "\n";
  EXPECT_THAT(all, HasSubstr("outside the model of the balance"));
}

TEST(WaterBath, GoesByTheSugarOfTheMix) {
  TestKitchen kitchen;
  kitchen.recipe("swiss", R"([{"of": "eggs", "mass": "80 g"}, {"of": "sugar", "mass": "150 g"}])", "225 g", "bowl", "raw, heated here",
                 "room", R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food")");
  const Told told = told_of(kitchen, "swiss");
  EXPECT_THAT(told.egg.lines.front(), HasSubstr("pasteurised egg white"));
  EXPECT_THAT(told.all, HasSubstr("Sugar is 65.2 % of what is heated"));
  EXPECT_THAT(told.all, HasSubstr("outside the model"));
  EXPECT_THAT(told.all, HasSubstr("low-water-activity")) << "62 to 67.5 % of sugar is its range";
  EXPECT_EQ(told.egg.verdict, "");
  kitchen.recipe("custard", R"([{"of": "eggs", "mass": "100 g"}])", "95 g", "bowl", "raw, heated here", "room",
                 R"(, "heated_together": ["eggs"], "heat_food": "core of a cooked food")");
  EXPECT_THAT(told_of(kitchen, "custard").all, HasSubstr("speak of such a mix"));
  EXPECT_EQ(told_of(kitchen, "sponge").all, "") << "baked through";
}

// ---- weighings --------------------------------------------------------------------------------------------------------------

/// Flour, sugar and eggs of known water: 14, 0 and 76 g in 100 g, so 210 g of 300 g are dry.
class Weighed {
 public:
  Weighed() {
    for (const auto& [of, water] : {std::pair{"flour", "14 %"}, std::pair{"sugar", "0 %"}, std::pair{"eggs", "76 %"}}) {
      const std::string text = std::string{R"({"ingredient": ")"} + of + R"(", "supplier": "shop", "label_name": ")" + of +
                               R"(", "checked": "2026-05-01", "checked_against": "the pack", "storage": "room", "water": ")" + water +
                               R"(", "absent": {"all_others": true, "evidence": "sheet"}})";
      kitchen.done([&](Session& s) { return add_specifications(s, {{"x.json", text}}); });
      use.emplace_back(of, kitchen.pack(of, "2026-06-20"));
    }
  }
  Making making(std::int64_t yield_g, std::int64_t left_behind_g = 0) const {
    Making making;
    making.recipe = "sponge";
    making.yield = grams(yield_g);
    if (left_behind_g > 0) making.left_behind = grams(left_behind_g);
    making.use = use;
    return making;
  }
  std::string make(std::int64_t yield_g, std::int64_t left_behind_g = 0) {
    const Making asked = making(yield_g, left_behind_g);
    return kitchen.done([&](Session& s) { return make_batch(s, asked); }).subjects.front();
  }
  std::string refused(std::int64_t yield_g, std::int64_t left_behind_g = 0) {
    const Making asked = making(yield_g, left_behind_g);
    return kitchen.refused([&](Session& s) { return make_batch(s, asked); });
  }
  std::vector<std::string> words(const std::string& batch) const { return weighing_in_words(kitchen.open(true).state(), BatchId{batch}); }
  TestKitchen kitchen;
  std::vector<std::pair<std::string, std::string>> use;
};

TEST(Weighing, CannotBeLessThanTheDryMatterThatWentIn) {
  Weighed sponge;
  EXPECT_THAT(sponge.refused(209), HasSubstr("210.0 g of dry matter"));
  EXPECT_THAT(sponge.refused(209), HasSubstr("--left-behind"));
  sponge.make(210);
  sponge.make(200, 10);
  EXPECT_THAT(sponge.refused(200, 9), HasSubstr("9 g that stayed behind"));
  EXPECT_THAT(sponge.refused(295, 6), HasSubstr("more than went in"));
}

TEST(Weighing, OfPacksThatDoNotTellTheirWaterIsNotRefusedForIt) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("sponge", grams(50));
  EXPECT_THAT(weighing_in_words(kitchen.open(true).state(), BatchId{batch}), testing::IsEmpty());
}

TEST(Weighing, TellsTheWaterByWeight) {
  Weighed sponge;
  // 300 g with 210 g of dry matter to 262.5 g: 20 % of water, 12.5 % lost.
  const auto words = sponge.words(sponge.make(262, 0));
  ASSERT_EQ(words.size(), 1u);
  EXPECT_THAT(words.front(), HasSubstr("lost 12.7 % and now holds 19.8 % of water"));
}

TEST(Weighing, IsHeldAgainstTheEarlierOnesOfItsRecipe) {
  Weighed sponge;
  sponge.make(270);
  EXPECT_THAT(sponge.words(sponge.make(240)), testing::SizeIs(1)) << "one weighing is no spread";
  const auto inside = sponge.words(sponge.make(255));
  EXPECT_THAT(inside, testing::SizeIs(1));
  const auto outside = sponge.words(sponge.make(230));
  ASSERT_EQ(outside.size(), 2u);
  EXPECT_THAT(outside.front(),
              HasSubstr("lost 23.3 %, outside what 3 earlier weighings of this recipe lost: 10.0 % to 20.0 %, middle 15.0 %"));
  const auto told = before_cooking(sponge.kitchen.open(true), {"sponge", {}});
  ASSERT_TRUE(told.has_value() && told->losses.has_value());
  EXPECT_EQ(told->losses->weighings, 4);
  EXPECT_NEAR(told->losses->most, 70.0 / 300, 1e-9);
  // A new version of the recipe has no weighings yet, and an estimate is none.
  sponge.kitchen.recipe("sponge",
                        R"([{"of": "flour", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}, {"of": "eggs", "mass": "110 g"}])", "270 g",
                        "tin", "baked through", "room");
  EXPECT_FALSE(before_cooking(sponge.kitchen.open(true), {"sponge", {}})->losses.has_value());
}

// ---- tins -------------------------------------------------------------------------------------------------------------------

TEST(RecipeForATin, IsMadeForOthersByVolume) {
  TestKitchen kitchen;
  EXPECT_FALSE(before_cooking(kitchen.open(true), {"sponge", {*read_tin("round:8:3")}}).has_value()) << "no tin is recorded for it";
  kitchen.recipe("sponge", R"([{"of": "flour", "mass": "90 g"}, {"of": "sugar", "mass": "90 g"}, {"of": "eggs", "mass": "90 g"}])", "252 g",
                 "tin", "baked through", "room", R"(, "tin": "round:6:3", "portions": 12)");
  const auto told = before_cooking(kitchen.open(true), {"sponge", {*read_tin("round:8:3")}});
  ASSERT_TRUE(told.has_value() && told->scaled.has_value());
  EXPECT_EQ(told->scaled->factor, share_of(16, 9));
  EXPECT_EQ(told->scaled->items.front().second, grams(160));
  EXPECT_EQ(told->scaled->yield, grams(448));
  EXPECT_EQ(told->scaled->portions, 21) << "21.3 rounded down";
  std::string all;
  for (const auto& line : told->scaled->told) all += line + "\n";
  EXPECT_THAT(all, HasSubstr("doubling is 12.5 % too much"));
  Making making;
  making.recipe = "sponge";
  making.tins = {*read_tin("round:8:3")};
  const std::string batch = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  EXPECT_EQ(kitchen.open(true).state().batches.at(BatchId{batch}).value.uses.front().mass, grams(160));
  making.times = 2;
  EXPECT_THAT(kitchen.refused([&](Session& s) { return make_batch(s, making); }), HasSubstr("--tin"));
}

TEST(RecipeForATin, ReadsTinsInInchesAndCentimetres) {
  EXPECT_EQ(read_tin("round:8:3")->across, 2032);
  EXPECT_EQ(read_tin("square:20cm:7.5cm")->across, 2000);
  EXPECT_EQ(read_tin("square:20cm:7.5cm")->depth, 750);
  EXPECT_EQ(read_tin("2xround:6.5:3")->count, 2);
  EXPECT_EQ(read_tin("2xround:6.5:3")->across, 1651);
  for (const char* wrong :
       {"", "round", "round:8", "oval:8:3", "round:0:3", "round:8:-3", "0xround:8:3", "1.5xround:8:3", "round:8:3:1", "round:8.1:3"})
    EXPECT_FALSE(read_tin(wrong).has_value()) << wrong;
  EXPECT_EQ(tin_in_words(*read_tin("2xround:6.5:3")), "2 round, 6.5 in across, 3 in deep");
  EXPECT_EQ(tin_in_words(*read_tin("square:20cm:7.5cm")), "square, 20.00 cm across, 7.50 cm deep");
}

}  // namespace
}  // namespace tierproof
