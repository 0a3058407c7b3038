#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/log/entry.h"
#include "tierproof/log/hash.h"

namespace tierproof::store {

/// The SHA-256 that the body of an entry names as its member `sha256`: of the block it seals or of the paper it tells of.
std::optional<Digest> named_digest(const Entry& entry);

/// The papers whose bytes an entry of the kind `erasure/1` says were erased; none for any other kind.
std::vector<Digest> named_erased(const Entry& entry);

/// A file beside the records that an entry of the kind `evidence/1` names.
struct FileName {
  Digest digest{};
  std::int64_t bytes = 0;
  std::string about;
};
/// Nothing for any other kind.
std::optional<FileName> named_file(const Entry& entry);
/// The files that an entry of the kind `erasure/1` says were erased, or were not there to be; none for any other kind.
std::vector<Digest> named_erased_files(const Entry& entry);

/// An erasable text as an entry names it: `{"sealed": ref, "hmac": hex}`.
struct SealedName {
  std::string ref;
  std::string hmac;  ///< hexadecimal, as written
};
/// Every one in the body and in the reason, in document order.
std::vector<SealedName> named_sealed(const Entry& entry);

}  // namespace tierproof::store
