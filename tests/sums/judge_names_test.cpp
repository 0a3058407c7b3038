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
                                    {"chocolate", NameMeaning::ask, {}, "", "a:10"},
                                    {"caramel", NameMeaning::ask, {"milk"}, "", "a:11"},
                                    {"praline", NameMeaning::ask, {"nuts"}, "", "a:12"},
                                    {"flour", NameMeaning::usually, {"gluten:wheat"}, "", "a:13"}},
                                   {});
  EXPECT_TRUE(hints);
  return *hints;
}

LabelTerms terms_of_names() {
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
std::vector<Finding> judged(const OnePack& pack) { return judge_names(pack.parts, pack.made, terms_of_names(), some_hints()); }

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
  LabelTerms terms = terms_of_names();
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
  AllergenStatement none{"nuts:almond", Presence::absent, "made of apricot kernels, the sheet says: no almonds"};
  none.by_itself = true;
  const auto findings = judged(a_pack("almond paste sugar", {none}));
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

AllergenStatement absent(const std::string& key, bool by_itself, std::string evidence = "supplier sheet") {
  AllergenStatement said{key, Presence::absent, std::move(evidence)};
  said.by_itself = by_itself;
  return said;
}

TEST(JudgeNames, AcceptsNoBlanketAbsenceAgainstAName) {
  const std::string sheet = "supplier sheet for almond drops: no almonds";
  EXPECT_EQ(judged(a_pack("almond sugar", {absent("nuts:almond", false, sheet)})).front().verdict, Verdict::not_shown)
      << "one text for all others happens to hold the word";
  EXPECT_EQ(judged(a_pack("almond sugar", {absent("nuts:almond", true, sheet)})).front().verdict, Verdict::shown);
  EXPECT_EQ(judged(a_pack("almond sugar", {absent("nuts:almond", true, "supplier sheet")})).front().verdict, Verdict::not_shown)
      << "it does not speak of the matter";
}

TEST(JudgeNames, WantsAnAnswerToWhatANameAsksAbout) {
  for (const auto& silent : {std::vector<AllergenStatement>{},
                             {absent("milk", false)},
                             {absent("milk", true, "")},
                             {{"milk", Presence::unknown, ""}},
                             {{"nuts:almond", Presence::contains, ""}}}) {
    const auto findings = judged(a_pack("caramel", silent));
    EXPECT_EQ(findings.front().verdict, Verdict::not_shown);
    EXPECT_EQ(findings.front().stop, Stop::needs_person);
  }
  EXPECT_NE(judged(a_pack("caramel", {absent("milk", false)}))
                .front()
                .message.find("\"caramel\" may be made with milk, and the specification answers for it only together with all others"),
            std::string::npos);
  for (const AllergenStatement& answer :
       {AllergenStatement{"milk", Presence::contains, ""}, AllergenStatement{"milk", Presence::may_contain, ""}, absent("milk", true)})
    EXPECT_EQ(judged(a_pack("caramel", {answer})).front().verdict, Verdict::shown);
}

TEST(JudgeNames, WantsAnAnswerForEachMemberOfAGroup) {
  EXPECT_EQ(judged(a_pack("praline", {absent("nuts:almond", true)})).front().verdict, Verdict::not_shown) << "nothing is said of hazelnuts";
  EXPECT_EQ(judged(a_pack("praline", {absent("nuts:almond", true), absent("nuts:hazelnut", false)})).front().verdict, Verdict::not_shown);
  EXPECT_EQ(judged(a_pack("praline", {absent("nuts:almond", true), absent("nuts:hazelnut", true)})).front().verdict, Verdict::shown);
  EXPECT_EQ(judged(a_pack("praline", {absent("nuts:almond", false), {"nuts:hazelnut", Presence::contains, ""}})).front().verdict,
            Verdict::shown);
}

TEST(JudgeNames, TellsAnAllergenThatIsOnlyThereAsAnExemptProduct) {
  LabelTerms terms = terms_of_names();
  terms.exemptions.push_back({{}, "gluten:wheat", "wheat glucose syrup", "glucose syrup from wheat"});
  const auto verdict = [&](const std::string& name, const std::string& process, std::vector<DeclaredPart> inside = {}) {
    const OnePack pack = a_pack(name, {{"gluten:wheat", Presence::contains, "", process, ""}}, std::move(inside));
    return judge_names(pack.parts, pack.made, terms, some_hints()).front().verdict;
  };
  EXPECT_EQ(verdict("flour", "wheat glucose syrup"), Verdict::not_shown);
  EXPECT_EQ(verdict("flour", ""), Verdict::shown);
  EXPECT_EQ(verdict("wheat glucose syrup", "wheat glucose syrup"), Verdict::shown);
  DeclaredPart flour;
  flour.name = "flour";
  EXPECT_EQ(verdict("sugar", "wheat glucose syrup", {flour}), Verdict::not_shown);
}

TEST(JudgeNames, LeavesTheWholeSpecificationToItsLines) {
  EXPECT_EQ(judged(a_pack("chocolate", {})).front().verdict, Verdict::shown) << "of each line that is missing allergens-known tells";
  EXPECT_TRUE(hint_complaints("chocolate", {}, some_hints(), terms_of_names()).empty());
  EXPECT_EQ(
      hint_complaints("caramel", {}, some_hints(), terms_of_names()),
      std::vector<std::string>{"\"caramel\": \"caramel\" may be made with milk, and the specification does not say whether it is there"});
  EXPECT_EQ(hint_complaints("almond milk chocolate", {{"milk", Presence::contains, ""}}, some_hints(), terms_of_names()),
            std::vector<std::string>{
                "\"almond milk chocolate\": \"almond\" speaks of almonds, and the specification does not say whether it is there"});
}

}  // namespace
}  // namespace tierproof
