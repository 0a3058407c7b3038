#include "tierproof/papers/chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "chart_samples.h"
#include "chart_strip.h"
#include "layout.h"

namespace tierproof::papers {
namespace {

constexpr Micrometres hairline = 90;
constexpr Ink grid_ink = 205;
constexpr Ink hatch_ink = 120;
constexpr Ink allowance_ink = 232;
constexpr Micrometres hatch_step = 1700;
constexpr Micrometres plot_column = 250;     ///< a dot of a printer of 100 to the inch: what lies within it is drawn as one upright line
constexpr Micrometres lower_height = 15000;  ///< of the plot of what a heat step had shown
constexpr std::size_t dots_for_all = 400;    ///< of more readings only those of the table have a dot
constexpr Micrometres large_dot = 560;
constexpr Micrometres small_dot = 280;
constexpr Micrometres closest_crosses = 500;  ///< faults nearer to each other than this share a cross

class ChartLayer {
 public:
  ChartLayer(const ChartBlock& block, Micrometres width, TypeCase& type, Laid& laid)
      : chart_{block.chart},
        block_{block},
        width_{width},
        type_{type},
        fonts_{type.fonts()},
        laid_{laid},
        em_{block.type.size.to_micrometres()} {}

  void run() {
    axes_.left = 9000;
    axes_.right = width_ - 34000;  // beside it stand the words of the limits
    set_times(chart_, axes_);
    stays_ = stay_bars(chart_, axes_, [&](const std::string& words) { return width_of(words, block_.type.face); });
    changes_ = clock_changes_in(chart_, axes_.from, axes_.to);
    strips_ = static_cast<Micrometres>(stays_.lanes + (stays_.left_out > 0 ? 1 : 0)) * lane() + (stays_.lanes > 0 ? em_ / 2 : 0);
    const Micrometres more = strips_ + (changes_.empty() ? 0 : em_ * 14 / 10);
    axes_.top = more + em_ * 22 / 10;
    axes_.bottom = more + block_.height - em_ * 3;
    const DegreeTicks ticks = degree_ticks(chart_);
    axes_.low = on_scale(ticks.low, chart_.scale);
    axes_.high = on_scale(ticks.high, chart_.scale);
    slab_.height = more + block_.height;
    lower_.top = lower_.bottom = axes_.bottom;
    if (chart_.bound) {
      lower_.top = axes_.bottom + em_ * 27 / 10;
      lower_.bottom = lower_.top + lower_height;
      slab_.height = lower_.bottom + em_ * 3;
    }
    if (!changes_.empty()) slab_.height += em_ * 13 / 10;
    if (axes_.right - axes_.left < 30000 || axes_.bottom - axes_.top < 15000) {
      laid_.refusals.push_back(Refusal{"", 0, block_.field, "the paper is too small for a chart", "take a larger paper"});
      return;
    }
    told_ = told_in_table();
    draw_stays();
    draw_allowance();
    draw_degrees(ticks);
    draw_clock();
    draw_gaps();
    draw_clock_changes();
    draw_limits();
    draw_readings();
    if (chart_.bound) draw_bound();
    draw_words_beside();
    slab_.field = block_.field;
    laid_.slabs.push_back(std::move(slab_));
  }

 private:
  enum class Anchor { left, middle, right };
  struct Heights {
    Micrometres top = 0;
    Micrometres bottom = 0;
  };
  /// Words at the right of the plot, level with what they are about where there is room.
  struct Beside {
    Micrometres y = 0;
    std::string words;
    bool bold = false;
    bool above = false;  ///< ends where words that are level with `y` begin
  };

  Micrometres width_of(const std::string& words, Face face) const { return fonts_.width(words, face, block_.type.size); }
  Micrometres lane() const { return em_ * 15 / 10; }
  Micrometres cap() const { return fonts_.capital_height(block_.type.face, block_.type.size); }

