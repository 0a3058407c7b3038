// The reference for mixes of low water activity against the published table that it is drawn from.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "../rules/reference_files.h"
#include "table.h"
#include "tierproof/rules/rule_pack.h"
#include "tierproof/sums/heat.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

HeatReference shipped_reference() {
  const auto packs = RulePacks::read(reference_files());
  if (!packs) throw std::runtime_error{"the rules cannot be read"};
  const auto terms = packs->temperature_terms("gb-eng", Date{std::chrono::year{2026} / 5 / 1});
  if (!terms || terms->references.size() != 1) throw std::runtime_error{"there is not one reference"};
  return terms->references.front();
}

double in_degrees(Temperature t) {
  return static_cast<double>((t - Temperature{}).to_parts()) / static_cast<double>(kelvins(1).to_parts());
}

/// Minutes that the reference asks for at `degrees`.
double asked(const HeatReference& row, double degrees) {
  const double z = static_cast<double>(row.z.to_parts()) / static_cast<double>(kelvins(1).to_parts());
  return Minutes{row.required}.count() * std::pow(10, (in_degrees(row.reference) - degrees) / z);
}

/// Mattick and others 2001, Appl Environ Microbiol 67:4128, Table 7: minutes for 3 log of Salmonella Typhimurium DT104.
TEST(LowActivityReference, AsksForNoLessThanAnyPublishedTimeInItsRange) {
  const HeatReference row = shipped_reference();
  EXPECT_EQ(in_degrees(row.floor), 65) << "Table 7 has 55, 65 and 74 °C; below 65 its times grow faster than this z";
  EXPECT_EQ(in_degrees(row.ceiling), 74);
  std::size_t compared = 0;
  double longest_at_65 = 0;
  for (const TableRow& published : rows_of_table("low_aw_3log_times.tsv")) {
    const std::string& activity = published.at("aw");
    const double degrees = figure(published, "temp_C");
    if (activity.find("outside") != std::string::npos || degrees < 65) continue;
    const Share aw = *parse_decimal(activity);
    if (aw < row.activity_from || aw > row.activity_to) continue;
    for (const char* column : {"t3log_min_sugar_solution_model", "t3log_min_observed_in_food"}) {
      ++compared;
      EXPECT_GE(asked(row, degrees), figure(published, column)) << activity << " at " << degrees << " °C, " << published.at("food");
      if (degrees == 65) longest_at_65 = std::max(longest_at_65, figure(published, column));
    }
  }
  EXPECT_EQ(compared, 16u) << "four activities, two temperatures, model and food";
  EXPECT_EQ(asked(row, 65), longest_at_65) << "18 min, coconut cake";
}

/// aw = Xw exp(-K Xs²), Norrish 1966 as given by Baeza et al. 2010, Food Bioprocess Technol 3:87, K 6.47 for sucrose; white of 88 % water.
double norrish(double sugar_share) {
  const double water = (1 - sugar_share) * 0.88 / 18.015;
  const double sucrose = sugar_share / 342.3;
  const double fraction = sucrose / (water + sucrose);
  return (1 - fraction) * std::exp(-6.47 * fraction * fraction);
}

TEST(LowActivityReference, SpansOnlySugarThatPutsAMixInsideItsRangeOfActivity) {
  EXPECT_NEAR(norrish(1.0 / 2), 0.9243, 5e-5) << "one part of sugar to one of white";
  EXPECT_NEAR(norrish(2.0 / 3), 0.8296, 5e-5) << "two parts of sugar to one of white";
  const HeatReference row = shipped_reference();
  EXPECT_LE(norrish(to_double(row.sugar_from)), to_double(row.activity_to));
  EXPECT_GE(norrish(to_double(row.sugar_to)), to_double(row.activity_from));
}

}  // namespace
}  // namespace tierproof
