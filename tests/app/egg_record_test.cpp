// What is recorded of the egg in each batch, and what the customer is told of it.
#include "app/app_for_tests.h"
#include "tierproof/app/cake_papers.h"
#include "tierproof/app/stores.h"

namespace tierproof {
namespace {

constexpr const char* raw_eggs = R"([{"of": "eggs", "mass": "100 g"}])";

CakeRecordContent record_of(TestKitchen& kitchen, const std::string& cake) {
  const Session session = kitchen.open(true);
  return record_content(session, kitchen.judged(cake), "test");
}
EggLine the_line(TestKitchen& kitchen, const std::string& cake) {
  const auto lines = record_of(kitchen, cake).eggs;
  EXPECT_EQ(lines.size(), 1u);
  return lines.empty() ? EggLine{} : lines.front();
}

Delivery of_eggs() {
  Delivery eggs{"eggs", "shop", "E12", "", grams(600), {}, {}, parse_date("2026-05-20"), "now"};
  eggs.egg_source = "assured scheme";
  eggs.egg_scheme = "Valley Eggs";
  eggs.laid = parse_date("2026-04-24");
  return eggs;
}

TEST(EggRecord, TellsWhatNobodyRecordedAsNotRecorded) {
  TestKitchen kitchen;
  const std::string cake =
      cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(100)}, {kitchen.make("icing", grams(298)), grams(50)}});
  const EggLine line = the_line(kitchen, cake);  // the icing has no egg in it
  EXPECT_EQ(line.batch, "batch-1 (sponge)");
  EXPECT_THAT(line.egg, HasSubstr("shell egg"));
  EXPECT_EQ(line.source, "not recorded");
  EXPECT_EQ(line.cracked, "not recorded");
  EXPECT_EQ(line.opened, "") << "no carton";
  EXPECT_THAT(line.date, HasSubstr("day of lay not recorded; use by 30 June 2026, in date when it was used"));
  EXPECT_EQ(line.treatment, "baked through");
  EXPECT_THAT(line.verdict, HasSubstr("no temperature of its core is recorded"));
}

TEST(EggRecord, TellsSourceLayAndHowTheCrackedEggWasKept) {
  TestKitchen kitchen;
  const std::string pack = kitchen.done([](Session& s) { return receive(s, of_eggs()); }).subjects.front();
  kitchen.recipe("mousse", raw_eggs, "95 g", "bowl", "raw, not heated", "fridge");
  Making making;
  making.recipe = "mousse";
  making.yield = grams(95);
  making.use = {{"eggs", pack}};
  making.cracked = "2026-05-01T07:10+01:00";
  making.cracked_in = "fridge";
  making.cracked_degrees = Degrees{420, Scale::celsius};
  const std::string cake =
      cake_of(kitchen, {{kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front(), grams(50)}});
  const EggLine line = the_line(kitchen, cake);
  EXPECT_EQ(line.source, "assured scheme: Valley Eggs");
  EXPECT_EQ(line.date, "laid 24 April 2026, 7 days before it was used; best before 20 May 2026, in date when it was used");
  EXPECT_EQ(line.cracked, "1 May 2026, 07:10; kept in fridge, at 4.2 °C when it was used; used 50 min later");
  EXPECT_THAT(line.verdict, HasSubstr("limit missed"));
}

