#include "cake_record_pages.h"

#include <fmt/format.h>

#include <algorithm>

#include "chart_block.h"

namespace tierproof::papers {
namespace {

constexpr Micrometres beside_findings = 38000;        // of the columns beside what the records show, which is the longest by far
constexpr Micrometres least_beside_findings = 27000;  // holds the head of the last on one line

class FurtherPages {
 public:
  FurtherPages(const CakeRecordContent& content, const RecordType& type, bool later_entries)
      : content_{content}, type_{type}, later_entries_{later_entries} {}

  std::vector<Block> blocks() {
    add_contents();
    add_later_entries();
    add_ingredients();
    add_allergens();
    add_controls();
    add_packs();
    add_batches();
    add_eggs();
    add_labelled("Not for eating", content_.inedible, "inedible", "nothing recorded");
    add_labelled("Where it was", content_.timeline, "timeline", "nothing recorded");
    add_charts();
    add_labelled("Where allergens come in", content_.paths, "paths", "nothing recorded");
    add_labelled("How the numbers were worked out", content_.sums, "sums", "nothing recorded");
    add_cautions();
    add_labelled("Notes that this record rests on", content_.entries, "entries", "nothing recorded");
    add_labelled("Where the rules come from", content_.sources, "sources", "nothing recorded");
    add_end();
    return std::move(blocks_);
  }

 private:
  void add(Block block) { blocks_.push_back(std::move(block)); }
  void head(const std::string& words) { append(blocks_, type_.section_head(words)); }

  void add_contents() {
    Paragraph name = type_.section_name("Contents");  // the top of a page needs no rule
    name.bookmark = 0;
    add(std::move(name));
    Contents contents;
    contents.type = type_.plain("");
    contents.columns = 2;
    add(std::move(contents));
  }

  void add_later_entries() {
    if (!later_entries_) return;
    head(later_heading);
    std::get<Paragraph>(blocks_.back().held).anchor = later_anchor;
    for (std::size_t i = 0; i < content_.after_hand_over.size(); ++i)
      add(type_.paragraph({type_.plain(content_.after_hand_over[i])}, fmt::format("after_hand_over[{}]", i)));
  }

  void add_ingredients() {
    head("Ingredients, as declared");
    std::vector<TextRun> runs;
    for (std::size_t i = 0; i < content_.ingredients.size(); ++i) {
      for (const Run& run : content_.ingredients[i]) runs.push_back(run.emphasised ? type_.bold(run.text) : type_.plain(run.text));
      runs.push_back(type_.plain(i + 1 < content_.ingredients.size() ? ", " : "."));
    }
    if (runs.empty()) runs.push_back(type_.plain("no list of ingredients was drawn up"));
    add(type_.paragraph(std::move(runs), "ingredients"));
    for (std::size_t i = 0; i < content_.statements.size(); ++i) {
      Paragraph statement = type_.paragraph({type_.plain(content_.statements[i])}, fmt::format("statements[{}]", i));
      statement.before = type_.padding;
      add(std::move(statement));
    }
  }

  void add_allergens() {
    if (std::none_of(content_.allergens.begin(), content_.allergens.end(), [](const AllergenLine& line) { return !line.why.empty(); }))
      return;
    head("Allergens, and why");
    Table table = type_.table({"allergen", "word", "why"}, true);
    for (std::size_t i = 0; i < content_.allergens.size(); ++i) {
      const AllergenLine& line = content_.allergens[i];
      if (line.why.empty()) continue;  // page one names them all
      const std::string field = fmt::format("allergens[{}]", i);
      const std::string word = mark_of_allergen(line.word) + " " + line.word;
      const bool strong = stands_out(line.word);
      Cell name = type_.cell({strong ? type_.bold(line.name) : type_.plain(line.name)}, field);
      name.paragraphs.front().anchor = anchor_of_allergen(i);
      table.rows.push_back(Row{
          {std::move(name), type_.cell({strong ? type_.bold(word) : type_.plain(word)}, field), type_.cell({type_.plain(line.why)}, field)},
          true,
          false});
    }
    add(std::move(table));
  }

