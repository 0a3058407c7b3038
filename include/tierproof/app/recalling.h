#pragma once

#include <string>
#include <vector>

#include "tierproof/app/tracing.h"

namespace tierproof {

/// Somebody to tell, or food to set aside, in a recall.
struct RecallStep {
  TracedTold food;         ///< with its amount where one thing alone is recalled
  std::string customer;    ///< of a cake that left: who has it, with telephone or address; `(erased)` where that was erased
  bool done = false;       ///< told since, or nothing of it is left here
  std::string done_words;  ///< `told 3 May 2026, 10:05, by ada (note 53)`; empty: not done
};

/// What a recall of some packs or batches comes to.
struct RecallTold {
  std::vector<TraceTold> of;  ///< each of what is recalled, with its balance
  bool drill = false;         ///< nothing is recalled: an exercise
  std::vector<std::string>
      because;  ///< what says that it is recalled: `withdrawn 3 May 2026, 09:00, by ada (note 50): recalled by the mill`
  std::vector<RecallStep> contact;  ///< cakes that left
  std::vector<RecallStep> hold;     ///< what is still here: packs, tubs, batches, cakes
  std::vector<RecallStep> gone;     ///< thrown away, or used up in what is listed itself
  /// Whether somebody still has to be told or something set aside.
  bool open() const;
};

/// What to hold and whom to tell: everything that `things` (packs or batches by number, packs by code) went into, certain or possible. A
/// customer counts as told by a note `told` of after the hand-over, made since the last that says that it is recalled, by the ready-made
/// text of a recall or in words of their own, which are printed; food as dealt with once it was thrown away. Refused: nothing of that name,
/// a code of several packs; without `drill`, a pack that was not withdrawn, or a batch that no open or closed matter is about.
Result<RecallTold> recall(const Session& session, const std::vector<std::string>& things, bool drill, ZonedInstant at);

/// The packs of `supplier` received from `from` to `until`, both counted. Refused: an unknown supplier, days in the wrong order, none.
Result<std::vector<std::string>> packs_from(const Session& session, const std::string& supplier, Date from, Date until);

}  // namespace tierproof
