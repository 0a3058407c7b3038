#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/text/json.h"
#include "tierproof/units/ids.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// One record as the kitchen reads it: the facts of an entry, without its hashing.
struct Note {
  std::uint64_t sequence = 0;
  Instant written{};
  Instant happened{};
  Offset offset;
  PersonId person;
  std::string kind;     ///< `lot/1`
  std::string subject;  ///< `pack-7`
  std::optional<std::uint64_t> supersedes;
  std::string how;  ///< term of its arrival, `typed_late`
  Json body;        ///< null for a void
  Json why;
  std::uint64_t place = 0;              ///< the sequence whose place in the fold it takes; its own unless it supersedes
  std::vector<std::uint64_t> replaced;  ///< the notes of its chain before it, first to last; `in_force` fills it
  friend bool operator==(const Note&, const Note&) = default;
};

/// The notes in force: each chain of corrections stands as its last one, in the place of its first; a voided chain stays, with
/// a null body, so that what leaned on it can be told. Sorted by place.
/// @param notes  notes 1..N in order of sequence
std::vector<Note> in_force(std::span<const Note> notes);

/// The note in force of the chain that `sequence` belongs to, as its first, a later or its last note; or nothing.
const Note* tip_of(std::span<const Note> in_force, std::uint64_t sequence);

}  // namespace tierproof
