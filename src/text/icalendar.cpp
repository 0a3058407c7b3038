#include "tierproof/text/icalendar.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {
namespace {

constexpr std::size_t most_octets = 75;  // RFC 5545 3.1, the end of the line not counted

std::string basic_date(Date day) {
  std::string text = format_date(day);
  std::erase(text, '-');
  return text;
}

/// `20260501T071000Z`
std::string basic_utc(Instant at) {
  std::string text = format_zoned(std::chrono::floor<std::chrono::seconds>(at), Offset{}).substr(0, 19);
  std::erase(text, '-');
  std::erase(text, ':');
  return text + "Z";
}

/// TEXT of RFC 5545 3.3.11.
std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || c == ';' || c == ',') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else {
      out += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
    }
  }
  return out;
}

bool continues_a_character(char c) { return (static_cast<unsigned char>(c) & 0xc0) == 0x80; }

}  // namespace

std::string fold_line(std::string_view text) {
  std::string out;
  std::size_t room = most_octets;
  while (text.size() > room) {
    std::size_t cut = room;
    while (cut > 0 && continues_a_character(text[cut])) --cut;
    if (cut == 0) cut = room;  // no UTF-8: four octets are the longest character
    out += text.substr(0, cut);
    out += "\r\n ";
    text.remove_prefix(cut);
    room = most_octets - 1;  // the space counts
  }
  out += text;
  return out + "\r\n";
}

std::string write_icalendar(const std::vector<CalendarDay>& days, Instant stamp) {
  std::string out;
  const auto line = [&](const std::string& text) { out += fold_line(text); };
  line("BEGIN:VCALENDAR");
  line("VERSION:2.0");
  line("PRODID:-//tierproof//regular records//EN");
  line("CALSCALE:GREGORIAN");
  for (const auto& day : days) {
    line("BEGIN:VEVENT");
    line("UID:" + day.uid);
    line("DTSTAMP:" + basic_utc(stamp));
    line("DTSTART;VALUE=DATE:" + basic_date(day.day));
    line("DTEND;VALUE=DATE:" + basic_date(add_days(day.day, 1)));  // the first day that is not part of it any more
    line("SUMMARY:" + escaped(day.summary));
    if (!day.description.empty()) line("DESCRIPTION:" + escaped(day.description));
    line("TRANSP:TRANSPARENT");
    line("END:VEVENT");
  }
  line("END:VCALENDAR");
  return out;
}

}  // namespace tierproof
