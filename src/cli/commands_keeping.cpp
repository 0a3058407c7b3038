#include <fmt/format.h>

#include "door.h"
#include "tierproof/app/keeping.h"

namespace tierproof::cli {

namespace {

int print_keeps(const Door& door, const Session& session, const HowItKeeps& keeps) {
  const int exit = keeps.answered ? exit_status::done : exit_status::found_wanting;
  const bool demo = session.kitchen().demo;
  if (door.json) {
    Json::Array lines;
    for (const auto& line : keeps.lines)
      lines.emplace_back(Json::Object{{"about", Json{line.about}}, {"says", Json{line.says}}, {"rests_on", Json{line.rests_on}}});
    door.print(Json{Json::Object{{"schema", Json{"tierproof/keeps/1"}},
                                 {"of", Json{keeps.of}},
                                 {"name", Json{keeps.name}},
                                 {"lines", Json{std::move(lines)}},
                                 {"answered", Json{keeps.answered}}}},
               demo);
    return exit;
  }
  Door::say(fmt::format("{}{} ({})", demo ? "DEMO  " : "", keeps.of, keeps.name));
  for (const auto& line : keeps.lines) {
    Door::say(fmt::format("{:20}{}", line.about, line.says));
    if (!line.rests_on.empty()) Door::say(fmt::format("{:20}because: {}", "", line.rests_on));
  }
  Door::say("What the records show, not that it is safe. Local law and the advice of the food authority come first.");
  return exit;
}

}  // namespace

void tested_options(CLI::App& app, Door& door) {
  auto measured = std::make_shared<KeepingMeasured>();
  app.add_option("of", measured->of, "short name of the recipe, or the finished cake, that was measured")->required();
  app.add_option("--water-activity", measured->activity, "0.86");
  app.add_option("--error", measured->activity_error, "what its meter may be off by, 0.01");
  app.add_option("--ph", measured->ph, "6.2");
  app.add_option("--ph-error", measured->ph_error, "what the pH meter may be off by, 0.1");
  app.add_option("--on", measured->on, "day it was measured");
  app.add_option("--method", measured->method, "how, \"dew point, 25 °C, settled for a day\"");
  app.add_option("--tested-by", measured->by, "laboratory, body or role");
  app.add_option("--kept", measured->kept, "where the report is kept");
  app.callback([measured, &door] {
    door.action = [measured](Door& d) { return d.record([&](Session& session) { return record_measured(session, *measured); }); };
  });
}

void advised_options(CLI::App& app, Door& door) {
  auto advised = std::make_shared<KeepingAdvised>();
  app.add_option("of", advised->of, "short name of the recipe, or the finished cake, that it is about")->required();
  app.add_option("--keep-in", advised->place, "room: it keeps without a fridge; fridge: it does not");
  app.add_option("--days", advised->days, "for how many days it keeps at room temperature, the day it was made not counted");
  app.add_option("--on", advised->on, "day it was written");
  app.add_option("--written-by", advised->by, "the food authority, laboratory or other body");
  app.add_option("--kept", advised->kept, "where the writing is kept");
  app.add_option("--says", advised->says, "what it says, in its words");
  app.add_flag("--trial", advised->trial, "it is the report of a trial of how the food keeps (a validation)");
  app.callback([advised, &door] {
    door.action = [advised](Door& d) { return d.record([&](Session& session) { return record_advice(session, *advised); }); };
  });
}

void keeps_options(CLI::App& app, Door& door) {
  auto of = std::make_shared<std::pair<std::string, std::string>>();
  app.add_option("of", of->first, "a recipe, batch or cake")->required();
  app.add_option("--at", of->second, "as of when; else now");
  app.callback([of, &door] {
    door.action = [of](Door& d) {
      return d.read([&](Session& session) {
        const auto at = session.moment(of->second, "--at");
        if (!at) return d.refuse(at.error());
        const auto keeps = how_it_keeps(session, of->first, *at);
        return keeps ? print_keeps(d, session, *keeps) : d.refuse(keeps.error());
      });
    };
  });
}

}  // namespace tierproof::cli
