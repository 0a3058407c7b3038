#include "tierproof/app/changing.h"

#include "app/app_for_tests.h"
#include "tierproof/app/going_wrong.h"

namespace tierproof {
namespace {

/// What the pack of `of` says, with more members.
GivenDocument reading_of(const std::string& of, const std::string& more, const std::string& checked = "2026-05-01") {
  return {of + ".json", "{\"ingredient\": \"" + of + "\", \"supplier\": \"shop\", \"label_name\": \"" + of + "\", \"checked\": \"" +
                            checked +
                            "\", \"checked_against\": \"the new pack\", \"storage\": \"room\", \"absent\": {\"all_others\": true, "
                            "\"evidence\": \"sheet\"}" +
                            more + "}"};
}

SpecificationTaking taking(const GivenDocument& document) {
  SpecificationTaking asked;
  asked.documents = {document};
  return asked;
}
SpecificationTaking accepting(const GivenDocument& document, const Strings& packs = {}, const std::string& why = "") {
  SpecificationTaking asked = taking(document);
  asked.accept = true;
  asked.packs = packs;
  asked.why = why;
  return asked;
}

TakenSpecifications taken(TestKitchen& kitchen, const SpecificationTaking& asked) {
  Session session = kitchen.open();
  const auto done = take_specifications(session, asked);
  if (!done) {
    for (const auto& refusal : done.error()) ADD_FAILURE() << describe(refusal);
    return {};
  }
  return *done;
}
std::string taking_refused(TestKitchen& kitchen, const SpecificationTaking& asked) {
  return kitchen.refused([&](Session& s) -> Result<Booked> {
    auto done = take_specifications(s, asked);
    if (!done) return done.error();
    return done->booked.value_or(Booked{});
  });
}

Difference difference(const std::vector<Difference>& all, const std::string& what) {
  for (const auto& one : all) {
    if (one.what == what) return one;
  }
  ADD_FAILURE() << "nothing is told of " << what;
  return {};
}

/// The sugar comes with almonds in it now.
GivenDocument sugar_with_almonds(const std::string& checked = "2026-05-01") {
  return reading_of("sugar", ", \"contains\": [\"nuts:almond\"]", checked);
}
GivenDocument sugar_with(const std::string& more) { return reading_of("sugar", more); }

std::string label_of(TestKitchen& kitchen, const std::string& cake) {
  const Session session = kitchen.open(true);
  const auto judgement = judge_cake(session, CakeId{cake}, {session.now(), Offset{60}});
  std::string words;
  for (const auto& runs : label_content(session, *judgement, 1).ingredients) words += (words.empty() ? "" : ", ") + text_of(runs);
  return words;
}

TEST(SpecificationChange, TellsWhatAReadingSaysAgainstTheNameOfItsFood) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_ingredient(s, "walnuts", Ingredient{"walnuts", false, false, false, "none"}); });
  const auto absent = taken(kitchen, taking(reading_of("walnuts", "")));
  EXPECT_TRUE(absent.booked.has_value()) << "the specification decides";
  ASSERT_EQ(absent.against_names.size(), 1u);
  EXPECT_NE(absent.against_names.front().find("walnuts"), std::string::npos) << absent.against_names.front();
  const auto contained = taken(kitchen, accepting(reading_of("walnuts", ", \"contains\": [\"nuts:walnut\"]")));
  EXPECT_TRUE(contained.against_names.empty());
}

TEST(SpecificationChange, BooksTheFirstReadingAndOneThatSaysTheSameAtOnce) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_ingredient(s, "cocoa", Ingredient{"cocoa", false, false, false, "none"}); });
  const auto first = taken(kitchen, taking(reading_of("cocoa", "")));
  EXPECT_TRUE(first.changes.empty());
  EXPECT_TRUE(first.booked.has_value());
  const auto same = taken(kitchen, taking(reading_of("sugar", "")));
  EXPECT_TRUE(same.changes.empty()) << "another day and another sack are no change";
  EXPECT_TRUE(same.booked.has_value());
}

TEST(SpecificationChange, OfWhatNothingDependsOnIsToldAndBooked) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_ingredient(s, "cocoa", Ingredient{"cocoa", false, false, false, "none"}); });
  taken(kitchen, taking(reading_of("cocoa", "", "2026-04-30")));
  const auto changed = taken(kitchen, taking(reading_of("cocoa", ", \"may_contain\": [\"milk\"]")));
  ASSERT_EQ(changed.changes.size(), 1u);
  EXPECT_FALSE(changed.changes[0].touches());
  EXPECT_EQ(difference(changed.changes[0].says, "milk").after, "may contain");
  EXPECT_TRUE(changed.booked.has_value());
}

