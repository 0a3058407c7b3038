// The hazard plan as the kitchen's own: taken over, reviewed, named by findings, and stricter than the rules where it says so.
#include "tierproof/app/planning.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <filesystem>

#include "app/plan_for_tests.h"
#include "tierproof/app/issuing.h"

namespace tierproof {
namespace {

/// The starting plan with a stricter number.
HazardPlan with_limit(const std::string& row, PlanLimit limit) {
  HazardPlan plan = starting();
  row_in(plan, row).limits = {std::move(limit)};
  return plan;
}
PlanLimit chilled(std::int64_t hundredths) { return {"chilled food at or below", Degrees{hundredths, Scale::celsius}, {}, {}}; }
PlanLimit out_limit(std::int64_t minutes) { return {"out of the fridge less than", {}, minutes, {}}; }
PlanLimit cold_days(std::int64_t days) { return {"kept cold for at most", {}, {}, days}; }

/// A cake of cream that is kept cold, built at 09:00 on 1 May 2026.
std::string cold_cake(TestKitchen& kitchen) {
  kitchen.check_thermometers();
  kitchen.recipe("cream", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "195 g", "bowl", "none", "fridge",
                 R"(, "heated": "not heated")");
  const std::string batch = kitchen.make("cream", grams(195));
  kitchen.put_in(batch, "fridge");
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string cake = cake_of(kitchen, {{batch, grams(195)}});
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-05-01T20:00+01:00");
  return cake;
}
Finding cold_finding(TestKitchen& kitchen, const std::string& cake, const std::string& subject) {
  for (const auto& finding : kitchen.judged(cake).findings) {
    if (finding.control == "cold-hold" && finding.subject == subject) return finding;
  }
  ADD_FAILURE() << subject;
  return {};
}

TEST(Plan, IsTheStartingPlanUntilOneIsTakenOver) {
  TestKitchen kitchen;
  const std::string cake = cold_cake(kitchen);
  EXPECT_EQ(kitchen.judged(cake).plan.words, "starting plan, not taken over yet");
  EXPECT_EQ(kitchen.judged(cake).plan.note, 0u);
  const auto taken = take(kitchen, starting());
  EXPECT_TRUE(taken.changes.empty()) << "it says what the starting plan says, and is the kitchen's own from here on";
  EXPECT_EQ(kitchen.judged(cake).plan.words, fmt::format("plan of 1 May 2026, note {}", taken.booked.sequences.front()));
}

TEST(Plan, TellsWhatAVersionChanged) {
  TestKitchen kitchen;
  HazardPlan plan = starting();
  take(kitchen, plan);
  row_in(plan, "cold-hold").how_often = "each morning and evening";
  row_in(plan, "cold-hold").limits = {chilled(500)};
  std::erase_if(plan.rows, [](const PlanRow& row) { return row.id == "torch-fuel"; });
  PlanRow bees = row_in(plan, "pests");
  bees.id = "bees";
  plan.rows.push_back(bees);
  plan.review_months = 6;
  const auto taken = take(kitchen, plan);
  std::vector<std::string> told;
  for (const auto& change : taken.changes) told.push_back(fmt::format("{} {} {}", change.row, change.how, fmt::join(change.members, ",")));
  EXPECT_THAT(told,
              testing::ElementsAre(" changed review_months", "cold-hold changed limits,how_often", "bees added ", "torch-fuel removed "));
}

TEST(Plan, RefusesWhatAlreadyIsInForceAndClaimsInItsWords) {
  TestKitchen kitchen;
  HazardPlan plan = starting();
  take(kitchen, plan);
  EXPECT_THAT(take_refused(kitchen, plan), HasSubstr("says the same"));
  row_in(plan, "glass").control = "This kitchen is nut free.";
  EXPECT_THAT(take_refused(kitchen, plan), HasSubstr("plan.json: row glass, control: \"nut free\" is a claim"));
}

TEST(Plan, KeepsEveryRowThatAControlOnCakesNames) {
  TestKitchen kitchen;
  HazardPlan plan = starting();
  std::erase_if(plan.rows, [](const PlanRow& row) { return row.on_cakes(); });
  const std::string told = take_refused(kitchen, plan);
  int controls = 0;
  for (const auto& row : starting().rows) {
    if (!row.on_cakes()) continue;
    ++controls;
    EXPECT_THAT(told, HasSubstr(fmt::format("plan.json: row {}: is left out, and the control \"{}\"", row.id, row.words)));
  }
  EXPECT_GE(controls, 37);
  HazardPlan without_glass = starting();
  std::erase_if(without_glass.rows, [&](const PlanRow& one) { return one.id == "glass"; });
  EXPECT_EQ(take(kitchen, without_glass).changes.size(), 1u);
}

TEST(Plan, NeverLetsAPersonReleaseWhereNobodyMay) {
  TestKitchen kitchen;
  HazardPlan plan = starting();
  row_in(plan, "cold-hold").not_met = "with a reason";
  EXPECT_THAT(take_refused(kitchen, plan),
              HasSubstr("row cold-hold, not_met: \"with a reason\" would let a person release where nobody may"));
  plan = starting();
  row_in(plan, "cold-hold").not_met = row_in(plan, "cold-hold").not_shown = "";
  EXPECT_THAT(take_refused(kitchen, plan), HasSubstr("row cold-hold, not_met: is left out"));
  plan = starting();
  row_in(plan, "glass").not_met = row_in(plan, "glass").not_shown = "never";
  EXPECT_THAT(take_refused(kitchen, plan), HasSubstr("row glass, not_met: no control on cakes goes by this row"));
  plan = starting();
  row_in(plan, "cooling").not_met = "never";
  EXPECT_EQ(take(kitchen, plan).changes.size(), 1u) << "graver is for the kitchen to say";
}

// England and Wales: chilled food at or below 8 °C, once up to 4 h for service or display (Food Safety and Hygiene (England) Regulations
// 2013, SI 2013/2996, schedule 4, as the rows of reference/gb-eng/temperature.json cite it).
TEST(Plan, TightensTheChilledLimitAndSaysSo) {
  TestKitchen kitchen;
  const std::string cake = cold_cake(kitchen);
  kitchen.readings("logger", "fridge", "2026-05-01T07:45+01:00", "2026-05-01T20:00+01:00", "6.0");
  EXPECT_EQ(cold_finding(kitchen, cake, cake).verdict, Verdict::shown) << cold_finding(kitchen, cake, cake).message;
  take(kitchen, with_limit("cold-hold", chilled(500)));
  const Finding found = cold_finding(kitchen, cake, cake);
  EXPECT_EQ(found.verdict, Verdict::not_shown) << found.message;
  EXPECT_THAT(found.limit, HasSubstr("5.0 °C (the plan's own limit; the rules have 8 °C)"));
  EXPECT_THAT(found.source, HasSubstr("[cold-hold: the kitchen's own plan of 1 May 2026"));
}

TEST(Plan, ANumberAsStrictAsTheLawChangesNothingAndALaxerOneIsRefused) {
  TestKitchen kitchen;
  const std::string told = take_refused(kitchen, with_limit("cold-hold", chilled(801)));
  EXPECT_THAT(told,
              HasSubstr("plan.json: row cold-hold, limits, chilled food at or below: 8.01 °C is laxer than 8 °C, which the rules of"));
  EXPECT_THAT(told, HasSubstr("[chill-food: sch. 4 para. 2(1)]"));
  EXPECT_THAT(told, HasSubstr("write 8 °C or a stricter number"));
  const std::string cake = cold_cake(kitchen);
  kitchen.readings("logger", "fridge", "2026-05-01T07:45+01:00", "2026-05-01T20:00+01:00", "6.0");
  const auto before = cold_finding(kitchen, cake, cake);
  take(kitchen, with_limit("cold-hold", chilled(800)));
  EXPECT_EQ(cold_finding(kitchen, cake, cake), before);
}

TEST(Plan, StopsFoodThatWasWarmerThanItsOwnLimitAsMissed) {
  TestKitchen kitchen;
  const std::string cake = cold_cake(kitchen);
  kitchen.readings("logger", "fridge", "2026-05-01T07:45+01:00", "2026-05-01T20:00+01:00", "4.0");
  kitchen.readings("fork", cake, "2026-05-01T09:00+01:00", "2026-05-01T20:00+01:00", "7.0");
  EXPECT_EQ(cold_finding(kitchen, cake, cake).verdict, Verdict::shown) << cold_finding(kitchen, cake, cake).message;
  take(kitchen, with_limit("cold-hold", chilled(500)));
  const Finding found = cold_finding(kitchen, cake, cake);
  EXPECT_EQ(found.verdict, Verdict::not_met) << found.message << found.evidence;
  EXPECT_EQ(found.stop, Stop::no_override) << "its row says never";
  EXPECT_THAT(found.source, HasSubstr("stricter than chill-food: sch. 4 para. 2(1)"));
}

TEST(Plan, ANumberHasToBeStricterThanAdviceToo) {
  TestKitchen kitchen;
  const Session session = kitchen.open(true);
  TemperatureTerms terms;
  terms.title = "Nowhere";
  const auto told = [&](const HazardPlan& plan) {
    std::string all;
    for (const auto& refusal : laxer_than(session, terms, plan, "plan.json")) all += describe(refusal) + "\n";
    return all;
  };
  EXPECT_THAT(told(with_limit("cold-hold", chilled(500))),
              HasSubstr("the rules of Nowhere give no temperature that it could make stricter"));
  EXPECT_THAT(told(with_limit("cold-hold", out_limit(60))), HasSubstr("the rules of Nowhere give no time that it could make stricter"));
  EXPECT_EQ(told(with_limit("use-by", cold_days(3))), "") << "an earlier end needs no law";
  terms.chill = {{{"advised", "a leaflet"}, celsius(5.0), "food", true, ""}};
  EXPECT_EQ(told(with_limit("cold-hold", chilled(500))), "");
  EXPECT_THAT(told(with_limit("cold-hold", chilled(501))),
              HasSubstr("is laxer than 5 °C, which the rules of Nowhere have: [advised: a leaflet]"));
  terms.cold_days = ColdDays{{"days", "a leaflet"}, 3};
  EXPECT_EQ(told(with_limit("use-by", cold_days(3))), "");
  EXPECT_THAT(told(with_limit("use-by", cold_days(4))), HasSubstr("4 days is laxer than 3 days"));
}

TEST(Plan, TightensTheTimeOutOfTheFridge) {
  TestKitchen kitchen;
  const std::string cake = cold_cake(kitchen);
  kitchen.readings("logger", "fridge", "2026-05-01T07:45+01:00", "2026-05-01T20:00+01:00", "4.0");
  for (const auto& [place, use, clock] : {std::tuple{"worktop", "service or display", "12:00"}, std::tuple{"fridge", "", "14:00"}})
    kitchen.done([&, place = place, use = use, clock = clock](Session& s) {
      PutFor purpose;
      purpose.use = use;
      return put(s, cake, place, fmt::format("2026-05-01T{}+01:00", clock), purpose);
    });
  const std::string subject = cake + ", out of the fridge";
  EXPECT_EQ(cold_finding(kitchen, cake, subject).verdict, Verdict::shown) << cold_finding(kitchen, cake, subject).message;
  EXPECT_THAT(take_refused(kitchen, with_limit("cold-hold", out_limit(241))), HasSubstr("is laxer than 4 h, which the rules of"));
  take(kitchen, with_limit("cold-hold", out_limit(121)));
  EXPECT_EQ(cold_finding(kitchen, cake, subject).verdict, Verdict::shown) << "2 h are less than 121 min";
  take(kitchen, with_limit("cold-hold", out_limit(120)));
  const Finding found = cold_finding(kitchen, cake, subject);
  EXPECT_EQ(found.verdict, Verdict::not_shown);
  EXPECT_THAT(found.message, HasSubstr("2 h is not less than 2 h"));
  EXPECT_THAT(found.source, HasSubstr("2 h by the kitchen's own plan of 1 May 2026, note"));
}

TEST(Plan, ShortensTheDaysInTheCold) {
  TestKitchen kitchen;
  const std::string cake = cold_cake(kitchen);
  const auto ends = [&] { return *kitchen.judged(cake).life->date; };
  const Date before = ends();
  take(kitchen, with_limit("use-by", cold_days(2)));
  EXPECT_LT(ends(), before);
  EXPECT_EQ(ends(), *parse_date("2026-05-02")) << "the day it was made is the first";
  EXPECT_THAT(kitchen.judged(cake).life->why, HasSubstr("the kitchen's own plan of 1 May 2026"));
}

PlanLimit heated(const std::string& what, const std::string& row, std::int64_t hundredths, std::int64_t seconds) {
  return {what, Degrees{hundredths, Scale::celsius}, {}, {}, seconds, row};
}

// Great Britain: the core of a cooked food at 70 °C for 2 min, or 75 °C for 30 s (advice of the Food Standards Agency, as the rows of
// reference/gb/temperature.json cite it).
TEST(Plan, RaisesARowOfTheHeatTableAndSaysSo) {
  TestKitchen kitchen;
  kitchen.recipe("caramel", R"([{"of": "sugar", "mass": "100 g"}, {"of": "butter", "mass": "100 g"}])", "190 g", "bowl", "none", "room",
                 R"(, "heat_food": "core of a cooked food")");
  const std::string batch = kitchen.make("caramel", grams(190));
  kitchen.at("2026-05-01T09:00+01:00");
  std::string csv;
  for (int minute = 1; minute <= 4; ++minute) csv += fmt::format("2026-05-01T08:{:02}:00+01:00,76.1\n", minute);
  kitchen.done([&](Session& s) { return import_csv(s, "fork", batch, "heat step", csv + "2026-05-01T08:05:00+01:00,60\n"); });
  const std::string cake = cake_of(kitchen, {{batch, grams(190)}});
  EXPECT_EQ(the_finding(kitchen, cake, "core-heat").verdict, Verdict::shown);
  take(kitchen, with_limit("core-heat", heated("middle heated to at least", "core-75", 7600, 30)));
  const Finding found = the_finding(kitchen, cake, "core-heat");
  EXPECT_EQ(found.verdict, Verdict::not_shown) << "the fork may be off by more than a tenth: " << found.message;
  EXPECT_EQ(found.limit, "76.0 °C for 30 s, unbroken (the plan's own limit; the rules have 75 °C for 30 s)");
  EXPECT_THAT(found.source, HasSubstr("76.0 °C for 30 s by the kitchen's own plan of 1 May 2026, note"));
  take(kitchen, with_limit("core-heat", heated("middle heated to at least", "core-75", 7550, 30)));
  EXPECT_EQ(the_finding(kitchen, cake, "core-heat").verdict, Verdict::shown) << the_finding(kitchen, cake, "core-heat").message;
}

TEST(Plan, RefusesAHeatLimitThatIsLaxerOrOfNoRow) {
  TestKitchen kitchen;
  const std::string lax = take_refused(kitchen, with_limit("core-heat", heated("middle heated to at least", "core-70", 6999, 120)));
  EXPECT_THAT(lax, HasSubstr("plan.json: row core-heat, limits, middle heated to at least: 69.99 °C for 2 min (heat row core-70) is laxer "
                             "than 70 °C for 2 min, which the rules of England have: "));
  EXPECT_THAT(lax, HasSubstr("[core-70: core temperature 70 °C]"));
  EXPECT_THAT(take_refused(kitchen, with_limit("egg-heat", heated("egg heated to at least", "core-71", 7500, 120))),
              HasSubstr("\"core-71\" is no row of the heat table of England; write one of core-60, core-65, core-70, core-75, core-80"));
  EXPECT_THAT(take_refused(kitchen, with_limit("core-heat", heated("egg heated to at least", "core-70", 7500, 120))),
              HasSubstr("is a limit of the row egg-heat, whose sums take it"));
  EXPECT_THAT(take_refused(kitchen, with_limit("cooling", {"cooled from hot", Degrees{400, Scale::celsius}, 60, {}})),
              HasSubstr("the rules of England give no cooling that it could make stricter"));
  EXPECT_THAT(take_refused(kitchen, with_limit("reheating", heated("heated again to at least", "", 8200, 0))),
              HasSubstr("the rules of England give no reheating that it could make stricter"));
}

// United States: 57 °C (135 °F) to 21 °C (70 °F) within 2 h and to 5 °C (41 °F) within 6 h in all (FDA Food Code 3-501.14(A)); heated again
// to 74 °C (165 °F) for 15 s (3-403.11(A)), as the rows of reference/us/temperature.json cite them.
TEST(Plan, TightensCoolingAndReheatingByItsOwnNumbers) {
  TestKitchen kitchen;
  correct_note(kitchen, 1, {{"temperature_rules", Json{"us"}}});
  kitchen.recipe("custard", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "195 g", "bowl", "none", "fridge",
                 R"(, "heated": "heated")");
  const std::string batch = kitchen.make("custard", grams(195));
  kitchen.at("2026-05-01T18:00+01:00");
  std::string cold, hot;
  for (const auto& [clock, degrees] : {std::pair{"08:15", "71"}, std::pair{"08:30", "60"}, std::pair{"09:00", "35"},
                                       std::pair{"10:00", "20"}, std::pair{"12:00", "9"}, std::pair{"13:15", "4"}})
    cold += fmt::format("2026-05-01T{}:00+01:00,{}\n", clock, degrees);
  for (const auto& [clock, degrees] : {std::pair{"14:00:00", "3"}, std::pair{"15:00:00", "75"}, std::pair{"15:00:20", "75"}})
    hot += fmt::format("2026-05-01T{}+01:00,{}\n", clock, degrees);
  kitchen.done([&](Session& s) { return import_csv(s, "fork", batch, "cooling", cold); });
  kitchen.done([&](Session& s) { return import_csv(s, "fork", batch, "reheating", hot); });
  const std::string cake = cake_of(kitchen, {{batch, grams(195)}});
  EXPECT_EQ(the_finding(kitchen, cake, "cooling").verdict, Verdict::shown) << "from 60 °C at 08:30, it is cold at 13:15: 4 h 45 min";
  EXPECT_EQ(the_finding(kitchen, cake, "reheating").verdict, Verdict::shown);
  take(kitchen, with_limit("cooling", {"cooled from hot", {}, 285, {}}));
  EXPECT_EQ(the_finding(kitchen, cake, "cooling").verdict, Verdict::shown) << the_finding(kitchen, cake, "cooling").message;
  take(kitchen, with_limit("cooling", {"cooled from hot", {}, 284, {}}));
  const Finding slow = the_finding(kitchen, cake, "cooling");
  EXPECT_EQ(slow.verdict, Verdict::not_shown) << slow.message;
  EXPECT_THAT(slow.limit, HasSubstr("within 4 h 44 min in all (the plan's own limit; the rules have 135 °F (57.22 °C) to"));
  take(kitchen, with_limit("reheating", heated("heated again to at least", "", 8000, 15)));
  const Finding warm = the_finding(kitchen, cake, "reheating");
  EXPECT_NE(warm.verdict, Verdict::shown);
  EXPECT_THAT(warm.limit, HasSubstr("80.0 °C for 15 s, unbroken"));
  EXPECT_THAT(warm.source, HasSubstr("by the kitchen's own plan of 1 May 2026"));
  EXPECT_THAT(take_refused(kitchen, with_limit("cooling", {"cooled from hot", {}, 361, {}})),
              HasSubstr("within 6 h 01 min is laxer than 135 °F (57.22 °C) to"));
  EXPECT_THAT(take_refused(kitchen, with_limit("reheating", heated("heated again to at least", "", 8200, 14))),
              HasSubstr("82.0 °C for 14 s"));
}

TEST(Plan, ACakeKeepsTheVersionThatWasInForceAtItsRelease) {
  TestKitchen kitchen;
  const std::string cake = cold_cake(kitchen);
  kitchen.readings("logger", "fridge", "2026-05-01T07:45+01:00", "2026-05-01T20:00+01:00", "6.0");
  const auto first = take(kitchen, starting());
  ASSERT_EQ(release_of(kitchen, cake), "");
  HazardPlan stricter = with_limit("cold-hold", chilled(500));
  row_in(stricter, "cold-hold").words = "Kept cold";
  take(kitchen, stricter);
  const std::string version = fmt::format("plan of 1 May 2026, note {}", first.booked.sequences.front());
  EXPECT_EQ(kitchen.judged(cake).plan.words, version);
  EXPECT_EQ(cold_finding(kitchen, cake, cake).verdict, Verdict::shown) << "it was judged by the plan of its release";
  kitchen.at("2026-05-01T20:10+01:00");
  Session session = kitchen.open();
  const auto issued = issue_record(session, cake, DataRoot{TIERPROOF_SOURCE_DIR});
  ASSERT_TRUE(issued.has_value());
  const auto json = std::find_if(issued->papers.begin(), issued->papers.end(), [](const auto& paper) { return paper.form == "json"; });
  ASSERT_NE(json, issued->papers.end());
  const auto record = parse_json(json->bytes, "record");
  ASSERT_TRUE(record.has_value());
  EXPECT_EQ(record->find("plan")->find("version")->text(), version);
  for (const auto& finding : record->find("findings")->array()) {
    EXPECT_EQ(finding.find("plan")->find("row")->text(), finding.find("control")->text());
    EXPECT_EQ(finding.find("plan")->find("version")->text(), version);
    EXPECT_NE(finding.find("heading")->text(), "Kept cold");
  }
}

TEST(Plan, IsNeitherCorrectedNorTakenBack) {
  TestKitchen kitchen;
  const auto sequence = take(kitchen, starting()).booked.sequences.front();
  EXPECT_THAT(kitchen.refused([&](Session& s) { return void_note(s, sequence, "typed wrong"); }), HasSubstr("take over a further version"));
}

/// The rules as they are, with another starting plan.
std::shared_ptr<const RulePacks> packs_with(const HazardPlan& plan) {
  const auto reference = std::filesystem::path{TIERPROOF_SOURCE_DIR} / "reference";
  std::vector<PackFile> files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator{reference}) {
    const auto extension = entry.path().extension();
    if (!entry.is_regular_file() || (extension != ".json" && extension != ".tsv")) continue;
    const std::string path = std::filesystem::relative(entry.path(), reference).generic_string();
    files.push_back({path, path == "plan/cake-work.json" ? write_plan_document(plan) : load_file(entry.path().string())});
  }
  auto packs = RulePacks::read(files);
  if (!packs) {
    for (const auto& refusal : packs.error()) ADD_FAILURE() << describe(refusal);
    return rule_packs();
  }
  return std::make_shared<const RulePacks>(std::move(packs).value());
}
Finding cold_finding_by(TestKitchen& kitchen, const std::string& cake, const HazardPlan& starting_later) {
  const Session session{kitchen.entrance(), packs_with(starting_later), open_sqlite(kitchen.entrance().kitchen_file, true)};
  const auto judged = judge_cake(session, CakeId{cake}, {session.now(), session.offset_at(session.now())});
  if (!judged) {
    ADD_FAILURE() << describe(judged.error().front());
    return {};
  }
  const auto is_cold = [&](const Finding& finding) { return finding.control == "cold-hold" && finding.subject == cake; };
  const auto found = std::find_if(judged->findings.begin(), judged->findings.end(), is_cold);
  if (found == judged->findings.end()) {
    ADD_FAILURE() << "no finding";
    return {};
  }
  const PlanRow* row = plan_row(session, judged->plan, "cold-hold");
  EXPECT_TRUE(row != nullptr && row->words == "Cold keeping");
  EXPECT_NE(judged->findings.back().control, "cold-hold") << "it stands where its row does";
  return *found;
}

TEST(Plan, TakenOverEarlierGoesByALaterStartingPlanWhereThatIsGraver) {
  TestKitchen kitchen;
  const std::string cake = cold_cake(kitchen);
  ASSERT_EQ(row_in(*std::make_unique<HazardPlan>(starting()), "cold-hold").not_shown, "with a reason");
  take(kitchen, starting());
  HazardPlan later = starting();
  EXPECT_EQ(cold_finding_by(kitchen, cake, later).verdict, Verdict::not_shown);
  EXPECT_EQ(cold_finding_by(kitchen, cake, later).stop, Stop::needs_person);
  row_in(later, "cold-hold").not_shown = "never";
  EXPECT_EQ(cold_finding_by(kitchen, cake, later).stop, Stop::no_override);
  const Session session{kitchen.entrance(), packs_with(later), open_sqlite(kitchen.entrance().kitchen_file, true)};
  EXPECT_THAT(graver_in_starting(session, plan_now(session)), testing::ElementsAre("row cold-hold, not_shown: \"never\""));
  EXPECT_THAT(graver_in_starting(kitchen.open(true), plan_now(session)), testing::IsEmpty());
}

TEST(Plan, TakesARowThatItLacksFromALaterStartingPlan) {
  TestKitchen kitchen;
  const std::string cake = cold_cake(kitchen);
  HazardPlan earlier = starting();
  std::erase_if(earlier.rows, [](const PlanRow& row) { return row.id == "cold-hold"; });
  {
    Session session{kitchen.entrance(), packs_with(earlier), open_sqlite(kitchen.entrance().kitchen_file, false)};
    ASSERT_TRUE(take_plan(session, plan_document(earlier)).has_value());
  }
  HazardPlan later = starting();
  row_in(later, "cold-hold").not_shown = "never";
  EXPECT_EQ(cold_finding_by(kitchen, cake, later).stop, Stop::no_override);
  const Session session = kitchen.open(true);
  EXPECT_THAT(graver_in_starting(session, plan_now(session)), testing::ElementsAre(HasSubstr("row cold-hold (Cold keeping): not_met")));
}

TEST(Plan, NamesNobody) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_person(s, "eva", "Éva O'Example-Field Bo", "helper"); });
  const auto told = [&](const std::string& who) {
    HazardPlan plan = starting();
    row_in(plan, "glass").who = who;
    return take_refused(kitchen, plan);
  };
  EXPECT_THAT(told("ADA, each morning"), HasSubstr("plan.json: row glass, who: \"ada\" is part of the name of a recorded person"));
  EXPECT_THAT(told("Ada's turn"), HasSubstr("write what they do, such as the owner or whoever works last"));
  EXPECT_THAT(told("éva"), HasSubstr("\"éva\" is part of"));
  EXPECT_THAT(told("mrs field"), HasSubstr("\"field\" is part of"));
  HazardPlan plan = starting();
  row_in(plan, "glass").id = "glass-ada";
  EXPECT_THAT(take_refused(kitchen, plan), HasSubstr("row glass-ada, id: \"ada\" is part of"));
  plan = starting();
  row_in(plan, "glass").who = "whoever makes the marmalade samples in the fields, bo too";
  EXPECT_EQ(take(kitchen, plan).changes.size(), 1u) << "whole words only, and none of two letters";
}

TEST(Plan, MayBeTakenOverAsItIsByAPersonWhoseNameIsAWordOfIt) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_person(s, "cold", "Cold Thermometer", "helper"); });
  take(kitchen, starting());
  HazardPlan plan = starting();
  row_in(plan, "glass").who = "Cold";
  EXPECT_THAT(take_refused(kitchen, plan), HasSubstr("row glass, who: \"cold\" is part of"));
}

}  // namespace
}  // namespace tierproof
