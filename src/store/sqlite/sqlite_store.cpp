#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <map>
#include <set>
#include <utility>

#include "database.h"
#include "log_rows.h"
#include "reached.h"
#include "schema.h"
#include "tierproof/kitchen/bodies.h"
#include "tierproof/store/named_bytes.h"
#include "tierproof/store/record_store.h"
#include "verify.h"
#include "views.h"

namespace tierproof {
namespace {

using sqlite::Access;
using sqlite::Database;
using sqlite::Transaction;

[[noreturn]] void bug(const std::string& what) { throw Fault{exit_status::our_bug, "append: " + what}; }

/// Refuses what the contract of `append` does not allow. A record that does not hold must not get into the log, whoever made it.
void check_contract(const Append& append, std::uint64_t size, const std::string& kitchen) {
  if (append.entries.empty()) bug("there is no entry");
  std::set<std::string> keys;
  std::map<std::uint64_t, Digest> digests;
  std::map<std::string, std::string> hmacs;
  std::vector<const Entry*> erasures;
  for (const auto& entry : append.entries) {
    if (entry.sequence != ++size) bug(fmt::format("entry {} stands where {} is next", entry.sequence, size));
    if (entry.kitchen != kitchen) bug(fmt::format("entry {} is of another kitchen", entry.sequence));
    if (!keys.insert(entry.client_key).second)
      bug(fmt::format("entry {} has the client key of another in the same append", entry.sequence));
    if (const auto digest = store::named_digest(entry)) digests.emplace(entry.sequence, *digest);
    for (auto& named : store::named_sealed(entry)) hmacs.insert_or_assign(named.ref, named.hmac);
    if (entry.kind == KindOf<Erasure>::kind) erasures.push_back(&entry);
  }
  std::set<Digest> named_now;
  for (const auto& [sequence, digest] : digests) named_now.insert(digest);
  for (const auto& block : append.blocks) {
    const auto named = digests.find(block.sequence);
    const bool seals = named != digests.end() && named->second == sha256(block.bytes);
    if (!seals) bug(fmt::format("entry {} does not seal its block", block.sequence));
  }
  for (const auto& paper : append.papers) {
    if (paper.digest != sha256(paper.bytes)) bug("a paper does not have its SHA-256");
    if (!named_now.contains(paper.digest)) bug("no entry names a paper");
  }
  for (const auto& text : append.sealed) {
    const auto named = hmacs.find(text.ref);
    const bool is_named = named != hmacs.end() && named->second == to_hex(hmac_sha256(text.key, text.text));
    if (!is_named) bug(fmt::format("no entry names the sealed text {}", text.ref));
  }
  if (append.erase.empty()) return;
  if (erasures.empty()) bug("something is erased, and no entry tells of it");
  std::int64_t told = 0;
  std::set<Digest> named;
  for (const Entry* erasure : erasures) {
    const auto* texts = erasure->body.is_object() ? erasure->body.find("texts") : nullptr;
    if (texts == nullptr || !texts->is_integer()) bug(fmt::format("entry {} does not tell how many texts are erased", erasure->sequence));
    told += texts->integer();
    const auto papers = store::named_erased(*erasure);
    if (texts->integer() <= 0 && papers.empty() && store::named_erased_files(*erasure).empty())
      bug(fmt::format("entry {} tells that nothing is erased", erasure->sequence));
    for (const auto& digest : papers) {
      if (!named.insert(digest).second) bug(fmt::format("entry {} names an erased paper of another entry", erasure->sequence));
    }
  }
  if (told != static_cast<std::int64_t>(std::set(append.erase.texts.begin(), append.erase.texts.end()).size()))
    bug("the entries do not tell how many texts are erased");
  if (named != std::set(append.erase.papers.begin(), append.erase.papers.end())) bug("the entries do not name the papers that are erased");
}

class SqliteStore final : public RecordStore {
 public:
  SqliteStore(const std::string& path, Access access) : database_{path, access} {
    auto found = sqlite::check_schema(database_, path);
    kitchen_ = std::move(found.kitchen);
    earlier_views_ = found.earlier_views;
    if (!earlier_views_ || access == Access::read_only) return;
    Transaction writing{database_, Transaction::Kind::write};
    earlier_views_ = false;
    if (!sqlite::of_earlier_schema(database_)) return;  // another door was quicker
    remake_views(Unreadable::passed_over);
    sqlite::mark_schema(database_);
    writing.commit();
  }

