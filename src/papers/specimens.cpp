#include "tierproof/papers/specimens.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "layout.h"
#include "lines.h"
#include "record_type.h"

namespace tierproof {
namespace {

/// A sheet of paper: A3 upright, or the smaller of A2 and A1 lengthwise that is one sheet where A3 is not.
struct SheetSize {
  Micrometres width;
  Micrometres height;
};
constexpr SheetSize a3{297000, 420000};
constexpr SheetSize a2{594000, 420000};
constexpr SheetSize a1{841000, 594000};
constexpr Micrometres sheet_margin = 10000;
constexpr Micrometres between = 6000;
constexpr Micrometres narrowest_caption = 40000;
constexpr Micrometres thin = 100;
constexpr Micrometres struck = 500;
constexpr Ink outline_ink = 160;
constexpr Ink struck_ink = 205;
const PointSize head_size = PointSize::hundredths(1400);

/// Fills sheets: each specimen goes as high up as it can below those that are there, then as far left.
class SpecimenSheets {
 public:
  SpecimenSheets(std::string head, SheetSize size, const Fonts& fonts) : head_{std::move(head)}, size_{size}, fonts_{fonts} {}

  void place(const Specimen& specimen) {
    const Page& label = specimen.label;
    const Micrometres wide = std::max(label.width, narrowest_caption);
    const auto caption = caption_lines(specimen.caption, wide);
    if (!caption) return papers::add(refusals_, caption.error());
    const Micrometres above = static_cast<Micrometres>(caption->size()) * line_height + caption_gap;
    const Micrometres high = above + label.height;
    if (wide > size_.width - 2 * sheet_margin || high > size_.height - 2 * sheet_margin - head_height) {
      refusals_.push_back(
          Refusal{"", 0, specimen.caption, "is larger than a sheet of A3", "choose a smaller stock, or draw the label by itself"});
      return;
    }
    find_place(wide, high);
    Marks& marks = pages_.pages.back().marks;
    for (std::size_t i = 0; i < caption->size(); ++i) {
      Marks line;
      line.texts = (*caption)[i].texts;
      add_moved(marks, line, x_, y_ + static_cast<Micrometres>(i) * line_height + type_.small.to_micrometres());
    }
    const Micrometres top = y_ + above;
    const Micrometres right = x_ + label.width;
    const Micrometres bottom = top + label.height;
    marks.strokes.push_back(
        {std::vector<Point>{{x_, top}, {right, top}, {right, bottom}, {x_, bottom}, {x_, top}}, thin, outline_ink, 0, "rule"});
    marks.strokes.push_back({std::vector<Point>{{x_, bottom}, {right, top}}, struck, struck_ink, 0, "specimen"});
    add_moved(marks, label.marks, x_, top);
  }

  Result<Pages> finish() {
    if (!refusals_.empty()) return refusals_;
    for (std::size_t i = 0; i < pages_.pages.size(); ++i) {
      const std::string words = fmt::format("sheet {} of {}", i + 1, pages_.pages.size());
      const Micrometres width = fonts_.width(words, Face::condensed, type_.body);
      write(pages_.pages[i], size_.width - sheet_margin - width, words, Face::condensed, type_.body);
    }
    return std::move(pages_);
  }

 private:
  Result<std::vector<papers::Line>> caption_lines(const std::string& words, Micrometres width) const {
    Paragraph caption;
    caption.runs = {type_.tiny_bold("SPECIMEN – "), type_.tiny(words)};
    caption.field = "caption";
    papers::TypeCase type{fonts_};
    const papers::Shape& shape = type.shape_of(caption);
    const Refusals bad = papers::check_paragraph(caption, shape, fonts_);
    if (!bad.empty()) return bad;
    return papers::break_lines(caption, shape, width, fonts_);
  }

  /// Goes on to where something of this size has room.
  void find_place(Micrometres wide, Micrometres high) {
    if (pages_.pages.empty()) open();
    if (!settle(wide, high)) {
      open();
      settle(wide, high);
    }
    taken_.push_back({x_, x_ + wide, y_ + high});
  }

  /// Finds the highest place, of these the one furthest to the left. @returns false where this sheet has none
  bool settle(Micrometres wide, Micrometres high) {
    std::vector<Micrometres> lefts{sheet_margin};
    for (const Taken& other : taken_) lefts.push_back(other.right + between);
    std::sort(lefts.begin(), lefts.end());
    std::optional<Micrometres> best;
    for (const Micrometres left : lefts) {
      if (left + wide > size_.width - sheet_margin) continue;
      Micrometres top = sheet_margin + head_height;
      for (const Taken& other : taken_) {
        if (other.left < left + wide + between && left < other.right + between) top = std::max(top, other.bottom + between);
      }
      if (top + high > size_.height - sheet_margin || (best && *best <= top)) continue;
      best = top;
      x_ = left;
    }
    y_ = best.value_or(0);
    return best.has_value();
  }

  void open() {
    pages_.pages.push_back(Page{size_.width, size_.height, sheet_margin, sheet_margin, sheet_margin, sheet_margin, {}});
    write(pages_.pages.back(), sheet_margin, head_, Face::condensed_bold, head_size);
    taken_.clear();
  }

  /// Writes on the first line of a sheet.
  void write(Page& page, Micrometres x, const std::string& words, Face face, PointSize size) const {
    page.marks.texts.push_back({x, sheet_margin + head_size.to_micrometres(), fonts_.width(words, face, size), words, face, size, 0});
  }

  const papers::RecordType type_;
  const Micrometres line_height = type_.small.to_micrometres() * 13 / 10;
  const Micrometres caption_gap = line_height / 3;
  const Micrometres head_height = head_size.to_micrometres() * 2;
  const std::string head_;
  const SheetSize size_;
  const Fonts& fonts_;
  Pages pages_;
  Refusals refusals_;
  /// What a specimen covers of a sheet, with its caption.
  struct Taken {
    Micrometres left;
    Micrometres right;
    Micrometres bottom;
  };
  std::vector<Taken> taken_;  ///< on the last sheet
  Micrometres x_ = 0;         ///< where the next one goes
  Micrometres y_ = 0;
};

}  // namespace

Result<Pages> lay_out_specimens(std::span<const Specimen> specimens, const std::string& title, const Fonts& fonts) {
  const std::string head = "SPECIMENS, NOT FOR USE – " + title;
  if (const Refusals bad = check_text(head, Face::condensed_bold, fonts, "title"); !bad.empty()) return bad;
  const auto on = [&](SheetSize size, bool highest_first) {
    std::vector<Specimen> order{specimens.begin(), specimens.end()};
    if (highest_first)
      std::stable_sort(order.begin(), order.end(), [](const Specimen& a, const Specimen& b) { return a.label.height > b.label.height; });
    SpecimenSheets sheets{head, size, fonts};
    for (const Specimen& specimen : order) sheets.place(specimen);
    return sheets.finish();
  };
  auto usual = on(a3, false);
  if (!usual || usual->pages.size() <= 1) return usual;
  for (const SheetSize& size : {a2, a1}) {
    for (const bool highest_first : {false, true}) {
      if (auto one = on(size, highest_first); one && one->pages.size() == 1) return one;
    }
  }
  return usual;
}

}  // namespace tierproof
