#include <gtest/gtest.h>

#include "tierproof/sums/name_hints.h"

namespace tierproof {
namespace {

NameHints some_hints() {
  const auto hints = name_hints_of({{"almond", NameMeaning::contains, {"nuts:almond"}, "", "a:1"},
                                    {"nut", NameMeaning::contains, {"nuts"}, "", "a:2"},
                                    {"milk", NameMeaning::usually, {"milk"}, "", "a:3"},
                                    {"wheat", NameMeaning::contains, {"gluten:wheat"}, "", "a:4"},
                                    {"glucose syrup", NameMeaning::exempts, {"gluten:wheat"}, "{} glucose syrup", "a:5"},
                                    {"ground", NameMeaning::neutral, {}, "", "a:6"},
                                    {"flavouring", NameMeaning::doubts_before, {}, "", "a:7"},
                                    {"sugar", NameMeaning::harmless, {}, "", "a:8"},
                                    {"dairy free", NameMeaning::claim, {"milk"}, "", "a:9"},
                                    {"chocolate", NameMeaning::ask, {}, "", "a:10"}},
                                   {});
  EXPECT_TRUE(hints);
  return *hints;
}

LabelTerms some_terms() {
  LabelTerms terms;
  const auto add = [&](const std::string& key, const std::string& group, const std::string& word) {
    AllergenTerm term;
    term.key = key;
    term.group = group;
    term.word = word;
    terms.allergens.push_back(term);
  };
  add("gluten:wheat", "gluten", "wheat");
  add("milk", "milk", "milk");
  add("nuts:almond", "nuts", "almonds");
  add("nuts:hazelnut", "nuts", "hazelnuts");
  return terms;
}

struct OnePack {
  CakeParts parts;
  Composition made;
};
OnePack a_pack(const std::string& name, std::vector<AllergenStatement> statements, std::vector<DeclaredPart> inside = {}) {
  OnePack pack;
  pack.made.cake = CakeId{"cake-1"};
  LotFacts lot{LotId{"pack-1"}, "A7", {}};
  lot.ingredient.label_name = name;
  lot.ingredient.allergens = std::move(statements);
  lot.ingredient.parts = std::move(inside);
  pack.parts.lots.push_back(lot);
  LotAmount amount;
  amount.paths = {"cake-1 → batch-1 → pack-1"};
  pack.made.lots.push_back(amount);
  return pack;
}
std::vector<Finding> judged(const OnePack& pack) { return judge_names(pack.parts, pack.made, some_terms(), some_hints()); }

TEST(NameHints, RefuseAPhraseOfTwoMeanings) {
  const auto hints =
      name_hints_of({{"butter milk", NameMeaning::usually, {"milk"}, "", "a:1"}, {"buttermilk", NameMeaning::harmless, {}, "", "a:2"}}, {});
  ASSERT_FALSE(hints);
  EXPECT_EQ(describe(hints.error().front()),
            "a:2: phrase: \"buttermilk\" says something else in a:1 (\"butter milk\"); keep one of the two");
}

TEST(NameHints, FoldCaseAccentsPluralsAndBlanks) {
  for (const auto* name : {"ALMONDS", "\xC3\x81lmond", "al-mond", "Almond's", "ground almonds 12,5 %"}) {
    EXPECT_TRUE(hint_of(name, some_hints()).contains_key("nuts:almond")) << name;
  }
  EXPECT_EQ(hint_of("almondine", some_hints()).verdict, HintVerdict::ask) << "a word that only begins like one is not known";
}

TEST(NameHints, ReadBracketsClaimsAndTaste) {
  EXPECT_EQ(hint_of("chocolate", some_hints()).verdict, HintVerdict::ask);
  EXPECT_EQ(hint_of("chocolate (sugar, sugar)", some_hints()).verdict, HintVerdict::none);
  EXPECT_EQ(hint_of("chocolate (sugar, milk)", some_hints()).verdict, HintVerdict::contains);
  EXPECT_EQ(hint_of("dairy free milk", some_hints()).verdict, HintVerdict::ask);
  EXPECT_EQ(hint_of("almond flavouring", some_hints()).verdict, HintVerdict::ask);
  EXPECT_EQ(hint_of("wheat glucose syrup", some_hints()).verdict, HintVerdict::exempt);
  EXPECT_EQ(hint_of("wheat glucose syrup", some_hints()).exempt.front().process, "wheat glucose syrup");
  EXPECT_EQ(hint_of("glucose syrup (wheat), wheat", some_hints()).verdict, HintVerdict::contains);
  EXPECT_EQ(hint_of("", some_hints()).verdict, HintVerdict::ask);
  EXPECT_EQ(hint_of(std::string(500, '('), some_hints()).verdict, HintVerdict::ask);
}

TEST(NameHints, AreExemptOnlyWhereTheRulesExempt) {
  LabelTerms terms = some_terms();
  const NameHint hint = hint_of("wheat glucose syrup", some_hints());
  EXPECT_EQ(hint_under(hint, terms).verdict, HintVerdict::contains);
  terms.exemptions.push_back({{}, "gluten:wheat", "refined wheat glucose syrup", "only if refined"});
  EXPECT_EQ(hint_under(hint, terms).verdict, HintVerdict::ask) << "exempt on a condition that the name does not tell";
  terms.exemptions.back().process = "wheat glucose syrup";
  EXPECT_EQ(hint_under(hint, terms).verdict, HintVerdict::exempt);
}

TEST(JudgeNames, TellsAnAllergenThatTheSpecificationCallsAbsent) {
  const auto findings = judged(a_pack("ground almonds", {{"nuts:almond", Presence::absent, "the sheet of March"}}));
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings.front().control, "names-agree");
  EXPECT_EQ(findings.front().verdict, Verdict::not_shown);
  EXPECT_EQ(findings.front().stop, Stop::needs_person);
  EXPECT_EQ(findings.front().subject, "pack-1");
  EXPECT_NE(findings.front().message.find("\"almonds\" speaks of almonds, and the specification calls it absent"), std::string::npos)
      << findings.front().message;
  EXPECT_EQ(findings.front().paths.size(), 1u);
}

TEST(JudgeNames, TellsAnAllergenThatIsOnlyPossibleOrNotStated) {
  EXPECT_EQ(judged(a_pack("ground almonds", {{"nuts:almond", Presence::may_contain, ""}})).front().verdict, Verdict::not_shown);
  EXPECT_EQ(judged(a_pack("ground almonds", {})).front().verdict, Verdict::not_shown);
}

TEST(JudgeNames, LetsAnExplainedAbsenceStandAndTellsIt) {
  const auto findings =
      judged(a_pack("almond paste sugar", {{"nuts:almond", Presence::absent, "made of apricot kernels, the sheet says: no almonds"}}));
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings.front().verdict, Verdict::shown);
  EXPECT_NE(findings.front().message.find("apricot kernels"), std::string::npos) << findings.front().message;
}

