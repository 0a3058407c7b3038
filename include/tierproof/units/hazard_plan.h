#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/units/temperature.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// A number of the plan that a sum takes, stricter than the rules of the place or as strict. Which of the members it has depends on `what`.
struct PlanLimit {
  std::string what;                       ///< one of `plan_limit_names()`
  std::optional<Degrees> degrees{};       ///< `chilled food at or below`, where a cooling ends, what is heated or heated again reaches
  std::optional<std::int64_t> minutes{};  ///< `out of the fridge less than`; a whole cooling, from hot to cold, at most
  std::optional<std::int64_t> days{};     ///< `kept cold for at most`, the day of making is the first
  std::optional<std::int64_t> seconds{};  ///< held, unbroken, at least; 0: it need only be reached
  std::string heat_row{};                 ///< of a heating: the row of the heat table that it is stricter than, `core-70`
  friend bool operator==(const PlanLimit&, const PlanLimit&) = default;
};

/// One row of a hazard plan, in plain words. A row that findings on cakes go by has `not_met` and `not_shown`.
struct PlanRow {
  std::string id;                  ///< `egg-heat`
  std::int64_t order = 0;          ///< its place on papers
  std::string step;                ///< where in the work
  std::vector<std::string> sorts;  ///< of hazard: of `plan_sorts()`
  std::string hazard;              ///< what could go wrong
  std::string likelihood;          ///< without the control: of `plan_likelihoods()`
  std::string severity;            ///< of `plan_severities()`
  std::string significance;        ///< the reason for both
  std::string point;               ///< `ccp`, `ghp_more_attention`, `ghp`
  std::string point_because;       ///< the answer to why it is that
  std::string control;             ///< what must be
  std::string words;               ///< heading on papers, `Egg step`
  std::string limit;               ///< in words, with its unit
  std::string checked;             ///< how it is checked
  std::string how_often;
  std::string when_missed;           ///< what is done with the food, and so that it does not happen again
  std::string who;                   ///< by what they do, not by name
  std::vector<std::string> records;  ///< where it is written down
  std::vector<std::string> met_by;   ///< what of a recipe brings the step: of `recipe_traits()`; empty: no recipe does
  std::vector<PlanLimit> limits;
  std::string not_met;    ///< `never` or `with a reason`: whether a person may release against *not met*; empty: no control on cakes
  std::string not_shown;  ///< the same for *not shown* and *outside the model*
  std::string source;     ///< key of a source of the plan: what limit and control rest on
  std::string clause;
  std::string note;
  bool on_cakes() const { return !not_met.empty(); }
  friend bool operator==(const PlanRow&, const PlanRow&) = default;
};

/// What rows of a plan rest on.
struct PlanSource {
  std::string key;
  std::string title;
  std::string publisher;
  std::string edition;
  std::string link;             ///< may be empty
  std::optional<Date> read_on;  ///< nothing: nobody opened it, it is from memory
  Date review_by{};
  friend bool operator==(const PlanSource&, const PlanSource&) = default;
};

/// `plan/1`: one version of a hazard plan. It counts from its note on until the next one.
struct HazardPlan {
  std::string title;
  std::string about;               ///< what whoever reads it has to know first; `note` in a document
  std::string scope;               ///< what is made, and what the plan is for
  std::string users;               ///< who eats it, and who of them is hurt more easily
  std::string flow;                ///< that the steps were compared with the work as it is done, and how they follow each other
  std::string verified;            ///< how it is known that the plan works and is followed
  std::int64_t review_months = 0;  ///< a review is due after as many months
  std::vector<PlanSource> sources;
  std::vector<PlanRow> rows;  ///< by `order`, then id
  const PlanRow* row(std::string_view id) const;
  /// Title and clause of what `row` rests on, `General Principles of Food Hygiene, time and temperature control`.
  std::string source_of(const PlanRow& row) const;
  friend bool operator==(const HazardPlan&, const HazardPlan&) = default;
};

// The closed lists of members, in the order in which they are told.
const std::vector<std::string>& plan_sorts();        ///< `biological`, `chemical`, `allergen`, `physical`, `information`
const std::vector<std::string>& plan_likelihoods();  ///< `seldom`, `now and then`, `often`
const std::vector<std::string>& plan_severities();   ///< `slight`, `serious`, `can kill`
const std::vector<std::string>& plan_points();       ///< Codex words: `ccp`, `ghp_more_attention`, `ghp`
const std::vector<std::string>& plan_policies();     ///< `never`, `with a reason`
const std::vector<std::string>& plan_limit_names();
/// What the program knows of a recipe that may bring a step: `every recipe`, `raw egg`, `boiled syrup`, `kept cold`, ...
const std::vector<std::string>& recipe_traits();
/// `critical control point`, `good practice that needs more attention`, `good practice`.
std::string_view words_of_point(std::string_view point);
/// The control on cakes whose sums take the limit `what`: `cold-hold`; empty for none.
std::string_view control_of_limit(std::string_view what);
constexpr std::string_view limit_chilled = "chilled food at or below";
constexpr std::string_view limit_out = "out of the fridge less than";
constexpr std::string_view limit_cold_days = "kept cold for at most";
constexpr std::string_view limit_egg_heat = "egg heated to at least";      ///< `heat_row`, `degrees` and `seconds`
constexpr std::string_view limit_core_heat = "middle heated to at least";  ///< the same
constexpr std::string_view limit_cooled = "cooled from hot";               ///< `degrees`, `minutes` or both
constexpr std::string_view limit_reheated = "heated again to at least";    ///< `degrees`, and `seconds` where it is held

}  // namespace tierproof
