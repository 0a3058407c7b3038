#include "tierproof/sums/cooling_step.h"

#include <gmock/gmock.h>

#include "readings.h"

namespace tierproof::cooling_step_tests {
namespace {

using test::readings;
using testing::HasSubstr;
using testing::Not;

TemperatureTerms terms_with(const CoolingTerm& rule) {
  TemperatureTerms terms;
  terms.cooling = rule;
  return terms;
}
/// FDA Food Code 3-501.14(A): 57 to 21 °C within 2 h, and to 5 °C within 6 h in all.
TemperatureTerms two_stages() {
  CoolingTerm rule;
  rule.cited = {"cooling", "3-501.14(A)", false};
  rule.from = celsius(57);
  rule.via = celsius(21);
  rule.to = celsius(5);
  rule.first = std::chrono::hours{2};
  rule.total = std::chrono::hours{6};
  return terms_with(rule);
}
/// FSANZ Standard 3.2.2 clause 7(3): 60 to 21 °C within 2 h, 21 to 5 °C within a further 4 h.
TemperatureTerms with_second() {
  TemperatureTerms terms = two_stages();
  terms.cooling->cited = {"cooling", "clause 7(3)", false};
  terms.cooling->from = celsius(60);
  terms.cooling->total.reset();
  terms.cooling->second = std::chrono::hours{4};
  return terms;
}
/// The French rule: from +63 to below +10 °C in less than two hours.
TemperatureTerms one_stage() {
  CoolingTerm rule;
  rule.cited = {"cooling", "core from +63 to below +10 °C in less than two hours", false};
  rule.from = celsius(63);
  rule.to = celsius(10);
  rule.total = std::chrono::hours{2};
  rule.strictly = true;
  return terms_with(rule);
}
TemperatureTerms no_number() {
  TemperatureTerms terms;
  terms.no_numbers = {{{"no-number-cooling", "annex II ch. IX pt 6", true}, "cooling", "it is to be cooled as quickly as possible"}};
  return terms;
}

CooledPart custard() {
  CooledPart part;
  part.subject = "batch-3 (custard)";
  part.heated = true;
  part.heated_because = "its egg mix is heated";
  return part;
}
Finding judged(const TemperatureTerms& terms, const test::Shown& shown, double error = 0, bool reliable = true) {
  const auto finding = judge_cooling(custard(), readings(shown), kelvins(error), reliable, "fork", terms);
  EXPECT_TRUE(finding.has_value());
  return finding.value_or(Finding{});
}
Verdict verdict(const TemperatureTerms& terms, const test::Shown& shown, double error = 0) { return judged(terms, shown, error).verdict; }

// The four logs are worked out apart from this program; the hours are those of FDA Food Code 3-501.14(A).
const test::Shown quick{{0, 63.0}, {30, 50.0}, {60, 38.0}, {90, 27.0}, {110, 20.0}, {180, 12.0}, {260, 7.0}, {320, 5.0}};
const test::Shown slow{{0, 60.0}, {30, 52.0}, {60, 44.0}, {120, 33.0}, {160, 26.0}, {200, 20.5}, {300, 9.0}, {355, 5.0}};
const test::Shown sparse{{0, 70.0}, {60, 52.0}, {180, 20.0}, {360, 5.0}};
const test::Shown cut_off{{0, 62.0}, {60, 45.0}, {120, 25.0}, {150, 21.5}, {165, 20.0}};

TEST(CoolingStep, IsShownWhereEvenTheLongestTimesAreWithinTheRule) {
  const Finding f = judged(two_stages(), quick);
  EXPECT_EQ(f.control, "cooling");
  EXPECT_EQ(f.verdict, Verdict::shown);
  EXPECT_EQ(f.stop, Stop::none);
  EXPECT_EQ(f.remedy, "");
  EXPECT_EQ(f.limit, "57 °C to 21 °C within 2 h, and to 5 °C within 6 h in all");
  EXPECT_EQ(
      f.message,
      "cooled from 57 °C to 21 °C in at most 1 h 50 min (about 1 h 33 min, by straight lines between the readings), and to 5 °C in at "
      "most 5 h 20 min in all (about 5 h 06 min, by straight lines between the readings), thermometer error ±0 °C counted against it");
  EXPECT_THAT(f.source, HasSubstr("3-501.14(A)"));
}

TEST(CoolingStep, IsNotMetWithoutOverrideWhereEvenTheShortestIsBeyond) {
  const Finding f = judged(two_stages(), slow);
  EXPECT_EQ(f.verdict, Verdict::not_met);
  EXPECT_EQ(f.stop, Stop::no_override);
  EXPECT_THAT(f.message, HasSubstr("57 °C to 21 °C in at least 2 h 10 min"));
  TemperatureTerms remembered = two_stages();
  remembered.cooling->cited.from_memory = true;
  EXPECT_EQ(judged(remembered, slow).stop, Stop::needs_person) << "not firm, so it is no law that stops for good";
}

TEST(CoolingStep, IsNotShownWhereTheReadingsLeaveItOpenAndSaysWhenToReadNextTime) {
  const Finding f = judged(two_stages(), sparse);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.stop, Stop::needs_person);
  EXPECT_THAT(f.message, HasSubstr("57 °C to 21 °C in at most 3 h"));
  EXPECT_THAT(f.remedy, HasSubstr("at 57 °C or above, and again before 2 h and before 6 h are over"));
  const Finding open = judged(two_stages(), cut_off);
  EXPECT_EQ(open.verdict, Verdict::not_shown);
  EXPECT_THAT(open.message, HasSubstr("57 °C to 21 °C in 1 h 30 min to 2 h 45 min"));
  EXPECT_THAT(open.message, HasSubstr("not recorded at 5 °C or below to the end"));
}

TEST(CoolingStep, IsNotShownWithoutAReadingAtTheStartWhateverFollows) {
  const Finding f = judged(two_stages(), {{0, 56.9}, {30, 21.0}, {60, 5.0}});
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.message, HasSubstr("not recorded at 57 °C or above"));
  EXPECT_EQ(verdict(two_stages(), {{0, 57.0}, {30, 21.0}, {60, 5.0}}), Verdict::shown);
  EXPECT_EQ(verdict(two_stages(), {{0, 57.4}, {30, 20.0}, {60, 4.0}}, 0.5), Verdict::not_shown) << "57.4 may be 56.9";
}

