#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tierproof/units/finding.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// What a customer answered to the allergy question, beside what the cake holds.
struct AllergyQuestion {
  std::string cake;
  std::string answer;                    ///< `none`, `named`, `not asked`; empty: nothing is recorded
  bool erased = false;                   ///< allergens were named and have been erased since
  std::vector<std::string> named;        ///< keys; without those of `vague`
  std::vector<std::string> accepted;     ///< keys whose traces the customer accepted in writing
  std::vector<std::string> contains;     ///< keys that the cake contains, below a threshold of the law too
  std::vector<std::string> may_contain;  ///< keys that a supplier or shared kit may bring
  std::vector<std::string> unknown;      ///< keys that nobody can rule out
  /// Words for several allergens that the customer used, with the keys that each may mean: not asked yet which.
  std::vector<std::pair<std::string, std::vector<std::string>>> vague = {};
};

/// Judges the answer (control `allergy-answer`): one finding for each allergen named, or one for the whole answer.
///
/// A named allergen that the cake contains, or that nobody can rule out, has no override. Traces (`may contain`) have none
/// either unless the customer accepted them in writing. A question that was not asked is *not shown*. A vague word has no override
/// until it was asked which, and counts as everything that it may mean.
/// @param word  the word for a key, `nuts:almond` → `almonds`
std::vector<Finding> judge_allergy(const AllergyQuestion& question, const std::vector<std::pair<std::string, std::string>>& words);

/// Judges an allergy to a food that the law's list does not have (control `allergy-answer`): *not met* without override where a pack names
/// the food, else *not shown* for a person, since packs answer only for the list. Never a pass.
/// @param food   as the customer said it, `strawberry`
/// @param packs  in words, those whose name or parts hold that word
Finding judge_unlisted_allergy(const std::string& cake, const std::string& food, const std::vector<std::string>& packs);
/// Whether `food` stands in `text`, whatever the case, as a word or the beginning of one, in the singular or the plural:
/// `strawberry` in `Strawberries`, `egg` in `Eggs`, not in `veggie`.
bool names_food(std::string_view text, std::string_view food);

/// An allergen that the customer named, and where it stands in what is planned, in words.
struct PlannedMeeting {
  std::string word;
  std::vector<std::string> contains;
  std::vector<std::string> may_contain;
  std::vector<std::string> unknown;
  std::vector<std::string> shared_kit;
};
/// Compares a stated allergy with a plan (control `planned-allergy`): *not met* for what is planned to contain it, else *not
/// shown*, since nothing is made yet: never a pass. One finding an allergen, and a last one for all that meet nothing.
std::vector<Finding> judge_planned_allergy(const std::string& cake, const std::vector<PlannedMeeting>& meetings);

/// The answer was changed after something was built for the cake (control `answer-changed`): the whole cake has to be looked at again.
/// @param note  that changed it
Finding judge_answer_changed(const std::string& cake, std::uint64_t note, Date on);

}  // namespace tierproof
