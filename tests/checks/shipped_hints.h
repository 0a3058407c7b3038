#pragma once

#include <map>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "../rules/reference_files.h"
#include "tierproof/rules/name_hint_file.h"
#include "tierproof/sums/name_hints.h"

namespace tierproof {

/// The vocabulary of names as it is shipped in reference/names.
inline const NameHints& shipped_hints() {
  static const NameHints hints = [] {
    std::vector<NameWord> words;
    std::map<std::string, std::vector<std::string>> otherwise;
    for (const auto& file : reference_files()) {
      if (!file.path.starts_with("names/")) continue;
      const auto rows = read_name_hint_file(file.text, file.path);
      if (!rows) throw std::runtime_error{told(rows.error())};
      for (const auto& row : *rows) {
        if (row.meaning == "otherwise") {
          otherwise.emplace(row.phrase, row.keys);
        } else {
          words.push_back({row.phrase, name_meaning(row.meaning).value(), row.keys, row.process, fmt::format("{}:{}", row.file, row.line)});
        }
      }
    }
    auto read = name_hints_of(words, otherwise);
    if (!read) throw std::runtime_error{told(read.error())};
    return std::move(read).value();
  }();
  return hints;
}

}  // namespace tierproof
