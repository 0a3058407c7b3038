#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <tuple>
#include <utility>

#include "tierproof/papers/document.h"
#include "tierproof/papers/label_sheets.h"

namespace tierproof {
namespace {

constexpr Micrometres millimetre = 1000;
constexpr Micrometres ruler_line = 200;            // two dots of a 300-dpi printer
constexpr Micrometres unprinted = 5 * millimetre;  // at the edge of a sheet, by most desktop printers
constexpr Micrometres short_mark = 1200;
constexpr Micrometres middle_mark = 2000;  // at every fifth millimetre
constexpr Micrometres long_mark = 3000;    // at every tenth
constexpr Micrometres figure_x_height = 1200;
constexpr Micrometres ruler_band = 7 * millimetre;  // of a ruler with its figures
constexpr Micrometres ruler_inset = 3 * millimetre;

Micrometres of_tenths(int tenths) { return Micrometres{tenths} * 100; }

/// `2 mm`, `-1.5 mm` of tenths: the minus as it is typed.
std::string plain_mm(int tenths) {
  const std::string whole = fmt::format("{}{}", tenths < 0 ? "-" : "", std::abs(tenths) / 10);
  return tenths % 10 == 0 ? whole + " mm" : fmt::format("{}.{} mm", whole, std::abs(tenths) % 10);
}

/// A rectangle on the paper.
struct Area {
  Micrometres left = 0;
  Micrometres top = 0;
  Micrometres right = 0;
  Micrometres bottom = 0;
  Micrometres width() const { return right - left; }
  Micrometres height() const { return bottom - top; }
  bool holds(Point point) const { return point.x >= left && point.x <= right && point.y >= top && point.y <= bottom; }
};

/// Draws within the part of the paper that stays on it once everything is moved.
class RulerDrawing {
 public:
  RulerDrawing(const Fonts& fonts, Area room) : fonts_{fonts}, room_{room} {
    figures_ = fonts.size_for_x_height(Face::condensed, figure_x_height);
  }

  void line(std::vector<Point> points, const char* role) {
    if (!std::all_of(points.begin(), points.end(), [&](Point point) { return room_.holds(point); })) return;
    marks.strokes.push_back({std::move(points), ruler_line, 0, 0, role});
  }
  /// Lines that figures keep clear of, across the paper and down it.
  std::vector<Micrometres> edges_across;
  std::vector<Micrometres> edges_down;

  /// @param x  of its left edge, middle or right edge, by `align`
  void words(Micrometres x, Micrometres baseline, const std::string& text, Align align = Align::left) {
    const Micrometres width = fonts_.width(text, Face::condensed, figures_);
    if (align != Align::left) x -= align == Align::right ? width : width / 2;
    if (!room_.holds({x, baseline - high()}) || !room_.holds({x + width, baseline + high() / 3})) return;
    marks.texts.push_back({x, baseline, width, text, Face::condensed, figures_, 0});
  }
  Micrometres high() const { return fonts_.figure_height(Face::condensed, figures_); }

  /// Marks at every millimetre from the edge of the paper on, within `from` and `to`, below the line at `y`; figures at every tenth.
  void across(Micrometres y, Micrometres from, Micrometres to, std::optional<Area> but = {}) {
    line({{from, y}, {to, y}}, "ruler");
    for (Micrometres at = (from + millimetre - 1) / millimetre; at * millimetre <= to; ++at) {
      if (but && at * millimetre > but->left && at * millimetre < but->right) continue;
      line({{at * millimetre, y}, {at * millimetre, y + length_of(at)}}, "ruler");
      if (at % 10 != 0) continue;
      const std::string figures = fmt::format("{}", at);
      const Micrometres half = fonts_.width(figures, Face::condensed, figures_) / 2;
      words(clear_of(edges_across, at * millimetre, half), y + long_mark + high() + 600, figures, Align::centre);
    }
  }
  /// The same downwards, right of the line at `x`.
  void down(Micrometres x, Micrometres from, Micrometres to) {
    line({{x, from}, {x, to}}, "ruler");
    for (Micrometres at = (from + millimetre - 1) / millimetre; at * millimetre <= to; ++at) {
      line({{x, at * millimetre}, {x + length_of(at), at * millimetre}}, "ruler");
      if (at % 10 == 0) words(x + long_mark + 600, clear_of(edges_down, at * millimetre, high() / 2) + high() / 2, fmt::format("{}", at));
    }
  }
  /// A line of a known length, with its ends marked.
  void known_length(Micrometres x, Micrometres y, Micrometres length) {
    line({{x, y}, {x + length, y}}, "length");
    for (const Micrometres end : {x, x + length}) line({{end, y - millimetre}, {end, y + millimetre}}, "length");
  }