  Head head() const override { return sqlite::last_frontier(database_, kitchen_).head(); }

  std::optional<Head> head_at(std::uint64_t size) const override {
    if (size == 0) return Frontier{}.head();
    auto row = database_.prepare("SELECT head_root FROM entry WHERE kitchen = ?1 AND seq = ?2");
    row.bind_text(1, kitchen_).bind(2, size);
    if (!row.step()) return std::nullopt;
    const auto root = sqlite::digest_from_bytes(row.bytes(0));
    if (!root) throw Fault{exit_status::configuration, fmt::format("the head kept with entry {} does not hold; run verify", size)};
    return Head{size, *root};
  }

  Appended append(const Head& expected, const Append& append) override {
    if (database_.access() == Access::read_only) throw Fault{exit_status::not_permitted, "these records were opened for reading only"};
    Transaction writing{database_, Transaction::Kind::write};
    for (const auto& entry : append.entries) {
      if (const auto sequence = booked_under(entry.client_key)) return AlreadyBooked{*sequence};
    }
    auto frontier = sqlite::last_frontier(database_, kitchen_);
    if (frontier.head() != expected) return Conflict{frontier.head()};
    check_contract(append, expected.size, kitchen_);
    insert(append, frontier);
    erase(append.erase);
    read_back(append, expected);
    writing.commit();
    return frontier.head();
  }

  std::vector<Entry> entries(std::uint64_t first, std::uint64_t last) const override {
    auto rows = database_.prepare("SELECT seq, leaf FROM entry WHERE kitchen = ?1 AND seq BETWEEN ?2 AND ?3 ORDER BY seq");
    rows.bind_text(1, kitchen_).bind(2, first).bind(3, std::min(last, largest_sequence));
    std::vector<Entry> out;
    while (rows.step()) out.push_back(entry_of(rows.sequence(0), rows.bytes(1)));
    return out;
  }

  std::optional<std::uint64_t> booked_under(std::string_view client_key) const override {
    auto row = database_.prepare("SELECT seq FROM entry WHERE kitchen = ?1 AND client_key = ?2");
    row.bind_text(1, kitchen_).bind_text(2, client_key);
    if (!row.step()) return std::nullopt;
    return row.sequence(0);
  }

  std::optional<std::string> block(std::uint64_t sequence) const override {
    auto row = database_.prepare("SELECT bytes FROM block WHERE kitchen = ?1 AND seq = ?2");
    row.bind_text(1, kitchen_).bind(2, sequence);
    if (!row.step()) return std::nullopt;
    return row.bytes(0);
  }

  std::optional<std::string> sealed(std::string_view ref) const override {
    auto row = database_.prepare("SELECT text FROM sealed WHERE kitchen = ?1 AND ref = ?2");
    row.bind_text(1, kitchen_).bind_text(2, ref);
    if (!row.step()) return std::nullopt;
    return row.bytes(0);
  }

  std::optional<KeptPaper> paper(const Digest& digest) const override {
    auto row = database_.prepare("SELECT media_type, bytes FROM paper WHERE kitchen = ?1 AND digest = ?2");
    row.bind_text(1, kitchen_).bind_blob(2, sqlite::bytes_of(digest));
    if (!row.step()) return std::nullopt;
    return KeptPaper{digest, row.bytes(0), row.bytes(1)};
  }

  std::vector<Note> notes() const override { return sqlite::read_notes(database_, kitchen_); }

  NotesAtHead notes_at_head() const override {
    const Transaction reading{database_, Transaction::Kind::read};
    return {head(), notes()};
  }

  std::vector<StoredThing> things(std::string_view name) const override {
    need_the_graph();
    return sqlite::things_called(database_, kitchen_, name);
  }

  std::vector<StoredThing> reached(const std::vector<std::string>& names, Reach way) const override {
    need_the_graph();
    const Transaction reading{database_, Transaction::Kind::read};
    return sqlite::reached(database_, kitchen_, names, way);
  }