  void add_controls() {
    head("Controls in full");
    std::get<Paragraph>(blocks_.back().held).anchor = controls_anchor;
    if (!content_.plan.empty())
      add(type_.paragraph({type_.plain(fmt::format("Each names its row of the hazard plan: {}.", content_.plan))}, "plan"));
    Table table = type_.table({"what", "what the records show", "limit comes from"});
    table.columns = {Column{0, false, beside_findings}, Column{0, true, 0}, Column{least_beside_findings, false, beside_findings}};
    for (std::size_t i = 0; i < content_.findings.size(); ++i) {
      const Finding& finding = content_.findings[i];
      const std::string field = fmt::format("findings[{}]", i);
      const std::string words = i < content_.finding_words.size() ? content_.finding_words[i] : finding.control;
      Cell what = type_.cell({type_.bold(words)}, field);
      what.paragraphs.front().anchor = anchor_of_finding(i);
      what.paragraphs.push_back(type_.paragraph({type_.tiny(finding.subject)}, field));
      if (!content_.plan.empty())
        what.paragraphs.push_back(type_.paragraph({type_.tiny(fmt::format("plan row {}", finding.control))}, field));
      Cell shows = type_.cell({type_.bold(mark_of(finding.verdict) + " " + std::string{words_of(finding.verdict)})}, field);
      shows.paragraphs.push_back(type_.paragraph({type_.plain(finding.message)}, field));
      if (!finding.remedy.empty()) shows.paragraphs.push_back(type_.paragraph({type_.plain("→ " + finding.remedy)}, field));
      for (const std::string& path : finding.paths) shows.paragraphs.push_back(type_.paragraph({type_.tiny(path)}, field));
      for (const std::string& advice : finding.advice) shows.paragraphs.push_back(type_.paragraph({type_.tiny("advice: " + advice)}, field));
      table.rows.push_back(
          Row{{std::move(what), std::move(shows), type_.cell({type_.tiny(finding.source.empty() ? "–" : finding.source)}, field)},
              true,
              false});
    }
    if (content_.findings.empty()) table.rows.push_back(Row{{Cell{{type_.paragraph({type_.plain("none")}, "findings")}, 3}}, true, false});
    add(std::move(table));
  }

  void add_packs() {
    head("Packs that went into it");
    Table table = type_.table({"ingredient", "code on the pack", "supplier", "dates", "mass in this cake", "how known"});
    for (std::size_t i = 0; i < content_.packs.size(); ++i) {
      const PackRow& pack = content_.packs[i];
      table.rows.push_back(row({pack.ingredient, pack.code, pack.supplier, pack.dates, pack.mass, pack.how}, fmt::format("packs[{}]", i)));
    }
    finish(std::move(table), "packs");
  }

  void add_batches() {
    head("Batches that went into it");
    Table table = type_.table({"batch", "what", "made", "tier", "mass in this cake", "how known"});
    for (std::size_t i = 0; i < content_.batches.size(); ++i) {
      const BatchRow& batch = content_.batches[i];
      table.rows.push_back(row({batch.batch, batch.name, batch.made, batch.tier, batch.mass, batch.how}, fmt::format("batches[{}]", i)));
    }
    finish(std::move(table), "batches");
  }

  void add_eggs() {
    head("Eggs");
    std::vector<LabelledText> rows;
    for (const EggLine& line : content_.eggs) {
      std::string told = line.egg;
      const auto tell = [&](std::string_view what, const std::string& words) {
        if (!words.empty()) told += fmt::format(". {}: {}", what, words);
      };
      tell("Source", line.source);
      tell("Date", line.date);
      tell("Cracked", line.cracked);
      tell("Carton", line.opened);
      tell("Treatment", line.treatment);
      tell("Egg step", line.verdict);
      rows.push_back({line.batch, std::move(told)});
    }
    for (const std::string& words : content_.egg_told) rows.push_back({"What the customer is told", words});
    labelled(rows, "eggs", "no egg that was handled here is recorded; what packs contain stands under the allergens");
  }

