#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <optional>

#include "cli/story_server.h"
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

/// `program` stands in a folder of its own, the first in which the shell looks.
std::string environment_of(const fs::path& folder, const fs::path& program = TIERPROOF_PROGRAM) {
  const fs::path bin = folder / ".bin";
  if (!fs::exists(bin / "tierproof")) {
    fs::create_directories(bin);
    fs::create_symlink(program, bin / "tierproof");
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
std::string told(const std::string& story, const fs::path& folder, const fs::path& program) {
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
      const Ran ran = run(environment_of(folder, program) + in_quotes(command));
      out += settled(ran.output, folder);
      if (ran.exit != 0) out += "exit " + std::to_string(ran.exit) + "\n";
      out += "\n";
    } else if (line.rfind("#", 0) == 0) {
      out += line + "\n";
    }
  }
  return out;
}

#if defined(__SANITIZE_ADDRESS__)
/// The program of a story: under the sanitizers a server that has read the rules once, and who calls it; of a story that takes the program
/// elsewhere, itself.
class Program {
 public:
  Program(const fs::path& folder, const std::string& story) {
    if (story.find("command -v tierproof") != std::string::npos) return;
    server_.emplace(folder / ".program");
    path_ = TIERPROOF_STORY_CALLER;
  }
  const fs::path& path() const { return path_; }

 private:
  std::optional<StoryServer> server_;
  fs::path path_ = TIERPROOF_PROGRAM;
};
#else
/// The program of a story: itself.
class Program {
 public:
  Program(const fs::path&, const std::string&) {}
  fs::path path() const { return TIERPROOF_PROGRAM; }
};
#endif

class Spec : public testing::TestWithParam<std::string> {};

TEST_P(Spec, IsWhatTheProgramSays) {
  const fs::path file = spec_folder / (GetParam() + ".test");
  const std::string story = bytes_of(file);
  ASSERT_NE(story.find("\n$ tierproof"), std::string::npos) << file;
  Scratch scratch;
  const Program program{scratch.path(), story};
  const std::string now = told(story, scratch.path(), program.path());
  if (std::getenv("TIERPROOF_UPDATE_SPECS") != nullptr) write_bytes(file, now);
  EXPECT_EQ(bytes_of(file), now);
}

INSTANTIATE_TEST_SUITE_P(Stories, Spec, testing::ValuesIn(stories()), [](const auto& story) {
  std::string name = story.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

TEST(Readme, TellsTheFirstCakeAsTheStoryThatIsRun) {
  const std::string readme = bytes_of(fs::path{TIERPROOF_SOURCE_DIR} / "README.md");
  const std::string story = bytes_of(spec_folder / "your-first-cake.test");
  const auto begin = readme.find("## Your first cake");
  ASSERT_NE(begin, std::string::npos);
  std::istringstream lines{readme.substr(begin, readme.find("\n## ", begin) - begin)};
  int commands = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("    ", 0) != 0 || line.rfind("    export ", 0) == 0) continue;
    const std::string command = line.substr(4);
    EXPECT_TRUE(story.find("\n$ " + command + "\n") != std::string::npos || story.find("\\\n" + command + "\n") != std::string::npos)
        << command;
    ++commands;
  }
  EXPECT_GT(commands, 20);
}

