#pragma once

#include <cstdint>

#include "tierproof/sums/label_terms.h"

namespace tierproof {

/// How large a package is; 0 or less: not known.
struct PackageSize {
  std::int64_t face_cm2 = 0;     ///< its largest face
  std::int64_t surface_cm2 = 0;  ///< all of its surface
};

/// The way of selling as it is for a package of this size: what its largest face allows it to go without is taken off what must be on the
/// pack, is told instead as the row says, and the row stands in `RouteTerm::small_package`.
///
/// Without `ingredients` a declaration of the allergens stands in for the list. Of several rows that fit the one for the smallest face
/// counts. A row from memory that nobody confirmed spares nothing, nor does a face or surface that is not known.
RouteTerm for_package(RouteTerm route, const PackageSize& size, const LabelTerms& terms);

}  // namespace tierproof
