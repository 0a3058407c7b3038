#include <gtest/gtest.h>

#include "cake_of_pages.h"

namespace tierproof::web {
namespace {

class KeepingPages : public ACake {
 protected:
  bool holds(const std::string& body, const std::string& words) { return body.find(words) != std::string::npos; }
  /// What a page has folded away about how something keeps.
  std::string fold(const std::string& path) {
    const std::string page = kitchen.get(path).body;
    const auto at = page.find("id=\"keeps\"");
    return at == std::string::npos ? "" : page.substr(at, page.find("</details>", at) - at);
  }
  const std::string measured =
      "form=tested&on=2026-05-01&method=dew+point&tested-by=a+laboratory&kept=the+red+folder&pin=" + std::string{test_pin};
  const std::string written =
      "form=advised&keep-in=room&on=2026-05-01&written-by=Sampletown+Council&kept=the+red+folder&says=three+days&pin=" +
      std::string{test_pin};
};

TEST_F(KeepingPages, RecipeBatchAndCakeSayHowTheyKeepAndWhatIsNotAnswered) {
  for (const char* path : {"/bench/recipe/sponge", "/bench/batch/batch-1", "/leaving/cake/cake-1"}) {
    EXPECT_TRUE(holds(fold(path), "without a fridge")) << path << fold(path);
    EXPECT_TRUE(holds(fold(path), "Not all of it is answered")) << path;
    EXPECT_TRUE(holds(fold(path), "/bench/tested/")) << path;
  }
}

TEST_F(KeepingPages, WhatWasMeasuredIsBookedForTheRecipeOrTheCake) {
  const auto before = kitchen.notes();
  const auto nothing = kitchen.post("/bench/tested/sponge", measured);
  EXPECT_EQ(nothing.status, 422);
  EXPECT_TRUE(holds(nothing.body, "id=\"tested-water-activity-wrong\""));
  EXPECT_FALSE(holds(nothing.body, "--water")) << "no option of the command line stands on a page";
  EXPECT_TRUE(holds(nothing.body, "value=\"the red folder\"")) << "what was typed stays";
  const auto without_error = kitchen.post("/bench/tested/sponge", measured + "&water-activity=0,80");
  EXPECT_TRUE(holds(without_error.body, "id=\"tested-error-wrong\""));
  const auto impossible = kitchen.post("/bench/tested/sponge", measured + "&water-activity=86&error=0.01");
  EXPECT_TRUE(holds(impossible.body, "id=\"tested-water-activity-wrong\""));
  EXPECT_EQ(kitchen.post("/bench/tested/none", measured + "&water-activity=0.8&error=0.01").status, 404);
  EXPECT_EQ(kitchen.notes(), before);
  done("/bench/tested/sponge", measured + "&water-activity=0,80&error=0.01");
  EXPECT_EQ(kitchen.notes(), before + 1);
  EXPECT_TRUE(holds(fold("/bench/recipe/sponge"), "measured")) << fold("/bench/recipe/sponge");
  EXPECT_TRUE(holds(fold("/bench/recipe/sponge"), "0.8"));
  done("/bench/tested/cake-1", measured + "&ph=4.1&ph-error=0.1");
}

TEST_F(KeepingPages, WhatWasWrittenIsTold) {
  const auto refused = kitchen.post("/bench/advised/sponge", written + "&keep-in=fridge&days=2000000");
  EXPECT_EQ(refused.status, 422);
  EXPECT_TRUE(holds(refused.body, "id=\"advised-days-wrong\"")) << refused.body.substr(0, 3000);
  done("/bench/advised/sponge", written + "&days=3");
  EXPECT_TRUE(holds(fold("/bench/recipe/sponge"), "Sampletown Council")) << fold("/bench/recipe/sponge");
}

TEST_F(KeepingPages, EvidenceIsFiledByAnOwnersPin) {
  const auto without_pin = [](const std::string& form) { return form.substr(0, form.rfind("&pin=")); };
  const auto before = kitchen.notes();
  for (const char* other : {"", "&pin=999111"}) {
    EXPECT_EQ(kitchen.post("/bench/tested/sponge", without_pin(measured) + "&water-activity=0.8&error=0.01" + other).status, 422) << other;
    EXPECT_EQ(kitchen.post("/bench/advised/sponge", without_pin(written) + "&days=3" + other).status, 422) << other;
  }
  EXPECT_EQ(kitchen.notes(), before);
}

TEST_F(KeepingPages, APublishedReferenceIsAdoptedByAnOwnersPin) {
  const std::string form = "form=adopted&row=low-water-activity&why=the+food+authority+was+shown+our+heat+step";
  const std::string pin = "&pin=" + std::string{test_pin};
  EXPECT_TRUE(holds(kitchen.get("/bench/adopted/sponge").body, "3 log of Salmonella"));
  const auto before = kitchen.notes();
  EXPECT_EQ(kitchen.post("/bench/adopted/sponge", form + "&water-activity=0.85&measured=a+laboratory&pin=999111").status, 422);
  const auto unmeasured = kitchen.post("/bench/adopted/sponge", form + pin);
  EXPECT_EQ(unmeasured.status, 422);
  EXPECT_TRUE(holds(unmeasured.body, "id=\"adopted-water-activity-wrong\""));
  EXPECT_FALSE(holds(unmeasured.body, "--measured"));
  const auto no_number = kitchen.post("/bench/adopted/sponge", form + "&water-activity=low&measured=a+laboratory" + pin);
  EXPECT_TRUE(holds(no_number.body, "&quot;low&quot; is not a number")) << no_number.body.substr(0, 3000);
  EXPECT_EQ(kitchen.notes(), before);
  done("/bench/adopted/sponge", form + "&water-activity=0.85&measured=a+laboratory" + pin);
  EXPECT_EQ(kitchen.notes(), before + 1);
  EXPECT_TRUE(holds(fold("/bench/recipe/sponge"), "It counts for batches made since."));
  {  // the recipe is put right under its own note: what was adopted was adopted for another
    Session session{kitchen.site->entrance("ada", "command line"), kitchen.packs, open_sqlite(kitchen.file(), false)};
    const auto& recipe = session.state().recipes.at(RecipeId{"sponge"});
    const auto note =
        std::find_if(session.notes().begin(), session.notes().end(), [&](const Note& one) { return one.sequence == recipe.sequence; });
    ASSERT_NE(note, session.notes().end());
    Json body = note->body;
    body["life_days"] = Json{2};
    ASSERT_TRUE(correct(session, recipe.sequence, {"sponge.json", write_pretty(body)}, "typed wrong"));
  }
  EXPECT_FALSE(holds(fold("/bench/recipe/sponge"), "It counts for batches made since."));
  EXPECT_TRUE(holds(fold("/bench/recipe/sponge"), "It does not count for a batch made now"));
}

TEST_F(KeepingPages, AHelperReadsHowItKeepsAndFilesNoEvidence) {
  kitchen.sign_in("ben");
  EXPECT_TRUE(holds(fold("/bench/recipe/sponge"), "without a fridge"));
  EXPECT_FALSE(holds(fold("/bench/recipe/sponge"), "/bench/tested/"));
  const auto before = kitchen.notes();
  EXPECT_EQ(kitchen.get("/bench/tested/sponge").status, 403);
  EXPECT_EQ(kitchen.post("/bench/tested/sponge", measured + "&water-activity=0.8&error=0.01").status, 403);
  EXPECT_EQ(kitchen.post("/bench/advised/sponge", written).status, 403);
  EXPECT_EQ(kitchen.post("/bench/adopted/sponge", "row=low-water-activity&why=x&pin=" + std::string{test_pin}).status, 403);
  EXPECT_EQ(kitchen.notes(), before);
}

TEST_F(KeepingPages, AnOfficerReadsHowItKeeps) {
  ASSERT_EQ(kitchen.post("/for-officer", "").status, 303);
  EXPECT_TRUE(holds(fold("/leaving/cake/cake-1"), "without a fridge"));
  EXPECT_FALSE(holds(fold("/leaving/cake/cake-1"), "/bench/tested/"));
}

}  // namespace
}  // namespace tierproof::web