  Marks marks;

 private:
  /// `at`, or where something that reaches `half` to both sides lies beside a line that would cross it.
  static Micrometres clear_of(const std::vector<Micrometres>& lines, Micrometres at, Micrometres half) {
    constexpr Micrometres apart = 400;
    for (const Micrometres line : lines) {
      if (line <= at - half - apart || line >= at + half + apart) continue;
      at = line > at ? line - half - apart : line + half + apart;
    }
    return at;
  }
  static Micrometres length_of(Micrometres at) { return at % 10 == 0 ? long_mark : at % 5 == 0 ? middle_mark : short_mark; }

  const Fonts& fonts_;
  Area room_;
  PointSize figures_;
};

/// The outline of a label in its four sides and four corners, so that what the edge of the paper cuts off is left out by itself.
void outline(RulerDrawing& drawing, Area label, Micrometres corner) {
  const Micrometres r = corner;
  drawing.line({{label.left + r, label.top}, {label.right - r, label.top}}, "label");
  drawing.line({{label.right, label.top + r}, {label.right, label.bottom - r}}, "label");
  drawing.line({{label.right - r, label.bottom}, {label.left + r, label.bottom}}, "label");
  drawing.line({{label.left, label.bottom - r}, {label.left, label.top + r}}, "label");
  if (r == 0) return;
  constexpr int steps = 6;
  const auto arc = [&](Micrometres x, Micrometres y, double from) {
    std::vector<Point> points;
    for (int i = 0; i <= steps; ++i) {
      const double angle = from + std::numbers::pi / 2 * i / steps;
      points.push_back(
          {x + std::llround(static_cast<double>(r) * std::cos(angle)), y + std::llround(static_cast<double>(r) * std::sin(angle))});
    }
    drawing.line(std::move(points), "label");
  };
  arc(label.right - r, label.bottom - r, 0);
  arc(label.left + r, label.bottom - r, std::numbers::pi / 2);
  arc(label.left + r, label.top + r, std::numbers::pi);
  arc(label.right - r, label.top + r, 3 * std::numbers::pi / 2);
}

struct Instructions {
  std::string title;
  std::vector<std::string> lines;
};

Document document_of(const Instructions& says, Micrometres width, Micrometres x_height, const Fonts& fonts) {
  const PointSize size = fonts.size_for_x_height(Face::condensed, x_height);
  Document document;
  document.width = width;
  document.height = 1000 * millimetre;
  document.cut_to_length = true;
  const Micrometres apart = size.to_micrometres() / 3;
  const auto add = [&](const std::string& text, Face face) {
    Paragraph paragraph;
    paragraph.runs = {{text, face, size, 0}};
    paragraph.field = "words";
    paragraph.before = apart;
    document.blocks.emplace_back(std::move(paragraph));
  };
  add(says.title, Face::condensed_bold);
  for (const std::string& text : says.lines) add(text, Face::condensed);
  return document;
}

/// Sets the words into `area` as large as they go, from 1.8 down to `least` mm for an x.
std::optional<Marks> set_words_in(const Instructions& says, const Area& area, Micrometres least, const Fonts& fonts) {
  for (Micrometres x_height = 1800; x_height >= least; x_height -= 200) {
    const Document document = document_of(says, area.width(), x_height, fonts);
    const auto pages = lay_out(document, fonts);
    if (!pages || pages->pages.front().height > area.height()) continue;
    Marks marks;
    add_moved(marks, pages->pages.front().marks, area.left, area.top);
    return marks;
  }
  return std::nullopt;
}

/// The words and the cells that they stand in.
struct Panel {
  int first_column = 0;
  int first_row = 0;
  int last_column = 0;
  int last_row = 0;
  Marks words;
  int cells() const { return (last_column - first_column + 1) * (last_row - first_row + 1); }
  bool covers(int column, int row) const {
    return cells() > 1 && column >= first_column && column <= last_column && row >= first_row && row <= last_row;
  }
};

/// The ruler page of a sheet of labels.
class SheetRuler {
 public:
  SheetRuler(const Stock& stock, Area room, const Fonts& fonts)
      : stock_{stock}, grid_{*stock.grid}, fonts_{fonts}, room_{room}, drawing_{fonts, room} {
    paper_ = {0, 0, of_tenths(grid_.paper_width), of_tenths(grid_.paper_height)};
    const Area first = cell(0, 0);
    line_y_ = first.top + 6500;
    across_y_ = first.top + 10 * millimetre;
    down_x_ = first.left + std::max(ruler_inset, first.width() * 3 / 10);
  }

