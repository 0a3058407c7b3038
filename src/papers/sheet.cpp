#include "tierproof/papers/sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "record_type.h"
#include "tierproof/text/fields.h"

namespace tierproof {
namespace {

using papers::append;
using papers::RecordType;

constexpr std::int64_t least_height_mm = 9;  // room for a line of handwriting: choice of this project

// ---- reading ----------------------------------------------------------------------------------------------------------------

class FormReader {
 public:
  FormReader(std::string file, Refusals& refusals) : file_{std::move(file)}, refusals_{refusals} {}

  SheetForm read(const Json& value) {
    Fields fields{value, file_, "", refusals_};
    SheetForm form;
    form.id = fields.text("id");
    form.order = fields.integer("order", 1, 1000);
    form.title = fields.text("title");
    form.purpose = fields.text("purpose");
    form.landscape = fields.flag("landscape", false);
    const auto& notes = fields.list("notes");
    for (std::size_t i = 0; i < notes.size(); ++i) form.notes.push_back(read_note(notes[i], fields.path_of("notes", i)));
    const auto& parts = fields.list("parts");
    for (std::size_t i = 0; i < parts.size(); ++i) form.parts.push_back(read_part(parts[i], fields.path_of("parts", i)));
    form.type_in = fields.texts("type_in");
    if (form.type_in.empty()) fields.refuse("type_in", "is empty or missing", "list the commands that it is typed in with");
    check_fills(form, fields);
    fields.done();
    return form;
  }

 private:
  SheetNote read_note(const Json& value, const std::string& path) {
    Fields fields{value, file_, path, refusals_};
    SheetNote note{fields.text("kind"), fields.texts("by_program")};
    fields.done();
    return note;
  }

  SheetSpace read_space(const Json& value, const std::string& path) {
    Fields fields{value, file_, path, refusals_};
    SheetSpace space;
    space.label = fields.text("label");
    space.unit = fields.maybe_text("unit").value_or("");
    space.hint = fields.maybe_text("hint").value_or("");
    space.share = fields.integer("share", 1, 1000);
    space.fills = fields.texts("fills");
    fields.done();
    return space;
  }

  SheetPart read_part(const Json& value, const std::string& path) {
    Fields fields{value, file_, path, refusals_};
    SheetPart part;
    const std::string kind = fields.choice("kind", {"text", "boxes", "ticks", "allergens", "rows"});
    part.words = fields.maybe_text("words").value_or("");
    if (kind == "text") {
      if (part.words.empty()) fields.refuse("words", "is missing", "write what there is to read");
    } else if (kind == "ticks" || kind == "allergens") {
      part.kind = kind == "ticks" ? SheetPartKind::ticks : SheetPartKind::allergens;
      part.fills = fields.texts("fills");
      part.across = static_cast<int>(fields.integer("across", 1, 8));
      if (kind == "ticks") {
        part.choices = fields.texts("choices");
        if (part.choices.empty()) fields.refuse("choices", "is empty or missing", "list the answers to tick");
        part.hints = fields.texts("hints");
        if (!part.hints.empty() && part.hints.size() != part.choices.size())
          fields.refuse("hints", "are not as many as the choices", "write one for each choice, or none");
      }
    } else {
      part.kind = kind == "rows" ? SheetPartKind::rows : SheetPartKind::boxes;
      const auto& spaces = fields.list("spaces");
      for (std::size_t i = 0; i < spaces.size(); ++i) part.spaces.push_back(read_space(spaces[i], fields.path_of("spaces", i)));
      if (spaces.empty()) fields.refuse("spaces", "is empty or missing", "list what there is to write in");
      part.height = 1000 * fields.maybe_integer("height", least_height_mm, 200).value_or(least_height_mm);
      if (kind == "rows") {
        part.rows = static_cast<int>(fields.integer("rows", 1, 60));
        part.fill = fields.flag("fill", false);
      }
    }
    fields.done();
    return part;
  }

  void check_fills(const SheetForm& form, Fields& fields) {
    std::size_t filled = 0;
    const auto check = [&](const std::vector<std::string>& fills) {
      for (const std::string& one : fills) {
        ++filled;
        const auto known = std::any_of(form.notes.begin(), form.notes.end(),
                                       [&](const SheetNote& note) { return one.starts_with(note.kind + " ") && !note.kind.empty(); });
        if (!known) {
          fields.refuse("parts", fmt::format("\"{}\" fills a kind of note that is not listed under `notes`", one),
                        "write kind and member, such as `lot/1 code`, and list the kind");
        }
      }
    };
    for (const SheetPart& part : form.parts) {
      check(part.fills);
      for (const SheetSpace& space : part.spaces) check(space.fills);
    }
    if (filled == 0) fields.refuse("parts", "give nothing of any note", "say with `fills` what each part gives");
  }

