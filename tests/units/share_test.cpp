#include "tierproof/units/share.h"

#include <gtest/gtest.h>

#include "tierproof/units/mass.h"
#include "tierproof/units/result.h"

namespace tierproof {
namespace {

template <class A, class B>
concept Mixes = requires(A a, B b) {
  a + b;
};
static_assert(!Mixes<Mass, int>);
static_assert(!Mixes<Mass, double>);

TEST(Share, IsRoundedHalfUpOnlyWhenItIsWritten) {
  EXPECT_EQ(format_decimal(share_of(1, 3), 2), "0.33");
  EXPECT_EQ(format_decimal(share_of(2, 3), 2), "0.67");
  EXPECT_EQ(format_decimal(share_of(5, 1000), 2), "0.01");
  EXPECT_EQ(format_decimal(share_of(-5, 1000), 2), "-0.01");
  EXPECT_EQ(format_decimal(share_of(-4, 1000), 2), "0.00");
  EXPECT_EQ(format_decimal(share_of(1005, 10), 0), "101");
  EXPECT_EQ(format_decimal(Share{12}, 3), "12.000");
}

TEST(Share, ComparesExactlyWhereDecimalsWouldNot) {
  Share sum = 0;
  for (int i = 0; i < 10; ++i) sum += share_of(1, 10);
  EXPECT_EQ(sum, Share{1});
  EXPECT_LT(share_of(1, 3) * 2, share_of(2, 3) + share_of(1, 1'000'000'000'000));
}

TEST(Mass, AddsUpToTheMilligram) {
  EXPECT_EQ(grams(2) + Mass::milligrams(5), Mass::milligrams(2005));
  EXPECT_EQ(grams(1) - grams(3), Mass::milligrams(-2000));
  EXPECT_LT(Mass::milligrams(999), grams(1));
}

TEST(Refusal, NamesFileLineFieldAndRemedy) {
  EXPECT_EQ(describe({"a.json", 14, "from", "\"2014-13-12\" is not a date", "write 2014-12-13"}),
            "a.json:14: from: \"2014-13-12\" is not a date; write 2014-12-13");
  EXPECT_EQ(describe({"", 0, "--mass", "is missing", "write it"}), "--mass: is missing; write it");
  EXPECT_EQ(describe({"", 3, "", "is cut short", ""}), "line 3: is cut short");
}

TEST(ShortDecimal, DropsZerosAtTheEndOfAFractionAndNoOthers) {
  EXPECT_EQ(short_decimal("12.50"), "12.5");
  EXPECT_EQ(short_decimal("-0.250"), "-0.25");
  EXPECT_EQ(short_decimal("5.00"), "5");
  EXPECT_EQ(short_decimal("100.00"), "100");
  EXPECT_EQ(short_decimal("100"), "100");
}

}  // namespace
}  // namespace tierproof
