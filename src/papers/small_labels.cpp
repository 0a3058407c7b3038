#include "tierproof/papers/small_labels.h"

#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "tierproof/papers/document.h"

namespace tierproof {
namespace {

constexpr Micrometres largest_small_x = 3000;
constexpr Micrometres least_small_x = 1200;
constexpr Micrometres small_x_step = 100;
constexpr Micrometres room_for_the_pen = 6000;
constexpr Micrometres pleasant_length = 70000;  // of a label on a narrow roll

std::string in_capitals(const std::string& text) {
  std::u32string capitals;
  for (const char32_t character : characters_of(text))
    capitals += static_cast<char32_t>(utf8proc_toupper(static_cast<utf8proc_int32_t>(character)));
  return utf8_of(capitals);
}

/// How close the words of a small label stand.
enum class Closeness {
  lines,      ///< a line for each
  facts,      ///< dates and what else is known one after the other
  everything  ///< the allergens too
};
/// How small the letters may become before the words move closer: a line for each is found faster than slightly larger letters are read.
constexpr std::array<std::pair<Closeness, Micrometres>, 3> ways_to_set{
    {{Closeness::lines, 1800}, {Closeness::facts, 1500}, {Closeness::everything, least_small_x}}};

/// Sets the words of a small label in one size.
class SmallLabelSetter {
 public:
  SmallLabelSetter(const SmallLabelContent& content, const Stock& stock, Micrometres x_height, Closeness closeness, const Fonts& fonts)
      : content_{content},
        closeness_{closeness},
        tight_{closeness != Closeness::lines},
        size_{fonts.size_for_x_height(Face::condensed, x_height)} {
    em_ = size_.to_micrometres();
    dot_ = 25400 / stock.dots_per_inch;
    document_.width = Micrometres{stock.width} * 100;
    document_.height = Micrometres{stock.height} * 100;
    document_.left = document_.right = document_.top = document_.bottom = Micrometres{stock.margin} * 100;
    document_.cut_to_length = stock.roll;
  }

  Document document() {
    if (content_.demo) {
      document_.demo = "DEMO";
      document_.demo_type = {"", Face::condensed_bold, size_, 0};
    }
    if (!content_.stop.empty()) {
      add({bold(content_.stop)}, "stop");
      rule();
    }
    add({{content_.name, Face::condensed_bold, PointSize::hundredths(size_.to_hundredths() * (tight_ ? 110 : 125) / 100), 0}}, "name");
    rule();
    allergens();
    if (!content_.no_allergen.empty()) add({plain(content_.no_allergen)}, "no_allergen");
    rule();
    facts();
    if (!tight_ && !content_.keep.empty()) add({plain(content_.keep)}, "keep");
    for (const std::string& words : content_.to_write) to_write(words);
    if (!tight_) {
      document_.blocks.emplace_back(Space{0, true});
      add({plain(content_.reference)}, "reference");
    }
    return std::move(document_);
  }

 private:
  TextRun plain(std::string text) const { return {std::move(text), Face::condensed, size_, 0}; }
  TextRun bold(std::string text) const { return {std::move(text), Face::condensed_bold, size_, 0}; }

  void add(std::vector<TextRun> runs, const char* field) {
    Paragraph paragraph;
    paragraph.runs = std::move(runs);
    paragraph.field = field;
    paragraph.leading = 122;
    paragraph.before = em_ / (tight_ ? 8 : 5);
    document_.blocks.emplace_back(std::move(paragraph));
  }
  void rule() {
    const Micrometres space = em_ / (tight_ ? 6 : 4);
    document_.blocks.emplace_back(Rule{std::max<Micrometres>(2 * dot_, 200), space, space, 0, true});  // no hairlines on a thermal head
  }

  void allergens() {
    std::vector<TextRun> together;
    const auto tell = [&](const char* label, const std::vector<std::string>& words, const char* field) {
      if (words.empty()) return;
      std::vector<TextRun> runs{plain(std::string{label} + ": "), bold(in_capitals(fmt::format("{}", fmt::join(words, ", "))))};
      if (closeness_ != Closeness::everything) return add(std::move(runs), field);
      runs.push_back(plain(". "));
      together.insert(together.end(), runs.begin(), runs.end());
    };
    tell("Contains", content_.contains, "contains");
    tell("Not known", content_.not_known, "not_known");
    tell("May contain", content_.may_contain, "may_contain");
    if (together.empty()) return;
    together.back().text = ".";
    add(std::move(together), "allergens");
  }

