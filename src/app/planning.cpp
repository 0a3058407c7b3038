#include "tierproof/app/planning.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <tuple>

#include "change_effects.h"
#include "checking.h"
#include "cooling.h"
#include "later_entries.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/plan_standing.h"
#include "tierproof/rules/plan_file.h"
#include "tierproof/sums/date_mark.h"
#include "tierproof/sums/plan_limits.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

PlanVersion version_of(const Recorded<HazardPlan>& plan) {
  return {plan.sequence, fmt::format("plan of {}, note {}", format_date_long(day_of(plan.happened, plan.offset)), plan.sequence)};
}

const PlanLimit* limit_in(const HazardPlan& plan, std::string_view what, std::string_view heat_row = {}) {
  const PlanRow* row = plan.row(control_of_limit(what));
  if (row == nullptr) return nullptr;
  const auto found = std::find_if(row->limits.begin(), row->limits.end(),
                                  [&](const PlanLimit& limit) { return limit.what == what && limit.heat_row == heat_row; });
  return found == row->limits.end() ? nullptr : &*found;
}

OwnHeat own_heat(const PlanLimit& limit) {
  return {limit.what, limit.heat_row, limit.degrees->temperature(), format_degrees(*limit.degrees),
          std::chrono::seconds{limit.seconds.value_or(0)}};
}

/// What the sums take of `plan`.
PlanNumbers numbers_of(const HazardPlan& plan, const std::string& version) {
  PlanNumbers own;
  own.version = version;
  if (const auto* limit = limit_in(plan, limit_chilled)) {
    own.chilled = limit->degrees->temperature();
    own.chilled_words = format_degrees(*limit->degrees);
  }
  if (const auto* limit = limit_in(plan, limit_out)) own.out = std::chrono::minutes{*limit->minutes};
  if (const auto* limit = limit_in(plan, limit_cold_days)) own.cold_days = limit->days;
  for (const auto what : {limit_egg_heat, limit_core_heat}) {
    const PlanRow* row = plan.row(control_of_limit(what));
    if (row == nullptr) continue;
    for (const auto& limit : row->limits) {
      if (limit.what == what) own.heat.push_back(own_heat(limit));
    }
  }
  if (const auto* limit = limit_in(plan, limit_cooled)) {
    if (limit->minutes) own.cooled_within = std::chrono::minutes{*limit->minutes};
    if (limit->degrees) {
      own.cooled_to = limit->degrees->temperature();
      own.cooled_to_words = format_degrees(*limit->degrees);
    }
  }
  if (const auto* limit = limit_in(plan, limit_reheated)) own.reheated = own_heat(*limit);
  return own;
}

/// Name of the limit that is not stricter.
std::string_view limit_of(const NotStricter& found) {
  switch (found.number) {
    case NotStricter::Number::chilled:
      return limit_chilled;
    case NotStricter::Number::out:
      return limit_out;
    case NotStricter::Number::cold_days:
      return limit_cold_days;
    case NotStricter::Number::heat:
      return found.what;
    case NotStricter::Number::cooled:
      return limit_cooled;
    case NotStricter::Number::reheated:
      return limit_reheated;
  }
  return {};
}

/// The members of a row, or of the plan itself, by their names in a document.
std::vector<std::string> members_changed(const PlanRow& before, const PlanRow& after) {
  std::vector<std::string> changed;
  const auto look = [&](const char* name, const auto& was, const auto& is) {
    if (!(was == is)) changed.emplace_back(name);
  };
  look("order", before.order, after.order);
  look("words", before.words, after.words);
  look("step", before.step, after.step);
  look("met_by", before.met_by, after.met_by);
  look("sorts", before.sorts, after.sorts);
  look("hazard", before.hazard, after.hazard);
  look("likelihood", before.likelihood, after.likelihood);
  look("severity", before.severity, after.severity);
  look("significance", before.significance, after.significance);
  look("point", before.point, after.point);
  look("point_because", before.point_because, after.point_because);
  look("control", before.control, after.control);
  look("limit", before.limit, after.limit);
  look("limits", before.limits, after.limits);
  look("source", before.source, after.source);
  look("clause", before.clause, after.clause);
  look("checked", before.checked, after.checked);
  look("how_often", before.how_often, after.how_often);
  look("when_missed", before.when_missed, after.when_missed);
  look("who", before.who, after.who);
  look("records", before.records, after.records);
  look("not_met", before.not_met, after.not_met);
  look("not_shown", before.not_shown, after.not_shown);
  look("note", before.note, after.note);
  return changed;
}

