#include "tierproof/kitchen/edges.h"

#include <gtest/gtest.h>

namespace tierproof {
namespace {

Note stated(std::string kind, std::string subject, std::string_view body) {
  Note note;
  note.sequence = 7;
  note.kind = std::move(kind);
  note.subject = std::move(subject);
  note.body = parse_json(body, "body").value();
  return note;
}

TEST(Edges, LeadFromWhatABatchUsedToTheBatch) {
  const auto note = stated("batch/1", "batch-4", R"({"uses": [{"of": "pack-3"}, {"of": "batch-2"}, {"of": "pack-3"}]})");
  EXPECT_EQ(edges_of(note), (std::vector<Edge>{{"batch-2", "batch-4", 7}, {"pack-3", "batch-4", 7}}));
}

TEST(Edges, LeadFromTheBatchesOfATierToTheCake) {
  const auto note = stated("tier/1", "cake-1", R"({"cake": "cake-1", "parts": [{"batch": "batch-4"}, {"batch": "batch-5"}]})");
  EXPECT_EQ(edges_of(note), (std::vector<Edge>{{"batch-4", "cake-1", 7}, {"batch-5", "cake-1", 7}}));
}

TEST(Edges, AreNoneForOtherNotesAndForVoids) {
  EXPECT_TRUE(edges_of(stated("lot/1", "pack-3", R"({"uses": [{"of": "pack-1"}]})")).empty());
  EXPECT_TRUE(edges_of(stated("batch/1", "batch-4", "null")).empty());
}

TEST(Edges, PassOverWhatIsNotOfTheExpectedShape) {
  EXPECT_TRUE(edges_of(stated("batch/1", "batch-4", R"({"uses": "pack-3"})")).empty());
  EXPECT_TRUE(edges_of(stated("batch/1", "batch-4", R"({"uses": [1, {"of": 2}]})")).empty());
  EXPECT_TRUE(edges_of(stated("tier/1", "cake-1", R"({"parts": [{"batch": "batch-4"}]})")).empty());
}

}  // namespace
}  // namespace tierproof
