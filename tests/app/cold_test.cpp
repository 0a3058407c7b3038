#include "app/cold.h"

#include <fmt/format.h>

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

std::string clock_of_may(const std::string& clock) { return "2026-05-01T" + clock + "+01:00"; }

/// Icing that stood in the fridge from 08:00, built into a cake at 09:00. It is 20:00, and nothing was read yet. All times are of 1 May
/// 2026.
class KeptCake {
 public:
  explicit KeptCake(const std::string& rules = "gb-eng") {
    if (rules != "gb-eng") correct_note(kitchen, 1, {{"temperature_rules", Json{rules}}});
    kitchen.check_thermometers();
    kitchen.recipe("cream", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "195 g", "bowl", "none", "fridge",
                   R"(, "heated": "not heated")");
    batch = kitchen.make("cream", grams(195));
    kitchen.put_in(batch, "fridge");
    kitchen.at(clock_of_may("09:00"));
    cake = cake_of(kitchen, {{batch, grams(195)}});
    kitchen.put_in(cake, "fridge");
    kitchen.at(clock_of_may("20:00"));
  }
  KeptCake& read(const std::string& from, const std::string& to, const std::string& degrees, const std::string& probe = "logger",
                 const std::string& about = "fridge") {
    kitchen.readings(probe, about, clock_of_may(from), clock_of_may(to), degrees);
    return *this;
  }
  KeptCake& out(const std::string& from, const std::string& to) {
    for (const auto& [place, clock] : {std::pair{"worktop", from}, std::pair{"fridge", to}})
      kitchen.done([&, place = place, clock = clock](Session& s) { return put(s, cake, place, clock_of_may(clock)); });
    return *this;
  }
  Finding found(const std::string& subject) {
    for (const auto& finding : kitchen.judged(cake).findings) {
      if (finding.control == "cold-hold" && finding.subject == subject) return finding;
    }
    ADD_FAILURE() << subject;
    return {};
  }
  Finding out_found() { return found(cake + ", out of the fridge"); }
  /// The fridge at 4 °C all day but for 11:00 to 11:30.
  KeptCake& warm_before_noon(const std::string& degrees = "7.0") {
    return read("07:45", "10:45", "4.0").read("11:00", "11:30", degrees).read("11:45", "20:00", "4.0");
  }

  TestKitchen kitchen;
  std::string batch, cake;
};

TEST(TotalOfALife, CountsTheTimeThatTheFridgeWasTooWarmOnItsMaximum) {
  KeptCake kept("anz");
  kept.warm_before_noon().out("12:00", "12:59");
  EXPECT_EQ(kept.out_found().verdict, Verdict::shown) << kept.out_found().message;
  EXPECT_THAT(kept.out_found().message,
              HasSubstr("for 1 h 59 min in all, counted over its whole life (at most 1 h of it in the cold itself"));
  kept.out("15:00", "15:01");
  EXPECT_EQ(kept.out_found().verdict, Verdict::not_shown) << "10:45 to 11:45, 59 minutes and one more are two hours";
  KeptCake cold("anz");
  cold.warm_before_noon("4.0").out("12:00", "12:59").out("15:00", "15:01");
  EXPECT_EQ(cold.out_found().verdict, Verdict::shown);
}

TEST(TotalOfALife, CountsThatOfAPartToo) {
  KeptCake kept("anz");
  kept.read("07:45", "08:00", "4.0").read("08:15", "08:30", "7.0").read("08:45", "20:00", "4.0").out("12:00", "13:14");
  EXPECT_EQ(kept.out_found().verdict, Verdict::shown) << kept.out_found().message;
  EXPECT_THAT(kept.out_found().message, HasSubstr("45 min of it before, of what went into it"));
  kept.out("15:00", "15:01");
  EXPECT_EQ(kept.out_found().verdict, Verdict::not_shown);
}

TEST(TotalOfALife, IsNotShownWhereNobodyReadTheFridgeForTooLong) {
  KeptCake kept("anz");
  kept.read("07:45", "10:00", "4.0").read("11:30", "20:00", "4.0").out("12:00", "12:29");
  EXPECT_EQ(kept.out_found().verdict, Verdict::shown) << "an hour and a half that nobody read, and 29 minutes";
  kept.out("15:00", "15:01");
  EXPECT_EQ(kept.out_found().verdict, Verdict::not_shown);
  EXPECT_THAT(kept.out_found().message, HasSubstr("but no reading shows that it was cold for 1 h 30 min more"));
  KeptCake of_part("anz");
  of_part.read("09:00", "20:00", "4.0").out("12:00", "12:59");
  EXPECT_EQ(of_part.out_found().verdict, Verdict::shown);
  of_part.out("15:00", "15:01");
  EXPECT_EQ(of_part.out_found().verdict, Verdict::not_shown) << "from 08:00 to 09:00 nobody read the fridge that its cream stood in";
}

TEST(TotalOfALife, BelievesAThermometerInTheFoodBeforeTheAir) {
  KeptCake kept("anz");
  kept.warm_before_noon().read("10:45", "11:45", "3.0", "fork", kept.cake).out("12:00", "12:59").out("15:00", "15:01");
  EXPECT_EQ(kept.out_found().verdict, Verdict::shown) << kept.out_found().message;
  KeptCake warm("anz");
  warm.warm_before_noon("4.0").read("10:45", "11:45", "7.0", "fork", warm.cake).out("12:00", "12:59").out("15:00", "15:01");
  EXPECT_EQ(warm.out_found().verdict, Verdict::not_shown);
}

