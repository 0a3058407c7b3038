#include "label_setting.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "layout.h"

namespace tierproof::papers {
namespace {

constexpr Micrometres least_readable_x_height = 800;  // design choice: below it a 203-dpi head has too few dots for a letter
constexpr int closest_to_own_line = 130;  // design choice: a net quantity that has to be larger than this, in hundredths, has its own line

std::string joined_by(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (const std::string& part : parts) {
    if (part.empty()) continue;
    if (!text.empty()) text += between;
    text += part;
  }
  return text;
}

std::string words_of(const std::vector<Run>& runs) {
  std::string text;
  for (const Run& run : runs) text += run.text;
  return text;
}

/// Whether a text has small letters. One beyond ASCII counts as small, so that the higher letters are taken.
bool has_small_letters(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) { return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80; });
}

/// What of a face a height is measured by.
int FaceMeasures::*measure_of(const LeastHeight& height, std::string_view text) {
  if (height.measured == "figure height") return &FaceMeasures::figure_height;
  if (height.measured == "letter height" && !has_small_letters(text)) return &FaceMeasures::capital_height;
  return &FaceMeasures::x_height;
}

/// The least size at which `measure` is so high in the plain and the bold face.
PointSize size_for(Micrometres height, int FaceMeasures::*measure, const Fonts& fonts) {
  const auto in = [&](Face face) { return points_for_x_height(height, fonts.of(face).*measure, fonts.of(face).em); };
  return std::max(in(Face::condensed), in(Face::condensed_bold));
}

/// Blocks that stay in one column, and what parts them from those above.
struct LabelUnit {
  std::vector<Block> blocks;
  Micrometres rule = 0;  ///< space on both sides of the rule above it; 0: no rule
};

/// Sets the words of a label in one setting.
class LabelSetter {
 public:
  LabelSetter(const LabelContent& content, const Stock& stock, const LabelSetting& setting, const LabelCodes& codes, TypeCase& type)
      : content_{content},
        stock_{stock},
        codes_{codes},
        type_{type},
        fonts_{type.fonts()},
        tight_{setting.tight},
        columns_{setting.columns} {
    const PointSize least = least_size_of(content, "", "", fonts_);
    body_ = std::max(least, fonts_.size_for_x_height(Face::condensed, setting.x_height));
    small_ = PointSize::hundredths(body_.to_hundredths() * 82 / 100);
    name_ = PointSize::hundredths(body_.to_hundredths() * (tight_ ? 125 : 140) / 100);
    em_ = body_.to_micrometres();
  }

  Document document() {
    Document document;
    document.width = Micrometres{stock_.width} * 100;
    document.height = Micrometres{stock_.height} * 100;
    document.left = document.right = document.top = document.bottom = clear_edge_of(stock_);
    document.cut_to_length = stock_.roll;
    room_ = document.width - document.left - document.right;
    column_ = columns_ == 1 ? room_ : (room_ - Columns{}.gap) / 2;
    if (content_.demo) {
      document.demo = "DEMO – not for sale";
      document.demo_type = {"", Face::condensed_bold, body_, 0};
    }
    add_units();
    document.blocks = stop();
    const std::size_t split = columns_ == 1 ? units_.size() : best_split();
    if (split == units_.size()) {
      append(document.blocks, joined(0, units_.size()));
    } else {
      document.blocks.emplace_back(Columns{{joined(0, split), joined(split, units_.size())}});
    }
    append(document.blocks, business());
    return document;
  }

 private:
  Paragraph paragraph(std::vector<TextRun> runs, std::string field, Micrometres before) const {
    Paragraph made;
    made.runs = std::move(runs);
    made.field = std::move(field);
    made.leading = tight_ ? 125 : 132;
    made.before = before;
    return made;
  }
  Paragraph paragraph(TextRun run, std::string field, Micrometres before) const {
    std::vector<TextRun> runs;
    runs.push_back(std::move(run));
    return paragraph(std::move(runs), std::move(field), before);
  }
  PointSize size_of(std::string_view what, std::string_view text) const {
    return std::max(body_, least_size_of(content_, what, text, fonts_));
  }
  TextRun plain(const std::string& text, std::string_view what = "") const { return {text, Face::condensed, size_of(what, text), 0}; }
  TextRun bold(const std::string& text, std::string_view what = "") const { return {text, Face::condensed_bold, size_of(what, text), 0}; }

