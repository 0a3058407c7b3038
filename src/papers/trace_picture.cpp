#include "tierproof/papers/trace_picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "layout.h"
#include "record_type.h"
#include "tierproof/sums/layers.h"

namespace tierproof {
namespace {

using namespace papers;

constexpr std::size_t most_pictured = 400;
constexpr Micrometres longest_sheet = 5000000;  ///< a page of a PDF may be 14,400 units of 1/72 inch long (ISO 32000-1, annex C.2)
constexpr Micrometres box_inset = 1800;
constexpr Micrometres line_width = 250;
constexpr Micrometres thick_line = 900;
constexpr Micrometres dash_length = 1400;
constexpr Micrometres arrow = 1500;
constexpr Micrometres lead_length = 3000;
constexpr Micrometres beside_mark = 500;
constexpr const char* loop_word = "loop";

/// A sheet of ISO 216 (sizes from memory).
struct PictureSheet {
  std::string name;
  Micrometres width;
  Micrometres height;
};

std::vector<PictureSheet> picture_sheets() {
  constexpr std::array<std::pair<const char*, std::pair<Micrometres, Micrometres>>, 5> sizes{
      {{"A4", {210000, 297000}}, {"A3", {297000, 420000}}, {"A2", {420000, 594000}}, {"A1", {594000, 841000}}, {"A0", {841000, 1189000}}}};
  std::vector<PictureSheet> sheets;
  for (const auto& [name, size] : sizes) {
    sheets.push_back({fmt::format("{} lying", name), size.second, size.first});
    sheets.push_back({fmt::format("{} upright", name), size.first, size.second});
  }
  return sheets;
}

/// Words set under each other within a width.
struct SetWords {
  Marks marks;
  Micrometres height = 0;
};

class TracePicture {
 public:
  TracePicture(const TracePictureContent& content, const Fonts& fonts) : content_{content}, fonts_{fonts}, case_{fonts} {}

  Result<Pages> run() {
    if (content_.things.size() > most_pictured)
      return Refusal{"", 0, "picture",
                     fmt::format("{} things are too many for one drawing; it holds {}", content_.things.size(), most_pictured),
                     "draw the trace of something nearer, such as a batch or a cake"};
    if (auto bad = draw(); !bad.empty()) return bad;
    const Micrometres margins = paper({"", 0, 0}).left + paper({"", 0, 0}).right;
    for (const PictureSheet& sheet : picture_sheets()) {
      for (const Drawn& drawn : drawn_) {
        if (drawn.drawing.width + margins > sheet.width || drawn.drawing.height > sheet.height) continue;
        auto document = document_on(sheet, drawn);
        if (!document) return document.error();
        const auto needed = height_needed(*document, case_);
        if (!needed) return needed.error();
        if (*needed <= sheet.height) return lay_out(*document, case_);
      }
    }
    const Drawn& drawn = drawn_.front();
    PictureSheet own{"a sheet of its own", drawn.drawing.width + margins, 0};
    for (int pass = 0; pass < 2; ++pass) {  // the words tell the height, and the height depends on the words
      auto document = document_on(own, drawn);
      if (!document) return document.error();
      const auto needed = height_needed(*document, case_);
      if (!needed) return needed.error();
      own.height = (*needed / 1000 + 2) * 1000;
    }
    if (std::max(own.width, own.height) > longest_sheet)
      return Refusal{"", 0, "picture", "the drawing would be longer than 5 m",
                     "draw the trace of something nearer, such as a batch or a cake"};
    const auto document = document_on(own, drawn);
    if (!document) return document.error();
    return lay_out(*document, case_);
  }

 private:
  struct Drawn {
    LayeredDrawing drawing;
    Marks marks;
  };

  Result<SetWords> set(const std::vector<Paragraph>& paragraphs, Micrometres width) {
    SetWords words;
    for (const Paragraph& paragraph : paragraphs) {
      const Shape& shape = case_.shape_of(paragraph);
      if (Refusals bad = check_paragraph(paragraph, shape, fonts_); !bad.empty()) return bad;
      const auto lines = break_lines(paragraph, shape, width, fonts_);
      if (!lines) return lines.error();
      for (const Line& line : *lines) {
        const Slab slab = slab_of(line, paragraph.leading, fonts_);
        add_moved(words.marks, slab.marks, 0, words.height);
        words.height += slab.height;
      }
    }
    return words;
  }

