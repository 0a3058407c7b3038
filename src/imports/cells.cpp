#include "cells.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>

#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr Temperature coldest = celsius(-100);  // beyond what a kitchen's thermometer can show
constexpr Temperature hottest = celsius(500);

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool all_digits(std::string_view text) { return !text.empty() && std::all_of(text.begin(), text.end(), is_digit); }

/// Without white space at either end, and without no-break and narrow spaces anywhere: `− 18,4` is one number.
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
  if (!all_digits(std::string_view{text}.substr(0, colon))) return text;
  int hour = text[0] - '0';
  if (colon == 2) hour = hour * 10 + (text[1] - '0');
  if (am || pm) {
    if (hour < 1 || hour > 12) return "";  // 13 pm is no time
    hour = hour % 12 + (pm ? 12 : 0);
  }
  return fmt::format("{:02}{}", hour, text.substr(colon));
}

/// `3/7/2026` in its order as `2026-07-03`; nothing if it is not three numbers with a year of as many digits as the map says.
std::optional<std::string> iso_date(std::string_view text, const ColumnMap& map) {
  const auto mark = text.find_first_of("/.-");
  if (mark == std::string_view::npos) return std::nullopt;
  const auto second = text.find(text[mark], mark + 1);
  if (second == std::string_view::npos) return std::nullopt;
  std::array<std::string_view, 3> parts{text.substr(0, mark), text.substr(mark + 1, second - mark - 1), text.substr(second + 1)};
  if (map.date_order == DateOrder::day_first) std::swap(parts[0], parts[2]);
  if (map.date_order == DateOrder::month_first) parts = {parts[2], parts[0], parts[1]};
  if (!all_digits(parts[0]) || !all_digits(parts[1]) || !all_digits(parts[2])) return std::nullopt;
  if (parts[0].size() != (map.two_digit_years ? 2u : 4u) || parts[1].size() > 2 || parts[2].size() > 2) return std::nullopt;
  return fmt::format("{}{}-{:0>2}-{:0>2}", map.two_digit_years ? "20" : "", parts[0], parts[1], parts[2]);
}

std::optional<ZonedInstant> unix_time(std::string_view text) {
  std::int64_t seconds = 0;
  if (text.size() > 11 || !all_digits(text)) return std::nullopt;
  std::from_chars(text.data(), text.data() + text.size(), seconds);
  return ZonedInstant{Instant{std::chrono::seconds{seconds}}, Offset{}};
}

constexpr std::int64_t billionth = 1'000'000'000;  // of one: numbers are read in billionths, so that nothing is lost

/// A number in billionths: `-18.4`, `−18.4`, with at most 9 decimals. Nothing if it is no number.
struct Billionths {
  std::int64_t count = 0;
  bool too_large = false;  ///< more than 9 digits before the point, 15 at most
};
std::optional<Billionths> billionths_of(std::string_view text) {
  const bool minus = text.starts_with('-');
  const bool long_minus = text.starts_with("\u2212");
  text.remove_prefix(minus ? 1 : long_minus ? 3 : 0);
  const auto point = std::min(text.find('.'), text.size());
  const std::string_view whole = text.substr(0, point);
  const std::string_view rest = text.substr(std::min(point + 1, text.size()));
  if (!all_digits(whole) || whole.size() > 15 || rest.size() > 9) return std::nullopt;
  if (point < text.size() && !all_digits(rest)) return std::nullopt;
  Billionths number;
  number.too_large = whole.size() > 9;
  if (number.too_large) return number;
  for (const char c : whole) number.count = number.count * 10 + (c - '0');
  for (std::size_t i = 0; i < 9; ++i) number.count = number.count * 10 + (i < rest.size() ? rest[i] - '0' : 0);
  if (minus || long_minus) number.count = -number.count;
  return number;
}

}  // namespace

