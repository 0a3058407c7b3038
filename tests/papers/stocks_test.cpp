#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "sample.h"
#include "tierproof/papers/label.h"

namespace tierproof {
namespace {

std::vector<StockFile> shipped_stocks() {
  std::vector<StockFile> files;
  for (const auto& entry : std::filesystem::directory_iterator{TIERPROOF_SOURCE_DIR "/reports/stocks"}) {
    std::ifstream in{entry.path(), std::ios::binary};
    files.push_back({entry.path().filename().string(), {std::istreambuf_iterator<char>{in}, {}}});
  }
  return files;
}

TEST(Stocks, ShippedAreReadAndNamedAfterTheirFiles) {
  const auto files = shipped_stocks();
  const auto stocks = read_stocks(files);
  ASSERT_TRUE(stocks) << describe(stocks.error().front());
  ASSERT_EQ(stocks->size(), files.size());
  EXPECT_GE(stocks->size(), 8U);
  for (const Stock& stock : *stocks) {
    EXPECT_TRUE(std::filesystem::exists(TIERPROOF_SOURCE_DIR "/reports/stocks/" + stock.id + ".json")) << stock.id;
    EXPECT_FALSE(stock.words.empty());
    EXPECT_TRUE(check_text(stock.words, Face::condensed, testdata::fonts(), stock.id).empty());
  }
  EXPECT_TRUE(std::is_sorted(stocks->begin(), stocks->end(), [](const Stock& a, const Stock& b) { return a.id < b.id; }));
}

// A short label at 1.2 mm fits every stock that is shipped, so that none is there for show.
TEST(Stocks, ShippedHoldAShortLabel) {
  const auto stocks = read_stocks(shipped_stocks());
  ASSERT_TRUE(stocks);
  for (const Stock& stock : *stocks) {
    const auto pages = lay_out_label(testdata::a_short_label(), stock, testdata::fonts());
    EXPECT_TRUE(pages.has_value()) << stock.id << ": " << (pages ? "" : describe(pages.error().front()));
  }
}

TEST(Stocks, AreRefusedFieldByField) {
  const std::vector<StockFile> files{
      {"odd.json",
       R"({"id": "odd", "words": "odd", "width": 20, "height": "x", "margin": 0, "dots_per_inch": 300, "roll": false, "colour": 1})"}};
  const auto stocks = read_stocks(files);
  ASSERT_FALSE(stocks);
  ASSERT_EQ(stocks.error().size(), 3U);
  for (const Refusal& refusal : stocks.error()) EXPECT_EQ(refusal.file, "odd.json");
}

TEST(Stocks, AreRefusedWithTwoOfOneId) {
  const std::string text = R"({"id": "a", "words": "a", "width": 620, "height": 1000, "margin": 30, "dots_per_inch": 300, "roll": false})";
  const std::vector<StockFile> files{{"a.json", text}, {"b.json", text}};
  const auto stocks = read_stocks(files);
  ASSERT_FALSE(stocks);
  EXPECT_EQ(stocks.error().front().file, "b.json");
  EXPECT_EQ(stocks.error().front().field, "id");
}

TEST(Stocks, AreRefusedWithAMarginThatLeavesNoPaper) {
  const std::vector<StockFile> files{
      {"a.json", R"({"id": "a", "words": "a", "width": 300, "height": 1000, "margin": 150, "dots_per_inch": 300})"}};
  const auto stocks = read_stocks(files);
  ASSERT_FALSE(stocks);
  EXPECT_EQ(stocks.error().front().field, "margin");
}

}  // namespace
}  // namespace tierproof
