#include "tierproof/imports/column_map.h"

#include <fmt/format.h>

#include <map>
#include <set>
#include <utility>

#include "tierproof/text/csv.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

template <class Value>
using Choices = std::vector<std::pair<std::string_view, Value>>;

/// Collects the refusals of one map.
class Reader {
 public:
  explicit Reader(std::string_view file) : file_{file} {}

  void refuse(int line, std::string_view field, std::string message, std::string remedy) {
    refusals_.push_back({file_, line, std::string{field}, std::move(message), std::move(remedy)});
  }

  template <class Value>
  void choose(const CsvRow& row, Value& out, const Choices<Value>& choices) {
    std::string offered;
    for (const auto& [word, value] : choices) {
      if (row.cells[1] == word) {
        out = value;
        return;
      }
      offered += fmt::format("{}{}", offered.empty() ? "" : ", ", word);
    }
    refuse(row.line, row.cells[0], fmt::format("\"{}\" is not known", row.cells[1]), "write one of: " + offered);
  }

  Refusals& refusals() { return refusals_; }

 private:
  std::string file_;
  Refusals refusals_;
};

void take_row(const CsvRow& row, ColumnMap& map, Reader& reader) {
  const std::string& key = row.cells[0];
  const std::string& value = row.cells[1];
  if (key == "delimiter") {
    reader.choose<char>(row, map.delimiter, {{"comma", ','}, {"semicolon", ';'}, {"tab", '\t'}, {"pipe", '|'}});
  } else if (key == "decimal") {
    reader.choose<char>(row, map.decimal, {{"point", '.'}, {"comma", ','}});
  } else if (key == "time") {
    map.time = value;
  } else if (key == "clock") {
    map.clock = value;
  } else if (key == "date order") {
    reader.choose<DateOrder>(
        row, map.date_order,
        {{"year first", DateOrder::year_first}, {"day first", DateOrder::day_first}, {"month first", DateOrder::month_first}});
  } else if (key == "temperature") {
    map.temperature = value;
  } else if (key == "unit") {
    reader.choose<std::optional<Scale>>(row, map.unit, {{"C", Scale::celsius}, {"F", Scale::fahrenheit}, {"in cell", std::nullopt}});
  } else if (key == "fault") {
    map.faults.push_back(value);
  } else if (key == "false number") {
    if (const auto number = parse_decimal(value)) {
      map.false_numbers.push_back(*number);
    } else {
      reader.refuse(row.line, key, fmt::format("\"{}\" is not a number", value), "write it with a decimal point, -127.0");
    }
  } else {
    reader.refuse(row.line, key, fmt::format("\"{}\" is not a key of a column map", key),
                  "write one of: delimiter, decimal, time, clock, date order, temperature, unit, fault, false number");
  }
}

}  // namespace

Result<ColumnMap> read_column_map(std::string_view text, std::string_view file) {
  const auto rows = parse_csv(text, '\t', file);
  if (!rows) return rows.error();
  Reader reader{file};
  ColumnMap map;
  std::set<std::string> given;
  bool heading = false;
  for (const CsvRow& row : *rows) {
    if (row.cells[0].substr(0, 1) == "#") continue;
    if (row.cells.size() != 2) {
      reader.refuse(row.line, "", fmt::format("{} cells where two belong", row.cells.size()), "write a key, one tab, and its value");
    } else if (!heading) {
      heading = true;
      if (row.cells[0] != "key" || row.cells[1] != "value")
        reader.refuse(row.line, "", "the heading is missing", "begin with key, tab, value");
    } else if (trimmed(row.cells[1]).empty()) {
      reader.refuse(row.line, row.cells[0], "the value is empty", "write the value, or leave the row out");
    } else if (row.cells[0] != "fault" && row.cells[0] != "false number" && !given.insert(row.cells[0]).second) {
      reader.refuse(row.line, row.cells[0], fmt::format("\"{}\" is given twice", row.cells[0]), "leave one of them out");
    } else {
      take_row(row, map, reader);
    }
  }
  for (const char* key : {"time", "temperature", "unit"}) {
    if (given.count(key) == 0)
      reader.refuse(0, key, fmt::format("\"{}\" is missing", key), fmt::format("add a row: {}, tab, its value", key));
  }
  if (map.delimiter == map.decimal) {
    reader.refuse(0, "decimal", "the decimal comma is the delimiter too", "write which delimiter the file has: semicolon, tab or pipe");
  }
  if (!reader.refusals().empty()) return std::move(reader.refusals());
  return map;
}

}  // namespace tierproof
