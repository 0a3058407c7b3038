#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "tierproof/kitchen/state.h"
#include "tierproof/papers/content.h"
#include "tierproof/rules/rule_pack.h"
#include "tierproof/store/record_store.h"
#include "tierproof/sums/name_hints.h"

namespace tierproof {

/// Where the program's own data lies: `reference/`, `reports/fonts/`, `reports/stocks/`.
struct DataRoot {
  std::string path;
};
/// Looks beside the program (`../share/tierproof`), then where it was built. @throws Fault 78 if neither holds the data.
DataRoot find_data();
/// Every rule pack, claim and plan file below `root`. @throws Fault 78 naming every bad row.
std::shared_ptr<const RulePacks> load_packs(const DataRoot& root);
/// What words in the names of foods tell, from `reference/names/` below `root`. @throws Fault 78 naming every bad line
NameHints load_name_hints(const DataRoot& root);
/// Those of `find_data`, read once a process.
std::shared_ptr<const RulePacks> rule_packs();
/// Those of `find_data`, read once a process.
const NameHints& name_hints();
/// The ready-made texts under `root`, name and text, sorted by name. @throws Fault 66, 78
std::vector<std::pair<std::string, std::string>> load_texts(const DataRoot& root);
/// The whole of a file. @throws Fault 66 if it cannot be read.
std::string load_file(const std::string& path);
/// Who may read a file that is saved: anyone on this machine, or its owner alone.
enum class Readers { anyone, owner };
/// Writes `bytes` beside `path` and renames it into place. @throws Fault 73
void save_file(const std::string& path, std::string_view bytes, Readers readers = Readers::anyone);

/// How one command or request comes in.
struct Entrance {
  std::string kitchen_file;
  std::optional<std::uint64_t> as_of;  ///< read what the records said when they held this many notes
  std::optional<Instant> now;          ///< set clock: only a demo kitchen accepts one
  std::string person;                  ///< id of who is recording; may be empty for reading
  std::string client_key;              ///< empty: a new one is drawn
  std::string device;                  ///< `command line`
  bool reads_only = false;             ///< an officer's view: books nothing
  std::string sensor_of{};             ///< a sensor comes in, and nobody: the thermometer whose readings it may book
  bool sent_late = false;              ///< typed without the records at hand and sent when they were there again: it is marked late
};

/// The head moved between reading and writing: read again and run the same action once more.
struct HeadMoved {};

/// Facts on their way into the log.
struct Draft {
  std::string kind;
  std::string subject;
  Json body;
  Instant happened{};
  Offset offset;
  Arrival how = Arrival::typed_then;
  std::optional<std::uint64_t> supersedes;
  Json why;
  std::string block;         ///< bytes that the entry seals, or empty
  std::string client_key{};  ///< of its own, so that it is booked once whoever asks; empty: that of the entrance
};

struct Booked {
  std::vector<std::uint64_t> sequences;
  std::vector<std::string> subjects;
  Head head;
  bool already = false;  ///< a retry: it was booked before
};

/// One opened kitchen at one head, with the rules: what every use case works on.
class Session {
 public:
  /// @throws Fault 66, 75, 78 of the store; 77 for a set clock outside a demo
  Session(Entrance entrance, std::shared_ptr<const RulePacks> packs, std::unique_ptr<RecordStore> store);

  const State& state() const { return state_; }
  const std::vector<Note>& notes() const { return notes_; }
  const RulePacks& packs() const { return *packs_; }
  const RecordStore& store() const { return *store_; }
  RecordStore& store() { return *store_; }
  const Head& head() const { return head_; }
  const Entrance& entrance() const { return entrance_; }
  const Kitchen& kitchen() const;  ///< @throws Fault 78 if the log does not begin with one

  /// The clock; of a session as of an earlier note, the moment that note was written.
  Instant now() const;
  Date today() const;
  Offset offset_at(Instant at) const;
  /// When the kitchen's clocks changed after `from` and up to `to`, in time order.
  std::vector<ClockChange> clock_changes(Instant from, Instant to) const;
  /// `when` as typed: with an offset, or in the kitchen's zone. Refused: not a time, in a clock change, more than 2 min ahead.
  Result<ZonedInstant> moment(std::string_view when, std::string_view field) const;
  /// The same of a time that may lie ahead, and has to be written.
  Result<ZonedInstant> time_of(std::string_view when, std::string_view field) const;

