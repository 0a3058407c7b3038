#pragma once

#include "visit.h"

namespace tierproof::web {

/// Finds out which device asks and who is signed in on it, by the cookies of the request.
void know_visitor(Visit& visit);
/// The page that says that this sign-in may not do what was asked.
WebAnswer not_allowed(Visit& visit, bool owner_needed);
/// Asks for the PIN of whoever is signed in, as typed into the field `pin`. What is wrong with it stands in `visit.wrong`.
bool confirmed_by_pin(Visit& visit);

}  // namespace tierproof::web
