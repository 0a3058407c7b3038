#include "tierproof/papers/cake_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <span>

#include "cake_record_pages.h"
#include "layout.h"
#include "record_type.h"

namespace tierproof {
namespace {

using namespace papers;

constexpr std::size_t allergen_columns = 3;
constexpr int within = 2;                   ///< level of the bookmarks of page one, below the cake's name
constexpr std::size_t later_shown = 11;     ///< design choice: of entries made after hand-over, where page one would run over for them
constexpr std::size_t longest_beside = 30;  ///< letters: what a control is about, where it stands under the control's name
constexpr std::size_t longest_half = 600;   ///< letters: a text longer than this is set over the full width

/// How page one is set.
struct PageOne {
  RecordType type{};
  bool to_the_foot = false;  ///< the line for the signature stands at the foot
  bool all_later = true;     ///< every entry made after hand-over; else some, and where the rest stands
  std::string goes_on{};     ///< what stands on a later page, in words; empty: nothing
};

std::vector<std::string> split_at(const std::string& text, std::string_view between) {
  std::vector<std::string> parts;
  for (std::size_t from = 0;;) {
    const std::size_t at = text.find(between, from);
    parts.push_back(text.substr(from, at - from));
    if (at == std::string::npos) return parts;
    from = at + between.size();
  }
}

void add_once(std::vector<std::string>& texts, std::string text) {
  if (!text.empty() && std::find(texts.begin(), texts.end(), text) == texts.end()) texts.push_back(std::move(text));
}

/// Texts that differ in one word as one, `warmest 5, 4, 5.3 °C in the air`; others one after the other.
std::string told_together(const std::vector<std::string>& texts) {
  if (texts.size() < 2) return texts.empty() ? "" : texts.front();
  std::vector<std::string> words = split_at(texts.front(), " ");
  std::optional<std::size_t> differs;
  for (std::size_t i = 1; i < texts.size(); ++i) {
    const std::vector<std::string> others = split_at(texts[i], " ");
    if (others.size() != words.size()) return fmt::format("{}", fmt::join(texts, "; "));
    for (std::size_t k = 0; k < words.size(); ++k) {
      if (others[k] == split_at(texts.front(), " ")[k]) continue;
      if (differs && *differs != k) return fmt::format("{}", fmt::join(texts, "; "));
      differs = k;
      words[k] += ", " + others[k];
    }
  }
  return fmt::format("{}", fmt::join(words, " "));
}

/// Evidence of which the first part, up to a semicolon, is the same is told under it once: readings of one thermometer.
std::string evidence_together(const std::vector<std::string>& texts) {
  std::vector<std::vector<std::string>> all;
  for (const std::string& text : texts) {
    std::vector<std::string> parts = split_at(text, "; ");
    const auto same = std::find_if(all.begin(), all.end(), [&](const auto& other) { return other.front() == parts.front(); });
    if (same == all.end()) {
      all.push_back(std::move(parts));
    } else {
      for (std::string& part : parts) add_once(*same, std::move(part));
    }
  }
  std::string words;
  for (const auto& parts : all) words += (words.empty() ? "" : " · ") + fmt::format("{}", fmt::join(parts, "; "));
  return words;
}

/// Builds page one.
class FirstPage {
 public:
  FirstPage(const CakeRecordContent& content, const PageOne& set) : content_{content}, set_{set}, type_{set.type} {}

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
    append(blocks_, paper_head({content_.business, content_.title, content_.reference}, type_.section / 4, type_));
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
    if (!set_.goes_on.empty()) {
      Paragraph goes_on = type_.paragraph({type_.bold(set_.goes_on)}, "goes_on");
      goes_on.before = type_.padding;
      add(std::move(goes_on));
    }
    for (std::size_t i = 0; i < content_.overrides.size(); ++i) {
      const Override& made = content_.overrides[i];
      const std::string field = fmt::format("overrides[{}]", i);
      const std::string which = content_.overrides.size() == 1 ? "" : fmt::format("{}  ", i + 1);
      std::vector<Block> lines;
      lines.emplace_back(type_.paragraph(
          {type_.tiny_bold(which + "Released against  "), type_.bold(made.control), type_.plain(made.by.empty() ? "" : ", by " + made.by)},
          field));
      lines.emplace_back(type_.paragraph({type_.tiny_bold("The records  "), type_.plain(made.finding)}, field));
      lines.emplace_back(type_.paragraph({type_.tiny_bold("Reason given  "), type_.plain(made.reason)}, field));
      add(Space{type_.section / 3, false});
      add(Together{{Barred{std::move(lines)}}});
    }
    add(Rule{700, type_.section / 2, 0, 0, false});
  }

