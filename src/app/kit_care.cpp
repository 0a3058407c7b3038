#include "tierproof/app/kit_care.h"

#include <fmt/format.h>

#include <algorithm>

#include "answers.h"
#include "change_effects.h"
#include "checking.h"
#include "kit.h"
#include "tierproof/app/recording.h"

namespace tierproof {
namespace {

void check_keys(Checking& checking, const Session& session, const std::string& field, const std::vector<std::string>& keys) {
  const auto known = allergen_keys_on(session, session.today()).known;
  for (const auto& key : keys) {
    const bool group = std::any_of(known.begin(), known.end(), [&](const std::string& one) { return one.starts_with(key + ":"); });
    if (!group) checking.choice(field, key, known);
  }
}

/// Words of the allergens that a recipe contains by its packs, or that nobody can rule out.
std::vector<std::string> allergens_of_recipe(const Session& session, const RecipeId& recipe, const LabelTerms& terms, Date on) {
  std::vector<std::string> words;
  for (const auto& term : terms.allergens) {
    const Presence presence = presence_in_recipe(session.state(), on, recipe, term.key);
    if (presence == Presence::contains || presence == Presence::unknown) words.push_back(term.word);
  }
  return words;
}

}  // namespace

Result<Booked> clean(Session& session, const CleaningDone& done) {
  Checking checking{session};
  checking.person();
  checking.known("kit", session.state().equipment, done.kit, "piece of kit");
  checking.choice("--how", done.grade, {"wiped", "washed, looked clean", "washed and tested", "validated"});
  if (done.grade == "washed and tested") {
    if (done.tested.empty())
      checking.refuse("--tested", "what was tested is missing: without it the test shows nothing",
                      "write it, such as \"protein swab of the bowl\"; or --how \"washed, looked clean\"");
    if (done.clears.empty())
      checking.refuse("--for", "what the test looks for is missing", "write protein, or each allergen such as nuts:almond");
    checking.choice("--found", done.found, {"nothing", "something"});
  } else if (!done.tested.empty() || !done.clears.empty() || !done.found.empty()) {
    checking.refuse("--tested", "goes with --how \"washed and tested\"", "leave it out, or say that it was tested");
  }
  checking.free_words("--tested", done.tested);
  auto keys = done.clears;
  std::erase(keys, "protein");
  check_keys(checking, session, "--for", keys);
  const auto at = checking.moment(done.at);
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, Cleaning{EquipmentId{done.kit}, done.grade, done.tested, done.clears, done.found}, done.kit, at);
}

Result<Booked> file_cleaning_validation(Session& session, const CleaningValidated& validation) {
  Checking checking{session};
  checking.person();
  const State& state = session.state();
  checking.known("kit", state.equipment, validation.equipment.text(), "piece of kit");
  const auto* recipe = checking.known("--worst", state.recipes, validation.recipe.text(), "recipe");
  checking.words("--method", validation.method);
  checking.words("--made-by", validation.by);
  checking.words("--kept", validation.kept);
  if (validation.allergens.empty()) checking.refuse("--for", "which allergen was cleaned off is missing", "name each, such as nuts:almond");
  const auto known = allergen_keys_on(session, session.today()).known;
  for (const auto& key : validation.allergens) checking.choice("--for", key, known);  // no group: its members were not all tested
  if (validation.made > session.today()) checking.refuse("--on", "is a day that has not come yet", "write the day of the report");
  if (recipe != nullptr && checking.good()) {
    for (const auto& key : validation.allergens) {
      const bool brings = presence_in_recipe(state, session.today(), validation.recipe, key) == Presence::contains;
      if (!brings)
        checking.refuse("--worst", fmt::format("{} is not known to contain {}: it is no worst case of it", validation.recipe.text(), key),
                        "name the recipe that leaves most of it on the kit");
    }
  }
  if (!checking.good()) return checking.refusals();
  CleaningValidated filed = validation;
  // The version that was tested: the newest of the day of the report, or the first that was written down.
  std::optional<std::uint64_t> first, tested;
  for (const auto& [place, version] : state.recipe_versions) {
    if (version.subject != validation.recipe.text()) continue;
    if (!first) first = place;
    if (day_of(version.happened, version.offset) <= validation.made) tested = place;
  }
  filed.recipe_version = tested.value_or(first.value_or(recipe->place));
  return book_one(session, checking, filed, validation.equipment.text(), checking.moment("now"));
}

