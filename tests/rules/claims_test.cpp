#include <rapidcheck/gtest.h>

#include "reference_files.h"

namespace tierproof {
namespace {

const std::vector<ClaimWord>& claims() {
  static const auto packs = shipped_packs();
  return packs.claim_words();
}

std::string claim_of(std::string_view text) {
  const auto* claim = claim_in(text, claims());
  return claim != nullptr ? claim->pattern : "";
}

TEST(Claims, AreFoundWhateverTheCaseAndTheHyphen) {
  EXPECT_EQ(claim_of("gluten-free sponge"), "gluten free");
  EXPECT_EQ(claim_of("Nut Free"), "nut free");
  EXPECT_EQ(claim_of("NUT   FREE cupcakes"), "nut free");
  EXPECT_EQ(claim_of("nut\u2011free"), "nut free") << "a hyphen that does not break";
  EXPECT_EQ(claim_of("nut\u2013free"), "nut free") << "a dash";
  EXPECT_EQ(claim_of("nut\u00a0free"), "nut free") << "a space that does not break";
  EXPECT_EQ(claim_of("nut_free"), "nut free");
  EXPECT_EQ(claim_of("nut\nfree"), "nut free");
  EXPECT_EQ(claim_of("glu\u00adten free"), "gluten free") << "a soft hyphen inside";
  EXPECT_EQ(claim_of("\uff56\uff45\uff47\uff41\uff4e"), "vegan") << "full-width letters";
  EXPECT_EQ(claim_of("v\u00e9gan"), "vegan") << "an accent";
  EXPECT_EQ(claim_of("glutenfree"), "glutenfree");
}

TEST(NutritionClaims, AreKeptApartSinceAPackMayHaveSuchAName) {
  static const auto packs = shipped_packs();
  for (const char* text : {"Low fat sponge", "high-fibre carrot cake", "Source of protein cake", "rich in vitamin C", "a healthy treat"}) {
    EXPECT_NE(claim_in(text, packs.nutrition_words()), nullptr) << text;
    EXPECT_EQ(claim_of(text), "") << text;
  }
  for (const char* text : {"fat-reduced cocoa powder", "high ratio sponge", "low tea cake"})
    EXPECT_EQ(claim_in(text, packs.nutrition_words()), nullptr) << text;
}

TEST(Claims, AreRefusedInEveryFormThatAPersonWithAnAllergyLeansOn) {
  for (const char* text : {"free from nuts", "Free of milk",     "vegan chocolate cake",  "Vegan",
                           "dairy-free",     "egg free",         "contains no nuts",      "without eggs",
                           "nut safe",       "safe for school",  "allergy friendly",      "allergen-friendly",
                           "hypoallergenic", "hypo-allergenic",  "suitable for coeliacs", "plant-based",
                           "eggless",        "tree nut free",    "Brazil nut free",       "non-dairy",
                           "GF brownie",     "100% peanut-free", "(soya free)",           "gluten/dairy free",
                           "no added nuts",  "sin gluten"}) {
    EXPECT_NE(claim_of(text), "") << text;
  }
}

TEST(Claims, AreNotFoundInOrdinaryNames) {
  for (const char* text : {"free range eggs",
                           "free-range egg white",
                           "freesia",
                           "sugar freesias",
                           "Egg, free range",
                           "eggs free range",
                           "walnuts, free range eggs",
                           "whole eggs free-range",
                           "table salt free flowing",
                           "feel free",
                           "delivery free",
                           "nutmeg",
                           "chestnut puree",
                           "doughnut sugar",
                           "milk chocolate",
                           "peanut butter",
                           "safety pin",
                           "unsafe",
                           "vegetable oil",
                           "Ivegan",
                           "almond shells",
                           "coconut cream",
                           "gfx",
                           "gluten",
                           "free",
                           "",
                           "   ",
                           "cake for Dafydd",
                           "no cinnamon",
                           "buttercream, no piping",
                           "walnuts; free delivery",
                           "Contains eggs. Free box",
                           "dairy, (free parking)"}) {
    EXPECT_EQ(claim_of(text), "") << text;
  }
}

TEST(Claims, ComeWithTheReasonInPlainWords) {
  ASSERT_FALSE(claims().empty());
  for (const auto& claim : claims()) {
    EXPECT_GT(claim.why.size(), 20u) << claim.pattern;
    EXPECT_EQ(claim_in(claim.pattern, claims()) != nullptr, true) << claim.pattern;
    EXPECT_EQ(claim.pattern.find("{}"), std::string::npos) << claim.pattern;
  }
}

TEST(Claims, DoNotStumbleOverBytesThatAreNotText) {
  const std::vector<ClaimWord> words{{"nut free", "why"}};
  EXPECT_EQ(claim_in("\xff\xfe nut", words), nullptr);
  EXPECT_NE(claim_in("\xff nut free", words), nullptr);
}

RC_GTEST_PROP(Claims, AreFoundInTheMidstOfOtherWords, ()) {
  const auto words = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>("cake", "with", "roses", "lemon", "two"));
  const auto at = *rc::gen::inRange<std::size_t>(0, words.size() + 1);
  const auto& claim = claims()[*rc::gen::inRange<std::size_t>(0, claims().size())];
  std::string text;
  for (std::size_t i = 0; i <= words.size(); ++i) {
    if (i == at) text += claim.pattern + " ";
    if (i < words.size()) text += words[i] + " ";
  }
  RC_ASSERT(claim_in(text, claims()) != nullptr);
}

}  // namespace
}  // namespace tierproof
