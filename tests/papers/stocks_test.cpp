#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "rules/schema_for_tests.h"
#include "stock_files.h"
#include "tierproof/papers/small_labels.h"

namespace tierproof {
namespace {

using testdata::stock_files;
using testdata::stocks_as_shipped;

std::string stock_refusals(const std::vector<StockFile>& files) {
  const auto stocks = read_stocks(files);
  EXPECT_FALSE(stocks.has_value());
  std::string all;
  if (!stocks) {
    for (const Refusal& refusal : stocks.error()) all += describe(refusal) + "\n";
  }
  return all;
}

TEST(Stocks, ShippedAreReadAndNamedAfterTheirFiles) {
  const auto files = stock_files();
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

// A short label at 1.2 mm fits every stock that is shipped, or the label of a tub does, so that none is there for show.
TEST(Stocks, ShippedHoldAShortLabelOrTheLabelOfATub) {
  SmallLabelContent tub;
  tub.name = "buttercream";
  tub.contains = {"milk"};
  tub.dates = {{"Use by", "4 May 2031"}};
  tub.lines = {{"Made", "1 May 2031"}};
  tub.to_write = {"Opened on"};
  tub.keep = "Keep in the fridge";
  tub.reference = "batch-4";
  int labels = 0;
  for (const Stock& stock : stocks_as_shipped()) {
    if (lay_out_label(testdata::a_short_label(), stock, testdata::fonts())) {
      ++labels;
      continue;
    }
    const auto pages = lay_out_small_label(tub, stock, testdata::fonts());
    EXPECT_TRUE(pages.has_value()) << stock.id << ": " << (pages ? "" : describe(pages.error().front()));
  }
  EXPECT_GE(labels, 15);
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

TEST(Stocks, ShippedHaveGridsOfLabelsThatLieOnTheirPaper) {
  std::set<std::string> papers;
  for (const Stock& stock : stocks_as_shipped()) {
    EXPECT_EQ(stock.grid.has_value(), stock.id.starts_with("sheet-") && stock.id != "sheet-a5") << stock.id;
    if (!stock.grid) continue;
    const StockGrid& grid = *stock.grid;
    papers.insert(fmt::format("{} x {}", grid.paper_width, grid.paper_height));
    // What is left beside the last label is what is left beside the first, to half a millimetre: makers centre the grid.
    EXPECT_NEAR(grid.left, grid.paper_width - grid.left - (grid.columns - 1) * grid.across - stock.width, 5) << stock.id;
    EXPECT_NEAR(grid.top, grid.paper_height - grid.top - (grid.rows - 1) * grid.down - stock.height, 5) << stock.id;
    EXPECT_NE(stock.words.find(fmt::format("{} on a sheet of", grid.columns * grid.rows)), std::string::npos) << stock.id;
  }
  EXPECT_EQ(papers, (std::set<std::string>{"2100 x 2970", "2159 x 2794"}));  // ISO 216 A4, ANSI A
}

TEST(Stocks, ShippedAreValidByTheirSchema) {
  const std::string schema = testdata::text_of_file(TIERPROOF_SOURCE_DIR "/reference/schemas/stock.schema.json");
  for (const StockFile& file : stock_files()) EXPECT_EQ(schema_complaints(file.text, schema), "") << file.path;
  EXPECT_NE(schema_complaints(R"({"id": "a", "words": "a", "width": 20, "height": 1000, "margin": 30, "dots_per_inch": 300})", schema), "");
  EXPECT_NE(schema_complaints(R"({"id": "a", "words": "a", "width": 200, "height": 1000, "margin": 30, "dots_per_inch": 300, "grid": {}})",
                              schema),
            "");
}

TEST(Stocks, SayWhatIsWrongWithTheirGrid) {
  const auto with = [](const std::string& grid, const std::string& more = "") {
    return std::vector<StockFile>{
        {"a.json",
         R"({"id": "a", "words": "a", "width": 700, "height": 370, "margin": 50, "dots_per_inch": 300, "grid": )" + grid + more + "}"}};
  };
  const std::string fits =
      R"({"paper_width": 2100, "paper_height": 2970, "columns": 3, "rows": 8, "left": 0, "top": 5, "across": 700, "down": 370})";
  const auto stocks = read_stocks(with(fits, R"(, "corner": 20)"));
  ASSERT_TRUE(stocks) << describe(stocks.error().front());
  EXPECT_EQ(stocks->front().grid, (StockGrid{2100, 2970, 3, 8, 0, 5, 700, 370}));
  EXPECT_EQ(stocks->front().corner, 20);
  const auto changed = [&](const std::string& from, const std::string& to) {
    std::string grid = fits;
    return with(grid.replace(grid.find(from), from.size(), to));
  };
  // A tenth of a millimetre too far is too far.
  EXPECT_NE(stock_refusals(changed("\"left\": 0", "\"left\": 1")).find("grid.paper_width: is 210.0 mm, and the labels reach to 210.1 mm"),
            std::string::npos);
  EXPECT_TRUE(read_stocks(changed("\"top\": 5", "\"top\": 10")).has_value());
  EXPECT_NE(stock_refusals(changed("\"top\": 5", "\"top\": 11")).find("grid.paper_height: is 297.0 mm, and the labels reach to 297.1 mm"),
            std::string::npos);
  EXPECT_NE(stock_refusals(changed("\"across\": 700", "\"across\": 699")).find("grid.across: is 69.9 mm, so that labels of 70.0 mm lie on"),
            std::string::npos);
  EXPECT_NE(stock_refusals(changed("\"down\": 370", "\"down\": 369")).find("grid.down: is 36.9 mm"), std::string::npos);
  EXPECT_NE(stock_refusals(changed("\"rows\": 8", "\"rows\": 0")).find("grid.rows"), std::string::npos);
  EXPECT_NE(stock_refusals(changed("\"rows\": 8, ", "")).find("grid.rows"), std::string::npos);
  EXPECT_NE(stock_refusals(changed("\"rows\": 8", "\"rows\": 8, \"gap\": 2")).find("grid.gap"), std::string::npos);
  EXPECT_NE(stock_refusals(with(fits, R"(, "roll": true)")).find(" grid: is of labels on sheets"), std::string::npos);
  EXPECT_NE(stock_refusals(with(fits, R"(, "corner": 186)")).find("corner: is more than half of 37.0 mm"), std::string::npos);
}

TEST(Stocks, SayEverythingThatIsWrongInEveryFile) {
  const std::string all =
      stock_refusals({{"a.json", R"({"id": "a", "words": "a", "width": 700, "height": 370, "margin": 180, "dots_per_inch": 300,
    "corner": 200, "roll": true, "grid": {"paper_width": 1000, "paper_height": 1000, "columns": 2, "rows": 2, "left": 0, "top": 0, "across": 1, "down": 700}})"},
                      {"b.json", "{"}});
  for (const char* what : {" margin: leaves less than 10 mm of 37.0 mm", " corner", " grid: is of labels on sheets", " grid.across",
                           " grid.paper_height: is 100.0 mm, and the labels reach to 107.0 mm", "b.json"}) {
    EXPECT_NE(all.find(what), std::string::npos) << what << " in\n" << all;
  }
}

}  // namespace
}  // namespace tierproof
