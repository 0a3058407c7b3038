#pragma once

#include <string>
#include <vector>

#include "tierproof/text/data_table.h"

namespace tierproof {

/// What one XLSX file holds.
struct Workbook {
  std::vector<DataTable> sheets;  ///< names of 1 to 31 letters, digits and hyphens, all different
  std::string title;              ///< of the document's properties
  Instant made{};                 ///< its creation date: from the kitchen's clock, so that equal records give equal bytes
  bool demo = false;              ///< DEMO in the properties and above every printed page
};

/// The bytes of an Office Open XML workbook (ECMA-376): a sheet each with a bold header row that stays in sight, columns as wide as what
/// they hold, real numbers, and days and moments as dates of the spreadsheet (those before 1900 as text). A moment is written as its
/// wall clock shows it; the offset is told by its heading. Words are always text, never a formula. A sheet of more rows than a
/// workbook can hold goes on in `NAME 2`.
/// @throws Fault 73 if a cell is longer than a workbook can hold (32,767 characters), or there is no room to write
std::string write_xlsx(const Workbook& workbook);

}  // namespace tierproof
