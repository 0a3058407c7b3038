#include "tierproof/log/tree.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace tierproof {
namespace {

std::vector<Digest> leaves_of(std::size_t count) {
  std::vector<Digest> out;
  for (std::size_t i = 0; i < count; ++i) out.push_back(leaf_hash("entry " + std::to_string(i)));
  return out;
}

TEST(Frontier, HasTheRootOfTheWholeTreeAtEverySize) {
  const auto all = leaves_of(300);
  Frontier frontier;
  EXPECT_EQ(frontier.head(), (Head{0, tree_root({})}));
  for (std::size_t size = 1; size <= all.size(); ++size) {
    frontier.add(all[size - 1]);
    ASSERT_EQ(frontier.head(), (Head{size, tree_root(std::span{all}.first(size))})) << size;
  }
}

TEST(Frontier, GoesOnFromItsPeaks) {
  const auto all = leaves_of(70);
  Frontier whole;
  for (const auto& leaf : all) {
    auto restored = Frontier::restore(whole.head().size, whole.peaks());
    ASSERT_TRUE(restored.has_value());
    restored->add(leaf);
    whole.add(leaf);
    ASSERT_EQ(restored->head(), whole.head());
    ASSERT_EQ(restored->peaks(), whole.peaks());
  }
}

TEST(Frontier, IsNotRestoredFromAWrongNumberOfPeaks) {
  EXPECT_TRUE(Frontier::restore(0, {}).has_value());
  EXPECT_FALSE(Frontier::restore(0, leaves_of(1)).has_value());
  EXPECT_FALSE(Frontier::restore(6, leaves_of(1)).has_value());
  EXPECT_TRUE(Frontier::restore(6, leaves_of(2)).has_value());
  EXPECT_FALSE(Frontier::restore(6, leaves_of(3)).has_value());
}

TEST(HeadText, NamesSizeAndRootAndIsReadBack) {
  const Head head{12, leaf_hash("x")};
  EXPECT_EQ(format_head(head), "12:" + to_hex(head.root));
  EXPECT_EQ(parse_head(format_head(head)), head);
  EXPECT_EQ(parse_head(format_head(Frontier{}.head())), Frontier{}.head());
}

TEST(HeadText, IsRefusedInAnyOtherForm) {
  const auto root = to_hex(leaf_hash("x"));
  for (const std::string& text : std::vector<std::string>{
           "", root, "12", ":" + root, "12:" + root.substr(1), "12:" + root + "0", "-1:" + root, "+1:" + root, " 1:" + root, "1 :" + root,
           "01:" + root, "1:" + root + " ", "1x:" + root, "18446744073709551616:" + root, "9007199254740992:" + root}) {
    EXPECT_FALSE(parse_head(text).has_value()) << text;
  }
}

}  // namespace
}  // namespace tierproof
