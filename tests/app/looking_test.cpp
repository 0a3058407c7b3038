#include "tierproof/app/looking.h"

#include <functional>

#include "app/app_for_tests.h"
#include "tierproof/app/cake_papers.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/lists.h"

namespace tierproof {
namespace {

Looking looking(const std::string& ingredient, const std::string& against = "the sack") { return {ingredient, "shop", "", against, {}}; }

/// The specifications of `cake` that are too old on `day`, as `ingredient: days`.
Strings stale(TestKitchen& kitchen, const std::string& cake, const std::string& day) {
  const auto judgement = kitchen.judged(cake);
  const Session session = kitchen.open(true);
  Strings found;
  for (const auto& one : stale_specifications(session.state(), judgement.parts, judgement.label, *parse_date(day)))
    found.push_back(one.ingredient.text() + ": " + std::to_string(one.days_old));
  return found;
}

TEST(Looking, BooksThatThePackSaysTheSame) {
  TestKitchen kitchen;
  const auto booked = kitchen.done([](Session& s) { return look_again(s, looking("flour")); });
  EXPECT_EQ(booked.subjects, Strings{"flour"});
  const Session session = kitchen.open(true);
  ASSERT_EQ(session.state().looked.size(), 1u);
  const auto& looked = session.state().looked.front().value;
  EXPECT_EQ(looked.specification, session.state().lots.at(LotId{"pack-1"}).value.specification);
  EXPECT_EQ(looked.checked, *parse_date("2026-05-01"));
  EXPECT_EQ(session.state().last_looked(looked.specification), *parse_date("2026-05-01"));
}

TEST(Looking, GoesByThePackWhenOneIsNamed) {
  TestKitchen kitchen;
  kitchen.specification("flour", {"gluten:wheat"});
  const auto booked = kitchen.done([](Session& s) { return look_again(s, {"", "", "pack-1", "the sack", {}}); });
  EXPECT_EQ(booked.subjects, Strings{"flour"});
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.state().looked.front().value.specification, session.state().lots.at(LotId{"pack-1"}).value.specification);
  EXPECT_NE(session.state().looked.front().value.specification,
            session.state().specification(IngredientId{"flour"}, SupplierId{"shop"}, session.today())->place);
}

TEST(Looking, IsRefusedForADayThatHasNotComeOrLiesBeforeTheReading) {
  TestKitchen kitchen;
  const auto on = [&](const char* day) {
    Looking asked = looking("flour");
    asked.on = parse_date(day);
    return kitchen.refused([&](Session& s) { return look_again(s, asked); });
  };
  EXPECT_THAT(on("2026-05-02"), HasSubstr("has not come yet"));
  EXPECT_THAT(on("2026-04-01"), HasSubstr("nothing is on file by 1 April 2026"));
  EXPECT_THAT(kitchen.refused([](Session& s) { return look_again(s, looking("cocoa")); }), HasSubstr("there is no ingredient"));
  EXPECT_THAT(kitchen.refused([](Session& s) { return look_again(s, looking("flour", "")); }), HasSubstr("--against"));
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return look_again(s, {"sugar", "", "pack-1", "the sack", {}});
  }),
              HasSubstr("pack-1 is flour"));
}

TEST(SpecificationAge, IsPassedOnTheDayAfterTheLastThatIsAllowed) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("praline", grams(198)), grams(100)}});
  // Read on 30 April 2026; reference/gb allows 365 days (a choice of this project).
  EXPECT_EQ(stale(kitchen, cake, "2027-04-30"), Strings{});
  EXPECT_EQ(stale(kitchen, cake, "2027-05-01"), (Strings{"sugar: 366", "almonds: 366"}));
  kitchen.done([](Session& s) { return look_again(s, looking("almonds")); });
  EXPECT_EQ(stale(kitchen, cake, "2027-05-01"), Strings{"sugar: 366"});
}

TEST(SpecificationAge, KeepsEveryPaperThatTellsOfAllergensBack) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("praline", grams(198)), grams(100)}});
  const DataRoot data{TIERPROOF_SOURCE_DIR};
  const auto booked = [](const auto& issued) { return issued ? Result<Booked>{issued->booked} : Result<Booked>{issued.error()}; };
  const auto papers = std::vector<std::function<Result<Booked>(Session&)>>{
      [&](Session& s) {
        return booked(issue_label(s, {cake, "sheet-99x139"}, data));
      },
      [&](Session& s) { return booked(issue_allergen_sheet(s, cake, data)); },
      [&](Session& s) { return booked(issue_venue_card(s, cake, CardPaper::a5, data)); },
      [&](Session& s) { return booked(issue_hand_over_note(s, cake, SheetPaper::a4, data)); },
      [&](Session& s) { return booked(issue_counter_list(s, {}, data)); }};
  kitchen.at("2027-04-30T09:00+01:00");
  for (const auto& paper : papers) kitchen.done(paper);
  kitchen.at("2027-05-01T09:00+01:00");
  for (const auto& paper : papers) kitchen.refused(paper);
}

