#include "tierproof/papers/cake_record.h"

#include <fmt/format.h>

#include <algorithm>

#include "cake_record_pages.h"
#include "record_type.h"

namespace tierproof {
namespace {

using namespace papers;

constexpr std::size_t allergen_columns = 3;
constexpr int within = 2;  ///< level of the bookmarks of page one, below the cake's name

/// Builds page one.
class FirstPage {
 public:
  FirstPage(const CakeRecordContent& content, const RecordType& type, bool to_the_foot)
      : content_{content}, type_{type}, to_the_foot_{to_the_foot} {}

  std::vector<Block> blocks() {
    add_title();
    add_outcome();
    add_allergy_question();
    add_allergens();
    add_controls();
    add_keep_and_hand_over();
    add_later_entries();
    add_signature();
    return std::move(blocks_);
  }

 private:
  void add(Block block) { blocks_.push_back(std::move(block)); }

  void add_title() {
    Table head;
    head.columns = {Column{0, true, 0}, Column{0, false, 0}};
    head.rules = false;
    head.padding = 0;
    Cell business;
    for (std::size_t i = 0; i < content_.business.size(); ++i) {
      business.paragraphs.push_back(
          type_.paragraph({i == 0 ? type_.bold(content_.business[i]) : type_.tiny(content_.business[i])}, "business"));
    }
    if (business.paragraphs.empty()) business.paragraphs.push_back(type_.paragraph({type_.plain("")}, "business"));
    Paragraph title = type_.paragraph({type_.bold(content_.title)}, "title");
    Paragraph reference = type_.paragraph({type_.plain(content_.reference)}, "reference");
    title.align = reference.align = Align::right;
    head.rows = {Row{{std::move(business), Cell{{std::move(title), std::move(reference)}, 1}}, false, true}};
    add(std::move(head));
    add(Rule{250, type_.section / 4, type_.section / 4, 0, true});

    Paragraph name = type_.paragraph({{content_.name, Face::condensed_bold, PointSize::hundredths(1700), 0}}, "name");
    name.leading = 118;
    name.keep_with_next = true;
    name.bookmark = within - 1;
    add(std::move(name));
    if (!content_.event.empty()) {
      Paragraph event = type_.paragraph({{content_.event, Face::condensed, PointSize::hundredths(1000), 0}}, "event");
      event.after = type_.section / 4;
      add(std::move(event));
    }
    Table sold = type_.label_table({{"How it is sold", content_.sold}}, "sold");
    if (!content_.sold_why.empty())
      sold.rows.front().cells.back().paragraphs.push_back(type_.paragraph({type_.tiny(content_.sold_why)}, "sold_why"));
    add(std::move(sold));
  }

  void add_outcome() {
    add(Rule{700, type_.section, type_.section / 3, 0, true});
    Paragraph outcome = type_.paragraph({{content_.outcome, Face::condensed_bold, PointSize::hundredths(1250), 0}}, "outcome");
    outcome.leading = 125;
    add(std::move(outcome));
    for (std::size_t i = 0; i < content_.overrides.size(); ++i) {
      const Override& made = content_.overrides[i];
      RecordType inner = type_;
      inner.label_column = type_.label_column - 3900;  // the bar and its gap: texts stay in line with the others
      const std::string which = content_.overrides.size() == 1 ? "Released against" : fmt::format("{}  Released against", i + 1);
      const std::string field = fmt::format("overrides[{}]", i);
      Table lines = inner.label_table({{which, ""}, {"The records", made.finding}, {"Reason given", made.reason}}, field);
      lines.rows.front().cells.back().paragraphs.front().runs = {type_.bold(made.control),
                                                                 type_.plain(made.by.empty() ? "" : ", by " + made.by)};
      add(Space{type_.section / 3, false});
      add(Together{{Barred{{std::move(lines)}}}});
    }
    add(Rule{700, type_.section / 2, 0, 0, false});
  }

