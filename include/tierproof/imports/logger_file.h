#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "tierproof/imports/column_map.h"
#include "tierproof/units/result.h"
#include "tierproof/units/temperature.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// One row of a logger's file.
struct ImportedReading {
  int line = 0;                                ///< in the file, 1-based
  std::variant<ZonedInstant, LocalTime> when;  ///< a local time is resolved by the zone of the map or the kitchen: not known here
  std::optional<Degrees> degrees;              ///< nothing: the thermometer reported none
  std::string fault;                           ///< what stood there instead of a temperature, as written; may be empty
};

/// What a file held besides its readings.
struct FileSeen {
  TextEncoding encoding = TextEncoding::utf8;  ///< that it was read by
  bool marked = false;                         ///< it begins with a byte order mark
  int header_line = 0;                         ///< 0: it has no header
  std::vector<std::string> headings;
  std::int64_t rows_before = 0;  ///< rows above the header, a `sep=` line included
  std::int64_t rows_after = 0;   ///< rows below the readings that were not read
  int first_row_after = 0;       ///< line of the first of these
  std::int64_t readings = 0;
  std::int64_t faults = 0;   ///< of the readings
  std::int64_t rounded = 0;  ///< readings finer than a hundredth, each rounded to the nearest
};

/// Gives the next piece of a file, and an empty one at its end. A piece stays valid until the next is asked for.
using NextPiece = std::function<std::string_view()>;

/// Reads a delimited file piece by piece, so that its length never matters: one piece and one row are held at a time.
///
/// A fault (an empty cell, `---`, `NaN`, `Err` in any case, and the words and false numbers of the map) becomes a reading without a
/// temperature: never a number, never dropped. Times are ISO 8601 with `Z` or an offset, or local; in the date order of the map with
/// `/`, `.` or `-` between, and a 24-hour clock or one with am and pm; or Unix seconds. U+2212 is a minus; no-break and narrow
/// spaces are passed over.
/// Refuses, each with file, line and column, and all together (the first hundred, and how many more): bytes that are not of the
/// encoding, a heading that is missing or there twice, a `sep=` line that names another delimiter, a row with more or fewer cells than
/// the header, a line longer than a mebibyte, what is no time, what is neither a temperature nor a fault, a temperature outside
/// -100..500 °C, a unit that is not the map's, a file without a reading. A file whose last line is not ended by a line break is refused
/// as cut short: `12.4` cut to `1` cannot be told from a reading. Cut at the end of a line it reads as the shorter file.
/// Where the map lets the readings end at a row without a date, a row below that has a time is refused, and so is a full row that has
/// a temperature and something else than a date: a damaged row does not end the readings.
class ReadingStream {
 public:
  /// @param map   its `temperature` is the column that is read
  /// @param file  name of the file, for refusals
  ReadingStream(const ColumnMap& map, std::string_view file, NextPiece next);
  ~ReadingStream();
  ReadingStream(const ReadingStream&) = delete;
  ReadingStream& operator=(const ReadingStream&) = delete;

  /// The next reading in the order of the file; nothing at its end. Rows that are refused are passed over.
  std::optional<ImportedReading> next();
  /// Every refusal so far: if there is any at the end, nothing of the file counts.
  Refusals refusals() const;
  /// Whole once `next` gave nothing.
  const FileSeen& seen() const;
  /// Bytes of the file that are held at this moment.
  std::size_t held_bytes() const;

 private:
  class Reading;
  std::unique_ptr<Reading> reading_;
};

struct ImportedReadings {
  std::vector<ImportedReading> readings;  ///< in the order of the file: of a repeated hour, order decides
  FileSeen seen;
};

/// The same of a small file that is at hand as a whole.
Result<ImportedReadings> read_readings(std::string_view text, const ColumnMap& map, std::string_view file);

}  // namespace tierproof
