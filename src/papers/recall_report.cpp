#include "tierproof/papers/recall_report.h"

#include <fmt/format.h>

#include "record_type.h"

namespace tierproof {
namespace {

using namespace papers;

constexpr const char* drill_mark = "DRILL – an exercise, nothing was recalled";

void add_part(std::vector<Block>& blocks, const RecallReportPart& part, const RecordType& type) {
  append(blocks, type.section_head(part.heading));
  Table made = type.table({"", "What", "What was done"}, true);
  made.columns[1].most = 85000;
  for (const auto& row : part.rows) {
    Cell what = type.cell({type.bold(row.what)}, "what");
    if (!row.where.empty()) what.paragraphs.push_back(type.paragraph({type.tiny(row.where)}, "where"));
    Cell steps;
    for (const auto& step : row.steps) steps.paragraphs.push_back(type.paragraph({type.plain(step)}, "steps"));
    if (row.steps.empty()) steps = type.cell({type.bold("nothing recorded")}, "steps");
    made.rows.push_back(Row{{type.cell({type.plain(row.done ? "●" : "○")}, "done"), std::move(what), std::move(steps)}, true, false});
  }
  blocks.emplace_back(std::move(made));
}

}  // namespace

Result<Pages> lay_out_recall_report(const RecallReportContent& content, const Fonts& fonts) {
  const RecordType type;
  Document paper = record_paper(content.demo, fmt::format("{} · {} · {}", content.reference, content.head, content.drawn), type);
  if (content.drill) paper.demo += (paper.demo.empty() ? "" : " · ") + std::string{drill_mark};
  std::vector<Block>& blocks = paper.blocks;
  const char* title = content.drill ? "Report of an exercise" : "Report of a recall";
  append(blocks, paper_head({content.business, title, content.reference}, 1000, type));
  Paragraph outcome = type.paragraph({{content.outcome, Face::condensed_bold, PointSize::hundredths(1300), 0}}, "outcome");
  outcome.before = 1500;
  blocks.emplace_back(std::move(outcome));
  append(blocks, type.section_head("What and when"));
  blocks.emplace_back(type.label_table(content.facts, "facts"));
  for (const auto& part : content.parts) add_part(blocks, part, type);
  if (!content.parts.empty()) blocks.emplace_back(type.paragraph({type.tiny("● done  ○ not done")}, "legend"));
  for (const auto& balance : content.balances) {
    append(blocks, type.section_head("Where all of " + balance.of + " went"));
    blocks.emplace_back(type.label_table(balance.rows, "balance"));
    blocks.emplace_back(type.paragraph({type.tiny(balance.note)}, "balance"));
  }
  if (!content.apart.empty()) {
    append(blocks, type.section_head("Told apart"));
    for (const auto& words : content.apart) blocks.emplace_back(type.paragraph({type.plain(words)}, "apart"));
  }
  append(blocks, type.section_head("Cause, and what is done otherwise from now on"));
  const auto written = [](const std::string& words) { return words.empty() ? std::string{"not written yet"} : words; };
  blocks.emplace_back(type.label_table({{"Cause", written(content.cause)}, {"From now on", written(content.learned)}}, "learned"));
  Together signing;
  signing.blocks = type.section_head("Signed");
  signing.blocks.emplace_back(Blanks{{type.tiny("name"), type.tiny("signature"), type.tiny("day and time")}, 9500, "signed"});
  signing.blocks.emplace_back(type.paragraph({type.tiny(fmt::format("{}", fmt::join(content.cautions, " ")))}, "cautions"));
  blocks.emplace_back(std::move(signing));
  return lay_out(paper, fonts);
}

}  // namespace tierproof
