#include "tierproof/papers/png.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <system_error>
#include <vector>

#include "tierproof/units/result.h"

namespace tierproof {
namespace {

/// A folder of our own that goes when we go.
class Scratch {
 public:
  Scratch() {
    std::error_code no_folder;
    const auto base = std::filesystem::temp_directory_path(no_folder);
    std::string pattern = ((no_folder ? std::filesystem::path{"/tmp"} : base) / "tierproof-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) {
      throw Fault{exit_status::cannot_create, fmt::format("{}: {}; free some space or set TMPDIR", pattern, std::strerror(errno))};
    }
    folder_ = pattern;
  }
  ~Scratch() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  std::string path(const char* name) const { return (folder_ / name).string(); }

 private:
  std::filesystem::path folder_;
};

std::string read_all(const std::string& path) {
  std::ifstream in{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{in}, {}};
}

/// Runs a program found on PATH without a shell, its messages kept in `messages`. Returns its exit status.
int run(std::vector<std::string> arguments, const std::string& messages) {
  std::vector<char*> argv;
  for (std::string& argument : arguments) argv.push_back(argument.data());
  argv.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, messages.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  pid_t child = 0;
  const int failed = posix_spawnp(&child, argv[0], &actions, nullptr, argv.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  if (failed != 0) {
    throw Fault{exit_status::cannot_create,
                fmt::format("{} does not start: {}; install poppler-utils", arguments.front(), std::strerror(failed))};
  }
  int status = 0;
  while (waitpid(child, &status, 0) < 0) {
    if (errno != EINTR) throw Fault{exit_status::cannot_create, fmt::format("{}: {}", arguments.front(), std::strerror(errno))};
  }
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128;
}

}  // namespace

std::string write_png(const std::string& pdf, int dots_per_inch, int page) {
  if (dots_per_inch < 20 || dots_per_inch > 1200) {
    throw Fault{exit_status::cannot_create,
                fmt::format("a picture of {} dots per inch cannot be drawn; ask for 20 to 1200", dots_per_inch)};
  }
  const Scratch scratch;
  const std::string source = scratch.path("paper.pdf");
  {
    std::ofstream out{source, std::ios::binary};
    out << pdf;
    out.close();
    if (!out) throw Fault{exit_status::cannot_create, fmt::format("{}: cannot be written; free some space or set TMPDIR", source)};
  }
  const std::string messages = scratch.path("messages");
  const std::string number = std::to_string(page);
  const int status = run(
      {"pdftoppm", "-png", "-r", std::to_string(dots_per_inch), "-f", number, "-l", number, "-singlefile", source, scratch.path("page")},
      messages);
  const std::string png = read_all(scratch.path("page.png"));
  if (status != 0 || png.empty()) {
    throw Fault{exit_status::cannot_create,
                fmt::format("pdftoppm drew no picture of page {} (status {}): {}", page, status, read_all(messages).substr(0, 300))};
  }
  return png;
}

}  // namespace tierproof
