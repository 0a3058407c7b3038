#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "checking.h"
#include "tierproof/app/judging.h"

namespace tierproof {

/// How a batch or cake met something that went wrong.
struct Meeting {
  std::vector<std::string> ways;        ///< in words; empty: it did not meet it
  std::vector<std::string> named_food;  ///< packs and batches in it that the note names
  bool names_cake = false;
};

/// Since when nobody can vouch for a place that a trouble is about: worked out once, since it looks at every reading of the place.
using UnvouchedSince = std::map<std::pair<std::string, PlaceId>, Instant>;

/// How `thing` (a batch or cake) met `trouble`, followed up to `until`.
///
/// What the note names itself always counts, whenever it happened: the cake, every batch in it at whatever depth, every pack in those,
/// and packs that may be in them from a tub. What is shared counts from when somebody could last vouch for it, at the latest from the
/// moment that the note gives, until the trouble was closed:
/// - a place: stays that lie in that time, from the last reading of a fridge or freezer that keeps the limit for chilled food with the
///   thermometer's error added, of another place from the moment itself. What needs the cold may have stood in any fridge or freezer
///   while nobody wrote where it was;
/// - a thermometer: its readings of the thing, of a batch in it, or of a place while it stood there, from its last good check on;
/// - a piece of kit: batches made on it from its last tested cleaning on; a tub: batches that took from it since it was last emptied.
/// Where nothing vouches for it (no such reading, check, cleaning or emptying), everything before the moment counts too.
Meeting meets(const Session& session, const TemperatureTerms& terms, const Recorded<Deviation>& trouble, const std::string& thing,
              Instant until, UnvouchedSince& since);

/// Judges what went wrong, what was thrown away and what was frozen of a cake. Adds findings only where there is something to say.
void judge_troubles(const Session& session, Judgement& judgement);

/// Refuses to correct or void `note` while a complaint is open that rests on it: a note about the cake, its batches or its packs, or
/// one about a place, thermometer, kit, tub, recipe or ingredient of it that tells of the time before the complaint.
void refuse_while_complained(Checking& checking, const Session& session, const Note& note);
/// The same for a changed answer or the like about `cake`.
void refuse_while_complained(Checking& checking, const State& state, const CakeId& cake);

/// The note in force of the chain of `sequence`; refused unless `sequence` is itself the newest of it, may be corrected, and no open
/// complaint rests on it.
const Note* newest_or_refuse(Session& session, Checking& checking, std::uint64_t sequence);

/// Whether `cake` was thrown away.
bool thrown_away(const State& state, const CakeId& cake);

}  // namespace tierproof
