#include "tierproof/sums/egg_mix.h"

namespace tierproof {

std::optional<Share> sugar_of_mix(std::span<const MixPart> parts) {
  Share sugar = 0;
  Share mix = 0;
  for (const auto& part : parts) {
    mix += part.mass.to_milligrams();
    sugar += part.sugar * part.mass.to_milligrams();
  }
  if (mix == 0) return std::nullopt;
  return Share{sugar / mix};
}

std::optional<Share> sugar_of_batch(const CakeParts& batch_alone, const std::set<IngredientId>& sugars) {
  const auto made = compose(batch_alone, {});
  if (!made || made->finished_mg <= 0) return std::nullopt;
  Share sugar = 0;
  for (const auto& amount : made->lots) {
    if (sugars.contains(batch_alone.lots[amount.lot].ingredient.id)) sugar += amount.ingoing_mg;
  }
  return Share{sugar / made->finished_mg};
}

}  // namespace tierproof
