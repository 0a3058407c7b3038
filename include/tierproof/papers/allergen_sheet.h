#pragma once

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// One allergen of the rules in force on the sheet that is told from or handed out; none is left blank.
struct AllergenSheetLine {
  AllergenLine line;
  std::string tiers;  ///< `bottom, top`; empty when no tier contains it by the records
};

/// What an allergen sheet of one cake says, however it is sold.
struct AllergenSheetContent {
  bool demo = false;
  std::string stop;  ///< `DO NOT HAND OVER: ...`; empty when nothing stops it
  std::vector<std::string> business;
  std::string reference;                 ///< `cake-1`
  std::string name;                      ///< of the cake
  std::string event;                     ///< `For 2 May 2026`
  std::string sold;                      ///< how it is sold, what must be told, and the rule
  std::vector<AllergenSheetLine> lines;  ///< in the order of the law's list
  std::vector<std::string> traces;       ///< `hazelnuts: ...`, from shared kit and suppliers' warnings, in words
  std::vector<std::string> statements;   ///< prescribed sentences
  std::string together;                  ///< why the tiers count as one
  std::vector<std::string> cautions;
  std::string head;   ///< short head
  std::string drawn;  ///< when, from how many notes
};

/// Lays out the sheet on A4, with lines to write on whom it was told to, when and by whom.
Result<Pages> lay_out_allergen_sheet(const AllergenSheetContent& content, const Fonts& fonts);

}  // namespace tierproof
