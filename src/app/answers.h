#pragma once

#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/sums/cross_contact.h"

namespace tierproof {

/// Keys, or words for several, as they are kept: separated by commas.
std::vector<std::string> split_keys(const Words& words);
std::string joined_keys(const std::vector<std::string>& keys);

/// The food in an answer that the law's list does not have, kept as `other:strawberry`; empty for any other answer.
std::string unlisted_food(const std::string& said);

/// The key of the allergen that a label calls `word`; the word itself where the rules have none.
std::string key_of(const LabelTerms& terms, const std::string& word);
/// The words of the label for `keys`; a key that the rules do not have stands as it is.
std::vector<std::string> words_of_keys(const LabelTerms& terms, const std::vector<std::string>& keys);

/// Every allergen that the customer named, a vague word spelt out as all that it may mean.
std::vector<std::string> named_allergens(const State& state, const CakeId& cake, const LabelTerms& terms);
/// Keys whose traces the customer accepted in writing.
std::vector<std::string> accepted_allergens(const State& state, const CakeId& cake);

/// The answer to the allergy question against what the cake holds, and what a changed answer asks for.
/// @param met  the contacts on shared kit of every batch, by the word of the allergen
void judge_answer(const State& state, Judgement& judgement, const std::vector<Contact>& met);

/// Labels that went out before the answer changed: they are void.
std::vector<std::uint64_t> labels_before_answer(const State& state, const CakeId& cake);

}  // namespace tierproof
