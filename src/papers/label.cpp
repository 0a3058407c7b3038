#include "tierproof/papers/label.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <optional>

#include "tierproof/papers/document.h"

namespace tierproof {
namespace {

constexpr Micrometres comfortable_x_height = 2000;  // design choice: as large as a book's text at arm's length
constexpr Micrometres least_x_height = 800;         // design choice: below it a 203-dpi head has too few dots for a letter
constexpr Micrometres size_step = 50;

/// How large and how tight a label is set.
struct Setting {
  Micrometres x_height = 0;
  bool tight = false;  ///< the last resort: smaller name, what can share a line does
};

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (const std::string& part : parts) {
    if (part.empty()) continue;
    if (!text.empty()) text += between;
    text += part;
  }
  return text;
}

/// Sets the words of a label in one setting.
class LabelSetter {
 public:
  LabelSetter(const LabelContent& content, const Stock& stock, const Setting& setting, const Fonts& fonts)
      : content_{content}, stock_{stock}, fonts_{fonts}, tight_{setting.tight} {
    body_ = fonts.size_for_x_height(Face::condensed, setting.x_height);
    const PointSize least = fonts.size_for_x_height(Face::condensed, std::max(content.minimum_x_height_um, least_x_height));
    small_ = std::max(least, PointSize::hundredths(body_.to_hundredths() * 82 / 100));
    name_ = PointSize::hundredths(body_.to_hundredths() * (tight_ ? 125 : 140) / 100);
    em_ = body_.to_micrometres();
  }

