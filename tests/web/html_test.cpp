#include "web/html.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "web/message.h"

namespace tierproof::web {
namespace {

TEST(Html, WordsComeInEscapedWhereverTheyStand) {
  EXPECT_EQ(el("p", {{"title", "\" onclick='x'"}}, "<script>&").markup(),
            "<p title=\"&quot; onclick=&#39;x&#39;\">&lt;script&gt;&amp;</p>");
}

TEST(Html, MarkupThatIsPutTogetherIsNotEscapedAgain) {
  EXPECT_EQ(el("ul", {}, el("li", {}, "a & b"), el("li", {}, "c")).markup(), "<ul><li>a &amp; b</li><li>c</li></ul>");
}

TEST(Html, WhatIsNeverClosedHasNoEnd) {
  EXPECT_EQ(el("input", {{"name", "a"}, flag("required"), flag("checked", false)}).markup(), "<input name=\"a\" required=\"\">");
}

RC_GTEST_PROP(Html, NoWordsCanOpenATagOrLeaveAValue, (const std::string& words)) {
  const std::string text = Html{words}.markup();
  RC_ASSERT(text.find('<') == std::string::npos);
  RC_ASSERT(text.find('>') == std::string::npos);
  RC_ASSERT(text.find('"') == std::string::npos);
  RC_ASSERT(text.find('\'') == std::string::npos);
}

TEST(Message, AFormIsReadAsBrowsersPostIt) {
  const auto form = parse_urlencoded("a=1&b=x+y%26z&a=2&empty=&c=%C3%A4");
  ASSERT_TRUE(form);
  EXPECT_EQ(form->every("a"), (std::vector<std::string>{"1", "2"}));
  EXPECT_EQ((*form)["b"], "x y&z");
  EXPECT_EQ((*form)["c"], "ä");
  EXPECT_TRUE(form->has("empty"));
  EXPECT_EQ((*form)["missing"], "");
}

TEST(Message, AFormThatCannotBeReadIsNone) {
  EXPECT_FALSE(parse_urlencoded("a=%zz"));
  EXPECT_FALSE(parse_urlencoded("a=%"));
  EXPECT_FALSE(parse_urlencoded("a=%ff"));    // no UTF-8
  EXPECT_FALSE(parse_urlencoded("a=b%00c"));  // U+0000
  std::string many;
  for (int i = 0; i < 401; ++i) many += "a=1&";
  EXPECT_FALSE(parse_urlencoded(many));
}

TEST(Message, APathNeverLeadsOutOfItsPlace) {
  EXPECT_EQ(decoded_path("/cold/place/a%20b").value(), "/cold/place/a b");
  for (const char* path : {"", "cold", "/cold//x", "/cold/", "/a/../b", "/a/%2e%2e/b", "/./a", "/a%00", "/a%5cb", "/%zz"})
    EXPECT_FALSE(decoded_path(path)) << path;
}

TEST(Message, AnAddressPartHoldsNothingThatHasAMeaning) { EXPECT_EQ(url_part("a/b?c=d&e#f \"ä"), "a%2Fb%3Fc%3Dd%26e%23f%20%22%C3%A4"); }

}  // namespace
}  // namespace tierproof::web
