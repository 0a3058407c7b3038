#include "tierproof/sums/nutrition_need.h"

#include <fmt/format.h>

#include <vector>

namespace tierproof {
namespace {

/// Why a bound that the exemption asks about does not hold; empty when it does or is not asked (0).
std::string why_not(const std::optional<std::int64_t>& value, std::int64_t bound, bool inclusive, const char* unknown,
                    const std::string& what) {
  if (bound == 0) return {};
  if (!value) return unknown;
  if (*value < bound || (inclusive && *value == bound)) return {};
  return fmt::format("{} {}, and the exemption is for {} {}", *value, what, inclusive ? "up to" : "fewer than", bound);
}

}  // namespace

NutritionNeed judge_nutrition_need(const NutritionAsk& ask, const NutritionExemptionTerm& term) {
  const std::string source = cite(term.cited);
  const auto needed = [&](std::string why) { return NutritionNeed{true, std::move(why), source}; };
  if (!ask.claim_made) return needed("it is not known whether a nutrition or health claim is made");
  if (*ask.claim_made) return needed("a nutrition or health claim is made, which removes the exemption");
  const std::vector<std::string> bounds = {
      why_not(ask.staff, term.staff_below, false, "it is not known how many people work here", "people work here"),
      why_not(ask.turnover, term.turnover_up_to, true, "the turnover is not known",
              fmt::format("{} a year are turned over", term.currency)),
      why_not(ask.units_a_year, term.units_a_year_below, false, "it is not known how many are sold in a year", "are sold in a year"),
      why_not(ask.units_a_week, term.units_a_week_up_to, true, "it is not known how many are sold in a week", "are sold in a week"),
  };
  for (const std::string& why : bounds) {
    if (!why.empty()) return needed(why);
  }
  if (term.direct_or_local) {
    if (!ask.all_direct_or_local) return needed("it is not known whether everything goes to consumers or local shops");
    if (!*ask.all_direct_or_local)
      return needed(term.local.empty() ? std::string{"some goes to others than consumers and local shops"}
                                       : fmt::format("some goes to shops that are not local ({})", term.local));
  }
  if (!term.cited.firm()) return needed("the exemption is known from memory only: confirm it with the food authority");
  std::string why;
  const auto holds = [&](const std::string& words) { why += (why.empty() ? "" : ", ") + words; };
  if (term.staff_below > 0) holds(fmt::format("fewer than {} people", term.staff_below));
  if (term.turnover_up_to > 0) holds(fmt::format("turnover up to {} {}", term.turnover_up_to, term.currency));
  if (term.units_a_year_below > 0) holds(fmt::format("fewer than {} sold in a year", term.units_a_year_below));
  if (term.units_a_week_up_to > 0) holds(fmt::format("up to {} sold in a week", term.units_a_week_up_to));
  if (term.direct_or_local)
    holds(term.local.empty() ? "sold to consumers or to local shops" : fmt::format("sold to consumers or to local shops ({})", term.local));
  holds("no claim made");
  return {false, why, source};
}

NutritionNeed judge_nutrition_need(const NutritionAsk& ask, std::span<const NutritionExemptionTerm> terms) {
  NutritionNeed all{true, "", ""};
  for (const NutritionExemptionTerm& term : terms) {
    NutritionNeed one = judge_nutrition_need(ask, term);
    if (!one.needed) return one;
    if (all.why.find(one.why) == std::string::npos) all.why += (all.why.empty() ? "" : "; ") + one.why;
    all.source += (all.source.empty() ? "" : " ") + one.source;
  }
  if (terms.empty()) all.why = "these rules spare nobody the nutrition table";
  return all;
}

}  // namespace tierproof
