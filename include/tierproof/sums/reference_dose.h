#pragma once

#include <optional>
#include <span>
#include <string>

#include "tierproof/sums/label_terms.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// An amount that may have got in unintended, after controls.
struct UnintendedAmount {
  std::string allergen;      ///< key
  std::string word;          ///< `ground hazelnuts`
  Share mg;                  ///< of the ingredient, in the whole cake
  Share protein;             ///< its share of protein, 0..1
  bool particulate = false;  ///< pieces, which are not spread evenly
};

struct Precaution {
  bool indicated = true;
  std::optional<Share> action_level_mg_per_kg;  ///< protein; nothing where no dose is set
  Share protein_mg;
  Share mg_per_kg;      ///< protein in the finished cake
  std::string message;  ///< one sentence with the sum; ends `advice, not law`
  std::string source;
};

/// Whether a precautionary statement is indicated: when the estimate is at or above reference dose / reference amount.
///
/// Pieces are not spread evenly and count as above; so does an allergen without a dose. The sum is expert advice, not law: it
/// may not suppress a warning without a named person's decision, and never supports a claim.
/// @param portion  the largest likely slice
/// @source FAO/WHO reference doses (2022, 2023); the edge "at or above" is from memory
/// @return refused: a mass that is not positive, a protein share outside 0..1, an amount below zero, a dose that is not positive
Result<Precaution> judge_precaution(const UnintendedAmount& amount, Mass cake, Mass portion, std::span<const ReferenceDoseTerm> doses);

}  // namespace tierproof
