// What is written as a calendar, by the words of RFC 5545 and read back by libical.
#include "tierproof/text/icalendar.h"

#include <gtest/gtest.h>
#include <libical/ical.h>
#include <rapidcheck/gtest.h>

#include "tierproof/text/number.h"

namespace tierproof {
namespace {

const Instant stamp = parse_zoned("2026-05-01T08:10:30.5+01:00")->at;

/// The events that libical reads, and every complaint that it has.
std::vector<CalendarDay> read_back(const std::string& text) {
  std::vector<CalendarDay> days;
  icalcomponent* calendar = icalparser_parse_string(text.c_str());
  EXPECT_NE(calendar, nullptr) << text;
  if (calendar == nullptr) return days;
  EXPECT_EQ(icalcomponent_count_errors(calendar), 0) << text;
  EXPECT_NE(icalrestriction_check(calendar), 0) << "the properties that RFC 5545 asks for\n" << text;
  for (auto* event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT); event != nullptr;
       event = icalcomponent_get_next_component(calendar, ICAL_VEVENT_COMPONENT)) {
    const auto start = icalcomponent_get_dtstart(event);
    const auto end = icalcomponent_get_dtend(event);
    EXPECT_TRUE(start.is_date && end.is_date);
    const auto day_of_ical = [](const icaltimetype& at) {
      return Date{std::chrono::year{at.year}, std::chrono::month{static_cast<unsigned>(at.month)},
                  std::chrono::day{static_cast<unsigned>(at.day)}};
    };
    EXPECT_EQ(add_days(day_of_ical(start), 1), day_of_ical(end));
    const auto written = icalcomponent_get_dtstamp(event);
    EXPECT_TRUE(icaltime_is_utc(written));
    EXPECT_EQ(icaltime_as_timet(written), std::chrono::floor<std::chrono::seconds>(stamp).time_since_epoch().count());
    const char* description = icalcomponent_get_description(event);
    days.push_back({icalcomponent_get_uid(event), day_of_ical(start), icalcomponent_get_summary(event), description ? description : ""});
  }
  icalcomponent_free(calendar);
  return days;
}

bool same(const CalendarDay& a, const CalendarDay& b) {
  return a.uid == b.uid && a.day == b.day && a.summary == b.summary && a.description == b.description;
}

TEST(Icalendar, IsWrittenAsTheStandardSays) {
  EXPECT_EQ(
      write_icalendar({{"a-1", *parse_date("2026-12-31"), "Pests; mice, moths", "traps\\boxes\nlook"}}, stamp),
      "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//tierproof//regular records//EN\r\nCALSCALE:GREGORIAN\r\nBEGIN:VEVENT\r\nUID:a-1\r\n"
      "DTSTAMP:20260501T071030Z\r\nDTSTART;VALUE=DATE:20261231\r\nDTEND;VALUE=DATE:20270101\r\nSUMMARY:Pests\\; mice\\, moths\r\n"
      "DESCRIPTION:traps\\\\boxes\\nlook\r\nTRANSP:TRANSPARENT\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n");
}

TEST(Icalendar, FoldsAfterSeventyFiveOctetsAndNotWithinACharacter) {
  EXPECT_EQ(fold_line(std::string(75, 'a')), std::string(75, 'a') + "\r\n");
  EXPECT_EQ(fold_line(std::string(76, 'a')), std::string(75, 'a') + "\r\n a\r\n");
  EXPECT_EQ(fold_line(std::string(74, 'a') + "é"), std::string(74, 'a') + "\r\n é\r\n");
  EXPECT_EQ(fold_line(std::string(75 + 74, 'a') + "b"), std::string(75, 'a') + "\r\n " + std::string(74, 'a') + "\r\n b\r\n");
}

TEST(Icalendar, IsReadBackByLibical) {
  std::string lorem;
  for (int i = 0; i < 40; ++i) lorem += "größer, schöner; œuf ½ kühl\\ ";
  const std::vector<CalendarDay> days{{"uid-1", *parse_date("2028-02-29"), "Ice in the œuf box, twice; or not", lorem + "\nnext line"},
                                      {"uid-2", *parse_date("2026-03-29"), "On the day the clocks change", ""}};
  const auto back = read_back(write_icalendar(days, stamp));
  ASSERT_EQ(back.size(), 2u);
  for (std::size_t i = 0; i < 2; ++i) EXPECT_TRUE(same(days[i], back[i])) << back[i].summary << "\n" << back[i].description;
}

RC_GTEST_PROP(Icalendar, IsReadBackWhateverTheWordsAre, ()) {
  const auto words = [] {
    std::string text = "w";  // libical takes an empty value for no value
    for (int i = *rc::gen::inRange(0, 120); i > 0; --i)
      text += *rc::gen::element<std::string>("a", " ", ",", ";", "\\", ":", "é", "œ", "½", "🎂", "n", "\"");
    return text + "w";
  };
  const CalendarDay day{"uid", add_days(*parse_date("2026-01-01"), *rc::gen::inRange(0, 3000)), words(), words() + "\n" + words()};
  const std::string text = write_icalendar({day}, stamp);
  std::size_t begin = 0;
  for (std::size_t end; (end = text.find("\r\n", begin)) != std::string::npos; begin = end + 2) {
    RC_ASSERT(end - begin <= 75u);
    RC_ASSERT(to_nfc(text.substr(begin, end - begin)).has_value());  // each line is UTF-8 by itself
  }
  RC_ASSERT(begin == text.size());
  const auto back = read_back(text);
  RC_ASSERT(back.size() == 1u);
  RC_ASSERT(same(day, back[0]));
}

}  // namespace
}  // namespace tierproof
