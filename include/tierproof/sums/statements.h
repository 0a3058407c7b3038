#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/sums/declaration.h"

namespace tierproof {

/// The sentences and words that the law prescribes for what is in the cake, each text once a place, in the order of the rows: for
/// additives, for shares, for marks, for amounts.
///
/// - Additives, and foods by words of their name: whatever their amount and whether they work in the cake or not. `{names}` becomes those
/// present, as printed: the name
///   that the law prints, else that of the pack. A row `shown_by` `name` holds when the list names one of them by other words than its
///   number; one `shown_by` `number` when it does not: also when no list is printed. A row that is suspended is told instead, until the
///   kitchen had it confirmed.
/// - Shares: strictly above. `sugars and sweeteners` takes the place of `sweeteners` where both are worded and both are in it.
/// - Marks: of the cake, of the packs and of their parts. A pack's `defrosted` and `protective atmosphere` speak of the pack, not of the
///   cake, and bring nothing. A mark of the cake whose row stands behind an ingredient's name stands beside the cake's. A row that is
///   `told` is not printed: `things_to_tell`.
/// - Amounts: at or above the one edge and below the other, over the finished mass. A pack marked `liquorice` without a figure brings
///   the row with the lowest edge. Not when `unless_named` stands as a word in the list (where one is printed) or in the name.
/// @param declared  for its kind and the list as printed
std::vector<Statement> statements_of(const CakeParts& parts, const Composition& made, const LabelTerms& terms, const DeclareAs& as,
                                     const Declaration& declared);

/// What rows of marks ask to be told instead of printed (`placed` is `told`), and the sentences of rows that are suspended, with why.
std::vector<Statement> things_to_tell(const CakeParts& parts, const Composition& made, const LabelTerms& terms, const DeclareAs& as);

/// `wording` with `names` in the place of its `{names}`.
std::string with_names(const std::string& wording, const std::string& names);

/// How much of the finished cake a share wording speaks of, and what brings it.
struct WordedShare {
  Share share;
  std::vector<std::size_t> lots;  ///< into `CakeParts::lots`, sorted
};
/// @param of  `polyols`, `sweeteners`, `sugars and sweeteners`
/// @return    nothing when there is none of it, or when another wording stands for it
///
/// Polyols are what the specifications say; a pack that is itself a polyol by the table counts whole when its specification gives none. A
/// sweetener is what acts as one by its class; without a class, what the table knows as one first of all.
std::optional<WordedShare> worded_share(const std::string& of, const CakeParts& parts, const Composition& made, const LabelTerms& terms);

/// An amount in the finished cake that amount wordings speak of, mg/kg: `glycyrrhizinic acid`, `sulphites`, `polyols`; nothing for
/// another. Packs that are known to bring it and give no figure are listed apart.
struct WordedAmount {
  Share mg_per_kg;
  std::vector<std::size_t> lots;    ///< into `CakeParts::lots`, sorted
  std::vector<std::size_t> silent;  ///< of them, without a figure
};
std::optional<WordedAmount> worded_amount(const std::string& of, const CakeParts& parts, const Composition& made, const LabelTerms& terms);

}  // namespace tierproof
