#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>

#include "../sums/readings.h"
#include "tierproof/sums/heat.h"
#include "tierproof/sums/probe.h"
#include "tierproof/sums/stay.h"

namespace tierproof {
namespace {

/// One row of tests/checks/temperature_cases.tsv: one claim.
struct Check {
  std::string id;
  std::string sum;
  std::string series;
  std::map<std::string, double> given;
  std::string quantity;
  double expected = 0;
  double tolerance = 0;
  std::string source;
};
void PrintTo(const Check& check, std::ostream* out) { *out << check.id; }

double number(const std::string& text) {
  std::istringstream in{text};
  in.imbue(std::locale::classic());
  double value = 0;
  if (!(in >> value) || !in.eof()) throw std::runtime_error{"not a number: " + text};
  return value;
}

std::vector<std::string> split(const std::string& text, char at) {
  std::vector<std::string> parts;
  std::istringstream in{text};
  for (std::string part; std::getline(in, part, at);) parts.push_back(part);
  return parts;
}

std::vector<Check> read_checks() {
  std::ifstream in{TIERPROOF_SOURCE_DIR "/tests/checks/temperature_cases.tsv"};
  std::vector<Check> checks;
  bool heading = true;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    if (std::exchange(heading, false)) continue;
    const auto cells = split(line, '\t');
    if (cells.size() != 8) throw std::runtime_error{"not eight cells: " + line};
    Check check{cells[0], cells[1], cells[2], {}, cells[4], number(cells[5]), number(cells[6]), cells[7]};
    for (const std::string& pair : split(cells[3], ' ')) check.given[split(pair, '=').at(0)] = number(split(pair, '=').at(1));
    checks.push_back(check);
  }
  if (checks.empty()) throw std::runtime_error{"no checks were read"};
  return checks;
}

std::vector<Reading> series_of(const Check& check) {
  std::vector<Reading> series;
  for (const std::string& pair : split(check.series, ' ')) {
    series.push_back({test::minute(number(split(pair, '/').at(0))), celsius(number(split(pair, '/').at(1)))});
  }
  return series;
}

double given(const Check& check, const char* name, double otherwise) {
  const auto found = check.given.find(name);
  return found == check.given.end() ? otherwise : found->second;
}

constexpr Span any_step = std::chrono::hours{24};

HeatTerms heat_terms(const Check& check) {
  return {celsius(given(check, "reference", 70)),
          kelvins(check.given.at("z")),
          celsius(given(check, "floor", -273)),
          celsius(given(check, "ceiling", 500)),
          any_step,
          kelvins(given(check, "error", 0))};
}

double of(const DemonstratedTime& time, const std::string& quantity) {
  if (quantity == "lower") return time.lower.count();
  if (quantity == "estimate") return time.estimate.count();
  if (quantity == "trapezoid") return time.trapezoid.count();
  throw std::runtime_error{"unknown quantity " + quantity};
}

/// Minutes at the reference that one minute at `degrees` is worth.
double rate(double degrees, const HeatTerms& terms) {
  return demonstrated_time(test::readings({{0, degrees}, {1, degrees}}), terms).lower.count();
}

double of(const std::vector<Excursion>& all, const std::string& quantity) {
  if (quantity == "count") return static_cast<double>(all.size());
  double total = 0;
  for (const Excursion& e : all) total += e.estimate.count();
  if (quantity == "total estimate") return total;
  const Excursion& e = all.at(0);
  if (quantity == "minimum") return Minutes{e.minimum}.count();
  if (quantity == "estimate") return e.estimate.count();
  if (quantity == "maximum") return Minutes{e.maximum.value()}.count();
  if (quantity == "peak") return e.peak.to_celsius();
  if (quantity == "area") return e.area_kelvin_minutes;
  if (quantity == "open") return e.maximum ? 0 : 1;
  throw std::runtime_error{"unknown quantity " + quantity};
}

double computed(const Check& check) {
  if (check.sum == "lethality") return of(demonstrated_time(series_of(check), heat_terms(check)), check.quantity) / given(check, "d", 1);
  if (check.sum == "time for") return check.given.at("required") / rate(number(check.series), heat_terms(check));
  if (check.sum == "row") {
    const auto parts = split(check.series, '/');
    return number(parts.at(1)) * rate(number(parts.at(0)), heat_terms(check));
  }
  if (check.sum == "factor") {
    HeatTerms sure = heat_terms(check);
    sure.error = {};
    return rate(70, heat_terms(check)) / rate(70, sure);
  }
  if (check.sum == "held") return held_at_or_above(series_of(check), celsius(check.given.at("limit")), {}, any_step).estimate.count();
  if (check.sum == "excursion") return of(excursions_above(series_of(check), celsius(check.given.at("limit")), any_step), check.quantity);
  if (check.sum == "boiling at altitude") return boiling_point(isa_pressure(number(check.series)));
  if (check.sum == "boiling at pressure") return boiling_point(number(check.series));
  if (check.sum == "saturation kelvin") return saturation_kelvin(number(check.series));
  if (check.sum == "saturation megapascals") return saturation_megapascals(number(check.series));
  if (check.sum == "two point") {
    return two_point_corrected(number(check.series), check.given.at("ice"), check.given.at("boil"), check.given.at("boils"));
  }
  throw std::runtime_error{"unknown sum " + check.sum};
}

class TemperatureCase : public testing::TestWithParam<Check> {};

TEST_P(TemperatureCase, IsAsItsSourceSays) {
  const Check& check = GetParam();
  if (check.quantity == "at least") {
    EXPECT_GE(computed(check), check.expected) << check.id << ": " << check.source;
  } else {
    EXPECT_NEAR(computed(check), check.expected, check.tolerance) << check.id << ": " << check.source;
  }
}

INSTANTIATE_TEST_SUITE_P(Checks, TemperatureCase, testing::ValuesIn(read_checks()), [](const auto& row) {
  std::string name;
  for (const char c : row.param.id + "_" + row.param.quantity + "_" + std::to_string(row.index))
    name += std::isalnum(static_cast<unsigned char>(c)) ? c : '_';
  return name;
});

TEST(TemperatureCases, HoldsEveryCaseOnce) {
  std::map<std::string, int> times;
  for (const Check& check : read_checks()) ++times[check.id.substr(0, 3)];
  for (const char* id : {"T01", "T02", "T04", "T05", "T06", "T12", "T13", "T14", "T15", "T16", "T24", "T26"}) EXPECT_GT(times[id], 0) << id;
}

TEST(SteamTables, GoThereAndBackAgain) {
  for (double kelvin = 280; kelvin < 640; kelvin += 7) {
    EXPECT_NEAR(saturation_kelvin(saturation_megapascals(kelvin)), kelvin, 1e-6) << "IAPWS R7-97 region 4: one equation, solved both ways";
  }
}

}  // namespace
}  // namespace tierproof
