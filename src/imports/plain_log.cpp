#include "tierproof/imports/plain_log.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "rows.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr const char* begin_with = "begin it with the line time,temp_c";

class PlainLogReader {
 public:
  PlainLogReader(Complaints& complaints, const std::function<void(const Sample&)>& take) : complaints_{complaints}, take_{take} {}

  /// Whether this is the header; if it is not, reading on would say the same of every row.
  bool header(const CsvRow& row) {
    const auto cell = [&](std::size_t i) { return i < row.cells.size() ? trimmed(row.cells[i]) : std::string_view{}; };
    if (row.cells.size() == 2 && cell(0) == "time" && cell(1) == "temp_c") return true;
    std::string found;
    for (const auto& text : row.cells) found += (found.empty() ? "" : ",") + text;
    const bool without_unit = cell(0) == "time" && (cell(1) == "temp" || cell(1) == "temperature");
    const bool fahrenheit = cell(0) == "time" && cell(1) == "temp_f";
    complaints_.refuse(
        row.line, "",
        without_unit ? fmt::format("the header \"{}\" names no unit", found) : fmt::format("the header \"{}\" is not time,temp_c", found),
        fahrenheit     ? "turn the temperatures into °C, since 5/9 of (°F - 32) is what the sums take, and head them temp_c"
        : without_unit ? "write temp_c when the temperatures are in °C; turn other units into °C first"
                       : begin_with);
    return false;
  }

  void row(const CsvRow& row) {
    if (row.cells.size() != 2) {
      complaints_.refuse(row.line, "", fmt::format("has {} cells, not 2", row.cells.size()),
                         "write a time, a comma and a temperature with a decimal point");
      return;
    }
    const auto at = time(row.line, trimmed(row.cells[0]));
    const auto read = temperature(row.line, trimmed(row.cells[1]));
    if (!at || !in_order(row.line, *at) || !read) return;
    if (seen_.rows++ == 0) seen_.first = *at;
    seen_.last = *at;
    if (!read->has_value()) ++seen_.faults;
    take_({*at, *read});
  }

  const PlainLogSeen& seen() const { return seen_; }

 private:
  std::optional<LogTime> time(int line, std::string_view text) {
    constexpr double most = 1e8;  // minutes: two centuries
    const auto refuse = [&](std::string_view why, const char* remedy) {
      complaints_.refuse(line, "time", fmt::format("\"{}\" {}", text, why), remedy);
      return std::nullopt;
    };
    if (const auto minutes = parse_finite(text)) {
      if (std::abs(*minutes) > most) return refuse("is too large", "write minutes within 100000000 of 0, or instants");
      if (!of_one_kind(line, false)) return std::nullopt;
      return LogTime{std::llround(*minutes * 60e6)};
    }
    if (const auto zoned = parse_zoned(text)) {
      if (!of_one_kind(line, true)) return std::nullopt;
      if (!seen_.told) seen_.told = zoned->offset;
      return zoned->at.time_since_epoch();
    }
    if (parse_local(text)) return refuse("has no offset", "write it with its offset from UTC, such as 2026-05-01T08:10:00+01:00");
    return refuse("is no time", "write minutes as a number, such as 12.5, or an instant such as 2026-05-01T08:10:00+01:00");
  }

  bool of_one_kind(int line, bool instants) {
    if (!instants_) instants_ = instants;
    if (*instants_ == instants) return true;
    complaints_.refuse(
        line, "time",
        fmt::format("is {}, but the rows before have {}", instants ? "an instant" : "minutes", instants ? "minutes" : "instants"),
        "write all times the same way");
    return false;
  }

  bool in_order(int line, LogTime at) {
    if (!latest_ || at > *latest_) {
      latest_ = at;
      latest_line_ = line;
      return true;
    }
    if (at == *latest_) {
      complaints_.refuse(line, "time", fmt::format("is the same as in line {}", latest_line_),
                         "keep one row for each time; where two readings of one time differ, write fault there");
    } else {
      complaints_.refuse(line, "time", fmt::format("is before that of line {}", latest_line_), "put the rows in the order of their times");
    }
    return false;
  }

  /// The temperature, or nothing for a fault; no value at all where it is refused.
  std::optional<std::optional<FineCelsius>> temperature(int line, std::string_view text) {
    using Read = std::optional<FineCelsius>;
    if (text == "fault") return Read{};
    const auto degrees = parse_finite(text);
    if (!degrees) {
      complaints_.refuse(line, "temp_c", text.empty() ? "is missing" : fmt::format("\"{}\" is no temperature", text),
                         "write degrees Celsius as a number alone, such as 71.2; where the thermometer gave none, write fault");
      return std::nullopt;
    }
    if (*degrees < -273.15 || *degrees > 2000) {
      complaints_.refuse(line, "temp_c", fmt::format("{} °C cannot be", text), "write what the thermometer showed, from -273.15 to 2000");
      return std::nullopt;
    }
    return Read{fine_celsius(*degrees)};
  }

  Complaints& complaints_;
  const std::function<void(const Sample&)>& take_;
  PlainLogSeen seen_;
  std::optional<bool> instants_;
  std::optional<LogTime> latest_;
  int latest_line_ = 0;
};

/// The pieces of `next`, with a line break after the last line if it has none: scripts leave it out.
NextPiece with_last_line_ended(const NextPiece& next) {
  return [next, last = '\n']() mutable -> std::string_view {
    const std::string_view piece = next();
    if (!piece.empty()) {
      last = piece.back();
      return piece;
    }
    return std::exchange(last, '\n') == '\n' ? std::string_view{} : std::string_view{"\n"};
  };
}

}  // namespace

Result<PlainLogSeen> read_plain_log(const NextPiece& next, std::string_view file, const std::function<void(const Sample&)>& take) {
  Complaints complaints{file};
  RowReader rows{with_last_line_ended(next), TextEncoding::utf8, ',', complaints};
  PlainLogReader reader{complaints, take};
  CsvRow row;
  bool headed = false;
  for (auto got = rows.next(row); got != RowReader::Got::end; got = rows.next(row)) {
    if (got == RowReader::Got::refused) continue;
    if (headed) {
      reader.row(row);
    } else if (headed = reader.header(row); !headed) {
      return complaints.all();
    }
  }
  if (!complaints.any() && !headed) complaints.refuse(0, "", "is empty", fmt::format("{}, and write a row for each reading", begin_with));
  if (!complaints.any() && reader.seen().rows == 0) {
    complaints.refuse(0, "", "holds no reading", "write a row for each reading below the header");
  }
  if (complaints.any()) return complaints.all();
  return reader.seen();
}

}  // namespace tierproof
