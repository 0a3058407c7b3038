#include "app/charts.h"

#include <chrono>

#include "app/app_for_tests.h"

// How the records fill the charts of a cake's record.

namespace tierproof {
namespace {

using std::chrono::minutes;

std::vector<Chart> charts_of_cake(TestKitchen& kitchen, const std::string& cake) {
  const Session session = kitchen.open(true);
  const auto judgement = judge_cake(session, CakeId{cake}, {session.now(), session.offset_at(session.now())});
  EXPECT_TRUE(judgement);
  return charts_of(session, *judgement);
}

const Chart* chart_titled(const std::vector<Chart>& charts, const std::string& begin) {
  const auto found = std::find_if(charts.begin(), charts.end(), [&](const Chart& chart) { return chart.title.starts_with(begin); });
  return found == charts.end() ? nullptr : &*found;
}

TEST(Charts, NameWhatStoodInTheFridgeAndWhatTheLawAllowsAboveItsLimit) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.put_in(icing, "fridge");
  kitchen.at("2026-05-01T12:00+01:00");
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-05-01T18:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T07:45+01:00", "2026-05-01T18:00+01:00", "4.0");
  const auto charts = charts_of_cake(kitchen, cake);
  const Chart* fridge = chart_titled(charts, "fridge, air");
  ASSERT_NE(fridge, nullptr);
  EXPECT_EQ(std::count_if(charts.begin(), charts.end(), [](const Chart& chart) { return chart.title.starts_with("fridge, air"); }), 1)
      << "stays that touch share a chart";
  EXPECT_EQ(fridge->title, "fridge, air, 1 May 2026");
  ASSERT_EQ(fridge->stays.size(), 2U);
  EXPECT_EQ(fridge->stays[0].name, icing + " (icing)");
  EXPECT_EQ(fridge->stays[1].name, cake);
  EXPECT_EQ(fridge->stays[1].from, parse_zoned("2026-05-01T12:00+01:00")->at);
  EXPECT_EQ(fridge->stays[1].to, parse_zoned("2026-05-01T18:00+01:00")->at);
  EXPECT_EQ(fridge->limit, celsius(8));
  EXPECT_EQ(fridge->limit_words, "limit 8 °C (food)");
  ASSERT_TRUE(fridge->allowance);
  EXPECT_EQ(fridge->allowance->words, "warmer for less than 4 h, once: service or display");
  EXPECT_FALSE(fridge->allowance->up_to) << "the rule names no second temperature";
  EXPECT_TRUE(fridge->clock_changes.empty());
  EXPECT_EQ(fridge->readings.front().at, parse_zoned("2026-05-01T08:00+01:00")->at);
  EXPECT_EQ(fridge->readings.size(), 41U);
}

TEST(Charts, LeaveOutReadingsThatLieFurtherAwayThanTheLongestStep) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T11:00+01:00");
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.put_in(icing, "fridge");
  kitchen.at("2026-05-01T12:00+01:00");
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  kitchen.put_in(cake, "fridge");
  kitchen.readings("logger", "fridge", "2026-05-01T07:00+01:00", "2026-05-01T08:00+01:00", "4.0");
  kitchen.readings("logger", "fridge", "2026-05-01T11:30+01:00", "2026-05-01T12:00+01:00", "4.0");
  kitchen.at("2026-05-01T13:00+01:00");
  const auto charts = charts_of_cake(kitchen, cake);
  const Chart* fridge = chart_titled(charts, "fridge, air");
  ASSERT_NE(fridge, nullptr);
  EXPECT_GE(fridge->readings.front().at, parse_zoned("2026-05-01T10:00+01:00")->at) << "an axis from 08:00 on would squeeze the stay";
  EXPECT_FALSE(fridge->gaps.empty());
}

TEST(Charts, TellTheClocksThatChangedInTheNight) {
  TestKitchen kitchen;
  kitchen.at("2026-10-24T18:00+01:00");
  kitchen.pack("butter", "2026-12-30");
  kitchen.pack("sugar", "2026-12-30");
  kitchen.check_thermometers();
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-10-25T09:00+00:00");
  kitchen.readings("logger", "fridge", "2026-10-24T17:45+01:00", "2026-10-25T09:00+00:00", "4.0");
  const auto charts = charts_of_cake(kitchen, cake);
  const Chart* fridge = chart_titled(charts, "fridge, air");
  ASSERT_NE(fridge, nullptr);
  EXPECT_EQ(fridge->offset.minutes, 60);
  ASSERT_EQ(fridge->clock_changes.size(), 1U);
  EXPECT_EQ(fridge->clock_changes[0].at, parse_zoned("2026-10-25T01:00:00Z")->at);
  EXPECT_EQ(fridge->clock_changes[0].offset.minutes, 0);
}

TEST(Charts, TellBothChangesOfTheClocksInAYear) {
  TestKitchen kitchen;
  const Session session = kitchen.open(true);
  const auto changes = session.clock_changes(parse_zoned("2026-01-01T00:00:00Z")->at, parse_zoned("2027-01-01T00:00:00Z")->at);
  ASSERT_EQ(changes.size(), 2U);
  EXPECT_EQ(changes[0].at, parse_zoned("2026-03-29T01:00:00Z")->at);
  EXPECT_EQ(changes[0].offset.minutes, 60);
  EXPECT_EQ(changes[1].at, parse_zoned("2026-10-25T01:00:00Z")->at);
  EXPECT_TRUE(session.clock_changes(changes[0].at, changes[0].at + minutes{1}).empty()) << "it held already";
}