  void put(const std::string& words, Micrometres x, Micrometres baseline, Anchor anchor, bool bold = false) {
    const Face face = bold ? bold_of(block_.type.face) : block_.type.face;
    const Refusals bad = check_text(words, face, fonts_, block_.field);
    if (!bad.empty()) return add(laid_.refusals, bad);
    const Micrometres wide = width_of(words, face);
    const Micrometres at = anchor == Anchor::left ? x : anchor == Anchor::middle ? x - wide / 2 : x - wide;
    slab_.marks.texts.push_back({std::clamp<Micrometres>(at, 0, std::max<Micrometres>(0, width_ - wide)), baseline, wide, words, face,
                                 block_.type.size, block_.type.ink});
  }

  void stroke(std::vector<Point> points, Micrometres thickness, Ink ink, const char* role, Micrometres dash = 0) {
    slab_.marks.strokes.push_back({std::move(points), thickness, ink, dash, role});
  }

  /// The readings that the table tells.
  std::set<Instant> told_in_table() const {
    std::set<Instant> told;
    const ChartTable table = chart_table(chart_);
    for (const ChartRow& row : table.readings) told.insert(row.at);
    for (const ChartStayRow& row : table.stays) {
      if (row.extremes.coldest) told.insert(row.extremes.coldest->at);
      if (row.extremes.warmest) told.insert(row.extremes.warmest->at);
    }
    return told;
  }

  /// A stay that reaches beyond the axis is open at that end.
  void draw_stays() {
    for (const StayBar& bar : stays_.bars) {
      const Micrometres top = em_ / 2 + static_cast<Micrometres>(bar.lane) * lane();
      const Micrometres bottom = top + em_ * 13 / 10;
      stroke({{bar.left, top}, {bar.right, top}}, hairline, 0, "stay");
      stroke({{bar.left, bottom}, {bar.right, bottom}}, hairline, 0, "stay");
      if (bar.begins) stroke({{bar.left, top}, {bar.left, bottom}}, 250, 0, "stay");
      if (bar.ends) stroke({{bar.right, top}, {bar.right, bottom}}, 250, 0, "stay");
      put(bar.words, bar.words_left, (top + bottom + cap()) / 2, Anchor::left);
    }
    if (stays_.left_out > 0) {
      put(fmt::format("and {} more, in the table", stays_.left_out), axes_.left,
          em_ * 3 / 2 + static_cast<Micrometres>(stays_.lanes) * lane(), Anchor::left);
    }
  }

  /// A band from the limit as far as the rule allows: to the top where it names no second temperature.
  void draw_allowance() {
    if (!chart_.limit || !chart_.allowance) return;
    const Micrometres low = axes_.y(*chart_.limit);
    const Micrometres high = chart_.allowance->up_to ? axes_.y(*chart_.allowance->up_to) : axes_.top;
    slab_.marks.fills.push_back(
        {axes_.left, std::min(low, high), axes_.right - axes_.left, std::max(low, high) - std::min(low, high), allowance_ink});
    if (chart_.allowance->up_to) stroke({{axes_.left, high}, {axes_.right, high}}, 150, 0, "allowance", 700);
    beside_.push_back({low, chart_.allowance->words, false, true});
  }

  void draw_degrees(const DegreeTicks& ticks) {
    for (int degree = ticks.low; degree <= ticks.high; degree += ticks.step) {
      const Micrometres y = axes_.y(on_scale(degree, chart_.scale));
      if (degree != ticks.low) stroke({{axes_.left, y}, {axes_.right, y}}, hairline, grid_ink, "grid");
      put(degree < 0 ? fmt::format("−{}", -degree) : fmt::format("{}", degree), axes_.left - 1500, y + cap() / 2, Anchor::right);
    }
    put(chart_.scale == Scale::celsius ? "°C" : "°F", axes_.left - 1500, axes_.top - cap() * 14 / 10, Anchor::right, true);
  }

