#include "tierproof/app/at_the_door.h"

#include <fmt/format.h>

#include <algorithm>

#include "checking.h"

namespace tierproof {
namespace {

/// Who asks must be known and be allowed to; what is wrong besides is collected.
Checking asked_by_somebody(const Session& session) {
  if (session.entrance().as_of) throw Fault{exit_status::usage, "--as-of only reads the records; leave it out, the door knows only now"};
  Checking checking{session};
  checking.person();
  return checking;
}

template <class Thing>
std::string ids_of(const std::vector<Thing>& things) {
  std::vector<std::string> ids;
  for (const auto& thing : things) ids.push_back(thing.id);
  return fmt::format("{}", fmt::join(ids, ", "));
}

void check_works_here(Checking& checking, const Session& session, const std::string& person) {
  const auto* known = checking.known("person", session.state().people, person, "person");
  if (known != nullptr && !works_here(known->value, session.today()))
    checking.refuse("person", fmt::format("{} works here no more since {}", person, format_date_long(*known->value.left)),
                    "nobody comes in by that name; correct the note if they work here again");
}

}  // namespace

Result<CodeGiven> let_device_in(const Session& session, Access& access) {
  const Checking checking = asked_by_somebody(session);
  if (!checking.good()) return checking.refusals();
  require_authority(session, Deed::let_in_device);
  const Instant now = session.now();
  const Instant until = now + Access::code_lives;
  return CodeGiven{access.let_in(now, session.entrance().person), {until, session.offset_at(until)}};
}

Result<Device> shut_device_out(const Session& session, Access& access, const std::string& device) {
  Checking checking = asked_by_somebody(session);
  if (!checking.good()) return checking.refusals();
  require_authority(session, Deed::shut_out_device);
  const auto devices = access.devices();
  const auto found = std::find_if(devices.begin(), devices.end(), [&](const Device& one) { return one.id == device; });
  if (found != devices.end() && access.shut_out(device, session.now(), session.entrance().person)) return *found;
  checking.refuse("device", fmt::format("\"{}\" is not let in", device),
                  devices.empty() ? "nothing is let in" : "write one of " + ids_of(devices));
  return checking.refusals();
}

Refusals set_pin_of(const Session& session, Access& access, const std::string& person, std::string_view pin) {
  Checking checking = asked_by_somebody(session);
  check_works_here(checking, session, person);
  if (!checking.good()) return checking.refusals();
  if (person != session.entrance().person) require_authority(session, Deed::set_pin_of_another);
  return access.set_pin(person, pin, session.now(), session.entrance().person);
}

Refusals unlock_person(const Session& session, Access& access, const std::string& person) {
  Checking checking = asked_by_somebody(session);
  checking.known("person", session.state().people, person, "person");
  if (!checking.good()) return checking.refusals();
  require_authority(session, Deed::unlock_person);
  if (!access.is_locked(person)) {
    checking.refuse("person", fmt::format("{} does not wait for an owner", person), "nothing to do");
    return checking.refusals();
  }
  access.unlock(person, session.now(), session.entrance().person);
  return {};
}

Result<Access::NewSensor> give_sensor_token(const Session& session, Access& access, const SensorAsked& asked) {
  Checking checking = asked_by_somebody(session);
  const auto* probe = checking.known("thermometer", session.state().probes, asked.probe, "thermometer");
  std::string place = asked.place;
  if (probe != nullptr && !probe->value.hangs_in.empty()) {
    const std::string& hangs_in = probe->value.hangs_in.text();
    if (place.empty()) place = hangs_in;
    if (place != hangs_in)
      checking.refuse("--of", fmt::format("{} hangs in {} by note {}", asked.probe, hangs_in, probe->sequence),
                      "leave it out, or correct that note first");
  }
  if (place.empty()) {
    checking.refuse("--of", "which place it reads is missing", "write the place, such as cake-fridge");
  } else {
    checking.known("--of", session.state().places, place, "place");
  }
  if (!checking.good()) return checking.refusals();
  require_authority(session, Deed::add_sensor);
  return access.add_sensor(asked.name, asked.probe, place, session.now(), session.entrance().person);
}

Result<Sensor> take_sensor_token_back(const Session& session, Access& access, const std::string& sensor) {
  Checking checking = asked_by_somebody(session);
  if (!checking.good()) return checking.refusals();
  require_authority(session, Deed::revoke_sensor);
  std::vector<Sensor> posting;
  for (auto& one : access.sensors()) {
    if (!one.revoked) posting.push_back(std::move(one));
  }
  const auto found = std::find_if(posting.begin(), posting.end(), [&](const Sensor& one) { return one.id == sensor; });
  if (found != posting.end() && access.revoke_sensor(sensor, session.now(), session.entrance().person)) return *found;
  checking.refuse("sensor", fmt::format("\"{}\" has no token", sensor),
                  posting.empty() ? "no sensor has one" : "write one of " + ids_of(posting));
  return checking.refusals();
}

Result<AtTheDoor> look_at_the_door(const Session& session, const Access& access, std::size_t most) {
  const Checking checking = asked_by_somebody(session);
  if (!checking.good()) return checking.refusals();
  require_authority(session, Deed::see_the_door);
  AtTheDoor told;
  told.devices = access.devices();
  for (const auto& [id, person] : session.state().people) {
    const auto authority = authority_of(session.state(), id.text(), session.today());
    if (authority) told.people.push_back({id.text(), *authority, access.has_pin(id.text()), access.is_locked(id.text())});
  }
  told.sensors = access.sensors();
  told.happened = access.happened(most);
  return told;
}

}  // namespace tierproof