  std::optional<Marks> draw(const Instructions& says) {
    const auto panel = panel_for(says);
    if (!panel) return std::nullopt;
    for (int column = 0; column < grid_.columns; ++column) {
      for (const Micrometres edge : {cell(column, 0).left, cell(column, 0).right}) drawing_.edges_across.push_back(edge);
    }
    for (int row = 0; row < grid_.rows; ++row) {
      for (const Micrometres edge : {cell(0, row).top, cell(0, row).bottom}) drawing_.edges_down.push_back(edge);
    }
    int place = 0;
    for (int row = 0; row < grid_.rows; ++row) {
      for (int column = 0; column < grid_.columns; ++column) {
        ++place;
        if (panel->covers(column, row)) continue;
        const Area label = cell(column, row);
        outline(drawing_, label, of_tenths(stock_.corner));
        drawing_.words(label.right - 2 * millimetre, label.top + 1500 + drawing_.high(), fmt::format("{}", place), Align::right);
      }
    }
    const Area first = cell(0, 0);
    const Micrometres start = std::max(first.left, unprinted) + ruler_inset;
    drawing_.known_length(start, line_y_, 100 * millimetre);
    drawing_.words(start + millimetre, line_y_ - millimetre, "this line: 100 mm");
    const Area crossing{down_x_ - millimetre, first.top, down_x_ + ruler_band + 2 * millimetre, across_y_ + ruler_band};
    drawing_.across(across_y_, unprinted, paper_.right - unprinted, crossing);
    drawing_.down(down_x_, crossing.bottom, paper_.bottom - unprinted);
    add_moved(drawing_.marks, panel->words, 0, 0);
    return std::move(drawing_.marks);
  }

 private:
  Area cell(int column, int row) const {
    const Micrometres left = of_tenths(grid_.left + column * grid_.across);
    const Micrometres top = of_tenths(grid_.top + row * grid_.down);
    return {left, top, left + of_tenths(stock_.width), top + of_tenths(stock_.height)};
  }

