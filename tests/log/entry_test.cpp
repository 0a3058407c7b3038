#include "tierproof/log/entry.h"

#include <gtest/gtest.h>

#include <string>

#include "tierproof/log/tree.h"

namespace tierproof {
namespace {

Entry an_entry() {
  Entry entry;
  entry.kitchen = "5f2b7b3e-0000-4000-8000-000000000001";
  entry.sequence = 17;
  entry.written = Instant{std::chrono::milliseconds{1772439000123}};
  entry.happened = Instant{std::chrono::milliseconds{1772438400000}};
  entry.offset = Offset{60};
  entry.person = PersonId{"person-1"};
  entry.device = "command line";
  entry.kind = "lot/1";
  entry.subject = "pack-7";
  entry.how = Arrival::scanned;
  entry.client_key = "key-17";
  entry.body["name"] = "crème";
  entry.body["mass_mg"] = 1'000'000;
  return entry;
}

TEST(Entry, IsReadBackFromItsLeaf) {
  auto entry = an_entry();
  EXPECT_EQ(parse_entry(leaf_text(entry)).value(), entry);
  entry.supersedes = 3;
  entry.why["sealed"] = "w-1";
  entry.body = Json{};
  EXPECT_EQ(parse_entry(leaf_text(entry)).value(), entry);
}

TEST(Entry, HasOneCanonicalLeaf) {
  EXPECT_EQ(
      leaf_text(an_entry()),
      R"({"body":{"mass_mg":1000000,"name":"crème"},"device":"command line","happened":1772438400000,"how":"scanned","key":"key-17",)"
      R"("kind":"lot/1","kitchen":"5f2b7b3e-0000-4000-8000-000000000001","offset":60,"person":"person-1","seq":17,"subject":"pack-7",)"
      R"("supersedes":null,"v":1,"why":null,"written":1772439000123})");
}

TEST(Entry, HasAnotherHashWhenAnyMemberDiffers) {
  const auto hash = leaf_hash(leaf_text(an_entry()));
  const auto differs = [&](auto change) {
    auto other = an_entry();
    change(other);
    return leaf_hash(leaf_text(other)) != hash;
  };
  EXPECT_TRUE(differs([](Entry& e) { e.kitchen += "x"; }));
  EXPECT_TRUE(differs([](Entry& e) { ++e.sequence; }));
  EXPECT_TRUE(differs([](Entry& e) { e.written += std::chrono::milliseconds{1}; }));
  EXPECT_TRUE(differs([](Entry& e) { e.happened += std::chrono::milliseconds{1}; }));
  EXPECT_TRUE(differs([](Entry& e) { e.offset.minutes = 0; }));
  EXPECT_TRUE(differs([](Entry& e) { e.person = PersonId{"person-2"}; }));
  EXPECT_TRUE(differs([](Entry& e) { e.device = "web"; }));
  EXPECT_TRUE(differs([](Entry& e) { e.kind = "lot/2"; }));
  EXPECT_TRUE(differs([](Entry& e) { e.subject = "pack-8"; }));
  EXPECT_TRUE(differs([](Entry& e) { e.supersedes = 2; }));
  EXPECT_TRUE(differs([](Entry& e) { e.how = Arrival::logger; }));
  EXPECT_TRUE(differs([](Entry& e) { e.client_key = "key-18"; }));
  EXPECT_TRUE(differs([](Entry& e) { e.body["mass_mg"] = 1; }));
  EXPECT_TRUE(differs([](Entry& e) { e.why = "late"; }));
}

std::string replaced(const std::string& from, const std::string& to) {
  auto leaf = leaf_text(an_entry());
  const auto at = leaf.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return leaf.replace(at, from.size(), to);
}

std::string refusal_of(const std::string& leaf) {
  const auto read = parse_entry(leaf);
  return read ? "" : describe(read.error().front());
}

TEST(Entry, RefusesALeafThatItWouldNotHaveWritten) {
  EXPECT_NE(refusal_of("").find("nothing in it"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("\"v\":1", "\"v\":2")).find("v: 2 is out of range"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("\"v\":1,", "")).find("v: is missing"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("\"v\":1", "\"u\":1,\"v\":1")).find("u: is not a member"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("\"seq\":17", "\"seq\":0")).find("seq"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("\"offset\":60", "\"offset\":841")).find("offset"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("\"written\":1772439000123", "\"written\":-1")).find("written"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("scanned", "guessed")).find("how"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("\"supersedes\":null", "\"supersedes\":17")).find("earlier"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("key-17", "")).find("key: is empty"), std::string::npos);
  EXPECT_NE(refusal_of(replaced(R"({"mass_mg":1000000,"name":"crème"})", "null")).find("body"), std::string::npos);
}

TEST(Entry, RefusesALeafThatIsNotInCanonicalForm) {
  EXPECT_NE(refusal_of(replaced("\"v\":1", "\"v\": 1")).find("canonical"), std::string::npos);
  EXPECT_NE(refusal_of(leaf_text(an_entry()) + "\n").find("canonical"), std::string::npos);
  EXPECT_NE(refusal_of(replaced("crème", "cr\\u00e8me")).find("canonical"), std::string::npos);
}

TEST(Arrival, HasATermForEveryWay) {
  for (const auto arrival : {Arrival::logger, Arrival::typed_then, Arrival::typed_late, Arrival::scanned, Arrival::suggested_accepted,
                             Arrival::scheduled}) {
    EXPECT_EQ(parse_arrival(term_of(arrival)), arrival);
  }
  EXPECT_FALSE(parse_arrival("typed").has_value());
}

}  // namespace
}  // namespace tierproof
