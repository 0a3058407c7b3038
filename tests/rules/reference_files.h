#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "tierproof/rules/rule_pack.h"

namespace tierproof {

inline std::string text_of(const std::filesystem::path& path) {
  std::ifstream in{path, std::ios::binary};
  EXPECT_TRUE(in.good()) << "cannot read " << path;
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

inline std::filesystem::path source_dir() { return TIERPROOF_SOURCE_DIR; }

/// Every file below reference/, by its path from there, sorted.
inline std::vector<PackFile> reference_files() {
  const auto root = source_dir() / "reference";
  std::vector<PackFile> files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator{root}) {
    if (entry.is_regular_file()) files.push_back({std::filesystem::relative(entry.path(), root).generic_string(), text_of(entry.path())});
  }
  std::sort(files.begin(), files.end(), [](const PackFile& l, const PackFile& r) { return l.path < r.path; });
  return files;
}

inline std::string told(const Refusals& refusals) {
  std::string out;
  for (const auto& refusal : refusals) out += describe(refusal) + "\n";
  return out;
}

/// The packs of reference/ as shipped; a failure names every bad row.
inline RulePacks shipped_packs() {
  auto packs = RulePacks::read(reference_files());
  if (!packs) throw std::runtime_error{"reference/ is refused:\n" + told(packs.error())};
  return std::move(packs).value();
}

inline Date day(int year, unsigned month, unsigned of_month) {
  return Date{std::chrono::year{year}, std::chrono::month{month}, std::chrono::day{of_month}};
}

}  // namespace tierproof
