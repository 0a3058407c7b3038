#include "tierproof/sums/cross_contact.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <set>
#include <stdexcept>

#include "readings.h"

namespace tierproof {
namespace {

using test::minute;

const Offset utc{0};
const std::string almond = "nuts:almond";

KitUse batch(const std::string& id, double at, std::vector<std::string> allergens = {}, const std::string& equipment = "stand mixer") {
  return {equipment, minute(at), id, "batch " + id, std::move(allergens), ""};
}
KitUse cleaning(const std::string& grade, double at, const std::string& equipment = "stand mixer") {
  const bool cleared = grade == "washed and tested" || grade == "validated";
  const auto cleared_of =
      cleared ? std::vector<std::string>{almond, "eggs", "milk", "nuts:walnut", "sesame", "soybeans", "gluten:wheat", "wheat"}
              : std::vector<std::string>{};
  return {equipment, minute(at), "", "", {}, grade, {}, cleared || grade == "washed, looked clean", cleared_of, {}};
}

const Contact* met(const std::vector<Contact>& all, const std::string& id, const std::string& allergen = almond) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Contact& c) { return c.batch == id && c.allergen == allergen; });
  return found == all.end() ? nullptr : &*found;
}

TEST(Contacts, CarryAnAllergenUntilAValidatedCleaning) {
  // a mixer: nut paste, wiped, vanilla sponge, validated clean, plain sponge
  const std::vector<KitUse> uses{batch("nut-paste", 60, {almond}), cleaning("wiped", 75), batch("vanilla", 90), cleaning("validated", 120),
                                 batch("plain", 140)};
  const auto all = contacts(uses, utc);
  ASSERT_TRUE(met(all, "vanilla"));
  EXPECT_FALSE(met(all, "vanilla")->cleaned);
  EXPECT_EQ(met(all, "vanilla")->path,
            "nuts:almond: stand mixer, batch nut-paste (nut-paste) at 1 May 2026, 09:00, wiped before batch vanilla (vanilla) at 1 May "
            "2026, 09:30");
  EXPECT_FALSE(met(all, "plain"));
  auto voided = uses;
  voided.erase(voided.begin() + 3);
  EXPECT_TRUE(met(contacts(voided, utc), "plain"));
}

TEST(Contacts, GoByTheGradeOfTheCleaning) {
  const auto after = [](const std::string& grade) {
    return contacts(std::vector{batch("a", 0, {almond}), cleaning(grade, 5), batch("b", 10)}, utc);
  };
  for (const char* grade : {"wiped", "rinsed by somebody", ""}) {
    ASSERT_TRUE(met(after(grade), "b")) << grade;
    EXPECT_FALSE(met(after(grade), "b")->cleaned) << grade;
  }
  ASSERT_TRUE(met(after("washed, looked clean"), "b"));
  EXPECT_TRUE(met(after("washed, looked clean"), "b")->cleaned);
  EXPECT_TRUE(after("washed and tested").empty());
  EXPECT_TRUE(after("validated").empty());
}

TEST(Contacts, AreClearedOnlyOfWhatTheEvidenceIsAbout) {
  const std::string milk = "milk";
  KitUse tested = cleaning("washed and tested for milk", 70);
  tested.washed = true;
  tested.clears = {milk};
  const auto all = contacts(std::vector<KitUse>{batch("first", 60, {almond, milk}), tested, batch("second", 80)}, utc);
  EXPECT_FALSE(met(all, "second", milk));
  ASSERT_TRUE(met(all, "second"));
  EXPECT_TRUE(met(all, "second")->cleaned);
  EXPECT_NE(met(all, "second")->path.find("washed and tested for milk before"), std::string::npos);
}

TEST(Contacts, SayWhenNothingIsRecordedBetween) {
  const auto all = contacts(std::vector{batch("a", 0, {almond}), batch("b", 10)}, utc);
  ASSERT_TRUE(met(all, "b"));
  EXPECT_NE(met(all, "b")->path.find("nothing recorded before"), std::string::npos);
}

TEST(Contacts, TellNothingThatTheBatchItselfContains) {
  EXPECT_TRUE(contacts(std::vector{batch("a", 0, {almond}), batch("b", 10, {almond})}, utc).empty());
  const auto all = contacts(std::vector{batch("a", 0, {almond, "milk"}), batch("b", 10, {almond}), batch("c", 20)}, utc);
  EXPECT_FALSE(met(all, "b"));
  EXPECT_TRUE(met(all, "b", "milk"));
  EXPECT_NE(met(all, "c")->path.find("batch b"), std::string::npos);  // the latest source is told
}

