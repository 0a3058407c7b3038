#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

#include "demo/demo_run.h"

// Whole-program behaviour as text that a baker could read: each file of tests/spec is a story of commands. A line `$ command` is run by
// the shell in a folder of its own, with `tierproof` as the program; what follows is what it prints, and `exit N` when it is not 0.
// TIERPROOF_UPDATE_SPECS=1 writes the stories anew, to be read as a diff.
namespace tierproof::demo {
namespace {

const fs::path spec_folder = fs::path{TIERPROOF_SOURCE_DIR} / "tests" / "spec";

std::vector<std::string> stories() {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator{spec_folder}) {
    if (entry.path().extension() == ".test") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string environment_of(const fs::path& folder) {
  const fs::path bin = folder / ".bin";
  if (!fs::exists(bin / "tierproof")) {
    fs::create_directories(bin);
    fs::create_symlink(TIERPROOF_PROGRAM, bin / "tierproof");
  }
  return "cd '" + folder.string() + "' && env -u TIERPROOF_KITCHEN TIERPROOF_BY=ada TIERPROOF_NOW=2026-05-01T10:00+01:00 here='" +
         kitchen_folder.string() + "' PATH=\"" + bin.string() + ":$PATH\" sh -c ";
}

std::string in_quotes(const std::string& command) {
  std::string out = "'";
  for (const char c : command) out += c == '\'' ? std::string{"'\\''"} : std::string{c};
  return out + "'";
}

/// What changes from machine to machine is told by a word: the folder of the story, and the source tree.
std::string settled(std::string text, const fs::path& folder) {
  const auto replace = [&](const std::string& what, const std::string& by) {
    for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += by.size()) text.replace(at, what.size(), by);
  };
  replace(folder.string(), "FOLDER");
  replace(TIERPROOF_SOURCE_DIR, "SOURCE");
  return text;
}

/// Runs every command of a story and gives the story with what it really printed.
std::string told(const std::string& story, const fs::path& folder) {
  std::istringstream lines{story};
  std::string out;
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("$ ", 0) == 0) {
      std::string command = line.substr(2);
      out += line + "\n";
      while (!command.empty() && command.back() == '\\' && std::getline(lines, line)) {
        command += "\n" + line;
        out += line + "\n";
      }
      const Ran ran = run(environment_of(folder) + in_quotes(command));
      out += settled(ran.output, folder);
      if (ran.exit != 0) out += "exit " + std::to_string(ran.exit) + "\n";
      out += "\n";
    } else if (line.rfind("#", 0) == 0) {
      out += line + "\n";
    }
  }
  return out;
}

class Spec : public testing::TestWithParam<std::string> {};

TEST_P(Spec, IsWhatTheProgramSays) {
  const fs::path file = spec_folder / (GetParam() + ".test");
  const std::string story = bytes_of(file);
  ASSERT_NE(story.find("\n$ tierproof"), std::string::npos) << file;
  Scratch scratch;
  const std::string now = told(story, scratch.path());
  if (std::getenv("TIERPROOF_UPDATE_SPECS") != nullptr) write_bytes(file, now);
  EXPECT_EQ(bytes_of(file), now);
}

INSTANTIATE_TEST_SUITE_P(Stories, Spec, testing::ValuesIn(stories()), [](const auto& story) {
  std::string name = story.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace tierproof::demo
