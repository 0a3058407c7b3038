#pragma once

#include <optional>
#include <string>

#include "tierproof/app/judging.h"

namespace tierproof {

/// Works out how the cake keeps and until when, into `judgement.life`, and judges its date.
void judge_life(const Session& session, Judgement& judgement);

/// How `batch` keeps and until when, as if it were a cake by itself.
/// @param parts  `parts_of_batch`
ShelfLife life_of_batch(const State& state, const BatchId& batch, const CakeParts& parts, const TemperatureTerms& terms, ZonedInstant at);

/// The packs in any of `parts` that were past their use-by on the day they went in.
std::vector<Finding> packs_used_late(const State& state, const CakeParts& parts);

/// The packs that are or may be in a batch.
std::vector<LotId> packs_in(const State& state, const Recorded<Batch>& batch);
/// The day a pack was opened: as recorded, or the day of its first use when that is earlier or nothing is recorded.
std::optional<Date> day_opened(const State& state, const LotId& id, const Lot& lot);
/// A pack's own dates, as the sum of the life takes them.
LotLife lot_life(const State& state, const LotId& id, const Recorded<Lot>& lot);

/// `use by 4 May 2026; keep in the fridge`
std::string life_in_words(const ShelfLife& life);

/// SHA-256 of everything that a label tells of the food by `judgement`: another one later means that the label is out of date.
std::string says_of(const State& state, const Judgement& judgement);

}  // namespace tierproof
