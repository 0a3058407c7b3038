#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "tierproof/papers/content.h"

namespace tierproof {

/// One reading in the table under a chart.
struct ChartRow {
  std::size_t reading = 0;  ///< its place in `Chart::readings`
  Instant at{};
  Offset offset;                           ///< of the clock at that time
  std::optional<Temperature> temperature;  ///< nothing: a thermometer fault
  std::optional<Minutes> shown;            ///< what the heat step had shown by then
};

/// What stood there, with the coldest and the warmest reading of that time.
struct ChartStayRow {
  ChartStay stay;
  Extremes extremes;
};

/// The numbers of a chart as a table.
struct ChartTable {
  std::vector<ChartRow> readings;  ///< in time order; all of them, or those that tell the most
  std::vector<ChartStayRow> stays;
};

/// So many readings are told under one chart of a record.
constexpr std::size_t chart_rows = 48;

/// The table under `chart`: every reading where they are at most `most`, else so many parts of the time that for each of them its first
/// and last reading, its coldest and warmest, its faults and the readings beside gaps and crossings of a limit (those that `decimate`
/// keeps of a column) are at most `most` together; and always the reading by which most of a heat step was shown.
/// The chart marks these readings, and the coldest and warmest of every stay, with a large dot, and no other.
/// @pre most >= 24
ChartTable chart_table(const Chart& chart, std::size_t most = chart_rows);

}  // namespace tierproof
