#pragma once

#include <algorithm>
#include <string>
#include <utility>

#include "app/app_for_tests.h"
#include "tierproof/app/plan_standing.h"
#include "tierproof/rules/plan_file.h"

namespace tierproof {

inline HazardPlan starting() { return rule_packs()->starting_plan(); }
inline PlanRow& row_in(HazardPlan& plan, const std::string& id) {
  return *std::find_if(plan.rows.begin(), plan.rows.end(), [&](const PlanRow& row) { return row.id == id; });
}
inline GivenDocument plan_document(const HazardPlan& plan) { return {"plan.json", write_plan_document(plan)}; }
inline PlanTaken take(TestKitchen& kitchen, const HazardPlan& plan) {
  Session session = kitchen.open();
  auto taken = take_plan(session, plan_document(plan));
  if (!taken) {
    for (const auto& refusal : taken.error()) ADD_FAILURE() << describe(refusal);
    return {};
  }
  return std::move(taken).value();
}
inline std::string take_refused(TestKitchen& kitchen, const HazardPlan& plan) {
  return kitchen.refused([&](Session& s) { return take_plan(s, plan_document(plan)); });
}

}  // namespace tierproof
