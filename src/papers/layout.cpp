#include "layout.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <iterator>

namespace tierproof {
namespace papers {

void add(Refusals& all, const Refusals& more) { all.insert(all.end(), more.begin(), more.end()); }

void add_moved(Layer& layer, const Layer& more, Micrometres right, Micrometres down) {
  const auto add_all = [&](auto& to, const auto& from) {
    for (auto each : from) {
      if constexpr (requires { each.x; }) each.x += right;
      if constexpr (requires { each.baseline; }) each.baseline += down;
      each.y += down;
      to.push_back(std::move(each));
    }
  };
  tierproof::add_moved(layer.marks, more.marks, right, down);
  add_all(layer.jumps, more.jumps);
  add_all(layer.targets, more.targets);
  add_all(layer.contents, more.contents);
  add_all(layer.codes, more.codes);
}

Fill fill_of(const Bar& bar, Micrometres y, Micrometres height, Micrometres above) {
  const Micrometres from = bar.joined ? above : y;
  return {0, from, bar.thickness, y + height - from, 0};
}

namespace {

/// The words of a paragraph on one line.
std::string words_in(const Paragraph& paragraph) {
  std::string words;
  for (const TextRun& run : paragraph.runs) words += run.text;
  std::replace(words.begin(), words.end(), '\n', ' ');
  return words;
}

Micrometres height_of(PointSize largest, int leading) { return largest.to_micrometres() * leading / 100; }

Result<std::vector<Slab>> slabs_of_lines(const Paragraph& paragraph, const Shape& shape, Micrometres width, const Fonts& fonts,
                                         bool only_heights) {
  std::vector<Slab> slabs;
  if (only_heights) {
    const auto sizes = sizes_of_lines(paragraph, shape, width, fonts);
    if (!sizes) return sizes.error();
    if (!sizes->empty()) slabs.emplace_back();  // one for all lines, which have no space between them
    for (const PointSize size : *sizes) slabs.front().height += height_of(size, paragraph.leading);
    return slabs;
  }
  auto lines = break_lines(paragraph, shape, width, fonts);
  if (!lines) return lines.error();
  slabs.reserve(lines->size());
  for (Line& line : *lines) slabs.push_back(slab_of(std::move(line), paragraph.leading, fonts));
  return slabs;
}

void lay_paragraph(const Paragraph& paragraph, Micrometres width, TypeCase& type, Laid& laid) {
  const Shape& shape = type.shape_of(paragraph);
  const Refusals bad = check_paragraph(paragraph, shape, type.fonts());
  if (!bad.empty()) return add(laid.refusals, bad);
  auto slabs = slabs_of_lines(paragraph, shape, width, type.fonts(), laid.only_heights);
  if (!slabs) return add(laid.refusals, slabs.error());
  const std::size_t count = slabs->size();
  for (std::size_t i = 0; i < count; ++i) {
    Slab slab = std::move((*slabs)[i]);
    slab.field = paragraph.field;
    if (i == 0) {
      slab.before = paragraph.before;
      if (paragraph.bookmark > 0 || !paragraph.anchor.empty())
        slab.targets.push_back({0, paragraph.anchor, paragraph.bookmark, words_in(paragraph)});
    }
    const bool last = i + 1 == count;
    if (last) slab.after = paragraph.after;
    // No first or last line stands alone.
    slab.keep_with_next = last ? paragraph.keep_with_next : i == 0 || i + 2 == count;
    laid.slabs.push_back(std::move(slab));
  }
}

void lay_rule(const Rule& rule, Micrometres width, Laid& laid) {
  Slab slab;
  slab.before = rule.before;
  slab.after = rule.after;
  slab.height = rule.thickness;
  slab.keep_with_next = rule.keep_with_next;
  slab.marks.strokes.push_back({{{0, rule.thickness / 2}, {width, rule.thickness / 2}}, rule.thickness, rule.ink, 0, "rule"});
  laid.slabs.push_back(std::move(slab));
}

void lay_blanks(const Blanks& blanks, Micrometres width, TypeCase& type, Laid& laid) {
  constexpr Micrometres gap = 6000;
  const auto count = static_cast<Micrometres>(blanks.labels.size());
  if (count == 0) return;
  const Micrometres wide = (width - gap * (count - 1)) / count;
  Slab slab;
  slab.field = blanks.field;
  slab.height = blanks.height;
  Micrometres below = 0;
  for (Micrometres i = 0; i < count; ++i) {
    const Micrometres left = i * (wide + gap);
    slab.marks.strokes.push_back({{{left, blanks.height}, {left + wide, blanks.height}}, 120, 0, 0, "rule"});
    Paragraph label;
    label.runs = {blanks.labels[static_cast<std::size_t>(i)]};
    label.field = blanks.field;
    Laid words;
    lay_paragraph(label, wide, type, words);
    add(laid.refusals, words.refusals);
    Micrometres down = 0;
    for (const Slab& line : words.slabs) {
      add_moved(slab, line, left, blanks.height + down);
      down += line.height;
    }
    below = std::max(below, down);
  }
  slab.height += below;
  laid.slabs.push_back(std::move(slab));
}

void lay_barred(const Barred& barred, Micrometres width, TypeCase& type, Laid& laid) {
  const Micrometres shift = barred.thickness + barred.gap;
  const std::size_t first = laid.slabs.size();
  for (const Block& block : barred.blocks) lay_block(block, width - shift, type, laid);
  for (std::size_t i = first; i < laid.slabs.size(); ++i) {
    Layer moved;
    add_moved(moved, laid.slabs[i], shift, 0);
    static_cast<Layer&>(laid.slabs[i]) = std::move(moved);
    laid.slabs[i].bar = Bar{barred.thickness, i > first};
  }
}

struct LayBlock {
  Micrometres width;
  TypeCase& type;
  Laid& laid;
  void operator()(const Paragraph& paragraph) const { lay_paragraph(paragraph, width, type, laid); }
  void operator()(const Table& table) const { lay_table(table, width, type, laid); }
  void operator()(const Rule& rule) const { lay_rule(rule, width, laid); }
  void operator()(const Blanks& blanks) const { lay_blanks(blanks, width, type, laid); }
  void operator()(const Space& space) const {
    Slab slab;
    slab.height = space.height;
    slab.spring = space.spring;
    laid.slabs.push_back(std::move(slab));
  }
  void operator()(const ChartBlock& chart) const { lay_chart(chart, width, type, laid); }
  void operator()(const DrawingBlock& drawing) const {
    Slab slab;
    slab.marks = drawing.marks;
    slab.height = drawing.height;
    slab.field = drawing.field;
    laid.slabs.push_back(std::move(slab));
  }
  void operator()(const Together& together) const {
    const std::size_t first = laid.slabs.size();
    for (const Block& block : together.blocks) lay_block(block, width, type, laid);
    for (std::size_t i = first; i + 1 < laid.slabs.size(); ++i) laid.slabs[i].keep_with_next = true;
  }
  void operator()(const Barred& barred) const { lay_barred(barred, width, type, laid); }
  void operator()(const CodeBlock& code) const { lay_code(code, width, laid); }
  void operator()(const Beside& beside) const { lay_beside(beside, width, type, laid); }
  void operator()(const Columns& columns) const { lay_columns(columns, width, type, laid); }
  void operator()(const Contents& contents) const { lay_contents(contents, width, type, laid); }
  void operator()(const PageBreak&) const {
    Slab slab;
    slab.page_break = true;
    laid.slabs.push_back(std::move(slab));
  }
};

/// What stands at the head and foot of every page.
struct Frame {
  Layer header;  ///< relative to the left margin and the top margin
  Micrometres header_height = 0;
  std::vector<Line> footer;
  int footer_leading = 125;
  Micrometres footer_height = 0;
  TextRun number_type;
};

constexpr Micrometres footer_gap = 2500;

Micrometres column_of(const Document& document) { return document.width - document.left - document.right; }

Frame frame_of(const Document& document, TypeCase& type, Refusals& refusals) {
  const Fonts& fonts = type.fonts();
  Frame frame;
  const Micrometres column = column_of(document);
  if (!document.demo.empty()) {
    TextRun run = document.demo_type;
    run.text = document.demo;
    Paragraph paragraph;
    paragraph.runs = {run};
    paragraph.field = "demo";
    paragraph.align = Align::centre;
    Laid laid;
    lay_paragraph(paragraph, column, type, laid);
    add(refusals, laid.refusals);
    for (const Slab& slab : laid.slabs) {
      add_moved(frame.header, slab, 0, frame.header_height);
      frame.header_height += slab.height;
    }
    if (laid.slabs.size() == 1) {
      const PlacedText& text = frame.header.marks.texts.front();
      const Micrometres middle = text.baseline - fonts.capital_height(run.face, run.size) / 2;
      const Micrometres room = text.x - 2000;
      if (room > 2000) {
        frame.header.marks.strokes.push_back({{{0, middle}, {room, middle}}, 400, 0, 0, "rule"});
        frame.header.marks.strokes.push_back({{{column - room, middle}, {column, middle}}, 400, 0, 0, "rule"});
      }
    }
    frame.header_height += run.size.to_micrometres() / 2;
  }
  if (!document.footer.empty()) {
    frame.number_type = document.footer.front();
    Paragraph paragraph;
    paragraph.runs = document.footer;
    paragraph.field = "footer";
    const Shape& shape = type.shape_of(paragraph);
    const Refusals bad = check_paragraph(paragraph, shape, fonts);
    add(refusals, bad);
    if (bad.empty()) {
      const Micrometres number =
          document.numbered ? fonts.width("page 9999 of 9999", frame.number_type.face, frame.number_type.size) + 4000 : 0;
      auto lines = break_lines(paragraph, shape, column - number, fonts);
      if (lines) {
        frame.footer = std::move(*lines);
        for (const Line& line : frame.footer) frame.footer_height += slab_of(line, frame.footer_leading, fonts).height;
        frame.footer_height += footer_gap;
      } else {
        add(refusals, lines.error());
      }
    }
  }
  return frame;
}

/// Puts slabs on pages.
class Paginator {
 public:
  Paginator(const Document& document, const Frame& frame, Refusals& refusals) : document_{document}, frame_{frame}, refusals_{refusals} {}

