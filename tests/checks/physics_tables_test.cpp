// Syrup, specific heat and water activity against published tables, row by row; each row of a table names its source.
#include <gtest/gtest.h>

#include <cmath>

#include "table.h"
#include "tierproof/sums/probe.h"
#include "tierproof/sums/specific_heat.h"
#include "tierproof/sums/sugar_syrup.h"
#include "tierproof/sums/tins.h"
#include "tierproof/sums/water_activity.h"

namespace tierproof {
namespace {

std::vector<TableRow> rows_with(const std::string& table, const char* heading, const std::string& value) {
  std::vector<TableRow> rows;
  for (const TableRow& row : rows_of_table(table)) {
    if (row.at(heading) == value) rows.push_back(row);
  }
  return rows;
}

TEST(SyrupTable, OfTheActivityEquationIsKeptRowByRow) {
  const auto rows = rows_with("boiling_point_sucrose.tsv", "dataset", "starzak_peacock_1997_eq");
  EXPECT_EQ(rows.size(), 36u);
  for (const TableRow& row : rows) {
    const double solids = figure(row, "sucrose_mass_pct") / 100;
    EXPECT_NEAR(syrup_boiling_point(solids, 101.325), figure(row, "t_boil_C"), 0.0101) << solids << ": " << row.at("source");
    const auto back = solids_boiling_at(syrup_boiling_point(solids, 101.325), 101.325);
    ASSERT_TRUE(back) << solids;
    EXPECT_NEAR(back->share, solids, 1e-9);
    EXPECT_TRUE(back->modelled) << solids;
  }
}

TEST(SyrupTable, IsOutsideTheModelAbove92PerCent) {
  const auto rows = rows_with("boiling_point_sucrose.tsv", "dataset", "starzak_peacock_1997_eq_EXTRAPOLATED");
  EXPECT_EQ(rows.size(), 3u);
  for (const TableRow& row : rows) {
    const auto found = solids_boiling_at(figure(row, "t_boil_C"), 101.325);
    ASSERT_TRUE(found);
    EXPECT_FALSE(found->modelled) << row.at("t_boil_C");
    EXPECT_THROW(syrup_boiling_point(figure(row, "sucrose_mass_pct") / 100, 101.325), std::invalid_argument);
  }
}

void expect_rows(const char* dataset, std::size_t rows, std::span<const ElevationRow> table) {
  std::size_t compared = 0;
  for (const TableRow& row : rows_with("boiling_point_sucrose.tsv", "dataset", dataset)) {
    const double solids = figure(row, "sucrose_mass_pct") / 100;
    for (const ElevationRow& ours : table) {
      if (std::abs(ours.solids - solids) > 1e-9) continue;
      ++compared;
      EXPECT_EQ(ours.kelvins, figure(row, "bpe_K")) << solids << ": " << row.at("source");
    }
  }
  EXPECT_EQ(compared, rows) << dataset;
  EXPECT_EQ(table.size(), rows) << dataset;
}

TEST(SyrupTable, OfBrowneAndThiemeIsPrintedAsTheyPrintIt) {
  expect_rows("browne_1912", 21, browne_table());
  expect_rows("thieme_handbook_purity100", 12, thieme_table());
}

TEST(SugarStages, AreThoseOfTheTradeCharts) {
  // Charts print a clear liquid at 160 °C too, where caramel begins.
  std::size_t compared = 0;
  for (const TableRow& row : rows_of_table("sugar_stages.tsv")) {
    for (const SugarStage& stage : sugar_stages()) {
      const std::string name = row.at("stage") == "dark/burnt" ? "dark caramel" : row.at("stage");
      if (stage.name != name) continue;
      ++compared;
      EXPECT_EQ(stage.from_c, figure(row, "low_C")) << name << ": " << row.at("source");
      EXPECT_EQ(stage.to_c, figure(row, "high_C")) << name;
      EXPECT_EQ(std::stoi(std::string{stage.solids}), std::stoi(row.at("sugar_pct"))) << name;
    }
  }
  EXPECT_EQ(compared, sugar_stages().size());
}

TEST(SpecificHeatTable, OfFoodsByTheirCompositionIsKept) {
  // Composition per 100 g: USDA SR26 (01124, 01125, 01123), water, protein, fat, carbohydrate, fibre, ash.
  const std::map<std::string, FoodShares> foods{{"egg white (SR26)", {.8757, .1090, .0017, .0073, 0, .0063}},
                                                {"egg yolk (SR26)", {.5231, .1586, .2654, .0359, 0, .0171}},
                                                {"whole egg (SR26)", {.7615, .1256, .0951, .0072, 0, .0106}}};
  std::size_t compared = 0;
  for (const TableRow& row : rows_with("specific_heat.tsv", "form", "choi_okos_mixture_value")) {
    const auto food = foods.find(row.at("substance"));
    if (food == foods.end()) continue;
    ++compared;
    EXPECT_NEAR(choi_okos_heat(food->second, 20), figure(row, "value_or_equation_T_in_C"), 1e-3) << row.at("source");
  }
  EXPECT_EQ(compared, foods.size());
  const std::map<std::string, double> ours{{"egg white", egg_white_heat},
                                           {"stainless steel 304", steel_heat},
                                           {"glass (soda-lime)", glass_heat},
                                           {"aluminium", aluminium_heat},
                                           {"copper", copper_heat}};
  std::size_t printed = 0;
  for (const TableRow& row : rows_with("specific_heat.tsv", "form", "tabulated")) {
    const auto found = ours.find(row.at("substance"));
    if (found == ours.end()) continue;
    ++printed;
    EXPECT_EQ(figure(row, "value_or_equation_T_in_C"), found->second) << row.at("substance") << ": " << row.at("source");
  }
  EXPECT_EQ(printed, ours.size());
}

TEST(NorrishTable, IsKeptRowByRow) {
  std::size_t compared = 0;
  for (const TableRow& row : rows_with("water_activity_constants.tsv", "model", "norrish")) {
    std::string name = row.at("solute_or_condition");
    if (name.rfind("invert sugar", 0) == 0) name = "invert sugar";
    const Solute* ours = solute(name);
    ASSERT_NE(ours, nullptr) << name;
    ++compared;
    EXPECT_EQ(ours->norrish_k, figure(row, "value")) << name << ": " << row.at("source");
  }
  EXPECT_EQ(compared, 23u);
  EXPECT_EQ(solutes().size(), compared + 1) << "and salt";
}

double share_in(const TableRow& row) { return std::stod(row.at("solute_or_condition")) / 100; }

TEST(ActivityTable, OfSucroseIsKeptRowByRow) {
  const auto rows = rows_with("water_activity_constants.tsv", "model", "table_sucrose_25C");
  EXPECT_EQ(rows.size(), 24u);
  for (const TableRow& row : rows) {
    const double share = share_in(row);
    const double ours = row.at("parameter") == "aw_norrish" ? activity_alone(*solute("sucrose"), share) : sucrose_activity(share, 25);
    EXPECT_NEAR(ours, figure(row, "value"), 1.5e-4) << share << " " << row.at("parameter");
  }
}

TEST(ActivityTable, OfSaltIsKeptRowByRow) {
  const auto rows = rows_with("water_activity_constants.tsv", "model", "table_NaCl_25C");
  EXPECT_EQ(rows.size(), 11u);
  for (const TableRow& row : rows) {
    const bool molal = row.at("solute_or_condition").find("mol/kg") != std::string::npos;
    const double grams = 6 * 58.443;
    const double share = molal ? grams / (1000 + grams) : share_in(row);
    EXPECT_NEAR(activity_alone(*solute("NaCl"), share), figure(row, "value"), molal ? 1e-3 : 5.1e-5)
        << row.at("solute_or_condition") << ": " << row.at("source");
  }
}

// Greenspan 1977, J Res NBS 81A:89: the air over saturated salt at 25 °C, which our cap on salt must reach from above.
TEST(ActivityTable, OfSaturatedSaltIsReached) {
  for (const TableRow& row : rows_with("water_activity_constants.tsv", "model", "saturated_salt")) {
    if (row.at("solute_or_condition") != "NaCl" || row.at("parameter") != "aw_25C") continue;
    EXPECT_NEAR(activity_alone(*solute("NaCl"), solute("NaCl")->most_dissolved), figure(row, "value"), 2e-3) << row.at("source");
    return;
  }
  FAIL() << "the row of salt at 25 °C is gone";
}

TEST(SolubilityTable, OfSucroseIsKeptAndNearAnOlderOne) {
  for (const TableRow& row : rows_with("water_activity_constants.tsv", "model", "sucrose_solubility")) {
    EXPECT_NEAR(sucrose_solubility(std::stod(row.at("solute_or_condition"))) * 100, figure(row, "value"), 0.0051)
        << row.at("solute_or_condition");
  }
  const auto older = rows_with("water_activity_constants.tsv", "model", "sucrose_solubility_table");
  EXPECT_EQ(older.size(), 9u);
  for (const TableRow& row : older) {
    EXPECT_NEAR(sucrose_solubility(std::stod(row.at("solute_or_condition"))) * 100, figure(row, "value"), 0.6) << row.at("source");
  }
}

// Source: tests/data/usda-sr26-measures.tsv. A density taken from the cup of a food gives its spoons and fluid ounces back, but for what
// was rounded when they were printed and how tightly a spoon is filled.
TEST(KitchenMeasures, GiveTheSpoonsOfAFoodByTheDensityOfItsCup) {
  const std::map<std::string, std::string> names{
      {"tbsp", "tbsp-14.8"}, {"tbsp unsifted", "tbsp-14.8"}, {"tsp", "tsp-4.9"}, {"fl oz", "floz-29.6"}};
  const auto millilitres = [](const std::string& name) {
    for (const auto& one : kitchen_measures()) {
      if (one.name == name) return one.millilitres;
    }
    throw std::runtime_error{"no measure " + name};
  };
  std::map<std::string, double> density;
  const auto rows = rows_of_table("usda-sr26-measures.tsv");
  for (const auto& row : rows) {
    const std::string& measure = row.at("measure");
    if (measure == "cup" || measure == "cup unsifted" || measure.starts_with("cup, fluid"))
      density[row.at("food")] = figure(row, "grams") / millilitres("cup-236.6");
  }
  EXPECT_NEAR(density.at("sugar, granulated"), 0.845, 0.0005);
  EXPECT_NEAR(density.at("sugar, powdered"), 0.507, 0.0005);
  int compared = 0;
  for (const auto& row : rows) {
    const auto name = names.find(row.at("measure"));
    if (name == names.end()) continue;
    const double grams = figure(row, "grams");
    EXPECT_NEAR(density.at(row.at("food")) * millilitres(name->second), grams, 0.07 * grams) << row.at("food") << ", " << name->first;
    ++compared;
  }
  EXPECT_EQ(compared, 15);
}

// Source: the same, 01123 to 01125: what an egg of each class holds without its shell, and the white and yolk of a large one.
TEST(EggClasses, HoldWhatTheFoodTableSays) {
  const std::map<std::string, std::string> foods{{"egg, whole, raw", "edible"}, {"egg white, raw", "white"}, {"egg yolk, raw", "yolk"}};
  int compared = 0;
  for (const auto& row : rows_of_table("usda-sr26-measures.tsv")) {
    const auto food = foods.find(row.at("food"));
    if (food == foods.end()) continue;
    for (const auto& one : egg_classes()) {
      if (one.name != row.at("measure")) continue;
      const EggParts parts = parts_of_eggs(1, one.in_shell_g);
      const double grams = food->second == "white" ? parts.white_g : food->second == "yolk" ? parts.yolk_g : parts.white_g + parts.yolk_g;
      EXPECT_NEAR(grams, figure(row, "grams"), 0.7) << one.name << ", " << food->first;
      ++compared;
    }
  }
  EXPECT_EQ(compared, 7);
}

}  // namespace
}  // namespace tierproof
