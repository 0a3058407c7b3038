#pragma once

#include <compare>
#include <cstdint>
#include <string>
#include <vector>

#include "tierproof/kitchen/note.h"

namespace tierproof {

/// Something of `parent` went into `child`.
struct Edge {
  std::string parent;          ///< `pack-3`, `batch-2`
  std::string child;           ///< `batch-4`, `cake-1`
  std::uint64_t sequence = 0;  ///< the note that says so
  friend auto operator<=>(const Edge&, const Edge&) = default;
};

/// The edges that one note in force states, each once, sorted: of a `batch/1` note from what it used to the batch, of a `tier/1` note
/// from its batches to the cake. Every other note, and one that is void, states none.
std::vector<Edge> edges_of(const Note& note);

}  // namespace tierproof