  Append whole() const override {
    const Transaction reading{database_, Transaction::Kind::read};
    Append out;
    out.entries = entries(1, largest_sequence);
    auto blocks = database_.prepare("SELECT seq, bytes FROM block WHERE kitchen = ?1 ORDER BY seq");
    blocks.bind_text(1, kitchen_);
    while (blocks.step()) out.blocks.push_back({blocks.sequence(0), blocks.bytes(1)});
    auto texts = database_.prepare("SELECT ref, key, text FROM sealed WHERE kitchen = ?1 ORDER BY ref");
    texts.bind_text(1, kitchen_);
    while (texts.step()) out.sealed.push_back({texts.bytes(0), digest_of(texts.bytes(1), "the key of a sealed text"), texts.bytes(2)});
    auto papers = database_.prepare("SELECT digest, media_type, bytes FROM paper WHERE kitchen = ?1 ORDER BY digest");
    papers.bind_text(1, kitchen_);
    while (papers.step()) out.papers.push_back({digest_of(papers.bytes(0), "the SHA-256 of a paper"), papers.bytes(1), papers.bytes(2)});
    return out;
  }

  void scrub() override {
    if (database_.access() == Access::read_only) throw Fault{exit_status::not_permitted, "these records were opened for reading only"};
    database_.write_anew();
  }

  void rebuild() override {
    Transaction writing{database_, Transaction::Kind::write};
    remake_views(Unreadable::refused);
    writing.commit();
  }

  Verification verify(const std::optional<Head>& earlier) const override { return sqlite::verify_file(database_, kitchen_, earlier); }

 private:
  static constexpr std::uint64_t largest_sequence = 9007199254740991;  // 2^53 - 1, as far as JSON numbers go

  /// A reader of a file of the first schema finds no graph in it.
  void need_the_graph() const {
    if (!earlier_views_) return;
    throw Fault{
        exit_status::configuration,
        "the kitchen file was last written by an earlier tierproof, which kept no graph in it; `tierproof rebuild` makes it, as does "
        "recording anything"};
  }

  /// What a damaged entry does to the making of the views. It is passed over where the file has to open, so that `verify` can name it.
  enum class Unreadable { refused, passed_over };
  void remake_views(Unreadable unreadable) {
    sqlite::drop_views(database_);
    sqlite::make_views(database_);
    sqlite::ViewWriter views{database_, kitchen_};
    auto numbers = database_.prepare("SELECT seq FROM entry WHERE kitchen = ?1 ORDER BY seq");
    numbers.bind_text(1, kitchen_);
    std::vector<std::uint64_t> sequences;
    while (numbers.step()) sequences.push_back(numbers.sequence(0));
    numbers.reset();
    auto leaf = database_.prepare("SELECT leaf FROM entry WHERE kitchen = ?1 AND seq = ?2");
    for (const auto sequence : sequences) {
      leaf.bind_text(1, kitchen_).bind(2, sequence);
      const std::string text = leaf.step() ? leaf.bytes(0) : "";
      leaf.reset();  // nothing may be half read when a note is rolled back
      database_.run("SAVEPOINT one_note");
      try {
        views.add(note_of(entry_of(sequence, text)));
      } catch (const Fault& fault) {
        if (unreadable == Unreadable::refused || fault.exit_status() != exit_status::configuration) throw;
        database_.run("ROLLBACK TO one_note");
      }
      database_.run("RELEASE one_note");
    }
  }

  static Digest digest_of(const std::string& bytes, std::string_view what) {
    if (const auto digest = sqlite::digest_from_bytes(bytes)) return *digest;
    throw Fault{exit_status::configuration, fmt::format("{} does not hold; run verify, and restore the file from a backup", what)};
  }

  static Entry entry_of(std::uint64_t sequence, const std::string& leaf) {
    auto entry = parse_entry(leaf);
    if (entry && entry->sequence == sequence) return std::move(entry).value();
    throw Fault{exit_status::configuration,
                fmt::format("entry {} cannot be read; run verify, and restore the file from a backup", sequence)};
  }

  void insert(const Append& append, Frontier& frontier) {
    auto entry_row = database_.prepare(
        "INSERT INTO entry (kitchen, seq, leaf, leaf_hash, client_key, head_root, frontier) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)");
    sqlite::ViewWriter views{database_, kitchen_};
    for (const auto& entry : append.entries) {
      const auto leaf = leaf_text(entry);
      const auto hash = leaf_hash(leaf);
      frontier.add(hash);
      entry_row.bind_text(1, kitchen_).bind(2, entry.sequence).bind_text(3, leaf).bind_blob(4, sqlite::bytes_of(hash));
      entry_row.bind_text(5, entry.client_key).bind_blob(6, sqlite::bytes_of(frontier.head().root));
      entry_row.bind_blob(7, sqlite::frontier_bytes(frontier)).run();
      views.add(note_of(entry));
    }
    auto block_row = database_.prepare("INSERT INTO block (kitchen, seq, bytes) VALUES (?1, ?2, ?3)");
    for (const auto& one : append.blocks) block_row.bind_text(1, kitchen_).bind(2, one.sequence).bind_blob(3, one.bytes).run();
    auto sealed_row = database_.prepare("INSERT INTO sealed (kitchen, ref, key, text) VALUES (?1, ?2, ?3, ?4)");
    for (const auto& text : append.sealed) {
      sealed_row.bind_text(1, kitchen_).bind_text(2, text.ref).bind_blob(3, sqlite::bytes_of(text.key)).bind_text(4, text.text).run();
    }
    auto paper_row =
        database_.prepare("INSERT INTO paper (kitchen, digest, media_type, bytes) VALUES (?1, ?2, ?3, ?4) ON CONFLICT DO NOTHING");
    for (const auto& one : append.papers) {
      paper_row.bind_text(1, kitchen_)
          .bind_blob(2, sqlite::bytes_of(one.digest))
          .bind_text(3, one.media_type)
          .bind_blob(4, one.bytes)
          .run();
    }
  }

