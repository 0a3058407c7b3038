#include <gtest/gtest.h>

#include <algorithm>

#include "sums/cake_for_tests.h"
#include "sums/quid_for_tests.h"
#include "tierproof/sums/named_quantities.h"
#include "tierproof/sums/net_quantity.h"
#include "tierproof/sums/nutrition_rounding.h"
#include "tierproof/sums/type_size.h"

// Worked label cases L04, L05, L10, L11, L13, L15 to L18: quantities, dates, heights, energy and advice. FIC is Regulation (EU) No
// 1169/2011. Masses in grams unless said.

namespace tierproof {
namespace {

using namespace for_tests;

/// L04, FIC art. 22(1)(a), Annex VIII 1(a), 3, 4(a), art. 7; rounding from memory (Commission Notice 2017/C 393/05).
TEST(LabellingCases, L04ShowsQuantitiesOfWhatTheNameSays) {
  const std::vector<UsedAmount> used = {{"dark chocolate", 150'000}, {"orange juice", 90'000}, {"orange zest", 20'000}};
  const Result<ShownQuantities> shown = show_quantities(used, 1'500'000, 1'280'000, true, quid());
  ASSERT_TRUE(shown);
  EXPECT_EQ(format_decimal(shown->shown[0].percent, 2), "11.72");
  EXPECT_EQ(shown->shown[0].text, "12 %");
  EXPECT_EQ(format_decimal(shown->shown[1].percent, 2), "7.03");
  EXPECT_EQ(shown->shown[1].text, "7 %");
  EXPECT_EQ(format_decimal(shown->shown[2].percent, 2), "1.56");
  EXPECT_EQ(shown->shown[2].text, "1.6 %");

  const std::vector<UsedAmount> category = {as_category("orange", std::span{used}.subspan(1))};
  const Result<ShownQuantities> orange = show_quantities(category, 1'500'000, 1'280'000, true, quid());
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

/// The same from the name of the cake: 150 g of chocolate, 90 g of juice and 20 g of zest in 1280 g finished.
TEST(LabellingCases, L04FindsWhatTheNameSaysInTheCake) {
  LabelTerms terms = label_terms();
  terms.named_quantities = quid();
  const auto named = [&](const std::vector<std::pair<IngredientFacts, Mass>>& orange) {
    std::vector<std::pair<IngredientFacts, Mass>> all = {{food("sugar"), grams(1240)}, {food("dark chocolate"), grams(150)}};
    all.insert(all.end(), orange.begin(), orange.end());
    const Labelled cake = label(one_batch(all, grams(1280)), terms);
    return named_quantities(cake.parts, cake.made, cake.declared, cake.terms, "Chocolate orange cake", {}).value();
  };
  const NamedQuantities real = named({{food("orange juice"), grams(90)}, {food("orange zest"), grams(20)}});
  ASSERT_EQ(real.shown.size(), 2U);
  EXPECT_EQ(real.shown[0].name + " " + real.shown[0].text, "dark chocolate 12 %");
  EXPECT_EQ(real.shown[1].name + " " + real.shown[1].text, "orange 9 %");
  IngredientFacts oil = food("orange oil");
  oil.kind = "natural flavouring";
  const NamedQuantities flavour = named({{oil, grams(1)}});
  ASSERT_EQ(flavour.shown.size(), 1U) << "no quantity for the oil";
  ASSERT_EQ(flavour.cautions.size(), 1U);
  EXPECT_NE(flavour.cautions[0].find("may mislead"), std::string::npos);
}

/// L05, FIC Annex VIII 4(a), the example of a local authority's leaflet on it.
TEST(LabellingCases, L05TakesTheFinishedMassOnceMoistureIsLost) {
  const std::vector<UsedAmount> used = {{"sultanas", 200'000}};
  EXPECT_EQ(show_quantities(used, 1'000'000, 800'000, true, quid())->shown[0].text, "25 %");
  EXPECT_EQ(show_quantities(used, 1'000'000, 800'000, false, quid())->shown[0].text, "20 %") << "over the total mix, where nothing is lost";
}

/// L10, 21 CFR 101.7 (from memory; dual units read in 16 CFR 500.21): 680 g are 23.99 oz; one square inch is 645.16 mm².
TEST(LabellingCases, L10WritesBothUnitsAndAsksForTallerLettersOnALargerPanel) {
  LabelTerms terms;
  terms.net_quantity = NetQuantityTerm{{"net-quantity", "21 CFR 101.7", true}, "metric and avoirdupois", "NET WT", false};
  EXPECT_EQ(net_quantity(grams(680), std::nullopt, terms)->text, "NET WT 24 OZ (1 LB 8 OZ) 680 g");

  const auto row = [](std::optional<std::int64_t> above, std::optional<std::int64_t> up_to, std::int64_t um) {
    TypeSizeTerm term{{"net-quantity-height", "21 CFR 101.7(i)", true}, "net quantity", "letter height", {}, {}, {}, {}, um};
    term.face_above_mm2 = above;
    term.face_up_to_mm2 = up_to;
    return term;
  };
  const std::vector<TypeSizeTerm> rows = {row({}, 3225, 1588), row(3225, 16129, 3175), row(16129, 64516, 4763), row(64516, 258064, 6350),
                                          row(258064, {}, 12700)};
  EXPECT_EQ(minimum_height(rows, "net quantity", 61935, {})->micrometres, 4763) << "96 sq in: 3/16 in";
  EXPECT_EQ(minimum_height(rows, "net quantity", 64839, {})->micrometres, 6350) << "100.5 sq in: 1/4 in";
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

  const auto line = [](const std::string& nutrient, const Share& grams) {
    return round_band(nutrient, grams, eu_bands(nutrient, 10, 1, share_of(5, 10), share_of(1, 10), "<0.5"))->text;
  };
  EXPECT_EQ(line("fat", cake.fat), "22 g");
  EXPECT_EQ(line("carbohydrate", cake.carbohydrate), "49 g");
  EXPECT_EQ(line("protein", cake.protein), "5.2 g");
}

/// L17, 21 CFR 101.9(c); a half rounds up, the common reading (from memory).
TEST(LabellingCases, L17RoundsByTheBandsOfTheUnitedStates) {
  const auto texts = [](const std::string& nutrient, const std::vector<Share>& amounts) {
    std::vector<std::string> all;
    for (const Share& amount : amounts) all.push_back(round_band(nutrient, amount, us_bands())->text);
    return all;
  };
  using Texts = std::vector<std::string>;
  EXPECT_EQ(texts("calories", {share_of(49, 10), 47, 53, 55}), (Texts{"0 cal", "45 cal", "50 cal", "60 cal"}));
  EXPECT_EQ(texts("total fat", {share_of(49, 100), share_of(48, 10), share_of(54, 10)}), (Texts{"0 g", "5 g", "5 g"}));
  EXPECT_EQ(texts("sodium", {3, 137, 142}), (Texts{"0 mg", "135 mg", "140 mg"}));
  EXPECT_EQ(texts("cholesterol", {share_of(19, 10), 3, 7, 8}), (Texts{"0 mg", "less than 5 mg", "5 mg", "10 mg"}));
  EXPECT_EQ(texts("sugar alcohol", {share_of(4, 10), share_of(7, 10)}), (Texts{"0 g", "less than 1 g"}));
}

/// L18 (c): S.I. 559/2016 as the Irish authority reads Annex V 19; (d): 21 CFR 101.9(j)(1) and (18).
TEST(LabellingCases, L18SparesByUnitsAWeekOrAYear) {
  const NutritionExemptionTerm weekly{{"small-maker", "S.I. 559/2016", false}, 0, 0, "", "within 100 km", 0, 500, true};
  NutritionAsk ask;
  ask.claim_made = false;
  ask.all_direct_or_local = true;
  ask.units_a_week = 480;
  EXPECT_FALSE(judge_nutrition_need(ask, weekly).needed) << "(c)";
  const std::vector<NutritionExemptionTerm> yearly = {{{"with-notice", "21 CFR 101.9(j)(18)", false}, 100, 0, "", "", 100'000, 0, false},
                                                      {{"without-notice", "21 CFR 101.9(j)(18)", false}, 10, 0, "", "", 10'000, 0, false}};
  NutritionAsk maker;
  maker.claim_made = false;
  maker.staff = 6;
  maker.units_a_year = 8'000;
  EXPECT_FALSE(judge_nutrition_need(maker, yearly).needed) << "(d)";
  EXPECT_FALSE(judge_nutrition_need(maker, yearly[1]).needed) << "(d) by the row without a notice";
  maker.units_a_year.reset();
  EXPECT_TRUE(judge_nutrition_need(maker, yearly).needed) << "what is not known never exempts";
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
