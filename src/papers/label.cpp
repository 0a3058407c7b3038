#include "tierproof/papers/label.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "label_setting.h"
#include "layout.h"

namespace tierproof {
namespace papers {
namespace {

constexpr Micrometres comfortable_x_height = 2000;  // design choice: as large as a book's text at arm's length
constexpr Micrometres card_x_height = 2600;         // design choice: on a wide stock, which stands on a table
constexpr Micrometres size_step = 50;
constexpr int wide_stock = 1100;            // design choice, tenths of a millimetre: a line across it is too long to read with ease
constexpr int least_for_two_columns = 800;  // design choice: in narrower columns hardly two words share a line
constexpr Micrometres longest_shape = 2;    // design choice: a label more than twice as long as it is wide is a strip
constexpr int widest_stock = 20000;         // wider than any word

/// In the order in which they are tried.
std::vector<int> columns_for(const Stock& stock) {
  if (stock.width > wide_stock) return {2, 1};
  if (stock.width >= least_for_two_columns) return {1, 2};
  return {1};
}

double millimetres(Micrometres length) { return static_cast<double>(length) / 1000.0; }

/// One label with one set of its codes.
class Fitting {
 public:
  Fitting(const LabelContent& content, const Stock& stock, const LabelCodes& codes, TypeCase& type)
      : content_{content}, stock_{stock}, codes_{codes}, type_{type}, least_{least_x_height_of(content)} {}

  /// The largest setting that fits, in the first number of columns that fits at all. Supposes that larger letters never need less height.
  std::optional<Document> best() const {
    const Micrometres most = Micrometres{stock_.height} * 100;
    // On a roll the largest that makes a label of pleasant length, or else the shortest.
    const Micrometres wanted = stock_.roll ? std::min(most, Micrometres{stock_.width} * 180) : most;
    for (const int columns : columns_for(stock_)) {
      Tried largest = stepped(columns, largest_step());  // a stock is mostly chosen with room to spare
      if (largest.fits(wanted)) return std::move(largest.document);
      Tried roomy = stepped(columns, 0);
      if (roomy.fits(wanted)) return largest_between(columns, wanted, std::move(roomy), std::move(largest));
      Tried tight = tried({least_, true, columns});
      if (!tight.fits(most)) continue;
      return std::move(roomy.fits(most) && !tight.fits(wanted) ? roomy : tight).document;
    }
    return std::nullopt;
  }

  /// The height that the label takes at its legal least; of two ways to set it the lower.
  Result<Micrometres> least_height() const {
    std::vector<Refusal> refusals;
    std::optional<Micrometres> least;
    for (const int columns : columns_for(stock_)) {
      const Tried one = tried({least_, true, columns});
      if (!one.needed) {
        refusals = one.needed.error();
      } else if (!least || *one.needed < *least) {
        least = *one.needed;
      }
    }
    if (least) return *least;
    return refusals;
  }

 private:
  /// The label in one setting, and its height.
  struct Tried {
    Document document;
    Result<Micrometres> needed;
    bool fits(Micrometres most) const { return needed && *needed <= most; }
  };
  Tried tried(const LabelSetting& setting) const {
    Document document = document_of_label(content_, stock_, setting, codes_, type_);
    auto needed = height_needed(document, type_);
    return {std::move(document), std::move(needed)};
  }

  Micrometres largest_step() const {
    const Micrometres largest = stock_.width > wide_stock ? card_x_height : comfortable_x_height;
    return std::max<Micrometres>(0, largest - least_) / size_step;
  }
  /// Letters so many steps above the least.
  Tried stepped(int columns, Micrometres step) const { return tried({least_ + step * size_step, false, columns}); }

  /// The largest that fits: `good` does, at the least, and `bad` does not, at the largest.
  Document largest_between(int columns, Micrometres most, Tried good, Tried bad) const {
    const auto root = [](Micrometres height) { return std::sqrt(static_cast<double>(height)); };  // words take room as their size squared
    Micrometres low = 0;
    Micrometres high = largest_step();
    while (high - low > 1) {
      const double part = bad.needed ? (root(most) - root(*good.needed)) / (root(*bad.needed) - root(*good.needed)) : 0.5;
      const auto next = std::clamp(low + static_cast<Micrometres>(part * static_cast<double>(high - low)), low + 1, high - 1);
      Tried between = stepped(columns, next);
      const bool fits = between.fits(most);
      (fits ? low : high) = next;
      (fits ? good : bad) = std::move(between);
    }
    return std::move(good.document);
  }

