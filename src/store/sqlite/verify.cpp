#include "verify.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "log_rows.h"
#include "schema.h"
#include "tierproof/kitchen/bodies.h"
#include "tierproof/store/named_bytes.h"
#include "views.h"

namespace tierproof::sqlite {
namespace {

/// An erasable text as the entries name it.
struct NamedSealed {
  std::uint64_t sequence = 0;  ///< the first entry that names it
  std::set<std::string> hmacs;
};

class Verifier {
 public:
  Verifier(const Database& database, std::string kitchen, const std::optional<Head>& earlier)
      : database_{database}, kitchen_{std::move(kitchen)}, earlier_{earlier}, earlier_views_{of_earlier_schema(database)} {}

  Verification verify() {
    const Transaction reading{database_, Transaction::Kind::read};
    look([&] { check_file(); });
    look([&] { check_entries(); });
    look([&] { check_blocks(); });
    look([&] { check_sealed(); });
    look([&] { check_papers(); });
    look([&] { check_named_bytes(); });
    look([&] { check_views(); });
    found_.head = content_.head();
    found_.files = files_named(about_files_);
    check_earlier();
    return std::move(found_);
  }

 private:
  template <class... Parts>
  void complain(fmt::format_string<Parts...> text, Parts&&... parts) {
    found_.complaints.push_back(fmt::format(text, std::forward<Parts>(parts)...));
  }
  template <class... Parts>
  void complain_of(std::uint64_t sequence, fmt::format_string<Parts...> text, Parts&&... parts) {
    if (!found_.first_bad || sequence < *found_.first_bad) found_.first_bad = sequence;
    found_.complaints.push_back(fmt::format("entry {}: ", sequence) + fmt::format(text, std::forward<Parts>(parts)...));
  }

  /// Damage that SQLite itself trips over is a complaint like any other; a disk or lock that fails us now is not an answer.
  template <class Check>
  void look(const Check& check) {
    try {
      check();
    } catch (const Fault& fault) {
      if (fault.exit_status() == exit_status::io || fault.exit_status() == exit_status::try_later) throw;
      complain("{}", fault.what());
    }
  }

  void check_file() {
    auto integrity = database_.prepare("PRAGMA integrity_check");
    while (integrity.step()) {
      if (integrity.bytes(0) != "ok") complain("the database file: {}", integrity.bytes(0));
    }
    auto keys = database_.prepare("PRAGMA foreign_key_check");
    while (keys.step()) complain("{}: row {} belongs to nothing in {}", keys.bytes(0), keys.bytes(1), keys.bytes(2));
    for (const char* table : {"kitchen", "entry", "block", "sealed", "paper", "view_note", "view_thing"}) {
      if (earlier_views_ && table == std::string_view{"view_thing"}) continue;
      look([&] {
        auto others = database_.prepare(fmt::format("SELECT count(*) FROM {} WHERE kitchen <> ?1", table));
        others.bind_text(1, kitchen_);
        if (others.step() && others.integer(0) > 0) complain("{}: {} rows are of another kitchen", table, others.integer(0));
      });
    }
  }

  void check_entries() {
    if (earlier_) note_earlier();
    auto rows =
        database_.prepare("SELECT seq, leaf, leaf_hash, client_key, head_root, frontier FROM entry WHERE kitchen = ?1 ORDER BY seq");
    rows.bind_text(1, kitchen_);
    std::uint64_t expected = 1;
    while (rows.step()) {
      const auto sequence = rows.sequence(0);
      if (sequence != expected) complain_of(expected, "is missing; the next one there is {}", sequence);
      expected = sequence + 1;
      check_entry(sequence, rows);
      content_.add(leaf_hash(rows.bytes(1)));
      if (earlier_) note_earlier();
    }
  }

