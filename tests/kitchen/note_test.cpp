#include "tierproof/kitchen/note.h"

#include <gtest/gtest.h>

#include <vector>

namespace tierproof {
namespace {

Note note(std::uint64_t sequence, Json body, std::optional<std::uint64_t> supersedes = std::nullopt) {
  Note out;
  out.sequence = sequence;
  out.kind = "batch/1";
  out.subject = "batch-1";
  out.body = std::move(body);
  out.supersedes = supersedes;
  return out;
}

std::vector<std::uint64_t> sequences(const std::vector<Note>& notes) {
  std::vector<std::uint64_t> out;
  for (const auto& one : notes) out.push_back(one.sequence);
  return out;
}

std::vector<Note> first(const std::vector<Note>& notes, std::size_t count) { return in_force(std::span{notes}.first(count)); }

TEST(NotesInForce, AreTheNotesThemselvesWhileNothingIsCorrected) {
  const std::vector<Note> notes{note(1, "a"), note(2, "b")};
  const auto tips = in_force(notes);
  ASSERT_EQ(tips.size(), 2u);
  EXPECT_EQ(tips[0].body, Json{"a"});
  EXPECT_EQ(tips[0].place, 1u);
  EXPECT_TRUE(tips[0].replaced.empty());
  EXPECT_EQ(tips[1].place, 2u);
  EXPECT_TRUE(in_force({}).empty());
}

TEST(NotesInForce, PutACorrectionInThePlaceOfWhatItCorrects) {
  const std::vector<Note> notes{note(1, "lot A"), note(2, "b"), note(3, "lot C", 1)};
  const auto tips = in_force(notes);
  EXPECT_EQ(sequences(tips), (std::vector<std::uint64_t>{3, 2}));
  EXPECT_EQ(tips[0].place, 1u);
  EXPECT_EQ(tips[0].body, Json{"lot C"});
  EXPECT_EQ(tips[0].replaced, (std::vector<std::uint64_t>{1}));
}

TEST(NotesInForce, FollowACorrectionOfACorrection) {
  const std::vector<Note> notes{note(1, "a"), note(2, "x"), note(3, "b", 1), note(4, "c", 3)};
  const auto tips = in_force(notes);
  EXPECT_EQ(sequences(tips), (std::vector<std::uint64_t>{4, 2}));
  EXPECT_EQ(tips[0].replaced, (std::vector<std::uint64_t>{1, 3}));
}

TEST(NotesInForce, KeepAVoidWithoutABodySoThatDependantsCanTell) {
  const std::vector<Note> notes{note(30, "sale"), note(31, "sale"), note(33, Json{}, 31)};
  const auto tips = in_force(notes);
  EXPECT_EQ(sequences(tips), (std::vector<std::uint64_t>{30, 33}));
  EXPECT_TRUE(tips[1].body.is_null());
  EXPECT_EQ(tips[1].place, 31u);
}

TEST(NotesInForce, SayWhatTheRecordsSaidThenWhenTheLogIsCutThere) {
  const std::vector<Note> notes{note(1, "lot A"), note(2, "x"), note(3, "lot C", 1), note(4, Json{}, 3)};
  EXPECT_EQ(first(notes, 2)[0].body, Json{"lot A"});
  EXPECT_EQ(first(notes, 3)[0].body, Json{"lot C"});
  EXPECT_TRUE(first(notes, 4)[0].body.is_null());
}

TEST(NotesInForce, GiveACorrectionOfSomethingUnknownItsOwnPlace) {
  const std::vector<Note> notes{note(1, "a"), note(2, "b", 9)};
  const auto tips = in_force(notes);
  EXPECT_EQ(tips[1].place, 2u);
}

TEST(TipOf, FindsTheChainByItsFirstAMiddleOrItsLastNote) {
  const std::vector<Note> notes{note(1, "a"), note(2, "x"), note(3, "b", 1), note(4, "c", 3)};
  const auto tips = in_force(notes);
  for (const std::uint64_t sequence : {1, 3, 4}) {
    const auto* tip = tip_of(tips, sequence);
    ASSERT_NE(tip, nullptr) << sequence;
    EXPECT_EQ(tip->sequence, 4u) << sequence;
  }
  EXPECT_EQ(tip_of(tips, 2)->sequence, 2u);
  EXPECT_EQ(tip_of(tips, 5), nullptr);
  EXPECT_EQ(tip_of(tips, 0), nullptr);
}

}  // namespace
}  // namespace tierproof
