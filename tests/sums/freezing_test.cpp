#include "tierproof/sums/freezing.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "tierproof/sums/shelf_life.h"

namespace tierproof {
namespace {

Instant hour(int hours) { return Instant{std::chrono::sys_days{std::chrono::year{2026} / 5 / 1}} + std::chrono::hours{hours}; }
Date may(unsigned day) { return std::chrono::year{2026} / 5 / std::chrono::day{day}; }

using Times = std::vector<FrozenTime>;
const auto still = std::optional<Instant>{};

TEST(FrozenTimes, BeginWhenItIsPutIntoAFreezerAndEndWhenItIsPutElsewhere) {
  const std::vector<FreezerMove> moves{{hour(30), false}, {hour(2), true}};  // whatever the order of the notes
  EXPECT_EQ(frozen_times(moves, hour(0), hour(50), false), (Times{{hour(2), hour(30)}}));
  EXPECT_EQ(frozen_times(moves, hour(0), hour(20), false), (Times{{hour(2), still}})) << "not moved yet";
}

TEST(FrozenTimes, GoOnFromOneFreezerIntoAnother) {
  const std::vector<FreezerMove> moves{{hour(2), true}, {hour(10), true}, {hour(20), false}};
  EXPECT_EQ(frozen_times(moves, hour(0), hour(50), false), (Times{{hour(2), hour(20)}}));
}

TEST(FrozenTimes, EndWhenItIsTakenToBeUsed) {
  const std::vector<FreezerMove> moves{{hour(2), true}};
  EXPECT_EQ(frozen_times(moves, hour(0), hour(20), true), (Times{{hour(2), hour(20)}}));
  EXPECT_EQ(frozen_times(moves, hour(0), hour(20), false), (Times{{hour(2), still}}));
}

TEST(FrozenTimes, CountEveryFreezingAgain) {
  const std::vector<FreezerMove> moves{{hour(2), true}, {hour(20), false}, {hour(21), true}};
  EXPECT_EQ(frozen_times(moves, hour(0), hour(50), false), (Times{{hour(2), hour(20)}, {hour(21), still}}));
}

TEST(FrozenTimes, TakeOfTheMovesBeforeTheBeginningTheLast) {
  const std::vector<FreezerMove> moves{{hour(1), true}, {hour(2), false}, {hour(3), true}};
  EXPECT_EQ(frozen_times(moves, hour(10), hour(20), false), (Times{{hour(10), still}}));
  EXPECT_EQ(frozen_times(moves, hour(0), hour(1), false), Times{}) << "put there only at the end";
}

RC_GTEST_PROP(FrozenTimes, AreInOrderAndApart, ()) {
  std::vector<FreezerMove> moves;
  const auto count = *rc::gen::inRange(0, 12);
  for (int i = 0; i < count; ++i) moves.push_back({hour(*rc::gen::inRange(0, 40)), *rc::gen::arbitrary<bool>()});
  const auto times = frozen_times(moves, hour(5), hour(35), *rc::gen::arbitrary<bool>());
  for (std::size_t i = 0; i < times.size(); ++i) {
    RC_ASSERT(times[i].frozen >= hour(5));
    RC_ASSERT(times[i].thawed || i + 1 == times.size());
    if (times[i].thawed) RC_ASSERT((*times[i].thawed > times[i].frozen && *times[i].thawed <= hour(35)));
    if (i > 0) RC_ASSERT(times[i].frozen > *times[i - 1].thawed);
  }
}

TEST(FrozenOnce, SaysNothingOfACakeThatWasNeverFrozen) {
  EXPECT_EQ(judge_frozen_once("cake-1", {}), std::nullopt);
  EXPECT_EQ(judge_frozen_once("cake-1", std::vector{FrozenWay{"sponge (batch-1)", {}, Offset{0}}}), std::nullopt);
}

TEST(FrozenOnce, TellsTheDaysAndStopsAtTheSecondFreezing) {
  std::vector ways{FrozenWay{"sponge (batch-1)", {{hour(2), hour(30)}}, Offset{0}}};
  const auto once = judge_frozen_once("cake-1", ways);
  ASSERT_TRUE(once);
  EXPECT_EQ(once->verdict, Verdict::shown);
  EXPECT_EQ(once->message, "sponge (batch-1): frozen 1 May 2026, thawed 2 May 2026; nothing was frozen a second time, as recorded");
  ways.push_back(FrozenWay{"icing (batch-2)", {{hour(2), hour(30)}, {hour(60), still}}, Offset{0}});
  const auto twice = judge_frozen_once("cake-1", ways);
  EXPECT_EQ(twice->verdict, Verdict::not_met);
  EXPECT_EQ(twice->stop, Stop::no_override);
  EXPECT_EQ(twice->message, "icing (batch-2) was thawed and frozen again");
}

TEST(FreezerStay, IsNeverShownSinceNoRuleSetsItsLimit) {
  ChilledStay stay;
  stay.subject = "batch-1";
  stay.where = "chest freezer";
  stay.from = hour(0);
  stay.to = hour(2);
  Finding chilled;
  chilled.control = "cold-hold";
  chilled.verdict = Verdict::shown;
  chilled.stop = Stop::none;
  chilled.limit = "8 °C or below";
  const std::vector<Reading> readings{{hour(0), celsius(-19)}, {hour(1), std::nullopt}, {hour(2), celsius(-17)}, {hour(3), celsius(20)}};
  const Finding f = judge_freezer_stay(stay, readings, chilled);
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.stop, Stop::needs_person);
  EXPECT_EQ(f.limit, "");
  EXPECT_EQ(
      f.message,
      "chest freezer from 1 May 2026, 00:00 to 1 May 2026, 02:00: the air, not the food, was -19.0 to -17.0 °C by its readings; no rule "
      "in force sets a limit for a freezer");
  chilled.verdict = Verdict::not_met;
  chilled.stop = Stop::no_override;
  EXPECT_EQ(judge_freezer_stay(stay, readings, chilled), chilled) << "too warm for the fridge is too warm for the freezer";
}

/// Made on 1 May, keeps 4 days; 30 days frozen and 3 once thawed, the day of thawing included.
PartLife frozen_part(std::vector<std::vector<FrozenDays>> ways) {
  PartLife part{"sponge", "fridge", may(1), 4, "measured"};
  part.frozen_days = 30;
  part.thawed_days = 3;
  part.judged = may(20);
  part.ways = std::move(ways);
  return part;
}
std::optional<Date> date_of(const PartLife& part) { return shelf_life(std::vector{part}, {}).date; }

TEST(ShelfLife, RunsFromTheDayOfThawing) {
  const auto life = shelf_life(std::vector{frozen_part({{{may(2), may(20)}}})}, {});
  EXPECT_EQ(life.date, may(22));
  EXPECT_EQ(life.why, "sponge, made 1 May 2026, frozen 2 May 2026, thawed 20 May 2026, keeps 3 days once thawed (measured)");
  EXPECT_EQ(judge_use_by("cake-1", life, may(22)).verdict, Verdict::shown);
  EXPECT_EQ(judge_use_by("cake-1", life, may(23)).stop, Stop::no_override);
}

TEST(ShelfLife, GetsNoTimeFromAFreezingOfWhichTooLittleIsKnown) {
  PartLife part = frozen_part({{{may(2), may(20)}}});
  part.thawed_days.reset();
  EXPECT_EQ(date_of(part), may(5));
  EXPECT_EQ(shelf_life(std::vector{part}, {}).why,
            "sponge, made 1 May 2026, keeps 4 days (measured), frozen 2 May 2026, thawed 20 May 2026, which gives it no time: how long it "
            "keeps frozen and once thawed is not recorded");
  part.thawed_days = 3;
  part.frozen_days.reset();
  EXPECT_EQ(date_of(part), may(5));
}

TEST(ShelfLife, GetsNoTimeFromAFreezingThatCameTooLateOrTwiceOrForNoNight) {
  EXPECT_EQ(date_of(frozen_part({{{may(5), may(20)}}})), may(22)) << "frozen on its last day";
  EXPECT_EQ(date_of(frozen_part({{{may(6), may(20)}}})), may(5)) << "frozen the day after";
  EXPECT_EQ(date_of(frozen_part({{{may(2), may(4)}, {may(5), may(20)}}})), may(5)) << "frozen twice";
  EXPECT_EQ(date_of(frozen_part({{{may(5), may(5)}}})), may(5)) << "thawed on the same day";
  EXPECT_EQ(date_of(frozen_part({{{may(2), may(20)}}, {}})), may(5)) << "some of it went in unfrozen";
}

TEST(ShelfLife, EndsWithTheFrozenDaysWhenItWasThawedAfterThem) {
  PartLife part = frozen_part({{{may(2), may(20)}}});
  part.frozen_days = 10;
  EXPECT_EQ(date_of(part), may(12));
}

TEST(ShelfLife, IsNeverLongerAfterThawingThanAfterMaking) {
  PartLife part = frozen_part({{{may(2), may(20)}}});
  part.thawed_days = 30;
  EXPECT_EQ(date_of(part), may(24));
}

TEST(ShelfLife, OfWhatIsStillFrozenIsAsIfItWereThawedTodayAndNotShown) {
  const auto life = shelf_life(std::vector{frozen_part({{{may(2), std::nullopt}}})}, {});
  EXPECT_EQ(life.date, may(22)) << "judged on 20 May";
  EXPECT_EQ(life.at_latest, std::chrono::year{2026} / 6 / 1);
  EXPECT_EQ(life.not_known, (std::vector<std::string>{"when sponge, still frozen, is thawed"}));
  EXPECT_EQ(judge_use_by("cake-1", life, may(21)).verdict, Verdict::not_shown);
  EXPECT_EQ(judge_use_by("cake-1", life, may(30)).verdict, Verdict::not_shown) << "it may be thawed later";
  EXPECT_EQ(judge_use_by("cake-1", life, std::chrono::year{2026} / 6 / 2).verdict, Verdict::not_met) << "its frozen days are over";
}

TEST(ShelfLife, CountsTheUseByOfAPackUnlessItWasFrozenByThen) {
  LotLife cream{"cream", "C1", may(2), {}, {}, {}};
  const auto with = [&](const PartLife& part) { return shelf_life(std::vector{part}, std::vector{lot_within(cream, part)}).date; };
  EXPECT_EQ(with(frozen_part({{{may(2), may(20)}}})), may(22)) << "frozen on its last day";
  EXPECT_EQ(with(frozen_part({{{may(3), may(20)}}})), may(2)) << "past, and freezing rescues nothing";
  PartLife unknown = frozen_part({{{may(2), may(20)}}});
  unknown.thawed_days.reset();
  EXPECT_EQ(with(unknown), may(2));
  cream.use_by.reset();
  cream.use_within_days = 1;
  EXPECT_EQ(lot_within(cream, frozen_part({{{may(2), may(20)}}})).use_within_days, 1) << "nobody recorded when it was opened";
  cream.opened_on = may(1);
  EXPECT_EQ(lot_within(cream, frozen_part({{{may(2), may(20)}}})).use_within_days, std::nullopt);
  EXPECT_EQ(lot_within(cream, frozen_part({{{may(3), may(20)}}})).use_within_days, 1);
}

TEST(ShelfLife, KeepsADateThatCountsInOneOfTwoParts) {
  std::vector<LotLife> lots;
  add_lot(lots, LotLife{"cream", "C1", {}, {}, {}, {}});
  add_lot(lots, LotLife{"cream", "C1", may(2), {}, {}, {}});
  add_lot(lots, LotLife{"cream", "C1", {}, {}, {}, {}});
  ASSERT_EQ(lots.size(), 1u);
  EXPECT_EQ(lots.front().use_by, may(2));
}

TEST(ShelfLife, OfAFrozenRoomCakeIsAUseBy) {
  PartLife part = frozen_part({{{may(2), may(20)}}});
  part.storage = "room";
  EXPECT_EQ(shelf_life(std::vector{part}, {}).kind, "use by");
  part.ways.clear();
  EXPECT_EQ(shelf_life(std::vector{part}, {}).kind, "best before");
}

RC_GTEST_PROP(ShelfLife, IsNeverLongerForOneWayMore, ()) {
  const auto way = [] {
    std::vector<FrozenDays> days;
    const auto count = *rc::gen::inRange(0, 3);
    unsigned at = 1;
    for (int i = 0; i < count; ++i) {
      const unsigned frozen = at + *rc::gen::inRange(0u, 4u);
      at = frozen + *rc::gen::inRange(0u, 6u);
      days.push_back({may(frozen), may(at)});
    }
    return days;
  };
  PartLife part = frozen_part({way()});
  const Date before = *date_of(part);
  part.ways.push_back(way());
  RC_ASSERT((*date_of(part) <= before));
}

}  // namespace
}  // namespace tierproof
