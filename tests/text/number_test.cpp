#include "tierproof/text/number.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cstdint>
#include <limits>
#include <string>

namespace tierproof {
namespace {

std::optional<std::int64_t> mg(std::string_view text) {
  const auto mass = parse_mass(text);
  return mass ? std::optional{mass->to_milligrams()} : std::nullopt;
}

std::optional<Degrees> c(std::int64_t hundredths) { return Degrees{hundredths, Scale::celsius}; }
std::optional<Degrees> f(std::int64_t hundredths) { return Degrees{hundredths, Scale::fahrenheit}; }

TEST(Decimal, ReadsWhatAPersonTypes) {
  EXPECT_EQ(parse_decimal("4"), Share(4));
  EXPECT_EQ(parse_decimal("4.5"), share_of(9, 2));
  EXPECT_EQ(parse_decimal("4,5"), share_of(9, 2));
  EXPECT_EQ(parse_decimal("-18"), Share(-18));
  EXPECT_EQ(parse_decimal("−18"), Share(-18));
  EXPECT_EQ(parse_decimal("0.1"), share_of(1, 10));
  EXPECT_EQ(parse_decimal("007"), Share(7));
  EXPECT_EQ(parse_decimal("-0"), Share(0));
  EXPECT_EQ(parse_decimal("999999999999999.999999999"), Share("999999999999999999999999/1000000000"));
}

TEST(Decimal, RefusesEverythingElse) {
  for (const char* text :
       {"",    " ",  "-",  "−",  "+4",   "4.",  ".5",  ",5", "4..5", "4.5.6", "1,234,567",        "1 000",        "1'000",
        "1e3", "4g", " 4", "4 ", "0x10", "NaN", "inf", "½",  "--4",  "- 4",   "1000000000000000", "0.0000000001", "４"}) {
    EXPECT_FALSE(parse_decimal(text).has_value()) << text;
  }
}

TEST(Decimal, RefusesACommaThatMayBeAThousandsMark) {
  EXPECT_FALSE(parse_decimal("1,500").has_value());
  EXPECT_FALSE(parse_decimal("-12,500").has_value());
  EXPECT_FALSE(parse_mass("1,500 g").has_value());
  EXPECT_EQ(parse_decimal("1.500"), share_of(3, 2));
  EXPECT_EQ(parse_decimal("0,125"), share_of(1, 8));
  EXPECT_EQ(parse_decimal("1,50"), share_of(3, 2));
  EXPECT_EQ(parse_decimal("1234,567"), share_of(1234567, 1000));
}

TEST(MassText, NeedsItsUnit) {
  EXPECT_EQ(mg("450 g"), 450'000);
  EXPECT_EQ(mg("450g"), 450'000);
  EXPECT_EQ(mg("1.5kg"), 1'500'000);
  EXPECT_EQ(mg("1,5 kg"), 1'500'000);
  EXPECT_EQ(mg("200 mg"), 200);
  EXPECT_EQ(mg("0.35 g"), 350);
  EXPECT_EQ(mg(" 0 g "), 0);
  EXPECT_EQ(mg("0.000001 kg"), 1);
  for (const char* text : {"450", "", "g", "450 lb", "450 oz", "450 G", "450 Mg", "1 KG", "450 g flour", "4 50 g", "1.5"})
    EXPECT_FALSE(mg(text)) << text;
}

TEST(MassText, RefusesNegativeFinerAndImpossibleAmounts) {
  EXPECT_FALSE(mg("-1 g"));
  EXPECT_FALSE(mg("−1 g"));
  EXPECT_FALSE(mg("0.5 mg"));
  EXPECT_FALSE(mg("1.0005 g"));
  EXPECT_EQ(mg("1.0050 g"), 1005);
  EXPECT_EQ(mg("9007199254.740991 kg"), 9007199254740991);
  EXPECT_FALSE(mg("9007199254.740992 kg"));
}

TEST(DegreesText, NeedsItsScale) {
  EXPECT_EQ(parse_degrees("71.2 C"), c(7120));
  EXPECT_EQ(parse_degrees("71,2°C"), c(7120));
  EXPECT_EQ(parse_degrees("160F"), f(16000));
  EXPECT_EQ(parse_degrees("-18 °C"), c(-1800));
  EXPECT_EQ(parse_degrees("−18 ° c"), c(-1800));
  EXPECT_EQ(parse_degrees("4.05 °F"), f(405));
  for (const char* text : {"71.2", "71.2 °", "°C", "71.2 K", "71.2 CC", "warm", "", "71.2 C now"})
    EXPECT_FALSE(parse_degrees(text)) << text;
}

TEST(DegreesText, RefusesWhatNoThermometerShows) {
  EXPECT_FALSE(parse_degrees("4.125 C"));
  EXPECT_EQ(parse_degrees("-273.15 C"), c(-27315));
  EXPECT_FALSE(parse_degrees("-273.16 C"));
  EXPECT_EQ(parse_degrees("-459.67 F"), f(-45967));
  EXPECT_FALSE(parse_degrees("-459.68 F"));
  EXPECT_FALSE(parse_degrees("10001 C"));
}

TEST(PercentText, IsAShareOfOne) {
  EXPECT_EQ(parse_percent("65 %"), share_of(65, 100));
  EXPECT_EQ(parse_percent("0.5%"), share_of(5, 1000));
  EXPECT_EQ(parse_percent("0%"), Share(0));
  EXPECT_EQ(parse_percent("100 %"), Share(1));
  for (const char* text : {"65", "%", "-1 %", "100.000000001 %", "101%", "6 5%", "65 %%"}) EXPECT_FALSE(parse_percent(text)) << text;
}

TEST(MassText, IsWrittenExactly) {
  EXPECT_EQ(format_mass(Mass::milligrams(1'250'000)), "1.25 kg");
  EXPECT_EQ(format_mass(grams(450)), "450 g");
  EXPECT_EQ(format_mass(Mass::milligrams(350)), "0.35 g");
  EXPECT_EQ(format_mass(Mass{}), "0 g");
  EXPECT_EQ(format_mass(Mass::milligrams(1)), "0.001 g");
  EXPECT_EQ(format_mass(Mass::milligrams(999'999)), "999.999 g");
  EXPECT_EQ(format_mass(grams(1000)), "1 kg");
  EXPECT_EQ(format_mass(Mass::milligrams(-300'000)), "-300 g");
  EXPECT_EQ(format_mass(Mass::milligrams(std::numeric_limits<std::int64_t>::min())), "-9223372036854.775808 kg");
}

TEST(DegreesText, IsWrittenInItsOwnScale) {
  EXPECT_EQ(format_degrees({7120, Scale::celsius}), "71.2 °C");
  EXPECT_EQ(format_degrees({16000, Scale::fahrenheit}), "160.0 °F");
  EXPECT_EQ(format_degrees({-1805, Scale::celsius}), "-18.05 °C");
  EXPECT_EQ(format_degrees({-5, Scale::celsius}), "-0.05 °C");
}

RC_GTEST_PROP(MassText, IsReadBackAsItWasWritten, ()) {
  const auto mass = Mass::milligrams(*rc::gen::inRange<std::int64_t>(0, 9007199254740992));
  RC_ASSERT(parse_mass(format_mass(mass)) == mass);
}

RC_GTEST_PROP(DegreesText, IsReadBackAsItWasWritten, ()) {
  const Degrees degrees{*rc::gen::inRange<std::int64_t>(-27315, 1'000'001), *rc::gen::element(Scale::celsius, Scale::fahrenheit)};
  RC_ASSERT(parse_degrees(format_degrees(degrees)) == degrees);
}

TEST(Text, LowersAsciiOnlyAndTrims) {
  EXPECT_EQ(ascii_lower("ÀB-Ç Z[@"), "Àb-Ç z[@");
  EXPECT_EQ(trimmed(" \t\r\n a b \f\v"), "a b");
  EXPECT_EQ(trimmed(" \n"), "");
}

TEST(Text, IsBroughtToNfcOrRefused) {
  EXPECT_EQ(to_nfc("cre\xcc\x80me"), "crème");
  EXPECT_EQ(to_nfc("plain"), "plain");
  EXPECT_EQ(to_nfc(""), "");
  EXPECT_EQ(to_nfc("\xe2\x84\xab"), "Å");  // U+212B ANGSTROM SIGN has the canonical form U+00C5 (Unicode Standard Annex #15, table 4)
  EXPECT_FALSE(to_nfc("a\xff").has_value());
  EXPECT_FALSE(to_nfc("\xed\xa0\x80").has_value());
  EXPECT_FALSE(to_nfc(std::string_view{"a\0b", 3}).has_value());
}

}  // namespace
}  // namespace tierproof
