// When the hazard plan has to be looked at again, and what it says of the recipes.
#include <fmt/format.h>

#include "app/plan_for_tests.h"
#include "tierproof/app/kit_care.h"
#include "tierproof/app/stores.h"

namespace tierproof {
namespace {

TEST(PlanReview, IsSignedByThePersonThemselves) {
  TestKitchen kitchen;
  const auto review = [&](const PlanReviewing& reviewing) {
    return kitchen.refused([&](Session& s) { return review_plan(s, reviewing); });
  };
  EXPECT_THAT(review({"nothing", "", "Ada Sample", ""}), HasSubstr("taken over no plan yet"));
  take(kitchen, starting());
  EXPECT_THAT(review({"nothing", "", "Somebody Else", ""}),
              HasSubstr("--signed: \"Somebody Else\" is not the name that ada is recorded under"));
  EXPECT_THAT(review({"something", "", "Ada Sample", ""}), HasSubstr("--what: is missing"));
  EXPECT_THAT(review({"nothing", "a new fridge", "Ada Sample", ""}), HasSubstr("--what: tells of a change"));
  EXPECT_THAT(review({"perhaps", "", "Ada Sample", ""}), HasSubstr("--changed: \"perhaps\""));
  kitchen.done([](Session& s) { return review_plan(s, {"nothing", "", "Ada Sample", ""}); });
  const Session session = kitchen.open(true);
  ASSERT_EQ(session.state().plan_reviews.size(), 1u);
  EXPECT_EQ(session.state().plan_reviews.front().value.plan, session.state().plans.front().place);
  EXPECT_EQ(session.state().plan_reviews.front().value.signed_by.text, "Ada Sample");
}

TEST(PlanReview, IsDueAfterTheTimeThatThePlanStatesAndAfterAnyChange) {
  TestKitchen kitchen;
  const auto due = [&] { return plan_review_due(kitchen.open(true)); };
  EXPECT_FALSE(due().taken);
  EXPECT_TRUE(due().is_due());
  kitchen.at("2026-08-31T08:00+01:00");
  HazardPlan plan = starting();
  plan.review_months = 6;
  take(kitchen, plan);
  EXPECT_FALSE(due().is_due());
  EXPECT_EQ(due().due, *parse_date("2027-02-28")) << "six months after 31 August end with February";
  kitchen.at("2027-02-28T23:00+00:00");
  EXPECT_FALSE(due().is_due());
  kitchen.at("2027-03-01T00:30+00:00");
  EXPECT_TRUE(due().over);
  kitchen.done([](Session& s) { return review_plan(s, {"nothing", "", "Ada Sample", ""}); });
  EXPECT_FALSE(due().is_due());
  kitchen.done([](Session& s) { return add_place(s, "cellar", Place{"cellar", "room"}); });
  kitchen.done([](Session& s) { return change_kit(s, "bowl", "a new bowl", ""); });
  kitchen.done([](Session& s) { return add_supplier(s, "mill", Supplier{{"Example Mill", "1 Mill Lane"}, {}, {}}); });
  kitchen.recipe("icing", R"([{"of": "sugar", "mass": "100 g"}])", "95 g", "bowl", "none", "room");
  EXPECT_TRUE(due().is_due());
  EXPECT_EQ(due().since.size(), 4u);
  EXPECT_THAT(due().since.back(), HasSubstr("recipe (icing)"));
  kitchen.done([](Session& s) { return review_plan(s, {"something", "a cellar, a bowl, a mill and an icing", "Ada Sample", ""}); });
  EXPECT_FALSE(due().is_due());
}

TEST(PlanReview, KeepsWhatChangedApartForErasing) {
  TestKitchen kitchen;
  take(kitchen, starting());
  const auto note = kitchen.done([](Session& s) {
                             return review_plan(s, {"something", "Cy has left", "Ada Sample", ""});
                           })
                        .sequences.front();
  const Session session = kitchen.open(true);
  EXPECT_THAT(write_canonical(tip_of(session.notes(), note)->body), Not(HasSubstr("Cy has left")));
  EXPECT_EQ(session.state().plan_reviews.front().value.what.text, "Cy has left");
}

TEST(PlanOfRecipes, SaysWhichRowsARecipeMeetsAndWhichStepsNoRowIsAbout) {
  TestKitchen kitchen;
  kitchen.recipe("meringue", R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "290 g", "bowl", "raw, not heated",
                 "fridge");
  kitchen.recipe("praline", R"([{"of": "almonds", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "195 g", "tin", "none", "room");
  const auto of = [&](const HazardPlan& plan, const std::string& id) {
    const Session session = kitchen.open(true);
    for (auto& recipe : recipes_in(session, plan)) {
      if (recipe.recipe == RecipeId{id}) return recipe;
    }
    ADD_FAILURE() << id;
    return RecipeInPlan{};
  };
  const auto meringue = of(starting(), "meringue");
  EXPECT_THAT(meringue.traits, testing::ElementsAre("raw egg", "kept cold"));
  EXPECT_THAT(meringue.rows, testing::IsSupersetOf({"egg-heat", "cold-hold", "shells", "allergens-known"}));
  EXPECT_TRUE(meringue.uncovered.empty());
  const auto praline = of(starting(), "praline");
  EXPECT_THAT(praline.rows, Not(testing::Contains("egg-heat")));
  EXPECT_THAT(praline.rows, testing::Contains("out-of-fridge"));
  kitchen.recipe("icing", R"([{"of": "sugar", "mass": "100 g"}])", "95 g", "tin", "none", "room");
  EXPECT_THAT(of(starting(), "icing").traits, testing::Contains("allergens on shared kit")) << "the praline is made in the same tin";
  HazardPlan plan = starting();
  for (auto& row : plan.rows) std::erase(row.met_by, "raw egg");
  EXPECT_THAT(of(plan, "meringue").uncovered, testing::ElementsAre("raw egg"));
  for (auto& row : plan.rows) row.met_by.clear();
  EXPECT_THAT(of(plan, "praline").uncovered, testing::Contains("every recipe"));
}

TEST(PlanReview, CoversNothingThatWasWrittenAfterItHappened) {
  TestKitchen kitchen;
  const auto due = [&] { return plan_review_due(kitchen.open(true)); };
  kitchen.at("2026-05-05T08:00+01:00");
  take(kitchen, starting());
  kitchen.at("2026-05-08T08:00+01:00");
  kitchen.done([](Session& s) { return add_place(s, "cellar", Place{"cellar", "room"}); });
  kitchen.at("2026-05-10T08:00+01:00");
  kitchen.done([](Session& s) { return add_place(s, "tall", Place{"tall fridge", "fridge"}); });
  kitchen.at("2026-05-12T08:00+01:00");
  kitchen.done([](Session& s) { return review_plan(s, {"nothing", "", "Ada Sample", "2026-05-09T18:00+01:00"}); });
  ASSERT_EQ(due().since.size(), 1u) << "the fridge came a day after somebody looked, the cellar a day before";
  EXPECT_THAT(due().since.front(), HasSubstr("place (tall)"));
  EXPECT_THAT(due().last, HasSubstr("reviewed on 9 May 2026"));
  EXPECT_EQ(due().due, *parse_date("2027-05-09")) << "counted from the day it happened";
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return review_plan(s, {"nothing", "", "Ada Sample", "2026-05-04T18:00+01:00"});
  }),
              HasSubstr("--at: is before this plan was taken over, on 5 May 2026"));
  // An earlier look, typed afterwards, neither shortens the time nor takes back what a later one covered.
  kitchen.done([](Session& s) { return review_plan(s, {"nothing", "", "Ada Sample", ""}); });
  kitchen.done([](Session& s) { return review_plan(s, {"nothing", "", "Ada Sample", "2026-05-06T18:00+01:00"}); });
  EXPECT_FALSE(due().is_due());
  EXPECT_EQ(due().due, *parse_date("2027-05-12"));
}

