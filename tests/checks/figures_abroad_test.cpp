// Heights of type, quantities, rounding and dates published for the United States with two states, Canada, and Australia and New Zealand
// against the rows of reference/us*, ca and anz. The source stands beside the figure; what was recalled and not read says "from memory".
#include "abroad.h"
#include "tierproof/sums/date_mark.h"
#include "tierproof/sums/net_quantity.h"
#include "tierproof/sums/nutrition_need.h"
#include "tierproof/sums/nutrition_rounding.h"
#include "tierproof/sums/reference_dose.h"
#include "tierproof/sums/type_size.h"

namespace tierproof::abroad {
namespace {

// ---- heights of type -----------------------------------------------------------------------------------------------------------

struct Height {
  const char* id;
  const char* code;
  const char* what;
  std::int64_t face_mm2;
  std::int64_t expected_um;
  const char* source;
  std::optional<std::int64_t> surface_mm2{};
};
class HeightAbroad : public testing::TestWithParam<Height> {};
TEST_P(HeightAbroad, IsWhatTheRowsGive) {
  const Height& row = GetParam();
  const auto terms = terms_of(row.code);
  const auto height = minimum_height(terms.type_sizes, row.what, row.face_mm2, {}, row.surface_mm2);
  ASSERT_TRUE(height.has_value());
  EXPECT_EQ(height->micrometres, row.expected_um) << row.source;
}
// A square inch is 645.16 mm² exactly: 5 are 3225.8, 25 are 16129, 96 are 61935.36, 100 are 64516, 100.5 are 64838.58, 400 are 258064.
INSTANTIATE_TEST_SUITE_P(
    Checks, HeightAbroad,
    testing::Values(
        Height{"UsText", "us", "text", 60'000, 1588, "21 CFR 101.2(c), from memory: 1/16 inch, 1587.5 micrometres"},
        Height{"Us5", "us", "net quantity", 3'225, 1588, "21 CFR 101.7(i), from memory: up to 5 square inches"},
        Height{"Us5over", "us", "net quantity", 3'226, 3175, "21 CFR 101.7(i), from memory: over 5 square inches"},
        Height{"Us25", "us", "net quantity", 16'129, 3175, "21 CFR 101.7(i), from memory: 25 square inches"},
        Height{"Us25over", "us", "net quantity", 16'130, 4763, "21 CFR 101.7(i), from memory: over 25 square inches"},
        Height{"UsL10", "us", "net quantity", 61'936, 4763, "21 CFR 101.7(i): 12 by 8 inches, 3/16 inch"},
        Height{"Us100", "us", "net quantity", 64'516, 4763, "21 CFR 101.7(i), from memory: 100 square inches"},
        Height{"UsL10over", "us", "net quantity", 64'839, 6350, "21 CFR 101.7(i): 100.5 square inches, 1/4 inch"},
        Height{"Us400", "us", "net quantity", 258'064, 6350, "21 CFR 101.7(i), from memory: 400 square inches"},
        Height{"Us400over", "us", "net quantity", 258'065, 12700, "21 CFR 101.7(i), from memory: over 400 square inches"},
        Height{"UsContains", "us", "contains statement", 60'000, 1588, "FD&C Act 403(w)(1)(A): not smaller than the list"},
        Height{"California", "us-ca", "home kitchen", 60'000, 4234, "county guidance: 12-point, 4233.3 micrometres"},
        Height{"TexasCold", "us-tx", "storage chilled", 60'000, 4234, "Tex. SB 541: 12-point, 4233.3 micrometres"},
        Height{"CaText", "ca", "text", 60'000, 1600, "FDR A.01.016, from memory"},
        Height{"CaTextAtTen", "ca", "text", 1'000, 1600, "FDR A.01.016, from memory: 10 cm2 is not under 10 cm2"},
        Height{"CaTextSmall", "ca", "text", 999, 800, "FDR A.01.016, from memory"},
        Height{"CaList", "ca", "ingredient list", 60'000, 1100, "FDR B.01.008.2(2), from memory"},
        Height{"CaListSmall", "ca", "ingredient list", 999, 800, "FDR B.01.008.2(2), from memory"},
        Height{"Ca32", "ca", "net quantity", 3'200, 1600, "CPLR s. 14(2): up to 32 cm2"},
        Height{"Ca32over", "ca", "net quantity", 3'201, 3200, "CPLR s. 14(2)"},
        Height{"Ca258", "ca", "net quantity", 25'800, 3200, "CPLR s. 14(2)"},
        Height{"Ca258over", "ca", "net quantity", 25'801, 6400, "CPLR s. 14(2)"},
        Height{"Ca645", "ca", "net quantity", 64'500, 6400, "CPLR s. 14(2)"},
        Height{"Ca645over", "ca", "net quantity", 64'501, 9500, "CPLR s. 14(2)"},
        Height{"Ca2580", "ca", "net quantity", 258'000, 9500, "CPLR s. 14(2)"},
        Height{"Ca2580over", "ca", "net quantity", 258'001, 12700, "CPLR s. 14(2)"},
        Height{"AnzWarning", "anz", "warning statement", 4'000, 3000, "FSANZ 1.2.1-25, from memory: 100 cm2 is not under it", 10'000},
        Height{"AnzWarningSmall", "anz", "warning statement", 4'000, 1500, "FSANZ 1.2.1-25, from memory", 9'999},
        Height{"AnzWarningUnknown", "anz", "warning statement", 500, 3000, "FSANZ 1.2.1-25, from memory: small by its whole surface"},
        Height{"AnzSummary", "anz", "contains statement", 60'000, 1200, "FSANZ 1.2.3: not smaller than the list"},
        Height{"AnzNet", "anz", "net quantity", 60'000, 4800, "NTMR 2009, from memory: the highest of four"},
        Height{"AnzText", "anz", "text", 60'000, 1200, "a choice of this project: the Code gives none"}),
    [](const auto& check) { return std::string{check.param.id}; });

// ---- quantity, dates, nutrition ------------------------------------------------------------------------------------------------

struct Weighed {
  const char* id;
  const char* code;
  std::int64_t grams_in_it;
  const char* text;
  const char* source;
};
class NetQuantityAbroad : public testing::TestWithParam<Weighed> {};
TEST_P(NetQuantityAbroad, IsWrittenInTheFormOfThePlace) {
  const Weighed& row = GetParam();
  const auto written = net_quantity(grams(row.grams_in_it), {}, terms_of(row.code));
  ASSERT_TRUE(written.has_value()) << told(written.error());
  EXPECT_EQ(written->text, row.text) << row.source;
  EXPECT_EQ(written->instead, "") << "none of these laws was read to let a number stand for the weight";
}
INSTANTIATE_TEST_SUITE_P(Checks, NetQuantityAbroad,
                         testing::Values(Weighed{"UsL10", "us", 680, "NET WT 24 OZ (1 LB 8 OZ) 680 g", "21 CFR 101.7, worked: 23.99 oz"},
                                         Weighed{"UsLight", "us", 340, "NET WT 12 OZ 340 g", "21 CFR 101.7, from memory: under 1 lb"},
                                         Weighed{"Ca", "ca", 1283, "1.28 kg / 1,28 kg",
                                                 "CPLR s. 25, 26: three figures; both languages, B.01.012"},
                                         Weighed{"CaLight", "ca", 950, "950 g", "CPLR s. 25, 26: under 1000 g in grams"},
                                         Weighed{"Anz", "anz", 950, "950 g", "trade measurement law, from memory"}),
                         [](const auto& check) { return std::string{check.param.id}; });

struct Rounded {
  const char* nutrient;
  Share amount;
  const char* text;
};
/// L17, 21 CFR 101.9(c); a half rounds up by common reading, from memory.
TEST(RoundingInTheStates, L17FollowsTheBands) {
  const auto terms = terms_of("us");
  const Rounded rows[] = {{"calories", share_of(49, 10), "0 cal"},
                          {"calories", 47, "45 cal"},
                          {"calories", 53, "50 cal"},
                          {"calories", 55, "60 cal"},
                          {"calories", 50, "50 cal"},
                          {"total fat", share_of(49, 100), "0 g"},
                          {"total fat", share_of(48, 10), "5 g"},
                          {"total fat", share_of(54, 10), "5 g"},
                          {"total fat", share_of(5, 10), "0.5 g"},
                          {"saturated fat", share_of(26, 10), "2.5 g"},
                          {"trans fat", share_of(4, 10), "0 g"},
                          {"polyunsaturated fat", share_of(12, 10), "1 g"},
                          {"monounsaturated fat", share_of(66, 10), "7 g"},
                          {"sodium", 3, "0 mg"},
                          {"sodium", 137, "135 mg"},
                          {"sodium", 140, "140 mg"},
                          {"sodium", 142, "140 mg"},
                          {"sodium", 146, "150 mg"},
                          {"cholesterol", share_of(19, 10), "0 mg"},
                          {"cholesterol", 3, "less than 5 mg"},
                          {"cholesterol", 5, "less than 5 mg"},
                          {"cholesterol", 7, "5 mg"},
                          {"cholesterol", 8, "10 mg"},
                          {"sugar alcohol", share_of(4, 10), "0 g"},
                          {"sugar alcohol", share_of(7, 10), "less than 1 g"},
                          {"total carbohydrate", share_of(315, 10), "32 g"},
                          {"dietary fiber", share_of(9, 10), "less than 1 g"},
                          {"total sugars", share_of(3, 10), "0 g"},
                          {"added sugars", share_of(5, 10), "less than 1 g"},
                          {"protein", share_of(34, 10), "3 g"},
                          {"percent of the daily value", share_of(124, 10), "12 %"}};
  for (const Rounded& row : rows) {
    const auto rounded = round_band(row.nutrient, row.amount, terms.rounding);
    ASSERT_TRUE(rounded.has_value()) << row.nutrient << ": " << told(rounded.error());
    EXPECT_EQ(rounded->text, row.text) << row.nutrient << " " << format_decimal(row.amount, 2) << ": 21 CFR 101.9(c)";
  }
}

/// L18(d), 21 CFR 101.9(j)(18): fewer than 10 people and 10 000 units, no notice.
TEST(NutritionInTheStates, L18SparesTheSmallMaker) {
  const auto terms = terms_of("us");
  NutritionAsk ask;
  ask.staff = 6;
  ask.units_a_year = 8000;
  ask.claim_made = false;
  const auto small = judge_nutrition_need(ask, terms.nutrition_exemptions);
  EXPECT_FALSE(small.needed) << small.why;
  EXPECT_NE(small.source.find("101.9(j)(18)(iv)"), std::string::npos) << "no notice: " << small.source;

  ask.staff = 10;
  const auto ten = judge_nutrition_need(ask, terms.nutrition_exemptions);
  EXPECT_FALSE(ten.needed) << "101.9(j)(18)(i): fewer than 100 and 100 000";
  EXPECT_NE(ten.source.find("notice"), std::string::npos) << ten.source;

  ask.units_a_year = 100'000;
  EXPECT_TRUE(judge_nutrition_need(ask, terms.nutrition_exemptions).needed) << "100 000 is not under 100 000";
  ask.turnover = 500'000;
  ask.all_direct_or_local = true;
  EXPECT_FALSE(judge_nutrition_need(ask, terms.nutrition_exemptions).needed) << "101.9(j)(1): a retailer up to 500 000 dollars";
  ask.turnover = 500'001;
  EXPECT_TRUE(judge_nutrition_need(ask, terms.nutrition_exemptions).needed);
  ask.turnover = 1;
  ask.claim_made = true;
  EXPECT_TRUE(judge_nutrition_need(ask, terms.nutrition_exemptions).needed) << "a claim ends every exemption";
}

TEST(NutritionAbroad, IsSparedNobodyByNumbersInCanadaAndAustralia) {
  for (const char* code : {"ca", "anz"}) EXPECT_TRUE(terms_of(code).nutrition_exemptions.empty()) << code;
}

/// L13: the sum is advice in every place.
TEST(ReferenceDosesAbroad, L13IndicateAPrecautionAtTheActionLevel) {
  for (const char* code : {"us", "ca", "anz"}) {
    const auto doses = terms_of(code).reference_doses;
    const auto hazelnut =
        judge_precaution({"nuts:hazelnut", "ground hazelnuts", 150, share_of(14, 100), false}, grams(2000), grams(125), doses);
    ASSERT_TRUE(hazelnut.has_value()) << code;
    EXPECT_EQ(hazelnut->action_level_mg_per_kg, Share{24}) << "FAO/WHO part 2 (2022): 3 mg over 125 g";
    EXPECT_FALSE(hazelnut->indicated) << "10.5 mg/kg";
    const auto almond = judge_precaution({"nuts:almond", "almond flour", 150, share_of(21, 100), false}, grams(2000), grams(125), doses);
    ASSERT_TRUE(almond.has_value()) << code;
    EXPECT_EQ(almond->action_level_mg_per_kg, Share{8}) << "FAO/WHO part 2 (2022), provisional: 1 mg over 125 g";
    EXPECT_TRUE(almond->indicated) << "15.75 mg/kg";
    EXPECT_NE(almond->message.find("advice, not law"), std::string::npos) << almond->message;
  }
}

TEST(DatesOfCanada, BeginWithTheYearAndNameTheMonthInTwoLetters) {
  const auto terms = terms_of("ca");
  const std::vector<std::string> symbols{"JA", "FE", "MR", "AL", "MA", "JN", "JL", "AU", "SE", "OC", "NO", "DE"};
  ASSERT_FALSE(terms.date_marks.empty());
  for (const auto& mark : terms.date_marks) {
    EXPECT_EQ(mark.months, symbols) << "FDR B.01.007(4), from memory";
    EXPECT_TRUE(mark.year_first) << "FDR B.01.007, from memory";
  }
  const auto marks = date_marks(day(2027, 5, 3), {0, 10}, false, terms.date_marks);
  ASSERT_TRUE(marks.has_value());
  EXPECT_EQ(marks->allowed.front().text, "Best before / Meilleur avant 2027 MA 13");
}

}  // namespace
}  // namespace tierproof::abroad