Result<Booked> change_kit(Session& session, const std::string& kit, const std::string& what, const std::string& at) {
  Checking checking{session};
  checking.person();
  checking.known("kit", session.state().equipment, kit, "piece of kit");
  checking.words("what", what);
  const auto moment = checking.moment(at);
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, EquipmentChanged{EquipmentId{kit}, what}, kit, moment);
}

Result<std::vector<LiesOnKit>> lies_on_kit(const Session& session, const std::string& recipe, ZonedInstant at,
                                           const std::vector<std::string>& besides) {
  const State& state = session.state();
  Checking checking{session};
  const auto* known = checking.known("recipe", state.recipes, recipe, "recipe");
  const auto terms = session.label_terms(day_of(at.at, at.offset));
  if (!terms) checking.take(terms.error());
  if (!checking.good()) return checking.refusals();
  // A batch that is made now: what would it meet?
  const std::string next = "to be made";
  auto uses = kit_uses_by(session, *terms);
  const auto brought = allergens_of_recipe(session, RecipeId{recipe}, *terms, day_of(at.at, at.offset));
  auto on = known->value.kit;
  for (const auto& kit : besides) on.emplace_back(kit);
  for (const auto& kit : on) uses.push_back({kit_in_words(state, kit), at.at, next, known->value.name, brought, ""});
  std::vector<LiesOnKit> lies;
  for (auto& contact : contacts(uses, at.offset)) {
    if (contact.batch == next) lies.push_back({contact.allergen, contact.cleaned, std::move(contact.path)});
  }
  return lies;
}

Result<WorkOrder> order_of_work(const Session& session, const std::vector<std::string>& recipes) {
  constexpr std::size_t most = 9;
  const State& state = session.state();
  Checking checking{session};
  const auto terms = session.label_terms(session.today());
  if (!terms) checking.take(terms.error());
  if (recipes.size() < 2) checking.refuse("recipe", "an order needs two recipes or more", "name each that is to be made");
  if (recipes.size() > most) checking.refuse("recipe", fmt::format("more than {} recipes", most), "plan a day's work at a time");
  std::vector<PlannedOnKit> planned;
  for (const auto& id : recipes) {
    const auto* recipe = checking.known("recipe", state.recipes, id, "recipe");
    if (recipe == nullptr || !terms) continue;
    if (recipe->value.kit.empty())
      checking.refuse("recipe", fmt::format("{} names no kit: what meets on it is not known", id), "write its kit into the recipe");
    PlannedOnKit one{recipe->value.name, allergens_of_recipe(session, RecipeId{id}, *terms, session.today()), {}};
    for (const auto& kit : recipe->value.kit) one.kit.push_back(kit.text());
    planned.push_back(std::move(one));
  }
  if (!checking.good()) return checking.refusals();
  const OrderOfWork work = fewest_meetings(planned);
  WorkOrder order;
  for (const std::size_t i : work.order) order.recipes.push_back(recipes[i]);
  for (const auto& meeting : work.meetings) {
    const auto kit = state.equipment.find(EquipmentId{meeting.equipment});
    order.to_clean.push_back(fmt::format("before {}: {} from {} on {}", planned[meeting.after].name, meeting.allergen,
                                         planned[meeting.before].name,
                                         kit == state.equipment.end() ? meeting.equipment : kit->second.value.name));
  }
  const ZonedInstant now{session.now(), session.offset_at(session.now())};
  for (const auto& recipe : order.recipes) {
    const auto lies = lies_on_kit(session, recipe, now);
    if (!lies) return lies.error();
    for (const auto& one : *lies) order.lying.push_back(fmt::format("before {}: {}", recipe, one.path));
  }
  return order;
}

}  // namespace tierproof
