#pragma once

#include <functional>
#include <string_view>

#include "tierproof/imports/logger_file.h"
#include "tierproof/units/sample.h"

namespace tierproof {

/// What a plain log held.
struct PlainLogSeen {
  std::int64_t rows = 0;
  std::int64_t faults = 0;     ///< of them
  LogTime first{};             ///< time of the first row
  LogTime last{};              ///< and of the last
  std::optional<Offset> told;  ///< of its first row, where the rows have instants; else they have minutes
};

/// Reads a log with the header `time,temp_c` row by row and gives each row to `take`, in order: it is never held. The time is minutes
/// as a number, kept to the microsecond (counted from minute 0), or an ISO 8601 instant with its offset (from 1970); the temperature a
/// number of degrees Celsius, kept to the billionth, or `fault` where the thermometer gave none.
/// Refuses, each with file, line and remedy, and all together (the first hundred, and how many more): a header that is another or names
/// no unit, a row without two cells, what is neither number nor instant, an instant without offset, minutes and instants in one file,
/// a time that is not later than the row before it, a temperature outside -273.15..2000 °C, NaN and infinity among what is no number,
/// a file without a row. After a refusal the rows that `take` was given count for nothing.
Result<PlainLogSeen> read_plain_log(const NextPiece& next, std::string_view file, const std::function<void(const Sample&)>& take);

}  // namespace tierproof