  Document document() {
    Document document;
    document.width = Micrometres{stock_.width} * 100;
    document.height = Micrometres{stock_.height} * 100;
    document.left = document.right = document.top = document.bottom = Micrometres{stock_.margin} * 100;
    document.cut_to_length = stock_.roll;
    column_ = document.width - document.left - document.right;
    if (content_.demo) {
      document.demo = "DEMO – not for sale";
      document.demo_type = {"", Face::condensed_bold, body_, 0};
    }
    add_stop();
    add_food(content_);
    for (const LabelWords& words : content_.languages) {
      add_rule(apart());
      add_food(words);
    }
    add_care();
    add_business();
    document.blocks = std::move(blocks_);
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
  TextRun plain(std::string text) const { return {std::move(text), Face::condensed, body_, 0}; }
  TextRun bold(std::string text) const { return {std::move(text), Face::condensed_bold, body_, 0}; }
  TextRun small(std::string text) const { return {std::move(text), Face::condensed, small_, 0}; }
  TextRun run(const Run& words) const { return words.emphasised ? bold(words.text) : plain(words.text); }

  Micrometres close() const { return em_ * 30 / 100; }
  Micrometres apart() const { return em_ * 65 / 100; }

  void add(Paragraph made) { blocks_.emplace_back(std::move(made)); }
  void add_rule(Micrometres space) {
    const Micrometres dot = 25400 / stock_.dots_per_inch;
    const Micrometres thick = std::max<Micrometres>(2 * dot, 200);  // no hairlines on a thermal head
    blocks_.emplace_back(Rule{thick, space, space, 0, true});
  }

  /// A cake that must not be handed over says so before anything else.
  void add_stop() {
    if (content_.stop.empty()) return;
    add_rule(close());
    add(paragraph({{content_.stop, Face::condensed_bold, body_, 0}}, "stop", 0));
    add_rule(close());
  }

  void add_food(const LabelWords& words) {
    Paragraph name = paragraph({{words.name, Face::condensed_bold, name_, 0}}, "name", 0);
    name.leading = 118;
    add(std::move(name));
    for (const std::string& text : words.name_statements) add(paragraph({plain(text)}, "name_statements", close()));
    if (!words.quantities.empty()) add(paragraph({plain(words.quantities)}, "quantities", close()));
    add_rule(close());
    if (!words.ingredients.empty()) {
      std::vector<TextRun> runs;
      for (const Run& each : words.heading) runs.push_back(run(each));
      if (!runs.empty()) runs.push_back(plain(" "));
      for (std::size_t i = 0; i < words.ingredients.size(); ++i) {
        for (const Run& each : words.ingredients[i]) runs.push_back(run(each));
        runs.push_back(plain(i + 1 < words.ingredients.size() ? ", " : "."));
      }
      add(paragraph(std::move(runs), "ingredients", 0));
    }
    for (const std::string& text : words.after_list) add(paragraph({plain(text)}, "after_list", close()));
    add_runs(words.allergen_line, "allergen_line");
    std::vector<std::string> order = words.order;
    for (const char* block : {"statements", "summary", "may contain"}) {
      if (std::find(order.begin(), order.end(), block) == order.end()) order.emplace_back(block);
    }
    for (const std::string& block : order) {
      if (block == "summary") {
        add_runs(words.summary, "summary");
      } else {
        const bool traces = block == "may contain";
        for (const std::string& text : traces ? words.may_contain : words.statements)
          add(paragraph({plain(text)}, traces ? "may_contain" : "statements", close()));
      }
    }
  }

  void add_runs(const std::vector<Run>& words, const char* field) {
    if (words.empty()) return;
    std::vector<TextRun> runs;
    for (const Run& each : words) runs.push_back(run(each));
    add(paragraph(std::move(runs), field, close()));
  }

  /// How to keep it, by when to eat it, how much it is, what to take out first.
  void add_care() {
    if (content_.storage.empty() && content_.date.empty() && content_.quantity.empty() && content_.remove.empty() && content_.box.empty())
      return;
    add_rule(apart());
    Micrometres before = 0;
    const auto put = [&](TextRun words, const char* field) {
      if (words.text.empty()) return;
      add(paragraph({std::move(words)}, field, before));
      before = close();
    };
    put(plain(content_.storage), "storage");
    const std::string amount = tight_ ? joined({content_.quantity, content_.box}, " · ") : content_.quantity;
    const Micrometres both = fonts_width(bold(content_.date)) + fonts_width(plain(amount)) + 4000;
    if (!content_.date.empty() && !amount.empty() && both <= column_) {
      Paragraph date = paragraph({bold(content_.date)}, "date", 0);
      Paragraph quantity = paragraph({plain(amount)}, "quantity", 0);
      quantity.align = Align::right;
      Table line;
      line.columns = {Column{0, false, 0}, Column{0, true, 0}};
      line.rows = {Row{{Cell{{std::move(date)}, 1}, Cell{{std::move(quantity)}, 1}}, false, false}};
      line.padding = 0;
      line.rules = false;
      line.before = before;
      before = close();
      blocks_.emplace_back(std::move(line));
    } else {
      put(bold(content_.date), "date");
      put(plain(amount), "quantity");
    }
    for (const LabelWords& words : content_.languages) {
      put(plain(words.storage), "storage");
      put(bold(words.date), "date");
    }
    put(plain(content_.lot), "lot");
    put(bold(content_.remove), "remove");
    for (const LabelWords& words : content_.languages) put(bold(words.remove), "remove");
    if (!tight_) put(plain(content_.box), "box");
  }

  void add_business() {
    blocks_.emplace_back(Space{0, true});
    add_rule(apart());
    Micrometres before = 0;
    const auto put = [&](std::string words, const char* field) {
      if (words.empty()) return;
      Paragraph made = paragraph({small(std::move(words))}, field, before);
      add(std::move(made));
      before = close();
    };
    const std::string reference = joined({content_.reference, content_.head}, " · ");
    if (tight_) {
      put(joined({joined(content_.business, ", "), reference}, " · "), "business");
    } else {
      put(joined(content_.business, "\n"), "business");
      put(reference, "reference");
    }
    for (const std::string& words : content_.cautions) put(words, "cautions");
  }

  /// Text that cannot be set has no width; its refusal comes from the layout.
  Micrometres fonts_width(const TextRun& words) const {
    return check_text(words.text, words.face, fonts_, "").empty() ? fonts_.width(words.text, words.face, words.size) : 0;
  }

  const LabelContent& content_;
  const Stock& stock_;
  const Fonts& fonts_;
  bool tight_;
  PointSize body_;
  PointSize small_;
  PointSize name_;
  Micrometres em_ = 0;
  Micrometres column_ = 0;
  std::vector<Block> blocks_;
};

Micrometres least_of(const LabelContent& content) { return std::max(content.minimum_x_height_um, least_x_height); }

/// The height that the label takes at its legal minimum on a stock this wide.
Result<Micrometres> least_height(const LabelContent& content, const Stock& stock, const Fonts& fonts) {
  return height_needed(LabelSetter{content, stock, {least_of(content), true}, fonts}.document(), fonts);
}

bool fits(const LabelContent& content, const Stock& stock, const Fonts& fonts) {
  const auto height = least_height(content, stock, fonts);
  return height && *height <= Micrometres{stock.height} * 100;
}

std::int64_t area_of(const LabelContent& content, const Stock& stock, const Fonts& fonts) {
  const auto height = stock.roll ? least_height(content, stock, fonts) : Result<Micrometres>{Micrometres{stock.height} * 100};
  return height ? Micrometres{stock.width} * 100 * *height : 0;
}

std::string remedy_of(const LabelContent& content, const Stock& stock, const Fonts& fonts, std::span<const Stock> others) {
  const Stock* best = nullptr;
  std::int64_t least = 0;
  for (const Stock& other : others) {
    if (other.id == stock.id || !fits(content, other, fonts)) continue;
    const std::int64_t area = area_of(content, other, fonts);
    if (best == nullptr || area < least) {
      best = &other;
      least = area;
    }
  }
  if (best != nullptr) return fmt::format("use {} ({}), the smallest of the stocks at hand that holds it", best->words, best->id);
  return others.empty() ? "use a larger stock" : "none of the stocks at hand holds it; use a larger one";
}

Refusal does_not_fit(const LabelContent& content, const Stock& stock, const Fonts& fonts, std::span<const Stock> others,
                     const std::string& why) {
  const std::string source = content.type_size_source.empty() ? "" : " (" + content.type_size_source + ")";
  return Refusal{"", 0, "stock",
                 fmt::format("this label does not fit {} with letters of the least height allowed, {:.2f} mm for an x{}: {}", stock.words,
                             static_cast<double>(least_of(content)) / 1000.0, source, why),
                 remedy_of(content, stock, fonts, others)};
}

/// Whatever is wrong with the text itself, on a sheet that is wide enough for any word.
Refusals text_refusals(const LabelContent& content, const Stock& stock, const Fonts& fonts) {
  Stock wide = stock;
  wide.width = 20000;
  const auto height = least_height(content, wide, fonts);
  return height ? Refusals{} : height.error();
}

}  // namespace

Result<Pages> lay_out_label(const LabelContent& content, const Stock& stock, const Fonts& fonts, std::span<const Stock> others) {
  const Refusals bad = text_refusals(content, stock, fonts);
  if (!bad.empty()) return bad;

  const Micrometres height = Micrometres{stock.height} * 100;
  const Micrometres least = least_of(content);
  std::vector<Setting> settings;
  for (Micrometres size = comfortable_x_height; size > least; size -= size_step) settings.push_back({size, false});
  settings.push_back({least, false});
  settings.push_back({least, true});
  // On a roll the first that makes a label of pleasant length, or else the shortest of those that fit.
  const Micrometres pleasant = stock.roll ? std::min(height, Micrometres{stock.width} * 180) : height;
  for (const Micrometres most : {pleasant, height}) {
    for (const Setting& setting : settings) {
      if (most == height && pleasant < height && setting.x_height > least) continue;
      const Document document = LabelSetter{content, stock, setting, fonts}.document();
      const auto needed = height_needed(document, fonts);
      if (needed && *needed <= most) return lay_out(document, fonts);
    }
  }

  const auto needed = least_height(content, stock, fonts);
  if (!needed) {
    return does_not_fit(content, stock, fonts, others, fmt::format("it is too narrow, {}", needed.error().front().message));
  }
  return does_not_fit(content, stock, fonts, others,
                      fmt::format("at this width it needs {:.1f} mm of height and has {:.1f} mm",
                                  static_cast<double>((*needed + 99) / 100) / 10.0, static_cast<double>(stock.height) / 10.0));
}

}  // namespace tierproof
