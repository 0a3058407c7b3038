#include "tierproof/imports/logger_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <utility>

#include "cells.h"
#include "complaints.h"
#include "rows.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

std::string name_of_delimiter(char delimiter) {
  return delimiter == ',' ? "comma" : delimiter == ';' ? "semicolon" : delimiter == '\t' ? "tab" : "pipe";
}

}  // namespace

/// Reads the rows of one file: above the header, the readings, and below them.
class ReadingStream::Reading {
 public:
  Reading(const ColumnMap& map, std::string_view file, NextPiece next)
      : map_{map}, complaints_{file}, rows_{std::move(next), map.encoding, map.delimiter, complaints_}, cells_{map_} {
    if (map.header == HeaderAt::none) where_ = Where::first_reading;
  }

  std::optional<ImportedReading> next() {
    while (where_ != Where::done) {
      switch (rows_.next(row_)) {
        case RowReader::Got::end:
          finish();
          break;
        case RowReader::Got::refused:
          break;
        case RowReader::Got::row:
          if (auto reading = take(row_)) return reading;
          break;
      }
      if (where_ == Where::no_use) finish();
    }
    return std::nullopt;
  }

  const Complaints& complaints() const { return complaints_; }
  const FileSeen& seen() const { return seen_; }
  std::size_t held_bytes() const { return rows_.held_bytes(); }

 private:
  enum class Where { header, first_reading, readings, below, no_use, done };

  void finish() {
    seen_.encoding = rows_.decoder().encoding();
    seen_.marked = rows_.decoder().marked();
    if (!complaints_.any()) {
      if (rows_seen_ == 0) {
        complaints_.refuse(0, "", "there is nothing in it", "export the file again, with its header row");
      } else if (where_ == Where::header) {
        no_header();
      } else if (seen_.readings == 0) {
        complaints_.refuse(seen_.header_line, "",
                           seen_.header_line == 0 ? "there is no reading in it" : "there is no reading below the header",
                           "export the file again");
      }
    }
    where_ = Where::done;
  }

  void no_header() {
    if (map_.header == HeaderAt::line) {
      complaints_.refuse(map_.header_line, "", "no row begins on the line of the header", "set header in the column map");
    } else {
      complaints_.refuse(0, "", fmt::format("no row has all of the headings \"{}\"", fmt::join(wanted(), "\", \"")),
                         "choose the column map of this logger");
    }
  }

  std::vector<std::string> wanted() const {
    std::vector<std::string> wanted{map_.time};
    if (!map_.clock.empty()) wanted.push_back(map_.clock);
    wanted.push_back(map_.temperature);
    return wanted;
  }

  std::optional<ImportedReading> take(const CsvRow& row) {
    if (++rows_seen_ == 1 && ascii_lower(row.cells[0]).starts_with("sep=")) {
      says_delimiter(row);
      return std::nullopt;
    }
    switch (where_) {
      case Where::header:
        look_for_header(row);
        return std::nullopt;
      case Where::first_reading:
        width_ = row.cells.size();
        columns_by_number(row);
        if (where_ == Where::no_use) return std::nullopt;
        where_ = Where::readings;
        return take_reading(row);
      case Where::readings:
        return take_reading(row);
      case Where::below:
        below(row);
        return std::nullopt;
      case Where::no_use:
      case Where::done:
        break;
    }
    return std::nullopt;
  }

  /// A first line `sep=;` tells spreadsheet programs the delimiter: with the right one it is two cells.
  void says_delimiter(const CsvRow& row) {
    ++seen_.rows_before;
    const bool same = row.cells.size() == 2 && row.cells[0].size() == 4 && row.cells[1].empty();
    if (same) return;
    complaints_.refuse(row.line, "",
                       fmt::format("the first line says another delimiter than the column map, {}", name_of_delimiter(map_.delimiter)),
                       "set delimiter in the column map");
    where_ = Where::no_use;
  }

  void look_for_header(const CsvRow& row) {
    const bool here = map_.header == HeaderAt::first_row || (map_.header == HeaderAt::line && row.line == map_.header_line) ||
                      (map_.header == HeaderAt::by_headings && has_headings(row));
    if (here) return take_header(row);
    ++seen_.rows_before;
    if (map_.header == HeaderAt::line && row.line > map_.header_line) {
      no_header();
      where_ = Where::no_use;
    }
  }

  static bool same_heading(std::string_view cell, std::string_view heading) {
    return ascii_lower(trimmed(cell)) == ascii_lower(trimmed(heading));
  }
  bool has_headings(const CsvRow& row) const {
    const auto all = wanted();
    return std::all_of(all.begin(), all.end(), [&](const std::string& heading) {
      return std::any_of(row.cells.begin(), row.cells.end(), [&](const std::string& cell) { return same_heading(cell, heading); });
    });
  }

  void take_header(const CsvRow& row) {
    seen_.header_line = row.line;
    for (const std::string& cell : row.cells) seen_.headings.emplace_back(trimmed(cell));
    width_ = row.cells.size();
    const auto time = column(row, map_.time);
    const auto clock = map_.clock.empty() ? std::optional<std::size_t>{} : column(row, map_.clock);
    const auto temperature = column(row, map_.temperature);
    where_ = complaints_.any() ? Where::no_use : Where::readings;
    if (where_ == Where::no_use) return;
    time_ = *time;
    clock_ = clock;
    temperature_ = *temperature;
  }

