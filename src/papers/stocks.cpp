#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "tierproof/papers/label.h"
#include "tierproof/text/fields.h"

namespace tierproof {
namespace {

Stock read_stock(const Json& value, const std::string& file, Refusals& refusals) {
  Fields fields{value, file, "", refusals};
  Stock stock;
  stock.id = fields.text("id");
  stock.words = fields.text("words");
  stock.width = static_cast<int>(fields.integer("width", 100, 10000));
  stock.height = static_cast<int>(fields.integer("height", 100, 20000));
  stock.margin = static_cast<int>(fields.integer("margin", 0, 500));
  stock.dots_per_inch = static_cast<int>(fields.integer("dots_per_inch", 100, 2400));
  stock.roll = fields.flag("roll", false);
  fields.maybe_text("note");
  fields.done();
  if (stock.width > 0 && 2 * stock.margin + 100 > stock.width) {
    fields.refuse("margin", fmt::format("leaves less than 10 mm of {} tenths of a millimetre", stock.width),
                  "write the unprinted edge of one side");
  }
  return stock;
}

}  // namespace

Result<std::vector<Stock>> read_stocks(std::span<const StockFile> files) {
  Refusals refusals;
  std::map<std::string, Stock> stocks;
  for (const StockFile& file : files) {
    const auto value = parse_json(file.text, file.path);
    if (!value) {
      refusals.insert(refusals.end(), value.error().begin(), value.error().end());
      continue;
    }
    Stock stock = read_stock(*value, file.path, refusals);
    const std::string id = stock.id;
    if (!stocks.emplace(id, std::move(stock)).second) {
      refusals.push_back(
          Refusal{file.path, value->line(), "id", fmt::format("`{}` is the id of another stock", id), "give each stock an id of its own"});
    }
  }
  if (!refusals.empty()) return refusals;
  std::vector<Stock> sorted;
  for (auto& [id, stock] : stocks) sorted.push_back(std::move(stock));
  return sorted;
}

}  // namespace tierproof
