#include <fmt/format.h>
#include <gtest/gtest.h>

#include <fstream>
#include <functional>
#include <map>
#include <sstream>
#include <stdexcept>

#include "tierproof/sums/cooling_curve.h"
#include "tierproof/sums/meringue.h"
#include "tierproof/sums/probe.h"
#include "tierproof/sums/specific_heat.h"
#include "tierproof/sums/sugar_syrup.h"
#include "tierproof/sums/tins.h"
#include "tierproof/sums/water_activity.h"
#include "tierproof/sums/yields.h"

namespace tierproof {
namespace {

/// One row of tests/checks/physics_cases.tsv: one claim.
struct PhysicsCheck {
  std::string id;
  std::string sum;
  std::map<std::string, double> given;
  double expected = 0;
  double tolerance = 0;
  std::string source;
  double at(const char* name) const { return given.at(name); }
  double at(const char* name, double otherwise) const { return given.contains(name) ? given.at(name) : otherwise; }
};
void PrintTo(const PhysicsCheck& check, std::ostream* out) { *out << check.id; }

std::vector<PhysicsCheck> read_physics_checks() {
  std::ifstream in{TIERPROOF_SOURCE_DIR "/tests/checks/physics_cases.tsv"};
  std::vector<PhysicsCheck> checks;
  bool heading = true;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    if (std::exchange(heading, false)) continue;
    std::vector<std::string> cells;
    std::istringstream text{line};
    for (std::string cell; std::getline(text, cell, '\t');) cells.push_back(cell);
    if (cells.size() != 6) throw std::runtime_error{"not six cells: " + line};
    PhysicsCheck check{cells[0], cells[1], {}, std::stod(cells[3]), std::stod(cells[4]), cells[5]};
    std::istringstream pairs{cells[2]};
    for (std::string pair; pairs >> pair;) check.given[pair.substr(0, pair.find('='))] = std::stod(pair.substr(pair.find('=') + 1));
    checks.push_back(check);
  }
  return checks;
}

MeringueHeat of_meringue(const PhysicsCheck& check) {
  MeringuePlan plan{check.at("white"), check.at("sugar"), check.at("pour"), check.at("tw"), check.at("bowl"), check.at("tb")};
  plan.bowl_heat = check.at("cp", steel_heat);
  return meringue_heat(plan).value();
}

double solids_of(const PhysicsCheck& check) { return solids_boiling_at(check.at("t"), check.at("p", 101.325)).value().share; }

BoiledDown down_of(const PhysicsCheck& check) { return boiled_down(check.at("sugar"), check.at("water"), solids_of(check)); }

Dissolved solution_of(const PhysicsCheck& check) {
  Dissolved solution{check.at("water"), {}};
  for (const auto& [name, grams] : check.given) {
    if (name != "water") solution.grams[solute(name)->name] = grams;
  }
  return solution;
}

Drying dried_of(const PhysicsCheck& check) { return drying(check.at("in"), check.at("water") / 100, check.at("out")).value(); }

// Composition by USDA SR26: unsalted butter 17.94 % water, icing sugar 0.23 % water and 97.81 % sucrose, milk 88.13 % water.
ActivityEstimate of_buttercream(double celsius) {
  const std::vector<ActivityPart> parts{{250, .1794, {}}, {500, .0023, {{"sucrose", .9781}}}, {30, .8813, {}}};
  return estimate_activity(parts, celsius).value();
}

constexpr FoodShares egg_white{.8757, .1090, .0017, .0073, 0, .0063};

using Sum = std::function<double(const PhysicsCheck&)>;
const std::map<std::string, Sum>& sums_by_name() {
  static const std::map<std::string, Sum> sums{
      {"vapour", [](const auto& c) { return saturation_megapascals(c.at("t") + 273.15) * 1000; }},
      {"boils", [](const auto& c) { return boiling_point(c.at("p")); }},
      {"boils at altitude", [](const auto& c) { return boiling_point(isa_pressure(c.at("h"))); }},
      {"syrup boils", [](const auto& c) { return syrup_boiling_point(c.at("ds") / 100, c.at("p")); }},
      {"solids", [](const auto& c) { return solids_of(c) * 100; }},
      {"browne", [](const auto& c) { return solids_by_table(browne_table(), c.at("dt")).value() * 100; }},
      {"boiled down syrup", [](const auto& c) { return down_of(c).syrup_g; }},
      {"boiled down water", [](const auto& c) { return down_of(c).water_g; }},
      {"boiled down lost", [](const auto& c) { return down_of(c).lost_g; }},
      {"heat of solution", [](const auto& c) { return sucrose_solution_heat(c.at("ds") / 100, c.at("t")); }},
      {"heat of dry solids",
       [](const auto& c) {
         return choi_okos_heat({1 - c.at("ds") / 100, 0, 0, c.at("ds") / 100, 0, 0}, c.at("t"));
       }},
      {"egg white heat", [](const auto& c) { return choi_okos_heat(egg_white, c.at("t")); }},
      {"egg white density", [](const auto& c) { return choi_okos_density(egg_white, c.at("t")); }},
      {"meringue lower", [](const auto& c) { return of_meringue(c).lower; }},
      {"meringue central", [](const auto& c) { return of_meringue(c).central; }},
      {"meringue upper", [](const auto& c) { return of_meringue(c).upper; }},
      {"meringue ceiling", [](const auto& c) { return of_meringue(c).ceiling; }},
      {"dilution heat", [](const auto& c) { return of_meringue(c).dilution_kj; }},
      {"cools to",
       [](const auto& c) {
         return CoolingCurve{c.at("around"), c.at("start"), 60 / c.at("tau")}.reaches(c.at("to")).value().count() * 60;
       }},
      {"norrish sucrose", [](const auto& c) { return activity_alone(*solute("sucrose"), c.at("share") / 100); }},
      {"norrish glucose", [](const auto& c) { return activity_alone(*solute("glucose"), c.at("share") / 100); }},
      {"norrish glycerol", [](const auto& c) { return activity_alone(*solute("glycerol"), c.at("share") / 100); }},
      {"norrish sorbitol", [](const auto& c) { return activity_alone(*solute("sorbitol"), c.at("share") / 100); }},
      {"norrish NaCl", [](const auto& c) { return activity_alone(*solute("NaCl"), c.at("share") / 100); }},
      {"salt osmotic", [](const auto& c) { return salt_osmotic_coefficient(c.at("m")); }},
      {"sucrose activity", [](const auto& c) { return sucrose_activity(c.at("share") / 100, c.at("t")); }},
      {"ross", [](const auto& c) { return ross_activity(solution_of(c)); }},
      {"norrish mixture", [](const auto& c) { return norrish_mixture_activity(solution_of(c)).value(); }},
      {"ferro fontan", [](const auto& c) { return ferro_fontan_activity(solution_of(c)).value(); }},
      {"buttercream activity", [](const auto& c) { return of_buttercream(c.at("t")).activity; }},
      {"buttercream water", [](const auto& c) { return of_buttercream(c.at("t")).water_g; }},
      {"dried loss", [](const auto& c) { return dried_of(c).loss * 100; }},
      {"dried water", [](const auto& c) { return dried_of(c).water * 100; }},
      {"mass at water", [](const auto& c) { return mass_at_water(c.at("in"), c.at("water") / 100, c.at("out") / 100); }},
      {"tin",
       [](const auto& c) {
         return tin_factor({true, c.at("from"), 3}, {true, c.at("to"), 3});
       }},
      {"tin to square",
       [](const auto& c) {
         return tin_factor({true, c.at("from"), 3}, {false, c.at("to"), 3});
       }},
      {"egg white of", [](const auto& c) { return parts_of_eggs(static_cast<int>(c.at("eggs")), c.at("each")).white_g; }},
      {"egg yolk of", [](const auto& c) { return parts_of_eggs(static_cast<int>(c.at("eggs")), c.at("each")).yolk_g; }},
      {"eggs for", [](const auto& c) { return eggs_for_white(c.at("white"), c.at("each")); }},
      {"cup", [](const auto& c) { return c.at("grams") / millilitres_per_us_cup * millilitres_per_metric_cup; }},
      {"mould", [](const auto& c) { return mould_free_days(c.at("erh")); }}};
  return sums;
}

class PhysicsCase : public testing::TestWithParam<PhysicsCheck> {};

TEST_P(PhysicsCase, ComesOutAsPublished) {
  const PhysicsCheck& check = GetParam();
  ASSERT_TRUE(sums_by_name().contains(check.sum)) << check.sum;
  EXPECT_NEAR(sums_by_name().at(check.sum)(check), check.expected, check.tolerance) << check.source;
  EXPECT_FALSE(check.source.empty());
}
INSTANTIATE_TEST_SUITE_P(Published, PhysicsCase, testing::ValuesIn(read_physics_checks()), [](const auto& named) {
  std::string name = named.param.id;
  for (char& c : name) {
    if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
  }
  return name;
});

TEST(PhysicsCases, AreAllThere) {
  std::map<std::string, int> by_case;
  for (const PhysicsCheck& check : read_physics_checks()) ++by_case[check.id.substr(0, 3)];
  // P18 is about rules of thumb that this program does not use, P24 stands with the tables of activity and pH, P29 with the shares of a
  // label.
  for (int n = 1; n <= 35; ++n) {
    if (n == 18 || n == 24 || n == 29) continue;
    EXPECT_GE(by_case[fmt::format("P{:02}", n)], 1) << n;
  }
}

}  // namespace
}  // namespace tierproof
