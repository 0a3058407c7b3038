#pragma once

#include <string>
#include <vector>

#include "tierproof/sums/composition.h"
#include "tierproof/sums/declaration.h"
#include "tierproof/sums/label_terms.h"

namespace tierproof {

/// `parts` with the names of foods, their parts and what batches make in `language`; what has none keeps its own.
CakeParts in_language(const CakeParts& parts, const std::string& language);
/// `terms` with the words of allergens, collectives and wordings in `language`; what has none keeps its own. Additives go by the names of
/// the packs, since the names that a law prints are in one language.
LabelTerms in_language(const LabelTerms& terms, const std::string& language);

/// What `declared`, in the kitchen's own language, says and `language` has no words for, each once: packs without a name or with another
/// number of parts in it, names of parts, class titles of additives, words of a summary, parts of the cake listed by name, declared
/// allergens and species, names for several, words of the list, statements, the wordings that the list needs.
/// @param parts, terms  in the kitchen's own language
std::vector<std::string> missing_in_language(const CakeParts& parts, const Composition& made, const Declaration& declared,
                                             const LabelTerms& terms, const std::string& language);

}  // namespace tierproof
