#include "tierproof/papers/specimens.h"

#include <fmt/format.h>

#include <algorithm>

#include "layout.h"
#include "lines.h"
#include "record_type.h"

namespace tierproof {
namespace {

constexpr Micrometres sheet_width = 297000;  // A3
constexpr Micrometres sheet_height = 420000;
constexpr Micrometres sheet_margin = 10000;
constexpr Micrometres between = 6000;
constexpr Micrometres narrowest_caption = 40000;
constexpr Micrometres thin = 100;
constexpr Micrometres struck = 500;
constexpr Ink outline_ink = 160;
constexpr Ink struck_ink = 205;
const PointSize head_size = PointSize::hundredths(1400);

/// Fills sheets shelf by shelf.
class SpecimenSheets {
 public:
  SpecimenSheets(std::string head, const Fonts& fonts) : head_{std::move(head)}, fonts_{fonts} {}

  void place(const Specimen& specimen) {
    const Page& label = specimen.label;
    const Micrometres wide = std::max(label.width, narrowest_caption);
    const auto caption = caption_lines(specimen.caption, wide);
    if (!caption) return papers::add(refusals_, caption.error());
    const Micrometres above = static_cast<Micrometres>(caption->size()) * line_height + caption_gap;
    const Micrometres high = above + label.height;
    if (wide > sheet_width - 2 * sheet_margin || high > sheet_height - 2 * sheet_margin - head_height) {
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
    x_ += wide + between;
    shelf_ = std::max(shelf_, high);
  }

  Result<Pages> finish() {
    if (!refusals_.empty()) return refusals_;
    for (std::size_t i = 0; i < pages_.pages.size(); ++i) {
      const std::string words = fmt::format("sheet {} of {}", i + 1, pages_.pages.size());
      const Micrometres width = fonts_.width(words, Face::condensed, type_.body);
      write(pages_.pages[i], sheet_width - sheet_margin - width, words, Face::condensed, type_.body);
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
    if (x_ > sheet_margin && x_ + wide > sheet_width - sheet_margin) {
      x_ = sheet_margin;
      y_ += shelf_ + between;
      shelf_ = 0;
    }
    if (y_ + high > sheet_height - sheet_margin) open();
  }

  void open() {
    pages_.pages.push_back(Page{sheet_width, sheet_height, sheet_margin, sheet_margin, sheet_margin, sheet_margin, {}});
    write(pages_.pages.back(), sheet_margin, head_, Face::condensed_bold, head_size);
    x_ = sheet_margin;
    y_ = sheet_margin + head_height;
    shelf_ = 0;
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
  const Fonts& fonts_;
  Pages pages_;
  Refusals refusals_;
  Micrometres x_ = 0;  ///< where the next one goes
  Micrometres y_ = 0;
  Micrometres shelf_ = 0;  ///< height of the row so far
};

}  // namespace

Result<Pages> lay_out_specimens(std::span<const Specimen> specimens, const std::string& title, const Fonts& fonts) {
  const std::string head = "SPECIMENS, NOT FOR USE – " + title;
  if (const Refusals bad = check_text(head, Face::condensed_bold, fonts, "title"); !bad.empty()) return bad;
  SpecimenSheets sheets{head, fonts};
  for (const Specimen& specimen : specimens) sheets.place(specimen);
  return sheets.finish();
}

}  // namespace tierproof
