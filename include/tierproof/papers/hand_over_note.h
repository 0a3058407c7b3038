#pragma once

#include <string>
#include <vector>

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"
#include "tierproof/papers/sheet.h"

namespace tierproof {

/// What the note says that goes with a cake to the person who takes it. It tells of the customer's allergies.
struct HandOverNoteContent {
  bool demo = false;
  std::string stop;     ///< `DO NOT HAND OVER: ...`; empty when nothing stops it
  std::string outcome;  ///< whether it may leave, in one sentence
  bool released = false;
  std::vector<std::string> business;    ///< name and address lines
  std::string reference;                ///< `cake-1`
  std::string name;                     ///< of the cake
  std::string event;                    ///< `For 2 May 2026`
  std::string take_out;                 ///< `Take out before cutting: 4 dowels (bottom tier) and 1 wire (top tier).`
  std::vector<LabelledText> keep;       ///< where, eat by and why
  std::vector<std::string> eggs;        ///< advice; empty when the egg steps call for none
  std::vector<LabelledText> allergens;  ///< `Contains`, `Not known`, `May contain`: names
  std::string together;                 ///< why the tiers count as one
  std::vector<LabelledText> told;       ///< the allergy question: asked when, answer, words told
  std::vector<Override> overrides;      ///< in full
  std::vector<std::string> transport;   ///< how to carry it
  std::vector<std::string> cautions;
  std::string head;   ///< short head
  std::string drawn;  ///< when, from how many notes
};

/// Lays out the note, with lines to sign on. Refused: words that cannot be set.
Result<Pages> lay_out_hand_over_note(const HandOverNoteContent& content, SheetPaper paper, const Fonts& fonts);

}  // namespace tierproof
