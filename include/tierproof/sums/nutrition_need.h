#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>

#include "tierproof/sums/label_terms.h"

namespace tierproof {

/// What is known of the maker and the sale. Nothing: not known, which never exempts.
struct NutritionAsk {
  std::optional<std::int64_t> staff;
  std::optional<std::int64_t> turnover;      ///< a year, whole units of the term's currency (converted by the caller)
  std::optional<bool> all_direct_or_local;   ///< everything goes to consumers, or to shops that are local by the term's words
  std::optional<bool> claim_made;            ///< a nutrition or health claim stands on the food or its advertising
  std::optional<std::int64_t> units_a_year;  ///< of this food
  std::optional<std::int64_t> units_a_week;
};

struct NutritionNeed {
  bool needed = true;
  std::string why;  ///< one sentence; for a table that is needed, why each exemption does not hold
  std::string source;
};

/// Whether one exemption spares the maker the nutrition table. A claim removes it whatever the size. Anything that it asks and that
/// is not known makes the table needed; so does an exemption from memory that nobody confirmed.
/// @source Reg (EU) 1169/2011 Annex V 19; Reg 1924/2006 art. 7 (from memory); 21 CFR 101.9(j); local reading as the term cites it
NutritionNeed judge_nutrition_need(const NutritionAsk& ask, const NutritionExemptionTerm& term);
/// Whether any of them does; without a row the table is needed.
NutritionNeed judge_nutrition_need(const NutritionAsk& ask, std::span<const NutritionExemptionTerm> terms);

}  // namespace tierproof
