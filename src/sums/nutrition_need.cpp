#include "tierproof/sums/nutrition_need.h"

#include <fmt/format.h>

namespace tierproof {

NutritionNeed judge_nutrition_need(const NutritionAsk& ask, const NutritionExemptionTerm& term) {
  const std::string source = cite(term.cited);
  const auto needed = [&](std::string why) { return NutritionNeed{true, std::move(why), source}; };
  if (!ask.claim_made) return needed("it is not known whether a nutrition or health claim is made");
  if (*ask.claim_made) return needed("a nutrition or health claim is made, which removes the exemption for small makers");
  if (!ask.staff) return needed("it is not known how many people work here");
  if (*ask.staff >= term.staff_below)
    return needed(fmt::format("{} people work here, and the exemption is for fewer than {}", *ask.staff, term.staff_below));
  if (!ask.turnover) return needed("the turnover is not known");
  if (*ask.turnover > term.turnover_up_to) {
    return needed(fmt::format("the turnover of {0} {2} is above {1} {2}", *ask.turnover, term.turnover_up_to, term.currency));
  }
  if (!ask.all_direct_or_local) return needed("it is not known whether everything goes to consumers or local shops");
  if (!*ask.all_direct_or_local) return needed(fmt::format("some goes to shops that are not local ({})", term.local));
  return {false,
          fmt::format("fewer than {} people, turnover up to {} {}, sold to consumers or to local shops ({}), no claim made",
                      term.staff_below, term.turnover_up_to, term.currency, term.local),
          source};
}

}  // namespace tierproof
