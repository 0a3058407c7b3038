#pragma once

#include "tierproof/kitchen/state.h"
#include "tierproof/sums/due.h"

namespace tierproof {

/// The due rule of a sort as the sums take it. What a rule does not ask for keeps its first value.
DueRule due_rule_of(const RegularSort& sort);

/// The days on which nobody works by the records, but for those on which a batch or a tier was made: then somebody did. A note closes no
/// day that had ended when it was written: what was due by then stays due, and nothing later moves. A correction counts as written anew.
ClosingDays closing_days_of(const State& state);

/// The note that told after `day` had ended that nobody worked on it, or nothing.
const Recorded<DayOff>* told_afterwards(const State& state, Date day);

/// The local day of a note.
template <class Thing>
Date day_of(const Recorded<Thing>& thing) {
  return day_of(thing.happened, thing.offset);
}

/// The version of a sort that holds on `day`; the newest where none does yet, nothing where there is none.
const Recorded<RegularSort>* version_on(const State& state, const std::string& sort, Date day);

/// Whether `id` is a place, thermometer, pack, batch, cake, piece of kit or tub: what a check can be missed of, or what can go wrong by
/// itself.
bool names_a_thing(const State& state, const std::string& id);

/// The answer of a field in words, with its unit; sealed words as they are, or `(erased)`.
std::string answer_words(const RegularField& field, const RegularValue& value);

/// Whether an answer is another one than the field has when all is well. A field without such an answer is never found wanting.
bool not_fine(const RegularField& field, const RegularValue& value);

/// The answers of a record that are not as they should be: `Signs of pests seen?: yes`.
std::vector<std::string> wanting_of(const RegularSort& sort, const RegularDone& record);

}  // namespace tierproof