  /// A time of a clock on the wall. In the hour that happens twice when the clocks go back, the first that comes after `previous`
  /// is taken; without `previous` it is refused. Refused too: a time that the clocks went forward over.
  Result<ZonedInstant> wall_time(const LocalTime& local, std::optional<Instant> previous, const Refusal& where) const;

  /// The label rules `code` (empty: the kitchen's own) in force on a day, with what the kitchen confirmed of them.
  Result<LabelTerms> label_terms(Date on, const std::string& code = {}) const;

  /// Keeps `text` apart for erasing, in NFC; it is written with the next `book`. @throws Fault 64 if it is not UTF-8
  Words seal(const std::string& text);
  /// A draft that happened at `at`: marked late when it is typed more than `late_after` afterwards.
  template <class Thing>
  Draft draft(const Thing& thing, std::string subject, ZonedInstant at) const {
    return {std::string{KindOf<Thing>::kind}, std::move(subject), body_of(thing), at.at, at.offset, arrival_of(at.at), {}, nullptr, ""};
  }
  Arrival arrival_of(Instant happened) const;
  /// Next free subject of a kind: `pack-7`.
  template <class Thing>
  std::string next(std::string_view word, std::uint64_t ahead = 0) const {
    const auto begun = state_.begun.find(KindOf<Thing>::kind);
    return std::string{word} + "-" + std::to_string((begun == state_.begun.end() ? 0 : begun->second) + 1 + ahead);
  }
  /// Books drafts, sealed words and papers, all or nothing; what is erased goes with them (see `Append`). Reads the state again.
  /// @throws HeadMoved; NotPermitted by `permissions.h`, where nothing is booked; Fault
  Booked book(std::vector<Draft> drafts, std::vector<KeptPaper> papers = {}, ToErase erase = {});
  /// What was booked before under the client key of this entrance, if anything.
  std::optional<Booked> booked_before() const;
  void reload();
  /// Moves the set clock of a demo on, of a session that is kept open. @throws Fault 77 outside of a demo
  void set_clock(Instant now);
  /// Puts `state` in the place of what the records say, and gives back what stood there: to judge what would be (`change_effects.h`).
  State suppose(State state) {
    worked_out_.clear();
    label_terms_.clear();
    return std::exchange(state_, std::move(state));
  }

  /// What `make` works out of the records alone, by no clock: kept under `key` as long as they stand as they are, since several verdicts of
  /// one page ask for the same. It stands until something is booked, read again or supposed. Only one thread uses a session at a time.
  template <class Thing, class Make>
  const Thing& worked_out(const std::string& key, const Make& make) const {
    if (const auto found = worked_out_.find(key); found != worked_out_.end()) return *static_cast<const Thing*>(found->second.get());
    auto made = std::make_shared<const Thing>(make());
    return *static_cast<const Thing*>(worked_out_.insert_or_assign(key, std::move(made)).first->second.get());
  }

  /// Readings of a block in the order of time.
  std::vector<LoggedReading> readings(const Recorded<ReadingsBlock>& block) const;

  /// A note typed later than this after it happened is marked late (common practice, no source).
  static constexpr Span late_after = std::chrono::minutes{15};

 private:
  std::string draw(std::string_view purpose, std::size_t bytes);
  Entrance entrance_;
  std::shared_ptr<const RulePacks> packs_;
  std::unique_ptr<RecordStore> store_;
  Head head_;
  std::optional<Instant> as_of_moment_;
  std::vector<Note> notes_;
  State state_;
  mutable std::unordered_map<std::string, std::shared_ptr<const void>> worked_out_;
  struct TermsOfDay {
    std::string code;
    Date on;
    Result<LabelTerms> terms;
  };
  mutable std::vector<TermsOfDay> label_terms_;  ///< those last asked for, by the confirmations in the records
  std::vector<SealedText> sealed_;
  std::uint64_t drawn_ = 0;
};

/// The time zone that this machine is set to, `Europe/London`; empty where it does not say.
std::string machine_zone();

/// What a new kitchen is begun with.
struct NewKitchen {
  Kitchen kitchen;
  std::string owner_id;
  std::string owner_name;
};
/// Makes the file and books the kitchen and its owner. Refused: a zone or rules that do not exist, a claim word in the name.
/// @throws Fault 73
Result<Booked> begin_kitchen(const Entrance& entrance, const NewKitchen& begun, std::shared_ptr<const RulePacks> packs);

}  // namespace tierproof