  std::vector<Paragraph> words_of(const PicturedThing& thing) const {
    std::vector<Paragraph> words;
    std::string marks;
    if (thing.asked) marks = "TRACED: THIS ONE";
    if (thing.withdrawn) marks += (marks.empty() ? "" : " · ") + std::string{"WITHDRAWN"};
    if (thing.voided) marks += (marks.empty() ? "" : " · ") + std::string{"VOIDED"};
    if (!marks.empty()) words.push_back(type_.paragraph({type_.tiny_bold(marks)}, thing.id));
    std::vector<TextRun> name{type_.bold(thing.id)};
    if (!thing.name.empty()) name.push_back(type_.plain(" " + thing.name));
    words.push_back(type_.paragraph(std::move(name), thing.id));
    if (!thing.where.empty()) words.push_back(type_.paragraph({type_.tiny(thing.where)}, thing.id));
    for (std::size_t i = 0; i < content_.graph.edges.size(); ++i) {
      const TraceEdge& edge = content_.graph.edges[i];
      if (edge.from == edge.to && content_.things[edge.from].id == thing.id) {
        words.push_back(type_.paragraph({type_.tiny_bold("loop: the records say that it went into itself")}, thing.id));
        break;
      }
    }
    return words;
  }

  std::string mark_of_edge(std::size_t edge, bool closes) const {
    std::string mark = content_.graph.edges[edge].certain ? "" : "?";
    if (closes) mark += (mark.empty() ? "" : " ") + std::string{loop_word};
    return mark;
  }
  Micrometres mark_width(const std::string& mark) const { return fonts_.width(mark, Face::condensed_bold, type_.small); }

  void frame(Marks& marks, const DrawnBox& box, const PicturedThing& thing) const {
    const auto ring = [&](Micrometres inset, Micrometres width, Micrometres dash) {
      const Micrometres left = box.x + inset, top = box.y + inset;
      const Micrometres right = box.x + box.width - inset, bottom = box.y + box.height - inset;
      marks.strokes.push_back({{{left, top}, {right, top}, {right, bottom}, {left, bottom}, {left, top}}, width, 0, dash, "frame"});
    };
    ring(0, thing.asked ? thick_line : line_width, thing.voided ? dash_length : 0);
    if (thing.withdrawn) ring(1100, line_width, 0);
  }

  /// A line with its arrow; `back` tells that it leads from its last point to its first.
  void line(Marks& marks, const std::vector<DrawnPoint>& points, bool certain, bool back, const std::string& mark) const {
    Stroke stroke;
    stroke.width = line_width;
    stroke.dash = certain ? 0 : dash_length;
    stroke.role = certain ? "went" : "may";
    for (const DrawnPoint& point : points) {
      if (stroke.points.empty() || !(stroke.points.back() == Point{point.x, point.y})) stroke.points.push_back({point.x, point.y});
    }
    const Point begin = stroke.points.front(), end = stroke.points.back();
    if (!mark.empty()) {
      const Point turn = stroke.points[stroke.points.size() - 2];
      const Micrometres wide = mark_width(mark);
      stroke.points.pop_back();
      stroke.points.push_back({turn.x + beside_mark, end.y});
      Stroke rest = stroke;
      rest.points = {{turn.x + 3 * beside_mark + wide, end.y}, end};
      marks.strokes.push_back(std::move(rest));
      marks.texts.push_back({turn.x + 2 * beside_mark, end.y + fonts_.capital_height(Face::condensed_bold, type_.small) / 2, wide, mark,
                             Face::condensed_bold, type_.small, 0});
    }
    marks.strokes.push_back(std::move(stroke));
    const Point tip = back ? begin : end;
    const Micrometres away = back ? arrow : -arrow;
    marks.strokes.push_back({{{tip.x + away, tip.y - arrow / 2}, tip, {tip.x + away, tip.y + arrow / 2}}, 350, 0, 0, "head"});
  }

  /// In boxes of each width that their words can be set in: narrow ones make the drawing narrow, wide ones low.
  Refusals draw() {
    Refusals bad;
    for (const Micrometres width : {Micrometres{54000}, Micrometres{80000}, Micrometres{120000}, Micrometres{180000}}) {
      bad.clear();
      std::vector<SetWords> boxes;
      for (const PicturedThing& thing : content_.things) {
        auto words = set(words_of(thing), width - 2 * box_inset);
        if (!words) {
          add(bad, words.error());
        } else {
          boxes.push_back(std::move(*words));
        }
      }
      if (bad.empty()) drawn_.push_back(place(boxes, width));
    }
    return drawn_.empty() ? bad : Refusals{};
  }

  Drawn place(const std::vector<SetWords>& boxes, Micrometres box_width) const {
    std::vector<std::int64_t> heights;
    for (const SetWords& words : boxes) heights.push_back(words.height + 2 * box_inset);
    const Micrometres stub = mark_width(std::string{"? "} + loop_word) + 4 * beside_mark + arrow + 500;
    Drawn drawn;
    drawn.drawing = drawn_in_layers(content_.graph, heights, {box_width, 2000, 3200, lead_length, stub, 10000, 45000});
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      const DrawnBox& box = drawn.drawing.boxes[i];
      frame(drawn.marks, box, content_.things[i]);
      add_moved(drawn.marks, boxes[i].marks, box.x + box_inset, box.y + (box.height - boxes[i].height) / 2);
    }
    for (std::size_t i = 0; i < drawn.drawing.routes.size(); ++i) {
      const DrawnRoute& route = drawn.drawing.routes[i];
      if (route.points.empty()) continue;
      line(drawn.marks, route.points, content_.graph.edges[i].certain, route.closes_loop, mark_of_edge(i, route.closes_loop));
    }
    return drawn;
  }