std::vector<std::string> members_changed(const HazardPlan& before, const HazardPlan& after) {
  std::vector<std::string> changed;
  const auto look = [&](const char* name, const auto& was, const auto& is) {
    if (!(was == is)) changed.emplace_back(name);
  };
  look("title", before.title, after.title);
  look("note", before.about, after.about);
  look("scope", before.scope, after.scope);
  look("users", before.users, after.users);
  look("flow", before.flow, after.flow);
  look("verified", before.verified, after.verified);
  look("review_months", before.review_months, after.review_months);
  look("sources", before.sources, after.sources);
  return changed;
}

/// What each allergen is in the foods of a recipe.
using Brings = std::map<std::string, Presence>;

Brings brings_of(const Session& session, const RecipeId& recipe, const std::vector<std::string>& keys) {
  Brings brings;
  for (const auto& key : keys) brings[key] = presence_in_recipe(session.state(), session.today(), recipe, key);
  return brings;
}

bool has_unknown(const Brings& brings) {
  return std::any_of(brings.begin(), brings.end(), [](const auto& one) { return one.second == Presence::unknown; });
}

/// Whether a recipe is made on the kit of one with other allergens, as far as anybody knows: an unknown allergen may be another one in
/// each, and a recipe without kit may be made on any.
bool shares_kit(const State& state, const RecipeId& id, const std::map<RecipeId, Brings>& brings) {
  const auto& own = state.recipes.at(id).value.kit;
  if (own.empty()) return true;
  return std::any_of(state.recipes.begin(), state.recipes.end(), [&](const auto& other) {
    if (other.first == id) return false;
    const auto& kit = other.second.value.kit;
    if (kit.empty()) return true;
    if (brings.at(other.first) == brings.at(id) && !has_unknown(brings.at(id))) return false;
    return std::any_of(own.begin(), own.end(), [&](const EquipmentId& one) { return std::find(kit.begin(), kit.end(), one) != kit.end(); });
  });
}

std::vector<std::string> traits_of(const Recipe& recipe, bool on_shared_kit) {
  std::set<std::string> has;
  if (recipe.egg.starts_with("raw")) has.insert("raw egg");
  if (recipe.egg == "raw, heated here") has.insert("egg heated here");
  if (recipe.egg == "baked through") has.insert("egg baked through");
  if (recipe.egg.ends_with("pasteurised")) has.insert("pasteurised egg");
  if (!recipe.heat_food.empty() && !recipe.egg.starts_with("raw")) has.insert("heated through");
  if (recipe.syrup_target) has.insert("boiled syrup");
  if (!heated_by_recipe(recipe).empty() && recipe.storage != "room") has.insert("cooked and kept cold");
  if (recipe.storage == "fridge") has.insert("kept cold");
  if (recipe.storage == "freezer") has.insert("kept frozen");
  if (recipe.storage == "room") has.insert("kept at room temperature");
  if (on_shared_kit) has.insert("allergens on shared kit");
  if (recipe.part == "decoration") has.insert("decoration");
  std::vector<std::string> traits;
  for (const auto& trait : recipe_traits()) {
    if (has.contains(trait)) traits.push_back(trait);
  }
  return traits;
}

/// The kinds of notes that tell of the work that a plan is about.
constexpr std::array kinds_of_the_work{
    KindOf<Kitchen>::kind,  KindOf<Recipe>::kind,    KindOf<Ingredient>::kind,        KindOf<Specification>::kind,
    KindOf<Supplier>::kind, KindOf<Equipment>::kind, KindOf<EquipmentChanged>::kind,  KindOf<Place>::kind,
    KindOf<Probe>::kind,    KindOf<Tub>::kind,       KindOf<CleaningValidated>::kind, KindOf<Validation>::kind,
    KindOf<Adopted>::kind,  KindOf<Keeping>::kind,
};

bool of_the_work(std::string_view kind) {
  return std::find(kinds_of_the_work.begin(), kinds_of_the_work.end(), kind) != kinds_of_the_work.end();
}

/// A look at the plan: notes before its own are covered that were written by the time it happened. It may be typed later, or corrected.
struct Look {
  std::uint64_t place = 0;
  Instant happened{};
};

}  // namespace

