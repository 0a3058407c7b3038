#include "tierproof/sums/small_package.h"

#include <gmock/gmock.h>

namespace tierproof {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

LabelTerms sparing(bool from_memory = false) {
  LabelTerms terms;
  terms.small_packages.push_back({{"small", "art. 2", false}, 80, {"lot"}, {}, "No lot."});
  terms.small_packages.push_back({{"tiny", "art. 1", from_memory}, 10, {"ingredients", "lot"}, {"the ingredients, when asked"}, "Little."});
  return terms;
}
RouteTerm full() {
  RouteTerm route{};
  route.on_pack = {"name", "ingredients", "lot"};
  route.told = {"the price"};
  route.words = "Packed.";
  route.declaration = "ingredient list";
  return route;
}

TEST(SmallPackage, GoesWithoutWhatItsRowSpares) {
  const auto made = for_package(full(), {9}, sparing());
  EXPECT_THAT(made.on_pack, ElementsAre("name"));
  EXPECT_THAT(made.told, ElementsAre("the price", "the ingredients, when asked"));
  EXPECT_EQ(made.declaration, "allergens");
  EXPECT_EQ(made.words, "Packed. Little.");
  ASSERT_TRUE(made.small_package);
  EXPECT_EQ(made.small_package->row, "tiny");
}

TEST(SmallPackage, IsSmallStrictlyUnderTheFaceOfTheRow) {
  const auto at_ten = for_package(full(), {10}, sparing());
  EXPECT_THAT(at_ten.on_pack, ElementsAre("name", "ingredients"));
  EXPECT_EQ(at_ten.declaration, "ingredient list");
  EXPECT_EQ(at_ten.small_package->row, "small");
  EXPECT_FALSE(for_package(full(), {80}, sparing()).small_package);
}

TEST(SmallPackage, IsNotSmallWhileItsFaceIsNotKnown) {
  for (const std::int64_t face : {0, -1}) EXPECT_FALSE(for_package(full(), {face}, sparing()).small_package) << face;
}

TEST(SmallPackage, IsNotSparedByARowFromMemoryUntilItIsConfirmed) {
  EXPECT_EQ(for_package(full(), {9}, sparing(true)).small_package->row, "small");
  auto terms = sparing(true);
  terms.small_packages.back().cited.confirmed = "asked by A on 1 May";
  EXPECT_EQ(for_package(full(), {9}, terms).small_package->row, "tiny");
}

TEST(SmallPackage, GoesByItsWholeSurfaceWhereTheRowDoesAndNeverByItsFaceThen) {
  LabelTerms terms;
  terms.small_packages.push_back({{"small", "art. 3", false}, 0, {"lot"}, {}, "No lot.", 100});
  EXPECT_TRUE(for_package(full(), {50, 99}, terms).small_package);
  EXPECT_FALSE(for_package(full(), {50, 100}, terms).small_package);
  EXPECT_FALSE(for_package(full(), {1, 0}, terms).small_package) << "not known";
}

TEST(SmallPackage, IsSparedOnlyOnTheRoutesOfTheRow) {
  LabelTerms terms;
  terms.small_packages.push_back({{"small", "art. 3", false}, 10, {"lot"}, {}, "No lot.", 0, {"direct"}});
  RouteTerm route = full();
  EXPECT_FALSE(for_package(route, {9}, terms).small_package);
  route.route = "direct";
  EXPECT_TRUE(for_package(route, {9}, terms).small_package);
}

TEST(SmallPackage, ChangesNothingWhereNothingIsAskedThatItSpares) {
  RouteTerm route = full();
  route.on_pack.clear();
  const auto made = for_package(route, {9}, sparing());
  EXPECT_THAT(made.on_pack, IsEmpty());
  EXPECT_EQ(made.words, "Packed.");
  EXPECT_FALSE(made.small_package);
}

}  // namespace
}  // namespace tierproof
