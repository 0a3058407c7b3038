#pragma once

#include <cstdint>

#include "tierproof/sums/terms.h"

namespace tierproof {

/// The way of selling as it is for a package of this size: what its largest face allows it to go without is taken off what must be on the
/// pack, is told instead as the row says, and the row stands in `RouteTerm::small_package`.
///
/// Without `ingredients` a declaration of the allergens stands in for the list. Of several rows that fit the one for the smallest face
/// counts. A row from memory that nobody confirmed spares nothing, nor does a face that is not known.
/// @param face_cm2  largest face of the package; 0 or less: not known
RouteTerm for_package(RouteTerm route, std::int64_t face_cm2, const LabelTerms& terms);

}  // namespace tierproof
