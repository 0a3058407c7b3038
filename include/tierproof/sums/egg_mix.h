#pragma once

#include <optional>
#include <set>
#include <span>

#include "tierproof/sums/composition.h"

namespace tierproof {

/// One thing in a mix that is heated: a pack, or part of another batch.
struct MixPart {
  Mass mass;
  Share sugar = 0;  ///< share of it that is sugar, 0..1
};

/// Sugar's share of a mix by mass, exact; nothing for an empty mix.
std::optional<Share> sugar_of_mix(std::span<const MixPart> parts);

/// Sugar's share of a finished batch: the ingoing masses of the packs of `sugars`, at any depth, over what it weighs. Sugar does not
/// boil away, so a syrup counts with all that went into it. Nothing when its composition cannot be worked out.
std::optional<Share> sugar_of_batch(const CakeParts& batch_alone, const std::set<IngredientId>& sugars);

}  // namespace tierproof