TEST(WasHot, IsAReadingThatMayBeAtTheStartOfCooling) {
  EXPECT_TRUE(was_hot(readings({{0, 20.0}, {10, 57.0}}), {}, two_stages())) << "at it";
  EXPECT_FALSE(was_hot(readings({{0, 56.99}}), {}, two_stages()));
  EXPECT_TRUE(was_hot(readings({{0, 56.5}}), kelvins(0.5), two_stages())) << "56.5 may be 57";
  EXPECT_FALSE(was_hot(readings({{0, std::nullopt}}), {}, two_stages()));
  EXPECT_FALSE(was_hot(readings({{0, 90.0}}), {}, no_number()));
}

TEST(CoolingStep, TellsTheSecondsByWhichALimitWasPassed) {
  const Finding f = judged(two_stages(), {{0, 57.0}, {120.5, 21.0}, {300, 5.0}});
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.message, HasSubstr("in at most 2 h 30 s"));
}

TEST(CoolingStep, HoldsBothStagesToTheirLimits) {
  EXPECT_EQ(verdict(two_stages(), {{0, 57.0}, {120, 21.0}, {360, 5.0}}), Verdict::shown);
  EXPECT_EQ(verdict(two_stages(), {{0, 57.0}, {120.01, 21.0}, {360, 5.0}}), Verdict::not_shown);
  EXPECT_EQ(verdict(two_stages(), {{0, 57.0}, {120, 21.0}, {360.01, 5.0}}), Verdict::not_shown);
  EXPECT_EQ(verdict(two_stages(), {{0, 57.0}, {1, 50.0}, {60, 21.0}, {361.1, 5.1}}), Verdict::not_met) << "second stage surely over";
  EXPECT_EQ(verdict(with_second(), {{0, 60.0}, {90, 21.0}, {240, 5.0}}), Verdict::shown);
  EXPECT_EQ(verdict(with_second(), {{0, 60.0}, {1, 22.0}, {110, 20.0}, {242, 5.0}}), Verdict::not_shown) << "241 min after the last above";
  const Finding late = judged(with_second(), {{0, 60.0}, {1, 50.0}, {10, 20.0}, {251, 6.0}, {260, 5.0}});
  EXPECT_EQ(late.verdict, Verdict::not_met);
  EXPECT_THAT(late.message, HasSubstr("then to 5 °C in at least 4 h 01 min"));
  EXPECT_EQ(late.limit, "60 °C to 21 °C within 2 h, and to 5 °C within a further 4 h");
}

