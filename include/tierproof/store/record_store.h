#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "tierproof/kitchen/note.h"
#include "tierproof/log/entry.h"
#include "tierproof/log/tree.h"

namespace tierproof {

/// Erasable text: personal data and free words. The entry holds `ref` and the HMAC under `key`; erasing deletes this row.
struct SealedText {
  std::string ref;
  Digest key{};
  std::string text;
};

/// Readings that one entry seals by their SHA-256.
struct SealedBlock {
  std::uint64_t sequence = 0;  ///< the entry that seals it
  std::string bytes;
};

/// The bytes of an issued paper, kept by their SHA-256.
struct KeptPaper {
  Digest digest{};
  std::string media_type;
  std::string bytes;
};

/// What an append deletes for good: sealed texts with their keys, and kept papers that tell some of them.
struct ToErase {
  std::vector<std::string> texts;  ///< by ref
  std::vector<Digest> papers;
  bool empty() const { return texts.empty() && papers.empty(); }
};

/// What one append books, all or nothing.
struct Append {
  std::vector<Entry> entries;  ///< sequences run on from the expected head
  std::vector<SealedBlock> blocks;
  std::vector<SealedText> sealed;
  std::vector<KeptPaper> papers;
  ToErase erase{};
};

/// The head moved since it was read: read again and retry.
struct Conflict {
  Head head;
};
/// An entry with this client key is already booked; nothing was written.
struct AlreadyBooked {
  std::uint64_t sequence = 0;
};
using Appended = std::variant<Head, Conflict, AlreadyBooked>;

/// A file beside the records that an entry names. The store knows its name alone: whoever reads files looks for it.
struct FileNamed {
  std::uint64_t sequence = 0;  ///< the entry
  std::string about;
  Digest digest{};
  std::int64_t bytes = 0;
  std::optional<std::uint64_t> erased_by;  ///< the erasure that took the file, where none was attached with the same content since
};
/// Every file that one of `entries`, which are in order, names, in order; one that was taken back since is named all the same.
std::vector<FileNamed> files_named(const std::vector<Entry>& entries);

/// What `verify` found.
struct Verification {
  Head head;                               ///< of the entries as they are now
  std::optional<std::uint64_t> first_bad;  ///< sequence of the first entry that does not hold
  std::vector<std::string> complaints;     ///< each names the entry, block, paper or view and what is wrong; empty is good
  std::vector<FileNamed> files;            ///< named by entries that can be read: what became of them is not looked at
};

/// The notes in force and the head they were read at, from one and the same moment.
struct NotesAtHead {
  Head head;
  std::vector<Note> notes;
};

/// A pack, batch or cake of the graph.
struct StoredThing {
  std::string name;     ///< `pack-3`
  std::string words;    ///< its ingredient, its recipe, or what a cake is called; empty once it was voided
  bool certain = true;  ///< false: something of it may have gone there, as from a topped-up tub
  friend bool operator==(const StoredThing&, const StoredThing&) = default;
};
/// Which way the graph is walked: to everything that a thing went into, or to everything that went into it.
enum class Reach { into, from };

/// The one narrow way to the records of one kitchen.
class RecordStore {
 public:
  virtual ~RecordStore() = default;

  virtual Head head() const = 0;
  /// The head when the log held `size` entries, or nothing if it never did.
  virtual std::optional<Head> head_at(std::uint64_t size) const = 0;
  /// Books `append` after `expected`, re-reading and re-hashing what it wrote before it commits. A client key that is already booked
  /// is answered before the heads are compared, so a retry needs no fresh head.
  /// @pre at least one entry; the entries are of this kitchen, their sequences run on from `expected`, and each would be read back by
  ///      `parse_entry` as it is. Each block stands under a new entry whose body names its SHA-256 as hexadecimal member `sha256`; each
  ///      paper under its own SHA-256, named so by a new entry; each sealed text is named by a new entry as `{"sealed": ref, "hmac": hex}`
  ///      in its body or its reason. What is erased is there, and new entries of the kind `erasure/1` tell of it, each of its own: how
  ///      many texts, and the SHA-256 of each paper. What breaks this is our bug: @throws Fault 70.
  /// @throws Fault if the disk or the database fails; nothing is then booked.
  virtual Appended append(const Head& expected, const Append& append) = 0;

  /// Entries `first`..`last`, both included, in order; fewer if the log is shorter.
  virtual std::vector<Entry> entries(std::uint64_t first, std::uint64_t last) const = 0;
  virtual std::optional<std::uint64_t> booked_under(std::string_view client_key) const = 0;
  virtual std::optional<std::string> block(std::uint64_t sequence) const = 0;
  virtual std::optional<std::string> sealed(std::string_view ref) const = 0;
  virtual std::optional<KeptPaper> paper(const Digest& digest) const = 0;

  /// The notes in force at the head, from the view (a cache of `in_force(entries)`).
  virtual std::vector<Note> notes() const = 0;
  /// The same together with the head; use it where another door may append between two readings.
  virtual NotesAtHead notes_at_head() const = 0;
  /// The things that `name` may mean: the pack, batch or cake of that name, or else each pack in force with that supplier's code. By name.
  virtual std::vector<StoredThing> things(std::string_view name) const = 0;
  /// Everything that the things called `names` went into, or that went into them, by the notes in force at the head; each once, themselves
  /// included, packs before batches before cakes, by number. A name that is no thing is passed over. Linear in the edges walked; the
  /// records are not read. All of it is from one and the same moment.
  virtual std::vector<StoredThing> reached(const std::vector<std::string>& names, Reach way) const = 0;

  /// Everything of the log, from one and the same moment: every entry, and the blocks, sealed texts and papers that are kept. Appended
  /// to an empty store it gives the same log.
  virtual Append whole() const = 0;
  /// Writes the file anew, so that no byte of what was deleted is left between what is there. Run it after an erasure.
  virtual void scrub() = 0;

  /// Drops the views and makes them again from the log.
  virtual void rebuild() = 0;
  /// Checks every leaf, head, block, sealed text, paper and view, and that `earlier`, if given, is a prefix of the log. A sealed text may
  /// be gone; a paper only when a later `erasure/1` names it, and then it must be.
  virtual Verification verify(const std::optional<Head>& earlier) const = 0;
};

/// A plain note of an entry, for the fold.
Note note_of(const Entry& entry);

/// Opens the kitchen file at `path`. @throws Fault 66 if it is not there, 78 if it is not a kitchen file or too new.
std::unique_ptr<RecordStore> open_sqlite(const std::string& path, bool read_only);
/// Makes a new kitchen file. @throws Fault 73 if `path` exists or cannot be made.
std::unique_ptr<RecordStore> create_sqlite(const std::string& path, const std::string& kitchen);
/// Makes a new kitchen file that holds `whole` from its first entry on, or no file at all: it is written under another name beside
/// `path`, checked by `verify`, and only then takes its own.
/// @return what `verify` found; if it complains, no file was made
/// @throws Fault as `create_sqlite` and `append` do
Verification restore_sqlite(const std::string& path, const std::string& kitchen, const Append& whole);

}  // namespace tierproof
