#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/changing.h"

namespace tierproof {

/// What a label that was printed said of the ingredients, and what the records say now.
struct SaidOnLabel {
  std::uint64_t note = 0;  ///< of the paper
  std::int64_t box = 0;
  std::string printed;   ///< `1 May 2026, 09:00`
  std::string said;      ///< the list of ingredients and what stands with it, one text; `(erased)` where the paper was
  std::string says_now;  ///< the same by the records as they are; `(nothing: …)` where no label can be drawn any more
  bool same = false;
};

/// A cake with a pack that stands under pack details which turned out wrong.
struct UnderWrongWords {
  CakeId cake;
  std::string name;
  std::string where;                ///< where it is now, or what became of it
  bool out = false;                 ///< it was handed over: somebody has to be told
  std::string customer;             ///< of one that is out, when recorded and not erased
  std::vector<std::string> packs;   ///< of those details in it, in words
  std::vector<SaidOnLabel> labels;  ///< the last of each box
  std::vector<std::string> told;    ///< what the customer was told, `note 27: It contains ...`
};

struct Misdeclared {
  std::uint64_t details = 0;           ///< first note of the pack details
  std::string words;                   ///< `butter of Example Dairy, read 30 April 2026`
  std::vector<Difference> says;        ///< what they say otherwise since they were first written; empty: not corrected
  std::vector<UnderWrongWords> cakes;  ///< those that are out first
};

/// The cakes out under the words of pack details that were found wrong, and what they said: every cake with a pack that stands under them
/// and was received from `from` until `until`, both counted. Refused: a note that tells of no pack, no pack under it in that time, no
/// label rules in force.
Result<Misdeclared> misdeclared(const Session& session, std::uint64_t note, std::optional<Date> from, std::optional<Date> until,
                                ZonedInstant at);

}  // namespace tierproof