  const LabelContent& content_;
  const Stock& stock_;
  const LabelCodes& codes_;
  TypeCase& type_;
  Micrometres least_;
};

/// The smallest of `others` that holds the label, and on a roll at what length. A strip is named only where nothing else holds it.
std::string remedy_of(const LabelContent& content, const Stock& stock, TypeCase& type, std::span<const Stock> others) {
  const Stock* best = nullptr;
  std::pair<bool, Micrometres> least;  // whether it is a strip, and its area
  Micrometres best_height = 0;
  for (const Stock& other : others) {
    if (other.id == stock.id) continue;
    const auto needed = Fitting{content, other, {}, type}.least_height();
    const Micrometres most = Micrometres{other.height} * 100;
    if (!needed || *needed > most) continue;
    const Micrometres width = Micrometres{other.width} * 100;
    const Micrometres height = other.roll ? (*needed + 999) / 1000 * 1000 : most;
    const std::pair<bool, Micrometres> size{height > longest_shape * width, width * height};
    if (best != nullptr && least <= size) continue;
    best = &other;
    least = size;
    best_height = height;
  }
  if (best == nullptr) return others.empty() ? "use a larger stock" : "none of the stocks at hand holds it; use a larger one";
  const std::string length = best->roll ? fmt::format(", at a length of {} mm", best_height / 1000) : "";
  return fmt::format("use {} ({}){}, the smallest of the stocks at hand that holds it", best->words, best->id, length);
}

/// `1.20 mm for an x (art. 13(2)), of the net quantity 4.80 mm for a figure (...)`: what asks for no more than `text` does goes unsaid.
std::string least_in_words(const LabelContent& content) {
  std::string words;
  for (const LeastHeight& height : content.heights) {
    if (height.what != "text" && height.measured == "x-height" && height.micrometres <= least_x_height_of(content)) continue;
    const std::string of = height.measured == "figure height" ? "a figure" : height.measured == "letter height" ? "a letter" : "an x";
    const std::string what = height.what == "text" ? "" : fmt::format("of the {} ", height.what);
    words += fmt::format("{}{}{:.2f} mm for {}{}", words.empty() ? "" : ", ", what, millimetres(height.micrometres), of,
                         height.source.empty() ? "" : fmt::format(" ({})", height.source));
  }
  return words.empty() ? fmt::format("{:.2f} mm for an x", millimetres(least_x_height_of(content))) : words;
}

Refusal does_not_fit(const LabelContent& content, const Stock& stock, TypeCase& type, std::span<const Stock> others) {
  const auto needed = Fitting{content, stock, {}, type}.least_height();
  const std::string why = needed ? fmt::format("at this width it needs {:.1f} mm of height and has {:.1f} mm",
                                               static_cast<double>((*needed + 99) / 100) / 10.0, static_cast<double>(stock.height) / 10.0)
                                 : fmt::format("it is too narrow, {}", needed.error().front().message);
  return Refusal{
      "", 0, "stock",
      fmt::format("this label does not fit {} with letters of the least height allowed, {}: {}", stock.words, least_in_words(content), why),
      remedy_of(content, stock, type, others)};
}

/// Whatever is wrong with the text itself, on a stock that is wide enough for any word.
Refusals text_refusals(const LabelContent& content, const Stock& stock, TypeCase& type) {
  Stock wide = stock;
  wide.width = widest_stock;
  const auto height = height_needed(document_of_label(content, wide, {least_x_height_of(content), true, 1}, {}, type), type);
  return height ? Refusals{} : height.error();
}

/// All codes first, then only the one that others read, then none.
std::vector<LabelCodes> ways_to_code(const LabelCodes& all) {
  std::vector<LabelCodes> ways{all};
  if (all.gs1 && all.qr) ways.push_back({std::nullopt, all.gs1});
  if (all.gs1 || all.qr) ways.push_back({});
  return ways;
}

}  // namespace
}  // namespace papers

Result<LabelPages> lay_out_label(const LabelContent& content, const Stock& stock, const Fonts& fonts, std::span<const Stock> others) {
  papers::LabelCodes all;
  Refusals refusals;
  const auto encode = [&](const std::string& text, const char* field, auto encoder, std::optional<Code>& code) {
    if (text.empty()) return;
    auto made = encoder(text, field);
    if (made) {
      code = std::move(*made);
    } else {
      refusals.insert(refusals.end(), made.error().begin(), made.error().end());
    }
  };
  encode(content.code, "code", qr_code, all.qr);
  encode(content.gs1_elements, "gs1_elements", gs1_data_matrix, all.gs1);
  if (!refusals.empty()) return refusals;
  papers::TypeCase type{fonts};
  LabelContent without_reason = content;
  without_reason.storage_reason.clear();
  for (const papers::LabelCodes& codes : papers::ways_to_code(all)) {
    auto document = papers::Fitting{content, stock, codes, type}.best();
    if (!document && !content.storage_reason.empty()) document = papers::Fitting{without_reason, stock, codes, type}.best();
    if (!document) continue;
    auto pages = lay_out(*document, type);
    if (!pages) return pages.error();
    LabelPages label{std::move(*pages), {}};
    if (all.qr && !codes.qr) label.codes_left_out.push_back(all.qr->kind);
    if (all.gs1 && !codes.gs1) label.codes_left_out.push_back(all.gs1->kind);
    return label;
  }
  const Refusals bad = papers::text_refusals(content, stock, type);
  if (!bad.empty()) return bad;
  return papers::does_not_fit(without_reason, stock, type, others);
}

}  // namespace tierproof
