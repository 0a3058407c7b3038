#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <chrono>

#include "sample.h"
#include "tierproof/papers/document.h"

namespace tierproof {
namespace {

using std::chrono::hours;
using std::chrono::minutes;
using testdata::a_chart_with_a_gap;
using testdata::fonts;

Page drawn(const Chart& chart) {
  Document document;
  document.width = 210000;
  document.height = 297000;
  document.left = document.right = document.top = document.bottom = 15000;
  document.blocks = {ChartBlock{chart, 46000, {"", Face::condensed, PointSize::hundredths(750), 0}, "chart"}};
  const auto pages = lay_out(document, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {};
  }
  return pages->pages.front();
}

std::vector<Stroke> strokes(const Page& page, std::string_view role) {
  std::vector<Stroke> found;
  std::copy_if(page.marks.strokes.begin(), page.marks.strokes.end(), std::back_inserter(found),
               [&](const Stroke& stroke) { return stroke.role == role; });
  return found;
}

/// The left and right edges of the hatching.
std::vector<std::pair<Micrometres, Micrometres>> gap_edges(const Page& page) {
  std::vector<Micrometres> upright;
  for (const Stroke& stroke : strokes(page, "gap")) {
    if (stroke.points[0].x == stroke.points[1].x) upright.push_back(stroke.points[0].x);
  }
  std::vector<std::pair<Micrometres, Micrometres>> edges;
  for (std::size_t i = 0; i + 1 < upright.size(); i += 2) edges.emplace_back(upright[i], upright[i + 1]);
  return edges;
}

TEST(Chart, DrawsNoLineAcrossAGap) {
  const Page page = drawn(a_chart_with_a_gap());
  const auto edges = gap_edges(page);
  ASSERT_EQ(edges.size(), 2U);
  const auto lines = strokes(page, "readings");
  ASSERT_EQ(lines.size(), 3U);
  for (const Stroke& line : lines) {
    for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
      for (const auto& [left, right] : edges) {
        EXPECT_TRUE(line.points[i + 1].x <= left || line.points[i].x >= right) << line.points[i].x << " to " << line.points[i + 1].x;
      }
    }
  }
}

TEST(Chart, JoinsReadingsWhereNothingIsMissing) {
  Chart chart = a_chart_with_a_gap();
  chart.gaps.clear();
  std::erase_if(chart.readings, [](const Reading& reading) { return !reading.temperature; });
  const auto lines = strokes(drawn(chart), "readings");
  ASSERT_EQ(lines.size(), 1U);
  EXPECT_EQ(lines[0].points.size(), chart.readings.size());
}

TEST(Chart, DrawsADotForEveryReadingAndACrossForEveryFault) {
  const Chart chart = a_chart_with_a_gap();
  const auto faults =
      std::count_if(chart.readings.begin(), chart.readings.end(), [](const Reading& reading) { return !reading.temperature; });
  ASSERT_EQ(faults, 1);
  const Page page = drawn(chart);
  EXPECT_EQ(page.marks.dots.size() + static_cast<std::size_t>(faults), chart.readings.size());
  EXPECT_EQ(strokes(page, "fault").size(), 2U);
}

TEST(Chart, DrawsNoLineThroughAFaultEvenWithoutAGap) {
  Chart chart = a_chart_with_a_gap();
  chart.gaps.clear();
  EXPECT_EQ(strokes(drawn(chart), "readings").size(), 2U);
}

TEST(Chart, PutsWarmerReadingsHigherAndLaterOnesFurtherRight) {
  Chart chart;
  chart.from = Instant{hours{1000}};
  chart.to = chart.from + hours{2};
  chart.readings = {{chart.from, celsius(4.0)}, {chart.from + hours{1}, celsius(6.0)}, {chart.to, celsius(5.0)}};
  const Page page = drawn(chart);
  ASSERT_EQ(page.marks.dots.size(), 3U);
  const auto& dots = page.marks.dots;
  EXPECT_LT(dots[1].centre.y, dots[2].centre.y);
  EXPECT_LT(dots[2].centre.y, dots[0].centre.y);
  // Halfway in time is halfway across, and 5 is halfway between 4 and 6.
  EXPECT_NEAR(static_cast<double>(dots[1].centre.x), static_cast<double>(dots[0].centre.x + dots[2].centre.x) / 2, 1.0);
  EXPECT_NEAR(static_cast<double>(dots[2].centre.y), static_cast<double>(dots[0].centre.y + dots[1].centre.y) / 2, 1.0);
}

TEST(Chart, SaysItsUnitsItsLimitAndItsGaps) {
  const std::string text = text_of(drawn(a_chart_with_a_gap()));
  for (const char* words : {"°C", "limit 8 °C (food)", "or colder", "gap 1", "gap 2", "07:00", "13:00", "2 May 2031"}) {
    EXPECT_NE(text.find(words), std::string::npos) << words << " is not in\n" << text;
  }
}

TEST(Chart, DrawsItsLimitBetweenTheDegreesAroundIt) {
  const Page page = drawn(a_chart_with_a_gap());
  const auto limit = strokes(page, "limit");
  ASSERT_EQ(limit.size(), 1U);
  EXPECT_GT(limit[0].dash, 0);
  Micrometres highest = 1000000;
  for (const Dot& dot : page.marks.dots) highest = std::min(highest, dot.centre.y);
  EXPECT_LT(limit[0].points[0].y, highest);  // 8 °C lies above the warmest reading, 7.45 °C
}

TEST(Chart, SaysOrHotterWhereTheLimitMustBeReached) {
  Chart chart = a_chart_with_a_gap();
  chart.limit_is_ceiling = false;
  EXPECT_NE(text_of(drawn(chart)).find("or hotter"), std::string::npos);
}

TEST(Chart, ReadsInFahrenheitWhereItIsAskedTo) {
  Chart chart = a_chart_with_a_gap();
  chart.scale = Scale::fahrenheit;
  const std::string text = text_of(drawn(chart));
  EXPECT_NE(text.find("°F"), std::string::npos);
  EXPECT_NE(text.find("\n46\n"), std::string::npos) << text;  // 8 °C are 46.4 °F
}

TEST(Chart, SaysThatThereIsNoReading) {
  Chart chart = a_chart_with_a_gap();
  chart.readings.clear();
  const Page page = drawn(chart);
  EXPECT_NE(text_of(page).find("no reading"), std::string::npos);
  EXPECT_TRUE(page.marks.dots.empty());
}

RC_GTEST_PROP(ChartProperty, StaysInItsPlaceAndNeverBridgesAGap, ()) {
  Chart chart;
  chart.from = Instant{hours{500000}};
  const auto count = *rc::gen::inRange<int>(0, 60);
  const auto step = *rc::gen::inRange<int>(1, 300);
  for (int i = 0; i < count; ++i) {
    Reading reading{chart.from + minutes{i * step}, Temperature::hundredths_celsius(*rc::gen::inRange<std::int64_t>(-3000, 20000))};
    if (*rc::gen::inRange(0, 8) == 0) reading.temperature = std::nullopt;
    if (i > 0 && *rc::gen::inRange(0, 6) == 0) chart.gaps.push_back({chart.readings.back().at, reading.at, "test"});
    chart.readings.push_back(reading);
  }
  chart.to = chart.from + minutes{std::max(0, count - 1) * step};
  if (*rc::gen::arbitrary<bool>()) {
    chart.limit = Temperature::hundredths_celsius(*rc::gen::inRange<std::int64_t>(-2000, 13000));
    chart.limit_words = "limit";
  }
  const Page page = drawn(chart);
  for (const Stroke& stroke : page.marks.strokes) {
    for (const Point& point : stroke.points) {
      RC_ASSERT(point.x >= 15000);
      RC_ASSERT(point.x <= 195000);
      RC_ASSERT(point.y >= 15000);
      RC_ASSERT(point.y <= 15000 + 46000);
    }
  }
  for (const Dot& dot : page.marks.dots) RC_ASSERT(dot.centre.y >= 15000 && dot.centre.y <= 61000);
  for (const Stroke& line : strokes(page, "readings")) {
    for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
      for (const auto& [left, right] : gap_edges(page)) RC_ASSERT(line.points[i + 1].x <= left || line.points[i].x >= right);
    }
  }
}

}  // namespace
}  // namespace tierproof
