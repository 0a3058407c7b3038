// Tables of water activity and pH: how they are read and refused.
#include <fmt/format.h>
#include <gmock/gmock.h>

#include "pack_for_tests.h"

namespace tierproof {
namespace {

using testing::Contains;
using testing::StartsWith;

TEST(ActivityTableRows, AreReadBandByBandAndSharedByAllPlaces) {
  auto base = pack(
      "base", "temperature", "",
      {row(
          "t", "activity-and-ph",
          R"("food": "open", "activity": ["below 0.88", "up to 0.90"], "ph": ["up to 5.0"], "assessed": ["no no", "no yes", "yes yes"])")});
  base.text.replace(base.text.find("\"rows\""), 0, R"("base": true, )");
  const auto packs = read({base});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto table = packs->shared_activity_table("open", day(2022, 1, 1));
  ASSERT_TRUE(table.has_value());
  ASSERT_EQ(table->activity.size(), 2u);
  EXPECT_EQ(table->activity[0].at, share_of(88, 100));
  EXPECT_FALSE(table->activity[0].belongs);
  EXPECT_EQ(table->activity[1].at, share_of(90, 100));
  EXPECT_TRUE(table->activity[1].belongs);
  EXPECT_EQ(table->assessed, (std::vector<std::vector<bool>>{{false, false}, {false, true}, {true, true}}));
  EXPECT_EQ(table->cited.row, "t");
  EXPECT_FALSE(packs->shared_activity_table("packed after heating", day(2022, 1, 1)));
}

TEST(ActivityTableRows, AreRefusedWithBandsThatDoNotRiseOrCellsThatAreMissing) {
  const auto table = [](const char* id, const char* activity, const char* assessed) {
    return row(id, "activity-and-ph",
               fmt::format(R"("food": "open", "activity": [{}], "ph": ["up to 5.0"], "assessed": [{}])", activity, assessed));
  };
  const auto wrong =
      refused({pack("aa", "temperature", "",
                    {table("a", R"("below 0.90", "up to 0.90")", R"("no no", "no no", "no no")"),
                     table("b", R"("under 0.90")", R"("no no", "no no")"), table("c", R"("below 0.90")", R"("no no", "no")"),
                     table("d", R"("below 0.90")", R"("no no")"), table("e", R"("below 0.90")", R"("no no", "no perhaps")")})});
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:5: rows[0].activity: \"up to 0.90\" ends no band above the one before")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:6: rows[1].activity: \"under 0.90\" ends no band")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:7: rows[2].assessed: \"no\" has 1 words, not 2")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:8: rows[3].assessed: has 1 lines, not 2")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:9: rows[4].assessed: \"perhaps\" is neither yes nor no")));
}

}  // namespace
}  // namespace tierproof
