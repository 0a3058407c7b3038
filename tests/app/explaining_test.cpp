#include "tierproof/app/explaining.h"

#include "app/app_for_tests.h"
#include "tierproof/app/selling.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

std::vector<WordExplained> explained(TestKitchen& kitchen, const std::string& cake, const Strings& holding = {}) {
  const Session session = kitchen.open(true);
  const auto found = explain_label(session, cake, holding, {session.now(), Offset{60}});
  EXPECT_TRUE(found.has_value());
  return found ? found->words : std::vector<WordExplained>{};
}

TEST(Explaining, GivesEveryPrintedWordARuleOrANote) {
  TestKitchen kitchen;
  const std::string cake =
      cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(200)}, {kitchen.make("icing", grams(298)), grams(100)}});
  const auto all = explained(kitchen, cake);
  EXPECT_GE(all.size(), 9u);
  for (const auto& word : all) {
    EXPECT_NE(word.words, "") << word.what;
    EXPECT_FALSE(word.rules.empty() && word.ways.empty()) << word.what << ": " << word.words;
    for (const auto& rule : word.rules) {
      EXPECT_NE(rule.row, "");
      EXPECT_NE(rule.clause, "") << rule.row;
      EXPECT_TRUE(rule.basis == "read" || rule.basis == "memory");
    }
  }
  // What the label prints of the food is in what is explained, piece by piece.
  const Session session = kitchen.open(true);
  const auto judgement = judge_cake(session, CakeId{cake}, {session.now(), Offset{60}});
  const LabelContent label = label_content(session, *judgement, 1);
  Strings printed{label.name, label.storage, label.date, label.quantity};
  for (const auto& runs : label.ingredients) printed.push_back(text_of(runs));
  for (const auto& text : printed) {
    const auto said = [&](const WordExplained& word) { return word.words == text; };
    EXPECT_TRUE(text.empty() || std::any_of(all.begin(), all.end(), said)) << text;
  }
}

TEST(Explaining, AnswersForEachLanguageOfTheLabel) {
  TestKitchen kitchen;
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "", "before it was chosen", "the maker", "face to face", 1, 900};
  ordering.label_rules = "ca";
  ordering.where = "where it is made";
  ordering.other_names = {{"fr", "Gâteau nature"}};
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  kitchen.tier(cake, "only", {{kitchen.make("sponge", grams(270)), grams(200)}});
  const Session session = kitchen.open(true);
  const Judgement judgement = *judge_cake(session, CakeId{cake}, {session.now(), Offset{60}});
  ASSERT_EQ(label_content(session, judgement, 1).languages.size(), 1u);
  const auto all = explained(kitchen, cake);
  const auto told = [&](const std::string& what) {
    Strings words;
    for (const auto& word : all) {
      if (word.what == what) words.push_back(word.words);
      if (word.what == what && what != "name, fr") {
        EXPECT_FALSE(word.rules.empty()) << what;
      }
    }
    return words;
  };
  EXPECT_EQ(told("name, fr"), Strings{"Gâteau nature"});
  const LabelContent label = label_content(session, judgement, 1);
  ASSERT_NE(label.languages.front().storage, "");
  EXPECT_NE(label.languages.front().storage, label.storage);
  EXPECT_EQ(told("storage, fr"), Strings{label.languages.front().storage});
  EXPECT_EQ(told("may contain, fr"), label.languages.front().may_contain);
}

TEST(Explaining, GivesTheWayFromTheCakeToThePackByItsNotes) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("icing", grams(298)), grams(100)}});
  const auto found = explained(kitchen, cake, {"butter"});
  ASSERT_FALSE(found.empty());
  const Session session = kitchen.open(true);
  const auto& state = session.state();
  ASSERT_FALSE(found.front().ways.empty());
  const WayOfWord& way = found.front().ways.front();
  EXPECT_THAT(way.words, HasSubstr("batch-1 (icing)"));
  EXPECT_THAT(way.words, HasSubstr("pack-3"));
  std::vector<std::uint64_t> notes;
  for (const auto& note : way.notes) notes.push_back(note.note);
  const auto& lot = state.lots.at(LotId{"pack-3"});
  EXPECT_EQ(notes, (std::vector<std::uint64_t>{state.tiers.front().sequence, state.batches.at(BatchId{"batch-1"}).sequence, lot.sequence,
                                               state.specifications.at(lot.value.specification).sequence}));
}

TEST(Explaining, ShowsOnlyWhatHoldsTheWordsAndSaysWhenNothingDoes) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(200)}});
  for (const auto& word : explained(kitchen, cake, {"FLOUR"})) EXPECT_THAT(ascii_lower(word.words), HasSubstr("flour"));
  const Session session = kitchen.open(true);
  const auto nothing = explain_label(session, cake, {"walnuts"}, {session.now(), Offset{60}});
  ASSERT_FALSE(nothing.has_value());
  EXPECT_THAT(nothing.error().front().message, HasSubstr("walnuts"));
}

