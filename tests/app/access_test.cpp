#include "tierproof/app/access.h"

#include <sys/stat.h>

#include <algorithm>
#include <set>
#include <thread>

#include "app/access_secrets.h"
#include "app/doorway_for_tests.h"
#include "tierproof/store/access_store.h"

namespace tierproof {
namespace {

using namespace std::chrono_literals;

// 1. What is kept, and where.

/// libsodium 1.0.18, test/default/pwhash_argon2id.c and .exp, first case. (The vector of RFC 9106 has four lanes and a secret, for which
/// libsodium has no call.)
TEST(AccessSecrets, AreHashedByArgon2idAsItsLibraryPublishes) {
  const auto bytes = [](const std::string& hex) {
    std::string all;
    for (std::size_t i = 0; i < hex.size(); i += 2) all += static_cast<char>(std::stoi(hex.substr(i, 2), nullptr, 16));
    return all;
  };
  const std::string secret = bytes(
      "a347ae92bce9f80f6f595a4480fc9c2fe7e7d7148d371e9487d75f5c23008ffae065577a928febd9b1973a5a95073acdbeb6a030cfc0d79caa2dc5cd011cef02c08d"
      "a232d76d52dfbca38ca8dcbd665b17d1665f7cf5fe59772ec909733b24de97d6f58d220b20c60d7c07ec1fd93c52c31020300c6c1facd77937a597c7a6");
  EXPECT_EQ(
      argon2id(secret, bytes("5541fbc995d5c197ba290346d2c559de"), {5, 7256678 / 1024}, 155),
      bytes(
          "18acec5d6507739f203d1f5d9f1d862f7c2cdac4f19d2bdff64487e60d969e3ced615337b9eec6ac4461c6ca07f0939741e57c24d0005c7ea171a0ee1e734824"
          "9d135b38f222e4dad7b9a033ed83f5ca27277393e316582033c74affe2566a2bea47f91f0fd9fe49ece7e1f79f3ad6e9b23e0277c8ecc4b313225748dd2a80f5"
          "679534a0700e246a79a49b3f74eb89ec6205fe1eeb941c73b1fcf1"));
}

TEST(AccessSecrets, CostWhatThePasswordStorageCheatSheetAsks) {
  EXPECT_EQ(HashCost{}.memory_kib, 19456);
  EXPECT_EQ(HashCost{}.passes, 2);
  Doorway door;
  door.pin("anna", right_pin);
  door.access.reset();
  const auto kept = open_access_sqlite(door.file() + ".access")->pin("anna");
  ASSERT_TRUE(kept);
  EXPECT_EQ(kept->memory_kib, 19456);
  EXPECT_EQ(kept->passes, 2);
  EXPECT_EQ(kept->salt.size(), 16u);
}

TEST(AccessSecrets, AreOf256BitsAndNeverTheSame) {
  std::set<std::string> tokens;
  for (int i = 0; i < 200; ++i) tokens.insert(new_token());
  EXPECT_EQ(tokens.size(), 200u);
  for (const auto& token : tokens) {
    EXPECT_EQ(token.size(), 43u) << "32 bytes by six bits a letter";
    EXPECT_EQ(token.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"), std::string::npos);
  }
}

TEST(AccessFiles, AreReadableByTheirOwnerAlone) {
  Doorway door;
  for (const char* end : {".access", ".pepper"}) {
    struct stat found {};
    ASSERT_EQ(::stat((door.file() + end).c_str(), &found), 0) << end;
    EXPECT_EQ(found.st_mode & 07777, 0600u) << end;
  }
  EXPECT_EQ(std::filesystem::file_size(door.file() + ".pepper"), 32u);
}

TEST(AccessFiles, OfWhichOthersMayReadOneAreRefused) {
  for (const char* end : {".access", ".pepper"}) {
    Doorway door;
    door.access.reset();
    ::chmod((door.file() + end).c_str(), 0640);
    try {
      door.open();
      ADD_FAILURE() << end;
    } catch (const Fault& fault) {
      EXPECT_EQ(fault.exit_status(), exit_status::configuration);
      EXPECT_NE(std::string{fault.what()}.find("chmod 600"), std::string::npos) << fault.what();
    }
  }
}

TEST(AccessFiles, HoldNoSecretInPlain) {
  Doorway door;
  door.pin("anna", right_pin);
  const auto enrolled = door.enrolled("second");
  door.tablet = enrolled.device;
  const std::string token = door.comes_in("anna", right_pin);
  const auto sensor = door.access->add_sensor("fridge", "logger", "fridge", door.now);
  const std::string code = door.access->let_in(door.now);
  std::ifstream file{door.file() + ".access", std::ios::binary};
  const std::string bytes{std::istreambuf_iterator<char>{file}, {}};
  ASSERT_NE(bytes.find("second"), std::string::npos) << "names stand as they are";
  for (const auto& secret : {right_pin, enrolled.key, token, sensor->token, code, code.substr(0, 4) + code.substr(5)}) {
    ASSERT_FALSE(secret.empty());
    EXPECT_EQ(bytes.find(secret), std::string::npos) << secret;
  }
}

TEST(AccessFiles, BesideNoRecordsAreNotMade) {
  Doorway door;
  EXPECT_THROW(Access::open((door.folder / "nothing.tierproof").string()), Fault);
  EXPECT_FALSE(std::filesystem::exists(door.folder / "nothing.tierproof.access"));
}

TEST(AccessFiles, OfAnotherKindAreRefused) {
  Doorway door;
  door.access.reset();
  std::filesystem::remove(door.file() + ".access");
  std::ofstream{door.file() + ".access"} << "no database at all, but long enough to look like one at a glance: " << std::string(600, 'x');
  ::chmod((door.file() + ".access").c_str(), 0600);
  try {
    door.open();
    ADD_FAILURE();
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::configuration) << fault.what();
    EXPECT_NE(std::string{fault.what()}.find("does not hold who may come in"), std::string::npos) << fault.what();
  }
}

TEST(AccessPepper, ThatWasChangedOpensNothing) {
  Doorway door;
  door.pin("anna", right_pin);
  door.access.reset();
  std::ofstream{door.file() + ".pepper", std::ios::binary} << std::string(32, 'p');
  EXPECT_THROW(door.open(), Fault) << "rather than turn everybody away until they wait for an owner";
  // And where it is passed off as the right one, no PIN opens.
  Doorway other;
  other.access.reset();
  std::filesystem::copy_file(other.file() + ".pepper", door.file() + ".pepper", std::filesystem::copy_options::overwrite_existing);
  {
    const auto mark = open_access_sqlite(other.file() + ".access")->pepper_mark();
    const auto store = open_access_sqlite(door.file() + ".access");
    store->together([&] { store->put_pepper_mark(*mark); });
  }
  door.open();
  EXPECT_TRUE(door.access->has_pin("anna"));
  EXPECT_EQ(door.comes_in("anna", right_pin), "");
}

TEST(AccessPepper, ThatIsGoneIsNotMadeAnewUnderPinsOfTheOldOne) {
  Doorway door;
  door.access.reset();
  std::filesystem::remove(door.file() + ".pepper");
  EXPECT_THROW(door.open(), Fault);
  EXPECT_FALSE(std::filesystem::exists(door.file() + ".pepper"));
  std::filesystem::remove(door.file() + ".access");
  door.open();
  EXPECT_TRUE(std::filesystem::exists(door.file() + ".pepper")) << "with nothing to open, it begins anew";
  EXPECT_TRUE(door.access->devices().empty());
}

TEST(AccessPepper, OfAnotherLengthIsRefused) {
  for (const int bytes : {0, 31, 33}) {
    Doorway door;
    door.access.reset();
    std::filesystem::resize_file(door.file() + ".pepper", static_cast<std::uintmax_t>(bytes));
    EXPECT_THROW(door.open(), Fault) << bytes;
  }
}

// 2. PINs.

struct PinRowOfTest {
  const char* pin;
  bool may;
  const char* why;
};
TEST(AccessPin, IsRefusedWhereItIsGuessedFirst) {
  const PinRowOfTest rows[] = {
      {"48392", false, "five digits"},
      {"4839201", false, "seven"},
      {"48392a", false, "a letter"},
      {"", false, "nothing"},
      {"777777", false, "one digit"},
      {"474747", false, "two that repeat"},
      {"835835", false, "three that repeat"},
      {"345678", false, "up"},
      {"987654", false, "down"},
      {"890123", false, "up over the end"},
      {"210987", false, "down over the end"},
      {"311299", false, "31 December 1999, day first"},
      {"123199", false, "the same, month first"},
      {"991231", false, "the same, year first"},
      {"290200", false, "29 February 2000"},
      {"010130", false, "1 January 1930 or 2030"},
      {"290239", true, "2039 and 1939 have no 29 February"},
      {"290240", false, "1940 has one"},
      {"290241", true, "1941 has none, and nobody reads 2041"},
      {"310498", true, "April has 30 days"},
      {"483920", true, "nothing of the kind"},
      {"907561", true, "nothing of the kind"},
  };
  for (const auto& row : rows) EXPECT_EQ(!blocked_pin(row.pin).has_value(), row.may) << row.pin << ": " << row.why;
}

TEST(AccessPin, ThatIsRefusedIsNotKept) {
  Doorway door;
  const auto refused = door.access->set_pin("anna", "121212", door.now);
  ASSERT_EQ(refused.size(), 1u);
  EXPECT_EQ(refused.front().field, "PIN");
  EXPECT_EQ(refused.front().message.find("121212"), std::string::npos) << "a PIN is never printed";
  EXPECT_FALSE(door.access->has_pin("anna"));
  door.pin("anna", right_pin);
  EXPECT_TRUE(door.access->has_pin("anna"));
}

TEST(AccessPin, OpensForItsPersonAlone) {
  Doorway door;
  door.pin("anna", right_pin);
  door.pin("ben", "907561");
  EXPECT_NE(door.comes_in("anna", right_pin), "");
  EXPECT_EQ(door.comes_in("ben", right_pin), "");
  EXPECT_EQ(door.comes_in("anna", "907561"), "");
}

TEST(AccessPin, OfOneRowOpensNothingUnderAnotherName) {
  Doorway door;
  door.pin("anna", right_pin);
  door.access.reset();
  {
    const auto store = open_access_sqlite(door.file() + ".access");
    const auto annas = store->pin("anna");
    ASSERT_TRUE(annas);
    store->together([&] { store->put_pin("ben", *annas); });
  }
  door.open();
  EXPECT_EQ(door.comes_in("ben", right_pin), "") << "somebody who may write the file cannot give one person's PIN to another";
}

TEST(AccessPin, ThatIsNewEndsWhatTheOldOneOpened) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string token = door.comes_in("anna", right_pin);
  door.pin("anna", "907561");
  EXPECT_FALSE(door.access->who(token, door.tablet, door.now));
  EXPECT_EQ(door.comes_in("anna", right_pin), "");
  EXPECT_NE(door.comes_in("anna", "907561"), "");
}

// 3. Misses.

TEST(AccessMisses, ASixthTryWaitsThirtySecondsAndEachFurtherMissDoublesThat) {
  Doorway door;
  door.pin("anna", right_pin);
  for (int i = 1; i <= 4; ++i) EXPECT_EQ(door.turned_away("anna", "000000").wait, 0s) << i;
  EXPECT_EQ(door.turned_away("anna", "000000").wait, 30s) << "the fifth";
  const auto sixth = door.turned_away("anna", right_pin);
  EXPECT_EQ(sixth.wait, 30s) << "the right PIN is not looked at before";
  EXPECT_NE(sixth.message.find("30 s"), std::string::npos) << sixth.message;
  door.now += 29s;
  EXPECT_EQ(door.turned_away("anna", right_pin).wait, 1s);
  door.now += 1s;
  for (const auto wait : {60s, 120s, 240s, 480s}) {
    EXPECT_EQ(door.turned_away("anna", "000000").wait, wait);
    door.now += wait;
  }
  EXPECT_FALSE(door.access->is_locked("anna"));
  EXPECT_NE(door.comes_in("anna", right_pin), "") << "after nine";
}

TEST(AccessMisses, TenInARowWaitForAnOwner) {
  Doorway door;
  door.pin("anna", right_pin);
  const auto tenth = door.misses("anna", 10);
  EXPECT_TRUE(tenth.locked);
  EXPECT_TRUE(door.access->is_locked("anna"));
  door.now += 100h;
  const auto later = door.turned_away("anna", right_pin);
  EXPECT_TRUE(later.locked) << "no time opens it";
  EXPECT_NE(later.remedy.find("tierproof unlock"), std::string::npos);
  EXPECT_EQ(door.happened(2), (std::vector<std::string>{"locked", "wrong PIN"}));
  door.access->unlock("anna", door.now);
  EXPECT_FALSE(door.access->is_locked("anna"));
  EXPECT_NE(door.comes_in("anna", right_pin), "");
}

TEST(AccessMisses, AreForgottenOnceThePinIsRight) {
  Doorway door;
  door.pin("anna", right_pin);
  door.misses("anna", 4);
  EXPECT_NE(door.comes_in("anna", right_pin), "");
  door.misses("anna", 4);
  EXPECT_NE(door.comes_in("anna", right_pin), "") << "four and four are no eight in a row";
  door.pin("ben", "907561");
  for (int i = 0; i < 4; ++i) EXPECT_EQ(door.turned_away("ben", "000000").wait, 0s) << "nor does the tablet remember more";
}

TEST(AccessMisses, OutliveARestart) {
  Doorway door;
  door.pin("anna", right_pin);
  for (int i = 0; i < 5; ++i) {
    door.turned_away("anna", "000000");
    door.open();
  }
  EXPECT_EQ(door.turned_away("anna", right_pin).wait, 30s);
  door.now += 30s;
  door.misses("anna", 5);
  door.open();
  EXPECT_TRUE(door.access->is_locked("anna"));
}

TEST(AccessMisses, CountForTheDeviceAsWell) {
  Doorway door;
  door.pin("anna", right_pin);
  for (int i = 0; i < 5; ++i) door.turned_away("person-" + std::to_string(i), "000000");
  EXPECT_EQ(door.turned_away("anna", right_pin).wait, 30s) << "five people with one wrong PIN each are five tries on this tablet";
  const Device other = door.let_in("by the sink");
  const auto there = door.access->sign_in(other, "anna", right_pin, Authority::owner, door.now);
  EXPECT_TRUE(std::holds_alternative<std::string>(there)) << "another tablet does not wait for it";
}

TEST(AccessMisses, CountForThePersonOnEveryDevice) {
  Doorway door;
  door.pin("anna", right_pin);
  for (int i = 0; i < 5; ++i) door.turned_away(door.let_in("tablet " + std::to_string(i)), "anna", "000000");
  EXPECT_EQ(door.turned_away("anna", right_pin).wait, 30s);
}

TEST(AccessMisses, OfADeviceWaitAnHourAtMostAndNeverForAnOwner) {
  Doorway door;
  door.pin("anna", right_pin);
  SignInRefused last;
  for (int i = 0; i < 30; ++i) {
    last = door.turned_away("person-" + std::to_string(i), "000000");
    EXPECT_FALSE(last.locked);
    door.now += last.wait;
  }
  EXPECT_EQ(last.wait, 1h);
  EXPECT_NE(door.comes_in("anna", right_pin), "");
}

TEST(AccessMisses, TellAStrangerNothing) {
  Doorway door;
  door.pin("anna", right_pin);
  const auto wrong = door.turned_away("anna", "000000");
  const auto unknown = door.turned_away("nobody-of-that-name", right_pin);
  EXPECT_EQ(wrong.message, unknown.message);
  EXPECT_EQ(wrong.remedy, unknown.remedy);
  // Nor do they tell it by how often one may try: a name that nobody has waits for an owner too.
  for (int i = 0; i < 9; ++i) door.turned_away(door.let_in("tablet"), "nobody-of-that-name", right_pin), door.now += 1h;
  EXPECT_TRUE(door.turned_away("nobody-of-that-name", right_pin).locked);
}

TEST(AccessMisses, AtOneMomentAreNoMoreTriesThanOneAfterTheOther) {
  Doorway door;
  door.pin("anna", right_pin);
  std::vector<std::thread> guesses;
  for (int i = 0; i < 12; ++i)
    guesses.emplace_back([&] { door.access->sign_in(door.tablet, "anna", "000000", Authority::owner, door.now); });
  for (auto& guess : guesses) guess.join();
  const auto events = door.happened(100);
  EXPECT_EQ(std::count(events.begin(), events.end(), "wrong PIN"), 5) << "the others were told to wait";
}

TEST(AccessMisses, CountAlikeWhereThePinIsAskedAgain) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string token = door.comes_in("anna", right_pin);
  const auto anna = door.access->who(token, door.tablet, door.now);
  ASSERT_TRUE(anna);
  EXPECT_FALSE(door.access->confirm(*anna, right_pin, door.now));
  for (int i = 0; i < 10; ++i) {
    const auto refused = door.access->confirm(*anna, "000000", door.now);
    ASSERT_TRUE(refused);
    EXPECT_EQ(refused->locked, i == 9);
    for (Span left = refused->wait; left > 0s && i < 9; left -= 1min) {  // pages meanwhile, so that the sign-in goes on
      door.now += std::min<Span>(left, 1min);
      ASSERT_TRUE(door.access->who(token, door.tablet, door.now));
    }
  }
  EXPECT_FALSE(door.access->who(token, door.tablet, door.now, false)) << "whoever has to wait for an owner is out";
  EXPECT_TRUE(door.turned_away("anna", right_pin).locked);
}

