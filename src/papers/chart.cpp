#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "layout.h"

namespace tierproof::papers {
namespace {

constexpr Micrometres hairline = 90;
constexpr Ink grid_ink = 205;
constexpr Ink hatch_ink = 120;
constexpr Micrometres hatch_step = 1700;

using std::chrono::hours;
using std::chrono::minutes;

/// The axes: instants and temperatures to micrometres within the plot.
struct Axes {
  Instant from{};
  Instant to{};
  Temperature low;
  Temperature high;
  Micrometres left = 0;
  Micrometres right = 0;
  Micrometres top = 0;
  Micrometres bottom = 0;

  Micrometres x(Instant at) const {
    const Instant held = std::clamp(at, from, to);
    return left + (held - from).count() * (right - left) / (to - from).count();
  }
  Micrometres y(Temperature value) const { return bottom - (value - low).to_parts() * (bottom - top) / (high - low).to_parts(); }
};

Temperature on_scale(int degrees, Scale scale) { return Degrees{std::int64_t{degrees} * 100, scale}.temperature(); }
double degrees_of(Temperature value, Scale scale) { return scale == Scale::celsius ? value.to_celsius() : value.to_fahrenheit(); }

/// Whole degrees from the coldest to the hottest of readings and limit, in steps that give at most six of them.
struct DegreeTicks {
  int low = 0;
  int high = 0;
  int step = 1;
};
DegreeTicks degree_ticks(const Chart& chart) {
  std::vector<double> values;
  for (const Reading& reading : chart.readings) {
    if (reading.temperature) values.push_back(degrees_of(*reading.temperature, chart.scale));
  }
  if (chart.limit) values.push_back(degrees_of(*chart.limit, chart.scale));
  if (values.empty()) values = {0.0, 10.0};
  const double least = *std::min_element(values.begin(), values.end());
  const double most = *std::max_element(values.begin(), values.end());
  DegreeTicks ticks;
  for (const int step : {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}) {
    ticks.step = step;
    ticks.low = static_cast<int>(std::floor((least - 0.1 * step) / step)) * step;
    ticks.high = static_cast<int>(std::ceil((most + 0.1 * step) / step)) * step;
    if ((ticks.high - ticks.low) / step <= 6) break;
  }
  return ticks;
}

/// The first of the usual clock steps that gives at most nine marks.
Span clock_step(Span span) {
  constexpr std::array<minutes, 19> steps{minutes{1}, minutes{2}, minutes{5}, minutes{10}, minutes{15}, minutes{30}, hours{1},
                                          hours{2},   hours{3},   hours{6},   hours{12},   hours{24},   hours{48},   hours{96},
                                          hours{168}, hours{336}, hours{672}, hours{2016}, hours{8064}};
  for (const minutes step : steps) {
    if (span / Span{step} <= 8) return step;
  }
  return span / 8 + Span{1};
}

class ChartLayer {
 public:
  ChartLayer(const ChartBlock& block, Micrometres width, const Fonts& fonts, Laid& laid)
      : chart_{block.chart}, block_{block}, width_{width}, fonts_{fonts}, laid_{laid} {}

  void run() {
    const Micrometres em = block_.type.size.to_micrometres();
    const Micrometres limit_column = 34000;
    axes_.left = 9000;
    axes_.right = width_ - limit_column;
    axes_.top = em * 3;
    axes_.bottom = block_.height - em * 3;
    axes_.from = chart_.from;
    axes_.to = chart_.to;
    if (!chart_.readings.empty()) {
      axes_.from = std::min(axes_.from, chart_.readings.front().at);
      axes_.to = std::max(axes_.to, chart_.readings.back().at);
    }
    if (axes_.to <= axes_.from) axes_.to = axes_.from + Span{minutes{1}};
    const DegreeTicks ticks = degree_ticks(chart_);
    axes_.low = on_scale(ticks.low, chart_.scale);
    axes_.high = on_scale(ticks.high, chart_.scale);
    if (axes_.right - axes_.left < 30000 || axes_.bottom - axes_.top < 15000) {
      laid_.refusals.push_back(Refusal{"", 0, block_.field, "the paper is too small for a chart", "take a larger paper"});
      return;
    }
    draw_degrees(ticks);
    draw_clock();
    draw_gaps();
    draw_limit();
    draw_readings();
    slab_.height = block_.height;
    slab_.field = block_.field;
    laid_.slabs.push_back(std::move(slab_));
  }

