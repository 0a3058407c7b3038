#include "app/doorway_for_tests.h"
#include "tierproof/app/access.h"
#include "tierproof/store/access_store.h"

namespace tierproof {
namespace {

using namespace std::chrono_literals;

// 1. Devices.

TEST(AccessDevice, IsLetInByACodeOnce) {
  Doorway door;
  const std::string code = door.access->let_in(door.now);
  EXPECT_EQ(code.size(), 9u) << "two groups of four digits";
  const auto first = door.access->enrol(code, "by the sink", door.now + 9min);
  ASSERT_TRUE(first.has_value());
  EXPECT_EQ(first->device.id, "device-2");
  const auto again = door.access->device_of(first->key, door.now);
  ASSERT_TRUE(again);
  EXPECT_EQ(again->name, "by the sink");
  EXPECT_FALSE(door.access->enrol(code, "another", door.now + 9min).has_value());
  EXPECT_FALSE(door.access->device_of("no such key", door.now));
}

TEST(AccessDevice, IsNotLetInByACodeOfTenMinutesAgoNorByAnEarlierOne) {
  Doorway door;
  const std::string stale = door.access->let_in(door.now);
  EXPECT_FALSE(door.access->enrol(stale, "late", door.now + 10min).has_value());
  const std::string ahead = door.access->let_in(door.now + 24h);
  EXPECT_FALSE(door.access->enrol(ahead, "early", door.now).has_value()) << "the clock was put back since: it is not good for longer";
  const std::string first = door.access->let_in(door.now);
  const std::string second = door.access->let_in(door.now);
  EXPECT_FALSE(door.access->enrol(first, "a", door.now).has_value());
  EXPECT_TRUE(door.access->enrol(second, "b", door.now).has_value());
}

TEST(AccessDevice, IsNotLetInOnceTenWrongCodesWereTried) {
  Doorway door;
  const std::string code = door.access->let_in(door.now);
  const std::string wrong = code == "0000 0000" ? "1111 1111" : "0000 0000";
  for (int i = 0; i < 9; ++i) EXPECT_FALSE(door.access->enrol(wrong, "guess", door.now).has_value());
  door.open();
  EXPECT_FALSE(door.access->enrol(wrong, "guess", door.now).has_value()) << "the tenth, after a restart";
  const auto refused = door.access->enrol(code, "right", door.now);
  ASSERT_FALSE(refused.has_value());
  EXPECT_NE(refused.error().front().remedy.find("let-in"), std::string::npos);
}

TEST(AccessDevice, NeedsANameOfOneToFortyCharacters) {
  Doorway door;
  const std::string code = door.access->let_in(door.now);
  std::string forty;
  for (int i = 0; i < 40; ++i) forty += "é";
  for (const auto& bad : {std::string{}, std::string{"   "}, forty + "e", std::string{"two\nlines"}, std::string{"\xff"}})
    EXPECT_FALSE(door.access->enrol(code, bad, door.now).has_value()) << bad;
  EXPECT_TRUE(door.access->enrol(code, forty, door.now).has_value()) << "a bad name costs no code";
}

TEST(AccessDevice, ThatIsShutOutIsOutAtOnceAndForGood) {
  Doorway door;
  door.pin("anna", right_pin);
  const auto lost = door.enrolled("lost tablet");
  door.tablet = lost.device;
  const std::string token = door.comes_in("anna", right_pin);
  ASSERT_TRUE(door.access->who(token, lost.device, door.now));
  EXPECT_TRUE(door.access->shut_out(lost.device.id, door.now));
  EXPECT_FALSE(door.access->who(token, lost.device, door.now));
  EXPECT_FALSE(door.access->device_of(lost.key, door.now));
  EXPECT_EQ(door.comes_in("anna", right_pin), "") << "though the PIN is right";
  ASSERT_EQ(door.access->devices().size(), 1u);
  EXPECT_EQ(door.access->devices().front().name, "by the mixer");
  EXPECT_FALSE(door.access->shut_out(lost.device.id, door.now)) << "it is out already";
  EXPECT_FALSE(door.access->shut_out("device-99", door.now));
  EXPECT_FALSE(door.access->shut_out("nonsense", door.now));
  EXPECT_EQ(door.let_in("new tablet").id, "device-3") << "an id is never given twice";
}

TEST(AccessDevice, TellsWhenItWasLastSeen) {
  Doorway door;
  const auto enrolled = door.enrolled("by the sink");
  door.now += 5h;
  EXPECT_EQ(door.access->device_of(enrolled.key, door.now)->last_seen, door.now);
  EXPECT_EQ(door.access->devices().back().last_seen, door.now);
}

// 2. Sign-ins.

TEST(AccessSignIn, TellsWhoOnWhichDeviceWithWhatAuthority) {
  Doorway door;
  door.pin("ben", right_pin);
  const auto tried = door.access->sign_in(door.tablet, "ben", right_pin, Authority::helper, door.now);
  const auto* token = std::get_if<std::string>(&tried);
  ASSERT_NE(token, nullptr);
  const auto who = door.access->who(*token, door.tablet, door.now);
  ASSERT_TRUE(who);
  EXPECT_EQ(who->person, "ben");
  EXPECT_EQ(who->authority, Authority::helper);
  EXPECT_EQ(who->device, "device-1");
  EXPECT_EQ(who->device_name, "by the mixer");
  EXPECT_EQ(who->since, door.now);
  EXPECT_EQ(who->form_token.size(), 64u);
  EXPECT_EQ(who->form_token, door.access->who(*token, door.tablet, door.now)->form_token) << "the same on every page";
  EXPECT_EQ(who->form_token.find(*token), std::string::npos);
}

TEST(AccessSignIn, IsOverAfterTenMinutesWithoutAPage) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string token = door.comes_in("anna", right_pin);
  for (int i = 0; i < 3; ++i) {
    door.now += 10min - 1ms;
    EXPECT_TRUE(door.access->who(token, door.tablet, door.now)) << "each page counts anew";
  }
  door.now += 10min;
  EXPECT_FALSE(door.access->who(token, door.tablet, door.now));
  door.now -= 9min;
  EXPECT_FALSE(door.access->who(token, door.tablet, door.now)) << "over is over";
}

TEST(AccessSignIn, IsNotKeptOpenByAPageThatLooksForNewsByItself) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string token = door.comes_in("anna", right_pin);
  for (int i = 0; i < 9; ++i) {
    door.now += 1min;
    EXPECT_TRUE(door.access->who(token, door.tablet, door.now, false));
  }
  door.now += 1min;
  EXPECT_FALSE(door.access->who(token, door.tablet, door.now, false));
}

