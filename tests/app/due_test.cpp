// Due days by the clock of the kitchen's zone, across clock changes, and the calendar of what is due.
#include <date/tz.h>
#include <gtest/gtest.h>
#include <libical/ical.h>

#include <cctype>
#include <set>

#include "app/app_for_tests.h"
#include "tierproof/app/regular.h"

namespace tierproof {
namespace {

/// The local day of an instant, by the time zone database alone.
Date day_in(const char* zone, Instant at) {
  const auto local = date::floor<date::days>(date::locate_zone(zone)->to_local(date::sys_time<Span>{at.time_since_epoch()}));
  const date::year_month_day day{local};
  return Date{std::chrono::year{static_cast<int>(day.year())}, std::chrono::month{static_cast<unsigned>(day.month())},
              std::chrono::day{static_cast<unsigned>(day.day())}};
}

/// A kitchen in `zone` with one daily and one monthly sort from its first day on.
class ZonedKitchen {
 public:
  ZonedKitchen(const char* zone, Instant begun) : begun_{begun} {
    std::string name = (std::filesystem::temp_directory_path() / "tierproof-due-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    folder_ = name;
    NewKitchen kitchen;
    kitchen.kitchen.name = "Zoned Kitchen";
    kitchen.kitchen.address = {"Unit 0"};
    kitchen.kitchen.zone = zone;
    kitchen.kitchen.label_rules = "gb";
    kitchen.kitchen.temperature_rules = "gb-eng";
    kitchen.kitchen.retention_rules = "gb";
    kitchen.kitchen.demo = true;
    kitchen.kitchen.seed = "due";
    kitchen.owner_id = "ada";
    kitchen.owner_name = "Ada Sample";
    EXPECT_TRUE(begin_kitchen(entrance(begun), kitchen, rule_packs()).has_value());
    Session session = at(begun);
    EXPECT_TRUE(
        add_sorts(session, {{"daily.json", R"({"id": "daily", "name": "Daily", "due": {"every": "working day"}, "source": "choice"})"}})
            .has_value());
  }
  ~ZonedKitchen() { std::filesystem::remove_all(folder_); }
  ZonedKitchen(const ZonedKitchen&) = delete;
  ZonedKitchen& operator=(const ZonedKitchen&) = delete;
  Session at(Instant now) const { return Session{entrance(now), rule_packs(), open_sqlite(entrance(now).kitchen_file, false)}; }

 private:
  Entrance entrance(Instant now) const {
    Entrance one;
    one.kitchen_file = (folder_ / "kitchen.tierproof").string();
    one.now = now;
    one.person = "ada";
    one.device = "test";
    return one;
  }
  std::filesystem::path folder_;
  Instant begun_;
};

class ClockChanges : public testing::TestWithParam<std::pair<const char*, const char*>> {};

TEST_P(ClockChanges, NeitherSkipNorDoubleADueDay) {
  const auto [zone, noon_before] = GetParam();
  const Instant begun = parse_zoned(noon_before)->at;
  const ZonedKitchen kitchen{zone, begun};
  const Date first = day_in(zone, begun);
  std::optional<Date> before;
  std::set<std::string> due_today;
  // Each half hour of the three days around the change.
  for (Instant now = begun; now < begun + std::chrono::hours{72}; now += std::chrono::minutes{30}) {
    const Session session = kitchen.at(now);
    const Date today = day_in(zone, now);
    ASSERT_EQ(session.today(), today) << format_zoned(now, Offset{});
    ASSERT_TRUE(!before || today == *before || today == add_days(*before, 1)) << "no day is passed over, and none comes back";
    before = today;
    int days = 0;
    for (const auto& item : due_between(session, first, add_days(first, 10))) {
      const DueState expected = *item.day.due < today ? DueState::overdue : *item.day.due == today ? DueState::today : DueState::to_come;
      ASSERT_EQ(item.state, expected) << format_date(*item.day.due) << " at " << format_zoned(now, Offset{});
      if (item.state == DueState::today) due_today.insert(format_date(*item.day.due));
      ++days;
    }
    ASSERT_EQ(days, 11);
  }
  EXPECT_EQ(due_today.size(), 4u) << "each of the days had its turn";
}

// The last days of winter and of summer time in 2026, by the time zone database.
INSTANTIATE_TEST_SUITE_P(Zones, ClockChanges,
                         testing::Values(std::pair{"Europe/London", "2026-03-28T12:00Z"}, std::pair{"Europe/London", "2026-10-24T12:00Z"},
                                         std::pair{"America/Toronto", "2026-03-07T17:00Z"},
                                         std::pair{"America/Toronto", "2026-10-31T17:00Z"},
                                         std::pair{"Australia/Lord_Howe", "2026-04-04T01:00Z"},
                                         std::pair{"Australia/Lord_Howe", "2026-10-03T01:00Z"}),
                         [](const auto& one) {
                           std::string name = std::string{one.param.first} + std::string{one.param.second}.substr(5, 5);
                           std::erase_if(name, [](char c) { return !std::isalnum(static_cast<unsigned char>(c)); });
                           return name;
                         });

std::vector<icalcomponent*> events_of(icalcomponent* calendar) {
  std::vector<icalcomponent*> events;
  for (auto* event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT); event != nullptr;
       event = icalcomponent_get_next_component(calendar, ICAL_VEVENT_COMPONENT))
    events.push_back(event);
  return events;
}

TEST(DueCalendar, HoldsWhatIsDueAndNotDoneAndNamesNobody) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return take_over_sorts(s, load_regular_sorts(DataRoot{TIERPROOF_SOURCE_DIR}), {"all"}, {}); });
  kitchen.done([](Session& s) { return tell_day_off(s, {parse_date("2026-05-04"), {}, {}}); });
  const auto calendar_at = [&](const char* now, bool daily) {
    kitchen.at(now);
    return due_calendar(kitchen.open(true), 2, daily);
  };
  const std::string text = calendar_at("2026-05-01T09:00+01:00", false);
  EXPECT_EQ(text.find("Ada"), std::string::npos);
  icalcomponent* calendar = icalparser_parse_string(text.c_str());
  ASSERT_NE(calendar, nullptr);
  EXPECT_EQ(icalcomponent_count_errors(calendar), 0);
  EXPECT_NE(icalrestriction_check(calendar), 0);
  std::map<std::string, std::vector<std::string>> days;
  std::set<std::string> uids;
  for (auto* event : events_of(calendar)) {
    days[icalcomponent_get_summary(event)].push_back(icaltime_as_ical_string(icalcomponent_get_dtstart(event)));
    EXPECT_TRUE(uids.insert(icalcomponent_get_uid(event)).second);
  }
  icalcomponent_free(calendar);
  EXPECT_EQ(days["DEMO Pests"],
            (Strings{"20260505", "20260511", "20260518", "20260525", "20260601", "20260608", "20260615", "20260622", "20260629"}))
      << "the 4th is a day off";
  EXPECT_EQ(days["DEMO Insurance and registration"], (Strings{"20260501"}));
  EXPECT_EQ(days.count("DEMO Waste"), 0u) << "each working day, left out";
  EXPECT_NE(calendar_at("2026-05-01T09:00+01:00", true).find("SUMMARY:DEMO Waste"), std::string::npos);
  // Written again two days later, what is still to come goes by the same names.
  const std::string later = calendar_at("2026-05-03T09:00+01:00", false);
  std::size_t again = 0;
  for (const auto& uid : uids) again += later.find("UID:" + uid) != std::string::npos ? 1 : 0;
  EXPECT_GE(again, uids.size() - 6) << "but for what was due on 1 May";
  EXPECT_LT(again, uids.size());
}

}  // namespace
}  // namespace tierproof
