#include "tierproof/sums/out_of_fridge.h"

#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

namespace tierproof {
namespace {

using testing::HasSubstr;

// The table for food put together by hand: FDA Food Code 1-201.10(B), table B.
ActivityTable open_food() {
  ActivityTable table;
  table.cited = {"activity-open-food", "1-201.10(B)", false};
  table.food = "open";
  table.activity = {{share_of(88, 100), false}, {share_of(90, 100), true}, {share_of(92, 100), true}};
  table.ph = {{share_of(42, 10), false}, {share_of(46, 10), true}, {share_of(5, 1), true}};
  table.assessed = {{false, false, false, false}, {false, false, false, true}, {false, false, true, true}, {false, true, true, true}};
  return table;
}

ActivityMeasured meter_read(int thousandths, std::optional<int> ph_tenths = std::nullopt, int error = 0) {
  ActivityMeasured read;
  read.activity = share_of(thousandths, 1000);
  read.activity_error = share_of(error, 1000);
  if (ph_tenths) read.ph = share_of(*ph_tenths, 10);
  read.told = "measured";
  return read;
}
StandingPart standing_part(const char* name, std::optional<ActivityMeasured> by_meter = std::nullopt) {
  StandingPart standing{name};
  if (by_meter) standing.measured.push_back(std::move(*by_meter));
  return standing;
}
Finding standing_judged(std::vector<StandingPart> parts) { return judge_out_of_fridge({"cake-1", std::move(parts)}, open_food()); }

TEST(OutOfFridge, IsNotShownForWhatNobodyMeasured) {
  const Finding finding = standing_judged({standing_part("sponge"), standing_part("icing", meter_read(800))});
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_EQ(finding.stop, Stop::needs_person);
  EXPECT_THAT(finding.message, HasSubstr("counts as needing one: sponge: nothing was measured"));
  EXPECT_EQ(standing_judged({}).verdict, Verdict::not_shown) << "a cake of nothing known";
}

TEST(OutOfFridge, NeverTakesAnEstimateForAMeasurement) {
  StandingPart dry = standing_part("shells");
  dry.estimate = 0.40;
  EXPECT_EQ(standing_judged({dry}).verdict, Verdict::not_shown);
  EXPECT_THAT(standing_judged({dry}).message, HasSubstr("which shows nothing"));
  StandingPart wet = standing_part("ganache");
  wet.estimate = 0.98;
  EXPECT_EQ(standing_judged({wet}).verdict, Verdict::not_shown);
  EXPECT_THAT(standing_judged({wet}).message, HasSubstr("by which it needs the fridge"));
}

TEST(OutOfFridge, IsJudgedByTheTableWithTheErrorsAdded) {
  EXPECT_EQ(standing_judged({standing_part("icing", meter_read(879))}).verdict, Verdict::shown) << "below 0.88 any pH will do";
  EXPECT_EQ(standing_judged({standing_part("icing", meter_read(880))}).verdict, Verdict::not_met)
      << "0.88 itself, and no pH counts as not sour";
  EXPECT_EQ(standing_judged({standing_part("icing", meter_read(880))}).stop, Stop::needs_person);
  EXPECT_EQ(standing_judged({standing_part("icing", meter_read(880, 50))}).verdict, Verdict::shown)
      << "a pH of 5.0 is in the band that it ends";
  EXPECT_EQ(standing_judged({standing_part("icing", meter_read(880, 51))}).verdict, Verdict::not_met);
  EXPECT_EQ(standing_judged({standing_part("icing", meter_read(870, std::nullopt, 9))}).verdict, Verdict::shown);
  EXPECT_EQ(standing_judged({standing_part("icing", meter_read(870, std::nullopt, 10))}).verdict, Verdict::not_met);
  ActivityMeasured sour = meter_read(900, 50);
  sour.ph_error = share_of(1, 10);
  EXPECT_EQ(standing_judged({standing_part("curd", sour)}).verdict, Verdict::not_met);
}

TEST(OutOfFridge, LooksWhereWetAndLittleSourTouch) {
  // By themselves both are free: 0.95 at pH 4.1, and 0.60 at pH 7. Where they touch it may be 0.95 at pH 7.
  const Finding finding = standing_judged({standing_part("curd", meter_read(950, 41)), standing_part("sponge", meter_read(600, 70))});
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_THAT(finding.message, HasSubstr("water moves where they touch"));
  EXPECT_EQ(standing_judged({standing_part("curd", meter_read(950, 41)), standing_part("jelly", meter_read(600, 40))}).verdict,
            Verdict::shown);
}

TEST(OutOfFridge, OfAWetPartIsNotHelpedByADryWhole) {
  Standing cake{"cake-1", {standing_part("cream", meter_read(960, 65)), standing_part("sponge")}};
  cake.whole = {meter_read(870, 60)};
  const Finding f = judge_out_of_fridge(cake, open_food());
  EXPECT_EQ(f.verdict, Verdict::not_met);
  EXPECT_THAT(f.message, testing::HasSubstr("cream"));
}

TEST(OutOfFridge, GoesByTheFinishedFoodWhereThatWasMeasuredOrAdvised) {
  Standing cake{"cake-1", {standing_part("curd", meter_read(950, 41)), standing_part("sponge")}};
  cake.whole = {meter_read(870, 60)};
  EXPECT_EQ(judge_out_of_fridge(cake, open_food()).verdict, Verdict::shown);
  cake.whole.push_back(meter_read(930, 60));
  EXPECT_EQ(judge_out_of_fridge(cake, open_food()).verdict, Verdict::not_met) << "of two measurements each counts";
  cake.advice = "letter of the food authority, 2 May 2026";
  EXPECT_EQ(judge_out_of_fridge(cake, open_food()).verdict, Verdict::shown);
  cake.against = "letter of another authority, 3 May 2026";
  EXPECT_EQ(judge_out_of_fridge(cake, open_food()).verdict, Verdict::not_met) << "whatever else is on file";
}

TEST(OutOfFridge, GoesByAdviceThatAPartNeedsTheFridge) {
  StandingPart curd = standing_part("curd", meter_read(600, 40));
  curd.against = "the food authority, 2 May 2026";
  const Finding finding = standing_judged({standing_part("sponge", meter_read(600, 40)), curd});
  EXPECT_EQ(finding.verdict, Verdict::not_met);
  EXPECT_THAT(finding.message, HasSubstr("curd needs the fridge by what is on file: the food authority"));
}

TEST(OutOfFridge, TakesEachOfSeveralMeasurementsOfAPart) {
  StandingPart curd = standing_part("curd", meter_read(950, 41));
  curd.measured.push_back(meter_read(950, 42));
  EXPECT_EQ(standing_judged({curd}).verdict, Verdict::not_met);
  StandingPart sponge = standing_part("sponge", meter_read(600, 40));
  sponge.measured.push_back(meter_read(870, 70));
  EXPECT_EQ(standing_judged({sponge}).verdict, Verdict::shown);
  EXPECT_EQ(standing_judged({sponge, standing_part("curd", meter_read(950, 41))}).verdict, Verdict::not_shown)
      << "the less sour one counts where they touch";
}

TEST(OutOfFridge, TakesAdviceForAPartOnlyWhereItIsTheOnlyOne) {
  StandingPart shells = standing_part("shells");
  shells.advice = "laboratory, 3 March 2026";
  EXPECT_EQ(standing_judged({shells}).verdict, Verdict::shown);
  shells.measured = {meter_read(930, 60)};
  EXPECT_EQ(standing_judged({shells}).verdict, Verdict::shown) << "it is the assessment that the table asks for";
  EXPECT_EQ(standing_judged({shells, standing_part("jam", meter_read(780, 33))}).verdict, Verdict::not_shown)
      << "nobody advised on the two together";
}

RC_GTEST_PROP(OutOfFridgeProperty, IsNeverBetterWetterOrLessSour, ()) {
  const int activity = *rc::gen::inRange(500, 990), ph = *rc::gen::inRange(30, 80);
  const int wetter = *rc::gen::inRange(0, 10), less_sour = *rc::gen::inRange(0, 10);
  const auto first = standing_judged({standing_part("a", meter_read(activity, ph))}).verdict;
  const auto other = standing_judged({standing_part("a", meter_read(activity + wetter, ph + less_sour))}).verdict;
  RC_ASSERT(first != Verdict::not_met || other == Verdict::not_met);
}

}  // namespace
}  // namespace tierproof