TEST(EggRecord, IsRefusedWhatDoesNotFit) {
  TestKitchen kitchen;
  const auto refused = [&](const auto& change) {
    Delivery eggs = of_eggs();
    change(eggs);
    return kitchen.refused([&](Session& s) { return receive(s, eggs); });
  };
  EXPECT_THAT(refused([](Delivery& d) { d.egg_scheme = ""; }), HasSubstr("--scheme"));
  EXPECT_THAT(refused([](Delivery& d) { d.egg_source = "own hens"; }), HasSubstr("--scheme"));
  EXPECT_THAT(refused([](Delivery& d) { d.egg_source = "the farm"; }), HasSubstr("--egg-source"));
  EXPECT_THAT(refused([](Delivery& d) { d.laid = parse_date("2026-05-02"); }), HasSubstr("--laid"));
  EXPECT_THAT(refused([](Delivery& d) { d.best_before = parse_date("2026-04-23"); }), HasSubstr("--laid"));
  EXPECT_THAT(refused([](Delivery& d) { d.ingredient = "flour"; }), HasSubstr("shell eggs"));
  EXPECT_THAT(refused([](Delivery& d) { d.best_before = {}; }), HasSubstr("--use-by")) << "bought eggs have a date";
  Delivery own = of_eggs();
  own.egg_source = "own hens";
  own.egg_scheme = "";
  own.best_before = {};
  kitchen.done([&](Session& s) { return receive(s, own); });
  const auto cracked = [&](const auto& change) {
    Making making;
    making.recipe = "sponge";
    making.yield = grams(270);
    change(making);
    return kitchen.refused([&](Session& s) { return make_batch(s, making); });
  };
  EXPECT_THAT(cracked([](Making& m) { m.cracked_in = "fridge"; }), HasSubstr("--cracked"));
  EXPECT_THAT(cracked([](Making& m) { m.cracked = "2026-05-01T08:01+01:00"; }), HasSubstr("--cracked"));
  EXPECT_THAT(cracked([](Making& m) {
                m.cracked = "2026-05-01T07:00+01:00";
                m.cracked_in = "cellar";
              }),
              HasSubstr("--cracked-in"));
  EXPECT_THAT(cracked([](Making& m) {
                m.recipe = "icing";
                m.cracked = "2026-05-01T07:00+01:00";
              }),
              HasSubstr("no shell egg"));
}

TEST(EggRecord, OfShellEggsPastTheirBestBeforeNeedsAPerson) {
  TestKitchen kitchen;
  Delivery eggs = of_eggs();
  eggs.best_before = parse_date("2026-05-01");
  const std::string pack = kitchen.done([&](Session& s) { return receive(s, eggs); }).subjects.front();
  const auto made = [&] {
    Making making;
    making.recipe = "sponge";
    making.yield = grams(270);
    making.use = {{"eggs", pack}};
    return cake_of(kitchen, {{kitchen.done([&](Session& s) { return make_batch(s, making); }).subjects.front(), grams(50)}});
  };
  const auto of_pack = [&](const std::string& cake) {
    const auto found = kitchen.verdicts(cake, "use-by");
    return std::count(found.begin(), found.end(), pack + ": not shown");
  };
  EXPECT_EQ(of_pack(made()), 0) << "on its last day";
  kitchen.at("2026-05-02T08:00+01:00");
  const std::string late = made();
  EXPECT_EQ(of_pack(late), 1);
  EXPECT_THAT(the_line(kitchen, late).date, HasSubstr("best before 1 May 2026, PAST when it was used"));
}

/// Pasteurised white that keeps 3 days once opened, in a mousse.
class Carton {
 public:
  Carton() {
    kitchen.done([](Session& s) {
      return add_ingredient(s, "white", Ingredient{"pasteurised egg white", false, false, false, "pasteurised"});
    });
    const std::string says =
        R"({"ingredient": "white", "supplier": "shop", "label_name": "egg white", "checked": "2026-04-30", "checked_against": "the carton",)"
        R"( "storage": "fridge", "use_within_days": 3, "contains": ["eggs"], "absent": {"all_others": true, "evidence": "sheet"}})";
    kitchen.done([&](Session& s) { return add_specifications(s, {{"white.json", says}}); });
    pack = kitchen.pack("white", "2026-06-30");
    kitchen.recipe("mousse", R"([{"of": "white", "mass": "100 g"}])", "95 g", "bowl", "pasteurised", "fridge");
    kitchen.done([&](Session& s) { return open_pack(s, pack, "now"); });
  }
  std::string cake_made(const std::string& at) {
    kitchen.at(at);
    return cake_of(kitchen, {{kitchen.make("mousse", grams(95)), grams(50)}});
  }
  TestKitchen kitchen;
  std::string pack;
};

