#include "web/waiting.h"

#include <gtest/gtest.h>

namespace tierproof::web {
namespace {

using namespace std::chrono_literals;
using Numbers = std::vector<std::uint64_t>;

const WaitingRoom::Limits limits{2, 3, 6s, 90s, 100'000, 2};
Instant at(Span since) { return Instant{since}; }

TEST(WaitingRoom, TheOneOfAnAddressThatWaitedLongestMakesRoomForItsNext) {
  WaitingRoom room{limits};
  EXPECT_EQ(room.comes(1, "a", at(0s)), Numbers{});
  EXPECT_EQ(room.comes(2, "a", at(1s)), Numbers{});
  EXPECT_EQ(room.comes(3, "a", at(2s)), Numbers{1});
  EXPECT_EQ(room.comes(4, "b", at(3s)), Numbers{});
}

TEST(WaitingRoom, ManyAddressesTogetherTakeNoMoreThanAllMay) {
  WaitingRoom room{limits};
  EXPECT_EQ(room.comes(1, "a", at(0s)), Numbers{});
  EXPECT_EQ(room.comes(2, "b", at(1s)), Numbers{});
  EXPECT_EQ(room.comes(3, "c", at(2s)), Numbers{});
  EXPECT_EQ(room.comes(4, "d", at(3s)), Numbers{1});
}

TEST(WaitingRoom, WhoIsBeingAnsweredDoesNotCountAndDoesNotHaveToGo) {
  WaitingRoom room{limits};
  room.comes(1, "a", at(0s));
  room.works(1, at(1s));
  room.comes(2, "a", at(2s));
  EXPECT_EQ(room.comes(3, "a", at(3s)), Numbers{});
  EXPECT_EQ(room.comes(4, "a", at(4s)), Numbers{2});
  room.waits(1, at(5s));  // answered, and newer here than the others
  EXPECT_EQ(room.comes(5, "a", at(6s)), (Numbers{3}));
}

TEST(WaitingRoom, ADrippingRequestIsOverAtItsDeadlineHoweverOftenSomethingOfItComes) {
  WaitingRoom room{limits};
  room.comes(1, "a", at(0s));
  EXPECT_EQ(room.overdue(at(6s)), Numbers{});
  EXPECT_EQ(room.overdue(at(6s + 1ms)), Numbers{1});
  EXPECT_EQ(room.overdue(at(7s)), Numbers{}) << "told once";
}

TEST(WaitingRoom, AnAnswerThatNobodyTakesIsOverToo) {
  WaitingRoom room{limits};
  room.comes(1, "a", at(0s));
  room.works(1, at(1s));
  EXPECT_EQ(room.overdue(at(91s)), Numbers{});
  EXPECT_EQ(room.overdue(at(91s + 1ms)), Numbers{1});
}

TEST(WaitingRoom, AFileHasTheTimeThatItsSizeNeedsAndNoMore) {
  WaitingRoom room{{2, 3, 6s, 90s, 100'000, 2}};
  room.comes(1, "a", at(0s));
  EXPECT_TRUE(room.reads_file(1, 1'000'000, at(2s)));
  EXPECT_EQ(room.overdue(at(18s)), Numbers{});
  EXPECT_EQ(room.overdue(at(18s + 1ms)), Numbers{1}) << "6 s, and 10 s for its size";
}

TEST(WaitingRoom, OnlySoManyFilesAreHeldAtOnceUntilTheyAreAnswered) {
  WaitingRoom room{{2, 3, 6s, 90s, 100'000, 2}};
  for (std::uint64_t one = 1; one <= 3; ++one) room.comes(one, std::to_string(one), at(0s));
  EXPECT_TRUE(room.reads_file(1, 1, at(1s)));
  EXPECT_TRUE(room.reads_file(2, 1, at(1s)));
  EXPECT_FALSE(room.reads_file(3, 1, at(1s)));
  room.works(1, at(2s));
  EXPECT_FALSE(room.reads_file(3, 1, at(2s))) << "it is held while it is booked";
  room.waits(1, at(3s));
  EXPECT_TRUE(room.reads_file(3, 1, at(3s)));
  EXPECT_FALSE(room.reads_file(1, 1, at(3s)));
  room.goes(2);
  EXPECT_TRUE(room.reads_file(1, 1, at(4s)));
  EXPECT_FALSE(room.reads_file(9, 1, at(4s))) << "nobody of this number is here";
}

TEST(WaitingRoom, WhoSendsAFileDoesNotHaveToMakeRoom) {
  WaitingRoom room{limits};
  room.comes(1, "a", at(0s));
  ASSERT_TRUE(room.reads_file(1, 10'000'000, at(0s)));
  room.comes(2, "a", at(1s));
  EXPECT_EQ(room.comes(3, "a", at(2s)), Numbers{});
  EXPECT_EQ(room.comes(4, "a", at(3s)), Numbers{2});
}

TEST(WaitingRoom, WhoLeftIsForgotten) {
  WaitingRoom room{limits};
  room.comes(1, "a", at(0s));
  room.comes(2, "a", at(0s));
  room.goes(1);
  EXPECT_EQ(room.comes(3, "a", at(1s)), Numbers{});
  EXPECT_EQ(room.overdue(at(20s)), (Numbers{2, 3}));
}

}  // namespace
}  // namespace tierproof::web
