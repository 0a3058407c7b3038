#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "database.h"
#include "tierproof/kitchen/note.h"
#include "tierproof/log/hash.h"

namespace tierproof::sqlite {

/// Keeps the two view tables up with the log, one note after the other, inside the caller's transaction.
class ViewWriter {
 public:
  ViewWriter(const Database& database, std::string kitchen);
  void add(const Note& note);

 private:
  void insert(const Note& note);

  std::string kitchen_;
  Statement find_;
  Statement find_within_;
  Statement remove_note_;
  Statement remove_edges_;
  Statement insert_note_;
  Statement insert_edge_;
};

/// The notes in force as the view holds them. @throws Fault 78 naming a row that cannot be read
std::vector<Note> read_notes(const Database& database, const std::string& kitchen);

/// One row of a view: what it is about, and a digest over its cells.
struct ViewRow {
  std::string about;  ///< `note 7`, `pack-3 in batch-4`
  Digest digest{};
  friend bool operator==(const ViewRow&, const ViewRow&) = default;
};
/// Rows of both views in order, as they are stored; damaged cells are digested as they are.
std::vector<ViewRow> stored_rows(const Database& database, const std::string& kitchen);
/// Rows of both views in order, as `notes` in force make them.
std::vector<ViewRow> expected_rows(std::span<const Note> notes);
/// SHA-256 over the dump of all rows.
Digest digest_of(std::span<const ViewRow> rows);

}  // namespace tierproof::sqlite
