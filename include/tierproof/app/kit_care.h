#pragma once

#include <string>
#include <vector>

#include "tierproof/app/session.h"

namespace tierproof {

// Use cases around shared kit. Those that record check everything first and book all or nothing; all throw Fault and HeadMoved as
// `Session::book` does.

struct CleaningDone {
  std::string kit;
  std::string grade;                  ///< as `Cleaning`
  std::string tested{};               ///< of `washed and tested`: what was tested, and what came of it
  std::vector<std::string> clears{};  ///< what the test looked for: allergen keys, groups, or `protein`
  std::string found{};                ///< `nothing`, `something`
  std::string at{};
};
/// Books a cleaning. Refused: `washed and tested` without what was tested, what it looks for and what was found;
/// a test with another grade, allergens that no rules know.
Result<Booked> clean(Session& session, const CleaningDone& done);

/// Files evidence that a way of cleaning takes the worst case off a piece of kit, for the recipe of the worst case as it stands. Refused: a
/// day that has not come, no allergen, one that the recipe is not known to contain.
Result<Booked> file_cleaning_validation(Session& session, const CleaningValidated& validation);

/// Books that a piece of kit is not what it was: what was validated for it holds no more.
Result<Booked> change_kit(Session& session, const std::string& kit, const std::string& what, const std::string& at);

/// What lies on the kit of a recipe now, for a batch that does not bring it itself.
struct LiesOnKit {
  std::string allergen;  ///< in the words of the label rules
  bool cleaned = false;  ///< washed since, without evidence that it went off
  std::string path;      ///< how it came there
};
/// Refused: no such recipe, no label rules in force.
/// @param besides  kit that is used besides that of the recipe; what is not on record is passed over
Result<std::vector<LiesOnKit>> lies_on_kit(const Session& session, const std::string& recipe, ZonedInstant at,
                                           const std::vector<std::string>& besides = {});

/// An order of work in which the fewest allergens meet a batch without them on shared kit.
struct WorkOrder {
  std::vector<std::string> recipes;   ///< short names, first to last
  std::vector<std::string> to_clean;  ///< `before sponge: almonds from praline on the bowl`
  std::vector<std::string> lying;     ///< what lies there already, met in whatever order: `before sponge: almond: bowl, ...`
};
/// Refused: fewer than two recipes, more than nine, one that is not known, no label rules in force.
Result<WorkOrder> order_of_work(const Session& session, const std::vector<std::string>& recipes);

}  // namespace tierproof
