#include "thermometer_checks.h"

#include "charts.h"
#include "series.h"
#include "tierproof/app/permissions.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/thermometers.h"

namespace tierproof {
namespace {

std::string in_hectopascals(double kilopascals) { return fmt::format("{:.1f} hPa", kilopascals * 10); }

/// The altitude that a station pressure is held against: the kitchen's, or that of its own pressure.
std::optional<double> altitude_of(const Kitchen& kitchen) {
  if (kitchen.altitude_m) return static_cast<double>(*kitchen.altitude_m);
  if (kitchen.pressure_pa) return isa_altitude(static_cast<double>(*kitchen.pressure_pa) / 1000.0);
  return std::nullopt;
}

void check_pressure(Checking& checking, const Kitchen& kitchen, const ProbeCheckMade& check) {
  const std::string field = "--station-pressure";
  if (check.method != "boiling") return checking.refuse(field, "says nothing of ice", "leave it out, or write --in boiling");
  const auto metres = altitude_of(kitchen);
  if (!metres) {
    return checking.refuse(field, "cannot be told from a pressure reduced to the sea: the kitchen has no altitude",
                           "correct note 1 with \"altitude_m\", or check the thermometer in ice");
  }
  const double given = static_cast<double>(*check.pressure_pa) / 1000.0;
  if (is_station_pressure(given, *metres)) return;
  const bool high = given > isa_pressure(*metres);
  checking.refuse(field,
                  fmt::format("{} contradicts the kitchen's altitude of {:.0f} m, where about {} is usual{}", in_hectopascals(given),
                              *metres, in_hectopascals(isa_pressure(*metres)),
                              high ? ": it looks like the pressure of a forecast, which is reduced to the sea" : ""),
                  "write what a barometer in the kitchen shows, not reduced; or leave it out; or correct the altitude in note 1");
}

void check_two_point(Checking& checking, const Session& session, const ProbeCheckMade& check, ZonedInstant at, std::uint64_t itself) {
  const std::string field = "--correct";
  const State& state = session.state();
  if (const auto authority = authority_of(session); authority && !may(*authority, Deed::correct_two_point))
    checking.refuse(field, "is for an owner to choose", "leave it out, or let an owner record the check");
  const ProbeCheckMade* other = nullptr;
  Instant before = Instant::min();
  for (const auto& made : state.checks) {
    if (made.sequence == itself || made.value.probe != check.probe || made.value.method == check.method) continue;
    const bool same_day = day_of(made.happened, at.offset) == day_of(at.at, at.offset);
    if (!same_day || made.happened > at.at || made.happened < before) continue;
    other = &made.value;
    before = made.happened;
  }
  const std::string wanted = check.method == "ice" ? "boiling water" : "ice";
  if (other == nullptr) {
    return checking.refuse(field, fmt::format("a correction rests on two checks, and none in {} was made before it that day", wanted),
                           fmt::format("check it in {} first, then this one again with --correct", wanted));
  }
  const ProbeCheckMade& boiling = check.method == "boiling" ? check : *other;
  if (!boiling.pressure_pa) {
    return checking.refuse(field, "the check in boiling water goes by the altitude, and is not corrected for twice",
                           "give the pressure of that moment with --station-pressure, or leave the correction out");
  }
  const auto terms = session.packs().temperature_terms(session.kitchen().temperature_rules, day_of(at.at, at.offset));
  if (!terms || !terms->probe) {
    return checking.refuse(field, "the rules in force say nothing of thermometer checks", "leave it out");
  }
  const Temperature boils = celsius(boiling_point(static_cast<double>(*boiling.pressure_pa) / 1000.0));
  for (const ProbeCheckMade* one : {&check, other}) {
    const ProbeCheck compared{at.at, one->method, one->read.temperature(), one->method == "ice" ? celsius(0) : boils, one->read.scale};
    if (is_good(compared, *terms->probe)) continue;
    checking.refuse(field, fmt::format("the check failed: {}", check_in_words(compared, *terms->probe)),
                    "adjust or replace the thermometer: a correction makes no failed thermometer a good one");
  }
}

}  // namespace

void check_thermometer_check(Checking& checking, const Session& session, const ProbeCheckMade& check, ZonedInstant at,
                             std::uint64_t itself) {
  const auto* probe = checking.known("thermometer", session.state().probes, check.probe.text(), "thermometer");
  checking.choice("--in", check.method, {"ice", "boiling"});
  if (probe != nullptr && check.read.scale != probe->value.scale)
    checking.refuse("reading", "is in another scale than the thermometer shows", "write what it showed");
  if (check.pressure_pa) {
    check_pressure(checking, session.kitchen(), check);
  } else if (check.method == "boiling" && !pressure_for(session.kitchen(), check)) {
    checking.refuse("--in", "where water boils here is not known: the kitchen has no altitude or station pressure",
                    "check it in ice, or correct note 1");
  }
  if (!check.correction.empty() && checking.good()) check_two_point(checking, session, check, at, itself);
}

Result<Booked> check_probe(Session& session, const ProbeChecking& asked) {
  Checking checking{session};
  checking.person();
  if (!asked.read) checking.refuse("reading", "what the thermometer showed is missing", "write it with its scale, such as 0.2C");
  const ZonedInstant at = checking.moment(asked.at);
  const ProbeCheckMade check{ProbeId{asked.probe}, asked.method, asked.read.value_or(Degrees{}), asked.pressure_pa,
                             asked.correct ? "two-point" : ""};
  if (asked.read) check_thermometer_check(checking, session, check, at);
  return book_one(session, checking, check, asked.probe, at);
}

std::optional<CheckTold> check_told(const Session& session, std::uint64_t sequence) {
  const State& state = session.state();
  const auto made = std::find_if(state.checks.begin(), state.checks.end(), [&](const auto& check) { return check.sequence == sequence; });
  if (made == state.checks.end()) return std::nullopt;
  const auto terms = session.packs().temperature_terms(session.kitchen().temperature_rules, day_of(made->happened, made->offset));
  const ProbeCheckMade& check = made->value;
  const auto pressure = pressure_for(session.kitchen(), check);
  if (!terms || !terms->probe || (check.method == "boiling" && !pressure)) return std::nullopt;
  const auto probe = state.probes.find(check.probe);
  const ProbeTerm term = term_for(state, check.probe, *terms->probe);
  const Temperature expected = check.method == "ice" ? celsius(0) : celsius(boiling_point(*pressure));
  const ProbeCheck compared{made->happened, check.method, check.read.temperature(), expected, check.read.scale};
  CheckTold told;
  told.name = probe == state.probes.end() ? check.probe.text() : probe->second.value.name;
  told.good = is_good(compared, term);
  told.words = check_in_words(compared, term);
  if (check.method == "boiling") {
    told.pressure = fmt::format("{} of {}",
                                check.pressure_pa               ? "the station pressure"
                                : session.kitchen().pressure_pa ? "the kitchen's pressure"
                                                                : "the pressure",
                                in_hectopascals(*pressure));
    if (!check.pressure_pa && !session.kitchen().pressure_pa)
      told.pressure += " that is usual at its altitude; weather moves where water boils by up to a degree";
  }
  if (told.good) told.next_due = add_days(day_of(made->happened, made->offset), term.days_between);
  for (const auto& points : corrections_of(checks_of(state, check.probe), made->offset)) {
    if (points.from != made->happened || check.correction.empty() || !points.holds) continue;
    told.correction = fmt::format(
        "from now on, until its next check, readings are corrected in a straight line through {} in ice and {} in boiling "
        "water; they are kept as read",
        in_celsius_words(points.ice->read), in_celsius_words(points.boiling->read));
  }
  return told;
}

}  // namespace tierproof