/// Rules of two routes: boxed before is a label; by another business too, but only somewhere else.
LabelTerms routes() {
  LabelTerms terms;
  terms.jurisdiction = "made-up";
  RouteTerm label;
  label.cited.row = "label";
  label.boxed = "before it was chosen";
  label.seller = "the maker";
  label.on_pack = {"name"};
  RouteTerm sheet;
  sheet.cited.row = "sheet";
  sheet.boxed = "after it was ordered";
  RouteTerm shop;
  shop.cited.row = "shop";
  shop.boxed = "before it was chosen";
  shop.seller = "another business";
  shop.where = "somewhere else";
  shop.statements = {"home kitchen"};
  terms.routes = {label, sheet, shop};
  terms.wordings = {{{}, "home kitchen", "Made in a made-up kitchen", {}}};
  return terms;
}
Strings asked(const SellingAnswers& answers, const LabelTerms& terms) {
  Strings options;
  for (const auto& question : how_it_is_sold(answers, terms).open) options.push_back(question.option);
  return options;
}

TEST(HowSold, AsksOnlyWhatTheRulesAsk) {
  EXPECT_EQ(asked({}, routes()), (Strings{"--boxed", "--sold-by", "--where"})) << "nobody asks how it is ordered";
}

TEST(HowSold, StopsAskingOnceTheAnswerCanBeNoOther) {
  EXPECT_EQ(asked({"after it was ordered", "", "", ""}, routes()), Strings{});
  EXPECT_EQ(how_it_is_sold({"after it was ordered", "", "", ""}, routes()).route->cited.row, "sheet");
  EXPECT_EQ(asked({"before it was chosen", "", "", ""}, routes()), (Strings{"--sold-by", "--where"}));
  EXPECT_EQ(asked({"before it was chosen", "the maker", "", ""}, routes()), Strings{});
  EXPECT_EQ(asked({"before it was chosen", "another business", "", ""}, routes()), Strings{"--where"});
}

TEST(HowSold, SaysUnknownWhereNoRowFits) {
  const HowSold sold = how_it_is_sold({"not boxed", "", "", ""}, routes());
  EXPECT_TRUE(sold.open.empty());
  EXPECT_FALSE(sold.route.has_value());
}

TEST(HowSold, GivesTheSentencesThatThePackMustCarry) {
  const HowSold sold = how_it_is_sold({"before it was chosen", "another business", "", "somewhere else"}, routes());
  ASSERT_TRUE(sold.route.has_value());
  EXPECT_EQ(sold.sentences, Strings{"Made in a made-up kitchen"});
}

TEST(HowSold, IsAnsweredByEveryPackThatIsShipped) {
  for (const auto& code : rule_packs()->with_labels()) {
    const auto terms = rule_packs()->label_terms(code, *parse_date("2026-11-25"));
    ASSERT_TRUE(terms.has_value()) << code;
    EXPECT_FALSE(how_it_is_sold({}, *terms).open.empty()) << code;
    for (const auto& boxed : selling_questions()[0].answers) {
      const HowSold sold = how_it_is_sold({boxed.meant, "the maker", "face to face", "where it is made"}, *terms);
      EXPECT_TRUE(sold.open.empty()) << code;
      EXPECT_TRUE(!sold.route || !sold.route->words.empty()) << code;
    }
  }
}

TEST(HowSold, TakesAnAnswerAsItIsTyped) {
  EXPECT_EQ(selling_answer("--boxed", "before"), "before it was chosen");
  EXPECT_EQ(selling_answer("--where", "delivered"), "delivered");
  EXPECT_FALSE(selling_answer("--boxed", "maybe").has_value());
}

TEST(Ordering, RecordsWhereAndByWhichRulesACakeIsSold) {
  TestKitchen kitchen;
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "", "before it was chosen", "the maker", "face to face", 1, 900};
  ordering.where = "somewhere else";
  ordering.label_rules = "us";
  ordering.shows = {"lemon"};
  ordering.marks = {"defrosted"};
  ordering.list = "by part";
  ordering.other_names = {{"fr", "gateau"}};
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  const Session session = kitchen.open(true);
  const Cake& order = session.state().cakes.at(CakeId{cake}).value;
  EXPECT_EQ(order.where, "somewhere else");
  EXPECT_EQ(order.label_rules, "us");
  EXPECT_EQ(order.shows, Strings{"lemon"});
  EXPECT_EQ(order.marks, Strings{"defrosted"});
  EXPECT_EQ(order.list, "by part");
  ASSERT_EQ(order.other_names.size(), 1u);
  ordering.label_rules = "atlantis";
  ordering.marks = {"shiny"};
  const std::string refused = kitchen.refused([&](Session& s) { return order_cake(s, ordering); });
  EXPECT_THAT(refused, HasSubstr("--rules"));
  EXPECT_THAT(refused, HasSubstr("--mark"));
}

}  // namespace
}  // namespace tierproof
