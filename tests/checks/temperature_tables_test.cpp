#include <gtest/gtest.h>

#include "../sums/samples.h"
#include "table.h"
#include "tierproof/sums/death_rate.h"
#include "tierproof/sums/probe.h"

namespace tierproof {
namespace {

TEST(BoilingTable, ByAltitudeIsKeptRowByRow) {
  const auto rows = rows_of_table("boiling_altitude.tsv");
  EXPECT_EQ(rows.size(), 19u);
  for (const TableRow& row : rows) {
    const double metres = figure(row, "geopotential_m");
    const double pressure = isa_pressure(metres);
    const double boils = boiling_point(pressure);
    EXPECT_NEAR(pressure, figure(row, "p_kPa_ISA"), 5.1e-5) << metres << " m: ICAO Doc 7488";
    EXPECT_NEAR(boils, figure(row, "Tsat_C_IF97"), 5.1e-5) << metres << " m: IAPWS R7-97 region 4";
    EXPECT_NEAR(boils, figure(row, "Tsat_C_WagnerPruss"), 3e-4) << metres << " m: Wagner and Pruss 2002";
    EXPECT_NEAR(boils * 1.8 + 32, figure(row, "Tsat_F"), 5.1e-3) << metres << " m";
    EXPECT_NEAR(boiling_point(101.325) - boils, figure(row, "drop_vs_101.325kPa_K"), 5.1e-4) << metres << " m";
    EXPECT_NEAR(sugar_target(118, boils), figure(row, "syrup_118C_simple_rule"), 5.1e-3) << metres << " m: lowered by the drop";
    EXPECT_NEAR(isa_altitude(pressure), metres, 1e-6) << "the other way round";
  }
}

TEST(BoilingTable, ByPressureIsKeptRowByRow) {
  const auto rows = rows_of_table("boiling_pressure.tsv");
  EXPECT_EQ(rows.size(), 11u);
  for (const TableRow& row : rows) {
    const double boils = boiling_point(figure(row, "p_kPa"));
    EXPECT_NEAR(boils, figure(row, "Tsat_C_IF97"), 5.1e-5) << row.at("p_kPa") << " kPa: IAPWS R7-97 region 4";
    EXPECT_NEAR(boils, figure(row, "Tsat_C_WagnerPruss"), 3e-4) << row.at("p_kPa") << " kPa: Wagner and Pruss 2002";
    EXPECT_NEAR(boils, figure(row, "Tsat_C_Antoine"), 0.06) << row.at("p_kPa") << " kPa: Antoine, which reads 0.02 to 0.06 °C high";
    EXPECT_LT(boils, figure(row, "Tsat_C_Antoine"));
  }
}

TEST(CookingTable, IsWorthWhatItsHoldsAreAt70Degrees) {
  std::size_t held = 0;
  for (const TableRow& row : rows_of_table("time_temperature_equivalents.tsv")) {
    if (row.at("F70_z7.5_s").empty()) continue;
    ++held;
    const double minutes = figure(row, "hold_s") / 60;
    LogHeatTerms terms = test::log_at_70;
    terms.longest_step = std::chrono::hours{1};
    const auto heat = test::heat_of(test::samples({{0, figure(row, "temp_C")}, {minutes, figure(row, "temp_C")}}), terms);
    EXPECT_NEAR(heat.lower.count() * 60, figure(row, "F70_z7.5_s"), 5.1e-4) << row.at("rule_id") << ": " << row.at("source");
    EXPECT_DOUBLE_EQ(heat.lower.count(), heat.upper.count()) << "a steady hold has no bounds apart";
  }
  EXPECT_EQ(held, 17u);
}

TEST(PasteurisationTable, ImpliesOneZForEveryProductWithTwoRows) {
  std::map<std::string, std::vector<DValue>> products;
  for (const TableRow& row : rows_of_table("pasteurisation.tsv")) {
    if (row.at("process") == "liquid, plant process" && row.at("source").rfind("9 CFR 590.570", 0) == 0)
      products[row.at("product")].push_back({(figure(row, "temp_F") - 32) / 1.8, figure(row, "hold_s") / 60});
  }
  std::size_t pairs = 0;
  for (const auto& [product, holds] : products) {
    if (holds.size() != 2) continue;
    ++pairs;
    EXPECT_NEAR(z_from(holds[0], holds[1]), 4.47, 5e-3) << product << ": 9 CFR 590.570; 3.5 and 6.2 min lie 2 °F apart";
  }
  EXPECT_EQ(pairs, 8u) << "whole egg has one row";
}

}  // namespace
}  // namespace tierproof
