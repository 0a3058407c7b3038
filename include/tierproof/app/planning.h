#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tierproof/app/recording.h"
#include "tierproof/app/session.h"
#include "tierproof/sums/temperature_terms.h"
#include "tierproof/units/hazard_plan.h"

namespace tierproof {

/// Which version of the hazard plan is meant.
struct PlanVersion {
  std::uint64_t note = 0;  ///< of the version; 0: the starting plan, which the kitchen has not taken over yet
  std::string words = "starting plan, not taken over yet";  ///< `plan of 3 May 2026, note 41`
  friend bool operator==(const PlanVersion&, const PlanVersion&) = default;
};
/// The version in force now.
PlanVersion plan_now(const Session& session);
/// The version that a cake goes by: the one in force when it was released, else now.
PlanVersion plan_for(const Session& session, const CakeId& cake);
/// What a version says. @pre the version is of this session
const HazardPlan& plan_of(const Session& session, const PlanVersion& version);
/// The row that findings of `control` go by: the version's; where it lacks it, the starting plan's (`plan_standing.h`); or nothing.
const PlanRow* plan_row(const Session& session, const PlanVersion& version, std::string_view control);

/// The temperature rules of the kitchen in force on `on`, with what it confirmed of them and the stricter numbers of `version`. A number of
/// the plan that is laxer than the rules changes nothing, since they may have become stricter after it was taken over.
Result<TemperatureTerms> temperature_terms_by(const Session& session, Date on, const PlanVersion& version);

/// What is wrong with the numbers of `plan` beside `terms`: laxer than the rules, or none there that it could make stricter. Each names
/// row, law, clause and number.
Refusals laxer_than(const Session& session, const TemperatureTerms& terms, const HazardPlan& plan, const std::string& file);

/// What a version changed against the one before it.
struct PlanChange {
  std::string row;                   ///< empty: the plan itself
  std::string how;                   ///< `added`, `removed`, `changed`
  std::vector<std::string> members;  ///< of `changed`: which, in the order of a document
};
std::vector<PlanChange> changes_between(const HazardPlan& before, const HazardPlan& after);

/// What a recipe brings of steps, and which rows of the plan are about them.
struct RecipeInPlan {
  RecipeId recipe;
  std::string name;
  std::vector<std::string> traits;     ///< of `recipe_traits()`, but `every recipe`
  std::vector<std::string> rows;       ///< ids, in the order of the plan
  std::vector<std::string> uncovered;  ///< traits that no row is about; `every recipe` where no row at all is about it
};
std::vector<RecipeInPlan> recipes_in(const Session& session, const HazardPlan& plan);

/// Whether the plan has to be reviewed. A review counts from when it happened, and covers what was written before it and by then.
struct PlanReviewDue {
  bool taken = false;              ///< whether the kitchen took over a plan at all
  std::string last;                ///< `taken over on 3 May 2026 by anna, note 41`, or the last review
  Date due{};                      ///< by the time that the plan states
  bool over = false;               ///< that day is past
  std::vector<std::string> since;  ///< what changed since: `note 50: recipe (sponge)`
  bool is_due() const { return !taken || over || !since.empty(); }
};
PlanReviewDue plan_review_due(const Session& session);

/// A plan taken over, with what it changed.
struct PlanTaken {
  Booked booked;
  std::vector<PlanChange> changes;  ///< since the version before, or the starting plan
};
/// Takes over a plan as a new version. Refused, all together: what `read_plan_document` refuses, a row left out that a control on cakes
/// names, a row that lets a person release where the starting plan does not, numbers laxer than the rules (`laxer_than`), claims in its
/// words or part of a recorded person's name (but in texts of the starting plan), and a plan that says the same as the one in force.
Result<PlanTaken> take_plan(Session& session, const GivenDocument& document);

struct PlanReviewing {
  std::string changed;    ///< `nothing`, `something`
  std::string what;       ///< needed where something changed
  std::string signed_by;  ///< the person's own name, as it is recorded
  std::string at;
};
/// Books that the plan in force was reviewed. Refused: no plan, a moment before it, a name not the person's, `nothing` with a change.
Result<Booked> review_plan(Session& session, const PlanReviewing& reviewing);

}  // namespace tierproof
