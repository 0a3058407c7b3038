#include <fmt/format.h>

#include "app/app_for_tests.h"
#include "app/cold.h"

namespace tierproof {
namespace {

constexpr const char* service = "service or display";
constexpr const char* by_time = "time as the control";

/// A cake of icing that was in the fridge, by a logger at 4 °C, until it was taken out. All times are of 1 May 2026.
class TakenFromFridge {
 public:
  explicit TakenFromFridge(const std::string& rules = "gb-eng") {
    if (rules != "gb-eng") correct_note(kitchen, 1, {{"temperature_rules", Json{rules}}});
    kitchen.recipe("cream", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "195 g", "bowl", "none", "fridge",
                   R"(, "heated": "not heated")");
    batch = kitchen.make("cream", grams(195));
    kitchen.put_in(batch, "fridge");
  }
  void put(const std::string& what, const std::string& place, const std::string& clock, const PutFor& purpose = {}) {
    kitchen.done([&](Session& s) { return tierproof::put(s, what, place, at(clock), purpose); });
  }
  /// Builds the cake at `clock`; it goes into the fridge at once.
  void build(const std::string& clock) {
    kitchen.at(at(clock));
    cake = cake_of(kitchen, {{batch, grams(195)}});
    kitchen.put_in(cake, "fridge");
    kitchen.at(at("20:00"));
    kitchen.readings("logger", "fridge", at("07:45"), at("20:00"), "4.0");
  }
  /// What is found of the time out of the cold of `subject`; nothing: no finding.
  std::optional<Finding> out(const std::string& subject) {
    for (const auto& finding : kitchen.judged(cake).findings) {
      if (finding.subject == subject + ", out of the fridge") return finding;
    }
    return std::nullopt;
  }
  std::string verdict() { return std::string{term_of(out(cake).value().verdict)}; }
  static std::string at(const std::string& clock) { return "2026-05-01T" + clock + "+01:00"; }

