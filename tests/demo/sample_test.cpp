#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "demo/demo_run.h"
#include "demo/recount.h"

// The committed sample is what the demo writes: JSON and text everywhere, bytes on one machine. Its eight cakes show every verdict and
// every kind of stop.
namespace tierproof::demo {
namespace {

class Sample : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    scratch_ = new Scratch;
    first_ = run_demo(kitchen_folder, scratch_->path() / "first");
    second_ = run_demo(kitchen_folder, scratch_->path() / "second");
  }
  static void TearDownTestSuite() {
    delete scratch_;
    scratch_ = nullptr;
  }
  void SetUp() override {
    ASSERT_EQ(first_.exit, 0) << first_.output;
    ASSERT_EQ(second_.exit, 0) << second_.output;
  }
  static fs::path made(const std::string& name) { return scratch_->path() / "first" / name; }
  static fs::path again(const std::string& name) { return scratch_->path() / "second" / name; }

  static Scratch* scratch_;
  static Ran first_;
  static Ran second_;
};
Scratch* Sample::scratch_ = nullptr;
Ran Sample::first_;
Ran Sample::second_;

std::string text_of(const fs::path& pdf) { return run("pdftotext -layout '" + pdf.string() + "' -").output; }

std::set<std::string> files_in(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator{folder}) names.insert(entry.path().filename().string());
  return names;
}

std::vector<std::string> ending_in(const std::set<std::string>& names, const std::string& extension) {
  std::vector<std::string> found;
  std::copy_if(names.begin(), names.end(), std::back_inserter(found), [&](const std::string& name) { return name.ends_with(extension); });
  return found;
}

TEST_F(Sample, IsTheSameBytesInEveryRunOnOneMachine) {
  const auto names = files_in(scratch_->path() / "first");
  EXPECT_EQ(names, files_in(scratch_->path() / "second"));
  for (const auto& name : names) {
    ASSERT_FALSE(bytes_of(made(name)).empty()) << name;
    EXPECT_EQ(bytes_of(made(name)), bytes_of(again(name))) << name;
  }
}

TEST_F(Sample, HoldsALabelAndARecordOfEachCakeAndAFewPictures) {
  const auto names = files_in(scratch_->path() / "first");
  EXPECT_EQ(names, files_in(sample_folder));
  for (const char* extension : {".json", ".pdf"}) {
    for (const auto& name : papers(extension)) EXPECT_TRUE(names.contains(name)) << name;
  }
  EXPECT_TRUE(names.contains("packs.csv") && names.contains("sheet-deliveries.pdf"));
  EXPECT_EQ(ending_in(names, ".png"), (std::vector<std::string>{"cake-1-label.png", "cake-3-record.png", "cake-8-record.png"}));
}

TEST_F(Sample, JsonAndTheListOfPacksAreTheCommittedOnes) {
  for (const auto& name : papers(".json")) EXPECT_EQ(bytes_of(made(name)), bytes_of(sample_folder / name)) << name;
  EXPECT_EQ(bytes_of(made("packs.csv")), bytes_of(sample_folder / "packs.csv"));
}

TEST_F(Sample, TextOfThePdfIsTheCommittedOne) {
  for (const auto& name : ending_in(files_in(sample_folder), ".pdf")) EXPECT_EQ(text_of(made(name)), text_of(sample_folder / name)) << name;
}

TEST_F(Sample, EveryPdfIsSoundEmbedsItsFontsAndSaysDemoOnEachPage) {
  for (const auto& name : ending_in(files_in(scratch_->path() / "first"), ".pdf")) {
    const std::string pdf = "'" + made(name).string() + "'";
    const Ran checked = run("qpdf --check " + pdf);
    EXPECT_EQ(checked.exit, 0) << name << checked.output;
    const std::string fonts = run("pdffonts " + pdf + " | tail -n +3").output;
    EXPECT_NE(fonts.find("DejaVuSans"), std::string::npos) << name;
    std::istringstream lines{fonts};
    for (std::string line; std::getline(lines, line);) EXPECT_NE(line.find(" yes yes "), std::string::npos) << name << ": " << line;
    const int pages = std::stoi(run("pdfinfo " + pdf + " | sed -n 's/^Pages: *//p'").output);
    for (int page = 1; page <= pages; ++page) {
      const std::string number = std::to_string(page);
      if (name.starts_with("ruler-")) continue;  // it belongs to no kitchen
      EXPECT_NE(run("pdftotext -f " + number + " -l " + number + " " + pdf + " -").output.find("DEMO"), std::string::npos)
          << name << " page " << page;
    }
  }
}

