#include "tierproof/sums/type_size.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tierproof {

std::int64_t largest_face_of_box(std::int64_t width, std::int64_t depth, std::int64_t height) {
  const std::int64_t w = std::max<std::int64_t>(width, 0);
  const std::int64_t d = std::max<std::int64_t>(depth, 0);
  const std::int64_t h = std::max<std::int64_t>(height, 0);
  return std::max({w * d, w * h, d * h});
}

std::int64_t largest_face_of_cylinder(std::int64_t diameter, std::int64_t height) {
  const double across = static_cast<double>(std::max<std::int64_t>(diameter, 0));
  const double high = static_cast<double>(std::max<std::int64_t>(height, 0));
  const double lid = std::numbers::pi * across * across / 4;
  const double side = std::numbers::pi * across * high;
  return static_cast<std::int64_t>(std::ceil(std::max(lid, side)));
}

std::vector<MinimumHeight> minimum_heights(std::span<const TypeSizeTerm> rows, std::string_view what, std::int64_t face_mm2,
                                           std::optional<Mass> quantity, std::optional<std::int64_t> surface_mm2) {
  constexpr std::int64_t mm2_per_cm2 = 100;
  std::vector<MinimumHeight> found;
  for (const TypeSizeTerm& row : rows) {
    const bool face = (!row.face_from_cm2 || face_mm2 >= *row.face_from_cm2 * mm2_per_cm2) &&
                      (!row.face_below_cm2 || face_mm2 < *row.face_below_cm2 * mm2_per_cm2) &&
                      (!row.face_above_mm2 || face_mm2 > *row.face_above_mm2) && (!row.face_up_to_mm2 || face_mm2 <= *row.face_up_to_mm2);
    const bool surface = (!row.surface_from_cm2 || !surface_mm2 || *surface_mm2 >= *row.surface_from_cm2 * mm2_per_cm2) &&
                         (!row.surface_below_cm2 || (surface_mm2 && *surface_mm2 < *row.surface_below_cm2 * mm2_per_cm2));
    const bool mass = !quantity || ((!row.above || *quantity > *row.above) && (!row.up_to || *quantity <= *row.up_to));
    if (row.what != what || !face || !surface || !mass) continue;
    const auto same = std::find_if(found.begin(), found.end(), [&](const MinimumHeight& one) { return one.measured == row.measured; });
    if (same == found.end()) {
      found.push_back({row.minimum_um, row.measured, row.cited});
    } else if (row.minimum_um > same->micrometres) {
      *same = MinimumHeight{row.minimum_um, row.measured, row.cited};
    }
  }
  return found;
}

std::optional<MinimumHeight> minimum_height(std::span<const TypeSizeTerm> rows, std::string_view what, std::int64_t face_mm2,
                                            std::optional<Mass> quantity, std::optional<std::int64_t> surface_mm2) {
  std::optional<MinimumHeight> greatest;
  for (const MinimumHeight& one : minimum_heights(rows, what, face_mm2, quantity, surface_mm2)) {
    if (!greatest || one.micrometres > greatest->micrometres) greatest = one;
  }
  return greatest;
}

}  // namespace tierproof
