// What the reader refuses, with file and line, all together; and how layers and dates pick the rows in force.
#include <gmock/gmock.h>

#include "pack_for_tests.h"

namespace tierproof {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::StartsWith;

int months_kept(const RulePacks& packs, const std::string& code, Date on) {
  const auto terms = packs.retention_terms(code, on);
  return terms && terms->rows.size() == 1 ? terms->rows[0].months : -1;
}

TEST(Reader, ReadsARowWithItsCitation) {
  const auto packs = read({pack("aa", "retention", "", {keep("keep", 12)})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto terms = packs->retention_terms("aa", day(2020, 1, 1));
  ASSERT_TRUE(terms.has_value());
  ASSERT_EQ(terms->rows.size(), 1u);
  EXPECT_EQ(cite(terms->rows[0].cited), "[keep: s. 1]");
  EXPECT_EQ(cite(Cited{"keep", "s. 1", true}), "[keep: s. 1 (from memory)]");
  EXPECT_EQ(packs->starting_plan().source_of(*packs->plan_row("use-by")), "The Law, s. 2");
}

TEST(Reader, RefusesAnUnknownMechanismAndSaysWhichThereAre) {
  const auto told_why = refused({pack("aa", "retention", "", {keep("a", 12), row("b", "keeep", R"("months": 1)")})});
  ASSERT_EQ(told_why.size(), 1u);
  EXPECT_THAT(told_why[0], StartsWith("aa/retention.json:6: rows[1].mechanism: \"keeep\" is not a mechanism of the retention set"));
  EXPECT_THAT(told_why[0], HasSubstr("closed, keep"));
}

TEST(Reader, RefusesAMechanismOfAnotherSet) {
  EXPECT_THAT(refused({pack("aa", "retention", "", {row("a", "chill", R"("limit": "8 C", "measured_in": "food")")})}),
              Contains(StartsWith("aa/retention.json:5: rows[0].mechanism: \"chill\" is not a mechanism of the retention set")));
}

TEST(Reader, RefusesAnUnknownParameter) {
  EXPECT_THAT(refused({pack("aa", "retention", "", {row("a", "keep", R"("counts_from": "use by", "months": 12, "unless": "x > 3")")})}),
              Contains(StartsWith("aa/retention.json:5: rows[0].unless: is not a member that belongs here")));
}

TEST(Reader, RefusesAMissingAndAnOddParameter) {
  EXPECT_THAT(
      refused({pack("aa", "retention", "", {row("a", "keep", R"("counts_from": "tomorrow")")})}),
      testing::UnorderedElementsAre(StartsWith("aa/retention.json:5: rows[0].months: is missing"),
                                    StartsWith("aa/retention.json:5: rows[0].counts_from: \"tomorrow\" is not one of the choices")));
}

TEST(Reader, ReadsHowLongTheRecordAndPersonalDataAreKept) {
  const auto days = row("b", "keep", R"("what": "personal data", "counts_from": "use by", "days": 30)");
  const auto packs = read({pack("aa", "retention", "", {keep("a", 12), days})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto terms = packs->retention_terms("aa", day(2020, 1, 1));
  ASSERT_TRUE(terms.has_value());
  ASSERT_EQ(terms->rows.size(), 2u) << "the record and the personal data are two questions";
  EXPECT_EQ(terms->rows[0].what, "record");
  EXPECT_EQ(terms->rows[0].months, 12);
  EXPECT_EQ(terms->rows[0].days, 0);
  EXPECT_EQ(terms->rows[1].what, "personal data");
  EXPECT_EQ(terms->rows[1].months, 0);
  EXPECT_EQ(terms->rows[1].days, 30);
}

TEST(Reader, RefusesMonthsBesideDaysAndATimeForSomethingElse) {
  EXPECT_THAT(refused({pack("aa", "retention", "", {row("a", "keep", R"("counts_from": "use by", "months": 12, "days": 30)")})}),
              Contains(StartsWith("aa/retention.json:5: rows[0].days: is given beside months")));
  EXPECT_THAT(refused({pack("aa", "retention", "", {row("a", "keep", R"("counts_from": "use by", "days": 30, "what": "photographs")")})}),
              Contains(StartsWith("aa/retention.json:5: rows[0].what: \"photographs\" is not one of the choices")));
}

TEST(Reader, RefusesATimeThatIsCountedFromWhatTheKindHasNot) {
  EXPECT_THAT(refused({pack("aa", "retention", "", {row("a", "keep", R"("counts_from": "left", "months": 12)")})}),
              Contains(StartsWith("aa/retention.json:5: rows[0].counts_from: \"left\" is not one of the choices")));
  EXPECT_THAT(
      refused({pack("aa", "retention", "", {row("a", "keep", R"("what": "supplier evidence", "counts_from": "use by", "months": 12)")})}),
      Contains(StartsWith("aa/retention.json:5: rows[0].counts_from: \"use by\" is not one of the choices")));
  const auto read_well =
      read({pack("aa", "retention", "", {row("a", "keep", R"("what": "people who work here", "counts_from": "left", "months": 12)")})});
  EXPECT_TRUE(read_well.has_value()) << told(read_well.error());
}

TEST(Reader, RefusesAMissingIdAndOneThatIsNoId) {
  const auto without =
      R"({"mechanism": "keep", "counts_from": "use by", "months": 12, "from": "2020-01-01", "to": null, "source": "law", "clause": "s", "basis": "read"})";
  EXPECT_THAT(refused({pack("aa", "retention", "", {without})}), Contains(StartsWith("aa/retention.json:5: rows[0].id: is missing")));
  EXPECT_THAT(refused({pack("aa", "retention", "", {keep("A Row", 12)})}),
              Contains(StartsWith("aa/retention.json:5: rows[0].id: \"A Row\" is not an id")));
}

TEST(Reader, RefusesADateThatIsNoDate) {
  EXPECT_THAT(refused({pack("aa", "retention", "", {keep("a", 12, "2014-13-12")})}),
              Contains(StartsWith("aa/retention.json:5: rows[0].from: \"2014-13-12\" is not a date")));
}

TEST(Reader, RefusesARowThatEndsBeforeItStarts) {
  EXPECT_THAT(refused({pack("aa", "retention", "", {keep("a", 12, "2020-05-01", "2020-04-30")})}),
              Contains(StartsWith("aa/retention.json:5: rows[0].to: 2020-04-30 comes before from, 2020-05-01")));
  EXPECT_THAT(refused({pack("aa", "retention", "", {keep("a", 12, "2020-05-01", "2020-05-01")})}), testing::IsEmpty());
}

TEST(Reader, RefusesTwoRowsOfOneIdThatOverlap) {
  EXPECT_THAT(refused({pack("aa", "retention", "", {keep("a", 12, "2020-01-01", "2021-06-30"), keep("a", 24, "2021-06-30")})}),
              Contains(StartsWith("aa/retention.json:6: rows[1].from: \"a\" is in force at the same time as in line 5")));
  EXPECT_THAT(refused({pack("aa", "retention", "", {keep("a", 12), keep("a", 24)})}), Contains(HasSubstr("is in force at the same time")));
}

TEST(Reader, RefusesAnIdThatChangesItsMechanism) {
  EXPECT_THAT(refused({pack("aa", "temperature", "",
                            {row("a", "chill", R"("limit": "8 C", "measured_in": "food")", "2020-01-01", "2020-12-31"),
                             row("a", "gap", R"("use": "heat step", "longest_seconds": 60)", "2021-01-01")})}),
              Contains(StartsWith("aa/temperature.json:6: rows[1].mechanism: \"a\" was chill in line 5")));
}

TEST(Reader, RefusesTwoRowsThatAnswerTheSameQuestion) {
  EXPECT_THAT(refused({pack("aa", "retention", "", {keep("a", 12), keep("b", 24, "2022-03-01")})}),
              Contains(StartsWith("aa/retention.json:6: rows[1].id: \"b\" answers the same question as \"a\" on 2022-03-01")));
  EXPECT_THAT(refused({pack("aa", "retention", "", {keep("a", 12, "2020-01-01", "2022-02-28"), keep("b", 24, "2022-03-01")})}),
              testing::IsEmpty());
}

TEST(Reader, RefusesASourceThatThePackDoesNotList) {
  auto file = pack("aa", "retention", "", {keep("a", 12)});
  file.text.replace(file.text.find("\"source\": \"law\""), 15, "\"source\": \"lore\"");
  EXPECT_THAT(refused({file}), Contains(StartsWith("aa/retention.json:5: rows[0].source: \"lore\" is not a source of this pack")));
}

TEST(Reader, RefusesToCallReadWhatNobodyRead) {
  auto file = pack("aa", "retention", "", {keep("a", 12)});
  file.text.replace(file.text.find("\"source\": \"law\""), 15, "\"source\": \"book\"");
  EXPECT_THAT(refused({file}),
              Contains(StartsWith("aa/retention.json:5: rows[0].basis: is \"read\", but source \"book\" has no day on which it was read")));
  file.text.replace(file.text.find("\"basis\": \"read\""), 15, "\"basis\": \"memory\"");
  EXPECT_THAT(refused({file}), testing::IsEmpty());
}

TEST(Reader, RefusesALayerThatExtendsNothingOrItself) {
  EXPECT_THAT(refused({pack("aa", "retention", "zz", {keep("a", 12)})}),
              Contains(StartsWith("aa/retention.json:1: extends: \"zz\" has no retention rules")));
  EXPECT_THAT(refused({pack("aa", "retention", "aa", {keep("a", 12)})}),
              Contains(StartsWith("aa/retention.json:1: extends: \"aa\" leads back")));
  EXPECT_THAT(refused({pack("aa", "retention", "bb", {keep("a", 12)}),
                       pack("bb", "retention", "aa", {keep("b", 12, "2020-01-01", "", "hand over")})}),
              Contains(StartsWith("bb/retention.json:1: extends: \"aa\" leads back")));
}

TEST(Reader, RefusesARowThatClosesNothingOrTurnsIntoAnother) {
  const auto base = pack("aa", "temperature", "", {row("c", "chill", R"("limit": "8 C", "measured_in": "food")")});
  EXPECT_THAT(refused({base, pack("bb", "temperature", "aa", {row("d", "closed", "")})}),
              Contains(StartsWith("bb/temperature.json:5: rows[0].id: \"d\" closes nothing")));
  EXPECT_THAT(refused({base, pack("bb", "temperature", "aa", {row("c", "cold-place", R"("words": "somewhere cool")")})}),
              Contains(StartsWith("bb/temperature.json:5: rows[0].mechanism: \"c\" is chill in the layer beneath")));
}

TEST(Reader, RefusesAFileThatIsNotCalledAsItSays) {
  auto file = pack("aa", "retention", "", {keep("a", 12)});
  file.path = "bb/retention.json";
  EXPECT_THAT(refused({file}), Contains(StartsWith("bb/retention.json:1: jurisdiction: and set do not go with the file's name")));
  file.path = "aa/deeper/retention.json";
  EXPECT_THAT(refused({file}), Contains(StartsWith("aa/deeper/retention.json: is not a rule pack")));
}

TEST(Reader, RefusesSharesTemperaturesAndMassesWithoutTheirUnit) {
  const auto wrong = refused(
      {pack("aa", "temperature", "",
            {row("a", "chill", R"("limit": "8", "measured_in": "food")"), row("b", "egg-mix", R"("sugar_up_to": "12")"),
             row("c", "probe-check", R"("band": "0 C", "days_between": 7)")}),
       pack("aa", "label", "", {row("d", "type-size", R"("what": "text", "measured": "x-height", "above": "50", "minimum_um": 900)")})});
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:5: rows[0].limit: \"8\" is not a temperature")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:6: rows[1].sugar_up_to: \"12\" is not a share")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/temperature.json:7: rows[2].band: is not more than nothing")));
  EXPECT_THAT(wrong, Contains(StartsWith("aa/label.json:5: rows[0].above: \"50\" is not a mass")));
}

TEST(Reader, RefusesAnAdditiveThatIsNotPermittedWithoutAReason) {
  EXPECT_THAT(refused({pack("aa", "label", "",
                            {row("a", "additive", R"("number": "171", "name": "x", "classes": ["colour"], "status": "restricted")")})}),
              testing::UnorderedElementsAre(StartsWith("aa/label.json:5: rows[0].number: \"171\" is not an additive's number"),
                                            StartsWith("aa/label.json:5: rows[0].why: is missing")));
}

TEST(Reader, ReadsATableBesideThePackAndNamesItsBadLines) {
  const auto with_table = pack("aa", "label", "", {row("t", "additive-table", R"("table": "list.tsv")")});
  EXPECT_THAT(refused({with_table}), Contains(StartsWith("aa/label.json:5: rows[0].table: there is no aa/list.tsv")));
  const std::string head = "# a list\nnumber\tname\tclasses\tstatus\tflags\twhy\n";
  EXPECT_THAT(refused({with_table,
                       {"aa/list.tsv", head + "E100\tCurcumin\tcolour\tpermitted\t\t\nE100\tAgain\tcolour\tallowed\t\ta word\nE9\tx\n"}}),
              testing::UnorderedElementsAre(StartsWith("aa/list.tsv:4: status: \"allowed\" is no status"),
                                            StartsWith("aa/list.tsv:4: number: E100 stands there twice"),
                                            StartsWith("aa/list.tsv:5: has 2 columns, not 6")));
  EXPECT_THAT(refused({with_table, {"aa/list.tsv", head + "E100\tCurcumin\tcolour\tpermitted\t\t\n"}}), testing::IsEmpty());
}

TEST(Reader, TakesALineForOneOfTheSubstancesOfANumber) {
  const auto with_table = pack("aa", "label", "", {row("t", "additive-table", R"("table": "list.tsv")")});
  const auto list = [](const std::string& number) {
    return PackFile{"aa/list.tsv",
                    "number\tname\tclasses\tstatus\tflags\twhy\n" + number + "\tSodium bicarbonate\traising agent\tpermitted\t\t\n"};
  };
  for (const char* number : {"E500(ii)", "E160a(iv)", "E452(i)"})
    EXPECT_THAT(refused({with_table, list(number)}), testing::IsEmpty()) << number;
  for (const char* number : {"E500(", "E500()", "E500(iix)", "E500(ii", "E500ii", "E500(ii) ", "(ii)", "E50(ii)"})
    EXPECT_THAT(refused({with_table, list(number)}),
                testing::ElementsAre(StartsWith("aa/list.tsv:2: number: \"" + std::string{number} + "\" is not")))
        << number;
}

TEST(Reader, GivesEveryRefusalAtOnce) {
  const auto all = refused({pack("aa", "retention", "", {keep("a", 0, "soon"), row("b", "nothing", "")}),
                            {"bb/label.json", "{\"jurisdiction\": "},
                            {"cc/odd.json", "[]"}});
  EXPECT_THAT(all, Contains(StartsWith("aa/retention.json:5: rows[0].from")));
  EXPECT_THAT(all, Contains(StartsWith("aa/retention.json:5: rows[0].months")));
  EXPECT_THAT(all, Contains(StartsWith("aa/retention.json:6: rows[1].mechanism")));
  EXPECT_THAT(all, Contains(StartsWith("bb/label.json:1")));
  EXPECT_THAT(all, Contains(StartsWith("cc/odd.json:1")));
}

TEST(Reader, NeverGoesOnWithoutTheClaimWordsOrThePlan) {
  const std::vector<PackFile> files{pack("aa", "retention", "", {keep("a", 12)})};
  const auto packs = RulePacks::read(files);
  ASSERT_FALSE(packs.has_value());
  EXPECT_THAT(told(packs.error()), HasSubstr("claims.json: is missing"));
  EXPECT_THAT(told(packs.error()), HasSubstr("plan/: holds no hazard plan"));
}

TEST(Reader, RefusesAPlanAndClaimWordsThatSayTooLittle) {
  auto plan = a_plan_file;
  plan.text.replace(plan.text.find("\"never\""), 7, "\"maybe\"");
  const std::vector<PackFile> files{
      {"claims.json",
       "{\"title\": \"C\", \"words\": [\n{\"pattern\": \"{} free\", \"why\": \"w\"},\n{\"pattern\": \"!\", \"why\": \"\"}]}"},
      plan};
  const auto packs = RulePacks::read(files);
  ASSERT_FALSE(packs.has_value());
  const auto all = told(packs.error());
  EXPECT_THAT(all, HasSubstr("plan/work.json:2: rows[0].not_met: \"maybe\" is not one of the choices"));
  EXPECT_THAT(all, HasSubstr("claims.json:2: words[0].of: does not go with the pattern"));
  EXPECT_THAT(all, HasSubstr("claims.json:3: words[1].pattern: \"!\" has no word in it"));
  EXPECT_THAT(all, HasSubstr("claims.json:3: words[1].why: is empty"));
}

// ---- days and layers ----------------------------------------------------------------------------------------------------------

TEST(Terms, AreThoseOfTheDayAndTheLastDayCounts) {
  const auto packs = read({pack("aa", "retention", "", {keep("a", 6, "2020-01-01", "2021-06-30"), keep("a", 12, "2021-07-01")})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  EXPECT_EQ(months_kept(*packs, "aa", day(2020, 1, 1)), 6);
  EXPECT_EQ(months_kept(*packs, "aa", day(2021, 6, 30)), 6);
  EXPECT_EQ(months_kept(*packs, "aa", day(2021, 7, 1)), 12);
  EXPECT_EQ(months_kept(*packs, "aa", day(2099, 1, 1)), 12);
  const auto early = packs->retention_terms("aa", day(2019, 12, 31));
  ASSERT_FALSE(early.has_value());
  EXPECT_THAT(told(early.error()), HasSubstr("aa/retention.json:1: rows: no row of keep is in force on 2019-12-31"));
}

TEST(Terms, AreRefusedWhereThereIsNoSuchSet) {
  const auto packs = read({pack("aa", "retention", "", {keep("a", 12)})});
  ASSERT_TRUE(packs.has_value());
  const auto none = packs->label_terms("aa", day(2022, 1, 1));
  ASSERT_FALSE(none.has_value());
  EXPECT_THAT(told(none.error()), HasSubstr("\"aa\" has no label rules"));
  EXPECT_FALSE(packs->retention_terms("bb", day(2022, 1, 1)).has_value());
}

TEST(Terms, TakeALayersRowBeforeTheOneBeneath) {
  const auto packs = read({pack("aa", "retention", "", {keep("a", 12), keep("h", 6, "2020-01-01", "", "hand over")}),
                           pack("bb", "retention", "aa", {keep("a", 24, "2021-01-01", "2021-12-31"), row("h", "closed", "", "2020-01-01")}),
                           pack("cc", "retention", "bb", {keep("a", 36, "2021-12-01")})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  EXPECT_EQ(months_kept(*packs, "bb", day(2020, 6, 1)), 12) << "before the layer's row";
  EXPECT_EQ(months_kept(*packs, "bb", day(2021, 6, 1)), 24) << "while it is in force";
  EXPECT_EQ(months_kept(*packs, "bb", day(2022, 6, 1)), 12) << "after it";
  EXPECT_EQ(months_kept(*packs, "cc", day(2021, 11, 30)), 24);
  EXPECT_EQ(months_kept(*packs, "cc", day(2021, 12, 1)), 36);
  EXPECT_EQ(packs->retention_terms("aa", day(2021, 6, 1))->rows.size(), 2u) << "beneath, nothing changed";
  EXPECT_EQ(packs->files_of("cc"), (std::vector<std::string>{"aa/retention.json", "bb/retention.json", "cc/retention.json"}));
}

TEST(Terms, OfABaseCannotBeChosen) {
  const auto packs = shipped_packs();
  const auto terms = packs.temperature_terms("gb", day(2026, 12, 1));
  ASSERT_FALSE(terms.has_value());
  EXPECT_THAT(told(terms.error()), HasSubstr("gb-eng, gb-sct, gb-wls"));
}

TEST(Terms, OfAPlaceWithoutAnyRuleForColdFoodAreRefused) {
  const std::vector<std::string> rest{row("a", "heat-hold", R"("food": "f", "at": "70 C", "hold_seconds": 120)"),
                                      row("b", "egg-mix", R"("sugar_up_to": "12 %")"),
                                      row("c", "probe-check", R"("band": "1 C", "days_between": 7)"),
                                      row("d", "gap", R"("use": "heat step", "longest_seconds": 60)"),
                                      row("e", "gap", R"("use": "chilled hold", "longest_seconds": 1800)"),
                                      row("f", "chill", R"("limit": "5 C", "measured_in": "air", "advice": true)")};
  const auto packs = read({pack("aa", "temperature", "", rest),
                           pack("bb", "temperature", "aa", {row("g", "chill", R"("limit": "46.4 F", "measured_in": "food")")})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto advice_only = packs->temperature_terms("aa", day(2022, 1, 1));
  ASSERT_FALSE(advice_only.has_value());
  EXPECT_THAT(told(advice_only.error()), HasSubstr("no row of chill (law, not advice) or cold-place is in force"));
  const auto terms = packs->temperature_terms("bb", day(2022, 1, 1));
  ASSERT_TRUE(terms.has_value());
  ASSERT_EQ(terms->chill.size(), 2u);
  EXPECT_FALSE(terms->chill[0].advice) << "law before advice";
  EXPECT_EQ(terms->chill[0].limit, celsius(8.0)) << "46.4 °F is 8 °C";
}

TEST(Terms, StandInTheOrderOfTheLaw) {
  const auto packs = shipped_packs();
  const auto terms = packs.label_terms("gb", day(2026, 12, 1));
  ASSERT_TRUE(terms.has_value());
  EXPECT_EQ(terms->allergens.front().key, "gluten:wheat");
  EXPECT_EQ(terms->allergens.back().key, "molluscs");
  EXPECT_EQ(terms->class_titles.front(), "acid");
  EXPECT_EQ(terms->additives.front().number, "E100");
  EXPECT_EQ(terms->additives.back().number, "Spirulina extract");
  EXPECT_EQ(terms->allergen("no-such"), nullptr);
  EXPECT_EQ(terms->wording("no-such"), nullptr);
  EXPECT_EQ(terms->additive("E9999"), nullptr);
}

TEST(Terms, TakeARowOfOneAdditiveBeforeTheTable) {
  const PackFile table{"aa/list.tsv",
                       "# a list\nnumber\tname\tclasses\tstatus\tflags\twhy\n"
                       "E171\tTitanium dioxide\tcolour\tpermitted\t\t\nE100\tCurcumin\tcolour\tpermitted\t\t\n"};
  const auto packs = read(
      {table, label_pack({row("additives", "additive-table", R"("table": "list.tsv")")}),
       pack("bb", "label", "aa",
            {row("additive-e171", "additive",
                 R"("number": "E171", "name": "Titanium dioxide", "classes": ["colour"], "status": "not permitted", "why": "withdrawn")",
                 "2022-08-07"),
             row("curcumin", "additive",
                 R"("number": "E100", "name": "Curcumin", "classes": ["colour"], "status": "restricted", "why": "a test")")})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  EXPECT_EQ(packs->label_terms("aa", day(2026, 12, 1))->additive("E171")->status, "permitted");
  EXPECT_EQ(packs->label_terms("bb", day(2026, 12, 1))->additive("E171")->status, "not permitted");
  EXPECT_EQ(packs->label_terms("bb", day(2022, 8, 6))->additive("E171")->status, "permitted");
  EXPECT_EQ(packs->label_terms("bb", day(2026, 12, 1))->additive("E100")->status, "restricted");
  const auto there = packs->label_terms("bb", day(2026, 12, 1));
  const auto e171 = [](const AdditiveTerm& additive) { return additive.number == "E171"; };
  EXPECT_EQ(std::count_if(there->additives.begin(), there->additives.end(), e171), 1) << "the line of the table stands back";
}

}  // namespace
}  // namespace tierproof
