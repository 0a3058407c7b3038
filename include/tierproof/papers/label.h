#pragma once

#include <filesystem>
#include <span>
#include <string>
#include <vector>

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// A label, and which of its codes have no room: `QR Code`, `GS1 DataMatrix`.
struct LabelPages : Pages {
  std::vector<std::string> codes_left_out;
};

/// Lays out one label on `stock`.
///
/// Everything is set as large as the stock allows, from an x-height of 2 mm (2.6 mm on a wide stock) downwards, and no word smaller than
/// the rows of `content.heights` that hold for it: `x-height` by the glyph x, `figure height` by the lowest figure, `letter height` by the
/// glyph H where the words are in capitals throughout and else by the x, which is the strict reading of the small o. Rows of `text` hold
/// for every word, headings and cautions included; those of `ingredient list` for the list and the line of allergens, `contains statement`
/// for that line, `net quantity` for the net quantity, `warning statement` for every prescribed sentence, since no row says which of them
/// are warnings; a row with words of its own for that sentence. Emphasised runs are bold; nothing else of the list is.
///
/// A label lies on one face of its box, so all of it is in one field of view. It has one column; on a stock wider than 110 mm, or where
/// one column does not fit a stock that is 80 mm wide, it has two: name and net quantity stay together at the head of the first, and
/// the list keeps what the law wants next to it. The demo mark, a stop and the business with its codes go over the full width.
///
/// A label that does not fit at its legal heights is refused, never clipped or shrunk: the refusal gives the height that the width
/// of this stock would need and, of `others`, the smallest stock that would hold it, a strip only where nothing else does. No code is
/// shrunk either; where the words fit only without it, it is left out: no law asks for it.
/// @return one page of the size of the stock (on a roll: of its width, cut to whole millimetres)
Result<LabelPages> lay_out_label(const LabelContent& content, const Stock& stock, const Fonts& fonts, std::span<const Stock> others = {});

/// One file: its name, for refusals, and its text.
struct StockFile {
  std::string path;
  std::string text;
};

/// Reads label stocks, one JSON object a file: `id`, `words`, `width`, `height`, `margin` (tenths of a millimetre), `dots_per_inch`,
/// `roll`. Returns them by id; two of one id are refused.
Result<std::vector<Stock>> read_stocks(std::span<const StockFile> files);

}  // namespace tierproof
