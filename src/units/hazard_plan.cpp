#include "tierproof/units/hazard_plan.h"

#include <algorithm>

namespace tierproof {

const PlanRow* HazardPlan::row(std::string_view id) const {
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const PlanRow& one) { return one.id == id; });
  return found == rows.end() ? nullptr : &*found;
}

std::string HazardPlan::source_of(const PlanRow& row) const {
  const auto found = std::find_if(sources.begin(), sources.end(), [&](const PlanSource& one) { return one.key == row.source; });
  return found == sources.end() ? row.clause : found->title + ", " + row.clause;
}

const std::vector<std::string>& plan_sorts() {
  static const std::vector<std::string> all{"biological", "chemical", "allergen", "physical", "information"};
  return all;
}

const std::vector<std::string>& plan_likelihoods() {
  static const std::vector<std::string> all{"seldom", "now and then", "often"};
  return all;
}

const std::vector<std::string>& plan_severities() {
  static const std::vector<std::string> all{"slight", "serious", "can kill"};
  return all;
}

const std::vector<std::string>& plan_points() {
  static const std::vector<std::string> all{"ccp", "ghp_more_attention", "ghp"};
  return all;
}

const std::vector<std::string>& plan_policies() {
  static const std::vector<std::string> all{"never", "with a reason"};
  return all;
}

const std::vector<std::string>& plan_limit_names() {
  static const std::vector<std::string> all{std::string{limit_chilled},  std::string{limit_out},       std::string{limit_cold_days},
                                            std::string{limit_egg_heat}, std::string{limit_core_heat}, std::string{limit_cooled},
                                            std::string{limit_reheated}};
  return all;
}

const std::vector<std::string>& recipe_traits() {
  static const std::vector<std::string> all{"every recipe",
                                            "raw egg",
                                            "egg heated here",
                                            "egg baked through",
                                            "pasteurised egg",
                                            "heated through",
                                            "boiled syrup",
                                            "cooked and kept cold",
                                            "kept cold",
                                            "kept frozen",
                                            "kept at room temperature",
                                            "allergens on shared kit",
                                            "decoration"};
  return all;
}

std::string_view words_of_point(std::string_view point) {
  if (point == "ccp") return "critical control point";
  if (point == "ghp_more_attention") return "good practice that needs more attention";
  return "good practice";
}

std::string_view control_of_limit(std::string_view what) {
  if (what == limit_chilled || what == limit_out) return "cold-hold";
  if (what == limit_egg_heat) return "egg-heat";
  if (what == limit_core_heat) return "core-heat";
  if (what == limit_cooled) return "cooling";
  if (what == limit_reheated) return "reheating";
  return what == limit_cold_days ? "use-by" : "";
}

}  // namespace tierproof
