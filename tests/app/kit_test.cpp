// Shared kit: what clears it by evidence, what a cake meets where it is put together, what lies on kit now. C13 is a worked case of the
// project's notes on traceability (invented food, worked by hand).
#include "app/kit.h"

#include "app/app_for_tests.h"
#include "tierproof/app/kit_care.h"

namespace tierproof {
namespace {

constexpr const char* swab = "protein swab";

/// Praline in the bowl, and what comes after it there.
class OnTheBowl {
 public:
  OnTheBowl() {
    kitchen.recipe("plain", R"([{"of": "sugar", "mass": "100 g"}])", "100 g", "bowl", "none", "room");
    kitchen.at("2026-05-01T09:00+01:00");
    kitchen.make("praline", grams(198));
    kitchen.at("2026-05-01T09:10+01:00");
  }
  void clean_bowl(const std::string& grade, const std::string& tested = "", const Strings& keys = {},
                  const std::string& found = "nothing") {
    kitchen.done([&](Session& s) { return clean(s, {"bowl", grade, tested, keys, tested.empty() ? "" : found, ""}); });
  }
  std::string plain_at(const std::string& moment) {
    kitchen.at(moment);
    return kitchen.make("plain", grams(100));
  }
  /// How almonds came to `batch` by kit, or nothing.
  std::optional<Contact> met(const std::string& batch) {
    const Session session = kitchen.open(true);
    for (const auto& contact : contacts(kit_uses(session.state(), *session.label_terms(session.today())), Offset{60})) {
      if (contact.batch == batch && contact.allergen == "almonds") return contact;
    }
    return std::nullopt;
  }
  void validate(const Strings& keys = {"nuts:almond"}) {
    kitchen.done([&](Session& s) {
      return file_cleaning_validation(
          s, {EquipmentId{"bowl"}, "hot wash, twice", keys, RecipeId{"praline"}, 0, "a laboratory", "folder 3", *parse_date("2026-04-01")});
    });
  }
  TestKitchen kitchen;
};

TEST(SharedKitRecords, TellWhoMetWhatUntilATestedCleaningAndReopenWhenThatIsVoided) {  // C13
  OnTheBowl b;
  b.clean_bowl("wiped");
  const std::string vanilla = b.plain_at("2026-05-01T09:30+01:00");
  b.kitchen.at("2026-05-01T10:00+01:00");
  b.clean_bowl("washed and tested", swab, {"protein"});
  const std::uint64_t washing = b.kitchen.open(true).head().size;
  const std::string plain = b.plain_at("2026-05-01T10:20+01:00");
  ASSERT_TRUE(b.met(vanilla).has_value());
  EXPECT_FALSE(b.met(vanilla)->cleaned);
  EXPECT_THAT(b.met(vanilla)->path, HasSubstr("wiped before plain"));
  EXPECT_FALSE(b.met(plain).has_value());
  const std::string cake = cake_of(b.kitchen, {{plain, grams(50)}});
  const auto judged_kit = [&] { return b.kitchen.verdicts(cake, "shared-kit"); };
  const Strings before = judged_kit();
  b.kitchen.done([&](Session& s) { return void_note(s, washing, "it was another bowl"); });
  ASSERT_TRUE(b.met(plain).has_value());
  EXPECT_NE(judged_kit(), before);
  EXPECT_THAT(judged_kit(), testing::Contains("almonds: not shown"));
}

TEST(SharedKitRecords, CountATestForWhatItLookedForOnly) {
  OnTheBowl b;
  b.clean_bowl("washed and tested", "milk strip", {"milk"});
  const std::string first = b.plain_at("2026-05-01T09:30+01:00");
  ASSERT_TRUE(b.met(first).has_value());
  EXPECT_TRUE(b.met(first)->cleaned);
  EXPECT_THAT(b.met(first)->path, HasSubstr("washed and tested for milk before"));
  b.kitchen.at("2026-05-01T10:00+01:00");
  b.clean_bowl("washed and tested", "nut strip", {"nuts"});
  EXPECT_FALSE(b.met(b.plain_at("2026-05-01T10:30+01:00")).has_value());
}

TEST(SharedKitRecords, CountAValidatedCleaningOnlyByEvidenceOnFile) {
  OnTheBowl b;
  b.clean_bowl("validated");
  const std::string without = b.plain_at("2026-05-01T09:30+01:00");
  ASSERT_TRUE(b.met(without).has_value());
  EXPECT_TRUE(b.met(without)->cleaned) << "it was washed";
  EXPECT_THAT(b.met(without)->path, HasSubstr("no validation is on file"));
  b.validate();
  b.kitchen.at("2026-05-01T10:00+01:00");
  b.clean_bowl("validated");
  EXPECT_FALSE(b.met(b.plain_at("2026-05-01T10:30+01:00")).has_value());
}

TEST(SharedKitRecords, TakeAValidationForNothingOnceTheKitOrTheWorstCaseChanged) {
  {
    OnTheBowl b;
    b.validate();
    b.kitchen.done([](Session& s) { return change_kit(s, "bowl", "it is scratched", ""); });
    b.clean_bowl("validated");
    const std::string plain = b.plain_at("2026-05-01T09:30+01:00");
    ASSERT_TRUE(b.met(plain).has_value());
    EXPECT_THAT(b.met(plain)->path, HasSubstr("the kit changed since its validation"));
  }
  OnTheBowl b;
  b.validate();
  b.kitchen.recipe("praline", R"([{"of": "almonds", "mass": "150 g"}, {"of": "sugar", "mass": "100 g"}])", "248 g", "bowl", "none", "room");
  b.clean_bowl("validated");
  const std::string plain = b.plain_at("2026-05-01T09:30+01:00");
  ASSERT_TRUE(b.met(plain).has_value());
  EXPECT_THAT(b.met(plain)->path, HasSubstr("the recipe of its worst case changed since"));
}

TEST(SharedKitRecords, OfAValidationCoverItsWorstCaseOnly) {
  OnTheBowl b;
  EXPECT_THAT(b.kitchen.refused([](Session& s) {
    return file_cleaning_validation(
        s, {EquipmentId{"bowl"}, "hot wash", {"milk"}, RecipeId{"praline"}, 0, "a laboratory", "folder 3", *parse_date("2026-04-01")});
  }),
              HasSubstr("no worst case of it"));
  EXPECT_THAT(b.kitchen.refused([](Session& s) {
    return file_cleaning_validation(
        s, {EquipmentId{"bowl"}, "hot wash", {}, RecipeId{"praline"}, 0, "a laboratory", "folder 3", *parse_date("2026-05-02")});
  }),
              testing::AllOf(HasSubstr("--for"), HasSubstr("--on")));
  EXPECT_THAT(b.kitchen.refused([](Session& s) {
    return file_cleaning_validation(
        s, {EquipmentId{"bowl"}, "hot wash", {"nuts"}, RecipeId{"praline"}, 0, "a laboratory", "folder 3", *parse_date("2026-04-01")});
  }),
              HasSubstr("--for"))
      << "a group holds nuts that nobody tested";
}

TEST(Cleaning, NeedsToSayWhatWasTested) {
  TestKitchen kitchen;
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return clean(s, {"bowl", "washed and tested", "", {"protein"}, "nothing", ""});
  }),
              HasSubstr("what was tested is missing"));
  EXPECT_THAT(kitchen.refused([](Session& s) { return clean(s, {"bowl", "wiped", swab, {}, "", ""}); }), HasSubstr("--tested"));
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return clean(s, {"bowl", "washed and tested", swab, {"almond"}, "nothing", ""});
  }),
              HasSubstr("--for"));
}