  /// The pages without what is on them, and that.
  std::pair<std::vector<Page>, std::vector<Layer>> run(const std::vector<Slab>& slabs) {
    open_page();
    for (std::size_t i = 0; i < slabs.size();) {
      if (slabs[i].page_break) {
        close_page();
        open_page();
        ++i;
        continue;
      }
      std::size_t end = i + 1;
      while (end < slabs.size() && slabs[end - 1].keep_with_next && !slabs[end].page_break) ++end;
      place_group(slabs, i, end);
      i = end;
    }
    close_page();
    return {std::move(pages_), std::move(layers_)};
  }

 private:
  struct Placed {
    const Slab* slab;
    Micrometres y;
  };

  Micrometres top() const { return document_.top + frame_.header_height; }
  Micrometres bottom() const { return document_.height - document_.bottom - frame_.footer_height; }
  bool empty() const { return placed_.empty(); }

  Micrometres space_before(const Slab& slab) const { return empty() ? 0 : std::max(slab.before, placed_.back().slab->after); }

  Micrometres height_of(const std::vector<Slab>& slabs, std::size_t first, std::size_t end) const {
    Micrometres height = space_before(slabs[first]);
    if (empty() && slabs[first].head != nullptr) height += head_height(*slabs[first].head);
    for (std::size_t i = first; i < end; ++i) {
      height += slabs[i].height;
      if (i + 1 < end) height += std::max(slabs[i].after, slabs[i + 1].before);
    }
    return height;
  }

