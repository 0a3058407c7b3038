#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "tierproof/units/time.h"

namespace tierproof {

/// An exact decimal number for an export: `{-1840, 2}` is −18.4.
struct ExactDecimal {
  std::int64_t digits = 0;
  int places = 0;  ///< 0..9
};

/// One cell: nothing, words, a whole number, a decimal number, a day, or a moment on the clock of its offset.
using DataCell = std::variant<std::monostate, std::string, std::int64_t, ExactDecimal, Date, ZonedInstant>;
using DataRow = std::vector<DataCell>;

/// A table on its way out: `write_csv` and `write_xlsx` write it, a door prints it.
struct DataTable {
  std::string name;                   ///< `packs`
  std::vector<std::string> headings;  ///< snake_case
  std::vector<DataRow> rows;          ///< as many cells each as there are headings
};

/// What the cell says, for people and for files: numbers with a point and no trailing zeros, `2026-05-01`,
/// `2026-05-01T08:10:00+01:00`; nothing is the empty text.
std::string text_of(const DataCell& cell);
/// A whole or decimal number.
bool is_number(const DataCell& cell);

}  // namespace tierproof
