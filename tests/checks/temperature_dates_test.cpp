// Cases T34 and T35: elapsed time over changes of clocks, and legal dates of eggs and chilled food.
#include <gtest/gtest.h>

#include "tierproof/sums/shelf_life.h"
#include "tierproof/units/time.h"

namespace tierproof {
namespace {

int minutes_between(const char* from, const char* to) {
  return static_cast<int>(
      std::chrono::duration_cast<std::chrono::minutes>(parse_zoned(to).value().at - parse_zoned(from).value().at).count());
}

TEST(ElapsedTime, OverAChangeOfClocksIsCountedByTheOffsets) {
  EXPECT_EQ(minutes_between("2025-03-30T00:45+00:00", "2025-03-30T02:15+01:00"), 30) << "T34: London, forward at 01:00";
  EXPECT_EQ(minutes_between("2025-03-09T01:30-05:00", "2025-03-09T03:30-04:00"), 60) << "T34: New York, forward at 02:00";
  EXPECT_EQ(minutes_between("2025-11-02T00:30-04:00", "2025-11-02T02:30-05:00"), 180) << "T34: New York, back at 02:00";
  EXPECT_EQ(minutes_between("2025-10-05T01:30+10:00", "2025-10-05T03:30+11:00"), 60) << "T34: Sydney, forward at 02:00";
  EXPECT_EQ(minutes_between("2025-10-26T01:30+01:00", "2025-10-26T01:30+00:00"), 60) << "T34: London, 01:30 comes twice";
  EXPECT_EQ(minutes_between("2025-04-06T01:45+11:00", "2025-04-06T01:45+10:30"), 30) << "T34: Lord Howe shifts by half an hour";
}

TEST(LegalDates, OfEggsCountFromTheDayOfLay) {
  const Date lay = parse_date("2025-03-01").value();
  EXPECT_EQ(format_date(add_days(lay, 21)), "2025-03-22") << "T35: Reg. (EC) 853/2004 Annex III Sect. X as kept by the UK: 21 days";
  EXPECT_EQ(format_date(add_days(lay, 28)), "2025-03-29") << "T35: Reg. (EU) 2022/2258: 28 days";
}

PartLife seven_days(const char* made) {
  PartLife part{"custard (batch-1)", "fridge", parse_date(made), 7, "FDA Food Code 3-501.17"};
  part.made_day_is_day_one = true;
  return part;
}

TEST(LegalDates, OfSevenDaysCountTheDayOfPreparationAsTheFirst) {
  const PartLife part = seven_days("2025-04-01");
  EXPECT_EQ(shelf_life({&part, 1}, {}).date, parse_date("2025-04-07")) << "T35: FDA Food Code 3-501.17, southernnevadahealthdistrict.org";
}

TEST(LegalDates, OfSevenDaysStandStillWhileFrozen) {
  PartLife part = seven_days("2025-10-01");
  part.frozen_days = 90;
  part.thawed_days = 5;  // seven, less the two before it was frozen
  part.ways = {{FrozenDays{parse_date("2025-10-03").value(), parse_date("2025-10-10")}}};
  EXPECT_EQ(shelf_life({&part, 1}, {}).date, parse_date("2025-10-14")) << "T35: cooked on 1, frozen on 3, thawed on 10 October";
}

}  // namespace
}  // namespace tierproof
