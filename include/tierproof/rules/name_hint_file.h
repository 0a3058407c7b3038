#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tierproof/units/result.h"

namespace tierproof {

/// One line of a file of `reference/names/`: what a word in the names of foods tells of allergens.
struct NameHintRow {
  std::string phrase;
  std::string meaning;            ///< one of those that `keys.tsv` explains
  std::vector<std::string> keys;  ///< of allergens, or headings of the law's list
  std::string process;
  std::string note;
  std::string file;
  int line = 0;
};

/// Reads one file: comments after `#`, a line of headings, then five columns parted by tabs.
///
/// Refuses, all together and with their lines: a line of another number of columns or other headings, an empty phrase, one that is not in
/// small letters (but for the number of an additive), an unknown meaning, keys where the meaning has none or none where it needs them, a
/// process where nothing is exempt, and a phrase that stands there twice.
Result<std::vector<NameHintRow>> read_name_hint_file(std::string_view text, const std::string& file);

}  // namespace tierproof
