#include "tierproof/imports/logger_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "tierproof/text/csv.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr Temperature coldest = celsius(-100);  // beyond what a kitchen's thermometer can show
constexpr Temperature hottest = celsius(500);

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Without white space at either end, and without no-break spaces anywhere: `− 18,4` is one number.
std::string bare(std::string_view text) {
  std::string out{text};
  for (const std::string_view space : {"\u00a0", "\u202f", "\u2009"}) {
    for (auto at = out.find(space); at != std::string::npos; at = out.find(space)) out.erase(at, space.size());
  }
  return std::string{trimmed(out)};
}

/// `8:05`, `08:05:30`, `8:05 pm` as `08:05:30` of a 24-hour clock; whatever else it is comes back as it is.
std::string clock_24(std::string text) {
  text = ascii_lower(bare(text));
  const bool pm = text.size() > 2 && text.ends_with("pm");
  const bool am = text.size() > 2 && text.ends_with("am");
  if (am || pm) text = std::string{trimmed(text.substr(0, text.size() - 2))};
  const auto colon = text.find(':');
  if (colon != 1 && colon != 2) return text;
  if (!std::all_of(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(colon), is_digit)) return text;
  int hour = std::stoi(text.substr(0, colon));
  if (am || pm) {
    if (hour < 1 || hour > 12) return "";  // 13 pm is no time
    hour = hour % 12 + (pm ? 12 : 0);
  }
  return fmt::format("{:02}{}", hour, text.substr(colon));
}

/// `3/7/2026` in its order as `2026-07-03`; nothing if it is not three numbers with a four-digit year.
std::optional<std::string> iso_date(std::string_view text, DateOrder order) {
  std::array<std::string_view, 3> parts;
  const auto mark = text.find_first_of("/.-");
  if (mark == std::string_view::npos) return std::nullopt;
  const auto second = text.find(text[mark], mark + 1);
  if (second == std::string_view::npos) return std::nullopt;
  parts = {text.substr(0, mark), text.substr(mark + 1, second - mark - 1), text.substr(second + 1)};
  if (order == DateOrder::day_first) std::swap(parts[0], parts[2]);
  if (order == DateOrder::month_first) parts = {parts[2], parts[0], parts[1]};
  const auto digits = [](std::string_view part, std::size_t most) {
    return !part.empty() && part.size() <= most && std::all_of(part.begin(), part.end(), is_digit);
  };
  if (parts[0].size() != 4 || !digits(parts[0], 4) || !digits(parts[1], 2) || !digits(parts[2], 2)) return std::nullopt;
  return fmt::format("{}-{:0>2}-{:0>2}", parts[0], parts[1], parts[2]);
}

std::optional<std::variant<ZonedInstant, LocalTime>> read_time(std::string_view date, std::optional<std::string_view> clock,
                                                               DateOrder order) {
  date = trimmed(date);
  if (!clock) {
    if (order == DateOrder::year_first) {
      if (const auto zoned = parse_zoned(date)) return *zoned;
    }
    const auto gap = date.find_first_of(" T");
    if (gap == std::string_view::npos) return std::nullopt;
    clock = date.substr(gap + 1);
    date = date.substr(0, gap);
  }
  const auto day = iso_date(date, order);
  if (!day) return std::nullopt;
  const std::string text = *day + "T" + clock_24(std::string{*clock});
  if (const auto local = parse_local(text)) return *local;
  return std::nullopt;
}

/// Reads the rows of one file, collecting refusals.
class Reader {
 public:
  Reader(const ColumnMap& map, std::string_view file) : map_{map}, file_{file} {
    faults_ = {"", "---", "nan", "err"};
    for (const std::string& fault : map.faults) faults_.push_back(ascii_lower(bare(fault)));
  }

  Result<ImportedReadings> read(const std::vector<CsvRow>& rows) {
    if (rows.empty()) return Refusal{file_, 0, "", "there is nothing in it", "export the file again, with its header row"};
    header_ = rows.front().cells.size();
    const auto time = column(rows.front(), map_.time);
    const auto clock = map_.clock.empty() ? std::optional<std::size_t>{} : column(rows.front(), map_.clock);
    const auto temperature = column(rows.front(), map_.temperature);
    if (!refusals_.empty()) return std::move(refusals_);
    if (rows.size() == 1) return Refusal{file_, rows.front().line, "", "there is no reading below the header", "export the file again"};
    for (std::size_t i = 1; i < rows.size(); ++i) read_row(rows[i], *time, clock, *temperature);
    if (!refusals_.empty()) return std::move(refusals_);
    return std::move(out_);
  }

 private:
  void refuse(int line, std::string_view field, std::string message, std::string remedy) {
    refusals_.push_back({file_, line, std::string{field}, std::move(message), std::move(remedy)});
  }

  std::optional<std::size_t> column(const CsvRow& header, const std::string& heading) {
    std::optional<std::size_t> found;
    std::string there;
    for (std::size_t i = 0; i < header.cells.size(); ++i) {
      const std::string_view cell = trimmed(header.cells[i]);
      there += fmt::format("{}\"{}\"", i == 0 ? "" : ", ", cell);
      if (ascii_lower(cell) != ascii_lower(trimmed(heading))) continue;
      if (found) refuse(header.line, heading, "two columns have this heading", "rename one of them in the file");
      found = i;
    }
    if (!found)
      refuse(header.line, heading, fmt::format("no column is headed \"{}\"; there are {}", heading, there),
             "choose the column map of this logger");
    return found;
  }