TEST(TotalOfALife, StandsOnTheChartAsWhatIsAllowedBeyondTheLimit) {
  KeptCake kept("anz");
  kept.warm_before_noon();
  const Judgement judged = kept.kitchen.judged(kept.cake);
  ASSERT_FALSE(judged.series.empty());
  ASSERT_TRUE(judged.series.front().allowance.has_value());
  EXPECT_EQ(judged.series.front().allowance->words, "warmer for less than 4 h in all its life");
}

TEST(TotalOfALife, IsOfNoOtherPlace) {
  KeptCake kept("gb-eng");
  kept.warm_before_noon().out("12:00", "12:59");
  EXPECT_THAT(kept.out_found().message, Not(HasSubstr("in all")));
}

TEST(StaysInNumbers, HaveEveryTimeTooWarmWithItsBoundsAndStandInTheRecord) {
  KeptCake kept;
  kept.warm_before_noon("8.5");
  const Judgement judged = kept.kitchen.judged(kept.cake);
  ASSERT_EQ(judged.stays.size(), 2U) << "of the batch until it was used up, and of the cake";
  EXPECT_TRUE(judged.stays[0].warm.empty());
  const StayTold& told = judged.stays[1];
  EXPECT_EQ(told.subject, kept.cake);
  EXPECT_EQ(told.thermometer, "fridge logger");
  EXPECT_FALSE(told.measured_food);
  ASSERT_EQ(told.warm.size(), 1U);
  EXPECT_EQ(told.warm[0].least, Span{}) << "8.5 °C less 0.55 °C is within the limit";
  EXPECT_EQ(told.warm[0].most, std::chrono::hours{1});
  const Finding finding = kept.found(kept.cake);
  ASSERT_EQ(finding.paths.size(), 1U);
  EXPECT_THAT(finding.paths[0], HasSubstr("1 May 2026, 11:00 to 11:30: above 8 °C for about"));
  EXPECT_THAT(finding.paths[0], HasSubstr("warmest 8.5 °C (7.95 °C to 9.05 °C with the error)"));

  const Json json = json_of(record_content(kept.kitchen.open(true), judged, "test"));
  const Json& stay = json.find("stays")->array().at(1);
  EXPECT_EQ(stay.find("limit_celsius_hundredths")->integer(), 800);
  EXPECT_EQ(stay.find("error_celsius_hundredths")->integer(), 55);
  EXPECT_EQ(stay.find("warmest_celsius_hundredths")->integer(), 850);
  const Json& warm = stay.find("too_warm")->array().at(0);
  EXPECT_EQ(warm.find("from")->text(), "2026-05-01T10:00:00+00:00");
  EXPECT_EQ(warm.find("at_least_ms")->integer(), 0);
  EXPECT_EQ(warm.find("at_most_ms")->integer(), 3'600'000);
  EXPECT_EQ(warm.find("peak_at_least_celsius_hundredths")->integer(), 795);
  EXPECT_EQ(warm.find("peak_at_most_celsius_hundredths")->integer(), 905);
  // 30 min at 0.5 °C over, and from and to 4 °C in 15 min: 15 * 0.5 / 4.5 / 2 * 0.5 on either side
  EXPECT_EQ(warm.find("over_limit_celsius_minutes_hundredths")->integer(), 1583);
  const Json& growth = stay.find("growth")->array().at(0);
  EXPECT_EQ(growth.find("of")->text(), "Salmonella in shell egg");
  EXPECT_FALSE(growth.find("warns")->boolean());
  EXPECT_GT(growth.find("at_most_log10_thousandths")->integer(), 0);
}

TEST(StaysInNumbers, WarnOfGrowthInTheEvidenceOfAShownStayAndOfATimeOut) {
  KeptCake kept;
  kept.read("07:45", "20:00", "4.0").out("10:00", "18:00");
  EXPECT_THAT(kept.out_found().evidence, Not(HasSubstr("warning")));
  kept.read("10:00", "12:00", "24.0", "fork", kept.cake);
  EXPECT_THAT(kept.out_found().evidence, Not(HasSubstr("warning"))) << "two hours at 24 °C are under 1 log";
  kept.read("12:15", "18:00", "24.0", "fork", kept.cake);
  bool warned = false;
  for (const auto& finding : kept.kitchen.judged(kept.cake).findings) {
    if (finding.evidence.find("warning: Salmonella in shell egg may have grown by 1.3 log") != std::string::npos) warned = true;
  }
  EXPECT_TRUE(warned) << "eight hours at 24 °C";
}

TEST(NotesOfARecord, TellWhereTheCakeWasAndUntilWhen) {
  KeptCake kept;
  kept.out("12:00", "13:00");
  std::vector<std::string> moves;
  for (const auto& line : record_content(kept.kitchen.open(true), kept.kitchen.judged(kept.cake), "test").entries) {
    if (line.text.find(" put in ") != std::string::npos) moves.push_back(line.text.substr(0, line.text.find(';')));
  }
  EXPECT_EQ(moves, (std::vector<std::string>{"batch-1 put in fridge", "cake-1 put in fridge, until 1 May 2026, 12:00",
                                             "cake-1 put in worktop, until 1 May 2026, 13:00", "cake-1 put in fridge"}));
}

TEST(StaysInNumbers, HaveNoLimitInAFreezer) {
  KeptCake kept;
  kept.kitchen.done([&](Session& s) { return add_place(s, "freezer", Place{"freezer", "freezer"}); });
  kept.kitchen.done([&](Session& s) { return put(s, kept.cake, "freezer", clock_of_may("10:00")); });
  kept.read("09:45", "20:00", "-18.0", "logger", "freezer");
  const Judgement judged = kept.kitchen.judged(kept.cake);
  const auto& told = judged.stays.back();
  EXPECT_EQ(told.where, "freezer");
  EXPECT_FALSE(told.limit.has_value());
  EXPECT_EQ(told.warmest, celsius(-18));
}

}  // namespace
}  // namespace tierproof
