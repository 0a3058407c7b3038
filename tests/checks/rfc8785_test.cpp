// Published values of RFC 8785, "JSON Canonicalization Scheme (JCS)", June 2020. tierproof admits a subset of it: no fractions, no
// exponents, whole numbers within ±(2^53-1), keys in printable ASCII. The RFC's examples outside that subset must be refused.

#include <gtest/gtest.h>

#include <string>

#include "tierproof/text/json.h"

namespace tierproof {
namespace {

std::string canonical(std::string_view text) {
  const auto read = parse_json(text, "rfc8785");
  EXPECT_TRUE(read.has_value()) << text << ": " << (read ? "" : describe(read.error().front()));
  return read ? write_canonical(*read) : "";
}

std::string hex(std::string_view bytes) {
  std::string out;
  for (const unsigned char byte : bytes) {
    out += "0123456789abcdef"[byte >> 4];
    out += "0123456789abcdef"[byte & 15];
  }
  return out;
}

// Section 3.2.2: the sample input, without its member "numbers", whose values (section 3.2.2.3) all have fractions or exponents.
TEST(Rfc8785, Section322SampleWithoutItsNumbers) {
  EXPECT_EQ(canonical(R"({
       "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
       "literals": [null, true, false]
     })"),
            "{\"literals\":[null,true,false],\"string\":\"€$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}");
}

// Section 3.2.4: the UTF-8 bytes of that sample; the two members named above are cut out of the RFC's table.
TEST(Rfc8785, Section324BytesOfThatSample) {
  EXPECT_EQ(hex(canonical(R"({"string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/", "literals": [null, true, false]})")),
            "7b226c69746572616c73223a5b6e756c6c2c747275652c66616c73655d2c"
            "22737472696e67223a22e282ac245c75303030665c6e4127425c225c5c5c5c5c222f227d");
}

// Section 3.2.2: the whole sample is refused for each of its five numbers.
TEST(Rfc8785, Section322NumbersAreOutsideOurSubset) {
  const auto read = parse_json(R"({"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001]})", "rfc8785");
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().size(), 5u);
}

// Section 3.2.3: the sorting example; its keys "\u20ac", "\ufb33", "\ud83d\ude00", "\u0080" and "\u00f6" are not ASCII.
TEST(Rfc8785, Section323KeysOutsideAsciiAreRefused) {
  const auto read = parse_json(R"({
       "\u20ac": "Euro Sign",
       "\r": "Carriage Return",
       "\ufb33": "Hebrew Letter Dalet With Dagesh",
       "1": "One",
       "\ud83d\ude00": "Emoji: Grinning Face",
       "\u0080": "Control",
       "\u00f6": "Latin Small Letter O With Diaeresis"
     })",
                               "rfc8785");
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().size(), 6u);  // "\r" is ASCII but not printable: refused with the five
}

// Section 3.2.2.2: which escapes; U+007F and what is beyond ASCII stand as they are.
TEST(Rfc8785, Section3222Escapes) {
  EXPECT_EQ(canonical(R"("\u0008\u0009\u000a\u000c\u000d\u0022\u005c")"), R"("\b\t\n\f\r\"\\")");
  EXPECT_EQ(canonical(R"("\u0001\u001F\u007f\u2028\/")"), "\"\\u0001\\u001f\x7f\u2028/\"");
}

// Section 3.2.1: white space between tokens is not written.
TEST(Rfc8785, Section321WhiteSpace) { EXPECT_EQ(canonical("{ \"b\" :\t[ 1 ,\r\n2 ] , \"a\" : { } }"), R"({"a":{},"b":[1,2]})"); }

// Appendix B: number samples. Those that are whole numbers in their ES6 form and within ±(2^53-1) come out as the table has them.
TEST(Rfc8785, AppendixBWholeNumbers) {
  EXPECT_EQ(canonical("0"), "0");                                // 0000000000000000 "Zero"
  EXPECT_EQ(canonical("9007199254740991"), "9007199254740991");  // 2^53-1: the bound of RFC 7493 section 2.2
  EXPECT_EQ(canonical("-9007199254740991"), "-9007199254740991");
}

// Appendix B: the others, as the table prints them, are refused rather than rounded.
TEST(Rfc8785, AppendixBNumbersOutsideOurSubsetAreRefused) {
  for (const char* number : {"-0",                         // 8000000000000000 "Minus zero" (JCS prints 0)
                             "5e-324",                     // 0000000000000001 "Min pos number"
                             "-5e-324",                    // 8000000000000001 "Min neg number"
                             "1.7976931348623157e+308",    // 7fefffffffffffff "Max pos number"
                             "-1.7976931348623157e+308",   // ffefffffffffffff "Max neg number"
                             "9007199254740992",           // 4340000000000000 "Max pos int"
                             "-9007199254740992",          // c340000000000000 "Max neg int"
                             "295147905179352830000",      // 4430000000000000 "~2**68"
                             "NaN",                        // 7fffffffffffffff
                             "Infinity",                   // 7ff0000000000000
                             "9.999999999999997e+22",      // 44b52d02c7e14af5
                             "1e+23",                      // 44b52d02c7e14af6
                             "1.0000000000000001e+23",     // 44b52d02c7e14af7
                             "999999999999999700000",      // 444b1ae4d6e2ef4e
                             "999999999999999900000",      // 444b1ae4d6e2ef4f
                             "1e+21",                      // 444b1ae4d6e2ef50
                             "9.999999999999997e-7",       // 3eb0c6f7a0b5ed8c
                             "0.000001",                   // 3eb0c6f7a0b5ed8d
                             "333333333.3333332",          // 41b3de4355555553
                             "333333333.33333325",         // 41b3de4355555554
                             "333333333.3333333",          // 41b3de4355555555
                             "333333333.3333334",          // 41b3de4355555556
                             "333333333.33333343",         // 41b3de4355555557
                             "-0.0000033333333333333333",  // becbf647612f3696
                             "1424953923781206.2"}) {      // 43143ff3c1cb0959 "Round to even"
    const auto read = parse_json(number, "rfc8785");
    ASSERT_FALSE(read.has_value()) << number;
    EXPECT_EQ(read.error().size(), 1u) << number;
  }
}

}  // namespace
}  // namespace tierproof
