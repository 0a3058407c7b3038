#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tierproof/app/recording.h"
#include "tierproof/app/session.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// What an officer said, as it comes in.
struct Advising {
  std::string said_by, office;
  Date on{};
  std::string topic, about, words;
};
/// Books what an officer, or another competent person, said. Refused, all together: a day to come, something missing, claims in its words,
/// a row that is neither in the hazard plan nor in the rules that the kitchen goes by. @throws Fault and HeadMoved as `Session::book`
Result<Booked> note_advice(Session& session, const Advising& advising);

/// What was said about a row, oldest first: `2 May 2026, Example Council (note 41): ... That is what one officer said; ...`. It names no
/// officer, since papers are kept.
std::vector<std::string> advice_about(const Session& session, std::string_view row);
/// The same about the control of a finding or the row that its limit comes from.
std::vector<std::string> advice_on(const Session& session, const Finding& finding);

}  // namespace tierproof