TEST(SpecificationChange, BooksNothingWhileARecipeTakesItUntilSomebodyAccepts) {
  TestKitchen kitchen;
  const std::uint64_t before = kitchen.open(true).head().size;
  const auto told = taken(kitchen, taking(reading_of("almonds", ", \"contains\": [\"nuts:almond\"], \"may_contain\": [\"milk\"]")));
  EXPECT_FALSE(told.booked.has_value());
  EXPECT_EQ(kitchen.open(true).head().size, before);
  ASSERT_EQ(told.changes.size(), 1u);
  ASSERT_EQ(told.changes[0].recipes.size(), 1u);
  EXPECT_EQ(told.changes[0].recipes[0].recipe.text(), "praline");
  EXPECT_EQ(told.changes[0].recipes[0].allergens, (std::vector<Difference>{{"milk", "not an ingredient", "may contain"}}));
  EXPECT_EQ(told.changes[0].here, std::vector<LotId>{LotId{"pack-5"}});
  const auto accepted = taken(kitchen, accepting(reading_of("almonds", ", \"contains\": [\"nuts:almond\"], \"may_contain\": [\"milk\"]")));
  ASSERT_TRUE(accepted.booked.has_value());
  EXPECT_EQ(accepted.booked->subjects, Strings{"almonds"}) << "later deliveries only: no pack is corrected";
  const Session session = kitchen.open(true);
  EXPECT_NE(session.state().lots.at(LotId{"pack-5"}).value.specification, accepted.booked->sequences.front());
}

TEST(SpecificationChange, FollowsARecipeIntoARecipeAndAnOrderThatIsNotBuilt) {
  TestKitchen kitchen;
  kitchen.recipe("layered", R"([{"of": "icing", "recipe": true, "mass": "50 g"}, {"of": "flour", "mass": "10 g"}])", "58 g", "bowl", "none",
                 "fridge");
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "", "before it was chosen", "the maker", "face to face", 1, 900};
  ordering.planned = {"layered"};
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  const auto told = taken(kitchen, taking(reading_of("butter", ", \"contains\": [\"milk\", \"soybeans\"]")));
  ASSERT_EQ(told.changes.size(), 1u);
  Strings recipes;
  Strings planned;
  for (const auto& recipe : told.changes[0].recipes) {
    recipes.push_back(recipe.recipe.text());
    for (const auto& id : recipe.planned) planned.push_back(id.text());
    EXPECT_EQ(difference(recipe.allergens, "soya").after, "contains");
  }
  EXPECT_EQ(recipes, (Strings{"icing", "layered"}));
  EXPECT_EQ(planned, Strings{cake});
}

TEST(SpecificationChange, TellsTheWordsOfAnUnsoldCakeAndWhatIsFoundThen) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  kitchen.put_in(sponge, "worktop");
  const std::string cake = cake_of(kitchen, {{sponge, grams(200)}});
  const std::string words = label_of(kitchen, cake);
  const std::string head = format_head(kitchen.open(true).head());
  const auto told = taken(kitchen, taking(sugar_with_almonds()));
  EXPECT_FALSE(told.booked.has_value());
  EXPECT_EQ(format_head(kitchen.open(true).head()), head);
  ASSERT_EQ(told.changes.size(), 1u);
  ASSERT_EQ(told.changes[0].if_made_so.size(), 1u);
  const CakeChange& change = told.changes[0].if_made_so[0];
  EXPECT_EQ(change.cake.text(), cake);
  EXPECT_FALSE(change.out);
  EXPECT_EQ(change.packs, Strings{"pack-2 (sugar, code code of sugar)"});
  const Difference list = difference(change.words, "list of ingredients");
  EXPECT_THAT(list.before, HasSubstr(words));
  EXPECT_THAT(list.before, Not(HasSubstr("ALMOND")));
  EXPECT_THAT(list.after, HasSubstr("ALMOND"));
  EXPECT_EQ(difference(change.words, "words that stand out").before, "EGGS, WHEAT");
  EXPECT_EQ(difference(change.words, "words that stand out").after, "EGGS, WHEAT, ALMONDS");
  ASSERT_EQ(told.changes[0].batches.size(), 1u);
  EXPECT_EQ(told.changes[0].batches[0].left, grams(70));
  EXPECT_EQ(told.changes[0].batches[0].place, "worktop");
}

