#include "tierproof/store/access_store.h"

#include <gtest/gtest.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <sys/stat.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <memory>
#include <thread>

#include "tierproof/units/result.h"

namespace tierproof {
namespace {

/// A folder of its own for one file of who may come in.
class AccessFile {
 public:
  AccessFile() {
    std::string name = (std::filesystem::temp_directory_path() / "tierproof-access-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    folder = name;
  }
  ~AccessFile() { std::filesystem::remove_all(folder); }
  AccessFile(const AccessFile&) = delete;
  AccessFile& operator=(const AccessFile&) = delete;

  std::string path() const { return (folder / "kitchen.access").string(); }
  std::unique_ptr<AccessStore> open() const { return open_access_sqlite(path()); }
  /// Runs a statement beside the store, as somebody who may write the file could.
  void run_beside(const char* sql) const {
    sqlite3* handle = nullptr;
    ASSERT_EQ(sqlite3_open(path().c_str(), &handle), SQLITE_OK);
    EXPECT_EQ(sqlite3_exec(handle, sql, nullptr, nullptr, nullptr), SQLITE_OK) << sqlite3_errmsg(handle);
    sqlite3_close(handle);
  }
  /// What opening it is told, with its exit status; empty when it opens.
  std::string refused() const {
    try {
      open();
      return "";
    } catch (const Fault& fault) {
      return std::to_string(fault.exit_status()) + " " + fault.what();
    }
  }
  std::filesystem::path folder;
};

Digest hash_of(const std::string& text) { return sha256(text); }
constexpr Instant morning{std::chrono::milliseconds{1'777'622'400'000}};

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

TEST(AccessFileOnDisk, IsMadeForItsOwnerAloneWhateverTheMask) {
  AccessFile file;
  const mode_t before = ::umask(0);
  file.open();
  ::umask(before);
  struct stat found {};
  ASSERT_EQ(::stat(file.path().c_str(), &found), 0);
  EXPECT_EQ(found.st_mode & 07777, 0600u);
}

TEST(AccessFileOnDisk, IsMarkedAsWhatItIs) {
  AccessFile file;
  file.open();
  std::ifstream bytes{file.path(), std::ios::binary};
  std::string head(100, '\0');
  bytes.read(head.data(), 100);
  EXPECT_EQ(head.substr(68, 4), "TPrc") << "application_id, SQLite's file format section 1.3";
  EXPECT_EQ(head.substr(60, 4), std::string("\0\0\0\1", 4)) << "user_version";
}

TEST(AccessFileOnDisk, OfAnotherProgramOrVersionIsRefused) {
  AccessFile newer;
  newer.open();
  newer.run_beside("PRAGMA user_version = 2");
  EXPECT_TRUE(holds(newer.refused(), "78 ") && holds(newer.refused(), "made by another tierproof")) << newer.refused();
  AccessFile other;
  other.open();
  other.run_beside("PRAGMA application_id = 0x54507266");  // the records themselves
  EXPECT_TRUE(holds(other.refused(), "78 ") && holds(other.refused(), "does not hold who may come in")) << other.refused();
  AccessFile planted;
  planted.open();
  planted.run_beside("CREATE TRIGGER let_all_in AFTER INSERT ON miss BEGIN DELETE FROM miss; END");
  EXPECT_TRUE(holds(planted.refused(), "78 ") && holds(planted.refused(), "trigger let_all_in")) << planted.refused();
}

TEST(AccessFileOnDisk, ThatIsALinkOrAFolderIsRefused) {
  AccessFile elsewhere, link, folder;
  elsewhere.open();
  std::filesystem::create_symlink(elsewhere.path(), link.path());
  EXPECT_TRUE(holds(link.refused(), "78 ")) << link.refused();
  std::filesystem::create_directory(folder.path());
  EXPECT_TRUE(holds(folder.refused(), "78 ")) << folder.refused();
  AccessFile nowhere;
  std::filesystem::remove_all(nowhere.folder);
  EXPECT_TRUE(holds(nowhere.refused(), "73 ")) << nowhere.refused();
}

TEST(AccessFileOnDisk, IsMadeOnceByWhoeverComesAtOnce) {
  AccessFile file;
  std::atomic<int> opened{0};
  std::vector<std::thread> doors;
  for (int i = 0; i < 8; ++i) {
    doors.emplace_back([&] {
      const auto store = file.open();
      store->together([&] { store->add_device({0, "tablet", hash_of(std::to_string(opened++)), morning, morning, {}}); });
    });
  }
  for (auto& door : doors) door.join();
  EXPECT_EQ(file.open()->devices().size(), 8u);
}

TEST(AccessRows, ComeBackAsTheyWereKept) {
  AccessFile file;
  {
    const auto store = file.open();
    EXPECT_FALSE(store->code());
    EXPECT_FALSE(store->pepper_mark());
    EXPECT_FALSE(store->pin("anna"));
    EXPECT_EQ(store->misses("person anna").in_a_row, 0);
    store->together([&] {
      store->put_pepper_mark(hash_of("mark"));
      store->put_code({hash_of("code"), morning, 3});
      EXPECT_EQ(store->add_device({77, "by the mixer", hash_of("key"), morning, morning, {}}), 1);
      store->put_pin("anna", {std::string(16, '\1'), std::string(32, '\0'), 2, 19456, morning});
      store->put_misses("person anna", {4, morning + std::chrono::seconds{30}});
      store->add_sign_in({hash_of("token"), 1, "anna", "owner", morning, morning});
      EXPECT_EQ(store->add_sensor({0, "fridge", "logger", "cake-fridge", hash_of("sensor"), morning, {}}), 1);
      store->add_happening({morning, "let in", "device-1", "anna", "by the mixer"});
    });
  }
  const auto store = file.open();
  EXPECT_EQ(store->pepper_mark(), hash_of("mark"));
  ASSERT_TRUE(store->code());
  EXPECT_EQ(store->code()->code, hash_of("code"));
  EXPECT_EQ(store->code()->until, morning);
  EXPECT_EQ(store->code()->wrong, 3);
  ASSERT_TRUE(store->device_of_key(hash_of("key")));
  EXPECT_EQ(store->device_of_key(hash_of("key"))->name, "by the mixer");
  ASSERT_TRUE(store->pin("anna"));
  EXPECT_EQ(store->pin("anna")->hash, std::string(32, '\0')) << "bytes of any value";
  EXPECT_EQ(store->misses("person anna").in_a_row, 4);
  EXPECT_EQ(store->misses("person anna").not_before, morning + std::chrono::seconds{30});
  ASSERT_TRUE(store->sign_in(hash_of("token")));
  EXPECT_EQ(store->sign_in(hash_of("token"))->person, "anna");
  ASSERT_TRUE(store->sensor_of_token(hash_of("sensor")));
  EXPECT_EQ(store->sensor_of_token(hash_of("sensor"))->about, "cake-fridge");
  ASSERT_EQ(store->happenings(5).size(), 1u);
  store->together([&] {
    store->drop_code();
    store->put_misses("person anna", {});
    store->end_sign_ins_since_before(morning);
    store->revoke_sensor(1, morning);
    store->shut_out_device(1, morning);
  });
  EXPECT_FALSE(store->code());
  EXPECT_EQ(store->misses("person anna").in_a_row, 0);
  EXPECT_TRUE(store->sign_in(hash_of("token"))) << "it began at that very moment, not before";
  EXPECT_EQ(store->sensor_of_token(hash_of("sensor"))->revoked, morning);
  EXPECT_EQ(store->device(1)->shut_out, morning);
  EXPECT_TRUE(store->devices().empty());
}

TEST(AccessRows, HoldWhatIsTypedAsText) {
  AccessFile file;
  const auto store = file.open();
  const std::string name = "'); DELETE FROM device; --";
  store->together([&] { store->add_device({0, name, hash_of("key"), morning, morning, {}}); });
  ASSERT_EQ(store->devices().size(), 1u);
  EXPECT_EQ(store->devices().front().name, name);
  EXPECT_FALSE(store->pin(name));
}

TEST(AccessRows, OfOneKeyAreNeverTwoDevices) {
  AccessFile file;
  const auto store = file.open();
  const auto add = [&] { store->add_device({0, "tablet", hash_of("key"), morning, morning, {}}); };
  store->together(add);
  EXPECT_THROW(store->together(add), Fault);
  EXPECT_EQ(store->devices().size(), 1u);
}

}  // namespace
}  // namespace tierproof
