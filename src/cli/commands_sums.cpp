#include <fmt/format.h>

#include <cmath>

#include "sum_parts.h"
#include "tierproof/sums/cooling.h"
#include "tierproof/sums/log_sums.h"
#include "tierproof/sums/probe.h"
#include "tierproof/sums/screening.h"

namespace tierproof::cli {
namespace {

constexpr const char* of_all_logs =
    "A log shows its own readings and nothing of what lay between or beyond them, and this sum knows of no thermometer check. Local law "
    "and the advice of your food authority come first.";

double minutes_in(LogTime time) { return static_cast<double>(time.count()) / 60e6; }
double seconds_in(LogTime time) { return static_cast<double>(time.count()) / 1e6; }
LogTime seconds_long(double seconds) { return LogTime{std::llround(seconds * 1e6)}; }
LogTime hours_long(double hours) { return LogTime{std::llround(hours * 3600e6)}; }

// ---- boiling point ----------------------------------------------------------------------------------------------------------

struct BoilingOptions {
  Typed altitude, pressure;
};

int sum_boiling_point(Door& door, const BoilingOptions& options) {
  Asked asked;
  const double pressure = pressure_asked(asked, options.altitude, options.pressure);
  if (asked.refused()) return door.refuse(asked.refusals());
  const double boils = boiling_point(pressure);
  const Beside beside{
      "tierproof/sum/boiling-point/1",
      std::string{options.altitude ? "p = 101.325 kPa (1 - 0.0065 H / 288.15)^5.2558761 of geopotential metres H; " : ""} +
          "Tsat(p) by the saturation equation of IAPWS-IF97, region 4, solved for T; minus 273.15",
      std::string{"IAPWS R7-97 (IAPWS-IF97), region 4, equation 31"} + (options.altitude ? "; ICAO Doc 7488, standard atmosphere" : ""),
      options.altitude
          ? "Weather moves the pressure of one place, and with it the boiling point by about 1 °C: a pressure measured on the spot tells "
            "more than an altitude. Pure water in an open pan. Correct for the altitude or for a reading in boiling water, never for both."
          : "It is the pressure on the spot that counts: a forecast's pressure is reduced to sea level and is the wrong one. Pure water in "
            "an "
            "open pan. Correct for the pressure or for a reading in boiling water, never for both."};
  SumPrinter printer{asked, nullptr, beside};
  if (door.json) {
    printer.number("pressure_kpa", pressure);
    printer.number("boiling_c", boils);
    printer.end_json();
  } else {
    Door::say(fmt::format("Water boils at {:.4f} °C at {:.4f} kPa.", boils, pressure));
    printer.say_beside();
  }
  return exit_status::done;
}

// ---- heat -------------------------------------------------------------------------------------------------------------------

struct HeatOptions {
  Typed readings, reference, z, need, error, step, floor, ceiling;
};

int sum_heat(Door& door, const HeatOptions& options) {
  Asked asked;
  LogHeatTerms terms;
  terms.reference = fine_celsius(asked.number("--reference-c", options.reference, degrees, "70"));
  terms.z = fine_celsius(asked.number("--z-c", options.z, {0.1, 1000}, "7.5"));
  terms.need = Minutes{asked.number("--need-min", options.need, above_nothing, "2")};
  terms.error = fine_celsius(asked.number_or(0, "--probe-error-c", options.error, error_bounds, "0.5"));
  terms.longest_step = seconds_long(asked.number_or(60, "--max-step-s", options.step, {0.001, 1e9}, "60"));
  if (const auto floor = asked.maybe("--floor-c", options.floor, degrees, "55")) terms.floor = fine_celsius(*floor);
  if (const auto ceiling = asked.maybe("--ceiling-c", options.ceiling, degrees, "74")) terms.ceiling = fine_celsius(*ceiling);
  if (terms.floor && terms.ceiling && *terms.ceiling < *terms.floor)
    asked.refuse("--ceiling-c", "is under --floor-c", "give the lowest and the highest temperature that the reference was tested at");

  std::optional<HeatOfLog> sum;
  if (!asked.refused()) sum.emplace(terms);
  const auto seen = asked.log(options.readings, [&](const Sample& sample) { sum->take(sample); });
  if (!seen) return door.refuse(asked.refusals());
  const LogHeat heat = sum->told();
  if (!std::isfinite(heat.upper.count())) {
    asked.refuse("--z-c", "makes the sum larger than any number", "give the --ceiling-c that the reference was tested up to");
    return door.refuse(asked.refusals());
  }
  const Beside beside{
      "tierproof/sum/heat/1",
      "L(T) = 10^((T - Tref) / z); lower = sum of dt L(min(Ta, Tb) - E), exact = sum of dt z / ln 10 (Lb - La) / (Tb - Ta), trapezoid = "
      "sum of "
      "dt (La + Lb) / 2, upper = sum of dt L(max(Ta, Tb) + E), over steps no longer than the longest; T above the ceiling counts as the "
      "ceiling, below the floor nothing; shown when lower is at least the need, judged on nothing else",
      "log-linear model of death by heat (Bigelow), with the reference, z and need that you gave",
      fmt::format(
          "Take reference, z, need, floor and ceiling from a published table that holds for this food: sugar, fat and dryness protect "
          "bacteria. The model wants one z, a mix that is the same throughout and a thermometer at its coldest point. The trapezoid "
          "over-credits a ramp. {}",
          of_all_logs)};
  SumPrinter printer{asked, &*seen, beside};
  if (door.json) {
    printer.number("lower_min", heat.lower.count());
    printer.number("exact_min", heat.exact.count());
    printer.number("trapezoid_min", heat.trapezoid.count());
    printer.number("upper_min", heat.upper.count());
    printer.number("gap_s", seconds_in(heat.gap));
    printer.text("verdict", term_of(heat.verdict));
    printer.end_json();
  } else {
    Door::say(fmt::format("{}: lower bound {:.6g} min of {:.6g} min at {:.6g} °C", term_of(heat.verdict), heat.lower.count(),
                          terms.need.count(), terms.reference.to_celsius()));
    Door::say(fmt::format("  exact {:.6g} min, trapezoid {:.6g} min, upper bound {:.6g} min, gaps {:.6g} s", heat.exact.count(),
                          heat.trapezoid.count(), heat.upper.count(), seconds_in(heat.gap)));
    printer.say_beside();
  }
  return heat.verdict == Verdict::shown ? exit_status::done : exit_status::found_wanting;
}

// ---- stay -------------------------------------------------------------------------------------------------------------------

struct StayOptions {
  Typed readings, limit, error, gap, buffer;
};

std::optional<double> maybe_seconds(const std::optional<LogTime>& time) { return time ? std::optional{seconds_in(*time)} : std::nullopt; }

int sum_stay(Door& door, const StayOptions& options) {
  Asked asked;
  LogStayTerms terms;
  terms.limit = fine_celsius(asked.number("--limit-c", options.limit, degrees, "8"));
  terms.error = fine_celsius(asked.number_or(0, "--probe-error-c", options.error, error_bounds, "0.5"));
  terms.longest_step = seconds_long(asked.number_or(1800, "--max-gap-s", options.gap, {0.001, 1e9}, "1800"));
  const auto tau = asked.maybe("--buffer-min", options.buffer, {0.01, 1e5}, "20");
  std::optional<StayOfLog> sum;
  std::optional<MeanKineticOfLog> kinetic;
  std::optional<BufferOfLog> buffer;
  if (!asked.refused()) {
    sum.emplace(terms);
    kinetic.emplace(terms.longest_step);
    if (tau) buffer.emplace(Minutes{*tau}, terms.longest_step);
  }
  const auto seen = asked.log(options.readings, [&](const Sample& sample) {
    sum->take(sample);
    kinetic->take(sample);
    if (buffer) buffer->take(sample);
  });
  if (!seen) return door.refuse(asked.refusals());
  const LogStay stay = sum->told();
  const auto buffered_peak = buffer ? buffer->warmest() : std::nullopt;
  const Beside beside{
      "tierproof/sum/stay/1",
      "an excursion is where T + E > limit; from and to where the straight line crosses limit - E; min between rows with T - E > limit, "
      "estimate "
      "where the straight line of T is above the limit, max from the last row before to the first row back; a step over the longest is a "
      "gap, "
      "nothing is drawn across it, and an excursion that meets one or an end of the log is open: no max; coverage = time without gaps / "
      "time from the first row to the last",
      "interpolation between rows; a reading equal to the limit is within it; the limit is the one that you gave",
      fmt::format(
          "Air is not food: a thermometer in the air jumps with the door and says little of what is on the shelf. Test a law's \"less "
          "than\" on max. {}",
          of_all_logs)};
  SumPrinter printer{asked, &*seen, beside};
  if (door.json) {
    printer.json().member("excursions").begin_array();
    for (const LogExcursion& e : stay.excursions) {
      printer.json().begin_object();
      printer.time("from", e.from_us);
      printer.time("to", e.to_us);
      printer.number("min_s", seconds_in(e.least));
      printer.number("estimate_s", e.estimate_us / 1e6);
      printer.number("max_s", maybe_seconds(e.longest));
      printer.number("peak_c", e.peak.to_celsius());
      printer.number("area_c_min", e.area_us / 60e6);
      printer.json().end();
    }
    printer.json().end().member("gaps").begin_array();
    for (const LogGap& gap : stay.gaps) {
      printer.json().begin_object();
      printer.time("from", static_cast<double>(gap.from.count()));
      printer.time("to", static_cast<double>(gap.to.count()));
      printer.number("s", seconds_in(gap.to - gap.from));
      printer.json().end();
    }
    printer.json().end();
    printer.number("coverage_pct", stay.coverage * 100);
    printer.number("mean_kinetic_c", kinetic->celsius());
    if (tau) printer.number("buffered_peak_estimate_c", buffered_peak);
    printer.end_json();
  } else {
    Door::say(fmt::format("{} excursion{} above {:.6g} °C, {} gap{}, {:.4g} % of the time covered", stay.excursions.size(),
                          stay.excursions.size() == 1 ? "" : "s", terms.limit.to_celsius(), stay.gaps.size(),
                          stay.gaps.size() == 1 ? "" : "s", stay.coverage * 100));
    for (const LogExcursion& e : stay.excursions) {
      Door::say(fmt::format("  above     {} to {}: at least {:.6g} s, estimate {:.6g} s, {}; warmest {:.6g} °C",
                            in_words(as_logged(*seen, e.from_us)), in_words(as_logged(*seen, e.to_us)), seconds_in(e.least),
                            e.estimate_us / 1e6,
                            e.longest ? fmt::format("at most {:.6g} s", seconds_in(*e.longest)) : "no maximum, since the log is open there",
                            e.peak.to_celsius()));
    }
    for (const LogGap& gap : stay.gaps) {
      Door::say(fmt::format("  gap       {} to {}: {:.6g} s", in_words(as_logged(*seen, static_cast<double>(gap.from.count()))),
                            in_words(as_logged(*seen, static_cast<double>(gap.to.count()))), seconds_in(gap.to - gap.from)));
    }
    if (buffered_peak)
      Door::say(
          fmt::format("  buffer    warmest {:.2f} °C in a buffer of {:.6g} min: an estimate, which lifts no limit", *buffered_peak, *tau));
    if (const auto mean = kinetic->celsius())
      Door::say(fmt::format("  kinetic   mean {:.2f} °C: of ageing by chemistry; it excuses no limit and says nothing of growth", *mean));
    printer.say_beside();
  }
  return stay.kept() ? exit_status::done : exit_status::found_wanting;
}

// ---- cooling ----------------------------------------------------------------------------------------------------------------

struct CoolingOptions {
  Typed readings, from, via, to, first, total, second, error;
};

std::string bounds_in_words(const CoolingStage& stage) {
  return fmt::format("{} to {}", stage.shortest ? fmt::format("{:.6g} min", minutes_in(*stage.shortest)) : "unknown",
                     stage.longest ? fmt::format("{:.6g} min", minutes_in(*stage.longest)) : "unknown");
}

std::optional<double> maybe_minutes(const std::optional<LogTime>& time) { return time ? std::optional{minutes_in(*time)} : std::nullopt; }

int sum_cooling(Door& door, const CoolingOptions& options) {
  Asked asked;
  const FineCelsius from = fine_celsius(asked.number("--from-c", options.from, degrees, "57"));
  const FineCelsius via = fine_celsius(asked.number("--via-c", options.via, degrees, "21"));
  const FineCelsius to = fine_celsius(asked.number("--to-c", options.to, degrees, "5"));
  if (!asked.refused() && (from <= via || via <= to))
    asked.refuse("--via-c", "is not between --from-c and --to-c", "give the three temperatures from warm to cold");
  constexpr Bounds hours{0.001, 1e5};
  CoolingLimits limits;
  limits.first = hours_long(asked.number("--first-h", options.first, hours, "2"));
  if (options.total.has_value() == options.second.has_value()) {
    asked.refuse("--total-h", options.total ? "is given along with --second-h" : "and --second-h are both missing",
                 "give --total-h 6 where the hours count from the start, or --second-h 4 where the second stage has its own");
  }
  if (const auto total = asked.maybe("--total-h", options.total, hours, "6")) limits.total = hours_long(*total);
  if (const auto second = asked.maybe("--second-h", options.second, hours, "4")) limits.second = hours_long(*second);
  const FineCelsius error = fine_celsius(asked.number_or(0, "--probe-error-c", options.error, error_bounds, "0.5"));
  if (limits.first > LogTime{} && limits.total.value_or(LogTime{}) > LogTime{} && *limits.total < limits.first)
    asked.refuse("--total-h", "is less than --first-h", "give the hours of both stages together");

  std::optional<RunningCooling> sum;
  if (!asked.refused()) sum.emplace(limits);
  const auto seen = asked.log(options.readings, [&](const Sample& sample) {
    sum->take(sample.at, sample.read ? cooling_reading(*sample.read, error, from, via, to) : CoolingReading{});
  });
  if (!seen) return door.refuse(asked.refusals());
  const CoolingTold told = sum->told();
  std::string caution = fmt::format(
      "The hours count from the last reading at or above the first temperature: begin the log before cooling does. A core lags behind its "
      "rim: measure the warmest part. {}",
      of_all_logs);
  if (told.warmed_again)
    caution =
        "The food fell below the first temperature, or may have, and was at it again: a stage is shown only if it is also within its "
        "hours counted from the first fall. " +
        caution;
  const Beside beside{
      "tierproof/sum/cooling/1",
      "start: last reading with T - E >= from (earliest), next reading with T + E < from (latest); end of a stage: last reading with T - E "
      "above "
      "its temperature (earliest), first reading with T + E at or below it and none above after it (latest); longest = latest end - "
      "earliest "
      "start, shortest = earliest end - latest start, not under 0; shown when longest is within the hours, not met when shortest is beyond",
      "bounds by readings alone, without a cooling curve; the temperatures and hours are the rule that you gave", caution};
  SumPrinter printer{asked, &*seen, beside};
  const auto write_stage = [&](const char* name, const CoolingStage& stage) {
    printer.json().member(name).begin_object();
    printer.number("shortest_min", maybe_minutes(stage.shortest));
    printer.number("estimate_min", stage.estimate_us ? std::optional{*stage.estimate_us / 60e6} : std::nullopt);
    printer.number("longest_min", maybe_minutes(stage.longest));
    printer.text("verdict", term_of(stage.verdict));
    printer.json().end();
  };
  if (door.json) {
    write_stage("stage1", told.first);
    if (told.second) write_stage("stage2", *told.second);
    write_stage("total", told.total);
    printer.json().member("warmed_again").boolean(told.warmed_again);
    printer.end_json();
  } else {
    Door::say(fmt::format("first stage  {}: {}", term_of(told.first.verdict), bounds_in_words(told.first)));
    if (told.second) Door::say(fmt::format("second stage {}: {}", term_of(told.second->verdict), bounds_in_words(*told.second)));
    Door::say(fmt::format("the whole    {}: {}", term_of(told.total.verdict), bounds_in_words(told.total)));
    printer.say_beside();
  }
  return told.shown() ? exit_status::done : exit_status::found_wanting;
}

constexpr const char* of_readings = "CSV file with the header time,temp_c: minutes or instants with their offset, and °C or the word fault";
constexpr const char* of_error = "how far the thermometer may be off, in °C; else 0";

}  // namespace

void sum_options(CLI::App& app, Door& door) {
  app.require_subcommand(0, 1);
  app.callback([&app] {
    if (app.get_subcommands().empty())
      throw CLI::ValidationError("sum", "names none; write boiling-point, heat, stay, cooling, syrup, meringue, water-activity or tin");
  });

  const auto boiling = std::make_shared<BoilingOptions>();
  CLI::App& boil =
      sum_named(app, door, "boiling-point", "The boiling point of water. Exit 0.", "--altitude-m 1600 --json", boiling, sum_boiling_point);
  boil.add_option("--altitude-m", boiling->altitude, of_altitude);
  boil.add_option("--pressure-kpa", boiling->pressure, of_pressure);

  const auto heat = std::make_shared<HeatOptions>();
  CLI::App& heated = sum_named(app, door, "heat", "What a heat step shows, in minutes at a reference temperature. Exit 0 only if shown.",
                               "--readings step.csv --reference-c 70 --z-c 7.5 --need-min 2 --probe-error-c 0.5 --json", heat, sum_heat);
  heated.add_option("--readings", heat->readings, of_readings);
  heated.add_option("--reference-c", heat->reference, "reference temperature in °C");
  heated.add_option("--z-c", heat->z, "how many °C make the rate ten times as high");
  heated.add_option("--need-min", heat->need, "minutes at the reference that are needed");
  heated.add_option("--probe-error-c", heat->error, of_error);
  heated.add_option("--max-step-s", heat->step, "longest time between two rows that counts, in seconds; else 60");
  heated.add_option("--floor-c", heat->floor, "lowest temperature that the reference was tested at: nothing counts below it");
  heated.add_option("--ceiling-c", heat->ceiling, "the highest: what is warmer counts as this");

  const auto stay = std::make_shared<StayOptions>();
  CLI::App& stayed =
      sum_named(app, door, "stay",
                "The times above a limit, and the gaps. Exit 0 only without a gap and with no reading, its error added, above the limit.",
                "--readings fridge.csv --limit-c 8 --json", stay, sum_stay);
  stayed.add_option("--readings", stay->readings, of_readings);
  stayed.add_option("--limit-c", stay->limit, "in °C; a reading equal to it is within it");
  stayed.add_option("--probe-error-c", stay->error, of_error);
  stayed.add_option("--buffer-min", stay->buffer, "time constant in minutes of a buffer that the thermometer was not in, for an estimate");
  stayed.add_option("--max-gap-s", stay->gap, "longest time between two rows that is no gap, in seconds; else 1800");

  const auto cooling = std::make_shared<CoolingOptions>();
  CLI::App& cooled = sum_named(app, door, "cooling", "Whether food cooled in two stages in time. Exit 0 only if both are shown.",
                               "--readings curd.csv --from-c 57 --via-c 21 --to-c 5 --first-h 2 --total-h 6 --json", cooling, sum_cooling);
  cooled.add_option("--readings", cooling->readings, of_readings);
  cooled.add_option("--from-c", cooling->from, "where cooling begins, in °C: the last reading at or above it");
  cooled.add_option("--via-c", cooling->via, "end of the first stage: at or below it");
  cooled.add_option("--to-c", cooling->to, "end of the second stage: at or below it");
  cooled.add_option("--first-h", cooling->first, "hours for the first stage");
  cooled.add_option("--total-h", cooling->total, "hours for both stages together, from the start");
  cooled.add_option("--second-h", cooling->second, "further hours for the second stage instead");
  cooled.add_option("--probe-error-c", cooling->error, of_error);
  recipe_sum_options(app, door);
}

}  // namespace tierproof::cli
