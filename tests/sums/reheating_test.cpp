#include "tierproof/sums/reheating.h"

#include <gmock/gmock.h>

#include "readings.h"

namespace tierproof {
namespace {

using test::minute;
using test::readings;
using testing::HasSubstr;

ReheatTerm to_74() {
  ReheatTerm rule;
  rule.cited = {"reheat", "3-403.11(A)", false};
  rule.at = celsius(74);
  rule.hold = std::chrono::seconds{15};
  rule.within = std::chrono::hours{2};
  rule.out_of = celsius(5);
  return rule;
}

TemperatureTerms reheat_terms(std::optional<ReheatTerm> rule) {
  TemperatureTerms terms;
  terms.reheat = std::move(rule);
  terms.gaps = {{{"gap", "", false}, "heat step", std::chrono::minutes{1}}};
  return terms;
}

Finding reheated(const std::vector<Reading>& series, double error = 0, bool reliable = true, std::optional<ReheatTerm> rule = to_74(),
                 bool food = true) {
  return judge_reheating({"batch-1 (custard)", food}, series, kelvins(error), reliable, "by the fork", reheat_terms(std::move(rule)));
}

/// Cold at 0 min, at `hot` from `from` on for a quarter of a minute, cooler after it.
std::vector<Reading> heated_again(double cold, double from, double hot) {
  return readings({{0, cold}, {from, hot}, {from + 0.25, hot}, {from + 0.5, 60}});
}

TEST(Reheating, IsShownWhereItWasHotEnoughForLongEnoughAndInTime) {
  const Finding finding = reheated(heated_again(4, 60, 74));
  EXPECT_EQ(finding.verdict, Verdict::shown) << finding.message;
  EXPECT_EQ(finding.control, "reheating");
  EXPECT_EQ(finding.stop, Stop::none);
  EXPECT_EQ(finding.remedy, "");
  EXPECT_EQ(finding.limit, "74 °C for 15 s, unbroken, within 2 h of leaving 5 °C");
  EXPECT_EQ(finding.source, "[reheat: 3-403.11(A)]");
  EXPECT_EQ(reheated(heated_again(5, 120, 74)).verdict, Verdict::shown) << "each limit itself is within it";
}

TEST(Reheating, IsJudgedEachTimeByItselfAndAGoodOneVouchesForNoOther) {
  const auto good = heated_again(4, 60, 80);
  const auto twice = [&](const std::vector<Reading>& second) {
    std::vector<Reading> both = good;
    both.insert(both.end(), second.begin(), second.end());
    return reheated(both);
  };
  const Finding poor = twice(readings({{1440, 4}, {1500, 60}, {1500.5, 50}}));
  EXPECT_NE(poor.verdict, Verdict::shown) << poor.message;
  EXPECT_THAT(poor.message, HasSubstr("of 2 times that it was heated again: "));
  EXPECT_EQ(twice(readings({{1440, 4}, {1500, 80}, {1500.25, 80}, {1500.5, 60}})).verdict, Verdict::shown);
  EXPECT_NE(twice(readings({{300, 50}, {300.5, 40}})).verdict, Verdict::shown) << "more than two hours after it had been warm";
  EXPECT_EQ(twice(readings({{150, 40}})).verdict, Verdict::shown) << "still the same";
  EXPECT_NE(twice(readings({{90, 5}, {120, 60}, {120.5, 50}})).verdict, Verdict::shown) << "cold again in between, soon as it was";
  EXPECT_EQ(twice(readings({{90, 5.1}, {120, 50}})).verdict, Verdict::shown) << "not known to have been cold";
}

TEST(Reheating, CanBeginLongBeforeTheHotReadingsWhileItWasCold) {
  EXPECT_EQ(reheated(readings({{0, 3}, {150, 4}, {200, 80}, {200.25, 80}, {200.5, 60}})).verdict, Verdict::shown);
  ReheatTerm hot_alone = to_74();
  hot_alone.within.reset();
  hot_alone.out_of.reset();
  EXPECT_EQ(reheated(readings({{0, 4}, {200, 80}, {200.25, 80}, {200.5, 60}}), 0, true, hot_alone).verdict, Verdict::shown);
  EXPECT_NE(reheated(readings({{0, 60}, {1441, 80}, {1441.25, 80}, {1441.5, 60}}), 0, true, hot_alone).verdict, Verdict::shown)
      << "a day apart: 60 °C was another time";
}

TEST(Reheating, CountsTheThermometersErrorAgainstIt) {
  EXPECT_EQ(reheated(heated_again(4, 60, 74.5), 0.5).verdict, Verdict::shown);
  EXPECT_EQ(reheated(heated_again(4, 60, 74.4), 0.5).verdict, Verdict::not_shown);
  EXPECT_EQ(reheated(heated_again(4, 60, 73.4), 0.5).verdict, Verdict::not_shown) << "73.4 °C at a minute, then a gap before it";
  EXPECT_EQ(reheated(heated_again(4.5, 60, 75), 0.5).verdict, Verdict::shown);
  EXPECT_EQ(reheated(heated_again(4.6, 60, 75), 0.5).verdict, Verdict::not_shown) << "nothing shows that it was as cold as 5 °C";
}

TEST(Reheating, IsNotMetWhereItWasSurelyTooColdOrTooShort) {
  const auto colder = readings({{0, 4}, {0.5, 40}, {1, 73}, {1.5, 73.4}, {2, 60}});
  const Finding finding = reheated(colder, 0.5);
  EXPECT_EQ(finding.verdict, Verdict::not_met) << finding.message;
  EXPECT_EQ(finding.stop, Stop::no_override);
  EXPECT_THAT(finding.message, HasSubstr("hottest recorded 73.4 °C; it was not at 74 °C or above for 15 s"));
  EXPECT_EQ(reheated(readings({{0, 4}, {0.5, 40}, {1, 73}, {1.5, 73.5}, {2, 60}}), 0.5).verdict, Verdict::not_shown)
      << "with the error it may have reached";
  EXPECT_EQ(reheated(readings({{0, 4}, {0.5, 40}, {1, 73}}), 0.5).verdict, Verdict::not_shown) << "nobody read how hot it became";
  EXPECT_EQ(reheated(readings({{0, 4}, {0.1, 60}, {0.15, 74}, {0.2, 60}})).verdict, Verdict::not_met) << "6 s at most";
}

TEST(Reheating, IsNotMetWhereItSurelyTookTooLong) {
  const auto slow = readings({{0, 4}, {1, 6}, {122, 70}, {123, 75}, {123.5, 75}, {124, 60}});
  const Finding finding = reheated(slow);
  EXPECT_EQ(finding.verdict, Verdict::not_met) << finding.message;
  EXPECT_THAT(finding.message, HasSubstr("warmer than 5 °C and under 74 °C for at least 2 h 01 min (allowed 2 h)"));
  EXPECT_EQ(reheated(readings({{0, 4}, {2, 6}, {122, 70}, {123, 75}, {123.5, 75}, {124, 60}})).verdict, Verdict::not_shown)
      << "at least 2 h, at most 2 h 03 min: the readings leave it open";
  EXPECT_EQ(reheated(readings({{0, 4}, {1, 6}, {60, 5}, {122, 70}, {123, 75}, {123.5, 75}, {124, 60}})).verdict, Verdict::shown)
      << "it was cold again in between: the time counts from there";
  EXPECT_EQ(reheated(readings({{0, 4}, {1, 6}, {122, 70}, {123, 75}, {123.5, 75}, {124, 60}}), 1.5).verdict, Verdict::not_shown)
      << "6 °C may have been 4.5 °C";
}

TEST(Reheating, WithoutAReadingOfItColdShowsNoTime) {
  const Finding finding = reheated(heated_again(20, 10, 75));
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_THAT(finding.message, HasSubstr("nothing shows how long it took from 5 °C to 74 °C (allowed 2 h)"));
  EXPECT_THAT(finding.remedy, HasSubstr("as it leaves the cold"));
}

TEST(Reheating, IsNotShownByAirByADoubtfulThermometerOrWithoutReadings) {
  EXPECT_EQ(reheated(heated_again(4, 60, 80), 0, false).verdict, Verdict::not_shown);
  EXPECT_EQ(reheated(heated_again(4, 60, 80), 0, true, to_74(), false).verdict, Verdict::not_shown);
  EXPECT_EQ(reheated({}).verdict, Verdict::not_shown);
  EXPECT_EQ(reheated({{minute(0), std::nullopt}}).verdict, Verdict::not_shown);
}

TEST(Reheating, ByARowFromMemoryStopsForAPersonOnly) {
  ReheatTerm remembered = to_74();
  remembered.cited.from_memory = true;
  const Finding finding = reheated(readings({{0, 4}, {0.5, 40}, {1, 60}, {1.5, 50}}), 0, true, remembered);
  EXPECT_EQ(finding.verdict, Verdict::not_met);
  EXPECT_EQ(finding.stop, Stop::needs_person);
}

TEST(Reheating, OfARowWithoutATimeNeedOnlyBeReached) {
  ReheatTerm rule;
  rule.cited = {"reheat", "reg. 14", false};
  rule.at = celsius(82);
  EXPECT_EQ(reheated(readings({{0, 30}, {5, 82}}), 0, true, rule).verdict, Verdict::shown);
  EXPECT_EQ(reheated(readings({{0, 30}, {5, 81.9}}), 0, true, rule).verdict, Verdict::not_shown) << "5 min lie between two readings";
  EXPECT_EQ(reheated(readings({{0, 30}, {1, 81.9}, {2, 60}}), 0, true, rule).verdict, Verdict::not_met);
}

TEST(Reheating, WithoutARowSaysSoAndTellsWhatWasRead) {
  const Finding finding = reheated(heated_again(4, 60, 90), 0, true, std::nullopt);
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_EQ(finding.stop, Stop::needs_person);
  EXPECT_EQ(finding.message, "it was heated again; hottest recorded 90 °C; the rules chosen here give no number for reheating");
}

TEST(Reheating, TellsWhatHoldsWhileItIsKeptHot) {
  TemperatureTerms terms = reheat_terms(to_74());
  terms.hot_hold = HotHoldTerm{{"hot-food", "para. 6", false}, celsius(63)};
  const auto paths = [&] { return judge_reheating({"batch-1"}, {}, {}, true, "", terms).paths; };
  EXPECT_EQ(paths(), std::vector<std::string>{"kept hot until it is served: at 63 °C or above [hot-food: para. 6]"});
  terms.hot_allowance = HotAllowance{{"hot-allowance", "para. 7", false}, std::chrono::hours{2}, true};
  EXPECT_EQ(paths(),
            std::vector<std::string>{"kept hot until it is served: at 63 °C or above [hot-food: para. 6]; below it for less than 2 h, "
                                     "once [hot-allowance: para. 7]"});
}

}  // namespace
}  // namespace tierproof