  /// Labels with their texts, one paragraph each.
  void add_told(Cell& cell, std::span<const LabelledText> rows, const std::string& field) const {
    for (const LabelledText& row : rows) {
      Paragraph line = type_.paragraph({type_.tiny_bold(row.label), type_.plain("  " + row.text)}, field);
      line.after = type_.padding;
      cell.paragraphs.push_back(std::move(line));
    }
    if (rows.empty()) cell.paragraphs.push_back(type_.paragraph({type_.plain("nothing recorded")}, field));
  }
  Cell half_page(const std::string& words, const std::vector<LabelledText>& rows, const std::string& field) const {
    Cell half;
    half.paragraphs.push_back(type_.section_name(words, within));
    add_told(half, rows, field);
    return half;
  }
  Table side_by_side(Cell left, Cell right) const {
    const Micrometres half = 84500;
    Table both;
    both.columns = {Column{half, true, 0}, Column{half, true, 0}};
    both.gap = 6000;
    both.padding = type_.section / 8;
    both.rules = false;
    both.rows = {Row{{std::move(left), std::move(right)}, false, false}};
    return both;
  }

  void add_keep_and_hand_over() {
    add(Rule{250, type_.section, 0, 0, true});
    add(side_by_side(half_page("Keep and eat by", content_.keep, "keep"), half_page("Handed over", content_.handed_over, "handed_over")));
  }

