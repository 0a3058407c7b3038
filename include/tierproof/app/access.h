#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "tierproof/app/permissions.h"
#include "tierproof/units/ids.h"
#include "tierproof/units/result.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// A tablet or telephone that was let in once, by a code that stood on the machine which serves the pages.
struct Device {
  std::string id;    ///< `device-1`; the device of entries is `tablet: ` and its name
  std::string name;  ///< `by the mixer`
  Instant let_in{};
  Instant last_seen{};
};

/// Somebody who signed in on a device.
struct SignedIn {
  std::string device;  ///< id
  std::string device_name;
  std::string person;  ///< id; empty for the officer's view
  Authority authority = Authority::officer;
  std::string form_token;  ///< of this sign-in: every form carries it, so that no other site can post one
  Instant since{};
};

/// Why nobody was let in. `wait` above nothing: how long until another try counts; `locked`: until an owner unlocks.
struct SignInRefused {
  std::string message;
  std::string remedy;
  Span wait{};
  bool locked = false;
};

/// A home-made thermometer that posts readings by a token.
struct Sensor {
  std::string id;     ///< `sensor-1`
  std::string name;   ///< `fridge, by the door`
  std::string probe;  ///< its thermometer in the records
  std::string about;  ///< the place that it reads
  Instant since{};
  std::optional<Instant> revoked{};
};
/// More than its token may post in a minute.
struct TooManyPosts {
  Span wait{};
};

/// A line of what happened at the door, the newest first: sign-ins good and bad, what was refused, what was changed.
struct DoorEvent {
  Instant at{};
  std::string what;    ///< `signed in`, `wrong PIN`, `locked`, `unlocked`, `let in`, `shut out`, `not allowed`, ...
  std::string device;  ///< id, or empty
  std::string person;  ///< id, or empty
  std::string detail;
};

/// Who may come in by the kitchen's pages: devices that were let in, PINs, sign-ins, tokens of sensors. It lies in a file of its own beside
/// the records (`<records>.access`, readable by its owner alone), since none of it is a record of food and all of it changes. Every secret
/// is kept as a hash: PINs by Argon2id with a pepper that lies apart (`<records>.pepper`), tokens by SHA-256. Several threads may call it.
///
/// A PIN has six digits and opens only on a device that was let in. Misses are counted for the person and for the device, and outlive a
/// restart: five in a row make the sixth try wait 30 s, doubling with every further miss (of a device up to an hour); after ten the person
/// waits for an owner. A try is counted before its PIN is looked at, so that many at one moment are no more tries than one after the other.
/// A stranger is told the same of a person whom nobody knows, of one without a PIN, and of a wrong PIN, after the same work.
/// Sources: NIST SP 800-63B-4 (draft) on activation secrets, RFC 9106 for Argon2id; the figures of waiting are common practice, no source.
class Access {
 public:
  /// Opens the file beside `kitchen_file`, or makes it and its pepper. @throws Fault 66 there is no such kitchen file; 73, 74; 78 where
  /// others on this machine may read one of the two, the pepper is not there, or is not the one that the PINs were made with
  /// @param before_records  the kitchen file need not be there yet: somebody is about to begin it
  static std::unique_ptr<Access> open(const std::string& kitchen_file, bool before_records = false);
  ~Access();
  Access(const Access&) = delete;
  Access& operator=(const Access&) = delete;

  static constexpr Span code_lives = std::chrono::minutes{10};
  /// A code for one device, eight digits in two groups, good for ten minutes; an earlier one that is open is void.
  /// @param by  here and below: the person who asked for it, for what happened; empty where nobody is told
  std::string let_in(Instant now, const std::string& by = {});
  struct Enrolled {
    Device device;
    std::string key;  ///< that the device shows from now on; kept here as a hash
  };
  /// Refused: a wrong or stale code (ten wrong ones void it), a name that is empty or longer than 40 characters.
  Result<Enrolled> enrol(std::string_view code, std::string_view name, Instant now);
  /// The device of a key, unless it was shut out.
  std::optional<Device> device_of(std::string_view key, Instant now);
  std::vector<Device> devices() const;
  /// Shuts a device out and ends its sign-ins. @return false if there is none
  bool shut_out(std::string_view device, Instant now, const std::string& by = {});

  /// Ends their sign-ins and forgets their misses. Refused: not six digits, one of the blocked (repeats of one, two or three digits, runs,
  /// dates of the years 1930 to 2039 as DDMMYY, MMDDYY and YYMMDD).
  Refusals set_pin(const std::string& person, std::string_view pin, Instant now, const std::string& by = {});
  /// Why nobody may have this PIN; nothing where they may. Nothing is kept.
  static std::optional<Refusal> refused_pin(std::string_view pin);
  bool has_pin(const std::string& person) const;
  bool is_locked(const std::string& person) const;
  /// Lets somebody try again after ten misses.
  void unlock(const std::string& person, Instant now, const std::string& by = {});

  /// The token of a new sign-in, that the device shows from now on; who was signed in on it before is no more.
  /// @param person     empty: somebody whom the records do not let in; it is a miss of the device like any other
  /// @param authority  of the person by the records: owner or helper
  std::variant<std::string, SignInRefused> sign_in(const Device& device, const std::string& person, std::string_view pin,
                                                   Authority authority, Instant now);
  /// The same question of somebody who is signed in already, before something that asks for the PIN again; misses count alike, and
  /// whoever has to wait for an owner is signed out.
  std::optional<SignInRefused> confirm(const SignedIn& who, std::string_view pin, Instant now);
  /// A sign-in without a person that only reads, on the device of an owner who is signed in; theirs ends. @pre `owner` is one
  std::string open_for_officer(const SignedIn& owner, Instant now);
  /// Who a token stands for: nothing after ten minutes without a page (of a person) or twelve hours, nothing on another device.
  /// @param touch  false: asking does not count as a page, as of a page that looks for news by itself
  /// After a restart it may be over up to a minute early: the disk is not written for every page.
  std::optional<SignedIn> who(std::string_view token, const Device& device, Instant now, bool touch = true);
  void sign_out(std::string_view token, Instant now);
  /// Ends every sign-in of somebody: their PIN was changed, they left.
  void sign_out_everywhere(const std::string& person, Instant now);

  /// The token of a new sensor, told once.
  struct NewSensor {
    Sensor sensor;
    std::string token;
  };
  Result<NewSensor> add_sensor(std::string_view name, const std::string& probe, const std::string& about, Instant now,
                               const std::string& by = {});
  /// Whose a token is; at most 60 posts a minute each.
  std::variant<std::monostate, Sensor, TooManyPosts> sensor_of(std::string_view token, Instant now);
  std::vector<Sensor> sensors() const;
  bool revoke_sensor(std::string_view id, Instant now, const std::string& by = {});

  void note_refused(const std::string& device, const std::string& person, const std::string& detail, Instant now);
  std::vector<DoorEvent> happened(std::size_t most) const;

 private:
  struct Inside;
  explicit Access(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace tierproof
