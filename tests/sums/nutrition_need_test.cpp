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

TEST(NutritionNeed, NamesItsSource) {
  EXPECT_NE(judge_nutrition_need(small_maker(), micro_business()).source.find("Annex V 19"), std::string::npos);
}

}  // namespace
}  // namespace tierproof