  /// The fewest cells that hold the words in lines of a pleasant length, clear of the rulers.
  std::optional<Panel> panel_for(const Instructions& says) const {
    std::vector<Panel> panels;
    for (int r0 = 0; r0 < grid_.rows; ++r0) {
      for (int r1 = r0; r1 < grid_.rows; ++r1) {
        for (int c0 = 0; c0 < grid_.columns; ++c0) {
          for (int c1 = c0; c1 < grid_.columns; ++c1) panels.push_back({c0, r0, c1, r1, {}});
        }
      }
    }
    const auto on_rulers = [](const Panel& panel) { return panel.first_column == 0 || panel.first_row == 0; };
    const auto narrow = [&](const Panel& panel) {
      return cell(panel.last_column, 0).right - cell(panel.first_column, 0).left < 60 * millimetre;
    };
    std::stable_sort(panels.begin(), panels.end(), [&](const Panel& a, const Panel& b) {
      return std::tuple{on_rulers(a), narrow(a), a.cells()} < std::tuple{on_rulers(b), narrow(b), b.cells()};
    });
    // In large letters if that leaves two thirds of the labels to measure by.
    for (const Micrometres least : {1600, 1200}) {
      for (Panel& panel : panels) {
        if (least == 1600 && panel.cells() > 1 && 3 * panel.cells() > grid_.columns * grid_.rows) continue;
        const Area area = room_in(panel);
        if (area.width() < 20 * millimetre || area.height() < 10 * millimetre) continue;
        if (auto words = set_words_in(says, area, least, fonts_)) {
          panel.words = std::move(*words);
          return panel;
        }
      }
    }
    return std::nullopt;
  }

  Area room_in(const Panel& panel) const {
    const Area first = cell(panel.first_column, panel.first_row);
    const Area last = cell(panel.last_column, panel.last_row);
    Area area{first.left + ruler_inset, first.top + 5 * millimetre, last.right - ruler_inset, last.bottom - ruler_inset};
    if (panel.first_column == 0) area.left = std::max(area.left, down_x_ + ruler_band + ruler_inset);
    if (panel.first_row == 0) area.top = std::max(area.top, across_y_ + ruler_band + ruler_inset);
    return {std::max(area.left, room_.left), std::max(area.top, room_.top), std::min(area.right, room_.right - unprinted),
            std::min(area.bottom, room_.bottom - unprinted)};
  }