TEST(AccessMisses, OfANameThatNobodyHasCountForTheDeviceAndFillNoFile) {
  Doorway door;
  door.pin("anna", right_pin);
  const std::string long_name(65, 'n');
  for (int i = 0; i < 5; ++i) door.turned_away(i % 2 == 0 ? "" : long_name, "000000");
  EXPECT_EQ(door.turned_away("anna", right_pin).wait, 30s);
  door.now += 30s;
  EXPECT_NE(door.comes_in("anna", right_pin), "");
  door.turned_away(long_name, "000000");
  door.access.reset();
  const auto store = open_access_sqlite(door.file() + ".access");
  EXPECT_EQ(store->misses("person " + long_name).in_a_row, 0);
  EXPECT_EQ(store->misses("person ").in_a_row, 0);
  EXPECT_EQ(store->misses("device 1").in_a_row, 1);
}

TEST(AccessMisses, AreForgottenWithANewPin) {
  Doorway door;
  door.pin("anna", right_pin);
  door.misses("anna", 10);
  ASSERT_TRUE(door.access->is_locked("anna"));
  door.pin("anna", "907561");
  EXPECT_FALSE(door.access->is_locked("anna"));
  EXPECT_NE(door.comes_in("anna", "907561"), "");
}

TEST(AccessMisses, OfAClockThatWasPutBackWaitNoLongerThanTheirDue) {
  Doorway door;
  door.pin("anna", right_pin);
  door.misses("anna", 5);
  door.now -= 1000h;
  EXPECT_LE(door.turned_away("anna", right_pin).wait, 30s);
}

}  // namespace
}  // namespace tierproof