TEST(Contacts, AreToldOfAnAllergenThatTheBatchHoldsWithoutALabelTellingOfIt) {
  KitUse syrup = batch("b", 10, {almond, "milk"});
  syrup.untold = {almond};
  const auto all = contacts(std::vector{batch("a", 0, {almond, "milk"}), syrup, batch("c", 20)}, utc);
  ASSERT_TRUE(met(all, "b"));
  EXPECT_FALSE(met(all, "b")->cleaned);
  EXPECT_FALSE(met(all, "b", "milk")) << "a label tells of the milk";
  EXPECT_TRUE(met(all, "c")) << "what it holds goes on to the next";
}

TEST(Contacts, StayOnTheirEquipmentAndInTheirOrder) {
  EXPECT_TRUE(contacts(std::vector{batch("a", 0, {almond}), batch("b", 10, {}, "small bowl")}, utc).empty());
  EXPECT_TRUE(contacts(std::vector{batch("a", 20, {almond}), batch("b", 10)}, utc).empty());
  EXPECT_TRUE(met(contacts(std::vector{batch("b", 10), batch("a", 0, {almond})}, utc), "b"));  // given out of order
}

TEST(Contacts, TellADirtySourceRatherThanAWashedOne) {
  const auto all =
      contacts(std::vector{batch("a", 0, {almond}), cleaning("washed, looked clean", 5), batch("b", 10, {almond}), batch("c", 20)}, utc);
  ASSERT_TRUE(met(all, "c"));
  EXPECT_FALSE(met(all, "c")->cleaned);
}

TEST(Contacts, KeepWhatWasWashedOnceThroughLaterUses) {
  const auto all = contacts(
      std::vector{batch("a", 0, {almond}), cleaning("washed, looked clean", 5), batch("b", 10), cleaning("wiped", 15), batch("c", 20)},
      utc);
  ASSERT_TRUE(met(all, "c"));
  EXPECT_TRUE(met(all, "c")->cleaned);
}

TEST(Contacts, GoOnWithTheBatchToOtherEquipment) {
  const auto all = contacts(
      std::vector{batch("a", 0, {almond}), batch("b", 10), batch("b", 20, {}, "rolling mat"), batch("c", 30, {}, "rolling mat")}, utc);
  ASSERT_TRUE(met(all, "c"));
  EXPECT_NE(met(all, "c")->path.find("stand mixer, batch a"), std::string::npos) << met(all, "c")->path;
  EXPECT_NE(met(all, "c")->path.find("rolling mat, batch b"), std::string::npos);
  EXPECT_FALSE(met(all, "c")->cleaned);
}

TEST(Contacts, AssumeTheWorstOfOneInstant) {
  EXPECT_TRUE(met(contacts(std::vector{batch("b", 0), batch("a", 0, {almond})}, utc), "b"));
  EXPECT_TRUE(met(contacts(std::vector{batch("a", 0, {almond}), cleaning("validated", 0), batch("b", 10)}, utc), "b"));
  EXPECT_FALSE(met(contacts(std::vector{batch("a", 0, {almond}), batch("b", 10), cleaning("validated", 10)}, utc), "b"));
}

TEST(Contacts, TellEachOnce) {
  EXPECT_EQ(contacts(std::vector{batch("a", 0, {almond}), batch("b", 10), batch("b", 20), batch("b", 30)}, utc).size(), 1u);
}

RC_GTEST_PROP(Contacts, AreNeverFewerWithoutACleaning, ()) {
  std::vector<KitUse> uses;
  const auto count = *rc::gen::inRange(1, 12);
  for (int i = 0; i < count; ++i) {
    const auto at = *rc::gen::inRange(0, 12);
    const std::string equipment = *rc::gen::element(std::string{"mixer"}, std::string{"mat"});
    if (*rc::gen::inRange(0, 3) == 0) {
      uses.push_back(cleaning(
          *rc::gen::element(std::string{"wiped"}, std::string{"washed, looked clean"}, std::string{"washed and tested"}), at, equipment));
    } else {
      uses.push_back(batch(std::string(1, static_cast<char>('a' + i)), at,
                           *rc::gen::arbitrary<bool>() ? std::vector{almond} : std::vector<std::string>{}, equipment));
    }
  }
  const auto with = contacts(uses, utc);
  std::erase_if(uses, [](const KitUse& use) { return use.batch.empty(); });
  const auto without = contacts(uses, utc);
  for (const Contact& c : with) RC_ASSERT(met(without, c.batch, c.allergen) != nullptr);
  for (const Contact& c : without) RC_ASSERT(!c.cleaned);
}