/// Width and height of a PNG, from its header (ISO/IEC 15948, 11.2.2: two big-endian numbers after the chunk's name).
std::pair<long, long> pixels_of(const fs::path& png) {
  const std::string bytes = bytes_of(png);
  if (bytes.size() < 24 || bytes.compare(1, 3, "PNG") != 0 || bytes.compare(12, 4, "IHDR") != 0) return {0, 0};
  const auto number = [&](std::size_t at) {
    long value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(bytes[at + i]);
    return value;
  };
  return {number(16), number(20)};
}

TEST_F(Sample, PicturesAreAsLargeAsThePaperAtTheirDotsPerInch) {
  // Stock sheet-99x139 in tenths of a millimetre, 254 of them an inch; 203 dots per inch is the coarsest label printer's.
  const Json stock = json_of_file(fs::path{TIERPROOF_SOURCE_DIR} / "reports" / "stocks" / "sheet-99x139.json");
  const auto dots = [](std::int64_t tenths_mm, double dots_per_inch) { return static_cast<double>(tenths_mm) * dots_per_inch / 254.0; };
  const auto [width, height] = pixels_of(made("cake-1-label.png"));
  EXPECT_NEAR(static_cast<double>(width), dots(stock.find("width")->integer(), 203), 1.5);
  EXPECT_NEAR(static_cast<double>(height), dots(stock.find("height")->integer(), 203), 1.5);
  EXPECT_EQ(pixels_of(sample_folder / "cake-1-label.png"), std::make_pair(width, height));
  for (const char* picture : {"cake-3-record.png", "cake-8-record.png"}) {
    // Page one of the record is A4, 210 mm × 297 mm (ISO 216).
    const auto [across, down] = pixels_of(made(picture));
    EXPECT_GT(across, 600) << picture;
    EXPECT_NEAR(static_cast<double>(down) / static_cast<double>(across), 297.0 / 210.0, 0.002) << picture;
  }
}

TEST_F(Sample, NothingPrintsAClaim) {
  for (const auto& name : ending_in(files_in(scratch_->path() / "first"), ".pdf")) {
    std::string text = text_of(made(name));
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    for (const char* claim : {"free from", "-free", " is safe", "guarantee", "suitable for"})
      EXPECT_EQ(text.find(claim), std::string::npos) << name << ": " << claim;
  }
}

// ---- what each cake shows -------------------------------------------------------------------------------------------------------

using Findings = std::multiset<std::string>;

/// `control | subject | verdict | stop` of what is not shown.
Findings not_shown_by(const Json& record) {
  Findings found;
  for (const auto& finding : record.find("findings")->array()) {
    if (finding.find("verdict")->text() == "shown") continue;
    found.insert(finding.find("control")->text() + " | " + finding.find("subject")->text() + " | " + finding.find("verdict")->text() +
                 " | " + finding.find("stop")->text());
  }
  return found;
}

struct Shows {
  const char* cake;
  bool leaves;
  std::size_t reasons;  ///< that it was released against
  Findings not_shown;
};

const std::vector<Shows> table{
    {"cake-1", true, 0, {}},
    {"cake-2",
     false,
     0,
     {"allergens-known | sesame | not shown | no override", "binned | cake-2 | not met | no override",
      "went-wrong | cake-2, trouble-1 | not met | no override"}},
    {"cake-3",
     true,
     3,
     {"additives-permitted | E175 | not shown | needs a person",
      "cold-hold | batch-7 (hand-heated meringue buttercream) | not shown | needs a person",
      "egg-heat | batch-7 (hand-heated meringue buttercream) | outside the model | needs a person"}},
    {"cake-4", true, 0, {}},
    // It left, and was eaten, before its chocolate was recalled.
    {"cake-5",
     true,
     4,
     {"allergy-answer | cake-5 | not shown | needs a person", "syrup-heat | batch-23 (salted caramel) | not shown | needs a person",
      "thermometer | cake-5 | not shown | needs a person", "went-wrong | cake-5, trouble-2 | not shown | needs a person",
      "lot-withdrawn | cake-5 | not met | no override", "mixed-records | cake-5 | not shown | needs a person"}},
    {"cake-6",
     false,
     0,
     {"allergy-answer | cake-6 | not met | no override", "answer-changed | cake-6 | not shown | needs a person",
      "additives-permitted | E128 | not shown | needs a person", "sold-as | pack-42 | not met | no override"}},
    {"cake-7",
     false,
     0,
     {"allergy-answer | cake-7 | not met | no override", "cold-hold | cake-7 | not met | no override",
      "use-by | pack-22 | not met | no override", "went-wrong | cake-7, trouble-3 | not shown | no override"}},
    {"cake-8",
     false,
     0,
     {"allergy-answer | cake-8 | not met | no override", "additives-permitted | E175 | not shown | needs a person",
      "shared-kit | pistachio nuts | not shown | no override", "frozen-once | cake-8 | not met | no override",
      "use-by | cake-8 | not met | no override", "lot-withdrawn | cake-8 | not met | no override"}},
};

