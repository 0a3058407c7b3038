#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>

#include "../sums/samples.h"
#include "tierproof/sums/cooling.h"
#include "tierproof/sums/cooling_curve.h"
#include "tierproof/sums/death_rate.h"
#include "tierproof/sums/heat.h"
#include "tierproof/sums/probe.h"
#include "tierproof/sums/screening.h"
#include "tierproof/sums/shelf_life.h"
#include "tierproof/sums/stay.h"
#include "tierproof/sums/water_activity.h"

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

std::vector<std::pair<double, double>> pairs_of(const Check& check) {
  std::vector<std::pair<double, double>> pairs;
  for (const std::string& pair : split(check.series, ' '))
    pairs.emplace_back(number(split(pair, '/').at(0)), number(split(pair, '/').at(1)));
  return pairs;
}
std::vector<DValue> d_values(const Check& check) {
  std::vector<DValue> values;
  for (const auto& [celsius, minutes] : pairs_of(check)) values.push_back({celsius, minutes});
  return values;
}

/// A heat step as `tierproof sum heat` takes it; °F are turned into °C here.
LogHeat log_heat(const Check& check) {
  const bool fahrenheit = check.given.contains("fahrenheit");
  const auto fine = [&](double t) { return fine_celsius(fahrenheit ? (t - 32) / 1.8 : t); };
  LogHeatTerms terms;
  terms.reference = fine(check.given.at("reference"));
  terms.z = fine_celsius(check.given.at("z") / (fahrenheit ? 1.8 : 1));
  if (check.given.contains("floor")) terms.floor = fine(check.given.at("floor"));
  if (check.given.contains("ceiling")) terms.ceiling = fine(check.given.at("ceiling"));
  terms.error = fine_celsius(given(check, "error", 0));
  terms.longest_step = any_step;
  terms.need = Minutes{given(check, "required", 1)};
  std::vector<Sample> log;
  for (const auto& [minute, t] : pairs_of(check)) log.push_back({LogTime{std::llround(minute * 60e6)}, fine(t)});
  return test::heat_of(log, terms);
}
double of(const LogHeat& heat, const std::string& quantity) {
  if (quantity == "lower") return heat.lower.count();
  if (quantity == "exact") return heat.exact.count();
  if (quantity == "trapezoid") return heat.trapezoid.count();
  if (quantity == "verdict") return gravity(heat.verdict);
  throw std::runtime_error{"unknown quantity " + quantity};
}

double of(const LogStay& stay, const std::string& quantity) {
  if (quantity == "count") return static_cast<double>(stay.excursions.size());
  const LogExcursion& e = stay.excursions.at(0);
  if (quantity == "from") return e.from_us / 60e6;
  if (quantity == "to") return e.to_us / 60e6;
  if (quantity == "estimate") return e.estimate_us / 60e6;
  if (quantity == "maximum") return Minutes{e.longest.value()}.count();
  if (quantity == "area") return e.area_us / 60e6;
  throw std::runtime_error{"unknown quantity " + quantity};
}

double of(const CoolingStage& stage, const std::string& quantity) {
  const auto minutes = [](const std::optional<LogTime>& time) { return time ? Minutes{*time}.count() : -1; };
  if (quantity == "shortest") return minutes(stage.shortest);
  if (quantity == "longest") return minutes(stage.longest);
  if (quantity == "estimate") return stage.estimate_us ? *stage.estimate_us / 60e6 : -1;
  if (quantity == "verdict") return gravity(stage.verdict);
  throw std::runtime_error{"unknown quantity " + quantity};
}
double cooled(const Check& check) {
  const CoolingLimits limits{std::chrono::hours{2}, std::chrono::hours{6}, {}};
  const auto told = cooling_of(series_of(check), celsius(57), celsius(21), celsius(5), {}, limits);
  const auto words = split(check.quantity, ' ');
  return of(words.at(0) == "stage1" ? told.first : told.total, words.at(1));
}
double of_curve(const Check& check) {
  const CoolingCurve curve = cooling_curve(pairs_of(check), check.given.at("around"));
  if (check.quantity == "k") return curve.k_per_minute;
  if (check.quantity == "tau") return 1 / curve.k_per_minute;
  if (check.quantity == "start") return curve.start_c;
  if (check.quantity != "reaches") throw std::runtime_error{"unknown quantity " + check.quantity};
  const auto at = curve.reaches(check.given.at("at"));
  const double from = check.given.contains("from") ? curve.reaches(check.given.at("from")).value().count() : 0;
  return at ? at->count() - from : -1;
}
double of_death(const Check& check) {
  const DeathLine line = death_line(d_values(check));
  return check.quantity == "z" ? line.z : check.quantity == "r2" ? line.r2 : line.d_at(check.given.at("at"));
}

