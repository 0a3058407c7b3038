#include <map>
#include <utility>

#include "tierproof/store/named_bytes.h"
#include "tierproof/store/record_store.h"

namespace tierproof {

std::vector<FileNamed> files_named(const std::vector<Entry>& entries) {
  std::vector<FileNamed> files;
  std::map<Digest, std::uint64_t> erased;  // by the last erasure, unless the same content was attached after it
  for (const auto& entry : entries) {
    for (const auto& digest : store::named_erased_files(entry)) erased.insert_or_assign(digest, entry.sequence);
    if (auto named = store::named_file(entry)) {
      erased.erase(named->digest);
      files.push_back({entry.sequence, std::move(named->about), named->digest, named->bytes, {}});
    }
  }
  for (auto& file : files) {
    const auto found = erased.find(file.digest);
    if (found != erased.end()) file.erased_by = found->second;
  }
  return files;
}

}  // namespace tierproof