  void read_row(const CsvRow& row, std::size_t time, std::optional<std::size_t> clock, std::size_t temperature) {
    if (row.cells.size() != header_) {
      refuse(row.line, "", fmt::format("{} cells where the header has {}", row.cells.size(), header_),
             "export the file again; it may be cut short or edited");
      return;
    }
    const auto when =
        read_time(row.cells[time], clock ? std::optional<std::string_view>{row.cells[*clock]} : std::nullopt, map_.date_order);
    if (!when) {
      refuse(row.line, map_.time,
             fmt::format("\"{}{}{}\" is not a time", row.cells[time], clock ? " " : "", clock ? row.cells[*clock] : ""),
             "write 2026-05-01T08:10:00Z, or set the date order in the column map");
    }
    const std::string text = bare(row.cells[temperature]);
    if (std::find(faults_.begin(), faults_.end(), ascii_lower(text)) != faults_.end()) {
      if (when) out_.readings.push_back({row.line, *when, std::nullopt, text});
      return;
    }
    const auto degrees = read_degrees(row.line, text);
    if (when && degrees.understood) out_.readings.push_back({row.line, *when, degrees.value, degrees.value ? "" : text});
  }

  struct Read {
    bool understood = false;
    std::optional<Degrees> value;  ///< nothing, though understood: a false number
  };

  Read read_degrees(int line, const std::string& text) {
    const auto not_one = [&](std::string_view why, std::string_view remedy) {
      refuse(line, map_.temperature, fmt::format("\"{}\" {}", text, why), std::string{remedy});
      return Read{};
    };
    auto end = text.find_first_not_of("+-0123456789.,");
    if (text.substr(0, 3) == "\u2212") end = text.find_first_not_of("0123456789.,", 3);
    std::string number = text.substr(0, end);
    std::string_view unit = end == std::string::npos ? std::string_view{} : trimmed(std::string_view{text}.substr(end));
    if (unit.substr(0, 2) == "\u00b0") unit = trimmed(unit.substr(2));
    if (!number.empty() && number[0] == '+') number.erase(0, 1);
    const char other = map_.decimal == '.' ? ',' : '.';
    if (number.find(other) != std::string::npos) {
      return not_one(
          fmt::format("has a {} where the column map says {}", other == ',' ? "comma" : "point", other == ',' ? "point" : "comma"),
          "set decimal in the column map");
    }
    std::replace(number.begin(), number.end(), ',', '.');
    const auto value = parse_decimal(number);
    if (!value) return not_one("is neither a temperature nor a fault", "correct the row, or add the word as a fault to the column map");
    std::optional<Scale> scale = map_.unit;
    if (!unit.empty()) {
      const std::string letter = ascii_lower(unit);
      if (letter != "c" && letter != "f") return not_one("has a unit that is not °C or °F", "write C or F");
      const Scale said = letter == "c" ? Scale::celsius : Scale::fahrenheit;
      if (scale && *scale != said) return not_one("is not in the unit of the column map", "set unit in the column map");
      scale = said;
    }
    if (!scale) return not_one("has no unit", "write C or F behind it, or set unit in the column map");
    if (std::find(map_.false_numbers.begin(), map_.false_numbers.end(), *value) != map_.false_numbers.end()) return {true, std::nullopt};
    return in_range(line, text, *value, *scale);
  }

  Read in_range(int line, const std::string& text, const Share& value, Scale scale) {
    const Share bound = Share{2000};  // well beyond either end in both scales, so the hundredths below fit
    std::optional<Degrees> degrees;
    if (value <= bound && value >= -bound) {
      const Share hundredths = value * 100;
      const Share size = abs(hundredths) + Share{1, 2};
      const auto whole = static_cast<std::int64_t>(boost::multiprecision::cpp_int{numerator(size) / denominator(size)});
      degrees = Degrees{hundredths < 0 ? -whole : whole, scale};
      if (degrees->temperature() >= coldest && degrees->temperature() <= hottest) {
        if (denominator(hundredths) != 1) ++out_.rounded;
        return {true, degrees};
      }
    }
    refuse(line, map_.temperature, fmt::format("\"{}\" is outside -100..500 °C, so it is no temperature of a kitchen", text),
           "correct the row, or add it as a false number to the column map");
    return {};
  }

  const ColumnMap& map_;
  std::string file_;
  std::vector<std::string> faults_;
  std::size_t header_ = 0;
  ImportedReadings out_;
  Refusals refusals_;
};

}  // namespace

Result<ImportedReadings> read_readings(std::string_view text, const ColumnMap& map, std::string_view file) {
  const auto rows = parse_csv(text, map.delimiter, file);
  if (!rows) return rows.error();
  if (!text.empty() && text.back() != '\n') {
    const int line = 1 + static_cast<int>(std::count(text.begin(), text.end(), '\n'));
    return Refusal{std::string{file}, line, "", "the last line is not ended, so the file may be cut short",
                   "export it again; if it is whole, end the last line with a line break"};
  }
  return Reader{map, file}.read(*rows);
}

}  // namespace tierproof
