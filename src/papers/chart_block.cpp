#include "chart_block.h"

#include <fmt/format.h>

#include <algorithm>

#include "chart_scale.h"
#include "tierproof/papers/chart.h"

namespace tierproof::papers {
namespace {

constexpr const char* no_break = "\u00A0";
constexpr std::size_t gaps_told = 12;

/// The words under one chart, in the type of the business's records.
class ChartWords {
 public:
  ChartWords(const Chart& chart, const RecordType& type, const std::string& field) : chart_{chart}, type_{type}, field_{field} {}

  std::vector<Block> blocks() {
    Paragraph title = type_.paragraph({type_.bold(chart_.title)}, field_);
    title.before = type_.section;
    title.keep_with_next = true;
    blocks_.emplace_back(std::move(title));
    blocks_.emplace_back(ChartBlock{chart_, 46000, type_.tiny(""), field_});
    const ChartTable table = chart_table(chart_);
    add_readings(table);
    add_stays(table);
    if (!chart_.gaps.empty()) tell(gaps());
    if (chart_.allowance && !chart_.allowance->words.empty()) tell("Allowed beyond the limit: " + chart_.allowance->words + ".");
    for (const ShownClockChange& change : clock_changes_in(chart_, chart_.from, chart_.to)) {
      tell(fmt::format("The clocks went {} on {}: {} {} became {} {}.", clock_change_words(change),
                       format_date_long(day_of(change.at, change.before)), format_clock(change.at, change.before),
                       offset_words(change.before), format_clock(change.at, change.after), offset_words(change.after)));
    }
    if (chart_.bound && !chart_.bound->told.empty()) tell("As judged: " + chart_.bound->told + ".");
    if (!chart_.note.empty()) tell(chart_.note);
    return std::move(blocks_);
  }

 private:
  void tell(const std::string& words) { blocks_.emplace_back(type_.paragraph({type_.tiny(words)}, field_)); }

  /// `06:05`, `06:05:30`, `2 May 06:05 UTC+1`: as much as tells the readings apart.
  std::string time_of(const ChartRow& row) const {
    std::string words = format_zoned(row.at, row.offset).substr(11, seconds_ ? 8 : 5);
    if (days_) words = day_and_month(day_of(row.at, row.offset)) + " " + words;
    if (offsets_) words += " " + offset_words(row.offset);
    return no_breaks(std::move(words));
  }

  /// How many groups of columns stand beside each other on A4, by the length of a time.
  static std::size_t groups_of(const std::string& time, bool bound) {
    constexpr Micrometres paper = 179000, letter = 1350, reading = 17500, shown = 17500;
    const auto letters = std::count_if(time.begin(), time.end(), [](char c) { return (c & 0xC0) != 0x80; });
    const Micrometres group = letters * letter + reading + (bound ? shown : 0);
    return std::clamp<std::size_t>(static_cast<std::size_t>(paper / group), 1, 6);
  }

  /// Rows beside each other in groups, to be read downwards.
  void add_readings(const ChartTable& told) {
    const auto& rows = told.readings;
    if (rows.empty()) return;
    for (const ChartRow& row : rows) {
      days_ = days_ || day_of(row.at, row.offset) != day_of(rows.front().at, rows.front().offset);
      seconds_ = seconds_ || row.at.time_since_epoch() % std::chrono::minutes{1} != Span{};
    }
    offsets_ = !clock_changes_in(chart_, rows.front().at, rows.back().at).empty();
    const bool bound = chart_.bound.has_value();
    std::string longest;
    for (const ChartRow& row : rows) {
      if (std::string words = time_of(row); words.size() > longest.size()) longest = std::move(words);
    }
    const std::size_t groups = groups_of(longest, bound);
    const std::size_t lines = (rows.size() + groups - 1) / groups;
    std::vector<std::string> heads;
    for (std::size_t group = 0; group < groups && group * lines < rows.size(); ++group) {
      heads.insert(heads.end(), {"time", "reading"});
      if (bound) heads.emplace_back("shown by then");
    }
    Table table = type_.table(heads);
    table.padding = type_.padding / 5;
    table.gap = 3000;
    table.before = type_.padding;
    table.after = type_.padding;
    for (std::size_t line = 0; line < lines; ++line) {
      Row made;
      made.rule_below = false;
      for (std::size_t i = line; made.cells.size() < heads.size(); i += lines) {
        const ChartRow* row = i < rows.size() ? &rows[i] : nullptr;
        const auto put = [&](const std::string& words) { made.cells.push_back(type_.cell({type_.tiny(words)}, field_)); };
        put(row == nullptr ? "" : time_of(*row));
        put(row == nullptr ? "" : row->temperature ? no_breaks(degrees_words(*row->temperature, chart_.scale)) : "fault");
        if (bound) put(row == nullptr || !row->shown ? "" : no_breaks(minutes_words(*row->shown)));
      }
      table.rows.push_back(std::move(made));
    }
    blocks_.emplace_back(std::move(table));
    if (rows.size() < chart_.readings.size()) {
      tell(fmt::format(
          "The table tells {} of {} readings, the large dots: the coldest and the warmest of each stretch of the time, and those "
          "beside a gap, a fault or a crossing of the limit. The data kept with this paper has them all.",
          rows.size(), chart_.readings.size()));
    }
  }

