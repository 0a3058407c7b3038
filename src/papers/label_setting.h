#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "type_case.h"

namespace tierproof::papers {

/// How large, how tight and in how many columns a label is set.
struct LabelSetting {
  Micrometres x_height = 0;
  bool tight = false;  ///< the last resort: smaller name, what can share a line does
  int columns = 1;     ///< 1 or 2
};

/// The codes that are to stand beside the business.
struct LabelCodes {
  std::optional<Code> qr;
  std::optional<Code> gs1;
};

/// The least x-height of every word: what the law asks of `text`, and never so small that a coarse printer has too few dots.
Micrometres least_x_height_of(const LabelContent& content);

/// The least size of words that the law calls `what` (beside `text`, which holds for all) and that say `text`. Rounded up.
PointSize least_size_of(const LabelContent& content, std::string_view what, std::string_view text, const Fonts& fonts);

/// The edge that stays empty: the stock's own, or so much that the corners of the text keep as far from a round corner as from a side.
Micrometres clear_edge_of(const Stock& stock);

/// The words of a label in one setting. Two columns need something for each of them: else the document has one.
Document document_of_label(const LabelContent& content, const Stock& stock, const LabelSetting& setting, const LabelCodes& codes,
                           TypeCase& type);

}  // namespace tierproof::papers
