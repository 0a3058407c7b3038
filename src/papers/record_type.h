#pragma once

#include <string>
#include <utility>
#include <vector>

#include "tierproof/papers/document.h"

namespace tierproof::papers {

/// The type of the business's records on A4: sizes, distances, and the few shapes they are made of.
struct RecordType {
  PointSize body = PointSize::hundredths(850);
  PointSize small = PointSize::hundredths(750);
  int leading = 130;
  Micrometres padding = 650;   ///< above and below a table row
  Micrometres section = 4200;  ///< before a section
  Micrometres label_column = 35000;

  TextRun plain(std::string text) const { return {std::move(text), Face::condensed, body, 0}; }
  TextRun bold(std::string text) const { return {std::move(text), Face::condensed_bold, body, 0}; }
  TextRun tiny(std::string text) const { return {std::move(text), Face::condensed, small, 0}; }
  TextRun tiny_bold(std::string text) const { return {std::move(text), Face::condensed_bold, small, 0}; }

  Paragraph paragraph(std::vector<TextRun> runs, std::string field) const;
  Cell cell(std::vector<TextRun> runs, std::string field) const;
  /// The name of a section, with a bookmark.
  Paragraph section_name(const std::string& words, int level = 1) const;
  /// A rule across the page with the section's name below it.
  std::vector<Block> section_head(const std::string& words, int level = 1) const;
  /// Label and text side by side, labels in one column down the whole paper. `nothing recorded` where there is no row.
  Table label_table(const std::vector<LabelledText>& rows, const std::string& field) const;
  Table table(const std::vector<std::string>& heads, bool last_fills = false) const;
};

/// What stands at the head of a paper of the business.
struct PaperHead {
  const std::vector<std::string>& business;
  std::string title;
  const std::string& reference;
};
/// The business at the left, what the paper is and which at the right, and a rule below with `space` on both sides of it.
std::vector<Block> paper_head(const PaperHead& head, Micrometres space, const RecordType& type);
/// `DO NOT HAND OVER: ...` between two rules `thick`; nothing where nothing stops the cake.
std::vector<Block> stop_block(const std::string& stop, PointSize size, Micrometres thick, Micrometres space, const RecordType& type);

/// A4 with margins, the footer and the DEMO mark.
Document record_paper(bool demo, const std::string& footer, const RecordType& type);

void append(std::vector<Block>& blocks, std::vector<Block> more);

/// A mark that tells verdicts apart by shape: ● shown, ○ not shown, ▲ not met, ◇ outside the model.
std::string mark_of(Verdict verdict);
/// A mark by shape for an allergen's word: ■ contains, ◧ may contain, ◇ an exempt product of it, ? not known; a dash for anything else.
std::string mark_of_allergen(const std::string& word);
/// Whether a reader must not overlook it: everything but `not an ingredient`.
bool stands_out(const std::string& word);

}  // namespace tierproof::papers
