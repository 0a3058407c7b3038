#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "tierproof/log/hash.h"

namespace tierproof {

/// What Argon2id costs: t passes over m KiB by one lane.
struct HashCost {
  std::int64_t passes = 2;
  std::int64_t memory_kib = 19456;  ///< OWASP Password Storage Cheat Sheet: m=19456 (19 MiB), t=2, p=1
};

/// Argon2id, version 1.3 of RFC 9106, one lane.
/// @param salt  16 bytes
/// @param size  bytes of the answer, at least 16
/// @throws Fault 75 without enough memory
std::string argon2id(std::string_view secret, std::string_view salt, HashCost cost, std::size_t size);

/// Bytes that nobody can guess, from the machine.
std::string secret_bytes(std::size_t count);
/// A token of 256 bits in 43 letters, digits, `-` and `_`.
std::string new_token();
/// Eight digits, each eight as likely.
std::string new_code();
/// Whether both are the same bytes, in a time that tells nothing of where they differ.
bool same_secret(std::string_view one, std::string_view other);
bool same_secret(const Digest& one, const Digest& other);

/// The 32 bytes of the file at `path`. @throws Fault 78 where it is not there, of another length, or others on this machine may read it
Digest load_pepper(const std::string& path);
/// The same; where the file is not there it is made first, by chance, readable by its owner alone. @throws Fault 73 too
Digest load_or_make_pepper(const std::string& path);

/// Why nobody may have this PIN; nothing where they may.
std::optional<std::string> blocked_pin(std::string_view pin);

}  // namespace tierproof
