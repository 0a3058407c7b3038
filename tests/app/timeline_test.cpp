// Where a cake and its batches were, as one line of time.
#include "app/timeline.h"

#include <fmt/format.h>

#include <set>

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

Strings timeline(TestKitchen& kitchen, const std::string& cake) {
  const Session session = kitchen.open(true);
  const auto judgement = judge_cake(session, CakeId{cake}, {session.now(), Offset{60}});
  Strings lines;
  if (judgement) {
    for (const auto& line : timeline_of(session, *judgement)) lines.push_back(line.label + " | " + line.text);
  }
  return lines;
}

TEST(Timeline, TellsPlacesInOrderOfTimeFromMakingToHandOver) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.at("2026-05-01T08:30+01:00");
  kitchen.put_in(icing, "fridge");
  kitchen.at("2026-05-01T11:00+01:00");
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  kitchen.at("2026-05-01T11:30+01:00");
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-05-01T13:00+01:00");
  kitchen.put_in(cake, "worktop");
  kitchen.at("2026-05-02T09:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T08:15:00+01:00", "2026-05-01T13:00:00+01:00", "4.5");
  EXPECT_EQ(timeline(kitchen, cake),
            (Strings{"1 May 2026, 08:00 | batch-1 (icing): made", "1 May 2026, 08:00 to 08:30 | batch-1 (icing): no place recorded",
                     "1 May 2026, 08:30 to 11:00 | batch-1 (icing): fridge; warmest 4.5 °C in the air, by fridge logger",
                     "1 May 2026, 11:00 | cake-1: first tier built", "1 May 2026, 11:00 to 11:30 | cake-1: no place recorded",
                     "1 May 2026, 11:30 to 13:00 | cake-1: fridge; warmest 4.5 °C in the air, by fridge logger",
                     "1 May 2026, 13:00 to 2 May 2026, 09:00 | cake-1: worktop"}));
}

TEST(Timeline, EndsAtTheHandOver) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.put_in(icing, "fridge");
  kitchen.at("2026-05-01T08:10+01:00");
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  kitchen.put_in(cake, "fridge");
  kitchen.at("2026-05-01T10:00+01:00");
  kitchen.readings("logger", "fridge", "2026-05-01T07:45:00+01:00", "2026-05-01T10:00:00+01:00", "4.5");
  kitchen.check_thermometers();
  const Strings stops = kitchen.stops(cake);
  std::vector<AgainstReason> reasons;
  for (const auto& control : std::set<std::string>(stops.begin(), stops.end())) reasons.push_back({control, "to see where it was"});
  ASSERT_EQ(release_of(kitchen, cake, reasons), "");
  ASSERT_EQ(hand_over_of(kitchen, cake), "");
  kitchen.at("2026-05-01T15:00+01:00");
  const auto lines = timeline(kitchen, cake);
  ASSERT_FALSE(lines.empty());
  EXPECT_EQ(lines.back(), "1 May 2026, 10:00 | cake-1: handed over");
  EXPECT_THAT(lines[lines.size() - 2], HasSubstr("to 10:00 | cake-1: fridge")) << "not one minute after it left";
}

TEST(Timeline, OfACakeWithoutATierHasNothingToTell) {
  TestKitchen kitchen;
  EXPECT_EQ(timeline(kitchen, kitchen.cake()), Strings{});
}

}  // namespace
}  // namespace tierproof