std::vector<std::string> plan_review_looks_at() {
  std::vector<std::string> words;
  for (const auto kind : kinds_of_the_work) words.emplace_back(words_of_kind(std::string{kind}));
  return words;
}

PlanVersion plan_now(const Session& session) {
  const auto& plans = session.state().plans;
  return plans.empty() ? PlanVersion{} : version_of(plans.back());
}

PlanVersion plan_for(const Session& session, const CakeId& cake) {
  const auto* release = session.state().release(cake);
  if (release == nullptr) return plan_now(session);
  PlanVersion version;
  for (const auto& plan : session.state().plans) {
    if (plan.sequence < release->sequence) version = version_of(plan);
  }
  return version;
}

const HazardPlan& plan_of(const Session& session, const PlanVersion& version) {
  const auto& plans = session.state().plans;
  const auto found =
      std::find_if(plans.begin(), plans.end(), [&](const Recorded<HazardPlan>& plan) { return plan.sequence == version.note; });
  return found == plans.end() ? session.packs().starting_plan() : found->value;
}

const PlanRow* plan_row(const Session& session, const PlanVersion& version, std::string_view control) {
  if (const PlanRow* own = plan_of(session, version).row(control)) return own;
  const PlanRow* row = session.packs().plan_row(control);
  return row != nullptr && row->on_cakes() ? row : nullptr;
}

std::vector<std::string> graver_in_starting(const Session& session, const PlanVersion& version) {
  std::vector<std::string> told;
  const HazardPlan& plan = plan_of(session, version);
  for (const auto& row : session.packs().plan()) {
    if (!row.on_cakes()) continue;
    const PlanRow* own = plan.row(row.id);
    if (own == nullptr || !own->on_cakes()) {
      told.push_back(fmt::format("row {} ({}): not_met \"{}\", not_shown \"{}\"", row.id, row.words, row.not_met, row.not_shown));
      continue;
    }
    if (row.not_met == "never" && own->not_met != "never") told.push_back(fmt::format("row {}, not_met: \"never\"", row.id));
    if (row.not_shown == "never" && own->not_shown != "never") told.push_back(fmt::format("row {}, not_shown: \"never\"", row.id));
  }
  return told;
}

Result<TemperatureTerms> temperature_terms_by(const Session& session, Date on, const PlanVersion& version) {
  auto terms = session.packs().temperature_terms(session.kitchen().temperature_rules, on, confirmations_of(session));
  if (!terms) return terms;
  TemperatureTerms tightened = std::move(terms).value();
  if (version.note != 0) tighten(tightened, numbers_of(plan_of(session, version), version.words));
  return tightened;
}

Refusals laxer_than(const Session& session, const TemperatureTerms& terms, const HazardPlan& plan, const std::string& file) {
  const auto law_of = [&](const Cited& cited) {
    const std::array places{terms.jurisdiction};
    const std::string title = session.packs().source_title(cited.row, cited.clause, places);
    return title.empty() ? cite(cited) : fmt::format("{} {}", title, cite(cited));
  };
  Refusals refusals;
  for (const auto& found : not_stricter(terms, numbers_of(plan, ""))) {
    using enum NotStricter::Number;
    const std::string_view what = limit_of(found);
    Refusal refusal{file, 0, fmt::format("row {}, limits, {}", control_of_limit(what), what), "", ""};
    if (found.number == heat && found.rules.empty()) {
      refusal.message = fmt::format("\"{}\" is no row of the heat table of {}", found.heat_row, terms.title);
      refusal.remedy = found.heat_rows.empty() ? "leave the number out, and write the limit in words: there is none to make stricter"
                                               : fmt::format("write one of {}", fmt::join(found.heat_rows, ", "));
    } else if (found.rules.empty()) {
      refusal.message = fmt::format("the rules of {} give no {} that it could make stricter", terms.title,
                                    found.number == out        ? "time"
                                    : found.number == cooled   ? "cooling"
                                    : found.number == reheated ? "reheating"
                                                               : "temperature");
      refusal.remedy = "leave the number out, and write the limit in words";
    } else {
      refusal.message = fmt::format("{} is laxer than {}, which the rules of {} have: {}",
                                    number_in_words(*limit_in(plan, what, found.heat_row)), found.rules, terms.title, law_of(found.cited));
      refusal.remedy = found.number == cooled || found.number == reheated || found.number == heat
                           ? "write nothing laxer than that in any of its numbers, or leave it out"
                           : fmt::format("write {} or a stricter number, or leave it out", found.rules);
    }
    refusals.push_back(std::move(refusal));
  }
  return refusals;
}