  std::string file_;
  Refusals& refusals_;
};

// ---- laying out ---------------------------------------------------------------------------------------------------------------

class SheetSetter {
 public:
  SheetSetter(const SheetForm& form, const SheetFacts& facts, SheetPaper paper, const Fonts& fonts)
      : form_{form}, facts_{facts}, fonts_{fonts} {
    document_ = papers::record_paper(facts.demo,
                                     "tierproof · What is written here is in the records only once it is typed in; keep this sheet with "
                                     "them. Local law and the advice of your food authority come first.",
                                     type_);
    if (paper == SheetPaper::letter) {
      document_.width = 215900;
      document_.height = 279400;
    }
    if (form.landscape) {
      std::swap(document_.width, document_.height);
      std::swap(document_.left, document_.top);  // the edge to punch is on top
      document_.right = document_.bottom = 12000;
    }
    column_ = document_.width - document_.left - document_.right;
  }

  Result<Pages> run(int pages) {
    const auto bare = height_with(0);
    if (!bare) return bare.error();
    int more = 0;
    if (std::any_of(form_.parts.begin(), form_.parts.end(), [](const SheetPart& part) { return part.fill; })) {
      const auto one_more = height_with(1);
      if (!one_more) return one_more.error();
      more = static_cast<int>(std::max<Micrometres>(0, (document_.height - *bare) / (*one_more - *bare)));
    }
    if (*bare > document_.height) {
      return Refusal{"", 0, form_.id,
                     fmt::format("the form is {:.1f} mm higher than its page", static_cast<double>(*bare - document_.height) / 1000.0),
                     "take rows or words out of it"};
    }
    Document all = document_;
    for (int page = 0; page < pages; ++page) {
      if (page > 0) all.blocks.emplace_back(PageBreak{});
      append(all.blocks, page_blocks(more));
    }
    return lay_out(all, fonts_);
  }

 private:
  Result<Micrometres> height_with(int more) const {
    Document one = document_;
    one.blocks = page_blocks(more);
    return height_needed(one, fonts_);
  }

  TextRun sized(std::string text, Face face, int size) const { return {std::move(text), face, PointSize::hundredths(size), 0}; }

  std::vector<Block> page_blocks(int more) const {
    std::vector<Block> blocks;
    blocks.emplace_back(type_.paragraph({sized(form_.title, Face::condensed_bold, 1500)}, form_.id + " title"));
    Paragraph purpose = type_.paragraph({type_.plain(form_.purpose)}, form_.id + " purpose");
    purpose.after = 1500;
    blocks.emplace_back(std::move(purpose));
    blocks.emplace_back(head_boxes());
    for (const SheetPart& part : form_.parts) append(blocks, part_blocks(part, more));
    blocks.emplace_back(Space{1500, true});
    blocks.emplace_back(Together{type_in_blocks()});
    return blocks;
  }

  /// Whose sheet it is, which days it covers, and whose initials stand on it.
  Table head_boxes() const {
    SheetPart part;
    part.spaces = {{"Business", "", facts_.business.empty() ? "name of the kitchen" : "", 5, {}},
                   {"Day or days", "", "", 3, {}},
                   {"Filled in by", "", "initials", 3, {}},
                   {"Typed in on", "", "initials", 3, {}}};
    Table table = boxes(part);
    if (!facts_.business.empty()) {
      table.rows.back().cells.front() = type_.cell({sized(facts_.business, Face::condensed_bold, 1000)}, "business");
    }
    return table;
  }

  Table grid_of(const SheetPart& part) const {
    Table table;
    table.grid = true;
    table.gap = 2600;
    table.padding = 700;
    std::int64_t shares = 0;
    for (const SheetSpace& space : part.spaces) shares += space.share;
    const Micrometres free = column_ - table.gap * static_cast<Micrometres>(part.spaces.size());
    for (const SheetSpace& space : part.spaces) table.columns.push_back(Column{free * space.share / shares, false, 1});
    table.columns.back().fill = true;
    return table;
  }