  void check_entry(std::uint64_t sequence, const Statement& row) {
    const auto leaf = row.bytes(1);
    const auto hash = leaf_hash(leaf);
    const auto kept_hash = digest_from_bytes(row.bytes(2));
    if (kept_hash != hash) complain_of(sequence, "its text does not have the hash that was kept with it");
    check_head(sequence, kept_hash.value_or(hash), row);

    const auto entry = parse_entry(leaf);
    if (!entry) {
      complain_of(sequence, "its text cannot be read: {}", describe(entry.error().front()));
      return;
    }
    if (entry->sequence != sequence) complain_of(sequence, "its text says that it is entry {}", entry->sequence);
    if (entry->kitchen != kitchen_) complain_of(sequence, "its text is of the kitchen {}", entry->kitchen);
    if (entry->client_key != row.bytes(3)) complain_of(sequence, "its text has another client key than its row");
    if (const auto digest = store::named_digest(*entry)) {
      named_digests_.emplace(sequence, *digest);
      if (entry->kind == KindOf<PaperIssued>::kind) {
        issued_by_.insert(sequence);
        issued_last_.insert_or_assign(*digest, sequence);
      }
    }
    if (entry->kind == KindOf<Evidence>::kind || entry->kind == KindOf<Erasure>::kind) about_files_.push_back(*entry);
    for (const auto& digest : store::named_erased(*entry)) erased_papers_.insert_or_assign(digest, sequence);
    for (const auto& named : store::named_sealed(*entry)) {
      auto& known = named_sealed_.try_emplace(named.ref, NamedSealed{sequence, {}}).first->second;
      known.hmacs.insert(named.hmac);
    }
    notes_.push_back(note_of(*entry));
  }

  /// Adds the leaf to what was kept so far. After a head that does not hold the next is judged from what was kept with this one, so that
  /// one altered entry is one complaint and not a complaint about every entry behind it.
  void check_head(std::uint64_t sequence, const Digest& leaf, const Statement& row) {
    kept_.add(leaf);
    const auto root = digest_from_bytes(row.bytes(4));
    const auto frontier = frontier_from_bytes(sequence, row.bytes(5));
    const Head head{sequence, root.value_or(Digest{})};
    if (!root || kept_.head() != head) {
      complain_of(sequence, "the head kept with it is not that of entries 1 to {}", sequence);
    } else if (!frontier || frontier->peaks() != kept_.peaks()) {
      complain_of(sequence, "the subtree roots kept with it are not those of entries 1 to {}", sequence);
    }
    if (frontier) kept_ = *frontier;
  }

  void check_blocks() {
    auto rows = database_.prepare("SELECT seq, bytes FROM block WHERE kitchen = ?1 ORDER BY seq");
    rows.bind_text(1, kitchen_);
    while (rows.step()) {
      const auto sequence = rows.sequence(0);
      const auto named = named_digests_.find(sequence);
      if (named == named_digests_.end()) {
        complain("block {}: entry {} does not seal it", sequence, sequence);
        continue;
      }
      if (sha256(rows.bytes(1)) != named->second) {
        complain("block {}: its bytes are not those that entry {} sealed", sequence, sequence);
      }
      sealed_blocks_.insert(sequence);
    }
  }

  void check_sealed() {
    auto rows = database_.prepare("SELECT ref, key, text FROM sealed WHERE kitchen = ?1 ORDER BY ref");
    rows.bind_text(1, kitchen_);
    while (rows.step()) {
      const auto ref = rows.bytes(0);
      const auto named = named_sealed_.find(ref);
      if (named == named_sealed_.end()) {
        complain("sealed text {}: no entry names it", ref);
        continue;
      }
      const auto key = digest_from_bytes(rows.bytes(1));
      const auto hmac = key ? to_hex(hmac_sha256(*key, rows.bytes(2))) : std::string{};
      if (named->second.hmacs != std::set{hmac}) complain("sealed text {}: it is not what entry {} sealed", ref, named->second.sequence);
    }
  }

  void check_papers() {
    std::set<Digest> named;
    for (const auto& [sequence, digest] : named_digests_) named.insert(digest);
    auto rows = database_.prepare("SELECT digest, bytes FROM paper WHERE kitchen = ?1 ORDER BY digest");
    rows.bind_text(1, kitchen_);
    while (rows.step()) {
      const auto kept_under = rows.bytes(0);
      const auto name = to_hex({reinterpret_cast<const std::uint8_t*>(kept_under.data()), kept_under.size()});
      const auto digest = digest_from_bytes(kept_under);
      if (!digest || sha256(rows.bytes(1)) != *digest) complain("paper {}: its bytes do not have that SHA-256", name);
      if (!digest) continue;
      kept_papers_.insert(*digest);
      if (!named.contains(*digest)) complain("paper {}: no entry names it", name);
      if (erased_since_issued(*digest))
        complain("paper {}: entry {} erased it, and it is kept all the same", name, erased_papers_.at(*digest));
    }
  }

