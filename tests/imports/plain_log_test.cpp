#include "tierproof/imports/plain_log.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace tierproof {
namespace {

struct Log {
  std::vector<Sample> rows;
  Result<PlainLogSeen> seen;
};

/// Reads `text` in pieces of `size` bytes.
Log log_of(const std::string& text, std::size_t size = 1 << 16) {
  Log log{{}, PlainLogSeen{}};
  std::size_t at = 0;
  const NextPiece next = [&]() -> std::string_view {
    const auto piece = std::string_view{text}.substr(std::min(at, text.size()), size);
    at += piece.size();
    return piece;
  };
  log.seen = read_plain_log(next, "log.csv", [&](const Sample& sample) { log.rows.push_back(sample); });
  return log;
}
std::vector<std::string> told(const std::string& text) {
  const auto seen = log_of(text).seen;
  std::vector<std::string> lines;
  if (!seen) {
    for (const auto& refusal : seen.error()) lines.push_back(describe(refusal));
  }
  return lines;
}
std::string only(const std::string& text) {
  const auto lines = told(text);
  return lines.size() == 1 ? lines[0] : "not one refusal but " + std::to_string(lines.size());
}

TEST(PlainLog, ReadsMinutesAndDegreesExactly) {
  const auto log = log_of("time,temp_c\n0,4.2\n0.5,-18\n1.1,7.123456789\n1e1,fault\n");
  ASSERT_TRUE(log.seen.has_value());
  ASSERT_EQ(log.rows.size(), 4u);
  EXPECT_EQ(log.rows[0].read, FineCelsius::billionths(4'200'000'000));
  EXPECT_EQ(log.rows[1].at, LogTime{30'000'000});
  EXPECT_EQ(log.rows[1].read, FineCelsius::billionths(-18'000'000'000));
  EXPECT_EQ(log.rows[2].at, LogTime{66'000'000});
  EXPECT_EQ(log.rows[2].read, FineCelsius::billionths(7'123'456'789));
  EXPECT_FALSE(log.rows[3].read.has_value());
  EXPECT_EQ(log.seen->rows, 4);
  EXPECT_EQ(log.seen->faults, 1);
  EXPECT_EQ(log.seen->last, LogTime{600'000'000});
  EXPECT_FALSE(log.seen->told.has_value());
}

TEST(PlainLog, ReadsInstantsByTheirOffsetsSoThatNoChangeOfClocksMatters) {
  const auto log = log_of("time,temp_c\n2025-03-30T00:45:00+00:00,4\n2025-03-30T02:15:00+01:00,5\n");
  ASSERT_TRUE(log.seen.has_value());
  EXPECT_EQ(log.rows[1].at - log.rows[0].at, LogTime{std::chrono::minutes{30}}) << "case T34: the clocks of London went forward at 01:00";
  EXPECT_EQ(log.seen->told, Offset{0});
}

TEST(PlainLog, ReadsWhatSpreadsheetsAndScriptsWrite) {
  for (const char* text : {"time,temp_c\r\n0,4.2\r\n1,4.4\r\n", "\xef\xbb\xbftime,temp_c\n0,4.2\n1,4.4",
                           "\"time\",\"temp_c\"\n\n 0 , 4.2\n\"1\",\"4.4\"\n\n"}) {
    const auto log = log_of(text);
    ASSERT_TRUE(log.seen.has_value()) << text << describe(log.seen.error().front());
    ASSERT_EQ(log.rows.size(), 2u) << text;
    EXPECT_EQ(log.rows[1].read, FineCelsius::billionths(4'400'000'000)) << text;
  }
}

TEST(PlainLog, ReadsTheSameInPiecesOfAnySize) {
  const std::string text = "time,temp_c\r\n0,4.2\r\n1,4.4\r\n2,fault";
  for (std::size_t size = 1; size <= text.size(); ++size) EXPECT_EQ(log_of(text, size).rows.size(), 3u) << size;
}

TEST(PlainLog, RefusesAnotherHeaderWithWhatToWrite) {
  EXPECT_EQ(
      only("time,temp\n0,4\n"),
      "log.csv:1: the header \"time,temp\" names no unit; write temp_c when the temperatures are in °C; turn other units into °C first");
  EXPECT_NE(only("time,temp_f\n0,40\n").find("turn the temperatures into °C"), std::string::npos);
  EXPECT_EQ(only("0,4\n1,5\n"), "log.csv:1: the header \"0,4\" is not time,temp_c; begin it with the line time,temp_c");
  EXPECT_EQ(only("temp_c,time\n4,0\n"), "log.csv:1: the header \"temp_c,time\" is not time,temp_c; begin it with the line time,temp_c");
  EXPECT_EQ(only("time,temp_c,place\n0,4,fridge\n"),
            "log.csv:1: the header \"time,temp_c,place\" is not time,temp_c; begin it with the line time,temp_c");
}

TEST(PlainLog, RefusesAFileWithoutAReading) {
  EXPECT_EQ(only(""), "log.csv: is empty; begin it with the line time,temp_c, and write a row for each reading");
  EXPECT_EQ(only("\n\n"), "log.csv: is empty; begin it with the line time,temp_c, and write a row for each reading");
  EXPECT_EQ(only("time,temp_c\n"), "log.csv: holds no reading; write a row for each reading below the header");
}

TEST(PlainLog, RefusesEqualTimesAndTimesOutOfOrderAndNamesTheOtherLine) {
  EXPECT_EQ(
      only("time,temp_c\n0,4\n0,4\n"),
      "log.csv:3: time: is the same as in line 2; keep one row for each time; where two readings of one time differ, write fault there");
  EXPECT_EQ(only("time,temp_c\n0,4\n2,4\n1,4\n3,4\n"),
            "log.csv:4: time: is before that of line 3; put the rows in the order of their times");
  EXPECT_NE(only("time,temp_c\n2026-05-01T10:00Z,4\n2026-05-01T11:00+01:00,5\n").find("is the same as in line 2"), std::string::npos);
}

TEST(PlainLog, RefusesWhatIsNoNumberNoTimeOrNoTemperatureAllTogether) {
  const auto lines = told(
      "time,temp_c\n0,nan\n1,inf\n2,-inf\n3,\n4,71.2C\n5,2000.1\n6,-273.2\nnan,4\ninf,4\nlater,4\n2026-05-01T10:00,4\n"
      "2026-05-01T10:00Z,4\n8\n9,4,5\n1e9,4\n");
  EXPECT_EQ(lines.size(), 15u);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    EXPECT_EQ(lines[i].rfind("log.csv:" + std::to_string(i + 2) + ": ", 0), 0u) << lines[i];
    EXPECT_NE(lines[i].find("; "), std::string::npos) << "no remedy: " << lines[i];
  }
}

TEST(PlainLog, ListsTheFirstHundredFaultsAndHowManyMore) {
  std::string text = "time,temp_c\n";
  for (int i = 0; i < 150; ++i) text += std::to_string(i) + ",hot\n";
  const auto lines = told(text);
  ASSERT_EQ(lines.size(), 101u);
  EXPECT_EQ(lines.back(), "log.csv: 50 more are not listed; mend these first");
}

TEST(PlainLog, ReadsEveryByteOfALongFileOnceAndHoldsNoneOfIt) {
  constexpr int rows = 200'000;
  std::string text = "time,temp_c\n";
  for (int i = 0; i < rows; ++i) text += std::to_string(i) + (i % 1000 == 999 ? ",fault\n" : i % 2 == 0 ? ",4.25\n" : ",8.75\n");
  constexpr std::size_t piece_long = 4096;
  std::size_t at = 0, pieces = 0, passed = std::string_view{"time,temp_c\n"}.size();
  std::int64_t taken = 0, faults = 0;
  const NextPiece next = [&]() -> std::string_view {
    const auto piece = std::string_view{text}.substr(at, piece_long);
    at += piece.size();
    pieces += piece.empty() ? 0 : 1;
    EXPECT_LE(taken, static_cast<std::int64_t>(at / 7)) << "a row is given only once it has been read";
    return piece;
  };
  const auto seen = read_plain_log(next, "log.csv", [&](const Sample& sample) {
    EXPECT_EQ(sample.at, LogTime{std::chrono::minutes{taken}});
    passed += std::to_string(taken).size() + std::string_view{sample.read ? ",4.25\n" : ",fault\n"}.size();
    ++taken;
    faults += sample.read ? 0 : 1;
    EXPECT_LE(passed, at);
    EXPECT_LE(at - passed, 2 * piece_long) << "rows are given as they come, not at the end";
  });
  ASSERT_TRUE(seen.has_value());
  EXPECT_EQ(taken, rows);
  EXPECT_EQ(faults, rows / 1000);
  EXPECT_EQ(seen->rows, rows);
  EXPECT_EQ(at, text.size());
  EXPECT_EQ(passed, text.size());
  EXPECT_EQ(pieces, (text.size() + piece_long - 1) / piece_long);
}

TEST(PlainLog, KeepsAReadingAtAbsoluteZeroAndTheHottest) { EXPECT_EQ(log_of("time,temp_c\n0,-273.15\n1,2000\n").rows.size(), 2u); }

}  // namespace
}  // namespace tierproof
