#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "complaints.h"
#include "tierproof/imports/column_map.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// The time in a cell, or in a cell for the date and one for the clock, as `map` says that it is written; nothing if it is no time.
std::optional<std::variant<ZonedInstant, LocalTime>> read_time(std::string_view date, std::optional<std::string_view> clock,
                                                               const ColumnMap& map);
/// Whether a cell holds a date alone, in the order of `map`.
bool is_date(std::string_view text, const ColumnMap& map);

/// Reads the cells with temperatures of one file.
class TemperatureCells {
 public:
  explicit TemperatureCells(const ColumnMap& map);

  struct Read {
    std::optional<Degrees> degrees;  ///< nothing: a fault
    std::string fault;               ///< as written
    bool rounded = false;
  };
  /// Nothing if the cell is refused, with the complaint made.
  std::optional<Read> read(int line, std::string_view cell, Complaints& complaints) const;

 private:
  const ColumnMap& map_;
  std::vector<std::string> faults_;
  std::vector<std::int64_t> false_numbers_;  ///< in billionths
};

}  // namespace tierproof
