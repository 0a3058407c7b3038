#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "sample.h"
#include "tierproof/papers/label.h"

namespace tierproof::testdata {

inline std::string text_of_file(const std::filesystem::path& path) {
  std::ifstream in{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{in}, {}};
}

/// Every file of reports/stocks.
inline std::vector<StockFile> stock_files() {
  std::vector<StockFile> files;
  for (const auto& entry : std::filesystem::directory_iterator{TIERPROOF_SOURCE_DIR "/reports/stocks"})
    files.push_back({entry.path().filename().string(), text_of_file(entry.path())});
  return files;
}

inline std::vector<Stock> stocks_as_shipped() {
  const auto stocks = read_stocks(stock_files());
  EXPECT_TRUE(stocks.has_value());
  return stocks ? *stocks : std::vector<Stock>{};
}

inline Stock stock_as_shipped(const std::string& id) {
  for (const Stock& stock : stocks_as_shipped()) {
    if (stock.id == id) return stock;
  }
  ADD_FAILURE() << "no stock " << id;
  return {};
}

/// A page of a PDF as `pdftoppm` draws it.
struct PagePicture {
  int width = 0;
  int height = 0;
  int dots_per_inch = 0;
  std::string greys;
  bool ink(int x, int y) const {
    return static_cast<unsigned char>(greys[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)]) <
           128;
  }
  int dots_of(double mm) const { return static_cast<int>(mm * dots_per_inch / 25.4); }
  double mm_of(int dots) const { return dots * 25.4 / dots_per_inch; }
};

inline PagePicture page_as_drawn(const std::string& name, const std::string& pdf, int dots_per_inch, int page = 1) {
  const std::string path = kept(name + ".pdf", pdf);
  const std::string root = path.substr(0, path.size() - 4) + "-picture";
  output_of("pdftoppm -gray -singlefile -r " + std::to_string(dots_per_inch) + " -f " + std::to_string(page) + " -l " +
            std::to_string(page) + " '" + path + "' '" + root + "' 2>&1");
  std::ifstream in{root + ".pgm", std::ios::binary};
  PagePicture picture;
  std::string magic;
  int most = 0;
  in >> magic >> picture.width >> picture.height >> most;
  in.get();
  picture.dots_per_inch = dots_per_inch;
  picture.greys.resize(static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height));
  in.read(picture.greys.data(), static_cast<std::streamsize>(picture.greys.size()));
  EXPECT_EQ(magic, "P5") << name;
  EXPECT_EQ(in.gcount(), static_cast<std::streamsize>(picture.greys.size())) << name;
  return picture;
}

}  // namespace tierproof::testdata
