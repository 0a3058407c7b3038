#include "tierproof/sums/probe.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>

#include "series.h"

namespace tierproof {
namespace {

using series::in_celsius;

std::string in_what(const ProbeCheck& check) {
  if (check.method == "ice") return "in ice";
  if (check.method == "boiling") return "in boiling water";
  return "by " + check.method;
}

std::string day_words(Instant at, Offset offset) { return format_date_long(day_of(at, offset)); }

int days_from(Instant earlier, Instant later, Offset offset) {
  using std::chrono::sys_days;
  return static_cast<int>((sys_days{day_of(later, offset)} - sys_days{day_of(earlier, offset)}).count());
}

std::string format_fahrenheit(std::int64_t hundredths) {
  const std::int64_t whole = std::abs(hundredths) / 100;
  const std::int64_t rest = std::abs(hundredths) % 100;
  const std::string decimals = rest % 10 == 0 ? std::to_string(rest / 10) : fmt::format("{:02}", rest);
  return fmt::format("{}{}.{} °F", hundredths < 0 ? "-" : "", whole, decimals);
}

std::string as_read(const ProbeCheck& check) {
  if (check.scale == Scale::celsius) return in_celsius(check.read);
  const auto hundredths = static_cast<std::int64_t>(std::llround(check.read.to_fahrenheit() * 100));
  return fmt::format("{} ({})", format_fahrenheit(hundredths), in_celsius(check.read));
}

std::string failed(const ProbeCheck& check, const ProbeTerm& terms, Offset offset) {
  return fmt::format("the check {} on {} failed: read {}, should be {} ± {}", in_what(check), day_words(check.at, offset), as_read(check),
                     in_celsius(check.expected), in_celsius(terms.band));
}

std::vector<ProbeCheck> in_time_order(std::span<const ProbeCheck> checks) {
  std::vector<ProbeCheck> sorted(checks.begin(), checks.end());
  std::stable_sort(sorted.begin(), sorted.end(), [](const ProbeCheck& a, const ProbeCheck& b) { return a.at < b.at; });
  return sorted;
}

/// IAPWS R7-97 (1997, rev. 2012), Table 34: coefficients of the saturation equation.
constexpr double n1 = 0.11670521452767e4, n2 = -0.72421316703206e6, n3 = -0.17073846940092e2, n4 = 0.12020824702470e5,
                 n5 = -0.32325550322333e7, n6 = 0.14915108613530e2, n7 = -0.48232657361591e4, n8 = 0.40511340542057e6,
                 n9 = -0.23855557567849, n10 = 0.65017534844798e3;

/// ICAO Doc 7488: sea-level pressure, lapse rate in K/m, exponent g M / (R L).
constexpr double sea_level_kpa = 101.325, lapse = 0.0065, isa_exponent = 9.80665 * 0.0289644 / (8.31432 * lapse);

void require(bool holds, const char* otherwise) {
  if (!holds) throw std::invalid_argument{otherwise};
}

}  // namespace

bool is_good(const ProbeCheck& check, const ProbeTerm& terms) {
  const TemperatureSpan off = check.read - check.expected;
  return off <= terms.band && -off <= terms.band;
}

TemperatureSpan reading_error(TemperatureSpan accuracy, TemperatureSpan step) {
  return accuracy + TemperatureSpan::parts((step.to_parts() + 1) / 2);
}

std::vector<Drift> drift_of(std::span<const ProbeCheck> checks) {
  const auto away = [](TemperatureSpan off) { return std::abs(off.to_parts()); };
  std::vector<Drift> all;
  for (const ProbeCheck& check : checks) {
    const TemperatureSpan off = check.read - check.expected;
    auto found = std::find_if(all.begin(), all.end(), [&](const Drift& one) { return one.method == check.method; });
    if (found == all.end()) found = all.insert(all.end(), Drift{check.method, 0, off, off, off});
    ++found->checks;
    found->last = off;
    if (away(off) > away(found->most)) found->most = off;
  }
  return all;
}

std::string check_in_words(const ProbeCheck& check, const ProbeTerm& terms) {
  return fmt::format("read {} {}, should be {} ± {}", as_read(check), in_what(check), in_celsius(check.expected), in_celsius(terms.band));
}

DoubtedReadings doubted_by(std::size_t failed, std::span<const ProbeCheck> checks, const ProbeTerm& terms, Offset offset) {
  const ProbeCheck& by = checks[failed];
  DoubtedReadings doubted;
  for (const ProbeCheck& check : checks) {
    const bool one_look = check.method != by.method && days_from(check.at, by.at, offset) == 0;
    if (check.at < by.at && !one_look && is_good(check, terms)) doubted.from = std::max(doubted.from, check.at);
    if (check.at > by.at && check.method == by.method && is_good(check, terms)) doubted.until = std::min(doubted.until, check.at);
  }
  return doubted;
}

CheckStanding standing_at(Instant at, std::span<const ProbeCheck> checks, const ProbeTerm& terms, Offset offset) {
  CheckStanding standing;
  std::map<std::string, ProbeCheck> last;
  std::optional<ProbeCheck> last_good;
  for (const ProbeCheck& check : in_time_order(checks)) {
    if (check.at > at) break;
    last[check.method] = check;
    if (is_good(check, terms)) last_good = check;
  }
  if (last.empty()) {
    standing.words = "never checked";
    return standing;
  }
  if (last_good) {
    standing.last_good = last_good->at;
    standing.due = Date{std::chrono::sys_days{day_of(last_good->at, offset)} + std::chrono::days{terms.days_between}};
  }
  for (const auto& [method, check] : last) {
    if (is_good(check, terms)) continue;
    standing.is = CheckStanding::Is::failed;
    standing.words = failed(check, terms, offset) + ", and it has not been good again";
    return standing;
  }
  const Date today = day_of(at, offset);
  const std::string checked =
      fmt::format("checked {} on {}, read {}", in_what(*last_good), day_words(last_good->at, offset), as_read(*last_good));
  const std::string by = format_date_long(*standing.due);
  if (*standing.due < today) {
    standing.is = CheckStanding::Is::overdue;
    standing.words = fmt::format("{}; the next was due by {}: what it reads now counts for nothing", checked, by);
  } else if (*standing.due == today) {
    standing.is = CheckStanding::Is::due;
    standing.words = fmt::format("{}; the next is due today", checked);
  } else {
    standing.is = CheckStanding::Is::good;
    standing.words = fmt::format("{}; next due by {}", checked, by);
  }
  return standing;
}

Trust trust_at(Instant at, std::span<const ProbeCheck> checks, const ProbeTerm& terms, Offset offset) {
  return trust_between(at, at, checks, terms, offset);
}

Trust trust_between(Instant from, Instant to, std::span<const ProbeCheck> checks, const ProbeTerm& terms, Offset offset) {
  require(from <= to, "a stretch of time must not end before it begins");
  const auto sorted = in_time_order(checks);
  const auto begin = std::find_if(sorted.begin(), sorted.end(), [&](const ProbeCheck& c) { return c.at > from; });
  const auto end = std::find_if(begin, sorted.end(), [&](const ProbeCheck& c) { return c.at > to; });
  if (begin == sorted.begin()) return {false, "no check of the thermometer before"};

  std::map<std::string, const ProbeCheck*> standing;  // the last check of each method before `from`
  const ProbeCheck* last_good = nullptr;
  for (auto check = sorted.begin(); check != begin; ++check) {
    standing[check->method] = &*check;
    if (is_good(*check, terms)) last_good = &*check;
  }
  for (const auto& [method, check] : standing) {
    if (!is_good(*check, terms)) return {false, failed(*check, terms, offset) + ", and was not good again before"};
  }
  // every method's last check is good here, so there is a last good one
  Instant since = last_good->at;
  const auto overdue = [&](Instant by) { return days_from(since, by, offset) > terms.days_between; };
  const auto overdue_words = [&] {
    return fmt::format("the last good check was on {}, more than {} day{} before", day_words(since, offset), terms.days_between,
                       terms.days_between == 1 ? "" : "s");
  };
  for (auto check = begin; check != end; ++check) {
    if (!is_good(*check, terms)) return {false, failed(*check, terms, offset)};
    if (overdue(check->at)) return {false, overdue_words()};
    since = check->at;
  }
  if (overdue(to)) return {false, overdue_words()};

  std::map<std::string, bool> seen;
  for (auto check = end; check != sorted.end() && days_from(end->at, check->at, offset) == 0; ++check) {
    if (!seen.emplace(check->method, true).second) continue;
    if (!is_good(*check, terms)) return {false, "the next check was not good: " + failed(*check, terms, offset)};
  }
  std::string words = fmt::format("checked {} on {}, read {}", in_what(*last_good), day_words(last_good->at, offset), as_read(*last_good));
  if (end != sorted.end()) words += fmt::format("; good again {} on {}", in_what(*end), day_words(end->at, offset));
  return {true, words};
}

Finding judge_thermometers(const std::string& subject, std::span<const ProbeTrust> used, const ProbeTerm& terms) {
  Finding f;
  f.control = "thermometer";
  f.subject = subject;
  f.source = cite(terms.cited);
  f.limit = fmt::format("within {} of what it should read, checked at least every {} day{}", in_celsius(terms.band), terms.days_between,
                        terms.days_between == 1 ? "" : "s");
  std::vector<std::string> doubted;
  std::set<std::string> names;
  std::set<std::string> doubtful;
  for (const ProbeTrust& probe : used) {
    f.paths.push_back(fmt::format("{}: {}", probe.name, probe.trust.words));
    names.insert(probe.name);
    if (probe.trust.good) continue;
    doubted.push_back(f.paths.back());
    doubtful.insert(probe.name);
  }
  f.result = fmt::format("{} of {} trusted", names.size() - doubtful.size(), names.size());
  if (!used.empty() && doubted.empty()) {
    f.verdict = Verdict::shown;
    f.stop = Stop::none;
    f.message =
        used.size() == 1 ? fmt::format("{}", f.paths.front()) : fmt::format("good checks for all {} thermometers used", names.size());
    return f;
  }
  f.verdict = Verdict::not_shown;
  f.stop = Stop::needs_person;
  f.message = used.empty()
                  ? "no thermometer is recorded"
                  : fmt::format("{} of {} thermometers cannot be relied on: {}", doubtful.size(), names.size(), fmt::join(doubted, "; "));
  f.remedy = used.empty()
                 ? "record which thermometer was used"
                 : "check the thermometer in melting ice or boiling water, adjust or replace it if it is out, and record the check; "
                   "what it read since its last good check counts as not shown";
  return f;
}

double saturation_kelvin(double megapascals) {
  require(megapascals >= 0.000611213 && megapascals <= 22.064, "pressure outside 0.000611213..22.064 MPa");
  const double b = std::pow(megapascals, 0.25);
  const double e = b * b + n3 * b + n6;
  const double f = n1 * b * b + n4 * b + n7;
  const double g = n2 * b * b + n5 * b + n8;
  const double d = 2 * g / (-f - std::sqrt(f * f - 4 * e * g));
  return (n10 + d - std::sqrt((n10 + d) * (n10 + d) - 4 * (n9 + n10 * d))) / 2;
}

double saturation_megapascals(double kelvin) {
  require(kelvin >= 273.15 && kelvin <= 647.096, "temperature outside 273.15..647.096 K");
  const double t = kelvin + n9 / (kelvin - n10);
  const double a = t * t + n1 * t + n2;
  const double b = n3 * t * t + n4 * t + n5;
  const double c = n6 * t * t + n7 * t + n8;
  return std::pow(2 * c / (-b + std::sqrt(b * b - 4 * a * c)), 4);
}

double boiling_point(double kilopascals) {
  require(kilopascals >= 50 && kilopascals <= 150, "pressure outside 50..150 kPa");
  return saturation_kelvin(kilopascals / 1000) - 273.15;
}

double isa_pressure(double metres) {
  require(metres >= -500 && metres <= 5000, "altitude outside -500..5000 m");
  return sea_level_kpa * std::pow(1 - lapse * metres / 288.15, isa_exponent);
}

double isa_altitude(double kilopascals) {
  require(kilopascals >= 50 && kilopascals <= 110, "pressure outside 50..110 kPa");
  return (1 - std::pow(kilopascals / sea_level_kpa, 1 / isa_exponent)) * 288.15 / lapse;
}

double sea_level_pressure(double kilopascals, double metres) { return kilopascals * sea_level_kpa / isa_pressure(metres); }

bool is_station_pressure(double kilopascals, double metres) {
  constexpr double least = 94, most = 104;
  const double reduced = sea_level_pressure(kilopascals, metres);
  return reduced >= least && reduced <= most;
}

double sugar_target(double target, double boils_at) { return target - (boiling_point(sea_level_kpa) - boils_at); }

double two_point_corrected(double reading, double read_in_ice, double read_at_boil, double boils_at) {
  require(read_at_boil > read_in_ice, "the thermometer must read more at the boil than in ice");
  return (reading - read_in_ice) * boils_at / (read_at_boil - read_in_ice);
}

std::vector<TwoPoint> corrections_of(std::span<const ProbeCheck> checks, Offset offset) {
  const auto sorted = in_time_order(checks);
  std::vector<TwoPoint> corrections;
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    if (!sorted[i].corrects) continue;
    TwoPoint points;
    points.from = sorted[i].at;
    if (i + 1 < sorted.size()) points.until = sorted[i + 1].at;
    const auto take = [&](const ProbeCheck& check) { (check.method == "ice" ? points.ice : points.boiling) = check; };
    take(sorted[i]);
    for (std::size_t j = i; j-- > 0;) {
      if (days_from(sorted[j].at, sorted[i].at, offset) != 0) break;
      if (sorted[j].method == sorted[i].method) continue;
      take(sorted[j]);
      break;
    }
    points.holds = points.ice && points.boiling && points.boiling->read > points.ice->read;
    corrections.push_back(std::move(points));
  }
  return corrections;
}

const TwoPoint* covering(std::span<const TwoPoint> corrections, Instant at) {
  for (const auto& points : corrections) {
    if (points.holds && at >= points.from && at < points.until) return &points;
  }
  return nullptr;
}

Temperature corrected(Temperature read, const TwoPoint& points) {
  const double celsius = two_point_corrected(read.to_celsius(), points.ice->read.to_celsius(), points.boiling->read.to_celsius(),
                                             points.boiling->expected.to_celsius());
  return Temperature{} + TemperatureSpan::parts(std::llround(celsius * 900));
}

}  // namespace tierproof
