// The bodies of regular records: what is written is read back, and what no record says is refused.
#include "tierproof/kitchen/regular.h"

#include <gtest/gtest.h>

#include "tierproof/kitchen/state.h"

namespace tierproof {
namespace {

RegularSort a_sort() {
  RegularSort sort;
  sort.name = "Pests";
  sort.what = "traps";
  sort.fields = {{"seen", "Any sign?", "yes or no", "", {}, true, true, "no"}, {"n", "How many", "number", "pieces"}};
  sort.due = {"week", {}, "monday", {}, {}, "working day before", 2};
  sort.counts = {"probe-check/1"};
  sort.each = "thermometer";
  sort.from = *parse_date("2026-05-01");
  sort.until = parse_date("2027-05-01");
  sort.part_of_day = "end of work";
  return sort;
}

std::string refused(const std::string& kind, const Json& body) {
  std::string all;
  for (const auto& refusal : check_body(kind, body, "a note")) all += describe(refusal) + "\n";
  return all;
}

TEST(RegularBodies, AreReadBackAsTheyWereWritten) {
  const Json sort = body_of(a_sort());
  EXPECT_EQ(body_of(read_body<RegularSort>(sort, "a note").value()), sort);
  const RegularDone done{
      RegularSortId{"pests"}, parse_date("2026-05-04"), {{"seen", "", {"w-1", "aa", {}}}, {"n", "3", {}}}, {"w-2", "bb", {}}};
  EXPECT_EQ(body_of(read_body<RegularDone>(body_of(done), "a note").value()), body_of(done));
  const DayOff off{*parse_date("2026-05-04"), {}, true, {"monday", "sunday"}};
  EXPECT_EQ(body_of(read_body<DayOff>(body_of(off), "a note").value()), body_of(off));
  Missed missed{"pests", *parse_date("2026-05-04"), "nobody said", {}, "regular record"};
  EXPECT_EQ(body_of(read_body<Missed>(body_of(missed), "a note").value()), body_of(missed));
}

TEST(RegularBodies, KeepSealedAnswersOutOfTheEntry) {
  RegularDone done{RegularSortId{"fit"}, {}, {{"fit", "", {"w-1", "aa", "yes"}}}};
  EXPECT_EQ(write_canonical(body_of(done)).find("yes"), std::string::npos);
}

TEST(RegularBodies, WithWordsThatAreNoneAreRefused) {
  Json sort = body_of(a_sort());
  sort["due"]["every"] = Json{"fortnight"};
  EXPECT_NE(refused("regular/1", sort).find("due.every"), std::string::npos);
  sort = body_of(a_sort());
  sort["each"] = Json{"spoon"};
  EXPECT_NE(refused("regular/1", sort).find("each"), std::string::npos);
  sort = body_of(a_sort());
  sort["part_of_day"] = Json{"noon"};
  EXPECT_NE(refused("regular/1", sort).find("part_of_day"), std::string::npos);
  EXPECT_NE(refused("day-off/1", Json{Json::Object{{"weekly", Json{false}}}}).find("from"), std::string::npos);
  EXPECT_NE(refused("regular-done/1", Json{Json::Object{}}).find("sort"), std::string::npos);
}

TEST(RegularState, HasEachVersionAndTheNewestByItsName) {
  std::vector<Note> notes(3);
  for (std::size_t i = 0; i < notes.size(); ++i) {
    notes[i].sequence = notes[i].place = i + 1;
    notes[i].kind = "regular/1";
    notes[i].subject = "pests";
    RegularSort sort = a_sort();
    sort.name = "Pests " + std::to_string(i);
    notes[i].body = body_of(sort);
  }
  notes[2].body = nullptr;  // taken back
  notes[2].supersedes = 2;
  const auto state = fold(notes, 3, {});
  ASSERT_TRUE(state.has_value());
  EXPECT_EQ(state->regular_sort_versions.size(), 2u);
  EXPECT_EQ(state->regular_sorts.at(RegularSortId{"pests"}).value.name, "Pests 1");
  EXPECT_FALSE(state->voided.contains("pests")) << "an older version stands";
  EXPECT_TRUE(is_kind("day-off/1"));
  EXPECT_FALSE(is_kind("day-off/2"));
}

}  // namespace
}  // namespace tierproof
