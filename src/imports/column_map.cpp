#include "tierproof/imports/column_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <set>
#include <utility>

#include "tierproof/text/csv.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr int last_line = 1'000'000;  // further down than any header

template <class Value>
using Choices = std::vector<std::pair<std::string_view, Value>>;

std::optional<int> number_of(std::string_view text) {
  int number = 0;
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || stop != text.data() + text.size() || number < 1 || number > last_line) return std::nullopt;
  return number;
}

/// Collects the refusals of one map.
class Reader {
 public:
  explicit Reader(std::string_view file) : file_{file} {}

  void refuse(int line, std::string_view field, std::string message, std::string remedy) {
    refusals_.push_back({file_, line, std::string{field}, std::move(message), std::move(remedy)});
  }

  template <class Value>
  void choose(const CsvRow& row, Value& out, const Choices<Value>& choices, std::string_view besides = "") {
    std::string offered;
    for (const auto& [word, value] : choices) {
      if (row.cells[1] == word) {
        out = value;
        return;
      }
      offered += fmt::format("{}{}", offered.empty() ? "" : ", ", word);
    }
    refuse(row.line, row.cells[0], fmt::format("\"{}\" is not known", row.cells[1]), fmt::format("write one of: {}{}", offered, besides));
  }

  Refusals& refusals() { return refusals_; }

 private:
  std::string file_;
  Refusals refusals_;
};

void take_header(const CsvRow& row, ColumnMap& map, Reader& reader) {
  if (const auto line = number_of(row.cells[1])) {
    map.header = HeaderAt::line;
    map.header_line = *line;
    return;
  }
  reader.choose<HeaderAt>(row, map.header,
                          {{"first row", HeaderAt::first_row}, {"by headings", HeaderAt::by_headings}, {"none", HeaderAt::none}},
                          ", or the number of its line");
}

void take_thermometer(const CsvRow& row, ColumnMap& map, Reader& reader) {
  const std::string& value = row.cells[1];
  const auto equals = value.find('=');
  const std::string thermometer{trimmed(value.substr(0, equals))};
  const std::string column{equals == std::string::npos ? "" : trimmed(std::string_view{value}.substr(equals + 1))};
  if (thermometer.empty() || column.empty()) {
    reader.refuse(row.line, row.cells[0], fmt::format("\"{}\" does not say which column is whose", value),
                  "write the thermometer's short name, =, and its column");
  } else if (std::any_of(map.thermometers.begin(), map.thermometers.end(), [&](const auto& one) { return one.first == thermometer; })) {
    reader.refuse(row.line, row.cells[0], fmt::format("\"{}\" has a column already", thermometer), "leave one of them out");
  } else {
    map.thermometers.emplace_back(thermometer, column);
  }
}

