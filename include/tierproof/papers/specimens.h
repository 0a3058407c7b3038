#pragma once

#include <span>
#include <string>

#include "tierproof/papers/pages.h"

namespace tierproof {

/// A label that is drawn to be looked at and not to be used.
struct Specimen {
  std::string caption;  ///< what it is: `cake-1, roll-62: rules of Great Britain`
  Page label;
};

/// Places specimens at their own size on A3, or on one sheet of A2 or A1 where that holds them all and no smaller one does: each as high up
/// as it can, then as far left, in their order (the highest first where only that fits on one), in a thin outline with its caption above.
/// Every sheet says on top that nothing on it is for use, and has its number; every caption begins with the word SPECIMEN, and a grey line
/// runs through each label from corner to corner under its words, so that one that is cut out is known too.
/// @param title  of the sheets, after `SPECIMENS, NOT FOR USE`
/// Refused: a title that cannot be set; all together, captions that cannot be set and labels larger than a sheet. No specimens, no pages.
Result<Pages> lay_out_specimens(std::span<const Specimen> specimens, const std::string& title, const Fonts& fonts);

}  // namespace tierproof
