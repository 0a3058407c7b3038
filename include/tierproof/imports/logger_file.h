#pragma once

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
  std::variant<ZonedInstant, LocalTime> when;  ///< a local time is resolved by the kitchen's zone, which this room does not know
  std::optional<Degrees> degrees;              ///< nothing: the thermometer reported none
  std::string fault;                           ///< what stood there instead of a temperature, as written; may be empty
};

struct ImportedReadings {
  std::vector<ImportedReading> readings;  ///< in the order of the file: of a repeated hour, order decides
  int rounded = 0;                        ///< rows with more than two decimals, each rounded to the nearest hundredth
};

/// Reads a delimited file with one header row.
///
/// A fault (an empty cell, `---`, `NaN`, `Err` in any case, and the words and false numbers of `map`) becomes a reading without
/// a temperature: never a number, never dropped. Times are ISO 8601 with `Z` or an offset, or local; in the date order of `map`
/// with `/`, `.` or `-` between, a four-digit year, and a 24-hour clock or one with am and pm.
/// Refuses, each with file, line and column, and all together: a heading that is missing or there twice, a row with more or fewer
/// cells than the header, what is no time, what is neither a temperature nor a fault, a temperature outside -100..500 °C, a unit
/// that is not the map's. If anything is refused nothing is imported. A file whose last line is not ended by a line break is
/// refused as cut short: `12.4` cut to `1` cannot be told from a reading. Cut at the end of a line it reads as the shorter file.
/// A file without a row of data is refused.
/// @param text  the whole file, UTF-8, with or without a byte order mark
/// @param file  its name, for refusals
Result<ImportedReadings> read_readings(std::string_view text, const ColumnMap& map, std::string_view file);

}  // namespace tierproof
