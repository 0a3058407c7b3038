#include "wall_clock.h"

#include <date/tz.h>
#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace tierproof {
namespace {

Span wall_span(const LocalTime& wall) { return Span{std::chrono::sys_days{wall.date}.time_since_epoch()} + wall.since_midnight; }

std::int64_t day_number(Span wall) { return std::chrono::floor<std::chrono::days>(wall).count(); }

}  // namespace

void RowOrder::add(const LocalTime& wall, bool twice) {
  const Span now = wall_span(wall);
  if (previous_) {
    const bool within = twice && previous_twice_;
    const auto note = [&](std::int64_t& changes, std::int64_t& last_day, bool& once) {
      ++changes;
      if (last_day == day_number(now)) once = false;
      last_day = day_number(now);
    };
    if (now > *previous_) {
      ++up_;
      if (within) note(rises_, last_rise_day_, rises_once_);
    } else if (now < *previous_) {
      ++down_;
      if (within) note(falls_, last_fall_day_, falls_once_);
    }
    if (now == *previous_) {
      same_within_ = same_within_ || within;
    } else {
      shortest_step_ = std::min(shortest_step_, now > *previous_ ? now - *previous_ : *previous_ - now);
    }
    if (within && only_twice_ && now <= *previous_) begins_with_both_ = true;
  }
  only_twice_ = only_twice_ && twice;
  previous_ = now;
  previous_twice_ = twice;
}

RowOrder::Runs RowOrder::runs() const {
  const bool forwards = down_ == falls_ && falls_once_;
  const bool backwards = up_ == rises_ && rises_once_;
  if (forwards == backwards) return Runs::not_told;
  if (same_within_ && shortest_step_ < std::chrono::hours{1}) return Runs::not_told;
  return forwards ? Runs::forwards : Runs::backwards;
}

struct WallClock::Zone {
  const date::time_zone* zone = nullptr;
  std::optional<date::sys_info> last;  ///< what held for the time asked for last: rows lie close together

  date::local_info info(Span wall) {
    if (last) {
      const Span margin = std::chrono::hours{26};  // wider than any offset and any change of it
      const date::sys_time<Span> as_if_utc{wall};
      if (as_if_utc - margin > last->begin && as_if_utc + margin < last->end) return {date::local_info::unique, *last, {}};
    }
    auto found = zone->get_info(date::local_time<Span>{wall});
    if (found.result == date::local_info::unique) last = found.first;
    return found;
  }
};

WallClock::WallClock(std::unique_ptr<Zone> zone) : zone_{std::move(zone)} {}
WallClock::~WallClock() = default;
WallClock::WallClock(WallClock&&) noexcept = default;
WallClock& WallClock::operator=(WallClock&&) noexcept = default;

Result<WallClock> WallClock::in_zone(const std::string& zone, const Refusal& where) {
  try {
    return WallClock{std::make_unique<Zone>(Zone{date::locate_zone(zone), {}})};
  } catch (const std::runtime_error&) {
    return Refusal{where.file, where.line, where.field, fmt::format("\"{}\" is not a time zone", zone),
                   "write one such as Europe/London, or install tzdata"};
  }
}

bool WallClock::twice(const LocalTime& wall) const { return zone_->info(wall_span(wall)).result == date::local_info::ambiguous; }

Result<Instant> WallClock::instant(const LocalTime& wall, std::optional<Instant> previous, const RowOrder& order, MissingHour missing,
                                   const Refusal& where) {
  const Span span = wall_span(wall);
  const auto info = zone_->info(span);
  const auto by = [&](const date::sys_info& side) { return Instant{span - std::chrono::duration_cast<Span>(side.offset)}; };
  const auto refuse = [&](const char* what, const char* remedy) {
    return Refusal{where.file, where.line, where.field,
                   fmt::format("{} {} {}", format_date(wall.date), format_clock(Instant{span}, Offset{}), what), remedy};
  };
  switch (info.result) {
    case date::local_info::unique:
      return by(info.first);
    case date::local_info::nonexistent:
      if (missing == MissingHour::refuse)
        return refuse("does not exist: the clocks went forward over it",
                      "set zone in the column map to the one that the logger's clock shows, or missing hour to shift");
      ++shifted_count_;
      return by(info.first);
    case date::local_info::ambiguous: {
      const Instant first = by(info.first);
      const Instant second = by(info.second);
      const auto runs = order.runs();
      std::optional<Instant> found;
      if (previous && runs == RowOrder::Runs::forwards) {
        found = first > *previous ? std::optional{first} : second > *previous ? std::optional{second} : std::nullopt;
      } else if (previous && runs == RowOrder::Runs::backwards) {
        found = second < *previous ? std::optional{second} : first < *previous ? std::optional{first} : std::nullopt;
      } else if (!previous && order.begins_with_both() && runs != RowOrder::Runs::not_told) {
        found = runs == RowOrder::Runs::forwards ? first : second;
      }
      if (!found)
        return refuse("came twice, as the clocks went back, and the order of the rows does not tell which it was",
                      "export the file again from before that hour and in order, or with offsets");
      ++twice_count_;
      if (!twice_first_) twice_first_ = wall.date;
      return *found;
    }
    default:
      throw Fault{exit_status::our_bug, "the time zone library gave an answer that it does not have"};
  }
}

}  // namespace tierproof
