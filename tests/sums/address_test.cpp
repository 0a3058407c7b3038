#include "tierproof/sums/address.h"

#include <gtest/gtest.h>

namespace tierproof {
namespace {

LabelTerms asking(bool from_memory) {
  LabelTerms terms;
  terms.address = AddressTerm{{"business-address", "art. 8", from_memory}, {"GB", "GG"}, "a name and an address in the United Kingdom"};
  return terms;
}
RouteTerm route(std::vector<std::string> on_pack) {
  RouteTerm made{};
  made.on_pack = std::move(on_pack);
  return made;
}

TEST(Address, IsShownInACountryOfTheRow) {
  for (const char* country : {"GB", "gb", "GG"}) {
    const auto found = judge_address("cake-1", country, route({"business"}), asking(false));
    ASSERT_TRUE(found) << country;
    EXPECT_EQ(found->verdict, Verdict::shown) << country;
    EXPECT_EQ(found->control, "business-address");
  }
}

TEST(Address, IsNotShownWhileTheCountryIsNotRecorded) {
  const auto found = judge_address("cake-1", "", route({"business"}), asking(false));
  EXPECT_EQ(found->verdict, Verdict::not_shown);
  EXPECT_NE(found->message.find("a name and an address in the United Kingdom"), std::string::npos) << found->message;
}

TEST(Address, IsNotMetElsewhereOnlyByAFirmRow) {
  EXPECT_EQ(judge_address("cake-1", "FR", route({"business"}), asking(false))->verdict, Verdict::not_met);
  const auto doubtful = judge_address("cake-1", "FR", route({"business"}), asking(true));
  EXPECT_EQ(doubtful->verdict, Verdict::not_shown);
  EXPECT_NE(doubtful->message.find("from memory: confirm it with the food authority"), std::string::npos);
  LabelTerms confirmed = asking(true);
  confirmed.address->cited.confirmed = "asked by A on 1 May";
  EXPECT_EQ(judge_address("cake-1", "FR", route({"business"}), confirmed)->verdict, Verdict::not_met);
}

TEST(Address, IsAskedOnlyWhereThePackNeedsIt) {
  EXPECT_FALSE(judge_address("cake-1", "", route({"name"}), asking(false)));
  EXPECT_TRUE(judge_address("cake-1", "", std::nullopt, asking(false))) << "a way of selling that is not known";
  EXPECT_FALSE(judge_address("cake-1", "", route({"business"}), {}));
}

}  // namespace
}  // namespace tierproof
