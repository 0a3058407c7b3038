#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/sums/declaration.h"
#include "tierproof/sums/quantity.h"

namespace tierproof {

/// An ingredient or category that the name, or what the label shows, brings out.
struct NamedQuantity {
  std::string name;                 ///< as it is shown: the ingredient, `dark chocolate`; of several the word, `orange`
  std::string word;                 ///< of the name or of what is shown
  Share percent;                    ///< exact; grams a 100 g finished food when weights are given
  std::string text;                 ///< `12 %`, `1.6 %`, `112 g per 100 g`
  std::vector<UsedAmount> members;  ///< of a category, heaviest first, so that each may be shown instead; else the one
  std::vector<std::size_t> lots;    ///< into `CakeParts::lots`, sorted
  std::vector<std::pair<std::size_t, std::string>> from;  ///< what was counted: the pack, and the name of its food or of a part of it
  std::optional<std::size_t> entry;  ///< into `Declaration::ingredients`, when that one entry holds it all: the figure may stand there
};
struct NamedQuantities {
  std::vector<NamedQuantity> shown;   ///< in the order of the words in the name, then of what is shown
  bool per_100g = false;              ///< a figure or their total is above the limit: weights per 100 g of finished food
  bool of_finished = false;           ///< over the finished mass, since moisture was lost; else over the mix
  std::vector<std::string> cautions;  ///< sentences for a person: a name that may mislead, an amount that is not known
  std::optional<Cited> cited;         ///< nothing where the rules ask for no quantities; then nothing is shown
};

/// The quantities that the name of the food asks for.
///
/// An ingredient is brought out when a word of `name` stands in its label name as a whole word, singular or plural; words that stand
/// together in the name go before single ones, so that `raspberry jam` does not bring out strawberry jam (a caution says so). Several
/// ingredients of one word are one category: orange is juice and zest. What is in a compound ingredient counts by the share that its
/// pack gives; without a share it is left out and a caution says so. `shows` are further words that the label shows in words or
/// pictures, each looked for as a whole.
///
/// Kinds of `flavour_kinds` need no figure, nor do parts that call themselves flavouring; where nothing else brings the word, a caution
/// says that the name may mislead, unless it says `flavoured` itself. Of a volatile food counts what remains, with a caution. A
/// word of the name that nothing in the cake answers to is no ingredient's (`birthday`) and passes; one of `shows` gives a caution.
/// @source Reg (EU) 1169/2011 art. 22, Annex VIII
/// @return refused: what `show_quantities` refuses
Result<NamedQuantities> named_quantities(const CakeParts& parts, const Composition& made, const Declaration& declared,
                                         const LabelTerms& terms, const std::string& name, const std::vector<std::string>& shows);

/// The figures in one more language of the label.
struct QuantitiesIn {
  std::vector<std::string> texts;    ///< `noisettes 12 %`
  std::vector<std::string> missing;  ///< of what there is no name in that language
};
/// Each figure of `named` by the word that is given for it, else by the name that its packs have for the food or part in that language,
/// where all of it goes by one. A category without either is told by its members, each with its own figure: what one word brings together
/// in the kitchen's language need not be of one word in another.
/// @param words  what a person gave for words of the kitchen's language: `nuts`, `noix`
QuantitiesIn quantities_in(const NamedQuantities& named, const CakeParts& parts, const LabelTerms& terms, const std::string& language,
                           const std::vector<std::pair<std::string, std::string>>& words);

}  // namespace tierproof
