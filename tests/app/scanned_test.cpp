// A pack received by the GS1 code on it. The number is the example of the GS1 General Specifications' check digit calculation.
#include "app/app_for_tests.h"

namespace tierproof {
namespace {

constexpr const char* code = "(01)06291041500213(17)260630(3103)001250(10)A77-2";

Delivery delivery_by(const std::string& scanned) {
  Delivery delivery{"sugar", "shop", "", "", {}, {}, {}, {}, ""};
  delivery.scanned = scanned;
  return delivery;
}

TEST(ScannedDelivery, TakesLotDateAndMassFromTheCode) {
  TestKitchen kitchen;
  const auto booked = kitchen.done([](Session& s) { return receive(s, delivery_by(code)); });
  const Session session = kitchen.open(true);
  const Lot& lot = session.state().lots.at(LotId{booked.subjects.front()}).value;
  EXPECT_EQ(lot.code, "A77-2");
  EXPECT_EQ(lot.use_by, parse_date("2026-06-30"));
  EXPECT_EQ(lot.mass, grams(1250));
  EXPECT_EQ(tip_of(session.notes(), booked.sequences.front())->how, "scanned");
}

TEST(ScannedDelivery, LetsATypedMassStandAndRefusesACodeThatSaysSomethingElse) {
  TestKitchen kitchen;
  Delivery delivery = delivery_by(code);
  delivery.mass = grams(5000);  // four packs
  const auto booked = kitchen.done([&](Session& s) { return receive(s, delivery); });
  EXPECT_EQ(kitchen.open(true).state().lots.at(LotId{booked.subjects.front()}).value.mass, grams(5000));
  delivery.code = "A77-3";
  delivery.use_by = parse_date("2026-07-30");
  EXPECT_THAT(kitchen.refused([&](Session& s) { return receive(s, delivery); }),
              testing::AllOf(HasSubstr("--code"), HasSubstr("--use-by"), HasSubstr("says something else than the scanned code")));
  EXPECT_THAT(kitchen.refused([](Session& s) { return receive(s, delivery_by("(17)260630(10)A")); }), HasSubstr("--scanned"));
  EXPECT_THAT(kitchen.refused([](Session& s) { return receive(s, delivery_by("")); }), HasSubstr("--code"));
}

}  // namespace
}  // namespace tierproof
