#pragma once

#include <compare>
#include <cstdint>
#include <string>
#include <vector>

#include "tierproof/kitchen/note.h"
#include "tierproof/kitchen/tubs.h"

namespace tierproof {

/// Something of `parent` went, or may have gone, into `child`.
struct Edge {
  std::string parent;          ///< `pack-3`, `batch-2`
  std::string child;           ///< `batch-4`, `cake-1`
  std::uint64_t sequence = 0;  ///< the note that says so
  bool certain = true;         ///< false: it may have gone in, as from a topped-up tub
  friend auto operator<=>(const Edge&, const Edge&) = default;
};

/// The edges that one note states, each once, sorted, all of them certain: of a `batch/1` note from what it used to the batch, of a
/// `tier/1` note from its batches to the cake. Every other note, and one that is void, states none.
std::vector<Edge> edges_of(const Note& note);

/// The edges of a chain of notes as the graph has them. What was taken from a tub of several packs is possible only, as is every other pack
/// that was in it; what a voided note last said is possible still, its tubs included: food does not vanish with its record.
/// @param tip        the note in force of the chain
/// @param last_said  of a void, the last note of its chain that was none; nothing for another
std::vector<Edge> graph_edges_of(const Note& tip, const Note* last_said, const Tubs& tubs);

}  // namespace tierproof
