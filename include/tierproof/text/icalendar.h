#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tierproof/units/time.h"

namespace tierproof {

/// Something that falls on a whole day, as a calendar shows it.
struct CalendarDay {
  std::string uid;  ///< the same each time the same thing is written, so that a calendar moves it and does not show it twice
  Date day{};
  std::string summary;
  std::string description;  ///< may have several lines; empty: none
};

/// A calendar by RFC 5545 (iCalendar 2.0): an all-day VEVENT for each of `days`, in their order, that keeps nobody busy.
///
/// Lines end in CR LF, and are folded where they would have more than 75 octets, never within a character. Commas, semicolons and
/// backslashes are escaped, a line feed is written `\n`; any other control character becomes a space.
/// @param stamp  when it was written, DTSTAMP of every event
/// @pre          all texts are UTF-8
std::string write_icalendar(const std::vector<CalendarDay>& days, Instant stamp);

/// `text` as a content line with its end, folded.
std::string fold_line(std::string_view text);

}  // namespace tierproof
