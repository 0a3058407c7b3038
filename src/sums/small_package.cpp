#include "tierproof/sums/small_package.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace tierproof {

RouteTerm for_package(RouteTerm route, const PackageSize& size, const LabelTerms& terms) {
  const auto fits = [&](const SmallPackageTerm& row) {
    const auto [known, below] =
        row.surface_below_cm2 > 0 ? std::pair{size.surface_cm2, row.surface_below_cm2} : std::pair{size.face_cm2, row.face_below_cm2};
    const bool here = row.routes.empty() || std::find(row.routes.begin(), row.routes.end(), route.route) != row.routes.end();
    return here && known > 0 && known < below && row.cited.firm();
  };
  const SmallPackageTerm* found = nullptr;
  for (const SmallPackageTerm& row : terms.small_packages) {
    if (!fits(row)) continue;
    if (found == nullptr || row.face_below_cm2 < found->face_below_cm2) found = &row;
  }
  if (found == nullptr) return route;
  const auto spared = [&](const std::string& particular) {
    return std::find(found->without.begin(), found->without.end(), particular) != found->without.end();
  };
  if (std::none_of(route.on_pack.begin(), route.on_pack.end(), spared)) return route;
  if (spared("ingredients")) route.declaration = "allergens";
  std::erase_if(route.on_pack, spared);
  route.told.insert(route.told.end(), found->told.begin(), found->told.end());
  route.words += " " + found->words;
  route.small_package = found->cited;
  return route;
}

}  // namespace tierproof
