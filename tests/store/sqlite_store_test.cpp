// The SQLite engine alone: what its files refuse, and that every way of tampering with one is named.

#include <sqlite3.h>
#include <sys/stat.h>

#include <fstream>
#include <sstream>

#include "../../src/store/sqlite/database.h"
#include "../../src/store/sqlite/views.h"
#include "engines.h"

namespace tierproof {
namespace {

using namespace store_tests;

/// Someone with the file and an SQLite shell.
void tamper(const std::string& path, const std::string& sql) {
  sqlite3* raw = nullptr;
  ASSERT_EQ(sqlite3_open(path.c_str(), &raw), SQLITE_OK);
  char* error = nullptr;
  EXPECT_EQ(sqlite3_exec(raw, sql.c_str(), nullptr, nullptr, &error), SQLITE_OK) << sql << ": " << (error ? error : "");
  EXPECT_GT(sqlite3_total_changes(raw) + (sql.find("CREATE") == 0 || sql.find("DROP") == 0 || sql.find("PRAGMA") == 0), 0)
      << sql << " changed nothing";
  sqlite3_free(error);
  sqlite3_close(raw);
}

struct Kitchen {
  Folder folder;
  std::string path = folder.file("kitchen.tierproof");
  Head head;
  Kitchen() {
    auto store = create_sqlite(path, kitchen);
    head = book(*store, a_morning());
  }
  Verification verify(const std::optional<Head>& earlier = std::nullopt) const { return open_sqlite(path, true)->verify(earlier); }
};

struct Tampering {
  std::string name;
  std::string sql;
  std::optional<std::uint64_t> first_bad;
  std::string says;  ///< a part of a complaint
};

class TamperedFile : public testing::TestWithParam<Tampering> {};

TEST_P(TamperedFile, IsNamedByVerify) {
  const Kitchen ours;
  ASSERT_EQ(joined(ours.verify(ours.head)), "");
  tamper(ours.path, GetParam().sql);
  const auto found = ours.verify();
  EXPECT_NE(joined(found).find(GetParam().says), std::string::npos) << joined(found);
  EXPECT_EQ(found.first_bad, GetParam().first_bad) << joined(found);
}

// The leaf of entry 3 as its neighbour's, under a client key of its own.
const std::string repeat_entry =
    "INSERT INTO entry SELECT kitchen, 8, leaf, leaf_hash, 'key-8', head_root, frontier FROM entry WHERE seq = 3";

INSTANTIATE_TEST_SUITE_P(
    Entries, TamperedFile,
    testing::Values(
        Tampering{"AnotherLotCode", "UPDATE entry SET leaf = replace(leaf, '\"A7\"', '\"A8\"') WHERE seq = 2", 2,
                  "entry 2: its text does not have the hash"},
        Tampering{"OneBitOfALeaf", "UPDATE entry SET leaf = replace(leaf, 'eggs', 'egos') WHERE seq = 3", 3,
                  "entry 3: its text does not have the hash"},
        Tampering{"LeafThatIsNoJson", "UPDATE entry SET leaf = '{' WHERE seq = 5", 5, "entry 5: its text cannot be read"},
        Tampering{"LeafWithBytesThatAreNoText", "UPDATE entry SET leaf = CAST(x'ff00fe' AS TEXT) WHERE seq = 5", 5,
                  "entry 5: its text cannot be read"},
        Tampering{"LeafHash", "UPDATE entry SET leaf_hash = zeroblob(32) WHERE seq = 4", 4, "entry 4: its text does not have the hash"},
        Tampering{"HeadRoot", "UPDATE entry SET head_root = zeroblob(32) WHERE seq = 6", 6,
                  "entry 6: the head kept with it is not that of entries 1 to 6"},
        Tampering{"Frontier", "UPDATE entry SET frontier = zeroblob(64) WHERE seq = 6", 6, "entry 6: the subtree roots"},
        Tampering{"FrontierOfAnotherLength", "UPDATE entry SET frontier = x'00' WHERE seq = 6", 6, "entry 6: the subtree roots"},
        Tampering{"ClientKey", "UPDATE entry SET client_key = 'another' WHERE seq = 6", 6, "entry 6: its text has another client key"},
        Tampering{"EntryTakenOut", "DELETE FROM entry WHERE seq = 3", 3, "entry 3: is missing; the next one there is 4"},
        Tampering{"FirstEntryTakenOut", "DELETE FROM entry WHERE seq = 1", 1, "entry 1: is missing"},
        Tampering{"EntryRepeated", repeat_entry, 8, "entry 8: its text says that it is entry 3"},
        Tampering{"TwoEntriesSwapped",
                  "UPDATE entry SET seq = seq + 100 WHERE seq IN (2, 3); UPDATE entry SET seq = 105 - seq WHERE seq > 100", 2,
                  "entry 2: its text says that it is entry 3"},
        Tampering{"EntryOfAnotherKitchen", "INSERT INTO kitchen VALUES ('x'); UPDATE entry SET kitchen = 'x' WHERE seq = 7", std::nullopt,
                  "entry: 1 rows are of another kitchen"},
        Tampering{"TailCutOff", "DELETE FROM entry WHERE seq > 5", std::nullopt,
                  "the log was cut short: it ends at entry 5, but the view knows note 7"}),
    [](const auto& row) { return row.param.name; });

INSTANTIATE_TEST_SUITE_P(
    BesideTheLog, TamperedFile,
    testing::Values(
        Tampering{"ByteOfABlock", "UPDATE block SET bytes = CAST('5' || substr(bytes, 2) AS BLOB)", std::nullopt,
                  "block 4: its bytes are not those that entry 4 sealed"},
        Tampering{"BlockTakenOut", "DELETE FROM block", std::nullopt, "entry 4 names bytes with the SHA-256"},
        Tampering{"BlockUnderAnotherEntry", "UPDATE block SET seq = 5", std::nullopt, "block 5: entry 5 does not seal it"},
        Tampering{"BlockUnderNoEntry", "UPDATE block SET seq = 99", std::nullopt, "block: row 1 belongs to nothing in entry"},
        Tampering{"SealedText", "UPDATE sealed SET text = 'Ada Exemple'", std::nullopt, "sealed text w-1: it is not what entry 1 sealed"},
        Tampering{"SealedKey", "UPDATE sealed SET key = zeroblob(32)", std::nullopt, "sealed text w-1: it is not what entry 1 sealed"},
        Tampering{"SealedTextThatNoEntryNames", "UPDATE sealed SET ref = 'w-2'", std::nullopt, "sealed text w-2: no entry names it"},
        Tampering{"ByteOfAPaper", "UPDATE paper SET bytes = CAST('%PDF made op' AS BLOB)", std::nullopt,
                  "its bytes do not have that SHA-256"},
        Tampering{"PaperTakenOut", "DELETE FROM paper", std::nullopt, "entry 7 names bytes with the SHA-256"},
        Tampering{"PaperThatNoEntryNames", "INSERT INTO paper SELECT kitchen, zeroblob(32), media_type, bytes FROM paper", std::nullopt,
                  "no entry names it"},
        Tampering{"NoteOfTheView", "UPDATE view_note SET body = '{}' WHERE seq = 3", std::nullopt,
                  "the view: \"note 3\" is not what the log gives"},
        Tampering{"NoteTakenOutOfTheView", "DELETE FROM view_note WHERE seq = 7", std::nullopt, "the view: \"note 7\" is missing"},
        Tampering{"NoteTooManyInTheView",
                  "INSERT INTO view_note SELECT kitchen, 99, 99, replaced, written, happened, offset_min, person, kind, subject, "
                  "supersedes, how, body, why "
                  "FROM view_note WHERE seq = 2",
                  std::nullopt, "the view: \"note 99\" is not what the log gives"},
        Tampering{"EdgeTakenOutOfTheView", "DELETE FROM view_edge WHERE parent = (SELECT thing FROM view_thing WHERE name = 'pack-2')",
                  std::nullopt, "the view: \"pack-2 in batch-1 by note 5\" is missing"},
        Tampering{"EdgeTooManyInTheView", "INSERT INTO view_edge SELECT child, parent, seq, 1 FROM view_edge WHERE seq = 6", std::nullopt,
                  "the view: \"cake-1 in batch-1 by note 6\" is not what the log gives"},
        Tampering{"EdgeOfNothing", "INSERT INTO view_edge SELECT 99, child, seq, 1 FROM view_edge WHERE seq = 6", std::nullopt,
                  "the view: \"nothing in cake-1 by note 6\" is not what the log gives"},
        Tampering{"EdgeMadePossible", "UPDATE view_edge SET certain = 0 WHERE seq = 6", std::nullopt,
                  "the view: \"batch-1 perhaps in cake-1 by note 6\" is not what the log gives"},
        Tampering{"ThingCalledOtherwise", "UPDATE view_thing SET name = 'pack-9' WHERE name = 'pack-2'", std::nullopt, "pack-9"},
        Tampering{"CodeOfAThing", "UPDATE view_thing SET code = 'A8' WHERE name = 'pack-1'", std::nullopt,
                  "the view: \"what is said of pack-1\" is not what the log gives"},
        Tampering{"ThingOfAnotherKitchen", "UPDATE view_thing SET kitchen = 'x' WHERE name = 'pack-1'", std::nullopt,
                  "view_thing: 1 rows are of another kitchen"},
        Tampering{"ViewDropped", "DROP TABLE view_edge", std::nullopt, "view_edge"}),
    [](const auto& row) { return row.param.name; });

TEST(SqliteStore, NoticesACutTailByAnEarlierHeadEvenWhenTheViewsWereMadeToFit) {
  const Kitchen ours;
  tamper(ours.path, "DELETE FROM paper; DELETE FROM entry WHERE seq = 7; DELETE FROM view_note WHERE seq = 7");
  EXPECT_EQ(joined(ours.verify()), "");  // nothing in the file can tell: why heads are printed on papers
  EXPECT_NE(joined(ours.verify(ours.head)).find("the log was cut short: it holds 6 entries"), std::string::npos);
}

TEST(SqliteStore, NoticesARewrittenLogByAnEarlierHeadEvenWhenEverythingWasHashedAgain) {
  const Kitchen ours;
  Folder folder;
  const auto path = folder.file("rewritten");
  auto rewritten = create_sqlite(path, kitchen);
  auto append = a_morning();
  append.entries[1].body["code"] = "A8";
  book(*rewritten, append);
  EXPECT_EQ(joined(rewritten->verify(std::nullopt)), "");
  EXPECT_NE(joined(rewritten->verify(ours.head)).find("the log was rewritten: its first 7 entries"), std::string::npos);
}

TEST(SqliteStore, ComplainsOfOneEntryWhenOneWasAltered) {
  const Kitchen ours;
  tamper(ours.path, "UPDATE entry SET leaf = replace(leaf, 'A7', 'A8') WHERE seq = 2");
  const auto found = ours.verify();
  EXPECT_EQ(found.complaints.size(), 2u) << joined(found);  // the entry, and that the views were left alone
}

TEST(SqliteStore, RebuildMakesADamagedViewRightAgain) {
  const Kitchen ours;
  tamper(ours.path, "UPDATE view_note SET body = '{}' WHERE seq = 3; DELETE FROM view_edge");
  const auto store = open_sqlite(ours.path, false);
  EXPECT_NE(joined(store->verify(std::nullopt)), "");
  store->rebuild();
  EXPECT_EQ(joined(store->verify(ours.head)), "");
}

TEST(SqliteStore, FaultsRatherThanGivesOutWhatCannotBeRead) {
  const Kitchen ours;
  tamper(ours.path, "UPDATE entry SET leaf = '{' WHERE seq = 3; UPDATE view_note SET body = '[' WHERE seq = 2");
  const auto store = open_sqlite(ours.path, false);
  EXPECT_EQ(fault_of([&] { store->entries(1, 7); }), exit_status::configuration);
  EXPECT_EQ(fault_of([&] { store->notes(); }), exit_status::configuration);
  EXPECT_EQ(fault_of([&] { store->rebuild(); }), exit_status::configuration);
  EXPECT_EQ(store->entries(1, 2).size(), 2u);
}

TEST(SqliteStore, DoesNotAppendToAHeadThatDoesNotHold) {
  const Kitchen ours;
  tamper(ours.path, "UPDATE entry SET head_root = zeroblob(32) WHERE seq = 7");
  const auto store = open_sqlite(ours.path, false);
  EXPECT_EQ(fault_of([&] { store->append(ours.head, only(entry(8, "lot/1", "pack-9", json("{}")))); }), exit_status::configuration);
}

TEST(SqliteStore, NeverThrowsOnADamagedFileThatOpens) {
  const Kitchen ours;
  std::ifstream in{ours.path, std::ios::binary};
  std::stringstream whole;
  whole << in.rdbuf();
  const auto bytes = whole.str();
  std::size_t opened = 0;
  std::size_t complained = 0;
  Folder folder;
  // One flipped bit at a time, over the file with a prime stride; page 1's header (100 bytes) decides whether it opens at all.
  for (std::size_t at = 100; at < bytes.size(); at += 97) {
    auto damaged = bytes;
    damaged[at] = static_cast<char>(damaged[at] ^ (1 << (at % 8)));
    const auto path = folder.file("damaged");
    std::ofstream{path, std::ios::binary | std::ios::trunc} << damaged;
    std::unique_ptr<RecordStore> store;
    try {
      store = open_sqlite(path, true);
    } catch (const Fault& fault) {
      EXPECT_EQ(fault.exit_status(), exit_status::configuration) << at << ": " << fault.what();
      continue;
    }
    ++opened;
    EXPECT_NO_THROW(complained += store->verify(ours.head).complaints.empty() ? 0 : 1) << at;
  }
  EXPECT_GT(opened, 100u);
  EXPECT_GT(complained, 20u);  // the others fell on bytes that no page uses
}

TEST(SqliteFile, IsMadeOnceAndForItsOwnerOnly) {
  Folder folder;
  const auto path = folder.file("kitchen.tierproof");
  create_sqlite(path, kitchen);
  struct stat facts {};
  ASSERT_EQ(::stat(path.c_str(), &facts), 0);
  EXPECT_EQ(facts.st_mode & 0777, 0600u);
  EXPECT_EQ(fault_of([&] { create_sqlite(path, kitchen); }), exit_status::cannot_create);
  EXPECT_EQ(fault_of([&] { create_sqlite(folder.file("no/such/folder"), kitchen); }), exit_status::cannot_create);
  EXPECT_EQ(open_sqlite(path, false)->head().size, 0u);
}

TEST(SqliteFile, SaysWhoseItIsAndWhichSchemaItHas) {
  const Kitchen ours;
  std::ifstream in{ours.path, std::ios::binary};
  std::string header(100, '\0');
  in.read(header.data(), 100);
  EXPECT_EQ(header.substr(68, 4), "TPrf");                                // application_id, SQLite file format section 1.3.17
  EXPECT_EQ(header.substr(60, 4), (std::string{"\x00\x00\x00\x02", 4}));  // user_version, section 1.3.14
  EXPECT_FALSE(std::filesystem::exists(ours.path + "-journal"));
  EXPECT_FALSE(std::filesystem::exists(ours.path + "-wal"));
}

int opening(const std::string& path) {
  return fault_of([&] { open_sqlite(path, true); });
}

TEST(SqliteFile, IsRefusedWhenItIsNotThereOrNotOurs) {
  Folder folder;
  EXPECT_EQ(opening(folder.file("none")), exit_status::no_input);
  EXPECT_EQ(opening(""), exit_status::no_input);
  EXPECT_EQ(opening(":memory:"), exit_status::no_input);
  EXPECT_EQ(opening(folder.file("")), exit_status::configuration);  // the folder itself
  std::ofstream{folder.file("empty")};
  EXPECT_EQ(opening(folder.file("empty")), exit_status::configuration);
  std::ofstream{folder.file("text")} << std::string(5000, 'x');
  EXPECT_EQ(opening(folder.file("text")), exit_status::configuration);
  tamper(folder.file("other"), "CREATE TABLE entry (kitchen, seq)");
  EXPECT_EQ(opening(folder.file("other")), exit_status::configuration);
}

TEST(SqliteFile, IsRefusedWhenANewerProgramMadeIt) {
  const Kitchen ours;
  tamper(ours.path, "PRAGMA user_version = 3");
  try {
    open_sqlite(ours.path, false);
    FAIL() << "it was opened";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::configuration);
    EXPECT_NE(std::string{fault.what()}.find("newer"), std::string::npos);
  }
  tamper(ours.path, "PRAGMA user_version = 0");
  EXPECT_EQ(opening(ours.path), exit_status::configuration);
}

TEST(SqliteFile, IsRefusedWithATriggerInIt) {
  const Kitchen ours;
  tamper(ours.path, "CREATE TRIGGER planted AFTER INSERT ON entry BEGIN DELETE FROM sealed; END");
  EXPECT_EQ(opening(ours.path), exit_status::configuration);
}

TEST(SqliteFile, IsRefusedForReadingInAnotherJournalModeAndPutRightForWriting) {
  const Kitchen ours;
  tamper(ours.path, "PRAGMA journal_mode = WAL");
  EXPECT_EQ(opening(ours.path), exit_status::configuration);
  EXPECT_EQ(open_sqlite(ours.path, false)->head(), ours.head);
  EXPECT_EQ(opening(ours.path), 0);
}

using sqlite::Access;
using sqlite::Database;
using sqlite::Transaction;

TEST(SqliteDatabase, DeniesToChangeOrDeleteWhatIsInTheLog) {
  const Kitchen ours;
  Database database{ours.path, Access::read_write};
  for (const char* sql : {"UPDATE entry SET leaf = 'x'", "DELETE FROM entry", "UPDATE block SET bytes = x'00'", "DELETE FROM block",
                          "UPDATE paper SET bytes = x'00'", "DELETE FROM paper", "UPDATE sealed SET text = 'x'", "DELETE FROM sealed",
                          "UPDATE kitchen SET kitchen = 'x'", "DELETE FROM kitchen", "DROP TABLE entry", "DROP TABLE sealed",
                          "ALTER TABLE entry RENAME TO old", "ALTER TABLE paper ADD COLUMN more TEXT",
                          "CREATE TRIGGER t AFTER INSERT ON entry BEGIN SELECT 1; END", "ATTACH ':memory:' AS other"}) {
    EXPECT_EQ(fault_of([&] { database.run(sql); }), exit_status::not_permitted) << sql;
  }
  {
    const Database::Erasing erasing{database};
    EXPECT_EQ(fault_of([&] { database.run("DELETE FROM entry"); }), exit_status::not_permitted);
    EXPECT_EQ(fault_of([&] { database.run("UPDATE sealed SET text = 'x'"); }), exit_status::not_permitted);
    EXPECT_EQ(fault_of([&] { database.run("DELETE FROM sealed"); }), 0);
  }
  EXPECT_EQ(fault_of([&] { database.run("DELETE FROM sealed"); }), exit_status::not_permitted);
}

TEST(SqliteDatabase, IsSetUpForDurability) {
  const Kitchen ours;
  const Database database{ours.path, Access::read_write};
  for (const auto& [pragma, value] : std::vector<std::pair<const char*, const char*>>{{"PRAGMA journal_mode", "delete"},
                                                                                      {"PRAGMA synchronous", "3"},
                                                                                      {"PRAGMA foreign_keys", "1"},
                                                                                      {"PRAGMA trusted_schema", "0"},
                                                                                      {"PRAGMA recursive_triggers", "1"},
                                                                                      {"PRAGMA cell_size_check", "1"},
                                                                                      {"PRAGMA mmap_size", "0"},
                                                                                      {"PRAGMA secure_delete", "1"},
                                                                                      {"PRAGMA busy_timeout", "5000"}}) {
    EXPECT_EQ(database.answer(pragma), value) << pragma;
  }
  const Database reader{ours.path, Access::read_only};
  EXPECT_EQ(reader.answer("PRAGMA query_only"), "1");
  EXPECT_EQ(fault_of([&] { reader.run("DELETE FROM view_edge"); }), exit_status::not_permitted);
}

TEST(SqliteDatabase, SaysTryLaterWhenAnotherHandleKeepsTheLock) {
  const Kitchen ours;
  const Database first{ours.path, Access::read_write};
  const Database second{ours.path, Access::read_write, 20};
  Transaction writing{first, Transaction::Kind::write};
  EXPECT_EQ(fault_of([&] { const Transaction other{second, Transaction::Kind::write}; }), exit_status::try_later);
  writing.commit();
  EXPECT_EQ(fault_of([&] { const Transaction other{second, Transaction::Kind::write}; }), 0);
}

TEST(SqliteDatabase, RollsBackWhatWasNotCommitted) {
  const Kitchen ours;
  const Database database{ours.path, Access::read_write};
  {
    const Transaction writing{database, Transaction::Kind::write};
    database.run("DELETE FROM view_edge");
    EXPECT_EQ(database.answer("SELECT count(*) FROM view_edge"), "0");
  }
  EXPECT_EQ(database.answer("SELECT count(*) FROM view_edge"), "3");
}

std::string bytes_in(const std::string& path) {
  std::ifstream in{path, std::ios::binary};
  std::stringstream whole;
  whole << in.rdbuf();
  return std::move(whole).str();
}

TEST(SqliteStore, LeavesNoByteOfAnErasedTextInTheFile) {
  const Kitchen ours;
  ASSERT_NE(bytes_in(ours.path).find("Ada Example"), std::string::npos);
  const auto store = open_sqlite(ours.path, false);
  book(*store, an_erasure(8, {{"w-1"}, {}}));
  EXPECT_EQ(bytes_in(ours.path).find("Ada Example"), std::string::npos);
}

// Many texts and papers that fill pages, move between them when others are deleted, and leave free pages behind.
TEST(SqliteStore, LeavesNoByteOfManyErasedTextsAndPapersOnceItIsWrittenAnew) {
  const Kitchen ours;
  const auto store = open_sqlite(ours.path, false);
  ToErase erase;
  std::uint64_t sequence = 7;
  for (int i = 0; i < 300; ++i) {
    const SealedText text{fmt::format("w-{}-{}", i * 7919 % 300, i), sha256(fmt::format("key {}", i)),
                          fmt::format("Zoë Ünique {} {}", i, std::string(static_cast<std::size_t>(i * 37 % 900), 'x'))};
    const std::string bytes = fmt::format("%PDF Zoë Ünique {} {}", i, std::string(static_cast<std::size_t>(i * 101 % 9000), 'y'));
    Append append;
    append.entries.push_back(entry(++sequence, "person/1", "person-9", Json{Json::Object{{"name", sealed_name(text)}}}));
    append.entries.push_back(entry(++sequence, "paper/1", "cake-1", digest_body(bytes)));
    append.sealed.push_back(text);
    append.papers.push_back({sha256(bytes), "application/pdf", bytes});
    book(*store, append);
    if (i % 2 == 0) {
      erase.texts.push_back(text.ref);
      erase.papers.push_back(sha256(bytes));
    }
  }
  const auto count = [&] {
    const auto all = bytes_in(ours.path);
    int found = 0;
    for (int i = 0; i < 300; i += 2) found += all.find(fmt::format("Zoë Ünique {} ", i)) != std::string::npos;
    return found;
  };
  ASSERT_EQ(count(), 150);
  book(*store, an_erasure(++sequence, erase));
  store->scrub();
  EXPECT_EQ(count(), 0);
  EXPECT_NE(bytes_in(ours.path).find("Zoë Ünique 1 "), std::string::npos);
  EXPECT_FALSE(std::filesystem::exists(ours.path + "-journal"));
  EXPECT_EQ(joined(store->verify(ours.head)), "");
  EXPECT_EQ(joined(ours.verify(ours.head)), "");
}

TEST(SqliteStore, DeletesAndAttachesNothingBeforeOrAfterItErasesOrIsWrittenAnew) {
  const Kitchen ours;
  {
    const auto store = open_sqlite(ours.path, false);
    book(*store, an_erasure(8, {{"w-1"}, {a_paper().digest}}));
    store->scrub();
  }
  Database database{ours.path, Access::read_write};
  database.write_anew();
  for (const char* sql : {"DELETE FROM sealed", "DELETE FROM paper", "DELETE FROM entry", "UPDATE paper SET bytes = x'00'",
                          "ATTACH ':memory:' AS other", "DROP TABLE paper"}) {
    EXPECT_EQ(fault_of([&] { database.run(sql); }), exit_status::not_permitted) << sql;
  }
  const Database::Erasing erasing{database};
  for (const char* sql : {"DELETE FROM entry", "DELETE FROM block", "DELETE FROM kitchen", "UPDATE sealed SET text = ''"}) {
    EXPECT_EQ(fault_of([&] { database.run(sql); }), exit_status::not_permitted) << sql;
  }
}

TEST(SqliteStore, MissesAPaperUnlessAnErasureNamesIt) {
  const Kitchen ours;
  tamper(ours.path, "DELETE FROM paper");
  EXPECT_NE(joined(ours.verify()).find("entry 7 names bytes with the SHA-256"), std::string::npos);
  book(*open_sqlite(ours.path, false), an_erasure(8, {}));
  EXPECT_NE(joined(ours.verify()).find("entry 7 names bytes with the SHA-256"), std::string::npos) << "that erasure names another";
}

TEST(SqliteStore, MissesABlockOfReadingsWhateverAnErasureNames) {
  const Kitchen ours;
  tamper(ours.path, "DELETE FROM block");
  const auto store = open_sqlite(ours.path, false);
  auto erasure = an_erasure(8, {}).entries.front();
  erasure.body["papers"] = Json{Json::Array{Json{to_hex(sha256(a_block().bytes))}}};
  book(*store, only(erasure));
  EXPECT_NE(joined(ours.verify()).find("entry 4 names bytes with the SHA-256"), std::string::npos);
}

TEST(SqliteStore, NamesAPaperThatIsKeptThoughItWasErased) {
  const Kitchen ours;
  const auto store = open_sqlite(ours.path, false);
  auto erasure = an_erasure(8, {}).entries.front();
  erasure.body["papers"] = Json{Json::Array{Json{to_hex(a_paper().digest)}}};
  book(*store, only(erasure));
  EXPECT_NE(joined(ours.verify()).find("entry 8 erased it, and it is kept all the same"), std::string::npos);
}

TEST(SqliteStore, SaysInPlainWordsThatAnotherFileIsNoKitchenFile) {
  const Folder folder;
  const auto path = folder.file("recipe.txt");
  std::ofstream{path} << std::string(5000, 'a');
  for (const bool read_only : {true, false}) {
    try {
      open_sqlite(path, read_only);
      ADD_FAILURE() << "it was opened";
    } catch (const Fault& fault) {
      EXPECT_EQ(fault.exit_status(), exit_status::configuration);
      EXPECT_NE(std::string{fault.what()}.find(path + " is not a kitchen file of tierproof"), std::string::npos) << fault.what();
    }
  }
}

/// The digest over the dump of the view tables, as `verify` compares them.
Digest view_dump(const std::string& path) {
  const Database database{path, Access::read_only};
  return sqlite::digest_of(sqlite::stored_rows(database, kitchen, sqlite::Rows::all));
}

TEST(SqliteRestore, MakesAFileWithTheSameHeadAndViews) {
  const Kitchen ours;
  const auto store = open_sqlite(ours.path, false);
  book(*store, only(entry(8, "batch/1", "batch-1", json(R"({"uses": [{"of": "pack-2"}]})"), 5)));
  book(*store, an_erasure(9, {{"w-1"}, {a_paper().digest}}));
  const auto path = ours.folder.file("again.tierproof");
  const auto found = restore_sqlite(path, kitchen, store->whole());
  EXPECT_EQ(joined(found), "");
  EXPECT_EQ(found.head, store->head());
  EXPECT_EQ(open_sqlite(path, true)->notes(), store->notes());
  EXPECT_EQ(view_dump(path), view_dump(ours.path));
  struct stat made {};
  ASSERT_EQ(::stat(path.c_str(), &made), 0);
  EXPECT_EQ(made.st_mode & 0777, 0600) << "it holds personal data";
}

std::vector<std::string> files_in(const Kitchen& ours) {
  std::vector<std::string> names;
  for (const auto& one : std::filesystem::directory_iterator{std::filesystem::path{ours.path}.parent_path()})
    names.push_back(one.path().filename().string());
  return names;
}

TEST(SqliteRestore, LeavesNoFileWhereTheRecordsDoNotHold) {
  const Kitchen ours;
  const auto path = ours.folder.file("again.tierproof");
  auto whole = open_sqlite(ours.path, true)->whole();
  whole.papers.clear();
  EXPECT_NE(joined(restore_sqlite(path, kitchen, whole)).find("entry 7 names bytes"), std::string::npos);
  whole.blocks[0].bytes += "x";
  EXPECT_EQ(fault_of([&] { restore_sqlite(path, kitchen, whole); }), exit_status::our_bug);
  EXPECT_EQ(files_in(ours), std::vector<std::string>{"kitchen.tierproof"});
}

TEST(SqliteRestore, NeverTouchesAFileThatIsThereAlready) {
  const Kitchen ours;
  const auto before = bytes_in(ours.path);
  const auto whole = open_sqlite(ours.path, true)->whole();
  EXPECT_EQ(fault_of([&] { restore_sqlite(ours.path, kitchen, whole); }), exit_status::cannot_create);
  EXPECT_EQ(bytes_in(ours.path), before);
  EXPECT_EQ(files_in(ours), std::vector<std::string>{"kitchen.tierproof"});
}

/// `parent > child by note`, with a `?` before what is only possible.
using Strings = std::vector<std::string>;
Strings edges_in(const std::string& path) {
  const Database database{path, Access::read_only};
  auto rows = database.prepare(
      "SELECT iif(e.certain, '', '? ') || p.name || ' > ' || c.name || ' by ' || e.seq FROM view_edge e "
      "JOIN view_thing p ON p.thing = e.parent JOIN view_thing c ON c.thing = e.child ORDER BY p.name, c.name");
  Strings out;
  while (rows.step()) out.push_back(rows.bytes(0));
  return out;
}

TEST(SqliteStore, KeepsTheGraphOfWhatIsInForce) {
  const Kitchen ours;
  const auto store = open_sqlite(ours.path, false);
  EXPECT_EQ(edges_in(ours.path), (Strings{"batch-1 > cake-1 by 6", "pack-1 > batch-1 by 5", "pack-2 > batch-1 by 5"}));
  book(*store, only(entry(8, "batch/1", "batch-1", json(R"({"uses": [{"of": "pack-2"}]})"), 5)));
  EXPECT_EQ(edges_in(ours.path), (Strings{"batch-1 > cake-1 by 6", "pack-2 > batch-1 by 8"}));
  book(*store, only(entry(9, "batch/1", "batch-1", Json{}, 8)));
  EXPECT_EQ(edges_in(ours.path), (Strings{"batch-1 > cake-1 by 6", "? pack-2 > batch-1 by 9"}));  // what was voided may be so all the same
  book(*store, only(entry(10, "batch/1", "batch-1", json(R"({"uses": [{"of": "pack-1"}]})"), 9)));
  EXPECT_EQ(edges_in(ours.path), (Strings{"batch-1 > cake-1 by 6", "pack-1 > batch-1 by 10"}));
  EXPECT_EQ(joined(ours.verify()), "");
}

TEST(SqliteStore, KeepsTheGraphOfTubsWhateverIsWrittenDownLater) {
  const Kitchen ours;
  const auto store = open_sqlite(ours.path, false);
  const auto from_tub = R"({"uses": [{"of": "pack-1", "batch": false, "tub": "tub-1"}]})";
  const auto into_two = [&] {
    Strings found;
    for (const auto& edge : edges_in(ours.path)) {
      if (edge.find("> batch-2 ") != std::string::npos) found.push_back(edge);
    }
    return found;
  };
  book(*store, only(entry(8, "top-up/1", "tub-1", json(R"({"tub": "tub-1", "lot": "pack-1"})"))));
  book(*store, only(entry(9, "batch/1", "batch-2", json(from_tub))));
  EXPECT_EQ(into_two(), (Strings{"pack-1 > batch-2 by 9"}));
  auto late = entry(10, "top-up/1", "tub-1", json(R"({"tub": "tub-1", "lot": "pack-2"})"));
  late.happened = entry(8, "", "", Json{}).happened;  // written down after the batch, poured before it
  book(*store, only(late));
  EXPECT_EQ(into_two(), (Strings{"? pack-1 > batch-2 by 9", "? pack-2 > batch-2 by 9"}));
  EXPECT_EQ(joined(ours.verify()), "");
  book(*store, only(entry(11, "batch/1", "batch-2", Json{}, 9)));  // neither is out of it once the batch is voided
  EXPECT_EQ(into_two(), (Strings{"? pack-1 > batch-2 by 11", "? pack-2 > batch-2 by 11"}));
  book(*store, only(entry(12, "batch/1", "batch-2", json(from_tub), 11)));
  EXPECT_EQ(joined(ours.verify()), "");
  book(*store, only(entry(13, "top-up/1", "tub-1", Json{}, 10)));  // that pouring never was
  EXPECT_EQ(into_two(), (Strings{"pack-1 > batch-2 by 12"}));
  EXPECT_EQ(joined(ours.verify()), "");
}

/// A file as the first schema had it: the same log and notes, another graph.
void make_it_of_the_first_schema(const std::string& path) {
  tamper(path, R"sql(DROP TABLE view_edge; DROP TABLE view_thing; DROP INDEX view_note_by_kind;
    CREATE TABLE view_edge (kitchen TEXT NOT NULL, parent TEXT NOT NULL, child TEXT NOT NULL, seq INTEGER NOT NULL,
                            PRIMARY KEY (kitchen, parent, child, seq)) STRICT, WITHOUT ROWID;
    PRAGMA user_version = 1;
  )sql");
}

TEST(SqliteFile, OfTheFirstSchemaIsReadAsItIs) {
  const Kitchen ours;
  make_it_of_the_first_schema(ours.path);
  const auto before = bytes_in(ours.path);
  const auto store = open_sqlite(ours.path, true);
  EXPECT_EQ(store->notes().size(), 7u);
  EXPECT_EQ(joined(store->verify(ours.head)), "");
  EXPECT_EQ(fault_of([&] { store->reached({"pack-1"}, Reach::into); }), exit_status::configuration);
  EXPECT_EQ(fault_of([&] { store->things("pack-1"); }), exit_status::configuration);
  EXPECT_EQ(bytes_in(ours.path), before) << "reading writes nothing";
  tamper(ours.path, "UPDATE view_note SET body = '{}' WHERE seq = 3");
  EXPECT_NE(joined(ours.verify()).find("the view: \"note 3\" is not what the log gives"), std::string::npos);
}

TEST(SqliteFile, OfTheFirstSchemaGetsItsGraphFromWhoeverMayWrite) {
  const Kitchen ours;
  const auto before = edges_in(ours.path);
  make_it_of_the_first_schema(ours.path);
  EXPECT_EQ(joined(open_sqlite(ours.path, false)->verify(ours.head)), "");
  EXPECT_EQ(edges_in(ours.path), before);
}

TEST(SqliteFile, OfTheFirstSchemaOpensThoughAnEntryIsDamagedSoThatItCanBeNamed) {
  const Kitchen ours;
  make_it_of_the_first_schema(ours.path);
  tamper(ours.path, "UPDATE entry SET leaf = '{' WHERE seq = 3");
  EXPECT_EQ(open_sqlite(ours.path, true)->verify(std::nullopt).first_bad, 3u);
  EXPECT_EQ(open_sqlite(ours.path, false)->verify(std::nullopt).first_bad, 3u);
}

}  // namespace
}  // namespace tierproof
