#include <fmt/format.h>
#include <fmt/ranges.h>

#include "door.h"
#include "tierproof/app/thermometers.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {
namespace {

Json json_of_food(const std::vector<DoubtfulFood>& food) {
  Json::Array list;
  for (const auto& one : food) {
    Json::Array ways;
    for (const auto& way : one.ways) ways.emplace_back(way);
    list.push_back(
        Json{Json::Object{{"id", Json{one.id}}, {"name", Json{one.name}}, {"ways", Json{std::move(ways)}}, {"where", Json{one.where}}}});
  }
  return Json{std::move(list)};
}

Json json_of_failed(const FailedCheck& failed) {
  return Json{Json::Object{{"note", Json{static_cast<std::int64_t>(failed.note)}},
                           {"thermometer", Json{failed.thermometer}},
                           {"made", Json{failed.made}},
                           {"words", Json{failed.words}},
                           {"last_good", failed.from.empty() ? Json{} : Json{failed.from}},
                           {"good_again", failed.until.empty() ? Json{} : Json{failed.until}},
                           {"food", json_of_food(failed.food)}}};
}

void say_doubtful(const FailedCheck& failed) {
  Door::say(fmt::format("  what it read {}{} counts as not shown", failed.from.empty() ? "before" : "since " + failed.from,
                        failed.until.empty() ? ", and reads until it is good again," : " and until " + failed.until));
  for (const auto& one : failed.food) {
    Door::say(fmt::format("  {} ({}), now {}", one.id, one.name, one.where));
    for (const auto& way : one.ways) Door::say(fmt::format("    {}", way));
  }
  if (failed.food.empty()) Door::say("  no batch and no cake rests on that, as recorded");
}

int print_check(const Door& door, const Session& session, const Booked& booked) {
  const auto told = check_told(session, booked.sequences.front());
  if (!told) return door.print_booked(session, booked);
  std::vector<FailedCheck> failed;
  if (!told->good) {
    auto all = failed_checks(session, booked.subjects.front(), {session.now(), session.offset_at(session.now())});
    if (!all) return door.refuse(all.error());
    for (auto& one : *all) {
      if (one.note == booked.sequences.front()) failed.push_back(std::move(one));
    }
  }
  if (door.json) {
    Json check{Json::Object{{"good", Json{told->good}}, {"words", Json{told->words}}}};
    if (!told->pressure.empty()) check["pressure"] = Json{told->pressure};
    if (!told->correction.empty()) check["correction"] = Json{told->correction};
    if (told->next_due) check["next_due"] = Json{format_date(*told->next_due)};
    for (const auto& one : failed) check["doubtful"] = json_of_food(one.food);
    door.print_booked(session, booked, {{"check", std::move(check)}});
    return exit_status::done;
  }
  door.print_booked(session, booked);
  Door::say(fmt::format("  {}: {}{}", told->good ? "good" : "FAILED", told->words,
                        told->next_due ? fmt::format("; next due by {}", format_date_long(*told->next_due)) : ""));
  if (!told->pressure.empty()) Door::say(fmt::format("  it goes by {}", told->pressure));
  if (!told->correction.empty()) Door::say(fmt::format("  {}", told->correction));
  if (failed.empty()) return exit_status::done;
  Door::say("  adjust or replace it, and check it again");
  for (const auto& one : failed) say_doubtful(one);
  return exit_status::done;
}

std::string standing_word(CheckStanding::Is is) {
  switch (is) {
    case CheckStanding::Is::good:
      return "good";
    case CheckStanding::Is::due:
      return "due";
    case CheckStanding::Is::overdue:
      return "overdue";
    case CheckStanding::Is::failed:
      return "failed";
    case CheckStanding::Is::never:
      return "never";
  }
  return "never";
}

Json texts_of(const std::vector<std::string>& texts) {
  Json::Array list;
  for (const auto& text : texts) list.emplace_back(text);
  return Json{std::move(list)};
}

std::int64_t whole_seconds(Span span) { return std::chrono::duration_cast<std::chrono::seconds>(span).count(); }

Json json_of_round(const Session& session, const RoundNow& now) {
  const auto moment = [&](Instant at) { return Json{format_zoned(at, session.offset_at(at))}; };
  Json::Array out, silent, checks;
  for (const auto& one : now.out) {
    out.push_back(Json{Json::Object{{"id", Json{one.id}},
                                    {"name", Json{one.name}},
                                    {"where", Json{one.where}},
                                    {"since", moment(one.since)},
                                    {"out_s", Json{whole_seconds(one.out)}},
                                    {"allowances", texts_of(one.allowances)}}});
  }
  for (const auto& one : now.silent) {
    silent.push_back(Json{Json::Object{{"place", Json{one.place}},
                                       {"thermometer", Json{one.thermometer}},
                                       {"last", one.last ? moment(*one.last) : Json{}},
                                       {"silent_s", one.silent ? Json{whole_seconds(*one.silent)} : Json{}},
                                       {"kept", texts_of(one.kept)}}});
  }
  for (const auto& one : now.checks) {
    checks.push_back(Json{Json::Object{{"thermometer", Json{one.thermometer}},
                                       {"standing", Json{standing_word(one.standing.is)}},
                                       {"due", one.standing.due ? Json{format_date(*one.standing.due)} : Json{}},
                                       {"words", Json{one.standing.words}}}});
  }
  return Json{Json::Object{{"schema", Json{"tierproof/round/1"}},
                           {"at", moment(session.now())},
                           {"out", Json{std::move(out)}},
                           {"silent", Json{std::move(silent)}},
                           {"longest_gap_s", Json{whole_seconds(now.longest_gap)}},
                           {"checks", Json{std::move(checks)}},
                           {"head", Json{format_head(session.head())}}}};
}

void say_round(const Session& session, const RoundNow& now) {
  const auto moment = [&](Instant at) { return format_moment(at, session.offset_at(at)); };
  const std::string mark = session.kitchen().demo ? "DEMO  " : "";
  Door::say(fmt::format("{}{}", mark, moment(session.now())));
  for (const auto& one : now.out) {
    Door::say(fmt::format("out of the cold: {} ({}), {}, for {}, since {}", one.id, one.name,
                          one.where.starts_with("nobody") ? one.where : "in " + one.where, format_span(one.out), moment(one.since)));
    for (const auto& allowance : one.allowances) Door::say(fmt::format("  {}", allowance));
  }
  for (const auto& one : now.silent) {
    Door::say(fmt::format("silent: {}, {}; {} allowed between readings", one.words,
                          one.last ? fmt::format("no temperature recorded for {}, since {}", format_span(*one.silent), moment(*one.last))
                                   : std::string{"no temperature was ever recorded"},
                          format_span(now.longest_gap)));
    Door::say(fmt::format("  kept there: {}", fmt::join(one.kept, ", ")));
  }
  for (const auto& one : now.checks) {
    if (one.standing.is == CheckStanding::Is::good) continue;
    const bool due = one.standing.is == CheckStanding::Is::due;
    Door::say(fmt::format("{}: {}, {}", due ? "check due today" : "not to be relied on", one.name, one.standing.words));
  }
  if (!now.wanting()) Door::say("nothing is out of the cold or silent, and no check is due, as recorded");
}

}  // namespace

