#include "tierproof/text/fields.h"

#include <gtest/gtest.h>

#include <functional>
#include <string>

namespace tierproof {
namespace {

Refusals reading(std::string_view text, const std::function<void(Fields&)>& read) {
  const auto value = parse_json(text, "rows.json");
  EXPECT_TRUE(value.has_value()) << text;
  Refusals refusals;
  Fields fields{*value, "rows.json", "parts[2]", refusals};
  read(fields);
  return refusals;
}

TEST(Fields, ReadsMembersOfEveryKind) {
  const auto refusals = reading(
      R"({"name": "sponge", "count": 3, "open": true, "from": "2026-05-01", "mass": "1.5 kg", "how": "scanned", "tags": ["a", "b"],
          "list": [1, {}], "object": {"x": 1}, "any": null})",
      [](Fields& fields) {
        EXPECT_EQ(fields.text("name"), "sponge");
        EXPECT_EQ(fields.integer("count", 0, 9), 3);
        EXPECT_TRUE(fields.flag("open", false));
        EXPECT_TRUE(fields.flag("closed", true));
        EXPECT_EQ(fields.date("from"), (Date{std::chrono::year{2026}, std::chrono::May, std::chrono::day{1}}));
        EXPECT_EQ(fields.mass("mass"), grams(1500));
        EXPECT_EQ(fields.choice("how", {"typed", "scanned"}), "scanned");
        EXPECT_EQ(fields.texts("tags"), (std::vector<std::string>{"a", "b"}));
        EXPECT_EQ(fields.list("list").size(), 2u);
        EXPECT_EQ(fields.object("object").find("x")->integer(), 1);
        EXPECT_TRUE(fields.any("any").is_null());
        EXPECT_FALSE(fields.has("any"));
        EXPECT_TRUE(fields.has("name"));
        fields.done();
      });
  EXPECT_TRUE(refusals.empty()) << describe(refusals.front());
}

TEST(Fields, LeavesOutWhatMayBeMissing) {
  const auto refusals = reading(R"({"gap": null})", [](Fields& fields) {
    EXPECT_EQ(fields.maybe_text("gap"), std::nullopt);
    EXPECT_EQ(fields.maybe_text("a"), std::nullopt);
    EXPECT_EQ(fields.maybe_integer("b", 0, 1), std::nullopt);
    EXPECT_EQ(fields.maybe_date("c"), std::nullopt);
    EXPECT_EQ(fields.maybe_mass("d"), std::nullopt);
    EXPECT_TRUE(fields.texts("e").empty());
    EXPECT_TRUE(fields.list("f").empty());
    EXPECT_TRUE(fields.any("g").is_null());
    fields.done();
  });
  EXPECT_TRUE(refusals.empty());
}

TEST(Fields, RefusesEachMissingMemberOnce) {
  const auto refusals = reading("{\n}", [](Fields& fields) {
    EXPECT_EQ(fields.text("name"), "");
    EXPECT_EQ(fields.integer("count", 0, 9), 0);
    EXPECT_FALSE(fields.date("from").ok());
    EXPECT_EQ(fields.mass("mass"), Mass{});
    EXPECT_EQ(fields.choice("how", {"a", "b", "c"}), "");
    EXPECT_TRUE(fields.object("object").object().empty());
  });
  ASSERT_EQ(refusals.size(), 6u);
  for (const auto& refusal : refusals) {
    EXPECT_EQ(refusal.file, "rows.json");
    EXPECT_EQ(refusal.line, 1);
    EXPECT_EQ(refusal.message, "is missing");
    EXPECT_FALSE(refusal.remedy.empty());
  }
  EXPECT_EQ(refusals[0].field, "parts[2].name");
  EXPECT_EQ(refusals[4].remedy, "write a, b or c");
}

struct Wrong {
  const char* name;
  const char* value;
  std::function<void(Fields&)> read;
  const char* says;
};