  /// Deletes what is erased, which must be there. Runs inside the transaction that books the erasure.
  void erase(const ToErase& what) {
    if (what.empty()) return;
    const Database::Erasing erasing{database_};
    auto text = database_.prepare("DELETE FROM sealed WHERE kitchen = ?1 AND ref = ?2");
    for (const auto& ref : what.texts) {
      if (!sealed(ref)) bug(fmt::format("the sealed text {} is not there to be erased", ref));
      text.bind_text(1, kitchen_).bind_text(2, ref).run();
    }
    auto bytes = database_.prepare("DELETE FROM paper WHERE kitchen = ?1 AND digest = ?2");
    for (const auto& digest : what.papers) {
      if (!paper(digest)) bug(fmt::format("the paper {} is not there to be erased", to_hex(digest)));
      bytes.bind_text(1, kitchen_).bind_blob(2, sqlite::bytes_of(digest)).run();
    }
  }

  /// Reads everything again and hashes it again before it counts.
  void read_back(const Append& append, const Head& before) const {
    const auto differs = [](const std::string& what) {
      throw Fault{exit_status::io, fmt::format("{} is not read back as it was written; nothing was booked", what)};
    };
    auto previous = before.size == 0 ? Frontier{} : frontier_at(before.size);
    auto row = database_.prepare("SELECT leaf, leaf_hash, head_root, frontier FROM entry WHERE kitchen = ?1 AND seq = ?2");
    for (const auto& entry : append.entries) {
      const auto name = fmt::format("entry {}", entry.sequence);
      row.bind_text(1, kitchen_).bind(2, entry.sequence);
      if (!row.step()) differs(name);
      const auto leaf = row.bytes(0);
      const auto hash = leaf_hash(leaf);
      previous.add(hash);
      if (sqlite::bytes_of(hash) != row.bytes(1)) differs(name);
      if (sqlite::bytes_of(previous.head().root) != row.bytes(2) || sqlite::frontier_bytes(previous) != row.bytes(3)) differs(name);
      row.reset();
      const auto read = parse_entry(leaf);
      if (!read) bug(describe(read.error().front()));
      if (*read != entry) differs(name);
    }
    for (const auto& written : append.blocks) {
      if (block(written.sequence) != written.bytes) differs(fmt::format("block {}", written.sequence));
    }
    for (const auto& written : append.sealed) {
      if (sealed(written.ref) != written.text) differs(fmt::format("sealed text {}", written.ref));
    }
    for (const auto& written : append.papers) {
      const auto read = paper(written.digest);
      if (!read || sha256(read->bytes) != written.digest) differs(fmt::format("paper {}", to_hex(written.digest)));
    }
    for (const auto& ref : append.erase.texts) {
      if (sealed(ref)) differs(fmt::format("sealed text {}", ref));
    }
    for (const auto& digest : append.erase.papers) {
      if (paper(digest)) differs(fmt::format("paper {}", to_hex(digest)));
    }
  }

  Frontier frontier_at(std::uint64_t size) const {
    auto row = database_.prepare("SELECT frontier FROM entry WHERE kitchen = ?1 AND seq = ?2");
    row.bind_text(1, kitchen_).bind(2, size);
    if (row.step()) {
      if (const auto frontier = sqlite::frontier_from_bytes(size, row.bytes(0))) return *frontier;
    }
    throw Fault{exit_status::configuration, fmt::format("the head kept with entry {} does not hold; run verify", size)};
  }

