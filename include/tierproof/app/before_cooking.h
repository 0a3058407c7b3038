#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/kit_care.h"
#include "tierproof/app/scaling.h"
#include "tierproof/app/session.h"
#include "tierproof/app/weighings.h"
#include "tierproof/sums/meringue.h"
#include "tierproof/sums/temperature_terms.h"

namespace tierproof {

/// What is known of raw egg in a recipe or batch before, or without, a reading in the mix. It may warn and never shows anything.
struct EggBeforehand {
  std::vector<std::string> lines;    ///< in words, the first advice first; empty: no raw egg in it that is not baked through
  std::optional<MeringueHeat> heat;  ///< the balance of boiled syrup and egg white, where it could be made
  std::string verdict;               ///< of the balance, as `reach_in_words`; empty: no boiled syrup meets raw egg in it
};

/// Of a recipe as it stands: the energy balance by its own masses, where boiled syrup is poured on raw egg; else what the sugar of the mix
/// means for its heat step.
EggBeforehand egg_beforehand(const Session& session, const Recipe& recipe, const TemperatureTerms& terms);
/// Of a batch by what really went into it, at the hottest that its syrup may have been by its readings.
EggBeforehand egg_beforehand(const Session& session, const Recorded<Batch>& batch, const Recipe& recipe, const TemperatureTerms& terms);

/// What is asked of a recipe before anybody cooks.
struct CookingAhead {
  std::string recipe;
  std::vector<RecipeTin> tins;  ///< to fill instead of its own; empty: it is not scaled
};
/// What the records can tell of it.
struct BeforeCooking {
  std::string name;
  std::uint64_t note = 0;
  EggBeforehand egg;
  std::optional<LossSpread> losses;  ///< of the weighed batches of this version of it; nothing: none was weighed
  std::optional<ScaledRecipe> scaled;
  bool kit_recorded = false;      ///< the recipe names its kit
  std::vector<LiesOnKit> on_kit;  ///< now
};
/// Reads and records nothing. Refused: no such recipe, tins that it cannot be scaled to, no temperature rules in force.
Result<BeforeCooking> before_cooking(const Session& session, const CookingAhead& asked);

}  // namespace tierproof