TEST_F(Sample, EachCakeShowsWhatItsStoryTells) {
  ASSERT_EQ(table.size(), cakes.size());
  for (const auto& expected : table) {
    const Json record = json_of_file(made(std::string{expected.cake} + "-record.json"));
    EXPECT_EQ(not_shown_by(record), expected.not_shown) << expected.cake;
    EXPECT_EQ(record.find("overrides")->array().size(), expected.reasons) << expected.cake;
    EXPECT_EQ(record.find("handed_over")->array().front().find("text")->text() != "not yet", expected.leaves) << expected.cake;
    // Of a cake that left, what was found later is told too; it cannot be kept back any more.
    const bool found_later = expected.leaves && std::any_of(expected.not_shown.begin(), expected.not_shown.end(),
                                                            [](const std::string& line) { return line.ends_with("no override"); });
    const bool forbidden = record.find("outcome")->text().find("Do not hand over") != std::string::npos;
    EXPECT_TRUE(found_later || forbidden == !expected.leaves) << expected.cake;
    const std::string stop = json_of_file(made(std::string{expected.cake} + "-label.json")).find("stop")->text();
    EXPECT_EQ(stop.empty(), expected.leaves) << expected.cake << ": " << stop;
  }
}

TEST_F(Sample, EveryVerdictOccurs) {
  std::set<std::string> verdicts;
  for (const auto& cake : cakes) {
    const Json record = json_of_file(made(cake + "-record.json"));
    for (const auto& finding : record.find("findings")->array()) verdicts.insert(finding.find("verdict")->text());
  }
  EXPECT_EQ(verdicts, (std::set<std::string>{"shown", "not shown", "not met", "outside the model"}));
}

/// One kind of stop, and words that only it says.
struct Stops {
  const char* kind;
  const char* cake;
  const char* control;
  const char* verdict;
  const char* stop;
  const char* says;
};

const std::vector<Stops> stops{
    {"an allergen that nobody can rule out", "cake-2", "allergens-known", "not shown", "no override", "nobody can rule out sesame"},
    {"a named allergy against contains", "cake-6", "allergy-answer", "not met", "no override", "the cake contains almonds"},
    {"a named allergy against may contain", "cake-7", "allergy-answer", "not met", "no override", "the cake may contain sesame"},
    {"the same, with a written yes", "cake-5", "allergy-answer", "not shown", "needs a person", "which the customer accepted in writing"},
    {"traces from kit with no washing recorded", "cake-8", "shared-kit", "not shown", "no override", "no washing is recorded between"},
    {"a withdrawn pack", "cake-8", "lot-withdrawn", "not met", "no override", "pack-27 (dark chocolate, code CH22) was withdrawn"},
    {"a withdrawn pack after the cake left", "cake-5", "lot-withdrawn", "not met", "no override", "pack-27 (dark chocolate, code CH22)"},
    {"a pack past its use-by when it was used", "cake-7", "use-by", "not met", "no override", "after its use-by of 11 May 2026"},
    {"a part past its use-by", "cake-8", "use-by", "not met", "no override", "its use-by date, 10 May 2026, is past"},
    {"the law's limit missed in the food", "cake-7", "cold-hold", "not met", "no override", "the food was above 8 °C"},
    {"a decoration that is not for food", "cake-6", "sold-as", "not met", "no override", "rose lustre dust (pack-42) is not for food"},
    {"a decoration that may be for other food only", "cake-3", "additives-permitted", "not shown", "needs a person", "some foods only"},
    {"a vague answer", "cake-8", "allergy-answer", "not met", "no override", "the customer said \"nuts\""},
    {"an answer that changed after baking", "cake-6", "answer-changed", "not shown", "needs a person", "the answer was changed on 8 May"},
    {"something that went wrong and is open", "cake-7", "went-wrong", "not shown", "no override", "trouble-3 is open"},
    {"something that went wrong, food binned", "cake-2", "went-wrong", "not met", "no override", "recorded as binned"},
    {"a cake that was thrown away", "cake-2", "binned", "not met", "no override", "cake-2 was thrown away"},
    {"something that went wrong, food used", "cake-5", "went-wrong", "not shown", "needs a person", "what became of the food: used"},
    {"a second freeze", "cake-8", "frozen-once", "not met", "no override", "lemon sponge (batch-16) was thawed and frozen again"},
    {"a thermometer that failed its check", "cake-5", "thermometer", "not shown", "needs a person", "read 2.4 °C, should be 0 °C"},
    {"a syrup by that thermometer", "cake-5", "syrup-heat", "not shown", "needs a person", "without good checks before and after"},
    {"a fridge without readings", "cake-3", "cold-hold", "not shown", "needs a person", "the record has a gap"},
    {"an egg step outside the tables", "cake-3", "egg-heat", "outside the model", "needs a person", "no table vouches for this mix"},
};

