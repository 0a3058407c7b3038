#pragma once

#include <span>
#include <string>
#include <vector>

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// What the label of a tub in the fridge or of a pack on the shelf says, in the order that it is printed.
struct SmallLabelContent {
  bool demo = false;
  std::string stop;                      ///< `DO NOT USE: ...`; empty when nothing stops it
  std::vector<std::string> against{};    ///< all that the stop is for, of which it names the first; not printed
  std::string name;                      ///< `vanilla buttercream`, `ground almonds`
  std::vector<std::string> contains;     ///< words of allergens, in the law's order: `milk`
  std::vector<std::string> not_known;    ///< those of which nobody can tell; `every other allergen` where that is all the others
  std::vector<std::string> may_contain;  ///< by the packs, or from kit that was washed between
  std::string no_allergen;               ///< a sentence in place of the three, where all are known not to be in it
  std::vector<LabelledText> dates;       ///< `Use by` → `4 May 2026`: printed bold
  std::vector<LabelledText> lines;       ///< `Made` → `1 May 2026`
  std::vector<std::string> to_write;     ///< `Opened on`: a line to write on with a pen
  std::string keep;                      ///< `Keep in the fridge`
  std::string reference;                 ///< `batch-4`
  std::string head;                      ///< short head; not printed
};

/// Lays out a small label on `stock`, everything in one size as large as the stock allows: from an x-height of 3 mm down to 1.2 mm, never
/// less (choice of this project: it is read with wet hands, at arm's length). Names of allergens are bold capitals, so are a stop and the
/// dates bold. There are 6 mm of height to write in. Refused: text that cannot be set, and what does not fit, naming the
/// smallest of `others` that would hold it.
/// @return one page as large as the label (on a roll: of its width, cut to whole millimetres)
Result<Pages> lay_out_small_label(const SmallLabelContent& content, const Stock& stock, const Fonts& fonts,
                                  std::span<const Stock> others = {});

}  // namespace tierproof
