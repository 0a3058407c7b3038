#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// One row of a table of the inspection record.
struct InspectionRow {
  std::vector<std::string> cells;
  bool wanting = false;  ///< something in it is not as it should be: it is marked, and never left out
};
struct InspectionTable {
  std::vector<std::string> heads;
  std::vector<InspectionRow> rows;
  std::string left_out{};  ///< how many rows without anything wanting were left out, by month, and where they stand; or empty
};
/// One section behind page one.
struct InspectionSection {
  std::string name;
  std::vector<std::string> says;  ///< sentences
  std::vector<LabelledText> facts;
  std::vector<InspectionTable> tables;
  std::vector<Chart> charts;
  std::vector<std::string> data;  ///< names of the tables with everything: `place-days`
  bool reviewed = false;          ///< who looks through the records looks at it: it stands in a review of them too
};

/// Who looked through the records of a period, which makes a review of its inspection record.
struct InspectionReview {
  std::vector<std::string> says;  ///< sentences
  InspectionTable looked;         ///< a row a look
  InspectionTable reasons;        ///< given to release against a control, a row a reason, the most used first
};

/// What the inspection record of a period says, in the order of the design: page one first.
struct InspectionContent {
  bool demo = false;
  std::vector<std::string> business;
  std::string reference;               ///< `inspection-record`
  std::string period;                  ///< `2 to 29 November 2026, 28 days`
  std::vector<std::string> wanting;    ///< what is open, late, missed or was released against, a line each
  std::vector<LabelledText> kitchen;   ///< who works here, what is made, vulnerable customers
  std::vector<LabelledText> matters;   ///< what is open, overrides, complaints, recalls
  InspectionTable cold;                ///< a row a fridge or freezer
  std::vector<LabelledText> controls;  ///< thermometer checks, egg steps, cakes with a stated allergy
  std::vector<LabelledText> keeping;   ///< pack details overdue, plan review, training, regular records
  std::vector<InspectionSection> sections;
  std::vector<std::string> cautions;
  std::string head;  ///< short head
  std::string full_head;
  std::string program;
  std::string drawn;
  std::optional<InspectionReview> review{};  ///< it is a review: page one tells who looked, and the sections are those that are reviewed
};

/// Lays out the inspection record, or the review of the records, on A4: page one, contents, then the sections. Refused: words that cannot
/// be set.
Result<Pages> lay_out_inspection_record(const InspectionContent& content, const Fonts& fonts);

/// The same on a screen, in lines of at most `width` letters, unless a word is longer; charts are told by their notes.
/// @param whole  false: page one alone
std::string inspection_text(const InspectionContent& content, bool whole, std::size_t width);

}  // namespace tierproof