  Cell half_page(const std::string& words, const std::vector<LabelledText>& rows, const std::string& field) const {
    Cell half;
    half.paragraphs.push_back(type_.section_name(words, within));
    for (const LabelledText& row : rows) {
      Paragraph line = type_.paragraph({type_.tiny_bold(row.label), type_.plain("  " + row.text)}, field);
      line.after = type_.padding;
      half.paragraphs.push_back(std::move(line));
    }
    if (rows.empty()) half.paragraphs.push_back(type_.paragraph({type_.plain("nothing recorded")}, field));
    return half;
  }

  void add_keep_and_hand_over() {
    add(Rule{250, type_.section, 0, 0, true});
    const Micrometres half = 84500;
    Table both;
    both.columns = {Column{half, true, 0}, Column{half, true, 0}};
    both.gap = 6000;
    both.padding = type_.section / 8;
    both.rules = false;
    both.rows = {Row{{half_page("Keep and eat by", content_.keep, "keep"), half_page("Handed over", content_.handed_over, "handed_over")},
                     false,
                     false}};
    add(std::move(both));
  }

  void add_allergy_question() {
    // The rule of the outcome stands above it already.
    add(type_.section_name("Allergy question", within));
    add(type_.label_table(content_.allergy, "allergy"));
  }

  void add_allergens() {
    append(blocks_, type_.section_head("Allergens, by the records", within));
    Table grid;
    grid.padding = type_.padding / 2;
    grid.gap = 2500;
    for (std::size_t i = 0; i < allergen_columns; ++i) {
      grid.columns.push_back(Column{0, true, 0});
      grid.columns.push_back(Column{26500, false, 0});
    }
    const std::size_t count = content_.allergens.size();
    const std::size_t down = (count + allergen_columns - 1) / allergen_columns;
    for (std::size_t row = 0; row < down; ++row) {
      Row line;
      for (std::size_t column = 0; column < allergen_columns; ++column) {
        const std::size_t at = column * down + row;
        if (at >= count) {
          line.cells.push_back(type_.cell({type_.plain("")}, "allergens"));
          line.cells.push_back(type_.cell({type_.plain("")}, "allergens"));
          continue;
        }
        const AllergenLine& allergen = content_.allergens[at];
        const std::string field = fmt::format("allergens[{}]", at);
        const std::string word = mark_of_allergen(allergen.word) + " " + allergen.word;
        const bool strong = stands_out(allergen.word);
        TextRun name = strong ? type_.bold(allergen.name) : type_.plain(allergen.name);
        if (!allergen.why.empty()) name.link = "#" + anchor_of_allergen(at);
        line.cells.push_back(type_.cell({std::move(name)}, field));
        line.cells.push_back(type_.cell({strong ? type_.bold(word) : type_.plain(word)}, field));
      }
      grid.rows.push_back(std::move(line));
    }
    if (grid.rows.empty())
      grid.rows.push_back(Row{{Cell{{type_.paragraph({type_.bold("? not known: no list of allergens")}, "allergens")}, 6}}, true, false});
    add(std::move(grid));
  }

  /// The number of the override that was made against a finding, or 0.
  std::size_t override_of(std::size_t finding) const {
    for (std::size_t i = 0; i < content_.overrides.size(); ++i) {
      if (content_.overrides[i].finding == content_.findings[finding].message && content_.overrides[i].control == words_of_finding(finding))
        return i + 1;
    }
    return 0;
  }

  std::string words_of_finding(std::size_t finding) const {
    return finding < content_.finding_words.size() ? content_.finding_words[finding] : content_.findings[finding].control;
  }

  bool is_brief(const Finding& finding) const {
    const auto& brief = content_.brief_controls;
    return finding.verdict == Verdict::shown && std::find(brief.begin(), brief.end(), finding.control) != brief.end();
  }