void thermometer_check_options(CLI::App& app, Door& door) {
  struct Options {
    ProbeChecking checking;
    std::string read, pressure;
  };
  auto options = std::make_shared<Options>();
  app.add_option("thermometer", options->checking.probe, "short name")->required();
  app.add_option("reading", options->read, "what it showed, 0.2C")->required();
  app.add_option("--in", options->checking.method, "ice or boiling")->required();
  app.add_option("--station-pressure", options->pressure,
                 "what a barometer in the kitchen shows now, in hPa, not reduced to the sea: better than the altitude");
  app.add_flag("--correct", options->checking.correct,
               "an owner's choice: from now on readings are corrected by this check and today's in the other of ice and boiling water");
  app.add_option("--at", options->checking.at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      ProbeChecking checking = options->checking;
      checking.read = degrees_of("reading", options->read);
      checking.pressure_pa = maybe_hectopascals("--station-pressure", options->pressure);
      if (!d.once.empty()) {
        Session session = d.open(false);
        if (const auto before = session.booked_before()) return d.print_booked(session, *before);
      }
      return d.write<Booked>([&](Session& session) { return check_probe(session, checking); },
                             [&](Session& session, const Booked& booked) { return print_check(d, session, booked); });
    };
  });
}

void doubtful_options(CLI::App& app, Door& door) {
  auto thermometer = std::make_shared<std::string>();
  app.add_option("thermometer", *thermometer, "short name; else all");
  app.callback([thermometer, &door] {
    door.action = [thermometer](Door& d) {
      return d.read([&](Session& session) {
        const bool demo = session.kitchen().demo;
        const auto failed = failed_checks(session, *thermometer, {session.now(), session.offset_at(session.now())});
        if (!failed) return d.refuse(failed.error());
        const int status = failed->empty() ? exit_status::done : exit_status::found_wanting;
        if (d.json) {
          Json::Array list;
          for (const auto& one : *failed) list.push_back(json_of_failed(one));
          d.print(Json{Json::Object{{"schema", Json{"tierproof/doubtful/1"}},
                                    {"failed", Json{std::move(list)}},
                                    {"head", Json{format_head(session.head())}}}},
                  demo);
          return status;
        }
        const std::string mark = demo ? "DEMO  " : "";
        for (const auto& one : *failed) {
          Door::say(fmt::format("{}{} failed its check on {} (note {}): {}", mark, one.name, one.made, one.note, one.words));
          say_doubtful(one);
        }
        if (failed->empty()) Door::say(mark + "no thermometer failed a check, as recorded");
        return status;
      });
    };
  });
}

void round_options(CLI::App& app, Door& door) {
  app.callback([&door] {
    door.action = [](Door& d) {
      return d.read([&](Session& session) {
        const auto now = look_round(session, {session.now(), session.offset_at(session.now())});
        if (!now) return d.refuse(now.error());
        if (d.json) {
          d.print(json_of_round(session, *now), session.kitchen().demo);
        } else {
          say_round(session, *now);
        }
        return now->wanting() ? exit_status::found_wanting : exit_status::done;
      });
    };
  });
}

}  // namespace tierproof::cli
