// Parts without raw egg that are cooked through, and thermometers of the air beside parts that are heated.
#include <fmt/format.h>

#include "app/app_for_tests.h"
#include "tierproof/app/heating.h"

namespace tierproof {
namespace {

constexpr const char* cooked_through = R"(, "heat_food": "core of a cooked food")";

class Caramel {
 public:
  explicit Caramel(const char* more = cooked_through, const char* egg = "none") {
    kitchen.done([](Session& s) { return add_probe(s, "oven", Probe{"oven thermometer", Scale::celsius, 50, 10, "air", {}}); });
    kitchen.done([](Session& s) { return check_probe(s, {"oven", "ice", Degrees{0, Scale::celsius}, ""}); });
    kitchen.recipe("caramel", R"([{"of": "sugar", "mass": "100 g"}, {"of": "butter", "mass": "100 g"}])", "190 g", "bowl", egg, "room",
                   more);
    batch = kitchen.make("caramel", grams(190));
    kitchen.at("2026-05-01T09:00+01:00");
  }
  /// Readings a minute apart from 08:01 on.
  void read(const std::string& probe, const std::vector<std::string>& degrees, const std::string& purpose = "heat step") {
    std::string csv;
    for (std::size_t i = 0; i < degrees.size(); ++i) csv += fmt::format("2026-05-01T08:{:02}:00+01:00,{}\n", i + 1, degrees[i]);
    kitchen.done([&](Session& s) { return import_csv(s, probe, batch, purpose, csv); });
  }
  std::string cake() { return cake_of(kitchen, {{batch, grams(190)}}); }

  TestKitchen kitchen;
  std::string batch;
};

const std::vector<std::string> cooked{"40", "95", "102", "104", "60"};

TEST(CoreOfAPart, IsShownByReadingsInIt) {
  Caramel caramel;
  caramel.read("fork", cooked);
  const Finding f = the_finding(caramel.kitchen, caramel.cake(), "core-heat");
  EXPECT_EQ(f.verdict, Verdict::shown) << f.message;
  EXPECT_EQ(f.subject, "batch-1 (caramel)");
  EXPECT_THAT(f.evidence, HasSubstr("fork thermometer"));
  const auto drawn = caramel.kitchen.judged("cake-1").series;
  ASSERT_EQ(drawn.size(), 1u);
  EXPECT_EQ(drawn.front().title, "batch-1 (caramel), heat step");
}

TEST(CoreOfAPart, WithoutReadingsIsNotShown) {
  Caramel caramel;
  EXPECT_EQ(the_finding(caramel.kitchen, caramel.cake(), "core-heat").message, "no temperature of its middle is recorded");
}

TEST(CoreOfAPart, IsAskedForOnlyWhereTheRecipeNamesItsRows) {
  Caramel caramel{""};
  caramel.read("fork", {"40", "45", "40"});  // chocolate is melted so: nobody meant to cook it
  const std::string cake = caramel.cake();
  EXPECT_EQ(caramel.kitchen.verdicts(cake, "core-heat"), Strings{});
  EXPECT_EQ(caramel.kitchen.verdicts(cake, "egg-heat"), Strings{});
}

TEST(CoreOfAPart, OfEggThatWasBoughtPasteurisedIsJudgedBesideItsPack) {
  Caramel custard{cooked_through, "pasteurised"};
  custard.read("fork", cooked);
  const std::string cake = custard.cake();
  EXPECT_EQ(the_finding(custard.kitchen, cake, "core-heat").verdict, Verdict::shown);
  EXPECT_EQ(the_finding(custard.kitchen, cake, "egg-heat").verdict, Verdict::not_shown) << "no pack of pasteurised egg is recorded";
}

TEST(CoreOfAPart, IsToldWhileItIsHeated) {
  Caramel caramel;
  caramel.read("fork", {"40", "72", "72"});
  const auto so_far = heat_so_far(caramel.kitchen.open(true), BatchId{caramel.batch}, ProbeId{"fork"});
  ASSERT_TRUE(so_far.has_value());
  EXPECT_THAT(so_far->short_words, HasSubstr("of 2 min at 70 °C"));
}

TEST(CoreOfAPart, ByTheAirAroundItIsNotShown) {
  Caramel caramel;
  caramel.read("oven", cooked);
  const Finding f = the_finding(caramel.kitchen, caramel.cake(), "core-heat");
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.evidence, HasSubstr("only the air was measured, by oven thermometer, and not the food"));
  const auto so_far = heat_so_far(caramel.kitchen.open(true), BatchId{caramel.batch}, ProbeId{"oven"});
  ASSERT_TRUE(so_far.has_value());
  EXPECT_EQ(so_far->short_words, "oven thermometer measures the air, which says nothing of the food");
}

TEST(CoreOfAPart, ColdAirBesideItTakesNothingFromTheReadingsInIt) {
  Caramel caramel;
  caramel.read("fork", cooked);
  caramel.read("oven", {"20", "21", "20"});
  EXPECT_EQ(the_finding(caramel.kitchen, caramel.cake(), "core-heat").verdict, Verdict::shown);
}

TEST(CoreOfAPart, WithRawEggInItIsToldNothingAtTheStove) {
  Caramel caramel;
  caramel.read("fork", cooked);
  const std::uint64_t butter = caramel.kitchen.open(true).state().ingredients.at(IngredientId{"butter"}).sequence;
  correct_note(caramel.kitchen, butter, {{"egg", Json{"shell"}}});
  EXPECT_FALSE(heat_so_far(caramel.kitchen.open(true), BatchId{caramel.batch}, ProbeId{"fork"}).has_value());
  const std::string cake = caramel.cake();
  EXPECT_EQ(caramel.kitchen.verdicts(cake, "core-heat"), Strings{});
  EXPECT_EQ(the_finding(caramel.kitchen, cake, "egg-heat").verdict, Verdict::not_shown) << "nobody said what became of the egg";
}

TEST(HeatOfTheAir, ShowsNoEggStepAndNoSyrup) {
  Caramel custard{R"(, "heated_together": ["butter"], "heat_food": "core of a cooked food", "syrup_target": "100 C")", "raw, heated here"};
  custard.read("oven", cooked);
  custard.read("oven", cooked, "syrup");
  const std::string cake = custard.cake();
  EXPECT_EQ(the_finding(custard.kitchen, cake, "egg-heat").verdict, Verdict::not_shown);
  const Finding syrup = the_finding(custard.kitchen, cake, "syrup-heat");
  EXPECT_EQ(syrup.verdict, Verdict::not_shown);
  EXPECT_THAT(syrup.evidence, HasSubstr("only the air was measured"));
  custard.read("fork", cooked);
  custard.read("fork", cooked, "syrup");
  EXPECT_EQ(the_finding(custard.kitchen, cake, "egg-heat").verdict, Verdict::shown);
  EXPECT_EQ(the_finding(custard.kitchen, cake, "syrup-heat").verdict, Verdict::shown);
}

}  // namespace
}  // namespace tierproof
