#include "tierproof/sums/shelf_life.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace tierproof {
namespace {

Date in_may(unsigned day) { return std::chrono::year{2026} / 5 / std::chrono::day{day}; }

PartLife lasting(const std::string& name, const std::string& storage, unsigned made, int days) {
  return {name, storage, in_may(made), days, "the maker's decision"};
}
LotLife lot(const std::string& name) {
  LotLife one;
  one.name = name;
  one.code = "L1";
  return one;
}

TEST(ShelfLife, IsTheEarliestOfPartsUseByDatesAndOpenedPacks) {
  LotLife cream = lot("cream");
  const std::vector parts{lasting("sponge", "room", 1, 9), lasting("filling", "fridge", 2, 6)};
  EXPECT_EQ(shelf_life(parts, {}).date, in_may(8));
  cream.use_by = in_may(7);
  EXPECT_EQ(shelf_life(parts, std::vector{cream}).date, in_may(7));
  EXPECT_EQ(shelf_life(parts, std::vector{cream}).why, "cream L1 has to be used by 7 May 2026");
  cream.opened_on = in_may(2);
  cream.use_within_days = 3;
  const auto life = shelf_life(parts, std::vector{cream});
  EXPECT_EQ(life.date, in_may(5));
  EXPECT_EQ(life.why, "cream L1, opened 2 May 2026, has to be used within 3 days");
  EXPECT_EQ(life.kind, "use by");
  EXPECT_TRUE(life.not_known.empty());
}

TEST(ShelfLife, SaysWhichPartsDecided) {
  const auto life =
      shelf_life(std::vector{lasting("sponge", "room", 1, 5), lasting("filling", "fridge", 3, 3), lasting("icing", "room", 1, 30)}, {});
  EXPECT_EQ(life.why,
            "sponge, made 1 May 2026, keeps 5 days (the maker's decision); filling, made 3 May 2026, keeps 3 days (the maker's decision)");
}

PartLife seven_days_at_most(int own_days) {
  PartLife one = lasting("filling", "fridge", 1, own_days);
  one.cold_days = ColdDays{{"cold-days", "3-501.17", false}, 7};
  return one;
}

TEST(ShelfLife, OfAColdPartIsNoLongerThanTheRulesLetItBe) {
  const auto life = shelf_life(std::vector{seven_days_at_most(7)}, {});
  EXPECT_EQ(life.date, in_may(7)) << "US Food Code 3-501.17: day of preparation is day 1";
  EXPECT_EQ(life.at_latest, in_may(7));
  EXPECT_EQ(life.why,
            "filling, made 1 May 2026, kept cold for at most 7 days by the rules, counting the day it was made [cold-days: 3-501.17]");
  const auto own = shelf_life(std::vector{seven_days_at_most(6)}, {});
  EXPECT_EQ(own.date, in_may(7)) << "on one day the words are of its own life";
  EXPECT_EQ(own.why, "filling, made 1 May 2026, keeps 6 days (the maker's decision)");
  EXPECT_EQ(shelf_life(std::vector{seven_days_at_most(5)}, {}).date, in_may(6));
}

TEST(ShelfLife, OfAColdPartStandsStillWhileItIsFrozenAndDoesNotBeginAnew) {
  PartLife one = seven_days_at_most(30);
  one.frozen_days = 90;
  one.thawed_days = 20;
  const auto frozen = [&](unsigned day, std::optional<Date> thawed) {
    one.ways = {{FrozenDays{in_may(day), thawed}}};
    return shelf_life(std::vector{one}, {});
  };
  EXPECT_EQ(frozen(3, in_may(10)).date, in_may(14)) << "two days were over before it was frozen, five are left";
  EXPECT_EQ(frozen(7, in_may(10)).date, in_may(10)) << "frozen on its last day";
  EXPECT_EQ(frozen(8, in_may(10)).date, in_may(7)) << "too late: nothing comes back";
  one.judged = in_may(20);
  const auto still = frozen(3, std::nullopt);
  EXPECT_EQ(still.date, in_may(24)) << "as if it were thawed on the day judged";
  EXPECT_EQ(still.at_latest, add_days(in_may(3), 90)) << "while it stays frozen its own frozen life counts";
  one.ways = {{FrozenDays{in_may(2), in_may(3)}, FrozenDays{in_may(4), in_may(10)}}};
  EXPECT_EQ(shelf_life(std::vector{one}, {}).date, in_may(7)) << "frozen twice gives no time";
}

TEST(ShelfLife, ByARuleFromMemoryStopsForAPersonOnly) {
  PartLife one = seven_days_at_most(30);
  const auto judged = [&] { return judge_use_by("cake-1", shelf_life(std::vector{one}, {}), in_may(8)); };
  EXPECT_EQ(judged().verdict, Verdict::not_met);
  EXPECT_EQ(judged().stop, Stop::no_override);
  one.cold_days->cited.from_memory = true;
  EXPECT_EQ(judged().verdict, Verdict::not_met);
  EXPECT_EQ(judged().stop, Stop::needs_person);
  const auto both = shelf_life(std::vector{one, lasting("cream", "fridge", 2, 5)}, {});
  EXPECT_EQ(judge_use_by("cake-1", both, in_may(8)).stop, Stop::no_override) << "another part ends on the same day by itself";
}

TEST(ShelfLife, LetsTheStrictestPlaceWin) {
  const PartLife room = lasting("icing", "room", 1, 20), fridge = lasting("filling", "fridge", 1, 20),
                 freezer = lasting("ice", "freezer", 1, 20);
  EXPECT_EQ(shelf_life(std::vector{room}, {}).storage, "cool dry place");
  EXPECT_EQ(shelf_life(std::vector{room, fridge}, {}).storage, "fridge");
  EXPECT_EQ(shelf_life(std::vector{room, fridge}, {}).storage_why, "filling needs the fridge");
  EXPECT_EQ(shelf_life(std::vector{freezer, fridge, room}, {}).storage, "freezer");
}

TEST(ShelfLife, CountsAPlaceThatIsNotKnownAsTheFridgeAndSaysSo) {
  const auto life = shelf_life(std::vector{lasting("icing", "room", 1, 20), lasting("shells", "", 1, 20)}, {});
  EXPECT_EQ(life.storage, "fridge");
  EXPECT_EQ(life.storage_why, "where shells must be kept is not recorded, so it counts as needing the fridge");
  EXPECT_EQ(life.kind, "use by");
  EXPECT_EQ(shelf_life({}, {}).storage, "fridge");
}

TEST(ShelfLife, TakesABestBeforeForNoUseBy) {
  LotLife flour = lot("flour");
  flour.best_before = in_may(3);
  EXPECT_EQ(shelf_life(std::vector{lasting("filling", "fridge", 1, 7)}, std::vector{flour}).date, in_may(8));
  const auto dry = shelf_life(std::vector{lasting("biscuit", "room", 1, 7)}, std::vector{flour});
  EXPECT_EQ(dry.kind, "best before");
  EXPECT_EQ(dry.date, in_may(3));
  flour.use_by = in_may(6);
  EXPECT_EQ(shelf_life(std::vector{lasting("biscuit", "room", 1, 7)}, std::vector{flour}).kind, "use by");
}

TEST(ShelfLife, NamesWhatIsNotKnown) {
  PartLife unknown = lasting("filling", "fridge", 1, 7);
  unknown.life_days.reset();
  unknown.made.reset();
  LotLife cream = lot("cream");
  cream.use_within_days = 3;
  const auto life = shelf_life(std::vector{unknown, lasting("sponge", "room", 1, 5)}, std::vector{cream});
  EXPECT_EQ(life.not_known, (std::vector<std::string>{"when filling was made", "how long filling keeps", "when cream L1 was opened"}));
  EXPECT_EQ(life.date, in_may(6));
}

TEST(UseBy, IsInTimeOnTheDayItselfAndPastTheDayAfter) {
  const auto life = shelf_life(std::vector{lasting("filling", "fridge", 1, 3)}, {});
  const Finding on_it = judge_use_by("cake-1", life, in_may(4));
  EXPECT_EQ(on_it.verdict, Verdict::shown);
  EXPECT_EQ(on_it.control, "use-by");
  EXPECT_EQ(on_it.message, "use by 4 May 2026: filling, made 1 May 2026, keeps 3 days (the maker's decision)");
  const Finding past = judge_use_by("cake-1", life, in_may(5));
  EXPECT_EQ(past.verdict, Verdict::not_met);
  EXPECT_EQ(past.stop, Stop::no_override);
}

TEST(UseBy, OfABestBeforeNeedsAPerson) {
  const auto life = shelf_life(std::vector{lasting("biscuit", "room", 1, 3)}, {});
  EXPECT_EQ(judge_use_by("cake-1", life, in_may(4)).verdict, Verdict::shown);
  EXPECT_EQ(judge_use_by("cake-1", life, in_may(5)).verdict, Verdict::not_met);
  EXPECT_EQ(judge_use_by("cake-1", life, in_may(5)).stop, Stop::needs_person);
}

TEST(UseBy, IsNotShownWhileAnythingIsNotKnownButPastIsPast) {
  PartLife unknown = lasting("filling", "fridge", 1, 7);
  unknown.life_days.reset();
  EXPECT_EQ(judge_use_by("cake-1", shelf_life(std::vector{unknown}, {}), in_may(1)).verdict, Verdict::not_shown);
  EXPECT_EQ(judge_use_by("cake-1", shelf_life({}, {}), in_may(1)).verdict, Verdict::not_shown);
  const auto life = shelf_life(std::vector{unknown, lasting("sponge", "room", 1, 3)}, {});
  EXPECT_EQ(judge_use_by("cake-1", life, in_may(2)).verdict, Verdict::not_shown);
  EXPECT_EQ(judge_use_by("cake-1", life, in_may(5)).verdict, Verdict::not_met);
}

RC_GTEST_PROP(ShelfLife, IsNeverLongerForOnePartMore, ()) {
  std::vector<PartLife> parts;
  const auto count = *rc::gen::inRange(1, 6);
  for (int i = 0; i < count; ++i) {
    parts.push_back(
        lasting("p", *rc::gen::element(std::string{"room"}, std::string{"fridge"}), *rc::gen::inRange(1u, 20u), *rc::gen::inRange(0, 30)));
  }
  const auto before = shelf_life(parts, {}).date;
  parts.push_back(lasting("q", "fridge", *rc::gen::inRange(1u, 20u), *rc::gen::inRange(0, 30)));
  RC_ASSERT((*shelf_life(parts, {}).date <= *before));
}

}  // namespace
}  // namespace tierproof
