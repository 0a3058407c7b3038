// The forms of `tierproof sum` that are promised to scripts: each member, the exit status, and what a file that cannot be used brings.
#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "demo/demo_run.h"

namespace tierproof::demo {
namespace {

/// A folder with one log in it.
class Log {
 public:
  explicit Log(const std::string& rows) { write_bytes(folder_.path() / "log.csv", "time,temp_c\n" + rows); }
  Ran sum(const std::string& words, const char* streams = "2>/dev/null") const {
    return run("cd '" + folder_.path().string() + "' && env -u TIERPROOF_KITCHEN '" TIERPROOF_PROGRAM "' sum " + words + " " + streams);
  }

  const fs::path& folder() const { return folder_.path(); }

 private:
  Scratch folder_;
};

/// The text of the member `name` where it stands for the `nth` time in pretty JSON.
std::string member(const std::string& json, const std::string& name, int nth = 1) {
  std::size_t at = 0;
  for (int i = 0; i < nth; ++i) {
    at = json.find("\"" + name + "\": ", at);
    if (at == std::string::npos) return "there is no " + name;
    at += name.size() + 4;
  }
  std::string text = json.substr(at, json.find_first_of("\n", at) - at);
  if (!text.empty() && text.back() == ',') text.pop_back();
  return text;
}
double number(const Ran& ran, const std::string& name, int nth = 1) {
  const std::string text = member(ran.output, name, nth);
  char* end = nullptr;
  const double value = std::strtod(text.c_str(), &end);
  return end != text.c_str() && *end == '\0' ? value : std::nan("");
}

const char* const t05 = "0,22.0\n1,31.5\n2,40.2\n3,48.0\n4,55.1\n5,61.0\n6,65.8\n7,69.2\n8,71.4\n9,72.0\n10,71.8\n11,68.0\n";
const std::string at_70 = "heat --readings log.csv --reference-c 70 --z-c 7.5 --json ";

TEST(Sum, OfABoilingPointHasPressureAndTemperatureAsNumbers) {
  const Log log{""};
  const Ran ran = log.sum("boiling-point --altitude-m 1600 --json");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_NEAR(number(ran, "pressure_kpa"), 83.5235, 5.1e-5) << "ICAO Doc 7488";
  EXPECT_NEAR(number(ran, "boiling_c"), 94.649592, 1e-6) << "case T24";
  EXPECT_NEAR(number(log.sum("boiling-point --altitude-m -200 --json"), "boiling_c"), 100.6385, 5.1e-5);
  EXPECT_NEAR(number(log.sum("boiling-point --pressure-kpa 95 --json"), "boiling_c"), 98.1783, 5.1e-5);
  EXPECT_EQ(log.sum("boiling-point --json").exit, 64);
  EXPECT_EQ(log.sum("boiling-point --altitude-m 0 --pressure-kpa 101 --json").exit, 64);
  EXPECT_EQ(log.sum("boiling-point --pressure-kpa 1013 --json").exit, 64) << "hPa for kPa";
}

TEST(Sum, OfAHeatStepHasEveryMemberThatIsPromised) {
  const Log log{t05};
  const Ran ran = log.sum(at_70 + "--need-min 2");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_NEAR(number(ran, "lower_min"), 4.948283, 1e-6) << "case T05";
  EXPECT_NEAR(number(ran, "exact_min"), 6.286470, 1e-6) << "case T05";
  EXPECT_NEAR(number(ran, "trapezoid_min"), 6.525548, 1e-6) << "case T05";
  EXPECT_GT(number(ran, "upper_min"), number(ran, "exact_min"));
  EXPECT_EQ(number(ran, "gap_s"), 0);
  EXPECT_EQ(member(ran.output, "verdict"), "\"shown\"");
  for (const char* name : {"inputs", "formula", "source", "caution"})
    EXPECT_EQ(member(ran.output, name).find("there is no"), std::string::npos);
  const Ran off = log.sum(at_70 + "--need-min 4 --probe-error-c 1");
  EXPECT_NEAR(number(off, "lower_min"), 3.640, 5e-4) << "case T12";
  EXPECT_EQ(member(off.output, "verdict"), "\"not shown\"");
  EXPECT_EQ(off.exit, 1);
  EXPECT_EQ(member(log.sum(at_70 + "--need-min 9").output, "verdict"), "\"not met\"");
  EXPECT_EQ(member(log.sum(at_70 + "--need-min 6 --ceiling-c 70").output, "verdict"), "\"outside the model\"");
  const Ran gaps = log.sum(at_70 + "--need-min 2 --max-step-s 59");
  EXPECT_EQ(number(gaps, "gap_s"), 660);
  EXPECT_EQ(number(gaps, "upper_min"), 0);
  EXPECT_EQ(gaps.exit, 1);
}

TEST(Sum, OfAStayHasEveryMemberThatIsPromised) {
  const Log log{"0,4.2\n15,5.0\n30,7.6\n45,9.4\n60,10.1\n75,8.6\n90,6.9\n105,5.2\n"};
  const Ran ran = log.sum("stay --readings log.csv --limit-c 8 --json");
  EXPECT_EQ(ran.exit, 1);
  const std::map<std::string, double> t13{{"from", 33.333333}, {"to", 80.294118}, {"min_s", 1800},      {"estimate_s", 2817.647059},
                                          {"max_s", 3600},     {"peak_c", 10.1},  {"coverage_pct", 100}};
  for (const auto& [name, expected] : t13) EXPECT_NEAR(number(ran, name), expected, 1e-6) << "case T13: " << name;
  EXPECT_EQ(member(ran.output, "gaps"), "[]");
  EXPECT_EQ(log.sum("stay --readings log.csv --limit-c 10.1 --json").exit, 0) << "a reading equal to the limit is within it";
  EXPECT_EQ(log.sum("stay --readings log.csv --limit-c 10.1 --probe-error-c 0.1 --json").exit, 1);
  const Ran gaps = log.sum("stay --readings log.csv --limit-c 20 --max-gap-s 899 --json");
  EXPECT_EQ(gaps.exit, 1) << "nothing too warm, but nothing covered either";
  EXPECT_EQ(number(gaps, "s"), 900);
  EXPECT_EQ(number(gaps, "coverage_pct"), 0);
  const Log open{"0,9\n15,9\n"};
  EXPECT_EQ(member(open.sum("stay --readings log.csv --limit-c 8 --json").output, "max_s"), "null");
}

TEST(Sum, OfCoolingHasEveryMemberThatIsPromised) {
  const Log log{"0,60\n30,52\n60,44\n120,33\n160,26\n200,20.5\n300,9\n355,5\n"};
  const std::string words = "cooling --readings log.csv --from-c 57 --via-c 21 --to-c 5 --json --first-h ";
  const Ran ran = log.sum(words + "2 --total-h 6");
  EXPECT_EQ(ran.exit, 1) << "case T18: overall not met";
  EXPECT_EQ(number(ran, "shortest_min", 1), 130);
  EXPECT_EQ(number(ran, "longest_min", 1), 200);
  EXPECT_EQ(member(ran.output, "verdict", 1), "\"not met\"");
  EXPECT_EQ(number(ran, "shortest_min", 2), 270);
  EXPECT_EQ(number(ran, "longest_min", 2), 355);
  EXPECT_EQ(member(ran.output, "verdict", 2), "\"shown\"");
  EXPECT_EQ(log.sum(words + "4 --total-h 6").exit, 0);
  EXPECT_EQ(log.sum(words + "4 --second-h 4").exit, 0);
  EXPECT_EQ(log.sum(words + "4 --second-h 1").exit, 1);
  EXPECT_EQ(log.sum(words + "4").exit, 64);
  EXPECT_EQ(log.sum(words + "4 --total-h 6 --second-h 4").exit, 64);
  EXPECT_EQ(log.sum(words + "4 --total-h 3").exit, 64);
}

TEST(Sum, OfAFileThatCannotBeUsedEndsWithItsStatusAndWritesNoNumbers) {
  const std::map<std::string, const char*> bad{{"0,nan\n", "no temperature"},
                                               {"0,inf\n1,5\n", "no temperature"},
                                               {"0,5\n0,5\n", "is the same as"},
                                               {"1,5\n0,5\n", "is before"},
                                               {"", "holds no reading"},
                                               {"2026-05-01T10:00,5\n", "no offset"},
                                               {"0,5 C\n", "degrees Celsius as a number alone"}};
  for (const auto& [rows, told] : bad) {
    const Log log{rows};
    for (const std::string& words :
         {at_70 + "--need-min 2", std::string{"stay --readings log.csv --limit-c 8 --json"},
          std::string{"cooling --readings log.csv --from-c 57 --via-c 21 --to-c 5 --first-h 2 --total-h 6 --json"}}) {
      const Ran ran = log.sum(words, "");
      EXPECT_EQ(ran.exit, 65) << rows << words;
      EXPECT_NE(ran.output.find(told), std::string::npos) << ran.output;
      EXPECT_NE(ran.output.find("tierproof/refused/1"), std::string::npos) << ran.output;
      EXPECT_EQ(ran.output.find("verdict"), std::string::npos) << ran.output;
    }
  }
}

TEST(Sum, OfALogWithoutItsUnitIsRefused) {
  Scratch folder;
  write_bytes(folder.path() / "log.csv", "time,temp\n0,71\n1,71\n");
  const std::string before = "cd '" + folder.path().string() + "' && env -u TIERPROOF_KITCHEN '" TIERPROOF_PROGRAM "' sum ";
  for (const std::string& words :
       {at_70 + "--need-min 1", std::string{"stay --readings log.csv --limit-c 80 --json"},
        std::string{"cooling --readings log.csv --from-c 57 --via-c 21 --to-c 5 --first-h 2 --total-h 6 --json"}}) {
    const Ran ran = run(before + words + " 2>&1");
    EXPECT_EQ(ran.exit, 65) << words;
    EXPECT_NE(ran.output.find("names no unit"), std::string::npos) << ran.output;
    EXPECT_EQ(ran.output.find("verdict"), std::string::npos) << ran.output;
  }
}

TEST(Sum, OfTwoHundredThousandRowsIsWhatItsClosedFormSays) {
  std::string rows;
  for (int i = 0; i < 200'000; ++i) rows += std::to_string(i) + (i % 4 == 1 ? ",10\n" : ",6\n");  // above 8 for a minute of every four
  const Log log{rows};
  const Ran stay = log.sum("stay --readings log.csv --limit-c 8 --json | grep -c '\"max_s\": 120,'");
  EXPECT_EQ(stay.output, "50000\n");
  const Ran heat = log.sum("heat --readings log.csv --reference-c 6 --z-c 4 --need-min 1 --json");
  EXPECT_NEAR(number(heat, "lower_min"), 199'999, 1e-3);
  EXPECT_NEAR(number(heat, "trapezoid_min"), 100'000 * 5.5 + 99'999, 1) << "of four steps two have the mean of 1 and 10";
  EXPECT_EQ(number(heat, "gap_s"), 0);
}

TEST(Sum, OfOneReadingIsNeverShown) {
  const Log log{"0,90\n"};
  EXPECT_EQ(member(log.sum(at_70 + "--need-min 0.001").output, "verdict"), "\"not shown\"");
  EXPECT_EQ(log.sum("stay --readings log.csv --limit-c 100 --json").exit, 1);
  EXPECT_EQ(log.sum("cooling --readings log.csv --from-c 57 --via-c 21 --to-c 5 --first-h 2 --total-h 6 --json").exit, 1);
}

TEST(Sum, OfAStayTellsABufferOnlyAsAnEstimateAndWhereItIsAsked) {
  const Log log{"0,4\n5,4\n10,4\n15,14\n20,14\n25,6\n30,4\n35,4\n40,4\n45,4\n"};
  const Ran ran = log.sum("stay --readings log.csv --limit-c 8 --buffer-min 45 --json");
  EXPECT_NEAR(number(ran, "buffered_peak_estimate_c"), 5.9934, 1e-4) << "case T36";
  EXPECT_EQ(ran.exit, 1) << "an estimate lifts no limit: the air was at 14 °C";
  EXPECT_GT(number(ran, "mean_kinetic_c"), 4);
  EXPECT_EQ(member(log.sum("stay --readings log.csv --limit-c 8 --json").output, "buffered_peak_estimate_c"),
            "there is no buffered_peak_estimate_c");
  EXPECT_EQ(log.sum("stay --readings log.csv --limit-c 8 --buffer-min 0 --json").exit, 64);
}

// ---- sums of recipes --------------------------------------------------------------------------------------------------------

TEST(Sum, OfASyrupHasEveryMemberThatIsPromised) {
  const Log log{""};
  const Ran ran = log.sum("syrup --target-c 118 --altitude-m 1000 --json");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_NEAR(number(ran, "boiling_c"), 96.649, 0.01) << "case P02";
  EXPECT_NEAR(number(ran, "target_here_c"), 114.38, 0.15) << "case P07";
  EXPECT_NEAR(number(ran, "target_by_subtraction_c"), 114.67, 0.01) << "118 less 3.33 K";
  EXPECT_NEAR(number(ran, "solids_pct"), 87.79, 0.10) << "case P04";
  EXPECT_EQ(member(ran.output, "stage"), "\"firm ball\"");
  EXPECT_NEAR(number(ran, "solids_browne_pct"), 85.13, 0.10) << "case P05";
  EXPECT_EQ(member(log.sum("syrup --target-c 117 --pressure-kpa 101.325 --json").output, "stage"), "\"between stages\"");
  EXPECT_EQ(log.sum("syrup --target-c 118 --json").exit, 64);
  EXPECT_EQ(log.sum("syrup --target-c 18 --altitude-m 0 --json").exit, 64);
}

TEST(Sum, OfASyrupPastTheModelGivesNoSolids) {
  const Log log{""};
  const Ran ran = log.sum("syrup --target-c 145 --altitude-m 0 --json");
  EXPECT_EQ(ran.exit, 1);
  EXPECT_EQ(member(ran.output, "solids_pct"), "null");
  EXPECT_EQ(member(ran.output, "target_here_c"), "null");
  EXPECT_EQ(member(ran.output, "outside_model"), "true");
  EXPECT_EQ(member(log.sum("syrup --target-c 127.7 --altitude-m 0 --json").output, "outside_model"), "false");
}

TEST(Sum, OfAMeringueSaysWhatItCannotReachAndNeverMore) {
  const Log log{""};
  const Ran ran = log.sum("meringue --white-g 80 --sugar-g 160 --syrup-c 118 --white-c 20 --bowl-g 500 --bowl-c 20 --json");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_NEAR(number(ran, "lower_c"), 58.33, 0.15) << "case P11";
  EXPECT_NEAR(number(ran, "central_c"), 64.65, 0.15);
  EXPECT_NEAR(number(ran, "upper_c"), 65.92, 0.15);
  EXPECT_NEAR(number(ran, "can_reach_c"), 82.98, 0.15);
  EXPECT_NEAR(number(ran, "water_activity"), 0.876, 1.5e-3) << "63.4 % sugar in its water";
  EXPECT_EQ(member(ran.output, "verdict"), "\"not shown without a reading in the mix\"");
  const std::string equal = "meringue --white-g 80 --sugar-g 80 --syrup-c 118 --white-c 20 --json --need-c ";
  EXPECT_EQ(member(log.sum(equal + "71").output, "verdict"), "\"cannot reach\"") << "case P14: 65.46 °C at the most";
  EXPECT_EQ(log.sum(equal + "71").exit, 1);
  EXPECT_EQ(member(log.sum(equal + "65").output, "verdict"), "\"not shown without a reading in the mix\"");
  EXPECT_EQ(member(log.sum("meringue --white-g 80 --sugar-g 160 --syrup-c 130 --white-c 20 --json").output, "verdict"),
            "\"outside the model\"");
  EXPECT_LT(
      number(log.sum("meringue --white-g 80 --sugar-g 160 --syrup-c 118 --white-c 20 --bowl-g 500 --bowl-of glass --json"), "central_c"),
      59);
  EXPECT_EQ(log.sum("meringue --white-g 80 --sugar-g 160 --syrup-c 118 --white-c 20 --bowl-of wood --json").exit, 64);
}

TEST(Sum, OfWaterActivityCountsOnlyWhatDissolvesAndShowsNothing) {
  const Log log{""};
  write_bytes(log.folder() / "cream.json",
              R"({"temp_c": 20, "ph": 6.5, "parts": [{"name": "butter", "grams": 250, "water_pct": 17.94},
{"name": "icing sugar", "grams": 500, "water_pct": 0.23, "solutes": {"sucrose_pct": 97.81}}, {"name": "milk", "grams": 30, "water_pct": 88.13}]})");
  const Ran ran = log.sum("water-activity --parts cream.json --json");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_NEAR(number(ran, "water_activity"), 0.8537, 1.5e-3) << "case P23";
  EXPECT_EQ(member(ran.output, "capped"), "true");
  EXPECT_NEAR(number(ran, "with_margin"), 0.8737, 1.5e-3);
  EXPECT_EQ(member(ran.output, "model"), "\"Ross\"");
  EXPECT_EQ(member(ran.output, "table_cell"), "\"non-TCS\"");
  EXPECT_EQ(member(ran.output, "verdict"), "\"not shown\"");
  write_bytes(
      log.folder() / "ganache.json",
      R"({"ph": 5.8, "parts": [{"name": "ganache", "grams": 100, "water_pct": 29.48, "solutes": {"sucrose_pct": 18.355, "lactose_pct": 1.395}}]})");
  const Ran ganache = log.sum("water-activity --parts ganache.json --json");
  EXPECT_NEAR(number(ganache, "water_activity"), 0.9595, 1.5e-3) << "case P22";
  EXPECT_EQ(member(ganache.output, "capped"), "false");
  EXPECT_EQ(member(ganache.output, "table_cell"), "\"product assessment required\"");
  write_bytes(log.folder() / "unknown.json", R"({"parts": [{"name": "water", "grams": 100, "water_pct": 100}]})");
  EXPECT_EQ(member(log.sum("water-activity --parts unknown.json --json").output, "table_cell"), "null") << "no pH was measured";
}

TEST(Sum, OfWaterActivityRefusesAllThatIsWrongWithItsFile) {
  const Log log{""};
  write_bytes(
      log.folder() / "bad.json",
      R"({"ph": 15, "parts": [{"name": "cream", "grams": "much", "water_pct": 90, "solutes": {"sucrose_pct": 20, "sand_pct": 1}}]})");
  const Ran ran = log.sum("water-activity --parts bad.json", "2>&1");
  EXPECT_EQ(ran.exit, 65);
  for (const char* said : {"bad.json:1: ph: is not a pH", "parts[0].grams: is not a number", "parts[0].solutes.sand_pct",
                           "parts[0].water_pct: and the solutes are more than 100 %"}) {
    EXPECT_NE(ran.output.find(said), std::string::npos) << said << "\n" << ran.output;
  }
  write_bytes(log.folder() / "dry.json",
              R"({"parts": [{"name": "sugar", "grams": 100, "water_pct": 0, "solutes": {"sucrose_pct": 100}}]})");
  EXPECT_NE(log.sum("water-activity --parts dry.json", "2>&1").output.find("holds no water"), std::string::npos);
  EXPECT_EQ(log.sum("water-activity --parts nowhere.json").exit, 66);
  EXPECT_EQ(log.sum("water-activity").exit, 64);
}

TEST(Sum, OfTinsIsTheRatioOfTheirVolumes) {
  const Log log{""};
  const Ran ran = log.sum("tin --round-in 6 --depth-in 3 --to round:8:3 --json");
  EXPECT_EQ(ran.exit, 0);
  EXPECT_NEAR(number(ran, "factor"), 1.7778, 1e-3) << "case P30";
  EXPECT_NEAR(number(log.sum("tin --round-in 8 --depth-in 3 --to square:8:3 --json"), "factor"), 1.2732, 1e-3) << "case P30";
  EXPECT_NEAR(number(log.sum("tin --square-in 8 --depth-in 2 --to round:6:3 --to round:4:3 --json"), "factor"), 0.9572, 1e-3)
      << "both are filled";
  EXPECT_EQ(log.sum("tin --round-in 6 --depth-in 3 --to oval:8:3 --json").exit, 64);
  EXPECT_EQ(log.sum("tin --round-in 6 --depth-in 3 --json").exit, 64);
  EXPECT_EQ(log.sum("tin --round-in 6 --square-in 6 --depth-in 3 --to round:8:3 --json").exit, 64);
  EXPECT_EQ(log.sum("tin --round-in 0 --depth-in 3 --to round:8:3 --json").exit, 64);
}

}  // namespace
}  // namespace tierproof::demo