  Row row(const std::vector<std::string>& words, const std::string& field) const {
    Row made;
    for (std::size_t i = 0; i < words.size(); ++i)
      made.cells.push_back(type_.cell({i == 0 ? type_.bold(words[i]) : type_.plain(words[i])}, field));
    return made;
  }

  void finish(Table table, const std::string& field) {
    if (table.rows.empty()) {
      table.rows.push_back(
          Row{{Cell{{type_.paragraph({type_.plain("nothing recorded")}, field)}, static_cast<int>(table.columns.size())}}, true, false});
    }
    add(std::move(table));
  }

  void add_labelled(const std::string& words, const std::vector<LabelledText>& rows, const std::string& field, const std::string& nothing) {
    head(words);
    labelled(rows, field, nothing);
  }

  void labelled(const std::vector<LabelledText>& rows, const std::string& field, const std::string& nothing) {
    Table table;
    table.columns = {Column{type_.label_column, false}, Column{0, true, 0}};
    table.padding = type_.padding;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const std::string name = fmt::format("{}[{}]", field, i);
      table.rows.push_back(
          Row{{type_.cell({type_.bold(rows[i].label)}, name), type_.cell({type_.plain(rows[i].text)}, name)}, true, false});
    }
    if (rows.empty()) table.rows.push_back(Row{{Cell{{type_.paragraph({type_.plain(nothing)}, field)}, 2}}, false, false});
    add(std::move(table));
  }

  void add_charts() {
    head("Temperatures");
    if (content_.charts.empty()) return add(type_.paragraph({type_.plain("no series of readings belongs to this cake")}, "charts"));
    add(type_.paragraph(
        {type_.tiny(
            "A dot is a reading, a large dot one that the table below the chart tells. A line joins readings only where none is missing; "
            "hatched times are gaps, which no reading vouches for; a cross is a thermometer fault. Bars on top are what stood there. "
            "Times are local.")},
        "charts"));
    for (std::size_t i = 0; i < content_.charts.size(); ++i) add(chart_block(content_.charts[i], type_, fmt::format("charts[{}]", i)));
  }

  void add_cautions() {
    if (content_.cautions.empty()) return;
    head("Cautions");
    for (std::size_t i = 0; i < content_.cautions.size(); ++i) {
      Paragraph caution = type_.paragraph({type_.plain(content_.cautions[i])}, fmt::format("cautions[{}]", i));
      caution.before = type_.padding;
      add(std::move(caution));
    }
  }

  void add_end() {
    head("This paper");
    std::vector<LabelledText> rows;
    if (!content_.drawn.empty()) rows.push_back({"Drawn up", content_.drawn});
    if (!content_.full_head.empty()) rows.push_back({"Records' fingerprint", content_.full_head});
    if (!content_.program.empty()) rows.push_back({"Program and rules", content_.program});
    Table table = type_.label_table(rows, "program");
    for (Row& line : table.rows) {
      for (Cell& cell : line.cells) {
        for (TextRun& run : cell.paragraphs.front().runs) run = type_.tiny(run.text);
      }
    }
    add(std::move(table));
  }

  const CakeRecordContent& content_;
  const RecordType& type_;
  bool later_entries_;
  std::vector<Block> blocks_;
};

}  // namespace

std::string anchor_of_finding(std::size_t finding) { return fmt::format("control-{}", finding + 1); }
std::string anchor_of_allergen(std::size_t allergen) { return fmt::format("allergen-{}", allergen + 1); }

std::vector<Block> further_pages(const CakeRecordContent& content, const RecordType& type, bool later_entries) {
  return FurtherPages{content, type, later_entries}.blocks();
}

}  // namespace tierproof::papers
