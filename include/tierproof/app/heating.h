#pragma once

#include <optional>

#include "tierproof/app/session.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// How far a heat step is, while it happens: what `thermometer` shows of the egg step of `batch` by all its readings so far. Nothing where no
/// row of heating speaks of it: no such batch or readings, no egg that is heated here.
std::optional<Finding> heat_so_far(const Session& session, const BatchId& batch, const ProbeId& thermometer);

}  // namespace tierproof