  /// Findings that share a row: those met, of one control against one limit. Anything else has a row of its own.
  std::vector<std::vector<std::size_t>> rows_of_controls() const {
    std::vector<std::vector<std::size_t>> rows;
    for (std::size_t i = 0; i < content_.findings.size(); ++i) {
      const Finding& finding = content_.findings[i];
      if (is_brief(finding)) continue;
      const auto joins = [&](const std::vector<std::size_t>& row) {
        const Finding& first = content_.findings[row.front()];
        return finding.verdict == Verdict::shown && first.verdict == Verdict::shown && first.control == finding.control &&
               first.limit == finding.limit && !first.result.empty() && !finding.result.empty();
      };
      const auto row = std::find_if(rows.begin(), rows.end(), joins);
      if (row != rows.end()) {
        row->push_back(i);
      } else {
        rows.push_back({i});
      }
    }
    return rows;
  }

  /// One member of every finding of a row, each text once.
  std::string joined(const std::vector<std::size_t>& row, std::string Finding::*member, std::string_view between) const {
    std::vector<std::string> texts;
    for (const std::size_t i : row) {
      const std::string& text = content_.findings[i].*member;
      if (!text.empty() && std::find(texts.begin(), texts.end(), text) == texts.end()) texts.push_back(text);
    }
    return fmt::format("{}", fmt::join(texts, between));
  }

  /// The controls that are met and only named.
  std::string named_briefly() const {
    std::vector<std::string> words;
    for (std::size_t i = 0; i < content_.findings.size(); ++i) {
      if (!is_brief(content_.findings[i])) continue;
      const std::string word = words_of_finding(i);
      if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
    }
    return fmt::format("{}", fmt::join(words, "; "));
  }

  void add_controls() {
    append(blocks_, type_.section_head("Controls", within));
    Table controls = type_.table({"what", "must be", "recorded", "result"});
    controls.columns = {Column{0, false, 37000}, Column{0, false, 37000}, Column{0, true, 0}, Column{0, false, 0}};
    for (const auto& together : rows_of_controls()) {
      const std::size_t i = together.front();
      const Finding& finding = content_.findings[i];
      const std::string field = fmt::format("findings[{}]", i);
      const bool shown = finding.verdict == Verdict::shown;
      TextRun words_of_it = type_.bold(words_of_finding(i));
      words_of_it.link = "#" + anchor_of_finding(i);
      Cell what = type_.cell({std::move(words_of_it)}, field);
      const std::string subjects = joined(together, &Finding::subject, ", ");
      if (!subjects.empty()) what.paragraphs.push_back(type_.paragraph({type_.tiny(subjects)}, field));
      const bool message_is_result = finding.result.empty();
      Cell recorded = type_.cell({type_.plain(message_is_result ? finding.message : joined(together, &Finding::result, "; "))}, field);
      const std::string evidence = joined(together, &Finding::evidence, "; ");
      if (!evidence.empty()) recorded.paragraphs.push_back(type_.paragraph({type_.tiny(evidence)}, field));
      const std::string words = mark_of(finding.verdict) + " " + std::string{words_of(finding.verdict)};
      Cell result = type_.cell({shown ? type_.plain(words) : type_.bold(words)}, field);
      const std::size_t against = override_of(i);
      if (against > 0) {
        const std::string which =
            content_.overrides.size() == 1 ? "released against, see above" : fmt::format("released against, see {} above", against);
        result.paragraphs.push_back(type_.paragraph({type_.tiny(which)}, field));
      }
      if (!shown && finding.stop == Stop::no_override)
        result.paragraphs.push_back(type_.paragraph({type_.bold("do not hand over")}, field));

      // What an override says in full above is not said twice.
      std::string more = shown || against > 0 || message_is_result ? "" : finding.message;
      if (!shown && against == 0 && !finding.remedy.empty()) more += (more.empty() ? "" : " ") + fmt::format("→ {}", finding.remedy);
      Row row{{std::move(what), type_.cell({type_.plain(finding.limit.empty() ? "–" : finding.limit)}, field), std::move(recorded),
               std::move(result)},
              true,
              false};
      if (more.empty()) {
        controls.rows.push_back(std::move(row));
        continue;
      }
      row.rule_below = false;
      row.keep_with_next = true;
      controls.rows.push_back(std::move(row));
      controls.rows.push_back(
          Row{{type_.cell({type_.plain("")}, field), Cell{{type_.paragraph({type_.plain(more)}, field)}, 3}}, true, false});
    }
    const std::string brief = named_briefly();
    if (!brief.empty()) {
      TextRun also = type_.bold("Also met");
      also.link = "#" + std::string{controls_anchor};
      controls.rows.push_back(
          Row{{type_.cell({std::move(also)}, "findings"), Cell{{type_.paragraph({type_.plain(brief)}, "findings")}, 2},
               type_.cell({type_.plain(mark_of(Verdict::shown) + " " + std::string{words_of(Verdict::shown)})}, "findings")},
              true,
              false});
    }
    if (content_.findings.empty()) {
      controls.rows.push_back(Row{{Cell{{type_.paragraph({type_.bold("no control has been judged")}, "findings")}, 4}}, true, false});
    }
    add(std::move(controls));
  }

