// Codes as scanners give them. C14: a worked case of the project's notes on traceability, after the GS1 General Specifications and the GS1
// Barcode Syntax Dictionary (github gs1/gs1-syntax-dictionary).
#include "tierproof/sums/gs1_scan.h"

#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include "tierproof/sums/gs1.h"

namespace tierproof {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

Date on(int year, unsigned month, unsigned day) { return std::chrono::year{year} / std::chrono::month{month} / std::chrono::day{day}; }
Result<ScannedPack> scanned(std::string_view text, int year = 2026) { return read_gs1_scan(text, year, "--scanned"); }
std::string refused(std::string_view text) {
  const auto scan = scanned(text);
  EXPECT_FALSE(scan.has_value()) << text;
  std::string all;
  if (!scan) {
    for (const auto& refusal : scan.error()) all += describe(refusal) + "\n";
  }
  return all;
}

TEST(Gs1Scan, ReadsTheWorkedCase) {  // C14
  for (const char* text : {"01062910415002131526093031030012501"
                           "0A77-2",
                           "]C10106291041500213152609303103001250"
                           "10A77-2",
                           "(01)06291041500213(15)260930(3103)001250(10)A77-2", "[01]06291041500213[15]260930[3103]001250[10]A77-2"}) {
    const auto scan = scanned(text);
    ASSERT_TRUE(scan.has_value()) << text << refused(text);
    EXPECT_EQ(scan->gtin, "06291041500213") << text;
    EXPECT_EQ(scan->best_before, on(2026, 9, 30)) << text;
    EXPECT_EQ(scan->net, grams(1250)) << text;
    EXPECT_EQ(scan->lot, "A77-2") << text;
    EXPECT_TRUE(scan->unread.empty()) << text;
  }
}

TEST(Gs1Scan, TakesDayNoughtAsTheLastOfTheMonth) {
  EXPECT_EQ(scanned("(01)06291041500213(15)260200")->best_before, on(2026, 2, 28));
  EXPECT_EQ(scanned("(01)06291041500213(17)280200")->use_by, on(2028, 2, 29));
}

TEST(Gs1Scan, FindsTheCentury) {  // GS1 General Specifications 7.12
  const auto year = [](const char* two, int now) {
    return int{scanned(std::string{"(01)06291041500213(15)"} + two + "0101", now)->best_before->year()};
  };
  EXPECT_EQ(year("76", 2026), 2076) << "50 ahead";
  EXPECT_EQ(year("77", 2026), 1977) << "51 ahead";
  EXPECT_EQ(year("26", 2076), 2126) << "50 behind";
  EXPECT_EQ(year("27", 2076), 2027) << "49 behind";
}

TEST(Gs1Scan, EndsALotAtTheSeparatorAndKeepsWhatItDoesNotRead) {
  const auto scan = scanned(
      "010629104150021310A77/2\x1d"
      "3712\x1d"
      "17260930");
  ASSERT_TRUE(scan.has_value());
  EXPECT_EQ(scan->lot, "A77/2");
  EXPECT_EQ(scan->use_by, on(2026, 9, 30));
  EXPECT_THAT(scan->unread, ElementsAre("(37)12"));
}

TEST(Gs1Scan, ReadsADigitalLink) {  // GS1 Digital Link URI syntax: 01, then 22, 10, 21 in the path, dates as query
  const auto scan = scanned("https://id.example.org/01/06291041500213/10/A77%2F2?15=260930&lang=en#top");
  ASSERT_TRUE(scan.has_value());
  EXPECT_EQ(scan->gtin, "06291041500213");
  EXPECT_EQ(scan->lot, "A77/2");
  EXPECT_EQ(scan->best_before, on(2026, 9, 30));
  EXPECT_THAT(refused("https://id.example.org/shop/12"), HasSubstr("names no goods"));
  EXPECT_THAT(refused("https://id.example.org/01/06291041500213/10"), HasSubstr("ends with (10)"));
  EXPECT_THAT(refused("https://id.example.org/01/06291041500213/10/A%2"), HasSubstr("not encoded"));
  EXPECT_FALSE(scanned("https://").has_value());
}

TEST(Gs1Scan, RefusesWhatIsCutShortOrCannotBe) {
  EXPECT_THAT(refused("0106291041500213310200"), HasSubstr("(3102) is cut short"));
  EXPECT_THAT(refused("01062910415002"), HasSubstr("(01) is cut short"));
  EXPECT_THAT(refused("(01)06291041500213(10)A23456789012345678901"), HasSubstr("21 characters"));
  EXPECT_TRUE(scanned("(01)06291041500213(10)A2345678901234567890").has_value());
  EXPECT_THAT(refused("(17)260930"), HasSubstr("without the number of the goods"));
  EXPECT_THAT(refused("10A77-2"), HasSubstr("without the number of the goods"));
  EXPECT_THAT(refused("(01)06291041500223"), HasSubstr("check digit"));
  EXPECT_THAT(refused("(01)06291041500213(15)261301"), HasSubstr("not a date"));
  EXPECT_THAT(refused("(01)06291041500213(15)260230"), HasSubstr("not a date"));
  EXPECT_THAT(refused("(01)06291041500213(15)26093"), HasSubstr("not a date"));
  EXPECT_THAT(refused("(01)06291041500213(10)A(10)B"), HasSubstr("stands there twice"));
  EXPECT_THAT(refused("(01)06291041500213(3107)001250"), HasSubstr("too many decimals"));
  EXPECT_THAT(refused("hello"), HasSubstr("no application identifier"));
  EXPECT_THAT(refused(""), HasSubstr("nothing of a GS1 code"));
  EXPECT_THAT(refused("0"), HasSubstr("no application identifier"));
  EXPECT_THAT(refused("(01"), HasSubstr("in brackets"));
}

RC_GTEST_PROP(Gs1Scan, ReadsBackWhatIsWritten, ()) {
  Gs1Goods goods;
  goods.gtin = "06291041500213";
  goods.best_before = on(*rc::gen::inRange(2000, 2077), *rc::gen::inRange(1U, 13U), *rc::gen::inRange(1U, 29U));
  const std::string letters = "ABCabc019-/.%()_";
  goods.lot = *rc::gen::suchThat(rc::gen::container<std::string>(rc::gen::elementOf(letters)),
                                 [](const std::string& s) { return !s.empty() && s.size() <= 20 && s.find('(') == std::string::npos; });
  const auto written = gs1_element_string(goods, "code");
  RC_ASSERT(written.has_value());
  const auto read = scanned(*written);
  RC_ASSERT(read.has_value());
  RC_ASSERT(read->gtin == goods.gtin);
  RC_ASSERT(read->best_before == goods.best_before);
  RC_ASSERT(read->lot == goods.lot);
}

RC_GTEST_PROP(Gs1Scan, NeverFailsOnAnyText, (const std::string& text)) {
  const auto scan = scanned(text);
  const bool told = scan ? true : !scan.error().empty();
  RC_ASSERT(told);
}

}  // namespace
}  // namespace tierproof
