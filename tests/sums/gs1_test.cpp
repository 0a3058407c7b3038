#include "tierproof/sums/gs1.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

namespace tierproof {
namespace {

std::string why_refused(const Result<std::string>& read) {
  EXPECT_FALSE(read.has_value());
  std::string all;
  if (!read) {
    for (const auto& refusal : read.error()) {
      EXPECT_EQ(refusal.field, "the number");
      EXPECT_FALSE(refusal.remedy.empty());
      all += (all.empty() ? "" : "\n") + refusal.message;
    }
  }
  return all;
}
Result<std::string> gtin(std::string_view text) { return read_gtin(text, "the number"); }
Result<std::string> prefix(std::string_view text) { return read_company_prefix(text, "the number"); }
Result<std::string> own(std::string_view text, std::string_view of) { return read_own_gtin(text, of, "the number"); }

struct Published {
  std::string number;
  std::string source;
};

// Numbers with their check digits, each from where it is published.
const std::vector<Published> right{
    {"6291041500213", "GS1, how to calculate a check digit manually: the worked example 629104150021 and 3"},
    {"8904000210037", "GS1 India, how to calculate the check digit: 890400021003 and 7"},
    {"7300011000017", "GS1 Sweden's example of a Global Location Number"},
    {"02345673", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    {"416000336108", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    {"1234567890128", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    {"12345678901231", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    {"123456789012345675", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    // Worked out by hand with weights 3 and 1 from the right: 501234567890 gives 90, 204000000001 gives 9, 040123456789 gives 107.
    {"5012345678900", "GS1 General Specifications 7.9, by hand"},
    {"2040000000011", "GS1 General Specifications 7.9, by hand"},
    {"0401234567893", "GS1 General Specifications 7.9, by hand"},
    {"09521234543213", "example GTIN of the GS1 standards, GS1 Prefix 952 for examples (from memory)"},
};
const std::vector<Published> wrong{
    {"12345673", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    {"416000336109", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    {"1234567890129", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    {"12345678901232", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    {"123456789012345670", "GS1 Barcode Syntax Dictionary, tests of its check digit"},
    {"6291041500223", "the worked example of GS1 with one digit changed"},
};

TEST(Gs1CheckDigit, IsThatOfPublishedNumbers) {
  for (const auto& [number, source] : right)
    EXPECT_EQ(gs1_check_digit(std::string_view{number}.substr(0, number.size() - 1)), number.back()) << number << ": " << source;
  for (const auto& [number, source] : wrong)
    EXPECT_NE(gs1_check_digit(std::string_view{number}.substr(0, number.size() - 1)), number.back()) << number << ": " << source;
}

/// GS1 General Specifications 7.9: weights of 1 and 3 add up to a multiple of ten; none of them shares a factor with ten.
RC_GTEST_PROP(Gs1CheckDigit, NoticesEverySingleWrongDigit, ()) {
  const auto length = *rc::gen::element<std::size_t>(7, 11, 12, 13);
  std::string number = *rc::gen::container<std::string>(length, rc::gen::inRange('0', static_cast<char>('9' + 1)));
  number += gs1_check_digit(number);
  const auto at = *rc::gen::inRange<std::size_t>(0, number.size());
  const int more = *rc::gen::inRange(1, 10);
  number[at] = static_cast<char>('0' + (number[at] - '0' + more) % 10);
  RC_ASSERT(gs1_check_digit(std::string_view{number}.substr(0, length)) != number.back());
}

TEST(Gtin, IsReadInItsFourLengths) {
  EXPECT_EQ(*gtin("02345673"), "00000002345673");
  EXPECT_EQ(*gtin("416000336108"), "00416000336108");
  EXPECT_EQ(*gtin("6291041500213"), "06291041500213");
  EXPECT_EQ(*gtin("12345678901231"), "12345678901231");
}

TEST(Gtin, IsRefusedWithWhatIsWrong) {
  EXPECT_EQ(why_refused(gtin("6291041500223")), "the check digit of 6291041500223 does not fit: after 629104150022 comes 0, not 3");
  // By hand from the right: 2×3 + 0 + 0×3 + 5 + 1×3 + 4 + 0×3 + 1 + 9×3 + 2 + 6×3 = 66, and 4 more are 70.
  EXPECT_EQ(why_refused(gtin("629104150021")), "the check digit of 629104150021 does not fit: after 62910415002 comes 4, not 1");
  EXPECT_EQ(why_refused(gtin("62910415002")), "62910415002 has 11 digits: a GTIN has 8, 12, 13 or 14");
  EXPECT_EQ(why_refused(gtin("123456789012345675")), "123456789012345675 has 18 digits: a GTIN has 8, 12, 13 or 14");
  EXPECT_EQ(why_refused(gtin("629 104150021 3")), "\"629 104150021 3\" is no GTIN");
  EXPECT_EQ(why_refused(gtin("")), "\"\" is no GTIN");
  EXPECT_EQ(why_refused(gtin("0000000000000")), "0000000000000 is no GTIN");
}

TEST(CompanyPrefix, HasFourToTwelveDigits) {
  EXPECT_EQ(*prefix("9521"), "9521");
  EXPECT_EQ(*prefix("952123454321"), "952123454321");
  EXPECT_EQ(*prefix("0614141"), "0614141");
  for (const char* bad : {"952", "9521234543213", "952-1234", " 9521234", ""})
    EXPECT_EQ(why_refused(prefix(bad)), "\"" + std::string{bad} + "\" is no GS1 Company Prefix");
}

// GS1 General Specifications 1.4.2 (from memory): numbers within a region or a company, periodicals, books, coupons.
TEST(CompanyPrefix, IsNoneThatACompanyIsNotGiven) {
  EXPECT_EQ(why_refused(prefix("2012345")), "2012345 begins a number that counts within one region only: it is no company's");
  EXPECT_EQ(why_refused(prefix("0412345")), "0412345 begins a number that counts within one company only: it is no company's");
  EXPECT_EQ(why_refused(prefix("9781234")), "9781234 begins a number of books: it is no company's");
  for (const char* bad : {"0200000", "0500000", "0000012", "9510000", "9770000", "9790000", "9810000", "9900000"})
    EXPECT_NE(why_refused(prefix(bad)), "") << bad;
  for (const char* good : {"0100000", "0300000", "0000100", "1000000", "3000000", "9500000", "9520000", "9760000", "9690000"})
    EXPECT_TRUE(prefix(good).has_value()) << good;
}

TEST(OwnGtin, BeginsWithThePrefixOfTheBusiness) {
  EXPECT_EQ(*own("9521234543213", "9521234"), "09521234543213");
  EXPECT_EQ(*own("09521234543213", "9521234"), "09521234543213");
  EXPECT_EQ(*own("19521234543210", "9521234"), "19521234543210") << "the indicator stands in front of the prefix";
  EXPECT_EQ(*own("416000336108", "0416000"), "00416000336108") << "a U.P.C. prefix has a 0 in front";
  EXPECT_EQ(why_refused(own("6291041500213", "9521234")), "6291041500213 does not begin with the kitchen's GS1 Company Prefix 9521234");
  EXPECT_EQ(why_refused(own("9521234543213", "9521235")), "9521234543213 does not begin with the kitchen's GS1 Company Prefix 9521235");
  EXPECT_EQ(why_refused(own("416000336108", "416000")), "416000336108 does not begin with the kitchen's GS1 Company Prefix 416000");
}

TEST(OwnGtin, IsRefusedWhereItCannotBeChecked) {
  EXPECT_EQ(why_refused(own("9521234543213", "")), "the kitchen has no GS1 Company Prefix that a GTIN could begin with");
  EXPECT_EQ(why_refused(own("9521234543214", "")), "the check digit of 9521234543214 does not fit: after 952123454321 comes 3, not 4");
  EXPECT_EQ(why_refused(own("95212340", "9521234")), "95212340 is a GTIN-8, which holds no company prefix to check it by");
  // GS1 General Specifications 2.1.10: indicator 9 is kept for trade items of variable measure.
  EXPECT_EQ(why_refused(own("99521234543216", "9521234")),
            "99521234543216 is of goods sold by weight, whose code has to carry the mass too");
}

Gs1Goods goods() {
  Gs1Goods cake;
  cake.gtin = "09521234543213";
  return cake;
}
Result<std::string> elements(const Gs1Goods& cake) { return gs1_element_string(cake, "the number"); }

TEST(ElementString, TellsEveryPartWithItsIdentifier) {
  EXPECT_EQ(*elements(goods()), "[01]09521234543213");
  Gs1Goods cake = goods();
  cake.use_by = parse_date("2026-05-04");
  cake.lot = "cake-1";
  EXPECT_EQ(*elements(cake), "[01]09521234543213[17]260504[10]cake-1");
  cake.made = parse_date("2026-05-01");
  cake.sell_by = parse_date("2026-05-03");
  cake.serial = "12/3";
  EXPECT_EQ(*elements(cake), "[01]09521234543213[11]260501[16]260503[17]260504[10]cake-1[21]12/3");
}

// The parts of a published element string, in the order of the standard: (01)06291041500213 (15)260930 (10)A77-2.
TEST(ElementString, TellsABestBeforeDateApartFromAUseBy) {
  Gs1Goods cake = goods();
  cake.gtin = *gtin("6291041500213");
  cake.best_before = parse_date("2026-09-30");
  cake.lot = "A77-2";
  EXPECT_EQ(*elements(cake), "[01]06291041500213[15]260930[10]A77-2");
  cake.use_by = cake.best_before;
  EXPECT_EQ(why_refused(elements(cake)), "a best-before date stands beside a use-by date");
}

// GS1 Barcode Syntax Dictionary: 8006 is a GTIN with two digits of piece and two of how many, in place of 01.
TEST(ElementString, TellsWhichPieceOfSeveralThisIs) {
  Gs1Goods box = goods();
  box.piece = 2;
  box.pieces = 3;
  box.lot = "cake-1";
  EXPECT_EQ(*elements(box), "[8006]095212345432130203[10]cake-1");
  for (const auto& [piece, pieces] : std::vector<std::pair<int, int>>{{4, 3}, {-1, 3}, {1, 100}, {1, 0}}) {
    box.piece = piece;
    box.pieces = pieces;
    EXPECT_EQ(why_refused(elements(box)), "piece " + std::to_string(piece) + " of " + std::to_string(pieces) + " cannot be coded");
  }
}

TEST(ElementString, RefusesEverythingThatIsWrongTogether) {
  Gs1Goods cake = goods();
  cake.gtin = "09521234543214";
  cake.use_by = parse_date("1999-12-31");
  cake.made = parse_date("2100-01-01");
  cake.lot = "123456789012345678901";
  cake.serial = "gâteau";
  EXPECT_EQ(why_refused(elements(cake)),
            "the check digit of 09521234543214 does not fit: after 0952123454321 comes 3, not 4\n"
            "the date for (11) cannot be written with a year of two figures\n"
            "the date for (17) cannot be written with a year of two figures\n"
            "the lot \"123456789012345678901\" is longer than 20 characters\n"
            "the serial number \"gâteau\" holds a character that GS1 codes do not carry");
}

TEST(ElementString, TakesTheFirstAndLastDayOfItsCenturyAndTwentyCharacters) {
  Gs1Goods cake = goods();
  cake.made = parse_date("2000-01-01");
  cake.use_by = parse_date("2099-12-31");
  cake.lot = "12345678901234567890";
  EXPECT_EQ(*elements(cake), "[01]09521234543213[11]000101[17]991231[10]12345678901234567890");
}

// Dates are written YYMMDD, GS1 General Specifications 3.4.
TEST(ElementString, TellsALeapDayAndTheLastDayOfFebruary) {
  Gs1Goods cake = goods();
  cake.best_before = parse_date("2028-02-29");
  EXPECT_EQ(*elements(cake), "[01]09521234543213[15]280229");
  cake.best_before = parse_date("2026-02-28");
  EXPECT_EQ(*elements(cake), "[01]09521234543213[15]260228");
}

// GS1 Barcode Syntax Dictionary, tests of character set 82: these are in it, these are not.
TEST(ElementString, TakesTheCharactersOfSet82AndNoOthers) {
  const std::string in_set = "!\"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz";
  ASSERT_EQ(in_set.size(), 82u);
  for (int c = 1; c < 256; ++c) {
    Gs1Goods cake = goods();
    cake.lot = std::string{"a"} + static_cast<char>(c);
    EXPECT_EQ(elements(cake).has_value(), in_set.find(static_cast<char>(c)) != std::string::npos) << c;
  }
}

}  // namespace
}  // namespace tierproof
