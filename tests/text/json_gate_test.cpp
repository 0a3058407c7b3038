#include <gtest/gtest.h>

#include <string>
#include <string_view>

#include "tierproof/text/json.h"
#include "tierproof/text/json_fractions.h"

namespace tierproof {
namespace {

Json read(std::string_view text) {
  const auto read = parse_json(text, "kitchen.json");
  EXPECT_TRUE(read.has_value()) << text << ": " << (read ? "" : describe(read.error().front()));
  return read ? *read : Json{};
}

Refusals gate_refusals(std::string_view text) {
  const auto read = parse_json(text, "kitchen.json");
  EXPECT_FALSE(read.has_value()) << text;
  return read ? Refusals{} : read.error();
}

std::string nested(std::size_t depth) { return std::string(depth, '[') + std::string(depth, ']'); }

TEST(JsonGate, ReadsEveryKindOfValueInDocumentOrder) {
  const auto value =
      read(R"({"name": "sponge", "parts": [1, -2, 9007199254740991, -9007199254740991, 0], "ok": true, "no": false, "gap": null})");
  EXPECT_EQ(value.find("name")->text(), "sponge");
  EXPECT_EQ(value.find("parts")->array(), (Json::Array{1, -2, std::int64_t{9007199254740991}, std::int64_t{-9007199254740991}, 0}));
  EXPECT_TRUE(value.find("ok")->boolean());
  EXPECT_FALSE(value.find("no")->boolean());
  EXPECT_TRUE(value.find("gap")->is_null());
  EXPECT_EQ(value.find("missing"), nullptr);
}

TEST(JsonGate, ReadsBareValuesAndEmptyContainers) {
  EXPECT_EQ(read("5"), Json{5});
  EXPECT_EQ(read(" null\r\n"), Json{});
  EXPECT_EQ(read("\"x\""), Json{"x"});
  EXPECT_EQ(read("[]"), Json{Json::Array{}});
  EXPECT_EQ(read("[[],{}]"), (Json{Json::Array{Json{Json::Array{}}, Json{Json::Object{}}}}));
}

TEST(JsonGate, GivesEachValueTheLineItStartsOn) {
  const auto value = read("{\n\"a\":\n 1,\r\n\"b\": [\n  true,\n  {\"c\": null,\n \"d\": \"x\"}]}");
  EXPECT_EQ(value.line(), 1);
  EXPECT_EQ(value.find("a")->line(), 3);
  EXPECT_EQ(value.find("b")->line(), 4);
  EXPECT_EQ(value.find("b")->array()[0].line(), 5);
  EXPECT_EQ(value.find("b")->array()[1].line(), 6);
  EXPECT_EQ(value.find("b")->array()[1].find("c")->line(), 6);
  EXPECT_EQ(value.find("b")->array()[1].find("d")->line(), 7);
}

TEST(JsonGate, DecodesEscapesAndSurrogatePairs) {
  EXPECT_EQ(read(R"("\"\\\/\b\f\n\r\t\u0001\u00e9\ud83c\udf82")").text(), "\"\\/\b\f\n\r\t\x01é🎂");
  EXPECT_EQ(read(R"("\u005C\u0022u0041")").text(), "\\\"u0041");
}

struct Refused {
  const char* name;
  std::string text;
  int line;
  const char* says;  ///< a part of the message
};

class RefusedText : public testing::TestWithParam<Refused> {};

TEST_P(RefusedText, IsRefusedWithItsLineAndARemedy) {
  const auto refusals = gate_refusals(GetParam().text);
  ASSERT_FALSE(refusals.empty());
  const auto& refusal = refusals.front();
  EXPECT_EQ(refusal.file, "kitchen.json");
  EXPECT_EQ(refusal.line, GetParam().line) << describe(refusal);
  EXPECT_NE(refusal.message.find(GetParam().says), std::string::npos) << describe(refusal);
  EXPECT_FALSE(refusal.remedy.empty());
}

// What RFC 8259 itself refuses, and what its section 9 lets a parser refuse; the traps of Poco's parser are among them:
// it keeps the last of two equal keys, reads 18446744073709551616 as 0, and passes U+0000.
INSTANTIATE_TEST_SUITE_P(Bytes, RefusedText,
                         testing::Values(Refused{"ByteOrderMark", "\xef\xbb\xbf{}", 1, "byte order mark"},
                                         Refused{"StrayContinuationByte", "[1,\n\"a\x80\"]", 2, "byte 7 is not UTF-8"},
                                         Refused{"OverlongSlash", "[\n\n\"\xc0\xaf\"]", 3, "not UTF-8"},
                                         Refused{"SurrogateInUtf8", "\"\xed\xa0\x80\"", 1, "not UTF-8"},
                                         Refused{"BeyondUnicode", "\"\xf4\x90\x80\x80\"", 1, "not UTF-8"},
                                         Refused{"CutShortCharacter", "\"\xe2\x82", 1, "not UTF-8"},
                                         Refused{"Latin1", "{\n\"name\": \"cr\xe8me\"}", 2, "not UTF-8"}),
                         [](const auto& row) { return row.param.name; });

INSTANTIATE_TEST_SUITE_P(
    Texts, RefusedText,
    testing::Values(Refused{"DecomposedAccent", "[\n\"cre\xcc\x80me\"]", 2, "NFC"},
                    Refused{"AccentComposedByEscape", "[\n\n\"e\\u0301\"]", 3, "NFC"},
                    Refused{"EscapedNul", "[\n\"a\\u0000b\"]", 2, "U+0000"}, Refused{"RawNul", std::string{"[\n\"a\0b\"]", 8}, 2, "U+0000"},
                    Refused{"RawTab", "[\n\"a\tb\"]", 2, "U+0009"}, Refused{"LoneHighSurrogate", "[\n\"\\ud83c\"]", 2, "surrogate"},
                    Refused{"LoneLowSurrogate", "[\n\"\\udf82\"]", 2, "surrogate"},
                    Refused{"TwoHighSurrogates", "[\n\"\\ud83c\\ud83c\"]", 2, "surrogate"},
                    Refused{"UnknownEscape", "[\n\"\\x41\"]", 2, "not an escape"},
                    Refused{"ShortUnicodeEscape", "[\n\"\\u12\"]", 2, "not an escape"},
                    Refused{"EscapedLetterWithAccent", "[\n\"\\é\"]", 2, "'\\é' is not an escape"},
                    Refused{"LineBreakInText", "[\n\"a\nb\"]", 2, "not closed"}, Refused{"UnclosedText", "[\n\"abc", 2, "not closed"},
                    Refused{"UnclosedAtBackslash", "\"abc\\", 1, "not an escape"}),
    [](const auto& row) { return row.param.name; });

INSTANTIATE_TEST_SUITE_P(
    Numbers, RefusedText,
    testing::Values(Refused{"Fraction", "[\n4.5]", 2, "4.5 is not a whole number"},
                    Refused{"WholeFraction", "[\n4.0]", 2, "4.0 is not a whole number"},
                    Refused{"Exponent", "[\n1e3]", 2, "1e3 is not a whole number"}, Refused{"MinusZero", "[\n-0]", 2, "-0"},
                    Refused{"PastTwoToThe53", "[\n9007199254740992]", 2, "beyond"},
                    Refused{"PastMinusTwoToThe53", "[\n-9007199254740992]", 2, "beyond"},
                    Refused{"TwoToThe64", "[\n18446744073709551616]", 2, "beyond"},
                    Refused{"ThreeHundredDigits", "[\n" + std::string(300, '9') + "]", 2, "beyond"},
                    Refused{"LeadingZero", "[\n01]", 2, "not a number"}, Refused{"Plus", "[\n+1]", 2, "not a number"},
                    Refused{"PointFirst", "[\n.5]", 2, "not a number"}, Refused{"PointLast", "[\n5.]", 2, "not a number"},
                    Refused{"Minus", "[\n-]", 2, "not a JSON value"}, Refused{"Hexadecimal", "[\n0x1F]", 2, "not a number"},
                    Refused{"NotANumber", "[\nNaN]", 2, "NaN is not a number"}, Refused{"Infinity", "[\n-Infinity]", 2, "not a number"}),
    [](const auto& row) { return row.param.name; });

INSTANTIATE_TEST_SUITE_P(
    Grammar, RefusedText,
    testing::Values(Refused{"Empty", "", 1, "nothing in it"}, Refused{"OnlySpace", " \n\n ", 3, "nothing in it"},
                    Refused{"TrailingCommaInList", "[1,\n2,\n]", 3, "']'"}, Refused{"TrailingCommaInObject", "{\"a\":1,\n}", 2, "'}'"},
                    Refused{"TwoCommas", "[1,\n,2]", 2, "','"}, Refused{"NoComma", "[1\n2]", 2, "unexpected"},
                    Refused{"NoColon", "{\"a\"\n1}", 2, "':'"}, Refused{"NoValue", "{\"a\":\n}", 2, "'}'"},
                    Refused{"KeyWithoutQuotes", "{\na:1}", 2, "'a' is not a JSON value"},
                    Refused{"NumberAsKey", "{\n1:2}", 2, "member name"}, Refused{"SingleQuotes", "{\n'a':1}", 2, "not a JSON value"},
                    Refused{"WrongBracket", "[1,\n2}", 2, "'}'"}, Refused{"UnclosedList", "[1,\n2\n", 3, "ends too early"},
                    Refused{"UnclosedObject", "{\"a\":1\n", 2, "ends too early"}, Refused{"OnlyClosing", "\n]", 2, "']'"},
                    Refused{"TrailingText", "[1]\nx", 2, "'x' is not a JSON value"}, Refused{"OnlyAKey", "{\"a\"\n", 2, "ends too early"},
                    Refused{"SecondValue", "{}\n{}", 2, "after the end"}, Refused{"ExtraBracket", "[1]\n]", 2, "after the end"},
                    Refused{"LineComment", "{\n// note\n\"a\":1}", 2, "comment"},
                    Refused{"BlockComment", "[1,\n/* a\nb */ 2]", 2, "comment"}, Refused{"CapitalTrue", "[\nTrue]", 2, "True is not JSON"},
                    Refused{"JoinedWords", "[\nnullnull]", 2, "not a JSON value"}, Refused{"FormFeed", "[\n\f1]", 2, "not a JSON value"},
                    Refused{"NoBreakSpace", "[\n\u00a01]", 2, "not a JSON value"}),
    [](const auto& row) { return row.param.name; });

INSTANTIATE_TEST_SUITE_P(Keys, RefusedText,
                         testing::Values(Refused{"Twice", "{\"a\":1,\n\"b\":2,\n\"a\":3}", 3, "\"a\" stands twice"},
                                         Refused{"TwiceByEscape", "{\"a\":1,\n\"\\u0061\":3}", 2, "\"a\" stands twice"},
                                         Refused{"TwiceDeepDown", "[{\"x\":{\"a\":null,\n\"a\":null}}]", 2, "stands twice"},
                                         Refused{"Accented", "{\n\"é\":1}", 2, "plain ASCII"},
                                         Refused{"Control", "{\n\"a\\u0007\":1}", 2, "plain ASCII"},
                                         Refused{"Delete", "{\n\"\x7f\":1}", 2, "plain ASCII"}),
                         [](const auto& row) { return row.param.name; });

TEST(JsonGate, LetsTheSameKeyStandInTwoObjects) { EXPECT_EQ(read(R"([{"a":1},{"a":{"a":2}}])").array().size(), 2u); }

TEST(JsonGate, AllowsSixtyFourLevelsAndNoMore) {
  EXPECT_TRUE(parse_json(nested(64), "f").has_value());
  const auto refusals = gate_refusals("\n" + nested(65));
  ASSERT_EQ(refusals.size(), 1u);
  EXPECT_EQ(refusals[0].line, 2);
  EXPECT_NE(refusals[0].message.find("deeper than 64"), std::string::npos);
  EXPECT_EQ(gate_refusals(nested(1'000'000)).size(), 1u);
  std::string objects;
  for (int i = 0; i < 65; ++i) objects += "{\"a\":";
  EXPECT_NE(gate_refusals(objects)[0].message.find("deeper than 64"), std::string::npos);
}

TEST(JsonGate, NamesEveryRefusalOfADocumentWithItsPath) {
  const auto refusals = gate_refusals(
      "{\"parts\": [\n {\"share\": 4.5},\n {\"share\": 1e3, \"share\": 2}\n],\n\"note\": \"e\\u0301\",\n\"big\": 99999999999999999}");
  ASSERT_EQ(refusals.size(), 5u);
  EXPECT_EQ(refusals[0].field, "parts[0].share");
  EXPECT_EQ(refusals[0].line, 2);
  EXPECT_EQ(refusals[1].field, "parts[1].share");
  EXPECT_EQ(refusals[1].line, 3);
  EXPECT_NE(refusals[2].message.find("stands twice"), std::string::npos);
  EXPECT_EQ(refusals[3].field, "note");
  EXPECT_EQ(refusals[4].field, "big");
  EXPECT_EQ(refusals[4].line, 6);
}

TEST(JsonGate, NamesBadNumbersBeyondAGrammarErrorToo) {
  const auto refusals = gate_refusals("[4.5,\n1 2,\n6.5]");
  ASSERT_EQ(refusals.size(), 3u);
  EXPECT_EQ(refusals[0].line, 1);
  EXPECT_EQ(refusals[1].line, 2);
  EXPECT_EQ(refusals[2].line, 3);
}

TEST(JsonGate, KeepsControlCharactersOutOfItsMessages) {
  for (const auto& refusal : gate_refusals("[\x1b[31m, \"\\u001b\\u0000\", {\"\\u001b\": 1}]"))
    EXPECT_EQ(describe(refusal).find('\x1b'), std::string::npos);
}

TEST(JsonGate, TellsANumberFromATextWithDigitsWhereNumbersMatter) {
  const auto json = parse_json_with_numbers(R"([0.5, "0.5", 2, -1.5e3, {"a": "0.5"}, null, 1e999])", "events.json");
  ASSERT_TRUE(json.has_value());
  const auto& items = json->array();
  EXPECT_EQ(number_of(items[0]), 0.5);
  EXPECT_EQ(number_of(items[1]), std::nullopt);
  EXPECT_EQ(number_of(items[2]), 2.0);
  EXPECT_EQ(number_of(items[3]), -1500.0);
  EXPECT_EQ(number_of(items[4]), std::nullopt);
  EXPECT_EQ(number_of(items[5]), std::nullopt);
  EXPECT_EQ(number_of(items[6]), std::nullopt) << "beyond what a double holds";
  // What marks a fraction inside can not come in from a document.
  EXPECT_FALSE(parse_json_with_numbers("{\"\\u0001\": \"0.5\"}", "events.json").has_value());
  EXPECT_FALSE(parse_json("0.5", "notes.json").has_value());
  EXPECT_EQ(*parse_json_with_fractions("0.5", "figures.json"), Json{"0.5"});
}

TEST(JsonGate, ComparesValuesWithoutTheirLines) { EXPECT_EQ(read("[1,{\"a\":2}]"), read("[\n1,\n{\n\"a\":2}]")); }

}  // namespace
}  // namespace tierproof