std::optional<std::variant<ZonedInstant, LocalTime>> read_time(std::string_view date, std::optional<std::string_view> clock,
                                                               const ColumnMap& map) {
  date = trimmed(date);
  if (map.unix_seconds) {
    const auto at = unix_time(date);
    return at ? std::optional<std::variant<ZonedInstant, LocalTime>>{*at} : std::nullopt;
  }
  if (!clock) {
    if (map.date_order == DateOrder::year_first && !map.two_digit_years) {
      if (const auto zoned = parse_zoned(date)) return *zoned;
    }
    const auto gap = date.find_first_of(" T");
    if (gap == std::string_view::npos) return std::nullopt;
    clock = date.substr(gap + 1);
    date = date.substr(0, gap);
  }
  const auto day = iso_date(date, map);
  if (!day) return std::nullopt;
  const std::string text = *day + "T" + clock_24(std::string{*clock});
  if (const auto local = parse_local(text)) return *local;
  return std::nullopt;
}

bool is_date(std::string_view text, const ColumnMap& map) {
  const auto day = iso_date(trimmed(text), map);
  return day && parse_date(*day);
}

TemperatureCells::TemperatureCells(const ColumnMap& map) : map_{map}, faults_{"", "---", "nan", "err"} {
  for (const std::string& fault : map.faults) faults_.push_back(ascii_lower(bare(fault)));
  for (const Share& number : map.false_numbers) {
    const Share count = number * billionth;
    if (denominator(count) == 1 && abs(count) < Share{billionth} * billionth)
      false_numbers_.push_back(static_cast<std::int64_t>(boost::multiprecision::cpp_int{numerator(count)}));
  }
}

std::optional<TemperatureCells::Read> TemperatureCells::read(int line, std::string_view cell, Complaints& complaints) const {
  const std::string text = bare(cell);
  if (std::find(faults_.begin(), faults_.end(), ascii_lower(text)) != faults_.end()) return Read{std::nullopt, text, false};
  const auto not_one = [&](std::string_view why, std::string_view remedy) -> std::optional<Read> {
    complaints.refuse(line, map_.temperature, fmt::format("\"{}\" {}", text, why), std::string{remedy});
    return std::nullopt;
  };
  auto end = text.find_first_not_of("+-0123456789.,");
  if (text.substr(0, 3) == "\u2212") end = text.find_first_not_of("0123456789.,", 3);
  std::string number = text.substr(0, end);
  std::string_view unit = end == std::string::npos ? std::string_view{} : trimmed(std::string_view{text}.substr(end));
  if (unit.substr(0, 2) == "\u00b0") unit = trimmed(unit.substr(2));
  if (number.size() > 1 && number[0] == '+' && number[1] != '-' && number[1] != '+') number.erase(0, 1);
  const char other = map_.decimal == '.' ? ',' : '.';
  if (number.find(other) != std::string::npos) {
    return not_one(fmt::format("has a {} where the column map says {}", other == ',' ? "comma" : "point", other == ',' ? "point" : "comma"),
                   "set decimal in the column map");
  }
  std::replace(number.begin(), number.end(), ',', '.');
  const auto value = billionths_of(number);
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
  if (!value->too_large && std::find(false_numbers_.begin(), false_numbers_.end(), value->count) != false_numbers_.end()) {
    return Read{std::nullopt, text, false};
  }
  if (map_.counts_per_degree != 1 && number.find('.') != std::string::npos) {
    return not_one("is not whole, and the column map says that the file counts parts of a degree", "set numbers in of the column map");
  }
  const auto bound = 2000 * map_.counts_per_degree * billionth;  // well beyond either end in both scales
  if (!value->too_large && value->count <= bound && value->count >= -bound) {
    const std::int64_t hundredth = billionth / 100 * map_.counts_per_degree;
    const std::int64_t size = value->count < 0 ? -value->count : value->count;
    const std::int64_t whole = (size + hundredth / 2) / hundredth;
    const Degrees degrees{value->count < 0 ? -whole : whole, *scale};
    if (degrees.temperature() >= coldest && degrees.temperature() <= hottest) return Read{degrees, "", size % hundredth != 0};
  }
  return not_one("is outside -100..500 °C, so it is no temperature of a kitchen",
                 "correct the row, or add it as a false number to the column map");
}

}  // namespace tierproof
