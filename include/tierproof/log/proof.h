#pragma once

#include <span>
#include <vector>

#include "tierproof/log/tree.h"

namespace tierproof {

/// RFC 9162 section 2.1.3.1. @pre index < leaves.size()
std::vector<Digest> inclusion_proof(std::span<const Digest> leaves, std::uint64_t index);
/// RFC 9162 section 2.1.3.2: whether `leaf` is entry `index` of the tree that `head` names.
bool proves_inclusion(const Head& head, std::uint64_t index, const Digest& leaf, std::span<const Digest> proof);

/// RFC 9162 section 2.1.4.1. @pre 0 < old_size <= leaves.size()
std::vector<Digest> consistency_proof(std::span<const Digest> leaves, std::uint64_t old_size);
/// RFC 9162 section 2.1.4.2: whether the tree `old_head` is a prefix of `new_head`. An old size of 0 is refused.
bool proves_consistency(const Head& old_head, const Head& new_head, std::span<const Digest> proof);

}  // namespace tierproof
