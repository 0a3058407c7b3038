#include "tierproof/sums/reference_dose.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {

Result<Precaution> judge_precaution(const UnintendedAmount& amount, Mass cake, Mass portion, std::span<const ReferenceDoseTerm> doses) {
  Refusals refusals;
  const auto refuse = [&](std::string field, std::string message, std::string remedy) {
    refusals.push_back(Refusal{"", 0, std::move(field), std::move(message), std::move(remedy)});
  };
  const auto dose =
      std::find_if(doses.begin(), doses.end(), [&](const ReferenceDoseTerm& term) { return term.allergen == amount.allergen; });
  if (cake <= Mass{}) refuse("cake", "the cake has no mass", "weigh it");
  if (portion <= Mass{}) refuse("portion", "the slice has no mass", "give the largest likely slice");
  if (portion > cake) refuse("portion", "the slice weighs more than the cake", "give the largest likely slice");
  if (amount.mg < 0) refuse("amount", "the amount is below zero", "estimate what may have got in");
  if (amount.protein < 0 || amount.protein > 1)
    refuse("protein", "the share of protein is not between none and all", "give it as a share of the ingredient");
  if (dose != doses.end() && dose->mg_protein && *dose->mg_protein <= 0)
    refuse("dose", "the reference dose is not above zero", "mend the table");
  if (!refusals.empty()) return refusals;

  constexpr std::int64_t mg_per_kg = 1'000'000;
  Precaution found;
  found.protein_mg = amount.mg * amount.protein;
  found.mg_per_kg = found.protein_mg * mg_per_kg / cake.to_milligrams();
  const std::string estimate = fmt::format("{} mg of {} bring {} mg of protein, {} mg/kg", format_decimal(amount.mg, 0), amount.word,
                                           format_decimal(found.protein_mg, 1), format_decimal(found.mg_per_kg, 2));
  if (dose == doses.end() || !dose->mg_protein) {
    found.message = fmt::format("{}; no reference dose is set for it, so a precaution is indicated: advice, not law", estimate);
    if (dose != doses.end()) found.source = cite(dose->cited);
    return found;
  }
  found.action_level_mg_per_kg = *dose->mg_protein * mg_per_kg / portion.to_milligrams();
  const bool above = found.mg_per_kg >= *found.action_level_mg_per_kg;
  found.indicated = above || (amount.particulate && amount.mg > 0);
  const std::string level = format_decimal(*found.action_level_mg_per_kg, 2);
  if (above) {
    found.message =
        fmt::format("{}, at or above the action level of {} mg/kg: a precaution is indicated; advice, not law", estimate, level);
  } else if (found.indicated) {
    found.message =
        fmt::format("{}, below the action level of {} mg/kg, but pieces are not spread evenly: a precaution is indicated; advice, not law",
                    estimate, level);
  } else {
    found.message = fmt::format("{}, below the action level of {} mg/kg; it proves nothing absent: advice, not law", estimate, level);
  }
  found.source = cite(dose->cited);
  return found;
}

}  // namespace tierproof
