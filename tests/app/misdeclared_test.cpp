// Cakes that are out under the words of pack details that were found wrong.
#include "tierproof/app/misdeclared.h"

#include <set>

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

/// Sponge in two cakes with printed labels; one left. Then somebody sees that the sugar holds milk.
class WrongSugar {
 public:
  WrongSugar() {
    const std::string sponge = kitchen.make("sponge", grams(270));
    left = cake_of(kitchen, {{sponge, grams(50)}});
    here = cake_of(kitchen, {{sponge, grams(60)}});
    print(left);
    print(here);
    const Strings stops = kitchen.stops(left);
    std::vector<AgainstReason> reasons;
    for (const auto& control : std::set<std::string>(stops.begin(), stops.end())) reasons.push_back({control, "to see what it said"});
    EXPECT_EQ(release_of(kitchen, left, reasons), "");
    EXPECT_EQ(hand_over_of(kitchen, left), "");
    kitchen.at("2026-05-01T12:00+01:00");
    const Session session = kitchen.open(true);
    details = session.state().lots.at(LotId{"pack-2"}).value.specification;
  }
  void print(const std::string& cake) {
    Session session = kitchen.open();
    EXPECT_TRUE(issue_label(session, {cake, "sheet-99x139", 1}, DataRoot{TIERPROOF_SOURCE_DIR}).has_value());
  }
  void sugar_holds_milk() {
    const Session session = kitchen.open(true);
    Json allergens = *tip_of(session.notes(), details)->body.find("allergens");
    Json::Array changed;
    for (const Json& one : allergens.array()) {
      Json copy = one;
      if (one.find("allergen")->text() == "milk")
        copy = Json{Json::Object{{"allergen", Json{"milk"}}, {"presence", Json{"contains"}}, {"by_itself", Json{true}}}};
      changed.push_back(copy);
    }
    correct_note(kitchen, details, {{"allergens", Json{changed}}});
  }
  Result<Misdeclared> told(std::optional<Date> from = {}, std::optional<Date> until = {}) {
    const Session session = kitchen.open(true);
    return misdeclared(session, details, from, until, {session.now(), Offset{60}});
  }
  TestKitchen kitchen;
  std::string left, here;
  std::uint64_t details = 0;
};

TEST(Misdeclared, ListsTheCakesOutAndWhatTheirLabelsSaid) {
  WrongSugar w;
  const auto before = w.told();
  ASSERT_TRUE(before.has_value());
  EXPECT_TRUE(before->says.empty()) << "nobody corrected it yet";
  ASSERT_EQ(before->cakes.size(), 2u);
  EXPECT_TRUE(before->cakes.front().labels.front().same);
  w.sugar_holds_milk();
  const auto told = w.told();
  ASSERT_TRUE(told.has_value());
  EXPECT_FALSE(told->says.empty());
  ASSERT_EQ(told->cakes.size(), 2u);
  const auto& out = told->cakes.front();
  EXPECT_TRUE(out.out);
  EXPECT_EQ(out.cake.text(), w.left);
  EXPECT_EQ(out.customer, "a customer whose name is not recorded");
  EXPECT_THAT(out.packs, testing::ElementsAre(HasSubstr("pack-2")));
  EXPECT_THAT(out.told, testing::ElementsAre(HasSubstr("It contains wheat, eggs and milk.")));
  ASSERT_EQ(out.labels.size(), 1u);
  EXPECT_FALSE(out.labels.front().same);
  EXPECT_THAT(out.labels.front().said, testing::AllOf(HasSubstr("sugar"), Not(HasSubstr("MILK"))));
  EXPECT_THAT(out.labels.front().says_now, HasSubstr("sugar (MILK)"));
  EXPECT_FALSE(told->cakes.back().out);
  EXPECT_EQ(told->cakes.back().cake.text(), w.here);
}

TEST(Misdeclared, GoesByTheDaysOnWhichPacksCameIn) {
  WrongSugar w;
  const Date day = *parse_date("2026-05-01");
  EXPECT_TRUE(w.told(day, day).has_value());
  EXPECT_FALSE(w.told(add_days(day, 1)).has_value()) << "no pack came in then";
  EXPECT_FALSE(w.told(day, add_days(day, -1)).has_value());
  w.details = 1;
  EXPECT_FALSE(w.told().has_value());
}

}  // namespace
}  // namespace tierproof
