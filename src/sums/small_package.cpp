#include "tierproof/sums/small_package.h"

#include <algorithm>
#include <string>
#include <vector>

namespace tierproof {

RouteTerm for_package(RouteTerm route, std::int64_t face_cm2, const LabelTerms& terms) {
  const SmallPackageTerm* found = nullptr;
  for (const SmallPackageTerm& row : terms.small_packages) {
    if (face_cm2 <= 0 || face_cm2 >= row.face_below_cm2 || !row.cited.firm()) continue;
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