/// A kitchen with one small cake, for what is not a story.
class SmallKitchen {
 public:
  SmallKitchen() {
    for (const char* words :
         {"start --name 'Story Kitchen' --address 'Unit 0' --zone Europe/London --label-rules gb --temperature-rules gb-eng "
          "--retention-rules gb --owner ada='Ada Sample' --demo story",
          "supplier mill --name 'Example Mill' --address '1 Mill Lane'", "ingredient sugar --name sugar --sugar"})
      tell(words);
    write_bytes(
        scratch_.path() / "sugar.json",
        R"({"ingredient": "sugar", "supplier": "mill", "label_name": "sugar", "checked": "2026-04-30", "checked_against": "the pack",
                    "storage": "room", "absent": {"all_others": true, "evidence": "sheet of April 2026"}})");
    write_bytes(
        scratch_.path() / "candy.json",
        R"({"recipe": "candy", "name": "sugar candy", "part": "decoration", "items": [{"of": "sugar", "mass": "100 g"}], "yield": "95 g",
                    "kit": ["bowl"], "egg": "none", "storage": "room", "life_days": 30, "life_reason": "the pack of sugar"})");
    for (const char* words : {"specification sugar.json", "receive sugar --from mill --code S1 --mass 1kg --best-before 2027-12-31",
                              "kit bowl --name bowl", "recipe candy.json", "make candy --yield 95g",
                              "cake --name 'Sugar cake' --for 2026-05-02 --boxed before --sold-by maker --ordered face-to-face --face 400",
                              "tier cake-1 only --part batch-1=95g"})
      tell(words);
  }
  Ran tell(const std::string& words, int exit = 0) const {
    Ran ran = run(environment_of(scratch_.path()) + in_quotes("tierproof " + words));
    EXPECT_EQ(ran.exit, exit) << words << "\n" << ran.output;
    return ran;
  }
  /// Standard output of a command as JSON; null when it is not one JSON value.
  Json json_of(const std::string& words, int exit = 0) const {
    const Ran ran = tell(words + " 2>/dev/null", exit);
    auto json = parse_json(ran.output, words);
    EXPECT_TRUE(json.has_value()) << words << "\n" << ran.output;
    return json ? std::move(json).value() : Json{};
  }

 private:
  Scratch scratch_;
};

TEST(JsonOutput, OfEveryCommandIsOneObjectThatNamesItsSchemaAndSaysDemo) {
  const SmallKitchen kitchen;
  struct Row {
    const char* words;
    const char* schema;
    int exit;
    const char* holds;
  };
  for (const Row& row : std::initializer_list<Row>{
           {"label cake-1 --stock sheet-99x68", "tierproof/issued/1", 0, "files"},
           {"record cake-1", "tierproof/issued/1", 0, "files"},
           {"paper 12 --to again.pdf", "tierproof/paper/1", 0, "form"},
           {"kit whisk --name whisk", "tierproof/booked/1", 0, "notes"},
           {"check cake-1", "tierproof/check/1", 1, "findings"},
           {"notes", "tierproof/notes/1", 0, "notes"},
           {"notes 3", "tierproof/notes/1", 0, "notes"},
           {"notes --about cake-1", "tierproof/notes/1", 0, "notes"},
           {"head", "tierproof/head/1", 0, "head"},
           {"verify", "tierproof/verification/1", 0, "complaints"},
           {"rebuild", "tierproof/rebuilt/1", 0, "rebuilt"},
           {"--as-of 3 notes", "tierproof/notes/1", 0, "notes"},
       }) {
    const Json json = kitchen.json_of(std::string{row.words} + " --json", row.exit);
    ASSERT_TRUE(json.is_object()) << row.words;
    ASSERT_NE(json.find("schema"), nullptr) << row.words;
    EXPECT_EQ(*json.find("schema"), Json{row.schema}) << row.words;
    EXPECT_NE(json.find(row.holds), nullptr) << row.words;
    ASSERT_NE(json.find("demo"), nullptr) << row.words;
    EXPECT_EQ(*json.find("demo"), Json{true}) << row.words;
  }
  const Json rules = kitchen.json_of("--json rules --on 2026-12-01");
  ASSERT_TRUE(rules.is_object());
  EXPECT_EQ(*rules.find("schema"), Json{"tierproof/rules/1"});
  EXPECT_FALSE(rules.find("labels")->array().empty());
}

TEST(JsonOutput, OfARefusalNamesEveryFaultWithItsRemedy) {
  const SmallKitchen kitchen;
  const Json refused = kitchen.json_of("--json receive sugar --from nobody --code '' --mass 1kg", 64);
  ASSERT_TRUE(refused.is_object());
  EXPECT_EQ(*refused.find("schema"), Json{"tierproof/refused/1"});
  ASSERT_EQ(refused.find("refused")->array().size(), 3u);
  for (const auto& one : refused.find("refused")->array()) {
    EXPECT_NE(one.find("field")->text(), "");
    EXPECT_NE(one.find("message")->text(), "");
    EXPECT_NE(one.find("remedy")->text(), "");
  }
  const Json stopped = kitchen.json_of("--json release cake-1", 1);
  ASSERT_TRUE(stopped.is_object());
  EXPECT_EQ(*stopped.find("schema"), Json{"tierproof/refused/1"});
}

}  // namespace
}  // namespace tierproof::demo
