#pragma once

#include <string>
#include <vector>

#include "tierproof/units/finding.h"

namespace tierproof {

/// What a customer answered to the allergy question, beside what the cake holds.
struct AllergyQuestion {
  std::string cake;
  std::string answer;                    ///< `none`, `named`, `not asked`; empty: nothing is recorded
  bool erased = false;                   ///< allergens were named and have been erased since
  std::vector<std::string> named;        ///< keys
  std::vector<std::string> accepted;     ///< keys whose traces the customer accepted in writing
  std::vector<std::string> contains;     ///< keys that the cake contains, below a threshold of the law too
  std::vector<std::string> may_contain;  ///< keys that a supplier or shared kit may bring
  std::vector<std::string> unknown;      ///< keys that nobody can rule out
};

/// Judges the answer (control `allergy-answer`): one finding for each allergen named, or one for the whole answer.
///
/// A named allergen that the cake contains, or that nobody can rule out, has no override. Traces (`may contain`) have none
/// either unless the customer accepted them in writing. A question that was not asked is *not shown*.
/// @param word  the word for a key, `nuts:almond` → `almonds`
std::vector<Finding> judge_allergy(const AllergyQuestion& question, const std::vector<std::pair<std::string, std::string>>& words);

}  // namespace tierproof
