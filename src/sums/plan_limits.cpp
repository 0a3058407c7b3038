#include "tierproof/sums/plan_limits.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "series.h"

namespace tierproof {
namespace {

/// The rows of `chill` that decide: the law's, or advice where it gives none. The strictest of them, or nothing.
const ChillTerm* strictest_chill(const TemperatureTerms& terms) {
  const bool law = std::any_of(terms.chill.begin(), terms.chill.end(), [](const ChillTerm& term) { return !term.advice; });
  const ChillTerm* strictest = nullptr;
  for (const auto& term : terms.chill) {
    if (term.advice == law) continue;
    if (strictest == nullptr || term.limit < strictest->limit) strictest = &term;
  }
  return strictest;
}

std::string in_rules_words(const ChillTerm& term) { return term.words.empty() ? series::in_celsius(term.limit) : term.words; }

/// The times out of the fridge that the rules give, each with the row it is of.
std::vector<std::pair<Span, Cited>> times_out_of(const TemperatureTerms& terms) {
  std::vector<std::pair<Span, Cited>> all;
  for (const auto& row : terms.allowances) all.emplace_back(row.less_than, row.cited);
  if (terms.warm_total) all.emplace_back(terms.warm_total->discard_from, terms.warm_total->cited);
  for (const auto& row : terms.time_controls) all.emplace_back(row.within, row.cited);
  return all;
}

/// Puts the plan's time in the place of a longer one of the rules, and says so where it is cited.
void shorten(Span& time, Cited& cited, Span by_plan, const std::string& version) {
  if (time <= by_plan) return;
  cited.clause += fmt::format("; {} by the kitchen's own {}, where the rules have {}", format_span(by_plan), version, format_span(time));
  time = by_plan;
}

}  // namespace

void tighten(TemperatureTerms& terms, const PlanNumbers& own) {
  if (const ChillTerm* chill = strictest_chill(terms); own.chilled && chill != nullptr && *own.chilled < chill->limit) {
    ChillTerm stricter;
    stricter.limit = *own.chilled;
    stricter.measured_in = "food";
    stricter.advice = chill->advice;
    stricter.words = fmt::format("{} (the plan's own limit; the rules have {})", own.chilled_words, in_rules_words(*chill));
    stricter.cited = {"cold-hold",
                      fmt::format("the kitchen's own {}, stricter than {}: {}", own.version, chill->cited.row, chill->cited.clause)};
    terms.chill.push_back(std::move(stricter));
    std::stable_sort(terms.chill.begin(), terms.chill.end(), [](const ChillTerm& a, const ChillTerm& b) { return !a.advice && b.advice; });
  }
  if (own.out) {
    for (auto& row : terms.allowances) shorten(row.less_than, row.cited, *own.out, own.version);
    for (auto& row : terms.time_controls) shorten(row.within, row.cited, *own.out, own.version);
    if (terms.warm_total) {
      terms.warm_total->back_before = std::min(terms.warm_total->back_before, *own.out);
      shorten(terms.warm_total->discard_from, terms.warm_total->cited, *own.out, own.version);
    }
  }
  if (own.cold_days && (!terms.cold_days || terms.cold_days->days > *own.cold_days)) {
    std::string clause = fmt::format("the kitchen's own {}", own.version);
    if (terms.cold_days)
      clause += fmt::format(", stricter than {} days of {}: {}", terms.cold_days->days, terms.cold_days->cited.row,
                            terms.cold_days->cited.clause);
    terms.cold_days = ColdDays{{"use-by", std::move(clause)}, static_cast<int>(*own.cold_days)};
  }
}

std::vector<NotStricter> not_stricter(const TemperatureTerms& terms, const PlanNumbers& own) {
  using enum NotStricter::Number;
  std::vector<NotStricter> found;
  if (own.chilled) {
    const ChillTerm* chill_term = strictest_chill(terms);
    if (chill_term == nullptr) {
      found.push_back({chilled, "", {}});
    } else if (*own.chilled > chill_term->limit) {
      found.push_back({chilled, in_rules_words(*chill_term), chill_term->cited});
    }
  }
  if (own.out) {
    const auto times = times_out_of(terms);
    const auto longest = std::max_element(times.begin(), times.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    if (longest == times.end()) {
      found.push_back({out, "", {}});
    } else if (*own.out > longest->first) {
      found.push_back({out, format_span(longest->first), longest->second});
    }
  }
  if (own.cold_days && terms.cold_days && *own.cold_days > terms.cold_days->days)
    found.push_back({cold_days, fmt::format("{} days", terms.cold_days->days), terms.cold_days->cited});
  return found;
}

}  // namespace tierproof
