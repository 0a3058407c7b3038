#include "tierproof/sums/nutrition_need.h"

#include <gtest/gtest.h>

#include "terms_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;

NutritionAsk small_maker() {
  NutritionAsk ask;
  ask.staff = 9;
  ask.turnover = 2'000'000;
  ask.all_direct_or_local = true;
  ask.claim_made = false;
  return ask;
}

TEST(NutritionNeed, IsSparedUpToTheEdgeOfASmallMaker) {
  EXPECT_FALSE(judge_nutrition_need(small_maker(), micro_business()).needed);
  NutritionAsk ten = small_maker();
  ten.staff = 10;
  EXPECT_TRUE(judge_nutrition_need(ten, micro_business()).needed);
  NutritionAsk rich = small_maker();
  rich.turnover = 2'000'001;
  EXPECT_TRUE(judge_nutrition_need(rich, micro_business()).needed);
  NutritionAsk far = small_maker();
  far.all_direct_or_local = false;
  EXPECT_TRUE(judge_nutrition_need(far, micro_business()).needed);
}

TEST(NutritionNeed, IsThereAsLongAsAnythingIsNotKnown) {
  const auto without = [](auto member) {
    NutritionAsk ask = small_maker();
    (ask.*member).reset();
    return judge_nutrition_need(ask, micro_business()).needed;
  };
  EXPECT_TRUE(without(&NutritionAsk::staff));
  EXPECT_TRUE(without(&NutritionAsk::turnover));
  EXPECT_TRUE(without(&NutritionAsk::all_direct_or_local));
  EXPECT_TRUE(without(&NutritionAsk::claim_made));
}

/// Units, strictly below in a year and up to in a week; a row that asks nothing of a figure needs none.
TEST(NutritionNeed, GoesByWhatTheRowAsks) {
  NutritionExemptionTerm yearly{fic("year", "none"), 10, 0, "", "", 10'000, 0, false};
  NutritionAsk ask;
  ask.claim_made = false;
  ask.staff = 9;
  EXPECT_TRUE(judge_nutrition_need(ask, yearly).needed) << "units are not known";
  ask.units_a_year = 9'999;
  EXPECT_FALSE(judge_nutrition_need(ask, yearly).needed) << "neither turnover nor where it goes is asked";
  ask.units_a_year = 10'000;
  EXPECT_TRUE(judge_nutrition_need(ask, yearly).needed);
  const NutritionExemptionTerm weekly{fic("week", "none"), 0, 0, "", "within 100 km", 0, 500, true};
  ask.units_a_week = 500;
  EXPECT_TRUE(judge_nutrition_need(ask, weekly).needed) << "where it goes is not known";
  ask.all_direct_or_local = true;
  EXPECT_FALSE(judge_nutrition_need(ask, weekly).needed);
  ask.units_a_week = 501;
  EXPECT_TRUE(judge_nutrition_need(ask, weekly).needed);
}

TEST(NutritionNeed, IsSparedByAnyRowThatHolds) {
  const NutritionExemptionTerm weekly{fic("week", "none"), 0, 0, "", "", 0, 500, true};
  const std::vector<NutritionExemptionTerm> both = {weekly, micro_business()};
  EXPECT_FALSE(judge_nutrition_need(small_maker(), both).needed) << "units a week are not known, the second row holds";
  NutritionAsk claims = small_maker();
  claims.claim_made = true;
  claims.units_a_week = 1;
  EXPECT_TRUE(judge_nutrition_need(claims, both).needed);
  EXPECT_TRUE(judge_nutrition_need(small_maker(), std::span<const NutritionExemptionTerm>{}).needed);
  const NutritionNeed neither = judge_nutrition_need(NutritionAsk{}, both);
  EXPECT_TRUE(neither.needed);
  EXPECT_NE(neither.source.find("Annex V 19"), std::string::npos);
}

TEST(NutritionNeed, IsNotSparedByARowFromMemory) {
  NutritionExemptionTerm doubtful = micro_business();
  doubtful.cited.from_memory = true;
  EXPECT_TRUE(judge_nutrition_need(small_maker(), doubtful).needed);
  doubtful.cited.confirmed = "A, 1 May 2026";
  EXPECT_FALSE(judge_nutrition_need(small_maker(), doubtful).needed);
}

TEST(NutritionNeed, NamesItsSource) {
  EXPECT_NE(judge_nutrition_need(small_maker(), micro_business()).source.find("Annex V 19"), std::string::npos);
}

}  // namespace
}  // namespace tierproof
