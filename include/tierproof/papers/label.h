#pragma once

#include <filesystem>
#include <span>
#include <string>
#include <vector>

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// Lays out one label on `stock`.
///
/// Everything is set as large as the stock allows, from an x-height of 2 mm downwards, and nothing smaller than
/// `content.minimum_x_height_um`, measured on the glyph `x`. Emphasised runs are bold; nothing else of the ingredient list is.
/// A label that does not fit at its legal minimum is refused, never clipped or shrunk: the refusal gives the height that the width
/// of this stock would need and, of `others`, the smallest stock that would hold it.
/// @return one page of the size of the stock (on a roll: of its width, cut to whole millimetres)
Result<Pages> lay_out_label(const LabelContent& content, const Stock& stock, const Fonts& fonts, std::span<const Stock> others = {});

/// One file: its name, for refusals, and its text.
struct StockFile {
  std::string path;
  std::string text;
};

/// Reads label stocks, one JSON object a file: `id`, `words`, `width`, `height`, `margin` (tenths of a millimetre), `dots_per_inch`,
/// `roll`. Returns them by id; two of one id are refused.
Result<std::vector<Stock>> read_stocks(std::span<const StockFile> files);

}  // namespace tierproof