  void add_allergy_question() {
    // The rule of the outcome stands above it already.
    add(type_.section_name("Allergy question", within));
    const std::vector<LabelledText>& rows = content_.allergy;
    const bool is_long = std::any_of(rows.begin(), rows.end(), [](const LabelledText& row) { return row.text.size() > longest_half; });
    if (rows.size() < 3 || is_long) return add(type_.label_table(rows, "allergy"));
    const std::size_t half = (rows.size() + 1) / 2;
    Cell left;
    Cell right;
    add_told(left, std::span{rows}.first(half), "allergy");
    add_told(right, std::span{rows}.subspan(half), "allergy");
    add(side_by_side(std::move(left), std::move(right)));
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
  std::vector<std::string> texts_of(const std::vector<std::size_t>& row, std::string Finding::*member) const {
    std::vector<std::string> texts;
    for (const std::size_t i : row) add_once(texts, content_.findings[i].*member);
    return texts;
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
    controls.columns = {Column{0, false, 37000}, Column{0, false, 44000}, Column{0, true, 0}, Column{0, false, 0}};
    for (const auto& together : rows_of_controls()) {
      const std::size_t i = together.front();
      const Finding& finding = content_.findings[i];
      const std::string field = fmt::format("findings[{}]", i);
      const bool shown = finding.verdict == Verdict::shown;
      TextRun words_of_it = type_.bold(words_of_finding(i));
      words_of_it.link = "#" + anchor_of_finding(i);
      const std::size_t against = override_of(i);
      const bool message_is_result = finding.result.empty();
      // What an override says in full above is not said twice.
      const std::string which = against == 0 || content_.overrides.size() == 1 ? "above" : fmt::format("{} above", against);
      std::string recorded = told_together(texts_of(together, &Finding::result));
      if (message_is_result) recorded = against > 0 ? "told under " + which : finding.message;
      const std::string words = mark_of(finding.verdict) + " " + std::string{words_of(finding.verdict)};
      Cell result = type_.cell({shown ? type_.plain(words) : type_.bold(words)}, field);
      if (against > 0) result.paragraphs.push_back(type_.paragraph({type_.tiny("released against, see " + which)}, field));
      if (!shown && finding.stop == Stop::no_override)
        result.paragraphs.push_back(type_.paragraph({type_.bold("do not hand over")}, field));

      // In small type: what it is about, and how and by which thermometer it was recorded; over the full width where it is long.
      std::vector<std::string> about = texts_of(together, &Finding::subject);
      about.erase(std::remove(about.begin(), about.end(), content_.reference), about.end());
      const std::string subjects = fmt::format("{}", fmt::join(about, ", "));
      const std::string evidence = evidence_together(texts_of(together, &Finding::evidence));
      Cell what = type_.cell({std::move(words_of_it)}, field);
      Cell below{{}, 4};
      if (evidence.empty() && !subjects.empty() && subjects.size() <= longest_beside) {
        what.paragraphs.push_back(type_.paragraph({type_.tiny(subjects)}, field));
      } else if (!(subjects + evidence).empty()) {
        const std::string between = subjects.empty() || evidence.empty() ? "" : " · ";
        below.paragraphs.push_back(type_.paragraph({type_.tiny(subjects + between + evidence)}, field));
      }
      std::string more = shown || against > 0 || message_is_result ? "" : finding.message;
      if (!shown && against == 0 && !finding.remedy.empty()) more += (more.empty() ? "" : " ") + fmt::format("→ {}", finding.remedy);
      if (!more.empty()) below.paragraphs.push_back(type_.paragraph({type_.plain(more)}, field));

      Row row{{std::move(what), type_.cell({type_.plain(finding.limit.empty() ? "–" : finding.limit)}, field),
               type_.cell({type_.plain(recorded)}, field), std::move(result)},
              below.paragraphs.empty(),
              !below.paragraphs.empty()};
      controls.rows.push_back(std::move(row));
      if (!below.paragraphs.empty()) controls.rows.push_back(Row{{std::move(below)}, true, false});
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
    append(blocks_, type_.section_head(later_heading, within));
    const std::vector<std::string>& later = content_.after_hand_over;
    if (later.empty()) return add(type_.paragraph({type_.plain("none")}, "after_hand_over"));
    const std::size_t told = set_.all_later ? later.size() : std::min(later.size(), later_shown);
    std::vector<Paragraph> lines;
    for (std::size_t i = 0; i < told; ++i) lines.push_back(type_.paragraph({type_.tiny(later[i])}, fmt::format("after_hand_over[{}]", i)));
    if (told < later.size()) {
      TextRun rest = type_.tiny_bold(fmt::format("and {} more, all told under “{}” on a later page", later.size() - told, later_heading));
      rest.link = "#" + std::string{later_anchor};
      lines.push_back(type_.paragraph({std::move(rest)}, "after_hand_over"));
    }
    // To be read downwards. Each pair is a row of its own, so that a long list may go on on the next page.
    const std::size_t down = (lines.size() + 1) / 2;
    Table table = side_by_side(Cell{}, Cell{});
    table.padding = 0;
    table.rows.clear();
    for (std::size_t i = 0; i < down; ++i) {
      Cell right = i + down < lines.size() ? Cell{{std::move(lines[i + down])}, 1} : type_.cell({type_.plain("")}, "after_hand_over");
      table.rows.push_back(Row{{Cell{{std::move(lines[i])}, 1}, std::move(right)}, false, false});
    }
    add(std::move(table));
  }

  void add_signature() {
    add(Space{0, set_.to_the_foot});
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
  const PageOne& set_;
  const RecordType& type_;
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

Document first_page(const CakeRecordContent& content, const PageOne& set) {
  Document first = paper_of(content, set.type);
  first.blocks = FirstPage{content, set}.blocks();
  return first;
}

/// The whole record, page one set in that way.
Result<Pages> laid_out(const CakeRecordContent& content, const PageOne& set, TypeCase& words) {
  Document record = first_page(content, set);
  record.blocks.emplace_back(PageBreak{});
  append(record.blocks, further_pages(content, RecordType{}, !set.all_later));
  return lay_out(record, words);
}

/// What of a page one that runs over stands on later pages: `Continues on page 2: the rest of Controls, Handed over, signature.`
std::string goes_on_in(const Pages& pages, const std::string& demo) {
  std::vector<std::string> what;
  std::string before;
  std::size_t last = 0;  // page
  for (const Bookmark& bookmark : pages.bookmarks) {
    if (bookmark.level < within && !before.empty()) break;  // the further pages begin
    if (bookmark.level == within && bookmark.page > 0) {
      // Whatever stands above the first name of a section on page two belongs to the one before.
      const auto& texts = pages.pages[1].marks.texts;
      const bool rest = bookmark.page > 1 || std::any_of(texts.begin(), texts.end(), [&](const PlacedText& text) {
                          return text.text != demo && text.baseline < bookmark.y;
                        });
      if (what.empty() && rest) what.push_back("the rest of " + before);
      what.push_back(bookmark.words);
      last = bookmark.page;
    }
    before = bookmark.words;
  }
  what.emplace_back("signature");
  return fmt::format("Continues on page 2{}: {}.", last > 1 ? fmt::format(" to {}", last + 1) : "", fmt::join(what, ", "));
}

/// How page one is set on one page, as airily as goes; nothing where it runs over.
Result<std::optional<PageOne>> on_one_page(const CakeRecordContent& content, TypeCase& words) {
  for (const bool all_later : {true, false}) {
    if (!all_later && content.after_hand_over.size() <= later_shown + 1) continue;
    for (int closeness = 0; closeness <= closest; ++closeness) {
      const PageOne tried{page_one_type(closeness), true, all_later, ""};
      const Document first = first_page(content, tried);
      const auto needed = height_needed(first, words);
      if (!needed) return needed.error();
      if (*needed <= first.height) return std::optional{tried};
    }
  }
  return std::optional<PageOne>{};
}

}  // namespace

Result<Pages> lay_out_cake_record(const CakeRecordContent& content, const Fonts& fonts) {
  TypeCase words{fonts};
  const auto one_page = on_one_page(content, words);
  if (!one_page) return one_page.error();
  if (*one_page) return laid_out(content, **one_page, words);
  PageOne set{page_one_type(closest / 2), false, true, ""};
  constexpr int most_tries = 4;
  for (int tries = 1;; ++tries) {
    auto pages = laid_out(content, set, words);
    if (!pages) return pages;
    std::string goes_on = goes_on_in(*pages, paper_of(content, set.type).demo);
    if (goes_on == set.goes_on || tries == most_tries) return pages;
    set.goes_on = std::move(goes_on);  // the line itself may push something on
  }
}

}  // namespace tierproof