Contact contact(const std::string& id, const std::string& allergen, bool cleaned) {
  return {id, allergen, cleaned, allergen + ": by the mixer"};
}

TEST(SharedKit, StopsWithoutOverrideWhatNobodyWashedOff) {
  const auto found = judge_shared_kit("cake-1", std::vector{contact("b", almond, false)}, {"b"}, {"milk"}, {});
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].control, "shared-kit");
  EXPECT_EQ(found[0].subject, almond);
  EXPECT_EQ(found[0].verdict, Verdict::not_shown);
  EXPECT_EQ(found[0].stop, Stop::no_override);
  EXPECT_EQ(found[0].paths, std::vector<std::string>{"nuts:almond: by the mixer"});
  EXPECT_EQ(judge_shared_kit("cake-1", std::vector{contact("b", almond, false)}, {"b"}, {}, {}, {almond})[0].stop, Stop::no_override);
}

TEST(SharedKit, TellsWhatLookedCleanAndStopsItForThatAllergyOnly) {
  const std::vector one{contact("b", almond, true)};
  const auto told = judge_shared_kit("cake-1", one, {"b"}, {}, {"milk"});
  ASSERT_EQ(told.size(), 1u);
  EXPECT_EQ(told[0].verdict, Verdict::shown);
  EXPECT_EQ(told[0].stop, Stop::none);
  for (const char* named : {"nuts:almond", "nuts"})
    EXPECT_EQ(judge_shared_kit("cake-1", one, {"b"}, {}, {named})[0].stop, Stop::no_override) << named;
  EXPECT_EQ(judge_shared_kit("cake-1", one, {"b"}, {}, {"nuts:walnut"})[0].stop, Stop::none);
  EXPECT_EQ(judge_shared_kit("cake-1", std::vector{contact("b", "nuts", true)}, {"b"}, {}, {"nuts:walnut"})[0].stop, Stop::no_override);
  const auto accepted = judge_shared_kit("cake-1", one, {"b"}, {}, {"nuts"}, {almond});
  EXPECT_EQ(accepted[0].verdict, Verdict::not_shown);
  EXPECT_EQ(accepted[0].stop, Stop::needs_person);
  EXPECT_EQ(judge_shared_kit("cake-1", std::vector{contact("b", "nuts", true)}, {"b"}, {}, {"nuts"}, {almond})[0].stop, Stop::no_override);
}

TEST(SharedKit, LeavesOutWhatTheCakeDeclaresAndOtherCakesBatches) {
  EXPECT_TRUE(judge_shared_kit("cake-1", std::vector{contact("b", almond, false)}, {"b"}, {almond}, {}).empty());
  EXPECT_FALSE(judge_shared_kit("cake-1", std::vector{contact("b", almond, false)}, {"b"}, {"nuts"}, {}).empty());
  EXPECT_TRUE(judge_shared_kit("cake-1", std::vector{contact("z", almond, false)}, {"b"}, {}, {}).empty());
}

TEST(SharedKit, TakesTheWorstOfSeveralContacts) {
  const auto found = judge_shared_kit(
      "cake-1", std::vector{contact("b", almond, true), contact("c", almond, false), contact("b", "milk", true)}, {"b", "c"}, {}, {});
  ASSERT_EQ(found.size(), 2u);
  EXPECT_EQ(found[0].subject, "milk");
  EXPECT_EQ(found[1].stop, Stop::no_override);
  EXPECT_EQ(found[1].paths.size(), 2u);
  const std::vector dirty_first{contact("b", almond, false), contact("c", almond, true)};
  EXPECT_EQ(judge_shared_kit("cake-1", dirty_first, {"b", "c"}, {}, {})[0].stop, Stop::no_override);
}

TEST(TracesToDecide, AreThoseByWashedKitThatNobodyAnsweredFor) {
  const std::vector met{contact("b", "milk", true), contact("c", almond, true), contact("b", almond, true), contact("z", "egg", true)};
  EXPECT_EQ(traces_to_decide(met, {"b", "c"}, {}, {}), (std::vector<std::string>{"milk", almond}));
  EXPECT_EQ(traces_to_decide(met, {"b", "c"}, {"milk"}, {}), std::vector<std::string>{almond}) << "it is in the cake";
  EXPECT_EQ(traces_to_decide(met, {"b", "c"}, {}, {almond}), std::vector<std::string>{"milk"}) << "somebody decided";
  EXPECT_EQ(traces_to_decide(met, {"b", "c"}, {}, {"nuts"}).size(), 2u) << "a decision about nuts is none about almonds";
  const std::vector both{contact("b", almond, true), contact("c", almond, false)};
  EXPECT_TRUE(traces_to_decide(both, {"b", "c"}, {}, {}).empty()) << "unknown, which stops by itself";
  EXPECT_EQ(traces_to_decide(both, {"b"}, {}, {}), std::vector<std::string>{almond});
}