  TestKitchen kitchen;
  std::string batch, cake;
};

TEST(Allowance, ForServiceIsOnceAndForLessThanFourHoursInEngland) {
  TakenFromFridge taken;
  taken.build("09:00");
  EXPECT_EQ(taken.out(taken.cake), std::nullopt);
  taken.put(taken.cake, "worktop", "12:00", {service});
  taken.put(taken.cake, "fridge", "15:59");
  EXPECT_EQ(taken.verdict(), "shown");
  EXPECT_EQ(taken.out(taken.cake)->paths, Strings{"1 May 2026, 12:00 to 15:59: worktop, for service or display"});
  taken.put(taken.cake, "worktop", "17:00", {service});
  taken.put(taken.cake, "fridge", "17:05");
  EXPECT_EQ(taken.verdict(), "not shown") << "once is once";
  TakenFromFridge four;
  four.build("09:00");
  four.put(four.cake, "worktop", "12:00", {service});
  four.put(four.cake, "fridge", "16:00");
  EXPECT_EQ(four.verdict(), "not shown") << "four hours are not less than four";
}

TEST(Allowance, IsNotLentToATimeThatNobodySaidWhatFor) {
  for (const char* use : {"", "handling", "transfer", "keeping", by_time}) {
    TakenFromFridge taken;
    taken.build("09:00");
    taken.put(taken.cake, "worktop", "12:00", {use});
    taken.put(taken.cake, "fridge", "12:30");
    EXPECT_EQ(taken.verdict(), "not shown") << use;
  }
}

TEST(Allowance, ForServiceIsSpentByAPartThatWasServedOrThatNobodySaidWhatFor) {
  const auto with = [](const std::string& use) {
    TakenFromFridge taken;
    taken.kitchen.at(taken.at("09:00"));
    taken.put(taken.batch, "worktop", "08:10", {use});
    taken.put(taken.batch, "fridge", "08:20");
    taken.build("09:00");
    taken.put(taken.cake, "worktop", "12:00", {service});
    taken.put(taken.cake, "fridge", "13:00");
    return taken.verdict();
  };
  EXPECT_EQ(with("handling"), "shown");
  EXPECT_EQ(with(service), "not shown");
  EXPECT_EQ(with(""), "not shown");
}

TEST(Allowance, ForServiceIsSpentByATimeInAChilledDisplayToo) {
  TakenFromFridge taken;
  taken.kitchen.done([](Session& s) { return add_place(s, "counter", Place{"counter", "display"}); });
  taken.build("09:00");
  taken.put(taken.cake, "counter", "10:00", {service});
  taken.put(taken.cake, "worktop", "12:00", {service});
  taken.put(taken.cake, "fridge", "13:00");
  EXPECT_EQ(taken.verdict(), "not shown");
}

TEST(Allowance, InAustraliaAddsUpTheTimesOfThePartsAndOfTheCake) {
  TakenFromFridge taken("anz");
  taken.kitchen.at(taken.at("09:30"));
  taken.put(taken.batch, "worktop", "08:10");
  taken.put(taken.batch, "fridge", "09:10");
  taken.build("09:30");
  taken.put(taken.cake, "worktop", "12:00");
  taken.put(taken.cake, "fridge", "12:30");
  EXPECT_EQ(taken.verdict(), "shown");
  EXPECT_THAT(taken.out(taken.cake)->message, HasSubstr("for 1 h 30 min in all, counted over its whole life (1 h of it before"));
  EXPECT_EQ(taken.out("batch-1 (cream)")->verdict, Verdict::shown) << "one hour by itself";
  taken.put(taken.cake, "worktop", "14:00", {service});
  taken.put(taken.cake, "fridge", "14:29");
  EXPECT_EQ(taken.verdict(), "shown") << "1 h 59 min";
  taken.put(taken.cake, "worktop", "15:00");
  taken.put(taken.cake, "fridge", "15:01");
  EXPECT_EQ(taken.verdict(), "not shown") << "two hours";
  EXPECT_THAT(taken.out(taken.cake)->message, HasSubstr("may not go back into the cold"));
}

TEST(Allowance, InAustraliaCountsWhatWentIntoAPartThatWentIntoTheCake) {
  TakenFromFridge taken("anz");
  TestKitchen& kitchen = taken.kitchen;
  taken.kitchen.at(taken.at("09:30"));
  taken.put(taken.batch, "worktop", "08:10");
  taken.put(taken.batch, "fridge", "09:10");
  kitchen.recipe("mousse", R"([{"of": "cream", "recipe": true, "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "195 g", "bowl",
                 "none", "fridge", R"(, "heated": "not heated")");
  const auto mousse = kitchen.make("mousse", grams(195));
  kitchen.put_in(mousse, "fridge");
  taken.batch = mousse;
  taken.build("10:00");
  taken.put(taken.cake, "worktop", "12:00");
  taken.put(taken.cake, "fridge", "13:00");
  EXPECT_EQ(taken.verdict(), "not shown") << "an hour of the cream and an hour of the cake";
}

/// Taken out at 12:00 with everything that the United States ask, unless told otherwise.
TakenFromFridge& timed(TakenFromFridge& taken, const PutFor& purpose) {
  taken.build("09:00");
  taken.put(taken.cake, "worktop", "12:00", purpose);
  return taken;
}

TEST(Allowance, ByTimeIsShownWithTheTimeMarkedTheProcedureAndTheColdBefore) {
  TakenFromFridge whole("us");
  timed(whole, {by_time, whole.at("16:00"), "blue folder"}).kitchen.at(whole.at("15:30"));
  EXPECT_EQ(whole.verdict(), "shown");
  EXPECT_THAT(whole.out(whole.cake)->message, HasSubstr("by 16:00, as marked"));
  whole.kitchen.at(whole.at("16:01"));
  EXPECT_EQ(whole.verdict(), "not shown") << "still out after the time marked";
  TakenFromFridge late("us");
  timed(late, {by_time, late.at("16:01"), "blue folder"}).kitchen.at(late.at("12:30"));
  EXPECT_EQ(late.verdict(), "not shown") << "more than four hours are marked, and for six the food has to be measured";
  TakenFromFridge unmarked("us");
  timed(unmarked, {by_time, "", "blue folder"}).kitchen.at(unmarked.at("12:30"));
  EXPECT_EQ(unmarked.verdict(), "not shown");
  TakenFromFridge unwritten("us");
  timed(unwritten, {by_time, unwritten.at("16:00"), ""}).kitchen.at(unwritten.at("12:30"));
  EXPECT_EQ(unwritten.verdict(), "not shown");
}

TEST(Allowance, ByTimeNeedsTheColdToBeShownAndNoWayBack) {
  TakenFromFridge back("us");
  timed(back, {by_time, back.at("16:00"), "blue folder"});
  back.put(back.cake, "fridge", "13:00");
  EXPECT_EQ(back.verdict(), "not shown");
  TakenFromFridge warm("us");
  warm.build("09:00");
  warm.kitchen.done([&](Session& s) { return import_csv(s, "logger", "fridge", "chilled", warm.at("11:50") + ",9.0\n"); });
  warm.put(warm.cake, "worktop", "12:00", {by_time, warm.at("16:00"), "blue folder"});
  warm.kitchen.at(warm.at("13:00"));
  EXPECT_EQ(warm.verdict(), "not shown");
  EXPECT_THAT(warm.out(warm.cake)->message, HasSubstr("nothing shows that it was at 5 °C or below"));
}

TEST(TimeOut, OfFoodThatAThermometerInItShowsToBeColdIsNone) {
  TakenFromFridge taken;
  taken.build("09:00");
  taken.put(taken.cake, "worktop", "12:00");
  taken.put(taken.cake, "fridge", "13:00");
  EXPECT_EQ(taken.verdict(), "not shown");
  taken.kitchen.readings("fork", taken.cake, taken.at("12:00"), taken.at("13:00"), "5.0");
  EXPECT_EQ(taken.out(taken.cake), std::nullopt);
  TakenFromFridge gap;
  gap.build("09:00");
  gap.put(gap.cake, "worktop", "12:00");
  gap.put(gap.cake, "fridge", "13:00");
  gap.kitchen.readings("fork", gap.cake, gap.at("12:00"), gap.at("12:15"), "5.0");
  EXPECT_EQ(gap.verdict(), "not shown");
}

TEST(Putting, SaysWhatForInClosedWordsAndMarksOnlyATimeThatIsTheControl) {
  TakenFromFridge taken;
  taken.build("09:00");
  const auto refused = [&](const PutFor& purpose) {
    return taken.kitchen.refused([&](Session& s) { return tierproof::put(s, taken.cake, "worktop", taken.at("12:00"), purpose); });
  };
  EXPECT_THAT(refused({"a party"}), HasSubstr("--for"));
  EXPECT_THAT(refused({service, taken.at("16:00"), ""}), HasSubstr("--marked: belongs to time as the control"));
  EXPECT_THAT(refused({service, "", "folder"}), HasSubstr("--procedure: belongs to time as the control"));
  EXPECT_THAT(refused({by_time, taken.at("12:00"), "folder"}), HasSubstr("is not later than when it was taken out"));
  EXPECT_THAT(refused({by_time, "four", "folder"}), HasSubstr("\"four\" is not a time"));
  taken.put(taken.cake, "worktop", "12:00", {by_time, "2026-05-01T23:00", "folder"});
  const Session session = taken.kitchen.open(true);
  const Stay& stay = session.state().stays.back().value;
  EXPECT_EQ(stay.use, by_time);
  EXPECT_EQ(stay.marked, parse_zoned(taken.at("23:00"))->at) << "a time ahead, in the kitchen's zone";
}

}  // namespace
}  // namespace tierproof