 private:
  enum class Anchor { left, middle, right };

  Micrometres width_of(const std::string& words, Face face) const { return fonts_.width(words, face, block_.type.size); }

  void put(const std::string& words, Micrometres x, Micrometres baseline, Anchor anchor, bool bold = false) {
    const Face face = bold ? bold_of(block_.type.face) : block_.type.face;
    const Micrometres wide = width_of(words, face);
    const Micrometres at = anchor == Anchor::left ? x : anchor == Anchor::middle ? x - wide / 2 : x - wide;
    slab_.marks.texts.push_back({std::clamp<Micrometres>(at, 0, std::max<Micrometres>(0, width_ - wide)), baseline, wide, words, face,
                                 block_.type.size, block_.type.ink});
  }

  void stroke(std::vector<Point> points, Micrometres thickness, Ink ink, const char* role, Micrometres dash = 0) {
    slab_.marks.strokes.push_back({std::move(points), thickness, ink, dash, role});
  }

  void draw_degrees(const DegreeTicks& ticks) {
    const Micrometres cap = fonts_.capital_height(block_.type.face, block_.type.size);
    for (int degree = ticks.low; degree <= ticks.high; degree += ticks.step) {
      const Micrometres y = axes_.y(on_scale(degree, chart_.scale));
      if (degree != ticks.low) stroke({{axes_.left, y}, {axes_.right, y}}, hairline, grid_ink, "grid");
      put(degree < 0 ? fmt::format("−{}", -degree) : fmt::format("{}", degree), axes_.left - 1500, y + cap / 2, Anchor::right);
    }
    const std::string unit = chart_.scale == Scale::celsius ? "°C" : "°F";
    put(unit, axes_.left - 1500, axes_.top - cap - cap / 2, Anchor::right, true);
  }

  void draw_clock() {
    const Micrometres em = block_.type.size.to_micrometres();
    stroke({{axes_.left, axes_.bottom}, {axes_.right, axes_.bottom}}, 180, 0, "axis");
    const Span shift = minutes{chart_.offset.minutes};
    const Span step = clock_step(axes_.to - axes_.from);
    const Span first = axes_.from.time_since_epoch() + shift;
    Span local = first / step * step;
    if (local < first) local += step;
    Micrometres clock_end = 0;
    Micrometres day_end = 0;
    for (; Instant{local - shift} <= axes_.to; local += step) {
      const Instant at{local - shift};
      const Micrometres x = axes_.x(at);
      stroke({{x, axes_.bottom}, {x, axes_.bottom + 900}}, hairline, 0, "axis");
      const std::string clock = format_clock(at, chart_.offset);
      const Micrometres half = width_of(clock, block_.type.face) / 2;
      const bool whole_days = step >= Span{hours{24}};
      if (!whole_days && x - half > clock_end) {
        put(clock, x, axes_.bottom + 900 + em * 11 / 10, Anchor::middle);
        clock_end = x + half + 1500;
      }
      const bool new_day = day_end == 0 || day_of(at, chart_.offset) != last_day_;
      const std::string day = format_date_long(day_of(at, chart_.offset));
      if (new_day && x - half > day_end) {
        const Micrometres start = whole_days ? x - width_of(day, block_.type.face) / 2 : x - half;
        put(day, start, axes_.bottom + 900 + em * 11 / 10 + (whole_days ? 0 : em * 13 / 10), Anchor::left);
        day_end = start + width_of(day, block_.type.face) + 2500;
        last_day_ = day_of(at, chart_.offset);
      }
    }
  }

