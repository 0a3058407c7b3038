#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>

#include "tierproof/imports/logger_file.h"

namespace tierproof {
namespace {
namespace fs = std::filesystem;

const fs::path folder = fs::path{TIERPROOF_SOURCE_DIR} / "tests" / "data" / "logger-dialects";

std::string file_text(const fs::path& path) {
  std::ifstream in{path, std::ios::binary};
  if (!in) throw std::runtime_error{"cannot read " + path.string()};
  return {std::istreambuf_iterator<char>{in}, {}};
}

struct Dialect {
  std::string name;
  std::string bytes;
  ColumnMap map;  ///< of its first thermometer
};

std::vector<Dialect> dialects() {
  std::vector<Dialect> all;
  for (const auto& entry : fs::directory_iterator{folder}) {
    if (entry.path().extension() != ".csv" && entry.path().extension() != ".txt") continue;
    const std::string name = entry.path().stem().string();
    auto map = read_column_map(file_text(folder / "maps" / (name + ".tsv")), name + ".tsv");
    if (!map) throw std::runtime_error{describe(map.error().front())};
    if (map->temperature.empty()) map->temperature = map->thermometers.front().second;
    all.push_back({name, file_text(entry.path()), std::move(*map)});
  }
  std::sort(all.begin(), all.end(), [](const Dialect& a, const Dialect& b) { return a.name < b.name; });
  return all;
}

std::string told(const ImportedReading& reading) {
  std::string when;
  if (const auto* zoned = std::get_if<ZonedInstant>(&reading.when)) {
    when = format_zoned(zoned->at, zoned->offset);
  } else {
    const auto& local = std::get<LocalTime>(reading.when);
    when = format_date(local.date) + " " + format_span(local.since_midnight);
  }
  return std::to_string(reading.line) + " " + when + " " +
         (reading.degrees ? std::to_string(reading.degrees->hundredths) : "fault " + reading.fault);
}

std::vector<std::string> told(const Result<ImportedReadings>& got) {
  std::vector<std::string> all;
  if (!got) {
    for (const auto& refusal : got.error()) all.push_back(describe(refusal));
  } else {
    for (const auto& reading : got->readings) all.push_back(told(reading));
  }
  return all;
}

Result<ImportedReadings> read_in_pieces(const std::string& text, const ColumnMap& map, std::size_t size) {
  std::size_t at = 0;
  ReadingStream stream{map, "file", [&] {
                         const std::string_view piece = std::string_view{text}.substr(at, size);
                         at += piece.size();
                         return piece;
                       }};
  ImportedReadings all;
  while (auto reading = stream.next()) all.readings.push_back(std::move(*reading));
  if (auto refusals = stream.refusals(); !refusals.empty()) return refusals;
  all.seen = stream.seen();
  return all;
}

class DialectFile : public testing::TestWithParam<Dialect> {};

TEST_P(DialectFile, ReadsTheSameInPiecesOfAnySize) {
  const Dialect& dialect = GetParam();
  const auto whole = read_readings(dialect.bytes, dialect.map, "file");
  ASSERT_TRUE(whole) << describe(whole.error().front());
  for (std::size_t size : {1, 2, 3, 5, 16, 100}) EXPECT_EQ(told(read_in_pieces(dialect.bytes, dialect.map, size)), told(whole)) << size;
}

TEST_P(DialectFile, NeverInventsAReadingWhenCutAtAnyByte) {
  const Dialect& dialect = GetParam();
  const auto all = told(read_readings(dialect.bytes, dialect.map, "file"));
  int read_in_part = 0;
  for (std::size_t cut = 0; cut < dialect.bytes.size(); ++cut) {
    const auto part = read_readings(dialect.bytes.substr(0, cut), dialect.map, "file");
    if (!part) {
      EXPECT_FALSE(part.error().empty());
      continue;
    }
    ++read_in_part;
    const auto some = told(part);
    ASSERT_LE(some.size(), all.size()) << cut;
    EXPECT_TRUE(std::equal(some.begin(), some.end(), all.begin())) << dialect.name << " cut at " << cut;
  }
  EXPECT_GE(read_in_part, 2);
}

TEST_P(DialectFile, KeepsEveryFaultAFault) {
  const Dialect& dialect = GetParam();
  const auto whole = read_readings(dialect.bytes, dialect.map, "file");
  ASSERT_TRUE(whole);
  const auto faults = std::count_if(whole->readings.begin(), whole->readings.end(), [](const auto& one) { return !one.degrees; });
  EXPECT_EQ(faults, dialect.name == "08-faults" ? 6 : 0);
  EXPECT_EQ(whole->seen.faults, faults);
  EXPECT_EQ(whole->seen.readings, static_cast<std::int64_t>(whole->readings.size()));
}

TEST_P(DialectFile, IsReadOrRefusedUnderEveryOtherColumnMapWithoutFalling) {
  for (const Dialect& other : dialects()) {
    const auto got = read_readings(GetParam().bytes, other.map, "file");
    EXPECT_TRUE(got.has_value() || !got.error().empty());
  }
}

INSTANTIATE_TEST_SUITE_P(Files, DialectFile, testing::ValuesIn(dialects()), [](const auto& file) {
  std::string name = file.param.name;
  std::replace(name.begin(), name.end(), '-', '_');
  return "file_" + name;
});

TEST(Dialects, AreTwelve) { EXPECT_EQ(dialects().size(), 12u); }

Dialect dialect(const std::string& begin) {
  for (auto& one : dialects()) {
    if (one.name.starts_with(begin)) return one;
  }
  throw std::runtime_error{begin};
}

ColumnMap plain() {
  ColumnMap map;
  map.time = "time";
  map.temperature = "temperature";
  map.unit = Scale::celsius;
  return map;
}
std::vector<std::string> read(const std::string& text, const ColumnMap& map) { return told(read_readings(text, map, "log.csv")); }
using Lines = std::vector<std::string>;

TEST(Encoding, OfAByteOrderMarkOutweighsTheMap) {
  Dialect utf16 = dialect("03");
  const auto all = read(utf16.bytes, utf16.map);
  ASSERT_EQ(all.size(), 6u);
  for (const auto stated : {TextEncoding::utf8, TextEncoding::windows_1252}) {
    utf16.map.encoding = stated;
    EXPECT_EQ(read(utf16.bytes, utf16.map), all);
  }
  std::string big_endian;
  for (std::size_t i = 0; i + 1 < utf16.bytes.size(); i += 2) big_endian += {utf16.bytes[i + 1], utf16.bytes[i]};
  EXPECT_EQ(read(big_endian, utf16.map), all);
  Dialect utf8 = dialect("05");
  utf8.map.encoding = TextEncoding::windows_1252;
  EXPECT_EQ(read(utf8.bytes, utf8.map).size(), 6u);
  const auto got = read_readings(utf8.bytes, utf8.map, "file");
  ASSERT_TRUE(got);
  EXPECT_TRUE(got->seen.marked);
  EXPECT_EQ(got->seen.encoding, TextEncoding::utf8);
}

TEST(Encoding, IsRefusedWithTheLineOfWhatIsNotOfIt) {
  EXPECT_EQ(read("time,temperature\n2026-05-01T08:00Z,4\n2026-05-01T09:00Z,4\xb0\n", plain()),
            (Lines{"log.csv:3: column 2: holds bytes that are not UTF-8; set encoding in the column map, or export the file as UTF-8"}));
  ColumnMap map = plain();
  map.encoding = TextEncoding::windows_1252;
  EXPECT_EQ(read("time,temperature\n2026-05-01T08:00Z,4\xb0"
                 "C\n",
                 map),
            (Lines{"2 2026-05-01T08:00:00+00:00 400"}));
  EXPECT_EQ(read("time,temperature\n2026-05-01T08:00Z,4\n2026-05-01T09:00Z,4\x81\n", map).front(),
            "log.csv:3: the byte 0x81 is no letter of Windows-1252; set encoding in the column map, or export the file as UTF-8");
  map.encoding = TextEncoding::utf16;
  const auto wide = [](const std::string& text) {
    std::string out;
    for (const char c : text) out += {c, '\0'};
    return out;
  };
  EXPECT_EQ(read(wide("time,temperature\n2026-05-01T08:00Z,4\n"), map), (Lines{"2 2026-05-01T08:00:00+00:00 400"}));
  EXPECT_EQ(read(wide("time,temperature\n2026-05-01T08:00Z,") + "\x34\xd8" + wide("4\n"), map).front(),
            "log.csv:2: half a letter of UTF-16 stands alone; set encoding in the column map, or export the file as UTF-8");
  EXPECT_EQ(read(wide("time,temperature\n2026-05-01T08:00Z,4\n") + "x", map).front(),
            "log.csv:3: the file ends within a letter, so it may be cut short; export it again");
  EXPECT_EQ(read(wide("time,temperature\n2026-05-01T08:00Z,4\n"), plain()).front().substr(0, 45),
            "log.csv:1: column 1: holds the character U+00");
}

TEST(SepLine, ThatSaysAnotherDelimiterIsRefused) {
  EXPECT_EQ(read("sep=;\ntime;temperature\n2026-05-01T08:00Z;4\n", plain()),
            (Lines{"log.csv:1: the first line says another delimiter than the column map, comma; set delimiter in the column map"}));
  EXPECT_EQ(read("SEP=,\ntime,temperature\n2026-05-01T08:00Z,4\n", plain()), (Lines{"3 2026-05-01T08:00:00+00:00 400"}));
}

TEST(Header, IsFoundByItsLineOrByItsHeadings) {
  Dialect preamble = dialect("04");
  const auto all = read(preamble.bytes, preamble.map);
  ASSERT_EQ(all.size(), 6u);
  preamble.map.header = HeaderAt::by_headings;
  EXPECT_EQ(read(preamble.bytes, preamble.map), all);
  preamble.map.header = HeaderAt::line;
  preamble.map.header_line = 6;  // a blank line
  EXPECT_EQ(read(preamble.bytes, preamble.map),
            (Lines{"log.csv:6: no row begins on the line of the header; set header in the column map"}));
  preamble.map.header_line = 900;
  EXPECT_EQ(read(preamble.bytes, preamble.map),
            (Lines{"log.csv:900: no row begins on the line of the header; set header in the column map"}));
  preamble.map.header = HeaderAt::by_headings;
  preamble.map.temperature = "Temp(F)";
  EXPECT_EQ(read(preamble.bytes, preamble.map),
            (Lines{"log.csv: no row has all of the headings \"Date\", \"Time\", \"Temp(F)\"; choose the column map of this logger"}));
}

TEST(Footer, BeginsAtTheFirstRowWithoutADateAndIsCounted) {
  const Dialect preamble = dialect("04");
  const auto got = read_readings(preamble.bytes, preamble.map, "file");
  ASSERT_TRUE(got);
  EXPECT_EQ(got->seen.rows_before, 5);
  EXPECT_EQ(got->seen.header_line, 7);
  EXPECT_EQ(got->seen.rows_after, 3);
  EXPECT_EQ(got->seen.first_row_after, 15);
  ColumnMap strict = preamble.map;
  strict.ends_without_date = false;
  EXPECT_FALSE(read_readings(preamble.bytes, strict, "file"));
}

TEST(Footer, NeverHidesAReadingBelowADamagedRow) {
  ColumnMap map = plain();
  map.ends_without_date = true;
  const std::string head = "time,temperature\n2026-05-01T08:00Z,4\n";
  EXPECT_EQ(read(head + "lowest,4\n", map).front().substr(0, 40),
            "log.csv:3: time: \"lowest\" is not a time;");  // a row that has a temperature
  EXPECT_EQ(read(head + "logger,stopped\n", map), (Lines{"2 2026-05-01T08:00:00+00:00 400"}));
  EXPECT_EQ(
      read(head + ",\n2026-05-01T09:00Z,5\n", map),
      (Lines{"log.csv:4: time: a reading stands below line 3, where the readings end; correct the row without a date, or set readings "
             "end in the column map"}));
}

TEST(Columns, ByNumberMustBeThere) {
  Dialect numbers = dialect("06");
  EXPECT_EQ(read(numbers.bytes, numbers.map).front(), "1 2026-07-03T06:00:00+00:00 340");
  numbers.map.temperature = "3";
  EXPECT_EQ(read(numbers.bytes, numbers.map),
            (Lines{"log.csv:1: 3: there is no column 3; there are 2; choose the column map of this logger"}));
}

TEST(Columns, OfSeveralThermometersAreEachReadByTheirOwn) {
  Dialect two = dialect("05");
  two.map.temperature = *column_of(two.map, "freezer");
  EXPECT_EQ(read(two.bytes, two.map).front(), "3 2026-07-03 8 h -1850");
}

TEST(Numbers, ThatCountPartsOfADegreeAreWhole) {
  Dialect numbers = dialect("06");
  EXPECT_EQ(
      read("1783058400,3.40\n", numbers.map).front(),
      "log.csv:1: 2: \"3.40\" is not whole, and the column map says that the file counts parts of a degree; set numbers in of the column "
      "map");
  numbers.map.counts_per_degree = 1000;
  EXPECT_EQ(read("1783058400,3405\n", numbers.map), (Lines{"1 2026-07-03T06:00:00+00:00 341"}));  // rounded half up
  EXPECT_EQ(read("soon,3405\n", numbers.map).front().substr(0, 33), "log.csv:1: 1: \"soon\" is not a tim");
}

TEST(Years, OfTwoDigitsAreOnlyReadWhereTheMapSaysSo) {
  Dialect short_year = dialect("09");
  EXPECT_EQ(read(short_year.bytes, short_year.map).front(), "2 2026-07-03 7 h 340");
  short_year.map.two_digit_years = false;
  EXPECT_FALSE(read_readings(short_year.bytes, short_year.map, "file"));
  ColumnMap map = plain();
  map.two_digit_years = true;
  EXPECT_FALSE(read_readings("time,temperature\n2026-05-01 08:00,4\n", map, "file"));
}

TEST(LongFile, IsReadWithOnePieceInHand) {
  constexpr int rows = 1'000'000;
  constexpr std::size_t piece_size = 64 * 1024;
  std::string piece = "time,temperature\n";
  int made = 0;
  std::size_t most_held = 0;
  std::size_t biggest_piece = 0;
  ReadingStream* watched = nullptr;
  ReadingStream stream{plain(), "long.csv", [&]() -> std::string_view {
                         if (watched != nullptr) most_held = std::max(most_held, watched->held_bytes());
                         if (made > 0) piece.clear();
                         while (made < rows && piece.size() < piece_size) {
                           const Instant at{std::chrono::sys_days{std::chrono::year{2024} / 1 / 1} + std::chrono::minutes{made++}};
                           piece += format_zoned(at, Offset{}) + (made % 1000 == 0 ? ",---\n" : ",4.25\n");
                         }
                         biggest_piece = std::max(biggest_piece, piece.size());
                         return piece;
                       }};
  watched = &stream;
  std::int64_t count = 0;
  std::int64_t faults = 0;
  while (const auto reading = stream.next()) {
    ++count;
    if (!reading->degrees) ++faults;
  }
  EXPECT_TRUE(stream.refusals().empty());
  EXPECT_EQ(count, rows);
  EXPECT_EQ(faults, rows / 1000);
  EXPECT_GT(most_held, 0u);
  EXPECT_LE(most_held, 4 * biggest_piece);
}

TEST(LongFile, OfBadRowsIsRefusedWithTheFirstHundredAndACount) {
  std::string text = "time,temperature\n";
  for (int i = 0; i < 250; ++i) text += "never,4\n";
  const auto refused = read(text, plain());
  ASSERT_EQ(refused.size(), 101u);
  EXPECT_EQ(refused.back(), "log.csv: 150 more are not listed; mend these first");
}

TEST(LongFile, OfOneRowWithoutEndIsRefusedBeforeItIsHeld) {
  std::int64_t asked = 0;
  const std::string piece(1000, 'x');
  ReadingStream stream{plain(), "file", [&]() -> std::string_view { return ++asked, piece; }};  // never ends
  EXPECT_FALSE(stream.next());
  EXPECT_EQ(stream.refusals().size(), 1u);
  EXPECT_LT(asked, 2000);
}

RC_GTEST_PROP(DialectNoise, IsReadOrRefusedWithoutFalling, (const std::string& noise, unsigned pick, unsigned at)) {
  static const auto all = dialects();
  const Dialect& one = all[pick % all.size()];
  std::string bytes = one.bytes;
  bytes.insert(at % bytes.size(), noise);
  const auto got = read_readings(bytes, one.map, "file");
  const bool answered = got ? !got->readings.empty() : !got.error().empty();
  RC_ASSERT(answered);
}

}  // namespace
}  // namespace tierproof
