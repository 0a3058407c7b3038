#pragma once

#include <string>
#include <vector>

#include "tierproof/papers/pages.h"
#include "tierproof/sums/trace.h"

namespace tierproof {

/// One box of the drawing.
struct PicturedThing {
  std::string id;     ///< `pack-3`
  std::string name;   ///< `(flour, code L77)`; may be empty
  std::string where;  ///< where it is or what became of it; may be empty
  bool asked = false;
  bool withdrawn = false;
  bool voided = false;  ///< its record was: nothing is known of it any more
};

/// A trace as a drawing.
struct TracePictureContent {
  bool demo = false;
  std::vector<std::string> business;
  std::string title;      ///< `pack-3 (flour): where it went`
  std::string reference;  ///< `trace of pack-3`
  std::vector<PicturedThing> things;
  TraceGraph graph;  ///< of these things, by the same numbers
  std::vector<std::string> cautions;
  std::string head;
  std::string drawn;  ///< when, and from how many notes
};

/// Draws it on one sheet in layers, what went in on the left: the smallest sheet of ISO 216 from A4 to A0 that holds it in type of the
/// records' size, lying or upright, or one of its own size where none does; the sheet is told on it. Certain edges are solid, possible ones
/// dashed with a `?`, one that closes a loop has the word. Refused: text that cannot be set, more than 400 things, a sheet beyond 5 m.
Result<Pages> lay_out_trace_picture(const TracePictureContent& content, const Fonts& fonts);

}  // namespace tierproof
