#include "tierproof/sums/plan_limits.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "series.h"
#include "tierproof/sums/cooling_step.h"
#include "tierproof/sums/reheating.h"

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

std::string in_rules_words(const HeatRow& row) {
  return (row.words.empty() ? series::in_celsius(row.at) : row.words) +
         (row.hold > Span{} ? " for " + format_span(row.hold) : std::string{" reached"});
}

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

std::string own_words(const std::string& rules) { return fmt::format("the plan's own limit; the rules have {}", rules); }

/// Says in `cited` what the plan made of it.
void cite_own(Cited& cited, const std::string& now, const std::string& version, const std::string& rules) {
  cited.clause += fmt::format("; {} by the kitchen's own {}, where the rules have {}", now, version, rules);
}

/// Raises the rows that the plan names, and takes away what else would vouch for their foods.
void tighten_heat(TemperatureTerms& terms, const PlanNumbers& own) {
  std::set<std::string> foods, named;
  for (const auto& limit : own.heat) {
    for (auto& row : terms.heat_rows) {
      if (row.cited.row != limit.row) continue;
      foods.insert(row.food);
      const std::string rules = in_rules_words(row);
      const bool stricter = limit.at > row.at || limit.hold > row.hold;
      if (limit.at > row.at) {
        row.at = limit.at;
        row.words = limit.words;
      }
      row.hold = std::max(row.hold, limit.hold);
      if (stricter) {
        row.own = own_words(rules);
        cite_own(row.cited, in_rules_words(row), own.version, rules);
      } else if (named.count(limit.row) == 0) {
        row.cited.clause += fmt::format("; the kitchen's own {} goes by this row of the table", own.version);
      }
      named.insert(limit.row);
    }
  }
  std::erase_if(terms.heat_rows, [&](const HeatRow& row) { return foods.contains(row.food) && !named.contains(row.cited.row); });
  std::erase_if(terms.equivalences, [&](const HeatEquivalence& row) { return foods.contains(row.food); });
}

Span whole_of(const CoolingTerm& rule) { return rule.total ? *rule.total : rule.whole.value_or(*rule.first + *rule.second); }

void tighten_cooling(CoolingTerm& rule, const PlanNumbers& own) {
  const std::string rules = in_words(rule);
  bool stricter = false;
  if (own.cooled_to && *own.cooled_to < rule.to) {
    rule.to = *own.cooled_to;
    rule.to_words = own.cooled_to_words;
    stricter = true;
  }
  if (own.cooled_within && *own.cooled_within < whole_of(rule)) {
    (rule.total ? rule.total : rule.whole) = *own.cooled_within;
    if (rule.first) rule.first = std::min(*rule.first, *own.cooled_within);
    if (rule.second) rule.second = std::min(*rule.second, *own.cooled_within);
    stricter = true;
  }
  if (!stricter) return;
  cite_own(rule.cited, in_words(rule), own.version, rules);
  rule.own = own_words(rules);
}

void tighten_reheating(ReheatTerm& rule, const OwnHeat& own, const std::string& version) {
  if (own.at <= rule.at && own.hold <= rule.hold) return;
  const std::string rules = in_words(rule);
  if (own.at > rule.at) {
    rule.at = own.at;
    rule.words = own.words;
  }
  rule.hold = std::max(rule.hold, own.hold);
  cite_own(rule.cited, in_words(rule), version, rules);
  rule.own = own_words(rules);
}

/// Every heat limit of the plan that no row of the rules stands beside, or whose row is stricter in one of its two numbers.
void find_laxer_heat(const TemperatureTerms& terms, const PlanNumbers& own, std::vector<NotStricter>& found) {
  for (const auto& limit : own.heat) {
    const auto row =
        std::find_if(terms.heat_rows.begin(), terms.heat_rows.end(), [&](const HeatRow& one) { return one.cited.row == limit.row; });
    NotStricter lax{NotStricter::Number::heat, "", {}, limit.what, limit.row, {}};
    if (row == terms.heat_rows.end()) {
      for (const auto& one : terms.heat_rows) lax.heat_rows.push_back(one.cited.row);
    } else if (limit.at < row->at || limit.hold < row->hold) {
      lax.rules = in_rules_words(*row);
      lax.cited = row->cited;
    } else {
      continue;
    }
    found.push_back(std::move(lax));
  }
}

void find_laxer_cooling(const TemperatureTerms& terms, const PlanNumbers& own, std::vector<NotStricter>& found) {
  if (!own.cooled_within && !own.cooled_to) return;
  if (!terms.cooling) {
    found.push_back({NotStricter::Number::cooled, "", {}});
    return;
  }
  const CoolingTerm& rule = *terms.cooling;
  if ((own.cooled_within && *own.cooled_within > whole_of(rule)) || (own.cooled_to && *own.cooled_to > rule.to))
    found.push_back({NotStricter::Number::cooled, in_words(rule), rule.cited});
}

void find_laxer_reheating(const TemperatureTerms& terms, const PlanNumbers& own, std::vector<NotStricter>& found) {
  if (!own.reheated) return;
  if (!terms.reheat) {
    found.push_back({NotStricter::Number::reheated, "", {}});
  } else if (own.reheated->at < terms.reheat->at || own.reheated->hold < terms.reheat->hold) {
    found.push_back({NotStricter::Number::reheated, in_words(*terms.reheat), terms.reheat->cited});
  }
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
  tighten_heat(terms, own);
  if (terms.cooling) tighten_cooling(*terms.cooling, own);
  if (terms.reheat && own.reheated) tighten_reheating(*terms.reheat, *own.reheated, own.version);
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
  find_laxer_heat(terms, own, found);
  find_laxer_cooling(terms, own, found);
  find_laxer_reheating(terms, own, found);
  return found;
}

}  // namespace tierproof
