#include "tierproof/text/json_writer.h"

#include <gtest/gtest.h>

#include <limits>

#include "tierproof/units/result.h"

namespace tierproof {
namespace {

template <class Write>
std::string written(const Write& write) {
  std::string all;
  JsonWriter writer{[&](std::string_view text) { all += text; }};
  write(writer);
  return all;
}

TEST(JsonWriter, WritesObjectsArraysAndFractionsInTheOrderTheyAreGiven) {
  EXPECT_EQ(written([](JsonWriter& json) {
              json.begin_object().member("b").number(0.1).member("a").begin_array().number(3).null().boolean(true).end();
              json.member("none").begin_array().end().member("in").begin_object().member("x").text("a \"word\"\n").end().end();
            }),
            "{\n  \"b\": 0.1,\n  \"a\": [\n    3,\n    null,\n    true\n  ],\n  \"none\": [],\n  \"in\": {\n    \"x\": \"a "
            "\\\"word\\\"\\n\"\n  }\n}\n");
}

TEST(JsonWriter, WritesANumberAsTheShortestTextThatReadsBackAsIt) {
  EXPECT_EQ(written([](JsonWriter& json) { json.number(33.333333333333336); }), "33.333333333333336\n");
  EXPECT_EQ(written([](JsonWriter& json) { json.number(-0.0); }), "0\n");
  EXPECT_EQ(written([](JsonWriter& json) { json.number(1e300); }), "1e+300\n");
}

TEST(JsonWriter, RefusesWhatJsonHasNoWordFor) {
  EXPECT_THROW(written([](JsonWriter& json) { json.number(std::numeric_limits<double>::infinity()); }), Fault);
  EXPECT_THROW(written([](JsonWriter& json) { json.number(std::numeric_limits<double>::quiet_NaN()); }), Fault);
}

TEST(JsonWriter, GivesALongArrayAwayInPieces) {
  std::size_t pieces = 0;
  std::string all;
  JsonWriter writer{[&](std::string_view text) {
    ++pieces;
    all += text;
  }};
  writer.begin_array();
  for (int i = 0; i < 100'000; ++i) writer.number(i);
  writer.end();
  EXPECT_GT(pieces, 5u);
  EXPECT_EQ(all.substr(0, 12), "[\n  0,\n  1,\n");
  EXPECT_TRUE(all.ends_with("99999\n]\n"));
}

TEST(JsonWriter, TellsBytesThatAreNoTextAsQuestionMarks) {
  EXPECT_EQ(written([](JsonWriter& json) {
              json.text(
                  "a\xff"
                  "b");
            }),
            "\"a?b\"\n");
}

}  // namespace
}  // namespace tierproof
