#include "tierproof/log/proof.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace tierproof {
namespace {

constexpr std::size_t largest = 40;

std::vector<Digest> leaves(std::size_t count) {
  std::vector<Digest> out;
  for (std::size_t i = 0; i < count; ++i) out.push_back(leaf_hash("entry " + std::to_string(i)));
  return out;
}

Head head_of(std::span<const Digest> all, std::size_t size) { return {size, tree_root(all.first(size))}; }

Digest flipped(Digest digest) {
  digest[7] ^= 0x10;
  return digest;
}

/// Every way to alter a proof that must not pass: one hash altered, left out or given twice, one hash too many at either end.
std::vector<std::vector<Digest>> altered(const std::vector<Digest>& proof) {
  std::vector<std::vector<Digest>> out;
  for (std::size_t i = 0; i < proof.size(); ++i) {
    out.push_back(proof);
    out.back()[i] = flipped(proof[i]);
    out.push_back(proof);
    out.back().erase(out.back().begin() + static_cast<std::ptrdiff_t>(i));
    out.push_back(proof);
    out.back().insert(out.back().begin() + static_cast<std::ptrdiff_t>(i), proof[i]);
  }
  out.push_back(proof);
  out.back().push_back(leaf_hash("garbage"));
  out.push_back(proof);
  out.back().insert(out.back().begin(), leaf_hash("garbage"));
  return out;
}

TEST(InclusionProof, HoldsForEveryEntryOfEveryTreeAndForNothingElse) {
  const auto all = leaves(largest);
  for (std::size_t size = 1; size <= largest; ++size) {
    const auto tree = std::span{all}.first(size);
    const auto head = head_of(all, size);
    for (std::size_t index = 0; index < size; ++index) {
      const auto proof = inclusion_proof(tree, index);
      ASSERT_TRUE(proves_inclusion(head, index, all[index], proof)) << index << " of " << size;
      for (std::size_t other = 0; other < size; ++other) {
        if (other != index) {
          ASSERT_FALSE(proves_inclusion(head, other, all[index], proof)) << index << " as " << other << " of " << size;
        }
      }
      ASSERT_FALSE(proves_inclusion(head, index, flipped(all[index]), proof));
      ASSERT_FALSE(proves_inclusion({size, flipped(head.root)}, index, all[index], proof));
      for (const auto& wrong : altered(proof)) ASSERT_FALSE(proves_inclusion(head, index, all[index], wrong)) << index << " of " << size;
    }
  }
}

TEST(InclusionProof, IsRefusedForAnEntryBeyondTheTree) {
  const auto all = leaves(8);
  const auto proof = inclusion_proof(all, 7);
  const auto head = head_of(all, 8);
  EXPECT_FALSE(proves_inclusion(head, 8, all[7], proof));
  EXPECT_FALSE(proves_inclusion(head, UINT64_MAX, all[7], proof));
  EXPECT_FALSE(proves_inclusion({0, head.root}, 0, all[0], {}));
  EXPECT_FALSE(proves_inclusion({0, tree_root({})}, 0, tree_root({}), {}));
}

TEST(ConsistencyProof, HoldsForEveryPrefixOfEveryTreeAndForNothingElse) {
  const auto all = leaves(largest);
  for (std::size_t size = 1; size <= largest; ++size) {
    const auto head = head_of(all, size);
    for (std::size_t old = 1; old <= size; ++old) {
      const auto old_head = head_of(all, old);
      const auto proof = consistency_proof(std::span{all}.first(size), old);
      ASSERT_TRUE(proves_consistency(old_head, head, proof)) << old << " in " << size;
      ASSERT_FALSE(proves_consistency({old, flipped(old_head.root)}, head, proof));
      ASSERT_FALSE(proves_consistency(old_head, {size, flipped(head.root)}, proof));
      for (const auto& wrong : altered(proof)) ASSERT_FALSE(proves_consistency(old_head, head, wrong)) << old << " in " << size;
      if (old < size) {
        ASSERT_FALSE(proves_consistency(head, old_head, proof)) << old << " in " << size;
      }
    }
  }
}

TEST(ConsistencyProof, IsRefusedFromASizeOfNothing) {
  const auto all = leaves(5);
  const auto head = head_of(all, 5);
  EXPECT_FALSE(proves_consistency({0, tree_root({})}, head, {}));
  EXPECT_FALSE(proves_consistency({0, tree_root({})}, {0, tree_root({})}, {}));
  EXPECT_FALSE(proves_consistency({0, head.root}, head, {}));
  EXPECT_FALSE(proves_consistency({0, head.root}, head, inclusion_proof(all, 0)));
}

TEST(ConsistencyProof, OfATreeWithItselfIsEmptyAndNeedsTheSameRoot) {
  const auto all = leaves(5);
  const auto head = head_of(all, 5);
  EXPECT_TRUE(proves_consistency(head, head, {}));
  EXPECT_FALSE(proves_consistency(head, head, std::vector{all[0]}));
  EXPECT_FALSE(proves_consistency(head, {5, flipped(head.root)}, {}));
}

// Why size and root always travel together: the same proof can pass for two sizes, so a size must come from the head.
TEST(InclusionProof, AloneDoesNotBindTheSize) {
  const auto all = leaves(7);
  const auto proof = inclusion_proof(all, 0);
  EXPECT_TRUE(proves_inclusion({7, tree_root(all)}, 0, all[0], proof));
  EXPECT_TRUE(proves_inclusion({8, tree_root(all)}, 0, all[0], proof));
}

}  // namespace
}  // namespace tierproof