TEST(EggRecord, CountsTheDaysOfAnOpenedCarton) {
  Carton carton;
  const std::string last_day = carton.cake_made("2026-05-04T08:00+01:00");
  EXPECT_EQ(the_line(carton.kitchen, last_day).opened,
            "opened 1 May 2026; keeps 3 days once opened, to 4 May 2026; 0 days left when it was used");
  EXPECT_EQ(the_line(carton.kitchen, last_day).source, "") << "it was bought pasteurised";
  EXPECT_EQ(carton.kitchen.verdicts(last_day, "egg-heat"), Strings{"batch-1 (mousse): shown"});
  EXPECT_THAT(record_of(carton.kitchen, last_day).egg_told, testing::IsEmpty());
  const std::string late = carton.cake_made("2026-05-05T08:00+01:00");
  EXPECT_THAT(the_line(carton.kitchen, late).opened, HasSubstr("to 4 May 2026; PAST when it was used"));
  EXPECT_EQ(carton.kitchen.verdicts(late, "egg-heat"), Strings{"batch-2 (mousse): not met"});
}

TEST(EggRecord, TellsTheCustomerOfEggThatIsNotShown) {
  TestKitchen kitchen;
  kitchen.recipe("mousse", raw_eggs, "95 g", "bowl", "raw, not heated", "fridge");
  const std::string cake = cake_of(kitchen, {{kitchen.make("mousse", grams(95)), grams(50)}});
  const auto told = record_of(kitchen, cake).egg_told;
  ASSERT_EQ(told.size(), 1u);
  EXPECT_THAT(told.front(), HasSubstr("do not show that the egg in it was heated enough: batch-1 (mousse)"));
  EXPECT_THAT(told.front(), HasSubstr("pregnant women"));
  EXPECT_THAT(told.front(), HasSubstr("Local advice comes first"));
  const Session session = kitchen.open(true);
  EXPECT_EQ(hand_over_note_content(session, kitchen.judged(cake), {session.now(), Offset{60}}).eggs, told) << "the note says the same";
}

TEST(EggRecord, NeverSaysOfALeftOverThatItWasHeatedWhereItsBatchIsNotShown) {
  TestKitchen kitchen;
  kitchen.recipe("custard", raw_eggs, "95 g", "bowl", "raw, heated here", "fridge",
                 R"(, "heated_together": ["eggs"], "heat_food": "core of a cooked food")");
  const std::string batch = kitchen.make("custard", grams(95));
  const auto kept = kitchen.done([&](Session& s) { return keep_left_over(s, {batch, grams(50), false, {}, ""}); }).subjects.front();
  const std::string cake = cake_of(kitchen, {{kept, grams(50)}});
  std::string all;
  for (const auto& words : record_of(kitchen, cake).egg_told) all += words + "\n";
  EXPECT_THAT(all, HasSubstr("do not show that the egg in it was heated enough"));
  EXPECT_THAT(all, Not(HasSubstr("was heated as the rules ask")));
}

TEST(EggRecord, OfAVoidedBatchSaysThatNobodyKnows) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = cake_of(kitchen, {{icing, grams(50)}});
  EXPECT_TRUE(record_of(kitchen, cake).eggs.empty());
  const std::uint64_t sequence = kitchen.open(true).state().batches.at(BatchId{icing}).sequence;
  kitchen.done([&](Session& s) { return void_note(s, sequence, "it was another batch"); });
  EXPECT_THAT(the_line(kitchen, cake).egg, HasSubstr("no longer say whether egg is in it"));
}

TEST(EggRecord, IsToldWhoeverTakesTheCake) {
  TestKitchen kitchen;
  // Sugary egg that a table does not speak of may be released with a reason; whoever takes it is told.
  kitchen.recipe("swiss", R"([{"of": "eggs", "mass": "80 g"}, {"of": "sugar", "mass": "150 g"}])", "225 g", "bowl", "raw, heated here",
                 "fridge", R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food")");
  const std::string cake = cake_of(kitchen, {{kitchen.make("swiss", grams(225)), grams(50)}});
  std::vector<AgainstReason> against;
  for (const auto& control : kitchen.stops(cake)) against.push_back({control, "looked at by Ada"});
  ASSERT_EQ(release_of(kitchen, cake, against), "");
  Session session = kitchen.open();
  const auto decision = hand_over_cake(session, {cake, "the customer", "It contains eggs.", {}, ""});
  ASSERT_TRUE(decision && decision->booked);
  ASSERT_EQ(decision->egg_told.size(), 1u);
  EXPECT_THAT(decision->egg_told.front(), HasSubstr("heated enough: batch-1 (swiss)"));
}

}  // namespace
}  // namespace tierproof
