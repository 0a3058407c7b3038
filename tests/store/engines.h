#pragma once

// What the store tests share: the engines that keep the contract, a folder of their own, and a small kitchen to fill a store with.

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/store/record_store.h"

namespace tierproof::store_tests {

inline const std::string kitchen = "5f2b7b3e-0000-4000-8000-000000000001";

/// A folder that is gone when the test is over.
class Folder {
 public:
  Folder() {
    static int count = 0;
    path_ = std::filesystem::temp_directory_path() / fmt::format("tierproof-store-{}-{}", ::getpid(), ++count);
    std::filesystem::create_directories(path_);
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string file(const std::string& name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

/// One engine: how to make an empty store in a folder, and how to open it again beside the first handle.
struct Engine {
  std::string name;
  std::function<std::unique_ptr<RecordStore>(const Folder&)> create;
  std::function<std::unique_ptr<RecordStore>(const Folder&, bool read_only)> open;
};

/// Every engine there is. A further one is a further row.
inline std::vector<Engine> engines() {
  return {{"sqlite", [](const Folder& folder) { return create_sqlite(folder.file("kitchen.tierproof"), kitchen); },
           [](const Folder& folder, bool read_only) { return open_sqlite(folder.file("kitchen.tierproof"), read_only); }}};
}

inline Json json(std::string_view text) { return parse_json(text, "test").value(); }

/// An entry of the kind that a test needs; its client key is made from its sequence.
inline Entry entry(std::uint64_t sequence, std::string kind, std::string subject, Json body,
                   std::optional<std::uint64_t> supersedes = std::nullopt) {
  Entry out;
  out.kitchen = kitchen;
  out.sequence = sequence;
  out.written = Instant{std::chrono::milliseconds{1772438400000 + static_cast<std::int64_t>(sequence) * 60'000}};
  out.happened = out.written;
  out.offset = Offset{60};
  out.person = PersonId{"person-1"};
  out.device = "command line";
  out.kind = std::move(kind);
  out.subject = std::move(subject);
  out.supersedes = supersedes;
  out.client_key = fmt::format("key-{}", sequence);
  out.body = std::move(body);
  return out;
}

inline Json sealed_name(const SealedText& text) {
  return Json{Json::Object{{"sealed", Json{text.ref}}, {"hmac", Json{to_hex(hmac_sha256(text.key, text.text))}}}};
}

inline Json digest_body(std::string_view bytes) { return Json{Json::Object{{"sha256", Json{to_hex(sha256(bytes))}}}}; }

inline SealedText a_name() { return {"w-1", sha256("key of w-1"), "Ada Example"}; }
inline SealedBlock a_block() { return {4, std::string{"4.1\n4.2\n\0", 9}}; }
inline KeptPaper a_paper() { return {sha256("%PDF made up"), "application/pdf", "%PDF made up"}; }

/// Seven entries: a customer with a sealed name, flour, eggs, readings with their block, a sponge of both, a tier of a cake, a paper.
inline Append a_morning() {
  Append append;
  append.entries.push_back(entry(1, "person/1", "person-9", Json{Json::Object{{"name", sealed_name(a_name())}}}));
  append.entries.push_back(entry(2, "lot/1", "pack-1", json(R"({"of": "flour", "code": "A7"})")));
  append.entries.push_back(entry(3, "lot/1", "pack-2", json(R"({"of": "eggs", "code": "E1"})")));
  append.entries.push_back(entry(4, "readings/1", "probe-1", digest_body(a_block().bytes)));
  append.entries.push_back(entry(5, "batch/1", "batch-1", json(R"({"uses": [{"of": "pack-1"}, {"of": "pack-2"}]})")));
  append.entries.push_back(entry(6, "tier/1", "cake-1", json(R"({"cake": "cake-1", "parts": [{"batch": "batch-1"}]})")));
  append.entries.push_back(entry(7, "paper/1", "cake-1", digest_body(a_paper().bytes)));
  append.blocks.push_back(a_block());
  append.sealed.push_back(a_name());
  append.papers.push_back(a_paper());
  return append;
}

/// An entry that tells of an erasure, with what it erases.
inline Append an_erasure(std::uint64_t sequence, ToErase what) {
  Json::Array papers;
  for (const auto& digest : what.papers) papers.emplace_back(to_hex(digest));
  Append append;
  append.entries.push_back(entry(sequence, "erasure/1", "cake-1",
                                 Json{Json::Object{{"cake", Json{"cake-1"}},
                                                   {"because", Json{"the customer asked"}},
                                                   {"texts", Json{static_cast<std::int64_t>(what.texts.size())}},
                                                   {"papers", Json{std::move(papers)}}}}));
  append.erase = std::move(what);
  return append;
}

inline Append only(Entry one) {
  Append append;
  append.entries.push_back(std::move(one));
  return append;
}

/// Appends at the head there is, and demands that it was booked.
inline Head book(RecordStore& store, const Append& append) {
  const auto appended = store.append(store.head(), append);
  EXPECT_TRUE(std::holds_alternative<Head>(appended));
  return store.head();
}

inline std::string joined(const Verification& verification) {
  std::string out;
  for (const auto& complaint : verification.complaints) out += complaint + "\n";
  return out;
}

/// The exit status of the fault that `act` ends with, or 0.
template <class Act>
int fault_of(const Act& act) {
  try {
    act();
  } catch (const Fault& fault) {
    return fault.exit_status();
  }
  return 0;
}

}  // namespace tierproof::store_tests
