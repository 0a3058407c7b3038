#pragma once

#include <sys/types.h>

#include <filesystem>

namespace tierproof::demo {

/// Runs the program for the shell of a story or of the demo, in children of one process that has read the rules once.
///
/// Under the sanitizers a program of this size takes longer to start and to read the rules than to do what a story asks of it. The
/// command lines are the same, and so are what they are given and what they print: `story_caller.cpp` stands where the shell looks for the
/// program, and hands its words, folder, environment and open files to this server, which has a child run `cli::run_program` on them.
/// That the program itself starts and reads its rules is seen by the plain stories and demos, and in both flavours by `kill_test.cpp` and
/// by the tests of the command table.
class StoryServer {
 public:
  /// Listens at `socket`, which is made, and puts it into the environment, where a caller looks for it. @throws std::runtime_error  when it
  /// cannot
  explicit StoryServer(const std::filesystem::path& socket);
  ~StoryServer();
  StoryServer(const StoryServer&) = delete;
  StoryServer& operator=(const StoryServer&) = delete;

 private:
  pid_t server_ = -1;
};

}  // namespace tierproof::demo
