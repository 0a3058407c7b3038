#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "tierproof/text/json.h"
#include "tierproof/units/ids.h"
#include "tierproof/units/result.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// How a fact reached the records.
enum class Arrival { logger, typed_then, typed_late, scanned, suggested_accepted, scheduled };
std::string_view term_of(Arrival arrival);
std::optional<Arrival> parse_arrival(std::string_view term);

/// One record. Its canonical text is the leaf that the log hashes.
struct Entry {
  std::string kitchen;                      ///< UUID of the kitchen
  std::uint64_t sequence = 0;               ///< 1, 2, 3 ...: the order of the log
  Instant written{};                        ///< when it was recorded
  Instant happened{};                       ///< when it happened, as told
  Offset offset;                            ///< UTC offset in force at `happened`
  PersonId person;                          ///< who recorded it
  std::string device;                       ///< through which door, `command line`
  std::string kind;                         ///< kind and version of the body, `lot/1`
  std::string subject;                      ///< what it is about, `pack-7`
  std::optional<std::uint64_t> supersedes;  ///< the entry that it corrects or voids
  Arrival how = Arrival::typed_then;
  std::string client_key;  ///< unique in the kitchen: a retry books once
  Json body;               ///< null when the superseded entry is voided
  Json why;                ///< reason of a correction (sealed text); null otherwise
  friend bool operator==(const Entry&, const Entry&) = default;
};

/// The canonical text of `entry`, member `v` 1 first among equals: what is hashed and kept.
std::string leaf_text(const Entry& entry);
/// Reads `leaf_text` back. Refuses unknown members, an unknown version, and values out of range.
Result<Entry> parse_entry(std::string_view leaf);

}  // namespace tierproof
