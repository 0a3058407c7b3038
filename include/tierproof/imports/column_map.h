#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/units/result.h"
#include "tierproof/units/share.h"
#include "tierproof/units/temperature.h"

namespace tierproof {

/// Which part of a date comes first where it is not written as ISO 8601. Day first against month first cannot be told from the
/// dates themselves up to the 12th of a month: the map states it, and nothing guesses.
enum class DateOrder { year_first, day_first, month_first };

/// How one sort of logger writes its file: a delimited text with one header row. Kept as `reference/probes/<format>.tsv`.
struct ColumnMap {
  char delimiter = ',';
  char decimal = '.';  ///< `.` or `,`: the other one is refused, never guessed at
  std::string time;    ///< heading of the column with the date and clock time, or the date alone
  std::string clock;   ///< heading of the column with the clock time, where it stands apart; else empty
  DateOrder date_order = DateOrder::year_first;
  std::string temperature;           ///< heading of the column with the temperature
  std::optional<Scale> unit;         ///< nothing: each cell carries its own, `3.4 °C`
  std::vector<std::string> faults;   ///< further words that mean *no temperature*, beside the empty cell, `---`, `NaN` and `Err`
  std::vector<Share> false_numbers;  ///< numbers that this thermometer writes when it has none, such as 85.0 and -127.0
};

/// Reads a column map: tab-separated, lines that begin with `#` are comments, then the heading `key`, `value` and one row each of
/// `delimiter` (comma, semicolon, tab, pipe), `decimal` (point, comma), `time`, `clock`, `date order` (year first, day first,
/// month first), `temperature`, `unit` (C, F, in cell), and any number of `fault` and `false number`.
/// `time`, `temperature` and `unit` must be there. Refuses, all together, what is missing, given twice or not known.
Result<ColumnMap> read_column_map(std::string_view text, std::string_view file);

}  // namespace tierproof
