// Who may come in by the kitchen's pages.
#include <fmt/format.h>
#include <termios.h>
#include <unistd.h>

#include <cstdio>

#include "door.h"
#include "tierproof/app/at_the_door.h"

namespace tierproof::cli {
namespace {

/// While one lives, a terminal does not show what is typed.
class Unseen {
 public:
  Unseen() : known_{::tcgetattr(STDIN_FILENO, &before_) == 0} {
    if (!known_) return;
    termios unseen = before_;
    unseen.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &unseen);
  }
  ~Unseen() {
    if (known_) ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
  }
  Unseen(const Unseen&) = delete;
  Unseen& operator=(const Unseen&) = delete;

 private:
  termios before_{};
  bool known_;
};

/// One line of standard input, without its end, and no more of it than a PIN needs.
std::string line_of_input() {
  constexpr std::size_t most = 64;
  std::string line;
  for (int c = std::getchar(); c != EOF && c != '\n' && line.size() < most; c = std::getchar()) line += static_cast<char>(c);
  if (!line.empty() && line.back() == '\r') line.pop_back();
  return line;
}

/// Asked for twice where somebody types it, since nobody sees it.
Result<std::string> pin_of_input() {
  if (::isatty(STDIN_FILENO) == 0) return line_of_input();
  const Unseen unseen;
  std::fputs("six digits: ", stderr);
  const std::string first = line_of_input();
  std::fputs("\nonce more: ", stderr);
  const std::string second = line_of_input();
  std::fputs("\n", stderr);
  if (first != second) return Refusal{"", 0, "PIN", "was typed in two ways", "run the command again"};
  return first;
}

std::string moment_said(const Session& session, Instant at) { return format_moment(at, session.offset_at(at)); }
Json moment_json(const Session& session, Instant at) { return Json{format_zoned(at, session.offset_at(at))}; }

Json device_json(const Session& session, const Device& device) {
  return Json{Json::Object{{"device", Json{device.id}},
                           {"name", Json{device.name}},
                           {"let_in", moment_json(session, device.let_in)},
                           {"last_seen", moment_json(session, device.last_seen)}}};
}

Json sensor_json(const Session& session, const Sensor& sensor) {
  return Json{Json::Object{{"sensor", Json{sensor.id}},
                           {"name", Json{sensor.name}},
                           {"thermometer", Json{sensor.probe}},
                           {"of", Json{sensor.about}},
                           {"since", moment_json(session, sensor.since)},
                           {"off", sensor.revoked ? moment_json(session, *sensor.revoked) : Json{}}}};
}

/// Says one line, or prints one object.
int done_at_the_door(const Door& door, const Session& session, const char* schema, Json::Object json, const std::string& line) {
  const bool demo = session.kitchen().demo;
  if (door.json) {
    json.emplace("schema", Json{schema});
    door.print(Json{std::move(json)}, demo);
  } else {
    Door::say((demo ? "DEMO  " : "") + line);
  }
  return exit_status::done;
}

Json door_json(const Session& session, const AtTheDoor& told) {
  Json::Array devices, people, sensors, happened;
  for (const auto& device : told.devices) devices.push_back(device_json(session, device));
  for (const auto& one : told.people) {
    people.push_back(Json{Json::Object{{"person", Json{one.person}},
                                       {"may_do_as", Json{std::string{word_of(one.authority)}}},
                                       {"pin", Json{one.pin}},
                                       {"waits_for_an_owner", Json{one.locked}}}});
  }
  for (const auto& sensor : told.sensors) sensors.push_back(sensor_json(session, sensor));
  for (const auto& event : told.happened) {
    happened.push_back(Json{Json::Object{{"at", moment_json(session, event.at)},
                                         {"what", Json{event.what}},
                                         {"device", Json{event.device}},
                                         {"person", Json{event.person}},
                                         {"detail", Json{event.detail}}}});
  }
  return Json{Json::Object{{"schema", Json{"tierproof/at-the-door/1"}},
                           {"devices", Json{std::move(devices)}},
                           {"people", Json{std::move(people)}},
                           {"sensors", Json{std::move(sensors)}},
                           {"happened", Json{std::move(happened)}}}};
}

void say_at_the_door(const Session& session, const AtTheDoor& told) {
  Door::mark_demo(session.kitchen().demo);
  Door::say("let in");
  for (const auto& device : told.devices) {
    Door::say(fmt::format("  {:<11}{}, since {}, last seen {}", device.id, device.name, moment_said(session, device.let_in),
                          moment_said(session, device.last_seen)));
  }
  if (told.devices.empty()) Door::say("  nothing; tierproof let-in gives a code for a tablet or telephone");
  Door::say("who works here");
  for (const auto& one : told.people) {
    Door::say(fmt::format("  {:<11}{}, {}{}", one.person, word_of(one.authority), one.pin ? "has a PIN" : "has no PIN and cannot sign in",
                          one.locked ? "; ten PINs in a row were wrong: tierproof unlock " + one.person : ""));
  }
  Door::say("sensors");
  for (const auto& sensor : told.sensors) {
    Door::say(fmt::format("  {:<11}{}: thermometer {}, of {}, since {}{}", sensor.id, sensor.name, sensor.probe, sensor.about,
                          moment_said(session, sensor.since),
                          sensor.revoked ? ", off since " + moment_said(session, *sensor.revoked) : ""));
  }
  if (told.sensors.empty()) Door::say("  none");
  Door::say("what happened, the newest first");
  for (const auto& event : told.happened) {
    std::string line = fmt::format("  {}  {}", moment_said(session, event.at), event.what);
    for (const std::string* more : {&event.device, &event.person, &event.detail}) {
      if (!more->empty()) line += ", " + *more;
    }
    Door::say(line);
  }
  if (told.happened.empty()) Door::say("  nothing");
}

/// Runs `act` with the records, opened to be read, and the door beside them.
int with_door(Door& door, const std::function<int(const Session&, Access&)>& act) {
  const Session session = door.open(true);
  const auto access = Access::open(door.kitchen_file);
  return act(session, *access);
}

}  // namespace

