#pragma once

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "tierproof/sums/composition.h"

namespace tierproof {

/// Visits every part of a sub-list at any depth, a compound before what is in it, with its share of the whole ingredient: nothing when a
/// share on the way is not given.
template <typename Visit>
void each_part(const std::vector<DeclaredPart>& parts, const Visit& visit, const std::optional<Share>& of_whole = Share{1}) {
  for (const DeclaredPart& part : parts) {
    const std::optional<Share> share = of_whole && part.share ? std::optional<Share>{*of_whole * *part.share} : std::nullopt;
    visit(part, share);
    each_part(part.parts, visit, share);
  }
}

inline constexpr std::int64_t mg_in_a_kg = 1'000'000;

/// How much of a part is in the whole ingredient, mg/kg: what the supplier says, else by its share; nothing when neither is known.
inline std::optional<Share> mg_per_kg_of(const DeclaredPart& part, const std::optional<Share>& of_whole) {
  if (part.mg_per_kg) return part.mg_per_kg;
  return of_whole ? std::optional<Share>{*of_whole * mg_in_a_kg} : std::nullopt;
}

}  // namespace tierproof
