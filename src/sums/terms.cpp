#include "tierproof/sums/terms.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {

std::string cite(const Cited& cited) {
  return fmt::format("[{}: {}{}]", cited.row, cited.clause, cited.from_memory ? " (from memory)" : "");
}

const Wording* LabelTerms::wording(std::string_view key) const {
  const auto found = std::find_if(wordings.begin(), wordings.end(), [&](const Wording& w) { return w.key == key; });
  return found == wordings.end() ? nullptr : &*found;
}

const AllergenTerm* LabelTerms::allergen(std::string_view key) const {
  const auto found = std::find_if(allergens.begin(), allergens.end(), [&](const AllergenTerm& a) { return a.key == key; });
  return found == allergens.end() ? nullptr : &*found;
}

const AdditiveTerm* LabelTerms::additive(std::string_view number) const {
  const auto found = std::find_if(additives.begin(), additives.end(), [&](const AdditiveTerm& a) { return a.number == number; });
  return found == additives.end() ? nullptr : &*found;
}

}  // namespace tierproof
