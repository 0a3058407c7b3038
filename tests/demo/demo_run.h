#pragma once

#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "tierproof/text/json.h"

namespace tierproof::demo {
namespace fs = std::filesystem;

/// A folder that goes away with the test.
class Scratch {
 public:
  Scratch() {
    std::string name = (fs::temp_directory_path() / "tierproof-demo-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    path_ = name;
  }
  ~Scratch() { fs::remove_all(path_); }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

struct Ran {
  int exit = -1;
  std::string output;  ///< standard output and error, as they came
};

/// Runs a command line of the shell.
inline Ran run(const std::string& command) {
  Ran ran;
  FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return ran;
  char part[4096];
  for (std::size_t got; (got = std::fread(part, 1, sizeof part, pipe)) > 0;) ran.output.append(part, got);
  const int status = ::pclose(pipe);
  ran.exit = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  return ran;
}

inline std::string bytes_of(const fs::path& path) {
  std::ifstream file{path, std::ios::binary};
  std::ostringstream bytes;
  bytes << file.rdbuf();
  return bytes.str();
}

inline void write_bytes(const fs::path& path, const std::string& bytes) {
  std::ofstream file{path, std::ios::binary};
  file << bytes;
}

inline const fs::path kitchen_folder = fs::path{TIERPROOF_SOURCE_DIR} / "reports" / "kitchen";
inline const fs::path sample_folder = fs::path{TIERPROOF_SOURCE_DIR} / "reports" / "sample";

/// The demo's three weeks with the data of `kitchen`, their papers into `into`.
inline Ran run_demo(const fs::path& kitchen, const fs::path& into, const std::string& program = TIERPROOF_PROGRAM) {
  return run("env -u TIERPROOF_BY -u TIERPROOF_NOW -u TIERPROOF_KITCHEN TIERPROOF_PROGRAM='" + program +
             "' '" TIERPROOF_SOURCE_DIR "/reports/demo' '" + kitchen.string() + "' '" + into.string() + "'");
}

inline const std::vector<std::string> cakes{"cake-1", "cake-2", "cake-3", "cake-4", "cake-5", "cake-6", "cake-7", "cake-8"};

/// Every label and record of the sample by its file name.
inline std::vector<std::string> papers(const std::string& extension) {
  std::vector<std::string> names;
  for (const auto& cake : cakes) {
    for (const char* paper : {"label", "record"}) names.push_back(cake + "-" + paper + extension);
  }
  return names;
}

inline Json json_of_file(const fs::path& path) {
  auto json = parse_json(bytes_of(path), path.string());
  return json ? std::move(json).value() : Json{};
}

}  // namespace tierproof::demo