void let_in_options(CLI::App& app, Door& door) {
  app.callback([&door] {
    door.action = [](Door& d) {
      return with_door(d, [&](const Session& session, Access& access) {
        const auto given = let_device_in(session, access);
        if (!given) return d.refuse(given.error());
        return done_at_the_door(d, session, "tierproof/let-in/1",
                                {{"code", Json{given->code}}, {"until", Json{format_zoned(given->until.at, given->until.offset)}}},
                                fmt::format("code {}, for one tablet or telephone, until {}", given->code,
                                            format_moment(given->until.at, given->until.offset)));
      });
    };
  });
}

void shut_out_options(CLI::App& app, Door& door) {
  auto device = std::make_shared<std::string>();
  app.add_option("device", *device, "its number, as at-the-door lists it: device-1")->required();
  app.callback([device, &door] {
    door.action = [device](Door& d) {
      return with_door(d, [&](const Session& session, Access& access) {
        const auto out = shut_device_out(session, access, *device);
        if (!out) return d.refuse(out.error());
        return done_at_the_door(d, session, "tierproof/shut-out/1", {{"device", Json{out->id}}, {"name", Json{out->name}}},
                                fmt::format("{} ({}) is let in no more", out->id, out->name));
      });
    };
  });
}

void pin_options(CLI::App& app, Door& door) {
  auto person = std::make_shared<std::string>();
  app.add_option("person", *person, "short name of somebody who works here; the PIN itself is typed, or read from standard input")
      ->required();
  app.callback([person, &door] {
    door.action = [person](Door& d) {
      return with_door(d, [&](const Session& session, Access& access) {
        const auto pin = pin_of_input();
        if (!pin) return d.refuse(pin.error());
        const auto refused = set_pin_of(session, access, *person, *pin);
        if (!refused.empty()) return d.refuse(refused);
        return done_at_the_door(d, session, "tierproof/pin/1", {{"person", Json{*person}}}, fmt::format("{} has a new PIN", *person));
      });
    };
  });
}

void unlock_options(CLI::App& app, Door& door) {
  auto person = std::make_shared<std::string>();
  app.add_option("person", *person, "short name")->required();
  app.callback([person, &door] {
    door.action = [person](Door& d) {
      return with_door(d, [&](const Session& session, Access& access) {
        const auto refused = unlock_person(session, access, *person);
        if (!refused.empty()) return d.refuse(refused);
        return done_at_the_door(d, session, "tierproof/unlock/1", {{"person", Json{*person}}}, fmt::format("{} may try again", *person));
      });
    };
  });
}

void sensor_options(CLI::App& app, Door& door) {
  auto asked = std::make_shared<SensorAsked>();
  app.add_option("thermometer", asked->probe, "its thermometer, as thermometer recorded it")->required();
  app.add_option("--of", asked->place, "the place that it reads; left out: where the thermometer hangs");
  app.add_option("--name", asked->name, "what you call it, to know its token by")->required();
  app.callback([asked, &door] {
    door.action = [asked](Door& d) {
      return with_door(d, [&](const Session& session, Access& access) {
        const auto added = give_sensor_token(session, access, *asked);
        if (!added) return d.refuse(added.error());
        const Sensor& sensor = added->sensor;
        Json::Object json = sensor_json(session, sensor).object();
        json.emplace("token", Json{added->token});
        return done_at_the_door(d, session, "tierproof/sensor/1", std::move(json),
                                fmt::format("{} ({}) posts readings of {} by thermometer {} with this token, which is told only now:\n{}",
                                            sensor.id, sensor.name, sensor.about, sensor.probe, added->token));
      });
    };
  });
}

void sensor_off_options(CLI::App& app, Door& door) {
  auto sensor = std::make_shared<std::string>();
  app.add_option("sensor", *sensor, "its number, as at-the-door lists it: sensor-1")->required();
  app.callback([sensor, &door] {
    door.action = [sensor](Door& d) {
      return with_door(d, [&](const Session& session, Access& access) {
        const auto off = take_sensor_token_back(session, access, *sensor);
        if (!off) return d.refuse(off.error());
        return done_at_the_door(d, session, "tierproof/sensor-off/1", {{"sensor", Json{off->id}}, {"name", Json{off->name}}},
                                fmt::format("{} ({}) posts no more", off->id, off->name));
      });
    };
  });
}

void at_the_door_options(CLI::App& app, Door& door) {
  auto most = std::make_shared<std::int64_t>(20);
  app.add_option("--most", *most, "how many lines of what happened")->check(whole_number(0, 10'000))->capture_default_str();
  app.callback([most, &door] {
    door.action = [most](Door& d) {
      return with_door(d, [&](const Session& session, Access& access) {
        const auto told = look_at_the_door(session, access, static_cast<std::size_t>(*most));
        if (!told) return d.refuse(told.error());
        if (d.json) {
          d.print(door_json(session, *told), session.kitchen().demo);
        } else {
          say_at_the_door(session, *told);
        }
        return exit_status::done;
      });
    };
  });
}

}  // namespace tierproof::cli