  /// What frames, lines and words stand for, in as many columns as the sheet has room for.
  Result<DrawingBlock> legend(Micrometres width) {
    constexpr Micrometres sample_width = 20000, column_least = 84000, row_gap = 1500;
    constexpr std::array<const char*, 6> told{"thick frame: what was traced",
                                              "double frame and WITHDRAWN: a pack that was withdrawn",
                                              "dashed frame and VOIDED: its record was taken back; the food did not vanish with it",
                                              "went into",
                                              "dashed with ?: may have gone into, and nobody can rule it out",
                                              "loop: leads back to something earlier, so one of the records is wrong"};
    const std::size_t columns = std::clamp<std::size_t>(static_cast<std::size_t>(width / column_least), 1, 3);
    const Micrometres column = width / static_cast<Micrometres>(columns);
    DrawingBlock block;
    block.field = "legend";
    for (std::size_t first = 0; first < told.size(); first += columns) {
      Micrometres row = 5000;
      for (std::size_t i = first; i < std::min(first + columns, told.size()); ++i) {
        const Micrometres left = static_cast<Micrometres>(i - first) * column;
        const auto words = set({type_.paragraph({type_.tiny(told[i])}, "legend")}, column - sample_width - 4000);
        if (!words) return words.error();
        row = std::max(row, words->height);
        add_moved(block.marks, words->marks, left + sample_width, block.height);
        const Micrometres middle = block.height + 2000;
        if (i < 3) {
          frame(block.marks, {left + 500, block.height, 14000, 4000, 0}, PicturedThing{"", "", "", i == 0, i == 1, i == 2});
        } else {
          const std::string mark = i == 4 ? "?" : i == 5 ? loop_word : "";
          line(block.marks, {{left, middle}, {left + 6000, middle}, {left + 16000, middle}}, i != 4, i == 5, mark);
        }
      }
      block.height += row + row_gap;
    }
    return block;
  }

  Document paper(const PictureSheet& sheet) const {
    Document made = record_paper(content_.demo, fmt::format("{} · {} · {}", content_.reference, content_.head, content_.drawn), type_);
    made.width = sheet.width;
    made.height = sheet.height;
    return made;
  }

  Result<Document> document_on(const PictureSheet& sheet, const Drawn& drawn) {
    Document document = paper(sheet);
    const Micrometres column = document.width - document.left - document.right;
    append(document.blocks, paper_head({content_.business, "Trace", content_.reference}, 1000, type_));
    Paragraph title = type_.paragraph({{content_.title, Face::condensed_bold, PointSize::hundredths(1300), 0}}, "title");
    title.after = 3000;
    document.blocks.emplace_back(std::move(title));
    Paragraph sides = type_.paragraph({type_.tiny("What went into it stands on its left, what it went into on its right.")}, "sides");
    sides.after = 3000;
    document.blocks.emplace_back(std::move(sides));
    DrawingBlock drawing;
    const Micrometres shift = std::max<Micrometres>(0, (column - drawn.drawing.width) / 2);
    add_moved(drawing.marks, drawn.marks, shift, 500);
    drawing.height = drawn.drawing.height + 1000;
    drawing.field = "picture";
    document.blocks.emplace_back(std::move(drawing));
    document.blocks.emplace_back(Rule{250, 4000, 2000, 0, true});
    auto signs = legend(column);
    if (!signs) return signs.error();
    document.blocks.emplace_back(std::move(*signs));
    document.blocks.emplace_back(type_.paragraph({type_.tiny(fmt::format("{}", fmt::join(content_.cautions, " ")))}, "cautions"));
    document.blocks.emplace_back(type_.paragraph(
        {type_.tiny(fmt::format("Sheet: {}, {} × {} mm. Print it at its size: made smaller, its words are smaller than those "
                                "of the other papers.",
                                sheet.name, sheet.width / 1000, sheet.height / 1000))},
        "sheet"));
    return document;
  }

  const TracePictureContent& content_;
  const Fonts& fonts_;
  TypeCase case_;
  RecordType type_;
  std::vector<Drawn> drawn_;  ///< by width of box
};

}  // namespace

Result<Pages> lay_out_trace_picture(const TracePictureContent& content, const Fonts& fonts) { return TracePicture{content, fonts}.run(); }

}  // namespace tierproof