/// A cake of custard whose egg was heated with as much of something else, with readings every 30 s.
std::vector<Chart> charts_of_custard(TestKitchen& kitchen, const std::string& with, const std::vector<std::string>& degrees) {
  kitchen.recipe("custard", R"([{"of": "eggs", "mass": "100 g"}, {"of": ")" + with + R"(", "mass": "100 g"}])", "195 g", "bowl",
                 "raw, heated here", "room", R"(, "heated_together": ["eggs", ")" + with + R"("], "heat_food": "core of a cooked food")");
  const std::string batch = kitchen.make("custard", grams(195));
  std::string csv;
  Instant at = parse_zoned("2026-05-01T08:01+01:00")->at;
  for (const auto& one : degrees) {
    csv += format_zoned(at, Offset{60}) + "," + one + "\n";
    at += std::chrono::seconds{30};
  }
  kitchen.at("2026-05-01T09:00+01:00");
  kitchen.done([&](Session& s) { return import_csv(s, "fork", batch, "heat step", csv); });
  return charts_of_cake(kitchen, cake_of(kitchen, {{batch, grams(195)}}));
}

TEST(Charts, ShowAHeatStepBuildUpToWhatItsFindingTells) {
  TestKitchen kitchen;
  const auto charts = charts_of_custard(kitchen, "butter", {"20", "66", "72", "72", "72", "72", "72", "60"});
  ASSERT_EQ(charts.size(), 1U);
  const Chart& chart = charts.front();
  EXPECT_THAT(chart.title, HasSubstr("heat step"));
  EXPECT_EQ(chart.limit, celsius(70));
  EXPECT_EQ(chart.limit_words, "wanted: 70 °C for 2 min, unbroken");
  EXPECT_FALSE(chart.limit_is_ceiling);
  ASSERT_TRUE(chart.bound);
  EXPECT_EQ(chart.bound->wanted, minutes{2});
  EXPECT_EQ(chart.bound->wanted_words, "2 min wanted");
  EXPECT_THAT(chart.bound->told, HasSubstr("held at or above 70 °C for 2 min (needs 2 min)"));
  ASSERT_EQ(chart.bound->shown.size(), 8U);
  EXPECT_EQ(chart.bound->shown[6].lower.count(), 2.0);
  EXPECT_EQ(chart.bound->shown[7].lower.count(), 0.0);
}

TEST(Charts, ClaimNoRowForAMixThatNoTableVouchesFor) {
  TestKitchen kitchen;
  const auto charts = charts_of_custard(kitchen, "sugar", {"20", "66", "72", "72", "72", "72", "72", "60"});
  ASSERT_EQ(charts.size(), 1U);
  EXPECT_FALSE(charts.front().limit);
  EXPECT_FALSE(charts.front().bound);
}

SeriesUsed a_stay(const std::string& watched, int from_hour, int to_hour) {
  SeriesUsed stay;
  stay.watched = watched;
  stay.probe = "logger";
  stay.trust = "checked";
  stay.from = Instant{std::chrono::sys_days{std::chrono::year{2026} / 5 / 1}} + std::chrono::hours{from_hour};
  stay.to = Instant{std::chrono::sys_days{std::chrono::year{2026} / 5 / 1}} + std::chrono::hours{to_hour};
  stay.stays = {{fmt::format("{} to {}", from_hour, to_hour), stay.from, stay.to}};
  return stay;
}

TEST(Charts, TellACheckOfTheThermometerOnce) {
  std::vector<SeriesUsed> all;
  for (const char* trust : {"checked on 1 May; good again on 2 May", "checked on 1 May", "checked on 1 May; good again on 20 May"}) {
    SeriesUsed stay = a_stay("fridge, air", 0, 10);
    stay.trust = trust;
    add_watched(all, std::move(stay));
  }
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].trust, "checked on 1 May; good again on 2 May; good again on 20 May");
}

TEST(Charts, PutStaysThatOverlapIntoOneWhateverTheirOrder) {
  std::vector<SeriesUsed> all;
  for (const auto& [from, to] : std::vector<std::pair<int, int>>{{0, 30}, {60, 80}, {100, 130}, {25, 70}})
    add_watched(all, a_stay("fridge, air", from, to));
  add_watched(all, a_stay("freezer, air", 0, 30));
  ASSERT_EQ(all.size(), 3U);
  EXPECT_EQ(all[0].title, "fridge, air, 1 May 2026 to 4 May 2026");
  EXPECT_EQ(all[0].stays.size(), 3U);
  EXPECT_EQ(all[0].trust, "checked");
  EXPECT_EQ(all[1].title, "fridge, air, 5 May 2026 to 6 May 2026");
  EXPECT_EQ(all[2].watched, "freezer, air");
}

}  // namespace
}  // namespace tierproof
