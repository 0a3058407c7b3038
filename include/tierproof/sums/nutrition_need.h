#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "tierproof/sums/terms.h"

namespace tierproof {

/// What is known of the maker and the sale. Nothing: not known, which never exempts.
struct NutritionAsk {
  std::optional<std::int64_t> staff;
  std::optional<std::int64_t> turnover;     ///< a year, whole units of the term's currency (converted by the caller)
  std::optional<bool> all_direct_or_local;  ///< everything goes to consumers, or to shops that are local by the term's words
  std::optional<bool> claim_made;           ///< a nutrition or health claim stands on the food or its advertising
};

struct NutritionNeed {
  bool needed = true;
  std::string why;  ///< one sentence
  std::string source;
};

/// A claim removes the exemption whatever the size. Anything not known makes the table needed.
/// @source Reg (EU) 1169/2011 Annex V 19; Reg 1924/2006 art. 7 (from memory); local reading as the term cites it
NutritionNeed judge_nutrition_need(const NutritionAsk& ask, const NutritionExemptionTerm& term);

}  // namespace tierproof
