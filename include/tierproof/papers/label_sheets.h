#pragma once

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// How labels go through the printer.
struct LabelPlacing {
  int begin_at = 1;  ///< place on the first sheet that is still free, counted from 1 along its rows
  int copies = 1;    ///< of each label
  int right = 0;     ///< everything is printed this much further right, in tenths of a millimetre; below 0: left
  int down = 0;      ///< and further down; below 0: up
};

/// Places on one sheet of `stock`; 1 where labels come one after the other.
int places_on_sheet(const Stock& stock);

/// Puts laid-out labels of `stock` in the places of its sheets, each label with its copies before the next: one page a sheet, exactly
/// as large as its paper, the labels from the left and from the top, nothing scaled. Of a stock without a grid each label and copy is a
/// page of its own, as large as the label. Links go along; a label has no bookmarks.
///
/// Refused, all together: a place that the sheet does not have, fewer than 1 copy, more than 20 mm right or down, and an offset that
/// would push something over the edge of the paper.
/// @param labels  one page a label
Result<Pages> fill_sheets(const Pages& labels, const Stock& stock, const LabelPlacing& placing);

/// A page to measure by how far a printer is off: the outlines of the labels of a sheet, each with the number of its place, a ruler in
/// millimetres along both axes, a line of 100 mm, and which offsets to type. Of a stock without a grid one label with a frame along its
/// margins, rulers, and a line of as many whole ten millimetres as there is room for.
///
/// Print it with `right` and `down` again to see whether they are right. Refused: an offset as by `fill_sheets`; a stock that is too
/// small for the words.
Result<Pages> lay_out_ruler_page(const Stock& stock, int right, int down, const Fonts& fonts);

}  // namespace tierproof
