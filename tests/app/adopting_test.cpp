// A published reference that the plan adopts for a recipe, from the note to the verdict.
#include "tierproof/app/adopting.h"

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

using testing::HasSubstr;

constexpr const char* two_to_one = R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])";
constexpr const char* together = R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food")";

Adopting adopting(const std::string& why = "shown to the food authority") { return {"low-water-activity", "meringue", {}, "", why}; }

class Meringue {
 public:
  explicit Meringue(const std::string& items = two_to_one, const std::string& more = together) {
    kitchen.recipe("meringue", items, "290 g", "whisk", "raw, heated here", "room", more);
  }
  void adopt(const Adopting& what = adopting()) {
    kitchen.done([&](Session& s) { return adopt_reference(s, what); });
  }
  std::string refused(const Adopting& what) {
    return kitchen.refused([&](Session& s) { return adopt_reference(s, what); });
  }
  /// A batch with 2 min at 75 °C in readings half a minute apart, and the finding of a cake of it.
  Finding made(const std::vector<std::pair<std::string, Mass>>& weighed = {}) {
    Making making;
    making.recipe = "meringue";
    making.yield = grams(250);
    for (const auto& [of, mass] : weighed) making.weighed.emplace_back(of, mass);
    const std::string batch = kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front();
    std::string csv;
    Instant at = kitchen.open(true).state().batches.at(BatchId{batch}).happened + std::chrono::minutes{1};
    for (const char* one : {"20", "70", "75", "75", "75", "75", "75", "60"}) {
      csv += format_zoned(at, Offset{60}) + "," + one + "\n";
      at += std::chrono::seconds{30};
    }
    kitchen.at(format_zoned(at + std::chrono::minutes{30}, Offset{60}));
    kitchen.done([&](Session& s) { return import_csv(s, "fork", batch, "heat step", csv); });
    return the_finding(kitchen, cake_of(kitchen, {{batch, grams(250)}}), "egg-heat");
  }
  TestKitchen kitchen;
};

TEST(Adopting, ShowsTheBatchesMadeAfterItAgainstTheReferenceByName) {
  Meringue meringue;
  const Finding before = meringue.made();
  EXPECT_EQ(before.verdict, Verdict::outside_model);
  EXPECT_THAT(before.remedy, HasSubstr("or let your plan adopt the published reference low-water-activity"));
  meringue.adopt();
  const Finding after = meringue.made();
  EXPECT_EQ(after.verdict, Verdict::shown) << after.message;
  EXPECT_THAT(after.message, HasSubstr("3 log of Salmonella Typhimurium DT104, which is not law and which the plan adopts (ada"));
  EXPECT_THAT(after.source, HasSubstr("Table 7"));
  const Session session = meringue.kitchen.open(true);
  ASSERT_EQ(session.state().adopted.size(), 1u);
  EXPECT_EQ(session.state().adopted.front().value.row, "low-water-activity");
}

TEST(Adopting, LeavesBatchesMadeBeforeItAsTheyWere) {
  Meringue meringue;
  meringue.made();
  meringue.adopt();
  EXPECT_EQ(the_finding(meringue.kitchen, "cake-1", "egg-heat").verdict, Verdict::outside_model);
}

TEST(Adopting, EndsWithACorrectionOfTheRecipe) {
  Meringue meringue;
  meringue.adopt();
  const auto recipe = meringue.kitchen.open(true).state().recipes.at(RecipeId{"meringue"});
  correct_note(meringue.kitchen, recipe.sequence, {{"life_reason", Json{"another reason"}}});
  EXPECT_EQ(meringue.made().verdict, Verdict::outside_model);
}

TEST(Adopting, VouchesForNoBatchOfAnotherMix) {
  Meringue meringue;
  meringue.adopt();
  EXPECT_EQ(meringue.made({{"sugar", grams(162)}}).verdict, Verdict::outside_model) << "61.8 % sugar";
}

TEST(Adopting, OfAMixWithMoreInItWantsItsActivityMeasured) {
  Meringue meringue{R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "180 g"}, {"of": "butter", "mass": "20 g"}])",
                    R"(, "heated_together": ["eggs", "sugar", "butter"], "heat_food": "core of a cooked food")"};
  EXPECT_THAT(meringue.refused(adopting()), HasSubstr("--water-activity: is missing: by the recipe, more than egg and sugar is heated"));
  Adopting measured = adopting();
  measured.water_activity = share_of(85, 100);
  measured.measured = "a laboratory, 3 March 2026, dew point";
  meringue.adopt(measured);
  EXPECT_EQ(meringue.made().verdict, Verdict::shown);
  EXPECT_EQ(meringue.made({{"sugar", grams(184)}}).verdict, Verdict::outside_model) << "0.5 % more sugar than was measured";
}

TEST(Adopting, NeedsARowARecipeAReasonAndAPlausibleActivity) {
  Meringue meringue;
  EXPECT_THAT(meringue.refused({"core-70", "meringue", {}, "", "because"}), HasSubstr("row: no reference \"core-70\" is in force"));
  EXPECT_THAT(meringue.refused({"low-water-activity", "curd", {}, "", "because"}), HasSubstr("recipe"));
  EXPECT_THAT(meringue.refused(adopting("")), HasSubstr("--why"));
  Adopting wrong = adopting();
  wrong.water_activity = share_of(101, 100);
  EXPECT_THAT(meringue.refused(wrong), testing::AllOf(HasSubstr("--water-activity: is no water activity"), HasSubstr("--measured")));
  wrong.water_activity.reset();
  wrong.measured = "a laboratory";
  EXPECT_THAT(meringue.refused(wrong), HasSubstr("--measured: is given without what was measured"));
}

}  // namespace
}  // namespace tierproof
