#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/kitchen/entities.h"
#include "tierproof/units/result.h"
#include "tierproof/units/share.h"

namespace tierproof {

/// `round:8:3`, `2xround:20cm:7.5cm`: how many (else one), shape, size and depth, in inches or with `cm`; a size is a whole number of
/// tenths of a millimetre, so half inches are. Nothing where it cannot be read.
std::optional<RecipeTin> read_tin(std::string_view text);
/// The tin as `read_tin` reads it back, in centimetres: `1xround:20.32cm:7.62cm`.
std::string tin_as_typed(const RecipeTin& tin);
/// `2 round, 8 in across, 3 in deep`; in centimetres where they are no halves of an inch.
std::string tin_in_words(const RecipeTin& tin);

/// A recipe for other tins.
struct ScaledRecipe {
  Share factor;       ///< by volume: what every ingredient is taken times
  Share area_factor;  ///< what is spread or cut is
  std::vector<std::pair<std::string, Mass>> items;
  Mass yield;
  std::optional<std::int64_t> portions;  ///< of the recipe's own, by area, rounded down
  std::vector<std::string> told;         ///< what has to be known besides, in words
};
/// Refused: a recipe that says no tin, no tins to fill, or more than a thousand times it.
Result<ScaledRecipe> scaled_recipe(const Recipe& recipe, const std::vector<RecipeTin>& tins);

/// What is to be turned from a volume into a mass.
struct MeasureAsked {
  std::string ingredient;
  std::string supplier;  ///< whose pack; empty: the one that has a density on file
  Share count = 1;
  std::string measure;             ///< name of one of `kitchen_measures`
  std::optional<Share> density{};  ///< kg a litre, typed; nothing: as the specification says
  std::string density_by{};        ///< who says so
};
struct MeasuredFood {
  Mass mass;
  std::string by;  ///< which density, and who says so
};
/// By the ingredient's own density alone, of which a person says where it is from. Refused: no density, or packs that give several.
Result<MeasuredFood> measured_food(const Session& session, const MeasureAsked& asked);

/// `mass` times `factor`, to the nearest milligram.
Mass times(Mass mass, const Share& factor);

}  // namespace tierproof