  std::optional<std::size_t> column(const CsvRow& header, const std::string& heading) {
    std::optional<std::size_t> found;
    std::string there;
    for (std::size_t i = 0; i < header.cells.size(); ++i) {
      const std::string_view cell = trimmed(header.cells[i]);
      there += fmt::format("{}\"{}\"", i == 0 ? "" : ", ", cell);
      if (!same_heading(cell, heading)) continue;
      if (found) complaints_.refuse(header.line, heading, "two columns have this heading", "rename one of them in the file");
      found = i;
    }
    if (!found)
      complaints_.refuse(header.line, heading, fmt::format("no column is headed \"{}\"; there are {}", heading, there),
                         "choose the column map of this logger");
    return found;
  }

  void columns_by_number(const CsvRow& row) {
    const auto number = [&](const std::string& column) {
      std::size_t value = 0;
      std::from_chars(column.data(), column.data() + column.size(), value);
      if (value >= 1 && value <= row.cells.size()) return value - 1;
      complaints_.refuse(row.line, column, fmt::format("there is no column {}; there are {}", column, row.cells.size()),
                         "choose the column map of this logger");
      where_ = Where::no_use;
      return std::size_t{0};
    };
    time_ = number(map_.time);
    if (!map_.clock.empty()) clock_ = number(map_.clock);
    temperature_ = number(map_.temperature);
  }

  std::optional<std::variant<ZonedInstant, LocalTime>> time_of(const CsvRow& row) const {
    if (time_ >= row.cells.size() || (clock_ && *clock_ >= row.cells.size())) return std::nullopt;
    return read_time(row.cells[time_], clock_ ? std::optional<std::string_view>{row.cells[*clock_]} : std::nullopt, map_);
  }

  /// A row without a date, where the map lets the readings end at one. A date with anything else amiss is no such row, nor is a full
  /// row that has a temperature and something else than a date: that would be a damaged reading.
  bool ends_readings(const CsvRow& row) const {
    if (!map_.ends_without_date || time_of(row)) return false;
    if (time_ >= row.cells.size() || trimmed(row.cells[time_]).empty()) return true;
    if (clock_ && is_date(row.cells[time_], map_)) return false;
    if (row.cells.size() != width_) return true;
    Complaints unheard{""};
    const auto there = cells_.read(row.line, row.cells[temperature_], unheard);
    return !there || trimmed(row.cells[temperature_]).empty();
  }

  void below(const CsvRow& row) {
    ++seen_.rows_after;
    if (row.cells.size() != width_ || !time_of(row)) return;
    complaints_.refuse(row.line, map_.time, fmt::format("a reading stands below line {}, where the readings end", seen_.first_row_after),
                       "correct the row without a date, or set readings end in the column map");
  }

  std::optional<ImportedReading> take_reading(const CsvRow& row) {
    if (ends_readings(row)) {
      where_ = Where::below;
      seen_.rows_after = 1;
      seen_.first_row_after = row.line;
      return std::nullopt;
    }
    if (row.cells.size() != width_) {
      complaints_.refuse(
          row.line, "",
          fmt::format("{} cells where the {} has {}", row.cells.size(), seen_.header_line == 0 ? "first row" : "header", width_),
          "export the file again; it may be cut short or edited");
      return std::nullopt;
    }
    auto when = time_of(row);
    if (!when) {
      complaints_.refuse(row.line, map_.time,
                         fmt::format("\"{}{}{}\" is not a time", row.cells[time_], clock_ ? " " : "", clock_ ? row.cells[*clock_] : ""),
                         map_.unix_seconds ? "write whole seconds since 1970, or set time written in the column map"
                                           : "write 2026-05-01T08:10:00Z, or set the date order in the column map");
    }
    auto read = cells_.read(row.line, row.cells[temperature_], complaints_);
    if (!when || !read) return std::nullopt;
    ++seen_.readings;
    if (!read->degrees) ++seen_.faults;
    if (read->rounded) ++seen_.rounded;
    return ImportedReading{row.line, *when, read->degrees, std::move(read->fault)};
  }

  ColumnMap map_;
  Complaints complaints_;
  RowReader rows_;
  TemperatureCells cells_;
  CsvRow row_;
  FileSeen seen_;
  Where where_ = Where::header;
  std::int64_t rows_seen_ = 0;
  std::size_t width_ = 0;
  std::size_t time_ = 0;
  std::optional<std::size_t> clock_;
  std::size_t temperature_ = 0;
};

ReadingStream::ReadingStream(const ColumnMap& map, std::string_view file, NextPiece next)
    : reading_{std::make_unique<Reading>(map, file, std::move(next))} {}
ReadingStream::~ReadingStream() = default;
std::optional<ImportedReading> ReadingStream::next() { return reading_->next(); }
Refusals ReadingStream::refusals() const { return reading_->complaints().all(); }
const FileSeen& ReadingStream::seen() const { return reading_->seen(); }
std::size_t ReadingStream::held_bytes() const { return reading_->held_bytes(); }

Result<ImportedReadings> read_readings(std::string_view text, const ColumnMap& map, std::string_view file) {
  ReadingStream stream{map, file, [rest = text]() mutable { return std::exchange(rest, std::string_view{}); }};
  ImportedReadings all;
  while (auto reading = stream.next()) all.readings.push_back(std::move(*reading));
  if (auto refusals = stream.refusals(); !refusals.empty()) return refusals;
  all.seen = stream.seen();
  return all;
}

}  // namespace tierproof
