#pragma once

#include <string>
#include <string_view>
#include <vector>

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

}  // namespace tierproof