  /// Whether the last note about that paper is one that erased it.
  bool erased_since_issued(const Digest& digest) const {
    const auto erased = erased_papers_.find(digest);
    const auto issued = issued_last_.find(digest);
    return erased != erased_papers_.end() && issued != issued_last_.end() && erased->second > issued->second;
  }

  void check_named_bytes() {
    for (const auto& [sequence, digest] : named_digests_) {
      if (sealed_blocks_.contains(sequence) || kept_papers_.contains(digest)) continue;
      if (erased_since_issued(digest) && issued_by_.contains(sequence)) continue;
      complain("entry {} names bytes with the SHA-256 {}, and they are not kept", sequence, to_hex(digest));
    }
  }

  void check_views() {
    auto newest = database_.prepare("SELECT max(seq) FROM view_note WHERE kitchen = ?1");
    newest.bind_text(1, kitchen_);
    const auto size = content_.head().size;
    if (newest.step() && !newest.is_null(0) && newest.sequence(0) > size) {
      complain("the log was cut short: it ends at entry {}, but the view knows note {}", size, newest.sequence(0));
    }
    if (found_.first_bad) {
      complain("the views were not compared, since the log itself does not hold");
      return;
    }
    const auto rows = earlier_views_ ? Rows::notes : Rows::all;
    const auto expected = expected_rows(notes_, rows);
    const auto stored = stored_rows(database_, kitchen_, rows);
    if (digest_of(expected) == digest_of(stored)) return;
    if (const auto* row = first_only_in(stored, expected)) {
      complain("the view: \"{}\" is not what the log gives; run rebuild", row->about);
    } else if (const auto* missing = first_only_in(expected, stored)) {
      complain("the view: \"{}\" is missing; run rebuild", missing->about);
    } else {
      complain("the view: it does not dump as the log gives it; run rebuild");
    }
  }

  static const ViewRow* first_only_in(const std::vector<ViewRow>& rows, const std::vector<ViewRow>& others) {
    std::set<Digest> known;
    for (const auto& row : others) known.insert(row.digest);
    const auto found = std::find_if(rows.begin(), rows.end(), [&](const ViewRow& row) { return !known.contains(row.digest); });
    return found == rows.end() ? nullptr : &*found;
  }

  /// Keeps the head of the content when it has the size of the earlier one.
  void note_earlier() {
    if (content_.head().size == earlier_->size) at_earlier_ = content_.head();
  }

  void check_earlier() {
    if (!earlier_) return;
    if (!at_earlier_) {
      complain("the log was cut short: it holds {} entries, but the head {} was taken at {}", found_.head.size, format_head(*earlier_),
               earlier_->size);
    } else if (at_earlier_->root != earlier_->root) {
      complain("the log was rewritten: its first {} entries do not have the head {}", earlier_->size, format_head(*earlier_));
    }
  }

  const Database& database_;
  std::string kitchen_;
  const std::optional<Head>& earlier_;
  bool earlier_views_;  ///< of the views only the notes are those of this schema
  Verification found_;
  Frontier content_;  ///< of the entries' texts as they are
  Frontier kept_;     ///< of the hashes kept with them
  std::optional<Head> at_earlier_;
  std::vector<Note> notes_;
  std::vector<Entry> about_files_;  ///< that name files beside the records, or erased some
  std::map<std::uint64_t, Digest> named_digests_;
  std::map<std::string, NamedSealed> named_sealed_;
  std::set<std::uint64_t> sealed_blocks_;
  std::set<Digest> kept_papers_;
  std::set<std::uint64_t> issued_by_;              ///< entries that issued a paper
  std::map<Digest, std::uint64_t> issued_last_;    ///< paper → last entry that issued it
  std::map<Digest, std::uint64_t> erased_papers_;  ///< paper → last entry that erased it
};

}  // namespace

Verification verify_file(const Database& database, const std::string& kitchen, const std::optional<Head>& earlier) {
  return Verifier{database, kitchen, earlier}.verify();
}

}  // namespace tierproof::sqlite
