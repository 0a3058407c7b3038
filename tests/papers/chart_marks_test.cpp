#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>

#include "papers/chart_scale.h"
#include "papers/chart_strip.h"
#include "sample.h"
#include "tierproof/papers/document.h"

// What a chart draws beside its readings: stays, the allowance, changes of the clocks, and how a heat step built up.

namespace tierproof {
namespace {

using std::chrono::hours;
using std::chrono::minutes;
using testdata::a_chart_of_a_heat_step;
using testdata::a_chart_of_the_night_the_clocks_went_back;

Page page_of_chart(const Chart& chart) {
  Document document;
  document.width = 210000;
  document.height = 297000;
  document.left = document.right = document.top = document.bottom = 15000;
  document.blocks = {ChartBlock{chart, 46000, {"", Face::condensed, PointSize::hundredths(750), 0}, "chart"}};
  const auto pages = lay_out(document, testdata::fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {};
  }
  return pages->pages.front();
}

std::vector<Stroke> strokes_for(const Page& page, std::string_view role) {
  std::vector<Stroke> found;
  std::copy_if(page.marks.strokes.begin(), page.marks.strokes.end(), std::back_inserter(found),
               [&](const Stroke& stroke) { return stroke.role == role; });
  return found;
}

const PlacedText* words_on(const Page& page, const std::string& words) {
  const auto found =
      std::find_if(page.marks.texts.begin(), page.marks.texts.end(), [&](const PlacedText& text) { return text.text == words; });
  return found == page.marks.texts.end() ? nullptr : &*found;
}

TEST(ChartMarks, NoWordsLieOverEachOther) {
  for (const Chart& chart : {testdata::a_chart_with_a_gap(), a_chart_of_the_night_the_clocks_went_back(), a_chart_of_a_heat_step()}) {
    const Page page = page_of_chart(chart);
    for (std::size_t i = 0; i < page.marks.texts.size(); ++i) {
      for (std::size_t j = i + 1; j < page.marks.texts.size(); ++j) {
        const PlacedText& a = page.marks.texts[i];
        const PlacedText& b = page.marks.texts[j];
        const bool apart = a.x + a.width <= b.x || b.x + b.width <= a.x || std::abs(a.baseline - b.baseline) >= 1900;  // a capital's height
        EXPECT_TRUE(apart) << a.text << " and " << b.text << " of " << chart.title;
      }
    }
  }
}

TEST(ChartMarks, BarsNameWhatStoodThereWithinTheAxis) {
  const Page page = page_of_chart(a_chart_of_the_night_the_clocks_went_back());
  const Stroke limit = strokes_for(page, "limit").at(0);
  for (const char* name :
       {"cake-1 Three-tier almond sponge", "batch-6 raspberry filling", "batch-3 meringue buttercream", "cake-2 Lemon sponge"})
    EXPECT_NE(words_on(page, name), nullptr) << name;
  std::size_t ends = 0;
  for (const Stroke& stroke : strokes_for(page, "stay")) {
    for (const Point& point : stroke.points) {
      EXPECT_GE(point.x, limit.points.front().x);
      EXPECT_LE(point.x, limit.points.back().x);
    }
    ends += stroke.points[0].x == stroke.points[1].x ? 1U : 0U;
  }
  EXPECT_EQ(ends, 6U) << "of four stays, one was there before and one stayed on: these two are open at one end";
}

TEST(ChartMarks, ABarWithoutRoomForItsNameTellsItsNumber) {
  Chart chart;
  chart.stays = {{"a name far too long for the whole width of the plot", chart.from + minutes{1}, chart.from + minutes{2}}};
  papers::Axes axes;
  axes.to = axes.from + minutes{10};
  axes.right = 20000;
  const auto placed =
      papers::stay_bars(chart, axes, [](const std::string& words) { return static_cast<Micrometres>(words.size()) * 1000; });
  ASSERT_EQ(placed.bars.size(), 1U);
  EXPECT_EQ(placed.bars[0].words, "1");
}

TEST(ChartMarks, CrowdedStaysAreCountedAndNoneIsForgotten) {
  Chart chart;
  for (int i = 0; i < 9; ++i) chart.stays.push_back({"cake", chart.from, chart.from + minutes{10}});
  papers::Axes axes;
  axes.to = axes.from + minutes{10};
  axes.right = 20000;
  const auto placed = papers::stay_bars(chart, axes, [](const std::string&) { return Micrometres{3000}; });
  EXPECT_EQ(placed.bars.size(), papers::most_lanes);
  EXPECT_EQ(placed.left_out, 9U - papers::most_lanes);
}

TEST(ChartMarks, TheAllowanceIsABandBetweenTheLimitAndItsOwnLine) {
  const Page page = page_of_chart(a_chart_of_the_night_the_clocks_went_back());
  const auto allowance = strokes_for(page, "allowance");
  ASSERT_EQ(allowance.size(), 1U);
  const Stroke limit = strokes_for(page, "limit").at(0);
  EXPECT_LT(allowance[0].width, limit.width);
  EXPECT_GT(allowance[0].dash, 0);
  ASSERT_EQ(page.marks.fills.size(), 1U);
  EXPECT_EQ(page.marks.fills[0].y, allowance[0].points[0].y);
  EXPECT_EQ(page.marks.fills[0].y + page.marks.fills[0].height, limit.points[0].y);
  EXPECT_NE(text_of(page).find("up to 10 °C"), std::string::npos);
}

TEST(ChartMarks, AnAllowanceWithoutASecondTemperatureReachesTheTop) {
  Chart chart = a_chart_of_the_night_the_clocks_went_back();
  chart.allowance = ChartAllowance{"warmer for less than 4 h", std::nullopt};
  const Page page = page_of_chart(chart);
  EXPECT_TRUE(strokes_for(page, "allowance").empty());
  ASSERT_EQ(page.marks.fills.size(), 1U);
  Micrometres highest = 1'000'000;
  for (const Stroke& stroke : strokes_for(page, "grid")) highest = std::min(highest, stroke.points[0].y);
  EXPECT_EQ(page.marks.fills[0].y, highest);
}

TEST(ChartMarks, ClocksThatGoBackAreMarkedWithTheOffsetOnEitherSide) {
  const Page page = page_of_chart(a_chart_of_the_night_the_clocks_went_back());
  const PlacedText* before = words_on(page, "UTC+1 before");
  const PlacedText* after = words_on(page, "UTC after");
  ASSERT_NE(before, nullptr);
  ASSERT_NE(after, nullptr);
  EXPECT_NE(words_on(page, "clocks back 1 h"), nullptr);
  const Micrometres change = strokes_for(page, "clocks").at(0).points[0].x;
  EXPECT_LT(before->x + before->width, change);
  EXPECT_GT(after->x, change);
}

TEST(ChartMarks, ClocksThatGoForwardSkipTheirHour) {
  const Instant midnight = std::chrono::sys_days{std::chrono::year{2031} / 3 / 30};
  Chart chart;
  chart.from = midnight - hours{1};
  chart.to = midnight + hours{5};
  chart.clock_changes = {{midnight + hours{1}, Offset{60}}};
  chart.readings = {{chart.from, celsius(4)}, {chart.to, celsius(5)}};
  const Page page = page_of_chart(chart);
  EXPECT_NE(words_on(page, "clocks forward 1 h"), nullptr);
  std::vector<std::string> clocks;
  for (const auto& tick : papers::clock_ticks(chart, chart.from, chart.to)) clocks.push_back(format_clock(tick.at, tick.offset));
  EXPECT_EQ(clocks, (std::vector<std::string>{"23:00", "00:00", "02:00", "03:00", "04:00", "05:00", "06:00"}));
}

TEST(ChartMarks, TheHourThatComesTwiceIsMarkedTwice) {
  const Instant midnight = std::chrono::sys_days{std::chrono::year{2031} / 10 / 26};
  Chart chart;
  chart.offset = Offset{60};
  chart.from = midnight - hours{1};
  chart.to = midnight + hours{3};
  chart.clock_changes = {{midnight + hours{1}, Offset{0}}};
  std::vector<std::string> clocks;
  for (const auto& tick : papers::clock_ticks(chart, chart.from, chart.to)) {
    if (tick.at.time_since_epoch() % hours{1} == Span{}) clocks.push_back(format_zoned(tick.at, tick.offset).substr(11, 5));
  }
  EXPECT_EQ(clocks, (std::vector<std::string>{"00:00", "01:00", "01:00", "02:00", "03:00"}));
}

TEST(ChartMarks, AHeatStepThatWasInterruptedFallsToNothingAndBuildsUpAgain) {
  const Page page = page_of_chart(a_chart_of_a_heat_step());
  const auto shown = strokes_for(page, "shown");
  const auto wanted = strokes_for(page, "wanted");
  ASSERT_EQ(shown.size(), 1U);
  ASSERT_EQ(wanted.size(), 1U);
  const Micrometres nothing = shown[0].points.front().y;
  std::size_t falls = 0;
  Micrometres highest = nothing;
  for (std::size_t i = 1; i < shown[0].points.size(); ++i) {
    const Point& a = shown[0].points[i - 1];
    const Point& b = shown[0].points[i];
    highest = std::min(highest, b.y);
    if (b.y <= a.y) continue;
    EXPECT_EQ(a.x, b.x) << "what was shown is lost at once";
    EXPECT_EQ(b.y, nothing);
    ++falls;
  }
  EXPECT_EQ(falls, 2U);
  EXPECT_LT(highest, wanted[0].points[0].y) << "2 min 45 s were shown and 2 min wanted";
  EXPECT_NE(words_on(page, "2 min 45 s shown"), nullptr);
}

TEST(ChartMarks, WhatAHeatStepHadShownIsNotDrawnAcrossAGap) {
  Chart chart = a_chart_of_a_heat_step();
  chart.gaps = {{chart.readings[26].at, chart.readings[27].at, "test"}};
  EXPECT_EQ(strokes_for(page_of_chart(chart), "shown").size(), 2U);
}

}  // namespace
}  // namespace tierproof