  static Micrometres head_height(const std::vector<Slab>& head) {
    Micrometres height = 0;
    for (const Slab& slab : head) height += slab.height;
    return height;
  }

  void place_group(const std::vector<Slab>& slabs, std::size_t first, std::size_t end) {
    if (y_ + height_of(slabs, first, end) > bottom() && !empty()) {
      close_page();
      open_page();
    }
    for (std::size_t i = first; i < end; ++i) {
      if (y_ + height_of(slabs, i, i + 1) > bottom() && !empty()) {  // a group higher than a page comes apart
        close_page();
        open_page();
      }
      place(slabs[i]);
    }
  }

  void place(const Slab& slab) {
    if (empty() && slab.head != nullptr) {
      for (const Slab& head : *slab.head) put(head);
    }
    put(slab);
  }

  void put(const Slab& slab) {
    y_ += space_before(slab);
    if (y_ + slab.height > bottom()) {
      refusals_.push_back(Refusal{"", 0, slab.field,
                                  fmt::format("is {:.1f} mm high and the page has {:.1f} mm for it",
                                              static_cast<double>(slab.height) / 1000.0, static_cast<double>(bottom() - top()) / 1000.0),
                                  "shorten its text"});
    }
    placed_.push_back({&slab, y_});
    y_ += slab.height;
  }

  void open_page() {
    placed_.clear();
    y_ = top();
  }

  void close_page() {
    Page page{document_.width, document_.height, document_.left, document_.top, document_.right, document_.bottom, {}};
    const auto springs = std::count_if(placed_.begin(), placed_.end(), [](const Placed& placed) { return placed.slab->spring; });
    const Micrometres spare = springs == 0 || document_.cut_to_length ? 0 : std::max<Micrometres>(0, bottom() - y_) / springs;
    if (document_.cut_to_length) page.height = (y_ + document_.bottom + frame_.footer_height + 999) / 1000 * 1000;
    Layer layer;
    add_moved(layer, frame_.header, document_.left, document_.top);
    Micrometres moved = 0;
    for (std::size_t i = 0; i < placed_.size(); ++i) {
      const auto& [slab, y] = placed_[i];
      add_moved(layer, *slab, document_.left, y + moved);
      if (slab->bar) {
        Fill bar = fill_of(*slab->bar, y + moved, slab->height, i > 0 ? placed_[i - 1].y + placed_[i - 1].slab->height + moved : y + moved);
        bar.x += document_.left;
        layer.marks.fills.push_back(bar);
      }
      if (slab->spring) moved += spare;
    }
    pages_.push_back(std::move(page));
    layers_.push_back(std::move(layer));
  }

