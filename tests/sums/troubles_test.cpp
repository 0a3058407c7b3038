#include "tierproof/sums/troubles.h"

#include <gtest/gtest.h>

namespace tierproof {
namespace {

MetTrouble about_the_fridge(const std::string& food) {
  MetTrouble met;
  met.id = "trouble-1";
  met.since = "1 May 2026, 06:30";
  met.ways = {"batch-2 (icing) stood in cake fridge from 30 April 2026, 10:00"};
  met.told = "told by ada";
  met.food = food;
  if (!food.empty()) met.closed = "1 May 2026, 10:00 by ada";
  return met;
}
MetTrouble about_a_batch(const std::string& food) {
  MetTrouble met = about_the_fridge(food);
  met.named_food = {"batch-2"};
  return met;
}
Finding only(const MetTrouble& met) {
  const auto findings = judge_went_wrong("cake-1", std::vector{met});
  EXPECT_EQ(findings.size(), 1u);
  return findings.empty() ? Finding{} : findings.front();
}

TEST(WentWrong, StopsWithoutOverrideWhileItIsOpen) {
  const Finding f = only(about_the_fridge(""));
  EXPECT_EQ(f.control, "went-wrong");
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.stop, Stop::no_override);
  EXPECT_EQ(f.paths, about_the_fridge("").ways);
}

TEST(WentWrong, StaysToBeSeenWhereTheFoodWasUsed) {
  for (const auto& met : {about_the_fridge("used"), about_a_batch("used"), about_the_fridge("binned"), about_the_fridge("remade")}) {
    EXPECT_EQ(only(met).stop, Stop::needs_person) << met.food;
    EXPECT_EQ(only(met).verdict, Verdict::not_shown) << met.food;
    EXPECT_NE(only(met).message.find("what became of the food: " + met.food), std::string::npos);
  }
}

TEST(WentWrong, KeepsFoodOutThatWasBinnedOrMadeAnew) {
  for (const char* food : {"binned", "remade"}) {
    const Finding f = only(about_a_batch(food));
    EXPECT_EQ(f.verdict, Verdict::not_met);
    EXPECT_EQ(f.stop, Stop::no_override);
    EXPECT_EQ(f.message, std::string{"batch-2 was recorded as "} + food + " when trouble-1 was closed (1 May 2026, 10:00 by ada)");
  }
  MetTrouble cake = about_the_fridge("binned");
  cake.names_cake = true;
  EXPECT_EQ(only(cake).stop, Stop::no_override);
  cake.food = "remade";
  EXPECT_EQ(only(cake).stop, Stop::needs_person) << "a cake made again keeps its number";
}

TEST(WentWrong, IsOverForAPlaceThatTouchedNoFoodButNotForFoodThatItNames) {
  EXPECT_TRUE(judge_went_wrong("cake-1", std::vector{about_the_fridge("no food touched")}).empty());
  EXPECT_EQ(only(about_a_batch("no food touched")).stop, Stop::needs_person);
}

TEST(ThrownAway, StopsTheCakeAndWhatWasUsedTwice) {
  EXPECT_EQ(judge_cake_binned("cake-1", "1 May 2026, 10:00", 7).stop, Stop::no_override);
  EXPECT_EQ(judge_cake_binned("cake-1", "1 May 2026, 10:00", 7).verdict, Verdict::not_met);
  const Finding f = judge_binned_and_used("cake-1", "batch-1 (sponge)", "120 g");
  EXPECT_EQ(f.stop, Stop::no_override);
  EXPECT_EQ(f.message, "120 g more of batch-1 (sponge) was used and thrown away than there was of it");
}

}  // namespace
}  // namespace tierproof
