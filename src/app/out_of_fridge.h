#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/sums/out_of_fridge.h"

namespace tierproof {

/// The batches in a cake, with how much of each.
std::map<BatchId, Mass> put_in_cake(const State& state, const CakeId& cake);
/// Places of the notes of the recipes that go into `recipe`, each as it stands, at whatever depth.
std::set<std::uint64_t> recipes_within(const State& state, const Recipe& recipe);

/// What was measured or written of how something keeps, and speaks of it; in the order of the log.
using OnFile = std::vector<const Recorded<Keeping>*>;

/// Of the recipe as it stands, with what goes into it as that stands.
OnFile on_file_of(const State& state, const RecipeId& recipe);
/// Of a batch: its recipe and those of what went into it are the versions that the note is of, none was corrected since, and each was made
/// by its figures: no share of what went in is off by more than half a hundredth or a fifth of itself, and no more than 2 hundredths of it are left as water
/// that the recipe bakes or boils away (common practice, no source). A left-over goes by what it was kept from.
OnFile on_file_of(const State& state, const BatchId& batch);
/// Of a finished cake: the same of each batch in it, with no part's share of the cake off by more than 5 hundredths (a choice, no source).
/// Of the cake itself that was measured it is enough that nothing of it was recorded since.
OnFile on_file_of(const State& state, const CakeId& cake);

/// For how many days it keeps without a fridge by the shortest written advice in `notes`; nothing where none sets any.
struct AdvisedDays {
  int days = 0;
  std::string by;  ///< `written advice of the food authority, 2 May 2026, kept in the blue folder, note 14`
};
std::optional<AdvisedDays> advised_days(const OnFile& notes);

/// A note in words, as `AdvisedDays::by`, or what was measured.
std::string keeping_in_words(const Recorded<Keeping>& note);

/// What is on file of one part, as the sum takes it.
StandingPart standing_part(std::string name, const OnFile& notes);
/// Water activity that a batch is estimated to have; nothing unless its packs say of all that is in it how much water it holds. All sugars
/// count as sucrose, what a batch weighs less than what went in as water.
std::optional<double> estimate_of_batch(const State& state, const BatchId& batch);

/// The table for food that is put together by hand; where none is in force everything is to be assessed.
ActivityTable open_food_table(const Session& session, Date on);

/// What is known of a cake that is to stand without a fridge.
Standing standing_of(const State& state, const CakeId& cake);

/// Judges that a cake which is to be kept without a fridge may stand so (`out-of-fridge`). Nothing where it is kept in one. After
/// `judge_life`.
void judge_standing(const Session& session, Judgement& judgement);

/// The finding of `out-of-fridge`, or nothing.
const Finding* standing_finding(const Judgement& judgement);

}  // namespace tierproof
