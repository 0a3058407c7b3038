#pragma once

#include <string>
#include <vector>

#include "tierproof/papers/font.h"
#include "tierproof/papers/label.h"

namespace tierproof::testdata {

/// What is wrong with where things lie on a label: text, strokes and fills outside its margins or in a round corner, two texts or a text
/// and a fill over each other. One sentence each; empty when all is well. Heights of letters as drawn: capitals above the baseline,
/// descenders of DejaVu Sans 2.37 (`hhea`, 483 of 2048) below it.
std::vector<std::string> faults_of(const Page& page, const Stock& stock);

/// Every word of a page, blanks and line ends taken out: compares texts whatever their lines are.
std::string letters_of(std::string_view text);

/// All that `content` asks to be printed, in no order.
std::vector<std::string> printed_texts(const LabelContent& content);

/// A made-up label of every kind that twelve orders bring: short and long lists, two languages, a stop, boxes, codes, large net quantities.
std::vector<LabelContent> twelve_labels();

}  // namespace tierproof::testdata