TEST(SpecificationChange, JudgesTheCakeAfterwardsExactlyAsItWasToldBefore) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = cake_of(kitchen, {{sponge, grams(200)}});
  const auto told = taken(kitchen, taking(sugar_with_almonds()));
  ASSERT_EQ(told.changes.at(0).if_made_so.size(), 1u);
  const Difference list = difference(told.changes[0].if_made_so[0].words, "list of ingredients");
  EXPECT_THAT(list.before, HasSubstr(label_of(kitchen, cake)));
  const auto done = taken(kitchen, accepting(sugar_with_almonds(), {"pack-2"}, "the sack says so"));
  ASSERT_TRUE(done.booked.has_value());
  EXPECT_EQ(done.booked->subjects, (Strings{"sugar", "pack-2"}));
  EXPECT_THAT(list.after, HasSubstr(label_of(kitchen, cake)));
  const auto judged = kitchen.judged(cake);
  const auto& traces = judged.made->allergens;
  const auto almond = std::find_if(traces.begin(), traces.end(), [](const auto& trace) { return trace.allergen == "nuts:almond"; });
  EXPECT_EQ(almond->presence, Presence::contains);
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.state().lots.at(LotId{"pack-2"}).value.specification, done.booked->sequences.front());
  EXPECT_TRUE(session.state().lots.at(LotId{"pack-2"}).corrected());
}

TEST(SpecificationChange, MakesALabelVoidThatWasPrintedFromTheOldReading) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = cake_of(kitchen, {{sponge, grams(200)}});
  Session session = kitchen.open();
  const auto issued = issue_label(session, {cake, "sheet-99x139", 1}, DataRoot{TIERPROOF_SOURCE_DIR});
  ASSERT_TRUE(issued.has_value()) << describe(issued.error().front());
  EXPECT_TRUE(kitchen.verdicts(cake, "mixed-records").empty());
  const auto told = taken(kitchen, taking(sugar_with_almonds()));
  ASSERT_EQ(told.changes.at(0).if_made_so.size(), 1u);
  ASSERT_EQ(told.changes[0].if_made_so[0].labels.size(), 1u);
  EXPECT_EQ(told.changes[0].if_made_so[0].labels[0].note, issued->booked.sequences.back());
  EXPECT_EQ(told.changes[0].if_made_so[0].labels[0].box, 1);
  taken(kitchen, accepting(sugar_with_almonds()));
  taken(kitchen, accepting(reading_of("sugar", ", \"contains\": [\"nuts:hazelnut\"]"), {"all-in-house"}, "the sack says so"));
  const Finding finding = the_finding(kitchen, cake, "mixed-records");
  EXPECT_EQ(finding.verdict, Verdict::not_shown);
  EXPECT_NE(finding.stop, Stop::none);
}

TEST(SpecificationChange, TellsWhoHasACakeThatIsOutAndWhatTheyWereTold) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "Mr Sample", "before it was chosen", "the maker", "face to face", 1, 900};
  ordering.contact = "01 000 000";
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "none", {}, "the customer", "", ""}); });
  kitchen.tier(cake, "only", {{sponge, grams(200)}});
  kitchen.done([&](Session& s) { return tell_customer(s, {cake, "before the order", "the customer", "It contains wheat.", "", "now"}); });
  EXPECT_EQ(release_of(kitchen, cake), "");
  EXPECT_EQ(hand_over_of(kitchen, cake), "");
  const auto told = taken(kitchen, taking(sugar_with_almonds()));
  ASSERT_EQ(told.changes.at(0).if_made_so.size(), 1u);
  const CakeChange& change = told.changes[0].if_made_so[0];
  EXPECT_TRUE(change.out);
  EXPECT_EQ(change.customer, "Mr Sample, 01 000 000");
  ASSERT_EQ(change.told.size(), 2u);
  EXPECT_THAT(change.told[0], HasSubstr("It contains wheat."));
  EXPECT_THAT(change.told[1], HasSubstr("It contains wheat, eggs and milk."));
  EXPECT_TRUE(change.keeps_until.has_value());
}

TEST(SpecificationChange, TellsWhatStopsACakeInAnyCaseWhenThePackCameAfterTheReading) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = cake_of(kitchen, {{sponge, grams(200)}});
  const auto told = taken(kitchen, taking(sugar_with_almonds("2026-04-30")));
  ASSERT_EQ(told.changes.at(0).in_any_case.size(), 1u) << "read by the day it came, recorded after it was received";
  EXPECT_THAT(difference(told.changes[0].in_any_case[0].verdicts, "Allergens, by the packs: pack-2").after,
              HasSubstr("was read again on 30 April 2026"));
  taken(kitchen, accepting(sugar_with_almonds("2026-04-30")));
  EXPECT_FALSE(kitchen.stops(cake).empty());
}

