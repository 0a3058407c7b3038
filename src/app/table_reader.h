#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/taking_in.h"

namespace tierproof {

/// One row of a table below its headings.
struct ReadRow {
  int line = 0;
  std::vector<std::string> cells;  ///< by the order of the form's columns; trimmed, without the guard against formulas
};

/// A table with its columns told apart.
struct ReadTable {
  std::vector<bool> there;  ///< by the order of the form's columns: whether the table has that column
  std::vector<ReadRow> rows;
  Refusals refusals;  ///< of single rows; the headings are in order
};

/// Reads `file` by the headings of `form`. Refused: what keeps it from being read at all (letters, separator, headings).
Result<ReadTable> read_table(const TableForm& form, const GivenDocument& file, char separator);

}  // namespace tierproof
