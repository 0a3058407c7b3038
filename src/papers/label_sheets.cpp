#include "tierproof/papers/label_sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

namespace tierproof {
namespace {

constexpr int most_offset = 200;  // tenths of a millimetre: a printer that is off by more has the wrong paper in it

/// Where the edges of everything on a page lie.
struct Reach {
  Micrometres left = 0;
  Micrometres top = 0;
  Micrometres right = 0;
  Micrometres bottom = 0;
};

/// @pre the page has something on it, which lies within the page
Reach reach_of(const Page& page) {
  Reach reach{page.width, page.height, 0, 0};
  const auto take = [&](Micrometres left, Micrometres top, Micrometres right, Micrometres bottom) {
    reach.left = std::min(reach.left, left);
    reach.top = std::min(reach.top, top);
    reach.right = std::max(reach.right, right);
    reach.bottom = std::max(reach.bottom, bottom);
  };
  for (const Fill& fill : page.marks.fills) take(fill.x, fill.y, fill.x + fill.width, fill.y + fill.height);
  for (const Stroke& stroke : page.marks.strokes) {
    const Micrometres half = stroke.width / 2;
    for (const Point& point : stroke.points) take(point.x - half, point.y - half, point.x + half, point.y + half);
  }
  for (const Dot& dot : page.marks.dots)
    take(dot.centre.x - dot.radius, dot.centre.y - dot.radius, dot.centre.x + dot.radius, dot.centre.y + dot.radius);
  for (const PlacedText& text : page.marks.texts) {
    const Micrometres em = text.size.to_micrometres();  // no letter that we set is higher than 0.93 or lower than 0.24 of it
    take(text.x, text.baseline - em, text.x + text.width, text.baseline + em / 4);
  }
  return reach;
}

/// The nearest whole dot of the printer, so that what was set on whole dots of the label stays on whole dots of the paper.
Micrometres on_dots(Micrometres at, int dots_per_inch) {
  const std::int64_t inch = 25400;
  const auto nearest = [](std::int64_t amount, std::int64_t of) { return (2 * amount + (amount < 0 ? -of : of)) / (2 * of); };
  return nearest(nearest(at * dots_per_inch, inch) * inch, dots_per_inch);
}

std::string in_mm(int tenths) { return fmt::format("{}{}.{} mm", tenths < 0 ? "−" : "", std::abs(tenths) / 10, std::abs(tenths) % 10); }

void check_placing(const Stock& stock, const LabelPlacing& placing, Refusals& refusals) {
  const int places = places_on_sheet(stock);
  if (!stock.grid && placing.begin_at != 1) {
    refusals.push_back({"", 0, "--begin-at",
                        fmt::format("{} is not on sheets, so that there is no place {} on it", stock.words, placing.begin_at),
                        "leave --begin-at out"});
  } else if (placing.begin_at < 1 || placing.begin_at > places) {
    refusals.push_back({"", 0, "--begin-at", fmt::format("there is no place {} on a sheet of {}", placing.begin_at, stock.words),
                        fmt::format("count along the rows from the top left; write a number from 1 to {}", places)});
  }
  if (placing.copies < 1) refusals.push_back({"", 0, "--copies", fmt::format("{} copies are none", placing.copies), "write 1 or more"});
  for (const auto& [option, offset] : {std::pair{"--right", placing.right}, std::pair{"--down", placing.down}}) {
    if (std::abs(offset) > most_offset) {
      refusals.push_back(
          {"", 0, option, fmt::format("{} is more than a printer is off", in_mm(offset)),
           fmt::format("write at most {}; if it is really off by more, look at the paper size it is set to", in_mm(most_offset))});
    }
  }
}

/// Puts labels on the pages of one printing.
class Sheets {
 public:
  Sheets(const Stock& stock, const LabelPlacing& placing) : stock_{stock}, placing_{placing}, place_{placing.begin_at - 1} {}

  void add(const Page& label) {
    if (!stock_.grid) {
      start_page(label.width, label.height);
      put(label, 0, 0);
      return;
    }
    const StockGrid& grid = *stock_.grid;
    if (pages.pages.empty() || place_ == places_on_sheet(stock_)) {
      if (!pages.pages.empty()) place_ = 0;
      start_page(Micrometres{grid.paper_width} * 100, Micrometres{grid.paper_height} * 100);
    }
    put(label, grid.left + place_ % grid.columns * grid.across, grid.top + place_ / grid.columns * grid.down);
    ++place_;
  }

  Pages pages;
  bool over_right = false;  ///< something would leave the paper to the left or right
  bool over_down = false;

 private:
  void start_page(Micrometres width, Micrometres height) {
    Page page;
    page.width = page.left = page.right = width;
    page.height = page.top = page.bottom = height;
    pages.pages.push_back(std::move(page));
  }

  /// @param left,top  of the label on its paper, tenths of a millimetre
  void put(const Page& label, int left, int top) {
    Page& page = pages.pages.back();
    const Micrometres x = on_dots(Micrometres{left + placing_.right} * 100, stock_.dots_per_inch);
    const Micrometres y = on_dots(Micrometres{top + placing_.down} * 100, stock_.dots_per_inch);
    const Reach reach = reach_of(label);
    over_right = over_right || x + reach.left < 0 || x + reach.right > page.width;
    over_down = over_down || y + reach.top < 0 || y + reach.bottom > page.height;
    add_moved(page.marks, label.marks, x, y);
    for (Link link : label.links) {
      link.x += x;
      link.y += y;
      page.links.push_back(std::move(link));
    }
    page.left = std::clamp<Micrometres>(x + label.left, 0, page.left);
    page.top = std::clamp<Micrometres>(y + label.top, 0, page.top);
    page.right = std::clamp<Micrometres>(page.width - x - label.width + label.right, 0, page.right);
    page.bottom = std::clamp<Micrometres>(page.height - y - label.height + label.bottom, 0, page.bottom);
  }

  const Stock& stock_;
  const LabelPlacing& placing_;
  int place_;  ///< the next one that is free, from 0
};

}  // namespace

int places_on_sheet(const Stock& stock) { return stock.grid ? stock.grid->columns * stock.grid->rows : 1; }

Result<Pages> fill_sheets(const Pages& labels, const Stock& stock, const LabelPlacing& placing) {
  Refusals refusals;
  check_placing(stock, placing, refusals);
  if (!refusals.empty()) return refusals;
  Sheets sheets{stock, placing};
  for (const Page& label : labels.pages) {
    for (int copy = 0; copy < placing.copies; ++copy) sheets.add(label);
  }
  if (sheets.over_right) {
    refusals.push_back({"", 0, "--right", fmt::format("{} would push what is printed over the edge of the paper", in_mm(placing.right)),
                        "measure again with ruler-page, or choose a stock with more room at its edge"});
  }
  if (sheets.over_down) {
    refusals.push_back({"", 0, "--down", fmt::format("{} would push what is printed over the edge of the paper", in_mm(placing.down)),
                        "measure again with ruler-page, or choose a stock with more room at its edge"});
  }
  if (!refusals.empty()) return refusals;
  return std::move(sheets.pages);
}

}  // namespace tierproof
