#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <spawn.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <random>
#include <regex>
#include <set>
#include <thread>

#include "demo/demo_run.h"
#include "tierproof/units/time.h"

extern char** environ;

// The program is killed at random moments of recording and importing; every note that it acknowledged must be there, whole.
namespace tierproof::demo {
namespace {
using Clock = std::chrono::steady_clock;

#if defined(__SANITIZE_ADDRESS__)
constexpr int kills_by_default = 20;
#else
constexpr int kills_by_default = 200;
#endif

int kills() {
  const char* asked = std::getenv("TIERPROOF_KILLS");
  return asked == nullptr ? kills_by_default : std::atoi(asked);
}

class Kitchen {
 public:
  Kitchen() {
    tell({"start", "--name", "Kill Test Kitchen", "--address", "Unit 0, Example Yard", "--zone", "Europe/London", "--label-rules", "gb",
          "--temperature-rules", "gb-eng", "--retention-rules", "gb", "--owner", "ada=Ada Sample", "--demo", "kill test"});
    tell({"place", "fridge", "--name", "fridge", "--kind", "fridge"});
    tell({"thermometer", "logger", "--name", "logger", "--error", "0.5C", "--step", "0.1C", "--measures", "air", "--in", "fridge"});
  }

  /// Runs a command to its end and expects that it works.
  std::string tell(const std::vector<std::string>& words) {
    std::string line = prefix();
    for (const auto& word : words) line += " '" + word + "'";
    const Ran ran = run(line);
    EXPECT_EQ(ran.exit, 0) << line << "\n" << ran.output;
    return ran.output;
  }