TEST(AccessSignIn, IsOverAfterTwelveHoursHoweverBusy) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string token = door.comes_in("anna", right_pin);
  const Instant end = door.now + 12h;
  while (door.now + 9min < end) {
    door.now += 9min;
    ASSERT_TRUE(door.access->who(token, door.tablet, door.now));
  }
  EXPECT_TRUE(door.access->who(token, door.tablet, end - 1ms));
  EXPECT_FALSE(door.access->who(token, door.tablet, end));
}

TEST(AccessSignIn, OpensNothingOnAnotherDevice) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string token = door.comes_in("anna", right_pin);
  EXPECT_FALSE(door.access->who(token, door.let_in("by the sink"), door.now));
  EXPECT_TRUE(door.access->who(token, door.tablet, door.now));
  EXPECT_FALSE(door.access->who(token + "x", door.tablet, door.now));
  EXPECT_FALSE(door.access->who("", door.tablet, door.now));
}

TEST(AccessSignIn, EndsTheOneBeforeOnItsDevice) {
  Doorway door;
  door.pin("anna", right_pin);
  door.pin("ben", "907561");
  const std::string annas = door.comes_in("anna", right_pin);
  const std::string bens = door.comes_in("ben", "907561");
  EXPECT_FALSE(door.access->who(annas, door.tablet, door.now));
  EXPECT_TRUE(door.access->who(bens, door.tablet, door.now));
}

TEST(AccessSignIn, EndsWhenSomebodySignsOutOrLeaves) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string here = door.comes_in("anna", right_pin);
  door.access->sign_out(here, door.now);
  EXPECT_FALSE(door.access->who(here, door.tablet, door.now));
  const std::string first = door.comes_in("anna", right_pin);
  const Device mixer = door.tablet;
  door.tablet = door.let_in("by the sink");
  const std::string second = door.comes_in("anna", right_pin);
  door.access->sign_out_everywhere("anna", door.now);
  EXPECT_FALSE(door.access->who(first, mixer, door.now));
  EXPECT_FALSE(door.access->who(second, door.tablet, door.now));
}

TEST(AccessSignIn, OutlivesARestart) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string token = door.comes_in("anna", right_pin);
  door.open();
  EXPECT_TRUE(door.access->who(token, door.tablet, door.now));
}

TEST(AccessSignIn, IsKnownToHaveHadAPageAfterARestartToTheMinute) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string token = door.comes_in("anna", right_pin);
  for (int i = 0; i < 100; ++i) {
    door.now += 7s;  // and the disk is not written each time
    ASSERT_TRUE(door.access->who(token, door.tablet, door.now));
  }
  door.open();
  EXPECT_TRUE(door.access->who(token, door.tablet, door.now + 9min, false));
  EXPECT_FALSE(door.access->who(token, door.tablet, door.now + 10min, false));
}

TEST(AccessOfficer, SeesWithoutAPersonAndTheOwnerIsOut) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string token = door.comes_in("anna", right_pin);
  const auto anna = door.access->who(token, door.tablet, door.now);
  const std::string view = door.access->open_for_officer(*anna, door.now);
  EXPECT_FALSE(door.access->who(token, door.tablet, door.now));
  const auto officer = door.access->who(view, door.tablet, door.now);
  ASSERT_TRUE(officer);
  EXPECT_EQ(officer->person, "");
  EXPECT_EQ(officer->authority, Authority::officer);
  EXPECT_TRUE(door.access->confirm(*officer, right_pin, door.now)) << "there is nobody whose PIN it could be";
  door.now += 12h - 1ms;
  EXPECT_TRUE(door.access->who(view, door.tablet, door.now)) << "an officer reads for longer than ten minutes";
  door.now += 1ms;
  EXPECT_FALSE(door.access->who(view, door.tablet, door.now));
}