TEST(SpecificationChange, CorrectsOnlyPacksOfThatFoodAndOnlyWithAReason) {
  TestKitchen kitchen;
  EXPECT_THAT(taking_refused(kitchen, accepting(sugar_with_almonds(), {"pack-1"}, "seen")), HasSubstr("pack-1 is flour from shop"));
  EXPECT_THAT(taking_refused(kitchen, accepting(sugar_with_almonds(), {"pack-99"}, "seen")), HasSubstr("there is no pack called"));
  EXPECT_THAT(taking_refused(kitchen, accepting(sugar_with_almonds(), {"pack-2"})), HasSubstr("--why"));
  EXPECT_THAT(taking_refused(kitchen, accepting(reading_of("sugar", ""), {"pack-2"}, "seen")), HasSubstr("nothing changes"));
  EXPECT_THAT(taking_refused(kitchen, accepting(sugar_with_almonds(), {"pack-2", "all-in-house"}, "seen")), HasSubstr("one or the other"));
}

TEST(SpecificationChange, LeavesThePacksOfACakeThatSomebodyComplainedOfAsTheyAre) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = cake_of(kitchen, {{sponge, grams(200)}});
  kitchen.done([&](Session& s) -> Result<Booked> {
    auto told = complain(s, {cake, "allergic reaction", "the customer", "swollen lips", "now"});
    if (!told) return told.error();
    return told->booked;
  });
  EXPECT_THAT(taking_refused(kitchen, accepting(sugar_with_almonds(), {"pack-2"}, "the sack says so")), HasSubstr("complaint"));
}

TEST(SpecificationChange, TellsEveryMemberThatSaysSomethingElse) {
  TestKitchen kitchen;
  const auto told = taken(
      kitchen, taking(sugar_with(R"(, "parts": ["cane sugar 90 %", {"name": "silica", "additive": "E551", "class": "anti-caking agent",
             "works_in_cake": false, "why": "a free-flow aid of the sugar", "mg_per_kg": "120", "marks": ["nano"]}],
             "sulphites_mg_per_kg": "12", "use_within_days": 30, "kind": "sugar", "marks": ["irradiated"], "sold_as": "food",
             "dried_times": "2.5", "substitutes": "sugars", "polyols": "3 %")")));
  ASSERT_EQ(told.changes.size(), 1u);
  const auto& says = told.changes[0].says;
  EXPECT_EQ(difference(says, "made of").after,
            "cane sugar 90 %, anti-caking agent: silica [E551] (120.000 mg/kg) (nano) (without a function in the cake)");
  EXPECT_EQ(difference(says, "additive").after, "anti-caking agent: E551");
  EXPECT_EQ(difference(says, "sulphites").after, "12.0000 mg/kg");
  EXPECT_EQ(difference(says, "use within").after, "30.0000 days of opening");
  for (const char* what : {"kind of food", "marked", "sold as", "weighed before drying", "stands in for", "added polyols"})
    EXPECT_NE(difference(says, what).after, "") << what;
}