/// 20250407 of 7 April 2025.
double figure_of(Date day) {
  return static_cast<double>(static_cast<int>(day.year()) * 10'000 +
                             static_cast<int>(static_cast<unsigned>(day.month()) * 100 + static_cast<unsigned>(day.day())));
}
double of_days(const Check& check) {
  const auto words = split(check.series, ' ');
  if (check.sum == "elapsed") return Minutes{parse_zoned(words.at(1)).value().at - parse_zoned(words.at(0)).value().at}.count();
  const Date first = parse_date(words.at(0)).value();
  const int days = static_cast<int>(check.given.at("days"));
  if (check.sum == "days after") return figure_of(add_days(first, days));
  PartLife part{"custard", "fridge", first, 60, "the maker"};  // cold days
  part.cold_days = ColdDays{{"cold-days", "3-501.17", false}, days};
  part.frozen_days = part.thawed_days = 60;
  if (words.size() == 3) part.ways = {{FrozenDays{parse_date(words[1]).value(), parse_date(words[2]).value()}}};
  return figure_of(shelf_life({&part, 1}, {}).date.value());
}

double screened(const Check& check) {
  const auto& at = check.given;
  if (check.sum == "mean kinetic") return mean_kinetic_c(pairs_of(check));
  if (check.sum == "growth") return growth_over(series_of(check), {at.at("b"), at.at("tmin")}, any_step);
  if (check.sum == "cardinal") {
    return CardinalGrowth{at.at("tmin"), at.at("topt"), at.at("tmax"), at.at("best")}.rate_at(number(check.series));
  }
  if (check.sum == "rate moved") return rate_moved(at.at("log") / at.at("days"), number(check.series), at.at("to"), at.at("tmin"));
  if (check.sum == "norrish") return activity_alone({"sucrose", 342.2965, at.at("k")}, number(check.series) / 100);
  if (check.sum == "buffered") {
    std::vector<double> air;
    for (const auto& [minute, celsius] : pairs_of(check)) air.push_back(celsius);
    return buffered(air, air.front(), Minutes{at.at("step")}, Minutes{at.at("tau")}).at(static_cast<std::size_t>(at.at("index")));
  }
  throw std::runtime_error{"unknown sum " + check.sum};
}

double computed(const Check& check) {
  if (check.sum == "log heat") return of(log_heat(check), check.quantity) / given(check, "d", 1);
  if (check.sum == "log stay") {
    return of(test::stay_of(test::samples(pairs_of(check)), check.given.at("limit"), 0, 86'400), check.quantity);
  }
  if (check.sum == "elapsed" || check.sum == "days after" || check.sum == "cold days") return of_days(check);
  if (check.sum == "cooling") return cooled(check);
  if (check.sum == "cooling curve") return of_curve(check);
  if (check.sum == "z") return z_from(d_values(check).at(0), d_values(check).at(1));
  if (check.sum == "death line") return of_death(check);
  if (check.sum == "d at" || check.sum == "log reduction") {
    const auto parts = split(check.series, '/');
    const double d = d_at(number(parts.at(0)), {check.given.at("at"), check.given.at("d")}, check.given.at("z"));
    return check.sum == "d at" ? d : number(parts.at(1)) / d;
  }
  if (check.sum == "sugar target at altitude") {
    return sugar_target(check.given.at("at"), boiling_point(isa_pressure(number(check.series))));
  }
  if (check.sum == "sugar target at pressure") return sugar_target(check.given.at("at"), boiling_point(number(check.series)));
  if (check.sum == "altitude of boiling") return isa_altitude(saturation_megapascals(number(check.series) + 273.15) * 1000);
  if (check.sum == "check") {
    const ProbeTerm term{{}, kelvins(check.given.at("band")), 7};
    return is_good({{}, "ice", celsius(number(check.series)), celsius(check.given.at("at"))}, term) ? 1 : 0;
  }
  if (check.sum == "fahrenheit") {
    return Degrees{std::llround(number(check.series) * 100), Scale::fahrenheit}.temperature().to_celsius();
  }
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
  return screened(check);
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
  for (int n = 1; n <= 38; ++n) {
    const std::string id = (n < 10 ? "T0" : "T") + std::to_string(n);
    if (n == 33) continue;  // a balance of heat, which no sum here makes
    EXPECT_GT(times[id], 0) << id;
  }
}

TEST(SteamTables, GoThereAndBackAgain) {
  for (double kelvin = 280; kelvin < 640; kelvin += 7) {
    EXPECT_NEAR(saturation_kelvin(saturation_megapascals(kelvin)), kelvin, 1e-6) << "IAPWS R7-97 region 4: one equation, solved both ways";
  }
}

}  // namespace
}  // namespace tierproof