  void draw_clock() {
    const Micrometres bottom = lower_.bottom;
    stroke({{axes_.left, axes_.bottom}, {axes_.right, axes_.bottom}}, 180, 0, "axis");
    if (chart_.bound) stroke({{axes_.left, bottom}, {axes_.right, bottom}}, 180, 0, "axis");
    Micrometres clock_end = 0;
    Micrometres day_end = 0;
    std::string last_day;
    for (const ClockTick& tick : clock_ticks(chart_, axes_.from, axes_.to)) {
      const Micrometres x = axes_.x(tick.at);
      stroke({{x, bottom}, {x, bottom + 900}}, hairline, 0, "axis");
      const std::string clock = tick_words(tick);
      const Micrometres half = width_of(clock, block_.type.face) / 2;
      if (x - half > clock_end) {
        put(clock, x, bottom + 900 + em_ * 11 / 10, Anchor::middle);
        clock_end = x + half + 1500;
      }
      const std::string day = day_words(tick);
      const Micrometres start = std::max<Micrometres>(0, x - half);
      if (day != last_day && (last_day.empty() || start > day_end)) {
        put(day, start, bottom + 900 + em_ * 24 / 10, Anchor::left);
        day_end = start + width_of(day, block_.type.face) + 2500;
        last_day = day;
      }
    }
  }

  /// `06:00`, of a chart that is a few minutes long `06:00:30`; where ticks are days apart, `2 May`.
  std::string tick_words(const ClockTick& tick) const {
    if (tick.whole_day) return day_and_month(day_of(tick.at, tick.offset));
    const bool seconds = axes_.to - axes_.from <= Span{std::chrono::minutes{4}};
    return format_zoned(tick.at, tick.offset).substr(11, seconds ? 8 : 5);
  }

  /// `2 May 2026`, or the year alone under ticks that are days apart.
  static std::string day_words(const ClockTick& tick) {
    const Date day = day_of(tick.at, tick.offset);
    return tick.whole_day ? fmt::format("{}", static_cast<int>(day.year())) : format_date_long(day);
  }

  /// An upright line with words on top, and under the axis the offset on either side of it.
  void draw_clock_changes() {
    for (const ShownClockChange& change : changes_) {
      const Micrometres x = axes_.x(change.at);
      const Micrometres row = strips_ + em_ * 14 / 10;
      stroke({{x, row}, {x, lower_.bottom}}, 200, 0, "clocks", 500);
      put("clocks " + clock_change_words(change), x, row - em_ * 4 / 10, Anchor::middle, true);
      const Micrometres under = lower_.bottom + 900 + em_ * 37 / 10;
      put(offset_words(change.before) + " before", x - 1000, under, Anchor::right);
      put(offset_words(change.after) + " after", x + 1000, under, Anchor::left);
      stroke({{x, under - cap() * 13 / 10}, {x, under + cap() * 3 / 10}}, 200, 0, "clocks");
    }
  }

  /// Hatched at 45 degrees, with its number above. Gaps that touch on paper are drawn as one.
  void draw_gaps() {
    struct Stretch {
      Micrometres left;
      Micrometres right;
      std::size_t first;
      std::size_t last;
    };
    std::vector<Stretch> stretches;
    for (std::size_t i = 0; i < chart_.gaps.size(); ++i) {
      const Micrometres left = axes_.x(chart_.gaps[i].from);
      const Micrometres right = axes_.x(chart_.gaps[i].to);
      if (!stretches.empty() && left < stretches.back().right + plot_column) {
        stretches.back().right = std::max(stretches.back().right, right);
        stretches.back().last = i;
      } else {
        stretches.push_back({left, right, i, i});
      }
    }
    Micrometres words_end = 0;
    for (const Stretch& stretch : stretches) {
      hatch(stretch.left, stretch.right, {axes_.top, axes_.bottom});
      if (chart_.bound) hatch(stretch.left, stretch.right, lower_);
      const std::string words = chart_.gaps.size() == 1         ? "gap"
                                : stretch.first == stretch.last ? fmt::format("gap {}", stretch.first + 1)
                                                                : fmt::format("gaps {}–{}", stretch.first + 1, stretch.last + 1);
      const Micrometres half = width_of(words, bold_of(block_.type.face)) / 2;
      const Micrometres middle = std::clamp((stretch.left + stretch.right) / 2, axes_.left + half, axes_.right - half);
      if (middle - half > words_end) {
        put(words, middle, axes_.top - cap() / 2, Anchor::middle, true);
        words_end = middle + half + 1200;
      }
    }
  }

