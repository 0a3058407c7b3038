#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "readings.h"

namespace tierproof::web {
namespace {

constexpr double width = 720, height = 300, left = 56, right = 16, top = 16, bottom = 40;

/// Where things stand on the drawing.
struct Axes {
  Instant from{}, to{};
  double lowest = 0, highest = 0;
  double x(Instant at) const {
    const double all = std::max(1.0, static_cast<double>((to - from).count()));
    return left + (width - left - right) * static_cast<double>((at - from).count()) / all;
  }
  double y(double celsius) const { return top + (height - top - bottom) * (highest - celsius) / (highest - lowest); }
};

double step_for(double range) {
  for (const double step : {0.5, 1.0, 2.0, 5.0, 10.0, 20.0}) {
    if (range / step <= 7) return step;
  }
  return 50;
}

std::string n(double value) { return fmt::format("{:.1f}", value); }

Html line(const char* kind, double x1, double y1, double x2, double y2) {
  return el("line", {{"class", kind}, {"x1", n(x1)}, {"y1", n(y1)}, {"x2", n(x2)}, {"y2", n(y2)}});
}
Html words(const char* kind, double x, double y, const std::string& text) {
  return el("text", {{"class", kind}, {"x", n(x)}, {"y", n(y)}}, text);
}

Html scales(const Session& session, const Axes& axes) {
  Html drawn;
  const double step = step_for(axes.highest - axes.lowest);
  for (double celsius = std::ceil(axes.lowest / step) * step; celsius <= axes.highest; celsius += step) {
    drawn += line("grid", left, axes.y(celsius), width - right, axes.y(celsius));
    drawn += words("y", left - 8, axes.y(celsius) + 5, fmt::format("{:g} °C", celsius));
  }
  constexpr int marks = 4;
  for (int i = 0; i <= marks; ++i) {
    const Instant at = axes.from + (axes.to - axes.from) * i / marks;
    drawn += line("grid", axes.x(at), top, axes.x(at), height - bottom);
    drawn += words(i == 0       ? "x first"
                   : i == marks ? "x last"
                                : "x",
                   axes.x(at), height - bottom + 24, format_clock(at, session.offset_at(at)));
  }
  return drawn;
}

}  // namespace

Html plot(const Session& session, const std::string& title, const std::vector<PlottedReading>& given, std::optional<Temperature> limit,
          Span longest_step) {
  std::vector<PlottedReading> readings = given;
  std::stable_sort(readings.begin(), readings.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
  Axes axes;
  bool any = false;
  for (const auto& reading : readings) {
    if (!reading.read) continue;
    const double celsius = reading.read->to_celsius();
    axes.lowest = any ? std::min(axes.lowest, celsius) : celsius;
    axes.highest = any ? std::max(axes.highest, celsius) : celsius;
    any = true;
  }
  if (!any) return el("p", {}, "No temperature was read in this time.");
  if (limit) axes.lowest = std::min(axes.lowest, limit->to_celsius()), axes.highest = std::max(axes.highest, limit->to_celsius());
  axes.lowest -= 1;
  axes.highest += 1;
  axes.from = readings.front().at;
  axes.to = std::max(readings.back().at, axes.from + std::chrono::minutes{1});
  Html drawn = scales(session, axes);
  if (limit) {
    drawn += line("limit", left, axes.y(limit->to_celsius()), width - right, axes.y(limit->to_celsius()));
    drawn += words("limit-words", left + 6, axes.y(limit->to_celsius()) - 6, "limit " + degrees_in_words(*limit));
  }
  std::string path;
  const PlottedReading* before = nullptr;
  for (const auto& reading : readings) {
    if (!reading.read) {
      drawn += words("fault", axes.x(reading.at), height - bottom - 6, "×");
      before = nullptr;  // nothing is drawn across a fault
      continue;
    }
    const bool goes_on = before != nullptr && reading.at - before->at <= longest_step;  // nor across a gap
    path += fmt::format("{}{} {} ", goes_on ? "L" : "M", n(axes.x(reading.at)), n(axes.y(reading.read->to_celsius())));
    if (readings.size() <= 60)
      drawn += el("circle", {{"class", "dot"}, {"cx", n(axes.x(reading.at))}, {"cy", n(axes.y(reading.read->to_celsius()))}, {"r", "3.5"}});
    before = &reading;
  }
  drawn += el("path", {{"class", "curve"}, {"d", path}});
  std::vector<std::vector<Html>> rows;
  for (const auto& reading : readings)
    rows.push_back(
        {moment_in_words(session, reading.at), reading.read ? fmt::format("{:.2f} °C", reading.read->to_celsius()) : "thermometer fault"});
  return el("figure", {}, el("figcaption", {}, title),
            el("svg",
               {{"class", "plot"},
                {"viewBox", fmt::format("0 0 {:g} {:g}", width, height)},
                {"role", "img"},
                {"aria-label", title + "; the same numbers stand in the table under it"}},
               drawn),
            el("details", {{"class", "fold"}}, el("summary", {}, fmt::format("The same in numbers: {} readings", rows.size())),
               table(title, {"When", "Read"}, rows)));
}

}  // namespace tierproof::web