TEST_F(Sample, EveryKindOfStopOccurs) {
  for (const auto& expected : stops) {
    const Json record = json_of_file(made(std::string{expected.cake} + "-record.json"));
    const auto& findings = record.find("findings")->array();
    EXPECT_TRUE(std::any_of(findings.begin(), findings.end(),
                            [&](const Json& finding) {
                              return finding.find("control")->text() == expected.control &&
                                     finding.find("verdict")->text() == expected.verdict && finding.find("stop")->text() == expected.stop &&
                                     finding.find("message")->text().find(expected.says) != std::string::npos;
                            }))
        << expected.kind << " in " << expected.cake;
  }
}

TEST_F(Sample, ReasonsForLeavingStandOnPageOne) {
  for (const char* cake : {"cake-3", "cake-5"}) {
    const std::string page_one = run("pdftotext -f 1 -l 1 '" + made(std::string{cake} + "-record.pdf").string() + "' -").output;
    const Json record = json_of_file(made(std::string{cake} + "-record.json"));
    ASSERT_FALSE(record.find("overrides")->array().empty()) << cake;
    for (const auto& against : record.find("overrides")->array()) {
      EXPECT_NE(page_one.find(against.find("reason")->text().substr(0, 30)), std::string::npos) << cake << page_one;
    }
  }
}

TEST_F(Sample, PageOneOfTheRecordKeepsItsOrder) {
  const std::string page = run("pdftotext -layout -f 1 -l 1 '" + made("cake-1-record.pdf").string() + "' -").output;
  std::size_t at = 0;
  for (const char* part : {"Seven Terns Cakes", "Lemon and raspberry cake", "For 2 May 2026", "How it is sold", "OK to leave",
                           "Allergy question", "Allergens, by the records", "Egg step", "Cold keeping", "Shared kit", "Keep and eat by",
                           "Entries made after hand-over", "signature", "Records' fingerprint"}) {
    const auto found = page.find(part, at);
    ASSERT_NE(found, std::string::npos) << part << " is missing or out of order\n" << page;
    at = found;
  }
}

TEST_F(Sample, TheInspectionRecordSaysWhatIsInItsData) {
  const Json record = json_of_file(sample_folder / "inspection-record.json");
  std::map<std::string, PlainTable> tables;
  for (const Json& list : record.find("tables")->array()) tables[list.find("list")->text()] = plain_list(list);
  std::map<std::string, std::int64_t> values;
  for (const Json& figure : record.find("figures")->array()) {
    const Json& rule = *figure.find("counted");
    EXPECT_EQ(figure.find("value")->integer(), counted_again(tables.at(rule.find("table")->text()), rule)) << figure.find("figure")->text();
    values[figure.find("figure")->text()] = figure.find("value")->integer();
  }
  // By the story of the three weeks.
  EXPECT_EQ(values["cakes"], 8);
  EXPECT_EQ(values["batches-made"], 41);
  EXPECT_EQ(values["thermometer-checks-failed"], 1);
  EXPECT_EQ(values["cakes-released-against"], 2);
  EXPECT_EQ(values["exercises"], 1);
  EXPECT_EQ(values["cakes-with-a-stated-allergy"], 4);
}

}  // namespace
}  // namespace tierproof::demo