  void hatch(Micrometres left, Micrometres right, const Heights& plot) {
    const Micrometres height = plot.bottom - plot.top;
    for (Micrometres start = left - height + hatch_step; start < right; start += hatch_step) {
      const Micrometres from = std::max(start, left);
      const Micrometres to = std::min(start + height, right);
      if (from < to) stroke({{from, plot.bottom - (from - start)}, {to, plot.bottom - (to - start)}}, hairline, hatch_ink, "gap");
    }
    for (const Micrometres edge : {left, right}) stroke({{edge, plot.top}, {edge, plot.bottom}}, hairline, hatch_ink, "gap");
  }

  void draw_limits() {
    if (!chart_.limit) return;
    const Micrometres y = axes_.y(*chart_.limit);
    stroke({{axes_.left, y}, {axes_.right, y}}, 300, 0, "limit", 1400);
    beside_.push_back({y, chart_.limit_words + (chart_.limit_is_ceiling ? "\nor colder" : "\nor hotter"), true, false});
  }

  /// Draws a line through samples, broken where they are not joined. Gives back which samples are on it.
  template <class At>
  std::vector<KeptSample> draw_line(const std::vector<Sample>& samples, const std::vector<std::int64_t>& levels, const char* role,
                                    bool steps_down, const At& height_of) {
    const std::vector<KeptSample> kept = decimate(samples, plot_column, levels);
    std::vector<Point> joined;
    const auto end_line = [&] {
      if (joined.size() > 1) stroke(std::move(joined), 180, 0, role);
      joined.clear();
    };
    for (const KeptSample& sample : kept) {
      if (!sample.joined) end_line();
      if (!samples[sample.index].value) continue;
      const Point point{axes_.left + samples[sample.index].x, height_of(*samples[sample.index].value)};
      // What was shown is lost at once: the reading before the fall is the last that it reached to.
      if (steps_down && !joined.empty() && point.y > joined.back().y) joined.push_back({joined.back().x, point.y});
      joined.push_back(point);
    }
    end_line();
    return kept;
  }

  void draw_readings() {
    const std::vector<Sample> samples = samples_of(chart_, axes_);
    const auto height_of = [&](std::int64_t parts) { return axes_.y(Temperature{} + TemperatureSpan::parts(parts)); };
    const auto kept = draw_line(samples, levels_of(chart_), "readings", false, height_of);
    std::optional<Micrometres> last_cross;
    for (std::size_t i = 0; i < kept.size(); ++i) {
      const Reading& reading = chart_.readings[kept[i].index];
      const Micrometres x = axes_.x(reading.at);
      if (!reading.temperature) {
        if (last_cross && x - *last_cross < closest_crosses) continue;
        const Micrometres y = axes_.bottom - 2200;
        stroke({{x - 800, y - 800}, {x + 800, y + 800}}, 200, 0, "fault");
        stroke({{x - 800, y + 800}, {x + 800, y - 800}}, 200, 0, "fault");
        last_cross = x;
        continue;
      }
      const bool alone = !kept[i].joined && (i + 1 == kept.size() || !kept[i + 1].joined);
      if (!told_.contains(reading.at) && (alone || chart_.readings.size() <= dots_for_all))
        slab_.marks.dots.push_back({{x, axes_.y(*reading.temperature)}, small_dot, 0});
    }
    for (const Reading& reading : chart_.readings) {
      if (reading.temperature && told_.contains(reading.at))
        slab_.marks.dots.push_back({{axes_.x(reading.at), axes_.y(*reading.temperature)}, large_dot, 0});
    }
    if (chart_.readings.empty()) put("no reading", (axes_.left + axes_.right) / 2, (axes_.top + axes_.bottom) / 2, Anchor::middle, true);
  }

