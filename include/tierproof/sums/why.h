#pragma once

#include <string>
#include <vector>

#include "tierproof/sums/declaration.h"

namespace tierproof {

/// Why something stands on a label: by which rows, and from which packs.
struct WordWhy {
  std::string words;  ///< as printed: `ground ALMONDS`, `Contains: Wheat, Milk`
  std::string what;   ///< `heading`, `ingredient`, `words before small amounts`, `allergen`, `line of allergens`, `summary`, `statement`
  std::vector<Cited> rules;       ///< rows of the rules, in the order of what they decide
  std::vector<std::size_t> lots;  ///< into `CakeParts::lots`, sorted
  std::vector<std::string> ways;  ///< `cake-1 → batch-4 (vanilla sponge) → pack-2`, sorted
};

/// Every printed piece of a declaration in the order of the label, each with its rows and its ways: the heading, each entry, each
/// declared allergen, the line of allergens or the summary, each statement. The words before small amounts stand ahead of the first of
/// them, though they are printed with it.
std::vector<WordWhy> why_words(const CakeParts& parts, const Composition& made, const Declaration& declared, const LabelTerms& terms);

}  // namespace tierproof
