#pragma once

#include <deque>
#include <map>
#include <mutex>

#include "tierproof/app/access.h"
#include "tierproof/store/access_store.h"

namespace tierproof {

struct Access::Inside {
  std::unique_ptr<AccessStore> store;
  Digest pepper{};
  mutable std::mutex one_at_a_time;                     ///< held over each use of the store, never over Argon2id
  std::map<std::int64_t, std::deque<Instant>> posts{};  ///< of each sensor, the last minute's
  std::map<Digest, Instant> pages{};                    ///< of each sign-in, its last page: the store has it to the minute

  /// Under the lock, and as one transaction of the store.
  void change(const std::function<void(AccessStore&)>& changes) {
    const std::scoped_lock lock{one_at_a_time};
    store->together([&] { changes(*store); });
  }
  /// Under the lock.
  template <class Found>
  Found ask(const std::function<Found(const AccessStore&)>& question) const {
    const std::scoped_lock lock{one_at_a_time};
    return question(*store);
  }
  /// Counts a try of `person` on the device, and looks at its PIN; nobody (empty) is counted for the device alone, and never right.
  /// Nothing: it is right, and their misses are forgotten once `then`, which runs in the same transaction, has said true.
  std::optional<SignInRefused> try_pin(std::int64_t device, const std::string& person, std::string_view pin, Instant now,
                                       const std::function<bool(AccessStore&)>& then);
  /// What is kept of a PIN.
  std::string hash_of(const std::string& person, std::string_view pin, const PinRow& by) const;
};

/// The number in `device-7`; nothing where it is no such id.
std::optional<std::int64_t> number_in_id(std::string_view word, std::string_view id);
std::string id_of_device(std::int64_t number);
Device device_of_row(const DeviceRow& row);
/// Why a name of a device or sensor is not taken: empty, longer than 40 characters, or no plain text of one line.
std::optional<Refusal> refused_door_name(std::string_view name);

}  // namespace tierproof
