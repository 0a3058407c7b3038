#include "charts.h"

#include <fmt/format.h>

#include <algorithm>

#include "tierproof/units/share.h"

namespace tierproof {
namespace {

/// `fridge, air, 1 May 2026 to 3 May 2026`
std::string title_of(const SeriesUsed& series) {
  const Date first = day_of(series.from, series.offset);
  const Date last = day_of(series.to, series.offset);
  return fmt::format("{}, {}{}", series.watched, format_date_long(first),
                     first == last ? "" : fmt::format(" to {}", format_date_long(last)));
}

bool belong_together(const SeriesUsed& a, const SeriesUsed& b) {
  return a.watched == b.watched && a.probe == b.probe && a.limit_words == b.limit_words &&
         ((a.from <= b.to && b.from <= a.to) || title_of(a) == title_of(b));
}

/// `first` and what `then` tells besides, part by part up to a semicolon.
std::string told_once(const std::string& first, const std::string& then) {
  constexpr std::string_view between = "; ";
  std::string words = first;
  for (std::size_t from = 0; from <= then.size();) {
    const std::size_t at = std::min(then.find(between, from), then.size());
    const std::string part = then.substr(from, at - from);
    if ((between.data() + words + between.data()).find(between.data() + part + between.data()) == std::string::npos)
      words += (words.empty() ? "" : between.data()) + part;
    from = at + between.size();
  }
  return words;
}

/// Readings that lie further outside of the time than the longest step vouch for nothing in it, and would only stretch the axis.
std::vector<Reading> drawn_readings(const SeriesUsed& series) {
  std::vector<Reading> drawn;
  std::copy_if(series.readings.begin(), series.readings.end(), std::back_inserter(drawn), [&](const Reading& reading) {
    return reading.at >= series.from - series.longest_step && reading.at <= series.to + series.longest_step;
  });
  return drawn;
}

}  // namespace

std::vector<Chart> charts_of(const Session& session, const Judgement& judgement) {
  std::vector<Chart> charts;
  for (const auto& series : judgement.series) {
    Chart chart;
    chart.title = series.title;
    chart.readings = drawn_readings(series);
    chart.gaps = gaps_in(series.readings, series.from, series.to, series.longest_step);
    chart.limit = series.limit;
    chart.limit_words = series.limit_words;
    chart.limit_is_ceiling = series.limit_is_ceiling;
    chart.from = series.from;
    chart.to = series.to;
    const Instant begin = chart.readings.empty() ? series.from : std::min(series.from, chart.readings.front().at);
    const Instant end = chart.readings.empty() ? series.to : std::max(series.to, chart.readings.back().at);
    chart.offset = session.offset_at(begin);
    chart.clock_changes = session.clock_changes(begin, end);
    chart.stays = series.stays;
    chart.allowance = series.allowance;
    chart.bound = series.bound;
    chart.note = fmt::format("{}, error ±{}; {}", series.probe, in_celsius_words(Temperature{} + series.error), series.trust);
    charts.push_back(std::move(chart));
  }
  return charts;
}

void add_watched(std::vector<SeriesUsed>& all, SeriesUsed watched) {
  watched.title = title_of(watched);
  std::size_t place = all.size();
  for (std::size_t i = 0; i < all.size();) {
    const SeriesUsed& other = all[i];
    if (!belong_together(other, watched)) {
      ++i;
      continue;
    }
    watched.from = std::min(watched.from, other.from);
    watched.to = std::max(watched.to, other.to);
    watched.title = title_of(watched);
    watched.stays.insert(watched.stays.begin(), other.stays.begin(), other.stays.end());
    watched.trust = told_once(other.trust, watched.trust);
    all.erase(all.begin() + static_cast<std::ptrdiff_t>(i));
    place = std::min(place, i);
    i = 0;  // longer now, it may touch one that was passed over
  }
  all.insert(all.begin() + static_cast<std::ptrdiff_t>(std::min(place, all.size())), std::move(watched));
}

std::string in_celsius_words(Temperature temperature) { return short_decimal(fmt::format("{:.2f}", temperature.to_celsius())) + " °C"; }

}  // namespace tierproof