  Database database_;
  std::string kitchen_;
  bool earlier_views_ = false;  ///< opened for reading only, with the views of an earlier schema
};

}  // namespace

std::unique_ptr<RecordStore> open_sqlite(const std::string& path, bool read_only) {
  std::error_code error;
  const auto kind = std::filesystem::status(path, error).type();
  if (kind == std::filesystem::file_type::not_found || path.empty()) {
    throw Fault{exit_status::no_input, fmt::format("there is no kitchen file at {}", path.empty() ? "an empty name" : path)};
  }
  if (kind != std::filesystem::file_type::regular) {
    throw Fault{exit_status::configuration, fmt::format("{} is not a kitchen file of tierproof", path)};
  }
  const auto whole = std::filesystem::absolute(path).string();  // so that no name means anything else to SQLite
  if (!read_only) return std::make_unique<SqliteStore>(whole, Access::read_write);
  try {
    return std::make_unique<SqliteStore>(whole, Access::read_only);
  } catch (const sqlite::CutOffWrite&) {
    const SqliteStore put_right{whole, Access::read_write};  // reading through it rolls the cut-off write back
    return std::make_unique<SqliteStore>(whole, Access::read_only);
  }
}

namespace {

[[noreturn]] void there_already(const std::string& path) {
  throw Fault{exit_status::cannot_create, fmt::format("{} is there already; name another file", path)};
}

/// Gives `from` the name `to`, unless something has that name already, and puts the change on the disk.
void take_name(const std::string& from, const std::string& to) {
  // A link never replaces what is there; where the file system has none, the moment between looking and renaming is all there is.
  if (::link(from.c_str(), to.c_str()) == 0) {
    ::unlink(from.c_str());
  } else {
    if (errno == EEXIST || std::filesystem::exists(to)) there_already(to);
    if (::rename(from.c_str(), to.c_str()) != 0)
      throw Fault{exit_status::cannot_create, fmt::format("cannot make {}: {}", to, std::strerror(errno))};
  }
  const int folder = ::open(std::filesystem::path{to}.parent_path().c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (folder < 0) return;
  ::fsync(folder);
  ::close(folder);
}

/// A journal without its file would be played into the new file on its first opening.
void refuse_left_behind(const std::string& path) {
  for (const char* end : {"-journal", "-wal", "-shm"}) {
    if (!std::filesystem::exists(std::filesystem::symlink_status(path + end))) continue;
    throw Fault{exit_status::cannot_create,
                fmt::format("{}{} was left behind by another kitchen file: move it away first, or choose another name", path, end)};
  }
}

}  // namespace

Verification restore_sqlite(const std::string& path, const std::string& kitchen, const Append& whole) {
  refuse_left_behind(path);
  if (std::filesystem::exists(std::filesystem::symlink_status(path))) there_already(path);
  const auto to = std::filesystem::absolute(path).string();
  const auto aside = fmt::format("{}.{}.part", to, ::getpid());
  struct Unlink {
    std::string path;
    ~Unlink() { ::unlink(path.c_str()); }
  };
  auto store = create_sqlite(aside, kitchen);
  const Unlink afterwards{aside};
  if (!whole.entries.empty()) {
    const auto appended = store->append(store->head(), whole);
    if (!std::holds_alternative<Head>(appended)) bug("a new kitchen file was not empty");
  }
  auto found = store->verify(std::nullopt);
  store.reset();
  if (found.complaints.empty()) take_name(aside, to);
  return found;
}

std::unique_ptr<RecordStore> create_sqlite(const std::string& path, const std::string& kitchen) {
  if (kitchen.empty()) bug("a kitchen without a name");
  refuse_left_behind(path);
  // Exclusive, so that two doors never make the same file; readable by its owner only, since it holds personal data.
  const int file = ::open(path.c_str(), O_CREAT | O_EXCL | O_RDWR | O_CLOEXEC, S_IRUSR | S_IWUSR);
  if (file < 0) {
    const int error = errno;
    if (error == EEXIST) there_already(path);
    throw Fault{exit_status::cannot_create, fmt::format("cannot make {}: {}", path, std::strerror(error))};
  }
  ::close(file);
  const auto whole = std::filesystem::absolute(path).string();
  try {
    {
      const Database database{whole, Access::read_write};
      sqlite::make_schema(database, kitchen);
    }
    return std::make_unique<SqliteStore>(whole, Access::read_write);
  } catch (const Fault&) {
    ::unlink(whole.c_str());
    throw;
  }
}

}  // namespace tierproof