  Cell label_of(const SheetSpace& space, bool hint_below) const {
    std::vector<TextRun> runs{type_.bold(space.label)};
    if (!space.unit.empty()) runs.push_back(type_.bold(", " + space.unit));
    const std::string field = fmt::format("{} {}", form_.id, space.label);
    if (space.hint.empty()) return type_.cell(std::move(runs), field);
    if (!hint_below) {
      runs.push_back(type_.tiny("  " + space.hint));
      return type_.cell(std::move(runs), field);
    }
    Cell cell = type_.cell(std::move(runs), field);
    cell.paragraphs.push_back(type_.paragraph({type_.tiny(space.hint)}, field));
    return cell;
  }

  static Row empty_row(std::size_t cells, Micrometres height) {
    Row row;
    row.cells.resize(cells);
    row.least = height;
    return row;
  }

  Table boxes(const SheetPart& part) const {
    Table table = grid_of(part);
    Row labels;
    labels.rule_below = false;
    for (const SheetSpace& space : part.spaces) labels.cells.push_back(label_of(space, false));
    table.rows = {std::move(labels), empty_row(part.spaces.size(), part.height)};
    table.after = 1500;
    return table;
  }

  Table rows(const SheetPart& part, int more) const {
    Table table = grid_of(part);
    Row head;
    for (const SheetSpace& space : part.spaces) head.cells.push_back(label_of(space, true));
    table.head = {std::move(head)};
    table.rows.assign(static_cast<std::size_t>(part.rows + (part.fill ? more : 0)), empty_row(part.spaces.size(), part.height));
    table.after = 1500;
    return table;
  }

  Paragraph words_above(const std::string& words) const {
    Paragraph above = type_.paragraph({type_.bold(words)}, form_.id);
    above.keep_with_next = true;
    above.before = 1200;
    above.after = 600;
    return above;
  }

  /// Boxes to tick, in columns of one width. @param words  what is asked, in a wider column before them; or empty
  /// @param answers  what stands beside each box, and in small type after it
  Table ticks(const std::string& words, const std::vector<std::pair<std::string, std::string>>& answers, int across) const {
    Table table;
    table.rules = false;
    table.gap = 3000;
    table.padding = 500;
    table.before = 600;
    table.after = 600;
    const bool asks = !words.empty();
    const Micrometres indent = fonts_.width("☐ ", Face::condensed, PointSize::hundredths(1200));
    const Micrometres asked = asks ? column_ * 3 / 10 : 0;
    const Micrometres width = (column_ - asked - table.gap * (across - (asks ? 0 : 1))) / across;
    if (asks) table.columns.push_back(Column{asked, false, 1});
    table.columns.insert(table.columns.end(), static_cast<std::size_t>(across), Column{width, false, 1});
    for (std::size_t i = 0; i < answers.size(); i += static_cast<std::size_t>(across)) {
      Row row;
      if (asks) row.cells.push_back(type_.cell({type_.bold(i == 0 ? words : "")}, form_.id));
      for (std::size_t j = i; j < i + static_cast<std::size_t>(across); ++j) {
        if (j >= answers.size()) {
          row.cells.emplace_back();
          continue;
        }
        std::vector<TextRun> runs{sized("☐ ", Face::condensed, 1200), type_.plain(answers[j].first)};
        if (!answers[j].second.empty()) runs.push_back(type_.tiny("  " + answers[j].second));
        row.cells.push_back(type_.cell(std::move(runs), form_.id));
        row.cells.back().paragraphs.front().indent = indent;
      }
      table.rows.push_back(std::move(row));
    }
    return table;
  }

  std::vector<Block> part_blocks(const SheetPart& part, int more) const {
    std::vector<Block> blocks;
    if (part.kind == SheetPartKind::text) {
      Paragraph text = type_.paragraph({type_.plain(part.words)}, form_.id);
      text.before = 600;
      text.after = 1200;
      return {std::move(text)};
    }
    if (!part.words.empty() && part.kind != SheetPartKind::ticks) blocks.emplace_back(words_above(part.words));
    switch (part.kind) {
      case SheetPartKind::text:
        break;
      case SheetPartKind::boxes:
        blocks.emplace_back(boxes(part));
        break;
      case SheetPartKind::rows:
        blocks.emplace_back(rows(part, more));
        break;
      case SheetPartKind::ticks: {
        std::vector<std::pair<std::string, std::string>> answers;
        for (std::size_t i = 0; i < part.choices.size(); ++i)
          answers.emplace_back(part.choices[i], part.hints.empty() ? "" : "(" + part.hints[i] + ")");
        blocks.emplace_back(ticks(part.words, answers, part.across));
        break;
      }
      case SheetPartKind::allergens:
        append(blocks, allergen_blocks(part));
        break;
    }
    return blocks;
  }

