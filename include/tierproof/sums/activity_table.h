#pragma once

#include "tierproof/sums/activity_terms.h"

namespace tierproof {

/// Whether `table` says that a food of this water activity and pH, both exact, has to be assessed. @pre the table has every band
bool is_to_be_assessed(const ActivityTable& table, const Share& activity, const Share& ph);

}  // namespace tierproof
