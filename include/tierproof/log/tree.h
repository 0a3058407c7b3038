#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/log/hash.h"

namespace tierproof {

/// Size and root of the log, always together: neither proof below binds the size by itself.
struct Head {
  std::uint64_t size = 0;
  Digest root{};
  friend bool operator==(const Head&, const Head&) = default;
};

/// `12:5dc9da79…` : size, colon, root in hexadecimal; what papers print and `verify --head` takes.
std::string format_head(const Head& head);
std::optional<Head> parse_head(std::string_view text);

/// RFC 9162 section 2.1.1: SHA-256(0x00 || data) and SHA-256(0x01 || left || right).
Digest leaf_hash(std::string_view data);
Digest node_hash(const Digest& left, const Digest& right);
/// The Merkle tree hash of `leaves`; SHA-256 of nothing when there are none.
Digest tree_root(std::span<const Digest> leaves);

/// The roots of the full subtrees of a growing tree, so that one more leaf costs a few hashes.
class Frontier {
 public:
  Frontier() = default;
  void add(const Digest& leaf);
  Head head() const;
  /// `peaks` from the largest subtree to the smallest; for keeping beside the head.
  const std::vector<Digest>& peaks() const { return peaks_; }
  /// Nothing if the number of peaks does not fit `size`.
  static std::optional<Frontier> restore(std::uint64_t size, std::vector<Digest> peaks);

 private:
  std::uint64_t size_ = 0;
  std::vector<Digest> peaks_;
};

}  // namespace tierproof
