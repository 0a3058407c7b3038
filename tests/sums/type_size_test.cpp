#include "tierproof/sums/type_size.h"

#include <gtest/gtest.h>

#include "terms_for_tests.h"

namespace tierproof {
namespace {

using namespace for_tests;

TEST(MinimumHeight, FallsOnlyStrictlyBelowTheLimit) {  // FIC art. 13(2), (3): exactly 80 cm² is not less than 80 cm²
  const LabelTerms terms = label_terms();
  EXPECT_EQ(minimum_height(terms.type_sizes, "text", 8000, std::nullopt)->micrometres, 1200);
  EXPECT_EQ(minimum_height(terms.type_sizes, "text", 7999, std::nullopt)->micrometres, 900);
  EXPECT_EQ(minimum_height(terms.type_sizes, "text", 40'000, std::nullopt)->measured, "x-height");
}

TEST(MinimumHeight, LeavesAFaceAtTheEdgeToTheOtherRow) {
  const std::vector<TypeSizeTerm> rows = label_terms().type_sizes;
  EXPECT_FALSE(minimum_height(std::span{rows}.subspan(1, 1), "text", 8000, std::nullopt)) << "the row for faces below 80 cm²";
  EXPECT_FALSE(minimum_height(std::span{rows}.first(1), "text", 7999, std::nullopt)) << "the row for faces from 80 cm²";
}

TEST(MinimumHeight, ChangesStrictlyAboveEachMass) {
  const LabelTerms terms = label_terms();
  const auto height = [&](Mass mass) { return minimum_height(terms.type_sizes, "net quantity e-mark", 40'000, mass)->micrometres; };
  EXPECT_EQ(height(grams(50) + Mass::milligrams(1)), 3000);
  EXPECT_EQ(height(grams(1000)), 4000);
  EXPECT_EQ(height(grams(1000) + Mass::milligrams(1)), 6000);
}

/// Areas in mm² that stand for inches: 25 sq in are 16 129 mm², 100 sq in 64 516 mm².
TEST(MinimumHeight, ChangesStrictlyAboveAnAreaInSquareMillimetres) {
  const auto row = [](std::optional<std::int64_t> above, std::optional<std::int64_t> up_to, std::int64_t um) {
    TypeSizeTerm term{{"pdp", "21 CFR 101.7(i)", true}, "net quantity", "letter height", {}, {}, {}, {}, um};
    term.face_above_mm2 = above;
    term.face_up_to_mm2 = up_to;
    return term;
  };
  const std::vector<TypeSizeTerm> rows = {row({}, 16129, 3175), row(16129, 64516, 4763), row(64516, {}, 6350)};
  const auto height = [&](std::int64_t mm2) { return minimum_height(rows, "net quantity", mm2, {})->micrometres; };
  EXPECT_EQ(height(16129), 3175);
  EXPECT_EQ(height(16130), 4763);
  EXPECT_EQ(height(64516), 4763);
  EXPECT_EQ(height(64517), 6350);
  EXPECT_EQ(minimum_height(rows, "net quantity", 1, {})->measured, "letter height");
}

TEST(MinimumHeight, GoesByTheWholeSurfaceAndTakesAnUnknownOneForLarge) {
  TypeSizeTerm large{{"large", "1.2.1-25", true}, "warning statement", "letter height", {}, {}, {}, {}, 3000};
  large.surface_from_cm2 = 100;
  TypeSizeTerm small{{"small", "1.2.1-25", true}, "warning statement", "letter height", {}, {}, {}, {}, 1500};
  small.surface_below_cm2 = 100;
  const std::vector<TypeSizeTerm> rows = {large, small};
  const auto height = [&](std::optional<std::int64_t> mm2) { return minimum_height(rows, "warning statement", 100, {}, mm2)->micrometres; };
  EXPECT_EQ(height(9'999), 1500);
  EXPECT_EQ(height(10'000), 3000);
  EXPECT_EQ(height({}), 3000);
}

TEST(MinimumHeight, IsGivenForEachMeasureApart) {
  const std::vector<TypeSizeTerm> rows = {{{"a", "none"}, "text", "x-height", {}, {}, {}, {}, 1200},
                                          {{"b", "none"}, "text", "letter height", {}, {}, {}, {}, 1600},
                                          {{"c", "none"}, "text", "x-height", {}, {}, {}, {}, 1300},
                                          {{"d", "none"}, "net quantity", "letter height", {}, {}, {}, {}, 9000}};
  const std::vector<MinimumHeight> found = minimum_heights(rows, "text", 100, {});
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(found[0].measured, "x-height");
  EXPECT_EQ(found[0].micrometres, 1300);
  EXPECT_EQ(found[0].cited.row, "c");
  EXPECT_EQ(found[1].micrometres, 1600);
  EXPECT_EQ(minimum_height(rows, "text", 100, {})->micrometres, 1600);
}

TEST(MinimumHeight, IsTheTallestWhenTheMassIsNotKnown) {
  const LabelTerms terms = label_terms();
  EXPECT_EQ(minimum_height(terms.type_sizes, "net quantity e-mark", 40'000, std::nullopt)->micrometres, 6000);
}

TEST(MinimumHeight, IsNothingWhereNoRowSpeaks) {
  EXPECT_FALSE(minimum_height(label_terms().type_sizes, "warning statement", 40'000, std::nullopt));
}

TEST(LargestFace, IsTheGreatestSideOfABox) {
  EXPECT_EQ(largest_face_of_box(300, 200, 100), 60'000);
  EXPECT_EQ(largest_face_of_box(100, 100, 350), 35'000);
  EXPECT_EQ(largest_face_of_box(-1, 100, 50), 5'000);
}

TEST(LargestFace, IsLidOrSideOfARoundBoxRoundedUp) {
  EXPECT_EQ(largest_face_of_cylinder(200, 40), 31'416);  // lid: 10 000 pi
  EXPECT_EQ(largest_face_of_cylinder(200, 60), 37'700);  // side: 12 000 pi = 37 699.1
}

}  // namespace
}  // namespace tierproof
