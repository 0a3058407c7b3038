#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tierproof {

/// A name taken apart. A part is what stands between commas and the like; its brackets hold parts again.
struct NamePart {
  struct Bracket {
    std::size_t after = 0;  ///< how many words of the part stand before it
    std::vector<NamePart> parts;
  };
  std::vector<std::string> words;  ///< folded to one spelling: small letters, no accents, singular; `e471` for a number of an additive
  std::vector<std::string> said;   ///< the same words in small letters as they were written
  std::vector<Bracket> brackets;
};

/// Takes `name` apart. Numbers, percentages and single letters are left out; brackets that are never closed end with the name.
std::vector<NamePart> name_parts(std::string_view name);
/// Whether a folded word joins two foods: `and`, `with`.
bool joins_foods(std::string_view word);

}  // namespace tierproof