TEST(PlanReview, ThatIsCorrectedCoversNoMoreThanBefore) {
  TestKitchen kitchen;
  take(kitchen, starting());
  const auto review = kitchen.done([](Session& s) { return review_plan(s, {"nothing", "", "Ada Sample", ""}); }).sequences.front();
  kitchen.done([](Session& s) { return add_place(s, "tall", Place{"tall fridge", "fridge"}); });
  ASSERT_EQ(plan_review_due(kitchen.open(true)).since.size(), 1u);
  correct_note(kitchen, review, {{"changed", Json{"something"}}});
  EXPECT_EQ(plan_review_due(kitchen.open(true)).since.size(), 1u);
}

TEST(PlanReview, IsDueAfterAnyChangeThatItSaysItLooksAt) {
  TestKitchen kitchen;
  take(kitchen, starting());
  const auto about = [&](const std::string& kind) {
    const auto since = plan_review_due(kitchen.open(true)).since;
    const auto looks = plan_review_looks_at();
    EXPECT_THAT(looks, testing::Contains(kind));
    EXPECT_THAT(since.empty() ? "" : since.back(), HasSubstr(": " + kind + " ("));
    kitchen.done([](Session& s) { return review_plan(s, {"nothing", "", "Ada Sample", ""}); });
    EXPECT_FALSE(plan_review_due(kitchen.open(true)).is_due());
  };
  kitchen.done([](Session& s) { return add_ingredient(s, "rum", Ingredient{"rum", false, false, false, "none"}); });
  about("ingredient");
  kitchen.specification("rum", {});
  about("what the pack says");
  kitchen.done([](Session& s) { return add_probe(s, "second", Probe{"second thermometer", Scale::celsius, 50, 10, "food", {}}); });
  about("thermometer");
  kitchen.done([](Session& s) { return add_tub(s, "sugar-tub", Tub{"sugar tub", IngredientId{"sugar"}}); });
  about("tub");
  kitchen.done([](Session& s) {
    return file_cleaning_validation(
        s,
        {EquipmentId{"bowl"}, "hot wash", {"nuts:almond"}, RecipeId{"praline"}, 0, "a laboratory", "folder 3", *parse_date("2026-04-01")});
  });
  about("evidence that a way of cleaning works");
  kitchen.done([](Session& s) { return change_kit(s, "bowl", "a new bowl", ""); });
  about("piece of kit changed");
  correct_note(kitchen, 1, {{"temperature_rules", Json{"gb-sct"}}});
  about("particulars of the kitchen");
  kitchen.pack("sugar", "2026-06-30");
  EXPECT_FALSE(plan_review_due(kitchen.open(true)).is_due()) << "a delivery is no change of the work";
}