TEST(CoolingStep, OfOneStageIsJudgedStrictlyWhereTheRuleIs) {
  EXPECT_EQ(verdict(one_stage(), {{0, 63.0}, {60, 30.0}, {119.9, 9.9}}), Verdict::shown);
  EXPECT_EQ(verdict(one_stage(), {{0, 63.0}, {60, 30.0}, {120, 9.9}}), Verdict::not_shown) << "two hours are not less than two hours";
  EXPECT_EQ(verdict(one_stage(), {{0, 63.0}, {60, 30.0}, {119, 10.0}}), Verdict::not_shown) << "10 is not below 10";
  EXPECT_EQ(verdict(one_stage(), {{0, 62.9}, {60, 30.0}, {100, 9.0}}), Verdict::not_shown);
  const Finding f = judged(one_stage(), {{0, 63.0}, {10, 50.0}, {131, 10.1}});
  EXPECT_EQ(f.verdict, Verdict::not_met);
  EXPECT_EQ(f.limit, "63 °C to below 10 °C in less than 2 h");
  EXPECT_THAT(f.message, HasSubstr("cooled from 63 °C to 10 °C in at least 2 h 01 min"));
  TemperatureTerms loose = one_stage();
  loose.cooling->strictly = false;
  EXPECT_EQ(verdict(loose, {{0, 63.0}, {60, 30.0}, {120, 10.0}}), Verdict::shown);
  EXPECT_EQ(verdict(loose, {{0, 63.0}, {60, 30.0}, {120.01, 10.0}}), Verdict::not_shown);
}

TEST(CoolingStep, CountsTheErrorAgainstTheFood) {
  EXPECT_EQ(verdict(two_stages(), {{0, 60.0}, {119, 20.6}, {300, 4.0}}, 0.5), Verdict::not_shown) << "20.6 may be 21.1";
  EXPECT_EQ(verdict(two_stages(), {{0, 60.0}, {119, 20.5}, {300, 4.5}}, 0.5), Verdict::shown);
  EXPECT_EQ(verdict(two_stages(), {{0, 60.0}, {1, 50.0}, {130, 21.4}, {200, 20.0}, {300, 4.0}}, 0.5), Verdict::not_shown)
      << "21.4 may be 20.9, so it is not surely missed";
  EXPECT_EQ(verdict(two_stages(), {{0, 60.0}, {1, 50.0}, {130, 21.6}, {200, 20.0}, {300, 4.0}}, 0.5), Verdict::not_met);
}

TEST(CoolingStep, ThatWasWarmedAgainCountsFromItsFirstFall) {
  const Finding f = judged(two_stages(), {{0, 63.0}, {10, 50.0}, {180, 58.0}, {220, 20.0}, {350, 4.0}});
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.message, HasSubstr("counts from its first fall"));
}

