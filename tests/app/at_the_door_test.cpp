#include "tierproof/app/at_the_door.h"

#include <algorithm>

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

/// The door of a kitchen with ada, its owner, and ben, a helper.
class KitchenDoor {
 public:
  KitchenDoor() {
    kitchen.done([](Session& s) { return add_person(s, "ben", "Ben Sample", "helper"); });
    access = Access::open(kitchen.entrance().kitchen_file);
  }
  /// The refusals of `act` by whoever records, in words; empty where it was done.
  template <class Act>
  std::string by(const std::string& person, const Act& act) {
    kitchen.person = person;
    const Session session = kitchen.open(true);
    std::string all;
    try {
      const Refusals refused = act(session, *access);
      for (const auto& refusal : refused) all += describe(refusal) + "\n";
    } catch (const NotPermitted& refused) {
      all = std::string{"not permitted: "} + refused.what();
    }
    return all;
  }
  TestKitchen kitchen;
  std::unique_ptr<Access> access;
};

template <class Done>
Refusals refusals_of(const Result<Done>& done) {
  return done ? Refusals{} : done.error();
}

TEST(AtTheDoor, AnOwnerLetsATabletInAndShutsItOut) {
  KitchenDoor door;
  CodeGiven given;
  EXPECT_EQ(door.by("ada",
                    [&](const Session& s, Access& a) {
                      const auto code = let_device_in(s, a);
                      if (code) given = *code;
                      return refusals_of(code);
                    }),
            "");
  const Instant now = door.kitchen.open(true).now();
  EXPECT_EQ(given.until.at, now + std::chrono::minutes{10});
  EXPECT_EQ(given.until.offset, Offset{60});
  const auto enrolled = door.access->enrol(given.code, "by the mixer", now);
  ASSERT_TRUE(enrolled.has_value());
  const auto shut = [](const std::string& device) {
    return [device](const Session& s, Access& a) { return refusals_of(shut_device_out(s, a, device)); };
  };
  EXPECT_THAT(door.by("ben", shut("device-1")), HasSubstr("not permitted: only an owner may shut a tablet or telephone out"));
  EXPECT_TRUE(door.access->device_of(enrolled->key, now));
  EXPECT_EQ(door.by("ada", shut("device-2")), "device: \"device-2\" is not let in; write one of device-1\n");
  EXPECT_EQ(door.by("ada", shut("device-1")), "");
  EXPECT_FALSE(door.access->device_of(enrolled->key, now));
  EXPECT_EQ(door.by("ada", shut("device-1")), "device: \"device-1\" is not let in; nothing is let in\n");
}

TEST(AtTheDoor, SomebodyWhoWaitsForAnOwnerIsLetTryAgain) {
  KitchenDoor door;
  const auto set = [](const std::string& person) {
    return [person](const Session& s, Access& a) { return set_pin_of(s, a, person, "483920"); };
  };
  const auto unlock = [](const Session& s, Access& a) { return unlock_person(s, a, "ben"); };
  EXPECT_EQ(door.by("ben", set("ben")), "");
  EXPECT_THAT(door.by("ben", set("ada")), HasSubstr("only an owner may set somebody else's PIN"));
  EXPECT_FALSE(door.access->has_pin("ada"));
  EXPECT_EQ(door.by("ada", set("ben")), "");
  EXPECT_THAT(door.by("ada", unlock), HasSubstr("does not wait for an owner"));
  Instant now = door.kitchen.open(true).now();
  const auto tablet = door.access->enrol(door.access->let_in(now), "by the mixer", now);
  for (int i = 0; i < 10; ++i) {
    const auto tried = door.access->sign_in(tablet->device, "ben", "000000", Authority::helper, now);
    now += std::get<SignInRefused>(tried).wait;
  }
  ASSERT_TRUE(door.access->is_locked("ben"));
  EXPECT_THAT(door.by("ben", unlock), HasSubstr("not permitted"));
  EXPECT_EQ(door.by("ada", unlock), "");
  EXPECT_FALSE(door.access->is_locked("ben"));
  const auto event = door.access->happened(1).front();
  EXPECT_EQ(event.what, "unlocked");
  EXPECT_EQ(event.person, "ben");
  EXPECT_EQ(event.detail, "by ada");
}

TEST(AtTheDoor, ASensorReadsThePlaceThatItsThermometerHangsIn) {
  KitchenDoor door;
  const auto give = [](const SensorAsked& asked) {
    return [asked](const Session& s, Access& a) { return refusals_of(give_sensor_token(s, a, asked)); };
  };
  EXPECT_THAT(door.by("ada", give({"logger", "worktop", "one"})), HasSubstr("logger hangs in fridge"));
  EXPECT_THAT(door.by("ada", give({"fork", "", "one"})), HasSubstr("which place it reads is missing"));
  EXPECT_THAT(door.by("ada", give({"fork", "attic", "one"})), HasSubstr("there is no place called \"attic\""));
  EXPECT_THAT(door.by("ada", give({"spoon", "fridge", "one"})), HasSubstr("there is no thermometer called \"spoon\""));
  EXPECT_THAT(door.by("ada", give({"logger", "", ""})), HasSubstr("name: is empty"));
  EXPECT_THAT(door.by("ben", give({"logger", "", "one"})), HasSubstr("not permitted"));
  EXPECT_TRUE(door.access->sensors().empty());
  EXPECT_EQ(door.by("ada", give({"logger", "", "one"})), "");
  EXPECT_EQ(door.by("ada", give({"fork", "worktop", "two"})), "");
  ASSERT_EQ(door.access->sensors().size(), 2u);
  EXPECT_EQ(door.access->sensors().front().about, "fridge");
  const auto off = [](const Session& s, Access& a) { return refusals_of(take_sensor_token_back(s, a, "sensor-1")); };
  EXPECT_EQ(door.by("ada", off), "");
  EXPECT_EQ(door.by("ada", off), "sensor: \"sensor-1\" has no token; write one of sensor-2\n");
}

TEST(AtTheDoor, TellsOfThoseWhoWorkHereAndOfNobodyElse) {
  KitchenDoor door;
  door.access->set_pin("ben", "483920", door.kitchen.open(true).now());
  const auto people = [&] {
    door.kitchen.person = "ada";
    const auto told = look_at_the_door(door.kitchen.open(true), *door.access, 5);
    std::vector<std::string> all;
    for (const auto& one : told->people) all.push_back(one.person + ", " + std::string{word_of(one.authority)} + (one.pin ? ", PIN" : ""));
    return all;
  };
  EXPECT_EQ(people(), (std::vector<std::string>{"ada, owner", "ben, helper, PIN"}));
  door.kitchen.done([](Session& s) { return person_left(s, "ben", parse_date("2026-05-01")); });
  door.kitchen.at("2026-05-02T08:00+01:00");
  EXPECT_EQ(people(), (std::vector<std::string>{"ada, owner"}));
  EXPECT_THAT(door.by("ada", [](const Session& s, Access& a) { return set_pin_of(s, a, "ben", "907561"); }),
              HasSubstr("works here no more"));
  door.kitchen.person = "ben";
  EXPECT_FALSE(look_at_the_door(door.kitchen.open(true), *door.access, 5).has_value()) << "nor does he look at it";
}

TEST(AtTheDoor, IsAskedOfNowAlone) {
  KitchenDoor door;
  door.kitchen.as_of = 3;
  const Session session = door.kitchen.open(true);
  EXPECT_THROW(let_device_in(session, *door.access), Fault);
}

}  // namespace
}  // namespace tierproof