  Micrometres close() const { return em_ * 30 / 100; }
  Micrometres apart() const { return em_ * 65 / 100; }

  static void append(std::vector<Block>& blocks, std::vector<Block> more) {
    for (Block& block : more) blocks.push_back(std::move(block));
  }
  Rule rule(Micrometres space) const {
    const Micrometres dot = 25400 / stock_.dots_per_inch;
    const Micrometres thick = std::max<Micrometres>(2 * dot, 200);  // no hairlines on a thermal head
    return {thick, space, space, 0, true};
  }

  /// A cake that must not be handed over says so before anything else.
  std::vector<Block> stop() const {
    if (content_.stop.empty()) return {};
    TextRun words = bold(content_.stop);
    if (!tight_) words.size = std::max(words.size, PointSize::hundredths(body_.to_hundredths() * 120 / 100));
    return {rule(close()), paragraph(std::move(words), "stop", 0), rule(close())};
  }

  void add_units() {
    units_.push_back({name_of(content_), 0});
    if (columns_ > 1) append(units_.back().blocks, amount());  // it shares a field of view with the name
    if (auto list = list_of(content_); !list.empty()) units_.push_back({std::move(list), close()});
    for (const LabelWords& words : content_.languages) {
      LabelUnit unit{name_of(words), apart()};
      if (auto list = list_of(words); !list.empty()) {
        unit.blocks.emplace_back(rule(close()));
        append(unit.blocks, std::move(list));
      }
      units_.push_back(std::move(unit));
    }
    if (auto keeping = care(); !keeping.empty()) units_.push_back({std::move(keeping), apart()});
  }

  std::vector<Block> name_of(const LabelWords& words) const {
    std::vector<Block> blocks;
    Paragraph name = paragraph(TextRun{words.name, Face::condensed_bold, std::max(name_, size_of("", words.name)), 0}, "name", 0);
    name.leading = 118;
    blocks.emplace_back(std::move(name));
    for (const std::string& text : words.name_statements)
      blocks.emplace_back(paragraph(plain(text, "warning statement"), "name_statements", close()));
    if (!words.quantities.empty()) blocks.emplace_back(paragraph(plain(words.quantities), "quantities", close()));
    return blocks;
  }

  /// The list and what the law wants next to it, with nothing between.
  std::vector<Block> list_of(const LabelWords& words) const {
    std::vector<Block> blocks;
    if (!words.ingredients.empty()) {
      std::string text = words_of(words.heading);
      for (const auto& entry : words.ingredients) text += words_of(entry);
      const PointSize size = size_of("ingredient list", text);
      std::vector<TextRun> runs = runs_of(words.heading, size);
      runs.reserve(runs.size() + 1 + 4 * words.ingredients.size());
      if (!runs.empty()) runs.push_back({" ", Face::condensed, size, 0});
      for (std::size_t i = 0; i < words.ingredients.size(); ++i) {
        for (const Run& each : words.ingredients[i]) runs.push_back(run_of(each, size));
        runs.push_back({i + 1 < words.ingredients.size() ? ", " : ".", Face::condensed, size, 0});
      }
      blocks.emplace_back(paragraph(std::move(runs), "ingredients", 0));
    }
    for (const std::string& text : words.after_list)
      blocks.emplace_back(paragraph(plain(text, "warning statement"), "after_list", close()));
    add_contains(blocks, words.allergen_line, "allergen_line");
    std::vector<std::string> order = words.order;
    for (const char* block : {"statements", "summary", "may contain"}) {
      if (std::find(order.begin(), order.end(), block) == order.end()) order.emplace_back(block);
    }
    for (const std::string& block : order) {
      if (block == "summary") {
        add_contains(blocks, words.summary, "summary");
      } else if (block == "may contain") {
        for (const std::string& text : words.may_contain) blocks.emplace_back(paragraph(plain(text), "may_contain", close()));
      } else {
        for (const std::string& text : words.statements)
          blocks.emplace_back(paragraph(plain(text, "warning statement"), "statements", close()));
      }
    }
    return blocks;
  }

  static TextRun run_of(const Run& words, PointSize size) {
    return {words.text, words.emphasised ? Face::condensed_bold : Face::condensed, size, 0};
  }
  static std::vector<TextRun> runs_of(const std::vector<Run>& words, PointSize size) {
    std::vector<TextRun> runs;
    for (const Run& each : words) runs.push_back(run_of(each, size));
    return runs;
  }