  void add_later_entries() {
    append(blocks_, type_.section_head("Entries made after hand-over", within));
    if (content_.after_hand_over.empty()) add(type_.paragraph({type_.plain("none")}, "after_hand_over"));
    for (std::size_t i = 0; i < content_.after_hand_over.size(); ++i) {
      add(type_.paragraph({type_.bold(content_.after_hand_over[i])}, fmt::format("after_hand_over[{}]", i)));
    }
  }

  void add_signature() {
    add(Space{0, to_the_foot_});
    std::vector<Block> last;
    last.emplace_back(
        Blanks{{type_.tiny("name"), type_.tiny("signature"), type_.tiny("date and time")}, type_.section + 5500, "signature"});
    Paragraph foot = type_.paragraph({type_.tiny(content_.own_record)}, "own_record");
    foot.before = type_.section / 3;
    if (!content_.own_record.empty()) last.emplace_back(std::move(foot));
    if (!content_.head.empty())
      last.emplace_back(type_.paragraph({type_.tiny("Records' fingerprint "), type_.tiny_bold(content_.head)}, "head"));
    add(Together{std::move(last)});
  }

  const CakeRecordContent& content_;
  const RecordType& type_;
  bool to_the_foot_;
  std::vector<Block> blocks_;
};

Document paper_of(const CakeRecordContent& content, const RecordType& type) {
  return record_paper(content.demo,
                      fmt::format("{} {}{}{}", content.title, content.reference, content.head.empty() ? "" : " · ", content.head), type);
}

/// How closely page one is set: 0 is airy, `closest` tight.
constexpr int closest = 10;

RecordType page_one_type(int closeness) {
  const auto between = [&](auto airy, auto tight) { return airy + (tight - airy) * closeness / closest; };
  RecordType type;
  type.body = PointSize::hundredths(between(870, 750));
  type.leading = between(132, 118);
  type.padding = between(Micrometres{950}, Micrometres{250});
  type.section = between(Micrometres{5000}, Micrometres{1800});
  return type;
}

}  // namespace

Result<Pages> lay_out_cake_record(const CakeRecordContent& content, const Fonts& fonts) {
  RecordType type;
  bool one_page = false;
  for (int closeness = 0; closeness <= closest && !one_page; ++closeness) {
    const RecordType tried = page_one_type(closeness);
    Document first = paper_of(content, tried);
    first.blocks = FirstPage{content, tried, false}.blocks();
    const auto needed = height_needed(first, fonts);
    if (!needed) return needed.error();
    one_page = *needed <= first.height;
    if (one_page) type = tried;  // or else it takes two pages anyway, and is set to be read
  }

  Document record = paper_of(content, type);
  record.blocks = FirstPage{content, type, one_page}.blocks();
  record.blocks.emplace_back(PageBreak{});
  append(record.blocks, further_pages(content, RecordType{}));
  return lay_out(record, fonts);
}

}  // namespace tierproof
