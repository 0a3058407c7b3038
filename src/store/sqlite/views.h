#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "database.h"
#include "tierproof/kitchen/note.h"
#include "tierproof/kitchen/tubs.h"
#include "tierproof/log/hash.h"

namespace tierproof::sqlite {

/// Keeps the view tables up with the log, one note after the other, inside the caller's transaction. The entries are in the log already.
class ViewWriter {
 public:
  ViewWriter(const Database& database, std::string kitchen);
  void add(const Note& note);

 private:
  std::optional<Note> tip_before(const Note& note);
  std::optional<Note> last_said(const Note& tip);
  std::int64_t thing(const std::string& name);
  void name_things(const Note& note, bool in_force);
  const Tubs& tubs();
  void add_edges(const Note& tip);
  void remove_edges(const Note& tip);
  void redo_batches(Instant since);

  const Database& database_;
  std::string kitchen_;
  std::optional<Tubs> tubs_;  ///< nothing: to be read
  Statement find_;
  Statement find_within_;
  Statement leaf_;
  Statement remove_note_;
  Statement insert_note_;
  Statement find_thing_;
  Statement insert_thing_;
  Statement say_thing_;
  Statement insert_edge_;
  Statement remove_edges_;
};

/// The notes in force as the view holds them. @throws Fault 78 naming a row that cannot be read
std::vector<Note> read_notes(const Database& database, const std::string& kitchen);

/// One row of a view: what it is about, and a digest over its cells.
struct ViewRow {
  std::string about;  ///< `note 7`, `pack-3 in batch-4`
  Digest digest{};
  friend bool operator==(const ViewRow&, const ViewRow&) = default;
};
/// Which rows: those of the notes alone, or those of the graph too.
enum class Rows { notes, all };
/// Rows of the views in order, as they are stored; damaged cells are digested as they are.
std::vector<ViewRow> stored_rows(const Database& database, const std::string& kitchen, Rows rows);
/// Rows of the views in order, as `notes`, all of the log, make them.
std::vector<ViewRow> expected_rows(std::span<const Note> notes, Rows rows);
/// SHA-256 over the dump of all rows.
Digest digest_of(std::span<const ViewRow> rows);

}  // namespace tierproof::sqlite
