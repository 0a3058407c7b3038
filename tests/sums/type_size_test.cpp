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