  void add_stays(const ChartTable& told) {
    if (told.stays.empty()) return;
    Table table = type_.table({"what stood there", "from", "to", "coldest reading", "warmest reading"});
    table.padding = type_.padding / 5;
    table.before = type_.padding;
    table.after = type_.padding;
    for (std::size_t i = 0; i < told.stays.size(); ++i) {
      const ChartStayRow& row = told.stays[i];
      Row made;
      made.rule_below = false;
      const auto put = [&](const std::string& words) { made.cells.push_back(type_.cell({type_.tiny(words)}, field_)); };
      put(fmt::format("{} {}", i + 1, row.stay.name));
      put(short_moment(row.stay.from));
      put(short_moment(row.stay.to));
      put(extreme(row.extremes.coldest));
      put(extreme(row.extremes.warmest));
      table.rows.push_back(std::move(made));
    }
    blocks_.emplace_back(std::move(table));
  }

  std::string extreme(const std::optional<Reading>& reading) const {
    if (!reading) return "no reading";
    return fmt::format("{}, {}", no_breaks(degrees_words(*reading->temperature, chart_.scale)), short_moment(reading->at));
  }

  /// `2 May 08:10`, with the offset where the chart has more than one.
  std::string short_moment(Instant at) const {
    const Offset offset = offset_of(chart_, at);
    return no_breaks(day_and_month(day_of(at, offset)) + " " + format_clock(at, offset) +
                     (chart_.clock_changes.empty() ? "" : " " + offset_words(offset)));
  }

  /// `2 May 2026, 08:10`, with the offset where the chart has more than one.
  std::string moment(Instant at) const {
    const Offset offset = offset_of(chart_, at);
    return format_moment(at, offset) + (chart_.clock_changes.empty() ? "" : " " + offset_words(offset));
  }

  std::string gaps() const {
    std::string words;
    for (std::size_t i = 0; i < chart_.gaps.size() && i < gaps_told; ++i) {
      const Gap& gap = chart_.gaps[i];
      const bool same_day = day_of(gap.from, offset_of(chart_, gap.from)) == day_of(gap.to, offset_of(chart_, gap.to));
      const std::string to = same_day && chart_.clock_changes.empty() ? format_clock(gap.to, offset_of(chart_, gap.to)) : moment(gap.to);
      words += fmt::format("{}Gap{}: {} to {}{}", words.empty() ? "" : ". ", chart_.gaps.size() == 1 ? "" : fmt::format(" {}", i + 1),
                           moment(gap.from), to, gap.why.empty() ? "" : ", " + gap.why);
    }
    if (chart_.gaps.size() > gaps_told)
      words += fmt::format(". And {} more gaps; the data kept with this paper has all of them", chart_.gaps.size() - gaps_told);
    return words + ".";
  }

  static std::string no_breaks(std::string words) {
    for (std::size_t i = words.find(' '); i != std::string::npos; i = words.find(' ', i)) words.replace(i, 1, no_break);
    return words;
  }

  const Chart& chart_;
  const RecordType& type_;
  const std::string& field_;
  std::vector<Block> blocks_;
  bool days_ = false;     ///< the readings of the table are of several days
  bool seconds_ = false;  ///< they are not all at whole minutes
  bool offsets_ = false;  ///< the clocks changed between them
};

}  // namespace

Block chart_block(const Chart& chart, const RecordType& type, const std::string& field) {
  return Together{ChartWords{chart, type, field}.blocks()};
}

}  // namespace tierproof::papers
