#include "tierproof/imports/column_map.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

namespace tierproof {
namespace {

std::string load(const std::filesystem::path& path) {
  std::ifstream in{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{in}, {}};
}

TEST(ColumnMap, IsReadFromEveryFileOfTheReference) {
  int count = 0;
  for (const auto& entry : std::filesystem::directory_iterator{TIERPROOF_SOURCE_DIR "/reference/probes"}) {
    if (entry.path().extension() != ".tsv") continue;
    ++count;
    const auto map = read_column_map(load(entry.path()), entry.path().filename().string());
    EXPECT_TRUE(map) << entry.path() << ": " << (map ? "" : describe(map.error().front()));
  }
  EXPECT_GE(count, 4);
}

TEST(ColumnMap, SaysWhatEachKeySays) {
  const auto map = read_column_map(
      "# a comment\nkey\tvalue\ndelimiter\tsemicolon\ndecimal\tcomma\ntime\tDatum\nclock\tUhrzeit\ndate order\tday first\n"
      "temperature\tTemperatur\nunit\tF\nfault\tOL\nfault\tLO\nfalse number\t-127.0\n",
      "map.tsv");
  ASSERT_TRUE(map);
  EXPECT_EQ(map->delimiter, ';');
  EXPECT_EQ(map->decimal, ',');
  EXPECT_EQ(map->time, "Datum");
  EXPECT_EQ(map->clock, "Uhrzeit");
  EXPECT_EQ(map->date_order, DateOrder::day_first);
  EXPECT_EQ(map->temperature, "Temperatur");
  EXPECT_EQ(map->unit, Scale::fahrenheit);
  EXPECT_EQ(map->faults, (std::vector<std::string>{"OL", "LO"}));
  EXPECT_EQ(map->false_numbers, std::vector<Share>{Share{-127}});
}

TEST(ColumnMap, IsRefusedWithEveryFaultAndItsLine) {
  const auto map = read_column_map("key\tvalue\nunit\tK\nunit\tC\ntime\t\ncolour\tblue\nfalse number\tmany\none cell\n", "map.tsv");
  ASSERT_FALSE(map);
  std::vector<std::string> told;
  for (const Refusal& r : map.error()) told.push_back(describe(r));
  EXPECT_EQ(told,
            (std::vector<std::string>{"map.tsv:2: unit: \"K\" is not known; write one of: C, F, in cell",
                                      "map.tsv:3: unit: \"unit\" is given twice; leave one of them out",
                                      "map.tsv:4: time: the value is empty; write the value, or leave the row out",
                                      "map.tsv:5: colour: \"colour\" is not a key of a column map; write one of: encoding, delimiter, "
                                      "decimal, header, readings end, time, clock, time written, date order, year, zone, missing hour, "
                                      "temperature, thermometer, unit, numbers in, fault, false number",
                                      "map.tsv:6: false number: \"many\" is not a number; write it with a decimal point, -127.0",
                                      "map.tsv:7: 1 cells where two belong; write a key, one tab, and its value",
                                      "map.tsv: time: \"time\" is missing; add a row: time, tab, its value",
                                      "map.tsv: temperature: \"temperature\" is missing; add a row: temperature, tab, its value"}));
}

TEST(ColumnMap, SaysHowAFileIsLaidOutAndItsClockShowsTheTime) {
  const auto map = read_column_map(
      "key\tvalue\nencoding\tWindows-1252\nheader\t7\nreadings end\tat the first row without a date\ntime\twhen\nyear\ttwo digits\n"
      "zone\tEurope/Berlin\nmissing hour\tshift\nthermometer\tfridge=Channel 1\nthermometer\tfreezer = Channel=2\nunit\tC\n"
      "numbers in\ttenths\n",
      "map.tsv");
  ASSERT_TRUE(map) << describe(map.error().front());
  EXPECT_EQ(map->encoding, TextEncoding::windows_1252);
  EXPECT_EQ(map->header, HeaderAt::line);
  EXPECT_EQ(map->header_line, 7);
  EXPECT_TRUE(map->ends_without_date);
  EXPECT_TRUE(map->two_digit_years);
  EXPECT_EQ(map->zone, "Europe/Berlin");
  EXPECT_EQ(map->missing_hour, MissingHour::shift);
  EXPECT_EQ(map->counts_per_degree, 10);
  EXPECT_EQ(column_of(*map, "fridge"), "Channel 1");
  EXPECT_EQ(column_of(*map, "freezer"), "Channel=2");
  EXPECT_EQ(column_of(*map, "fork"), std::nullopt);
}

TEST(ColumnMap, WithoutAHeaderNamesItsColumnsByNumber) {
  const auto map = read_column_map("key\tvalue\nheader\tnone\ntime\twhen\nthermometer\tfridge=0\ntemperature\t2\nunit\tC\n", "map.tsv");
  ASSERT_FALSE(map);
  std::vector<std::string> told;
  for (const Refusal& r : map.error()) told.push_back(describe(r));
  EXPECT_EQ(told,
            (std::vector<std::string>{"map.tsv: time: \"when\" is no number of a column, and the file has no header; write the number of "
                                      "the column, from 1 on",
                                      "map.tsv: thermometer fridge: \"0\" is no number of a column, and the file has no header; write "
                                      "the number of the column, from 1 on"}));
}

TEST(ColumnMap, IsRefusedWhenAThermometerHasTwoColumnsOrNone) {
  for (const char* rows :
       {"thermometer\tfridge=a\nthermometer\tfridge=b\n", "thermometer\tfridge\n", "thermometer\t=a\n", "thermometer\ta=\n"})
    EXPECT_FALSE(read_column_map("key\tvalue\ntime\tt\nunit\tC\n" + std::string{rows}, "map.tsv")) << rows;
}

TEST(ColumnMap, IsRefusedWhereUnixSecondsHaveAClockBesides) {
  EXPECT_FALSE(read_column_map("key\tvalue\ntime\tt\nclock\tc\ntime written\tUnix seconds\ntemperature\tx\nunit\tC\n", "map.tsv"));
}

TEST(ColumnMap, IsRefusedWhereTheDecimalCommaIsTheDelimiter) {
  EXPECT_FALSE(read_column_map("key\tvalue\ndecimal\tcomma\ntime\tt\ntemperature\tc\nunit\tC\n", "map.tsv"));
}

}  // namespace
}  // namespace tierproof