TEST(AccessOfficer, IsLetSeeByAnOwnerAlone) {
  Doorway door;
  door.pin("ben", right_pin);
  const auto tried = door.access->sign_in(door.tablet, "ben", right_pin, Authority::helper, door.now);
  const auto ben = door.access->who(std::get<std::string>(tried), door.tablet, door.now);
  EXPECT_THROW(door.access->open_for_officer(*ben, door.now), Fault);
}

// 3. Sensors.

TEST(AccessSensor, IsKnownByItsTokenUntilItIsRevoked) {
  Doorway door;
  const auto added = door.access->add_sensor("fridge, by the door", "logger", "fridge", door.now);
  ASSERT_TRUE(added.has_value());
  EXPECT_EQ(added->sensor.id, "sensor-1");
  const auto found = door.access->sensor_of(added->token, door.now);
  const auto* sensor = std::get_if<Sensor>(&found);
  ASSERT_NE(sensor, nullptr);
  EXPECT_EQ(sensor->probe, "logger");
  EXPECT_EQ(sensor->about, "fridge");
  EXPECT_TRUE(std::holds_alternative<std::monostate>(door.access->sensor_of("guess", door.now)));
  EXPECT_TRUE(door.access->revoke_sensor("sensor-1", door.now));
  EXPECT_TRUE(std::holds_alternative<std::monostate>(door.access->sensor_of(added->token, door.now)));
  EXPECT_FALSE(door.access->revoke_sensor("sensor-1", door.now)) << "it is off already";
  EXPECT_FALSE(door.access->revoke_sensor("sensor-2", door.now));
  ASSERT_EQ(door.access->sensors().size(), 1u) << "it is still told of";
  EXPECT_EQ(door.access->sensors().front().revoked, door.now);
  EXPECT_FALSE(door.access->add_sensor("", "logger", "fridge", door.now).has_value());
}

TEST(AccessSensor, PostsSixtyTimesAMinute) {
  Doorway door;
  const auto one = door.access->add_sensor("one", "logger", "fridge", door.now);
  const auto two = door.access->add_sensor("two", "logger", "freezer", door.now);
  for (int i = 0; i < 60; ++i) {
    EXPECT_TRUE(std::holds_alternative<Sensor>(door.access->sensor_of(one->token, door.now + 100ms * i))) << i;
  }
  const auto refused = door.access->sensor_of(one->token, door.now + 10s);
  const auto* many = std::get_if<TooManyPosts>(&refused);
  ASSERT_NE(many, nullptr);
  EXPECT_EQ(many->wait, 50s);
  EXPECT_TRUE(std::holds_alternative<Sensor>(door.access->sensor_of(two->token, door.now + 10s))) << "each by itself";
  EXPECT_TRUE(std::holds_alternative<Sensor>(door.access->sensor_of(one->token, door.now + 60s)));
}

// 4. What happened.

TEST(AccessHappenings, AreToldTheNewestFirst) {
  Doorway door;
  door.pin("anna", right_pin);
  door.comes_in("anna", "000000");
  door.comes_in("anna", right_pin);
  door.access->note_refused("device-1", "anna", "release cake-1", door.now);
  EXPECT_EQ(door.happened(100), (std::vector<std::string>{"not allowed", "signed in", "wrong PIN", "PIN set", "let in", "code"}));
  ASSERT_EQ(door.access->happened(1).size(), 1u);
  EXPECT_EQ(door.access->happened(1).front().detail, "release cake-1");
}

TEST(AccessHappenings, AreKeptUpToTenThousand) {
  Doorway door;
  door.access.reset();
  const auto store = open_access_sqlite(door.file() + ".access");
  store->together([&] {
    for (int i = 0; i < 10'050; ++i) store->add_happening({door.now, "not allowed", "", "", std::to_string(i)});
  });
  const auto kept = store->happenings(20'000);
  ASSERT_EQ(kept.size(), 10'000u);
  EXPECT_EQ(kept.front().detail, "10049");
  EXPECT_EQ(kept.back().detail, "50");
}

TEST(AccessStore, KeepsAllOfAChangeOrNone) {
  Doorway door;
  door.access.reset();
  const auto store = open_access_sqlite(door.file() + ".access");
  EXPECT_THROW(store->together([&] {
    store->put_misses("person anna", {3, door.now});
    throw Fault{exit_status::io, "the disk is full"};
  }),
               Fault);
  EXPECT_EQ(store->misses("person anna").in_a_row, 0);
}

TEST(AccessStore, IsSharedByTheCommandLineAndTheServer) {
  Doorway door;
  const auto other = Access::open(door.file());
  const std::string code = other->let_in(door.now);
  EXPECT_TRUE(door.access->enrol(code, "by the sink", door.now).has_value());
  EXPECT_EQ(other->devices().size(), 2u);
}

}  // namespace
}  // namespace tierproof
