#pragma once

#include "checking.h"

namespace tierproof {

/// What is wrong with a check of a thermometer made at `at`: a scale that it doesn't show, boiling water where nobody knows at what it
/// boils, a pressure that cannot be that of the place, a correction that has no two good checks or was chosen by somebody who may not.
/// @param itself  the note that is corrected, so that it isn't taken for another check; 0 for a new one
void check_thermometer_check(Checking& checking, const Session& session, const ProbeCheckMade& check, ZonedInstant at,
                             std::uint64_t itself = 0);

}  // namespace tierproof