TEST(PlanOfRecipes, CountWhatIsNotKnownOfKitAndAllergensAsShared) {
  TestKitchen kitchen;
  const auto of = [&](const std::string& id) {
    const Session session = kitchen.open(true);
    for (auto& recipe : recipes_in(session, starting())) {
      if (recipe.recipe == RecipeId{id}) return recipe;
    }
    ADD_FAILURE() << id;
    return RecipeInPlan{};
  };
  const std::string shared = "allergens on shared kit";
  kitchen.done([](Session& s) { return add_equipment(s, "pan", "pan"); });
  kitchen.done([](Session& s) { return add_equipment(s, "mill", "mill"); });
  const std::string items = R"([{"of": "sugar", "mass": "100 g"}])";
  kitchen.recipe("plain", items, "95 g", "pan", "none", "room");
  kitchen.recipe("again", items, "95 g", "pan", "none", "room");
  EXPECT_THAT(of("plain").traits, Not(testing::Contains(shared))) << "the same allergens, on one pan";
  // Two recipes of one ingredient whose allergens nobody knows may still be of two packs.
  kitchen.food("essence", "none", {}, {"soybeans"});
  const std::string essence = R"([{"of": "essence", "mass": "100 g"}])";
  kitchen.recipe("first", essence, "95 g", "mill", "none", "room");
  EXPECT_THAT(of("first").traits, Not(testing::Contains(shared))) << "nothing else is made with the mill";
  kitchen.recipe("second", essence, "95 g", "mill", "none", "room");
  EXPECT_THAT(of("first").traits, testing::Contains(shared));
  EXPECT_THAT(not_known_of(kitchen.open(true), RecipeId{"first"}), testing::ElementsAre("an allergen of what goes in"));
  EXPECT_THAT(not_known_of(kitchen.open(true), RecipeId{"plain"}), testing::IsEmpty());
}

TEST(PlanOfRecipes, WithoutKitShareWithAll) {
  TestKitchen kitchen;
  const auto of = [&](const std::string& id) {
    const Session session = kitchen.open(true);
    for (auto& recipe : recipes_in(session, starting())) {
      if (recipe.recipe == RecipeId{id}) return recipe;
    }
    ADD_FAILURE() << id;
    return RecipeInPlan{};
  };
  const std::string shared = "allergens on shared kit";
  ASSERT_THAT(of("sponge").traits, Not(testing::Contains(shared)));
  const std::string bare = R"({"recipe": "dust", "name": "dust", "part": "decoration", "items": [{"of": "sugar", "mass": "100 g"}],
    "yield": "100 g", "kit": [], "egg": "none", "storage": "room", "life_days": 4, "life_reason": "the maker's decision"})";
  kitchen.done([&](Session& s) { return add_recipes(s, {{"dust.json", bare}}); });
  EXPECT_THAT(of("dust").traits, testing::Contains(shared));
  EXPECT_THAT(not_known_of(kitchen.open(true), RecipeId{"dust"}), testing::ElementsAre("kit not recorded"));
  EXPECT_THAT(of("sponge").traits, testing::Contains(shared)) << "the dust may be made with its tin";
}

TEST(PlanOfRecipes, MayContainIsADifferenceToo) {
  TestKitchen kitchen;
  const std::string text = R"({"ingredient": "cocoa", "supplier": "shop", "label_name": "cocoa", "checked": "2026-04-30",
    "checked_against": "the pack", "storage": "room", "may_contain": ["milk"], "absent": {"all_others": true, "evidence": "sheet"}})";
  kitchen.done([](Session& s) { return add_ingredient(s, "cocoa", Ingredient{"cocoa", false, false, false, "none"}); });
  kitchen.done([&](Session& s) { return add_specifications(s, {{"cocoa.json", text}}); });
  kitchen.done([](Session& s) { return add_equipment(s, "pan", "pan"); });
  kitchen.recipe("plain", R"([{"of": "sugar", "mass": "100 g"}])", "95 g", "pan", "none", "room");
  kitchen.recipe("dark", R"([{"of": "cocoa", "mass": "100 g"}])", "95 g", "pan", "none", "room");
  const Session session = kitchen.open(true);
  int looked = 0;
  for (const auto& recipe : recipes_in(session, starting())) {
    if (recipe.name != "plain" && recipe.name != "dark") continue;
    ++looked;
    EXPECT_THAT(recipe.traits, testing::Contains("allergens on shared kit")) << recipe.name;
  }
  EXPECT_EQ(looked, 2);
}

}  // namespace
}  // namespace tierproof
