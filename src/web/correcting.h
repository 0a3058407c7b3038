#pragma once

#include <optional>
#include <string>
#include <vector>

#include "parts.h"

namespace tierproof::web {

/// Whether taking back or correcting a note of this kind touches a stop, an answer about allergies or what verdicts rest on: that asks for
/// the PIN.
bool grave_kind(const std::string& kind);

/// Kinds of notes, each with a member of its body that can be retyped, and one thing that may stand there.
struct RetypedMember {
  std::string kind;
  std::string member;
  Json for_example;
};
std::vector<RetypedMember> retyped_members();

/// The form that says what a note should have said: a field for each member that a person can retype, filled with what stands there.
/// @pre whoever is signed in may record
Html correct_form(Visit& visit, const Note& note);

/// Books what was typed into it: of a reading that was typed, by `retype_reading`; of anything else by `correct`, with what was changed and
/// everything else as it stood.
std::optional<Booked> correct_note(Visit& visit, const Note& note);

}  // namespace tierproof::web