TEST(Cleaning, NeedsToSayWhatTheTestLookedForAndWhatItFound) {
  TestKitchen kitchen;
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return clean(s, {"bowl", "washed and tested", swab, {}, "nothing", ""});
  }),
              HasSubstr("what the test looks for is missing"));
  EXPECT_THAT(kitchen.refused([](Session& s) {
    return clean(s, {"bowl", "washed and tested", swab, {"protein"}, "", ""});
  }),
              HasSubstr("--found"));
}

TEST(SharedKitRecords, CountATestThatFoundSomethingAsNoWashing) {
  OnTheBowl b;
  b.clean_bowl("washed and tested", "nut strip", {"nuts"}, "something");
  const std::string plain = b.plain_at("2026-05-01T09:30+01:00");
  ASSERT_TRUE(b.met(plain).has_value());
  EXPECT_FALSE(b.met(plain)->cleaned);
  EXPECT_THAT(b.met(plain)->path, HasSubstr("tested, and something was found"));
}

TEST(SharedKitRecords, TakeAValidationForNothingWhenTheKitChangedAfterTheTest) {
  OnTheBowl b;
  b.kitchen.done([](Session& s) { return change_kit(s, "bowl", "a new bowl", "2026-04-15T08:00"); });
  b.validate();
  b.kitchen.at("2026-05-01T09:20+01:00");
  b.clean_bowl("validated");
  const std::string plain = b.plain_at("2026-05-01T09:30+01:00");
  ASSERT_TRUE(b.met(plain).has_value()) << "the report is of 1 April, and of another bowl";
}

TEST(SharedKitRecords, AddNoTwoMethodsTogether) {
  OnTheBowl b;
  b.validate();
  b.kitchen.done([](Session& s) {
    return file_cleaning_validation(
        s, {EquipmentId{"bowl"}, "steam", {"gluten:wheat"}, RecipeId{"sponge"}, 0, "a laboratory", "folder 4", *parse_date("2026-04-01")});
  });
  b.clean_bowl("validated");
  const std::string plain = b.plain_at("2026-05-01T09:30+01:00");
  ASSERT_TRUE(b.met(plain).has_value()) << "steam was never tested on almonds";
  EXPECT_THAT(b.met(plain)->path, HasSubstr("not said by which of several methods"));
}

