#include "tierproof/log/proof.h"

#include <bit>
#include <cassert>

namespace tierproof {
namespace {

std::uint64_t split_of(std::uint64_t size) { return std::bit_floor(size - 1); }

/// SUBPROOF of RFC 9162 section 2.1.4.1; `known` says that the verifier holds the root of exactly these leaves.
void add_subproof(std::vector<Digest>& proof, std::span<const Digest> leaves, std::uint64_t old_size, bool known) {
  if (old_size == leaves.size()) {
    if (!known) proof.push_back(tree_root(leaves));
    return;
  }
  const auto split = split_of(leaves.size());
  if (old_size <= split) {
    add_subproof(proof, leaves.first(split), old_size, known);
    proof.push_back(tree_root(leaves.subspan(split)));
  } else {
    add_subproof(proof, leaves.subspan(split), old_size - split, false);
    proof.push_back(tree_root(leaves.first(split)));
  }
}

}  // namespace

std::vector<Digest> inclusion_proof(std::span<const Digest> leaves, std::uint64_t index) {
  assert(index < leaves.size());
  if (leaves.size() <= 1) return {};
  const auto split = split_of(leaves.size());
  const bool left = index < split;
  auto proof = left ? inclusion_proof(leaves.first(split), index) : inclusion_proof(leaves.subspan(split), index - split);
  proof.push_back(tree_root(left ? leaves.subspan(split) : leaves.first(split)));
  return proof;
}

bool proves_inclusion(const Head& head, std::uint64_t index, const Digest& leaf, std::span<const Digest> proof) {
  if (index >= head.size) return false;
  auto node = index;
  auto last = head.size - 1;
  Digest root = leaf;
  for (const auto& hash : proof) {
    if (last == 0) return false;
    if ((node & 1) != 0 || node == last) {
      root = node_hash(hash, root);
      while ((node & 1) == 0 && node != 0) {
        node >>= 1;
        last >>= 1;
      }
    } else {
      root = node_hash(root, hash);
    }
    node >>= 1;
    last >>= 1;
  }
  return last == 0 && root == head.root;
}

std::vector<Digest> consistency_proof(std::span<const Digest> leaves, std::uint64_t old_size) {
  assert(old_size > 0 && old_size <= leaves.size());
  std::vector<Digest> proof;
  add_subproof(proof, leaves, old_size, true);
  return proof;
}

bool proves_consistency(const Head& old_head, const Head& new_head, std::span<const Digest> proof) {
  if (old_head.size == 0 || old_head.size > new_head.size) return false;
  if (old_head.size == new_head.size) return proof.empty() && old_head.root == new_head.root;
  auto rest = proof;
  Digest old_root = old_head.root;
  if (!std::has_single_bit(old_head.size)) {  // else the old root is itself the first node, and is left out of the proof
    if (rest.empty()) return false;
    old_root = rest.front();
    rest = rest.subspan(1);
  }
  Digest new_root = old_root;
  auto node = old_head.size - 1;
  auto last = new_head.size - 1;
  while ((node & 1) != 0) {
    node >>= 1;
    last >>= 1;
  }
  for (const auto& hash : rest) {
    if (last == 0) return false;
    if ((node & 1) != 0 || node == last) {
      old_root = node_hash(hash, old_root);
      new_root = node_hash(hash, new_root);
      while ((node & 1) == 0 && node != 0) {
        node >>= 1;
        last >>= 1;
      }
    } else {
      new_root = node_hash(new_root, hash);
    }
    node >>= 1;
    last >>= 1;
  }
  return last == 0 && old_root == old_head.root && new_root == new_head.root;
}

}  // namespace tierproof
