#include "tierproof/app/cake_papers.h"

#include <set>

#include "app/app_for_tests.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/going_wrong.h"

namespace tierproof {
namespace {

const DataRoot papers_root{TIERPROOF_SOURCE_DIR};

VenueCardContent card_of(TestKitchen& kitchen, const std::string& cake) {
  const Judgement judgement = kitchen.judged(cake);
  return venue_card_content(kitchen.open(true), judgement);
}
HandOverNoteContent note_of_cake(TestKitchen& kitchen, const std::string& cake) {
  const Judgement judgement = kitchen.judged(cake);
  return hand_over_note_content(kitchen.open(true), judgement, judgement.at);
}
Result<CounterList> counter_list(TestKitchen& kitchen, const std::string& from = "", const std::string& until = "") {
  const Session session = kitchen.open(true);
  CounterListRequest request;
  if (!from.empty()) request.from = parse_date(from);
  if (!until.empty()) request.until = parse_date(until);
  return counter_list_of(session, request, {session.now(), session.offset_at(session.now())});
}
Strings listed(TestKitchen& kitchen, const std::string& from = "", const std::string& until = "") {
  Strings references;
  const auto list = counter_list(kitchen, from, until);
  EXPECT_TRUE(list.has_value());
  if (!list) return references;
  for (const auto& group : list->content.groups) {
    for (const auto& cake : group.cakes) references.push_back(cake.reference);
  }
  return references;
}

/// The word of an allergen in a tier; `(left out)` where no tier has more than `not an ingredient`.
std::string word_in(const VenueCardContent& card, const std::string& allergen, const std::string& tier) {
  for (const auto& line : card.by_tier) {
    if (line.name != allergen) continue;
    EXPECT_EQ(line.words.size(), card.tiers.size());
    for (std::size_t i = 0; i < card.tiers.size(); ++i) {
      if (card.tiers[i] == tier) return line.words.at(i);
    }
  }
  return "(left out)";
}
std::string text_for(const std::vector<LabelledText>& lines, const std::string& label) {
  std::string all;
  for (const auto& line : lines) {
    if (line.label == label) all += (all.empty() ? "" : " | ") + line.text;
  }
  return all;
}
bool holds_text(const Strings& list, const std::string& text) { return std::find(list.begin(), list.end(), text) != list.end(); }

/// A kitchen with a nougat whose pack does not tell of sesame.
struct WithNougat {
  TestKitchen kitchen;
  std::string sponge, icing, nougat;
  WithNougat() {
    kitchen.food("nougat", "none", {"nuts:hazelnut"}, {"sesame"});
    kitchen.pack("nougat", "2026-06-30");
    kitchen.recipe("nougat-disc", R"([{"of": "nougat", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "198 g", "bowl", "none",
                   "room");
    sponge = kitchen.make("sponge", grams(270));
    icing = kitchen.make("icing", grams(298));
    nougat = kitchen.make("nougat-disc", grams(198));
  }
};

TEST(VenueCard, TellsByTierAndAsOneWhatIsNotKnownInOneTierOnly) {
  WithNougat made;
  const std::string cake = made.kitchen.cake();
  made.kitchen.tier(cake, "bottom", {{made.sponge, grams(100)}});
  made.kitchen.tier(cake, "top", {{made.nougat, grams(100)}});
  const VenueCardContent card = card_of(made.kitchen, cake);
  EXPECT_EQ(card.tiers, (Strings{"bottom", "top"}));
  EXPECT_EQ(word_in(card, "wheat", "bottom"), "contains");
  EXPECT_EQ(word_in(card, "wheat", "top"), "not an ingredient");
  EXPECT_EQ(word_in(card, "hazelnuts", "bottom"), "not an ingredient");
  EXPECT_EQ(word_in(card, "hazelnuts", "top"), "contains");
  EXPECT_EQ(word_in(card, "sesame", "bottom"), "not an ingredient");
  EXPECT_EQ(word_in(card, "sesame", "top"), "not known");
  EXPECT_EQ(card.together, "Tiers are cut and served together: treat the whole cake as containing all of these:");
  EXPECT_EQ(card.all, (Strings{"wheat", "egg", "hazelnuts", "sesame (not known: treat as contained)"}));
  EXPECT_EQ(card.stop, "DO NOT HAND OVER. Why stands on the record of cake-1.") << "an allergen that nobody knows stops it";
}

TEST(VenueCard, LeavesNoAllergenOfTheLawOut) {
  WithNougat made;
  const std::string cake = cake_of(made.kitchen, {{made.sponge, grams(100)}, {made.nougat, grams(50)}});
  const Judgement judgement = made.kitchen.judged(cake);
  const VenueCardContent card = card_of(made.kitchen, cake);
  EXPECT_EQ(card.by_tier.size() + card.not_an_ingredient.size(), judgement.label.allergens.size());
  EXPECT_EQ(card.all.size() + card.may_contain.size(), card.by_tier.size());
  EXPECT_EQ(card.together, "Treat the whole cake as containing all of these:") << "it has one tier";
}

TEST(VenueCard, CountsWhateverAnyTierContainsToTheWholeCake) {
  WithNougat made;
  const Strings batches{made.sponge, made.icing, made.nougat};
  for (int bottom = 1; bottom < 8; ++bottom) {
    for (const int top : {1, 2, 4}) {
      const std::string cake = made.kitchen.cake();
      for (const auto& [name, chosen] : std::vector<std::pair<std::string, int>>{{"bottom", bottom}, {"top", top}}) {
        std::vector<std::pair<std::string, Mass>> parts;
        for (std::size_t i = 0; i < batches.size(); ++i) {
          if ((chosen >> i & 1) != 0) parts.emplace_back(batches[i], grams(3));
        }
        made.kitchen.tier(cake, name, parts);
      }
      const VenueCardContent card = card_of(made.kitchen, cake);
      ASSERT_FALSE(card.by_tier.empty());
      for (const auto& line : card.by_tier) {
        for (const auto& word : line.words) {
          const bool told = holds_text(card.all, line.name);
          EXPECT_TRUE(word != "contains" || told) << line.name << " in " << cake;
          EXPECT_TRUE(word != "not known" || told || holds_text(card.all, line.name + " (not known: treat as contained)")) << line.name;
        }
      }
      for (const auto& name : card.not_an_ingredient) EXPECT_EQ(word_in(card, name, "bottom"), "(left out)");
    }
  }
}

/// Praline and icing from one bowl, washed between as `grade` tells (empty: not at all), for a customer who named almonds.
struct AfterPraline {
  TestKitchen kitchen;
  std::string cake;
  explicit AfterPraline(const std::string& grade, const std::string& answer = "named") {
    kitchen.recipe("bowl-icing", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "298 g", "bowl", "none",
                   "fridge");
    kitchen.make("praline", grams(198));
    kitchen.at("2026-05-01T08:30+01:00");
    if (!grade.empty())
      kitchen.done([&](Session& s) {
        if (grade != "washed and tested") return clean(s, {"bowl", grade, "", {}, "", ""});
        return clean(s, {"bowl", grade, "protein swab", {"protein"}, "nothing", ""});
      });
    kitchen.at("2026-05-01T09:00+01:00");
    const std::string icing = kitchen.make("bowl-icing", grams(298));
    const std::string sponge = kitchen.make("sponge", grams(270));
    Ordering ordering{"Plain cake", parse_date("2026-05-02"), "Zoë Überraschung", "before it was chosen", "the maker", "face to face", 1,
                      900};
    cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
    const Strings named = answer == "named" ? Strings{"nuts:almond"} : Strings{};
    kitchen.done([&](Session& s) { return answer_allergy(s, {cake, answer, named, "Noël Größe", "Zuerst gesagt", ""}); });
    Tiering bottom;
    bottom.cake = cake;
    bottom.tier = "bottom";
    bottom.parts = {{sponge, grams(200)}};
    bottom.inedible = {{"dowel", 4}};
    kitchen.done([&](Session& s) { return build_tier(s, bottom); });
    Tiering top;
    top.cake = cake;
    top.tier = "top";
    top.parts = {{icing, grams(200)}};
    top.inedible = {{"wire", 1}};
    kitchen.done([&](Session& s) { return build_tier(s, top); });
  }
};

TEST(VenueCard, TellsTracesOfWashedKitInTheTierThatMetThem) {
  AfterPraline washed{"washed, looked clean", "none"};
  const VenueCardContent card = card_of(washed.kitchen, washed.cake);
  EXPECT_EQ(word_in(card, "almonds", "bottom"), "not an ingredient");
  EXPECT_EQ(word_in(card, "almonds", "top"), "may contain");
  EXPECT_EQ(card.may_contain, Strings{"almonds"});
  EXPECT_EQ(card.stop, "");
}

TEST(VenueCard, DoesNotKnowTracesOfKitThatNobodyWashed) {
  AfterPraline unwashed{""};
  const VenueCardContent card = card_of(unwashed.kitchen, unwashed.cake);
  EXPECT_EQ(word_in(card, "almonds", "top"), "not known");
  EXPECT_TRUE(holds_text(card.all, "almonds (not known: treat as contained)"));
  EXPECT_THAT(card.stop, HasSubstr("DO NOT HAND OVER"));
}

TEST(VenueCard, SaysTheSameWhateverTheCustomerNamed) {
  AfterPraline asked{"washed, looked clean", "none"};
  AfterPraline named{"washed, looked clean", "named"};
  VenueCardContent of_asked = card_of(asked.kitchen, asked.cake);
  VenueCardContent of_named = card_of(named.kitchen, named.cake);
  EXPECT_EQ(of_named.stop, "DO NOT HAND OVER. Why stands on the record of cake-1.") << "traces were met by a customer who named them";
  of_named.stop = of_asked.stop;
  of_named.head = of_asked.head;
  EXPECT_EQ(write_pretty(json_of(of_named)), write_pretty(json_of(of_asked)));
}

TEST(VenueCard, SaysWhatToTakeOutHowToKeepItAndWhomToAsk) {
  AfterPraline made{"washed, looked clean", "none"};
  const VenueCardContent card = card_of(made.kitchen, made.cake);
  EXPECT_EQ(text_for(card.service, "Take out before cutting"), "4 dowels (bottom tier) and 1 wire (top tier)");
  EXPECT_EQ(text_for(card.service, "Keep"), "Keep in the fridge, at 5 °C or below.");
  EXPECT_EQ(text_for(card.service, "Eat by"), "use by 5 May 2026");
  EXPECT_EQ(text_for(card.service, "Egg"), "");
  EXPECT_EQ(text_for(card.service, "Questions"), "ask the maker: Test Kitchen, Unit 0, Example Yard");
  EXPECT_THAT(card.cautions, testing::Contains(HasSubstr("no promise")));
}

TEST(CakePapers, AdviseOnEggThatIsNotShownToBeHeatedEnough) {
  TestKitchen kitchen;
  kitchen.recipe("meringue", R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "290 g", "whisk", "raw, heated here",
                 "fridge", R"(, "heated_together": ["eggs", "sugar"], "heat_food": "core of a cooked food")");
  const std::string cake = cake_of(kitchen, {{kitchen.make("meringue", grams(290)), grams(200)}});
  const std::string advice = text_for(card_of(kitchen, cake).service, "Egg");
  EXPECT_THAT(advice, HasSubstr("do not show that the egg in it was heated enough: batch-1 (meringue)."));
  EXPECT_THAT(advice, HasSubstr("pregnant women"));
  EXPECT_EQ(note_of_cake(kitchen, cake).eggs, Strings{advice});
}

TEST(CakePapers, TellOfEggThatWasHeatedHereAsLightlyCooked) {
  TestKitchen kitchen;
  kitchen.recipe("custard", R"([{"of": "eggs", "mass": "100 g"}, {"of": "butter", "mass": "200 g"}])", "290 g", "whisk", "raw, heated here",
                 "fridge", R"(, "heated_together": ["eggs", "butter"], "heat_food": "core of a cooked food")");
  const std::string custard = kitchen.make("custard", grams(290));
  std::string csv;
  for (int minute = 0; minute <= 10; ++minute)
    csv += format_zoned(parse_zoned("2026-05-01T08:01+01:00")->at + std::chrono::minutes{minute}, Offset{60}) + ",82.0\n";
  kitchen.at("2026-05-01T08:15+01:00");
  kitchen.done([&](Session& s) { return import_csv(s, "fork", custard, "heat step", csv); });
  kitchen.at("2026-05-01T09:00+01:00");
  kitchen.check_thermometers();
  const std::string cake = cake_of(kitchen, {{custard, grams(200)}});
  ASSERT_EQ(kitchen.verdicts(cake, "egg-heat"), Strings{"batch-1 (custard): shown"});
  const Strings eggs = note_of_cake(kitchen, cake).eggs;
  ASSERT_EQ(eggs.size(), 1u);
  EXPECT_THAT(eggs.front(), HasSubstr("Lightly cooked egg: batch-1 (custard)"));
}

TEST(HandOverNote, SaysWhatToTakeOutWhatWasToldAndThatItIsNotReleased) {
  AfterPraline made{"washed and tested"};
  const HandOverNoteContent note = note_of_cake(made.kitchen, made.cake);
  EXPECT_EQ(note.take_out, "Remove 4 dowels (bottom tier) and 1 wire (top tier) before cutting, and count them.");
  EXPECT_EQ(text_for(note.told, "Answer"), "almonds");
  EXPECT_EQ(text_for(note.told, "Words told"), "Zuerst gesagt");
  EXPECT_EQ(text_for(note.told, "Of whom"), "") << "who it was stays apart";
  EXPECT_EQ(text_for(note.allergens, "Contains"), "wheat, egg, milk");
  EXPECT_EQ(text_for(note.allergens, "May contain"), "none of the law's list, by the records");
  EXPECT_FALSE(note.released);
  EXPECT_THAT(note.outcome, HasSubstr("Not released"));
  EXPECT_EQ(note.stop, "");
  EXPECT_THAT(text_for(note.keep, "Eat by"),
              testing::AllOf(HasSubstr("use by 5 May 2026. Why: "), HasSubstr("bowl-icing (batch-2), made 1 May 2026, keeps 4 days")));
}

TEST(HandOverNote, BeginsWithTheStop) {
  AfterPraline made{"washed, looked clean"};
  const HandOverNoteContent note = note_of_cake(made.kitchen, made.cake);
  EXPECT_THAT(note.stop, HasSubstr("DO NOT HAND OVER: "));
  EXPECT_THAT(note.stop, HasSubstr("almonds"));
  EXPECT_EQ(note.outcome, "") << "the stop says it";
}

TEST(HandOverNote, PrintsWhatItWasReleasedAgainst) {
  TestKitchen kitchen;
  Tiering tiering;
  tiering.cake = kitchen.cake();
  tiering.tier = "only";
  tiering.parts = {{kitchen.make("sponge", grams(270)), grams(200)}};
  tiering.estimated = true;
  kitchen.done([&](Session& s) { return build_tier(s, tiering); });
  ASSERT_EQ(release_of(kitchen, tiering.cake, {{"masses-weighed", "the scale was out for repair"}}), "");
  const HandOverNoteContent note = note_of_cake(kitchen, tiering.cake);
  EXPECT_TRUE(note.released);
  ASSERT_EQ(note.overrides.size(), 1u);
  EXPECT_EQ(note.overrides.front().control, "Masses");
  EXPECT_EQ(note.overrides.front().reason, "the scale was out for repair");
}

TEST(HandOverNote, IsErasedWithItsCustomerAndTheCardStays) {
  AfterPraline made{"washed and tested"};
  Session session = made.kitchen.open();
  const auto card = issue_venue_card(session, made.cake, CardPaper::a5, papers_root);
  const auto note = issue_hand_over_note(session, made.cake, SheetPaper::a4, papers_root);
  const auto list = issue_counter_list(session, {}, papers_root);
  ASSERT_TRUE(card && note && list);
  for (const auto& paper : {card->papers.back().bytes, list->papers.back().bytes}) {
    for (const char* words : {"Überraschung", "Größe", "gesagt"}) EXPECT_EQ(paper.find(words), std::string::npos) << words;
  }
  EXPECT_NE(note->papers.back().bytes.find("Zuerst gesagt"), std::string::npos);
  made.kitchen.at("2026-08-01T09:00+01:00");
  Session later = made.kitchen.open();
  ASSERT_TRUE(erase_customer(later, {made.cake, "the customer asked"}).has_value());
  for (const auto sequence : note->booked.sequences) EXPECT_THROW((void)reprint(later, sequence), Fault);
  for (const auto sequence : card->booked.sequences) EXPECT_TRUE(reprint(later, sequence).has_value());
  for (const auto sequence : list->booked.sequences) EXPECT_TRUE(reprint(later, sequence).has_value());
  EXPECT_EQ(text_for(note_of_cake(made.kitchen, made.cake).told, "Words told"), "(erased)");
  EXPECT_THAT(note_of_cake(made.kitchen, made.cake).outcome, HasSubstr("was erased on 1 August 2026"));
}

TEST(CounterList, HoldsTheCakesThatAreHereWithAWordForEveryAllergen) {
  WithNougat made;
  const std::string first = cake_of(made.kitchen, {{made.sponge, grams(50)}});
  const std::string second = cake_of(made.kitchen, {{made.nougat, grams(50)}});
  const std::string binned = cake_of(made.kitchen, {{made.sponge, grams(50)}});
  const std::string planned = made.kitchen.cake();
  made.kitchen.done([&](Session& s) { return throw_away(s, {binned, {}, "it fell", ""}); });
  const auto list = counter_list(made.kitchen);
  ASSERT_TRUE(list.has_value());
  ASSERT_EQ(list->content.groups.size(), 1u);
  const CounterGroup& group = list->content.groups.front();
  EXPECT_EQ(group.allergens.size(), made.kitchen.judged(first).label.allergens.size());
  ASSERT_EQ(group.cakes.size(), 2u);
  EXPECT_EQ(group.cakes[0].reference, first);
  EXPECT_EQ(group.cakes[1].reference, second);
  EXPECT_FALSE(group.cakes[0].stopped);
  EXPECT_TRUE(group.cakes[1].stopped) << "nobody knows its sesame";
  const std::set<std::string> words{"contains", "may contain", "not known", "not an ingredient"};
  for (std::size_t i = 0; i < group.allergens.size(); ++i) {
    for (const auto& cake : group.cakes) EXPECT_TRUE(words.contains(cake.words.at(i))) << group.allergens[i];
  }
  const auto word = [&](std::size_t cake, std::string_view allergen) {
    const auto at = std::find(group.allergens.begin(), group.allergens.end(), allergen) - group.allergens.begin();
    return group.cakes[cake].words.at(static_cast<std::size_t>(at));
  };
  EXPECT_EQ(word(1, "sesame"), "not known");
  EXPECT_EQ(word(0, "wheat"), "contains");
  EXPECT_EQ(list->content.left_out, Strings{planned + " (Plain cake): what it is made of is not recorded"});
}

TEST(CounterList, OfAPeriodHoldsWhatWasHandedOverToo) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string gone = cake_of(kitchen, {{sponge, grams(50)}});
  const std::string here = cake_of(kitchen, {{sponge, grams(50)}});
  ASSERT_EQ(release_of(kitchen, gone), "");
  ASSERT_EQ(hand_over_of(kitchen, gone), "");
  EXPECT_EQ(listed(kitchen), Strings{here});
  EXPECT_EQ(listed(kitchen, "2026-05-02", "2026-05-02"), (Strings{gone, here}));
  EXPECT_EQ(listed(kitchen, "2026-05-01"), (Strings{gone, here}));
  EXPECT_TRUE(counter_list(kitchen, "2026-05-02")->content.groups.front().cakes.front().handed_over);
  const auto before = counter_list(kitchen, "", "2026-05-01");
  ASSERT_FALSE(before.has_value());
  EXPECT_THAT(describe(before.error().front()), HasSubstr("there is none to list that is built"));
  EXPECT_FALSE(counter_list(kitchen, "2026-05-03", "2026-05-02").has_value());
}

TEST(CounterList, NamesACakeThatIsSoldByOtherRulesApart) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  cake_of(kitchen, {{sponge, grams(50)}});
  Ordering ordering{"Cake for abroad", parse_date("2026-05-02"), "", "before it was chosen", "the maker", "face to face", 1, 900};
  ordering.label_rules = "us";
  const std::string abroad = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  kitchen.tier(abroad, "only", {{sponge, grams(50)}});
  const auto list = counter_list(kitchen);
  ASSERT_TRUE(list.has_value());
  ASSERT_EQ(list->content.groups.size(), 2u);
  EXPECT_NE(list->content.groups[0].allergens, list->content.groups[1].allergens);
  EXPECT_EQ(list->content.groups[1].cakes.front().reference, abroad);
}