  /// The second plot: what the heat step had shown by each reading, and what is wanted.
  void draw_bound() {
    const ChartBound& bound = *chart_.bound;
    const MinuteTicks ticks = minute_ticks(bound);
    const std::int64_t top = ticks.top_s * 1000;
    const auto height_of = [&](std::int64_t ms) { return lower_.bottom - std::min(ms, top) * (lower_.bottom - lower_.top) / top; };
    const bool in_minutes = ticks.step_s % 60 == 0;
    for (std::int64_t s = 0; s <= ticks.top_s; s += ticks.step_s) {
      const Micrometres y = height_of(s * 1000);
      if (s > 0) stroke({{axes_.left, y}, {axes_.right, y}}, hairline, grid_ink, "grid");
      put(fmt::format("{}", in_minutes ? s / 60 : s), axes_.left - 1500, y + cap() / 2, Anchor::right);
    }
    put(in_minutes ? "min" : "s", axes_.left - 1500, lower_.top - cap() * 14 / 10, Anchor::right, true);
    const std::vector<Sample> samples = bound_samples_of(chart_, axes_);
    std::int64_t most = 0;
    for (const Sample& sample : samples) most = std::max(most, *sample.value);
    put(bound.unit_words + (most > top ? fmt::format(" (drawn as far as {})", format_span(Span{top})) : ""), axes_.left,
        lower_.top - cap() * 9 / 10, Anchor::left);
    if (bound.wanted > Span{}) {
      const Micrometres wanted = height_of(bound.wanted.count());
      stroke({{axes_.left, wanted}, {axes_.right, wanted}}, 300, 0, "wanted", 1400);
      beside_.push_back({wanted, bound.wanted_words, true, false});
    }
    draw_line(samples, {bound.wanted.count()}, "shown", true, height_of);
    for (std::size_t i = 0; i < samples.size(); ++i) {
      if (told_.contains(bound.shown[i].at))
        slab_.marks.dots.push_back({{axes_.left + samples[i].x, height_of(*samples[i].value)}, large_dot, 0});
    }
    beside_.push_back({height_of(most), fmt::format("{} shown", format_span(Span{most})), false, false});
  }

  /// Each level with its line if there is room, else moved clear of its neighbours, with a thin line that leads to it.
  void draw_words_beside() {
    std::stable_sort(beside_.begin(), beside_.end(),
                     [](const Beside& a, const Beside& b) { return a.y != b.y ? a.y < b.y : a.above && !b.above; });
    const Micrometres left = axes_.right + 2500;
    std::vector<Marks> pieces;
    std::vector<Micrometres> wanted;
    std::vector<Micrometres> heights;
    for (const Beside& beside : beside_) {
      Paragraph words;
      words.runs = {block_.type};
      words.runs.front().text = beside.words;
      if (beside.bold) words.runs.front().face = bold_of(block_.type.face);
      words.field = block_.field;
      const Shape& shape = type_.shape_of(words);
      const Refusals bad = check_paragraph(words, shape, fonts_);
      if (!bad.empty()) return add(laid_.refusals, bad);
      const auto lines = break_lines(words, shape, width_ - left, fonts_);
      if (!lines) return add(laid_.refusals, lines.error());
      Marks marks;
      Micrometres down = 0;
      Micrometres first = 0;
      for (const Line& line : *lines) {
        const Slab slab = slab_of(line, 120, fonts_);
        add_moved(marks, slab.marks, left, down);
        down += slab.height;
        if (first == 0) first = slab.height;
      }
      pieces.push_back(std::move(marks));
      heights.push_back(down);
      wanted.push_back(beside.y - first / 2 - (beside.above ? down : 0));
    }
    const auto tops = spread_out(wanted, heights, slab_.height);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      add_moved(slab_.marks, pieces[i], 0, tops[i]);
      if (beside_[i].above) continue;
      const Micrometres off = tops[i] - wanted[i];
      if (off > em_ / 2 || -off > em_ / 2)
        stroke({{axes_.right + 300, beside_[i].y}, {left - 400, beside_[i].y + off}}, hairline, 0, "leader");
    }
  }

  const Chart& chart_;
  const ChartBlock& block_;
  Micrometres width_;
  TypeCase& type_;
  const Fonts& fonts_;
  Laid& laid_;
  Micrometres em_;
  Axes axes_;
  Heights lower_;           ///< of the second plot; without one both are where the first ends
  Micrometres strips_ = 0;  ///< height of the strips of stays
  StayBars stays_;
  std::vector<ShownClockChange> changes_;
  std::set<Instant> told_;
  std::vector<Beside> beside_;
  Slab slab_;
};

}  // namespace

void lay_chart(const ChartBlock& block, Micrometres width, TypeCase& type, Laid& laid) { ChartLayer{block, width, type, laid}.run(); }

}  // namespace tierproof::papers
