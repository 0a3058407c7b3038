// What the checker tells of the rules on a given day, and the lists that a person asks for.
#include <gmock/gmock.h>

#include "pack_for_tests.h"

namespace tierproof {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

const Date in_2022 = day(2022, 1, 1);

std::vector<std::string> described(const Refusals& refusals) {
  std::vector<std::string> out;
  for (const auto& refusal : refusals) out.push_back(describe(refusal));
  return out;
}

RulePacks packs_of(const std::vector<PackFile>& files) {
  auto packs = read(files);
  if (!packs) throw std::runtime_error{told(packs.error())};
  return std::move(packs).value();
}

TEST(RulesChecker, FindsNoFaultInACompleteSet) { EXPECT_THAT(described(packs_of({label_pack({})}).check(in_2022).faults), IsEmpty()); }

TEST(RulesChecker, TellsAReviewThatIsDueAndWhatNobodyRead) {
  const auto packs = packs_of({pack("aa", "retention", "", {keep("a", 12)})});
  const auto before = packs.check(day(2026, 6, 30));
  EXPECT_THAT(described(before.faults), IsEmpty()) << "the day itself is in time";
  EXPECT_THAT(described(before.cautions),
              ElementsAre(StartsWith("aa/retention.json:3: sources[1].read_on: source \"book\" was never read")));
  const auto after = packs.check(day(2026, 7, 1));
  EXPECT_THAT(described(after.faults),
              ElementsAre(StartsWith("aa/retention.json:3: sources[1].review_by: source \"book\" was due for review on 2026-06-30")));
  EXPECT_THAT(described(packs.check(day(2027, 1, 16)).faults),
              testing::AllOf(Contains(HasSubstr("source \"law\" was due")), Contains(StartsWith("plan/work.json:1"))))
      << "sources of the plan count too";
}

TEST(RulesChecker, TellsRowsFromMemoryApartFromFaults) {
  const auto checked = packs_of({label_pack({from_memory(row("lot", "lot-mark", R"("prefix": "L")")),
                                             from_memory(row("past", "specification-age", R"("days": 90)", "2020-01-01", "2020-12-31"))})})
                           .check(in_2022);
  EXPECT_THAT(described(checked.faults), IsEmpty());
  EXPECT_THAT(described(checked.cautions), Contains(StartsWith("aa/label.json:16: rows[11].basis: \"lot\" rests on memory (s. 1)")));
  EXPECT_THAT(described(checked.cautions), Not(Contains(HasSubstr("\"past\""))));
}

TEST(RulesChecker, TellsRowsThatEndedOrHaveNotBegun) {
  const auto checked = packs_of({label_pack({row("lot", "lot-mark", R"("prefix": "L")", "2020-01-01", "2021-12-31"),
                                             row("age", "specification-age", R"("days": 90)", "2022-01-02")})})
                           .check(in_2022);
  EXPECT_THAT(described(checked.faults), IsEmpty());
  EXPECT_THAT(described(checked.not_in_force), ElementsAre(StartsWith("aa/label.json:16: rows[11]: \"lot\" ended on 2021-12-31"),
                                                           StartsWith("aa/label.json:17: rows[12]: \"age\" begins on 2022-01-02")));
}

TEST(RulesChecker, TellsASetThatIsNotCompleteThatDay) {
  auto rows = label_rows();
  rows[3] = row("emphasis", "emphasis", R"("style": "bold")", "2022-01-02");
  const auto packs = packs_of({pack("aa", "label", "", rows), pack("bb", "temperature", "", {row("c", "cold-place", R"("words": "cool")")}),
                               pack("cc", "retention", "", {keep("k", 12, "2022-01-02")})});
  const auto faults = described(packs.check(in_2022).faults);
  EXPECT_THAT(faults, Contains(StartsWith("aa/label.json:1: rows: no row of emphasis is in force on 2022-01-01")));
  EXPECT_THAT(faults, Contains(StartsWith("bb/temperature.json:1: rows: no row of heat-hold or no-number about \"heating\" is in force")));
  EXPECT_THAT(faults, Contains(StartsWith("cc/retention.json:1: rows: no row of keep is in force")));
  const auto later = described(packs.check(day(2022, 1, 2)).faults);
  EXPECT_THAT(later, Not(Contains(StartsWith("aa/"))));
  EXPECT_THAT(later, Not(Contains(StartsWith("cc/"))));
}

TEST(RulesChecker, AsksNothingOfABaseButOfEverySetAboveItOnlyOnce) {
  auto base = pack("base", "label", "",
                   {row("x", "allergen-exemption", R"("allergen": "fish", "process": "p", "words": "w")"),
                    row("w", "additive-wording", R"("numbers": ["E102"], "wording": "w")")});
  base.text = with(base.text, "\"set\": \"label\",", "\"set\": \"label\", \"base\": true,");
  const auto checked = packs_of({base, label_pack({}, "aa", "base"), label_pack({}, "bb", "base")}).check(in_2022);
  EXPECT_THAT(described(checked.faults), ElementsAre(StartsWith("base/label.json:6: rows[1].numbers: E102 is no additive in force")));
}

TEST(RulesChecker, TellsWordsWithoutTheirTwinInALanguageOfTheLabel) {
  std::vector<std::string> rows{row("languages", "language", R"("languages": ["en", "fr"])"),
                                row("spice", "collective-name", R"("kind": "spice", "words": "spices", "members": "left out")")};
  const auto faults = described(packs_of({label_pack(rows)}).check(in_2022).faults);
  EXPECT_THAT(faults, Contains(StartsWith("aa/label.json:5: rows[0]: there is no allergen \"milk\" in fr")));
  EXPECT_THAT(faults, Contains(StartsWith("aa/label.json:15: rows[10]: there is no wording \"caution\" in fr")));
  EXPECT_THAT(faults, Contains(StartsWith("aa/label.json:17: rows[12]: there is no collective name \"spice\" in fr")));
  EXPECT_EQ(faults.size(), 7u) << "two allergens, four wordings, one collective name";
  rows[0] = row("languages", "language", R"("languages": ["fr"])");
  EXPECT_THAT(described(packs_of({label_pack(rows)}).check(in_2022).faults), IsEmpty()) << "the first language is that of the rows";
}

TEST(RulesChecker, TellsOfALanguageWhoseWordsAreFromMemory) {
  const auto cautions = [](const std::string& languages) {
    return described(packs_of({label_pack({row("languages", "language", languages)})}).check(in_2022).cautions);
  };
  EXPECT_THAT(cautions(R"("languages": ["en", "fr"], "words_from_memory": ["fr"])"),
              Contains(HasSubstr("words_from_memory: what the rules say in fr rests on memory")));
  EXPECT_THAT(cautions(R"("languages": ["en", "fr"])"), Not(Contains(HasSubstr("words_from_memory"))));
}

TEST(RulesChecker, TellsAdditivesThatStandWithoutATable) {
  const auto additive = row("e102", "additive", R"("number": "E102", "name": "Tartrazine", "classes": ["colour"], "status": "permitted")");
  EXPECT_THAT(described(packs_of({label_pack({additive})}).check(in_2022).cautions),
              Contains(StartsWith("aa/label.json:16: rows[11]: \"e102\" stands without a table of additives in the rules of aa")));
  const PackFile table{"aa/list.tsv", "number\tname\tclasses\tstatus\tflags\twhy\nE100\tCurcumin\tcolour\tpermitted\t\t\n"};
  EXPECT_THAT(
      described(packs_of({table, label_pack({additive, row("t", "additive-table", R"("table": "list.tsv")")})}).check(in_2022).cautions),
      Not(Contains(HasSubstr("\"e102\""))));
}

TEST(SourceTitle, IsThatOfTheRulesInUseThoughAnotherPlaceHasARowOfTheSameId) {
  const auto on_book = [](std::string row) { return with(from_memory(std::move(row)), "\"source\": \"law\"", "\"source\": \"book\""); };
  const auto packs = packs_of({pack("aa", "retention", "", {on_book(keep("k", 12))}), pack("bb", "retention", "", {keep("k", 6)}),
                               pack("cc", "retention", "aa", {keep("own", 6, "2020-01-01", "", "hand over")})});
  const auto title = [&](const char* row, const char* clause, std::vector<std::string> codes) {
    return packs.source_title(row, clause, codes);
  };
  EXPECT_EQ(title("k", "s. 1", {"aa"}), "A Book");
  EXPECT_EQ(title("k", "s. 1", {"bb"}), "The Law");
  EXPECT_EQ(title("k", "s. 1", {"cc"}), "A Book");  // of what it extends
  EXPECT_EQ(title("own", "s. 1", {"aa"}), "");
  EXPECT_EQ(title("k", "another clause", {"bb"}), "The Law");
}

TEST(RowsTold, AreThoseInForceWithTheirSourceAndTheirPack) {
  const auto packs = packs_of({pack("aa", "retention", "",
                                    {with(from_memory(keep("k", 12)), "\"source\": \"law\"", "\"source\": \"book\""),
                                     keep("h", 6, "2020-01-01", "2022-12-31", "hand over")}),
                               pack("bb", "retention", "aa", {keep("b", 24, "2021-01-01", "", "best before")})});
  const auto told_rows = packs.rows_told("bb", "retention", in_2022);
  ASSERT_TRUE(told_rows.has_value());
  ASSERT_EQ(told_rows->size(), 3u);
  const auto& own = (*told_rows)[0];
  EXPECT_EQ(own.id, "b");
  EXPECT_EQ(own.jurisdiction, "bb");
  EXPECT_EQ(own.mechanism, "keep");
  EXPECT_EQ(own.clause, "s. 1");
  EXPECT_EQ(own.source, "law");
  EXPECT_EQ(own.source_title, "The Law");
  EXPECT_FALSE(own.from_memory);
  EXPECT_EQ(own.from, day(2021, 1, 1));
  EXPECT_EQ(own.to, std::nullopt);
  EXPECT_EQ(own.review_by, day(2027, 1, 15));
  EXPECT_EQ(own.file, "bb/retention.json");
  EXPECT_EQ(own.line, 5);
  EXPECT_EQ((*told_rows)[1].to, day(2022, 12, 31));
  EXPECT_EQ((*told_rows)[2].jurisdiction, "aa");
  EXPECT_EQ((*told_rows)[2].source_title, "A Book");
  EXPECT_TRUE((*told_rows)[2].from_memory);
  EXPECT_EQ(packs.rows_told("bb", "retention", day(2023, 1, 1))->size(), 2u);
  EXPECT_EQ(packs.sets_of("bb"), std::vector<std::string>{"retention"});
  EXPECT_THAT(packs.sets_of("cc"), IsEmpty());
  const auto none = packs.rows_told("cc", "retention", in_2022);
  ASSERT_FALSE(none.has_value());
  EXPECT_THAT(told(none.error()), HasSubstr("\"cc\" has no retention rules; choose one of: aa, bb"));
}

TEST(KnownAllergens, AreThoseOfAnyLabelPackByTheirKey) {
  const auto packs = packs_of(
      {label_pack(
           {row("fish", "allergen", R"("key": "fish", "group": "fish", "word": "fish", "names": ["fish"])", "2020-01-01", "2020-12-31")},
           "bb"),
       label_pack({row("almond", "allergen", R"("key": "nuts:almond", "group": "nuts", "word": "almonds", "names": ["almond"])")}, "aa")});
  std::vector<std::pair<std::string, std::string>> known;
  for (const auto& allergen : packs.known_allergens()) known.emplace_back(allergen.key, allergen.word);
  EXPECT_THAT(known, ElementsAre(std::pair("fish", "fish"), std::pair("gluten:wheat", "wheat"), std::pair("milk", "milk"),
                                 std::pair("nuts:almond", "almonds")))
      << "whatever the day, and each once";
}

}  // namespace
}  // namespace tierproof