std::vector<PlanChange> changes_between(const HazardPlan& before, const HazardPlan& after) {
  std::vector<PlanChange> changes;
  if (auto members = members_changed(before, after); !members.empty()) changes.push_back({"", "changed", std::move(members)});
  for (const auto& row : after.rows) {
    const PlanRow* was = before.row(row.id);
    if (was == nullptr) {
      changes.push_back({row.id, "added", {}});
    } else if (auto members = members_changed(*was, row); !members.empty()) {
      changes.push_back({row.id, "changed", std::move(members)});
    }
  }
  for (const auto& row : before.rows) {
    if (after.row(row.id) == nullptr) changes.push_back({row.id, "removed", {}});
  }
  return changes;
}

std::vector<RecipeInPlan> recipes_in(const Session& session, const HazardPlan& plan) {
  const State& state = session.state();
  std::map<RecipeId, Brings> brings;
  const auto keys = allergen_keys(session, session.today());
  for (const auto& [id, recipe] : state.recipes) {
    brings[id] = brings_of(session, id, keys);
  }
  std::vector<RecipeInPlan> all;
  for (const auto& [id, recipe] : state.recipes) {
    RecipeInPlan one{id, recipe.value.name, traits_of(recipe.value, shares_kit(state, id, brings)), {}, {}};
    auto met = one.traits;
    met.emplace_back("every recipe");
    std::set<std::string> covered;
    for (const auto& row : plan.rows) {
      bool about = false;
      for (const auto& trait : met) {
        if (std::find(row.met_by.begin(), row.met_by.end(), trait) == row.met_by.end()) continue;
        about = true;
        covered.insert(trait);
      }
      if (about) one.rows.push_back(row.id);
    }
    for (const auto& trait : one.traits) {
      if (!covered.contains(trait)) one.uncovered.push_back(trait);
    }
    if (one.rows.empty()) one.uncovered.emplace_back("every recipe");
    all.push_back(std::move(one));
  }
  return all;
}

std::vector<std::string> not_known_of(const Session& session, const RecipeId& recipe) {
  std::vector<std::string> told;
  if (session.state().recipes.at(recipe).value.kit.empty()) told.emplace_back("kit not recorded");
  if (has_unknown(brings_of(session, recipe, allergen_keys(session, session.today())))) told.emplace_back("an allergen of what goes in");
  return told;
}

PlanReviewDue plan_review_due(const Session& session) {
  const State& state = session.state();
  PlanReviewDue told;
  if (state.plans.empty()) return told;
  told.taken = true;
  const auto& plan = state.plans.back();
  std::vector<Look> looks{{plan.place, plan.happened}};
  const Recorded<PlanReviewed>* last = nullptr;
  for (const auto& review : state.plan_reviews) {
    if (review.value.plan != plan.place || review.happened < plan.happened) continue;
    looks.push_back({review.place, review.happened});
    if (last == nullptr || review.happened >= last->happened) last = &review;
  }
  const Date day = last == nullptr ? day_of(plan.happened, plan.offset) : day_of(last->happened, last->offset);
  told.last = last == nullptr ? fmt::format("taken over on {} by {}, note {}", format_date_long(day), plan.person.text(), plan.sequence)
                              : fmt::format("reviewed on {} by {}, note {}", format_date_long(day), last->person.text(), last->sequence);
  told.due = add_months(day, static_cast<int>(plan.value.review_months));
  told.over = told.due < session.today();
  for (const auto& note : session.notes()) {
    const auto covers = [&](const Look& look) { return note.sequence < look.place && note.written <= look.happened; };
    if (!of_the_work(note.kind) || std::any_of(looks.begin(), looks.end(), covers)) continue;
    told.since.push_back(fmt::format("note {}: {} ({}){}", note.sequence, words_of_kind(note.kind), note.subject,
                                     note.body.is_null() ? ", taken back"
                                     : note.supersedes   ? ", corrected"
                                                         : ""));
  }
  return told;
}

}  // namespace tierproof
