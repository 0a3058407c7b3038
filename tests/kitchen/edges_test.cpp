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

Note poured(std::uint64_t sequence, const std::string& pack, int minute) {
  Note note = stated("top-up/1", "tub-1", R"({"tub": "tub-1", "lot": ")" + pack + R"("})");
  note.sequence = note.place = sequence;
  note.happened = Instant{std::chrono::minutes{minute}};
  return note;
}

TEST(GraphEdges, OfATubOfSeveralPacksArePossible) {
  Note batch =
      stated("batch/1", "batch-4", R"({"uses": [{"of": "pack-1", "batch": false, "tub": "tub-1"}, {"of": "pack-3", "batch": false}]})");
  batch.happened = Instant{std::chrono::minutes{10}};
  const auto edges = [&](const std::vector<Note>& notes) { return graph_edges_of(batch, nullptr, Tubs{notes}); };
  EXPECT_EQ(edges({poured(1, "pack-1", 1)}), (std::vector<Edge>{{"pack-1", "batch-4", 7, true}, {"pack-3", "batch-4", 7, true}}));
  EXPECT_EQ(edges({poured(1, "pack-1", 1), poured(2, "pack-2", 2), poured(3, "pack-9", 11)}),
            (std::vector<Edge>{{"pack-1", "batch-4", 7, false}, {"pack-2", "batch-4", 7, false}, {"pack-3", "batch-4", 7, true}}));
  // A pack that was weighed out of its own bag and poured into a tub too: what else is in that tub may be in it.
  EXPECT_EQ(edges({poured(1, "pack-1", 1), poured(2, "pack-3", 2)}),
            (std::vector<Edge>{{"pack-1", "batch-4", 7, false}, {"pack-3", "batch-4", 7, true}}));
}

TEST(GraphEdges, OfAPackInTwoTubsTellWhatIsInEither) {
  Note batch = stated("batch/1", "batch-4", R"({"uses": [{"of": "pack-1", "batch": false}]})");
  batch.happened = Instant{std::chrono::minutes{10}};
  auto into_b = poured(3, "pack-1", 3);
  into_b.body = parse_json(R"({"tub": "tub-2", "lot": "pack-1"})", "body").value();
  Note emptied = stated("emptied/1", "tub-2", R"({"tub": "tub-2"})");
  emptied.sequence = emptied.place = 4;
  emptied.happened = Instant{std::chrono::minutes{4}};
  const std::vector<Edge> both{{"pack-1", "batch-4", 7, true}, {"pack-2", "batch-4", 7, false}};
  EXPECT_EQ(graph_edges_of(batch, nullptr, Tubs{std::vector<Note>{poured(1, "pack-2", 1), poured(2, "pack-1", 2), into_b}}), both);
  // Written down last, and emptied since: it still lies in the first.
  EXPECT_EQ(graph_edges_of(batch, nullptr, Tubs{std::vector<Note>{poured(1, "pack-2", 1), poured(2, "pack-1", 2), into_b, emptied}}), both);
}

TEST(GraphEdges, OfAVoidHoldWhatItsTubHeldToo) {
  Note gone = stated("batch/1", "batch-4", "null");
  gone.sequence = 9;
  gone.happened = Instant{std::chrono::minutes{60}};
  Note said = stated("batch/1", "batch-4", R"({"uses": [{"of": "pack-2", "batch": false, "tub": "tub-1"}]})");
  said.happened = Instant{std::chrono::minutes{10}};
  const std::vector<Note> notes{poured(1, "pack-1", 1), poured(2, "pack-2", 2), poured(3, "pack-3", 30)};
  EXPECT_EQ(graph_edges_of(gone, &said, Tubs{notes}),
            (std::vector<Edge>{{"pack-1", "batch-4", 9, false}, {"pack-2", "batch-4", 9, false}}));
}

TEST(GraphEdges, OfAVoidAreWhatItLastSaidAndPossible) {
  Note gone = stated("batch/1", "batch-4", "null");
  gone.sequence = 9;
  const Note said = stated("batch/1", "batch-4", R"({"uses": [{"of": "pack-3"}]})");
  EXPECT_EQ(graph_edges_of(gone, &said, Tubs{}), (std::vector<Edge>{{"pack-3", "batch-4", 9, false}}));
  EXPECT_TRUE(graph_edges_of(gone, nullptr, Tubs{}).empty());
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
