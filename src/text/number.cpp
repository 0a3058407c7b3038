#include "tierproof/text/number.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdlib>

namespace tierproof {
namespace {

constexpr std::int64_t largest_stored = 9007199254740991;  // what a record can hold: 2^53 - 1
constexpr std::int64_t hottest_hundredths = 1'000'000;     // 10,000 degrees: beyond any thermometer, and no sum overflows

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Cuts the number off the front of `text` and leaves the unit, without the spaces between.
std::string_view cut_number(std::string_view& text) {
  std::size_t end = 0;
  if (text.substr(0, 3) == "\u2212") end = 3;
  if (end == 0 && !text.empty() && text[0] == '-') end = 1;
  while (end < text.size() && (is_digit(text[end]) || text[end] == '.' || text[end] == ',')) ++end;
  const auto number = text.substr(0, end);
  text = trimmed(text.substr(end));
  return number;
}

/// `share` as a whole number, or nothing if it is not one or its size is beyond `most`.
std::optional<std::int64_t> whole(const Share& share, std::int64_t most) {
  if (denominator(share) != 1) return std::nullopt;
  if (share > Share{most} || share < Share{-most}) return std::nullopt;
  return numerator(share).convert_to<std::int64_t>();
}

/// `1250000` over `1000000` as `1.25`: exact, at least `least` places.
std::string exact_decimal(std::uint64_t amount, std::uint64_t unit, std::size_t least) {
  std::string places;
  std::uint64_t rest = amount % unit;
  while (rest != 0 || places.size() < least) {
    rest *= 10;
    places += static_cast<char>('0' + rest / unit);
    rest %= unit;
  }
  return places.empty() ? fmt::format("{}", amount / unit) : fmt::format("{}.{}", amount / unit, places);
}

std::uint64_t size_of(std::int64_t n) { return n < 0 ? std::uint64_t{0} - static_cast<std::uint64_t>(n) : static_cast<std::uint64_t>(n); }

}  // namespace

std::optional<Share> parse_decimal(std::string_view text) {
  bool negative = false;
  if (!text.empty() && text[0] == '-') {
    negative = true;
    text.remove_prefix(1);
  } else if (text.substr(0, 3) == "\u2212") {
    negative = true;
    text.remove_prefix(3);
  }
  const auto mark = std::find_if_not(text.begin(), text.end(), is_digit);
  const auto before = text.substr(0, static_cast<std::size_t>(mark - text.begin()));
  if (before.empty() || before.size() > 15) return std::nullopt;
  std::string_view after;
  if (mark != text.end()) {
    if (*mark != '.' && *mark != ',') return std::nullopt;
    after = text.substr(before.size() + 1);
    if (after.empty() || after.size() > 9 || !std::all_of(after.begin(), after.end(), is_digit)) return std::nullopt;
    const bool could_group = *mark == ',' && after.size() == 3 && before.size() <= 3 && before[0] != '0';
    if (could_group) return std::nullopt;  // 1,500 is one and a half to one reader and fifteen hundred to another
  }
  boost::multiprecision::cpp_int digits = 0;
  boost::multiprecision::cpp_int scale = 1;
  for (const char c : before) digits = digits * 10 + (c - '0');
  for (const char c : after) {
    digits = digits * 10 + (c - '0');
    scale *= 10;
  }
  const Share share{digits, scale};
  return negative ? Share{-share} : share;
}

std::optional<double> parse_finite(std::string_view text) {
  double value = 0;
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || stop != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::optional<Mass> parse_mass(std::string_view text) {
  auto unit = trimmed(text);
  const auto number = parse_decimal(cut_number(unit));
  if (!number || *number < 0) return std::nullopt;
  const std::int64_t milligrams = unit == "mg" ? 1 : unit == "g" ? 1'000 : unit == "kg" ? 1'000'000 : 0;
  if (milligrams == 0) return std::nullopt;
  const auto amount = whole(Share{*number * milligrams}, largest_stored);
  return amount ? std::optional{Mass::milligrams(*amount)} : std::nullopt;
}

std::optional<Degrees> parse_degrees(std::string_view text) {
  auto unit = trimmed(text);
  const auto number = parse_decimal(cut_number(unit));
  if (!number) return std::nullopt;
  constexpr std::string_view degree = "°";
  if (unit.substr(0, degree.size()) == degree) unit = trimmed(unit.substr(degree.size()));
  const auto scale_name = ascii_lower(unit);
  if (scale_name != "c" && scale_name != "f") return std::nullopt;
  const auto scale = scale_name == "c" ? Scale::celsius : Scale::fahrenheit;
  const auto hundredths = whole(Share{*number * 100}, hottest_hundredths);
  const std::int64_t absolute_zero = scale == Scale::celsius ? -27315 : -45967;  // by definition of the two scales
  if (!hundredths || *hundredths < absolute_zero) return std::nullopt;
  return Degrees{*hundredths, scale};
}

std::optional<Share> parse_percent(std::string_view text) {
  auto unit = trimmed(text);
  const auto number = parse_decimal(cut_number(unit));
  if (!number || unit != "%" || *number < 0 || *number > 100) return std::nullopt;
  return Share{*number / 100};
}

std::string format_mass(Mass mass) {
  const auto size = size_of(mass.to_milligrams());
  const std::string sign = mass.to_milligrams() < 0 ? "-" : "";
  if (size < 1'000'000) return sign + exact_decimal(size, 1'000, 0) + " g";
  return sign + exact_decimal(size, 1'000'000, 0) + " kg";
}

std::string format_degrees(Degrees degrees) {
  return (degrees.hundredths < 0 ? "-" : "") + exact_decimal(size_of(degrees.hundredths), 100, 1) +
         (degrees.scale == Scale::celsius ? " °C" : " °F");
}

std::string ascii_lower(std::string_view text) {
  std::string out{text};
  std::transform(out.begin(), out.end(), out.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return out;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view white = " \t\r\n\f\v";
  const auto first = text.find_first_not_of(white);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(white) - first + 1);
}

}  // namespace tierproof
