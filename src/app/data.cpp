#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "tierproof/app/session.h"
#include "tierproof/rules/name_hint_file.h"

namespace tierproof {
namespace fs = std::filesystem;

namespace {

bool holds_data(const fs::path& root) { return fs::exists(root / "reference") && fs::exists(root / "reports" / "fonts"); }

}  // namespace

DataRoot find_data() {
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  const fs::path beside = program.parent_path().parent_path() / "share" / "tierproof";
  if (!error && holds_data(beside)) return {beside.string()};
  if (holds_data(TIERPROOF_SOURCE_DIR)) return {TIERPROOF_SOURCE_DIR};
  throw Fault{exit_status::configuration, fmt::format("the rules and fonts were not found in {} or {}; install the program again",
                                                      beside.string(), TIERPROOF_SOURCE_DIR)};
}

std::vector<std::pair<std::string, std::string>> load_texts(const DataRoot& root) {
  std::vector<std::pair<std::string, std::string>> texts;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator{fs::path{root.path} / "reports" / "texts", error}) {
    if (entry.path().extension() == ".txt") texts.emplace_back(entry.path().stem().string(), load_file(entry.path().string()));
  }
  if (texts.empty())
    throw Fault{exit_status::configuration, root.path + "/reports/texts: holds no ready-made text; install tierproof again"};
  std::sort(texts.begin(), texts.end());
  return texts;
}

std::string load_file(const std::string& path) {
  std::ifstream file{path, std::ios::binary};
  if (!file || fs::is_directory(path))
    throw Fault{exit_status::no_input, fmt::format("{}: cannot be read; check the name and that you may read it", path)};
  std::ostringstream bytes;
  bytes << file.rdbuf();
  if (file.bad()) throw Fault{exit_status::io, fmt::format("{}: reading it failed", path)};
  return std::move(bytes).str();
}

namespace {

/// A database: the records of a kitchen, whatever they are called. None is ever written over.
bool holds_records(const std::string& path) {
  constexpr std::string_view beginning{"SQLite format 3\0", 16};  // SQLite file format, section 1.3
  std::ifstream in{path, std::ios::binary};
  std::string bytes(beginning.size(), ' ');
  return in.read(bytes.data(), static_cast<std::streamsize>(bytes.size())) && bytes == beginning;
}

}  // namespace

void save_file(const std::string& path, std::string_view bytes, Readers readers) {
  if (holds_records(path))
    throw Fault{exit_status::cannot_create,
                fmt::format("{} holds the records of a kitchen and is not written over; name another file", path)};
  const std::string aside = fmt::format("{}.{}.part", path, ::getpid());
  const auto fail = [&](const char* doing) {
    const int error = errno;
    ::unlink(aside.c_str());
    throw Fault{exit_status::cannot_create,
                fmt::format("{}: {} failed ({}); check the folder and the free space", path, doing, std::strerror(error))};
  };
  const int file = ::open(aside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, readers == Readers::owner ? 0600 : 0644);
  if (file < 0) fail("making it");
  for (std::size_t done = 0; done < bytes.size();) {
    const auto written = ::write(file, bytes.data() + done, bytes.size() - done);
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) {
      ::close(file);
      fail("writing it");
    }
    done += static_cast<std::size_t>(written);
  }
  if (::fsync(file) != 0) {
    ::close(file);
    fail("writing it");
  }
  ::close(file);
  if (::rename(aside.c_str(), path.c_str()) != 0) fail("putting it in place");
}

std::shared_ptr<const RulePacks> load_packs(const DataRoot& root) {
  const fs::path reference = fs::path{root.path} / "reference";
  std::vector<PackFile> files;
  for (const auto& entry : fs::recursive_directory_iterator{reference}) {
    if (!entry.is_regular_file()) continue;
    const auto extension = entry.path().extension();
    if (extension != ".json" && extension != ".tsv") continue;
    files.push_back({fs::relative(entry.path(), reference).generic_string(), load_file(entry.path().string())});
  }
  std::sort(files.begin(), files.end(), [](const PackFile& a, const PackFile& b) { return a.path < b.path; });
  auto packs = RulePacks::read(files);
  if (!packs) {
    std::string all = "the rule packs cannot be used:";
    for (const auto& refusal : packs.error()) all += "\n  reference/" + describe(refusal);
    throw Fault{exit_status::configuration, all};
  }
  return std::make_shared<const RulePacks>(std::move(packs).value());
}

std::shared_ptr<const RulePacks> rule_packs() {
  static const std::shared_ptr<const RulePacks> packs = load_packs(find_data());
  return packs;
}

const NameHints& name_hints() {
  static const NameHints hints = load_name_hints(find_data());
  return hints;
}

NameHints load_name_hints(const DataRoot& root) {
  const fs::path folder = fs::path{root.path} / "reference" / "names";
  std::vector<std::string> names;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator{folder, error}) {
    if (entry.path().extension() == ".tsv") names.push_back(entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  std::vector<NameWord> words;
  std::map<std::string, std::vector<std::string>> otherwise;
  Refusals refusals;
  const auto take = [&](const Refusals& more) { refusals.insert(refusals.end(), more.begin(), more.end()); };
  for (const auto& name : names) {
    auto rows = read_name_hint_file(load_file((folder / name).string()), "names/" + name);
    if (!rows) {
      take(rows.error());
      continue;
    }
    for (auto& row : *rows) {
      if (row.meaning == "otherwise") {
        otherwise.emplace(row.phrase, row.keys);
      } else if (const auto meaning = name_meaning(row.meaning)) {
        words.push_back({row.phrase, *meaning, row.keys, row.process, fmt::format("{}:{}", row.file, row.line)});
      }
    }
  }
  if (words.empty() && refusals.empty()) refusals.push_back({"names", 0, "", "holds no words", "install tierproof again"});
  auto hints = name_hints_of(words, std::move(otherwise));
  if (!hints) take(hints.error());
  if (refusals.empty()) return std::move(hints).value();
  std::string all = "the words of names cannot be used:";
  for (const auto& refusal : refusals) all += "\n  reference/" + describe(refusal);
  throw Fault{exit_status::configuration, all};
}

}  // namespace tierproof
