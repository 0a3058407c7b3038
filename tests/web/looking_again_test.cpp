#include <gtest/gtest.h>

#include "cake_of_pages.h"
#include "tierproof/app/looking.h"

namespace tierproof::web {
namespace {

class LookingAgain : public ACake {
 protected:
  bool holds(const std::string& body, const std::string& words) { return body.find(words) != std::string::npos; }
  ToLookAt flour() {
    auto session = kitchen.site->borrow();
    const auto all = specifications_to_look_at(*session, session->today());
    kitchen.site->give_back(std::move(session));
    return all.empty() ? ToLookAt{} : all.front();
  }
  std::string path() { return "/cupboard/looked/" + std::to_string(flour().place); }
  std::string form() { return "form=looked-" + std::to_string(flour().place); }
  /// The kitchen as it is on another day.
  void on(const std::string& moment, const std::string& person = "ada") {
    kitchen.begun_at = parse_zoned(moment)->at;
    kitchen.open();
    kitchen.sign_in(person);
  }
};

TEST_F(LookingAgain, WhatIsTooOldIsToldAndALookMakesItNew) {
  EXPECT_TRUE(holds(kitchen.get("/cupboard").body, "To be compared with its pack next: plain flour"));
  on("2028-05-01T10:00:00+01:00", "ben");  // anybody who works here may hold it beside the pack
  ASSERT_TRUE(flour().days_left);
  ASSERT_LT(*flour().days_left, 0);
  EXPECT_TRUE(holds(kitchen.get("/cupboard").body, "1 reading of what packs say is too old"));
  EXPECT_TRUE(holds(kitchen.get("/cupboard/look").body, "too old since"));
  const auto before = kitchen.notes();
  done(path(), "against=the+pack");
  EXPECT_EQ(kitchen.notes(), before + 1);
  EXPECT_EQ(flour().days_old, 0);
  EXPECT_FALSE(holds(kitchen.get("/cupboard").body, "too old"));
  EXPECT_TRUE(holds(kitchen.get("/cupboard/pack/pack-1").body, "Looked at on 1 May 2028"));
}

TEST_F(LookingAgain, ALookThatCannotBeIsRefusedBesideItsField) {
  const auto before = kitchen.notes();
  const auto ahead = kitchen.post(path(), form() + "&against=the+sack&on=2026-05-02");
  EXPECT_EQ(ahead.status, 422);
  EXPECT_TRUE(holds(ahead.body, "-on-wrong\"")) << ahead.body;
  EXPECT_TRUE(holds(ahead.body, "value=\"the sack\"")) << "what was typed stays";
  EXPECT_EQ(kitchen.post(path(), form() + "&against=the+sack&on=2026-04-30").status, 422) << "before it was read";
  EXPECT_TRUE(holds(kitchen.post(path(), form() + "&against=").body, "-against-wrong\""));
  EXPECT_EQ(kitchen.post("/cupboard/looked/1", "against=the+pack").status, 404);
  EXPECT_EQ(kitchen.post("/cupboard/looked/flour", "against=the+pack").status, 404);
  EXPECT_EQ(kitchen.notes(), before);
}

TEST_F(LookingAgain, AnOfficerSeesWhatIsDueAndNoForm) {
  ASSERT_EQ(kitchen.post("/for-officer", "").status, 303);
  EXPECT_TRUE(holds(kitchen.get("/cupboard/look").body, "plain flour"));
  EXPECT_FALSE(holds(kitchen.get("/cupboard/look").body, "Compare it</a>"));
  EXPECT_FALSE(holds(kitchen.get("/cupboard/pack/pack-1").body, "It says the same</button>"));
  EXPECT_EQ(kitchen.get(path()).status, 403);
}

}  // namespace
}  // namespace tierproof::web
