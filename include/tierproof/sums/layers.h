#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "tierproof/sums/trace.h"

namespace tierproof {

/// The distances of a drawing in layers, all above 0 and in one unit.
struct LayerMeasures {
  std::int64_t box_width = 0;
  std::int64_t gap = 0;         ///< at least this between two neighbours of a layer
  std::int64_t pitch = 0;       ///< at least this between two lines that run side by side
  std::int64_t lead = 0;        ///< how far a line runs straight where it leaves a box
  std::int64_t stub = 0;        ///< how far it runs straight before it reaches one: room for its mark
  std::int64_t least_turn = 0;  ///< at least this wide is the space between the two, where lines cross
  std::int64_t most_turn = 0;   ///< and at most this
};

struct DrawnPoint {
  std::int64_t x = 0;
  std::int64_t y = 0;  ///< downwards
  friend bool operator==(const DrawnPoint&, const DrawnPoint&) = default;
};

/// Where a thing stands.
struct DrawnBox {
  std::int64_t x = 0;
  std::int64_t y = 0;  ///< its top
  std::int64_t width = 0;
  std::int64_t height = 0;
  std::size_t layer = 0;  ///< from 0, on the left
  friend bool operator==(const DrawnBox&, const DrawnBox&) = default;
};

/// How a line runs, from left to right: from the right side of one box to the left side of another in a later layer.
struct DrawnRoute {
  std::vector<DrawnPoint> points;  ///< none: the edge leads from a thing into itself
  bool closes_loop = false;        ///< the edge leads back: its line begins at the thing that it goes into
  friend bool operator==(const DrawnRoute&, const DrawnRoute&) = default;
};

struct LayeredDrawing {
  std::vector<DrawnBox> boxes;     ///< by thing
  std::vector<DrawnRoute> routes;  ///< by edge
  std::int64_t width = 0;
  std::int64_t height = 0;
  std::size_t crossings = 0;  ///< of lines with lines
};

/// Draws `graph` in layers from left to right, after Sugiyama, Tagawa and Toda, "Methods for visual understanding of hierarchical system
/// structures", IEEE Transactions on Systems, Man, and Cybernetics 11(2), 1981 (from memory).
///
/// A thing stands one layer after the last of what went into it (by the longest way); what nothing went into stands just before the first
/// thing that it went into. An edge that would close a loop is turned round for the drawing and told as such. Within the layers neighbours
/// are ordered by the mean place of what they are joined to, and then exchanged while that saves a crossing. No two boxes overlap, and
/// no line runs through a box. The same graph gives the same drawing.
/// @param least_heights  by thing; a box is higher where more lines reach it than have room
/// @throws std::out_of_range for an edge that names no thing, or where `least_heights` has another length than the things
LayeredDrawing drawn_in_layers(const TraceGraph& graph, std::span<const std::int64_t> least_heights, const LayerMeasures& measures);

}  // namespace tierproof