  const Stock& stock_;
  const StockGrid& grid_;
  const Fonts& fonts_;
  Area room_;
  RulerDrawing drawing_;
  Area paper_;
  Micrometres line_y_ = 0;
  Micrometres across_y_ = 0;
  Micrometres down_x_ = 0;
};

std::string printed_with(int right, int down) {
  return fmt::format("Printed with --right\u00a0{} --down\u00a0{}.", plain_mm(right), plain_mm(down));
}

Instructions sheet_instructions(const Stock& stock, int right, int down) {
  return {
      "Ruler page: " + stock.words,
      {"1. Print it at actual size, 100 %, on plain paper as large as the sheet.",
       "2. Measure the line of 100 mm. If it is longer or shorter, the printer still scales: turn that off.",
       "3. Lay the page on a sheet of labels, edges together, and hold both to the light. If the outlines lie 1.5 mm too far left, print "
       "with --right\u00a01.5mm; too far right, --right\u00a0-1.5mm; too high, --down\u00a01.5mm; too low, --down\u00a0-1.5mm.",
       "4. Print this page again with the same. If an outline does not lie on its label yet, add what is still missing.",
       printed_with(right, down),
       "The number in the corner of a label is what --begin-at asks for. The rulers count millimetres from the edges of the paper."}};
}

Instructions label_instructions(const Stock& stock, Micrometres line, int right, int down) {
  std::string says = fmt::format(
      "The frame is {} from {}. If it is 1 mm too far left: --right\u00a01mm; too high: --down\u00a01mm; else with a\u00a0minus.",
      plain_mm(stock.margin), stock.roll ? "the sides" : "every edge");
  if (line > 0) says += fmt::format(" The line: {} mm.", line / millimetre);
  Instructions all{"Ruler: " + stock.words, {std::move(says)}};
  if (right != 0 || down != 0) all.lines.push_back(printed_with(right, down));
  return all;
}

/// The ruler label of a stock whose labels come one after the other; nothing if it is too small for the words.
std::optional<Page> single_ruler(const Stock& stock, int right, int down, const Fonts& fonts) {
  const Micrometres width = of_tenths(stock.width);
  const Micrometres margin = of_tenths(stock.margin);
  const Micrometres left = margin + ruler_band;
  const Micrometres top = margin + ruler_band - millimetre;
  const Micrometres free = width - margin - 1500 - left;
  const Micrometres line = std::min<Micrometres>(free / (10 * millimetre) * 10 * millimetre, 100 * millimetre);
  const Micrometres foot = margin + (line > 0 ? 3 * millimetre : 1500);
  const Area most{left, top, left + free, of_tenths(stock.height) - foot};
  if (free <= 0 || most.height() <= 0) return std::nullopt;
  const auto words = set_words_in(label_instructions(stock, line, right, down), most, 1200, fonts);
  if (!words) return std::nullopt;
  Page page;
  page.width = width;
  page.height = of_tenths(stock.height);
  page.left = page.top = page.right = page.bottom = margin;
  if (stock.roll) {
    Micrometres lowest = 0;
    for (const PlacedText& text : words->texts) lowest = std::max(lowest, text.baseline + text.size.to_micrometres() / 3);
    page.height = std::min(page.height, (lowest + foot + millimetre - 1) / millimetre * millimetre);
  }
  RulerDrawing drawing{fonts, {0, 0, page.width, page.height}};
  const Area frame{margin, margin, page.width - margin, page.height - margin};
  drawing.line(
      {{frame.left, frame.top}, {frame.right, frame.top}, {frame.right, frame.bottom}, {frame.left, frame.bottom}, {frame.left, frame.top}},
      "label");
  drawing.across(frame.top, frame.left, frame.right);
  drawing.down(frame.left, frame.top + ruler_band - 2 * millimetre, frame.bottom);
  if (line > 0) drawing.known_length(left, page.height - margin - 1800, line);
  page.marks = std::move(drawing.marks);
  add_moved(page.marks, *words, 0, 0);
  return page;
}

}  // namespace

Result<Pages> lay_out_ruler_page(const Stock& stock, int right, int down, const Fonts& fonts) {
  // Of what is drawn the part is kept that is still on the paper once all of it is moved.
  Stock paper = stock;
  if (const auto& grid = stock.grid) {
    paper.width = grid->paper_width;
    paper.height = grid->paper_height;
    paper.grid.reset();
  }
  const LabelPlacing placing{1, 1, right, down};
  Page page;
  if (auto bad = fill_sheets({}, paper, placing); !bad) return bad.error();
  if (Refusals bad = check_text(stock.words, Face::condensed_bold, fonts, "words"); !bad.empty()) return bad;
  if (stock.grid) {
    page.width = of_tenths(paper.width);
    page.height = of_tenths(paper.height);
    const Area room{std::max<Micrometres>(of_tenths(-right), 0) + ruler_line, std::max<Micrometres>(of_tenths(-down), 0) + ruler_line,
                    page.width - std::max<Micrometres>(of_tenths(right), 0) - ruler_line,
                    page.height - std::max<Micrometres>(of_tenths(down), 0) - ruler_line};
    auto marks = SheetRuler{stock, room, fonts}.draw(sheet_instructions(stock, right, down));
    if (!marks)
      return Refusal{"", 0, "stock", fmt::format("a sheet of {} has no room for the words of a ruler page", stock.words),
                     "measure with a ruler"};
    page.marks = std::move(*marks);
  } else {
    auto label = single_ruler(stock, right, down, fonts);
    if (!label)
      return Refusal{"", 0, "stock", fmt::format("{} is too small for the words of a ruler label", stock.words), "measure with a ruler"};
    page = std::move(*label);
  }
  Pages pages;
  pages.pages.push_back(std::move(page));
  return fill_sheets(pages, paper, placing);
}

}  // namespace tierproof
