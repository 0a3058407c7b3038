// What the mechanisms of temperatures alone say, and what their readers refuse.
#include <gmock/gmock.h>

#include "pack_for_tests.h"

namespace tierproof {
namespace {

using testing::Contains;
using testing::StartsWith;

TEST(TemperaturesOfTwoColumns, AreTheStricterOfTheTwoAndToldInBothScales) {
  const auto packs =
      read({pack("aa", "temperature", "",
                 {row("c", "chill", R"("limit": "4 C", "also": "40 F", "measured_in": "food")"),
                  row("d", "heat-hold", R"("food": "egg", "at": "68 C", "also": "155 F", "hold_seconds": 17)"),
                  row("e", "egg-mix", R"("sugar_up_to": "12 %")"), row("g", "gap", R"("use": "heat step", "longest_seconds": 60)"),
                  row("h", "gap", R"("use": "chilled hold", "longest_seconds": 1800)"),
                  row("p", "probe-check", R"("band": "1 C", "days_between": 7)")})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto terms = packs->temperature_terms("aa", day(2022, 1, 1));
  ASSERT_TRUE(terms.has_value()) << told(terms.error());
  EXPECT_EQ(terms->chill.at(0).limit, celsius(4)) << "40 F is 4.44 C";
  EXPECT_EQ(terms->chill.at(0).words, "4 °C (39.2 °F)");
  EXPECT_EQ(terms->heat_rows.at(0).at, Temperature::hundredths_fahrenheit(15'500)) << "68 C is under 155 F";
  EXPECT_EQ(terms->heat_rows.at(0).words, "155 °F (68.33 °C)");
}

TEST(TemperaturesOfTwoColumns, AreRefusedInOneScaleOrFarApart) {
  const auto wrong = refused({pack("aa", "temperature", "",
                                   {row("c", "chill", R"("limit": "5 C", "also": "5 C", "measured_in": "food")"),
                                    row("h", "hot-hold", R"("limit": "57 C", "also": "145 F")")})});
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:5: rows[0].also: is in the scale of \"limit\"")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:6: rows[1].also: is another temperature than \"limit\"")));
}

TEST(CoolingRows, AreRefusedWithoutAnEndOfTheirStages) {
  const auto wrong = refused(
      {pack("aa", "temperature", "",
            {row("a", "cooling", R"("from_temperature": "57 C", "to_temperature": "5 C")"),
             row("b", "cooling", R"("from_temperature": "57 C", "via_temperature": "4 C", "to_temperature": "5 C", "total_minutes": 9)"),
             row("c", "cooling", R"("from_temperature": "5 C", "to_temperature": "57 C", "first_minutes": 1, "total_minutes": 9)")})});
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:5: rows[0].total_minutes: has to be given")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:6: rows[1].via_temperature: does not lie between")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:6: rows[1].first_minutes: is missing")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:7: rows[2].via_temperature: is missing")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:7: rows[2].from_temperature: does not lie above")));
}

TEST(GrowthRows, AreReadAsTheyStandAndWarnFromMoreThanNothing) {
  const auto growth = [](const char* warn_from) {
    return row("s", "growth-screening",
               std::string{R"("of": "Salmonella in egg", "b": "0.0214", "t_min_c": "5.30841", "warn_from": ")"} + warn_from + "\"");
  };
  const auto packs =
      read({pack("aa", "temperature", "",
                 {row("c", "chill", R"("limit": "5 C", "measured_in": "food")"),
                  row("d", "heat-hold", R"("food": "egg", "at": "68 C", "hold_seconds": 17)"),
                  row("e", "egg-mix", R"("sugar_up_to": "12 %")"), row("g", "gap", R"("use": "heat step", "longest_seconds": 60)"),
                  row("h", "gap", R"("use": "chilled hold", "longest_seconds": 1800)"),
                  row("p", "probe-check", R"("band": "1 C", "days_between": 7)"), growth("0.5")})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto terms = packs->temperature_terms("aa", day(2022, 1, 1));
  ASSERT_TRUE(terms.has_value()) << told(terms.error());
  ASSERT_EQ(terms->growth.size(), 1u);
  EXPECT_EQ(terms->growth[0].of, "Salmonella in egg");
  EXPECT_DOUBLE_EQ(terms->growth[0].b, 0.0214);
  EXPECT_DOUBLE_EQ(terms->growth[0].t_min_c, 5.30841);
  EXPECT_DOUBLE_EQ(terms->growth[0].warn_from, 0.5);
  EXPECT_EQ(terms->growth[0].cited.row, "s");
  EXPECT_THAT(refused({pack("aa", "temperature", "", {growth("0")})}),
              Contains(StartsWith("aa/temperature.json:5: rows[0].warn_from: is 0, which would warn of every stay")));
}

TEST(ReheatRows, AreRefusedWithHalfOfATimeOrItsColdEndOnTop) {
  const auto wrong = refused(
      {pack("aa", "temperature", "",
            {row("a", "reheat", R"("at": "74 C", "hold_seconds": 15, "within_minutes": 120)"),
             row("b", "reheat", R"("at": "74 C", "hold_seconds": 15, "out_of": "5 C")"),
             row("c", "reheat", R"("at": "74 C", "hold_seconds": 15, "within_minutes": 120, "out_of": "74 C")"),
             row("d", "cold-days", R"("days": 0)")})});
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:5: rows[0].within_minutes: and \"out_of\" belong together")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:6: rows[1].within_minutes: and \"out_of\" belong together")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:7: rows[2].out_of: does not lie under \"at\"")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:8: rows[3].days:")));
}

}  // namespace
}  // namespace tierproof