TEST(SpecificationDocument, TakesAllThatRulesOfOtherPlacesAsk) {
  TestKitchen kitchen;
  taken(kitchen, accepting(sugar_with(R"(, "contains": [{"allergen": "gluten:wheat", "process": "wheat glucose syrup"},
        {"allergen": "fish", "species": "cod"}], "parts": ["glucose syrup", {"name": "fish gelatine", "processing_aid": true,
        "why": "fines the syrup"}], "glycyrrhizinic_mg_per_kg": "150", "limit_food": "dried apricots",
        "other_languages": [{"language": "fr", "label_name": "sucre", "parts": ["sirop de glucose", "gelatine de poisson"]}])")));
  const Session session = kitchen.open(true);
  const auto& said = session.state().specifications.rbegin()->second.value;
  const auto stated = [&](const std::string& key) {
    return *std::find_if(said.allergens.begin(), said.allergens.end(), [&](const auto& a) { return a.allergen == key; });
  };
  EXPECT_EQ(stated("gluten:wheat").process, "wheat glucose syrup");
  EXPECT_EQ(stated("fish").species, "cod");
  EXPECT_EQ(stated("milk").presence, "absent");
  EXPECT_TRUE(said.parts.at(1).processing_aid);
  EXPECT_EQ(said.parts.at(1).why_idle, "fines the syrup");
  EXPECT_EQ(said.other_languages.at(0).parts.at(1).name, "gelatine de poisson");
  EXPECT_TRUE(said.other_languages.at(0).parts.at(1).processing_aid) << "all but its name is as the pack says it";
  EXPECT_EQ(said.glycyrrhizinic_ug_per_kg, 150'000);
}

TEST(SpecificationDocument, KeepsAStatementOfAnAllergenThatOnlyOtherRulesList) {
  const AllergenKeys keys{{"milk", "eggs"}, {"milk", "eggs", "nuts:pine"}};
  const auto said = read_specification(reading_of("sugar", ", \"contains\": [\"nuts:pine\"]"), keys);
  ASSERT_TRUE(said.has_value());
  ASSERT_EQ(said->allergens.size(), 3u);
  EXPECT_EQ(said->allergens[2].allergen, "nuts:pine");
  EXPECT_EQ(said->allergens[2].presence, "contains");
  const auto silent = read_specification(reading_of("sugar", ""), keys);
  EXPECT_EQ(silent->allergens.size(), 2u) << "all others are those of the law in force: of the rest nothing was said";
}

TEST(SpecificationDocument, WantsAReasonForWhatIsLeftOutAndKnowsItsWords) {
  TestKitchen kitchen;
  const auto refused = [&](const std::string& more) { return taking_refused(kitchen, taking(sugar_with(more))); };
  EXPECT_THAT(refused(R"(, "parts": [{"name": "silica", "works_in_cake": false}])"), HasSubstr("why"));
  EXPECT_THAT(refused(R"(, "parts": [{"name": "hexane", "processing_aid": true}])"), HasSubstr("why"));
  EXPECT_THAT(refused(R"(, "parts": [{"name": "silica", "why": "because"}])"), HasSubstr("not for what"));
  EXPECT_THAT(refused(R"(, "kind": "sweet stuff")"), HasSubstr("kind"));
  EXPECT_THAT(refused(R"(, "marks": ["shiny"])"), HasSubstr("is not a mark"));
  EXPECT_THAT(refused(R"(, "dried_times": "0.5")"), HasSubstr("dried_times"));
  EXPECT_THAT(refused(R"(, "sold_as": "toys")"), HasSubstr("sold_as"));
  EXPECT_THAT(refused(R"(, "limit_food": "dried apricot")"), HasSubstr("dried apricots"));
  EXPECT_THAT(refused(R"(, "parts": ["a", "b"], "other_languages": [{"language": "fr", "label_name": "sucre", "parts": ["a"]}])"),
              HasSubstr("1 parts are named, and the pack has 2"));
}

TEST(RecipeDocument, KeepsWhatRemainsAndIsReconstitutedAndHandsItToTheBatch) {
  TestKitchen kitchen;
  kitchen.recipe("flambe", R"([{"of": "butter", "mass": "100 g", "remains": "40 %", "why": "weighed before and after"},
                              {"of": "almonds", "mass": "50 g", "reconstituted": true}])",
                 "90 g", "bowl", "none", "fridge",
                 R"(, "label_name": "burnt butter", "other_names": [{"language": "fr", "name": "beurre"}])");
  const std::string batch = kitchen.make("flambe", grams(90));
  const std::string cake = cake_of(kitchen, {{batch, grams(80)}});
  const auto parts = kitchen.judged(cake).parts;
  ASSERT_EQ(parts.batches.size(), 1u);
  EXPECT_EQ(parts.batches[0].label_name, "burnt butter");
  EXPECT_EQ(parts.batches[0].other_names, (std::vector<std::pair<std::string, std::string>>{{"fr", "beurre"}}));
  EXPECT_EQ(parts.batches[0].uses.at(0).remains, (Share{2, 5}));
  EXPECT_FALSE(parts.batches[0].uses.at(0).reconstituted);
  EXPECT_TRUE(parts.batches[0].uses.at(1).reconstituted);
  const GivenDocument without{"x.json", R"({"recipe": "x", "name": "x", "part": "syrup", "items": [{"of": "butter", "mass": "1 g",
      "remains": "40 %"}], "yield": "1 g", "egg": "none", "storage": "room", "life_days": 1, "life_reason": "mine"})"};
  const auto refused = read_recipe(without);
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().front().field, "items[0].why");
}

}  // namespace
}  // namespace tierproof
