// Published values of Merkle trees by RFC 6962 / RFC 9162 section 2.1. The leaves, roots, and the proofs named below are the test
// vectors of the Certificate Transparency reference implementation, as kept by transparency-dev/merkle (compact_test.go,
// rfc6962_test.go, testonly/constants.go, proof_test.go).

#include <gtest/gtest.h>

#include <map>
#include <string>
#include <vector>

#include "tierproof/log/proof.h"
#include "tierproof/text/json.h"

namespace tierproof {
namespace {

Digest digest(std::string_view hex) {
  const auto read = digest_from_hex(hex);
  EXPECT_TRUE(read.has_value()) << hex;
  return read.value_or(Digest{});
}

std::vector<Digest> reference_leaves() {
  std::vector<Digest> out;
  for (const auto& data : {std::string{}, std::string{"\x00", 1}, std::string{"\x10"}, std::string{"\x20\x21"}, std::string{"\x30\x31"},
                           std::string{"\x40\x41\x42\x43"}, std::string{"\x50\x51\x52\x53\x54\x55\x56\x57"},
                           std::string{"\x60\x61\x62\x63\x64\x65\x66\x67\x68\x69\x6a\x6b\x6c\x6d\x6e\x6f"}}) {
    out.push_back(leaf_hash(data));
  }
  return out;
}

const std::vector<std::string> reference_roots{
    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
    "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125", "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
    "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7", "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
    "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef", "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
    "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
};

Head reference_head(std::uint64_t size) { return {size, digest(reference_roots.at(size))}; }

TEST(MerkleReference, RootsOfTheEightLeaves) {
  const auto leaves = reference_leaves();
  Frontier frontier;
  for (std::size_t size = 0; size <= 8; ++size) {
    EXPECT_EQ(to_hex(tree_root(std::span{leaves}.first(size))), reference_roots[size]) << size;
    EXPECT_EQ(frontier.head(), reference_head(size)) << size;
    if (size < 8) frontier.add(leaves[size]);
  }
}

TEST(MerkleReference, LeafAndNodePrefixes) {
  EXPECT_EQ(to_hex(leaf_hash("L123456")), "395aa064aa4c29f7010acfe3f25db9485bbd4b91897b6ad7ad547639252b4d56");
  // "N123" and "N456" are no digests; the node prefix is tried on their bytes: SHA-256(0x01 || "N123" || "N456").
  EXPECT_EQ(to_hex(sha256("\x01N123N456")), "aa217fe888e47007fa15edab33c2b492a722cb106c64667fc2b044444de66bbb");
  // So node_hash, which takes digests, must be that same construction.
  const auto left = leaf_hash("a");
  const auto right = leaf_hash("b");
  std::string bytes = "\x01";
  bytes.append(left.begin(), left.end()).append(right.begin(), right.end());
  EXPECT_EQ(node_hash(left, right), sha256(bytes));
}

struct Inclusion {
  std::uint64_t index;
  std::vector<std::string> proof;
};

TEST(MerkleReference, InclusionProofsInTheTreeOfEight) {
  const auto leaves = reference_leaves();
  for (const Inclusion& row : {Inclusion{0,
                                         {"96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7",
                                          "5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e",
                                          "6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4"}},
                               Inclusion{5,
                                         {"bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b",
                                          "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0",
                                          "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7"}}}) {
    std::vector<Digest> published;
    for (const auto& hex : row.proof) published.push_back(digest(hex));
    EXPECT_EQ(inclusion_proof(leaves, row.index), published) << row.index;
    EXPECT_TRUE(proves_inclusion(reference_head(8), row.index, leaves[row.index], published)) << row.index;
  }
}

struct Consistency {
  std::uint64_t old_size;
  std::uint64_t size;
  std::vector<std::string> proof;
};

TEST(MerkleReference, ConsistencyProofs) {
  const auto leaves = reference_leaves();
  for (const Consistency& row : {Consistency{2,
                                             5,
                                             {"5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e",
                                              "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b"}},
                                 Consistency{6,
                                             8,
                                             {"0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a",
                                              "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0",
                                              "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7"}}}) {
    std::vector<Digest> published;
    for (const auto& hex : row.proof) published.push_back(digest(hex));
    EXPECT_EQ(consistency_proof(std::span{leaves}.first(row.size), row.old_size), published) << row.old_size;
    EXPECT_TRUE(proves_consistency(reference_head(row.old_size), reference_head(row.size), published)) << row.old_size;
  }
}

// The kinds of probe that the same repository refuses (testdata/inclusion, testdata/consistency): a proof for a size of nothing, an
// empty root with an empty leaf hash, swapped roots, a preceding or trailing root, a truncated proof.
TEST(MerkleReference, RefusedProbes) {
  const auto leaves = reference_leaves();
  const auto empty = sha256("");
  EXPECT_FALSE(proves_inclusion({0, empty}, 0, empty, {}));
  EXPECT_FALSE(proves_consistency({0, empty}, reference_head(8), {}));
  EXPECT_FALSE(proves_consistency({0, empty}, {0, empty}, {}));
  const auto proof = consistency_proof(leaves, 6);
  EXPECT_FALSE(proves_consistency({6, reference_head(8).root}, {8, reference_head(6).root}, proof));
  for (const auto& root : {reference_head(6).root, reference_head(8).root}) {
    auto longer = proof;
    longer.push_back(root);
    EXPECT_FALSE(proves_consistency(reference_head(6), reference_head(8), longer));
    longer.pop_back();
    longer.insert(longer.begin(), root);
    EXPECT_FALSE(proves_consistency(reference_head(6), reference_head(8), longer));
  }
  EXPECT_FALSE(proves_consistency(reference_head(6), reference_head(8), std::span{proof}.first(2)));
  for (const std::uint64_t other : {5, 7, 4})
    EXPECT_FALSE(proves_consistency({other, reference_head(6).root}, reference_head(8), proof)) << other;
}

// Roots of the leaves "event 1" to "event 7" (ASCII, no line end) at sizes 1, 3 and 4, worked apart from this code. With the last leaf
// doubled the root of three begins 789bb312, without prefixes 4682d332.
TEST(MerkleWorkedCase, RootsOfSevenEvents) {
  Frontier frontier;
  std::map<std::uint64_t, std::string> roots;
  for (int i = 1; i <= 7; ++i) {
    frontier.add(leaf_hash("event " + std::to_string(i)));
    roots[frontier.head().size] = to_hex(frontier.head().root);
  }
  EXPECT_EQ(roots.at(1), "189a944dd1bd99ed6685a75670d57a64591e901d32714d6f6c58e55d8a9edb46");
  EXPECT_EQ(roots.at(3), "5b9e1580fefaab42798bd0572f5add41a7f314b80717ace1e790110e9eb66560");
  EXPECT_EQ(roots.at(4), "89ac7e19ca41314926adebda32d288fefa1887979c51b98df9cc076b0cb47b6d");
}

// The leaf hash of a body, recomputed apart from this code over the bytes as they stand. They are not in the order of RFC 8785
// section 3.2.3 ("type" sorts before "tz"), so the canonical text of the same value is another leaf.
TEST(MerkleWorkedCase, HashesTheBytesItIsGiven) {
  const std::string body = R"({"at":"2026-03-02T08:10:00Z","by":"u-2","inputs":[{"lot":"L-0001","qty_mg":450000}],"out":{"lot":"B-0012",)"
                           R"("qty_mg":1350000},"seq":17,"tz":"+00:00","type":"make","v":1})";
  EXPECT_EQ(to_hex(leaf_hash(body)), "2cfee98639da302ba6c31bb45ecd39119c7837fad8c5ee5828ff8000ce2bd4f0");
  EXPECT_NE(to_hex(leaf_hash(body + " ")), to_hex(leaf_hash(body)));
}

TEST(MerkleWorkedCase, OneValueIsOneLeafHoweverItWasWritten) {
  const auto one = parse_json(R"({"v": 1, "type": "make", "tz": "+00:00", "out": {"qty_mg": 1350000, "lot": "B-0012"}})", "one");
  const auto other = parse_json(R"({"tz":"+00:00","out":{"lot":"B-0012","qty_mg":1350000},"type":"make","v":1})", "other");
  ASSERT_TRUE(one.has_value());
  ASSERT_TRUE(other.has_value());
  EXPECT_EQ(write_canonical(*one), R"({"out":{"lot":"B-0012","qty_mg":1350000},"type":"make","tz":"+00:00","v":1})");
  EXPECT_EQ(leaf_hash(write_canonical(*one)), leaf_hash(write_canonical(*other)));
}

}  // namespace
}  // namespace tierproof
