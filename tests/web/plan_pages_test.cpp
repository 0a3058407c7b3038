#include <gtest/gtest.h>

#include "cake_of_pages.h"
#include "tierproof/app/planning.h"

namespace tierproof::web {
namespace {

class PlanPages : public Pages {
 protected:
  void SetUp() override { kitchen.sign_in("ada"); }
  bool holds(const std::string& body, const std::string& words) { return body.find(words) != std::string::npos; }
  std::string plan() { return kitchen.get("/drawer/plan").body; }
  void take() { ASSERT_EQ(kitchen.post("/drawer/plan/take", "form=plan-take&pin=" + std::string{test_pin}).status, 303); }
  PlanReviewDue due() {
    auto session = kitchen.site->borrow();
    auto told = plan_review_due(*session);
    kitchen.site->give_back(std::move(session));
    return told;
  }
  const std::string pin = "&pin=" + std::string{test_pin};
};

TEST_F(PlanPages, TheStartingPlanIsTakenOverByThePinAndOnce) {
  EXPECT_TRUE(holds(plan(), "Take it over as our own"));
  const auto before = kitchen.notes();
  EXPECT_EQ(kitchen.post("/drawer/plan/take", "form=plan-take&pin=999111").status, 422);
  EXPECT_EQ(kitchen.notes(), before);
  take();
  EXPECT_EQ(kitchen.notes(), before + 1);
  EXPECT_FALSE(holds(plan(), "Take it over as our own"));
  EXPECT_TRUE(holds(plan(), "taken over on 1 May 2026 by ada"));
  EXPECT_TRUE(due().taken);
  // A plan of the kitchen's own is never put back to the starting one by the same form.
  const auto again = kitchen.post("/drawer/plan/take", "form=plan-take" + pin);
  EXPECT_EQ(again.status, 422);
  EXPECT_TRUE(holds(again.body, "has a plan of its own")) << again.body.substr(0, 3000);
  EXPECT_EQ(kitchen.notes(), before + 1);
}

TEST_F(PlanPages, AReviewIsSignedByWhoeverLookedWithTheirOwnNameAndPin) {
  const std::string good = "form=plan-review&changed=nothing&signed=Ada+Example";
  EXPECT_EQ(kitchen.post("/drawer/plan/review", good + shown_on(plan()) + pin).status, 422) << "there is no plan to review yet";
  take();
  ASSERT_EQ(kitchen.post("/bench/kit", "name=tin").status, 303);
  EXPECT_FALSE(due().since.empty());
  EXPECT_TRUE(holds(plan(), "It has to be reviewed."));
  const std::string seen_before = shown_on(plan());
  ASSERT_EQ(kitchen.post("/bench/kit", "name=whisk").status, 303);
  const auto unseen = kitchen.post("/drawer/plan/review", good + seen_before + pin);
  EXPECT_EQ(unseen.status, 422) << "something changed that was not on the page which is signed";
  EXPECT_TRUE(holds(unseen.body, "not how it is now"));
  const std::string shown = shown_on(plan());
  EXPECT_NE(shown, seen_before);
  const auto before = kitchen.notes();
  EXPECT_EQ(kitchen.post("/drawer/plan/review", good + shown + "&pin=999111").status, 422);
  const auto other = kitchen.post("/drawer/plan/review", "form=plan-review&changed=nothing&signed=Ben+Sample" + shown + pin);
  EXPECT_EQ(other.status, 422);
  EXPECT_TRUE(holds(other.body, "id=\"plan-review-signed-wrong\""));
  EXPECT_TRUE(holds(other.body, "value=\"Ben Sample\"")) << "what was typed stays";
  EXPECT_FALSE(holds(other.body, "--by"));
  const auto untold = kitchen.post("/drawer/plan/review", "form=plan-review&changed=something&signed=Ada+Example" + shown + pin);
  EXPECT_TRUE(holds(untold.body, "id=\"plan-review-what-wrong\""));
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_EQ(
      kitchen.post("/drawer/plan/review", "form=plan-review&changed=something&what=a+new+tin&signed=Ada+Example" + shown + pin).status,
      303);
  EXPECT_EQ(kitchen.notes(), before + 1);
  EXPECT_TRUE(due().since.empty());
  EXPECT_TRUE(holds(plan(), "reviewed on 1 May 2026 by ada"));
  EXPECT_FALSE(holds(plan(), "It has to be reviewed."));
}

TEST_F(PlanPages, WhatAnOfficerSaidStandsAtItsRowWithoutTheirName) {
  const std::string row = kitchen.packs->starting_plan().rows.front().id;
  const auto ahead = kitchen.post(
      "/drawer/plan/said", "form=officer-said&who=Olive+Sample&from=Sampletown+Council&on=2026-05-02&topic=cold&about=" + url_part(row) +
                               "&words=write+it+down+daily");
  EXPECT_EQ(ahead.status, 422);
  EXPECT_TRUE(holds(ahead.body, "id=\"officer-said-on-wrong\""));
  EXPECT_TRUE(holds(ahead.body, "value=\"Olive Sample\""));
  kitchen.sign_in("ben");  // anybody who works here writes down what they were told
  ASSERT_EQ(kitchen
                .post("/drawer/plan/said",
                      "who=Olive+Sample&from=Sampletown+Council&topic=cold&about=" + url_part(row) + "&words=write+it+down+daily")
                .status,
            303);
  const std::string page = plan();
  const auto at = page.find("id=\"row-" + row + "\"");
  ASSERT_NE(at, std::string::npos);
  const std::string card = page.substr(at, page.find("</article>", at) - at);
  EXPECT_TRUE(holds(card, "write it down daily")) << card;
  EXPECT_TRUE(holds(card, "1 May 2026, Sampletown Council"));
  EXPECT_FALSE(holds(page, "Olive"));
}

TEST_F(PlanPages, AHelperAndAnOfficerReadThePlanAndSignNothing) {
  kitchen.sign_in("ben");
  EXPECT_FALSE(holds(plan(), "Take it over as our own"));
  EXPECT_EQ(kitchen.post("/drawer/plan/take", "form=plan-take" + pin).status, 403);
  kitchen.sign_in("ada");
  take();
  kitchen.sign_in("ben");
  EXPECT_FALSE(holds(plan(), "Sign the review"));
  EXPECT_EQ(kitchen.post("/drawer/plan/review", "changed=nothing&signed=Ben+Sample" + pin).status, 403);
  kitchen.sign_in("ada");
  ASSERT_EQ(kitchen.post("/for-officer", "").status, 303);
  EXPECT_FALSE(holds(plan(), "<form method=\"post\" action=\"/drawer"));
}

class PlanOfACake : public ACake {};

TEST_F(PlanOfACake, ThePageSaysWhichRecipesMeetWhichRows) {
  const std::string page = kitchen.get("/drawer/plan").body;
  const auto session = kitchen.site->borrow();
  const auto recipes = recipes_in(*session, plan_of(*session, plan_now(*session)));
  ASSERT_EQ(recipes.size(), 1u);
  ASSERT_FALSE(recipes.front().rows.empty());
  for (const auto& row : recipes.front().rows) {
    const auto at = page.find("id=\"row-" + row + "\"");
    ASSERT_NE(at, std::string::npos) << row;
    EXPECT_LT(page.find("<dd>sponge</dd>", at), page.find("</article>", at)) << row;
  }
}

}  // namespace
}  // namespace tierproof::web