  std::vector<Block> allergen_blocks(const SheetPart& part) const {
    std::vector<Block> blocks;
    if (facts_.allergens.empty()) {
      SheetPart space;
      space.spaces = {{"Which ones", "", "no label rules are chosen yet, so write every one in full", 1, {}}};
      space.height = 18000;
      blocks.emplace_back(boxes(space));
    } else {
      std::vector<std::pair<std::string, std::string>> answers;
      for (const SheetAllergen& allergen : facts_.allergens)
        answers.emplace_back(allergen.word, allergen.key == allergen.word ? "" : allergen.key);
      blocks.emplace_back(ticks("", answers, part.across));
    }
    if (!facts_.ask_again.empty()) {
      std::string words;
      for (std::size_t i = 0; i < facts_.ask_again.size(); ++i)
        words += fmt::format("{}“{}”", i == 0 ? "" : i + 1 == facts_.ask_again.size() ? " or " : ", ", facts_.ask_again[i]);
      Paragraph again =
          type_.paragraph({type_.plain("Whoever says "), type_.bold(words), type_.plain(" has not said which yet: ask again.")}, form_.id);
      again.after = 1200;
      blocks.emplace_back(std::move(again));
    }
    return blocks;
  }

  /// The command in lines that fit, broken before options only, since a break after a hyphen would look like a part of it.
  std::string in_lines(const std::string& command, Micrometres width) const {
    std::string whole;
    std::string line;
    const auto wide = [&](const std::string& text) { return fonts_.width(text, Face::condensed, type_.body); };
    std::size_t start = 0;
    while (start < command.size()) {
      std::size_t end = command.find(" --", start + 1);
      if (end == std::string::npos) end = command.size();
      const std::string piece = command.substr(start, end - start);
      if (!line.empty() && wide(line + piece) > width) {
        whole += line + "\n";
        line = "    " + piece.substr(1);
      } else {
        line += piece;
      }
      start = end;
    }
    return whole + line;
  }

  std::vector<Block> type_in_blocks() const {
    std::vector<Block> blocks;
    constexpr Micrometres bar = 600;
    constexpr Micrometres gap = 2500;
    std::vector<Block> inside;
    inside.emplace_back(type_.paragraph({type_.bold("Type in with: "), type_.tiny("(the values are examples)")}, form_.id));
    for (const std::string& command : form_.type_in) {
      inside.emplace_back(type_.paragraph({type_.plain(in_lines(command, column_ - bar - gap))}, form_.id + " type_in"));
    }
    inside.emplace_back(type_.paragraph(
        {type_.tiny("Give the time that stands on this sheet with --at where the command takes it, and your own short name with --by. "
                    "What is typed in more than 15 minutes after it happened is marked as late by the program itself.")},
        form_.id));
    blocks.emplace_back(Barred{std::move(inside), bar, gap});
    return blocks;
  }

  const SheetForm& form_;
  const SheetFacts& facts_;
  const Fonts& fonts_;
  RecordType type_;
  Document document_;
  Micrometres column_ = 0;
};

}  // namespace

Result<std::vector<SheetForm>> read_sheets(std::span<const SheetFile> files) {
  Refusals refusals;
  std::map<std::string, std::string> path_of;
  std::vector<SheetForm> forms;
  for (const SheetFile& file : files) {
    const auto value = parse_json(file.text, file.path);
    if (!value) {
      refusals.insert(refusals.end(), value.error().begin(), value.error().end());
      continue;
    }
    SheetForm form = FormReader{file.path, refusals}.read(*value);
    if (!path_of.emplace(form.id, file.path).second) {
      refusals.push_back(Refusal{file.path, value->line(), "id", fmt::format("`{}` is the id of another form", form.id),
                                 "give each form an id of its own"});
    }
    forms.push_back(std::move(form));
  }
  if (!refusals.empty()) return refusals;
  std::sort(forms.begin(), forms.end(),
            [](const SheetForm& a, const SheetForm& b) { return std::tie(a.order, a.id) < std::tie(b.order, b.id); });
  return forms;
}

Result<Pages> lay_out_sheet(const SheetForm& form, const SheetFacts& facts, SheetPaper paper, int pages, const Fonts& fonts) {
  return SheetSetter{form, facts, paper, fonts}.run(pages);
}

}  // namespace tierproof
