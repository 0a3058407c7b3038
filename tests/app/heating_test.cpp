// What a heat step shows while it happens.
#include "tierproof/app/heating.h"

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

using testing::HasSubstr;

constexpr const char* heated_eggs = R"(, "heated_together": ["eggs"], "heat_food": "core of a cooked food")";

class Custard {
 public:
  Custard() {
    kitchen.recipe("custard", R"([{"of": "eggs", "mass": "100 g"}])", "95 g", "bowl", "raw, heated here", "room", heated_eggs);
    batch = kitchen.make("custard", grams(95));
  }
  /// Types a reading of the fork and tells how far the step is by then.
  std::optional<Finding> read(const std::string& at, std::int64_t degrees, const std::string& purpose = "heat step") {
    kitchen.at(at);
    ReadingTyped typed;
    typed.probe = "fork";
    typed.read = Degrees{degrees * 100, Scale::celsius};
    typed.about = batch;
    typed.purpose = purpose;
    typed.at = "now";
    kitchen.done([&](Session& s) { return type_reading(s, typed); });
    return heat_so_far(kitchen.open(true), BatchId{batch}, ProbeId{"fork"});
  }
  TestKitchen kitchen;
  std::string batch;
};

TEST(HeatSoFar, TellsHowLongItWasHeldOfHowLongItHasToBe) {
  Custard custard;
  auto finding = custard.read("2026-05-01T08:01:00+01:00", 72);
  ASSERT_TRUE(finding.has_value());
  EXPECT_EQ(finding->verdict, Verdict::not_shown);
  EXPECT_THAT(finding->message, HasSubstr("held at or above 70 °C for 0 s (needs 2 min)"));
  finding = custard.read("2026-05-01T08:02:00+01:00", 72);
  EXPECT_THAT(finding->message, HasSubstr("worth at least 1 min 33 s at 70 °C (needs 2 min)"));
  finding = custard.read("2026-05-01T08:03:00+01:00", 72);
  EXPECT_EQ(finding->verdict, Verdict::shown) << finding->message;
}

TEST(HeatSoFar, BeginsAnewAfterAReadingThatIsTooCold) {
  Custard custard;
  custard.read("2026-05-01T08:01:00+01:00", 72);
  custard.read("2026-05-01T08:02:00+01:00", 72);
  const auto finding = custard.read("2026-05-01T08:02:30+01:00", 70);
  EXPECT_EQ(finding->verdict, Verdict::not_shown) << "70 °C less the error is under 70 °C";
  EXPECT_THAT(finding->remedy, HasSubstr("2 s more with readings of 70.6 °C or more by this thermometer, one at least every 1 min"));
}

TEST(HeatSoFar, SaysNothingOfWhatIsNoHeatStep) {
  Custard custard;
  EXPECT_EQ(custard.read("2026-05-01T08:01:00+01:00", 4, "chilled"), std::nullopt);
  EXPECT_EQ(heat_so_far(custard.kitchen.open(true), BatchId{"batch-99"}, ProbeId{"fork"}), std::nullopt);
}

}  // namespace
}  // namespace tierproof
