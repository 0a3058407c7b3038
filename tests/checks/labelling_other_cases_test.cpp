#include <gtest/gtest.h>

#include <algorithm>

#include "sums/cake_for_tests.h"
#include "tierproof/sums/quantity.h"
#include "tierproof/sums/type_size.h"

// Worked label cases L04, L05, L11, L13, L15, L16, L18: quantities, dates, heights, energy and advice. FIC is Regulation (EU) No
// 1169/2011. Masses in grams unless said.

namespace tierproof {
namespace {

using namespace for_tests;

/// L04, FIC art. 22(1)(a), Annex VIII 1(a), 3, 4(a), art. 7; rounding from memory (Commission Notice 2017/C 393/05).
TEST(LabellingCases, L04ShowsQuantitiesOfWhatTheNameSays) {
  const std::vector<UsedAmount> used = {{"dark chocolate", 150'000}, {"orange juice", 90'000}, {"orange zest", 20'000}};
  const Result<ShownQuantities> shown = show_quantities(used, 1'500'000, 1'280'000, true);
  ASSERT_TRUE(shown);
  EXPECT_EQ(format_decimal(shown->shown[0].percent, 2), "11.72");
  EXPECT_EQ(shown->shown[0].text, "12 %");
  EXPECT_EQ(format_decimal(shown->shown[1].percent, 2), "7.03");
  EXPECT_EQ(shown->shown[1].text, "7 %");
  EXPECT_EQ(format_decimal(shown->shown[2].percent, 2), "1.56");
  EXPECT_EQ(shown->shown[2].text, "1.6 %");

  const std::vector<UsedAmount> category = {as_category("orange", std::span{used}.subspan(1))};
  const Result<ShownQuantities> orange = show_quantities(category, 1'500'000, 1'280'000, true);
  ASSERT_TRUE(orange);
  EXPECT_EQ(format_decimal(orange->shown[0].percent, 2), "8.59");
  EXPECT_EQ(orange->shown[0].text, "9 %");

  const NameAdvice real = judge_named_ingredient({"orange", {used[1], used[2]}, {}});
  EXPECT_TRUE(real.quantity_needed);
  EXPECT_EQ(real.caution, "");
  const NameAdvice oil = judge_named_ingredient({"orange", {}, {{"orange oil", 1000}}});
  EXPECT_FALSE(oil.quantity_needed);
  EXPECT_NE(oil.caution.find("may mislead"), std::string::npos);
}

/// L05, FIC Annex VIII 4(a), the example of a local authority's leaflet on it.
TEST(LabellingCases, L05TakesTheFinishedMassOnceMoistureIsLost) {
  const std::vector<UsedAmount> used = {{"sultanas", 200'000}};
  EXPECT_EQ(show_quantities(used, 1'000'000, 800'000, true)->shown[0].text, "25 %");
  EXPECT_EQ(show_quantities(used, 1'000'000, 800'000, false)->shown[0].text, "20 %") << "over the total mix, where nothing is lost";
}

/// L11, Dir 76/211/EEC Annex I 3.1 (from memory); the e symbol: Packaged Goods Regulations 2006 reg. 2.
TEST(LabellingCases, L11AsksForTallerFiguresOnHeavierPacks) {
  const LabelTerms terms = label_terms();
  const auto height = [&](std::int64_t mass) {
    return minimum_height(terms.type_sizes, "net quantity e-mark", 40'000, grams(mass))->micrometres;
  };
  EXPECT_EQ(height(50), 2000);
  EXPECT_EQ(height(200), 3000);
  EXPECT_EQ(height(950), 4000);
  EXPECT_EQ(height(1200), 6000);
  EXPECT_EQ(minimum_height(terms.type_sizes, "e symbol", 40'000, grams(50))->micrometres, 3000);
}

/// L13, FAO/WHO reference doses; expert advice, not law.
TEST(LabellingCases, L13ComparesCrossContactWithTheActionLevel) {
  const std::vector<ReferenceDoseTerm> doses = reference_doses();
  const Result<Precaution> hazelnut =
      judge_precaution({"nuts:hazelnut", "ground hazelnuts", 150, share_of(14, 100), false}, grams(2000), grams(125), doses);
  ASSERT_TRUE(hazelnut);
  EXPECT_EQ(hazelnut->action_level_mg_per_kg, Share{24});
  EXPECT_EQ(hazelnut->protein_mg, 21);
  EXPECT_EQ(hazelnut->mg_per_kg, share_of(105, 10));
  EXPECT_FALSE(hazelnut->indicated);
  const Result<Precaution> almond =
      judge_precaution({"nuts:almond", "almond flour", 150, share_of(21, 100), false}, grams(2000), grams(125), doses);
  ASSERT_TRUE(almond);
  EXPECT_EQ(almond->action_level_mg_per_kg, Share{8});
  EXPECT_EQ(almond->protein_mg, share_of(315, 10));
  EXPECT_EQ(almond->mg_per_kg, share_of(1575, 100));
  EXPECT_TRUE(almond->indicated);
  for (const Result<Precaution>& one : {hazelnut, almond}) EXPECT_TRUE(one->message.ends_with("advice, not law")) << one->message;
}

/// L15, FIC art. 24, Annex X.
TEST(LabellingCases, L15WritesTheDateAsTheLifeAllows) {
  const Date made{std::chrono::year{2027} / 5 / 3};
  const std::vector<DateMarkTerm> terms = label_terms().date_marks;
  const auto texts = [&](Life life, bool soon_dangerous = false) {
    std::vector<std::string> all;
    const Result<DateMarks> marks = date_marks(made, life, soon_dangerous, terms);
    for (const DateMark& mark : marks->allowed) all.push_back(mark.text);
    return all;
  };
  EXPECT_TRUE(holds(texts({0, 10}), "Best before 13 May")) << "(a)";
  EXPECT_EQ(texts({0, 10}), (std::vector<std::string>{"Best before 13 May 2027", "Best before 13 May"}));
  EXPECT_EQ(texts({3, 0}), (std::vector<std::string>{"Best before 3 August 2027", "Best before 3 August"}))
      << "(b) day and month are enough";
  EXPECT_EQ(texts({5, 0}), (std::vector<std::string>{"Best before 3 October 2027", "Best before end October 2027"})) << "(c)";
  EXPECT_TRUE(holds(texts({20, 0}), "Best before end 2028")) << "(d) the last full year inside the life";
  EXPECT_EQ(texts({20, 0}).front(), "Best before 3 January 2029");
  EXPECT_EQ(texts({0, 3}, true).front(), "Use by 6 May 2027") << "(e)";
  EXPECT_TRUE(date_marks(made, {0, 3}, true, terms)->storage_needed) << "(e)";
}

/// L16, FIC Annex XIV; line rounding from memory (Commission guidance of December 2012).
TEST(LabellingCases, L16AddsEnergyFromTheFactorsOfEachUnit) {
  Nutrients cake;
  cake.fat = share_of(224, 10);
  cake.carbohydrate = share_of(486, 10);
  cake.polyols = 6;
  cake.protein = share_of(52, 10);
  cake.fibre = share_of(15, 10);
  cake.alcohol = share_of(8, 10);
  const Result<Energy> energy = energy_per_100g(cake, annex_xiv());
  ASSERT_TRUE(energy);
  EXPECT_EQ(energy->kj, share_of(17366, 10));
  EXPECT_EQ(energy->kj_text, "1737 kJ");
  EXPECT_EQ(energy->kcal, share_of(4158, 10));
  EXPECT_EQ(energy->kcal_text, "416 kcal") << "415, from kJ / 4.184, is wrong";

  const LineRoundingTerm line{{"rounding", "Commission guidance, December 2012", true}, "fat", 10, 0, share_of(5, 10), 1, "<0.5 g"};
  EXPECT_EQ(round_line(cake.fat, line), "22 g");
  EXPECT_EQ(round_line(cake.carbohydrate, line), "49 g");
  EXPECT_EQ(round_line(cake.protein, line), "5.2 g");
}

/// L18 (a) and (b), FIC Annex V 19 as read in Great Britain; Reg 1924/2006 art. 7 (from memory).
TEST(LabellingCases, L18SparesASmallMakerTheNutritionTableUnlessAClaimIsMade) {
  NutritionAsk ask;
  ask.staff = 4;
  ask.turnover = 140'000;  // GBP 120 000 in euro, any rate between 1.1 and 1.2
  ask.all_direct_or_local = true;
  ask.claim_made = false;
  EXPECT_FALSE(judge_nutrition_need(ask, micro_business()).needed) << "(a)";
  ask.claim_made = true;
  EXPECT_TRUE(judge_nutrition_need(ask, micro_business()).needed) << "(b)";
}

}  // namespace
}  // namespace tierproof