class WrongMember : public testing::TestWithParam<Wrong> {};

TEST_P(WrongMember, IsRefusedOnceWithItsLineAndARemedy) {
  const auto refusals = reading("{\n\n\"m\": " + std::string{GetParam().value} + "}", GetParam().read);
  ASSERT_EQ(refusals.size(), 1u);
  EXPECT_EQ(refusals[0].line, 3);
  EXPECT_EQ(refusals[0].field.substr(0, 10), "parts[2].m");
  EXPECT_NE(refusals[0].message.find(GetParam().says), std::string::npos) << refusals[0].message;
  EXPECT_FALSE(refusals[0].remedy.empty());
}

INSTANTIATE_TEST_SUITE_P(
    Fields, WrongMember,
    testing::Values(Wrong{"NumberForText", "1", [](Fields& f) { f.text("m"); }, "a number, not a text"},
                    Wrong{"TextForNumber", "\"1\"", [](Fields& f) { f.integer("m", 0, 9); }, "not a whole number"},
                    Wrong{"NumberTooSmall", "-1", [](Fields& f) { f.integer("m", 0, 9); }, "-1 is out of range"},
                    Wrong{"NumberTooLarge", "10", [](Fields& f) { f.maybe_integer("m", 0, 9); }, "10 is out of range"},
                    Wrong{"TextForFlag", "\"yes\"", [](Fields& f) { EXPECT_TRUE(f.flag("m", true)); }, "not true or false"},
                    Wrong{"NoSuchDay", "\"2014-02-30\"", [](Fields& f) { f.date("m"); }, "\"2014-02-30\" is not a date"},
                    Wrong{"NumberForDate", "20140213", [](Fields& f) { f.maybe_date("m"); }, "not a date"},
                    Wrong{"BareNumberForMass", "450", [](Fields& f) { f.mass("m"); }, "not a mass with its unit"},
                    Wrong{"MassWithoutUnit", "\"450\"", [](Fields& f) { f.maybe_mass("m"); }, "\"450\" is not a mass"},
                    Wrong{"NotAChoice", "\"x\"",
                          [](Fields& f) {
                            f.choice("m", {"a", "b"});
                          },
                          "not one of the choices"},
                    Wrong{"TextForList", "\"x\"", [](Fields& f) { f.list("m"); }, "not a list"},
                    Wrong{"NumberInTexts", "[\"a\", 1]", [](Fields& f) { f.texts("m"); }, "not a text"},
                    Wrong{"ListForObject", "[]", [](Fields& f) { f.object("m"); }, "not an object"}),
    [](const auto& row) { return row.param.name; });

TEST(Fields, RefusesMembersThatNobodyAskedForAndGuessesWhatWasMeant) {
  const auto refusals = reading("{\"naem\": \"x\",\n\"extra\": 1}", [](Fields& fields) {
    fields.maybe_text("name");
    fields.maybe_text("lot");
    fields.done();
  });
  ASSERT_EQ(refusals.size(), 2u);
  EXPECT_EQ(refusals[0].field, "parts[2].extra");
  EXPECT_EQ(refusals[0].line, 2);
  EXPECT_EQ(refusals[0].remedy, "take it out; members here: lot or name");
  EXPECT_EQ(refusals[1].field, "parts[2].naem");
  EXPECT_EQ(refusals[1].remedy, "did you mean \"name\"?");
}

TEST(Fields, RefusesOnceWhatIsNotAnObject) {
  const auto refusals = reading("[1]", [](Fields& fields) {
    fields.text("name");
    fields.integer("count", 0, 1);
    fields.object("o");
    fields.done();
  });
  ASSERT_EQ(refusals.size(), 1u);
  EXPECT_EQ(refusals[0].field, "parts[2]");
  EXPECT_EQ(refusals[0].message, "is a list, not an object");
}

}  // namespace
}  // namespace tierproof