TEST(CoolingStep, ThatRoseAboveTheEndAgainHasNotEnded) {
  EXPECT_EQ(verdict(two_stages(), {{0, 60.0}, {60, 20.0}, {200, 5.0}, {220, 5.2}}), Verdict::not_shown);
  EXPECT_EQ(verdict(two_stages(), {{0, 60.0}, {60, 20.0}, {200, 5.0}, {220, 5.2}, {240, 5.0}}), Verdict::shown);
  EXPECT_EQ(verdict(two_stages(), {{0, 60.0}, {60, 20.0}, {200, 5.0}, {220, std::nullopt}}), Verdict::not_shown) << "a fault says nothing";
}

TEST(CoolingStep, ByADoubtedThermometerIsNeverShownAndStillMissed) {
  const Finding f = judged(two_stages(), quick, 0, false);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_THAT(f.message, HasSubstr("no good checks"));
  EXPECT_EQ(judged(two_stages(), slow, 0, false).verdict, Verdict::not_met);
}

TEST(CoolingStep, OfTheAirSaysNothingOfTheFood) {
  CooledPart part = custard();
  part.measured_food = false;
  for (const auto& shown : {quick, slow}) {
    const auto f = judge_cooling(part, readings(shown), {}, true, "", two_stages());
    ASSERT_TRUE(f.has_value());
    EXPECT_EQ(f->verdict, Verdict::not_shown);
    EXPECT_THAT(f->message, HasSubstr("not the food"));
  }
}

TEST(CoolingStep, WithoutReadingsIsNotShownAndSaysHowItIsKnownToBeHot) {
  for (const test::Shown& shown : {test::Shown{}, test::Shown{{0, std::nullopt}}}) {
    const Finding f = judged(two_stages(), shown);
    EXPECT_EQ(f.verdict, Verdict::not_shown);
    EXPECT_EQ(f.stop, Stop::needs_person);
    EXPECT_EQ(f.message, "its egg mix is heated, and it is kept cold; no temperature of its cooling is recorded");
    EXPECT_THAT(f.remedy, HasSubstr("as it comes off the heat"));
  }
}

TEST(CoolingStep, OfAPartThatNobodySaidWasHeatedIsNotPassed) {
  CooledPart part = custard();
  part.heated.reset();
  const auto f = judge_cooling(part, {}, {}, false, "", two_stages());
  ASSERT_TRUE(f.has_value());
  EXPECT_EQ(f->verdict, Verdict::not_shown);
  EXPECT_THAT(f->message, HasSubstr("nothing recorded says whether it was heated"));
  EXPECT_EQ(judge_cooling(part, {}, {}, false, "", no_number()), std::nullopt);
  part.heated = false;
  EXPECT_EQ(judge_cooling(part, {}, {}, false, "", two_stages()), std::nullopt);
}

TEST(CoolingStep, WithoutANumberInTheLawIsForAPersonWithWhatWasRecorded) {
  const Finding f = judged(no_number(), quick);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.stop, Stop::needs_person);
  EXPECT_EQ(f.limit, "");
  EXPECT_THAT(f.message, HasSubstr("recorded 63 °C at 08:00 and 5 °C at 13:20, 5 h 20 min later"));
  EXPECT_THAT(f.message, HasSubstr("the law here gives no number for cooling: it is to be cooled as quickly as possible"));
  EXPECT_THAT(f.remedy, HasSubstr("your own plan"));
  EXPECT_EQ(judge_cooling(custard(), readings(quick), {}, true, "", TemperatureTerms{}), std::nullopt) << "rules that are silent";
}

TEST(CoolingStep, TellsTheTemperaturesInTheLawsOwnScaleToo) {
  TemperatureTerms terms = two_stages();
  terms.cooling->from_words = "135 °F (57.22 °C)";
  EXPECT_EQ(judged(terms, quick).limit, "135 °F (57.22 °C) to 21 °C within 2 h, and to 5 °C within 6 h in all");
}

TEST(CoolingStep, RefusesANegativeError) {
  EXPECT_THROW(judge_cooling(custard(), {}, kelvins(-1), true, "", two_stages()), std::invalid_argument);
}

}  // namespace
}  // namespace tierproof::cooling_step_tests
