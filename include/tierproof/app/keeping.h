#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/app/session.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// What was measured of a recipe, or of a finished cake, as typed; empty: not given.
struct KeepingMeasured {
  std::string of;  ///< short name of a recipe, or a cake: its finished food, put together and left until its water had moved
  std::string activity, activity_error;  ///< water activity, above 0 and up to 1; what the meter may be off by, above 0 and up to 0.1
  std::string ph, ph_error;              ///< 0 to 14; above 0 and up to 1
  std::string on;                        ///< day
  std::string method;
  std::string by;    ///< laboratory, body or role
  std::string kept;  ///< where the report is kept; may stay empty
};
/// Books it for the recipe, or for what the cake is made of, each as it stands: where one changes, it has to be measured anew.
/// Refused, all together: no such recipe or cake, a cake that nothing was put into, neither activity nor pH, one without the error of what
/// it was measured with, values that cannot be, a day ahead, a day before the version of the recipe that is measured, words that claim.
Result<Booked> record_measured(Session& session, const KeepingMeasured& measured);

/// What a competent body wrote of how a recipe, or a finished cake, keeps.
struct KeepingAdvised {
  std::string of;
  std::string place;   ///< `room`, `fridge`
  std::string days;    ///< for how many days it keeps at room temperature; empty: it sets none
  std::string on, by;  ///< day, and the body
  std::string kept;    ///< where the writing is kept
  std::string says;    ///< in its words
  bool trial = false;  ///< it is the report of a validation: a trial of how the food keeps
};
Result<Booked> record_advice(Session& session, const KeepingAdvised& advised);

/// Where something must be kept, for how long and why: one line, and what it rests on.
struct KeepsLine {
  std::string about;  ///< `where`, `until`, `without a fridge`, `sponge (batch-1)`
  std::string says;
  std::string rests_on;  ///< `measured`, `written advice`, `validation`, `the maker's decision`, `the rules`, ...; empty: told in the line
};
struct HowItKeeps {
  std::string of;
  std::string name;
  std::vector<KeepsLine> lines;
  bool answered = true;  ///< false: a person has to decide something of it
};
/// Of a recipe as it stands, a batch or a cake. Refused: no such thing, no rules in force.
Result<HowItKeeps> how_it_keeps(const Session& session, const std::string& of, ZonedInstant at);
/// Of a cake that was judged already. @pre judged of the same session
HowItKeeps how_it_keeps(const Session& session, const Judgement& judged);

}  // namespace tierproof
