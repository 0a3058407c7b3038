#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <string>

#include "tierproof/text/json.h"

namespace tierproof {
namespace {

constexpr std::int64_t largest = 9007199254740991;

Json any_value(int depth) {
  const auto kind = *rc::gen::inRange(0, depth > 0 ? 6 : 4);
  switch (kind) {
    case 0:
      return Json{};
    case 1:
      return Json{*rc::gen::arbitrary<bool>()};
    case 2:
      return Json{*rc::gen::inRange<std::int64_t>(-largest, largest + 1)};
    case 3: {
      std::string text;
      for (const int c : *rc::gen::container<std::vector<int>>(rc::gen::inRange(1, 0x80))) text += static_cast<char>(c);
      return Json{text + *rc::gen::element<std::string>("", "é", "ß", "🎂", "日本", "\u2028")};
    }
    case 4: {
      Json::Array items;
      const auto count = *rc::gen::inRange(0, 4);
      for (int i = 0; i < count; ++i) items.push_back(any_value(depth - 1));
      return Json{std::move(items)};
    }
    default: {
      Json::Object members;
      const auto count = *rc::gen::inRange(0, 4);
      for (int i = 0; i < count; ++i) {
        std::string key;
        for (const int c : *rc::gen::container<std::vector<int>>(rc::gen::inRange(0x20, 0x7f))) key += static_cast<char>(c);
        members.insert_or_assign(key, any_value(depth - 1));
      }
      return Json{std::move(members)};
    }
  }
}

RC_GTEST_PROP(Canonical, IsReadBackByTheGateAsTheSameValue, ()) {
  const auto value = any_value(3);
  const auto text = write_canonical(value);
  const auto again = parse_json(text, "canonical");
  RC_ASSERT(again.has_value());
  RC_ASSERT(*again == value);
  RC_ASSERT(write_canonical(*again) == text);
}

RC_GTEST_PROP(Canonical, SaysTheSameAsThePrettyText, ()) {
  const auto value = any_value(3);
  const auto again = parse_json(write_pretty(value), "pretty");
  RC_ASSERT(again.has_value());
  RC_ASSERT(*again == value);
}

TEST(Canonical, WritesNoSpacesAndSortsMembers) {
  Json value;
  value["b"] = Json::Array{1, true, nullptr, "x"};
  value["a"] = -5;
  value["B"] = Json{Json::Object{}};
  value["c"] = Json{Json::Array{}};
  EXPECT_EQ(write_canonical(value), R"({"B":{},"a":-5,"b":[1,true,null,"x"],"c":[]})");
}

TEST(Canonical, PrettyTextIndentsByTwoAndEndsItsLine) {
  Json value;
  value["b"] = Json::Array{1, 2};
  value["a"] = Json{Json::Object{}};
  EXPECT_EQ(write_pretty(value), "{\n  \"a\": {},\n  \"b\": [\n    1,\n    2\n  ]\n}\n");
}

int status_of(const Json& value) {
  try {
    write_canonical(value);
  } catch (const Fault& fault) {
    return fault.exit_status();
  }
  return 0;
}

TEST(Canonical, RefusesAsOurBugWhatTheGateWouldNotLetBackIn) {
  EXPECT_EQ(status_of(Json{largest}), 0);
  EXPECT_EQ(status_of(Json{largest + 1}), exit_status::our_bug);
  EXPECT_EQ(status_of(Json{-largest - 1}), exit_status::our_bug);
  EXPECT_EQ(status_of(Json{"e\xcc\x81"}), exit_status::our_bug);
  EXPECT_EQ(status_of(Json{"\xff"}), exit_status::our_bug);
  EXPECT_EQ(status_of(Json{std::string{"a\0b", 3}}), exit_status::our_bug);
  EXPECT_EQ(status_of(Json{Json::Object{{"é", 1}}}), exit_status::our_bug);
  Json deep;
  for (int i = 0; i < 64; ++i) deep = Json{Json::Array{deep}};
  EXPECT_EQ(status_of(deep), 0);
  EXPECT_EQ(status_of(Json{Json::Array{deep}}), exit_status::our_bug);
}

TEST(Json, MakesAMemberWhenItIsNotThereYet) {
  Json value;
  value["a"]["b"] = 1;
  EXPECT_EQ(write_canonical(value), R"({"a":{"b":1}})");
  value["a"]["b"] = 2;
  EXPECT_EQ(value.find("a")->find("b")->integer(), 2);
}

}  // namespace
}  // namespace tierproof
