// Additives: their standing, their class titles, how they are printed, what has to be said of them, how much there may be.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "parameters.h"
#include "tierproof/text/csv.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

using namespace parameter;

const std::vector<std::string> statuses{"permitted", "not permitted", "restricted", "decoration only", "not judged"};

/// What a row without a number is known by: its name, up to the first comma.
std::string known_by(const std::string& name) { return name.substr(0, name.find(',')); }

RowSays read_additive(Fields& row, const RowContext&) {
  AdditiveTerm term;
  term.number = maybe_text(row, "number");
  if (!term.number.empty() && !is_number_of_additive_row(term.number)) {
    row.refuse("number", fmt::format("\"{}\" is not an additive's number", term.number), "write \"E471\", or leave it out if it has none");
  }
  term.name = needed_text(row, "name");
  if (term.number.empty()) term.number = known_by(term.name);
  term.classes = needed_texts(row, "classes");
  term.status = row.choice("status", statuses);
  term.note = maybe_text(row, "why");
  term.flags = row.texts("flags");
  term.print = maybe_text(row, "print");
  if (term.status != "permitted" && term.note.empty()) row.refuse("why", "is missing", "say in words why it is not simply permitted");
  return term;
}

std::vector<std::string> split(std::string_view text) {
  std::vector<std::string> out;
  while (!text.empty()) {
    const auto end = std::min(text.find(';'), text.size());
    if (const auto item = trimmed(text.substr(0, end)); !item.empty()) out.emplace_back(item);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return out;
}

/// Lines of a table: `#` lines explain it, then a line of column names, then one additive a line. A last column `print` may be there.
std::vector<AdditiveTerm> read_additive_lines(const std::string& path, const std::string& text, Refusals& refusals) {
  static const std::vector<std::string> columns{"number", "name", "classes", "status", "flags", "why"};
  std::vector<AdditiveTerm> lines;
  const auto rows = parse_csv(text, '\t', path);
  if (!rows) {
    refusals.insert(refusals.end(), rows.error().begin(), rows.error().end());
    return lines;
  }
  bool headed = false;
  std::size_t width = columns.size();
  for (const auto& row : *rows) {
    const auto refuse = [&](std::string field, std::string message, std::string remedy) {
      refusals.push_back({path, row.line, std::move(field), std::move(message), std::move(remedy)});
    };
    if (row.cells[0].starts_with('#')) continue;
    if (!headed) {
      headed = true;
      auto named = row.cells;
      if (named.size() == columns.size() + 1 && named.back() == "print") named.pop_back();
      if (named != columns) refuse("", "has other columns", fmt::format("write the columns {}", fmt::join(columns, ", ")));
      width = std::max(columns.size(), row.cells.size());
      continue;
    }
    if (row.cells.size() != width) {
      refuse("", fmt::format("has {} columns, not {}", row.cells.size(), width), "write every column, empty ones too");
      continue;
    }
    AdditiveTerm term;
    term.number = row.cells[0];
    term.name = row.cells[1];
    term.classes = split(row.cells[2]);
    term.status = row.cells[3];
    term.flags = split(row.cells[4]);
    term.note = row.cells[5];
    if (width > columns.size()) term.print = row.cells[6];
    if (term.number == "-") {
      term.number = known_by(term.name);
    } else if (!is_number_of_additive_row(term.number)) {
      refuse("number", fmt::format("\"{}\" is not an additive's number", term.number), "write \"E471\", or - for one that has none");
    }
    if (term.name.empty()) refuse("name", "is empty", "write the additive's name");
    if (term.classes.empty()) refuse("classes", "is empty", "write its usual class titles with ; between");
    if (std::find(statuses.begin(), statuses.end(), term.status) == statuses.end()) {
      refuse("status", fmt::format("\"{}\" is no status", term.status), fmt::format("write one of: {}", fmt::join(statuses, ", ")));
    }
    if (term.status != "permitted" && term.note.empty()) refuse("why", "is empty", "say in words why it is not simply permitted");
    if (std::any_of(lines.begin(), lines.end(), [&](const AdditiveTerm& other) { return other.number == term.number; })) {
      refuse("number", fmt::format("{} stands there twice", term.number), "keep one line for it");
    }
    lines.push_back(std::move(term));
  }
  if (lines.empty()) refusals.push_back({path, 0, "", "holds no additive", "write a line for each"});
  return lines;
}

RowSays read_additive_table(Fields& row, const RowContext& context) {
  AdditiveTableRow table;
  const auto name = needed_text(row, "table");
  table.file = context.folder + "/" + name;
  const auto found = context.tables.find(table.file);
  if (name.empty()) return table;
  if (found == context.tables.end()) {
    row.refuse("table", fmt::format("there is no {}", table.file), "name a TSV file that stands beside this one");
    return table;
  }
  table.lines = read_additive_lines(found->first, found->second, context.refusals);
  return table;
}

RowSays read_class_title(Fields& row, const RowContext&) {
  ClassTitleTerm term;
  term.title = needed_text(row, "title");
  term.plural = needed_text(row, "plural");
  term.other_titles = other_words(row, "other_titles");
  term.other_plurals = other_words(row, "other_plurals");
  const auto same_language = [](const auto& one, const auto& other) { return one.first == other.first; };
  if (!std::equal(term.other_titles.begin(), term.other_titles.end(), term.other_plurals.begin(), term.other_plurals.end(), same_language))
    row.refuse("other_plurals", "are not in the languages of other_titles", "give each title its plural");
  return term;
}

RowSays read_additive_wording(Fields& row, const RowContext&) {
  AdditiveWording term;
  term.numbers = numbers(row, "numbers");
  term.foods = lower_texts(row, "foods");
  term.wording = wording(row, "wording");
  term.suspended = maybe_text(row, "suspended");
  term.shown_by = maybe_choice(row, "shown_by", {"number", "name"}, "");
  return term;
}

RowSays read_additive_form(Fields& row, const RowContext&) {
  AdditiveFormTerm term;
  term.form = row.choice("form", {"class and name", "name"});
  term.with_class = row.texts("with_class");
  if (term.form == "class and name" && !term.with_class.empty())
    row.refuse("with_class", "is given though every class is printed", "leave it out, or write the form name");
  return term;
}

RowSays read_level_limit(Fields& row, const RowContext&) {
  LevelLimitTerm term;
  term.of = needed_text(row, "of");
  const bool sulphites = term.of == "sulphites";  // summed over the pack by the supplier, so no numbers of their own
  if (row.has("numbers")) {
    term.numbers = numbers(row, "numbers");
  } else {
    row.any("numbers");
  }
  if (sulphites && !term.numbers.empty()) row.refuse("numbers", "are given for sulphites, which have a total", "leave them out");
  if (!sulphites && !term.of.empty() && term.numbers.empty())
    row.refuse("numbers", "is missing", "write the additives that count together, [\"E200\"]");
  term.food = needed_text(row, "food");
  term.up_to_mg_per_kg = decimal(row, "up_to_mg_per_kg");
  return term;
}

constexpr std::array<Mechanism, 6> mechanisms{{
    {"label", "additive", read_additive},
    {"label", "additive-class", read_class_title},
    {"label", "additive-form", read_additive_form},
    {"label", "additive-table", read_additive_table},
    {"label", "additive-wording", read_additive_wording},
    {"label", "level-limit", read_level_limit},
}};

}  // namespace

std::span<const Mechanism> additive_mechanisms() { return mechanisms; }

}  // namespace tierproof
