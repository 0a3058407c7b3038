#pragma once

#include "tierproof/app/access.h"
#include "tierproof/app/session.h"

namespace tierproof {

/// What an owner does at the door of the kitchen's pages. Each asks the records who asks for it. @throws NotPermitted unless an owner does,
/// and Fault of `Access`; 64 with --as-of

struct CodeGiven {
  std::string code;  ///< to be typed on the device
  ZonedInstant until;
};
Result<CodeGiven> let_device_in(const Session& session, Access& access);
/// Refused: there is no such device, or it is out.
Result<Device> shut_device_out(const Session& session, Access& access, const std::string& device);

/// Sets the PIN of somebody who works here; anybody who works here sets their own. Refused: nobody of that name, a PIN as
/// `Access::set_pin`.
Refusals set_pin_of(const Session& session, Access& access, const std::string& person, std::string_view pin);
/// Lets somebody try again after ten wrong PINs. Refused: nobody of that name, nothing keeps them out.
Refusals unlock_person(const Session& session, Access& access, const std::string& person);

struct SensorAsked {
  std::string probe;  ///< its thermometer in the records
  std::string place;  ///< that it reads; empty: where the thermometer hangs
  std::string name;
};
/// Refused: no such thermometer or place, another place than the thermometer hangs in, a name as of a device.
Result<Access::NewSensor> give_sensor_token(const Session& session, Access& access, const SensorAsked& asked);
Result<Sensor> take_sensor_token_back(const Session& session, Access& access, const std::string& sensor);

/// Somebody who works here, as the door knows them.
struct PersonAtTheDoor {
  std::string person;
  Authority authority = Authority::helper;
  bool pin = false;
  bool locked = false;
};
struct AtTheDoor {
  std::vector<Device> devices;
  std::vector<PersonAtTheDoor> people;
  std::vector<Sensor> sensors;
  std::vector<DoorEvent> happened;  ///< the newest first
};
/// @param most  of what happened
Result<AtTheDoor> look_at_the_door(const Session& session, const Access& access, std::size_t most);

}  // namespace tierproof
