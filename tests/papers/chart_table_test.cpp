#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <chrono>
#include <set>

#include "sample.h"
#include "tierproof/papers/cake_record.h"
#include "tierproof/papers/chart.h"
#include "tierproof/papers/document.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/papers/svg.h"

// The numbers of a chart as a table: what is drawn is told, and what is told is drawn.

namespace tierproof {
namespace {

using std::chrono::hours;
using std::chrono::minutes;
using testdata::a_chart_of_a_heat_step;
using testdata::a_chart_of_the_night_the_clocks_went_back;
using testdata::a_chart_with_a_gap;
using testdata::fonts;

Pages pages_with(const Chart& chart) {
  Document document;
  document.width = 210000;
  document.height = 297000;
  document.left = document.right = document.top = document.bottom = 15000;
  document.blocks = {ChartBlock{chart, 46000, {"", Face::condensed, PointSize::hundredths(750), 0}, "chart"}};
  auto pages = lay_out(document, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {{Page{}}};
  }
  return std::move(pages).value();
}

/// Where the axes of a chart that has a limit lie on the paper, told by its limit line and its degrees.
struct PlotOnPaper {
  Micrometres left = 0;
  Micrometres right = 0;
  Micrometres limit = 0;
  double per_kelvin = 0;  ///< micrometres
};

PlotOnPaper plot_of(const Page& page) {
  PlotOnPaper plot;
  std::vector<std::pair<double, Micrometres>> degrees;  // of the numbers left of the plot
  for (const Stroke& stroke : page.marks.strokes) {
    if (stroke.role != "limit") continue;
    plot.left = stroke.points.front().x;
    plot.right = stroke.points.back().x;
    plot.limit = stroke.points.front().y;
  }
  for (const PlacedText& text : page.marks.texts) {
    if (text.x + text.width != plot.left - 1500 || text.text.find_first_not_of("0123456789") != std::string::npos) continue;
    if (degrees.empty() || text.baseline < degrees.back().second) degrees.emplace_back(std::stod(text.text), text.baseline);
  }
  EXPECT_GE(degrees.size(), 2U);
  if (degrees.size() < 2) return plot;
  plot.per_kelvin = static_cast<double>(degrees.front().second - degrees.back().second) / (degrees.back().first - degrees.front().first);
  return plot;
}

/// The places of the large dots, each once.
std::set<std::pair<Micrometres, Micrometres>> large_dots(const Page& page) {
  std::set<std::pair<Micrometres, Micrometres>> dots;
  Micrometres largest = 0;
  for (const Dot& dot : page.marks.dots) largest = std::max(largest, dot.radius);
  for (const Dot& dot : page.marks.dots) {
    if (dot.radius == largest) dots.emplace(dot.centre.x, dot.centre.y);
  }
  return dots;
}

/// Every reading with a temperature that the tables of `chart` tell.
std::vector<Reading> told_readings_of(const Chart& chart) {
  const ChartTable table = chart_table(chart);
  std::vector<Reading> told;
  for (const ChartRow& row : table.readings) {
    if (row.temperature) told.push_back({row.at, row.temperature});
  }
  for (const ChartStayRow& row : table.stays) {
    if (row.extremes.coldest) told.push_back(*row.extremes.coldest);
    if (row.extremes.warmest) told.push_back(*row.extremes.warmest);
  }
  return told;
}

void expect_dots_to_be_the_table(const Chart& chart) {
  const Page page = pages_with(chart).pages.front();
  const PlotOnPaper plot = plot_of(page);
  const Instant from = std::min(chart.from, chart.readings.front().at);
  const Instant to = std::max(chart.to, chart.readings.back().at);
  auto dots = large_dots(page);
  std::set<std::pair<Micrometres, Micrometres>> wanted;
  for (const Reading& reading : told_readings_of(chart)) {
    const double x = static_cast<double>(plot.left) + static_cast<double>((reading.at - from).count()) *
                                                          static_cast<double>(plot.right - plot.left) /
                                                          static_cast<double>((to - from).count());
    const double y = static_cast<double>(plot.limit) - (*reading.temperature - *chart.limit).to_kelvins() * plot.per_kelvin;
    const auto found = std::find_if(dots.begin(), dots.end(), [&](const auto& dot) {
      return std::abs(static_cast<double>(dot.first) - x) <= 2.0 && std::abs(static_cast<double>(dot.second) - y) <= 30.0;
    });
    ASSERT_NE(found, dots.end()) << format_moment(reading.at, chart.offset) << " is told and not drawn";
    wanted.insert(*found);
  }
  EXPECT_EQ(wanted.size(), dots.size()) << "a large dot is drawn that no table tells";
}

TEST(ChartTable, TellsEveryLargeDotAndNoOtherOfAFewReadings) { expect_dots_to_be_the_table(a_chart_with_a_gap()); }

TEST(ChartTable, TellsEveryLargeDotAndNoOtherOfALongNight) {
  const Chart chart = a_chart_of_the_night_the_clocks_went_back();
  ASSERT_GT(chart.readings.size(), chart_rows);
  expect_dots_to_be_the_table(chart);
}

TEST(ChartTable, TellsEveryReadingWhereTheyAreFew) {
  const Chart chart = a_chart_of_a_heat_step();
  ASSERT_LE(chart.readings.size(), chart_rows);
  const ChartTable table = chart_table(chart);
  ASSERT_EQ(table.readings.size(), chart.readings.size());
  for (std::size_t i = 0; i < table.readings.size(); ++i) {
    EXPECT_EQ(table.readings[i].at, chart.readings[i].at);
    EXPECT_EQ(table.readings[i].temperature, chart.readings[i].temperature);
    ASSERT_TRUE(table.readings[i].shown);
    EXPECT_EQ(*table.readings[i].shown, chart.bound->shown[i].lower);
  }
}

TEST(ChartTable, TellsTheClockOnBothSidesOfItsChange) {
  const ChartTable table = chart_table(a_chart_of_the_night_the_clocks_went_back());
  EXPECT_EQ(table.readings.front().offset.minutes, 60);
  EXPECT_EQ(table.readings.back().offset.minutes, 0);
}

TEST(ChartTable, TellsTheColdestAndTheWarmestOfEveryStay) {
  const ChartTable table = chart_table(a_chart_of_the_night_the_clocks_went_back());
  ASSERT_EQ(table.stays.size(), 4U);
  ASSERT_TRUE(table.stays[3].extremes.warmest);
  EXPECT_EQ(*table.stays[3].extremes.warmest->temperature, celsius(9.5));  // while the door stood open
  ASSERT_TRUE(table.stays[1].extremes.warmest);
  EXPECT_LT(*table.stays[1].extremes.warmest->temperature, celsius(8.0));
}

RC_GTEST_PROP(ChartTable, KeepsToItsRowsAndTellsPeakLowAndBothEnds, ()) {
  Chart chart;
  chart.from = Instant{hours{500000}};
  const auto count = *rc::gen::inRange<std::size_t>(1, 600);
  for (std::size_t i = 0; i < count; ++i) {
    Reading reading{chart.from + minutes{5 * i}, Temperature::hundredths_celsius(*rc::gen::inRange<std::int64_t>(0, 1200))};
    if (*rc::gen::inRange(0, 30) == 0) reading.temperature = std::nullopt;
    chart.readings.push_back(reading);
  }
  chart.to = chart.readings.back().at;
  if (*rc::gen::arbitrary<bool>()) chart.limit = celsius(8.0);
  if (*rc::gen::arbitrary<bool>()) {
    chart.bound.emplace();
    chart.bound->shown = held_so_far(chart.readings, celsius(6.0), {}, minutes{5});
  }
  const ChartTable table = chart_table(chart);
  RC_ASSERT(table.readings.size() <= chart_rows);
  RC_ASSERT(table.readings.front().at == chart.readings.front().at);
  RC_ASSERT(table.readings.back().at == chart.readings.back().at);
  const Extremes all = extremes_in(chart.readings, chart.from, chart.to);
  const auto tells = [&](const auto& matches) { return std::any_of(table.readings.begin(), table.readings.end(), matches); };
  if (all.coldest) {
    RC_ASSERT(tells([&](const ChartRow& row) { return row.temperature == all.coldest->temperature; }));
    RC_ASSERT(tells([&](const ChartRow& row) { return row.temperature == all.warmest->temperature; }));
  }
  if (chart.bound) {
    const auto most = std::max_element(chart.bound->shown.begin(), chart.bound->shown.end(),
                                       [](const ShownSoFar& a, const ShownSoFar& b) { return a.lower < b.lower; });
    RC_ASSERT(tells([&](const ChartRow& row) { return row.shown == most->lower; }));
  }
  for (const ChartRow& row : table.readings) {
    RC_ASSERT(row.at == chart.readings.at(row.reading).at);
    RC_ASSERT(row.temperature == chart.readings.at(row.reading).temperature);
  }
}

TEST(ChartTable, StandsUnderTheChartOfTheRecord) {
  CakeRecordContent record = testdata::a_record();
  record.charts = {a_chart_of_a_heat_step()};
  const auto pages = lay_out_cake_record(record, fonts());
  ASSERT_TRUE(pages) << describe(pages.error().front());
  std::string text;
  for (const Page& page : pages->pages) text += text_of(page);
  text = testdata::words_of_text(text);
  for (const char* words : {"shown", "10:11:00 71.7 °C 2 min 45 s", "2 min wanted", "2 min 45 s shown", "As judged: held at or above"})
    EXPECT_NE(text.find(words), std::string::npos) << words;
}

/// A thermometer that is read every 54 ms for fifteen hours, trembling about 6 °C.
Chart a_chart_of_a_million_readings() {
  Chart chart = a_chart_of_the_night_the_clocks_went_back();
  chart.readings.clear();
  chart.gaps.clear();
  std::uint32_t chance = 1;
  double degrees = 5.0;
  for (int i = 0; i < 1'000'000; ++i) {
    chance = chance * 1664525U + 1013904223U;
    degrees += (static_cast<double>((chance >> 16) % 200) - 99.5) * 0.0006 - (degrees - 6.0) * 0.001;
    chart.readings.push_back({chart.from + std::chrono::milliseconds{54 * i}, celsius(degrees)});
  }
  chart.readings[345'678].temperature = celsius(11.5);  // one single reading far above the limit
  return chart;
}

TEST(ChartSize, AMillionReadingsStayUnder60KilobytesAndKeepTheirPeak) {
  const Chart chart = a_chart_of_a_million_readings();
  const Pages pages = pages_with(chart);
  Chart bare = chart;
  bare.readings.resize(1);
  const auto bytes = write_pdf(pages, fonts(), PdfInfo{}).size();
  const auto of_a_bare_page = write_pdf(pages_with(bare), fonts(), PdfInfo{}).size();  // the faces are most of it
  EXPECT_LT(bytes - of_a_bare_page, 60'000U);
  EXPECT_LT(write_svg(pages, 0).size(), 200'000U);
  const PlotOnPaper plot = plot_of(pages.pages.front());
  Micrometres highest = 1'000'000;
  for (const Stroke& stroke : pages.pages.front().marks.strokes) {
    if (stroke.role != "readings") continue;
    for (const Point& point : stroke.points) highest = std::min(highest, point.y);
  }
  EXPECT_NEAR(static_cast<double>(plot.limit - highest) / plot.per_kelvin, 3.5, 0.02);  // 11.5 °C against 8 °C
  const ChartTable table = chart_table(chart);
  EXPECT_TRUE(
      std::any_of(table.readings.begin(), table.readings.end(), [](const ChartRow& row) { return row.temperature == celsius(11.5); }));
}

TEST(ChartSize, TheSameMarksAreInThePdfAndInTheSvg) {
  const Pages pages = pages_with(a_chart_of_a_heat_step());
  const std::string svg = write_svg(pages, 0);
  std::size_t circles = 0;
  for (std::size_t at = svg.find("<circle"); at != std::string::npos; at = svg.find("<circle", at + 1)) ++circles;
  EXPECT_EQ(circles, pages.pages.front().marks.dots.size());
  for (const char* role : {"class=\"readings\"", "class=\"limit\"", "class=\"shown\"", "class=\"wanted\""})
    EXPECT_NE(svg.find(role), std::string::npos) << role;
  for (const PlacedText& text : pages.pages.front().marks.texts) EXPECT_NE(svg.find(">" + text.text + "<"), std::string::npos) << text.text;
}

}  // namespace
}  // namespace tierproof
