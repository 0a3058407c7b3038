#include <gtest/gtest.h>

#include "demo/demo_run.h"
#include "demo/recount.h"

namespace tierproof::demo {
namespace {

TEST(Year, GoesOnFromTheDemoAndItsFiguresCanBeCountedAgainFromTheFilesBesideIt) {
  Scratch scratch;
  const fs::path out = scratch.path() / "year";
  const Ran ran = run("env -u TIERPROOF_BY -u TIERPROOF_NOW -u TIERPROOF_KITCHEN TIERPROOF_PROGRAM='" TIERPROOF_PROGRAM
                      "' '" TIERPROOF_SOURCE_DIR "/reports/year' '" +
                      out.string() + "' 2");
  ASSERT_EQ(ran.exit, 0) << ran.output;
  const Json record = json_of_file(out / "inspection-record.json");
  EXPECT_EQ(record.find("from")->text(), "2026-04-27");
  EXPECT_EQ(record.find("until")->text(), "2026-05-31");
  std::map<std::string, std::int64_t> values;
  std::size_t figures = 0;
  for (const Json& figure : record.find("figures")->array()) {
    const Json& rule = *figure.find("counted");
    const PlainTable table = plain_csv(bytes_of(out / "inspection-data" / (rule.find("table")->text() + ".csv")));
    EXPECT_EQ(figure.find("value")->integer(), counted_again(table, rule)) << figure.find("figure")->text();
    values[figure.find("figure")->text()] = figure.find("value")->integer();
    ++figures;
  }
  EXPECT_GT(figures, 100u);
  EXPECT_EQ(values["cakes"], 10) << "eight of the demo, and one a week";
  const PlainTable temperatures = plain_csv(bytes_of(out / "inspection-data" / "temperatures.csv"));
  EXPECT_EQ(static_cast<std::int64_t>(temperatures.size()), record.find("temperatures")->find("rows")->integer());
  // What a day of a fridge says, from its readings.
  std::int64_t readings = 0;
  double highest = -100;
  for (const auto& row : temperatures) {
    if (row.at("about") != "cake-fridge" || row.at("at_local").substr(0, 10) != "2026-05-20" || row.at("value").empty()) continue;
    ++readings;
    highest = std::max(highest, std::stod(row.at("value")));
  }
  for (const auto& row : plain_csv(bytes_of(out / "inspection-data" / "place-days.csv"))) {
    if (row.at("place") != "cake-fridge" || row.at("day") != "2026-05-20") continue;
    EXPECT_EQ(row.at("readings"), std::to_string(readings));
    EXPECT_DOUBLE_EQ(std::stod(row.at("highest_c")), highest);
  }
  EXPECT_EQ(readings, 96) << "every quarter of an hour";
}

}  // namespace
}  // namespace tierproof::demo
