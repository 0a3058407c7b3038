#include "tierproof/imports/logger_file.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <filesystem>
#include <fstream>

namespace tierproof {
namespace {

std::string source_text(const std::string& path) {
  std::ifstream in{TIERPROOF_SOURCE_DIR "/" + path, std::ios::binary};
  if (!in) throw std::runtime_error{"cannot read " + path};
  return {std::istreambuf_iterator<char>{in}, {}};
}
ColumnMap map_of(const std::string& format) { return *read_column_map(source_text("reference/probes/" + format + ".tsv"), format); }
ColumnMap plainly() { return map_of("plain"); }

Result<ImportedReadings> logged(const std::string& text, const ColumnMap& map = plainly()) { return read_readings(text, map, "log.csv"); }
std::vector<std::string> refusals(const std::string& text, const ColumnMap& map = plainly()) {
  std::vector<std::string> told;
  const auto got = logged(text, map);
  if (!got) {
    for (const Refusal& r : got.error()) told.push_back(describe(r));
  }
  return told;
}
/// What one cell reads as, below a header and beside a good time.
std::optional<Degrees> cell(const std::string& text, const ColumnMap& map = plainly()) {
  const auto got = logged("time" + std::string(1, map.delimiter) + "temperature\n2026-05-01T08:00Z" + map.delimiter + text + "\n", map);
  if (!got) throw std::runtime_error{describe(got.error().front())};
  return got->readings.at(0).degrees;
}
std::string time_of(const ImportedReading& reading) {
  if (const auto* zoned = std::get_if<ZonedInstant>(&reading.when)) return format_zoned(zoned->at, zoned->offset);
  const auto& local = std::get<LocalTime>(reading.when);
  return format_date(local.date) + " local " + format_span(local.since_midnight);
}
std::string time_from(const std::string& text, DateOrder order) {
  ColumnMap map = plainly();
  map.date_order = order;
  const auto got = logged("time,temperature\n" + text + ",4.0\n", map);
  return got ? time_of(got->readings.at(0)) : "refused";
}

bool same(const ImportedReading& a, const ImportedReading& b) {
  return a.line == b.line && time_of(a) == time_of(b) && a.degrees == b.degrees && a.fault == b.fault;
}

TEST(LoggerFile, StoresFaultsAsFaultsAndDropsNone) {
  const auto got = logged(source_text("tests/data/loggers/plain.csv"), map_of("plain-digital-sensor"));
  ASSERT_TRUE(got) << describe(got.error().front());
  std::vector<std::string> told;
  for (const ImportedReading& r : got->readings) told.push_back(r.degrees ? std::to_string(r.degrees->hundredths) : "fault " + r.fault);
  EXPECT_EQ(told, (std::vector<std::string>{"340", "fault ---", "fault NaN", "fault 85.0", "fault -127.0", "fault ", "fault Err", "-1805",
                                            "1240"}));
  EXPECT_EQ(time_of(got->readings[0]), "2026-05-01T08:00:00+01:00");
  EXPECT_EQ(got->readings[4].line, 7);  // a cell before it holds a line break
}

TEST(LoggerFile, TakesAFalseNumberForAFaultOnlyWhereTheMapSaysSo) {
  ColumnMap map = plainly();
  EXPECT_EQ(cell("85.0", map)->hundredths, 8500);
  map.false_numbers = {Share{85}};
  EXPECT_FALSE(cell("85", map));
  EXPECT_FALSE(cell("85.00", map));
  EXPECT_EQ(cell("85.01", map)->hundredths, 8501);
}

TEST(LoggerFile, GivesBackALocalTimeForTheKitchensZoneToResolve) {
  const auto got = logged(source_text("tests/data/loggers/semicolon-day-first.csv"), map_of("semicolon-day-first"));
  ASSERT_TRUE(got) << describe(got.error().front());
  ASSERT_EQ(got->readings.size(), 2u);
  EXPECT_EQ(time_of(got->readings[0]), "2026-10-25 local 1 h 30 min");
  EXPECT_EQ(time_of(got->readings[1]), "2026-10-25 local 1 h");  // in the order of the file
  EXPECT_EQ(got->readings[0].degrees, (Degrees{-1840, Scale::celsius}));
  EXPECT_EQ(time_from("2026-05-01 08:10", DateOrder::year_first), "2026-05-01 local 8 h 10 min");
}

TEST(LoggerFile, ReadsDatesInTheOrderOfTheMapAndNeverGuesses) {
  EXPECT_EQ(time_from("03/07/2026 07:00", DateOrder::day_first), "2026-07-03 local 7 h");
  EXPECT_EQ(time_from("03/07/2026 07:00", DateOrder::month_first), "2026-03-07 local 7 h");
  EXPECT_EQ(time_from("7/3/2026 7:05:00 PM", DateOrder::month_first), "2026-07-03 local 19 h 05 min");
  EXPECT_EQ(time_from("7/3/2026 12:05 AM", DateOrder::month_first), "2026-07-03 local 5 min");
  EXPECT_EQ(time_from("7/3/2026 12:05 pm", DateOrder::month_first), "2026-07-03 local 12 h 05 min");
  EXPECT_EQ(time_from("2026/7/3 7:05", DateOrder::year_first), "2026-07-03 local 7 h 05 min");
  for (const char* no_time : {"13/07/2026 07:00", "7/3/26 07:00", "7/3/2026", "7/3/2026 25:00", "7/3/2026 13:00 pm", "", "noon",
                              "7/3-2026 07:00", "7/3/2026 07:00Z", "7/3/2026 +7:00"}) {
    EXPECT_EQ(time_from(no_time, DateOrder::month_first), "refused") << no_time;
  }
  EXPECT_EQ(time_from("2026-05-01T08:10:00+0100", DateOrder::year_first), "refused");  // never without its offset
}

TEST(LoggerFile, KeepsHundredthsOfTheThermometersOwnUnit) {
  EXPECT_EQ(cell("38.1", map_of("plain-fahrenheit")), (Degrees{3810, Scale::fahrenheit}));
  EXPECT_EQ(cell("+4"), (Degrees{400, Scale::celsius}));
  EXPECT_EQ(cell("\u221218.4"), (Degrees{-1840, Scale::celsius}));
  EXPECT_EQ(cell("3.40\u00a0°C"), (Degrees{340, Scale::celsius}));
  ColumnMap in_cell = plainly();
  in_cell.unit.reset();
  EXPECT_EQ(cell("38.1 °F", in_cell), (Degrees{3810, Scale::fahrenheit}));
  EXPECT_THROW(cell("38.1", in_cell), std::runtime_error);
  EXPECT_THROW(cell("38.1 F"), std::runtime_error);  // the map says C
}

TEST(LoggerFile, RoundsToTheNearestHundredthAndCountsIt) {
  const auto got =
      logged("time,temperature\n2026-05-01T08:00Z,8.005\n2026-05-01T08:15Z,-4.0625\n2026-05-01T08:30Z,8.0040\n2026-05-01T08:45Z,8.0100\n");
  ASSERT_TRUE(got);
  EXPECT_EQ(got->readings[0].degrees->hundredths, 801);
  EXPECT_EQ(got->readings[1].degrees->hundredths, -406);
  EXPECT_EQ(got->readings[2].degrees->hundredths, 800);
  EXPECT_EQ(got->readings[3].degrees->hundredths, 801);
  EXPECT_EQ(got->seen.rounded, 3);
}

TEST(LoggerFile, RefusesWhatNoKitchenThermometerShowsAtTheEdge) {
  EXPECT_EQ(cell("500")->hundredths, 50000);
  EXPECT_EQ(cell("-100")->hundredths, -10000);
  for (const char* wild : {"500.01", "-100.01", "9999", "-999999999", "123456789012345"})
    EXPECT_THROW(cell(wild), std::runtime_error) << wild;
}

TEST(LoggerFile, RefusesEveryBadRowAndImportsNothing) {
  const std::string text =
      "time,temperature\n2026-05-01T08:00Z,3.4\nyesterday,3.5\n2026-05-01T08:30Z,warm\n2026-05-01T08:45Z,3,7\n2026-05-01T09:00Z\n2026-05-"
      "01T09:15Z,999\n";
  EXPECT_EQ(refusals(text),
            (std::vector<std::string>{
                "log.csv:3: time: \"yesterday\" is not a time; write 2026-05-01T08:10:00Z, or set the date order in the column map",
                "log.csv:4: temperature: \"warm\" is neither a temperature nor a fault; correct the row, or add the word as a fault to the "
                "column map",
                "log.csv:5: 3 cells where the header has 2; export the file again; it may be cut short or edited",
                "log.csv:6: 1 cells where the header has 2; export the file again; it may be cut short or edited",
                "log.csv:7: temperature: \"999\" is outside -100..500 °C, so it is no temperature of a kitchen; correct the row, or add it "
                "as a false "
                "number to the column map"}));
}

TEST(LoggerFile, RefusesTheOtherDecimalMark) {
  EXPECT_EQ(refusals("time,temperature\n2026-05-01T08:00Z,\"3,4\"\n").at(0),
            "log.csv:2: temperature: \"3,4\" has a comma where the column map says point; set decimal in the column map");
}

TEST(LoggerFile, RefusesAHeadingThatIsMissingOrThereTwice) {
  EXPECT_EQ(refusals("when,temperature\n2026-05-01T08:00Z,4\n").at(0),
            "log.csv:1: time: no column is headed \"time\"; there are \"when\", \"temperature\"; choose the column map of this logger");
  EXPECT_EQ(refusals("time,temperature,Temperature\n2026-05-01T08:00Z,4,5\n").at(0),
            "log.csv:1: temperature: two columns have this heading; rename one of them in the file");
  EXPECT_EQ(refusals("").size(), 1u);
  EXPECT_EQ(refusals("time,temperature\n").size(), 1u);
}

TEST(LoggerFile, RefusesALastLineThatIsNotEnded) {
  EXPECT_EQ(refusals("time,temperature\n2026-05-01T08:00Z,12.4").at(0),
            "log.csv:2: the last line is not ended, so the file may be cut short; export it again; if it is whole, end the last line with "
            "a line break");
}

TEST(LoggerFile, NeverInventsAReadingWhenCutAtAnyByte) {
  for (const auto& [file, format] : std::vector<std::pair<std::string, std::string>>{
           {"plain", "plain-digital-sensor"}, {"plain", "plain"}, {"semicolon-day-first", "semicolon-day-first"}}) {
    const std::string whole = source_text("tests/data/loggers/" + file + ".csv");
    const ColumnMap map = map_of(format);
    const auto all = logged(whole, map);
    int read_in_part = 0;
    for (std::size_t cut = 0; cut < whole.size(); ++cut) {
      const auto part = logged(whole.substr(0, cut), map);
      if (!part) continue;
      ++read_in_part;
      EXPECT_EQ(whole[cut - 1], '\n') << file << " cut at " << cut;
      if (!all) continue;
      ASSERT_LT(part->readings.size(), all->readings.size()) << file << " cut at " << cut;
      for (std::size_t i = 0; i < part->readings.size(); ++i)
        EXPECT_TRUE(same(part->readings[i], all->readings[i])) << file << " cut at " << cut;
    }
    EXPECT_GT(read_in_part, 0) << file;
  }
}

RC_GTEST_PROP(LoggerFile, ReadsOrRefusesAnythingWithoutFalling, (const std::string& noise)) {
  const auto got = logged("time,temperature\n" + noise + "\n");
  RC_ASSERT(got.has_value() || !got.error().empty());
}

TEST(LoggerFile, ReadsANumberOfAnyLengthAsItIsWritten) {
  EXPECT_EQ(cell("004.250000000")->hundredths, 425);
  EXPECT_EQ(cell("-0.004999999")->hundredths, 0);
  EXPECT_EQ(cell("-0.005")->hundredths, -1);
  EXPECT_EQ(cell("499.994999999")->hundredths, 49999);
  for (const char* no_number : {"4.", ".4", "4.1.2", "--4", "4-", "4e1", "4.1234567890", "1234567890123456", "-", "+", "+-4x", "4 4"})
    EXPECT_THROW(cell(no_number), std::runtime_error) << no_number;
}

RC_GTEST_PROP(LoggerFile, GivesBackTheHundredthsThatWereWritten, ()) {
  const auto hundredths = *rc::gen::inRange<std::int64_t>(-9999, 50000);
  const auto size = hundredths < 0 ? -hundredths : hundredths;
  const std::string text =
      (hundredths < 0 ? "-" : "") + std::to_string(size / 100) + "." + (size % 100 < 10 ? "0" : "") + std::to_string(size % 100);
  RC_ASSERT(cell(text)->hundredths == hundredths);
}

}  // namespace
}  // namespace tierproof
