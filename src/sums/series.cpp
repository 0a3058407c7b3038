#include "series.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <stdexcept>

#include "tierproof/units/share.h"

namespace tierproof::series {
namespace {

std::string hundredths(std::int64_t parts) {
  const std::int64_t size = std::llabs(parts);
  const std::int64_t rounded = (size * 100 + 450) / 900;  // nearest hundredth
  std::string text = fmt::format("{}{}", parts < 0 && rounded != 0 ? "-" : "", rounded / 100);
  if (rounded % 100 == 0) return text;
  return text + (rounded % 10 == 0 ? fmt::format(".{}", rounded % 100 / 10) : fmt::format(".{:02}", rounded % 100));
}

std::string why_of(Mark mark) { return mark == Mark::disputed ? "two different readings of one time" : "thermometer fault"; }

/// Whether the stretch between neighbouring readings `p` and `n` (nothing: there is none on that side) leaves a part of
/// `from`..`to` further than `longest` from what bounds it.
bool leaves_a_gap(const Point* p, const Point* n, Instant from, Instant to, Span longest) {
  if ((n && n->at <= from) || (p && p->at >= to)) return false;  // outside `from`..`to`
  if (p && n && n->at - p->at <= longest) return false;
  const bool begins_inside = p && p->at >= from;
  const bool ends_inside = n && n->at <= to;
  if (begins_inside && ends_inside) return true;
  if (ends_inside) return n->at - from > longest;
  if (begins_inside) return to - p->at > longest;
  return !((p && to - p->at <= longest) || (n && n->at - from <= longest));
}

}  // namespace

std::vector<Point> in_order(std::span<const Reading> readings) {
  const auto earlier = [](const Reading& a, const Reading& b) { return a.at < b.at; };
  std::vector<Reading> sorted;
  if (!std::is_sorted(readings.begin(), readings.end(), earlier)) {
    sorted.assign(readings.begin(), readings.end());
    std::stable_sort(sorted.begin(), sorted.end(), earlier);
    readings = sorted;
  }
  std::vector<Point> points;
  points.reserve(readings.size());
  for (const Reading& r : readings) {
    const Point point{r.at, r.temperature.value_or(Temperature{}), r.temperature ? Mark::reading : Mark::fault};
    if (points.empty() || points.back().at != r.at) {
      points.push_back(point);
    } else if (points.back().mark != point.mark || points.back().t != point.t) {
      points.back().mark = Mark::disputed;
    }
  }
  return points;
}

bool joined(const Point& a, const Point& b, Span longest_step) {
  return a.mark == Mark::reading && b.mark == Mark::reading && b.at - a.at <= longest_step;
}

bool joined_before(std::span<const Point> points, std::size_t index, Span longest_step) {
  return index > 0 && joined(points[index - 1], points[index], longest_step);
}

bool joined_after(std::span<const Point> points, std::size_t index, Span longest_step) {
  return index + 1 < points.size() && joined(points[index], points[index + 1], longest_step);
}

std::vector<Gap> gaps_between(std::span<const Point> points, Instant from, Instant to, Span longest_step) {
  std::vector<Gap> gaps;
  const Point* before = nullptr;
  const Point* broken = nullptr;  // the first fault inside `from`..`to` since `before`
  const auto close = [&](const Point* after) {
    if (!broken && !leaves_a_gap(before, after, from, to, longest_step)) return;
    const Instant begin = before ? std::max(before->at, from) : from;
    const Instant end = after ? std::min(after->at, to) : to;
    gaps.push_back({begin, end, broken ? why_of(broken->mark) : "no reading for " + format_span(end - begin)});
  };
  for (const Point& point : points) {
    if (point.mark != Mark::reading) {
      if (!broken && point.at >= from && point.at <= to) broken = &point;
      continue;
    }
    close(&point);
    before = &point;
    broken = nullptr;
  }
  close(nullptr);
  return gaps;
}

std::vector<Gap> gaps_of(std::span<const Point> points, Span longest_step) {
  if (points.empty()) return {};
  return gaps_between(points, points.front().at, points.back().at, longest_step);
}

double crossing(const Point& a, const Point& b, Temperature limit) {
  const auto rise = static_cast<double>((b.t - a.t).to_parts());
  return static_cast<double>((limit - a.t).to_parts()) * static_cast<double>((b.at - a.at).count()) / rise;
}

std::vector<Point> clipped(std::span<const Point> points, Instant from, Instant to, Span longest_step) {
  std::vector<Point> inside;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto cut = [&](Instant at) {
      if (i == 0 || !joined(points[i - 1], points[i], longest_step) || points[i - 1].at >= at || points[i].at <= at) return;
      const double share =
          static_cast<double>((at - points[i - 1].at).count()) / static_cast<double>((points[i].at - points[i - 1].at).count());
      const double rise = static_cast<double>((points[i].t - points[i - 1].t).to_parts()) * share;
      inside.push_back({at, points[i - 1].t + TemperatureSpan::parts(std::llround(rise)), Mark::reading});
    };
    cut(from);
    if (points[i].at > to && from < to) cut(to);
    if (points[i].at >= from && points[i].at <= to) inside.push_back(points[i]);
  }
  return inside;
}

void require_sensible(TemperatureSpan error, Span longest_step) {
  if (error < TemperatureSpan{}) throw std::invalid_argument{"a thermometer's error is never negative"};
  if (longest_step < Span{}) throw std::invalid_argument{"the longest step between readings is never negative"};
}

std::string in_celsius(Temperature t) { return hundredths((t - Temperature{}).to_parts()) + " °C"; }
std::string in_celsius(TemperatureSpan span) { return hundredths(span.to_parts()) + " °C"; }

std::string in_percent(const Share& share) { return short_decimal(format_decimal(Share{share * 100}, 2)) + " %"; }

std::string tell(std::span<const Gap> gaps, Offset offset) {
  std::string text;
  for (std::size_t i = 0; i < gaps.size() && i < 3; ++i) {
    const bool same_day = day_of(gaps[i].from, offset) == day_of(gaps[i].to, offset);
    text += fmt::format("{}{}, from {} to {}", i == 0 ? "" : "; ", gaps[i].why, format_moment(gaps[i].from, offset),
                        same_day ? format_clock(gaps[i].to, offset) : format_moment(gaps[i].to, offset));
  }
  if (gaps.size() > 3) text += fmt::format("; and {} more", gaps.size() - 3);
  return text;
}

std::string tell(std::span<const Gap> gaps) {
  if (gaps.empty()) return "";
  return gaps.size() == 1 ? gaps[0].why : fmt::format("{}, and {} more", gaps[0].why, gaps.size() - 1);
}

}  // namespace tierproof::series