TEST(SpecificationAge, OfTheKitchenWinsOverThatOfTheRules) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("praline", grams(198)), grams(100)}});
  correct_note(kitchen, 1, {{"specification_days", Json{30}}});
  EXPECT_EQ(stale(kitchen, cake, "2026-05-30"), Strings{});
  EXPECT_EQ(stale(kitchen, cake, "2026-05-31"), (Strings{"sugar: 31", "almonds: 31"}));
  const Session session = kitchen.open(true);
  const auto all = specifications_to_look_at(session, *parse_date("2026-05-28"));
  ASSERT_EQ(all.size(), 5u);
  EXPECT_EQ(all.front().days_left, 2);
  EXPECT_EQ(all.front().packs, std::vector<LotId>{LotId{"pack-1"}});
  const auto table = table_of(*find_list("to-look-at"), session);
  ASSERT_EQ(table.rows.size(), 5u);
  EXPECT_EQ(text_of(table.rows[0][4]), "29");
}

/// The first row of the kitchen's label rules that rests on memory.
RowTold from_memory(TestKitchen& kitchen) {
  const Session session = kitchen.open(true);
  for (const auto& from : rows_from_memory(session, session.today())) {
    if (from.set == "label") return from.row;
  }
  ADD_FAILURE() << "no row rests on memory";
  return {};
}

TEST(Confirming, MakesARowFromMemoryFirmAndSaysWhoseWordItIs) {
  TestKitchen kitchen;
  const RowTold row = from_memory(kitchen);
  const auto booked = kitchen.done([&](Session& s) {
    return confirm_rule(s, {row.id, "food authority of the town", "Ms Sample", "", "now"});
  });
  EXPECT_EQ(booked.subjects, Strings{row.id});
  const Session session = kitchen.open(true);
  const auto known = confirmations_of(session);
  ASSERT_EQ(known.size(), 1u);
  EXPECT_EQ(known.begin()->first, (std::pair<std::string, std::string>{"gb", row.id}));
  EXPECT_EQ(known.begin()->second.clause, row.clause);
  EXPECT_EQ(known.begin()->second.says, row.says);
  EXPECT_THAT(known.begin()->second.words, HasSubstr("food authority of the town, recorded by ada on 1 May 2026"));
  EXPECT_THAT(known.begin()->second.words, Not(HasSubstr("Sample"))) << "the person can be erased; the words go onto papers";
  EXPECT_EQ(session.state().confirmed.front().value.told_by.text, "Ms Sample");
  for (const auto& from : rows_from_memory(session, session.today())) {
    EXPECT_EQ(from.confirmed.empty(), from.row.id != row.id || from.set != "label") << from.row.id;
  }
}

TEST(Confirming, ReachesTheTermsThatACakeIsJudgedBy) {
  TestKitchen kitchen;
  const auto firm = [&] {
    const Session session = kitchen.open(true);
    const auto terms = session.label_terms(session.today());
    return terms->lot_mark->cited.firm();
  };
  EXPECT_FALSE(firm());
  kitchen.done([](Session& s) { return confirm_rule(s, {"lot-mark", "food authority of the town", "Ms Sample", "gb", "now"}); });
  EXPECT_TRUE(firm());
}

TEST(Confirming, CountsForNothingOnceTheRowIsAnother) {
  // another clause, other figures, and a note of which nobody knows what the row said
  for (const auto& [member, text] : std::vector<std::pair<std::string, std::string>>{
           {"clause", "another clause"}, {"says_sha256", std::string(64, '0')}, {"says_sha256", ""}}) {
    TestKitchen kitchen;
    const RowTold row = from_memory(kitchen);
    const auto booked = kitchen.done([&](Session& s) {
      return confirm_rule(s, {row.id, "food authority of the town", "Ms Sample", "", "now"});
    });
    correct_note(kitchen, booked.sequences.front(), {{member, Json{text}}});
    const Session session = kitchen.open(true);
    std::size_t looked = 0;
    for (const auto& from : rows_from_memory(session, session.today())) {
      if (from.row.id != row.id || from.set != "label") continue;
      EXPECT_TRUE(from.changed) << member << text;
      EXPECT_EQ(from.confirmed, "") << member << text;
      ++looked;
    }
    EXPECT_EQ(looked, 1u);
  }
}

TEST(Confirming, IsRefusedForARowThatWasReadOrIsNotInForce) {
  TestKitchen kitchen;
  const auto refused = [&](const RuleConfirming& asked) { return kitchen.refused([&](Session& s) { return confirm_rule(s, asked); }); };
  EXPECT_THAT(refused({"allergen-milk", "authority", "Ms Sample", "", "now"}), HasSubstr("nothing has to be confirmed"));
  EXPECT_THAT(refused({"no-such-row", "authority", "Ms Sample", "", "now"}), HasSubstr("no row \"no-such-row\" is in force"));
  EXPECT_THAT(refused({"lot-mark", "authority", "Ms Sample", "nowhere", "now"}), HasSubstr("there are no rules called"));
  EXPECT_THAT(refused({"lot-mark", "", "Ms Sample", "", "now"}), HasSubstr("--body"));
  EXPECT_THAT(refused({"lot-mark", "authority", "", "", "now"}), HasSubstr("--told-by"));
}

}  // namespace
}  // namespace tierproof
