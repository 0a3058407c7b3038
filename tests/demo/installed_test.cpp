#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <set>

#include "demo/demo_run.h"

// The installed program stands on its own: it reads the data that was installed beside it, not the source tree that it was built from.
namespace tierproof::demo {
namespace {

const fs::path build_folder = TIERPROOF_BUILD_DIR;

class Installed : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    scratch_ = new Scratch;
    ran_ = run("cmake --install '" + build_folder.string() + "' --prefix '" + prefix().string() + "'");
    fs::create_directories(elsewhere());
  }
  static void TearDownTestSuite() {
    delete scratch_;
    scratch_ = nullptr;
  }
  void SetUp() override { ASSERT_EQ(ran_.exit, 0) << ran_.output; }

  static fs::path prefix() { return scratch_->path() / "prefix"; }
  static fs::path elsewhere() { return scratch_->path() / "elsewhere"; }
  static fs::path share() { return prefix() / "share" / "tierproof"; }
  /// A command of the installed program, in a folder that has nothing to do with the sources.
  static Ran tell(const std::string& words) {
    return run("cd '" + elsewhere().string() +
               "' && env -i PATH=\"$PATH\" HOME=/nonexistent TIERPROOF_BY=ada TIERPROOF_NOW=2026-05-01T10:00+01:00 '" +
               (prefix() / "bin" / "tierproof").string() + "' " + words);
  }
  /// What `rules` says first, from the folders that were installed.
  static std::string label_rules_beside_it() {
    std::set<std::string> codes;
    for (const auto& folder : fs::directory_iterator{share() / "reference"}) {
      if (folder.path().filename() != "common" && fs::exists(folder.path() / "label.json")) codes.insert(folder.path().filename().string());
    }
    return fmt::format("label rules:        {}\n", fmt::join(codes, ", "));
  }
  static void expect_done(const std::string& words) {
    const Ran ran = tell(words);
    EXPECT_EQ(ran.exit, 0) << words << "\n" << ran.output;
  }

  static Scratch* scratch_;
  static Ran ran_;
};
Scratch* Installed::scratch_ = nullptr;
Ran Installed::ran_;

/// Puts `by` for the one place of `what` in a file, and puts it back at the end.
class Marked {
 public:
  Marked(fs::path file, const std::string& what, const std::string& by) : file_{std::move(file)}, before_{bytes_of(file_)} {
    const auto at = before_.find(what);
    EXPECT_NE(at, std::string::npos) << what << " is not in " << file_;
    std::string changed = before_;
    if (at != std::string::npos) changed.replace(at, what.size(), by);
    write_bytes(file_, changed);
  }
  ~Marked() { write_bytes(file_, before_); }
  Marked(const Marked&) = delete;
  Marked& operator=(const Marked&) = delete;

 private:
  fs::path file_;
  std::string before_;
};

TEST_F(Installed, HoldsTheProgramItsRulesFontsStocksAndLicences) {
  EXPECT_TRUE(fs::exists(prefix() / "bin" / "tierproof"));
  for (const char* part :
       {"reference/gb/label.json", "reference/plan/cake-work.json", "reference/probes/plain.tsv", "reports/stocks/sheet-99x139.json",
        "reports/texts/cannot-promise.txt", "reports/fonts/DejaVuSans.ttf", "reports/fonts/LICENSE-DejaVu.txt"})
    EXPECT_TRUE(fs::exists(share() / part)) << part;
  EXPECT_TRUE(fs::exists(prefix() / "share" / "doc" / "tierproof" / "LICENSE"));
}

TEST_F(Installed, ReadsTheRulesBesideItAndNoOthers) {
  const auto told = [] { return tell("rules --on 2026-12-01 | head -1").output; };
  EXPECT_EQ(told(), label_rules_beside_it());
  // A rule pack that is only beside the program is found; one that it cannot read there stops it, though the sources hold a good one.
  fs::copy(share() / "reference" / "gb", share() / "reference" / "zz", fs::copy_options::recursive);
  for (const char* name : {"label.json", "temperature.json", "retention.json"}) {
    std::string text = bytes_of(share() / "reference" / "zz" / name);
    const std::string code = "\"jurisdiction\": \"gb\"";
    ASSERT_NE(text.find(code), std::string::npos) << name;
    write_bytes(share() / "reference" / "zz" / name, text.replace(text.find(code), code.size(), "\"jurisdiction\": \"zz\""));
  }
  EXPECT_TRUE(told().ends_with(", zz\n")) << told();
  EXPECT_EQ(told(), label_rules_beside_it());
  fs::remove_all(share() / "reference" / "zz");
  const Marked broken{share() / "reference" / "gb" / "label.json", "{", "{ broken"};
  const Ran ran = tell("rules");
  EXPECT_EQ(ran.exit, 78) << ran.output;
  EXPECT_NE(ran.output.find("gb/label.json:1"), std::string::npos) << ran.output;
}

TEST_F(Installed, DrawsALabelInAnotherFolderFromWhatLiesBesideIt) {
  expect_done(
      "start --name 'Installed Kitchen' --address 'Unit 0' --zone Europe/London --label-rules gb --temperature-rules gb-eng "
      "--retention-rules gb --owner ada='Ada Sample' --demo installed");
  expect_done("supplier mill --name 'Example Mill' --address '1 Mill Lane'");
  expect_done("ingredient sugar --name sugar --sugar");
  write_bytes(elsewhere() / "sugar.json",
              R"({"ingredient": "sugar", "supplier": "mill", "label_name": "sugar", "checked": "2026-04-30", "checked_against": "the pack",
                  "storage": "room", "absent": {"all_others": true, "evidence": "sheet of April 2026"}})");
  expect_done("specification sugar.json");
  expect_done("receive sugar --from mill --code S1 --mass 1kg --best-before 2027-12-31");
  expect_done("kit bowl --name bowl");
  write_bytes(
      elsewhere() / "candy.json",
      R"({"recipe": "candy", "name": "sugar candy", "part": "decoration", "items": [{"of": "sugar", "mass": "100 g"}], "yield": "95 g",
                  "kit": ["bowl"], "egg": "none", "storage": "room", "life_days": 30, "life_reason": "the maker's decision"})");
  expect_done("recipe candy.json");
  expect_done("make candy --yield 95g");
  expect_done("cake --name 'Sugar cake' --for 2026-05-02 --boxed before --sold-by maker --ordered face-to-face --face 400");
  expect_done("tier cake-1 only --part batch-1=95g");
  expect_done("label cake-1 --stock sheet-99x68 --into papers");
  const std::string label = run("pdftotext '" + (elsewhere() / "papers" / "cake-1-label.pdf").string() + "' -").output;
  EXPECT_NE(label.find("Sugar cake"), std::string::npos) << label;
  EXPECT_NE(label.find("Ingredients: sugar."), std::string::npos) << label;

  // What the rules beside the program say is what stands on the label.
  const Marked marked{share() / "reference" / "gb" / "label.json", "\"Ingredients:\"", "\"Ingredients, as marked by the test:\""};
  expect_done("label cake-1 --stock sheet-99x68 --into marked");
  const std::string again = run("pdftotext '" + (elsewhere() / "marked" / "cake-1-label.pdf").string() + "' -").output;
  EXPECT_NE(again.find("Ingredients, as marked by the test: sugar."), std::string::npos) << again;
}

}  // namespace
}  // namespace tierproof::demo