  /// Runs a command and kills it after `delay`, unless it has ended by then.
  /// @return its standard output so far, and whether it was killed
  std::pair<std::string, bool> tell_and_kill(const std::vector<std::string>& words, std::chrono::microseconds delay) {
    const fs::path out = scratch_.path() / "out.txt";
    posix_spawn_file_actions_t files;
    posix_spawn_file_actions_init(&files);
    posix_spawn_file_actions_addopen(&files, 1, out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    posix_spawn_file_actions_addopen(&files, 2, "/dev/null", O_WRONLY, 0);
    std::vector<std::string> all{TIERPROOF_PROGRAM, "--kitchen", file(), "--by", "ada", "--now", now};
    all.insert(all.end(), words.begin(), words.end());
    std::vector<char*> arguments;
    for (auto& word : all) arguments.push_back(word.data());
    arguments.push_back(nullptr);
    pid_t child = 0;
    EXPECT_EQ(::posix_spawn(&child, TIERPROOF_PROGRAM, &files, nullptr, arguments.data(), environ), 0);
    posix_spawn_file_actions_destroy(&files);
    std::this_thread::sleep_for(delay);
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    return {bytes_of(out), WIFSIGNALED(status)};
  }

  std::string prefix() const { return "'" TIERPROOF_PROGRAM "' --kitchen '" + file() + "' --by ada --now " + now; }
  std::string file() const { return (scratch_.path() / "kitchen.tierproof").string(); }
  const fs::path& folder() const { return scratch_.path(); }
  static constexpr const char* now = "2026-05-02T12:00+01:00";

 private:
  Scratch scratch_;
};

/// A logger's file of two thousand readings, a minute apart, another day for each `number`.
std::string a_loggers_file(int number) {
  std::string text = "time,temperature\n";
  for (int i = 0; i < 2000; ++i) {
    const Instant at = parse_zoned("2020-01-01T00:00Z")->at + std::chrono::minutes{2000 * number + i};
    text += format_zoned(at, Offset{}) + "," + std::to_string(3 + i % 3) + ".5\n";
  }
  return text;
}

TEST(KilledProgram, LosesNothingThatItAcknowledgedAndLeavesNothingHalfWritten) {
  const char* given = std::getenv("TIERPROOF_KILL_SEED");
  const unsigned seed = given == nullptr ? std::random_device{}() : static_cast<unsigned>(std::strtoul(given, nullptr, 10));
  std::printf("TIERPROOF_KILL_SEED=%u\n", seed);
  std::mt19937 chance{seed};
  Kitchen kitchen;
  // How long a whole command takes here: the shortest of three. Kills are spread over a little more, and now and then over much more,
  // so that on a busy machine too some land before, some within and some after the append.
  constexpr int measured = 3;
  auto whole = std::chrono::microseconds::max();
  for (int i = 0; i < measured; ++i) {
    const auto start = Clock::now();
    kitchen.tell({"temperature", "logger", "4.0C", "--of", "fridge", "--at", "2019-01-01T00:0" + std::to_string(i)});
    whole = std::min(whole, std::chrono::duration_cast<std::chrono::microseconds>(Clock::now() - start));
  }
  const auto moment = [&](int i) {
    return std::chrono::microseconds{std::uniform_int_distribution<long>{0, whole.count() * (i % 6 == 5 ? 12 : 1) * 5 / 4}(chance)};
  };

  std::map<std::uint64_t, std::string> acknowledged;         // note → its client key
  std::map<std::string, std::vector<std::string>> commands;  // client key → the whole command that was killed
  int killed = 0;
  const std::regex told{R"(recorded as note ([0-9]+))"};
  for (int i = 0; i < kills(); ++i) {
    const std::string key = "try-" + std::to_string(i);
    std::vector<std::string> words{"temperature", "logger"};
    if (i % 4 == 3) {
      const fs::path file = kitchen.folder() / ("logger-" + std::to_string(i) + ".csv");
      write_bytes(file, a_loggers_file(i));  // stands there for a retry too
      words.insert(words.end(), {"--file", file.string()});
    } else {
      words.push_back("4.1C");
      words.insert(words.end(), {"--at", "2026-05-02T11:" + std::to_string(10 + i % 50)});
    }
    words.insert(words.end(), {"--of", "fridge", "--once", key});
    commands[key] = words;
    const auto [output, was_killed] = kitchen.tell_and_kill(words, moment(i));
    killed += was_killed ? 1 : 0;
    std::smatch note;
    if (std::regex_search(output, note, told)) acknowledged[std::stoull(note[1])] = key;
    if (i % 40 == 39) {
      const Ran verified = run(kitchen.prefix() + " verify");
      ASSERT_EQ(verified.exit, 0) << "after " << i + 1 << " kills: " << verified.output;
    }
  }
  EXPECT_GT(killed, kills() / 10) << "hardly any kill hit a running program: the loop shows nothing";
  EXPECT_GE(acknowledged.size(), std::max<std::size_t>(1, static_cast<std::size_t>(kills()) / 20))
      << "hardly anything was booked: the loop shows nothing";

  const Ran verified = run(kitchen.prefix() + " verify");
  ASSERT_EQ(verified.exit, 0) << verified.output;
  const auto listed = parse_json(run(kitchen.prefix() + " notes --json").output, "notes");
  ASSERT_TRUE(listed.has_value());
  std::set<std::uint64_t> there;
  for (const auto& note : listed->find("notes")->array()) there.insert(static_cast<std::uint64_t>(note.find("note")->integer()));
  for (const auto& [note, key] : acknowledged)
    EXPECT_TRUE(there.contains(note)) << "note " << note << " was acknowledged (" << key << ") and is gone";

  // A retry under the same key books what was not booked, and answers with the first note where it was: in all, each exactly once.
  const std::size_t before_retries = there.size();
  std::size_t booked_now = 0;
  for (const auto& [key, words] : commands) {
    const bool known = std::any_of(acknowledged.begin(), acknowledged.end(), [&](const auto& note) { return note.second == key; });
    const std::string again = known ? kitchen.tell(  // another reading: only the key can tell that it was booked
                                          {"temperature", "logger", "9.9C", "--of", "fridge", "--at", "2019-06-01T00:00", "--once", key})
                                    : kitchen.tell(words);
    std::smatch note;
    if (std::regex_search(again, note, told)) {
      EXPECT_FALSE(known) << key << " was acknowledged and is booked a second time: " << again;
      ++booked_now;
    } else {
      ASSERT_TRUE(std::regex_search(again, note, std::regex{R"(was recorded before, as note ([0-9]+))"})) << again;
      const auto first = std::stoull(note[1]);
      EXPECT_TRUE(there.contains(first)) << again;
      EXPECT_TRUE(!acknowledged.contains(first) || acknowledged[first] == key) << again;
    }
  }
  std::printf("%d of %d killed while they ran; %zu acknowledged; %zu booked by their retry\n", killed, kills(), acknowledged.size(),
              booked_now);
  const std::size_t written_before_the_loop = 4 + measured;  // kitchen, person, place, thermometer, the readings measured
  EXPECT_EQ(before_retries + booked_now, written_before_the_loop + commands.size()) << "a command was booked twice, or not at all";
  const Ran in_the_end = run(kitchen.prefix() + " verify");
  EXPECT_EQ(in_the_end.exit, 0) << in_the_end.output;
  EXPECT_NE(in_the_end.output.find(std::to_string(written_before_the_loop + commands.size()) + " notes, nothing changed"),
            std::string::npos)
      << in_the_end.output;
}

}  // namespace
}  // namespace tierproof::demo
