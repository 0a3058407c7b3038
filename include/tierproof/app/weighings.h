#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/sums/yields.h"

namespace tierproof {

/// The share of water that a pack says it holds; of plain water all of it; nothing where it is not known.
std::optional<double> water_of_pack(const State& state, const LotId& lot);
/// What came out of a batch, with what stayed behind in the bowl: how much of it there was to share out.
Mass came_out(const Batch& batch);

/// What is known of the dry matter of what went into a batch, by what the packs say of their water.
struct DryMatter {
  double dry_mg = 0;                   ///< of the parts whose water is known: at least so much is in it
  std::vector<std::string> not_known;  ///< the others, in words; empty: it is all of it
};
/// Parts that were made before bring what is known of theirs, by mass.
DryMatter dry_matter_of(const State& state, const std::vector<BatchUse>& uses);

/// What is wrong with what `batch` is said to have weighed; nothing where it can be: a finished mass, and what stayed behind, that is more
/// than went in, or less than the dry matter that went in, which cannot go away.
std::optional<Refusal> impossible_weighing(const State& state, const Batch& batch);

/// What the weighings of one version of a recipe say of its loss, but for the batch `but`; nothing where none of them was weighed. What
/// stayed behind in the bowl counts as not lost.
/// @param version  place of the recipe's note
std::optional<LossSpread> losses_of(const State& state, std::uint64_t version, const BatchId& but = {});

/// What a weighed batch lost, how much water it then holds where that is known, and how that stands to the earlier weighings of its
/// recipe, in words. Empty: not weighed, or nothing to tell: nothing is known of its water, and it lies within what was weighed before.
std::vector<std::string> weighing_in_words(const State& state, const BatchId& batch);

}  // namespace tierproof
