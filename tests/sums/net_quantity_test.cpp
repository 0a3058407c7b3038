#include "tierproof/sums/net_quantity.h"

#include <gtest/gtest.h>

#include "terms_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;

LabelTerms in_form(std::string form, std::string words = "", bool by_number = false) {
  LabelTerms terms;
  terms.net_quantity = NetQuantityTerm{fic("net-quantity", "art. 23"), std::move(form), std::move(words), by_number};
  return terms;
}
std::string written(std::int64_t mg, const LabelTerms& terms) { return net_quantity(Mass::milligrams(mg), {}, terms)->text; }

TEST(NetQuantity, IsInGramsBelowAKilogramAndInKilogramsFromThere) {  // FIC art. 23
  const LabelTerms metric = in_form("metric");
  EXPECT_EQ(written(680'000, metric), "680 g");
  EXPECT_EQ(written(999'999, metric), "999 g") << "no more than is in it";
  EXPECT_EQ(written(1'000'000, metric), "1 kg");
  EXPECT_EQ(written(1'285'999, metric), "1.285 kg");
  EXPECT_EQ(written(2'500'000, metric), "2.5 kg");
}

/// Consumer Packaging and Labelling Regulations s. 25 and 26: three figures, two below 100, grams below 1000, one blank.
TEST(NetQuantity, HasThreeFiguresAndTwoBelowAHundred) {
  const LabelTerms three = in_form("metric, three figures");
  EXPECT_EQ(written(680'400, three), "680 g");
  EXPECT_EQ(written(100'000, three), "100 g");
  EXPECT_EQ(written(99'990, three), "99 g");
  EXPECT_EQ(written(85'400, three), "85 g");
  EXPECT_EQ(written(9'870, three), "9.8 g");
  EXPECT_EQ(written(999'999, three), "999 g");
  EXPECT_EQ(written(1'000'000, three), "1 kg");
  EXPECT_EQ(written(1'284'000, three), "1.28 kg");
  EXPECT_EQ(written(12'840'000, three), "12.8 kg");
  EXPECT_EQ(written(128'400'000, three), "128 kg");
  EXPECT_EQ(written(1'284'000'000, three), "1280 kg");
}

/// 21 CFR 101.7 (from memory): ounces below a pound, both below four pounds, pounds from there.
TEST(NetQuantity, IsDualWithPoundsAndOunces) {
  const LabelTerms dual = in_form("metric and avoirdupois", "NET WT");
  EXPECT_EQ(written(680'000, dual), "NET WT 24 OZ (1 LB 8 OZ) 680 g");
  EXPECT_EQ(written(100'000, dual), "NET WT 3.5 OZ 100 g");
  EXPECT_EQ(written(452'000, dual), "NET WT 15.9 OZ 452 g");
  EXPECT_EQ(written(453'593, dual), "NET WT 16 OZ (1 LB) 453 g");
  EXPECT_EQ(written(500'000, dual), "NET WT 17.6 OZ (1 LB 1.6 OZ) 500 g");
  EXPECT_EQ(written(1'811'000, dual), "NET WT 63.9 OZ (3 LB 15.9 OZ) 1.811 kg");
  EXPECT_EQ(written(1'814'370, dual), "NET WT 4 LB 1.814 kg");
  EXPECT_EQ(written(2'000'000, dual), "NET WT 4.41 LB 2 kg");
}

TEST(NetQuantity, MayBeANumberOnlyWhereTheRulesTakeOne) {
  EXPECT_EQ(net_quantity(grams(680), 1, in_form("metric", "", true))->instead, "1 cake");
  EXPECT_EQ(net_quantity(grams(680), 12, in_form("metric", "", true))->instead, "12 cakes");
  EXPECT_EQ(net_quantity(grams(680), std::nullopt, in_form("metric", "", true))->instead, "");
  EXPECT_EQ(net_quantity(grams(680), 1, in_form("metric"))->instead, "");
}

TEST(NetQuantity, RefusesWhatCannotBe) {
  EXPECT_FALSE(net_quantity(Mass::milligrams(999), {}, in_form("metric")));
  EXPECT_TRUE(net_quantity(grams(1), {}, in_form("metric")));
  EXPECT_FALSE(net_quantity(grams(1), 0, in_form("metric")));
  EXPECT_FALSE(net_quantity(grams(1), {}, in_form("stones")));
  EXPECT_EQ(net_quantity(Mass{}, 0, {}).error().size(), 3U);
}

TEST(NetQuantity, FollowsInEachDecimalMarkOfTheLabelsLanguagesOnce) {
  LabelTerms terms;
  terms.net_quantity = NetQuantityTerm{{"net", "art. 23", false}, "metric", "", false};
  terms.language.languages = {"en", "fr", "de"};
  terms.language.decimal_marks = {{"fr", ","}, {"de", ","}};
  const auto written = [&](std::int64_t mg) { return net_quantity(Mass::milligrams(mg), 1, terms)->text; };
  EXPECT_EQ(written(1'283'000), "1.283 kg / 1,283 kg");
  EXPECT_EQ(written(2'000'000), "2 kg");
  terms.language.decimal_marks.clear();
  EXPECT_EQ(written(1'283'000), "1.283 kg");
}

}  // namespace
}  // namespace tierproof
