// What officers said: kept, told where the row is used, and never part of a verdict.
#include "tierproof/app/advising.h"

#include "app/app_for_tests.h"
#include "tierproof/app/cake_papers.h"

namespace tierproof {
namespace {

Advising advice_on_row(std::string about) {
  return {"A. Officer", "Example Council", std::chrono::year{2026} / 4 / 30, "flour", std::move(about), "keep the sack off the floor"};
}

class Advised {
 public:
  Advised() {
    cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(135)}});
    before = kitchen.judged(cake).findings;
  }
  /// The findings that carry advice, and whether anything else about them changed.
  std::vector<Finding> advised() {
    std::vector<Finding> found;
    auto now = kitchen.judged(cake).findings;
    EXPECT_EQ(now.size(), before.size());
    for (std::size_t i = 0; i < now.size(); ++i) {
      if (!now[i].advice.empty()) found.push_back(now[i]);
      now[i].advice.clear();
      EXPECT_EQ(now[i], before[i]) << "advice changes no verdict";
    }
    return found;
  }
  TestKitchen kitchen;
  std::string cake;
  std::vector<Finding> before;
};

TEST(Advising, IsToldWithTheControlItIsAboutAndNamesNoOfficer) {
  Advised a;
  const Booked booked = a.kitchen.done([](Session& s) { return note_advice(s, advice_on_row("allergens-known")); });
  const auto found = a.advised();
  ASSERT_FALSE(found.empty());
  for (const auto& finding : found) {
    EXPECT_EQ(finding.control, "allergens-known");
    ASSERT_EQ(finding.advice.size(), 1u);
    EXPECT_EQ(finding.advice.front(),
              "30 April 2026, Example Council (note " + std::to_string(booked.sequences.front()) +
                  "), flour: keep the sack off the floor. One officer's word on one day; another may see it otherwise.");
  }
  EXPECT_EQ(advice_about(a.kitchen.open(true), "allergens-known"), found.front().advice);
  EXPECT_TRUE(advice_about(a.kitchen.open(true), "egg-heat").empty());
}

TEST(Advising, IsToldWhereALimitComesFromItsRow) {
  Advised a;
  const auto cited = std::find_if(a.before.begin(), a.before.end(), [](const Finding& f) { return f.source.starts_with("["); });
  ASSERT_NE(cited, a.before.end());
  const std::string row = cited->source.substr(1, cited->source.find(':') - 1);
  a.kitchen.done([&](Session& s) { return note_advice(s, advice_on_row(row)); });
  const auto found = a.advised();
  ASSERT_FALSE(found.empty());
  for (const auto& finding : found) EXPECT_THAT(finding.source, HasSubstr("[" + row + ":"));
}

TEST(Advising, AboutNothingIsKeptAndToldNowhereElse) {
  Advised a;
  a.kitchen.done([](Session& s) { return note_advice(s, advice_on_row("")); });
  EXPECT_TRUE(a.advised().empty());
  EXPECT_EQ(a.kitchen.open(true).state().advice.size(), 1u);
}

TEST(Advising, IsRefusedWithAllThatIsWrong) {
  TestKitchen kitchen;
  Advising wrong = advice_on_row("no-such-row");
  wrong.on = std::chrono::year{2027} / 1 / 1;
  wrong.office = "";
  wrong.words = "the cake is nut-free";
  const std::string all = kitchen.refused([&](Session& s) { return note_advice(s, wrong); });
  for (const char* field : {"--from", "--on", "--about", "--words"}) EXPECT_THAT(all, HasSubstr(field));
}

}  // namespace
}  // namespace tierproof
