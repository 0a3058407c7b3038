#pragma once

#include <string_view>
#include <vector>

#include "exemptions.h"
#include "tierproof/sums/declaration.h"

namespace tierproof {

/// `IngredientFacts::fixed_by_law` of a batch that is listed as a part: it never merges with a bought pack of its name.
inline constexpr const char* made_here = "made here";

/// How much of the finished cake is of foods that print alike: of a food that was reconstituted its mass before drying, where that is
/// more; of a volatile food what remains.
struct ShareInCake {
  const IngredientFacts* food = nullptr;
  Share share;
};

/// What a list is drawn up from beside the cake, or the part of it that is listed.
struct ListAsk {
  const LabelTerms* terms = nullptr;
  std::vector<std::string> declared;   ///< keys, in the law's order
  Share finished_mg;                   ///< of the whole cake
  std::vector<ShareInCake> whole;      ///< of the whole cake, for the limits that rules put to a name or a kind
  Share whole_water;                   ///< share of the whole cake that is added water
  bool small_amounts_last = true;      ///< false: strictly by mass, as in a sub-list
  std::vector<std::string> varying{};  ///< groups whose proportions vary
};
/// What is asked of a list over the whole of `made`.
ListAsk ask_for(const CakeParts& parts, const Composition& made, const LabelTerms& terms, std::vector<std::string> declared);

/// Whether a food is of a kind: `sugar` also where only its sweetening says so.
bool is_kind(const IngredientFacts& food, std::string_view kind);
/// Whether a compound ingredient is one that `relief` speaks of, whatever its share.
bool relief_knows(const ReliefTerm& relief, const IngredientFacts& food);
/// Whether one of several foods predominates. The law gives no figure: above one and a half times their mean (the project's choice).
bool one_predominates(const std::vector<Share>& amounts);

/// The entries of `made` in the order of the list, printed.
std::vector<ListedIngredient> listed(const CakeParts& parts, const Composition& made, const ListAsk& ask);

/// Each part that the cake is built of by its customary name, its own list behind it; batches in it that have such a name stand in that
/// list in the same way, others (and left-overs of one name) are merged into it. Only for parts of which `why_not_by_part` is empty.
std::vector<ListedIngredient> listed_by_part(const CakeParts& parts, const ListAsk& ask);

}  // namespace tierproof
