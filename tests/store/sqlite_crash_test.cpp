// What is left of a kitchen file when the program dies in the middle of a write: every append that was acknowledged, and no part of
// another.

#include <signal.h>
#include <sqlite3.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <thread>

#include "engines.h"

namespace tierproof {
namespace {

using namespace store_tests;

Append one_pack(std::uint64_t sequence) {
  const auto bytes = std::string(20'000, static_cast<char>('a' + sequence % 26));
  Append append;
  append.entries.push_back(entry(sequence, "readings/1", "probe-1", digest_body(bytes)));
  append.blocks.push_back({sequence, bytes});
  return append;
}

/// Appends until it is killed, and writes a byte down the pipe after each append that was acknowledged.
[[noreturn]] void append_for_ever(const std::string& path, int pipe) {
  const auto store = open_sqlite(path, false);
  for (std::uint64_t sequence = store->head().size + 1;; ++sequence) {
    store->append(store->head(), one_pack(sequence));
    if (::write(pipe, "x", 1) != 1) ::_exit(1);
  }
}

/// Lets `work` loose on `path` in a process of its own, kills it `after` it first acknowledged something, and gives how often it did.
std::uint64_t acknowledged_until_killed(const std::string& path, void (*work)(const std::string&, int), std::chrono::microseconds after) {
  int ends[2] = {-1, -1};
  EXPECT_EQ(::pipe(ends), 0);
  const auto child = ::fork();
  EXPECT_GE(child, 0);
  if (child == 0) {
    ::close(ends[0]);
    work(path, ends[1]);
  }
  ::close(ends[1]);
  char byte = 0;
  EXPECT_EQ(::read(ends[0], &byte, 1), 1);  // the child is at work
  std::uint64_t acknowledged = 1;
  std::this_thread::sleep_for(after);
  ::kill(child, SIGKILL);
  int status = 0;
  EXPECT_EQ(::waitpid(child, &status, 0), child);
  EXPECT_TRUE(WIFSIGNALED(status));
  while (::read(ends[0], &byte, 1) == 1) ++acknowledged;
  ::close(ends[0]);
  return acknowledged;
}

TEST(SqliteCrash, KeepsEveryAcknowledgedAppendAndNoHalfOne) {
  Folder folder;
  const auto path = folder.file("kitchen.tierproof");
  create_sqlite(path, kitchen);
  std::uint64_t acknowledged = 0;
  for (int round = 0; round < 12; ++round) {
    acknowledged += acknowledged_until_killed(path, append_for_ever, std::chrono::microseconds{round * 1700});

    const auto reader = open_sqlite(path, true);
    const auto size = reader->head().size;
    EXPECT_GE(size, acknowledged) << round;
    EXPECT_LE(size, acknowledged + 1) << round;  // one may have been booked just before its byte was written
    EXPECT_EQ(joined(reader->verify(std::nullopt)), "") << round;
    acknowledged = size;
  }
  EXPECT_GE(acknowledged, 12u);
}

/// Issues a paper with a sealed text, erases both, and writes the file anew, again and again, until it is killed.
[[noreturn]] void erase_for_ever(const std::string& path, int pipe) {
  const auto store = open_sqlite(path, false);
  for (std::uint64_t sequence = store->head().size + 1;; sequence += 2) {
    const SealedText text{fmt::format("w-{}", sequence), sha256("a key"), fmt::format("Somebody {}", sequence)};
    const auto bytes = fmt::format("%PDF {} {}", sequence, std::string(20'000, 'x'));
    Append append;
    Json body = digest_body(bytes);
    body["to"] = sealed_name(text);
    append.entries.push_back(entry(sequence, "paper/1", "cake-1", body));
    append.sealed.push_back(text);
    append.papers.push_back({sha256(bytes), "application/pdf", bytes});
    store->append(store->head(), append);
    store->append(store->head(), an_erasure(sequence + 1, {{text.ref}, {sha256(bytes)}}));
    store->scrub();
    if (::write(pipe, "x", 1) != 1) ::_exit(1);
  }
}

TEST(SqliteCrash, ErasesWithItsEntryOrNotAtAll) {
  Folder folder;
  const auto path = folder.file("kitchen.tierproof");
  create_sqlite(path, kitchen);
  for (int round = 0; round < 12; ++round) {
    acknowledged_until_killed(path, erase_for_ever, std::chrono::microseconds{round * 1900});

    const auto store = open_sqlite(path, false);
    EXPECT_EQ(joined(store->verify(std::nullopt)), "") << round;
    const auto size = store->head().size;
    const bool erased = size % 2 == 0;  // the last one was booked, or it was not: then what it erases is still there
    const auto whole = store->whole();
    EXPECT_EQ(whole.sealed.size(), erased ? 0u : 1u) << round;
    EXPECT_EQ(whole.papers.size(), erased ? 0u : 1u) << round;
    if (erased) continue;
    book(*store, an_erasure(size + 1, {{whole.sealed.front().ref}, {whole.papers.front().digest}}));
  }
}

TEST(SqliteCrash, RollsACutOffWriteBackEvenForAReader) {
  Folder folder;
  const auto path = folder.file("kitchen.tierproof");
  auto store = create_sqlite(path, kitchen);
  Append append;
  for (std::uint64_t i = 1; i <= 400; ++i) append.entries.push_back(entry(i, "lot/1", "pack", json(R"({"of": "flour"})")));
  const auto head = book(*store, append);
  store.reset();

  // A connection with almost no cache has to write pages into the file before it commits; files copied then are those of a crash.
  sqlite3* raw = nullptr;
  ASSERT_EQ(sqlite3_open(path.c_str(), &raw), SQLITE_OK);
  ASSERT_EQ(sqlite3_exec(raw, "PRAGMA cache_size=1; BEGIN IMMEDIATE; UPDATE entry SET leaf = 'lost' || leaf", nullptr, nullptr, nullptr),
            SQLITE_OK);
  const auto crashed = folder.file("crashed.tierproof");
  std::filesystem::copy_file(path, crashed);
  ASSERT_TRUE(std::filesystem::exists(path + "-journal"));
  std::filesystem::copy_file(path + "-journal", crashed + "-journal");
  sqlite3_exec(raw, "ROLLBACK", nullptr, nullptr, nullptr);
  sqlite3_close(raw);

  const auto reader = open_sqlite(crashed, true);
  EXPECT_EQ(joined(reader->verify(head)), "");
  EXPECT_FALSE(std::filesystem::exists(crashed + "-journal"));
}

}  // namespace
}  // namespace tierproof