TEST(SharedKitRecords, CarryWashedTracesToWhereACakeIsPutTogether) {
  OnTheBowl b;
  b.kitchen.done([](Session& s) { return add_equipment(s, "turntable", "the turntable"); });
  b.clean_bowl("washed, looked clean");
  const std::string met_almonds = b.plain_at("2026-05-01T09:30+01:00");
  const auto tier = [&](const std::string& cake, const std::string& batch) {
    b.kitchen.done([&](Session& s) { return build_tier(s, {cake, "only", {{batch, grams(20)}}, false, {}, "", {"turntable"}}); });
  };
  const std::string first = b.kitchen.cake();
  tier(first, met_almonds);
  b.kitchen.at("2026-05-01T09:40+01:00");
  b.clean_bowl("washed and tested", swab, {"protein"});
  const std::string plain = b.plain_at("2026-05-01T09:50+01:00");
  const std::string second = b.kitchen.cake();
  tier(second, plain);
  const auto met = b.met(second);
  ASSERT_TRUE(met.has_value());
  EXPECT_TRUE(met->cleaned);
}

TEST(SharedKitRecords, TellWhatACakeMetWhereItWasPutTogether) {
  OnTheBowl b;
  b.kitchen.done([](Session& s) { return add_equipment(s, "turntable", "the turntable"); });
  const auto tier = [&](const std::string& cake, const std::string& batch) {
    b.kitchen.done([&](Session& s) { return build_tier(s, {cake, "only", {{batch, grams(50)}}, false, {}, "", {"turntable"}}); });
  };
  const std::string nutty = b.kitchen.cake();
  tier(nutty, "batch-1");
  b.kitchen.at("2026-05-01T09:20+01:00");
  b.clean_bowl("washed and tested", swab, {"protein"});
  const std::string plain = b.plain_at("2026-05-01T09:30+01:00");
  const std::string cake = b.kitchen.cake();
  tier(cake, plain);
  const auto finding = the_finding(b.kitchen, cake, "shared-kit");
  EXPECT_EQ(finding.subject, "almonds");
  EXPECT_EQ(finding.stop, Stop::no_override);
  ASSERT_FALSE(finding.paths.empty());
  EXPECT_THAT(finding.paths.front(), HasSubstr("the turntable, Plain cake, only tier"));
  EXPECT_THAT(b.kitchen.refused([&](Session& s) {
    return build_tier(s, {cake, "top", {{plain, grams(5)}}, false, {}, "", {"easel"}});
  }),
              HasSubstr("--kit"));
}

TEST(LiesOnKit, WarnsBeforeABatchStarts) {
  OnTheBowl b;
  b.kitchen.at("2026-05-01T09:30+01:00");
  const auto lies = [&](const std::string& recipe) {
    const Session session = b.kitchen.open(true);
    return lies_on_kit(session, recipe, {session.now(), Offset{60}}).value();
  };
  ASSERT_EQ(lies("plain").size(), 1u);
  EXPECT_EQ(lies("plain").front().allergen, "almonds");
  EXPECT_FALSE(lies("plain").front().cleaned);
  EXPECT_THAT(lies("plain").front().path, HasSubstr("bowl, praline (batch-1)"));
  EXPECT_TRUE(lies("praline").empty()) << "it brings almonds itself";
  EXPECT_TRUE(lies("sponge").empty()) << "it is made in the tin";
  b.kitchen.at("2026-05-01T09:40+01:00");
  b.clean_bowl("washed and tested", swab, {"protein"});
  EXPECT_TRUE(lies("plain").empty());
}

TEST(OrderOfWork, OfRecipesPutsNutWorkLast) {
  OnTheBowl b;
  const Session session = b.kitchen.open(true);
  const auto order = order_of_work(session, {"praline", "plain"});
  ASSERT_TRUE(order.has_value());
  EXPECT_EQ(order->recipes, (Strings{"plain", "praline"}));
  EXPECT_TRUE(order->to_clean.empty());
  EXPECT_FALSE(order_of_work(session, {"praline"}).has_value());
  EXPECT_FALSE(order_of_work(session, {"praline", "custard"}).has_value());
}

TEST(OrderOfWork, TellsWhatLiesOnTheKitAlready) {
  OnTheBowl b;
  b.kitchen.at("2026-05-01T09:30+01:00");
  const auto lying = [&] { return order_of_work(b.kitchen.open(true), {"praline", "plain"}).value().lying; };
  ASSERT_EQ(lying().size(), 1u) << "praline brings almonds itself";
  EXPECT_THAT(lying().front(), testing::AllOf(HasSubstr("before plain: almond"), HasSubstr("bowl, praline (batch-1)")));
  b.kitchen.at("2026-05-01T09:40+01:00");
  b.clean_bowl("washed and tested", swab, {"protein"});
  EXPECT_TRUE(lying().empty());
}

}  // namespace
}  // namespace tierproof
