#pragma once

#include <string>
#include <vector>

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// One food of a recall, or somebody who was told.
struct RecallReportRow {
  bool done = false;
  std::string what;   ///< `cake-1 (Lemon cake)`, `May hold it: batch-2 (praline)`
  std::string where;  ///< where it was or went, and by which way it comes in
  std::vector<std::string> steps;
};
struct RecallReportPart {
  std::string heading;  ///< `Customers to tell: 3, of them 2 told`
  std::vector<RecallReportRow> rows;
};
/// Where all of one recalled thing went; figures in whole grams that add up.
struct RecallReportBalance {
  std::string of;
  std::vector<LabelledText> rows;
  std::string note;  ///< exact figures, and what they rest on
};

/// What the report of a recall, or of an exercise, says. It names customers by their cake alone.
struct RecallReportContent {
  bool demo = false;
  bool drill = false;
  std::vector<std::string> business;
  std::string reference;            ///< `recall-1`
  std::string outcome;              ///< how it stands, in one or two sentences
  bool open = false;                ///< something is still to do
  std::vector<LabelledText> facts;  ///< what, why, when begun, last step, closed
  std::vector<RecallReportPart> parts;
  std::vector<RecallReportBalance> balances;
  std::vector<std::string> apart;  ///< what was recorded once and taken back, what came next on the same kit
  std::string cause, learned;      ///< empty: not written yet
  std::vector<std::string> cautions;
  std::string head;   ///< short head
  std::string drawn;  ///< when, from how many notes
};

/// Lays out the report, with lines to sign on. Of an exercise every page says so. Refused: words that cannot be set.
Result<Pages> lay_out_recall_report(const RecallReportContent& content, const Fonts& fonts);

}  // namespace tierproof