  /// Hatched at 45 degrees, with its number above.
  void draw_gaps() {
    const Micrometres cap = fonts_.capital_height(block_.type.face, block_.type.size);
    Micrometres label_end = 0;
    for (std::size_t i = 0; i < chart_.gaps.size(); ++i) {
      const Micrometres left = axes_.x(chart_.gaps[i].from);
      const Micrometres right = axes_.x(chart_.gaps[i].to);
      const Micrometres height = axes_.bottom - axes_.top;
      for (Micrometres start = left - height + hatch_step; start < right; start += hatch_step) {
        const Micrometres from = std::max(start, left);
        const Micrometres to = std::min(start + height, right);
        if (from < to) {
          stroke({{from, axes_.bottom - (from - start)}, {to, axes_.bottom - (to - start)}}, hairline, hatch_ink, "gap");
        }
      }
      for (const Micrometres edge : {left, right}) stroke({{edge, axes_.top}, {edge, axes_.bottom}}, hairline, hatch_ink, "gap");
      const std::string words = chart_.gaps.size() == 1 ? "gap" : fmt::format("gap {}", i + 1);
      const Micrometres half = width_of(words, bold_of(block_.type.face)) / 2;
      const Micrometres middle = std::clamp((left + right) / 2, axes_.left + half, axes_.right - half);
      if (middle - half > label_end) {
        put(words, middle, axes_.top - cap / 2, Anchor::middle, true);
        label_end = middle + half + 1200;
      }
    }
  }

  void draw_limit() {
    if (!chart_.limit) return;
    const Micrometres y = axes_.y(*chart_.limit);
    stroke({{axes_.left, y}, {axes_.right, y}}, 300, 0, "limit", 1400);
    Paragraph words;
    words.runs = {block_.type};
    words.runs.front().text = chart_.limit_words + (chart_.limit_is_ceiling ? "\nor colder" : "\nor hotter");
    words.runs.front().face = bold_of(block_.type.face);
    words.field = block_.field;
    const Refusals bad = check_paragraph(words, fonts_);
    if (!bad.empty()) return add(laid_.refusals, bad);
    const auto lines = break_lines(words, width_ - axes_.right - 2500, fonts_);
    if (!lines) return add(laid_.refusals, lines.error());
    Marks marks;
    Micrometres down = 0;
    for (const Line& line : *lines) {
      const Slab slab = slab_of(line, 120, fonts_);
      add_moved(marks, slab.marks, axes_.right + 2500, down);
      down += slab.height;
    }
    const Micrometres top =
        std::clamp<Micrometres>(y - slab_of(lines->front(), 120, fonts_).height / 2, 0, std::max<Micrometres>(0, block_.height - down));
    add_moved(slab_.marks, marks, 0, top);
  }

  bool gap_between(Instant from, Instant to) const {
    return std::any_of(chart_.gaps.begin(), chart_.gaps.end(), [&](const Gap& gap) { return gap.from < to && from < gap.to; });
  }

  void draw_readings() {
    const Micrometres radius = chart_.readings.size() <= 120 ? 480 : chart_.readings.size() <= 400 ? 320 : 220;
    std::vector<Point> joined;
    const Reading* last = nullptr;
    const auto end_line = [&] {
      if (joined.size() > 1) stroke(std::move(joined), 180, 0, "readings");
      joined.clear();
    };
    for (const Reading& reading : chart_.readings) {
      const Micrometres x = axes_.x(reading.at);
      if (!reading.temperature) {
        end_line();
        last = nullptr;
        const Micrometres y = axes_.bottom - 2200;
        stroke({{x - 800, y - 800}, {x + 800, y + 800}}, 200, 0, "fault");
        stroke({{x - 800, y + 800}, {x + 800, y - 800}}, 200, 0, "fault");
        continue;
      }
      if (last != nullptr && gap_between(last->at, reading.at)) end_line();
      const Point point{x, axes_.y(*reading.temperature)};
      joined.push_back(point);
      slab_.marks.dots.push_back({point, radius, 0});
      last = &reading;
    }
    end_line();
    if (chart_.readings.empty()) {
      put("no reading", (axes_.left + axes_.right) / 2, (axes_.top + axes_.bottom) / 2, Anchor::middle, true);
    }
  }

  const Chart& chart_;
  const ChartBlock& block_;
  Micrometres width_;
  const Fonts& fonts_;
  Laid& laid_;
  Axes axes_;
  Slab slab_;
  Date last_day_{};
};

}  // namespace

void lay_chart(const ChartBlock& block, Micrometres width, const Fonts& fonts, Laid& laid) { ChartLayer{block, width, fonts, laid}.run(); }

}  // namespace tierproof::papers