  /// `Contains: ...`, never smaller than the list that it may stand beside.
  void add_contains(std::vector<Block>& blocks, const std::vector<Run>& words, const char* field) const {
    if (words.empty()) return;
    const std::string text = words_of(words);
    const PointSize size = std::max(size_of("contains statement", text), size_of("ingredient list", text));
    blocks.emplace_back(paragraph(runs_of(words, size), field, close()));
  }

  /// How much it is; the net quantity of the law is bold, and has a line of its own where it must be much larger.
  std::vector<Block> amount() const {
    std::vector<Block> blocks;
    for (Paragraph& each : amount_paragraphs(close())) blocks.emplace_back(std::move(each));
    return blocks;
  }
  std::vector<Paragraph> amount_paragraphs(Micrometres before) const {
    if (content_.quantity.empty()) return {};
    const std::string& net = content_.net_quantity;
    assert(content_.quantity.ends_with(net));
    std::string number = content_.quantity.substr(0, content_.quantity.size() - net.size());
    if (net.empty()) return {paragraph(plain(number), "quantity", before)};
    const TextRun weight = bold(net, "net quantity");
    if (number.empty()) return {paragraph(weight, "quantity", before)};
    if (weight.size.to_hundredths() <= body_.to_hundredths() * closest_to_own_line / 100)
      return {paragraph({plain(number), weight}, "quantity", before)};
    number.erase(number.find_last_not_of(", ") + 1);
    return {paragraph(plain(number), "quantity", before), paragraph(weight, "quantity", close())};
  }

  /// How to keep it, by when to eat it, how much it is, what to take out first.
  std::vector<Block> care() const {
    std::vector<Block> blocks;
    const auto before = [&] { return blocks.empty() ? Micrometres{0} : close(); };
    const auto put = [&](TextRun words, const char* field) {
      if (!words.text.empty()) blocks.emplace_back(paragraph(std::move(words), field, before()));
    };
    put(plain(content_.storage), "storage");
    put(plain(content_.storage_reason), "storage_reason");
    std::vector<Paragraph> amounts = columns_ > 1 ? std::vector<Paragraph>{} : amount_paragraphs(0);
    const std::string box = tight_ ? content_.box : "";
    if (!box.empty() && amounts.size() == 1) amounts.front().runs.push_back(plain(" · " + box));
    const bool box_beside = !box.empty() && amounts.size() == 1;
    Micrometres both = width_of(bold(content_.date)) + 4000;
    for (const Paragraph& each : amounts) {
      for (const TextRun& run : each.runs) both += width_of(run);
    }
    if (!content_.date.empty() && amounts.size() == 1 && both <= column_) {
      Paragraph quantity = std::move(amounts.front());
      quantity.align = Align::right;
      Table line;
      line.columns = {Column{0, false, 0}, Column{0, true, 0}};
      line.rows = {Row{{Cell{{paragraph(bold(content_.date), "date", 0)}, 1}, Cell{{std::move(quantity)}, 1}}, false, false}};
      line.padding = 0;
      line.rules = false;
      line.before = before();
      blocks.emplace_back(std::move(line));
    } else {
      put(bold(content_.date), "date");
      for (Paragraph& each : amounts) {
        each.before = before();
        blocks.emplace_back(std::move(each));
      }
    }
    for (const LabelWords& words : content_.languages) {
      put(plain(words.storage), "storage");
      put(bold(words.date), "date");
    }
    put(plain(content_.lot), "lot");
    put(bold(content_.remove), "remove");
    for (const LabelWords& words : content_.languages) put(bold(words.remove), "remove");
    if (!box_beside) put(bold(content_.box), "box");
    return blocks;
  }

