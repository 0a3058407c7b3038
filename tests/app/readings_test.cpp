#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <regex>
#include <set>

#include "app/app_for_tests.h"
#include "tierproof/app/logger_files.h"

namespace tierproof {
namespace {
namespace fs = std::filesystem;

const fs::path folder = fs::path{TIERPROOF_SOURCE_DIR} / "tests" / "data" / "logger-dialects";

/// `expected.json`, its fractions as texts: the program's own gate takes no fractions.
const Json& expected() {
  static const Json json = [] {
    const std::string text =
        std::regex_replace(load_file(folder / "expected.json"), std::regex{R"(([:\[,]\s*)(-?[0-9]+\.[0-9]+)(?=\s*[,}\]]))"}, "$1\"$2\"");
    auto parsed = parse_json(text, "expected.json");
    if (!parsed) throw std::runtime_error{describe(parsed.error().front())};
    return std::move(parsed).value();
  }();
  return json;
}
std::vector<std::string> files() {
  std::vector<std::string> names;
  for (const auto& [name, what] : expected().object()) names.push_back(name);
  return names;
}
GivenDocument map_file(const std::string& file) {
  const std::string name = fs::path{file}.stem().string() + ".tsv";
  return {name, load_file(folder / "maps" / name)};
}
GivenDocument plain_map(const std::string& more = "") {
  return {"map.tsv", "key\tvalue\ntime\ttime\ntemperature\ttemperature\nunit\tC\n" + more};
}

/// A kitchen late in the year, with a freezer thermometer besides.
class LoggerKitchen : public TestKitchen {
 public:
  LoggerKitchen() {
    at("2026-11-20T08:00Z");
    done([](Session& s) { return add_probe(s, "freezer", Probe{"freezer logger", Scale::celsius, 50, 10, "air", {}}); });
  }
  static LoggerFile asked(const GivenDocument& file, const GivenDocument& map, const std::string& probe = "logger") {
    return {probe, "fridge", "", text_in_one_piece(file), map, "layout", ""};
  }
  FileReport import(const GivenDocument& file, const GivenDocument& map, const std::string& probe = "logger") {
    Session session = open();
    const auto done = import_logger_file(session, asked(file, map, probe));
    if (!done) {
      for (const auto& refusal : done.error()) ADD_FAILURE() << describe(refusal);
      return {};
    }
    return done->report;
  }
  std::string import_refused(const GivenDocument& file, const GivenDocument& map) {
    return refused([&](Session& s) -> Result<Booked> {
      const auto done = import_logger_file(s, asked(file, map));
      if (!done) return done.error();
      return done->booked;
    });
  }
  /// Every reading recorded by `probe`, as `2026-07-03T06:00:00Z 3.40`, in time order.
  Strings recorded(const std::string& probe = "logger") const {
    const Session session = open(true);
    std::vector<LoggedReading> all;
    for (const auto& block : session.state().readings) {
      if (block.value.probe.text() != probe) continue;
      for (auto& reading : session.readings(block)) all.push_back(std::move(reading));
    }
    std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
    Strings told;
    for (const auto& reading : all) told.push_back(told_of(reading));
    return told;
  }
  static std::string told_of(const LoggedReading& reading) {
    const std::string zoned = format_zoned(reading.at, Offset{});
    const std::string when = zoned.substr(0, zoned.find('+')) + "Z ";
    if (!reading.degrees) return when + "fault " + reading.fault;
    const double c = reading.degrees->temperature().to_celsius();
    return when + fmt::format("{:.2f}", c);
  }
};

std::string hundredths(const Json& number) {
  const std::string text = number.is_text() ? number.text() : std::to_string(number.integer());
  return fmt::format("{:.2f}", std::stod(text));
}
/// What `expected.json` says of one file, by the member of a thermometer.
Strings expectation(const std::string& file, const std::string& member) {
  Strings told;
  for (const Json& row : expected().find(file)->find("expect")->array()) {
    std::string one = row.find("utc")->text() + " ";
    if (const Json* fault = row.find("fault")) {
      one += "fault " + (fault->text().empty() ? "empty" : fault->text());
    } else {
      one += hundredths(*row.find(member));
    }
    told.push_back(one);
  }
  return told;
}

class LoggerDialect : public testing::TestWithParam<std::string> {};

TEST_P(LoggerDialect, IsRecordedAsItsFileOfExpectationsSays) {
  const std::string& file = GetParam();
  const GivenDocument document{file, load_file(folder / file)};
  LoggerKitchen kitchen;
  if (file.starts_with("05")) {
    GivenDocument map = map_file(file);
    map.text = std::regex_replace(map.text, std::regex{"fridge="}, "logger=");  // its short name in this kitchen
    kitchen.import(document, map);
    kitchen.import(document, map, "freezer");
    EXPECT_EQ(kitchen.recorded(), expectation(file, "fridge"));
    EXPECT_EQ(kitchen.recorded("freezer"), expectation(file, "freezer"));
    return;
  }
  const FileReport report = kitchen.import(document, map_file(file));
  EXPECT_EQ(kitchen.recorded(), expectation(file, "c"));
  EXPECT_EQ(report.fresh, static_cast<std::int64_t>(expectation(file, "c").size()));
  EXPECT_EQ(report.repeated, file.starts_with("10") ? 1 : 0);
  EXPECT_EQ(report.twice, file.starts_with("07") ? 4 : 0);
  EXPECT_EQ(report.seen.faults, file.starts_with("08") ? 6 : 0);
  EXPECT_EQ(report.seen.rows_after, file.starts_with("04") ? 3 : 0);
}

TEST_P(LoggerDialect, CutAtAnyByteRecordsNothingThatTheWholeFileDoesNot) {
  const std::string& file = GetParam();
  const std::string whole = load_file(folder / file);
  GivenDocument map = map_file(file);
  map.text = std::regex_replace(map.text, std::regex{"fridge="}, "logger=");
  LoggerKitchen kitchen;
  Strings all = expectation(file, file.starts_with("05") ? "fridge" : "c");
  int booked = 0;
  {
    Session session = kitchen.open();
    for (std::size_t cut = 0; cut < whole.size(); ++cut) {
      if (import_logger_file(session, LoggerKitchen::asked({file, whole.substr(0, cut)}, map))) ++booked;
    }
  }
  const Strings some = kitchen.recorded();
  EXPECT_GE(booked, 1);
  for (const auto& reading : some) EXPECT_NE(std::find(all.begin(), all.end(), reading), all.end()) << reading;
  EXPECT_EQ(std::set<std::string>(some.begin(), some.end()).size(), some.size());
}

TEST_P(LoggerDialect, HasAColumnMapThatSaysWhatItsMappingSays) {
  const Json& mapping = *expected().find(GetParam())->find("mapping");
  const auto map = read_column_map(map_file(GetParam()).text, "map");
  ASSERT_TRUE(map);
  EXPECT_EQ(std::string(1, map->delimiter), mapping.find("delimiter")->text());
  if (const Json* decimal = mapping.find("decimal")) {
    EXPECT_EQ(std::string(1, map->decimal), decimal->text());
  }
  const Json& time = *mapping.find("time");
  const Json* zone = time.find("zone");
  EXPECT_EQ(map->zone, zone == nullptr ? "" : zone->text());
  EXPECT_EQ(map->unix_seconds, time.find("format")->text() == "unix");
  const auto header = mapping.find("header_row")->integer();
  if (header == 0) {
    EXPECT_EQ(map->header, HeaderAt::none);
  } else if (header > 1) {
    EXPECT_EQ(map->header_line, header);
  } else {
    EXPECT_EQ(map->header, HeaderAt::first_row);
  }
  const std::string encoding = mapping.find("encoding")->text();
  EXPECT_EQ(map->encoding, encoding == "utf-16le"       ? TextEncoding::utf16
                           : encoding == "windows-1252" ? TextEncoding::windows_1252
                                                        : TextEncoding::utf8);
  EXPECT_EQ(map->ends_without_date, mapping.find("stop_at") != nullptr);
}

INSTANTIATE_TEST_SUITE_P(Files, LoggerDialect, testing::ValuesIn(files()), [](const auto& file) {
  std::string name = fs::path{file.param}.stem().string();
  std::replace(name.begin(), name.end(), '-', '_');
  return "file_" + name;
});

/// One change of the clocks of 2026 and what a logger's clock showed around it, with the instants that they were.
/// @source  IANA time zone database 2024a or later, `zdump -v ZONE`, rows of 2026: London goes forward at 2026-03-29T01:00Z and back at
///          2026-10-25T01:00Z; New York forward at 2026-03-08T07:00Z and back at 2026-11-01T06:00Z
struct ClockChange {
  const char* name;
  const char* zone;
  Strings shown;
  Strings were;
};
class AroundAClockChange : public testing::TestWithParam<ClockChange> {};

TEST_P(AroundAClockChange, EveryReadingIsRecordedAtItsInstant) {
  const ClockChange& change = GetParam();
  LoggerKitchen kitchen;
  std::string csv = "time,temperature\n";
  for (const auto& shown : change.shown) csv += shown + ",4\n";
  const auto report = kitchen.import({"log.csv", csv}, plain_map(std::string{"zone\t"} + change.zone + "\n"));
  Strings were;
  for (const auto& at : change.were) were.push_back(at + " 4.00");
  EXPECT_EQ(kitchen.recorded(), were);
  EXPECT_EQ(report.zone, change.zone);
}

INSTANTIATE_TEST_SUITE_P(
    Zones, AroundAClockChange,
    testing::Values(ClockChange{"london_back",
                                "Europe/London",
                                {"2026-10-25 00:30", "2026-10-25 01:00", "2026-10-25 01:30", "2026-10-25 01:00", "2026-10-25 01:30",
                                 "2026-10-25 02:00"},
                                {"2026-10-24T23:30:00Z", "2026-10-25T00:00:00Z", "2026-10-25T00:30:00Z", "2026-10-25T01:00:00Z",
                                 "2026-10-25T01:30:00Z", "2026-10-25T02:00:00Z"}},
                    ClockChange{"london_back_an_hour_apart",
                                "Europe/London",
                                {"2026-10-25 00:15", "2026-10-25 01:15", "2026-10-25 01:15", "2026-10-25 02:15"},
                                {"2026-10-24T23:15:00Z", "2026-10-25T00:15:00Z", "2026-10-25T01:15:00Z", "2026-10-25T02:15:00Z"}},
                    ClockChange{"london_back_newest_first",
                                "Europe/London",
                                {"2026-10-25 02:00", "2026-10-25 01:30", "2026-10-25 01:00", "2026-10-25 01:30", "2026-10-25 01:00",
                                 "2026-10-25 00:30"},
                                {"2026-10-24T23:30:00Z", "2026-10-25T00:00:00Z", "2026-10-25T00:30:00Z", "2026-10-25T01:00:00Z",
                                 "2026-10-25T01:30:00Z", "2026-10-25T02:00:00Z"}},
                    ClockChange{"london_forward",
                                "Europe/London",
                                {"2026-03-29 00:30", "2026-03-29 02:00", "2026-03-29 02:30"},
                                {"2026-03-29T00:30:00Z", "2026-03-29T01:00:00Z", "2026-03-29T01:30:00Z"}},
                    ClockChange{"new_york_back",
                                "America/New_York",
                                {"2026-11-01 00:30", "2026-11-01 01:30", "2026-11-01 01:00", "2026-11-01 01:59", "2026-11-01 02:00"},
                                {"2026-11-01T04:30:00Z", "2026-11-01T05:30:00Z", "2026-11-01T06:00:00Z", "2026-11-01T06:59:00Z",
                                 "2026-11-01T07:00:00Z"}},
                    ClockChange{"new_york_forward",
                                "America/New_York",
                                {"2026-03-08 01:59", "2026-03-08 03:00", "2026-03-08 03:30"},
                                {"2026-03-08T06:59:00Z", "2026-03-08T07:00:00Z", "2026-03-08T07:30:00Z"}}),
    [](const auto& change) { return std::string{change.param.name}; });

TEST(RepeatedHour, IsRefusedWhereTheOrderOfTheRowsDoesNotTellWhich) {
  LoggerKitchen kitchen;
  const auto refused = [&](const Strings& times) {
    std::string csv = "time,temperature\n";
    for (const auto& time : times) csv += time + ",4\n";
    return kitchen.import_refused({"log.csv", csv}, plain_map());
  };
  const char* why = "came twice, as the clocks went back, and the order of the rows does not tell which it was";
  EXPECT_THAT(refused({"2026-10-25 01:30", "2026-10-25 02:00"}), HasSubstr(why));  // begins in it, shows it once
  EXPECT_THAT(refused({"2026-10-25 01:30"}), HasSubstr(why));
  EXPECT_THAT(refused({"2026-10-24 12:00", "2026-10-24 11:00", "2026-10-24 13:00", "2026-10-25 01:30"}),
              HasSubstr("log.csv:5: time: 2026-10-25 01:30"));
  EXPECT_THAT(
      refused({"2026-10-25 00:30", "2026-10-25 01:30", "2026-10-25 01:00", "2026-10-25 01:30", "2026-10-25 01:00", "2026-10-25 02:00"}),
      HasSubstr(why));  // a third time
  EXPECT_THAT(refused({"2026-10-25 00:30", "2026-10-25 01:00", "2026-10-25 01:00", "2026-10-25 01:30", "2026-10-25 02:00"}),
              HasSubstr(why));  // one row written twice, or the clock gone back and half an hour without rows
}

TEST(MissingHour, IsRefusedOrShiftedAsTheColumnMapSays) {
  LoggerKitchen kitchen;
  const GivenDocument file{"log.csv", "time,temperature\n2026-03-29 00:30,4\n2026-03-29 01:30,4\n2026-03-29 03:00,4\n"};
  EXPECT_THAT(kitchen.import_refused(file, plain_map()), HasSubstr("log.csv:3: time: 2026-03-29 01:30 does not exist"));
  const auto report = kitchen.import(file, plain_map("missing hour\tshift\n"));
  EXPECT_EQ(report.shifted, 1);
  EXPECT_EQ(kitchen.recorded(), (Strings{"2026-03-29T00:30:00Z 4.00", "2026-03-29T01:30:00Z 4.00", "2026-03-29T02:00:00Z 4.00"}));
}

const GivenDocument three{"three.csv", "time,temperature\n2026-05-02T08:00Z,4\n2026-05-02T09:00Z,---\n2026-05-02T10:00Z,5\n"};

TEST(LoggerImport, OfTheSameFileAgainAddsNothing) {
  LoggerKitchen kitchen;
  kitchen.import(three, plain_map());
  EXPECT_THAT(kitchen.import_refused(three, plain_map()), HasSubstr("holds no reading that is not recorded already"));
  EXPECT_EQ(kitchen.recorded().size(), 3u);
}

TEST(LoggerImport, ThatOverlapsAddsOnlyWhatIsNew) {
  LoggerKitchen kitchen;
  kitchen.import(three, plain_map());
  const auto report =
      kitchen.import({"more.csv", "time,temperature\n2026-05-02T11:00Z,5\n2026-05-02T09:00Z,---\n2026-05-02T10:00Z,5\n"}, plain_map());
  EXPECT_EQ(report.fresh, 1);
  EXPECT_EQ(report.recorded, 2);
  EXPECT_EQ(report.disputed, 0);
  EXPECT_EQ(kitchen.recorded().size(), 4u);
}

TEST(LoggerImport, KeepsBothValuesOfOneInstantAndSaysSo) {
  LoggerKitchen kitchen;
  kitchen.import(three, plain_map());
  const auto report = kitchen.import({"more.csv", "time,temperature\n2026-05-02T08:00Z,4.5\n2026-05-02T09:00Z,4\n"}, plain_map());
  EXPECT_EQ(report.fresh, 2);
  EXPECT_EQ(report.disputed, 2);
  EXPECT_EQ(kitchen.recorded(), (Strings{"2026-05-02T08:00:00Z 4.00", "2026-05-02T08:00:00Z 4.50", "2026-05-02T09:00:00Z fault ---",
                                         "2026-05-02T09:00:00Z 4.00", "2026-05-02T10:00:00Z 5.00"}));
  const auto within = kitchen.import({"own.csv", "time,temperature\n2026-05-03T08:00Z,4.5\n2026-05-03T08:00Z,4\n"}, plain_map());
  EXPECT_EQ(within.disputed, 2);
}

TEST(LoggerImport, KeepsWhichFileItWas) {
  LoggerKitchen kitchen;
  kitchen.import({"folder/three.csv", three.text}, plain_map());
  const Session session = kitchen.open(true);
  const ReadingsBlock& block = session.state().readings.back().value;
  EXPECT_EQ(block.file, "three.csv");
  EXPECT_EQ(block.file_sha256, to_hex(sha256(three.text)));
  EXPECT_EQ(block.file_bytes, static_cast<std::int64_t>(three.text.size()));
  EXPECT_EQ(block.format, "layout");
  EXPECT_EQ(block.count, 3);
}

TEST(LoggerImport, TakesNothingOfAFileWithOneBadRow) {
  LoggerKitchen kitchen;
  EXPECT_THAT(kitchen.import_refused({"log.csv", three.text + "2026-05-02T11:00Z,warm\n"}, plain_map()),
              HasSubstr("log.csv:5: temperature: \"warm\""));
  EXPECT_THAT(kitchen.import_refused({"log.csv", three.text + "2027-05-02T11:00Z,4\n"}, plain_map()),
              HasSubstr("log.csv:5: time: lies after now"));
  EXPECT_TRUE(kitchen.recorded().empty());
}

TEST(LoggerImport, NeedsAColumnForItsThermometer) {
  LoggerKitchen kitchen;
  const GivenDocument map{"map.tsv", "key\tvalue\ntime\ttime\nthermometer\tfreezer=temperature\nunit\tC\n"};
  EXPECT_THAT(kitchen.import_refused(three, map), HasSubstr("name the column with --column; the map has freezer in \"temperature\""));
  Session session = kitchen.open();
  LoggerFile asked = LoggerKitchen::asked(three, map);
  asked.column = "temperature";
  EXPECT_TRUE(import_logger_file(session, asked));
}

TEST(LoggerImport, RefusesAZoneThatDoesNotExist) {
  LoggerKitchen kitchen;
  EXPECT_THAT(kitchen.import_refused(three, plain_map("zone\tNowhere/Town\n")), HasSubstr("\"Nowhere/Town\" is not a time zone"));
}

TEST(LoggerImport, RefusesAFileThatChangesWhileItIsRead) {
  LoggerKitchen kitchen;
  Session session = kitchen.open();
  LoggerFile asked = LoggerKitchen::asked(three, plain_map());
  asked.file.open = [times = 0, texts = std::vector<std::string>{three.text, three.text + "2026-05-02T11:00Z,5\n"}]() mutable -> NextPiece {
    return [text = texts.at(static_cast<std::size_t>(times++)), given = false]() mutable -> std::string_view {
      return std::exchange(given, true) ? std::string_view{} : std::string_view{text};
    };
  };
  const auto done = import_logger_file(session, asked);
  ASSERT_FALSE(done);
  EXPECT_EQ(describe(done.error().front()), "three.csv: changed while it was read; wait until the logger has written it, and try again");
}

TEST(LoggerImport, OfFiftyThousandRowsIsBookedInBlocks) {
  LoggerKitchen kitchen;
  std::string csv = "time,temperature\n";
  for (int i = 0; i < 50'000; ++i)
    csv += format_zoned(Instant{std::chrono::sys_days{std::chrono::year{2026} / 6 / 1} + std::chrono::minutes{i}}, Offset{}) + ",4.25\n";
  const auto report = kitchen.import({"long.csv", csv}, plain_map());
  EXPECT_EQ(report.fresh, 50'000);
  const Session session = kitchen.open(true);
  std::vector<std::int64_t> counts;
  Strings times;
  for (const auto& block : session.state().readings) {
    counts.push_back(block.value.count);
    for (const auto& reading : session.readings(block)) times.push_back(LoggerKitchen::told_of(reading));
  }
  EXPECT_EQ(counts, (std::vector<std::int64_t>{20'000, 20'000, 10'000}));
  EXPECT_EQ(times.size(), 50'000u);
  EXPECT_EQ(times.back(), "2026-07-05T17:19:00Z 4.25");
  EXPECT_TRUE(std::is_sorted(times.begin(), times.end()));
  EXPECT_THAT(kitchen.import_refused({"long.csv", csv}, plain_map()), HasSubstr("holds no reading that is not recorded already"));
}

TEST(LoggerPreview, SaysWhatWouldBeRecordedAndRecordsNothing) {
  LoggerKitchen kitchen;
  kitchen.import(three, plain_map());
  const Session session = kitchen.open(true);
  const auto report = preview_logger_file(
      session, LoggerKitchen::asked({"more.csv",
                                     "time,temperature\n2026-05-02 09:00,4\n2026-05-02 10:00,---\n2026-05-02 12:00,4.123\n2026-05-02 "
                                     "12:00,4.123\n2026-05-02 13:00,4\n2026-05-02 14:00,4\n"},
                                    plain_map()));
  ASSERT_TRUE(report) << describe(report.error().front());
  EXPECT_EQ(report->fresh, 3);
  EXPECT_EQ(report->recorded, 2);  // 09:00 and 10:00 in London are 08:00Z and 09:00Z
  EXPECT_EQ(report->repeated, 1);
  EXPECT_EQ(report->seen.rounded, 2);
  EXPECT_EQ(report->zone, "Europe/London");
  EXPECT_EQ(report->head.size() + report->tail.size(), 5u);
  EXPECT_EQ(LoggerKitchen::told_of(report->first), "2026-05-02T08:00:00Z 4.00");
  EXPECT_EQ(LoggerKitchen::told_of(report->last), "2026-05-02T13:00:00Z 4.00");
  EXPECT_EQ(kitchen.recorded().size(), 3u);
}

TEST(KeptColumnMap, IsUsedInsteadOfTheOneThatCameWithTheProgram) {
  LoggerKitchen kitchen;
  const DataRoot root{TIERPROOF_SOURCE_DIR};
  EXPECT_EQ(column_map_named(kitchen.open(true), root, "plain")->note, 0u);
  const auto first = kitchen.done([](Session& s) { return keep_column_map(s, "plain", plain_map()); });
  auto found = column_map_named(kitchen.open(true), root, "plain");
  EXPECT_EQ(found->note, first.sequences.front());
  EXPECT_TRUE(found->hides_shipped);
  EXPECT_EQ(found->map.text, plain_map().text);
  EXPECT_THAT(kitchen.refused([](Session& s) { return keep_column_map(s, "plain", plain_map()); }), HasSubstr("is kept like this already"));
  const auto second = kitchen.done([](Session& s) { return keep_column_map(s, "plain", plain_map("decimal\tpoint\n")); });
  found = column_map_named(kitchen.open(true), root, "plain");
  EXPECT_EQ(found->note, second.sequences.front());
  EXPECT_EQ(found->map.text, plain_map("decimal\tpoint\n").text);
  EXPECT_EQ(kitchen.open(true).state().column_maps.size(), 1u);
  const auto unknown = column_map_named(kitchen.open(true), root, "none");
  ASSERT_FALSE(unknown);
  EXPECT_THAT(describe(unknown.error().front()), HasSubstr("--format: there is no column map called \"none\"; write one of plain,"));
}

TEST(KeptColumnMap, IsReadBeforeItIsKept) {
  LoggerKitchen kitchen;
  const std::string told = kitchen.refused([](Session& s) {
    return keep_column_map(s, "Box 1", {"box.tsv", "key\tvalue\ntime\tt\nunit\tK\nthermometer\tattic=a\nzone\tNowhere\n"});
  });
  EXPECT_THAT(told, HasSubstr("name: \"Box 1\" cannot be a short name"));
  EXPECT_THAT(told, HasSubstr("box.tsv:3: unit: \"K\" is not known"));
  const std::string then = kitchen.refused([](Session& s) {
    return keep_column_map(s, "box", {"box.tsv", plain_map("zone\tNowhere\nthermometer\tattic=a\n").text});
  });
  EXPECT_THAT(then, HasSubstr("box.tsv: zone: \"Nowhere\" is not a time zone"));
  EXPECT_THAT(then, HasSubstr("there is no thermometer called \"attic\""));
}

TEST(TypedReading, KeepsItsMark) {
  LoggerKitchen kitchen;
  for (const char* mark : {"start", "now", "done", ""})
    kitchen.done([&](Session& s) { return type_reading(s, {"fork", Degrees{400, Scale::celsius}, "fridge", "", "", mark}); });
  const Session session = kitchen.open(true);
  Strings marks;
  for (const auto& block : session.state().readings) marks.push_back(block.value.mark);
  EXPECT_EQ(marks, (Strings{"start", "now", "done", ""}));
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return type_reading(s, {"fork", Degrees{400, Scale::celsius}, "fridge", "", "", "later"});
  }),
              HasSubstr("--mark: \"later\" is not one of the answers"));
}

}  // namespace
}  // namespace tierproof
