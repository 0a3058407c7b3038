#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "tierproof/papers/label.h"
#include "tierproof/text/fields.h"

namespace tierproof {
namespace {

constexpr int largest_paper = 20000;  // tenths of a millimetre

/// `12.3 mm` of tenths.
std::string mm_of(int tenths) { return fmt::format("{}.{} mm", tenths / 10, tenths % 10); }

/// Refuses labels that leave their paper along one side, or lie on each other.
void check_side(Fields& fields, int count, int label, int first, int pitch, int paper, const char* step, const char* size) {
  if (count > 1 && pitch < label) {
    fields.refuse(step, fmt::format("is {}, so that labels of {} lie on each other", mm_of(pitch), mm_of(label)),
                  fmt::format("measure from the start of one label to the start of the next, at least {}", mm_of(label)));
    return;  // how far they reach is not known then
  }
  const int end = first + (count - 1) * pitch + label;
  if (end > paper) {
    fields.refuse(size, fmt::format("is {}, and the labels reach to {}", mm_of(paper), mm_of(end)),
                  fmt::format("measure paper, first label and {} again", step));
  }
}

StockGrid read_grid(const Json& value, const Stock& stock, const std::string& file, const std::string& path, Refusals& refusals) {
  Fields fields{value, file, path, refusals};
  const std::size_t before = refusals.size();
  StockGrid grid;
  grid.paper_width = static_cast<int>(fields.integer("paper_width", 100, largest_paper));
  grid.paper_height = static_cast<int>(fields.integer("paper_height", 100, largest_paper));
  grid.columns = static_cast<int>(fields.integer("columns", 1, 50));
  grid.rows = static_cast<int>(fields.integer("rows", 1, 100));
  grid.left = static_cast<int>(fields.integer("left", 0, largest_paper));
  grid.top = static_cast<int>(fields.integer("top", 0, largest_paper));
  grid.across = static_cast<int>(fields.integer("across", 1, largest_paper));
  grid.down = static_cast<int>(fields.integer("down", 1, largest_paper));
  fields.done();
  if (refusals.size() > before || stock.width == 0 || stock.height == 0) return grid;
  check_side(fields, grid.columns, stock.width, grid.left, grid.across, grid.paper_width, "across", "paper_width");
  check_side(fields, grid.rows, stock.height, grid.top, grid.down, grid.paper_height, "down", "paper_height");
  return grid;
}

Stock read_stock(const Json& value, const std::string& file, Refusals& refusals) {
  Fields fields{value, file, "", refusals};
  Stock stock;
  stock.id = fields.text("id");
  stock.words = fields.text("words");
  stock.width = static_cast<int>(fields.integer("width", 100, 10000));
  stock.height = static_cast<int>(fields.integer("height", 100, largest_paper));
  stock.margin = static_cast<int>(fields.integer("margin", 0, 500));
  stock.dots_per_inch = static_cast<int>(fields.integer("dots_per_inch", 100, 2400));
  stock.roll = fields.flag("roll", false);
  stock.corner = static_cast<int>(fields.maybe_integer("corner", 0, largest_paper).value_or(0));
  if (fields.has("grid")) {
    stock.grid = read_grid(fields.object("grid"), stock, file, fields.path_of("grid"), refusals);
    if (stock.roll) fields.refuse("grid", "is of labels on sheets, and `roll` is true", "leave out one of them");
  }
  fields.maybe_text("note");
  fields.done();
  const int shorter = std::min(stock.width, stock.height);
  if (stock.width > 0 && stock.height > 0 && 2 * stock.margin + 100 > shorter) {
    fields.refuse("margin", fmt::format("leaves less than 10 mm of {}", mm_of(shorter)), "write the unprinted edge of one side");
  }
  if (stock.width > 0 && stock.height > 0 && 2 * stock.corner > shorter) {
    fields.refuse("corner", fmt::format("is more than half of {}", mm_of(shorter)), "write the radius of the round corners");
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
