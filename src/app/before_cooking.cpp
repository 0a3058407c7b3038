#include "tierproof/app/before_cooking.h"

#include "checking.h"
#include "tierproof/app/planning.h"

namespace tierproof {

Result<BeforeCooking> before_cooking(const Session& session, const CookingAhead& asked) {
  Checking checking{session};
  const auto* recipe = checking.known("recipe", session.state().recipes, asked.recipe, "recipe");
  const auto terms = temperature_terms_by(session, session.today(), plan_now(session));
  if (!terms) checking.take(terms.error());
  if (!checking.good()) return checking.refusals();
  BeforeCooking told;
  told.name = recipe->value.name;
  told.note = recipe->sequence;
  told.egg = egg_beforehand(session, recipe->value, *terms);
  told.losses = losses_of(session.state(), recipe->place);
  if (!asked.tins.empty()) {
    auto scaled = scaled_recipe(recipe->value, asked.tins);
    if (!scaled) return scaled.error();
    told.scaled = std::move(*scaled);
  }
  auto lies = lies_on_kit(session, asked.recipe, {session.now(), session.offset_at(session.now())});
  if (!lies) return lies.error();
  told.kit_recorded = !recipe->value.kit.empty();
  told.on_kit = std::move(*lies);
  return told;
}

}  // namespace tierproof
