// The document of a hazard plan: what it holds, what it refuses, and that it is read back as it was written.
#include "tierproof/rules/plan_file.h"

#include <gmock/gmock.h>

#include "pack_for_tests.h"

namespace tierproof {
namespace {

using testing::HasSubstr;
using testing::SizeIs;

HazardPlan starting_plan() { return shipped_packs().starting_plan(); }

std::string told_of(const std::string& text) {
  const auto plan = read_plan_document(text, "plan.json");
  std::string all;
  if (plan) return all;
  for (const auto& refusal : plan.error()) all += describe(refusal) + "\n";
  return all;
}
std::string row_of(const std::string& more) {
  return plan_file("{\"id\": \"cold-hold\", \"order\": 8, " + std::string{rest_of_plan_row} +
                   ", \"source\": \"law\", \"clause\": \"s. 2\"" + more + "}")
      .text;
}

TEST(PlanFile, IsReadBackAsItWasWritten) {
  HazardPlan plan = starting_plan();
  for (auto& row : plan.rows) {
    if (row.id == "cold-hold")
      row.limits = {{"chilled food at or below", Degrees{-150, Scale::celsius}, {}, {}}, {"out of the fridge less than", {}, 90, {}}};
    if (row.id == "use-by") row.limits = {{"kept cold for at most", {}, {}, 3}};
    if (row.id == "egg-heat")
      row.limits = {{"egg heated to at least", Degrees{7200, Scale::celsius}, {}, {}, 120, "core-70"},
                    {"egg heated to at least", Degrees{16'700, Scale::fahrenheit}, {}, {}, 0, "core-75"}};
    if (row.id == "cooling") row.limits = {{"cooled from hot", Degrees{400, Scale::celsius}, 90, {}}};
    if (row.id == "reheating") row.limits = {{"heated again to at least", Degrees{8200, Scale::celsius}, {}, {}}};
    if (row.id == "how-sold") row.note = "a \"quoted\" word, ½ and a \\";
  }
  plan.sources.front().link = "https://example.org/plan";
  const auto again = read_plan_document(write_plan_document(plan), "plan.json");
  ASSERT_TRUE(again.has_value()) << told(again.error());
  EXPECT_TRUE(*again == plan);
  EXPECT_EQ(number_in_words(again->row("cold-hold")->limits[0]), "-1.5 °C");
  EXPECT_EQ(number_in_words(again->row("cold-hold")->limits[1]), "1 h 30 min");
  EXPECT_EQ(number_in_words(again->row("use-by")->limits[0]), "3 days");
  EXPECT_EQ(number_in_words(again->row("egg-heat")->limits[0]), "72.0 °C for 2 min (heat row core-70)");
  EXPECT_EQ(number_in_words(again->row("egg-heat")->limits[1]), "167.0 °F reached (heat row core-75)");
  EXPECT_EQ(number_in_words(again->row("cooling")->limits[0]), "to 4.0 °C within 1 h 30 min");
  EXPECT_EQ(number_in_words(again->row("reheating")->limits[0]), "82.0 °C");
}

TEST(PlanFile, NamesRowAndMemberOfEveryFaultAtOnce) {
  const std::string told = told_of(
      plan_file(
          "{\"id\": \"Use By\", \"order\": 0, \"words\": \"\", \"step\": 1, \"sorts\": [\"biological\", \"bad luck\"], \"likelihood\": "
          "\"always\", \"severity\": \"serious\", \"significance\": \"s\", \"point\": \"oprp\", \"point_because\": \"p\", \"control\": "
          "\"c\", \"limit\": \"l\", \"checked\": \"c\", \"how_often\": \"o\", \"when_missed\": \"m\", \"who\": \"w\", \"met_by\": [\"raw "
          "fish\"], \"records\": [], \"not_met\": \"never\", \"source\": \"hearsay\", \"clause\": \"s\", \"colour\": \"red\"}")
          .text);
  for (const char* fault :
       {"plan.json:2: rows[0].id: \"Use By\" cannot be a short name", "rows[0].order: ", "rows[0].words: is empty",
        "rows[0].step: is a number, not a text", "rows[0].sorts: \"bad luck\" is not one of the choices", "rows[0].hazard: is missing",
        "rows[0].likelihood: \"always\" is not one of the choices", "rows[0].point: \"oprp\" is not one of the choices",
        "rows[0].met_by: \"raw fish\" is not one of the choices", "rows[0].records: is empty or missing", "rows[0].not_shown: is missing",
        "rows[0].source: \"hearsay\" is not a source of this file", "rows[0].colour: "}) {
    EXPECT_THAT(told, HasSubstr(fault));
  }
}

TEST(PlanFile, TakesALimitOnlyWithItsNumberAndInTheRowWhoseSumsTakeIt) {
  EXPECT_EQ(told_of(row_of(R"(, "limits": [{"what": "chilled food at or below", "degrees": "5 C"}])")), "");
  EXPECT_THAT(told_of(row_of(R"(, "limits": [{"what": "chilled food at or below", "degrees": "5"}])")),
              HasSubstr("rows[0].limits[0].degrees: \"5\" is not a temperature"));
  EXPECT_THAT(told_of(row_of(R"(, "limits": [{"what": "chilled food at or below", "minutes": 5}])")),
              HasSubstr("rows[0].limits[0].degrees: is missing"));
  const auto of_egg = [](const std::string& limit) {
    return told_of(plan_file("{\"id\": \"egg-heat\", \"order\": 8, " + std::string{rest_of_plan_row} +
                             ", \"source\": \"law\", \"clause\": \"s. 2\", \"limits\": [" + limit + "]}")
                       .text);
  };
  EXPECT_THAT(of_egg(R"({"what": "egg heated to at least", "degrees": "72 C", "seconds": 120})"), HasSubstr("heat_row: is missing"));
  EXPECT_THAT(of_egg(R"({"what": "egg heated to at least", "heat_row": "core-70", "degrees": "72 C"})"), HasSubstr("seconds: is missing"));
  EXPECT_THAT(of_egg(R"({"what": "cooled from hot", "minutes": 60})"), HasSubstr("is a limit of the row cooling, whose sums take it"));
  EXPECT_THAT(of_egg(R"({"what": "cooled from hot"})"), HasSubstr("minutes: is missing, and degrees too"));
  EXPECT_THAT(told_of(row_of(R"(, "limits": [{"what": "how loud", "minutes": 5}])")), HasSubstr("rows[0].limits[0].what: \"how loud\""));
  EXPECT_THAT(told_of(row_of(R"(, "limits": [{"what": "kept cold for at most", "days": 3}])")),
              HasSubstr("rows[0].limits[0].what: is a limit of the row use-by, whose sums take it"));
  EXPECT_THAT(
      told_of(row_of(
          R"(, "limits": [{"what": "out of the fridge less than", "minutes": 5}, {"what": "out of the fridge less than", "minutes": 6}])")),
      HasSubstr("rows[0].limits: has one limit twice"));
}

TEST(PlanFile, RefusesAnIdThatStandsThereTwiceAndAPlanWithoutRows) {
  const std::string one =
      "{\"id\": \"glass\", \"order\": 1, " + std::string{rest_of_plan_row} + ", \"source\": \"law\", \"clause\": \"s\"}";
  EXPECT_THAT(told_of(plan_file(one + ",\n" + one).text), HasSubstr("plan.json:3: rows[1].id: \"glass\" stands there twice"));
  EXPECT_THAT(told_of(plan_file("").text), HasSubstr("rows: has nothing in it"));
}

// The twelve steps of the application of HACCP in CXC 1-1969 (revised 2020; numbers of the steps from memory): which part of the starting
// plan holds each of them, and which records it sends the reader to.
struct CodexStep {
  const char* step;
  std::string (*held)(const HazardPlan&);
};
template <std::string PlanRow::*member>
std::string of_every_row(const HazardPlan& plan) {
  for (const auto& row : plan.rows) {
    if ((row.*member).empty()) return "";
  }
  return "in every row";
}
std::string recorded_in(const HazardPlan& plan, const char* record) {
  for (const auto& row : plan.rows) {
    if (std::count(row.records.begin(), row.records.end(), record) > 0) return row.id;
  }
  return "";
}

TEST(StartingPlan, HoldsTheTwelveStepsOfTheCodexOrSaysWhereTheirRecordIs) {
  const HazardPlan plan = starting_plan();
  const CodexStep steps[] = {
      {"1 team and scope", [](const HazardPlan& p) { return p.scope; }},  // who took it over is the person of its note
      {"2 product", [](const HazardPlan& p) { return recorded_in(p, "recipe"); }},
      {"3 intended use and users", [](const HazardPlan& p) { return p.users; }},
      {"4 flow diagram", of_every_row<&PlanRow::step>},
      {"5 confirmed on site", [](const HazardPlan& p) { return p.flow; }},
      {"6 hazards", of_every_row<&PlanRow::hazard>},
      {"6 likelihood", of_every_row<&PlanRow::likelihood>},
      {"6 severity", of_every_row<&PlanRow::severity>},
      {"6 reason", of_every_row<&PlanRow::significance>},
      {"7 which are critical control points", of_every_row<&PlanRow::point>},
      {"7 and why", of_every_row<&PlanRow::point_because>},
      {"8 limits", of_every_row<&PlanRow::limit>},
      {"8 with their evidence", of_every_row<&PlanRow::clause>},
      {"9 monitoring: what and how", of_every_row<&PlanRow::checked>},
      {"9 frequency", of_every_row<&PlanRow::how_often>},
      {"9 who", of_every_row<&PlanRow::who>},
      {"10 corrective action", of_every_row<&PlanRow::when_missed>},
      {"10 its record", [](const HazardPlan& p) { return recorded_in(p, "what went wrong was closed"); }},
      {"11 validation and verification", [](const HazardPlan& p) { return p.verified; }},
      {"11 calibration", [](const HazardPlan& p) { return recorded_in(p, "thermometer check"); }},
      {"11 evidence of a heat step", [](const HazardPlan& p) { return recorded_in(p, "evidence that a heat step works"); }},
      {"11 review", [](const HazardPlan& p) { return p.review_months > 0 ? std::string{"review"} : std::string{}; }},
  };
  for (const auto& [step, held] : steps) EXPECT_NE(held(plan), "") << step;
  for (const auto& row : plan.rows) EXPECT_FALSE(row.records.empty()) << row.id << ": 12 documents and records";
  for (const auto& point : plan_points()) {
    EXPECT_TRUE(std::any_of(plan.rows.begin(), plan.rows.end(), [&](const PlanRow& row) { return row.point == point; })) << point;
  }
}

TEST(StartingPlan, SaysThatItIsAStartAndWhereEachRowComesFrom) {
  const HazardPlan plan = starting_plan();
  EXPECT_THAT(plan.about, HasSubstr("A starting point, not a finished plan"));
  for (const auto& row : plan.rows) EXPECT_THAT(plan.source_of(row), HasSubstr(", ")) << row.id;
  // Physical and chemical hazards of cake work that no control on a cake judges: common practice, no source.
  for (const char* id : {"support-dowels", "wires-and-picks", "torch-fuel", "glass", "pips-and-stones", "shells", "blades-and-metal",
                         "cleaning-agents", "colours-dosed"}) {
    ASSERT_NE(plan.row(id), nullptr) << id;
    EXPECT_FALSE(plan.row(id)->on_cakes()) << id;
    const bool told =
        plan.row(id)->clause.find("no source") != std::string::npos || plan.row(id)->clause.find("from memory") != std::string::npos;
    EXPECT_TRUE(told) << id << ": " << plan.row(id)->clause;
  }
  for (const auto& sort : plan_sorts()) {
    EXPECT_TRUE(std::any_of(plan.rows.begin(), plan.rows.end(), [&](const PlanRow& row) {
      return std::count(row.sorts.begin(), row.sorts.end(), sort) > 0;
    })) << sort;
  }
}

TEST(StartingPlan, HasARowForEverythingThatARecipeMayBring) {
  const HazardPlan plan = starting_plan();
  for (const auto& trait : recipe_traits()) {
    EXPECT_TRUE(std::any_of(plan.rows.begin(), plan.rows.end(), [&](const PlanRow& row) {
      return std::count(row.met_by.begin(), row.met_by.end(), trait) > 0;
    })) << trait;
  }
}

}  // namespace
}  // namespace tierproof
