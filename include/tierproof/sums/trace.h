#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/units/mass.h"
#include "tierproof/units/share.h"

namespace tierproof {

/// Something that may hold something else: a pack, a batch, a cake.
struct TracedThing {
  std::string id;               ///< `pack-3`
  std::optional<Mass> whole{};  ///< what it weighed: received, or when finished; nothing: not known
};

/// Something of `from` went, or may have gone, into `to`. An edge carries what is in a thing, never its dates.
struct TraceEdge {
  std::size_t from = 0;  ///< into `TraceGraph::things`
  std::size_t to = 0;
  bool certain = true;         ///< false: it may have gone in, as from a topped-up tub
  std::optional<Mass> mass{};  ///< of `from`; nothing: not known
};

struct TraceGraph {
  std::vector<TracedThing> things;
  std::vector<TraceEdge> edges;  ///< several between the same two count as all of them
};

/// What was reached from where the walk began.
struct TraceStep {
  std::size_t thing = 0;
  bool certain = true;               ///< some way there is of certain edges alone
  std::size_t steps = 0;             ///< of the shortest way
  std::optional<std::size_t> via{};  ///< the edge that it was first reached by; nothing for a beginning
};

enum class TraceWay { forward, back };

/// Everything that `beginnings` went into (or that went into them), each once, the beginnings first and then by the number of steps. A loop
/// is followed once. Linear in things and edges.
/// @throws std::out_of_range for an index that is not in the graph
std::vector<TraceStep> traced(const TraceGraph& graph, std::span<const std::size_t> beginnings, TraceWay way);

/// What went into every one of `things`, certain only where it is in each of them: where a fault that they share may lie.
std::vector<TraceStep> common_sources(const TraceGraph& graph, std::span<const std::size_t> things);

/// How much of `start` is in each thing, milligrams, by certain edges: each passes on what went into it evenly, by what it weighed when
/// finished, with what stayed behind in the bowl. What an oven took counts as still in it.
struct TracedAmount {
  std::size_t thing = 0;
  Share mg = 0;
};
/// By thing, those with some of it. Nothing where it cannot be told: a mass or a whole on the way is not known, or a loop.
std::optional<std::vector<TracedAmount>> amounts_of(const TraceGraph& graph, std::size_t start);

/// Where all of one thing went. `unaccounted` may be negative: then more was used than there was, and it is never rounded away to nothing.
struct MassBalance {
  Mass had;
  Mass used;
  Mass thrown_away;
  std::optional<Mass> counted{};  ///< what is left, as somebody counted it; nothing: nobody did
  Mass left() const { return had - used - thrown_away; }
  std::optional<Mass> unaccounted() const { return counted ? std::optional{left() - *counted} : std::nullopt; }
};

/// `parts` in whole units that add up to the sum of the parts rounded half up: each is rounded down, and what is missing goes to those with
/// the largest remainders, of equal ones to the first (the method of largest remainders). Parts may be negative.
/// @param unit  above 0, in the unit of the parts: 1000 for milligrams in whole grams
std::vector<std::int64_t> rounded_together(std::span<const std::int64_t> parts, std::int64_t unit);

}  // namespace tierproof