TEST(CakePapers, AreKeptBookedAndGivenAgainUnderTheirKey) {
  AfterPraline made{"washed and tested"};
  made.kitchen.key = "counter list of today";
  Session session = made.kitchen.open();
  const auto issued = issue_counter_list(session, {}, papers_root);
  ASSERT_TRUE(issued.has_value());
  ASSERT_EQ(session.state().papers.size(), 3u);
  const PaperIssued& paper = session.state().papers.front().value;
  EXPECT_EQ(paper.paper, "counter list");
  EXPECT_EQ(paper.cake.text(), "") << "it is of several cakes";
  EXPECT_EQ(session.state().papers.front().subject, "counter-list");
  made.kitchen.at("2026-05-01T10:00+01:00");
  Session again = made.kitchen.open();
  const auto repeated = issue_counter_list(again, {}, papers_root);
  ASSERT_TRUE(repeated.has_value());
  EXPECT_EQ(repeated->booked.sequences, issued->booked.sequences);
  EXPECT_EQ(repeated->papers.front().bytes, issued->papers.front().bytes);
  EXPECT_EQ(again.store().verify(std::nullopt).complaints, Strings{});
}

TEST(CakePapers, OfACakeThatIsNotBuiltAreRefused) {
  TestKitchen kitchen;
  const std::string cake = kitchen.cake();
  EXPECT_THAT(kitchen.refused([&](Session& s) -> Result<Booked> {
    const auto card = issue_venue_card(s, cake, CardPaper::a5, papers_root);
    return card ? Result<Booked>{card->booked} : card.error();
  }),
              HasSubstr("what it is made of is not recorded"));
  EXPECT_THAT(kitchen.refused([&](Session& s) -> Result<Booked> {
    const auto note = issue_hand_over_note(s, "cake-9", SheetPaper::a4, papers_root);
    return note ? Result<Booked>{note->booked} : note.error();
  }),
              HasSubstr("there is no cake called \"cake-9\""));
}

}  // namespace
}  // namespace tierproof
