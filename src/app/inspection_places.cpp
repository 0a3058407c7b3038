// Places that keep food cold, day by day, for an inspection record.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "charts.h"
#include "cold.h"
#include "inspection_tables.h"
#include "list_rows.h"
#include "regular_rules.h"
#include "series.h"
#include "tierproof/sums/stay.h"

namespace tierproof {
namespace {

/// What was read in one place on one day.
struct ReadOnDay {
  std::int64_t readings = 0;
  std::int64_t late = 0;
  std::int64_t faults = 0;
  std::optional<Temperature> coldest, warmest;
  std::vector<std::uint64_t> notes;
};

class DaysOfPlace {
 public:
  DaysOfPlace(const Session& session, const InspectedPeriod& period, const PlaceId& id) : session_{session}, period_{period}, id_{id} {
    for (const auto& block : session.state().readings) {
      if (block.value.about == id.text() && block.value.purpose == "chilled" && block.value.first < period.end &&
          block.value.last >= period.begin)
        add(block);
    }
    std::sort(read_at_.begin(), read_at_.end());
  }

  const ReadOnDay& on(Date day) const {
    static const ReadOnDay nothing;
    const auto found = days_.find(day);
    return found == days_.end() ? nothing : found->second;
  }

  /// When some thermometer read here, in time order.
  const std::vector<Instant>& read_at() const { return read_at_; }

 private:
  void add(const Recorded<ReadingsBlock>& block) {
    for (const auto& reading : session_.readings(block)) {
      if (!period_.holds(reading.at)) continue;
      ReadOnDay& day = days_[day_of(reading.at, session_.offset_at(reading.at))];
      if (day.notes.empty() || day.notes.back() != block.sequence) day.notes.push_back(block.sequence);
      if (!reading.degrees) {
        ++day.faults;
        continue;
      }
      ++day.readings;
      if (block.how == "typed_late") ++day.late;
      const Temperature read = reading.degrees->temperature();
      day.coldest = std::min(day.coldest.value_or(read), read);
      day.warmest = std::max(day.warmest.value_or(read), read);
      read_at_.push_back(reading.at);
    }
  }

