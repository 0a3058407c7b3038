// Prescribed words and ways of selling published for the United States with two states, Canada, and Australia and New Zealand against the
// rows of reference/us*, ca and anz. The source stands beside the figure; what was recalled and not read says "from memory".
#include <algorithm>

#include "abroad.h"

namespace tierproof::abroad {
namespace {

// ---- prescribed words ----------------------------------------------------------------------------------------------------------

struct Prescribed {
  const char* id;
  const char* code;
  const char* key;
  const char* text;
  const char* source;
};
class PrescribedWordsAbroad : public testing::TestWithParam<Prescribed> {};
TEST_P(PrescribedWordsAbroad, AreThoseOfTheLawToTheByte) {
  const Prescribed& row = GetParam();
  const auto terms = terms_of(row.code);
  const auto* wording = terms.wording(row.key);
  ASSERT_NE(wording, nullptr) << row.key;
  EXPECT_EQ(wording->text, row.text) << row.source;
}
INSTANTIATE_TEST_SUITE_P(
    Checks, PrescribedWordsAbroad,
    testing::Values(
        Prescribed{"UsContains", "us", "contains", "Contains {names}", "FD&C Act 403(w)(1)(A): Contains, then the food sources"},
        Prescribed{"UsManufacturedFor", "us", "manufactured for", "Manufactured for", "21 CFR 101.5(c), from memory"},
        Prescribed{"UsDistributedBy", "us", "distributed by", "Distributed by", "21 CFR 101.5(c), from memory"},
        Prescribed{"California", "us-ca", "home kitchen", "Made in a Home Kitchen", "Cal. HSC 114365.2; a county's guidance"},
        Prescribed{"CaliforniaQuality", "us-ca", "best before", "BEST if Used by", "AB 660, from memory; its date read"},
        Prescribed{"CaliforniaSafety", "us-ca", "use by", "USE by", "AB 660, from memory; its date read"},
        Prescribed{"Texas", "us-tx", "home kitchen",
                   "THIS PRODUCT WAS PRODUCED IN A PRIVATE RESIDENCE THAT IS NOT SUBJECT TO GOVERNMENTAL LICENSING OR INSPECTION.",
                   "Tex. SB 541 (2025)"},
        Prescribed{"TexasCold", "us-tx", "storage chilled",
                   "SAFE HANDLING INSTRUCTIONS: To prevent illness from bacteria, keep this food refrigerated or frozen until the food is "
                   "prepared for consumption.",
                   "Tex. SB 541 (2025)"},
        Prescribed{"CaContains", "ca", "contains", "Contains: {names}", "FDR B.01.010.3(1)"},
        Prescribed{"CaBestBefore", "ca", "best before", "Best before", "FDR B.01.007, from memory"},
        Prescribed{"AnzContains", "anz", "contains", "Contains {names}", "FSANZ 1.2.3-6"},
        Prescribed{"AnzBestBefore", "anz", "best before", "Best Before", "FSANZ 1.2.5, from memory"},
        Prescribed{"AnzUseBy", "anz", "use by", "Use By", "FSANZ 1.2.5, from memory"}),
    [](const auto& check) { return std::string{check.param.id}; });

TEST(PrescribedWordsOfCanada, HaveTheirFrenchTwins) {
  const auto terms = terms_of("ca");
  EXPECT_EQ(terms.wording("contains")->other_texts.at("fr"), "Contient : {names}") << "FDR B.01.010.3(1)";
  EXPECT_EQ(terms.wording("best before")->other_texts.at("fr"), "Meilleur avant") << "FDR B.01.007, from memory";
  for (const auto& wording : terms.wordings) EXPECT_TRUE(wording.other_texts.contains("fr")) << wording.key << ": FDR B.01.012";
  for (const auto& allergen : terms.allergens) EXPECT_TRUE(allergen.other_words.contains("fr")) << allergen.key << ": FDR B.01.012";
}

TEST(PrescribedWordsOfTheStates, OpenTheTailGroup) {
  EXPECT_EQ(terms_of("us").any_order_below.wording, "Contains 2 percent or less of {names}") << "21 CFR 101.4(a)(2)";
  EXPECT_EQ(terms_of("us").any_order_below.limit, share_of(2, 100)) << "21 CFR 101.4(a)(2)";
  EXPECT_TRUE(terms_of("us").any_order_below.inclusive) << "2 percent or less";
}

TEST(PrescribedWordsOfAustralia, WarnOfRoyalJelly) {
  const auto terms = terms_of("anz");
  const auto found = std::find_if(terms.mark_wordings.begin(), terms.mark_wordings.end(),
                                  [](const MarkWording& row) { return row.mark == "royal jelly"; });
  ASSERT_NE(found, terms.mark_wordings.end());
  EXPECT_EQ(found->wording,
            "This product contains royal jelly which has been reported to cause severe allergic reactions and in rare cases, fatalities, "
            "especially in asthma and allergy sufferers")
      << "FSANZ 1.2.3-3, from memory";
}

TEST(HomeKitchensAbroad, SayOnEveryRouteThatTheyAreOne) {
  for (const char* code : {"us-ca", "us-tx"}) {
    const auto terms = terms_of(code);
    for (const auto& route : terms.routes) {
      EXPECT_EQ(route.statements, std::vector<std::string>{"home kitchen"}) << code << ": " << route.cited.row;
      EXPECT_EQ(route.declaration, "ingredient list") << code << ": " << route.cited.row;
    }
  }
  for (const auto& route : terms_of("us").routes) EXPECT_TRUE(route.statements.empty()) << route.cited.row;
}

TEST(TexasWarning, IsNotPrintedWhileACourtHoldsItBack) {
  const auto terms = terms_of("us-tx", day(2027, 1, 2));
  for (const auto& wording : terms.wordings) EXPECT_EQ(wording.text.find("not recommended for human consumption"), std::string::npos);
  int found = 0;
  for (const auto& wording : terms.additive_wordings) {
    if (wording.wording.find("not recommended for human consumption") == std::string::npos) continue;
    ++found;
    EXPECT_NE(wording.suspended, "") << "Tex. SB 25: enjoined 11 February 2026";
    EXPECT_TRUE(wording.cited.from_memory && wording.cited.confirmed.empty()) << "its 44 additives";
  }
  EXPECT_EQ(found, 1);
  for (const auto& wording : terms_of("us-tx", day(2026, 12, 31)).additive_wordings) EXPECT_EQ(wording.suspended, "") << "SB 25: from 2027";
}

TEST(CaliforniaDateWords, HoldFromJuly2026) {
  EXPECT_EQ(terms_of("us-ca", day(2026, 6, 30)).wording("use by")->text, "Use by") << "AB 660: from 1 July 2026";
  EXPECT_EQ(terms_of("us-ca", day(2026, 7, 1)).wording("use by")->text, "USE by");
}

// ---- how it is sold ------------------------------------------------------------------------------------------------------------

TEST(RoutesAbroad, AnswerEverySaleExactlyOnce) {
  for (const char* code : {"us", "us-ca", "us-tx", "ca", "anz"}) {
    for (const auto on : {day(2025, 9, 1), look, day(2027, 2, 1)}) {
      const auto terms = terms_of(code, on);
      for (const char* boxed : {"before it was chosen", "after it was ordered", "not boxed"}) {
        for (const char* seller : {"the maker", "another business"}) {
          for (const char* ordered : {"face to face", "at a distance"}) {
            for (const char* where : {"where it is made", "somewhere else", "delivered"}) {
              const auto fits = [&](const RouteTerm& r) {
                return (r.boxed.empty() || r.boxed == boxed) && (r.seller.empty() || r.seller == seller) &&
                       (r.ordered.empty() || r.ordered == ordered) && (r.where.empty() || r.where == where);
              };
              EXPECT_EQ(std::count_if(terms.routes.begin(), terms.routes.end(), fits), 1)
                  << code << ": " << boxed << ", " << seller << ", " << ordered << ", " << where << " on " << format_date(on);
            }
          }
        }
      }
    }
  }
}

const RouteTerm& route_by_id(const LabelTerms& terms, const std::string& id) {
  const auto found = std::find_if(terms.routes.begin(), terms.routes.end(), [&](const RouteTerm& r) { return r.cited.row == id; });
  if (found == terms.routes.end()) throw std::runtime_error{"no route " + id};
  return *found;
}

/// L19, Std 1.2.1-6, -9.
TEST(RoutesAbroad, L19FreeTheDeliveredOrderOfItsLabelAndNotOfTheAllergens) {
  const auto terms = terms_of("anz");
  const RouteTerm& delivered = route_by_id(terms, "route-boxed-after-delivered");
  EXPECT_EQ(delivered.declaration, "allergens");
  EXPECT_TRUE(delivered.on_pack.empty());
  EXPECT_FALSE(delivered.told.empty()) << "1.2.1-9: the allergens are due all the same";
  const RouteTerm& resold = route_by_id(terms, "route-other-business");
  EXPECT_EQ(resold.declaration, "ingredient list");
  for (const char* particular : {"name", "ingredients", "allergens", "date", "lot", "business"})
    EXPECT_TRUE(holds(resold.on_pack, particular)) << particular << ": 1.2.1-8";
}

TEST(RoutesAbroad, GiveCanadaNoListForWhatIsMadeAndPackedOnThePremises) {
  const auto terms = terms_of("ca");
  const RouteTerm& here = route_by_id(terms, "route-boxed-before-here");
  EXPECT_EQ(here.declaration, "allergens") << "FDR B.01.008(2)(a); allergens taken as required";
  EXPECT_FALSE(holds(here.on_pack, "ingredients"));
  EXPECT_TRUE(holds(here.on_pack, "allergens"));
  EXPECT_EQ(route_by_id(terms, "route-boxed-before-elsewhere").declaration, "ingredient list");
}

}  // namespace
}  // namespace tierproof::abroad
