#include "tierproof/units/time.h"

#include <gtest/gtest.h>

#include <string>

namespace tierproof {
namespace {

using namespace std::chrono_literals;

TEST(Date, IsReadOnlyInItsOneForm) {
  EXPECT_EQ(parse_date("2026-05-01"), (Date{std::chrono::year{2026}, std::chrono::May, std::chrono::day{1}}));
  for (const char* text : {"2026-5-1", "2026-05-01 ", "2026-13-01", "2026-02-29", "01/05/2026", "", "2026-05-011", "2026-05-0x"}) {
    EXPECT_FALSE(parse_date(text).has_value()) << text;
  }
  EXPECT_TRUE(parse_date("2028-02-29").has_value());
}

TEST(Date, MovesByDaysOverMonthsAndLeapYears) {
  EXPECT_EQ(add_days(*parse_date("2028-02-28"), 2), *parse_date("2028-03-01"));
  EXPECT_EQ(add_days(*parse_date("2026-01-01"), -1), *parse_date("2025-12-31"));
}

TEST(Moment, KeepsItsOffset) {
  const auto read = parse_zoned("2026-05-01T08:10:00+01:00");
  ASSERT_TRUE(read.has_value());
  EXPECT_EQ(read->offset, Offset{60});
  EXPECT_EQ(format_zoned(read->at, Offset{0}), "2026-05-01T07:10:00+00:00");
  EXPECT_EQ(format_zoned(read->at, read->offset), "2026-05-01T08:10:00+01:00");
  EXPECT_EQ(format_moment(read->at, read->offset), "1 May 2026, 08:10");
  EXPECT_EQ(day_of(*&read->at, Offset{-600}), *parse_date("2026-04-30"));
}

TEST(Moment, ReadsSecondsFractionsAndZ) {
  EXPECT_EQ(parse_zoned("2026-05-01T08:10:00.25Z")->at, parse_zoned("2026-05-01 08:10Z")->at + 250ms);
  EXPECT_EQ(format_zoned(parse_zoned("2026-05-01T08:10:00.250Z")->at, Offset{}), "2026-05-01T08:10:00.250+00:00");
  for (const char* text : {"2026-05-01T08:10", "2026-05-01T24:00Z", "2026-05-01T08:60Z", "2026-05-01T08:10+15:00", "2026-05-01T08:10+1:00",
                           "2026-05-01T8:10Z", "2026-05-01T08:10:00.Z", "2026-05-01T08:10Zx"}) {
    EXPECT_FALSE(parse_zoned(text).has_value()) << text;
  }
  EXPECT_TRUE(parse_local("2026-05-01T08:10").has_value());
  EXPECT_FALSE(parse_local("2026-05-01T08:10Z").has_value());
}

TEST(Moment, BeforeTheEpochStillHasItsDay) {
  const auto read = parse_zoned("1969-12-31T23:30:00Z");
  ASSERT_TRUE(read.has_value());
  EXPECT_EQ(format_zoned(read->at, Offset{}), "1969-12-31T23:30:00+00:00");
}

TEST(Span, IsSaidInTheUnitsAPersonWouldUse) {
  EXPECT_EQ(format_span(0ms), "0 s");
  EXPECT_EQ(format_span(59'999ms), "59 s");
  EXPECT_EQ(format_span(2min), "2 min");
  EXPECT_EQ(format_span(2min + 10s), "2 min 10 s");
  EXPECT_EQ(format_span(4h), "4 h");
  EXPECT_EQ(format_span(3h + 5min), "3 h 05 min");
  EXPECT_EQ(format_span(24h), "1 day");
  EXPECT_EQ(format_span(52h), "2 days 4 h");
  EXPECT_EQ(format_span(-5min), "0 s");
}

}  // namespace
}  // namespace tierproof
