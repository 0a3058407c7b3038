#pragma once

#include <string>
#include <vector>

#include "tierproof/sums/composition.h"
#include "tierproof/sums/declaration.h"
#include "tierproof/sums/terms.h"

namespace tierproof {

/// `parts` with the names of foods, their parts and what batches make in `language`; what has none keeps its own.
CakeParts in_language(const CakeParts& parts, const std::string& language);
/// `terms` with the words of allergens, collectives and wordings in `language`; what has none keeps its own.
LabelTerms in_language(const LabelTerms& terms, const std::string& language);

/// What a declaration in `language` would have to say in another one, in words, each once: packs without a name or with another number
/// of parts in it, parts of the cake listed by name, declared allergens, wordings that the list needs.
std::vector<std::string> missing_in_language(const CakeParts& parts, const Composition& made, const Declaration& declared,
                                             const LabelTerms& terms, const std::string& language);

}  // namespace tierproof
