#pragma once

#include <string>

#include "checking.h"

namespace tierproof {

/// For which purpose a reading of `about` is, when `purpose` is named or not; refuses what is unknown or does not fit.
std::string purpose_of(Checking& checking, const State& state, const std::string& about, const std::string& purpose);

}  // namespace tierproof