  /// `Made 1 May 2031`: a date or another short text stays on one line, a very short one beside what it is called.
  static std::string words_of_line(const LabelledText& line) {
    constexpr std::size_t longest_date = 18;  // `30 September 2031`
    std::string text = line.text;
    if (text.size() <= longest_date) {
      for (std::size_t at = 0; (at = text.find(' ', at)) != std::string::npos;) text.replace(at, 1, "\u00a0");
    }
    return line.label + (line.label.size() + line.text.size() <= longest_date - 6 ? "\u00a0" : " ") + text;
  }

  /// Dates and what else is known of it, a line each or one after the other.
  void facts() {
    std::vector<std::vector<TextRun>> all;
    for (const LabelledText& date : content_.dates) all.push_back({bold(words_of_line(date))});
    for (const LabelledText& line : content_.lines) all.push_back({plain(words_of_line(line))});
    if (tight_ && !content_.keep.empty()) all.push_back({plain(content_.keep)});
    if (tight_) all.push_back({plain(content_.reference)});
    if (!tight_) {
      for (auto& runs : all) add(std::move(runs), "lines");
      return;
    }
    std::vector<TextRun> together;
    for (auto& runs : all) {
      if (!together.empty()) together.push_back(plain("\u00a0· "));
      for (auto& run : runs) together.push_back(std::move(run));
    }
    if (!together.empty()) add(std::move(together), "lines");
  }

  void to_write(const std::string& words) {
    add({plain(words)}, "to_write");
    const Micrometres line = em_ * 122 / 100;
    document_.blocks.emplace_back(
        Rule{std::max<Micrometres>(2 * dot_, 200), std::max<Micrometres>(room_for_the_pen - line, 1000), em_ / 4, 0, true});
  }

  const SmallLabelContent& content_;
  Closeness closeness_;
  bool tight_;
  PointSize size_;
  Micrometres em_ = 0;
  Micrometres dot_ = 0;
  Document document_;
};

Result<Micrometres> height_of_small(const SmallLabelContent& content, const Stock& stock, Micrometres x_height, Closeness closeness,
                                    const Fonts& fonts) {
  return height_needed(SmallLabelSetter{content, stock, x_height, closeness, fonts}.document(), fonts);
}

std::string smallest_that_holds(const SmallLabelContent& content, const Stock& stock, const Fonts& fonts, std::span<const Stock> others) {
  const Stock* best = nullptr;
  std::int64_t least = 0;
  for (const Stock& other : others) {
    if (other.id == stock.id) continue;
    const auto height = height_of_small(content, other, least_small_x, Closeness::everything, fonts);
    if (!height || *height > Micrometres{other.height} * 100) continue;
    const std::int64_t area = Micrometres{other.width} * (other.roll ? *height / 100 : other.height);
    if (best == nullptr || area < least) {
      best = &other;
      least = area;
    }
  }
  if (best != nullptr) return fmt::format("use {} ({}), the smallest of the stocks at hand that holds it", best->words, best->id);
  return others.empty() ? "use a larger stock" : "none of the stocks at hand holds it; use a larger one";
}

}  // namespace

Result<Pages> lay_out_small_label(const SmallLabelContent& content, const Stock& stock, const Fonts& fonts, std::span<const Stock> others) {
  Stock wide = stock;
  wide.width = 20000;
  if (const auto bad = height_of_small(content, wide, least_small_x, Closeness::everything, fonts); !bad) return bad.error();

  const Micrometres height = Micrometres{stock.height} * 100;
  const Micrometres pleasant = stock.roll ? std::min(height, std::max(Micrometres{stock.width} * 150, pleasant_length)) : height;
  for (const Micrometres most : {pleasant, height}) {
    for (const auto& [closeness, least] : ways_to_set) {
      for (Micrometres x_height = largest_small_x; x_height >= least; x_height -= small_x_step) {
        const auto needed = height_of_small(content, stock, x_height, closeness, fonts);
        if (needed && *needed <= most) return lay_out(SmallLabelSetter{content, stock, x_height, closeness, fonts}.document(), fonts);
      }
    }
  }
  const auto needed = height_of_small(content, stock, least_small_x, Closeness::everything, fonts);
  return Refusal{
      "", 0, "stock",
      fmt::format("this does not fit {} with letters of {:.1f} mm for an x, the least that is read with wet hands: {}", stock.words,
                  static_cast<double>(least_small_x) / 1000.0,
                  needed ? fmt::format("at this width it needs {:.1f} mm of height and has {:.1f} mm",
                                       static_cast<double>((*needed + 99) / 100) / 10.0, static_cast<double>(stock.height) / 10.0)
                         : "it is too narrow, " + needed.error().front().message),
      smallest_that_holds(content, stock, fonts, others)};
}

}  // namespace tierproof