void take_row(const CsvRow& row, ColumnMap& map, Reader& reader) {
  const std::string& key = row.cells[0];
  const std::string& value = row.cells[1];
  if (key == "encoding") {
    reader.choose<TextEncoding>(
        row, map.encoding, {{"UTF-8", TextEncoding::utf8}, {"UTF-16", TextEncoding::utf16}, {"Windows-1252", TextEncoding::windows_1252}});
  } else if (key == "delimiter") {
    reader.choose<char>(row, map.delimiter, {{"comma", ','}, {"semicolon", ';'}, {"tab", '\t'}, {"pipe", '|'}});
  } else if (key == "decimal") {
    reader.choose<char>(row, map.decimal, {{"point", '.'}, {"comma", ','}});
  } else if (key == "header") {
    take_header(row, map, reader);
  } else if (key == "readings end") {
    reader.choose<bool>(row, map.ends_without_date, {{"with the file", false}, {"at the first row without a date", true}});
  } else if (key == "time") {
    map.time = value;
  } else if (key == "clock") {
    map.clock = value;
  } else if (key == "time written") {
    reader.choose<bool>(row, map.unix_seconds, {{"date and clock", false}, {"Unix seconds", true}});
  } else if (key == "date order") {
    reader.choose<DateOrder>(
        row, map.date_order,
        {{"year first", DateOrder::year_first}, {"day first", DateOrder::day_first}, {"month first", DateOrder::month_first}});
  } else if (key == "year") {
    reader.choose<bool>(row, map.two_digit_years, {{"four digits", false}, {"two digits", true}});
  } else if (key == "zone") {
    map.zone = value;
  } else if (key == "missing hour") {
    reader.choose<MissingHour>(row, map.missing_hour, {{"refuse", MissingHour::refuse}, {"shift", MissingHour::shift}});
  } else if (key == "temperature") {
    map.temperature = value;
  } else if (key == "thermometer") {
    take_thermometer(row, map, reader);
  } else if (key == "unit") {
    reader.choose<std::optional<Scale>>(row, map.unit, {{"C", Scale::celsius}, {"F", Scale::fahrenheit}, {"in cell", std::nullopt}});
  } else if (key == "numbers in") {
    reader.choose<int>(row, map.counts_per_degree, {{"degrees", 1}, {"tenths", 10}, {"hundredths", 100}, {"thousandths", 1000}});
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
                  "write one of: encoding, delimiter, decimal, header, readings end, time, clock, time written, date order, year, zone, "
                  "missing hour, temperature, thermometer, unit, numbers in, fault, false number");
  }
}

/// What only shows once every row is read.
void check_whole(const ColumnMap& map, const std::set<std::string>& given, Reader& reader) {
  for (const char* key : {"time", "temperature", "unit"}) {
    if (key == std::string_view{"temperature"} && given.contains("thermometer")) continue;
    if (!given.contains(key))
      reader.refuse(0, key, fmt::format("\"{}\" is missing", key), fmt::format("add a row: {}, tab, its value", key));
  }
  if (map.delimiter == map.decimal) {
    reader.refuse(0, "decimal", "the decimal comma is the delimiter too", "write which delimiter the file has: semicolon, tab or pipe");
  }
  if (map.unix_seconds && !map.clock.empty()) {
    reader.refuse(0, "clock", "Unix seconds have no clock of their own", "leave one of the two rows out");
  }
  if (map.header != HeaderAt::none) return;
  const auto must_be_number = [&](const std::string& key, const std::string& column) {
    if (column.empty() || number_of(column)) return;
    reader.refuse(0, key, fmt::format("\"{}\" is no number of a column, and the file has no header", column),
                  "write the number of the column, from 1 on");
  };
  must_be_number("time", map.time);
  must_be_number("clock", map.clock);
  must_be_number("temperature", map.temperature);
  for (const auto& [thermometer, column] : map.thermometers) must_be_number("thermometer " + thermometer, column);
}

}  // namespace

Result<ColumnMap> read_column_map(std::string_view text, std::string_view file) {
  const auto rows = parse_csv(text, '\t', file);
  if (!rows) return rows.error();
  Reader reader{file};
  ColumnMap map;
  std::set<std::string> given;
  const std::set<std::string> repeatable{"fault", "false number", "thermometer"};
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
    } else if (!given.insert(row.cells[0]).second && !repeatable.contains(row.cells[0])) {
      reader.refuse(row.line, row.cells[0], fmt::format("\"{}\" is given twice", row.cells[0]), "leave one of them out");
    } else {
      take_row(row, map, reader);
    }
  }
  check_whole(map, given, reader);
  if (!reader.refusals().empty()) return std::move(reader.refusals());
  return map;
}

std::optional<std::string> column_of(const ColumnMap& map, std::string_view thermometer) {
  for (const auto& [name, column] : map.thermometers) {
    if (name == thermometer) return column;
  }
  return map.temperature.empty() ? std::nullopt : std::optional{map.temperature};
}

std::string_view name_of(TextEncoding encoding) {
  switch (encoding) {
    case TextEncoding::utf8:
      return "UTF-8";
    case TextEncoding::utf16:
      return "UTF-16";
    case TextEncoding::windows_1252:
      return "Windows-1252";
  }
  return "";
}

}  // namespace tierproof
