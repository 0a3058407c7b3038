#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tierproof/text/data_table.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// One row of a delimited file and the line it starts on.
struct CsvRow {
  int line = 0;
  std::vector<std::string> cells;
};

/// The rows of delimited text (RFC 4180 quoting, LF or CRLF, an optional byte order mark). Blank lines are passed over.
/// Cells come in Unicode form NFC, with the white space they have; a quote inside an unquoted cell is part of it.
/// Refuses a quote that is not closed, text after a closing quote, bytes that are not UTF-8 and U+0000, each with its line.
Result<std::vector<CsvRow>> parse_csv(std::string_view text, char delimiter, std::string_view file);

/// `table` as RFC 4180 writes it: a header row, commas, CRLF after every row, quotes doubled, UTF-8 without a byte order mark, days and
/// moments as ISO 8601. A cell of words that a spreadsheet would take for a formula is guarded (`guarded`); a number never is: −18.4
/// stays `-18.4`. A row of one empty cell is written `""`, since a blank line is no row.
std::string write_csv(const DataTable& table);

/// `text` with an apostrophe before it when it begins with `=`, `+`, `-`, `@`, a tab, a carriage return or a line feed, with or without
/// apostrophes before that: a spreadsheet program then shows it as words instead of working it out.
std::string guarded(std::string_view text);
/// What `guarded` was given: `unguarded(guarded(text)) == text`. Other text stays as it is.
std::string unguarded(std::string_view text);

}  // namespace tierproof
