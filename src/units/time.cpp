#include "tierproof/units/time.h"

#include <fmt/format.h>

#include <array>
#include <charconv>

namespace tierproof {
namespace {

using std::chrono::days;
using std::chrono::floor;
using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;
using std::chrono::sys_days;

constexpr std::array<std::string_view, 12> month_names{"January", "February", "March",     "April",   "May",      "June",
                                                       "July",    "August",   "September", "October", "November", "December"};

/// Takes exactly `width` digits off the front of `text`.
std::optional<int> take_digits(std::string_view& text, std::size_t width) {
  if (text.size() < width) return std::nullopt;
  int value = 0;
  for (const char c : text.substr(0, width)) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  text.remove_prefix(width);
  return value;
}

bool take(std::string_view& text, char c) {
  if (text.empty() || text.front() != c) return false;
  text.remove_prefix(1);
  return true;
}

std::optional<Date> take_date(std::string_view& text) {
  const auto year = take_digits(text, 4);
  if (!year || !take(text, '-')) return std::nullopt;
  const auto month = take_digits(text, 2);
  if (!month || !take(text, '-')) return std::nullopt;
  const auto day = take_digits(text, 2);
  if (!day) return std::nullopt;
  const Date date{std::chrono::year{*year}, std::chrono::month{static_cast<unsigned>(*month)},
                  std::chrono::day{static_cast<unsigned>(*day)}};
  if (!date.ok()) return std::nullopt;
  return date;
}

/// `08:10`, `08:10:30`, `08:10:30.250`
std::optional<Span> take_clock(std::string_view& text) {
  const auto hour = take_digits(text, 2);
  if (!hour || *hour > 23 || !take(text, ':')) return std::nullopt;
  const auto minute = take_digits(text, 2);
  if (!minute || *minute > 59) return std::nullopt;
  Span clock = hours{*hour} + minutes{*minute};
  if (!take(text, ':')) return clock;
  const auto second = take_digits(text, 2);
  if (!second || *second > 59) return std::nullopt;
  clock += seconds{*second};
  if (!take(text, '.')) return clock;
  int scale = 100;
  int taken = 0;
  for (; taken < 3 && !text.empty() && text.front() >= '0' && text.front() <= '9'; ++taken, scale /= 10) {
    clock += milliseconds{(text.front() - '0') * scale};
    text.remove_prefix(1);
  }
  if (taken == 0) return std::nullopt;
  return clock;
}

std::optional<LocalTime> take_local(std::string_view& text) {
  const auto date = take_date(text);
  if (!date || !(take(text, 'T') || take(text, ' '))) return std::nullopt;
  const auto clock = take_clock(text);
  if (!clock) return std::nullopt;
  return LocalTime{*date, *clock};
}

struct Parts {
  Date date;
  int hour, minute, second, millisecond;
};

Parts parts_at(Instant at, Offset offset) {
  const auto local = at + minutes{offset.minutes};
  const auto day = floor<days>(local);
  const Span rest = local - day;
  const auto whole = static_cast<std::int64_t>(rest.count());
  return {Date{day}, static_cast<int>(whole / 3'600'000), static_cast<int>(whole / 60'000 % 60), static_cast<int>(whole / 1000 % 60),
          static_cast<int>(whole % 1000)};
}

}  // namespace

std::optional<Date> parse_date(std::string_view text) {
  const auto date = take_date(text);
  if (!date || !text.empty()) return std::nullopt;
  return date;
}

std::string format_date(Date date) {
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()));
}

std::string format_date_long(Date date) {
  return fmt::format("{} {} {}", static_cast<unsigned>(date.day()), month_names.at(static_cast<unsigned>(date.month()) - 1),
                     static_cast<int>(date.year()));
}

std::optional<ZonedInstant> parse_zoned(std::string_view text) {
  const auto local = take_local(text);
  if (!local) return std::nullopt;
  int offset = 0;
  if (!take(text, 'Z')) {
    const int sign = take(text, '-') ? -1 : take(text, '+') ? 1 : 0;
    if (sign == 0) return std::nullopt;
    const auto hour = take_digits(text, 2);
    if (!hour || *hour > 14 || !take(text, ':')) return std::nullopt;
    const auto minute = take_digits(text, 2);
    if (!minute || *minute > 59 || *hour * 60 + *minute > 840) return std::nullopt;
    offset = sign * (*hour * 60 + *minute);
  }
  if (!text.empty()) return std::nullopt;
  return ZonedInstant{sys_days{local->date} + local->since_midnight - minutes{offset}, Offset{offset}};
}

std::optional<LocalTime> parse_local(std::string_view text) {
  const auto local = take_local(text);
  if (!local || !text.empty()) return std::nullopt;
  return local;
}

std::string format_zoned(Instant at, Offset offset) {
  const Parts p = parts_at(at, offset);
  std::string text = fmt::format("{}T{:02}:{:02}:{:02}", format_date(p.date), p.hour, p.minute, p.second);
  if (p.millisecond != 0) text += fmt::format(".{:03}", p.millisecond);
  const int away = offset.minutes < 0 ? -offset.minutes : offset.minutes;
  return text + fmt::format("{}{:02}:{:02}", offset.minutes < 0 ? '-' : '+', away / 60, away % 60);
}

std::string format_moment(Instant at, Offset offset) {
  return fmt::format("{}, {}", format_date_long(day_of(at, offset)), format_clock(at, offset));
}

std::string format_clock(Instant at, Offset offset) {
  const Parts p = parts_at(at, offset);
  return fmt::format("{:02}:{:02}", p.hour, p.minute);
}

Date day_of(Instant at, Offset offset) { return parts_at(at, offset).date; }

std::string format_span(Span span) {
  const std::int64_t total = span.count() < 0 ? 0 : span.count() / 1000;
  if (total < 60) return fmt::format("{} s", total);
  if (total < 3600) return total % 60 == 0 ? fmt::format("{} min", total / 60) : fmt::format("{} min {:02} s", total / 60, total % 60);
  const std::int64_t in_minutes = total / 60;
  if (in_minutes < 24 * 60) {
    return in_minutes % 60 == 0 ? fmt::format("{} h", in_minutes / 60) : fmt::format("{} h {:02} min", in_minutes / 60, in_minutes % 60);
  }
  const std::int64_t day_count = in_minutes / 1440;
  const std::int64_t hour_count = in_minutes / 60 % 24;
  const std::string day_text = fmt::format("{} day{}", day_count, day_count == 1 ? "" : "s");
  return hour_count == 0 ? day_text : fmt::format("{} {} h", day_text, hour_count);
}

Date add_days(Date date, int count) { return Date{sys_days{date} + days{count}}; }

}  // namespace tierproof
