#include "tierproof/sums/stay.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "series.h"

namespace tierproof {
namespace {

using series::in_celsius;
using series::Mark;
using series::Point;

std::vector<Excursion> excursions(std::span<const Point> points, Temperature limit, Span longest_step) {
  std::vector<Excursion> all;
  for (const auto& [first, last] : series::runs_of(points, longest_step, [&](const Point& p) { return p.t > limit; })) {
    const bool begins = series::joined_before(points, first, longest_step);
    const bool ends = series::joined_after(points, last, longest_step);
    Excursion e;
    e.first_above = points[first].at;
    e.last_above = points[last].at;
    e.minimum = e.last_above - e.first_above;
    e.peak = points[first].t;
    auto length = static_cast<double>(e.minimum.count());
    double area = 0;  // kelvin milliseconds
    const auto over = [&](std::size_t i) { return (points[i].t - limit).to_kelvins(); };
    for (std::size_t i = first; i <= last; ++i) {
      e.peak = std::max(e.peak, points[i].t);
      if (i > first) area += static_cast<double>((points[i].at - points[i - 1].at).count()) * (over(i) + over(i - 1)) / 2;
    }
    if (begins) {
      const double up = static_cast<double>((points[first].at - points[first - 1].at).count()) -
                        series::crossing(points[first - 1], points[first], limit);
      length += up;
      area += up * over(first) / 2;
    }
    if (ends) {
      const double down = series::crossing(points[last], points[last + 1], limit);
      length += down;
      area += down * over(last) / 2;
    }
    e.estimate = Minutes{length / 60'000.0};
    e.area_kelvin_minutes = area / 60'000.0;
    if (begins && ends) e.maximum = points[last + 1].at - points[first - 1].at;
    all.push_back(e);
  }
  return all;
}

/// The points of the stay, and the readings just outside it that end its first and last step or, with none inside, cover it.
std::vector<Point> points_about(const std::vector<Point>& all, Instant from, Instant to, Span longest_step) {
  auto first = static_cast<std::size_t>(std::count_if(all.begin(), all.end(), [&](const Point& p) { return p.at < from; }));
  auto end = static_cast<std::size_t>(std::count_if(all.begin(), all.end(), [&](const Point& p) { return p.at <= to; }));
  const bool none_inside = first == end;
  const bool starts_on_one = !none_inside && all[first].at == from;
  const bool ends_on_one = !none_inside && all[end - 1].at == to;
  const bool before = first > 0 && !starts_on_one &&
                      (series::joined_before(all, first < all.size() ? first : 0, longest_step) ||
                       (none_inside && all[first - 1].mark == Mark::reading && to - all[first - 1].at <= longest_step));
  const bool after = end < all.size() && !ends_on_one &&
                     (series::joined_before(all, end, longest_step) ||
                      (none_inside && all[end].mark == Mark::reading && all[end].at - from <= longest_step));
  return {all.begin() + static_cast<std::ptrdiff_t>(before ? first - 1 : first),
          all.begin() + static_cast<std::ptrdiff_t>(after ? end + 1 : end)};
}

/// Where the food or the air surely or possibly was above the limit.
struct Above {
  std::vector<Excursion> surely;    ///< T less the error, by readings inside the stay
  std::vector<Excursion> possibly;  ///< T with the error added
  bool surely_twice = false;        ///< two of `surely` with a reading between that is surely within
  bool perhaps_twice = false;       ///< within one of `possibly` a reading may have been within the limit again
};

Above above(const std::vector<Point>& about, const ChilledStay& stay, Temperature limit, TemperatureSpan error, Span longest_step) {
  Above a;
  a.possibly = excursions(about, limit - error, longest_step);
  std::vector<Point> inside;
  std::copy_if(about.begin(), about.end(), std::back_inserter(inside),
               [&](const Point& p) { return p.at >= stay.from && p.at <= stay.to; });
  a.surely = excursions(inside, limit + error, longest_step);
  // A larger error must not weld two occasions into one: between the ends every reading has to be above even less the error.
  a.perhaps_twice = std::any_of(a.possibly.begin(), a.possibly.end(), [&](const Excursion& e) {
    return std::any_of(about.begin(), about.end(), [&](const Point& p) {
      return p.mark == Mark::reading && p.at > e.first_above && p.at < e.last_above && p.t - error <= limit;
    });
  });
  for (std::size_t i = 1; i < a.surely.size() && !a.surely_twice; ++i) {
    a.surely_twice = std::any_of(inside.begin(), inside.end(), [&](const Point& p) {
      return p.mark == Mark::reading && p.at > a.surely[i - 1].last_above && p.at < a.surely[i].first_above && p.t + error <= limit;
    });
  }
  return a;
}

/// Whether everything that may have been above the limit surely kept `allowance`.
bool keeps(const WarmAllowance& allowance, const ChilledStay& stay, const Above& a) {
  if (allowance.use != stay.use ||
      (allowance.once && (stay.allowance_spent || stay.perhaps_spent || a.possibly.size() > 1 || a.perhaps_twice)))
    return false;
  return std::all_of(a.possibly.begin(), a.possibly.end(),
                     [&](const Excursion& e) { return e.maximum && *e.maximum < allowance.less_than; });
}

/// Whether what was surely above the limit may still lie within `allowance`.
bool may_keep(const WarmAllowance& allowance, const ChilledStay& stay, const Above& a) {
  if (!stay.use.empty() && allowance.use != stay.use) return false;
  if (allowance.once && (stay.allowance_spent || a.surely_twice)) return false;
  return std::all_of(a.surely.begin(), a.surely.end(), [&](const Excursion& e) { return e.minimum < allowance.less_than; });
}

/// The rows to judge by: the law's, or advice where it gives none; of a temperature of the food only those on food, if there are any.
std::vector<ChillTerm> rows_for(const std::vector<ChillTerm>& all, bool measured_food) {
  std::vector<ChillTerm> rows;
  const auto keep = [&](auto applies) { std::copy_if(all.begin(), all.end(), std::back_inserter(rows), applies); };
  keep([](const ChillTerm& row) { return !row.advice; });
  if (rows.empty()) keep([](const ChillTerm& row) { return row.advice; });
  if (measured_food && std::any_of(rows.begin(), rows.end(), [](const ChillTerm& row) { return row.measured_in == "food"; })) {
    std::erase_if(rows, [](const ChillTerm& row) { return row.measured_in != "food"; });
  }
  std::stable_sort(rows.begin(), rows.end(), [](const ChillTerm& a, const ChillTerm& b) { return a.limit < b.limit; });
  return rows;
}

std::string limit_of(const ChillTerm& row) { return row.words.empty() ? in_celsius(row.limit) : row.words; }

std::string about_above(std::span<const WarmTime> times, const ChillTerm& row) {
  const std::string often = times.size() == 1 ? "once" : fmt::format("{} times", times.size());
  return fmt::format("above {} {}, {}", limit_of(row), often, bounds_in_words(together(times)));
}

constexpr std::size_t most_told = 12;  // times too warm that a paper tells one by one

std::vector<std::string> told_one_by_one(std::span<const WarmTime> times, const ChillTerm& row, TemperatureSpan error, Offset offset) {
  std::vector<std::string> lines;
  for (const WarmTime& time : times.first(std::min(times.size(), most_told))) lines.push_back(in_words(time, limit_of(row), error, offset));
  if (times.size() > most_told) lines.push_back(fmt::format("and {} more times", times.size() - most_told));
  return lines;
}

std::vector<Reading> readings_of(std::span<const Point> points) {
  std::vector<Reading> readings;
  for (const Point& p : points) readings.push_back({p.at, p.mark == Mark::reading ? std::optional{p.t} : std::nullopt});
  return readings;
}

}  // namespace

std::vector<Excursion> excursions_above(std::span<const Reading> series, Temperature limit, Span longest_step) {
  series::require_sensible({}, longest_step);
  return excursions(series::in_order(series), limit, longest_step);
}

double coverage(std::span<const Reading> series, Instant from, Instant to, Span longest_step) {
  const auto gaps = gaps_in(series, from, to, longest_step);
  if (from == to) return gaps.empty() ? 1.0 : 0.0;
  Span uncovered{};
  for (const Gap& gap : gaps) uncovered += gap.to - gap.from;
  return 1.0 - static_cast<double>(uncovered.count()) / static_cast<double>((to - from).count());
}

Finding judge_chilled_stay(const ChilledStay& stay, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                           const std::string& evidence, const TemperatureTerms& terms) {
  const Span longest_step = terms.longest_step("chilled hold");
  series::require_sensible(error, longest_step);
  const auto gaps = gaps_in(readings, stay.from, stay.to, longest_step);
  const auto about = points_about(series::in_order(readings), stay.from, stay.to, longest_step);
  const std::string measured = stay.measured_food ? "the food" : "the air, not the food,";

  Finding f;
  f.control = "cold-hold";
  f.subject = stay.subject;
  f.evidence = evidence;
  f.verdict = Verdict::not_shown;
  f.stop = Stop::needs_person;

  const auto seen = readings_of(about);
  const auto growth = growth_told(seen, stay.from, stay.to, error, terms.growth, longest_step);
  if (const std::string warning = warning_of_growth(growth, stay.measured_food); !warning.empty()) f.evidence += "; " + warning;
  const std::string place = fmt::format("{} for {}", stay.where, format_span(stay.to - stay.from));
  const auto rows = rows_for(terms.chill, stay.measured_food);
  if (rows.empty()) {
    const bool asks = !terms.cold_places.empty();
    f.message = fmt::format("{}: the rules chosen here give no temperature to judge it by{}", place,
                            asks ? fmt::format("; they ask that it is kept {}", terms.cold_places.front().words) : "");
    f.remedy = "judge it by the place it was kept in, and record who did";
    if (asks) f.source = cite(terms.cold_places.front().cited);
    return f;
  }
  const bool law = !rows.front().advice;
  const std::string law_words = law ? "" : " (advice; the law here gives no temperature)";
  const auto name = [&](const ChillTerm& row) {
    f.source = cite(row.cited);
    f.limit = fmt::format("{} or below in the {}{}", limit_of(row), row.measured_in, law ? "" : " (advice, not law)");
  };
  const ChillTerm& strictest = rows.front();
  name(strictest);

  std::optional<Temperature> warmest;
  for (const Point& p : about) {
    if (p.mark == Mark::reading) warmest = std::max(warmest.value_or(p.t), p.t);
  }
  if (!warmest) {
    f.message = fmt::format("{}: no temperature is recorded{}", place, readings.empty() ? "" : " in that time");
    f.remedy = "record the temperature of the place or of the food; until then a named person must answer for it";
    return f;
  }
  f.result = fmt::format("warmest {} in {}", in_celsius(*warmest), stay.measured_food ? "the food" : "the air");

  for (const ChillTerm& row : rows) {
    if ((row.measured_in == "food") != stay.measured_food) continue;
    const Above a = above(about, stay, row.limit, error, longest_step);
    const bool excused =
        law && std::any_of(terms.allowances.begin(), terms.allowances.end(), [&](const auto& w) { return may_keep(w, stay, a); });
    Span warm{};
    for (const Excursion& e : a.surely) warm += e.minimum;
    const bool within_total = law && terms.warm_total && row.limit >= terms.warm_total->above && warm < terms.warm_total->discard_from;
    if (a.surely.empty() || excused || within_total) continue;
    name(row);
    f.verdict = Verdict::not_met;
    f.stop = law ? Stop::no_override : Stop::needs_person;
    auto times = warm_times(seen, stay.from, stay.to, row.limit, error, longest_step);
    f.paths = told_one_by_one(times, row, error, stay.offset);
    std::erase_if(times, [&](const WarmTime& time) {
      return std::none_of(a.surely.begin(), a.surely.end(),
                          [&](const Excursion& e) { return e.first_above >= time.from && e.last_above <= time.to; });
    });
    f.message = fmt::format("{}: {} was {}{}, warmest {}, even with the thermometer error ±{} taken off", place, measured,
                            about_above(times, row), law_words, in_celsius(*warmest), in_celsius(error));
    f.remedy = law ? "do not hand over; remake it or refuse the order" : "find out why it was warm; a named person must answer for it";
    return f;
  }

  const Above a = above(about, stay, strictest.limit, error, longest_step);
  const bool never_above = a.possibly.empty();
  const auto kept = std::find_if(terms.allowances.begin(), terms.allowances.end(),
                                 [&](const WarmAllowance& w) { return law && !never_above && keeps(w, stay, a); });
  const bool allowed = kept != terms.allowances.end();
  const auto times = warm_times(seen, stay.from, stay.to, strictest.limit, error, longest_step);
  f.paths = told_one_by_one(times, strictest, error, stay.offset);
  const std::string was = never_above
                              ? fmt::format("{} {}", gaps.empty() ? "stayed at or below" : "was never recorded above", limit_of(strictest))
                              : fmt::format("{} {}", a.surely.empty() ? "may have been" : "was", about_above(times, strictest));
  f.message = fmt::format("{}: {} {}{}, warmest {}, thermometer error ±{} added", place, measured, was, law_words, in_celsius(*warmest),
                          in_celsius(error));
  if (allowed) {
    const std::string once = fmt::format("for less than {}{} for {}", format_span(kept->less_than), kept->once ? " once" : "", kept->use);
    f.message += "; the law allows it " + once;
    f.limit += ", or above it " + once;
    f.source += " " + cite(kept->cited);
  }
  if (gaps.empty() && (never_above || allowed) && reliable) {
    f.verdict = Verdict::shown;
    f.stop = Stop::none;
    return f;
  }
  if (!gaps.empty())
    f.message += fmt::format("; the record has {}: {}", gaps.size() == 1 ? "a gap" : "gaps", series::tell(gaps, stay.offset));
  if (!reliable) f.message += "; the thermometer has no good checks before and after";
  if (law && terms.warm_total && !never_above) {
    f.message += fmt::format("; the law allows under {} in all over its whole life, which has to be added up",
                             format_span(terms.warm_total->discard_from));
  }
  f.remedy = !reliable && gaps.empty() && (never_above || allowed)
                 ? "check the thermometer in ice or boiling water; until it is good a named person must answer for it"
                 : "measure the food itself; a named person must answer for what the record does not show";
  return f;
}

StayTold stay_told(const ChilledStay& stay, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                   const TemperatureTerms& terms) {
  const Span longest_step = terms.longest_step("chilled hold");
  series::require_sensible(error, longest_step);
  StayTold told;
  told.subject = stay.subject;
  told.where = stay.where;
  told.measured_food = stay.measured_food;
  told.reliable = reliable;
  told.from = stay.from;
  told.to = stay.to;
  told.offset = stay.offset;
  told.error = error;
  const auto about = points_about(series::in_order(readings), stay.from, stay.to, longest_step);
  const auto seen = readings_of(about);
  for (const Point& p : about) {
    if (p.mark != Mark::reading) continue;
    told.coldest = std::min(told.coldest.value_or(p.t), p.t);
    told.warmest = std::max(told.warmest.value_or(p.t), p.t);
  }
  told.gaps = gaps_in(readings, stay.from, stay.to, longest_step);
  told.growth = growth_told(seen, stay.from, stay.to, error, terms.growth, longest_step);
  const auto rows = rows_for(terms.chill, stay.measured_food);
  if (rows.empty()) return told;
  told.limit = rows.front().limit;
  told.limit_words = limit_of(rows.front());
  told.warm = warm_times(seen, stay.from, stay.to, rows.front().limit, error, longest_step);
  return told;
}

bool found_too_warm(const ChilledStay& stay, std::span<const Reading> readings, TemperatureSpan error, const TemperatureTerms& terms) {
  for (const Reading& reading : readings) {
    if (!reading.temperature || reading.at < stay.from || reading.at > stay.to) continue;
    for (const ChillTerm& row : terms.chill) {
      if (row.measured_in == "food" && *reading.temperature + error > row.limit) return true;
    }
  }
  return false;
}

Finding gravest_of_stay(std::span<const Finding> of_air, std::span<const FoodFinding> of_food) {
  const Finding* stands = nullptr;
  const auto take = [&](const Finding& finding) {
    if (stands == nullptr || gravity(stands->verdict) < gravity(finding.verdict)) stands = &finding;
  };
  for (const FoodFinding& food : of_food) {
    if (food.too_warm) take(food.finding);
  }
  if (stands != nullptr) return *stands;
  for (const FoodFinding& food : of_food) {
    if (food.finding.verdict == Verdict::shown) return food.finding;
  }
  for (const Finding& air : of_air) take(air);
  return stands != nullptr ? *stands : of_food.front().finding;
}

}  // namespace tierproof
