#pragma once

#include <optional>
#include <string>

#include "tierproof/app/session.h"
#include "tierproof/sums/heat.h"

namespace tierproof {

/// A published reference for heating that is not law, as the kitchen's plan adopts it for a recipe.
struct Adopting {
  std::string row;                        ///< id of a `heat-reference` row
  std::string recipe;                     ///< short name
  std::optional<Share> water_activity{};  ///< of the mix that is heated, as it was measured, above 0 and up to 1
  std::string measured;                   ///< by whom, when and how; goes with the water activity
  std::string why;
};
/// Books the adoption for the recipe as it stands today, with the clause of the row and a digest of what it says: where the recipe or the
/// row changes, it has to be adopted anew. It counts for batches made from then on.
/// Refused: no such row in force today, no such recipe, no reason, an activity that nobody measured or that is no activity, and a recipe
/// with more than egg and sugar in what is heated, or with a part of which that is not known, without its measured activity.
Result<Booked> adopt_reference(Session& session, const Adopting& adopting);

/// The adoption that counts for a batch made at `at` by that version of a recipe, or nothing: the last one before, unless the recipe was
/// corrected or the row changed since.
const Recorded<Adopted>* adoption_in_force(const Session& session, std::uint64_t recipe_version, Instant at, const TemperatureTerms& terms);

/// What the plan adopts for `batch`: the last adoption before it was made of the recipe as it was made by, whose row is in force in `terms`
/// and says what it said then.
struct AdoptedHere {
  AdoptedReference reference;
  std::optional<Share> water_activity;
};
std::optional<AdoptedHere> adopted_for(const Session& session, const Recorded<Batch>& batch, const TemperatureTerms& terms);

/// Whether all that was heated together of a batch is egg and sugar, straight from packs.
bool only_egg_and_sugar(const Session& session, const Batch& batch, const Recipe& recipe);

}  // namespace tierproof