  /// At the foot, over the full width: who made it, which cake it is, and the codes at its right.
  std::vector<Block> business() const {
    std::vector<Block> blocks;
    Micrometres before = 0;
    const auto put = [&](const std::string& words, const char* field) {
      if (words.empty()) return;
      const PointSize size = std::max(small_, least_size_of(content_, "", words, fonts_));
      blocks.emplace_back(paragraph(TextRun{words, Face::condensed, size, 0}, field, before));
      before = close();
    };
    const std::string reference = joined_by({content_.reference, content_.head}, " · ");
    if (tight_) {
      put(joined_by({joined_by(content_.business, ", "), reference}, " · "), "business");
    } else {
      put(joined_by(content_.business, "\n"), "business");
      put(reference, "reference");
    }
    for (const std::string& words : content_.cautions) put(words, "cautions");
    if (codes_.gs1) blocks = {Beside{std::move(blocks), code_block(*codes_.gs1, "gs1_elements")}};
    if (codes_.qr) blocks = {Beside{std::move(blocks), code_block(*codes_.qr, "code")}};
    std::vector<Block> all{Space{0, true}, rule(apart())};
    append(all, std::move(blocks));
    return all;
  }
  CodeBlock code_block(const Code& code, const char* field) const {
    CodeBlock block;
    block.code = code;
    block.dots_per_inch = stock_.dots_per_inch;
    block.align = Align::right;
    block.field = field;
    return block;
  }

  /// The blocks of some units, which are empty then.
  std::vector<Block> joined(std::size_t from, std::size_t to) {
    std::vector<Block> blocks;
    for (std::size_t i = from; i < to; ++i) {
      if (i > from && units_[i].rule > 0) blocks.emplace_back(rule(units_[i].rule));
      append(blocks, std::move(units_[i].blocks));
    }
    return blocks;
  }

  /// Where the second column begins so that the longer of the two is as short as can be; the number of units where there is only one.
  std::size_t best_split() const {
    std::vector<Micrometres> heights;
    for (const LabelUnit& unit : units_) {
      Document alone;
      alone.width = column_;
      alone.blocks = unit.blocks;
      const auto height = height_needed(alone, type_);
      heights.push_back((height ? *height : 0) + 2 * unit.rule + rule(0).thickness);
    }
    std::size_t best = units_.size();
    Micrometres least = 0;
    for (std::size_t split = 1; split < units_.size(); ++split) {
      Micrometres left = 0;
      Micrometres right = 0;
      for (std::size_t i = 0; i < units_.size(); ++i) (i < split ? left : right) += heights[i];
      if (best == units_.size() || std::max(left, right) < least) {
        best = split;
        least = std::max(left, right);
      }
    }
    return best;
  }

  /// Text that cannot be set has no width; its refusal comes from the layout.
  Micrometres width_of(const TextRun& words) const {
    const bool settable = type_.shape_of(paragraph(words, "", 0)).settable;
    return settable ? fonts_.width(words.text, words.face, words.size) : 0;
  }

  const LabelContent& content_;
  const Stock& stock_;
  const LabelCodes& codes_;
  TypeCase& type_;
  const Fonts& fonts_;
  bool tight_;
  int columns_;
  PointSize body_;
  PointSize small_;
  PointSize name_;
  Micrometres em_ = 0;
  Micrometres room_ = 0;
  Micrometres column_ = 0;
  std::vector<LabelUnit> units_;
};

}  // namespace

Micrometres least_x_height_of(const LabelContent& content) {
  Micrometres least = least_readable_x_height;
  for (const LeastHeight& height : content.heights) {
    if (height.what == "text" && height.measured == "x-height") least = std::max(least, height.micrometres);
  }
  return least;
}

PointSize least_size_of(const LabelContent& content, std::string_view what, std::string_view text, const Fonts& fonts) {
  PointSize least = size_for(least_readable_x_height, &FaceMeasures::x_height, fonts);
  for (const LeastHeight& height : content.heights) {
    const bool holds = height.words.empty() ? height.what == "text" || height.what == what : height.words == text;
    if (holds) least = std::max(least, size_for(height.micrometres, measure_of(height, text), fonts));
  }
  return least;
}

Micrometres clear_edge_of(const Stock& stock) {
  if (stock.corner <= stock.margin) return Micrometres{stock.margin} * 100;
  const double inside = static_cast<double>(stock.corner - stock.margin) * 100 / std::numbers::sqrt2;
  return Micrometres{stock.corner} * 100 - static_cast<Micrometres>(std::floor(inside));
}

Document document_of_label(const LabelContent& content, const Stock& stock, const LabelSetting& setting, const LabelCodes& codes,
                           TypeCase& type) {
  return LabelSetter{content, stock, setting, codes, type}.document();
}

}  // namespace tierproof::papers
