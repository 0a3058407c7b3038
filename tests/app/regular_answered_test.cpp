// Regular records that are not as they should be stay open until something answers for them.
#include <gtest/gtest.h>

#include "app/app_for_tests.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/regular.h"

namespace tierproof {
namespace {

class NotAsItShouldBe : public testing::Test {
 public:
  NotAsItShouldBe() {
    add(R"({"id": "tools", "name": "Tools looked over", "fields": [
        {"id": "kit", "words": "Which", "type": "kit"},
        {"id": "whole", "words": "All whole?", "type": "yes or no", "needed": true, "fine": "yes"},
        {"id": "clean", "words": "All clean?", "type": "yes or no", "fine": "yes"}],
      "due": {"every": "working day"}, "source": "choice"})");
    add(R"({"id": "glass", "name": "Glass", "fields": [
        {"id": "whole", "words": "Whole?", "type": "yes or no", "needed": true, "fine": "yes"}],
      "due": {"every": "when it happens"}, "source": "choice"})");
  }
  void add(const std::string& text) {
    kitchen.done([&](Session& s) { return add_sorts(s, {{"sort.json", text}}); });
  }
  std::uint64_t made(const std::string& sort, const std::vector<std::pair<std::string, std::string>>& values, const std::string& at = "") {
    const auto booked = kitchen.done([&](Session& s) { return record_regular(s, {sort, values, {}, "looked at", at}); });
    return booked.sequences.front();
  }
  void trouble(const std::string& about) {
    kitchen.done([&](Session& s) { return tell_went_wrong(s, {{about}, "person", "", "a chip is missing", ""}); });
  }
  DueView view() { return due_on(kitchen.open(true), kitchen.open(true).today()); }
  /// Notes that are open, in order.
  std::vector<std::uint64_t> open() {
    std::vector<std::uint64_t> notes;
    for (const auto& one : records_not_fine(kitchen.open(true))) {
      if (one.answered.empty()) notes.push_back(one.note);
    }
    return notes;
  }
  using Notes = std::vector<std::uint64_t>;
  TestKitchen kitchen;
};

TEST_F(NotAsItShouldBe, StaysInViewOnTheDaysAfterUntilItIsFineAgain) {
  const auto note = made("tools", {{"whole", "no"}});
  EXPECT_TRUE(view().wanting());
  EXPECT_TRUE(view().not_fine.empty()) << "it stands with what is due on its own day";
  EXPECT_EQ(view().due.front().answered, "");
  kitchen.at("2026-06-20T09:00+01:00");
  DueView later = view();
  ASSERT_EQ(later.not_fine.size(), 1u);
  EXPECT_EQ(later.not_fine.front().note, note);
  EXPECT_EQ(later.not_fine.front().wanting, (Strings{"All whole?: no"}));
  EXPECT_TRUE(later.wanting());
  made("tools", {{"whole", "yes"}});
  EXPECT_TRUE(view().not_fine.empty());
  const DueView first = due_on(kitchen.open(true), *parse_date("2026-05-01"));
  EXPECT_EQ(first.due.front().answered.find("note "), 0u) << first.due.front().answered;
}

TEST_F(NotAsItShouldBe, CountsWithNoDayThatIsDueToo) {
  kitchen.at("2026-05-01T12:00+01:00");
  const auto note = made("glass", {{"whole", "no"}});
  ASSERT_EQ(view().not_fine.size(), 1u);
  EXPECT_EQ(view().not_fine.front().note, note);
  EXPECT_TRUE(view().wanting());
  EXPECT_TRUE(due_on(kitchen.open(true), *parse_date("2026-04-30")).not_fine.empty()) << "not known the day before";
  made("glass", {{"whole", "yes"}}, "2026-05-01T08:00");
  EXPECT_EQ(open(), (Notes{note})) << "one typed later of an earlier time says nothing of it";
}

TEST_F(NotAsItShouldBe, IsNotAnsweredByTheSameAgain) {
  const auto first = made("glass", {{"whole", "no"}});
  kitchen.at("2026-05-02T09:00+01:00");
  const auto second = made("glass", {{"whole", "no"}});
  EXPECT_EQ(open(), (Notes{first, second}));
}

TEST_F(NotAsItShouldBe, IsAnsweredOnlyByWhatSaysThatTheSameIsFine) {
  const auto dirty = made("tools", {{"whole", "yes"}, {"clean", "no"}});
  kitchen.at("2026-05-02T09:00+01:00");
  made("tools", {{"whole", "yes"}});
  EXPECT_EQ(open(), (Notes{dirty})) << "nobody said that it is clean";
  made("tools", {{"whole", "no"}, {"clean", "yes"}}, "2026-05-02T08:30");
  EXPECT_EQ(open(), (Notes{dirty})) << "what was not whole then is so at nine; what wants something itself answers for nothing";
  made("tools", {{"whole", "yes"}, {"clean", "yes"}});
  EXPECT_TRUE(open().empty());
}

TEST_F(NotAsItShouldBe, IsAnsweredOfTheSamePieceOfKitAlone) {
  const auto whisk = made("tools", {{"kit", "whisk"}, {"whole", "no"}});
  kitchen.at("2026-05-02T09:00+01:00");
  made("tools", {{"kit", "bowl"}, {"whole", "yes"}});
  made("tools", {{"whole", "yes"}});
  EXPECT_EQ(open(), (Notes{whisk}));
  made("tools", {{"kit", "whisk"}, {"whole", "yes"}});
  EXPECT_TRUE(open().empty());
}

TEST_F(NotAsItShouldBe, IsAnsweredByATroubleThatNamesTheSort) {
  const auto note = made("tools", {{"whole", "no"}});
  kitchen.at("2026-05-02T09:00+01:00");
  trouble("whisk");
  EXPECT_EQ(open(), (Notes{note}));
  trouble("tools");
  EXPECT_TRUE(open().empty());
  EXPECT_EQ(records_not_fine(kitchen.open(true)).front().answered, "trouble-2");
  // Closed, it still answers for what came before, and for nothing that comes after.
  kitchen.at("2026-05-03T09:00+01:00");
  kitchen.done([](Session& s) { return put_right(s, {"trouble-2", "no food touched", "it fell", "a new one bought", ""}); });
  EXPECT_TRUE(open().empty());
  kitchen.at("2026-05-04T09:00+01:00");
  const auto again = made("tools", {{"whole", "no"}});
  EXPECT_EQ(open(), (Notes{again}));
}

TEST_F(NotAsItShouldBe, IsAnsweredByACorrectionOfIt) {
  const auto note = made("tools", {{"whole", "no"}});
  kitchen.done([&](Session& s) { return void_note(s, note, "it was the other drawer"); });
  EXPECT_TRUE(open().empty());
  EXPECT_FALSE(view().wanting());
}

TEST_F(NotAsItShouldBe, IsNotAnsweredByAllFine) {
  made("tools", {{"whole", "no"}});
  kitchen.at("2026-05-02T09:00+01:00");
  Session session = kitchen.open();
  const AllFine told = record_all_fine(session, {}, "").value();
  EXPECT_TRUE(told.booked.sequences.empty());
  ASSERT_EQ(told.left, (Strings{"tools"}));
  EXPECT_NE(told.left_words.front().find("it was not as it should be on 1 May 2026"), std::string::npos) << told.left_words.front();
}

}  // namespace
}  // namespace tierproof
