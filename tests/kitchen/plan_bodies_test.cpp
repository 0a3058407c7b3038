#include <gtest/gtest.h>

#include "tierproof/kitchen/bodies.h"
#include "tierproof/kitchen/plan.h"

namespace tierproof {
namespace {

HazardPlan a_plan() {
  PlanRow row;
  row.id = "cold-hold";
  row.order = 8;
  row.step = "keeping cold";
  row.sorts = {"biological"};
  row.hazard = "germs grow";
  row.likelihood = "now and then";
  row.severity = "can kill";
  row.significance = "a small fridge";
  row.point = "ccp";
  row.point_because = "nothing later undoes it";
  row.control = "kept cold";
  row.words = "Cold keeping";
  row.limit = "5 °C";
  row.checked = "read";
  row.how_often = "each day";
  row.when_missed = "throw away";
  row.who = "whoever works";
  row.records = {"temperature"};
  row.met_by = {"kept cold"};
  row.limits = {{"chilled food at or below", Degrees{500, Scale::celsius}, {}, {}}, {"out of the fridge less than", {}, 60, {}}};
  row.not_met = "never";
  row.not_shown = "with a reason";
  row.source = "law";
  row.clause = "s. 1";
  row.note = "a note";
  PlanRow own = row;
  own.id = "glass";
  own.not_met = own.not_shown = own.note = "";
  own.limits.clear();
  own.met_by.clear();
  return {"A plan",  "about",     "cakes", "everybody",
          "as done", "tried out", 12,      {{"law", "The Law", "Office", "1", "", {}, *parse_date("2027-01-01")}},
          {row, own}};
}

TEST(PlanBodies, AVersionIsReadBackAsItWasWritten) {
  const HazardPlan plan = a_plan();
  const auto again = read_body<HazardPlan>(body_of(plan), "a note");
  ASSERT_TRUE(again.has_value()) << describe(again.error().front());
  EXPECT_TRUE(*again == plan);
  EXPECT_EQ(KindOf<HazardPlan>::kind, "plan/1");
}

TEST(PlanBodies, RefuseWhatIsNoMemberAndWhatIsNoChoice) {
  Json body = body_of(a_plan());
  body["rows"].array()[0]["point"] = Json{"oprp"};
  body["rows"].array()[1]["colour"] = Json{"red"};
  const auto refused = read_body<HazardPlan>(body, "note 7 (plan/1)");
  ASSERT_FALSE(refused.has_value());
  ASSERT_EQ(refused.error().size(), 2u);
  EXPECT_EQ(refused.error()[0].field, "rows[0].point");
  EXPECT_EQ(refused.error()[1].field, "rows[1].colour");
  EXPECT_EQ(refused.error()[0].file, "note 7 (plan/1)");
}

TEST(PlanBodies, AReviewIsReadBackAndItsWordsAreSealed) {
  const Words what{"w-2", std::string(64, 'b'), "a second fridge"};
  const PlanReviewed review{7, "something", what, {"w-1", std::string(64, 'a'), std::nullopt}};
  const Json body = body_of(review);
  EXPECT_NE(body.find("what")->find("sealed"), nullptr);
  EXPECT_EQ(write_canonical(body).find("fridge"), std::string::npos);
  EXPECT_NE(body.find("signed")->find("sealed"), nullptr);
  const auto again = read_body<PlanReviewed>(body, "a note");
  ASSERT_TRUE(again.has_value());
  EXPECT_EQ(write_canonical(body_of(*again)), write_canonical(body));
  Json other = body;
  other["changed"] = Json{"perhaps"};
  EXPECT_FALSE(read_body<PlanReviewed>(other, "a note").has_value());
}

}  // namespace
}  // namespace tierproof
