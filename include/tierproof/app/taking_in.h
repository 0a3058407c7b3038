#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/app/recording.h"

namespace tierproof {

/// One column of a table that can be taken in.
struct TableColumn {
  std::string heading;
  bool needed = true;
  std::string holds;  ///< what to write below it
};
/// What a table must look like: a heading row with these columns in any order.
struct TableForm {
  std::string name;  ///< `suppliers`, `ingredients`, `recipes`
  std::vector<TableColumn> columns;
};
/// The form of the table called `name`, or nothing.
const TableForm* table_form(std::string_view name);

struct TakingIn {
  std::string table;  ///< name of its form
  GivenDocument file;
  char separator = ',';
  bool book = false;
};

/// What becomes of one thing that the table tells of.
enum class Fate { fresh, changed, same };
std::string_view word_of(Fate fate);  ///< `new`, `changed`, `same`

struct ChangedField {
  std::string column;
  std::string was;
  std::string is;
};
struct TakenRow {
  int line = 0;  ///< where it begins
  std::string subject;
  Fate fate = Fate::same;
  std::vector<ChangedField> changes;  ///< of something new, all that it says
};
struct TakenIn {
  std::vector<TakenRow> rows;    ///< in the order of the file
  std::optional<Booked> booked;  ///< nothing: not asked for, or nothing to book
};

/// Reads a table of suppliers, ingredients or recipes, and books what is new in it and what changed, all in one append, when
/// `asked.book`; else only tells it.
///
/// A changed supplier or ingredient supersedes its note, with the reason "taken in from FILE"; a changed recipe is a new version, since
/// batches that were made keep the recipe they were made by. What the table does not name stays as it is, and so does what a column
/// would say that the table leaves out. Recipes have a row for each item; what is said once for the whole recipe stands in its first
/// row and may be repeated or left blank below.
///
/// A byte order mark, CRLF, empty columns and rows at the end, headings in capitals and the columns that `KitchenList` adds (note,
/// happened_utc, ..., demo) are passed over, and the apostrophe before `=`, `+`, `-`, `@` goes (`unguarded`): a list that was saved as
/// CSV can be taken in again.
/// Refused, all faults of the file together, each with line and column: another separator, bytes that are not UTF-8, headings that are
/// missing, unknown or double, text beside the columns, and whatever the commands `supplier`, `ingredient` and `recipe` refuse; an egg
/// that no longer fits a recipe it is used in.
/// @throws HeadMoved, Fault as `Session::book`
Result<TakenIn> take_in(Session& session, const TakingIn& asked);

}  // namespace tierproof
