#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/log/hash.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// The one code that is open for a device to be let in by.
struct CodeRow {
  Digest code{};  ///< hash of it
  Instant until{};
  std::int64_t wrong = 0;  ///< codes that were tried and were not this one
};
struct DeviceRow {
  std::int64_t number = 0;  ///< 1, 2, 3 ...: never given twice
  std::string name;
  Digest key{};  ///< SHA-256 of what the device shows
  Instant let_in{};
  Instant last_seen{};
  std::optional<Instant> shut_out{};
};
struct PinRow {
  std::string salt;  ///< 16 bytes
  std::string hash;  ///< 32 bytes
  std::int64_t passes = 0;
  std::int64_t memory_kib = 0;
  Instant set{};
};
/// Wrong PINs in a row, of a person or of a device.
struct MissCount {
  std::int64_t in_a_row = 0;
  Instant not_before{};  ///< no try counts earlier
};
struct SignInRow {
  Digest token{};  ///< SHA-256 of what the device shows
  std::int64_t device = 0;
  std::string person;     ///< empty: a view that only reads
  std::string authority;  ///< `owner`, `helper`, `officer`
  Instant since{};
  Instant last_page{};
};
struct SensorRow {
  std::int64_t number = 0;
  std::string name;
  std::string probe;
  std::string about;
  Digest token{};  ///< SHA-256 of what the sensor shows
  Instant since{};
  std::optional<Instant> revoked{};
};
struct HappeningRow {
  Instant at{};
  std::string what;
  std::string device;
  std::string person;
  std::string detail;
};

/// Who may come in, as rows: no rule of it stands here. Everything may be changed and deleted, since none of it is a record of food. Not
/// for several threads at a time; several processes may share the file. @throws Fault 74 disk, 75 locked for too long, 78 damaged
class AccessStore {
 public:
  virtual ~AccessStore() = default;

  /// What `changes` does through this store is one transaction that no other process writes into: all of it, or nothing where it throws.
  /// @pre not inside another one
  virtual void together(const std::function<void()>& changes) = 0;

  /// A digest that only the right pepper gives.
  virtual std::optional<Digest> pepper_mark() const = 0;
  virtual void put_pepper_mark(const Digest& mark) = 0;

  virtual std::optional<CodeRow> code() const = 0;
  virtual void put_code(const CodeRow& code) = 0;
  virtual void drop_code() = 0;

  /// @return its number; that of `device` is not looked at
  virtual std::int64_t add_device(const DeviceRow& device) = 0;
  virtual std::optional<DeviceRow> device(std::int64_t number) const = 0;
  virtual std::optional<DeviceRow> device_of_key(const Digest& key) const = 0;
  /// Those that are let in, by number.
  virtual std::vector<DeviceRow> devices() const = 0;
  virtual void saw_device(std::int64_t number, Instant at) = 0;
  virtual void shut_out_device(std::int64_t number, Instant at) = 0;

  virtual std::optional<PinRow> pin(const std::string& person) const = 0;
  virtual void put_pin(const std::string& person, const PinRow& pin) = 0;

  /// @param of  `person anna`, `device 3`
  virtual MissCount misses(const std::string& of) const = 0;
  virtual void put_misses(const std::string& of, const MissCount& count) = 0;

  virtual void add_sign_in(const SignInRow& sign_in) = 0;
  virtual std::optional<SignInRow> sign_in(const Digest& token) const = 0;
  virtual void saw_page(const Digest& token, Instant at) = 0;
  virtual void end_sign_in(const Digest& token) = 0;
  virtual void end_sign_ins_on(std::int64_t device) = 0;
  virtual void end_sign_ins_of(const std::string& person) = 0;
  virtual void end_sign_ins_since_before(Instant since) = 0;

  /// @return its number; that of `sensor` is not looked at
  virtual std::int64_t add_sensor(const SensorRow& sensor) = 0;
  virtual std::optional<SensorRow> sensor_of_token(const Digest& token) const = 0;
  /// All of them, by number.
  virtual std::vector<SensorRow> sensors() const = 0;
  virtual void revoke_sensor(std::int64_t number, Instant at) = 0;

  /// Keeps the newest 10 000.
  virtual void add_happening(const HappeningRow& happening) = 0;
  /// The newest first.
  virtual std::vector<HappeningRow> happenings(std::size_t most) const = 0;
};

/// Opens the file at `path`, or makes it, readable by its owner alone.
/// @throws Fault 73 cannot be made, 74, 75, 78 not such a file, of a newer program, or others on this machine may read it
std::unique_ptr<AccessStore> open_access_sqlite(const std::string& path);

}  // namespace tierproof
