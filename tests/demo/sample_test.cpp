#include <gtest/gtest.h>

#include "demo/demo_run.h"

// The committed sample is what the demo writes: JSON and text everywhere, bytes on one machine.
namespace tierproof::demo {
namespace {

class Sample : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    scratch_ = new Scratch;
    first_ = run_week(kitchen_folder, scratch_->path() / "first");
    second_ = run_week(kitchen_folder, scratch_->path() / "second");
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

TEST_F(Sample, IsTheSameBytesInEveryRunOnOneMachine) {
  for (const char* extension : {".json", ".pdf", ".png"}) {
    for (const auto& name : papers(extension)) {
      ASSERT_FALSE(bytes_of(made(name)).empty()) << name;
      EXPECT_EQ(bytes_of(made(name)), bytes_of(again(name))) << name;
    }
  }
}

TEST_F(Sample, JsonIsTheCommittedOne) {
  for (const auto& name : papers(".json")) EXPECT_EQ(bytes_of(made(name)), bytes_of(sample_folder / name)) << name;
}

TEST_F(Sample, TextOfThePdfIsTheCommittedOne) {
  for (const auto& name : papers(".pdf")) EXPECT_EQ(text_of(made(name)), text_of(sample_folder / name)) << name;
}

TEST_F(Sample, EveryPdfIsSoundEmbedsItsFontsAndSaysDemoOnEachPage) {
  for (const auto& name : papers(".pdf")) {
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
  for (const char* cake : {"cake-1", "cake-2", "cake-3"}) {
    const auto [width, height] = pixels_of(made(std::string{cake} + "-label.png"));
    EXPECT_NEAR(static_cast<double>(width), dots(stock.find("width")->integer(), 203), 1.5) << cake;
    EXPECT_NEAR(static_cast<double>(height), dots(stock.find("height")->integer(), 203), 1.5) << cake;
    // Page one of the record is A4, 210 mm × 297 mm (ISO 216).
    const auto [across, down] = pixels_of(made(std::string{cake} + "-record.png"));
    EXPECT_GT(across, 600) << cake;
    EXPECT_NEAR(static_cast<double>(down) / static_cast<double>(across), 297.0 / 210.0, 0.002) << cake;
    EXPECT_EQ(pixels_of(sample_folder / (std::string{cake} + "-label.png")), std::make_pair(width, height)) << cake;
  }
}

TEST_F(Sample, NothingPrintsAClaim) {
  for (const auto& name : papers(".pdf")) {
    std::string text = text_of(made(name));
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    for (const char* claim : {"free from", "-free", " is safe", "guarantee", "suitable for"})
      EXPECT_EQ(text.find(claim), std::string::npos) << name << ": " << claim;
  }
}

TEST_F(Sample, ThreeCakesThreeOutcomes) {
  const Json leaves = json_of_file(made("cake-1-record.json"));
  const Json stopped = json_of_file(made("cake-2-record.json"));
  const Json against = json_of_file(made("cake-3-record.json"));
  const auto verdicts = [](const Json& record, std::string_view verdict) {
    std::vector<std::string> controls;
    for (const auto& finding : record.find("findings")->array()) {
      if (finding.find("verdict")->text() == verdict) controls.push_back(finding.find("control")->text());
    }
    return controls;
  };
  EXPECT_TRUE(leaves.find("released")->boolean());
  EXPECT_TRUE(leaves.find("overrides")->array().empty());
  EXPECT_EQ(verdicts(leaves, "shown").size(), leaves.find("findings")->array().size());

  EXPECT_FALSE(stopped.find("released")->boolean());
  EXPECT_EQ(verdicts(stopped, "not shown"), std::vector<std::string>{"allergens-known"});
  EXPECT_NE(stopped.find("outcome")->text().find("Do not hand over"), std::string::npos);
  EXPECT_NE(json_of_file(made("cake-2-label.json")).find("stop")->text().find("sesame"), std::string::npos);

  EXPECT_TRUE(against.find("released")->boolean());
  EXPECT_EQ(against.find("overrides")->array().size(), 3u);
  EXPECT_EQ(verdicts(against, "outside the model"), std::vector<std::string>{"egg-heat"});
  EXPECT_EQ(verdicts(against, "not shown"), (std::vector<std::string>{"additives-permitted", "cold-hold"}));
  const std::string page_one = run("pdftotext -f 1 -l 1 '" + made("cake-3-record.pdf").string() + "' -").output;
  for (const auto& made_against : against.find("overrides")->array()) {
    EXPECT_NE(page_one.find(made_against.find("reason")->text().substr(0, 30)), std::string::npos) << page_one;
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

}  // namespace
}  // namespace tierproof::demo
