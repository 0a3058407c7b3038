#include <gtest/gtest.h>

#include <map>
#include <regex>
#include <set>

#include "cli/door.h"
#include "demo/demo_run.h"

namespace tierproof::demo {
namespace {

/// Every story, and the demo's week: the places where behaviour of the whole program is told.
std::string all_stories() {
  std::string all;
  for (const auto& entry : fs::directory_iterator{fs::path{TIERPROOF_SOURCE_DIR} / "tests" / "spec"}) all += bytes_of(entry.path());
  return all;
}

TEST(CommandTable, NamesEveryCommandOnceWithHelpAndAnExampleOfItself) {
  std::set<std::string> names;
  for (const auto& command : cli::command_table()) {
    EXPECT_TRUE(names.insert(command.name).second) << command.name << " stands twice";
    EXPECT_STRNE(command.help, "") << command.name;
    EXPECT_EQ(std::string{command.example}.rfind(std::string{"tierproof "} + command.name, 0), 0u) << command.example;
  }
}

TEST(CommandTable, EveryExampleIsUnderstood) {
  Scratch nowhere;  // no kitchen, no files: an example that is understood ends for want of those, never as a usage error
  for (const auto& command : cli::command_table()) {
    std::string example = std::string{command.example}.substr(std::string{"tierproof"}.size());
    for (std::size_t at; (at = example.find("CODE")) != std::string::npos;) example.replace(at, 4, "none");
    const Ran ran = run("cd '" + nowhere.path().string() +
                        "' && env -u TIERPROOF_KITCHEN -u TIERPROOF_NOW TIERPROOF_BY=anna '" TIERPROOF_PROGRAM "'" + example);
    if (std::string{command.name} == "start") {
      // It has no codes of rules to show: those are data. All else in it is taken.
      EXPECT_EQ(ran.exit, 64);
      EXPECT_NE(ran.output.find("there are no rules called \"none\""), std::string::npos) << ran.output;
      EXPECT_EQ(ran.output.find("--name"), std::string::npos) << ran.output;
    } else if (std::string{command.name} == "rules") {
      EXPECT_LE(ran.exit, 1) << ran.output;
    } else if (std::string{command.name} == "serve") {
      EXPECT_EQ(ran.exit, 78) << "its pages can begin a kitchen, and there are no such TLS files: " << ran.output;
    } else if (std::string{command.name} == "sheet" || std::string{command.name} == "ruler-page") {
      EXPECT_EQ(ran.exit, 0) << "an empty form and a ruler need no kitchen: " << ran.output;
    } else {
      EXPECT_EQ(ran.exit, 66) << command.example << "\n" << ran.output;
    }
  }
}

TEST(CommandTable, EveryCommandHasAStory) {
  const std::string all = all_stories();
  for (const auto& command : cli::command_table()) {
    EXPECT_TRUE(std::regex_search(all, std::regex{"\\n\\$ tierproof (--json )?" + std::string{command.name} + "[ \\n]"}))
        << "no story tells of `tierproof " << command.name << "`";
  }
}

TEST(CommandTable, EveryCommandShowsItsExampleInItsHelp) {
  for (const auto& command : cli::command_table()) {
    const Ran ran = run("'" TIERPROOF_PROGRAM "' " + std::string{command.name} + " --help");
    EXPECT_EQ(ran.exit, 0) << command.name;
    EXPECT_NE(ran.output.find(command.example), std::string::npos) << ran.output;
    EXPECT_NE(ran.output.find(command.help), std::string::npos) << ran.output;
  }
}

TEST(Controls, EveryControlThatASumEmitsIsARowOfThePlanAndIsToldSomewhere) {
  std::set<std::string> controls;
  const std::regex named{R"x((?:control = |finding_of\(|shown\()\s*"([a-z-]+)")x"};
  for (const auto& entry : fs::recursive_directory_iterator{fs::path{TIERPROOF_SOURCE_DIR} / "src"}) {
    if (entry.path().extension() != ".cpp") continue;
    const std::string text = bytes_of(entry.path());
    for (std::sregex_iterator found{text.begin(), text.end(), named}, end; found != end; ++found) controls.insert((*found)[1]);
  }
  EXPECT_GE(controls.size(), 16u);
  const std::string plan = bytes_of(fs::path{TIERPROOF_SOURCE_DIR} / "reference" / "plan" / "cake-work.json");
  std::string everywhere = all_stories();
  for (const auto& name : papers(".json")) everywhere += bytes_of(sample_folder / name);
  for (const auto& control : controls) {
    EXPECT_NE(plan.find("\"id\": \"" + control + "\""), std::string::npos) << control << " has no row in the hazard plan";
    EXPECT_NE(everywhere.find(control), std::string::npos) << control << " is told in no story and no sample";
  }
}

}  // namespace
}  // namespace tierproof::demo
