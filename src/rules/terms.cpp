#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <tuple>

#include "packs.h"

namespace tierproof {
namespace {

/// What a set must have on every day, and whether the rows in force have it.
struct Needed {
  std::string what;
  std::function<bool(const RuleRow&)> is_it;
};

Needed a(std::string mechanism) {
  return {mechanism, [mechanism](const RuleRow& row) { return row.mechanism == mechanism; }};
}

Needed gap_for(std::string use) {
  return {fmt::format("gap for \"{}\"", use), [use](const RuleRow& row) {
            const auto* gap = std::get_if<GapTerm>(&row.says);
            return gap != nullptr && gap->use == use;
          }};
}

Needed wording_for(std::string key) {
  return {fmt::format("wording \"{}\"", key), [key](const RuleRow& row) {
            const auto* wording = std::get_if<Wording>(&row.says);
            return wording != nullptr && wording->key == key;
          }};
}

const std::vector<Needed>& needed_for_labels() {
  static const std::vector<Needed> needed{a("allergen"),
                                          a("emphasis"),
                                          a("added-water"),
                                          a("any-order-below"),
                                          a("compound-relief"),
                                          a("varying-proportions"),
                                          a("route"),
                                          {"type-size for \"text\"",
                                           [](const RuleRow& row) {
                                             const auto* size = std::get_if<TypeSizeTerm>(&row.says);
                                             return size != nullptr && size->what == "text";
                                           }},
                                          wording_for("ingredients heading"),
                                          wording_for("contains"),
                                          wording_for("may contain"),
                                          wording_for("use by"),
                                          wording_for("best before")};
  return needed;
}

const std::vector<Needed>& needed_for_temperatures() {
  static const std::vector<Needed> needed{a("heat-hold"),
                                          a("egg-mix"),
                                          a("probe-check"),
                                          gap_for("heat step"),
                                          gap_for("chilled hold"),
                                          {"chill (law, not advice) or cold-place", [](const RuleRow& row) {
                                             const auto* chill = std::get_if<ChillTerm>(&row.says);
                                             return row.mechanism == "cold-place" || (chill != nullptr && !chill->advice);
                                           }}};
  return needed;
}

const std::vector<Needed>& needed_for_retention() {
  static const std::vector<Needed> needed{a("keep")};
  return needed;
}

Refusals missing(const std::vector<InForce>& rows, const std::vector<Needed>& needed, const Pack& top, Date on) {
  Refusals refusals;
  for (const auto& one : needed) {
    if (std::any_of(rows.begin(), rows.end(), [&](const InForce& r) { return one.is_it(*r.row); })) continue;
    refusals.push_back({top.path, top.line, "rows", fmt::format("no row of {} is in force on {}", one.what, format_date(on)),
                        "choose a day on which these rules were in force, or add the row with its dates and source"});
  }
  return refusals;
}

/// Sorts what one row says into the terms of a label.
struct IntoLabel {
  LabelTerms& terms;
  const RuleRow& row;
  void operator()(const AllergenTerm& t) const { terms.allergens.push_back(t); }
  void operator()(const GroupAnswerTerm& t) const { terms.group_answers.push_back(t); }
  void operator()(const EmphasisRow& t) const {
    terms.emphasis = t.style;
    terms.emphasis_cited = row.cited;
  }
  void operator()(const AddedWaterRow& t) const { terms.water_ignored_up_to = {row.cited, t.ignored_up_to}; }
  void operator()(const AnyOrderRow& t) const { terms.any_order_below = {row.cited, t.below}; }
  void operator()(const CompoundReliefRow& t) const {
    terms.compound_relief_below = {row.cited, t.below};
    terms.fixed_by_law = t.fixed_by_law;
  }
  void operator()(const VaryingRow& t) const {
    terms.varying_groups = t.groups;
    terms.varying_cited = row.cited;
  }
  void operator()(const AdditiveTerm& t) const { terms.additives.push_back(t); }
  void operator()(const AdditiveTableRow&) const {}  // after the rows that override its lines
  void operator()(const ClassTitleRow& t) const { terms.class_titles.push_back(t.title); }
  void operator()(const AdditiveWording& t) const { terms.additive_wordings.push_back(t); }
  void operator()(const ShareWording& t) const { terms.share_wordings.push_back(t); }
  void operator()(const RouteTerm& t) const { terms.routes.push_back(t); }
  void operator()(const TypeSizeTerm& t) const { terms.type_sizes.push_back(t); }
  void operator()(const DateMarkTerm& t) const { terms.date_marks.push_back(t); }
  void operator()(const Wording& t) const { terms.wordings.push_back(t); }
  template <class Other>
  void operator()(const Other&) const {}  // a mechanism of another set: refused on reading
};

struct IntoTemperature {
  TemperatureTerms& terms;
  void operator()(const HeatRow& t) const { terms.heat_rows.push_back(t); }
  void operator()(const HeatEquivalence& t) const { terms.equivalences.push_back(t); }
  void operator()(const ChillTerm& t) const { terms.chill.push_back(t); }
  void operator()(const ColdPlaceTerm& t) const { terms.cold_places.push_back(t); }
  void operator()(const WarmAllowance& t) const { terms.allowances.push_back(t); }
  void operator()(const EggMixTerm& t) const { terms.egg_mix.push_back(t); }
  void operator()(const ProbeTerm& t) const { terms.probe = t; }
  void operator()(const GapTerm& t) const { terms.gaps.push_back(t); }
  template <class Other>
  void operator()(const Other&) const {}
};

/// `E102` before `E1105`; `E150a` before `E150b`.
bool comes_first(const AdditiveTerm& left, const AdditiveTerm& right) {
  const auto number = [](const std::string& text) { return text.find_last_of("0123456789"); };
  const auto left_digits = number(left.number);
  const auto right_digits = number(right.number);
  return std::tie(left_digits, left.number) < std::tie(right_digits, right.number);
}

}  // namespace

std::vector<InForce> rows_in_force(const Layers& layers, Date on) {
  std::map<std::string, InForce, std::less<>> by_id;
  for (const auto* pack : layers) {
    for (const auto& row : pack->rows) {
      if (in_force_on(row, on)) by_id.insert_or_assign(row.id, InForce{&row, pack});
    }
  }
  std::vector<InForce> rows;
  for (const auto& [id, found] : by_id) {
    if (!std::holds_alternative<ClosedRow>(found.row->says)) rows.push_back(found);
  }
  std::stable_sort(rows.begin(), rows.end(), [](const InForce& l, const InForce& r) { return l.row->order < r.row->order; });
  return rows;
}

Result<LabelTerms> label_terms_of(const Layers& layers, Date on) {
  const auto rows = rows_in_force(layers, on);
  if (auto refusals = missing(rows, needed_for_labels(), *layers.back(), on); !refusals.empty()) return refusals;
  LabelTerms terms{};
  terms.jurisdiction = layers.back()->jurisdiction;
  terms.title = layers.back()->title;
  terms.on = on;
  for (const auto& found : rows) std::visit(IntoLabel{terms, *found.row}, found.row->says);
  Refusals unknown;
  for (const auto& found : rows) {
    const auto* answer = std::get_if<GroupAnswerTerm>(&found.row->says);
    if (answer == nullptr) continue;
    for (const auto& part : answer->counts_as) {
      const auto is_it = [&](const AllergenTerm& term) { return term.key == part || term.group == part; };
      if (std::any_of(terms.allergens.begin(), terms.allergens.end(), is_it)) continue;
      unknown.push_back({found.pack->path, found.row->line, found.row->path + ".counts_as",
                         fmt::format("\"{}\" is neither an allergen nor a heading of the list in force on {}", part, format_date(on)),
                         "name a key or a group of the allergen rows"});
    }
  }
  if (!unknown.empty()) return unknown;
  for (const auto& found : rows) {
    const auto* table = std::get_if<AdditiveTableRow>(&found.row->says);
    if (table == nullptr) continue;
    for (const auto& line : table->lines) {
      if (terms.additive(line.number) == nullptr) terms.additives.push_back(line);
    }
  }
  std::sort(terms.additives.begin(), terms.additives.end(), comes_first);
  return terms;
}

Result<TemperatureTerms> temperature_terms_of(const Layers& layers, Date on) {
  const auto rows = rows_in_force(layers, on);
  if (auto refusals = missing(rows, needed_for_temperatures(), *layers.back(), on); !refusals.empty()) return refusals;
  TemperatureTerms terms;
  terms.jurisdiction = layers.back()->jurisdiction;
  terms.title = layers.back()->title;
  terms.on = on;
  for (const auto& found : rows) std::visit(IntoTemperature{terms}, found.row->says);
  std::stable_sort(terms.chill.begin(), terms.chill.end(), [](const ChillTerm& l, const ChillTerm& r) { return l.advice < r.advice; });
  return terms;
}

Result<RetentionTerms> retention_terms_of(const Layers& layers, Date on) {
  const auto rows = rows_in_force(layers, on);
  if (auto refusals = missing(rows, needed_for_retention(), *layers.back(), on); !refusals.empty()) return refusals;
  RetentionTerms terms;
  terms.jurisdiction = layers.back()->jurisdiction;
  terms.on = on;
  for (const auto& found : rows) {
    if (const auto* keep = std::get_if<RetentionTerm>(&found.row->says)) terms.rows.push_back(*keep);
  }
  return terms;
}

}  // namespace tierproof
