// What a thermometer's file can be like, from the file to the verdict of a stay between 09:00 and 10:00 in the fridge (30 min between
// readings).
#include <fmt/format.h>

#include "app/app_for_tests.h"
#include "tierproof/app/logger_files.h"

namespace tierproof {
namespace {

GivenDocument map_with(const std::string& unit) {
  return {"map.tsv", "key\tvalue\ntime\ttime\ntemperature\ttemperature\n" + (unit.empty() ? "" : "unit\t" + unit + "\n")};
}

class StayInFridge : public TestKitchen {
 public:
  StayInFridge() {
    at("2026-05-01T09:00+01:00");
    const std::string icing = make("icing", grams(298));
    cake = cake_of(*this, {{icing, grams(298)}});
    put_in(cake, "fridge");
    at("2026-05-01T10:00+01:00");
  }
  Result<FileBooked> import(Session& session, const std::string& rows, const std::string& unit = "C") const {
    return import_logger_file(
        session, {"logger", "fridge", "", text_in_one_piece({"log.csv", "time,temperature\n" + rows}), map_with(unit), "own", ""});
  }
  /// The verdict of the stay once `rows` (`09:00,4.0`) were imported.
  std::string verdict_of(const Strings& rows) {
    std::string text;
    for (const auto& row : rows) text += "2026-05-01T" + row.substr(0, 5) + ":00+01:00" + row.substr(5) + "\n";
    Session session = open();
    const auto done = import(session, text);
    EXPECT_TRUE(done) << (done ? "" : describe(done.error().front()));
    return std::string{term_of(the_finding(*this, cake, "cold-hold").verdict)};
  }
  std::string refused_file(const std::string& rows, const std::string& unit = "C") {
    return refused([&](Session& s) -> Result<Booked> {
      const auto done = import(s, rows, unit);
      if (!done) return done.error();
      return done->booked;
    });
  }
  std::string cake;
};

TEST(MalformedSeries, InOrderShowsTheStay) { EXPECT_EQ(StayInFridge{}.verdict_of({"09:00,4.0", "09:30,4.0", "10:00,4.0"}), "shown"); }

TEST(MalformedSeries, OutOfOrderIsTheSameSeries) {
  EXPECT_EQ(StayInFridge{}.verdict_of({"10:00,4.0", "09:00,4.0", "09:30,4.0"}), "shown");
  EXPECT_EQ(StayInFridge{}.verdict_of({"10:00,4.0", "09:00,4.0", "09:30,9.0"}), "not shown");
}

TEST(MalformedSeries, WithOneMomentTwiceCountsItOnceIfBothSayTheSameAndElseNotAtAll) {
  EXPECT_EQ(StayInFridge{}.verdict_of({"09:00,4.0", "09:30,4.0", "09:30,4.0", "10:00,4.0"}), "shown");
  EXPECT_EQ(StayInFridge{}.verdict_of({"09:00,4.0", "09:30,4.0", "09:30,3.0", "10:00,4.0"}), "not shown");
}

TEST(MalformedSeries, WithSomethingThatIsNoNumberHasAGapThere) {
  for (const char* fault : {"NaN", "nan", "", "---"})
    EXPECT_EQ(StayInFridge{}.verdict_of({"09:00,4.0", std::string{"09:30,"} + fault, "10:00,4.0"}), "not shown") << fault;
}

TEST(MalformedSeries, WithAnInfiniteTemperatureIsRefusedWhole) {
  EXPECT_THAT(StayInFridge{}.refused_file("2026-05-01T09:00:00+01:00,4.0\n2026-05-01T09:30:00+01:00,inf\n"),
              HasSubstr("log.csv:3: temperature: \"inf\" is neither a temperature nor a fault"));
}

TEST(MalformedSeries, OfOnePointVouchesForNoMoreThanTheLongestGapOnEitherSide) {
  EXPECT_EQ(StayInFridge{}.verdict_of({"09:30,4.0"}), "shown");
  for (const char* row : {"09:29,4.0", "09:31,4.0", "09:00,4.0", "10:00,4.0"})
    EXPECT_EQ(StayInFridge{}.verdict_of({row}), "not shown") << row;
}

TEST(MalformedSeries, WithoutAUnitIsRefusedWhole) {
  StayInFridge kitchen;
  const std::string rows = "2026-05-01T09:00:00+01:00,4.0\n2026-05-01T09:30:00+01:00,4.0\n";
  EXPECT_THAT(kitchen.refused_file(rows, ""), HasSubstr("map.tsv: unit: \"unit\" is missing; add a row: unit, tab, its value"));
  EXPECT_THAT(kitchen.refused_file(rows, "in cell"), HasSubstr("log.csv:2"));
  Session session = kitchen.open();
  const auto done = kitchen.import(session, rows, "F");
  ASSERT_TRUE(done);
  EXPECT_EQ(done->report.other_scale, 2) << "taken as the map says, and asked about";
}

TEST(MalformedSeries, OfOneBatchHeatedIsNotShownByOnePoint) {
  TestKitchen kitchen;
  kitchen.recipe("curd", R"([{"of": "eggs", "mass": "100 g"}, {"of": "butter", "mass": "100 g"}])", "190 g", "bowl", "raw, heated here",
                 "room", R"(, "heated_together": ["eggs", "butter"], "heat_food": "core of a cooked food")");
  const std::string curd = kitchen.make("curd", grams(190));
  kitchen.done([&](Session& s) { return type_reading(s, {"fork", Degrees{7500, Scale::celsius}, curd, "heat step", ""}); });
  const Finding finding = the_finding(kitchen, cake_of(kitchen, {{curd, grams(190)}}), "egg-heat");
  EXPECT_NE(finding.verdict, Verdict::shown) << finding.message;
  EXPECT_NE(finding.verdict, Verdict::not_met) << finding.message;
}

}  // namespace
}  // namespace tierproof
