#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/composition.h"
#include "tierproof/sums/label_terms.h"
#include "tierproof/units/finding.h"
#include "tierproof/units/result.h"

namespace tierproof {

// What the name of a food tells of its allergens. A name is a hint: it makes somebody ask, and speaks against a specification that
// says otherwise. It never clears anything; the specification decides.

/// What a word or phrase of names says.
enum class NameMeaning {
  contains,       ///< it is made of these allergens, whatever else is said
  usually,        ///< the same, unless a claim or a full list of parts beside it says otherwise: then it has to be asked
  ask,            ///< it may bring these (none named: anything): its specification has to be asked
  source,         ///< the same, until the name or a bracket says what it was made from
  exempt,         ///< a product that the law exempts
  exempts,        ///< in itself no allergen; made from these ones, it is exempt: glucose syrup from wheat
  softens,        ///< harmless where it says what it is made from; from these, or with no word of it, it has to be asked: oil
  harmless,       ///< none of the allergens of the law
  neutral,        ///< says nothing: `ground`, `organic`
  claim,          ///< a word that denies these: `gluten free`
  doubts_before,  ///< what stands before it may be only the taste of it: `almond flavouring`
  doubts_after    ///< what stands after it is not promised: `imitation crab`
};
/// The term in files, `doubts before`, and back.
std::string_view term_of(NameMeaning meaning);
std::optional<NameMeaning> name_meaning(std::string_view term);

/// One line of the vocabulary.
struct NameWord {
  std::string phrase;  ///< `wheat flour`; singular, small letters
  NameMeaning meaning = NameMeaning::neutral;
  std::vector<std::string> keys;  ///< allergens, or a heading of the law's list: `nuts`
  std::string process;            ///< of what is exempt: as a specification names it, `wheat glucose syrup`
  std::string where;              ///< file and line, for refusals
};

/// The vocabulary, by folded phrase.
struct NameHints {
  std::map<std::string, NameWord, std::less<>> words;
  std::size_t longest = 1;  ///< words of the longest phrase
  /// What an allergen counts as where the rules do not list it: triticale as wheat and rye. Without an entry it drops out.
  std::map<std::string, std::vector<std::string>> otherwise;
};

/// Whether `key` is what `other` says: the same, or one of its group.
bool is_within(std::string_view key, std::string_view other);

/// Builds the vocabulary. Refuses a phrase with no word in it, and one phrase with two meanings.
Result<NameHints> name_hints_of(const std::vector<NameWord>& words, std::map<std::string, std::vector<std::string>> otherwise);

/// One allergen that a name speaks of, and the words that did.
struct Hinted {
  std::string allergen;                ///< key or heading; empty when only the whole specification can tell
  std::string words;                   ///< `soya lecithin`
  std::string process;                 ///< of what is exempt
  std::vector<std::string> otherwise;  ///< see `NameHints::otherwise`
  friend bool operator==(const Hinted&, const Hinted&) = default;
};

enum class HintVerdict { contains, ask, exempt, none };
std::string_view term_of(HintVerdict verdict);

/// What a name tells.
struct NameHint {
  HintVerdict verdict = HintVerdict::ask;
  std::vector<Hinted> contains;
  std::vector<Hinted> ask;  ///< also beside `contains`; an entry without a key asks for the whole specification
  std::vector<Hinted> exempt;
  std::vector<std::string> unknown_words;  ///< words that the vocabulary lacks: they are asked about too
  bool asks() const { return !ask.empty() || !unknown_words.empty(); }
  bool contains_key(std::string_view key) const;
  bool asks_for(std::string_view key) const;
};

/// Reads the name of a food.
///
/// The longest phrase of the vocabulary wins, in whole words: case, accents, hyphens, apostrophes, plural forms and blanks between
/// words do not matter (`butter milk`, `Buttermilks`). Numbers of additives are read in every way of writing. What stands in brackets
/// counts too: a full list of parts settles what the name alone would have to ask. Percentages and amounts are passed over.
///
/// *None* is given only when every word that says something is known as harmless. A name of which nothing is known, one unknown word in
/// it, or a claim (`dairy free`) without a full list of parts is *ask*.
/// Keys are all that the vocabulary has, also those that a law does not list: see `hint_under`.
NameHint hint_of(std::string_view name, const NameHints& hints);

/// The same hint where only `keys` are listed: others drop out, or count as what they are there (`NameHints::otherwise`).
NameHint keys_for(const NameHint& hint, const std::vector<std::string>& keys);

/// The same hint under the rules in force: by their allergens, and exempt only what one of their exemptions names; else it contains.
NameHint hint_under(const NameHint& hint, const LabelTerms& terms);

/// What a specification says against the name of the food, or does not answer, as plain sentences: an allergen in the name that it calls
/// absent or only possible, of which it says nothing, or that it has only as a product of another process (`flour`, and nothing but wheat
/// glucose syrup); and an allergen that the name makes somebody ask about, which it neither calls contained or possible nor, by itself and
/// with evidence, absent. An absence of all others together answers no such question.
std::vector<std::string> hint_complaints(std::string_view name, const std::vector<AllergenStatement>& statements, const NameHints& hints,
                                         const LabelTerms& terms);

/// The name of a food with all its parts in brackets, as one text for `hint_of`.
std::string name_with_parts(const IngredientFacts& food);

/// Control `names-agree`: each pack that has complaints as in `hint_complaints` is *not shown*, for a person to release with a reason. An
/// absence against what the name says stands where it was said of that allergen by itself and its evidence speaks of the matter; it is
/// told. What asks for the whole specification (`seasoning`) is answered by a statement on every allergen, which `allergens-known` judges.
/// One finding that all agree when nothing disagrees.
std::vector<Finding> judge_names(const CakeParts& parts, const Composition& made, const LabelTerms& terms, const NameHints& hints);

}  // namespace tierproof
