#include <gtest/gtest.h>

#include "store/engines.h"
#include "tierproof/store/named_bytes.h"

namespace tierproof {
namespace {

using namespace store_tests;

Entry attached(std::uint64_t sequence, std::string_view content, const std::string& about = "pack-1") {
  return entry(sequence, "evidence/1", about,
               Json{Json::Object{{"about", Json{about}},
                                 {"kind", Json{"lot/1"}},
                                 {"file_sha256", Json{to_hex(sha256(content))}},
                                 {"file_bytes", Json{static_cast<std::int64_t>(content.size())}},
                                 {"media_type", Json{"image/png"}}}});
}
Entry erased(std::uint64_t sequence, const char* member, std::string_view content) {
  return entry(sequence, "erasure/1", "cake-1",
               Json{Json::Object{{"cake", Json{"cake-1"}},
                                 {"because", Json{"the customer asked"}},
                                 {"texts", Json{0}},
                                 {member, Json{Json::Array{Json{to_hex(sha256(content))}}}}}});
}
std::string told(const std::vector<FileNamed>& files) {
  std::string all;
  for (const auto& file : files)
    all +=
        fmt::format("{} {} {} {} {};", file.sequence, file.about, to_hex(file.digest).substr(0, 4), file.bytes, file.erased_by.value_or(0));
  return all;
}
std::string in_short(std::string_view content) { return to_hex(sha256(content)).substr(0, 4); }

TEST(FilesNamed, AreThoseOfEveryNoteThatAttachedOne) {
  Entry taken_back = entry(3, "evidence/1", "pack-1", nullptr, 1);
  EXPECT_EQ(told(files_named({attached(1, "a"), attached(2, "bb", "cake-1"), taken_back})),
            fmt::format("1 pack-1 {} 1 0;2 cake-1 {} 2 0;", in_short("a"), in_short("bb")));
}

TEST(FilesNamed, KnowTheErasureThatTookThem) {
  for (const char* member : {"files", "files_gone"})
    EXPECT_EQ(told(files_named({attached(1, "a"), attached(2, "b"), erased(3, member, "a")})),
              fmt::format("1 pack-1 {} 1 3;2 pack-1 {} 1 0;", in_short("a"), in_short("b")));
  EXPECT_EQ(told(files_named({attached(1, "a"), erased(2, "files", "a"), attached(3, "a")})),
            fmt::format("1 pack-1 {0} 1 0;3 pack-1 {0} 1 0;", in_short("a")))
      << "attached again after it, both want it";
}

TEST(FilesNamed, AreNoneWhereABodySaysNoSuchThing) {
  Entry odd = attached(1, "a");
  odd.body["file_sha256"] = Json{"no digest"};
  Entry other = attached(2, "a");
  other.kind = "paper/1";
  EXPECT_EQ(told(files_named({odd, other})), "");
}

TEST(FilesNamed, AreToldByVerifyOfEveryEngine) {
  for (const Engine& engine : engines()) {
    const Folder folder;
    const auto store = engine.create(folder);
    Append append;
    append.entries = {attached(1, "a"), attached(2, "b")};
    ASSERT_TRUE(std::holds_alternative<Head>(store->append(store->head(), append))) << engine.name;
    const auto found = store->verify(std::nullopt);
    EXPECT_EQ(found.complaints, std::vector<std::string>{}) << "it looks for no file";
    EXPECT_EQ(told(found.files), fmt::format("1 pack-1 {} 1 0;2 pack-1 {} 1 0;", in_short("a"), in_short("b")));
  }
}

}  // namespace
}  // namespace tierproof