  const Session& session_;
  const InspectedPeriod& period_;
  PlaceId id_;
  std::map<Date, ReadOnDay> days_;
  std::vector<Instant> read_at_;
};

DataCell celsius_cell(const std::optional<Temperature>& temperature) {
  if (!temperature) return {};
  return DataCell{ExactDecimal{static_cast<std::int64_t>(std::llround(temperature->to_celsius() * 100)), 2}};
}
std::int64_t seconds_of(Span span) { return std::chrono::duration_cast<std::chrono::seconds>(span).count(); }

Chart chart_of(const StayTold& told, const Series& series, const Session& session, const std::string& trust, Span longest_step) {
  Chart chart;
  chart.title = fmt::format("{}, {}", told.where, told.measured_food ? "in the food" : "air");
  chart.readings = around(series.readings, told.from, told.to);
  std::erase_if(chart.readings, [&](const Reading& reading) { return reading.at < told.from || reading.at > told.to; });
  chart.gaps = gaps_in(series.readings, told.from, told.to, longest_step);
  chart.limit = told.limit;
  chart.limit_words = told.limit ? fmt::format("limit {}", told.limit_words) : "";
  chart.from = told.from;
  chart.to = told.to;
  chart.offset = told.offset;
  chart.clock_changes = session.clock_changes(told.from, told.to);
  chart.note = fmt::format("{}, error ±{}; {}", series.name, in_celsius_words(Temperature{} + series.error), trust);
  return chart;
}

}  // namespace

Instant first_moment_of(const Session& session, Date day) {
  const auto midnight = session.wall_time({day, {}}, std::nullopt, {});
  if (midnight) return midnight->at;
  const Instant near{std::chrono::sys_days{day}};  // the clocks change at midnight
  return near - std::chrono::minutes{session.offset_at(near).minutes};
}

InspectedPlaces inspected_places(const Session& session, const InspectedPeriod& period, const TemperatureTerms& terms) {
  const State& state = session.state();
  const ClosingDays closing = closing_days_of(state);
  const Span longest_step = terms.longest_step("chilled hold");
  InspectedPlaces found;
  found.days = {"place-days",
                {"place", "name", "kind", "day", "worked", "readings", "typed_late", "faults", "recorded", "missing", "unreliable",
                 "missed_note", "lowest_c", "highest_c", "longest_unread_min", "unread_too_long", "above_limit", "notes"},
                {}};
  found.warm_times = {
      "warm-times",
      {"place", "thermometer", "measured_in", "from_local", "to_local", "limit_c", "highest_c", "at_least_s", "at_most_s", "open"},
      {}};
  for (const auto& [id, place] : state.places) {
    if (!is_chilled(place.value)) continue;
    const DaysOfPlace days{session, period, id};
    InspectedPlace told{id, place.value.name, {}, {}};
    std::vector<std::pair<WarmTime, bool>> warm;  // and whether it surely was
    std::vector<Series> watching;
    for (const auto& series : series_of(session, id.text(), "chilled")) {
      const auto inside = around(series.readings, period.begin, period.end);
      const auto reads = [&](const Reading& reading) { return period.holds(reading.at); };
      if (std::none_of(inside.begin(), inside.end(), reads)) continue;
      ChilledStay asked;
      asked.subject = id.text();
      asked.where = place.value.name;
      asked.from = period.begin;
      asked.to = period.end;
      asked.measured_food = series.measures_food;
      asked.offset = session.offset_at(period.begin);
      const Trust trust =
          trust_of(session, series, std::max(period.begin, inside.front().at), std::min(period.end, inside.back().at), terms, asked.offset);
      StayTold stay = stay_told(asked, series.readings, series.error, trust.good, terms);
      stay.thermometer = series.name;
      if (place.value.kind == "freezer") {  // the limits are of chilled food
        stay.limit.reset();
        stay.warm.clear();
      }
      for (const WarmTime& time : stay.warm) {
        warm.emplace_back(time, surely_above(time, *stay.limit, stay.error));
        std::optional<std::int64_t> at_most;
        if (time.most) at_most = seconds_of(*time.most);
        found.warm_times.rows.push_back(cells(id, series.name, stay.measured_food ? "food" : "air",
                                              ZonedInstant{time.from, session.offset_at(time.from)},
                                              ZonedInstant{time.to, session.offset_at(time.to)}, celsius_cell(stay.limit),
                                              celsius_cell(time.peak), seconds_of(time.least), at_most, !time.most.has_value()));
      }
      told.charts.push_back(chart_of(stay, series, session, trust.words, longest_step));
      told.watched.push_back(std::move(stay));
      watching.push_back(series);
    }
    const bool limited = std::any_of(told.watched.begin(), told.watched.end(), [](const StayTold& stay) { return stay.limit.has_value(); });
    // A thermometer that cannot be relied on that day tells of no day that it was cold.
    const auto relied_on = [&](Instant begin, Instant end) {
      return std::any_of(watching.begin(), watching.end(), [&](const Series& series) {
        std::optional<Instant> first, last;
        for (const Reading& reading : around(series.readings, begin, end)) {
          if (!reading.temperature || reading.at < begin || reading.at >= end) continue;
          first = first.value_or(reading.at);
          last = reading.at;
        }
        return first && trust_of(session, series, *first, *last, terms, session.offset_at(*first)).good;
      });
    };
    for (Date day = std::max(period.from, day_of(place.happened, place.offset)); day <= period.until; day = add_days(day, 1)) {
      const Instant begin = std::max(first_moment_of(session, day), period.begin);
      const Instant end = std::min(first_moment_of(session, add_days(day, 1)), period.end);
      const ReadOnDay& read = days.on(day);
      const bool worked = !closing.closed(day);
      const bool reliable = relied_on(begin, end);
      const Span unread = longest_unread(days.read_at(), begin, std::max(begin, end));
      std::string above = limited ? (reliable ? "no" : "not known") : read.readings == 0 ? "not known" : "";
      for (const auto& [time, surely] : warm) {
        if (time.to < begin || time.from >= end || above == "yes") continue;
        above = surely ? "yes" : "perhaps";
      }
      std::optional<std::uint64_t> missed;
      for (const auto& one : state.missed) {
        if (one.value.of.empty() && one.value.about == id.text() && one.value.day == day) missed = one.sequence;
      }
      found.days.rows.push_back(cells(id, place.value.name, place.value.kind, day, worked, read.readings, read.late, read.faults,
                                      worked && read.readings > 0, worked && read.readings == 0, read.readings > 0 && !reliable, missed,
                                      celsius_cell(read.coldest), celsius_cell(read.warmest),
                                      std::chrono::duration_cast<std::chrono::minutes>(unread).count(),
                                      read.readings > 0 && unread > longest_step, above, notes_in_words(read.notes)));
    }
    found.places.push_back(std::move(told));
  }
  return found;
}

}  // namespace tierproof
