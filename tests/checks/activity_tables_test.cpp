// The two tables of water activity and pH that the rules hold, against the cells of the FDA Food Code 1-201.10(B) as states print them
// (Tenn. R. 0080-04-09-.01, Nev. NAC 446.025, Texas 25 TAC 229.661, Ga. R. 40-7-1-.02): 25 cells with open and closed bounds.
#include <gtest/gtest.h>

#include <array>

#include "shipped_hints.h"
#include "table.h"
#include "tierproof/sums/activity_table.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

using namespace std::chrono;

ActivityTable shipped_table(const std::string& letter) {
  const auto table = shipped_packs().shared_activity_table(letter == "A" ? "packed after heating" : "open", 2026y / 5 / 1);
  if (!table) throw std::runtime_error{"there is no table " + letter};
  return *table;
}

/// A value of each bound that belongs to the cell, one just inside the others, and one amid.
std::vector<Share> inside(const std::string& low, const std::string& low_bound, const std::string& high, const std::string& high_bound) {
  const Share hair{1, 1000000};
  const auto value = [](const std::string& text) { return parse_decimal(text).value(); };
  std::vector<Share> values;
  if (!low.empty()) values.push_back(low_bound == "incl" ? value(low) : Share{value(low) + hair});
  if (!high.empty()) values.push_back(high_bound == "incl" ? value(high) : Share{value(high) - hair});
  if (low.empty()) values.push_back(Share{value(high) / 2});
  if (high.empty()) values.push_back(Share{value(low) + Share{1, 50}});
  return values;
}

TEST(ActivityTables, HaveEveryCellOfTheFoodCode) {
  std::map<std::string, int> cells;
  for (const TableRow& row : rows_of_table("food_code_ph_aw_tables.tsv")) {
    const std::string letter = row.at("table");
    const ActivityTable table = shipped_table(letter);
    ++cells[letter];
    for (const Share& activity : inside(row.at("aw_low"), row.at("aw_low_bound"), row.at("aw_high"), row.at("aw_high_bound"))) {
      for (const Share& ph : inside(row.at("ph_low"), row.at("ph_low_bound"), row.at("ph_high"), row.at("ph_high_bound"))) {
        EXPECT_EQ(is_to_be_assessed(table, activity, ph), row.at("result") == "product_assessment_required")
            << letter << " " << activity << " " << ph << ": " << row.at("source");
      }
    }
  }
  EXPECT_EQ(cells["A"], 9);
  EXPECT_EQ(cells["B"], 16);
}

// Cases computed apart from this program (case P24).
TEST(ActivityTables, AnswerTheWorkedCases) {
  const auto assessed = [](const char* letter, const char* activity, const char* ph) {
    return is_to_be_assessed(shipped_table(letter), parse_decimal(activity).value(), parse_decimal(ph).value());
  };
  EXPECT_FALSE(assessed("B", "0.87", "7"));
  EXPECT_FALSE(assessed("B", "0.90", "5"));
  EXPECT_TRUE(assessed("B", "0.905", "4.8"));
  EXPECT_FALSE(assessed("B", "0.93", "4.1"));
  EXPECT_FALSE(assessed("A", "0.93", "5.6"));
  EXPECT_FALSE(assessed("A", "0.951", "4.6"));
  EXPECT_TRUE(assessed("A", "0.96", "5"));
}

TEST(ActivityTables, CountNothingAboveTheirLastBandsAsFree) {
  EXPECT_TRUE(is_to_be_assessed(shipped_table("B"), 1, 14));
  EXPECT_TRUE(is_to_be_assessed(shipped_table("A"), 1, 14));
  EXPECT_FALSE(shipped_packs().shared_activity_table("open", 2013y / 12 / 30)) << "before its first day";
  EXPECT_FALSE(shipped_packs().shared_activity_table("boxed", 2026y / 5 / 1));
}

}  // namespace
}  // namespace tierproof
