#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>

#include "packs.h"
#include "tierproof/text/csv.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr std::int64_t many = 1'000'000'000;
const std::vector<std::string> statuses{"permitted", "not permitted", "restricted", "decoration only"};

std::string needed_text(Fields& row, std::string_view key) {
  auto text = row.text(key);
  if (text.empty() && row.has(key)) row.refuse(key, "is empty", "write what it says");
  return text;
}

std::vector<std::string> needed_texts(Fields& row, std::string_view key) {
  auto texts = row.texts(key);
  if (texts.empty()) row.refuse(key, "has nothing in it", "write at least one text in the list");
  return texts;
}

Share percent(Fields& row, std::string_view key) {
  const auto text = row.text(key);
  if (text.empty()) return 0;
  const auto share = parse_percent(text);
  if (!share) row.refuse(key, fmt::format("\"{}\" is not a share", text), "write it with the percent sign, \"2 %\"");
  return share.value_or(0);
}

std::optional<Degrees> degrees(Fields& row, std::string_view key, std::string_view example) {
  const auto text = row.text(key);
  if (text.empty()) return std::nullopt;
  const auto read = parse_degrees(text);
  if (!read) row.refuse(key, fmt::format("\"{}\" is not a temperature with its scale", text), fmt::format("write \"{}\"", example));
  return read;
}

Temperature temperature(Fields& row, std::string_view key) {
  const auto read = degrees(row, key, "8 C");
  return read ? read->temperature() : Temperature{};
}

/// A difference of temperatures; must be more than nothing.
TemperatureSpan difference(Fields& row, std::string_view key) {
  const auto read = degrees(row, key, "1 C");
  if (!read) return {};
  if (read->hundredths <= 0) row.refuse(key, "is not more than nothing", "write a difference, \"1 C\"");
  return read->scale == Scale::celsius ? TemperatureSpan::hundredths_celsius(read->hundredths)
                                       : TemperatureSpan::hundredths_fahrenheit(read->hundredths);
}

Span seconds(Fields& row, std::string_view key) { return std::chrono::seconds{row.integer(key, 0, many)}; }

// ---- label ------------------------------------------------------------------------------------------------------------------

RowSays read_allergen(Fields& row, const RowContext&) {
  AllergenTerm term;
  term.key = needed_text(row, "key");
  term.group = needed_text(row, "group");
  term.word = needed_text(row, "word");
  term.names = needed_texts(row, "names");
  for (const auto& name : term.names) {
    if (name != ascii_lower(name)) row.refuse("names", fmt::format("\"{}\" has capitals", name), "write it in lower case");
  }
  if (const auto above = row.maybe_integer("above_mg_per_kg", 0, 1'000'000)) term.above_mg_per_kg = Share{*above};
  term.at_threshold = row.flag("at_threshold", false);
  return term;
}

RowSays read_group_answer(Fields& row, const RowContext&) {
  GroupAnswerTerm term;
  term.word = needed_text(row, "word");
  term.names = row.texts("names");
  term.counts_as = needed_texts(row, "counts_as");
  term.ask_which = row.flag("ask_which", true);
  for (const auto& name : term.names) {
    if (name != ascii_lower(name)) row.refuse("names", fmt::format("\"{}\" has capitals", name), "write it in lower case");
  }
  return term;
}

RowSays read_emphasis(Fields& row, const RowContext&) {
  return EmphasisRow{row.choice("style", {"bold capitals", "bold", "capitals", "underlined"})};
}
RowSays read_added_water(Fields& row, const RowContext&) { return AddedWaterRow{percent(row, "ignored_up_to")}; }
RowSays read_any_order(Fields& row, const RowContext&) { return AnyOrderRow{percent(row, "below")}; }
RowSays read_compound_relief(Fields& row, const RowContext&) {
  const auto below = percent(row, "below");
  return CompoundReliefRow{below, row.texts("fixed_by_law")};
}
RowSays read_varying(Fields& row, const RowContext&) { return VaryingRow{row.texts("groups")}; }

bool is_additive_number(std::string_view text) {
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  if (text.size() < 4 || text[0] != 'E') return false;
  text.remove_prefix(1);
  if (text.back() >= 'a' && text.back() <= 'z') text.remove_suffix(1);
  return text.size() >= 3 && text.size() <= 4 && std::all_of(text.begin(), text.end(), digit);
}

