#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "parts.h"
#include "tierproof/app/session.h"
#include "tierproof/sums/cross_contact.h"
#include "tierproof/sums/label_terms.h"

namespace tierproof {

/// What a cleaning takes off by its evidence.
struct Clearing {
  std::vector<std::string> keys;  ///< of allergens or of groups; `protein`: of all but sulphites
  std::string words;  ///< its grade, with what it does not count for: `validated, but the recipe of its worst case changed since`
};
/// Whether it was tested for protein: clean of whatever it was, as far as anybody can tell.
inline bool covers_protein(const Clearing& clearing) {
  return std::find(clearing.keys.begin(), clearing.keys.end(), "protein") != clearing.keys.end();
}
/// `washed and tested` counts for what was tested; `validated` for the worst case of validations of that piece of kit made before it, while
/// neither the kit nor the recipe of the worst case changed in between. Without such evidence either counts as washed.
Clearing clearing_of(const State& state, const Recorded<Cleaning>& cleaning);

/// Every use and cleaning of shared equipment, in time order, with the words of `terms` for what each batch contains. A cake that was put
/// together with recorded kit is a use of it too, under its own id, with all that is in that tier.
std::vector<KitUse> kit_uses(const State& state, const LabelTerms& terms);
/// The same, and what met what on it, by the label rules of the session on their day. Both stand as long as `Session::worked_out` keeps
/// them.
/// @param terms  as `session.label_terms` gave them
const std::vector<KitUse>& kit_uses_by(const Session& session, const LabelTerms& terms);
const std::vector<Contact>& contacts_by(const Session& session, const LabelTerms& terms, Offset offset);

/// What a piece of kit is called in paths; with its short name where another one is called the same.
std::string kit_in_words(const State& state, const EquipmentId& id);

/// The ids under which a cake, or a batch, may have met something on kit: those of its batches, and its own.
std::vector<std::string> kit_ids(const CakeParts& parts);

}  // namespace tierproof