  const Document& document_;
  const Frame& frame_;
  Refusals& refusals_;
  std::vector<Page> pages_;
  std::vector<Layer> layers_;
  std::vector<Placed> placed_;
  Micrometres y_ = 0;
};

void add_footers(const std::vector<Page>& pages, std::vector<Layer>& layers, const Document& document, const Frame& frame,
                 const Fonts& fonts) {
  if (frame.footer.empty()) return;
  for (std::size_t i = 0; i < pages.size(); ++i) {
    const Page& page = pages[i];
    Micrometres y = page.height - page.bottom - frame.footer_height + footer_gap;
    for (const Line& line : frame.footer) {
      const Slab slab = slab_of(line, frame.footer_leading, fonts);
      add_moved(layers[i], slab, page.left, y);
      y += slab.height;
    }
    if (!document.numbered) continue;
    const TextRun& type = frame.number_type;
    const std::string words = fmt::format("page {} of {}", i + 1, pages.size());
    const Micrometres width = fonts.width(words, type.face, type.size);
    const Micrometres last = slab_of(frame.footer.back(), frame.footer_leading, fonts).height;
    layers[i].marks.texts.push_back({page.width - page.right - width,
                                     y - last + baseline_in(frame.footer.back().largest, frame.footer_leading, fonts), width, words,
                                     type.face, type.size, type.ink});
  }
}

}  // namespace

Micrometres baseline_in(PointSize size, int leading, const Fonts& fonts) {
  // The line leaves as much above its capitals as below its baseline.
  return (size.to_micrometres() * leading / 100 + fonts.capital_height(Face::condensed, size)) / 2;
}

Slab slab_of(Line line, int leading, const Fonts& fonts) {
  Slab slab;
  slab.height = height_of(line.largest, leading);
  slab.marks.texts = std::move(line.texts);
  for (PlacedText& text : slab.marks.texts) text.baseline = baseline_in(line.largest, leading, fonts);
  slab.jumps = std::move(line.jumps);
  for (Jump& jump : slab.jumps) jump.height = slab.height;
  return slab;
}

void lay_block(const Block& block, Micrometres width, TypeCase& type, Laid& laid) { std::visit(LayBlock{width, type, laid}, block.held); }

/// Every slab of a document. Its contents need its bookmarks, so a document that has bookmarks is laid once to learn them.
Laid lay_all(const Document& document, TypeCase& type, bool only_heights = false) {
  const auto lay_with = [&](std::vector<Heading> headings) {
    Laid laid;
    laid.only_heights = only_heights;
    laid.headings = std::move(headings);
    laid.slabs.reserve(document.blocks.size() * 2);
    for (const Block& block : document.blocks) lay_block(block, column_of(document), type, laid);
    return laid;
  };
  Laid laid = lay_with({});
  if (laid.has_contents && laid.refusals.empty()) laid = lay_with(headings_of(laid.slabs));
  return laid;
}

Result<Pages> lay_out(const Document& document, TypeCase& type) {
  Laid laid = lay_all(document, type);
  const Frame frame = frame_of(document, type, laid.refusals);
  if (!laid.refusals.empty()) return laid.refusals;
  Paginator paginator{document, frame, laid.refusals};
  auto [sheets, layers] = paginator.run(laid.slabs);
  if (document.cut_to_length && sheets.size() > 1) {
    laid.refusals.push_back(Refusal{"", 0, "",
                                    fmt::format("is longer than the {:.1f} mm there is", static_cast<double>(document.height) / 1000.0),
                                    "take a wider or longer stock"});
  }
  if (!laid.refusals.empty()) return laid.refusals;
  add_footers(sheets, layers, document, frame, type.fonts());
  Pages pages{std::move(sheets)};
  resolve(std::move(layers), pages, type.fonts());
  return pages;
}

Result<Micrometres> height_needed(const Document& document, TypeCase& type) {
  Laid laid = lay_all(document, type, true);
  const Frame frame = frame_of(document, type, laid.refusals);
  if (!laid.refusals.empty()) return laid.refusals;
  Micrometres height = document.top + frame.header_height + frame.footer_height + document.bottom;
  for (std::size_t i = 0; i < laid.slabs.size(); ++i) {
    height += laid.slabs[i].height;
    if (i > 0) height += std::max(laid.slabs[i].before, laid.slabs[i - 1].after);
  }
  return height;
}

}  // namespace papers

Result<Pages> lay_out(const Document& document, const Fonts& fonts) {
  papers::TypeCase type{fonts};
  return papers::lay_out(document, type);
}

Result<Micrometres> height_needed(const Document& document, const Fonts& fonts) {
  papers::TypeCase type{fonts};
  return papers::height_needed(document, type);
}

}  // namespace tierproof