TEST(KitRecorded, IsShownOnlyForEveryBatch) {
  const std::vector uses{batch("a", 0), cleaning("wiped", 5)};
  EXPECT_EQ(judge_kit_recorded("cake-1", uses, {"a"}).verdict, Verdict::shown);
  const Finding f = judge_kit_recorded("cake-1", uses, {"a", "b"});
  EXPECT_EQ(f.verdict, Verdict::not_shown);
  EXPECT_EQ(f.message, "which equipment was used is not recorded for b");
  EXPECT_EQ(judge_kit_recorded("cake-1", uses, {}).verdict, Verdict::not_shown);
}

std::vector<std::string> names_in(const OrderOfWork& work, const std::vector<PlannedOnKit>& batches) {
  std::vector<std::string> names;
  for (const std::size_t i : work.order) names.push_back(batches[i].name);
  return names;
}

TEST(OrderOfWork, PutsNutWorkLast) {
  const std::vector<PlannedOnKit> batches{
      {"praline", {almond}, {"bowl"}}, {"sponge", {"wheat"}, {"bowl"}}, {"almond sponge", {almond, "wheat"}, {"bowl"}}};
  const auto work = fewest_meetings(batches);
  EXPECT_EQ(names_in(work, batches).back(), "almond sponge");
  // whatever the order, wheat or almond is met once: sponge before praline leaves wheat, praline before sponge leaves almond
  ASSERT_EQ(work.meetings.size(), 1u);
  EXPECT_EQ(work.meetings.front().equipment, "bowl");
}

TEST(OrderOfWork, KeepsTheOrderGivenWhereNothingMeets) {
  const std::vector<PlannedOnKit> batches{{"b", {almond}, {"bowl"}}, {"a", {}, {"whisk"}}};
  const auto work = fewest_meetings(batches);
  EXPECT_EQ(names_in(work, batches), (std::vector<std::string>{"b", "a"}));
  EXPECT_TRUE(work.meetings.empty());
  EXPECT_THROW(fewest_meetings(std::vector<PlannedOnKit>(13)), std::length_error);
  EXPECT_TRUE(fewest_meetings({}).order.empty());
}

RC_GTEST_PROP(OrderOfWork, HasNoFewerMeetingsInAnyOtherOrder, ()) {
  const std::size_t count = *rc::gen::inRange<std::size_t>(2, 6);
  std::vector<PlannedOnKit> batches;
  for (std::size_t i = 0; i < count; ++i) {
    const auto some = [](const char* prefix) {
      std::vector<std::string> chosen;
      for (const int n : {1, 2, 3}) {
        if (*rc::gen::arbitrary<bool>()) chosen.push_back(prefix + std::to_string(n));
      }
      return chosen;
    };
    batches.push_back({"batch " + std::to_string(i), some("allergen "), some("kit ")});
  }
  const std::size_t fewest = fewest_meetings(batches).meetings.size();
  std::vector<std::size_t> order(count);
  for (std::size_t i = 0; i < count; ++i) order[i] = i;
  do {  // a plain count: each allergen on each piece of kit that a batch finds and does not bring
    std::size_t meetings = 0;
    for (std::size_t i = 0; i < count; ++i) {
      std::set<std::pair<std::string, std::string>> there;
      for (std::size_t j = 0; j < i; ++j) {
        for (const auto& kit : batches[order[j]].kit) {
          for (const auto& allergen : batches[order[j]].allergens) there.emplace(kit, allergen);
        }
      }
      const auto& later = batches[order[i]];
      for (const auto& [kit, allergen] : there) {
        const bool on_it = std::count(later.kit.begin(), later.kit.end(), kit) > 0;
        if (on_it && std::count(later.allergens.begin(), later.allergens.end(), allergen) == 0) ++meetings;
      }
    }
    RC_ASSERT(fewest <= meetings);
  } while (std::next_permutation(order.begin(), order.end()));
}

}  // namespace
}  // namespace tierproof
