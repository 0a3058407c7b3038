#include <gtest/gtest.h>

#include "cake_of_pages.h"
#include "tierproof/app/judging.h"

namespace tierproof::web {
namespace {

/// A sponge from a tin in which hazelnuts were, and which was washed and looked clean; the cake of it is cake-2.
class MayContain : public ACake {
 protected:
  void SetUp() override {
    ACake::SetUp();
    done("/cupboard/new", "name=ground+hazelnuts&supplier=the-shop&egg=none");
    std::string says =
        "document=" +
        url_part(
            R"({"ingredient":"ground-hazelnuts","supplier":"the-shop","label_name":"ground hazelnuts","storage":"room","checked":"2026-05-01","checked_against":"the pack"})") +
        "&text=hazelnuts&whole=yes";
    const auto terms = kitchen.packs->label_terms("gb", parse_date("2026-05-01").value());
    for (const auto& allergen : terms->allergens)
      says += "&allergen-" + url_part(allergen.key) + "=" + (allergen.key == "nuts:hazelnut" ? "contains" : "not+said");
    done("/cupboard/says/ground-hazelnuts", says);
    done("/cupboard/in", "ingredient=ground-hazelnuts&supplier=the-shop&code=H1&mass=1000&best-before=2026-12-31");
    done(
        "/bench/new",
        "name=praline&part=filling&of-1=food%3Aground-hazelnuts&mass-1=100&yield=100&egg=none&storage=room&life-days=3&life-reason=decided+"
        "by+the+maker&kit=tin");
    done("/bench/make", "recipe=praline&times=1&yield=100");
    done("/bench/wash", "kit=tin&grade=washed%2C+looked+clean");
    done("/bench/make", "recipe=sponge&times=1&yield=199");
    done("/leaving/new",
         "name=Sponge&for=2026-05-02&boxed=before&sold-by=maker&ordered=face-to-face&boxes=1&face=600&allergy=none&of=the+customer");
    done("/leaving/tier", "cake=cake-2&tier=only&part-batch-3=199");
  }
  bool holds(const std::string& body, const std::string& words) { return body.find(words) != std::string::npos; }
  std::string page() { return kitchen.get("/leaving/may-contain/cake-2").body; }
  /// How the cake stands by its control `precautions`; empty without one.
  std::string precautions() {
    auto session = kitchen.site->borrow();
    const auto judged = judge_cake(*session, CakeId{"cake-2"}, {session->now(), session->offset_at(session->now())});
    kitchen.site->give_back(std::move(session));
    for (const auto& finding : judged->findings) {
      if (finding.control == "precautions") return std::string{words_of(finding.verdict)};
    }
    return "";
  }
  const std::string hazelnut = "&allergen=nuts%3Ahazelnut&about=cake-2&why=the+seam+of+the+tin+cannot+be+looked+into";
  const std::string pin = "&pin=" + std::string{test_pin};
};

TEST_F(MayContain, AStopForUndecidedTracesIsAnsweredFromThePage) {
  EXPECT_EQ(precautions(), words_of(Verdict::not_shown));
  EXPECT_TRUE(holds(page(), "nobody has decided"));
  EXPECT_FALSE(holds(page(), "tierproof precaution"));
  EXPECT_TRUE(holds(kitchen.get("/leaving/cake/cake-2").body, "/leaving/may-contain/cake-2"));
  kitchen.sign_in("ben");  // anybody who works here may have it told
  const auto before = kitchen.notes();
  done("/leaving/may-contain/cake-2", "decision=told" + hazelnut);
  EXPECT_EQ(kitchen.notes(), before + 1);
  EXPECT_EQ(precautions(), words_of(Verdict::shown));
  EXPECT_TRUE(holds(page(), "the seam of the tin"));
}

TEST_F(MayContain, OfACakeThatNothingIsInThePageDoesNotSayThatNothingIsOpen) {
  done("/leaving/new",
       "name=Third&for=2026-05-02&boxed=before&sold-by=maker&ordered=face-to-face&boxes=1&face=600&allergy=none&of=the+customer");
  const auto empty = kitchen.get("/leaving/may-contain/cake-3").body;
  EXPECT_TRUE(holds(empty, "not known well enough")) << empty.substr(empty.find("<main"), 2000);
  EXPECT_FALSE(holds(empty, "nothing of this cake is open here"));
  EXPECT_TRUE(holds(kitchen.get("/leaving/may-contain/cake-1").body, "nothing of this cake is open here"));
}

TEST_F(MayContain, ThatItNeedNotBeToldIsAnOwnersDecisionByThePin) {
  const auto before = kitchen.notes();
  const std::string fields = "form=not-needed&decision=not+needed" + hazelnut;
  EXPECT_EQ(kitchen.post("/leaving/may-contain/cake-2", fields).status, 422);
  EXPECT_EQ(kitchen.post("/leaving/may-contain/cake-2", fields + "&pin=999111").status, 422);
  kitchen.sign_in("ben");
  EXPECT_FALSE(holds(page(), "It need not be told</button>"));
  EXPECT_EQ(kitchen.post("/leaving/may-contain/cake-2", fields + pin).status, 422);
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_EQ(precautions(), words_of(Verdict::not_shown));
  kitchen.sign_in("ada");
  done("/leaving/may-contain/cake-2", fields + pin);
  EXPECT_EQ(precautions(), words_of(Verdict::shown));
}

TEST_F(MayContain, WhatCannotBeDecidedIsRefusedBesideItsField) {
  const auto before = kitchen.notes();
  const auto half = kitchen.post("/leaving/may-contain/cake-2", "form=told&decision=told&amount=150+mg" + hazelnut);
  EXPECT_EQ(half.status, 422);
  EXPECT_TRUE(holds(half.body, "id=\"told-amount-wrong\"")) << half.body.substr(0, 3000);
  EXPECT_FALSE(holds(half.body, "--"));
  EXPECT_TRUE(holds(half.body, "the seam of the tin cannot be looked into")) << "what was typed stays";
  const auto share = kitchen.post("/leaving/may-contain/cake-2", "form=told&decision=told&protein=much" + hazelnut);
  EXPECT_TRUE(holds(share.body, "id=\"told-protein-wrong\""));
  const auto group = kitchen.post("/leaving/may-contain/cake-2", "form=told&decision=told&allergen=nuts&about=cake-2&why=x");
  EXPECT_TRUE(holds(group.body, "id=\"told-allergen-wrong\""));
  const auto nothing = kitchen.post("/leaving/may-contain/cake-2", "form=told&decision=told&allergen=&about=&why=");
  for (const char* field : {"allergen", "about", "why"})
    EXPECT_TRUE(holds(nothing.body, std::string{"id=\"told-"} + field + "-wrong\"")) << field;
  EXPECT_EQ(kitchen.post("/leaving/may-contain/cake-2", "form=told&decision=perhaps" + hazelnut).status, 422);
  EXPECT_EQ(kitchen.notes(), before);
  done("/leaving/may-contain/cake-2", "decision=told&what=ground+hazelnuts&amount=150+mg&protein=14&slice=100" + hazelnut);
  EXPECT_EQ(kitchen.notes(), before + 1);
}

TEST_F(MayContain, AnOfficerReadsWhatWasDecidedAndDecidesNothing) {
  ASSERT_EQ(kitchen.post("/for-officer", "").status, 303);
  EXPECT_TRUE(holds(page(), "nobody has decided"));
  EXPECT_FALSE(holds(page(), "name=\"decision\""));
  EXPECT_EQ(kitchen.post("/leaving/may-contain/cake-2", "decision=told" + hazelnut).status, 403);
}

}  // namespace
}  // namespace tierproof::web
