#include "tierproof/kitchen/evidence.h"

#include <gtest/gtest.h>

#include "tierproof/kitchen/bodies.h"
#include "tierproof/kitchen/state.h"

namespace tierproof {
namespace {

Evidence a_picture() { return {"cake-1", "allergy/1", 7, {"w-1", "aa", {}}, std::string(64, 'a'), 12'345, "image/jpeg"}; }

std::string refusal_of(const Json& body) {
  std::string all;
  for (const auto& refusal : check_body("evidence/1", body, "a note")) all += describe(refusal) + "\n";
  return all;
}

TEST(EvidenceBody, IsReadBackAsItWasWritten) {
  Json body = body_of(a_picture());
  EXPECT_EQ(body_of(read_body<Evidence>(body, "a note").value()), body);
  EXPECT_EQ(write_canonical(body), R"({"about":"cake-1","file_bytes":12345,"file_sha256":")" + std::string(64, 'a') +
                                       R"(","kind":"allergy/1","media_type":"image/jpeg","note":7,"shows":{"hmac":"aa","sealed":"w-1"}})");
  Evidence of_a_thing = a_picture();
  of_a_thing.note = {};
  body = body_of(of_a_thing);
  EXPECT_EQ(body.find("note"), nullptr);
  EXPECT_EQ(body_of(read_body<Evidence>(body, "a note").value()), body);
}

/// Bytes that an entry names as `sha256` are those that the database keeps.
TEST(EvidenceBody, NamesNoBytesOfTheDatabase) { EXPECT_EQ(body_of(a_picture()).find("sha256"), nullptr); }

TEST(EvidenceBody, KeepsWhatItShowsOutOfTheEntry) {
  Evidence picture = a_picture();
  picture.shows.text = "the birthday table";
  EXPECT_EQ(write_canonical(body_of(picture)).find("birthday"), std::string::npos);
}

TEST(EvidenceBody, RefusesWhatIsMissingEmptyOrOfAnotherType) {
  EXPECT_EQ(refusal_of(body_of(a_picture())), "");
  Json body = body_of(a_picture());
  body["media_type"] = Json{"text/plain"};
  body["file_bytes"] = Json{0};
  body["about"] = Json{""};
  body["name"] = Json{"cake of Zoë.jpg"};
  const auto all = refusal_of(body);
  for (const char* field : {"media_type", "file_bytes", "about", "name"}) EXPECT_NE(all.find(field), std::string::npos) << all;
  EXPECT_NE(refusal_of(Json{Json::Object{}}).find("file_sha256"), std::string::npos);
}

TEST(EvidenceInTheState, IsAnEventAndNoThing) {
  std::vector<Note> notes(2);
  for (std::size_t i = 0; i < notes.size(); ++i) {
    notes[i].sequence = notes[i].place = i + 1;
    notes[i].kind = "evidence/1";
    notes[i].subject = "cake-1";
  }
  notes[0].body = body_of(a_picture());
  const auto state = fold(notes, notes.size(), {});
  ASSERT_TRUE(state.has_value());
  ASSERT_EQ(state->evidence.size(), 1u) << "the second was taken back";
  EXPECT_EQ(state->evidence.front().value.file_bytes, 12'345);
  EXPECT_FALSE(state->voided.contains("cake-1")) << "the cake is as it was";
}

}  // namespace
}  // namespace tierproof
