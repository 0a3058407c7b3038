#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tierproof/units/result.h"
#include "tierproof/units/share.h"
#include "tierproof/units/temperature.h"

namespace tierproof {

/// Which part of a date comes first where it is not written as ISO 8601. Day first against month first cannot be told from the
/// dates themselves up to the 12th of a month: the map states it, and nothing guesses.
enum class DateOrder { year_first, day_first, month_first };

/// How the bytes of a file are letters. A byte order mark in the file outweighs it.
enum class TextEncoding { utf8, utf16, windows_1252 };

/// Where the headings stand: in the first row, in the row on one line, in the first row that has them all, or nowhere.
enum class HeaderAt { first_row, line, by_headings, none };

/// What becomes of a time that the clocks went forward over.
enum class MissingHour { refuse, shift };

/// How one sort of logger writes its file: a delimited text. Shipped as `reference/probes/<format>.tsv`, or kept in the records.
/// Columns are named by their heading, or by their number from 1 on where there is no header.
struct ColumnMap {
  TextEncoding encoding = TextEncoding::utf8;
  char delimiter = ',';
  char decimal = '.';  ///< `.` or `,`: the other one is refused, never guessed at
  HeaderAt header = HeaderAt::first_row;
  int header_line = 0;             ///< with `HeaderAt::line`: the line of the file, from 1 on
  bool ends_without_date = false;  ///< the readings end at the first row without a date; else every row is a reading
  std::string time;                ///< column with the date and clock time, or the date alone
  std::string clock;               ///< column with the clock time, where it stands apart; else empty
  bool unix_seconds = false;       ///< the time is whole seconds since 1970-01-01T00:00Z
  DateOrder date_order = DateOrder::year_first;
  bool two_digit_years = false;  ///< 26 is 2026
  std::string zone;              ///< IANA name of the zone that the logger's clock shows; empty: the kitchen's
  MissingHour missing_hour = MissingHour::refuse;
  std::string temperature;                                        ///< column with the temperature; may be empty where `thermometers` is not
  std::vector<std::pair<std::string, std::string>> thermometers;  ///< thermometer of the kitchen → its column, where a file has several
  std::optional<Scale> unit;                                      ///< nothing: each cell carries its own, `3.4 °C`
  int counts_per_degree = 1;         ///< 10, 100 or 1000 where the numbers are whole tenths, hundredths or thousandths
  std::vector<std::string> faults;   ///< further words that mean *no temperature*, beside the empty cell, `---`, `NaN` and `Err`
  std::vector<Share> false_numbers;  ///< numbers, as the file writes them, that stand for none, such as 85.0 and -127.0
};

/// Reads a column map: tab-separated, lines that begin with `#` are comments, then the heading `key`, `value` and one row each of
///
///     encoding       UTF-8, UTF-16, Windows-1252
///     delimiter      comma, semicolon, tab, pipe
///     decimal        point, comma
///     header         first row, by headings, none, or the number of its line
///     readings end   with the file, at the first row without a date
///     time, clock    columns; `clock` only where the clock stands apart from the date
///     time written   date and clock, Unix seconds
///     date order     year first, day first, month first
///     year           four digits, two digits
///     zone           a zone's IANA name; without it the kitchen's
///     missing hour   refuse, shift
///     temperature    column
///     thermometer    NAME=COLUMN, any number of them
///     unit           C, F, in cell
///     numbers in     degrees, tenths, hundredths, thousandths
///     fault, false number   any number of them
///
/// `time`, `unit`, and `temperature` or a `thermometer` must be there. Refuses, all together, what is missing, given twice, not known
/// or at odds: a decimal comma that is the delimiter, a column without a number where there is no header.
Result<ColumnMap> read_column_map(std::string_view text, std::string_view file);

/// The column of `thermometer`: its own if the map names one, else `temperature`. Nothing if the map has neither.
std::optional<std::string> column_of(const ColumnMap& map, std::string_view thermometer);

/// `UTF-8`, `UTF-16`, `Windows-1252`, as a column map writes it.
std::string_view name_of(TextEncoding encoding);

}  // namespace tierproof