TEST(JudgeNames, LooksAtThePartsToo) {
  DeclaredPart part;
  part.name = "milk powder";
  EXPECT_EQ(judged(a_pack("sugar", {{"milk", Presence::absent, "the pack"}}, {part})).front().verdict, Verdict::not_shown);
  part.allergens = {"milk"};
  EXPECT_EQ(judged(a_pack("sugar", {}, {part})).front().verdict, Verdict::shown) << "the part itself is said to bring it";
}

TEST(JudgeNames, IsContentWithOneMemberOfAGroup) {
  EXPECT_EQ(judged(a_pack("mixed nuts sugar", {{"nuts:hazelnut", Presence::contains, ""}})).front().verdict, Verdict::shown);
  EXPECT_EQ(judged(a_pack("mixed nuts sugar", {})).front().verdict, Verdict::not_shown);
}

TEST(JudgeNames, DoesNotRepeatWhatANameOnlyMakesSomebodyAsk) {
  EXPECT_EQ(judged(a_pack("chocolate", {})).front().verdict, Verdict::shown);
  EXPECT_TRUE(hint_complaints("chocolate", {}, some_hints(), some_terms()).empty());
  EXPECT_EQ(hint_complaints("almond milk chocolate", {{"milk", Presence::contains, ""}}, some_hints(), some_terms()),
            std::vector<std::string>{
                "\"almond milk chocolate\": \"almond\" speaks of almonds, and the specification does not say whether it is there"});
}

}  // namespace
}  // namespace tierproof