std::vector<std::string> numbers(Fields& row) {
  auto texts = needed_texts(row, "numbers");
  for (const auto& text : texts) {
    if (!is_additive_number(text)) row.refuse("numbers", fmt::format("\"{}\" is not an additive's number", text), "write \"E102\"");
  }
  return texts;
}

RowSays read_additive(Fields& row, const RowContext&) {
  AdditiveTerm term;
  term.number = needed_text(row, "number");
  if (!term.number.empty() && !is_additive_number(term.number)) {
    row.refuse("number", fmt::format("\"{}\" is not an additive's number", term.number), "write \"E471\"");
  }
  term.name = needed_text(row, "name");
  term.classes = needed_texts(row, "classes");
  term.status = row.choice("status", statuses);
  term.note = row.maybe_text("why").value_or("");
  term.flags = row.texts("flags");
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

/// Lines of a table: `#` lines explain it, then a line of column names, then one additive a line.
std::vector<AdditiveTerm> read_additive_lines(const std::string& path, const std::string& text, Refusals& refusals) {
  static const std::vector<std::string> columns{"number", "name", "classes", "status", "flags", "why"};
  std::vector<AdditiveTerm> lines;
  const auto rows = parse_csv(text, '\t', path);
  if (!rows) {
    refusals.insert(refusals.end(), rows.error().begin(), rows.error().end());
    return lines;
  }
  bool headed = false;
  for (const auto& row : *rows) {
    const auto refuse = [&](std::string field, std::string message, std::string remedy) {
      refusals.push_back({path, row.line, std::move(field), std::move(message), std::move(remedy)});
    };
    if (row.cells[0].starts_with('#')) continue;
    if (!headed) {
      headed = true;
      if (row.cells != columns) refuse("", "has other columns", fmt::format("write the columns {}", fmt::join(columns, ", ")));
      continue;
    }
    if (row.cells.size() != columns.size()) {
      refuse("", fmt::format("has {} columns, not {}", row.cells.size(), columns.size()), "write every column, empty ones too");
      continue;
    }
    AdditiveTerm term;
    term.number = row.cells[0];
    term.name = row.cells[1];
    term.classes = split(row.cells[2]);
    term.status = row.cells[3];
    term.flags = split(row.cells[4]);
    term.note = row.cells[5];
    if (!is_additive_number(term.number))
      refuse("number", fmt::format("\"{}\" is not an additive's number", term.number), "write \"E471\"");
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

RowSays read_class_title(Fields& row, const RowContext&) { return ClassTitleRow{needed_text(row, "title")}; }

RowSays read_additive_wording(Fields& row, const RowContext&) {
  AdditiveWording term;
  term.numbers = numbers(row);
  term.wording = needed_text(row, "wording");
  return term;
}

RowSays read_share_wording(Fields& row, const RowContext&) {
  ShareWording term;
  term.of = row.choice("of", {"polyols", "sweeteners", "sugars and sweeteners"});
  term.above = percent(row, "above");
  term.wording = needed_text(row, "wording");
  return term;
}

RowSays read_route(Fields& row, const RowContext&) {
  RouteTerm term;
  term.boxed = row.choice("boxed", {"before it was chosen", "after it was ordered", "not boxed", "any"});
  term.seller = row.choice("seller", {"the maker", "another business", "any"});
  term.ordered = row.choice("ordered", {"face to face", "at a distance", "any"});
  for (auto* field : {&term.boxed, &term.seller, &term.ordered}) {
    if (*field == "any") field->clear();
  }
  term.route = needed_text(row, "route");
  term.words = needed_text(row, "words");
  term.declaration = row.choice("declaration", {"ingredient list", "allergens"});
  term.on_pack = row.texts("on_pack");
  term.told = row.texts("told");
  return term;
}

RowSays read_type_size(Fields& row, const RowContext&) {
  TypeSizeTerm term{};
  term.what = needed_text(row, "what");
  term.measured = row.choice("measured", {"x-height", "figure height", "symbol height"});
  term.face_from_cm2 = row.maybe_integer("face_from_cm2", 0, many);
  term.face_below_cm2 = row.maybe_integer("face_below_cm2", 1, many);
  term.above = row.maybe_mass("above");
  term.up_to = row.maybe_mass("up_to");
  term.minimum_um = row.integer("minimum_um", 1, 100'000);
  return term;
}

RowSays read_date_mark(Fields& row, const RowContext&) {
  DateMarkTerm term;
  term.kind = row.choice("kind", {"use by", "best before"});
  if (const auto months = row.maybe_integer("life_up_to_months", 1, 1200)) term.life_up_to_months = static_cast<int>(*months);
  term.form = row.choice("form", {"day month", "day month year", "month year", "year"});
  term.wording = needed_text(row, "wording");
  return term;
}

RowSays read_wording(Fields& row, const RowContext&) {
  Wording term;
  term.key = needed_text(row, "key");
  term.text = needed_text(row, "text");
  return term;
}

// ---- temperature --------------------------------------------------------------------------------------------------------------

RowSays read_heat_hold(Fields& row, const RowContext&) {
  HeatRow term;
  term.food = needed_text(row, "food");
  term.at = temperature(row, "at");
  term.hold = seconds(row, "hold_seconds");
  return term;
}

RowSays read_heat_equivalence(Fields& row, const RowContext&) {
  HeatEquivalence term;
  term.food = needed_text(row, "food");
  term.reference = temperature(row, "reference");
  term.z = difference(row, "z");
  term.required = std::chrono::seconds{row.integer("required_seconds", 1, many)};
  term.floor = temperature(row, "floor");
  term.ceiling = temperature(row, "ceiling");
  term.longest_step = std::chrono::seconds{row.integer("longest_step_seconds", 1, many)};
  if (term.floor > term.ceiling) row.refuse("floor", "lies above the ceiling", "write the lower end of the tested range as the floor");
  return term;
}

RowSays read_chill(Fields& row, const RowContext&) {
  ChillTerm term;
  term.limit = temperature(row, "limit");
  term.measured_in = row.choice("measured_in", {"food", "air"});
  term.advice = row.flag("advice", false);
  return term;
}

RowSays read_cold_place(Fields& row, const RowContext&) {
  ColdPlaceTerm term;
  term.words = needed_text(row, "words");
  return term;
}

RowSays read_warm_allowance(Fields& row, const RowContext&) {
  WarmAllowance term;
  term.use = needed_text(row, "use");
  term.less_than = std::chrono::minutes{row.integer("less_than_minutes", 1, 10'000)};
  term.once = row.flag("once", true);
  return term;
}

RowSays read_egg_mix(Fields& row, const RowContext&) {
  EggMixTerm term;
  term.sugar_up_to = percent(row, "sugar_up_to");
  return term;
}

RowSays read_probe_check(Fields& row, const RowContext&) {
  ProbeTerm term{};
  term.band = difference(row, "band");
  term.days_between = static_cast<int>(row.integer("days_between", 1, 3660));
  return term;
}

RowSays read_gap(Fields& row, const RowContext&) {
  GapTerm term;
  term.use = row.choice("use", {"heat step", "chilled hold"});
  term.longest = std::chrono::seconds{row.integer("longest_seconds", 1, many)};
  return term;
}

// ---- retention ------------------------------------------------------------------------------------------------------------------

RowSays read_keep(Fields& row, const RowContext&) {
  RetentionTerm term;
  term.counts_from = row.choice("counts_from", {"use by", "best before", "hand over"});
  if (row.has("days") && !row.has("months")) {
    term.days = static_cast<int>(row.integer("days", 1, 36'500));
  } else {
    term.months = static_cast<int>(row.integer("months", 1, 1200));
  }
  if (row.has("what")) term.what = row.choice("what", {"record", "personal data"});
  return term;
}

struct Mechanism {
  std::string_view set;
  std::string_view name;
  RowSays (*read)(Fields&, const RowContext&);
};

constexpr std::array<Mechanism, 25> mechanisms{{
    {"label", "added-water", read_added_water},
    {"label", "additive", read_additive},
    {"label", "additive-class", read_class_title},
    {"label", "additive-table", read_additive_table},
    {"label", "additive-wording", read_additive_wording},
    {"label", "allergen", read_allergen},
    {"label", "any-order-below", read_any_order},
    {"label", "compound-relief", read_compound_relief},
    {"label", "date-mark", read_date_mark},
    {"label", "emphasis", read_emphasis},
    {"label", "group-answer", read_group_answer},
    {"label", "route", read_route},
    {"label", "share-wording", read_share_wording},
    {"label", "type-size", read_type_size},
    {"label", "varying-proportions", read_varying},
    {"label", "wording", read_wording},
    {"temperature", "chill", read_chill},
    {"temperature", "cold-place", read_cold_place},
    {"temperature", "egg-mix", read_egg_mix},
    {"temperature", "gap", read_gap},
    {"temperature", "heat-equivalence", read_heat_equivalence},
    {"temperature", "heat-hold", read_heat_hold},
    {"temperature", "probe-check", read_probe_check},
    {"temperature", "warm-allowance", read_warm_allowance},
    {"retention", "keep", read_keep},
}};

struct QuestionOf {
  std::string operator()(const ClosedRow&) const { return ""; }
  std::string operator()(const AllergenTerm& t) const { return t.key; }
  std::string operator()(const GroupAnswerTerm& t) const { return t.word; }
  std::string operator()(const EmphasisRow&) const { return "one"; }
  std::string operator()(const AddedWaterRow&) const { return "one"; }
  std::string operator()(const AnyOrderRow&) const { return "one"; }
  std::string operator()(const CompoundReliefRow&) const { return "one"; }
  std::string operator()(const VaryingRow&) const { return "one"; }
  std::string operator()(const AdditiveTerm& t) const { return t.number; }
  std::string operator()(const AdditiveTableRow&) const { return "one"; }
  std::string operator()(const ClassTitleRow& t) const { return t.title; }
  std::string operator()(const AdditiveWording&) const { return ""; }
  std::string operator()(const ShareWording& t) const { return t.of; }
  std::string operator()(const RouteTerm& t) const { return fmt::format("{}/{}/{}", t.boxed, t.seller, t.ordered); }
  std::string operator()(const TypeSizeTerm& t) const {
    return fmt::format("{}/{}/{}/{}/{}", t.what, t.face_from_cm2.value_or(-1), t.face_below_cm2.value_or(-1),
                       t.above ? t.above->to_milligrams() : -1, t.up_to ? t.up_to->to_milligrams() : -1);
  }
  std::string operator()(const DateMarkTerm& t) const { return fmt::format("{}/{}", t.kind, t.life_up_to_months.value_or(0)); }
  std::string operator()(const Wording& t) const { return t.key; }
  std::string operator()(const HeatRow& t) const { return fmt::format("{}/{}", t.food, (t.at - Temperature{}).to_parts()); }
  std::string operator()(const HeatEquivalence& t) const { return t.food; }
  std::string operator()(const ChillTerm& t) const { return fmt::format("{}/{}", t.measured_in, t.advice); }
  std::string operator()(const ColdPlaceTerm&) const { return "one"; }
  std::string operator()(const WarmAllowance& t) const { return t.use; }
  std::string operator()(const EggMixTerm&) const { return "one"; }
  std::string operator()(const ProbeTerm&) const { return "one"; }
  std::string operator()(const GapTerm& t) const { return t.use; }
  std::string operator()(const RetentionTerm& t) const { return fmt::format("{}/{}", t.what, t.counts_from); }
};

template <class T>
concept Citing = requires(T term) {
  term.cited;
};

}  // namespace

RowSays read_mechanism(const std::string& set, const std::string& mechanism, Fields& row, const RowContext& context, bool& known) {
  known = true;
  if (mechanism == "closed") return ClosedRow{};
  for (const auto& candidate : mechanisms) {
    if (candidate.set == set && candidate.name == mechanism) return candidate.read(row, context);
  }
  known = false;
  return ClosedRow{};
}

std::vector<std::string> mechanisms_of(std::string_view set) {
  std::vector<std::string> names{"closed"};
  for (const auto& mechanism : mechanisms) {
    if (mechanism.set == set) names.emplace_back(mechanism.name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

void put_citation(RowSays& says, const Cited& cited) {
  std::visit(
      [&]<class T>(T& term) {
        if constexpr (Citing<T>) term.cited = cited;
        if constexpr (std::is_same_v<T, AdditiveTableRow>) {
          for (auto& line : term.lines) line.cited = cited;
        }
      },
      says);
}

std::string question_of(const RuleRow& row) { return std::visit(QuestionOf{}, row.says); }

}  // namespace tierproof
