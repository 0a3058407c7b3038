#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "tierproof/kitchen/entities.h"

namespace tierproof {

/// The largest file that is attached, 10 MB: more than a telephone's picture needs (a choice, no source).
inline constexpr std::int64_t largest_evidence = 10'000'000;

/// `evidence/1`: a picture or document that was attached to what is recorded. The file itself lies beside the records, under its SHA-256;
/// that it still has it shows that it was not altered since this note, and nothing of whether what it shows is true.
struct Evidence {
  std::string about;                 ///< what it was attached to, the subject of another note: `pack-3`, `flour`, `advice`
  std::string kind;                  ///< kind of the note that it was attached to, `lot/1`
  std::optional<std::int64_t> note;  ///< place of that note, where it was named by its number
  Words shows;                       ///< what it shows, as the person says
  std::string file_sha256;           ///< not `sha256`: those bytes the database itself keeps
  std::int64_t file_bytes = 0;
  std::string media_type;  ///< as found by its content, `image/jpeg`
};

}  // namespace tierproof
