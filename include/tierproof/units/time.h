#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace tierproof {

/// A moment in UTC, to the millisecond.
using Instant = std::chrono::sys_time<std::chrono::milliseconds>;
/// A length of elapsed time.
using Span = std::chrono::milliseconds;
/// A legal date: a day of the calendar, without a clock.
using Date = std::chrono::year_month_day;

/// A UTC offset in force at a place and time, in minutes east of UTC (-840..+840).
struct Offset {
  int minutes = 0;
  friend constexpr bool operator==(Offset, Offset) = default;
};

/// `2026-05-01`. Nothing if the text is not exactly that form or not a day of the calendar.
std::optional<Date> parse_date(std::string_view text);
std::string format_date(Date date);
/// `1 May 2026`, English month names, for papers.
std::string format_date_long(Date date);

/// An instant with its offset: `2026-05-01T08:10:00+01:00`, `...Z`, seconds optional, fraction of up to three digits optional.
struct ZonedInstant {
  Instant at;
  Offset offset;
};
std::optional<ZonedInstant> parse_zoned(std::string_view text);

/// A wall-clock time without an offset: `2026-05-01T08:10` or with a space; seconds optional.
struct LocalTime {
  Date date;
  Span since_midnight;
};
std::optional<LocalTime> parse_local(std::string_view text);

/// `2026-05-01T08:10:00+01:00` (milliseconds are shown only when they are not zero).
std::string format_zoned(Instant at, Offset offset);
/// `1 May 2026, 08:10`
std::string format_moment(Instant at, Offset offset);
/// `08:10`
std::string format_clock(Instant at, Offset offset);
/// The calendar day of `at` at `offset`.
Date day_of(Instant at, Offset offset);
/// `2 min 10 s`, `3 h 05 min`, `2 days 4 h`; never negative, whole seconds, rounded down.
std::string format_span(Span span);
/// `date` moved by `days` (may be negative).
Date add_days(Date date, int days);

}  // namespace tierproof
