#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/label_terms.h"

namespace tierproof {

/// Area of the largest face of a box, mm². Sides in mm; a side below zero counts as none.
std::int64_t largest_face_of_box(std::int64_t width, std::int64_t depth, std::int64_t height);
/// Of a round box: its lid or its side unrolled, mm², rounded up, so that rounding never earns a smaller type.
std::int64_t largest_face_of_cylinder(std::int64_t diameter, std::int64_t height);

/// The least height that a text must have.
struct MinimumHeight {
  std::int64_t micrometres = 0;
  std::string measured;  ///< `x-height`, `figure height`, `symbol height`, `letter height`
  Cited cited;
};

/// The greatest minimum of the rows of `what` that match; nothing when none does.
///
/// A row with an upper edge of the face holds strictly below it (exactly 80 cm² is not below 80 cm²); one with a lower edge at or above
/// it. A row by the area of the principal display holds strictly above the one edge and up to and including the other, in mm²: the
/// largest face stands for it, which is never smaller. A row by the whole surface holds strictly below its upper edge, where the surface is
/// known; at or above its lower one, and where it is not. A row with masses holds strictly above the one and up to and including the other;
/// without `quantity` only the greatest of the rows with masses is safe, so they all match.
/// @param face_mm2     largest face of the package
/// @param surface_mm2  all of its surface; nothing: not known
std::optional<MinimumHeight> minimum_height(std::span<const TypeSizeTerm> rows, std::string_view what, std::int64_t face_mm2,
                                            std::optional<Mass> quantity, std::optional<std::int64_t> surface_mm2 = {});
/// The same for each measure that the matching rows use, since a height of letters and one of small letters do not compare: the
/// greatest of each, in the order in which the rows first name the measure.
std::vector<MinimumHeight> minimum_heights(std::span<const TypeSizeTerm> rows, std::string_view what, std::int64_t face_mm2,
                                           std::optional<Mass> quantity, std::optional<std::int64_t> surface_mm2 = {});

}  // namespace tierproof
