#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tierproof/app/session.h"

namespace tierproof {

/// A row of the rules that has words printed as they are.
struct RuleOnWord {
  std::string row;
  std::string clause;
  std::string source;     ///< title of the law or document; may be empty
  std::string basis;      ///< `read`, `memory`
  std::string confirmed;  ///< of one from memory; empty: nobody
};
/// A note on the way by which something came onto the label.
struct NoteOnWay {
  std::uint64_t note = 0;
  std::string what;  ///< `bottom tier`, `batch-4`, `pack-2`, `what pack-2 says`
};
/// One way, with its notes from the cake down.
struct WayOfWord {
  std::string words;  ///< `cake-1 → batch-4 (vanilla sponge) → pack-2 (butter, code B1)`
  std::vector<NoteOnWay> notes;
};
/// One printed piece of a label, and why it stands there.
struct WordExplained {
  std::string words;    ///< as printed
  std::string what;     ///< `ingredient`, `date`, `business`
  std::string because;  ///< in a sentence; may be empty
  std::vector<RuleOnWord> rules;
  std::vector<WayOfWord> ways;
};
struct LabelExplained {
  std::string cake;
  std::string name;
  std::string rules_title;
  std::vector<WordExplained> words;  ///< in the order of the label
};

/// Why each printed word stands on the label of a cake: by which row, and by which notes. Judged as `check` judges it.
/// @param holding  only pieces that hold all of these, in any case; empty: every piece
/// Refused: no such cake, no rules in force, a cake that cannot be composed, words that nothing on its label holds.
Result<LabelExplained> explain_label(const Session& session, const std::string& cake, const std::vector<std::string>& holding,
                                     ZonedInstant at);

}  // namespace tierproof
